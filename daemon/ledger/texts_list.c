/* SPDX-License-Identifier: MIT
 * texts_list: texts counted and listed, for caps, the daily summary and the verb `texts`. */
#include "daemon/ledger/texts.h"

#include "daemon/ledger/store.h"

enum ledger_result texts_sent_since(struct ledger *ledger, const char *phone, int64_t since_s,
                                    int *count)
{
    int64_t sent;
    enum ledger_result result =
        store_number(ledger, STATEMENT_TEXTS_SENT_SINCE, &sent,
                     STORE_VALUES(store_text(phone), store_integer(since_s)));
    *count = (int)sent;
    return result;
}

enum ledger_result texts_strangers_since(struct ledger *ledger, int64_t since_s, int *count)
{
    int64_t strangers;
    enum ledger_result result = store_number(ledger, STATEMENT_TEXTS_STRANGERS_SINCE, &strangers,
                                             STORE_VALUES(store_integer(since_s)));
    *count = (int)strangers;
    return result;
}

enum ledger_result texts_summarise(struct ledger *ledger, int64_t since_s,
                                   struct texts_summary *summary)
{
    sqlite3_stmt *row;
    *summary = (struct texts_summary){0};
    enum ledger_result result =
        store_first(ledger, STATEMENT_TEXTS_SUMMARY, &row, STORE_VALUES(store_integer(since_s)));
    if (result == LEDGER_OK) {
        summary->waiting = (int)store_column(row, 0);
        summary->oldest_waiting_s = store_column(row, 1);
        summary->failed_since = (int)store_column(row, 2);
        summary->unknown_since = (int)store_column(row, 3);
        summary->unread_since = (int)store_column(row, 4);
        summary->last_in_s = store_column(row, 5);
        summary->last_out_s = store_column(row, 6);
        store_done(row);
    }
    return result;
}

enum ledger_result texts_each(struct ledger *ledger, int64_t from_s, int64_t until_s,
                              void (*each)(void *ctx, const struct texts_line *line), void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_TEXTS_EACH, &row,
                    STORE_VALUES(store_integer(from_s), store_integer(until_s)));
    while (result == LEDGER_OK) {
        struct texts_line line = {.incoming = store_column(row, 0) != 0,
                                  .text_id = store_column(row, 1),
                                  .at_s = store_column(row, 2),
                                  .person = store_column_text(row, 3),
                                  .phone = store_column_text(row, 4),
                                  .body = store_column_text(row, 5),
                                  .state = store_column_text(row, 6)};
        each(ctx, &line);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}
