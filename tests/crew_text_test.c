/* SPDX-License-Identifier: MIT
 * What a text says: the plainest statements. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/crew_text.h"

static const struct crew_machine machines[] = {{"M12", true}, {"M7", true}};
static const char *const plans[] = {"drive"};
static const struct crew_names names = {machines, 2, plans, 1, NULL, 0};

static struct crew_text read_text(const char *text)
{
    struct crew_text out;
    crew_text_read(text, strlen(text), &names, CREW_DATE_MDY, false, &out);
    return out;
}

static void a_machine_and_a_figure_are_a_reading(void **state)
{
    (void)state;
    struct crew_text out = read_text("M12 1340h, M7 220.5 belt squeaks");
    assert_int_equal(out.statement_count, 2);
    assert_int_equal(out.statements[0].kind, CREW_READING);
    assert_int_equal(out.statements[0].machine, 0);
    assert_int_equal(out.statements[0].hours.hundredths, 134000);
    assert_int_equal(out.statements[1].hours.hundredths, 22050);
    assert_int_equal(out.statements[1].remark.length, strlen("belt squeaks"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_machine_and_a_figure_are_a_reading),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
