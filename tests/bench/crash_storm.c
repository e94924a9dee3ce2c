/* SPDX-License-Identifier: MIT
 * crash_storm: the daemon is killed (kill -9) again and again while texts come in and replies go
 * out, at instants drawn by chance, and started anew; now and then the modem loses its power with
 * it. At the end the stand-in's transcript is held against the ledger: every text that a person
 * sent is there once, and its reading once. What a crash hides may be sent again, once a kill at
 * most.
 *
 * usage: crash-storm KILLS [SEED]. Ends with 0 only where nothing was lost and nothing counted
 * twice. The instants depend on the machine, so the seed repeats the load, not the moment. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <sqlite3.h>

#include "fixtures/conductor/folder.h"
#include "fixtures/conductor/house.h"

#define ROUND_MS (2 * 60 * 60 * 1000) /* between two kills: caps and allowances have room */
#define STEP_HUNDREDTHS 50            /* what a machine runs from one reading to the next */
#define TEXTS_A_ROUND 3
#define WINDOW_FLOOR_US 2000
#define POWER_CUT_EVERY 10

/* Who reads which meter, and where it stands. */
struct meter {
    const char *phone, *machine;
    int64_t hundredths;
};

struct storm {
    struct house *house;
    uint64_t random;
    struct meter meters[4];
    int64_t window_us; /* how long a round's texts take when nobody is killed */
    size_t kills, power_cuts;
};

/* What the transcript and the ledger say at the end. */
struct verdict {
    size_t sent, kept, lost, twice;
    size_t readings_lost, readings_twice;
    size_t answered, unanswered, repeated;
};

static uint64_t next_random(struct storm *storm)
{
    /* xorshift64: G. Marsaglia, Xorshift RNGs, 2003 */
    storm->random ^= storm->random << 13;
    storm->random ^= storm->random >> 7;
    storm->random ^= storm->random << 17;
    return storm->random;
}

static int64_t real_us(void)
{
    struct timespec now = {0};
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

static bool send_texts(struct storm *storm)
{
    bool sent = true;
    size_t first = next_random(storm) % 4;
    for (size_t i = 0; i < TEXTS_A_ROUND && sent; i++) { /* each of another machine */
        struct meter *meter = &storm->meters[(first + i) % 4];
        char line[128];
        meter->hundredths += STEP_HUNDREDTHS;
        (void)snprintf(line, sizeof line, "text %s \"%s %" PRId64 ".%02" PRId64 "h\"", meter->phone,
                       meter->machine, meter->hundredths / 100, meter->hundredths % 100);
        sent = conductor_hurry(storm->house->conductor, line);
    }
    return sent;
}

/* The window is what the first round takes, undisturbed: kills fall anywhere in it. */
static bool calibrate(struct storm *storm)
{
    struct conductor *c = storm->house->conductor;
    int64_t begun_us = real_us();
    bool settled = send_texts(storm) && conductor_settle(c);
    storm->window_us = real_us() - begun_us;
    if (storm->window_us < WINDOW_FLOOR_US) {
        storm->window_us = WINDOW_FLOOR_US;
    }
    return settled && conductor_advance(c, ROUND_MS);
}

static bool kill_once(struct storm *storm)
{
    struct conductor *c = storm->house->conductor;
    int64_t wait_us = (int64_t)(next_random(storm) % (uint64_t)storm->window_us);
    struct timespec wait = {.tv_sec = wait_us / 1000000, .tv_nsec = wait_us % 1000000 * 1000};
    bool cut = next_random(storm) % POWER_CUT_EVERY == 0;
    if (!send_texts(storm)) {
        return false;
    }
    (void)nanosleep(&wait, NULL);
    bool good = conductor_kill_daemon(c);
    if (cut) {
        good = good && conductor_kill_standin(c) && conductor_start_standin(c);
        storm->power_cuts++;
    }
    storm->kills++;
    return good && conductor_start_daemon(c) && conductor_advance(c, ROUND_MS);
}

/* ---- the judgement */

static int64_t ask(sqlite3 *ledger, const char *query, const char *text, int64_t number)
{
    sqlite3_stmt *statement = NULL;
    int64_t answer = -1;
    if (sqlite3_prepare_v2(ledger, query, -1, &statement, NULL) == SQLITE_OK &&
        sqlite3_bind_text(statement, 1, text, -1, SQLITE_STATIC) == SQLITE_OK &&
        sqlite3_bind_int64(statement, 2, number) == SQLITE_OK &&
        sqlite3_step(statement) == SQLITE_ROW) {
        answer = sqlite3_column_int64(statement, 0);
    }
    (void)sqlite3_finalize(statement);
    return answer;
}

static void judge_text(sqlite3 *ledger, const char *body, struct verdict *verdict)
{
    char machine[32] = "";
    long long whole = 0, part = 0;
    int64_t kept =
        ask(ledger, "SELECT count(*) FROM texts_in WHERE body = ?1 AND ?2 = ?2", body, 0);
    verdict->sent++;
    verdict->kept += kept > 0;
    verdict->lost += kept <= 0;
    verdict->twice += kept > 1;
    if (sscanf(body, "%31s %lld.%lldh", machine, &whole, &part) == 3) {
        int64_t readings = ask(ledger,
                               "SELECT count(*) FROM readings r JOIN machines m ON m.id = "
                               "r.machine_id WHERE m.name = ?1 AND r.meter_hundredths = ?2 AND "
                               "r.struck_s IS NULL",
                               machine, whole * 100 + part);
        verdict->readings_lost += readings <= 0;
        verdict->readings_twice += readings > 1;
    }
}

/* Every answer that went on the air, by its body: a second one is a repetition. */
static void judge_answers(sqlite3 *ledger, const char *transcript, struct verdict *verdict)
{
    static struct event event;
    static struct events events;
    char body[EVENTS_LINE_OCTETS];
    sqlite3 *seen = NULL;
    if (sqlite3_open(":memory:", &seen) != SQLITE_OK || !events_open(&events, transcript)) {
        return;
    }
    (void)sqlite3_exec(seen, "CREATE TABLE t (b TEXT, n INTEGER)", NULL, NULL, NULL);
    while (events_next(&events, &event)) {
        if (strcmp(event.word, "text-out") == 0 && event_field(&event, "body", body, sizeof body)) {
            int64_t before = ask(seen, "SELECT count(*) FROM t WHERE b = ?1 AND ?2 = ?2", body, 0);
            int64_t asked_for =
                ask(ledger, "SELECT count(*) FROM texts_out WHERE body = ?1 AND ?2 = ?2", body, 0);
            verdict->answered++;
            verdict->repeated += before >= asked_for;
            (void)ask(seen, "INSERT INTO t VALUES (?1, ?2) RETURNING 0", body, 0);
        }
    }
    events_close(&events);
    (void)sqlite3_close(seen);
    verdict->unanswered = (size_t)ask(ledger,
                                      "SELECT count(*) FROM parts_out WHERE state NOT IN "
                                      "('taken', 'unknown') AND ?1 = ?1 AND ?2 = ?2",
                                      "", 0);
}

static bool judge(const struct storm *storm, const char *transcript, struct verdict *verdict)
{
    static struct event event;
    static struct events events;
    char body[EVENTS_LINE_OCTETS];
    sqlite3 *ledger = NULL;
    if (sqlite3_open_v2(storm->house->yard.ledger, &ledger, SQLITE_OPEN_READONLY, NULL) !=
            SQLITE_OK ||
        !events_open(&events, transcript)) {
        (void)sqlite3_close(ledger);
        return false;
    }
    while (events_next(&events, &event)) {
        if (strcmp(event.word, "text-in") == 0 && event_field(&event, "body", body, sizeof body)) {
            judge_text(ledger, body, verdict);
        }
    }
    events_close(&events);
    judge_answers(ledger, transcript, verdict);
    bool whole = ask(ledger,
                     "SELECT count(*) FROM pragma_integrity_check WHERE "
                     "integrity_check = 'ok' AND ?1 = ?1 AND ?2 = ?2",
                     "", 0) == 1;
    (void)sqlite3_close(ledger);
    return whole;
}

static bool rage(struct storm *storm, size_t kills)
{
    bool good = calibrate(storm);
    for (size_t i = 0; i < kills && good; i++) {
        good = kill_once(storm);
        /* A look now and then, for whoever waits. */
        if ((i + 1) % 100 == 0) {
            (void)printf("%zu kills ...\n", i + 1);
            (void)fflush(stdout);
        }
    }
    for (int i = 0; i < 12 && good; i++) { /* what still waits goes out */
        good = conductor_advance(storm->house->conductor, ROUND_MS);
    }
    return good;
}

int main(int argc, char **argv)
{
    size_t kills = argc > 1 ? (size_t)strtoul(argv[1], NULL, 10) : 1000;
    uint64_t seed = argc > 2 ? strtoull(argv[2], NULL, 10) : 20270304;
    struct verdict verdict = {0};
    void *state = NULL;
    if (house_setup(&state) != 0) {
        return 1;
    }
    struct storm storm = {.house = state,
                          .random = seed | 1,
                          .meters = {{HOUSE_TOM, "M12", 103000},
                                     {HOUSE_TOM, "TR-9", 41000},
                                     {HOUSE_INES, "M7", 3000},
                                     {HOUSE_BEN, "R2", 104000}}};
    char transcript[256];
    bool raged = rage(&storm, kills);
    if (!raged) {
        (void)fprintf(stderr, "crash-storm: %s\n", conductor_says(storm.house->conductor));
    }
    (void)snprintf(transcript, sizeof transcript, "%s/transcript", folder_path());
    bool whole = judge(&storm, transcript, &verdict);
    (void)printf("seed %" PRIu64 ", %zu kills, %zu of them with the modem's power, at 0 to %" PRId64
                 " us of a round\n",
                 seed, storm.kills, storm.power_cuts, storm.window_us);
    (void)printf("texts in %zu, accepted %zu, lost %zu, counted twice %zu\n", verdict.sent,
                 verdict.kept, verdict.lost, verdict.twice);
    (void)printf("readings lost %zu, counted twice %zu\n", verdict.readings_lost,
                 verdict.readings_twice);
    (void)printf("texts out %zu, repeated %zu, never gone out %zu; ledger %s\n", verdict.answered,
                 verdict.repeated, verdict.unanswered, whole ? "whole" : "NOT WHOLE");
    bool ended = house_teardown(&state) == 0;
    return raged && whole && ended && verdict.lost + verdict.twice == 0 &&
                   verdict.readings_lost + verdict.readings_twice == 0 &&
                   verdict.repeated <= storm.kills
               ? 0
               : 1;
}
