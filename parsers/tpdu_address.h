/* SPDX-License-Identifier: MIT
 *
 * Addresses of SMS, 3GPP TS 23.040 clause 9.1.2.5: a number in semi-octets or a name in septets.
 * The service centre's own (TS 24.011 8.2.5.1) counts octets where the others count semi-octets. */
#ifndef METERPOST_PARSERS_TPDU_ADDRESS_H
#define METERPOST_PARSERS_TPDU_ADDRESS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "parsers/tpdu_result.h"

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

/* Fills *address from a text: "+12065550110" international, "1002" or "*100#" of unknown type,
 * anything else a name. False where it cannot be carried (empty, over 20 digits, or a name over 11
 * septets or outside the GSM alphabet). */
bool tpdu_address_set(struct tpdu_address *address, const char *text, size_t len);

/* For tpdu.c: reading starts at octets[*at] and moves *at on past the address. The service centre's
 * may be absent: text is empty then. TPDU_ERROR_CUT, TPDU_ERROR_ADDRESS or TPDU_ERROR_CENTRE where
 * it is not whole or ill-formed. */
enum tpdu_error tpdu_address_read(const uint8_t *octets, size_t len, size_t *at,
                                  struct tpdu_address *address);
enum tpdu_error tpdu_address_read_centre(const uint8_t *octets, size_t len, size_t *at,
                                         struct tpdu_address *address);

/* For tpdu_write.c: writes at most TPDU_ADDRESS_OCTETS_MAX octets and returns their count; 0 where
 * the address cannot be carried. */
size_t tpdu_address_write(const struct tpdu_address *address, uint8_t *octets);
size_t tpdu_address_write_centre(const struct tpdu_address *address, uint8_t *octets);

#endif
