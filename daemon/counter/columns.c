/* SPDX-License-Identifier: MIT
 * columns: see output.h. What a row says is put into words once, for all three forms; and the one row, and
 * what else there is, as JSON. */
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/output.h"
#include "daemon/ground/neutral.h"
#include "daemon/ground/zone.h"
#include "daemon/upkeep/kit.h"
#include "daemon/upkeep/plan.h"

/* ---- what a cell says */

const char *quantity_write(int64_t thousandths, char room[QUANTITY_TEXT_OCTETS])
{
    int64_t whole = thousandths / 1000, rest = thousandths % 1000;
    int length =
        snprintf(room, QUANTITY_TEXT_OCTETS, "%s%" PRId64 ".%03" PRId64, thousandths < 0 ? "-" : "",
                 whole < 0 ? -whole : whole, rest < 0 ? -rest : rest);
    while (length > 0 && room[length - 1] == '0') {
        room[--length] = '\0';
    }
    if (length > 0 && room[length - 1] == '.') {
        room[length - 1] = '\0';
    }
    return room;
}

bool quantity_read(const char *text, int64_t *thousandths)
{
    size_t whole = strspn(text, "0123456789");
    size_t point = text[whole] == '.' ? 1 : 0;
    size_t decimals = point != 0 ? strspn(&text[whole + 1], "0123456789") : 0;
    if (whole == 0 || whole > 6 || decimals > 3 || point > decimals ||
        text[whole + point + decimals] != '\0') {
        return false;
    }
    *thousandths = 0;
    for (size_t i = 0; i < whole + 3; i++) {
        size_t at = i < whole ? i : i + 1;
        int digit = i < whole + decimals ? text[at] - '0' : 0;
        *thousandths = *thousandths * 10 + digit;
    }
    return true;
}

const char *hours_or_blank(bool there, int64_t hundredths, char room[HOURS_TEXT_OCTETS])
{
    room[0] = '\0';
    if (there) {
        (void)hours_write(hundredths, room, HOURS_TEXT_OCTETS);
    }
    return room;
}

const char *day_or_blank(bool there, int32_t day, char room[CIVIL_TEXT_OCTETS])
{
    room[0] = '\0';
    if (there) {
        civil_write(day, room, CIVIL_TEXT_OCTETS);
    }
    return room;
}

/* What lies in the row, and on which side of its column it stands. */
static const struct column_kind_row {
    bool figure;
    unsigned char octets; /* of a whole number, 0: there is none */
} kind_rows[COLUMN_KIND_COUNT] = {
    [COLUMN_HOURS] = {true, sizeof(int64_t)},
    [COLUMN_QUANTITY] = {true, sizeof(int64_t)},
    [COLUMN_WHOLE] = {true, sizeof(int64_t)},
    [COLUMN_COUNT] = {true, sizeof(int32_t)},
    [COLUMN_DECIMAL] = {true, 0},
    [COLUMN_OWN_FIGURE] = {true, 0},
    [COLUMN_TIME] = {false, sizeof(int64_t)},
    [COLUMN_DAY] = {false, sizeof(int32_t)},
    [COLUMN_UNIT] = {false, sizeof(enum kit_unit)},
    [COLUMN_STAGE] = {false, sizeof(enum due_stage)},
    [COLUMN_WORD] = {false, sizeof(int32_t)},
    [COLUMN_EITHER] = {false, sizeof(bool)},
    [COLUMN_MACHINE] = {false, sizeof(int32_t)},
    [COLUMN_MACHINE_KIND] = {false, sizeof(int32_t)},
    [COLUMN_PLAN] = {false, sizeof(int32_t)},
};

bool column_is_figure(const struct column *column)
{
    return kind_rows[column->kind].figure;
}

bool column_is_shown(const struct column *column, enum table_form form)
{
    return form == TABLE_SCREEN
               ? column->title != NULL
               : column->name != NULL &&
                     !(form == TABLE_CSV ? column->not_in_csv : column->not_in_json);
}

/* A whole number of the row, whatever its width. */
static int64_t number_of(const struct column *column, const void *row)
{
    const void *at = (const char *)row + column->at;
    switch (kind_rows[column->kind].octets) {
    case sizeof(int64_t):
        return *(const int64_t *)at;
    case sizeof(int32_t):
        return *(const int32_t *)at;
    case sizeof(bool):
        return *(const bool *)at;
    default:
        return 0;
    }
}

static bool is_there(const struct column *column, const void *row)
{
    for (size_t i = 0; i < 2; i++) {
        size_t at = column->if_true[i];
        if (at != 0 && !*(const bool *)((const char *)row + at)) {
            return false;
        }
    }
    int64_t least = column->when == COLUMN_FROM_0 ? 0 : 1;
    return (column->when != COLUMN_FROM_0 && column->when != COLUMN_FROM_1) ||
           number_of(column, row) >= least;
}

/* A figure's words are made here, into room; only hours may be longer than they look. */
static const char *figure_text(const struct column *column, enum table_form form, const void *row,
                               char room[TABLE_SHOWN_OCTETS])
{
    int64_t number = number_of(column, row);
    if (column->kind == COLUMN_QUANTITY) {
        return quantity_write(number, room);
    }
    if (column->kind == COLUMN_DECIMAL) { /* people read a rate as 2.50, programs as 2.5 */
        double rate = *(const double *)(const void *)((const char *)row + column->at);
        number = (int64_t)(rate * 100.0 + (rate < 0 ? -0.5 : 0.5));
        if (form != TABLE_JSON) {
            (void)snprintf(room, TABLE_SHOWN_OCTETS, "%.2f", rate);
            return room;
        }
    }
    if (column->kind == COLUMN_WHOLE || column->kind == COLUMN_COUNT) {
        (void)snprintf(room, TABLE_SHOWN_OCTETS, "%" PRId64, number);
    } else {
        (void)hours_write(number, room, TABLE_SHOWN_OCTETS);
    }
    return room;
}

const char *column_says(const struct column *column, enum table_form form,
                        const struct settings *settings, const void *row,
                        char room[TABLE_SHOWN_OCTETS])
{
    const void *at = (const char *)row + column->at;
    int64_t number = number_of(column, row);
    room[0] = '\0';
    if (!is_there(column, row)) {
        return "";
    }
    if (column->say != NULL) {
        return column->say(settings, row, room);
    }
    switch (column->kind) {
    case COLUMN_TEXT:
        return *(const char *const *)at != NULL ? *(const char *const *)at : "";
    case COLUMN_CHARS:
        return at;
    case COLUMN_TIME:
        (form == TABLE_SCREEN ? zone_write_minute : zone_write_rfc3339)(number, room,
                                                                        TABLE_SHOWN_OCTETS);
        return room;
    case COLUMN_DAY:
        civil_write((int32_t)number, room, TABLE_SHOWN_OCTETS);
        return room;
    case COLUMN_UNIT:
        return kit_unit_name((enum kit_unit)number);
    case COLUMN_STAGE:
        return form == TABLE_SCREEN ? due_stage_row((enum due_stage)number)->says
                                    : due_stage_word((enum due_stage)number);
    case COLUMN_WORD:
    case COLUMN_EITHER:
        return column->words[number];
    case COLUMN_MACHINE:
        return settings->machines[number].name;
    case COLUMN_MACHINE_KIND:
        return settings->kinds[settings->machines[number].kind].name;
    case COLUMN_PLAN:
        return settings->plans[number].name;
    default: /* a figure */
        return figure_text(column, form, row, room);
    }
}

bool columns_same(const struct columns *columns, const void *one, const void *other)
{
    static char rooms[2][TABLE_SHOWN_OCTETS];
    bool same = true;
    for (size_t i = 0; i < columns->count && same; i++) {
        const struct column *column = &columns->list[i];
        same = column->import_as == 0 ||
               strcmp(column_says(column, TABLE_CSV, NULL, one, rooms[0]),
                      column_says(column, TABLE_CSV, NULL, other, rooms[1])) == 0;
    }
    return same;
}

/* ---- JSON, over json-c */

void json_add(struct json_object *object, const char *key, struct json_object *value)
{
    if (value != NULL && (object == NULL || json_object_object_add(object, key, value) != 0)) {
        (void)json_object_put(value);
    }
}

void json_add_text(struct json_object *object, const char *key, const char *value)
{
    json_add(object, key, value != NULL ? json_object_new_string(value) : NULL);
}

void json_add_time(struct json_object *object, const char *key, int64_t unix_s)
{
    char text[ZONE_TEXT_OCTETS];
    zone_write_rfc3339(unix_s, text, sizeof text);
    json_add_text(object, key, text);
}

#define JSON_SHAPE (JSON_C_TO_STRING_SPACED | JSON_C_TO_STRING_NOSLASHESCAPE)

/* json-c writes C0 so, but lets C1 and what turns the writing pass. They stand in texts alone, so
 * that what is printable ASCII, nearly all of it, goes out in one piece. */
static bool json_print(const char *text, FILE *out)
{
    char one[NEUTRAL_TEXT_OCTETS];
    size_t length = strlen(text);
    bool written = true;
    for (size_t at = 0; at < length && written;) {
        size_t plain = at;
        while (text[plain] >= ' ' && text[plain] <= '~') {
            plain++;
        }
        written = fwrite(text + at, 1, plain - at, out) == plain - at;
        at = plain;
        if (at < length && written) {
            at += neutral_next(text, length, at, NEUTRAL_REFERENCED, one);
            written = fputs(one, out) >= 0;
        }
    }
    return written && fputc('\n', out) != EOF;
}

int json_write(struct json_object *object, FILE *out)
{
    const char *text = json_object_to_json_string_ext(object, JSON_SHAPE);
    bool written = text != NULL && json_print(text, out);
    (void)json_object_put(object);
    return written ? EX_OK : EX_IOERR;
}

static int write_settled(struct json_object *object, struct printbuf *buffer, int level, int flags)
{
    const char *text = json_object_get_userdata(object);
    (void)level, (void)flags;
    return printbuf_memappend(buffer, text, (int)strlen(text));
}

struct json_object *json_settled(struct json_object *object)
{
    const char *text = object != NULL ? json_object_to_json_string_ext(object, JSON_SHAPE) : NULL;
    char *kept = text != NULL ? strdup(text) : NULL;
    struct json_object *settled = kept != NULL ? json_object_new_boolean(false) : NULL;
    (void)json_object_put(object);
    if (settled == NULL) {
        free(kept);
    } else {
        json_object_set_serializer(settled, write_settled, kept, json_object_free_userdata);
    }
    return settled;
}

struct json_object *columns_json(const struct columns *columns, const struct settings *settings,
                                 const void *row)
{
    struct json_object *object = json_object_new_object();
    for (size_t i = 0; i < columns->count && object != NULL; i++) {
        const struct column *column = &columns->list[i];
        char room[TABLE_SHOWN_OCTETS];
        if (!column_is_shown(column, TABLE_JSON)) {
            continue;
        }
        if (column->json != NULL) {
            json_add(object, column->name, column->json(settings, row));
            continue;
        }
        const char *text = column_says(column, TABLE_JSON, settings, row, room);
        if (text[0] != '\0' || (!columns->bare && column->when == COLUMN_EVEN_EMPTY)) {
            /* The digits are those we wrote, so that 1340.1 is never 1340.0999. */
            json_add(object, column->name,
                     column_is_figure(column) ? json_object_new_double_s(strtod(text, NULL), text)
                                              : json_object_new_string(text));
        }
    }
    return object;
}
