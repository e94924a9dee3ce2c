/* SPDX-License-Identifier: MIT
 * words for the sound analyser: any octets as a phrase, longer ones than are looked at too.
 * eva: -eva-precision 4 */
#include <__fc_builtin.h>

#include "parsers/words.h"

int main(void)
{
    char phrase[WORDS_PHRASE_OCTETS + 8];
    struct word_sense sense;
    Frama_C_make_unknown(phrase, sizeof phrase);
    size_t length = (size_t)Frama_C_interval(0, sizeof phrase);
    size_t found = words_find(phrase, length, &sense);
    /*@ assert found <= 40; */
    return 0;
}
