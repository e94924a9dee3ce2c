/* SPDX-License-Identifier: MIT
 * settings_room: chunks in a list, filled one after the other. Settings are read once and never
 * change, so nothing is given back singly. */
#include "config/settings_room.h"

#include <stdalign.h>
#include <stdlib.h>
#include <string.h>

#define CHUNK_OCTETS 16384

struct settings_room {
    struct settings_room *next;
    size_t used, size;
    alignas(max_align_t) unsigned char octets[];
};

static struct settings_room *room_grow(struct settings_room *next, size_t least)
{
    size_t size = least > CHUNK_OCTETS ? least : CHUNK_OCTETS;
    struct settings_room *room = calloc(1, sizeof *room + size);
    if (room != NULL) {
        room->next = next;
        room->size = size;
    }
    return room;
}

void *settings_room_take(struct settings_room **room, size_t size)
{
    const size_t align = alignof(max_align_t);
    size_t padded = (size + align - 1) / align * align;
    if (*room == NULL || (*room)->size - (*room)->used < padded) {
        struct settings_room *grown = room_grow(*room, padded);
        if (grown == NULL) {
            return NULL;
        }
        *room = grown;
    }
    void *taken = (*room)->octets + (*room)->used;
    (*room)->used += padded;
    return taken;
}

const char *settings_room_keep(struct settings_room **room, const char *text, size_t length)
{
    char *copy = settings_room_take(room, length + 1);
    if (copy != NULL) {
        memcpy(copy, text, length);
    }
    return copy;
}

void settings_room_free(struct settings_room *room)
{
    while (room != NULL) {
        struct settings_room *next = room->next;
        free(room);
        room = next;
    }
}
