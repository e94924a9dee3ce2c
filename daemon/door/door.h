/* SPDX-License-Identifier: MIT
 * door: the local socket by which the verbs ask the running daemon. A request is a few words, the
 * answer an exit status and what to print. Whoever may open the socket may ask: its mode is 0660,
 * so root, the daemon's user and its group.
 *
 * On the wire: a request is its length (4 octets, most significant first) and the words, each with
 * its NUL; an answer is the status (4 octets), the length (4) and the output. One of each a
 * connection. What is too large for words is an open file that goes with them (SCM_RIGHTS, unix(7)). */
#ifndef METERPOST_DAEMON_DOOR_DOOR_H
#define METERPOST_DAEMON_DOOR_DOOR_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "daemon/ground/clock.h"
#include "daemon/ground/loop.h"

#define DOOR_WORDS_MAX 16
#define DOOR_REQUEST_OCTETS 8192
#define DOOR_ANSWER_OCTETS 65536
#define DOOR_CALLERS_MAX 4
#define DOOR_SAYS_OCTETS 256

#define DOOR_NO_FILE (-1)

struct door_question {
    size_t word_count;
    const char *const *words;
    int file; /* a descriptor, its asker's or the door's own; or DOOR_NO_FILE */
};

/* Answers one request: writes at most DOOR_ANSWER_OCTETS to out, sets *length, returns the exit
 * status of the verb. */
typedef int door_answer(void *ctx, const struct door_question *question, struct instant now,
                        char *out, size_t *length);

struct door_caller {
    struct door *door;
    int fd;   /* -1: free */
    int file; /* the one that came with the request */
    int64_t until_ms;
    size_t used;
    unsigned char request[DOOR_REQUEST_OCTETS];
};

struct door {
    int fd;
    char path[108]; /* sun_path, unix(7) */
    door_answer *answer;
    void *ctx;
    struct door_caller callers[DOOR_CALLERS_MAX];
    unsigned char reply[8 + DOOR_ANSWER_OCTETS];
};

/* Begins to listen; a socket that nobody answers any more is replaced. Returns false with says set
 * to what is wrong and what to do. */
bool door_open(struct door *door, const char *path, door_answer *answer, void *ctx,
               char says[DOOR_SAYS_OCTETS]);
void door_close(struct door *door); /* and removes the socket; fine when never opened */
bool door_join(struct door *door, struct loop *loop); /* adds its sources */

/* The caller's side. */
enum door_result {
    DOOR_ANSWERED,
    DOOR_NOBODY,    /* no daemon listens there */
    DOOR_FORBIDDEN, /* not of the daemon's group */
    DOOR_FAILED     /* it broke off or took too long */
};
/* Asks and waits at most timeout_ms by the real clock. out holds DOOR_ANSWER_OCTETS. */
enum door_result door_ask(const char *path, const struct door_question *question, int timeout_ms,
                          int *status, char *out, size_t *length);

/* Four octets, most significant first. */
uint32_t door_read_number(const unsigned char octets[4]);
void door_write_number(unsigned char octets[4], uint32_t number);

/* Points words[] into octets; 0 where they are malformed: none, too many, or no NUL at the end. */
size_t door_words(const char *octets, size_t length, const char *words[DOOR_WORDS_MAX]);

#endif
