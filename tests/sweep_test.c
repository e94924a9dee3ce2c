/* SPDX-License-Identifier: MIT
 * The places in the modem's memory that hold something to read. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "daemon/modem/intake.h"

static struct slot place(const char *memory, int32_t index)
{
    struct slot slot = {.index = index};
    setup_name_memory(slot.memory, memory);
    return slot;
}

static void a_place_is_noted_once_and_in_order(void **state)
{
    static struct slots slots;
    struct slot first = place("SM", 3), second = place("ME", 3), third = place("SM", 1);
    (void)state;
    slots_add(&slots, &first);
    slots_add(&slots, &second);
    slots_add(&slots, &first);
    slots_add(&slots, &third);
    assert_int_equal(slots.count, 3);
    assert_string_equal(slots.list[1].memory, "ME");
    slots_drop_first(&slots);
    slots_drop_first(&slots);
    assert_int_equal(slots.list[0].index, 1);
    slots_drop_first(&slots);
    slots_drop_first(&slots);
    assert_int_equal(slots.count, 0);
}

static void a_later_announcement_counts(void **state)
{
    static struct slots slots;
    struct slot slot = place("SM", 3);
    (void)state;
    slots_add(&slots, &slot);
    slot.announced = true;
    slots_add(&slots, &slot);
    assert_true(slots.list[0].announced);
    slot.announced = false;
    slots_add(&slots, &slot);
    assert_true(slots.list[0].announced);
}

static void a_place_that_is_being_deleted_may_hold_something_new(void **state)
{
    static struct slots slots;
    struct slot slot = place("SM", 3);
    (void)state;
    slots_add(&slots, &slot);
    slots.list[0].kept = true;
    slots_add(&slots, &slot);
    assert_int_equal(slots.count, 2);
}

static void what_does_not_fit_is_remembered_as_more(void **state)
{
    static struct slots slots;
    (void)state;
    for (int32_t i = 0; i <= SLOTS_MAX; i++) {
        struct slot slot = place("SM", i);
        assert_false(slots.overflowed);
        slots_add(&slots, &slot);
    }
    assert_int_equal(slots.count, SLOTS_MAX);
    assert_true(slots.overflowed);
}

static void a_long_name_is_cut(void **state)
{
    char name[SETUP_MEMORY_OCTETS];
    (void)state;
    setup_name_memory(name, "SMX");
    assert_string_equal(name, "SM");
    setup_name_memory(name, "");
    assert_string_equal(name, "");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_place_is_noted_once_and_in_order),
        cmocka_unit_test(a_later_announcement_counts),
        cmocka_unit_test(a_place_that_is_being_deleted_may_hold_something_new),
        cmocka_unit_test(what_does_not_fit_is_remembered_as_more),
        cmocka_unit_test(a_long_name_is_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
