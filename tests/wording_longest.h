/* SPDX-License-Identifier: MIT
 * wording_longest: what a sentence may have to hold at most: invented names of 16 octets, titles of
 * 40, figures of six digits, a date with its year. The tests judge lengths by it, `make replies`
 * prints it. */
#ifndef METERPOST_TESTS_WORDING_LONGEST_H
#define METERPOST_TESTS_WORDING_LONGEST_H

#include <stdio.h>
#include <string.h>

#include "daemon/desk/wording.h"
#include "parsers/septets.h"

static const struct {
    enum wording_slot slot;
    const char *longest;
} longest[] = {
    {WORDING_MACHINE, "MOWER-NORTH-1204"},
    {WORDING_SITE, ""},    /* said only where there is room */
    {WORDING_EXAMPLE, ""}, /* likewise */
    {WORDING_OTHER, "MOWER-SOUTH-1304"},
    {WORDING_HOURS, "99999.9"},
    {WORDING_LAST, "99999.9"},
    {WORDING_OFFER, "99999.9"},
    {WORDING_DUE_AT, "99999.9"},
    {WORDING_LEFT, "99999.9"},
    {WORDING_MOST, "99999.9"},
    {WORDING_PLAN, "drive-oil-filter"},
    {WORDING_LIST, "drive-oil-filter, belts-and-guards, ..."},
    {WORDING_PERSON, "Maximiliana-Rosa"},
    {WORDING_SHOP, "Alder Works Grounds and Machines of Tacom"},
    {WORDING_COUNT, "99"},
    {WORDING_COUNT_DUE, "99"},
    {WORDING_COUNT_COMING, "99"},
    {WORDING_UNIT, "qt"},
    {WORDING_WORDS, "MOWER-NORTH-1204 DONE 1340"},
};

/* A title in the language of the sentence, where one is written here. */
static inline const char *longest_title(const struct wording *wording)
{
    static const struct {
        const char *language, *title;
    } titles[] = {
        {"en", "Drive oil, both filters, reservoir, hose"},
        {"es", "Aceite de mando, dos filtros y mangueras"},
        {"fr", "Huile de transmission, filtres et tuyaux"},
    };
    for (size_t i = 0; i < sizeof titles / sizeof titles[0]; i++) {
        if (strcmp(titles[i].language, wording->language) == 0) {
            return titles[i].title;
        }
    }
    return titles[0].title;
}

/* The longer of the two ways to say when: a date with its year, a time of today. */
static inline void longest_when(const struct wording *wording, struct wording_values *values)
{
    char dated[WORDING_VALUE_OCTETS];
    wording_set_when(values, wording, 21822, 0, 0, true);
    (void)snprintf(dated, sizeof dated, "%s", values->value[WORDING_WHEN]);
    wording_set_when(values, wording, 21822, 86399, 21822, true);
    if (strlen(dated) > strlen(values->value[WORDING_WHEN])) {
        wording_set(values, WORDING_WHEN, dated);
    }
}

static inline void longest_fill(const struct wording *wording, struct wording_values *values)
{
    memset(values, 0, sizeof *values);
    for (size_t i = 0; i < sizeof longest / sizeof longest[0]; i++) {
        wording_set(values, longest[i].slot, longest[i].longest);
    }
    wording_set(values, WORDING_TITLE, longest_title(wording));
    wording_set_day(values, WORDING_DAY, wording, 21822, 0); /* 2029-09-30 */
    longest_when(wording, values);
}

/* Writes the sentence with all of that; false where it leaves the default alphabet. */
static inline bool longest_write(const struct wording *wording, enum wording_key key,
                                 char sentence[WORDING_SENTENCE_OCTETS], size_t *septets)
{
    struct wording_values values;
    longest_fill(wording, &values);
    size_t length = wording_write(wording, key, &values, sentence, WORDING_SENTENCE_OCTETS);
    return septets_count(sentence, length, septets);
}

#endif
