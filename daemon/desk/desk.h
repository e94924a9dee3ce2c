/* SPDX-License-Identifier: MIT
 * desk: what the house does about a text, and what it tells whom. This header is the desk's door:
 * receive (texts in), say (a text at the counter), round (the daily one), post (texts out). */
#ifndef METERPOST_DAEMON_DESK_DESK_H
#define METERPOST_DAEMON_DESK_DESK_H

#include <stdbool.h>
#include <stdint.h>

#include "config/settings.h"
#include "daemon/ground/clock.h"
#include "daemon/ground/part.h"
#include "daemon/ledger/ledger.h"
#include "daemon/ledger/texts.h"
#include "daemon/upkeep/clock_judge.h"
#include "daemon/yard/yard.h"
#include "parsers/crew_text.h"
#include "parsers/tpdu.h"

struct desk; /* owns its room for names and texts, sized for the settings */

/* settings and ledger must outlive it. The record of a machine that was renamed (formerly) goes on under
 * its new name. NULL when memory is short. */
struct desk *desk_new(const struct settings *settings, struct ledger *ledger);
void desk_free(struct desk *desk);
/* After a reload. False (and nothing changed) when memory is short. */
bool desk_configure(struct desk *desk, const struct settings *settings);

/* Something was put on record by another way than a text: the next round looks at every machine. */
void desk_look_again(struct desk *desk);

/* What became of one statement, for `text --json`. */
struct desk_statement {
    const char *kind;           /* the JSON word: reading status service correct ... unknown */
    enum texts_outcome outcome; /* done, asked or refused */
    const char *machine;        /* name or NULL */
    bool has_hours, has_to_hours, has_suggests, has_days, has_quantity, has_read_at;
    int64_t hours_hundredths, to_hours_hundredths, suggests_hundredths;
    const char *suggests_machine; /* where the offer is another machine, else NULL */
    int32_t days;
    int64_t quantity_thousandths; /* in the shop's unit */
    int64_t read_at_s;
    const char *plan; /* NULL unsaid */
    char remark[321];
    char why[161]; /* "" when there is nothing to say */
};
struct desk_answer {
    char reply[TEXTS_REPLY_OCTETS]; /* "" for none */
    bool asked;
    uint8_t statement_count;
    struct desk_statement statements[CREW_TEXT_STATEMENTS_MAX];
};

/* Modems are told apart by their places in settings.modems, and nothing else is known of them here: whoever
 * runs them says which work, a bit each. All do at the start. */
void desk_modems_work(struct desk *desk, uint32_t working);

/* One PDU from that modem, in one transaction: the raw text, then the desk's work under a savepoint.
 * error and tpdu as tpdu_parse gave them (tpdu may be NULL where error is not TPDU_OK). True once
 * it is on disk or was there before: the modem's copy may go. */
bool desk_receive(struct desk *desk, size_t modem, const char *hex, enum tpdu_error error,
                  const struct tpdu *tpdu, struct instant now);
/* A delivery report likewise. */
bool desk_receive_report(struct desk *desk, size_t modem, const char *hex, const struct tpdu *tpdu,
                         struct instant now);

/* The same desk at the counter: person (index into settings.people) says text; the reply comes back
 * in *answer instead of going out. The same transaction and the same wording. */
enum ledger_result desk_say(struct desk *desk, int32_t person, const char *text, struct instant now,
                            struct desk_answer *answer);

/* The modem says what time it is. */
void desk_timed(struct desk *desk, struct instant now, int64_t network_s);

/* Whether the box's clock can be believed, for health. */
struct clock_judgement desk_clock_state(const struct desk *desk, struct instant now);

/* What time alone brings: alerts in shop hours, reminders, the daily summary, lapsed questions.
 * Returns the wall-clock moment at which it wants to be called again. */
int64_t desk_round(struct desk *desk, struct instant now);

/* The next part for that modem to put on the air, marked handed over on disk; false when there is none,
 * then *next_s is the moment to ask again (0: when something new comes, or other modems work). */
bool desk_next_part(struct desk *desk, size_t modem, struct instant now, struct part *part,
                    int64_t *next_s);
/* How the part fared. */
void desk_part_ended(struct desk *desk, const struct part_result *result, struct instant now);
/* At start, once: parts whose fate a crash hid; texts kept but not worked on. */
void desk_recover(struct desk *desk, struct instant now);

#endif
