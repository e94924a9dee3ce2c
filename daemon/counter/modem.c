/* SPDX-License-Identifier: MIT
 * modem: finds ports, talks to the modem, says what it is and how it stands, sends one text as a trial. */
#include <inttypes.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/answers.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/modem/port.h"
#include "daemon/modem/trial.h"
#include "parsers/phone.h"

int modem_report(const struct link_health *health, const char *port, FILE *out)
{
    (void)fprintf(out, "the running daemon has %s\n", port);
    (void)fprintf(out, "  modem     %s %s %s\n", health->maker, health->model, health->firmware);
    (void)fprintf(out, "  network   %s, registration %" PRId32 "\n",
                  health->network[0] != '\0' ? health->network : "unknown", health->registration);
    (void)fprintf(out, "  signal    %" PRId32 " dBm\n", health->signal_dbm);
    (void)fprintf(out, "  storage   %" PRId32 " of %" PRId32 "\n", health->storage_used,
                  health->storage_total);
    (void)fprintf(out, "  %s\n",
                  health->says[0] != '\0'             ? health->says
                  : health->state == LINK_STATE_READY ? "ready"
                                                      : "being set up");
    return health->state == LINK_STATE_READY ? EX_OK : 1;
}

static void print_word(FILE *out, const char *name, const char *word)
{
    if (word[0] != '\0') {
        (void)fprintf(out, "  %-9s %s\n", name, word);
    }
}

/* What answers on one port; true for a modem that takes texts. */
static bool try_port(const char *name, int32_t speed, FILE *out)
{
    struct trial trial;
    trial_run(name, speed, &trial);
    if (!trial.opened) {
        (void)fprintf(out, "  %s\n", trial.says);
        return false;
    }
    if (!trial.talks) {
        (void)fprintf(out,
                      "  does not answer AT at %" PRId32 " bit/s; a modem often has its AT port "
                      "beside others\n",
                      speed);
        return false;
    }
    (void)fprintf(out, "  talks AT, %s\n",
                  trial.texts ? "takes texts" : "but refuses PDU mode: it cannot send texts");
    print_word(out, "maker", trial.maker);
    print_word(out, "model", trial.model);
    print_word(out, "SIM", trial.sim[0] != '\0' ? trial.sim : "none, or not ready");
    print_word(out, "network", trial.network);
    print_word(out, "registered", trial.registration);
    print_word(out, "signal", trial.signal);
    print_word(out, "storage", trial.storage);
    print_word(out, "centre", trial.centre);
    if (strcmp(trial.sim, "SIM PIN") == 0) {
        (void)fprintf(out,
                      "  the SIM wants its PIN: put it alone into a file of mode 0640 and name "
                      "that in modem.pin_file, or take the PIN off in a phone\n");
    }
    return trial.texts;
}

static bool is_the_configs(const struct settings *settings, const struct port_found *found)
{
    const char *port = settings->modem.port;
    return port[0] != '\0' && (strcmp(found->stable, port) == 0 || strcmp(found->name, port) == 0);
}

static int try_ports(const struct settings *settings, FILE *out)
{
    struct port_found found[PORT_LIST_MAX];
    size_t count = port_list(found);
    int32_t speed = settings->modem.speed;
    bool good = false;
    if (settings->modem.port[0] != '\0') {
        (void)fprintf(out, "%s (the config's)\n", settings->modem.port);
        good = try_port(settings->modem.port, speed, out);
    }
    for (size_t i = 0; i < count; i++) {
        (void)fprintf(out, "%s%s%s\n", found[i].name, found[i].is[0] != '\0' ? ", " : "",
                      found[i].is);
        print_word(out, "name it", found[i].stable);
        if (!is_the_configs(settings, &found[i])) {
            good = try_port(found[i].name, speed, out) || good;
        }
    }
    if (count == 0 && settings->modem.port[0] == '\0') {
        (void)fprintf(out, "no serial port on this box; is the modem plugged in and on?\n");
    }
    return good ? EX_OK : 1;
}

static int send_one(const struct counter *counter)
{
    const struct settings *settings = counter->settings;
    const char *send = counter->options->send;
    char number[PHONE_OCTETS], says[TRIAL_SAYS_OCTETS];
    if (phone_normalise(send, strlen(send), settings->shop.country, number) != PHONE_OK) {
        (void)fprintf(counter->err,
                      "meterpost: %s is no telephone number; write it like +12065550110\n", send);
        return EX_USAGE;
    }
    if (!trial_send(settings->modem.port, settings->modem.speed, number, counter->options->words[0],
                    says)) {
        (void)fprintf(counter->err, "meterpost: not sent: %s\n", says);
        return 1;
    }
    (void)fprintf(counter->out, "the network took it\n");
    return EX_OK;
}

int modem_verb(struct counter *counter)
{
    static struct counter_answer answer;
    const struct options *options = counter->options;
    const char *words[] = {"modem"};
    if (options->word_count != (options->send != NULL ? 1 : 0)) {
        (void)fprintf(counter->err, "meterpost: type: meterpost modem, or: meterpost modem --send "
                                    "+12065550110 \"a trial\"\n");
        return EX_USAGE;
    }
    switch (counter_ask_daemon(counter, 1, words, "", &answer)) {
    case DOOR_NOBODY:
        return options->send != NULL ? send_one(counter)
                                     : try_ports(counter->settings, counter->out);
    case DOOR_FORBIDDEN:
        return EX_NOPERM;
    case DOOR_FAILED:
        return EX_UNAVAILABLE;
    case DOOR_ANSWERED:
        break;
    }
    if (options->send != NULL) {
        (void)fprintf(counter->err,
                      "meterpost: not sent: the running daemon holds the modem. Stop it "
                      "(systemctl stop meterpost), try again and start it; or, with it "
                      "running, text HELP to its number from a phone on the roster: the "
                      "answer shows that texts go both ways\n");
        return EX_UNAVAILABLE;
    }
    (void)fwrite(answer.answer, 1, answer.length, counter->out);
    return answer.status;
}
