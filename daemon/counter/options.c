/* SPDX-License-Identifier: MIT
 * options: see options.h. */
#include "daemon/counter/options.h"

#include <ctype.h>
#include <getopt.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "parsers/nearest.h"

#define OPTION_WORD_OCTETS 32

/* What becomes of an option that is given. */
enum option_kind {
    OPTION_FLAG,   /* a bool is true */
    OPTION_CONFIG, /* the value is one more config file */
    OPTION_TEXT,   /* the value is kept as it is */
    OPTION_COUNT,  /* a number, 1 to 366 */
    OPTION_DAYS,   /* a number of days, ten years at most */
    OPTION_WEEKS,  /* the same in weeks */
    OPTION_ANSWER, /* an answer to one of the questions of setup */
    OPTION_SOCKET  /* the number of an open socket */
};

/* Every option of every verb; a verb's usage names those that it takes. */
static const struct known_option {
    const char *name;
    char letter; /* 0 none */
    enum option_kind kind;
    size_t at;         /* in struct options */
    const char *value; /* as a usage has it, "" for a flag */
    const char *says;  /* NULL: for tests alone */
    bool for_all; /* every verb takes it: a moment given where nothing depends on it does no harm */
} known[] = {
#define AT(field) offsetof(struct options, field)
    {"config", 'c', OPTION_CONFIG, 0, " FILE",
     "the config file; " OPTIONS_CONFIG_FILE " unless given", true},
    {"as", 0, OPTION_TEXT, AT(as), " PERSON", "who says it, by the name in the config", false},
    {"for", 0, OPTION_TEXT, AT(for_whom), " PERSON", "in that person's language", false},
    {"page", 0, OPTION_FLAG, AT(page), "", "a page to print (HTML) instead", false},
    {"from", 0, OPTION_TEXT, AT(from), " DAY", "the first day; four weeks back unless given",
     false},
    {"to", 0, OPTION_TEXT, AT(to), " DAY", "the last day; today unless given", false},
    {"by", 0, OPTION_TEXT, AT(by), " WHAT", "machine, site, crew or owner; machine unless given",
     false},
    {"history", 0, OPTION_FLAG, AT(history), "", "the whole record", false},
    {"weeks", 0, OPTION_WEEKS, AT(days), " N", "how many weeks ahead; 4 unless given, of the bay 8",
     false},
    {"days", 0, OPTION_DAYS, AT(days), " N", "how many days back; 14 unless given", false},
    {"send", 0, OPTION_TEXT, AT(send), " NUMBER",
     "sends one text there as a trial, while no daemon runs", false},
    {"apply", 0, OPTION_FLAG, AT(apply), "", "does it; without, all is tried and taken back",
     false},
    {"columns", 0, OPTION_TEXT, AT(columns), " LIST",
     "which heading is which column: machine=Unit,hours=Reading", false},
    {"used", 0, OPTION_FLAG, AT(used), "", "what was used, not what is needed", false},
    {"wall", 0, OPTION_FLAG, AT(wall), "", "the form for a screen on the wall, 1920 by 1080",
     false},
    {"shop", 0, OPTION_ANSWER, 0, " NAME", "what the shop is called", false},
    {"country", 0, OPTION_ANSWER, 0, " CODE", "its calling code, as 1", false},
    {"number", 0, OPTION_ANSWER, 0, " NUMBER", "the SIM's telephone number", false},
    {"zone", 0, OPTION_ANSWER, 0, " ZONE", "its time zone, as America/Los_Angeles", false},
    {"units", 0, OPTION_ANSWER, 0, " UNIT", "what oil is counted in, qt or l", false},
    {"dates", 0, OPTION_ANSWER, 0, " ORDER", "whether 3/4 is March 4, mdy, or 3 April, dmy", false},
    {"workdays", 0, OPTION_ANSWER, 0, " DAYS", "when the shop works, as mon-fri", false},
    {"hours", 0, OPTION_ANSWER, 0, " SPAN", "when alerts may be texted to it, as 07:00-17:00",
     false},
    {"first", 0, OPTION_ANSWER, 0, " HOURS", "hours at a new machine's first service", false},
    {"every", 0, OPTION_ANSWER, 0, " HOURS", "hours between services after that", false},
    {"week", 0, OPTION_ANSWER, 0, " HOURS", "hours a machine usually runs in a week", false},
    {"roster", 0, OPTION_ANSWER, 0, " FILE", "people and machines, from a spreadsheet (CSV)",
     false},
    {"person", 0, OPTION_ANSWER, 0, " LINE",
     "\"name, number, crew or shop, language\"; as often as it takes", false},
    {"machine", 0, OPTION_ANSWER, 0, " LINE",
     "\"name, crew + crew, site, hours of its last service\"; likewise", false},
    {"ledger", 0, OPTION_ANSWER, 0, " FILE", "where the history is kept", false},
    {"port", 0, OPTION_ANSWER, 0, " PORT",
     "the modem's port; several are tried in turn; none: no modem yet", false},
    {"use", 0, OPTION_ANSWER, 0, " WHICH",
     "of several modems which: 2, 1+2, both or all; one unless given", false},
    {"speed", 0, OPTION_ANSWER, 0, " SPEED", "the port's speed, which is tried first", false},
    {"pinfile", 0, OPTION_ANSWER, 0, " FILE", "the file that holds the SIM's PIN", false},
    {"trial", 0, OPTION_ANSWER, 0, " NUMBER", "who gets a trial text; none: nobody", false},
    {"rule", 0, OPTION_ANSWER, 0, " FILE", "where the port's rule goes; none: nowhere", false},
    {"yes", 0, OPTION_FLAG, AT(yes), "",
     "asks nothing: what no option says is as usual; replaces what is there", false},
    {"keep", 0, OPTION_COUNT, AT(keep), " N",
     "a copy named by its day in a folder of copies, and the oldest beyond N removed", false},
    {"json", 0, OPTION_FLAG, AT(json), "", "one line of JSON instead", false},
    {"metrics", 0, OPTION_FLAG, AT(metrics), "", "figures for monitoring instead", false},
    {"csv", 0, OPTION_FLAG, AT(csv), "", "CSV instead", false},
    {"now", 0, OPTION_TEXT, AT(now), " TIME",
     "as if it were then: 2027-03-14, or 2027-03-14T07:00:00-07:00", true},
    {"debug", 0, OPTION_FLAG, AT(debug), "", "logs each line to and from the modem", false},
    {"help", 'h', OPTION_FLAG, AT(help), "", NULL, true},
    {"version", 0, OPTION_FLAG, AT(version), "", NULL, true},
    {"stepped-clock", 0, OPTION_SOCKET, AT(stepped_clock), "", NULL, true},
#undef AT
};
enum { KNOWN_COUNT = sizeof known / sizeof known[0] };

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

/* Puts the option just read where it belongs; false after saying on err what is wrong with it. */
static bool take(struct options *options, const struct known_option *option, FILE *err)
{
    void *at = (char *)options + option->at;
    int days_each = option->kind == OPTION_WEEKS ? 7 : 1;
    switch (option->kind) {
    case OPTION_FLAG:
        *(bool *)at = true;
        return true;
    case OPTION_CONFIG:
        if (options->config_count == OPTIONS_CONFIGS_MAX) {
            (void)fprintf(err, "meterpost: more than %d config files\n", OPTIONS_CONFIGS_MAX);
            return false;
        }
        options->configs[options->config_count++] = optarg;
        options->config = options->configs[0];
        return true;
    case OPTION_TEXT:
        *(const char **)at = optarg;
        return true;
    case OPTION_COUNT:
        if (!read_number(optarg, 1, 366, at)) {
            (void)fprintf(err, "meterpost: --%s takes a number, 1 to 366\n", option->name);
            return false;
        }
        return true;
    case OPTION_DAYS:
    case OPTION_WEEKS:
        if (!read_number(optarg, 1, 3660 / days_each, at)) {
            (void)fprintf(err, "meterpost: %s is no number of %s; ten years are the most\n", optarg,
                          option->name);
            return false;
        }
        *(int *)at *= days_each;
        return true;
    case OPTION_ANSWER:
        if (options->answer_count == OPTIONS_ANSWERS_MAX) {
            (void)fprintf(
                err, "meterpost: more than %d answers; a spreadsheet takes more: --roster FILE\n",
                OPTIONS_ANSWERS_MAX);
            return false;
        }
        options->answers[options->answer_count++] = (struct options_answer){option->name, optarg};
        return true;
    case OPTION_SOCKET:
        if (!read_number(optarg, 0, 1023, at)) {
            (void)fprintf(err, "meterpost: --%s takes the number of an open socket\n",
                          option->name);
            return false;
        }
        return true;
    }
    return false;
}

/* As a usage has it: "-c" or "--days". */
static void write_word(const struct known_option *option, char out[OPTION_WORD_OCTETS])
{
    if (option->letter != '\0') {
        (void)snprintf(out, OPTION_WORD_OCTETS, "-%c", option->letter);
    } else {
        (void)snprintf(out, OPTION_WORD_OCTETS, "--%s", option->name);
    }
}

static bool stands_in(const char *usage, const struct known_option *option)
{
    char word[OPTION_WORD_OCTETS];
    write_word(option, word);
    size_t length = strlen(word);
    const char *at = strstr(usage, word);
    while (at != NULL && isalpha((unsigned char)at[length]) != 0) { /* --week in --weeks */
        at = strstr(at + length, word);
    }
    return at != NULL;
}

static void say_unknown(const char *word, FILE *err)
{
    struct nearest nearest;
    nearest_begin(&nearest, word + strspn(word, "-"));
    for (size_t i = 0; i < KNOWN_COUNT; i++) {
        nearest_offer(&nearest, known[i].name);
    }
    (void)fprintf(err, "meterpost: no option %s here; ", word);
    if (nearest.name != NULL) {
        (void)fprintf(err, "did you mean --%s?\n", nearest.name);
    } else {
        (void)fprintf(err, "meterpost help VERB says which a verb takes\n");
    }
}

bool options_read(struct options *options, int argc, char **argv, FILE *err)
{
    struct option rows[KNOWN_COUNT + 1] = {
        0}; /* as getopt wants them; values are indexes of known */
    int which;
    for (int i = 0; i < KNOWN_COUNT; i++) {
        rows[i] = (struct option){known[i].name, known[i].kind != OPTION_FLAG, NULL, i};
    }
    *options = (struct options){.config = OPTIONS_CONFIG_FILE, .stepped_clock = -1};
    opterr = 0;
    optind = 1;
    while ((which = getopt_long(argc, argv, ":c:h", rows, NULL)) != -1) {
        if (which == ':') {
            (void)fprintf(err, "meterpost: %s needs a value behind it\n", argv[optind - 1]);
            return false;
        }
        if (which == '?') {
            say_unknown(argv[optind - 1], err);
            return false;
        }
        for (int i = 0; i < KNOWN_COUNT && which >= KNOWN_COUNT; i++) { /* a letter */
            which = known[i].letter == which ? i : which;
        }
        if (!take(options, &known[which], err)) {
            return false;
        }
        if (options->given_count < OPTIONS_GIVEN_MAX && !known[which].for_all) {
            options->given[options->given_count++] = (unsigned char)which;
        }
    }
    options->words = &argv[optind];
    options->word_count = argc - optind;
    return true;
}

const char *options_not_taken(const struct options *options, const char *usage)
{
    for (size_t i = 0; i < options->given_count; i++) {
        const struct known_option *option = &known[options->given[i]];
        if (!stands_in(usage, option)) {
            return option->name;
        }
    }
    return NULL;
}

void options_say_config(const struct options *options, FILE *err)
{
    if (options->config_count == 0 && access(options->config, F_OK) != 0) {
        (void)fprintf(
            err,
            "meterpost: %s is what is read without -c FILE; name yours so, or let \"meterpost "
            "setup\" write it\n",
            options->config);
    }
}

void options_explain(const char *usage, FILE *out)
{
    for (size_t i = 0; i < KNOWN_COUNT; i++) {
        if (known[i].says != NULL && stands_in(usage, &known[i])) {
            char word[OPTION_WORD_OCTETS];
            write_word(&known[i], word);
            (void)fprintf(out, "  %s%-*s %s\n", word, (int)(15 - strlen(word)), known[i].value,
                          known[i].says);
        }
    }
}
