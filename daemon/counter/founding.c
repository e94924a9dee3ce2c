/* SPDX-License-Identifier: MIT
 * founding: see founding.h. An answer is tried by writing the config with it and letting the checker read
 * that: what it then has to say, and had not before, is why the answer will not do. */
#include "daemon/counter/founding.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "config/settings_sample.h"
#include "daemon/counter/roster.h"

const struct founding_row founding_rows[FOUNDING_SETTINGS] = {
    [FOUNDING_SHOP] = {"shop", "shop", "name", .asks = "What is the shop called?"},
    [FOUNDING_COUNTRY] = {"country", "shop", "country",
                          .asks = "The calling code of its country (1 North America, 52 Mexico, 33 "
                                  "France)",
                          .usual = "1"},
    [FOUNDING_NUMBER] = {"number", "shop", "number",
                         .asks =
                             "The telephone number of the SIM, as crews will text it (empty: not "
                             "known yet)",
                         .usual = ""},
    [FOUNDING_ZONE] = {"zone", "shop", "time_zone",
                       .asks = "Its time zone, by continent and city as America/Los_Angeles"},
    [FOUNDING_UNITS] = {"units", "shop", "units",
                        .asks = "Is oil counted in quarts (qt) or litres (l)?"},
    [FOUNDING_DATES] = {"dates", "shop", "date_order",
                        .asks = "Is 3/4 in a text March 4 (mdy) or 3 April (dmy)?"},
    [FOUNDING_WORKDAYS] = {"workdays", "shop", "workdays", FOUNDING_DAYS,
                           .asks = "On which days does the shop work, as mon-fri or mon tue sat?",
                           .usual = "mon-fri"},
    [FOUNDING_HOURS] = {"hours", "shop", "alert_from", FOUNDING_SPAN,
                        .asks = "Between which hours may alerts be texted to the shop?",
                        .usual = "07:00-17:00", .until = "alert_until"},
    [FOUNDING_FIRST] = {"first", "plans", "first", FOUNDING_FIGURE,
                        .asks = "Hours at the first drive service of a new machine, by its maker's "
                                "manual",
                        .usual = "75"},
    [FOUNDING_EVERY] = {"every", "plans", "every", FOUNDING_FIGURE,
                        .asks = "Hours between the services after that", .usual = "500"},
    [FOUNDING_WEEK] = {"week", "kinds", "hours_per_week", FOUNDING_FIGURE,
                       .asks = "Hours that a machine runs in a usual week", .usual = "30"},
    [FOUNDING_LEDGER] = {"ledger", "", "ledger", .asks = "The file for the history"},
    [FOUNDING_MODEM] = {"modem", .group = "modem", .setting = "name"},
    [FOUNDING_PORT] = {"port", "modem", "port", .usual = ""},
    [FOUNDING_SPEED] = {"speed", "modem", "speed", FOUNDING_FIGURE, .usual = "115200"},
    [FOUNDING_PINFILE] = {"pinfile", "modem", "pin_file", .usual = ""},
};

#define KIND "mower"
#define PLAN "drive"
#define PLACE_OCTETS 24

/* ---- writing the config ---- */

static void write_quoted(FILE *out, const char *text, size_t length)
{
    fputc('"', out);
    for (size_t i = 0; i < length; i++) {
        fprintf(out, "%s%c", text[i] == '"' || text[i] == '\\' ? "\\" : "", text[i]);
    }
    fputc('"', out);
}

static void write_setting(FILE *out, const char *name, const char *value)
{
    if (value[0] != '\0') {
        fprintf(out, " %s = ", name);
        write_quoted(out, value, strlen(value));
        fputc(';', out);
    }
}

/* The part of a text up to a mark, without blanks around it; *at goes behind the mark. */
static const char *next_part(const char **at, const char *mark, size_t *length)
{
    const char *part = *at + strspn(*at, " \t");
    const char *end = strstr(part, mark);
    end = end != NULL ? end : part + strlen(part);
    *at = end[0] != '\0' ? end + strlen(mark) : end;
    while (end > part && (end[-1] == ' ' || end[-1] == '\t')) {
        end--;
    }
    *length = (size_t)(end - part);
    return part;
}

static void write_person(FILE *out, char *const fields[FOUNDING_FIELDS])
{
    write_setting(out, "name", fields[FOUNDING_PERSON_NAME]);
    write_setting(out, "phone", fields[FOUNDING_PERSON_PHONE]);
    write_setting(out, "role", fields[FOUNDING_PERSON_ROLE]);
    write_setting(out, "language", fields[FOUNDING_PERSON_LANGUAGE]);
}

static void write_machine(FILE *out, char *const fields[FOUNDING_FIELDS])
{
    const char *crew = fields[FOUNDING_MACHINE_CREW], *last = fields[FOUNDING_MACHINE_LAST];
    size_t length = 0;
    write_setting(out, "name", fields[FOUNDING_MACHINE_NAME]);
    write_setting(out, "kind", KIND);
    for (bool first = true; crew[0] != '\0'; first = false) {
        const char *part = next_part(&crew, "+", &length);
        fputs(first ? " crew = ( " : ", ", out);
        write_quoted(out, part, length);
    }
    fputs(fields[FOUNDING_MACHINE_CREW][0] != '\0' ? " );" : "", out);
    write_setting(out, "site", fields[FOUNDING_MACHINE_SITE]);
    if (last[0] != '\0') {
        const char *hours = next_part(&last, " on ", &length);
        fprintf(out, " last_done = { " PLAN " = { hours = %.*s;", (int)length, hours);
        write_setting(out, "on", last);
        fputs(" }; };", out);
    }
}

/* The lines of a list as they stand in the config; the caller frees them. */
static char *write_list(const struct founding_list *list,
                        void (*write)(FILE *out, char *const fields[FOUNDING_FIELDS]))
{
    char *text = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&text, &length);
    for (size_t i = 0; out != NULL && i < list->count; i++) {
        fputs("    {", out);
        write(out, list->entries[i].fields);
        fputs(i + 1 < list->count ? " },\n" : " }\n", out);
    }
    if (out != NULL) {
        (void)fclose(out);
    }
    return text;
}

static const char *const week[] = {"mon", "tue", "wed", "thu", "fri", "sat", "sun"};
#define WEEK_DAYS (sizeof week / sizeof week[0])

/* Which day of the week it is; WEEK_DAYS: none. */
static size_t find_day(const char *text, size_t length)
{
    size_t day = 0;
    while (day < WEEK_DAYS && (length != 3 || strncasecmp(week[day], text, 3) != 0)) {
        day++;
    }
    return day;
}

/* "mon-fri" as all the days between; what is no day stands as it was said, for the checker to refuse. */
static void write_days(FILE *out, const char *value)
{
    const char *separator = "( ";
    size_t length = 0;
    for (const char *word = value + strspn(value, " ,"); *word != '\0';
         word += strspn(word, " ,")) {
        length = strcspn(word, " ,");
        size_t dash = strcspn(word, "-") < length ? strcspn(word, "-") : length;
        size_t day = find_day(word, dash);
        size_t last = dash < length ? find_day(word + dash + 1, length - dash - 1) : day;
        bool known = day < WEEK_DAYS && last < WEEK_DAYS;
        size_t days = known ? (last + WEEK_DAYS - day) % WEEK_DAYS + 1 : 1;
        for (size_t i = 0; i < days; i++) {
            fputs(separator, out);
            write_quoted(out, known ? week[(day + i) % WEEK_DAYS] : word, known ? 3 : length);
            separator = ", ";
        }
        word += length;
    }
    fputs(separator[0] == '(' ? "( )" : " )", out);
}

/* "7" and "7:30" as "07:00" and "07:30"; what is no time stands as it was said. */
static void write_time(FILE *out, const char *text, size_t length)
{
    size_t hour = strspn(text, "0123456789");
    bool whole = hour == length && (hour == 1 || hour == 2);
    bool parted = hour == 1 && length == 4 && text[1] == ':';
    fprintf(out, "\"%s", (whole && hour == 1) || parted ? "0" : "");
    for (size_t i = 0; i < length; i++) {
        fprintf(out, "%s%c", text[i] == '"' || text[i] == '\\' ? "\\" : "", text[i]);
    }
    fprintf(out, "%s\"", whole ? ":00" : "");
}

/* A value as it stands in the config, of a span one end; the caller frees it. */
static char *write_value(const struct founding_row *row, const char *value, bool until)
{
    char *text = NULL;
    size_t length = 0, part_length = 0;
    FILE *out = open_memstream(&text, &length);
    if (out == NULL) {
        return NULL;
    }
    if (row->form == FOUNDING_SPAN) {
        const char *at = value, *part = next_part(&at, "-", &part_length);
        part = until ? next_part(&at, "-", &part_length) : part;
        write_time(out, part, part_length);
    } else if (row->form == FOUNDING_DAYS) {
        write_days(out, value);
    } else if (row->form == FOUNDING_TEXT) {
        write_quoted(out, value, strlen(value));
    } else {
        fputs(value, out);
    }
    (void)fclose(out);
    return text;
}

/* The setting that a value is of. */
static enum founding_setting setting_of(size_t value)
{
    bool further = value >= FOUNDING_SETTINGS;
    return (enum founding_setting)(
        further ? FOUNDING_MODEM + (value - FOUNDING_MODEM) % FOUNDING_OF_MODEM : value);
}

/* What stands for a value where nothing was said; NULL: what the sample has. Several modems are called by
 * their places, which stay with them when the list is put in another order. */
static const char *unsaid(const struct founding *founding, size_t value, char room[PLACE_OCTETS])
{
    const char *country = founding->values[FOUNDING_COUNTRY];
    bool abroad = country != NULL && strcmp(country, "1") != 0;
    enum founding_setting setting = setting_of(value);
    switch (setting) {
    case FOUNDING_SHOP:
        return "Shop";
    case FOUNDING_DATES:
        return abroad ? "dmy" : "mdy";
    case FOUNDING_MODEM:
        (void)snprintf(room, PLACE_OCTETS, "%zu", (value - FOUNDING_MODEM) / FOUNDING_OF_MODEM + 1);
        return founding->modem_count > 1 ? room : NULL;
    case FOUNDING_NUMBER:
    case FOUNDING_PORT:
    case FOUNDING_SPEED:
    case FOUNDING_PINFILE:
        return founding_rows[setting].usual;
    default:
        return NULL;
    }
}

char *founding_config(const struct founding *founding)
{
    bool abroad = strcmp(unsaid(founding, FOUNDING_DATES, NULL), "dmy") == 0;
    char *people = write_list(&founding->people, write_person);
    char *machines = write_list(&founding->machines, write_machine);
    char *values[FOUNDING_VALUES] = {NULL}, *until = NULL, room[PLACE_OCTETS];
    struct settings_fill fills[FOUNDING_VALUES + 10] = {
        /* what is the sample's own is no shop's */
        {"", NULL, "# Written by \"meterpost setup\", and yours to edit.\n"},
        {"shop", "clock", abroad ? "\"24h\"" : "\"12h\""},
        {"shop", "holidays", "( )"},
        {"plans", NULL, NULL},
        {"kinds", NULL, NULL},
        {"kinds", "name", "\"" KIND "\""},
        {"kinds", "plans", "( \"" PLAN "\" )"},
        {"people", NULL, people},
        {"machines", NULL, machines}};
    size_t count = 9;
    size_t further = founding->modem_count > 1 ? founding->modem_count - 1 : 0;
    for (size_t i = 0; i < FOUNDING_SETTINGS + further * FOUNDING_OF_MODEM; i++) {
        const struct founding_row *row = &founding_rows[setting_of(i)];
        const char *value =
            founding->values[i] != NULL ? founding->values[i] : unsaid(founding, i, room);
        values[i] = value != NULL ? write_value(row, value, false) : NULL;
        if (values[i] != NULL) {
            fills[count++] = (struct settings_fill){row->group, row->setting, values[i]};
        }
        if (values[i] != NULL && row->until != NULL) {
            until = write_value(row, value, true);
            fills[count++] = (struct settings_fill){row->group, row->until, until};
        }
    }
    char *text = people != NULL && machines != NULL ? settings_sample_fill(fills, count) : NULL;
    for (size_t i = 0; i < FOUNDING_VALUES; i++) {
        free(values[i]);
    }
    free(until);
    free(people);
    free(machines);
    return text;
}

/* ---- what the checker has against it ---- */

static bool is_known(const struct settings_mistakes *known, const char *says)
{
    size_t i = 0;
    while (i < known->count && strcmp(known->list[i].says, says) != 0) {
        i++;
    }
    return i < known->count;
}

/* True where the checker has no more to say than before. keep: what it says is then what is known. */
static bool judge(struct founding *founding, bool keep, char says[INTERVIEW_SAYS_OCTETS])
{
    struct settings_mistakes now = {0};
    char *text = founding_config(founding);
    size_t used = 0;
    says[0] = '\0';
    if (text == NULL) {
        (void)snprintf(says, INTERVIEW_SAYS_OCTETS, "memory is short");
        return false;
    }
    settings_free(settings_load_text(founding->file, text, &now));
    free(text);
    for (size_t i = 0; i < now.count; i++) {
        if (!is_known(&founding->known, now.list[i].says) && used < INTERVIEW_SAYS_OCTETS) {
            used += (size_t)snprintf(says + used, INTERVIEW_SAYS_OCTETS - used, "%s%s",
                                     used > 0 ? "\n  " : "", now.list[i].says);
        }
    }
    bool kept = keep && used == 0;
    settings_mistakes_free(kept ? &founding->known : &now);
    if (kept) {
        founding->known = now;
    }
    return used == 0;
}

static bool will_do(struct founding *founding, char says[INTERVIEW_SAYS_OCTETS])
{
    return judge(founding, true, says);
}

struct settings *founding_settings(const struct founding *founding)
{
    struct settings_mistakes mistakes = {0};
    char *text = founding_config(founding);
    struct settings *settings =
        text != NULL ? settings_load_text(founding->file, text, &mistakes) : NULL;
    settings_mistakes_free(&mistakes);
    free(text);
    return settings;
}

/* ---- one setting ---- */

static bool is_figure(const char *text, size_t length)
{
    size_t figures = strspn(text, "0123456789."), digits = strspn(text, "0123456789");
    return digits > 0 && figures == length;
}

bool founding_take(void *ctx, const char *name, const char *value, char says[INTERVIEW_SAYS_OCTETS])
{
    struct founding *founding = ctx;
    size_t at = 0;
    while (at < FOUNDING_SETTINGS - 1 && strcmp(founding_rows[at].name, name) != 0) {
        at++;
    }
    if (founding_rows[at].form == FOUNDING_FIGURE && !is_figure(value, strlen(value))) {
        (void)snprintf(says, INTERVIEW_SAYS_OCTETS,
                       "%s = %s is no number; one as 75 or 75.5 is expected", name, value);
        return false;
    }
    if (at >= FOUNDING_MODEM) {
        at += founding->modem * FOUNDING_OF_MODEM;
        founding->modem_count =
            founding->modem_count > founding->modem ? founding->modem_count : founding->modem + 1;
    }
    char *before = founding->values[at];
    founding->values[at] = strdup(value);
    bool well = will_do(founding, says);
    free(well ? before : founding->values[at]);
    founding->values[at] = well ? founding->values[at] : before;
    return well;
}

/* ---- people and machines ---- */

static void drop_entries(struct founding_list *list, size_t count)
{
    while (list->count > count) {
        list->count--;
        for (size_t i = 0; i < FOUNDING_FIELDS; i++) {
            free(list->entries[list->count].fields[i]);
        }
    }
}

bool founding_add(struct founding_list *list, const char *const fields[FOUNDING_FIELDS])
{
    bool well = true;
    if (list->count == list->room) {
        size_t room = list->room * 2 + 16;
        void *grown = realloc(list->entries, room * sizeof *list->entries);
        if (grown == NULL) {
            return false;
        }
        list->entries = grown;
        list->room = room;
    }
    struct founding_entry *entry = &list->entries[list->count++];
    for (size_t i = 0; i < FOUNDING_FIELDS; i++) {
        entry->fields[i] = strdup(fields[i]);
        well = well && entry->fields[i] != NULL;
    }
    if (!well) {
        drop_entries(list, list->count - 1);
    }
    return well;
}

/* What stands there goes into the config without quotes. */
bool founding_last_fits(const char *name, const char *last, char says[INTERVIEW_SAYS_OCTETS])
{
    const char *at = last;
    size_t length = 0;
    const char *hours = next_part(&at, " on ", &length);
    if (last[0] == '\0' || (is_figure(hours, length) && hours[length - 1] != '.')) {
        return true;
    }
    (void)snprintf(
        says, INTERVIEW_SAYS_OCTETS,
        "%.40s: %.80s is no service; its hours, or hours and day, as \"575 on 2026-03-14\" are "
        "expected",
        name, last);
    return false;
}

/* Adds what a line says to a list, if it will do. */
static bool take_line(struct founding *founding, struct founding_list *list, const char *line,
                      char says[INTERVIEW_SAYS_OCTETS])
{
    char room[INTERVIEW_LINE_OCTETS];
    const char *fields[FOUNDING_FIELDS] = {"", "", "", ""}, *at = line;
    size_t used = 0;
    if (line[0] == '\0') {
        return true;
    }
    for (size_t i = 0; at[0] != '\0'; i++) {
        size_t length = 0;
        const char *part = next_part(&at, ",", &length);
        if (i == FOUNDING_FIELDS || used + length + 1 > sizeof room) {
            (void)snprintf(
                says, INTERVIEW_SAYS_OCTETS,
                "that is too much for one line; at most %d things with commas between are "
                "expected",
                FOUNDING_FIELDS);
            return false;
        }
        memcpy(room + used, part, length);
        room[used + length] = '\0';
        fields[i] = room + used;
        used += length + 1;
    }
    if (list == &founding->machines &&
        !founding_last_fits(fields[FOUNDING_MACHINE_NAME], fields[FOUNDING_MACHINE_LAST], says)) {
        return false;
    }
    if (founding_add(list, fields) && will_do(founding, says)) {
        return true;
    }
    drop_entries(list, list->count - 1);
    return false;
}

bool founding_take_person(void *ctx, const char *name, const char *value,
                          char says[INTERVIEW_SAYS_OCTETS])
{
    struct founding *founding = ctx;
    (void)name;
    return take_line(founding, &founding->people, value, says);
}

bool founding_take_machine(void *ctx, const char *name, const char *value,
                           char says[INTERVIEW_SAYS_OCTETS])
{
    struct founding *founding = ctx;
    (void)name;
    return take_line(founding, &founding->machines, value, says);
}

/* ---- a spreadsheet of both ---- */

bool founding_take_roster(void *ctx, const char *name, const char *value,
                          char says[INTERVIEW_SAYS_OCTETS])
{
    struct founding *founding = ctx;
    size_t people = founding->people.count, machines = founding->machines.count;
    char more[INTERVIEW_SAYS_OCTETS];
    (void)name;
    if (interview_none(value)) {
        return true;
    }
    bool read = roster_read(value, founding, says);
    bool well = judge(founding, read, more);
    if (read && well) {
        return true;
    }
    size_t used = strlen(says); /* what the rows say and what the checker says, at once */
    (void)snprintf(says + used, INTERVIEW_SAYS_OCTETS - used, "%s%s",
                   used > 0 && !well ? "\n  " : "", more);
    drop_entries(&founding->people, people);
    drop_entries(&founding->machines, machines);
    return false;
}

/* ---- beginning and end ---- */

void founding_begin(struct founding *founding, const char *file)
{
    char says[INTERVIEW_SAYS_OCTETS];
    *founding = (struct founding){.file = file};
    char *text = founding_config(founding);
    if (text != NULL) { /* what is missing at first is nobody's fault */
        settings_free(settings_load_text(file, text, &founding->known));
    }
    free(text);
    (void)will_do(founding, says);
}

void founding_end(struct founding *founding)
{
    drop_entries(&founding->people, 0);
    drop_entries(&founding->machines, 0);
    free(founding->people.entries);
    free(founding->machines.entries);
    for (size_t i = 0; i < FOUNDING_VALUES; i++) {
        free(founding->values[i]);
    }
    settings_mistakes_free(&founding->known);
}
