/* SPDX-License-Identifier: MIT
 *
 * Splits a long text. Each part is filled as it will be sent, so that what fits here fits there. */
#include "parsers/tpdu_split.h"

struct candidate {
    enum tpdu_alphabet alphabet;
    struct septets_shift shift;
};

/* In order of preference where they take equally many parts. */
static const struct candidate candidates[] = {
    {TPDU_ALPHABET_GSM7, {0, 0}},
    {TPDU_ALPHABET_UCS2, {0, 0}},
    {TPDU_ALPHABET_GSM7, {0, SEPTETS_LANGUAGE_TURKISH}},
    {TPDU_ALPHABET_GSM7, {0, SEPTETS_LANGUAGE_SPANISH}},
    {TPDU_ALPHABET_GSM7, {0, SEPTETS_LANGUAGE_PORTUGUESE}},
    {TPDU_ALPHABET_GSM7, {SEPTETS_LANGUAGE_TURKISH, 0}},
    {TPDU_ALPHABET_GSM7, {SEPTETS_LANGUAGE_PORTUGUESE, 0}},
    {TPDU_ALPHABET_GSM7, {SEPTETS_LANGUAGE_TURKISH, SEPTETS_LANGUAGE_TURKISH}},
    {TPDU_ALPHABET_GSM7, {SEPTETS_LANGUAGE_PORTUGUESE, SEPTETS_LANGUAGE_PORTUGUESE}},
};
#define CANDIDATES (sizeof candidates / sizeof candidates[0])
#define CANDIDATES_USUAL 2

static size_t part_end(const struct candidate *candidate, struct tpdu_concat concat,
                       const char *text, size_t from, size_t to)
{
    struct tpdu_user user;
    const struct tpdu_part part = {.text = text,
                                   .from = from,
                                   .to = to,
                                   .alphabet = candidate->alphabet,
                                   .shift = candidate->shift,
                                   .concat = concat};
    return tpdu_user_fill(&user, &part);
}

/* Fills at most so many parts. TPDU_ERROR_TEXT where a part gets no further, for a character that
 * is not in the alphabet. */
static enum tpdu_error fill(const struct candidate *candidate, struct tpdu_concat concat,
                            size_t most, const char *text, size_t len, struct tpdu_split *split)
{
    size_t from = 0;
    for (size_t n = 0; n < most; n++) {
        size_t end = part_end(candidate, concat, text, from, len);
        if (end == from && end < len) {
            return TPDU_ERROR_TEXT;
        }
        split->ends[n] = end;
        split->parts = n + 1;
        if (end == len) {
            return TPDU_OK;
        }
        from = end;
    }
    return TPDU_ERROR_TOO_MUCH;
}

static enum tpdu_error try(const struct candidate *candidate, bool sixteen_bit, const char *text,
                           size_t len, struct tpdu_split *split)
{
    const struct tpdu_concat alone = {.present = false};
    const struct tpdu_concat one_of = {true, sixteen_bit, 0, 1, 1};
    *split = (struct tpdu_split){
        .alphabet = candidate->alphabet, .shift = candidate->shift, .sixteen_bit = sixteen_bit};
    enum tpdu_error error = fill(candidate, alone, 1, text, len, split);
    if (error == TPDU_ERROR_TOO_MUCH) {
        error = fill(candidate, one_of, TPDU_PARTS_MAX, text, len, split);
    }
    return error;
}

enum tpdu_error tpdu_split(const char *text, size_t len, struct tpdu_split_choice choice,
                           struct tpdu_split *split)
{
    size_t count = choice.national ? CANDIDATES : CANDIDATES_USUAL;
    enum tpdu_error worst = TPDU_ERROR_TEXT;
    *split = (struct tpdu_split){.parts = 0};
    for (size_t i = 0; i < count && split->parts != 1; i++) {
        struct tpdu_split trial;
        enum tpdu_error error = try(&candidates[i], choice.sixteen_bit, text, len, &trial);
        if (error == TPDU_OK && (split->parts == 0 || trial.parts < split->parts)) {
            *split = trial;
        } else if (error == TPDU_ERROR_TOO_MUCH) {
            worst = error;
        }
    }
    return split->parts > 0 ? TPDU_OK : worst;
}

struct tpdu_part tpdu_split_part(const struct tpdu_split *split, const char *text, size_t index,
                                 uint16_t reference)
{
    struct tpdu_part part = {.text = text, .alphabet = split->alphabet, .shift = split->shift};
    if (index >= split->parts || split->parts > TPDU_PARTS_MAX) {
        return part;
    }
    part.from = index > 0 ? split->ends[index - 1] : 0;
    part.to = split->ends[index];
    if (split->parts > 1) {
        part.concat = (struct tpdu_concat){
            .present = true,
            .sixteen_bit = split->sixteen_bit,
            .reference = split->sixteen_bit ? reference : (uint16_t)(reference & 0xFFu),
            .parts = (uint8_t)split->parts,
            .part = (uint8_t)(index + 1)};
    }
    return part;
}
