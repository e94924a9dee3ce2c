/* SPDX-License-Identifier: MIT
 * stock: what parts and fluids the next weeks need and the last ones used, as yard/shelf reckons it. */
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/yard/shelf.h"

#define WEEKS_UNSAID 4
#define SAYS_OCTETS 200
#define MACHINES_OCTETS 256 /* of the list in a cell; longer ones end in "..." */

static const char *machine_names(const struct settings *settings, const void *row,
                                 char room[TABLE_SHOWN_OCTETS])
{
    const struct shelf_item *item = row;
    size_t used = 0;
    for (size_t i = 0; i < item->machine_count; i++) {
        const char *name = settings->machines[item->machines[i]].name;
        if (used + strlen(name) + 6 > MACHINES_OCTETS) {
            (void)snprintf(&room[used], MACHINES_OCTETS - used, " ...");
            break;
        }
        used +=
            (size_t)snprintf(&room[used], MACHINES_OCTETS - used, "%s%s", i > 0 ? " " : "", name);
    }
    return room;
}

static struct json_object *machine_array(const struct settings *settings, const void *row)
{
    const struct shelf_item *item = row;
    struct json_object *machines = json_object_new_array();
    for (size_t i = 0; i < item->machine_count; i++) {
        const char *name = settings->machines[item->machines[i]].name;
        (void)json_object_array_add(machines, json_object_new_string(name));
    }
    return machines;
}

static const char *shop_unit(const struct settings *settings, const void *row,
                             char room[TABLE_SHOWN_OCTETS])
{
    (void)row, (void)room;
    return kit_unit_name(settings->shop.units);
}

static const char *used_more(const struct settings *settings, const void *row,
                             char room[TABLE_SHOWN_OCTETS])
{
    const struct shelf_used_row *used = row;
    (void)settings;
    return quantity_write(used->used_thousandths - used->planned_thousandths, room);
}

#define AT(field) offsetof(struct shelf_item, field)
static const struct column needed_list[] = {
    {"ITEM", "item", COLUMN_TEXT, .at = AT(item)},
    {"UNIT", "unit", COLUMN_UNIT, .at = AT(unit)},
    {"NEEDED", "needed", COLUMN_QUANTITY, .at = AT(needed_thousandths)},
    {"LIKELY", NULL, COLUMN_QUANTITY, .at = AT(likely_thousandths), .when = COLUMN_FROM_1},
    {"ON HAND", NULL, COLUMN_QUANTITY, .at = AT(on_hand_thousandths), .when = COLUMN_FROM_0},
    {"SOLD IN", "sold_in", COLUMN_QUANTITY, .at = AT(sold_in_thousandths)},
    {"CONTAINERS", "containers", COLUMN_WHOLE, .at = AT(containers)},
    {"ORDER BY", NULL, COLUMN_DAY, .at = AT(order_by_day), .if_true = {AT(has_order_by)}},
    {"MACHINES", "machines", COLUMN_OWN, .say = machine_names, .json = machine_array},
    {NULL, "likely", COLUMN_QUANTITY, .at = AT(likely_thousandths), .when = COLUMN_FROM_1},
    {NULL, "on_hand", COLUMN_QUANTITY, .at = AT(on_hand_thousandths), .when = COLUMN_FROM_0},
    {NULL, "order_by", COLUMN_DAY, .at = AT(order_by_day), .if_true = {AT(has_order_by)}},
};
#undef AT
static const struct columns needed_columns = {COLUMNS(needed_list), false};

#define AT(field) offsetof(struct shelf_used_row, field)
static const struct column used_list[] = {
    {"PLAN", "plan", COLUMN_PLAN, .at = AT(plan)},
    {"ITEM", "item", COLUMN_TEXT, .at = AT(item)},
    {"UNIT", "unit", COLUMN_OWN, .say = shop_unit},
    {"SERVICES", "services", COLUMN_WHOLE, .at = AT(services)},
    {"GIVEN", "given", COLUMN_WHOLE, .at = AT(said)},
    {"PLANNED", "planned", COLUMN_QUANTITY, .at = AT(planned_thousandths)},
    {"USED", "used", COLUMN_QUANTITY, .at = AT(used_thousandths)},
    {"MORE", "more", COLUMN_OWN_FIGURE, .say = used_more},
};
#undef AT
static const struct columns used_columns = {COLUMNS(used_list), false};

/* What is needed from from_day on, and what was used from since_day until then. */
struct stock_report {
    struct shelf stock;
    struct shelf_used used;
    struct table *needed_table, *used_table;
    char since[CIVIL_TEXT_OCTETS], from[CIVIL_TEXT_OCTETS], until[CIVIL_TEXT_OCTETS];
};

static int print_said(const struct counter *counter, const char *says, const struct table *table)
{
    struct screen screen = screen_of(counter->out);
    screen_print_folded(&screen, says, 2, counter->out);
    return table_rows(table) > 0 ? table_print(table, counter->out) : EX_OK;
}

static int print_stock(const struct counter *counter, const struct stock_report *report)
{
    const struct options *options = counter->options;
    char needed[SAYS_OCTETS], used[SAYS_OCTETS];
    if (options->json) {
        struct json_object *whole = json_object_new_object();
        json_add_text(whole, "from", report->from);
        if (!options->used) {
            json_add_text(whole, "until", report->until);
            json_add(whole, "items", table_json(report->needed_table));
        }
        json_add_text(whole, "used_from", report->since);
        json_add(whole, "used", table_json(report->used_table));
        return json_write(whole, counter->out);
    }
    if (options->csv) {
        return table_print(options->used ? report->used_table : report->needed_table, counter->out);
    }
    (void)snprintf(needed, sizeof needed,
                   report->stock.item_count > 0 ? "For what comes due from %s until %s:\n"
                   : settings_any_kit(counter->settings)
                       ? "Nothing is needed from %s until %s.\n"
                       : "What is needed from %s until %s is not known: no plan has a kit "
                         "(meterpost.conf(5)).\n",
                   report->from, report->until);
    (void)snprintf(used, sizeof used,
                   report->used.count > 0
                       ? "Used in services from %s until %s, beside the plan where a quantity was "
                         "given:\n"
                       : "No service that takes a fluid was done from %s until %s.\n",
                   report->since, report->from);
    if (options->used) {
        return print_said(counter, used, report->used_table);
    }
    int status = print_said(counter, needed, report->needed_table);
    if (status != EX_OK || report->used.count == 0) {
        return status;
    }
    (void)fputc('\n', counter->out);
    return print_said(counter, used, report->used_table);
}

/* A column that says nothing in any row, or nothing new, only takes room. */
static void drop_unless(struct table *table, const char *title, bool wanted)
{
    if (!wanted) {
        table_drop(table, title);
    }
}

int stock_verb(struct counter *counter)
{
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    struct stock_report report = {0};
    int32_t days = counter->options->days > 0 ? counter->options->days : WEEKS_UNSAID * 7;
    int32_t today = zone_civil(counter->now_s).day;
    civil_write(today - days, report.since, sizeof report.since);
    civil_write(today, report.from, sizeof report.from);
    civil_write(today + days, report.until, sizeof report.until);
    enum ledger_result result = shelf_reckon(&yard, counter->now_s, today + days, &report.stock);
    if (result == LEDGER_OK) {
        result = shelf_used_reckon(&yard, today - days, counter->now_s, &report.used);
    }
    int status = counter_ledger_status(counter, result);
    if (status == EX_OK) {
        enum table_form form = counter_form(counter);
        report.needed_table = table_new(&needed_columns, form, counter->settings);
        report.used_table = table_new(&used_columns, form, counter->settings);
        bool likely = false, on_hand = false, order_by = false;
        for (size_t i = 0; i < report.stock.item_count; i++) {
            const struct shelf_item *item = &report.stock.items[i];
            table_add(report.needed_table, item, item->has_order_by ? TABLE_WARN : TABLE_PLAIN);
            likely = likely || item->likely_thousandths != item->needed_thousandths;
            on_hand = on_hand || item->on_hand_thousandths >= 0;
            order_by = order_by || item->has_order_by;
        }
        drop_unless(report.needed_table, "LIKELY", likely);
        drop_unless(report.needed_table, "ON HAND", on_hand);
        drop_unless(report.needed_table, "ORDER BY", order_by);
        for (size_t i = 0; i < report.used.count; i++) {
            table_add(report.used_table, &report.used.rows[i], TABLE_PLAIN);
        }
        status = print_stock(counter, &report);
    }
    if (report.stock.left_out) {
        (void)fprintf(counter->err,
                      "meterpost: more than %d different items; the rest is left out\n",
                      SHELF_ITEMS_MAX);
    }
    table_free(report.needed_table);
    table_free(report.used_table);
    shelf_used_free(&report.used);
    shelf_free(&report.stock);
    return status;
}
