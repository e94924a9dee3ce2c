/* SPDX-License-Identifier: MIT
 * retraction: takes back what one text did. */
#ifndef METERPOST_DAEMON_LEDGER_RETRACTION_H
#define METERPOST_DAEMON_LEDGER_RETRACTION_H

#include "daemon/ledger/ledger.h"

/* Takes back all that text did: readings, services, meter changes, parking, LATER, strikes and
 * answers. Adds are struck out, strikes are lifted. *alerts_told is how many alerts that had gone
 * out are void by it. Questions that it closed are open again, those that it asked are closed. */
enum ledger_result retraction_of_text(struct ledger *ledger, int64_t text_id, int64_t person_id,
                                      int64_t at_s, int *alerts_told);

#endif
