/* SPDX-License-Identifier: MIT
 * libserialport's own path, over a pseudo-terminal. That library looks a port up by its name under
 * /sys/class/tty and asks it for its modem lines, neither of which a pseudo-terminal has. So the
 * name walks out of /dev to a link in a folder of the test, realpath lets it pass, and ioctl
 * answers for the lines: both stand in for the system's in this program. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <fcntl.h>
#include <limits.h>
#include <poll.h>
#include <pty.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/ioctl.h>
#include <sys/syscall.h>
#include <termios.h>
#include <unistd.h>

#include "daemon/modem/port.h"

#define OUT_OF_DEV "/dev/../"

static int modem_lines_asked;

int ioctl(int fd, unsigned long request, ...)
{
    va_list arguments;
    va_start(arguments, request);
    void *argument = va_arg(arguments, void *);
    va_end(arguments);
    if (request == TIOCMGET) {
        modem_lines_asked++;
        *(int *)argument = 0;
        return 0;
    }
    if (request == TIOCMBIS || request == TIOCMBIC) {
        return 0;
    }
    return (int)syscall(SYS_ioctl, fd, request, argument);
}

/* Only port.c asks, and only for these names and for those that are not there. */
char *realpath(const char *name, char *out)
{
    if (out == NULL || strncmp(name, OUT_OF_DEV, strlen(OUT_OF_DEV)) != 0) {
        return NULL;
    }
    snprintf(out, PATH_MAX, "%s", name);
    return out;
}

char *__realpath_chk(const char *name, char *out, size_t size);
char *__realpath_chk(const char *name, char *out, size_t size)
{
    return size >= PATH_MAX ? realpath(name, out) : NULL;
}

struct cable {
    int modem, slave;
    char folder[32], link[64], name[128];
    struct line_count count;
    struct port port;
    struct port_line line;
    char says[240];
};

static int plug_in(void **state)
{
    static struct cable cable;
    char slave_name[64];
    struct termios left = {0};
    cable = (struct cable){.folder = "/tmp/serial-test-XXXXXX"};
    cfmakeraw(&left);
    left.c_cflag |= CRTSCTS | HUPCL; /* as an earlier program may leave it */
    assert_int_equal(openpty(&cable.modem, &cable.slave, slave_name, &left, NULL), 0);
    assert_non_null(mkdtemp(cable.folder));
    snprintf(cable.link, sizeof cable.link, "%s/modem", cable.folder);
    snprintf(cable.name, sizeof cable.name, OUT_OF_DEV "../..%s", cable.link);
    assert_int_equal(symlink(slave_name, cable.link), 0);
    port_init(&cable.port, &cable.count);
    cable.line = port_line(&cable.port);
    modem_lines_asked = 0;
    *state = &cable;
    return 0;
}

static int unplug(void **state)
{
    struct cable *cable = *state;
    cable->line.close(cable->line.ctx);
    close(cable->slave);
    if (cable->modem >= 0) {
        close(cable->modem);
    }
    unlink(cable->link);
    return rmdir(cable->folder);
}

static bool open_cable(struct cable *cable)
{
    return cable->line.open(cable->line.ctx, cable->name, 115200, cable->says, sizeof cable->says);
}

static void it_is_the_library_that_opens(void **state)
{
    struct cable *cable = *state;
    if (!open_cable(cable)) {
        fail_msg("%s", cable->says);
    }
    assert_true(modem_lines_asked > 0);
    assert_non_null(cable->port.serial);
    assert_string_equal(cable->count.line, cable->name);
}

static void octets_go_both_ways_and_are_counted(void **state)
{
    struct cable *cable = *state;
    uint8_t octets[16];
    assert_true(open_cable(cable));
    assert_int_equal(cable->line.write(cable->line.ctx, (const uint8_t *)"AT\r", 3), 3);
    assert_int_equal(read(cable->modem, octets, sizeof octets), 3);
    assert_int_equal(write(cable->modem, "\r\nOK\r\n", 6), 6);
    assert_int_equal(cable->line.read(cable->line.ctx, octets, sizeof octets), 6);
    assert_memory_equal(octets, "\r\nOK\r\n", 6);
    assert_int_equal(cable->line.read(cable->line.ctx, octets, sizeof octets), 0);
    assert_int_equal(cable->count.sent, 3);
    assert_int_equal(cable->count.received, 6);
}

static void what_the_library_leaves_is_mended(void **state)
{
    struct cable *cable = *state;
    struct termios settings;
    assert_true(open_cable(cable));
    int fd = cable->line.descriptor(cable->line.ctx);
    assert_int_equal(tcgetattr(fd, &settings), 0);
    assert_int_equal(settings.c_cflag & (tcflag_t)(CRTSCTS | HUPCL), 0);
    assert_int_equal(settings.c_cflag & (tcflag_t)(CLOCAL | CREAD), CLOCAL | CREAD);
    assert_int_equal(settings.c_cflag & (tcflag_t)CSIZE, CS8);
    assert_int_equal(settings.c_cc[VMIN], 1);
    assert_int_equal(cfgetospeed(&settings), B115200);
    assert_true((fcntl(fd, F_GETFD) & FD_CLOEXEC) != 0);
    int other = open(cable->link, O_RDWR | O_NOCTTY | O_CLOEXEC);
    if (other >= 0) { /* root gets past TIOCEXCL */
        assert_int_equal(flock(other, LOCK_EX | LOCK_NB), -1);
        close(other);
    }
}

static void another_speed_keeps_the_mending(void **state)
{
    struct cable *cable = *state;
    struct termios settings;
    assert_true(open_cable(cable));
    assert_true(cable->line.set_speed(cable->line.ctx, 9600));
    assert_int_equal(tcgetattr(cable->line.descriptor(cable->line.ctx), &settings), 0);
    assert_int_equal(cfgetospeed(&settings), B9600);
    assert_int_equal(settings.c_cflag & (tcflag_t)(CRTSCTS | HUPCL), 0);
    assert_int_equal(settings.c_cc[VMIN], 1);
}

static void a_port_that_vanishes_is_told_and_can_be_closed(void **state)
{
    struct cable *cable = *state;
    uint8_t octet = 0;
    assert_true(open_cable(cable));
    close(cable->modem);
    cable->modem = -1;
    struct pollfd poll_it = {.fd = cable->line.descriptor(cable->line.ctx), .events = POLLIN};
    assert_int_equal(poll(&poll_it, 1, 0), 1);
    assert_true((poll_it.revents & POLLHUP) != 0);
    assert_int_equal(cable->line.read(cable->line.ctx, &octet, 1), -1);
    assert_int_equal(cable->line.write(cable->line.ctx, &octet, 1), -1);
    cable->line.close(cable->line.ctx);
    assert_int_equal(cable->line.descriptor(cable->line.ctx), -1);
}

static void a_busy_port_is_told_and_can_be_had_later(void **state)
{
    struct cable *cable = *state;
    int other = open(cable->link, O_RDWR | O_NOCTTY | O_CLOEXEC);
    assert_true(other >= 0);
    assert_int_equal(flock(other, LOCK_EX | LOCK_NB), 0);
    assert_false(open_cable(cable));
    assert_non_null(strstr(cable->says, "is held by"));
    assert_null(cable->port.serial);
    close(other);
    assert_true(open_cable(cable));
}

static void it_can_be_closed_and_opened_many_times(void **state)
{
    struct cable *cable = *state;
    for (int i = 0; i < 50; i++) {
        assert_true(open_cable(cable));
        cable->line.close(cable->line.ctx);
        assert_string_equal(cable->count.line, "-");
    }
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, plug_in, unplug)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(it_is_the_library_that_opens),
        TEST(octets_go_both_ways_and_are_counted),
        TEST(what_the_library_leaves_is_mended),
        TEST(another_speed_keeps_the_mending),
        TEST(a_port_that_vanishes_is_told_and_can_be_closed),
        TEST(a_busy_port_is_told_and_can_be_had_later),
        TEST(it_can_be_closed_and_opened_many_times),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
