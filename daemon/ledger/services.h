/* SPDX-License-Identifier: MIT
 * services: the service record. Never erased, only struck out. */
#ifndef METERPOST_DAEMON_LEDGER_SERVICES_H
#define METERPOST_DAEMON_LEDGER_SERVICES_H

#include "daemon/ledger/ledger.h"

#define SERVICES_PLAN_OCTETS 17
#define SERVICES_REMARK_OCTETS 321

struct service_row {
    int64_t id;
    int64_t machine_id;
    char plan[SERVICES_PLAN_OCTETS];
    int64_t meter_hundredths;
    int64_t true_hundredths; /* filled when read: meter plus the offset in force at done_s */
    int64_t done_s; /* when it was done; where no day was said the earliest it can be, 0 unknown */
    int64_t noted_s;
    int64_t person_id, text_id;
    int64_t quantity_thousandths; /* 0 unsaid */
    char unit[4];                 /* "qt", "l" or "" */
    char remark[SERVICES_REMARK_OCTETS];
    bool struck;
    bool undated; /* no day was said */
};

/* id and true_hundredths of *row are filled in. */
enum ledger_result services_add(struct ledger *ledger, struct service_row *row);

/* The standing service done by until_s with the most true hours; LEDGER_NONE when there is none. */
enum ledger_result services_last(struct ledger *ledger, int64_t machine_id, const char *plan,
                                 int64_t until_s, struct service_row *row);
/* Whether that service of that moment stands on record. */
enum ledger_result services_stand(struct ledger *ledger, const struct service_row *row,
                                  bool *found);
enum ledger_result services_each(struct ledger *ledger, int64_t machine_id,
                                 void (*each)(void *ctx, const struct service_row *row), void *ctx);

#endif
