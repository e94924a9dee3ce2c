/* SPDX-License-Identifier: MIT
 * effects: a list of what each text did, one row a deed. retraction.c takes them back. */
#include "daemon/ledger/effects.h"

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
