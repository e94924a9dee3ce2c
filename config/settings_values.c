/* SPDX-License-Identifier: MIT
 * settings_values: one value by its row of the table: its type, its range, its form. Every message
 * ends with what is expected, made from the same row. */
#include "config/settings_reader.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "daemon/upkeep/civil.h"
#include "parsers/nearest.h"
#include "parsers/phone.h"
#include "parsers/septets.h"
#include "parsers/utf8.h"

#define EXPECTED_OCTETS 200

/* A value being taken: what the messages need. */
struct taking {
    struct reader *reader;
    const config_setting_t *setting;
    const char *name;
    const struct settings_row *row;
};

/* ---- What the forms are ---- */

enum field {
    FIELD_NONE,
    FIELD_TEXT,
    FIELD_INT32,
    FIELD_INT64,
    FIELD_FLAG,
    FIELD_FLAGS,
    FIELD_PLACE
};

static const struct {
    enum field field;
    int places;           /* decimals that a number may have */
    const char *expected; /* NULL: made from the row's range or words */
} forms[] = {
    [FORM_TEXT] = {FIELD_TEXT, 0, "text in quotes"},
    [FORM_SPOKEN] = {FIELD_TEXT, 0, "text in quotes"},
    [FORM_DIGITS] = {FIELD_TEXT, 0, "digits in quotes, as \"1\","},
    [FORM_PHONE] = {FIELD_TEXT, 0, "a telephone number in quotes, as \"+12065550110\","},
    [FORM_CHOICE] = {FIELD_TEXT, 0, NULL},
    [FORM_WORD] = {FIELD_INT32, 0, NULL},
    [FORM_UNIT] = {FIELD_INT32, 0, NULL},
    [FORM_HUNDREDTHS] = {FIELD_INT64, 2, NULL},
    [FORM_THOUSANDTHS] = {FIELD_INT64, 3, NULL},
    [FORM_WHOLE] = {FIELD_INT32, 0, NULL},
    [FORM_FLAG] = {FIELD_FLAG, 0, "true or false, without quotes,"},
    [FORM_TIME] = {FIELD_INT32, 0, "a time of day in quotes, as \"07:00\","},
    [FORM_DAY] = {FIELD_INT32, 0, "a date in quotes, as \"2027-01-31\","},
    [FORM_NAME] = {FIELD_PLACE, 0, "text in quotes"},
    [FORM_FLAGS] = {FIELD_FLAGS, 0, NULL},
    [FORM_BY_HAND] = {FIELD_NONE, 0, NULL},
};

static void put(const struct settings_row *row, int64_t number, void *field)
{
    int32_t whole = (int32_t)number;
    bool flag = number != 0;
    size_t place = (size_t)number;
    switch (forms[row->form].field) {
    case FIELD_INT32:
        memcpy(field, &whole, sizeof whole);
        break;
    case FIELD_INT64:
        memcpy(field, &number, sizeof number);
        break;
    case FIELD_FLAG:
        memcpy(field, &flag, sizeof flag);
        break;
    case FIELD_PLACE:
        memcpy(field, &place, sizeof place);
        break;
    case FIELD_FLAGS:
        for (int64_t i = 0; i < row->most; i++) {
            ((bool *)field)[i] = (number >> i & 1) != 0;
        }
        break;
    case FIELD_TEXT:
    case FIELD_NONE:
        break;
    }
}

const char *settings_text_in(const struct settings_row *row, const void *field)
{
    const char *text = NULL;
    if (forms[row->form].field == FIELD_TEXT) {
        memcpy(&text, field, sizeof text);
    }
    return text;
}

int64_t settings_number_in(const struct settings_row *row, const void *field)
{
    int32_t whole = 0;
    int64_t number = 0;
    switch (forms[row->form].field) {
    case FIELD_INT32:
        memcpy(&whole, field, sizeof whole);
        return whole;
    case FIELD_INT64:
        memcpy(&number, field, sizeof number);
        return number;
    case FIELD_FLAG:
        return *(const bool *)field;
    case FIELD_PLACE:
        return (int64_t) * (const size_t *)field;
    case FIELD_FLAGS:
    case FIELD_TEXT:
    case FIELD_NONE:
        break;
    }
    return 0;
}

void reader_default(const struct settings_row *row, void *field)
{
    const char *text = row->unsaid_text != NULL ? row->unsaid_text : "";
    if (forms[row->form].field == FIELD_TEXT) {
        memcpy(field, &text, sizeof text);
    } else {
        put(row, row->form == FORM_NAME ? -1 : row->unsaid, field);
    }
}

/* ---- What is expected ---- */

static const double scales[] = {1, 10, 100, 1000};

struct settings_figure settings_figure(int64_t amount, int places)
{
    struct settings_figure figure;
    int length =
        snprintf(figure.text, sizeof figure.text, "%.*f", places, (double)amount / scales[places]);
    while (places > 0 && figure.text[length - 1] == '0') {
        length--;
    }
    length -= figure.text[length - 1] == '.' ? 1 : 0;
    figure.text[length] = '\0';
    return figure;
}

static const char *type_words(const config_setting_t *setting)
{
    static const char *const words[] = {
        [CONFIG_TYPE_GROUP] = "a group in { }",
        [CONFIG_TYPE_INT] = "a number without quotes",
        [CONFIG_TYPE_INT64] = "a number without quotes",
        [CONFIG_TYPE_FLOAT] = "a number without quotes",
        [CONFIG_TYPE_STRING] = "text in quotes",
        [CONFIG_TYPE_BOOL] = "true or false",
        [CONFIG_TYPE_ARRAY] = "an array in [ ]",
        [CONFIG_TYPE_LIST] = "a list in ( )",
    };
    size_t type = (size_t)config_setting_type(setting);
    const char *said = type < sizeof words / sizeof words[0] ? words[type] : NULL;
    return said != NULL ? said : "of no known type";
}

/* A list of what would do: one of "qt", "l". */
struct choices {
    char text[EXPECTED_OCTETS];
    size_t used, count;
};

static void choices_add(struct choices *choices, const char *choice)
{
    if (choices->used < sizeof choices->text) {
        choices->used +=
            (size_t)snprintf(choices->text + choices->used, sizeof choices->text - choices->used,
                             "%s\"%s\"", choices->count > 0 ? ", " : "one of ", choice);
    }
    choices->count++;
}

/* Where they are too many to be shown, how one is found. */
static const char *choices_said(const struct choices *choices)
{
    if (choices->used >= sizeof choices->text) {
        return "the name of one in this file";
    }
    return choices->count == 1 ? choices->text + strlen("one of ") : choices->text;
}

/* The i-th of the words that a row takes, those of a unit from the table of units; its word is NULL
 * behind the last, and where the row takes no words. */
static struct settings_word word_at(const struct settings_row *row, size_t i)
{
    if (row->form != FORM_UNIT) {
        return row->words != NULL ? row->words[i] : (struct settings_word){NULL, 0};
    }
    for (int unit = (int)row->least; unit < KIT_UNIT_COUNT; unit++) {
        const char *const *names = kit_unit_row((enum kit_unit)unit)->names;
        for (size_t k = 0; k < KIT_UNIT_NAMES_MOST && names[k] != NULL; k++, i--) {
            if (i == 0) {
                return (struct settings_word){names[k], unit};
            }
        }
    }
    return (struct settings_word){NULL, 0};
}

int settings_places(enum settings_form form)
{
    return forms[form].places;
}

const char *settings_word_of(const struct settings_row *row, int value)
{
    struct settings_word word = word_at(row, 0);
    for (size_t i = 1; word.word != NULL && word.value != value; i++) {
        word = word_at(row, i);
    }
    return word.word != NULL ? word.word : "";
}

/* "a number from 0.01 to 24 hours", for the end of a message; *made holds it where it is made. */
static const char *expected_by(const struct settings_row *row, struct choices *made)
{
    int places = forms[row->form].places;
    struct settings_word last = {NULL, 0}, word;
    *made = (struct choices){.used = 0};
    if (forms[row->form].expected != NULL) {
        return forms[row->form].expected;
    }
    for (size_t i = 0; (word = word_at(row, i)).word != NULL; i++) {
        bool again = last.word != NULL && word.value == last.value;
        if (!again || row->form == FORM_CHOICE) { /* one spelling of each meaning */
            choices_add(made, word.word);
        }
        last = word;
    }
    if (last.word == NULL) {
        snprintf(made->text, sizeof made->text, "%s from %s to %s%s%s",
                 places == 0 ? "a whole number" : "a number",
                 settings_figure(row->least, places).text, settings_figure(row->most, places).text,
                 row->unit != NULL ? " " : "", row->unit != NULL ? row->unit : "");
    }
    return made->text;
}

/* ---- Numbers ---- */

/* The number times ten to the places, rounded. *exact is false where that lost digits, or the number
 * is beyond all ranges. */
static int64_t scaled(const config_setting_t *setting, int places, bool *exact)
{
    double value = config_setting_type(setting) == CONFIG_TYPE_FLOAT
                       ? config_setting_get_float(setting)
                       : (double)config_setting_get_int64(setting);
    if (!(fabs(value) < 1e12)) {
        *exact = false;
        return value > 0 ? INT64_MAX : INT64_MIN;
    }
    double times = value * scales[places];
    int64_t rounded = llround(times);
    *exact = fabs(times - (double)rounded) < 1e-6;
    return rounded;
}

static void write_number(const config_setting_t *setting, char *out, size_t size)
{
    if (config_setting_type(setting) == CONFIG_TYPE_FLOAT) {
        snprintf(out, size, "%.10g", config_setting_get_float(setting));
    } else {
        snprintf(out, size, "%lld", config_setting_get_int64(setting));
    }
}

static bool take_number(const struct taking *taking, void *field)
{
    const struct settings_row *row = taking->row;
    bool exact = true;
    char shown[40];
    struct choices made;
    int64_t number = scaled(taking->setting, forms[row->form].places, &exact);
    write_number(taking->setting, shown, sizeof shown);
    if (number < row->least || number > row->most || (!exact && row->form == FORM_WHOLE)) {
        reader_mistake(taking->reader, taking->setting, "%s is %s; %s is expected", taking->name,
                       shown, expected_by(row, &made));
        return false;
    }
    if (!exact) {
        reader_mistake(taking->reader, taking->setting,
                       "%s is %s; at most %s decimals are expected", taking->name, shown,
                       row->form == FORM_HUNDREDTHS ? "two" : "three");
        return false;
    }
    put(row, number, field);
    return true;
}

/* ---- Texts ---- */

/* A number where text in quotes belongs: of a telephone number libconfig drops plus and zeros. */
static bool name_unquoted(const struct taking *taking)
{
    char shown[40] = "...";
    bool phone = taking->row->form == FORM_PHONE;
    bool named = config_setting_name(taking->setting) != NULL;
    if (!phone) {
        write_number(taking->setting, shown, sizeof shown);
    }
    reader_mistake(taking->reader, taking->setting,
                   "%s is a %s that is not in quotes; %s%s\"%s\" is expected", taking->name,
                   phone ? "telephone number" : "number", named ? taking->name : "",
                   named ? " = " : "", shown);
    return false;
}

static void put_text(const struct taking *taking, const char *text, void *field)
{
    const char *kept = reader_keep(taking->reader, text);
    memcpy(field, &kept, sizeof kept);
}

/* NULL when the house can live with the text. spoken: it goes into texts, so each character must be
 * in the default alphabet or its extension (TS 23.038 6.2.1). */
static const char *text_flaw(const char *text, bool spoken)
{
    size_t length = strlen(text), taken = 0, septets = 0;
    for (size_t at = 0; at < length; at += taken) {
        uint32_t character = 0;
        taken = utf8_read(text, length, at, &character);
        if (taken == 0) {
            return "is not in UTF-8; save the file in that encoding";
        }
        if (character < 0x20 || (character >= 0x7F && character < 0xA0)) {
            return "holds a line break or control character; one line of plain text is expected";
        }
    }
    if (spoken && !septets_count(text, length, &septets)) {
        return "holds a character that plain texts do not have; letters of the GSM alphabet are "
               "expected (it has no accents but those of \xC3\xA0 \xC3\xA9 \xC3\xA8 \xC3\xAC "
               "\xC3\xB2 \xC3\xB9 \xC3\xB1 \xC3\xBC \xC3\xA4 \xC3\xB6)";
    }
    return NULL;
}

/* A flawed text is taken all the same, so that what refers to it is not named as well. */
static bool take_text(const struct taking *taking, const char *text, void *field)
{
    const struct settings_row *row = taking->row;
    const char *flaw = text_flaw(text, row->form == FORM_SPOKEN);
    size_t length = strlen(text);
    put_text(taking, text, field);
    if (flaw != NULL) {
        reader_mistake(taking->reader, taking->setting, "%s %s", taking->name, flaw);
    } else if (length < (size_t)row->least) {
        reader_mistake(taking->reader, taking->setting, "%s is empty; text in quotes is expected",
                       taking->name);
    } else if (length > (size_t)row->most) {
        reader_mistake(taking->reader, taking->setting,
                       "%s is %zu characters long; at most %" PRId64 " are expected", taking->name,
                       length, row->most);
    } else {
        return true;
    }
    return false;
}

static bool take_word(const struct taking *taking, const char *text, void *field)
{
    struct settings_word word = word_at(taking->row, 0);
    struct nearest nearest;
    nearest_begin(&nearest, text);
    for (size_t i = 1; word.word != NULL && strcasecmp(text, word.word) != 0; i++) {
        nearest_offer(&nearest, word.word);
        word = word_at(taking->row, i);
    }
    if (word.word == NULL) {
        struct choices made;
        reader_mistake(taking->reader, taking->setting,
                       "%s = \"%s\" is not known; %s is expected%s%s%s", taking->name, text,
                       expected_by(taking->row, &made),
                       nearest.name != NULL ? ": did you mean \"" : "",
                       nearest.name != NULL ? nearest.name : "", nearest.name != NULL ? "\"?" : "");
        return false;
    }
    if (taking->row->form == FORM_CHOICE) {
        memcpy(field, &word.word, sizeof word.word);
    } else {
        put(taking->row, word.value, field);
    }
    return true;
}

/* ---- Texts that stand for something ---- */

#define DIGITS "0123456789"

/* NAME = "TEXT" and what is the matter with it. */
static bool wrong_text(const struct taking *taking, const char *text, const char *flaw)
{
    reader_mistake(taking->reader, taking->setting, "%s = \"%s\" %s", taking->name, text, flaw);
    return false;
}

/* "07:00" or "7:00". */
static bool take_time(const struct taking *taking, const char *text, void *field)
{
    size_t hours = strspn(text, DIGITS);
    const char *minutes = text + hours + 1;
    bool formed = hours >= 1 && hours <= 2 && text[hours] == ':' && strspn(minutes, DIGITS) == 2 &&
                  minutes[2] == '\0' && minutes[0] <= '5';
    long minute = formed ? strtol(text, NULL, 10) * 60 + strtol(minutes, NULL, 10) : -1;
    if (minute < taking->row->least || minute > taking->row->most) {
        return wrong_text(taking, text, "is no time of day; \"HH:MM\" is expected, as \"07:00\"");
    }
    put(taking->row, minute, field);
    return true;
}

static bool take_day(const struct taking *taking, const char *text, void *field)
{
    int32_t day = 0;
    if (text[0] == '\0' && taking->row->least == 0) {
        return true;
    }
    if (!civil_read(text, strlen(text), &day)) {
        return wrong_text(taking, text,
                          "is no date; \"YYYY-MM-DD\" is expected, as \"2027-01-31\"");
    }
    put(taking->row, day, field);
    return true;
}

static bool take_digits(const struct taking *taking, const char *text, void *field)
{
    size_t length = strlen(text);
    if (length == 0 || length > (size_t)taking->row->most || text[0] == '0' ||
        strspn(text, DIGITS) != length) {
        return wrong_text(taking, text,
                          "is no calling code; its digits are expected, as \"1\" or \"52\"");
    }
    put_text(taking, text, field);
    return true;
}

#define A_NUMBER "; a number with its country is expected, as \"+12065550110\""

static bool take_phone(const struct taking *taking, const char *text, void *field)
{
    char phone[PHONE_OCTETS] = "";
    const char *country = taking->reader->settings->shop.country;
    if (text[0] != '\0' || taking->row->least > 0) {
        switch (phone_normalise(text, strlen(text), country, phone)) {
        case PHONE_OK:
            break;
        case PHONE_SHORT_CODE:
            return wrong_text(taking, text, "is too short to be answered" A_NUMBER);
        case PHONE_NAME:
            return wrong_text(taking, text, "is a name" A_NUMBER);
        case PHONE_MALFORMED:
            return wrong_text(taking, text, "is no telephone number" A_NUMBER);
        }
    }
    put_text(taking, phone, field);
    return true;
}

/* Where the list itself is missing or wrong, that is what is named. */
static bool take_name(const struct taking *taking, const char *text, void *field)
{
    const struct settings *settings = taking->reader->settings;
    const struct settings_row *list = taking->row->in;
    int32_t place = settings_find(settings, list, text);
    if (place >= 0) {
        put(taking->row, place, field);
        return true;
    }
    struct nearest nearest;
    struct choices choices = {.used = 0};
    nearest_begin(&nearest, text);
    for (size_t i = 0; i < settings_count(settings, list); i++) {
        nearest_offer(&nearest, settings_name(settings, list, i));
        choices_add(&choices, settings_name(settings, list, i));
    }
    if (choices.count > 0) {
        reader_unknown(taking->reader, taking->setting, &nearest, choices_said(&choices),
                       "no %s is called \"%s\"", list->group->what, text);
    }
    return false;
}

bool reader_value(struct reader *reader, const config_setting_t *setting, const char *name,
                  const struct settings_row *row, void *field)
{
    static bool (*const takes[])(const struct taking *, const char *, void *) = {
        [FORM_TEXT] = take_text,   [FORM_SPOKEN] = take_text, [FORM_DIGITS] = take_digits,
        [FORM_PHONE] = take_phone, [FORM_CHOICE] = take_word, [FORM_WORD] = take_word,
        [FORM_UNIT] = take_word,   [FORM_TIME] = take_time,   [FORM_DAY] = take_day,
        [FORM_NAME] = take_name,
    };
    struct taking taking = {reader, setting, name, row};
    bool quoted = takes[row->form] != NULL, flag = row->form == FORM_FLAG;
    bool number = config_setting_is_number(setting);
    int type = config_setting_type(setting);
    if (quoted && type == CONFIG_TYPE_STRING) {
        return takes[row->form](&taking, config_setting_get_string(setting), field);
    }
    if (quoted && number) {
        return name_unquoted(&taking);
    }
    if (flag && type == CONFIG_TYPE_BOOL) {
        put(row, config_setting_get_bool(setting), field);
        return true;
    }
    if (!quoted && !flag && number) {
        return take_number(&taking, field);
    }
    struct choices made;
    reader_mistake(reader, setting, "%s is %s; %s is expected", name, type_words(setting),
                   expected_by(row, &made));
    return false;
}
