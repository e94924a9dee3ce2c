/* SPDX-License-Identifier: MIT
 * roster: see roster.h. */
#include "daemon/counter/roster.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "daemon/counter/csv.h"

#define ROSTER_OCTETS_MAX (1024 * 1024)

enum roster_column {
    ROSTER_PERSON,
    ROSTER_PHONE,
    ROSTER_ROLE,
    ROSTER_LANGUAGE,
    ROSTER_MACHINE,
    ROSTER_SITE,
    ROSTER_LAST,
    ROSTER_COLUMNS
};

/* What people write above them, letters alone and between blanks. */
static const char *const roster_headings[ROSTER_COLUMNS] = {
    [ROSTER_PERSON] = " person name who reader operator driver crew persona nombre operador ",
    [ROSTER_PHONE] = " phone telephone mobile cell number phonenumber telefono celular ",
    [ROSTER_ROLE] = " role rol ",
    [ROSTER_LANGUAGE] = " language idioma langue ",
    [ROSTER_MACHINE] = " machine unit equipment asset maquina equipo unidad ",
    [ROSTER_SITE] = " site location place sitio lugar ",
    [ROSTER_LAST] = " lastservice lastdone servicehours ultimoservicio ",
};

struct roster {
    struct founding *founding;
    const char *file;
    int at[ROSTER_COLUMNS]; /* -1 none */
    bool refused;
    char *says;
};

/* One more line of what is wrong; always false. */
static bool refuse_row(struct roster *roster, size_t line, const char *what)
{
    size_t used = strlen(roster->says);
    (void)snprintf(roster->says + used, INTERVIEW_SAYS_OCTETS - used, "%s%.300s:%zu: %.600s",
                   used > 0 ? "\n  " : "", roster->file, line, what);
    roster->refused = true;
    return false;
}

/* A column that says nothing of people or machines. */
static void pass_over(struct roster *roster, const char *heading)
{
    char *note = roster->founding->passed_over;
    size_t used = strlen(note);
    if (heading[strspn(heading, " \t")] != '\0') {
        (void)snprintf(note + used, FOUNDING_NOTE_OCTETS - used, "%s%.60s", used > 0 ? ", " : "",
                       heading);
    }
}

static bool read_headings(struct roster *roster, const struct csv *csv)
{
    for (size_t column = 0; column < ROSTER_COLUMNS; column++) {
        roster->at[column] = -1;
    }
    for (size_t i = 0; i < csv->cell_count; i++) {
        char plain[40] = " ";
        size_t used = 1;
        bool known = false;
        for (const char *c = csv->cells[i]; *c != '\0' && used + 2 < sizeof plain; c++) {
            char letter = (char)(*c | 0x20);
            if (letter >= 'a' && letter <= 'z') {
                plain[used++] = letter;
            }
        }
        plain[used] = ' ';
        for (size_t column = 0; used > 1 && column < ROSTER_COLUMNS; column++) {
            if (strstr(roster_headings[column], plain) != NULL && roster->at[column] < 0) {
                roster->at[column] = (int)i;
                known = true;
            }
        }
        if (!known) {
            pass_over(roster, csv->cells[i]);
        }
    }
    return (roster->at[ROSTER_PERSON] >= 0 || roster->at[ROSTER_MACHINE] >= 0) ||
           refuse_row(roster, csv->line,
                      "no column is called person or machine; a first line as "
                      "\"machine,person,phone,role,language,site,last service\" is expected");
}

static const char *cell(const struct roster *roster, const struct csv *csv,
                        enum roster_column column)
{
    int at = roster->at[column];
    const char *text = at >= 0 && (size_t)at < csv->cell_count ? csv->cells[at] : "";
    return text + strspn(text, " \t");
}

static struct founding_entry *find_entry(const struct founding_list *list, const char *name)
{
    for (size_t i = 0; i < list->count; i++) {
        if (strcasecmp(list->entries[i].fields[0], name) == 0) {
            return &list->entries[i];
        }
    }
    return NULL;
}

/* One more who reads a machine that several rows name. */
static bool add_crew(struct founding_entry *machine, const char *person)
{
    char *crew = NULL;
    if (person[0] == '\0') {
        return true;
    }
    if (asprintf(&crew, "%s + %s", machine->fields[FOUNDING_MACHINE_CREW], person) < 0) {
        return false;
    }
    free(machine->fields[FOUNDING_MACHINE_CREW]);
    machine->fields[FOUNDING_MACHINE_CREW] = crew;
    return true;
}

/* A row: a machine, who reads it, or both; who has been named before needs no number again. */
static bool take_row(struct roster *roster, const struct csv *csv)
{
    struct founding *founding = roster->founding;
    const char *person = cell(roster, csv, ROSTER_PERSON), *role = cell(roster, csv, ROSTER_ROLE);
    const char *machine = cell(roster, csv, ROSTER_MACHINE), *last = cell(roster, csv, ROSTER_LAST);
    const char *of_person[FOUNDING_FIELDS] = {person, cell(roster, csv, ROSTER_PHONE), role,
                                              cell(roster, csv, ROSTER_LANGUAGE)};
    const char *reads = strcasecmp(role, "shop") == 0 ? "" : person;
    char says[INTERVIEW_SAYS_OCTETS];
    bool fits = founding_last_fits(machine, last, says);
    const char *of_machine[FOUNDING_FIELDS] = {machine, reads, cell(roster, csv, ROSTER_SITE),
                                               fits ? last : ""};
    struct founding_entry *before = find_entry(&founding->machines, machine);
    bool well = true;
    if (!fits) { /* the rest of the row may be wrong as well */
        (void)refuse_row(roster, csv->line, says);
    }
    if (person[0] != '\0' && find_entry(&founding->people, person) == NULL) {
        well = founding_add(&founding->people, of_person);
    }
    if (well && machine[0] != '\0' && before != NULL) {
        well = add_crew(before, reads);
    } else if (well && machine[0] != '\0') {
        well = founding_add(&founding->machines, of_machine);
    }
    return well || refuse_row(roster, csv->line, "memory is short");
}

static bool read_roster(struct roster *roster, char *text, size_t length)
{
    struct csv csv;
    csv_begin(&csv, text, length);
    enum csv_result result = csv_next(&csv);
    bool well = result != CSV_ROW || read_headings(roster, &csv);
    while (well && result == CSV_ROW && (result = csv_next(&csv)) == CSV_ROW) {
        (void)take_row(roster, &csv); /* each that is wrong is told */
    }
    if (well && result != CSV_END) {
        return refuse_row(roster, csv.line, csv_says(result));
    }
    return well && !roster->refused;
}

bool roster_read(const char *file, struct founding *founding, char says[INTERVIEW_SAYS_OCTETS])
{
    struct roster roster = {.founding = founding, .file = file, .says = says};
    says[0] = founding->passed_over[0] = '\0';
    FILE *stream = fopen(file, "re");
    char *text = stream != NULL ? malloc(ROSTER_OCTETS_MAX + 1) : NULL;
    size_t length = text != NULL ? fread(text, 1, ROSTER_OCTETS_MAX, stream) : 0;
    bool well = text != NULL && length < ROSTER_OCTETS_MAX && ferror(stream) == 0;
    if (!well) {
        (void)snprintf(says, INTERVIEW_SAYS_OCTETS,
                       "%.300s cannot be read; the name of a CSV file of at most 1 MiB is expected",
                       file);
    }
    size_t before = founding->people.count + founding->machines.count;
    well = well && read_roster(&roster, text, length);
    if (well && founding->people.count + founding->machines.count == before) {
        well = refuse_row(&roster, 1,
                          "nobody and no machine is named; a first line of headings and a row for "
                          "each machine are expected");
    }
    if (stream != NULL) {
        (void)fclose(stream);
    }
    free(text);
    return well;
}
