/* SPDX-License-Identifier: MIT
 * reply: the sentences of one text out. What must be said stays; where the whole would not fit into
 * the segments allowed, what may be said goes, the last first, then what should be said likewise. */
#ifndef METERPOST_DAEMON_DESK_REPLY_H
#define METERPOST_DAEMON_DESK_REPLY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "daemon/desk/wording.h"

#define REPLY_SENTENCES_MAX 48

enum reply_weight { REPLY_MAY, REPLY_SHOULD, REPLY_MUST };
struct reply_sentence {
    char text[WORDING_SENTENCE_OCTETS];
    enum reply_weight weight;
};
struct reply {
    struct reply_sentence sentences[REPLY_SENTENCES_MAX];
    size_t count;
};

/* Adds a sentence; one past the last that fits is left out, as is an empty one. */
void reply_add(struct reply *reply, enum reply_weight weight, const char *sentence);

/* Puts the sentences together, a space between, in at most `segments` texts of the air if what may
 * go suffices for that. Returns the length; out is NUL-terminated and never cut inside a
 * character. */
size_t reply_write(const struct reply *reply, size_t segments, char *out, size_t size);

/* Names in a row, as many as a reply has room for; "..." where there are more. */
#define REPLY_LIST_OCTETS 41
struct reply_list {
    char text[REPLY_LIST_OCTETS];
    size_t length;
    size_t count;
};
void reply_list_add(struct reply_list *list, const char *name);

/* What somebody typed, fit for a reply: a blank for whatever is not one letter of the default
 * alphabet; cut at size, NUL-terminated. */
void reply_plain(const char *text, size_t length, char *out, size_t size);

/* How many texts of the air it takes; 0 where it cannot be sent at all. */
size_t reply_segments(const char *text);

#endif
