/* SPDX-License-Identifier: MIT
 * Opening and closing the ledger, as owner, as second, as reader; what must not be touched. */
#include "tests/ledger_room.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include "daemon/ledger/marks.h"
#include "daemon/ledger/store.h"

#define FILE_MAX (1 << 20)
#define NOBODY 65534

static char says[LEDGER_SAYS_OCTETS];

static enum ledger_result try_open(const char *path, enum ledger_mode mode)
{
    enum ledger_result result;
    struct ledger *ledger = ledger_open(path, mode, &result, says);
    assert_true((ledger != NULL) == (result == LEDGER_OK));
    ledger_close(ledger);
    return result;
}

static size_t slurp(const char *path, char *out)
{
    int descriptor = open(path, O_RDONLY);
    assert_true(descriptor >= 0);
    ssize_t length = read(descriptor, out, FILE_MAX);
    assert_true(length >= 0 && length < FILE_MAX);
    (void)close(descriptor);
    return (size_t)length;
}

static void write_file(const char *path, const char *octets, size_t length)
{
    int descriptor = open(path, O_WRONLY | O_CREAT | O_TRUNC, 0640);
    assert_true(descriptor >= 0);
    assert_int_equal(write(descriptor, octets, length), length);
    (void)close(descriptor);
}

static void run_sql(const char *path, const char *sql)
{
    sqlite3 *connection = NULL;
    assert_int_equal(sqlite3_open(path, &connection), SQLITE_OK);
    assert_int_equal(sqlite3_exec(connection, sql, NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(connection), SQLITE_OK);
}

static bool beside(struct room *room, const char *suffix)
{
    char name[160];
    (void)snprintf(name, sizeof name, "%s%s", room->path, suffix);
    return access(name, F_OK) == 0;
}

/* Opening gives that result in either mode, names the file, and leaves its octets as they were. */
static void assert_refused_untouched(struct room *room, enum ledger_result expected)
{
    static char before[FILE_MAX], after[FILE_MAX];
    size_t length = slurp(room->path, before);
    for (int mode = LEDGER_WRITE; mode <= LEDGER_READ; mode++) {
        assert_int_equal(try_open(room->path, (enum ledger_mode)mode), expected);
        assert_non_null(strstr(says, room->path));
        assert_int_equal(slurp(room->path, after), length);
        assert_memory_equal(after, before, length);
    }
}

static void a_new_ledger_is_made_in_a_folder_that_is_there(void **state)
{
    struct room *room = *state;
    struct stat found;
    mode_t mask = umask(0);
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
    (void)umask(mask);
    assert_int_equal(stat(room->path, &found), 0);
    assert_int_equal(found.st_mode & 0777, 0640);
    assert_false(beside(room, ".new"));
    assert_true(beside(room, "-wal")); /* a reader of the group could not make one */
    run_sql(room->path, "SELECT count(*) FROM readings");
}

static void its_wal_and_lock_are_not_for_others_either(void **state)
{
    struct room *room = *state;
    static const char *const suffixes[] = {"-wal", "-shm", ".lock", ".work"};
    for (size_t i = 0; i < sizeof suffixes / sizeof suffixes[0]; i++) {
        char name[160];
        struct stat found;
        (void)snprintf(name, sizeof name, "%s%s", room->path, suffixes[i]);
        assert_int_equal(stat(name, &found), 0);
        assert_int_equal(found.st_mode & 0777, 0640);
    }
}

static void commits_are_synced_and_rules_are_enforced(void **state)
{
    struct room *room = *state;
    assert_int_equal(room_number(room->ledger, "PRAGMA synchronous"), 2);
    assert_int_equal(room_number(room->ledger, "PRAGMA foreign_keys"), 1);
    assert_int_equal(room_number(room->ledger, "PRAGMA trusted_schema"), 0);
    assert_int_equal(
        room_number(room->ledger, "SELECT journal_mode = 'wal' FROM pragma_journal_mode"), 1);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM pragma_table_list "
                                               "WHERE schema = 'main' AND name NOT LIKE 'sqlite%' "
                                               "AND NOT strict"),
                     0);
}

/* A version that its tables do not bear out: changed by hand, or a copy that was mixed up. */
static void a_ledger_of_a_wrong_version_is_left_alone_and_no_fault_of_ours(void **state)
{
    struct room *room = *state;
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
    run_sql(room->path, "PRAGMA user_version = 1; PRAGMA wal_checkpoint(TRUNCATE)");
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_FOREIGN);
    assert_non_null(strstr(says, "its tables are not of its version"));
    run_sql(room->path,
            "PRAGMA user_version = 3; DROP TABLE refusals; PRAGMA wal_checkpoint(TRUNCATE)");
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_FOREIGN);
    assert_non_null(strstr(says, "its tables are not of its version"));
}

static void what_a_crash_left_of_a_new_ledger_is_in_nobodys_way(void **state)
{
    struct room *room = *state;
    char name[160];
    (void)snprintf(name, sizeof name, "%s.new", room->path);
    write_file(name, "half of a ledger", 16);
    (void)snprintf(name, sizeof name, "%s.new-journal", room->path);
    write_file(name, "half of a journal", 17);
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
    assert_false(beside(room, ".new"));
    assert_false(beside(room, ".new-journal"));
}

static void a_folder_that_is_missing_is_named(void **state)
{
    struct room *room = *state;
    char path[160];
    (void)snprintf(path, sizeof path, "%s/nowhere/ledger.db", room->folder);
    assert_int_equal(try_open(path, LEDGER_WRITE), LEDGER_MISSING);
    assert_non_null(strstr(says, path));
    assert_int_equal(try_open(room->path, LEDGER_READ), LEDGER_MISSING);
    assert_false(beside(room, "")); /* reading makes nothing */
    assert_false(beside(room, ".lock"));
}

static void a_file_that_is_no_database_is_left_alone(void **state)
{
    struct room *room = *state;
    static char text[5000];
    memset(text, 'x', sizeof text);
    static const size_t lengths[] = {1, 99, 100, sizeof text};
    for (size_t i = 0; i < sizeof lengths / sizeof lengths[0]; i++) {
        write_file(room->path, text, lengths[i]);
        assert_refused_untouched(room, LEDGER_FOREIGN);
    }
    assert_false(beside(room, ".lock"));
}

static void a_folder_is_no_ledger(void **state)
{
    struct room *room = *state;
    assert_int_equal(try_open(room->folder, LEDGER_WRITE), LEDGER_FOREIGN);
}

static void the_database_of_another_program_is_left_alone(void **state)
{
    struct room *room = *state;
    run_sql(room->path, "CREATE TABLE theirs (x)");
    assert_refused_untouched(room, LEDGER_FOREIGN);
    run_sql(room->path, "PRAGMA application_id = 7; PRAGMA journal_mode = WAL");
    assert_refused_untouched(room, LEDGER_FOREIGN);
}

static void a_ledger_of_a_newer_version_is_left_alone(void **state)
{
    struct room *room = *state;
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
    run_sql(room->path, "PRAGMA user_version = 99; PRAGMA wal_checkpoint(TRUNCATE)");
    assert_refused_untouched(room, LEDGER_NEWER);
}

/* The newer version's last words may still be in the WAL. */
static void one_whose_wal_alone_says_that_it_is_newer_too(void **state)
{
    struct room *room = *state;
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
    sqlite3 *newer = NULL;
    assert_int_equal(sqlite3_open(room->path, &newer), SQLITE_OK);
    assert_int_equal(sqlite3_db_config(newer, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL),
                     SQLITE_OK);
    assert_int_equal(sqlite3_exec(newer, "PRAGMA user_version = 99", NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(newer), SQLITE_OK);
    assert_refused_untouched(room, LEDGER_NEWER);
}

/* A reader leaves it to the daemon, which brings it up to date on the spot. */
static void a_ledger_of_an_older_version_is_brought_up_to_date_by_a_writer(void **state)
{
    struct room *room = *state;
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
    run_sql(room->path, "ALTER TABLE texts_in DROP COLUMN outcome; DROP TABLE troubles; "
                        "ALTER TABLE services DROP COLUMN undated; DROP TABLE movements; "
                        "ALTER TABLE put_offs DROP COLUMN at_s; "
                        "ALTER TABLE texts_in DROP COLUMN modem; "
                        "ALTER TABLE parts_out DROP COLUMN modem; "
                        "ALTER TABLE questions DROP COLUMN says; PRAGMA user_version = 1; "
                        "PRAGMA wal_checkpoint(TRUNCATE)");
    assert_int_equal(try_open(room->path, LEDGER_READ), LEDGER_OLDER);
    assert_non_null(strstr(says, room->path));
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
    assert_int_equal(try_open(room->path, LEDGER_READ), LEDGER_OK);
}

static void a_damaged_ledger_is_left_alone(void **state)
{
    struct room *room = *state;
    static char octets[FILE_MAX];
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
    size_t length = slurp(room->path, octets);
    memset(octets + 100, 0xff, 3996); /* the first page behind its header: the schema */
    write_file(room->path, octets, length);
    assert_refused_untouched(room, LEDGER_DAMAGED);
}

static void a_ledger_cut_short_is_left_alone(void **state)
{
    struct room *room = *state;
    static char octets[FILE_MAX];
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
    size_t length = slurp(room->path, octets);
    write_file(room->path, octets, length / 2);
    assert_refused_untouched(room, LEDGER_DAMAGED);
}

static void a_second_writer_is_kept_out_and_told_why(void **state)
{
    struct room *room = *state;
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_HELD);
    assert_non_null(strstr(says, "another meterpost"));
    ledger_close(room->ledger);
    room->ledger = NULL;
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
}

static void another_name_of_the_same_ledger_is_the_same_ledger(void **state)
{
    struct room *room = *state;
    char link_path[160];
    (void)snprintf(link_path, sizeof link_path, "%s/link.db", room->folder);
    assert_int_equal(symlink(room->path, link_path), 0);
    assert_int_equal(try_open(link_path, LEDGER_WRITE), LEDGER_HELD);
}

static void a_reader_sees_what_is_committed_while_another_writes(void **state)
{
    struct room *room = *state;
    struct ledger *reader = room_open(room->path, LEDGER_READ);
    int64_t value;
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK);
    assert_int_equal(marks_set(room->ledger, "last-round-day", 20468), LEDGER_OK);
    assert_int_equal(marks_get(reader, "last-round-day", &value), LEDGER_NONE);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_OK);
    assert_int_equal(marks_get(reader, "last-round-day", &value), LEDGER_OK);
    assert_int_equal(value, 20468);
    ledger_close(reader);
    assert_true(beside(room, "-wal"));
    assert_int_equal(marks_set(room->ledger, "last-round-day", 20469), LEDGER_OK);
}

static void a_reader_cannot_write(void **state)
{
    struct room *room = *state;
    struct ledger *reader = room_open(room->path, LEDGER_READ);
    int64_t id;
    assert_int_equal(marks_set(reader, "x", 1), LEDGER_READ_ONLY);
    assert_int_equal(people_id(reader, "Tom", &id), LEDGER_NONE);
    assert_int_equal(people_id(reader, "Ines", &id), LEDGER_OK);
    ledger_close(reader);
}

/* Opens in a child that is nobody, a member of the given group. Returns the result. */
static enum ledger_result open_as_nobody(const char *path, enum ledger_mode mode)
{
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        enum ledger_result result = LEDGER_IO;
        int64_t value;
        if (setgid(0) != 0 || setuid(NOBODY) != 0) {
            _exit(100);
        }
        struct ledger *ledger = ledger_open(path, mode, &result, says);
        if (ledger != NULL && marks_get(ledger, "told", &value) != LEDGER_OK) {
            result = LEDGER_NONE;
        }
        ledger_close(ledger);
        _exit((int)result);
    }
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_true(WIFEXITED(status));
    return (enum ledger_result)WEXITSTATUS(status);
}

static void needs_root(void)
{
    if (geteuid() != 0) {
        skip(); /* only root can become another */
    }
}

static void a_member_of_the_group_can_read_though_not_write(void **state)
{
    struct room *room = *state;
    char name[160];
    needs_root();
    assert_int_equal(chmod(room->folder, 0750), 0);
    assert_int_equal(marks_set(room->ledger, "told", 1), LEDGER_OK);
    assert_int_equal(open_as_nobody(room->path, LEDGER_READ), LEDGER_OK); /* daemon running */
    ledger_close(room->ledger);
    room->ledger = NULL;
    assert_int_equal(open_as_nobody(room->path, LEDGER_READ), LEDGER_OK); /* stopped */
    (void)snprintf(name, sizeof name, "%s-wal", room->path);
    assert_int_equal(unlink(name), 0);
    (void)snprintf(name, sizeof name, "%s-shm", room->path);
    assert_int_equal(unlink(name), 0);
    assert_int_equal(open_as_nobody(room->path, LEDGER_READ), LEDGER_OK); /* moved here alone */
    assert_false(beside(room, "-wal"));
    assert_int_equal(open_as_nobody(room->path, LEDGER_WRITE), LEDGER_READ_ONLY);
}

static void a_ledger_that_cannot_be_written_is_said_to_be_so(void **state)
{
    struct room *room = *state;
    needs_root();
    assert_int_equal(try_open(room->path, LEDGER_WRITE), LEDGER_OK);
    assert_int_equal(chmod(room->folder, 0777), 0); /* the lock can be taken, the file not */
    static char before[FILE_MAX], after[FILE_MAX];
    size_t length = slurp(room->path, before);
    char lock[160];
    (void)snprintf(lock, sizeof lock, "%s.lock", room->path);
    assert_int_equal(unlink(lock), 0);
    assert_int_equal(open_as_nobody(room->path, LEDGER_WRITE), LEDGER_READ_ONLY);
    assert_int_equal(slurp(room->path, after), length);
    assert_memory_equal(after, before, length);
}

static void a_reader_leaves_the_locks_of_the_writer_in_force(void **state)
{
    struct room *room = *state;
    assert_int_equal(try_open(room->path, LEDGER_READ), LEDGER_OK); /* in this very process */
    /* Were they gone, another process could take the file for its own: the WAL would vanish. */
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        struct flock lock = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
        int descriptor = open(room->path, O_RDWR);
        _exit(descriptor >= 0 && fcntl(descriptor, F_GETLK, &lock) == 0 && lock.l_type != F_UNLCK
                  ? 0
                  : 1);
    }
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
}

static void after_a_clean_stop_everything_is_in_the_one_file(void **state)
{
    struct room *room = *state;
    char name[160];
    struct stat found;
    assert_int_equal(marks_set(room->ledger, "told", 1), LEDGER_OK);
    ledger_close(room->ledger);
    room->ledger = NULL;
    (void)snprintf(name, sizeof name, "%s-wal", room->path);
    assert_int_equal(stat(name, &found), 0);
    assert_int_equal(found.st_size, 0);
}

/* A child that commits one mark, begins another, and is gone without closing. */
static void write_and_die(struct room *room)
{
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        enum ledger_result result;
        struct ledger *ledger = ledger_open(room->path, LEDGER_WRITE, &result, says);
        if (ledger == NULL || marks_set(ledger, "committed", 1) != LEDGER_OK ||
            ledger_begin(ledger) != LEDGER_OK || marks_set(ledger, "begun", 1) != LEDGER_OK) {
            _exit(1);
        }
        _exit(0); /* without closing: the lock goes with the process */
    }
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
}

static void what_was_committed_outlives_a_kill(void **state)
{
    struct room *room = *state;
    int64_t value;
    write_and_die(room);
    room->ledger = room_open(room->path, LEDGER_WRITE);
    assert_int_equal(marks_get(room->ledger, "committed", &value), LEDGER_OK);
    assert_int_equal(marks_get(room->ledger, "begun", &value), LEDGER_NONE);
}

static void a_reader_after_a_kill_sees_it_all_and_moves_nothing(void **state)
{
    struct room *room = *state;
    static char before[FILE_MAX], after[FILE_MAX];
    char names[2][160];
    int64_t value;
    write_and_die(room);
    (void)snprintf(names[0], sizeof names[0], "%s", room->path);
    (void)snprintf(names[1], sizeof names[1], "%s-wal", room->path);
    for (size_t i = 0; i < 2; i++) {
        size_t length = slurp(names[i], before);
        assert_true(length > 0);
        struct ledger *reader = room_open(room->path, LEDGER_READ);
        assert_int_equal(marks_get(reader, "committed", &value), LEDGER_OK);
        assert_int_equal(marks_get(reader, "begun", &value), LEDGER_NONE);
        ledger_close(reader);
        assert_int_equal(slurp(names[i], after), length);
        assert_memory_equal(after, before, length);
    }
}

static void exit_statuses_are_those_of_sysexits(void **state)
{
    (void)state;
    assert_int_equal(ledger_exit_status(LEDGER_MISSING), 66);
    assert_int_equal(ledger_exit_status(LEDGER_FOREIGN), 66);
    assert_int_equal(ledger_exit_status(LEDGER_NEWER), 66);
    assert_int_equal(ledger_exit_status(LEDGER_OLDER), 66);
    assert_int_equal(ledger_exit_status(LEDGER_DAMAGED), 74);
    assert_int_equal(ledger_exit_status(LEDGER_READ_ONLY), 74);
    assert_int_equal(ledger_exit_status(LEDGER_HELD), 74);
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, room_folder, room_leave)
#define ON_DISK(test) cmocka_unit_test_setup_teardown(test, room_on_disk, room_leave)
    const struct CMUnitTest tests[] = {
        IN_FOLDER(a_new_ledger_is_made_in_a_folder_that_is_there),
        ON_DISK(its_wal_and_lock_are_not_for_others_either),
        ON_DISK(commits_are_synced_and_rules_are_enforced),
        IN_FOLDER(a_ledger_of_a_wrong_version_is_left_alone_and_no_fault_of_ours),
        IN_FOLDER(what_a_crash_left_of_a_new_ledger_is_in_nobodys_way),
        IN_FOLDER(a_folder_that_is_missing_is_named),
        IN_FOLDER(a_file_that_is_no_database_is_left_alone),
        IN_FOLDER(a_folder_is_no_ledger),
        IN_FOLDER(the_database_of_another_program_is_left_alone),
        IN_FOLDER(a_ledger_of_a_newer_version_is_left_alone),
        IN_FOLDER(one_whose_wal_alone_says_that_it_is_newer_too),
        IN_FOLDER(a_ledger_of_an_older_version_is_brought_up_to_date_by_a_writer),
        IN_FOLDER(a_damaged_ledger_is_left_alone),
        IN_FOLDER(a_ledger_cut_short_is_left_alone),
        ON_DISK(a_second_writer_is_kept_out_and_told_why),
        ON_DISK(another_name_of_the_same_ledger_is_the_same_ledger),
        ON_DISK(a_reader_sees_what_is_committed_while_another_writes),
        ON_DISK(a_reader_cannot_write),
        ON_DISK(a_member_of_the_group_can_read_though_not_write),
        IN_FOLDER(a_ledger_that_cannot_be_written_is_said_to_be_so),
        ON_DISK(a_reader_leaves_the_locks_of_the_writer_in_force),
        ON_DISK(after_a_clean_stop_everything_is_in_the_one_file),
        IN_FOLDER(what_was_committed_outlives_a_kill),
        IN_FOLDER(a_reader_after_a_kill_sees_it_all_and_moves_nothing),
        cmocka_unit_test(exit_statuses_are_those_of_sysexits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
