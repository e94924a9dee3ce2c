/* SPDX-License-Identifier: MIT
 *
 * bay: what the shop has to do, day by day. */
#include "daemon/yard/bay.h"

#include <stdlib.h>

#include "daemon/ground/zone.h"
#include "daemon/upkeep/civil.h"
#include "daemon/upkeep/compare.h"
#include "daemon/upkeep/workload.h"
#include "daemon/yard/shelf.h"

bool bay_open_on(const struct settings_shop *shop, int32_t day)
{
    for (size_t i = 0; i < shop->holiday_count; i++) {
        if (shop->holidays[i] == day) {
            return false;
        }
    }
    return shop->workdays[civil_weekday(day)];
}

/* A plan that nears, or has its booking. */
struct errand {
    const struct yard_standing *standing;
    struct workload_job job;
};

/* A look ahead while it is reckoned. */
struct outlook {
    const struct settings *settings;
    int32_t today;
    int32_t from; /* the first day for what is suggested, 0 today */
    size_t day_count;
    struct workload_day *days;
    struct yard_standing *standings; /* worst first */
    size_t standing_count;
    struct errand *errands;
    struct workload_job *jobs; /* the errands' own, in their order */
    size_t count;
};

/* Past closing time nothing is suggested for today. */
static void open_days(struct outlook *outlook, int64_t now_s)
{
    const struct settings_shop *shop = &outlook->settings->shop;
    outlook->from = zone_civil(now_s).second_of_day >= shop->alert_until_minute * 60 ? 1 : 0;
    for (size_t i = 0; i < outlook->day_count; i++) {
        bool open = bay_open_on(shop, outlook->today + (int32_t)i);
        outlook->days[i].minutes = open ? shop->bays * shop->bay_minutes : 0;
        outlook->days[i].free_minutes = outlook->days[i].minutes;
    }
}

/* The day by which a plan is wanted. Where nothing says when it will come, soon. */
static int32_t wanted_by(const struct outlook *outlook, const struct yard_standing *standing)
{
    if (due_stage_row(standing->stage)->reached) {
        return standing->due_day;
    }
    return standing->has_forecast
               ? (int32_t)greater(standing->earliest_day, outlook->today)
               : outlook->today + outlook->settings->plans[standing->plan].plan.notice_days;
}

static bool nears_by(const struct yard_standing *standing, int32_t by, int32_t until_day)
{
    const struct due_stage_row *stage = due_stage_row(standing->stage);
    bool reckoned = !stage->rests && standing->stage != DUE_STAGE_NO_RECORD;
    return reckoned && (stage->tells || standing->has_forecast) && by <= until_day;
}

/* The day on which the machine is in the shop, by a booking or already there. */
static bool in_bay_on(const struct outlook *outlook, const struct yard_standing *standing,
                      int32_t *day)
{
    size_t open = 0;
    while (open < outlook->day_count && outlook->days[open].minutes == 0) {
        open++;
    }
    *day = standing->in_shop ? outlook->today + (int32_t)open : standing->booked_day;
    return standing->in_shop || (standing->booked && standing->booked_day >= outlook->today);
}

static void add_errand(struct outlook *outlook, const struct yard_standing *standing, int32_t by,
                       bool booked, int32_t day)
{
    if (booked && day - outlook->today >= (int32_t)outlook->day_count) {
        return;
    }
    outlook->errands[outlook->count++] =
        (struct errand){.standing = standing,
                        .job = {.machine = standing->machine,
                                .minutes = outlook->settings->plans[standing->plan].plan.minutes,
                                .by = by - outlook->today,
                                .booked = booked,
                                .day = booked ? day - outlook->today : WORKLOAD_NONE}};
}

static bool has_errand(const struct outlook *outlook, int32_t machine)
{
    bool found = false;
    for (size_t i = 0; i < outlook->count; i++) {
        found =
            found || (outlook->errands[i].job.booked && outlook->errands[i].job.machine == machine);
    }
    return found;
}

static void find_errands(struct outlook *outlook)
{
    int32_t until_day = outlook->today + (int32_t)outlook->day_count - 1;
    int32_t day = 0;
    for (size_t i = 0; i < outlook->standing_count; i++) {
        const struct yard_standing *standing = &outlook->standings[i];
        int32_t by = wanted_by(outlook, standing);
        bool in_bay = in_bay_on(outlook, standing, &day);
        if (in_bay && nears_by(standing, by, day + WORKLOAD_TOGETHER_DAYS)) {
            add_errand(outlook, standing, by, true, day);
        } else if (!standing->in_shop && nears_by(standing, by, until_day)) {
            add_errand(outlook, standing, by, false, 0);
        }
    }
    for (size_t i = 0; i < outlook->standing_count; i++) {
        const struct yard_standing *standing = &outlook->standings[i];
        if (in_bay_on(outlook, standing, &day) && standing->booked &&
            !has_errand(outlook, standing->machine)) {
            add_errand(outlook, standing, wanted_by(outlook, standing), true, day);
        }
    }
}

static int compare_errands(const void *one, const void *other)
{
    const struct errand *a = one;
    const struct errand *b = other;
    int order = compare(a->job.by, b->job.by);
    return order != 0 ? order : compare(a->standing - b->standing, 0);
}

/* The most urgent first, and each not before its parts can be there. */
static void order_errands(struct outlook *outlook)
{
    struct shelf shelf = {0};
    qsort(outlook->errands, outlook->count, sizeof *outlook->errands, compare_errands);
    for (size_t i = 0; i < outlook->count; i++) {
        struct errand *errand = &outlook->errands[i];
        int32_t lead_days = shelf_take(&shelf, outlook->settings,
                                       &outlook->settings->plans[errand->standing->plan]);
        errand->job.from = (int32_t)greater(lead_days, outlook->from);
        outlook->jobs[i] = errand->job;
    }
    shelf_free(&shelf);
}

/* Jobs day by day, booked ones first. */
static void fill_days(const struct outlook *outlook, struct bay *bay)
{
    size_t count = 0;
    for (size_t day = 0; day < outlook->day_count; day++) {
        struct bay_day *row = &bay->days[day];
        *row = (struct bay_day){.day = outlook->today + (int32_t)day,
                                .minutes = outlook->days[day].minutes,
                                .free_minutes = outlook->days[day].free_minutes,
                                .jobs = &bay->jobs[count]};
        for (size_t i = 0; i < 2 * outlook->count; i++) {
            const struct workload_job *job = &outlook->jobs[i % outlook->count];
            const struct yard_standing *standing = outlook->errands[i % outlook->count].standing;
            if (job->day == (int32_t)day && job->booked == (i < outlook->count)) {
                bay->jobs[count++] = (struct bay_job){.machine = standing->machine,
                                                      .plan = standing->plan,
                                                      .minutes = job->minutes,
                                                      .booked = job->booked};
                row->job_count++;
            }
        }
    }
}

static bool make_room(struct outlook *outlook, struct bay *bay)
{
    size_t most = outlook->standing_count + 1;
    bay->day_count = outlook->day_count;
    bay->days = calloc(outlook->day_count, sizeof *bay->days);
    bay->jobs = calloc(most, sizeof *bay->jobs);
    outlook->days = calloc(outlook->day_count, sizeof *outlook->days);
    outlook->errands = calloc(most, sizeof *outlook->errands);
    outlook->jobs = calloc(most, sizeof *outlook->jobs);
    return bay->days != NULL && bay->jobs != NULL && outlook->days != NULL &&
           outlook->errands != NULL && outlook->jobs != NULL;
}

enum ledger_result bay_reckon(struct yard *yard, int64_t now_s, int32_t until_day, struct bay *bay)
{
    struct outlook outlook = {.settings = yard->settings, .today = zone_civil(now_s).day};
    int64_t days = lesser(greater((int64_t)until_day - outlook.today + 1, 1), BAY_DAYS_MOST);
    *bay = (struct bay){0};
    enum ledger_result result =
        yard_stand_all(yard, now_s, &outlook.standings, &outlook.standing_count);
    outlook.day_count = (size_t)days;
    if (result == LEDGER_OK && !make_room(&outlook, bay)) {
        result = LEDGER_IO;
    }
    if (result == LEDGER_OK) {
        open_days(&outlook, now_s);
        find_errands(&outlook);
        order_errands(&outlook);
        workload_lay(outlook.days, outlook.day_count, outlook.jobs, outlook.count);
        fill_days(&outlook, bay);
    } else {
        bay_free(bay);
    }
    free(outlook.days);
    free(outlook.errands);
    free(outlook.jobs);
    free(outlook.standings);
    return result;
}

void bay_free(struct bay *bay)
{
    free(bay->days);
    free(bay->jobs);
    *bay = (struct bay){0};
}

bool bay_suggested(const struct bay *bay, int32_t machine, int32_t plan, int32_t *day)
{
    for (size_t i = 0; i < bay->day_count; i++) {
        for (size_t j = 0; j < bay->days[i].job_count; j++) {
            const struct bay_job *job = &bay->days[i].jobs[j];
            if (job->machine == machine && job->plan == plan && !job->booked) {
                *day = bay->days[i].day;
                return true;
            }
        }
    }
    return false;
}
