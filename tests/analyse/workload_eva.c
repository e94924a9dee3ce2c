/* SPDX-License-Identifier: MIT
 * workload for the sound analyser: any three jobs in any four days.
 * eva: -eva-precision 3 */
#include <__fc_builtin.h>

#include "daemon/upkeep/workload.h"

#define DAYS 4
#define JOBS 3

int main(void)
{
    struct workload_day days[DAYS];
    struct workload_job jobs[JOBS] = {{0}};
    for (int i = 0; i < DAYS; i++) {
        days[i].minutes = days[i].free_minutes = Frama_C_interval(0, 72000);
    }
    for (int i = 0; i < JOBS; i++) {
        jobs[i].machine = Frama_C_interval(0, 2);
        jobs[i].minutes = Frama_C_interval(0, 14400);
        jobs[i].from = Frama_C_interval(0, 1000);
        jobs[i].by = Frama_C_interval(-1000000, 1000000);
        jobs[i].booked = Frama_C_interval(0, 1);
        jobs[i].day = Frama_C_interval(0, DAYS - 1);
    }
    workload_lay(days, DAYS, jobs, JOBS);
    return 0;
}
