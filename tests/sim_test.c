/* SPDX-License-Identifier: MIT
 * The SIM's PIN is tried once ever: whatever is restarted, replaced or cut in between. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "daemon/modem/setup.h"

struct desk {
    char folder[32], file[64], mark[64];
    char pin[SIM_PIN_OCTETS], says[240];
};

static void write_pin(const struct desk *desk, const char *text, mode_t mode)
{
    FILE *file = fopen(desk->file, "we");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
    assert_int_equal(chmod(desk->file, mode), 0);
}

static bool take(struct desk *desk)
{
    desk->pin[0] = desk->says[0] = '\0';
    return sim_take_pin(desk->file, desk->mark, desk->pin, desk->says, sizeof desk->says);
}

static int lay_out(void **state)
{
    static struct desk desk;
    desk = (struct desk){.folder = "/tmp/pin-test-XXXXXX"};
    assert_non_null(mkdtemp(desk.folder));
    snprintf(desk.file, sizeof desk.file, "%s/pin", desk.folder);
    snprintf(desk.mark, sizeof desk.mark, "%s/pin-tried", desk.folder);
    *state = &desk;
    return 0;
}

static int clear(void **state)
{
    struct desk *desk = *state;
    unlink(desk->file);
    unlink(desk->mark);
    return rmdir(desk->folder);
}

static void a_pin_is_given_once(void **state)
{
    struct desk *desk = *state;
    write_pin(desk, "1234\n", 0600);
    assert_true(take(desk));
    assert_string_equal(desk->pin, "1234");
    assert_false(take(desk));
    assert_non_null(strstr(desk->says, "was tried already"));
    assert_non_null(strstr(desk->says, desk->mark));
}

static void a_pin_that_proved_right_is_given_again(void **state)
{
    struct desk *desk = *state;
    write_pin(desk, "1234", 0640);
    for (int i = 0; i < 5; i++) {
        assert_true(take(desk));
        sim_pin_proved(desk->mark);
    }
}

static void the_mark_is_on_disk_before_the_pin_is_given(void **state)
{
    struct desk *desk = *state;
    struct stat status;
    write_pin(desk, "1234", 0600);
    assert_true(take(desk));
    assert_int_equal(stat(desk->mark, &status), 0);
    assert_true(status.st_size > 0);
    assert_int_equal(status.st_mode & 0777, 0600);
}

static void without_a_mark_no_pin_is_given(void **state)
{
    struct desk *desk = *state;
    write_pin(desk, "1234", 0600);
    assert_false(sim_take_pin(desk->file, "/proc/no-such-folder/mark", desk->pin, desk->says,
                              sizeof desk->says));
    assert_non_null(strstr(desk->says, "cannot be written"));
}

static void a_mark_that_makes_no_sense_holds_the_pin_back(void **state)
{
    struct desk *desk = *state;
    write_pin(desk, "1234", 0600);
    FILE *file = fopen(desk->mark, "we");
    assert_non_null(file);
    fputs("what is this\n", file);
    fclose(file);
    assert_false(take(desk));
    assert_non_null(strstr(desk->says, "unreadable"));
}

static void two_wrong_pins_are_enough(void **state)
{
    struct desk *desk = *state;
    write_pin(desk, "1111", 0600);
    assert_true(take(desk));
    write_pin(desk, "2222", 0600);
    assert_true(take(desk));
    write_pin(desk, "3333", 0600);
    assert_false(take(desk));
    assert_non_null(strstr(desk->says, "a third wrong one locks the SIM"));
    write_pin(desk, "1111", 0600);
    assert_false(take(desk));
}

static void a_right_pin_after_a_wrong_one_clears_the_count(void **state)
{
    struct desk *desk = *state;
    write_pin(desk, "1111", 0600);
    assert_true(take(desk));
    write_pin(desk, "2222", 0600);
    assert_true(take(desk));
    sim_pin_proved(desk->mark);
    assert_true(take(desk)); /* 2222 again */
    write_pin(desk, "1111", 0600);
    assert_true(take(desk));
    assert_false(take(desk));
}

static void what_others_may_read_is_refused(void **state)
{
    struct desk *desk = *state;
    static const mode_t modes[] = {0644, 0604, 0602, 0660, 0601, 0666};
    for (size_t i = 0; i < sizeof modes / sizeof modes[0]; i++) {
        write_pin(desk, "1234", modes[i]);
        assert_false(take(desk));
        assert_non_null(strstr(desk->says, "others may"));
        assert_int_not_equal(access(desk->mark, F_OK), 0);
    }
}

static void what_is_no_pin_is_refused(void **state)
{
    struct desk *desk = *state;
    static const char *const texts[] = {"", "\n", "123", "123456789", "12a4", "AT+CFUN=0", "-123"};
    for (size_t i = 0; i < sizeof texts / sizeof texts[0]; i++) {
        write_pin(desk, texts[i], 0600);
        assert_false(take(desk));
        assert_non_null(strstr(desk->says, "holds no PIN"));
    }
}

static void a_missing_file_or_none_says_what_to_do(void **state)
{
    struct desk *desk = *state;
    assert_false(take(desk));
    assert_non_null(strstr(desk->says, "cannot read the modem's pin_file"));
    assert_false(sim_take_pin("", desk->mark, desk->pin, desk->says, sizeof desk->says));
    assert_non_null(strstr(desk->says, "the modem's pin_file"));
    assert_false(sim_take_pin(desk->folder, desk->mark, desk->pin, desk->says, sizeof desk->says));
}

static void an_open_sim_without_a_try_writes_nothing(void **state)
{
    struct desk *desk = *state;
    sim_pin_proved(desk->mark);
    assert_int_not_equal(access(desk->mark, F_OK), 0);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, lay_out, clear)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(a_pin_is_given_once),
        TEST(a_pin_that_proved_right_is_given_again),
        TEST(the_mark_is_on_disk_before_the_pin_is_given),
        TEST(without_a_mark_no_pin_is_given),
        TEST(a_mark_that_makes_no_sense_holds_the_pin_back),
        TEST(two_wrong_pins_are_enough),
        TEST(a_right_pin_after_a_wrong_one_clears_the_count),
        TEST(what_others_may_read_is_refused),
        TEST(what_is_no_pin_is_refused),
        TEST(a_missing_file_or_none_says_what_to_do),
        TEST(an_open_sim_without_a_try_writes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
