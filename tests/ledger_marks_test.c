/* SPDX-License-Identifier: MIT
 * Marks by name, and the mark of a text under work. */
#include "tests/ledger_room.h"

#include "daemon/ledger/marks.h"

static void crash(struct room *room)
{
    ledger_close(room->ledger); /* the mark of work stays as it is */
    room->ledger = NULL;
    room->ledger = room_open(room->path, LEDGER_WRITE);
}

static void a_mark_holds_its_last_value(void **state)
{
    struct room *room = *state;
    int64_t value;
    assert_int_equal(marks_get(room->ledger, "last-round-day", &value), LEDGER_NONE);
    assert_int_equal(marks_set(room->ledger, "last-round-day", 20468), LEDGER_OK);
    assert_int_equal(marks_set(room->ledger, "last-round-day", -1), LEDGER_OK);
    assert_int_equal(marks_get(room->ledger, "last-round-day", &value), LEDGER_OK);
    assert_int_equal(value, -1);
    assert_int_equal(marks_get(room->ledger, "another", &value), LEDGER_NONE);
}

static void a_text_that_brings_the_desk_down_is_known_afterwards(void **state)
{
    struct room *room = *state;
    int tries;
    for (int i = 0; i < 3; i++) {
        assert_int_equal(marks_work_begins(room->ledger, "+12065550110 1 0 1/1 9 ab", &tries),
                         LEDGER_OK);
        assert_int_equal(tries, i);
        crash(room);
    }
    /* another text in between: that one did not bring the desk down */
    assert_int_equal(marks_work_begins(room->ledger, "+12065550110 2 0 1/1 9 ab", &tries),
                     LEDGER_OK);
    assert_int_equal(tries, 0);
}

static void a_text_done_leaves_no_mark(void **state)
{
    struct room *room = *state;
    int tries;
    assert_int_equal(marks_work_begins(room->ledger, "a text", &tries), LEDGER_OK);
    marks_work_ended(room->ledger);
    crash(room);
    assert_int_equal(marks_work_begins(room->ledger, "a text", &tries), LEDGER_OK);
    assert_int_equal(tries, 0);
}

static void a_mark_of_work_that_makes_no_sense_counts_as_none(void **state)
{
    struct room *room = *state;
    static const char *const contents[] = {
        "", "\n", "x a text\n", "-3 a text\n", "2\n", "99999999999999999999 a text\n"};
    char name[160];
    int tries;
    (void)snprintf(name, sizeof name, "%s.work", room->path);
    for (size_t i = 0; i < sizeof contents / sizeof contents[0]; i++) {
        FILE *file = fopen(name, "w");
        assert_non_null(file);
        assert_true(fputs(contents[i], file) >= 0);
        assert_int_equal(fclose(file), 0);
        assert_int_equal(marks_work_begins(room->ledger, "a text", &tries), LEDGER_OK);
        assert_int_equal(tries, 0);
    }
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
#define ON_DISK(test) cmocka_unit_test_setup_teardown(test, room_on_disk, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(a_mark_holds_its_last_value),
        ON_DISK(a_text_that_brings_the_desk_down_is_known_afterwards),
        ON_DISK(a_text_done_leaves_no_mark),
        ON_DISK(a_mark_of_work_that_makes_no_sense_counts_as_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
