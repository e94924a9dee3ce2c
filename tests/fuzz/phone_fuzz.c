/* SPDX-License-Identifier: MIT
 *
 * phone: the first octet chooses the country, the rest is a number as typed. -max_len=40 */
#include <string.h>

#include "parsers/phone.h"
#include "tests/fuzz/fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len)
{
    static const char *const countries[] = {"1", "34", "49", "351", ""};
    char phone[PHONE_OCTETS];
    char again[PHONE_OCTETS];
    if (len < 1) {
        return 0;
    }
    const char *country = countries[input[0] % 5];
    enum phone_result result = phone_normalise((const char *)input + 1, len - 1, country, phone);
    size_t digits = strlen(phone);
    PROPERTY((result == PHONE_OK) == (digits > 0));
    if (result == PHONE_OK) {
        /* E.164: a plus and up to 15 digits, and it stays what it is */
        PROPERTY(phone[0] == '+' && strspn(phone + 1, "0123456789") == digits - 1);
        PROPERTY(digits >= 2 && digits <= 16);
        PROPERTY(phone_normalise(phone, digits, country, again) == PHONE_OK);
        PROPERTY(strcmp(phone, again) == 0);
    }
    return 0;
}
