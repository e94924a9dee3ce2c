/* SPDX-License-Identifier: MIT
 * What a yard did in each part of the year before. Common practice, no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "daemon/upkeep/almanac.h"

#define DAY INT64_C(86400)
#define NOW (1000 * DAY)
#define READINGS 36 /* two weeks apart */
#define MACHINES 24

/* One machine: in the periods of summer (the fifth to the tenth of the year before NOW) it runs so
 * many times what it runs in the others. Newest first. */
struct machine {
    struct usage_reading readings[READINGS];
    struct usage_record record;
};

static void invent(struct machine *machine, int readings, int64_t newest_s, int summer)
{
    int64_t total = 1000000;
    for (int i = 0; i < readings; i++) {
        int64_t at_s = newest_s - i * 14 * DAY;
        int period = (int)((at_s - 1 - (NOW - ALMANAC_YEAR_S)) / ALMANAC_PERIOD_S);
        machine->readings[i] = (struct usage_reading){at_s, total};
        total -= 1000 * (period >= 4 && period < 10 ? summer : 1);
    }
    machine->record =
        (struct usage_record){.count = (size_t)readings, .readings = machine->readings};
}

static struct almanac almanac_of(const struct machine *machine, int machines)
{
    struct almanac almanac = almanac_begin(NOW);
    for (int i = 0; i < machines; i++) {
        almanac_add(&almanac, &machine->record);
    }
    almanac_settle(&almanac);
    return almanac;
}

static void who_has_a_vote(void **state)
{
    static const struct {
        const char *what;
        int readings;
        int64_t newest_s;
        double votes;
    } cases[] = {
        {"never read", 0, NOW, 0},
        {"read once", 1, NOW, 0},
        {"read for half a year", 13, NOW, 0},
        {"read for the year and no more", 27, NOW, 0},
        {"two weeks more", 28, NOW, 0.25},
        {"four weeks more", 29, NOW, 0.5},
        {"eight weeks more", 31, NOW, 1},
        {"not read for a winter", 31, NOW - 140 * DAY, 1},
        {"not read for longer", 31, NOW - 196 * DAY, 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct machine machine;
        invent(&machine, cases[i].readings, cases[i].newest_s, 3);
        struct almanac almanac = almanac_begin(NOW);
        almanac_add(&almanac, &machine.record);
        double votes = almanac.votes;
        if (votes < cases[i].votes - 1e-9 || votes > cases[i].votes + 1e-9) {
            fail_msg("%s: %g votes", cases[i].what, votes);
        }
    }
}

static void the_more_votes_the_more_is_believed(void **state)
{
    struct machine machine;
    double before = 1;
    (void)state;
    invent(&machine, 31, NOW, 3);
    for (int machines = 0; machines <= MACHINES; machines++) {
        struct almanac almanac = almanac_of(&machine, machines);
        double sum = 0;
        for (int i = 0; i < ALMANAC_PERIODS; i++) {
            sum += almanac.weights[i];
        }
        assert_true(sum > ALMANAC_PERIODS - 1e-9 && sum < ALMANAC_PERIODS + 1e-9);
        assert_true(machines <= 2 ? almanac.weights[6] == 1 && almanac.votes == 0
                                  : almanac.weights[6] > before);
        assert_true(almanac.weights[6] < 39.0 / 25);
        assert_true(almanac.weights[1] <= 1 && almanac.weights[1] > 13.0 / 25);
        before = almanac.weights[6];
    }
    assert_true(before > 1.45);
}

static void a_machine_that_never_ran_says_nothing(void **state)
{
    struct machine machine;
    (void)state;
    invent(&machine, 31, NOW, 3);
    for (size_t i = 0; i < 31; i++) {
        machine.readings[i].true_hundredths = 5000;
    }
    assert_true(almanac_of(&machine, 3).votes == 0);
}

/* From one day to the next no weight jumps, over the turn of the year and the years after it too. */
static void weights_go_round_without_a_jump(void **state)
{
    struct machine machine;
    (void)state;
    invent(&machine, 31, NOW, 3);
    struct almanac almanac = almanac_of(&machine, MACHINES);
    double before = almanac_weight(&almanac, NOW - 800 * DAY - 1);
    for (int64_t at_s = NOW - 800 * DAY; at_s < NOW + 800 * DAY; at_s += DAY) {
        double weight = almanac_weight(&almanac, at_s);
        double again = almanac_weight(&almanac, at_s + ALMANAC_YEAR_S);
        assert_true(weight - before < 0.04 && before - weight < 0.04);
        assert_true(weight > 0.5 && weight < 1.6);
        assert_true(weight - again < 1e-9 && again - weight < 1e-9);
        before = weight;
    }
    int64_t middle_s = NOW - ALMANAC_YEAR_S + 6 * ALMANAC_PERIOD_S + ALMANAC_PERIOD_S / 2;
    double middle = almanac_weight(&almanac, middle_s) - almanac.weights[6];
    assert_true(middle < 1e-9 && middle > -1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(who_has_a_vote),
        cmocka_unit_test(the_more_votes_the_more_is_believed),
        cmocka_unit_test(a_machine_that_never_ran_says_nothing),
        cmocka_unit_test(weights_go_round_without_a_jump),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
