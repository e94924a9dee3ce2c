/* SPDX-License-Identifier: MIT
 * restore: a record that was kept elsewhere, line by line back into the tables (record.h). */
#include <string.h>

#include "daemon/ledger/people.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/store.h"

/* The kinds in the order of one moment; values: how many the statement takes. */
static const struct {
    const char *kind;
    enum statement statement;
    size_t values;
} kinds[] = {
    {"meter", STATEMENT_RESTORE_METER, 10},     {"reading", STATEMENT_RESTORE_READING, 9},
    {"service", STATEMENT_RESTORE_SERVICE, 18}, {"alert", STATEMENT_RESTORE_ALERT, 17},
    {"parked", STATEMENT_RESTORE_PARKED, 15},   {"back", STATEMENT_RESTORE_BACK, 4},
    {"later", STATEMENT_RESTORE_LATER, 15},     {"booked", STATEMENT_RESTORE_MOVEMENT, 19},
    {"in", STATEMENT_RESTORE_MOVEMENT, 19},     {"out", STATEMENT_RESTORE_MOVEMENT, 19},
    {"gone", STATEMENT_RESTORE_MOVEMENT, 19},   {"returned", STATEMENT_RESTORE_MOVEMENT, 19},
    {"remark", STATEMENT_RESTORE_WORDS, 19},    {"trouble", STATEMENT_RESTORE_WORDS, 19},
    {"danger", STATEMENT_RESTORE_WORDS, 19},    {"solved", STATEMENT_RESTORE_SOLVED, 7},
};
enum { KIND_COUNT = sizeof kinds / sizeof kinds[0] };

static size_t kind_of(const char *kind)
{
    size_t at = 0;
    while (at < KIND_COUNT && strcmp(kind, kinds[at].kind) != 0) {
        at++;
    }
    return at;
}

/* Movements share a turn, as what was said in words does. */
int record_turn(const char *kind)
{
    size_t at = kind_of(kind);
    while (at > 0 && at < KIND_COUNT && kinds[at - 1].statement == kinds[at].statement) {
        at--;
    }
    return at < KIND_COUNT ? (int)at : -1;
}

enum ledger_result record_restore(struct ledger *ledger, const char *machine,
                                  const struct record_line *line)
{
    int64_t machine_id = 0, person_id = 0, struck_by = 0;
    size_t kind = kind_of(line->kind);
    if (kind == KIND_COUNT) {
        return LEDGER_REFUSED;
    }
    enum ledger_result result = machines_id(ledger, machine, &machine_id);
    if (result == LEDGER_OK && line->person[0] != '\0') {
        result = people_id(ledger, line->person, &person_id);
    }
    if (result == LEDGER_OK && line->struck_by[0] != '\0') {
        result = people_id(ledger, line->struck_by, &struck_by);
    }
    if (result != LEDGER_OK) {
        return result;
    }
    const struct store_value values[] = {
        store_integer(machine_id),
        store_integer(line->at_s),
        store_id(person_id),
        store_id(line->struck_s),
        store_id(struck_by),
        store_text(line->struck_s != 0 ? line->struck_why : NULL),
        store_text(line->remark),
        store_integer(line->noted_s != 0 ? line->noted_s : line->at_s),
        store_integer(line->meter_hundredths),
        store_integer(line->new_hundredths),
        store_text(line->plan),
        store_text(line->stage),
        store_integer(line->quantity_thousandths),
        store_text(line->unit),
        store_id(line->until_s),
        store_id(line->day),
        store_integer(line->cycle),
        store_integer(line->undated),
        store_text(line->kind),
    };
    return store_run(ledger, kinds[kind].statement, values, kinds[kind].values);
}
