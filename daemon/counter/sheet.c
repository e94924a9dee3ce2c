/* SPDX-License-Identifier: MIT
 * sheet: a job sheet to print. The usual cautions stand on every sheet, whatever the config says: work on a
 * lifted machine can kill. */
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/verbs.h"
#include "daemon/yard/shelf.h"

#define WIDTH 78
#define TEXT_OCTETS 64

/* Common practice, no source; that a load on a jack must be secured at once, and that nobody works
 * under one held by jacks alone: 29 CFR 1910.244(a)(2), WAC 296-307-22509. Used oil: 40 CFR 279. */
static const char *const usual_cautions[] = {
    "The maker's manual and local rules come first, before anything on this sheet.",
    "Firm level ground, brake set, engine off, key out, wheels that stay down chocked.",
    "Rated stands under the machine. Never under one that is held by a jack alone.",
    "Let the oil cool: hot oil burns. Gloves and glasses on.",
    "Hands off belts, blades and fan until everything stands still. Never feel for a leak by hand.",
    "Used oil and filters to a collection point, in a closed and marked container.",
};

struct job {
    const struct counter *counter;
    const struct settings_machine *machine;
    const struct settings_plan *plan;
    struct yard_standing standing;
    const char *title;
    int32_t minutes;
    int64_t
        fluid_thousandths;  /* all of one service, in the shop's unit; 0 where the kit has none */
    const char *fluid_unit; /* "" where there is none */
    char text[TEXT_OCTETS]; /* what to text when it is done; the figures go behind it */
};

/* Words folded at the paper's width, the lines after the first set in below the first word. */
static void print_wrapped(FILE *out, const char *lead, const char *text)
{
    char line[SETTINGS_LINE_OCTETS + 32];
    (void)snprintf(line, sizeof line, "%s%s\n", lead, text);
    screen_print_folded(&(struct screen){.columns = WIDTH}, line, strlen(lead), out);
}

static void print_head(const struct settings *settings, const struct job *job, FILE *out)
{
    const struct counter *counter = job->counter;
    const char *title = "\nREPORTED, AND STILL OPEN\n";
    char point[COUNTER_POINT_OCTETS], meter[HOURS_TEXT_OCTETS];
    const struct settings_machine *machine = job->machine;
    const struct yard_standing *standing = &job->standing;
    (void)fprintf(out, "JOB SHEET   %s   %s\n", settings->shop.name, job->title);
    (void)fprintf(out, "Machine %s, %s", machine->name, settings->kinds[machine->kind].name);
    (void)fprintf(out, "%s%s", machine->serial[0] != '\0' ? ", serial " : "", machine->serial);
    (void)fprintf(out, "%s%s\n", machine->site[0] != '\0' ? ", at " : "", machine->site);
    if (counter_point(standing, point)[0] != '\0') {
        (void)fprintf(out, "Due %s", point);
    }
    if (standing->read) {
        (void)fprintf(out, "%smeter last read %s h", point[0] != '\0' ? "; " : "",
                      hours_or_blank(true, standing->meter_hundredths, meter));
    }
    (void)fprintf(out, "%sabout %d minutes\n", point[0] != '\0' || standing->read ? "; " : "",
                  job->minutes);
    for (size_t i = 0; i < counter->trouble_count; i++) {
        char says[COUNTER_TROUBLE_OCTETS];
        if (counter->troubles[i].machine == standing->machine) {
            (void)fputs(title, out);
            print_wrapped(out, "  [ ]  ", counter_trouble_says(&counter->troubles[i], says));
            title = "";
        }
    }
}

/* What to mind, what to fetch, what to do. */
static void print_work(const struct job *job, FILE *out)
{
    const struct settings_plan *plan = job->plan;
    char quantity[QUANTITY_TEXT_OCTETS], lead[32];
    (void)fprintf(out, "\nCAUTIONS\n");
    for (size_t i = 0; i < sizeof usual_cautions / sizeof usual_cautions[0]; i++) {
        print_wrapped(out, "  !  ", usual_cautions[i]);
    }
    for (size_t i = 0; i < plan->caution_count; i++) {
        print_wrapped(out, "  !  ", plan->cautions[i]);
    }
    (void)fputs(plan->kit_count > 0 ? "\nTO HAVE READY\n" : "", out);
    for (size_t i = 0; i < plan->kit_count; i++) {
        const struct settings_kit_item *kit = &plan->kit[i];
        bool pieces = !kit_unit_row(kit->unit)->fluid; /* two filters are no "2 piece" */
        (void)fprintf(out, "  [ ]  %s%s%s  %s\n",
                      quantity_write(kit->quantity_thousandths, quantity), pieces ? "" : " ",
                      pieces ? "" : kit_unit_name(kit->unit), kit->item);
    }
    if (job->fluid_thousandths > 0) {
        (void)fprintf(out, "       fluid in all: %s %s\n",
                      quantity_write(job->fluid_thousandths, quantity), job->fluid_unit);
    }
    (void)fprintf(out, "\nSTEPS\n%s",
                  plan->step_count == 0 ? "  as the maker's manual says\n" : "");
    for (size_t i = 0; i < plan->step_count; i++) {
        (void)snprintf(lead, sizeof lead, "  [ ] %2zu  ", i + 1);
        print_wrapped(out, lead, plan->steps[i]);
    }
}

static void print_boxes(const struct settings *settings, const struct job *job, FILE *out)
{
    const char *unit = job->fluid_unit;
    bool fluid = job->fluid_thousandths > 0;
    (void)fprintf(out, "\nWRITE DOWN\n"
                       "  Meter ________ h      Date ____________      Done by ____________\n");
    if (fluid) {
        (void)fprintf(out,
                      "  Oil used: left ______ %s   right ______ %s   reservoir ______ %s\n"
                      "  Filters changed: left [ ]  right [ ]     Old seals came off too [ ]\n"
                      "  Level after the run, cold: at the mark [ ]   topped up by ______ %s\n",
                      unit, unit, unit, unit);
    }
    (void)fprintf(out, "  Belt: good [ ]  worn [ ]  changed [ ]    Pulleys: good [ ]  worn [ ]\n"
                       "  Remarks ______________________________________________________________\n"
                       "  Initials ________\n");
    (void)fprintf(out, "\nWHEN IT IS DONE, TEXT%s%s:\n    %s ______%s%s\n",
                  settings->shop.number[0] != '\0' ? " TO " : "", settings->shop.number, job->text,
                  fluid ? " ____" : "", fluid ? unit : "");
    for (size_t i = 0; i < job->counter->trouble_count; i++) {
        if (job->counter->troubles[i].machine == job->standing.machine) {
            (void)fprintf(out, "AND WHEN WHAT WAS REPORTED IS PUT RIGHT:\n    %s SOLVED\n",
                          job->machine->name);
            break;
        }
    }
}

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
    add_lines(array, usual_cautions, sizeof usual_cautions / sizeof usual_cautions[0]);
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

static struct json_object *kit_json(const struct settings *settings, const void *row)
{
    static const struct column list[] = {
        {NULL, "item", COLUMN_TEXT, .at = offsetof(struct settings_kit_item, item)},
        {NULL, "quantity", COLUMN_QUANTITY,
         .at = offsetof(struct settings_kit_item, quantity_thousandths)},
        {NULL, "unit", COLUMN_UNIT, .at = offsetof(struct settings_kit_item, unit)},
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
    return counter_troubles_json(job->counter, job->standing.machine);
}

#define AT(field) offsetof(struct job, field)
static const struct column job_list[] = {
    {NULL, "machine", COLUMN_MACHINE, .at = AT(standing.machine)},
    {NULL, "plan", COLUMN_PLAN, .at = AT(standing.plan)},
    {NULL, "title", COLUMN_TEXT, .at = AT(title)},
    {NULL, "due_hours", COLUMN_HOURS, .at = AT(standing.due_meter_hundredths),
     .if_true = {AT(standing.has_due)}},
    {NULL, "meter", COLUMN_HOURS, .at = AT(standing.meter_hundredths),
     .if_true = {AT(standing.read)}},
    {NULL, "minutes", COLUMN_COUNT, .at = AT(minutes)},
    {NULL, "trouble", COLUMN_OWN, .json = trouble_json},
    {NULL, "cautions", COLUMN_OWN, .json = cautions_json},
    {NULL, "kit", COLUMN_OWN, .json = kit_json},
    {NULL, "fluid", COLUMN_QUANTITY, .at = AT(fluid_thousandths), .when = COLUMN_FROM_1},
    {NULL, "fluid_unit", COLUMN_TEXT, .at = AT(fluid_unit)},
    {NULL, "steps", COLUMN_OWN, .json = steps_json},
    {NULL, "text", COLUMN_CHARS, .at = AT(text)},
};
#undef AT
static const struct columns job_columns = {COLUMNS(job_list), false};

/* The plan named (-1 none), else the one that stands worst. */
static int choose_plan(struct counter *counter, int32_t machine, int32_t named, struct job *job)
{
    const struct settings *settings = counter->settings;
    struct yard_standing *standings = NULL;
    size_t count = 0;
    int status = counter_load_troubles(counter);
    if (status == EX_OK) {
        status = counter_standings(counter, &standings, &count);
    }
    job->counter = counter;
    for (size_t i = 0; i < count && job->plan == NULL; i++) {
        if (standings[i].machine == machine && (named < 0 || standings[i].plan == named)) {
            job->standing = standings[i];
            job->machine = &settings->machines[machine];
            job->plan = &settings->plans[standings[i].plan];
            job->title = job->plan->title;
            job->minutes = job->plan->plan.minutes;
            job->fluid_thousandths =
                kit_thousandths(shelf_fluid_grains(job->plan), settings->shop.units);
            (void)snprintf(job->text, sizeof job->text, "%s DONE %s", job->machine->name,
                           job->plan->name);
            job->fluid_unit = job->fluid_thousandths > 0 ? kit_unit_name(settings->shop.units) : "";
        }
    }
    free(standings);
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

int sheet_verb(struct counter *counter)
{
    const struct options *options = counter->options;
    struct nearest nearest;
    struct job job = {0};
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
    int status = choose_plan(counter, machine, plan, &job);
    if (status != EX_OK) {
        return status;
    }
    if (options->json) {
        return json_write(columns_json(&job_columns, counter->settings, &job), counter->out);
    }
    print_head(counter->settings, &job, counter->out);
    print_work(&job, counter->out);
    print_boxes(counter->settings, &job, counter->out);
    return EX_OK;
}
