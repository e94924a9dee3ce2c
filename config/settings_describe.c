/* SPDX-License-Identifier: MIT
 * settings_describe: what a config file means, so that the admin can see whether it is what was
 * meant: one block each for shop, plans, kinds, machines and people, by what the table says of each
 * setting; and what may have been forgotten. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "config/settings_reader.h"
#include "daemon/upkeep/civil.h"

/* ---- What the table tells ---- */

/* True where there is something to tell the value of. */
static bool is_there(const struct settings_row *row, const char *field, const char *into)
{
    size_t count = 1;
    const char *text = settings_text_in(row, field);
    bool counted = row->form == FORM_WHOLE || row->form == FORM_HUNDREDTHS ||
                   row->form == FORM_THOUSANDTHS || row->form == FORM_DAY || row->form == FORM_FLAG;
    if (row->form == FORM_LIST) {
        memcpy(&count, into + row->count, sizeof count);
    }
    return count > 0 && (text == NULL || text[0] != '\0') &&
           (!counted || settings_number_in(row, field) > 0);
}

/* As a person reads it. */
static void write_value(FILE *out, const struct settings *settings, const struct settings_row *row,
                        const char *field)
{
    const char *text = settings_text_in(row, field);
    int64_t number = settings_number_in(row, field);
    char day[CIVIL_TEXT_OCTETS];
    if (text != NULL) {
        fputs(text, out);
    } else if (row->form == FORM_NAME) {
        fputs(settings_name(settings, row->in, (size_t)number), out);
    } else if (row->form == FORM_WORD || row->form == FORM_UNIT) {
        fputs(settings_word_of(row, (int)number), out);
    } else if (row->form == FORM_TIME) {
        fprintf(out, "%02d:%02d", (int)number / 60, (int)number % 60);
    } else if (row->form == FORM_DAY) {
        civil_write((int32_t)number, day, sizeof day);
        fputs(day, out);
    } else {
        fputs(settings_figure(number, settings_places(row->form)).text, out);
    }
}

/* The entries; of long texts how many there are. */
static void write_list(FILE *out, const struct settings *settings, const struct settings_row *row,
                       const char *field, size_t count)
{
    if (row->entry->form == FORM_TEXT) {
        fprintf(out, "%zu", count);
        return;
    }
    for (size_t i = 0; i < count; i++) {
        fputs(i > 0 ? ", " : "", out);
        write_value(out, settings, row->entry, field + i * row->entry->size);
    }
}

static void write_flags(FILE *out, const struct settings_row *row, const bool *flags)
{
    for (int i = 0, told = 0; i < row->most; i++) {
        if (flags[i]) {
            fprintf(out, "%s%s", told++ > 0 ? " " : "", settings_word_of(row->entry, i));
        }
    }
}

/* One row of a group behind those before it; true where it has nothing to tell. */
static bool tell_row(FILE *out, const struct settings *settings, const struct settings_row *row,
                     const char *into, bool first)
{
    const char *field = into + row->offset;
    bool there = is_there(row, field, into);
    const char *says = there ? row->says : row->without;
    if (says == NULL) {
        return true;
    }
    bool goes_on = first || says[0] == ',' || says[0] == ' ';
    const char *value = strstr(says, "{}");
    fprintf(out, "%s%.*s", goes_on ? "" : "; ", (int)(value != NULL ? value - says : 1000), says);
    if (value != NULL && row->form == FORM_LIST) {
        size_t count = 0;
        memcpy(&count, into + row->count, sizeof count);
        write_list(out, settings, row, field, count);
    } else if (value != NULL && row->form == FORM_FLAGS) {
        write_flags(out, row, (const bool *)field);
    } else if (value != NULL) {
        write_value(out, settings, row, field);
    }
    fputs(value != NULL ? value + strlen("{}") : "", out);
    return false;
}

/* All that the rows of a group have to tell. */
static void tell(FILE *out, const struct settings *settings, const struct settings_group *form,
                 const void *into)
{
    bool first = true;
    for (size_t i = 0; i < form->row_count; i++) {
        first = tell_row(out, settings, &form->rows[i], into, first) && first;
    }
}

/* ---- The blocks ---- */

#define COLUMNS 98

/* A text in lines of bearable length; those behind the first are set in further. */
static void print_folded(FILE *out, int indent, const char *text)
{
    for (int more = 0; *text != '\0'; more = 2) {
        size_t room = (size_t)(COLUMNS - indent - more), length = strlen(text);
        if (length > room) {
            for (length = room; length > 0 && text[length] != ' '; length--) {
            }
            length = length > 0 ? length : strcspn(text, " ");
        }
        fprintf(out, "%*s%.*s\n", indent + more, "", (int)length, text);
        text += length;
        text += strspn(text, " ");
    }
}

/* What is to be folded is written here first. */
struct page {
    char *text;
    size_t length;
    FILE *out;
};

static FILE *page_begin(struct page *page)
{
    page->text = NULL;
    page->out = open_memstream(&page->text, &page->length);
    return page->out;
}

static void page_end(struct page *page, int indent, FILE *out)
{
    (void)fclose(page->out);
    print_folded(out, indent, page->text);
    free(page->text);
}

static void describe_shop(const struct settings *settings, FILE *out)
{
    struct page page;
    fprintf(out, "%s\n", settings->shop.name);
    if (page_begin(&page) != NULL) {
        tell(page.out, settings, settings_rows[ROW_SHOP].group, &settings->shop);
        page_end(&page, 2, out);
    }
    if (page_begin(&page) != NULL) {
        tell(page.out, settings, &settings_escalate, &settings->shop);
        page_end(&page, 2, out);
    }
    if (page_begin(&page) != NULL) {
        for (size_t i = 0; i < settings->modem_count; i++) {
            const struct settings_modem *modem = &settings->modems[i];
            fprintf(page.out, "%s%s", modem->name, modem->name[0] != '\0' ? ": " : "");
            tell(page.out, settings, settings_rows[ROW_MODEM].group, modem);
            fputs("; ", page.out);
        }
        tell(page.out, settings, &settings_file, settings);
        page_end(&page, 2, out);
    }
}

static void describe_plan(const struct settings *settings, const struct settings_plan *plan,
                          FILE *out)
{
    struct page page;
    fprintf(out, "  %s: %s", plan->name, plan->title);
    for (size_t i = 0; i < WORDS_LANGUAGE_COUNT; i++) {
        fprintf(out, "%s%s", plan->titles[i][0] != '\0' ? " / " : "", plan->titles[i]);
    }
    fputc('\n', out);
    if (page_begin(&page) != NULL) {
        fputs(plan->usual ? "the usual one, as the file has no plans; " : "", page.out);
        tell(page.out, settings, settings_rows[ROW_PLANS].group, plan);
        page_end(&page, 4, out);
    }
    for (size_t i = 0; i < plan->kit_count && page_begin(&page) != NULL; i++) {
        fputs("takes ", page.out);
        tell(page.out, settings, &settings_kit, &plan->kit[i]);
        page_end(&page, 4, out);
    }
}

/* What it had before, and from when its months count. */
static void tell_past(FILE *out, const struct settings *settings,
                      const struct settings_machine *machine)
{
    const struct settings_kind *kind = &settings->kinds[machine->kind];
    bool started = machine->started_hundredths > 0 || machine->started_day_known;
    char day[CIVIL_TEXT_OCTETS];
    if (started) {
        civil_write(machine->started_day, day, sizeof day);
        fprintf(out, "; started at %s h%s%s", settings_figure(machine->started_hundredths, 2).text,
                machine->started_day_known ? " on " : "", machine->started_day_known ? day : "");
    }
    for (size_t i = 0; i < kind->plan_count; i++) {
        const struct settings_plan *plan = &settings->plans[kind->plans[i]];
        const struct settings_last_done *done = &machine->last_done[i];
        civil_write(done->day, day, sizeof day);
        if (done->present) {
            fprintf(out, "; %s last done at %s h%s%s", plan->name,
                    settings_figure(done->hundredths, 2).text, done->day_known ? " on " : "",
                    done->day_known ? day : "");
        }
        if (!done->day_known && plan->plan.months > 0) {
            fprintf(out, "; the %d months of %s count from %s", plan->plan.months, plan->name,
                    !done->present && machine->started_day_known ? "that day"
                                                                 : "the first reading");
        }
    }
}

static void describe_machine(const struct settings *settings,
                             const struct settings_machine *machine, FILE *out)
{
    struct page page;
    if (page_begin(&page) == NULL) {
        return;
    }
    fprintf(page.out, "%s: ", machine->name);
    tell(page.out, settings, settings_rows[ROW_MACHINES].group, machine);
    if (!machine->gone) {
        tell_past(page.out, settings, machine);
    }
    page_end(&page, 2, out);
}

static void describe_person(const struct settings *settings, const struct settings_person *person,
                            FILE *out)
{
    struct page page;
    if (page_begin(&page) == NULL) {
        return;
    }
    fprintf(page.out, "%s: ", person->name);
    tell(page.out, settings, settings_rows[ROW_PEOPLE].group, person);
    fputs(person->role == SETTINGS_ROLE_SHOP ? "; gets the alerts" : "", page.out);
    page_end(&page, 2, out);
}

void settings_describe(const struct settings *settings, FILE *out)
{
    struct page page;
    describe_shop(settings, out);
    fputs("Plans\n", out);
    for (size_t i = 0; i < settings->plan_count; i++) {
        describe_plan(settings, &settings->plans[i], out);
    }
    fputs("Kinds\n", out);
    for (size_t i = 0; i < settings->kind_count && page_begin(&page) != NULL; i++) {
        fprintf(page.out, "%s: ", settings->kinds[i].name);
        tell(page.out, settings, settings_rows[ROW_KINDS].group, &settings->kinds[i]);
        page_end(&page, 2, out);
    }
    fputs("Machines\n", out);
    for (size_t i = 0; i < settings->machine_count; i++) {
        describe_machine(settings, &settings->machines[i], out);
    }
    fputs("People\n", out);
    for (size_t i = 0; i < settings->person_count; i++) {
        describe_person(settings, &settings->people[i], out);
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
                              "no plan has a kit (the oil and filters of one service), so that "
                              "nobody is told what to have ready; the sample config has one");
    }
    if (settings->modems[0].port[0] == '\0') {
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
