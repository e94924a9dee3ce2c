/* SPDX-License-Identifier: MIT
 * sim_steps: the set-up's steps for the SIM (TS 27.007 8.3). A PIN is sent only where one is asked
 * for: sent unasked it counts as wrong on some modems. A SIM answers late after power-up, so
 * "none" and "busy" are believed only after a while. */
#include "daemon/modem/setup_step.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ground/log.h"
#include "daemon/modem/pin.h"
#include "parsers/at_line.h"

#define BELIEVED_AFTER_TRIES 20
#define CME_NO_SIM 10
#define CME_SIM_PIN 11
#define CME_SIM_PUK 12
#define CMS_NO_SIM 310

void setup_keep_sim(struct setup *setup, const char *text, size_t length)
{
    at_line_copy(text, length, 0, setup->sim, sizeof setup->sim);
}

static bool asks_for_pin(const struct setup *setup)
{
    return strcmp(setup->sim, "SIM PIN") == 0;
}

static enum setup_verdict fault_no_sim(struct setup *setup)
{
    return setup_fault(setup, "no SIM in the modem: switch it off, put the SIM in, and look that "
                              "it sits firmly and the right way up");
}

static enum setup_verdict fault_puk(struct setup *setup)
{
    return setup_fault(setup, "the SIM is locked and asks for its PUK: open it in a phone with the "
                              "PUK of the card it came on");
}

/* +CPIN: <code> came, other than SIM PIN. PIN2 and PUK2 do not matter for texts. */
static enum setup_verdict judge_words(struct setup *setup)
{
    if (strcmp(setup->sim, "SIM PUK") == 0) {
        return fault_puk(setup);
    }
    if (strncmp(setup->sim, "PH-", 3) == 0) {
        return setup_fault(setup, "the modem is locked to another SIM or network: unlock it, or "
                                  "use the SIM it belongs to");
    }
    if (strncmp(setup->sim, "NOT", 3) == 0) {
        return setup->tries + 1 < BELIEVED_AFTER_TRIES ? SETUP_VERDICT_AGAIN : fault_no_sim(setup);
    }
    log_info("modem: the SIM is open");
    pin_proved(setup->settings->pin_mark);
    return SETUP_VERDICT_NEXT;
}

static enum setup_verdict judge_error(struct setup *setup, const struct chat_result *result)
{
    bool cme = result->outcome == CHAT_CME_ERROR;
    if (cme && result->code == CME_SIM_PIN) {
        snprintf(setup->sim, sizeof setup->sim, "SIM PIN");
        return SETUP_VERDICT_NEXT;
    }
    if (cme && result->code == CME_SIM_PUK) {
        return fault_puk(setup);
    }
    if (setup->tries + 1 < BELIEVED_AFTER_TRIES || !(cme || result->outcome == CHAT_CMS_ERROR)) {
        return SETUP_VERDICT_AGAIN;
    }
    if (result->code == CME_NO_SIM || result->code == CMS_NO_SIM) {
        return fault_no_sim(setup);
    }
    return setup_fault(setup, "the SIM does not answer: switch the modem off, take the SIM out, "
                              "wipe it, put it back");
}

enum setup_verdict setup_judge_sim(struct setup *setup, const struct chat_result *result)
{
    if (result->outcome != CHAT_OK) {
        return judge_error(setup, result);
    }
    if (setup->sim[0] == '\0') {
        return SETUP_VERDICT_AGAIN;
    }
    return asks_for_pin(setup) ? SETUP_VERDICT_NEXT : judge_words(setup);
}

enum setup_writing setup_write_pin(struct setup *setup, char *out, size_t size)
{
    char pin[PIN_OCTETS];
    if (!asks_for_pin(setup)) {
        return SETUP_WRITING_SKIP;
    }
    if (!pin_take(setup->settings->pin_file, setup->settings->pin_mark, pin, setup->says,
                  sizeof setup->says)) {
        return SETUP_WRITING_FAULT;
    }
    log_notice("modem: the SIM's PIN is tried");
    snprintf(out, size, "AT+CPIN=\"%s\"", pin);
    return SETUP_WRITING_SEND;
}

enum setup_verdict setup_judge_pin(struct setup *setup, const struct chat_result *result)
{
    if (result->outcome == CHAT_OK) {
        return SETUP_VERDICT_NEXT;
    }
    return setup_fault(setup, "the SIM refused its PIN: correct modem.pin_file. The same one is "
                              "not tried again, since three wrong ones lock the SIM");
}

enum setup_writing setup_write_sim_again(struct setup *setup, char *out, size_t size)
{
    snprintf(out, size, "AT+CPIN?");
    return asks_for_pin(setup) ? SETUP_WRITING_SEND : SETUP_WRITING_SKIP;
}

enum setup_verdict setup_judge_sim_again(struct setup *setup, const struct chat_result *result)
{
    if (result->outcome == CHAT_OK && !asks_for_pin(setup)) {
        return judge_words(setup);
    }
    return SETUP_VERDICT_AGAIN;
}
