/* SPDX-License-Identifier: MIT
 * settings_room: where the strings and lists of one set of settings live, all freed at once. */
#ifndef METERPOST_CONFIG_SETTINGS_ROOM_H
#define METERPOST_CONFIG_SETTINGS_ROOM_H

#include <stddef.h>

struct settings_room;

/* Room for `size` octets, zeroed and aligned for any type; it lives until the room is freed. *room
 * begins as NULL. NULL when memory is short. */
void *settings_room_take(struct settings_room **room, size_t size);

/* A copy of text[0, length) with a NUL behind it. NULL when memory is short. */
const char *settings_room_keep(struct settings_room **room, const char *text, size_t length);

void settings_room_free(struct settings_room *room); /* NULL is fine */

#endif
