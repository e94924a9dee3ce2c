/* SPDX-License-Identifier: MIT
 * page_file: see board.h. Nothing is opened that somebody else can have put there: the new file has a
 * name that is not guessed and is made exclusively; what stands at the name is looked at without
 * following or waiting, and replaced by a rename. */
#include "daemon/board/board.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define PATH_OCTETS 4096
#define BEGINS_OCTETS 64

static bool failed(const char *path, const char *wrong, char says[PAGE_FILE_SAYS_OCTETS])
{
    (void)snprintf(says, PAGE_FILE_SAYS_OCTETS, "%.200s %s", path, wrong);
    return false;
}

static bool cannot(const char *path, char says[PAGE_FILE_SAYS_OCTETS])
{
    char wrong[96];
    (void)snprintf(wrong, sizeof wrong, "cannot be written: %.64s", strerror(errno));
    return failed(path, wrong, says);
}

/* Nothing there, or a page. Another file is not to be lost by a slip of the hand. */
static bool may_replace(const char *path, const char *begins, char says[PAGE_FILE_SAYS_OCTETS])
{
    static const char none[] = "is there and is no page; name another file";
    char first[BEGINS_OCTETS] = "";
    struct stat found;
    int descriptor = open(path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
    if (descriptor < 0) {
        return errno == ENOENT || (errno == ELOOP ? failed(path, none, says) : cannot(path, says));
    }
    bool regular = fstat(descriptor, &found) == 0 && S_ISREG(found.st_mode);
    ssize_t length = regular ? read(descriptor, first, strlen(begins)) : -1;
    (void)close(descriptor); /* nothing was written through it */
    bool page = length == 0 || (length > 0 && strcmp(first, begins) == 0);
    return page || failed(path, none, says);
}

/* As other files are made here, but not writable to others. */
static mode_t mode_of_pages(void)
{
    mode_t mask = umask(0);
    (void)umask(mask);
    return 0666 & ~mask & ~(mode_t)S_IWOTH;
}

static bool write_all(int descriptor, const char *page, size_t length)
{
    for (size_t at = 0; at < length;) {
        ssize_t written = write(descriptor, page + at, length - at);
        if (written < 0 && errno != EINTR) {
            return false;
        }
        at += written > 0 ? (size_t)written : 0;
    }
    return fchmod(descriptor, mode_of_pages()) == 0 && fsync(descriptor) == 0;
}

bool page_file_write(const char *path, const char *begins, const char *page, size_t length,
                     char says[PAGE_FILE_SAYS_OCTETS])
{
    char beside[PATH_OCTETS];
    if (!may_replace(path, begins, says)) {
        return false;
    }
    if (snprintf(beside, sizeof beside, "%s.XXXXXX", path) >= (int)sizeof beside) {
        return failed(path, "is too long a name", says);
    }
    int descriptor = mkostemp(beside, O_CLOEXEC); /* exclusively, mode 0600 */
    if (descriptor < 0) {
        return cannot(path, says);
    }
    bool written = write_all(descriptor, page, length);
    written = close(descriptor) == 0 && written && rename(beside, path) == 0;
    if (!written) {
        (void)cannot(path, says);
        (void)unlink(beside);
    }
    return written;
}
