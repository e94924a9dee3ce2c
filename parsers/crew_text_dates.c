/* SPDX-License-Identifier: MIT
 * crew_text_dates: digits in groups, "3/14", "2027-03-14", "206-555-0110".
 *
 * The groups and the one mark between them are read first; their number and widths say what they
 * are. Two groups are a date only with a slash between ("12-30" is a machine and a figure). */
#include "parsers/crew_text_dates.h"

#define GROUPS_MAX 4
#define GROUP_LIMIT 10000000 /* far past any year; no group is read on from there */

struct groups {
    size_t count;
    int32_t value[GROUPS_MAX];
    size_t digits[GROUPS_MAX];
    uint16_t mark;
    size_t end;
};

static size_t read_group(const struct fold *fold, size_t at, int32_t *value)
{
    size_t digits = 0;
    int32_t sum = 0;
    int32_t digit = fold_digit(fold_at(fold, at));
    while (digit >= 0 && sum < GROUP_LIMIT) {
        sum = sum * 10 + digit;
        digits++;
        digit = fold_digit(fold_at(fold, at + digits));
    }
    *value = sum;
    return digits;
}

static bool is_mark(uint16_t unit)
{
    return unit == '/' || unit == '-' || unit == '.';
}

static void read_groups(const struct fold *fold, size_t at, struct groups *out)
{
    *out = (struct groups){0};
    size_t next = at;
    for (size_t i = 0; i < GROUPS_MAX; i++) {
        size_t digits = read_group(fold, next, &out->value[i]);
        if (digits == 0) {
            return;
        }
        out->digits[i] = digits;
        out->count = i + 1;
        out->end = next + digits;
        uint16_t mark = fold_at(fold, out->end);
        if (!is_mark(mark) || (i > 0 && mark != out->mark) ||
            !fold_is_digit(fold_at(fold, out->end + 1))) {
            return;
        }
        out->mark = mark;
        next = out->end + 1;
    }
}

bool dates_is_day(int32_t year, int32_t month, int32_t day)
{
    static const int32_t days[] = {31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    if (month < 1 || month > 12 || day < 1 || day > days[month - 1]) {
        return false;
    }
    return month != 2 || day < 29 || year == 0 || leap;
}

static bool is_short(const struct groups *groups, size_t i)
{
    return groups->digits[i] <= 2 && groups->value[i] >= 1 && groups->value[i] <= 31;
}

static bool is_year(const struct groups *groups, size_t i)
{
    return groups->digits[i] == 4 && groups->value[i] >= 2000 && groups->value[i] < 2100;
}

static struct dates_found make_day(int32_t year, int32_t month, int32_t day, size_t end)
{
    struct dates_found found = {DATES_DAY, year, month, day, false, end};
    if (!dates_is_day(year, month, day)) {
        found.kind = DATES_NO_SUCH_DAY;
    }
    return found;
}

static struct dates_found by_order(const struct groups *groups, enum crew_date_order order,
                                   int32_t year)
{
    bool month_first = order == CREW_DATE_MDY;
    return make_day(year, groups->value[month_first ? 0 : 1], groups->value[month_first ? 1 : 0],
                    groups->end);
}

static bool is_fraction(const struct groups *groups)
{
    int32_t below = groups->value[1];
    return groups->value[0] < below && (below <= 4 || below == 8);
}

static struct dates_found read_two(const struct groups *groups, enum crew_date_order order)
{
    struct dates_found found = {.kind = DATES_NONE, .end = groups->end};
    if (groups->mark == '/' && is_short(groups, 0) && is_short(groups, 1) &&
        (groups->value[0] <= 12 || groups->value[1] <= 12)) {
        found = by_order(groups, order, 0);
        found.fraction = is_fraction(groups);
    } else if (groups->mark == '-' && groups->digits[0] == 3 && groups->digits[1] == 4) {
        found.kind = DATES_OTHER;
    }
    return found;
}

static struct dates_found read_three(const struct groups *groups, enum crew_date_order order)
{
    if (groups->mark != '.' && is_year(groups, 0) && groups->digits[1] <= 2 &&
        groups->digits[2] <= 2) {
        return make_day(groups->value[0], groups->value[1], groups->value[2], groups->end);
    }
    if (is_short(groups, 0) && is_short(groups, 1)) {
        if (is_year(groups, 2)) {
            return by_order(groups, order, groups->value[2]);
        }
        if (groups->digits[2] == 2) {
            return by_order(groups, order, 2000 + groups->value[2]);
        }
    }
    return (struct dates_found){.kind = groups->mark == '.' ? DATES_NONE : DATES_OTHER,
                                .end = groups->end};
}

/* "(206) 555-0110": an area code in brackets. */
static bool is_area_code(const struct fold *fold, size_t at)
{
    int32_t value = 0;
    size_t after = fold_is_digit(fold_at(fold, at + 5)) ? at + 5 : at + 6;
    return fold_at(fold, at) == '(' && read_group(fold, at + 1, &value) == 3 &&
           fold_at(fold, at + 4) == ')' && read_group(fold, after, &value) == 3;
}

static size_t pass_number(const struct fold *fold, size_t at)
{
    size_t end = at;
    while (fold_is_digit(fold_at(fold, end)) ||
           ((fold_at(fold, end) == '-' || fold_is_blank(fold_at(fold, end))) &&
            fold_is_digit(fold_at(fold, end + 1)))) {
        end++;
    }
    return end;
}

struct dates_found dates_at(const struct fold *fold, size_t at, enum crew_date_order order)
{
    struct groups groups;
    struct dates_found found = {.kind = DATES_NONE};
    if (is_area_code(fold, at)) {
        return (struct dates_found){.kind = DATES_OTHER, .end = pass_number(fold, at + 5)};
    }
    read_groups(fold, at, &groups);
    if (fold_is_alnum(fold_at(fold, groups.end)) || groups.count < 2) {
        return found;
    }
    if (groups.count == 2) {
        return read_two(&groups, order);
    }
    return groups.count == 3 ? read_three(&groups, order)
                             : (struct dates_found){.kind = DATES_OTHER, .end = groups.end};
}
