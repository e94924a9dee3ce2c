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
static void take_machine(const struct items *items, const struct head *head, struct retraction *out)
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
    take_machine(items, &out->head, out);
    return true;
}

size_t retraction_rather_than(const struct items *items, size_t i, size_t end)
{
    size_t at = item_is_mark(items_at(items, i), ',') ? i + 1 : i;
    size_t figure = split_pass_links(items, at + 1);
    if (!item_tells(items_at(items, at), TOPIC_RATHER) ||
        item_is(items_at(items, at), WORD_INSTEAD) || /* "1341 no 1340": which one is not said */
        !item_is_like_meter(items_at(items, figure))) {
        return items->count;
    }
    for (at = figure + 1; at < end; at++) {
        if (!item_is_mark_or_break(items_at(items, at)) &&
            !item_is(items_at(items, at), WORD_COURTESY)) {
            return items->count;
        }
    }
    return figure;
}

size_t retraction_but(const struct items *items, size_t i)
{
    size_t wrong = split_pass_links(items, i + 1);
    size_t at = wrong + 1;
    while (at < items->count && is_between(items_at(items, at))) {
        at++;
    }
    bool right = item_tells(items_at(items, i), TOPIC_RATHER) &&
                 item_is_like_meter(items_at(items, wrong)) &&
                 item_is_like_meter(items_at(items, at));
    return right ? at : items->count;
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
    take_machine(items, &out->head, out);
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

/* The last statement of a machine, or of any where `machine` is NAMES_NONE, that a second thought can be
 * about; the number of statements where there is none. */
static size_t last_of(const struct parse *parse, int32_t machine)
{
    const struct crew_text *out = parse->out;
    for (size_t k = out->statement_count; k > 0; k--) {
        const struct crew_statement *statement = &out->statements[k - 1];
        bool kind = statement->kind == CREW_READING || statement->kind == CREW_SERVICE ||
                    (statement->kind == CREW_CORRECT && statement->of_own_last);
        if (kind && (machine == NAMES_NONE || statement->machine == machine)) {
            return k - 1;
        }
    }
    return out->statement_count;
}

/* Puts a figure, and what is said behind it, in the place of that of a statement. */
static void replace_figure(struct parse *parse, size_t figure, struct crew_statement *statement)
{
    const struct items *items = parse->items;
    size_t end = split_end(items, figure + 1, true);
    struct remark remark = remark_read(items, figure + 1, end);
    statement->hours = items_at(items, figure)->figure.hours;
    statement->nature = items_at(items, figure)->figure.nature;
    statement->to_hours = (struct hours_figure){0};
    statement->same_as_last = false;
    bool doubtful = statement->obstacle == CREW_OBSTACLE_NO_SUCH_MACHINE ||
                    statement->obstacle == CREW_OBSTACLE_WHICH_MACHINE; /* as before */
    statement->obstacle = doubtful ? statement->obstacle : remark.obstacle;
    statement->figure_then_word = false;
    if (remark.slice.length > 0) {
        statement->remark = remark.slice;
    }
    if (remark.when.kind != CREW_WHEN_UNSAID) {
        statement->when = remark.when;
    }
    parse->at = end;
}

/* Where nothing follows that would count instead, the statement before is withdrawn. */
static bool withdraw(struct parse *parse, size_t begin, struct crew_statement *before)
{
    size_t end = split_part_end(parse->items, begin);
    if (!retraction_withdraws(parse->items, begin, end)) {
        return false;
    }
    before->obstacle = CREW_OBSTACLE_WITHDRAWN;
    parse->at = end;
    return true;
}

bool retraction_read(struct parse *parse, size_t begin)
{
    struct retraction retraction = {0};
    struct crew_text *out = parse->out;
    size_t k = last_of(parse, NAMES_NONE);
    if (k >= out->statement_count) {
        return false;
    }
    struct crew_statement *before = &out->statements[k];
    if (!retraction_at(parse->items, begin, &retraction)) {
        if (!withdraw(parse, begin, before)) {
            return false;
        }
    } else if (retraction.machine == NAMES_NONE) {
        replace_figure(parse, retraction.figure, before);
    } else if (retraction.figure < parse->items->count) {
        size_t same = last_of(parse, retraction.machine);
        size_t at = same < out->statement_count ? same : k;
        for (; at + 1 < CREW_TEXT_STATEMENTS_MAX && at + 1 < out->statement_count; at++) {
            struct crew_statement next = out->statements[at + 1];
            out->statements[at] = next;
        }
        out->statement_count--;
        parse->withdrawn = retraction.at;
        parse->spoken_from = retraction.at;
        parse->at = retraction.at;
        parse_machine(parse, retraction.at, &retraction.head);
    } else {
        parse->withdrawn = retraction.at;
        before->machine = retraction.machine;
        before->obstacle = CREW_OBSTACLE_NONE;
        before->machine_full = retraction.head.kind == HEAD_NAME;
        parse->at = split_end(parse->items, retraction.next, true);
    }
    parse->spoken_from = parse->at;
    return true;
}

bool retraction_read_own(struct parse *parse, size_t from)
{
    const struct items *items = parse->items;
    struct crew_statement statement = statement_empty(CREW_CORRECT, CREW_OBSTACLE_NONE);
    struct retraction retraction = {0};
    size_t begin = split_skip(items, from);
    while (item_is(items_at(items, begin), WORD_COURTESY) &&
           !item_tells(items_at(items, begin), TOPIC_RETRACTS | TOPIC_SORRY)) {
        begin = split_skip(items, begin + 1);
    }
    if (!retraction_at(items, begin, &retraction) &&
        !retraction_of_machine(items, begin, &retraction)) {
        return false;
    }
    statement.of_own_last = true;
    statement.machine = retraction.machine;
    statement.not_machine = retraction.not_machine;
    statement.machine_full = retraction.machine != NAMES_NONE && retraction.head.kind == HEAD_NAME;
    parse->at = split_end(items, retraction.next, true);
    if (retraction.figure < items->count) {
        replace_figure(parse, retraction.figure, &statement);
    }
    parse->spoken_from = parse->at;
    parse_add(parse, &statement);
    return true;
}
