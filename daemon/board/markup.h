/* SPDX-License-Identifier: MIT
 * markup: what goes into a page. */
#ifndef METERPOST_DAEMON_BOARD_MARKUP_H
#define METERPOST_DAEMON_BOARD_MARKUP_H

#include <stdio.h>

/* Writes NUL-terminated text as the content of an element or a quoted attribute: markup as
 * references; what is no UTF-8, and control characters, as U+FFFD; a line break as a blank. */
void html_text(FILE *out, const char *text);

#endif
