/* SPDX-License-Identifier: MIT
 * crew_text_statement: what is said of a machine. */
#ifndef METERPOST_PARSERS_CREW_TEXT_STATEMENT_H
#define METERPOST_PARSERS_CREW_TEXT_STATEMENT_H

#include "parsers/crew_text_split.h"

/* What stands before the machine in its sentence. */
struct before {
    bool clean;   /* nothing but courtesies, articles, days */
    bool hedged;  /* it asks, plans, supposes or denies */
    bool asks;    /* it asks: with no figure the statement is a status question */
    bool figures; /* figures stand in the sentence: it is no plain question */
    bool figure;  /* a figure stands right before the machine: `first` */
    struct hours_figure first;
    struct crew_when when;
};

struct statement_end {
    size_t next; /* the item after the statement */
    size_t
        when_at; /* the item that says when and has nothing said after it; next where none does */
};

/* An empty statement of a kind. */
struct crew_statement statement_empty(enum crew_kind kind, enum crew_trouble trouble);

/* Reads the statement that begins with head. */
struct statement_end statement_read(const struct items *items, const struct head *head,
                                    const struct before *before, struct crew_statement *out);

#endif
