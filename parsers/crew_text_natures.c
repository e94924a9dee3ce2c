/* SPDX-License-Identifier: MIT
 * crew_text_natures: what a figure of hours counts, where it is no meter.
 *
 * "75 hour service" is how often a service is due, "8 hours today" how long somebody worked, "1340 Oak
 * St" where a machine is. The first is told by the words around it alone; the other two may be a meter
 * after all, which the desk sees by the clock. A unit of hours undoes an address. */
#include "parsers/crew_text_items.h"

/* It stands apart from items_read: a copy of it is quicker than to fill an item. */
const struct item item_past_the_last = {
    .kind = ITEM_END,
    .figure = {.number = -1},
    .found = {NAMES_NONE, {NAMES_NONE, NAMES_NONE, NAMES_NONE, NAMES_NONE}, 0}};

#define BEHIND_MAX 3 /* words behind a house number up to the street */
#define BEFORE_MAX 2
#define UPKEEP_BEHIND_MAX 3 /* "75 hour drive oil service" */
#define SERVICED_BEHIND_MAX 4
#define WORKED_BEFORE_MAX 3
#define WORKED_HUNDREDTHS_MAX 2400

static bool ends_words(const struct item *item)
{
    return item->kind == ITEM_END || item->kind == ITEM_BREAK || item->kind == ITEM_MACHINE ||
           (item->kind == ITEM_MARK && item->mark != '-' && item->mark != '#');
}

bool natures_is_capitalised(const struct items *items, const struct item *item)
{
    uint16_t second = fold_at(items->fold, item->at + 1);
    return item->kind == ITEM_WORD && fold_is_upper(fold_at(items->fold, item->at)) &&
           fold_is_letter(second) && !fold_is_upper(second);
}

/* ---- the interval of a service */

/* A service is told behind the item: "75 hour service", and it is not one that was done. */
static bool upkeep_behind(const struct items *items, size_t i)
{
    bool upkeep = false;
    for (size_t n = 1; n <= SERVICED_BEHIND_MAX && !ends_words(items_at(items, i + n)); n++) {
        const struct item *item = items_at(items, i + n);
        if (item_tells(item, TOPIC_SERVICED)) {
            return false;
        }
        upkeep = upkeep || (n <= UPKEEP_BEHIND_MAX && item_tells(item, TOPIC_UPKEEP));
        if (!upkeep && item_is(item, WORD_LINK | WORD_JOIN | WORD_PLANS)) {
            return false;
        }
    }
    return upkeep;
}

/* "servicio de las 500 horas" */
static bool upkeep_before(const struct items *items, size_t i)
{
    bool of = false;
    size_t at = i;
    while (at > 0 && item_is(items_at(items, at - 1), WORD_OF | WORD_ARTICLE)) {
        of = of || item_is(items_at(items, at - 1), WORD_OF);
        at--;
    }
    return of && at > 0 && item_tells(items_at(items, at - 1), TOPIC_UPKEEP);
}

static bool is_interval(const struct items *items, size_t i)
{
    bool parted = item_is_mark(items_at(items, i + 1), '-') &&
                  item_is(items_at(items, i + 2), WORD_HOURS); /* "75-hour" */
    bool hours = parted || items_at(items, i)->figure.hours_said;
    return (hours && upkeep_behind(items, parted ? i + 2 : i)) || upkeep_before(items, i);
}

/* ---- hours worked */

static bool is_worked(const struct items *items, size_t i)
{
    const struct figure *figure = &items_at(items, i)->figure;
    const struct item *next = items_at(items, i + 1);
    /* "ran 6.5 today": without a unit only right behind a word of work, with nothing that it counts. */
    bool bare = item_tells(items_at(items, i - 1), TOPIC_WORKED) && next->kind != ITEM_WORD;
    if (!(figure->hours_said || bare) || figure->hours.hundredths > WORKED_HUNDREDTHS_MAX) {
        return false;
    }
    bool worked = next->kind == ITEM_WHEN;
    for (size_t n = 1; n <= WORKED_BEFORE_MAX && n <= i; n++) {
        worked = worked || item_tells(items_at(items, i - n), TOPIC_WORKED);
    }
    return worked || item_tells(next, TOPIC_WORKED);
}

/* ---- a house number */

/* "5th Ave", "W Harbor Dr": what stands only in an address. */
static bool is_street(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    const struct item *before = items_at(items, i - 1);
    bool named = natures_is_capitalised(items, items_at(items, i + 1));
    bool behind_name = natures_is_capitalised(items, before) && before->sense.classes == 0;
    if (item->kind == ITEM_FIGURE) {
        return item->figure.kind == FIGURE_ORDINAL && (named || behind_name);
    }
    if (item_tells(item, TOPIC_COMPASS)) {
        return fold_is_upper(fold_at(items->fold, item->at)) &&
               (item->end == item->at + 1 || named);
    }
    return (item_tells(item, TOPIC_STREET) && (named || !item_is(before, WORD_ARTICLE))) ||
           (item_tells(item, TOPIC_STREET_TOO) && behind_name);
}

/* A street behind it or before it, or a place: "at 1345 Willow", no word that is known. */
static bool is_address(const struct items *items, size_t i)
{
    const struct figure *figure = &items_at(items, i)->figure;
    const struct item *next = items_at(items, i + 1);
    bool street = i > 0 && item_tells(items_at(items, i - 1), TOPIC_PLACE) &&
                  natures_is_capitalised(items, next) && next->sense.classes == 0 &&
                  next->sense.topics == 0;
    for (size_t n = 1; n <= BEHIND_MAX && !ends_words(items_at(items, i + n)); n++) {
        street = street || is_street(items, i + n);
    }
    for (size_t n = 1; n <= BEFORE_MAX && n <= i && !ends_words(items_at(items, i - n)); n++) {
        street = street || item_tells(items_at(items, i - n), TOPIC_STREET);
    }
    return street && !figure->hours_said && figure->number >= 0;
}

void natures_set(struct items *items)
{
    for (size_t i = 0; i < items->count; i++) {
        struct figure *figure = &items->item[i].figure;
        if (!item_is_hours(items_at(items, i))) {
            continue;
        }
        if (is_interval(items, i)) {
            figure->kind = FIGURE_INTERVAL;
            figure->nature = CREW_NATURE_INTERVAL;
        } else if (is_worked(items, i)) {
            figure->nature = CREW_NATURE_WORKED;
        } else if (is_address(items, i)) {
            figure->nature = CREW_NATURE_ADDRESS;
        }
    }
}
