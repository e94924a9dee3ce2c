/* SPDX-License-Identifier: MIT
 * crew_text_alone: texts, and parts of texts, that name no machine.
 *
 * Each is a bag: it holds what makes it what it is, and beside that only words of classes that say
 * nothing more. Order does not matter, "please stop texting me" is as good as "stop please". */
#include "parsers/crew_text_statement.h"

#define REACTION_WORDS_MAX 6 /* items before the quotation: "Reacted (thumb) to" */

static const struct {
    uint64_t word;
    enum crew_kind kind;
    uint64_t beside; /* what may stand beside it where it is read loosely */
} alone_words[] = {
    {WORD_UNDO, CREW_UNDO, WORD_INSTEAD | WORD_TEXTS},
    {WORD_YES, CREW_YES, WORD_ASSENT | WORD_LINK},
    {WORD_NO, CREW_NO, WORD_DISSENT | WORD_LINK | WORD_DENIES | WORD_WRONG},
    {WORD_HELP, CREW_HELP, WORD_ASKS_FIRST},
    {WORD_START, CREW_START, WORD_TEXTS},
    {WORD_DUE | WORD_STATUS, CREW_DUE, WORD_ASKS | WORD_ASKS_FIRST | WORD_LINK | WORD_PLANS},
};

bool alone_word_at(const struct items *items, size_t i, bool loose, struct alone *out)
{
    size_t count = sizeof alone_words / sizeof alone_words[0];
    size_t end = split_part_end(items, i);
    size_t found = count;
    for (size_t at = i; at < end && found == count; at++) {
        for (size_t k = count; k > 0; k--) {
            found = item_is(items_at(items, at), alone_words[k - 1].word) ? k - 1 : found;
        }
    }
    if (found == count) {
        return false;
    }
    uint64_t beside = alone_words[found].word | WORD_COURTESY |
                      (loose ? alone_words[found].beside | WORD_FILLER | WORD_ARTICLE : 0);
    for (size_t at = i; at < end; at++) {
        const struct item *item = items_at(items, at);
        bool passes = item->kind == ITEM_MARK || item_is(item, beside) ||
                      (loose && item_tells(item, TOPIC_RETRACTS | TOPIC_SORRY)) ||
                      (loose && item->kind == ITEM_WHEN && alone_words[found].kind == CREW_DUE);
        if (!passes) {
            return false;
        }
    }
    *out = (struct alone){alone_words[found].kind, end};
    return true;
}

bool alone_is_stop(const struct items *items, bool *cancels)
{
    bool stops = false;
    bool texts = false;
    bool loose = false;
    *cancels = true;
    for (size_t i = 0; i < items->count; i++) {
        const struct item *item = items_at(items, i);
        if (item_is(item, WORD_STOP)) {
            stops = true;
            *cancels = *cancels && item_is(item, WORD_CANCEL);
        } else if (item_is(item, WORD_TEXTS)) {
            texts = true;
        } else if (item_is(item, WORD_FILLER | WORD_ARTICLE | WORD_JOIN)) {
            loose = true;
        } else if (item->kind == ITEM_WORD ? !item_is(item, WORD_POLITE | WORD_COURTESY)
                                           : !item_is_mark_or_break(item)) {
            return false;
        }
    }
    *cancels = *cancels && stops;
    return stops && (texts || !loose);
}

/* What an item says before a quotation: that it is a reaction, and whether one that assents. */
static bool reacts(const struct items *items, size_t i, bool *assents)
{
    const struct item *item = items_at(items, i);
    uint16_t unit = fold_at(items->fold, item->at);
    bool emoji = item->kind == ITEM_WORD && unit >= FOLD_EMOJI && unit != FOLD_LETTER;
    *assents |= unit == FOLD_THUMB_UP || unit == FOLD_HEART ||
                (item_is(item, WORD_REACTION) && item->sense.value == 1);
    return item_is(item, WORD_REACTION) || (emoji && i == 0);
}

size_t alone_reaction_end(const struct items *items, bool *assents, struct crew_slice *quoted)
{
    bool reaction = false;
    bool assent = false;
    size_t open = 0;
    while (open < REACTION_WORDS_MAX && !item_is_mark(items_at(items, open), '"')) {
        reaction = reacts(items, open, &assent) || reaction;
        open++;
    }
    if (!reaction || !item_is_mark(items_at(items, open), '"')) {
        return 0;
    }
    size_t close = items->count; /* where the quotation was cut short */
    for (size_t i = open + 1; i < items->count; i++) {
        close = item_is_mark(items_at(items, i), '"') ? i : close;
    }
    size_t end = close < items->count ? items_at(items, close)->at : items->fold->count;
    *assents = assent;
    *quoted = fold_slice(items->fold, items_at(items, open)->end, end);
    size_t rest = close + 1;
    while (item_is_mark_or_break(items_at(items, rest)) ||
           item_is(items_at(items, rest), WORD_COURTESY)) {
        rest++;
    }
    return rest;
}

/* Words that may stand beside a bare figure. */
#define BESIDE_FIGURE                                                                              \
    (WORD_COURTESY | WORD_ASSENT | WORD_LINK | WORD_ARTICLE | WORD_FILLER | WORD_INSTEAD |         \
     WORD_HOURS | WORD_JOIN | WORD_ABOUT)

bool alone_is_figure(const struct items *items, size_t i, struct crew_statement *out)
{
    bool doubtful = false;
    for (size_t at = i; at < items->count; at++) {
        const struct item *item = items_at(items, at);
        if (item_is_hours(item) && when_clock_minute(item) < 0 && !out->hours.present &&
            item->figure.nature != CREW_NATURE_WORKED) {
            out->hours = item->figure.hours;
        } else if (item->kind == ITEM_WHEN) {
            out->when = item->figure.when;
        } else if (out->hours.present &&
                   retraction_rather_than(items, at, items->count) < items->count) {
            at = retraction_rather_than(items, at, items->count);
            out->to_hours = items_at(items, at)->figure.hours; /* "1341 not 1340" */
        } else if (!item_is_mark_or_break(item) && !item_is(item, BESIDE_FIGURE)) {
            return false;
        }
        doubtful |= item_is_mark(item, '?') || item_is_mark(item, '~') || item_is(item, WORD_ABOUT);
    }
    out->kind = CREW_FIGURE;
    out->obstacle = doubtful ? CREW_OBSTACLE_ASKED_FIGURE : CREW_OBSTACLE_NONE;
    return out->hours.present;
}

bool alone_is_plan(const struct items *items, size_t i, struct crew_statement *out)
{
    size_t end = 0;      /* unit after the plan's name */
    bool greets = false; /* "hi all" names no plan */
    for (size_t at = i; at < items->count; at++) {
        const struct item *item = items_at(items, at);
        int32_t plan = NAMES_NONE;
        greets = greets || (item_is(item, WORD_COURTESY) && !item_is(item, WORD_POLITE) &&
                            !item_tells(item, TOPIC_BOTH | TOPIC_ALL));
        if (item_tells(item, TOPIC_BOTH | TOPIC_ALL)) {
            out->all_plans = true;
            continue;
        }
        size_t plan_end =
            out->plan_count == 0 ? names_plan_at(items->fold, item->at, items->names, &plan) : 0;
        if (plan_end > 0) {
            statement_add_plan(plan, out);
            end = plan_end;
        } else if (item->at >= end && !item_is_mark_or_break(item) &&
                   !item_is(item, WORD_POLITE | WORD_ARTICLE | WORD_SERVICE | WORD_FILLER) &&
                   !item_is(item, WORD_COURTESY)) {
            return false;
        }
    }
    out->kind = CREW_PLAN;
    return out->plan_count > 0 || (out->all_plans && !greets);
}

/* The 12 of "the 12", "es la 12": a number behind an article that is a machine's. */
static bool numbered_at(const struct items *items, size_t i, struct name_found *out)
{
    const struct item *item = items_at(items, i);
    if (!item_is_hours(item) || item->figure.number < 0 || item->figure.hours_said || i == 0 ||
        !item_is(items_at(items, i - 1), WORD_ARTICLE)) {
        return false;
    }
    *out = names_machine_numbered(item->figure.number, items->names);
    return out->index != NAMES_NONE;
}

/* Words that may stand beside a machine that answers; an article or its like has to. */
#define ANSWERING (WORD_ARTICLE | WORD_COPULA | WORD_FILLER | WORD_OF)
#define BESIDE_WHICH (ANSWERING | WORD_COURTESY | WORD_ASSENT | WORD_NOUN)

/* "was", "era": sets one beside another, and the old one at that. */
static bool is_was(const struct item *item)
{
    return item_is(item, WORD_OLD) && item_is(item, WORD_INSTEAD);
}

bool alone_is_which(const struct items *items, size_t i, struct crew_statement *out)
{
    struct name_found found = names_nothing();
    bool answers = false;
    bool was = false;
    bool again = false; /* "oops, it was M7" corrects, "that was M7" answers */
    for (size_t at = i; at < items->count; at++) {
        const struct item *item = items_at(items, at);
        struct name_found here = item->found;
        if (item->kind == ITEM_MACHINE || numbered_at(items, at, &here)) {
            if (found.index != NAMES_NONE) {
                return false;
            }
            found = here;
            out->machine_full = item->kind == ITEM_MACHINE;
            out->words = fold_slice(items->fold, item->at, item->end);
        } else if (item_is_mark(item, '?') ||
                   !(item_is_mark_or_break(item) || item_is(item, BESIDE_WHICH) || is_was(item) ||
                     item_tells(item, TOPIC_INTRODUCES | TOPIC_SORRY | TOPIC_RETRACTS))) {
            return false;
        }
        was = was || is_was(item);
        again = again || item_tells(item, TOPIC_SORRY | TOPIC_RETRACTS);
        answers = answers || item_is(item, ANSWERING) || item_tells(item, TOPIC_INTRODUCES);
    }
    statement_set_found(&found, out);
    out->kind = CREW_WHICH;
    out->obstacle = found.index == NAMES_SEVERAL ? CREW_OBSTACLE_WHICH_MACHINE : CREW_OBSTACLE_NONE;
    return answers && !(was && again) && found.index != NAMES_NONE;
}

/* Words that may stand beside those that say that the level was looked at. */
#define WELL (WORD_COURTESY | WORD_ASSENT | WORD_YES | WORD_DONE)
#define BESIDE_CHECKED                                                                             \
    (WELL | WORD_LINK | WORD_COPULA | WORD_ARTICLE | WORD_FILLER | WORD_JOIN | WORD_AT |           \
     WORD_POLITE)

bool alone_is_checked(const struct items *items, size_t begin, size_t end)
{
    bool checked = false;
    bool level = false;
    bool well = false;
    bool done = false;
    bool more = false; /* than "done" and courtesies */
    for (size_t at = begin; at < end; at++) {
        const struct item *item = items_at(items, at);
        bool past = item->kind == ITEM_WHEN && !item->figure.when.ahead;
        bool mark = item_is_mark_or_break(item) && !item_is_mark(item, '?');
        if (!(past || mark || item->kind == ITEM_MACHINE || item_is(item, BESIDE_CHECKED) ||
              item_tells(item, TOPIC_CHECKED | TOPIC_LEVEL))) {
            return false;
        }
        checked = checked || item_tells(item, TOPIC_CHECKED);
        level = level || item_tells(item, TOPIC_LEVEL);
        well = well || item_is(item, WELL);
        done = done || item_is(item, WORD_DONE);
        more = more || (item->kind == ITEM_WORD && !item_is(item, WELL));
    }
    return checked || (level && well) || (done && !more);
}

enum crew_tone alone_tone(const struct items *items, bool *spelled)
{
    bool courtesy = false;
    bool assent = false;
    bool dissent = false;
    bool sorry = false;
    bool tomorrow = false; /* "ok tomorrow" puts off */
    *spelled = false;
    for (size_t i = 0; i < items->count; i++) {
        const struct item *item = items_at(items, i);
        sorry |= item_tells(item, TOPIC_SORRY);
        *spelled |= item_tells(item, TOPIC_SPELLED);
        tomorrow |= item->kind == ITEM_WHEN && item->figure.when.ahead;
        assent |= item_is(item, WORD_ASSENT);
        dissent |= item_is(item, WORD_DISSENT);
        courtesy |= item_is(item, WORD_COURTESY);
        if (!item_is_mark_or_break(item) && item->kind != ITEM_WHEN &&
            !item_is(item, WORD_COURTESY | WORD_ASSENT | WORD_DISSENT | WORD_FILLER | WORD_ARTICLE |
                               WORD_JOIN) &&
            !item_tells(item, TOPIC_SORRY | TOPIC_RETRACTS)) {
            return CREW_TONE_STATEMENTS;
        }
    }
    if (assent != dissent && !tomorrow) {
        return assent ? CREW_TONE_ASSENT : CREW_TONE_DISSENT;
    }
    return courtesy || assent || sorry ? CREW_TONE_COURTESY : CREW_TONE_STATEMENTS;
}
