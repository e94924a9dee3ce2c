/* SPDX-License-Identifier: MIT
 * frame: see frame.h. */
#include "daemon/door/frame.h"

uint32_t frame_read_number(const unsigned char octets[4])
{
    return (uint32_t)octets[0] << 24 | (uint32_t)octets[1] << 16 | (uint32_t)octets[2] << 8 |
           (uint32_t)octets[3];
}

void frame_write_number(unsigned char octets[4], uint32_t number)
{
    for (size_t i = 0; i < 4; i++) {
        octets[i] = (unsigned char)(number >> (24 - 8 * i) & 0xFF);
    }
}

size_t frame_words(const char *octets, size_t length, const char *words[DOOR_WORDS_MAX])
{
    size_t count = 0, start = 0;
    if (length == 0 || octets[length - 1] != '\0') {
        return 0;
    }
    for (size_t i = 0; i < length; i++) {
        if (octets[i] == '\0') {
            if (count == DOOR_WORDS_MAX) {
                return 0;
            }
            words[count] = &octets[start];
            count++;
            start = i + 1;
        }
    }
    return count;
}
