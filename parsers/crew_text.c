/* SPDX-License-Identifier: MIT
 * crew_text: what does this text say?
 *
 * The text is folded and cut into items; then statement after statement is looked for: first words
 * of the grammar that stand alone, then a machine and what is said of it. What stands before the
 * machine is passed over where the rules allow it. A text without a machine may still be a bare
 * figure or plan, a courtesy, or a request to be left alone. Everything is bounded by the number of
 * items; no step looks at an item more than a few times. */
#include "parsers/crew_text.h"

#include "parsers/crew_text_statement.h"

#define NO_REPORT (WORD_ASKS | WORD_PLANS | WORD_DENIES)

/* The text being read. */
struct parse {
    const struct items *items;
    struct crew_text *out;
    size_t begin;       /* the first item; a reaction may stand before it */
    size_t at;          /* the item that comes next */
    size_t spoken_from; /* where the sentence may begin that the next machine stands in */
    size_t when_at;     /* the last statement's day, with nothing said after it */
    size_t withdrawn;   /* up to this item no machine is left over: it was taken back */
};

/* Ends a sentence, so that what it asks or plans says nothing of the next. */
static bool ends_sentence(const struct item *item)
{
    return split_is_stop(item) || item->kind == ITEM_BREAK || item_is_mark(item, ';');
}

/* True where a word keeps its sentence from being a report. "Si," and "no," are answers. */
static bool is_hedge(const struct items *items, size_t i, bool first)
{
    const struct item *item = items_at(items, i);
    if (item_is(item, WORD_ASKS_FIRST) && first) {
        return true;
    }
    return item_is(item, NO_REPORT) &&
           !(item_is(item, WORDS_ANSWER) && split_is_boundary(items_at(items, i + 1)));
}

static bool is_opener(const struct item *item)
{
    return item->kind == ITEM_MARK || item->kind == ITEM_WHEN ||
           item_is(item, WORD_COURTESY | WORD_ARTICLE | WORD_ASSENT | WORD_JOIN | WORD_NOUN);
}

/* "this is Tom", "soy Ana": the words that introduce, and the name behind them. */
static bool introduces(const struct items *items, size_t i)
{
    const struct item *next = items_at(items, i + 1);
    bool name = item_is(next, WORD_COURTESY) || natures_is_capitalised(items, next);
    return (item_tells(items_at(items, i), TOPIC_INTRODUCES) && name) ||
           (item_tells(items_at(items, i - 1), TOPIC_INTRODUCES) &&
            natures_is_capitalised(items, items_at(items, i)) &&
            items_at(items, i)->sense.classes == 0);
}

/* A figure right before the machine, which could be its own: "1340 M12 220". One that a word
 * counts ("crew 3: M12 1340") is none, unless it is like a meter's. */
static void find_figure(const struct items *items, size_t from, size_t to, struct before *out)
{
    size_t at = to;
    while (at > from && (item_is_mark_or_break(items_at(items, at - 1)) ||
                         items_at(items, at - 1)->kind == ITEM_WHEN)) {
        at--;
    }
    if (at == from || !item_is_hours(items_at(items, at - 1)) ||
        when_clock_minute(items_at(items, at - 1)) >= 0 || split_is_list_number(items, at - 1)) {
        return;
    }
    const struct figure *figure = &items_at(items, at - 1)->figure;
    const struct item *counts = items_at(items, at - 2);
    if (item_is_mark(counts, '#')) {
        return;
    }
    bool counted = at - 1 > from && counts->kind == ITEM_WORD;
    if (!counted || figure->hours_said || figure->hours.whole_digits >= 3) {
        out->figure = true;
        out->first = figure->hours;
    }
}

/* What stands before the machine at item `to`; its statement begins at `begin`, the sentence no
 * earlier than `from`. */
static struct before read_before(const struct items *items, size_t from, size_t begin, size_t to)
{
    struct before out = {.begin = begin, .clean = true, .when = {.minute_of_day = -1}};
    bool first = true;
    for (size_t i = from; i < to; i++) {
        const struct item *item = items_at(items, i);
        if (ends_sentence(item)) {
            out.hedged = false;
            out.asks = false;
            out.figures = false;
            first = true;
            continue;
        }
        out.asks |= item_is(item, WORD_ASKS | WORD_STATUS | WORD_DUE) ||
                    (first && item_is(item, WORD_ASKS_FIRST));
        out.hedged |= is_hedge(items, i, first);
        out.figures |= item->kind == ITEM_FIGURE && !split_is_list_number(items, i);
        bool opens = is_opener(item) || introduces(items, i);
        first = first && opens;
        if (i >= begin) {
            out.clean = item->kind == ITEM_MARK || (out.clean && opens);
            out.when = item->kind == ITEM_WHEN ? item->figure.when : out.when;
        }
    }
    return out;
}

static void add(struct parse *parse, const struct crew_statement *statement)
{
    struct crew_text *out = parse->out;
    if (out->statement_count < CREW_TEXT_STATEMENTS_MAX) {
        out->statements[out->statement_count] = *statement;
        out->statement_count++;
    } else {
        out->more = true;
    }
}

static void add_alone(struct parse *parse, enum crew_kind kind)
{
    struct crew_statement statement = statement_empty(kind, CREW_OBSTACLE_NONE);
    add(parse, &statement);
}

static bool find_head(const struct items *items, size_t begin, struct head *out)
{
    bool clean = true;
    size_t end = split_part_end(items, begin);
    for (size_t i = begin; i < end; i++) {
        if (split_head_at(items, i, clean, out)) {
            return true;
        }
        const struct item *item = items_at(items, i);
        clean = item->kind == ITEM_MARK || (clean && (is_opener(item) || introduces(items, i)));
    }
    return false;
}

/* Trouble that is told beside a reading or a move, before the machine or behind the figure, is a statement of
 * its own. "M12 2 flats": the figure counts what is broken, and is no reading. */
static void add_trouble(struct parse *parse, size_t begin, const struct head *head,
                        const struct crew_statement *reading, const struct statement_end *end)
{
    const struct items *items = parse->items;
    struct crew_statement trouble = statement_empty(CREW_TROUBLE, CREW_OBSTACLE_NONE);
    enum told before = trouble_told(items, begin, head->at);
    enum told behind = trouble_told(items, end->said, end->next);
    bool counts = reading->figure_then_word && reading->hours.whole_digits == 1 && end->said > 0;
    trouble.machine = reading->machine;
    trouble.machine_full = reading->machine_full;
    trouble.words = reading->words;
    if (behind != TOLD_NOTHING && behind >= before) {
        trouble_set(items, counts ? end->said - 1 : end->said, end->next, behind, &trouble);
        if (counts && parse->out->statement_count > 0) {
            parse->out->statement_count--;
        }
        add(parse, &trouble);
    } else if (before != TOLD_NOTHING) {
        trouble_set(items, begin, head->at, before, &trouble);
        add(parse, &trouble);
    }
}

/* "Tom is hurt, M12": what the parts before tell is told of the machine, in the place of its status. */
static void add_told_before(struct parse *parse, size_t from, size_t begin,
                            const struct crew_statement *last)
{
    struct crew_statement trouble = statement_empty(CREW_TROUBLE, CREW_OBSTACLE_NONE);
    trouble.machine = last->machine;
    trouble.machine_full = last->machine_full;
    trouble.words = last->words;
    trouble_set(parse->items, from, begin, trouble_told(parse->items, from, begin), &trouble);
    if (last->kind == CREW_STATUS && parse->out->statement_count > 0) {
        parse->out->statement_count--;
    }
    add(parse, &trouble);
}

static void read_machine(struct parse *parse, size_t begin, const struct head *head)
{
    struct crew_statement statement;
    struct before before = read_before(parse->items, parse->spoken_from, begin, head->at);
    find_figure(parse->items, parse->at, head->at, &before);
    size_t from =
        parse->at; /* words in parts before, which name no machine, may be told of this one */
    struct statement_end end = statement_read(parse->items, head, &before, &statement);
    bool reading = statement.kind == CREW_READING && statement.machine >= 0;
    bool figure = statement.hours.present && statement.obstacle != CREW_OBSTACLE_WITHDRAWN;
    if (reading && figure &&
        (service_told(parse->items, from, head->at) ||
         service_told(parse->items, end.said, end.next))) {
        service_words(parse->items, from, head->at, &statement);
        service_words(parse->items, end.said, end.next, &statement);
    }
    add(parse, &statement);
    if (reading || end.said < end.next) {
        add_trouble(parse, from, head, &statement, &end);
    }
    if (!reading && trouble_told(parse->items, from, begin) != TOLD_NOTHING) {
        add_told_before(parse, from, begin, &statement);
    }
    parse->at = end.next;
    parse->when_at = end.when_at;
    if (!before.hedged) {
        parse->spoken_from = end.next;
    }
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

static void take_out(struct parse *parse, size_t k)
{
    struct crew_text *out = parse->out;
    for (size_t at = k + 1; at < out->statement_count && at < CREW_TEXT_STATEMENTS_MAX; at++) {
        struct crew_statement next = out->statements[at];
        out->statements[at - 1] = next;
    }
    out->statement_count--;
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
    if (statement->obstacle != CREW_OBSTACLE_NO_SUCH_MACHINE &&
        statement->obstacle !=
            CREW_OBSTACLE_WHICH_MACHINE) { /* the machine is as doubtful as before */
        statement->obstacle = remark.obstacle;
    }
    statement->figure_then_word = false;
    if (remark.slice.length > 0) {
        statement->remark = remark.slice;
    }
    if (remark.when.kind != CREW_WHEN_UNSAID) {
        statement->when = remark.when;
    }
    parse->at = end;
}

/* A second thought at item `begin` about a statement before it. */
static bool read_retraction(struct parse *parse, size_t begin)
{
    struct retraction retraction = {0};
    size_t k = last_of(parse, NAMES_NONE);
    if (k >= parse->out->statement_count || !retraction_at(parse->items, begin, &retraction)) {
        return false;
    }
    if (retraction.machine == NAMES_NONE) {
        replace_figure(parse, retraction.figure, &parse->out->statements[k]);
    } else if (retraction.figure < parse->items->count) {
        size_t same = last_of(parse, retraction.machine);
        take_out(parse, same < parse->out->statement_count ? same : k);
        parse->withdrawn = retraction.at;
        parse->spoken_from = retraction.at;
        parse->at = retraction.at;
        read_machine(parse, retraction.at, &retraction.head);
    } else {
        parse->withdrawn = retraction.at;
        parse->out->statements[k].machine = retraction.machine;
        parse->out->statements[k].obstacle = CREW_OBSTACLE_NONE;
        parse->out->statements[k].machine_full = retraction.head.kind == HEAD_NAME;
        parse->at = split_end(parse->items, retraction.next, true);
    }
    parse->spoken_from = parse->at;
    return true;
}

/* "..., ignore that" at item `begin`: nothing follows that would count instead. */
static bool read_withdrawal(struct parse *parse, size_t begin)
{
    size_t end = split_part_end(parse->items, begin);
    size_t k = last_of(parse, NAMES_NONE);
    if (k >= parse->out->statement_count || !retraction_withdraws(parse->items, begin, end)) {
        return false;
    }
    parse->out->statements[k].obstacle = CREW_OBSTACLE_WITHDRAWN;
    parse->at = end;
    parse->spoken_from = end;
    return true;
}

/* "oops 1341", "sorry M14 not M12" at the start of a text: about the sender's own last reading. */
static bool read_own_correction(struct parse *parse, size_t from)
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
    add(parse, &statement);
    return true;
}

/* Looks for the next statement, from parse->at on. False where there are no more. */
static bool read_next(struct parse *parse)
{
    struct alone alone = {0};
    struct head head = {0};
    bool loose = parse->out->statement_count == 0;
    size_t from = parse->at;
    size_t begin = split_skip(parse->items, from);
    while (begin < parse->items->count) {
        if (read_retraction(parse, begin) || read_withdrawal(parse, begin)) {
            return true;
        }
        if (alone_word_at(parse->items, begin, loose, &alone)) {
            add_alone(parse, alone.kind);
            parse->at = alone.next;
            parse->spoken_from = alone.next;
            return true;
        }
        if (find_head(parse->items, begin, &head)) {
            read_machine(parse, begin, &head);
            return true;
        }
        begin = split_skip(parse->items, split_part_end(parse->items, begin));
    }
    return false;
}

/* "1340 M12": one figure, one machine, and nothing else but courtesies. */
static bool read_backwards(struct parse *parse)
{
    const struct items *items = parse->items;
    struct crew_statement statement = statement_empty(CREW_READING, CREW_OBSTACLE_NONE);
    struct head head = {.found = names_nothing()};
    bool machine = false;
    for (size_t i = parse->begin; i < items->count; i++) {
        const struct item *item = items_at(items, i);
        if (item_is_hours(item) && !item->figure.hours.clock && !statement.hours.present) {
            statement.hours = item->figure.hours;
        } else if (statement.hours.present && !machine && split_head_at(items, i, false, &head)) {
            machine = true;
            i = head.next - 1;
        } else if (item_is_mark(item, '?') ||
                   (!item_is_mark_or_break(item) && !item_is(item, WORD_COURTESY | WORD_ASSENT))) {
            return false;
        }
    }
    if (!machine || head.found.index < 0 || (head.kind != HEAD_NAME && head.kind != HEAD_NUMBER)) {
        return false;
    }
    statement.machine = head.found.index;
    statement.machine_full = head.kind == HEAD_NAME;
    statement.words =
        fold_slice(items->fold, items_at(items, head.at)->at, items_at(items, head.next - 1)->end);
    add(parse, &statement);
    return true;
}

/* A leading YES or NO that something follows; returns the item after it. NO needs an open question
 * or a bare figure after it where no separator does: "no M12 here" denies. */
static size_t read_answer(struct parse *parse, bool question_open)
{
    const struct items *items = parse->items;
    struct crew_statement figure = statement_empty(CREW_FIGURE, CREW_OBSTACLE_NONE);
    struct head head = {0};
    size_t first = split_skip(items, parse->begin);
    const struct item *item = items_at(items, first);
    bool parted = split_is_boundary(items_at(items, first + 1));
    if (items_at(items, first + 1)->kind == ITEM_END || split_head_at(items, first, true, &head)) {
        return parse->begin;
    }
    if (item_is(item, WORD_NO) || (item_is(item, WORD_DISSENT) && question_open)) {
        parse->out->leading_no =
            question_open || parted || alone_is_figure(items, first + 1, &figure);
        return parse->out->leading_no ? first + 1 : parse->begin;
    }
    if (item_is(item, WORD_YES) && !parted &&
        (split_head_at(items, first + 1, false, &head) ||
         alone_is_figure(items, first + 1, &figure))) {
        add_alone(parse, CREW_YES);
        return first + 1;
    }
    return parse->begin;
}

/* What is left where no machine and no word of the grammar was found from item `from` on: a bare
 * figure or plan perhaps, which may follow an answer. */
static void read_bare(struct parse *parse, size_t from)
{
    struct crew_statement figure = statement_empty(CREW_FIGURE, CREW_OBSTACLE_NONE);
    struct crew_statement plan = statement_empty(CREW_PLAN, CREW_OBSTACLE_NONE);
    struct crew_statement checked = statement_empty(CREW_CHECKED, CREW_OBSTACLE_NONE);
    if (alone_is_checked(parse->items, from, parse->items->count)) {
        add(parse, &checked);
    } else if (alone_is_figure(parse->items, from, &figure)) {
        add(parse, &figure);
    } else if (alone_is_plan(parse->items, from, &plan)) {
        add(parse, &plan);
    }
}

/* Words without a machine: trouble, where they tell of it and do not ask. */
static void add_words(struct parse *parse, struct crew_statement *statement)
{
    const struct items *items = parse->items;
    enum told told = trouble_told(items, parse->begin, items->count);
    bool asks = item_is_mark(items_at(items, items->count - 1), '?') ||
                item_is(items_at(items, parse->begin), WORD_ASKS | WORD_ASKS_FIRST);
    if (told != TOLD_NOTHING && (!asks || told == TOLD_DANGER)) {
        trouble_set(items, parse->begin, items->count, told, statement);
    }
    add(parse, statement);
}

/* A text in which nothing was understood, or nothing but a leading NO. */
static void read_nothing(struct parse *parse)
{
    struct crew_text *out = parse->out;
    size_t rest = split_skip(parse->items, parse->begin) + 1;
    if (out->leading_no && trouble_told(parse->items, rest, parse->items->count) != TOLD_NOTHING) {
        struct crew_statement trouble = statement_empty(CREW_TROUBLE, CREW_OBSTACLE_NONE);
        trouble_set(parse->items, rest, parse->items->count,
                    trouble_told(parse->items, rest, parse->items->count), &trouble);
        add(parse, &trouble);
        return;
    }
    if (out->leading_no) {
        out->leading_no = false;
        add_alone(parse, CREW_NO);
        return;
    }
    out->tone = alone_tone(parse->items, &out->spelled);
    if (parse->items->count == 0 && parse->items->quotes_lines) {
        out->tone = CREW_TONE_IGNORE;
    }
    if (out->tone == CREW_TONE_STATEMENTS) {
        struct crew_statement unknown = statement_empty(CREW_UNKNOWN, CREW_OBSTACLE_UNCLEAR);
        add_words(parse, &unknown);
    }
}

/* True where some statement speaks of a machine. */
static bool is_spoken_of(const struct crew_text *out, int32_t machine)
{
    bool spoken = out->statement_count == 0 || out->statements[0].obstacle == CREW_OBSTACLE_UNCLEAR;
    for (size_t k = 0; k < out->statement_count && k < CREW_TEXT_STATEMENTS_MAX; k++) {
        const struct crew_statement *statement = &out->statements[k];
        spoken = spoken || statement->machine == machine || statement->not_machine == machine;
        for (size_t n = 0; n < NAMES_CANDIDATES_MAX; n++) {
            spoken = spoken || statement->candidates[n] == machine;
        }
    }
    return spoken;
}

/* A machine that is named and has no statement of its own is not passed over. */
static void add_left(struct parse *parse)
{
    for (size_t i = parse->begin > parse->withdrawn ? parse->begin : parse->withdrawn;
         i < parse->items->count; i++) {
        const struct item *item = items_at(parse->items, i);
        if (item->kind == ITEM_MACHINE && item->found.index >= 0 &&
            !is_spoken_of(parse->out, item->found.index)) {
            struct crew_statement left = statement_empty(CREW_UNKNOWN, CREW_OBSTACLE_LEFT);
            left.machine = item->found.index;
            left.machine_full = true;
            left.words = fold_slice(parse->items->fold, item->at, item->end);
            add(parse, &left);
        }
    }
}

/* The day at the start of the text, else the one at its end; unsaid where neither is. */
static struct crew_when common_when(const struct parse *parse)
{
    const struct items *items = parse->items;
    struct crew_when unsaid = {.kind = CREW_WHEN_UNSAID, .minute_of_day = -1};
    size_t first = parse->begin;
    while (item_is(items_at(items, first), WORD_COURTESY | WORD_HOURS | WORD_LINK | WORD_ARTICLE) ||
           item_is_mark_or_break(items_at(items, first))) {
        first++;
    }
    if (items_at(items, first)->kind == ITEM_WHEN) {
        return items_at(items, first)->figure.when;
    }
    size_t after = parse->when_at + 1;
    while (item_is(items_at(items, after), WORD_COURTESY) ||
           item_is_mark_or_break(items_at(items, after))) {
        after++;
    }
    return parse->when_at < items->count && after >= items->count
               ? items_at(items, parse->when_at)->figure.when
               : unsaid;
}

static void spread_when(struct parse *parse)
{
    struct crew_when when = common_when(parse);
    for (size_t i = 0; i < CREW_TEXT_STATEMENTS_MAX && i < parse->out->statement_count; i++) {
        struct crew_statement *statement = &parse->out->statements[i];
        if (statement->when.kind == CREW_WHEN_UNSAID && statement->machine >= 0) {
            statement->when = when;
        }
    }
}

static void read_statements(struct parse *parse, bool question_open)
{
    struct crew_statement which = statement_empty(CREW_WHICH, CREW_OBSTACLE_NONE);
    if (read_backwards(parse)) {
        return;
    }
    if (alone_is_which(parse->items, parse->begin, &which)) {
        add(parse, &which);
        return;
    }
    size_t from = read_answer(parse, question_open);
    parse->at = from;
    parse->spoken_from = from;
    parse->when_at = parse->items->count;
    (void)read_own_correction(parse, from);
    /*@ loop widen_hints parse->out->statement_count, 10; */ /* the most, for the analyser */
    while (!parse->out->more && read_next(parse)) {
    }
    if (parse->out->statement_count == 0 || (from > parse->begin && parse->at == from)) {
        read_bare(parse, from);
    }
    if (parse->out->statement_count == 0) {
        read_nothing(parse);
    }
    add_left(parse);
    spread_when(parse);
}

void crew_text_read(const char *text, size_t length, const struct crew_names *names,
                    enum crew_date_order date_order, bool question_open, struct crew_text *out)
{
    struct fold fold;
    struct items items;
    struct parse parse = {.items = &items, .out = out};
    bool cancels = false;
    *out = (struct crew_text){.tone = CREW_TONE_STATEMENTS};
    fold_text(text, length, &fold);
    items_read(&fold, names, date_order, &items);
    out->cut = length > CREW_TEXT_OCTETS_MAX || items.cut;
    parse.begin = alone_reaction_end(&items, &out->assenting_reaction, &out->quoted);
    if (parse.begin > 0 && parse.begin >= items.count) {
        out->tone = CREW_TONE_IGNORE;
    } else if (alone_is_stop(&items, &cancels)) {
        add_alone(&parse, question_open && cancels ? CREW_NO : CREW_STOP);
    } else {
        read_statements(&parse, question_open);
    }
}

/* What a word can mean that stands in the place of a plan's name. */
#define WORDS_FOR_A_PLAN                                                                           \
    (WORDS_OF_MACHINES | WORDS_ANSWER | WORD_UNDO | WORD_HELP | WORD_STOP | WORD_START |           \
     WORD_COURTESY | WORD_JOIN | WORD_HOURS | WORD_QUARTS | WORD_LITRES | WORD_DAYS | WORD_WEEKS | \
     WORD_MINUTES | WORD_MEASURE | WORD_HALF | WORD_DAY | WORD_WEEKDAY | WORD_MONTH |              \
     WORD_DAYPART | WORD_CLOCK)

/* True where an item alone would be taken for something other than a name. */
static bool is_taken(const struct item *item, uint64_t classes)
{
    const struct figure *figure = &item->figure;
    return item->kind == ITEM_WHEN || item->kind == ITEM_MARK || item_is(item, classes) ||
           item_tells(item, TOPICS_OF_MACHINES) ||
           (item->kind == ITEM_FIGURE && figure->kind != FIGURE_BAD &&
            (figure->kind != FIGURE_HOURS || figure->number < 0 || figure->hours_said));
}

/* True where items together would be: figures alone, words alone, or a word that wants a figure. */
static bool are_taken(const struct items *items, uint64_t classes)
{
    bool words = true;
    bool figures = true;
    for (size_t i = 0; i < items->count; i++) {
        words &= is_taken(items_at(items, i), classes);
        figures &= items_at(items, i)->kind == ITEM_FIGURE || items_at(items, i)->kind == ITEM_MARK;
    }
    return words || figures ||
           item_is(items_at(items, 0), WORD_DONE | WORD_FIX | WORD_SWAP | WORD_LATER);
}

bool crew_text_is_word(const char *name, size_t length, bool of_plan)
{
    const uint64_t classes = of_plan ? WORDS_FOR_A_PLAN : UINT64_MAX;
    static const struct crew_names nobody = {0};
    struct fold fold;
    struct items items;
    fold_text(name, length, &fold);
    items_read(&fold, &nobody, CREW_DATE_MDY, &items);
    return items.count == 1 ? is_taken(items_at(&items, 0), classes) : are_taken(&items, classes);
}

bool crew_text_names_alike(const char *one, const char *other)
{
    return names_alike(one, other);
}
