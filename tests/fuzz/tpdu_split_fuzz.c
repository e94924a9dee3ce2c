/* SPDX-License-Identifier: MIT
 *
 * tpdu_split and tpdu_write: the first octet chooses, the rest is a text, made longer by repeating it; its parts are
 * sent, read and joined. -max_len=600 */
#include <stdbool.h>
#include <string.h>

#include "parsers/tpdu_write.h"
#include "tests/fuzz/fuzz.h"

#define TEXT_MAX 4096

static size_t send_part(const struct tpdu_split *split, const char *text, size_t index)
{
    struct tpdu_line line;
    struct tpdu tpdu;
    const struct tpdu_submit_order order = {.to = "+12065550110",
                                            .part = tpdu_split_part(split, text, index, 0x1234)};
    PROPERTY(tpdu_write_submit(&order, &line) == TPDU_OK);
    PROPERTY(tpdu_from_hex(line.hex, line.hex_len, &tpdu) == TPDU_OK);
    PROPERTY(!tpdu.user.text_damaged || split->alphabet == TPDU_ALPHABET_UCS2);
    PROPERTY(tpdu.user.text_len == order.part.to - order.part.from);
    PROPERTY(memcmp(tpdu.user.text, text + order.part.from, tpdu.user.text_len) == 0);
    PROPERTY(tpdu.user.concat.present == (split->parts > 1));
    return tpdu.user.text_len;
}

static void judge(const char *text, size_t len, struct tpdu_split_choice choice)
{
    struct tpdu_split split;
    enum tpdu_error error = tpdu_split(text, len, choice, &split);
    PROPERTY(error == TPDU_OK || error == TPDU_ERROR_TEXT || error == TPDU_ERROR_TOO_MUCH);
    PROPERTY((error == TPDU_OK) == (split.parts > 0) && split.parts <= TPDU_PARTS_MAX);
    size_t joined = 0;
    for (size_t i = 0; i < split.parts; i++) {
        joined += send_part(&split, text, i);
        PROPERTY(joined == split.ends[i]);
    }
    PROPERTY(error != TPDU_OK || joined == len);
    /* national tables are taken only where they save a part */
    struct tpdu_split plain;
    if (choice.national &&
        tpdu_split(text, len, (struct tpdu_split_choice){false, choice.sixteen_bit}, &plain) ==
            TPDU_OK) {
        PROPERTY(split.parts <= plain.parts);
        PROPERTY(split.parts < plain.parts || split.alphabet == plain.alphabet);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len)
{
    char text[TEXT_MAX];
    if (len < 1) {
        return 0;
    }
    const struct tpdu_split_choice choice = {(input[0] & 1) != 0, (input[0] & 2) != 0};
    size_t times = 1 + (input[0] >> 2) % 16;
    size_t total = 0;
    for (size_t i = 0; i < times && total + len - 1 <= sizeof text; i++) {
        memcpy(text + total, input + 1, len - 1);
        total += len - 1;
    }
    judge(text, total, choice);
    return 0;
}
