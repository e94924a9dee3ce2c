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

/* Who takes back, and what became void by it. */
struct undoing {
    int64_t text_id, person_id, at_s;
    int64_t alerts_told;
};
static const char why[] = "undo";

static enum ledger_result count_told(struct ledger *ledger, enum statement statement,
                                     int64_t row_id, struct undoing *undoing)
{
    int64_t told;
    enum ledger_result result =
        store_number(ledger, statement, &told, STORE_VALUES(store_integer(row_id)));
    undoing->alerts_told += told;
    return result;
}

static enum ledger_result undo_reading(struct ledger *ledger, int64_t id, struct undoing *undoing)
{
    enum ledger_result result = count_told(ledger, STATEMENT_ALERTS_TOLD_BY_READING, id, undoing);
    return result == LEDGER_OK ? readings_strike(ledger, id, undoing->person_id, undoing->at_s, why)
                               : result;
}

static enum ledger_result undo_service(struct ledger *ledger, int64_t id, struct undoing *undoing)
{
    enum ledger_result result = count_told(ledger, STATEMENT_ALERTS_TOLD_BY_SERVICE, id, undoing);
    return result == LEDGER_OK ? services_strike(ledger, id, undoing->person_id, undoing->at_s, why)
                               : result;
}

static enum ledger_result undo_meter(struct ledger *ledger, int64_t id, struct undoing *undoing)
{
    return readings_strike_change(ledger, id, undoing->person_id, undoing->at_s, why);
}

static enum ledger_result undo_strike_reading(struct ledger *ledger, int64_t id,
                                              struct undoing *undoing)
{
    (void)undoing;
    return readings_unstrike(ledger, id);
}

static enum ledger_result undo_strike_service(struct ledger *ledger, int64_t id,
                                              struct undoing *undoing)
{
    (void)undoing;
    return services_unstrike(ledger, id);
}

static enum ledger_result undo_park(struct ledger *ledger, int64_t id, struct undoing *undoing)
{
    return store_run(ledger, STATEMENT_PARKING_STRIKE,
                     STORE_VALUES(store_integer(id), store_integer(undoing->at_s)));
}

static enum ledger_result undo_back(struct ledger *ledger, int64_t id, struct undoing *undoing)
{
    (void)undoing;
    return store_run(ledger, STATEMENT_PARKING_REOPEN, STORE_VALUES(store_integer(id)));
}

static enum ledger_result undo_later(struct ledger *ledger, int64_t id, struct undoing *undoing)
{
    return store_run(ledger, STATEMENT_PUT_OFF_STRIKE,
                     STORE_VALUES(store_integer(id), store_integer(undoing->at_s)));
}

static enum ledger_result undo_answer(struct ledger *ledger, int64_t id, struct undoing *undoing)
{
    return store_run(ledger, STATEMENT_QUESTION_REOPEN,
                     STORE_VALUES(store_integer(id), store_integer(undoing->text_id)));
}

static const struct {
    const char *what;
    enum ledger_result (*undo)(struct ledger *ledger, int64_t row_id, struct undoing *undoing);
} deeds[] = {
    {"reading", undo_reading},
    {"service", undo_service},
    {"meter", undo_meter},
    {"strike-reading", undo_strike_reading},
    {"strike-service", undo_strike_service},
    {"park", undo_park},
    {"back", undo_back},
    {"later", undo_later},
    {"answer", undo_answer},
};

/* A word of the desk's own is none of these: nothing to take back here. What someone else has taken
 * back since (LEDGER_ALREADY) is well as it is. */
static enum ledger_result undo_one(struct ledger *ledger, const char *what, int64_t row_id,
                                   struct undoing *undoing)
{
    for (size_t i = 0; i < sizeof deeds / sizeof deeds[0]; i++) {
        if (strcmp(what, deeds[i].what) == 0) {
            enum ledger_result result = deeds[i].undo(ledger, row_id, undoing);
            return result == LEDGER_ALREADY ? LEDGER_OK : result;
        }
    }
    return LEDGER_OK;
}

static enum ledger_result undo_all(struct ledger *ledger, struct undoing *undoing)
{
    struct store_value text_id = store_integer(undoing->text_id);
    struct store_value at_s = store_integer(undoing->at_s);
    sqlite3_stmt *row;
    enum ledger_result result =
        store_run(ledger, STATEMENT_QUESTIONS_WITHDRAW, STORE_VALUES(text_id, at_s));
    if (result != LEDGER_OK) {
        return result;
    }
    result = store_first(ledger, STATEMENT_EFFECTS_OF_TEXT, &row, STORE_VALUES(text_id));
    while (result == LEDGER_OK) {
        result = undo_one(ledger, store_column_text(row, 0), store_column(row, 1), undoing);
        if (result != LEDGER_OK) {
            store_done(row);
            return result;
        }
        result = store_next(ledger, row);
    }
    if (result != LEDGER_NONE) {
        return result;
    }
    return store_change(ledger, STATEMENT_EFFECTS_UNDONE, LEDGER_ALREADY,
                        STORE_VALUES(text_id, at_s));
}

enum ledger_result retraction_of_text(struct ledger *ledger, int64_t text_id, int64_t person_id,
                                      int64_t at_s, int *alerts_told)
{
    struct undoing undoing = {.text_id = text_id, .person_id = person_id, .at_s = at_s};
    enum ledger_result result = store_step(ledger);
    if (result == LEDGER_OK) {
        result = store_step_end(ledger, undo_all(ledger, &undoing));
    }
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
