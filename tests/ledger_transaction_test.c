/* SPDX-License-Identifier: MIT
 * Transactions: all of a text or nothing, through a desk that fails, a full disk, and SQLite rolling
 * back by itself. Syncs are counted by standing in for fdatasync and fsync, which SQLite calls. */
#include "tests/ledger_room.h"

#include <signal.h>
#include <sys/resource.h>
#include <sys/syscall.h>

#include "daemon/ledger/marks.h"
#include "daemon/ledger/store.h"

static int syncs;

int fdatasync(int descriptor)
{
    syncs++;
    return (int)syscall(SYS_fdatasync, descriptor);
}

int fsync(int descriptor)
{
    syncs++;
    return (int)syscall(SYS_fsync, descriptor);
}

static bool marked(struct room *room, const char *name)
{
    int64_t value;
    enum ledger_result result = marks_get(room->ledger, name, &value);
    assert_true(result == LEDGER_OK || result == LEDGER_NONE);
    return result == LEDGER_OK;
}

static void begin(struct room *room)
{
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK);
}

static void mark(struct room *room, const char *name)
{
    assert_int_equal(marks_set(room->ledger, name, 1), LEDGER_OK);
}

static void what_is_rolled_back_never_was(void **state)
{
    struct room *room = *state;
    begin(room);
    mark(room, "gone");
    ledger_rollback(room->ledger);
    assert_false(marked(room, "gone"));
    ledger_rollback(room->ledger); /* fine outside a transaction */
    begin(room);
    mark(room, "stays");
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    assert_true(marked(room, "stays"));
}

static void calls_out_of_turn_are_refused(void **state)
{
    struct room *room = *state;
    assert_int_equal(ledger_commit(room->ledger), LEDGER_REFUSED);
    assert_int_equal(ledger_savepoint(room->ledger), LEDGER_REFUSED);
    begin(room);
    assert_int_equal(ledger_begin(room->ledger), LEDGER_REFUSED);
    assert_int_equal(ledger_release(room->ledger), LEDGER_REFUSED);
    mark(room, "stays");
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    assert_true(marked(room, "stays"));
}

static void a_desk_that_fails_leaves_the_raw_text(void **state)
{
    struct room *room = *state;
    begin(room);
    mark(room, "raw");
    assert_int_equal(ledger_savepoint(room->ledger), LEDGER_OK);
    mark(room, "desk");
    ledger_back_to_savepoint(room->ledger);
    assert_int_equal(ledger_savepoint(room->ledger), LEDGER_OK); /* and may try again */
    mark(room, "set-aside");
    assert_int_equal(ledger_release(room->ledger), LEDGER_OK);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    assert_true(marked(room, "raw"));
    assert_true(marked(room, "set-aside"));
    assert_false(marked(room, "desk"));
}

static const struct reading_row of_no_machine = {.machine_id = 999};

static void after_a_fault_nothing_is_done_and_nothing_stays(void **state)
{
    struct room *room = *state;
    struct reading_row bad = of_no_machine, found = {.id = 1};
    int64_t since_s = 1;
    begin(room);
    mark(room, "before");
    assert_int_equal(ledger_fault(room->ledger), LEDGER_OK);
    assert_int_equal(readings_add(room->ledger, &bad), LEDGER_REFUSED);
    assert_int_equal(ledger_fault(room->ledger), LEDGER_REFUSED);
    assert_int_equal(marks_set(room->ledger, "after", 1), LEDGER_REFUSED);
    /* what was to be read is zero */
    assert_int_equal(people_opted_out(room->ledger, room->ines, &since_s), LEDGER_REFUSED);
    assert_int_equal(since_s, 0);
    assert_int_equal(readings_first(room->ledger, room->m12, &found), LEDGER_REFUSED);
    assert_int_equal(found.id, 0);
    assert_non_null(strstr(ledger_says(room->ledger), "FOREIGN KEY"));
    assert_int_equal(ledger_end(room->ledger, LEDGER_OK), LEDGER_REFUSED);
    assert_int_equal(ledger_fault(room->ledger), LEDGER_OK);
    assert_false(marked(room, "before"));
    assert_false(marked(room, "after"));
    begin(room); /* the next one is well */
    mark(room, "next");
    assert_int_equal(ledger_end(room->ledger, LEDGER_OK), LEDGER_OK);
}

static void a_refused_row_spoils_nothing_before_the_savepoint(void **state)
{
    struct room *room = *state;
    struct reading_row bad = of_no_machine;
    begin(room);
    mark(room, "before");
    assert_int_equal(ledger_savepoint(room->ledger), LEDGER_OK);
    mark(room, "with it");
    assert_int_equal(readings_add(room->ledger, &bad), LEDGER_REFUSED);
    assert_int_equal(ledger_release(room->ledger), LEDGER_REFUSED);
    assert_int_equal(ledger_fault(room->ledger), LEDGER_OK);
    mark(room, "after");
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    assert_true(marked(room, "before"));
    assert_false(marked(room, "with it"));
    assert_true(marked(room, "after"));
}

static void no_such_row_and_there_already_are_no_faults(void **state)
{
    struct room *room = *state;
    int64_t value;
    begin(room);
    assert_int_equal(marks_get(room->ledger, "never", &value), LEDGER_NONE);
    assert_int_equal(machines_park(room->ledger, room->m12, ROOM_NOON_S, 0, 0), LEDGER_OK);
    assert_int_equal(machines_park(room->ledger, room->m12, ROOM_NOON_S, 0, 0), LEDGER_ALREADY);
    assert_int_equal(ledger_end(room->ledger, LEDGER_OK), LEDGER_OK);
    assert_int_equal(machines_parked(room->ledger, room->m12, &value), LEDGER_OK);
    assert_int_equal(value, ROOM_NOON_S);
}

/* As after a full disk: SQLite ends the transaction by itself while a statement fails. */
static void break_transaction(struct room *room)
{
    struct reading_row bad = {.machine_id = 999};
    assert_int_equal(sqlite3_exec(room->ledger->connection, "ROLLBACK", NULL, NULL, NULL),
                     SQLITE_OK);
    assert_int_equal(
        store_run(room->ledger, STATEMENT_READING_ADD,
                  STORE_VALUES(store_integer(bad.machine_id), store_integer(1), store_integer(1),
                               store_integer(1), store_id(0), store_id(0), store_text(""))),
        LEDGER_REFUSED);
}

static void when_sqlite_rolls_back_by_itself_nothing_more_gets_in(void **state)
{
    struct room *room = *state;
    begin(room);
    mark(room, "first");
    break_transaction(room);
    assert_int_equal(marks_set(room->ledger, "second", 1), LEDGER_REFUSED);
    assert_int_equal(ledger_savepoint(room->ledger), LEDGER_REFUSED);
    ledger_back_to_savepoint(room->ledger);
    assert_int_equal(marks_set(room->ledger, "third", 1), LEDGER_REFUSED);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_REFUSED);
    assert_false(marked(room, "first"));
    assert_false(marked(room, "second"));
    begin(room); /* the next text is well again */
    mark(room, "next");
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    assert_true(marked(room, "next"));
}

static void a_full_disk_is_told_and_gone_once_there_is_room(void **state)
{
    struct room *room = *state;
    static char remark[READINGS_REMARK_OCTETS];
    memset(remark, 'x', sizeof remark - 1);
    struct reading_row row = {.machine_id = room->m12, .meter_hundredths = 1};
    memcpy(row.remark, remark, sizeof remark);
    int64_t pages = room_number(room->ledger, "PRAGMA page_count");
    char limit[64];
    (void)snprintf(limit, sizeof limit, "PRAGMA max_page_count = %d", (int)pages + 1);
    (void)room_number(room->ledger, limit);
    begin(room);
    enum ledger_result result = LEDGER_OK;
    for (int i = 0; i < 100 && result == LEDGER_OK; i++) {
        result = readings_add(room->ledger, &row);
    }
    assert_int_equal(result, LEDGER_FULL);
    assert_non_null(strstr(ledger_says(room->ledger), "disk is full"));
    assert_non_null(strstr(ledger_says(room->ledger), "make room"));
    ledger_rollback(room->ledger);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM readings"), 0);
    (void)room_number(room->ledger, "PRAGMA max_page_count = 100000");
    begin(room);
    assert_int_equal(readings_add(room->ledger, &row), LEDGER_OK);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
}

static void several_writes_hold_together_without_a_transaction_too(void **state)
{
    struct room *room = *state;
    struct reading_row row = {.machine_id = room->m12, .meter_hundredths = 1, .text_id = 0};
    /* the effect of the reading cannot be noted: the reading must not stay either */
    int64_t text_id = room_text(room, room->ines, "M12 1340", ROOM_NOON_S);
    row.text_id = text_id;
    assert_int_equal(sqlite3_exec(room->ledger->connection,
                                  "CREATE TEMP TRIGGER fails BEFORE INSERT ON effects BEGIN "
                                  "SELECT raise(ABORT, 'as the test wants it'); END",
                                  NULL, NULL, NULL),
                     SQLITE_OK);
    assert_int_equal(readings_add(room->ledger, &row), LEDGER_REFUSED);
    assert_non_null(strstr(ledger_says(room->ledger), "as the test wants it"));
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM readings"), 0);
    assert_int_equal(sqlite3_get_autocommit(room->ledger->connection), 1);
}

static void one_text_in_and_its_reply_out_cost_three_syncs(void **state)
{
    struct room *room = *state;
    static struct texts_kept kept;
    static struct texts_part part;
    int64_t text_id, next_s;
    struct texts_incoming incoming = room_pdu("0791", "M12 1340h", ROOM_NOON_S);
    struct texts_outgoing reply = {.person_id = room->ines,
                                   .phone = "+12065550110",
                                   .body = "M12 1340 h noted.",
                                   .kind = TEXTS_REPLY,
                                   .expires_s = ROOM_NOON_S + ROOM_DAY_S,
                                   .parts = 1};
    (void)marks_set(room->ledger, "settled", 1);
    syncs = 0;
    begin(room);
    assert_int_equal(texts_keep(room->ledger, &incoming, &kept), LEDGER_OK);
    assert_int_equal(ledger_savepoint(room->ledger), LEDGER_OK);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, kept.text_id);
    reply.about_text_id = kept.text_id;
    assert_int_equal(texts_queue(room->ledger, &reply, &text_id), LEDGER_OK);
    assert_int_equal(texts_set_state(room->ledger, kept.text_id, TEXTS_DONE, room->ines),
                     LEDGER_OK);
    assert_int_equal(ledger_release(room->ledger), LEDGER_OK);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    assert_int_equal(syncs, 1);
    assert_int_equal(texts_next_part(room->ledger, NULL, ROOM_NOON_S, &part, &next_s), LEDGER_OK);
    assert_int_equal(syncs, 1);
    assert_int_equal(texts_part_handed_over(room->ledger, NULL, part.part_id, ROOM_NOON_S),
                     LEDGER_OK);
    assert_int_equal(
        texts_part_ended(room->ledger, part.part_id, TEXTS_PART_TAKEN, 1, -1, ROOM_NOON_S),
        LEDGER_OK);
    assert_int_equal(syncs, 3);
}

static void looking_costs_no_sync(void **state)
{
    struct room *room = *state;
    static struct texts_part part;
    static struct texts_kept kept;
    char from[TEXTS_FROM_OCTETS];
    int64_t id, next_s;
    int tries;
    syncs = 0;
    assert_int_equal(texts_next_part(room->ledger, NULL, ROOM_NOON_S, &part, &next_s), LEDGER_NONE);
    assert_int_equal(texts_next_arrived(room->ledger, &kept, from), LEDGER_NONE);
    assert_int_equal(people_id(room->ledger, "Ines", &id), LEDGER_OK);
    assert_int_equal(marks_work_begins(room->ledger, "a text", &tries), LEDGER_OK);
    marks_work_ended(room->ledger);
    begin(room);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    assert_int_equal(syncs, 0);
}

static void a_report_sees_one_view(void **state)
{
    struct room *room = *state;
    struct ledger *reader = room_open(room->path, LEDGER_READ);
    int64_t value = 0;
    assert_int_equal(ledger_look(reader), LEDGER_OK);
    assert_int_equal(marks_get(reader, "later", &value), LEDGER_NONE);
    assert_int_equal(marks_set(room->ledger, "later", 1), LEDGER_OK);
    assert_int_equal(marks_get(reader, "later", &value), LEDGER_NONE);
    ledger_rollback(reader);
    assert_int_equal(marks_get(reader, "later", &value), LEDGER_OK);
    ledger_close(reader);
}

/* A disk on which the ledger has room and its WAL not much: once it is full, what the WAL holds goes into the
 * ledger, and the WAL's room is there again. */
#define LITTLE_ROOM (128 * 1024)

static void a_wal_that_filled_the_disk_gives_its_room_back(void **state)
{
    struct room *room = *state;
    struct rlimit before, little;
    int64_t kept = 0;
    int refused = 0;
    (void)signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(getrlimit(RLIMIT_FSIZE, &before), 0);
    little = before;
    little.rlim_cur = LITTLE_ROOM;
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &little), 0);
    for (int64_t i = 1; i <= 1000 && refused < 3; i++) {
        enum ledger_result result = ledger_begin(room->ledger);
        (void)marks_set(room->ledger, "count", i);
        result = ledger_end(room->ledger, result);
        assert_true(result == LEDGER_OK || result == LEDGER_FULL);
        refused += result == LEDGER_FULL;
        kept = result == LEDGER_OK ? i : kept;
    }
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &before), 0);
    assert_int_equal(refused, 3); /* three times full, and twice there was room again */
    assert_true(kept > 150);
    int64_t value = 0;
    assert_int_equal(marks_get(room->ledger, "count", &value), LEDGER_OK);
    assert_int_equal(value, kept);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
#define ON_DISK(test) cmocka_unit_test_setup_teardown(test, room_on_disk, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(what_is_rolled_back_never_was),
        IN_MEMORY(calls_out_of_turn_are_refused),
        IN_MEMORY(a_desk_that_fails_leaves_the_raw_text),
        IN_MEMORY(after_a_fault_nothing_is_done_and_nothing_stays),
        IN_MEMORY(a_refused_row_spoils_nothing_before_the_savepoint),
        IN_MEMORY(no_such_row_and_there_already_are_no_faults),
        IN_MEMORY(when_sqlite_rolls_back_by_itself_nothing_more_gets_in),
        ON_DISK(a_full_disk_is_told_and_gone_once_there_is_room),
        IN_MEMORY(several_writes_hold_together_without_a_transaction_too),
        ON_DISK(one_text_in_and_its_reply_out_cost_three_syncs),
        ON_DISK(looking_costs_no_sync),
        ON_DISK(a_report_sees_one_view),
        ON_DISK(a_wal_that_filled_the_disk_gives_its_room_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
