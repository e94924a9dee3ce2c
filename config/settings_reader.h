/* SPDX-License-Identifier: MIT
 * settings_reader: what the chapters of config/ share: the file as text, the walk over libconfig's
 * tree by tables of rules, and the sections. Within config/ only. */
#ifndef METERPOST_CONFIG_SETTINGS_READER_H
#define METERPOST_CONFIG_SETTINGS_READER_H

#include <libconfig.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "config/settings.h"
#include "config/settings_mistakes.h"

struct settings_room;

/* Room for `size` octets, zeroed and aligned for any type; it lives until the room is freed. *room
 * begins as NULL. NULL when memory is short. */
void *settings_room_take(struct settings_room **room, size_t size);

/* A copy of text[0, length) with a NUL behind it. NULL when memory is short. */
const char *settings_room_keep(struct settings_room **room, const char *text, size_t length);

void settings_room_free(struct settings_room *room); /* NULL is fine */

struct settings_noun {
    const char *list; /* the setting that holds them: "machines" */
    const char *what; /* one of them: "machine" */
    size_t (*count)(const struct settings *settings);
    const char *(*name_of)(const struct settings *settings, size_t index);
    int32_t (*find)(const struct settings *settings, const char *name); /* -1 none */
};

extern const struct settings_noun settings_noun_machine;
extern const struct settings_noun settings_noun_plan;
extern const struct settings_noun settings_noun_kind;
extern const struct settings_noun settings_noun_person;

/* The group of one of them in the tree; NULL where that entry is no group. */
const config_setting_t *settings_noun_group(const config_setting_t *root,
                                            const struct settings_noun *noun, size_t index);

/* A setting of a group, or the group itself where it has none: where a message points. */
const config_setting_t *settings_noun_member(const config_setting_t *group, const char *name);

struct settings_source {
    char *text; /* NUL-terminated; a byte order mark is left out */
    size_t length;
    bool wide_number; /* holds whole numbers that libconfig may have wrapped */
};

#define SETTINGS_SOURCE_OCTETS_MAX (4 * 1024 * 1024)

/* Reads the whole file. False, and a mistake added, when that fails. *source is freed with
 * settings_source_free either way. */
bool settings_source_read(struct settings_source *source, const char *file,
                          struct settings_mistakes *mistakes);
void settings_source_free(struct settings_source *source);

/* The value written after `name =` in that line, without the quotes or blanks around it, up to the
 * next separator. Empty where there is none (*length 0). */
const char *settings_source_value(const struct settings_source *source, uint32_t line,
                                  const char *name, size_t *length);

enum token_kind {
    TOKEN_END,
    TOKEN_NAME,    /* letters, digits, - and _; true and false too */
    TOKEN_STRING,  /* from quote to quote */
    TOKEN_NUMBER,  /* a well-formed number */
    TOKEN_FIGURES, /* begins like a number and is none: a time, a date, a telephone number */
    TOKEN_OPEN,    /* { ( [ */
    TOKEN_CLOSE,   /* } ) ] */
    TOKEN_EQUALS,  /* = or : */
    TOKEN_STOP,    /* ; */
    TOKEN_COMMA,
    TOKEN_OTHER /* nothing that the grammar knows */
};

struct token {
    enum token_kind kind;
    const char *text;
    size_t length;
    uint32_t line;   /* where it begins */
    bool many_lines; /* a string that runs over the end of its line, or never ends */
    bool wide;       /* a whole number beyond 32 bits */
};

struct tokens {
    const char *text; /* NUL-terminated */
    size_t at;
    uint32_t line;
    uint32_t open_comment_line; /* of a comment that never ends; 0 none */
};

void tokens_begin(struct tokens *tokens, const char *text);
struct token tokens_next(struct tokens *tokens);

struct syntax_finding {
    uint32_t line;
    char says[240]; /* "what is wrong; what is expected" */
};

/* Looks for the first place where a text leaves libconfig's grammar. False where it finds none. What
 * an @include line brings is not seen. */
bool settings_syntax_examine(const char *text, struct syntax_finding *finding);

/* What libconfig lets pass: the line of a comment that never ends (0: none), and whether there is a
 * whole number that it may have wrapped. */
struct syntax_traps {
    uint32_t open_comment_line;
    bool wide_number;
};
struct syntax_traps settings_syntax_traps(const char *text);

/* The name that is given a value in that line, and had one in the same group before. *length is 0
 * where there is none. */
const char *settings_syntax_twice(const char *text, uint32_t line, int *length);

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

/* NULL when the text is well, else what is wrong and expected ("holds a control character; ...").
 * spoken: it goes into texts, so each character must be in the default alphabet or its extension
 * (TS 23.038 6.2.1). */
const char *settings_text_flaw(const char *text, bool spoken);

struct settings_figure {
    char text[32];
};

/* 7500 with two places is "75", 7550 is "75.5". places: 0 to 3. */
struct settings_figure settings_figure(int64_t amount, int places);

#define EXPECTED_OCTETS 200

/* "text in quotes", "a list in ( )", ... */
const char *expected_type(const config_setting_t *setting);

/* "a number from 0.01 to 24 hours", for the end of a message; made in out where it is made. */
const char *expected_by(const struct reader_rule *rule, char out[EXPECTED_OCTETS]);

/* Decimal places that the rule's field holds: 2 for hundredths, 3 for thousandths, else 0. */
int expected_places(enum reader_value value);

/* Names the shop's zone as a mistake at that setting where the box does not know it. setting may be
 * NULL. */
void settings_check_zone(struct reader *reader, const struct reader_owner *owner,
                         const config_setting_t *setting);

/* The zone of the box itself, as /etc/localtime has it; "UTC" where that says nothing. */
const char *settings_default_zone(struct reader *reader);

void settings_read_shop(struct reader *reader, const config_setting_t *root);
void settings_read_plans(struct reader *reader, const config_setting_t *root);
void settings_read_kinds(struct reader *reader, const config_setting_t *root);
void settings_read_people(struct reader *reader, const config_setting_t *root);
void settings_read_machines(struct reader *reader, const config_setting_t *root);

/* Last: names that the grammar could not tell apart, and telephone numbers given twice. */
void settings_check_names(struct reader *reader, const config_setting_t *root);

/* Names, of two plans, people or machines (in that order) that are alike, the later one; of kinds
 * among themselves likewise. */
void settings_check_alike(struct reader *reader, const config_setting_t *root);

#endif
