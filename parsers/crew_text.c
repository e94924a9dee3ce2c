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

void parse_add(struct parse *parse, const struct crew_statement *statement)
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
    parse_add(parse, &statement);
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
        clean = item->kind == ITEM_MARK || (clean && before_opens(items, i));
    }
    return false;
}

/* What the items [first, end) tell is trouble of the machine of another statement; in its place, where
 * `instead`. */
static void add_trouble(struct parse *parse, const struct crew_statement *of, bool instead,
                        size_t first, size_t end, enum told told)
{
    struct crew_statement trouble = statement_empty(CREW_TROUBLE, CREW_OBSTACLE_NONE);
    trouble.machine = of->machine;
    trouble.machine_full = of->machine_full;
    trouble.words = of->words;
    trouble_set(parse->items, first, end, told, &trouble);
    if (instead) {
        parse->out->statement_count--;
    }
    parse_add(parse, &trouble);
}

/* "M12 leaking bad, 1341h", "M7 wont crank, 228.4 on the clock": the item of the figure that trouble ends
 * with, apart from its words; the items' count where there is none. */
static size_t figure_behind(const struct items *items, const struct head *head, size_t end)
{
    size_t at = end;
    while (at > head->next && (item_is_mark_or_break(items_at(items, at - 1)) ||
                               item_is(items_at(items, at - 1),
                                       WORD_COURTESY | WORD_LINK | WORD_ARTICLE | WORD_HOURS))) {
        at--;
    }
    const struct item *item = items_at(items, at - 1);
    const struct item *before = items_at(items, at - 2);
    bool apart = item_is_mark_or_break(before) || item_is(before, WORD_LINK | WORD_AT);
    return at > head->next + 1 && item_is_like_meter(item) && apart &&
                   item->figure.nature == CREW_NATURE_METER && !item->figure.hours.clock
               ? at - 1
               : items->count;
}

/* The same figure is a reading of its own, before the trouble. */
static void add_figure(struct parse *parse, const struct head *head, size_t end,
                       const struct crew_statement *trouble)
{
    size_t figure = figure_behind(parse->items, head, end);
    if (trouble->kind == CREW_TROUBLE && !trouble->danger && trouble->machine >= 0 &&
        figure < parse->items->count) {
        struct crew_statement reading = *trouble;
        reading.kind = CREW_READING;
        reading.remark = (struct crew_slice){0};
        reading.hours = items_at(parse->items, figure)->figure.hours;
        parse_add(parse, &reading);
    }
}

void parse_machine(struct parse *parse, size_t begin, const struct head *head)
{
    struct crew_statement statement;
    const struct items *items = parse->items;
    size_t from = parse->at; /* words in parts before that name no machine may be of this one */
    struct before before = before_read(items, parse->spoken_from, from, begin, head->at);
    struct statement_end end = statement_read(items, head, &before, &statement);
    bool reading = statement.kind == CREW_READING && statement.machine >= 0;
    bool figure = statement.hours.present && statement.obstacle != CREW_OBSTACLE_WITHDRAWN;
    /* "M12 2 flats": the figure counts what is broken, and is no reading. */
    bool counts = statement.figure_then_word && statement.hours.whole_digits == 1;
    bool beside = reading || end.said < end.next;
    enum told told = beside ? trouble_told(items, begin, head->at) : TOLD_NOTHING;
    enum told behind = beside ? trouble_told(items, end.said, end.next) : TOLD_NOTHING;
    enum told earlier = trouble_told(items, from, begin);
    if (reading && figure &&
        (service_told(items, from, head->at) || service_told(items, end.said, end.next))) {
        service_words(items, from, head->at, &statement);
        service_words(items, end.said, end.next, &statement);
    }
    add_figure(parse, head, end.next, &statement);
    parse_add(parse, &statement);
    if (behind != TOLD_NOTHING && behind >= told) {
        add_trouble(parse, &statement, counts, counts ? end.said - 1 : end.said, end.next, behind);
    } else if (told != TOLD_NOTHING) {
        add_trouble(parse, &statement, false, from, head->at, told);
    }
    if (earlier != TOLD_NOTHING && (behind != TOLD_NOTHING || told == TOLD_NOTHING)) {
        add_trouble(parse, &statement, statement.kind == CREW_STATUS, from, begin, earlier);
    }
    parse->at = end.next;
    parse->when_at = end.when_at;
    if (!before.hedged) {
        parse->spoken_from = end.next;
    }
}

/* "Help! Jose is hurt": HELP with more words behind it is none. */
static bool cries(const struct items *items, const struct alone *alone)
{
    size_t rest = alone->next;
    while (item_is_mark_or_break(items_at(items, rest)) ||
           item_is(items_at(items, rest), WORD_COURTESY | WORD_JOIN)) {
        rest++;
    }
    return alone->kind == CREW_HELP && rest < items->count;
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
        if (retraction_read(parse, begin)) {
            return true;
        }
        if (alone_word_at(parse->items, begin, loose, &alone) && !cries(parse->items, &alone)) {
            add_alone(parse, alone.kind);
            parse->at = alone.next;
            parse->spoken_from = alone.next;
            return true;
        }
        if (several_read(parse, begin)) {
            return true;
        }
        if (find_head(parse->items, begin, &head)) {
            parse_machine(parse, begin, &head);
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
        } else if (statement.hours.present && !machine && split_head_at(items, i, true, &head)) {
            machine = true;
            i = head.next - 1;
        } else if (item_is_mark(item, '?') ||
                   (!item_is_mark_or_break(item) && !item_is(item, WORD_COURTESY | WORD_ASSENT))) {
            return false;
        }
    }
    bool stranger = head.kind == HEAD_STRANGER;
    if (!machine || !(stranger || (head.found.index >= 0 &&
                                   (head.kind == HEAD_NAME || head.kind == HEAD_NUMBER)))) {
        return false;
    }
    statement.machine = head.found.index;
    statement.obstacle = stranger ? CREW_OBSTACLE_NO_SUCH_MACHINE : CREW_OBSTACLE_NONE;
    statement.machine_full = head.kind == HEAD_NAME;
    statement.words =
        fold_slice(items->fold, items_at(items, head.at)->at, items_at(items, head.next - 1)->end);
    parse_add(parse, &statement);
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

/* What is left where no machine and no word of the grammar was found from item `from` on: a bare figure
 * or plan perhaps, which may follow an answer. */
static void read_bare(struct parse *parse, size_t from, bool question_open)
{
    struct crew_statement figure = statement_empty(CREW_FIGURE, CREW_OBSTACLE_NONE);
    struct crew_statement plan = statement_empty(CREW_PLAN, CREW_OBSTACLE_NONE);
    if (alone_is_checked(parse->items, from, parse->items->count)) {
        add_alone(parse, CREW_CHECKED);
    } else if (alone_is_figure(parse->items, from, &figure)) {
        figure.of_own_last = figure.to_hours.present && !question_open; /* "1341 not 1340" */
        figure.kind = figure.of_own_last ? CREW_CORRECT : CREW_FIGURE;
        parse_add(parse, &figure);
    } else if (alone_is_plan(parse->items, from, &plan)) {
        parse_add(parse, &plan);
    }
}

/* A text in which nothing was understood, or nothing but a leading NO: without a machine too, words may
 * tell of trouble, where they do not ask. */
static void read_nothing(struct parse *parse)
{
    const struct items *items = parse->items;
    struct crew_text *out = parse->out;
    struct crew_statement words = statement_empty(CREW_UNKNOWN, CREW_OBSTACLE_UNCLEAR);
    size_t begin = out->leading_no ? split_skip(items, parse->begin) + 1 : parse->begin;
    enum told told = trouble_told(items, begin, items->count);
    bool asks =
        !out->leading_no && (item_is_mark(items_at(items, items->count - 1), '?') ||
                             item_is(items_at(items, parse->begin), WORD_ASKS | WORD_ASKS_FIRST));
    if (told != TOLD_NOTHING && (!asks || told == TOLD_DANGER)) {
        trouble_set(items, begin, items->count, told, &words);
    }
    if (out->leading_no) {
        out->leading_no = told != TOLD_NOTHING;
        words.kind = out->leading_no ? words.kind : CREW_NO;
        words.obstacle = CREW_OBSTACLE_NONE;
    } else {
        out->tone = alone_tone(items, &out->spelled);
    }
    if (items->count == 0 && items->quotes_lines) {
        out->tone = CREW_TONE_IGNORE;
    }
    if (out->tone == CREW_TONE_STATEMENTS) {
        parse_add(parse, &words);
    }
}

/* True where some statement speaks of a machine. */
static bool is_spoken_of(const struct crew_text *out, int32_t machine)
{
    bool spoken = out->statements[0].obstacle == CREW_OBSTACLE_UNCLEAR;
    for (size_t k = 0; k < CREW_TEXT_STATEMENTS_MAX && k < out->statement_count; k++) {
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
    size_t i = parse->begin > parse->withdrawn ? parse->begin : parse->withdrawn;
    for (; i < parse->items->count; i++) {
        const struct item *item = items_at(parse->items, i);
        if (item->kind == ITEM_MACHINE && item->found.index >= 0 &&
            !is_spoken_of(parse->out, item->found.index)) {
            struct crew_statement left = statement_empty(CREW_UNKNOWN, CREW_OBSTACLE_LEFT);
            left.machine = item->found.index;
            left.machine_full = true;
            left.words = fold_slice(parse->items->fold, item->at, item->end);
            parse_add(parse, &left);
        }
    }
}

/* The day at the start of the text, else the one at its end, is that of every statement without one. */
static void spread_when(struct parse *parse)
{
    const struct items *items = parse->items;
    size_t at = parse->begin;
    while (item_is(items_at(items, at), WORD_COURTESY | WORD_HOURS | WORD_LINK | WORD_ARTICLE) ||
           item_is_mark_or_break(items_at(items, at))) {
        at++;
    }
    if (items_at(items, at)->kind != ITEM_WHEN) {
        size_t after = parse->when_at + 1;
        while (item_is(items_at(items, after), WORD_COURTESY) ||
               item_is_mark_or_break(items_at(items, after))) {
            after++;
        }
        at = after >= items->count ? parse->when_at : items->count;
    }
    for (size_t i = 0; i < CREW_TEXT_STATEMENTS_MAX && i < parse->out->statement_count; i++) {
        struct crew_statement *statement = &parse->out->statements[i];
        if (at < items->count && statement->when.kind == CREW_WHEN_UNSAID &&
            statement->machine >= 0) {
            statement->when = items_at(items, at)->figure.when;
        }
    }
}

static void read_statements(struct parse *parse, bool question_open)
{
    struct crew_statement which = statement_empty(CREW_WHICH, CREW_OBSTACLE_NONE);
    struct crew_statement figure = statement_empty(CREW_FIGURE, CREW_OBSTACLE_NONE);
    if (read_backwards(parse)) {
        return;
    }
    if (alone_is_which(parse->items, parse->begin, &which)) {
        parse_add(parse, &which);
        return;
    }
    size_t from = read_answer(parse, question_open);
    parse->at = from;
    parse->spoken_from = from;
    parse->when_at = parse->items->count;
    (void)retraction_read_own(parse, from);
    /*@ loop widen_hints parse->out->statement_count, 10; */ /* the most, for the analyser */
    while (!parse->out->more && read_next(parse)) {
    }
    if (parse->out->statement_count == 0 || (from > parse->begin && parse->at == from)) {
        read_bare(parse, from, question_open);
    } else if (parse->out->statement_count == 1 && parse->out->statements[0].kind == CREW_YES &&
               alone_is_figure(parse->items, parse->at, &figure)) { /* "yes, 1340.5" */
        parse_add(parse, &figure);
    }
    if (parse->out->statement_count == 0) {
        read_nothing(parse);
    }
    add_left(parse);
    spread_when(parse);
}

void crew_text_read(const char *text, size_t length, const struct crew_names *names,
                    enum crew_date_order date_order, bool question_open,
                    struct crew_text_room *room, struct crew_text *out)
{
    struct items *items = &room->items;
    struct parse parse = {.items = items, .out = out};
    bool cancels = false;
    *out = (struct crew_text){.tone = CREW_TONE_STATEMENTS};
    fold_text(text, length, &room->fold);
    items_read(&room->fold, names, date_order, items);
    out->cut = length > CREW_TEXT_OCTETS_MAX || items->cut;
    parse.begin = alone_reaction_end(items, &out->assenting_reaction, &out->quoted);
    if (parse.begin > 0 && parse.begin >= items->count) {
        out->tone = CREW_TONE_IGNORE;
    } else if (alone_is_stop(items, &cancels)) {
        add_alone(&parse, question_open && cancels ? CREW_NO : CREW_STOP);
    } else {
        read_statements(&parse, question_open);
    }
}

size_t crew_text_room_octets(void)
{
    return sizeof(struct crew_text_room);
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

bool crew_text_is_word(const char *name, size_t length, bool of_plan)
{
    const uint64_t classes = of_plan ? WORDS_FOR_A_PLAN : UINT64_MAX;
    static const struct crew_names nobody = {0};
    struct crew_text_room room = {.fold.count = 0};
    const struct items *items = &room.items;
    bool words = true;
    bool figures = true;
    fold_text(name, length, &room.fold);
    items_read(&room.fold, &nobody, CREW_DATE_MDY, &room.items);
    for (size_t i = 0; i < items->count; i++) {
        enum item_kind kind = items_at(items, i)->kind;
        words &= is_taken(items_at(items, i), classes);
        figures &= items->count > 1 && (kind == ITEM_FIGURE || kind == ITEM_MARK);
    }
    bool wants_figure = items->count > 1 && item_is(items_at(items, 0), WORDS_OF_SHOP);
    return words || figures || wants_figure;
}

bool crew_text_names_alike(const char *one, const char *other)
{
    return names_alike(one, other);
}
