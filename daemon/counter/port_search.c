/* SPDX-License-Identifier: MIT
 * port_search: see port_search.h. Nothing is written to a port but what the daemon itself would say to a
 * modem (trial.h). */
#include "daemon/counter/port_search.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "daemon/counter/modem.h"

/* Those that were tried, and which of them may be taken. */
struct search {
    struct interview *interview;
    struct port_choice *choice;
    int32_t speed; /* that is tried first */
    struct port_searched *tried;
    size_t tried_count, good_count;
    struct port_searched *good[PORT_LIST_MAX];
    char answer[INTERVIEW_LINE_OCTETS];
};

const char *port_search_name(const struct port_found *port)
{
    return port->stable[0] != '\0' ? port->stable : port->name;
}

/* Tries each port; good are those with a modem that takes texts; all of them where they were said to be
 * taken, since one may come yet. */
static void try_all(struct search *search, bool said)
{
    FILE *out = search->interview->out;
    search->good_count = 0;
    for (size_t i = 0; i < search->tried_count; i++) {
        struct port_searched *tried = &search->tried[i];
        const char *is = tried->port.is;
        (void)fprintf(out, "trying %s%s%s\n", port_search_name(&tried->port),
                      is[0] != '\0' ? ", " : "", is);
        (void)fflush(out);
        if (modem_try(tried->port.name, search->speed, &tried->trial, out) || said) {
            tried->trial.speed = tried->trial.speed != 0 ? tried->trial.speed : search->speed;
            search->good[search->good_count++] = tried;
        }
    }
}

/* The port of that name among those of the box, or by itself. */
static struct port_found named_port(const char *name)
{
    static struct port_found found[PORT_LIST_MAX];
    size_t count = port_list(found);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(found[i].name, name) == 0 || strcmp(found[i].stable, name) == 0 ||
            strcmp(found[i].place, name) == 0) {
            return found[i];
        }
    }
    struct port_found port = {.vendor = -1, .product = -1};
    (void)snprintf(port.name, sizeof port.name, "%s", name);
    return port;
}

static void add_named(struct search *search, const char *name)
{
    struct port_found port = named_port(name);
    for (size_t i = 0; i < search->tried_count; i++) {
        if (settings_same_file(search->tried[i].port.name, port.name)) {
            (void)fprintf(search->interview->out,
                          "%s is named twice; a second modem has a port of its own\n", name);
            return;
        }
    }
    search->tried[search->tried_count++].port = port;
}

/* The ports to be tried: those named by options or before, else all of the box. True where named. */
static bool list_ports(struct search *search)
{
    static struct port_found found[PORT_LIST_MAX];
    const char *name = interview_given(search->interview, "port");
    search->tried_count = 0;
    for (; name != NULL && search->tried_count < PORT_LIST_MAX;
         name = interview_given(search->interview, "port")) {
        add_named(search, name);
    }
    if (search->tried_count > 0) {
        return true;
    }
    search->tried_count = port_list(found);
    for (size_t i = 0; i < search->tried_count; i++) {
        search->tried[i].port = found[i];
    }
    return false;
}

/* ---- which of several ---- */

static bool alike(const struct port_found *one, const struct port_found *other)
{
    return one->vendor == other->vendor && one->product == other->product &&
           strcmp(one->serial, other->serial) == 0;
}

/* Two ports of one modem: it says the same serial number at both. Where it says none, one of the same make
 * is taken for the same. */
static bool same_modem(const struct port_searched *one, const struct port_searched *other)
{
    const struct trial *trial = &one->trial, *compared = &other->trial;
    if (trial->serial[0] != '\0' && compared->serial[0] != '\0') {
        return strcmp(trial->serial, compared->serial) == 0;
    }
    return trial->talks && compared->talks && alike(&one->port, &other->port) &&
           strcmp(trial->maker, compared->maker) == 0 && strcmp(trial->model, compared->model) == 0;
}

/* The first of the good ports that is of the same modem as that one: itself, where it is the first. */
static size_t first_port(const struct search *search, size_t at)
{
    size_t first = 0;
    while (first < at && !same_modem(search->good[first], search->good[at])) {
        first++;
    }
    return first;
}

static size_t count_modems(const struct search *search)
{
    size_t modems = 0;
    for (size_t i = 0; i < search->good_count; i++) {
        modems += first_port(search, i) == i;
    }
    return modems;
}

/* Takes one more, if it will do beside those that are taken. */
static bool take_one(struct search *search, unsigned long number, char says[INTERVIEW_SAYS_OCTETS])
{
    struct port_choice *choice = search->choice;
    if (number < 1 || number > search->good_count) {
        (void)snprintf(says, INTERVIEW_SAYS_OCTETS, "a number from 1 to %zu is expected%s",
                       search->good_count,
                       count_modems(search) > 1 ? ", or several as 1+2, or all" : "");
        return false;
    }
    const struct port_searched *wanted = search->good[number - 1];
    for (size_t i = 0; i < choice->count; i++) {
        const char *taken = port_search_name(&choice->modems[i].port);
        bool same = settings_same_file(choice->modems[i].port.name, wanted->port.name);
        if (same || same_modem(&choice->modems[i], wanted)) {
            (void)snprintf(says, INTERVIEW_SAYS_OCTETS,
                           same ? "%s is named twice; each modem once is expected"
                                : "%s is of the same modem as %s; one port of each is expected",
                           port_search_name(&wanted->port), taken);
            return false;
        }
    }
    if (choice->count == SETTINGS_MODEMS_MAX) {
        (void)snprintf(says, INTERVIEW_SAYS_OCTETS,
                       "at most %d modems work together; name as many, as 1+2",
                       SETTINGS_MODEMS_MAX);
        return false;
    }
    choice->modems[choice->count++] = *wanted;
    return true;
}

/* A judge: "2", "1+2", "both", "all". */
static bool take_choice(void *ctx, const char *name, const char *value,
                        char says[INTERVIEW_SAYS_OCTETS])
{
    struct search *search = ctx;
    bool both = strcasecmp(value, "both") == 0, all = both || strcasecmp(value, "all") == 0;
    bool well = true;
    (void)name;
    search->choice->count = 0;
    if (both && count_modems(search) != 2) {
        (void)snprintf(says, INTERVIEW_SAYS_OCTETS,
                       count_modems(search) < 2
                           ? "both would be two, but one modem answers; its number is expected"
                           : "more than two answer; numbers as 1+2, or all, are expected");
        return false;
    }
    for (size_t i = 0; all && well && i < search->good_count; i++) {
        well = first_port(search, i) != i || take_one(search, i + 1, says);
    }
    for (const char *at = value; !all && well; at += strspn(at, " +,")) {
        char *end = NULL;
        unsigned long number = strtoul(at, &end, 10);
        well = take_one(search, end != at && strchr(" +,", *end) != NULL ? number : 0, says);
        at = end;
        if (*at == '\0') {
            break;
        }
    }
    return well;
}

static void show_good(const struct search *search, size_t modems)
{
    FILE *out = search->interview->out;
    (void)fprintf(out, "%zu %s answer%s\n", search->good_count,
                  modems == search->good_count ? "modems" : "ports",
                  modems == search->good_count ? "" : "; those of one modem do equally well");
    for (size_t i = 0; i < search->good_count; i++) {
        const struct trial *trial = &search->good[i]->trial;
        char says[MODEM_SAYS_OCTETS];
        size_t first = first_port(search, i);
        (void)fprintf(out, "  %zu  %s: ", i + 1, port_search_name(&search->good[i]->port));
        if (trial->talks) {
            (void)fprintf(out, "%s %s, %s", trial->maker, trial->model,
                          modem_in_short(trial, says));
        } else {
            (void)fputs("nothing answers there yet", out);
        }
        if (first != i) {
            (void)fprintf(out, "; another port of %zu", first + 1);
        }
        (void)fputc('\n', out);
    }
    if (modems > 1) {
        (void)fputs(
            "One carries all texts. A second, best with the SIM of another operator, goes on "
            "where the first fails, and crews may text to either.\n",
            out);
    }
}

/* Which of several; the first by which texts can go at once is what is usual. */
static bool choose(struct search *search)
{
    char usual[24] = "1";
    size_t modems = count_modems(search);
    for (size_t i = search->good_count; i-- > 0;) {
        const struct trial *trial = &search->good[i]->trial;
        if (trial->talks && modem_next_step(trial)[0] == '\0') {
            (void)snprintf(usual, sizeof usual, "%zu", i + 1);
        }
    }
    if (search->good_count > 1) {
        show_good(search, modems);
    }
    struct interview_question use = {.name = "use",
                                     .asks = modems == 1 ? "Which one?"
                                             : modems == 2
                                                 ? "Which one, or both?"
                                                 : "Which one, or several as 1+2, or all?",
                                     .usual = usual,
                                     .fleeting = true};
    return interview_ask(search->interview, &use, take_choice, search);
}

/* Takes what answers; where that leaves a choice, asks. False where the interview was stopped. */
static bool settle(struct search *search)
{
    struct port_choice *choice = search->choice;
    choice->count = 0;
    if (search->good_count > 1 ||
        (search->good_count == 1 && interview_answered(search->interview, "use"))) {
        if (!choose(search)) {
            return false;
        }
    } else if (search->good_count == 1) {
        choice->modems[choice->count++] = *search->good[0];
    }
    for (size_t i = 0; i < choice->count; i++) { /* twins have one name by-id between them */
        struct port_found *port = &choice->modems[i].port;
        for (size_t j = 0; j < choice->count && port->vendor >= 0 && port->place[0] != '\0'; j++) {
            if (j != i && alike(port, &choice->modems[j].port)) {
                (void)snprintf(port->stable, sizeof port->stable, "%s", port->place);
            }
        }
    }
    return true;
}

/* ---- until it will do ---- */

/* What is to be done about ports of which none has a modem that takes texts: about the one that talks, else
 * about the one that cannot be had, of which it was said why. */
static const char *step_to_modem(const struct port_searched *tried, size_t count)
{
    bool there = false;
    for (size_t i = 0; i < count; i++) {
        if (tried[i].trial.talks) {
            return modem_next_step(&tried[i].trial);
        }
        there = there || (!tried[i].trial.opened && access(tried[i].port.name, F_OK) == 0);
    }
    return there ? "free the port as said above"
                 : "plug the modem in, switch it on, and wait a minute";
}

/* The next thing to do; "" where nothing keeps texts from going, but a PIN, which is asked for. */
static const char *next_step(const struct search *search)
{
    const struct port_choice *choice = search->choice;
    const char *step = "";
    for (size_t i = 0; i < choice->count && step[0] == '\0'; i++) {
        const struct port_searched *modem = &choice->modems[i];
        step = strncmp(modem->trial.sim, "SIM PIN", 7) == 0 ? "" : step_to_modem(modem, 1);
    }
    return choice->count > 0 ? step : step_to_modem(search->tried, search->tried_count);
}

/* What is to be done before one can go on; what is then tried, or "none". */
static bool ask_where(struct search *search, const char *step, const char *usual)
{
    struct interview_question where = {
        .name = "port",
        .asks =
            "Then \"again\" looks again, the name of a port looks there, \"none\" goes on as it is",
        .usual = usual,
        .fleeting = true};
    (void)fprintf(search->interview->out, "next: %s\n", step);
    return interview_line(search->interview, &where, search->answer);
}

/* Until there is a modem by which texts can go, or one is content without. */
bool port_search(struct interview *interview, struct port_choice *choice)
{
    static struct port_searched tried[PORT_LIST_MAX];
    const char *speed = interview_given(interview, "speed");
    struct search search = {.interview = interview,
                            .choice = choice,
                            .tried = tried,
                            .speed = speed != NULL ? (int32_t)strtol(speed, NULL, 10) : 0};
    search.speed = search.speed > 0 ? search.speed : PORT_SEARCH_SPEED;
    bool asks = !interview->options->yes;
    bool named = list_ports(&search);
    bool none = search.tried_count == 1 && interview_none(tried[0].port.name);
    while (!none) {
        try_all(&search, named && (interview_answered(interview, "use") ||
                                   (search.tried_count == 1 && !asks)));
        if (!settle(&search)) {
            return false;
        }
        const char *step = next_step(&search);
        if (step[0] == '\0') {
            break;
        }
        if (!ask_where(&search, step, asks ? "again" : "none")) {
            return false;
        }
        none = interview_none(search.answer);
        named = !none && strcasecmp(search.answer, "again") != 0;
        search.tried_count = 0;
        if (named) {
            add_named(&search, search.answer);
        } else if (!none) {
            named = list_ports(&search);
        }
    }
    return true;
}
