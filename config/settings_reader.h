/* SPDX-License-Identifier: MIT
 * settings_reader: what the chapters of config/ share: the table of all settings, the walk by it over
 * libconfig's tree, and what the file's own text tells besides. Within config/ only. */
#ifndef METERPOST_CONFIG_SETTINGS_READER_H
#define METERPOST_CONFIG_SETTINGS_READER_H

#include <libconfig.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "config/settings.h"
#include "config/settings_mistakes.h"
#include "parsers/nearest.h"

/* ---- The table: settings_table.c ---- */

/* How a value is written, and the type of the field that it fills. */
enum settings_form {
    FORM_TEXT,        /* const char *: printable UTF-8 of least..most octets */
    FORM_SPOKEN,      /* const char *: likewise, and in the alphabet of plain texts (GSM) */
    FORM_DIGITS,      /* const char *: at most so many digits, the first no zero */
    FORM_PHONE,       /* const char *: E.164; "" is taken where least is 0 */
    FORM_CHOICE,      /* const char *: one of words */
    FORM_WORD,        /* an enum: one of words */
    FORM_UNIT,        /* enum kit_unit: one from `least` on, by any of its names */
    FORM_HUNDREDTHS,  /* int64_t: a number, least..most in hundredths */
    FORM_THOUSANDTHS, /* int64_t: a number, least..most in thousandths */
    FORM_WHOLE,       /* int32_t: a whole number, least..most */
    FORM_FLAG,        /* bool */
    FORM_TIME,        /* int32_t: minute of the day, least..most */
    FORM_DAY,         /* int32_t: civil day; "" is taken where least is 0, and says nothing */
    FORM_NAME,        /* size_t: the place in the list `in` of the one called so; unsaid SIZE_MAX */
    FORM_GROUP,       /* a struct, filled by the rows of `group` */
    FORM_LIST,   /* an array of at most `most` groups or entries, and a size_t how many; where most
                         is 0 a pointer to as many as there are, in the settings' own room. An empty
                         text is no entry where the least of the entry's row is 0 */
    FORM_FLAGS,  /* bool[most]: a list of words, each of which sets its own */
    FORM_BY_HAND /* nothing: the group's settle reads it */
};

struct settings_word {
    const char *word; /* NULL behind the last; spellings of one meaning stand together */
    int value;
};

/* One setting. */
struct settings_row {
    const char *name;
    enum settings_form form;
    size_t offset; /* of the field in what its group fills */
    int64_t least, most;
    int64_t unsaid; /* the default of a number, as in the field; of flags, one bit each; of a
                                list, how many entries */
    const char *unsaid_text; /* the default of a text; NULL: "" */
    bool required;
    const char *unit; /* of a number, for the message: "hours"; a hint behind the most of a list */
    const struct settings_word *words;
    const struct settings_row *in;      /* the list that a name is looked for in */
    const struct settings_group *group; /* of a group, or of each entry of a list */
    const struct settings_row *entry;   /* of each entry of another list; it needs no name */
    size_t count;                       /* of a list: the offset of how many there are */
    size_t size;                        /* of an entry: its octets */
    const char *shown;                  /* how a right one looks: of groups and lists */
    /* How `check` tells it, {} being the value; one that begins with a comma or a blank goes on where
     * the row before ends. NULL: in another way, or not at all. */
    const char *says;
    const char
        *without; /* what it tells where there is none, as of 0, false, "" or an empty list */
};

struct reader;

/* What stands in { }: its first row is the name by which messages call it, where it is one of many. */
struct settings_group {
    const char *what; /* "machine"; NULL: what it stands in is called instead */
    size_t size;      /* of the struct that it fills */
    const struct settings_row *rows;
    size_t row_count;
    /* Defaults that hang on others, and what each value allows but they together do not. group is
     * NULL where it is unsaid. May be NULL. */
    void (*settle)(struct reader *reader, const config_setting_t *group, void *into);
};

/* The places of the rows of settings_file that others refer to. */
enum {
    ROW_LEDGER,
    ROW_DOOR,
    ROW_MODEM,
    ROW_MODEMS,
    ROW_SHOP,
    ROW_PLANS,
    ROW_KINDS,
    ROW_PEOPLE,
    ROW_MACHINES
};
extern const struct settings_row settings_rows[];
extern const struct settings_group settings_file;     /* fills struct settings */
extern const struct settings_group settings_kit;      /* fills struct settings_kit_item */
extern const struct settings_group settings_seed;     /* fills struct settings_last_done */
extern const struct settings_group settings_escalate; /* fills some of struct settings_shop */

/* ---- What is fixed by no row: settings_checks.c, settings_names.c ---- */

void settings_settle_file(struct reader *reader, const config_setting_t *root, void *into);
void settings_settle_modem(struct reader *reader, const config_setting_t *group, void *into);
void settings_settle_shop(struct reader *reader, const config_setting_t *group, void *into);
void settings_settle_plan(struct reader *reader, const config_setting_t *group, void *into);
void settings_settle_kind(struct reader *reader, const config_setting_t *group, void *into);
void settings_settle_machine(struct reader *reader, const config_setting_t *group, void *into);

void settings_settle_person(struct reader *reader, const config_setting_t *group, void *into);

/* Names what keeps crews from typing a name, which stands in that member of the group; word: it must
 * be one word. group may be NULL. */
void settings_check_typed(struct reader *reader, const config_setting_t *group, const char *member,
                          const char *name, bool word);

/* Last: names that the grammar could not tell apart. */
void settings_check_alike(struct reader *reader, const config_setting_t *root);

/* ---- The walk: settings_groups.c, settings_values.c ---- */

#define READER_FILE_OCTETS 1024
#define READER_OWNER_OCTETS 80
struct reader {
    const char *file;
    char folder[READER_FILE_OCTETS]; /* of the file, where included ones lie; "" the working one */
    struct settings_mistakes *mistakes;
    struct settings *settings;       /* being filled */
    char owner[READER_OWNER_OCTETS]; /* whom messages are about: `machine "M12"`; "" the file */
    bool well;                       /* each value of the group being settled is */
    bool short_of_memory;
};

/* Fills *into by the rows; a field whose setting is missing or wrong has its default. Names what is
 * unknown, of the wrong type, out of range, or missing though required. group may be NULL (nothing
 * is said). index: its place in a list, or -1. */
void reader_group(struct reader *reader, const struct settings_group *form,
                  const config_setting_t *group, int index, void *into);

/* One value by one row, into *field; messages call it `name`. True when it is well; else it is
 * named. */
bool reader_value(struct reader *reader, const config_setting_t *setting, const char *name,
                  const struct settings_row *row, void *field);

/* What the row's field holds where it is unsaid. */
void reader_default(const struct settings_row *row, void *field);

/* Adds a mistake at that setting's line: "OWNER: ...". at NULL: the first line. */
void reader_mistake(struct reader *reader, const config_setting_t *at, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Likewise, of a name that is not known: "...; did you mean "NEAREST"?", or "...; OTHERWISE is
 * expected". */
void reader_unknown(struct reader *reader, const config_setting_t *at,
                    const struct nearest *nearest, const char *otherwise, const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* Messages are about that group from here on: `machine "M12"`, `machine number 3`, or, where index is
 * -1, the kind of group alone. */
void reader_owner(struct reader *reader, const struct settings_group *form,
                  const config_setting_t *group, int index);

/* The name by which a person finds the file: libconfig has an included one as it is written, and
 * NULL for the config file itself. */
const char *reader_file(const struct reader *reader, const char *included,
                        char out[READER_FILE_OCTETS]);

/* A setting of a group, NULL where it, or the group, is unsaid. */
const config_setting_t *reader_member(const config_setting_t *group, const char *name);

/* Likewise, or the group itself: where a message points. */
const config_setting_t *reader_at(const config_setting_t *group, const char *name);

/* The group at that place of a list of the file, NULL where there is none. */
const config_setting_t *reader_entry(const config_setting_t *root, const struct settings_row *list,
                                     size_t index);

/* Zeroed room in the settings, and a text kept there; NULL or "" when memory is short, which is kept
 * in mind. */
void *reader_room(struct reader *reader, size_t count, size_t size);
const char *reader_keep(struct reader *reader, const char *text);

/* ---- The lists of named things: settings.c ---- */

/* Of machines, plans, kinds or people, by their row in the file. */
size_t settings_count(const struct settings *settings, const struct settings_row *list);
const char *settings_name(const struct settings *settings, const struct settings_row *list,
                          size_t index);
int32_t settings_find(const struct settings *settings, const struct settings_row *list,
                      const char *name); /* -1 none; NULL-safe name? no */

/* Where a place stands among others; count where it does not. */
size_t settings_among(const size_t *places, size_t count, size_t place);

/* ---- The file as text: settings_load.c, settings_slips.c ---- */

struct settings_slip {
    uint32_t line;
    char says[240]; /* "what is wrong; what is expected" */
};

/* Follows quotes, brackets and comments. False where one is out of place, or would let libconfig pass
 * over the rest without a word. plain, NULL or as large as the text with its NUL, becomes the text
 * with comments blanked, texts with quotes all over, and lines that include a file with "@". */
bool settings_marks_well(const char *text, char *plain, struct settings_slip *slip);

/* Likewise, for the setting of that line that its group has set before: libconfig names the line alone.
 * False where it is not found. */
bool settings_slip_twice(const char *text, const char *plain, uint32_t line,
                         struct settings_slip *slip);

/* Looks for a usual slip of the hand at the line at which libconfig stopped and the one before. Cuts
 * the plain text at the end of that line. */
bool settings_slip_near(const char *text, char *plain, uint32_t line, struct settings_slip *slip);

/* ---- Words for messages and the summary: settings_values.c ---- */

/* What stands in a row's field: a text, NULL where it is none; a number, 0 where it is none. */
const char *settings_text_in(const struct settings_row *row, const void *field);
int64_t settings_number_in(const struct settings_row *row, const void *field);

/* How many decimals a number of that form may have. */
int settings_places(enum settings_form form);

/* The word for a value of a row that takes words; "" where it has none. */
const char *settings_word_of(const struct settings_row *row, int value);

struct settings_figure {
    char text[32];
};

/* 7500 with two places is "75", 7550 is "75.5". places: 0 to 3. */
struct settings_figure settings_figure(int64_t amount, int places);

#endif
