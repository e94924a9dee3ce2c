/* SPDX-License-Identifier: MIT
 * Questions: one open a person; and the figures refused. */
#include "tests/ledger_room.h"

#include "daemon/ledger/questions.h"

static struct question_row about(struct room *room, int64_t hundredths, int64_t asked_s)
{
    return (struct question_row){.person_id = room->ines,
                                 .machine_id = room->m12,
                                 .kind = QUESTION_SLIP,
                                 .offer_machine_id = room->m12,
                                 .offer_hundredths = hundredths,
                                 .offer_to_hundredths = -1,
                                 .typed_hundredths = 10 * hundredths,
                                 .read_s = asked_s - 60,
                                 .plan = "drive",
                                 .quantity_thousandths = 4700,
                                 .unit = "qt",
                                 .remark = "tyres low",
                                 .asked_s = asked_s};
}

static void a_question_stays_open_with_all_it_offers(void **state)
{
    struct room *room = *state;
    struct question_row row = about(room, 134000, ROOM_NOON_S), open;
    bool replaced;
    row.strikes_reading_id = room_reading(room, room->m12, 143000, ROOM_NOON_S - ROOM_DAY_S, 0);
    row.text_id = room_text(room, room->ines, "M12 13400", ROOM_NOON_S);
    assert_int_equal(questions_ask(room->ledger, &row, &replaced), LEDGER_OK);
    assert_false(replaced);
    memset(&open, 0, sizeof open);
    assert_int_equal(questions_open(room->ledger, room->ines, ROOM_NOON_S, &open), LEDGER_OK);
    assert_int_equal(open.id, row.id);
    assert_int_equal(open.person_id, room->ines);
    assert_int_equal(open.machine_id, room->m12);
    assert_int_equal(open.kind, QUESTION_SLIP);
    assert_int_equal(open.offer_machine_id, room->m12);
    assert_int_equal(open.offer_hundredths, 134000);
    assert_int_equal(open.offer_to_hundredths, -1);
    assert_int_equal(open.strikes_reading_id, row.strikes_reading_id);
    assert_int_equal(open.typed_hundredths, 1340000);
    assert_int_equal(open.read_s, ROOM_NOON_S - 60);
    assert_string_equal(open.plan, "drive");
    assert_int_equal(open.quantity_thousandths, 4700);
    assert_string_equal(open.unit, "qt");
    assert_string_equal(open.remark, "tyres low");
    assert_int_equal(open.text_id, row.text_id);
    assert_int_equal(open.asked_s, ROOM_NOON_S);
}

/* The words on disk are of older versions too: each is read as the kind it was written for. */
static void each_kind_keeps_its_word_and_what_it_completes(void **state)
{
    struct room *room = *state;
    for (int kind = QUESTION_SLIP; kind <= QUESTION_WHICH_PLAN; kind++) {
        struct question_row row = about(room, -1, ROOM_NOON_S), open;
        bool replaced;
        row.kind = (enum question_kind)kind;
        if (kind == QUESTION_WHICH_MACHINE) {
            (void)snprintf(row.completes, sizeof row.completes, "later");
            row.days = 7;
        }
        assert_int_equal(questions_ask(room->ledger, &row, &replaced), LEDGER_OK);
        memset(&open, 0, sizeof open);
        assert_int_equal(questions_open(room->ledger, room->ines, ROOM_NOON_S, &open), LEDGER_OK);
        assert_int_equal(open.kind, kind);
        assert_string_equal(open.completes, row.completes);
        assert_int_equal(open.days, row.days);
        assert_int_equal(open.offer_hundredths, row.offer_hundredths);
    }
}

static void a_new_question_replaces_the_open_one_of_that_person_alone(void **state)
{
    struct room *room = *state;
    struct question_row first = about(room, 134000, ROOM_NOON_S);
    struct question_row others = about(room, 100, ROOM_NOON_S);
    struct question_row second = about(room, 135000, ROOM_NOON_S + 60), open;
    bool replaced;
    others.person_id = room->rosa;
    assert_int_equal(questions_ask(room->ledger, &first, &replaced), LEDGER_OK);
    assert_int_equal(questions_ask(room->ledger, &others, &replaced), LEDGER_OK);
    assert_false(replaced);
    assert_int_equal(questions_ask(room->ledger, &second, &replaced), LEDGER_OK);
    assert_true(replaced);
    assert_int_equal(questions_open(room->ledger, room->ines, 0, &open), LEDGER_OK);
    assert_int_equal(open.id, second.id);
    assert_int_equal(questions_open(room->ledger, room->rosa, 0, &open), LEDGER_OK);
    assert_int_equal(open.id, others.id);
}

static void a_question_lapses(void **state)
{
    struct room *room = *state;
    struct question_row row = about(room, 134000, ROOM_NOON_S), open;
    bool replaced;
    assert_int_equal(questions_ask(room->ledger, &row, &replaced), LEDGER_OK);
    assert_int_equal(questions_open(room->ledger, room->ines, ROOM_NOON_S, &open), LEDGER_OK);
    assert_int_equal(questions_open(room->ledger, room->ines, ROOM_NOON_S + 1, &open), LEDGER_NONE);
}

static void a_question_is_closed_once(void **state)
{
    struct room *room = *state;
    struct question_row row = about(room, 134000, ROOM_NOON_S), open;
    bool replaced;
    assert_int_equal(questions_ask(room->ledger, &row, &replaced), LEDGER_OK);
    assert_int_equal(questions_close(room->ledger, row.id, "yes", 0, ROOM_NOON_S + 60), LEDGER_OK);
    assert_int_equal(questions_open(room->ledger, room->ines, 0, &open), LEDGER_NONE);
    assert_int_equal(questions_close(room->ledger, row.id, "no", 0, ROOM_NOON_S + 61),
                     LEDGER_ALREADY);
    assert_int_equal(
        room_number(room->ledger, "SELECT count(*) FROM questions WHERE outcome = 'yes'"), 1);
}

static void refused_figures_are_counted_by_person_machine_figure_text_and_time(void **state)
{
    struct room *room = *state;
    int count;
    int64_t text_id = 0;
    for (int i = 0; i < 2; i++) {
        text_id = room_text(room, room->ines, "M12 1340", ROOM_NOON_S + i);
        assert_int_equal(questions_note_refusal(room->ledger, room->ines, room->m12, 134000,
                                                text_id, ROOM_NOON_S + i),
                         LEDGER_OK);
    }
    const struct {
        int64_t person_id, machine_id, hundredths, text_id, since_s;
        int expected;
    } cases[] = {
        {room->ines, room->m12, 134000, 0, ROOM_NOON_S, 2},
        {room->ines, room->m12, 134000, 0, ROOM_NOON_S + 1, 1},
        {room->ines, room->m12, 134000, 0, ROOM_NOON_S + 2, 0},
        {room->ines, room->m12, 134001, 0, ROOM_NOON_S, 0},
        {room->ines, room->m14, 134000, 0, ROOM_NOON_S, 0},
        {room->rosa, room->m12, 134000, 0, ROOM_NOON_S, 0},
        {room->ines, room->m12, 134000, text_id, ROOM_NOON_S, 1},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(questions_refused_since(room->ledger, cases[i].person_id,
                                                 cases[i].machine_id, cases[i].hundredths,
                                                 cases[i].text_id, cases[i].since_s, &count),
                         LEDGER_OK);
        assert_int_equal(count, cases[i].expected);
    }
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(a_question_stays_open_with_all_it_offers),
        IN_MEMORY(each_kind_keeps_its_word_and_what_it_completes),
        IN_MEMORY(a_new_question_replaces_the_open_one_of_that_person_alone),
        IN_MEMORY(a_question_lapses),
        IN_MEMORY(a_question_is_closed_once),
        IN_MEMORY(refused_figures_are_counted_by_person_machine_figure_text_and_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
