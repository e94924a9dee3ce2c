/* SPDX-License-Identifier: MIT
 * import_parcel: a file is imported beside the running daemon, whole or not at all, while texts go on
 * coming. The daemon's time is stepped; the verb has the real clock, so its rows lie years back. */
#include <fcntl.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sysexits.h>
#include <unistd.h>

#include <cmocka.h>

#include "daemon/door/door.h"
#include "daemon/ground/zone.h"
#include "fixtures/conductor/folder.h"
#include "fixtures/conductor/house.h"
#include "fixtures/conductor/process.h"

#define MINUTE_MS 60000
#define GUARD_S 120
#define READINGS "SELECT count(*) FROM readings"
#define SAYS_OCTETS 8192

static char says[SAYS_OCTETS]; /* what the verb said, the folder left out */

static void write_file(const char *name, const char *text)
{
    char path[256];
    (void)snprintf(path, sizeof path, "%s/%s", folder_path(), name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

/* So many readings of M14, one an hour from a day of 2024 on. */
static void write_readings(const char *name, int count)
{
    char path[256], at[ZONE_TEXT_OCTETS];
    (void)snprintf(path, sizeof path, "%s/%s", folder_path(), name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    (void)fputs("Unit;Hour meter;Date\n", file);
    for (int i = 0; i < count; i++) {
        zone_write_rfc3339(INT64_C(1700000000) + i * 600, at, sizeof at);
        (void)fprintf(file, "M14;%d.%02d;%s\n", i / 100, i % 100, at);
    }
    assert_int_equal(fclose(file), 0);
}

static void begin_import(struct house *house, struct process *verb, const char *kind,
                         const char *name, const char *option)
{
    char program[256], path[256];
    const struct process_wish wish = {0};
    process_path("meterpost", program, sizeof program);
    (void)snprintf(path, sizeof path, "%s/%s", folder_path(), name);
    const char *argv[] = {program,   "import", kind, path, "-c", house->yard.config,
                          "--apply", option,   NULL};
    assert_true(process_start(verb, argv, &wish));
}

static int end_import(struct process *verb)
{
    char *whole = says, *in = NULL;
    size_t used = 0;
    ssize_t got;
    assert_true(process_end(verb, 0, GUARD_S));
    while (used < sizeof says - 1 &&
           (got = read(verb->log, &says[used], sizeof says - 1 - used)) > 0) {
        used += (size_t)got;
    }
    says[used] = '\0';
    process_close_log(verb);
    size_t octets = strlen(folder_path()) + 1;
    while ((in = strstr(whole, folder_path())) != NULL) {
        memmove(in, in + octets, strlen(in + octets) + 1);
    }
    return process_exit_status(verb);
}

static int import(struct house *house, const char *kind, const char *name, const char *option)
{
    struct process verb;
    begin_import(house, &verb, kind, name, option);
    return end_import(&verb);
}

static void rows_go_in_and_what_they_mean_is_told_at_once(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    write_file("rows.csv", "Unit,Hours,Date,Operator,Notes\n"
                           "M14,80,2025-03-15,Tom,\"low, \"\"left\"\"\n'=tyre\"\n"
                           "m-14,5,2025-03-14,,\n"
                           "M12,1050,2025-03-13,,\n");
    assert_int_equal(import(house, "readings", "rows.csv", NULL), 0);
    assert_string_equal(
        says, "rows.csv: 3 readings added, 0 on record already, 0 struck out and left out.\n");
    assert_int_equal(house_ask(house, READINGS " WHERE text_id IS NULL"), 3);
    assert_int_equal(house_ask(house, READINGS " WHERE remark = 'low, \"left\"' || char(10) || "
                                               "'''=tyre' AND meter_hundredths = 8000 AND "
                                               "person_id IS NOT NULL"),
                     1);
    assert_true(conductor_advance(c, 1)); /* it knows of the daemon's errands by what it reports */
    assert_true(conductor_await(c, "text-out", "to=\"" HOUSE_ROSA "\"", 2 * MINUTE_MS, NULL));
    assert_int_equal(import(house, "readings", "rows.csv", "--json"), 0);
    assert_non_null(strstr(says, "\"applied\": true, \"added\": 0, \"already\": 3"));
}

/* Services, changes of meter, spells laid up and a whole record. */
static void every_kind_goes_in(void **state)
{
    static const char *const files[][3] = {
        {"services", "Machine,Service,Hours,Date,Oil\nM14,drive,75,2025-03-14,5 qt\n",
         "SELECT count(*) FROM services WHERE quantity_thousandths = 5000 AND unit = 'qt'"},
        {"swaps",
         "machine,old_hours,new_hours,swapped_at\nM14,80,0,2025-03-15\nM14,90,2.5,2025-04-15\n",
         "SELECT sum(new_first_hundredths) = 250 FROM meter_changes"},
        {"parkings", "machine,what,at\nM14,parked,2025-05-01\nM14,back,2025-06-01\n",
         "SELECT count(*) FROM parkings WHERE until_s > from_s"},
        {"record", "machine,at,what,hours\nR1,2025-05-01T07:00:00-07:00,reading,77\n",
         "SELECT count(*) FROM readings WHERE meter_hundredths = 7700"},
    };
    struct house *house = *state;
    for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
        write_file("rows.csv", files[i][1]);
        int status = import(house, files[i][0], "rows.csv", NULL);
        if (status != 0) {
            fail_msg("%d: %s", status, says);
        }
        assert_non_null(strstr(says, " added, 0 on record already"));
        assert_int_equal(house_ask(house, files[i][2]), 1);
    }
}

/* A mistake that only the ledger shows, in the last row of many. */
static void a_mistake_is_named_with_its_line_and_nothing_goes_in(void **state)
{
    struct house *house = *state;
    char path[256];
    write_readings("rows.csv", 5000);
    (void)snprintf(path, sizeof path, "%s/rows.csv", folder_path());
    FILE *file = fopen(path, "a");
    assert_non_null(file);
    (void)fputs("M14;2.5;2025-03-14\n", file);
    assert_int_equal(fclose(file), 0);
    assert_int_equal(import(house, "readings", "rows.csv", NULL), EX_DATAERR);
    assert_string_equal(says,
                        "rows.csv:5002: M14 2.5h does not fit: the reading before it in time is "
                        "49.99h (a slip; or the meter was replaced: import swaps first)\n"
                        "meterpost: 1 mistake in rows.csv; nothing was imported\n");
    assert_int_equal(import(house, "readings", "rows.csv", "--json"), EX_DATAERR);
    assert_non_null(strstr(says, "\"applied\": false, "));
    assert_non_null(strstr(says, "\"mistakes\": [ { \"line\": 5002, "));
    assert_int_equal(house_ask(house, READINGS), 0);
}

static void a_text_that_comes_meanwhile_is_answered(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    struct process verb;
    write_readings("rows.csv", 20000);
    begin_import(house, &verb, "readings", "rows.csv", NULL);
    assert_true(conductor_hurry(c, "text " HOUSE_TOM " \"M12 1031.5h\""));
    assert_int_equal(end_import(&verb), 0);
    assert_true(conductor_await(c, "text-out", "to=\"" HOUSE_TOM "\"", 10 * MINUTE_MS, NULL));
    assert_int_equal(conductor_count(c, "deleted", ""), 1);
    assert_int_equal(house_ask(house, READINGS), 20001);
}

/* A copy of the rows lies in the WAL by then, and the commit has not come: or it has, and all stay. */
static void kill_at(struct house *house, int64_t wal_octets, int64_t all)
{
    struct conductor *c = house->conductor;
    struct process verb;
    char wal[300];
    struct stat facts = {0};
    (void)snprintf(wal, sizeof wal, "%s-wal", house->yard.ledger);
    begin_import(house, &verb, "readings", "rows.csv", NULL);
    while (kill(verb.pid, 0) == 0 && (stat(wal, &facts) != 0 || facts.st_size < wal_octets) &&
           house_ask(house, READINGS) < all) {
        ;
    }
    assert_true(conductor_kill_daemon(c));
    (void)end_import(&verb);
    assert_true(conductor_start_daemon(c));
    int64_t count = house_ask(house, READINGS);
    assert_true(count == 0 || count == all);
}

static void a_daemon_killed_over_it_has_all_or_nothing(void **state)
{
    static const int64_t octets[] = {1, 100000, 400000, 800000, 1200000};
    struct house *house = *state;
    write_readings("rows.csv", 30000);
    for (size_t i = 0; i < sizeof octets / sizeof octets[0]; i++) {
        kill_at(house, octets[i], 30000);
    }
    assert_int_equal(import(house, "readings", "rows.csv", NULL), 0);
    assert_int_equal(house_ask(house, READINGS), 30000);
}

/* Once asked, the daemon needs the verb no more. */
static void a_verb_killed_over_it_leaves_all_or_nothing(void **state)
{
    struct house *house = *state;
    struct process verb;
    write_readings("rows.csv", 20000);
    begin_import(house, &verb, "readings", "rows.csv", NULL);
    assert_true(process_end(&verb, SIGKILL, GUARD_S));
    process_close_log(&verb);
    assert_true(conductor_settle(house->conductor));
    int64_t count = house_ask(house, READINGS);
    assert_true(count == 0 || count == 20000);
    assert_int_equal(import(house, "readings", "rows.csv", NULL), 0);
    assert_int_equal(house_ask(house, READINGS), 20000);
}

static void a_name_that_the_daemon_has_not_heard_of_asks_for_a_reload(void **state)
{
    struct house *house = *state;
    char path[256];
    (void)snprintf(path, sizeof path, "%s/yard.conf", folder_path());
    write_file("rows.csv", "machine,hours,read_at\nZ1,5,2025-03-14\n");
    assert_int_equal(import(house, "readings", "rows.csv", NULL), EX_DATAERR);
    assert_string_equal(says, "rows.csv:2: no machine Z1\n"
                              "meterpost: 1 mistake in rows.csv; nothing was imported\n");
    FILE *file = fopen(path, "r+");
    static char text[16384];
    assert_non_null(file);
    size_t octets = fread(text, 1, sizeof text - 1, file);
    char *roster = strstr(text, "{ name = \"M7\"");
    assert_true(octets > 0 && roster != NULL);
    assert_int_equal(fseek(file, roster - text, SEEK_SET), 0);
    (void)fprintf(file, "{ name = \"Z1\"; kind = \"ridge-60\"; }, %s", roster);
    assert_int_equal(fclose(file), 0);
    assert_int_equal(import(house, "readings", "rows.csv", NULL), EX_DATAERR);
    assert_string_equal(says,
                        "rows.csv:2: no machine Z1 in the settings that the daemon has in force; "
                        "reload it (systemctl reload meterpost)\n"
                        "meterpost: 1 mistake in rows.csv; nothing was imported\n");
    assert_true(conductor_signal_daemon(house->conductor, SIGHUP));
    assert_true(conductor_await_log(house->conductor, "is in force"));
    assert_int_equal(import(house, "readings", "rows.csv", NULL), 0);
}

static char answer[DOOR_ANSWER_OCTETS + 1];

/* What the daemon says to such a file under that question. */
static int ask_with(struct house *house, const char *form, int file)
{
    const char *words[] = {"import", form, "readings", "plain", "rows.csv", "0"};
    struct door_question question = {6, words, file};
    int status = -1;
    size_t length = 0;
    assert_int_equal(
        door_ask(house->yard.settings->door, &question, GUARD_S * 1000, &status, answer, &length),
        DOOR_ANSWERED);
    answer[length] = '\0';
    return status;
}

static int memory(const char *octets, size_t length, bool sealed)
{
    int file = memfd_create("rows", MFD_CLOEXEC | MFD_ALLOW_SEALING);
    assert_true(file >= 0);
    assert_int_equal(write(file, octets, length), length);
    if (sealed) {
        assert_int_equal(fcntl(file, F_ADD_SEALS, F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE), 0);
    }
    return file;
}

/* Whoever may open the door may hand over anything. */
static void what_no_verb_of_ours_sends_is_refused(void **state)
{
    static const char row[] = "\0\0\0\x29"
                              "line,machine,hours,read_at\n2,M14,5,2025-0";
    static const char nonsense[] = "\0\0\0\x03"
                                   "xyz";
    const char *whole = "the rows did not arrive whole";
    struct house *house = *state;
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    const struct {
        int file, status;
        const char *form, *says;
    } cases[] = {
        {memory(row, sizeof row - 1, true), EX_USAGE, "2", "another version"},
        {DOOR_NO_FILE, EX_OSERR, "1", whole},
        {ends[0], EX_OSERR, "1", whole}, /* it would wait for ever */
        {open("/dev/zero", O_RDONLY | O_CLOEXEC), EX_OSERR, "1", whole},
        {memory(row, sizeof row - 1, false), EX_OSERR, "1", whole}, /* it might change */
        {memory(row, 20, true), EX_OSERR, "1", whole},
        {memory("\0\0", 2, true), EX_OSERR, "1", whole},
        {memory("\x7F\xFF\xFF\xFF", 4, true), EX_OSERR, "1", "more than the running daemon takes"},
        {memory(nonsense, sizeof nonsense - 1, true), EX_DATAERR, "1", "no column is plainly"},
        {memory("", 0, true), 0, "1", "0 readings added"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(ask_with(house, cases[i].form, cases[i].file), cases[i].status);
        assert_non_null(strstr(answer, cases[i].says));
        if (cases[i].file >= 0) {
            (void)close(cases[i].file);
        }
    }
    (void)close(ends[1]);
    assert_int_equal(house_ask(house, READINGS), 0);
}

static void a_record_too_long_for_the_daemon_is_said_to_be(void **state)
{
    struct house *house = *state;
    char path[256];
    (void)snprintf(path, sizeof path, "%s/rows.csv", folder_path());
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    (void)fputs("machine,at,what,hours\n", file);
    for (int i = 0; i < 30000; i++) {
        (void)fprintf(file, "R1,2025-05-01T07:00:00-07:00,reading,%d\n", i % 9000);
    }
    assert_int_equal(fclose(file), 0);
    assert_int_equal(import(house, "record", "rows.csv", NULL), EX_OSERR);
    assert_non_null(strstr(says, "more than the running daemon takes at once; split the file"));
    assert_int_equal(house_ask(house, READINGS), 0);
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, house_setup, house_teardown)
    const struct CMUnitTest tests[] = {
        CASE(rows_go_in_and_what_they_mean_is_told_at_once),
        CASE(every_kind_goes_in),
        CASE(a_mistake_is_named_with_its_line_and_nothing_goes_in),
        CASE(a_text_that_comes_meanwhile_is_answered),
        CASE(a_daemon_killed_over_it_has_all_or_nothing),
        CASE(a_verb_killed_over_it_leaves_all_or_nothing),
        CASE(a_name_that_the_daemon_has_not_heard_of_asks_for_a_reload),
        CASE(what_no_verb_of_ours_sends_is_refused),
        CASE(a_record_too_long_for_the_daemon_is_said_to_be),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
