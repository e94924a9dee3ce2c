/* SPDX-License-Identifier: MIT
 * import: see import.h.
 *
 * A row that the ledger has already is passed over, so that a file can be imported again. A reading
 * must lie between its neighbours in time; the clock is not asked, since what a crew would be asked
 * about is long past. */
#include "daemon/counter/import.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/import_rows.h"
#include "daemon/counter/opening.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/services.h"
#include "parsers/hours.h"

#define FILE_OCTETS_MAX ((size_t)64 * 1024 * 1024)
#define SAME_MOMENT_MAX 16 /* readings of one moment that are looked at */

struct importing {
    struct opening *opening;
    struct import_rows rows;
    size_t added, already;
    enum ledger_result result; /* the first that was not OK */
};

/* The whole file with room for a NUL; NULL after saying why. The caller frees it. */
static char *read_file(const char *path, size_t *length, FILE *err)
{
    FILE *file = fopen(path, "rb");
    char *text = file != NULL ? malloc(FILE_OCTETS_MAX + 1) : NULL;
    if (file == NULL || text == NULL) {
        (void)fprintf(err, "meterpost: %s cannot be opened: %s\n", path, strerror(errno));
    } else {
        *length = fread(text, 1, FILE_OCTETS_MAX + 1, file);
        if (ferror(file) != 0 || *length > FILE_OCTETS_MAX) {
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

static bool ok(struct importing *importing, enum ledger_result result)
{
    if (importing->result == LEDGER_OK && result != LEDGER_NONE) {
        importing->result = result;
    }
    return result == LEDGER_OK;
}

/* The ledger's numbers for the row's machine and person. */
static bool find_names(struct importing *importing, const struct import_row *row,
                       int64_t *machine_id, int64_t *person_id)
{
    const struct settings *settings = importing->rows.settings;
    struct ledger *ledger = importing->opening->ledger;
    *person_id = 0;
    return ok(importing, machines_id(ledger, settings->machines[row->machine].name, machine_id)) &&
           (row->person < 0 ||
            ok(importing, people_id(ledger, settings->people[row->person].name, person_id)));
}

static void out_of_line(struct importing *importing, const struct import_row *row,
                        const char *which, int64_t meter_hundredths)
{
    char figure[HOURS_TEXT_OCTETS], neighbour[HOURS_TEXT_OCTETS];
    (void)hours_write(row->hundredths, figure, sizeof figure);
    (void)hours_write(meter_hundredths, neighbour, sizeof neighbour);
    import_rows_mistake(&importing->rows, row->line,
                        "%s %sh does not fit: the reading %s it in time is %sh (a slip, or another "
                        "meter: then leave out what the old one showed)",
                        importing->rows.settings->machines[row->machine].name, figure, which,
                        neighbour);
}

/* True where it may be added: not there already, and between its neighbours. */
static bool judge_reading(struct importing *importing, const struct import_row *row,
                          int64_t machine_id)
{
    struct ledger *ledger = importing->opening->ledger;
    struct reading_row before[SAME_MOMENT_MAX], after;
    size_t count = 0;
    int64_t offset = 0;
    if (!ok(importing,
            readings_latest(ledger, machine_id, row->at_s, SAME_MOMENT_MAX, before, &count)) ||
        !ok(importing, readings_offset(ledger, machine_id, row->at_s, &offset))) {
        return false;
    }
    for (size_t i = 0; i < count && before[i].read_s == row->at_s; i++) {
        if (before[i].meter_hundredths == row->hundredths) {
            importing->already++;
            return false;
        }
    }
    if (count > 0 && before[0].true_hundredths > row->hundredths + offset) {
        out_of_line(importing, row, "before", before[0].meter_hundredths);
        return false;
    }
    if (ok(importing, readings_next_after(ledger, machine_id, row->at_s, &after)) &&
        after.true_hundredths < row->hundredths + offset) {
        out_of_line(importing, row, "after", after.meter_hundredths);
        return false;
    }
    return importing->result == LEDGER_OK;
}

static void add_reading(struct importing *importing, const struct import_row *row)
{
    struct reading_row reading = {.meter_hundredths = row->hundredths,
                                  .read_s = row->at_s,
                                  .noted_s = importing->opening->now_s};
    if (!find_names(importing, row, &reading.machine_id, &reading.person_id) ||
        !judge_reading(importing, row, reading.machine_id)) {
        return;
    }
    (void)snprintf(reading.remark, sizeof reading.remark, "%s", row->remark);
    importing->added += ok(importing, readings_add(importing->opening->ledger, &reading));
}

/* Whether a machine's record has this service already. */
struct likeness {
    const struct service_row *service;
    bool found;
};
static void compare_service(void *ctx, const struct service_row *row)
{
    struct likeness *likeness = ctx;
    likeness->found =
        likeness->found || (!row->struck && strcmp(row->plan, likeness->service->plan) == 0 &&
                            row->done_s == likeness->service->done_s &&
                            row->meter_hundredths == likeness->service->meter_hundredths);
}

static void add_service(struct importing *importing, const struct import_row *row)
{
    struct ledger *ledger = importing->opening->ledger;
    struct service_row service = {.meter_hundredths = row->hundredths,
                                  .done_s = row->at_s,
                                  .noted_s = importing->opening->now_s,
                                  .quantity_thousandths = row->quantity_thousandths};
    struct likeness likeness = {.service = &service};
    (void)snprintf(service.plan, sizeof service.plan, "%s",
                   importing->rows.settings->plans[row->plan].name);
    (void)snprintf(service.unit, sizeof service.unit, "%s", row->unit);
    (void)snprintf(service.remark, sizeof service.remark, "%s", row->remark);
    if (!find_names(importing, row, &service.machine_id, &service.person_id) ||
        !ok(importing, services_each(ledger, service.machine_id, compare_service, &likeness))) {
        return;
    }
    importing->already += likeness.found;
    importing->added += !likeness.found && ok(importing, services_add(ledger, &service));
}

static void report(const struct importing *importing, bool applied, FILE *out)
{
    const struct import_rows *rows = &importing->rows;
    (void)fprintf(out, "%s: %zu %s %s, %zu on record already, %zu struck out and left out.\n",
                  rows->file, importing->added,
                  rows->kind == IMPORT_READINGS ? "readings" : "services",
                  applied ? "added" : "to add", importing->already, rows->struck);
    if (!applied) {
        (void)fprintf(out, "Nothing was changed. To do it, type the same with --apply.\n");
    }
}

/* All rows in one transaction, which is taken back unless all went well and --apply was said. */
static int transact(struct importing *importing, bool apply, FILE *out, FILE *err)
{
    struct ledger *ledger = importing->opening->ledger;
    const struct import_rows *rows = &importing->rows;
    (void)ok(importing, ledger_begin(ledger));
    for (size_t i = 0; i < rows->count && importing->result == LEDGER_OK; i++) {
        (rows->kind == IMPORT_READINGS ? add_reading : add_service)(importing, &rows->rows[i]);
    }
    if (importing->result == LEDGER_OK && rows->mistakes == 0 && apply) {
        (void)ok(importing, ledger_commit(ledger));
    } else {
        ledger_rollback(ledger);
    }
    if (importing->result != LEDGER_OK) {
        (void)fprintf(err, "meterpost: %s; nothing was imported\n", ledger_says(ledger));
        return ledger_exit_status(importing->result);
    }
    if (rows->mistakes == 0) {
        report(importing, apply, out);
    }
    return rows->mistakes == 0 ? EX_OK : EX_DATAERR;
}

static int import_file(struct opening *opening, const struct options *options,
                       enum import_kind kind, FILE *out, FILE *err)
{
    struct importing importing = {.opening = opening,
                                  .rows = {.file = options->words[1],
                                           .settings = opening->settings,
                                           .kind = kind,
                                           .now_s = opening->now_s,
                                           .err = err}};
    struct csv csv;
    size_t length = 0;
    char *text = read_file(options->words[1], &length, err);
    if (text == NULL) {
        return EX_NOINPUT;
    }
    int status = EX_DATAERR;
    csv_begin(&csv, text, length);
    if (import_rows_read(&importing.rows, &csv)) {
        status = opening_ledger(opening, LEDGER_WRITE, err);
    }
    if (status == EX_OK) {
        status = transact(&importing, options->apply, out, err);
    }
    if (importing.rows.mistakes > 0) {
        (void)fprintf(err, "meterpost: %zu mistakes in %s; nothing was imported\n",
                      importing.rows.mistakes, importing.rows.file);
    }
    import_rows_free(&importing.rows);
    free(text);
    return status;
}

int import_verb(const struct options *options, FILE *out, FILE *err)
{
    struct opening opening;
    bool two = options->word_count == 2;
    bool readings = two && strcmp(options->words[0], "readings") == 0;
    bool services = two && strcmp(options->words[0], "services") == 0;
    if (!readings && !services) {
        (void)fprintf(err, "meterpost: say what and from where: meterpost import readings FILE, or "
                           "services FILE\n");
        return EX_USAGE;
    }
    int status = opening_begin(&opening, options, err);
    if (status == EX_OK) {
        status =
            import_file(&opening, options, readings ? IMPORT_READINGS : IMPORT_SERVICES, out, err);
    }
    opening_end(&opening);
    return status;
}
