/* SPDX-License-Identifier: MIT
 * The whole daemon, through the serial line and nothing else: texts go in at the stand-in modem,
 * and what comes out of it is judged by its transcript. Time is stepped; nothing sleeps. */
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include <cmocka.h>

#include "daemon/ground/zone.h"
#include "fixtures/conductor/folder.h"
#include "fixtures/conductor/house.h"
#include "fixtures/conductor/process.h"

#define MINUTE_MS 60000

/* The next text to that number holds the fragment. */
static void assert_texted(struct house *house, const char *to, const char *fragment)
{
    struct event event;
    char whom[32], body[1024];
    snprintf(whom, sizeof whom, "to=\"%s\"", to);
    if (!conductor_await(house->conductor, "text-out", whom, 10 * MINUTE_MS, &event)) {
        fail_msg("%s", conductor_says(house->conductor));
    }
    assert_true(event_field(&event, "body", body, sizeof body));
    if (strstr(body, fragment) == NULL) {
        fail_msg("\"%s\" does not hold \"%s\"", body, fragment);
    }
}

static size_t texts_to(struct house *house, const char *to)
{
    char whom[32];
    snprintf(whom, sizeof whom, "to=\"%s\"", to);
    return conductor_count(house->conductor, "text-out", whom);
}

static void a_text_is_answered_and_its_copy_deleted(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_texted(house, HOUSE_TOM, "M12 1031.5h");
    assert_int_equal(conductor_count(c, "deleted", "id=1 part=1/1"), 1);
    assert_int_equal(house_ask(house, "SELECT meter_hundredths FROM readings"), 103150);
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(texts_to(house, HOUSE_TOM), 1);
}

static void texts_that_came_while_it_was_down_are_swept_up(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_int_equal(conductor_end_daemon(c), 0);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_text(c, HOUSE_BEN, "R2 800h"));
    assert_true(conductor_start_daemon(c));
    assert_texted(house, HOUSE_TOM, "M12 1031.5h");
    assert_true(conductor_advance(c, 10 * MINUTE_MS));
    assert_int_equal(texts_to(house, HOUSE_BEN), 1);
    assert_int_equal(conductor_count(c, "deleted", ""), 2);
}

static void a_text_whose_indication_was_lost_is_found_by_the_sweep(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "fault lost-indication"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(texts_to(house, HOUSE_TOM), 1);
}

static void a_restart_repeats_nothing(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_texted(house, HOUSE_TOM, "M12 1031.5h");
    assert_true(conductor_kill_daemon(c));
    assert_true(conductor_start_daemon(c));
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(texts_to(house, HOUSE_TOM), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM readings"), 1);
    assert_true(conductor_text(c, HOUSE_TOM, "M12?"));
    assert_texted(house, HOUSE_TOM, "M12 1031.5h");
}

static void a_stranger_is_kept_and_not_answered(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_text(c, "+12065550187", "M12 1031.5h"));
    assert_true(conductor_text(c, "FREEPRIZE", "M12 1031.5h"));
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(conductor_count(c, "part-out", ""), 0);
    assert_int_equal(conductor_count(c, "deleted", ""), 2);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM texts_in WHERE state='stranger'"), 2);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM readings"), 0);
}

/* No hex; a DELIVER cut short; one that announces more than it carries. */
static void what_cannot_be_read_is_kept_raw_and_does_not_stick(void **state)
{
    static const char *const pdus[] = {
        "07911326040000F004ZZ",
        "07911326040000F0040B9113466100",
        "07911326040000F0040B911346610089F60000208062917314480CC8F71D",
    };
    struct house *house = *state;
    struct conductor *c = house->conductor;
    for (size_t i = 0; i < sizeof pdus / sizeof pdus[0]; i++) {
        assert_true(conductor_say(c, "pdu %s", pdus[i]));
    }
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_texted(house, HOUSE_TOM, "M12 1031.5h");
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(conductor_count(c, "deleted", ""), 4);
    assert_int_equal(house_ask(house,
                               "SELECT count(*) FROM arrivals WHERE hex IN "
                               "('07911326040000F0040B9113466100', "
                               "'07911326040000F0040B911346610089F60000208062917314480CC8F71D')"),
                     2);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM texts_in WHERE state='unreadable'"), 3);
    assert_true(conductor_daemon_runs(c));
}

/* Whoever reads the log, or is sent it for help, learns no person's number and nobody's words. */
static void the_log_names_no_number_and_no_text(void **state)
{
    static char log[65536];
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "fault send-refused 1 21"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h zebra"));
    assert_true(conductor_text(c, "+12065550187", "zebra"));
    assert_true(conductor_say(c, "pdu 07911326040000F0040B9113466100"));
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_true(conductor_kill_daemon(c));
    assert_true(conductor_start_daemon(c));
    assert_true(conductor_text(c, HOUSE_ROSA, "M12 DONE 1031.5 5qt zebra"));
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    snprintf(log, sizeof log, "%s/daemon.log", folder_path());
    FILE *file = fopen(log, "r");
    assert_non_null(file);
    log[fread(log, 1, sizeof log - 1, file)] = '\0';
    fclose(file);
    assert_non_null(strstr(log, "modem"));
    assert_null(strstr(log, &HOUSE_TOM[1])); /* with or without the plus */
    assert_null(strstr(log, &HOUSE_ROSA[1]));
    assert_null(strstr(log, "2065550187"));
    assert_null(strstr(log, "zebra"));
}

static void a_text_garbled_on_the_line_is_read_again(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "fault garbled-read"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_texted(house, HOUSE_TOM, "M12 1031.5h");
    assert_int_equal(conductor_count(c, "deleted", ""), 1);
}

static void a_long_text_is_put_together_and_answered_once(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    char body[400] = "M12 1031.5h ";
    for (size_t i = strlen(body); i < 320; i++) {
        body[i] = i % 8 == 0 ? ' ' : 'a';
    }
    assert_true(conductor_text(c, HOUSE_TOM, body));
    assert_int_equal(conductor_count(c, "stored", "part=3/3"), 1);
    assert_texted(house, HOUSE_TOM, "M12 1031.5h");
    assert_true(conductor_advance(c, 60 * MINUTE_MS));
    assert_int_equal(texts_to(house, HOUSE_TOM), 1);
    assert_int_equal(conductor_count(c, "deleted", ""), 3);
}

struct spoken {
    char lines[16][64];
    size_t count;
};

static void note_spoken(void *ctx, const struct event *event)
{
    struct spoken *spoken = ctx;
    if (strcmp(event->word, "host") == 0 && spoken->count < 16) {
        snprintf(spoken->lines[spoken->count++], 64, "%.12s", event->fields);
    }
}

static void one_text_and_its_answer_take_three_commands(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    static struct spoken spoken, skipped;
    conductor_on_event(c, note_spoken, &skipped); /* the set-up */
    assert_true(conductor_settle(c));
    spoken.count = 0;
    conductor_on_event(c, note_spoken, &spoken);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_advance(c, MINUTE_MS / 2));
    assert_int_equal(spoken.count, 4);
    assert_string_equal(spoken.lines[0], "\"AT+CMGR=1\"");
    assert_string_equal(spoken.lines[1], "\"AT+CMGD=1\"");
    assert_memory_equal(spoken.lines[2], "\"AT+CMGS=", 9);
}

/* Whether the board that the daemon keeps beside the ledger, or that for the wall, holds it. */
static bool board_holds(const char *name, const char *says)
{
    char command[512];
    snprintf(command, sizeof command, "grep -q '%s' '%s/%s'", says, folder_path(), name);
    return system(command) == 0;
}

static void the_board_shows_what_was_texted(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_texted(house, HOUSE_TOM, "M12 1031.5h");
    assert_true(conductor_advance(c, 2 * MINUTE_MS));
    assert_true(board_holds("board.html", "Meter 1031.5 h"));
    assert_true(board_holds("board-wall.html", "M12"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 hose leaks"));
    assert_true(conductor_advance(c, 2 * MINUTE_MS));
    assert_true(board_holds("board-wall.html", "hose leaks"));
}

static void a_bad_config_on_reload_keeps_the_old_settings(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    FILE *config = fopen(house->yard.config, "a");
    assert_non_null(config);
    assert_true(fputs("machines = nonsense", config) >= 0);
    assert_int_equal(fclose(config), 0);
    assert_true(conductor_signal_daemon(c, SIGHUP));
    assert_true(conductor_await_log(c, "stay in force"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_texted(house, HOUSE_TOM, "M12 1031.5h");
}

static void a_good_config_is_in_force_after_a_reload(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    char command[512];
    snprintf(command, sizeof command, "sed -i 's/+12065550112/+12065550119/' %s/yard.conf",
             folder_path());
    assert_int_equal(system(command), 0);
    assert_true(conductor_signal_daemon(c, SIGHUP));
    assert_true(conductor_await_log(c, "is in force"));
    assert_true(conductor_text(c, "+12065550119", "M12 1031.5h"));
    assert_texted(house, "+12065550119", "M12 1031.5h");
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_advance(c, 10 * MINUTE_MS));
    assert_int_equal(texts_to(house, HOUSE_TOM), 0);
}

static void it_ends_cleanly_when_told_to(void **state)
{
    struct house *house = *state;
    assert_true(conductor_text(house->conductor, HOUSE_TOM, "M12 1031.5h"));
    assert_int_equal(conductor_end_daemon(house->conductor), 0);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM readings"), 1);
}

static void a_port_pulled_and_put_back_is_found_under_its_new_name(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_say(c, "unplug"));
    assert_true(conductor_advance(c, 5 * MINUTE_MS));
    assert_true(conductor_say(c, "replug"));
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_texted(house, HOUSE_TOM, "M12 1031.5h");
}

static void the_shop_is_told_once_and_in_its_hours(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1020h"));
    assert_texted(house, HOUSE_TOM, "M12 1020h");
    assert_true(conductor_advance_until(c, house_at(5, 19, 0))); /* Friday evening */
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1051h"));
    assert_texted(house, HOUSE_TOM, "M12 1051h");
    assert_true(conductor_advance_until(c, house_at(8, 6, 59)));
    assert_int_equal(conductor_count(c, "text-out", "M12 coming up"), 0);
    assert_true(conductor_advance_until(c, house_at(8, 7, 30))); /* Monday morning */
    assert_int_equal(conductor_count(c, "text-out", "M12 coming up"), 1);
    assert_int_equal(texts_to(house, HOUSE_ROSA), conductor_count(c, "text-out", "Alder Works"));
    assert_true(conductor_advance_until(c, house_at(10, 17, 0)));
    assert_int_equal(conductor_count(c, "text-out", "M12 coming up"), 1);
}

static void trouble_waits_for_the_shop_to_open_and_danger_does_not(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_advance_until(c, house_at(5, 19, 0))); /* Friday evening */
    assert_true(conductor_text(c, HOUSE_TOM, "M12 oil leak left side"));
    assert_texted(house, HOUSE_TOM, "oil leak left side");
    assert_true(conductor_advance(c, 5 * MINUTE_MS));
    assert_int_equal(texts_to(house, HOUSE_ROSA), 0);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 on fire"));
    assert_texted(house, HOUSE_ROSA, "DANGER: on fire (Tom)");
    assert_true(conductor_advance_until(c, house_at(8, 7, 30))); /* Monday morning */
    assert_int_equal(conductor_count(c, "text-out", "TROUBLE: oil leak left side (Tom)"), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM troubles WHERE told_s IS NULL"), 0);
}

/* What `meterpost text` prints for the same text at the same moment, on a ledger of its own. */
static void say_at_counter(const struct house *house, const char *as, const char *text, char *out,
                           size_t size)
{
    char program[256], command[1024], now[ZONE_TEXT_OCTETS];
    process_path("meterpost", program, sizeof program);
    zone_write_rfc3339(conductor_now(house->conductor).wall_s, now, sizeof now);
    snprintf(command, sizeof command, "'%s' text -c %s/counter.conf --as %s --now %s \"%s\"",
             program, folder_path(), as, now, text);
    FILE *reply = popen(command, "r");
    assert_non_null(reply);
    size_t length = fread(out, 1, size - 1, reply);
    (void)pclose(reply);
    while (length > 0 && out[length - 1] == '\n') {
        length--;
    }
    out[length] = '\0';
}

static void the_counter_says_what_the_line_says(void **state)
{
    static const struct {
        const char *as, *phone, *text;
    } said[] = {
        {"Tom", HOUSE_TOM, "M12 1031.5, TR-9 412 new belt"},
        {"Ines", HOUSE_INES, "M7 38h"},
        {"Tom", HOUSE_TOM, "M12 10415"},
        {"Tom", HOUSE_TOM, "yes"},
        {"Tom", HOUSE_TOM, "M12?"},
        {"Ben", HOUSE_BEN, "M14 190"},
        {"Rosa", HOUSE_ROSA, "M14 DONE 82 5qt"},
        {"Ines", HOUSE_INES, "DUE"},
        {"Ben", HOUSE_BEN, "where is the truck"},
        {"Ines", HOUSE_INES, "HELP"},
    };
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(yard_write_config(folder_path(), "counter", 1));
    for (size_t i = 0; i < sizeof said / sizeof said[0]; i++) {
        char counter[2048], line[2048], whom[64];
        struct event event;
        assert_true(conductor_advance(c, 2 * 60 * MINUTE_MS));
        say_at_counter(house, said[i].as, said[i].text, counter, sizeof counter);
        assert_true(conductor_text(c, said[i].phone, said[i].text));
        snprintf(whom, sizeof whom, "to=\"%s\"", said[i].phone);
        assert_true(conductor_await(c, "text-out", whom, MINUTE_MS, &event));
        assert_true(event_field(&event, "body", line, sizeof line));
        assert_string_equal(counter, line);
    }
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, house_setup, house_teardown)
    const struct CMUnitTest tests[] = {
        CASE(a_text_is_answered_and_its_copy_deleted),
        CASE(texts_that_came_while_it_was_down_are_swept_up),
        CASE(a_text_whose_indication_was_lost_is_found_by_the_sweep),
        CASE(a_restart_repeats_nothing),
        CASE(a_stranger_is_kept_and_not_answered),
        CASE(what_cannot_be_read_is_kept_raw_and_does_not_stick),
        CASE(the_log_names_no_number_and_no_text),
        CASE(a_text_garbled_on_the_line_is_read_again),
        CASE(a_long_text_is_put_together_and_answered_once),
        CASE(one_text_and_its_answer_take_three_commands),
        CASE(the_board_shows_what_was_texted),
        CASE(a_bad_config_on_reload_keeps_the_old_settings),
        CASE(a_good_config_is_in_force_after_a_reload),
        CASE(it_ends_cleanly_when_told_to),
        CASE(a_port_pulled_and_put_back_is_found_under_its_new_name),
        CASE(the_shop_is_told_once_and_in_its_hours),
        CASE(trouble_waits_for_the_shop_to_open_and_danger_does_not),
        CASE(the_counter_says_what_the_line_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
