/* SPDX-License-Identifier: MIT
 * alerts: the unique index over those that are not void is what makes them "exactly once". */
#include "daemon/ledger/alerts.h"

#include "daemon/ledger/store.h"

static void read_row(sqlite3_stmt *row, struct alert_row *out)
{
    *out = (struct alert_row){.id = store_column(row, 0),
                              .machine_id = store_column(row, 1),
                              .cycle = store_column(row, 3),
                              .raised_s = store_column(row, 5),
                              .cause_reading_id = store_column(row, 6),
                              .cause_service_id = store_column(row, 7),
                              .told_s = store_column(row, 8)};
    store_column_copy(row, 2, out->plan, sizeof out->plan);
    store_column_copy(row, 4, out->stage, sizeof out->stage);
}

static enum ledger_result find(struct ledger *ledger, struct alert_row *row)
{
    return store_number(ledger, STATEMENT_ALERT_FIND, &row->id,
                        STORE_VALUES(store_integer(row->machine_id), store_text(row->plan),
                                     store_integer(row->cycle), store_text(row->stage)));
}

enum ledger_result alerts_raise(struct ledger *ledger, struct alert_row *row)
{
    enum ledger_result result =
        store_change(ledger, STATEMENT_ALERT_RAISE, LEDGER_ALREADY,
                     STORE_VALUES(store_integer(row->machine_id), store_text(row->plan),
                                  store_integer(row->cycle), store_text(row->stage),
                                  store_integer(row->raised_s), store_id(row->cause_reading_id),
                                  store_id(row->cause_service_id)));
    if (result == LEDGER_ALREADY) {
        result = find(ledger, row);
        return result == LEDGER_OK ? LEDGER_ALREADY : result;
    }
    row->id = result == LEDGER_OK ? store_inserted(ledger) : 0;
    row->told_s = 0;
    return result;
}

enum ledger_result alerts_untold(struct ledger *ledger, size_t most, struct alert_row *rows,
                                 size_t *count)
{
    sqlite3_stmt *row;
    *count = 0;
    enum ledger_result result = store_first(ledger, STATEMENT_ALERTS_UNTOLD, &row,
                                            STORE_VALUES(store_integer((int64_t)most)));
    while (result == LEDGER_OK && *count < most) {
        read_row(row, &rows[(*count)++]);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

enum ledger_result alerts_told(struct ledger *ledger, int64_t alert_id, int64_t text_id,
                               int64_t at_s)
{
    return store_change(
        ledger, STATEMENT_ALERT_TOLD, LEDGER_NONE,
        STORE_VALUES(store_integer(alert_id), store_id(text_id), store_integer(at_s)));
}

enum ledger_result alerts_last(struct ledger *ledger, int64_t machine_id, const char *plan,
                               int64_t cycle, struct alert_row *row)
{
    sqlite3_stmt *found;
    enum ledger_result result = store_first(
        ledger, STATEMENT_ALERT_LAST, &found,
        STORE_VALUES(store_integer(machine_id), store_text(plan), store_integer(cycle)));
    if (result == LEDGER_OK) {
        read_row(found, row);
        store_done(found);
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
        read_row(row, &alert);
        each(ctx, &alert, store_column(row, 9) != 0);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}
