/* SPDX-License-Identifier: MIT
 *
 * How good is the forecast? For each seed two hundred invented machines text their hours for
 * thirteen months, and twenty-five of each pattern kept back; the texts go through the yard as the
 * desk would take them. Then, for days on which a machine is known to come due, the yard is asked
 * four weeks before. Printed for each pattern of work: the median error in days of ours and of three
 * plain methods, and how often the truth lay within the bounds, median (least..most) over the seeds.
 * The plain methods have no bounds of their own and are given the width of ours.
 *
 * Usage: season_bench [first seed [seeds [days ahead]]]. Exit status 1 where the bounds of ours hold
 * in less than 80 or more than 95 of a hundred cases, or a plain method beats ours, over all patterns
 * or over all that were kept back. */
#include <stdio.h>
#include <stdlib.h>

#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/upkeep/civil.h"
#include "daemon/yard/yard.h"
#include "daemon/ground/zone.h"
#include "tests/bench/season.h"
#include "tests/bench/season_score.h"

#define MACHINES 25 /* of one pattern: two hundred of those not kept back */
#define PROBES 6
#define FIRST_PROBE 42 /* days of history at least, beside the days ahead */
#define DAY_S 86400.0

/* One machine and its yard. */
struct bench {
    struct settings_plan plan;
    struct settings_kind kind;
    struct settings_machine machine;
    struct settings settings;
    struct yard yard;
    int64_t machine_id;
    int32_t monday; /* the first day */
    int ahead;
};

static void settle(struct bench *bench, struct ledger *ledger)
{
    bench->machine = (struct settings_machine){.name = "M1", .started_hundredths = 1};
    bench->kind = (struct settings_kind){.plans = {0},
                                         .plan_count = 1,
                                         .week_hundredths = 3000,
                                         .most_day_hundredths = 1600,
                                         .meter_limit_hundredths = 9999990};
    bench->plan = (struct settings_plan){.name = "drive", .plan = {.every_hundredths = 50000}};
    bench->settings = (struct settings){.plans = &bench->plan,
                                        .plan_count = 1,
                                        .kinds = &bench->kind,
                                        .kind_count = 1,
                                        .machines = &bench->machine,
                                        .machine_count = 1};
    bench->yard = (struct yard){.settings = &bench->settings, .ledger = ledger};
    bench->monday = civil_day((struct civil_date){2026, 1, 5});
    if (machines_id(ledger, "M1", &bench->machine_id) != LEDGER_OK) {
        exit(2);
    }
}

static void keep(const struct bench *bench, int64_t hundredths, int64_t at_s)
{
    struct reading_row row = {.machine_id = bench->machine_id,
                              .meter_hundredths = hundredths,
                              .read_s = at_s,
                              .noted_s = at_s};
    if (readings_add(bench->yard.ledger, &row) != LEDGER_OK) {
        exit(2);
    }
}

/* The desk in short: an offer is taken where it is what the crew had read. */
static bool take(struct bench *bench, int64_t typed, int64_t read, int64_t at_s)
{
    struct yard_judgement judgement;
    if (yard_judge(&bench->yard, 0, typed, 1, at_s, -1, &judgement) != LEDGER_OK) {
        exit(2);
    }
    if (judgement.verdict == YARD_DOUBTFUL) {
        if (judgement.offer_hundredths != read ||
            (judgement.offer != YARD_OFFER_SLIP && judgement.offer != YARD_OFFER_LAST_WRONG)) {
            return false;
        }
        if (judgement.offer == YARD_OFFER_LAST_WRONG) {
            (void)readings_strike(bench->yard.ledger, judgement.strikes_reading_id, 0, at_s, "YES");
        }
        typed = judgement.offer_hundredths;
    }
    keep(bench, typed, at_s);
    return true;
}

static int64_t moment(const struct bench *bench, int day, int minute)
{
    return zone_unix(bench->monday + day, minute * 60);
}

static void play(struct bench *bench, const struct season *season)
{
    for (size_t i = 0; i < season->text_count; i++) {
        const struct season_text *text = &season->texts[i];
        int64_t at_s = moment(bench, text->day, text->minute);
        if (!take(bench, text->typed_hundredths, text->read_hundredths, at_s)) {
            (void)take(bench, text->read_hundredths, text->read_hundredths, at_s + 60);
        }
    }
}

/* Hours a day by the plain methods; rows newest first. */
static double plain_pace(enum season_method method, const struct reading_point *rows, size_t count,
                         const struct reading_row *first)
{
    const struct reading_point *old = &rows[count - 1];
    struct reading_point oldest = {.read_s = first->read_s,
                                   .true_hundredths = first->true_hundredths};
    double sum_x = 0, sum_y = 0, sum_xx = 0, sum_xy = 0, n = (double)count;
    if (method == SEASON_METHOD_LIFETIME) {
        old = &oldest;
    } else if (method == SEASON_METHOD_LAST_TWO) {
        old = &rows[count > 1 ? 1 : 0];
    } else {
        for (size_t i = 0; i < count; i++) {
            double x = (double)(rows[i].read_s - rows[0].read_s) / DAY_S;
            double y = (double)(rows[i].true_hundredths - rows[0].true_hundredths) / 100;
            sum_x += x, sum_y += y, sum_xx += x * x, sum_xy += x * y;
        }
        double spread = n * sum_xx - sum_x * sum_x;
        return spread > 0 ? (n * sum_xy - sum_x * sum_y) / spread : 0;
    }
    double days = (double)(rows[0].read_s - old->read_s) / DAY_S;
    return days > 0 ? (double)(rows[0].true_hundredths - old->true_hundredths) / 100 / days : 0;
}

/* The machine comes due on that day: what is said `ahead` days before? Errors are truth - said. */
static void probe(struct bench *bench, const struct season *season, int day,
                  struct season_random *random, struct season_score *all, struct season_score *own)
{
    struct yard_standing said;
    struct reading_point rows[40];
    struct reading_row first;
    size_t count = 0;
    int64_t offset = 0;
    int64_t now_s = moment(bench, day - bench->ahead, 1200);
    bench->plan.plan.first_hundredths =
        season_meter(season, day - 1) +
        (int64_t)(season_uniform(random) * season->hours[day] * 100) + 1;
    if (yard_stand(&bench->yard, 0, 0, now_s, &said) != LEDGER_OK || !said.read ||
        said.left_hundredths <= 0 ||
        readings_first(bench->yard.ledger, bench->machine_id, &first) ||
        readings_recent(bench->yard.ledger, bench->machine_id, now_s, 40, rows, &count, &offset)) {
        return;
    }
    int32_t truth = bench->monday + day;
    int32_t ours = said.has_forecast ? said.due_day : truth + 3650;
    int32_t early = said.has_forecast ? said.earliest_day - ours : 0;
    int32_t late = said.has_forecast ? said.latest_day - ours : 0;
    for (int i = 0; i < SEASON_METHODS; i++) {
        enum season_method method = (enum season_method)i;
        int32_t said_day = ours;
        if (method != SEASON_METHOD_OURS) {
            double pace = plain_pace(method, rows, count, &first);
            double days = pace > 0 ? (double)said.left_hundredths / 100 / pace : 3650;
            said_day = zone_civil(said.read_s + (int64_t)((days < 3650 ? days : 3650) * DAY_S)).day;
        }
        season_score_note(all, method, truth - said_day, early, late);
        season_score_note(own, method, truth - said_day, early, late);
    }
}

static void run_machine(struct bench *bench, int pattern, struct season_random *random,
                        struct season_score *all, struct season_score *own)
{
    static struct season season;
    season_invent(random, pattern, &season);
    if (ledger_begin(bench->yard.ledger) != LEDGER_OK) {
        exit(2);
    }
    settle(bench, bench->yard.ledger);
    play(bench, &season);
    int first = FIRST_PROBE + bench->ahead;
    for (int tries = 0, probes = 0; tries < 20 * PROBES && probes < PROBES; tries++) {
        int day = first + season_below(random, SEASON_DAYS - first);
        if (season.hours[day] > 0) {
            probe(bench, &season, day, random, all, own);
            probes++;
        }
    }
    ledger_rollback(bench->yard.ledger);
}

/* Every machine of one seed. */
static void run_seed(struct bench *bench, unsigned long seed, struct season_tally *own,
                     struct season_tally *all, struct season_tally *kept_back)
{
    static struct season_score scores[SEASON_PATTERNS_ALL], score, back_score;
    struct season_random random = {.state = seed};
    for (int i = 0; i < MACHINES * SEASON_PATTERNS_ALL; i++) {
        bool kept = i >= MACHINES * SEASON_PATTERNS;
        int pattern = kept ? SEASON_PATTERNS + i % (SEASON_PATTERNS_ALL - SEASON_PATTERNS)
                           : i % SEASON_PATTERNS;
        run_machine(bench, pattern, &random, kept ? &back_score : &score, &scores[pattern]);
    }
    for (int pattern = 0; pattern < SEASON_PATTERNS_ALL; pattern++) {
        season_tally_add(&own[pattern], &scores[pattern]);
    }
    season_tally_add(all, &score);
    season_tally_add(kept_back, &back_score);
}

static bool good(struct season_tally *tally)
{
    int held = season_tally_held(tally, SEASON_METHOD_OURS);
    bool beaten = false;
    for (int method = SEASON_METHOD_LIFETIME; method < SEASON_METHODS; method++) {
        beaten = beaten || season_tally_error(tally, (enum season_method)method) <
                               season_tally_error(tally, SEASON_METHOD_OURS);
    }
    return held >= 80 && held <= 95 && !beaten;
}

int main(int argc, char **argv)
{
    static struct season_tally own[SEASON_PATTERNS_ALL], all, kept_back;
    static struct bench bench;
    char says[LEDGER_SAYS_OCTETS];
    enum ledger_result result;
    unsigned long seed = argc > 1 ? strtoul(argv[1], NULL, 10) : 20270314;
    unsigned long seeds = argc > 2 ? strtoul(argv[2], NULL, 10) : 5;
    bench.ahead = argc > 3 ? atoi(argv[3]) : 28;
    struct ledger *ledger = ledger_open(":memory:", LEDGER_WRITE, &result, says);
    if (ledger == NULL || !zone_set("America/Los_Angeles") || bench.ahead < 1 ||
        bench.ahead > 300 || seeds < 1 || seeds > SEASON_SEEDS_MAX) {
        return 2;
    }
    bench.yard.ledger = ledger;
    for (unsigned long i = 0; i < seeds; i++) {
        run_seed(&bench, seed + i, own, &all, &kept_back);
    }
    ledger_close(ledger);
    printf("seeds %lu to %lu, %d days ahead: median error in days, truth within the bounds\n", seed,
           seed + seeds - 1, bench.ahead);
    season_tally_print_head();
    for (int pattern = 0; pattern < SEASON_PATTERNS; pattern++) {
        season_tally_print(season_pattern_name(pattern), &own[pattern]);
    }
    season_tally_print("all", &all);
    for (int pattern = SEASON_PATTERNS; pattern < SEASON_PATTERNS_ALL; pattern++) {
        season_tally_print(season_pattern_name(pattern), &own[pattern]);
    }
    season_tally_print("kept back", &kept_back);
    return good(&all) && good(&kept_back) ? 0 : 1;
}
