/* SPDX-License-Identifier: MIT
 * sheet: a job sheet to print, for one service of one machine: what is known of it, cautions, the kit, the
 * steps, room to write down, and what to text when it is done. All that is of this service comes from
 * its plan. The usual cautions stand on every sheet, whatever the config says: work on a lifted machine
 * can kill. */
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/paper.h"
#include "daemon/counter/sheet_labels.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/record.h"
#include "daemon/yard/shelf.h"

#define LINE_OCTETS 512
#define TEXT_OCTETS 96
#define REMARKS_MAX 5 /* the latest */

struct job_remark {
    int64_t at_s;
    char person[PEOPLE_NAME_OCTETS];
    char says[TROUBLES_WORDS_OCTETS];
};

struct job {
    const struct counter *counter;
    const struct sheet_labels *labels;
    const struct settings_machine *machine;
    const struct settings_plan *plan;
    struct yard_standing standing;
    const char *title; /* in the language of the sheet */
    int32_t minutes;
    int64_t
        fluid_thousandths;    /* all of one service, in the shop's unit; 0 where the kit has none */
    int64_t took_thousandths; /* what DONE said of this machine, typically; 0 not known */
    const char *fluid_unit;   /* "" where there is none */
    int32_t fluid_sides;      /* that share it; 0 where several fluids have their own */
    bool several_fluids;
    char text[TEXT_OCTETS]; /* what to text when it is done; the figures go behind it */
    struct job_remark remarks[REMARKS_MAX]; /* since the last service, oldest first */
    size_t remark_count;
};

/* "at 975 h (about 2027-04-20), by 2027-05-07, whichever comes first"; the first of them first. */
static const char *point(const struct job *job, char room[LINE_OCTETS])
{
    const struct sheet_labels *labels = job->labels;
    const struct yard_standing *standing = &job->standing;
    char hours[HOURS_TEXT_OCTETS], day[CIVIL_TEXT_OCTETS],
        by_hours[LINE_OCTETS / 4] = "", by_date[LINE_OCTETS / 4] = "";
    bool dated = standing->by == DUE_BY_HOURS && standing->has_forecast;
    if (standing->has_due) {
        (void)snprintf(by_hours, sizeof by_hours, "%s %s h%s%s%s%s%s", labels->at,
                       hours_or_blank(true, standing->due_meter_hundredths, hours),
                       dated ? " (" : "", dated ? labels->about : "", dated ? " " : "",
                       day_or_blank(dated, standing->due_day, day), dated ? ")" : "");
    }
    if (standing->has_limit_day) {
        (void)snprintf(by_date, sizeof by_date, "%s %s", labels->by,
                       day_or_blank(true, standing->limit_day, day));
    }
    bool both = by_hours[0] != '\0' && by_date[0] != '\0', date = standing->by == DUE_BY_DATE;
    (void)snprintf(room, LINE_OCTETS, "%s%s%s%s%s", date ? by_date : by_hours, both ? ", " : "",
                   date ? by_hours : by_date, both ? ", " : "", both ? labels->whichever : "");
    return room[0] != '\0' ? room : labels->unknown;
}

/* "1340 h on 2027-03-14" */
static const char *figure_on(const struct job *job, int64_t hundredths, bool dated, int32_t day,
                             char room[LINE_OCTETS])
{
    char hours[HOURS_TEXT_OCTETS], on[CIVIL_TEXT_OCTETS];
    (void)snprintf(room, LINE_OCTETS, "%s h%s%s%s%s", hours_or_blank(true, hundredths, hours),
                   dated ? " " : "", dated ? job->labels->on : "", dated ? " " : "",
                   day_or_blank(dated, day, on));
    return room;
}

static void put_facts(const struct job *job, struct paper *paper)
{
    const struct sheet_labels *labels = job->labels;
    const struct settings *settings = job->counter->settings;
    const struct settings_machine *machine = job->machine;
    const struct yard_standing *standing = &job->standing;
    const char *const of[] = {settings->kinds[machine->kind].name, machine->serial, machine->site,
                              machine->owner};
    char room[LINE_OCTETS];
    size_t used = (size_t)snprintf(room, sizeof room, "%s", machine->name);
    for (size_t i = 0; i < sizeof of / sizeof of[0] && used < sizeof room; i++) {
        used += (size_t)snprintf(&room[used], sizeof room - used, "%s%s",
                                 of[i][0] != '\0' ? ", " : "", of[i]);
    }
    paper_fact(paper, labels->machine, room);
    paper_fact(paper, labels->due, point(job, room));
    paper_fact(paper, labels->meter,
               standing->read ? figure_on(job, standing->meter_hundredths, true,
                                          zone_civil(standing->read_s).day, room)
                              : labels->never_read);
    paper_fact(paper, labels->last,
               standing->serviced
                   ? figure_on(job, standing->last_done_meter_hundredths,
                               standing->last_done_day_known, standing->last_done_day, room)
                   : labels->never_done);
    if (standing->booked) {
        paper_fact(paper, labels->booked, day_or_blank(true, standing->booked_day, room));
    }
    (void)snprintf(room, sizeof room, "%s %d min", labels->about, job->minutes);
    paper_fact(paper, labels->time, room);
}

static bool has_trouble(const struct job *job)
{
    const struct counter *counter = job->counter;
    for (size_t i = 0; i < counter->trouble_count; i++) {
        if (counter->troubles[i].machine == job->standing.machine) {
            return true;
        }
    }
    return false;
}

/* What the yard said of it. */
static void put_words(const struct job *job, struct paper *paper)
{
    const struct counter *counter = job->counter;
    char says[COUNTER_TROUBLE_OCTETS], at[ZONE_TEXT_OCTETS];
    if (has_trouble(job)) {
        paper_heading(paper, job->labels->reported);
    }
    for (size_t i = 0; i < counter->trouble_count; i++) {
        if (counter->troubles[i].machine == job->standing.machine) {
            paper_item(paper, "[ ]", counter_trouble_says(&counter->troubles[i], says));
        }
    }
    if (job->remark_count > 0) {
        paper_heading(paper, job->labels->remarks);
    }
    for (size_t i = 0; i < job->remark_count; i++) {
        const struct job_remark *remark = &job->remarks[i];
        char words[TROUBLES_WORDS_OCTETS * 4];
        zone_write_rfc3339(remark->at_s, at, sizeof at);
        (void)snprintf(says, sizeof says, "%.10s%s%s: %s", at, remark->person[0] != '\0' ? " " : "",
                       remark->person,
                       log_text(remark->says, strlen(remark->says), words, sizeof words));
        paper_item(paper, "[ ]", says);
    }
}

/* What to mind, what to fetch, what to do. */
static void put_work(const struct job *job, struct paper *paper)
{
    const struct sheet_labels *labels = job->labels;
    const struct settings_plan *plan = job->plan;
    char quantity[QUANTITY_TEXT_OCTETS], line[LINE_OCTETS], mark[32];
    paper_heading(paper, labels->cautions);
    for (size_t i = 0; i < SHEET_CAUTIONS; i++) {
        paper_item(paper, "!", labels->usual_cautions[i]);
    }
    for (size_t i = 0; i < plan->caution_count; i++) {
        paper_item(paper, "!", plan->cautions[i]);
    }
    if (plan->kit_count > 0) {
        paper_heading(paper, labels->kit);
    }
    for (size_t i = 0; i < plan->kit_count; i++) {
        const struct settings_kit_item *kit = &plan->kit[i];
        bool pieces = !kit_unit_row(kit->unit)->fluid; /* two filters are no "2 piece" */
        (void)snprintf(line, sizeof line, "%s%s%s  %s",
                       quantity_write(kit->quantity_thousandths, quantity), pieces ? "" : " ",
                       pieces ? "" : kit_unit_name(kit->unit), kit->item);
        paper_item(paper, "[ ]", line);
    }
    if (job->fluid_thousandths > 0 && job->several_fluids) {
        (void)snprintf(line, sizeof line, "%s %s %s", labels->in_all,
                       quantity_write(job->fluid_thousandths, quantity), job->fluid_unit);
        paper_item(paper, "   ", line);
    }
    if (job->took_thousandths > 0) {
        (void)snprintf(line, sizeof line, "%s %s %s", labels->took,
                       quantity_write(job->took_thousandths, quantity), job->fluid_unit);
        paper_item(paper, "   ", line);
    }
    paper_heading(paper, labels->steps);
    if (plan->step_count == 0) {
        paper_item(paper, "[ ]", labels->no_steps);
    }
    for (size_t i = 0; i < plan->step_count; i++) {
        (void)snprintf(mark, sizeof mark, "[ ] %2zu", i + 1);
        paper_item(paper, mark, plan->steps[i]);
    }
}

/* A side's name; of more than two they are numbered. */
static const char *side_name(const struct sheet_labels *labels, int32_t side, int32_t sides,
                             char room[32])
{
    if (sides == 2) {
        return side == 0 ? labels->left : labels->right;
    }
    (void)snprintf(room, 32, "%s %d", labels->side, side + 1);
    return room;
}

/* An item of the kit: how much each side took, or that it was changed there. */
static void put_kit_blanks(const struct job *job, const struct settings_kit_item *kit,
                           struct paper *paper)
{
    const struct sheet_labels *labels = job->labels;
    bool fluid = kit_unit_row(kit->unit)->fluid;
    const char *unit = fluid ? kit_unit_name(kit->unit) : "";
    char label[LINE_OCTETS], rooms[4][32];
    struct paper_blank blanks[4] = {{label, fluid ? 8 : 0, unit}};
    int32_t sides = kit->sides >= 1 && kit->sides <= 4 ? kit->sides : 1;
    (void)snprintf(label, sizeof label, "%s:%s%s", kit->item, fluid && sides == 1 ? "" : " ",
                   sides > 1 ? side_name(labels, 0, sides, rooms[0])
                   : fluid   ? ""
                             : labels->changed);
    for (int32_t side = 1; side < sides; side++) {
        blanks[side] =
            (struct paper_blank){side_name(labels, side, sides, rooms[side]), fluid ? 8 : 0, unit};
    }
    paper_blanks(paper, blanks, (size_t)sides);
}

static void put_blanks(const struct job *job, struct paper *paper)
{
    const struct sheet_labels *labels = job->labels;
    const struct settings_plan *plan = job->plan;
    paper_heading(paper, labels->write_down);
    paper_blanks(paper,
                 (const struct paper_blank[]){{labels->meter, 7, "h"},
                                              {labels->date, 10, ""},
                                              {labels->done_by, 12, ""},
                                              {labels->initials, 5, ""}},
                 4);
    for (size_t i = 0; i < plan->kit_count; i++) {
        put_kit_blanks(job, &plan->kit[i], paper);
    }
    for (size_t i = 0; i < plan->blank_count; i++) {
        paper_blanks(paper, &(struct paper_blank){plan->blanks[i], 24, ""}, 1);
    }
    if (plan->plan.recheck_after_hundredths > 0) {
        paper_blanks(paper,
                     (const struct paper_blank[]){{labels->level, 0, ""},
                                                  {labels->topped, 8, job->fluid_unit}},
                     job->fluid_thousandths > 0 ? 2 : 1);
    }
    paper_blanks(paper, &(struct paper_blank){labels->remark, 60, ""}, 1);
}

/* The words to text, with room for the figures; each side's where they share one fluid. */
static void put_texts(const struct job *job, struct paper *paper)
{
    const struct sheet_labels *labels = job->labels;
    const char *number = job->counter->settings->shop.number;
    char line[LINE_OCTETS];
    (void)snprintf(line, sizeof line, "%s%s%s", labels->text, number[0] != '\0' ? ": " : "",
                   number);
    paper_heading(paper, line);
    if (job->fluid_sides == 2) {
        (void)snprintf(line, sizeof line, "%s ______ %s ____ %s %s ____ %s", job->text,
                       labels->left, job->fluid_unit, labels->right, job->fluid_unit);
    } else {
        (void)snprintf(line, sizeof line, "%s ______%s%s", job->text,
                       job->fluid_thousandths > 0 ? " ____ " : "", job->fluid_unit);
    }
    paper_typed(paper, line);
    if (has_trouble(job)) {
        paper_heading(paper, labels->text_solved);
        (void)snprintf(line, sizeof line, "%s %s", job->machine->name, labels->solved);
        paper_typed(paper, line);
    }
}

static int print_sheet(const struct job *job)
{
    const struct counter *counter = job->counter;
    struct paper paper;
    char title[LINE_OCTETS];
    (void)snprintf(title, sizeof title, "%s: %s, %s", job->labels->job_sheet, job->title,
                   counter->settings->shop.name);
    if (!paper_begin(&paper, counter->options->page ? job->labels->language : NULL, title,
                     counter->out)) {
        return EX_OSERR;
    }
    put_facts(job, &paper);
    put_words(job, &paper);
    put_work(job, &paper);
    put_blanks(job, &paper);
    put_texts(job, &paper);
    return paper_end(&paper);
}

/* ---- as JSON */

static void add_lines(struct json_object *array, const char *const *lines, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        (void)json_object_array_add(array, json_object_new_string(lines[i]));
    }
}

static struct json_object *cautions_json(const struct settings *settings, const void *row)
{
    const struct job *job = row;
    struct json_object *array = json_object_new_array();
    (void)settings;
    add_lines(array, job->labels->usual_cautions, SHEET_CAUTIONS);
    add_lines(array, job->plan->cautions, job->plan->caution_count);
    return array;
}

static struct json_object *steps_json(const struct settings *settings, const void *row)
{
    const struct job *job = row;
    struct json_object *array = json_object_new_array();
    (void)settings;
    add_lines(array, job->plan->steps, job->plan->step_count);
    return array;
}

static struct json_object *blanks_json(const struct settings *settings, const void *row)
{
    const struct job *job = row;
    struct json_object *array = job->plan->blank_count > 0 ? json_object_new_array() : NULL;
    (void)settings;
    add_lines(array, job->plan->blanks, job->plan->blank_count);
    return array;
}

static struct json_object *remarks_json(const struct settings *settings, const void *row)
{
    static const struct column list[] = {
        {NULL, "at", COLUMN_TIME, .at = offsetof(struct job_remark, at_s)},
        {NULL, "person", COLUMN_CHARS, .at = offsetof(struct job_remark, person)},
        {NULL, "says", COLUMN_CHARS, .at = offsetof(struct job_remark, says)},
    };
    static const struct columns columns = {COLUMNS(list), false};
    const struct job *job = row;
    struct json_object *array = job->remark_count > 0 ? json_object_new_array() : NULL;
    for (size_t i = 0; i < job->remark_count; i++) {
        (void)json_object_array_add(array, columns_json(&columns, settings, &job->remarks[i]));
    }
    return array;
}

static struct json_object *kit_json(const struct settings *settings, const void *row)
{
    static const struct column list[] = {
        {NULL, "item", COLUMN_TEXT, .at = offsetof(struct settings_kit_item, item)},
        {NULL, "quantity", COLUMN_QUANTITY,
         .at = offsetof(struct settings_kit_item, quantity_thousandths)},
        {NULL, "unit", COLUMN_UNIT, .at = offsetof(struct settings_kit_item, unit)},
        {NULL, "sides", COLUMN_COUNT, .at = offsetof(struct settings_kit_item, sides)},
    };
    static const struct columns columns = {COLUMNS(list), false};
    const struct job *job = row;
    struct json_object *array = json_object_new_array();
    for (size_t i = 0; i < job->plan->kit_count; i++) {
        (void)json_object_array_add(array, columns_json(&columns, settings, &job->plan->kit[i]));
    }
    return array;
}

static struct json_object *trouble_json(const struct settings *settings, const void *row)
{
    const struct job *job = row;
    (void)settings;
    return counter_troubles_json(job->counter, job->standing.machine, NULL);
}

static const char *language(const struct settings *settings, const void *row,
                            char room[TABLE_SHOWN_OCTETS])
{
    (void)settings, (void)room;
    return ((const struct job *)row)->labels->language;
}

#define AT(field) offsetof(struct job, field)
static const struct column job_list[] = {
    {NULL, "machine", COLUMN_MACHINE, .at = AT(standing.machine)},
    {NULL, "plan", COLUMN_PLAN, .at = AT(standing.plan)},
    {NULL, "title", COLUMN_TEXT, .at = AT(title)},
    {NULL, "language", COLUMN_OWN, .say = language},
    {NULL, "due_hours", COLUMN_HOURS, .at = AT(standing.due_true_hundredths),
     .if_true = {AT(standing.has_due)}},
    {NULL, "due_meter", COLUMN_HOURS, .at = AT(standing.due_meter_hundredths),
     .if_true = {AT(standing.has_due)}},
    {NULL, "due_by", COLUMN_DAY, .at = AT(standing.limit_day),
     .if_true = {AT(standing.has_limit_day)}},
    {NULL, "meter", COLUMN_HOURS, .at = AT(standing.meter_hundredths),
     .if_true = {AT(standing.read)}},
    {NULL, "read_at", COLUMN_TIME, .at = AT(standing.read_s), .if_true = {AT(standing.read)}},
    {NULL, "last_done_hours", COLUMN_HOURS, .at = AT(standing.last_done_true_hundredths),
     .if_true = {AT(standing.serviced)}},
    {NULL, "last_done_on", COLUMN_DAY, .at = AT(standing.last_done_day),
     .if_true = {AT(standing.serviced), AT(standing.last_done_day_known)}},
    {NULL, "booked_on", COLUMN_DAY, .at = AT(standing.booked_day),
     .if_true = {AT(standing.booked)}},
    {NULL, "minutes", COLUMN_COUNT, .at = AT(minutes)},
    {NULL, "trouble", COLUMN_OWN, .json = trouble_json},
    {NULL, "remarks", COLUMN_OWN, .json = remarks_json},
    {NULL, "cautions", COLUMN_OWN, .json = cautions_json},
    {NULL, "kit", COLUMN_OWN, .json = kit_json},
    {NULL, "fluid", COLUMN_QUANTITY, .at = AT(fluid_thousandths), .when = COLUMN_FROM_1},
    {NULL, "took", COLUMN_QUANTITY, .at = AT(took_thousandths), .when = COLUMN_FROM_1},
    {NULL, "fluid_unit", COLUMN_TEXT, .at = AT(fluid_unit)},
    {NULL, "steps", COLUMN_OWN, .json = steps_json},
    {NULL, "blanks", COLUMN_OWN, .json = blanks_json},
    {NULL, "text", COLUMN_CHARS, .at = AT(text)},
};
#undef AT
static const struct columns job_columns = {COLUMNS(job_list), false};

/* ---- what is put on it */

/* A remark, or one beside a reading, since the last service; the latest are kept. */
static void take_remark(void *ctx, const char *machine, const struct record_line *line)
{
    struct job *job = ctx;
    const struct counter *counter = job->counter;
    const struct yard_standing *standing = &job->standing;
    bool worded = strcmp(line->kind, "remark") == 0 || strcmp(line->kind, "reading") == 0;
    bool since = !standing->serviced || !standing->last_done_day_known ||
                 zone_civil(line->at_s).day >= standing->last_done_day;
    (void)machine;
    for (size_t i = 0; i < counter->trouble_count; i++) { /* it stands as trouble already */
        worded = worded && strcmp(counter->troubles[i].says, line->remark) != 0;
    }
    for (size_t i = 0; i < job->remark_count; i++) { /* beside its reading, and as a remark */
        worded = worded && (job->remarks[i].at_s != line->at_s ||
                            strcmp(job->remarks[i].says, line->remark) != 0);
    }
    if (!worded || !since || line->remark[0] == '\0' || line->struck_s != 0 ||
        line->at_s > counter->now_s) {
        return;
    }
    if (job->remark_count == REMARKS_MAX) {
        memmove(&job->remarks[0], &job->remarks[1], (REMARKS_MAX - 1) * sizeof job->remarks[0]);
        job->remark_count--;
    }
    struct job_remark *remark = &job->remarks[job->remark_count++];
    remark->at_s = line->at_s;
    (void)snprintf(remark->person, sizeof remark->person, "%s", line->person);
    (void)snprintf(remark->says, sizeof remark->says, "%s", line->remark);
}

/* Whether the kit has several fluids, and how many sides share the one. */
static void look_at_fluids(struct job *job)
{
    size_t fluids = 0;
    for (size_t i = 0; i < job->plan->kit_count; i++) {
        if (kit_unit_row(job->plan->kit[i].unit)->fluid) {
            fluids++;
            job->fluid_sides = job->plan->kit[i].sides;
        }
    }
    job->several_fluids = fluids > 1;
    job->fluid_sides = fluids == 1 ? job->fluid_sides : 0;
}

static void fill(struct counter *counter, const struct yard_standing *standing, struct job *job)
{
    const struct settings *settings = counter->settings;
    const struct settings_plan *plan = &settings->plans[standing->plan];
    job->standing = *standing;
    job->machine = &settings->machines[standing->machine];
    job->plan = plan;
    job->title = settings_title(plan, job->labels->language);
    job->minutes = plan->plan.minutes;
    job->fluid_thousandths = kit_thousandths(shelf_fluid_grains(plan), settings->shop.units);
    job->fluid_unit = job->fluid_thousandths > 0 ? kit_unit_name(settings->shop.units) : "";
    look_at_fluids(job);
    (void)snprintf(job->text, sizeof job->text, "%s %s %s", job->machine->name, job->labels->done,
                   plan->name);
}

/* The plan named (-1 none), else the one that stands worst. */
static int choose_plan(struct counter *counter, int32_t machine, int32_t named, struct job *job)
{
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    struct yard_standing standings[SETTINGS_PLANS_MAX];
    const struct yard_standing *worst = NULL;
    int status = counter_load_troubles(counter);
    if (status == EX_OK) {
        status = counter_ledger_status(
            counter, yard_stand_machine(&yard, machine, counter->now_s, standings));
    }
    for (size_t i = 0; i < yard_kind(counter->settings, machine)->plan_count && status == EX_OK;
         i++) {
        if ((named < 0 || standings[i].plan == named) &&
            (worst == NULL || yard_worst_first(&standings[i], worst) < 0)) {
            worst = &standings[i];
        }
    }
    if (status == EX_OK && worst != NULL) {
        struct shelf_fill learned = {0};
        fill(counter, worst, job);
        status =
            counter_ledger_status(counter, shelf_fill_of(&yard, machine, worst->plan, &learned));
        job->took_thousandths =
            kit_thousandths(learned.learned_grains, counter->settings->shop.units);
        if (worst->machine_id != 0 && status == EX_OK) {
            status = counter_ledger_status(
                counter, record_each(counter->ledger, worst->machine_id, take_remark, job));
        }
    }
    return status;
}

static int say_plans(const struct counter *counter, int32_t machine, const struct nearest *nearest)
{
    const struct settings *settings = counter->settings;
    const struct settings_kind *kind = yard_kind(settings, machine);
    int status = counter_unknown(counter, "plan", nearest);
    (void)fprintf(counter->err, "%s has:", settings->machines[machine].name);
    for (size_t i = 0; i < kind->plan_count; i++) {
        const struct settings_plan *plan = &settings->plans[kind->plans[i]];
        (void)fprintf(counter->err, "%s %s (%s)", i > 0 ? "," : "", plan->name, plan->title);
    }
    (void)fputc('\n', counter->err);
    return status;
}

/* In the language of the one it is for, else of the shop's own. */
static int choose_labels(const struct counter *counter, struct job *job)
{
    const char *who = counter->options->for_whom;
    struct nearest nearest;
    job->labels = sheet_labels_of(WORDS_LANGUAGE_en);
    if (who == NULL) {
        return EX_OK;
    }
    int32_t person = counter_person(counter->settings, who, &nearest);
    if (person < 0) {
        return counter_unknown(counter, "person", &nearest);
    }
    job->labels = sheet_labels_of(settings_language(counter->settings->people[person].language));
    return EX_OK;
}

int sheet_verb(struct counter *counter)
{
    const struct options *options = counter->options;
    struct nearest nearest;
    struct job job = {.counter = counter};
    if (options->word_count < 1 || options->word_count > 2) {
        (void)fprintf(counter->err, "meterpost: say which machine, such as: meterpost sheet %s\n",
                      counter->settings->machines[0].name);
        return EX_USAGE;
    }
    int32_t machine = counter_machine(counter->settings, options->words[0], &nearest), plan = -1;
    if (machine < 0) {
        return counter_unknown(counter, "machine", &nearest);
    }
    if (options->word_count == 2) {
        plan = counter_plan(counter->settings, machine, options->words[1], &nearest);
        if (plan < 0) {
            return say_plans(counter, machine, &nearest);
        }
    }
    int status = choose_labels(counter, &job);
    if (status == EX_OK) {
        status = choose_plan(counter, machine, plan, &job);
    }
    if (status != EX_OK) {
        return status;
    }
    return options->json
               ? json_write(columns_json(&job_columns, counter->settings, &job), counter->out)
               : print_sheet(&job);
}
