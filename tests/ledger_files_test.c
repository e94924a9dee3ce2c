/* SPDX-License-Identifier: MIT
 * Backups: whole, alone in one file, never in the way of a ledger or of anything else. */
#include "tests/ledger_room.h"

#include <sys/stat.h>

#include "daemon/ledger/marks.h"

static char backup[160];

static void name_backup(struct room *room)
{
    (void)snprintf(backup, sizeof backup, "%s/backup.db", room->folder);
}

static bool beside_backup(const char *suffix)
{
    char name[200];
    (void)snprintf(name, sizeof name, "%s%s", backup, suffix);
    return access(name, F_OK) == 0;
}

static void write_to(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static void assert_holds(const char *path, int64_t expected)
{
    int64_t value;
    struct ledger *ledger = room_open(path, LEDGER_WRITE);
    assert_int_equal(marks_get(ledger, "told", &value), LEDGER_OK);
    assert_int_equal(value, expected);
    assert_int_equal(room_number(ledger, "SELECT count(*) FROM readings"), 1);
    ledger_close(ledger);
}

static void a_backup_made_while_the_ledger_is_written_is_whole(void **state)
{
    struct room *room = *state;
    struct stat found;
    name_backup(room);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    assert_int_equal(marks_set(room->ledger, "told", 1), LEDGER_OK);
    struct ledger *reader = room_open(room->path, LEDGER_READ);
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK);
    assert_int_equal(marks_set(room->ledger, "told", 2), LEDGER_OK);
    assert_int_equal(ledger_backup(reader, backup), LEDGER_OK); /* what is committed */
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    ledger_close(reader);
    assert_int_equal(stat(backup, &found), 0);
    assert_int_equal(found.st_mode & 0777, 0640);
    static const char *const suffixes[] = {".part", ".part-journal", "-wal", "-shm", "-journal"};
    for (size_t i = 0; i < sizeof suffixes / sizeof suffixes[0]; i++) {
        assert_false(beside_backup(suffixes[i]));
    }
    assert_holds(backup, 1);
}

static void a_backup_can_be_read_where_it_lies(void **state)
{
    struct room *room = *state;
    int64_t value;
    name_backup(room);
    assert_int_equal(marks_set(room->ledger, "told", 1), LEDGER_OK);
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_OK);
    struct ledger *ledger = room_open(backup, LEDGER_READ);
    assert_int_equal(marks_get(ledger, "told", &value), LEDGER_OK);
    ledger_close(ledger);
    assert_false(beside_backup("-wal"));
}

static void an_earlier_backup_is_replaced(void **state)
{
    struct room *room = *state;
    name_backup(room);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    for (int64_t i = 1; i <= 2; i++) {
        assert_int_equal(marks_set(room->ledger, "told", i), LEDGER_OK);
        assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_OK);
    }
    assert_holds(backup, 2);
}

static void what_a_backup_cut_short_has_left_is_in_nobodys_way(void **state)
{
    struct room *room = *state;
    char name[200];
    name_backup(room);
    (void)snprintf(name, sizeof name, "%s.part", backup);
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_OK);
    assert_int_equal(rename(backup, name), 0);
    assert_int_equal(truncate(name, 5000), 0);
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_OK);
    assert_false(beside_backup(".part"));
}

static void a_file_that_is_no_ledger_is_not_overwritten(void **state)
{
    struct room *room = *state;
    char text[32] = "";
    name_backup(room);
    write_to(backup, "a letter");
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_FOREIGN);
    assert_non_null(strstr(ledger_says(room->ledger), backup));
    FILE *file = fopen(backup, "r");
    assert_non_null(file);
    assert_non_null(fgets(text, sizeof text, file));
    (void)fclose(file);
    assert_string_equal(text, "a letter");
}

/* Of what stands where a backup would go, nothing is followed, waited for or removed. */
static void what_is_the_users_beside_a_backup_stays(void **state)
{
    struct room *room = *state;
    char other[200], text[32] = "";
    name_backup(room);
    (void)snprintf(other, sizeof other, "%s.part", backup);
    write_to(other, "a part of a letter");
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_FOREIGN);
    assert_non_null(strstr(ledger_says(room->ledger), ".part"));
    FILE *file = fopen(other, "r");
    assert_non_null(file);
    assert_non_null(fgets(text, sizeof text, file));
    assert_int_equal(fclose(file), 0);
    assert_string_equal(text, "a part of a letter");
    assert_int_equal(unlink(other), 0);
    (void)snprintf(other, sizeof other, "%s/elsewhere.db", room->folder);
    assert_int_equal(symlink(other, backup), 0);
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_FOREIGN);
    assert_int_not_equal(access(other, F_OK), 0);
    assert_int_equal(unlink(backup), 0);
    assert_int_equal(mkfifo(backup, 0600), 0);
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_FOREIGN);
}

static void a_ledger_in_use_is_no_place_for_a_backup(void **state)
{
    struct room *room = *state;
    char name[200];
    name_backup(room);
    assert_int_equal(ledger_backup(room->ledger, room->path), LEDGER_HELD);
    assert_int_equal(symlink(room->path, backup), 0);
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_HELD);
    assert_int_equal(unlink(backup), 0);
    (void)snprintf(name, sizeof name, "%s-wal", backup); /* of another ledger of that name */
    write_to(name, "");
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_HELD);
}

static void a_folder_that_is_missing_is_named(void **state)
{
    struct room *room = *state;
    (void)snprintf(backup, sizeof backup, "%s/nowhere/backup.db", room->folder);
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_MISSING);
    assert_non_null(strstr(ledger_says(room->ledger), backup));
}

static void a_transaction_is_not_cut_in_two(void **state)
{
    struct room *room = *state;
    name_backup(room);
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK);
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_REFUSED);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
}

/* SQLite would play the WAL of the ledger that was there into the backup. */
static void a_backup_put_beside_the_wal_of_another_ledger_is_refused(void **state)
{
    struct room *room = *state;
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS], wal[200];
    name_backup(room);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    assert_int_equal(marks_set(room->ledger, "told", 1), LEDGER_OK);
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_OK);
    (void)snprintf(wal, sizeof wal, "%s-wal", backup);
    write_to(wal, "frames of another ledger");
    for (int mode = LEDGER_WRITE; mode <= LEDGER_READ; mode++) {
        assert_null(ledger_open(backup, (enum ledger_mode)mode, &result, says));
        assert_int_equal(result, LEDGER_DAMAGED);
        assert_non_null(strstr(says, "the -wal there is of another: move that away"));
    }
    assert_int_equal(unlink(wal), 0);
    assert_holds(backup, 1);
    assert_holds(backup, 1); /* its own WAL since */
}

static void no_new_ledger_is_made_beside_the_wal_of_one_that_is_gone(void **state)
{
    struct room *room = *state;
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS], wal[200];
    name_backup(room);
    (void)snprintf(wal, sizeof wal, "%s-wal", backup);
    write_to(wal, "what was committed last");
    assert_null(ledger_open(backup, LEDGER_WRITE, &result, says));
    assert_int_equal(result, LEDGER_DAMAGED);
    assert_false(beside_backup(""));
    assert_true(beside_backup("-wal"));
}

static void a_copy_that_does_not_hold_together_gets_no_name(void **state)
{
    struct room *room = *state;
    name_backup(room);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    assert_int_equal(sqlite3_exec(room->ledger->connection,
                                  "PRAGMA foreign_keys = OFF; DELETE FROM machines; "
                                  "PRAGMA foreign_keys = ON",
                                  NULL, NULL, NULL),
                     SQLITE_OK);
    assert_int_equal(ledger_backup(room->ledger, backup), LEDGER_DAMAGED);
    assert_false(beside_backup(""));
    assert_false(beside_backup(".part"));
}

int main(void)
{
#define ON_DISK(test) cmocka_unit_test_setup_teardown(test, room_on_disk, room_leave)
    const struct CMUnitTest tests[] = {
        ON_DISK(a_backup_made_while_the_ledger_is_written_is_whole),
        ON_DISK(a_backup_can_be_read_where_it_lies),
        ON_DISK(an_earlier_backup_is_replaced),
        ON_DISK(what_a_backup_cut_short_has_left_is_in_nobodys_way),
        ON_DISK(a_file_that_is_no_ledger_is_not_overwritten),
        ON_DISK(what_is_the_users_beside_a_backup_stays),
        ON_DISK(a_ledger_in_use_is_no_place_for_a_backup),
        ON_DISK(a_folder_that_is_missing_is_named),
        ON_DISK(a_transaction_is_not_cut_in_two),
        ON_DISK(a_backup_put_beside_the_wal_of_another_ledger_is_refused),
        ON_DISK(no_new_ledger_is_made_beside_the_wal_of_one_that_is_gone),
        ON_DISK(a_copy_that_does_not_hold_together_gets_no_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
