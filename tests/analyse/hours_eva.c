/* SPDX-License-Identifier: MIT
 * hours for the sound analyser: any octets as a figure, any figure as octets.
 * eva: -eva-precision 4 */
#include <__fc_builtin.h>

#include "parsers/hours.h"

#define TEXT_MAX 40

int main(void)
{
    char text[TEXT_MAX];
    char out[HOURS_TEXT_OCTETS];
    struct hours_figure figure;
    Frama_C_make_unknown(text, sizeof text);
    hours_read(text, (size_t)Frama_C_interval(0, sizeof text), &figure);
    hours_write(Frama_C_long_long_interval(INT64_MIN, INT64_MAX), out, sizeof out);
    return 0;
}
