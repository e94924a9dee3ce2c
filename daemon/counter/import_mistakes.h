/* SPDX-License-Identifier: MIT
 * import_mistakes: what is wrong in a file to import, each with its line: for people as it is found,
 * or gathered for --json. */
#ifndef METERPOST_DAEMON_COUNTER_IMPORT_MISTAKES_H
#define METERPOST_DAEMON_COUNTER_IMPORT_MISTAKES_H

#include <json-c/json_object.h>
#include <stddef.h>
#include <stdio.h>

#include "parsers/nearest.h"

struct import_mistakes {
    const char *file;
    FILE *err;
    struct json_object *list; /* NULL: said on err. The first ones only, as on err */
    size_t count;
};

/* "FILE:LINE: ...". After the first 50 they are counted only. */
void import_mistakes_add(struct import_mistakes *mistakes, size_t line, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* "no machine M21; did you mean M12?" */
void import_mistakes_add_name(struct import_mistakes *mistakes, size_t line, const char *what,
                              const struct nearest *nearest);

/* A cell made safe to show. */
#define IMPORT_SHOWN_OCTETS 80
struct import_shown {
    char text[IMPORT_SHOWN_OCTETS];
};
const char *import_show(const char *cell, struct import_shown *shown);

#endif
