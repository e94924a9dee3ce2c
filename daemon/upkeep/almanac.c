/* SPDX-License-Identifier: MIT
 *
 * almanac: how much of a year's work is done in which part of it. That few votes are drawn towards an
 * even year is a choice of this house, no source. */
#include "daemon/upkeep/almanac.h"

#include "daemon/upkeep/apportion.h"

#define UNHEARD_VOTES 2.0                  /* so many are no yard */
#define EVEN_VOTES 2.0                     /* for a year in which all weeks are alike */
#define SILENT_S (INT64_C(26) * 7 * 86400) /* read since, or the machine says nothing of the year */

struct almanac almanac_begin(int64_t now_s)
{
    return (struct almanac){.from_s = now_s - ALMANAC_YEAR_S};
}

void almanac_add(struct almanac *almanac, const struct usage_record *record)
{
    double ran[ALMANAC_PERIODS];
    double total = 0;
    if (record->count == 0) {
        return;
    }
    int64_t before_s = almanac->from_s - record->readings[record->count - 1].at_s;
    int64_t until_s = almanac->from_s + ALMANAC_YEAR_S;
    int64_t last = apportion_at(record, almanac->from_s);
    for (int i = 0; i < ALMANAC_PERIODS; i++) {
        int64_t next = apportion_at(record, almanac->from_s + (i + 1) * ALMANAC_PERIOD_S);
        ran[i] = next > last ? (double)(next - last) : 0;
        total += ran[i];
        last = next;
    }
    if (before_s <= 0 || total <= 0 || record->readings[0].at_s < until_s - SILENT_S) {
        return;
    }
    double vote = before_s < ALMANAC_FULL_S ? (double)before_s / (double)ALMANAC_FULL_S : 1;
    for (int i = 0; i < ALMANAC_PERIODS; i++) {
        almanac->weights[i] += vote * ran[i] / total * ALMANAC_PERIODS;
    }
    almanac->votes += vote;
}

void almanac_settle(struct almanac *almanac)
{
    double votes = almanac->votes;
    double heard = votes > UNHEARD_VOTES ? votes - UNHEARD_VOTES : 0;
    for (int i = 0; i < ALMANAC_PERIODS; i++) {
        double mean = heard > 0 ? almanac->weights[i] / votes : 1;
        almanac->weights[i] = (mean * heard + EVEN_VOTES) / (heard + EVEN_VOTES);
    }
    almanac->votes = heard;
}

double almanac_weight(const struct almanac *almanac, int64_t at_s)
{
    int64_t of_year_s = (at_s - almanac->from_s) % ALMANAC_YEAR_S;
    of_year_s += of_year_s < 0 ? ALMANAC_YEAR_S : 0;
    double place = (double)of_year_s / (double)ALMANAC_PERIOD_S + ALMANAC_PERIODS - 0.5;
    int whole = (int)place;
    double share = place - whole;
    double one = almanac->weights[whole % ALMANAC_PERIODS];
    double other = almanac->weights[(whole + 1) % ALMANAC_PERIODS];
    return one + share * (other - one);
}
