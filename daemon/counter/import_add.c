/* SPDX-License-Identifier: MIT
 * import_add: see import_add.h. */
#include "daemon/counter/import_add.h"

#include <stdio.h>

#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/services.h"

/* The ledger's numbers for the row's machine and person; person 0 unsaid. */
struct names {
    int64_t machine_id, person_id;
};

static enum ledger_result find_names(struct ledger *ledger, const struct import_rows *rows,
                                     const struct import_row *row, struct names *names)
{
    const struct settings *settings = rows->settings;
    names->person_id = 0;
    enum ledger_result result =
        machines_id(ledger, settings->machines[row->machine].name, &names->machine_id);
    if (result == LEDGER_OK && row->person >= 0) {
        result = people_id(ledger, settings->people[row->person].name, &names->person_id);
    }
    return result;
}

static enum ledger_result add_reading(struct ledger *ledger, const struct import_rows *rows,
                                      const struct import_row *row, const struct names *names)
{
    struct reading_row reading = {.machine_id = names->machine_id,
                                  .meter_hundredths = row->hundredths,
                                  .read_s = row->at_s,
                                  .noted_s = rows->now_s,
                                  .person_id = names->person_id};
    (void)snprintf(reading.remark, sizeof reading.remark, "%s", row->remark);
    return readings_add(ledger, &reading);
}

static enum ledger_result add_service(struct ledger *ledger, const struct import_rows *rows,
                                      const struct import_row *row, const struct names *names)
{
    struct service_row service = {.machine_id = names->machine_id,
                                  .meter_hundredths = row->hundredths,
                                  .done_s = row->at_s,
                                  .noted_s = rows->now_s,
                                  .person_id = names->person_id,
                                  .quantity_thousandths = row->quantity_thousandths};
    (void)snprintf(service.plan, sizeof service.plan, "%s", rows->settings->plans[row->plan].name);
    (void)snprintf(service.unit, sizeof service.unit, "%s", row->unit);
    (void)snprintf(service.remark, sizeof service.remark, "%s", row->remark);
    return services_add(ledger, &service);
}

static enum ledger_result add_swap(struct ledger *ledger, const struct import_row *row,
                                   const struct names *names)
{
    struct meter_change change = {.machine_id = names->machine_id,
                                  .at_s = row->at_s,
                                  .old_last_hundredths = row->hundredths,
                                  .new_first_hundredths = row->new_hundredths,
                                  .person_id = names->person_id};
    return readings_change_meter(ledger, &change);
}

static enum ledger_result add_row(struct ledger *ledger, const struct import_rows *rows,
                                  const struct import_row *row)
{
    struct names names;
    enum ledger_result result = find_names(ledger, rows, row, &names);
    if (result != LEDGER_OK) {
        return result;
    }
    switch (rows->kind->what) {
    case IMPORT_READINGS:
        return add_reading(ledger, rows, row, &names);
    case IMPORT_SERVICES:
        return add_service(ledger, rows, row, &names);
    case IMPORT_SWAPS:
        return add_swap(ledger, row, &names);
    case IMPORT_PARKINGS:
        return (row->back ? machines_back : machines_park)(ledger, names.machine_id, row->at_s,
                                                           names.person_id, 0);
    }
    return LEDGER_REFUSED;
}

enum ledger_result import_add_rows(struct ledger *ledger, const struct import_rows *rows)
{
    enum ledger_result result = LEDGER_OK;
    for (size_t i = 0; i < rows->count && result == LEDGER_OK; i++) {
        if (rows->rows[i].accepted) {
            result = add_row(ledger, rows, &rows->rows[i]);
        }
    }
    return result;
}
