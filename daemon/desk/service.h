/* SPDX-License-Identifier: MIT
 * service: DONE, the shop's word: a service done, and its figure as a reading. */
#ifndef METERPOST_DAEMON_DESK_SERVICE_H
#define METERPOST_DAEMON_DESK_SERVICE_H

#include "daemon/desk/reading.h"

void service_take(struct turn *turn);

/* Records the service of an answered question at that figure (judged well), with the question's
 * plan, quantity and remark, and says so. */
void service_settle(struct turn *turn, const struct figure *figure, const struct question_row *row);

/* The names of a machine's plans, or only of those that matter now. *only is the one, -1 where there
 * are several or none. */
void service_plans(struct turn *turn, int32_t machine, bool mattering, struct reply_list *list,
                   int32_t *only);

#endif
