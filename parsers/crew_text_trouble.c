/* SPDX-License-Identifier: MIT
 * crew_text_trouble: what is broken, or dangerous, and what is only said.
 *
 * The tables have the words; here stands what undoes them (a negation shortly before: "no oil leaks",
 * but not "wont start", which is firm) and what two of them make together: fuel and a leak or a smell,
 * brakes and what fails. Words of trouble are heard too often rather than once too seldom. */
#include "parsers/crew_text_statement.h"

#define DENIED_ITEMS 3 /* how far a negation reaches */
#define FUEL_ITEMS 4   /* "leak by the gas tank", "smells a lot like gas" */
#define BRAKES_ITEMS 3 /* "brakes are all gone" */

/* What was heard of late: the item where it stands, and how far it reaches. */
struct hearing {
    size_t denied_until;
    size_t fuel_until, escapes_until, brakes_until;
};

static void note(const struct item *item, const struct item *next, size_t at, bool denied,
                 struct hearing *heard)
{
    /* "No the belt is off": an answer, and then what is the matter. */
    bool answers = item_is(item, WORD_NO) && item_is(next, WORD_ARTICLE | WORD_FILLER);
    if (item_tells(item, TOPIC_NEGATES) && !answers) {
        heard->denied_until = at + 1 + DENIED_ITEMS;
    } else if (item_is_mark_or_break(item) || item_is(item, WORD_JOIN)) {
        heard->denied_until = at;
    }
    if (item_tells(item, TOPIC_FUEL)) {
        heard->fuel_until = at + FUEL_ITEMS;
    }
    if (item_tells(item, TOPIC_ESCAPES) && !denied) {
        heard->escapes_until = at + FUEL_ITEMS;
    }
    if (item_tells(item, TOPIC_BRAKES)) {
        heard->brakes_until = at + BRAKES_ITEMS;
    }
}

enum told trouble_told(const struct items *items, size_t first, size_t end)
{
    enum told told = TOLD_NOTHING;
    struct hearing heard = {first, first, first, first};
    for (size_t at = first; at < end; at++) {
        const struct item *item = items_at(items, at);
        bool denied = at < heard.denied_until && !item_tells(item, TOPIC_FIRM);
        bool fuel_escapes = (item_tells(item, TOPIC_FUEL) && at < heard.escapes_until) ||
                            (item_tells(item, TOPIC_ESCAPES) && at < heard.fuel_until);
        bool brakes_fail = item_tells(item, TOPIC_FAILS) && at < heard.brakes_until;
        if (!denied && (item_tells(item, TOPIC_DANGER) || fuel_escapes || brakes_fail)) {
            return TOLD_DANGER;
        }
        if (item_tells(item, TOPIC_TROUBLE) && !denied) {
            told = TOLD_TROUBLE;
        }
        note(item, items_at(items, at + 1), at, denied, &heard);
    }
    return told;
}

/* Only words of the grammar and answers: "M12 undo" is no remark. */
#define NO_WORDS (WORD_UNDO | WORD_YES | WORD_NO | WORD_HELP | WORD_STOP | WORD_START)

void trouble_set(const struct items *items, size_t first, size_t end, enum told told,
                 struct crew_statement *out)
{
    out->kind = told == TOLD_NOTHING ? CREW_REMARK : CREW_TROUBLE;
    out->obstacle = CREW_OBSTACLE_NONE;
    out->danger = told == TOLD_DANGER;
    out->remark = remark_words(items, first, end);
}

/* Another machine than that at `head` which is named in full; NAMES_NONE where none is. */
static int32_t other_machine(const struct items *items, size_t begin, const struct head *head,
                             size_t end)
{
    for (size_t at = begin; at < end; at++) {
        const struct item *item = items_at(items, at);
        bool named = at >= head->at && at < head->next; /* perhaps one of several */
        if (item->kind == ITEM_MACHINE && item->found.index >= 0 && !named &&
            item->found.index != head->found.index) {
            return item->found.index;
        }
    }
    return NAMES_NONE;
}

/* True where words are said, and neither a question nor a figure that a meter may have shown. */
static bool is_remark(const struct items *items, size_t begin, const struct head *head, size_t end)
{
    bool swallows = item_is_hours(items_at(items, head->next)) ||
                    item_is_mark(items_at(items, end - 1), '?') ||
                    item_is_mark(items_at(items, end), '?');
    bool words = false;
    for (size_t at = begin; at < end; at++) {
        const struct item *item = items_at(items, at);
        swallows = swallows || item_is_like_meter(item) ||
                   (item_is_hours(item) && item->figure.hours.clock);
        words = words || (item->kind == ITEM_WORD && !item_is(item, NO_WORDS));
    }
    return words && !swallows;
}

/* The words of a statement with a machine at `head`, which was neither a reading nor a word of the
 * grammar: those behind the machine where only courtesies stand before it, else all. */
bool trouble_read(const struct items *items, size_t begin, const struct head *head, bool clean,
                  size_t end, struct crew_statement *out)
{
    enum told told = trouble_told(items, begin, end);
    if (told == TOLD_NOTHING && !is_remark(items, begin, head, end)) {
        return false;
    }
    int32_t other = told != TOLD_NOTHING ? other_machine(items, begin, head, end) : NAMES_NONE;
    trouble_set(items, clean ? head->next : begin, end, told, out);
    if (other != NAMES_NONE) {
        out->obstacle = CREW_OBSTACLE_WHICH_MACHINE;
        out->candidates[0] = out->machine;
        out->candidates[1] = other;
        out->machine = NAMES_NONE;
        out->remark = remark_words(items, begin, end);
    }
    return out->remark.length > 0;
}
