/* SPDX-License-Identifier: MIT
 *
 * workload: jobs laid into days.
 *
 * First each day, from the first on, takes the most urgent of the visits that can be there (the rule
 * of the earliest due date: J. R. Jackson, 1955), so that nothing is late that need not be. Then each
 * visit, the least urgent first, moves to the last day that is in time and has room, until none can
 * better its day. */
#include "daemon/upkeep/workload.h"

#include "daemon/upkeep/compare.h"

/* What of a job's minutes falls on a day. A booked one is begun on a closed day too. */
static int32_t part_of(const struct workload_day *day, int32_t minutes, bool booked_here)
{
    return booked_here && day->minutes == 0 ? minutes : (int32_t)lesser(minutes, day->minutes);
}

static bool has_room(const struct workload_day *days, size_t day_count, size_t first,
                     int32_t minutes)
{
    bool room = days[first].minutes > 0;
    for (size_t i = first; i < day_count && room && minutes > 0; i++) {
        int32_t part = part_of(&days[i], minutes, false);
        room = part <= greater(days[i].free_minutes, 0);
        minutes -= part;
    }
    return room;
}

static void take(struct workload_day *days, size_t day_count, int32_t first, int32_t minutes)
{
    for (size_t i = (size_t)first; i < day_count && minutes > 0; i++) {
        int32_t part = part_of(&days[i], minutes, i == (size_t)first);
        days[i].free_minutes -= part;
        minutes -= part;
    }
}

static void put(struct workload_day *days, size_t day_count, struct workload_job *job, int32_t day)
{
    job->day = day;
    if (day != WORKLOAD_NONE) {
        take(days, day_count, day, job->visit_minutes);
    }
}

static void lift(struct workload_day *days, size_t day_count, struct workload_job *job)
{
    int32_t minutes = job->visit_minutes;
    for (size_t i = (size_t)job->day; job->day != WORKLOAD_NONE && i < day_count; i++) {
        int32_t part = part_of(&days[i], minutes, false);
        days[i].free_minutes += part;
        minutes -= part;
    }
    job->day = WORKLOAD_NONE;
}

static bool may_join(const struct workload_job *job, const struct workload_job *visit)
{
    return !visit->booked && job->machine == visit->machine &&
           (int64_t)job->by - visit->by <= WORKLOAD_TOGETHER_DAYS &&
           job->from <= greater(visit->from, visit->by);
}

/* Each job becomes a visit of its own, or part of an earlier one of its machine. */
static void gather(struct workload_job *jobs, size_t job_count)
{
    for (size_t i = 0; i < job_count; i++) {
        struct workload_job *job = &jobs[i];
        size_t visit = i;
        for (size_t j = 0; j < i && !job->booked && visit == i; j++) {
            visit = jobs[j].visit == j && may_join(job, &jobs[j]) ? j : i;
        }
        job->day = job->booked ? job->day : WORKLOAD_NONE;
        job->visit = visit;
        job->visit_from = job->from;
        job->visit_minutes = job->minutes;
        if (visit != i) {
            jobs[visit].visit_from = (int32_t)greater(jobs[visit].visit_from, job->from);
            jobs[visit].visit_minutes += job->minutes;
        }
    }
}

static bool is_visit(const struct workload_job *jobs, size_t job)
{
    return jobs[job].visit == job && !jobs[job].booked;
}

static void lay_early(struct workload_day *days, size_t day_count, struct workload_job *jobs,
                      size_t job_count)
{
    for (size_t day = 0; day < day_count; day++) {
        for (size_t i = 0; i < job_count; i++) {
            struct workload_job *job = &jobs[i];
            if (is_visit(jobs, i) && job->day == WORKLOAD_NONE && (size_t)job->visit_from <= day &&
                has_room(days, day_count, day, job->visit_minutes)) {
                put(days, day_count, job, (int32_t)day);
            }
        }
    }
}

/* The last day in time that has room, else the first one after. */
static int32_t best_day(const struct workload_day *days, size_t day_count,
                        const struct workload_job *job)
{
    int32_t last = (int32_t)day_count - 1;
    for (int32_t day = (int32_t)lesser(job->by, last); day >= job->visit_from; day--) {
        if (has_room(days, day_count, (size_t)day, job->visit_minutes)) {
            return day;
        }
    }
    int32_t day = (int32_t)greater((int64_t)job->by + 1, job->visit_from);
    while (day <= last && !has_room(days, day_count, (size_t)day, job->visit_minutes)) {
        day++;
    }
    return day <= last ? day : WORKLOAD_NONE;
}

/* Each visit to its best day, the least urgent first. True where one of them moved. */
static bool better(struct workload_day *days, size_t day_count, struct workload_job *jobs,
                   size_t job_count)
{
    bool moved = false;
    for (size_t i = job_count; i > 0; i--) {
        struct workload_job *job = &jobs[i - 1];
        if (is_visit(jobs, i - 1)) {
            int32_t before = job->day;
            lift(days, day_count, job);
            put(days, day_count, job, best_day(days, day_count, job));
            moved = moved || job->day != before;
        }
    }
    return moved;
}

void workload_lay(struct workload_day *days, size_t day_count, struct workload_job *jobs,
                  size_t job_count)
{
    gather(jobs, job_count);
    for (size_t i = 0; i < job_count; i++) {
        if (jobs[i].booked) {
            take(days, day_count, jobs[i].day, jobs[i].minutes);
        }
    }
    lay_early(days, day_count, jobs, job_count);
    for (size_t i = 0; i < job_count && better(days, day_count, jobs, job_count); i++) {
    }
    for (size_t i = 0; i < job_count; i++) {
        jobs[i].day = jobs[jobs[i].visit].day;
    }
}
