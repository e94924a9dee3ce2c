/* SPDX-License-Identifier: MIT
 *
 * season_score: medians over the cases of a seed, then least, median and most over the seeds. */
#include "tests/bench/season_score.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int compare(const void *one, const void *other)
{
    return *(const int *)one - *(const int *)other;
}

static int median(int *values, int count)
{
    qsort(values, (size_t)count, sizeof *values, compare);
    return count > 0 ? values[count / 2] : 0;
}

void season_score_note(struct season_score *score, enum season_method method, int32_t error,
                       int32_t early, int32_t late)
{
    int place = score->count[method];
    if (place == SEASON_CASES_MAX) {
        return;
    }
    score->count[method]++;
    score->held[method] += error >= early && error <= late ? 1 : 0;
    score->errors[method][place] = error < 0 ? -error : error;
    if (method == SEASON_METHOD_OURS) {
        score->widths[place] = late - early;
    }
}

void season_tally_add(struct season_tally *tally, struct season_score *score)
{
    int seed = tally->seeds++;
    int count = score->count[SEASON_METHOD_OURS];
    tally->cases += count;
    tally->width[seed] = median(score->widths, count);
    for (int method = 0; method < SEASON_METHODS; method++) {
        count = score->count[method];
        tally->error[method][seed] = median(score->errors[method], count);
        tally->held[method][seed] = 100 * score->held[method] / (count > 0 ? count : 1);
    }
    memset(score, 0, sizeof *score);
}

int season_tally_error(struct season_tally *tally, enum season_method method)
{
    return median(tally->error[method], tally->seeds);
}

int season_tally_held(struct season_tally *tally, enum season_method method)
{
    return median(tally->held[method], tally->seeds);
}

void season_tally_print_head(void)
{
    printf("%-10s %6s   %-39s   %-17s   %-12s   %s\n", "", "cases", "ours", "lifetime", "last two",
           "least squares");
}

/* median (least..most) */
static void print_range(int *values, int seeds, const char *unit)
{
    int middle = median(values, seeds); /* which leaves them sorted */
    char range[16];
    (void)snprintf(range, sizeof range, "(%d..%d)", values[0], values[seeds - 1]);
    printf("%3d %-9s%s", middle, range, unit);
}

void season_tally_print(const char *name, struct season_tally *tally)
{
    printf("%-10s %6d   ", name, tally->cases);
    print_range(tally->error[SEASON_METHOD_OURS], tally->seeds, "d  ");
    print_range(tally->held[SEASON_METHOD_OURS], tally->seeds, "%");
    printf(" wide %3d d", median(tally->width, tally->seeds));
    for (int method = SEASON_METHOD_LIFETIME; method < SEASON_METHODS; method++) {
        printf("   %3d d  %3d %%", season_tally_error(tally, (enum season_method)method),
               season_tally_held(tally, (enum season_method)method));
    }
    printf("\n");
}
