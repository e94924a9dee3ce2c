/* SPDX-License-Identifier: MIT
 * settings_values: one value by one rule: its type, its range, its form. Every message ends with
 * what is expected, made from the same rule. */
#include <inttypes.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "config/settings_reader.h"
#include "daemon/upkeep/civil.h"
#include "parsers/nearest.h"
#include "parsers/phone.h"
#include "parsers/septets.h"
#include "parsers/utf8.h"

static bool control(uint32_t character)
{
    return character < 0x20 || (character >= 0x7F && character < 0xA0);
}

const char *settings_text_flaw(const char *text, bool spoken)
{
    size_t length = strlen(text), taken = 0;
    for (size_t at = 0; at < length; at += taken) {
        uint32_t character = 0;
        taken = utf8_read(text, length, at, &character);
        if (taken == 0) {
            return "is not in UTF-8; save the file in that encoding";
        }
        if (control(character)) {
            return "holds a line break or control character; one line of plain text is expected";
        }
    }
    size_t septets = 0;
    if (spoken && !septets_count(text, length, &septets)) {
        return "holds a character that plain texts do not have; letters of the GSM alphabet are "
               "expected (it has no accents but those of \xC3\xA0 \xC3\xA9 \xC3\xA8 \xC3\xAC "
               "\xC3\xB2 \xC3\xB9 \xC3\xB1 \xC3\xBC \xC3\xA4 \xC3\xB6)";
    }
    return NULL;
}

struct settings_figure settings_figure(int64_t amount, int places)
{
    struct settings_figure figure;
    int64_t scale = 1;
    for (int i = 0; i < places; i++) {
        scale *= 10;
    }
    int64_t whole = amount / scale, rest = amount % scale;
    int length =
        snprintf(figure.text, sizeof figure.text, "%s%" PRId64 ".%0*" PRId64, amount < 0 ? "-" : "",
                 whole < 0 ? -whole : whole, places, rest < 0 ? -rest : rest);
    while (length > 1 && figure.text[length - 1] == '0' && rest != 0) {
        length--;
    }
    if (rest == 0) {
        length = (int)strcspn(figure.text, ".");
    }
    figure.text[length] = '\0';
    return figure;
}

const char *expected_type(const config_setting_t *setting)
{
    switch (config_setting_type(setting)) {
    case CONFIG_TYPE_GROUP:
        return "a group in { }";
    case CONFIG_TYPE_INT:
    case CONFIG_TYPE_INT64:
    case CONFIG_TYPE_FLOAT:
        return "a number without quotes";
    case CONFIG_TYPE_STRING:
        return "text in quotes";
    case CONFIG_TYPE_BOOL:
        return "true or false";
    case CONFIG_TYPE_ARRAY:
        return "an array in [ ]";
    case CONFIG_TYPE_LIST:
        return "a list in ( )";
    }
    return "of no known type";
}

int expected_places(enum reader_value value)
{
    return value == READER_HUNDREDTHS ? 2 : value == READER_THOUSANDTHS ? 3 : 0;
}

static void write_words(const struct reader_rule *rule, char *out, size_t size)
{
    size_t used = 0;
    for (size_t i = 0; i < rule->word_count && used < size; i++) {
        bool again = i > 0 && rule->words[i].value == rule->words[i - 1].value;
        if (!again) { /* spellings of one meaning stand together; the first is shown */
            used += (size_t)snprintf(out + used, size - used, "%s\"%s\"", i > 0 ? ", " : "one of ",
                                     rule->words[i].word);
        }
    }
}

static void write_range(const struct reader_rule *rule, char *out, size_t size)
{
    int places = expected_places(rule->value);
    snprintf(out, size, "%s from %s to %s%s%s", places == 0 ? "a whole number" : "a number",
             settings_figure(rule->least, places).text, settings_figure(rule->most, places).text,
             rule->unit != NULL ? " " : "", rule->unit != NULL ? rule->unit : "");
}

const char *expected_by(const struct reader_rule *rule, char out[EXPECTED_OCTETS])
{
    switch (rule->value) {
    case READER_TEXT:
    case READER_SPOKEN:
        return "text in quotes";
    case READER_DIGITS:
        return "digits in quotes, as \"1\",";
    case READER_PHONE:
        return "a telephone number in quotes, as \"+12065550110\",";
    case READER_HUNDREDTHS:
    case READER_THOUSANDTHS:
    case READER_WHOLE:
        write_range(rule, out, EXPECTED_OCTETS);
        return out;
    case READER_FLAG:
        return "true or false, without quotes,";
    case READER_WORD:
    case READER_CHOICE:
        write_words(rule, out, EXPECTED_OCTETS);
        return out;
    case READER_TIME:
        return "a time of day in quotes, as \"07:00\",";
    case READER_DAY:
        return "a date in quotes, as \"2027-01-31\",";
    case READER_BY_HAND:
        break;
    }
    return "something else";
}

/* A value being taken: what the messages need. */
struct taking {
    struct reader *reader;
    const struct reader_owner *owner;
    const config_setting_t *setting;
    const char *name;
    const struct reader_rule *rule;
};

static bool wrong_type(const struct taking *taking)
{
    char buffer[EXPECTED_OCTETS];
    reader_mistake(taking->reader, taking->owner, taking->setting, "%s is %s; %s is expected",
                   taking->name, expected_type(taking->setting), expected_by(taking->rule, buffer));
    return false;
}

/* The value as the file has it: libconfig drops a plus sign and zeros in front, and may wrap a long
 * number. *length is 0 where it cannot be told (an included file, an
 * entry of a list). */
static const char *typed_value(const struct taking *taking, size_t *length)
{
    *length = 0;
    if (config_setting_source_file(taking->setting) != NULL ||
        config_setting_name(taking->setting) == NULL) {
        return "";
    }
    return settings_source_value(taking->reader->source,
                                 config_setting_source_line(taking->setting), taking->name, length);
}

/* A number where text in quotes belongs. */
static bool unquoted(const struct taking *taking)
{
    size_t length = 0;
    const char *typed = typed_value(taking, &length);
    const char *is = taking->rule->value == READER_PHONE ? "a telephone number" : "a number";
    if (length == 0) {
        reader_mistake(taking->reader, taking->owner, taking->setting,
                       "%s is %s that is not in quotes; text in quotes is expected", taking->name,
                       is);
    } else {
        reader_mistake(taking->reader, taking->owner, taking->setting,
                       "%s is %s that is not in quotes; %s = \"%.*s\" is expected", taking->name,
                       is, taking->name, (int)length, typed);
    }
    return false;
}

/* The text of a setting, NULL (and named) where it is none. */
static const char *text_of(const struct taking *taking)
{
    if (config_setting_type(taking->setting) == CONFIG_TYPE_STRING) {
        return config_setting_get_string(taking->setting);
    }
    if (config_setting_is_number(taking->setting)) {
        unquoted(taking);
    } else {
        wrong_type(taking);
    }
    return NULL;
}

static bool put_text(const struct taking *taking, const char *text, void *field)
{
    const char *kept = reader_keep(taking->reader, text);
    memcpy(field, &kept, sizeof kept);
    return true;
}

static bool name_text_flaw(const struct taking *taking, const char *text)
{
    const char *flaw = settings_text_flaw(text, taking->rule->value == READER_SPOKEN);
    size_t length = strlen(text);
    if (flaw != NULL) {
        reader_mistake(taking->reader, taking->owner, taking->setting, "%s %s", taking->name, flaw);
        return true;
    }
    if (length < (size_t)taking->rule->least) {
        reader_mistake(taking->reader, taking->owner, taking->setting,
                       "%s is empty; text in quotes is expected", taking->name);
        return true;
    }
    if (length > (size_t)taking->rule->most) {
        reader_mistake(taking->reader, taking->owner, taking->setting,
                       "%s is %zu characters long; at most %lld are expected", taking->name, length,
                       (long long)taking->rule->most);
        return true;
    }
    return false;
}

/* A flawed text is taken all the same, so that what refers to it is not named as well. */
static bool take_text(const struct taking *taking, void *field)
{
    const char *text = text_of(taking);
    return text != NULL && put_text(taking, text, field) && !name_text_flaw(taking, text);
}

/* The number times ten to the places, rounded. *exact is false where that lost digits, or the number
 * is beyond all ranges. */
static int64_t scaled(const config_setting_t *setting, int places, bool *exact)
{
    static const double scales[] = {1, 10, 100, 1000};
    const double beyond = 1e12;
    double value = config_setting_type(setting) == CONFIG_TYPE_FLOAT
                       ? config_setting_get_float(setting)
                       : (double)config_setting_get_int64(setting);
    if (!(value > -beyond && value < beyond)) {
        *exact = false;
        return value > 0 ? INT64_MAX : INT64_MIN;
    }
    double times = value * scales[places];
    int64_t rounded = (int64_t)(times < 0 ? times - 0.5 : times + 0.5);
    double lost = times - (double)rounded;
    *exact = lost > -1e-6 && lost < 1e-6;
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

/* True where libconfig made something else of a whole number beyond 32 bits: then *number is beyond
 * all ranges, and shown is what was written. */
static bool wrapped(const struct taking *taking, char *shown, size_t size, int64_t *number)
{
    char digits[40];
    size_t length = 0;
    if (!taking->reader->source->wide_number ||
        config_setting_type(taking->setting) == CONFIG_TYPE_FLOAT) {
        return false;
    }
    const char *typed = typed_value(taking, &length);
    snprintf(digits, sizeof digits, "%.*s", (int)length, typed);
    if (length == 0 || digits[strspn(digits, "+-0123456789")] != '\0' ||
        strtoll(digits, NULL, 10) == config_setting_get_int64(taking->setting)) {
        return false;
    }
    snprintf(shown, size, "%s", digits);
    *number = digits[0] == '-' ? INT64_MIN : INT64_MAX;
    return true;
}

/* The number as whole, hundredths or thousandths by the rule, and as shown in messages. */
static int64_t number_of(const struct taking *taking, char *shown, size_t size, bool *exact)
{
    int64_t number = scaled(taking->setting, expected_places(taking->rule->value), exact);
    if (!wrapped(taking, shown, size, &number)) {
        write_number(taking->setting, shown, size);
    }
    return number;
}

static bool take_number(const struct taking *taking, void *field)
{
    const struct reader_rule *rule = taking->rule;
    if (!config_setting_is_number(taking->setting)) {
        return wrong_type(taking);
    }
    bool exact = true;
    char buffer[EXPECTED_OCTETS], shown[40];
    int64_t number = number_of(taking, shown, sizeof shown, &exact);
    if (number < rule->least || number > rule->most || (!exact && rule->value == READER_WHOLE)) {
        reader_mistake(taking->reader, taking->owner, taking->setting, "%s is %s; %s is expected",
                       taking->name, shown, expected_by(rule, buffer));
        return false;
    }
    if (!exact) {
        reader_mistake(taking->reader, taking->owner, taking->setting,
                       "%s is %s; at most %s decimals are expected", taking->name, shown,
                       rule->value == READER_HUNDREDTHS ? "two" : "three");
        return false;
    }
    if (rule->value == READER_WHOLE) {
        int32_t whole = (int32_t)number;
        memcpy(field, &whole, sizeof whole);
    } else {
        memcpy(field, &number, sizeof number);
    }
    return true;
}

static bool take_flag(const struct taking *taking, void *field)
{
    if (config_setting_type(taking->setting) != CONFIG_TYPE_BOOL) {
        return wrong_type(taking);
    }
    bool flag = config_setting_get_bool(taking->setting) != 0;
    memcpy(field, &flag, sizeof flag);
    return true;
}

static void put_word(const struct reader_rule *rule, const struct reader_word *word, void *field)
{
    if (rule->value == READER_CHOICE) {
        memcpy(field, &word->word, sizeof word->word);
    } else {
        memcpy(field, &word->value, sizeof word->value);
    }
}

static bool take_word(const struct taking *taking, void *field)
{
    const char *text = text_of(taking);
    if (text == NULL) {
        return false;
    }
    struct nearest nearest;
    nearest_begin(&nearest, text);
    for (size_t i = 0; i < taking->rule->word_count; i++) {
        if (strcasecmp(text, taking->rule->words[i].word) == 0) {
            put_word(taking->rule, &taking->rule->words[i], field);
            return true;
        }
        nearest_offer(&nearest, taking->rule->words[i].word);
    }
    char buffer[EXPECTED_OCTETS] = "";
    reader_mistake(taking->reader, taking->owner, taking->setting,
                   "%s = \"%s\" is not known; %s is expected%s%s%s", taking->name, text,
                   expected_by(taking->rule, buffer),
                   nearest.name != NULL ? ": did you mean \"" : "",
                   nearest.name != NULL ? nearest.name : "", nearest.name != NULL ? "\"?" : "");
    return false;
}

/* Two digits at text, or -1. */
static int32_t two_digits(const char *text)
{
    bool digits = text[0] >= '0' && text[0] <= '9' && text[1] >= '0' && text[1] <= '9';
    return digits ? (text[0] - '0') * 10 + (text[1] - '0') : -1;
}

/* "07:00" or "7:00" as a minute of the day, -1 where it is none. */
static int32_t minute_of(const char *text)
{
    char padded[6] = "0";
    size_t length = strlen(text);
    if (length < 4 || length > 5) {
        return -1;
    }
    memcpy(padded + (5 - length), text, length);
    int32_t hour = two_digits(padded), minute = two_digits(padded + 3);
    if (padded[2] != ':' || hour < 0 || minute < 0 || minute > 59) {
        return -1;
    }
    return hour * 60 + minute;
}

static bool take_time(const struct taking *taking, void *field)
{
    const char *text = text_of(taking);
    if (text == NULL) {
        return false;
    }
    int32_t minute = minute_of(text);
    if (minute < (int32_t)taking->rule->least || minute > (int32_t)taking->rule->most) {
        reader_mistake(taking->reader, taking->owner, taking->setting,
                       "%s = \"%s\" is no time of day; \"HH:MM\" is expected, as \"07:00\"",
                       taking->name, text);
        return false;
    }
    memcpy(field, &minute, sizeof minute);
    return true;
}

static bool take_digits(const struct taking *taking, void *field)
{
    const char *text = text_of(taking);
    if (text == NULL) {
        return false;
    }
    size_t length = strlen(text);
    if (length == 0 || length > (size_t)taking->rule->most || text[0] == '0' ||
        strspn(text, "0123456789") != length) {
        reader_mistake(
            taking->reader, taking->owner, taking->setting,
            "%s = \"%s\" is no calling code; its digits are expected, as \"1\" or \"52\"",
            taking->name, text);
        return false;
    }
    return put_text(taking, text, field);
}

static const char *phone_flaw(enum phone_result result)
{
    switch (result) {
    case PHONE_OK:
        return NULL;
    case PHONE_SHORT_CODE:
        return "is too short to be answered";
    case PHONE_NAME:
        return "is a name";
    case PHONE_MALFORMED:
        break;
    }
    return "is no telephone number";
}

static bool take_phone(const struct taking *taking, void *field)
{
    char phone[PHONE_OCTETS];
    const char *text = text_of(taking);
    if (text == NULL) {
        return false;
    }
    if (text[0] == '\0' && taking->rule->least == 0) {
        return put_text(taking, text, field);
    }
    const char *flaw = phone_flaw(
        phone_normalise(text, strlen(text), taking->reader->settings->shop.country, phone));
    if (flaw != NULL) {
        reader_mistake(taking->reader, taking->owner, taking->setting,
                       "%s = \"%s\" %s; a number with its country is expected, as \"+12065550110\"",
                       taking->name, text, flaw);
        return false;
    }
    return put_text(taking, phone, field);
}

static bool take_day(const struct taking *taking, void *field)
{
    int32_t day = 0;
    const char *text = text_of(taking);
    if (text == NULL) {
        return false;
    }
    if (!civil_read(text, strlen(text), &day)) {
        reader_mistake(taking->reader, taking->owner, taking->setting,
                       "%s = \"%s\" is no date; \"YYYY-MM-DD\" is expected, as \"2027-01-31\"",
                       taking->name, text);
        return false;
    }
    memcpy(field, &day, sizeof day);
    return true;
}

bool reader_value(struct reader *reader, const struct reader_owner *owner,
                  const config_setting_t *setting, const char *name, const struct reader_rule *rule,
                  void *into)
{
    struct taking taking = {reader, owner, setting, name, rule};
    void *field = (char *)into + rule->offset;
    switch (rule->value) {
    case READER_TEXT:
    case READER_SPOKEN:
        return take_text(&taking, field);
    case READER_DIGITS:
        return take_digits(&taking, field);
    case READER_PHONE:
        return take_phone(&taking, field);
    case READER_HUNDREDTHS:
    case READER_THOUSANDTHS:
    case READER_WHOLE:
        return take_number(&taking, field);
    case READER_FLAG:
        return take_flag(&taking, field);
    case READER_WORD:
    case READER_CHOICE:
        return take_word(&taking, field);
    case READER_TIME:
        return take_time(&taking, field);
    case READER_DAY:
        return take_day(&taking, field);
    case READER_BY_HAND:
        return true;
    }
    return false;
}
