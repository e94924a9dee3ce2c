/* SPDX-License-Identifier: MIT
 *
 * Civil days against GNU date, which knows the same calendar by other code. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <cmocka.h>

#include "daemon/upkeep/civil.h"

#define LINE_OCTETS 64

/* Asks GNU date for each line of the file at path; the answers are read with next_answer. */
static FILE *ask_date(const char *path, const char *format)
{
    char command[256];
    int length = snprintf(command, sizeof command, "LC_ALL=C date -u -f %s '+%s'", path, format);
    assert_true(length > 0 && (size_t)length < sizeof command);
    FILE *answers = popen(command, "r");
    assert_non_null(answers);
    return answers;
}

static void next_answer(FILE *answers, char line[LINE_OCTETS])
{
    assert_non_null(fgets(line, LINE_OCTETS, answers));
    line[strcspn(line, "\n")] = '\0';
}

struct questions {
    char folder[32];
    char path[64];
    FILE *file;
};

static void open_questions(struct questions *questions)
{
    strcpy(questions->folder, "/tmp/civil_test.XXXXXX");
    assert_non_null(mkdtemp(questions->folder));
    snprintf(questions->path, sizeof questions->path, "%s/dates", questions->folder);
    questions->file = fopen(questions->path, "w");
    assert_non_null(questions->file);
}

static void remove_questions(const struct questions *questions)
{
    assert_int_equal(unlink(questions->path), 0);
    assert_int_equal(rmdir(questions->folder), 0);
}

/* Every day of two centuries, and every 97th from the year 1 to 9999. */
static int32_t step_from(int32_t day)
{
    return day >= -25000 && day < 48000 ? 1 : 97;
}

static void days_and_weekdays_agree_with_gnu_date(void **state)
{
    (void)state;
    struct questions questions;
    open_questions(&questions);
    for (int32_t day = -719162; day <= 2932896; day += step_from(day)) {
        fprintf(questions.file, "@%lld\n", (long long)day * 86400);
    }
    assert_int_equal(fclose(questions.file), 0);
    FILE *answers = ask_date(questions.path, "%Y-%m-%d %u");
    for (int32_t day = -719162; day <= 2932896; day += step_from(day)) {
        char theirs[LINE_OCTETS], ours[LINE_OCTETS];
        int32_t back = 0;
        civil_write(day, ours, sizeof ours);
        assert_true(civil_read(ours, 10, &back));
        assert_int_equal(back, day);
        snprintf(ours + 10, sizeof ours - 10, " %d", civil_weekday(day) + 1);
        next_answer(answers, theirs);
        assert_string_equal(ours, theirs);
    }
    assert_int_equal(pclose(answers), 0);
    remove_questions(&questions);
}

/* GNU date carries a day that the month lacks into the next month, so it is asked for the last day
 * of the month aimed at. */
static void months_end_where_gnu_date_says(void **state)
{
    (void)state;
    static const int32_t starts[][3] = {{2027, 1, 31},  {2028, 1, 31}, {2028, 2, 29}, {2027, 8, 31},
                                        {2099, 12, 30}, {2027, 3, 14}, {1999, 11, 30}};
    struct questions questions;
    open_questions(&questions);
    for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++) {
        for (int32_t months = 0; months <= 60; months++) {
            fprintf(questions.file, "%04d-%02d-01 +%d months +1 month -1 day\n", starts[i][0],
                    starts[i][1], months);
        }
    }
    assert_int_equal(fclose(questions.file), 0);
    FILE *answers = ask_date(questions.path, "%Y-%m-%d");
    for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++) {
        struct civil_date start = {starts[i][0], starts[i][1], starts[i][2]};
        for (int32_t months = 0; months <= 60; months++) {
            char line[LINE_OCTETS];
            int32_t last = 0;
            next_answer(answers, line);
            assert_true(civil_read(line, 10, &last));
            struct civil_date want = civil_date_of(last);
            want.day = start.day < want.day ? start.day : want.day;
            assert_int_equal(civil_add_months(civil_day(start), months), civil_day(want));
        }
    }
    assert_int_equal(pclose(answers), 0);
    remove_questions(&questions);
}

static void months_can_be_taken_off(void **state)
{
    (void)state;
    int32_t day = civil_day((struct civil_date){2028, 3, 31});
    assert_int_equal(civil_add_months(day, -1), civil_day((struct civil_date){2028, 2, 29}));
    assert_int_equal(civil_add_months(day, -13), civil_day((struct civil_date){2027, 2, 28}));
}

static void what_lies_outside_the_calendar_is_held_to_its_ends(void **state)
{
    (void)state;
    int32_t first = civil_day((struct civil_date){1, 1, 1});
    int32_t last = civil_day((struct civil_date){9999, 12, 31});
    assert_int_equal(civil_day(civil_date_of(INT32_MIN)), first);
    assert_int_equal(civil_day(civil_date_of(INT32_MAX)), last);
    assert_int_equal(civil_add_months(0, INT32_MAX), last);
    assert_int_equal(civil_add_months(0, INT32_MIN), first);
    assert_int_equal(civil_weekday(INT32_MIN), civil_weekday(first));
}

static void only_real_dates_in_the_one_form_are_read(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        bool good;
    } cases[] = {
        {"2028-02-29", true},   {"2027-02-29", false}, {"2100-02-29", false}, {"2000-02-29", true},
        {"2027-04-31", false},  {"2027-13-01", false}, {"2027-00-10", false}, {"2027-01-00", false},
        {"0000-01-01", false},  {"2027-1-01", false},  {"2027/01/01", false}, {"2027-01-1x", false},
        {"2027-01-011", false}, {"", false},           {"-027-01-01", false}, {"0001-01-01", true},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int32_t day = 12345678;
        assert_int_equal(civil_read(cases[i].text, strlen(cases[i].text), &day), cases[i].good);
        assert_true(cases[i].good || day == 12345678);
    }
}

static void a_date_is_not_written_into_too_little_room(void **state)
{
    (void)state;
    char room[CIVIL_TEXT_OCTETS] = "unchanged";
    civil_write(0, room, 8);
    assert_string_equal(room, "");
    civil_write(0, room, 0);
    civil_write(0, room, sizeof room);
    assert_string_equal(room, "1970-01-01");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(days_and_weekdays_agree_with_gnu_date),
        cmocka_unit_test(months_end_where_gnu_date_says),
        cmocka_unit_test(months_can_be_taken_off),
        cmocka_unit_test(what_lies_outside_the_calendar_is_held_to_its_ends),
        cmocka_unit_test(only_real_dates_in_the_one_form_are_read),
        cmocka_unit_test(a_date_is_not_written_into_too_little_room),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
