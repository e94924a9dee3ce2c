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

/* The words that people write over a column, in small letters, without accents, blanks and marks: common
 * practice, no source. The names of our own files come before them. */
static const struct {
    enum import_column column;
    const char *words; /* each between blanks */
} headings[] = {
    {IMPORT_COLUMN_MACHINE,
     " machine machines machineid machineno machinename unit unitno unitnumber unitid unitname "
     "equipment equipmentid equipmentno equipmentname asset assetid assetno assetnumber assettag "
     "assetname vehicle vehicleid fleetno fleetid fleetnumber equipo equipos maquina unidad "
     "vehiculo "
     "numeroequipo numerodeequipo engin engins appareil materiel equipement vehicule numeroengin "
     "numerodengin "},
    {IMPORT_COLUMN_HOURS,
     " hours hour hrs hourmeter hoursmeter hourmeterreading meter meterreading meterhours reading "
     "currenthours currentmeter enginehours machinehours runhours runninghours totalhours smu "
     "smuhours horas horometro medidor lectura lecturahorometro lecturadelhorometro horasmotor "
     "horasdemotor heures heuresmoteur compteur compteurhoraire compteurdheures horametre "
     "relevecompteur indexcompteur "},
    {IMPORT_COLUMN_AT,
     " date day when timestamp datetime dateandtime dateread readingdate readdate readingtimestamp "
     "readingdatetime readat recordedat datedone servicedate servicedon doneon performedon "
     "completedon fecha dia fechahora fechayhora fechadelectura fechalectura fechadeservicio "
     "fechaservicio jour dateheure dateetheure datedureleve datereleve datedelecture dateentretien "
     "datedentretien "},
    {IMPORT_COLUMN_CLOCK, " time timeofday clock readingtime timeread hora horadelectura "},
    {IMPORT_COLUMN_PERSON,
     " person operator operatorname driver drivername by readby doneby recordedby performedby "
     "technician tech mechanic operador operario persona mecanico tecnico conductor leidopor "
     "chauffeur conducteur operateur mecanicien technicien relevepar faitpar "},
    {IMPORT_COLUMN_REMARK,
     " remark remarks note notes comment comments description nota notas comentario comentarios "
     "observacion observaciones remarque remarques commentaire commentaires observation "
     "observations "},
    {IMPORT_COLUMN_PLAN,
     " plan service servicetype servicename serviceplan task job servicio tiposervicio "
     "tipodeservicio trabajo tarea entretien typeentretien typedentretien tache "},
    {IMPORT_COLUMN_QUANTITY,
     " quantity qty amount oil oilqty oilquantity oilused fluid cantidad aceite quantite huile "},
    {IMPORT_COLUMN_NEW_HOURS, " newmeter newreading newhours nuevo "},
    {IMPORT_COLUMN_PARKING, " state status event estado "},
};

#define HEADING_OCTETS 64

/* "Hour meter (h)" as " hourmeter ": what is in brackets is a unit. "" where it is too long. */
static const char *plain_heading(const char *cell, char room[HEADING_OCTETS])
{
    size_t used = 1, length = strcspn(cell, "(");
    uint16_t unit;
    room[0] = ' ';
    for (size_t at = 0; at < length;) {
        at += fold_read(cell, length, at, &unit);
        if (unit < 0x80 && isalnum(unit) != 0) {
            if (used + 2 >= HEADING_OCTETS) {
                return "";
            }
            room[used++] = (char)tolower(unit);
        }
    }
    room[used] = ' ';
    room[used + 1] = '\0';
    return used > 1 ? room : "";
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
        if (headings[i].column == (enum import_column)column->import_as && plain[0] != '\0' &&
            strstr(headings[i].words, plain) != NULL) {
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
