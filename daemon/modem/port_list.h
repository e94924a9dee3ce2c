/* SPDX-License-Identifier: MIT
 * port_list: the serial ports of this box, and what they are. */
#ifndef METERPOST_DAEMON_MODEM_PORT_LIST_H
#define METERPOST_DAEMON_MODEM_PORT_LIST_H

#include <stddef.h>

#define PORT_LIST_MAX 32
#define PORT_LIST_OCTETS 160

struct port_found {
    char name[PORT_LIST_OCTETS];   /* /dev/ttyUSB2 */
    char stable[PORT_LIST_OCTETS]; /* its link under /dev/serial/by-id, "" none */
    char is[PORT_LIST_OCTETS];     /* maker and product as the system knows them, "" unknown */
};

/* Fills found; returns how many there are. Nothing is opened. */
size_t port_list(struct port_found found[PORT_LIST_MAX]);

#endif
