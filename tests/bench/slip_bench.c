/* SPDX-License-Identifier: MIT
 *
 * What becomes of slips of the hand? Invented machines text their hours for a season, two texts of
 * a hundred with a slip in the figure and one of five hundred with the name of the crew's other
 * machine; all go through the desk, word for word, and its questions are answered by somebody who
 * looks at the meter once more.
 *
 * Printed: how many slips lay outside of what the clock allows and how many of those were caught;
 * how many slipped through, and by how much; for how many of the caught ones something was offered,
 * and how often that was right; how often a right figure was asked about.
 *
 * Usage: slip_bench [seed [machines]]. Exit status 1 where less than 60 of a hundred caught slips get
 * an offer, less than 90 of a hundred offers are right, or more than one right figure in two
 * hundred is asked about. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/desk/desk.h"
#include "daemon/ground/zone.h"
#include "parsers/hours.h"
#include "tests/bench/season.h"

#define CONFIG "fixtures/texts/desk.conf"
#define MACHINES 80
#define MONDAY 20878 /* 2027-03-01, a Monday */
#define OTHER_MACHINE 0.002
#define SLACK_HUNDREDTHS 20 /* for rounding, as the desk has it */

struct tally {
    int texts, right, right_asked;
    int slips, outside, outside_caught, caught, offered, offered_right;
    int through, through_found; /* found: put right by a later text */
    int64_t sizes[4096];        /* of those that slipped through, hundredths */
};

struct bench {
    struct settings *settings;
    struct ledger *ledger;
    struct desk *desk;
    struct season_random random;
    struct tally *tally;
    int32_t tom, rosa;
    bool has_last; /* what is on record, and whether that is what the meter showed */
    bool last_wrong;
    int64_t last_hundredths, last_s;
    struct desk_answer answer;
};

static void say(struct bench *bench, int32_t person, int64_t at_s, const char *text)
{
    struct instant now = {.mono_ms = at_s * 1000, .wall_s = at_s};
    if (desk_say(bench->desk, person, text, now, &bench->answer) != LEDGER_OK) {
        (void)fprintf(stderr, "slip_bench: %s\n", ledger_says(bench->ledger));
        exit(1);
    }
}

static void say_figure(struct bench *bench, int64_t at_s, const char *machine, int64_t hundredths)
{
    char hours[HOURS_TEXT_OCTETS];
    char text[64];
    (void)hours_write(hundredths, hours, sizeof hours);
    (void)snprintf(text, sizeof text, "%s %s", machine, hours);
    say(bench, bench->tom, at_s, text);
}

/* What the clock allows since the last reading: of each day the hours between, sixteen at most. */
static int64_t allowed(const struct bench *bench, int64_t at_s)
{
    int64_t most = bench->settings->kinds[bench->settings->machines[0].kind].most_day_hundredths;
    int64_t sum = SLACK_HUNDREDTHS;
    for (int64_t from_s = bench->last_s; from_s < at_s;) {
        int64_t next_s = zone_unix(zone_civil(from_s).day + 1, 0);
        int64_t until_s = next_s < at_s ? next_s : at_s;
        int64_t hours = (until_s - from_s) / 36;
        sum += hours < most ? hours : most;
        from_s = until_s;
    }
    return sum;
}

static bool is_outside(const struct bench *bench, int64_t at_s, int64_t hundredths)
{
    return bench->has_last && !bench->last_wrong &&
           (hundredths < bench->last_hundredths ||
            hundredths > bench->last_hundredths + allowed(bench, at_s));
}

static enum texts_outcome outcome_of(const struct bench *bench)
{
    return bench->answer.statement_count > 0 ? bench->answer.statements[0].outcome
                                             : TEXTS_OUTCOME_REFUSED;
}

static void on_record(struct bench *bench, int64_t at_s, int64_t hundredths, bool wrong)
{
    bench->tally->through_found += bench->last_wrong && !wrong;
    bench->has_last = true;
    bench->last_wrong = wrong;
    bench->last_hundredths = hundredths;
    bench->last_s = at_s;
}

/* The right figure, until it is on record: YES where it is offered, else the shop is asked. */
static void insist(struct bench *bench, int64_t at_s, int64_t hundredths)
{
    for (int i = 0; i < 3; i++) {
        const struct desk_statement *row = &bench->answer.statements[0];
        if (outcome_of(bench) == TEXTS_OUTCOME_DONE) {
            break;
        }
        if (outcome_of(bench) == TEXTS_OUTCOME_ASKED) {
            bool meant = row->suggests_machine == NULL && row->suggests_hundredths == hundredths;
            say(bench, bench->tom, at_s, meant ? "YES" : "NO");
            if (meant) {
                break;
            }
        }
        say_figure(bench, at_s, "M12", hundredths);
        if (outcome_of(bench) == TEXTS_OUTCOME_REFUSED) {
            say(bench, bench->rosa, at_s, "YES");
        }
    }
    on_record(bench, at_s, hundredths, false);
}

static void right_figure(struct bench *bench, int64_t at_s, int64_t hundredths)
{
    struct tally *tally = bench->tally;
    bool sound = !bench->last_wrong;
    say_figure(bench, at_s, "M12", hundredths);
    tally->right++;
    tally->right_asked += sound && outcome_of(bench) != TEXTS_OUTCOME_DONE;
    insist(bench, at_s, hundredths);
}

static void note_through(struct tally *tally, int64_t size)
{
    if (tally->through < (int)(sizeof tally->sizes / sizeof tally->sizes[0])) {
        tally->sizes[tally->through++] = size < 0 ? -size : size;
    }
}

static void slip(struct bench *bench, int64_t at_s, const char *machine, int64_t typed,
                 int64_t read)
{
    struct tally *tally = bench->tally;
    bool named = strcmp(machine, "M12") == 0;
    bool outside = named && is_outside(bench, at_s, typed);
    say_figure(bench, at_s, machine, typed);
    const struct desk_statement *row = &bench->answer.statements[0];
    bool caught = outcome_of(bench) != TEXTS_OUTCOME_DONE;
    tally->slips++;
    tally->outside += outside;
    tally->outside_caught += outside && caught;
    tally->caught += caught;
    if (!caught) {
        note_through(tally, typed - read);
        if (named) {
            on_record(bench, at_s, typed, true);
        }
        return;
    }
    if (row->has_suggests) {
        const char *meant = row->suggests_machine != NULL ? row->suggests_machine : machine;
        bool right = strcmp(meant, "M12") == 0 && row->suggests_hundredths == read;
        tally->offered++;
        tally->offered_right += right;
        say(bench, bench->tom, at_s, right ? "YES" : "NO");
        if (right) {
            on_record(bench, at_s, read, false);
            return;
        }
    }
    say_figure(bench, at_s, "M12", read);
    insist(bench, at_s, read);
}

/* Tom's other machine stands far off, and is read now and then. */
static void other_machine(struct bench *bench, int64_t at_s, int day)
{
    if (day % 7 == 0) {
        say_figure(bench, at_s - 60, "M14", 712300 + (int64_t)day * 400);
    }
}

static void play(struct bench *bench, int pattern)
{
    static struct season season;
    static struct season_weather weather;
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS];
    int other_day = -1;
    bench->ledger = ledger_open(":memory:", LEDGER_WRITE, &result, says);
    bench->desk = bench->ledger != NULL ? desk_new(bench->settings, bench->ledger) : NULL;
    if (bench->desk == NULL) {
        (void)fprintf(stderr, "slip_bench: no desk\n");
        exit(1);
    }
    bench->has_last = bench->last_wrong = false;
    season_invent_weather(&bench->random, SEASON_DAYS, &weather);
    season_invent(&bench->random, pattern, &weather, &season);
    for (size_t i = 0; i < season.text_count; i++) {
        const struct season_text *text = &season.texts[i];
        int64_t at_s = zone_unix(MONDAY + text->day, text->minute * 60);
        bench->tally->texts++;
        if (text->day != other_day) {
            other_day = text->day;
            other_machine(bench, at_s, text->day);
        }
        if (text->typed_hundredths != text->read_hundredths) {
            slip(bench, at_s, "M12", text->typed_hundredths, text->read_hundredths);
        } else if (season_uniform(&bench->random) < OTHER_MACHINE) {
            slip(bench, at_s, "M14", text->read_hundredths, text->read_hundredths);
        } else {
            right_figure(bench, at_s, text->read_hundredths);
        }
    }
    desk_free(bench->desk);
    ledger_close(bench->ledger);
}

static int by_size(const void *one, const void *other)
{
    int64_t left = *(const int64_t *)one;
    int64_t right = *(const int64_t *)other;
    return (left > right) - (left < right);
}

static double share(int part, int whole)
{
    return whole > 0 ? 100.0 * part / whole : 100.0;
}

static int report(struct tally *tally)
{
    double offered = share(tally->offered, tally->caught);
    double right = share(tally->offered_right, tally->offered);
    double asked = tally->right > 0 ? 100.0 * tally->right_asked / tally->right : 0;
    int middle = tally->through / 2;
    qsort(tally->sizes, (size_t)tally->through, sizeof tally->sizes[0], by_size);
    printf("texts                              %7d\n", tally->texts);
    printf("slips                              %7d\n", tally->slips);
    printf("  outside of what the clock allows %7d, caught %.1f %%\n", tally->outside,
           share(tally->outside_caught, tally->outside));
    printf("  caught in all                    %7d\n", tally->caught);
    printf("    something offered              %7d, %.1f %% (at least 60)\n", tally->offered,
           offered);
    printf("    the offer right                %7d, %.1f %% (at least 90)\n", tally->offered_right,
           right);
    printf("  slipped through                  %7d, put right by a later text %d\n", tally->through,
           tally->through_found);
    if (tally->through > 0) {
        printf("    their size: median %.1f h, largest %.1f h\n",
               (double)tally->sizes[middle] / 100, (double)tally->sizes[tally->through - 1] / 100);
    }
    printf("right figures                      %7d, asked about %d, %.2f %% (under 0.5)\n",
           tally->right, tally->right_asked, asked);
    return offered >= 60 && right >= 90 && asked < 0.5 ? 0 : 1;
}

int main(int argc, char **argv)
{
    static struct tally tally;
    uint64_t seed = argc > 1 ? strtoull(argv[1], NULL, 10) : 20270301;
    int machines = argc > 2 ? atoi(argv[2]) : MACHINES;
    struct bench bench = {
        .settings = settings_load(CONFIG, stderr), .random = {.state = seed}, .tally = &tally};
    if (bench.settings == NULL || !zone_set(bench.settings->shop.time_zone)) {
        return 1;
    }
    bench.tom = settings_find_person(bench.settings, "Tom");
    bench.rosa = settings_find_person(bench.settings, "Rosa");
    for (int i = 0; i < machines; i++) {
        play(&bench, i % SEASON_PATTERNS);
    }
    settings_free(bench.settings);
    printf("seed %llu, %d machines of %d patterns\n", (unsigned long long)seed, machines,
           SEASON_PATTERNS);
    return report(&tally);
}
