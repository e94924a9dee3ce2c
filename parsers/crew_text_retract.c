/* SPDX-License-Identifier: MIT
 * crew_text_retract: second thoughts: what takes back what was said before it.
 *
 * "oops", "I mean", "digo" put a figure or a machine in the place of another, where one follows; words
 * that only deny ("scratch that", "but that is wrong") withdraw, where nothing follows. An apology is
 * neither, unless a figure or a machine follows at once. */
#include "parsers/crew_text_statement.h"

#define SECOND_THOUGHTS (TOPIC_RETRACTS | TOPIC_SORRY)

/* Words between a second thought and what it puts in the place of another. */
#define BETWEEN                                                                                    \
    (WORD_LINK | WORD_COPULA | WORD_ARTICLE | WORD_FILLER | WORD_INSTEAD | WORD_NOUN |             \
     WORD_WRONG | WORD_FIX | WORD_POLITE)

static bool is_between(const struct item *item)
{
    return (item_is_mark_or_break(item) && !item_is_mark(item, '?') && !item_is_mark(item, '#')) ||
           item_is(item, BETWEEN) || item_tells(item, SECOND_THOUGHTS);
}

/* "not M12", "no la TR9" at item i: the machine that was the wrong one; the item after it. */
static size_t read_rather(const struct items *items, size_t i, int32_t *machine)
{
    struct head head = {0};
    size_t at = i;
    while (item_is_mark(items_at(items, at), ',')) {
        at++;
    }
    if (!item_tells(items_at(items, at), TOPIC_RATHER)) {
        return i;
    }
    at++;
    while (item_is(items_at(items, at), WORD_ARTICLE | WORD_LINK | WORD_NOUN)) {
        at++;
    }
    if (!split_head_at(items, at, true, &head) || head.found.index < 0) {
        return i;
    }
    *machine = head.found.index;
    return head.next;
}

/* A machine stands in the place of another: what follows it. */
static void read_machine(const struct items *items, const struct head *head, struct retraction *out)
{
    size_t figure = split_pass_links(items, head->next);
    out->machine = head->found.index;
    out->not_machine = NAMES_NONE;
    out->next = read_rather(items, head->next, &out->not_machine);
    out->figure = items->count;
    if (out->not_machine == NAMES_NONE && item_is_hours(items_at(items, figure))) {
        out->figure = figure;
        out->next = figure + 1;
    }
}

bool retraction_at(const struct items *items, size_t i, struct retraction *out)
{
    size_t at = i;
    if (!item_tells(items_at(items, i), SECOND_THOUGHTS)) {
        return false;
    }
    while (at < items->count && is_between(items_at(items, at))) {
        at++;
    }
    *out = (struct retraction){.machine = NAMES_NONE, .not_machine = NAMES_NONE};
    out->at = at;
    if (split_is_meter(items, at)) {
        out->figure = at;
        out->next = at + 1;
        if (!split_head_at(items, at, true, &out->head)) {
            return true;
        }
    } else if (!split_head_at(items, at, false, &out->head)) {
        return false;
    }
    if (out->head.found.index < 0 || out->head.kind == HEAD_GLUED) {
        return false;
    }
    read_machine(items, &out->head, out);
    return true;
}

bool retraction_of_machine(const struct items *items, size_t i, struct retraction *out)
{
    size_t at = i;
    while (at < items->count && is_between(items_at(items, at))) {
        at++;
    }
    *out = (struct retraction){.at = at, .machine = NAMES_NONE, .not_machine = NAMES_NONE};
    if (!split_head_at(items, at, false, &out->head) || out->head.found.index < 0) {
        return false;
    }
    read_machine(items, &out->head, out);
    return out->not_machine != NAMES_NONE && out->next >= items->count;
}

/* Words that may stand beside those that withdraw: "no, but that is not right, sorry". */
#define BESIDE_WITHDRAWAL                                                                          \
    (WORD_LINK | WORD_COPULA | WORD_ARTICLE | WORD_FILLER | WORD_JOIN | WORD_COURTESY |            \
     WORD_ASSENT | WORD_WRONG | WORD_DENIES | WORD_NO | WORD_INSTEAD | WORD_POLITE)

bool retraction_withdraws(const struct items *items, size_t i, size_t end)
{
    bool withdraws = false;
    for (size_t at = i; at < end; at++) {
        const struct item *item = items_at(items, at);
        bool word = item_is(item, WORD_WRONG) || item_tells(item, TOPIC_RETRACTS);
        if (!word && (item_is_mark(item, '?') ||
                      (!item_is_mark_or_break(item) && !item_is(item, BESIDE_WITHDRAWAL) &&
                       !item_tells(item, TOPIC_SORRY | TOPIC_RATHER)))) {
            return false;
        }
        withdraws = withdraws || word;
    }
    return withdraws;
}
