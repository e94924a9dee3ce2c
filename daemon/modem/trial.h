/* SPDX-License-Identifier: MIT
 * trial: a short conversation with what answers on a port, by the real clock and without the
 * daemon: does it talk AT, does it take texts, what is it, how does it stand. */
#ifndef METERPOST_DAEMON_MODEM_TRIAL_H
#define METERPOST_DAEMON_MODEM_TRIAL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define TRIAL_WORD_OCTETS 96
#define TRIAL_SAYS_OCTETS 320

struct trial {
    bool opened; /* false: says holds why not and what to do */
    bool talks;  /* it answers AT, at `speed` */
    int32_t speed;
    bool texts; /* it takes PDU mode, or says that the SIM must be open first */
    char says[TRIAL_SAYS_OCTETS];
    /* As the modem says them, "" where it does not. */
    char maker[TRIAL_WORD_OCTETS], model[TRIAL_WORD_OCTETS], sim[TRIAL_WORD_OCTETS];
    char serial[TRIAL_WORD_OCTETS]; /* by which two ports of one modem are told from two modems */
    char network[TRIAL_WORD_OCTETS], centre[TRIAL_WORD_OCTETS];
    bool centre_told;                    /* "" of centre: the SIM has none */
    int32_t registration;                /* <stat> of TS 27.007 7.2, -1 unknown */
    int32_t signal_dbm;                  /* 0 unknown */
    int32_t storage_used, storage_total; /* -1 unknown */
};

/* Asks it, at that speed and where nothing answers at the others; at most some fifteen seconds. The port is
 * closed again. */
void trial_run(const char *port, int32_t speed, struct trial *trial);

/* Sends one text (one part of the GSM alphabet or UCS-2). True when the network took it; says what
 * the modem answered otherwise. At most three minutes. */
bool trial_send(const char *port, int32_t speed, const char *number, const char *text,
                char says[TRIAL_SAYS_OCTETS]);

#endif
