/* SPDX-License-Identifier: MIT
 * port: see the header. libserialport 0.1.1 (Debian 12) knows no symlinks, opens without
 * close-on-exec and without keeping others out, leaves RTS/CTS as an earlier program set it, lets
 * a close drop DTR, and reads so that "nothing" and "gone" look alike; 0.1.2 mends some of it. All
 * is mended here on the handle, for both. So the library lists the ports of the box and sets a real
 * one's speed, on whatever system; raw termios does what the library cannot: pseudo-terminals, and
 * reads and writes that tell end of file and can be waited for in a poll loop. */
#include "daemon/modem/port.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <grp.h>
#include <libserialport.h>
#include <limits.h>
#include <pwd.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <termios.h>
#include <unistd.h>

/* ---- who holds it */

static bool has_open(long pid, const char *real_path)
{
    char path[PATH_MAX], target[PATH_MAX];
    snprintf(path, sizeof path, "/proc/%ld/fd", pid);
    DIR *folder = opendir(path);
    if (folder == NULL) {
        return false;
    }
    bool found = false;
    for (struct dirent *entry = readdir(folder); entry != NULL && !found; entry = readdir(folder)) {
        ssize_t length = readlinkat(dirfd(folder), entry->d_name, target, sizeof target - 1);
        if (length > 0) {
            target[length] = '\0';
            found = strcmp(target, real_path) == 0;
        }
    }
    closedir(folder);
    return found;
}

static void read_name(long pid, char *name, size_t size)
{
    char path[64];
    snprintf(path, sizeof path, "/proc/%ld/comm", pid);
    FILE *file = fopen(path, "re");
    if (file == NULL || fgets(name, (int)size, file) == NULL) {
        snprintf(name, size, "?");
    }
    if (file != NULL) {
        fclose(file);
    }
    name[strcspn(name, "\n")] = '\0';
}

bool port_holder_find(const char *real_path, struct port_holder *holder)
{
    DIR *processes = opendir("/proc");
    if (processes == NULL) {
        return false;
    }
    bool found = false;
    for (struct dirent *entry = readdir(processes); entry != NULL && !found;
         entry = readdir(processes)) {
        char *end = NULL;
        long pid = strtol(entry->d_name, &end, 10);
        if (pid <= 0 || *end != '\0' || pid == (long)getpid() || !has_open(pid, real_path)) {
            continue;
        }
        holder->pid = (pid_t)pid;
        read_name(pid, holder->name, sizeof holder->name);
        found = true;
    }
    closedir(processes);
    return found;
}

/* ---- the line */

#define PSEUDO_TERMINALS "/dev/pts/"

static void say_denied(const char *name, const char *real, char *says, size_t size)
{
    struct stat status;
    struct passwd *user = getpwuid(geteuid());
    const char *user_name = user != NULL ? user->pw_name : "?";
    struct group *group = stat(real, &status) == 0 ? getgrgid(status.st_gid) : NULL;
    const char *group_name = group != NULL ? group->gr_name : "?";
    snprintf(says, size,
             "cannot open the modem port %s: permission denied. Runs as \"%s\"; the port belongs "
             "to group \"%s\": usermod -aG %s %s, then restart",
             name, user_name, group_name, group_name, user_name);
}

static void say_busy(const char *name, const char *real, char *says, size_t size)
{
    struct port_holder holder;
    bool found = port_holder_find(real, &holder);
    if (found && strcmp(holder.name, "meterpost") == 0) {
        snprintf(says, size,
                 "the modem port %s is held by meterpost itself (process %ld): stop it (systemctl "
                 "stop meterpost) and start it again behind this",
                 name, (long)holder.pid);
    } else if (found) {
        snprintf(says, size,
                 "the modem port %s is held by %s (process %ld): stop it, or keep it off the port "
                 "by the shipped udev rule",
                 name, holder.name, (long)holder.pid);
    } else {
        snprintf(says, size,
                 "the modem port %s is held by another program: fuser -v %s names it; stop it, or "
                 "keep it off the port by the shipped udev rule",
                 name, real);
    }
}

#define ERROR_NOT_SERIAL (-1)

/* What is wrong and what to do, by errno. */
static void say_error(int error, const char *name, const char *real, char *says, size_t size)
{
    if (name[0] == '\0') {
        snprintf(says, size,
                 "no port of the modem in the config: \"meterpost modem\" finds it; until then "
                 "texts come "
                 "in at the counter alone (meterpost text)");
    } else if (error == EACCES || error == EPERM) {
        say_denied(name, real, says, size);
    } else if (error == EBUSY || error == EWOULDBLOCK) {
        say_busy(name, real, says, size);
    } else if (error == ENOENT || error == ENXIO || error == ENODEV) {
        snprintf(says, size,
                 "the modem port %s is not there: is the modem plugged in and on? "
                 "\"meterpost modem\" lists the ports there are",
                 name);
    } else if (error == ERROR_NOT_SERIAL) {
        snprintf(says, size, "%s is not a serial port: set the modem's port in the config", name);
    } else {
        snprintf(says, size, "cannot open the modem port %s: %s", name, strerror(error));
    }
}

/* Raw; VMIN 1, so that a read of 0 means gone; no RTS/CTS, which a cable without CTS would block
 * on; no HUPCL, so that a close does not drop DTR and hang the modem up. speed 0: as it is. */
static bool mend_settings(int fd, int32_t speed)
{
    struct termios settings;
    if (tcgetattr(fd, &settings) != 0) {
        return false;
    }
    cfmakeraw(&settings);
    settings.c_cflag &= ~(tcflag_t)(CRTSCTS | HUPCL);
    settings.c_cflag |= CLOCAL | CREAD;
    settings.c_cc[VMIN] = 1;
    settings.c_cc[VTIME] = 0;
    if (speed != 0 && cfsetspeed(&settings, (speed_t)speed) != 0) {
        return false;
    }
    return tcsetattr(fd, TCSANOW, &settings) == 0;
}

/* Others are kept out by a lock that those who look for it see. */
static bool claim(int fd)
{
    return fcntl(fd, F_SETFD, FD_CLOEXEC) == 0 && flock(fd, LOCK_EX | LOCK_NB) == 0;
}

static bool set_serial_speed(struct port *port, int32_t speed)
{
    struct sp_port_config *config = NULL;
    if (sp_new_config(&config) != SP_OK) {
        return false;
    }
    sp_set_config_baudrate(config, speed);
    sp_set_config_bits(config, 8);
    sp_set_config_parity(config, SP_PARITY_NONE);
    sp_set_config_stopbits(config, 1);
    sp_set_config_flowcontrol(config, SP_FLOWCONTROL_NONE);
    bool set = sp_set_config(port->serial, config) == SP_OK;
    sp_free_config(config);
    return set && mend_settings(port->fd, 0);
}

static void release(struct port *port)
{
    if (port->serial != NULL) {
        /* What was not sent would hold the close up for half a minute on some drivers. */
        sp_flush(port->serial, SP_BUF_OUTPUT);
        ioctl(port->fd, TIOCNXCL);
        sp_close(port->serial);
        sp_free_port(port->serial);
    } else {
        close(port->fd);
    }
    port->serial = NULL;
    port->fd = -1;
}

/* 0, or why not: errno or ERROR_NOT_SERIAL. */
static int open_serial(struct port *port, const char *real, int32_t speed)
{
    if (sp_get_port_by_name(real, &port->serial) != SP_OK) {
        port->serial = NULL;
        return ERROR_NOT_SERIAL;
    }
    enum sp_return opened = sp_open(port->serial, SP_MODE_READ_WRITE);
    if (opened != SP_OK || sp_get_port_handle(port->serial, &port->fd) != SP_OK) {
        int error = opened == SP_ERR_FAIL ? sp_last_error_code() : EINVAL;
        sp_free_port(port->serial);
        port->serial = NULL;
        port->fd = -1;
        return error;
    }
    if (claim(port->fd) && set_serial_speed(port, speed)) {
        ioctl(port->fd, TIOCEXCL);
        return 0;
    }
    int error = errno;
    release(port);
    return error;
}

/* It has none, but says at the other end which one was wanted. An odd one says nothing. */
static bool set_terminal_speed(struct port *port, int32_t speed)
{
    return mend_settings(port->fd, speed) || mend_settings(port->fd, 0);
}

/* Likewise. */
static int open_pseudo_terminal(struct port *port, const char *real, int32_t speed)
{
    port->fd = open(real, O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    if (port->fd < 0) {
        return errno;
    }
    if (claim(port->fd) && set_terminal_speed(port, speed)) {
        return 0;
    }
    int error = errno;
    release(port);
    return error;
}

static bool open_port(void *ctx, const char *name, int32_t speed, char *says, size_t size)
{
    struct port *port = ctx;
    char real[PATH_MAX];
    int error = 0;
    says[0] = '\0';
    if (realpath(name, real) == NULL) {
        error = errno;
    } else if (strncmp(real, PSEUDO_TERMINALS, strlen(PSEUDO_TERMINALS)) == 0) {
        error = open_pseudo_terminal(port, real, speed);
    } else {
        error = open_serial(port, real, speed);
    }
    if (error != 0) {
        say_error(error, name, real, says, size);
        return false;
    }
    /* The counts begin anew with another line. */
    if (strncmp(port->opened, real, sizeof port->opened - 1) != 0) {
        snprintf(port->opened, sizeof port->opened, "%.*s", (int)sizeof port->opened - 1, real);
        port->count->sent = port->count->received = 0;
    }
    memcpy(port->count->line, port->opened, sizeof port->opened);
    return true;
}

static bool set_port_speed(void *ctx, int32_t speed)
{
    struct port *port = ctx;
    return port->serial == NULL ? set_terminal_speed(port, speed) : set_serial_speed(port, speed);
}

static ssize_t read_port(void *ctx, uint8_t *out, size_t size)
{
    struct port *port = ctx;
    ssize_t got = read(port->fd, out, size);
    if (got < 0 && (errno == EAGAIN || errno == EINTR)) {
        return 0;
    }
    port->count->received += got > 0 ? (uint64_t)got : 0;
    return got > 0 ? got : -1;
}

static ssize_t write_port(void *ctx, const uint8_t *octets, size_t count)
{
    struct port *port = ctx;
    ssize_t taken = write(port->fd, octets, count);
    if (taken < 0 && (errno == EAGAIN || errno == EINTR)) {
        return 0;
    }
    port->count->sent += taken > 0 ? (uint64_t)taken : 0;
    return taken;
}

static void close_port(void *ctx)
{
    struct port *port = ctx;
    uint8_t rest[512];
    if (port->fd < 0) {
        return;
    }
    /* What still lies unread would vanish uncounted, and whoever waits for it to arrive would wait
     * for ever. */
    for (int i = 0; i < 64 && read_port(port, rest, sizeof rest) > 0; i++) {
    }
    release(port);
    snprintf(port->count->line, sizeof port->count->line, "-");
}

static int port_descriptor(void *ctx)
{
    const struct port *port = ctx;
    return port->fd;
}

void port_init(struct port *port, struct line_count *count)
{
    *port = (struct port){.fd = -1};
    port->count = count != NULL ? count : &port->own_count;
    snprintf(port->count->line, sizeof port->count->line, "-");
    sp_set_debug_handler(NULL);
}

struct port_line port_line(struct port *port)
{
    return (struct port_line){.open = open_port,
                              .set_speed = set_port_speed,
                              .close = close_port,
                              .read = read_port,
                              .write = write_port,
                              .descriptor = port_descriptor,
                              .ctx = port};
}

/* ---- which there are */

/* The link to the port in that folder, which stays when the cable is pulled and put back. */
static void find_link(const char *in, const struct port_found *found, char out[PORT_LIST_OCTETS])
{
    DIR *folder = opendir(in);
    if (folder == NULL) {
        return;
    }
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        char link[PATH_MAX], real[PATH_MAX];
        int length = snprintf(link, sizeof link, "%s/%s", in, entry->d_name);
        if (length > 0 && length < PORT_LIST_OCTETS && realpath(link, real) != NULL &&
            strcmp(real, found->name) == 0) {
            memcpy(out, link, (size_t)length + 1);
        }
    }
    (void)closedir(folder);
}

/* Which interface of a USB device it is, "02": of the port, or of what drives it. */
static void find_interface(struct port_found *found)
{
    static const char *const places[] = {"", "/.."};
    const char *slash = strrchr(found->name, '/');
    for (size_t i = 0; i < 2 && slash != NULL && found->interface[0] == '\0'; i++) {
        char path[PATH_MAX];
        (void)snprintf(path, sizeof path, "/sys/class/tty/%s/device%s/bInterfaceNumber", slash + 1,
                       places[i]);
        FILE *file = fopen(path, "re");
        if (file != NULL) {
            if (fscanf(file, "%7s", found->interface) != 1) {
                found->interface[0] = '\0';
            }
            (void)fclose(file);
        }
    }
}

static void describe_usb(const struct sp_port *port, struct port_found *found)
{
    int vendor = -1, product = -1;
    const char *serial = sp_get_port_usb_serial(port);
    if (sp_get_port_usb_vid_pid(port, &vendor, &product) == SP_OK) {
        found->vendor = vendor;
        found->product = product;
        (void)snprintf(found->serial, sizeof found->serial, "%s", serial != NULL ? serial : "");
        find_interface(found);
    }
}

static void describe(const struct sp_port *port, struct port_found *found)
{
    const char *maker = sp_get_port_usb_manufacturer(port);
    const char *product = sp_get_port_usb_product(port);
    const char *otherwise = sp_get_port_description(port);
    *found = (struct port_found){.vendor = -1, .product = -1};
    (void)snprintf(found->name, sizeof found->name, "%s", sp_get_port_name(port));
    if (maker != NULL || product != NULL) {
        (void)snprintf(found->is, sizeof found->is, "%s%s%s", maker != NULL ? maker : "",
                       maker != NULL && product != NULL ? " " : "", product != NULL ? product : "");
    } else if (otherwise != NULL) {
        (void)snprintf(found->is, sizeof found->is, "%s", otherwise);
    }
    describe_usb(port, found);
    find_link("/dev/serial/by-id", found, found->stable);
    find_link("/dev/serial/by-path", found, found->place);
}

size_t port_list(struct port_found found[PORT_LIST_MAX])
{
    struct sp_port **ports = NULL;
    size_t count = 0;
    if (sp_list_ports(&ports) != SP_OK) {
        return 0;
    }
    for (size_t i = 0; ports[i] != NULL && count < PORT_LIST_MAX; i++) {
        if (sp_get_port_name(ports[i]) != NULL) {
            describe(ports[i], &found[count]);
            count++;
        }
    }
    sp_free_port_list(ports);
    return count;
}
