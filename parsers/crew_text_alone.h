/* SPDX-License-Identifier: MIT
 * crew_text_alone: texts, and parts of texts, that name no machine. */
#ifndef METERPOST_PARSERS_CREW_TEXT_ALONE_H
#define METERPOST_PARSERS_CREW_TEXT_ALONE_H

#include "parsers/crew_text_items.h"

/* A word of the grammar that is a whole statement: DUE, UNDO, YES, NO, HELP, START. */
struct alone {
    enum crew_kind kind;
    size_t next; /* the item after all that belongs to it */
};

/* Such a word at item i with nothing beside it up to the next separator but a courtesy or, where
 * loose, words that say nothing more ("what's due this week?"). */
bool alone_word_at(const struct items *items, size_t i, bool loose, struct alone *out);

/* True where the whole text asks to be left alone: STOP and its like, with nothing but please, me,
 * texts and such beside it. *cancels: by a word that means NO while a question is open. */
bool alone_is_stop(const struct items *items, bool *cancels);

/* Where the text begins with a phone's reaction to a text, a verb and the text quoted: the item after
 * it, past the last one where nothing else follows; else 0, and the rest is not set. */
size_t alone_reaction_end(const struct items *items, bool *assents, struct crew_slice *quoted);

/* True where the items from i to the end are one figure and words that say nothing more. */
bool alone_is_figure(const struct items *items, size_t i, struct crew_statement *out);

/* True where the items from i to the end are a plan's name and words that say nothing more. */
bool alone_is_plan(const struct items *items, size_t i, struct crew_statement *out);

/* What a text without a statement is; CREW_TONE_STATEMENTS where it is not understood. */
enum crew_tone alone_tone(const struct items *items);

#endif
