/* SPDX-License-Identifier: MIT
 * crew_text_when: the days and times of day that a text names.
 *
 * A day is a word, a weekday, a date, or so many days ago; words like "on" or "as of" may stand
 * before it and a part of the day or a time after it. What else a word could be ("sat", "may",
 * "mar") is settled by what follows. */
#include "parsers/crew_text_when.h"

#include "parsers/crew_text_dates.h"

#define LEADING_WORDS_MAX 3
#define FUTURE (-1)
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
    bool word_follows = next->kind == ITEM_WORD && (next->sense.classes & WORD_COURTESY) == 0;
    bool half_hour = item_is_hours(items_at(items, i - 1)) && item->figure.when.day <= 2 &&
                     item->figure.when.month <= 2;
    return !item->figure.fraction || !(word_follows || half_hour);
}

static struct named name_by_figure(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    if (item->figure.kind == FIGURE_DATE && is_date(items, i)) {
        struct named named = {item->figure.when, i + 1};
        return named;
    }
    if (days_of(item) >= 0 && item_is(items_at(items, i + 1), WORD_AGO)) {
        return days_ago(days_of(item), i + 2);
    }
    return name_by_number(items, i);
}

static struct named name_day(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    if (item->kind == ITEM_FIGURE) {
        return name_by_figure(items, i);
    }
    if (item_is(item, WORD_SINCE) && days_of(items_at(items, i + 1)) >= 0) {
        return days_ago(days_of(items_at(items, i + 1)), i + 2);
    }
    return name_by_word(items, i);
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

/* The part of the day and the time after a day. */
static void add_time(const struct items *items, struct named *named)
{
    size_t next = 0;
    while (item_is(items_at(items, named->next), WORD_DAYPART)) {
        named->next++;
    }
    int32_t minute = time_at(items, named->next, true, &next);
    if (minute >= 0) {
        named->when.minute_of_day = minute;
        named->next = next;
    }
}

/* "by Friday", "next week": a day that is yet to come. */
static struct named name_future(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    const struct item *next = items_at(items, i + 1);
    struct named named = nothing;
    if (!item_is(item, WORD_NEXT)) {
        return nothing;
    }
    named = name_day(items, i + 1);
    if (named.next > 0 || item_is(next, WORD_WEEKS)) {
        named = days_ago(FUTURE, named.next > 0 ? named.next : i + 2);
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

static struct named name_at(const struct items *items, size_t i)
{
    struct named named = name_future(items, i);
    size_t next = 0;
    if (named.next == 0) {
        named = name_after_words(items, i);
    }
    if (named.next > 0) {
        add_time(items, &named);
        return named;
    }
    size_t at = item_is(items_at(items, i), WORD_BEFORE_DAY) ? i + 1 : i;
    int32_t minute = time_at(items, at, false, &next);
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
        struct item item = *items_at(items, next);
        if (named.next > 0) {
            item.kind = ITEM_WHEN;
            item.end = items_at(items, named.next - 1)->end;
            item.figure.when = named.when;
        }
        items->item[count] = item;
        next = named.next > 0 ? named.next : next + 1;
    }
    items->count = count;
}
