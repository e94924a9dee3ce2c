/* SPDX-License-Identifier: MIT
 * options: see options.h. */
#include "daemon/counter/options.h"

#include <getopt.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "parsers/nearest.h"

enum {
    OPTION_JSON = 256,
    OPTION_CSV,
    OPTION_NOW,
    OPTION_AS,
    OPTION_SEND,
    OPTION_DAYS,
    OPTION_WEEKS,
    OPTION_HISTORY,
    OPTION_APPLY,
    OPTION_USED,
    OPTION_STEPPED_CLOCK,
    OPTION_DEBUG
};

static const struct option known[] = {
    {"config", required_argument, NULL, 'c'},
    {"json", no_argument, NULL, OPTION_JSON},
    {"csv", no_argument, NULL, OPTION_CSV},
    {"now", required_argument, NULL, OPTION_NOW},
    {"as", required_argument, NULL, OPTION_AS},
    {"send", required_argument, NULL, OPTION_SEND},
    {"days", required_argument, NULL, OPTION_DAYS},
    {"weeks", required_argument, NULL, OPTION_WEEKS},
    {"history", no_argument, NULL, OPTION_HISTORY},
    {"apply", no_argument, NULL, OPTION_APPLY},
    {"used", no_argument, NULL, OPTION_USED},
    {"debug", no_argument, NULL, OPTION_DEBUG},
    {"help", no_argument, NULL, 'h'},
    {"stepped-clock", required_argument, NULL, OPTION_STEPPED_CLOCK},
    {NULL, 0, NULL, 0},
};

static bool read_number(const char *text, long least, long most, int *number)
{
    char *end = NULL;
    long read = strtol(text, &end, 10);
    if (end == text || *end != '\0' || read < least || read > most) {
        return false;
    }
    *number = (int)read;
    return true;
}

static bool take_days(struct options *options, int days_each, FILE *err)
{
    int number = 0;
    if (!read_number(optarg, 1, 3660 / days_each, &number)) {
        (void)fprintf(err, "meterpost: %s is no number of %s; ten years are the most\n", optarg,
                      days_each == 1 ? "days" : "weeks");
        return false;
    }
    options->days = number * days_each;
    return true;
}

/* One option taken; false where it is none of ours. */
static bool take(struct options *options, int option, FILE *err)
{
    switch (option) {
    case 'c':
        options->config = optarg;
        options->config_named = true;
        return true;
    case 'h':
        options->help = true;
        return true;
    case OPTION_JSON:
        options->json = true;
        return true;
    case OPTION_CSV:
        options->csv = true;
        return true;
    case OPTION_NOW:
        options->now = optarg;
        return true;
    case OPTION_AS:
        options->as = optarg;
        return true;
    case OPTION_HISTORY:
        options->history = true;
        return true;
    case OPTION_SEND:
        options->send = optarg;
        return true;
    case OPTION_APPLY:
        options->apply = true;
        return true;
    case OPTION_USED:
        options->used = true;
        return true;
    case OPTION_DAYS:
        return take_days(options, 1, err);
    case OPTION_WEEKS:
        return take_days(options, 7, err);
    case OPTION_DEBUG:
        options->debug = true;
        return true;
    case OPTION_STEPPED_CLOCK:
        if (!read_number(optarg, 0, 1023, &options->stepped_clock)) {
            (void)fprintf(err, "meterpost: --stepped-clock takes the number of an open socket\n");
            return false;
        }
        return true;
    default: /* getopt's '?' and ':' */
        return false;
    }
}

static void say_unknown(const char *verb, const char *word, FILE *err)
{
    struct nearest nearest;
    nearest_begin(&nearest, word + strspn(word, "-"));
    for (size_t i = 0; known[i].name != NULL; i++) {
        nearest_offer(&nearest, known[i].name);
    }
    (void)fprintf(err, "meterpost: no option %s here; ", word);
    if (nearest.name != NULL) {
        (void)fprintf(err, "did you mean --%s?\n", nearest.name);
    } else {
        (void)fprintf(err, "type: meterpost %s --help\n", verb);
    }
}

bool options_read(struct options *options, int argc, char **argv, FILE *err)
{
    *options = (struct options){.config = OPTIONS_CONFIG_FILE, .stepped_clock = -1};
    opterr = 0;
    optind = 1;
    int option, which = -1;
    while ((option = getopt_long(argc, argv, ":c:h", known, &which)) != -1) {
        if (option == ':') {
            (void)fprintf(err, "meterpost: %s needs a value behind it\n", argv[optind - 1]);
            return false;
        }
        if (option == '?') {
            say_unknown(argv[0], argv[optind - 1], err);
            return false;
        }
        if (!take(options, option, err)) {
            return false;
        }
        if (which >= 0 && options->given_count < OPTIONS_GIVEN_MAX) {
            options->given[options->given_count++] = known[which].name;
        }
        which = -1;
    }
    options->words = &argv[optind];
    options->word_count = argc - optind;
    return true;
}

void options_say_config(const struct options *options, FILE *err)
{
    if (!options->config_named && access(options->config, F_OK) != 0) {
        (void)fprintf(
            err, "meterpost: %s is the default, since -c was left out; name yours with -c FILE\n",
            options->config);
    }
}

void options_explain(const char *usage, FILE *out)
{
    static const struct {
        const char *option; /* as it stands in a usage */
        const char *value, *says;
    } options[] = {
        {"-c", " FILE", "the config file; " OPTIONS_CONFIG_FILE " unless given"},
        {"--as", " PERSON", "who says it, by the name in the config"},
        {"--history", "", "the whole record"},
        {"--weeks", " N", "how many weeks ahead; 4 unless given"},
        {"--days", " N", "how many days back; 14 unless given"},
        {"--send", " NUMBER", "sends one text there as a trial, while no daemon runs"},
        {"--apply", "", "does it; without, all is tried and taken back"},
        {"--used", "", "what was used, not what is needed"},
        {"--json", "", "one line of JSON instead"},
        {"--csv", "", "CSV instead"},
        {"--now", " TIME", "as if it were then: 2027-03-14, or 2027-03-14T07:00:00-07:00"},
        {"--debug", "", "logs each line to and from the modem"},
    };
    for (size_t i = 0; i < sizeof options / sizeof options[0]; i++) {
        if (strstr(usage, options[i].option) != NULL) {
            (void)fprintf(out, "  %s%-*s %s\n", options[i].option,
                          (int)(15 - strlen(options[i].option)), options[i].value, options[i].says);
        }
    }
}
