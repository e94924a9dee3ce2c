/* SPDX-License-Identifier: MIT
 *
 * What reading or writing a short message comes to. */
#ifndef METERPOST_PARSERS_TPDU_RESULT_H
#define METERPOST_PARSERS_TPDU_RESULT_H

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

#endif
