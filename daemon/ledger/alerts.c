/* SPDX-License-Identifier: MIT
 * alerts: the unique index over those that are not void is what makes them "exactly once". */
#include "daemon/ledger/alerts.h"

#include "daemon/ledger/store.h"
#include "daemon/upkeep/plan.h"

#define FIELD(kind, member) STORE_FIELD(struct alert_row, kind, member)
static const struct store_field fields[] = {
    FIELD(ID, id),
    FIELD(ID, machine_id),
    FIELD(WORDS, plan),
    FIELD(NUMBER, cycle),
    FIELD(WORDS, stage),
    FIELD(NUMBER, raised_s),
    FIELD(ID, cause_reading_id),
    FIELD(ID, cause_service_id),
    FIELD(ID, told_s),
};
static const struct store_shape shape = STORE_SHAPE(struct alert_row, fields);

enum ledger_result alerts_raise(struct ledger *ledger, struct alert_row *row)
{
    enum ledger_result result = store_add(ledger, STATEMENT_ALERT_RAISE, &shape, row, &row->id);
    if (result == LEDGER_ALREADY) {
        result = store_number(ledger, STATEMENT_ALERT_FIND, &row->id,
                              STORE_VALUES(store_integer(row->machine_id), store_text(row->plan),
                                           store_integer(row->cycle), store_text(row->stage)));
        return result == LEDGER_OK ? LEDGER_ALREADY : result;
    }
    row->told_s = 0;
    return result;
}

enum ledger_result alerts_untold(struct ledger *ledger, size_t most, struct alert_row *rows,
                                 size_t *count)
{
    return store_list(ledger, STATEMENT_ALERTS_UNTOLD, &shape, rows, most, count,
                      STORE_VALUES(store_integer((int64_t)most)));
}

enum ledger_result alerts_told(struct ledger *ledger, int64_t alert_id, int64_t text_id,
                               int64_t at_s)
{
    return store_change(
        ledger, STATEMENT_ALERT_TOLD, LEDGER_NONE,
        STORE_VALUES(store_integer(alert_id), store_id(text_id), store_integer(at_s)));
}

/* Of the stages that a service goes through, as against the level's checks and the like. */
static bool of_service(const char *word)
{
    enum due_stage stage;
    return due_stage_find(word, &stage) && due_stage_row(stage)->tells;
}

enum ledger_result alerts_last(struct ledger *ledger, int64_t machine_id, const char *plan,
                               int64_t cycle, struct alert_row *row)
{
    sqlite3_stmt *found;
    enum ledger_result result = store_first(
        ledger, STATEMENT_ALERTS_OF_CYCLE, &found,
        STORE_VALUES(store_integer(machine_id), store_text(plan), store_integer(cycle)));
    while (result == LEDGER_OK) {
        struct alert_row alert;
        store_read(found, &shape, &alert);
        if (of_service(alert.stage)) {
            *row = alert;
            store_done(found);
            return LEDGER_OK;
        }
        result = store_next(ledger, found);
    }
    return result;
}

enum ledger_result alerts_void(struct ledger *ledger, int64_t alert_id, int64_t at_s)
{
    return store_change(ledger, STATEMENT_ALERT_VOID, LEDGER_ALREADY,
                        STORE_VALUES(store_integer(alert_id), store_integer(at_s)));
}

enum ledger_result alerts_each(struct ledger *ledger, int64_t machine_id,
                               void (*each)(void *ctx, const struct alert_row *row, bool is_void),
                               void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_ALERTS_EACH, &row, STORE_VALUES(store_integer(machine_id)));
    while (result == LEDGER_OK) {
        struct alert_row alert;
        store_read(row, &shape, &alert);
        each(ctx, &alert, store_column(row, 9) != 0);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}
