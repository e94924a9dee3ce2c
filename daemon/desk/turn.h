/* SPDX-License-Identifier: MIT
 * turn: one text of one person under work: who, when, what was read in it, and what will be said.
 * A fault of the ledger is kept in it and stops the work, so that the steps need no ladder of
 * checks: after the first fault nothing more is counted on, and all of it is rolled back. */
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

/* What somebody typed, fit for a reply: a blank for whatever is not one letter of the default
 * alphabet; cut at size, NUL-terminated. */
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
    bool has_question; /* the sender's open one, as it was before this text */
    struct question_row question;
    bool asked;              /* a question was asked in this text already */
    bool unclear;            /* something in it was not understood */
    bool understood;         /* something was */
    bool own_listed;         /* the sender was told which machines are his */
    const char *remark_kept; /* of the text that an answer completes; NULL none */
    bool spoken; /* mute or not, this text is answered (HELP, START, the one word after STOP) */
    struct reply reply;
    struct desk_answer *answer;
    enum ledger_result fault; /* the first one; LEDGER_OK none */
};

/* True where the call went well. "No such row" and "there already" are answers, anything else is
 * the turn's fault. */
bool turn_ok(struct turn *turn, enum ledger_result result);

/* A new line of the answer, outcome done; machine -1 none. Never NULL: past the last one it is a
 * line that nobody reads. */
struct desk_statement *turn_entry(struct turn *turn, const char *kind, int32_t machine);

/* What is said; should and may: only where it fits, may giving way first. */
void turn_say(struct turn *turn, enum wording_key key, const struct wording_values *values);
void turn_may_say(struct turn *turn, enum wording_key key, const struct wording_values *values);
void turn_should_say(struct turn *turn, enum wording_key key, const struct wording_values *values);
/* Says it and sets the entry's outcome and why. */
void turn_refuse(struct turn *turn, struct desk_statement *entry, enum wording_key key,
                 const struct wording_values *values);
void turn_explain(struct turn *turn, struct desk_statement *entry, enum wording_key key,
                  const struct wording_values *values);
/* The shop's own words: true where the sender may say them; else the entry is refused. */
bool turn_shop_only(struct turn *turn, struct desk_statement *entry, int32_t machine);
/* Refused for want of a figure: shows the form, the machine and then `rest`. */
void turn_refuse_form(struct turn *turn, struct desk_statement *entry, int32_t machine,
                      const char *rest);
/* Opens the question in *row (person, text and time are filled in) and says it. Where the text has
 * asked already, or cannot be answered, the entry is refused instead. */
void turn_ask(struct turn *turn, struct desk_statement *entry, struct question_row *row,
              enum wording_key key, const struct wording_values *values);

/* Values with the machine's name, and a figure where it is not negative. */
struct wording_values turn_values(const struct turn *turn, int32_t machine, int64_t hundredths);
void turn_set_day(const struct turn *turn, struct wording_values *values, int64_t at_s);
/* The last reading that a figure is doubted by: its hours and when it was. */
void turn_set_last(const struct turn *turn, struct wording_values *values, int64_t hundredths,
                   int64_t read_s);

/* The ledger's number of a machine (index into settings.machines); 0 with a fault. */
int64_t turn_machine_id(struct turn *turn, int32_t machine);

/* The words of the text that a slice covers, fit for a reply. */
void turn_words(const struct turn *turn, struct crew_slice slice, char *out, size_t size);

/* A remark as typed, never cut inside a character; where there is none, the one kept. */
void turn_remark(const struct turn *turn, struct crew_slice slice, char *out, size_t size);

/* The machine that a form shows to this person: his first, else the yard's first; "M12" none. */
const char *turn_example(const struct turn *turn);

/* Refuses what is not understood, with the right form; once a text. */
void turn_unclear(struct turn *turn);

#endif
