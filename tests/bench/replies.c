/* SPDX-License-Identifier: MIT
 * replies: prints every sentence of the product, language by language, for reading aloud: how many
 * septets and texts of the air it takes with the longest names and figures, then the sentence. */
#include <stdio.h>

#include "tests/wording_longest.h"

#define LONG_TEXT_SEPTETS 153 /* of each part of a longer text (3GPP TS 23.040 9.2.3.24.1) */

static size_t segments_of(size_t septets)
{
    return septets <= SEPTETS_MAX ? 1 : (septets + LONG_TEXT_SEPTETS - 1) / LONG_TEXT_SEPTETS;
}

int main(void)
{
    int outside = 0;
    for (size_t i = 0; wording_all[i] != NULL; i++) {
        printf("%s\nseptets  texts  sentence\n", wording_all[i]->language);
        for (int key = 0; key < WORDING_KEYS; key++) {
            char sentence[WORDING_SENTENCE_OCTETS];
            size_t septets = 0;
            if (longest_write(wording_all[i], (enum wording_key)key, sentence, &septets)) {
                printf("%7zu  %5zu  %s\n", septets, segments_of(septets), sentence);
            } else {
                printf("outside the alphabet:  %s\n", sentence);
                outside++;
            }
        }
        printf("\n");
    }
    return outside > 0 ? 1 : 0;
}
