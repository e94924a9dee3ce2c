/* SPDX-License-Identifier: MIT
 * pin: see the header. The mark holds one line for each PIN tried: "tried HASH" from before it is
 * sent, "right HASH" once the SIM was seen open. The hash only tells PINs apart; it hides nothing
 * from whoever may read the PIN's own file. */
#include "daemon/modem/pin.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <libgen.h>
#include <limits.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "daemon/ground/log.h"

#define DIGITS_MIN 4
/* Of three tries the last is left to a person. */
#define TRIED_MAX 2
#define MARKS_MAX 8

struct mark {
    bool right;
    uint64_t hash;
};

struct marks {
    struct mark list[MARKS_MAX];
    size_t count;
};

/* FNV-1a, 64 bits. */
static uint64_t hash_of(const char *pin)
{
    uint64_t hash = UINT64_C(14695981039346656037);
    for (size_t i = 0; pin[i] != '\0'; i++) {
        hash = (hash ^ (uint8_t)pin[i]) * UINT64_C(1099511628211);
    }
    return hash;
}

static bool is_pin(const char *text)
{
    size_t length = strlen(text);
    return length >= DIGITS_MIN && length < PIN_OCTETS && strspn(text, "0123456789") == length;
}

static bool read_pin(const char *file, char pin[PIN_OCTETS], char *says, size_t size)
{
    struct stat status;
    char line[64] = "";
    int fd = open(file, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (fd < 0) {
        snprintf(says, size, "the SIM asks for its PIN; cannot read modem.pin_file %s: %s", file,
                 strerror(errno));
        return false;
    }
    bool private = fstat(fd, &status) == 0 && S_ISREG(status.st_mode) &&
                   (status.st_mode & (S_IRWXO | S_IWGRP)) == 0;
    ssize_t got = private ? read(fd, line, sizeof line - 1) : 0;
    close(fd);
    if (!private) {
        snprintf(says, size,
                 "the SIM's PIN stays unused: others may read or write %s: chmod 600 %s", file,
                 file);
        return false;
    }
    line[got > 0 ? got : 0] = '\0';
    line[strcspn(line, "\r\n \t")] = '\0';
    if (!is_pin(line)) {
        snprintf(says, size, "%s holds no PIN: 4 to 8 digits on one line are expected", file);
        return false;
    }
    memcpy(pin, line, strlen(line) + 1);
    return true;
}

/* False where it is there but cannot be read: then no PIN is safe to try. */
static bool read_marks(const char *path, struct marks *marks)
{
    marks->count = 0;
    FILE *file = fopen(path, "re");
    if (file == NULL) {
        return errno == ENOENT;
    }
    char word[8];
    uint64_t hash = 0;
    while (marks->count < MARKS_MAX && fscanf(file, "%7s %" SCNx64, word, &hash) == 2) {
        marks->list[marks->count] = (struct mark){strcmp(word, "right") == 0, hash};
        marks->count++;
    }
    bool whole = feof(file) != 0 && ferror(file) == 0;
    fclose(file);
    return whole;
}

static bool sync_folder(const char *path)
{
    char copy[PATH_MAX];
    snprintf(copy, sizeof copy, "%s", path);
    int fd = open(dirname(copy), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0) {
        return false;
    }
    bool synced = fsync(fd) == 0;
    return close(fd) == 0 && synced;
}

static bool write_lines(int fd, const struct marks *marks)
{
    for (size_t i = 0; i < marks->count; i++) {
        const struct mark *mark = &marks->list[i];
        if (dprintf(fd, "%s %016" PRIx64 "\n", mark->right ? "right" : "tried", mark->hash) < 0) {
            return false;
        }
    }
    return fsync(fd) == 0;
}

static bool write_marks(const char *path, const struct marks *marks)
{
    char fresh[PATH_MAX];
    if (snprintf(fresh, sizeof fresh, "%s.new", path) >= (int)sizeof fresh) {
        return false;
    }
    int fd = open(fresh, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, S_IRUSR | S_IWUSR);
    if (fd < 0) {
        return false;
    }
    bool written = write_lines(fd, marks);
    written = close(fd) == 0 && written;
    return written && rename(fresh, path) == 0 && sync_folder(path);
}

static struct mark *find(struct marks *marks, uint64_t hash)
{
    for (size_t i = 0; i < marks->count; i++) {
        if (marks->list[i].hash == hash) {
            return &marks->list[i];
        }
    }
    return NULL;
}

static size_t tried_in_vain(const struct marks *marks)
{
    size_t count = 0;
    for (size_t i = 0; i < marks->count; i++) {
        count += marks->list[i].right ? 0 : 1;
    }
    return count;
}

/* Puts the PIN among the tried ones; false where it may not be. */
static bool add_try(struct marks *marks, uint64_t hash, const char *mark, char *says, size_t size)
{
    struct mark *known = find(marks, hash);
    if (known != NULL && !known->right) {
        snprintf(says, size,
                 "the SIM asks for its PIN, and the one configured was tried already: put the "
                 "right one in modem.pin_file, or open the SIM in a phone, then remove %s",
                 mark);
        return false;
    }
    if (tried_in_vain(marks) >= TRIED_MAX || marks->count >= MARKS_MAX) {
        snprintf(says, size,
                 "two PINs were tried in vain and a third wrong one locks the SIM: enter it once "
                 "in a phone, then remove %s",
                 mark);
        return false;
    }
    if (known == NULL) {
        known = &marks->list[marks->count];
        marks->count++;
    }
    *known = (struct mark){.right = false, .hash = hash};
    return true;
}

bool pin_take(const char *file, const char *mark, char pin[PIN_OCTETS], char *says, size_t size)
{
    struct marks marks;
    if (file[0] == '\0') {
        snprintf(says, size,
                 "the SIM asks for its PIN: name a file that holds it as "
                 "modem.pin_file, or switch the PIN off in a phone");
        return false;
    }
    if (!read_pin(file, pin, says, size)) {
        return false;
    }
    if (!read_marks(mark, &marks)) {
        snprintf(says, size, "cannot tell which PINs were tried: %s is unreadable", mark);
        return false;
    }
    if (!add_try(&marks, hash_of(pin), mark, says, size)) {
        return false;
    }
    if (!write_marks(mark, &marks)) {
        snprintf(says, size, "the SIM's PIN is not tried, since %s cannot be written: %s", mark,
                 strerror(errno));
        return false;
    }
    return true;
}

void pin_proved(const char *mark)
{
    struct marks marks;
    if (!read_marks(mark, &marks) || tried_in_vain(&marks) == 0) {
        return;
    }
    struct mark last = marks.list[marks.count - 1];
    for (size_t i = 0; i < marks.count; i++) {
        last = marks.list[i].right ? last : marks.list[i];
    }
    last.right = true;
    marks = (struct marks){.list = {last}, .count = 1};
    if (!write_marks(mark, &marks)) {
        log_warn("modem: cannot note in %s that the PIN was right", mark);
    }
}
