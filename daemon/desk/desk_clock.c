/* SPDX-License-Identifier: MIT
 * desk_clock: see the header. */
#include "daemon/desk/desk_clock.h"

#include <string.h>

#include "daemon/ground/log.h"

/* The network's time is told every half hour; after a day without it, it is no witness any more. */
#define NETWORK_WORTH_MS (INT64_C(24) * 3600 * 1000)

void desk_clock_network(struct desk_clock *clock, struct instant now, int64_t network_s)
{
    clock->network_s = network_s;
    clock->network_ms = now.mono_ms;
}

void desk_clock_text(struct desk_clock *clock, struct instant now, int64_t said_s)
{
    for (size_t i = 0; i < clock->count; i++) {
        if (clock->texts[i].said_s == said_s) {
            return;
        }
    }
    clock->count += clock->count < CLOCK_STAMPS_MOST ? 1 : 0;
    memmove(&clock->texts[1], &clock->texts[0], (clock->count - 1) * sizeof clock->texts[0]);
    clock->texts[0].said_s = said_s;
    clock->texts[0].came_ms = now.mono_ms;
}

struct clock_judgement desk_clock_judge(const struct desk_clock *clock, struct instant now)
{
    struct clock_facts facts = {
        .now_s = now.wall_s, .witnessed_s = clock->witnessed_s, .stamp_count = clock->count};
    int64_t told_ms = now.mono_ms - clock->network_ms;
    if (clock->network_s != 0 && told_ms >= 0 && told_ms <= NETWORK_WORTH_MS) {
        facts.network_s = clock->network_s + told_ms / 1000;
    }
    for (size_t i = 0; i < clock->count; i++) {
        facts.stamps[i].said_s = clock->texts[i].said_s;
        facts.stamps[i].age_s = (now.mono_ms - clock->texts[i].came_ms) / 1000;
    }
    return clock_judge(&facts);
}

void desk_clock_tell(struct desk_clock *clock, const struct clock_judgement *judgement)
{
    if (judgement->verdict == clock->told) {
        return;
    }
    clock->told = judgement->verdict;
    switch (judgement->verdict) {
    case CLOCK_VERDICT_TRUSTED:
        log_notice("clock: the box's clock is believed again");
        break;
    case CLOCK_VERDICT_UNKNOWN:
        log_error("clock: nothing that goes by dates is told until the network or a text confirms "
                  "the box's clock: %s",
                  clock_reason_says(judgement->reason));
        break;
    case CLOCK_VERDICT_BEHIND:
    case CLOCK_VERDICT_AHEAD:
        log_error("clock: the box's clock is plainly wrong, nothing is dated by it: %s; set it",
                  clock_reason_says(judgement->reason));
        break;
    }
}
