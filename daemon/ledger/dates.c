/* SPDX-License-Identifier: MIT
 * dates: see the header. One statement a column; parts go before their texts, by whose dates they
 * are chosen. */
#include "daemon/ledger/dates.h"

#include "daemon/ledger/store.h"

enum ledger_result dates_latest(struct ledger *ledger, int64_t *latest_s)
{
    return store_number(ledger, STATEMENT_DATES_LATEST, latest_s, STORE_NO_VALUES);
}

static enum ledger_result run_all(struct ledger *ledger, const enum statement *statements,
                                  size_t count, int64_t first, int64_t second)
{
    enum ledger_result result = LEDGER_OK;
    for (size_t i = 0; i < count && result == LEDGER_OK; i++) {
        result = store_run(ledger, statements[i],
                           STORE_VALUES(store_integer(first), store_integer(second)));
    }
    return result;
}

enum ledger_result dates_move_back(struct ledger *ledger, int64_t limit_s, int64_t back_s)
{
    static const enum statement statements[] = {
        STATEMENT_DATES_ALERTS_VOID,   STATEMENT_DATES_ALERTS_RAISED,  STATEMENT_DATES_ALERTS_TOLD,
        STATEMENT_DATES_PARTS_HELD,    STATEMENT_DATES_PARTS_HANDED,   STATEMENT_DATES_TEXTS_OUT,
        STATEMENT_DATES_TEXTS_IN,      STATEMENT_DATES_TEXTS_SENT,     STATEMENT_DATES_ARRIVALS,
        STATEMENT_DATES_READINGS,      STATEMENT_DATES_READINGS_NOTED, STATEMENT_DATES_SERVICES,
        STATEMENT_DATES_METER_CHANGES, STATEMENT_DATES_PARKINGS,       STATEMENT_DATES_PUT_OFFS,
        STATEMENT_DATES_QUESTIONS,     STATEMENT_DATES_REFUSALS,       STATEMENT_DATES_OPT_OUTS,
        STATEMENT_DATES_MARKS};
    return run_all(ledger, statements, sizeof statements / sizeof statements[0], limit_s, back_s);
}

enum ledger_result dates_by_stamps(struct ledger *ledger, int64_t ahead_s, int64_t now_s)
{
    /* The arrivals go last: they are what the others are chosen by. */
    static const enum statement statements[] = {
        STATEMENT_STAMPS_READINGS, STATEMENT_STAMPS_SERVICES, STATEMENT_STAMPS_TEXTS_IN,
        STATEMENT_STAMPS_ARRIVALS};
    return run_all(ledger, statements, sizeof statements / sizeof statements[0], ahead_s, now_s);
}
