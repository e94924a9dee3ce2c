/* SPDX-License-Identifier: MIT
 * crew_text_before: what stands before the machine in its sentence.
 *
 * Courtesies, articles, days, and who speaks leave a report what it is. A sentence that asks, plans,
 * supposes or denies reports nothing, and a figure right before the machine may be the machine's own. */
#include "parsers/crew_text_statement.h"

#define NO_REPORT (WORD_ASKS | WORD_PLANS | WORD_DENIES)

bool before_opens(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    const struct item *next = items_at(items, i + 1);
    bool introduces = item_tells(item, TOPIC_INTRODUCES) &&
                      (item_is(next, WORD_COURTESY) || natures_is_capitalised(items, next));
    bool is_name = item_tells(items_at(items, i - 1), TOPIC_INTRODUCES) &&
                   natures_is_capitalised(items, item) && item->sense.classes == 0;
    return item->kind == ITEM_MARK || item->kind == ITEM_WHEN || introduces || is_name ||
           item_is(item, WORD_COURTESY | WORD_ARTICLE | WORD_ASSENT | WORD_JOIN | WORD_NOUN);
}

/* A figure right before the machine, which could be its own: "1340 M12 220". One that a word
 * counts ("crew 3: M12 1340") is none, unless it is like a meter's. */
static void find_figure(const struct items *items, size_t from, size_t to, struct before *out)
{
    size_t at = to;
    while (at > from && (item_is_mark_or_break(items_at(items, at - 1)) ||
                         items_at(items, at - 1)->kind == ITEM_WHEN)) {
        at--;
    }
    const struct item *item = items_at(items, at - 1);
    const struct item *counts = items_at(items, at - 2);
    if (at == from || !item_is_hours(item) || when_clock_minute(item) >= 0 ||
        split_is_list_number(items, at - 1) || item_is_mark(counts, '#')) {
        return;
    }
    bool counted = at - 1 > from && counts->kind == ITEM_WORD;
    out->figure = !counted || item->figure.hours_said || item->figure.hours.whole_digits >= 3;
    out->first = item->figure.hours;
}

struct before before_read(const struct items *items, size_t spoken_from, size_t from, size_t begin,
                          size_t to)
{
    struct before out = {.begin = begin, .clean = true, .when = {.minute_of_day = -1}};
    bool first = true;
    for (size_t i = spoken_from; i < to; i++) {
        const struct item *item = items_at(items, i);
        if (split_is_stop(item) || item->kind == ITEM_BREAK || item_is_mark(item, ';')) {
            out.hedged = false; /* what a sentence asks or plans says nothing of the next */
            out.asks = false;
            out.figures = false;
            first = true;
            continue;
        }
        bool asks_first = first && item_is(item, WORD_ASKS_FIRST);
        /* "Si," and "no," are answers. */
        bool answers = item_is(item, WORDS_ANSWER) && split_is_boundary(items_at(items, i + 1));
        bool opens = before_opens(items, i);
        out.asks |= asks_first || item_is(item, WORD_ASKS | WORD_STATUS | WORD_DUE);
        out.hedged |= asks_first || (item_is(item, NO_REPORT) && !answers);
        out.figures |= item->kind == ITEM_FIGURE && !split_is_list_number(items, i);
        first = first && opens;
        if (i >= begin) {
            out.clean = item->kind == ITEM_MARK || (out.clean && opens);
            out.when = item->kind == ITEM_WHEN ? item->figure.when : out.when;
        }
    }
    find_figure(items, from, to, &out);
    return out;
}
