/* SPDX-License-Identifier: MIT
 * sheet: see sheet.h. The usual cautions stand on every sheet, whatever the config says: work on a
 * lifted machine can kill. */
#include "daemon/counter/sheet.h"

#include <string.h>
#include <sysexits.h>

#include "daemon/counter/lookup.h"
#include "daemon/counter/opening.h"
#include "daemon/counter/quantity.h"
#include "daemon/counter/standing.h"
#include "daemon/yard/stock.h"

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
        if (column > indent && column + 1 + word > WIDTH) {
            (void)fprintf(out, "\n%*s", (int)indent, "");
            column = indent;
        }
        if (column > indent) {
            (void)fputc(' ', out);
            column++;
        }
        (void)fwrite(text, 1, word, out);
        column += word;
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
    int64_t grains = 0;
    for (size_t i = 0; i < job->plan->kit_count; i++) {
        const struct settings_kit_item *kit = &job->plan->kit[i];
        if (kit->unit != SETTINGS_UNIT_PIECE) {
            grains = kit_add(grains, kit_grains(kit->quantity_thousandths, stock_unit(kit->unit)));
        }
    }
    return kit_thousandths(grains, stock_unit(job->settings->shop.units));
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
        bool pieces = kit->unit == SETTINGS_UNIT_PIECE; /* two filters are no "2 piece" */
        (void)fprintf(out, "  [ ]  %s%s%s  %s\n",
                      quantity_write(kit->quantity_thousandths, quantity), pieces ? "" : " ",
                      pieces ? "" : quantity_unit(kit->unit), kit->item);
    }
    if (fluid_thousandths(job) > 0) {
        (void)fprintf(out, "       fluid in all: %s %s\n",
                      quantity_write(fluid_thousandths(job), quantity),
                      quantity_unit(job->settings->shop.units));
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
    const char *unit = quantity_unit(job->settings->shop.units);
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

/* The plan named, or the only one, or the one that is nearest to being due. */
static int choose_plan(struct opening *opening, const struct options *options, int32_t machine,
                       struct job *job, FILE *err)
{
    const struct settings_kind *kind =
        &opening->settings->kinds[opening->settings->machines[machine].kind];
    struct yard yard = {.settings = opening->settings, .ledger = opening->ledger};
    int32_t named = -1;
    if (options->word_count == 2) {
        named = lookup_plan(opening->settings, machine, options->words[1], err);
        if (named < 0) {
            return EX_USAGE;
        }
    }
    for (size_t i = 0; i < kind->plan_count; i++) {
        struct yard_standing standing;
        enum ledger_result result =
            yard_stand(&yard, machine, (int32_t)kind->plans[i], opening->now_s, &standing);
        if (result != LEDGER_OK) {
            (void)fprintf(err, "meterpost: %s\n", ledger_says(opening->ledger));
            return ledger_exit_status(result);
        }
        bool nearer = i == 0 || standing.left_hundredths < job->standing.left_hundredths;
        if (named >= 0 ? standing.plan == named : nearer) {
            job->standing = standing;
        }
    }
    job->plan = &opening->settings->plans[job->standing.plan];
    return EX_OK;
}

int sheet_verb(const struct options *options, FILE *out, FILE *err)
{
    struct opening opening;
    struct job job = {0};
    int32_t machine = -1;
    int status = opening_begin(&opening, options, err);
    if (status == EX_OK && (options->word_count < 1 || options->word_count > 2)) {
        (void)fprintf(err, "meterpost: say which machine, such as: meterpost sheet %s\n",
                      opening.settings->machines[0].name);
        status = EX_USAGE;
    }
    if (status == EX_OK) {
        machine = lookup_machine(opening.settings, options->words[0], err);
        status = machine < 0 ? EX_USAGE : opening_ledger(&opening, LEDGER_READ, err);
    }
    if (status == EX_OK) {
        job.settings = opening.settings;
        job.machine = &opening.settings->machines[machine];
        status = choose_plan(&opening, options, machine, &job, err);
    }
    if (status == EX_OK) {
        print_head(&job, out);
        print_cautions(&job, out);
        print_kit(&job, out);
        print_steps(&job, out);
        print_boxes(&job, out);
    }
    opening_end(&opening);
    return status;
}
