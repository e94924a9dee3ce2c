/* SPDX-License-Identifier: MIT
 * port_search: finds the modems of a box by trying its ports, and asks where that leaves a choice. */
#ifndef METERPOST_DAEMON_COUNTER_PORT_SEARCH_H
#define METERPOST_DAEMON_COUNTER_PORT_SEARCH_H

#include <stdbool.h>
#include <stddef.h>

#include "config/settings.h"
#include "daemon/counter/interview.h"
#include "daemon/modem/port.h"
#include "daemon/modem/trial.h"

#define PORT_SEARCH_SPEED 115200 /* tried first, where no other is said */

/* A port that was tried, and what answered. */
struct port_searched {
    struct port_found port;
    struct trial trial;
};

/* Those that are taken, in the order of the config. */
struct port_choice {
    struct port_searched modems[SETTINGS_MODEMS_MAX];
    size_t count;
};

/* Tries the ports that are answered already ("port"), else all there are, until there is a modem by which
 * texts can go, or one is content without: then choice is empty, or has the port that was said and where
 * nothing answers yet. Of several modems it is asked which ("use"); two ports of one are never taken. False
 * where the interview was stopped. */
bool port_search(struct interview *interview, struct port_choice *choice);

/* The name that stays when the cable is pulled and put back, where there is one. */
const char *port_search_name(const struct port_found *port);

#endif
