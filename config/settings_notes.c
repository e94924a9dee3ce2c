/* SPDX-License-Identifier: MIT
 * settings_notes: looks over settings that are well for what an admin would want to know. */
#include "config/settings_notes.h"

#include <string.h>
#include <sys/stat.h>

#include "daemon/upkeep/civil.h"

static bool looks_after(const struct settings_machine *machine, size_t person)
{
    for (size_t i = 0; i < machine->crew_count; i++) {
        if (machine->crew[i] == person) {
            return true;
        }
    }
    return false;
}

static void note_people(const struct settings *settings, struct settings_mistakes *notes)
{
    size_t shop_people = 0;
    for (size_t i = 0; i < settings->person_count; i++) {
        bool used = settings->people[i].role == SETTINGS_ROLE_SHOP;
        shop_people += used ? 1 : 0;
        for (size_t j = 0; j < settings->machine_count && !used; j++) {
            used = looks_after(&settings->machines[j], i);
        }
        if (!used) {
            settings_mistakes_add(notes, settings->file, 0, "%s looks after no machine",
                                  settings->people[i].name);
        }
    }
    if (shop_people == 0) {
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

static bool kind_used(const struct settings *settings, size_t kind)
{
    for (size_t i = 0; i < settings->machine_count; i++) {
        if (settings->machines[i].kind == kind) {
            return true;
        }
    }
    return false;
}

static bool plan_used(const struct settings *settings, size_t plan)
{
    for (size_t i = 0; i < settings->kind_count; i++) {
        for (size_t j = 0; j < settings->kinds[i].plan_count; j++) {
            if (settings->kinds[i].plans[j] == plan) {
                return true;
            }
        }
    }
    return false;
}

static void note_unused(const struct settings *settings, struct settings_mistakes *notes)
{
    for (size_t i = 0; i < settings->plan_count; i++) {
        if (!plan_used(settings, i)) {
            settings_mistakes_add(notes, settings->file, 0, "no kind has the plan %s",
                                  settings->plans[i].name);
        }
    }
    for (size_t i = 0; i < settings->kind_count; i++) {
        if (!kind_used(settings, i)) {
            settings_mistakes_add(notes, settings->file, 0, "no machine is of the kind %s",
                                  settings->kinds[i].name);
        }
    }
}

static void note_kits(const struct settings *settings, struct settings_mistakes *notes)
{
    if (!settings_any_kit(settings)) {
        settings_mistakes_add(notes, settings->file, 0,
                              "no plan has a kit, so that nobody is told what oil and filters to "
                              "have ready");
    }
}

/* Telephone numbers and names stand in the file. */
static void note_mode(const struct settings *settings, struct settings_mistakes *notes)
{
    struct stat status;
    if (stat(settings->file, &status) != 0) {
        return;
    }
    if ((status.st_mode & (S_IWGRP | S_IWOTH)) != 0) {
        settings_mistakes_add(notes, settings->file, 0,
                              "others may write this file; chmod 0640 keeps them from it");
    } else if ((status.st_mode & S_IROTH) != 0) {
        settings_mistakes_add(notes, settings->file, 0,
                              "everybody on this box may read the telephone numbers in this file; "
                              "chmod 0640 keeps them to its owner and group");
    }
}

void settings_notes(const struct settings *settings, int32_t today, struct settings_mistakes *notes)
{
    note_people(settings, notes);
    note_machines(settings, today, notes);
    note_unused(settings, notes);
    note_kits(settings, notes);
    if (settings->modem.port[0] == '\0') {
        settings_mistakes_add(notes, settings->file, 0,
                              "modem.port is unsaid; \"meterpost modem\" finds it");
    }
    note_mode(settings, notes);
}
