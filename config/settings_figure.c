/* SPDX-License-Identifier: MIT
 * settings_figure: a figure with as few decimals as say it exactly. */
#include "config/settings_figure.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

struct settings_figure settings_figure(int64_t amount, int places)
{
    struct settings_figure figure;
    int64_t scale = 1;
    for (int i = 0; i < places; i++) {
        scale *= 10;
    }
    int64_t whole = amount / scale, rest = amount % scale;
    int length =
        snprintf(figure.text, sizeof figure.text, "%s%" PRId64 ".%0*" PRId64, amount < 0 ? "-" : "",
                 whole < 0 ? -whole : whole, places, rest < 0 ? -rest : rest);
    while (length > 1 && figure.text[length - 1] == '0' && rest != 0) {
        length--;
    }
    if (rest == 0) {
        length = (int)strcspn(figure.text, ".");
    }
    figure.text[length] = '\0';
    return figure;
}
