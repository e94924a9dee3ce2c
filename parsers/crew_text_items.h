/* SPDX-License-Identifier: MIT
 * crew_text_items: a text as a row of items: words, machines, figures, days, marks.
 *
 * The items say what stands there, not yet what is meant: a bare number is a figure here, and
 * becomes a machine only where the grammar has room for one. */
#ifndef METERPOST_PARSERS_CREW_TEXT_ITEMS_H
#define METERPOST_PARSERS_CREW_TEXT_ITEMS_H

#include "parsers/crew_text_figures.h"
#include "parsers/crew_text_fold.h"
#include "parsers/crew_text_names.h"
#include "parsers/words.h"

#define ITEMS_MAX 512

enum item_kind {
    ITEM_END,      /* past the last one */
    ITEM_BREAK,    /* a line break */
    ITEM_MARK,     /* one character of punctuation: `mark` */
    ITEM_WORD,     /* `sense`; emoji too, as courtesy, assent or dissent */
    ITEM_FIGURE,   /* `figure` */
    ITEM_WHEN,     /* a day or a time of day: `figure.when` */
    ITEM_MACHINE,  /* `found`, `full` */
    ITEM_STRANGER, /* a word shaped like a machine's name that names none */
    ITEM_GLUED     /* a machine and a figure in one word: `found`, `figure` */
};

struct item {
    enum item_kind kind;
    size_t at, end; /* units */
    bool spaced;    /* a blank stands before it */
    bool full;      /* a machine's whole name, not its number */
    char mark;
    struct word_sense sense;
    struct figure figure;
    struct name_found found;
};

struct items {
    const struct fold *fold;
    const struct crew_names *names;
    enum crew_date_order order;
    bool quotes_lines; /* lines that quote an earlier text were passed over */
    bool cut;          /* more items than ITEMS_MAX: the rest is left out */
    size_t count;
    struct item item[ITEMS_MAX];
};

/* Fills *out from a folded text; both pointers are kept in it. */
void items_read(const struct fold *fold, const struct crew_names *names, enum crew_date_order order,
                struct items *out);

/* The item at an index; an ITEM_END past the last. */
const struct item *items_at(const struct items *items, size_t index);

bool item_is_mark(const struct item *item, char mark);

/* True for a word of any of these classes. */
bool item_is(const struct item *item, uint64_t classes);

/* True for a bare figure, or one in hours. */
bool item_is_hours(const struct item *item);

/* True where a figure of hours is wanted and item i can be one: also "66l" with no word after it. */
bool item_reads_hours(const struct items *items, size_t i);

#endif
