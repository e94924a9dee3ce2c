/* SPDX-License-Identifier: MIT
 * setup: see the header. The order of the steps, the counts of tries and the waits are those that
 * are published for common modems and that drivers in the field have settled on: a SIM answers
 * late, so PDU mode is asked for once a second. */
#include "daemon/modem/setup.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ground/log.h"
#include "parsers/at_line.h"

#define CMS_SIM_BUSY 314
#define CME_SIM_BUSY 14
#define STEP_STEP 1 /* until it is done the modem counts as waking */
#define ECHO_STEP 2 /* commands that come back after this one show that the echo stays */

/* How long an answer may take, and the pause before the step is tried again. */
enum pace { PACE_MODEM, PACE_RADIO, PACE_SIM, PACE_SIM_SLOWLY };
static const struct {
    int32_t wait_ms, pause_ms;
} paces[] = {
    [PACE_MODEM] = {CHAT_WAIT_MODEM_MS, 0},       /* the modem answers by itself */
    [PACE_RADIO] = {15000, 1000},                 /* the radio goes on */
    [PACE_SIM] = {CHAT_WAIT_SIM_MS, 1000},        /* the SIM has a say */
    [PACE_SIM_SLOWLY] = {CHAT_WAIT_SIM_MS, 2000}, /* and a whole ladder lies behind the refusal */
};

#define STEP_WAIT_MOST_MS 300000
/* How long each try to wake the modem waits, at the speed in force and then at each of the others: the
 * fewer are under way when a slow one answers, the sooner it has answered them all. */
static const int32_t wakes_ms[] = {1000, 1000, 1000, 1000, 2000, 2000, 4000};
static const int32_t wakes_other_ms[] = {1000, 2000};
#define COUNT(table) ((int32_t)(sizeof(table) / sizeof(table)[0]))
static const int32_t other_speeds[] = {115200, 9600, 57600, 38400, 19200, 230400, 460800};

int32_t setup_other_speed(int32_t turn)
{
    return turn < COUNT(other_speeds) ? other_speeds[turn] : 0;
}

#define WAKE_TRIES (COUNT(wakes_ms) + (1 + COUNT(other_speeds)) * COUNT(wakes_other_ms))

bool setup_is_busy(const struct chat_result *result)
{
    return (result->outcome == CHAT_CMS_ERROR && result->code == CMS_SIM_BUSY) ||
           (result->outcome == CHAT_CME_ERROR && result->code == CME_SIM_BUSY);
}

bool setup_is_passing(const struct chat_result *result)
{
    return setup_is_busy(result) || result->outcome == CHAT_SILENT;
}

/* ---- waking */

void setup_write_waking(int32_t tries, struct chat_command *command)
{
    snprintf(command->text, sizeof command->text, "%s", tries % 4 == 3 ? "ATE0Q0V1" : "AT");
    command->escape_first = tries % 4 == 1;
    command->wait_ms = tries < COUNT(wakes_ms)
                           ? wakes_ms[tries]
                           : wakes_other_ms[(tries - COUNT(wakes_ms)) % COUNT(wakes_other_ms)];
}

/* First at the speed in force, which a modem that only restarted has kept; then at others. */
static enum setup_writing write_waking(struct setup *setup, struct chat_command *command)
{
    int32_t other = setup->tries - COUNT(wakes_ms);
    if (other >= 0 && other % COUNT(wakes_other_ms) == 0) {
        int32_t turn = other / COUNT(wakes_other_ms);
        setup->line->set_speed(setup->line->ctx,
                               turn == 0 ? setup->settings->speed : setup_other_speed(turn - 1));
    }
    setup_write_waking(setup->tries, command);
    return SETUP_WRITING_SEND;
}

static enum setup_verdict judge_waking(struct setup *setup, const struct chat_result *result)
{
    setup->unanswered += result->outcome == CHAT_SILENT ? 1 : 0;
    return result->outcome == CHAT_OK ? SETUP_VERDICT_NEXT : SETUP_VERDICT_AGAIN;
}

/* A modem slower than the tries to wake it still owes the answers to the others: each would be taken
 * for that of the next command. So something is asked whose answer is not like theirs, and comes
 * after them. */
static enum setup_writing write_step(struct setup *setup, struct chat_command *command)
{
    if (setup->unanswered == 0 && !setup->owed) {
        return SETUP_WRITING_SKIP;
    }
    chat_write_probe((uint32_t)setup->tries, command);
    command->escape_first = false;
    if (setup->tries == 0) {
        int64_t one_ms = clock_earlier(setup->spoke_ms - setup->begun_ms, STEP_WAIT_MOST_MS);
        int64_t owed_ms = command->wait_ms + one_ms * (setup->unanswered + 1);
        command->wait_ms = (int32_t)clock_earlier(owed_ms, STEP_WAIT_MOST_MS);
    }
    return SETUP_WRITING_SEND;
}

/* An error with a number is none of the owed ones. */
static enum setup_verdict judge_step(struct setup *setup, const struct chat_result *result)
{
    bool plain = result->outcome == CHAT_ERROR && !result->echoed;
    if ((result->outcome == CHAT_SILENT || plain) && setup->tries + 1 < CHAT_PROBES) {
        return SETUP_VERDICT_AGAIN;
    }
    setup->owed = false;
    return SETUP_VERDICT_NEXT;
}

/* ---- what it is */

static void keep_maker(struct setup *setup, const char *text, size_t length)
{
    at_line_copy(text, length, 0, setup->health->maker, sizeof setup->health->maker);
}

static void keep_model(struct setup *setup, const char *text, size_t length)
{
    at_line_copy(text, length, 0, setup->health->model, sizeof setup->health->model);
}

static void keep_firmware(struct setup *setup, const char *text, size_t length)
{
    struct link_health *health = setup->health;
    at_line_copy(text, length, 0, health->firmware, sizeof health->firmware);
    log_info("modem: %s %s, firmware %s", health->maker, health->model, health->firmware);
}

static void keep_function(struct setup *setup, const char *text, size_t length)
{
    if (!at_line_number(text, length, 0, &setup->function)) {
        setup->function = -1;
    }
}

/* 0 is the least function, 4 is flight mode: neither can text. Other values are left alone. */
static enum setup_writing write_function(struct setup *setup, struct chat_command *command)
{
    (void)command;
    if (setup->function != 0 && setup->function != 4) {
        return SETUP_WRITING_SKIP;
    }
    log_notice("modem: its radio was switched off: it is switched on");
    return SETUP_WRITING_SEND;
}

/* ---- the memory that texts are kept in (+CPMS, TS 27.005 3.2.2: mem1 is read and deleted from,
 * mem2 written to, mem3 received into). The SIM comes first: it keeps its texts through a power
 * cut, a modem's own memory not always. */

#define MEMORY_FORMS 3
#define MEMORY_TRIES 3

void setup_name_memory(char out[SETUP_MEMORY_OCTETS], const char *name)
{
    snprintf(out, SETUP_MEMORY_OCTETS, "%.2s", name);
}

static void add_memory(struct setup *setup, const char *name)
{
    struct setup_found *found = &setup->found;
    if (found->memory_count < SETUP_MEMORIES_MAX) {
        setup_name_memory(found->memories[found->memory_count], name);
        found->memory_count++;
    }
}

/* "MT" is the two together, and of use only where they are not offered by themselves. */
static void keep_memories(struct setup *setup, const char *text, size_t length)
{
    static const char *const names[] = {"SM", "ME", "MT", "SR"};
    setup->found.memory_count = 0;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        bool together = strcmp(names[i], "MT") == 0;
        if (at_line_names(text, length, 0, names[i]) &&
            !(together && setup->found.memory_count > 0)) {
            add_memory(setup, names[i]);
        }
    }
}

/* Some answer with a list that cannot be read, or with none. */
static enum setup_verdict judge_memories(struct setup *setup, const struct chat_result *result)
{
    if (setup_is_passing(result) && setup->tries + 1 < MEMORY_TRIES) {
        return SETUP_VERDICT_AGAIN;
    }
    if (setup->found.memory_count == 0) {
        add_memory(setup, "SM");
        add_memory(setup, "ME");
    }
    return SETUP_VERDICT_NEXT;
}

/* Some take all three at once, some two, some one. */
static enum setup_writing write_memory(struct setup *setup, struct chat_command *command)
{
    const char *name = setup->found.memories[setup->memory];
    int used = snprintf(command->text, sizeof command->text, "AT+CPMS=\"%s\"", name);
    for (int more = setup->memory_form + 1; more < MEMORY_FORMS; more++) {
        used +=
            snprintf(command->text + used, sizeof command->text - (size_t)used, ",\"%s\"", name);
    }
    return SETUP_WRITING_SEND;
}

static void keep_storage(struct setup *setup, const char *text, size_t length)
{
    struct setup_found *found = &setup->found;
    if (!at_line_number(text, length, 0, &found->storage_used) ||
        !at_line_number(text, length, 1, &found->storage_total)) {
        found->storage_used = found->storage_total = -1;
    }
}

static void use_memory(struct setup *setup)
{
    struct setup_found *found = &setup->found;
    char chosen[SETUP_MEMORY_OCTETS];
    memcpy(chosen, found->memories[setup->memory], sizeof chosen);
    memcpy(found->memories[setup->memory], found->memories[0], sizeof chosen);
    memcpy(found->memories[0], chosen, sizeof chosen);
    log_info("modem: texts are kept in %s, %d of %d places taken", chosen, (int)found->storage_used,
             (int)found->storage_total);
}

/* To the next form, then to the next memory; false after the last. */
static bool try_another(struct setup *setup, bool refused)
{
    if (refused && setup->memory_form + 1 < MEMORY_FORMS) {
        setup->memory_form++;
        return true;
    }
    setup->memory_form = 0;
    setup->memory++;
    if (setup->memory < setup->found.memory_count) {
        return true;
    }
    setup->memory = 0;
    return false;
}

/* A SIM without room for texts says so by a total of 0. */
static enum setup_verdict judge_memory(struct setup *setup, const struct chat_result *result)
{
    bool taken = result->outcome == CHAT_OK;
    if (taken && setup->found.storage_total != 0) {
        use_memory(setup);
        return SETUP_VERDICT_NEXT;
    }
    setup->found.storage_used = setup->found.storage_total = -1;
    if (setup_is_passing(result)) {
        return SETUP_VERDICT_AGAIN;
    }
    if (try_another(setup, !taken)) {
        return SETUP_VERDICT_REPEAT;
    }
    if (setup->tries + 1 >= MEMORY_TRIES) {
        log_info("modem: it offers no choice of memory");
        setup->found.memory_count = 0;
        setup_name_memory(setup->found.memories[0], "");
        return SETUP_VERDICT_NEXT;
    }
    return SETUP_VERDICT_AGAIN;
}

/* ---- how texts go out */

static void keep_centre(struct setup *setup, const char *text, size_t length)
{
    struct setup_found *found = &setup->found;
    found->no_centre = at_line_copy(text, length, 0, found->centre, sizeof found->centre) == 0;
    if (!found->no_centre) {
        log_info("modem: service centre %s", found->centre);
    }
}

/* The configured one; where the SIM has none, the one by which a text came. */
static const char *wanted_centre(const struct setup *setup)
{
    const char *configured = setup->settings->centre;
    return configured[0] != '\0' || !setup->found.no_centre ? configured
                                                            : setup->health->centre_seen;
}

static enum setup_writing write_centre(struct setup *setup, struct chat_command *command)
{
    const char *wanted = wanted_centre(setup);
    if (wanted[0] == '\0' || strcmp(wanted, setup->found.centre) == 0) {
        return SETUP_WRITING_SKIP;
    }
    /* TS 24.011 8.2.5.2: 145 international, 129 not known. */
    snprintf(command->text, sizeof command->text, "AT+CSCA=\"%s\",%d", wanted,
             wanted[0] == '+' ? 145 : 129);
    return SETUP_WRITING_SEND;
}

static enum setup_verdict judge_centre(struct setup *setup, const struct chat_result *result)
{
    if (result->outcome != CHAT_OK) {
        return SETUP_VERDICT_AGAIN;
    }
    setup->found.no_centre = false;
    log_notice("modem: the service centre is set to %s", wanted_centre(setup));
    return SETUP_VERDICT_NEXT;
}

static void say_bearer(struct setup *setup, const char *text, size_t length)
{
    static const char *const bearers[] = {"packet only", "circuit only", "packet first",
                                          "circuit first"};
    int32_t bearer = -1;
    (void)setup;
    if (at_line_number(text, length, 0, &bearer) && bearer >= 0 && bearer < 4) {
        log_info("modem: texts go out by %s", bearers[bearer]);
    }
}

/* ---- the steps, in their order */

static const struct step {
    const char *name; /* for the log */
    const char *command;
    const char *prefix; /* of the information; "" bare; NULL none */
    enum pace pace;
    int32_t tries;
    bool must; /* no texts without it; modems that lack the others work */
    /* Where the command has to be made, or is not always sent. */
    enum setup_writing (*write)(struct setup *setup, struct chat_command *command);
    void (*line)(struct setup *setup, const char *text, size_t length);
    /* NULL: OK is NEXT, all else AGAIN */
    enum setup_verdict (*judge)(struct setup *setup, const struct chat_result *result);
} steps[] = {
    {"waking", "AT", NULL, PACE_MODEM, .tries = WAKE_TRIES, .write = write_waking,
     .judge = judge_waking},
    {"being in step", NULL, NULL, PACE_MODEM, .tries = CHAT_PROBES, .write = write_step,
     .judge = judge_step},
    {"echo off", "ATE0", NULL, PACE_MODEM, .tries = 2},
    {"results in words", "ATV1", NULL, PACE_MODEM, .tries = 2},
    {"results on", "ATQ0", NULL, PACE_MODEM, .tries = 2},
    {"numeric errors", "AT+CMEE=1", NULL, PACE_MODEM, .tries = 2},
    {"maker", "AT+CGMI", "", PACE_MODEM, .tries = 1, .line = keep_maker},
    {"model", "AT+CGMM", "", PACE_MODEM, .tries = 1, .line = keep_model},
    {"firmware", "AT+CGMR", "", PACE_MODEM, .tries = 1, .line = keep_firmware},
    /* A UART that sleeps is mute after minutes. */
    {"sleep off", "AT+CSCLK=0", NULL, PACE_MODEM, .tries = 1},
    {"function", "AT+CFUN?", "+CFUN:", PACE_MODEM, .tries = 2, .line = keep_function},
    {"full function", "AT+CFUN=1", NULL, PACE_RADIO, .tries = 2, .write = write_function},
    {"SIM", "AT+CPIN?", "+CPIN:", PACE_SIM, .tries = 30, .line = setup_keep_sim,
     .judge = setup_judge_sim},
    {"PIN", NULL, NULL, PACE_SIM, .tries = 1, .must = true, .write = setup_write_pin,
     .judge = setup_judge_pin},
    {"SIM open", "AT+CPIN?", "+CPIN:", PACE_SIM, .tries = 30, .must = true,
     .write = setup_write_sim_again, .line = setup_keep_sim, .judge = setup_judge_sim_again},
    {"PDU mode", "AT+CMGF=0", NULL, PACE_SIM, .tries = 10, .must = true},
    {"memories", "AT+CPMS=?", "+CPMS:", PACE_SIM, .tries = MEMORY_TRIES, .line = keep_memories,
     .judge = judge_memories},
    {"memory", NULL, "+CPMS:", PACE_SIM, .tries = MEMORY_TRIES, .write = write_memory,
     .line = keep_storage, .judge = judge_memory},
    {"service", "AT+CSMS?", "+CSMS:", PACE_MODEM, .tries = 1, .line = setup_keep_service},
    {"indications listed", "AT+CNMI=?", "+CNMI:", PACE_MODEM, .tries = 1,
     .line = setup_keep_indications},
    {"indications", NULL, NULL, PACE_SIM_SLOWLY, .tries = 3, .write = setup_write_indications,
     .judge = setup_judge_indications},
    {"receipts", NULL, NULL, PACE_MODEM, .tries = 1, .write = setup_write_service,
     .judge = setup_judge_service},
    {"service centre", "AT+CSCA?", "+CSCA:", PACE_SIM, .tries = 2, .line = keep_centre},
    {"setting the service centre", NULL, NULL, PACE_SIM, .tries = 2, .write = write_centre,
     .judge = judge_centre},
    {"bearer", "AT+CGSMS?", "+CGSMS:", PACE_MODEM, .tries = 1, .line = say_bearer},
    /* The modem's clock follows the network's time (TS 27.007 8.40); it is read by the watch. */
    {"network's time", "AT+CTZU=1", NULL, PACE_MODEM, .tries = 1},
    {"registration news", "AT+CREG=1", NULL, PACE_MODEM, .tries = 1},
    {"packet registration news", "AT+CGREG=1", NULL, PACE_MODEM, .tries = 1},
    {"LTE registration news", "AT+CEREG=1", NULL, PACE_MODEM, .tries = 1},
    {"network's name", "AT+COPS=3,0", NULL, PACE_MODEM, .tries = 1},
};
#define STEPS (sizeof steps / sizeof steps[0])

/* ---- the walk through them */

void setup_init(struct setup *setup, const struct link_settings *settings,
                const struct port_line *line, struct link_health *health)
{
    *setup = (struct setup){.settings = settings, .line = line, .health = health};
}

void setup_start(struct setup *setup, bool owed, struct instant now)
{
    setup_init(setup, setup->settings, setup->line, setup->health);
    setup->owed = owed;
    setup->found.storage_used = setup->found.storage_total = setup->function = -1;
    setup->found.service = -1;
    setup->not_before_ms = setup->begun_ms = now.mono_ms;
}

static bool is_going(const struct setup *setup)
{
    return setup->state == SETUP_STATE_WAKING || setup->state == SETUP_STATE_GOING;
}

static void go_on(struct setup *setup)
{
    setup->step++;
    setup->tries = 0;
    if (setup->step > STEP_STEP) {
        setup->state = setup->step < STEPS ? SETUP_STATE_GOING : SETUP_STATE_DONE;
    }
}

static bool next_command(void *ctx, struct instant now, struct chat_command *command)
{
    struct setup *setup = ctx;
    while (is_going(setup) && now.mono_ms >= setup->not_before_ms) {
        const struct step *step = &steps[setup->step];
        setup->spoke_ms = now.mono_ms;
        *command =
            (struct chat_command){.prefix = step->prefix, .wait_ms = paces[step->pace].wait_ms};
        if (step->command != NULL) {
            snprintf(command->text, sizeof command->text, "%s", step->command);
        }
        switch (step->write != NULL ? step->write(setup, command) : SETUP_WRITING_SEND) {
        case SETUP_WRITING_SKIP:
            go_on(setup);
            break;
        case SETUP_WRITING_FAULT:
            setup->state = SETUP_STATE_FAULT;
            break;
        case SETUP_WRITING_SEND:
            return true;
        }
    }
    return false;
}

static void take_line(void *ctx, const char *text, size_t length)
{
    struct setup *setup = ctx;
    if (is_going(setup) && steps[setup->step].line != NULL) {
        steps[setup->step].line(setup, text, length);
    }
}

/* All tries are used up. */
static void give_up(struct setup *setup)
{
    const struct step *step = &steps[setup->step];
    if (setup->state == SETUP_STATE_WAKING) {
        setup->state = SETUP_STATE_DEAF;
    } else if (step->must) {
        snprintf(setup->says, sizeof setup->says,
                 "the modem refuses %s: it is started anew; if that does not help, switch it off "
                 "and on",
                 step->name);
        setup->state = SETUP_STATE_STUCK;
    } else {
        log_info("modem: goes on without %s", step->name);
        go_on(setup);
    }
}

static enum finding take_result(void *ctx, struct instant now, const struct chat_result *result)
{
    struct setup *setup = ctx;
    if (!is_going(setup)) {
        return FINDING_NONE;
    }
    if (result->echoed && setup->step > ECHO_STEP) {
        setup->found.echo_stays = true;
    }
    const struct step *step = &steps[setup->step];
    enum setup_verdict verdict =
        result->outcome == CHAT_OK ? SETUP_VERDICT_NEXT : SETUP_VERDICT_AGAIN;
    if (step->judge != NULL) {
        verdict = step->judge(setup, result);
    }
    switch (verdict) {
    case SETUP_VERDICT_NEXT:
        go_on(setup);
        break;
    case SETUP_VERDICT_AGAIN:
        setup->tries++;
        setup->not_before_ms = now.mono_ms + paces[step->pace].pause_ms;
        if (setup->tries >= step->tries) {
            give_up(setup);
        }
        break;
    case SETUP_VERDICT_BACK:
        setup->step--;
        setup->tries = 0;
        setup->not_before_ms = now.mono_ms + paces[step->pace].pause_ms;
        break;
    case SETUP_VERDICT_REPEAT:
        break;
    case SETUP_VERDICT_FAULT:
        setup->state = SETUP_STATE_FAULT;
        break;
    }
    return FINDING_NONE;
}

static int64_t deadline(const void *ctx)
{
    const struct setup *setup = ctx;
    return is_going(setup) ? setup->not_before_ms : CLOCK_NEVER;
}

struct speaker setup_speaker(struct setup *setup)
{
    return (struct speaker){next_command, take_line, take_result, deadline, setup};
}
