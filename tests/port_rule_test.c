/* SPDX-License-Identifier: MIT
 * The rule of udev for one modem: by what it is known, and nothing where there is no hold of it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "daemon/counter/port_rule.h"

#define ALONE "ENV{ID_MM_PORT_IGNORE}=\"1\", GROUP=\"dialout\", MODE=\"0660\"\n"
#define BEGIN(first)                                                                               \
    PORT_RULE_HEAD "\n# " first "\nACTION==\"remove\", GOTO=\"meterpost_modem_end\"\n"
#define END "LABEL=\"meterpost_modem_end\"\n"
#define USB                                                                                        \
    "ATTR{idVendor}==\"1a2b\", ATTR{idProduct}==\"00c4\", ATTR{serial}==\"0123\", "                \
    "ENV{ID_MM_DEVICE_IGNORE}=\"1\", ENV{BRLTTY_BRAILLE_DRIVER}=\"\", TEST==\"power/control\", "   \
    "ATTR{power/control}=\"on\"\n"
#define TTY "ATTRS{idVendor}==\"1a2b\", ATTRS{idProduct}==\"00c4\", ATTRS{serial}==\"0123\", "

static void each_port_has_the_rule_that_fits_it(void **state)
{
    static const struct {
        struct port_found port;
        const char *rule; /* NULL none */
    } cases[] = {
        {{.name = "/dev/ttyUSB2",
          .is = "Stand-in Works SM-1",
          .vendor = 0x1a2b,
          .product = 0xc4,
          .serial = "0123",
          .interface = "02"},
         BEGIN("/dev/ttyUSB2, Stand-in Works SM-1") "SUBSYSTEM==\"usb\", "
                                                    "ENV{DEVTYPE}==\"usb_device\", " USB
                                                    "SUBSYSTEM==\"tty\", " TTY ALONE
                                                    "SUBSYSTEM==\"tty\", " TTY
                                                    "ENV{ID_USB_INTERFACE_NUM}==\"02\", "
                                                    "SYMLINK+=\"meterpost-modem\"\n" END},
        /* what could end the quotes, or be a pattern, is left out */
        {{.name = "/dev/ttyACM0", .is = "a \"b\"\nc", .vendor = 1, .product = 2, .serial = "x\"*"},
         BEGIN("/dev/ttyACM0") "SUBSYSTEM==\"usb\", ENV{DEVTYPE}==\"usb_device\", "
                               "ATTR{idVendor}==\"0001\", "
                               "ATTR{idProduct}==\"0002\", ENV{ID_MM_DEVICE_IGNORE}=\"1\", "
                               "ENV{BRLTTY_BRAILLE_DRIVER}=\"\", TEST==\"power/control\", "
                               "ATTR{power/control}=\"on\"\n"
                               "SUBSYSTEM==\"tty\", ATTRS{idVendor}==\"0001\", "
                               "ATTRS{idProduct}==\"0002\", " ALONE END},
        {{.name = "/dev/ttyS1", .vendor = -1, .product = -1},
         BEGIN("/dev/ttyS1") "SUBSYSTEM==\"tty\", KERNEL==\"ttyS1\", " ALONE END},
        {{.name = "/dev/pts/4", .vendor = -1, .product = -1}, NULL},
        {{.name = "", .vendor = -1, .product = -1}, NULL},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char *rule = NULL;
        size_t length = 0;
        FILE *out = open_memstream(&rule, &length);
        assert_non_null(out);
        assert_int_equal(port_rule_write(&cases[i].port, 1, out), cases[i].rule != NULL);
        assert_int_equal(fclose(out), 0);
        assert_string_equal(rule, cases[i].rule != NULL ? cases[i].rule : "");
        free(rule);
    }
}

/* One rule file: what holds for each, and one way round it when a device goes. */
static void several_modems_stand_in_one_rule(void **state)
{
    static const struct port_found ports[] = {
        {.name = "/dev/pts/4", .vendor = -1, .product = -1},
        {.name = "/dev/ttyUSB2",
         .is = "Stand-in Works SM-1",
         .vendor = 0x1a2b,
         .product = 0xc4,
         .serial = "0123",
         .interface = "02"},
        {.name = "/dev/ttyS1", .vendor = -1, .product = -1},
    };
    char *rule = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&rule, &length);
    (void)state;
    assert_non_null(out);
    assert_true(port_rule_write(ports, 3, out));
    assert_int_equal(fclose(out), 0);
    assert_string_equal(
        rule,
        BEGIN("/dev/ttyUSB2, Stand-in Works SM-1") "SUBSYSTEM==\"usb\", "
                                                   "ENV{DEVTYPE}==\"usb_device\", " USB
                                                   "SUBSYSTEM==\"tty\", " TTY ALONE
                                                   "\n# /dev/ttyS1\n"
                                                   "SUBSYSTEM==\"tty\", KERNEL==\"ttyS1\", " ALONE
                                                       END);
    free(rule);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_port_has_the_rule_that_fits_it),
        cmocka_unit_test(several_modems_stand_in_one_rule),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
