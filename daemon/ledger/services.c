/* SPDX-License-Identifier: MIT
 * services: the service record, with what the meter showed and what was filled. */
#include "daemon/ledger/services.h"

#include "daemon/ledger/record.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/store.h"

#define FIELD(kind, member) STORE_FIELD(struct service_row, kind, member)
static const struct store_field fields[] = {
    FIELD(ID, id),
    FIELD(ID, machine_id),
    FIELD(WORDS, plan),
    FIELD(NUMBER, meter_hundredths),
    FIELD(NUMBER, true_hundredths),
    FIELD(NUMBER, done_s),
    FIELD(NUMBER, noted_s),
    FIELD(ID, person_id),
    FIELD(ID, text_id),
    FIELD(NUMBER, quantity_thousandths),
    FIELD(WORDS, unit),
    FIELD(WORDS, remark),
    FIELD(NUMBER, struck),
    FIELD(NUMBER, undated),
};
static const struct store_shape shape = STORE_SHAPE(struct service_row, fields);

enum ledger_result services_add(struct ledger *ledger, struct service_row *row)
{
    int64_t offset_hundredths;
    store_step(ledger);
    (void)store_add(ledger, STATEMENT_SERVICE_ADD, &shape, row, &row->id);
    (void)readings_offset(ledger, row->machine_id, row->done_s, &offset_hundredths);
    row->true_hundredths = row->meter_hundredths + offset_hundredths;
    row->struck = false;
    return store_step_end(ledger, effects_note(ledger, row->text_id, "service", row->id));
}

enum ledger_result services_last(struct ledger *ledger, int64_t machine_id, const char *plan,
                                 int64_t until_s, struct service_row *row)
{
    return store_find(
        ledger, STATEMENT_SERVICE_LAST, &shape, row,
        STORE_VALUES(store_integer(machine_id), store_text(plan), store_integer(until_s)));
}

enum ledger_result services_stand(struct ledger *ledger, const struct service_row *row, bool *found)
{
    int64_t count = 0;
    enum ledger_result result = store_number(
        ledger, STATEMENT_SERVICES_STAND, &count,
        STORE_VALUES(store_integer(row->machine_id), store_text(row->plan),
                     store_integer(row->meter_hundredths), store_integer(row->done_s)));
    *found = count > 0;
    return result;
}

enum ledger_result services_each(struct ledger *ledger, int64_t machine_id,
                                 void (*each)(void *ctx, const struct service_row *row), void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_SERVICES_EACH, &row, STORE_VALUES(store_integer(machine_id)));
    while (result == LEDGER_OK) {
        struct service_row service;
        store_read(row, &shape, &service);
        each(ctx, &service);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}
