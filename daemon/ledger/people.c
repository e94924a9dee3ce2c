/* SPDX-License-Identifier: MIT
 * people: names of people and machines into numbers, who has opted out, which machine is laid up or
 * put off. A number is given once and for all; someone who leaves the config keeps the history
 * under it. What a text changed about a machine is noted, so that UNDO can take it back. */
#include "daemon/ledger/people.h"

#include <string.h>

#include "daemon/ledger/record.h"
#include "daemon/ledger/store.h"

/* The number of a name that was looked up before, 0 none. */
static int64_t known_id(const struct ledger *ledger, enum statement find, const char *name)
{
    for (size_t i = 0; i < STORE_NAMES && ledger->names[i].id != 0; i++) {
        if (ledger->names[i].found_by == find && strcmp(ledger->names[i].name, name) == 0) {
            return ledger->names[i].id;
        }
    }
    return 0;
}

static void remember(struct ledger *ledger, enum statement find, const char *name, int64_t id)
{
    struct store_name *place = &ledger->names[ledger->next_name % STORE_NAMES];
    if (strlen(name) < sizeof place->name) {
        ledger->next_name++;
        place->found_by = find;
        place->id = id;
        store_copy(name, place->name, sizeof place->name);
    }
}

/* Looked up first: a name is new once, and reading costs no sync. */
static enum ledger_result find_or_add(struct ledger *ledger, enum statement find,
                                      enum statement add, const char *name, int64_t *id)
{
    *id = known_id(ledger, find, name);
    if (*id != 0) {
        return LEDGER_OK;
    }
    enum ledger_result result = store_number(ledger, find, id, STORE_VALUES(store_text(name)));
    if (result == LEDGER_NONE && ledger->writes) {
        result = store_run(ledger, add, STORE_VALUES(store_text(name)));
        *id = result == LEDGER_OK ? store_inserted(ledger) : 0;
    }
    if (result == LEDGER_OK) {
        remember(ledger, find, name, *id);
    }
    return result;
}

static enum ledger_result name_of(struct ledger *ledger, enum statement statement, int64_t id,
                                  char name[PEOPLE_NAME_OCTETS])
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, statement, &row, STORE_VALUES(store_integer(id)));
    name[0] = '\0';
    if (result == LEDGER_OK) {
        store_column_copy(row, 0, name, PEOPLE_NAME_OCTETS);
        store_done(row);
    }
    return result;
}

enum ledger_result people_id(struct ledger *ledger, const char *name, int64_t *person_id)
{
    return find_or_add(ledger, STATEMENT_PERSON_FIND, STATEMENT_PERSON_ADD, name, person_id);
}

enum ledger_result people_name(struct ledger *ledger, int64_t person_id,
                               char name[PEOPLE_NAME_OCTETS])
{
    return name_of(ledger, STATEMENT_PERSON_NAME, person_id, name);
}

enum ledger_result machines_id(struct ledger *ledger, const char *name, int64_t *machine_id)
{
    return find_or_add(ledger, STATEMENT_MACHINE_FIND, STATEMENT_MACHINE_ADD, name, machine_id);
}

enum ledger_result machines_name(struct ledger *ledger, int64_t machine_id,
                                 char name[PEOPLE_NAME_OCTETS])
{
    return name_of(ledger, STATEMENT_MACHINE_NAME, machine_id, name);
}

enum ledger_result machines_touched(struct ledger *ledger, int64_t machine_id, int64_t *at_s)
{
    enum ledger_result result = store_number(ledger, STATEMENT_MACHINE_TOUCHED, at_s,
                                             STORE_VALUES(store_integer(machine_id)));
    *at_s = result == LEDGER_OK ? *at_s : 0;
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

enum ledger_result machines_each(struct ledger *ledger,
                                 void (*each)(void *ctx, int64_t machine_id, const char *name),
                                 void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result = store_first(ledger, STATEMENT_MACHINES_EACH, &row, STORE_NO_VALUES);
    while (result == LEDGER_OK) {
        each(ctx, store_column(row, 0), store_column_text(row, 1));
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

/* All that stands under the one number goes to the other. */
static enum ledger_result join_records(struct ledger *ledger, int64_t from_id, int64_t to_id)
{
    for (enum statement statement = STATEMENT_RENAME_PARKING; statement <= STATEMENT_RENAME_GONE;
         statement++) {
        (void)store_run(ledger, statement,
                        STORE_VALUES(store_integer(from_id), store_integer(to_id)));
    }
    return ledger_fault(ledger);
}

enum ledger_result machines_rename(struct ledger *ledger, const char *from, const char *to)
{
    int64_t from_id = 0, to_id = 0;
    enum ledger_result result =
        store_number(ledger, STATEMENT_MACHINE_FIND, &from_id, STORE_VALUES(store_text(from)));
    if (result == LEDGER_OK) {
        result = store_number(ledger, STATEMENT_MACHINE_FIND, &to_id, STORE_VALUES(store_text(to)));
        result = result == LEDGER_NONE ? LEDGER_OK : result;
    }
    if (result != LEDGER_OK || from_id == to_id) {
        return result == LEDGER_OK ? LEDGER_NONE : result;
    }
    store_step(ledger);
    result = to_id != 0 ? join_records(ledger, from_id, to_id)
                        : store_run(ledger, STATEMENT_MACHINE_SET_NAME,
                                    STORE_VALUES(store_integer(from_id), store_text(to)));
    store_forget_names(ledger);
    return store_step_end(ledger, result);
}

enum ledger_result people_opted_out(struct ledger *ledger, int64_t person_id, int64_t *since_s)
{
    return store_number(ledger, STATEMENT_PERSON_OPTED_OUT, since_s,
                        STORE_VALUES(store_integer(person_id)));
}

enum ledger_result people_set_opt_out(struct ledger *ledger, int64_t person_id, int64_t since_s)
{
    return store_change(ledger, STATEMENT_PERSON_SET_OPT_OUT, LEDGER_NONE,
                        STORE_VALUES(store_integer(person_id), store_id(since_s)));
}

/* A moment kept of a machine; 0 none. */
static enum ledger_result moment_of(struct ledger *ledger, enum statement statement,
                                    int64_t machine_id, int64_t *at_s)
{
    enum ledger_result result =
        store_number(ledger, statement, at_s, STORE_VALUES(store_integer(machine_id)));
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

enum ledger_result machines_parked(struct ledger *ledger, int64_t machine_id, int64_t *since_s)
{
    return moment_of(ledger, STATEMENT_PARKING_OPEN, machine_id, since_s);
}

enum ledger_result machines_park(struct ledger *ledger, int64_t machine_id, int64_t at_s,
                                 int64_t person_id, int64_t text_id)
{
    store_step(ledger);
    enum ledger_result result = store_change(
        ledger, STATEMENT_PARKING_ADD, LEDGER_ALREADY,
        STORE_VALUES(store_integer(machine_id), store_integer(at_s), store_id(person_id)));
    if (result == LEDGER_OK) {
        result = effects_note(ledger, text_id, "park", store_inserted(ledger));
    }
    return store_step_end(ledger, result);
}

enum ledger_result machines_back(struct ledger *ledger, int64_t machine_id, int64_t at_s,
                                 int64_t person_id, int64_t text_id)
{
    int64_t parking_id;
    store_step(ledger);
    enum ledger_result result = store_number(
        ledger, STATEMENT_PARKING_END, &parking_id,
        STORE_VALUES(store_integer(machine_id), store_integer(at_s), store_id(person_id)));
    if (result == LEDGER_OK) {
        result = effects_note(ledger, text_id, "back", parking_id);
    }
    return store_step_end(ledger, result);
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
    return moment_of(ledger, STATEMENT_PUT_OFF_LATEST, machine_id, until_s);
}

enum ledger_result machines_set_later(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                      int64_t person_id, int64_t text_id)
{
    store_step(ledger);
    (void)store_run(ledger, STATEMENT_PUT_OFF_ADD,
                    STORE_VALUES(store_integer(machine_id), store_integer(until_s),
                                 store_id(person_id), store_id(text_id)));
    return store_step_end(ledger, effects_note(ledger, text_id, "later", store_inserted(ledger)));
}
