/* SPDX-License-Identifier: MIT
 * verbs: what the shop may ask at the counter. Each verb writes to out what was asked for, to err why it
 * could not, and returns the exit status: 0, else as in sysexits.h, where nothing else is said here.
 * main opens what a verb needs of the counter, settings and ledger, before, and closes it behind. */
#ifndef METERPOST_DAEMON_COUNTER_VERBS_H
#define METERPOST_DAEMON_COUNTER_VERBS_H

#include <stdio.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/options.h"

/* Whether the config file is well, and what it means. 78 (EX_CONFIG) for any mistake, 64 for a --now
 * that is no time. Mistakes go to err, the summary to out; as JSON all goes to out: {"status": "ok" |
 * "mistakes", "mistakes": [{"line", "says"}], "notes": [{"says"}], "raises": [{"machine", "plan",
 * "stage"}]}, and "file" in a mistake of a file that is included. */
int check_verb(const struct options *options, FILE *out, FILE *err);

/* Says a text at the counter: the same grammar, the same desk, the reply printed instead of sent. Asks
 * the running daemon at its door, or takes the ledger alone when none runs. 1: something was asked or
 * refused. */
int text_verb(struct counter *counter);

/* What comes due, worst first, with hours left, date and bounds. 1: something is due, or has no
 * record. */
int due_verb(struct counter *counter);

/* Texts in and out, newest first: what was not understood or not delivered, open questions, who has
 * opted out. */
int texts_verb(struct counter *counter);

/* One machine: how it stands, its hours as a plot, its record. 1: something is due on it. */
int machine_verb(struct counter *counter);

/* What oil and filters the next weeks need, for which machines, and what the services of as many weeks
 * back really took. */
int stock_verb(struct counter *counter);

/* What the bay has to do, day by day: booked and suggested. */
int bay_verb(struct counter *counter);

/* Hours run in a span, by machine, site, crew or owner. */
int hours_verb(struct counter *counter);

/* A job sheet for one service of one machine: cautions first, the kit, the steps, boxes to fill in, and
 * the words to text when it is done. */
int sheet_verb(struct counter *counter);

/* Takes the person or number named out of the ledger; hours and services stay. */
int forget_verb(struct counter *counter);

/* The yard as a page: to the file named, which is replaced whole if it is a page already, else to
 * out. */
int board_verb(struct counter *counter);

/* Due dates for a calendar (iCalendar, RFC 5545), one whole-day event for each machine and plan, with
 * an identifier that stays when the date moves. */
int calendar_verb(struct counter *counter);

/* Readings, services, changes of meter, spells laid up or texts as CSV (RFC 4180), whole. */
int export_verb(struct counter *counter);

/* The same from CSV, tried first. 65 (EX_DATAERR): the file has mistakes. */
int import_verb(struct counter *counter);

/* Finds ports, talks to the modem, says in words what it is and how it stands, what to put into the
 * config or to do next, and sends one text as a trial. Works without a config too. A running daemon has
 * the port and is asked at its door. 0: the config's port, or any where it names none, has a modem by
 * which texts can go both ways (with --send: the text was taken), 1: not. */
int modem_verb(const struct options *options, FILE *out, FILE *err);

/* Asks what it needs, finds the modem by trying its ports, and writes the config and the port's rule; each
 * answer may be an option instead. 0: written, 1: stopped, or there is something in the way, 73
 * (EX_CANTCREAT): nothing could be written there. */
int setup_verb(const struct options *options, FILE *out, FILE *err);

/* What is wrong and what to do about it, by the running daemon at its door; where none runs, says so
 * and what the ledger shows. An enum health_status (answers.h), as monitoring systems expect it. */
int health_verb(struct counter *counter);

/* A consistent copy of the ledger, while the daemon runs too: 0 once it is checked and on disk under
 * its name. With --keep it is named by its day in a folder (backup.h), and the oldest go. */
int backup_verb(struct counter *counter);

#endif
