/* SPDX-License-Identifier: MIT
 * season_score: how near forecasts came, by pattern of work, horizon and method. */
#ifndef METERPOST_TESTS_BENCH_SEASON_SCORE_H
#define METERPOST_TESTS_BENCH_SEASON_SCORE_H

#include <stdbool.h>
#include <stdint.h>

#include "tests/bench/season.h"

#define SEASON_HORIZONS 4
extern const int season_horizons[SEASON_HORIZONS]; /* days ahead */

/* A row of scores for each pattern and trade, and three for what they come to. */
#define SEASON_TRADE SEASON_PATTERNS_ALL /* the first */
#define SEASON_ALL (SEASON_TRADE + SEASON_TRADES)
#define SEASON_KEPT_BACK (SEASON_ALL + 1)
#define SEASON_OTHER_BUILD (SEASON_ALL + 2)
#define SEASON_ROWS (SEASON_ALL + 3)

enum season_method {
    SEASON_METHOD_OURS,
    SEASON_METHOD_LIFETIME,
    SEASON_METHOD_LAST_TWO,
    SEASON_METHOD_LEAST_SQUARES
};
#define SEASON_METHODS 4

/* One question, in civil days. */
struct season_case {
    int32_t truth;
    bool known; /* ours has an answer, and bounds */
    int32_t said[SEASON_METHODS];
    int32_t early, late;
};

/* Sums over the cases. */
struct season_score {
    int cases;
    double error[SEASON_METHODS]; /* absolute, days; one beyond half a year counts as that */
    int held, before;             /* within the bounds; earlier than the early one */
    double width, interval;       /* days */
};
void season_score_note(struct season_score *score, const struct season_case *question);

/* Machines at work whose crews are silent. */
struct season_silence {
    int machines, noticed;
};

/* Prints one horizon; false where a bound is missed. */
bool season_score_print(struct season_score (*scores)[SEASON_HORIZONS], int horizon);

#endif
