/* SPDX-License-Identifier: MIT
 * settings_describe: what a config file means, so that the admin can see whether it is what was
 * meant: one block each for shop, plans, machines and people; and what may have been forgotten. */
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include "config/settings_reader.h"
#include "daemon/upkeep/civil.h"

static const char *const weekdays[7] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};

static struct settings_figure hours(int64_t hundredths)
{
    return settings_figure(hundredths, 2);
}

static void describe_shop(const struct settings *settings, FILE *out)
{
    const struct settings_shop *shop = &settings->shop;
    fprintf(out, "%s%s%s, time zone %s\n", shop->name, shop->number[0] != '\0' ? ", texts at " : "",
            shop->number, shop->time_zone);
    fprintf(out, "  alerts go out on");
    for (int i = 0; i < 7; i++) {
        fprintf(out, "%s%s", shop->workdays[i] ? " " : "", shop->workdays[i] ? weekdays[i] : "");
    }
    fprintf(out, ", %02d:%02d to %02d:%02d", shop->alert_from_minute / 60,
            shop->alert_from_minute % 60, shop->alert_until_minute / 60,
            shop->alert_until_minute % 60);
    if (shop->holiday_count > 0) {
        fprintf(out, ", not on %zu holiday%s", shop->holiday_count,
                shop->holiday_count == 1 ? "" : "s");
    }
    fprintf(out, "; at most %d texts an hour\n", shop->texts_per_hour);
    fprintf(out, "  dates are read as %s, times told as %s; oil is counted in %s\n",
            shop->date_order == SETTINGS_DATE_MDY ? "month/day" : "day/month",
            shop->clock == SETTINGS_CLOCK_12 ? "2:05 pm" : "14:05",
            kit_unit_row(shop->units)->plural);
    fprintf(out, "  %d bay%s with %d minutes of work a day%s; board %s\n", shop->bays,
            shop->bays == 1 ? "" : "s", shop->bay_minutes, shop->bays == 1 ? "" : " in each",
            shop->board[0] != '\0' ? shop->board : "(none)");
    for (size_t i = 0; i < shop->escalate_to_count && shop->escalate_days > 0; i++) {
        fprintf(out, "%s%s", i == 0 ? "  told of what is overdue and not booked: " : ", ",
                settings->people[shop->escalate_to[i]].name);
    }
    if (shop->escalate_to_count > 0 && shop->escalate_days > 0) {
        fprintf(out, ", after %d day%s\n", shop->escalate_days,
                shop->escalate_days == 1 ? "" : "s");
    }
    fprintf(out, "  modem %s at %d bit/s; ledger %s; door %s\n",
            settings->modem.port[0] != '\0' ? settings->modem.port : "(none yet)",
            settings->modem.speed, settings->ledger, settings->door);
}

static void describe_interval(const struct plan *plan, FILE *out)
{
    fprintf(out, "    first at %s h, then every %s h%s", hours(plan->first_hundredths).text,
            hours(plan->every_hundredths).text,
            plan->count_from == PLAN_COUNT_ZERO ? " of the meter (multiples)"
                                                : " from the last service");
    if (plan->months > 0) {
        fprintf(out, ", or after %d month%s, whichever comes first", plan->months,
                plan->months == 1 ? "" : "s");
    }
    fprintf(out, "\n    coming up %s h or %d days before; overdue %s h or %d days after",
            hours(plan->notice_hundredths).text, plan->notice_days,
            hours(plan->grace_hundredths).text, plan->grace_days);
    if (plan->remind_days > 0) {
        fprintf(out, "; the shop is reminded every %d day%s", plan->remind_days,
                plan->remind_days == 1 ? "" : "s");
    }
    if (plan->recheck_after_hundredths > 0) {
        fprintf(out, "\n    the level is asked about %s h after a service",
                hours(plan->recheck_after_hundredths).text);
    }
    fputc('\n', out);
}

static void describe_plan(const struct settings_plan *plan, FILE *out)
{
    fprintf(out, "  %s: %s", plan->name, plan->title);
    for (size_t i = 0; i < WORDS_LANGUAGE_COUNT; i++) {
        fprintf(out, "%s%s", plan->titles[i][0] != '\0' ? " / " : "", plan->titles[i]);
    }
    fprintf(out, ", %d minutes\n", plan->plan.minutes);
    describe_interval(&plan->plan, out);
    for (size_t i = 0; i < plan->kit_count; i++) {
        const struct settings_kit_item *item = &plan->kit[i];
        bool fluid = kit_unit_row(item->unit)->fluid;
        const char *unit = fluid ? kit_unit_name(item->unit) : "";
        const char *blank = fluid ? " " : "";
        fprintf(out, "%s%s%s%s %s", i == 0 ? "    takes " : ", ",
                settings_figure(item->quantity_thousandths, 3).text, blank, unit, item->item);
        if (item->sides > 1) {
            fprintf(out, " for %d sides", item->sides);
        }
        if (item->sold_in_thousandths != 1000 || fluid) {
            fprintf(out, " (sold in %s%s%s)", settings_figure(item->sold_in_thousandths, 3).text,
                    blank, unit);
        }
        if (item->lead_days > 0) {
            fprintf(out, " (%d day%s to get)", item->lead_days, item->lead_days == 1 ? "" : "s");
        }
        if (item->on_hand_thousandths >= 0) {
            fprintf(out, " (on hand %s%s%s)", settings_figure(item->on_hand_thousandths, 3).text,
                    blank, unit);
        }
    }
    fprintf(out, "%s", plan->kit_count > 0 ? "\n" : "");
    if (plan->blank_count > 0) {
        fprintf(out, "    the job sheet has %zu blank%s to fill in\n", plan->blank_count,
                plan->blank_count == 1 ? "" : "s");
    }
    if (!plan->tell_crew) {
        fprintf(out, "    the crew is not told when it is due\n");
    }
}

static void describe_machine(const struct settings *settings,
                             const struct settings_machine *machine, FILE *out)
{
    const struct settings_kind *kind = &settings->kinds[machine->kind];
    char day[CIVIL_TEXT_OCTETS];
    fprintf(out, "  %s: %s", machine->name, kind->name);
    for (size_t i = 0; i < machine->formerly_count; i++) {
        fprintf(out, ", formerly %s", machine->formerly[i]);
    }
    if (machine->gone) {
        civil_write(machine->gone_day, day, sizeof day);
        fprintf(out, ", gone on %s: its record stays, nothing comes due\n", day);
        return;
    }
    for (size_t i = 0; i < kind->plan_count; i++) {
        fprintf(out, "%s%s", i == 0 ? ", plan " : " + ", settings->plans[kind->plans[i]].name);
    }
    for (size_t i = 0; i < machine->crew_count; i++) {
        fprintf(out, "%s%s", i == 0 ? ", crew " : " + ", settings->people[machine->crew[i]].name);
    }
    for (size_t i = 0; i < kind->plan_count; i++) {
        const struct settings_last_done *done = &machine->last_done[i];
        if (done->present) {
            fprintf(out, ", %s last done at %s h", settings->plans[kind->plans[i]].name,
                    hours(done->hundredths).text);
        }
        if (done->present && done->day_known) {
            civil_write(done->day, day, sizeof day);
            fprintf(out, " on %s", day);
        } else if (done->present && settings->plans[kind->plans[i]].plan.months > 0) {
            fprintf(out, " (its months count from the first reading)");
        }
    }
    if (machine->started_hundredths > 0 || machine->started_day_known) {
        fprintf(out, ", started at %s h", hours(machine->started_hundredths).text);
    }
    if (machine->started_day_known) {
        civil_write(machine->started_day, day, sizeof day);
        fprintf(out, " on %s", day);
    }
    for (size_t i = 0; i < kind->plan_count; i++) {
        const struct settings_plan *plan = &settings->plans[kind->plans[i]];
        if (!machine->last_done[i].present && plan->plan.months > 0) {
            fprintf(out, ", the months of %s count from %s", plan->name,
                    machine->started_day_known ? "that day" : "the first reading");
        }
    }
    fputc('\n', out);
}

void settings_describe(const struct settings *settings, FILE *out)
{
    describe_shop(settings, out);
    fprintf(out, "Plans\n");
    for (size_t i = 0; i < settings->plan_count; i++) {
        describe_plan(&settings->plans[i], out);
    }
    fprintf(out, "Machines\n");
    for (size_t i = 0; i < settings->machine_count; i++) {
        describe_machine(settings, &settings->machines[i], out);
    }
    fprintf(out, "People\n");
    for (size_t i = 0; i < settings->person_count; i++) {
        const struct settings_person *person = &settings->people[i];
        bool shop = person->role == SETTINGS_ROLE_SHOP;
        fprintf(out, "  %s: %s, %s, answered in \"%s\"%s", person->name, person->phone,
                shop ? "shop" : "crew", person->language, shop ? "; gets the alerts" : "");
        for (size_t j = 0; j < person->site_count; j++) {
            fprintf(out, "%s%s", j == 0 ? " of " : ", ", person->sites[j]);
        }
        fputc('\n', out);
    }
}

/* ---- What may have been forgotten ---- */

static void note_people(const struct settings *settings, struct settings_mistakes *notes)
{
    bool anyone = false;
    for (size_t i = 0; i < settings->person_count; i++) {
        const struct settings_shop *shop = &settings->shop;
        bool used = settings->people[i].role == SETTINGS_ROLE_SHOP;
        anyone |= used;
        used |=
            settings_among(shop->escalate_to, shop->escalate_to_count, i) < shop->escalate_to_count;
        for (size_t j = 0; j < settings->machine_count && !used; j++) {
            const struct settings_machine *machine = &settings->machines[j];
            used = settings_among(machine->crew, machine->crew_count, i) < machine->crew_count;
        }
        if (!used) {
            settings_mistakes_add(notes, settings->file, 0, "%s looks after no machine",
                                  settings->people[i].name);
        }
    }
    if (!anyone) {
        settings_mistakes_add(notes, settings->file, 0,
                              "nobody has role = \"shop\", so that alerts reach nobody");
    }
}

/* No mistake: the clock of the box may be the one that is wrong. */
static void note_last_done(const struct settings *settings, const struct settings_machine *machine,
                           int32_t today, struct settings_mistakes *notes)
{
    const struct settings_kind *kind = &settings->kinds[machine->kind];
    for (size_t i = 0; i < kind->plan_count; i++) {
        const struct settings_last_done *done = &machine->last_done[i];
        char day[16];
        if (done->present && done->day_known && done->day > today) {
            civil_write(done->day, day, sizeof day);
            settings_mistakes_add(notes, settings->file, 0,
                                  "%s: last_done of %s is on %s, a day still to come",
                                  machine->name, settings->plans[kind->plans[i]].name, day);
        }
    }
}

static void note_machines(const struct settings *settings, int32_t today,
                          struct settings_mistakes *notes)
{
    for (size_t i = 0; i < settings->machine_count; i++) {
        const struct settings_machine *machine = &settings->machines[i];
        char day[CIVIL_TEXT_OCTETS];
        if (machine->gone && machine->gone_day > today) {
            civil_write(machine->gone_day, day, sizeof day);
            settings_mistakes_add(notes, settings->file, 0, "%s is gone on %s, a day still to come",
                                  machine->name, day);
        }
        if (machine->gone) {
            continue;
        }
        if (machine->crew_count == 0) {
            settings_mistakes_add(notes, settings->file, 0,
                                  "%s has no crew; anyone may report it, nobody is asked after it",
                                  machine->name);
        }
        note_last_done(settings, machine, today, notes);
        if (settings->kinds[machine->kind].plan_count == 0) {
            settings_mistakes_add(notes, settings->file, 0,
                                  "%s is of kind %s, which has no plan; nothing will come due",
                                  machine->name, settings->kinds[machine->kind].name);
        }
    }
}

static void note_unused(const struct settings *settings, struct settings_mistakes *notes)
{
    for (size_t i = 0; i < settings->plan_count; i++) {
        bool used = false;
        for (size_t j = 0; j < settings->kind_count && !used; j++) {
            const struct settings_kind *kind = &settings->kinds[j];
            used = settings_among(kind->plans, kind->plan_count, i) < kind->plan_count;
        }
        if (!used) {
            settings_mistakes_add(notes, settings->file, 0, "no kind has the plan %s",
                                  settings->plans[i].name);
        }
    }
    for (size_t i = 0; i < settings->kind_count; i++) {
        bool used = false;
        for (size_t j = 0; j < settings->machine_count && !used; j++) {
            used = settings->machines[j].kind == i;
        }
        if (!used) {
            settings_mistakes_add(notes, settings->file, 0, "no machine is of the kind %s",
                                  settings->kinds[i].name);
        }
    }
}

/* A title is taken to be in the first language; whoever is answered in another one would read it in
 * the midst of a sentence of theirs. One note a person's language and plan. */
static void note_titles(const struct settings *settings, struct settings_mistakes *notes)
{
    bool told[WORDS_LANGUAGE_COUNT] = {[0] = true};
    for (size_t i = 0; i < settings->person_count; i++) {
        const struct settings_person *person = &settings->people[i];
        enum words_language language = settings_language(person->language);
        for (size_t j = 0; j < settings->plan_count && !told[language]; j++) {
            if (settings->plans[j].titles[language][0] == '\0') {
                settings_mistakes_add(notes, settings->file, 0,
                                      "%s has no title in \"%s\", in which %s is answered; titles "
                                      "= { %s = \"...\"; } gives it one",
                                      settings->plans[j].name, person->language, person->name,
                                      person->language);
            }
        }
        told[language] = true;
    }
}

void settings_notes(const struct settings *settings, int32_t today, struct settings_mistakes *notes)
{
    note_people(settings, notes);
    note_machines(settings, today, notes);
    note_unused(settings, notes);
    note_titles(settings, notes);
    if (!settings_any_kit(settings)) {
        settings_mistakes_add(notes, settings->file, 0,
                              "no plan has a kit, so that nobody is told what oil and filters to "
                              "have ready");
    }
    if (settings->modem.port[0] == '\0') {
        settings_mistakes_add(notes, settings->file, 0,
                              "modem.port is unsaid; \"meterpost modem\" finds it");
    }
    struct stat status = {0}; /* telephone numbers and names stand in the file */
    if (stat(settings->file, &status) == 0 && (status.st_mode & (S_IWGRP | S_IWOTH)) != 0) {
        settings_mistakes_add(notes, settings->file, 0,
                              "others may write this file; chmod 0640 keeps them from it");
    } else if ((status.st_mode & S_IROTH) != 0) {
        settings_mistakes_add(notes, settings->file, 0,
                              "everybody on this box may read the telephone numbers in this file; "
                              "chmod 0640 keeps them to its owner and group");
    }
}
