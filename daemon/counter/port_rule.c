/* SPDX-License-Identifier: MIT
 * port_rule: see port_rule.h. */
#include "daemon/counter/port_rule.h"

#include <string.h>

/* The rule of meterpost that is installed marks the port that the config names; this one knows the device
 * itself, and so all of its ports, under whatever name. ID_MM_... is what the usual program for mobile
 * broadband goes by, BRLTTY_... that for braille displays. */
static const char device_left_alone[] =
    "ENV{ID_MM_DEVICE_IGNORE}=\"1\", ENV{BRLTTY_BRAILLE_DRIVER}=\"\"";
static const char port_left_alone[] =
    "ENV{ID_MM_PORT_IGNORE}=\"1\", GROUP=\"dialout\", MODE=\"0660\"";

/* Nothing that would end the quotes or that udev would take for a pattern. */
static bool plain(const char *text)
{
    return text[0] != '\0' && text[strcspn(text, "\"\\*?[]|$%\n")] == '\0';
}

static void write_device(const struct port_found *port, const char *attribute, FILE *out)
{
    (void)fprintf(out, "%s{idVendor}==\"%04x\", %s{idProduct}==\"%04x\", ", attribute,
                  (unsigned)port->vendor, attribute, (unsigned)port->product);
    if (plain(port->serial)) {
        (void)fprintf(out, "%s{serial}==\"%s\", ", attribute, port->serial);
    }
}

static void write_usb(const struct port_found *port, bool alone, FILE *out)
{
    (void)fputs("SUBSYSTEM==\"usb\", ENV{DEVTYPE}==\"usb_device\", ", out);
    write_device(port, "ATTR", out);
    (void)fprintf(out, "%s, TEST==\"power/control\", ATTR{power/control}=\"on\"\n",
                  device_left_alone);
    (void)fputs("SUBSYSTEM==\"tty\", ", out);
    write_device(port, "ATTRS", out);
    (void)fprintf(out, "%s\n", port_left_alone);
    if (alone && port->interface[0] != '\0') {
        (void)fputs("SUBSYSTEM==\"tty\", ", out);
        write_device(port, "ATTRS", out);
        (void)fprintf(out, "ENV{ID_USB_INTERFACE_NUM}==\"%s\", SYMLINK+=\"meterpost-modem\"\n",
                      port->interface);
    }
}

static const char *tty_name(const struct port_found *port)
{
    const char *slash = strrchr(port->name, '/');
    const char *name = slash != NULL ? slash + 1 : port->name;
    return strncmp(name, "tty", 3) == 0 && plain(name) ? name : "";
}

bool port_rule_write(const struct port_found *ports, size_t count, FILE *out)
{
    bool any = false;
    for (size_t i = 0; i < count; i++) {
        const struct port_found *port = &ports[i];
        const char *name = tty_name(port);
        if (port->vendor < 0 && name[0] == '\0') {
            continue;
        }
        (void)fprintf(out, "%s\n# %s%s%s\n", any ? "" : PORT_RULE_HEAD, port->name,
                      plain(port->is) ? ", " : "", plain(port->is) ? port->is : "");
        if (!any) {
            (void)fputs("ACTION==\"remove\", GOTO=\"meterpost_modem_end\"\n", out);
        }
        any = true;
        if (port->vendor >= 0) {
            write_usb(port, count == 1, out);
        } else {
            (void)fprintf(out, "SUBSYSTEM==\"tty\", KERNEL==\"%s\", %s\n", name, port_left_alone);
        }
    }
    (void)fputs(any ? "LABEL=\"meterpost_modem_end\"\n" : "", out);
    return any;
}
