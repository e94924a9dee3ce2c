/* SPDX-License-Identifier: MIT
 * Trouble kept: open until solved, taken back with its text, told once; and what is kept beside it of
 * questions and services. */
#include "tests/ledger_room.h"

#include "daemon/ledger/questions.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/services.h"
#include "daemon/ledger/troubles.h"

struct seen {
    int count;
    char words[160];
};

static void see(void *ctx, const struct trouble_row *row)
{
    struct seen *seen = ctx;
    seen->count++;
    size_t length = strlen(seen->words);
    (void)snprintf(seen->words + length, sizeof seen->words - length, "%.40s.", row->words);
}

static struct seen open_on(struct room *room, int64_t machine_id)
{
    struct seen seen = {0};
    assert_int_equal(troubles_open(room->ledger, machine_id, see, &seen), LEDGER_OK);
    return seen;
}

/* Said by Ines in a text of her own, whose number it returns. */
static int64_t say(struct room *room, int64_t machine_id, enum trouble_weight weight,
                   const char *words, int64_t at_s, enum ledger_result result)
{
    struct trouble_row row = {.machine_id = machine_id,
                              .weight = weight,
                              .since_s = at_s,
                              .person_id = room->ines,
                              .text_id = room_text(room, room->ines, words, at_s)};
    (void)snprintf(row.words, sizeof row.words, "%s", words);
    assert_int_equal(troubles_add(room->ledger, &row, at_s - ROOM_DAY_S), result);
    return row.text_id;
}

static void trouble_is_open_until_it_is_solved(void **state)
{
    struct room *room = *state;
    (void)say(room, room->m12, TROUBLE_FAULT, "oil leak", ROOM_NOON_S, LEDGER_OK);
    (void)say(room, room->m12, TROUBLE_DANGER, "on fire", ROOM_NOON_S + 60, LEDGER_OK);
    (void)say(room, room->m12, TROUBLE_REMARK, "washed", ROOM_NOON_S + 70, LEDGER_OK);
    (void)say(room, room->m14, TROUBLE_FAULT, "flat", ROOM_NOON_S + 80, LEDGER_OK);
    (void)say(room, 0, TROUBLE_DANGER, "fire in the shed", ROOM_NOON_S + 90, LEDGER_OK);
    assert_string_equal(open_on(room, room->m12).words, "oil leak.on fire.");
    assert_int_equal(open_on(room, 0).count, 4);
    int64_t text_id = room_text(room, room->rosa, "M12 SOLVED", ROOM_NOON_S + 100);
    assert_int_equal(
        troubles_solve(room->ledger, room->m12, room->rosa, text_id, "new hose", ROOM_NOON_S + 100),
        LEDGER_OK);
    assert_int_equal(open_on(room, room->m12).count, 0);
    assert_int_equal(open_on(room, 0).count, 2);
    assert_int_equal(troubles_solve(room->ledger, room->m12, room->rosa, text_id, "", ROOM_NOON_S),
                     LEDGER_NONE);
    int told = 0;
    assert_int_equal(retraction_of_text(room->ledger, text_id, room->rosa, ROOM_NOON_S, &told),
                     LEDGER_OK);
    assert_string_equal(open_on(room, room->m12).words, "oil leak.on fire.");
}

static void the_same_said_again_is_kept_once(void **state)
{
    struct room *room = *state;
    (void)say(room, room->m12, TROUBLE_FAULT, "oil leak", ROOM_NOON_S, LEDGER_OK);
    (void)say(room, room->m12, TROUBLE_FAULT, "oil leak", ROOM_NOON_S + 60, LEDGER_ALREADY);
    (void)say(room, room->m14, TROUBLE_FAULT, "oil leak", ROOM_NOON_S + 60, LEDGER_OK);
    (void)say(room, room->m12, TROUBLE_FAULT, "oil leak", ROOM_NOON_S + 2 * ROOM_DAY_S, LEDGER_OK);
    assert_int_equal(open_on(room, 0).count, 3);
}

static void what_is_taken_back_stays_struck_out(void **state)
{
    struct room *room = *state;
    int told = 0;
    int64_t text_id = say(room, room->m12, TROUBLE_FAULT, "oil leak", ROOM_NOON_S, LEDGER_OK);
    assert_int_equal(retraction_of_text(room->ledger, text_id, room->ines, ROOM_NOON_S + 5, &told),
                     LEDGER_OK);
    assert_int_equal(open_on(room, 0).count, 0);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM troubles WHERE "
                                               "struck_why = 'undo' AND struck_by IS NOT NULL"),
                     1);
}

static void each_is_told_once_the_gravest_first(void **state)
{
    struct room *room = *state;
    struct trouble_group groups[4];
    struct trouble_row rows[2];
    size_t count = 0;
    int64_t told_s = 0;
    int64_t at_once = 0;
    (void)say(room, room->m12, TROUBLE_REMARK, "washed", ROOM_NOON_S, LEDGER_OK);
    (void)say(room, room->m12, TROUBLE_FAULT, "flat", ROOM_NOON_S + 1, LEDGER_OK);
    (void)say(room, room->m14, TROUBLE_FAULT, "leak", ROOM_NOON_S + 1, LEDGER_OK);
    (void)say(room, room->m14, TROUBLE_FAULT, "bent", ROOM_NOON_S + 1, LEDGER_OK);
    int64_t text_id = say(room, room->m12, TROUBLE_DANGER, "smoke", ROOM_NOON_S + 2, LEDGER_OK);
    assert_int_equal(troubles_waiting(room->ledger, 4, groups, &count), LEDGER_OK);
    assert_int_equal(count, 3);
    assert_int_equal(groups[0].weight, TROUBLE_DANGER);
    assert_int_equal(groups[1].count, 3);
    assert_int_equal(groups[2].oldest_s, ROOM_NOON_S);
    assert_int_equal(troubles_untold(room->ledger, &groups[1], 2, rows, &count), LEDGER_OK);
    assert_int_equal(count, 2);
    assert_string_equal(rows[1].words, "leak");
    assert_int_equal(troubles_of_text(room->ledger, text_id, &rows[0]), LEDGER_OK);
    assert_int_equal(rows[0].told_s, 0);
    for (size_t i = 0; i < 2; i++) {
        assert_int_equal(troubles_tell(room->ledger, &groups[i], ROOM_NOON_S + 9), LEDGER_OK);
    }
    assert_int_equal(troubles_waiting(room->ledger, 4, groups, &count), LEDGER_OK);
    assert_int_equal(count, 1);
    assert_int_equal(troubles_last_told(room->ledger, room->ines, TROUBLE_FAULT, &told_s, &at_once),
                     LEDGER_OK);
    assert_int_equal(told_s, ROOM_NOON_S + 9);
    assert_int_equal(at_once, 4);
    assert_int_equal(
        troubles_last_told(room->ledger, room->ines, TROUBLE_DANGER, &told_s, &at_once), LEDGER_OK);
    assert_int_equal(at_once, 1);
    assert_int_equal(
        troubles_last_told(room->ledger, room->rosa, TROUBLE_REMARK, &told_s, &at_once), LEDGER_OK);
    assert_int_equal(told_s, 0);
    assert_int_equal(troubles_of_text(room->ledger, text_id, &rows[0]), LEDGER_OK);
    assert_int_equal(rows[0].told_s, ROOM_NOON_S + 9);
    assert_int_equal(troubles_of_text(room->ledger, text_id + 1, &rows[0]), LEDGER_NONE);
}

static void a_machine_named_later_is_told_anew(void **state)
{
    struct room *room = *state;
    struct trouble_group group = {.person_id = room->ines, .weight = TROUBLE_FAULT};
    struct trouble_row row;
    size_t count = 0;
    int64_t text_id = say(room, 0, TROUBLE_FAULT, "oil leak", ROOM_NOON_S, LEDGER_OK);
    assert_int_equal(troubles_tell(room->ledger, &group, ROOM_NOON_S), LEDGER_OK);
    assert_int_equal(troubles_untold(room->ledger, &group, 1, &row, &count), LEDGER_OK);
    assert_int_equal(count, 0);
    assert_int_equal(troubles_name(room->ledger, text_id, room->m14), LEDGER_OK);
    assert_int_equal(troubles_name(room->ledger, text_id, room->m12), LEDGER_NONE);
    assert_int_equal(troubles_untold(room->ledger, &group, 1, &row, &count), LEDGER_OK);
    assert_int_equal(count, 1);
    assert_int_equal(row.machine_id, room->m14);
}

static void a_question_keeps_its_words_and_its_no(void **state)
{
    struct room *room = *state;
    struct question_row row = {.person_id = room->ines,
                               .machine_id = room->m12,
                               .kind = QUESTION_SURE,
                               .asked_s = ROOM_NOON_S,
                               .says = "M12 1340h: is that right? YES or NO."};
    struct question_row found = {0};
    bool replaced = false;
    assert_int_equal(questions_ask(room->ledger, &row, &replaced), LEDGER_OK);
    assert_int_equal(questions_open(room->ledger, room->ines, ROOM_NOON_S, &found), LEDGER_OK);
    assert_string_equal(found.says, row.says);
    assert_int_equal(questions_denied(room->ledger, room->ines, 0, 0, &found), LEDGER_NONE);
    assert_int_equal(questions_close(room->ledger, row.id, "no", 0, ROOM_NOON_S + 5), LEDGER_OK);
    assert_int_equal(questions_denied(room->ledger, room->ines, room->m12, 0, &found), LEDGER_OK);
    assert_int_equal(found.id, row.id);
    assert_int_equal(questions_denied(room->ledger, room->ines, room->m14, 0, &found), LEDGER_NONE);
    assert_int_equal(questions_denied(room->ledger, room->ines, 0, ROOM_NOON_S + 6, &found),
                     LEDGER_NONE);
}

static void a_service_without_a_day_is_known_as_such(void **state)
{
    struct room *room = *state;
    struct service_row row = {.machine_id = room->m12,
                              .plan = "drive",
                              .meter_hundredths = 8200,
                              .done_s = 0,
                              .noted_s = ROOM_NOON_S,
                              .undated = true};
    struct service_row found = {0};
    assert_int_equal(services_add(room->ledger, &row), LEDGER_OK);
    assert_int_equal(services_last(room->ledger, room->m12, "drive", ROOM_NOON_S, &found),
                     LEDGER_OK);
    assert_true(found.undated);
}

static void the_last_reading_of_a_person_is_found(void **state)
{
    struct room *room = *state;
    struct reading_row row = {.machine_id = room->m12,
                              .meter_hundredths = 134000,
                              .read_s = ROOM_NOON_S,
                              .noted_s = ROOM_NOON_S,
                              .person_id = room->ines};
    struct reading_row found = {0};
    row.text_id = room_text(room, room->ines, "M12 1340", ROOM_NOON_S);
    assert_int_equal(readings_add(room->ledger, &row), LEDGER_OK);
    assert_int_equal(readings_of_person(room->ledger, room->ines, 0, ROOM_NOON_S, &found),
                     LEDGER_OK);
    assert_int_equal(found.id, row.id);
    assert_int_equal(readings_of_person(room->ledger, room->ines, room->m14, ROOM_NOON_S, &found),
                     LEDGER_NONE);
    assert_int_equal(readings_of_person(room->ledger, room->rosa, 0, 0, &found), LEDGER_NONE);
    assert_int_equal(readings_of_person(room->ledger, room->ines, 0, ROOM_NOON_S + 999, &found),
                     LEDGER_NONE);
    assert_int_equal(
        record_strike(room->ledger, RECORD_READING, 0, row.id, room->ines, ROOM_NOON_S, "wrong"),
        LEDGER_OK);
    assert_int_equal(readings_of_person(room->ledger, room->ines, 0, ROOM_NOON_S, &found),
                     LEDGER_NONE);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(trouble_is_open_until_it_is_solved),
        IN_MEMORY(the_same_said_again_is_kept_once),
        IN_MEMORY(what_is_taken_back_stays_struck_out),
        IN_MEMORY(each_is_told_once_the_gravest_first),
        IN_MEMORY(a_machine_named_later_is_told_anew),
        IN_MEMORY(a_question_keeps_its_words_and_its_no),
        IN_MEMORY(a_service_without_a_day_is_known_as_such),
        IN_MEMORY(the_last_reading_of_a_person_is_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
