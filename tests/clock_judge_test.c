/* SPDX-License-Identifier: MIT
 * When the box's clock is believed, and when not. The moments were reckoned with GNU date:
 * date -ud 2027-04-01 +%s. How long networks hold texts and how modems without the network's time
 * behave is common practice, no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "daemon/upkeep/clock_judge.h"

#define NOW INT64_C(1806537600) /* 2027-04-01 00:00:00 UTC */
#define YEAR_2031 INT64_C(1932768000)
#define HOUR 3600
#define DAY (24 * HOUR)
#define YEAR (365 * DAY)

struct row {
    const char *about;
    struct clock_facts facts;
    enum clock_verdict verdict;
    enum clock_reason reason;
    int64_t time_s;
};

#define FACTS(now, network, witnessed, ...)                                                        \
    {                                                                                              \
        .now_s = (now), .network_s = (network), .witnessed_s = (witnessed), __VA_ARGS__            \
    }
#define NO_TEXTS .stamp_count = 0
#define TEXTS(count, ...) .stamp_count = (count), .stamps = {__VA_ARGS__}
#define BEHIND(because, time) CLOCK_VERDICT_BEHIND, CLOCK_REASON_##because, (time)
#define AHEAD(because, time) CLOCK_VERDICT_AHEAD, CLOCK_REASON_##because, (time)
#define TRUSTED(because, time) CLOCK_VERDICT_TRUSTED, CLOCK_REASON_##because, (time)

static const struct row rows[] = {
    {"nothing to compare with", FACTS(NOW, 0, 0, NO_TEXTS), TRUSTED(NOTHING_AGAINST, NOW)},
    {"1970", FACTS(60, 0, 0, NO_TEXTS), BEHIND(FLOOR, 0)},
    {"1970, the network tells", FACTS(60, NOW, 0, NO_TEXTS), BEHIND(FLOOR, NOW)},
    {"1970, and a modem of 1980", FACTS(60, 315964800, 0, NO_TEXTS), BEHIND(FLOOR, 0)},
    {"1970, one text is enough", FACTS(60, 0, 0, TEXTS(1, {NOW, 40})), BEHIND(FLOOR, NOW + 40)},
    {"1970, a text stamped in 1970", FACTS(60, 0, 0, TEXTS(1, {50, 10})), BEHIND(FLOOR, 0)},
    {"1970, a text from before the last known one",
     FACTS(60, 0, NOW, TEXTS(1, {NOW - 30 * DAY, 0})), BEHIND(FLOOR, 0)},
    {"1970, a text later than the last known one", FACTS(60, 0, NOW - 90 * DAY, TEXTS(1, {NOW, 0})),
     BEHIND(FLOOR, NOW)},
    {"the last second before the floor", FACTS(CLOCK_FLOOR_S - 1, 0, 0, NO_TEXTS),
     BEHIND(FLOOR, 0)},
    {"the floor", FACTS(CLOCK_FLOOR_S, 0, 0, NO_TEXTS), TRUSTED(NOTHING_AGAINST, CLOCK_FLOOR_S)},

    {"the network agrees", FACTS(NOW, NOW + 2, 0, NO_TEXTS), TRUSTED(NETWORK, NOW)},
    {"the network sends a wrong zone", FACTS(NOW, NOW - 26 * HOUR, 0, NO_TEXTS),
     TRUSTED(NETWORK, NOW)},
    {"the network is days ahead", FACTS(NOW, NOW + 2 * DAY, 0, NO_TEXTS),
     BEHIND(NETWORK, NOW + 2 * DAY)},
    {"just more than any zone", FACTS(NOW, NOW + 26 * HOUR + 1, 0, NO_TEXTS),
     BEHIND(NETWORK, NOW + 26 * HOUR + 1)},
    {"the network is years behind", FACTS(YEAR_2031, NOW, 0, NO_TEXTS), AHEAD(NETWORK, NOW)},
    {"a modem never told the time", FACTS(NOW, 315964800, 0, NO_TEXTS),
     TRUSTED(NOTHING_AGAINST, NOW)},
    {"a modem that was told long ago, before known texts",
     FACTS(NOW, NOW - 60 * DAY, NOW - DAY, NO_TEXTS), TRUSTED(NOTHING_AGAINST, NOW)},
    {"a modem that was told long ago, before two texts of today",
     FACTS(NOW, NOW - 60 * DAY, 0, TEXTS(2, {NOW - 10, 10}, {NOW - 2 * HOUR, 2 * HOUR})),
     TRUSTED(TEXTS, NOW)},
    {"clock and network agree against what was known", FACTS(NOW, NOW, YEAR_2031, NO_TEXTS),
     TRUSTED(NETWORK, NOW)},

    {"a text held for five days", FACTS(NOW, 0, 0, TEXTS(1, {NOW - 5 * DAY, 0})),
     TRUSTED(NOTHING_AGAINST, NOW)},
    {"one stray stamp", FACTS(NOW, 0, 0, TEXTS(1, {NOW + 90 * DAY, 0})),
     TRUSTED(NOTHING_AGAINST, NOW)},
    {"one stray stamp among good ones",
     FACTS(NOW, 0, 0, TEXTS(3, {NOW + 3 * DAY, 0}, {NOW - DAY, DAY}, {NOW - 2 * DAY, 2 * DAY})),
     TRUSTED(TEXTS, NOW)},
    {"two texts agree that it is behind",
     FACTS(NOW, 0, 0, TEXTS(2, {NOW + 90 * DAY, 60}, {NOW + 89 * DAY, HOUR})),
     BEHIND(TEXTS, NOW + 90 * DAY + 60)},
    {"two that do not agree with each other",
     FACTS(NOW, 0, 0, TEXTS(2, {NOW + 90 * DAY, 60}, {NOW + 900 * DAY, HOUR})),
     TRUSTED(NOTHING_AGAINST, NOW)},
    {"two with a wrong zone",
     FACTS(NOW, 0, 0, TEXTS(2, {NOW + 14 * HOUR, 0}, {NOW + 12 * HOUR, 2 * HOUR})),
     TRUSTED(TEXTS, NOW)},
    {"earlier than known texts", FACTS(NOW, 0, NOW + 90 * DAY, NO_TEXTS), BEHIND(WITNESSED, 0)},
    {"earlier than known texts, and a text says how much",
     FACTS(NOW, 0, NOW + 90 * DAY, TEXTS(1, {NOW + 120 * DAY, 5})),
     BEHIND(WITNESSED, NOW + 120 * DAY + 5)},
    {"two texts of now are right against what was known",
     FACTS(NOW, 0, YEAR_2031, TEXTS(2, {NOW, 0}, {NOW - HOUR, HOUR})), TRUSTED(TEXTS, NOW)},

    {"three texts one after the other say that it is ahead",
     FACTS(YEAR_2031, 0, 0, TEXTS(3, {NOW, 0}, {NOW - HOUR, HOUR}, {NOW - 2 * HOUR, 2 * HOUR})),
     AHEAD(TEXTS, NOW)},
    {"three old texts found at once on a SIM",
     FACTS(YEAR_2031, 0, 0, TEXTS(3, {NOW, 5}, {NOW - HOUR, 6}, {NOW - 2 * HOUR, 7})),
     TRUSTED(NOTHING_AGAINST, YEAR_2031)},
    {"two old texts are too few", FACTS(YEAR_2031, 0, 0, TEXTS(2, {NOW, 0}, {NOW - HOUR, HOUR})),
     TRUSTED(NOTHING_AGAINST, YEAR_2031)},
    {"three old ones that do not agree",
     FACTS(YEAR_2031, 0, 0, TEXTS(3, {NOW, 0}, {NOW - YEAR, HOUR}, {NOW - 2 * HOUR, 2 * HOUR})),
     TRUSTED(NOTHING_AGAINST, YEAR_2031)},
    {"more than a year since the last text", FACTS(YEAR_2031, 0, NOW, NO_TEXTS),
     CLOCK_VERDICT_UNKNOWN, CLOCK_REASON_LEAPT, YEAR_2031},
    {"more than a year, and a text of now", FACTS(YEAR_2031, 0, NOW, TEXTS(1, {YEAR_2031, 0})),
     TRUSTED(NOTHING_AGAINST, YEAR_2031)},
    {"a season since the last text", FACTS(NOW, 0, NOW - 200 * DAY, NO_TEXTS),
     TRUSTED(NOTHING_AGAINST, NOW)},

    {"no time at all", FACTS(INT64_MIN, INT64_MAX, INT64_MIN, TEXTS(1, {INT64_MAX, INT64_MIN})),
     BEHIND(FLOOR, 0)},
    {"far beyond any calendar", FACTS(INT64_MAX, 0, 0, NO_TEXTS), BEHIND(FLOOR, 0)},
    {"more stamps than there can be", FACTS(NOW, 0, 0, TEXTS(900, {INT64_MAX, INT64_MAX})),
     TRUSTED(NOTHING_AGAINST, NOW)},
};

static void each_witness_has_its_weight(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct clock_judgement judgement = clock_judge(&rows[i].facts);
        if (judgement.verdict != rows[i].verdict || judgement.reason != rows[i].reason ||
            judgement.time_s != rows[i].time_s) {
            fail_msg("%s: verdict %d, reason %d, time %lld", rows[i].about, judgement.verdict,
                     judgement.reason, (long long)judgement.time_s);
        }
        bool wrong =
            rows[i].verdict == CLOCK_VERDICT_BEHIND || rows[i].verdict == CLOCK_VERDICT_AHEAD;
        assert_int_equal(clock_is_wrong(&judgement), wrong);
        assert_int_equal(judgement.time_s == 0, judgement.at_least);
    }
}

static void it_says_by_how_much(void **state)
{
    (void)state;
    struct clock_facts facts = {.now_s = NOW, .network_s = NOW + 3 * DAY};
    assert_int_equal(clock_judge(&facts).off_s, -3 * DAY);
    facts.network_s = NOW - 3 * DAY;
    assert_int_equal(clock_judge(&facts).off_s, 3 * DAY);
    facts.network_s = NOW - 900;
    assert_int_equal(clock_judge(&facts).off_s, 900);
    facts = (struct clock_facts){.now_s = NOW, .witnessed_s = NOW + 9 * DAY};
    assert_int_equal(clock_judge(&facts).off_s, -9 * DAY);
    assert_true(clock_judge(&facts).at_least);
    facts.now_s = 0;
    assert_int_equal(clock_judge(&facts).off_s, -CLOCK_FLOOR_S);
}

static void a_text_is_not_sent_after_it_came(void **state)
{
    (void)state;
    assert_true(clock_stamp_fits(NOW, NOW));
    assert_false(clock_stamp_fits(NOW + 1, NOW));
    assert_true(clock_stamp_fits(NOW - 9 * DAY, NOW));
    assert_true(clock_stamp_fits(NOW, 0));
    assert_false(clock_stamp_fits(CLOCK_FLOOR_S - 1, 0));
    assert_false(clock_stamp_fits(0, NOW));
    assert_false(clock_stamp_fits(INT64_MAX, 0));
}

static void each_reason_has_its_words(void **state)
{
    (void)state;
    assert_string_equal(clock_reason_says(CLOCK_REASON_NOTHING_AGAINST), "");
    for (int reason = CLOCK_REASON_NETWORK; reason <= CLOCK_REASON_LEAPT; reason++) {
        assert_true(strlen(clock_reason_says((enum clock_reason)reason)) > 10);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_witness_has_its_weight),
        cmocka_unit_test(it_says_by_how_much),
        cmocka_unit_test(a_text_is_not_sent_after_it_came),
        cmocka_unit_test(each_reason_has_its_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
