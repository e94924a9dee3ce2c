/* SPDX-License-Identifier: MIT
 * import_record: see import.h. What `export record` has written, read by the same columns and put back line
 * by line. A machine that has a record here already is not mixed with another one: it is the same, to
 * the row, or that is a mistake. */
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sysexits.h>

#include "daemon/counter/chronicle.h"
#include "daemon/counter/import.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/upkeep/kit.h"

struct record_row {
    size_t line; /* of the file */
    int turn;    /* of its kind */
    struct chronicle_row row;
};

struct reader {
    const struct settings *settings;
    struct import_mistakes *mistakes;
    int64_t now_s;
    int cells[CHRONICLE_COLUMNS_MAX]; /* of each column, -1 none */
    struct record_row *rows;
    size_t count, room;
};

static bool is_read(const struct column *column)
{
    return column->import_as == IMPORT_COLUMN_AS_IS;
}

static void find_columns(struct reader *reader, const struct csv *csv)
{
    for (size_t i = 0; i < chronicle_columns.count; i++) {
        const struct column *column = &chronicle_columns.list[i];
        reader->cells[i] = -1;
        for (size_t j = 0; j < csv->cell_count && is_read(column); j++) {
            if (strcasecmp(csv->cells[j], column->name) == 0) {
                reader->cells[i] = (int)j;
            }
        }
        if (column->needed && reader->cells[i] < 0) {
            import_mistakes_add(reader->mistakes, 1,
                                "no column is called %s; a record is what meterpost export record "
                                "writes",
                                column->name);
        }
    }
}

/* What a cell says, to where its column lies in the row; an empty one says nothing, which is -1 where
 * 0 would be a figure. */
static bool read_cell(const struct column *column, const char *cell, void *row)
{
    void *at = (char *)row + column->at;
    int64_t nothing = column->when == COLUMN_FROM_0 ? -1 : 0;
    bool empty = cell[0] == '\0';
    struct hours_figure figure;
    char *end = NULL;
    switch (column->kind) {
    case COLUMN_TEXT:
        *(const char **)at = cell;
        return true;
    case COLUMN_HOURS:
        *(int64_t *)at = nothing;
        if (!empty && (hours_read(cell, strlen(cell), &figure) != HOURS_OK || figure.clock)) {
            return false;
        }
        *(int64_t *)at = empty ? nothing : figure.hundredths;
        return true;
    case COLUMN_QUANTITY:
        *(int64_t *)at = nothing;
        return empty || quantity_read(cell, at);
    case COLUMN_TIME:
        *(int64_t *)at = nothing;
        return empty || zone_read_rfc3339(cell, at);
    case COLUMN_DAY:
        *(int32_t *)at = (int32_t)nothing;
        return empty || civil_read(cell, strlen(cell), at);
    case COLUMN_WHOLE:
        *(int64_t *)at = empty ? nothing : strtoll(cell, &end, 10);
        return empty || (*end == '\0' && *(int64_t *)at >= 0);
    default: /* said or not */
        *(bool *)at = !empty;
        return empty || strcmp(cell, column->words[1]) == 0;
    }
}

/* What a line of its kind must have. */
enum line_needs {
    NEEDS_METER = 1,
    NEEDS_NEW = 2,
    NEEDS_PLAN = 4,
    NEEDS_STAGE = 8,
    NEEDS_DAY = 16,
    NEEDS_UNTIL = 32
};

static const char *missing(const struct record_line *line)
{
    static const struct {
        const char *kind;
        unsigned needs;
    } kinds[] = {
        {"reading", NEEDS_METER},
        {"service", NEEDS_METER | NEEDS_PLAN},
        {"meter", NEEDS_METER | NEEDS_NEW},
        {"alert", NEEDS_STAGE},
        {"booked", NEEDS_DAY},
        {"later", NEEDS_UNTIL},
    };
    unsigned needs = 0;
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        needs |= strcmp(line->kind, kinds[i].kind) == 0 ? kinds[i].needs : 0;
    }
    const struct {
        unsigned need;
        bool missing;
        const char *says;
    } rules[] = {
        {NEEDS_METER, line->meter_hundredths < 0, "the hours are missing"},
        {NEEDS_NEW, line->new_hundredths < 0, "the new meter's hours are missing"},
        {NEEDS_PLAN, line->plan[0] == '\0', "the plan is missing"},
        {NEEDS_STAGE, line->stage[0] == '\0' || line->cycle < 0, "stage or cycle is missing"},
        {NEEDS_DAY, line->day == 0, "the day is missing"},
        {NEEDS_UNTIL, line->until_s == 0, "until when is missing"},
    };
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        if ((needs & rules[i].need) != 0 && rules[i].missing) {
            return rules[i].says;
        }
    }
    return NULL;
}

/* What the ledger would not take; NULL where nothing is wrong. */
static const char *wrong_with(const struct reader *reader, const struct chronicle_row *row,
                              int turn)
{
    const struct record_line *line = &row->line;
    const char *why = line->struck_why;
    enum kit_unit unit = KIT_UNIT_QUART;
    bool void_alert = strcmp(line->kind, "alert") == 0 && line->struck_s != 0;
    const struct {
        bool wrong;
        const char *says;
    } rules[] = {
        {row->machine[0] == '\0' || strlen(row->machine) >= PEOPLE_NAME_OCTETS,
         "no machine can be called so"},
        {turn < 0, "a record has no such line"},
        {line->at_s > reader->now_s, "that is still to come"},
        {strlen(line->person) >= PEOPLE_NAME_OCTETS ||
             strlen(line->struck_by) >= PEOPLE_NAME_OCTETS,
         "no person can be called so"},
        {strlen(line->remark) >= READINGS_REMARK_OCTETS, "the remark is too long"},
        {line->unit[0] != '\0' && (!kit_unit_find(line->unit, &unit) || !kit_unit_row(unit)->fluid),
         "the unit is neither qt nor l"},
        {void_alert && strcmp(why, "hand") != 0 && strcmp(why, "reading") != 0 &&
             strcmp(why, "service") != 0,
         "an alert is void by hand, reading or service"},
    };
    for (size_t i = 0; i < sizeof rules / sizeof rules[0]; i++) {
        if (rules[i].wrong) {
            return rules[i].says;
        }
    }
    return missing(line);
}

/* False when memory is short. */
static bool keep(struct reader *reader, const struct record_row *row)
{
    if (reader->count == reader->room) {
        size_t room = reader->room == 0 ? 256 : reader->room * 2;
        struct record_row *grown = realloc(reader->rows, room * sizeof *grown);
        if (grown == NULL) {
            return false;
        }
        reader->rows = grown;
        reader->room = room;
    }
    reader->rows[reader->count++] = *row;
    return true;
}

static bool read_row(struct reader *reader, const struct csv *csv)
{
    struct record_row read = {.line = csv->line};
    struct import_shown shown;
    size_t mistakes = reader->mistakes->count;
    for (size_t i = 0; i < chronicle_columns.count; i++) {
        const struct column *column = &chronicle_columns.list[i];
        int at = reader->cells[i];
        const char *cell =
            at >= 0 && (size_t)at < csv->cell_count ? csv_unguarded(csv->cells[at]) : "";
        if (is_read(column) && !read_cell(column, cell, &read.row)) {
            import_mistakes_add(reader->mistakes, csv->line, "%s: \"%s\" is none", column->name,
                                import_show(cell, &shown));
        }
    }
    read.turn = record_turn(read.row.line.kind);
    const char *wrong = wrong_with(reader, &read.row, read.turn);
    if (wrong != NULL && mistakes == reader->mistakes->count) {
        import_mistakes_add(reader->mistakes, csv->line, "%s", wrong);
    }
    return keep(reader, &read);
}

/* As record_each gives them, whatever a spreadsheet has sorted them by. */
static int in_order(const void *one, const void *other)
{
    const struct record_row *left = one, *right = other;
    int by_machine = strcasecmp(left->row.machine, right->row.machine);
    return by_machine != 0 ? by_machine
           : left->row.line.at_s != right->row.line.at_s
               ? (left->row.line.at_s < right->row.line.at_s ? -1 : 1)
           : left->turn != right->turn ? left->turn - right->turn
                                       : (left->line < right->line ? -1 : 1);
}

static bool read_rows(struct reader *reader, struct csv *csv)
{
    enum csv_result result = csv_next(csv);
    bool whole = true;
    if (result == CSV_END) {
        import_mistakes_add(reader->mistakes, 1,
                            "the file is empty; its first line names the columns");
    } else if (result == CSV_ROW) {
        find_columns(reader, csv);
    }
    while (whole && reader->mistakes->count == 0 && result == CSV_ROW) {
        result = csv_next(csv);
        whole = result != CSV_ROW || read_row(reader, csv);
    }
    while (whole && result == CSV_ROW && (result = csv_next(csv)) == CSV_ROW) { /* every mistake */
        whole = read_row(reader, csv);
    }
    if (result != CSV_ROW && result != CSV_END) {
        import_mistakes_add(reader->mistakes, csv->line, "%s", csv_says(result));
    }
    if (reader->count > 0) {
        qsort(reader->rows, reader->count, sizeof reader->rows[0], in_order);
    }
    return whole;
}

/* A machine's lines in the file against those on record. */
struct comparing {
    const struct record_row *rows;
    size_t count, met;
    bool same;
};

static void compare(void *ctx, const char *machine, const struct record_line *line)
{
    struct comparing *comparing = ctx;
    struct chronicle_row kept = {machine, *line};
    bool both = comparing->met < comparing->count;
    comparing->same = comparing->same && both &&
                      columns_same(&chronicle_of_one, &kept, &comparing->rows[comparing->met].row);
    comparing->met++;
}

/* Those of one machine: put back where it has no record here, passed over where it has this one. */
static enum ledger_result restore(const struct reader *reader, struct ledger *ledger, bool apply,
                                  const struct record_row *rows, size_t count, size_t *added,
                                  size_t *already)
{
    const char *machine = rows[0].row.machine;
    struct comparing comparing = {.rows = rows, .count = count, .same = true};
    int64_t machine_id = 0;
    enum ledger_result result =
        ledger != NULL ? machines_id(ledger, machine, &machine_id) : LEDGER_NONE;
    if (result == LEDGER_OK) {
        result = record_each(ledger, machine_id, compare, &comparing);
    }
    result = result == LEDGER_NONE ? LEDGER_OK : result;
    if (comparing.met > 0 && !(comparing.same && comparing.met == count)) {
        import_mistakes_add(reader->mistakes, rows[0].line,
                            "%s has another record here: a whole record goes to a machine that has "
                            "none; import readings, services, swaps and parkings add to one",
                            machine);
        return result;
    }
    *already += comparing.met;
    *added += comparing.met == 0 ? count : 0;
    for (size_t i = 0; i < count && apply && comparing.met == 0 && result == LEDGER_OK; i++) {
        result = record_restore(ledger, machine, &rows[i].row.line);
    }
    return result;
}

static enum ledger_result restore_all(const struct reader *reader, struct ledger *ledger,
                                      bool apply, size_t *added, size_t *already, FILE *notes)
{
    enum ledger_result result = LEDGER_OK;
    size_t count = 0;
    for (size_t from = 0; from < reader->count && result == LEDGER_OK; from += count) {
        const char *machine = reader->rows[from].row.machine;
        count = 1;
        while (from + count < reader->count &&
               strcasecmp(machine, reader->rows[from + count].row.machine) == 0) {
            count++;
        }
        if (notes != NULL && settings_find_machine(reader->settings, machine) < 0) {
            (void)fprintf(notes, "%s is not in the config: its record is kept under that name.\n",
                          machine);
        }
        result = restore(reader, ledger, apply, &reader->rows[from], count, added, already);
    }
    return result;
}

int import_record(const struct settings *settings, struct ledger *ledger, struct csv *csv,
                  bool apply, int64_t now_s, struct import_mistakes *mistakes, size_t *added,
                  size_t *already, FILE *notes)
{
    struct reader reader = {.settings = settings, .mistakes = mistakes, .now_s = now_s};
    bool read = read_rows(&reader, csv);
    enum ledger_result result = LEDGER_OK;
    *added = *already = 0;
    if (read && mistakes->count == 0) {
        result = ledger == NULL ? LEDGER_OK : apply ? ledger_begin(ledger) : ledger_look(ledger);
        if (result == LEDGER_OK) {
            result = restore_all(&reader, ledger, apply, added, already, notes);
        }
        if (result == LEDGER_OK && apply && mistakes->count == 0) {
            result = ledger_commit(ledger);
        } else if (ledger != NULL) {
            ledger_rollback(ledger);
        }
    }
    free(reader.rows);
    if (!read) {
        (void)fprintf(mistakes->err, "meterpost: memory is short\n");
        return EX_OSERR;
    }
    if (result != LEDGER_OK) {
        (void)fprintf(mistakes->err, "meterpost: %s; nothing was imported\n", ledger_says(ledger));
        return ledger_exit_status(result);
    }
    return mistakes->count == 0 ? EX_OK : EX_DATAERR;
}
