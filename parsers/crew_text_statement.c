/* SPDX-License-Identifier: MIT
 * crew_text_statement: what is said of a machine.
 *
 * Behind the machine only separators, units, days and linking words are passed over; what comes
 * then decides: a figure, a word of the grammar, nothing. Anything else is not understood, unless
 * the sentence is a plain question, which asks how the machine stands. */
#include "parsers/crew_text_statement.h"

/* What lies between the machine and what is said of it. */
struct between {
    size_t next;
    bool links;  /* linking words, others than "is" */
    bool copula; /* "is" */
    bool new_meter;
    bool about; /* "about", "~": the figure is not exact */
    struct crew_when when;
};

/* A statement being read. */
struct reader {
    const struct items *items;
    const struct head *head;
    const struct before *before;
    struct between between;
};

struct crew_statement statement_empty(enum crew_kind kind, enum crew_obstacle obstacle)
{
    return (struct crew_statement){.kind = kind,
                                   .obstacle = obstacle,
                                   .machine = NAMES_NONE,
                                   .candidates = {NAMES_NONE, NAMES_NONE, NAMES_NONE, NAMES_NONE},
                                   .not_machine = NAMES_NONE,
                                   .when = {.minute_of_day = -1}};
}

void statement_set_found(const struct name_found *found, struct crew_statement *out)
{
    if (found->index >= 0) {
        out->machine = found->index;
    } else if (found->index == NAMES_SEVERAL) {
        for (size_t i = 0; i < NAMES_CANDIDATES_MAX; i++) {
            out->candidates[i] = found->candidates[i];
        }
    }
}

void statement_add_plan(int32_t plan, struct crew_statement *out)
{
    for (size_t i = 0; i < out->plan_count && i < CREW_PLANS_MAX; i++) {
        if (out->plans[i] == plan) {
            return;
        }
    }
    if (plan >= 0 && out->plan_count < CREW_PLANS_MAX) {
        out->plans[out->plan_count] = plan;
        out->plan_count++;
    }
}

static bool is_sign(const struct items *items, const struct item *item)
{
    return item->kind == ITEM_WORD && fold_at(items->fold, item->at) >= FOLD_EMOJI;
}

/* "M12 M12 1340" */
static bool names_again(const struct items *items, size_t i, const struct head *head)
{
    return items_at(items, i)->kind == ITEM_MACHINE && head->found.index >= 0 &&
           items_at(items, i)->found.index == head->found.index;
}

/* Takes an item that may stand between a machine and what is said of it. */
static bool pass_between(const struct items *items, size_t i, const struct head *head,
                         struct between *out)
{
    const struct item *item = items_at(items, i);
    if (split_parts_at(items, i) || item_is_mark(item, '?') || item_is_mark(item, '#')) {
        return false;
    }
    if (item->kind == ITEM_WHEN && out->when.kind == CREW_WHEN_UNSAID) {
        out->when = item->figure.when;
        return true;
    }
    if (item_is_mark_or_break(item) || is_sign(items, item) ||
        item_is(item, WORD_HOURS | WORD_JOIN) || names_again(items, i, head)) {
        out->about |= item_is_mark(item, '~') || item_is_mark(item, '<');
        return true;
    }
    if (item_tells(item, TOPIC_NEW_METER)) {
        out->new_meter = true;
        return true;
    }
    if (item_is(item, WORDS_OF_SHOP) || !item_is(item, WORD_LINK | WORD_ARTICLE | WORD_ABOUT)) {
        return false;
    }
    out->about |= item_is(item, WORD_ABOUT);
    out->copula |= item_is(item, WORD_COPULA);
    out->links |= !item_is(item, WORD_COPULA);
    return true;
}

static struct between read_between(const struct items *items, size_t i, const struct head *head)
{
    struct between out = {.next = i, .when = {.minute_of_day = -1}};
    while (out.next < items->count && pass_between(items, out.next, head, &out)) {
        out.next++;
    }
    return out;
}

/* The machine of the statement, or the obstacle with it. */
static void set_machine(const struct reader *reader, struct crew_statement *out)
{
    const struct head *head = reader->head;
    const struct items *items = reader->items;
    out->words = fold_slice(items->fold, items_at(items, head->at)->at,
                            items_at(items, head->next - 1)->end);
    out->machine_full = head->kind == HEAD_NAME;
    statement_set_found(&head->found, out);
}

/* An obstacle with the machine itself goes before any other. */
static void heed_machine(const struct reader *reader, struct crew_statement *out)
{
    if (reader->head->kind == HEAD_STRANGER) {
        out->obstacle = CREW_OBSTACLE_NO_SUCH_MACHINE;
        out->words =
            fold_slice(reader->items->fold, items_at(reader->items, reader->head->next - 1)->at,
                       items_at(reader->items, reader->head->next - 1)->end);
    } else if (reader->head->found.index == NAMES_SEVERAL && reader->head->kind != HEAD_GLUED) {
        out->obstacle = CREW_OBSTACLE_WHICH_MACHINE;
    }
}

static void set_when(const struct reader *reader, struct crew_statement *out)
{
    if (reader->between.when.kind != CREW_WHEN_UNSAID) {
        out->when = reader->between.when;
    } else if (out->when.kind == CREW_WHEN_UNSAID) {
        out->when = reader->before->when;
    }
}

static struct statement_end read_unclear(const struct reader *reader, struct crew_statement *out)
{
    out->obstacle = CREW_OBSTACLE_UNCLEAR;
    size_t end = split_end(reader->items, reader->head->next, false);
    return (struct statement_end){end, end, end};
}

/* Troubles of the figure itself, in the order in which they matter. */
static enum crew_obstacle figure_obstacle(const struct reader *reader, const struct remark *remark)
{
    if (reader->before->figure) {
        return CREW_OBSTACLE_TWO_FIGURES;
    }
    if (remark->obstacle == CREW_OBSTACLE_NONE && reader->between.about) {
        return CREW_OBSTACLE_ASKED_FIGURE;
    }
    return remark->obstacle;
}

/* The figure of a reading is at item `figure`; what belongs to it ends with item `last`. */
static struct statement_end read_reading(const struct reader *reader, size_t figure, size_t last,
                                         struct crew_statement *out)
{
    const struct items *items = reader->items;
    size_t end = split_end(items, last + 1, true);
    struct remark remark = remark_read(items, last + 1, end);
    out->kind = CREW_READING;
    out->hours = items_at(items, figure)->figure.hours;
    out->nature = items_at(items, figure)->figure.nature;
    out->new_meter = reader->between.new_meter;
    for (size_t at = last + 1; at < end; at++) {
        out->new_meter = out->new_meter || item_tells(items_at(items, at), TOPIC_NEW_METER);
    }
    out->obstacle = figure_obstacle(reader, &remark);
    out->remark = remark.slice;
    out->when = remark.when;
    if (out->obstacle == CREW_OBSTACLE_TWO_FIGURES) {
        out->to_hours = reader->before->figure ? reader->before->first : remark.second;
    }
    if (remark.slice.length > 0) {
        const struct item *first = items_at(items, remark.begin);
        out->figure_then_word = remark.begin == figure + 1 && first->kind == ITEM_WORD;
        out->done_follows = item_is(first, WORD_DONE);
        remark.when_at = end;
    }
    set_when(reader, out);
    return (struct statement_end){end, remark.when_at, remark.begin};
}

/* A figure that is none: letters inside, or the word that should be one. */
static bool is_bad_figure(const struct item *item)
{
    return (item->kind == ITEM_FIGURE &&
            (item->figure.kind == FIGURE_BAD || item->figure.kind == FIGURE_DATE)) ||
           item->kind == ITEM_STRANGER;
}

static struct statement_end read_bad_figure(const struct reader *reader, struct crew_statement *out)
{
    size_t end = split_end(reader->items, reader->between.next + 1, true);
    out->kind = CREW_READING;
    out->obstacle = CREW_OBSTACLE_FIGURE_FORM;
    return (struct statement_end){end, end, end};
}

/* "M12 M7 220": two machines and one figure. */
static struct statement_end read_two_machines(const struct reader *reader,
                                              struct crew_statement *out)
{
    const struct items *items = reader->items;
    const struct item *other = items_at(items, reader->between.next);
    struct between after = read_between(items, reader->between.next + 1, reader->head);
    if (!item_is_hours(items_at(items, after.next)) || other->found.index < 0 || out->machine < 0) {
        return read_unclear(reader, out);
    }
    out->kind = CREW_READING;
    out->obstacle = CREW_OBSTACLE_WHICH_MACHINE;
    out->hours = items_at(items, after.next)->figure.hours;
    out->candidates[0] = out->machine;
    out->candidates[1] = other->found.index;
    out->machine = NAMES_NONE;
    size_t end = split_end(items, after.next + 1, true);
    return (struct statement_end){end, end, end};
}

/* A plain question: up to its end it names no figure and no other machine. *next: the item after
 * it. known: every word in it is one of the tables. */
static bool is_question(const struct reader *reader, size_t *next)
{
    const struct items *items = reader->items;
    bool asks = reader->before->asks || item_is(items_at(items, reader->between.next), WORD_ASKS);
    bool known = true;
    size_t at = reader->head->next;
    while (at < items->count && !split_is_stop(items_at(items, at)) && !split_parts_at(items, at)) {
        const struct item *item = items_at(items, at);
        if (item->kind == ITEM_FIGURE || item->kind == ITEM_MACHINE ||
            item->kind == ITEM_STRANGER || item->kind == ITEM_GLUED) {
            return false;
        }
        known = known && !(item->kind == ITEM_WORD && item->sense.classes == 0);
        at++;
    }
    bool marked = item_is_mark(items_at(items, at), '?');
    if (reader->before->figures) {
        return false;
    }
    *next = split_is_stop(items_at(items, at)) ? at + 1 : at;
    return marked || (asks && (reader->before->asks || known));
}

/* Nothing more is said of the machine, or only that its state is asked for. */
static bool is_plain_status(const struct reader *reader)
{
    const struct items *items = reader->items;
    size_t at = reader->between.next;
    bool asked = item_is(items_at(items, at), WORD_DUE | WORD_STATUS);
    at += asked ? 1 : 0;
    while (item_is(items_at(items, at), WORD_POLITE)) {
        at++;
    }
    const struct item *item = items_at(items, at);
    return reader->before->clean && !reader->before->figures &&
           reader->between.when.kind == CREW_WHEN_UNSAID &&
           (asked || !(reader->between.links || reader->between.copula)) &&
           (item->kind == ITEM_END || split_is_separator(item) || split_parts_at(items, at));
}

static struct statement_end read_status(const struct reader *reader, struct crew_statement *out)
{
    size_t next = reader->between.next;
    if (!is_question(reader, &next) && !is_plain_status(reader)) {
        return read_unclear(reader, out);
    }
    out->kind = CREW_STATUS;
    return (struct statement_end){next, next, next};
}

/* "M121340h" */
static struct statement_end read_glued(const struct reader *reader, struct crew_statement *out)
{
    const struct items *items = reader->items;
    size_t end = split_end(items, reader->head->next, true);
    out->kind = CREW_READING;
    out->obstacle = CREW_OBSTACLE_GLUED;
    out->hours = items_at(items, reader->head->next - 1)->figure.hours;
    return (struct statement_end){end, end, end};
}

/* True where what stands before the machine leaves room for a report: a whole name with its figure
 * right beside it may have any words before it, all else only courtesies. */
static bool may_report(const struct reader *reader)
{
    bool links = reader->between.links || reader->between.copula;
    return !reader->before->hedged &&
           (reader->before->clean || (reader->head->kind == HEAD_NAME && !links) ||
            service_told(reader->items, reader->before->begin, reader->head->at));
}

/* "M12 did not run", "M12 same as yesterday" at item between.next. "did not run well" says something
 * else. */
static bool is_same(const struct reader *reader)
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

static struct statement_end read_same(const struct reader *reader, size_t said, size_t end,
                                      struct crew_statement *out)
{
    struct remark remark = remark_read(reader->items, said, end);
    out->kind = CREW_READING;
    out->same_as_last = true;
    out->obstacle = CREW_OBSTACLE_NONE;
    out->remark = remark.slice;
    out->when = remark.when;
    set_when(reader, out);
    return (struct statement_end){end, end, remark.begin};
}

/* "start 1335 end 1340", "1335 start, 1340 end", "from 1335 to 1340" from item between.next on: the
 * item of the second figure, the items' count where it is not so. */
static size_t span_end(const struct reader *reader)
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

/* "M12 should be 1341": takes back the last one of it. */
static bool is_own_correction(const struct reader *reader, struct retraction *retraction)
{
    return reader->before->clean &&
           !item_is(items_at(reader->items, reader->between.next), WORDS_OF_SHOP) &&
           retraction_at(reader->items, reader->between.next, retraction) &&
           retraction->machine == NAMES_NONE;
}

/* "M12 SOLVED new latch" */
static struct statement_end read_solved(const struct reader *reader, struct crew_statement *out)
{
    size_t said = reader->between.next + 1;
    size_t end = split_end(reader->items, said, false);
    out->kind = CREW_SOLVED;
    out->remark = remark_words(reader->items, said, end);
    return (struct statement_end){end, end, end};
}

static struct statement_end read_word(const struct reader *reader, size_t word,
                                      const struct crew_statement *plans,
                                      struct crew_statement *out)
{
    if (reader->between.links || reader->between.about || reader->before->hedged ||
        !reader->before->clean) {
        return read_unclear(reader, out);
    }
    *out = *plans;
    size_t end = shop_read(reader->items, word, out);
    set_when(reader, out);
    return (struct statement_end){end, end, end};
}

static struct statement_end read_after_machine(const struct reader *reader,
                                               struct crew_statement *out)
{
    const struct item *item = items_at(reader->items, reader->between.next);
    struct crew_statement plans = *out;
    struct retraction retraction = {0};
    struct statement_end moved = {0};
    size_t word = shop_word_at(reader->items, reader->head->next, &plans);
    if (word >= reader->items->count) {
        word = shop_word_at(reader->items, reader->between.next, &plans);
    }
    if (reader->head->kind == HEAD_GLUED) {
        return read_glued(reader, out);
    }
    if (!reader->before->hedged &&
        move_read(reader->items, reader->before->begin, reader->head, out, &moved)) {
        return moved;
    }
    if (may_report(reader) && span_end(reader) < reader->items->count) {
        size_t figure = span_end(reader);
        bool ends = item_tells(items_at(reader->items, figure + 1), TOPIC_ENDS);
        return read_reading(reader, figure, ends ? figure + 1 : figure, out);
    }
    if (is_same(reader) && !reader->before->hedged) {
        size_t said = reader->between.next + 1;
        return read_same(reader, said, split_end(reader->items, said, true), out);
    }
    if (item_tells(item, TOPIC_SOLVED) && reader->before->clean) {
        return read_solved(reader, out);
    }
    if (is_own_correction(reader, &retraction)) {
        struct statement_end end = read_reading(reader, retraction.figure, retraction.figure, out);
        out->kind = CREW_CORRECT;
        out->of_own_last = true;
        return end;
    }
    if (word < reader->items->count) {
        return read_word(reader, word, &plans, out);
    }
    if (item_reads_hours(reader->items, reader->between.next) || is_bad_figure(item)) {
        if (!may_report(reader)) {
            return read_unclear(reader, out);
        }
        return is_bad_figure(item)
                   ? read_bad_figure(reader, out)
                   : read_reading(reader, reader->between.next, reader->between.next, out);
    }
    return item->kind == ITEM_MACHINE ? read_two_machines(reader, out) : read_status(reader, out);
}

/* "changed the belts on M12 last night, 1341": words of service, and one figure somewhere. */
static bool read_service_words(const struct reader *reader, size_t end, struct crew_statement *out)
{
    const struct items *items = reader->items;
    size_t figures = 0;
    struct hours_figure hours = {0};
    for (size_t at = reader->before->begin; at < end; at++) {
        if (split_is_meter(items, at)) {
            figures++;
            hours = items_at(items, at)->figure.hours;
        }
    }
    if (figures != 1 || reader->before->hedged ||
        !service_told(items, reader->before->begin, end)) {
        return false;
    }
    service_words(items, reader->before->begin, end, out);
    out->hours = hours;
    out->obstacle = CREW_OBSTACLE_NONE;
    out->remark = remark_words(items, reader->before->begin, end);
    return true;
}

/* What is not understood may be trouble, a remark, or ask after the interval of a service. */
static void heed_words(const struct reader *reader, size_t end, struct crew_statement *out)
{
    const struct items *items = reader->items;
    struct crew_statement words = statement_empty(CREW_UNKNOWN, CREW_OBSTACLE_NONE);
    for (size_t at = reader->before->begin; at < end; at++) {
        const struct item *item = items_at(items, at);
        if (item->kind == ITEM_FIGURE && item->figure.kind == FIGURE_INTERVAL) {
            out->kind = CREW_STATUS;
            out->obstacle = CREW_OBSTACLE_NONE;
            out->nature = CREW_NATURE_INTERVAL;
            out->hours = item->figure.hours;
            return;
        }
        if (item_is_hours(item) && item->figure.nature == CREW_NATURE_WORKED) {
            out->kind = CREW_READING;
            out->obstacle = CREW_OBSTACLE_NONE;
            out->nature = CREW_NATURE_WORKED;
            out->hours = item->figure.hours;
            return;
        }
    }
    size_t behind = reader->head->next;
    while (behind < end && (item_is_mark_or_break(items_at(items, behind)) ||
                            items_at(items, behind)->kind == ITEM_WHEN ||
                            item_is(items_at(items, behind), WORD_COURTESY))) {
        behind++;
    }
    for (size_t at = reader->before->begin; at < reader->head->at && behind == end; at++) {
        if (item_tells(items_at(items, at), TOPIC_SAME) && !reader->before->hedged) {
            (void)read_same(reader, reader->head->next, end, out);
            return;
        }
    }
    if (read_service_words(reader, end, out)) {
        return;
    }
    if (alone_is_checked(items, reader->before->begin, end)) {
        out->kind = CREW_CHECKED;
        out->obstacle = CREW_OBSTACLE_NONE;
        return;
    }
    words.machine = out->machine;
    words.machine_full = out->machine_full;
    words.words = out->words;
    if (trouble_read(items, reader->before->begin, reader->head, reader->before->clean, end,
                     &words)) {
        *out = words;
    }
}

struct statement_end statement_read(const struct items *items, const struct head *head,
                                    const struct before *before, struct crew_statement *out)
{
    struct reader reader = {items, head, before, read_between(items, head->next, head)};
    *out = statement_empty(CREW_UNKNOWN, CREW_OBSTACLE_NONE);
    set_machine(&reader, out);
    struct statement_end end = read_after_machine(&reader, out);
    heed_machine(&reader, out);
    if (out->obstacle == CREW_OBSTACLE_UNCLEAR && out->machine >= 0) {
        heed_words(&reader, end.next, out);
    }
    if (out->obstacle == CREW_OBSTACLE_NONE && out->when.kind == CREW_WHEN_DATE &&
        out->when.month == 0) {
        out->obstacle = CREW_OBSTACLE_DATE;
    }
    out->kind = out->obstacle == CREW_OBSTACLE_UNCLEAR ? CREW_UNKNOWN : out->kind;
    return end;
}
