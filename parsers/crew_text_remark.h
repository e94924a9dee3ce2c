/* SPDX-License-Identifier: MIT
 * crew_text_remark: what is said after a figure: when it was read, a second figure, a remark. */
#ifndef METERPOST_PARSERS_CREW_TEXT_REMARK_H
#define METERPOST_PARSERS_CREW_TEXT_REMARK_H

#include "parsers/crew_text_items.h"

/* What was found after a figure. */
struct remark {
    enum crew_trouble trouble;
    struct hours_figure second; /* for CREW_TROUBLE_TWO_FIGURES */
    struct crew_slice slice;    /* the remark, trimmed; empty where there is none */
    size_t begin;               /* its first item; the end where there is none */
    size_t when_at;             /* the item that says when, the end where none does */
    struct crew_when when;
};

/* Reads the items from i, right after a figure, to the end of its statement. */
struct remark remark_read(const struct items *items, size_t i, size_t end);

#endif
