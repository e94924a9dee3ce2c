/* SPDX-License-Identifier: MIT
 * watch: see the header. A text needs any one of the three registrations: on LTE alone +CREG may
 * say 0 or 4 while texts flow (TS 27.007 7.2, 10.1.20, 10.1.22). */
#include "daemon/modem/watch.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ground/log.h"
#include "parsers/at_line.h"
#include "parsers/tpdu.h"

/* ---- the modem's clock. The reckoning is that of a service centre's time stamp, which holds the
 * same two-digit fields (TS 23.040 9.2.3.11). */

#define FIELDS 7
#define YEAR_FIRST 20
#define YEAR_LAST 69
#define NEGATIVE 0x08

bool watch_read_clock(const char *text, size_t length, int64_t *unix_s)
{
    char stamp[24];
    uint8_t octets[FIELDS];
    struct tpdu_time time;
    if (at_line_copy(text, length, 0, stamp, sizeof stamp) != 20 ||
        (stamp[17] != '+' && stamp[17] != '-') || stamp[18] > '7') {
        return false;
    }
    /* Two digits at each third place, as octets with their digits exchanged. */
    for (size_t i = 0; i < FIELDS; i++) {
        const char *digits = &stamp[3 * i];
        if (strspn(digits, "0123456789") < 2) {
            return false;
        }
        octets[i] = (uint8_t)((digits[1] - '0') << 4 | (digits[0] - '0'));
    }
    octets[6] = (uint8_t)(octets[6] | (stamp[17] == '-' ? NEGATIVE : 0));
    tpdu_time_read(octets, 0, &time);
    return time.year >= YEAR_FIRST && time.year <= YEAR_LAST && tpdu_time_unix(&time, unix_s);
}

/* ---- the network */

#define ROUND_MS 1800000
#define ROUND_LOST_MS 60000
#define TRIAL_FIRST_MS 600000
#define TRIAL_MS 1800000
/* After a send that failed the SIM is asked for, since it may have gone without a word. */
#define SIM_DOUBT_MS 30000
#define STAT_UNKNOWN (-1)

enum { SIGNAL_UNKNOWN = 99, SIGNAL_MAX = 31 };

/* <stat> of TS 27.007 7.2: how much each is worth. */
static const struct {
    uint8_t worth;
    struct watch_registration registration;
} stats[] = {
    {1, {false, "not registered, and not searching", "is the antenna on, and the SIM in place?"}},
    {9, {true, "registered at home", ""}},
    {4,
     {false, "searching for a network",
      "look at the antenna and the reception where the modem stands"}},
    {3, {false, "the network refuses the SIM", "is the contract active and paid?"}},
    {4, {true, "the modem cannot tell whether it is registered", ""}},
    {8, {true, "registered, roaming", ""}},
    {7, {true, "registered at home, for texts only", ""}},
    {6, {true, "registered for texts only, roaming", ""}},
    {2, {false, "the network allows emergency calls only", "is the contract active and paid?"}},
    {5, {true, "registered at home, texts by the older network not preferred", ""}},
    {5, {true, "registered, roaming, texts by the older network not preferred", ""}},
};
#define STATS ((int32_t)(sizeof stats / sizeof stats[0]))

/* Many do not know +CREG and its kin, or say nothing by them, and texts flow. */
const struct watch_registration *watch_registration(int32_t stat)
{
    static const struct watch_registration untold = {
        true, "the modem does not say whether it is registered", ""};
    return stat >= 0 && stat < STATS ? &stats[stat].registration : &untold;
}

static uint8_t worth(int32_t stat)
{
    return stat >= 0 && stat < STATS ? stats[stat].worth : 0;
}

static bool can_text(int32_t stat)
{
    return watch_registration(stat)->texts;
}

int32_t watch_better(int32_t one, int32_t other)
{
    return worth(other) > worth(one) ? other : one;
}

/* TS 27.007 8.5: 0 to 31 for -113 to -51 dBm. */
int32_t watch_dbm(int32_t rssi)
{
    return rssi >= 0 && rssi <= SIGNAL_MAX ? -113 + 2 * rssi : 0;
}

static void settle(struct watch *watch, struct instant now)
{
    int32_t best = STAT_UNKNOWN;
    for (size_t i = 0; i < WATCH_DOMAINS; i++) {
        best = watch_better(best, watch->stat[i]);
    }
    if (best != watch->health->registration && best != STAT_UNKNOWN) {
        if (can_text(best)) { /* what is wrong, the link says */
            log_info("modem: %s", watch_registration(best)->says);
        }
    }
    watch->health->registration = best;
    if (can_text(best)) {
        watch->trial_ms = CLOCK_NEVER;
    } else if (watch->trial_ms == CLOCK_NEVER) {
        watch->trial_ms = now.mono_ms + TRIAL_FIRST_MS;
    }
}

/* The first questions are those for the domains, in their order. */
static void take_registration(struct watch *watch, const char *text, size_t length)
{
    int32_t stat = STAT_UNKNOWN;
    if (at_line_number(text, length, 1, &stat) || at_line_number(text, length, 0, &stat)) {
        watch->stat[watch->question] = stat;
    }
}

static void take_network(struct watch *watch, const char *text, size_t length)
{
    at_line_copy(text, length, 2, watch->health->network, sizeof watch->health->network);
}

static void take_signal(struct watch *watch, const char *text, size_t length)
{
    int32_t rssi = SIGNAL_UNKNOWN;
    (void)at_line_number(text, length, 0, &rssi);
    watch->health->signal_dbm = watch_dbm(rssi);
}

/* A modem that the network has not told the time says one of its own, mostly of 1980 or 2004, which
 * is refused; whether any other is right is not for the modem's side to judge. */
static void take_clock(struct watch *watch, const char *text, size_t length)
{
    (void)watch_read_clock(text, length, &watch->network_s);
}

static void take_sim(struct watch *watch, const char *text, size_t length)
{
    char words[8];
    (void)at_line_copy(text, length, 0, words, sizeof words);
    watch->sim_open = strcmp(words, "READY") == 0;
}

/* Some answer +CEREG? with the prefix of +CREG. */
static const struct {
    const char *command, *prefix, *also;
    void (*line)(struct watch *watch, const char *text, size_t length);
} questions[] = {
    [WATCH_DOMAIN_CS] = {"AT+CREG?", "+CREG:", NULL, take_registration},
    [WATCH_DOMAIN_PS] = {"AT+CGREG?", "+CGREG:", "+CREG:", take_registration},
    [WATCH_DOMAIN_LTE] = {"AT+CEREG?", "+CEREG:", "+CREG:", take_registration},
    {"AT+COPS?", "+COPS:", NULL, take_network},
    {"AT+CSQ", "+CSQ:", NULL, take_signal},
    {"AT+CCLK?", "+CCLK:", NULL, take_clock},
    [WATCH_SIM] = {"AT+CPIN?", "+CPIN:", NULL, take_sim},
};
#define QUESTIONS WATCH_SIM /* of a round; the SIM is asked for by itself */

void watch_init(struct watch *watch, const struct link_host *host, struct link_health *health)
{
    *watch = (struct watch){.host = host,
                            .health = health,
                            .question = QUESTIONS + 1,
                            .round_ms = CLOCK_NEVER,
                            .trial_ms = CLOCK_NEVER,
                            .sim_ms = CLOCK_NEVER};
    for (size_t i = 0; i < WATCH_DOMAINS; i++) {
        watch->stat[i] = STAT_UNKNOWN;
    }
}

void watch_hurry(struct watch *watch, struct instant now)
{
    if (watch->question >= QUESTIONS) {
        watch->round_ms = now.mono_ms;
    }
}

void watch_start(struct watch *watch, struct instant now)
{
    watch_init(watch, watch->host, watch->health);
    watch->round_ms = now.mono_ms;
}

void watch_news(struct watch *watch, struct instant now, const char *text, size_t length)
{
    size_t domain = WATCH_DOMAINS - 1;
    while (domain > 0 && !at_line_starts(text, length, questions[domain].prefix)) {
        domain--;
    }
    bool could = can_text(watch->health->registration);
    at_line_kind(text, length, &watch->stat[domain]);
    settle(watch, now);
    if (can_text(watch->health->registration) && !could) {
        watch_hurry(watch, now);
    }
}

int64_t watch_send_ms(const struct watch *watch)
{
    return can_text(watch->health->registration) ? 0 : watch->trial_ms;
}

void watch_tried(struct watch *watch, struct instant now)
{
    if (watch->health->sends_failed == 0) {
        watch->sim_ms = CLOCK_NEVER;
    } else if (watch->sim_ms == CLOCK_NEVER) {
        watch->sim_ms = now.mono_ms + SIM_DOUBT_MS;
    }
    if (!can_text(watch->health->registration)) {
        watch->trial_ms = now.mono_ms + TRIAL_MS;
    }
}

const char *watch_says(struct watch *watch)
{
    const struct watch_registration *now = watch_registration(watch->health->registration);
    if (now->texts) {
        return "";
    }
    snprintf(watch->says, sizeof watch->says, "%s; %s", now->says, now->advice);
    return watch->says;
}

static void skip_lacking(struct watch *watch)
{
    while (watch->question < QUESTIONS && (watch->lacking >> watch->question & 1) != 0) {
        watch->question++;
    }
}

static bool next_command(void *ctx, struct instant now, struct chat_command *command)
{
    struct watch *watch = ctx;
    if (now.mono_ms >= watch->round_ms) {
        watch->question = 0;
        watch->round_ms = now.mono_ms + ROUND_MS;
    }
    skip_lacking(watch);
    if (watch->question >= QUESTIONS && now.mono_ms >= watch->sim_ms) {
        watch->question = WATCH_SIM;
        watch->sim_ms = CLOCK_NEVER;
        watch->sim_open = false;
    } else if (watch->question >= QUESTIONS) {
        return false;
    }
    snprintf(command->text, sizeof command->text, "%s", questions[watch->question].command);
    command->prefix = questions[watch->question].prefix;
    command->also = questions[watch->question].also;
    command->wait_ms = CHAT_WAIT_SIM_MS;
    watch->answered = false;
    watch->network_s = 0;
    return true;
}

static void take_line(void *ctx, const char *text, size_t length)
{
    struct watch *watch = ctx;
    watch->answered = true;
    questions[watch->question].line(watch, text, length);
}

static enum finding take_result(void *ctx, struct instant now, const struct chat_result *result)
{
    struct watch *watch = ctx;
    if (watch->question == WATCH_SIM) {
        watch->question = QUESTIONS + 1; /* no round is under way */
        bool told = result->outcome == CHAT_OK || result->outcome == CHAT_CME_ERROR ||
                    result->outcome == CHAT_CMS_ERROR;
        return told && !watch->sim_open ? FINDING_SIM_TROUBLE : FINDING_NONE;
    }
    if (watch->question >= QUESTIONS || result->outcome == CHAT_CUT) {
        return FINDING_NONE;
    }
    if (result->outcome == CHAT_ERROR && !watch->answered) {
        watch->lacking |= UINT32_C(1) << watch->question;
    }
    if (watch->network_s != 0 && watch->host->timed != NULL) {
        watch->host->timed(watch->host->ctx, now, watch->network_s);
    }
    watch->network_s = 0;
    watch->question++;
    skip_lacking(watch);
    if (watch->question >= WATCH_DOMAINS) {
        settle(watch, now);
        bool well = watch_says(watch)[0] == '\0';
        watch->round_ms = now.mono_ms + (well ? ROUND_MS : ROUND_LOST_MS);
    }
    return FINDING_NONE;
}

static int64_t deadline(const void *ctx)
{
    const struct watch *watch = ctx;
    return watch->question < QUESTIONS ? 0 : clock_earlier(watch->round_ms, watch->sim_ms);
}

struct speaker watch_speaker(struct watch *watch)
{
    return (struct speaker){next_command, take_line, take_result, deadline, watch};
}
