/* SPDX-License-Identifier: MIT
 * at_line: what a modem says. Octets in, lines and prompts out; then what kind of line it is and
 * the fields it carries (ITU-T V.250 5.7, 3GPP TS 27.005 and TS 27.007). Assumes words, not
 * numbers, as results (ATV1), but understands the two numeric ones that matter. Lines may be split
 * and glued anywhere, with any count of CR and LF between them. */
#ifndef METERPOST_PARSERS_AT_LINE_H
#define METERPOST_PARSERS_AT_LINE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Longest line kept: a PDU is at most 352 hex digits (TS 23.040), a list of what a command supports
 * may be longer. With the NUL. */
#define AT_LINE_OCTETS 640

enum at_event {
    AT_EVENT_NONE,    /* all octets taken, nothing complete yet */
    AT_EVENT_LINE,    /* text and length hold a line, until the next feed */
    AT_EVENT_PROMPT,  /* "> " came, which no line end follows (TS 27.005 3.5.1) */
    AT_EVENT_OVERLONG /* a line that did not fit has ended; its octets are gone */
};

/* The splitter. All zero is its start. */
struct at_line {
    char text[AT_LINE_OCTETS]; /* NUL-terminated with AT_EVENT_LINE */
    size_t length;
    bool given;         /* the last event was this line: the next octet starts another */
    bool overlong;      /* the line under way did not fit */
    bool prompt_wanted; /* a ">" that begins a line is the prompt; set by the caller */
};

/* Takes octets until an event is complete and returns how many it took: at least one unless count
 * is 0. Control characters and spaces around a line are dropped. */
size_t at_line_feed(struct at_line *line, const uint8_t *octets, size_t count,
                    enum at_event *event);

enum at_kind {
    AT_KIND_OTHER, /* information, or something unknown */
    AT_KIND_HEX,   /* hex digits only, eight or more: a PDU */
    /* final results */
    AT_KIND_OK,
    AT_KIND_ERROR,
    AT_KIND_CMS_ERROR, /* TS 27.005 3.2.5; code is the number, -1 when in words */
    AT_KIND_CME_ERROR, /* TS 27.007 9.2; code likewise */
    /* unsolicited */
    AT_KIND_CMTI,         /* a text is stored: memory, index */
    AT_KIND_CDSI,         /* a report is stored: memory, index */
    AT_KIND_CMT,          /* a text follows on the next line */
    AT_KIND_CDS,          /* a report follows on the next line */
    AT_KIND_CBM,          /* a broadcast follows on the next line */
    AT_KIND_REGISTRATION, /* +CREG, +CGREG, +CEREG as news, without <n>; code is <stat> */
    AT_KIND_RING,         /* a call, or its end */
    AT_KIND_BOOT,         /* said after a restart only, or of it */
    AT_KIND_SIM_GONE,
    AT_KIND_MEMORY_FULL
};

/* What kind of line this is, by itself: whether it answers the command in flight is for the caller
 * to say (+CPIN: READY is information to +CPIN? and a restart otherwise). code may be -1. */
enum at_kind at_line_kind(const char *text, size_t length, int32_t *code);

/* True where text begins with prefix, upper and lower case alike. prefix ends in NUL. */
bool at_line_starts(const char *text, size_t length, const char *prefix);

/* A field of a line: those after the first colon (of the whole line where it has none), parted by
 * commas outside quotes and brackets, without the spaces and quotes around it. */
struct at_field {
    size_t start, end; /* the first octet, and the one after the last */
    bool quoted;
};

/* Field number index, from 0. False where the line has fewer. */
bool at_line_field(const char *text, size_t length, size_t index, struct at_field *field);

/* The same as a number, 0 to 999999999. False where it is absent, empty or no number. */
bool at_line_number(const char *text, size_t length, size_t index, int32_t *number);

/* The same as a set of small numbers, "(0-3,5)" or "2": bit n for number n, those above 31 left
 * out. 0 where absent. */
uint32_t at_line_set(const char *text, size_t length, size_t index);

/* True where the field holds the name in quotes, as in ("SM","ME"). name ends in NUL. */
bool at_line_names(const char *text, size_t length, size_t index, const char *name);

/* Copies the field, cut at size, control characters left out; "" where absent. Returns its length
 * as copied, the NUL aside. Where size is 0 nothing is written. */
size_t at_line_copy(const char *text, size_t length, size_t index, char *out, size_t size);

#endif
