/* SPDX-License-Identifier: MIT
 *
 * nearest: the input as two words, parted by its first NUL. -max_len=120 */
#include <string.h>

#include "parsers/nearest.h"
#include "tests/fuzz/fuzz.h"

#define WORD_MAX 128

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len)
{
    char one[WORD_MAX] = "";
    char other[WORD_MAX] = "";
    if (len >= WORD_MAX) {
        return 0;
    }
    memcpy(one, input, len);
    size_t first = strlen(one);
    if (first < len) {
        memcpy(other, input + first + 1, len - first - 1);
    }
    uint32_t distance = nearest_distance(one, other);
    PROPERTY(distance == nearest_distance(other, one));
    size_t longer = first > strlen(other) ? first : strlen(other);
    PROPERTY(distance == UINT32_MAX || distance <= longer);
    PROPERTY((nearest_distance(one, one) == 0) || first > NEAREST_OCTETS_MAX);
    struct nearest nearest;
    nearest_begin(&nearest, one);
    nearest_offer(&nearest, other);
    PROPERTY(nearest.name == NULL || nearest.name == other);
    PROPERTY(nearest.name == NULL || nearest.distance == distance);
    return 0;
}
