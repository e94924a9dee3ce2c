/* SPDX-License-Identifier: MIT
 * crew_text_shop: a machine and a word of the grammar: DONE FIX SWAP LATER.
 *
 * These change what is on record, so they are read strictly: "fix 2 flats" and "swap blades" are remarks about a mower and no words of the grammar. Only DONE may have a remark right
 * after its figure. */
#include "parsers/crew_text_statement.h"

#define LATER_DAYS_MAX 60
#define PASSED_OVER                                                                                \
    (WORD_LINK | WORD_ARTICLE | WORD_HOURS | WORD_COURTESY | WORD_SERVICE | WORD_UNTIL)

size_t shop_word_at(const struct items *items, size_t i, struct crew_statement *plans)
{
    if (item_is(items_at(items, i), WORDS_OF_SHOP)) {
        return i;
    }
    size_t next = service_pass_plans(items, i, plans);
    while (next > i && item_is(items_at(items, next), WORD_SERVICE | WORD_COPULA)) {
        next++;
    }
    return next > i && item_is(items_at(items, next), WORD_DONE) ? next : items->count;
}

/* From item i on, passes over words and marks that stand before a figure. */
static size_t pass_to_figure(const struct items *items, size_t i, uint64_t words, bool plans,
                             struct crew_statement *out)
{
    size_t at = i;
    while (at < items->count && !split_parts_at(items, at)) {
        const struct item *item = items_at(items, at);
        bool interval = item->kind == ITEM_FIGURE && item->figure.kind == FIGURE_INTERVAL;
        size_t after_plans = plans ? service_pass_plans(items, at, out) : at;
        if (after_plans > at) {
            at = after_plans;
            continue;
        }
        if (item->kind == ITEM_WHEN) {
            out->when = item->figure.when;
        } else if (item_is(item, WORD_ABOUT) || item_is_mark(item, '~')) {
            out->obstacle = CREW_OBSTACLE_ASKED_FIGURE;
        } else if (item_is_mark(item, '?') ||
                   (!item_is_mark_or_break(item) && !item_is(item, words) && !interval)) {
            break;
        }
        at++;
    }
    return at;
}

/* The obstacle with a statement that lacks its figure at item i: nothing stands there, or what
 * should not. */
static enum crew_obstacle no_figure(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    if (item->kind == ITEM_FIGURE && item->figure.kind == FIGURE_BAD) {
        return CREW_OBSTACLE_FIGURE_FORM;
    }
    return item->kind == ITEM_END || split_is_separator(item) ? CREW_OBSTACLE_NO_FIGURE
                                                              : CREW_OBSTACLE_UNCLEAR;
}

/* What stands after the figures; strict: a word right there makes the statement unclear. */
static size_t read_rest(const struct items *items, size_t i, bool strict,
                        struct crew_statement *out)
{
    size_t end = split_end(items, i, true);
    struct remark remark = remark_read(items, i, end);
    out->remark = remark.slice;
    out->figure_then_word =
        remark.begin == i && remark.slice.length > 0 && items_at(items, i)->kind == ITEM_WORD;
    if (out->when.kind == CREW_WHEN_UNSAID) {
        out->when = remark.when;
    }
    if (out->obstacle == CREW_OBSTACLE_NONE) {
        bool unclear =
            strict && out->figure_then_word && !item_is(items_at(items, i), WORD_NEW | WORD_WRONG);
        out->obstacle = unclear ? CREW_OBSTACLE_UNCLEAR : remark.obstacle;
        out->to_hours =
            remark.obstacle == CREW_OBSTACLE_TWO_FIGURES ? remark.second : out->to_hours;
    }
    return end;
}

/* DONE with its figure at item i, plans or a quantity behind it. Words that go on after a plan are a
 * remark, and the plan is part of it. */
static size_t read_service(const struct items *items, size_t i, struct crew_statement *out)
{
    struct crew_statement named = *out;
    size_t at = service_pass_plans(items, i + 1, &named);
    if (at > i + 1 && crew_plan(out) < 0 && !out->all_plans &&
        items_at(items, at)->kind != ITEM_WORD) {
        *out = named;
    } else {
        at = i + 1;
    }
    out->hours = items_at(items, i)->figure.hours;
    size_t end = read_rest(items, service_pass_quantity(items, at, out), false, out);
    for (; at < end && out->quantity_thousandths == 0; at++) { /* "1341 used 5 quarts" */
        if (items_at(items, at)->kind == ITEM_FIGURE &&
            items_at(items, at)->figure.kind == FIGURE_VOLUME) {
            (void)service_pass_quantity(items, at, out);
        }
    }
    if (out->obstacle == CREW_OBSTACLE_TWO_FIGURES && out->quantity_unit == NULL) {
        out->obstacle = CREW_OBSTACLE_NO_UNIT;
        out->quantity_thousandths = out->to_hours.hundredths % (HOURS_HUNDREDTHS_MAX + 1) * 10;
        out->to_hours = (struct hours_figure){0};
    }
    return end;
}

/* What stands at item i, where DONE should have its figure or plan; words of trouble up to `end` are told
 * as such ("M18 fait du bruit"). */
static void refuse_done(const struct items *items, size_t i, size_t end, struct crew_statement *out)
{
    const struct figure *figure = &items_at(items, i)->figure;
    out->obstacle = no_figure(items, i);
    if (items_at(items, i)->kind == ITEM_FIGURE && figure->kind == FIGURE_VOLUME) {
        out->obstacle = CREW_OBSTACLE_NO_FIGURE; /* "done 1339 L 2qt" */
    } else if (out->obstacle == CREW_OBSTACLE_UNCLEAR && items_at(items, i)->kind == ITEM_WORD &&
               trouble_told(items, i, end) == TOLD_NOTHING) {
        out->obstacle = out->plan_count == 0 && !out->all_plans ? CREW_OBSTACLE_NO_SUCH_PLAN
                                                                : CREW_OBSTACLE_NO_FIGURE;
        out->words = fold_slice(items->fold, items_at(items, i)->at, items_at(items, i)->end);
    }
}

static size_t read_done(const struct items *items, size_t i, struct crew_statement *out)
{
    size_t at = pass_to_figure(items, i, PASSED_OVER, true, out);
    size_t after = service_pass_quantity(items, at, out);
    at = after > at ? pass_to_figure(items, after, PASSED_OVER, true, out) : at;
    if (item_is_hours(items_at(items, at))) {
        return read_service(items, at, out);
    }
    size_t end = split_end(items, at, false);
    refuse_done(items, at, end, out);
    return end;
}

static size_t read_fix(const struct items *items, size_t i, struct crew_statement *out)
{
    size_t at = pass_to_figure(items, i, PASSED_OVER | WORD_INSTEAD, false, out);
    if (!item_is_hours(items_at(items, at))) {
        out->obstacle = no_figure(items, at);
        return split_end(items, at, false);
    }
    out->hours = items_at(items, at)->figure.hours;
    size_t end = read_rest(items, at + 1, true, out);
    if (out->obstacle == CREW_OBSTACLE_WITHDRAWN) {
        out->obstacle = CREW_OBSTACLE_NONE; /* "fix 1340, typo": says why */
    }
    return end;
}

static size_t read_swap(const struct items *items, size_t i, struct crew_statement *out)
{
    const uint64_t words = PASSED_OVER | WORD_OLD | WORD_NEW | WORD_INSTEAD;
    size_t first = pass_to_figure(items, i, words, false, out);
    size_t second = pass_to_figure(items, first + 1, words, false, out);
    if (!item_is_hours(items_at(items, first)) || !item_is_hours(items_at(items, second))) {
        size_t at = item_is_hours(items_at(items, first)) ? second : first;
        out->obstacle = no_figure(items, at);
        return split_end(items, at, false);
    }
    out->hours = items_at(items, first)->figure.hours;
    out->to_hours = items_at(items, second)->figure.hours;
    size_t end = read_rest(items, second + 1, true, out);
    bool new_first = false; /* "new 0 old 1340": the figures stand the other way round */
    for (size_t at = i; at < first && !new_first; at++) {
        new_first = item_is(items_at(items, at), WORD_NEW);
    }
    if (out->obstacle == CREW_OBSTACLE_TWO_FIGURES || new_first) {
        out->obstacle = CREW_OBSTACLE_UNCLEAR;
    }
    return end;
}

static size_t read_later(const struct items *items, size_t i, struct crew_statement *out)
{
    size_t at = pass_to_figure(items, i, PASSED_OVER | WORD_INSTEAD | WORD_NEXT, false, out);
    const struct figure *figure = &items_at(items, at)->figure;
    bool bare = item_is_hours(items_at(items, at)) && !figure->hours_said;
    int64_t days = bare ? figure->number : figure_days(figure);
    if (days < 1 || days > LATER_DAYS_MAX) {
        bool words = items_at(items, at)->kind == ITEM_WORD &&
                     !item_is(items_at(items, at), WORD_DAYS | WORD_WEEKS); /* "later a week" */
        out->obstacle = words ? CREW_OBSTACLE_UNCLEAR : CREW_OBSTACLE_DAYS;
        return split_end(items, at + 1, false);
    }
    out->days = (int32_t)days;
    return read_rest(items, at + 1, true, out);
}

size_t shop_read(const struct items *items, size_t i, struct crew_statement *out)
{
    static const struct {
        uint64_t word;
        enum crew_kind kind;
        size_t (*read)(const struct items *items, size_t i, struct crew_statement *out);
    } words[] = {
        {WORD_DONE, CREW_SERVICE, read_done},
        {WORD_FIX, CREW_CORRECT, read_fix},
        {WORD_SWAP, CREW_SWAP, read_swap},
        {WORD_LATER, CREW_LATER, read_later},
    };
    const size_t last = sizeof words / sizeof words[0] - 1;
    size_t found = 0;
    while (found < last && !item_is(items_at(items, i), words[found].word)) {
        found++;
    }
    out->kind = words[found].kind;
    return words[found].read(items, i + 1, out);
}
