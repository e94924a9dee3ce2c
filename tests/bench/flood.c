/* SPDX-License-Identifier: MIT
 * flood: far more texts than a shop ever gets, through the real daemon: half of them from
 * strangers, the rest from members who chatter, who send readings, and whose phones answer by
 * themselves. In the midst of it one reading brings a machine near its service, and the shop has to
 * hear of it at once.
 *
 * Time is stepped: TEXTS_A_MINUTE come in each minute of it, twice what one line of a network
 * delivers at most (a text in three seconds; common practice, no source). Judged by the stand-in's
 * transcript against the ledger, and by what the system says of the process.
 *
 * usage: flood [TEXTS]. Ends with 0 only where every bound held. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "fixtures/conductor/folder.h"
#include "fixtures/conductor/house.h"
#include "tests/bench/flood_verdict.h"
#include "tests/bench/flood_watch.h"

#define MEMORY_FOLDER "/dev/shm"
#define MINUTE_MS (60 * 1000)
#define TEXTS_A_MINUTE 40
#define OF_TEN_STRANGERS 5
#define MACHINES 5
#define MEMBERS 4
#define CAUSE "R2 1070h" /* its first reading: 5 h before its service at 575 + 500 */
#define QUIET_HOURS 13   /* afterwards: replies that could not go expire after 12 */

/* Who reads which meter, and where it stands: far from a service. R2 is read once, midway. */
struct meter {
    const char *phone, *machine;
    int64_t hundredths;
};

struct flood {
    struct house *house;
    struct flood_watch watch;
    struct flood_facts facts;
    struct meter meters[MACHINES];
    size_t readings;
};

static const char *const members[MEMBERS] = {HOUSE_TOM, HOUSE_INES, HOUSE_BEN, HOUSE_ROSA};

static bool say(struct flood *flood, const char *from, const char *body)
{
    char line[1024];
    (void)snprintf(line, sizeof line, "text %s \"%s\"", from, body);
    return conductor_hurry(flood->house->conductor, line);
}

/* Forty numbers, and a sender that is a name; now and then a text of two parts. */
static bool stranger(struct flood *flood, size_t i)
{
    char from[32] = "FREEPRIZE", body[256];
    if (i % 7 != 0) {
        (void)snprintf(from, sizeof from, "+120655501%02zu", 50 + i % 40);
    }
    (void)snprintf(body, sizeof body, "Lucky number %zu: claim today, M12 1340h, reply YES%s", i,
                   i % 20 == 0
                       ? ". This offer ends soon and we will write again and again until you "
                         "answer, whatever it may cost the two of us, day after day."
                       : "");
    return say(flood, from, body);
}

static bool reading(struct flood *flood)
{
    struct meter *meter = &flood->meters[flood->readings++ % MACHINES];
    char body[64];
    meter->hundredths++;
    (void)snprintf(body, sizeof body, "%s %" PRId64 ".%02" PRId64 "h", meter->machine,
                   meter->hundredths / 100, meter->hundredths % 100);
    return say(flood, meter->phone, body);
}

/* A phone answers what it was sent; else its owner's is one of those that answer everybody. */
static bool auto_reply(struct flood *flood, size_t member)
{
    bool owes = flood->watch.owes[member];
    flood->watch.owes[member] = false;
    return say(flood, members[member],
               owes ? "I am driving and will answer later." : "This phone is not watched.");
}

static bool one_text(struct flood *flood, size_t i)
{
    size_t member = i / 10 % MEMBERS;
    char body[64];
    switch (i % 10) {
    case OF_TEN_STRANGERS:
        (void)snprintf(body, sizeof body, "where is truck %zu", i);
        return say(flood, members[member], body);
    case OF_TEN_STRANGERS + 1: /* chatter that is understood */
        return say(flood, members[member], "M12?");
    case OF_TEN_STRANGERS + 2:
    case OF_TEN_STRANGERS + 3:
        return reading(flood);
    case OF_TEN_STRANGERS + 4:
        return auto_reply(flood, member);
    default:
        return stranger(flood, i);
    }
}

static int64_t size_of(const struct flood *flood, const char *suffix)
{
    char path[YARD_PATH_OCTETS + 8];
    struct stat found;
    (void)snprintf(path, sizeof path, "%s%s", flood->house->yard.ledger, suffix);
    return stat(path, &found) == 0 ? (int64_t)found.st_size : 0;
}

static void look(struct flood *flood)
{
    struct flood_facts *facts = &flood->facts;
    int64_t wal = size_of(flood, "-wal");
    facts->wal_most = wal > facts->wal_most ? wal : facts->wal_most;
}

/* How many replies stood in the queue when the alert overtook them. */
static void look_at_queue(struct flood *flood)
{
    if (flood->watch.told_ms >= 0 && flood->facts.overtaken < 0) {
        flood->facts.overtaken =
            house_ask(flood->house, "SELECT count(*) FROM parts_out WHERE state = 'waiting' AND "
                                    "urgency > 0");
    }
}

static bool pour(struct flood *flood, size_t texts)
{
    struct conductor *c = flood->house->conductor;
    bool good = true;
    for (size_t i = 0; i < texts && good;) {
        for (size_t end = i + TEXTS_A_MINUTE; i < end && i < texts && good; i++) {
            good = (i != texts / 2 || say(flood, HOUSE_BEN, CAUSE)) && one_text(flood, i);
        }
        good = good && conductor_advance(c, MINUTE_MS);
        look(flood);
        look_at_queue(flood);
        if (i % 2000 == 0) { /* a look now and then, for whoever waits */
            (void)printf("%zu texts ...\n", i);
            (void)fflush(stdout);
        }
    }
    flood->facts.waiting_most =
        house_ask(flood->house, "SELECT count(*) FROM parts_out WHERE state = 'waiting'");
    for (int i = 0; i < QUIET_HOURS && good; i++) {
        good = conductor_advance(c, 60 * MINUTE_MS);
        look(flood);
    }
    return good;
}

static void set_out(struct flood *flood)
{
    static const struct meter meters[MACHINES] = {{HOUSE_TOM, "M12", 103000},
                                                  {HOUSE_TOM, "TR-9", 41000},
                                                  {HOUSE_INES, "M7", 3000},
                                                  {HOUSE_INES, "TR-4", 3000},
                                                  {HOUSE_BEN, "M14", 3000}};
    memcpy(flood->meters, meters, sizeof meters);
    flood_watch_init(&flood->watch);
    memcpy(flood->watch.phones, members, sizeof members);
    flood->watch.shop = HOUSE_ROSA;
    (void)snprintf(flood->watch.cause, sizeof flood->watch.cause, CAUSE);
    (void)snprintf(flood->watch.alert, sizeof flood->watch.alert, "R2");
    flood->facts.overtaken = -1;
}

static bool run(struct flood *flood, size_t texts)
{
    struct conductor *c = flood->house->conductor;
    conductor_on_event(c, flood_watch_event, &flood->watch);
    flood->facts.ledger_before = size_of(flood, "");
    flood->facts.idle_kib = conductor_daemon_kib(c, "VmRSS");
    bool good = pour(flood, texts);
    flood->facts.memory_kib = conductor_daemon_kib(c, "VmHWM");
    flood->facts.readings_sent = flood->readings + 1; /* and the cause */
    flood->facts.texts_per_hour = (size_t)flood->house->yard.settings->shop.texts_per_hour;
    flood->facts.waiting_cap =
        flood->house->yard.settings->shop.texts_per_number * (int64_t)MEMBERS;
    good = good && conductor_end_daemon(c) == 0; /* the WAL goes into the file */
    flood->facts.ledger_after = size_of(flood, "") + size_of(flood, "-wal");
    if (!good) {
        (void)fprintf(stderr, "flood: %s\n", conductor_says(c));
    }
    return good;
}

static const char *place(void)
{
    if (access(MEMORY_FOLDER, W_OK) == 0) {
        return MEMORY_FOLDER;
    }
    (void)fprintf(stderr,
                  "flood: no memory file system at " MEMORY_FOLDER ": the ledger is put under "
                  "/tmp, which takes longer and wears a memory card\n");
    return "/tmp";
}

int main(int argc, char **argv)
{
    static struct flood flood;
    size_t texts = argc > 1 ? (size_t)strtoul(argv[1], NULL, 10) : 20000;
    void *state = NULL;
    if (house_setup_in(place(), &state) != 0) {
        return 1;
    }
    flood.house = state;
    set_out(&flood);
    bool ran = run(&flood, texts);
    bool held = flood_verdict(&flood.facts, &flood.watch, flood.house->yard.ledger, folder_path());
    bool ended = house_teardown(&state) == 0;
    return ran && held && ended ? 0 : 1;
}
