/* SPDX-License-Identifier: MIT
 * opening: see opening.h. */
#include "daemon/counter/opening.h"

#include <sysexits.h>

#include "daemon/ground/clock.h"
#include "daemon/ground/zone.h"

int opening_begin(struct opening *opening, const struct options *options, FILE *err)
{
    *opening = (struct opening){0};
    opening->settings = settings_load(options->config, err);
    if (opening->settings == NULL) {
        options_say_config(options, err);
        return EX_CONFIG;
    }
    if (!zone_set(opening->settings->shop.time_zone)) {
        (void)fprintf(err, "meterpost: this box does not know the time zone %s; install tzdata\n",
                      opening->settings->shop.time_zone);
        return EX_CONFIG;
    }
    struct clock clock = clock_real();
    opening->now_s = clock.now(clock.ctx).wall_s;
    if (options->now != NULL && !zone_read_rfc3339(options->now, &opening->now_s)) {
        (void)fprintf(err,
                      "meterpost: --now %s is no time; write it like 2027-03-14T07:00:00-07:00 or "
                      "2027-03-14\n",
                      options->now);
        return EX_USAGE;
    }
    return EX_OK;
}

int opening_ledger(struct opening *opening, enum ledger_mode mode, FILE *err)
{
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS];
    opening->ledger = ledger_open(opening->settings->ledger, mode, &result, says);
    if (opening->ledger == NULL) {
        (void)fprintf(err, "meterpost: %s\n", says);
        return ledger_exit_status(result);
    }
    return EX_OK;
}

int opening_standings(struct opening *opening, struct yard_standing **standings, size_t *count,
                      FILE *err)
{
    *standings = NULL;
    int status = opening_ledger(opening, LEDGER_READ, err);
    if (status != EX_OK) {
        return status;
    }
    struct yard yard = {.settings = opening->settings, .ledger = opening->ledger};
    enum ledger_result result = ledger_look(opening->ledger);
    if (result == LEDGER_OK) {
        result = yard_stand_all(&yard, opening->now_s, standings, count);
    }
    if (result != LEDGER_OK) {
        (void)fprintf(err, "meterpost: %s\n", ledger_says(opening->ledger));
        return ledger_exit_status(result);
    }
    return EX_OK;
}

void opening_end(struct opening *opening)
{
    ledger_close(opening->ledger);
    settings_free(opening->settings);
    *opening = (struct opening){0};
}
