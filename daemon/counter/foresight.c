/* SPDX-License-Identifier: MIT
 * foresight: see foresight.h. How machines stand is the yard's to say, what calls for an alert the
 * desk's. */
#include "daemon/counter/foresight.h"

#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "daemon/desk/standing.h"
#include "daemon/ground/zone.h"

/* Keeps those that call for an alert, in their order. */
static enum ledger_result keep_calling(const struct settings *settings, struct ledger *ledger,
                                       struct yard_standing *standings, size_t *count)
{
    size_t kept = 0;
    for (size_t i = 0; i < *count; i++) {
        struct alert_row row;
        bool calls = false;
        enum ledger_result result = standing_calls(settings, ledger, &standings[i], &row, &calls);
        if (result != LEDGER_OK) {
            return result;
        }
        if (calls) {
            standings[kept++] = standings[i];
        }
    }
    *count = kept;
    return LEDGER_OK;
}

static enum ledger_result look(const struct settings *settings, struct ledger *ledger,
                               int64_t now_s, struct yard_standing **standings, size_t *count)
{
    struct yard yard = {.settings = settings, .ledger = ledger};
    enum ledger_result result = yard_stand_all(&yard, now_s, standings, count);
    if (result == LEDGER_OK) {
        result = keep_calling(settings, ledger, *standings, count);
    }
    if (result != LEDGER_OK) {
        free(*standings);
        *standings = NULL;
        *count = 0;
    }
    return result;
}

enum foresight_result foresight_see(const struct settings *settings, int64_t now_s,
                                    struct yard_standing **standings, size_t *count,
                                    char says[LEDGER_SAYS_OCTETS])
{
    enum ledger_result result = LEDGER_OK;
    *standings = NULL;
    *count = 0;
    if (access(settings->ledger, F_OK) != 0) {
        return FORESIGHT_NO_LEDGER;
    }
    struct ledger *ledger = ledger_open(settings->ledger, LEDGER_READ, &result, says);
    if (ledger == NULL) {
        return FORESIGHT_BLIND;
    }
    bool zone = zone_set(settings->shop.time_zone);
    result = zone ? look(settings, ledger, now_s, standings, count) : LEDGER_NONE;
    if (result != LEDGER_OK) {
        (void)snprintf(says, LEDGER_SAYS_OCTETS, "%s",
                       zone ? ledger_says(ledger) : "this box does not know the time zone");
    }
    ledger_close(ledger);
    return result == LEDGER_OK ? FORESIGHT_SEEN : FORESIGHT_BLIND;
}
