/* SPDX-License-Identifier: MIT
 * chatter: whether a text that was not understood is answered once more. A machine that answers by
 * itself ("I am driving") must not keep us talking; a person who gets the form wrong must be helped.
 * Kept in memory: a restart forgets it, and the caps of the post hold all the same. */
#ifndef METERPOST_DAEMON_DESK_CHATTER_H
#define METERPOST_DAEMON_DESK_CHATTER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct chatter; /* one row a person */

/* NULL when memory is short. Ends with free(). */
struct chatter *chatter_new(size_t person_count);

/* Notes that this text of that person was not understood; true where it is to be answered: not the
 * same words within ten minutes, and no more than four an hour (common practice, no source). */
bool chatter_answers(struct chatter *chatter, int32_t person, const char *body, int64_t now_s);

#endif
