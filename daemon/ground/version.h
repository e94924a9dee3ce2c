/* SPDX-License-Identifier: MIT
 * version: which meterpost this is, told by `meterpost --version` and written nowhere else. The
 * ledger counts its own versions, by its schema. */
#ifndef METERPOST_DAEMON_GROUND_VERSION_H
#define METERPOST_DAEMON_GROUND_VERSION_H

#define VERSION_TEXT "1.0"

#endif
