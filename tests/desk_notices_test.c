/* SPDX-License-Identifier: MIT
 * What to have ready for some services: summed by item, in the shop's units, or not said at all.
 * Quantities of the drive service are common practice, without a source. */
#include "daemon/desk/notices.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

static const struct settings_kit_item oil = {.item = "20W-50",
                                             .quantity_thousandths = 5000,
                                             .unit = KIT_UNIT_QUART,
                                             .sold_in_thousandths = 1000,
                                             .on_hand_thousandths = -1,
                                             .sides = 1};
static const struct settings_kit_item filters = {.item = "drive oil filter",
                                                 .quantity_thousandths = 2000,
                                                 .unit = KIT_UNIT_PIECE,
                                                 .sold_in_thousandths = 1000,
                                                 .on_hand_thousandths = -1,
                                                 .sides = 1};

/* Two plans: the drive service, and one with the same oil by the litre. */
static struct settings_plan plans[] = {
    {.name = "drive", .kit_count = 2}, {.name = "deck", .kit_count = 1}, {.name = "look"}};

static struct settings settings_of(enum kit_unit units)
{
    plans[0].kit[0] = oil;
    plans[0].kit[1] = filters;
    plans[1].kit[0] = (struct settings_kit_item){.item = "20w-50",
                                                 .quantity_thousandths = 1000,
                                                 .unit = KIT_UNIT_LITRE,
                                                 .sold_in_thousandths = 1000,
                                                 .on_hand_thousandths = -1,
                                                 .sides = 1};
    return (struct settings){.plans = plans, .plan_count = 3, .shop = {.units = units}};
}

static void check(enum kit_unit units, const struct yard_standing *standings, size_t count,
                  const char *expected)
{
    char out[KIT_WORDS_OCTETS];
    struct settings settings = settings_of(units);
    assert_true(kit_words(&settings, standings, count, out));
    assert_string_equal(out, expected);
}

static void kits_of_several_services_are_summed_by_item(void **state)
{
    (void)state;
    const struct yard_standing standings[] = {{.plan = 0, .stage = DUE_STAGE_DUE},
                                              {.plan = 0, .stage = DUE_STAGE_COMING_UP},
                                              {.plan = 2, .stage = DUE_STAGE_OVERDUE}};
    check(KIT_UNIT_QUART, standings, 1, "5 qt 20W-50, 2x drive oil filter");
    check(KIT_UNIT_QUART, standings, 3, "10 qt 20W-50, 4x drive oil filter");
}

/* 1 US liquid quart is 0.946352946 litre (NIST Handbook 44, appendix C). */
static void fluids_are_in_the_shops_unit_and_never_short(void **state)
{
    (void)state;
    const struct yard_standing standings[] = {{.plan = 0, .stage = DUE_STAGE_DUE},
                                              {.plan = 1, .stage = DUE_STAGE_DUE}};
    check(KIT_UNIT_LITRE, standings, 1, "4.74 l 20W-50, 2x drive oil filter");
    check(KIT_UNIT_LITRE, standings, 2, "5.74 l 20W-50, 2x drive oil filter");
    check(KIT_UNIT_QUART, standings, 2, "6.06 qt 20W-50, 2x drive oil filter");
}

static void nothing_is_said_where_nothing_is_needed(void **state)
{
    (void)state;
    char out[KIT_WORDS_OCTETS];
    struct settings settings = settings_of(KIT_UNIT_QUART);
    const struct yard_standing standings[] = {{.plan = 0, .stage = DUE_STAGE_NO_RECORD},
                                              {.plan = 2, .stage = DUE_STAGE_DUE}};
    assert_false(kit_words(&settings, standings, 0, out));
    assert_false(kit_words(&settings, standings, 2, out));
}

static void a_part_of_the_list_is_never_said(void **state)
{
    (void)state;
    char out[KIT_WORDS_OCTETS];
    static char names[SETTINGS_KIT_MAX + 1][4];
    struct settings settings = settings_of(KIT_UNIT_QUART);
    const struct yard_standing standings[] = {{.plan = 0, .stage = DUE_STAGE_DUE},
                                              {.plan = 1, .stage = DUE_STAGE_DUE}};
    char longest[SETTINGS_TITLE_OCTETS * 4];
    memset(longest, 'a', sizeof longest - 1);
    longest[sizeof longest - 1] = '\0';
    plans[0].kit[0].item = longest;
    assert_false(kit_words(&settings, standings, 1, out));
    for (size_t i = 0; i < SETTINGS_KIT_MAX; i++) {
        names[i][0] = (char)('a' + i);
        plans[0].kit[i] = filters;
        plans[0].kit[i].item = names[i];
    }
    plans[0].kit_count = SETTINGS_KIT_MAX;
    assert_true(kit_words(&settings, standings, 1, out));
    assert_false(kit_words(&settings, standings, 2, out));
    plans[0].kit_count = 2;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(kits_of_several_services_are_summed_by_item),
        cmocka_unit_test(fluids_are_in_the_shops_unit_and_never_short),
        cmocka_unit_test(nothing_is_said_where_nothing_is_needed),
        cmocka_unit_test(a_part_of_the_list_is_never_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
