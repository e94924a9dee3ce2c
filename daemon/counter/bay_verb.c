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

struct bay_shops {
    struct bay bays[OPTIONS_CONFIGS_MAX];
    char from[OPTIONS_CONFIGS_MAX][CIVIL_TEXT_OCTETS],
        until[OPTIONS_CONFIGS_MAX][CIVIL_TEXT_OCTETS];
};

static int look(struct counter *shop, void *ctx)
{
    struct bay_shops *found = ctx;
    struct yard yard = {.settings = shop->settings, .ledger = shop->ledger};
    int32_t days = shop->options->days > 0 ? shop->options->days : BAY_AHEAD_DAYS;
    int32_t today = zone_civil(shop->now_s).day;
    days = days < BAY_DAYS_MOST ? days : BAY_DAYS_MOST - 1;
    civil_write(today, found->from[shop->number], CIVIL_TEXT_OCTETS);
    civil_write(today + days, found->until[shop->number], CIVIL_TEXT_OCTETS);
    return counter_ledger_status(
        shop, bay_reckon(&yard, shop->now_s, today + days, &found->bays[shop->number]));
}

static struct json_object *day_json(const struct counter *shop, const struct bay_day *day)
{
    struct bay_row row = row_of(day, NULL);
    struct json_object *object = columns_json(&day_columns, shop->settings, &row);
    struct json_object *jobs = json_object_new_array();
    for (size_t i = 0; i < day->job_count; i++) {
        row = row_of(day, &day->jobs[i]);
        (void)json_object_array_add(jobs, columns_json(&columns, shop->settings, &row));
    }
    json_add_text(object, "shop", shop->shop);
    json_add(object, "jobs", jobs);
    return object;
}

static int print_json(struct counter *counter, const struct bay_shops *found)
{
    struct json_object *whole = json_object_new_object(), *days = json_object_new_array();
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        const struct bay *bay = &found->bays[shop->number];
        struct json_object *head = counter_head(shop, whole);
        for (size_t i = 0; i < bay->day_count; i++) {
            (void)json_object_array_add(days, day_json(shop, &bay->days[i]));
        }
        json_add_text(head, "from", found->from[shop->number]);
        json_add_text(head, "until", found->until[shop->number]);
    }
    json_add(whole, "days", days);
    return counter_write(counter, whole);
}

/* On the screen the days that have something to do, in a spreadsheet every day that is open too; and in
 * words how much it is. */
static size_t tell_shop(const struct counter *shop, const struct bay_shops *found,
                        struct table *table)
{
    const struct bay *bay = &found->bays[shop->number];
    bool csv = shop->options->csv;
    char of_shop[COUNTER_SHOP_OCTETS];
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
    counter_of_shop(shop, of_shop);
    if (!csv && jobs == 0) {
        (void)fprintf(shop->out, "%sNothing is to be done in the shop from %s until %s.\n", of_shop,
                      found->from[shop->number], found->until[shop->number]);
    } else if (!csv) {
        (void)fprintf(shop->out,
                      "%sFrom %s until %s: %zu job%s, %zu of them booked, %lld of %lld minutes.\n",
                      of_shop, found->from[shop->number], found->until[shop->number], jobs,
                      jobs == 1 ? "" : "s", booked, (long long)taken, (long long)minutes);
    }
    return jobs;
}

static int print_rows(struct counter *counter, const struct bay_shops *found)
{
    struct table *table = counter_table(counter, &columns);
    size_t jobs = 0;
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        counter_table_of(shop, table);
        jobs += tell_shop(shop, found, table);
    }
    int status = counter->options->csv || jobs > 0 ? table_print(table, counter->out) : EX_OK;
    table_free(table);
    return status;
}

int bay_verb(struct counter *counter)
{
    struct bay_shops found = {.from = {""}};
    int status = EX_OK;
    if (counter_each(counter, look, &found)) {
        status = counter->options->json ? print_json(counter, &found) : print_rows(counter, &found);
    }
    for (size_t i = 0; i < OPTIONS_CONFIGS_MAX; i++) {
        bay_free(&found.bays[i]);
    }
    return status;
}
