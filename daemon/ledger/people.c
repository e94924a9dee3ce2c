/* SPDX-License-Identifier: MIT
 * people: names into numbers, and who has opted out. A number is given once and for all; someone who
 * leaves the config keeps the history under it. */
#include "daemon/ledger/people.h"

#include "daemon/ledger/store.h"

/* Looked up first: a name is new once, and reading costs no sync. */
static enum ledger_result find_or_add(struct ledger *ledger, enum statement find,
                                      enum statement add, const char *name, int64_t *id)
{
    enum ledger_result result = store_number(ledger, find, id, STORE_VALUES(store_text(name)));
    if (result != LEDGER_NONE || !ledger->writes) {
        return result;
    }
    result = store_run(ledger, add, STORE_VALUES(store_text(name)));
    *id = result == LEDGER_OK ? store_inserted(ledger) : 0;
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
