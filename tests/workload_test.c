/* SPDX-License-Identifier: MIT
 *
 * Jobs laid into days: each rule as a row, and small yards beside every way there is. The rules are
 * common practice, no source. WORKLOAD_SEED=N draws other yards. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/upkeep/workload.h"
#include "tests/draw.h"

#define DAYS_MOST 8
#define JOBS_MOST 5

/* A week of days of 420 minutes in letters: 'o' open, '-' closed. */
static size_t days_of(const char *week, struct workload_day *days)
{
    size_t count = strlen(week);
    for (size_t i = 0; i < count; i++) {
        days[i].minutes = days[i].free_minutes = week[i] == 'o' ? 420 : 0;
    }
    return count;
}

static void each_rule(void **state)
{
    static const struct {
        const char *rule, *week;
        struct {
            int32_t machine, minutes, from, by;
            const char *booked; /* the day, a digit; NULL not */
        } jobs[JOBS_MOST];
        int32_t day[JOBS_MOST];
        const char *free; /* hours and minutes left of each day, where they are looked at */
    } cases[] = {
        {"on the last day in time", "ooooo", {{1, 90, 0, 3, NULL}}, {3}, "420 420 420 330 420"},
        {"what is late comes at once", "ooooo", {{1, 90, 0, -9, NULL}}, {0}, NULL},
        {"today is in time today", "ooooo", {{1, 90, 0, 0, NULL}}, {0}, NULL},
        {"a closed day is not worked", "ooo--oo", {{1, 90, 0, 4, NULL}}, {2}, NULL},
        {"nor on the first day", "--ooo", {{1, 90, 0, 1, NULL}}, {2}, NULL},
        {"not before its parts", "ooooo", {{1, 90, 3, 1, NULL}}, {3}, NULL},
        {"parts in time make no odds", "ooooo", {{1, 90, 3, 4, NULL}}, {4}, NULL},
        {"parts that come on a closed day", "ooo--oo", {{1, 90, 3, 1, NULL}}, {5}, NULL},
        {"beyond the days looked at", "ooo", {{1, 90, 3, 1, NULL}}, {WORKLOAD_NONE}, NULL},
        {"wanted beyond them", "ooo", {{1, 90, 0, 40, NULL}}, {2}, NULL},
        {"nowhere to be laid", "---", {{1, 90, 0, 1, NULL}}, {WORKLOAD_NONE}, NULL},
        {"a full day is full", "ooooo", {{1, 400, 0, 3, NULL}, {2, 90, 0, 3, NULL}}, {2, 3}, NULL},
        {"two fill one",
         "ooooo",
         {{1, 210, 0, 3, NULL}, {2, 210, 0, 3, NULL}},
         {3, 3},
         "420 420 420 0 420"},
        {"a booked day is taken as given",
         "ooooo",
         {{1, 400, 0, 3, "3"}, {2, 90, 0, 3, NULL}},
         {3, 2},
         "420 420 330 20 420"},
        {"booked beyond what there is",
         "oo",
         {{1, 300, 0, 0, "0"}, {2, 300, 0, 0, "0"}, {3, 10, 0, 0, NULL}},
         {0, 0, 1},
         "-180 410"},
        {"booked on a closed day", "o-o", {{1, 90, 0, 0, "1"}}, {1}, "420 -90 420"},
        {"the urgent one first",
         "ooo",
         {{1, 420, 0, -3, NULL}, {2, 420, 0, 0, NULL}, {3, 420, 0, 0, NULL}},
         {0, 1, 2},
         NULL},
        {"what waits for parts makes room",
         "ooo",
         {{1, 420, 0, 1, NULL}, {2, 420, 1, 1, NULL}, {3, 420, 0, 2, NULL}},
         {0, 1, 2},
         NULL},
        {"plans of a machine near together come together",
         "ooooo",
         {{1, 90, 0, 2, NULL}, {2, 90, 0, 3, NULL}, {1, 60, 0, 4, NULL}},
         {2, 3, 2},
         "420 420 270 330 420"},
        {"not where they are far apart",
         "ooooo",
         {{1, 90, 0, 2, NULL}, {1, 60, 0, 17, NULL}},
         {2, 4},
         NULL},
        {"at a fortnight they are near",
         "ooooo",
         {{1, 90, 0, 2, NULL}, {1, 60, 0, 16, NULL}},
         {2, 2},
         NULL},
        {"parts of the second make the first no later",
         "ooooo",
         {{1, 90, 0, 2, NULL}, {1, 60, 3, 4, NULL}},
         {2, 4},
         NULL},
        {"parts of the second are waited for in time",
         "ooooo",
         {{1, 400, 0, 2, NULL}, {1, 20, 2, 4, NULL}, {2, 420, 0, 2, NULL}},
         {2, 2, 1},
         NULL},
        {"what is booked is not joined",
         "ooooo",
         {{1, 90, 0, 2, "1"}, {1, 60, 0, 3, NULL}},
         {1, 3},
         NULL},
        {"longer than a day goes on on the next open one",
         "o--oo",
         {{1, 600, 0, 0, NULL}, {2, 240, 0, 3, NULL}, {3, 300, 0, 3, NULL}},
         {0, 3, 4},
         "0 0 0 0 120"},
        {"as long as there are days", "oo", {{1, 9000, 0, 0, NULL}}, {0}, "0 0"},
        {"a job of no time", "-o", {{1, 0, 0, 0, NULL}}, {1}, "0 420"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct workload_day days[DAYS_MOST];
        struct workload_job jobs[JOBS_MOST];
        size_t day_count = days_of(cases[i].week, days);
        size_t job_count = 0;
        for (; job_count < JOBS_MOST && cases[i].jobs[job_count].machine != 0; job_count++) {
            const char *booked = cases[i].jobs[job_count].booked;
            jobs[job_count] =
                (struct workload_job){.machine = cases[i].jobs[job_count].machine,
                                      .minutes = cases[i].jobs[job_count].minutes,
                                      .from = cases[i].jobs[job_count].from,
                                      .by = cases[i].jobs[job_count].by,
                                      .booked = booked != NULL,
                                      .day = booked != NULL ? booked[0] - '0' : WORKLOAD_NONE};
        }
        workload_lay(days, day_count, jobs, job_count);
        for (size_t j = 0; j < job_count; j++) {
            if (jobs[j].day != cases[i].day[j]) {
                fail_msg("%s: job %zu on day %d, not %d", cases[i].rule, j, jobs[j].day,
                         cases[i].day[j]);
            }
        }
        char left[DAYS_MOST * 8] = "";
        for (size_t j = 0; j < day_count; j++) {
            size_t length = strlen(left);
            (void)snprintf(left + length, sizeof left - length, "%s%d", j > 0 ? " " : "",
                           days[j].free_minutes);
        }
        if (cases[i].free != NULL && strcmp(left, cases[i].free) != 0) {
            fail_msg("%s: %s left, not %s", cases[i].rule, left, cases[i].free);
        }
    }
}

struct small_yard {
    struct workload_day days[DAYS_MOST];
    struct workload_job jobs[JOBS_MOST];
    size_t day_count, job_count;
};

/* Each machine one job, the most urgent first; some days closed, some jobs booked. length: of every
 * job; 0: each its own. */
static struct small_yard draw_yard(int32_t length)
{
    struct small_yard yard = {.day_count = 1 + draw(DAYS_MOST), .job_count = 1 + draw(JOBS_MOST)};
    int32_t by = -3;
    for (size_t i = 0; i < yard.day_count; i++) {
        yard.days[i].minutes = draw(4) == 0 ? 0 : 420 * (int32_t)(1 + draw(2));
        yard.days[i].free_minutes = yard.days[i].minutes;
    }
    for (size_t i = 0; i < yard.job_count; i++) {
        by += (int32_t)draw(4);
        bool booked = draw(6) == 0;
        yard.jobs[i] = (struct workload_job){
            .machine = (int32_t)i,
            .minutes = length > 0 ? length : 60 * (int32_t)(1 + draw(7)),
            .from = (int32_t)draw(3) * (int32_t)draw(3),
            .by = by,
            .booked = booked,
            .day = booked ? (int32_t)draw((uint32_t)yard.day_count) : WORKLOAD_NONE};
    }
    return yard;
}

#define NOT_LAID 1000 /* worse than any lateness */

static int32_t late_of(const struct workload_job *job, int32_t day)
{
    return job->booked ? 0 : day < 0 ? NOT_LAID : day > job->by ? day - job->by : 0;
}

/* The greatest lateness of the best of all ways, tried one by one. */
static int32_t best_of_all(struct small_yard *yard, size_t job)
{
    int32_t best = NOT_LAID;
    if (job == yard->job_count) {
        return 0;
    }
    const struct workload_job *of = &yard->jobs[job];
    if (of->booked) {
        return best_of_all(yard, job + 1);
    }
    for (int32_t day = of->from; day < (int32_t)yard->day_count; day++) {
        if (yard->days[day].free_minutes >= of->minutes && yard->days[day].minutes > 0) {
            yard->days[day].free_minutes -= of->minutes;
            int32_t rest = best_of_all(yard, job + 1);
            int32_t own = late_of(of, day);
            rest = rest > own ? rest : own;
            best = rest < best ? rest : best;
            yard->days[day].free_minutes += of->minutes;
        }
    }
    return best;
}

static void book(struct small_yard *yard)
{
    for (size_t i = 0; i < yard->job_count; i++) {
        if (yard->jobs[i].booked) {
            yard->days[yard->jobs[i].day].free_minutes -= yard->jobs[i].minutes;
        }
    }
}

/* What is kept whatever the jobs' lengths: no day is laid fuller than it is, nothing comes before its
 * parts or on a closed day, what is booked stays, and no job could better its day by itself. */
static void keeps_the_rules(const struct small_yard *before, const struct small_yard *laid)
{
    struct small_yard left = *before;
    book(&left);
    for (size_t i = 0; i < laid->job_count; i++) {
        const struct workload_job *job = &laid->jobs[i];
        if (job->booked) {
            assert_int_equal(job->day, before->jobs[i].day);
        } else if (job->day != WORKLOAD_NONE) {
            assert_true(job->day >= job->from && left.days[job->day].minutes > 0);
            left.days[job->day].free_minutes -= job->minutes;
            assert_true(left.days[job->day].free_minutes >= 0);
        }
    }
    for (size_t day = 0; day < laid->day_count; day++) {
        assert_int_equal(laid->days[day].free_minutes, left.days[day].free_minutes);
    }
    for (size_t i = 0; i < laid->job_count; i++) {
        const struct workload_job *job = &laid->jobs[i];
        for (int32_t day = job->from; !job->booked && day < (int32_t)laid->day_count; day++) {
            bool room = left.days[day].minutes > 0 && left.days[day].free_minutes >= job->minutes;
            assert_false(room && late_of(job, day) < late_of(job, job->day));
        }
    }
}

static void small_yards_are_laid_as_well_as_in_any_way(void **state)
{
    const char *wanted = getenv("WORKLOAD_SEED");
    (void)state;
    seed = wanted != NULL ? strtoull(wanted, NULL, 10) : 20270315;
    print_message("seed %llu\n", (unsigned long long)seed);
    int32_t late = 0;
    for (int i = 0; i < 20000; i++) {
        struct small_yard yard = draw_yard(i % 2 == 0 ? 210 : 0);
        struct small_yard laid = yard;
        workload_lay(laid.days, laid.day_count, laid.jobs, laid.job_count);
        keeps_the_rules(&yard, &laid);
        int32_t worst = 0;
        for (size_t j = 0; j < laid.job_count; j++) {
            int32_t own = late_of(&laid.jobs[j], laid.jobs[j].day);
            worst = own > worst ? own : worst;
        }
        book(&yard);
        int32_t best = best_of_all(&yard, 0);
        assert_true(worst >= best);
        if (i % 2 == 0) {
            assert_int_equal(worst, best);
        }
        late += worst > best ? 1 : 0;
    }
    print_message("jobs of many lengths: %d of 10000 yards later than the best way\n", late);
    assert_in_range(late, 0, 500);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_rule),
        cmocka_unit_test(small_yards_are_laid_as_well_as_in_any_way),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
