/* SPDX-License-Identifier: MIT
 * interview: asks a person one thing after the other, in lines alone, so that it works over a slow line
 * and in a script: an answer may also be given as an option. What was answered is kept in a file, so that
 * who stops at any question, or is cut off, goes on from there. */
#ifndef METERPOST_DAEMON_COUNTER_INTERVIEW_H
#define METERPOST_DAEMON_COUNTER_INTERVIEW_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

#include "daemon/counter/options.h"

#define INTERVIEW_LINE_OCTETS 512
#define INTERVIEW_PATH_OCTETS 512
#define INTERVIEW_SAYS_OCTETS 1024

struct interview_answer {
    char *name; /* of the question, which is the option's */
    char *value;
    bool given; /* again, in this start */
};

struct interview {
    FILE *in, *out;
    const struct options *options;
    bool option_used[OPTIONS_ANSWERS_MAX];
    char kept[INTERVIEW_PATH_OCTETS]; /* the file of the answers so far */
    struct interview_answer *earlier; /* those of an earlier start */
    size_t earlier_count, earlier_room;
    bool stopped; /* nothing is asked any more */
};

/* One question. */
struct interview_question {
    const char *name;
    const char *asks;
    const char *usual; /* what no answer means; NULL: there must be one */
    bool fleeting;     /* not kept for a later start */
    bool hidden;       /* not shown while it is typed */
};

/* True where it will do; else says why not. It may keep what it takes. */
typedef bool interview_judge(void *ctx, const char *name, const char *value,
                             char says[INTERVIEW_SAYS_OCTETS]);

/* Begins; answers are kept in FILE.answers. Where one of an earlier start is there, asks whether to go on
 * from it. */
void interview_begin(struct interview *interview, const struct options *options, const char *file,
                     FILE *in, FILE *out);

/* Asks until an answer will do, which an option or an earlier start may have given already. False once
 * stopped: by "stop", by the end of what is typed, or where nothing may be asked. */
bool interview_ask(struct interview *interview, const struct interview_question *question,
                   interview_judge *judge, void *ctx);

/* Asks likewise, and takes whatever is answered. */
bool interview_line(struct interview *interview, const struct interview_question *question,
                    char answer[INTERVIEW_LINE_OCTETS]);

/* True for an answer that says nothing: "" or "none". */
bool interview_none(const char *answer);

/* Yes or no; usual: what an empty line means. Not kept. Yes where nothing is asked (--yes). */
bool interview_yes(struct interview *interview, const char *asks, bool usual);

/* What is answered under that name already, by option or by an earlier start; NULL none, and each is given
 * once. */
const char *interview_given(struct interview *interview, const char *name);

/* Whether there is such an answer already; it stays to be given. */
bool interview_answered(const struct interview *interview, const char *name);

/* Keeps an answer that was found otherwise than by asking; once. */
void interview_keep(struct interview *interview, const char *name, const char *value);

/* Ends; done: the kept answers are not needed any more. */
void interview_end(struct interview *interview, bool done);

#endif
