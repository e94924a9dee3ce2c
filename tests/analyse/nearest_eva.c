/* SPDX-License-Identifier: MIT
 * nearest for the sound analyser: any two words, longer ones than it compares too. */
#include <__fc_builtin.h>

#include "parsers/nearest.h"

int main(void)
{
    char one[NEAREST_OCTETS_MAX + 8];
    char other[NEAREST_OCTETS_MAX + 8];
    struct nearest nearest;
    Frama_C_make_unknown(one, sizeof one - 1);
    Frama_C_make_unknown(other, sizeof other - 1);
    one[sizeof one - 1] = '\0';
    other[sizeof other - 1] = '\0';
    nearest_distance(one, other);
    nearest_begin(&nearest, one);
    nearest_offer(&nearest, other);
    return 0;
}
