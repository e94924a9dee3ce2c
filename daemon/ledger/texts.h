/* SPDX-License-Identifier: MIT
 * texts: every text in, raw and whole, and every text out with the state of each part. */
#ifndef METERPOST_DAEMON_LEDGER_TEXTS_H
#define METERPOST_DAEMON_LEDGER_TEXTS_H

#include "daemon/ledger/ledger.h"

#define TEXTS_BODY_OCTETS 4097  /* a text in, UTF-8, with NUL */
#define TEXTS_REPLY_OCTETS 1600 /* a text out, UTF-8, with NUL */
#define TEXTS_FROM_OCTETS 48

enum texts_state {
    TEXTS_ARRIVED,    /* kept, not yet worked on */
    TEXTS_DONE,       /* worked on by the desk */
    TEXTS_STRANGER,   /* no one on the roster: kept, no answer */
    TEXTS_UNREADABLE, /* could not be decoded: kept raw */
    TEXTS_SET_ASIDE,  /* brought the desk down twice */
    TEXTS_WAITING     /* parts of a long text are still missing */
};
/* "arrived" "done" "stranger" "unreadable" "set-aside" "waiting" */
const char *texts_state_word(enum texts_state state);

/* One PDU (or one text typed at the counter, hex ""). */
struct texts_incoming {
    const char *hex;  /* raw, as the modem gave it */
    const char *from; /* E.164 where it is one, else as sent */
    bool from_number; /* an E.164 number: may be answered */
    int64_t sent_s;   /* when it was sent, as far as is known; 0 when unreadable */
    int64_t stamp_s;  /* the service centre's stamp as it came, which tells a repeated delivery
                       * whatever our own clock says; 0 when unreadable */
    int64_t received_s;
    const char *body; /* UTF-8, NUL-terminated; "" when unreadable */
    bool readable;
    bool concatenated;
    uint16_t reference;
    bool wide_reference; /* of 16 bits: 7 of 8 bits is another one (TS 23.040 9.2.3.24.1, .8) */
    uint8_t parts, part; /* 1, 1 when not concatenated */
    const char *modem;   /* by which it came; NULL where it has no name */
};

#define TEXTS_FINGERPRINT_OCTETS 128

struct texts_kept {
    int64_t text_id;
    bool repeated; /* this very PDU was kept before: nothing to do */
    bool whole; /* all parts are there; body below is the whole text. Never for an unreadable one */
    int64_t sent_s;
    char fingerprint[TEXTS_FINGERPRINT_OCTETS]; /* names the whole text, the same after a crash */
    char body[TEXTS_BODY_OCTETS];
};

/* Keeps one arrival inside the open transaction; puts long texts together. A repeated delivery is
 * known by sender, service-centre time, part and content; a text typed at the counter (hex "")
 * never is one. An unreadable one is kept in that state, the others as arrived or waiting. A body
 * beyond TEXTS_BODY_OCTETS is kept whole and handed out cut. */
enum ledger_result texts_keep(struct ledger *ledger, const struct texts_incoming *incoming,
                              struct texts_kept *kept);
enum ledger_result texts_set_state(struct ledger *ledger, int64_t text_id, enum texts_state state,
                                   int64_t person_id);

/* What became of what a text said, worked on: the worst of its statements. */
enum texts_outcome {
    TEXTS_OUTCOME_DONE,
    TEXTS_OUTCOME_ASKED,
    TEXTS_OUTCOME_REFUSED,
    TEXTS_OUTCOME_NOT_UNDERSTOOD /* something in it */
};
/* "asked" "refused" "not-understood"; NULL for done */
const char *texts_outcome_word(enum texts_outcome outcome);
/* The text is DONE, and that became of it. */
enum ledger_result texts_worked_on(struct ledger *ledger, int64_t text_id,
                                   enum texts_outcome outcome, int64_t person_id);

/* Whose text it was; LEDGER_NONE where nobody is known. */
enum ledger_result texts_sender(struct ledger *ledger, int64_t text_id, int64_t *person_id);

/* The person's latest text before that one and since that moment which did something, was asked about
 * or refused: what it said, and whether something of it is kept. LEDGER_NONE. */
enum ledger_result texts_last_of(struct ledger *ledger, int64_t person_id, int64_t before_id,
                                 int64_t since_s, char *body, size_t size, bool *kept);

/* Texts still to be worked on (ARRIVED): the oldest. LEDGER_NONE when there is none. */
enum ledger_result texts_next_arrived(struct ledger *ledger, struct texts_kept *kept,
                                      char from[TEXTS_FROM_OCTETS]);

/* Those that came while no time was known (received_s 0) came at now_s. */
enum ledger_result texts_date(struct ledger *ledger, int64_t now_s);

/* Long texts whose last part to come came before before_s: given out as what came, each gap as
 * " [...] ", by texts_next_arrived. *oldest_s is when the one that waits longest last grew, 0 none. */
enum ledger_result texts_give_up_parts(struct ledger *ledger, int64_t before_s, int *count,
                                       int64_t *oldest_s);

enum texts_kind { TEXTS_REPLY, TEXTS_QUESTION, TEXTS_ALERT, TEXTS_SUMMARY, TEXTS_NOTICE };

struct texts_outgoing {
    int64_t person_id;
    const char *phone;
    const char *body;
    enum texts_kind kind;
    bool urgent;           /* of danger: before all that waits */
    int64_t about_text_id; /* the text it answers, 0 when none */
    int64_t created_s;
    int64_t not_before_s;
    int64_t expires_s;
    uint8_t parts;
};
enum ledger_result texts_queue(struct ledger *ledger, const struct texts_outgoing *outgoing,
                               int64_t *text_id);

/* Of replies and questions to that number that wait and have not been tried, only the newest `most`
 * go on waiting; those before them fail with that cause. */
#define TEXTS_CAUSE_GAVE_WAY (-3)
enum ledger_result texts_give_way(struct ledger *ledger, const char *phone, int most,
                                  int64_t now_s);

/* States of an outgoing part. */
enum texts_part_state {
    TEXTS_PART_WAITING,
    TEXTS_PART_HANDED_OVER, /* on its way to the modem; a crash here makes its fate unknown */
    TEXTS_PART_TAKEN,       /* the network took it */
    TEXTS_PART_FAILED,
    TEXTS_PART_UNKNOWN /* fate hidden by a crash or a lost result; repeated once at most */
};
/* "waiting" "handed-over" "taken" "failed" "unknown" */

struct texts_part {
    int64_t part_id;
    int64_t text_id;
    uint8_t part, parts;
    uint8_t concat_reference; /* of the whole text */
    int32_t tries;
    bool repeated; /* goes out a second time because its fate was unknown */
    enum texts_kind kind;
    int64_t person_id; /* 0 none */
    int64_t created_s;
    bool urgent;
    char phone[TEXTS_FROM_OCTETS];
    char body[TEXTS_REPLY_OCTETS]; /* the whole text */
};

/* For which of several modems a part is looked for. */
struct texts_way {
    const char *modem;  /* its name; NULL: it takes all */
    const char *others; /* that work: "/east/west/"; "/" none */
    bool takes_rest;    /* besides its own, what is for none of the others */
};

/* The next part that may go out at now_s (alerts before replies before the rest; oldest first) that
 * way (NULL: any), LEDGER_NONE when there is none; then *next_s is when the earliest that waits for its
 * time may go, whichever way (0: none does). */
enum ledger_result texts_next_part(struct ledger *ledger, const struct texts_way *way,
                                   int64_t now_s, struct texts_part *part, int64_t *next_s);
/* Where its time is up, a waiting part fails with that cause. */
#define TEXTS_CAUSE_EXPIRED (-2)
/* modem: NULL where it has no name. */
enum ledger_result texts_part_handed_over(struct ledger *ledger, const char *modem, int64_t part_id,
                                          int64_t now_s);
/* TAKEN, FAILED or UNKNOWN (a lost result: goes back to waiting once, marked as repeated; the
 * second time it stays unknown). When one part failed, those of its text still waiting fail too.
 * cause: +CMS ERROR, -1 none. */
enum ledger_result texts_part_ended(struct ledger *ledger, int64_t part_id,
                                    enum texts_part_state state, int reference, int cause,
                                    int64_t now_s);
/* Handed over, and not sent: back to waiting, not before that moment; it no longer counts as sent.
 * Also for a part that waits and has to wait longer. */
enum ledger_result texts_part_again(struct ledger *ledger, int64_t part_id, int64_t not_before_s,
                                    int cause);
/* Marked as handed over, it was not given to the modem: it waits again, as if nothing had been. */
enum ledger_result texts_part_put_back(struct ledger *ledger, int64_t part_id);
/* At start: parts handed over and never ended. Each is repeated once (waiting, marked), or, where
 * that was its repetition, left unknown. *count is how many were found. */
enum ledger_result texts_recover_parts(struct ledger *ledger, int64_t now_s, int *count);

/* A delivery report that came by that modem (NULL: the only one): noted on the latest part that it took
 * for that number with that reference, or on the one
 * that is under way to it. What was delivered stays so; an alert that the centre gave up on goes
 * again. LEDGER_NONE when there is none. status is TP-ST (TS 23.040 9.2.3.15). */
enum ledger_result texts_part_reported(struct ledger *ledger, const char *modem, const char *phone,
                                       uint8_t reference, uint8_t status, int64_t at_s);

/* How many texts were taken or handed over: to one number and to all since hour_s, to all since day_s,
 * which is no later; and by that modem since hour_s, 0 for NULL. */
struct texts_sent {
    int to_number, in_hour, in_day, by_modem;
};
enum ledger_result texts_count_sent(struct ledger *ledger, const char *modem, const char *phone,
                                    int64_t hour_s, int64_t day_s, struct texts_sent *sent);

/* One line of the list that the verb `texts` and the daily summary show; newest first. */
struct texts_line {
    bool incoming;
    int64_t text_id, at_s;
    const char *person; /* name or "" */
    const char *phone;
    const char *body;
    /* In: a texts_state_word, or, once worked on, a texts_outcome_word. Out: the word of the part
     * that needs attention most, as above, or "expired", "gave-way",
     * "not-delivered", "delivered" (by the network's report). */
    const char *state;
    int64_t cause; /* out, waiting after a try or failed: why; a TEXTS_CAUSE or +CMS ERROR, -1 for
                    * one without a number */
};
/* Calls each for texts with from_s <= at < until_s. Pointers live during the call only. */
enum ledger_result texts_each(struct ledger *ledger, int64_t from_s, int64_t until_s,
                              void (*each)(void *ctx, const struct texts_line *line), void *ctx);
#define TEXTS_CAUSE_UNWANTED (-4) /* the receiver said STOP, or is on the roster no more */
#define TEXTS_CAUSE_NONE (-5)     /* nothing to say */

/* How the texts stand, for health. Moments are 0 where there is none. */
struct texts_summary {
    int waiting;              /* parts to send */
    int capped;               /* of them those that a cap holds back */
    int64_t oldest_waiting_s; /* when the oldest of them was written, or, while it was held back
                               * and not tried yet, the hour it is held for: may be to come */
    int failed_since;         /* texts out not sent or not delivered, since the moment handed in */
    int unknown_since;        /* whose fate a crash or a lost result hides */
    int unread_since;         /* texts in that could not be decoded, or brought the desk down */
    int64_t last_in_s;
    int64_t last_out_s;   /* taken by the network */
    int64_t failed_cause; /* of the last that was not sent, as in texts_line */
    int alerts_lost; /* tellings of alerts, from six days before that moment on, that reached nobody */
    int64_t alert_lost_s; /* the last of them */
};
enum ledger_result texts_summarise(struct ledger *ledger, int64_t since_s,
                                   struct texts_summary *summary);
/* Strangers' texts since that moment (for the summary's one line). */
enum ledger_result texts_strangers_since(struct ledger *ledger, int64_t since_s, int *count);

#endif
