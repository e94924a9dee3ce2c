/* SPDX-License-Identifier: MIT
 * crew_text_statement: what is said of a machine.
 *
 * Behind the machine only separators, units, days and linking words are passed over; what comes
 * then decides: a figure, a word of the grammar, nothing. Anything else is not understood, unless
 * the sentence is a plain question, which asks how the machine stands. */
#include "parsers/crew_text_statement.h"

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
    for (size_t i = 0; i < CREW_PLANS_MAX && i < out->plan_count; i++) {
        if (out->plans[i] == plan) {
            return;
        }
    }
    if (plan >= 0 && out->plan_count < CREW_PLANS_MAX) {
        out->plans[out->plan_count] = plan;
        out->plan_count++;
    }
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
    bool emoji = item->kind == ITEM_WORD && fold_at(items->fold, item->at) >= FOLD_EMOJI;
    bool again = item->kind == ITEM_MACHINE && head->found.index >= 0 &&
                 item->found.index == head->found.index; /* "M12 M12 1340" */
    if (item_is_mark_or_break(item) || emoji || item_is(item, WORD_HOURS | WORD_JOIN) || again) {
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

void statement_set_when(const struct reader *reader, struct crew_statement *out)
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

/* A reading whose machine or figure is in doubt, read up to item `next`. */
static struct statement_end read_doubtful(const struct reader *reader, size_t next,
                                          enum crew_obstacle obstacle, struct crew_statement *out)
{
    size_t end = split_end(reader->items, next, true);
    out->kind = CREW_READING;
    out->obstacle = obstacle;
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
    out->hours = items_at(items, after.next)->figure.hours;
    out->candidates[0] = out->machine;
    out->candidates[1] = other->found.index;
    out->machine = NAMES_NONE;
    return read_doubtful(reader, after.next + 1, CREW_OBSTACLE_WHICH_MACHINE, out);
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

/* "M12 and M7 1341 and 229": machines in a run from item i on, and then their figures. */
static bool shares_figures(const struct items *items, size_t i)
{
    size_t at = i;
    while (items_at(items, at)->kind == ITEM_MACHINE ||
           items_at(items, at)->kind == ITEM_STRANGER || split_is_separator(items_at(items, at)) ||
           item_is(items_at(items, at), WORD_LINK | WORD_ARTICLE)) {
        at++;
    }
    return item_is_hours(items_at(items, at)) && split_is_separator(items_at(items, at + 1)) &&
           item_is_hours(items_at(items, at + 2)) && !item_is_hours(items_at(items, at + 3));
}

/* Nothing more is said of the machine, or only that its state is asked for. */
static bool is_plain_status(const struct reader *reader)
{
    const struct items *items = reader->items;
    size_t at = reader->between.next;
    bool asked = item_is(items_at(items, at), WORD_DUE | WORD_STATUS);
    at += asked ? 1 : 0;
    while (item_is(items_at(items, at), WORD_POLITE | (asked ? WORD_ASKS : 0))) {
        at++; /* "M12 due when" */
    }
    const struct item *item = items_at(items, at);
    return reader->before->clean && !reader->before->figures &&
           reader->between.when.kind == CREW_WHEN_UNSAID &&
           (asked ||
            !(reader->between.links || reader->between.copula || shares_figures(items, at))) &&
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

/* True where what stands before the machine leaves room for a report: a whole name with its figure
 * right beside it may have any words before it, all else only courtesies. */
static bool may_report(const struct reader *reader)
{
    bool links = reader->between.links || reader->between.copula;
    return !reader->before->hedged &&
           (reader->before->clean || (reader->head->kind == HEAD_NAME && !links) ||
            service_told(reader->items, reader->before->begin, reader->head->at));
}

static struct statement_end read_word(const struct reader *reader, size_t word,
                                      const struct crew_statement *plans,
                                      struct crew_statement *out)
{
    if (reader->between.links || reader->between.about || reader->before->hedged ||
        !reader->before->clean) {
        return read_status(reader, out); /* "when is M12 done?" */
    }
    *out = *plans;
    size_t end = shop_read(reader->items, word, out);
    statement_set_when(reader, out);
    return (struct statement_end){end, end, end};
}

/* Words that say what the statement is: a move, a reading in words, SOLVED, "M12 should be 1341", a word
 * of the shop's. False where there are none. */
static bool read_words(const struct reader *reader, struct crew_statement *out,
                       struct statement_end *end)
{
    const struct items *items = reader->items;
    size_t next = reader->between.next;
    size_t span = may_report(reader) ? reading_span_end(reader) : items->count;
    struct crew_statement plans = *out;
    struct retraction retraction = {0};
    size_t right = reader->before->clean ? retraction_but(items, next) : items->count;
    size_t word = shop_word_at(items, reader->head->next, &plans);
    word = word < items->count ? word : shop_word_at(items, next, &plans);
    if (move_read(items, reader->before, reader->head, out, end)) {
        return true;
    }
    if (span < items->count) {
        bool ends = item_tells(items_at(items, span + 1), TOPIC_ENDS);
        *end = reading_read(reader, span, ends ? span + 1 : span, out);
    } else if (!reader->before->hedged && reading_is_same(reader)) {
        *end = reading_same(reader, next + 1, split_end(items, next + 1, true), out);
    } else if (reader->before->clean && item_tells(items_at(items, next), TOPIC_SOLVED)) {
        size_t last = split_end(items, next + 1, false);
        out->kind = CREW_SOLVED;
        out->remark = remark_words(items, next + 1, last);
        *end = (struct statement_end){last, last, last};
    } else if (reader->before->clean && !item_is(items_at(items, next), WORDS_OF_SHOP) &&
               retraction_at(items, next, &retraction) && retraction.machine == NAMES_NONE) {
        *end = reading_read(reader, retraction.figure, retraction.figure, out);
        out->kind = CREW_CORRECT;
        out->of_own_last = true;
    } else if (right < items->count) { /* "M12 is not 1340 but 1341" */
        *end = reading_read(reader, right, right, out);
        out->kind = CREW_CORRECT;
        out->of_own_last = true;
        out->to_hours = items_at(items, split_pass_links(items, next + 1))->figure.hours;
    } else if (word < items->count) {
        *end = read_word(reader, word, &plans, out);
    } else {
        return false;
    }
    return true;
}

static struct statement_end read_after_machine(const struct reader *reader,
                                               struct crew_statement *out)
{
    const struct items *items = reader->items;
    size_t next = reader->between.next;
    const struct item *item = items_at(items, next);
    struct statement_end end = {0};
    bool bad = item->kind == ITEM_STRANGER ||
               (item->kind == ITEM_FIGURE &&
                (item->figure.kind == FIGURE_BAD || item->figure.kind == FIGURE_DATE));
    if (reader->head->kind == HEAD_GLUED) { /* "M121340h" */
        out->hours = items_at(items, reader->head->next - 1)->figure.hours;
        return read_doubtful(reader, reader->head->next, CREW_OBSTACLE_GLUED, out);
    }
    if (read_words(reader, out, &end)) {
        return end;
    }
    if (bad || item_reads_hours(items, next)) {
        if (!may_report(reader)) {
            return read_unclear(reader, out);
        }
        return bad ? read_doubtful(reader, next + 1, CREW_OBSTACLE_FIGURE_FORM, out)
                   : reading_read(reader, next, next, out);
    }
    return item->kind == ITEM_MACHINE ? read_two_machines(reader, out) : read_status(reader, out);
}

/* One figure somewhere, and words of service ("changed the belts on M12 last night, 1341") or of a new
 * meter ("M12 they put a new meter on it, 3.2"). */
static bool read_told_figure(const struct reader *reader, size_t end, struct crew_statement *out)
{
    const struct items *items = reader->items;
    size_t begin = reader->before->begin;
    size_t figures = 0;
    struct hours_figure hours = {0};
    bool new_meter = false;
    for (size_t at = begin; at < end; at++) {
        if (split_is_meter(items, at)) {
            figures++;
            hours = items_at(items, at)->figure.hours;
        }
        new_meter = new_meter || item_tells(items_at(items, at), TOPIC_NEW_METER);
    }
    if (figures != 1 || reader->before->hedged || !(new_meter || service_told(items, begin, end))) {
        return false;
    }
    if (new_meter) {
        out->kind = CREW_READING;
        out->new_meter = true;
    } else {
        service_words(items, begin, end, out);
    }
    out->hours = hours;
    out->obstacle = CREW_OBSTACLE_NONE;
    out->remark = remark_words(items, begin, end);
    return true;
}

/* A figure that counts something else, wherever it stands: the interval of a service asks how the machine
 * stands; hours worked, and a house number that is like a meter's, are asked about. */
static bool heed_natures(const struct reader *reader, size_t end, struct crew_statement *out)
{
    for (size_t at = reader->before->begin; at < end; at++) {
        const struct item *item = items_at(reader->items, at);
        const struct figure *figure = &item->figure;
        bool interval = item->kind == ITEM_FIGURE && figure->kind == FIGURE_INTERVAL;
        bool worked = item_is_hours(item) && figure->nature == CREW_NATURE_WORKED;
        bool house = item_is_like_meter(item) && figure->nature == CREW_NATURE_ADDRESS &&
                     !reader->before->hedged;
        if (interval || worked || house) {
            out->kind = interval ? CREW_STATUS : CREW_READING;
            out->obstacle = CREW_OBSTACLE_NONE;
            out->nature = figure->nature;
            out->hours = figure->hours;
            return true;
        }
    }
    return false;
}

/* "did not run: M12", "solved M12": what is told stands before the machine, and nothing behind it. */
static bool read_told_first(const struct reader *reader, size_t end, struct crew_statement *out)
{
    const struct items *items = reader->items;
    size_t behind = reader->head->next;
    while (behind < end && (item_is_mark_or_break(items_at(items, behind)) ||
                            items_at(items, behind)->kind == ITEM_WHEN ||
                            item_is(items_at(items, behind), WORD_COURTESY))) {
        behind++;
    }
    if (behind < end || reader->before->hedged) {
        return false;
    }
    for (size_t at = reader->before->begin; at < reader->head->at; at++) {
        if (item_tells(items_at(items, at), TOPIC_SAME)) {
            (void)reading_same(reader, reader->head->next, end, out);
            return true;
        }
        if (item_tells(items_at(items, at), TOPIC_SOLVED)) {
            out->kind = CREW_SOLVED;
            out->obstacle = CREW_OBSTACLE_NONE;
            return true;
        }
    }
    return false;
}

/* "changed the oil in M12": a service that is done, of a plan or of none that is named, and no figure. */
static bool read_unfigured(const struct reader *reader, size_t end, struct crew_statement *out)
{
    const struct items *items = reader->items;
    size_t begin = reader->before->begin;
    struct crew_statement service = *out;
    service_words(items, begin, end, &service);
    bool upkeep = service.plan_count > 0;
    bool done = false;
    for (size_t at = begin; at < end; at++) {
        const struct item *item = items_at(items, at);
        if (item->kind == ITEM_FIGURE || item_tells(item, TOPIC_NEGATES)) {
            return false;
        }
        upkeep = upkeep || item_tells(item, TOPIC_UPKEEP);
        done = done || item_tells(item, TOPIC_SERVICED);
    }
    if (!upkeep || !done || reader->before->hedged || !service_told(items, begin, end) ||
        trouble_told(items, begin, end) != TOLD_NOTHING) {
        return false;
    }
    *out = service;
    out->obstacle = CREW_OBSTACLE_NO_FIGURE;
    out->remark = remark_words(items, begin, end);
    return true;
}

/* What is not understood may tell a figure in other words, trouble, or a remark. */
static void heed_words(const struct reader *reader, size_t end, struct crew_statement *out)
{
    const struct items *items = reader->items;
    size_t begin = reader->before->begin;
    struct crew_statement words = statement_empty(CREW_UNKNOWN, CREW_OBSTACLE_NONE);
    if (heed_natures(reader, end, out) || read_told_first(reader, end, out) ||
        read_told_figure(reader, end, out)) {
        return;
    }
    if (alone_is_checked(items, begin, end)) {
        out->kind = CREW_CHECKED;
        out->obstacle = CREW_OBSTACLE_NONE;
        out->done_follows = service_told(items, begin, end);
        out->remark = remark_words(items, begin, end);
        return;
    }
    words.machine = out->machine;
    words.machine_full = out->machine_full;
    words.words = out->words;
    if (read_unfigured(reader, end, &words)) {
        *out = words;
        return;
    }
    if (trouble_read(items, begin, reader->head, reader->before->clean, end, &words)) {
        *out = words;
    }
}

struct statement_end statement_read(const struct items *items, const struct head *head,
                                    const struct before *before, struct crew_statement *out)
{
    struct reader reader = {items, head, before, read_between(items, head->next, head)};
    size_t last = items_at(items, head->next - 1)->end;
    *out = statement_empty(CREW_UNKNOWN, CREW_OBSTACLE_NONE);
    out->words = fold_slice(items->fold, items_at(items, head->at)->at, last);
    out->machine_full = head->kind == HEAD_NAME;
    statement_set_found(&head->found, out);
    struct statement_end end = read_after_machine(&reader, out);
    /* An obstacle with the machine itself goes before any other. */
    if (head->kind == HEAD_STRANGER) {
        out->obstacle = CREW_OBSTACLE_NO_SUCH_MACHINE;
        out->words = fold_slice(items->fold, items_at(items, head->next - 1)->at, last);
    } else if (head->found.index == NAMES_SEVERAL && head->kind != HEAD_GLUED) {
        out->obstacle = CREW_OBSTACLE_WHICH_MACHINE;
    } else if (out->obstacle == CREW_OBSTACLE_UNCLEAR) {
        heed_words(&reader, end.next, out);
    }
    if (out->obstacle == CREW_OBSTACLE_NONE && out->when.kind == CREW_WHEN_DATE &&
        out->when.month == 0) {
        out->obstacle = CREW_OBSTACLE_DATE;
    }
    out->kind = out->obstacle == CREW_OBSTACLE_UNCLEAR ? CREW_UNKNOWN : out->kind;
    return end;
}
