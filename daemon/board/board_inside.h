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

/* A page that is being written, and what it shows. */
struct board {
    struct yard *yard;
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
    enum ledger_result result; /* the first that was not OK */
};

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

struct board_counts {
    size_t services[DUE_STAGE_COUNT]; /* how many stand how */
    size_t in_shop, booked, wanted;   /* machines */
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
