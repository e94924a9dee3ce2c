/* SPDX-License-Identifier: MIT
 * json: the few shapes our JSON is made of, over json-c. A key is left out where there is nothing
 * to say; hours are decimal numbers with up to two places; times RFC 3339; dates YYYY-MM-DD. Memory
 * that is short shows at the end: json_write says false. */
#ifndef METERPOST_DAEMON_COUNTER_JSON_H
#define METERPOST_DAEMON_COUNTER_JSON_H

#include <json-c/json_object.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>

void json_add_text(struct json_object *object, const char *key,
                   const char *value); /* NULL: left out */
void json_add_bool(struct json_object *object, const char *key, bool value);
void json_add_whole(struct json_object *object, const char *key, int64_t value);
void json_add_hours(struct json_object *object, const char *key, int64_t hundredths);
void json_add_decimal(struct json_object *object, const char *key, double value); /* two places */
void json_add_thousandths(struct json_object *object, const char *key, int64_t thousandths);
void json_add_time(struct json_object *object, const char *key, int64_t unix_s);
void json_add_day(struct json_object *object, const char *key, int32_t day);

/* Writes it in one line with a line break, and frees it. */
bool json_write(struct json_object *object, FILE *out);

#endif
