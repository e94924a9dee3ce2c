/* SPDX-License-Identifier: MIT
 * record: what each text did, one row a deed; how each kind of deed is taken back; and the tables side
 * by side, as one statement puts them.
 *
 * Nothing is erased: what was added is struck out, what was struck out stands again. The last deed is
 * taken back first; strikes are lifted at the end, when the alerts that what was added had raised in
 * their place are void; but not the strike of what the text itself had added, as a question that it
 * asked itself stays closed. */
#include "daemon/ledger/record.h"

#include <string.h>

#include "daemon/ledger/readings.h"
#include "daemon/ledger/services.h"
#include "daemon/ledger/store.h"

enum ledger_result effects_note(struct ledger *ledger, int64_t text_id, const char *what,
                                int64_t row_id)
{
    if (text_id == 0) {
        return LEDGER_OK; /* no text, no UNDO */
    }
    return store_run(ledger, STATEMENT_EFFECT_ADD,
                     STORE_VALUES(store_integer(text_id), store_text(what), store_integer(row_id)));
}

enum ledger_result effects_last(struct ledger *ledger, int64_t person_id, int64_t since_s,
                                int64_t *text_id)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_EFFECT_LAST_TEXT, &row,
                    STORE_VALUES(store_integer(person_id), store_integer(since_s)));
    *text_id = 0;
    if (result != LEDGER_OK) {
        return result;
    }
    bool undone = store_column(row, 1) != 0;
    *text_id = undone ? 0 : store_column(row, 0);
    store_done(row);
    return undone ? LEDGER_NONE : LEDGER_OK;
}

/* How a row that is never erased is struck out, and with it the alerts that it caused. */
static const struct {
    enum statement strike, unstrike;
    enum statement alerts_void, alerts_stand, alerts_told;
    const char *add_noted, *strike_noted; /* what a text did, in effects */
} kinds[] = {
    [RECORD_READING] = {STATEMENT_READING_STRIKE, STATEMENT_READING_UNSTRIKE,
                        STATEMENT_ALERTS_VOID_BY_READING, STATEMENT_ALERTS_STAND_BY_READING,
                        STATEMENT_ALERTS_TOLD_BY_READING, "reading", "strike-reading"},
    [RECORD_SERVICE] = {STATEMENT_SERVICE_STRIKE, STATEMENT_SERVICE_UNSTRIKE,
                        STATEMENT_ALERTS_VOID_BY_SERVICE, STATEMENT_ALERTS_STAND_BY_SERVICE,
                        STATEMENT_ALERTS_TOLD_BY_SERVICE, "service", "strike-service"},
};

enum ledger_result record_strike(struct ledger *ledger, enum record_kind kind, int64_t text_id,
                                 int64_t row_id, int64_t person_id, int64_t at_s, const char *why)
{
    store_step(ledger);
    enum ledger_result result =
        store_change(ledger, kinds[kind].strike, LEDGER_ALREADY,
                     STORE_VALUES(store_integer(row_id), store_integer(at_s), store_id(person_id),
                                  store_text(why)));
    if (result == LEDGER_OK) {
        (void)store_run(ledger, kinds[kind].alerts_void,
                        STORE_VALUES(store_integer(row_id), store_integer(at_s)));
        result = effects_note(ledger, text_id, kinds[kind].strike_noted, row_id);
    }
    return store_step_end(ledger, result);
}

enum ledger_result record_unstrike(struct ledger *ledger, enum record_kind kind, int64_t row_id)
{
    store_step(ledger);
    enum ledger_result result = store_change(ledger, kinds[kind].unstrike, LEDGER_ALREADY,
                                             STORE_VALUES(store_integer(row_id)));
    if (result == LEDGER_OK) {
        result = store_run(ledger, kinds[kind].alerts_stand, STORE_VALUES(store_integer(row_id)));
    }
    return store_step_end(ledger, result);
}

/* Who takes back, and what became void by it. */
struct undoing {
    int64_t text_id, person_id, at_s;
    int64_t alerts_told;
};

/* What takes back the other deeds: ?1 the row, ?2 when, ?3 by whom, ?4 why, ?5 the text that did it. */
static const struct {
    const char *noted;
    enum statement statement;
} deeds[] = {
    {"meter", STATEMENT_METER_CHANGE_STRIKE}, {"park", STATEMENT_PARKING_STRIKE},
    {"back", STATEMENT_PARKING_REOPEN},       {"later", STATEMENT_PUT_OFF_STRIKE},
    {"answer", STATEMENT_QUESTION_REOPEN},    {"trouble", STATEMENT_TROUBLE_STRIKE},
    {"solved", STATEMENT_TROUBLE_REOPEN},     {"movement", STATEMENT_MOVEMENT_STRIKE},
};

/* A word of the desk's own is none of these: nothing to take back here. What someone else has taken
 * back since (LEDGER_ALREADY) is well as it is. */
static void undo_one(struct ledger *ledger, const char *noted, int64_t row_id,
                     struct undoing *undoing)
{
    static const char why[] = "undo";
    for (enum record_kind kind = RECORD_READING; kind <= RECORD_SERVICE; kind++) {
        if (strcmp(noted, kinds[kind].add_noted) == 0) {
            int64_t told;
            (void)store_number(ledger, kinds[kind].alerts_told, &told,
                               STORE_VALUES(store_integer(row_id)));
            undoing->alerts_told += told;
            (void)record_strike(ledger, kind, 0, row_id, undoing->person_id, undoing->at_s, why);
        } else if (strcmp(noted, kinds[kind].strike_noted) == 0) {
            (void)record_unstrike(ledger, kind, row_id);
        }
    }
    const struct store_value values[] = {store_integer(row_id), store_integer(undoing->at_s),
                                         store_id(undoing->person_id), store_text(why),
                                         store_integer(undoing->text_id)};
    for (size_t i = 0; i < sizeof deeds / sizeof deeds[0]; i++) {
        if (strcmp(noted, deeds[i].noted) == 0) {
            sqlite3_stmt *undo;
            (void)store_statement(ledger, deeds[i].statement, &undo);
            (void)store_run(ledger, deeds[i].statement, values,
                            (size_t)sqlite3_bind_parameter_count(undo));
        }
    }
}

enum ledger_result retraction_of_text(struct ledger *ledger, int64_t text_id, int64_t person_id,
                                      int64_t at_s, int *alerts_told)
{
    struct undoing undoing = {.text_id = text_id, .person_id = person_id, .at_s = at_s};
    struct store_value text = store_integer(text_id), at = store_integer(at_s);
    sqlite3_stmt *row;
    store_step(ledger);
    enum ledger_result result =
        store_first(ledger, STATEMENT_EFFECTS_OF_TEXT, &row, STORE_VALUES(text));
    if (result == LEDGER_OK) {
        /* What it asked is no longer open: else what it answered could not be. */
        (void)store_run(ledger, STATEMENT_QUESTIONS_WITHDRAW, STORE_VALUES(text, at));
        do {
            undo_one(ledger, store_column_text(row, 0), store_column(row, 1), &undoing);
        } while (store_next(ledger, row) == LEDGER_OK);
        result = store_run(ledger, STATEMENT_EFFECTS_UNDONE, STORE_VALUES(text, at));
    } else if (result == LEDGER_NONE) {
        result = LEDGER_ALREADY;
    }
    result = store_step_end(ledger, result);
    *alerts_told = result == LEDGER_OK ? (int)undoing.alerts_told : 0;
    return result;
}

#define FIELD(kind, member) STORE_FIELD(struct record_line, kind, member)
static const struct store_field line_fields[] = {
    FIELD(PHRASE, kind),
    FIELD(NUMBER, at_s),
    FIELD(NUMBER, meter_hundredths),
    FIELD(NUMBER, true_hundredths),
    FIELD(NUMBER, new_hundredths),
    FIELD(PHRASE, plan),
    FIELD(PHRASE, stage),
    FIELD(NUMBER, quantity_thousandths),
    FIELD(PHRASE, unit),
    FIELD(PHRASE, person),
    FIELD(PHRASE, remark),
    FIELD(NUMBER, struck_s),
    FIELD(PHRASE, struck_by),
    FIELD(PHRASE, struck_why),
    FIELD(NUMBER, noted_s),
    FIELD(NUMBER, until_s),
    FIELD(NUMBER, day),
    FIELD(NUMBER, cycle),
    FIELD(NUMBER, undated),
};
static const struct store_shape line_shape = STORE_SHAPE(struct record_line, line_fields);
enum { MACHINE_COLUMN = sizeof line_fields / sizeof line_fields[0] };

enum ledger_result
record_each(struct ledger *ledger, int64_t machine_id,
            void (*each)(void *ctx, const char *machine, const struct record_line *line), void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_RECORD_EACH, &row, STORE_VALUES(store_integer(machine_id)));
    while (result == LEDGER_OK) {
        struct record_line line;
        store_read(row, &line_shape, &line);
        each(ctx, store_column_text(row, MACHINE_COLUMN), &line);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}
