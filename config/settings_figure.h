/* SPDX-License-Identifier: MIT
 * settings_figure: a whole number of hundredths or thousandths as people write it. */
#ifndef METERPOST_CONFIG_SETTINGS_FIGURE_H
#define METERPOST_CONFIG_SETTINGS_FIGURE_H

#include <stdint.h>

struct settings_figure {
    char text[32];
};

/* 7500 with two places is "75", 7550 is "75.5". places: 0 to 3. */
struct settings_figure settings_figure(int64_t amount, int places);

#endif
