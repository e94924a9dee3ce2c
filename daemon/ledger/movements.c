/* SPDX-License-Identifier: MIT
 * movements: said, and taken back. */
#include "daemon/ledger/movements.h"

#include <string.h>

#include "daemon/ledger/record.h"
#include "daemon/ledger/store.h"

/* The word that is kept of each kind. */
static const char *const words[] = {
    [MOVEMENT_BOOK] = "book", [MOVEMENT_IN] = "in",     [MOVEMENT_OUT] = "out",
    [MOVEMENT_GONE] = "gone", [MOVEMENT_BACK] = "back",
};
#define KINDS (sizeof words / sizeof words[0])

static void read_row(sqlite3_stmt *row, struct movement *movement)
{
    *movement = (struct movement){.id = store_column(row, 0),
                                  .day = (int32_t)store_column(row, 2),
                                  .at_s = store_column(row, 3),
                                  .person_id = store_column(row, 4),
                                  .text_id = store_column(row, 5),
                                  .struck_s = store_column(row, 6)};
    const char *word = store_column_text(row, 1);
    for (size_t i = 0; i < KINDS; i++) {
        if (strcmp(word, words[i]) == 0) {
            movement->kind = (enum movement_kind)i;
        }
    }
}

enum ledger_result movements_add(struct ledger *ledger, int64_t machine_id,
                                 struct movement *movement)
{
    store_step(ledger);
    enum ledger_result result =
        store_run(ledger, STATEMENT_MOVEMENT_ADD,
                  STORE_VALUES(store_integer(machine_id), store_text(words[movement->kind]),
                               store_id(movement->day), store_integer(movement->at_s),
                               store_id(movement->person_id), store_id(movement->text_id)));
    movement->id = result == LEDGER_OK ? store_inserted(ledger) : 0;
    movement->struck_s = 0;
    return store_step_end(ledger,
                          effects_note(ledger, movement->text_id, "movement", movement->id));
}

enum ledger_result movements_last(struct ledger *ledger, int64_t machine_id,
                                  struct movement *movement)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_MOVEMENT_LAST, &row, STORE_VALUES(store_integer(machine_id)));
    if (result == LEDGER_OK) {
        read_row(row, movement);
        store_done(row);
    }
    return result;
}

enum ledger_result movements_each(struct ledger *ledger, int64_t machine_id,
                                  void (*each)(void *ctx, const struct movement *movement),
                                  void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result = store_first(ledger, STATEMENT_MOVEMENTS_EACH, &row,
                                            STORE_VALUES(store_integer(machine_id)));
    while (result == LEDGER_OK) {
        struct movement movement;
        read_row(row, &movement);
        each(ctx, &movement);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}
