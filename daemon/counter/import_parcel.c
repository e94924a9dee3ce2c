/* SPDX-License-Identifier: MIT
 * import_parcel: see import.h. Beside a running daemon the verb reads the file and the daemon writes the
 * ledger: what was understood goes from one to the other as CSV of our own form, in order of time, in
 * memory that nobody can change any more (memfd_create(2), sealed). It is cut into pieces, each with its
 * headings, so that the daemon never holds more than one; all of them are one transaction.
 *
 * A piece is its length (4 octets, most significant first) and its text. A change of meter and a spell
 * laid up are judged by those after them too: they make one piece, and so does a record. */
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sysexits.h>
#include <unistd.h>

#include "daemon/counter/answers.h"
#include "daemon/counter/import.h"
#include "daemon/ground/notify.h"
#include "daemon/ground/zone.h"
#include "daemon/upkeep/kit.h"

#define FORM "1" /* of parcels; another one says so */
#define PIECE_OCTETS ((size_t)64 * 1024)
#define PIECE_OCTETS_MAX ((size_t)1024 * 1024)
#define PARCEL_OCTETS_MAX ((off_t)16 * 1024 * 1024) /* how long it takes is bounded with it */
#define SEALS (F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE)
#define PIECE_HEAD 4

/* ---- the verb's side */

static void print_cell(const struct import_rows *rows, const struct import_row *row,
                       enum import_column column, FILE *out)
{
    const struct settings *settings = rows->settings;
    char figure[HOURS_TEXT_OCTETS], quantity[QUANTITY_TEXT_OCTETS], at[ZONE_TEXT_OCTETS];
    const char *cell = "";
    switch (column) {
    case IMPORT_COLUMN_MACHINE:
        cell = settings->machines[row->machine].name;
        break;
    case IMPORT_COLUMN_HOURS:
        cell = hours_or_blank(true, row->hundredths, figure);
        break;
    case IMPORT_COLUMN_NEW_HOURS:
        cell = hours_or_blank(true, row->new_hundredths, figure);
        break;
    case IMPORT_COLUMN_AT:
        zone_write_rfc3339(row->at_s, at, sizeof at);
        cell = at;
        break;
    case IMPORT_COLUMN_PERSON:
        cell = row->person >= 0 ? settings->people[row->person].name : "";
        break;
    case IMPORT_COLUMN_REMARK:
        cell = row->remark;
        break;
    case IMPORT_COLUMN_PLAN:
        cell = settings->plans[row->plan].name;
        break;
    case IMPORT_COLUMN_QUANTITY:
        cell = row->quantity_thousandths > 0 ? quantity_write(row->quantity_thousandths, quantity)
                                             : "";
        break;
    case IMPORT_COLUMN_UNIT:
        cell = row->unit;
        break;
    case IMPORT_COLUMN_PARKING:
        cell = row->back ? "back" : "parked";
        break;
    case IMPORT_COLUMN_PASSED_OVER:
    case IMPORT_COLUMN_CLOCK:
    case IMPORT_COLUMN_STRUCK: /* such a row is left out */
    case IMPORT_COLUMN_AS_IS:
    case IMPORT_COLUMN_COUNT:
        break;
    }
    csv_print_exactly(out, cell);
}

static void print_headings(const struct columns *columns, FILE *out)
{
    (void)fputs(IMPORT_PARCEL_LINE, out);
    for (size_t i = 0; i < columns->count; i++) {
        (void)fprintf(out, ",%s", columns->list[i].name);
    }
    (void)fputc('\n', out);
}

static void print_row(const struct import_rows *rows, const struct import_row *row, FILE *out)
{
    const struct columns *columns = &rows->kind->columns;
    (void)fprintf(out, "%zu", row->line);
    for (size_t i = 0; i < columns->count; i++) {
        (void)fputc(',', out);
        print_cell(rows, row, (enum import_column)columns->list[i].import_as, out);
    }
    (void)fputc('\n', out);
}

static void put_piece(FILE *parcel, const char *text, size_t length)
{
    unsigned char head[PIECE_HEAD];
    door_write_number(head, (uint32_t)length);
    (void)fwrite(head, 1, sizeof head, parcel);
    (void)fwrite(text, 1, length, parcel);
}

/* Puts the rows from *next on, as many as fit a piece; false when memory is short. */
static bool put_rows(const struct import_rows *rows, size_t *next, size_t most_octets, FILE *parcel)
{
    char *text = NULL;
    size_t length = 0;
    FILE *piece = open_memstream(&text, &length);
    if (piece == NULL) {
        return false;
    }
    print_headings(&rows->kind->columns, piece);
    while (*next < rows->count && ftello(piece) < (off_t)most_octets) {
        print_row(rows, &rows->rows[*next], piece);
        ++*next;
    }
    bool whole = fclose(piece) == 0;
    if (whole) {
        put_piece(parcel, text, length);
    }
    free(text);
    return whole;
}

static bool fill(FILE *parcel, const struct import_rows *rows, const char *text, size_t length)
{
    bool one_by_one = rows->kind->what == IMPORT_READINGS || rows->kind->what == IMPORT_SERVICES;
    bool filled = true;
    if (rows->kind->what == IMPORT_RECORD) {
        put_piece(parcel, text, length);
    }
    for (size_t next = 0; next < rows->count && filled;) {
        filled = put_rows(rows, &next, one_by_one ? PIECE_OCTETS : SIZE_MAX / 2, parcel);
    }
    return filled && fflush(parcel) == 0 && ferror(parcel) == 0;
}

/* Sealed, it is the same for the daemon as for us; NULL where memory is short. */
static FILE *pack(const struct import_rows *rows, const char *text, size_t length)
{
    int file = memfd_create("meterpost-import", MFD_CLOEXEC | MFD_ALLOW_SEALING);
    FILE *parcel = file >= 0 ? fdopen(file, "w") : NULL;
    if (parcel == NULL && file >= 0) {
        (void)close(file);
    }
    if (parcel != NULL &&
        (!fill(parcel, rows, text, length) || fcntl(file, F_ADD_SEALS, SEALS) != 0)) {
        (void)fclose(parcel);
        parcel = NULL;
    }
    return parcel;
}

/* Mistakes as JSON are what was asked for, and no message. */
static int pass_on(const struct counter *counter, const struct counter_answer *answer)
{
    bool asked_for =
        answer->status == EX_OK || (answer->status == EX_DATAERR && counter->options->json);
    (void)fwrite(answer->answer, 1, answer->length, asked_for ? counter->out : counter->err);
    return answer->status;
}

int import_hand_over(const struct counter *counter, const struct import_rows *rows,
                     const char *text, size_t length)
{
    static struct counter_answer answer;
    char struck[24];
    FILE *parcel = pack(rows, text, length);
    if (parcel == NULL) {
        (void)fprintf(counter->err, "meterpost: memory is short\n");
        return EX_OSERR;
    }
    (void)snprintf(struck, sizeof struck, "%zu", rows->struck);
    const char *words[] = {IMPORT_QUESTION,     FORM,
                           rows->kind->name,    counter->options->json ? "json" : "plain",
                           rows->mistakes.file, struck};
    struct door_question question = {sizeof words / sizeof words[0], words, fileno(parcel)};
    int status = counter_hand_to_daemon(
        counter, &question,
        "; look whether it was done by trying it again: what is on record is passed over", &answer);
    (void)fclose(parcel);
    return status == EX_OK ? pass_on(counter, &answer) : status;
}

/* ---- the daemon's side */

struct parcel {
    int file;
    off_t at, size;
    char *piece; /* NUL-terminated room */
    size_t length, room;
    const char *wrong; /* with it, with what to do; NULL nothing */
};

static const char not_whole[] = "the rows did not arrive whole; try again";
static const char memory_short[] = "memory is short";
static const char too_large[] =
    "that is more than the running daemon takes at once; split the file, "
    "or stop the daemon, import, start it again";

static bool read_whole(struct parcel *parcel, void *into, size_t length)
{
    for (size_t used = 0; used < length;) {
        ssize_t got = pread(parcel->file, (char *)into + used, length - used, parcel->at);
        if (got <= 0) {
            return false;
        }
        used += (size_t)got;
        parcel->at += got;
    }
    return true;
}

static bool make_room(struct parcel *parcel)
{
    char *grown =
        parcel->length < parcel->room ? parcel->piece : realloc(parcel->piece, parcel->length + 1);
    if (grown == NULL) {
        parcel->wrong = memory_short;
        return false;
    }
    parcel->room = parcel->length < parcel->room ? parcel->room : parcel->length + 1;
    parcel->piece = grown;
    return true;
}

/* False behind the last one, or once something is wrong. */
static bool next_piece(struct parcel *parcel)
{
    unsigned char head[PIECE_HEAD];
    if (parcel->at >= parcel->size) {
        return false;
    }
    if (!read_whole(parcel, head, sizeof head)) {
        parcel->wrong = not_whole;
        return false;
    }
    parcel->length = door_read_number(head);
    if (parcel->length > PIECE_OCTETS_MAX) {
        parcel->wrong = too_large;
        return false;
    }
    if (!make_room(parcel)) {
        return false;
    }
    parcel->wrong = read_whole(parcel, parcel->piece, parcel->length) ? NULL : not_whole;
    return parcel->wrong == NULL;
}

/* The rows of a piece, as if they were a file of their own. */
static enum ledger_result take_piece(struct parcel *parcel, struct import_rows *rows,
                                     struct ledger *ledger, size_t *added, size_t *already)
{
    struct import_judge judge;
    struct csv csv;
    rows->count = 0;
    csv_begin(&csv, parcel->piece, parcel->length);
    bool read = import_rows_read(rows, &csv);
    if (!read && rows->mistakes.count > 0) {
        return LEDGER_OK;
    }
    if (!read || !import_judge_begin(&judge, rows, ledger)) {
        parcel->wrong = memory_short;
        return LEDGER_OK;
    }
    enum ledger_result result = import_take(&judge, true);
    *added += judge.added;
    *already += judge.already;
    import_judge_end(&judge);
    return result;
}

static int take_rows(struct parcel *parcel, struct import_rows *rows, struct ledger *ledger,
                     FILE *out)
{
    size_t added = 0, already = 0;
    enum ledger_result result = ledger_begin(ledger);
    while (result == LEDGER_OK && parcel->wrong == NULL && next_piece(parcel)) {
        result = take_piece(parcel, rows, ledger, &added, &already);
        notify_send("WATCHDOG=1");
    }
    bool well = parcel->wrong == NULL && rows->mistakes.count == 0;
    if (result == LEDGER_OK && well) {
        result = ledger_commit(ledger);
    }
    if (result != LEDGER_OK || !well) {
        ledger_rollback(ledger);
    }
    if (parcel->wrong != NULL) {
        return EX_OSERR;
    }
    if (result != LEDGER_OK) {
        (void)fprintf(out, "meterpost: %s; nothing was imported\n", ledger_says(ledger));
        return ledger_exit_status(result);
    }
    import_report(rows, added, already, well, out, out);
    return well ? EX_OK : EX_DATAERR;
}

static int take_record(struct parcel *parcel, struct import_rows *rows, struct ledger *ledger,
                       FILE *out)
{
    struct csv csv;
    size_t added = 0, already = 0;
    if (!next_piece(parcel)) {
        return EX_OSERR;
    }
    csv_begin(&csv, parcel->piece, parcel->length);
    int status = import_record(rows->settings, ledger, &csv, true, rows->now_s, &rows->mistakes,
                               &added, &already, rows->mistakes.list == NULL ? out : NULL);
    if (status == EX_OK || status == EX_DATAERR) {
        import_report(rows, added, already, status == EX_OK, out, out);
    }
    return status;
}

/* Whether it is one of ours, which nobody can change under us, and not too large. */
static bool fits(struct parcel *parcel)
{
    struct stat facts;
    int seals = fcntl(parcel->file, F_GET_SEALS);
    bool sealed = seals >= 0 && (seals & SEALS) == SEALS && fstat(parcel->file, &facts) == 0;
    parcel->size = sealed ? facts.st_size : 0;
    parcel->wrong = !sealed ? not_whole : parcel->size > PARCEL_OCTETS_MAX ? too_large : NULL;
    return parcel->wrong == NULL;
}

int import_at_ledger(struct ledger *ledger, const struct settings *settings,
                     const struct door_question *question, int64_t now_s, FILE *out)
{
    const char *const *words = question->words;
    struct nearest nearest;
    struct parcel parcel = {.file = question->file};
    const struct export_kind *kind =
        question->word_count == 6 ? export_kind_find(words[2], &nearest) : NULL;
    if (kind == NULL || strcmp(words[1], FORM) != 0) {
        (void)fprintf(out, "meterpost: this daemon is of another version than the verb; restart it "
                           "(systemctl restart meterpost)\n");
        return EX_USAGE;
    }
    struct import_rows rows = {
        .settings = settings,
        .kind = kind,
        .now_s = now_s,
        .parcelled = true,
        .struck = strtoul(words[5], NULL, 10),
        .mistakes = {.file = words[4],
                     .err = out,
                     .list = strcmp(words[3], "json") == 0 ? json_object_new_array() : NULL,
                     .unknown_ends = " in the settings that the daemon has in force; reload it "
                                     "(systemctl reload meterpost)"}};
    int status = EX_OSERR;
    if (fits(&parcel)) {
        status =
            (kind->what == IMPORT_RECORD ? take_record : take_rows)(&parcel, &rows, ledger, out);
    }
    if (parcel.wrong != NULL) {
        (void)fprintf(out, "meterpost: %s; nothing was imported\n", parcel.wrong);
    }
    (void)json_object_put(rows.mistakes.list);
    import_rows_free(&rows);
    free(parcel.piece);
    return status;
}
