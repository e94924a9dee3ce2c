/* SPDX-License-Identifier: MIT
 * health_inside: what the two chapters of health share: how a check says what it found, and the checks
 * of carriage. */
#ifndef METERPOST_DAEMON_COUNTER_HEALTH_INSIDE_H
#define METERPOST_DAEMON_COUNTER_HEALTH_INSIDE_H

#include "daemon/counter/answers.h"
#include "daemon/ground/zone.h"

#define DAY_S 86400

__attribute__((format(printf, 3, 4))) void
health_found(struct health_check *check, enum health_status status, const char *format, ...);
void health_advise(struct health_check *check, const char *advice);

/* RFC 3339 in the shop's zone; "never" for 0. */
const char *health_moment(int64_t unix_s, char room[ZONE_TEXT_OCTETS]);

/* Checks, each of what its name says; the first four are of the modem facts->modem. */
void carriage_modem(const struct health_facts *facts, struct health_check *check);
void carriage_network(const struct health_facts *facts, struct health_check *check);
void carriage_signal(const struct health_facts *facts, struct health_check *check);
void carriage_storage(const struct health_facts *facts, struct health_check *check);
void carriage_queue(const struct health_facts *facts, struct health_check *check);
void carriage_texts(const struct health_facts *facts, struct health_check *check);
void carriage_people(const struct health_facts *facts, struct health_check *check);
void carriage_alerts(const struct health_facts *facts, struct health_check *check);

#endif
