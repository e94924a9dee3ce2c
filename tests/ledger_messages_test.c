/* SPDX-License-Identifier: MIT
 * What a person is told when a ledger does not open, each from the real cause: the file by its
 * name, what is wrong, what to do, and the exit status. */
#include "tests/ledger_room.h"

#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>

#include "fixtures/disk/disk.h"

#define NOBODY 65534
#define ALL_FULL 8192 /* octets a file may have: less than a new ledger */

static struct rlimit room_for_files;
static struct ledger *holder;

static void put(const char *path, const char *octets)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(octets, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static void run_sql(const char *path, const char *sql)
{
    sqlite3 *connection = NULL;
    assert_int_equal(sqlite3_open(path, &connection), SQLITE_OK);
    assert_int_equal(sqlite3_exec(connection, sql, NULL, NULL, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_close(connection), SQLITE_OK);
}

static void make_ledger(const char *path)
{
    ledger_close(room_open(path, LEDGER_WRITE));
}

/* ---- causes; each is handed the path, and may lengthen it */

static void is_a_text(char *path)
{
    put(path,
        "Dear diary, today M12 stood at 1340 hours. What follows is longer than any header of "
        "a database would be.");
}

static void is_anothers(char *path)
{
    run_sql(path, "CREATE TABLE songs (name TEXT)");
}

static void is_newer(char *path)
{
    make_ledger(path);
    run_sql(path, "PRAGMA user_version = 999");
}

static void is_not_ours_to_open(char *path)
{
    make_ledger(path);
    assert_int_equal(chmod(path, 0600), 0);
    assert_int_equal(geteuid() == 0 ? seteuid(NOBODY) : chmod(path, 0), 0);
}

static void lacks_its_folder(char *path)
{
    strcat(path, ".d/ledger.db");
}

static void has_a_file_for_a_folder(char *path)
{
    put(path, "no folder");
    strcat(path, "/ledger.db");
}

static void goes_round_in_circles(char *path)
{
    assert_int_equal(symlink(path, path), 0);
}

static void is_held(char *path)
{
    holder = room_open(path, LEDGER_WRITE);
}

static void is_a_folder(char *path)
{
    assert_int_equal(mkdir(path, 0750), 0);
}

static void has_no_room(char *path)
{
    (void)path;
    const struct rlimit little = {.rlim_cur = ALL_FULL, .rlim_max = room_for_files.rlim_max};
    (void)signal(SIGXFSZ, SIG_IGN);
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &little), 0);
}

static void cannot_be_written(char *path)
{
    make_ledger(path);
    disk_arm(DISK_READ_ONLY, 0);
}

/* A journal that SQLite looks for and does not find must not become the cause. */
static void is_on_a_broken_disk(char *path)
{
    (void)path;
    disk_arm(DISK_FAILS_ONCE, 4);
}

#define NOT_OURS "this is not a ledger of meterpost", "name another file"
#define NOT_THERE "no such file or folder", "not its folder"
#define NOT_WRITABLE "permission denied, or the disk is read-only", "must own file and folder"

static const struct {
    void (*arrange)(char *path);
    enum ledger_mode mode;
    const char *wrong, *todo;
    int status;
} cases[] = {
    {is_a_text, LEDGER_WRITE, NOT_OURS, 66},
    {is_a_text, LEDGER_READ, NOT_OURS, 66},
    {is_anothers, LEDGER_WRITE, NOT_OURS, 66},
    {is_a_folder, LEDGER_WRITE, NOT_OURS, 66},
    {is_newer, LEDGER_WRITE, "written by a newer meterpost", "restore an older backup", 66},
    {is_not_ours_to_open, LEDGER_READ, NOT_WRITABLE, 74},
    {is_not_ours_to_open, LEDGER_WRITE, NOT_WRITABLE, 74},
    {lacks_its_folder, LEDGER_WRITE, NOT_THERE, 66},
    {has_a_file_for_a_folder, LEDGER_WRITE, NOT_THERE, 66},
    {goes_round_in_circles, LEDGER_WRITE, NOT_THERE, 66},
    {is_held, LEDGER_WRITE, "another meterpost holds this ledger", "ask the running daemon", 74},
    {has_no_room, LEDGER_WRITE, "the disk is full", "make room", 74},
    {cannot_be_written, LEDGER_WRITE, NOT_WRITABLE, 74},
    {is_on_a_broken_disk, LEDGER_WRITE, "the disk reports an error", "check the disk", 74},
};

/* What the causes have changed about this process. */
static void put_right(void)
{
    ledger_close(holder);
    holder = NULL;
    disk_mend();
    disk_forget();
    assert_int_equal(setrlimit(RLIMIT_FSIZE, &room_for_files), 0);
    assert_int_equal(geteuid() == getuid() ? 0 : seteuid(getuid()), 0);
}

static void assert_says(size_t i, const char *path, const char *says, int status)
{
    if (strncmp(says, path, strlen(path)) != 0 || strstr(says, cases[i].wrong) == NULL ||
        strstr(says, cases[i].todo) == NULL || status != cases[i].status) {
        fail_msg("case %zu: %d, %s", i, status, says);
    }
}

static void every_cause_is_told_by_its_name(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        void *at = NULL;
        char path[128], says[LEDGER_SAYS_OCTETS];
        enum ledger_result result;
        (void)room_folder(&at);
        struct room *room = at;
        assert_int_equal(chmod(room->folder, 0755), 0);
        (void)snprintf(path, sizeof path, "%s", room->path);
        cases[i].arrange(path);
        assert_null(ledger_open(path, cases[i].mode, &result, says));
        put_right();
        assert_says(i, path, says, ledger_exit_status(result));
        (void)room_leave(&at);
    }
}

static int note_limits(void **state)
{
    (void)state;
    return getrlimit(RLIMIT_FSIZE, &room_for_files) == 0 && disk_insert() ? 0 : -1;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_cause_is_told_by_its_name),
    };
    return cmocka_run_group_tests(tests, note_limits, NULL);
}
