/* SPDX-License-Identifier: MIT
 *
 * The data coding scheme of SMS, TP-DCS: 3GPP TS 23.038 clause 4. */
#ifndef METERPOST_PARSERS_TPDU_CODING_H
#define METERPOST_PARSERS_TPDU_CODING_H

#include <stdbool.h>
#include <stdint.h>

enum tpdu_alphabet { TPDU_ALPHABET_GSM7, TPDU_ALPHABET_OCTETS, TPDU_ALPHABET_UCS2 };

#define TPDU_CLASS_NONE (-1)

/* What TP-DCS says. Reserved values read as the GSM alphabet without a class, as clause 4 has
 * it. */
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

/* Any octet is a coding. */
struct tpdu_coding tpdu_coding_of(uint8_t dcs);
struct tpdu_waiting tpdu_coding_waiting(uint8_t dcs);

#endif
