/* SPDX-License-Identifier: MIT
 * crash_storm: the daemon is killed (kill -9) again and again while texts come in and replies go
 * out, and started anew: first at each named step of its work (fixtures/steps/steps.h), then at
 * instants drawn by chance, now and then with the modem's power. At the end the stand-in's
 * transcript is held against the ledger, both ways (fixtures/conductor/verdict.h). What a crash
 * hides may be sent again: one part a kill at most, which is judged kill by kill.
 *
 * usage: crash-storm KILLS [SEED]. Ends with 0 only where the verdict is good, every step was
 * reached and all went out in the end. The instants depend on the machine, so the seed repeats the
 * load, not the moment. */
#include <inttypes.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "fixtures/conductor/folder.h"
#include "fixtures/conductor/house.h"
#include "fixtures/conductor/process.h"
#include "fixtures/conductor/verdict.h"
#include "fixtures/steps/steps.h"

#define ROUND_MS (2 * 60 * 60 * 1000) /* between two kills: caps and allowances have room */
#define STEP_HUNDREDTHS 50            /* what a machine runs from one reading to the next */
#define TEXTS_A_ROUND 3
#define WINDOW_ROUNDS 9
#define POWER_CUT_EVERY 10
#define STEP_EVERY 50        /* of so many kills by chance, one at each step */
#define ROUNDS_A_STEP 100    /* until a step is reached: a checkpoint is rare */
#define WRITES_MOST 12       /* a step that is one of many writes falls on any of the first */
#define LAST_ROUNDS (5 * 12) /* five days: what waits for the shop's hours goes out too */

/* Who reads which meter, and where it stands. */
struct meter {
    const char *phone, *machine;
    int64_t hundredths;
};

/* The kills at one step, and which of all hang-ups they were. */
struct siege {
    size_t kills;
    int64_t first, last;
};

struct storm {
    struct house *house;
    uint64_t random;
    struct meter meters[4];
    int64_t shortest_us, window_us; /* how long a round's texts take when nobody is killed */
    size_t kills, power_cuts;
    int64_t hang_ups;                   /* crashes, as the transcript counts them */
    struct siege sieges[2][STEP_COUNT]; /* [1]: while it is asked to end */
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

/* ---- kills by chance */

/* The window is what the longest of some undisturbed rounds takes: kills fall anywhere in it. */
static bool calibrate(struct storm *storm)
{
    struct conductor *c = storm->house->conductor;
    bool good = true;
    for (int i = 0; i < WINDOW_ROUNDS && good; i++) {
        int64_t begun_us = real_us();
        good = send_texts(storm) && conductor_settle(c);
        int64_t took_us = real_us() - begun_us;
        storm->shortest_us = i == 0 || took_us < storm->shortest_us ? took_us : storm->shortest_us;
        storm->window_us = took_us > storm->window_us ? took_us : storm->window_us;
        good = good && conductor_advance(c, ROUND_MS);
    }
    return good;
}

static bool kill_by_chance(struct storm *storm)
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
    storm->hang_ups++;
    return good && conductor_start_daemon(c) && conductor_advance(c, ROUND_MS);
}

/* ---- kills at a step */

/* The daemon that starts next is killed there. */
static bool choose_step(enum step step, uint64_t at)
{
    char library[256], number[24];
    process_path("steps.so", library, sizeof library);
    (void)snprintf(number, sizeof number, "%" PRIu64, at);
    return setenv("LD_PRELOAD", library, 1) == 0 && setenv(STEPS_NAME, step_names[step], 1) == 0 &&
           setenv(STEPS_AT, number, 1) == 0 &&
           setenv("ASAN_OPTIONS", "verify_asan_link_order=0", 1) == 0;
}

static void choose_none(void)
{
    (void)unsetenv("LD_PRELOAD");
    (void)unsetenv(STEPS_NAME);
    (void)unsetenv(STEPS_AT);
    (void)unsetenv("ASAN_OPTIONS");
}

static uint64_t which_time(struct storm *storm, enum step step)
{
    bool writes = step == STEP_TEXT_HALF_WRITTEN || step == STEP_CHECKPOINT_HALF_WRITTEN;
    bool rare = step >= STEP_CHECKPOINT_BEGINS && !writes;
    return rare ? 1 : 1 + next_random(storm) % (writes ? WRITES_MOST : TEXTS_A_ROUND);
}

/* Round after round of texts until the daemon has come to the step. */
static bool work_until_death(struct storm *storm)
{
    struct conductor *c = storm->house->conductor;
    for (int i = 0; i < ROUNDS_A_STEP; i++) {
        if (!send_texts(storm)) {
            return false;
        }
        if (conductor_await_death(c, ROUND_MS)) {
            return true;
        }
    }
    return false;
}

/* Texts, and then asked to end: its last work is a checkpoint, unless one came before. */
static bool end_until_death(struct storm *storm)
{
    struct conductor *c = storm->house->conductor;
    return send_texts(storm) &&
           (conductor_await_death(c, ROUND_MS) || conductor_end_daemon(c) == 128 + SIGKILL);
}

static bool kill_at_step(struct storm *storm, bool ending, enum step step)
{
    struct conductor *c = storm->house->conductor;
    struct siege *siege = &storm->sieges[ending][step];
    bool good = choose_step(step, which_time(storm, step)) && conductor_kill_daemon(c);
    storm->hang_ups++; /* that of one at rest */
    conductor_let_die(c, true);
    good = good && conductor_start_daemon(c) &&
           (ending ? end_until_death(storm) : work_until_death(storm));
    conductor_let_die(c, false);
    choose_none();
    if (!good) {
        (void)fprintf(stderr, "crash-storm: not reached: %s\n", step_names[step]);
        return false;
    }
    storm->hang_ups++;
    siege->first = siege->kills == 0 ? storm->hang_ups : siege->first;
    siege->last = storm->hang_ups;
    siege->kills++;
    return conductor_start_daemon(c) && conductor_advance(c, ROUND_MS);
}

static bool besiege(struct storm *storm, size_t times)
{
    bool good = true;
    for (int ending = 0; ending < 2; ending++) {
        for (int step = ending ? STEP_CHECKPOINT_BEGINS : 0; step < STEP_COUNT; step++) {
            for (size_t i = 0; i < times && good; i++) {
                good = kill_at_step(storm, ending, (enum step)step);
            }
        }
    }
    return good;
}

static bool rage(struct storm *storm, size_t kills)
{
    bool good = besiege(storm, kills / STEP_EVERY + 1) && calibrate(storm);
    for (size_t i = 0; i < kills && good; i++) {
        good = kill_by_chance(storm);
        /* A look now and then, for whoever waits. */
        if ((i + 1) % 100 == 0) {
            (void)printf("%zu kills ...\n", i + 1);
            (void)fflush(stdout);
        }
    }
    for (int i = 0; i < LAST_ROUNDS && good; i++) { /* what still waits goes out */
        good = conductor_advance(storm->house->conductor, ROUND_MS);
    }
    return good;
}

/* ---- the judgement */

static bool note_text_in(struct verdict_book *book, const struct event *event)
{
    char from[64], body[EVENTS_LINE_OCTETS], machine[32] = "";
    long long whole = 0, part = 0;
    if (!event_field(event, "from", from, sizeof from) ||
        !event_field(event, "body", body, sizeof body) ||
        sscanf(body, "%31s %lld.%lldh", machine, &whole, &part) != 3) {
        return false;
    }
    return verdict_text_in(book, from, body, machine, whole * 100 + part);
}

static bool note_part_out(struct verdict_book *book, const struct event *event, int64_t crash)
{
    char to[64], body[EVENTS_LINE_OCTETS], part[16], reference[16];
    return event_field(event, "to", to, sizeof to) &&
           event_field(event, "body", body, sizeof body) &&
           event_field(event, "part", part, sizeof part) &&
           event_field(event, "ref", reference, sizeof reference) &&
           verdict_part_out(book, to, body, atoi(part), atoi(reference), crash);
}

/* Every hang-up is a crash: what goes out until the next one is put down to it. */
static bool read_transcript(struct verdict_book *book)
{
    static struct event event;
    static struct events events;
    char path[256];
    bool good = true;
    int64_t crash = 0;
    (void)snprintf(path, sizeof path, "%s/transcript", folder_path());
    if (!events_open(&events, path)) {
        return false;
    }
    while (good && events_next(&events, &event)) {
        if (strcmp(event.word, "text-in") == 0) {
            good = note_text_in(book, &event);
        } else if (strcmp(event.word, "part-out") == 0) {
            good = note_part_out(book, &event, crash);
        }
        crash += strcmp(event.word, "hung-up") == 0;
    }
    events_close(&events);
    return good;
}

static void tell_steps(const struct storm *storm, struct verdict_book *book)
{
    (void)printf("%-42s %5s %8s\n", "killed at", "kills", "repeated");
    for (int ending = 0; ending < 2; ending++) {
        for (int step = ending ? STEP_CHECKPOINT_BEGINS : 0; step < STEP_COUNT; step++) {
            const struct siege *siege = &storm->sieges[ending][step];
            char name[64];
            (void)snprintf(name, sizeof name, "%s%s", ending ? "at the end: " : "",
                           step_names[step]);
            (void)printf("%-42s %5zu %8" PRId64 "\n", name, siege->kills,
                         verdict_repeated(book, siege->first, siege->last));
        }
    }
}

static void tell(const struct storm *storm, uint64_t seed, const struct verdict *verdict)
{
    (void)printf(
        "seed %" PRIu64 ", %zu kills by chance, %zu of them with the modem's power, "
        "spread over %" PRId64 " us (the longest of %d rounds; the shortest %" PRId64 " us)\n",
        seed, storm->kills, storm->power_cuts, storm->window_us, WINDOW_ROUNDS, storm->shortest_us);
    (void)printf("texts in %" PRId64 ", accepted %" PRId64 ", lost %" PRId64
                 ", counted twice %" PRId64 ", of nobody's sending %" PRId64 "\n",
                 verdict->texts, verdict->accepted, verdict->lost, verdict->twice, verdict->unsent);
    (void)printf("readings %" PRId64 ", lost %" PRId64 ", counted twice %" PRId64
                 ", of no text %" PRId64 "\n",
                 verdict->readings, verdict->readings_lost, verdict->readings_twice,
                 verdict->unsaid);
    (void)printf("parts out %" PRId64 ", repeated %" PRId64 ", at most %" PRId64 " a kill, %" PRId64
                 " of them unmarked\n",
                 verdict->parts, verdict->repeated, verdict->most_a_crash, verdict->unmarked);
    (void)printf("called sent but never taken %" PRId64 ", taken but never written %" PRId64
                 ", never gone out %" PRId64 "; ledger %s\n",
                 verdict->untaken, verdict->unwritten, verdict->left,
                 verdict->whole ? "whole" : "NOT WHOLE");
}

static bool judge(const struct storm *storm, uint64_t seed)
{
    struct verdict verdict = {0};
    struct verdict_book *book = verdict_open();
    bool judged = book != NULL && read_transcript(book) &&
                  verdict_judge(book, storm->house->yard.ledger, &verdict);
    if (judged) {
        tell_steps(storm, book);
        tell(storm, seed, &verdict);
    }
    verdict_close(book);
    return judged && verdict_good(&verdict) && verdict.left == 0;
}

int main(int argc, char **argv)
{
    size_t kills = argc > 1 ? (size_t)strtoul(argv[1], NULL, 10) : 1000;
    uint64_t seed = argc > 2 ? strtoull(argv[2], NULL, 10) : 20270304;
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
    bool raged = rage(&storm, kills);
    if (!raged) {
        (void)fprintf(stderr, "crash-storm: %s\n", conductor_says(storm.house->conductor));
    }
    bool good = judge(&storm, seed);
    if (!raged || !good) {
        folder_keep();
    }
    bool ended = house_teardown(&state) == 0;
    return raged && good && ended ? 0 : 1;
}
