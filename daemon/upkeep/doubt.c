/* SPDX-License-Identifier: MIT
 *
 * doubt: what was meant by a figure that cannot be true.
 *
 * The figure is taken as the digits that were typed: a whole number with so many of its digits
 * after the point. A place is a power of ten of that number, 1 for the last digit. */
#include "daemon/upkeep/doubt.h"

#define ROLL_OVER_SHARE 50 /* within a fiftieth, 2 %, of the limit */
#define NEARER_TIMES 4
#define NEAR_HUNDREDTHS 100          /* nearer than an hour is as good as an hour */
#define TYPED_MAX INT64_C(100000000) /* no meter shows so much; keeps the arithmetic in range */

int64_t doubt_away(int64_t hundredths, int64_t predicted_hundredths)
{
    return hundredths > predicted_hundredths ? hundredths - predicted_hundredths
                                             : predicted_hundredths - hundredths;
}

bool doubt_much_nearer(int64_t away_hundredths, int64_t other_away_hundredths)
{
    int64_t away = away_hundredths > NEAR_HUNDREDTHS ? away_hundredths : NEAR_HUNDREDTHS;
    return away * NEARER_TIMES <= other_away_hundredths;
}

void doubt_consider(struct doubt_search *search, const struct doubt_candidate *candidate)
{
    if (search->found > 0 && candidate->machine == search->best.machine &&
        candidate->hundredths == search->best.hundredths) {
        return;
    }
    if (search->found == 0) {
        search->best = *candidate;
        search->found = 1;
    } else if (candidate->away_hundredths < search->best.away_hundredths) {
        search->next = search->best;
        search->best = *candidate;
        search->found = 2;
    } else if (search->found == 1 || candidate->away_hundredths < search->next.away_hundredths) {
        search->next = *candidate;
        search->found = 2;
    }
}

bool doubt_clearly_best(const struct doubt_search *search)
{
    return search->found == 1 ||
           (search->found == 2 &&
            doubt_much_nearer(search->best.away_hundredths, search->next.away_hundredths));
}

/* What all slips of one figure share. */
struct slips {
    struct doubt_search *search;
    const struct doubt_range *range;
    int32_t machine;
    int64_t typed;       /* hundredths */
    int64_t digits;      /* as a whole number */
    int64_t unit;        /* hundredths that its last digit stands for */
    int64_t whole_place; /* the place of the first digit before the point */
    int64_t predicted;
};

static void try_hundredths(const struct slips *slips, enum doubt_slip slip, int64_t hundredths)
{
    struct doubt_candidate candidate = {
        .slip = slip,
        .machine = slips->machine,
        .hundredths = hundredths,
        .away_hundredths = doubt_away(hundredths, slips->predicted),
    };
    if (hundredths != slips->typed && hundredths >= slips->range->least &&
        hundredths <= slips->range->most) {
        doubt_consider(slips->search, &candidate);
    }
}

static void try_digits(const struct slips *slips, enum doubt_slip slip, int64_t digits)
{
    if (digits <= TYPED_MAX) {
        try_hundredths(slips, slip, digits * slips->unit);
    }
}

static int64_t digit_at(const struct slips *slips, int64_t place)
{
    return slips->digits / place % 10;
}

static void try_wrong(const struct slips *slips, int64_t place)
{
    for (int64_t digit = 0; digit <= 9; digit++) {
        try_digits(slips, DOUBT_SLIP_WRONG,
                   slips->digits + (digit - digit_at(slips, place)) * place);
    }
}

static void try_exchanged(const struct slips *slips, int64_t place)
{
    if (place * 10 == slips->whole_place) {
        return; /* across the point */
    }
    int64_t by = digit_at(slips, place * 10) - digit_at(slips, place);
    try_digits(slips, DOUBT_SLIP_EXCHANGED, slips->digits + by * place - by * place * 10);
}

static void try_missing(const struct slips *slips, int64_t place)
{
    int64_t before = slips->digits / place;
    int64_t after = slips->digits % place;
    for (int64_t digit = 0; digit <= 9; digit++) {
        try_digits(slips, DOUBT_SLIP_MISSING, (before * 10 + digit) * place + after);
    }
}

static void try_extra(const struct slips *slips, int64_t place)
{
    int64_t before = slips->digits / (place * 10);
    int64_t after = slips->digits % place;
    try_digits(slips, DOUBT_SLIP_EXTRA, before * place + after);
}

int64_t doubt_point_before_last(int64_t hundredths)
{
    return hundredths / 10;
}

void doubt_add_slips(struct doubt_search *search, int32_t machine, int64_t hundredths,
                     int32_t decimal_digits, const struct doubt_range *range,
                     int64_t predicted_hundredths)
{
    struct slips slips = {.search = search,
                          .range = range,
                          .machine = machine,
                          .typed = hundredths,
                          .unit = decimal_digits > 1    ? 1
                                  : decimal_digits == 1 ? 10
                                                        : 100,
                          .predicted = predicted_hundredths};
    if (hundredths < 0 || hundredths > TYPED_MAX) {
        return;
    }
    slips.digits = hundredths / slips.unit;
    slips.whole_place = 100 / slips.unit;
    if (decimal_digits == 0) {
        try_hundredths(&slips, DOUBT_SLIP_POINT_LOST, hundredths / 10);
        try_hundredths(&slips, DOUBT_SLIP_POINT_LOST, hundredths / 100);
    }
    int64_t place = 1;
    for (; place <= slips.digits; place *= 10) {
        try_wrong(&slips, place);
        if (place * 10 <= slips.digits) {
            try_exchanged(&slips, place);
        }
        if (place >= slips.whole_place) {
            try_missing(&slips, place);
            try_extra(&slips, place);
        }
    }
    /* before the first digit */
    try_missing(&slips, place > slips.whole_place ? place : slips.whole_place);
}

int32_t meter_whole_digits(int64_t hundredths)
{
    int32_t digits = 1;
    for (int64_t hours = hundredths / 1000; hours > 0; hours /= 10) {
        digits++;
    }
    return digits;
}

bool doubt_lost_point(int64_t hundredths, int32_t decimal_digits, int64_t last_hundredths,
                      bool read_with_tenths)
{
    return decimal_digits == 0 && read_with_tenths &&
           meter_whole_digits(hundredths) > meter_whole_digits(last_hundredths);
}

/* A meter shows whole hours, tenths or hundredths: its limit ("9999.9") tells which. */
int64_t meter_period(int64_t limit_hundredths)
{
    if (limit_hundredths % 100 == 0) {
        return limit_hundredths + 100;
    }
    return limit_hundredths + (limit_hundredths % 10 == 0 ? 10 : 1);
}

bool meter_rolled_over(int64_t limit_hundredths, int64_t last_hundredths, int64_t hundredths,
                       int64_t allowed_hundredths)
{
    int64_t near = limit_hundredths - limit_hundredths / ROLL_OVER_SHARE;
    int64_t run = meter_period(limit_hundredths) - last_hundredths + hundredths;
    return last_hundredths >= near && hundredths < last_hundredths && run <= allowed_hundredths;
}

bool meter_swapped(int64_t last_hundredths, int64_t hundredths, int64_t allowed_hundredths)
{
    return hundredths < last_hundredths / 10 && hundredths <= allowed_hundredths;
}
