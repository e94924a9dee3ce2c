/* SPDX-License-Identifier: MIT
 * port_rule: the rule of udev(7) for exactly the modems that were found: other programs leave them alone,
 * they do not sleep, and the port of one alone has a name that stays. */
#ifndef METERPOST_DAEMON_COUNTER_PORT_RULE_H
#define METERPOST_DAEMON_COUNTER_PORT_RULE_H

#include <stdbool.h>
#include <stdio.h>

#include "daemon/modem/port.h"

#define PORT_RULE_FILE "/etc/udev/rules.d/78-meterpost-modem.rules"
#define PORT_RULE_HEAD "# meterpost: the port of the modem, as meterpost setup found it."

/* False, and nothing written, where udev has no hold of any, as of a pseudo-terminal. */
bool port_rule_write(const struct port_found *ports, size_t count, FILE *out);

#endif
