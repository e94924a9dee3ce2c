/* SPDX-License-Identifier: MIT
 * clock_judge for the sound analyser: any times from anywhere. Assumed: at most CLOCK_STAMPS_MOST
 * stamps.
 * eva: -eva-precision 2 */
#include <__fc_builtin.h>

#include "daemon/upkeep/clock_judge.h"

static int64_t any_time(void)
{
    return Frama_C_long_long_interval(INT64_MIN, INT64_MAX);
}

int main(void)
{
    struct clock_facts facts = {.now_s = any_time(),
                                .network_s = any_time(),
                                .witnessed_s = any_time(),
                                .stamp_count =
                                    Frama_C_unsigned_long_interval(0, CLOCK_STAMPS_MOST)};
    Frama_C_make_unknown((char *)facts.stamps, sizeof facts.stamps);
    struct clock_judgement judgement = clock_judge(&facts);
    clock_is_wrong(&judgement);
    clock_stamp_fits(any_time(), any_time());
    return 0;
}
