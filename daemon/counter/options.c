/* SPDX-License-Identifier: MIT
 * options: see options.h. */
#include "daemon/counter/options.h"

#include <getopt.h>
#include <stdlib.h>
#include <string.h>

#include "parsers/nearest.h"

enum { OPTION_JSON = 256, OPTION_CSV, OPTION_NOW, OPTION_AS, OPTION_STEPPED_CLOCK, OPTION_DEBUG };

static const struct option known[] = {
    {"config", required_argument, NULL, 'c'},
    {"json", no_argument, NULL, OPTION_JSON},
    {"csv", no_argument, NULL, OPTION_CSV},
    {"now", required_argument, NULL, OPTION_NOW},
    {"as", required_argument, NULL, OPTION_AS},
    {"debug", no_argument, NULL, OPTION_DEBUG},
    {"help", no_argument, NULL, 'h'},
    {"stepped-clock", required_argument, NULL, OPTION_STEPPED_CLOCK},
    {NULL, 0, NULL, 0},
};

static bool read_descriptor(const char *text, int *fd)
{
    char *end = NULL;
    long number = strtol(text, &end, 10);
    if (end == text || *end != '\0' || number < 0 || number > 1023) {
        return false;
    }
    *fd = (int)number;
    return true;
}

/* One option taken; false where it is none of ours. */
static bool take(struct options *options, int option, FILE *err)
{
    switch (option) {
    case 'c':
        options->config = optarg;
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
    case OPTION_DEBUG:
        options->debug = true;
        return true;
    case OPTION_STEPPED_CLOCK:
        if (!read_descriptor(optarg, &options->stepped_clock)) {
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
    int option;
    while ((option = getopt_long(argc, argv, ":c:h", known, NULL)) != -1) {
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
    }
    options->words = &argv[optind];
    options->word_count = argc - optind;
    return true;
}
