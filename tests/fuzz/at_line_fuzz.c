/* SPDX-License-Identifier: MIT
 * at_line under the fuzzer: the octets are fed as a modem would send them, and every line that comes
 * out is read in all the ways the link reads lines. */
#include "parsers/at_line.h"

int LLVMFuzzerTestOneInput(const uint8_t *octets, size_t count);

static volatile int64_t sum; /* so that nothing of it is left out as unused */

static void read_line(const char *text, size_t length)
{
    char out[32];
    int32_t number = 0;
    sum += (int64_t)at_line_kind(text, length, &number) + number;
    for (size_t index = 0; index < 5; index++) {
        sum += at_line_number(text, length, index, &number) ? number : 0;
        sum += at_line_set(text, length, index);
        sum += at_line_names(text, length, index, "SM") ? 1 : 0;
        sum += (int64_t)at_line_copy(text, length, index, out, sizeof out);
    }
    sum += at_line_starts(text, length, "+CMGR:") ? 1 : 0;
}

int LLVMFuzzerTestOneInput(const uint8_t *octets, size_t count)
{
    static struct at_line line;
    line = (struct at_line){.prompt_wanted = count % 2 == 0};
    size_t fed = 0;
    while (fed < count) {
        enum at_event event = AT_EVENT_NONE;
        fed += at_line_feed(&line, octets + fed, count - fed, &event);
        if (event == AT_EVENT_LINE) {
            read_line(line.text, line.length);
        }
        sum += event;
    }
    return 0;
}
