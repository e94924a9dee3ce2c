/* SPDX-License-Identifier: MIT
 * loop: wait, hand on what is ready, run what is due. The clock is a table of what each wait brings. */
#include <errno.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

#include "daemon/ground/loop.h"

struct scripted_clock {
    int64_t mono_ms;
    int waits;
    int interrupted;         /* this wait is broken by a signal, -1 none */
    int ready;               /* so many waits find the first descriptor ready, whatever is due */
    int64_t deadline_ms[32]; /* what each wait was asked for */
    size_t watched[32];
};

static struct instant scripted_now(void *ctx)
{
    struct scripted_clock *clock = ctx;
    return (struct instant){.mono_ms = clock->mono_ms, .wall_s = clock->mono_ms / 1000};
}

/* Time jumps to the deadline; with none, the first descriptor is ready at once. */
static int scripted_wait(void *ctx, struct pollfd *fds, size_t count, int64_t deadline_ms)
{
    struct scripted_clock *clock = ctx;
    assert_true(clock->waits < 32);
    clock->deadline_ms[clock->waits] = deadline_ms;
    clock->watched[clock->waits] = count;
    clock->waits++;
    if (clock->interrupted == clock->waits) {
        errno = EINTR;
        return -1;
    }
    if (deadline_ms != CLOCK_NEVER && clock->ready-- <= 0) {
        clock->mono_ms = deadline_ms;
        return 0;
    }
    fds[0].revents = POLLIN;
    return 1;
}

struct worker {
    struct loop *loop;
    int64_t next_ms;
    int fd;
    int ran, served;
    int served_first; /* until it was due */
    int stop_after;
    bool goes_on;
};

static int64_t worker_deadline_ms(void *ctx)
{
    return ((struct worker *)ctx)->next_ms;
}

static int worker_descriptor(void *ctx, short *events)
{
    *events = POLLIN;
    return ((struct worker *)ctx)->fd;
}

static void worker_due(void *ctx, struct instant now)
{
    struct worker *worker = ctx;
    worker->ran++;
    worker->served_first = worker->ran == 1 ? worker->served : worker->served_first;
    worker->next_ms = now.mono_ms + 100;
    worker->loop->stop = worker->ran == worker->stop_after;
}

static void worker_ready(void *ctx, short revents, struct instant now)
{
    struct worker *worker = ctx;
    (void)now;
    assert_int_equal(revents, POLLIN);
    worker->served++;
    worker->loop->stop = !worker->goes_on;
}

static struct loop loop_of(struct scripted_clock *clock)
{
    struct loop loop;
    loop_init(&loop, (struct clock){.now = scripted_now, .wait = scripted_wait, .ctx = clock});
    return loop;
}

static void the_nearest_deadline_is_waited_for(void **state)
{
    struct scripted_clock clock = {0};
    struct loop loop = loop_of(&clock);
    struct worker near = {.loop = &loop, .next_ms = 40, .stop_after = 3, .fd = -1};
    struct worker far = {.loop = &loop, .next_ms = 10000, .fd = -1};
    (void)state;
    assert_true(loop_add(
        &loop,
        (struct loop_source){.deadline_ms = worker_deadline_ms, .due = worker_due, .ctx = &far}));
    assert_true(loop_add(
        &loop,
        (struct loop_source){.deadline_ms = worker_deadline_ms, .due = worker_due, .ctx = &near}));
    assert_int_equal(loop_run(&loop), 0);
    assert_int_equal(near.ran, 3);
    assert_int_equal(far.ran, 0);
    assert_int_equal(clock.waits, 3);
    assert_int_equal(clock.deadline_ms[0], 40);
    assert_int_equal(clock.deadline_ms[2], 240);
}

static void a_ready_descriptor_is_handed_to_its_owner(void **state)
{
    struct scripted_clock clock = {0};
    struct loop loop = loop_of(&clock);
    struct worker closed = {.loop = &loop, .next_ms = CLOCK_NEVER, .fd = -1};
    struct worker open = {.loop = &loop, .next_ms = CLOCK_NEVER, .fd = 7};
    struct loop_source source = {.descriptor = worker_descriptor, .ready = worker_ready};
    (void)state;
    source.ctx = &closed;
    assert_true(loop_add(&loop, source));
    source.ctx = &open;
    assert_true(loop_add(&loop, source));
    assert_int_equal(loop_run(&loop), 0);
    assert_int_equal(closed.served, 0);
    assert_int_equal(open.served, 1);
    assert_int_equal(clock.watched[0], 1);
    assert_true(clock.deadline_ms[0] == CLOCK_NEVER);
}

/* It was due before the first wait: what is ready is served first, but not for ever. */
static void what_is_ready_comes_before_what_is_due(void **state)
{
    static const int cases[][2] = {{3, 3},
                                   {20, 8}}; /* ready for so many waits; served until then */
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct scripted_clock clock = {.ready = cases[i][0]};
        struct loop loop = loop_of(&clock);
        struct worker worker = {.loop = &loop, .stop_after = 1, .fd = 7, .goes_on = true};
        assert_true(loop_add(&loop, (struct loop_source){.descriptor = worker_descriptor,
                                                         .deadline_ms = worker_deadline_ms,
                                                         .ready = worker_ready,
                                                         .due = worker_due,
                                                         .ctx = &worker}));
        assert_int_equal(loop_run(&loop), 0);
        assert_int_equal(worker.served_first, cases[i][1]);
    }
}

static void a_signal_does_not_end_the_loop(void **state)
{
    struct scripted_clock clock = {.interrupted = 1};
    struct loop loop = loop_of(&clock);
    struct worker worker = {.loop = &loop, .next_ms = 5, .stop_after = 1, .fd = -1};
    (void)state;
    assert_true(loop_add(&loop, (struct loop_source){.deadline_ms = worker_deadline_ms,
                                                     .due = worker_due,
                                                     .ctx = &worker}));
    assert_int_equal(loop_run(&loop), 0);
    assert_int_equal(clock.waits, 2);
    assert_int_equal(worker.ran, 1);
}

static void a_full_loop_says_so(void **state)
{
    struct scripted_clock clock = {0};
    struct loop loop = loop_of(&clock);
    (void)state;
    for (int i = 0; i < LOOP_SOURCES_MAX; i++) {
        assert_true(loop_add(&loop, (struct loop_source){0}));
    }
    assert_false(loop_add(&loop, (struct loop_source){0}));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_nearest_deadline_is_waited_for),
        cmocka_unit_test(a_ready_descriptor_is_handed_to_its_owner),
        cmocka_unit_test(what_is_ready_comes_before_what_is_due),
        cmocka_unit_test(a_signal_does_not_end_the_loop),
        cmocka_unit_test(a_full_loop_says_so),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
