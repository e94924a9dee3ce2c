/* SPDX-License-Identifier: MIT
 * crew_text_move: where a machine is: BOOK IN OUT GONE PARK BACK.
 *
 * Each is a bag: the machine, the word, a day, and beside that only words that say nothing more, in any
 * order ("M12 in", "book M12 for Tuesday"). Other words behind make plain words of all ("M12 in the mud",
 * "gone through a pulley"), unless a mark parts them ("M12 in, deck bent") or what stands before them
 * leaves no doubt ("sold to Dan", "booked Tuesday for the leak"): then they are a remark. A booking that is
 * denied ("don't book M12", "cancel the booking of M12") is none. */
#include "parsers/crew_text_statement.h"

/* Words that say nothing more. */
#define BESIDE_MOVE (WORD_ARTICLE | WORD_COURTESY | WORD_COPULA | WORD_BEFORE_DAY | WORD_UNTIL)

static const struct {
    uint64_t topic;
    enum crew_kind kind;
    uint64_t beside;  /* topics that belong to it too */
    uint64_t goes_on; /* right behind it a word of these classes begins a remark */
    bool ahead;       /* on a day to come */
} moves[] = {
    {TOPIC_BOOK, CREW_BOOK, TOPIC_ASIDE | TOPIC_UPKEEP | TOPIC_IN | TOPIC_AHEAD, 0, true},
    {TOPIC_COMES, CREW_IN, TOPIC_ASIDE | TOPIC_UPKEEP | TOPIC_IN | TOPIC_AHEAD, 0, true},
    {TOPIC_IN, CREW_IN, TOPIC_ASIDE | TOPIC_UPKEEP, 0, false},
    {TOPIC_OUT, CREW_OUT, TOPIC_ASIDE, 0, false},
    {TOPIC_GONE, CREW_GONE, TOPIC_ASIDE, 0, false},
    {TOPIC_PARK, CREW_PARK, TOPIC_ASIDE, WORD_UNTIL, false},
    {TOPIC_BACK, CREW_BACK, TOPIC_ASIDE, 0, false},
};

/* What was found in the bag. */
struct bag {
    size_t move; /* of the table */
    size_t word; /* the item that is the word */
    bool denied;
    bool purpose; /* "for": what a day behind it is said of lies ahead */
    struct crew_when when;
    size_t when_end; /* the item after the day; 0 where none is said */
};

/* "until friday": how long, and not when. */
static bool is_until(const struct item *item)
{
    return (item->kind == ITEM_WORD || item->kind == ITEM_WHEN) &&
           (item->sense.classes & WORD_UNTIL) != 0 && (item->sense.classes & WORD_PLANS) != 0;
}

/* "tuesday", "tuesday 3/12", "in 3 days", "the 12th" at an item: takes the day. */
static bool take_day(const struct items *items, size_t at, struct bag *bag)
{
    const struct item *item = items_at(items, at);
    struct crew_when when = {.minute_of_day = -1};
    int64_t days = item->kind == ITEM_FIGURE ? figure_days(&item->figure) : -1;
    bool ahead = moves[bag->move].ahead;
    if (item->kind == ITEM_WHEN) {
        when = item->figure.when;
        /* "in for friday", "in for service friday" */
        when.ahead |= moves[bag->move].topic == TOPIC_IN && when.kind == CREW_WHEN_WEEKDAY &&
                      (bag->purpose || (item->sense.classes & WORD_UNTIL) != 0);
    } else if (ahead && days > 0 && item_tells(items_at(items, at - 1), TOPIC_AHEAD)) {
        when.kind = CREW_WHEN_DAYS_AGO;
        when.days_ago = -(int32_t)days;
        when.ahead = true;
    } else if (ahead && item->kind == ITEM_FIGURE && item->figure.kind == FIGURE_ORDINAL) {
        bool is_day = item->figure.number >= 1 && item->figure.number <= 31;
        when.kind = is_day ? CREW_WHEN_DAY_OF_MONTH : CREW_WHEN_DATE;
        when.day = is_day ? (int32_t)item->figure.number : 0;
    } else {
        return false;
    }
    bool more = bag->when.kind == CREW_WHEN_WEEKDAY &&
                (when.kind == CREW_WHEN_DATE || when.kind == CREW_WHEN_DAY_OF_MONTH);
    if (bag->when_end > 0 && !more) {
        return false; /* two days: which one is not said */
    }
    bag->when = when;
    bag->when_end = at + 1;
    return true;
}

/* "not", "cancel", "unbook" at an item: of a day behind one that is said, they deny that day alone. */
static bool take_denial(const struct items *items, size_t at, struct bag *bag)
{
    const struct item *item = items_at(items, at);
    bool denies = item_is(item, WORD_DENIES) ||
                  (item_tells(item, TOPIC_BOOK) && item->sense.value == BOOK_DROPPED);
    bool takes = moves[bag->move].ahead && denies && (at <= bag->word || bag->when_end == 0);
    bag->denied = bag->denied || takes;
    return takes;
}

/* True for an item that belongs to the bag. */
static bool take(const struct items *items, size_t at, struct bag *bag)
{
    const struct item *item = items_at(items, at);
    if (is_until(item) && !moves[bag->move].ahead) {
        return false;
    }
    if (item_is_mark_or_break(item)) {
        return !item_is_mark(item, '?') && !item_is_mark(item, '#') && !item_is_mark(item, '$') &&
               !item_is_mark(item, '%');
    }
    bag->purpose = bag->purpose || item_is(item, WORD_UNTIL);
    return take_denial(items, at, bag) || at == bag->word || take_day(items, at, bag) ||
           item_is(item, BESIDE_MOVE) ||
           item_tells(item,
                      moves[bag->move].topic | moves[bag->move].beside | TOPIC_BOTH | TOPIC_ALL) ||
           (item->kind == ITEM_FIGURE && item->figure.kind == FIGURE_INTERVAL);
}

/* The row of the table for the first word of a move from item `begin` on; false where a figure of hours
 * other than the machine's number stands before it, or there is none. */
static bool find_word(const struct items *items, size_t begin, const struct head *head,
                      struct bag *out)
{
    const size_t last = sizeof moves / sizeof moves[0] - 1;
    size_t word = begin;
    while (word < items->count && (word == head->at || !item_is_hours(items_at(items, word))) &&
           !item_tells(items_at(items, word), TOPICS_OF_MOVES)) {
        word = word == head->at ? head->next : word + 1;
    }
    size_t move = 0;
    while (move < last && !item_tells(items_at(items, word), moves[move].topic)) {
        move++;
    }
    *out = (struct bag){.move = move, .word = word, .when = {.minute_of_day = -1}};
    return item_tells(items_at(items, word), TOPICS_OF_MOVES);
}

/* Where the remark begins, up to item `limit`: all that was wanted is said before item `said`, and the
 * first item that does not belong to it is at `at`. 0 where the words are no remark. */
static size_t remark_at(const struct items *items, const struct bag *bag, size_t said, size_t at,
                        size_t limit)
{
    const struct item *word = items_at(items, bag->word);
    bool firm = item_tells(word, TOPIC_FIRM) || (moves[bag->move].ahead && bag->when_end > 0) ||
                is_until(items_at(items, at)) ||
                item_is(items_at(items, said), moves[bag->move].goes_on);
    size_t rest = at >= limit ? limit : firm ? said : 0;
    for (size_t i = said; i < at && at < limit; i++) {
        rest = item_is_mark_or_break(items_at(items, i)) ? i + 1 : rest;
    }
    bool parted =
        item_is_mark_or_break(items_at(items, rest - 1)); /* what it asks is another matter */
    bool swallows = item_is_mark(items_at(items, at), '?');
    for (size_t i = rest; i < limit; i++) {
        swallows = swallows || split_is_meter(items, i) ||
                   (!parted && item_is_mark(items_at(items, i), '?'));
    }
    return at < said || swallows ? 0 : rest;
}

/* BOOK wants one day: not none, not "next week", not "tuesday or wednesday". */
static bool lacks_day(const struct items *items, const struct bag *bag, size_t rest, size_t limit)
{
    if (item_is_mark_or_break(items_at(items, rest - 1))) {
        return bag->when_end == 0; /* a day that a mark parts is another matter's */
    }
    bool another = false;
    for (size_t at = rest; at < limit && !item_is_mark_or_break(items_at(items, at)); at++) {
        another = another || items_at(items, at)->kind == ITEM_WHEN;
    }
    return bag->when_end == 0 || another;
}

/* What the bag says, with a remark from item `rest` on. */
static void set_move(const struct items *items, const struct bag *bag, size_t rest, size_t limit,
                     struct crew_statement *out)
{
    bool ahead = moves[bag->move].ahead;
    bool no_day =
        ahead && (bag->when.kind == CREW_WHEN_AHEAD || lacks_day(items, bag, rest, limit));
    out->kind = no_day || bag->denied ? CREW_BOOK : moves[bag->move].kind;
    out->when = bag->when;
    out->when.ahead = bag->when.ahead || (moves[bag->move].topic == TOPIC_COMES && !no_day);
    out->obstacle = bag->denied ? CREW_OBSTACLE_DENIED
                    : no_day    ? CREW_OBSTACLE_DATE
                                : CREW_OBSTACLE_NONE;
    out->remark = remark_words(items, rest, limit);
}

bool move_read(const struct items *items, const struct before *before, const struct head *head,
               struct crew_statement *out, struct statement_end *end)
{
    struct head other = {0};
    struct bag bag;
    if (!find_word(items, before->begin, head, &bag)) {
        return false;
    }
    size_t at = before->begin;
    size_t limit = split_end(items, head->next, false);
    while (at < limit && (at == head->at || take(items, at, &bag))) {
        at = at == head->at ? head->next : at + 1;
    }
    bool ahead = moves[bag.move].ahead;
    size_t said = bag.word < head->next ? head->next : bag.word + 1;
    said = ahead && bag.when_end > said ? bag.when_end : said;
    limit = at >= said && split_head_at(items, at, false, &other) ? at : limit;
    size_t rest = remark_at(items, &bag, said, at, limit);
    bool has_been = bag.when.kind == CREW_WHEN_DAYS_AGO && bag.when.days_ago > 0;
    if (rest == 0 || (before->hedged && !bag.denied) ||
        (has_been && moves[bag.move].topic == TOPIC_COMES)) {
        return false;
    }
    set_move(items, &bag, rest, limit, out);
    if (out->machine >= 0) {
        out->words = remark_words(items, bag.word < head->at ? before->begin : head->next, limit);
    }
    bool ends_with_day = !ahead && bag.when_end > 0 && rest == limit;
    *end = (struct statement_end){limit, ends_with_day ? bag.when_end - 1 : limit, rest};
    return true;
}
