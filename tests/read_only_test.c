/* SPDX-License-Identifier: MIT
 * The file system of the ledger turns read-only under the daemon, and back: texts wait in the
 * modem, whoever asks is told why, and each is counted once in the end. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmocka.h>

#include "fixtures/conductor/folder.h"
#include "fixtures/conductor/house.h"
#include "fixtures/conductor/process.h"

#define MINUTE_MS 60000
#define READ_ONLY "the disk is read-only"
#define TO_DO "check the disk"

static char flag[64]; /* while this file is there, the ledger's cannot be written */

static int setup(void **state)
{
    char library[256];
    process_path("read-only.so", library, sizeof library);
    if (access(library, R_OK) != 0) {
        print_error("%s is not built: make %s\n", library, library);
        return -1; /* else the daemon would wait for a fault that never comes */
    }
    (void)snprintf(flag, sizeof flag, "/tmp/meterpost-flag-%ld", (long)getpid());
    return setenv("LD_PRELOAD", library, 1) == 0 && setenv("METERPOST_READ_ONLY", flag, 1) == 0 &&
                   setenv("ASAN_OPTIONS", "verify_asan_link_order=0", 1) == 0
               ? house_setup(state)
               : -1;
}

static int teardown(void **state)
{
    (void)unlink(flag);
    (void)unsetenv("LD_PRELOAD");
    return house_teardown(state);
}

static void turn_read_only(void)
{
    FILE *file = fopen(flag, "w");
    assert_non_null(file);
    assert_int_equal(fclose(file), 0);
}

/* What a verb prints, and its exit status. */
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
    for (size_t i = 0; i < length; i++) { /* as it is folded for a screen */
        out[i] = out[i] == '\n' ? ' ' : out[i];
    }
    return WEXITSTATUS(pclose(answer));
}

static void assert_counted_once(struct house *house)
{
    struct conductor *c = house->conductor;
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(house_ask(house, "SELECT count(*) FROM texts_in"), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM readings"), 1);
    assert_int_equal(conductor_count(c, "text-out", "to=\"" HOUSE_TOM "\""), 1);
    assert_int_equal(conductor_count(c, "deleted", ""), 1);
}

/* How often the daemon's log holds the words. */
static int logged(const char *words)
{
    static char text[65536];
    char path[320];
    int count = 0;
    (void)snprintf(path, sizeof path, "%s/daemon.log", folder_path());
    FILE *log = fopen(path, "r");
    assert_non_null(log);
    text[fread(text, 1, sizeof text - 1, log)] = '\0';
    (void)fclose(log);
    for (const char *at = text; (at = strstr(at, words)) != NULL; at++) {
        count++;
    }
    return count;
}

static void a_text_waits_in_the_modem_until_the_disk_can_be_written(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    turn_read_only();
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_await_log(c, "it stays with the modem"));
    assert_true(conductor_await_log(c, READ_ONLY));
    assert_true(conductor_advance(c, 30 * MINUTE_MS));
    assert_int_equal(conductor_count(c, "deleted", ""), 0);
    assert_int_equal(conductor_count(c, "part-out", ""), 0);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM texts_in"), 0);
    assert_int_equal(logged("a text could not be kept"), 2); /* desk and modem, each once */
    assert_int_equal(unlink(flag), 0);
    assert_counted_once(house);
    assert_int_equal(logged("texts are kept again"), 1);
}

static void health_says_so_until_the_ledger_was_written_again(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    static char health[8192];
    assert_int_equal(say(house, "health --json", health, sizeof health), 0);
    turn_read_only();
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_int_equal(say(house, "health --json", health, sizeof health), 2);
    assert_non_null(strstr(health, READ_ONLY));
    assert_non_null(strstr(health, TO_DO));
    assert_int_equal(unlink(flag), 0);
    assert_counted_once(house);
    assert_int_equal(say(house, "health --json", health, sizeof health), 0);
}

static void the_places_taken_in_the_modem_are_counted_meanwhile(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    static char health[8192];
    turn_read_only();
    for (int i = 0; i < 3; i++) {
        char text[32];
        (void)snprintf(text, sizeof text, "M12 %d.5h", 1031 + i);
        assert_true(conductor_text(c, HOUSE_TOM, text));
        assert_true(conductor_advance(c, 2000));
    }
    (void)say(house, "health --json", health, sizeof health);
    assert_non_null(strstr(health, "3 of 20"));
    assert_int_equal(unlink(flag), 0);
    assert_true(conductor_advance(c, 2 * MINUTE_MS));
    (void)say(house, "health --json", health, sizeof health);
    assert_non_null(strstr(health, "0 of 20"));
}

static void a_daemon_that_starts_on_it_ends_with_the_reason_and_loses_nothing(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    static char told[8192];
    assert_int_equal(conductor_end_daemon(c), 0);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    turn_read_only();
    assert_int_equal(say(house, "run", told, sizeof told), 74);
    assert_non_null(strstr(told, READ_ONLY));
    assert_non_null(strstr(told, TO_DO));
    assert_int_equal(unlink(flag), 0);
    assert_true(conductor_start_daemon(c));
    assert_counted_once(house);
}

static void one_that_is_ended_meanwhile_ends_well_and_loses_nothing(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    turn_read_only();
    assert_int_equal(conductor_end_daemon(c), 0);
    assert_int_equal(unlink(flag), 0);
    assert_true(conductor_start_daemon(c));
    assert_counted_once(house);
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, setup, teardown)
    const struct CMUnitTest tests[] = {
        CASE(a_text_waits_in_the_modem_until_the_disk_can_be_written),
        CASE(health_says_so_until_the_ledger_was_written_again),
        CASE(the_places_taken_in_the_modem_are_counted_meanwhile),
        CASE(a_daemon_that_starts_on_it_ends_with_the_reason_and_loses_nothing),
        CASE(one_that_is_ended_meanwhile_ends_well_and_loses_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
