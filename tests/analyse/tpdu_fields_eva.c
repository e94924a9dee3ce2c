/* SPDX-License-Identifier: MIT
 * time stamps and validity periods for the sound analyser: any fields, any octets, any moment. */
#include <__fc_builtin.h>

#include "parsers/tpdu_fields.h"

static uint8_t any_octet(void)
{
    return (uint8_t)Frama_C_interval(0, UINT8_MAX);
}

int main(void)
{
    uint8_t octets[TPDU_TIME_OCTETS];
    int64_t unix_s = 0;
    size_t at = (size_t)Frama_C_interval(0, 20);
    struct tpdu_validity validity;
    struct tpdu_time time = {any_octet(), any_octet(), any_octet(), any_octet(),
                             any_octet(), any_octet(), 0,           false};
    time.zone_quarters = (int16_t)Frama_C_interval(INT16_MIN, INT16_MAX);
    time.valid = Frama_C_interval(0, 1) != 0;
    tpdu_time_unix(&time, &unix_s);
    tpdu_time_write(&time, octets, 0);

    Frama_C_make_unknown((char *)octets, sizeof octets);
    tpdu_time_read(octets, 0, &time);
    tpdu_validity_read(octets, (size_t)Frama_C_interval(0, TPDU_TIME_OCTETS), &at,
                       (enum tpdu_validity_form)Frama_C_interval(0, 3), &validity);

    int64_t moment_s = Frama_C_long_long_interval(INT64_MIN, INT64_MAX);
    tpdu_time_set(&time, moment_s, Frama_C_interval(INT32_MIN, INT32_MAX));
    tpdu_validity_set(&validity, moment_s);
    return 0;
}
