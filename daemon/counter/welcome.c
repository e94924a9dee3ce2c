/* SPDX-License-Identifier: MIT
 * welcome: the way from a bare box to a config that the checker is content with, and a modem that is
 * found: `setup`. Nothing is put in place before all has been said, and nothing over anything without a
 * yes. */
#include <errno.h>
#include <fcntl.h>
#include <grp.h>
#include <inttypes.h>
#include <libgen.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sysexits.h>
#include <time.h>
#include <unistd.h>

#include "config/settings_sample.h"
#include "daemon/counter/founding.h"
#include "daemon/counter/interview.h"
#include "daemon/counter/modem.h"
#include "daemon/counter/port_rule.h"
#include "daemon/counter/port_search.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/modem/port.h"
#include "parsers/phone.h"

#define GROUP "meterpost"
#define PATH_OCTETS 512

struct welcome {
    struct interview interview;
    struct founding founding;
    const struct options *options;
    FILE *out;
    struct port_choice modems; /* those that are taken */
    char answer[INTERVIEW_LINE_OCTETS];
};

/* A file of that name in the folder of the config, by its whole path; into room. */
static const char *beside_config(const struct welcome *welcome, const char *name,
                                 char room[PATH_OCTETS])
{
    char *copy = strdup(welcome->options->config);
    char *folder = copy != NULL ? realpath(dirname(copy), NULL) : NULL;
    (void)snprintf(room, PATH_OCTETS, "%s/%s", folder != NULL ? folder : ".", name);
    free(folder);
    free(copy);
    return room;
}

/* ---- the shop, its people and machines ---- */

/* What goes without saying for one setting; NULL where nothing does. */
static const char *usual_for(const struct welcome *welcome, enum founding_setting setting,
                             char room[PATH_OCTETS])
{
    const char *country = welcome->founding.values[FOUNDING_COUNTRY];
    room[0] = '\0';
    if (setting == FOUNDING_UNITS) {
        return country != NULL && strcmp(country, "1") != 0 ? "l" : "qt";
    }
    if (setting == FOUNDING_DATES) {
        return country != NULL && strcmp(country, "1") != 0 ? "dmy" : "mdy";
    }
    if (setting == FOUNDING_ZONE) {
        char link[PATH_OCTETS];
        ssize_t length = readlink("/etc/localtime", link, sizeof link - 1);
        link[length > 0 ? length : 0] = '\0';
        const char *zone = strstr(link, "/zoneinfo/");
        (void)snprintf(room, PATH_OCTETS, "%s", zone != NULL ? zone + strlen("/zoneinfo/") : "");
        return zone_known(room) ? room : NULL;
    }
    if (setting == FOUNDING_LEDGER) { /* beside a config that is not the box's own */
        return beside_config(welcome, "ledger.db", room);
    }
    return founding_rows[setting].usual;
}

/* Whether the country leaves open which comes first, month or day: North America does, and who says it
 * nevertheless. */
static bool dates_are_open(struct welcome *welcome)
{
    const char *country = welcome->founding.values[FOUNDING_COUNTRY];
    return country == NULL || strcmp(country, "1") == 0 ||
           interview_answered(&welcome->interview, founding_rows[FOUNDING_DATES].name);
}

static bool ask_settings(struct welcome *welcome)
{
    char room[PATH_OCTETS];
    bool boxs_own = strcmp(welcome->options->config, OPTIONS_CONFIG_FILE) == 0;
    for (size_t i = 0; i < FOUNDING_SETTINGS; i++) {
        const struct founding_row *row = &founding_rows[i];
        bool settled =
            (i == FOUNDING_LEDGER && boxs_own) || (i == FOUNDING_DATES && !dates_are_open(welcome));
        if (row->asks == NULL || settled) {
            continue;
        }
        struct interview_question question = {
            .name = row->name,
            .asks = row->asks,
            .usual = usual_for(welcome, (enum founding_setting)i, room)};
        if (!interview_ask(&welcome->interview, &question, founding_take, &welcome->founding)) {
            return false;
        }
    }
    return true;
}

/* Lines until an empty one, of which there must be one at least. */
static bool ask_lines(struct welcome *welcome, const char *name, const char *hint,
                      const struct founding_list *list, interview_judge *judge)
{
    char more[64];
    size_t before;
    (void)snprintf(more, sizeof more, "One more %s (empty: that is all)", name);
    (void)fputs(list->count == 0 ? hint : "", welcome->out);
    do {
        before = list->count;
        struct interview_question question = {
            .name = name, .asks = before == 0 ? name : more, .usual = before == 0 ? NULL : ""};
        if (!interview_ask(&welcome->interview, &question, judge, &welcome->founding)) {
            return false;
        }
    } while (list->count > before);
    return true;
}

static bool ask_roster(struct welcome *welcome)
{
    static const struct interview_question spreadsheet = {
        .name = "roster",
        .asks = "A spreadsheet (CSV) of people and machines (empty: type them)",
        .usual = ""};
    const struct founding *founding = &welcome->founding;
    if (!interview_ask(&welcome->interview, &spreadsheet, founding_take_roster,
                       &welcome->founding)) {
        return false;
    }
    if (founding->people.count + founding->machines.count > 0) {
        (void)fprintf(welcome->out, "  taken: %zu people, %zu machines%s%s\n",
                      founding->people.count, founding->machines.count,
                      founding->passed_over[0] != '\0' ? "; passed over: " : "",
                      founding->passed_over);
    }
    return ask_lines(welcome, "person",
                     "People, a line each: name, number, crew or shop, language (en, es, fr)\n"
                     "  as: Rosa, +12065550111, shop, en\n",
                     &welcome->founding.people, founding_take_person) &&
           ask_lines(
               welcome, "machine",
               "Machines, a line each: name as it is texted, who reads it, site, hours of its "
               "last drive service\n"
               "  as: M12, Ines + Tom, Harbor Park, 575 on 2026-03-14   or only: M14\n",
               &welcome->founding.machines, founding_take_machine);
}

/* ---- the modem ---- */

/* Takes what was found into the config to be, and keeps it for a later start. */
static bool keep_modems(struct welcome *welcome)
{
    const struct port_choice *modems = &welcome->modems;
    char says[INTERVIEW_SAYS_OCTETS], speed[16];
    for (size_t i = 0; i < modems->count; i++) {
        const char *name = port_search_name(&modems->modems[i].port);
        (void)snprintf(speed, sizeof speed, "%" PRId32, modems->modems[i].trial.speed);
        interview_keep(&welcome->interview, "port", name);
        welcome->founding.modem = i;
        if (!founding_take(&welcome->founding, "port", name, says) ||
            !founding_take(&welcome->founding, "speed", speed, says)) {
            (void)fprintf(welcome->out, "  %s\n", says);
            return false;
        }
    }
    if (modems->count > 1) {
        interview_keep(&welcome->interview, "use", "all");
    }
    return true;
}

/* ---- its SIM ---- */

/* " of modem 2" where there are several: the one that is told of. */
static const char *of_which(const struct welcome *welcome, char room[32])
{
    (void)snprintf(room, 32, " of modem %zu", welcome->founding.modem + 1);
    return welcome->modems.count > 1 ? room : "";
}

/* A new file of that mode, for the group of the daemon where there is one; false with errno set. An
 * earlier one is gone. */
static bool write_file(const char *path, const char *text, mode_t mode)
{
    const struct group *group = getgrnam(GROUP);
    (void)unlink(path);
    int descriptor = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, mode);
    FILE *file = descriptor >= 0 ? fdopen(descriptor, "w") : NULL;
    if (file == NULL) {
        return false;
    }
    bool well = fputs(text, file) >= 0 && fflush(file) == 0 && fchmod(descriptor, mode) == 0 &&
                fsync(descriptor) == 0;
    if (well && group != NULL && geteuid() == 0) {
        well = fchown(descriptor, (uid_t)-1, group->gr_gid) == 0;
    }
    return fclose(file) == 0 && well;
}

static bool take_pin(void *ctx, const char *name, const char *value,
                     char says[INTERVIEW_SAYS_OCTETS])
{
    struct welcome *welcome = ctx;
    size_t length = strlen(value);
    (void)name;
    if (length > 0 && (length < 4 || length > 8 || strspn(value, "0123456789") != length)) {
        (void)snprintf(says, INTERVIEW_SAYS_OCTETS, "that is no PIN; 4 to 8 digits are expected");
        return false;
    }
    (void)snprintf(welcome->answer, sizeof welcome->answer, "%s", value);
    return true;
}

/* The PIN goes into a file of its own, and nowhere else. */
static bool ask_pin(struct welcome *welcome, const struct port_searched *modem)
{
    char name[32], path[PATH_OCTETS], ask[PATH_OCTETS + 64], says[INTERVIEW_SAYS_OCTETS];
    size_t place = welcome->founding.modem;
    (void)snprintf(ask, sizeof ask,
                   "The SIM%s asks for its PIN; it goes into a file that only root and the daemon "
                   "read (empty: later)",
                   of_which(welcome, name));
    struct interview_question question = {
        .name = "pin", .asks = ask, .usual = "", .fleeting = true, .hidden = true};
    if (!interview_ask(&welcome->interview, &question, take_pin, welcome)) {
        return false;
    }
    if (welcome->answer[0] == '\0') {
        (void)fprintf(welcome->out, "next: %s\n", modem_next_step(&modem->trial));
        return true;
    }
    (void)snprintf(name, sizeof name, place > 0 ? "meterpost.pin-%zu" : "meterpost.pin", place + 1);
    (void)snprintf(ask, sizeof ask, "%s is there already. Replace it?",
                   beside_config(welcome, name, path));
    if (access(path, F_OK) == 0 && !interview_yes(&welcome->interview, ask, false)) {
        return !welcome->interview.stopped;
    }
    if (!write_file(path, welcome->answer, S_IRUSR | S_IWUSR | S_IRGRP)) {
        (void)fprintf(welcome->out, "  %s could not be written: %s\n", path, strerror(errno));
        return true;
    }
    interview_keep(&welcome->interview, "pinfile", path);
    return founding_take(&welcome->founding, "pinfile", path, says);
}

/* The next of the files that were named is that of the next SIM that wants one; of one modem alone in any
 * case. */
static bool settle_pin(struct welcome *welcome, const struct port_searched *modem)
{
    char says[INTERVIEW_SAYS_OCTETS], which[32];
    bool wanted = strncmp(modem->trial.sim, "SIM PIN", 7) == 0;
    const char *file = wanted || welcome->modems.count == 1
                           ? interview_given(&welcome->interview, "pinfile")
                           : NULL;
    if (file != NULL && founding_take(&welcome->founding, "pinfile", file, says)) {
        (void)fprintf(welcome->out, "The SIM's PIN%s is in %s\n", of_which(welcome, which), file);
        return true;
    }
    if (file != NULL) {
        (void)fprintf(welcome->out, "  %s\n", says);
    }
    return !wanted || ask_pin(welcome, modem);
}

static bool send_trial(void *ctx, const char *name, const char *value,
                       char says[INTERVIEW_SAYS_OCTETS])
{
    struct welcome *welcome = ctx;
    char number[PHONE_OCTETS], text[160], wrong[TRIAL_SAYS_OCTETS];
    const char *shop = welcome->founding.values[FOUNDING_SHOP];
    const char *country = welcome->founding.values[FOUNDING_COUNTRY];
    (void)name;
    if (interview_none(value)) {
        return true;
    }
    if (phone_normalise(value, strlen(value), country != NULL ? country : "1", number) !=
        PHONE_OK) {
        (void)snprintf(says, INTERVIEW_SAYS_OCTETS,
                       "%.80s is no telephone number; one as +12065550110 is expected", value);
        return false;
    }
    (void)snprintf(text, sizeof text, "%s: texts go out from here. This one is a trial.",
                   shop != NULL ? shop : "meterpost");
    const struct port_searched *modem = &welcome->modems.modems[welcome->founding.modem];
    if (!trial_send(modem->port.name, modem->trial.speed, number, text, wrong)) {
        (void)snprintf(says, INTERVIEW_SAYS_OCTETS, "not sent: %s", wrong);
        return false;
    }
    (void)fprintf(welcome->out, "  the network took it\n");
    return true;
}

static bool ask_trial(struct welcome *welcome, const struct port_searched *modem)
{
    char ask[96], by[32];
    (void)snprintf(by, sizeof by, " by modem %zu", welcome->founding.modem + 1);
    (void)snprintf(ask, sizeof ask, "Whom shall a trial text%s go to? (a number, or none)",
                   welcome->modems.count > 1 ? by : "");
    struct interview_question question = {
        .name = "trial", .asks = ask, .usual = "none", .fleeting = true};
    bool ready = modem->trial.texts && modem_next_step(&modem->trial)[0] == '\0';
    return !ready || interview_ask(&welcome->interview, &question, send_trial, welcome);
}

/* Of each modem, one after the other. */
static bool settle_sims(struct welcome *welcome)
{
    const struct port_choice *modems = &welcome->modems;
    bool going_on = true;
    for (size_t i = 0; i < modems->count && going_on; i++) {
        welcome->founding.modem = i;
        going_on =
            settle_pin(welcome, &modems->modems[i]) && ask_trial(welcome, &modems->modems[i]);
    }
    return going_on;
}

/* ---- putting it in place ---- */

/* A whole file; NULL where it cannot be read. The caller frees it. */
static char *read_file(const char *path)
{
    char *text = NULL;
    size_t size = 0;
    FILE *file = fopen(path, "re");
    ssize_t length = file != NULL ? getdelim(&text, &size, '\0', file) : -1;
    if (file != NULL) {
        (void)fclose(file);
    }
    if (length < 0) {
        free(text);
        return NULL;
    }
    return text;
}

/* True where nobody's work stands there: nothing, or the sample as it was installed. */
static bool is_free(const char *path)
{
    char *text = read_file(path);
    bool free_to_take = text == NULL ? access(path, F_OK) != 0 : strcmp(text, settings_sample) == 0;
    free(text);
    return free_to_take;
}

/* Written beside, read back by the checker, and only then given the name; what stood there stays as
 * FILE.old. */
static bool put_config(struct welcome *welcome)
{
    const char *path = welcome->options->config;
    char fresh[PATH_OCTETS], old[PATH_OCTETS];
    struct settings_mistakes mistakes = {0};
    char *text = founding_config(&welcome->founding);
    (void)snprintf(fresh, sizeof fresh, "%s.new", path);
    (void)snprintf(old, sizeof old, "%s.old", path);
    bool well = text != NULL && write_file(fresh, text, S_IRUSR | S_IWUSR | S_IRGRP);
    free(text);
    if (!well) {
        (void)fprintf(welcome->out, "%s could not be written: %s\n", fresh, strerror(errno));
        return false;
    }
    struct settings *settings = settings_load_listing(fresh, &mistakes);
    settings_mistakes_write(&mistakes, welcome->out);
    settings_mistakes_free(&mistakes);
    well = settings != NULL;
    settings_free(settings);
    if (well && !is_free(path) && rename(path, old) == 0) {
        (void)fprintf(welcome->out, "What stood there is now %s\n", old);
    }
    if (well && rename(fresh, path) == 0) {
        (void)fprintf(welcome->out, "Written: %s\n", path);
        return true;
    }
    return false;
}

/* Where the rule goes; NULL where there is none to write, or nobody wants it. */
static const char *ask_rule(struct welcome *welcome, const char *rule)
{
    char folder[] = PORT_RULE_FILE;
    bool usual = access(dirname(folder), W_OK) == 0;
    struct interview_question question = {
        .name = "rule",
        .asks = welcome->modems.count > 1
                    ? "The rule that keeps other programs off these modems goes into (a file, or "
                      "none)"
                    : "The rule that keeps other programs off this modem goes into (a file, or "
                      "none)",
        .usual = usual ? PORT_RULE_FILE : "none",
        .fleeting = true};
    if (!interview_line(&welcome->interview, &question, welcome->answer)) {
        return NULL;
    }
    if (!interview_none(welcome->answer)) {
        return welcome->answer;
    }
    (void)fprintf(welcome->out, "The rule would be:\n%s", rule);
    return NULL;
}

static void put_rule(struct welcome *welcome)
{
    char *rule = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&rule, &length);
    struct port_found ports[SETTINGS_MODEMS_MAX];
    for (size_t i = 0; i < welcome->modems.count; i++) {
        ports[i] = welcome->modems.modems[i].port;
    }
    bool any = out != NULL && port_rule_write(ports, welcome->modems.count, out);
    if (out != NULL) {
        (void)fclose(out);
    }
    const char *path = any ? ask_rule(welcome, rule) : NULL;
    char *before = path != NULL ? read_file(path) : NULL;
    bool ours = before == NULL || strncmp(before, PORT_RULE_HEAD, strlen(PORT_RULE_HEAD)) == 0;
    free(before);
    if (path != NULL &&
        (ours || interview_yes(&welcome->interview, "Another rule is there. Replace it?", false))) {
        bool written = write_file(path, rule, S_IRUSR | S_IWUSR | S_IRGRP | S_IROTH);
        (void)fprintf(welcome->out,
                      written
                          ? "Written: %s; in force once the modem is plugged in again, or after: "
                            "udevadm trigger\n"
                          : "%s could not be written\n",
                      path);
    }
    free(rule);
}

/* What to type now. */
static void say_start(const struct welcome *welcome)
{
    const char *path = welcome->options->config;
    const char *number = welcome->founding.values[FOUNDING_NUMBER];
    const char *machine = welcome->founding.machines.entries[0].fields[0];
    bool boxs_own = strcmp(path, OPTIONS_CONFIG_FILE) == 0;
    bool service = boxs_own && access("/run/systemd/system", F_OK) == 0;
    if (welcome->modems.count == 0) {
        (void)fprintf(welcome->out,
                      "There is no modem yet: meterpost modem finds it later, and says what to put "
                      "into the config.\n");
    }
    for (size_t i = 0; i < welcome->modems.count; i++) {
        const struct port_searched *modem = &welcome->modems.modems[i];
        const char *step = modem->trial.talks ? modem_next_step(&modem->trial) : "";
        const char *pin_file = welcome->founding.values[FOUNDING_PINFILE + i * FOUNDING_OF_MODEM];
        if (step[0] != '\0' && pin_file == NULL) {
            (void)fprintf(welcome->out, "The modem at %s is not ready yet: %s\n",
                          port_search_name(&modem->port), step);
        }
    }
    bool runs = boxs_own && access("/run/meterpost/door", F_OK) == 0; /* it goes with the daemon */
    (void)fprintf(welcome->out, "Start it by:\n\n  %s%s\n\nThen text  %s 1340h  to %s\n",
                  runs && service ? "systemctl restart meterpost"
                  : service       ? "systemctl enable --now meterpost"
                  : boxs_own      ? "meterpost run"
                                  : "meterpost run -c ",
                  boxs_own ? "" : path, machine,
                  number != NULL && number[0] != '\0' ? number : "the number of the SIM");
}

static bool confirm(struct welcome *welcome)
{
    char ask[PATH_OCTETS + 32];
    struct settings_mistakes notes = {0};
    struct settings *settings = founding_settings(&welcome->founding);
    if (settings == NULL) {
        return false;
    }
    (void)fputc('\n', welcome->out);
    settings_describe(settings, welcome->out);
    settings_notes(settings, zone_civil(time(NULL)).day, &notes);
    for (size_t i = 0; i < notes.count; i++) {
        (void)fprintf(welcome->out, "%s  %s\n", i == 0 ? "Worth a look\n" : "", notes.list[i].says);
    }
    settings_mistakes_free(&notes);
    settings_free(settings);
    (void)snprintf(ask, sizeof ask, "Write this to %s?", welcome->options->config);
    return interview_yes(&welcome->interview, ask, true);
}

/* ---- the way through ---- */

/* Before any question: whether there could be an end. Returns an exit status. */
static int may_write(struct welcome *welcome, FILE *err)
{
    const char *path = welcome->options->config;
    char *copy = strdup(path);
    const char *folder = copy != NULL ? dirname(copy) : ".";
    bool may = access(folder, W_OK) == 0;
    if (!may) {
        (void)fprintf(
            err,
            "meterpost: %s cannot be written to: %s; setup needs the rights of root (sudo "
            "meterpost setup), or a file of yours (-c my.conf)\n",
            folder, strerror(errno));
    }
    free(copy);
    return may ? EX_OK : EX_CANTCREAT;
}

static bool ask_all(struct welcome *welcome)
{
    char ask[PATH_OCTETS + 96];
    const char *path = welcome->options->config;
    (void)snprintf(ask, sizeof ask, "There is a config at %s. Replace it? It stays as %s.old", path,
                   path);
    if (!is_free(path) && !interview_yes(&welcome->interview, ask, false)) {
        (void)fprintf(welcome->out, "Nothing was changed. meterpost check says what it means.\n");
        return false;
    }
    (void)fprintf(welcome->out,
                  "One line answers each question; an empty one means what stands in [ ]. "
                  "\"stop\" stops, and the next setup goes on from there.\n");
    return ask_settings(welcome) && ask_roster(welcome) &&
           port_search(&welcome->interview, &welcome->modems) && keep_modems(welcome) &&
           settle_sims(welcome) && confirm(welcome);
}

int setup_verb(const struct options *options, FILE *out, FILE *err)
{
    struct welcome welcome = {.options = options, .out = out};
    int status = may_write(&welcome, err);
    if (status != EX_OK) {
        return status;
    }
    interview_begin(&welcome.interview, options, options->config, stdin, out);
    founding_begin(&welcome.founding, options->config);
    bool done = ask_all(&welcome) && put_config(&welcome);
    if (done) {
        put_rule(&welcome);
        say_start(&welcome);
    }
    interview_end(&welcome.interview, done);
    founding_end(&welcome.founding);
    return done ? EX_OK : 1;
}
