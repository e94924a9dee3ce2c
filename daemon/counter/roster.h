/* SPDX-License-Identifier: MIT
 * roster: people and machines of a new shop from a spreadsheet. */
#ifndef METERPOST_DAEMON_COUNTER_ROSTER_H
#define METERPOST_DAEMON_COUNTER_ROSTER_H

#include "daemon/counter/founding.h"

/* Adds what a CSV file (csv.h) says: a row a machine, who reads it, or both, under headings that people use.
 * A machine in several rows has several who read it; who is in several rows needs a number in the first.
 * False after saying what is wrong, and where: what was added till then is there. */
bool roster_read(const char *file, struct founding *founding, char says[INTERVIEW_SAYS_OCTETS]);

#endif
