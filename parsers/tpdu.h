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

#include "parsers/septets.h"

/* What reading or writing a short message comes to. */
enum tpdu_error {
    TPDU_OK,
    TPDU_ERROR_EMPTY,       /* nothing at all */
    TPDU_ERROR_HEX,         /* a character that is no hex digit */
    TPDU_ERROR_HEX_ODD,     /* half an octet at the end */
    TPDU_ERROR_LONG,        /* more octets than a short message can have */
    TPDU_ERROR_CUT,         /* ends inside the fixed fields */
    TPDU_ERROR_CENTRE,      /* the service centre's address is ill-formed */
    TPDU_ERROR_ADDRESS,     /* the other party's address is ill-formed */
    TPDU_ERROR_USER_LENGTH, /* TP-UDL beyond what a text can have */
    TPDU_ERROR_USER_CUT,    /* fewer octets of user data than TP-UDL says */
    /* more octets than TP-UDL says: the text may be cut short, so it is not trusted */
    TPDU_ERROR_USER_LEFT_OVER,
    TPDU_ERROR_HEADER, /* the user data header is longer than the user data */
    /* of writing and splitting only */
    TPDU_ERROR_TEXT,     /* the text is not UTF-8, or not in the alphabet asked for */
    TPDU_ERROR_TOO_MUCH, /* the text does not fit in one part, or in 255 */
    TPDU_ERROR_FIELD     /* a field is out of its range */
};

/* A short sentence of what is wrong, fit for a log line. Never NULL. */
const char *tpdu_error_says(enum tpdu_error error);

enum tpdu_alphabet { TPDU_ALPHABET_GSM7, TPDU_ALPHABET_OCTETS, TPDU_ALPHABET_UCS2 };

#define TPDU_CLASS_NONE (-1)

/* What TP-DCS says (TS 23.038 clause 4). Reserved values read as the GSM alphabet without a class,
 * as it has it. */
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

/* With the NUL: '+' and 20 digits, or 11 septets of two octets each. */
#define TPDU_ADDRESS_TEXT_MAX 24
#define TPDU_ADDRESS_OCTETS_MAX 12

/* Type of number, TS 23.040 9.1.2.5. */
enum tpdu_number_type {
    TPDU_NUMBER_TYPE_UNKNOWN = 0,
    TPDU_NUMBER_TYPE_INTERNATIONAL = 1,
    TPDU_NUMBER_TYPE_NATIONAL = 2,
    TPDU_NUMBER_TYPE_NETWORK = 3,
    TPDU_NUMBER_TYPE_SUBSCRIBER = 4,
    TPDU_NUMBER_TYPE_ALPHANUMERIC = 5,
    TPDU_NUMBER_TYPE_ABBREVIATED = 6,
    TPDU_NUMBER_TYPE_RESERVED = 7
};

struct tpdu_address {
    enum tpdu_number_type type;
    uint8_t plan; /* numbering plan, 0 to 15: 0 unknown, 1 E.164 */
    /* NUL-terminated. A number: digits and * # a b c, with a leading '+' for type international. A
     * name: UTF-8. Empty: none. */
    char text[TPDU_ADDRESS_TEXT_MAX];
};

#define TPDU_TIME_OCTETS 7

/* A time stamp (9.2.3.11). Fields as they were read, illegal digits included (a nibble counts as its value, so that a field
 * is at most 165). */
struct tpdu_time {
    uint8_t year; /* two digits: 90 to 99 are the nineties, the rest is from 2000 on */
    uint8_t month;
    uint8_t day;
    uint8_t hour;
    uint8_t minute;
    uint8_t second;
    int16_t zone_quarters; /* local time less UTC, in quarters of an hour */
    bool valid;            /* each digit a decimal one, and the day and the time exist */
};

/* Reads the TPDU_TIME_OCTETS octets from octets[at] on, which are there. */
void tpdu_time_read(const uint8_t *octets, size_t at, struct tpdu_time *time);

/* The time as Unix seconds. False where it is not valid; *unix_s is then 0. */
bool tpdu_time_unix(const struct tpdu_time *time, int64_t *unix_s);

/* The time stamp for Unix seconds in a zone of -79 to 79 quarters. False outside 1990 to 2089 local
 * time, or of the zone. */
bool tpdu_time_set(struct tpdu_time *time, int64_t unix_s, int zone_quarters);

/* How long the service centre is to keep trying (9.2.3.12). The values are those of TP-VPF,
 * 9.2.3.3. */
enum tpdu_validity_form {
    TPDU_VALIDITY_FORM_NONE = 0,
    TPDU_VALIDITY_FORM_ENHANCED = 1,
    TPDU_VALIDITY_FORM_RELATIVE = 2,
    TPDU_VALIDITY_FORM_ABSOLUTE = 3
};

#define TPDU_VALIDITY_UNKNOWN_S (-1)

struct tpdu_validity {
    enum tpdu_validity_form form;
    uint8_t octets[TPDU_TIME_OCTETS]; /* as carried: none, one (relative), or seven */
    int32_t period_s; /* relative, and enhanced where it says one; else TPDU_VALIDITY_UNKNOWN_S */
    bool single_shot; /* enhanced: the service centre is to try once only */
    struct tpdu_time until; /* absolute */
};

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
