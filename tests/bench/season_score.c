/* SPDX-License-Identifier: MIT
 *
 * season_score: what the cases come to, and whether that is good enough. */
#include "tests/bench/season_score.h"

#include <stdio.h>
#include <stdlib.h>

#define ERROR_MOST 182  /* days */
#define MISSED_TIMES 20 /* 2 / 0.1: bounds are meant for nine of ten */
#define HELD_LEAST 80
#define HELD_MOST 96
#define BEFORE_MOST 10
#define RATIO_MOST 0.85
#define RATIO_HORIZON 2 /* index: 28 days */
#define LONG_HORIZON 3  /* index: 56 days, where bounds may be as wide as need be */

const int season_horizons[SEASON_HORIZONS] = {7, 14, 28, 56};

void season_score_note(struct season_score *score, const struct season_case *question)
{
    int32_t truth = question->truth;
    score->cases++;
    for (int i = 0; i < SEASON_METHODS; i++) {
        int32_t error = abs(truth - question->said[i]);
        bool far = error > ERROR_MOST || (i == SEASON_METHOD_OURS && !question->known);
        score->error[i] += far ? ERROR_MOST : error;
    }
    if (!question->known) {
        score->interval += MISSED_TIMES * ERROR_MOST;
        return;
    }
    int32_t missed = truth < question->early  ? question->early - truth
                     : truth > question->late ? truth - question->late
                                              : 0;
    score->held += missed == 0 ? 1 : 0;
    score->before += truth < question->early ? 1 : 0;
    score->width += question->late - question->early;
    score->interval += question->late - question->early + MISSED_TIMES * missed;
}

static double best_plain(const struct season_score *score)
{
    double best = score->error[SEASON_METHOD_LIFETIME];
    for (int i = SEASON_METHOD_LIFETIME + 1; i < SEASON_METHODS; i++) {
        best = score->error[i] < best ? score->error[i] : best;
    }
    return best;
}

static void print_row(const char *name, const struct season_score *score)
{
    double cases = score->cases > 0 ? score->cases : 1;
    double best = best_plain(score);
    printf("%-10s %6d  %5.1f d  %3.0f %%  %3.0f %%  %5.0f d  %5.0f", name, score->cases,
           score->error[SEASON_METHOD_OURS] / cases, 100 * score->held / cases,
           100 * score->before / cases, score->width / cases, score->interval / cases);
    for (int i = SEASON_METHOD_LIFETIME; i < SEASON_METHODS; i++) {
        printf("  %5.1f d", score->error[i] / cases);
    }
    printf("  %4.2f\n", best > 0 ? score->error[SEASON_METHOD_OURS] / best : 0);
}

static bool good(const struct season_score *score, int horizon)
{
    int held = 100 * score->held / (score->cases > 0 ? score->cases : 1);
    int before = 100 * score->before / (score->cases > 0 ? score->cases : 1);
    double ratio = best_plain(score) > 0 ? score->error[SEASON_METHOD_OURS] / best_plain(score) : 0;
    return held >= HELD_LEAST && (held <= HELD_MOST || horizon == LONG_HORIZON) &&
           before <= BEFORE_MOST && (ratio <= RATIO_MOST || horizon != RATIO_HORIZON);
}

/* The rows from one on, and what they come to; a sum of none is not printed and is good. */
static bool print_group(struct season_score (*scores)[SEASON_HORIZONS], int horizon, int first,
                        int count, const char *name, int sum)
{
    if (scores[sum][horizon].cases == 0) {
        return true;
    }
    for (int row = first; row < first + count; row++) {
        print_row(row < SEASON_TRADE ? season_pattern_name(row)
                                     : season_trade_name(row - SEASON_TRADE),
                  &scores[row][horizon]);
    }
    print_row(name, &scores[sum][horizon]);
    return good(&scores[sum][horizon], horizon);
}

bool season_score_print(struct season_score (*scores)[SEASON_HORIZONS], int horizon)
{
    printf("\n%d days ahead\n%-10s %6s  %7s  %5s  %5s  %7s  %5s  %7s  %7s  %7s  %s\n",
           season_horizons[horizon], "", "cases", "error", "held", "early", "wide", "score", "life",
           "two", "squares", "of best");
    bool all = print_group(scores, horizon, 0, SEASON_PATTERNS, "all", SEASON_ALL);
    bool kept_back =
        print_group(scores, horizon, SEASON_PATTERNS, SEASON_PATTERNS_ALL - SEASON_PATTERNS,
                    "kept back", SEASON_KEPT_BACK);
    bool other =
        print_group(scores, horizon, SEASON_TRADE, SEASON_TRADES, "other", SEASON_OTHER_BUILD);
    return all && kept_back && other;
}
