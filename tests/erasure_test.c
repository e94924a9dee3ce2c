/* SPDX-License-Identifier: MIT
 * What is left of a person who was forgotten: hours and services, and nothing else in any file. */
#include "tests/ledger_room.h"

#include "daemon/ledger/erasure.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/movements.h"

#define INES "+12065550110"
#define STRANGER "+12065550199"
#define SUCCESSOR "+12065550113" /* whose number it was before */

static bool is_on_roster(void *ctx, const char *phone)
{
    (void)ctx;
    return strcmp(phone, SUCCESSOR) == 0;
}

static void keep(struct room *room, const char *from, const char *body, int64_t person_id,
                 bool part_of_two)
{
    static int64_t stamp_s = ROOM_NOON_S;
    stamp_s++;
    struct texts_incoming incoming = {.hex = "0712",
                                      .from = from,
                                      .from_number = true,
                                      .stamp_s = stamp_s,
                                      .sent_s = stamp_s,
                                      .received_s = stamp_s,
                                      .body = body,
                                      .readable = true,
                                      .concatenated = part_of_two,
                                      .reference = 7,
                                      .parts = part_of_two ? 2 : 1,
                                      .part = 1};
    static struct texts_kept kept;
    assert_int_equal(texts_keep(room->ledger, &incoming, &kept), LEDGER_OK);
    if (!part_of_two) {
        assert_int_equal(texts_set_state(room->ledger, kept.text_id,
                                         person_id != 0 ? TEXTS_DONE : TEXTS_STRANGER, person_id),
                         LEDGER_OK);
    }
}

static void write_to(struct room *room, const char *phone, int64_t person_id, const char *body)
{
    int64_t text_id = 0;
    struct texts_outgoing outgoing = {.person_id = person_id,
                                      .phone = phone,
                                      .body = body,
                                      .kind = TEXTS_REPLY,
                                      .parts = 1,
                                      .created_s = ROOM_NOON_S,
                                      .not_before_s = ROOM_NOON_S,
                                      .expires_s = ROOM_NOON_S + 3600};
    assert_int_equal(texts_queue(room->ledger, &outgoing, &text_id), LEDGER_OK);
}

static void furnish(struct room *room)
{
    keep(room, INES, "M12 1340h says Ines", room->ines, false);
    keep(room, INES, "half of what Ines", 0, true); /* waits for its other part */
    keep(room, SUCCESSOR, "M12 1341h from the old phone", room->ines, false);
    keep(room, SUCCESSOR, "M12 1400h by the successor", 0, false);
    keep(room, STRANGER, "who is this? STRANGERS WORDS", 0, false);
    write_to(room, INES, room->ines, "to Ines alone");
    write_to(room, "+12065550111", room->rosa, "Ines has read M12");
    (void)room_reading(room, room->m12, 134000, ROOM_NOON_S, 0);
    assert_int_equal(marks_set(room->ledger, "picture Ines", 1), LEDGER_OK);
    struct movement in = {.kind = MOVEMENT_IN, .at_s = ROOM_NOON_S, .person_id = room->ines};
    assert_int_equal(movements_add(room->ledger, room->m12, &in), LEDGER_OK);
}

/* How often the words stand in the ledger's files. */
static int found_in_files(const struct room *room, const char *words)
{
    char command[200];
    int count = -1;
    (void)snprintf(command, sizeof command, "cat '%s'* | grep -a -o -e '%s' | wc -l", room->path,
                   words);
    FILE *answer = popen(command, "r");
    assert_non_null(answer);
    assert_int_equal(fscanf(answer, "%d", &count), 1);
    assert_int_equal(pclose(answer), 0);
    return count;
}

static void a_person_is_nowhere_while_hours_and_others_stay(void **state)
{
    struct room *room = *state;
    struct erasure erasure;
    char name[PEOPLE_NAME_OCTETS];
    furnish(room);
    assert_int_equal(erasure_person(room->ledger, "ines", is_on_roster, NULL, &erasure), LEDGER_OK);
    assert_int_equal(erasure.texts_in, 3);
    assert_int_equal(erasure.texts_out, 1);
    assert_true(erasure.wiped);
    assert_int_equal(found_in_files(room, "Ines"), 0);
    assert_int_equal(found_in_files(room, INES), 0);
    assert_int_equal(found_in_files(room, "old phone"), 0);
    assert_int_equal(people_name(room->ledger, room->ines, name), LEDGER_OK);
    assert_string_equal(name, erasure.called);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM readings"), 1);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM movements"), 1);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM texts_in"), 5);
    assert_int_equal(
        room_number(room->ledger, "SELECT count(*) FROM texts_in WHERE state = 'waiting'"), 0);
    assert_true(found_in_files(room, "by the successor") > 0);
    assert_true(found_in_files(room, "STRANGERS WORDS") > 0);
    assert_true(found_in_files(room, "somebody has read M12") > 0);
    assert_int_equal(erasure_person(room->ledger, "Ines", is_on_roster, NULL, &erasure),
                     LEDGER_NONE);
    /* the number that was known is not given to who comes again under the name */
    int64_t again = 0;
    assert_int_equal(people_id(room->ledger, "Ines", &again), LEDGER_OK);
    assert_int_not_equal(again, room->ines);
}

static void what_waits_for_a_forgotten_person_does_not_go(void **state)
{
    struct room *room = *state;
    struct erasure erasure;
    static struct texts_part part;
    int64_t next_s = 0;
    furnish(room);
    assert_int_equal(erasure_person(room->ledger, "Ines", is_on_roster, NULL, &erasure), LEDGER_OK);
    assert_int_equal(texts_next_part(room->ledger, NULL, ROOM_NOON_S, &part, &next_s), LEDGER_OK);
    assert_int_equal(part.person_id, room->rosa); /* hers alone is left */
    assert_int_equal(texts_part_handed_over(room->ledger, NULL, part.part_id, ROOM_NOON_S),
                     LEDGER_OK);
    assert_int_equal(texts_next_part(room->ledger, NULL, ROOM_NOON_S, &part, &next_s), LEDGER_NONE);
}

static void a_strangers_number_is_forgotten_by_itself(void **state)
{
    struct room *room = *state;
    struct erasure erasure;
    furnish(room);
    assert_int_equal(erasure_number(room->ledger, STRANGER, &erasure), LEDGER_OK);
    assert_int_equal(erasure.texts_in, 1);
    assert_string_equal(erasure.called, "");
    assert_int_equal(found_in_files(room, "STRANGERS WORDS"), 0);
    assert_int_equal(found_in_files(room, STRANGER), 0);
    assert_int_equal(erasure_number(room->ledger, STRANGER, &erasure), LEDGER_NONE);
    assert_true(found_in_files(room, "says Ines") > 0);
}

/* A reader keeps the room from being overwritten: the words are gone all the same, and that is said. */
static void a_reader_in_the_way_is_told(void **state)
{
    struct room *room = *state;
    struct erasure erasure;
    furnish(room);
    struct ledger *reader = room_open(room->path, LEDGER_READ);
    assert_int_equal(ledger_look(reader), LEDGER_OK);
    assert_int_equal(room_number(reader, "SELECT count(*) FROM texts_in"), 5);
    assert_int_equal(erasure_number(room->ledger, STRANGER, &erasure), LEDGER_OK);
    assert_false(erasure.wiped);
    ledger_rollback(reader);
    ledger_close(reader);
}

static void old_texts_go_and_what_they_did_stays(void **state)
{
    struct room *room = *state;
    furnish(room);
    assert_int_equal(erasure_texts_before(room->ledger, ROOM_NOON_S - 1), LEDGER_OK);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM texts_in WHERE body = ''"), 1);
    assert_int_equal(erasure_texts_before(room->ledger, ROOM_NOON_S + ROOM_DAY_S), LEDGER_OK);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM texts_in WHERE phone <> ''"),
                     0);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM arrivals WHERE hex <> ''"), 0);
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM texts_out WHERE body <> ''"),
                     2); /* they wait to be sent */
    assert_int_equal(room_number(room->ledger, "SELECT count(*) FROM readings"), 1);
}

int main(void)
{
#define ON_DISK(test) cmocka_unit_test_setup_teardown(test, room_on_disk, room_leave)
    const struct CMUnitTest tests[] = {
        ON_DISK(a_person_is_nowhere_while_hours_and_others_stay),
        ON_DISK(what_waits_for_a_forgotten_person_does_not_go),
        ON_DISK(a_strangers_number_is_forgotten_by_itself),
        ON_DISK(a_reader_in_the_way_is_told),
        ON_DISK(old_texts_go_and_what_they_did_stays),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
