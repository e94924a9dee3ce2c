/* SPDX-License-Identifier: MIT
 * crew_text_when: the days and times of day that a text names.
 *
 * Digits in groups, "3/14", "206-555-0110", are read first: the groups and the one mark between
 * them, whose number and widths say what they are. Two groups are a date only with a slash between
 * ("12-30" is a machine and a figure).
 *
 * Then, among the items, a day is a word, a weekday, a date, or so many days ago; words like "on" or
 * "as of" may stand before it and a part of the day or a time after it. What else a word could be
 * ("sat", "may", "mar") is settled by what follows. */
#include "parsers/crew_text_items.h"

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
        if ((mark != '/' && mark != '-' && mark != '.') || (i > 0 && mark != out->mark) ||
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
    enum dates_kind kind = dates_is_day(year, month, day) ? DATES_DAY : DATES_NO_SUCH_DAY;
    return (struct dates_found){kind, year, month, day, false, end};
}

static struct dates_found by_order(const struct groups *groups, enum crew_date_order order,
                                   int32_t year)
{
    bool month_first = order == CREW_DATE_MDY;
    return make_day(year, groups->value[month_first ? 0 : 1], groups->value[month_first ? 1 : 0],
                    groups->end);
}

/* "3/14"; "1/2" may be a fraction, "555-0110" is a telephone number. */
static struct dates_found read_two(const struct groups *groups, enum crew_date_order order)
{
    int32_t first = groups->value[0];
    int32_t below = groups->value[1];
    struct dates_found found = {.kind = DATES_NONE, .end = groups->end};
    if (groups->mark == '/' && is_short(groups, 0) && is_short(groups, 1) &&
        (first <= 12 || below <= 12)) {
        found = by_order(groups, order, 0);
        found.fraction = first < below && (below <= 4 || below == 8);
    } else if (groups->mark == '-' && groups->digits[0] == 3 && groups->digits[1] == 4) {
        found.kind = DATES_OTHER;
    }
    return found;
}

/* "2027-03-14", "3/14/2027", "3/14/27" */
static struct dates_found read_three(const struct groups *groups, enum crew_date_order order)
{
    bool day_and_month = is_short(groups, 0) && is_short(groups, 1);
    if (groups->mark != '.' && is_year(groups, 0) && groups->digits[1] <= 2 &&
        groups->digits[2] <= 2) {
        return make_day(groups->value[0], groups->value[1], groups->value[2], groups->end);
    }
    if (day_and_month && (is_year(groups, 2) || groups->digits[2] == 2)) {
        return by_order(groups, order, groups->value[2] + (is_year(groups, 2) ? 0 : 2000));
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

/* "206 555 0110": a telephone number in groups, as in a signature. */
static bool is_spaced_number(const struct fold *fold, size_t at)
{
    static const size_t widths[] = {3, 3, 4};
    size_t next = at;
    for (size_t i = 0; i < sizeof widths / sizeof widths[0]; i++) {
        int32_t value = 0;
        if (read_group(fold, next, &value) != widths[i]) {
            return false;
        }
        next += widths[i] + 1;
        if (i < 2 && !fold_is_blank(fold_at(fold, next - 1))) {
            return false;
        }
    }
    return !fold_is_alnum(fold_at(fold, next - 1));
}

struct dates_found dates_at(const struct fold *fold, size_t at, enum crew_date_order order)
{
    struct groups groups;
    struct dates_found found = {.kind = DATES_NONE};
    if (is_area_code(fold, at)) {
        return (struct dates_found){.kind = DATES_OTHER, .end = pass_number(fold, at + 5)};
    }
    if (is_spaced_number(fold, at)) {
        return (struct dates_found){.kind = DATES_OTHER, .end = pass_number(fold, at)};
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

#define LEADING_WORDS_MAX 3
#define NO_MONTH 0

/* What a run of items names: up to but not with item `next`; nothing where next is 0. */
struct named {
    struct crew_when when;
    size_t next;
};

static const struct named nothing = {{.kind = CREW_WHEN_UNSAID, .minute_of_day = -1}, 0};

/* A whole number without a unit, least..most; 0 for anything else. */
static int32_t number_of(const struct item *item, int32_t least, int32_t most)
{
    int64_t number = item->figure.number;
    bool bare = item->kind == ITEM_FIGURE && !item->figure.hours_said &&
                (item->figure.kind == FIGURE_HOURS || item->figure.kind == FIGURE_ORDINAL);
    return bare && number >= least && number <= most ? (int32_t)number : 0;
}

/* True where a word that could be another one is left alone: no other word goes on after it. */
static bool ends_before(const struct item *next)
{
    return next->kind != ITEM_WORD ||
           item_is(next, WORD_JOIN | WORD_DAYPART | WORD_AT | WORD_POLITE);
}

static struct named days_ago(int64_t days, size_t next)
{
    struct named named = nothing;
    named.when.kind = CREW_WHEN_DAYS_AGO;
    named.when.days_ago = (int32_t)days;
    named.when.ahead = days < 0;
    named.next = next;
    return named;
}

/* "Mar 14", "14 de marzo", with a year or without: `next` is the item after day and month. */
static struct named month_and_day(const struct items *items, int8_t month, int32_t day, size_t next)
{
    struct named named = nothing;
    size_t year_at = next;
    while (item_is(items_at(items, year_at), WORD_OF) ||
           item_is_mark(items_at(items, year_at), ',')) {
        year_at++;
    }
    named.when.kind = CREW_WHEN_DATE;
    named.when.month = month;
    named.when.day = day;
    named.when.year = number_of(items_at(items, year_at), 2000, 2099);
    named.next = named.when.year > 0 ? year_at + 1 : next;
    if (!dates_is_day(named.when.year, named.when.month, named.when.day)) {
        named.when.month = NO_MONTH;
    }
    return named;
}

static struct named name_by_word(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    const struct item *next = items_at(items, i + 1);
    if (item_is(item, WORD_DAY)) {
        return days_ago(item->sense.value, i + 1);
    }
    if (item_is(item, WORD_MONTH) && number_of(next, 1, 31) > 0) {
        return month_and_day(items, item->sense.month, number_of(next, 1, 31), i + 2);
    }
    if (item_is(item, WORD_WEEKDAY) && (!item_is(item, WORD_WEEKDAY_SHORT) || ends_before(next))) {
        struct named named = nothing;
        named.when.kind = CREW_WHEN_WEEKDAY;
        named.when.weekday = item->sense.weekday;
        named.next = i + 1;
        return named;
    }
    return nothing;
}

/* "14 mar", "14 de marzo", "5th of May" */
static struct named name_by_number(const struct items *items, size_t i)
{
    int32_t day = number_of(items_at(items, i), 1, 31);
    size_t month_at = item_is(items_at(items, i + 1), WORD_OF) ? i + 2 : i + 1;
    const struct item *month = items_at(items, month_at);
    bool other_word = (month->sense.classes & ~WORD_MONTH) != 0;
    if (day == 0 || !item_is(month, WORD_MONTH) ||
        (other_word && !ends_before(items_at(items, month_at + 1)))) {
        return nothing;
    }
    return month_and_day(items, month->sense.month, day, month_at + 1);
}

static int64_t days_of(const struct item *item)
{
    return item->kind == ITEM_FIGURE ? figure_days(&item->figure) : -1;
}

/* "1/2 tank": a fraction rather than a day where a word goes on after it. */
static bool is_date(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    const struct item *next = items_at(items, i + 1);
    bool word_follows = next->kind == ITEM_WORD && !item_is(next, WORD_COURTESY | WORD_JOIN);
    const struct item *before =
        items_at(items, item_is(items_at(items, i - 1), WORD_JOIN) ? i - 2 : i - 1);
    bool half_hour =
        item_is_hours(before) && item->figure.when.day <= 2 && item->figure.when.month <= 2;
    return !item->figure.fraction || !(word_follows || half_hour);
}

static struct named name_day(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    if (item->kind != ITEM_FIGURE) {
        bool since = item_is(item, WORD_SINCE) && days_of(items_at(items, i + 1)) >= 0;
        return since ? days_ago(days_of(items_at(items, i + 1)), i + 2) : name_by_word(items, i);
    }
    if (item->figure.kind == FIGURE_DATE && is_date(items, i)) {
        return (struct named){item->figure.when, i + 1};
    }
    if (days_of(item) >= 0 && item_is(items_at(items, i + 1), WORD_AGO)) {
        return days_ago(days_of(item), i + 2);
    }
    return name_by_number(items, i);
}

int32_t when_clock_minute(const struct item *item)
{
    int64_t hundredths = item->figure.hours.hundredths;
    if (!item_is_hours(item) || !item->figure.hours.clock || item->figure.hours_said ||
        hundredths >= 2400) {
        return -1;
    }
    return (int32_t)(hundredths / 100 * 60 + (hundredths % 100 * 60 + 50) / 100);
}

/* A time at item i, "at" passed over: its minute, and in *next the item after it. A clock without
 * am or pm counts only where a day is named (after_day), a bare hour only with a part of the day. */
static int32_t time_at(const struct items *items, size_t i, bool after_day, size_t *next)
{
    size_t at =
        item_is(items_at(items, i), WORD_AT) || item_is_mark(items_at(items, i), '@') ? i + 1 : i;
    const struct item *item = items_at(items, at);
    const struct item *part = items_at(items, at + 1);
    *next = at + 1;
    if (item->kind == ITEM_FIGURE && item->figure.kind == FIGURE_TIME) {
        return item->figure.when.minute_of_day;
    }
    int32_t hour = number_of(item, 1, 12);
    int32_t minute = hour > 0 ? hour * 60 : when_clock_minute(item);
    if (minute >= 0 && item_is(part, WORD_DAYPART) && part->sense.value != 0) {
        *next = at + 2;
        return minute % 720 + (part->sense.value == 2 ? 720 : 0);
    }
    return after_day ? when_clock_minute(item) : -1;
}

/* "by Friday", "next week": a day that is yet to come. */
static struct named name_future(const struct items *items, size_t i)
{
    struct named named = nothing;
    if (item_is(items_at(items, i), WORD_NEXT)) {
        named = name_day(items, i + 1);
        if (named.next == 0 && item_is(items_at(items, i + 1), WORD_WEEKS)) {
            named.when.kind = CREW_WHEN_AHEAD;
            named.next = i + 2;
        }
        named.when.ahead = named.next > 0;
    }
    return named;
}

/* A day at item i, words like "as of" passed over. */
static struct named name_after_words(const struct items *items, size_t i)
{
    struct named named = nothing;
    for (size_t lead = 0; lead <= LEADING_WORDS_MAX; lead++) {
        named = name_day(items, i + lead);
        if (!item_is(items_at(items, i + lead), WORD_BEFORE_DAY | WORD_DAYPART)) {
            return named;
        }
    }
    return nothing;
}

/* Words that a day or a time can begin with; most can not. */
#define MAY_BEGIN                                                                                  \
    (WORD_NEXT | WORD_BEFORE_DAY | WORD_DAYPART | WORD_SINCE | WORD_DAY | WORD_MONTH |             \
     WORD_WEEKDAY | WORD_AT)

/* A day at item i with the part of it and the time behind, or a time alone or with the day behind. */
static struct named name_at(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    size_t next = 0;
    if (item->kind != ITEM_FIGURE && !item_is_mark(item, '@') && !item_is(item, MAY_BEGIN)) {
        return nothing;
    }
    struct named named = name_future(items, i);
    if (named.next == 0) {
        named = name_after_words(items, i);
    }
    if (named.next > 0) {
        while (item_is(items_at(items, named.next), WORD_DAYPART)) {
            named.next++;
        }
        int32_t minute = time_at(items, named.next, true, &next);
        named.next = minute >= 0 ? next : named.next;
        named.when.minute_of_day = minute >= 0 ? minute : named.when.minute_of_day;
        return named;
    }
    int32_t minute = time_at(items, item_is(item, WORD_BEFORE_DAY) ? i + 1 : i, false, &next);
    if (minute < 0) {
        return nothing;
    }
    named = name_after_words(items, next);
    if (named.next == 0) {
        named = days_ago(0, next);
    }
    named.when.minute_of_day = minute;
    return named;
}

void when_reduce(struct items *items)
{
    size_t count = 0;
    size_t next = 0;
    for (; count < ITEMS_MAX && next < items->count; count++) {
        struct named named = name_at(items, next);
        if (count < next) {
            struct item moved = items->item[next];
            items->item[count] = moved;
        }
        if (named.next > 0) {
            items->item[count].end = items_at(items, named.next - 1)->end;
            items->item[count].figure.when = named.when;
            items->item[count].kind = ITEM_WHEN;
        }
        next = named.next > 0 ? named.next : next + 1;
    }
    items->count = count;
}
