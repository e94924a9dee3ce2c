/* SPDX-License-Identifier: MIT
 * The ledger's files taken away under who has them open, and a ledger that was there at the last start and
 * is not at this one: nothing is noted into a file without a name, and none is made anew in silence. */
#include "tests/ledger_room.h"

#include <sys/file.h>
#include <sys/stat.h>
#include <sys/wait.h>

#include "daemon/ledger/marks.h"
#include "fixtures/conductor/house.h"
#include "fixtures/conductor/process.h"

#define MINUTE_MS 60000
#define NOBODY 65534

#define NAME_OCTETS 320
static char one[NAME_OCTETS], other[NAME_OCTETS];

static void name_of(const char *path, const char *suffix, char out[NAME_OCTETS])
{
    (void)snprintf(out, NAME_OCTETS, "%s%s", path, suffix);
}

static void copy(const char *from, const char *to)
{
    char command[800];
    (void)snprintf(command, sizeof command, "cp '%s' '%s'", from, to);
    assert_int_equal(system(command), 0);
}

/* ---- what somebody does to the files; each leaves the ledger at `path` out of its place */

static void delete_it(const char *path)
{
    assert_int_equal(unlink(path), 0);
}

static void delete_all(const char *path)
{
    delete_it(path);
    name_of(path, "-wal", one);
    assert_int_equal(unlink(one), 0);
    name_of(path, "-shm", one);
    assert_int_equal(unlink(one), 0);
}

static void move_it(const char *path)
{
    name_of(path, ".moved", one);
    assert_int_equal(rename(path, one), 0);
}

static void delete_its_wal(const char *path)
{
    name_of(path, "-wal", one);
    assert_int_equal(unlink(one), 0);
}

static void put_a_copy_over_it(const char *path)
{
    name_of(path, ".backup", one);
    copy(path, one);
    assert_int_equal(rename(one, path), 0);
}

static const struct {
    void (*act)(const char *path);
    const char *detail;
} acts[] = {{delete_it, "moved or deleted"},
            {delete_all, "moved or deleted"},
            {move_it, "moved or deleted"},
            {delete_its_wal, "its -wal was deleted"},
            {put_a_copy_over_it, "another file was put in its place"}};
#define ACTS (sizeof acts / sizeof acts[0])

static void nothing_is_noted_once_the_files_are_not_in_their_place(void **state)
{
    (void)state;
    for (size_t i = 0; i < ACTS; i++) {
        void *at = NULL;
        (void)room_on_disk(&at);
        struct room *room = at;
        assert_int_equal(marks_set(room->ledger, "told", 1), LEDGER_OK);
        assert_string_equal(ledger_trouble(room->ledger), "");
        acts[i].act(room->path);
        assert_int_equal(ledger_begin(room->ledger), LEDGER_REPLACED);
        assert_non_null(strstr(ledger_says(room->ledger), acts[i].detail));
        assert_non_null(strstr(ledger_trouble(room->ledger), "taken away while in use"));
        (void)room_leave(&at);
    }
}

/* Between begin and commit: what was committed is not called kept. */
static void a_commit_into_a_file_taken_away_meanwhile_is_none(void **state)
{
    struct room *room = *state;
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK);
    assert_int_equal(marks_set(room->ledger, "told", 1), LEDGER_OK);
    move_it(room->path);
    assert_int_equal(ledger_commit(room->ledger), LEDGER_REPLACED);
    assert_int_equal(rename(one, room->path), 0);
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK); /* put back: all is well again */
    ledger_rollback(room->ledger);
    assert_string_equal(ledger_trouble(room->ledger), "");
}

/* What was committed before its -wal was deleted is saved into the ledger itself. */
static void what_the_deleted_wal_held_is_saved(void **state)
{
    struct room *room = *state;
    int64_t value = 0;
    assert_int_equal(marks_set(room->ledger, "told", 7), LEDGER_OK);
    name_of(room->path, ".before", other);
    delete_its_wal(room->path);
    assert_int_equal(ledger_begin(room->ledger), LEDGER_REPLACED);
    copy(room->path, other); /* as a loss of power would leave it */
    struct ledger *left = room_open(other, LEDGER_WRITE);
    assert_int_equal(marks_get(left, "told", &value), LEDGER_OK);
    assert_int_equal(value, 7);
    ledger_close(left);
}

/* ---- at the next start */

static enum ledger_result opened(const char *path, const char *expected)
{
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS];
    struct ledger *ledger = ledger_open(path, LEDGER_WRITE, &result, says);
    if (expected != NULL) {
        assert_non_null(strstr(says, expected));
    }
    ledger_close(ledger);
    return result;
}

static void a_ledger_that_vanished_is_not_made_anew(void **state)
{
    struct room *room = *state;
    ledger_close(room->ledger);
    room->ledger = NULL;
    delete_all(room->path);
    assert_int_equal(opened(room->path, "ends in .made"), LEDGER_VANISHED);
    assert_int_not_equal(access(room->path, F_OK), 0);
    assert_int_equal(ledger_exit_status(LEDGER_VANISHED), 66);
    name_of(room->path, ".made", one);
    assert_int_equal(unlink(one), 0); /* asked for by hand */
    assert_int_equal(opened(room->path, NULL), LEDGER_OK);
}

static void an_empty_file_is_no_place_for_a_new_one(void **state)
{
    struct room *room = *state;
    FILE *file = fopen(room->path, "w");
    assert_non_null(file);
    assert_int_equal(fclose(file), 0);
    assert_int_equal(opened(room->path, "the file there is empty"), LEDGER_VANISHED);
    assert_int_equal(unlink(room->path), 0);
    assert_int_equal(opened(room->path, NULL), LEDGER_OK);
}

/* The card that the link leads to is not mounted: the folder may be there and is empty, or is not. */
static void a_link_that_leads_nowhere_is_left_alone(void **state)
{
    struct room *room = *state;
    struct stat found;
    (void)snprintf(other, sizeof other, "%s/card", room->folder);
    (void)snprintf(one, sizeof one, "%s/card/ledger.db", room->folder);
    assert_int_equal(symlink(one, room->path), 0);
    assert_int_equal(opened(room->path, "leads nowhere"), LEDGER_VANISHED);
    assert_int_equal(mkdir(other, 0750), 0);
    assert_int_equal(opened(room->path, "leads nowhere"), LEDGER_VANISHED);
    assert_int_equal(lstat(room->path, &found), 0);
    assert_true(S_ISLNK(found.st_mode));
}

/* ---- who else is at it */

static void another_programs_lock_is_told_while_it_lasts(void **state)
{
    struct room *room = *state;
    sqlite3 *browser = NULL;
    assert_int_equal(sqlite3_open(room->path, &browser), SQLITE_OK);
    assert_int_equal(sqlite3_exec(browser, "BEGIN IMMEDIATE", NULL, NULL, NULL), SQLITE_OK);
    assert_non_null(strstr(ledger_trouble(room->ledger), "another program has locked the ledger"));
    assert_int_equal(sqlite3_exec(browser, "ROLLBACK", NULL, NULL, NULL), SQLITE_OK);
    assert_string_equal(ledger_trouble(room->ledger), "");
    assert_int_equal(sqlite3_close(browser), SQLITE_OK);
}

/* Another process holds the lock file until its standard input ends, or for a moment. */
static void a_verb_waits_for_another_that_is_soon_done(void **state)
{
    struct room *room = *state;
    char command[320];
    ledger_close(room->ledger);
    room->ledger = NULL;
    (void)snprintf(command, sizeof command, "exec flock '%s.lock' sh -c 'echo held; sleep 0.2'",
                   room->path);
    FILE *holder = popen(command, "r");
    assert_non_null(holder);
    assert_non_null(fgets(command, sizeof command, holder)); /* it holds it now */
    assert_int_equal(opened(room->path, NULL), LEDGER_OK);
    assert_int_equal(pclose(holder), 0);
}

static bool owned_by_nobody(const char *path, const char *suffix)
{
    struct stat found;
    char name[NAME_OCTETS];
    name_of(path, suffix, name);
    return stat(name, &found) == 0 && found.st_uid == NOBODY;
}

/* Started once by root by mistake, the service can start after it. Needs root, as most builders have. */
static void what_root_makes_belongs_to_the_folders_owner(void **state)
{
    struct room *room = *state;
    if (geteuid() != 0) {
        skip();
    }
    assert_int_equal(chown(room->folder, NOBODY, NOBODY), 0);
    struct ledger *ledger = room_open(room->path, LEDGER_WRITE);
    static const char *const suffixes[] = {"", "-wal", "-shm", ".lock", ".work", ".made"};
    for (size_t i = 0; i < sizeof suffixes / sizeof suffixes[0]; i++) {
        assert_true(owned_by_nobody(room->path, suffixes[i]));
    }
    ledger_close(ledger);
}

static void the_file_in_the_way_is_named(void **state)
{
    struct room *room = *state;
    if (geteuid() != 0) {
        skip();
    }
    assert_int_equal(opened(room->path, NULL), LEDGER_OK);
    assert_int_equal(chown(room->folder, NOBODY, NOBODY), 0);
    static const char *const suffixes[] = {"", "-wal", "-shm", ".made"};
    for (size_t i = 0; i < sizeof suffixes / sizeof suffixes[0]; i++) {
        name_of(room->path, suffixes[i], one);
        assert_int_equal(access(one, F_OK) == 0 ? chown(one, NOBODY, NOBODY) : 0, 0);
    }
    assert_int_equal(seteuid(NOBODY), 0); /* .lock and .work are root's */
    name_of(room->path, ".lock: permission denied", other);
    assert_int_equal(opened(room->path, other), LEDGER_READ_ONLY);
    assert_int_equal(seteuid(0), 0);
}

/* ---- the whole daemon */

static int say(const struct house *house, const char *verb, char *out, size_t size)
{
    char program[256], command[1024];
    process_path("meterpost", program, sizeof program);
    (void)snprintf(command, sizeof command, "'%s' %s -c %s 2>&1", program, verb,
                   house->yard.config);
    FILE *answer = popen(command, "r");
    assert_non_null(answer);
    size_t length = fread(out, 1, size - 1, answer);
    out[length] = '\0';
    return WEXITSTATUS(pclose(answer));
}

/* The text is in the modem for as long as the ledger is away, and counted once it is back. */
static void a_text_waits_in_the_modem_while_the_ledger_is_away(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    static char told[8192];
    name_of(house->yard.ledger, ".moved", other);
    assert_int_equal(rename(house->yard.ledger, other), 0);
    assert_int_equal(say(house, "health --json", told, sizeof told), 2); /* before any text */
    assert_non_null(strstr(told, "taken away while in use (moved or deleted)"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_await_log(c, "it stays with the modem"));
    assert_true(conductor_advance(c, 10 * MINUTE_MS));
    assert_int_equal(conductor_count(c, "deleted", ""), 0);
    assert_int_equal(conductor_count(c, "part-out", ""), 0);
    assert_int_equal(rename(other, house->yard.ledger), 0);
    assert_true(conductor_advance(c, 10 * MINUTE_MS));
    assert_int_equal(house_ask(house, "SELECT count(*) FROM readings"), 1);
    assert_int_equal(conductor_count(c, "text-out", "to=\"" HOUSE_TOM "\""), 1);
    assert_int_equal(say(house, "health --json", told, sizeof told), 0);
}

int main(void)
{
#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, room_folder, room_leave)
#define ON_DISK(test) cmocka_unit_test_setup_teardown(test, room_on_disk, room_leave)
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_is_noted_once_the_files_are_not_in_their_place),
        ON_DISK(a_commit_into_a_file_taken_away_meanwhile_is_none),
        ON_DISK(what_the_deleted_wal_held_is_saved),
        ON_DISK(a_ledger_that_vanished_is_not_made_anew),
        IN_FOLDER(an_empty_file_is_no_place_for_a_new_one),
        IN_FOLDER(a_link_that_leads_nowhere_is_left_alone),
        ON_DISK(another_programs_lock_is_told_while_it_lasts),
        ON_DISK(a_verb_waits_for_another_that_is_soon_done),
        IN_FOLDER(what_root_makes_belongs_to_the_folders_owner),
        IN_FOLDER(the_file_in_the_way_is_named),
        cmocka_unit_test_setup_teardown(a_text_waits_in_the_modem_while_the_ledger_is_away,
                                        house_setup, house_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
