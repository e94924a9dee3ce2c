/* SPDX-License-Identifier: MIT
 * lookup: see lookup.h. */
#include "daemon/counter/lookup.h"

#include <strings.h>

#include "parsers/nearest.h"

static int32_t none(const char *what, const struct nearest *nearest, FILE *err)
{
    (void)fprintf(err, "meterpost: no %s %s", what, nearest->word);
    if (nearest->name != NULL) {
        (void)fprintf(err, "; did you mean %s?", nearest->name);
    }
    (void)fputc('\n', err);
    return -1;
}

int32_t lookup_machine(const struct settings *settings, const char *name, FILE *err)
{
    struct nearest nearest;
    int32_t machine = settings_find_machine(settings, name);
    if (machine >= 0) {
        return machine;
    }
    nearest_begin(&nearest, name);
    for (size_t i = 0; i < settings->machine_count; i++) {
        nearest_offer(&nearest, settings->machines[i].name);
    }
    return none("machine", &nearest, err);
}

int32_t lookup_plan(const struct settings *settings, int32_t machine, const char *name, FILE *err)
{
    const struct settings_kind *kind = &settings->kinds[settings->machines[machine].kind];
    struct nearest nearest;
    nearest_begin(&nearest, name);
    for (size_t i = 0; i < kind->plan_count; i++) {
        const char *plan = settings->plans[kind->plans[i]].name;
        if (strcasecmp(plan, name) == 0) {
            return (int32_t)kind->plans[i];
        }
        nearest_offer(&nearest, plan);
    }
    return none("plan", &nearest, err);
}
