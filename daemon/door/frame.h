/* SPDX-License-Identifier: MIT
 * frame: how words and numbers stand on the door's wire (see door.h). */
#ifndef METERPOST_DAEMON_DOOR_FRAME_H
#define METERPOST_DAEMON_DOOR_FRAME_H

#include <stddef.h>
#include <stdint.h>

#include "daemon/door/door.h"

/* Four octets, most significant first. */
uint32_t frame_read_number(const unsigned char octets[4]);
void frame_write_number(unsigned char octets[4], uint32_t number);

/* Points words[] into octets; 0 where they are malformed: none, too many, or no NUL at the end. */
size_t frame_words(const char *octets, size_t length, const char *words[DOOR_WORDS_MAX]);

#endif
