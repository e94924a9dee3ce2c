/* SPDX-License-Identifier: MIT
 * machines: laid up for the season, back at work, reminders put off. What a text changed here is
 * noted, so that UNDO can take it back. */
#include "daemon/ledger/effects.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/store.h"

enum ledger_result machines_parked(struct ledger *ledger, int64_t machine_id, int64_t *since_s)
{
    enum ledger_result result = store_number(ledger, STATEMENT_PARKING_OPEN, since_s,
                                             STORE_VALUES(store_integer(machine_id)));
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

static enum ledger_result add_parking(struct ledger *ledger, int64_t machine_id, int64_t at_s,
                                      int64_t person_id, int64_t text_id)
{
    enum ledger_result result = store_change(
        ledger, STATEMENT_PARKING_ADD, LEDGER_ALREADY,
        STORE_VALUES(store_integer(machine_id), store_integer(at_s), store_id(person_id)));
    return result == LEDGER_OK ? effects_note(ledger, text_id, "park", store_inserted(ledger))
                               : result;
}

enum ledger_result machines_park(struct ledger *ledger, int64_t machine_id, int64_t at_s,
                                 int64_t person_id, int64_t text_id)
{
    enum ledger_result result = store_step(ledger);
    if (result != LEDGER_OK) {
        return result;
    }
    return store_step_end(ledger, add_parking(ledger, machine_id, at_s, person_id, text_id));
}

static enum ledger_result end_parking(struct ledger *ledger, int64_t machine_id, int64_t at_s,
                                      int64_t person_id, int64_t text_id)
{
    int64_t parking_id;
    enum ledger_result result = store_number(
        ledger, STATEMENT_PARKING_END, &parking_id,
        STORE_VALUES(store_integer(machine_id), store_integer(at_s), store_id(person_id)));
    return result == LEDGER_OK ? effects_note(ledger, text_id, "back", parking_id) : result;
}

enum ledger_result machines_back(struct ledger *ledger, int64_t machine_id, int64_t at_s,
                                 int64_t person_id, int64_t text_id)
{
    enum ledger_result result = store_step(ledger);
    if (result != LEDGER_OK) {
        return result;
    }
    return store_step_end(ledger, end_parking(ledger, machine_id, at_s, person_id, text_id));
}

enum ledger_result machines_parked_each(struct ledger *ledger, int64_t machine_id,
                                        void (*each)(void *ctx, int64_t from_s, int64_t until_s),
                                        void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_PARKING_EACH, &row, STORE_VALUES(store_integer(machine_id)));
    while (result == LEDGER_OK) {
        each(ctx, store_column(row, 0), store_column(row, 1));
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

enum ledger_result machines_later(struct ledger *ledger, int64_t machine_id, int64_t *until_s)
{
    enum ledger_result result = store_number(ledger, STATEMENT_PUT_OFF_LATEST, until_s,
                                             STORE_VALUES(store_integer(machine_id)));
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

static enum ledger_result put_off(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                  int64_t person_id, int64_t text_id)
{
    enum ledger_result result = store_run(
        ledger, STATEMENT_PUT_OFF_ADD,
        STORE_VALUES(store_integer(machine_id), store_integer(until_s), store_id(person_id)));
    return result == LEDGER_OK ? effects_note(ledger, text_id, "later", store_inserted(ledger))
                               : result;
}

enum ledger_result machines_set_later(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                      int64_t person_id, int64_t text_id)
{
    enum ledger_result result = store_step(ledger);
    if (result != LEDGER_OK) {
        return result;
    }
    return store_step_end(ledger, put_off(ledger, machine_id, until_s, person_id, text_id));
}
