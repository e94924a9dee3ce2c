/* SPDX-License-Identifier: MIT
 * main: the verbs and their wiring, nothing else. */
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sysexits.h>
#include <unistd.h>

#include "daemon/counter/answers.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/options.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/version.h"
#include "daemon/run.h"
#include "parsers/nearest.h"

static const struct verb {
    const char *name;
    int (*serve)(struct counter *counter);
    int (*run)(const struct options *options, FILE *out,
               FILE *err); /* by itself, without a counter */
    enum counter_opens opens;
    bool takes_words;
    int status_most; /* no exit status is above that; 0: as it comes */
    const char *says;
    const char *usage;
    const char *examples; /* a line each */
} verbs[] = {
    {"run", NULL, run_verb, COUNTER_SETTINGS, false, 0, "the daemon, in the foreground",
     "run [-c FILE] [--debug]", "meterpost run -c my.conf\n"},
    {"setup", NULL, setup_verb, COUNTER_SETTINGS, false, 0,
     "asks what it needs, finds the modem, writes the config",
     "setup [-c FILE] [--yes] [--shop NAME] [--country CODE] [--number NUMBER] [--zone ZONE] "
     "[--units "
     "UNIT] [--dates ORDER] [--workdays DAYS] [--hours SPAN] [--first HOURS] [--every HOURS] "
     "[--week HOURS] [--ledger FILE] [--roster FILE] "
     "[--person "
     "LINE] [--machine LINE] [--port PORT] [--use WHICH] [--speed SPEED] [--pinfile FILE] [--trial "
     "NUMBER] "
     "[--rule FILE]",
     "meterpost setup\n"
     "meterpost setup -c my.conf --yes --shop \"Alder Works\" --zone America/Los_Angeles --person "
     "\"Rosa, +12065550111, shop\" --machine M12 --port none\n"},
    {"check", NULL, check_verb, COUNTER_SETTINGS, false, 0,
     "checks the config file and says what it means", "check [-c FILE] [--json] [--now TIME]",
     "meterpost check\n"},
    {"text", text_verb, NULL, COUNTER_SETTINGS, true, 0,
     "says a text at the counter and prints the reply",
     "text --as PERSON [-c FILE] [--json] [--now TIME] \"M12 1340h\"",
     "meterpost text --as Ines \"M12 1340h\"\n"
     "meterpost text --as Rosa --json \"M12 DONE 1341 5qt\"\n"},
    {"due", due_verb, NULL, COUNTER_YARD, false, 0, "what comes due, worst first",
     "due [-c FILE]... [--json | --csv] [--now TIME]",
     "meterpost due\n"
     "meterpost due --json --now 2027-03-14\n"},
    {"texts", texts_verb, NULL, COUNTER_YARD, false, 0, "texts in and out, newest first",
     "texts [-c FILE] [--json | --csv] [--days N] [--now TIME]", "meterpost texts --days 3\n"},
    {"machine", machine_verb, NULL, COUNTER_YARD, true, 0,
     "one machine: how it stands, its hours, its record",
     "machine NAME [-c FILE] [--history] [--page | --json | --csv] [--now TIME]",
     "meterpost machine M12\n"
     "meterpost machine M12 --history\n"
     "meterpost machine M12 --page > m12.html\n"},
    {"stock", stock_verb, NULL, COUNTER_YARD, false, 0, "parts and fluids for the next weeks",
     "stock [-c FILE]... [--weeks N] [--used] [--json | --csv] [--now TIME]",
     "meterpost stock --weeks 8\nmeterpost stock --weeks 52 --used --csv > used.csv\n"},
    {"bay", bay_verb, NULL, COUNTER_YARD, false, 0, "what the bay has to do, day by day",
     "bay [-c FILE]... [--weeks N] [--json | --csv] [--now TIME]", "meterpost bay --weeks 4\n"},
    {"hours", hours_verb, NULL, COUNTER_YARD, false, 0,
     "hours run in a span, by machine, site, crew or owner",
     "hours [-c FILE]... [--from DAY] [--to DAY] [--by WHAT] [--json | --csv] [--now TIME]",
     "meterpost hours --by site\n"
     "meterpost hours --from 2027-01-01 --to 2027-03-31 --by owner --csv > quarter.csv\n"},
    {"sheet", sheet_verb, NULL, COUNTER_YARD, true, 0, "a job sheet to print for one machine",
     "sheet MACHINE [PLAN] [-c FILE] [--for PERSON] [--page | --json] [--now TIME]",
     "meterpost sheet M12 drive\n"
     "meterpost sheet M12 --for Ines --page > sheet.html\n"},
    {"board", board_verb, NULL, COUNTER_YARD, true, 0, "the yard at a glance, as a page (HTML)",
     "board [FILE] [-c FILE]... [--wall] [--json] [--now TIME]",
     "meterpost board > yard.html\n"
     "meterpost board yard.html\n"
     "meterpost board --wall wall.html\n"},
    {"calendar", calendar_verb, NULL, COUNTER_YARD, false, 0,
     "due dates for a calendar (iCalendar)", "calendar [-c FILE] [--json] [--now TIME]",
     "meterpost calendar > services.ics\n"},
    {"export", export_verb, NULL, COUNTER_LEDGER, true, 0,
     "the record, readings, services, swaps, parkings or texts as CSV",
     "export record|readings|services|swaps|parkings|texts [MACHINE] [-c FILE] [--json | --csv]",
     "meterpost export record > record.csv\n"
     "meterpost export record M12 > m12.csv\n"},
    {"modem", NULL, modem_verb, COUNTER_SETTINGS, true, 0,
     "finds the port, says what the modem is, sends a trial",
     "modem [-c FILE] [--send NUMBER TEXT] [--json]",
     "meterpost modem\n"
     "meterpost modem --send +12065550110 \"a trial\"\n"},
    {"import", import_verb, NULL, COUNTER_SETTINGS, true, 0,
     "a record, or readings, services, swaps or parkings, from CSV",
     "import record|readings|services|swaps|parkings FILE [-c FILE] [--columns LIST] [--apply] "
     "[--json] "
     "[--now TIME]",
     "meterpost import readings readings.csv\n"
     "meterpost import readings readings.csv --apply\n"},
    {"health", health_verb, NULL, COUNTER_SETTINGS, true, HEALTH_CANNOT_TELL,
     "what is wrong and what to do about it", "health [-c FILE]... [--json | --metrics [FILE]]",
     "meterpost health\n"
     "meterpost health --metrics\n"},
    {"backup", backup_verb, NULL, COUNTER_LEDGER, true, 0, "a checked copy of the ledger",
     "backup FILE | --keep N [FOLDER] [-c FILE] [--json] [--now TIME]",
     "meterpost backup /media/stick/meterpost.db\n"
     "meterpost backup --keep 14\n"},
    {"forget", forget_verb, NULL, COUNTER_SETTINGS, true, 0,
     "takes a person's number and words out of the ledger", "forget NAME|NUMBER [-c FILE]",
     "meterpost forget Tom\n"
     "meterpost forget +12065550112\n"},
};
enum { VERB_COUNT = sizeof verbs / sizeof verbs[0] };

static void print_help(FILE *out)
{
    (void)fprintf(out, "meterpost: hour-meter texts in, drivetrain services out.\n\n");
    for (size_t i = 0; i < VERB_COUNT; i++) {
        (void)fprintf(out, "  %-8s %s\n", verbs[i].name, verbs[i].says);
    }
    (void)fprintf(out,
                  "\nThe config file is %s unless -c names another.\n"
                  "Options may stand anywhere. meterpost help VERB says more, meterpost version "
                  "which one this is.\n"
                  "The manual: man meterpost; before it is installed, man -l docs/meterpost.1.\n",
                  OPTIONS_CONFIG_FILE);
}

static void print_verb_help(const struct verb *verb)
{
    (void)printf("meterpost %s: %s\n\n  meterpost %s\n\nfor example\n", verb->name, verb->says,
                 verb->usage);
    for (const char *line = verb->examples; *line != '\0';) {
        size_t length = strcspn(line, "\n") + 1;
        (void)printf("  %.*s", (int)length, line);
        line += length;
    }
    (void)printf("\noptions\n");
    options_explain(verb->usage, stdout);
    (void)printf("\nMore, and the exit status: meterpost(1).\n");
}

static bool takes_several(const struct verb *verb)
{
    return strstr(verb->usage, "[-c FILE]...") != NULL;
}

static int refuse_several(const struct verb *verb)
{
    const char *gap = "";
    (void)fprintf(stderr,
                  "meterpost: %s is for one shop: name one -c; several are seen together by ",
                  verb->name);
    for (size_t i = 0; i < VERB_COUNT; i++) {
        if (takes_several(&verbs[i])) {
            (void)fprintf(stderr, "%s%s", gap, verbs[i].name);
            gap = ", ";
        }
    }
    (void)fputc('\n', stderr);
    return EX_USAGE;
}

static int run_verb_with(const struct verb *verb, const struct options *options)
{
    const char *needless = options_not_taken(options, verb->usage);
    if (options->help) {
        print_verb_help(verb);
        return EX_OK;
    }
    if (options->word_count > 0 && !verb->takes_words && access(options->words[0], R_OK) == 0) {
        (void)fprintf(stderr, "meterpost: a config file is named by -c: meterpost %s -c %s\n",
                      verb->name, options->words[0]);
        return EX_USAGE;
    }
    if (options->word_count > 0 && !verb->takes_words) {
        (void)fprintf(stderr, "meterpost: %s takes no word such as \"%s\"; type: meterpost %s\n",
                      verb->name, options->words[0], verb->usage);
        return EX_USAGE;
    }
    if (needless != NULL) {
        (void)fprintf(stderr, "meterpost: %s takes no --%s; type: meterpost %s\n", verb->name,
                      needless, verb->usage);
        return EX_USAGE;
    }
    if (options->config_count > 1 && !takes_several(verb)) {
        return refuse_several(verb);
    }
    if (options->json && options->csv) {
        (void)fprintf(stderr, "meterpost: --json or --csv, not both\n");
        return EX_USAGE;
    }
    int status = verb->run != NULL
                     ? verb->run(options, stdout, stderr)
                     : counter_serve(options, verb->opens, verb->serve, stdout, stderr);
    if (fflush(stdout) != 0) {
        (void)fprintf(stderr, "meterpost: the output could not be written\n");
        return EX_IOERR;
    }
    return verb->status_most != 0 && status > verb->status_most ? verb->status_most : status;
}

/* What hands type for what is done otherwise. */
static const struct {
    const char *word, *says;
} no_verbs[] = {
    {"restore",
     "a backup is put back by hand, with the daemon stopped: backup in meterpost(1) says how"},
    {"reload", "a running daemon reloads by \"systemctl reload meterpost\", or by SIGHUP"},
    {"start", "the service is started by \"systemctl start meterpost\"; without it, by \"run\""},
    {"stop", "the service is stopped by \"systemctl stop meterpost\"; without it, by Ctrl-C"},
    {"status", "\"due\" and \"machine NAME\" tell of the yard, \"health\" of the daemon"},
    {"list", "\"due\" has every machine, \"check\" all that the config says"},
    {"done", "what is done is texted: meterpost text --as NAME \"M12 DONE 1341 5qt\""},
    {"book", "a machine is booked by a text: meterpost text --as NAME \"M12 BOOK fri\""},
    {"sold", "a machine leaves by a text: meterpost text --as NAME \"M12 GONE\""},
    {"completion", "bash completes by the file that \"make install\" and the package put in place"},
    {"send", "one text goes out as a trial by \"modem --send NUMBER TEXT\""},
};

static int unknown_verb(const char *word)
{
    struct nearest nearest;
    nearest_begin(&nearest, word);
    for (size_t i = 0; i < VERB_COUNT; i++) {
        nearest_offer(&nearest, verbs[i].name);
    }
    (void)fprintf(stderr, "meterpost: no verb \"%s\"", word);
    for (size_t i = 0; i < sizeof no_verbs / sizeof no_verbs[0]; i++) {
        if (strcmp(word, no_verbs[i].word) == 0) {
            (void)fprintf(stderr, "; %s\n", no_verbs[i].says);
            return EX_USAGE;
        }
    }
    if (nearest.name != NULL) {
        (void)fprintf(stderr, "; did you mean \"%s\"?\n", nearest.name);
    } else {
        (void)fprintf(stderr, "; meterpost help lists them\n");
    }
    return EX_USAGE;
}

static const struct verb *find_verb(const char *word)
{
    for (size_t i = 0; i < VERB_COUNT; i++) {
        if (strcmp(word, verbs[i].name) == 0) {
            return &verbs[i];
        }
    }
    return NULL;
}

int main(int argc, char **argv)
{
    struct options options;
    if (!options_read(&options, argc, argv, stderr)) {
        return EX_USAGE;
    }
    const char *word = options.word_count > 0 ? options.words[0] : "";
    if (options.version || strcmp(word, "version") == 0) {
        (void)printf("meterpost %s\n", VERSION_TEXT);
        return EX_OK;
    }
    if (options.word_count > 0 && strcmp(word, "help") == 0) { /* "help" alone, or "help VERB" */
        word = options.word_count > 1 ? options.words[1] : "";
        options.help = true;
    } else if (options.word_count > 0) {
        options.words++;
        options.word_count--;
    }
    if (word[0] == '\0') {
        print_help(options.help ? stdout : stderr);
        return options.help ? EX_OK : EX_USAGE;
    }
    const struct verb *verb = find_verb(word);
    return verb != NULL ? run_verb_with(verb, &options) : unknown_verb(word);
}
