/* SPDX-License-Identifier: MIT
 * settings_expected: words for types and rules. */
#include "config/settings_expected.h"

#include <stdio.h>

#include "config/settings_figure.h"

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
