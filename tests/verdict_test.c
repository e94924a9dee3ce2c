/* SPDX-License-Identifier: MIT
 * The judge of the crash tests must be able to say no: each thing that it looks for is put before it
 * once. */
#include "tests/ledger_room.h"

#include "fixtures/conductor/verdict.h"

#define INES "+12065550110"
#define SAYS "M12 1340h"
#define ANSWER "M12 1340 h noted."

static struct verdict verdict;

static struct verdict_book *book_with(bool text, int answers)
{
    struct verdict_book *book = verdict_open();
    assert_non_null(book);
    if (text) {
        assert_true(verdict_text_in(book, INES, SAYS, "M12", 134000));
    }
    for (int i = 0; i < answers; i++) {
        assert_true(verdict_part_out(book, 0, INES, ANSWER, 1, 7, 3));
    }
    return book;
}

static void judge(struct room *room, struct verdict_book *book)
{
    assert_true(verdict_judge(book, room->path, &verdict));
    assert_true(verdict.whole);
    verdict_close(book);
}

static void keep(struct room *room, int64_t sent_s)
{
    int64_t text_id = room_text(room, room->ines, SAYS, sent_s);
    (void)room_reading(room, room->m12, 134000, sent_s, text_id);
}

/* Writes the answer and gives it to the network, as the ledger says; again: after a crash. */
static void send_answer(struct room *room, bool again)
{
    static struct texts_part part;
    int64_t id, next_s;
    int count;
    const struct texts_outgoing outgoing = {.person_id = room->ines,
                                            .phone = INES,
                                            .body = ANSWER,
                                            .kind = TEXTS_REPLY,
                                            .created_s = ROOM_NOON_S,
                                            .expires_s = ROOM_NOON_S + ROOM_DAY_S,
                                            .parts = 1};
    assert_int_equal(texts_queue(room->ledger, &outgoing, &id), LEDGER_OK);
    for (int i = 0; i <= again; i++) {
        assert_int_equal(texts_next_part(room->ledger, NULL, ROOM_NOON_S, &part, &next_s),
                         LEDGER_OK);
        assert_int_equal(texts_part_handed_over(room->ledger, NULL, part.part_id, ROOM_NOON_S),
                         LEDGER_OK);
        if (i < again) {
            assert_int_equal(texts_recover_parts(room->ledger, ROOM_NOON_S, &count), LEDGER_OK);
        }
    }
    assert_int_equal(
        texts_part_ended(room->ledger, part.part_id, TEXTS_PART_TAKEN, 7, -1, ROOM_NOON_S),
        LEDGER_OK);
}

static void what_agrees_is_good(void **state)
{
    struct room *room = *state;
    keep(room, ROOM_NOON_S);
    send_answer(room, false);
    judge(room, book_with(true, 1));
    assert_true(verdict_good(&verdict));
    assert_int_equal(verdict.texts, 1);
    assert_int_equal(verdict.accepted, 1);
    assert_int_equal(verdict.readings, 1);
    assert_int_equal(verdict.parts, 1);
    assert_int_equal(verdict.repeated, 0);
}

static void a_text_that_is_not_in_the_ledger_is_lost(void **state)
{
    judge(*state, book_with(true, 0));
    assert_false(verdict_good(&verdict));
    assert_int_equal(verdict.lost, 1);
    assert_int_equal(verdict.readings_lost, 1);
}

static void a_text_that_is_there_more_often_than_it_was_sent_is_counted_twice(void **state)
{
    struct room *room = *state;
    keep(room, ROOM_NOON_S);
    keep(room, ROOM_NOON_S + 1);
    judge(room, book_with(true, 0));
    assert_false(verdict_good(&verdict));
    assert_int_equal(verdict.twice, 1);
    assert_int_equal(verdict.readings_twice, 1);
}

static void what_nobody_sent_is_named(void **state)
{
    struct room *room = *state;
    keep(room, ROOM_NOON_S);
    judge(room, book_with(false, 0));
    assert_false(verdict_good(&verdict));
    assert_int_equal(verdict.unsent, 1);
    assert_int_equal(verdict.unsaid, 1);
}

static void a_part_called_taken_that_the_network_never_took_is_named(void **state)
{
    struct room *room = *state;
    keep(room, ROOM_NOON_S);
    send_answer(room, false);
    judge(room, book_with(true, 0));
    assert_false(verdict_good(&verdict));
    assert_int_equal(verdict.untaken, 1);
}

static void a_part_the_ledger_never_wrote_is_named(void **state)
{
    struct room *room = *state;
    keep(room, ROOM_NOON_S);
    judge(room, book_with(true, 1));
    assert_false(verdict_good(&verdict));
    assert_int_equal(verdict.unwritten, 1);
}

static void one_marked_repetition_a_crash_is_allowed(void **state)
{
    struct room *room = *state;
    keep(room, ROOM_NOON_S);
    send_answer(room, true);
    judge(room, book_with(true, 2));
    assert_true(verdict_good(&verdict));
    assert_int_equal(verdict.repeated, 1);
    assert_int_equal(verdict.most_a_crash, 1);
}

static void an_unmarked_repetition_is_not(void **state)
{
    struct room *room = *state;
    keep(room, ROOM_NOON_S);
    send_answer(room, false);
    judge(room, book_with(true, 2));
    assert_false(verdict_good(&verdict));
    assert_int_equal(verdict.unmarked, 1);
}

static void a_second_repetition_after_one_crash_is_not(void **state)
{
    struct room *room = *state;
    keep(room, ROOM_NOON_S);
    send_answer(room, true);
    judge(room, book_with(true, 3));
    assert_false(verdict_good(&verdict));
    assert_int_equal(verdict.most_a_crash, 2);
}

static void a_ledger_that_is_not_there_gets_no_verdict(void **state)
{
    struct verdict_book *book = book_with(true, 1);
    (void)state;
    assert_false(verdict_judge(book, "/nowhere/ledger.db", &verdict));
    assert_false(verdict_good(&verdict));
    verdict_close(book);
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, room_on_disk, room_leave)
    const struct CMUnitTest tests[] = {
        CASE(what_agrees_is_good),
        CASE(a_text_that_is_not_in_the_ledger_is_lost),
        CASE(a_text_that_is_there_more_often_than_it_was_sent_is_counted_twice),
        CASE(what_nobody_sent_is_named),
        CASE(a_part_called_taken_that_the_network_never_took_is_named),
        CASE(a_part_the_ledger_never_wrote_is_named),
        CASE(one_marked_repetition_a_crash_is_allowed),
        CASE(an_unmarked_repetition_is_not),
        CASE(a_second_repetition_after_one_crash_is_not),
        CASE(a_ledger_that_is_not_there_gets_no_verdict),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
