/* SPDX-License-Identifier: MIT
 * crew_text_names: which name of the yard stands here in the text?
 *
 * Case does not matter, nor do blanks and hyphens inside a name (but a run of digits stays whole).
 * Where no name fits exactly, O and l pass for 0 and 1 and leading zeros of a number are passed
 * over, if exactly one name then fits. Each question is one pass or two over the names. */
#ifndef METERPOST_PARSERS_CREW_TEXT_NAMES_H
#define METERPOST_PARSERS_CREW_TEXT_NAMES_H

#include "parsers/crew_text_fold.h"

#define NAMES_NONE (-1)
#define NAMES_SEVERAL (-2)
#define NAMES_CANDIDATES_MAX 4

struct name_found {
    int32_t index;                            /* into the names, or one of the above */
    int32_t candidates[NAMES_CANDIDATES_MAX]; /* for NAMES_SEVERAL; NAMES_NONE ends the list */
    size_t end;                               /* unit after the name */
};

/* Nothing found; and one more candidate, where there is room. */
struct name_found names_nothing(void);
void names_add_candidate(int32_t index, struct name_found *found);

/* True where two names are alike but for case, blanks and hyphens. */
bool names_alike(const char *one, const char *other);

/* A machine's whole name at a unit, ending where a word ends; the longest where several fit. */
struct name_found names_machine_at(const struct fold *fold, size_t at,
                                   const struct crew_names *names);

/* The machine whose whole number this is; of several the sender's only one. */
struct name_found names_machine_numbered(int64_t number, const struct crew_names *names);

/* A plan's name, or a person's, at a unit: the unit after it, 0 where there is none. *index: which. */
size_t names_plan_at(const struct fold *fold, size_t at, const struct crew_names *names,
                     int32_t *index);
size_t names_person_at(const struct fold *fold, size_t at, const struct crew_names *names);

/* The unit after a name that is written here without a gap, whatever follows it; 0 where it is not. */
size_t names_prefix_at(const struct fold *fold, size_t at, const char *name);

/* True where the letters of units [first, end) are those that some machine's name begins with,
 * before a digit. */
bool names_have_letters(const struct fold *fold, size_t first, size_t end,
                        const struct crew_names *names);

#endif
