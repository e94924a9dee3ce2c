/* SPDX-License-Identifier: MIT
 * phone for the sound analyser: any octets as a number, any country.
 * eva: -eva-precision 4 */
#include <__fc_builtin.h>

#include "parsers/phone.h"

#define TEXT_MAX 40

int main(void)
{
    char text[TEXT_MAX];
    char country[4];
    char phone[PHONE_OCTETS];
    Frama_C_make_unknown(text, sizeof text);
    Frama_C_make_unknown(country, sizeof country - 1);
    country[sizeof country - 1] = '\0';
    phone_normalise(text, (size_t)Frama_C_interval(0, sizeof text), country, phone);
    return 0;
}
