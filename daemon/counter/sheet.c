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
    const struct settings *settings;
    const struct settings_machine *machine;
    const struct settings_plan *plan;
    struct yard_standing standing;
};

/* Words wrapped at WIDTH, the lines after the first set in below the first word. */
static void print_wrapped(FILE *out, const char *lead, const char *text)
{
    size_t indent = strlen(lead), column = indent;
    (void)fputs(lead, out);
    while (*text != '\0') {
        size_t word = strcspn(text, " ");
        char room[SETTINGS_LINE_OCTETS];
        (void)snprintf(room, sizeof room, "%.*s", (int)word, text);
        size_t columns = width_of(room);
        if (column > indent && column + 1 + columns > WIDTH) {
            (void)fprintf(out, "\n%*s", (int)indent, "");
            column = indent;
        }
        if (column > indent) {
            (void)fputc(' ', out);
            column++;
        }
        (void)fwrite(text, 1, word, out);
        column += columns;
        text += word + strspn(&text[word], " ");
    }
    (void)fputc('\n', out);
}

static void print_head(const struct job *job, FILE *out)
{
    char due[HOURS_TEXT_OCTETS], meter[HOURS_TEXT_OCTETS];
    (void)fprintf(out, "JOB SHEET   %s   %s\n", job->settings->shop.name, job->plan->title);
    (void)fprintf(out, "Machine %s, %s", job->machine->name,
                  job->settings->kinds[job->machine->kind].name);
    (void)fprintf(out, "%s%s", job->machine->serial[0] != '\0' ? ", serial " : "",
                  job->machine->serial);
    (void)fprintf(out, "%s%s\n", job->machine->site[0] != '\0' ? ", at " : "", job->machine->site);
    if (job->standing.has_due) {
        (void)fprintf(out, "Due at %s h",
                      standing_hours(true, job->standing.due_meter_hundredths, due));
    }
    if (job->standing.read) {
        (void)fprintf(out, "%smeter last read %s h", job->standing.has_due ? "; " : "",
                      standing_hours(true, job->standing.meter_hundredths, meter));
    }
    (void)fprintf(out, "%sabout %d minutes\n",
                  job->standing.has_due || job->standing.read ? "; " : "", job->plan->plan.minutes);
}

static void print_cautions(const struct job *job, FILE *out)
{
    (void)fprintf(out, "\nCAUTIONS\n");
    for (size_t i = 0; i < sizeof usual_cautions / sizeof usual_cautions[0]; i++) {
        print_wrapped(out, "  !  ", usual_cautions[i]);
    }
    for (size_t i = 0; i < job->plan->caution_count; i++) {
        print_wrapped(out, "  !  ", job->plan->cautions[i]);
    }
}

/* All the fluid of one service in thousandths of the shop's unit; 0 where the kit has none. */
static int64_t fluid_thousandths(const struct job *job)
{
    return kit_thousandths(shelf_fluid_grains(job->plan), job->settings->shop.units);
}

static void print_kit(const struct job *job, FILE *out)
{
    char quantity[QUANTITY_TEXT_OCTETS];
    if (job->plan->kit_count == 0) {
        return;
    }
    (void)fprintf(out, "\nTO HAVE READY\n");
    for (size_t i = 0; i < job->plan->kit_count; i++) {
        const struct settings_kit_item *kit = &job->plan->kit[i];
        bool pieces = !kit_unit_row(kit->unit)->fluid; /* two filters are no "2 piece" */
        (void)fprintf(out, "  [ ]  %s%s%s  %s\n",
                      quantity_write(kit->quantity_thousandths, quantity), pieces ? "" : " ",
                      pieces ? "" : kit_unit_name(kit->unit), kit->item);
    }
    if (fluid_thousandths(job) > 0) {
        (void)fprintf(out, "       fluid in all: %s %s\n",
                      quantity_write(fluid_thousandths(job), quantity),
                      kit_unit_name(job->settings->shop.units));
    }
}

static void print_steps(const struct job *job, FILE *out)
{
    (void)fprintf(out, "\nSTEPS\n");
    for (size_t i = 0; i < job->plan->step_count; i++) {
        char lead[32];
        (void)snprintf(lead, sizeof lead, "  [ ] %2zu  ", i + 1);
        print_wrapped(out, lead, job->plan->steps[i]);
    }
    if (job->plan->step_count == 0) {
        (void)fprintf(out, "  as the maker's manual says\n");
    }
}

static void print_boxes(const struct job *job, FILE *out)
{
    const char *unit = kit_unit_name(job->settings->shop.units);
    bool fluid = fluid_thousandths(job) > 0;
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
    (void)fprintf(out, "\nWHEN IT IS DONE, TEXT%s%s:\n    %s DONE %s ______",
                  job->settings->shop.number[0] != '\0' ? " TO " : "", job->settings->shop.number,
                  job->machine->name, job->plan->name);
    (void)fprintf(out, "%s%s\n", fluid ? " ____" : "", fluid ? unit : "");
}

static struct json_object *array_of(const char *const *lines, size_t count,
                                    struct json_object *array)
{
    for (size_t i = 0; i < count; i++) {
        (void)json_object_array_add(array, json_object_new_string(lines[i]));
    }
    return array;
}

static struct json_object *kit_json(const struct job *job)
{
    struct json_object *array = json_object_new_array();
    for (size_t i = 0; i < job->plan->kit_count; i++) {
        const struct settings_kit_item *kit = &job->plan->kit[i];
        struct json_object *item = json_object_new_object();
        json_add_text(item, "item", kit->item);
        json_add_thousandths(item, "quantity", kit->quantity_thousandths);
        json_add_text(item, "unit", kit_unit_name(kit->unit));
        (void)json_object_array_add(array, item);
    }
    return array;
}

static bool print_json(const struct job *job, FILE *out)
{
    struct json_object *whole = json_object_new_object();
    struct json_object *cautions = array_of(
        usual_cautions, sizeof usual_cautions / sizeof usual_cautions[0], json_object_new_array());
    char text[64];
    json_add_text(whole, "machine", job->machine->name);
    json_add_text(whole, "plan", job->plan->name);
    json_add_text(whole, "title", job->plan->title);
    if (job->standing.has_due) {
        json_add_hours(whole, "due_hours", job->standing.due_meter_hundredths);
    }
    if (job->standing.read) {
        json_add_hours(whole, "meter", job->standing.meter_hundredths);
    }
    json_add_whole(whole, "minutes", job->plan->plan.minutes);
    cautions = array_of(job->plan->cautions, job->plan->caution_count, cautions);
    (void)json_object_object_add(whole, "cautions", cautions);
    (void)json_object_object_add(whole, "kit", kit_json(job));
    if (fluid_thousandths(job) > 0) {
        json_add_thousandths(whole, "fluid", fluid_thousandths(job));
        json_add_text(whole, "fluid_unit", kit_unit_name(job->settings->shop.units));
    }
    (void)json_object_object_add(
        whole, "steps", array_of(job->plan->steps, job->plan->step_count, json_object_new_array()));
    (void)snprintf(text, sizeof text, "%s DONE %s", job->machine->name, job->plan->name);
    json_add_text(whole, "text", text);
    return json_write(whole, out);
}

/* The plan named, else the one that stands worst. */
static int choose_plan(struct counter *counter, const struct options *options, int32_t machine,
                       struct job *job, FILE *err)
{
    struct yard_standing *standings = NULL;
    size_t count = 0;
    int32_t named = -1;
    if (options->word_count == 2) {
        named = counter_find_plan(counter->settings, machine, options->words[1], err);
        if (named < 0) {
            return EX_USAGE;
        }
    }
    int status = counter_standings(counter, &standings, &count, err);
    for (size_t i = 0; i < count && job->plan == NULL; i++) {
        if (standings[i].machine == machine && (named < 0 || standings[i].plan == named)) {
            job->standing = standings[i];
            job->plan = &counter->settings->plans[standings[i].plan];
        }
    }
    free(standings);
    return status;
}

static void print_sheet(const struct job *job, FILE *out)
{
    print_head(job, out);
    print_cautions(job, out);
    print_kit(job, out);
    print_steps(job, out);
    print_boxes(job, out);
}

int sheet_verb(const struct options *options, FILE *out, FILE *err)
{
    struct counter counter;
    struct job job = {0};
    int32_t machine = -1;
    int status = counter_begin(&counter, options, err);
    if (status == EX_OK && (options->word_count < 1 || options->word_count > 2)) {
        (void)fprintf(err, "meterpost: say which machine, such as: meterpost sheet %s\n",
                      counter.settings->machines[0].name);
        status = EX_USAGE;
    }
    if (status == EX_OK) {
        machine = counter_find_machine(counter.settings, options->words[0], err);
        status = machine < 0 ? EX_USAGE : EX_OK;
    }
    if (status == EX_OK) {
        job.settings = counter.settings;
        job.machine = &counter.settings->machines[machine];
        status = choose_plan(&counter, options, machine, &job, err);
    }
    if (status == EX_OK && options->json) {
        status = print_json(&job, out) ? EX_OK : EX_IOERR;
    } else if (status == EX_OK) {
        print_sheet(&job, out);
    }
    counter_end(&counter);
    return status;
}
