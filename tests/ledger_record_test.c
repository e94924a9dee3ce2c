/* SPDX-License-Identifier: MIT
 * What a text did, and that UNDO takes all of it back. */
#include "tests/ledger_room.h"

#include "daemon/ledger/alerts.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/questions.h"
#include "daemon/ledger/services.h"

#define STAND_OCTETS 8192

/* All that stands, as one line: what UNDO has to bring back. */
static void write_standing(struct room *room, char out[STAND_OCTETS])
{
    static const char sql[] =
        "SELECT group_concat(line, ' ') FROM ("
        "SELECT 'r' || id || ':' || meter_hundredths AS line FROM readings "
        "WHERE struck_s IS NULL UNION ALL "
        "SELECT 's' || id FROM services WHERE struck_s IS NULL UNION ALL "
        "SELECT 'm' || id FROM meter_changes WHERE struck_s IS NULL UNION ALL "
        "SELECT 'a' || machine_id || plan || cycle || stage || coalesce(told_s, '') FROM alerts "
        "WHERE void_s IS NULL UNION ALL "
        "SELECT 'p' || id || ':' || coalesce(until_s, '-') FROM parkings "
        "WHERE struck_s IS NULL UNION ALL "
        "SELECT 'l' || id FROM put_offs WHERE struck_s IS NULL UNION ALL "
        "SELECT 'q' || id FROM questions WHERE outcome IS NULL ORDER BY 1)";
    sqlite3_stmt *statement = NULL;
    assert_int_equal(sqlite3_prepare_v2(room->ledger->connection, sql, -1, &statement, NULL),
                     SQLITE_OK);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    store_column_copy(statement, 0, out, STAND_OCTETS);
    (void)sqlite3_finalize(statement);
}

static int undo(struct room *room, int64_t text_id)
{
    int told;
    assert_int_equal(
        retraction_of_text(room->ledger, text_id, room->ines, ROOM_NOON_S + ROOM_HOUR_S, &told),
        LEDGER_OK);
    return told;
}

static int64_t raise(struct room *room, int64_t cause_reading_id, const char *stage)
{
    struct alert_row row = {.machine_id = room->m12,
                            .plan = "drive",
                            .cycle = 1,
                            .raised_s = ROOM_NOON_S,
                            .cause_reading_id = cause_reading_id};
    (void)snprintf(row.stage, sizeof row.stage, "%s", stage);
    return alerts_raise(room->ledger, &row) == LEDGER_OK ? row.id : 0;
}

static void serve(struct room *room, int64_t text_id)
{
    struct service_row row = {.machine_id = room->m12,
                              .plan = "drive",
                              .meter_hundredths = 57500,
                              .done_s = ROOM_NOON_S,
                              .text_id = text_id};
    assert_int_equal(services_add(room->ledger, &row), LEDGER_OK);
}

static void undo_strikes_out_what_the_text_added(void **state)
{
    struct room *room = *state;
    int64_t text_id = room_text(room, room->ines, "M12 1340, M14 88", ROOM_NOON_S);
    int64_t earlier = room_reading(room, room->m12, 133000, ROOM_NOON_S - ROOM_DAY_S, 0);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, text_id);
    (void)room_reading(room, room->m14, 8800, ROOM_NOON_S, text_id);
    assert_int_equal(undo(room, text_id), 0);
    struct reading_row row;
    size_t count;
    assert_int_equal(readings_latest(room->ledger, room->m12, ROOM_NOON_S, 1, &row, &count),
                     LEDGER_OK);
    assert_int_equal(row.id, earlier);
    assert_int_equal(readings_latest(room->ledger, room->m14, ROOM_NOON_S, 1, &row, &count),
                     LEDGER_OK);
    assert_int_equal(count, 0);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM readings "
                                               "WHERE struck_why = 'undo' AND struck_by = 1"),
                     2);
}

static void undo_says_how_many_alerts_had_gone_out(void **state)
{
    struct room *room = *state;
    int64_t text_id = room_text(room, room->ines, "M12 1340", ROOM_NOON_S);
    int64_t reading_id = room_reading(room, room->m12, 134000, ROOM_NOON_S, text_id);
    int64_t told = raise(room, reading_id, "coming-up");
    (void)raise(room, reading_id, "due"); /* not told yet */
    int64_t others = raise(room, 0, "overdue");
    assert_int_equal(alerts_told(room->ledger, told, 0, ROOM_NOON_S), LEDGER_OK);
    assert_int_equal(alerts_told(room->ledger, others, 0, ROOM_NOON_S), LEDGER_OK);
    assert_int_equal(undo(room, text_id), 1);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM alerts WHERE void_s IS NULL"),
                     1);
}

static void a_correction_taken_back_leaves_the_first_figure_standing(void **state)
{
    struct room *room = *state;
    int64_t wrong = room_reading(room, room->m12, 143000, ROOM_NOON_S, 0);
    int64_t fix = room_text(room, room->ines, "M12 FIX 1340", ROOM_NOON_S + 60);
    assert_int_equal(record_strike(room->ledger, RECORD_READING, fix, wrong, room->ines,
                                   ROOM_NOON_S + 60, "corrected"),
                     LEDGER_OK);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, fix);
    (void)undo(room, fix);
    struct reading_row row;
    size_t count;
    assert_int_equal(readings_latest(room->ledger, room->m12, ROOM_NOON_S, 1, &row, &count),
                     LEDGER_OK);
    assert_int_equal(row.id, wrong);
}

/* Whichever came first, the strike or the right figure: the alert of the first figure was told, and
 * stands again in place of the one that the right figure had raised. */
static void a_correction_taken_back_brings_back_the_alert_of_the_first_figure(void **state)
{
    struct room *room = *state;
    for (int strike_first = 0; strike_first < 2; strike_first++) {
        int64_t wrong = room_reading(room, room->m12, 143000, ROOM_NOON_S + strike_first, 0);
        int64_t told = raise(room, wrong, strike_first != 0 ? "due" : "overdue");
        assert_int_equal(alerts_told(room->ledger, told, 0, ROOM_NOON_S), LEDGER_OK);
        int64_t fix = room_text(room, room->ines, "M12 FIX 1440", ROOM_NOON_S + 60);
        int64_t right = 0;
        for (int deed = 0; deed < 2; deed++) {
            if ((deed == 0) == (strike_first != 0)) {
                assert_int_equal(record_strike(room->ledger, RECORD_READING, fix, wrong, room->ines,
                                               ROOM_NOON_S + 60, "corrected"),
                                 LEDGER_OK);
            } else {
                right = room_reading(room, room->m12, 144000, ROOM_NOON_S, fix);
            }
        }
        assert_int_not_equal(raise(room, right, strike_first != 0 ? "due" : "overdue"), 0);
        assert_int_equal(undo(room, fix), 0);
        char sql[80];
        (void)snprintf(sql, sizeof sql, "SELECT void_s IS NULL FROM alerts WHERE id = %d",
                       (int)told);
        assert_int_equal(room_number(room->ledger, sql), 1);
    }
}

static void what_another_has_taken_back_meanwhile_is_well_as_it_is(void **state)
{
    struct room *room = *state;
    int64_t text_id = room_text(room, room->ines, "M12 1340", ROOM_NOON_S);
    int64_t reading_id = room_reading(room, room->m12, 134000, ROOM_NOON_S, text_id);
    assert_int_equal(record_strike(room->ledger, RECORD_READING, 0, reading_id, room->rosa,
                                   ROOM_NOON_S + 60, "corrected"),
                     LEDGER_OK);
    (void)undo(room, text_id);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM readings "
                                               "WHERE struck_why = 'corrected'"),
                     1);
}

static void the_senders_last_effective_text_is_the_one_to_undo(void **state)
{
    struct room *room = *state;
    int64_t found;
    int64_t first = room_text(room, room->ines, "M12 1340", ROOM_NOON_S);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, first);
    int64_t second = room_text(room, room->ines, "M14 88", ROOM_NOON_S + 60);
    (void)room_reading(room, room->m14, 8800, ROOM_NOON_S + 60, second);
    (void)room_text(room, room->ines, "HELP", ROOM_NOON_S + 90);
    int64_t others = room_text(room, room->rosa, "M12 DONE 1340", ROOM_NOON_S + 99);
    serve(room, others);
    assert_int_equal(effects_last(room->ledger, room->ines, ROOM_NOON_S, &found), LEDGER_OK);
    assert_int_equal(found, second);
    assert_int_equal(effects_last(room->ledger, room->rosa, ROOM_NOON_S, &found), LEDGER_OK);
    assert_int_equal(found, others);
    assert_int_equal(effects_last(room->ledger, room->ines, ROOM_NOON_S + 66, &found),
                     LEDGER_NONE); /* too long ago: received 5 s after it was sent */
}

static void undo_goes_back_one_level(void **state)
{
    struct room *room = *state;
    int64_t found;
    int told;
    int64_t first = room_text(room, room->ines, "M12 1340", ROOM_NOON_S);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, first);
    int64_t second = room_text(room, room->ines, "M14 88", ROOM_NOON_S + 60);
    (void)room_reading(room, room->m14, 8800, ROOM_NOON_S + 60, second);
    (void)undo(room, second);
    assert_int_equal(effects_last(room->ledger, room->ines, ROOM_NOON_S, &found), LEDGER_NONE);
    assert_int_equal(retraction_of_text(room->ledger, second, room->ines, ROOM_NOON_S, &told),
                     LEDGER_ALREADY);
    int64_t third = room_text(room, room->ines, "M14 89", ROOM_NOON_S + 90);
    (void)room_reading(room, room->m14, 8900, ROOM_NOON_S + 90, third);
    assert_int_equal(effects_last(room->ledger, room->ines, ROOM_NOON_S, &found), LEDGER_OK);
    assert_int_equal(found, third);
}

static void closing_a_question_is_no_effect_by_itself_but_is_taken_back(void **state)
{
    struct room *room = *state;
    int64_t found;
    bool replaced;
    struct question_row question = {.person_id = room->ines, .asked_s = ROOM_NOON_S}, open;
    assert_int_equal(questions_ask(room->ledger, &question, &replaced), LEDGER_OK);
    int64_t yes = room_text(room, room->ines, "yes", ROOM_NOON_S + 60);
    assert_int_equal(questions_close(room->ledger, question.id, "yes", yes, ROOM_NOON_S + 60),
                     LEDGER_OK);
    assert_int_equal(effects_last(room->ledger, room->ines, ROOM_NOON_S, &found), LEDGER_NONE);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, yes);
    assert_int_equal(effects_last(room->ledger, room->ines, ROOM_NOON_S, &found), LEDGER_OK);
    (void)undo(room, yes);
    assert_int_equal(questions_open(room->ledger, room->ines, ROOM_NOON_S, &open), LEDGER_OK);
    assert_int_equal(open.id, question.id);
}

static void a_question_that_the_text_asked_is_withdrawn(void **state)
{
    struct room *room = *state;
    bool replaced;
    int64_t text_id = room_text(room, room->ines, "M12 1340, M14 99999", ROOM_NOON_S);
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, text_id);
    struct question_row question = {
        .person_id = room->ines, .asked_s = ROOM_NOON_S, .text_id = text_id};
    assert_int_equal(questions_ask(room->ledger, &question, &replaced), LEDGER_OK);
    (void)undo(room, text_id);
    assert_int_equal(questions_open(room->ledger, room->ines, 0, &question), LEDGER_NONE);
}

static void a_word_of_the_desk_makes_a_text_effective(void **state)
{
    struct room *room = *state;
    int64_t found;
    int64_t text_id = room_text(room, room->ines, "something", ROOM_NOON_S);
    assert_int_equal(effects_note(room->ledger, text_id, "wrote-home", 1), LEDGER_OK);
    assert_int_equal(effects_last(room->ledger, room->ines, ROOM_NOON_S, &found), LEDGER_OK);
    assert_int_equal(found, text_id);
    assert_int_equal(undo(room, text_id), 0);
}

/* One deed of a text, chosen at random; some do nothing at that moment. */
static void do_something(struct room *room, int64_t text_id, int64_t at_s)
{
    struct reading_row last;
    size_t count;
    int64_t machine_id = rand() % 2 == 0 ? room->m12 : room->m14;
    struct meter_change change = {
        .machine_id = machine_id, .at_s = at_s, .old_last_hundredths = 100, .text_id = text_id};
    struct question_row question = {.person_id = room->ines, .asked_s = at_s, .text_id = text_id};
    struct question_row open;
    bool replaced;
    enum ledger_result result = LEDGER_OK;
    switch (rand() % 8) {
    case 0:
    case 1:
        (void)raise(room, room_reading(room, machine_id, rand() % 999999, at_s, text_id), "due");
        break;
    case 2:
        serve(room, text_id);
        break;
    case 3:
        result = readings_change_meter(room->ledger, &change);
        break;
    case 4:
        result = readings_latest(room->ledger, machine_id, at_s, 1, &last, &count);
        if (count > 0) {
            result =
                record_strike(room->ledger, RECORD_READING, text_id, last.id, 0, at_s, "corrected");
        }
        break;
    case 5:
        result = machines_park(room->ledger, machine_id, at_s, room->rosa, text_id);
        if (result == LEDGER_ALREADY) {
            result = machines_back(room->ledger, machine_id, at_s, room->rosa, text_id);
        }
        break;
    case 6:
        result = machines_set_later(room->ledger, machine_id, at_s, room->rosa, text_id);
        break;
    case 7:
        result = questions_open(room->ledger, room->ines, 0, &open);
        result = result == LEDGER_OK ? questions_close(room->ledger, open.id, "yes", text_id, at_s)
                                     : questions_ask(room->ledger, &question, &replaced);
        break;
    }
    assert_int_equal(result, LEDGER_OK);
}

static void undo_restores_what_stood_before_whatever_the_text_did(void **state)
{
    struct room *room = *state;
    static char before[STAND_OCTETS], after[STAND_OCTETS];
    const unsigned seed = 48213;
    int told;
    srand(seed);
    for (int round = 0; round < 300; round++) {
        int64_t at_s = ROOM_NOON_S + 1000 * round;
        int64_t kept = room_text(room, room->ines, "kept", at_s);
        do_something(room, kept, at_s); /* stays */
        write_standing(room, before);
        int64_t undone = room_text(room, room->ines, "undone", at_s + 500);
        for (int deed = rand() % 5; deed >= 0; deed--) {
            do_something(room, undone, at_s + 501);
        }
        enum ledger_result result =
            retraction_of_text(room->ledger, undone, room->ines, at_s + 600, &told);
        assert_true(result == LEDGER_OK || result == LEDGER_ALREADY);
        write_standing(room, after);
        if (result == LEDGER_OK) {
            assert_string_equal(after, before);
        }
        if (round % 20 == 19) { /* begin afresh, so that the line stays short */
            assert_int_equal(sqlite3_exec(room->ledger->connection,
                                          "UPDATE readings SET struck_s = 1, struck_why = 'x'; "
                                          "UPDATE services SET struck_s = 1, struck_why = 'x'; "
                                          "UPDATE alerts SET void_s = 1, void_by = 'hand'; "
                                          "UPDATE meter_changes SET struck_s = 1, "
                                          "struck_why = 'x'; UPDATE parkings SET struck_s = 1; "
                                          "UPDATE put_offs SET struck_s = 1",
                                          NULL, NULL, NULL),
                             SQLITE_OK);
        }
    }
    print_message("undo: seed %u, 300 rounds, ok\n", seed);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(undo_strikes_out_what_the_text_added),
        IN_MEMORY(undo_says_how_many_alerts_had_gone_out),
        IN_MEMORY(a_correction_taken_back_leaves_the_first_figure_standing),
        IN_MEMORY(a_correction_taken_back_brings_back_the_alert_of_the_first_figure),
        IN_MEMORY(what_another_has_taken_back_meanwhile_is_well_as_it_is),
        IN_MEMORY(the_senders_last_effective_text_is_the_one_to_undo),
        IN_MEMORY(undo_goes_back_one_level),
        IN_MEMORY(closing_a_question_is_no_effect_by_itself_but_is_taken_back),
        IN_MEMORY(a_question_that_the_text_asked_is_withdrawn),
        IN_MEMORY(a_word_of_the_desk_makes_a_text_effective),
        IN_MEMORY(undo_restores_what_stood_before_whatever_the_text_did),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
