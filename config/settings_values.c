/* SPDX-License-Identifier: MIT
 * settings_values: one value by one rule: its type, its range, its form. Every message ends with
 * what is expected, made from the same rule. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "config/settings_reader.h"
#include "config/settings_expected.h"
#include "config/settings_text.h"
#include "daemon/upkeep/civil.h"
#include "parsers/nearest.h"
#include "parsers/phone.h"

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
