/* SPDX-License-Identifier: MIT
 * settings_sample: the sample config, compiled in, with values of a shop in the place of its own. What
 * comes out is as readable as the sample, comments and all. */
#ifndef METERPOST_CONFIG_SETTINGS_SAMPLE_H
#define METERPOST_CONFIG_SETTINGS_SAMPLE_H

#include <stddef.h>

/* One value. Where those of a group come more than once, as the ports of several modems, the sample's
 * group is written as a list in the place of it, "modems" for "modem": each entry takes the next of each. */
struct settings_fill {
    const char *group; /* "shop"; "" for what stands by itself, as ledger */
    const char
        *name; /* the first setting of the group that is called so; NULL: the group as a whole */
    /* As it is written, with its quotes where it has any; of a whole group or list the lines as they
     * are to stand, or NULL: its first entry stays, the others become comments. */
    const char *value;
};

/* As the sample stands. */
extern const char settings_sample[];

/* The sample with those values, at most 64; one for which it has no line is passed over. The caller
 * frees it; NULL when memory is short. */
char *settings_sample_fill(const struct settings_fill *fills, size_t count);

#endif
