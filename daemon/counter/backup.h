/* SPDX-License-Identifier: MIT
 * backup: the copies that are kept of the ledger: one a day in a folder, so many of them. The folder
 * is "backups" beside the ledger unless another is named; a second disk may be mounted there. */
#ifndef METERPOST_DAEMON_COUNTER_BACKUP_H
#define METERPOST_DAEMON_COUNTER_BACKUP_H

#include <stdbool.h>
#include <stdint.h>

/* What lies in the folder. */
struct backup_kept {
    bool folder;     /* it is there: somebody means to keep copies */
    int count;       /* of copies */
    int64_t since_s; /* when the latest was made; without any, since when the folder waits for it */
};

/* Looks into the folder beside that ledger. */
void backup_look(const char *ledger_path, struct backup_kept *kept);

#endif
