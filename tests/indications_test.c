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

/* Refuses every rung and writes down the order, "2,1,1 1,1,1 ...": mode, mt, ds. */
static size_t climb(const char *list, char *out, size_t size)
{
    struct indications ladder = {.listed = false};
    char command[80];
    size_t count = 0;
    if (list != NULL) {
        indications_read(&ladder, list, strlen(list));
    }
    out[0] = '\0';
    while (count < 100 && indications_command(&ladder, command, sizeof command)) {
        int mode = 0, mt = 0, bm = 0, ds = 0, bfr = 0;
        assert_int_equal(sscanf(command, "AT+CNMI=%d,%d,%d,%d,%d", &mode, &mt, &bm, &ds, &bfr), 5);
        assert_int_equal(bm, 0);
        assert_int_equal(mt == 1, indications_way(&ladder) == INDICATIONS_WAY_ANNOUNCED);
        size_t end = strlen(out);
        snprintf(out + end, size - end, "%d,%d,%d/%d ", mode, mt, ds, bfr);
        indications_refused(&ladder);
        count++;
    }
    assert_int_equal(indications_way(&ladder), INDICATIONS_WAY_NONE);
    return count;
}

static void without_a_list_the_best_comes_first_and_all_come(void **state)
{
    char order[512];
    (void)state;
    assert_int_equal(climb(NULL, order, sizeof order), 14);
    assert_memory_equal(order, "2,1,1/0 1,1,1/0 2,1,2/0 ", 24);
}

static void what_is_listed_comes_before_what_is_not(void **state)
{
    char order[512];
    (void)state;
    assert_int_equal(climb("+CNMI: (1),(1,2),(0),(0,2),(0)", order, sizeof order), 14);
    assert_memory_equal(order, "1,1,2/0 1,1,0/0 2,1,1/0 ", 24);
}

static void announced_comes_before_direct_even_unlisted(void **state)
{
    char order[512];
    (void)state;
    assert_int_equal(climb("+CNMI: (1,2),(0,2),(0),(0,1),(0,1)", order, sizeof order), 14);
    const char *direct = strstr(order, "2,2,1/0 ");
    assert_non_null(direct);
    assert_int_equal(direct - order, 8 * 8); /* after the eight announced ones */
}

static void the_buffer_flag_is_one_that_is_listed(void **state)
{
    char order[512];
    (void)state;
    climb("+CNMI: (0-3),(0-3),(0-3),(0-2),(1)", order, sizeof order);
    assert_memory_equal(order, "2,1,1/1 ", 8);
    climb("+CNMI: (0-3),(0-3),(0-3),(0-2),(0,1)", order, sizeof order);
    assert_memory_equal(order, "2,1,1/0 ", 8);
}

static void a_list_that_cannot_be_read_is_no_list(void **state)
{
    char order[512];
    (void)state;
    assert_int_equal(climb("+CNMI: ?", order, sizeof order), 14);
    assert_memory_equal(order, "2,1,1/0 ", 8);
}

static void a_restart_keeps_the_list(void **state)
{
    struct indications ladder = {.listed = false};
    char command[80];
    static const char list[] = "+CNMI: (1),(1),(0),(0),(0)";
    (void)state;
    indications_read(&ladder, list, strlen(list));
    for (int i = 0; i < 14; i++) {
        assert_true(indications_command(&ladder, command, sizeof command));
        indications_refused(&ladder);
    }
    indications_restart(&ladder);
    assert_true(indications_command(&ladder, command, sizeof command));
    assert_string_equal(command, "AT+CNMI=1,1,0,0,0");
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
