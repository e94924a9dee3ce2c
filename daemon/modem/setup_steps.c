/* SPDX-License-Identifier: MIT
 * setup_steps: the set-up's table, and the functions of its shorter rows. The order, the counts of
 * tries and the waits are those that are published for common modems and that drivers in the field
 * have settled on: a SIM answers late, so PDU mode is asked for once a second. */
#include "daemon/modem/setup_step.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ground/log.h"
#include "parsers/at_line.h"

#define SHORT_WAIT_MS 5000
#define SIM_WAIT_MS 10000 /* for what the SIM has a say in */
#define WAKE_WAIT_MS 1000
#define WAKE_TRIES_FIRST 12
#define WAKE_TRIES_OTHER 3
#define CMS_SIM_BUSY 314
#define CME_SIM_BUSY 14

/* After the configured one. */
static const int32_t other_speeds[] = {115200, 9600, 57600, 38400, 19200, 230400, 460800};
#define OTHER_SPEEDS ((int32_t)(sizeof other_speeds / sizeof other_speeds[0]))
#define WAKE_TRIES (WAKE_TRIES_FIRST + (1 + OTHER_SPEEDS) * WAKE_TRIES_OTHER)

enum setup_verdict setup_fault(struct setup *setup, const char *says)
{
    snprintf(setup->says, sizeof setup->says, "%s", says);
    return SETUP_VERDICT_FAULT;
}

bool setup_is_passing(const struct chat_result *result)
{
    return (result->outcome == CHAT_CMS_ERROR && result->code == CMS_SIM_BUSY) ||
           (result->outcome == CHAT_CME_ERROR && result->code == CME_SIM_BUSY) ||
           result->outcome == CHAT_SILENT;
}

/* First at the speed in force, which a modem that only restarted has kept; then at others. By turns
 * plain, and with the words and results that an earlier user may have switched off. */
static enum setup_writing write_wake(struct setup *setup, char *out, size_t size)
{
    int32_t other = setup->tries - WAKE_TRIES_FIRST;
    if (other >= 0 && other % WAKE_TRIES_OTHER == 0) {
        int32_t turn = other / WAKE_TRIES_OTHER;
        setup->line->set_speed(setup->line->ctx,
                               turn == 0 ? setup->settings->speed : other_speeds[turn - 1]);
    }
    snprintf(out, size, "%s", setup->tries % 4 == 3 ? "ATE0Q0V1" : "AT");
    return SETUP_WRITING_SEND;
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
static enum setup_writing write_function(struct setup *setup, char *out, size_t size)
{
    bool off = setup->function == 0 || setup->function == 4;
    if (off) {
        log_notice("modem: its radio was switched off: it is switched on");
    }
    snprintf(out, size, "AT+CFUN=1");
    return off ? SETUP_WRITING_SEND : SETUP_WRITING_SKIP;
}

static void keep_indications(struct setup *setup, const char *text, size_t length)
{
    indications_read(&setup->indications, text, length);
}

static enum setup_writing write_indications(struct setup *setup, char *out, size_t size)
{
    return indications_command(&setup->indications, out, size) ? SETUP_WRITING_SEND
                                                               : SETUP_WRITING_SKIP;
}

static enum setup_verdict judge_indications(struct setup *setup, const struct chat_result *result)
{
    if (result->outcome == CHAT_OK) {
        setup->found.way = indications_way(&setup->indications);
        log_info("modem: new texts are %s",
                 setup->found.way == INDICATIONS_WAY_DIRECT ? "handed on directly" : "announced");
        return SETUP_VERDICT_NEXT;
    }
    if (setup_is_passing(result)) {
        return SETUP_VERDICT_AGAIN;
    }
    indications_refused(&setup->indications);
    if (indications_way(&setup->indications) != INDICATIONS_WAY_NONE) {
        return SETUP_VERDICT_REPEAT;
    }
    indications_restart(&setup->indications);
    return SETUP_VERDICT_AGAIN;
}

/* +CNMA, and with it the right to hold a text back until it is on disk, comes with phase 2+. */
static enum setup_writing write_service(struct setup *setup, char *out, size_t size)
{
    if (setup->found.way == INDICATIONS_WAY_NONE) {
        log_warnx("modem: it announces no texts: its memory is looked through every 20 s");
    }
    snprintf(out, size, "AT+CSMS=1");
    return setup->found.way == INDICATIONS_WAY_DIRECT ? SETUP_WRITING_SEND : SETUP_WRITING_SKIP;
}

static enum setup_verdict judge_service(struct setup *setup, const struct chat_result *result)
{
    setup->found.acknowledged = result->outcome == CHAT_OK;
    if (!setup->found.acknowledged) {
        log_warnx("modem: it hands texts on without waiting for a receipt: a power cut at that "
                  "moment loses one");
    }
    return SETUP_VERDICT_NEXT;
}

static void keep_centre(struct setup *setup, const char *text, size_t length)
{
    char centre[32];
    setup->found.no_centre = at_line_copy(text, length, 0, centre, sizeof centre) == 0;
    if (!setup->found.no_centre) {
        log_info("modem: service centre %s", centre);
    }
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

const struct setup_step setup_steps[] = {
    {.name = "waking", .write = write_wake, .wait_ms = WAKE_WAIT_MS, .tries = WAKE_TRIES},
    {.name = "echo off",
     .command = "ATE0",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 2,
     .need = SETUP_NEED_MAY},
    {.name = "results in words",
     .command = "ATV1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 2,
     .need = SETUP_NEED_MAY},
    {.name = "results on",
     .command = "ATQ0",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 2,
     .need = SETUP_NEED_MAY},
    {.name = "numeric errors",
     .command = "AT+CMEE=1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 2,
     .need = SETUP_NEED_MAY},
    {.name = "maker",
     .command = "AT+CGMI",
     .prefix = "",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY,
     .line = keep_maker},
    {.name = "model",
     .command = "AT+CGMM",
     .prefix = "",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY,
     .line = keep_model},
    {.name = "firmware",
     .command = "AT+CGMR",
     .prefix = "",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY,
     .line = keep_firmware},
    /* A UART that sleeps is mute after minutes. */
    {.name = "sleep off",
     .command = "AT+CSCLK=0",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY},
    {.name = "function",
     .command = "AT+CFUN?",
     .prefix = "+CFUN:",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 2,
     .need = SETUP_NEED_MAY,
     .line = keep_function},
    {.name = "full function",
     .write = write_function,
     .wait_ms = 15000,
     .tries = 2,
     .pause_ms = 1000,
     .need = SETUP_NEED_MAY},
    {.name = "SIM",
     .command = "AT+CPIN?",
     .prefix = "+CPIN:",
     .wait_ms = SIM_WAIT_MS,
     .tries = 30,
     .pause_ms = 1000,
     .need = SETUP_NEED_MAY,
     .line = setup_keep_sim,
     .judge = setup_judge_sim},
    {.name = "PIN",
     .write = setup_write_pin,
     .wait_ms = SIM_WAIT_MS,
     .tries = 1,
     .secret = true,
     .judge = setup_judge_pin},
    {.name = "SIM open",
     .write = setup_write_sim_again,
     .prefix = "+CPIN:",
     .wait_ms = SIM_WAIT_MS,
     .tries = 30,
     .pause_ms = 1000,
     .line = setup_keep_sim,
     .judge = setup_judge_sim_again},
    {.name = "PDU mode",
     .command = "AT+CMGF=0",
     .wait_ms = SIM_WAIT_MS,
     .tries = 10,
     .pause_ms = 1000},
    {.name = "memories",
     .command = "AT+CPMS=?",
     .prefix = "+CPMS:",
     .wait_ms = SIM_WAIT_MS,
     .tries = 3,
     .pause_ms = 1000,
     .need = SETUP_NEED_MAY,
     .line = setup_keep_memories,
     .judge = setup_judge_memories},
    {.name = "memory",
     .write = setup_write_memory,
     .prefix = "+CPMS:",
     .wait_ms = SIM_WAIT_MS,
     .tries = 3,
     .pause_ms = 1000,
     .need = SETUP_NEED_MAY,
     .line = setup_keep_storage,
     .judge = setup_judge_memory},
    {.name = "indications listed",
     .command = "AT+CNMI=?",
     .prefix = "+CNMI:",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY,
     .line = keep_indications},
    {.name = "indications",
     .write = write_indications,
     .wait_ms = SIM_WAIT_MS,
     .tries = 3,
     .pause_ms = 2000,
     .need = SETUP_NEED_MAY,
     .judge = judge_indications},
    {.name = "receipts",
     .write = write_service,
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY,
     .judge = judge_service},
    {.name = "service centre",
     .command = "AT+CSCA?",
     .prefix = "+CSCA:",
     .wait_ms = SIM_WAIT_MS,
     .tries = 2,
     .pause_ms = 1000,
     .need = SETUP_NEED_MAY,
     .line = keep_centre},
    {.name = "bearer",
     .command = "AT+CGSMS?",
     .prefix = "+CGSMS:",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY,
     .line = say_bearer},
    /* The modem's clock follows the network's time (TS 27.007 8.40); it is read by the watch. */
    {.name = "network's time",
     .command = "AT+CTZU=1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY},
    {.name = "registration news",
     .command = "AT+CREG=1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY},
    {.name = "packet registration news",
     .command = "AT+CGREG=1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY},
    {.name = "LTE registration news",
     .command = "AT+CEREG=1",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY},
    {.name = "network's name",
     .command = "AT+COPS=3,0",
     .wait_ms = SHORT_WAIT_MS,
     .tries = 1,
     .need = SETUP_NEED_MAY},
};
const size_t setup_step_count = sizeof setup_steps / sizeof setup_steps[0];
