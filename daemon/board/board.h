/* SPDX-License-Identifier: MIT
 * board: the yard at a glance: one page of HTML that needs nothing else, no net, and no script to be
 * read. Made by the verb and by the daemon alike; and what goes into a page, and a page into a file,
 * whatever page it is. */
#ifndef METERPOST_DAEMON_BOARD_BOARD_H
#define METERPOST_DAEMON_BOARD_BOARD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "daemon/ledger/ledger.h"
#include "daemon/yard/yard.h"

/* How a page begins. */
#define BOARD_PAGE_BEGINS "<!DOCTYPE html>\n"

#define BOARD_REMARKS_S (14 * (int64_t)86400) /* how far back it shows remarks */

enum board_form {
    BOARD_DESK, /* every machine, for desk, phone and paper */
    BOARD_WALL  /* the worst ones, to be read from three metres at 1920 by 1080 */
};

struct board_page {
    char *text; /* the caller frees it */
    size_t length;
    size_t made_at, made_length; /* where in it the time of making stands */
};

/* A shop on the page. */
struct board_shop {
    struct yard yard; /* without a ledger: it is named as left out */
    int64_t now_s;
    const char *name;          /* what it is told apart by; NULL where it is the only one */
    enum ledger_result result; /* of its ledger; set here */
};

/* The whole page as of that moment, from one view of each ledger, which stays open. page->text is NULL
 * where a ledger failed, and where memory was short though all results are LEDGER_OK. The zone is that of
 * the only shop; of several it is set for each in turn. */
void board_make(struct board_shop *shops, size_t count, enum board_form form,
                struct board_page *page);

/* Writes NUL-terminated text as the content of an element or a quoted attribute: markup as
 * references; what is no UTF-8, and control characters, as U+FFFD; a line break as a blank. */
void html_text(FILE *out, const char *text);

#define PAGE_FILE_SAYS_OCTETS 320

/* Writes it whole: into a new file beside, which takes the name once all of it is on the disk. An earlier
 * page there is replaced, which is an empty file or one that begins with `begins`; any other file, a
 * link, a folder or a FIFO is not. Mode by the umask, but never to be written by others. False where it
 * could not be, and says what is wrong. */
bool page_file_write(const char *path, const char *begins, const char *page, size_t length,
                     char says[PAGE_FILE_SAYS_OCTETS]);

#endif
