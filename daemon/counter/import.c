/* SPDX-License-Identifier: MIT
 * import: readings, services, changes of meter and spells laid up from a CSV file, such as
 * `meterpost export` writes or a spreadsheet. A trial only reads. With --apply all of it goes in or
 * nothing, in one transaction: the running daemon's, or our own where none runs. Read, judge, add:
 * only the last one writes. */
#include "daemon/counter/import.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/services.h"

#define FILE_OCTETS_MAX ((size_t)64 * 1024 * 1024)

/* A row that is to be put on record, with the ledger's own numbers. */
struct addition {
    const struct import_rows *rows;
    const struct import_row *row;
    int64_t machine_id, person_id; /* 0: unsaid */
};

static enum ledger_result add_reading(struct ledger *ledger, const struct addition *of)
{
    struct reading_row reading = {.machine_id = of->machine_id,
                                  .meter_hundredths = of->row->hundredths,
                                  .read_s = of->row->at_s,
                                  .noted_s = of->rows->now_s,
                                  .person_id = of->person_id};
    (void)snprintf(reading.remark, sizeof reading.remark, "%s", of->row->remark);
    return readings_add(ledger, &reading);
}

static enum ledger_result add_service(struct ledger *ledger, const struct addition *of)
{
    struct service_row service = {.machine_id = of->machine_id,
                                  .meter_hundredths = of->row->hundredths,
                                  .done_s = of->row->at_s,
                                  .noted_s = of->rows->now_s,
                                  .person_id = of->person_id,
                                  .quantity_thousandths = of->row->quantity_thousandths};
    (void)snprintf(service.plan, sizeof service.plan, "%s",
                   of->rows->settings->plans[of->row->plan].name);
    (void)snprintf(service.unit, sizeof service.unit, "%s", of->row->unit);
    (void)snprintf(service.remark, sizeof service.remark, "%s", of->row->remark);
    return services_add(ledger, &service);
}

static enum ledger_result add_swap(struct ledger *ledger, const struct addition *of)
{
    struct meter_change change = {.machine_id = of->machine_id,
                                  .at_s = of->row->at_s,
                                  .old_last_hundredths = of->row->hundredths,
                                  .new_first_hundredths = of->row->new_hundredths,
                                  .person_id = of->person_id};
    return readings_change_meter(ledger, &change);
}

static enum ledger_result add_parking(struct ledger *ledger, const struct addition *of)
{
    return (of->row->back ? machines_back : machines_park)(ledger, of->machine_id, of->row->at_s,
                                                           of->person_id, 0);
}

static enum ledger_result (*const adders[])(struct ledger *ledger, const struct addition *of) = {
    [IMPORT_RECORD] = NULL, /* import_record */
    [IMPORT_READINGS] = add_reading, [IMPORT_SERVICES] = add_service,
    [IMPORT_SWAPS] = add_swap,       [IMPORT_PARKINGS] = add_parking,
};

static enum ledger_result add_row(struct ledger *ledger, const struct import_rows *rows,
                                  const struct import_row *row)
{
    const struct settings *settings = rows->settings;
    struct addition of = {.rows = rows, .row = row};
    enum ledger_result result =
        machines_id(ledger, settings->machines[row->machine].name, &of.machine_id);
    if (result == LEDGER_OK && row->person >= 0) {
        result = people_id(ledger, settings->people[row->person].name, &of.person_id);
    }
    return result == LEDGER_OK ? adders[rows->kind->what](ledger, &of) : result;
}

/* The whole file with room for a NUL; NULL after saying why. The caller frees it. */
static char *read_file(const char *path, size_t *length, FILE *err)
{
    FILE *file = fopen(path, "rb");
    char *text = file != NULL ? malloc(FILE_OCTETS_MAX + 1) : NULL;
    if (file == NULL || text == NULL) {
        (void)fprintf(err, "meterpost: %s cannot be opened: %s\n", path, strerror(errno));
    } else {
        *length = fread(text, 1, FILE_OCTETS_MAX, file);
        text[*length] = '\0';
        if (ferror(file) != 0 || fgetc(file) != EOF) {
            (void)fprintf(err, "meterpost: %s cannot be read, or is larger than 64 MiB\n", path);
            free(text);
            text = NULL;
        }
    }
    if (file != NULL) {
        (void)fclose(file);
    }
    return text;
}

void import_report(const struct import_rows *rows, size_t added, size_t already, bool applied,
                   FILE *out, FILE *err)
{
    const struct import_mistakes *mistakes = &rows->mistakes;
    if (mistakes->list != NULL) {
        struct json_object *whole = json_object_new_object();
        json_add_text(whole, "file", mistakes->file);
        json_add_text(whole, "kind", rows->kind->name);
        json_add(whole, "applied", json_object_new_boolean(applied));
        json_add(whole, "added", json_object_new_int64((int64_t)added));
        json_add(whole, "already", json_object_new_int64((int64_t)already));
        json_add(whole, "struck", json_object_new_int64((int64_t)rows->struck));
        json_add(whole, "mistake_count", json_object_new_int64((int64_t)mistakes->count));
        json_add(whole, "mistakes", json_object_get(mistakes->list));
        (void)json_write(whole, out);
    } else if (mistakes->count > 0) {
        (void)fprintf(err, "meterpost: %zu mistake%s in %s; nothing was imported\n",
                      mistakes->count, mistakes->count == 1 ? "" : "s", mistakes->file);
    } else {
        (void)fprintf(out, "%s: %zu %s %s, %zu on record already, %zu struck out and left out.\n",
                      mistakes->file, added,
                      rows->kind->what == IMPORT_RECORD ? "lines of a record" : rows->kind->name,
                      applied ? "added" : "to add", already, rows->struck);
        if (!applied && rows->kind->what != IMPORT_RECORD) {
            import_columns_print(rows, out);
            import_rows_print(rows, out);
        }
        if (!applied) {
            (void)fprintf(out, "Nothing was changed. To do it, type the same with --apply.\n");
        }
    }
}

/* To try: read-only, and none at all where there is no ledger yet. To apply: alone. */
static int open_ledger(struct counter *counter)
{
    bool apply = counter->options->apply;
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS];
    counter->ledger =
        ledger_open(counter->settings->ledger, apply ? LEDGER_WRITE : LEDGER_READ, &result, says);
    if (counter->ledger != NULL || (!apply && result == LEDGER_MISSING)) {
        return EX_OK;
    }
    (void)fprintf(counter->err, "meterpost: %s%s\n", says,
                  result == LEDGER_HELD && counter->options->now != NULL
                      ? " (with --now import takes the ledger alone; without it the daemon does it)"
                      : "");
    return ledger_exit_status(result);
}

enum ledger_result import_take(struct import_judge *judge, bool apply)
{
    const struct import_rows *rows = judge->rows;
    enum ledger_result result = import_judge_rows(judge);
    for (size_t i = 0; i < rows->count && result == LEDGER_OK && apply; i++) {
        if (rows->rows[i].accepted) {
            result = add_row(judge->ledger, rows, &rows->rows[i]);
        }
    }
    return result;
}

/* All rows in one transaction, or none. */
static enum ledger_result transact(struct ledger *ledger, struct import_judge *judge, bool apply)
{
    enum ledger_result result = ledger == NULL ? LEDGER_OK
                                : apply        ? ledger_begin(ledger)
                                               : ledger_look(ledger);
    if (result == LEDGER_OK) {
        result = import_take(judge, apply);
    }
    if (result == LEDGER_OK && apply && judge->rows->mistakes.count == 0) {
        return ledger_commit(ledger);
    }
    if (ledger != NULL) {
        ledger_rollback(ledger);
    }
    return result;
}

/* A whole record goes its own way: nothing in it is judged, it is there or it is not. */
static int put_back(struct counter *counter, struct import_rows *rows, struct csv *csv)
{
    bool apply = counter->options->apply;
    struct import_judge judge = {0};
    int status = open_ledger(counter);
    if (status == EX_OK) {
        status = import_record(counter->settings, counter->ledger, csv, apply, counter->now_s,
                               &rows->mistakes, &judge.added, &judge.already,
                               rows->mistakes.list == NULL ? counter->out : NULL);
        if (status == EX_OK || status == EX_DATAERR) {
            import_report(rows, judge.added, judge.already, apply && status == EX_OK, counter->out,
                          counter->err);
        }
    }
    return status;
}

static int judge_and_add(struct counter *counter, struct import_rows *rows)
{
    bool apply = counter->options->apply;
    struct import_judge judge;
    int status = open_ledger(counter);
    if (status != EX_OK) {
        return status;
    }
    if (!import_judge_begin(&judge, rows, counter->ledger)) {
        (void)fprintf(counter->err, "meterpost: memory is short\n");
        return EX_OSERR;
    }
    enum ledger_result result = transact(counter->ledger, &judge, apply);
    if (result != LEDGER_OK) {
        (void)fprintf(counter->err, "meterpost: %s; nothing was imported\n",
                      ledger_says(counter->ledger));
        status = ledger_exit_status(result);
    } else {
        import_report(rows, judge.added, judge.already, apply && rows->mistakes.count == 0,
                      counter->out, counter->err);
        status = rows->mistakes.count == 0 ? EX_OK : EX_DATAERR;
    }
    import_judge_end(&judge);
    return status;
}

/* The daemon's where one runs; with --now it is ours alone, since a daemon has its own clock. */
static int put_on_record(struct counter *counter, struct import_rows *rows, char *text,
                         size_t length)
{
    struct csv csv;
    bool record = rows->kind->what == IMPORT_RECORD;
    csv_begin(&csv, text, length);
    if (!record && !import_rows_read(rows, &csv)) {
        if (rows->mistakes.count == 0) {
            return EX_OSERR; /* memory is short, and was said to be */
        }
        import_report(rows, 0, 0, false, counter->out, counter->err);
        return EX_DATAERR;
    }
    int status = counter->options->apply && counter->options->now == NULL
                     ? import_hand_over(counter, rows, text, length)
                     : COUNTER_ALONE;
    return status != COUNTER_ALONE ? status
           : record                ? put_back(counter, rows, &csv)
                                   : judge_and_add(counter, rows);
}

/* What a file is by its first octets, where it is none of rows, whatever it is called; else NULL. */
static const char *other_kind(const char *text)
{
    static const struct {
        const char *begins, *says;
    } kinds[] = {
        {"PK\003\004", "a spreadsheet's own file"},       /* a zip archive */
        {"\xD0\xCF\x11\xE0", "a spreadsheet's own file"}, /* the older compound file */
        {"<html", "a page"},
        {"<!doctype", "a page"},
        {"<?xml", "an XML file"},
        {"{\\rtf", "a letter"},
        {"%PDF", "a page to print"},
        {"\x89PNG", "a picture"},
        {"\xFF\xD8\xFF", "a picture"},
    };
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strncasecmp(text, kinds[i].begins, strlen(kinds[i].begins)) == 0) {
            return kinds[i].says;
        }
    }
    return NULL;
}

int import_verb(struct counter *counter)
{
    const struct options *options = counter->options;
    struct nearest nearest = {0};
    const struct export_kind *kind =
        options->word_count == 2 ? export_kind_find(options->words[0], &nearest) : NULL;
    if (kind == NULL && nearest.name != NULL) {
        (void)fprintf(counter->err, "meterpost: no %s to import; did you mean %s?\n", nearest.word,
                      nearest.name);
        return EX_USAGE;
    }
    if (kind == NULL) {
        (void)fprintf(counter->err,
                      "meterpost: say what and from where: meterpost import readings FILE; "
                      "also services, swaps, parkings; or a whole record (texts are what phones "
                      "sent, and are not imported; people and machines come by meterpost setup "
                      "--roster FILE)\n");
        return EX_USAGE;
    }
    struct import_rows rows = {.settings = counter->settings,
                               .kind = kind,
                               .now_s = counter->now_s,
                               .named = options->columns,
                               .mistakes = {.file = options->words[1], .err = counter->err}};
    size_t length = 0;
    char *text = read_file(options->words[1], &length, counter->err);
    if (text == NULL) {
        return EX_NOINPUT;
    }
    const char *other = other_kind(text);
    if (other != NULL) {
        (void)fprintf(
            counter->err,
            "meterpost: %s is %s; in the program that made it choose Save as, CSV (UTF-8), "
            "and import that\n",
            options->words[1], other);
        free(text);
        return EX_DATAERR;
    }
    rows.mistakes.list = options->json ? json_object_new_array() : NULL;
    int status = put_on_record(counter, &rows, text, length);
    (void)json_object_put(rows.mistakes.list);
    import_rows_free(&rows);
    free(text);
    return status;
}
