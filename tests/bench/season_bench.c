/* SPDX-License-Identifier: MIT
 *
 * How good is the forecast? For each seed, invented machines of a yard text their hours for thirteen
 * months, and twenty-five of each pattern of work are asked about: the texts go through the yard as
 * the desk would take them, and 7, 14, 28 and 56 days before a machine is known to come due the yard
 * is asked, with the readings as they stand then. Printed by horizon and pattern: the mean error of
 * ours and of three plain methods in days, how often the truth lay within our bounds and how often
 * before them, how wide they are, and their interval score (T. Gneiting and A. Raftery, 2007: the
 * width, and twenty days for each day by which a bound meant for nine of ten is missed).
 *
 * The same of thirteen trades, whose seasons are built in another way.
 *
 * Then yards of seventeen machines with a year on record before the first question: one of each
 * pattern; and mostly of those that go by the season, with that year left out and with it.
 *
 * Then machines that work on while their crews are silent for three weeks, and come due at the end of
 * them: how often a reading was wanted, or the service told, before that day.
 *
 * Usage: season_bench [first seed [seeds]]. Exit status 1 where a bound is missed over all patterns, or
 * over all that were kept back: a mean error at 28 days of at most 0.85 of the best plain method's;
 * bounds that hold in 80 to 96 of a hundred cases, at 56 days in 80 or more, and lie too late at
 * their early end in at most 10; 95 of a hundred silent machines noticed in time; and the year before must make the error less. */
#include <stdio.h>
#include <stdlib.h>

#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/record.h"
#include "daemon/upkeep/civil.h"
#include "daemon/yard/yard.h"
#include "daemon/ground/zone.h"
#include "tests/bench/season.h"
#include "tests/bench/season_score.h"

#define MACHINES 25 /* of one pattern: two hundred of those not kept back */
#define PROBES 6
#define FIRST_PROBE 42 /* days of history at least, beside the days ahead */
#define SILENT_DAYS 21
#define DAY_S 86400.0

#define YARD_MACHINES SEASON_PATTERNS_ALL /* of a yard with a year before */
#define YARDS 4
#define YEAR_DAYS 365

/* A yard, and the machine of it that is played. */
struct bench {
    struct player {
        struct season season;
        size_t played; /* of its texts */
        int64_t machine_id;
    } players[YARD_MACHINES];
    int32_t at;
    struct settings_plan plan;
    struct settings_kind kind;
    struct settings_machine machines[YARD_MACHINES];
    char names[YARD_MACHINES][8];
    struct settings settings;
    struct yard yard;
    int32_t monday; /* the first day */
};

/* The patterns of a yard: one of each, or of those that go by the season the most. */
struct roster {
    const char *says;
    bool year; /* false: the year before is not made use of */
    int patterns[YARD_MACHINES];
};
static const struct roster rosters[] = {
    {"a machine of each pattern, with a year before",
     true,
     {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}},
    {"mostly machines that go by the season, the year before left out",
     false,
     {1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 5, 5, 5, 0, 0, 11, 11}},
    {"mostly machines that go by the season, with a year before",
     true,
     {1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 5, 5, 5, 0, 0, 11, 11}},
};
#define ROSTERS 3
enum { ROSTER_ALL, ROSTER_WITHOUT, ROSTER_WITH };

static struct player *player(struct bench *bench)
{
    return &bench->players[bench->at];
}

static void settle(struct bench *bench, size_t machines)
{
    struct ledger *ledger = bench->yard.ledger;
    bench->kind = (struct settings_kind){.plans = {0},
                                         .plan_count = 1,
                                         .week_hundredths = 3000,
                                         .most_day_hundredths = 1600,
                                         .meter_limit_hundredths = 9999990};
    bench->plan = (struct settings_plan){
        .name = "drive",
        .plan = {.every_hundredths = 50000, .notice_hundredths = 2500, .notice_days = 14}};
    bench->settings = (struct settings){.plans = &bench->plan,
                                        .plan_count = 1,
                                        .kinds = &bench->kind,
                                        .kind_count = 1,
                                        .machines = bench->machines,
                                        .machine_count = machines};
    bench->yard = (struct yard){.settings = &bench->settings, .ledger = ledger};
    bench->monday = civil_day((struct civil_date){2026, 1, 5});
    for (size_t i = 0; i < machines; i++) {
        (void)snprintf(bench->names[i], sizeof bench->names[i], "M%zu", i + 1);
        bench->machines[i] =
            (struct settings_machine){.name = bench->names[i], .started_hundredths = 1};
        bench->players[i].played = 0;
        if (machines_id(ledger, bench->names[i], &bench->players[i].machine_id) != LEDGER_OK) {
            exit(2);
        }
    }
    bench->at = 0;
}

static void keep(struct bench *bench, int64_t hundredths, int64_t at_s)
{
    struct reading_row row = {.machine_id = player(bench)->machine_id,
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
    if (yard_judge(&bench->yard, bench->at, typed, 1, at_s, -1, &judgement) != LEDGER_OK) {
        exit(2);
    }
    if (judgement.verdict == YARD_DOUBTFUL) {
        if (judgement.offer_hundredths != read ||
            (judgement.offer != YARD_OFFER_SLIP && judgement.offer != YARD_OFFER_LAST_WRONG)) {
            return false;
        }
        if (judgement.offer == YARD_OFFER_LAST_WRONG) {
            (void)record_strike(bench->yard.ledger, RECORD_READING, 0, judgement.strikes_reading_id,
                                0, at_s, "YES");
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

/* Texts up to the end of that day. */
static void play(struct bench *bench, int last_day)
{
    struct player *own = player(bench);
    for (; own->played < own->season.text_count; own->played++) {
        const struct season_text *text = &own->season.texts[own->played];
        int64_t at_s = moment(bench, text->day, text->minute);
        if (text->day > last_day) {
            return;
        }
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

/* The plan comes due on that day of the season. */
static void set_point(struct bench *bench, int day, struct season_random *random)
{
    bench->plan.plan.first_hundredths =
        season_meter(&player(bench)->season, day - 1) +
        (int64_t)(season_uniform(random) * player(bench)->season.hours[day] * 100) + 1;
}

/* What is said so many days before. Errors are truth - said. */
static void probe(struct bench *bench, int day, int ahead, struct season_score *scores[2])
{
    struct yard_standing said;
    struct reading_point rows[40];
    struct reading_row first;
    size_t count = 0;
    int64_t offset = 0;
    int64_t now_s = moment(bench, day - ahead, 1200);
    if (yard_stand(&bench->yard, bench->at, 0, now_s, &said) != LEDGER_OK || !said.read ||
        said.left_hundredths <= 0 ||
        readings_first(bench->yard.ledger, player(bench)->machine_id, &first) ||
        readings_recent(bench->yard.ledger, player(bench)->machine_id, now_s, 40, rows, &count,
                        &offset)) {
        return;
    }
    int32_t truth = bench->monday + day;
    struct season_case question = {.truth = truth, .known = said.has_forecast};
    question.said[SEASON_METHOD_OURS] = said.due_day;
    question.early = said.earliest_day;
    question.late = said.latest_day;
    for (int i = SEASON_METHOD_LIFETIME; i < SEASON_METHODS; i++) {
        double pace = plain_pace((enum season_method)i, rows, count, &first);
        double days = pace > 0 ? (double)said.left_hundredths / 100 / pace : 3650;
        question.said[i] =
            zone_civil(said.read_s + (int64_t)((days < 3650 ? days : 3650) * DAY_S)).day;
    }
    season_score_note(scores[0], &question);
    season_score_note(scores[1], &question);
}

static void begin_yard(struct bench *bench, size_t machines)
{
    if (ledger_begin(bench->yard.ledger) != LEDGER_OK) {
        exit(2);
    }
    settle(bench, machines);
}

/* One question, and when it is put. */
struct question {
    int day, horizon;
};

static int by_time(const void *one, const void *other)
{
    const struct question *a = one, *b = other;
    return a->day - season_horizons[a->horizon] - (b->day - season_horizons[b->horizon]);
}

/* Days from that one on, on which the machine works, for each horizon. */
static int draw_questions(struct bench *bench, struct season_random *random, int not_before,
                          struct question questions[SEASON_HORIZONS * PROBES])
{
    const struct season *season = &player(bench)->season;
    int count = 0;
    for (int i = 0; i < SEASON_HORIZONS; i++) {
        int first = not_before + season_horizons[i];
        for (int tries = 0, found = 0; tries < 20 * PROBES && found < PROBES; tries++) {
            int day = first + season_below(random, season->days - first);
            if (season->hours[day] > 0) {
                questions[count++] = (struct question){day, i};
                found++;
            }
        }
    }
    qsort(questions, (size_t)count, sizeof questions[0], by_time);
    return count;
}

static void put(struct bench *bench, const struct question *question, struct season_random *random,
                struct season_score (*all)[SEASON_HORIZONS],
                struct season_score (*own)[SEASON_HORIZONS])
{
    int horizon = question->horizon;
    set_point(bench, question->day, random);
    probe(bench, question->day, season_horizons[horizon],
          (struct season_score *[2]){&(*all)[horizon], &(*own)[horizon]});
}

static void ask(struct bench *bench, struct season_random *random,
                struct season_score (*all)[SEASON_HORIZONS],
                struct season_score (*own)[SEASON_HORIZONS])
{
    struct question questions[SEASON_HORIZONS * PROBES];
    int count = draw_questions(bench, random, FIRST_PROBE, questions);
    begin_yard(bench, 1);
    for (int i = 0; i < count; i++) {
        play(bench, questions[i].day - season_horizons[questions[i].horizon]);
        put(bench, &questions[i], random, all, own);
    }
    ledger_rollback(bench->yard.ledger);
}

/* A yard with a year on record before the first question. Machines that are to leave one day have no
 * voice in its year, so that a roster of such has none. */
static void run_yard(struct bench *bench, struct season_random *random, const struct roster *roster,
                     struct season_score (*scores)[SEASON_HORIZONS])
{
    static struct question questions[YARD_MACHINES][SEASON_HORIZONS * PROBES];
    static struct season_weather weather;
    int counts[YARD_MACHINES], put_so_far[YARD_MACHINES] = {0};
    season_invent_weather(random, SEASON_DAYS_MAX, &weather);
    begin_yard(bench, YARD_MACHINES);
    for (int i = 0; i < YARD_MACHINES; i++) {
        bench->at = i;
        bench->machines[i].gone = !roster->year;
        bench->machines[i].gone_day = INT32_MAX;
        season_invent(random, roster->patterns[i], &weather, &player(bench)->season);
        counts[i] = draw_questions(bench, random, YEAR_DAYS, questions[i]);
    }
    for (int day = 0; day < SEASON_DAYS_MAX; day++) {
        for (bench->at = 0; bench->at < YARD_MACHINES; bench->at++) {
            play(bench, day);
        }
        for (int i = 0; i < YARD_MACHINES; i++) {
            int pattern = roster->patterns[i];
            int all = pattern < SEASON_PATTERNS ? SEASON_ALL : SEASON_KEPT_BACK;
            bench->at = i;
            for (; put_so_far[i] < counts[i]; put_so_far[i]++) {
                const struct question *question = &questions[i][put_so_far[i]];
                if (question->day - season_horizons[question->horizon] > day) {
                    break;
                }
                put(bench, question, random, &scores[all], &scores[pattern]);
            }
        }
    }
    ledger_rollback(bench->yard.ledger);
}

/* Works on, and comes due, while nobody has texted for three weeks. */
static void keep_silent(struct bench *bench, struct season_random *random,
                        struct season_silence *silence)
{
    int day =
        FIRST_PROBE + SILENT_DAYS + season_below(random, SEASON_DAYS - FIRST_PROBE - SILENT_DAYS);
    while (day < SEASON_DAYS - 1 && player(bench)->season.hours[day] <= 0) {
        day++;
    }
    begin_yard(bench, 1);
    play(bench, day - SILENT_DAYS);
    set_point(bench, day, random);
    bool noticed = false, told_before = false;
    for (int i = SILENT_DAYS; i > 0 && !noticed; i--) {
        struct yard_standing said;
        if (yard_stand(&bench->yard, bench->at, 0, moment(bench, day - i, 1200), &said) !=
            LEDGER_OK) {
            exit(2);
        }
        bool told = due_stage_row(said.stage)->tells;
        told_before = told_before || (told && i == SILENT_DAYS);
        noticed = told || said.wanted;
    }
    if (player(bench)->season.hours[day] > 0 && !told_before) {
        silence->machines++;
        silence->noticed += noticed ? 1 : 0;
    }
    ledger_rollback(bench->yard.ledger);
}

/* Every machine of one seed. */
static void run_seed(struct bench *bench, unsigned long seed,
                     struct season_score (*scores)[SEASON_HORIZONS],
                     struct season_score (*years)[SEASON_ROWS][SEASON_HORIZONS],
                     struct season_silence *silence)
{
    static struct season_weather weather;
    struct season_random random = {.state = seed};
    season_invent_weather(&random, SEASON_DAYS, &weather);
    for (int i = 0; i < MACHINES * SEASON_PATTERNS_ALL; i++) {
        int pattern = i % SEASON_PATTERNS_ALL;
        bool kept = pattern >= SEASON_PATTERNS;
        bench->at = 0;
        season_invent(&random, pattern, &weather, &player(bench)->season);
        ask(bench, &random, &scores[kept ? SEASON_KEPT_BACK : SEASON_ALL], &scores[pattern]);
        if (season_works_on(pattern)) {
            keep_silent(bench, &random, silence);
        }
    }
    season_invent_drought(&random, &weather);
    for (int i = 0; i < MACHINES * SEASON_TRADES; i++) {
        int trade = i % SEASON_TRADES;
        season_invent_trade(&random, trade, &weather, &player(bench)->season);
        ask(bench, &random, &scores[SEASON_OTHER_BUILD], &scores[SEASON_TRADE + trade]);
    }
    for (int i = 0; i < ROSTERS; i++) {
        random.state = ~seed; /* the same seasons with and without */
        for (int j = 0; j < YARDS; j++) {
            run_yard(bench, &random, &rosters[i], years[i]);
        }
    }
}

/* A year before is worth having: over all patterns the error is less with it. */
static bool year_gains(struct season_score (*years)[SEASON_ROWS][SEASON_HORIZONS], int horizon)
{
    return years[ROSTER_WITH][SEASON_ALL][horizon].error[SEASON_METHOD_OURS] <
           years[ROSTER_WITHOUT][SEASON_ALL][horizon].error[SEASON_METHOD_OURS];
}

int main(int argc, char **argv)
{
    static struct season_score scores[SEASON_ROWS][SEASON_HORIZONS];
    static struct season_score years[ROSTERS][SEASON_ROWS][SEASON_HORIZONS];
    static struct bench bench;
    struct season_silence silence = {0};
    char says[LEDGER_SAYS_OCTETS];
    enum ledger_result result;
    unsigned long seed = argc > 1 ? strtoul(argv[1], NULL, 10) : 20270314;
    unsigned long seeds = argc > 2 ? strtoul(argv[2], NULL, 10) : 5;
    struct ledger *ledger = ledger_open(":memory:", LEDGER_WRITE, &result, says);
    if (ledger == NULL || !zone_set("America/Los_Angeles") || seeds < 1) {
        return 2;
    }
    bench.yard.ledger = ledger;
    for (unsigned long i = 0; i < seeds; i++) {
        run_seed(&bench, seed + i, scores, years, &silence);
    }
    ledger_close(ledger);
    printf("seeds %lu to %lu\n", seed, seed + seeds - 1);
    bool good = true;
    for (int i = 0; i < SEASON_HORIZONS; i++) {
        good = season_score_print(scores, i) && good;
    }
    for (int i = 0; i < ROSTERS; i++) {
        printf("\n%s\n", rosters[i].says);
        for (int j = 0; j < SEASON_HORIZONS; j++) {
            bool holds = season_score_print(years[i], j);
            good = (holds || i != ROSTER_ALL) && year_gains(years, j) && good;
        }
    }
    int noticed = 100 * silence.noticed / (silence.machines > 0 ? silence.machines : 1);
    printf("silent for %d days and at work: %d machines, noticed in time %d %% (at least 95)\n",
           SILENT_DAYS, silence.machines, noticed);
    return good && noticed >= 95 ? 0 : 1;
}
