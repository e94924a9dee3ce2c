/* SPDX-License-Identifier: MIT
 * indications: how the modem tells of a new text (+CNMI, TS 27.005 3.4.1): a ladder of settings,
 * best first. Stored and announced is best: the text stays in the modem until it is on disk here.
 * What a modem lists as supported is tried first, and the rest after it, since the lists lie. */
#ifndef METERPOST_DAEMON_MODEM_INDICATIONS_H
#define METERPOST_DAEMON_MODEM_INDICATIONS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum indications_way {
    INDICATIONS_WAY_NONE,      /* nothing taken: the sweep has to find the texts */
    INDICATIONS_WAY_ANNOUNCED, /* stored, then +CMTI */
    INDICATIONS_WAY_DIRECT     /* +CMT: the modem hands it on without keeping it */
};

struct indications {
    bool listed; /* the sets below were read from +CNMI=? */
    uint32_t mode, mt, ds, bfr;
    uint8_t pass, rung;
};

/* Forgets what was listed and starts at the top. */
void indications_init(struct indications *indications);

/* At the top again, with what was listed. */
void indications_restart(struct indications *indications);

/* Reads the line "+CNMI: (...),(...),..." of +CNMI=?. */
void indications_read(struct indications *indications, const char *text, size_t length);

/* Writes the command of the rung stood on; false when the ladder has ended. */
bool indications_command(struct indications *indications, char *out, size_t size);

/* What the rung stood on gives. */
enum indications_way indications_way(const struct indications *indications);

/* The rung was refused: to the next. */
void indications_refused(struct indications *indications);

#endif
