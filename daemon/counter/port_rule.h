/* SPDX-License-Identifier: MIT
 * port_rule: the rule of udev(7) for exactly one modem: other programs leave it alone, it does not sleep,
 * and its port has a name that stays. */
#ifndef METERPOST_DAEMON_COUNTER_PORT_RULE_H
#define METERPOST_DAEMON_COUNTER_PORT_RULE_H

#include <stdbool.h>
#include <stdio.h>

#include "daemon/modem/port.h"

#define PORT_RULE_FILE "/etc/udev/rules.d/78-meterpost-modem.rules"
#define PORT_RULE_HEAD "# meterpost: the port of the modem, as meterpost setup found it."

/* False, and nothing written, for what udev has no hold of, as a pseudo-terminal. */
bool port_rule_write(const struct port_found *port, FILE *out);

#endif
