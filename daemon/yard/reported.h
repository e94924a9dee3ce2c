/* SPDX-License-Identifier: MIT
 * reported: what the yard has told of in words and the shop has not solved, by the settings' machines. */
#ifndef METERPOST_DAEMON_YARD_REPORTED_H
#define METERPOST_DAEMON_YARD_REPORTED_H

#include "daemon/ledger/people.h"
#include "daemon/ledger/troubles.h"
#include "daemon/yard/yard.h"

struct yard_trouble {
    int32_t machine; /* index into the settings; -1: none was named, or it is not there any more */
    bool danger;
    int64_t since_s;
    char person[PEOPLE_NAME_OCTETS];
    char says[TROUBLES_WORDS_OCTETS];
};

/* All that is open at now_s, danger first, then by machine, oldest first. *troubles is allocated and
 * the caller frees it; NULL where there is none. LEDGER_IO too when memory is short. */
enum ledger_result yard_troubles(struct yard *yard, int64_t now_s, struct yard_trouble **troubles,
                                 size_t *count);

#endif
