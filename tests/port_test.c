/* SPDX-License-Identifier: MIT
 * The port over a pseudo-terminal: what it carries, how it says that the far end is gone, what it
 * counts; and which program has a file open. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/prctl.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <termios.h>
#include <unistd.h>

#include "daemon/modem/port.h"

/* The modem's end, and the link to the port's. */
struct cable {
    int modem;
    char name[64], folder[32], link[64];
    struct line_count count;
    struct port port;
    struct port_line line;
    char says[240];
};

static int plug_in(void **state)
{
    static struct cable cable;
    int slave = -1;
    struct termios raw = {0};
    cable = (struct cable){.folder = "/tmp/port-test-XXXXXX"};
    cfmakeraw(&raw);
    assert_int_equal(openpty(&cable.modem, &slave, cable.name, &raw, NULL), 0);
    close(slave);
    assert_non_null(mkdtemp(cable.folder));
    snprintf(cable.link, sizeof cable.link, "%s/modem", cable.folder);
    assert_int_equal(symlink(cable.name, cable.link), 0);
    port_init(&cable.port, &cable.count);
    cable.line = port_line(&cable.port);
    *state = &cable;
    return 0;
}

static int unplug(void **state)
{
    struct cable *cable = *state;
    cable->line.close(cable->line.ctx);
    if (cable->modem >= 0) {
        close(cable->modem);
    }
    unlink(cable->link);
    return rmdir(cable->folder);
}

static bool open_cable(struct cable *cable)
{
    return cable->line.open(cable->line.ctx, cable->link, 115200, cable->says, sizeof cable->says);
}

static void octets_go_both_ways_and_are_counted(void **state)
{
    struct cable *cable = *state;
    uint8_t octets[16];
    assert_true(open_cable(cable));
    assert_int_equal(cable->line.write(cable->line.ctx, (const uint8_t *)"AT\r", 3), 3);
    assert_int_equal(read(cable->modem, octets, sizeof octets), 3);
    assert_memory_equal(octets, "AT\r", 3);
    assert_int_equal(write(cable->modem, "\r\nOK\r\n", 6), 6);
    assert_int_equal(cable->line.read(cable->line.ctx, octets, sizeof octets), 6);
    assert_memory_equal(octets, "\r\nOK\r\n", 6);
    assert_int_equal(cable->count.sent, 3);
    assert_int_equal(cable->count.received, 6);
    assert_string_equal(cable->count.line, cable->name);
}

static void nothing_to_read_is_not_the_end(void **state)
{
    struct cable *cable = *state;
    uint8_t octet = 0;
    assert_true(open_cable(cable));
    assert_int_equal(cable->line.read(cable->line.ctx, &octet, 1), 0);
}

static void a_far_end_that_went_is_told(void **state)
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
}

static void counts_survive_a_close_and_a_reopen(void **state)
{
    struct cable *cable = *state;
    assert_true(open_cable(cable));
    assert_int_equal(cable->line.write(cable->line.ctx, (const uint8_t *)"AT\r", 3), 3);
    assert_int_equal(write(cable->modem, "\r\nOK\r\n", 6), 6);
    cable->line.close(cable->line.ctx);
    assert_string_equal(cable->count.line, "-");
    assert_int_equal(cable->count.received, 6); /* unread, but no longer on its way */
    assert_int_equal(cable->line.descriptor(cable->line.ctx), -1);
    assert_true(open_cable(cable));
    assert_string_equal(cable->count.line, cable->name);
    assert_int_equal(cable->count.sent, 3);
    assert_int_equal(cable->count.received, 6);
}

static void counts_start_anew_with_another_line(void **state)
{
    struct cable *cable = *state;
    int modem = -1, slave = -1;
    char other[64];
    assert_int_equal(openpty(&modem, &slave, other, NULL, NULL), 0);
    assert_true(open_cable(cable));
    assert_int_equal(cable->line.write(cable->line.ctx, (const uint8_t *)"AT\r", 3), 3);
    cable->line.close(cable->line.ctx);
    assert_true(cable->line.open(cable->line.ctx, other, 115200, cable->says, sizeof cable->says));
    assert_string_equal(cable->count.line, other);
    assert_int_equal(cable->count.sent, 0);
    cable->line.close(cable->line.ctx);
    close(modem);
    close(slave);
}

static void a_missing_port_says_what_to_do(void **state)
{
    struct cable *cable = *state;
    assert_false(cable->line.open(cable->line.ctx, "/dev/no-such-modem", 115200, cable->says,
                                  sizeof cable->says));
    assert_non_null(strstr(cable->says, "/dev/no-such-modem is not there"));
    assert_string_equal(cable->count.line, "-");
}

static void a_port_held_by_another_is_busy(void **state)
{
    struct cable *cable = *state;
    int other = open(cable->name, O_RDWR | O_NOCTTY | O_CLOEXEC);
    assert_true(other >= 0);
    assert_int_equal(flock(other, LOCK_EX | LOCK_NB), 0);
    assert_false(open_cable(cable));
    assert_non_null(strstr(cable->says, "is held by"));
    close(other);
    assert_true(open_cable(cable));
}

static void a_port_that_our_own_daemon_holds_is_told_apart(void **state)
{
    struct cable *cable = *state;
    int held[2], done[2];
    char octet = 0;
    assert_int_equal(pipe(held) + pipe(done), 0);
    pid_t child = fork();
    if (child == 0) {
        int other = open(cable->name, O_RDWR | O_NOCTTY | O_CLOEXEC);
        (void)close(done[1]);
        bool well = other >= 0 && flock(other, LOCK_EX | LOCK_NB) == 0 &&
                    prctl(PR_SET_NAME, "meterpost") == 0 && write(held[1], "", 1) == 1;
        _exit(well && read(done[0], &octet, 1) == 0 ? 0 : 1);
    }
    assert_int_equal(read(held[0], &octet, 1), 1);
    assert_false(open_cable(cable));
    assert_non_null(strstr(cable->says, "is held by meterpost itself"));
    assert_non_null(strstr(cable->says, "systemctl stop meterpost"));
    int status = 0;
    (void)close(done[1]);
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    (void)close(done[0]);
    (void)close(held[0]);
    (void)close(held[1]);
}

static void a_terminal_is_told_the_speed_that_is_wanted(void **state)
{
    struct cable *cable = *state;
    struct termios mode;
    assert_true(open_cable(cable));
    assert_int_equal(tcgetattr(cable->modem, &mode), 0);
    assert_int_equal(cfgetospeed(&mode), B115200);
    assert_true(cable->line.set_speed(cable->line.ctx, 9600));
    assert_int_equal(tcgetattr(cable->modem, &mode), 0);
    assert_int_equal(cfgetospeed(&mode), B9600);
    assert_true(cable->line.set_speed(cable->line.ctx, 12345)); /* none that is known: no matter */
    cable->line.close(cable->line.ctx);
}

/* Whoever it is: root sees no locked door, and the owner may close it. */
static void a_port_that_may_not_be_opened_says_who_may(void **state)
{
    struct cable *cable = *state;
    bool root = geteuid() == 0;
    assert_int_equal(chmod(cable->name, root ? 0600 : 0), 0);
    assert_int_equal(chmod(cable->folder, 0755), 0);
    assert_int_equal(root ? seteuid(65534) : 0, 0);
    bool opened = open_cable(cable);
    assert_int_equal(root ? seteuid(0) : 0, 0);
    assert_false(opened);
    assert_non_null(strstr(cable->says, "permission denied. Runs as"));
    assert_non_null(strstr(cable->says, "usermod -aG"));
}

static void what_is_no_port_is_refused(void **state)
{
    struct cable *cable = *state;
    assert_false(
        cable->line.open(cable->line.ctx, "/dev/null", 115200, cable->says, sizeof cable->says));
    assert_non_null(strstr(cable->says, "/dev/null is not a serial port"));
}

static void the_line_is_raw_and_not_inherited(void **state)
{
    struct cable *cable = *state;
    struct termios settings;
    assert_true(open_cable(cable));
    int fd = cable->line.descriptor(cable->line.ctx);
    assert_int_equal(tcgetattr(fd, &settings), 0);
    assert_int_equal(settings.c_lflag & (tcflag_t)(ICANON | ECHO | ISIG), 0);
    assert_int_equal(settings.c_cflag & (tcflag_t)(CRTSCTS | HUPCL), 0);
    assert_int_equal(settings.c_cc[VMIN], 1);
    assert_true((fcntl(fd, F_GETFD) & FD_CLOEXEC) != 0);
    assert_true((fcntl(fd, F_GETFL) & O_NONBLOCK) != 0);
}

static void the_program_that_holds_a_file_is_named(void **state)
{
    char path[] = "/tmp/holder-test-XXXXXX";
    struct port_holder holder = {.pid = 0};
    int pipes[2];
    char octet = 0;
    (void)state;
    int fd = mkstemp(path);
    assert_true(fd >= 0);
    assert_int_equal(pipe(pipes), 0);
    assert_false(port_holder_find(path, &holder)); /* this process itself does not count */
    pid_t child = fork();
    if (child == 0) {
        close(pipes[1]);
        _exit(read(pipes[0], &octet, 1) == 0 ? 0 : 1); /* until the other end is closed */
    }
    assert_true(child > 0);
    assert_true(port_holder_find(path, &holder));
    assert_int_equal(holder.pid, child);
    assert_string_equal(holder.name, "port_test");
    close(pipes[1]);
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    close(pipes[0]);
    close(fd);
    assert_int_equal(unlink(path), 0);
}

#define TEST(name) cmocka_unit_test_setup_teardown(name, plug_in, unplug)

int main(void)
{
    const struct CMUnitTest tests[] = {
        TEST(octets_go_both_ways_and_are_counted),
        TEST(nothing_to_read_is_not_the_end),
        TEST(a_far_end_that_went_is_told),
        TEST(counts_survive_a_close_and_a_reopen),
        TEST(counts_start_anew_with_another_line),
        TEST(a_missing_port_says_what_to_do),
        TEST(a_port_held_by_another_is_busy),
        TEST(a_port_that_our_own_daemon_holds_is_told_apart),
        TEST(a_terminal_is_told_the_speed_that_is_wanted),
        TEST(a_port_that_may_not_be_opened_says_who_may),
        TEST(what_is_no_port_is_refused),
        TEST(the_line_is_raw_and_not_inherited),
        cmocka_unit_test(the_program_that_holds_a_file_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
