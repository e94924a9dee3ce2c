/* SPDX-License-Identifier: MIT
 * crew_text_several: machines that share what is said of them: "M12, M7 and TR9 in", "park M12 and M7".
 *
 * The list is read as one machine; what comes out is said of each. Only what takes no figure can be
 * shared: a meter's figure is one machine's. Words that are trouble or a remark are shared where "and"
 * joins the machines; behind a mere comma they are the last one's. */
#include "parsers/crew_text_statement.h"

/* The machines of a list. */
struct list {
    struct head whole; /* from the first to the last; found: one of them that the yard has */
    size_t count;
    bool joined; /* by "and", the last ones at least */
};

/* Marks and words between two machines of a list; *joined: one of them is "and". */
static size_t pass_joints(const struct items *items, size_t i, bool *joined)
{
    size_t next = i;
    *joined = false;
    for (; next < items->count; next++) {
        const struct item *item = items_at(items, next);
        bool joins = item_is(item, WORD_JOIN) || item_is_mark(item, '&') || item_is_mark(item, '+');
        if (!joins && !item_is_mark(item, ',') && !item_is_mark(item, '/') &&
            !item_is(item, WORD_ARTICLE)) {
            break;
        }
        *joined = *joined || joins;
    }
    return next;
}

/* The list that begins with the machine at item i. */
static struct list read_list(const struct items *items, size_t i)
{
    struct list list = {.whole = {.found = names_nothing(), .at = i, .next = i}};
    struct head member = {0};
    bool joined = false;
    size_t at = i;
    (void)pass_joints(items, i + 1, &joined); /* "12 and 7" */
    while (at < items->count && split_member_at(items, at, joined, &member)) {
        list.count++;
        list.joined = list.count > 1 && joined;
        list.whole.next = member.next;
        list.whole.found = list.whole.found.index < 0 ? member.found : list.whole.found;
        at = pass_joints(items, member.next, &joined);
    }
    return list;
}

static bool is_move(enum crew_kind kind)
{
    return kind == CREW_PARK || kind == CREW_BACK || (kind >= CREW_BOOK && kind <= CREW_GONE);
}

/* True where that can be said of several machines at once. */
static bool is_shared(const struct crew_statement *statement, const struct list *list)
{
    bool moves = is_move(statement->kind);
    bool told = statement->kind == CREW_TROUBLE || statement->kind == CREW_REMARK;
    bool lacks = statement->obstacle == CREW_OBSTACLE_NO_FIGURE ||
                 (moves && (statement->obstacle == CREW_OBSTACLE_DATE ||
                            statement->obstacle == CREW_OBSTACLE_DENIED));
    bool well = statement->obstacle == CREW_OBSTACLE_NONE &&
                (moves || (told && list->joined) || statement->kind == CREW_LATER ||
                 statement->kind == CREW_SOLVED || statement->same_as_last);
    return well || lacks;
}

/* What is said, of one of the list. */
static void add_member(struct parse *parse, const struct head *member,
                       const struct crew_statement *said)
{
    const struct items *items = parse->items;
    struct crew_statement statement = *said;
    size_t name = items_at(items, member->next - 1)->at;
    statement.machine = NAMES_NONE;
    statement.machine_full = member->kind == HEAD_NAME;
    statement_set_found(&member->found, &statement);
    if (member->found.index == NAMES_SEVERAL) {
        statement.obstacle = CREW_OBSTACLE_WHICH_MACHINE;
    } else if (member->found.index == NAMES_NONE) {
        statement.obstacle = CREW_OBSTACLE_NO_SUCH_MACHINE;
    }
    if (statement.machine < 0 || !is_move(statement.kind)) {
        statement.words = fold_slice(items->fold, name, items_at(items, member->next - 1)->end);
    }
    parse_add(parse, &statement);
}

/* The first machine of the part [begin, end) begins a list of several, with nothing before it but words. */
static bool find_list(const struct items *items, size_t begin, size_t end, struct list *out)
{
    for (size_t i = begin; i < end; i++) {
        enum item_kind kind = items_at(items, i)->kind;
        *out = read_list(items, i);
        if (out->count > 1) {
            return out->whole.found.index >= 0;
        }
        if (out->count == 1 || kind == ITEM_FIGURE || kind == ITEM_GLUED) {
            return false;
        }
    }
    return false;
}

bool several_read(struct parse *parse, size_t begin)
{
    const struct items *items = parse->items;
    struct list list = {0};
    struct crew_statement said;
    if (!find_list(items, begin, split_part_end(items, begin), &list)) {
        return false;
    }
    struct before before = before_read(items, parse->spoken_from, parse->at, begin, list.whole.at);
    struct statement_end end = statement_read(items, &list.whole, &before, &said);
    if (!is_shared(&said, &list)) {
        return false;
    }
    struct head member = {0};
    bool joined = true;
    for (size_t at = list.whole.at; at < list.whole.next;) {
        bool is_member = split_member_at(items, at, joined, &member);
        if (is_member) {
            add_member(parse, &member, &said);
        }
        at = is_member ? member.next : at + 1;
    }
    enum told told = end.said < end.next ? trouble_told(items, end.said, end.next) : TOLD_NOTHING;
    if (told != TOLD_NOTHING) { /* of which one is not said */
        struct crew_statement trouble = statement_empty(CREW_TROUBLE, CREW_OBSTACLE_NONE);
        trouble_set(items, end.said, end.next, told, &trouble);
        parse_add(parse, &trouble);
    }
    parse->at = end.next;
    parse->when_at = end.when_at;
    parse->spoken_from = end.next;
    return true;
}
