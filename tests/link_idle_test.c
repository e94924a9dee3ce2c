/* SPDX-License-Identifier: MIT
 * An idle link: how often it wakes the program, over a quarter of an hour and over a day. A modem
 * that is set up answers OK to whatever is said. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <string.h>

#include "fixtures/player/stage.h"

#define QUARTER_MS (15 * 60 * INT64_C(1000))
#define DAY_MS (96 * QUARTER_MS)
/* Four a minute are allowed in all; the watchdog's and the rounds' own wake-ups need some of it. */
#define WAKES_A_QUARTER_MAX 30

static void answer(struct stage *stage)
{
    stage_settle(stage);
    for (int i = 0; i < STAGE_STEPS_MAX && stage->said_count > 0; i++) {
        bool asks = memcmp(stage->said, "AT+CPIN?", 8) == 0;
        stage->said_count = 0;
        if (asks) {
            stage_say(stage, "\r\n+CPIN: READY\r\n", 16);
        }
        stage_say(stage, "\r\nOK\r\n", 6);
        stage_settle(stage);
    }
}

/* How often the link was called in that time. */
static int idle(struct stage *stage, int64_t for_ms)
{
    int64_t until_ms = stage->now.mono_ms + for_ms;
    int before = stage->wakes;
    while (stage_step(stage, until_ms)) {
        answer(stage);
    }
    stage_pass(stage, until_ms);
    return stage->wakes - before;
}

static void an_idle_link_wakes_seldom(void **state)
{
    static struct stage stage;
    (void)state;
    assert_true(stage_open(&stage, STAGE_FEEDING_LINES, 1800000000));
    idle(&stage, 60000);
    assert_int_equal(link_health(stage.link)->state, LINK_STATE_READY);
    for (int i = 0; i < 8; i++) {
        int wakes = idle(&stage, QUARTER_MS);
        if (wakes > WAKES_A_QUARTER_MAX) {
            fail_msg("%d times in quarter %d", wakes, i);
        }
    }
    assert_true(idle(&stage, DAY_MS) < 96 * WAKES_A_QUARTER_MAX);
    assert_int_equal(link_health(stage.link)->state, LINK_STATE_READY);
    assert_string_equal(stage.fault, "");
    stage_close(&stage);
}

static void a_link_without_a_port_wakes_twice_a_minute_at_most(void **state)
{
    static struct stage stage;
    (void)state;
    assert_true(stage_open(&stage, STAGE_FEEDING_LINES, 1800000000));
    stage.there = false;
    idle(&stage, 10 * 60000);
    assert_true(idle(&stage, QUARTER_MS) <= 30);
    stage_close(&stage);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_idle_link_wakes_seldom),
        cmocka_unit_test(a_link_without_a_port_wakes_twice_a_minute_at_most),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
