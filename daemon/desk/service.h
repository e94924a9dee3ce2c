/* SPDX-License-Identifier: MIT
 * service: DONE, the shop's word: a service done, and its figure as a reading. */
#ifndef METERPOST_DAEMON_DESK_SERVICE_H
#define METERPOST_DAEMON_DESK_SERVICE_H

#include "daemon/desk/reading.h"

void service_take(struct turn *turn);

/* Records the service of an answered question at that figure (judged well), with the question's
 * plan, quantity and remark, and says so. */
void service_settle(struct turn *turn, const struct figure *figure, const struct question_row *row);

#endif
