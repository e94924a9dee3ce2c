/* SPDX-License-Identifier: MIT
 * Memory runs short at each allocation in turn: SQLite's (its test hook, the allocator that
 * SQLITE_CONFIG_MALLOC puts in), and our own, which the linker hands to the functions here (--wrap): a text is kept and answered once, or it stays in the modem and is kept when it
 * comes again. Nothing is lost, nothing counted twice. */
#include "fixtures/standin/tpdu_network.h"
#include "tests/desk_room.h"

#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include "daemon/counter/answers.h"
#include "daemon/ledger/readings.h"

#define CALLS_MOST 4000

static sqlite3_mem_methods real;
static int calls, fails_at; /* 0: none fails */
static char folder[64], path[80];

static bool fails(void)
{
    return fails_at > 0 && ++calls == fails_at;
}

static void *take(int octets)
{
    return fails() ? NULL : real.xMalloc(octets);
}

static void *take_again(void *memory, int octets)
{
    return fails() ? NULL : real.xRealloc(memory, octets);
}

static int put_hook(void **state)
{
    (void)state;
    if (sqlite3_config(SQLITE_CONFIG_GETMALLOC, &real) != SQLITE_OK) {
        return -1;
    }
    static sqlite3_mem_methods hooked;
    hooked = real;
    hooked.xMalloc = take;
    hooked.xRealloc = take_again;
    return sqlite3_config(SQLITE_CONFIG_MALLOC, &hooked) == SQLITE_OK &&
                   sqlite3_config(SQLITE_CONFIG_LOOKASIDE, 0, 0) == SQLITE_OK
               ? 0
               : -1;
}

static void arm(int at)
{
    calls = 0;
    fails_at = at;
}

static int rows(struct room *room, const char *table)
{
    char sql[96];
    sqlite3 *look = NULL;
    sqlite3_stmt *statement = NULL;
    (void)room;
    (void)snprintf(sql, sizeof sql, "SELECT count(*) FROM %s", table);
    assert_int_equal(sqlite3_open_v2(path, &look, SQLITE_OPEN_READONLY, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_prepare_v2(look, sql, -1, &statement, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    int count = sqlite3_column_int(statement, 0);
    assert_int_equal(sqlite3_finalize(statement), SQLITE_OK);
    assert_int_equal(sqlite3_close(look), SQLITE_OK);
    return count;
}

/* The text comes, with that allocation failing; where it stayed in the modem it comes again. False once there
 * are not so many allocations. */
static bool text_comes(struct room *room, int at, int number)
{
    struct tpdu_line line;
    char body[32];
    (void)snprintf(body, sizeof body, "M12 %d.%02dh", 40 + number / 100, number % 100);
    struct tpdu_deliver_order order = order_of(room, TOM, body);
    assert_int_equal(tpdu_write_deliver(&order, &line), TPDU_OK);
    arm(at);
    bool kept = receive_hex(room, line.hex);
    struct part part;
    int64_t next_s = 0;
    bool out = desk_next_part(room->desk, 0, now_of(room), &part, &next_s);
    if (out) {
        struct part_result result = {.part_id = part.id, .reference = 1, .cause = -1};
        desk_part_ended(room->desk, &result, now_of(room));
    }
    bool reached = calls >= at;
    arm(0);
    if (!kept) {
        room->now_s += 60;
        assert_true(receive_hex(room, line.hex));
    }
    assert_true(receive_hex(room, line.hex)); /* a copy whose delete was lost is known */
    room->now_s += 60;
    out = take_out(room) || out; /* the answer, once */
    room->now_s += 3600;
    while (take_out(room)) { /* what could not be noted is repeated at most */
    }
    assert_true(out);
    return reached;
}

static void at_no_allocation_a_text_is_lost_or_counted_twice(void **state)
{
    (void)state;
    (void)snprintf(folder, sizeof folder, "/tmp/meterpost-memory-XXXXXX");
    assert_non_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/ledger.db", folder);
    struct room *room = room_at(path);
    room->settings->shop.texts_per_hour = 3600;
    room->settings->shop.texts_per_day = 86400;
    at(room, "2027-04-01 08:00");
    int number = 1, at_call = 1;
    while (at_call < CALLS_MOST && text_comes(room, at_call, number)) {
        assert_int_equal(rows(room, "texts_in"), number);
        assert_int_equal(rows(room, "readings"), number);
        at_call++;
        number++;
    }
    print_message("memory short at each of %d allocations of a text and its answer\n", at_call - 1);
    assert_in_range(at_call, 10, CALLS_MOST - 1);
    void *end = room;
    (void)room_close(&end);
    char command[96];
    (void)snprintf(command, sizeof command, "rm -r '%s'", folder);
    assert_int_equal(system(command), 0);
}

/* At the start: it ends with a sentence, and the next start finds the ledger whole. */
static void a_start_without_memory_leaves_the_ledger_whole(void **state)
{
    (void)state;
    (void)snprintf(folder, sizeof folder, "/tmp/meterpost-memory-XXXXXX");
    assert_non_null(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/ledger.db", folder);
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS], command[128];
    int at_call = 1;
    for (bool reached = true; reached && at_call < 20000; at_call += at_call < 200 ? 1 : 17) {
        arm(at_call);
        struct ledger *ledger = ledger_open(path, LEDGER_WRITE, &result, says);
        reached = calls >= at_call;
        arm(0);
        assert_true(ledger != NULL || says[0] != '\0');
        ledger_close(ledger);
        ledger = ledger_open(path, LEDGER_WRITE, &result, says);
        if (ledger == NULL) {
            fail_msg("after call %d: %s", at_call, says);
        }
        ledger_close(ledger);
        if (at_call % 2 == 0) { /* as often a new one is made */
            (void)snprintf(command, sizeof command, "rm '%s'*", path);
            assert_int_equal(system(command), 0);
        }
    }
    assert_in_range(at_call, 100, 19999);
    (void)snprintf(command, sizeof command, "rm -r '%s'", folder);
    assert_int_equal(system(command), 0);
}

/* ---- our own */

static int own_calls, own_fails_at; /* 0: none fails */

static bool own_fails(void)
{
    return own_fails_at > 0 && ++own_calls == own_fails_at;
}

/* What the program calls in the place of each, and the true one (ld(1), --wrap). */
#define WRAPPED(type, name, takes, gives)                                                          \
    type __real_##name takes;                                                                      \
    type __wrap_##name takes;                                                                      \
    type __wrap_##name takes                                                                       \
    {                                                                                              \
        return own_fails() ? NULL : __real_##name gives;                                           \
    }
WRAPPED(void *, malloc, (size_t octets), (octets))
WRAPPED(void *, calloc, (size_t count, size_t octets), (count, octets))
WRAPPED(void *, realloc, (void *memory, size_t octets), (memory, octets))
WRAPPED(char *, strdup, (const char *text), (text))
WRAPPED(FILE *, open_memstream, (char **text, size_t *length), (text, length))
WRAPPED(FILE *, fmemopen, (void *room, size_t size, const char *mode), (room, size, mode))

/* As a reload does. */
static void reload(struct room *room)
{
    FILE *nowhere = fopen("/dev/null", "w");
    assert_non_null(nowhere);
    struct settings *fresh = settings_load("fixtures/texts/desk.conf", nowhere);
    (void)fclose(nowhere);
    if (fresh != NULL && desk_configure(room->desk, fresh)) {
        settings_free(room->settings);
        room->settings = fresh;
    } else {
        settings_free(fresh);
    }
}

/* As the door is asked. */
static void ask(struct room *room)
{
    FILE *nowhere = fopen("/dev/null", "w");
    assert_non_null(nowhere);
    struct health_facts facts = {
        .settings = room->settings, .ledger = room->ledger, .now_s = room->now_s};
    static struct health_check checks[HEALTH_CHECKS_MAX];
    (void)health_checks_run(&facts, checks);
    for (int json = 0; json < 2; json++) {
        (void)text_at_desk(room->desk, room->settings, "Rosa", "DUE", json != 0, now_of(room),
                           nowhere);
    }
    (void)fclose(nowhere);
}

/* A text that calls for an alert, the round that tells it, a reload, and questions at the door. False once
 * there are not so many allocations. */
static bool a_day_passes(int at_call)
{
    struct tpdu_line line;
    int answers = 0, alerts = 0;
    struct room *room = room_at(":memory:");
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 45h");
    drop_all(room);
    at(room, "2027-04-02 08:00");
    struct tpdu_deliver_order order = order_of(room, TOM, "M12 60h");
    assert_int_equal(tpdu_write_deliver(&order, &line), TPDU_OK);
    own_calls = 0;
    own_fails_at = at_call;
    bool kept = receive_hex(room, line.hex);
    (void)desk_round(room->desk, now_of(room));
    reload(room);
    ask(room);
    bool reached = own_calls >= at_call;
    own_fails_at = 0;
    assert_true(kept || receive_hex(room, line.hex));
    room->now_s += 3600; /* the next round */
    (void)desk_round(room->desk, now_of(room));
    while (take_out(room)) {
        answers += strcmp(room->to, TOM) == 0;
        alerts += strcmp(room->to, ROSA) == 0 && strstr(room->body, "coming up") != NULL;
    }
    assert_int_equal(answers, 1);
    assert_int_equal(alerts, 1);
    void *end = room;
    (void)room_close(&end);
    return reached;
}

static void nor_at_any_allocation_of_our_own(void **state)
{
    (void)state;
    int at_call = 1;
    while (at_call < CALLS_MOST && a_day_passes(at_call)) {
        at_call++;
    }
    print_message("memory short at each of %d allocations of our own in a day\n", at_call - 1);
    assert_in_range(at_call, 15, CALLS_MOST - 1);
}

/* DUE looks at the whole yard at once: where that fails the text is kept all the same, and its sender hears
 * so. The next one has its list. */
static void due_without_memory_is_kept_and_answered(void **state)
{
    (void)state;
    int at_call = 1, refused = 0;
    struct room *room = room_at(":memory:");
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 70h");
    drop_all(room);
    for (bool reached = true; reached && at_call < CALLS_MOST; at_call++) {
        struct tpdu_line line;
        room->now_s += 7200;
        struct tpdu_deliver_order order = order_of(room, TOM, "DUE");
        assert_int_equal(tpdu_write_deliver(&order, &line), TPDU_OK);
        own_calls = 0;
        own_fails_at = at_call;
        bool kept = receive_hex(room, line.hex);
        reached = own_calls >= at_call;
        own_fails_at = 0;
        assert_true(kept);
        assert_true(take_out(room));
        if (strstr(room->body, "M12 drive") == NULL) {
            assert_string_equal(room->body, "I am short of memory, so there is no list just now. "
                                            "Please text DUE again later.");
            refused++;
        }
        assert_silent(room);
    }
    assert_in_range(refused, 1, at_call - 2); /* the last one was not short */
    void *end = room;
    (void)room_close(&end);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(at_no_allocation_a_text_is_lost_or_counted_twice),
        cmocka_unit_test(nor_at_any_allocation_of_our_own),
        cmocka_unit_test(due_without_memory_is_kept_and_answered),
        cmocka_unit_test(a_start_without_memory_leaves_the_ledger_whole),
    };
    return cmocka_run_group_tests(tests, put_hook, NULL);
}
