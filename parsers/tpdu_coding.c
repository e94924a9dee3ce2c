/* SPDX-License-Identifier: MIT
 *
 * TP-DCS by its groups, the four high bits. */
#include "parsers/tpdu_coding.h"

#define GROUP_GENERAL_LAST 0x7u /* 00xx and 01xx */
#define GROUP_WAITING_DISCARD 0xCu
#define GROUP_WAITING_STORE_UCS2 0xEu
#define GROUP_CLASS 0xFu

static struct tpdu_coding general_coding(uint8_t dcs)
{
    /* 11 is reserved, and read as the default. */
    static const enum tpdu_alphabet alphabets[] = {TPDU_ALPHABET_GSM7, TPDU_ALPHABET_OCTETS,
                                                   TPDU_ALPHABET_UCS2, TPDU_ALPHABET_GSM7};
    return (struct tpdu_coding){
        .dcs = dcs,
        .alphabet = alphabets[dcs >> 2 & 3u],
        .class = (int8_t)((dcs & 0x10u) != 0 ? dcs & 3 : TPDU_CLASS_NONE),
        .compressed = (dcs & 0x20u) != 0,
        .delete_after_reading = (dcs & 0x40u) != 0,
    };
}

struct tpdu_coding tpdu_coding_of(uint8_t dcs)
{
    unsigned group = dcs >> 4;
    struct tpdu_coding coding = {.dcs = dcs, .class = TPDU_CLASS_NONE};
    if (group <= GROUP_GENERAL_LAST) {
        coding = general_coding(dcs);
    } else if (group == GROUP_WAITING_STORE_UCS2) {
        coding.alphabet = TPDU_ALPHABET_UCS2;
    } else if (group == GROUP_CLASS) {
        coding.alphabet = (dcs & 4u) != 0 ? TPDU_ALPHABET_OCTETS : TPDU_ALPHABET_GSM7;
        coding.class = (int8_t)(dcs & 3u);
    }
    return coding;
}

struct tpdu_waiting tpdu_coding_waiting(uint8_t dcs)
{
    unsigned group = dcs >> 4;
    struct tpdu_waiting waiting = {.present = false};
    if (group >= GROUP_WAITING_DISCARD && group <= GROUP_WAITING_STORE_UCS2) {
        waiting.present = true;
        waiting.active = (dcs & 8u) != 0;
        waiting.store = group != GROUP_WAITING_DISCARD;
        waiting.kind = dcs & 3u;
    }
    return waiting;
}
