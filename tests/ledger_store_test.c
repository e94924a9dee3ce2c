/* SPDX-License-Identifier: MIT
 * What SQLite and the system report, and what a person is told. */
#include "tests/ledger_room.h"

#include <errno.h>

#include "daemon/ledger/store.h"

static void codes_become_results(void **state)
{
    (void)state;
    static const struct {
        int code, system_error;
        enum ledger_result expected;
    } cases[] = {
        {SQLITE_BUSY, 0, LEDGER_BUSY},
        {SQLITE_BUSY_SNAPSHOT, 0, LEDGER_BUSY},
        {SQLITE_FULL, 0, LEDGER_FULL},
        {SQLITE_IOERR_WRITE, ENOSPC, LEDGER_FULL},
        {SQLITE_IOERR_SHMSIZE, EDQUOT, LEDGER_FULL},
        {SQLITE_IOERR_WRITE, EROFS, LEDGER_READ_ONLY},
        {SQLITE_IOERR_FSYNC, EIO, LEDGER_IO},
        {SQLITE_IOERR_READ, 0, LEDGER_IO},
        /* an errno that another call left behind */
        {SQLITE_IOERR_WRITE, ENOENT, LEDGER_IO},
        {SQLITE_IOERR_FSYNC, EACCES, LEDGER_IO},
        {SQLITE_IOERR_READ, ENOENT, LEDGER_IO},
        {SQLITE_IOERR_READ, ENOSPC, LEDGER_IO},
        {SQLITE_IOERR_SHORT_READ, EROFS, LEDGER_IO},
        {SQLITE_IOERR_LOCK, EAGAIN, LEDGER_IO},
        {SQLITE_CANTOPEN, EAGAIN, LEDGER_IO},
        {SQLITE_CANTOPEN, 0, LEDGER_IO},
        {SQLITE_CANTOPEN_ISDIR, ENOENT, LEDGER_FOREIGN},
        {SQLITE_FULL, ENOENT, LEDGER_FULL},
        {SQLITE_READONLY, ENOENT, LEDGER_READ_ONLY},
        {SQLITE_NOMEM, ENOENT, LEDGER_IO},
        {SQLITE_CANTOPEN, ENOENT, LEDGER_MISSING},
        {SQLITE_CANTOPEN, EACCES, LEDGER_READ_ONLY},
        {SQLITE_READONLY, 0, LEDGER_READ_ONLY},
        {SQLITE_READONLY_DBMOVED, 0, LEDGER_READ_ONLY},
        {SQLITE_CORRUPT, 0, LEDGER_DAMAGED},
        {SQLITE_IOERR_CORRUPTFS, EIO, LEDGER_IO},
        {SQLITE_NOTADB, 0, LEDGER_DAMAGED},
        {SQLITE_CONSTRAINT_FOREIGNKEY, 0, LEDGER_REFUSED},
        {SQLITE_NOMEM, 0, LEDGER_IO},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(faults_of_sqlite(cases[i].code, cases[i].system_error), cases[i].expected);
    }
}

static void the_sentence_names_the_file_and_ends_with_what_to_do(void **state)
{
    (void)state;
    static char path[97], detail[49];
    memset(path, 'p', sizeof path - 1);
    memset(detail, 'd', sizeof detail - 1);
    for (int result = LEDGER_OK; result <= LEDGER_REFUSED; result++) {
        char says[LEDGER_SAYS_OCTETS], shorter[LEDGER_SAYS_OCTETS];
        assert_int_equal(faults_say((enum ledger_result)result, "x", "", shorter), result);
        assert_int_equal(faults_say((enum ledger_result)result, path, detail, says), result);
        assert_memory_equal(says, path, sizeof path - 1);
        /* the longest path and detail do not cut what to do */
        const char *todo = strrchr(shorter, ':');
        assert_non_null(todo);
        assert_string_equal(says + strlen(says) - strlen(todo), todo);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(codes_become_results),
        cmocka_unit_test(the_sentence_names_the_file_and_ends_with_what_to_do),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
