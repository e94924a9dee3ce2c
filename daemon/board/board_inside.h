/* SPDX-License-Identifier: MIT
 * board_inside: what the chapters of this room share; for the room alone. */
#ifndef METERPOST_DAEMON_BOARD_BOARD_INSIDE_H
#define METERPOST_DAEMON_BOARD_BOARD_INSIDE_H

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "daemon/board/board.h"
#include "daemon/upkeep/civil.h"
#include "daemon/yard/bay.h"
#include "daemon/yard/reported.h"
#include "daemon/yard/shelf.h"
#include "daemon/yard/yard.h"
#include "parsers/hours.h"

#define BOARD_SENTENCE_OCTETS 256

/* A page that is being written, and what it shows: of several shops a board each, in a chain. */
struct board {
    struct yard *yard;
    const char *shop;   /* which of several; NULL: the only one */
    struct board *next; /* shop; NULL behind the last */
    size_t told;        /* of the standings, by board_next_machine */
    const struct settings *settings;
    int64_t now_s;
    int32_t today;
    struct yard_standing *standings; /* worst first */
    size_t count;
    struct yard_trouble *troubles; /* danger first */
    size_t trouble_count;
    struct bay bay;     /* eight weeks of it, from today on */
    struct shelf shelf; /* what the next four weeks need */
    FILE *out;
    struct board_page *page;
    enum ledger_result result; /* the first that was not OK; LEDGER_NONE: it is left out */
};

/* From that shop on the first that is not left out, its zone in force; NULL where there is none. */
struct board *board_turn(struct board *board);
/* The worst machine of all shops that was not told before: its shop, turned to, and its first standing;
 * NULL at the end. */
struct board *board_next_machine(struct board *board, size_t *first);
/* The shop's name with that before and behind, where there are several. */
void board_write_shop(const struct board *board, const char *before, const char *behind);
/* The name over the page. */
const char *board_name(const struct board *board);
/* A line for each shop that is left out. */
void board_write_left_out(const struct board *board);

/* Our own words, as they are. */
void board_markup(const struct board *board, const char *text);
/* A sentence of ours that may hold foreign names. */
void board_say(const struct board *board, const char *format, ...)
    __attribute__((format(printf, 2, 3)));

/* Whether no standing before that one is of its machine: the first of a machine, its worst, gives it
 * its place and its colour. */
bool board_first_of_machine(const struct board *board, size_t at);

/* Whether its point is reached, by the hours or the day that it runs towards. */
bool board_past(const struct board *board, const struct yard_standing *standing);

/* Of all shops. */
struct board_counts {
    size_t services[DUE_STAGE_COUNT]; /* how many stand how */
    size_t in_shop, booked, wanted;   /* machines */
    size_t troubles;
    bool danger;
};
struct board_counts board_count(const struct board *board);

/* The standing by which a reading of that machine is wanted, given its first; NULL where none is. */
const struct yard_standing *board_wanted(const struct board *board, size_t first);

/* Each returns room. */
const char *board_hours(int64_t hundredths, char room[HOURS_TEXT_OCTETS]);
#define BOARD_DAY_OCTETS 24
/* "Tue Apr 13", or "Tue 13 Apr", as the shop writes dates. */
const char *board_day(const struct board *board, int32_t day, char room[BOARD_DAY_OCTETS]);

/* The time of making, by which a reader's browser tells an old page. */
void board_write_made(struct board *board, enum board_form form);

/* The load of the bay, week by week. */
void load_write(const struct board *board);

/* The body of each form. */
void cards_write(struct board *board);
void wall_write(struct board *board);

#endif
