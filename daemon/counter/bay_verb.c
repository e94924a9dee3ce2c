/* SPDX-License-Identifier: MIT
 * bay_verb: what the bay has to do, day by day, as yard/bay lays it. */
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/yard/bay.h"

/* A job with its day; a day without any is one row too. */
struct bay_row {
    int32_t day, day_minutes, free_minutes;
    bool job;
    int32_t machine, plan, minutes;
    bool booked;
};

static const char *const reasons[] = {"suggested", "booked"};

#define AT(field) offsetof(struct bay_row, field)
#define JOB .if_true = {AT(job)}
static const struct column list[] = {
    {"DAY", "day", COLUMN_DAY, .at = AT(day), .not_in_json = true},
    {NULL, "day_minutes", COLUMN_COUNT, .at = AT(day_minutes), .not_in_json = true},
    {NULL, "free", COLUMN_COUNT, .at = AT(free_minutes), .not_in_json = true},
    {"MACHINE", "machine", COLUMN_MACHINE, .at = AT(machine), JOB},
    {"PLAN", "plan", COLUMN_PLAN, .at = AT(plan), JOB},
    {"MINUTES", "minutes", COLUMN_COUNT, .at = AT(minutes), JOB},
    {"WHY", "why", COLUMN_EITHER, .at = AT(booked), .words = reasons, JOB},
    {"FREE THAT DAY", NULL, COLUMN_COUNT, .at = AT(free_minutes)},
};
#undef JOB
static const struct column day_list[] = {
    {NULL, "day", COLUMN_DAY, .at = AT(day)},
    {NULL, "minutes", COLUMN_COUNT, .at = AT(day_minutes)},
    {NULL, "free", COLUMN_COUNT, .at = AT(free_minutes)},
};
#undef AT
static const struct columns columns = {COLUMNS(list), false};
static const struct columns day_columns = {COLUMNS(day_list), false};

static struct bay_row row_of(const struct bay_day *day, const struct bay_job *job)
{
    struct bay_row row = {
        .day = day->day, .day_minutes = day->minutes, .free_minutes = day->free_minutes};
    if (job != NULL) {
        row.job = true;
        row.machine = job->machine;
        row.plan = job->plan;
        row.minutes = job->minutes;
        row.booked = job->booked;
    }
    return row;
}

static struct json_object *day_json(const struct counter *counter, const struct bay_day *day)
{
    struct bay_row row = row_of(day, NULL);
    struct json_object *object = columns_json(&day_columns, counter->settings, &row);
    struct json_object *jobs = json_object_new_array();
    for (size_t i = 0; i < day->job_count; i++) {
        row = row_of(day, &day->jobs[i]);
        (void)json_object_array_add(jobs, columns_json(&columns, counter->settings, &row));
    }
    json_add(object, "jobs", jobs);
    return object;
}

static int print_json(const struct counter *counter, const struct bay *bay, const char *from,
                      const char *until)
{
    struct json_object *whole = json_object_new_object(), *days = json_object_new_array();
    for (size_t i = 0; i < bay->day_count; i++) {
        (void)json_object_array_add(days, day_json(counter, &bay->days[i]));
    }
    json_add_text(whole, "from", from);
    json_add_text(whole, "until", until);
    json_add(whole, "days", days);
    return json_write(whole, counter->out);
}

/* On the screen the days that have something to do, in a spreadsheet every day that is open too. */
static int print_rows(const struct counter *counter, const struct bay *bay, const char *from,
                      const char *until)
{
    bool csv = counter->options->csv;
    struct table *table = table_new(&columns, counter_form(counter), counter->settings);
    size_t jobs = 0, booked = 0;
    int64_t minutes = 0, taken = 0;
    for (size_t i = 0; i < bay->day_count; i++) {
        const struct bay_day *day = &bay->days[i];
        minutes += day->minutes;
        taken += day->minutes - day->free_minutes;
        for (size_t j = 0; j < day->job_count; j++) {
            struct bay_row row = row_of(day, &day->jobs[j]);
            table_add(table, &row, day->free_minutes < 0 ? TABLE_BAD : TABLE_PLAIN);
            booked += row.booked;
        }
        jobs += day->job_count;
        if (day->job_count == 0 && day->minutes > 0 && csv) {
            struct bay_row row = row_of(day, NULL);
            table_add(table, &row, TABLE_PLAIN);
        }
    }
    if (!csv && jobs == 0) {
        (void)fprintf(counter->out, "Nothing is to be done in the shop from %s until %s.\n", from,
                      until);
    } else if (!csv) {
        (void)fprintf(counter->out,
                      "From %s until %s: %zu job%s, %zu of them booked, %lld of %lld minutes.\n",
                      from, until, jobs, jobs == 1 ? "" : "s", booked, (long long)taken,
                      (long long)minutes);
    }
    int status = csv || jobs > 0 ? table_print(table, counter->out) : EX_OK;
    table_free(table);
    return status;
}

int bay_verb(struct counter *counter)
{
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    int32_t days = counter->options->days > 0 ? counter->options->days : BAY_AHEAD_DAYS;
    int32_t today = zone_civil(counter->now_s).day;
    char from[CIVIL_TEXT_OCTETS], until[CIVIL_TEXT_OCTETS];
    struct bay bay;
    days = days < BAY_DAYS_MOST ? days : BAY_DAYS_MOST - 1;
    civil_write(today, from, sizeof from);
    civil_write(today + days, until, sizeof until);
    int status =
        counter_ledger_status(counter, bay_reckon(&yard, counter->now_s, today + days, &bay));
    if (status == EX_OK) {
        status = counter->options->json ? print_json(counter, &bay, from, until)
                                        : print_rows(counter, &bay, from, until);
    }
    bay_free(&bay);
    return status;
}
