/* SPDX-License-Identifier: MIT
 * turn: one text of one person under work: who, when, what was read in it, and what will be said.
 * The ledger keeps the transaction's first fault, so that the steps need no ladder of checks: what is
 * asked for after it is none, and all of the text is taken back at its end. */
#ifndef METERPOST_DAEMON_DESK_TURN_H
#define METERPOST_DAEMON_DESK_TURN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "daemon/desk/desk.h"
#include "daemon/desk/wording.h"
#include "daemon/ledger/questions.h"

#define REPLY_SENTENCES_MAX 48

enum reply_weight { REPLY_MAY, REPLY_SHOULD, REPLY_MUST };
struct reply_sentence {
    char text[WORDING_SENTENCE_OCTETS];
    enum reply_weight weight;
};
struct reply {
    struct reply_sentence sentences[REPLY_SENTENCES_MAX];
    size_t count;
};

/* Adds a sentence; one past the last that fits is left out, as is an empty one. */
void reply_add(struct reply *reply, enum reply_weight weight, const char *sentence);

/* Puts the sentences together, a space between, in at most `segments` texts of the air if what may
 * go suffices for that. Returns the length; out is NUL-terminated and never cut inside a
 * character. */
size_t reply_write(const struct reply *reply, size_t segments, char *out, size_t size);

/* Names in a row, as many as a reply has room for; "..." where there are more. */
#define REPLY_LIST_OCTETS 41
struct reply_list {
    char text[REPLY_LIST_OCTETS];
    size_t length;
    size_t count;
};
void reply_list_add(struct reply_list *list, const char *name);

/* What somebody typed, fit for a reply: a letter that the default alphabet lacks goes without
 * its accent, whatever else is not one letter of it is a blank; cut at size, NUL-terminated. */
void reply_plain(const char *text, size_t length, char *out, size_t size);

/* How many texts of the air it takes; 0 where it cannot be sent at all. */
size_t reply_segments(const char *text);

struct turn {
    struct desk *desk;
    int32_t person; /* index into settings.people */
    int64_t person_id;
    bool shop; /* of the shop, else of a crew */
    bool mute; /* opted out, or a sender never answered: saved, but nothing asked or said */
    const struct wording *wording;
    int64_t text_id;
    int64_t now_s;
    int64_t sent_s; /* when the text was sent: the time of what it says, unless it says another */
    int32_t today;  /* of sent_s */
    const char *body;
    struct crew_text text;
    /* The statement at work, the machine it is about (index into settings.machines, -1 none), and
     * what becomes of it. */
    const struct crew_statement *said;
    const struct crew_statement *next; /* the one after it in the text, NULL none */
    int32_t machine;
    struct desk_statement *entry;
    bool has_question; /* the sender's open one, as it was before this text */
    struct question_row question;
    bool asked;              /* a question was asked in this text already */
    bool unclear;            /* something in it was not understood */
    bool understood;         /* something was */
    bool reported;           /* words for the shop were kept */
    bool own_listed;         /* the sender was told which machines are his */
    const char *remark_kept; /* of the text that an answer completes; NULL none */
    bool spoken; /* mute or not, this text is answered (HELP, START, the one word after STOP) */
    struct reply reply;
    struct desk_answer *answer;
};

/* Begins a statement: a new line of the answer, outcome done, is the turn's entry. Past the last
 * line it is one that nobody reads. */
void turn_enter(struct turn *turn, enum crew_kind kind, int32_t machine);

/* What is said; should and may: only where it fits, may giving way first. values NULL, here and below: the
 * machine at work, without a figure. */
void turn_say(struct turn *turn, enum wording_key key, const struct wording_values *values);
void turn_add(struct turn *turn, enum reply_weight weight, enum wording_key key,
              const struct wording_values *values);
/* Says it and sets the entry's why, and its outcome where it is refused. */
void turn_explain(struct turn *turn, enum wording_key key, const struct wording_values *values);
void turn_refuse(struct turn *turn, enum wording_key key, const struct wording_values *values);
/* Refused for want of a figure behind the machine and that word. */
void turn_refuse_form(struct turn *turn, enum wording_key word);
/* Opens the question in *row (person, text and time are filled in) and says it. Where the text has
 * asked already, or cannot be answered, the entry is refused instead. */
void turn_ask(struct turn *turn, struct question_row *row, enum wording_key key,
              const struct wording_values *values);
/* Refuses what is not understood: the open question again, else the right form of the machine that it
 * names (index into settings.machines), else, with -1, what became of the sender's last text; once a
 * text. */
void turn_unclear(struct turn *turn, int32_t machine);

/* Values with the machine's name, and a figure where it is not negative. Without a machine (-1) the
 * name is one that a form may show to this person: his first machine, else the yard's; "M12" none. */
struct wording_values turn_values(const struct turn *turn, int32_t machine, int64_t hundredths);
void turn_set_day(const struct turn *turn, struct wording_values *values, int64_t at_s);

/* The ledger's number of a machine (index into settings.machines); 0 with a fault. */
int64_t turn_machine_id(struct turn *turn, int32_t machine);

/* The words of the text that a slice covers, fit for a reply. */
void turn_words(const struct turn *turn, struct crew_slice slice, char *out, size_t size);

/* A remark as typed, never cut inside a character; where there is none, the one kept. */
void turn_remark(const struct turn *turn, struct crew_slice slice, char *out, size_t size);

#endif
