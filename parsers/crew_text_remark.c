/* SPDX-License-Identifier: MIT
 * crew_text_remark: what is said after a figure.
 *
 * Days and courtesies come first; then either a second figure, which makes the first one doubtful
 * unless a word that is no unit goes on after it ("2 tyres low"), or words: the remark. */
#include "parsers/crew_text_statement.h"

#define NOON_MINUTE 720

/* Words that make no remark on their own. */
#define SAYS_NOTHING                                                                               \
    (WORD_COURTESY | WORD_ASSENT | WORD_LINK | WORD_ARTICLE | WORD_FILLER | WORD_JOIN |            \
     WORD_HOURS | WORD_SIGNOFF)

/* Words that may stand between a figure and a second one that is set beside it. */
#define BETWEEN_FIGURES                                                                            \
    (WORD_INSTEAD | WORD_LINK | WORD_COURTESY | WORD_ARTICLE | WORD_FILLER | WORD_ABOUT | WORD_JOIN)

/* Punctuation around a remark; a sign of money or number belongs to it. */
static bool is_trimmed(const struct item *item)
{
    return item_is_mark_or_break(item) && !item_is_mark(item, '$') && !item_is_mark(item, '#') &&
           !item_is_mark(item, '%');
}

/* A line that a phone adds, or "--" alone on one: what follows is a signature. */
static bool is_signature_line(const struct items *items, size_t i)
{
    const struct item *first = items_at(items, i + 1);
    bool dashes = item_is_mark(first, '-') && item_is_mark(items_at(items, i + 2), '-') &&
                  items_at(items, i + 3)->kind == ITEM_BREAK;
    return items_at(items, i)->kind == ITEM_BREAK && (dashes || item_is(first, WORD_SIGNOFF));
}

/* The end of a remark that a signature follows: a line that a phone adds, a name alone on the last
 * line, or what stands below a line of dashes. */
static size_t before_signature(const struct items *items, size_t i, size_t end)
{
    size_t line = end; /* the last line break */
    bool courtesies = true;
    for (size_t at = i; at < end; at++) {
        const struct item *item = items_at(items, at);
        if (is_signature_line(items, at)) {
            return at;
        }
        courtesies = item->kind == ITEM_BREAK ||
                     (courtesies && (item_is_mark_or_break(item) || item_is(item, WORD_COURTESY)));
        line = item->kind == ITEM_BREAK ? at : line;
    }
    return courtesies ? line : end;
}

/* "-Tom" at the end of a text. */
static bool is_signed_at(const struct items *items, size_t i, size_t end)
{
    const struct item *name = items_at(items, i + 1);
    return i + 2 == end && item_is_mark(items_at(items, i), '-') && name->kind == ITEM_WORD &&
           !name->spaced && items_at(items, i)->spaced &&
           fold_is_upper(fold_at(items->fold, name->at));
}

/* The end of the words in the items [begin, end): a signature and marks behind them are left out. */
static size_t words_end(const struct items *items, size_t begin, size_t end)
{
    size_t last = before_signature(items, begin, end);
    if (last >= begin + 2 && is_signed_at(items, last - 2, last)) {
        last -= 2;
    }
    while (last > begin && item_is_mark_or_break(items_at(items, last - 1)) &&
           !split_is_stop(items_at(items, last - 1))) {
        last--;
    }
    return last;
}

static struct crew_slice slice_of(const struct items *items, size_t first, size_t end)
{
    struct crew_slice empty = {0, 0};
    return first < end
               ? fold_slice(items->fold, items_at(items, first)->at, items_at(items, end - 1)->end)
               : empty;
}

struct crew_slice remark_words(const struct items *items, size_t first, size_t end)
{
    size_t begin = first;
    size_t last = words_end(items, first, end);
    while (last > first && (item_is_mark(items_at(items, last - 1), '.') ||
                            item_is_mark(items_at(items, last - 1), '!'))) {
        last--; /* whoever reads it back ends the sentence */
    }
    while (begin < last &&
           (is_trimmed(items_at(items, begin)) || item_is(items_at(items, begin), WORD_JOIN))) {
        begin++;
    }
    return slice_of(items, begin, last);
}

/* The same behind a figure, where words that say nothing are no remark. */
static struct crew_slice cut_remark(const struct items *items, size_t first, size_t end)
{
    size_t last = words_end(items, first, end);
    bool anything = false;
    for (size_t at = first; at < last; at++) {
        const struct item *item = items_at(items, at);
        anything = anything || !(item_is_mark_or_break(item) || item->kind == ITEM_WHEN ||
                                 item_is(item, SAYS_NOTHING) || item_tells(item, TOPIC_SORRY));
    }
    bool signs_off = item_is(items_at(items, first), WORD_SIGNOFF);
    return slice_of(items, first, anything && !signs_off ? last : first);
}

/* True where a word goes on right after item i, so that a figure there counts something. */
static bool word_goes_on(const struct items *items, size_t i)
{
    const struct item *next = items_at(items, i + 1);
    return next->kind == ITEM_WORD && !item_is(next, WORD_COURTESY | WORD_JOIN | WORD_ROUGHLY);
}

/* A second figure of hours at item i, perhaps after words that set it beside the first. */
static bool second_figure(const struct items *items, size_t i, size_t end,
                          struct hours_figure *second)
{
    bool instead = false;
    size_t at = i;
    while (at < end &&
           (item_is_mark_or_break(items_at(items, at)) || items_at(items, at)->kind == ITEM_WHEN ||
            item_is(items_at(items, at), BETWEEN_FIGURES))) {
        instead = instead || item_is(items_at(items, at), WORD_INSTEAD);
        at++;
    }
    const struct item *item = items_at(items, at);
    bool worked = item->figure.nature == CREW_NATURE_WORKED &&
                  item_is_mark_or_break(items_at(items, at - 1)); /* "1341, 6.5 hours today" */
    if (at >= end || !item_is_hours(item) || worked) {
        return false;
    }
    bool beside =
        (instead || item_is(items_at(items, at + 1), WORD_INSTEAD)) && item_is_like_meter(item);
    *second = item->figure.hours;
    return beside || !word_goes_on(items, at);
}

/* "at 6:15" after a figure: passed over, and where it can only be after noon, heeded. */
static size_t pass_clock(const struct items *items, size_t i, struct remark *out)
{
    const struct item *item = items_at(items, i);
    int32_t minute = when_clock_minute(items_at(items, i + 1));
    if (!(item_is(item, WORD_AT) || item_is_mark(item, '@')) || minute < 0) {
        return i;
    }
    if (minute > NOON_MINUTE && out->when.kind == CREW_WHEN_UNSAID) {
        out->when.kind = CREW_WHEN_DAYS_AGO;
        out->when.minute_of_day = minute;
    }
    return i + 2;
}

/* "on the 5th": a day without its month. */
static bool is_day_alone(const struct items *items, size_t i, size_t end)
{
    size_t at = i;
    while (at < end && item_is(items_at(items, at), WORD_BEFORE_DAY | WORD_ARTICLE)) {
        at++;
    }
    const struct item *item = items_at(items, at);
    return at < end && item->kind == ITEM_FIGURE && item->figure.kind == FIGURE_ORDINAL &&
           (at + 1 == end || split_is_boundary(items_at(items, at + 1)));
}

/* "30 min", "and a half", "1/2" after a figure: hours that are written in no form that is read. */
static bool is_part_of_hour(const struct items *items, size_t i, size_t end)
{
    size_t at = item_is(items_at(items, i), WORD_JOIN) ? i + 1 : i;
    const struct item *item = items_at(items, at);
    if (at >= end) {
        return false;
    }
    if (item->kind == ITEM_FIGURE) {
        return item->figure.kind == FIGURE_MINUTES ||
               (item->figure.kind == FIGURE_DATE && !word_goes_on(items, at));
    }
    return item_is(item, WORD_HALF) &&
           (at + 1 == end || split_is_boundary(items_at(items, at + 1)));
}

/* "right?" after a figure: the sender is not sure of it. */
static bool is_checked(const struct items *items, size_t i)
{
    size_t at = item_is_mark(items_at(items, i), ',') ? i + 1 : i;
    return item_is(items_at(items, at), WORD_ASSENT) && item_is_mark(items_at(items, at + 1), '?');
}

/* What stands right after the figure and makes it doubtful or bad. */
static enum crew_obstacle obstacle_beside(const struct items *items, size_t i, size_t end)
{
    const struct item *item = items_at(items, i);
    const struct item *next = items_at(items, i + 1);
    bool dash = item_is_mark(item, '-') && item_is(next, WORD_ROUGHLY);
    bool more = item_is_mark(item, '+') && !item->spaced && (i + 1 == end || next->spaced) &&
                next->kind != ITEM_FIGURE && next->kind != ITEM_MACHINE;
    bool bracket =
        item_is_mark(item, '(') && (item_is_mark(next, '?') || item_is(next, WORD_ROUGHLY));
    if (i >= end) {
        return CREW_OBSTACLE_NONE;
    }
    if (item_is_mark(item, '?') || dash || more || bracket || is_checked(items, i) ||
        (item_is(item, WORD_ROUGHLY) && (i + 1 == end || split_is_boundary(next)))) {
        return CREW_OBSTACLE_ASKED_FIGURE;
    }
    return is_part_of_hour(items, i, end) ? CREW_OBSTACLE_FIGURE_FORM : CREW_OBSTACLE_NONE;
}

/* Passes over what may stand between the figure and a remark, and takes note of the day. */
static size_t read_when(const struct items *items, size_t i, size_t end, struct remark *out)
{
    bool parted = false;
    size_t at = i;
    while (at < end) {
        const struct item *item = items_at(items, at);
        const struct item *next = items_at(items, at + 1);
        size_t after_clock = pass_clock(items, at, out);
        /* Right after the figure, or with nothing behind it: "1340. Monday I am off" is another day. */
        bool is_its_day =
            !parted || at + 1 == end || item_is(next, WORD_JOIN | WORD_POLITE) ||
            (item_is_mark_or_break(next) && !item_is_mark(next, ':') && !item_is_mark(next, '-'));
        if (item->kind == ITEM_WHEN && out->when.kind == CREW_WHEN_UNSAID && is_its_day) {
            out->when = item->figure.when;
            out->when_at = at;
            at++;
        } else if (after_clock > at) {
            at = after_clock;
        } else if (item_is(item, WORD_POLITE) ||
                   (item->kind == ITEM_WORD && fold_at(items->fold, item->at) >= FOLD_EMOJI)) {
            at++;
        } else if (is_trimmed(item) && !is_signed_at(items, at, end) &&
                   !is_signature_line(items, at)) {
            parted = true;
            at++;
        } else {
            break;
        }
    }
    return at;
}

struct remark remark_read(const struct items *items, size_t i, size_t end)
{
    struct remark out = {.when = {.minute_of_day = -1}, .when_at = end};
    out.obstacle = obstacle_beside(items, i, end);
    out.begin = read_when(items, i, end, &out);
    if (out.obstacle == CREW_OBSTACLE_NONE && second_figure(items, out.begin, end, &out.second)) {
        out.obstacle = CREW_OBSTACLE_TWO_FIGURES;
    } else if (out.obstacle == CREW_OBSTACLE_NONE &&
               (retraction_withdraws(items, out.begin, end) ||
                retraction_withdraws(items, out.begin, split_part_end(items, out.begin)))) {
        out.obstacle = CREW_OBSTACLE_WITHDRAWN;
    } else if (out.obstacle == CREW_OBSTACLE_NONE && is_day_alone(items, out.begin, end)) {
        out.obstacle = CREW_OBSTACLE_DATE;
    }
    if (out.obstacle != CREW_OBSTACLE_TWO_FIGURES) {
        out.slice = cut_remark(items, out.begin, end);
    }
    return out;
}
