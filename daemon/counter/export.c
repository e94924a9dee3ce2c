/* SPDX-License-Identifier: MIT
 * export: what leaves the house: the whole record, readings, services, changes of meter, spells laid up or
 * texts as CSV (RFC 4180), whole. The first columns are fixed for programs; more may
 * follow behind them. Import reads its files by the same columns. */
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/chronicle.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/import.h"
#include "daemon/counter/verbs.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/texts.h"

#define AT(field) offsetof(struct chronicle_row, field)
/* Spreadsheets may have it apart; ours have it with the day. */
#define CLOCK                                                                                      \
    {                                                                                              \
        NULL, "time", COLUMN_TIME, .not_in_csv = true, .not_in_json = true,                        \
                                   .import_as = IMPORT_COLUMN_CLOCK                                \
    }
static const struct column reading_list[] = {
    {NULL, "machine", COLUMN_TEXT, .at = AT(machine), .import_as = IMPORT_COLUMN_MACHINE,
     .needed = true},
    {NULL, "hours", COLUMN_HOURS, .at = AT(line.meter_hundredths), .import_as = IMPORT_COLUMN_HOURS,
     .needed = true},
    {NULL, "read_at", COLUMN_TIME, .at = AT(line.at_s), .import_as = IMPORT_COLUMN_AT,
     .needed = true},
    CLOCK,
    {NULL, "person", COLUMN_TEXT, .at = AT(line.person), .import_as = IMPORT_COLUMN_PERSON},
    {NULL, "struck", COLUMN_TIME, .at = AT(line.struck_s), .when = COLUMN_FROM_1,
     .import_as = IMPORT_COLUMN_STRUCK},
    {NULL, "true_hours", COLUMN_HOURS, .at = AT(line.true_hundredths)},
    {NULL, "remark", COLUMN_TEXT, .at = AT(line.remark), .import_as = IMPORT_COLUMN_REMARK},
    {NULL, "struck_by", COLUMN_TEXT, .at = AT(line.struck_by)},
    {NULL, "struck_why", COLUMN_TEXT, .at = AT(line.struck_why)},
};
static const struct column service_list[] = {
    {NULL, "machine", COLUMN_TEXT, .at = AT(machine), .import_as = IMPORT_COLUMN_MACHINE,
     .needed = true},
    {NULL, "plan", COLUMN_TEXT, .at = AT(line.plan), .import_as = IMPORT_COLUMN_PLAN,
     .needed = true},
    {NULL, "hours", COLUMN_HOURS, .at = AT(line.meter_hundredths), .import_as = IMPORT_COLUMN_HOURS,
     .needed = true},
    {NULL, "done_at", COLUMN_TIME, .at = AT(line.at_s), .import_as = IMPORT_COLUMN_AT,
     .needed = true},
    CLOCK,
    {NULL, "person", COLUMN_TEXT, .at = AT(line.person), .import_as = IMPORT_COLUMN_PERSON},
    {NULL, "quantity", COLUMN_QUANTITY, .at = AT(line.quantity_thousandths), .when = COLUMN_FROM_1,
     .import_as = IMPORT_COLUMN_QUANTITY},
    {NULL, "remark", COLUMN_TEXT, .at = AT(line.remark), .import_as = IMPORT_COLUMN_REMARK},
    {NULL, "unit", COLUMN_TEXT, .at = AT(line.unit), .import_as = IMPORT_COLUMN_UNIT},
    {NULL, "true_hours", COLUMN_HOURS, .at = AT(line.true_hundredths)},
    {NULL, "struck", COLUMN_TIME, .at = AT(line.struck_s), .when = COLUMN_FROM_1,
     .import_as = IMPORT_COLUMN_STRUCK},
    {NULL, "struck_by", COLUMN_TEXT, .at = AT(line.struck_by)},
    {NULL, "struck_why", COLUMN_TEXT, .at = AT(line.struck_why)},
};
static const struct column swap_list[] = {
    {NULL, "machine", COLUMN_TEXT, .at = AT(machine), .import_as = IMPORT_COLUMN_MACHINE,
     .needed = true},
    {NULL, "old_hours", COLUMN_HOURS, .at = AT(line.meter_hundredths),
     .import_as = IMPORT_COLUMN_HOURS, .needed = true},
    {NULL, "new_hours", COLUMN_HOURS, .at = AT(line.new_hundredths),
     .import_as = IMPORT_COLUMN_NEW_HOURS, .needed = true},
    {NULL, "swapped_at", COLUMN_TIME, .at = AT(line.at_s), .import_as = IMPORT_COLUMN_AT,
     .needed = true},
    CLOCK,
    {NULL, "person", COLUMN_TEXT, .at = AT(line.person), .import_as = IMPORT_COLUMN_PERSON},
    {NULL, "struck", COLUMN_TIME, .at = AT(line.struck_s), .when = COLUMN_FROM_1,
     .import_as = IMPORT_COLUMN_STRUCK},
    {NULL, "struck_by", COLUMN_TEXT, .at = AT(line.struck_by)},
    {NULL, "struck_why", COLUMN_TEXT, .at = AT(line.struck_why)},
};
static const struct column parking_list[] = {
    {NULL, "machine", COLUMN_TEXT, .at = AT(machine), .import_as = IMPORT_COLUMN_MACHINE,
     .needed = true},
    {NULL, "what", COLUMN_TEXT, .at = AT(line.kind), .import_as = IMPORT_COLUMN_PARKING,
     .needed = true},
    {NULL, "at", COLUMN_TIME, .at = AT(line.at_s), .import_as = IMPORT_COLUMN_AT, .needed = true},
    {NULL, "person", COLUMN_TEXT, .at = AT(line.person), .import_as = IMPORT_COLUMN_PERSON},
    {NULL, "struck", COLUMN_TIME, .at = AT(line.struck_s), .when = COLUMN_FROM_1,
     .import_as = IMPORT_COLUMN_STRUCK},
};
#undef CLOCK
#undef AT

static const struct export_kind kinds[] = {
    {"record", IMPORT_RECORD, {NULL}, {NULL, 0, true}, "machine,at,what,hours"},
    {"readings",
     IMPORT_READINGS,
     {"reading"},
     {COLUMNS(reading_list), true},
     "machine,hours,read_at,person,remark"},
    {"services",
     IMPORT_SERVICES,
     {"service"},
     {COLUMNS(service_list), true},
     "machine,plan,hours,done_at,person,quantity,unit,remark"},
    {"swaps",
     IMPORT_SWAPS,
     {"meter"},
     {COLUMNS(swap_list), true},
     "machine,old_hours,new_hours,swapped_at,person"},
    {"parkings",
     IMPORT_PARKINGS,
     {"parked", "back"},
     {COLUMNS(parking_list), true},
     "machine,what,at,person"},
};

const struct export_kind *export_kind_find(const char *name, struct nearest *nearest)
{
    nearest_begin(nearest, name);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcmp(name, kinds[i].name) == 0) {
            return &kinds[i];
        }
        nearest_offer(nearest, kinds[i].name);
    }
    return NULL;
}

/* ---- rows, as the ledger hands them out */

struct export_taking {
    const struct export_kind *kind;
    struct table *table;
};

static void take_line(void *ctx, const char *machine, const struct record_line *line)
{
    struct export_taking *taking = ctx;
    if (taking->kind->what == IMPORT_RECORD) {
        table_add(taking->table, &(struct chronicle_row){machine, *line}, TABLE_PLAIN);
    }
    for (size_t i = 0; i < EXPORT_LINES_MAX && taking->kind->lines[i] != NULL; i++) {
        if (strcmp(line->kind, taking->kind->lines[i]) == 0) {
            table_add(taking->table, &(struct chronicle_row){machine, *line}, TABLE_PLAIN);
        }
    }
}

static void take_text(void *ctx, const struct texts_line *line)
{
    table_add(ctx, line, TABLE_PLAIN);
}

static int say_what(const struct counter *counter, struct nearest *nearest)
{
    nearest_offer(nearest, "texts");
    if (nearest->name != NULL) {
        (void)fprintf(counter->err, "meterpost: no %s to export; did you mean %s?\n", nearest->word,
                      nearest->name);
    } else {
        (void)fprintf(counter->err, "meterpost: say what: meterpost export record; also "
                                    "readings, services, swaps, parkings, texts; and of which "
                                    "machine, unless of all\n");
    }
    return EX_USAGE;
}

static int print_rows(const struct counter *counter, const char *name, const struct table *table)
{
    if (!counter->options->json) {
        return table_print(table, counter->out);
    }
    struct json_object *whole = json_object_new_object();
    json_add_text(whole, "kind", name);
    json_add(whole, "rows", table_json(table));
    return json_write(whole, counter->out);
}

int export_verb(struct counter *counter)
{
    const struct options *options = counter->options;
    const char *name =
        options->word_count >= 1 && options->word_count <= 2 ? options->words[0] : "";
    struct nearest nearest;
    const struct export_kind *kind = export_kind_find(name, &nearest);
    bool of_texts = strcmp(name, "texts") == 0;
    if ((kind == NULL && !of_texts) || (of_texts && options->word_count > 1)) {
        return say_what(counter, &nearest);
    }
    int64_t machine_id = 0; /* all */
    if (options->word_count == 2) {
        struct counter_named named;
        int status = counter_on_record(counter, options->words[1], &named);
        if (status != EX_OK) {
            return status;
        }
        machine_id = named.id != 0 ? named.id : -1;
    }
    struct columns texts = {text_columns.list, text_columns.count, true};
    const struct columns *columns = of_texts                      ? &texts
                                    : kind->what == IMPORT_RECORD ? &chronicle_columns
                                                                  : &kind->columns;
    struct table *table =
        table_new(columns, options->json ? TABLE_JSON : TABLE_CSV, counter->settings);
    struct export_taking taking = {kind, table};
    int status = counter_ledger_status(
        counter, kind != NULL ? record_each(counter->ledger, machine_id, take_line, &taking)
                              : texts_each(counter->ledger, 0, INT64_MAX, take_text, table));
    if (status == EX_OK) {
        status = print_rows(counter, name, table);
    }
    if (status == EX_OSERR) {
        (void)fprintf(counter->err, "meterpost: memory is short; nothing was written\n");
    }
    table_free(table);
    return status;
}
