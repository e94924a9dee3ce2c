/* SPDX-License-Identifier: MIT
 * stock: parts and fluids for the next weeks. The sums are those of yard/stock and yard/used; this file only sets them out. */
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/upkeep/civil.h"
#include "daemon/yard/shelf.h"

#define WEEKS_UNSAID 4
#define MACHINES_OCTETS 256 /* of the list in a cell; longer ones end in "..." */

static const struct table_column screen_columns[] = {
    {"ITEM", TABLE_LEFT},     {"UNIT", TABLE_LEFT},        {"NEEDED", TABLE_RIGHT},
    {"SOLD IN", TABLE_RIGHT}, {"CONTAINERS", TABLE_RIGHT}, {"MACHINES", TABLE_LEFT},
};

static const struct table_column csv_columns[] = {
    {"item", TABLE_LEFT},     {"unit", TABLE_LEFT},        {"needed", TABLE_RIGHT},
    {"sold_in", TABLE_RIGHT}, {"containers", TABLE_RIGHT}, {"machines", TABLE_LEFT},
};

static const struct table_column used_screen_columns[] = {
    {"PLAN", TABLE_LEFT},      {"ITEM", TABLE_LEFT},   {"UNIT", TABLE_LEFT},
    {"SERVICES", TABLE_RIGHT}, {"GIVEN", TABLE_RIGHT}, {"PLANNED", TABLE_RIGHT},
    {"USED", TABLE_RIGHT},     {"MORE", TABLE_RIGHT},
};

static const struct table_column used_csv_columns[] = {
    {"plan", TABLE_LEFT},      {"item", TABLE_LEFT},   {"unit", TABLE_LEFT},
    {"services", TABLE_RIGHT}, {"given", TABLE_RIGHT}, {"planned", TABLE_RIGHT},
    {"used", TABLE_RIGHT},     {"more", TABLE_RIGHT},
};

/* What is needed from from_day on, and what was used from since_day until then. */
struct stock_report {
    const struct settings *settings;
    struct shelf stock;
    struct shelf_used used;
    int32_t since_day, from_day, until_day;
};

static void write_machines(const struct stock_report *report, const struct shelf_item *item,
                           char out[MACHINES_OCTETS])
{
    size_t used = 0;
    out[0] = '\0';
    for (size_t i = 0; i < item->machine_count; i++) {
        const char *name = report->settings->machines[item->machines[i]].name;
        if (used + strlen(name) + 6 > MACHINES_OCTETS) {
            (void)snprintf(&out[used], MACHINES_OCTETS - used, " ...");
            return;
        }
        used +=
            (size_t)snprintf(&out[used], MACHINES_OCTETS - used, "%s%s", i > 0 ? " " : "", name);
    }
}

static int print_needed(const struct stock_report *report, bool csv, FILE *out)
{
    struct table *table =
        table_new(csv ? csv_columns : screen_columns, sizeof csv_columns / sizeof csv_columns[0]);
    char from[CIVIL_TEXT_OCTETS], until[CIVIL_TEXT_OCTETS];
    if (table == NULL) {
        return EX_OSERR;
    }
    for (size_t i = 0; i < report->stock.item_count; i++) {
        const struct shelf_item *item = &report->stock.items[i];
        char needed[QUANTITY_TEXT_OCTETS], sold_in[QUANTITY_TEXT_OCTETS];
        char machines[MACHINES_OCTETS];
        if (!table_row(table, TABLE_PLAIN)) {
            table_free(table);
            return EX_OSERR;
        }
        write_machines(report, item, machines);
        (void)table_cell(table, "%s", item->item);
        (void)table_cell(table, "%s", kit_unit_name(item->unit));
        (void)table_cell(table, "%s", quantity_write(item->needed_thousandths, needed));
        (void)table_cell(table, "%s", quantity_write(item->sold_in_thousandths, sold_in));
        (void)table_cell(table, "%lld", (long long)item->containers);
        (void)table_cell(table, "%s", machines);
    }
    civil_write(report->from_day, from, sizeof from);
    civil_write(report->until_day, until, sizeof until);
    if (csv) {
        table_print_csv(table, out);
    } else if (report->stock.item_count == 0) {
        (void)fprintf(out,
                      settings_any_kit(report->settings)
                          ? "Nothing is needed from %s until %s.\n"
                          : "What is needed from %s until %s is not known: no plan has a kit "
                            "(meterpost.conf(5)).\n",
                      from, until);
    } else {
        struct screen screen = screen_of(out);
        char head[80];
        (void)snprintf(head, sizeof head, "For what comes due from %s until %s:\n", from, until);
        screen_print_folded(&screen, head, 2, out);
        table_print(table, &screen, out);
    }
    table_free(table);
    return EX_OK;
}

static int print_used(const struct stock_report *report, bool csv, FILE *out)
{
    struct table *table = table_new(csv ? used_csv_columns : used_screen_columns,
                                    sizeof used_csv_columns / sizeof used_csv_columns[0]);
    const char *unit = kit_unit_name(report->settings->shop.units);
    bool written = table != NULL;
    for (size_t i = 0; i < report->used.count && written; i++) {
        const struct shelf_used_row *row = &report->used.rows[i];
        char planned[QUANTITY_TEXT_OCTETS], used[QUANTITY_TEXT_OCTETS], more[QUANTITY_TEXT_OCTETS];
        written = table_row(table, TABLE_PLAIN);
        (void)table_cell(table, "%s", report->settings->plans[row->plan].name);
        (void)table_cell(table, "%s", row->item != NULL ? row->item : "");
        (void)table_cell(table, "%s", unit);
        (void)table_cell(table, "%lld", (long long)row->services);
        (void)table_cell(table, "%lld", (long long)row->said);
        (void)table_cell(table, "%s", quantity_write(row->planned_thousandths, planned));
        (void)table_cell(table, "%s", quantity_write(row->used_thousandths, used));
        (void)table_cell(table, "%s",
                         quantity_write(row->used_thousandths - row->planned_thousandths, more));
    }
    if (written && csv) {
        table_print_csv(table, out);
    } else if (written) {
        struct screen screen = screen_of(out);
        table_print(table, &screen, out);
    }
    table_free(table);
    return written ? EX_OK : EX_OSERR;
}

/* What the services done took. */
static int print_past(const struct stock_report *report, FILE *out)
{
    struct screen screen = screen_of(out);
    char since[CIVIL_TEXT_OCTETS], until[CIVIL_TEXT_OCTETS], head[160];
    civil_write(report->since_day, since, sizeof since);
    civil_write(report->from_day, until, sizeof until);
    if (report->used.count == 0) {
        (void)fprintf(out, "No service that takes a fluid was done from %s until %s.\n", since,
                      until);
        return EX_OK;
    }
    (void)snprintf(head, sizeof head,
                   "Used in services from %s until %s, beside the plan where a quantity was "
                   "given:\n",
                   since, until);
    screen_print_folded(&screen, head, 2, out);
    return print_used(report, false, out);
}

static struct json_object *used_json(const struct stock_report *report)
{
    struct json_object *rows = json_object_new_array();
    for (size_t i = 0; i < report->used.count; i++) {
        const struct shelf_used_row *row = &report->used.rows[i];
        struct json_object *object = json_object_new_object();
        json_add_text(object, "plan", report->settings->plans[row->plan].name);
        json_add_text(object, "item", row->item);
        json_add_text(object, "unit", kit_unit_name(report->settings->shop.units));
        json_add_whole(object, "services", row->services);
        json_add_whole(object, "given", row->said);
        json_add_thousandths(object, "planned", row->planned_thousandths);
        json_add_thousandths(object, "used", row->used_thousandths);
        json_add_thousandths(object, "more", row->used_thousandths - row->planned_thousandths);
        (void)json_object_array_add(rows, object);
    }
    return rows;
}

static int print_json(const struct stock_report *report, FILE *out)
{
    struct json_object *whole = json_object_new_object();
    struct json_object *items = json_object_new_array();
    json_add_day(whole, "from", report->from_day);
    json_add_day(whole, "until", report->until_day);
    for (size_t i = 0; i < report->stock.item_count; i++) {
        const struct shelf_item *item = &report->stock.items[i];
        struct json_object *object = json_object_new_object();
        struct json_object *machines = json_object_new_array();
        json_add_text(object, "item", item->item);
        json_add_text(object, "unit", kit_unit_name(item->unit));
        json_add_thousandths(object, "needed", item->needed_thousandths);
        json_add_thousandths(object, "sold_in", item->sold_in_thousandths);
        json_add_whole(object, "containers", item->containers);
        for (size_t j = 0; j < item->machine_count; j++) {
            const char *name = report->settings->machines[item->machines[j]].name;
            (void)json_object_array_add(machines, json_object_new_string(name));
        }
        (void)json_object_object_add(object, "machines", machines);
        (void)json_object_array_add(items, object);
    }
    (void)json_object_object_add(whole, "items", items);
    json_add_day(whole, "used_from", report->since_day);
    (void)json_object_object_add(whole, "used", used_json(report));
    return json_write(whole, out) ? EX_OK : EX_IOERR;
}

static int print(const struct stock_report *report, const struct options *options, FILE *out)
{
    if (options->json) {
        return print_json(report, out);
    }
    if (options->csv) {
        return options->used ? print_used(report, true, out) : print_needed(report, true, out);
    }
    if (options->used) {
        return print_past(report, out);
    }
    int status = print_needed(report, false, out);
    if (status != EX_OK || report->used.count == 0) {
        return status;
    }
    (void)fputc('\n', out);
    return print_past(report, out);
}

static int report_stock(struct counter *counter, const struct options *options, FILE *out,
                        FILE *err)
{
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    struct stock_report report = {.settings = counter->settings};
    int32_t days = options->days > 0 ? options->days : WEEKS_UNSAID * 7;
    report.from_day = zone_civil(counter->now_s).day;
    report.until_day = report.from_day + days;
    report.since_day = report.from_day - days;
    enum ledger_result result =
        shelf_reckon(&yard, counter->now_s, report.until_day, &report.stock);
    if (result == LEDGER_OK) {
        result = shelf_used_reckon(&yard, report.since_day, counter->now_s, &report.used);
    }
    int status = EX_OK;
    if (result != LEDGER_OK) {
        (void)fprintf(err, "meterpost: %s\n", ledger_says(counter->ledger));
        status = ledger_exit_status(result);
    } else {
        status = print(&report, options, out);
    }
    if (report.stock.left_out) {
        (void)fprintf(err, "meterpost: more than %d different items; the rest is left out\n",
                      SHELF_ITEMS_MAX);
    }
    shelf_used_free(&report.used);
    shelf_free(&report.stock);
    return status;
}

int stock_verb(const struct options *options, FILE *out, FILE *err)
{
    struct counter counter;
    if (options->json && options->used) {
        (void)fprintf(err, "meterpost: stock --json says both what is needed and what was used; "
                           "leave --used out\n");
        return EX_USAGE;
    }
    int status = counter_begin(&counter, options, err);
    if (status == EX_OK) {
        status = counter_open_ledger(&counter, LEDGER_READ, err);
    }
    if (status == EX_OK) {
        status = report_stock(&counter, options, out, err);
    }
    counter_end(&counter);
    return status;
}
