/* SPDX-License-Identifier: MIT
 * Names and numbers; opt-out; machines laid up and put off. */
#include "tests/ledger_room.h"

#include "daemon/ledger/people.h"

static void a_name_keeps_its_number_whatever_its_case(void **state)
{
    struct room *room = *state;
    int64_t id;
    char name[PEOPLE_NAME_OCTETS];
    assert_int_equal(people_id(room->ledger, "INES", &id), LEDGER_OK);
    assert_int_equal(id, room->ines);
    assert_int_equal(people_id(room->ledger, "Tom", &id), LEDGER_OK);
    assert_int_not_equal(id, room->ines);
    assert_int_equal(people_name(room->ledger, id, name), LEDGER_OK);
    assert_string_equal(name, "Tom");
    assert_int_equal(machines_id(room->ledger, "m12", &id), LEDGER_OK);
    assert_int_equal(id, room->m12);
    assert_int_equal(machines_name(room->ledger, id, name), LEDGER_OK);
    assert_string_equal(name, "M12");
    assert_int_equal(machines_name(room->ledger, 999, name), LEDGER_NONE);
    assert_string_equal(name, "");
}

static void a_number_that_was_taken_back_is_not_remembered(void **state)
{
    struct room *room = *state;
    int64_t id, again;
    assert_int_equal(ledger_begin(room->ledger), LEDGER_OK);
    assert_int_equal(machines_id(room->ledger, "M77", &id), LEDGER_OK);
    assert_int_equal(machines_id(room->ledger, "M77", &again), LEDGER_OK);
    assert_int_equal(again, id);
    ledger_rollback(room->ledger);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM machines WHERE name = 'M77'"),
                     0);
    assert_int_equal(machines_id(room->ledger, "M78", &again), LEDGER_OK); /* takes the number */
    assert_int_equal(machines_id(room->ledger, "M77", &id), LEDGER_OK);
    assert_int_not_equal(id, again);
}

static void a_yard_of_many_names_keeps_them_apart(void **state)
{
    struct room *room = *state;
    int64_t ids[3 * STORE_NAMES], id;
    char name[PEOPLE_NAME_OCTETS];
    for (int turn = 0; turn < 2; turn++) {
        for (int i = 0; i < 3 * STORE_NAMES; i++) {
            (void)snprintf(name, sizeof name, "Q%d", i);
            assert_int_equal(machines_id(room->ledger, name, &id), LEDGER_OK);
            assert_true(turn == 0 || id == ids[i]);
            ids[i] = id;
        }
    }
    assert_int_equal(people_id(room->ledger, "Q1", &id), LEDGER_OK); /* a person, not the machine */
    assert_int_not_equal(id, ids[1]);
}

static void a_name_without_octets_or_with_too_many_is_refused(void **state)
{
    struct room *room = *state;
    int64_t id;
    assert_int_equal(people_id(room->ledger, "", &id), LEDGER_REFUSED);
    assert_int_equal(people_id(room->ledger, "12345678901234567", &id), LEDGER_REFUSED);
    assert_int_equal(people_id(room->ledger, "1234567890123456", &id), LEDGER_OK);
    /* nine characters, eighteen octets */
    assert_int_equal(machines_id(room->ledger, "ñññññññññ", &id), LEDGER_REFUSED);
}

static void opting_out_lasts_until_it_is_taken_back(void **state)
{
    struct room *room = *state;
    int64_t since_s;
    assert_int_equal(people_opted_out(room->ledger, room->ines, &since_s), LEDGER_OK);
    assert_int_equal(since_s, 0);
    assert_int_equal(people_set_opt_out(room->ledger, room->ines, ROOM_NOON_S), LEDGER_OK);
    assert_int_equal(people_opted_out(room->ledger, room->ines, &since_s), LEDGER_OK);
    assert_int_equal(since_s, ROOM_NOON_S);
    assert_int_equal(people_set_opt_out(room->ledger, room->ines, 0), LEDGER_OK);
    assert_int_equal(people_opted_out(room->ledger, room->ines, &since_s), LEDGER_OK);
    assert_int_equal(since_s, 0);
    assert_int_equal(people_set_opt_out(room->ledger, 999, ROOM_NOON_S), LEDGER_NONE);
}

struct spells {
    size_t count;
    int64_t from_s[4], until_s[4];
};

static void note_spell(void *ctx, int64_t from_s, int64_t until_s)
{
    struct spells *spells = ctx;
    spells->from_s[spells->count] = from_s;
    spells->until_s[spells->count++] = until_s;
}

static void a_machine_is_laid_up_and_comes_back(void **state)
{
    struct room *room = *state;
    int64_t since_s;
    struct spells spells = {0};
    assert_int_equal(machines_back(room->ledger, room->m12, ROOM_NOON_S, 0, 0), LEDGER_NONE);
    assert_int_equal(machines_park(room->ledger, room->m12, ROOM_NOON_S, room->rosa, 0), LEDGER_OK);
    assert_int_equal(machines_park(room->ledger, room->m12, ROOM_NOON_S + 9, room->rosa, 0),
                     LEDGER_ALREADY);
    assert_int_equal(machines_parked(room->ledger, room->m12, &since_s), LEDGER_OK);
    assert_int_equal(since_s, ROOM_NOON_S);
    assert_int_equal(machines_parked(room->ledger, room->m14, &since_s), LEDGER_OK);
    assert_int_equal(since_s, 0);
    assert_int_equal(machines_back(room->ledger, room->m12, ROOM_NOON_S + 60, room->ines, 0),
                     LEDGER_OK);
    assert_int_equal(machines_parked(room->ledger, room->m12, &since_s), LEDGER_OK);
    assert_int_equal(since_s, 0);
    assert_int_equal(machines_park(room->ledger, room->m12, ROOM_NOON_S + 90, 0, 0), LEDGER_OK);
    assert_int_equal(machines_parked_each(room->ledger, room->m12, note_spell, &spells), LEDGER_OK);
    assert_int_equal(spells.count, 2);
    assert_int_equal(spells.from_s[0], ROOM_NOON_S);
    assert_int_equal(spells.until_s[0], ROOM_NOON_S + 60);
    assert_int_equal(spells.from_s[1], ROOM_NOON_S + 90);
    assert_int_equal(spells.until_s[1], 0);
}

static void the_last_put_off_is_in_force(void **state)
{
    struct room *room = *state;
    int64_t until_s;
    assert_int_equal(machines_later(room->ledger, room->m12, &until_s), LEDGER_OK);
    assert_int_equal(until_s, 0);
    static const int64_t moments[] = {ROOM_NOON_S + 7 * ROOM_DAY_S, ROOM_NOON_S + ROOM_DAY_S, 0};
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(machines_set_later(room->ledger, room->m12, moments[i], room->rosa, 0),
                         LEDGER_OK);
        assert_int_equal(machines_later(room->ledger, room->m12, &until_s), LEDGER_OK);
        assert_int_equal(until_s, moments[i]);
    }
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(a_name_keeps_its_number_whatever_its_case),
        cmocka_unit_test_setup_teardown(a_number_that_was_taken_back_is_not_remembered,
                                        room_in_memory, room_leave),
        cmocka_unit_test_setup_teardown(a_yard_of_many_names_keeps_them_apart, room_in_memory,
                                        room_leave),
        IN_MEMORY(a_name_without_octets_or_with_too_many_is_refused),
        IN_MEMORY(opting_out_lasts_until_it_is_taken_back),
        IN_MEMORY(a_machine_is_laid_up_and_comes_back),
        IN_MEMORY(the_last_put_off_is_in_force),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
