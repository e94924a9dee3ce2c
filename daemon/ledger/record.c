/* SPDX-License-Identifier: MIT
 * record: see record.h. One statement puts the tables side by side. */
#include "daemon/ledger/record.h"

#include "daemon/ledger/store.h"

enum ledger_result
record_each(struct ledger *ledger, int64_t machine_id,
            void (*each)(void *ctx, const char *machine, const struct record_line *line), void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_RECORD_EACH, &row, STORE_VALUES(store_integer(machine_id)));
    while (result == LEDGER_OK) {
        struct record_line line = {.kind = store_column_text(row, 1),
                                   .at_s = store_column(row, 2),
                                   .meter_hundredths = store_column(row, 3),
                                   .true_hundredths = store_column(row, 4),
                                   .new_hundredths = store_column(row, 5),
                                   .plan = store_column_text(row, 6),
                                   .stage = store_column_text(row, 7),
                                   .quantity_thousandths = store_column(row, 8),
                                   .unit = store_column_text(row, 9),
                                   .person = store_column_text(row, 10),
                                   .remark = store_column_text(row, 11),
                                   .struck_s = store_column(row, 12),
                                   .struck_by = store_column_text(row, 13),
                                   .struck_why = store_column_text(row, 14),
                                   .noted_s = store_column(row, 15)};
        each(ctx, store_column_text(row, 0), &line);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}
