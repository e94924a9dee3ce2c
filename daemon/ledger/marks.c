/* SPDX-License-Identifier: MIT
 * marks: single facts in a table; and the mark of work, one line "TRIES FINGERPRINT" in a file that
 * is overwritten in place. It is no part of the transaction on purpose: the text that crashes the
 * desk takes its transaction with it. */
#include "daemon/ledger/marks.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "daemon/ledger/faults.h"
#include "daemon/ledger/store.h"

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
        return store_trouble(ledger, result);
    }
    return LEDGER_OK;
}

void marks_work_ended(struct ledger *ledger)
{
    if (ledger->work >= 0 && ftruncate(ledger->work, 0) != 0) {
        return; /* left standing it says "begun once" of a text that is done: harmless */
    }
}
