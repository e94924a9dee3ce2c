/* SPDX-License-Identifier: MIT
 * import_columns: see import.h. Which heading of a file is which column: by the names of our own
 * files, by the words that people use, or as --columns says. What could be two is asked for. */
#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "daemon/counter/import.h"
#include "parsers/crew_text_items.h"
#include "parsers/nearest.h"

/* The words that people write over a column, in small letters without accents: common practice, no source.
 * A heading is made of them, run together or not ("Hour meter", "hour_meter_reading"): of one of the words
 * at least, and of others that only go with them. The names of our own files come before them. */
static const struct {
    enum import_column column;
    const char *words, *with; /* each behind a blank */
} headings[] = {
    {IMPORT_COLUMN_MACHINE,
     " machine machines mower unit equipment asset vehicle fleet equipo equipos maquina "
     "unidad vehiculo engin engins appareil materiel equipement vehicule",
     " id no n number name tag numero num de d"},
    {IMPORT_COLUMN_HOURS,
     " hours hour hrs hr meter reading smu horas horometro medidor lectura heures compteur "
     "horametre",
     " current engine machine run running total de del du d la motor moteur horaire releve index"},
    {IMPORT_COLUMN_AT, " date dateof day when timestamp datetime at on fecha dia jour",
     " time and read reading recorded taken done service serviced performed completed y hora "
     "de la lectura servicio et heure du d releve lecture entretien"},
    {IMPORT_COLUMN_CLOCK, " time clock hora", " of day read reading de lectura"},
    {IMPORT_COLUMN_PERSON,
     " person operator driver by technician tech mechanic operador operario persona mecanico "
     "tecnico conductor por chauffeur conducteur operateur mecanicien technicien par",
     " name read taken done recorded performed leido releve fait"},
    {IMPORT_COLUMN_REMARK,
     " remark remarks note notes comment comments description nota notas comentario "
     "comentarios observacion observaciones remarque remarques commentaire commentaires "
     "observation observations",
     ""},
    {IMPORT_COLUMN_PLAN, " plan service task job servicio trabajo tarea entretien tache",
     " type of name plan tipo de d"},
    {IMPORT_COLUMN_QUANTITY, " quantity qty amount oil fluid cantidad aceite quantite huile",
     " used of de d"},
    {IMPORT_COLUMN_NEW_HOURS, " new nuevo nouveau", " meter reading hours medidor compteur"},
    {IMPORT_COLUMN_PARKING, " state status event estado", ""},
};

#define HEADING_OCTETS 64

/* "Hour meter (h)" as "hourmeter": what is in brackets is a unit. "" where it is too long. */
static const char *plain_heading(const char *cell, char room[HEADING_OCTETS])
{
    size_t used = 0, length = strcspn(cell, "(");
    uint16_t unit;
    for (size_t at = 0; at < length;) {
        at += fold_read(cell, length, at, &unit);
        if (unit < 0x80 && isalnum(unit) != 0) {
            if (used + 1 >= HEADING_OCTETS) {
                return "";
            }
            room[used++] = (char)tolower(unit);
        }
    }
    room[used] = '\0';
    return room;
}

enum made { MADE_SO_FAR = 1, MADE_WITH_A_WORD = 2 };

/* Goes on from there by each of the words that stands there; reached[] is for each place how it is made. */
static void go_on(const char *plain, size_t at, const char *words, unsigned made,
                  unsigned reached[HEADING_OCTETS])
{
    while (words[0] != '\0') {
        size_t length = strcspn(&words[1], " ");
        if (strncmp(&plain[at], &words[1], length) == 0) {
            reached[at + length] |= made;
        }
        words = &words[1 + length];
    }
}

static bool is_made_of(const char *plain, const char *words, const char *with)
{
    unsigned reached[HEADING_OCTETS] = {MADE_SO_FAR};
    size_t length = strlen(plain);
    for (size_t at = 0; at < length; at++) {
        if (reached[at] != 0) {
            go_on(plain, at, with, reached[at], reached);
            go_on(plain, at, words, MADE_WITH_A_WORD, reached);
        }
    }
    return (reached[length] & MADE_WITH_A_WORD) != 0;
}

/* "Meter (km)" counts no hours. */
static bool unit_fits(const char *heading, enum import_column column)
{
    const char *bracket = strchr(heading, '(');
    return bracket == NULL ||
           (column != IMPORT_COLUMN_HOURS && column != IMPORT_COLUMN_NEW_HOURS) ||
           cells_hours_unit(bracket + 1, strcspn(bracket + 1, ")"));
}

static bool has_heading(const struct csv *csv, const char *name)
{
    for (size_t i = 0; i < csv->cell_count; i++) {
        if (strcasecmp(csv->cells[i], name) == 0) {
            return true;
        }
    }
    return false;
}

/* Whether a heading can be a column: by its name in our own files, or by a word that people use; by a word
 * that is the name of another column ("unit") only where its own name is not there. */
static bool heading_fits(const char *heading, const struct column *column,
                         const struct columns *known, const struct csv *csv)
{
    char room[HEADING_OCTETS];
    const char *plain = plain_heading(heading, room);
    if (strcasecmp(heading, column->name) == 0) {
        return true;
    }
    for (size_t i = 0; i < known->count; i++) {
        if (strcasecmp(heading, known->list[i].name) == 0 && has_heading(csv, column->name)) {
            return false;
        }
    }
    for (size_t i = 0; i < sizeof headings / sizeof headings[0]; i++) {
        if (headings[i].column == (enum import_column)column->import_as &&
            is_made_of(plain, headings[i].words, headings[i].with)) {
            return unit_fits(heading, headings[i].column);
        }
    }
    return false;
}

/* The heading that --columns gives a column, into room; false where it gives none. */
static bool named_heading(const char *named, const char *name, char room[HEADING_OCTETS])
{
    size_t length = strlen(name);
    for (const char *at = named; at != NULL && at[0] != '\0';) {
        size_t octets = strcspn(at, ",");
        if (strncasecmp(at, name, length) == 0 && at[length] == '=') {
            (void)snprintf(room, HEADING_OCTETS, "%.*s", (int)(octets - length - 1),
                           &at[length + 1]);
            return true;
        }
        at = &at[octets + (at[octets] == ',')];
    }
    return false;
}

/* Finds one column among the headings; what could be two is asked for. */
static void find_column(struct import_rows *rows, const struct column *column,
                        const struct csv *csv)
{
    struct import_columns *columns = &rows->columns;
    char named[HEADING_OCTETS];
    struct import_shown one, other;
    bool is_named = named_heading(rows->named, column->name, named);
    int *at = &columns->cells[column->import_as];
    for (size_t i = 0; i < columns->count; i++) {
        const char *heading = columns->headings[i];
        bool fits = is_named ? strcasecmp(heading, named) == 0
                             : heading_fits(heading, column, &rows->kind->columns, csv);
        if (fits && !columns->taken[i] && *at < 0) {
            *at = (int)i;
        } else if (fits && !columns->taken[i] && strcasecmp(heading, columns->headings[*at]) == 0) {
            import_mistakes_add(&rows->mistakes, csv->line, "the column %s is there twice",
                                import_show(heading, &one));
            return;
        } else if (fits && !columns->taken[i]) {
            import_mistakes_add(&rows->mistakes, csv->line,
                                "both \"%s\" and \"%s\" could be %s; say which: --columns "
                                "\"%s=%s\"",
                                import_show(columns->headings[*at], &one),
                                import_show(heading, &other), column->name, column->name,
                                import_show(heading, &other));
            return;
        }
    }
    if (*at >= 0) {
        columns->taken[*at] = true;
    } else if (is_named) {
        import_mistakes_add(&rows->mistakes, csv->line,
                            "--columns names a column \"%s\" that is not there",
                            import_show(named, &one));
    } else if (column->needed) {
        struct nearest nearest;
        nearest_begin(&nearest, column->name);
        for (size_t i = 0; i < columns->count; i++) {
            nearest_offer(&nearest, columns->headings[i]);
        }
        import_mistakes_add(&rows->mistakes, csv->line,
                            "no column is plainly %s; say which: --columns \"%s=%s\"; our own "
                            "go like: %s",
                            column->name, column->name,
                            nearest.name != NULL ? import_show(nearest.name, &one) : "HEADING",
                            rows->kind->first_line);
    }
}

bool import_columns_plain(const struct import_rows *rows, const struct csv *csv)
{
    const struct columns *known = &rows->kind->columns;
    bool plain = true;
    for (size_t i = 0; i < known->count && plain; i++) {
        char named[HEADING_OCTETS];
        bool is_named = named_heading(rows->named, known->list[i].name, named);
        bool found = !known->list[i].needed;
        for (size_t j = 0; j < csv->cell_count && !found; j++) {
            found = is_named ? strcasecmp(csv->cells[j], named) == 0
                             : heading_fits(csv->cells[j], &known->list[i], known, csv);
        }
        plain = found;
    }
    return plain;
}

bool import_columns_read(struct import_rows *rows, const struct csv *csv)
{
    struct import_columns *columns = &rows->columns;
    const struct columns *known = &rows->kind->columns;
    *columns = (struct import_columns){.count = csv->cell_count, .line = -1, .row = csv->line};
    for (size_t i = 0; i < IMPORT_COLUMN_COUNT; i++) {
        columns->cells[i] = -1;
    }
    for (size_t i = 0; i < csv->cell_count; i++) {
        columns->headings[i] = csv->cells[i];
        if (rows->parcelled && strcmp(csv->cells[i], IMPORT_PARCEL_LINE) == 0) {
            columns->line = (int)i;
            columns->taken[i] = true;
        }
        for (size_t j = 0; j < known->count; j++) { /* those that the ledger reckons for itself */
            columns->taken[i] =
                columns->taken[i] || (known->list[j].import_as == IMPORT_COLUMN_PASSED_OVER &&
                                      strcasecmp(known->list[j].name, csv->cells[i]) == 0);
        }
    }
    for (size_t i = 0; i < known->count; i++) {
        if (known->list[i].import_as != IMPORT_COLUMN_PASSED_OVER) {
            find_column(rows, &known->list[i], csv);
        }
    }
    return rows->mistakes.count == 0;
}

void import_columns_print(const struct import_rows *rows, FILE *out)
{
    const struct import_columns *columns = &rows->columns;
    const struct columns *known = &rows->kind->columns;
    struct import_shown shown;
    (void)fprintf(out, "Understood\n");
    if (columns->row > 1) {
        (void)fprintf(out, "  the headings stand in line %zu; what is above is passed over\n",
                      columns->row);
    }
    for (size_t i = 0; i < known->count; i++) {
        int cell = columns->cells[known->list[i].import_as];
        if (known->list[i].import_as != IMPORT_COLUMN_PASSED_OVER && cell >= 0) {
            (void)fprintf(out, "  %-10s from \"%s\"%s\n", known->list[i].name,
                          import_show(columns->headings[cell], &shown),
                          known->list[i].import_as != IMPORT_COLUMN_AT || !rows->ordered_dates ? ""
                          : rows->settings->shop.date_order == SETTINGS_DATE_DMY
                              ? ", the day before the month"
                              : ", the month before the day");
        }
    }
    for (size_t i = 0; i < columns->count; i++) {
        if (!columns->taken[i] && columns->headings[i][0] != '\0') {
            (void)fprintf(out, "  passed over: \"%s\"\n",
                          import_show(columns->headings[i], &shown));
        }
    }
}
