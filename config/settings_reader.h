/* SPDX-License-Identifier: MIT
 * settings_reader: takes the values out of libconfig's tree by tables of rules, and names every
 * mistake with its line on the way. Within config/ only. */
#ifndef METERPOST_CONFIG_SETTINGS_READER_H
#define METERPOST_CONFIG_SETTINGS_READER_H

#include <libconfig.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "config/settings.h"
#include "config/settings_mistakes.h"
#include "config/settings_nouns.h"
#include "config/settings_room.h"
#include "config/settings_source.h"

#define READER_FILE_OCTETS 1024
struct reader {
    const char *file;
    char folder[READER_FILE_OCTETS]; /* of the file, where included ones lie; "" the working one */
    const struct settings_source *source;
    struct settings_mistakes *mistakes;
    struct settings *settings; /* being filled */
    bool short_of_memory;
};

/* What a rule takes, and the type of the field it fills. */
enum reader_value {
    READER_TEXT,        /* const char *: printable UTF-8 of least..most octets */
    READER_SPOKEN,      /* const char *: likewise, and in the alphabet of plain texts (GSM) */
    READER_DIGITS,      /* const char *: digits, the first no zero */
    READER_PHONE,       /* const char *: E.164; "" is taken where least is 0 */
    READER_HUNDREDTHS,  /* int64_t: a number, least..most in hundredths */
    READER_THOUSANDTHS, /* int64_t: a number, least..most in thousandths */
    READER_WHOLE,       /* int32_t: a whole number, least..most */
    READER_FLAG,        /* bool */
    READER_WORD,        /* an enum: one of words */
    READER_CHOICE,      /* const char *: one of words */
    READER_TIME,        /* int32_t: minute of the day, least..most */
    READER_DAY,         /* int32_t: civil day */
    READER_BY_HAND      /* nothing: known here, and read by the section itself */
};

struct reader_word {
    const char *word;
    int value;
};

struct reader_rule {
    const char *name;
    enum reader_value value;
    bool required;
    size_t offset; /* of the field in what is filled */
    int64_t least, most;
    const char *unit; /* of a number, for the message: "hours" */
    const struct reader_word *words;
    size_t word_count;
};

/* Whom a message is about: `machine "M12"`, `shop`; "" for the file itself. */
#define READER_OWNER_OCTETS 80
struct reader_owner {
    char text[READER_OWNER_OCTETS];
};

/* The owner by the group's own name setting, or by its place in the list ("machine 3"). */
struct reader_owner reader_owner_of(const char *what, const config_setting_t *group, int index);

/* The name by which a person finds the file: libconfig has an included one as it is written, and
 * NULL for the config file itself. */
const char *reader_file(const struct reader *reader, const char *included,
                        char out[READER_FILE_OCTETS]);

/* Adds a mistake at that setting's line: "OWNER: ...". */
void reader_mistake(struct reader *reader, const struct reader_owner *owner,
                    const config_setting_t *at, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Fills the fields of *into by the rules; a field whose setting is missing or wrong stays as it
 * is. Names what is unknown, of the wrong type, out of range, or missing though required. group may
 * be NULL (nothing is said). True when nothing was wrong. */
bool reader_group(struct reader *reader, const struct reader_owner *owner,
                  const config_setting_t *group, const struct reader_rule *rules, size_t rule_count,
                  void *into);

/* One value by one rule, `name` being what the message calls it. */
bool reader_value(struct reader *reader, const struct reader_owner *owner,
                  const config_setting_t *setting, const char *name, const struct reader_rule *rule,
                  void *into);

/* A member that must be a group, or a list (an array will do): NULL where it is missing, or
 * something else, which is named. `shown` is how a right one looks. */
const config_setting_t *reader_member_group(struct reader *reader, const struct reader_owner *owner,
                                            const config_setting_t *group, const char *name,
                                            const char *shown);
const config_setting_t *reader_member_list(struct reader *reader, const struct reader_owner *owner,
                                           const config_setting_t *group, const char *name,
                                           const char *shown);

/* A list of groups, each read into one element of an array. */
struct reader_list {
    const char *name;
    const char *shown;    /* how a right one looks */
    size_t size;          /* of an element */
    const void *defaults; /* what each element begins as */
    void (*read)(struct reader *reader, const config_setting_t *group, int index, void *into);
};

/* Room for the list's elements, filled; NULL where there is no such setting, it is no list (which is
 * named), or memory is short. An element that is no group is named and stays as the defaults. */
void *reader_list(struct reader *reader, const struct reader_owner *owner,
                  const config_setting_t *group, const struct reader_list *form, size_t *count);

/* A list of texts in quotes into texts[0..most-1]; returns how many were taken. */
size_t reader_texts(struct reader *reader, const struct reader_owner *owner,
                    const config_setting_t *group, const char *name, const char **texts,
                    size_t most, int64_t most_octets);

/* Names of other things ("plans", "crew") into indexes[0..most-1]; returns how many were taken.
 * Those unknown are named, with the nearest that is known. */
size_t reader_references(struct reader *reader, const struct reader_owner *owner,
                         const config_setting_t *group, const char *name,
                         const struct settings_noun *noun, size_t *indexes, size_t most);

/* One such name; -1, and named, where it is none. */
int32_t reader_refer(struct reader *reader, const struct reader_owner *owner,
                     const config_setting_t *setting, const char *name,
                     const struct settings_noun *noun);

/* Zeroed room in the settings for count things of size octets; NULL when memory is short, which is
 * kept in mind. */
void *reader_room(struct reader *reader, size_t count, size_t size);
const char *reader_keep(struct reader *reader, const char *text);

#endif
