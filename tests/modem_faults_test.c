/* SPDX-License-Identifier: MIT
 * The whole daemon against the stand-in modem with each of its faults: a crew text that comes while
 * the fault shows is read once and answered, within a bound. The stand-in knows nothing of the
 * link, so it judges what the dialogues of fixtures/sessions only replay. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include "fixtures/conductor/house.h"

#define SECOND_MS 1000
#define MINUTE_MS (60 * SECOND_MS)

struct shown {
    const char *fault;  /* lines of script, parted by ";" */
    int64_t within_ms;  /* from the text to its answer */
    size_t answers_max; /* 2 where the fate of the first is hidden from the host */
};

static const struct shown faults[] = {
    {"fault silence", 60 * SECOND_MS, 1},
    {"fault silence 3", 3 * MINUTE_MS, 1},
    {"fault no-final", 20 * SECOND_MS, 1},
    {"fault no-final 2", 40 * SECOND_MS, 1},
    {"fault echo-stuck;restart", 20 * SECOND_MS, 1},
    {"fault echo-lost;restart", 20 * SECOND_MS, 1},
    {"fault split-bytes", 5 * SECOND_MS, 1},
    {"fault glued-lines", 5 * SECOND_MS, 1},
    {"fault urc-before always", 5 * SECOND_MS, 1},
    {"fault urc-inside always", 5 * SECOND_MS, 1},
    {"fault bare-prompt", 5 * SECOND_MS, 1},
    {"fault no-prompt", 5 * MINUTE_MS, 1},
    {"fault send-refused 1 42", 5 * MINUTE_MS, 1},
    {"fault send-refused 1 500", 5 * MINUTE_MS, 1},
    {"fault send-refused 1 331", 5 * MINUTE_MS, 1},
    {"fault send-taken-unsaid", 5 * SECOND_MS, 2},
    {"fault send-lost-unsaid", 15 * MINUTE_MS, 1},
    {"fault cnmi-mode-2;restart", 20 * SECOND_MS, 1},
    {"fault cnmi-refused 5;restart", 20 * SECOND_MS, 1},
    {"fault cnmi-refused always;restart", 40 * SECOND_MS, 1},
    {"fault direct-refused;restart", 20 * SECOND_MS, 1},
    {"fault direct-only;restart", 30 * SECOND_MS, 1},
    {"fault direct-only;fault direct-damaged;restart", 3 * MINUTE_MS, 1},
    {"fault service-left-on;restart", 20 * SECOND_MS, 1},
    {"centre;restart", 30 * SECOND_MS, 1},
    {"fault delete-fails", 20 * SECOND_MS, 1},
    {"fault storage-full;text +12065550187 \"hello\";mend", 5 * SECOND_MS, 1},
    {"fault garbled-read", 20 * SECOND_MS, 1},
    {"fault empty-read-ok", 5 * SECOND_MS, 1},
    {"fault lost-indication", 4 * MINUTE_MS, 1},
    {"fault wrong-memory", 20 * SECOND_MS, 1},
    {"fault delivered-twice", 20 * SECOND_MS, 1},
    {"fault sim-busy;restart", 30 * SECOND_MS, 1},
    {"fault plain-error;restart", 30 * SECOND_MS, 1},
    {"fault no-registration-commands;restart", 20 * SECOND_MS, 1},
    {"fault no-clock;restart", 20 * SECOND_MS, 1},
    {"fault slow", 60 * SECOND_MS, 1},
    {"fault slow;restart", 5 * MINUTE_MS, 1},
    {"fault slow always 1100;restart", 2 * MINUTE_MS, 1},
    {"fault slow always 9700;restart", 15 * MINUTE_MS, 1},
    {"fault slow always 20300;restart", 30 * MINUTE_MS, 1},
    {"fault slow always 20300", 10 * MINUTE_MS, 1},
    {"fault send-refused 1 302", 5 * MINUTE_MS, 1},
    {"fault send-refused 1 304", 5 * MINUTE_MS, 1},
    {"fault send-refused 1 69", 5 * MINUTE_MS, 1},
    {"fault restart", 30 * SECOND_MS, 1},
    {"restart", 20 * SECOND_MS, 1},
    {"registration 2;registration 1", 20 * SECOND_MS, 1},
    {"registration 0 0 5", 20 * SECOND_MS, 1},
    {"noise \"\\xff\\x00AT+OK\\r\\n> \"", 5 * SECOND_MS, 1},
    {"news \"^RSSI: 17\";news \"RING\"", 5 * SECOND_MS, 1},
    {"unplug;replug", 30 * SECOND_MS, 1},
    {"latency 3000", 60 * SECOND_MS, 1},
    {"send-delay 120000", 3 * MINUTE_MS, 1},
};

static void say_all(struct conductor *c, const char *lines)
{
    char copy[256], *rest = copy;
    snprintf(copy, sizeof copy, "%s", lines);
    for (char *line = strsep(&rest, ";"); line != NULL; line = strsep(&rest, ";")) {
        if (!conductor_say(c, "%s", line)) {
            fail_msg("%s: %s", line, conductor_says(c));
        }
    }
}

static void assert_answered(struct house *house, const struct shown *shown)
{
    struct conductor *c = house->conductor;
    struct event event;
    if (!conductor_await(c, "text-out", "to=\"" HOUSE_TOM "\"", shown->within_ms, &event)) {
        fail_msg("%s: %s", shown->fault, conductor_says(c));
    }
    assert_non_null(strstr(event.fields, "M12 1031.5h"));
}

static void a_text_is_read_once_and_answered(void **state, const struct shown *shown)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    say_all(c, shown->fault);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_answered(house, shown);
    assert_true(conductor_say(c, "mend"));
    assert_true(conductor_advance(c, 20 * MINUTE_MS));
    assert_in_range(conductor_count(c, "text-out", "to=\"" HOUSE_TOM "\""), 1, shown->answers_max);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM readings"), 1);
    assert_true(conductor_count(c, "deleted", "") >= 1);
    assert_true(conductor_text(c, HOUSE_TOM, "M12?"));
    assert_answered(house, &(struct shown){"afterwards", 30 * SECOND_MS, 1});
}

static void a_fault_is_lived_through(void **state)
{
    const struct shown *shown = *state;
    void *house = NULL;
    assert_int_equal(house_setup(&house), 0);
    a_text_is_read_once_and_answered(&house, shown);
    assert_int_equal(house_teardown(&house), 0);
}

#define FAULTS (sizeof faults / sizeof faults[0])

int main(int argc, char **argv)
{
    static struct CMUnitTest tests[FAULTS];
    for (size_t i = 0; i < FAULTS; i++) {
        tests[i] = (struct CMUnitTest){.name = faults[i].fault,
                                       .test_func = a_fault_is_lived_through,
                                       .initial_state = (void *)&faults[i]};
    }
    if (argc > 1) {
        cmocka_set_test_filter(argv[1]);
    }
    return _cmocka_run_group_tests("modem_faults", tests, FAULTS, NULL, NULL);
}
