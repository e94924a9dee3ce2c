/* SPDX-License-Identifier: MIT
 * chronicle: see the header. */
#include "daemon/counter/chronicle.h"

#include <string.h>

#include "daemon/counter/import.h"
#include "daemon/ground/zone.h"
#include "daemon/upkeep/plan.h"

/* The stages of alerts as people read them. */
static const char *stage_says(const char *word)
{
    static const char *const words[][2] = {
        {"recheck", "crew asked to look at the level again"},
        {"rechecked", "level looked at again"},
        {"recheck-again", "crew asked once more to look at the level"},
        {"unchecked", "shop told that the level was not looked at"},
        {"silent", "crew asked for a reading"},
        {"silent-shop", "shop told that no reading came"},
        {"wanted", "shop told that no reading came, near the service"},
        {"unbrought", "shop told that it was not brought on the booked day"},
        {"crew-due", "crew told that it is due"},
        {"crew-overdue", "crew told that it is overdue"},
        {"escalated", "told on, being overdue for long and not booked"},
        {"gone", "shop told that somebody still texts about it"},
    };
    enum due_stage stage;
    if (due_stage_find(word, &stage)) {
        return due_stage_row(stage)->says;
    }
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strcmp(word, words[i][0]) == 0) {
            return words[i][1];
        }
    }
    return word;
}

static void write_struck(const struct record_line *line, FILE *out)
{
    char at[ZONE_TEXT_OCTETS];
    zone_write_rfc3339(line->struck_s, at, sizeof at);
    if (strcmp(line->kind, "alert") == 0) {
        (void)fprintf(out, "[void since %.10s] ", at);
        return;
    }
    (void)fprintf(out, "[struck out %.10s%s%s", at, line->struck_by[0] != '\0' ? " by " : "",
                  line->struck_by);
    (void)fprintf(out, "%s%s] ", line->struck_why[0] != '\0' ? ": " : "", line->struck_why);
}

static void write_what(const struct record_line *line, FILE *out)
{
    char figure[HOURS_TEXT_OCTETS], quantity[QUANTITY_TEXT_OCTETS];
    char day[CIVIL_TEXT_OCTETS], until[ZONE_TEXT_OCTETS];
    const char *gap = line->plan[0] != '\0' ? ", " : "";
    if (strcmp(line->kind, "meter") == 0) {
        (void)fprintf(out, "meter changed, the new one began at %s",
                      hours_or_blank(line->new_hundredths >= 0, line->new_hundredths, figure));
    }
    (void)fputs(line->plan, out);
    if (line->stage[0] != '\0') {
        (void)fprintf(out, "%s%s", gap, stage_says(line->stage));
    }
    if (line->quantity_thousandths > 0) {
        (void)fprintf(out, "%s%s %s", gap, quantity_write(line->quantity_thousandths, quantity),
                      line->unit);
    }
    if (line->remark[0] != '\0') {
        (void)fprintf(out, "%s%s", gap, line->remark);
    }
    if (line->day != 0) {
        (void)fprintf(out, "%s %s", strcmp(line->kind, "booked") == 0 ? "for" : "since",
                      day_or_blank(true, line->day, day));
    }
    if (strcmp(line->kind, "later") == 0) {
        zone_write_rfc3339(line->until_s, until, sizeof until);
        (void)fprintf(out, "no reminders until %.10s", until);
    }
}

/* What a person wants to know of a line besides its hours, in a few words. */
static const char *detail(const struct settings *settings, const void *row,
                          char room[TABLE_SHOWN_OCTETS])
{
    const struct record_line *line = &((const struct chronicle_row *)row)->line;
    char at[ZONE_TEXT_OCTETS], noted[ZONE_TEXT_OCTETS];
    FILE *stream = fmemopen(room, TABLE_SHOWN_OCTETS, "w");
    (void)settings;
    room[0] = '\0';
    if (stream == NULL) {
        return room;
    }
    if (line->struck_s != 0) {
        write_struck(line, stream);
    }
    write_what(line, stream);
    zone_write_rfc3339(line->at_s, at, sizeof at);
    zone_write_rfc3339(line->noted_s, noted, sizeof noted);
    if (line->noted_s != 0 && strncmp(at, noted, strlen("2027-03-14")) != 0) {
        (void)fprintf(stream, "%s(noted %.10s)", ftell(stream) > 0 ? " " : "", noted);
    }
    (void)fclose(stream);
    return room;
}

static const char *const undated_words[] = {"", "yes"};

/* In CSV and JSON all that makes the line, so that it can be put back as it was; to the right of what is
 * read back stands IMPORT_COLUMN_AS_IS. */
#define AT(field) offsetof(struct chronicle_row, field)
#define LINE(field) AT(line.field)
#define AS_IS .import_as = IMPORT_COLUMN_AS_IS
static const struct column list[] = {
    {"MACHINE", "machine", COLUMN_TEXT, .at = AT(machine), AS_IS, .needed = true},
    {"WHEN", "at", COLUMN_TIME, .at = LINE(at_s), .not_in_json = true, AS_IS, .needed = true},
    {"WHAT", "what", COLUMN_TEXT, .at = LINE(kind), AS_IS, .needed = true},
    {NULL, "at", COLUMN_TIME, .at = LINE(at_s), .not_in_csv = true},
    {"HOURS", "hours", COLUMN_HOURS, .at = LINE(meter_hundredths), .when = COLUMN_FROM_0, AS_IS},
    /* Once a meter was replaced, what it shows is not what the machine has run. */
    {"TRUE", "true_hours", COLUMN_HOURS, .at = LINE(true_hundredths), .when = COLUMN_FROM_0},
    {NULL, "new_hours", COLUMN_HOURS, .at = LINE(new_hundredths), .when = COLUMN_FROM_0, AS_IS},
    {NULL, "plan", COLUMN_TEXT, .at = LINE(plan), AS_IS},
    {NULL, "stage", COLUMN_TEXT, .at = LINE(stage), AS_IS},
    {NULL, "quantity", COLUMN_QUANTITY, .at = LINE(quantity_thousandths), .when = COLUMN_FROM_1,
     AS_IS},
    {NULL, "unit", COLUMN_TEXT, .at = LINE(unit), AS_IS},
    {"WHO", "person", COLUMN_TEXT, .at = LINE(person), AS_IS},
    {"DETAIL", NULL, COLUMN_OWN, .say = detail},
    {NULL, "remark", COLUMN_TEXT, .at = LINE(remark), AS_IS},
    {NULL, "struck_at", COLUMN_TIME, .at = LINE(struck_s), .when = COLUMN_FROM_1, AS_IS},
    {NULL, "struck_by", COLUMN_TEXT, .at = LINE(struck_by), AS_IS},
    {NULL, "struck_why", COLUMN_TEXT, .at = LINE(struck_why), AS_IS},
    {NULL, "noted_at", COLUMN_TIME, .at = LINE(noted_s), .when = COLUMN_FROM_1, AS_IS},
    {NULL, "until", COLUMN_TIME, .at = LINE(until_s), .when = COLUMN_FROM_1, AS_IS},
    {NULL, "day", COLUMN_DAY, .at = LINE(day), .when = COLUMN_FROM_1, AS_IS},
    {NULL, "cycle", COLUMN_WHOLE, .at = LINE(cycle), .when = COLUMN_FROM_0, AS_IS},
    {NULL, "undated", COLUMN_EITHER, .at = LINE(undated), .words = undated_words, AS_IS},
};
#undef AS_IS
#undef LINE
#undef AT
_Static_assert(sizeof list / sizeof list[0] <= CHRONICLE_COLUMNS_MAX, "more columns than room");
const struct columns chronicle_columns = {COLUMNS(list), false};
const struct columns chronicle_of_one = {&list[1], sizeof list / sizeof list[0] - 1, false};
