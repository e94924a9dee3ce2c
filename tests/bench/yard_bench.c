/* SPDX-License-Identifier: MIT
 *
 * Does a long history cost? Two yards of a thousand machines, one with ten years of readings (2.5
 * million), one with none. Measured in CPU time, the kernel's share included: how every machine stands,
 * and one text from the modem's octets to the reply that it has sent, with the ledger in files, as the
 * daemon keeps it, and in memory, where no disk hides anything. Printed with the ratio of the long history
 * to the short. Exit status 1 where a text costs the daemon more than DEARER_MOST times as much. */
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>
#include <unistd.h>

#include "daemon/desk/desk.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/services.h"
#include "daemon/yard/yard.h"
#include "daemon/ground/zone.h"
#include "fixtures/standin/tpdu_network.h"

#define MACHINES 1000
#define EVERY_S 126000       /* from one reading to the next */
#define EVERY_HUNDREDTHS 600 /* and what it ran */
#define ROUNDS 20            /* the best of them counts */
#define TEXTS 50             /* a round */
#define LAST_S INT64_C(1800014400)
#define DEARER_MOST 1.2 /* a text, with ten years on record */

static const int histories[2] = {0, 2500}; /* readings of one machine */

struct bench {
    struct settings_plan plan;
    struct settings_kind kind;
    struct settings_person person;
    struct settings_machine machines[MACHINES];
    char names[MACHINES][8];
    struct settings settings;
};

static void must(bool good, const char *what)
{
    if (!good) {
        (void)fprintf(stderr, "yard_bench: %s failed\n", what);
        exit(2);
    }
}

static void settle(struct bench *bench)
{
    bench->plan = (struct settings_plan){.name = "drive",
                                         .title = "Drive oil",
                                         .titles = {"", ""},
                                         .plan = {.first_hundredths = 7500,
                                                  .every_hundredths = 50000,
                                                  .months = 12,
                                                  .notice_hundredths = 2500,
                                                  .notice_days = 14,
                                                  .grace_hundredths = 1000,
                                                  .grace_days = 14}};
    bench->kind = (struct settings_kind){.name = "ridge-60",
                                         .plan_count = 1,
                                         .week_hundredths = 3000,
                                         .most_day_hundredths = 1600,
                                         .meter_limit_hundredths = 9999990};
    bench->person = (struct settings_person){
        .name = "Rosa", .phone = "+12065550120", .role = SETTINGS_ROLE_SHOP, .language = "en"};
    for (int i = 0; i < MACHINES; i++) {
        (void)snprintf(bench->names[i], sizeof bench->names[i], "M%d", i + 1);
        bench->machines[i] = (struct settings_machine){
            .name = bench->names[i], .owner = "", .site = "", .serial = ""};
    }
    bench->settings = (struct settings){.shop = {.name = "Alder Works",
                                                 .number = "",
                                                 .time_zone = "America/Los_Angeles",
                                                 .country = "1",
                                                 .texts_per_hour = 60,
                                                 .texts_per_day = 1000,
                                                 .texts_per_number = 1000},
                                        .modems = {{.name = ""}},
                                        .modem_count = 1,
                                        .plans = &bench->plan,
                                        .plan_count = 1,
                                        .kinds = &bench->kind,
                                        .kind_count = 1,
                                        .people = &bench->person,
                                        .person_count = 1,
                                        .machines = bench->machines,
                                        .machine_count = MACHINES};
}

static void fill_machine(struct ledger *ledger, const char *name, int readings)
{
    struct reading_row row = {0};
    struct service_row service = {.plan = "drive"};
    must(machines_id(ledger, name, &row.machine_id) == LEDGER_OK, "a machine");
    service.machine_id = row.machine_id;
    for (int i = 1; i <= readings; i++) {
        row.meter_hundredths = (int64_t)i * EVERY_HUNDREDTHS;
        row.read_s = row.noted_s = LAST_S - (int64_t)(readings - i) * EVERY_S;
        must(readings_add(ledger, &row) == LEDGER_OK, "a reading");
        if (i % (50000 / EVERY_HUNDREDTHS) == 0 || i == readings - 1) {
            service.meter_hundredths = row.meter_hundredths;
            service.done_s = service.noted_s = row.read_s;
            must(services_add(ledger, &service) == LEDGER_OK, "a service");
        }
    }
}

static struct ledger *open_ledger(const char *path)
{
    char says[LEDGER_SAYS_OCTETS];
    enum ledger_result result;
    struct ledger *ledger = ledger_open(path, LEDGER_WRITE, &result, says);
    must(ledger != NULL, path);
    return ledger;
}

static struct ledger *fill(const struct bench *bench, const char *path, int readings)
{
    struct ledger *ledger = open_ledger(path);
    must(ledger_begin(ledger) == LEDGER_OK, "the ledger");
    for (int i = 0; i < MACHINES; i++) {
        fill_machine(ledger, bench->names[i], readings);
    }
    must(ledger_commit(ledger) == LEDGER_OK, "a commit");
    return ledger;
}

/* So far apart that no cap on texts holds a reply. */
static struct instant text_at(int number)
{
    return (struct instant){.wall_s = LAST_S + 43200 + number * INT64_C(180)};
}

static double cpu_ms(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec * 1e3 + (double)now.tv_nsec / 1e6;
}

static double stand_ms(const struct bench *bench, struct ledger *ledger)
{
    struct yard yard = {.settings = &bench->settings, .ledger = ledger};
    double best = 1e9;
    for (int round = 0; round < ROUNDS; round++) {
        struct yard_standing *standings = NULL;
        size_t count = 0;
        double from = cpu_ms();
        must(yard_stand_all(&yard, LAST_S, &standings, &count) == LEDGER_OK, "the yard");
        double took = cpu_ms() - from;
        must(count == MACHINES, "the count of machines");
        free(standings);
        best = took < best ? took : best;
    }
    return best;
}

static void write_text(const struct bench *bench, int readings, int number, struct tpdu_line *line)
{
    char text[32];
    (void)snprintf(text, sizeof text, "%s %d.%dh", bench->names[number],
                   readings * EVERY_HUNDREDTHS / 100 + 3, number % 10);
    must(tpdu_write_deliver(
             &(struct tpdu_deliver_order){
                 .from = bench->person.phone,
                 .part = {.text = text, .to = strlen(text), .alphabet = TPDU_ALPHABET_GSM7},
                 .sent_at_s = text_at(number).wall_s},
             line) == TPDU_OK,
         text);
}

/* What the modem gave goes in, and the reply out to it, which says that it is sent. */
static void answer_text(struct desk *desk, const char *hex, struct instant now)
{
    struct tpdu tpdu;
    struct part part;
    int64_t next_s = 0;
    enum tpdu_error error = tpdu_from_hex(hex, strlen(hex), &tpdu);
    must(desk_receive(desk, 0, hex, error, &tpdu, now) &&
             desk_next_part(desk, 0, now, &part, &next_s),
         hex);
    desk_part_ended(desk, &(struct part_result){.part_id = part.id, .cause = -1}, now);
}

/* Of a round of texts, each of a machine that no text spoke of before. */
static double text_ms(const struct bench *bench, struct ledger *ledger, int readings, int round)
{
    static struct tpdu_line lines[TEXTS];
    struct desk *desk = desk_new(&bench->settings, ledger);
    must(desk != NULL, "the desk");
    for (int i = 0; i < TEXTS; i++) {
        write_text(bench, readings, round * TEXTS + i, &lines[i]);
    }
    double from = cpu_ms();
    for (int i = 0; i < TEXTS; i++) {
        answer_text(desk, lines[i].hex, text_at(round * TEXTS + i));
    }
    double took = (cpu_ms() - from) / TEXTS;
    desk_free(desk);
    return took;
}

static double print(const char *what, const double ms[2])
{
    printf("%-28s %8.3f ms  %8.3f ms  ratio %.2f", what, ms[0], ms[1], ms[1] / ms[0]);
    return ms[1] / ms[0];
}

/* By turns, so that what else the machine does meets both. */
static double compare_texts(const struct bench *bench, struct ledger *ledgers[2], const char *what)
{
    double best[2] = {1e9, 1e9};
    for (int round = 0; round < ROUNDS; round++) {
        for (int i = 0; i < 2; i++) {
            double took = text_ms(bench, ledgers[i], histories[i], round);
            best[i] = took < best[i] ? took : best[i];
        }
    }
    return print(what, best);
}

static int remove_one(const char *path, const struct stat *facts, int kind, struct FTW *at)
{
    (void)facts;
    (void)kind;
    (void)at;
    return remove(path);
}

int main(void)
{
    static struct bench bench;
    char folder[] = "/var/tmp/yard-bench-XXXXXX";
    struct ledger *in_memory[2];
    struct ledger *on_disk[2];
    double stand[2];
    settle(&bench);
    must(zone_set("America/Los_Angeles"), "the zone");
    must(mkdtemp(folder) != NULL, "a folder");
    for (int i = 0; i < 2; i++) {
        char path[64];
        (void)snprintf(path, sizeof path, "%s/%d.db", folder, histories[i]);
        in_memory[i] = fill(&bench, ":memory:", histories[i]);
        /* Opened anew: what the filling wrote has left the WAL. */
        ledger_close(fill(&bench, path, histories[i]));
        on_disk[i] = open_ledger(path);
        stand[i] = stand_ms(&bench, in_memory[i]);
    }
    printf("%d machines, %d or %d readings each; CPU time\n", MACHINES, histories[0], histories[1]);
    (void)print("how all stand, in memory", stand);
    puts("");
    (void)compare_texts(&bench, in_memory, "one text, in memory");
    puts("");
    double ratio = compare_texts(&bench, on_disk, "one text, on disk");
    printf(" (at most %.2f)\n", DEARER_MOST);
    for (int i = 0; i < 2; i++) {
        ledger_close(in_memory[i]);
        ledger_close(on_disk[i]);
    }
    must(nftw(folder, remove_one, 8, FTW_DEPTH | FTW_PHYS) == 0, "to clear up");
    return ratio > DEARER_MOST ? 1 : 0;
}
