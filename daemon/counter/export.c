/* SPDX-License-Identifier: MIT
 * export: what leaves the house: readings, services, changes of meter, spells laid up or texts as CSV (RFC
 * 4180), whole; and a checked copy of the ledger. The first columns are fixed for programs; more may
 * follow behind them. */
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/texts.h"
#include "parsers/hours.h"
#include "parsers/nearest.h"

static const struct table_column reading_columns[] = {
    {"machine", TABLE_LEFT}, {"hours", TABLE_RIGHT},    {"read_at", TABLE_LEFT},
    {"person", TABLE_LEFT},  {"struck", TABLE_LEFT},    {"true_hours", TABLE_RIGHT},
    {"remark", TABLE_LEFT},  {"struck_by", TABLE_LEFT}, {"struck_why", TABLE_LEFT},
};
static const struct table_column service_columns[] = {
    {"machine", TABLE_LEFT}, {"plan", TABLE_LEFT},      {"hours", TABLE_RIGHT},
    {"done_at", TABLE_LEFT}, {"person", TABLE_LEFT},    {"quantity", TABLE_RIGHT},
    {"remark", TABLE_LEFT},  {"unit", TABLE_LEFT},      {"true_hours", TABLE_RIGHT},
    {"struck", TABLE_LEFT},  {"struck_by", TABLE_LEFT}, {"struck_why", TABLE_LEFT},
};
static const struct table_column swap_columns[] = {
    {"machine", TABLE_LEFT},    {"old_hours", TABLE_RIGHT}, {"new_hours", TABLE_RIGHT},
    {"swapped_at", TABLE_LEFT}, {"person", TABLE_LEFT},     {"struck", TABLE_LEFT},
    {"struck_by", TABLE_LEFT},  {"struck_why", TABLE_LEFT},
};
static const struct table_column parking_columns[] = {
    {"machine", TABLE_LEFT}, {"what", TABLE_LEFT},   {"at", TABLE_LEFT},
    {"person", TABLE_LEFT},  {"struck", TABLE_LEFT},
};
static const struct table_column text_columns[] = {
    {"direction", TABLE_LEFT}, {"person", TABLE_LEFT}, {"phone", TABLE_LEFT},
    {"at", TABLE_LEFT},        {"text", TABLE_LEFT},   {"state", TABLE_LEFT},
};

/* What the rows go to while the ledger hands them out. */
struct export_rows {
    struct table *table;
    bool short_of_memory;
};

static void hours_cell(struct table *table, int64_t hundredths)
{
    char room[HOURS_TEXT_OCTETS];
    (void)hours_write(hundredths, room, sizeof room);
    (void)table_cell(table, "%s", room);
}

static void time_cell(struct table *table, int64_t unix_s)
{
    char room[ZONE_TEXT_OCTETS] = "";
    if (unix_s != 0) {
        zone_write_rfc3339(unix_s, room, sizeof room);
    }
    (void)table_cell(table, "%s", room);
}

static void take_reading(void *ctx, const char *machine, const struct record_line *line)
{
    struct export_rows *rows = ctx;
    if (strcmp(line->kind, "reading") != 0) {
        return;
    }
    rows->short_of_memory = rows->short_of_memory || !table_row(rows->table, TABLE_PLAIN);
    (void)table_cell(rows->table, "%s", machine);
    hours_cell(rows->table, line->meter_hundredths);
    time_cell(rows->table, line->at_s);
    (void)table_cell(rows->table, "%s", line->person);
    time_cell(rows->table, line->struck_s);
    hours_cell(rows->table, line->true_hundredths);
    (void)table_cell(rows->table, "%s", line->remark);
    (void)table_cell(rows->table, "%s", line->struck_by);
    (void)table_cell(rows->table, "%s", line->struck_why);
}

static void take_service(void *ctx, const char *machine, const struct record_line *line)
{
    struct export_rows *rows = ctx;
    char quantity[QUANTITY_TEXT_OCTETS] = "";
    if (strcmp(line->kind, "service") != 0) {
        return;
    }
    rows->short_of_memory = rows->short_of_memory || !table_row(rows->table, TABLE_PLAIN);
    (void)table_cell(rows->table, "%s", machine);
    (void)table_cell(rows->table, "%s", line->plan);
    hours_cell(rows->table, line->meter_hundredths);
    time_cell(rows->table, line->at_s);
    (void)table_cell(rows->table, "%s", line->person);
    (void)table_cell(
        rows->table, "%s",
        line->quantity_thousandths > 0 ? quantity_write(line->quantity_thousandths, quantity) : "");
    (void)table_cell(rows->table, "%s", line->remark);
    (void)table_cell(rows->table, "%s", line->unit);
    hours_cell(rows->table, line->true_hundredths);
    time_cell(rows->table, line->struck_s);
    (void)table_cell(rows->table, "%s", line->struck_by);
    (void)table_cell(rows->table, "%s", line->struck_why);
}

static void take_swap(void *ctx, const char *machine, const struct record_line *line)
{
    struct export_rows *rows = ctx;
    if (strcmp(line->kind, "meter") != 0) {
        return;
    }
    rows->short_of_memory = rows->short_of_memory || !table_row(rows->table, TABLE_PLAIN);
    (void)table_cell(rows->table, "%s", machine);
    hours_cell(rows->table, line->meter_hundredths);
    hours_cell(rows->table, line->new_hundredths);
    time_cell(rows->table, line->at_s);
    (void)table_cell(rows->table, "%s", line->person);
    time_cell(rows->table, line->struck_s);
    (void)table_cell(rows->table, "%s", line->struck_by);
    (void)table_cell(rows->table, "%s", line->struck_why);
}

static void take_parking(void *ctx, const char *machine, const struct record_line *line)
{
    struct export_rows *rows = ctx;
    if (strcmp(line->kind, "parked") != 0 && strcmp(line->kind, "back") != 0) {
        return;
    }
    rows->short_of_memory = rows->short_of_memory || !table_row(rows->table, TABLE_PLAIN);
    (void)table_cell(rows->table, "%s", machine);
    (void)table_cell(rows->table, "%s", line->kind);
    time_cell(rows->table, line->at_s);
    (void)table_cell(rows->table, "%s", line->person);
    time_cell(rows->table, line->struck_s);
}

static void take_text(void *ctx, const struct texts_line *line)
{
    struct export_rows *rows = ctx;
    rows->short_of_memory = rows->short_of_memory || !table_row(rows->table, TABLE_PLAIN);
    (void)table_cell(rows->table, "%s", line->incoming ? "in" : "out");
    (void)table_cell(rows->table, "%s", line->person);
    (void)table_cell(rows->table, "%s", line->phone);
    time_cell(rows->table, line->at_s);
    (void)table_cell(rows->table, "%s", line->body);
    (void)table_cell(rows->table, "%s", line->state);
}

static enum ledger_result load_readings(struct ledger *ledger, struct export_rows *rows)
{
    return record_each(ledger, 0, take_reading, rows);
}

static enum ledger_result load_services(struct ledger *ledger, struct export_rows *rows)
{
    return record_each(ledger, 0, take_service, rows);
}

static enum ledger_result load_swaps(struct ledger *ledger, struct export_rows *rows)
{
    return record_each(ledger, 0, take_swap, rows);
}

static enum ledger_result load_parkings(struct ledger *ledger, struct export_rows *rows)
{
    return record_each(ledger, 0, take_parking, rows);
}

static enum ledger_result load_texts(struct ledger *ledger, struct export_rows *rows)
{
    return texts_each(ledger, 0, INT64_MAX, take_text, rows);
}

static const struct export_kind {
    const char *name;
    const struct table_column *columns;
    size_t column_count;
    enum ledger_result (*load)(struct ledger *ledger, struct export_rows *rows);
} kinds[] = {
    {"readings", reading_columns, sizeof reading_columns / sizeof reading_columns[0],
     load_readings},
    {"services", service_columns, sizeof service_columns / sizeof service_columns[0],
     load_services},
    {"swaps", swap_columns, sizeof swap_columns / sizeof swap_columns[0], load_swaps},
    {"parkings", parking_columns, sizeof parking_columns / sizeof parking_columns[0],
     load_parkings},
    {"texts", text_columns, sizeof text_columns / sizeof text_columns[0], load_texts},
};

static const struct export_kind *kind_of(const struct options *options, FILE *err)
{
    struct nearest nearest;
    nearest_begin(&nearest, options->word_count == 1 ? options->words[0] : "");
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcmp(nearest.word, kinds[i].name) == 0) {
            return &kinds[i];
        }
        nearest_offer(&nearest, kinds[i].name);
    }
    if (nearest.name != NULL) {
        (void)fprintf(err, "meterpost: no %s to export; did you mean %s?\n", nearest.word,
                      nearest.name);
    } else {
        (void)fprintf(err, "meterpost: say what: meterpost export readings; also services, swaps, "
                           "parkings, texts\n");
    }
    return NULL;
}

static bool print_json(const struct export_kind *kind, const struct table *table, FILE *out)
{
    struct json_object *whole = json_object_new_object();
    json_add_text(whole, "kind", kind->name);
    (void)json_object_object_add(whole, "rows", table_json(table));
    return json_write(whole, out);
}

static int export_kind(struct counter *counter, const struct export_kind *kind, bool json,
                       FILE *out, FILE *err)
{
    struct export_rows rows = {.table = table_new(kind->columns, kind->column_count)};
    enum ledger_result result = rows.table != NULL ? kind->load(counter->ledger, &rows) : LEDGER_OK;
    int status = EX_OK;
    if (result != LEDGER_OK) {
        (void)fprintf(err, "meterpost: %s\n", ledger_says(counter->ledger));
        status = ledger_exit_status(result);
    } else if (rows.table == NULL || rows.short_of_memory) {
        (void)fprintf(err, "meterpost: memory is short; nothing was written\n");
        status = EX_OSERR;
    } else if (json) {
        status = print_json(kind, rows.table, out) ? EX_OK : EX_IOERR;
    } else {
        table_print_csv(rows.table, out);
    }
    table_free(rows.table);
    return status;
}

int export_verb(const struct options *options, FILE *out, FILE *err)
{
    struct counter counter;
    const struct export_kind *kind = kind_of(options, err);
    if (kind == NULL) {
        return EX_USAGE;
    }
    int status = counter_begin(&counter, options, err);
    if (status == EX_OK) {
        status = counter_open_ledger(&counter, LEDGER_READ, err);
    }
    if (status == EX_OK) {
        status = export_kind(&counter, kind, options->json, out, err);
    }
    counter_end(&counter);
    return status;
}

int backup_verb(const struct options *options, FILE *out, FILE *err)
{
    struct counter counter;
    if (options->word_count != 1) {
        (void)fprintf(err, "meterpost: say where to, such as: meterpost backup "
                           "/media/stick/meterpost.db\n");
        return EX_USAGE;
    }
    int status = counter_begin(&counter, options, err);
    if (status == EX_OK) {
        status = counter_open_ledger(&counter, LEDGER_READ, err);
    }
    if (status == EX_OK) {
        enum ledger_result result = ledger_backup(counter.ledger, options->words[0]);
        if (result == LEDGER_OK) {
            (void)fprintf(out, "%s is a checked copy of %s\n", options->words[0],
                          counter.settings->ledger);
        } else {
            (void)fprintf(err, "meterpost: %s\n", ledger_says(counter.ledger));
            status = ledger_exit_status(result);
        }
    }
    counter_end(&counter);
    return status;
}
