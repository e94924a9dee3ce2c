/* SPDX-License-Identifier: MIT
 * telling: who is told what he has not asked for, and the text to him in the making. */
#ifndef METERPOST_DAEMON_DESK_TELLING_H
#define METERPOST_DAEMON_DESK_TELLING_H

#include "daemon/desk/turn.h"

/* ---- who is told */

/* Whether the person of the shop is told of that machine (-1 of any): his sites are its, or he has
 * none set, or nobody's are. */
bool hears(const struct settings *settings, int32_t person, int32_t machine);

/* Calls each for every person of the shop who is told of that machine and may be texted: on the
 * roster, and not opted out. */
void reachable_each(struct desk *desk, int32_t machine, void (*each)(void *ctx, int32_t person),
                    void *ctx);

/* Of the crews (index into settings.people) whoever read the machine last, else the first who looks after
 * it; -1 nobody. */
int32_t tell_reader(struct desk *desk, int32_t machine, int64_t now_s);

/* ---- one text to one person, in the making */

struct draft {
    struct desk *desk;
    int32_t person; /* index into settings.people */
    const struct wording *wording;
    char body[TEXTS_REPLY_OCTETS];
};

/* Nothing is in it yet. */
struct draft draft_to(struct desk *desk, int32_t person);
/* Anew, with the head that names the shop. */
void draft_begin(struct draft *draft);
/* A sentence behind what is there; draft_count: about so many, where there are any. */
void draft_add(struct draft *draft, enum wording_key key, const struct wording_values *values);
void draft_count(struct draft *draft, enum wording_key key, int64_t count);
/* Whether it takes no more than a few texts of the air; else what stands behind `before` is taken back. */
#define DRAFT_SEGMENTS_MOST 3
bool draft_holds(struct draft *draft, size_t before);
/* Queued for the shop's hours, as post_queue does. */
int64_t draft_send(const struct draft *draft, enum texts_kind kind, int64_t now_s);

/* ---- one sentence of a turn, in the shop's hours */

/* To everybody of the shop who is told of that machine (-1 of any), but not to the sender; `first`: as an
 * alert, before what else waits. Its values must be the same in every language. */
void tell_shop(struct turn *turn, int32_t machine, enum wording_key key,
               const struct wording_values *values);
void tell_shop_first(struct turn *turn, int32_t machine, enum wording_key key,
                     const struct wording_values *values);

/* To the crew that read the machine last, in its language; WORDING_DAY is that day. Not where none of
 * its plans wants its crew to be told. */
void tell_crew(struct turn *turn, int32_t machine, enum wording_key key, int32_t day);

#endif
