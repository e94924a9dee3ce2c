/* SPDX-License-Identifier: MIT
 * crew_text_split: where statements begin and end.
 *
 * A statement begins with a machine. After a separator it may begin with a whole name, a "#number",
 * or a bare number in the plainest form; right after a figure with a whole name or "#number" that
 * has a figure, a word of the grammar or the end after it, or with a bare number that ":", "=" or
 * "-" joins to its figure. Everything else goes on belonging to the statement before. */
#include "parsers/crew_text_statement.h"

#define LIST_NUMBER_MAX 99
#define BARE_DIGITS_MAX 999 /* machines that are not there are refused by name up to this number */

bool split_is_separator(const struct item *item)
{
    if (item->kind == ITEM_MARK) {
        return item->mark == ',' || item->mark == ';' || item->mark == '+' || item->mark == '/' ||
               item->mark == '|' || item->mark == '&';
    }
    return item->kind == ITEM_BREAK || item_is(item, WORD_JOIN);
}

bool split_is_stop(const struct item *item)
{
    return item_is_mark(item, '.') || item_is_mark(item, '!') || item_is_mark(item, '?');
}

bool split_is_boundary(const struct item *item)
{
    return item->kind == ITEM_END || split_is_separator(item) || split_is_stop(item);
}

size_t split_part_end(const struct items *items, size_t i)
{
    size_t end = i;
    while (!split_is_boundary(items_at(items, end))) {
        end++;
    }
    return end;
}

static bool is_number(const struct item *item)
{
    return item_is_hours(item) && item->figure.number >= 0 && !item->figure.hours_said;
}

/* Marks and line breaks between a machine and what is said of it. */
static size_t pass_marks(const struct items *items, size_t i)
{
    size_t next = i;
    while (items_at(items, next)->kind == ITEM_BREAK ||
           (items_at(items, next)->kind == ITEM_MARK && !item_is_mark(items_at(items, next), '?') &&
            !item_is_mark(items_at(items, next), '#'))) {
        next++;
    }
    return next;
}

size_t split_pass_links(const struct items *items, size_t i)
{
    size_t next = pass_marks(items, i);
    while (item_is(items_at(items, next), WORD_LINK | WORD_HOURS)) {
        next = pass_marks(items, next + 1);
    }
    return next;
}

/* A word of the grammar at item i that can be meant as one: BACK, IN and their like with nothing after
 * them but a day, FIX, SWAP and LATER with a figure. "2 back tyres" is none. */
static bool is_grammar(const struct items *items, size_t i)
{
    const struct item *word = items_at(items, i);
    const struct item *next = items_at(items, i + 1);
    if (item_is(word, WORD_DONE)) {
        return true;
    }
    if (item_is(word, WORD_FIX | WORD_SWAP | WORD_LATER)) {
        return items_at(items, split_pass_links(items, i + 1))->kind == ITEM_FIGURE;
    }
    bool moves = item_tells(word, TOPICS_OF_MOVES);
    return (moves || item_is(word, WORD_DUE | WORD_STATUS)) &&
           (split_is_boundary(next) || item_is(next, WORD_POLITE) ||
            (moves && next->kind == ITEM_WHEN));
}

/* A figure, a question mark or a word of the grammar at item i. */
static bool says_something(const struct items *items, size_t i)
{
    return item_is_hours(items_at(items, i)) || item_is_mark(items_at(items, i), '?') ||
           item_tells(items_at(items, i), TOPIC_SAME) || is_grammar(items, i);
}

/* True where something is said of the machine before item i, or nothing at all follows. */
static bool is_said_of(const struct items *items, size_t i)
{
    size_t after = split_pass_links(items, i);
    return says_something(items, after) || items_at(items, after)->kind == ITEM_END;
}

/* The machine by the number in the item before `next`. */
static void set_number(const struct items *items, size_t at, size_t next, struct head *out)
{
    out->found = names_machine_numbered(items_at(items, next - 1)->figure.number, items->names);
    out->kind = out->found.index == NAMES_NONE ? HEAD_STRANGER : HEAD_NUMBER;
    out->at = at;
    out->next = next;
}

/* "#12", "no. 12". A number that no machine has counts only where something is said of it. */
static bool numbered_at(const struct items *items, size_t i, struct head *out)
{
    const struct item *next = items_at(items, i + 1);
    size_t number = i + 1;
    if (item_is(items_at(items, i), WORD_NO) && item_is_mark(next, '.')) {
        number = i + 2;
    } else if (!item_is_mark(items_at(items, i), '#')) {
        return false;
    }
    if (!is_number(items_at(items, number))) {
        return false;
    }
    set_number(items, i, number + 1, out);
    return out->kind == HEAD_NUMBER || is_said_of(items, number + 1);
}

/* "mower 12", where something is said of it. */
static bool noun_at(const struct items *items, size_t i, struct head *out)
{
    if (!item_is(items_at(items, i), WORD_NOUN)) {
        return false;
    }
    if (numbered_at(items, i + 1, out)) {
        out->at = i;
        return true;
    }
    if (!is_number(items_at(items, i + 1)) || !is_said_of(items, i + 2)) {
        return false;
    }
    set_number(items, i, i + 2, out);
    return true;
}

/* A bare number in the plainest form, or with linking words and a figure. */
static bool bare_at(const struct items *items, size_t i, struct head *out)
{
    const struct item *item = items_at(items, i);
    size_t after = pass_marks(items, i + 1);
    size_t linked = split_pass_links(items, after);
    bool links = linked > after && item_is_hours(items_at(items, linked));
    after = links ? linked : after;
    if (!is_number(item) || !says_something(items, after) ||
        items_at(items, after)->figure.hours.clock) {
        return false;
    }
    set_number(items, i, i + 1, out);
    if (out->kind == HEAD_STRANGER) {
        return !links && item_is_hours(items_at(items, after)) &&
               item->figure.number <= BARE_DIGITS_MAX;
    }
    out->kind = HEAD_BARE;
    return true;
}

static bool stranger_at(const struct items *items, size_t i, bool clean, struct head *out)
{
    size_t after = split_pass_links(items, i + 1);
    if (items_at(items, i)->kind != ITEM_STRANGER ||
        !(item_is_hours(items_at(items, after)) ||
          (clean && (says_something(items, after) || items_at(items, after)->kind == ITEM_END)))) {
        return false;
    }
    *out = (struct head){HEAD_STRANGER, names_nothing(), i, i + 1};
    return true;
}

static bool name_at(const struct items *items, size_t i, struct head *out)
{
    size_t name = item_is_mark(items_at(items, i), '#') ? i + 1 : i;
    const struct item *item = items_at(items, name);
    if (item->kind != ITEM_MACHINE && item->kind != ITEM_GLUED) {
        return false;
    }
    out->kind = item->kind == ITEM_MACHINE ? HEAD_NAME : HEAD_GLUED;
    out->found = item->found;
    out->at = i;
    out->next = name + 1;
    return true;
}

bool split_head_at(const struct items *items, size_t i, bool clean, struct head *out)
{
    return name_at(items, i, out) || numbered_at(items, i, out) || noun_at(items, i, out) ||
           stranger_at(items, i, clean, out) || (clean && bare_at(items, i, out));
}

/* A word shaped like those names of the yard that its letters begin. */
static bool is_like_name(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    size_t letters_end = item->at;
    while (fold_is_letter(fold_at(items->fold, letters_end))) {
        letters_end++;
    }
    return item->kind == ITEM_STRANGER &&
           names_have_letters(items->fold, item->at, letters_end, items->names);
}

bool split_member_at(const struct items *items, size_t i, bool joined, struct head *out)
{
    size_t name = item_is(items_at(items, i), WORD_NOUN) ? i + 1 : i;
    size_t number = item_is_mark(items_at(items, name), '#') ? name + 1 : name;
    if (name_at(items, name, out)) {
        out->at = i;
        return out->kind == HEAD_NAME;
    }
    if (is_like_name(items, i) || (joined && items_at(items, i)->kind == ITEM_STRANGER)) {
        *out = (struct head){HEAD_STRANGER, names_nothing(), i, i + 1};
        return true;
    }
    if (!is_number(items_at(items, number)) || (number == i && !joined)) {
        return false;
    }
    set_number(items, i, number + 1, out);
    return out->kind == HEAD_NUMBER;
}

/* "1 M12 1340" and, on a line of its own, "2 M7 220": a list number without a mark. */
static bool is_bare_list_number(const struct items *items, size_t i)
{
    struct head head = {0};
    bool first = i == 0 && items_at(items, i)->figure.number == 1;
    bool next = i > 1 && items_at(items, i - 1)->kind == ITEM_BREAK &&
                items_at(items, i - 2)->kind != ITEM_MACHINE;
    return (first || next) && name_at(items, i + 1, &head) &&
           item_is_hours(items_at(items, split_pass_links(items, head.next)));
}

bool split_is_list_number(const struct items *items, size_t i)
{
    if (!is_number(items_at(items, i)) || items_at(items, i)->figure.number > LIST_NUMBER_MAX) {
        return false;
    }
    const struct item *mark = items_at(items, i + 1);
    bool line_start = i == 0 || items_at(items, i - 1)->kind == ITEM_BREAK;
    struct head head = {0};
    return is_bare_list_number(items, i) ||
           ((item_is_mark(mark, ')') || item_is_mark(mark, '.') ||
             (line_start && (item_is_mark(mark, ':') || item_is_mark(mark, '-')))) &&
            split_head_at(items, i + 2, item_is_mark(mark, ')') || item_is_mark(mark, '.'), &head));
}

size_t split_skip(const struct items *items, size_t i)
{
    size_t next = i;
    while (next < items->count) {
        const struct item *item = items_at(items, next);
        if (split_is_list_number(items, next)) {
            const struct item *mark = items_at(items, next + 1);
            next += mark->kind == ITEM_MARK && !item_is_mark(mark, '#') ? 2 : 1;
        } else if (split_is_separator(item) ||
                   (item->kind == ITEM_MARK && !item_is_mark(item, '#'))) {
            next++;
        } else {
            break;
        }
    }
    return next;
}

/* Words that may stand between a separator and the machine of a new statement. */
static size_t pass_openers(const struct items *items, size_t i)
{
    size_t next = i;
    while (item_is(items_at(items, next), WORD_ARTICLE | WORD_COURTESY | WORD_JOIN) ||
           ((item_is(items_at(items, next), WORD_NOUN) ||
             item_tells(items_at(items, next), TOPICS_OF_MOVES)) &&
            (items_at(items, next + 1)->kind == ITEM_MACHINE ||
             item_is_mark(items_at(items, next + 1), '#'))) ||
           items_at(items, next)->kind == ITEM_WHEN ||
           (next > i && (item_is_mark(items_at(items, next), ':') ||
                         item_is_mark(items_at(items, next), '-')))) {
        next++;
    }
    return next;
}

/* "North field M7 220", "South: M7 220": on a new line, or before a colon, other words may stand
 * before a whole name whose figure stands right beside it with nothing after it. */
static bool labelled_at(const struct items *items, size_t i, bool new_line)
{
    size_t at = i;
    while (items_at(items, at)->kind == ITEM_WORD && !split_is_boundary(items_at(items, at)) &&
           !item_is(items_at(items, at), WORD_ASKS | WORD_PLANS | WORD_DENIES)) {
        at++;
    }
    bool colon = item_is_mark(items_at(items, at), ':');
    at += colon ? 1 : 0;
    size_t figure = pass_marks(items, at + 1);
    return at > i && (colon || new_line) && items_at(items, at)->kind == ITEM_MACHINE &&
           item_is_hours(items_at(items, figure)) &&
           (colon || items_at(items, figure + 1)->kind != ITEM_WORD);
}

/* The machine at item i, an article before it passed over, is spoken of up to the next boundary: it did
 * not run, or something is wrong with it. */
static bool told_at(const struct items *items, size_t i)
{
    struct head head = {0};
    size_t at = item_is(items_at(items, i), WORD_ARTICLE) ? i + 1 : i;
    return name_at(items, at, &head) &&
           (item_tells(items_at(items, split_pass_links(items, head.next)), TOPIC_SAME) ||
            trouble_told(items, head.next, split_part_end(items, head.next)) != TOLD_NOTHING);
}

/* "When is M14 due?" at item i: a question that names one machine and no figure. */
static bool asks_at(const struct items *items, size_t i)
{
    size_t machines = 0;
    size_t end = i;
    for (; !split_is_boundary(items_at(items, end)); end++) {
        enum item_kind kind = items_at(items, end)->kind;
        machines += kind == ITEM_MACHINE ? 1 : kind == ITEM_FIGURE ? 2 : 0;
    }
    return machines == 1 && item_is(items_at(items, i), WORD_ASKS | WORD_ASKS_FIRST) &&
           item_is_mark(items_at(items, end), '?');
}

/* True where a statement begins at item i, after separators; stop: a full stop was the only one. */
static bool begins_at(const struct items *items, size_t i, bool stop, bool new_line)
{
    struct head head = {0};
    struct alone alone = {0};
    size_t at = pass_openers(items, i);
    if (split_head_at(items, at, true, &head)) {
        return !stop || head.kind == HEAD_GLUED || head.kind == HEAD_NAME ||
               (head.kind != HEAD_BARE &&
                item_is_hours(items_at(items, split_pass_links(items, head.next))));
    }
    return asks_at(items, i) ||
           (!stop && (alone_word_at(items, i, false, &alone) || labelled_at(items, i, new_line)));
}

/* True where, right after a figure and without a separator, a statement begins at item i. */
static bool follows_at(const struct items *items, size_t i)
{
    struct head head = {0};
    const struct item *mark = items_at(items, i + 1);
    if (is_number(items_at(items, i))) {
        return (item_is_mark(mark, ':') || item_is_mark(mark, '=') || item_is_mark(mark, '-')) &&
               item_is_hours(items_at(items, i + 2)) && bare_at(items, i, &head) &&
               head.kind == HEAD_BARE;
    }
    if (!split_head_at(items, i, false, &head)) {
        return item_is(items_at(items, i), WORD_ARTICLE) && name_at(items, i + 1, &head);
    }
    size_t after = pass_marks(items, head.next);
    return head.kind == HEAD_GLUED || says_something(items, after) ||
           items_at(items, after)->kind == ITEM_END ||
           item_is_hours(items_at(items, split_pass_links(items, after)));
}

/* A name with a figure behind it begins a statement anywhere: that of a machine, where the figure is like
 * a meter's, and one that is only shaped like those of the yard, which is refused by name. */
static bool figured_at(const struct items *items, size_t i)
{
    struct head head = {0};
    if (name_at(items, i, &head)) {
        return item_is_like_meter(items_at(items, pass_marks(items, head.next)));
    }
    size_t figure = pass_marks(items, i + 1);
    return item_is_hours(items_at(items, figure)) &&
           items_at(items, figure + 1)->kind != ITEM_WORD && is_like_name(items, i);
}

/* True where separators, a stop or the mark of a list stand at item i, and a statement begins behind them. */
static bool parts_at(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    size_t next = split_skip(items, i);
    bool separator = false;
    bool new_line = false;
    for (size_t k = i; k < next; k++) {
        separator = separator || split_is_separator(items_at(items, k));
        new_line = new_line || items_at(items, k)->kind == ITEM_BREAK;
    }
    return (separator || split_is_stop(item) || (next > i && item->kind != ITEM_MARK)) &&
           begins_at(items, next, !separator && split_is_stop(item), new_line);
}

size_t split_end(const struct items *items, size_t i, bool after_figure)
{
    struct retraction retraction;
    bool soft = after_figure; /* nothing stood here yet but what a statement may follow */
    for (size_t at = i; at < items->count; at++) {
        const struct item *item = items_at(items, at);
        bool marked = item_is_mark_or_break(items_at(items, at - 1));
        if (parts_at(items, at) || ((soft || marked) && told_at(items, at)) ||
            (soft && follows_at(items, at)) ||
            ((at > i || item->kind == ITEM_STRANGER) && figured_at(items, at)) ||
            retraction_at(items, at, &retraction)) {
            return at;
        }
        soft = soft && (item->kind == ITEM_WHEN || item->kind == ITEM_MARK ||
                        item_is(item, WORD_COURTESY | WORD_HOURS | WORD_ASSENT | WORD_FILLER));
    }
    return items->count;
}

bool split_is_meter(const struct items *items, size_t i)
{
    const struct item *next = items_at(items, i + 1);
    return item_is_like_meter(items_at(items, i)) ||
           (item_is_hours(items_at(items, i)) &&
            (next->kind != ITEM_WORD || item_is(next, WORD_COURTESY | WORD_JOIN | WORD_DONE) ||
             item_tells(next, TOPIC_RATHER)));
}

bool split_parts_at(const struct items *items, size_t i)
{
    struct head head = {0};
    return (split_is_separator(items_at(items, i)) || split_is_stop(items_at(items, i))) &&
           split_head_at(items, split_skip(items, i), false, &head);
}
