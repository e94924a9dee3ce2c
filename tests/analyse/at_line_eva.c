/* SPDX-License-Identifier: MIT
 * at_line for the sound analyser: any octets, fed from any state of the splitter, and any line.
 * eva: -eva-precision 4 */
#include <__fc_builtin.h>

#include "parsers/at_line.h"

static void feed_anything(void)
{
    static struct at_line line;
    uint8_t octets[8];
    enum at_event event = AT_EVENT_NONE;
    Frama_C_make_unknown((char *)octets, sizeof octets);
    Frama_C_make_unknown(line.text, sizeof line.text);
    line.length = (size_t)Frama_C_interval(0, AT_LINE_OCTETS - 1);
    line.given = Frama_C_interval(0, 1);
    line.overlong = Frama_C_interval(0, 1);
    line.prompt_wanted = Frama_C_interval(0, 1);
    size_t count = (size_t)Frama_C_interval(0, sizeof octets);
    size_t used = at_line_feed(&line, octets, count, &event);
    /*@ assert used <= sizeof(octets); */
    /*@ assert line.length < 640; */
}

static void read_anything(void)
{
    char text[AT_LINE_OCTETS], out[24];
    int32_t number = 0;
    struct at_field field;
    Frama_C_make_unknown(text, sizeof text);
    size_t length = (size_t)Frama_C_interval(0, sizeof text);
    size_t index = (size_t)Frama_C_interval(0, 8);
    at_line_kind(text, length, &number);
    at_line_starts(text, length, "+CMGR:");
    at_line_field(text, length, index, &field);
    at_line_number(text, length, index, &number);
    at_line_set(text, length, index);
    at_line_names(text, length, index, "SM");
    at_line_copy(text, length, index, out, (size_t)Frama_C_interval(0, sizeof out));
}

int main(void)
{
    feed_anything();
    read_anything();
    return 0;
}
