/* SPDX-License-Identifier: MIT
 * page_file: a page for people, put into a file where somebody may look at it at any moment. */
#ifndef METERPOST_DAEMON_BOARD_PAGE_FILE_H
#define METERPOST_DAEMON_BOARD_PAGE_FILE_H

#include <stdbool.h>
#include <stddef.h>

#define PAGE_FILE_SAYS_OCTETS 320

/* Writes it whole: into a new file beside, which takes the name once all of it is on the disk. An earlier
 * page there is replaced, which is an empty file or one that begins with `begins`; any other file, a
 * link, a folder or a FIFO is not. Mode by the umask, but never to be written by others. False where it
 * could not be, and says what is wrong. */
bool page_file_write(const char *path, const char *begins, const char *page, size_t length,
                     char says[PAGE_FILE_SAYS_OCTETS]);

#endif
