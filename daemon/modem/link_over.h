/* SPDX-License-Identifier: MIT
 * link_over: a link over a line that is handed in, for tests that play the modem themselves. */
#ifndef METERPOST_DAEMON_MODEM_LINK_OVER_H
#define METERPOST_DAEMON_MODEM_LINK_OVER_H

#include "daemon/modem/link.h"
#include "daemon/modem/port.h"

/* As link_new. line is copied; what its ctx points to must outlive the link. */
struct link *link_new_over(const struct link_settings *settings, const struct link_host *host,
                           const struct port_line *line);

#endif
