/* SPDX-License-Identifier: MIT
 * notify: see notify.h. */
#include "daemon/ground/notify.h"

#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

void notify_send(const char *message)
{
    const char *path = getenv("NOTIFY_SOCKET");
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    if (path == NULL || (path[0] != '/' && path[0] != '@') ||
        strlen(path) >= sizeof address.sun_path) {
        return;
    }
    size_t length = strlen(path);
    memcpy(address.sun_path, path, length);
    if (path[0] == '@') { /* an abstract name begins with NUL */
        address.sun_path[0] = '\0';
    }
    int fd = socket(AF_UNIX, SOCK_DGRAM | SOCK_CLOEXEC, 0);
    if (fd < 0) {
        return;
    }
    socklen_t size = (socklen_t)(offsetof(struct sockaddr_un, sun_path) + length);
    /* The service manager may be gone: then nobody misses it. */
    (void)sendto(fd, message, strlen(message), MSG_NOSIGNAL | MSG_DONTWAIT,
                 (const struct sockaddr *)&address, size);
    (void)close(fd);
}

int64_t notify_watchdog_ms(void)
{
    const char *interval = getenv("WATCHDOG_USEC");
    const char *whose = getenv("WATCHDOG_PID");
    if (interval == NULL || (whose != NULL && strtol(whose, NULL, 10) != (long)getpid())) {
        return 0;
    }
    return strtoll(interval, NULL, 10) / 1000 / 2;
}
