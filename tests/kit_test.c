/* SPDX-License-Identifier: MIT
 *
 * Quarts and litres by NIST Handbook 44, appendix C, and NIST SP 811, appendix B (exact values);
 * container sizes are common practice, no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "daemon/upkeep/kit.h"

static void units_convert_as_nist_says(void **state)
{
    (void)state;
    static const struct {
        int64_t thousandths;
        enum kit_unit from, to;
        int64_t converted;
    } cases[] = {
        {1000000000, KIT_UNIT_QUART, KIT_UNIT_LITRE, 946352946},  /* 1 qt = 0.946 352 946 l */
        {4000000000, KIT_UNIT_QUART, KIT_UNIT_LITRE, 3785411784}, /* 1 gal = 3.785 411 784 l */
        {1000000000, KIT_UNIT_LITRE, KIT_UNIT_QUART, 1056688209}, /* 1 l = 1.056 688 209 qt */
        {5000, KIT_UNIT_QUART, KIT_UNIT_LITRE, 4732},
        {4700, KIT_UNIT_LITRE, KIT_UNIT_QUART, 4966},
        {5000, KIT_UNIT_QUART, KIT_UNIT_QUART, 5000},
        {2000, KIT_UNIT_PIECE, KIT_UNIT_PIECE, 2000},
        {0, KIT_UNIT_LITRE, KIT_UNIT_QUART, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int64_t converted = -1;
        assert_true(kit_convert(cases[i].thousandths, cases[i].from, cases[i].to, &converted));
        assert_int_equal(converted, cases[i].converted);
    }
}

static void pieces_are_no_fluid(void **state)
{
    (void)state;
    int64_t converted = -1;
    assert_false(kit_convert(2000, KIT_UNIT_PIECE, KIT_UNIT_QUART, &converted));
    assert_false(kit_convert(2000, KIT_UNIT_LITRE, KIT_UNIT_PIECE, &converted));
    assert_int_equal(converted, -1);
}

static void a_unit_is_found_by_the_name_that_is_written(void **state)
{
    (void)state;
    static const char *const names[KIT_UNIT_COUNT] = {"piece", "qt", "l"};
    for (size_t i = 0; i < KIT_UNIT_COUNT; i++) {
        enum kit_unit found = KIT_UNIT_COUNT;
        assert_string_equal(kit_unit_name((enum kit_unit)i), names[i]);
        assert_true(kit_unit_find(names[i], &found));
        assert_int_equal(found, i);
        assert_int_equal(kit_unit_row((enum kit_unit)i)->fluid, i != KIT_UNIT_PIECE);
    }
    enum kit_unit kept = KIT_UNIT_QUART;
    assert_false(kit_unit_find("quart", &kept));
    assert_false(kit_unit_find("", &kept));
    assert_int_equal(kept, KIT_UNIT_QUART);
}

static int64_t containers(int64_t needed, enum kit_unit unit, int64_t sold_in, enum kit_unit sold)
{
    return kit_containers(kit_grains(needed, unit), kit_grains(sold_in, sold));
}

static void what_is_needed_is_rounded_up_to_containers(void **state)
{
    (void)state;
    assert_int_equal(containers(5000, KIT_UNIT_QUART, 1000, KIT_UNIT_QUART), 5);
    assert_int_equal(containers(5001, KIT_UNIT_QUART, 1000, KIT_UNIT_QUART), 6);
    assert_int_equal(containers(5000, KIT_UNIT_QUART, 5000, KIT_UNIT_QUART), 1);
    assert_int_equal(containers(4500, KIT_UNIT_LITRE, 5000, KIT_UNIT_LITRE), 1);
    assert_int_equal(containers(5000, KIT_UNIT_QUART, 5000, KIT_UNIT_LITRE), 1);
    assert_int_equal(containers(6000, KIT_UNIT_QUART, 5000, KIT_UNIT_LITRE), 2);
    assert_int_equal(containers(3000, KIT_UNIT_PIECE, 2000, KIT_UNIT_PIECE), 2);
    assert_int_equal(containers(0, KIT_UNIT_QUART, 1000, KIT_UNIT_QUART), 0);
    assert_int_equal(containers(5000, KIT_UNIT_QUART, 0, KIT_UNIT_QUART), 0);
}

/* A thousand times one quart is a thousand quarts, also when bought by the litre. */
static void sums_lose_nothing(void **state)
{
    (void)state;
    int64_t grains = 0;
    for (int i = 0; i < 1000; i++) {
        grains = kit_add(grains, kit_grains(1000, KIT_UNIT_QUART));
    }
    assert_int_equal(kit_thousandths(grains, KIT_UNIT_QUART), 1000000);
    assert_int_equal(kit_thousandths(grains, KIT_UNIT_LITRE), 946353);
    assert_int_equal(kit_containers(grains, kit_grains(1000, KIT_UNIT_QUART)), 1000);
}

static void what_is_too_large_or_negative_is_held(void **state)
{
    (void)state;
    assert_int_equal(kit_grains(INT64_MAX, KIT_UNIT_LITRE), INT64_MAX);
    assert_int_equal(kit_grains(-1, KIT_UNIT_LITRE), 0);
    assert_int_equal(kit_add(INT64_MAX, 5), INT64_MAX);
}

static void the_middle_one(void **state)
{
    static const struct {
        int64_t values[5];
        size_t count;
        int64_t median;
    } cases[] = {
        {{7}, 1, 7},       {{7, 3}, 2, 3},       {{7, 3, 5}, 3, 5},
        {{9, 1, 9}, 3, 9}, {{4, 3, 2, 1}, 4, 2}, {{5, 1, 4, 2, 3}, 5, 3},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int64_t values[5];
        for (size_t j = 0; j < 5; j++) {
            values[j] = cases[i].values[j];
        }
        assert_int_equal(kit_median(values, cases[i].count), cases[i].median);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units_convert_as_nist_says),
        cmocka_unit_test(pieces_are_no_fluid),
        cmocka_unit_test(a_unit_is_found_by_the_name_that_is_written),
        cmocka_unit_test(what_is_needed_is_rounded_up_to_containers),
        cmocka_unit_test(sums_lose_nothing),
        cmocka_unit_test(what_is_too_large_or_negative_is_held),
        cmocka_unit_test(the_middle_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
