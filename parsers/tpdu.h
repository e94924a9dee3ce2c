/* SPDX-License-Identifier: MIT
 *
 * The short messages that travel between modem and host in PDU mode: SMS-DELIVER, SMS-SUBMIT and
 * SMS-STATUS-REPORT of 3GPP TS 23.040 9.2.2, in hex with the service centre's address before them
 * (TS 27.005 3.1). A SUBMIT is a text of our own read back from the store; the report kinds that
 * share its type value never reach the host. */
#ifndef METERPOST_PARSERS_TPDU_H
#define METERPOST_PARSERS_TPDU_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "parsers/tpdu_address.h"
#include "parsers/tpdu_result.h"
#include "parsers/tpdu_time.h"
#include "parsers/tpdu_user.h"
#include "parsers/tpdu_validity.h"

#define TPDU_OCTETS_MAX 164
#define TPDU_LINE_OCTETS_MAX (TPDU_ADDRESS_OCTETS_MAX + TPDU_OCTETS_MAX)
#define TPDU_HEX_OCTETS (2 * TPDU_LINE_OCTETS_MAX + 1) /* with the NUL */

enum tpdu_kind { TPDU_KIND_DELIVER, TPDU_KIND_SUBMIT, TPDU_KIND_STATUS_REPORT };

struct tpdu_deliver {
    struct tpdu_time sent_at; /* TP-SCTS: when the service centre got it */
    bool more_waiting;        /* TP-MMS, turned right way up */
    bool report_wanted;       /* TP-SRI */
    bool reserved_type;       /* TP-MTI was 3: by 9.2.3.1 read as a DELIVER */
};

struct tpdu_submit {
    uint8_t reference;      /* TP-MR; the modem puts in its own and says it in +CMGS */
    bool report_wanted;     /* TP-SRR */
    bool reject_duplicates; /* TP-RD */
    struct tpdu_validity validity;
};

/* What became of a text, by bits 6 and 5 of TP-ST (9.2.3.15). */
enum tpdu_outcome {
    TPDU_OUTCOME_DONE,   /* delivered, forwarded or replaced */
    TPDU_OUTCOME_TRYING, /* the service centre is still trying: another report follows */
    TPDU_OUTCOME_FAILED, /* for good */
    TPDU_OUTCOME_GAVE_UP /* it stopped trying, for a cause that may pass: sending again may help */
};

struct tpdu_report {
    uint8_t reference;         /* TP-MR of the text reported on */
    struct tpdu_time sent_at;  /* TP-SCTS: when the service centre got that text */
    struct tpdu_time done_at;  /* TP-DT: when it was delivered, or last tried */
    uint8_t status;            /* TP-ST as carried */
    enum tpdu_outcome outcome; /* status above 0x7F counts as 0x63, by 9.2.3.15 */
    bool more_waiting;         /* TP-MMS, turned right way up */
    bool of_command;           /* TP-SRQ: answers an SMS-COMMAND */
    bool has_protocol;         /* TP-PI: TP-PID is carried */
    bool has_coding;           /* TP-PI: TP-DCS is carried */
    bool has_user;             /* TP-PI: TP-UDL is carried */
};

struct tpdu {
    enum tpdu_kind kind;
    struct tpdu_address centre; /* the service centre; empty text: the modem's own setting */
    struct tpdu_address other;  /* TP-OA, TP-DA or TP-RA */
    /* TP-PID: 0 plain, 0x40 to be dropped unseen, 0x41 to 0x47 replace an earlier text */
    uint8_t protocol;
    bool reply_path;      /* TP-RP */
    bool loop_prevention; /* TP-LP: answer no such text (DELIVER, STATUS-REPORT) */
    /* of the TPDU, without the service centre: the <length> of +CMT and its kin */
    uint8_t octets;
    struct tpdu_user user;
    union {
        struct tpdu_deliver deliver;
        struct tpdu_submit submit;
        struct tpdu_report report;
    };
};

/* Reads a line of hex as the modem gives it, upper or lower case, without line end. *tpdu is
 * meaningful only with TPDU_OK. A time stamp with illegal digits, an ill-formed header and
 * a damaged character are no errors but marked in *tpdu. */
enum tpdu_error tpdu_from_hex(const char *hex, size_t len, struct tpdu *tpdu);

/* The same from octets: service centre, then TPDU. */
enum tpdu_error tpdu_from_octets(const uint8_t *octets, size_t len, struct tpdu *tpdu);

#endif
