/* SPDX-License-Identifier: MIT
 * sheet_labels: the fixed words of a job sheet, one table a language, in the order of
 * parsers/words_tables.h. What the plan says is the shop's own and stays in its language. */
#ifndef METERPOST_DAEMON_COUNTER_SHEET_LABELS_H
#define METERPOST_DAEMON_COUNTER_SHEET_LABELS_H

#include <stddef.h>

#include "parsers/words_tables.h"

#define SHEET_CAUTIONS 6

struct sheet_labels {
    const char *language; /* as HTML names it */
    const char *job_sheet, *machine, *due, *meter, *last, *time, *booked;
    const char *at, *by, *whichever; /* "at 975 h", "by 2027-05-07", behind both */
    const char *unknown;             /* no point is known */
    const char *on;                  /* "1340 h on 2027-03-14" */
    const char *never_read, *never_done;
    const char *about; /* "about 90 min" */
    const char *reported, *remarks, *cautions, *kit, *in_all, *took, *steps, *no_steps, *write_down;
    const char *date, *done_by, *initials, *remark;
    const char *left, *right, *side; /* the grammar understands the first two */
    const char *changed, *level, *topped;
    const char *text, *text_solved;
    const char *done, *solved; /* as they are texted */
    const char *usual_cautions[SHEET_CAUTIONS];
};

const struct sheet_labels *sheet_labels_of(enum words_language language);

#endif
