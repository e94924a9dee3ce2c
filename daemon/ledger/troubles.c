/* SPDX-License-Identifier: MIT
 * troubles: said, told, solved. */
#include "daemon/ledger/troubles.h"

#include "daemon/ledger/record.h"
#include "daemon/ledger/store.h"

#define FIELD(kind, member) STORE_FIELD(struct trouble_row, kind, member)
static const struct store_field fields[] = {
    FIELD(ID, id),        FIELD(ID, machine_id), FIELD(NUMBER, weight), FIELD(NUMBER, since_s),
    FIELD(ID, person_id), FIELD(ID, text_id),    FIELD(WORDS, words),   FIELD(ID, told_s)};
static const struct store_shape shape = STORE_SHAPE(struct trouble_row, fields);

enum ledger_result troubles_add(struct ledger *ledger, struct trouble_row *row,
                                int64_t same_since_s)
{
    int64_t same = 0;
    (void)store_number(ledger, STATEMENT_TROUBLE_SAME, &same,
                       STORE_VALUES(store_id(row->machine_id), store_id(row->person_id),
                                    store_text(row->words), store_integer(same_since_s),
                                    store_integer(row->weight)));
    if (same != 0) {
        return LEDGER_ALREADY;
    }
    store_step(ledger);
    (void)store_add(ledger, STATEMENT_TROUBLE_ADD, &shape, row, &row->id);
    return store_step_end(ledger, effects_note(ledger, row->text_id, "trouble", row->id));
}

enum ledger_result troubles_open(struct ledger *ledger, int64_t machine_id,
                                 void (*each)(void *ctx, const struct trouble_row *row), void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_TROUBLES_OPEN, &row, STORE_VALUES(store_integer(machine_id)));
    while (result == LEDGER_OK) {
        struct trouble_row trouble;
        store_read(row, &shape, &trouble);
        each(ctx, &trouble);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

enum ledger_result troubles_solve(struct ledger *ledger, int64_t machine_id, int64_t person_id,
                                  int64_t text_id, const char *words, int64_t at_s)
{
    sqlite3_stmt *row;
    bool any = false;
    store_step(ledger);
    enum ledger_result result =
        store_first(ledger, STATEMENT_TROUBLES_SOLVE, &row,
                    STORE_VALUES(store_integer(machine_id), store_integer(at_s),
                                 store_id(person_id), store_text(words)));
    while (result == LEDGER_OK) {
        any = true;
        (void)effects_note(ledger, text_id, "solved", store_column(row, 0));
        result = store_next(ledger, row);
    }
    return store_step_end(ledger, result == LEDGER_NONE && any ? LEDGER_OK : result);
}

enum ledger_result troubles_name(struct ledger *ledger, int64_t text_id, int64_t machine_id)
{
    return store_change(ledger, STATEMENT_TROUBLES_NAME, LEDGER_NONE,
                        STORE_VALUES(store_integer(text_id), store_integer(machine_id)));
}

static const struct store_field group_fields[] = {
    STORE_FIELD(struct trouble_group, ID, person_id),
    STORE_FIELD(struct trouble_group, NUMBER, weight),
    STORE_FIELD(struct trouble_group, NUMBER, count),
    STORE_FIELD(struct trouble_group, NUMBER, oldest_s),
};
static const struct store_shape group_shape = STORE_SHAPE(struct trouble_group, group_fields);

enum ledger_result troubles_waiting(struct ledger *ledger, size_t most,
                                    struct trouble_group *groups, size_t *count)
{
    return store_list(ledger, STATEMENT_TROUBLES_WAITING, &group_shape, groups, most, count,
                      STORE_NO_VALUES);
}

enum ledger_result troubles_untold(struct ledger *ledger, const struct trouble_group *group,
                                   size_t most, struct trouble_row *rows, size_t *count)
{
    return store_list(ledger, STATEMENT_TROUBLES_UNTOLD, &shape, rows, most, count,
                      STORE_VALUES(store_id(group->person_id), store_integer(group->weight),
                                   store_integer((int64_t)most)));
}

enum ledger_result troubles_tell(struct ledger *ledger, const struct trouble_group *group,
                                 int64_t at_s)
{
    return store_run(ledger, STATEMENT_TROUBLES_TELL,
                     STORE_VALUES(store_id(group->person_id), store_integer(group->weight),
                                  store_integer(at_s)));
}

enum ledger_result troubles_last_told(struct ledger *ledger, int64_t person_id,
                                      enum trouble_weight weight, int64_t *told_s, int64_t *count)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_TROUBLES_LAST_TOLD, &row,
                    STORE_VALUES(store_id(person_id), store_integer(weight)));
    *told_s = 0;
    *count = 0;
    if (result == LEDGER_OK) {
        *told_s = store_column(row, 0);
        *count = store_column(row, 1);
        store_done(row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

enum ledger_result troubles_of_text(struct ledger *ledger, int64_t text_id, struct trouble_row *row)
{
    return store_find(ledger, STATEMENT_TROUBLE_OF_TEXT, &shape, row,
                      STORE_VALUES(store_integer(text_id)));
}
