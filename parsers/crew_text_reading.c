/* SPDX-License-Identifier: MIT
 * crew_text_reading: a reading: a figure of the meter, or words that stand for one.
 *
 * What stands behind the figure, or before the machine, may make it doubtful. "did not run" is the figure
 * of the last reading, and of "start 1335 end 1340" the second counts. A blank may part the thousands of
 * one figure, or two figures: "1 341" is asked about as one. */
#include "parsers/crew_text_statement.h"

#define GROUP_DIGITS 3     /* behind a mark of thousands */
#define FIRST_GROUP_MAX 99 /* no meter shows 100 000: "404 405" are two figures */
#define GROUP_HUNDREDTHS INT64_C(100000)

/* True where the digits of an item begin with a whole group, whatever decimals follow. */
static bool is_group(const struct items *items, const struct item *item)
{
    size_t digits = 0;
    while (digits <= GROUP_DIGITS && fold_digit(fold_at(items->fold, item->at + digits)) >= 0) {
        digits++;
    }
    return digits == GROUP_DIGITS && item_is_hours(item) && !item->figure.hours.ambiguous &&
           !item->figure.hours.clock && item->figure.nature == CREW_NATURE_METER;
}

/* "1 341 heures": the figure at item i and the next one are one, parted by a single blank; no word goes on
 * that the second may count. *out: the figure. */
static bool is_parted(const struct items *items, size_t i, struct hours_figure *out)
{
    const struct item *first = items_at(items, i);
    const struct item *group = items_at(items, i + 1);
    const struct item *after = items_at(items, i + 2);
    bool counts =
        after->kind == ITEM_FIGURE || (after->kind == ITEM_WORD && !group->figure.hours_said &&
                                       !item_is(after, WORD_COURTESY | WORD_JOIN));
    if (!item_is_hours(first) || first->figure.number < 1 ||
        first->figure.number > FIRST_GROUP_MAX || first->figure.hours_said ||
        first->figure.nature != CREW_NATURE_METER || group->at != first->end + 1 ||
        !is_group(items, group) || counts) {
        return false;
    }
    struct crew_slice slice = fold_slice(items->fold, first->at, group->end);
    *out = group->figure.hours;
    out->hundredths = first->figure.number % (FIRST_GROUP_MAX + 1) * GROUP_HUNDREDTHS +
                      out->hundredths % GROUP_HUNDREDTHS;
    out->whole_digits = (uint8_t)(first->figure.hours.whole_digits + GROUP_DIGITS);
    out->start = slice.start;
    out->length = slice.length;
    return true;
}

struct statement_end reading_read(const struct reader *reader, size_t figure, size_t last,
                                  struct crew_statement *out)
{
    const struct items *items = reader->items;
    out->hours = items_at(items, figure)->figure.hours;
    bool parted = figure == last && is_parted(items, figure, &out->hours);
    size_t through = parted ? last + 1 : last;
    size_t end = split_end(items, through + 1, true);
    struct remark remark = remark_read(items, through + 1, end);
    out->kind = CREW_READING;
    out->nature = items_at(items, figure)->figure.nature;
    out->new_meter = reader->between.new_meter;
    for (size_t at = through + 1; at < end; at++) {
        out->new_meter = out->new_meter || item_tells(items_at(items, at), TOPIC_NEW_METER);
    }
    out->obstacle = remark.obstacle;
    if (reader->before->figure) {
        out->obstacle = CREW_OBSTACLE_TWO_FIGURES;
    } else if (remark.obstacle == CREW_OBSTACLE_NONE && (reader->between.about || parted)) {
        out->obstacle = CREW_OBSTACLE_ASKED_FIGURE;
    }
    out->remark = remark.slice;
    out->when = remark.when;
    if (out->obstacle == CREW_OBSTACLE_TWO_FIGURES) {
        out->to_hours = reader->before->figure ? reader->before->first : remark.second;
    }
    size_t wrong = retraction_rather_than(items, remark.begin, end);
    if (out->obstacle == CREW_OBSTACLE_NONE && wrong < items->count) { /* "1341 not 1340" */
        out->kind = CREW_CORRECT;
        out->of_own_last = true;
        out->to_hours = items_at(items, wrong)->figure.hours;
    } else if (remark.slice.length > 0) {
        const struct item *first = items_at(items, remark.begin);
        out->figure_then_word = remark.begin == figure + 1 && first->kind == ITEM_WORD;
        out->done_follows = item_is(first, WORD_DONE);
        remark.when_at = end;
    }
    statement_set_when(reader, out);
    return (struct statement_end){end, remark.when_at, remark.begin};
}

bool reading_is_same(const struct reader *reader)
{
    const struct items *items = reader->items;
    const struct item *item = items_at(items, reader->between.next);
    const struct item *next = items_at(items, reader->between.next + 1);
    if (!item_tells(item, TOPIC_SAME)) {
        return false;
    }
    bool ends = split_is_boundary(next) || next->kind != ITEM_WORD ||
                item_is(next, WORD_POLITE | WORD_HOURS) ||
                items_at(items, reader->between.next + 2)->kind == ITEM_MACHINE;
    return ends ||
           (item->sense.value == 1 && !item_is(next, WORD_ASSENT | WORD_COURTESY | WORD_PLANS));
}

struct statement_end reading_same(const struct reader *reader, size_t said, size_t end,
                                  struct crew_statement *out)
{
    struct remark remark = remark_read(reader->items, said, end);
    out->kind = CREW_READING;
    out->same_as_last = true;
    out->obstacle = CREW_OBSTACLE_NONE;
    out->remark = remark.slice;
    out->when = remark.when;
    statement_set_when(reader, out);
    return (struct statement_end){end, end, remark.begin};
}

size_t reading_span_end(const struct reader *reader)
{
    const struct items *items = reader->items;
    size_t at = reader->between.next;
    bool begins = item_tells(items_at(items, at), TOPIC_BEGINS);
    size_t first = split_pass_links(items, begins ? at + 1 : at);
    bool ends = false;
    if (!item_is_hours(items_at(items, first))) {
        return items->count;
    }
    for (at = first + 1; at < items->count; at++) {
        const struct item *item = items_at(items, at);
        if (item_is_hours(item)) {
            break;
        }
        ends = ends || item_tells(item, TOPIC_ENDS);
        begins = begins || item_tells(item, TOPIC_BEGINS);
        if (item_is_mark(item, '?') ||
            !(item_is_mark_or_break(item) || item_tells(item, TOPIC_ENDS | TOPIC_BEGINS) ||
              item_is(item, WORD_LINK | WORD_JOIN | WORD_ARTICLE | WORD_HOURS | WORD_INSTEAD))) {
            return items->count;
        }
    }
    const struct hours_figure *one = &items_at(items, first)->figure.hours;
    const struct hours_figure *two = &items_at(items, at)->figure.hours;
    bool like_meters =
        one->whole_digits + one->decimal_digits >= 3 && one->hundredths <= two->hundredths;
    return item_is_hours(items_at(items, at)) && (begins || ends) && (begins || like_meters)
               ? at
               : items->count;
}
