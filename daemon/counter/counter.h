/* SPDX-License-Identifier: MIT
 * counter: what a verb works with: the settings, the shop's zone, the moment, the ledger; the running
 * daemon where it has to be asked; machines and plans named on the command line; and how a machine
 * stands, as verbs show it.
 *
 * Several shops (several -c) are a counter each, in a chain; a verb that takes them looks at one after the
 * other and writes one list. The zone is the process's: it is that of the shop turned to. */
#ifndef METERPOST_DAEMON_COUNTER_COUNTER_H
#define METERPOST_DAEMON_COUNTER_COUNTER_H

#include <json-c/json_object.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

#include "config/settings.h"
#include "daemon/counter/options.h"
#include "daemon/counter/output.h"
#include "daemon/door/door.h"
#include "daemon/ledger/ledger.h"
#include "daemon/ledger/people.h"
#include "daemon/yard/reported.h"
#include "daemon/yard/yard.h"
#include "parsers/nearest.h"

struct counter {
    const struct options *options;
    FILE *out, *err;
    struct settings *settings;
    struct ledger *ledger; /* NULL until it is opened */
    int64_t now_s;
    struct yard_standing *standings; /* worst first; once loaded, the counter's own */
    size_t standing_count, standings_told;
    struct yard_trouble *troubles; /* likewise; danger first */
    size_t trouble_count;
    char *shop;           /* what its rows are told apart by; NULL where there is one shop */
    size_t number;        /* of the shop, from 0 on */
    struct counter *next; /* shop; NULL behind the last */
    int wrong;            /* why it is left out: an exit status; 0: it is not */
};

/* What is opened for a verb. */
enum counter_opens {
    COUNTER_SETTINGS, /* with zone and moment */
    COUNTER_LEDGER,   /* to read, beside them */
    COUNTER_YARD      /* the same; where there is no ledger yet an empty one, so that a yard can be
                       * looked at before its first text */
};

/* Opens, serves, closes. Returns what `serve` returned, or 64, 66, 74 or 78 after saying why on err. Of
 * several shops those that cannot be opened are named and left out, and `serve` has the others; the first
 * that was left out gives the status then. */
int counter_serve(const struct options *options, enum counter_opens opens,
                  int (*serve)(struct counter *counter), FILE *out, FILE *err);

/* To read or to write. Returns 0, or 66 or 74 after saying why on err. */
int counter_open_ledger(struct counter *counter, enum ledger_mode mode);

/* Says what the ledger said last on err, and returns the exit status; 0 for LEDGER_OK. */
int counter_ledger_status(const struct counter *counter, enum ledger_result result);

#define COUNTER_SHOP_OCTETS 200
/* From that shop on the first that is not left out, its zone in force; NULL where there is none. */
struct counter *counter_turn(struct counter *shop);
/* Has each shop looked at in turn; one whose look is not 0 is left out. Whether any is left. */
bool counter_each(struct counter *counter, int (*look)(struct counter *shop, void *ctx), void *ctx);
/* What goes before a sentence on one shop of several: its name and a colon; else "". */
const char *counter_of_shop(const struct counter *shop, char room[COUNTER_SHOP_OCTETS]);
/* A table for all of them, and its rows are of that shop from now on. */
struct table *counter_table(const struct counter *counter, const struct columns *columns);
void counter_table_of(const struct counter *shop, struct table *table);
/* Where the keys go that stand once a document: into it; of several shops, into that shop's object in
 * its array "shops". Writing it takes over `whole`, and names there who was left out. */
struct json_object *counter_head(const struct counter *shop, struct json_object *whole);
int counter_write(const struct counter *counter, struct json_object *whole);

/* Loads how every machine stands, worst first. Returns 0, or 66 or 74 after saying why. */
int counter_load_standings(struct counter *counter);
/* The worst standing of all shops that was not told before, and whose it is, turned to; NULL at the end. */
const struct yard_standing *counter_next_worst(struct counter *counter, struct counter **whose);

/* Loads the trouble that is open, danger first, then by machine, oldest first. Returns 0, or 66 or 74
 * after saying why. */
int counter_load_troubles(struct counter *counter);
/* "DANGER 2027-03-14 Ines: brakes gone"; without the first word where it is no danger. Safe to show;
 * returns room. */
#define COUNTER_TROUBLE_OCTETS (TROUBLES_WORDS_OCTETS + PEOPLE_NAME_OCTETS + 32)
const char *counter_trouble_says(const struct yard_trouble *trouble,
                                 char room[COUNTER_TROUBLE_OCTETS]);
/* All of it on the screen, below a table. */
void counter_print_troubles(struct counter *counter);
/* Of that machine, -1 of all, added to that array; NULL: to a new one, and NULL where nothing is open. */
struct json_object *counter_troubles_json(const struct counter *counter, int32_t machine,
                                          struct json_object *array);

/* {"as_of", "rows"}: how the machines stand, as loaded, with the trouble that is open on each. */
struct json_object *counter_due_json(struct counter *counter);

/* What the options ask the rows to be. */
enum table_form counter_form(const struct counter *counter);

struct counter_answer {
    int status; /* the daemon's, once DOOR_ANSWERED */
    size_t length;
    char answer[DOOR_ANSWER_OCTETS + 1]; /* NUL-terminated */
};

/* Asks at the door of the settings. Returns 0 once *answer is there; COUNTER_ALONE where no daemon
 * runs, which is told nowhere: the verb goes on alone; 69 or 77 for one that is there and does not
 * answer, or not to us, after saying so on err: `advice` ends that line ("; see its log", or ""). */
#define COUNTER_ALONE (-1)
int counter_ask_daemon(const struct counter *counter, size_t word_count, const char *const *words,
                       const char *advice, struct counter_answer *answer);
/* The same with a file for it, and with time to do it. */
int counter_hand_to_daemon(const struct counter *counter, const struct door_question *question,
                           const char *advice, struct counter_answer *answer);
/* The daemon's words, to err where it could not do it; returns its status. */
int counter_pass_on(const struct counter *counter, const struct counter_answer *answer);

/* Indexes into the settings; -1 where none is called so, with *nearest what may have been meant. A
 * machine goes by its whole number too, as in a text; a plan is one of that machine's kind. */
int32_t counter_machine(const struct settings *settings, const char *name, struct nearest *nearest);
int32_t counter_person(const struct settings *settings, const char *name, struct nearest *nearest);
int32_t counter_plan(const struct settings *settings, int32_t machine, const char *name,
                     struct nearest *nearest);
/* A machine of the config, by its name or a former one; or one that the ledger alone has, whose line in
 * the config is gone. */
struct counter_named {
    int32_t machine; /* index into the settings, -1 only on record */
    int64_t id;      /* the ledger's; 0: it has not heard of it */
    char name[PEOPLE_NAME_OCTETS];
    bool formerly; /* it was asked for by a name that it has no more */
};
/* Returns 0, or an exit status after saying why on err. */
int counter_on_record(const struct counter *counter, const char *name, struct counter_named *named);

/* "no machine M21; did you mean M12?" on err; returns 64. */
int counter_unknown(const struct counter *counter, const char *what, const struct nearest *nearest);

/* Rows that several verbs show: struct yard_standing (due.c) and struct texts_line (messages.c). */
extern const struct columns standing_columns, text_columns;

/* Red for what needs doing, faint for what rests. */
enum table_tint counter_tint(enum due_stage stage);

/* The point it runs towards, whichever comes first named first: "at 575 h", "by 2027-05-07, or at
 * 975 h"; "" where neither is known. Returns room. */
#define COUNTER_POINT_OCTETS 64
const char *counter_point(const struct yard_standing *standing, char room[COUNTER_POINT_OCTETS]);

#endif
