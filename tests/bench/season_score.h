/* SPDX-License-Identifier: MIT
 * season_score: how near forecasts came, by method, and how that differs from seed to seed. */
#ifndef METERPOST_TESTS_BENCH_SEASON_SCORE_H
#define METERPOST_TESTS_BENCH_SEASON_SCORE_H

#include <stdint.h>

#define SEASON_SEEDS_MAX 100
#define SEASON_CASES_MAX 3000 /* of one seed */

enum season_method {
    SEASON_METHOD_OURS,
    SEASON_METHOD_LIFETIME,
    SEASON_METHOD_LAST_TWO,
    SEASON_METHOD_LEAST_SQUARES
};
#define SEASON_METHODS 4

/* The cases of one seed. Errors are truth - said, in days; a method's bounds lie `early` before and
 * `late` after what it said. */
struct season_score {
    int count[SEASON_METHODS];
    int held[SEASON_METHODS];
    int errors[SEASON_METHODS][SEASON_CASES_MAX]; /* absolute */
    int widths[SEASON_CASES_MAX];                 /* of ours, days from bound to bound */
};
void season_score_note(struct season_score *score, enum season_method method, int32_t error,
                       int32_t early, int32_t late);

/* What each seed came to. */
struct season_tally {
    int seeds, cases;
    int error[SEASON_METHODS][SEASON_SEEDS_MAX]; /* the median, days */
    int held[SEASON_METHODS][SEASON_SEEDS_MAX];  /* of a hundred */
    int width[SEASON_SEEDS_MAX];                 /* the median, days */
};
/* Adds a seed's score and empties it for the next. */
void season_tally_add(struct season_tally *tally, struct season_score *score);

/* The median over the seeds of the error of a method, and of how often its bounds held. */
int season_tally_error(struct season_tally *tally, enum season_method method);
int season_tally_held(struct season_tally *tally, enum season_method method);

void season_tally_print_head(void);
void season_tally_print(const char *name, struct season_tally *tally);

#endif
