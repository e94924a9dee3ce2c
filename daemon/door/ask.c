/* SPDX-License-Identifier: MIT
 * ask: the caller's side of the door: one request, one answer, by the real clock. */
#include <errno.h>
#include <poll.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <sys/un.h>
#include <unistd.h>

#include "daemon/door/door.h"
#include "daemon/door/frame.h"

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

static bool send_request(int fd, size_t word_count, const char *const *words)
{
    unsigned char request[DOOR_REQUEST_OCTETS];
    size_t used = 4;
    for (size_t i = 0; i < word_count; i++) {
        size_t octets = strlen(words[i]) + 1;
        if (octets > sizeof request - used) {
            return false;
        }
        memcpy(&request[used], words[i], octets);
        used += octets;
    }
    frame_write_number(request, (uint32_t)(used - 4));
    return send(fd, request, used, MSG_NOSIGNAL) == (ssize_t)used;
}

static bool exchange(int fd, size_t word_count, const char *const *words, int *status, char *out,
                     size_t *length)
{
    unsigned char head[8];
    if (!send_request(fd, word_count, words) || !receive_all(fd, head, sizeof head)) {
        return false;
    }
    *status = (int)frame_read_number(head);
    *length = frame_read_number(&head[4]);
    return *length <= DOOR_ANSWER_OCTETS && receive_all(fd, out, *length);
}

enum door_result door_ask(const char *path, size_t word_count, const char *const *words,
                          int timeout_ms, int *status, char *out, size_t *length)
{
    int fd = -1;
    enum door_result result = call_at(path, timeout_ms, &fd);
    if (result == DOOR_ANSWERED && !exchange(fd, word_count, words, status, out, length)) {
        result = DOOR_FAILED;
    }
    if (fd >= 0) {
        (void)close(fd);
    }
    return result;
}
