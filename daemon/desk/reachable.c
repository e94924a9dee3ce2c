/* SPDX-License-Identifier: MIT
 * reachable: a walk over the roster, asking the ledger who has opted out. */
#include "daemon/desk/reachable.h"

#include "daemon/desk/room.h"
#include "daemon/ledger/people.h"

enum ledger_result reachable_each(struct desk *desk,
                                  enum ledger_result (*each)(void *ctx, int32_t person), void *ctx,
                                  int *count)
{
    *count = 0;
    for (size_t i = 0; i < desk->settings->person_count; i++) {
        const struct settings_person *person = &desk->settings->people[i];
        int64_t person_id = 0;
        int64_t since_s = 0;
        if (person->role != SETTINGS_ROLE_SHOP) {
            continue;
        }
        enum ledger_result result = people_id(desk->ledger, person->name, &person_id);
        if (result == LEDGER_OK) {
            result = people_opted_out(desk->ledger, person_id, &since_s);
        }
        if (result == LEDGER_OK && since_s == 0) {
            result = each(ctx, (int32_t)i);
            *count += result == LEDGER_OK;
        }
        if (result != LEDGER_OK) {
            return result;
        }
    }
    return LEDGER_OK;
}
