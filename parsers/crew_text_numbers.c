/* SPDX-License-Identifier: MIT
 * crew_text_numbers: figures in words, as a phone writes down what was spoken: "thirteen forty", "one
 * thousand three hundred forty point five", "mil trescientos cuarenta y cinco".
 *
 * Word after word is added to a group while it fits below it ("forty" and "five", "trescientos" and
 * "cuarenta"), or multiplied ("three hundred"); where it does not fit a new group begins, and the
 * groups are written one behind the other, as they are spoken: "thirteen" "forty" is 1340. A single
 * digit behind a greater group may also have lost its "oh": "thirteen four" is 134 or 1304, and both
 * are given.
 *
 * Then what follows a figure as a part of an hour is added to it: a half, minutes. */
#include "parsers/crew_text_items.h"

#define RUN_ITEMS_MAX 16
#define NUMBER_LIMIT 1000000 /* past any meter */
#define TENS 10U
#define HUNDRED 100U
#define THOUSAND 1000U
#define LONE_LEAST 20 /* a lone word below it ("one", "two") is no figure */
#define MINUTES_PER_HOUR 60

/* A number being put together. */
struct spoken {
    uint64_t before;    /* the groups that are closed, one behind the other */
    uint64_t group;     /* the one that is open */
    uint64_t last;      /* the one that was closed last */
    uint64_t otherwise; /* with an "oh" before the last digit; 0 where there is no doubt */
    size_t words;       /* how many words of numbers */
    bool open;          /* a group is open */
    bool great;         /* some word was 20 or more, or multiplied */
};

/* The number that a word says. */
static uint64_t value_of(const struct item *item)
{
    return item->sense.value > 0 ? (uint64_t)item->sense.value : 0;
}

/* True where a number may be added to the group: "forty" and "five", "thirteen hundred" and "forty".
 * Teens are added to hundreds, and to the sixties and eighties of French. */
static bool fits_below(uint64_t group, uint64_t number)
{
    uint64_t room = group % HUNDRED != 0 ? TENS : group % THOUSAND != 0 ? HUNDRED : THOUSAND;
    return number > 0 && group > 0 && group % room == 0 && number < room && group >= 2 * TENS;
}

static void close_group(struct spoken *spoken)
{
    if (spoken->open && spoken->before < NUMBER_LIMIT) {
        bool bare_digit = spoken->group > 0 && spoken->group < TENS && spoken->last >= TENS;
        spoken->otherwise = bare_digit ? spoken->before * HUNDRED + spoken->group : 0;
        spoken->last = spoken->group;
        uint64_t width = TENS;
        while (width <= spoken->group) {
            width *= TENS;
        }
        spoken->before = spoken->before * width + spoken->group;
    }
    spoken->open = false;
    spoken->group = 0;
}

/* Takes the words at item i into the number, "three hundred" as one; the item after them, i where
 * there are none. */
static size_t take_words(const struct items *items, size_t i, struct spoken *out)
{
    const struct item *item = items_at(items, i);
    bool hundred = item_tells(item, TOPIC_HUNDRED);
    bool hundreds = item_tells(item, TOPIC_NUMBER) && value_of(item) > 0 &&
                    value_of(item) < HUNDRED && item_tells(items_at(items, i + 1), TOPIC_HUNDRED);
    uint64_t number = hundred ? HUNDRED : value_of(item) * (hundreds ? HUNDRED : 1);
    if (item_tells(item, TOPIC_THOUSAND)) { /* "dos mil", and "mil" alone */
        uint64_t times = out->open && out->group > 0 ? out->group : 1;
        if (times < THOUSAND) {
            out->group = times * THOUSAND;
            out->open = true;
        }
    } else if (!item_tells(item, TOPIC_NUMBER | TOPIC_HUNDRED)) {
        return i;
    } else if (out->open && fits_below(out->group, number)) {
        out->group += number;
    } else {
        close_group(out);
        out->group = number;
        out->open = true;
    }
    out->great = out->great || hundred || hundreds || item_tells(item, TOPIC_THOUSAND) ||
                 value_of(item) >= LONE_LEAST;
    out->words++;
    return hundreds ? i + 2 : i + 1;
}

/* The item after the words of numbers from item i on, which are put together in *out; a dash or "y" may
 * join two of them: "eighty-four", "cuarenta y cinco", "hundred and five". */
static size_t read_whole(const struct items *items, size_t i, struct spoken *out)
{
    *out = (struct spoken){0};
    size_t at = i;
    size_t next = take_words(items, i, out);
    while (next > at && next < i + RUN_ITEMS_MAX) {
        const struct item *join = items_at(items, next);
        const struct item *after = items_at(items, next + 1);
        bool joins = (item_is_mark(join, '-') && !after->spaced) || item_is(join, WORD_JOIN);
        bool joined =
            joins && item_tells(after, TOPIC_NUMBER) && fits_below(out->group, value_of(after));
        at = joined ? next + 1 : next;
        next = take_words(items, at, out);
    }
    close_group(out);
    return at;
}

/* "point five", "point two five" at item i: the digits behind the point, up to two. Returns the item
 * after them, i where there are none. */
static size_t read_decimals(const struct items *items, size_t i, uint64_t *hundredths,
                            uint8_t *digits)
{
    size_t at = i + 1;
    *hundredths = 0;
    *digits = 0;
    if (!item_tells(items_at(items, i), TOPIC_POINT)) {
        return i;
    }
    const struct item *figure = items_at(items, at);
    if (item_is_hours(figure) && figure->figure.number >= 0 &&
        figure->figure.number < (int64_t)TENS) {
        *hundredths = (uint64_t)figure->figure.number * TENS;
        *digits = 1;
        return at + 1;
    }
    while (*digits < 2 && item_tells(items_at(items, at), TOPIC_NUMBER) &&
           value_of(items_at(items, at)) < TENS) {
        *hundredths += value_of(items_at(items, at)) * (*digits == 0 ? TENS : 1);
        *digits = (uint8_t)(*digits + 1);
        at++;
    }
    return *digits > 0 ? at : i;
}

/* Units that count something else than hours: a number before them is left as words. */
#define COUNTS_ELSE (WORD_MEASURE | WORD_ORDINAL | WORD_AGO)
#define COUNTED /* "five quarts", "two days" */                                                    \
    (WORD_QUARTS | WORD_LITRES | WORD_DAYS | WORD_WEEKS | WORD_MINUTES)

/* What stands at item i and may be a number in words; *next is the item after it. */
static bool number_at(const struct items *items, size_t i, struct hours_figure *out, size_t *next)
{
    struct spoken spoken;
    uint64_t decimals = 0;
    uint8_t decimal_digits = 0;
    size_t end = read_whole(items, i, &spoken);
    *next = read_decimals(items, end, &decimals, &decimal_digits);
    bool lone = spoken.words < 2 && !spoken.great && decimal_digits == 0 &&
                !item_is(items_at(items, *next), COUNTED);
    if (lone || spoken.before >= NUMBER_LIMIT || item_is(items_at(items, *next), COUNTS_ELSE)) {
        return false;
    }
    uint8_t digits = 1;
    for (uint64_t rest = spoken.before / TENS; rest > 0; rest /= TENS) {
        digits++;
    }
    *out = (struct hours_figure){.present = true,
                                 .hundredths = (int64_t)(spoken.before * HUNDRED + decimals),
                                 .whole_digits = digits,
                                 .decimal_digits = decimal_digits};
    out->ambiguous = spoken.otherwise > 0 && spoken.otherwise < NUMBER_LIMIT;
    out->otherwise_hundredths =
        out->ambiguous ? (int64_t)(spoken.otherwise * HUNDRED + decimals) : 0;
    return true;
}

/* "1340 point five": words go on after the digits. */
static bool pointed_at(const struct items *items, size_t i, struct hours_figure *out, size_t *next)
{
    const struct item *item = items_at(items, i);
    uint64_t decimals = 0;
    uint8_t digits = 0;
    if (!item_is_hours(item) || item->figure.number < 0 || item->figure.hours_said) {
        return false;
    }
    *next = read_decimals(items, i + 1, &decimals, &digits);
    *out = item->figure.hours;
    out->hundredths = (int64_t)((uint64_t)item->figure.number * HUNDRED + decimals);
    out->decimal_digits = digits;
    return *next > i + 1;
}

/* Makes one figure of the items [i, next), and of a unit behind them. */
static size_t make_figure(struct items *items, size_t i, size_t next, struct hours_figure hours)
{
    const struct item *unit = items_at(items, next);
    bool said = item_is(unit, WORD_HOURS | COUNTED);
    size_t end = said ? next + 1 : next;
    struct item *item = &items->item[i];
    struct crew_slice slice = fold_slice(items->fold, item->at, items_at(items, next - 1)->end);
    hours.start = slice.start;
    hours.length = slice.length;
    item->kind = ITEM_FIGURE;
    item->end = items_at(items, end - 1)->end;
    item->figure = (struct figure){.kind = FIGURE_HOURS,
                                   .hours = hours,
                                   .number = -1,
                                   .end = item->end,
                                   .when = {.minute_of_day = -1}};
    if (hours.decimal_digits == 0 && !hours.ambiguous) {
        item->figure.number = hours.hundredths / (int64_t)HUNDRED;
    }
    if (said) {
        figure_set_unit(&unit->sense, &item->figure);
    }
    return end;
}

void numbers_reduce(struct items *items)
{
    size_t count = 0;
    size_t next = 0;
    for (; count < ITEMS_MAX && next < items->count; count++) {
        struct hours_figure hours = {0};
        size_t end = next + 1;
        bool word =
            item_tells(items_at(items, next), TOPIC_NUMBER | TOPIC_HUNDRED | TOPIC_THOUSAND);
        if (word ? number_at(items, next, &hours, &end) : pointed_at(items, next, &hours, &end)) {
            end = make_figure(items, next, end, hours);
        } else {
            end = next + 1;
        }
        if (count < next) {
            struct item moved = items->item[next];
            items->item[count] = moved;
        }
        next = end;
    }
    items->count = count;
}

/* The hundredths of an hour that an item stands for behind a figure, 0 where it is no part of an hour. Minutes
 * count only where the hours were said. */
static int64_t part_of_hour(const struct item *item, bool hours_said)
{
    const struct figure *figure = &item->figure;
    if (item_is(item, WORD_HALF)) {
        return item->sense.value;
    }
    if (item->kind != ITEM_FIGURE) {
        return 0;
    }
    if (figure->kind == FIGURE_DATE) { /* a fraction, and only 1/2: "3/4" is a day */
        return figure->when.day <= 2 && figure->when.month <= 2 ? HALF_HUNDREDTHS : 0;
    }
    bool minutes =
        hours_said && figure->kind == FIGURE_MINUTES && figure->number < MINUTES_PER_HOUR;
    return minutes ? (figure->number % MINUTES_PER_HOUR * (int64_t)HUNDRED + MINUTES_PER_HOUR / 2) /
                         MINUTES_PER_HOUR
                   : 0;
}

/* True where a figure may end before the item: no word goes on that the part may be one of ("1/2 tank",
 * "30 min late"). */
static bool may_end_before(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    if (item->kind == ITEM_MARK) {
        return item->mark == ',' || item->mark == '.' || item->mark == ';' || item->mark == '!' ||
               item->mark == '?' || item->mark == ')';
    }
    if (item_tells(item, TOPIC_RATHER) && item_is_hours(items_at(items, i + 1))) {
        return true; /* "1341 and a half not 1340" */
    }
    return (item->kind != ITEM_WORD && item->kind != ITEM_FIGURE) ||
           item_is(item, WORD_POLITE | WORD_JOIN) || item_tells(item, TOPIC_ENDS) ||
           fold_at(items->fold, item->at) >= FOLD_EMOJI;
}

/* Adds to the figure at item i the part of an hour that follows it; the item after both. */
static size_t add_part(struct items *items, size_t i)
{
    struct item *item = &items->item[i];
    if (item->kind != ITEM_FIGURE) {
        return i + 1;
    }
    struct figure figure = item->figure;
    bool links = item_is(items_at(items, i + 1), WORD_JOIN) ||
                 (figure.hours_said && item_is(items_at(items, i + 1), WORD_LINK)); /* "con" */
    size_t at = links ? i + 2 : i + 1;
    const struct item *part = items_at(items, at);
    const struct item *after = items_at(items, at + 1);
    bool minutes = part->kind == ITEM_FIGURE && part->figure.kind == FIGURE_MINUTES;
    bool unit = !minutes && item_is(after, WORD_HOURS);
    int64_t hundredths = part_of_hour(part, figure.hours_said);
    size_t end = unit ? at + 2 : at + 1;
    bool late = minutes && after->kind == ITEM_WHEN &&
                (after->sense.classes & WORD_DAYPART) != 0; /* "30 min late today" */
    if (hundredths <= 0 || late || (!unit && !may_end_before(items, end)) ||
        !figure_add_part(hundredths, &figure)) {
        return i + 1;
    }
    struct crew_slice slice = fold_slice(items->fold, item->at, part->end);
    figure.hours.start = slice.start;
    figure.hours.length = slice.length;
    figure.hours_said = figure.hours_said || unit;
    item->end = items_at(items, end - 1)->end;
    figure.end = item->end;
    item->figure = figure;
    return end;
}

void numbers_add_parts(struct items *items)
{
    size_t count = 0;
    size_t next = 0;
    for (; count < ITEMS_MAX && next < items->count; count++) {
        size_t end = add_part(items, next);
        if (count < next) {
            struct item moved = items->item[next];
            items->item[count] = moved;
        }
        next = end;
    }
    items->count = count;
}
