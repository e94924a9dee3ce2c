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
};
static const struct store_shape shape = STORE_SHAPE(struct service_row, fields);

static enum ledger_result add(struct ledger *ledger, struct service_row *row)
{
    enum ledger_result result = store_add(ledger, STATEMENT_SERVICE_ADD, &shape, row, &row->id);
    if (result != LEDGER_OK) {
        return result;
    }
    row->struck = false;
    int64_t offset_hundredths;
    result = readings_offset(ledger, row->machine_id, row->done_s, &offset_hundredths);
    row->true_hundredths = row->meter_hundredths + offset_hundredths;
    return result == LEDGER_OK ? effects_note(ledger, row->text_id, "service", row->id) : result;
}

enum ledger_result services_add(struct ledger *ledger, struct service_row *row)
{
    enum ledger_result result = store_step(ledger);
    return result == LEDGER_OK ? store_step_end(ledger, add(ledger, row)) : result;
}

enum ledger_result services_last(struct ledger *ledger, int64_t machine_id, const char *plan,
                                 int64_t until_s, struct service_row *row, int *count)
{
    sqlite3_stmt *found;
    int64_t changed = 0;
    *count = 0;
    enum ledger_result result = store_number(ledger, STATEMENT_METER_CHANGED, &changed,
                                             STORE_VALUES(store_integer(machine_id)));
    if (result == LEDGER_OK) {
        result = store_first(
            ledger, changed != 0 ? STATEMENT_SERVICE_LAST : STATEMENT_SERVICE_LAST_BY_METER, &found,
            STORE_VALUES(store_integer(machine_id), store_text(plan), store_integer(until_s)));
    }
    if (result == LEDGER_OK) {
        store_read(found, &shape, row);
        *count = (int)store_column(found, 13);
        store_done(found);
    }
    return result;
}

static enum ledger_result strike(struct ledger *ledger, int64_t text_id, int64_t service_id,
                                 int64_t person_id, int64_t at_s, const char *why)
{
    enum ledger_result result =
        store_change(ledger, STATEMENT_SERVICE_STRIKE, LEDGER_ALREADY,
                     STORE_VALUES(store_integer(service_id), store_integer(at_s),
                                  store_id(person_id), store_text(why)));
    if (result == LEDGER_OK) {
        result = store_run(ledger, STATEMENT_ALERTS_VOID_BY_SERVICE,
                           STORE_VALUES(store_integer(service_id), store_integer(at_s)));
    }
    return result == LEDGER_OK ? effects_note(ledger, text_id, "strike-service", service_id)
                               : result;
}

enum ledger_result services_strike_for(struct ledger *ledger, int64_t text_id, int64_t service_id,
                                       int64_t person_id, int64_t at_s, const char *why)
{
    enum ledger_result result = store_step(ledger);
    if (result != LEDGER_OK) {
        return result;
    }
    return store_step_end(ledger, strike(ledger, text_id, service_id, person_id, at_s, why));
}

enum ledger_result services_strike(struct ledger *ledger, int64_t service_id, int64_t person_id,
                                   int64_t at_s, const char *why)
{
    return services_strike_for(ledger, 0, service_id, person_id, at_s, why);
}

static enum ledger_result lift(struct ledger *ledger, int64_t service_id)
{
    enum ledger_result result = store_change(ledger, STATEMENT_SERVICE_UNSTRIKE, LEDGER_ALREADY,
                                             STORE_VALUES(store_integer(service_id)));
    return result == LEDGER_OK ? store_run(ledger, STATEMENT_ALERTS_STAND_BY_SERVICE,
                                           STORE_VALUES(store_integer(service_id)))
                               : result;
}

enum ledger_result services_unstrike(struct ledger *ledger, int64_t service_id)
{
    enum ledger_result result = store_step(ledger);
    return result == LEDGER_OK ? store_step_end(ledger, lift(ledger, service_id)) : result;
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
