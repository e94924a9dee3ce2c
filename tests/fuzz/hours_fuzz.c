/* SPDX-License-Identifier: MIT
 *
 * hours: the input as a figure. -max_len=40 */
#include <stdbool.h>
#include <string.h>

#include "parsers/hours.h"
#include "tests/fuzz/fuzz.h"

/* A figure is in its range, and written out it reads as itself. */
static void is_figure(const struct hours_figure *figure)
{
    char text[HOURS_TEXT_OCTETS];
    struct hours_figure again;
    PROPERTY(figure->hundredths >= 0 && figure->hundredths <= HOURS_HUNDREDTHS_MAX);
    size_t len = hours_write(figure->hundredths, text, sizeof text);
    PROPERTY(len < sizeof text && strlen(text) == len);
    PROPERTY(hours_read(text, len, &again) == HOURS_OK);
    PROPERTY(again.hundredths == figure->hundredths);
    if (figure->ambiguous) {
        PROPERTY(figure->otherwise_hundredths >= 0);
        PROPERTY(figure->otherwise_hundredths <= figure->hundredths);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len)
{
    struct hours_figure figure;
    enum hours_result result = hours_read((const char *)input, len, &figure);
    PROPERTY(figure.present == (result == HOURS_OK));
    if (result == HOURS_OK) {
        PROPERTY(figure.start + figure.length <= len);
        is_figure(&figure);
    }
    return 0;
}
