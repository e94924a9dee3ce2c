/* SPDX-License-Identifier: MIT
 * heed: what the link makes of what the modem says. */
#include "daemon/ground/log.h"
#include "daemon/modem/link_inside.h"
#include "parsers/at_line.h"

#define PROBES_MAX 3

static bool is_ready(const struct link *link)
{
    return link->health.state == LINK_STATE_READY;
}

static void heed_intake(struct link *link)
{
    struct intake_signs signs = link->intake.signs;
    bool list_refused = link->intake.sweep.refused;
    link->intake.signs = (struct intake_signs){.text_mode = false};
    link->intake.sweep.refused = false;
    if (!is_ready(link)) {
        return;
    }
    if (signs.text_mode || list_refused) {
        link_restart_soon(link, "it has lost its settings");
    } else if (signs.indications_lost) {
        link_restart_soon(link, "it may have stopped handing texts on");
    } else if (signs.unannounced && link->setup.found.way != INDICATIONS_WAY_NONE) {
        link_restart_soon(link, "a text came unannounced");
    }
}

static void heed_boot(struct link *link, enum at_kind kind)
{
    if (link->health.state == LINK_STATE_SETUP && link->setup.state == SETUP_STATE_WAKING) {
        return; /* all is still to be asked */
    }
    link_restart_soon(link, kind == AT_KIND_BOOT ? "it has restarted" : "the SIM went");
}

static void take_news(void *ctx, enum at_kind kind, const char *text, size_t length,
                      const char *pdu)
{
    struct link *link = ctx;
    int32_t code = -1;
    switch (kind) {
    case AT_KIND_CMTI:
    case AT_KIND_CDSI:
        intake_announced(&link->intake, link->now, text, length);
        break;
    case AT_KIND_CMT:
    case AT_KIND_CDS:
        intake_direct(&link->intake, link->now, text, length, pdu);
        heed_intake(link);
        break;
    case AT_KIND_REGISTRATION:
        at_line_kind(text, length, &code);
        watch_news(&link->watch, link->now, text, length, code);
        break;
    case AT_KIND_BOOT:
    case AT_KIND_SIM_GONE:
        heed_boot(link, kind);
        break;
    case AT_KIND_MEMORY_FULL:
        log_warnx("modem: its memory for texts is full: it is emptied");
        intake_full(&link->intake, link->now);
        break;
    case AT_KIND_CBM:
    case AT_KIND_RING:
    case AT_KIND_OTHER:
    case AT_KIND_HEX:
    case AT_KIND_OK:
    case AT_KIND_ERROR:
    case AT_KIND_CMS_ERROR:
    case AT_KIND_CME_ERROR:
        break;
    }
}

static void take_line(void *ctx, const char *text, size_t length)
{
    struct link *link = ctx;
    int32_t format = 0;
    if (link->errand == LINK_ERRAND_PROBE) {
        link->text_mode = at_line_number(text, length, 0, &format) && format != 0;
    } else if (link->speaker != NULL && link->speaker->line != NULL) {
        link->speaker->line(link->speaker->ctx, text, length);
    }
}

/* Whether both sides are in step again is asked with a command whose answer cannot be mistaken for
 * that of an earlier one. */
static void begin_probe(struct link *link)
{
    log_notice("modem: no answer in time: it is asked whether it hears");
    link->errand = LINK_ERRAND_PROBE;
    link->probes = 0;
    link->text_mode = false;
}

static void end_probe(struct link *link, const struct chat_result *result)
{
    if (result->outcome == CHAT_SILENT && !result->informed) {
        link->probes++;
        if (link->probes >= PROBES_MAX) {
            link_give_up(link, "the modem has stopped answering: its port is opened anew");
        }
        return;
    }
    link->errand = LINK_ERRAND_NONE;
    if (link->text_mode && link->health.state != LINK_STATE_SETUP) {
        link_restart_soon(link, "it has left PDU mode");
    }
    if (is_ready(link)) {
        intake_sweep(&link->intake, link->now);
    }
}

static void end_errand(struct link *link, const struct chat_result *result)
{
    if (link->errand == LINK_ERRAND_PROBE) {
        end_probe(link, result);
    } else {
        link->errand = LINK_ERRAND_NONE;
        link_give_up(link, link->setup.says);
    }
}

static void heed_dispatch(struct link *link)
{
    struct dispatch_signs signs = link->dispatch.signs;
    link->dispatch.signs = (struct dispatch_signs){.sim_trouble = false};
    if (signs.sim_trouble) {
        link_restart_soon(link, "the SIM does not serve");
    } else if (signs.keeps_refusing) {
        link_restart_soon(link, "it refuses to send");
    }
    if (signs.memory_full) {
        intake_full(&link->intake, link->now);
    }
    if (signs.network_lost) {
        watch_hurry(&link->watch, link->now);
    }
}

static void heed_signs(struct link *link, const struct speaker *speaker,
                       const struct chat_result *result)
{
    if (speaker == &link->speakers[LINK_SPEAKER_DISPATCH]) {
        watch_tried(&link->watch, link->now);
    }
    heed_intake(link);
    heed_dispatch(link);
    /* A modem that restarts without a word is known by its echo, which is on again. */
    if (result->echoed && !link->setup.found.echo_stays) {
        link_restart_soon(link, "its echo is on again");
    }
}

static void take_result(void *ctx, const struct chat_result *result)
{
    struct link *link = ctx;
    const struct speaker *speaker = link->speaker;
    link->speaker = NULL;
    if (speaker == NULL) {
        if (result->outcome != CHAT_CUT && link->errand != LINK_ERRAND_NONE) {
            end_errand(link, result);
        }
        return;
    }
    bool waking = link->setup.state == SETUP_STATE_WAKING;
    speaker->done(speaker->ctx, link->now, result);
    if (is_ready(link)) {
        heed_signs(link, speaker, result);
    }
    if (result->outcome == CHAT_SILENT && !waking) {
        begin_probe(link);
    }
}

struct chat_listener heed_listener(struct link *link)
{
    return (struct chat_listener){
        .line = take_line, .done = take_result, .news = take_news, .ctx = link};
}
