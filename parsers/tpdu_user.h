/* SPDX-License-Identifier: MIT
 *
 * User data of SMS: what a text says and how it is coded. Data coding scheme (3GPP TS 23.038 clause
 * 4), user data header (TS 23.040 9.2.3.24) and the text itself as UTF-8. */
#ifndef METERPOST_PARSERS_TPDU_USER_H
#define METERPOST_PARSERS_TPDU_USER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "parsers/septets.h"

#define TPDU_USER_OCTETS_MAX 140
#define TPDU_TEXT_OCTETS_MAX 481 /* 160 septets of three octets of UTF-8 each, and the NUL */

enum tpdu_alphabet { TPDU_ALPHABET_GSM7, TPDU_ALPHABET_OCTETS, TPDU_ALPHABET_UCS2 };

#define TPDU_CLASS_NONE (-1)

/* What TP-DCS says. Reserved values read as the GSM alphabet without a class, as TS 23.038 clause 4
 * has it. */
struct tpdu_coding {
    uint8_t dcs; /* as carried */
    enum tpdu_alphabet alphabet;
    int8_t class;              /* 0 show at once, 1 phone, 2 SIM, 3 terminal; or TPDU_CLASS_NONE */
    bool compressed;           /* TS 23.042: such a text is not read */
    bool delete_after_reading; /* group 01 */
};

/* That something waits elsewhere (voice mail and the like), by TP-DCS groups 1100 to 1110 or by the
 * special indication in the header (TS 23.040 9.2.3.24.2), which wins. A text of a machine, never
 * of a crew. */
struct tpdu_waiting {
    bool present;
    bool active;   /* something does wait */
    bool store;    /* the text is to be kept, not discarded */
    uint8_t kind;  /* 0 voice, 1 fax, 2 e-mail, 3 other */
    uint8_t count; /* how many wait, where the header says so; else 0 */
};

/* This text is one part of a longer one (TS 23.040 9.2.3.24.1 and .8). */
struct tpdu_concat {
    bool present;
    bool sixteen_bit; /* the reference has 16 bits; parts of one text agree in this */
    uint16_t reference;
    uint8_t parts; /* 1 to 255 */
    uint8_t part;  /* 1 to parts */
};

/* For an application, not for a person (TS 23.040 9.2.3.24.3 and .4). */
struct tpdu_ports {
    bool present;
    uint16_t to;
    uint16_t from;
};

struct tpdu_user {
    struct tpdu_coding coding;
    struct tpdu_waiting waiting;
    struct tpdu_concat concat;
    struct tpdu_ports ports;
    struct septets_shift shift; /* national tables in force; 0 for languages we have no table for */
    bool has_header;            /* TP-UDHI */
    /* lengths inside do not fit: by 9.2.3.24 the header is ignored, the text after it read */
    bool header_ill_formed;
    bool text_damaged; /* U+FFFD stands where UCS-2 could not be read */
    /* false for octets and compressed texts: text is empty then, the octets are in data */
    bool has_text;
    uint8_t length;                     /* TP-UDL as carried: septets or octets, header included */
    uint8_t header_octets;              /* TP-UDHL and what it counts; 0 without a header */
    uint8_t data_len;                   /* octets in data */
    uint8_t data[TPDU_USER_OCTETS_MAX]; /* TP-UD as carried, header included */
    uint16_t text_len;                  /* octets, without the NUL */
    char text[TPDU_TEXT_OCTETS_MAX];    /* UTF-8, NUL-terminated; no NUL inside */
};

#endif
