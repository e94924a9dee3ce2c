/* SPDX-License-Identifier: MIT
 * door: see door.h. What stands on the wire; the daemon's side, where a caller who does not finish in time
 * is shown out, so that four slow ones cannot keep the door shut; and the caller's: one request, one
 * answer, by the real clock. */
#include "daemon/door/door.h"

#include <errno.h>
#include <poll.h>
#include <stdio.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/time.h>
#include <sys/un.h>
#include <unistd.h>

#include "daemon/ground/log.h"

uint32_t door_read_number(const unsigned char octets[4])
{
    return (uint32_t)octets[0] << 24 | (uint32_t)octets[1] << 16 | (uint32_t)octets[2] << 8 |
           (uint32_t)octets[3];
}

void door_write_number(unsigned char octets[4], uint32_t number)
{
    for (size_t i = 0; i < 4; i++) {
        octets[i] = (unsigned char)(number >> (24 - 8 * i) & 0xFF);
    }
}

size_t door_words(const char *octets, size_t length, const char *words[DOOR_WORDS_MAX])
{
    size_t count = 0, start = 0;
    if (length == 0 || octets[length - 1] != '\0') {
        return 0;
    }
    for (size_t i = 0; i < length; i++) {
        if (octets[i] == '\0') {
            if (count == DOOR_WORDS_MAX) {
                return 0;
            }
            words[count] = &octets[start];
            count++;
            start = i + 1;
        }
    }
    return count;
}

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
        door->callers[i].file = DOOR_NO_FILE;
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
    bool there = lstat(path, &facts) == 0;
    if (there && !S_ISSOCK(facts.st_mode)) {
        (void)snprintf(
            says, DOOR_SAYS_OCTETS,
            "door: %.150s is there and is no socket; move it away, or set another `door`", path);
        return false;
    }
    if (there) {
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

static void take_file(struct door_caller *caller, int file)
{
    if (caller->file >= 0) {
        (void)close(caller->file);
    }
    caller->file = file;
}

static void show_out(struct door_caller *caller)
{
    if (caller->fd >= 0) {
        (void)close(caller->fd);
    }
    take_file(caller, DOOR_NO_FILE);
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
    size_t count = door_words((const char *)&caller->request[4], length, words);
    if (count > 0) {
        size_t out_length = 0;
        struct door_question question = {count, words, caller->file};
        int status = door->answer(door->ctx, &question, now, (char *)&door->reply[8], &out_length);
        door_write_number(door->reply, (uint32_t)status);
        door_write_number(&door->reply[4], (uint32_t)out_length);
        /* A whole answer fits the socket's buffer; a caller who has left gets none. */
        ssize_t sent = send(caller->fd, door->reply, 8 + out_length, MSG_NOSIGNAL | MSG_DONTWAIT);
        if (sent != (ssize_t)(8 + out_length)) {
            log_warnx("door: a caller left before the answer was out");
        }
    }
    show_out(caller);
}

/* Room for one descriptor, as unix(7) wants it; the kernel rounds up, so two may come. */
union file_room {
    struct cmsghdr head;
    char octets[CMSG_SPACE(sizeof(int))];
};

/* As recv(2), and keeps the last file that comes along. */
static ssize_t receive(struct door_caller *caller)
{
    union file_room room;
    struct iovec part = {&caller->request[caller->used], sizeof caller->request - caller->used};
    struct msghdr message = {.msg_iov = &part,
                             .msg_iovlen = 1,
                             .msg_control = room.octets,
                             .msg_controllen = sizeof room.octets};
    ssize_t got = recvmsg(caller->fd, &message, MSG_DONTWAIT | MSG_CMSG_CLOEXEC);
    struct cmsghdr *head = got >= 0 ? CMSG_FIRSTHDR(&message) : NULL;
    if (head != NULL && head->cmsg_level == SOL_SOCKET && head->cmsg_type == SCM_RIGHTS) {
        for (size_t at = CMSG_LEN(0); at + sizeof(int) <= head->cmsg_len; at += sizeof(int)) {
            int file;
            memcpy(&file, (const char *)head + at, sizeof file);
            take_file(caller, file);
        }
    }
    return got;
}

static void caller_ready(void *ctx, short revents, struct instant now)
{
    struct door_caller *caller = ctx;
    (void)revents;
    ssize_t got = receive(caller);
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
    size_t length = door_read_number(caller->request);
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

/* With all places taken that of who has been slow for the longest: who asks at once is answered before. */
static struct door_caller *place_for_one(struct door *door)
{
    struct door_caller *oldest = &door->callers[0];
    for (size_t i = 0; i < DOOR_CALLERS_MAX; i++) {
        if (door->callers[i].fd < 0) {
            return &door->callers[i];
        }
        oldest = door->callers[i].until_ms < oldest->until_ms ? &door->callers[i] : oldest;
    }
    show_out(oldest);
    return oldest;
}

static int door_descriptor(void *ctx, short *events)
{
    struct door *door = ctx;
    *events = POLLIN;
    return door->fd;
}

static void door_ready(void *ctx, short revents, struct instant now)
{
    struct door *door = ctx;
    struct door_caller *caller = place_for_one(door);
    (void)revents;
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

static enum door_result call_at(const char *path, int timeout_ms, int *fd)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    struct timeval wait = {.tv_sec = timeout_ms / 1000, .tv_usec = timeout_ms % 1000 * 1000};
    if (strlen(path) >= sizeof address.sun_path) {
        return DOOR_NOBODY; /* nobody can listen there */
    }
    memcpy(address.sun_path, path, strlen(path));
    *fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
    if (*fd < 0) {
        return DOOR_FAILED;
    }
    if (setsockopt(*fd, SOL_SOCKET, SO_RCVTIMEO, &wait, sizeof wait) != 0 ||
        setsockopt(*fd, SOL_SOCKET, SO_SNDTIMEO, &wait, sizeof wait) != 0) {
        return DOOR_FAILED;
    }
    if (connect(*fd, (const struct sockaddr *)&address, sizeof address) == 0) {
        return DOOR_ANSWERED;
    }
    switch (errno) {
    case ENOENT:
    case ECONNREFUSED:
    case ENOTDIR:
        return DOOR_NOBODY;
    case EACCES:
    case EPERM:
        return DOOR_FORBIDDEN;
    default:
        return DOOR_FAILED;
    }
}

static bool receive_all(int fd, void *into, size_t length)
{
    size_t used = 0;
    while (used < length) {
        ssize_t got = recv(fd, (char *)into + used, length - used, 0);
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got <= 0) {
            return false;
        }
        used += (size_t)got;
    }
    return true;
}

static bool send_request(int fd, const struct door_question *question)
{
    unsigned char request[DOOR_REQUEST_OCTETS];
    union file_room room = {0};
    size_t used = 4;
    for (size_t i = 0; i < question->word_count; i++) {
        size_t octets = strlen(question->words[i]) + 1;
        if (octets > sizeof request - used) {
            return false;
        }
        memcpy(&request[used], question->words[i], octets);
        used += octets;
    }
    door_write_number(request, (uint32_t)(used - 4));
    struct iovec whole = {request, used};
    struct msghdr message = {.msg_iov = &whole, .msg_iovlen = 1};
    if (question->file >= 0) {
        room.head = (struct cmsghdr){
            .cmsg_len = CMSG_LEN(sizeof(int)), .cmsg_level = SOL_SOCKET, .cmsg_type = SCM_RIGHTS};
        memcpy(CMSG_DATA(&room.head), &question->file, sizeof(int));
        message.msg_control = room.octets;
        message.msg_controllen = sizeof room.octets;
    }
    return sendmsg(fd, &message, MSG_NOSIGNAL) == (ssize_t)used;
}

static bool exchange(int fd, const struct door_question *question, int *status, char *out,
                     size_t *length)
{
    unsigned char head[8];
    if (!send_request(fd, question) || !receive_all(fd, head, sizeof head)) {
        return false;
    }
    *status = (int)door_read_number(head);
    *length = door_read_number(&head[4]);
    return *length <= DOOR_ANSWER_OCTETS && receive_all(fd, out, *length);
}

enum door_result door_ask(const char *path, const struct door_question *question, int timeout_ms,
                          int *status, char *out, size_t *length)
{
    int fd = -1;
    enum door_result result = call_at(path, timeout_ms, &fd);
    if (result == DOOR_ANSWERED && !exchange(fd, question, status, out, length)) {
        result = DOOR_FAILED;
    }
    if (fd >= 0) {
        (void)close(fd);
    }
    return result;
}
