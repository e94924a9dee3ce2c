/* SPDX-License-Identifier: MIT
 * Every cause has its words, whom it concerns, and when it is tried again (TS 27.005 3.2.5; causes of
 * TS 24.011 E-2, TP-FCS of TS 23.040 9.2.3.22; the numbers are theirs). What is to be tried again,
 * and when, is common practice, no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "daemon/modem/cause.h"

static void each_cause_concerns_whom_it_should(void **state)
{
    static const struct {
        int32_t number;
        enum cause_scope scope;
        bool all; /* concerns whatever comes next as well */
    } cases[] = {
        {-1, CAUSE_SCOPE_PASSING, false},   {0, CAUSE_SCOPE_PASSING, false},
        {1, CAUSE_SCOPE_NUMBER, false},     {8, CAUSE_SCOPE_CONTRACT, false},
        {10, CAUSE_SCOPE_CONTRACT, false},  {17, CAUSE_SCOPE_PASSING, true},
        {21, CAUSE_SCOPE_PASSING, false},   {22, CAUSE_SCOPE_PASSING, true},
        {27, CAUSE_SCOPE_PASSING, false},   {28, CAUSE_SCOPE_CONTRACT, false},
        {29, CAUSE_SCOPE_CONTRACT, false},  {30, CAUSE_SCOPE_CONTRACT, false},
        {31, CAUSE_SCOPE_PASSING, false},   {38, CAUSE_SCOPE_PASSING, true},
        {41, CAUSE_SCOPE_PASSING, true},    {42, CAUSE_SCOPE_PASSING, true},
        {47, CAUSE_SCOPE_PASSING, true},    {50, CAUSE_SCOPE_CONTRACT, false},
        {69, CAUSE_SCOPE_PASSING, false},   {111, CAUSE_SCOPE_PASSING, false},
        {127, CAUSE_SCOPE_PASSING, false},  {128, CAUSE_SCOPE_TEXT, false},
        {176, CAUSE_SCOPE_TEXT, false},     {192, CAUSE_SCOPE_PASSING, true},
        {193, CAUSE_SCOPE_CONTRACT, false}, {194, CAUSE_SCOPE_PASSING, true},
        {195, CAUSE_SCOPE_NUMBER, false},   {196, CAUSE_SCOPE_NUMBER, false},
        {197, CAUSE_SCOPE_TAKEN, false},    {198, CAUSE_SCOPE_TEXT, false},
        {208, CAUSE_SCOPE_PASSING, true},   {213, CAUSE_SCOPE_PASSING, true},
        {255, CAUSE_SCOPE_PASSING, false},  {300, CAUSE_SCOPE_PASSING, false},
        {302, CAUSE_SCOPE_PASSING, false},  {304, CAUSE_SCOPE_PASSING, false},
        {310, CAUSE_SCOPE_PASSING, true},   {314, CAUSE_SCOPE_PASSING, true},
        {322, CAUSE_SCOPE_PASSING, true},   {330, CAUSE_SCOPE_PASSING, true},
        {331, CAUSE_SCOPE_PASSING, true},   {332, CAUSE_SCOPE_PASSING, true},
        {500, CAUSE_SCOPE_PASSING, false},  {9999, CAUSE_SCOPE_PASSING, false},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct cause *cause = cause_of(cases[i].number);
        if (cause->scope != cases[i].scope || cause->all != cases[i].all) {
            fail_msg("cause %d", (int)cases[i].number);
        }
    }
}

/* Every number of the standards, and what is beyond. */
static void every_number_has_words_and_passing_ones_a_pause(void **state)
{
    char words[CAUSE_SAYS_OCTETS];
    (void)state;
    for (int32_t number = CAUSE_NONE; number <= 1000; number++) {
        const struct cause *cause = cause_of(number);
        bool passes = cause->scope == CAUSE_SCOPE_PASSING || cause->scope == CAUSE_SCOPE_CONTRACT;
        assert_true(strlen(cause->says) > 5 && strlen(cause->says) < CAUSE_SAYS_OCTETS - 16);
        assert_int_equal(cause->pause_s > 0, passes);
        assert_string_not_equal(cause_write(number, words), "");
    }
    assert_string_equal(cause_write(38, words), "the network is out of order (38)");
    assert_string_equal(cause_write(CAUSE_NONE, words), "the modem gave no reason");
}

static void each_try_waits_longer_up_to_an_hour(void **state)
{
    static const int64_t waits_s[] = {60, 120, 300, 900, 3600, 3600, 3600};
    const struct cause *cause = cause_of(331);
    (void)state;
    for (int32_t tries = 0; tries < (int32_t)(sizeof waits_s / sizeof waits_s[0]); tries++) {
        assert_int_equal(cause_pause_ms(cause, tries), 1000 * waits_s[tries]);
    }
    assert_int_equal(cause_pause_ms(cause, INT32_MAX), 3600000);
    assert_int_equal(cause_pause_ms(cause_of(8), 0), 3600000); /* nothing passes by itself */
}

static void errors_of_the_equipment_mean_the_same(void **state)
{
    (void)state;
    assert_int_equal(cause_of_equipment(10), 310);
    assert_int_equal(cause_of_equipment(14), 314);
    assert_int_equal(cause_of_equipment(30), 331);
    assert_int_equal(cause_of_equipment(-1), CAUSE_NONE);
    assert_int_equal(cause_of_equipment(9999), CAUSE_NONE);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_cause_concerns_whom_it_should),
        cmocka_unit_test(every_number_has_words_and_passing_ones_a_pause),
        cmocka_unit_test(each_try_waits_longer_up_to_an_hour),
        cmocka_unit_test(errors_of_the_equipment_mean_the_same),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
