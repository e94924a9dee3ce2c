/* SPDX-License-Identifier: MIT
 * Texts listed and counted. */
#include "tests/ledger_room.h"

#include "daemon/ledger/texts.h"

#define LINES_MAX 8
static char lines[LINES_MAX][160];
static size_t count;

static void note_line(void *ctx, const struct texts_line *line)
{
    (void)ctx;
    assert_true(count < LINES_MAX);
    (void)snprintf(lines[count++], sizeof lines[0], "%s %s %s \"%s\" %s",
                   line->incoming ? "in" : "out", line->person, line->phone, line->body,
                   line->state);
}

static void list(struct room *room, int64_t from_s, int64_t until_s)
{
    count = 0;
    assert_int_equal(texts_each(room->ledger, from_s, until_s, note_line, NULL), LEDGER_OK);
}

static int64_t queue(struct room *room, const char *body, uint8_t parts, int64_t at_s)
{
    int64_t text_id;
    const struct texts_outgoing outgoing = {.person_id = room->ines,
                                            .phone = "+12065550110",
                                            .body = body,
                                            .kind = TEXTS_REPLY,
                                            .created_s = at_s,
                                            .not_before_s = at_s,
                                            .parts = parts};
    assert_int_equal(texts_queue(room->ledger, &outgoing, &text_id), LEDGER_OK);
    return text_id;
}

static int64_t cause_seen;

static void note_cause(void *ctx, const struct texts_line *line)
{
    (void)ctx;
    cause_seen = line->cause;
}

static void a_text_that_was_not_sent_is_listed_with_its_cause(void **state)
{
    struct room *room = *state;
    struct texts_part *part = calloc(1, sizeof *part);
    int64_t next_s;
    (void)queue(room, "noted", 1, ROOM_NOON_S);
    assert_int_equal(texts_each(room->ledger, 0, INT64_MAX, note_cause, NULL), LEDGER_OK);
    assert_int_equal(cause_seen, TEXTS_CAUSE_NONE);
    assert_int_equal(texts_next_part(room->ledger, NULL, ROOM_NOON_S, part, &next_s), LEDGER_OK);
    assert_int_equal(texts_part_handed_over(room->ledger, NULL, part->part_id, ROOM_NOON_S),
                     LEDGER_OK);
    assert_int_equal(texts_part_again(room->ledger, part->part_id, ROOM_NOON_S + 60, 38),
                     LEDGER_OK);
    assert_int_equal(texts_each(room->ledger, 0, INT64_MAX, note_cause, NULL), LEDGER_OK);
    assert_int_equal(cause_seen, 38);
    assert_int_equal(
        texts_part_ended(room->ledger, part->part_id, TEXTS_PART_FAILED, 0, 1, ROOM_NOON_S + 61),
        LEDGER_OK);
    assert_int_equal(texts_each(room->ledger, 0, INT64_MAX, note_cause, NULL), LEDGER_OK);
    assert_int_equal(cause_seen, 1);
    free(part);
}

static void texts_in_and_out_are_listed_newest_first(void **state)
{
    struct room *room = *state;
    struct texts_kept *kept = calloc(1, sizeof *kept);
    struct texts_incoming stranger = room_pdu("01", "who is this", ROOM_NOON_S + 60);
    stranger.from = "+12065550199";
    (void)room_text(room, room->ines, "M12 1340h", ROOM_NOON_S); /* received 5 s later */
    (void)queue(room, "M12 1340 h noted.", 1, ROOM_NOON_S + 5);
    assert_int_equal(texts_keep(room->ledger, &stranger, kept), LEDGER_OK);
    assert_int_equal(texts_set_state(room->ledger, kept->text_id, TEXTS_STRANGER, 0), LEDGER_OK);
    free(kept);
    list(room, ROOM_NOON_S, ROOM_NOON_S + ROOM_DAY_S);
    assert_int_equal(count, 3);
    assert_string_equal(lines[0], "in  +12065550199 \"who is this\" stranger");
    assert_string_equal(lines[1], "out Ines +12065550110 \"M12 1340 h noted.\" waiting");
    assert_string_equal(lines[2], "in Ines +12065550110 \"M12 1340h\" done");
    list(room, ROOM_NOON_S + 6, ROOM_NOON_S + 65);
    assert_int_equal(count, 0);
    list(room, ROOM_NOON_S + 5, ROOM_NOON_S + 6);
    assert_int_equal(count, 2);
}

static void a_text_out_is_listed_with_the_state_that_needs_attention_most(void **state)
{
    struct room *room = *state;
    static const struct {
        const char *first, *second, *listed;
    } cases[] = {
        {"taken", "taken", "taken"},     {"taken", "handed-over", "handed-over"},
        {"taken", "waiting", "waiting"}, {"unknown", "waiting", "unknown"},
        {"unknown", "failed", "failed"}, {"failed", "taken", "failed"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char sql[200], expected[64];
        int64_t at_s = ROOM_NOON_S + 60 * (int64_t)i;
        int64_t text_id = queue(room, "long", 2, at_s);
        (void)snprintf(sql, sizeof sql,
                       "UPDATE parts_out SET state = iif(part = 1, '%s', '%s') WHERE text_id = %d",
                       cases[i].first, cases[i].second, (int)text_id);
        assert_int_equal(sqlite3_exec(room->ledger->connection, sql, NULL, NULL, NULL), SQLITE_OK);
        list(room, at_s, at_s + 1);
        (void)snprintf(expected, sizeof expected, "out Ines +12065550110 \"long\" %s",
                       cases[i].listed);
        assert_string_equal(lines[0], expected);
    }
}

/* TP-ST of TS 23.040 9.2.3.15; a part that waits says more than one delivered. */
static void a_report_says_whether_a_text_was_delivered(void **state)
{
    struct room *room = *state;
    static const struct {
        const char *columns, *listed;
    } cases[] = {
        {"state = 'taken', report = 0", "delivered"},
        {"state = 'taken', report = 31", "delivered"},
        {"state = 'taken', report = 48", "taken"}, /* still being tried */
        {"state = 'taken', report = 64", "not-delivered"},
        {"state = 'taken', report = 99", "not-delivered"},
        {"state = iif(part = 1, 'taken', 'waiting'), report = iif(part = 1, 0, NULL)", "waiting"},
        {"state = 'failed', cause = 21", "failed"},
        {"state = 'failed', cause = -2", "expired"},
        {"state = 'failed', cause = -3", "gave-way"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char sql[200], expected[64];
        int64_t at_s = ROOM_NOON_S + 60 * (int64_t)i;
        int64_t text_id = queue(room, "long", 2, at_s);
        (void)snprintf(sql, sizeof sql, "UPDATE parts_out SET %s WHERE text_id = %d",
                       cases[i].columns, (int)text_id);
        assert_int_equal(sqlite3_exec(room->ledger->connection, sql, NULL, NULL, NULL), SQLITE_OK);
        list(room, at_s, at_s + 1);
        (void)snprintf(expected, sizeof expected, "out Ines +12065550110 \"long\" %s",
                       cases[i].listed);
        assert_string_equal(lines[0], expected);
    }
}

static void strangers_are_counted(void **state)
{
    struct room *room = *state;
    struct texts_kept *kept = calloc(1, sizeof *kept);
    int strangers;
    for (int i = 0; i < 3; i++) {
        struct texts_incoming incoming = room_pdu("", "who is this", ROOM_NOON_S + i);
        assert_int_equal(texts_keep(room->ledger, &incoming, kept), LEDGER_OK);
        assert_int_equal(texts_set_state(room->ledger, kept->text_id, TEXTS_STRANGER, 0),
                         LEDGER_OK);
    }
    free(kept);
    (void)room_text(room, room->ines, "M12 1340h", ROOM_NOON_S);
    assert_int_equal(texts_strangers_since(room->ledger, ROOM_NOON_S, &strangers), LEDGER_OK);
    assert_int_equal(strangers, 3);
    assert_int_equal(texts_strangers_since(room->ledger, ROOM_NOON_S + 7, &strangers), LEDGER_OK);
    assert_int_equal(strangers, 1);
}

static void set_parts(struct room *room, int64_t text_id, const char *columns)
{
    char sql[200];
    (void)snprintf(sql, sizeof sql, "UPDATE parts_out SET %s WHERE text_id = %d", columns,
                   (int)text_id);
    assert_int_equal(sqlite3_exec(room->ledger->connection, sql, NULL, NULL, NULL), SQLITE_OK);
}

static void the_summary_counts_what_waits_and_what_went_wrong(void **state)
{
    struct room *room = *state;
    struct texts_kept *kept = calloc(1, sizeof *kept);
    struct texts_summary summary;
    assert_int_equal(texts_summarise(room->ledger, 0, &summary), LEDGER_OK);
    assert_int_equal(summary.waiting, 0);
    assert_int_equal(summary.oldest_waiting_s, 0);
    assert_int_equal(summary.last_in_s, 0);
    assert_int_equal(summary.last_out_s, 0);

    struct texts_incoming garbled = room_pdu("FF", "", ROOM_NOON_S);
    garbled.readable = false;
    assert_int_equal(texts_keep(room->ledger, &garbled, kept), LEDGER_OK);
    free(kept);
    (void)queue(room, "waits", 2, ROOM_NOON_S + 7);
    set_parts(room, queue(room, "old", 1, ROOM_NOON_S - ROOM_DAY_S), "state = 'failed'");
    set_parts(room, queue(room, "failed", 3, ROOM_NOON_S), "state = 'failed'");
    set_parts(room, queue(room, "lost", 1, ROOM_NOON_S),
              "state = 'unknown', handed_s = 1900000000");
    set_parts(room, queue(room, "taken", 1, ROOM_NOON_S), "state = 'taken', handed_s = 1800014499");
    assert_int_equal(texts_summarise(room->ledger, ROOM_NOON_S, &summary), LEDGER_OK);
    assert_int_equal(summary.waiting, 2);
    assert_int_equal(summary.oldest_waiting_s, ROOM_NOON_S + 7);
    assert_int_equal(summary.failed_since, 1);
    assert_int_equal(summary.unknown_since, 1);
    assert_int_equal(summary.unread_since, 1);
    assert_int_equal(summary.last_in_s, ROOM_NOON_S + 5);
    assert_int_equal(summary.last_out_s, 1800014499);
}

/* A text held for the shop's hours is not late before them; one that was tried is. */
static void a_text_held_back_waits_from_its_hour_on(void **state)
{
    struct room *room = *state;
    struct texts_summary summary;
    int64_t text_id = queue(room, "held", 1, ROOM_NOON_S);
    set_parts(room, text_id, "not_before_s = 1800100000");
    assert_int_equal(texts_summarise(room->ledger, ROOM_NOON_S, &summary), LEDGER_OK);
    assert_int_equal(summary.oldest_waiting_s, 1800100000);
    set_parts(room, text_id, "tries = 1");
    assert_int_equal(texts_summarise(room->ledger, ROOM_NOON_S, &summary), LEDGER_OK);
    assert_int_equal(summary.oldest_waiting_s, ROOM_NOON_S);
}

int main(void)
{
#define IN_MEMORY(test) cmocka_unit_test_setup_teardown(test, room_in_memory, room_leave)
    const struct CMUnitTest tests[] = {
        IN_MEMORY(a_text_that_was_not_sent_is_listed_with_its_cause),
        IN_MEMORY(texts_in_and_out_are_listed_newest_first),
        IN_MEMORY(a_text_out_is_listed_with_the_state_that_needs_attention_most),
        IN_MEMORY(a_report_says_whether_a_text_was_delivered),
        IN_MEMORY(strangers_are_counted),
        IN_MEMORY(the_summary_counts_what_waits_and_what_went_wrong),
        IN_MEMORY(a_text_held_back_waits_from_its_hour_on),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
