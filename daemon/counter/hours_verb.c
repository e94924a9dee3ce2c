/* SPDX-License-Identifier: MIT
 * hours_verb: hours run in a span, by machine, site, crew or owner, as yard/hours_run reckons them. */
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/yard/hours_run.h"

#define DAYS_UNSAID 28 /* up to and with today */
#define BAR_COLUMNS 30

struct hours_row {
    const char *name;
    int64_t hundredths, machines;
    int64_t most_hundredths; /* of all rows */
};

static const char *shown_name(const struct settings *settings, const void *row,
                              char room[TABLE_SHOWN_OCTETS])
{
    const char *name = ((const struct hours_row *)row)->name;
    (void)settings, (void)room;
    return name[0] != '\0' ? name : "(none said)";
}

/* The most fills it; what is run at all shows. */
static const char *bar(const struct settings *settings, const void *row,
                       char room[TABLE_SHOWN_OCTETS])
{
    const struct hours_row *hours = row;
    int64_t most = hours->most_hundredths;
    size_t columns = most > 0 ? (size_t)((hours->hundredths * BAR_COLUMNS + most - 1) / most) : 0;
    (void)settings;
    columns = columns <= BAR_COLUMNS ? columns : BAR_COLUMNS;
    memset(room, '#', columns);
    room[columns] = '\0';
    return room;
}

#define AT(field) offsetof(struct hours_row, field)
static const struct column list[] = {
    {"NAME", NULL, COLUMN_OWN, .say = shown_name},
    {NULL, "name", COLUMN_TEXT, .at = AT(name), .when = COLUMN_EVEN_EMPTY},
    {"HOURS", "hours", COLUMN_HOURS, .at = AT(hundredths)},
    {"MACHINES", "machines", COLUMN_WHOLE, .at = AT(machines)},
    {"", NULL, COLUMN_OWN, .say = bar},
};
#undef AT
static const struct columns columns = {COLUMNS(list), false};

struct span {
    int32_t from_day, until_day;
    enum hours_run_by by;
    char from[CIVIL_TEXT_OCTETS], until[CIVIL_TEXT_OCTETS];
};

static bool read_day(const struct counter *counter, const char *option, const char *text,
                     int32_t *day)
{
    if (text == NULL || civil_read(text, strlen(text), day)) {
        return true;
    }
    (void)fprintf(counter->err, "meterpost: --%s %s is no day; write it like 2027-03-14\n", option,
                  text);
    return false;
}

static bool read_span(const struct counter *counter, struct span *span)
{
    const struct options *options = counter->options;
    size_t by = 0;
    span->until_day = zone_civil(counter->now_s).day;
    if (!read_day(counter, "to", options->to, &span->until_day)) {
        return false;
    }
    span->from_day = span->until_day - DAYS_UNSAID + 1;
    if (!read_day(counter, "from", options->from, &span->from_day)) {
        return false;
    }
    if (span->from_day > span->until_day) {
        (void)fprintf(counter->err, "meterpost: --from lies behind --to\n");
        return false;
    }
    while (options->by != NULL && by < HOURS_RUN_BY_COUNT &&
           strcmp(options->by, hours_run_by_word((enum hours_run_by)by)) != 0) {
        by++;
    }
    if (by == HOURS_RUN_BY_COUNT) {
        (void)fprintf(counter->err, "meterpost: --by machine, site, crew or owner, not %s\n",
                      options->by);
        return false;
    }
    span->by = (enum hours_run_by)by;
    civil_write(span->from_day, span->from, sizeof span->from);
    civil_write(span->until_day, span->until, sizeof span->until);
    return true;
}

struct hours_shops {
    struct span spans[OPTIONS_CONFIGS_MAX];
    struct hours_run runs[OPTIONS_CONFIGS_MAX];
    int64_t most_hundredths; /* of all rows */
    size_t row_count;
};

static int look(struct counter *shop, void *ctx)
{
    struct hours_shops *found = ctx;
    struct span *span = &found->spans[shop->number];
    struct hours_run *run = &found->runs[shop->number];
    struct yard yard = {.settings = shop->settings, .ledger = shop->ledger};
    if (!read_span(shop, span)) {
        return EX_USAGE;
    }
    int status = counter_ledger_status(
        shop, hours_run_reckon(&yard, span->from_day, span->until_day, span->by, run));
    if (status == EX_OK && run->row_count > 0) {
        int64_t most = run->rows[0].hundredths;
        found->most_hundredths = most > found->most_hundredths ? most : found->most_hundredths;
        found->row_count += run->row_count;
    }
    return status;
}

static struct table *fill_table(struct counter *counter, const struct hours_shops *found)
{
    struct table *table = counter_table(counter, &columns);
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        const struct hours_run *run = &found->runs[shop->number];
        counter_table_of(shop, table);
        for (size_t i = 0; i < run->row_count; i++) {
            struct hours_row row = {.name = run->rows[i].name,
                                    .hundredths = run->rows[i].hundredths,
                                    .machines = (int64_t)run->rows[i].machine_count,
                                    .most_hundredths = found->most_hundredths};
            table_add(table, &row, TABLE_PLAIN);
        }
    }
    return table;
}

static int print(struct counter *counter, const struct hours_shops *found,
                 const struct table *table)
{
    char total[HOURS_TEXT_OCTETS], of_shop[COUNTER_SHOP_OCTETS];
    struct json_object *whole = counter->options->json ? json_object_new_object() : NULL;
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        const struct span *span = &found->spans[shop->number];
        if (counter->options->json) {
            struct json_object *head = counter_head(shop, whole);
            json_add_text(head, "from", span->from);
            json_add_text(head, "until", span->until);
            json_add_text(head, "by", hours_run_by_word(span->by));
        } else if (!counter->options->csv) {
            (void)fprintf(counter->out, "%s%s h were run from %s to %s, by %s.\n",
                          counter_of_shop(shop, of_shop),
                          hours_or_blank(true, found->runs[shop->number].total_hundredths, total),
                          span->from, span->until, hours_run_by_word(span->by));
        }
    }
    if (counter->options->json) {
        json_add(whole, "rows", table_json(table));
        return counter_write(counter, whole);
    }
    return counter->options->csv || found->row_count > 0 ? table_print(table, counter->out) : EX_OK;
}

int hours_verb(struct counter *counter)
{
    struct hours_shops found = {.row_count = 0};
    int status = EX_OK;
    if (counter_each(counter, look, &found)) {
        struct table *table = fill_table(counter, &found);
        status = print(counter, &found, table);
        table_free(table);
    }
    for (size_t i = 0; i < OPTIONS_CONFIGS_MAX; i++) {
        hours_run_free(&found.runs[i]);
    }
    return status;
}
