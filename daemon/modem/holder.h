/* SPDX-License-Identifier: MIT
 * holder: which program has a file open, so that "the port is busy" can name it. */
#ifndef METERPOST_DAEMON_MODEM_HOLDER_H
#define METERPOST_DAEMON_MODEM_HOLDER_H

#include <stdbool.h>
#include <sys/types.h>

struct holder {
    pid_t pid;
    char name[32];
};

/* Looks through /proc for another process that has the real path open. False when none is found;
 * only root sees those of other users. */
bool holder_find(const char *real_path, struct holder *holder);

#endif
