/* SPDX-License-Identifier: MIT
 * founding: what a new shop says of itself, its people and its machines, on its way into a config: each
 * word is put to the checker of the config at once. No questions here, and no modem. */
#ifndef METERPOST_DAEMON_COUNTER_FOUNDING_H
#define METERPOST_DAEMON_COUNTER_FOUNDING_H

#include <stdbool.h>
#include <stddef.h>

#include "config/settings.h"
#include "config/settings_mistakes.h"
#include "daemon/counter/interview.h"

/* Settings that are asked for one by one; the rows of founding_rows. */
enum founding_setting {
    FOUNDING_SHOP,
    FOUNDING_COUNTRY,
    FOUNDING_NUMBER,
    FOUNDING_ZONE,
    FOUNDING_UNITS,
    FOUNDING_DATES,
    FOUNDING_WORKDAYS,
    FOUNDING_HOURS,
    FOUNDING_FIRST,
    FOUNDING_EVERY,
    FOUNDING_WEEK,
    FOUNDING_LEDGER,
    FOUNDING_MODEM, /* from here on: of each modem */
    FOUNDING_PORT,
    FOUNDING_SPEED,
    FOUNDING_PINFILE,
    FOUNDING_SETTINGS
};
/* The values of those, and behind them the ones of each further modem. */
#define FOUNDING_OF_MODEM (FOUNDING_SETTINGS - FOUNDING_MODEM)
#define FOUNDING_VALUES (FOUNDING_SETTINGS + (SETTINGS_MODEMS_MAX - 1) * FOUNDING_OF_MODEM)

/* How an answer is written into the config. */
enum founding_form {
    FOUNDING_TEXT,
    FOUNDING_FIGURE,
    FOUNDING_DAYS, /* "mon-fri", "mon tue sat" */
    FOUNDING_SPAN  /* "07:00-17:00": two settings */
};

struct founding_row {
    const char *name;            /* as of the option */
    const char *group, *setting; /* where it stands in the config */
    enum founding_form form;
    const char *asks;  /* NULL: not asked for by itself */
    const char *usual; /* NULL: by what was said before, or there is none */
    const char *until; /* the setting where a span ends */
};
extern const struct founding_row founding_rows[FOUNDING_SETTINGS];

/* Of a person or a machine; "" unsaid. */
enum {
    FOUNDING_PERSON_NAME,
    FOUNDING_PERSON_PHONE,
    FOUNDING_PERSON_ROLE,
    FOUNDING_PERSON_LANGUAGE
};
enum {
    FOUNDING_MACHINE_NAME,
    FOUNDING_MACHINE_CREW, /* "Ines + Tom" */
    FOUNDING_MACHINE_SITE,
    FOUNDING_MACHINE_LAST /* its last service: "575", "575 on 2026-03-14" */
};
#define FOUNDING_FIELDS 4
struct founding_entry {
    char *fields[FOUNDING_FIELDS];
};
struct founding_list {
    struct founding_entry *entries;
    size_t count, room;
};

#define FOUNDING_NOTE_OCTETS 256

struct founding {
    char passed_over[FOUNDING_NOTE_OCTETS]; /* columns of the roster */
    const char *file;                       /* of the config to be */
    char *values[FOUNDING_VALUES];
    size_t modem, modem_count; /* the one that is told of, from 0; how many were */
    struct founding_list people, machines;
    struct settings_mistakes known; /* what is amiss so far, as nobody was named yet */
};

void founding_begin(struct founding *founding, const char *file);
void founding_end(struct founding *founding);

/* Judges (interview.h): each takes the value where the checker has nothing against it, and says else what
 * it has. The name is that of a row; of people and machines a line, fields with commas between; an empty
 * one takes nothing. A roster is a CSV file, all of it or nothing: a row a machine and who reads it. */
bool founding_take(void *founding, const char *name, const char *value,
                   char says[INTERVIEW_SAYS_OCTETS]);
bool founding_take_person(void *founding, const char *name, const char *value,
                          char says[INTERVIEW_SAYS_OCTETS]);
bool founding_take_machine(void *founding, const char *name, const char *value,
                           char says[INTERVIEW_SAYS_OCTETS]);
bool founding_take_roster(void *founding, const char *name, const char *value,
                          char says[INTERVIEW_SAYS_OCTETS]);

/* Adds a copy to one of the lists, as it is; false when memory is short. */
bool founding_add(struct founding_list *list, const char *const fields[FOUNDING_FIELDS]);

/* Whether that can be the last service of the machine of that name; says else why not. */
bool founding_last_fits(const char *name, const char *last, char says[INTERVIEW_SAYS_OCTETS]);

/* The config as it is so far; the caller frees it. NULL when memory is short. */
char *founding_config(const struct founding *founding);

/* What it means; NULL while something is amiss. The caller ends it with settings_free. */
struct settings *founding_settings(const struct founding *founding);

#endif
