/* SPDX-License-Identifier: MIT
 * Booked, in, out, gone, back: the latest that stands, and what UNDO makes of it; machines renamed. */
#include "tests/ledger_room.h"

#include "daemon/ledger/alerts.h"
#include "daemon/ledger/movements.h"
#include "daemon/ledger/record.h"

#define A_DAY 20838 /* 2027-01-20 */

/* Says it in a text of its own; returns the text. */
static int64_t move(struct room *room, enum movement_kind kind, int32_t day, int64_t at_s)
{
    struct movement movement = {.kind = kind,
                                .day = day,
                                .at_s = at_s,
                                .person_id = room->rosa,
                                .text_id = room_text(room, room->rosa, "moves", at_s)};
    assert_int_equal(movements_add(room->ledger, room->m12, &movement), LEDGER_OK);
    assert_int_not_equal(movement.id, 0);
    return movement.text_id;
}

static void undo(struct room *room, int64_t text_id)
{
    int told = 0;
    assert_int_equal(
        retraction_of_text(room->ledger, text_id, room->rosa, ROOM_NOON_S + 999, &told), LEDGER_OK);
}

/* The kind that stands, -1 none. */
static int standing(struct room *room, int64_t machine_id)
{
    struct movement last = {.kind = MOVEMENT_GONE};
    enum ledger_result result = movements_last(room->ledger, machine_id, &last);
    assert_true(result == LEDGER_OK || result == LEDGER_NONE);
    return result == LEDGER_OK ? (int)last.kind : -1;
}

static void the_latest_that_stands_is_how_it_stands(void **state)
{
    struct room *room = *state;
    static const enum movement_kind kinds[] = {MOVEMENT_BOOK, MOVEMENT_IN,   MOVEMENT_OUT,
                                               MOVEMENT_GONE, MOVEMENT_BACK, MOVEMENT_IN};
    assert_int_equal(standing(room, room->m12), -1);
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        (void)move(room, kinds[i], kinds[i] == MOVEMENT_BOOK ? A_DAY : 0,
                   ROOM_NOON_S + (int64_t)i * ROOM_HOUR_S);
        assert_int_equal(standing(room, room->m12), kinds[i]);
        assert_int_equal(standing(room, room->m14), -1);
    }
}

static void what_is_kept_of_it_comes_back(void **state)
{
    struct room *room = *state;
    struct movement last;
    int64_t text_id = move(room, MOVEMENT_BOOK, A_DAY, ROOM_NOON_S);
    assert_int_equal(movements_last(room->ledger, room->m12, &last), LEDGER_OK);
    assert_int_equal(last.day, A_DAY);
    assert_int_equal(last.at_s, ROOM_NOON_S);
    assert_int_equal(last.person_id, room->rosa);
    assert_int_equal(last.text_id, text_id);
    assert_int_equal(last.struck_s, 0);
    (void)move(room, MOVEMENT_GONE, A_DAY - 9, ROOM_NOON_S + 1);
    assert_int_equal(movements_last(room->ledger, room->m12, &last), LEDGER_OK);
    assert_int_equal(last.day, A_DAY - 9);
}

static void undo_lets_the_one_before_hold_again(void **state)
{
    struct room *room = *state;
    (void)move(room, MOVEMENT_BOOK, A_DAY, ROOM_NOON_S);
    int64_t in = move(room, MOVEMENT_IN, 0, ROOM_NOON_S + 1);
    int64_t gone = move(room, MOVEMENT_GONE, 0, ROOM_NOON_S + 2);
    undo(room, gone);
    assert_int_equal(standing(room, room->m12), MOVEMENT_IN);
    undo(room, in);
    assert_int_equal(standing(room, room->m12), MOVEMENT_BOOK);
    assert_int_equal(room_number(room->ledger,
                                 "SELECT count(*) FROM movements WHERE struck_why = 'undo' AND "
                                 "struck_by IS NOT NULL AND struck_s IS NOT NULL"),
                     2);
}

struct seen {
    char words[128];
};

static void note_movement(void *ctx, const struct movement *movement)
{
    struct seen *seen = ctx;
    size_t length = strlen(seen->words);
    (void)snprintf(seen->words + length, sizeof seen->words - length, "%d%s ", (int)movement->kind,
                   movement->struck_s != 0 ? "x" : "");
}

static void note_line(void *ctx, const char *machine, const struct record_line *line)
{
    struct seen *seen = ctx;
    size_t length = strlen(seen->words);
    (void)snprintf(seen->words + length, sizeof seen->words - length, "%s %s %d %d%s; ", machine,
                   line->kind, (int)line->day, (int)(line->until_s - line->at_s) / ROOM_DAY_S,
                   line->struck_s != 0 ? "x" : "");
}

static void the_record_shows_them_struck_ones_too(void **state)
{
    struct room *room = *state;
    struct seen seen = {""}, record = {""};
    int64_t text_id = room_text(room, room->rosa, "M12 LATER 3", ROOM_NOON_S - 5);
    assert_int_equal(machines_set_later(room->ledger, room->m12, ROOM_NOON_S + 3 * ROOM_DAY_S,
                                        room->rosa, text_id),
                     LEDGER_OK);
    (void)move(room, MOVEMENT_BOOK, A_DAY, ROOM_NOON_S + 1);
    undo(room, move(room, MOVEMENT_IN, 0, ROOM_NOON_S + 2));
    (void)move(room, MOVEMENT_GONE, 0, ROOM_NOON_S + 3);
    (void)move(room, MOVEMENT_BACK, 0, ROOM_NOON_S + 4);
    assert_int_equal(movements_each(room->ledger, room->m12, note_movement, &seen), LEDGER_OK);
    assert_string_equal(seen.words, "0 1x 3 4 ");
    assert_int_equal(record_each(room->ledger, room->m12, note_line, &record), LEDGER_OK);
    assert_non_null(strstr(record.words, "M12 later 0 3; M12 booked 20838 "));
    assert_non_null(strstr(record.words, "M12 in 0 "));
    assert_non_null(strstr(record.words, "M12 returned 0 "));
}

static void what_the_schema_forbids_is_refused(void **state)
{
    struct room *room = *state;
    struct movement booking = {.kind = MOVEMENT_BOOK, .at_s = ROOM_NOON_S};
    struct movement in = {.kind = MOVEMENT_IN, .day = A_DAY, .at_s = ROOM_NOON_S};
    assert_int_equal(movements_add(room->ledger, room->m12, &booking), LEDGER_REFUSED);
    assert_int_equal(booking.id, 0);
    assert_int_equal(movements_add(room->ledger, room->m12, &in), LEDGER_REFUSED);
    assert_int_equal(standing(room, room->m12), -1);
}

/* ---- renamed */

static void note_name(void *ctx, int64_t machine_id, const char *name)
{
    struct seen *seen = ctx;
    size_t length = strlen(seen->words);
    assert_int_not_equal(machine_id, 0);
    (void)snprintf(seen->words + length, sizeof seen->words - length, "%s ", name);
}

static void a_new_name_takes_the_record_along(void **state)
{
    struct room *room = *state;
    struct seen seen = {""};
    int64_t id = 0;
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    assert_int_equal(machines_rename(room->ledger, "m12", "R7"), LEDGER_OK);
    assert_int_equal(machines_id(room->ledger, "R7", &id), LEDGER_OK);
    assert_int_equal(id, room->m12);
    assert_int_equal(machines_each(room->ledger, note_name, &seen), LEDGER_OK);
    assert_string_equal(seen.words, "M14 R7 ");
    /* at every start again: nothing is left to do */
    assert_int_equal(machines_rename(room->ledger, "M12", "R7"), LEDGER_NONE);
    assert_int_equal(machines_rename(room->ledger, "R7", "r7"), LEDGER_NONE);
}

static void raise(struct room *room, int64_t machine_id, const char *stage)
{
    struct alert_row alert = {.machine_id = machine_id, .plan = "drive", .raised_s = ROOM_NOON_S};
    (void)snprintf(alert.stage, sizeof alert.stage, "%s", stage);
    assert_int_equal(alerts_raise(room->ledger, &alert), LEDGER_OK);
}

/* Readings came under the new name before the config told of the old one. */
static void two_records_of_one_machine_become_one(void **state)
{
    struct room *room = *state;
    struct reading_row rows[4];
    struct seen seen = {""};
    size_t count = 0;
    int64_t since_s = 0;
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    (void)room_reading(room, room->m14, 134100, ROOM_NOON_S + ROOM_DAY_S, 0);
    (void)move(room, MOVEMENT_BOOK, A_DAY, ROOM_NOON_S);
    assert_int_equal(machines_park(room->ledger, room->m12, ROOM_NOON_S, room->rosa, 0), LEDGER_OK);
    assert_int_equal(machines_park(room->ledger, room->m14, ROOM_NOON_S + 60, room->rosa, 0),
                     LEDGER_OK);
    raise(room, room->m12, "due");
    raise(room, room->m12, "overdue");
    raise(room, room->m14, "due");
    assert_int_equal(machines_rename(room->ledger, "M12", "M14"), LEDGER_OK);
    assert_int_equal(
        readings_latest(room->ledger, room->m14, ROOM_NOON_S + 9 * ROOM_DAY_S, 4, rows, &count),
        LEDGER_OK);
    assert_int_equal(count, 2);
    assert_int_equal(standing(room, room->m14), MOVEMENT_BOOK);
    assert_int_equal(machines_parked(room->ledger, room->m14, &since_s), LEDGER_OK);
    assert_int_equal(since_s, ROOM_NOON_S + 60);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM alerts WHERE void_s IS NULL"),
                     2); /* due once, overdue */
    assert_int_equal(machines_each(room->ledger, note_name, &seen), LEDGER_OK);
    assert_string_equal(seen.words, "M14 ");
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM pragma_foreign_key_check"), 0);
}

/* Every column that says which machine: one that is forgotten would keep the old name's row from going. */
static void every_table_with_a_machine_is_given_over(void **state)
{
    struct room *room = *state;
    sqlite3_stmt *row = NULL;
    assert_int_equal(
        sqlite3_prepare_v2(room->ledger->connection,
                           "SELECT t.name, f.\"from\" FROM pragma_table_list t, "
                           "pragma_foreign_key_list(t.name) f WHERE f.\"table\" = 'machines'",
                           -1, &row, NULL),
        SQLITE_OK);
    int columns = 0;
    for (; sqlite3_step(row) == SQLITE_ROW; columns++) {
        char update[96];
        bool given = false;
        (void)snprintf(update, sizeof update, "UPDATE %s SET %s = ?2 WHERE %s = ?1",
                       store_column_text(row, 0), store_column_text(row, 1),
                       store_column_text(row, 1));
        for (enum statement i = STATEMENT_RENAME_PARKING; i < STATEMENT_RENAME_GONE; i++) {
            given = given || strcmp(store_sql(i), update) == 0;
        }
        if (!given) {
            fail_msg("not given over: %s", update);
        }
    }
    assert_true(columns >= 11);
    (void)sqlite3_finalize(row);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(the_latest_that_stands_is_how_it_stands),
        IN_MEMORY(what_is_kept_of_it_comes_back),
        IN_MEMORY(undo_lets_the_one_before_hold_again),
        IN_MEMORY(the_record_shows_them_struck_ones_too),
        IN_MEMORY(what_the_schema_forbids_is_refused),
        IN_MEMORY(a_new_name_takes_the_record_along),
        IN_MEMORY(two_records_of_one_machine_become_one),
        IN_MEMORY(every_table_with_a_machine_is_given_over),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
