/* SPDX-License-Identifier: MIT
 * chatter: the last words and the count of an hour, by person. */
#include "daemon/desk/chatter.h"

#include <stdlib.h>

#define SAME_WORDS_S 600
#define HOUR_S 3600
#define HOUR_MOST 4

struct row {
    uint64_t words; /* hash of the last text that was not understood */
    int64_t said_s;
    int64_t hour_s; /* when the hour that is counted began */
    int count;
};
struct chatter {
    size_t count;
    struct row rows[];
};

struct chatter *chatter_new(size_t person_count)
{
    struct chatter *chatter = calloc(1, sizeof *chatter + person_count * sizeof chatter->rows[0]);
    if (chatter != NULL) {
        chatter->count = person_count;
    }
    return chatter;
}

/* FNV-1a, 64 bit. */
static uint64_t hash_of(const char *text)
{
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    for (size_t i = 0; text[i] != '\0'; i++) {
        hash = (hash ^ (unsigned char)text[i]) * UINT64_C(0x100000001b3);
    }
    return hash;
}

bool chatter_answers(struct chatter *chatter, int32_t person, const char *body, int64_t now_s)
{
    if (person < 0 || (size_t)person >= chatter->count) {
        return false;
    }
    struct row *row = &chatter->rows[person];
    uint64_t words = hash_of(body);
    bool same = row->words == words && now_s >= row->said_s && now_s - row->said_s < SAME_WORDS_S;
    row->words = words;
    row->said_s = now_s;
    if (now_s < row->hour_s || now_s - row->hour_s >= HOUR_S) {
        row->hour_s = now_s;
        row->count = 0;
    }
    if (same || row->count >= HOUR_MOST) {
        return false;
    }
    row->count++;
    return true;
}
