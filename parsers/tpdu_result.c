/* SPDX-License-Identifier: MIT
 *
 * What is wrong with a short message, in words. */
#include "parsers/tpdu_result.h"

const char *tpdu_error_says(enum tpdu_error error)
{
    switch (error) {
    case TPDU_OK:
        return "nothing is wrong";
    case TPDU_ERROR_EMPTY:
        return "there is nothing to read";
    case TPDU_ERROR_HEX:
        return "a character is no hex digit";
    case TPDU_ERROR_HEX_ODD:
        return "the last octet has one hex digit only";
    case TPDU_ERROR_LONG:
        return "it has more octets than a short message can have";
    case TPDU_ERROR_CUT:
        return "it ends before its fixed fields are complete";
    case TPDU_ERROR_CENTRE:
        return "the service centre's address is ill-formed";
    case TPDU_ERROR_ADDRESS:
        return "the other party's address is ill-formed";
    case TPDU_ERROR_USER_LENGTH:
        return "its user data length is more than a text can have";
    case TPDU_ERROR_USER_CUT:
        return "it has less user data than its length says";
    case TPDU_ERROR_USER_LEFT_OVER:
        return "it has more user data than its length says";
    case TPDU_ERROR_HEADER:
        return "its user data header is longer than its user data";
    case TPDU_ERROR_TEXT:
        return "the text is not UTF-8, or not in the alphabet asked for";
    case TPDU_ERROR_TOO_MUCH:
        return "the text has no room";
    case TPDU_ERROR_FIELD:
        return "a field is out of its range";
    }
    return "unknown";
}
