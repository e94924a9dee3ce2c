/* SPDX-License-Identifier: MIT
 * record_list: see record_list.h. */
#include "daemon/counter/record_list.h"

#include <stdlib.h>
#include <string.h>

#include "daemon/counter/output.h"
#include "daemon/ground/zone.h"
#include "parsers/hours.h"

static const struct table_column screen_columns[] = {
    {"WHEN", TABLE_LEFT}, {"WHAT", TABLE_LEFT},   {"HOURS", TABLE_RIGHT},
    {"WHO", TABLE_LEFT},  {"DETAIL", TABLE_LEFT},
};
/* Once a meter was replaced, what it shows is not what the machine has run. */
static const struct table_column screen_columns_true[] = {
    {"WHEN", TABLE_LEFT},  {"WHAT", TABLE_LEFT}, {"HOURS", TABLE_RIGHT},
    {"TRUE", TABLE_RIGHT}, {"WHO", TABLE_LEFT},  {"DETAIL", TABLE_LEFT},
};
static const struct table_column csv_columns[] = {
    {"at", TABLE_LEFT},          {"what", TABLE_LEFT},       {"hours", TABLE_RIGHT},
    {"true_hours", TABLE_RIGHT}, {"new_hours", TABLE_RIGHT}, {"plan", TABLE_LEFT},
    {"stage", TABLE_LEFT},       {"quantity", TABLE_RIGHT},  {"unit", TABLE_LEFT},
    {"person", TABLE_LEFT},      {"remark", TABLE_LEFT},     {"struck_at", TABLE_LEFT},
    {"struck_by", TABLE_LEFT},   {"struck_why", TABLE_LEFT}, {"noted_at", TABLE_LEFT},
};

/* The strings of a line, in the order in which they are copied and freed. */
enum { STRINGS = 8 };
static void strings_of(struct record_line *line, const char **strings[STRINGS])
{
    const char **all[STRINGS] = {&line->kind,   &line->plan,   &line->stage,     &line->unit,
                                 &line->person, &line->remark, &line->struck_by, &line->struck_why};
    memcpy(strings, all, sizeof all);
}

static void free_line(struct record_line *line)
{
    const char **strings[STRINGS];
    strings_of(line, strings);
    for (size_t i = 0; i < STRINGS; i++) {
        free((void *)(uintptr_t)*strings[i]);
        *strings[i] = NULL;
    }
}

static bool grow(struct record_list *list)
{
    size_t room = list->room == 0 ? 64 : list->room * 2;
    struct record_line *lines =
        list->count < list->room ? list->lines : realloc(list->lines, room * sizeof *lines);
    if (lines == NULL) {
        return false;
    }
    list->room = list->count < list->room ? list->room : room;
    list->lines = lines;
    return true;
}

static void take_line(void *ctx, const char *machine, const struct record_line *line)
{
    struct record_list *list = ctx;
    const char **strings[STRINGS];
    (void)machine;
    if (line->at_s > list->until_s) {
        return;
    }
    if (list->short_of_memory || !grow(list)) {
        list->short_of_memory = true;
        return;
    }
    struct record_line *copy = &list->lines[list->count];
    *copy = *line;
    strings_of(copy, strings);
    for (size_t i = 0; i < STRINGS; i++) {
        *strings[i] = strdup(*strings[i]);
        list->short_of_memory = list->short_of_memory || *strings[i] == NULL;
    }
    list->count++;
}

enum ledger_result record_list_load(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                    struct record_list *list)
{
    *list = (struct record_list){.until_s = until_s};
    return record_each(ledger, machine_id, take_line, list);
}

void record_list_free(struct record_list *list)
{
    for (size_t i = 0; i < list->count; i++) {
        free_line(&list->lines[i]);
    }
    free(list->lines);
    *list = (struct record_list){0};
}

static const char *hours_or_blank(int64_t hundredths, char room[HOURS_TEXT_OCTETS])
{
    room[0] = '\0';
    if (hundredths >= 0) {
        (void)hours_write(hundredths, room, HOURS_TEXT_OCTETS);
    }
    return room;
}

/* The stages of alerts as people read them. */
static const char *stage_says(const char *stage)
{
    static const char *const words[][2] = {
        {"recheck", "crew asked to look at the level again"},
        {"rechecked", "level looked at again"},
        {"recheck-again", "crew asked once more to look at the level"},
        {"unchecked", "shop told that the level was not looked at"},
        {"silent", "crew asked for a reading"},
        {"silent-shop", "shop told that no reading came"},
    };
    enum due_stage found;
    if (due_stage_find(stage, &found)) {
        return due_stage_row(found)->says;
    }
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strcmp(stage, words[i][0]) == 0) {
            return words[i][1];
        }
    }
    return stage;
}

static void write_struck(const struct record_line *line, FILE *out)
{
    char at[ZONE_TEXT_OCTETS];
    zone_write_rfc3339(line->struck_s, at, sizeof at);
    if (strcmp(line->kind, "alert") == 0) {
        (void)fprintf(out, "[void since %.10s] ", at);
        return;
    }
    (void)fprintf(out, "[struck out %.10s", at);
    if (line->struck_by[0] != '\0') {
        (void)fprintf(out, " by %s", line->struck_by);
    }
    (void)fprintf(out, "%s%s] ", line->struck_why[0] != '\0' ? ": " : "", line->struck_why);
}

static void write_what(const struct record_line *line, FILE *out)
{
    char figure[HOURS_TEXT_OCTETS], quantity[QUANTITY_TEXT_OCTETS];
    const char *gap = "";
    if (strcmp(line->kind, "meter") == 0) {
        (void)fprintf(out, "meter changed, the new one began at %s",
                      hours_or_blank(line->new_hundredths, figure));
    }
    if (line->plan[0] != '\0') {
        (void)fprintf(out, "%s", line->plan);
        gap = ", ";
    }
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
}

/* What was said later than it happened: the day on which it was. */
static void write_noted(const struct record_line *line, FILE *out)
{
    char at[ZONE_TEXT_OCTETS], noted[ZONE_TEXT_OCTETS];
    zone_write_rfc3339(line->at_s, at, sizeof at);
    zone_write_rfc3339(line->noted_s, noted, sizeof noted);
    if (line->noted_s != 0 && strncmp(at, noted, strlen("2027-03-14")) != 0) {
        (void)fprintf(out, "%s(noted %.10s)", ftell(out) > 0 ? " " : "", noted);
    }
}

/* What a person wants to know of a line besides its hours, in a few words. */
static void write_detail(const struct record_line *line, char *out, size_t size)
{
    FILE *stream = fmemopen(out, size, "w");
    out[0] = '\0';
    if (stream == NULL) {
        return;
    }
    if (line->struck_s != 0) {
        write_struck(line, stream);
    }
    write_what(line, stream);
    write_noted(line, stream);
    (void)fclose(stream);
}

static void screen_row(struct table *table, const struct record_line *line, bool with_true)
{
    char at[ZONE_TEXT_OCTETS], figure[HOURS_TEXT_OCTETS], detail[TABLE_SHOWN_OCTETS];
    zone_write_minute(line->at_s, at, sizeof at);
    write_detail(line, detail, sizeof detail);
    (void)table_cell(table, "%s", at);
    (void)table_cell(table, "%s", line->kind);
    (void)table_cell(table, "%s", hours_or_blank(line->meter_hundredths, figure));
    if (with_true) {
        (void)table_cell(table, "%s", hours_or_blank(line->true_hundredths, figure));
    }
    (void)table_cell(table, "%s", line->person);
    (void)table_cell(table, "%s", detail);
}

static void csv_row(struct table *table, const struct record_line *line)
{
    char at[ZONE_TEXT_OCTETS], figure[HOURS_TEXT_OCTETS];
    zone_write_rfc3339(line->at_s, at, sizeof at);
    (void)table_cell(table, "%s", at);
    (void)table_cell(table, "%s", line->kind);
    (void)table_cell(table, "%s", hours_or_blank(line->meter_hundredths, figure));
    (void)table_cell(table, "%s", hours_or_blank(line->true_hundredths, figure));
    (void)table_cell(table, "%s", hours_or_blank(line->new_hundredths, figure));
    (void)table_cell(table, "%s", line->plan);
    (void)table_cell(table, "%s", line->stage);
    if (line->quantity_thousandths > 0) {
        char quantity[QUANTITY_TEXT_OCTETS];
        (void)table_cell(table, "%s", quantity_write(line->quantity_thousandths, quantity));
    } else {
        (void)table_cell(table, "%s", "");
    }
    (void)table_cell(table, "%s", line->unit);
    (void)table_cell(table, "%s", line->person);
    (void)table_cell(table, "%s", line->remark);
    if (line->struck_s != 0) {
        zone_write_rfc3339(line->struck_s, at, sizeof at);
    }
    (void)table_cell(table, "%s", line->struck_s != 0 ? at : "");
    (void)table_cell(table, "%s", line->struck_by);
    (void)table_cell(table, "%s", line->struck_why);
    if (line->noted_s != 0) {
        zone_write_rfc3339(line->noted_s, at, sizeof at);
    }
    (void)table_cell(table, "%s", line->noted_s != 0 ? at : "");
}

static bool has_meter_change(const struct record_list *list)
{
    for (size_t i = 0; i < list->count; i++) {
        if (strcmp(list->lines[i].kind, "meter") == 0) {
            return true;
        }
    }
    return false;
}

static struct table *new_table(bool csv, bool with_true)
{
    if (csv) {
        return table_new(csv_columns, sizeof csv_columns / sizeof csv_columns[0]);
    }
    return with_true ? table_new(screen_columns_true,
                                 sizeof screen_columns_true / sizeof screen_columns_true[0])
                     : table_new(screen_columns, sizeof screen_columns / sizeof screen_columns[0]);
}

bool record_list_print(const struct record_list *list, size_t most, bool csv, FILE *out)
{
    bool with_true = has_meter_change(list);
    struct table *table = new_table(csv, with_true);
    bool printed = table != NULL && !list->short_of_memory;
    size_t from = !csv && list->count > most ? list->count - most : 0;
    for (size_t i = from; i < list->count && printed; i++) {
        const struct record_line *line = &list->lines[i];
        printed = table_row(table, line->struck_s != 0 ? TABLE_FAINT : TABLE_PLAIN);
        if (printed && csv) {
            csv_row(table, line);
        } else if (printed) {
            screen_row(table, line, with_true);
        }
    }
    if (printed && csv) {
        table_print_csv(table, out);
    } else if (printed) {
        struct screen screen = screen_of(out);
        table_print(table, &screen, out);
    }
    table_free(table);
    return printed;
}

static const char *text_or_null(const char *text)
{
    return text[0] != '\0' ? text : NULL;
}

struct json_object *record_list_json(const struct record_list *list)
{
    struct json_object *array = json_object_new_array();
    for (size_t i = 0; i < list->count; i++) {
        const struct record_line *line = &list->lines[i];
        struct json_object *object = json_object_new_object();
        json_add_text(object, "what", line->kind);
        json_add_time(object, "at", line->at_s);
        if (line->meter_hundredths >= 0) {
            json_add_hours(object, "hours", line->meter_hundredths);
        }
        if (line->true_hundredths >= 0) {
            json_add_hours(object, "true_hours", line->true_hundredths);
        }
        if (line->new_hundredths >= 0) {
            json_add_hours(object, "new_hours", line->new_hundredths);
        }
        json_add_text(object, "plan", text_or_null(line->plan));
        json_add_text(object, "stage", text_or_null(line->stage));
        if (line->quantity_thousandths > 0) {
            json_add_thousandths(object, "quantity", line->quantity_thousandths);
        }
        json_add_text(object, "unit", text_or_null(line->unit));
        json_add_text(object, "person", text_or_null(line->person));
        json_add_text(object, "remark", text_or_null(line->remark));
        if (line->struck_s != 0) {
            json_add_time(object, "struck_at", line->struck_s);
        }
        json_add_text(object, "struck_by", text_or_null(line->struck_by));
        json_add_text(object, "struck_why", text_or_null(line->struck_why));
        if (line->noted_s != 0) {
            json_add_time(object, "noted_at", line->noted_s);
        }
        (void)json_object_array_add(array, object);
    }
    return array;
}

struct plot_point *record_list_points(const struct record_list *list, size_t *count)
{
    *count = 0;
    struct plot_point *points = list->count > 0 ? calloc(list->count, sizeof *points) : NULL;
    for (size_t i = 0; i < list->count && points != NULL; i++) {
        const struct record_line *line = &list->lines[i];
        if (line->struck_s == 0 && strcmp(line->kind, "reading") == 0) {
            points[*count] = (struct plot_point){line->at_s, line->true_hundredths};
            (*count)++;
        }
    }
    return points;
}
