/* SPDX-License-Identifier: MIT
 *
 * Short messages written as hex: SMS-SUBMIT for the modem, and the other two kinds from their fields.
 * What is written here reads back the same with tpdu_from_hex. */
#ifndef METERPOST_PARSERS_TPDU_WRITE_H
#define METERPOST_PARSERS_TPDU_WRITE_H

#include "parsers/tpdu.h"

#define TPDU_PARTS_MAX 255

/* What the splitter may choose from. All zero is the usual: the default alphabet, else UCS-2. */
struct tpdu_split_choice {
    bool national;    /* national single and locking shift tables where they take fewer parts */
    bool sixteen_bit; /* concatenation with a 16-bit reference, which takes one octet more */
};

struct tpdu_split {
    enum tpdu_alphabet alphabet; /* GSM7 or UCS2 */
    struct septets_shift shift;
    bool sixteen_bit;
    size_t parts;                /* at least 1, an empty text too; at most TPDU_PARTS_MAX */
    size_t ends[TPDU_PARTS_MAX]; /* part n of 0... is text[n ? ends[n - 1] : 0 ... ends[n] - 1] */
};

/* Splits a UTF-8 text into the fewest parts; of equal ones the default alphabet wins, then UCS-2,
 * which any phone shows, then a single shift table, then a locking one, then both. No character is
 * split, neither a pair behind an escape nor a surrogate pair. TPDU_ERROR_TEXT where it is not
 * UTF-8 (or holds a NUL), TPDU_ERROR_TOO_MUCH where 255 parts do not hold it. */
enum tpdu_error tpdu_split(const char *text, size_t len, struct tpdu_split_choice choice,
                           struct tpdu_split *split);

/* Part `index` (0 to split->parts - 1) of a text that was split; reference is the same for all its
 * parts, of which the low 8 bits count unless the split is sixteen-bit. A text of one part gets no
 * concatenation. Out of range: an empty part. */
struct tpdu_part tpdu_split_part(const struct tpdu_split *split, const char *text, size_t index,
                                 uint16_t reference);

struct tpdu_line {
    char hex[TPDU_HEX_OCTETS]; /* upper case, NUL-terminated; service centre first */
    size_t hex_len;
    size_t tpdu_octets; /* the <length> of +CMGS: octets without the service centre */
};

struct tpdu_submit_order {
    const char *to; /* NUL-terminated: "+12065550110" */
    struct tpdu_part part;
    bool report_wanted;
    int64_t validity_s; /* 0: none said */
};

/* Writes *line whole, or returns what is wrong and leaves it empty. */
enum tpdu_error tpdu_write_submit(const struct tpdu_submit_order *order, struct tpdu_line *line);

/* Writes any short message from its fields. Of tpdu->user the coding.dcs, has_header, length and
 * data count (tpdu_user_set fills them from a text); tpdu->octets is not looked at. */
enum tpdu_error tpdu_write(const struct tpdu *tpdu, struct tpdu_line *line);

/* Fills *user from a part: alphabet, header, packed data, and the text read back. The class is
 * none, the rest zero. */
enum tpdu_error tpdu_user_set(struct tpdu_user *user, const struct tpdu_part *part);

#endif
