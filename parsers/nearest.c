/* SPDX-License-Identifier: MIT
 * nearest: edit distance by the usual table, three rows of it kept. A word was perhaps meant when no
 * more than a third of it is wrong; one letter may be wrong in any word of two or more. */
#include "parsers/nearest.h"

#include <stdbool.h>
#include <string.h>

#define ROW (NEAREST_OCTETS_MAX + 1)

/* Octets of text, or ROW where it is longer than that. */
static size_t length_of(const char *text)
{
    size_t length = 0;
    while (length < ROW && text[length] != '\0') {
        length++;
    }
    return length;
}

static char folded(char octet)
{
    return octet >= 'A' && octet <= 'Z' ? (char)(octet - 'A' + 'a') : octet;
}

static bool same(char one, char other)
{
    return folded(one) == folded(other);
}

static uint32_t least(uint32_t one, uint32_t other)
{
    return one < other ? one : other;
}

/* Row i of the table from the two before it. */
static void fill_row(const char *one, const char *other, size_t i, size_t other_length,
                     uint32_t rows[3][ROW])
{
    uint32_t *now = rows[i % 3];
    const uint32_t *last = rows[(i + 2) % 3];
    const uint32_t *before = rows[(i + 1) % 3];
    now[0] = (uint32_t)i;
    for (size_t j = 1; j <= other_length; j++) {
        uint32_t wrong = same(one[i - 1], other[j - 1]) ? 0 : 1;
        now[j] = least(last[j] + 1, now[j - 1] + 1);
        now[j] = least(now[j], last[j - 1] + wrong);
        if (i > 1 && j > 1 && same(one[i - 1], other[j - 2]) && same(one[i - 2], other[j - 1])) {
            now[j] = least(now[j], before[j - 2] + 1);
        }
    }
}

uint32_t nearest_distance(const char *one, const char *other)
{
    uint32_t rows[3][ROW];
    size_t one_length = length_of(one), other_length = length_of(other);
    if (one_length > NEAREST_OCTETS_MAX || other_length > NEAREST_OCTETS_MAX) {
        return UINT32_MAX;
    }
    memset(rows, 0, sizeof rows);
    for (size_t j = 0; j <= other_length; j++) {
        rows[0][j] = (uint32_t)j;
    }
    for (size_t i = 1; i <= one_length; i++) {
        fill_row(one, other, i, other_length, rows);
    }
    return rows[one_length % 3][other_length];
}

void nearest_begin(struct nearest *nearest, const char *word)
{
    *nearest = (struct nearest){.word = word, .name = NULL, .distance = UINT32_MAX};
}

void nearest_offer(struct nearest *nearest, const char *name)
{
    size_t length = length_of(nearest->word);
    size_t allowed = length < 2 ? 0 : length < 6 ? 1 : length / 3;
    uint32_t distance = nearest_distance(nearest->word, name);
    if (distance <= allowed && distance < nearest->distance) {
        nearest->name = name;
        nearest->distance = distance;
    }
}
