/* SPDX-License-Identifier: MIT
 *
 * hours_run: where the hours of a span went. Only the readings about its beginning and its end are
 * looked at. */
#include "daemon/yard/hours_run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/upkeep/apportion.h"
#include "daemon/upkeep/compare.h"
#include "daemon/yard/history.h"

#define CREW_OCTETS (SETTINGS_CREW_MAX * (SETTINGS_NAME_OCTETS + 2))

static const char *const words[HOURS_RUN_BY_COUNT] = {
    [HOURS_RUN_BY_MACHINE] = "machine",
    [HOURS_RUN_BY_SITE] = "site",
    [HOURS_RUN_BY_CREW] = "crew",
    [HOURS_RUN_BY_OWNER] = "owner",
};

const char *hours_run_by_word(enum hours_run_by by)
{
    return words[by];
}

/* True hundredths at a moment; what was read and what was laid up around it decides. */
static enum ledger_result run_until(struct yard *yard, int32_t machine, int64_t machine_id,
                                    int64_t at_s, int64_t *hundredths)
{
    struct reading_row next = {.read_s = at_s};
    struct history history;
    enum ledger_result result = readings_next_after(yard->ledger, machine_id, at_s, &next);
    int64_t until_s = result == LEDGER_OK ? next.read_s : at_s;
    if (result == LEDGER_OK || result == LEDGER_NONE) {
        result = history_load(yard, machine, until_s, false, &history);
    }
    if (result == LEDGER_OK) {
        struct usage_record record = history_record(yard, machine, &history, 0);
        *hundredths = apportion_at(&record, at_s);
    }
    return result;
}

/* The name that a machine's hours go under; a crew's is written to `room`. */
static const char *name_of(const struct settings *settings, int32_t machine, enum hours_run_by by,
                           char room[CREW_OCTETS])
{
    const struct settings_machine *of = &settings->machines[machine];
    size_t length = 0;
    switch (by) {
    case HOURS_RUN_BY_MACHINE:
        return of->name;
    case HOURS_RUN_BY_SITE:
        return of->site;
    case HOURS_RUN_BY_OWNER:
        return of->owner;
    case HOURS_RUN_BY_CREW:
        break;
    }
    room[0] = '\0';
    for (size_t i = 0; i < of->crew_count; i++) {
        length += (size_t)snprintf(room + length, CREW_OCTETS - length, "%s%s", i > 0 ? ", " : "",
                                   settings->people[of->crew[i]].name);
    }
    return room;
}

static struct hours_run_row *row_of(struct hours_run *run, const char *name)
{
    size_t at = 0;
    while (at < run->row_count && strcmp(run->rows[at].name, name) != 0) {
        at++;
    }
    if (at == run->row_count) {
        run->rows[run->row_count++].name = name;
    }
    return &run->rows[at];
}

static enum ledger_result add_machine(struct yard *yard, int32_t machine, int64_t from_s,
                                      int64_t until_s, struct hours_run_row *row)
{
    int64_t machine_id = 0, before = 0, after = 0;
    struct reading_row first;
    const char *name = yard->settings->machines[machine].name;
    enum ledger_result result = machines_id(yard->ledger, name, &machine_id);
    if (result == LEDGER_OK) {
        result = readings_first(yard->ledger, machine_id, &first);
    }
    if (result == LEDGER_OK) {
        result = run_until(yard, machine, machine_id, from_s, &before);
    }
    if (result == LEDGER_OK) {
        result = run_until(yard, machine, machine_id, until_s, &after);
    }
    if (result == LEDGER_OK) {
        row->hundredths += greater(after - before, 0);
        row->machine_count++;
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

/* The most hours first; rows without a machine that was ever read are left out. */
static void settle_rows(struct hours_run *run)
{
    size_t kept = 0;
    for (size_t i = 0; i < run->row_count; i++) {
        struct hours_run_row row = run->rows[i];
        if (row.machine_count == 0) {
            continue;
        }
        size_t at = kept++;
        for (; at > 0 && run->rows[at - 1].hundredths < row.hundredths; at--) {
            run->rows[at] = run->rows[at - 1];
        }
        run->rows[at] = row;
        run->total_hundredths += row.hundredths;
    }
    run->row_count = kept;
}

enum ledger_result hours_run_reckon(struct yard *yard, int32_t from_day, int32_t until_day,
                                    enum hours_run_by by, struct hours_run *run)
{
    const struct settings *settings = yard->settings;
    size_t most = settings->machine_count + 1;
    int64_t from_s = zone_unix(from_day, 0);
    int64_t until_s = zone_unix(until_day + 1, 0);
    *run = (struct hours_run){.rows = calloc(most, sizeof *run->rows),
                              .names = calloc(most, CREW_OCTETS)};
    enum ledger_result result = run->rows != NULL && run->names != NULL ? LEDGER_OK : LEDGER_IO;
    for (size_t i = 0; i < settings->machine_count && result == LEDGER_OK; i++) {
        const char *name = name_of(settings, (int32_t)i, by, &run->names[i * CREW_OCTETS]);
        result = add_machine(yard, (int32_t)i, from_s, until_s, row_of(run, name));
    }
    if (result == LEDGER_OK) {
        settle_rows(run);
    } else {
        hours_run_free(run);
    }
    return result;
}

void hours_run_free(struct hours_run *run)
{
    free(run->rows);
    free(run->names);
    *run = (struct hours_run){0};
}
