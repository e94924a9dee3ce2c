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
    {"M12", true}, {"M7", true}, {"TR-9", true}, {"R21", false}, {"M3", false}};
/* The same number twice; one of the 12s and both 5s are the sender's. */
static const struct crew_machine roster_twins[] = {
    {"M12", true}, {"TR12", false}, {"M5", true}, {"K5", true}, {"M1", false}};
static const struct crew_machine roster_words[] = {{"Rosie", true}, {"Big Red", true},
                                                   {"Goat", false}, {"12A", true},
                                                   {"M12A", true},  {"M12", true}};
static const struct crew_machine roster_digits[] = {
    {"1", true}, {"2", true}, {"14", false}, {"M07", true}, {"M10", true}};

/* Leading zeros, gaps, two runs of digits, letters beyond ASCII, octets that are no UTF-8, sixteen
 * octets, names that begin others. */
static const struct crew_machine roster_odd[] = {{"07B", true},
                                                 {"K-012", true},
                                                 {"Z4-20", true},
                                                 {"\xC3\x91"
                                                  "and\xC3\xBA",
                                                  true},
                                                 {"B\xFFX", true},
                                                 {"R12345678", true},
                                                 {"LongestNameOf16c", true},
                                                 {"X01", true},
                                                 {"X1", true},
                                                 {"Big", true},
                                                 {"Big Ben", true},
                                                 {"Q105", true},
                                                 {"BigRed", true},
                                                 {"BigRedOne", true},
                                                 {"Goat", true}};
/* More machines of one number than can be named in a question. */
static const struct crew_machine roster_many[] = {
    {"A5", true}, {"B5", true}, {"C5", true}, {"D5", true}, {"E5", true}};

static const struct roster rosters[] = {
    {"alder", roster_alder, sizeof roster_alder / sizeof roster_alder[0]},
    {"twins", roster_twins, sizeof roster_twins / sizeof roster_twins[0]},
    {"words", roster_words, sizeof roster_words / sizeof roster_words[0]},
    {"odd", roster_odd, sizeof roster_odd / sizeof roster_odd[0]},
    {"many", roster_many, sizeof roster_many / sizeof roster_many[0]},
    {"digits", roster_digits, sizeof roster_digits / sizeof roster_digits[0]},
};

static const char *const roster_plans[] = {"drive", "deck-belt"};
static const char *const roster_people[] = {"Ines", "Tom", "Rosa"};

/* The names of a roster; no machines where there is none of that name. */
static inline struct crew_names roster_names(const char *name)
{
    struct crew_names names = {NULL, 0, roster_plans, 2, roster_people, 3};
    for (size_t i = 0; i < sizeof rosters / sizeof rosters[0]; i++) {
        if (strcmp(rosters[i].name, name) == 0) {
            names.machines = rosters[i].machines;
            names.machine_count = rosters[i].count;
        }
    }
    return names;
}

#endif
