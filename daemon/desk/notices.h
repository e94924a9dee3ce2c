/* SPDX-License-Identifier: MIT
 * notices: what the shop is told without having asked. Alerts of several machines go as one text to
 * each person of the shop, in that person's language and in the shop's hours. */
#ifndef METERPOST_DAEMON_DESK_NOTICES_H
#define METERPOST_DAEMON_DESK_NOTICES_H

#include "daemon/desk/status.h"

/* What time brings, in one transaction. */
struct round {
    struct desk *desk;
    int64_t now_s;
    bool daily; /* the first of a day in the shop's hours; then the next two are set: */
    const struct yard_standing *standings; /* every machine and plan, worst first */
    size_t count;
};

/* Puts every alert that is not yet told, and once a day what is to be reminded of, into one text to
 * each person of the shop; in the open transaction and in the shop's hours (the caller's to see). */
void notices_tell(const struct round *round);

/* What is overdue for long and not booked, to those whom the config names for it; once a cycle. */
void notices_escalate(const struct round *round);

/* Whom to ask again, and what the shop is to know of it; once a day in the shop's hours. */
void chase_all(const struct round *round);

/* The day's or the week's summary, where there is one to send; once a day in the shop's hours. */
void summary_send(const struct round *round);

/* Which of the rows (64 at most, a bit each) that summary is going to name to the person. */
uint64_t summary_names(const struct round *round, int32_t person, const struct yard_standing *rows,
                       size_t count);

/* What to have ready for some services, in a few words: "5 qt 20W-50, 2x filter". The kits of them
 * together, an item once, fluids in the shop's unit. A service without record is none yet: its kit is
 * left out. False where nothing is needed, or more than out holds. */
#define KIT_WORDS_OCTETS WORDING_VALUE_OCTETS
bool kit_words(const struct settings *settings, const struct yard_standing *standings, size_t count,
               char out[KIT_WORDS_OCTETS]);

#endif
