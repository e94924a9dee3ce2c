/* SPDX-License-Identifier: MIT
 * port_search: see port_search.h. Nothing is written to a port but what the daemon itself would say to a
 * modem (trial.h). */
#include "daemon/counter/port_search.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <unistd.h>

#include "daemon/counter/modem.h"

struct search {
    struct interview *interview;
    struct port_searched *found;
    int32_t speed; /* that is tried first */
    char answer[INTERVIEW_LINE_OCTETS];
};

const char *port_search_name(const struct port_found *port)
{
    return port->stable[0] != '\0' ? port->stable : port->name;
}

/* Tries each port; those with a modem that takes texts come to the front. Returns how many. */
static size_t try_all(struct search *search, struct port_searched *candidates, size_t count)
{
    size_t good = 0;
    for (size_t i = 0; i < count; i++) {
        struct port_searched *candidate = &candidates[i];
        const char *is = candidate->port.is;
        (void)fprintf(search->interview->out, "trying %s%s%s\n", port_search_name(&candidate->port),
                      is[0] != '\0' ? ", " : "", is);
        (void)fflush(search->interview->out);
        if (modem_try(candidate->port.name, search->speed, &candidate->trial,
                      search->interview->out)) {
            candidates[good++] = *candidate;
        }
    }
    return good;
}

/* The port of that name among those of the box, or by itself. */
static struct port_found named_port(const char *name)
{
    static struct port_found found[PORT_LIST_MAX];
    size_t count = port_list(found);
    for (size_t i = 0; i < count; i++) {
        if (strcmp(found[i].name, name) == 0 || strcmp(found[i].stable, name) == 0) {
            return found[i];
        }
    }
    struct port_found port = {.vendor = -1, .product = -1};
    (void)snprintf(port.name, sizeof port.name, "%s", name);
    return port;
}

/* The ports to be tried: those named by options or before, else all of the box. */
static size_t ports_to_try(struct search *search, struct port_searched candidates[PORT_LIST_MAX])
{
    static struct port_found found[PORT_LIST_MAX];
    size_t count = 0;
    for (const char *name = interview_given(search->interview, "port");
         name != NULL && count < PORT_LIST_MAX; name = interview_given(search->interview, "port")) {
        candidates[count++].port = named_port(name);
    }
    if (count > 0) {
        return count;
    }
    count = port_list(found);
    for (size_t i = 0; i < count; i++) {
        candidates[i].port = found[i];
    }
    return count;
}

struct choosing {
    size_t count, chosen;
};

static bool take_number(void *ctx, const char *name, const char *value,
                        char says[INTERVIEW_SAYS_OCTETS])
{
    struct choosing *choosing = ctx;
    char *end = NULL;
    unsigned long number = strtoul(value, &end, 10);
    (void)name;
    choosing->chosen = number - 1;
    (void)snprintf(says, INTERVIEW_SAYS_OCTETS, "a number from 1 to %zu is expected",
                   choosing->count);
    return end != value && *end == '\0' && number >= 1 && number <= choosing->count;
}

/* Which of several; the first by which texts can go at once is what is usual. */
static bool choose(struct search *search, const struct port_searched *candidates, size_t count)
{
    char usual[24] = "1";
    struct choosing choosing = {.count = count};
    (void)fprintf(search->interview->out, "%zu ports answer; those of one modem do equally well\n",
                  count);
    for (size_t i = count; i-- > 0;) {
        if (modem_next_step(&candidates[i].trial)[0] == '\0') {
            (void)snprintf(usual, sizeof usual, "%zu", i + 1);
        }
    }
    for (size_t i = 0; i < count; i++) {
        const struct trial *trial = &candidates[i].trial;
        char says[MODEM_SAYS_OCTETS];
        (void)fprintf(search->interview->out, "  %zu  %s: %s %s, %s\n", i + 1,
                      port_search_name(&candidates[i].port), trial->maker, trial->model,
                      modem_in_short(trial, says));
    }
    struct interview_question which = {
        .name = "which", .asks = "Which one?", .usual = usual, .fleeting = true};
    if (count > 1 && !interview_ask(search->interview, &which, take_number, &choosing)) {
        return false;
    }
    *search->found = candidates[choosing.chosen];
    return true;
}

/* What is to be done where no port has a modem that takes texts: about the one that talks, else about the
 * one that cannot be had, of which it was said why. */
static const char *step_to_modem(const struct port_searched *candidates, size_t count)
{
    bool there = false;
    for (size_t i = 0; i < count; i++) {
        if (candidates[i].trial.talks) {
            return modem_next_step(&candidates[i].trial);
        }
        there =
            there || (!candidates[i].trial.opened && access(candidates[i].port.name, F_OK) == 0);
    }
    return there ? "free the port as said above"
                 : "plug the modem in, switch it on, and wait a minute";
}

/* What is to be done before one can go on; what is then tried, into candidates. */
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
bool port_search(struct interview *interview, struct port_searched *found)
{
    const char *speed = interview_given(interview, "speed");
    struct search state = {.interview = interview,
                           .found = found,
                           .speed = speed != NULL ? (int32_t)strtol(speed, NULL, 10) : 0},
                  *search = &state;
    search->speed = search->speed > 0 ? search->speed : PORT_SEARCH_SPEED;
    static struct port_searched candidates[PORT_LIST_MAX];
    bool asks = !search->interview->options->yes;
    size_t count = ports_to_try(search, candidates);
    bool none = count == 1 && interview_none(candidates[0].port.name);
    bool named = count == 1;
    while (!none) {
        size_t good = try_all(search, candidates, count);
        if (good > 1 ? !choose(search, candidates, good) : false) {
            return false;
        }
        if (good == 1) {
            *search->found = candidates[0];
        }
        if (good == 0 && named && !asks) { /* it was said, and may come yet */
            search->found->port = candidates[0].port;
        }
        const char *step =
            good > 0 ? modem_next_step(&search->found->trial) : step_to_modem(candidates, count);
        if (step[0] == '\0' || strncmp(search->found->trial.sim, "SIM PIN", 7) == 0) {
            break;
        }
        if (!ask_where(search, step, asks ? "again" : "none")) {
            return false;
        }
        none = interview_none(search->answer);
        if (!none && strcasecmp(search->answer, "again") != 0) {
            candidates[0].port = named_port(search->answer);
            count = 1;
        } else if (!none) {
            count = ports_to_try(search, candidates);
        }
    }
    return true;
}
