/* SPDX-License-Identifier: MIT
 * door: the daemon's side. A caller who does not finish in time is shown out, so that four slow
 * ones cannot keep the door shut. */
#include "daemon/door/door.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#include "daemon/door/frame.h"
#include "daemon/ground/log.h"

#define CALLER_TIMEOUT_MS 5000

static bool somebody_listens(const struct sockaddr_un *address)
{
    int fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
    bool answered = fd >= 0 && connect(fd, (const struct sockaddr *)address, sizeof *address) == 0;
    if (fd >= 0) {
        (void)close(fd);
    }
    return answered;
}

static int listen_at(const struct sockaddr_un *address)
{
    int fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    if (fd < 0) {
        return -1;
    }
    mode_t before = umask(0117); /* born 0660: there is no moment at which others may enter */
    int bound = bind(fd, (const struct sockaddr *)address, sizeof *address);
    (void)umask(before);
    if (bound != 0 || listen(fd, DOOR_CALLERS_MAX) != 0) {
        int saved_errno = errno;
        (void)close(fd);
        errno = saved_errno;
        return -1;
    }
    return fd;
}

bool door_open(struct door *door, const char *path, door_answer *answer, void *ctx,
               char says[DOOR_SAYS_OCTETS])
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    door->fd = -1;
    door->path[0] = '\0';
    door->answer = answer;
    door->ctx = ctx;
    for (size_t i = 0; i < DOOR_CALLERS_MAX; i++) {
        door->callers[i].door = door;
        door->callers[i].fd = -1;
    }
    if (strlen(path) >= sizeof address.sun_path) {
        (void)snprintf(says, DOOR_SAYS_OCTETS,
                       "door: the path is too long for a socket (%zu octets at most): %.100s",
                       sizeof address.sun_path - 1, path);
        return false;
    }
    memcpy(address.sun_path, path, strlen(path));
    if (somebody_listens(&address)) {
        (void)snprintf(says, DOOR_SAYS_OCTETS,
                       "door: another daemon answers at %s; end it, or set another `door`", path);
        return false;
    }
    struct stat facts;
    if (lstat(path, &facts) == 0 && S_ISSOCK(facts.st_mode)) {
        (void)unlink(path);
    }
    door->fd = listen_at(&address);
    if (door->fd < 0) {
        (void)snprintf(says, DOOR_SAYS_OCTETS,
                       "door: cannot listen at %s: %s; the folder must exist and be writable for "
                       "the daemon's user",
                       path, strerror(errno));
        return false;
    }
    memcpy(door->path, address.sun_path, sizeof door->path);
    return true;
}

static void show_out(struct door_caller *caller)
{
    if (caller->fd >= 0) {
        (void)close(caller->fd);
    }
    caller->fd = -1;
}

void door_close(struct door *door)
{
    if (door->fd < 0) {
        return;
    }
    for (size_t i = 0; i < DOOR_CALLERS_MAX; i++) {
        show_out(&door->callers[i]);
    }
    (void)close(door->fd);
    (void)unlink(door->path);
    door->fd = -1;
}

static void answer_request(struct door_caller *caller, size_t length, struct instant now)
{
    struct door *door = caller->door;
    const char *words[DOOR_WORDS_MAX];
    size_t count = frame_words((const char *)&caller->request[4], length, words);
    if (count > 0) {
        size_t out_length = 0;
        int status =
            door->answer(door->ctx, count, words, now, (char *)&door->reply[8], &out_length);
        frame_write_number(door->reply, (uint32_t)status);
        frame_write_number(&door->reply[4], (uint32_t)out_length);
        /* A whole answer fits the socket's buffer; a caller who has left gets none. */
        ssize_t sent = send(caller->fd, door->reply, 8 + out_length, MSG_NOSIGNAL | MSG_DONTWAIT);
        if (sent != (ssize_t)(8 + out_length)) {
            log_warnx("door: a caller left before the answer was out");
        }
    }
    show_out(caller);
}

static void caller_ready(void *ctx, short revents, struct instant now)
{
    struct door_caller *caller = ctx;
    (void)revents;
    ssize_t got = recv(caller->fd, &caller->request[caller->used],
                       sizeof caller->request - caller->used, MSG_DONTWAIT);
    if (got < 0 && (errno == EAGAIN || errno == EINTR)) {
        return;
    }
    if (got <= 0) {
        show_out(caller);
        return;
    }
    caller->used += (size_t)got;
    if (caller->used < 4) {
        return;
    }
    size_t length = frame_read_number(caller->request);
    if (length > sizeof caller->request - 4) {
        show_out(caller);
    } else if (caller->used >= 4 + length) {
        answer_request(caller, length, now);
    }
}

static int caller_descriptor(void *ctx, short *events)
{
    struct door_caller *caller = ctx;
    *events = POLLIN;
    return caller->fd;
}

static int64_t caller_deadline_ms(void *ctx)
{
    struct door_caller *caller = ctx;
    return caller->fd >= 0 ? caller->until_ms : CLOCK_NEVER;
}

static void caller_due(void *ctx, struct instant now)
{
    (void)now;
    show_out(ctx);
}

static struct door_caller *free_place(struct door *door)
{
    for (size_t i = 0; i < DOOR_CALLERS_MAX; i++) {
        if (door->callers[i].fd < 0) {
            return &door->callers[i];
        }
    }
    return NULL;
}

/* With all places taken nobody is watched for at the door: callers wait in its queue. */
static int door_descriptor(void *ctx, short *events)
{
    struct door *door = ctx;
    *events = POLLIN;
    return free_place(door) != NULL ? door->fd : -1;
}

static void door_ready(void *ctx, short revents, struct instant now)
{
    struct door *door = ctx;
    struct door_caller *caller = free_place(door);
    (void)revents;
    if (caller == NULL) {
        return;
    }
    caller->fd = accept4(door->fd, NULL, NULL, SOCK_CLOEXEC | SOCK_NONBLOCK);
    caller->used = 0;
    caller->until_ms = now.mono_ms + CALLER_TIMEOUT_MS;
}

bool door_join(struct door *door, struct loop *loop)
{
    bool joined = loop_add(
        loop,
        (struct loop_source){.descriptor = door_descriptor, .ready = door_ready, .ctx = door});
    for (size_t i = 0; i < DOOR_CALLERS_MAX; i++) {
        joined = joined && loop_add(loop, (struct loop_source){.descriptor = caller_descriptor,
                                                               .deadline_ms = caller_deadline_ms,
                                                               .ready = caller_ready,
                                                               .due = caller_due,
                                                               .ctx = &door->callers[i]});
    }
    return joined;
}
