/* SPDX-License-Identifier: MIT
 * crash_storm: the daemon is killed (kill -9) again and again while texts come in and replies go
 * out, and started anew: first at each named step of its work (fixtures/steps/steps.h), then at
 * instants drawn by chance, now and then with the modem's power. At the end the stand-in's
 * transcript is held against the ledger, both ways (fixtures/conductor/verdict.h). What a crash
 * hides may be sent again: one part a kill at most, which is judged kill by kill. With two modems every
 * fourth of the instants has one of them go, and come back when the round is over; a part may then be
 * with each.
 *
 * usage: crash-storm KILLS [SEED [MODEMS]]. Ends with 0 only where the verdict is good, every step was
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
#define DEATH_EVERY                                                                                \
    4 /* of two modems one goes, and of these every other time the daemon is killed too */
#define STEP_EVERY 50        /* of so many kills by chance, one at each step; and one before all */
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
    size_t modems;
    uint64_t random;
    struct meter meters[4];
    int64_t shortest_us, window_us; /* how long a round's texts take when nobody is killed */
    size_t kills, power_cuts, deaths;
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
        conductor_choose(storm->house->conductor, next_random(storm) % storm->modems);
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

static void wait_by_chance(struct storm *storm)
{
    int64_t wait_us = (int64_t)(next_random(storm) % (uint64_t)storm->window_us);
    struct timespec wait = {.tv_sec = wait_us / 1000000, .tv_nsec = wait_us % 1000000 * 1000};
    (void)nanosleep(&wait, NULL);
}

/* The daemon, now and then with all modems. */
static bool kill_now(struct storm *storm, bool cut)
{
    struct conductor *c = storm->house->conductor;
    bool good = conductor_kill_daemon(c);
    for (size_t i = 0; i < storm->modems && cut && good; i++) {
        conductor_choose(c, i);
        good = conductor_kill_standin(c) && conductor_start_standin(c);
    }
    storm->power_cuts += cut;
    storm->kills++;
    storm->hang_ups++;
    return good && conductor_start_daemon(c);
}

static bool kill_by_chance(struct storm *storm)
{
    bool cut = next_random(storm) % POWER_CUT_EVERY == 0;
    if (!send_texts(storm)) {
        return false;
    }
    wait_by_chance(storm);
    return kill_now(storm, cut) && conductor_advance(storm->house->conductor, ROUND_MS);
}

/* A modem goes with whatever it has in hand; the other has to do until it is back. */
static bool a_modem_dies_by_chance(struct storm *storm)
{
    struct conductor *c = storm->house->conductor;
    size_t modem = next_random(storm) % storm->modems;
    bool daemon_too = next_random(storm) % 2 == 0;
    if (!send_texts(storm)) {
        return false;
    }
    wait_by_chance(storm);
    conductor_choose(c, modem);
    bool good = conductor_hurry(c, "unplug");
    storm->deaths++;
    if (daemon_too) {
        wait_by_chance(storm);
        good = good && kill_now(storm, false);
    }
    good = good && conductor_advance(c, ROUND_MS);
    conductor_choose(c, modem);
    return good && conductor_say(c, "replug") && conductor_advance(c, ROUND_MS);
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
    bool good = besiege(storm, kills / STEP_EVERY + (storm->modems == 1)) && calibrate(storm);
    for (size_t i = 0; i < kills && good; i++) {
        good = storm->modems > 1 && i % DEATH_EVERY == 0 ? a_modem_dies_by_chance(storm)
                                                         : kill_by_chance(storm);
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

static bool note_part_out(struct verdict_book *book, int modem, const struct event *event,
                          int64_t crash)
{
    char to[64], body[EVENTS_LINE_OCTETS], part[16], reference[16];
    return event_field(event, "to", to, sizeof to) &&
           event_field(event, "body", body, sizeof body) &&
           event_field(event, "part", part, sizeof part) &&
           event_field(event, "ref", reference, sizeof reference) &&
           verdict_part_out(book, modem, to, body, atoi(part), atoi(reference), crash);
}

/* What one modem saw. */
struct transcript {
    struct events events;
    struct event next;
    bool more;
    int64_t crash;
};

/* Every hang-up of the host is a crash, and that the modem went: what goes out until the next is put down to
 * it. */
static bool note_next(struct verdict_book *book, int modem, struct transcript *transcript)
{
    const struct event *event = &transcript->next;
    bool good = true;
    if (strcmp(event->word, "text-in") == 0) {
        good = note_text_in(book, event);
    } else if (strcmp(event->word, "part-out") == 0) {
        good = note_part_out(book, modem, event, transcript->crash);
    }
    transcript->crash +=
        strcmp(event->word, "hung-up") == 0 || strcmp(event->word, "unplugged") == 0;
    transcript->more = events_next(&transcript->events, &transcript->next);
    return good;
}

/* All that the modems saw, in the order of time. */
static bool read_transcripts(struct verdict_book *book, size_t modems)
{
    static struct transcript all[CONDUCTOR_MODEMS_MAX];
    static const char *const names[] = {"transcript", "transcript-2"};
    bool good = true, more = true;
    for (size_t i = 0; i < modems; i++) {
        char path[256];
        (void)snprintf(path, sizeof path, "%s/%s", folder_path(), names[i]);
        if (!events_open(&all[i].events, path)) {
            return false;
        }
        all[i].more = events_next(&all[i].events, &all[i].next);
    }
    while (good && more) {
        size_t first = 0;
        for (size_t i = 1; i < modems; i++) {
            bool earlier = all[i].next.mono_ms < all[first].next.mono_ms;
            first = all[i].more && (!all[first].more || earlier) ? i : first;
        }
        more = all[first].more;
        good = !more || note_next(book, (int)first, &all[first]);
    }
    for (size_t i = 0; i < modems; i++) {
        events_close(&all[i].events);
    }
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
            if (siege->kills > 0) {
                (void)printf("%-42s %5zu %8" PRId64 "\n", name, siege->kills,
                             verdict_repeated(book, siege->first, siege->last));
            }
        }
    }
}

static void tell(const struct storm *storm, uint64_t seed, const struct verdict *verdict)
{
    (void)printf(
        "seed %" PRIu64 ", %zu kills by chance, %zu of them with the modem's power, "
        "spread over %" PRId64 " us (the longest of %d rounds; the shortest %" PRId64 " us)\n",
        seed, storm->kills, storm->power_cuts, storm->window_us, WINDOW_ROUNDS, storm->shortest_us);
    if (storm->modems > 1) {
        (void)printf("%zu modems, of which one went %zu times\n", storm->modems, storm->deaths);
    }
    (void)printf("texts in %" PRId64 ", accepted %" PRId64 ", lost %" PRId64
                 ", counted twice %" PRId64 ", of nobody's sending %" PRId64 "\n",
                 verdict->texts, verdict->accepted, verdict->lost, verdict->twice, verdict->unsent);
    (void)printf("readings %" PRId64 ", lost %" PRId64 ", counted twice %" PRId64
                 ", of no text %" PRId64 "\n",
                 verdict->readings, verdict->readings_lost, verdict->readings_twice,
                 verdict->unsaid);
    (void)printf("parts out %" PRId64 ", repeated %" PRId64 ", at most %" PRId64
                 " a kill%s, %" PRId64 " of them unmarked\n",
                 verdict->parts, verdict->repeated, verdict->most_a_crash,
                 storm->modems > 1 ? " or death and modem" : "", verdict->unmarked);
    (void)printf("called sent but never taken %" PRId64 ", taken but never written %" PRId64
                 ", never gone out %" PRId64 "; ledger %s\n",
                 verdict->untaken, verdict->unwritten, verdict->left,
                 verdict->whole ? "whole" : "NOT WHOLE");
}

static bool judge(const struct storm *storm, uint64_t seed)
{
    struct verdict verdict = {0};
    struct verdict_book *book = verdict_open();
    bool judged = book != NULL && read_transcripts(book, storm->modems) &&
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
    size_t modems = argc > 3 && strcmp(argv[3], "2") == 0 ? 2 : 1;
    void *state = NULL;
    if ((modems > 1 ? house_setup_two(&state) : house_setup(&state)) != 0) {
        return 1;
    }
    struct storm storm = {.house = state,
                          .modems = modems,
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
