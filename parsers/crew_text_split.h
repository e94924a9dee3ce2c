/* SPDX-License-Identifier: MIT
 * crew_text_split: where statements begin and end. */
#ifndef METERPOST_PARSERS_CREW_TEXT_SPLIT_H
#define METERPOST_PARSERS_CREW_TEXT_SPLIT_H

#include "parsers/crew_text_items.h"

enum head_kind {
    HEAD_NAME,     /* a machine's whole name */
    HEAD_NUMBER,   /* "#12", "mower 12" */
    HEAD_BARE,     /* "12", in the plainest form */
    HEAD_STRANGER, /* shaped like a name or numbered, but no machine of the yard */
    HEAD_GLUED     /* machine and figure in one word */
};

/* The machine that a statement begins with. */
struct head {
    enum head_kind kind;
    struct name_found found;
    size_t at, next; /* its first item, and the item after it */
};

/* A comma, semicolon, line break, "+", "/", "|", "&" or a word like "and". */
bool split_is_separator(const struct item *item);

/* A full stop, exclamation or question mark. */
bool split_is_stop(const struct item *item);

/* True where nothing goes on: the end, a separator or a stop. */
bool split_is_boundary(const struct item *item);

/* True for "1)", "2.", "3 -" at item i with a machine after it. */
bool split_is_list_number(const struct items *items, size_t i);

/* The first item from i on that is no separator, mark, list number or bullet. */
size_t split_skip(const struct items *items, size_t i);

/* A machine at item i. clean: nothing but courtesies stands before it in its statement, so that a
 * bare number may be one. False where there is none. */
bool split_head_at(const struct items *items, size_t i, bool clean, struct head *out);

/* The end of a statement that is read up to item i: the item at which the next one begins, or the
 * separators before it. after_figure: item i is right after a figure. */
size_t split_end(const struct items *items, size_t i, bool after_figure);

/* Marks, line breaks, linking words and units from item i on that stand before a figure. */
size_t split_pass_links(const struct items *items, size_t i);

/* True where separators or a stop stand at item i and a machine after them. */
bool split_parts_at(const struct items *items, size_t i);

#endif
