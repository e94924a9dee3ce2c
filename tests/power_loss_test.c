/* SPDX-License-Identifier: MIT
 * The desk and its ledger on a disk that goes wrong at one input or output after another: a call
 * fails, the disk is full or turns read-only, the power goes and what was not synced with it, a write is torn. Judged
 * by what the modem saw against the ledger, both ways (fixtures/conductor/verdict.h): every text
 * that it was rid of is there once, what it said is there once, its answer goes out, one part at
 * most a second time, and nothing is there that nobody sent.
 *
 * Every call of the dialogue has its turn with POWER_LOSS=all (`make crash`), every 7th without.
 * POWER_LOSS=syncs counts the syncs alone (`make bench-syncs`). */
#include "fixtures/standin/tpdu_network.h"
#include "tests/desk_room.h"

#include <sqlite3.h>
#include <unistd.h>

#include "fixtures/conductor/verdict.h"
#include "fixtures/disk/disk.h"

#define CALLS_MOST 5000
#define LIVES_MOST 6
#define PASSES_MOST 4
#define TEXTS 3

static const struct {
    const char *from, *body;
    const char *machine; /* what the text says of a meter */
    int64_t hundredths;
} said[TEXTS] = {
    {TOM, "M12 40h", "M12", 4000}, {TOM, "M12?", "", 0}, {ROSA, "M12 DONE 40.1 5qt", "M12", 4010}};

/* The modem's side of the line, and all that it saw. */
struct modem {
    bool holds[TEXTS];
    char hex[TEXTS][TPDU_HEX_OCTETS];
    uint8_t reference;
    struct verdict_book *book;
};

static char folder[64];
static char path[128];
static size_t runs, lives;

static void remove_ledger(void)
{
    static const char *const endings[] = {"", "-wal", "-shm", ".lock", ".work", ".made"};
    for (size_t i = 0; i < sizeof endings / sizeof endings[0]; i++) {
        char name[160];
        (void)snprintf(name, sizeof name, "%s%s", path, endings[i]);
        (void)unlink(name);
    }
}

static int open_folder(void **state)
{
    (void)state;
    /* In memory where there is such a folder: what a sync means is this disk's own business. */
    (void)snprintf(folder, sizeof folder, "%s/meterpost-disk-XXXXXX",
                   access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp");
    if (mkdtemp(folder) == NULL || !disk_insert()) {
        return -1;
    }
    (void)snprintf(path, sizeof path, "%s/ledger.db", folder);
    return 0;
}

static int close_folder(void **state)
{
    (void)state;
    remove_ledger();
    disk_forget();
    return rmdir(folder);
}

static struct modem modem_with_texts(void)
{
    struct modem modem = {.book = verdict_open()};
    assert_non_null(modem.book);
    struct room stamp = {.now_s = local_s("2027-04-01 08:00")};
    for (size_t i = 0; i < TEXTS; i++) {
        struct tpdu_line line;
        stamp.now_s += 60;
        struct tpdu_deliver_order order = order_of(&stamp, said[i].from, said[i].body);
        assert_int_equal(tpdu_write_deliver(&order, &line), TPDU_OK);
        memcpy(modem.hex[i], line.hex, line.hex_len + 1);
        modem.holds[i] = true;
        assert_true(verdict_text_in(modem.book, said[i].from, said[i].body, said[i].machine,
                                    said[i].hundredths));
    }
    return modem;
}

/* The network takes a part of a text out; returns its reference. */
static uint8_t take_part(struct modem *modem, const char *hex)
{
    struct tpdu tpdu;
    assert_int_equal(tpdu_from_hex(hex, strlen(hex), &tpdu), TPDU_OK);
    modem->reference++;
    assert_true(verdict_part_out(modem->book, 0, tpdu.other.text, tpdu.user.text,
                                 tpdu.user.concat.present ? tpdu.user.concat.part : 1,
                                 modem->reference, 1));
    return modem->reference;
}

/* Whoever waits is told why. */
static void assert_told_why(enum disk_fault fault, const char *says)
{
    if (fault == DISK_READ_ONLY && strstr(says, "the disk is read-only") == NULL) {
        fail_msg("of a read-only disk is said: %s", says);
    }
}

/* One pass of the loop: what the modem holds goes in, what waits goes out. */
static void pass(struct room *room, struct modem *modem, enum disk_fault fault)
{
    struct part part;
    int64_t next_s = 0;
    for (size_t i = 0; i < TEXTS; i++) {
        if (modem->holds[i] && receive_hex(room, modem->hex[i])) {
            modem->holds[i] = false;
        } else if (modem->holds[i] && disk_struck()) {
            assert_told_why(fault, ledger_says(room->ledger));
        }
    }
    while (desk_next_part(room->desk, 0, now_of(room), &part, &next_s)) {
        struct part_result result = {
            .part_id = part.id, .reference = take_part(modem, part.line.hex), .cause = -1};
        desk_part_ended(room->desk, &result, now_of(room));
    }
}

static bool holds_any(const struct modem *modem)
{
    bool any = false;
    for (size_t i = 0; i < TEXTS; i++) {
        any = any || modem->holds[i];
    }
    return any;
}

/* From a start of the program to its end, by a loss of power or at rest. True when all is done. */
static bool live(struct settings *settings, struct modem *modem, enum disk_fault fault,
                 int64_t now_s)
{
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS];
    struct room room = {.settings = settings, .now_s = now_s};
    lives++;
    room.ledger = ledger_open(path, LEDGER_WRITE, &result, says);
    if (room.ledger == NULL) {
        assert_told_why(fault, says);
        return false;
    }
    room.desk = desk_new(settings, room.ledger);
    assert_non_null(room.desk);
    desk_recover(room.desk, now_of(&room));
    for (int i = 0; i < PASSES_MOST && !disk_dead(); i++) {
        pass(&room, modem, fault);
        room.now_s += 300; /* what could not be done is tried again */
        if (disk_struck() && !disk_dead()) {
            disk_mend(); /* somebody made room */
        }
    }
    desk_free(room.desk);
    ledger_close(room.ledger);
    return !disk_dead() && !holds_any(modem);
}

static int64_t ask(const char *query)
{
    sqlite3 *ledger = NULL;
    sqlite3_stmt *statement = NULL;
    int64_t answer = -1;
    if (sqlite3_open_v2(path, &ledger, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK &&
        sqlite3_prepare_v2(ledger, query, -1, &statement, NULL) == SQLITE_OK &&
        sqlite3_step(statement) == SQLITE_ROW) {
        answer = sqlite3_column_int64(statement, 0);
    }
    (void)sqlite3_finalize(statement);
    (void)sqlite3_close(ledger);
    return answer;
}

static void assert_all_there_once(const struct modem *modem, int at)
{
    struct verdict verdict;
    assert_true(verdict_judge(modem->book, path, &verdict));
    if (!verdict_good(&verdict) || verdict.texts != TEXTS || verdict.readings != 2 ||
        verdict.parts < TEXTS || verdict.left != 0 ||
        ask("SELECT count(*) FROM arrivals WHERE hex <> ''") != TEXTS ||
        ask("SELECT count(*) FROM services WHERE quantity_thousandths = 5000") != 1) {
        fail_msg("call %d: texts lost %d, twice %d, unsent %d; readings lost %d, twice %d; parts "
                 "out %d, repeated %d, unmarked %d, untaken %d",
                 at, (int)verdict.lost, (int)verdict.twice, (int)verdict.unsent,
                 (int)verdict.readings_lost, (int)verdict.readings_twice, (int)verdict.parts,
                 (int)verdict.repeated, (int)verdict.unmarked, (int)verdict.untaken);
    }
}

/* The dialogue with the fault at that call. False where it ended before the call was reached. */
static bool run_once(struct settings *settings, enum disk_fault fault, int at)
{
    struct modem modem = modem_with_texts();
    int64_t now_s = local_s("2027-04-01 08:10");
    bool done = false, struck = false;
    remove_ledger();
    disk_forget();
    disk_arm(fault, at);
    for (int i = 0; i < LIVES_MOST && !done; i++) {
        done = live(settings, &modem, fault, now_s);
        struck = struck || disk_struck();
        if (disk_dead()) {
            disk_restore();
        }
        disk_mend();
        now_s += 3600;
    }
    /* A start more: what the fault hid is sent again, and then no more. */
    assert_true(live(settings, &modem, DISK_WELL, now_s));
    assert_true(done);
    assert_all_there_once(&modem, at);
    verdict_close(modem.book);
    runs++;
    return struck;
}

static void sweep(enum disk_fault fault)
{
    const char *all = getenv("POWER_LOSS");
    int step = all != NULL && strcmp(all, "all") == 0 ? 1 : 7;
    struct settings *settings = settings_load("fixtures/texts/desk.conf", stderr);
    assert_non_null(settings);
    assert_true(zone_set(settings->shop.time_zone));
    int at = 1;
    while (at < CALLS_MOST && run_once(settings, fault, at)) {
        at += step;
    }
    assert_in_range(at, 30, CALLS_MOST - 1); /* the sweep came to the dialogue's end */
    print_message("%zu runs, %zu starts, up to call %d\n", runs, lives, at);
    settings_free(settings);
}

static void a_call_that_fails_loses_nothing(void **state)
{
    (void)state;
    sweep(DISK_FAILS_ONCE);
}

static void a_full_disk_loses_nothing(void **state)
{
    (void)state;
    sweep(DISK_FULL);
}

static void a_disk_that_turns_read_only_loses_nothing(void **state)
{
    (void)state;
    sweep(DISK_READ_ONLY);
}

static void a_loss_of_power_loses_nothing(void **state)
{
    (void)state;
    sweep(DISK_POWER_LOST);
}

static void a_torn_write_loses_nothing(void **state)
{
    (void)state;
    sweep(DISK_TORN);
}

/* The text's own transaction, the part handed over, the part taken. */
static void a_text_and_its_answer_take_two_syncs(void **state)
{
    struct modem modem = modem_with_texts();
    struct room *room;
    (void)state;
    remove_ledger();
    disk_forget();
    disk_mend();
    room = room_at(path);
    room->now_s = local_s("2027-04-01 08:10");
    /* The first commit of a new WAL syncs its header too: count in the steady state. */
    assert_true(receive_hex(room, modem.hex[0]));
    drop_all(room);
    disk_arm(DISK_WELL, 0);
    assert_true(receive_hex(room, modem.hex[2]));
    assert_true(take_out(room));
    print_message("one text in and its answer out: %d syncs outside checkpoints, at most 2\n",
                  disk_syncs());
    assert_int_equal(disk_syncs(), 2);
    verdict_close(modem.book);
    void *closing = room;
    assert_int_equal(room_close(&closing), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_call_that_fails_loses_nothing),
        cmocka_unit_test(a_full_disk_loses_nothing),
        cmocka_unit_test(a_disk_that_turns_read_only_loses_nothing),
        cmocka_unit_test(a_loss_of_power_loses_nothing),
        cmocka_unit_test(a_torn_write_loses_nothing),
        cmocka_unit_test(a_text_and_its_answer_take_two_syncs),
    };
    const struct CMUnitTest syncs[] = {
        cmocka_unit_test(a_text_and_its_answer_take_two_syncs),
    };
    const char *which = getenv("POWER_LOSS");
    return which != NULL && strcmp(which, "syncs") == 0
               ? cmocka_run_group_tests(syncs, open_folder, close_folder)
               : cmocka_run_group_tests(tests, open_folder, close_folder);
}
