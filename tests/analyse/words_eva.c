/* SPDX-License-Identifier: MIT
 * words for the sound analyser: any units as a phrase, from any of them on.
 * eva: -eva-precision 2 */
#include <__fc_builtin.h>

#include "parsers/crew_text_items.h"

int main(void)
{
    static struct fold fold;
    struct word_sense sense;
    Frama_C_make_unknown((char *)fold.unit, sizeof fold.unit);
    fold.count = (size_t)Frama_C_interval(0, CREW_TEXT_OCTETS_MAX);
    size_t at = (size_t)Frama_C_interval(0, CREW_TEXT_OCTETS_MAX);
    size_t found = phrase_at(&fold, at, &sense);
    /*@ assert found <= 4097; */
    return phrase_is(&fold, at, (size_t)Frama_C_interval(0, CREW_TEXT_OCTETS_MAX), &sense);
}
