/* SPDX-License-Identifier: MIT
 * crew_text_service: which plans are meant, how much went in, and whether a service is told at all.
 *
 * A plan is named by its name, or by a word that the titles of only one plan of the machine hold, in any
 * language ("engine oil", "correas"); a last "s" makes no difference. Words that stand beside plans with
 * another meaning (units, "done", "both") name none. */
#include "parsers/crew_text_statement.h"

#define TITLE_WORD_LEAST 3 /* letters: "de", "y" name nothing */
#define DENIED_ITEMS 3
#define BARE_DIGITS_MAX 2                   /* of a side's quantity without its unit */
#define QUANTITY_MAX INT64_C(1000000000000) /* thousandths; past any tank, and no sum overflows */

/* Words that mean something else where a plan may stand. */
#define OTHER_WORDS                                                                                \
    (WORD_HOURS | WORD_QUARTS | WORD_LITRES | WORD_MEASURE | WORD_DONE | WORD_JOIN |               \
     WORD_ARTICLE | WORD_COPULA)
#define OTHER_TOPICS (TOPIC_BOTH | TOPIC_ALL | TOPIC_SIDE)

/* Words between two plans: "drive and belts service". */
#define BETWEEN_PLANS (WORD_JOIN | WORD_ARTICLE | WORD_SERVICE | WORD_OF)

static bool has_plan(const struct crew_names *names, int32_t machine, int32_t plan)
{
    uint64_t plans = (size_t)machine < names->machine_count ? names->machines[machine].plans : 0;
    return plan >= 0 && plan < 64 && (plans >> plan & 1) != 0;
}

/* Notes in *found that the word at an item stands in a plan's name or title, where the machine has that
 * plan. */
static void note_plan(const struct items *items, size_t i, int32_t machine, int32_t plan,
                      const char *text, int32_t *found)
{
    const struct item *item = items_at(items, i);
    if (has_plan(items->names, machine, plan) && plan != *found &&
        names_title_holds(items->fold, item->at, item->end, text)) {
        *found = *found == NAMES_NONE ? plan : NAMES_SEVERAL;
    }
}

/* The plan of the machine that alone has the word at an item in its name or its titles; NAMES_SEVERAL
 * where several have it. */
static int32_t plan_of_word(const struct items *items, size_t i, int32_t machine)
{
    const struct crew_names *names = items->names;
    const struct item *item = items_at(items, i);
    int32_t found = NAMES_NONE;
    if (item->kind != ITEM_WORD || item->end < item->at + TITLE_WORD_LEAST ||
        item_is(item, OTHER_WORDS) || item_tells(item, OTHER_TOPICS)) {
        return NAMES_NONE;
    }
    for (size_t k = 0; k < names->plan_count; k++) {
        note_plan(items, i, machine, (int32_t)k, names->plans[k], &found);
    }
    for (size_t k = 0; k < names->title_count; k++) {
        note_plan(items, i, machine, names->titles[k].plan, names->titles[k].text, &found);
    }
    return found;
}

/* One word or name of a plan at item i; the item after it, i where none stands there. */
static size_t pass_plan(const struct items *items, size_t i, struct crew_statement *out)
{
    const struct item *item = items_at(items, i);
    int32_t plan = NAMES_NONE;
    size_t end = item_is(item, WORD_HOURS | WORD_DONE)
                     ? 0
                     : names_plan_at(items->fold, item->at, items->names, &plan);
    /* "M12 service completed", where another machine has a plan that is called "service". */
    if ((end < item->end && item_tells(item, TOPIC_SERVICED)) ||
        (item_is(item, WORD_SERVICE) && !has_plan(items->names, out->machine, plan))) {
        end = 0;
        plan = NAMES_NONE;
    }
    size_t next = i;
    while (next < items->count && items_at(items, next)->at < end) {
        next++;
    }
    if (next == i) {
        plan = plan_of_word(items, i, out->machine);
        next = plan == NAMES_NONE ? i : i + 1;
    }
    statement_add_plan(plan, out);
    return next;
}

/* "both", "all" at item i, and no other word that they count: "both filters". */
static bool is_all(const struct items *items, size_t i)
{
    const struct item *next = items_at(items, i + 1);
    return item_tells(items_at(items, i), TOPIC_BOTH | TOPIC_ALL) &&
           (next->kind != ITEM_WORD ||
            item_is(next, WORD_SERVICE | WORD_DONE | WORD_HOURS | WORD_COURTESY | WORD_LINK |
                              WORD_JOIN | WORD_ARTICLE) ||
            item_tells(next, TOPIC_SERVICED | TOPIC_UPKEEP));
}

size_t service_pass_plans(const struct items *items, size_t i, struct crew_statement *out)
{
    struct crew_statement named = *out;
    size_t at = i;
    size_t end = i;
    while (at < items->count) {
        size_t next = pass_plan(items, at, &named);
        if (next > at) {
            end = next;
        } else if (is_all(items, at)) {
            named.all_plans = true;
            end = at + 1;
        } else if (end == i || !(item_is_mark(items_at(items, at), ',') ||
                                 item_is(items_at(items, at), BETWEEN_PLANS) ||
                                 item_tells(items_at(items, at), TOPIC_UPKEEP))) {
            break;
        }
        at = next > at ? next : at + 1;
    }
    if (named.plan_count == out->plan_count && named.all_plans == out->all_plans) {
        return i;
    }
    *out = named;
    return end;
}

/* The same for every quantity that there is; bounds that an analyser sees, so that no sum overflows. */
static int64_t bounded(int64_t thousandths)
{
    return thousandths % (QUANTITY_MAX + 1);
}

/* Marks and words that may stand before a quantity: "1340h (5 qt)". */
static bool passes(const struct item *item)
{
    return (item_is_mark_or_break(item) && !item_is_mark(item, '?')) ||
           item_is(item, WORD_LINK | WORD_JOIN | WORD_ABOUT);
}

/* "left 2 right 2": a side's quantity at item i whose unit is said with another side's, or wanted. */
static bool is_bare(const struct items *items, size_t i, const struct crew_statement *out)
{
    const struct item *item = items_at(items, i);
    const struct item *next = items_at(items, i + 1);
    bool of_sides = out->quantity_unit == NULL || out->side_thousandths[0] > 0 ||
                    out->side_thousandths[1] > 0 || out->side_thousandths[2] > 0;
    bool alone = next->kind != ITEM_WORD || item_is(next, WORD_JOIN | WORD_COURTESY) ||
                 item_tells(next, TOPIC_SIDE);
    return of_sides && alone && out->hours.present && item_is_hours(item) &&
           !item->figure.hours_said && item->figure.hours.whole_digits <= BARE_DIGITS_MAX;
}

/* True where the quantities from item i on have their sides behind: "2 qt left 2 qt right". */
static bool sides_follow(const struct items *items, size_t i)
{
    bool side = false;
    for (size_t at = i; at < items->count; at++) {
        const struct item *item = items_at(items, at);
        bool volume = item->kind == ITEM_FIGURE && item->figure.kind == FIGURE_VOLUME;
        if (!volume && !item_tells(item, TOPIC_SIDE) && !passes(item)) {
            return side && item->kind != ITEM_FIGURE;
        }
        side = passes(item) ? side : !volume;
    }
    return side;
}

/* A quantity at item i, with a side before it or behind; the item after it, i where there is none. A
 * second one is of a side too, and in the same unit. */
static size_t pass_volume(const struct items *items, size_t i, struct crew_statement *out)
{
    bool before = item_tells(items_at(items, i), TOPIC_SIDE);
    size_t at = before ? i + 1 : i;
    const struct item *item = items_at(items, at);
    bool behind = !before && item_tells(items_at(items, at + 1), TOPIC_SIDE) &&
                  (items_at(items, at + 2)->kind != ITEM_FIGURE || sides_follow(items, at));
    bool bare = before && is_bare(items, at, out);
    bool volume = item->kind == ITEM_FIGURE && item->figure.kind == FIGURE_VOLUME;
    bool fits = out->quantity_unit == NULL || bare ||
                ((before || behind) && out->quantity_unit == item->figure.unit);
    if (!(volume || bare) || !fits) {
        return i;
    }
    int64_t thousandths =
        bounded(bare ? bounded(item->figure.hours.hundredths) * 10 : item->figure.thousandths);
    if (before || behind) {
        const struct item *side = items_at(items, before ? i : at + 1);
        int64_t *sum = &out->side_thousandths[(size_t)(side->sense.value - 1) % CREW_SIDES];
        *sum = bounded(*sum) + thousandths;
    }
    out->quantity_thousandths = bounded(out->quantity_thousandths) + thousandths;
    out->quantity_unit = bare ? out->quantity_unit : item->figure.unit;
    return behind ? at + 2 : at + 1;
}

size_t service_pass_quantity(const struct items *items, size_t i, struct crew_statement *out)
{
    size_t end = i;
    size_t at = i;
    while (at < items->count) {
        while (passes(items_at(items, at))) {
            at++;
        }
        size_t next = pass_volume(items, at, out);
        if (next == at) {
            break;
        }
        end = next;
        at = next;
    }
    if (end > i && out->quantity_unit == NULL && out->obstacle == CREW_OBSTACLE_NONE) {
        out->obstacle = CREW_OBSTACLE_NO_UNIT;
    }
    return end;
}

bool service_told(const struct items *items, size_t first, size_t end)
{
    size_t denied_until = first;
    bool told = false;
    for (size_t at = first; at < end; at++) {
        const struct item *item = items_at(items, at);
        if (item_is_mark(item, '?') || (item_is(item, WORD_PLANS | WORD_ASKS | WORD_DUE) &&
                                        !item_tells(item, TOPIC_SERVICED))) {
            return false;
        }
        if (item_tells(item, TOPIC_NEGATES)) {
            denied_until = at + 1 + DENIED_ITEMS;
        }
        told = told || (at >= denied_until && (item_is(item, WORD_DONE | WORD_SERVICE) ||
                                               item_tells(item, TOPIC_SERVICED | TOPIC_UPKEEP)));
    }
    return told;
}

void service_words(const struct items *items, size_t first, size_t end, struct crew_statement *out)
{
    size_t at = first;
    out->kind = CREW_SERVICE;
    out->service_words = true;
    while (at < end) {
        size_t next = service_pass_plans(items, at, out);
        next = next > at ? next : pass_volume(items, at, out);
        at = next > at ? next : at + 1;
    }
}
