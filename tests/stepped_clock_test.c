/* SPDX-License-Identifier: MIT
 * stepped_clock: the test plays the conductor on the other end of the socket. What a process is
 * to be told is put into the socket before it waits, so that nothing here runs at once. */
#include <errno.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#include <cmocka.h>

#include "daemon/ground/stepped_clock.h"

struct fixture {
    int conductor;
    int pipe_out, pipe_in;
    struct stepped_clock stepped;
    struct line_count counts[2];
    struct clock clock;
};

static void say(const struct fixture *f, const char *message)
{
    assert_int_equal(send(f->conductor, message, strlen(message), 0), strlen(message));
}

static void assert_told(const struct fixture *f, const char *expected)
{
    char message[160];
    ssize_t length = recv(f->conductor, message, sizeof message - 1, MSG_DONTWAIT);
    assert_true(length > 0);
    message[length] = '\0';
    assert_string_equal(message, expected);
}

static void assert_told_nothing(const struct fixture *f)
{
    char message[160];
    assert_int_equal(recv(f->conductor, message, sizeof message, MSG_DONTWAIT), -1);
    assert_int_equal(errno, EAGAIN);
}

static int setup(void **state)
{
    static struct fixture f;
    int sockets[2], ends[2];
    assert_int_equal(socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC, 0, sockets), 0);
    assert_int_equal(pipe(ends), 0);
    f = (struct fixture){.conductor = sockets[0], .pipe_out = ends[0], .pipe_in = ends[1]};
    strcpy(f.counts[0].line, "-");
    say(&f, "now 1000 1700000000");
    assert_int_equal(stepped_clock_open(&f.stepped, sockets[1], f.counts, 1), 0);
    f.clock = stepped_clock_table(&f.stepped);
    *state = &f;
    return 0;
}

static int teardown(void **state)
{
    struct fixture *f = *state;
    close(f->conductor);
    close(f->stepped.fd);
    close(f->pipe_out);
    close(f->pipe_in);
    return 0;
}

static void the_first_now_sets_both_clocks(void **state)
{
    struct fixture *f = *state;
    struct instant now = f->clock.now(f->clock.ctx);
    assert_int_equal(now.mono_ms, 1000);
    assert_int_equal(now.wall_s, 1700000000);
}

static void a_wait_tells_its_deadline_and_ends_there(void **state)
{
    struct fixture *f = *state;
    say(f, "now 1400 1700000000");
    say(f, "now 1500 1700000001");
    assert_int_equal(f->clock.wait(f->clock.ctx, NULL, 0, 1500), 0);
    assert_int_equal(f->clock.now(f->clock.ctx).mono_ms, 1500);
    assert_int_equal(f->clock.now(f->clock.ctx).wall_s, 1700000001);
    assert_told(f, "idle 1400 1500 - 0 0 0");
    assert_told_nothing(f);
}

static void a_deadline_gone_by_ends_at_once_and_tells_nothing(void **state)
{
    struct fixture *f = *state;
    assert_int_equal(f->clock.wait(f->clock.ctx, NULL, 0, 1000), 0);
    assert_told_nothing(f);
}

static void a_ready_descriptor_ends_the_wait_without_a_report(void **state)
{
    struct fixture *f = *state;
    struct pollfd fd = {.fd = f->pipe_out, .events = POLLIN};
    assert_int_equal(write(f->pipe_in, "x", 1), 1);
    assert_int_equal(f->clock.wait(f->clock.ctx, &fd, 1, CLOCK_NEVER), 1);
    assert_int_equal(fd.revents, POLLIN);
    assert_told_nothing(f);
}

static void a_step_is_seen_before_the_octets_it_caused(void **state)
{
    struct fixture *f = *state;
    struct pollfd fd = {.fd = f->pipe_out, .events = POLLIN};
    say(f, "now 2000 1700000001");
    assert_int_equal(write(f->pipe_in, "x", 1), 1);
    assert_int_equal(f->clock.wait(f->clock.ctx, &fd, 1, CLOCK_NEVER), 1);
    assert_int_equal(f->clock.now(f->clock.ctx).mono_ms, 2000);
}

static void the_report_carries_the_line_and_its_counts(void **state)
{
    struct fixture *f = *state;
    strcpy(f->counts[0].line, "/dev/pts/7");
    f->counts[0].sent = 12;
    f->counts[0].received = 345;
    f->stepped.commands = 6;
    say(f, "now 1100 1700000000");
    say(f, "now 1200 1700000000");
    assert_int_equal(f->clock.wait(f->clock.ctx, NULL, 0, 1200), 0);
    assert_told(f, "idle 1100 1200 /dev/pts/7 12 345 6");
}

static void each_further_line_stands_behind_the_first(void **state)
{
    struct fixture *f = *state;
    f->counts[1] = (struct line_count){.line = "/dev/pts/8", .sent = 3, .received = 4};
    f->stepped.lines = 2;
    say(f, "now 1100 1700000000");
    say(f, "now 1200 1700000000");
    assert_int_equal(f->clock.wait(f->clock.ctx, NULL, 0, 1200), 0);
    assert_told(f, "idle 1100 1200 - 0 0 0 /dev/pts/8 3 4");
}

static void every_step_is_answered_by_a_report(void **state)
{
    struct fixture *f = *state;
    say(f, "now 1100 1700000000");
    say(f, "now 1200 1700000000");
    say(f, "now 1300 1700000000");
    assert_int_equal(f->clock.wait(f->clock.ctx, NULL, 0, 1300), 0);
    assert_told(f, "idle 1100 1300 - 0 0 0");
    assert_told(f, "idle 1200 1300 - 0 0 0");
    assert_told_nothing(f);
}

static void a_wait_without_a_deadline_tells_so(void **state)
{
    struct fixture *f = *state;
    say(f, "now 1100 1700000000");
    say(f, "end");
    assert_int_equal(f->clock.wait(f->clock.ctx, NULL, 0, CLOCK_NEVER), -1);
    assert_told(f, "idle 1100 -1 - 0 0 0");
}

static void the_end_of_the_conductor_ends_the_wait(void **state)
{
    struct fixture *f = *state;
    close(f->conductor);
    assert_int_equal(f->clock.wait(f->clock.ctx, NULL, 0, CLOCK_NEVER), -1);
    assert_int_equal(errno, EPIPE);
}

static void what_is_no_step_is_refused(void **state)
{
    struct fixture *f = *state;
    say(f, "later");
    assert_int_equal(f->clock.wait(f->clock.ctx, NULL, 0, CLOCK_NEVER), -1);
    assert_int_equal(errno, EPROTO);
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, setup, teardown)
    const struct CMUnitTest tests[] = {
        CASE(the_first_now_sets_both_clocks),
        CASE(a_wait_tells_its_deadline_and_ends_there),
        CASE(a_deadline_gone_by_ends_at_once_and_tells_nothing),
        CASE(a_ready_descriptor_ends_the_wait_without_a_report),
        CASE(a_step_is_seen_before_the_octets_it_caused),
        CASE(the_report_carries_the_line_and_its_counts),
        CASE(each_further_line_stands_behind_the_first),
        CASE(every_step_is_answered_by_a_report),
        CASE(a_wait_without_a_deadline_tells_so),
        CASE(the_end_of_the_conductor_ends_the_wait),
        CASE(what_is_no_step_is_refused),
    };
    alarm(60); /* a wait that never ends is a failure, not a hang */
    return cmocka_run_group_tests(tests, NULL, NULL);
}
