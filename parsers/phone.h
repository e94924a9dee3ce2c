/* SPDX-License-Identifier: MIT
 * phone: a telephone number in E.164, or why it is none. */
#ifndef METERPOST_PARSERS_PHONE_H
#define METERPOST_PARSERS_PHONE_H

#include <stdbool.h>
#include <stddef.h>

#define PHONE_OCTETS 17 /* '+', at most 15 digits (ITU-T E.164 clause 6), NUL */

enum phone_result {
    PHONE_OK,
    PHONE_SHORT_CODE, /* six digits or fewer: a service number, never answered */
    PHONE_NAME,       /* letters: an alphanumeric sender, never answered */
    PHONE_MALFORMED
};

/* Normalises a number as typed or as a network sends it ("+1 (206) 555-0110", "12065550110",
 * "2065550110", "00..." "011...") to "+12065550110". country: the country calling code in digits
 * ("1"), used where none is said; trunk prefixes 0 and, in country 1, 1 are dropped. *out is set
 * to "" unless PHONE_OK. */
enum phone_result phone_normalise(const char *text, size_t length, const char *country,
                                  char out[PHONE_OCTETS]);

#endif
