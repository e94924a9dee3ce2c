/* SPDX-License-Identifier: MIT
 * marks: single facts in a table; and the mark of work, one line "TRIES FINGERPRINT" in a file that
 * is overwritten in place. It is no part of the transaction on purpose: the text that crashes the
 * desk takes its transaction with it.
 *
 * Dates are put right by one statement a column; parts go before their texts, by whose dates they are
 * chosen. */
#include "daemon/ledger/marks.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "daemon/ledger/store.h"
#include "daemon/upkeep/plan.h"

#define WORK_LINE_OCTETS 256

enum ledger_result marks_get(struct ledger *ledger, const char *name, int64_t *value)
{
    return store_number(ledger, STATEMENT_MARK_GET, value, STORE_VALUES(store_text(name)));
}

enum ledger_result marks_set(struct ledger *ledger, const char *name, int64_t value)
{
    return store_run(ledger, STATEMENT_MARK_SET,
                     STORE_VALUES(store_text(name), store_integer(value)));
}

/* How often this text was begun and not ended. What cannot be read counts as never. */
static int tries_so_far(int work, const char *fingerprint)
{
    char line[WORK_LINE_OCTETS] = "";
    char named[WORK_LINE_OCTETS] = "";
    int tries = 0;
    ssize_t length = pread(work, line, sizeof line - 1, 0);
    if (length <= 0 || sscanf(line, "%9d %255[^\n]", &tries, named) != 2) {
        return 0;
    }
    return strcmp(named, fingerprint) == 0 && tries > 0 ? tries : 0;
}

enum ledger_result marks_work_begins(struct ledger *ledger, const char *fingerprint, int *tries)
{
    char line[WORK_LINE_OCTETS];
    *tries = 0;
    if (ledger->work < 0) {
        return LEDGER_OK; /* a ledger in memory does not outlive a crash */
    }
    *tries = tries_so_far(ledger->work, fingerprint);
    int length = snprintf(line, sizeof line, "%d %s\n", *tries + 1, fingerprint);
    if (length < 0 || (size_t)length >= sizeof line) {
        return store_refuse(ledger, "fingerprint too long");
    }
    if (ftruncate(ledger->work, 0) != 0 ||
        pwrite(ledger->work, line, (size_t)length, 0) != (ssize_t)length) {
        enum ledger_result result = faults_of_errno(errno);
        (void)faults_say(result, ledger->path, "mark of work", ledger->says);
        return store_note(ledger, result);
    }
    return LEDGER_OK;
}

void marks_work_ended(struct ledger *ledger)
{
    if (ledger->work >= 0 && ftruncate(ledger->work, 0) != 0) {
        return; /* left standing it says "begun once" of a text that is done: harmless */
    }
}

enum ledger_result dates_latest(struct ledger *ledger, int64_t *latest_s)
{
    return store_number(ledger, STATEMENT_DATES_LATEST, latest_s, STORE_NO_VALUES);
}

/* Every statement from first to last, in the order of sql.h. */
static enum ledger_result run_all(struct ledger *ledger, enum statement first, enum statement last,
                                  int64_t one_s, int64_t other_s)
{
    store_step(ledger);
    for (enum statement statement = first; statement <= last; statement++) {
        (void)store_run(ledger, statement,
                        STORE_VALUES(store_integer(one_s), store_integer(other_s)));
    }
    return store_step_end(ledger, LEDGER_OK);
}

/* The stages that days alone can lead to. */
static bool of_calendar(enum due_stage stage)
{
    return due_stage_row(stage)->tells && stage != DUE_STAGE_NO_RECORD;
}

enum ledger_result dates_move_back(struct ledger *ledger, int64_t limit_s, int64_t back_s)
{
    store_step(ledger);
    for (enum due_stage stage = 0; stage < DUE_STAGE_COUNT; stage++) {
        if (of_calendar(stage)) {
            (void)store_run(ledger, STATEMENT_DATES_ALERTS_VOID,
                            STORE_VALUES(store_integer(limit_s), store_integer(back_s),
                                         store_text(due_stage_word(stage))));
        }
    }
    return store_step_end(ledger, run_all(ledger, STATEMENT_DATES_ALERTS_RAISED,
                                          STATEMENT_DATES_MARKS, limit_s, back_s));
}

enum ledger_result dates_by_stamps(struct ledger *ledger, int64_t ahead_s, int64_t now_s)
{
    return run_all(ledger, STATEMENT_STAMPS_READINGS, STATEMENT_STAMPS_ARRIVALS, ahead_s, now_s);
}
