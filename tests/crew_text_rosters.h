/* SPDX-License-Identifier: MIT
 * The yards that the corpus of texts is read against. */
#ifndef METERPOST_TESTS_CREW_TEXT_ROSTERS_H
#define METERPOST_TESTS_CREW_TEXT_ROSTERS_H

#include <string.h>

#include "parsers/crew_text.h"

struct roster {
    const char *name;
    const struct crew_machine *machines;
    size_t count;
};

static const struct crew_machine roster_alder[] = {
    {"M12", true, 3}, {"M7", true, 3}, {"TR-9", true, 3}, {"R21", false, 3}, {"M3", false, 3}};
/* The same number twice; one of the 12s and both 5s are the sender's. */
static const struct crew_machine roster_twins[] = {
    {"M12", true, 3}, {"TR12", false, 3}, {"M5", true, 3}, {"K5", true, 3}, {"M1", false, 3}};
static const struct crew_machine roster_words[] = {{"Rosie", true, 7}, {"Big Red", true, 3},
                                                   {"Goat", false, 3}, {"12A", true, 3},
                                                   {"M12A", true, 3},  {"M12", true, 3}};
static const struct crew_machine roster_digits[] = {
    {"1", true, 3}, {"2", true, 3}, {"14", false, 3}, {"M07", true, 3}, {"M10", true, 3}};

/* Leading zeros, gaps, two runs of digits, letters beyond ASCII, octets that are no UTF-8, sixteen
 * octets, names that begin others. */
static const struct crew_machine roster_odd[] = {{"07B", true, 3},
                                                 {"K-012", true, 3},
                                                 {"Z4-20", true, 3},
                                                 {"\xC3\x91"
                                                  "and\xC3\xBA",
                                                  true, 3},
                                                 {"B\xFFX", true, 3},
                                                 {"R12345678", true, 3},
                                                 {"LongestNameOf16c", true, 3},
                                                 {"X01", true, 3},
                                                 {"X1", true, 3},
                                                 {"Big", true, 3},
                                                 {"Big Ben", true, 3},
                                                 {"Q105", true, 3},
                                                 {"BigRed", true, 3},
                                                 {"BigRedOne", true, 3},
                                                 {"Goat", true, 3}};
/* More machines of one number than can be named in a question. */
static const struct crew_machine roster_many[] = {
    {"A5", true, 3}, {"B5", true, 3}, {"C5", true, 3}, {"D5", true, 3}, {"E5", true, 3}};

static const struct roster rosters[] = {
    {"alder", roster_alder, sizeof roster_alder / sizeof roster_alder[0]},
    {"twins", roster_twins, sizeof roster_twins / sizeof roster_twins[0]},
    {"words", roster_words, sizeof roster_words / sizeof roster_words[0]},
    {"odd", roster_odd, sizeof roster_odd / sizeof roster_odd[0]},
    {"many", roster_many, sizeof roster_many / sizeof roster_many[0]},
    {"digits", roster_digits, sizeof roster_digits / sizeof roster_digits[0]},
};

static const char *const roster_plans[] = {"drive", "deck-belt",
                                           "service"}; /* the last of few machines */
/* The last with a character between its letters that is passed over. */
static const struct crew_title roster_titles[] = {{"Drive oil and filters", 0},
                                                  {"Aceite y filtros", 0},
                                                  {"Belt and oil guards", 1},
                                                  {"Correa y guar\xE2\x80\x8B"
                                                   "das",
                                                   1}};
static const char *const roster_people[] = {"Ines", "Tom", "Rosa"};

/* The names of a roster; no machines where there is none of that name. */
static inline struct crew_names roster_names(const char *name)
{
    struct crew_names names = {.plans = roster_plans,
                               .plan_count = 3,
                               .people = roster_people,
                               .people_count = 3,
                               .titles = roster_titles,
                               .title_count = 4};
    for (size_t i = 0; i < sizeof rosters / sizeof rosters[0]; i++) {
        if (strcmp(rosters[i].name, name) == 0) {
            names.machines = rosters[i].machines;
            names.machine_count = rosters[i].count;
        }
    }
    return names;
}

#endif
