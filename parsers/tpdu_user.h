/* SPDX-License-Identifier: MIT
 *
 * User data of SMS: the header (3GPP TS 23.040 9.2.3.24), and the text as UTF-8. */
#ifndef METERPOST_PARSERS_TPDU_USER_H
#define METERPOST_PARSERS_TPDU_USER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "parsers/septets.h"
#include "parsers/tpdu_coding.h"
#include "parsers/tpdu_result.h"

#define TPDU_USER_OCTETS_MAX 140
#define TPDU_TEXT_OCTETS_MAX 481 /* 160 septets of three octets of UTF-8 each, and the NUL */

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
    /* national tables named; one that we have not reads as the default */
    struct septets_shift shift;
    bool has_header; /* TP-UDHI */
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

/* The text of one short message: a whole one, or one part of a longer one. */
struct tpdu_part {
    const char *text; /* UTF-8, from text[from] to text[to - 1] */
    size_t from;
    size_t to;
    enum tpdu_alphabet alphabet; /* OCTETS: text is carried as it is */
    struct septets_shift shift;  /* of GSM7 */
    struct tpdu_concat concat;   /* not present: no concatenation header */
};

/* The octets that user data take by TP-UDL; more than TPDU_USER_OCTETS_MAX where that is out of
 * range. */
size_t tpdu_user_octets(struct tpdu_coding coding, uint8_t length);

/* For tpdu.c: reads TP-UDL at octets[*at] and the data behind it, and moves *at past them. */
enum tpdu_error tpdu_user_read(const uint8_t *octets, size_t len, size_t *at, uint8_t dcs,
                               bool has_header, struct tpdu_user *user);

/* Fills *user from a part, with as much of its text as fits: DCS 0, 4 or 8, header, packed data.
 * Returns the index in part->text at which it stopped: part->to where all of it is in. A
 * concatenation that is out of range is not written. */
size_t tpdu_user_fill(struct tpdu_user *user, const struct tpdu_part *part);

#endif
