/* SPDX-License-Identifier: MIT
 * answers: the daemon's side of the verbs that ask it at its door: texts said at the counter (say),
 * health, what its modem is (modem), whom to forget, and what was read of a file to import
 * (import_parcel). */
#ifndef METERPOST_DAEMON_COUNTER_ANSWERS_H
#define METERPOST_DAEMON_COUNTER_ANSWERS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"
#include "daemon/desk/desk.h"
#include "daemon/door/door.h"
#include "daemon/ground/clock.h"
#include "daemon/ledger/ledger.h"
#include "daemon/ledger/texts.h"
#include "daemon/modem/link.h"
#include "daemon/upkeep/clock_judge.h"

/* What the person says goes to the desk, the answer to out. What is wrong is said on out as well, since
 * a caller at the door has but one stream. Returns the exit status of text_verb. */
int text_at_desk(struct desk *desk, const struct settings *settings, const char *person,
                 const char *body, bool json, struct instant now, FILE *out);

/* Whether there is a time to date a text by; what to do where there is none is said on err. */
bool text_clock_fits(const struct clock_judgement *clock, FILE *err);

/* What the links know of each modem of the settings, NULL where one has none. Returns the exit status of
 * modem_verb. */
int modem_report(const struct settings *settings,
                 const struct link_health *const links[SETTINGS_MODEMS_MAX], bool json, FILE *out);

/* Forgets the person of that name, or the texts of that number, where it is on the roster no more; what was
 * done or is wrong is said on out. Returns the exit status of forget_verb. */
int forget_at_ledger(struct ledger *ledger, const struct settings *settings, const char *who,
                     FILE *out);

/* Puts on record what came with the question, in one transaction, all or nothing; what was done or is
 * wrong is said on out. The house does nothing else meanwhile; its watchdog is told. Returns the exit
 * status of import_verb. */
#define IMPORT_QUESTION "import"
int import_at_ledger(struct ledger *ledger, const struct settings *settings,
                     const struct door_question *question, int64_t now_s, FILE *out);

enum health_status {
    HEALTH_OK,
    HEALTH_ATTENTION,
    HEALTH_FAULT,
    HEALTH_CANNOT_TELL,
    HEALTH_STATUS_COUNT
};
extern const char *const health_status_words[HEALTH_STATUS_COUNT];

/* What the checks look at. */
struct health_facts {
    const struct settings *settings;
    struct ledger *ledger; /* NULL where it cannot be read: then ledger_says why */
    const char *ledger_says;
    bool copied; /* it came from another box, and no daemon has it here */
    /* of each modem of the settings; the first is NULL where no daemon runs */
    const struct link_health *links[SETTINGS_MODEMS_MAX];
    const char
        *board_says; /* what keeps the board from being kept, "" nothing; NULL: nobody keeps it */
    const struct clock_judgement *clock; /* NULL: judged by what the ledger shows */
    int64_t now_s;
    struct texts_summary texts; /* looked up by health_checks_run */
    size_t modem;               /* the one that it looks at */
};

#define HEALTH_SAYS_OCTETS 384 /* a sentence of the ledger fits */

struct health_check {
    const char *name;
    const char *modem; /* which of several it is about, by its name; NULL none */
    enum health_status status;
    char says[HEALTH_SAYS_OCTETS];
    char advice[HEALTH_SAYS_OCTETS]; /* "" when there is nothing to do */
};

enum { HEALTH_CHECKS_MAX = 12 + 4 * SETTINGS_MODEMS_MAX };

/* Runs all checks, one for each thing that can be wrong, in their order; returns how many there are. */
size_t health_checks_run(const struct health_facts *facts,
                         struct health_check checks[HEALTH_CHECKS_MAX]);

/* {"status", "checks": [{"name", "status", "says", "do"}]}; and any other word too */
#define HEALTH_FORM_JSON "json"
#define HEALTH_FORM_METRICS "metrics" /* figures for monitoring (metrics.h) */
/* Writes the report in that form, and returns the worst status of its checks. */
enum health_status health_report(const struct health_facts *facts, const char *form, FILE *out);

#endif
