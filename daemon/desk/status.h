/* SPDX-License-Identifier: MIT
 * status: how a machine stands against its plans, put into words; and the alerts that this calls
 * for. Replies, alerts and summaries all take their figures from here, and this from the yard. */
#ifndef METERPOST_DAEMON_DESK_STATUS_H
#define METERPOST_DAEMON_DESK_STATUS_H

#include "daemon/desk/turn.h"
#include "daemon/ledger/alerts.h"

/* A machine against each of its plans; worst is the index of the one that matters most. */
struct standing {
    struct yard_standing plans[SETTINGS_PLANS_MAX];
    size_t count;
    size_t worst;
};

/* Whether the plan is one of the machine's kind. */
bool standing_has_plan(const struct settings *settings, int32_t machine, int32_t plan);

/* settings.machines[machine] at now_s; nothing on a fault. */
void standing_look(struct desk *desk, int32_t machine, int64_t now_s, struct standing *standing);

/* Whether reminders rest: it is in the shop, or booked for a day that is not over. */
bool standing_rests(const struct yard_standing *standing, int32_t today);

/* Whether the calendar alone has brought it so far: no reading has reached the point. */
bool standing_by_calendar(const struct yard_standing *standing);

/* Fills title, plan, due, left (never negative), day, hours, and last with the hours it likely has. */
void standing_values(const struct desk *desk, const struct yard_standing *standing,
                     const struct wording *wording, int32_t today, struct wording_values *values);

/* The sentence that a reply has for it, that a text to the shop has, and that tells of the next
 * service after one. */
enum wording_key standing_key(const struct yard_standing *standing, bool shop);
enum wording_key standing_tell_key(const struct yard_standing *standing);
enum wording_key standing_next_key(const struct yard_standing *standing);

/* Its item in a list, with where it is where it is booked or in the shop: "M12 drive due now". likely:
 * of one that is wanted the hours that it likely has matter more than its stage of the last reading. */
void standing_item(const struct desk *desk, const struct yard_standing *standing,
                   const struct wording *wording, int32_t today, bool likely,
                   char out[WORDING_SENTENCE_OCTETS]);

/* Says how the machine stands: the worst plan, what else is due, and to bring it in. */
void standing_say(struct turn *turn, const struct standing *standing);

/* Whether it calls for an alert that does not stand yet: *row is that alert, not raised. Nothing is
 * changed, so that a reading ledger will do. */
enum ledger_result standing_calls(const struct settings *settings, struct ledger *ledger,
                                  const struct yard_standing *standing, struct alert_row *row,
                                  bool *calls);

/* An alert of that stage and plan raised and told in one, so that what goes with it is said once;
 * false where it stands already. *row has the machine, the cycle, the causes and the time. */
bool alert_once(struct ledger *ledger, const char *stage, const char *plan, struct alert_row *row);

/* The same for the crew to hear that the machine is due or overdue. */
bool standing_crew_once(struct desk *desk, const struct yard_standing *standing, int64_t now_s);

/* Raises what it calls for and does not stand yet, in the open transaction. */
void standing_raise(struct desk *desk, const struct yard_standing *standing, int64_t now_s);
/* How the machine stands now that something of it has changed: looked at, and raised what that calls
 * for. Says nothing. */
void standing_renew(struct turn *turn, int32_t machine, struct standing *standing);
/* And said. */
void standing_tell(struct turn *turn, int32_t machine);

/* ---- what is asked: nothing is changed */

void status_machine(struct turn *turn);

/* A crew's own machines, all of them for the shop. */
void status_due(struct turn *turn);

#endif
