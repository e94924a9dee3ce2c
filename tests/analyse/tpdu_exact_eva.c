/* SPDX-License-Identifier: MIT
 * tpdu for the sound analyser, each length on its own: the octets end where their array ends, so that a read of one octet
 * too many would be an alarm. eva: -eva-precision 0 */
#include <__fc_builtin.h>

#include "parsers/tpdu.h"

int main(void)
{
    static uint8_t room[TPDU_LINE_OCTETS_MAX];
    /*@ loop unroll 177; */
    for (size_t len = 0; len <= TPDU_LINE_OCTETS_MAX; len++) {
        struct tpdu tpdu;
        Frama_C_make_unknown((char *)room, sizeof room);
        tpdu_from_octets(room + (TPDU_LINE_OCTETS_MAX - len), len, &tpdu);
    }
    return 0;
}
