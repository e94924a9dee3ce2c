/* SPDX-License-Identifier: MIT
 * modem_clock: see the header. The reckoning is that of a service centre's time stamp, which holds
 * the same two-digit fields (TS 23.040 9.2.3.11). */
#include "daemon/modem/modem_clock.h"

#include "parsers/at_line.h"
#include "parsers/tpdu_time.h"

#define FIELDS 7
#define YEAR_FIRST 20
#define YEAR_LAST 69
#define NEGATIVE 0x08

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Two digits at each third place, as octets with their digits exchanged. */
static bool to_octets(const char *stamp, uint8_t octets[FIELDS])
{
    for (size_t i = 0; i < FIELDS; i++) {
        char tens = stamp[3 * i], ones = stamp[3 * i + 1];
        if (!is_digit(tens) || !is_digit(ones)) {
            return false;
        }
        octets[i] = (uint8_t)((ones - '0') << 4 | (tens - '0'));
    }
    return true;
}

bool modem_clock_read(const char *text, size_t length, int64_t *unix_s)
{
    char stamp[24];
    uint8_t octets[FIELDS];
    struct tpdu_time time;
    if (at_line_copy(text, length, 0, stamp, sizeof stamp) != 20 || !to_octets(stamp, octets) ||
        (stamp[17] != '+' && stamp[17] != '-') || stamp[18] > '7') {
        return false;
    }
    octets[6] = (uint8_t)(octets[6] | (stamp[17] == '-' ? NEGATIVE : 0));
    tpdu_time_read(octets, 0, &time);
    return time.year >= YEAR_FIRST && time.year <= YEAR_LAST && tpdu_time_unix(&time, unix_s);
}
