/* SPDX-License-Identifier: MIT
 * crew_text_figures: what a number in a text is a figure of: hours perhaps, or something else. */
#ifndef METERPOST_PARSERS_CREW_TEXT_FIGURES_H
#define METERPOST_PARSERS_CREW_TEXT_FIGURES_H

#include "parsers/crew_text_fold.h"

enum figure_kind {
    FIGURE_HOURS,   /* may be an hour-meter figure: bare, or with a unit of hours */
    FIGURE_QUARTS,  /* `thousandths` */
    FIGURE_LITRES,  /* `thousandths` */
    FIGURE_DAYS,    /* `number` */
    FIGURE_WEEKS,   /* `number` */
    FIGURE_MINUTES, /* "30 min" */
    FIGURE_ORDINAL, /* "5th", `number` */
    FIGURE_DATE,    /* "3/14", `when`; its month is 0 where there is no such day */
    FIGURE_TIME,    /* "5pm", `when.minute_of_day` */
    FIGURE_OTHER,   /* money, weight, a telephone number: never hours */
    FIGURE_BAD      /* letters inside, or marks that make no sense */
};

struct figure {
    enum figure_kind kind;
    struct hours_figure hours; /* its start and length are octets of the text */
    bool hours_said;           /* with a unit of hours */
    bool spelled_one;          /* litres by a lone l that may be a one: `hours` holds that figure */
    bool fraction;             /* a date that may be a fraction: 1/2, 3/4 */
    int64_t number;            /* a whole number written in digits alone, else -1 */
    int64_t thousandths;
    struct crew_when when;
    size_t end; /* unit after the figure and its unit */
};

/* The days that a figure of days or weeks counts, up to 999; -1 for any other. */
int64_t figure_days(const struct figure *figure);

/* Reads the figure that begins at a unit. False where none does. */
bool figure_at(const struct fold *fold, size_t at, enum crew_date_order order, struct figure *out);

#endif
