/* SPDX-License-Identifier: MIT
 * The ladder of +CNMI settings (TS 27.005 3.4.1). */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <string.h>

#include "daemon/modem/setup.h"

/* Refuses every rung and writes down the order, "2,1,1 1,1,1 ...": mode, mt, ds. Then stands at the
 * top again. */
static size_t climb(struct setup *setup, const char *list, char *out, size_t size)
{
    enum setup_verdict verdict = SETUP_VERDICT_REPEAT;
    size_t count = 0;
    *setup = (struct setup){.state = SETUP_STATE_GOING};
    if (list != NULL) {
        setup_keep_indications(setup, list, strlen(list));
    }
    out[0] = '\0';
    while (count < 100 && verdict == SETUP_VERDICT_REPEAT) {
        struct chat_command command = {.wait_ms = 0};
        struct chat_result taken = {.outcome = CHAT_OK}, refused = {.outcome = CHAT_ERROR};
        int mode = 0, mt = 0, bm = 0, ds = 0, bfr = 0;
        assert_int_equal(setup_write_indications(setup, &command), SETUP_WRITING_SEND);
        assert_int_equal(sscanf(command.text, "AT+CNMI=%d,%d,%d,%d,%d", &mode, &mt, &bm, &ds, &bfr),
                         5);
        assert_int_equal(bm, 0);
        struct setup other = *setup;
        assert_int_equal(setup_judge_indications(&other, &taken), SETUP_VERDICT_NEXT);
        assert_int_equal(mt == 1, other.found.way == INDICATIONS_WAY_ANNOUNCED);
        size_t end = strlen(out);
        snprintf(out + end, size - end, "%d,%d,%d/%d ", mode, mt, ds, bfr);
        verdict = setup_judge_indications(setup, &refused);
        count++;
    }
    assert_int_equal(verdict, SETUP_VERDICT_AGAIN);
    assert_int_equal(setup->found.way, INDICATIONS_WAY_NONE);
    return count;
}

static void without_a_list_the_best_comes_first_and_all_come(void **state)
{
    struct setup setup;
    char order[512];
    (void)state;
    assert_int_equal(climb(&setup, NULL, order, sizeof order), 14);
    assert_memory_equal(order, "2,1,1/0 1,1,1/0 2,1,2/0 ", 24);
}

static void what_is_listed_comes_before_what_is_not(void **state)
{
    struct setup setup;
    char order[512];
    (void)state;
    assert_int_equal(climb(&setup, "+CNMI: (1),(1,2),(0),(0,2),(0)", order, sizeof order), 14);
    assert_memory_equal(order, "1,1,2/0 1,1,0/0 2,1,1/0 ", 24);
}

static void announced_comes_before_direct_even_unlisted(void **state)
{
    struct setup setup;
    char order[512];
    (void)state;
    assert_int_equal(climb(&setup, "+CNMI: (1,2),(0,2),(0),(0,1),(0,1)", order, sizeof order), 14);
    const char *direct = strstr(order, "2,2,1/0 ");
    assert_non_null(direct);
    assert_int_equal(direct - order, 8 * 8); /* after the eight announced ones */
}

static void the_buffer_flag_is_one_that_is_listed(void **state)
{
    struct setup setup;
    char order[512];
    (void)state;
    climb(&setup, "+CNMI: (0-3),(0-3),(0-3),(0-2),(1)", order, sizeof order);
    assert_memory_equal(order, "2,1,1/1 ", 8);
    climb(&setup, "+CNMI: (0-3),(0-3),(0-3),(0-2),(0,1)", order, sizeof order);
    assert_memory_equal(order, "2,1,1/0 ", 8);
}

static void a_list_that_cannot_be_read_is_no_list(void **state)
{
    struct setup setup;
    char order[512];
    (void)state;
    assert_int_equal(climb(&setup, "+CNMI: ?", order, sizeof order), 14);
    assert_memory_equal(order, "2,1,1/0 ", 8);
}

static void a_restart_keeps_the_list(void **state)
{
    struct setup setup;
    struct chat_command command = {.wait_ms = 0};
    char order[512];
    (void)state;
    assert_int_equal(climb(&setup, "+CNMI: (1),(1),(0),(0),(0)", order, sizeof order), 14);
    setup_write_indications(&setup, &command);
    assert_string_equal(command.text, "AT+CNMI=1,1,0,0,0");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_a_list_the_best_comes_first_and_all_come),
        cmocka_unit_test(what_is_listed_comes_before_what_is_not),
        cmocka_unit_test(announced_comes_before_direct_even_unlisted),
        cmocka_unit_test(the_buffer_flag_is_one_that_is_listed),
        cmocka_unit_test(a_list_that_cannot_be_read_is_no_list),
        cmocka_unit_test(a_restart_keeps_the_list),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
