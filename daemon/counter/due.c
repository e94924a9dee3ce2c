/* SPDX-License-Identifier: MIT
 * due: what comes due, worst first, as yard/ reckons it. The rows of other verbs too. */
#include <stdlib.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/yard/shelf.h"

#define ORDER_AHEAD_DAYS (4 * 7) /* as far as stock looks */

/* Past the point, or by the calendar alone, there is nothing between. */
static const char *between(const struct settings *settings, const void *row,
                           char room[TABLE_SHOWN_OCTETS])
{
    const struct yard_standing *standing = row;
    char early[CIVIL_TEXT_OCTETS], late[CIVIL_TEXT_OCTETS];
    (void)settings;
    if (standing->has_forecast && standing->earliest_day != standing->latest_day) {
        (void)snprintf(room, TABLE_SHOWN_OCTETS, "%s .. %s",
                       day_or_blank(true, standing->earliest_day, early),
                       day_or_blank(true, standing->latest_day, late));
    }
    return room;
}

static const char *by_word(const struct settings *settings, const void *row,
                           char room[TABLE_SHOWN_OCTETS])
{
    const struct yard_standing *standing = row;
    (void)settings;
    return standing->has_due || standing->has_forecast ? due_by_word(standing->by) : room;
}

/* What the shop does with it stands behind how it stands. */
static const char *state(const struct settings *settings, const void *row,
                         char room[TABLE_SHOWN_OCTETS])
{
    const struct yard_standing *standing = row;
    char day[CIVIL_TEXT_OCTETS];
    (void)settings;
    (void)snprintf(room, TABLE_SHOWN_OCTETS, "%s%s%s", due_stage_row(standing->stage)->says,
                   standing->in_shop  ? ", in the shop"
                   : standing->booked ? ", booked for "
                                      : "",
                   day_or_blank(standing->booked && !standing->in_shop, standing->booked_day, day));
    return room;
}

static const struct settings_machine *machine_of(const struct settings *settings, const void *row)
{
    return &settings->machines[((const struct yard_standing *)row)->machine];
}

static const char *title(const struct settings *settings, const void *row,
                         char room[TABLE_SHOWN_OCTETS])
{
    (void)room;
    return settings->plans[((const struct yard_standing *)row)->plan].title;
}

static const char *site(const struct settings *settings, const void *row,
                        char room[TABLE_SHOWN_OCTETS])
{
    (void)room;
    return machine_of(settings, row)->site;
}

static const char *owner(const struct settings *settings, const void *row,
                         char room[TABLE_SHOWN_OCTETS])
{
    (void)room;
    return machine_of(settings, row)->owner;
}

static const char *crew(const struct settings *settings, const void *row,
                        char room[TABLE_SHOWN_OCTETS])
{
    const struct settings_machine *machine = machine_of(settings, row);
    size_t used = 0;
    for (size_t i = 0; i < machine->crew_count; i++) {
        used += (size_t)snprintf(&room[used], TABLE_SHOWN_OCTETS - used, "%s%s", i > 0 ? " " : "",
                                 settings->people[machine->crew[i]].name);
    }
    return room;
}

static struct json_object *crew_json(const struct settings *settings, const void *row)
{
    const struct settings_machine *machine = machine_of(settings, row);
    struct json_object *names = machine->crew_count > 0 ? json_object_new_array() : NULL;
    for (size_t i = 0; i < machine->crew_count; i++) {
        const char *name = settings->people[machine->crew[i]].name;
        (void)json_object_array_add(names, json_object_new_string(name));
    }
    return names;
}

static struct json_object *wanted_json(const struct settings *settings, const void *row)
{
    (void)settings;
    return json_object_new_boolean(((const struct yard_standing *)row)->wanted);
}

#define AT(field) offsetof(struct yard_standing, field)
static const struct column standing_list[] = {
    {"MACHINE", "machine", COLUMN_MACHINE, .at = AT(machine)},
    {NULL, "kind", COLUMN_MACHINE_KIND, .at = AT(machine)},
    {"PLAN", "plan", COLUMN_PLAN, .at = AT(plan)},
    {"STATE", NULL, COLUMN_OWN, .say = state},
    {NULL, "stage", COLUMN_STAGE, .at = AT(stage)},
    {"METER h", "meter", COLUMN_HOURS, .at = AT(meter_hundredths), .if_true = {AT(read)}},
    {NULL, "true_hours", COLUMN_HOURS, .at = AT(true_hundredths), .if_true = {AT(read)}},
    {NULL, "read_at", COLUMN_TIME, .at = AT(read_s), .if_true = {AT(read)}},
    {NULL, "hours_a_day", COLUMN_DECIMAL, .at = AT(hours_a_day), .if_true = {AT(read)}},
    {"DUE AT h", "due_meter", COLUMN_HOURS, .at = AT(due_meter_hundredths),
     .if_true = {AT(has_due)}, .not_in_csv = true},
    {NULL, "due_hours", COLUMN_HOURS, .at = AT(due_true_hundredths), .if_true = {AT(has_due)}},
    {"LEFT h", "hours_left", COLUMN_HOURS, .at = AT(left_hundredths),
     .if_true = {AT(has_due), AT(read)}},
    {"DUE ON", "due_on", COLUMN_DAY, .at = AT(due_day), .if_true = {AT(has_forecast)}},
    {"BY", "by", COLUMN_OWN, .not_in_csv = true, .say = by_word},
    {"BETWEEN", NULL, COLUMN_OWN, .say = between},
    {NULL, "earliest", COLUMN_DAY, .at = AT(earliest_day), .if_true = {AT(has_forecast)}},
    {NULL, "latest", COLUMN_DAY, .at = AT(latest_day), .if_true = {AT(has_forecast)}},
    {NULL, "last_done_hours", COLUMN_HOURS, .at = AT(last_done_true_hundredths),
     .if_true = {AT(serviced)}},
    {NULL, "last_done_on", COLUMN_DAY, .at = AT(last_done_day),
     .if_true = {AT(serviced), AT(last_done_day_known)}},
    {NULL, "wanted", COLUMN_OWN, .not_in_csv = true, .json = wanted_json},
    {NULL, "likely_meter", COLUMN_HOURS, .at = AT(likely_meter_hundredths), .if_true = {AT(wanted)},
     .not_in_csv = true},
    {NULL, "title", COLUMN_OWN, .say = title},
    {NULL, "site", COLUMN_OWN, .say = site},
    {NULL, "crew", COLUMN_OWN, .say = crew, .json = crew_json},
    {NULL, "owner", COLUMN_OWN, .say = owner},
    {NULL, "booked_on", COLUMN_DAY, .at = AT(booked_day), .if_true = {AT(booked)}},
    {NULL, "in_since", COLUMN_TIME, .at = AT(in_since_s), .if_true = {AT(in_shop)}},
};
#undef AT
const struct columns standing_columns = {COLUMNS(standing_list), false};

struct json_object *counter_due_json(struct counter *counter)
{
    struct json_object *whole = json_object_new_object(), *rows = json_object_new_array();
    const struct yard_standing *standing;
    struct counter *shop;
    for (shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        json_add_time(counter_head(shop, whole), "as_of", shop->now_s);
    }
    while ((standing = counter_next_worst(counter, &shop)) != NULL) {
        struct json_object *row = columns_json(&standing_columns, shop->settings, standing);
        json_add_text(row, "shop", shop->shop);
        json_add(row, "trouble", counter_troubles_json(shop, standing->machine, NULL));
        (void)json_object_array_add(rows, json_settled(row));
    }
    json_add(whole, "rows", rows);
    return whole;
}

/* Of how many machines that holds; one has several rows, a plan each. */
static size_t count_machines(const struct counter *shop, size_t flag_at)
{
    const struct yard_standing *standings = shop->standings;
    size_t machines = 0;
    for (size_t i = 0; i < shop->standing_count; i++) {
        bool counts = *(const bool *)((const char *)&standings[i] + flag_at);
        for (size_t j = 0; j < i; j++) {
            counts = counts && standings[j].machine != standings[i].machine;
        }
        machines += counts;
    }
    return machines;
}

static void say_some(FILE *out, const char **gap, size_t count, const char *words)
{
    if (count > 0) {
        (void)fprintf(out, "%s%zu %s", *gap, count, words);
        *gap = ", ";
    }
}

/* By when to order what the next weeks need, where anything takes days to come; INT32_MAX: nothing. */
static int32_t order_day(const struct counter *shop)
{
    const struct settings *settings = shop->settings;
    struct yard yard = {.settings = settings, .ledger = shop->ledger};
    struct shelf shelf;
    int32_t first_day = INT32_MAX, today = zone_civil(shop->now_s).day;
    bool leads = false;
    for (size_t i = 0; i < settings->plan_count; i++) {
        for (size_t j = 0; j < settings->plans[i].kit_count; j++) {
            leads = leads || settings->plans[i].kit[j].lead_days > 0;
        }
    }
    if (!leads) {
        return first_day;
    }
    if (shelf_reckon(&yard, shop->now_s, today + ORDER_AHEAD_DAYS, &shelf) == LEDGER_OK) {
        for (size_t i = 0; i < shelf.item_count; i++) {
            const struct shelf_item *item = &shelf.items[i];
            bool sooner = item->has_order_by && item->order_by_day < first_day;
            first_day = sooner ? item->order_by_day : first_day;
        }
    }
    shelf_free(&shelf);
    return first_day;
}

static const char *say_order(FILE *out, const char *gap, int32_t day)
{
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                         "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    struct civil_date date = civil_date_of(day);
    if (day == INT32_MAX) {
        return gap;
    }
    (void)fprintf(out, "%sparts to order by %s %d", gap, months[date.month - 1], date.day);
    return ", ";
}

/* What the sentence counts, of all shops. */
struct due_counts {
    size_t stages[DUE_STAGE_COUNT], wanted, booked, in_shop, troubles;
    bool danger;
    int32_t order_day;
};

static void count_shop(const struct counter *shop, struct due_counts *counts)
{
    int32_t day = order_day(shop);
    for (size_t i = 0; i < shop->standing_count; i++) {
        counts->stages[shop->standings[i].stage]++;
    }
#define WHERE(flag) count_machines(shop, offsetof(struct yard_standing, flag))
    counts->wanted += WHERE(wanted);
    counts->booked += WHERE(booked);
    counts->in_shop += WHERE(in_shop);
#undef WHERE
    counts->troubles += shop->trouble_count;
    counts->danger = counts->danger || (shop->trouble_count > 0 && shop->troubles[0].danger);
    counts->order_day = day < counts->order_day ? day : counts->order_day;
}

/* The table in a sentence: "1 due, 2 coming up, 1 wanted, 1 open trouble." */
static void print_in_words(struct counter *counter)
{
    struct due_counts counts = {.order_day = INT32_MAX};
    const char *gap = "";
    char unread[64];
    FILE *out = counter->out;
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        count_shop(shop, &counts);
    }
    (void)snprintf(unread, sizeof unread, "with %s", due_stage_row(DUE_STAGE_UNREAD)->title);
    for (size_t i = DUE_STAGE_COUNT; i-- > 0;) {
        const struct due_stage_row *row = due_stage_row((enum due_stage)i);
        bool never_read = i == DUE_STAGE_UNREAD;
        say_some(out, &gap, row->tells || never_read ? counts.stages[i] : 0,
                 never_read ? unread : row->says);
    }
    say_some(out, &gap, counts.wanted, "wanted");
    say_some(out, &gap, counts.booked, "booked");
    say_some(out, &gap, counts.in_shop, "in the shop");
    gap = say_order(out, gap, counts.order_day);
    say_some(out, &gap, counts.troubles, counts.troubles > 1 ? "open troubles" : "open trouble");
    (void)fputs(counts.danger ? ", with DANGER" : "", out);
    (void)fputs(gap[0] != '\0' ? ".\n" : "Nothing is due or coming up.\n", out);
}

static int look(struct counter *shop, void *ctx)
{
    bool *attention = ctx;
    int status = counter_load_standings(shop);
    if (status == EX_OK) {
        status = counter_load_troubles(shop);
    }
    for (size_t i = 0; i < shop->standing_count && status == EX_OK; i++) {
        *attention = *attention || due_stage_row(shop->standings[i].stage)->needs_doing;
    }
    return status;
}

static int print_rows(struct counter *counter)
{
    struct table *table = counter_table(counter, &standing_columns);
    const struct yard_standing *standing;
    struct counter *shop;
    while ((standing = counter_next_worst(counter, &shop)) != NULL) {
        counter_table_of(shop, table);
        table_add(table, standing, counter_tint(standing->stage));
    }
    int status = table_print(table, counter->out);
    table_free(table);
    return status;
}

int due_verb(struct counter *counter)
{
    bool attention = false;
    int status;
    if (!counter_each(counter, look, &attention)) {
        return EX_OK; /* there is none: counter_serve has why */
    }
    if (counter->options->json) {
        status = counter_write(counter, counter_due_json(counter));
    } else if (counter->options->csv) {
        status = print_rows(counter);
    } else {
        print_in_words(counter);
        status = print_rows(counter);
        counter_print_troubles(counter);
    }
    return status == EX_OK && attention ? 1 : status;
}
