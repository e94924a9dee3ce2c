/* SPDX-License-Identifier: MIT
 * setup: see the header. The order, the counts of tries and the waits are those that are published
 * for common modems and that drivers in the field have settled on: a SIM answers late, so PDU mode
 * and storage are asked for once a second; a PIN is asked for before it is given. */
#include "daemon/modem/setup.h"

#include <stdio.h>
#include <string.h>

#include "daemon/log.h"
#include "daemon/modem/pin.h"
#include "parsers/at_line.h"

#define SHORT_WAIT_MS 5000
#define WAKE_TRIES_FIRST 12
#define WAKE_TRIES_OTHER 3
#define CMS_SIM_BUSY 314
#define CME_NO_SIM 10
#define CME_SIM_PIN 11
#define CME_SIM_BUSY 14

enum verdict {
    VERDICT_NEXT,   /* on with the next step */
    VERDICT_AGAIN,  /* once more after the step's pause, while tries are left */
    VERDICT_REPEAT, /* at once, with what the step has changed: no try is counted */
    VERDICT_FAULT   /* says holds what a person has to do */
};

enum writing { WRITING_SEND, WRITING_SKIP, WRITING_FAULT };

enum need {
    NEED_MUST, /* no texts without it */
    NEED_MAY   /* modems that lack it work */
};

struct step {
    const char *name;    /* for the log */
    const char *command; /* NULL: written by write */
    enum writing (*write)(struct setup *setup, char *out, size_t size);
    const char *prefix; /* of the information; "" bare; NULL none */
    int32_t wait_ms;
    int32_t tries;
    int32_t pause_ms;
    enum need need;
    void (*line)(struct setup *setup, const char *text, size_t length);
    enum verdict (*judge)(struct setup *setup, const struct chat_result *result);
};

static const int32_t other_speeds[] = {115200, 9600, 57600, 38400, 19200, 230400, 460800};
#define OTHER_SPEEDS (sizeof other_speeds / sizeof other_speeds[0])
#define WAKE_TRIES (WAKE_TRIES_FIRST + (int32_t)OTHER_SPEEDS * WAKE_TRIES_OTHER)

/* By turns plain, and with the words and results that an earlier user may have switched off. */
static enum writing write_wake(struct setup *setup, char *out, size_t size)
{
    int32_t other = setup->tries - WAKE_TRIES_FIRST;
    if (other >= 0 && other % WAKE_TRIES_OTHER == 0) {
        setup->line->set_speed(setup->line->ctx, other_speeds[other / WAKE_TRIES_OTHER]);
    }
    snprintf(out, size, "%s", setup->tries % 4 == 3 ? "ATE0Q0V1" : "AT");
    return WRITING_SEND;
}

static enum verdict judge_wake(struct setup *setup, const struct chat_result *result)
{
    (void)setup;
    return result->outcome == CHAT_OK ? VERDICT_NEXT : VERDICT_AGAIN;
}

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
    at_line_copy(text, length, 0, setup->health->firmware, sizeof setup->health->firmware);
}

static void keep_function(struct setup *setup, const char *text, size_t length)
{
    if (!at_line_number(text, length, 0, &setup->function)) {
        setup->function = -1;
    }
}

/* 0 is the least function, 4 is flight mode: neither can text. Other values are left alone. */
static enum writing write_function(struct setup *setup, char *out, size_t size)
{
    snprintf(out, size, "AT+CFUN=1");
    return setup->function == 0 || setup->function == 4 ? WRITING_SEND : WRITING_SKIP;
}

static void keep_sim(struct setup *setup, const char *text, size_t length)
{
    at_line_copy(text, length, 0, setup->sim, sizeof setup->sim);
}

static enum verdict fault(struct setup *setup, const char *says)
{
    snprintf(setup->says, sizeof setup->says, "%s", says);
    return VERDICT_FAULT;
}

static enum verdict judge_sim_words(struct setup *setup)
{
    if (strcmp(setup->sim, "SIM PUK") == 0) {
        return fault(setup, "the SIM is locked and asks for its PUK: open it in a phone with the "
                            "PUK from the card it came on");
    }
    if (strncmp(setup->sim, "PH-", 3) == 0) {
        return fault(setup, "the modem is locked to another SIM or network: unlock it, or use "
                            "the SIM it belongs to");
    }
    if (strncmp(setup->sim, "NOT", 3) == 0) {
        return VERDICT_AGAIN;
    }
    if (strcmp(setup->sim, "READY") == 0 || strstr(setup->sim, "PIN2") != NULL ||
        strstr(setup->sim, "PUK2") != NULL) {
        log_info("modem: the SIM is open");
        pin_proved(setup->settings->pin_mark);
    }
    return VERDICT_NEXT;
}

static enum verdict judge_sim(struct setup *setup, const struct chat_result *result)
{
    bool numbered = result->outcome == CHAT_CME_ERROR || result->outcome == CHAT_CMS_ERROR;
    if (result->outcome == CHAT_OK && setup->sim[0] != '\0') {
        return judge_sim_words(setup);
    }
    if (result->outcome == CHAT_CME_ERROR && result->code == CME_SIM_PIN) {
        snprintf(setup->sim, sizeof setup->sim, "SIM PIN");
        return VERDICT_NEXT;
    }
    if (numbered && setup->tries + 1 >= 20) {
        return fault(setup, result->code == CME_NO_SIM
                                ? "no SIM in the modem: put one in, contacts down, and look that "
                                  "it sits firmly"
                                : "the SIM does not answer: take it out, clean it, put it back");
    }
    return VERDICT_AGAIN;
}

static enum writing write_pin(struct setup *setup, char *out, size_t size)
{
    char pin[PIN_OCTETS];
    if (strcmp(setup->sim, "SIM PIN") != 0) {
        return WRITING_SKIP;
    }
    if (!pin_take(setup->settings->pin_file, setup->settings->pin_mark, pin, setup->says,
                  sizeof setup->says)) {
        return WRITING_FAULT;
    }
    snprintf(out, size, "AT+CPIN=\"%s\"", pin);
    return WRITING_SEND;
}

static enum verdict judge_pin(struct setup *setup, const struct chat_result *result)
{
    if (result->outcome != CHAT_OK) {
        return fault(setup, "the SIM refused its PIN: correct modem.pin_file. It is not tried "
                            "again, since three wrong ones lock the SIM");
    }
    return VERDICT_NEXT;
}

static enum writing write_sim_again(struct setup *setup, char *out, size_t size)
{
    bool sent = strcmp(setup->sim, "SIM PIN") == 0;
    snprintf(out, size, "AT+CPIN?");
    return sent ? WRITING_SEND : WRITING_SKIP;
}

static enum verdict judge_sim_again(struct setup *setup, const struct chat_result *result)
{
    if (result->outcome == CHAT_OK && strcmp(setup->sim, "SIM PIN") != 0) {
        return judge_sim_words(setup);
    }
    return VERDICT_AGAIN;
}

static void add_memory(struct setup *setup, const char *name)
{
    struct setup_found *found = &setup->found;
    if (found->memory_count < SETUP_MEMORIES_MAX) {
        snprintf(found->memories[found->memory_count], SETUP_MEMORY_OCTETS, "%s", name);
        found->memory_count++;
    }
}

/* The SIM first: it keeps its texts through a power cut, a modem's own memory not always. */
static void keep_memories(struct setup *setup, const char *text, size_t length)
{
    static const char *const names[] = {"SM", "ME", "SR"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (at_line_names(text, length, 0, names[i])) {
            add_memory(setup, names[i]);
        }
    }
}

static enum verdict judge_memories(struct setup *setup, const struct chat_result *result)
{
    if (result->outcome == CHAT_CMS_ERROR && result->code == CMS_SIM_BUSY) {
        return VERDICT_AGAIN;
    }
    if (setup->found.memory_count == 0) {
        add_memory(setup, "SM");
        add_memory(setup, "ME");
    }
    return VERDICT_NEXT;
}

/* Some take one memory only, some two (mem1 reads, mem2 writes, mem3 receives). */
static enum writing write_memory(struct setup *setup, char *out, size_t size)
{
    static const char *const forms[] = {"AT+CPMS=\"%s\",\"%s\",\"%s\"", "AT+CPMS=\"%s\",\"%s\"",
                                        "AT+CPMS=\"%s\""};
    const char *name = setup->found.memories[setup->memory];
    switch (setup->memory_form) {
    case 0:
        snprintf(out, size, forms[0], name, name, name);
        break;
    case 1:
        snprintf(out, size, forms[1], name, name);
        break;
    default:
        snprintf(out, size, forms[2], name);
        break;
    }
    return WRITING_SEND;
}

static void keep_storage(struct setup *setup, const char *text, size_t length)
{
    struct setup_found *found = &setup->found;
    if (!at_line_number(text, length, 0, &found->storage_used) ||
        !at_line_number(text, length, 1, &found->storage_total)) {
        found->storage_used = found->storage_total = -1;
    }
}

static void use_memory(struct setup *setup, size_t index)
{
    char chosen[SETUP_MEMORY_OCTETS];
    struct setup_found *found = &setup->found;
    memcpy(chosen, found->memories[index], sizeof chosen);
    memcpy(found->memories[index], found->memories[0], sizeof chosen);
    memcpy(found->memories[0], chosen, sizeof chosen);
    log_info("modem: texts are kept in %s, %d of %d places taken", chosen, (int)found->storage_used,
             (int)found->storage_total);
}

static enum verdict judge_memory(struct setup *setup, const struct chat_result *result)
{
    bool usable = setup->found.storage_total != 0;
    if (result->outcome == CHAT_OK && usable) {
        use_memory(setup, setup->memory);
        return VERDICT_NEXT;
    }
    if ((result->outcome == CHAT_CMS_ERROR && result->code == CMS_SIM_BUSY) ||
        (result->outcome == CHAT_CME_ERROR && result->code == CME_SIM_BUSY) ||
        result->outcome == CHAT_SILENT) {
        return VERDICT_AGAIN;
    }
    setup->found.storage_total = -1;
    if (setup->memory_form < 2 && result->outcome != CHAT_OK) {
        setup->memory_form++;
        return VERDICT_REPEAT;
    }
    setup->memory_form = 0;
    setup->memory++;
    if (setup->memory < setup->found.memory_count) {
        return VERDICT_REPEAT;
    }
    setup->memory = 0;
    return VERDICT_AGAIN;
}

static void keep_indications(struct setup *setup, const char *text, size_t length)
{
    indications_read(&setup->indications, text, length);
}

/* +CNMA, and with it the right to hand a text on only once it is on disk, comes with phase 2+. */
static enum writing write_service(struct setup *setup, char *out, size_t size)
{
    snprintf(out, size, "AT+CSMS=1");
    return setup->found.way == INDICATIONS_WAY_DIRECT ? WRITING_SEND : WRITING_SKIP;
}

static enum verdict judge_service(struct setup *setup, const struct chat_result *result)
{
    setup->found.acknowledged = result->outcome == CHAT_OK;
    if (!setup->found.acknowledged) {
        log_warnx("modem: it hands texts on without waiting for a receipt: a power cut at that "
                  "moment loses one");
    }
    return VERDICT_NEXT;
}

static enum writing write_indications(struct setup *setup, char *out, size_t size)
{
    return indications_command(&setup->indications, out, size) ? WRITING_SEND : WRITING_SKIP;
}

static enum verdict judge_indications(struct setup *setup, const struct chat_result *result)
{
    setup->found.way = indications_way(&setup->indications);
    if (result->outcome == CHAT_OK) {
        log_info("modem: new texts are %s",
                 setup->found.way == INDICATIONS_WAY_DIRECT ? "handed on directly" : "announced");
        return VERDICT_NEXT;
    }
    bool busy = (result->outcome == CHAT_CMS_ERROR && result->code == CMS_SIM_BUSY) ||
                result->outcome == CHAT_SILENT;
    if (busy) {
        return VERDICT_AGAIN;
    }
    indications_refused(&setup->indications);
    enum indications_way way = indications_way(&setup->indications);
    if (way == INDICATIONS_WAY_NONE) {
        indications_init(&setup->indications);
        setup->found.way = INDICATIONS_WAY_NONE;
        return VERDICT_AGAIN;
    }
    return VERDICT_REPEAT;
}

static void say_centre(struct setup *setup, const char *text, size_t length)
{
    char centre[32];
    (void)setup;
    if (at_line_copy(text, length, 0, centre, sizeof centre) == 0) {
        log_warnx("modem: the SIM has no service centre number: texts cannot be sent until "
                  "AT+CSCA sets it (the network's help desk knows it)");
    } else {
        log_info("modem: service centre %s", centre);
    }
}

static void say_clock(struct setup *setup, const char *text, size_t length)
{
    char stamp[40];
    (void)setup;
    at_line_copy(text, length, 0, stamp, sizeof stamp);
    log_info("modem: its clock says %s", stamp);
}

static const struct step steps[] = {
    {.name = "waking",
     .write = write_wake,
     .wait_ms = 1000,
     .tries = WAKE_TRIES,
     .need = NEED_MUST,
     .judge = judge_wake},
    {.name = "echo off", .command = "ATE0", .wait_ms = SHORT_WAIT_MS, .tries = 2, .need = NEED_MAY},
    {.name = "results in words",
     .command = "ATV1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 2,
     .need = NEED_MAY},
    {.name = "results on",
     .command = "ATQ0",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 2,
     .need = NEED_MAY},
    {.name = "numeric errors",
     .command = "AT+CMEE=1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 2,
     .need = NEED_MAY},
    {.name = "maker",
     .command = "AT+CGMI",
     .prefix = "",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = NEED_MAY,
     .line = keep_maker},
    {.name = "model",
     .command = "AT+CGMM",
     .prefix = "",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = NEED_MAY,
     .line = keep_model},
    {.name = "firmware",
     .command = "AT+CGMR",
     .prefix = "",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = NEED_MAY,
     .line = keep_firmware},
    {.name = "function",
     .command = "AT+CFUN?",
     .prefix = "+CFUN:",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 2,
     .need = NEED_MAY,
     .line = keep_function},
    {.name = "full function",
     .write = write_function,
     .wait_ms = 15000,
     .tries = 2,
     .pause_ms = 1000,
     .need = NEED_MAY},
    {.name = "SIM",
     .command = "AT+CPIN?",
     .prefix = "+CPIN:",
     .wait_ms = 10000,
     .tries = 30,
     .pause_ms = 1000,
     .need = NEED_MAY,
     .line = keep_sim,
     .judge = judge_sim},
    {.name = "PIN",
     .write = write_pin,
     .wait_ms = 10000,
     .tries = 1,
     .need = NEED_MUST,
     .judge = judge_pin},
    {.name = "SIM open",
     .write = write_sim_again,
     .prefix = "+CPIN:",
     .wait_ms = 10000,
     .tries = 30,
     .pause_ms = 1000,
     .need = NEED_MAY,
     .line = keep_sim,
     .judge = judge_sim_again},
    {.name = "PDU mode",
     .command = "AT+CMGF=0",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 10,
     .pause_ms = 1000,
     .need = NEED_MUST},
    {.name = "memories",
     .command = "AT+CPMS=?",
     .prefix = "+CPMS:",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 5,
     .pause_ms = 1000,
     .need = NEED_MAY,
     .line = keep_memories,
     .judge = judge_memories},
    {.name = "memory",
     .write = write_memory,
     .prefix = "+CPMS:",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 3,
     .pause_ms = 1000,
     .need = NEED_MAY,
     .line = keep_storage,
     .judge = judge_memory},
    {.name = "indications listed",
     .command = "AT+CNMI=?",
     .prefix = "+CNMI:",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = NEED_MAY,
     .line = keep_indications},
    {.name = "indications",
     .write = write_indications,
     .wait_ms = SHORT_WAIT_MS,
     .tries = 3,
     .pause_ms = 2000,
     .need = NEED_MAY,
     .judge = judge_indications},
    {.name = "receipts",
     .write = write_service,
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = NEED_MAY,
     .judge = judge_service},
    {.name = "service centre",
     .command = "AT+CSCA?",
     .prefix = "+CSCA:",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 2,
     .pause_ms = 1000,
     .need = NEED_MAY,
     .line = say_centre},
    {.name = "clock",
     .command = "AT+CCLK?",
     .prefix = "+CCLK:",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = NEED_MAY,
     .line = say_clock},
    {.name = "registration news",
     .command = "AT+CREG=1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = NEED_MAY},
    {.name = "packet registration news",
     .command = "AT+CGREG=1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = NEED_MAY},
    {.name = "LTE registration news",
     .command = "AT+CEREG=1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = NEED_MAY},
    {.name = "network's name",
     .command = "AT+COPS=3,0",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = NEED_MAY},
};
#define STEPS (sizeof steps / sizeof steps[0])

void setup_init(struct setup *setup, const struct link_settings *settings,
                const struct port_line *line, struct link_health *health)
{
    *setup = (struct setup){.settings = settings, .line = line, .health = health};
}

void setup_start(struct setup *setup, struct instant now)
{
    setup->state = SETUP_STATE_WAKING;
    setup->says[0] = '\0';
    setup->found = (struct setup_found){.storage_used = -1, .storage_total = -1};
    setup->step = 0;
    setup->tries = 0;
    setup->not_before_ms = now.mono_ms;
    indications_init(&setup->indications);
    setup->sim[0] = '\0';
    setup->function = -1;
    setup->memory = setup->memory_form = 0;
}

static void go_on(struct setup *setup)
{
    setup->step++;
    setup->tries = 0;
    setup->state = setup->step < STEPS ? SETUP_STATE_GOING : SETUP_STATE_DONE;
}

static enum writing write_step(struct setup *setup, char *out, size_t size)
{
    const struct step *step = &steps[setup->step];
    if (step->write != NULL) {
        return step->write(setup, out, size);
    }
    snprintf(out, size, "%s", step->command);
    return WRITING_SEND;
}

static bool is_going(const struct setup *setup)
{
    return setup->state == SETUP_STATE_WAKING || setup->state == SETUP_STATE_GOING;
}

static bool next_command(void *ctx, struct instant now, struct chat_command *command)
{
    struct setup *setup = ctx;
    while (is_going(setup) && now.mono_ms >= setup->not_before_ms) {
        const struct step *step = &steps[setup->step];
        switch (write_step(setup, command->text, sizeof command->text)) {
        case WRITING_SKIP:
            go_on(setup);
            continue;
        case WRITING_FAULT:
            setup->state = SETUP_STATE_FAULT;
            return false;
        case WRITING_SEND:
            break;
        }
        command->prefix = step->prefix;
        command->wait_ms = step->wait_ms;
        command->secret = step->judge == judge_pin;
        command->escape_first = setup->state == SETUP_STATE_WAKING && setup->tries % 4 == 1;
        return true;
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
    } else if (step->need == NEED_MUST) {
        snprintf(setup->says, sizeof setup->says, "the modem refuses %s: switch it off and on",
                 step->name);
        setup->state = SETUP_STATE_STUCK;
    } else {
        log_info("modem: goes on without %s", step->name);
        go_on(setup);
    }
}

static enum verdict judge(struct setup *setup, const struct chat_result *result)
{
    const struct step *step = &steps[setup->step];
    if (step->judge != NULL) {
        return step->judge(setup, result);
    }
    return result->outcome == CHAT_OK ? VERDICT_NEXT : VERDICT_AGAIN;
}

static void take_result(void *ctx, struct instant now, const struct chat_result *result)
{
    struct setup *setup = ctx;
    if (!is_going(setup)) {
        return;
    }
    switch (judge(setup, result)) {
    case VERDICT_NEXT:
        go_on(setup);
        break;
    case VERDICT_AGAIN:
        setup->tries++;
        setup->not_before_ms = now.mono_ms + steps[setup->step].pause_ms;
        if (setup->tries >= steps[setup->step].tries) {
            give_up(setup);
        }
        break;
    case VERDICT_REPEAT:
        break;
    case VERDICT_FAULT:
        setup->state = SETUP_STATE_FAULT;
        break;
    }
}

static int64_t deadline(const void *ctx)
{
    const struct setup *setup = ctx;
    return is_going(setup) ? setup->not_before_ms : CLOCK_NEVER;
}

struct speaker setup_speaker(struct setup *setup)
{
    return (struct speaker){.next = next_command,
                            .line = take_line,
                            .done = take_result,
                            .deadline_ms = deadline,
                            .ctx = setup};
}
