/* SPDX-License-Identifier: MIT
 * port_list: see port_list.h. */
#include "daemon/modem/port_list.h"

#include <dirent.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <libserialport.h>

#define BY_ID "/dev/serial/by-id"

/* The name that stays when the cable is pulled and put back. */
static void find_stable(struct port_found *found)
{
    DIR *folder = opendir(BY_ID);
    if (folder == NULL) {
        return;
    }
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        char link[PATH_MAX], real[PATH_MAX];
        int length = snprintf(link, sizeof link, BY_ID "/%s", entry->d_name);
        if (length > 0 && (size_t)length < sizeof found->stable && realpath(link, real) != NULL &&
            strcmp(real, found->name) == 0) {
            memcpy(found->stable, link, (size_t)length + 1);
        }
    }
    (void)closedir(folder);
}

static void describe(const struct sp_port *port, struct port_found *found)
{
    const char *name = sp_get_port_name(port);
    const char *maker = sp_get_port_usb_manufacturer(port);
    const char *product = sp_get_port_usb_product(port);
    const char *otherwise = sp_get_port_description(port);
    *found = (struct port_found){0};
    (void)snprintf(found->name, sizeof found->name, "%s", name != NULL ? name : "");
    if (maker != NULL || product != NULL) {
        (void)snprintf(found->is, sizeof found->is, "%s%s%s", maker != NULL ? maker : "",
                       maker != NULL && product != NULL ? " " : "", product != NULL ? product : "");
    } else if (otherwise != NULL) {
        (void)snprintf(found->is, sizeof found->is, "%s", otherwise);
    }
    find_stable(found);
}

size_t port_list(struct port_found found[PORT_LIST_MAX])
{
    struct sp_port **ports = NULL;
    size_t count = 0;
    if (sp_list_ports(&ports) != SP_OK) {
        return 0;
    }
    for (size_t i = 0; ports[i] != NULL && count < PORT_LIST_MAX; i++) {
        describe(ports[i], &found[count]);
        count += found[count].name[0] != '\0';
    }
    sp_free_port_list(ports);
    return count;
}
