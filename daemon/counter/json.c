/* SPDX-License-Identifier: MIT
 * json: see json.h. */
#include "daemon/counter/json.h"

#include "daemon/counter/quantity.h"
#include "daemon/upkeep/civil.h"
#include "daemon/ground/zone.h"
#include "parsers/hours.h"

/* json-c takes over `value`; where it could not be made the key is left out, never null. */
static void add(struct json_object *object, const char *key, struct json_object *value)
{
    if (value != NULL && json_object_object_add(object, key, value) != 0) {
        (void)json_object_put(value);
    }
}

void json_add_text(struct json_object *object, const char *key, const char *value)
{
    if (value != NULL) {
        add(object, key, json_object_new_string(value));
    }
}

void json_add_bool(struct json_object *object, const char *key, bool value)
{
    add(object, key, json_object_new_boolean(value));
}

void json_add_whole(struct json_object *object, const char *key, int64_t value)
{
    add(object, key, json_object_new_int64(value));
}

/* The digits are written by us, so that 1340.1 is never 1340.0999. */
void json_add_hours(struct json_object *object, const char *key, int64_t hundredths)
{
    char digits[HOURS_TEXT_OCTETS];
    (void)hours_write(hundredths, digits, sizeof digits);
    add(object, key, json_object_new_double_s((double)hundredths / 100.0, digits));
}

void json_add_decimal(struct json_object *object, const char *key, double value)
{
    json_add_hours(object, key, (int64_t)(value * 100.0 + (value < 0 ? -0.5 : 0.5)));
}

void json_add_thousandths(struct json_object *object, const char *key, int64_t thousandths)
{
    char digits[QUANTITY_TEXT_OCTETS];
    add(object, key,
        json_object_new_double_s((double)thousandths / 1000.0,
                                 quantity_write(thousandths, digits)));
}

void json_add_time(struct json_object *object, const char *key, int64_t unix_s)
{
    char text[ZONE_TEXT_OCTETS];
    zone_write_rfc3339(unix_s, text, sizeof text);
    json_add_text(object, key, text);
}

void json_add_day(struct json_object *object, const char *key, int32_t day)
{
    char text[CIVIL_TEXT_OCTETS];
    civil_write(day, text, sizeof text);
    json_add_text(object, key, text);
}

bool json_write(struct json_object *object, FILE *out)
{
    const char *text = json_object_to_json_string_ext(object, JSON_C_TO_STRING_SPACED |
                                                                  JSON_C_TO_STRING_NOSLASHESCAPE);
    bool written = text != NULL && fprintf(out, "%s\n", text) > 0;
    (void)json_object_put(object);
    return written;
}
