/* SPDX-License-Identifier: MIT
 * people: the ledger's own numbers for the names that the config gives to people and machines, and
 * what is kept about each beyond a name: opt-out; parked, put off. */
#ifndef METERPOST_DAEMON_LEDGER_PEOPLE_H
#define METERPOST_DAEMON_LEDGER_PEOPLE_H

#include "daemon/ledger/ledger.h"

#define PEOPLE_NAME_OCTETS 17

/* The id of a name, made when it is new (a reading ledger: LEDGER_NONE). */
enum ledger_result people_id(struct ledger *ledger, const char *name, int64_t *person_id);
enum ledger_result people_name(struct ledger *ledger, int64_t person_id,
                               char name[PEOPLE_NAME_OCTETS]);
enum ledger_result machines_id(struct ledger *ledger, const char *name, int64_t *machine_id);
enum ledger_result machines_name(struct ledger *ledger, int64_t machine_id,
                                 char name[PEOPLE_NAME_OCTETS]);
/* When anything on record of that machine was last added, struck out or taken back; 0 never. It only
 * ever grows. */
enum ledger_result machines_touched(struct ledger *ledger, int64_t machine_id, int64_t *at_s);
/* Every machine on record by name, also one that the config has no more. *name lives during the call. */
enum ledger_result machines_each(struct ledger *ledger,
                                 void (*each)(void *ctx, int64_t machine_id, const char *name),
                                 void *ctx);
/* The record goes on under the new name. Where both are on record, what stands under the old one goes
 * to the new; of what there can be only one, the new one's stays. LEDGER_NONE where the old name is not
 * on record, or is the new one. */
enum ledger_result machines_rename(struct ledger *ledger, const char *from, const char *to);

/* Opt-out: 0 none, else since when. */
enum ledger_result people_opted_out(struct ledger *ledger, int64_t person_id, int64_t *since_s);
enum ledger_result people_set_opt_out(struct ledger *ledger, int64_t person_id, int64_t since_s);

/* Spells laid up for the season: open spell or 0. */
enum ledger_result machines_parked(struct ledger *ledger, int64_t machine_id, int64_t *since_s);
/* LEDGER_ALREADY when parked; back: LEDGER_NONE when not parked. */
enum ledger_result machines_park(struct ledger *ledger, int64_t machine_id, int64_t at_s,
                                 int64_t person_id, int64_t text_id);
enum ledger_result machines_back(struct ledger *ledger, int64_t machine_id, int64_t at_s,
                                 int64_t person_id, int64_t text_id);
/* Parked seconds of a machine between two moments are left out of its usage: each spell, oldest
 * first, an open one with until_s 0. */
enum ledger_result machines_parked_each(struct ledger *ledger, int64_t machine_id,
                                        void (*each)(void *ctx, int64_t from_s, int64_t until_s),
                                        void *ctx);
/* LATER: no reminders before that moment (0 none). */
enum ledger_result machines_later(struct ledger *ledger, int64_t machine_id, int64_t *until_s);
enum ledger_result machines_set_later(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                      int64_t person_id, int64_t text_id);

#endif
