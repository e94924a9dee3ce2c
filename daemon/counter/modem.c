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
#define NEXT_OCTETS 512

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
     "put the SIM's PIN alone into a file of mode 0640 and name that as the modem's pin_file, or "
     "take the PIN off in a phone"},
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

/* ---- as JSON */

/* One port, with what was found there. */
struct port_seen {
    const char *port, *name, *is, *stable;
    bool configured;
    struct trial trial;
    const char *firmware, *says;
};

static const char *sim_says(const struct settings *settings, const void *row,
                            char room[TABLE_SHOWN_OCTETS])
{
    const struct port_seen *seen = row;
    (void)settings;
    return seen->trial.talks && seen->trial.sim[0] != '\0' ? sims[sim_row(seen->trial.sim)].says
                                                           : room;
}

static const char *registration_says(const struct settings *settings, const void *row,
                                     char room[TABLE_SHOWN_OCTETS])
{
    const struct port_seen *seen = row;
    (void)settings;
    return seen->trial.talks ? watch_registration(seen->trial.registration)->says : room;
}

static struct json_object *signal_json(const struct settings *settings, const void *row)
{
    int32_t dbm = ((const struct port_seen *)row)->trial.signal_dbm;
    (void)settings;
    return dbm != 0 ? json_object_new_int(dbm) : NULL;
}

static struct json_object *configured_json(const struct settings *settings, const void *row)
{
    (void)settings;
    return json_object_new_boolean(((const struct port_seen *)row)->configured);
}

static struct json_object *texts_json(const struct settings *settings, const void *row)
{
    (void)settings;
    return json_object_new_boolean(((const struct port_seen *)row)->trial.texts);
}

#define AT(field) offsetof(struct port_seen, field)
static const struct column seen_list[] = {
    {NULL, "port", COLUMN_TEXT, .at = AT(port)},
    {NULL, "name", COLUMN_TEXT, .at = AT(name)},
    {NULL, "is", COLUMN_TEXT, .at = AT(is)},
    {NULL, "stable", COLUMN_TEXT, .at = AT(stable)},
    {NULL, "configured", COLUMN_OWN, .json = configured_json},
    {NULL, "texts", COLUMN_OWN, .json = texts_json},
    {NULL, "speed", COLUMN_COUNT, .at = AT(trial.speed), .when = COLUMN_FROM_1},
    {NULL, "maker", COLUMN_CHARS, .at = AT(trial.maker)},
    {NULL, "model", COLUMN_CHARS, .at = AT(trial.model)},
    {NULL, "firmware", COLUMN_TEXT, .at = AT(firmware)},
    {NULL, "sim", COLUMN_OWN, .say = sim_says},
    {NULL, "registration", COLUMN_OWN, .say = registration_says},
    {NULL, "network", COLUMN_CHARS, .at = AT(trial.network)},
    {NULL, "signal_dbm", COLUMN_OWN, .json = signal_json},
    {NULL, "storage_used", COLUMN_COUNT, .at = AT(trial.storage_used), .when = COLUMN_FROM_0},
    {NULL, "storage_total", COLUMN_COUNT, .at = AT(trial.storage_total), .when = COLUMN_FROM_1},
    {NULL, "centre", COLUMN_CHARS, .at = AT(trial.centre)},
    {NULL, "says", COLUMN_TEXT, .at = AT(says)},
};
#undef AT
static const struct columns seen_columns = {COLUMNS(seen_list), false};

/* next: what to do, "" nothing; put: the port to put into the config, "" none. Takes over ports. */
static int print_json(bool daemon, struct json_object *ports, const char *next, const char *put,
                      FILE *out)
{
    struct json_object *whole = json_object_new_object();
    json_add(whole, "daemon", json_object_new_boolean(daemon));
    json_add(whole, "ports", ports);
    json_add_text(whole, "put", put[0] != '\0' ? put : NULL);
    json_add_text(whole, "next", next[0] != '\0' ? next : NULL);
    return json_write(whole, out);
}

/* ---- by the running daemon */

static void print_health(const struct link_health *health, const struct settings_modem *modem,
                         const char *says, FILE *out)
{
    bool ready = health->state == LINK_STATE_READY;
    char room[WORDS_OCTETS], words[CAUSE_SAYS_OCTETS];
    (void)fprintf(out, "%s%sthe running daemon has %s\n", modem->name,
                  modem->name[0] != '\0' ? ": " : "",
                  modem->port[0] != '\0' ? modem->port : "no port");
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
    (void)fprintf(out, "  %s\n", says);
}

static const char *says_of(const struct link_health *health)
{
    bool ready = health->state == LINK_STATE_READY;
    return health->says[0] != '\0' ? health->says : ready ? "ready" : "being set up";
}

/* What was known of it before is not said of a modem that is not there now. */
static struct json_object *health_json(const struct link_health *health,
                                       const struct settings_modem *modem)
{
    struct port_seen seen = {.port = modem->port,
                             .name = modem->name[0] != '\0' ? modem->name : NULL,
                             .configured = true,
                             .says = says_of(health)};
    seen.trial.storage_used = -1;
    if (health->state == LINK_STATE_READY) {
        struct trial *trial = &seen.trial;
        trial->talks = true;
        trial->texts = !health->no_centre;
        (void)snprintf(trial->maker, sizeof trial->maker, "%s", health->maker);
        (void)snprintf(trial->model, sizeof trial->model, "%s", health->model);
        (void)snprintf(trial->network, sizeof trial->network, "%s", health->network);
        trial->registration = health->registration;
        trial->signal_dbm = health->signal_dbm;
        trial->storage_used = health->storage_used;
        trial->storage_total = health->storage_total;
        seen.firmware = health->firmware;
    }
    return columns_json(&seen_columns, NULL, &seen);
}

int modem_report(const struct settings *settings,
                 const struct link_health *const links[SETTINGS_MODEMS_MAX], bool json, FILE *out)
{
    struct json_object *ports = json ? json_object_new_array() : NULL;
    char next[NEXT_OCTETS] = "";
    bool well = true;
    for (size_t i = 0; i < settings->modem_count; i++) {
        const struct link_health *health = links[i];
        if (health == NULL) {
            continue;
        }
        if (json) {
            (void)json_object_array_add(ports, health_json(health, &settings->modems[i]));
        } else {
            print_health(health, &settings->modems[i], says_of(health), out);
        }
        if (next[0] == '\0' && health->says[0] != '\0') {
            const char *name = settings->modems[i].name;
            (void)snprintf(next, sizeof next, "%s%s%s", name, name[0] != '\0' ? ": " : "",
                           health->says);
        }
        well = well && health->state == LINK_STATE_READY && health->says[0] == '\0';
    }
    if (json) {
        (void)print_json(true, ports, next, "", out);
    }
    return well ? EX_OK : 1;
}

/* ---- without a daemon */

/* What the config says of its modems, or would say. */
struct wanted {
    const struct settings_modem *modems;
    size_t count;
    const char *country;
};

const char *modem_next_step(const struct trial *trial)
{
    if (!trial->texts) {
        return "this modem cannot send texts: use another";
    }
    const char *sim = sims[sim_row(trial->sim)].advice;
    if (sim[0] == '\0' && trial->centre_told && trial->centre[0] == '\0') {
        return "the SIM has no service centre number: ask the network's operator for it and put it "
               "into the config, as the modem's service_centre";
    }
    return sim[0] != '\0' ? sim : watch_registration(trial->registration)->advice;
}

const char *modem_in_short(const struct trial *trial, char says[MODEM_SAYS_OCTETS])
{
    const char *sim = sims[sim_row(trial->sim)].says;
    bool open = sims[sim_row(trial->sim)].advice[0] == '\0';
    const char *registration = watch_registration(trial->registration)->says;
    (void)snprintf(says, MODEM_SAYS_OCTETS, "%s%s%s%s", open ? "" : "SIM ",
                   open ? registration : sim, open && trial->network[0] != '\0' ? ", " : "",
                   open ? trial->network : "");
    return says;
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
    if (out == NULL) {
        return trial->texts;
    }
    if (trial->talks && trial->speed != speed) {
        (void)fprintf(out, "  answers at %" PRId32 " bit/s\n", trial->speed);
    }
    if (trial->talks) {
        print_trial(trial, out);
    } else if (trial->opened) {
        (void)fprintf(out, "  does not answer AT at any usual speed; a modem often has its AT port "
                           "beside others\n");
    } else {
        (void)fprintf(out, "  %s\n", trial->says);
    }
    return trial->texts;
}

/* A look at every port; each is told as soon as it has answered, which takes its time. */
struct search {
    const struct wanted *wanted;
    FILE *out;
    struct json_object *ports;            /* NULL: in words */
    bool good;                            /* each of the config's has a modem that takes texts */
    const struct settings_modem *missing; /* the first of those that has none; NULL */
    const char *step, *other;   /* what to do about such a modem, or another; where that is */
    const char *whose;          /* of several the modem that the step is about, "" */
    int32_t speed, other_speed; /* at which the last one answers, and that other */
};

/* What answers on one port; true for a modem that takes texts. *step is what to do about it. */
static bool try_port(const struct search *search, struct port_seen *seen, int32_t speed,
                     const char **step)
{
    struct trial *trial = &seen->trial;
    bool texts = modem_try(seen->port, speed, trial, search->ports == NULL ? search->out : NULL);
    seen->says = trial->talks ? "" : trial->opened ? "does not answer AT" : trial->says;
    *step = trial->talks ? modem_next_step(trial) : "";
    return texts;
}

static bool is_port_of(const struct settings_modem *modem, const struct port_found *found)
{
    return modem->port[0] != '\0' &&
           (strcmp(found->stable, modem->port) == 0 || strcmp(found->place, modem->port) == 0 ||
            strcmp(found->name, modem->port) == 0);
}

static bool is_wanted(const struct wanted *wanted, const struct port_found *found)
{
    bool found_one = false;
    for (size_t i = 0; i < wanted->count; i++) {
        found_one |= is_port_of(&wanted->modems[i], found);
    }
    return found_one;
}

/* The last words: what to do next. Returns the exit status, which is the configured port's where
 * there is one. */
static int conclude(const struct search *search)
{
    bool several = search->wanted->count > 1;
    bool configured = search->wanted->modems[0].port[0] != '\0';
    bool put = !(configured && search->good) && search->other[0] != '\0';
    bool found = (configured && search->good) || put;
    char next[NEXT_OCTETS];
    if (found) {
        (void)snprintf(next, sizeof next, "%s%s%s", search->step[0] != '\0' ? search->whose : "",
                       search->step[0] != '\0' && search->whose[0] != '\0' ? ": " : "",
                       search->step);
    } else if (several) {
        (void)snprintf(next, sizeof next,
                       "plug modem %s in, switch it on, wait a minute and try again, or put its "
                       "right port into the config",
                       search->missing->name);
    } else {
        (void)snprintf(next, sizeof next,
                       "plug the modem in, switch it on, wait a minute and try again%s",
                       configured ? ", or put the right port into modem.port" : "");
    }
    int status = next[0] != '\0' || (put && configured) ? 1 : EX_OK;
    if (search->ports != NULL) {
        int written = print_json(false, search->ports, next, put ? search->other : "", search->out);
        return written != EX_OK ? written : status;
    }
    if (put) {
        if (several) {
            (void)fprintf(search->out, "put this into the config, for modem %s:\n ",
                          search->missing->name);
        } else {
            (void)fputs("put this into the config:\n  modem: {", search->out);
        }
        (void)fprintf(search->out, " port = \"%s\";", search->other);
        if (search->other_speed != SPEED_UNSAID) {
            (void)fprintf(search->out, " speed = %" PRId32 ";", search->other_speed);
        }
        (void)fputs(several ? "\n" : " };\n", search->out);
    }
    if (next[0] != '\0') {
        (void)fprintf(search->out, "next: %s\n", next);
    } else if (!put) {
        (void)fprintf(search->out, "nothing to do: the config's port%s right\n",
                      several ? "s are" : " is");
    }
    return status;
}

/* A port, tried and told; of that modem of the config, NULL none. */
static bool look(struct search *search, const char *port, const struct port_found *found,
                 const struct settings_modem *modem, const char **step)
{
    static struct port_seen seen;
    const struct settings_modem *as = modem != NULL ? modem : &search->wanted->modems[0];
    bool named = modem != NULL && modem->name[0] != '\0';
    seen = (struct port_seen){
        .port = port, .name = named ? modem->name : NULL, .configured = modem != NULL};
    if (found != NULL) {
        seen.is = found->is;
        seen.stable = found->stable;
    }
    if (search->ports == NULL) {
        bool is = found != NULL && found->is[0] != '\0';
        (void)fprintf(search->out, "%s%s%s%s%s%s\n", named ? modem->name : "", named ? ": " : "",
                      port, modem != NULL ? " (the config's)" : "", is ? ", " : "",
                      is ? found->is : "");
        print_word(search->out, "name it", found != NULL ? found->stable : "");
    }
    bool good = try_port(search, &seen, as->speed, step);
    search->speed = seen.trial.speed;
    if (good && modem != NULL && search->speed != modem->speed && search->ports == NULL) {
        (void)fprintf(search->out, "put this beside it into the config: speed = %" PRId32 ";\n",
                      search->speed);
    }
    if (search->ports != NULL) {
        (void)json_object_array_add(search->ports, columns_json(&seen_columns, NULL, &seen));
    }
    return good;
}

/* The config's own ports first. */
static void look_at_own(struct search *search, const struct port_found *found, size_t count)
{
    search->good = true;
    for (size_t i = 0; i < search->wanted->count; i++) {
        const struct settings_modem *modem = &search->wanted->modems[i];
        const char *step = "";
        size_t at = 0;
        while (at < count && !is_port_of(modem, &found[at])) {
            at++;
        }
        if (modem->port[0] != '\0' &&
            !look(search, modem->port, at < count ? &found[at] : NULL, modem, &step)) {
            search->missing = search->good ? modem : search->missing;
            search->good = false;
        }
        if (search->step[0] == '\0') {
            search->step = step;
            search->whose = modem->name;
        }
    }
}

static int try_ports(const struct wanted *wanted, bool json, FILE *out)
{
    static struct port_found found[PORT_LIST_MAX];
    size_t count = port_list(found);
    struct search search = {.wanted = wanted,
                            .out = out,
                            .ports = json ? json_object_new_array() : NULL,
                            .step = "",
                            .whose = "",
                            .other = ""};
    look_at_own(&search, found, count);
    for (size_t i = 0; i < count; i++) {
        const char *here = "";
        if (!is_wanted(wanted, &found[i]) && look(&search, found[i].name, &found[i], NULL, &here) &&
            search.other[0] == '\0') {
            search.other_speed = search.speed;
            search.other = found[i].stable[0] != '\0' ? found[i].stable : found[i].name;
            if (!search.good || wanted->modems[0].port[0] == '\0') {
                search.step = here;
                search.whose = "";
            }
        }
    }
    if (count == 0 && wanted->modems[0].port[0] == '\0' && !json) {
        (void)fprintf(out, "no serial port on this box; is the modem plugged in and on?\n");
    }
    return conclude(&search);
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
    bool sent = trial_send(wanted->modems[0].port, wanted->modems[0].speed, number,
                           counter->options->words[0], says);
    if (counter->options->json) {
        struct json_object *whole = json_object_new_object();
        json_add(whole, "sent", json_object_new_boolean(sent));
        json_add_text(whole, "says", sent ? NULL : says);
        int written = json_write(whole, counter->out);
        return written == EX_OK && !sent ? 1 : written;
    }
    (void)fprintf(sent ? counter->out : counter->err, "%s%s\n",
                  sent ? "the network took it" : "meterpost: not sent: ", sent ? "" : says);
    return sent ? EX_OK : 1;
}

static int serve_modem(struct counter *counter)
{
    static struct counter_answer answer;
    const struct options *options = counter->options;
    const struct settings *settings = counter->settings;
    const char *words[] = {"modem", options->json ? "json" : "plain"};
    struct wanted wanted = {settings->modems, settings->modem_count, settings->shop.country};
    if (options->word_count != (options->send != NULL ? 1 : 0)) {
        (void)fprintf(counter->err, "meterpost: type: meterpost modem, or: meterpost modem --send "
                                    "+12065550110 \"a trial\"\n");
        return EX_USAGE;
    }
    int asked = counter_ask_daemon(counter, 2, words, "", &answer);
    if (asked == COUNTER_ALONE) {
        return options->send != NULL ? send_one(counter, &wanted)
                                     : try_ports(&wanted, options->json, counter->out);
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
    static const struct settings_modem none = {.name = "", .port = "", .speed = SPEED_UNSAID};
    const struct wanted wanted = {&none, 1, "1"};
    if (options->send != NULL || access(options->config, F_OK) == 0 || errno != ENOENT) {
        return counter_serve(options, COUNTER_SETTINGS, serve_modem, out, err);
    }
    (void)fprintf(options->json ? err : out, "there is no config at %s yet: every port is tried\n",
                  options->config);
    return try_ports(&wanted, options->json, out);
}
