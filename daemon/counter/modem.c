/* SPDX-License-Identifier: MIT
 * modem: finds ports, talks to the modem, says what it is and how it stands, sends one text as a trial. */
#include <errno.h>
#include <inttypes.h>
#include <string.h>
#include <sysexits.h>
#include <unistd.h>

#include "daemon/counter/answers.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/modem.h"
#include "daemon/counter/verbs.h"
#include "daemon/modem/cause.h"
#include "daemon/modem/port.h"
#include "daemon/modem/trial.h"
#include "daemon/modem/watch.h"
#include "parsers/phone.h"

#define SPEED_UNSAID 115200

/* ---- in words */

#define WORDS_OCTETS 96

static void print_word(FILE *out, const char *name, const char *word)
{
    if (word[0] != '\0') {
        (void)fprintf(out, "  %-9s %s\n", name, word);
    }
}

/* By +CPIN (TS 27.007 8.3). */
static const struct {
    const char *code, *says, *advice;
} sims[] = {
    {"READY", "open", ""},
    {"SIM PIN", "wants its PIN",
     "put the SIM's PIN alone into a file of mode 0640 and name that in modem.pin_file, or take "
     "the "
     "PIN off in a phone"},
    {"SIM PUK", "locked, wants its PUK",
     "open the SIM in a phone with the PUK of the card it came on"},
    {"PH-", "the modem is locked to another SIM", "unlock the modem, or use the SIM it belongs to"},
    {"", "none, or not ready",
     "put a SIM in, and look that it sits firmly and the right way up; then try again"},
};

static size_t sim_row(const char *sim)
{
    size_t row = 0;
    while (strncmp(sim, sims[row].code, strlen(sims[row].code)) != 0) {
        row++; /* the last stands for all */
    }
    return row;
}

/* The bounds are common practice, no source. */
static const char *signal_words(int32_t dbm, char room[WORDS_OCTETS])
{
    const char *word = dbm >= -85 ? "good" : dbm >= -97 ? "fair" : dbm >= -105 ? "poor" : "weak";
    (void)snprintf(room, WORDS_OCTETS, "%" PRId32 " dBm, %s", dbm, word);
    return dbm == 0 ? "not said by the modem" : room;
}

static const char *storage_words(int32_t used, int32_t total, char room[WORDS_OCTETS])
{
    (void)snprintf(room, WORDS_OCTETS, "%" PRId32 " of %" PRId32 " places taken", used, total);
    return used < 0 || total <= 0 ? "not said by the modem" : room;
}

static void print_air(FILE *out, int32_t registration, const char *network, int32_t dbm)
{
    char room[WORDS_OCTETS];
    const char *says = watch_registration(registration)->says;
    (void)fprintf(out, "  %-9s %s%s%s\n", "network", says, network[0] != '\0' ? ", " : "", network);
    print_word(out, "signal", signal_words(dbm, room));
}

/* What was known of it before is not said of a modem that is not there now. */
int modem_report(const struct link_health *health, const char *port, FILE *out)
{
    bool ready = health->state == LINK_STATE_READY;
    char room[WORDS_OCTETS], words[CAUSE_SAYS_OCTETS];
    (void)fprintf(out, "the running daemon has %s\n", port);
    if (ready) {
        (void)fprintf(out, "  %-9s %s %s %s\n", "modem", health->maker, health->model,
                      health->firmware);
        print_air(out, health->registration, health->network, health->signal_dbm);
        print_word(out, "storage",
                   storage_words(health->storage_used, health->storage_total, room));
    }
    if (ready && health->sends_failed > 0) {
        print_word(out, "sending", cause_write(health->sends_cause, words));
    }
    (void)fprintf(out, "  %s\n",
                  health->says[0] != '\0' ? health->says
                  : ready                 ? "ready"
                                          : "being set up");
    return ready && health->says[0] == '\0' ? EX_OK : 1;
}

/* ---- without a daemon */

/* What the config says of the modem, or would say. */
struct wanted {
    const char *port, *country;
    int32_t speed;
};

const char *modem_next_step(const struct trial *trial)
{
    if (!trial->texts) {
        return "this modem cannot send texts: use another";
    }
    const char *sim = sims[sim_row(trial->sim)].advice;
    if (sim[0] == '\0' && trial->centre_told && trial->centre[0] == '\0') {
        return "the SIM has no service centre number: ask the network's operator for it and put it "
               "into modem.service_centre";
    }
    return sim[0] != '\0' ? sim : watch_registration(trial->registration)->advice;
}

static void print_trial(const struct trial *trial, FILE *out)
{
    char room[WORDS_OCTETS];
    (void)fprintf(out, "  talks AT, %s\n",
                  trial->texts ? "takes texts" : "but refuses PDU mode: it cannot send texts");
    print_word(out, "maker", trial->maker);
    print_word(out, "model", trial->model);
    print_word(out, "SIM", sims[sim_row(trial->sim)].says);
    print_air(out, trial->registration, trial->network, trial->signal_dbm);
    print_word(out, "storage", storage_words(trial->storage_used, trial->storage_total, room));
    print_word(out, "centre",
               trial->centre[0] != '\0' ? trial->centre
               : trial->centre_told     ? "none: no text can be sent without it"
                                        : "not said by the modem");
}

bool modem_try(const char *name, int32_t speed, struct trial *trial, FILE *out)
{
    trial_run(name, speed, trial);
    if (!trial->opened) {
        (void)fprintf(out, "  %s\n", trial->says);
        return false;
    }
    if (!trial->talks) {
        (void)fprintf(out,
                      "  does not answer AT at %" PRId32 " bit/s; a modem often has its AT port "
                      "beside others\n",
                      speed);
        return false;
    }
    print_trial(trial, out);
    return trial->texts;
}

/* Likewise; *step is what to do about it. */
static bool try_port(const char *name, int32_t speed, FILE *out, const char **step)
{
    static struct trial trial;
    bool texts = modem_try(name, speed, &trial, out);
    *step = trial.talks ? modem_next_step(&trial) : "";
    return texts;
}

static bool is_wanted(const struct wanted *wanted, const struct port_found *found)
{
    return wanted->port[0] != '\0' &&
           (strcmp(found->stable, wanted->port) == 0 || strcmp(found->name, wanted->port) == 0);
}

/* The last line: what to do next. Returns the exit status, which is the configured port's where there
 * is one. */
static int conclude(const struct wanted *wanted, bool good, const char *step, const char *other,
                    FILE *out)
{
    bool configured = wanted->port[0] != '\0';
    if (configured && good && step[0] == '\0') {
        (void)fprintf(out, "nothing to do: the config's port is right\n");
        return EX_OK;
    }
    if (configured && good) {
        (void)fprintf(out, "next: %s\n", step);
        return 1;
    }
    if (other[0] != '\0') {
        (void)fprintf(out, "put this into the config:\n  modem: { port = \"%s\"; };\n", other);
        if (step[0] != '\0') {
            (void)fprintf(out, "next: %s\n", step);
        }
        return configured || step[0] != '\0' ? 1 : EX_OK;
    }
    (void)fprintf(out, "next: plug the modem in, switch it on, wait a minute and try again%s\n",
                  configured ? ", or put the right port into modem.port" : "");
    return 1;
}

static int try_ports(const struct wanted *wanted, FILE *out)
{
    static struct port_found found[PORT_LIST_MAX];
    size_t count = port_list(found);
    const char *step = "", *other = "";
    bool good = false;
    if (wanted->port[0] != '\0') {
        (void)fprintf(out, "%s (the config's)\n", wanted->port);
        good = try_port(wanted->port, wanted->speed, out, &step);
    }
    for (size_t i = 0; i < count; i++) {
        const char *here = "";
        (void)fprintf(out, "%s%s%s\n", found[i].name, found[i].is[0] != '\0' ? ", " : "",
                      found[i].is);
        print_word(out, "name it", found[i].stable);
        if (!is_wanted(wanted, &found[i]) && try_port(found[i].name, wanted->speed, out, &here) &&
            other[0] == '\0') {
            other = found[i].stable[0] != '\0' ? found[i].stable : found[i].name;
            step = good ? step : here;
        }
    }
    if (count == 0 && wanted->port[0] == '\0') {
        (void)fprintf(out, "no serial port on this box; is the modem plugged in and on?\n");
    }
    return conclude(wanted, good, step, other, out);
}

static int send_one(const struct counter *counter, const struct wanted *wanted)
{
    const char *send = counter->options->send;
    char number[PHONE_OCTETS], says[TRIAL_SAYS_OCTETS];
    if (phone_normalise(send, strlen(send), wanted->country, number) != PHONE_OK) {
        (void)fprintf(counter->err,
                      "meterpost: %s is no telephone number; write it like +12065550110\n", send);
        return EX_USAGE;
    }
    if (!trial_send(wanted->port, wanted->speed, number, counter->options->words[0], says)) {
        (void)fprintf(counter->err, "meterpost: not sent: %s\n", says);
        return 1;
    }
    (void)fprintf(counter->out, "the network took it\n");
    return EX_OK;
}

static int serve_modem(struct counter *counter)
{
    static struct counter_answer answer;
    const struct options *options = counter->options;
    const struct settings *settings = counter->settings;
    const char *words[] = {"modem"};
    struct wanted wanted = {settings->modem.port, settings->shop.country, settings->modem.speed};
    if (options->word_count != (options->send != NULL ? 1 : 0)) {
        (void)fprintf(counter->err, "meterpost: type: meterpost modem, or: meterpost modem --send "
                                    "+12065550110 \"a trial\"\n");
        return EX_USAGE;
    }
    int asked = counter_ask_daemon(counter, 1, words, "", &answer);
    if (asked == COUNTER_ALONE) {
        return options->send != NULL ? send_one(counter, &wanted)
                                     : try_ports(&wanted, counter->out);
    }
    if (asked == EX_OK && options->send != NULL) {
        (void)fprintf(counter->err,
                      "meterpost: not sent: the running daemon holds the modem. Stop it "
                      "(systemctl stop meterpost), try again and start it; or, with it "
                      "running, text HELP to its number from a phone on the roster: the "
                      "answer shows that texts go both ways\n");
        return EX_UNAVAILABLE;
    }
    return asked == EX_OK ? counter_pass_on(counter, &answer) : asked;
}

/* Whoever looks for the port has not written the config yet. */
int modem_verb(const struct options *options, FILE *out, FILE *err)
{
    const struct wanted wanted = {"", "1", SPEED_UNSAID};
    if (options->send != NULL || access(options->config, F_OK) == 0 || errno != ENOENT) {
        return counter_serve(options, COUNTER_SETTINGS, serve_modem, out, err);
    }
    (void)fprintf(out, "there is no config at %s yet: every port is tried\n", options->config);
    return try_ports(&wanted, out);
}
