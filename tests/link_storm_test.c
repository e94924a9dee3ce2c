/* SPDX-License-Identifier: MIT
 * The link in a storm: a small modem that goes wrong at random, again and again, in every way it
 * knows, while texts come in and go out. The laws, whatever the order:
 *   - nothing is deleted from the modem that the house does not have;
 *   - once the storm is over, all texts are in the house and the modem is empty, within a bound;
 *   - each part given is told of once; what is told as taken went out, what is told as to be tried
 *     again did not;
 *   - the link always rests, and always has a next deadline or a command under way.
 * A run that fails prints its seed; METERPOST_STORM=SEED plays that one alone. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/modem/link.h"
#include "daemon/modem/port.h"

#define RUNS 150
#define TEXTS 12
#define PARTS 6
#define SLOTS 5
#define STORM_MS (4 * 3600 * INT64_C(1000))
/* After it: a mute modem found by the sweep, a set-up, the retries of what was to be sent. */
#define CALM_MS (30 * 60 * INT64_C(1000))

struct text {
    bool in_modem, in_house;
    int slot;
};

struct storm {
    unsigned int seed;
    struct link *link;
    struct instant now;
    const char *fault; /* NULL while all laws hold */
    /* the line */
    bool there, open;
    char heard[8192];
    size_t heard_count, heard_read;
    /* the modem */
    bool raging, echo, pdu_mode, announces, mute;
    int prompt; /* the length asked for; 0 none open */
    char typed[600];
    size_t typed_count;
    int slots[SLOTS]; /* index of the text, -1 free */
    char later[2048]; /* what it says at later_ms */
    size_t later_count;
    int64_t later_ms;
    struct text texts[TEXTS];
    int text_count;
    /* the house */
    int part_given; /* id of the part out, 0 none */
    bool part_went; /* in this try */
    int parts_left;
    int told;
    int64_t part_ms; /* the next one not before */
};

static int roll(struct storm *storm, int sides)
{
    return (int)((unsigned int)rand_r(&storm->seed) >> 4) % sides;
}

static bool strikes(struct storm *storm, int one_in)
{
    return storm->raging && roll(storm, one_in) == 0;
}

static void break_law(struct storm *storm, const char *law)
{
    if (storm->fault == NULL) {
        storm->fault = law;
    }
}

/* ---- the modem */

static void emit_now(struct storm *storm, const char *octets, size_t count)
{
    for (size_t i = 0; i < count && storm->heard_count < sizeof storm->heard; i++) {
        if (!strikes(storm, 400)) { /* else the octet is lost */
            storm->heard[storm->heard_count] = octets[i];
            storm->heard_count++;
        }
    }
}

static void emit(struct storm *storm, const char *text)
{
    size_t count = strlen(text);
    if (storm->mute || count > sizeof storm->later - storm->later_count) {
        return;
    }
    if (storm->later_count == 0) {
        storm->later_ms =
            storm->now.mono_ms + (strikes(storm, 20) ? roll(storm, 40000) : roll(storm, 50));
    }
    memcpy(storm->later + storm->later_count, text, count);
    storm->later_count += count;
}

static void answer(struct storm *storm, const char *text)
{
    char line[800];
    if (strikes(storm, 60)) {
        return; /* lost */
    }
    snprintf(line, sizeof line, "\r\n%s\r\n", text);
    emit(storm, line);
    if (strikes(storm, 25)) {
        emit(storm, roll(storm, 2) == 0 ? "\r\n^RSSI: 9\r\n" : "\r\n+CREG: 1\r\n");
    }
}

static void restart_modem(struct storm *storm, bool with_banner)
{
    storm->echo = true;
    storm->pdu_mode = storm->announces = storm->mute = false;
    storm->prompt = 0;
    storm->typed_count = storm->later_count = 0;
    if (with_banner) {
        emit(storm, "\r\nRDY\r\n\r\n+CPIN: READY\r\n");
    }
}

static void pdu_of(int text, char *out, size_t size)
{
    snprintf(out, size, "07912143658709F1040B918100551512F200041110102143650004%08X", text);
}

static void read_slot(struct storm *storm, int slot)
{
    char line[200], pdu[100];
    if (slot < 0 || slot >= SLOTS || storm->slots[slot] < 0) {
        answer(storm, "+CMS ERROR: 321");
        return;
    }
    pdu_of(storm->slots[slot], pdu, sizeof pdu);
    if (storm->pdu_mode) {
        snprintf(line, sizeof line, "+CMGR: 0,,%zu\r\n%s", strlen(pdu) / 2 - 8, pdu);
    } else {
        snprintf(line, sizeof line, "+CMGR: \"REC UNREAD\",\"+12065550110\",,\"x\"\r\nOK then");
    }
    answer(storm, line);
    answer(storm, "OK");
}

static void delete_slot(struct storm *storm, int slot)
{
    if (slot < 0 || slot >= SLOTS || strikes(storm, 20)) {
        answer(storm, "+CMS ERROR: 320");
        return;
    }
    int text = storm->slots[slot];
    if (text >= 0) {
        if (!storm->texts[text].in_house) {
            break_law(storm, "a text was deleted that the house does not have");
        }
        storm->texts[text].in_modem = false;
        storm->slots[slot] = -1;
    }
    answer(storm, "OK");
}

static void list_slots(struct storm *storm)
{
    char line[200], pdu[100];
    if (!storm->pdu_mode) {
        answer(storm, "ERROR");
        return;
    }
    for (int slot = 0; slot < SLOTS; slot++) {
        if (storm->slots[slot] >= 0) {
            pdu_of(storm->slots[slot], pdu, sizeof pdu);
            snprintf(line, sizeof line, "+CMGL: %d,1,,%zu\r\n%s", slot, strlen(pdu) / 2 - 8, pdu);
            answer(storm, line);
        }
    }
    answer(storm, "OK");
}

static void obey(struct storm *storm, const char *command)
{
    int number = 0;
    if (strikes(storm, 80)) {
        answer(storm, roll(storm, 2) == 0 ? "ERROR" : "+CMS ERROR: 314");
    } else if (strcmp(command, "ATE0") == 0) {
        storm->echo = false;
        answer(storm, "OK");
    } else if (strcmp(command, "AT+CMGF=0") == 0) {
        storm->pdu_mode = true;
        answer(storm, "OK");
    } else if (strcmp(command, "AT+CMGF?") == 0) {
        answer(storm, storm->pdu_mode ? "+CMGF: 0" : "+CMGF: 1");
        answer(storm, "OK");
    } else if (strncmp(command, "AT+CNMI=2", 9) == 0) {
        storm->announces = true;
        answer(storm, "OK");
    } else if (sscanf(command, "AT+CMGR=%d", &number) == 1) {
        read_slot(storm, number);
    } else if (sscanf(command, "AT+CMGD=%d", &number) == 1) {
        delete_slot(storm, number);
    } else if (strcmp(command, "AT+CMGL=4") == 0) {
        list_slots(storm);
    } else if (sscanf(command, "AT+CMGS=%d", &number) == 1) {
        storm->prompt = number;
        if (!strikes(storm, 10)) {
            emit(storm, "\r\n> ");
        }
    } else if (strncmp(command, "AT+CPIN?", 8) == 0) {
        answer(storm, "+CPIN: READY");
        answer(storm, "OK");
    } else if (strcmp(command, "AT+CREG?") == 0) {
        answer(storm, "+CREG: 1,1");
        answer(storm, "OK");
    } else {
        answer(storm, strncmp(command, "AT+CP", 5) == 0 ? "ERROR" : "OK");
    }
}

static void end_prompt(struct storm *storm, char last)
{
    storm->prompt = 0;
    storm->typed_count = 0;
    if (last == 0x1B) {
        answer(storm, "OK");
    } else if (strikes(storm, 8)) {
        answer(storm, "+CMS ERROR: 42");
    } else if (!storm->pdu_mode) {
        answer(storm, "ERROR");
    } else {
        storm->part_went = true;
        answer(storm, "+CMGS: 77");
        answer(storm, "OK");
    }
}

static void hear_octet(struct storm *storm, char octet)
{
    if (storm->prompt > 0) {
        if (octet == 0x1A || octet == 0x1B) {
            end_prompt(storm, octet);
        }
        return;
    }
    if (storm->echo) {
        char text[2] = {octet, '\0'};
        emit(storm, text);
    }
    if (octet != '\r') {
        if ((unsigned char)octet >= ' ' && storm->typed_count + 1 < sizeof storm->typed) {
            storm->typed[storm->typed_count] = octet;
            storm->typed_count++;
        }
        return;
    }
    storm->typed[storm->typed_count] = '\0';
    storm->typed_count = 0;
    if (strncmp(storm->typed, "AT", 2) == 0 && !strikes(storm, 60)) {
        obey(storm, storm->typed);
    }
}

static void text_comes(struct storm *storm)
{
    char line[40];
    if (storm->text_count == TEXTS) {
        return;
    }
    for (int slot = 0; slot < SLOTS; slot++) {
        if (storm->slots[slot] < 0) {
            int text = storm->text_count;
            storm->text_count++;
            storm->texts[text] = (struct text){.in_modem = true, .slot = slot};
            storm->slots[slot] = text;
            snprintf(line, sizeof line, "\r\n+CMTI: \"SM\",%d\r\n", slot);
            if (storm->announces && !strikes(storm, 4)) {
                emit(storm, line);
            }
            return;
        }
    }
}

/* ---- the line */

static bool open_line(void *ctx, const char *name, int32_t speed, char *says, size_t size)
{
    struct storm *storm = ctx;
    (void)name;
    (void)speed;
    snprintf(says, size, "not there");
    storm->open = storm->there;
    return storm->open;
}

static bool set_speed(void *ctx, int32_t speed)
{
    (void)ctx;
    return speed > 0;
}

static void close_line(void *ctx)
{
    struct storm *storm = ctx;
    storm->open = false;
    storm->heard_count = storm->heard_read = 0;
}

static ssize_t read_line(void *ctx, uint8_t *out, size_t size)
{
    struct storm *storm = ctx;
    size_t left = storm->heard_count - storm->heard_read;
    size_t count = left < size ? left : size;
    memcpy(out, storm->heard + storm->heard_read, count);
    storm->heard_read += count;
    return storm->there ? (ssize_t)count : -1;
}

static ssize_t write_line(void *ctx, const uint8_t *octets, size_t count)
{
    struct storm *storm = ctx;
    if (!storm->there) {
        return -1;
    }
    for (size_t i = 0; i < count; i++) {
        if (!storm->mute) {
            hear_octet(storm, (char)octets[i]);
        }
    }
    return (ssize_t)count;
}

static int line_descriptor(void *ctx)
{
    struct storm *storm = ctx;
    return storm->open ? 0 : -1;
}

/* ---- the house */

static bool keep_text(void *ctx, const struct link_arrival *arrival)
{
    struct storm *storm = ctx;
    unsigned int text = TEXTS;
    size_t length = strlen(arrival->hex);
    if (strikes(storm, 15)) {
        return false; /* the disk is full */
    }
    if (arrival->error == TPDU_OK && length > 8 &&
        sscanf(arrival->hex + length - 8, "%8X", &text) == 1 && text < TEXTS) {
        storm->texts[text].in_house = true;
    }
    return true;
}

static bool give_part(void *ctx, struct instant now, struct part *out, int64_t *next_ms)
{
    struct storm *storm = ctx;
    *next_ms = storm->parts_left > 0 ? storm->part_ms : CLOCK_NEVER;
    if (storm->parts_left == 0 || now.mono_ms < storm->part_ms) {
        return false;
    }
    if (storm->part_given != 0) {
        break_law(storm, "a part is asked for before the last one was told of");
    }
    storm->part_given = storm->parts_left;
    storm->part_went = false;
    *out = (struct part){
        .id = storm->part_given,
        .line = {.hex = "0011000B916407281553F80000AA0AE8329BFD4697D9EC37", .tpdu_octets = 23}};
    return true;
}

static void note_sent(void *ctx, struct instant now, const struct part_result *result)
{
    struct storm *storm = ctx;
    if (result->part_id != storm->part_given) {
        break_law(storm, "a part is told of that was not given");
    }
    if (result->fate == PART_FATE_TAKEN && !storm->part_went) {
        break_law(storm, "told as taken, yet it did not go");
    }
    if (result->fate == PART_FATE_RETRY && storm->part_went) {
        break_law(storm, "told to be tried again, yet it went");
    }
    if (result->fate == PART_FATE_TAKEN || result->fate == PART_FATE_REFUSED) {
        storm->parts_left--;
    }
    storm->part_given = 0;
    storm->part_ms = now.mono_ms + result->retry_after_ms;
    storm->told++;
}

/* ---- time */

static void let_link_run(struct storm *storm)
{
    for (int i = 0; i < 10000; i++) {
        bool readable = storm->open && storm->heard_read < storm->heard_count;
        if (readable) {
            link_ready(storm->link, POLLIN, storm->now);
        } else if (link_deadline_ms(storm->link) <= storm->now.mono_ms) {
            link_due(storm->link, storm->now);
        } else {
            storm->heard_count = storm->heard_read = 0;
            return;
        }
    }
    break_law(storm, "the link never rests");
}

static void strike(struct storm *storm)
{
    switch (roll(storm, 12)) {
    case 0:
        restart_modem(storm, true);
        break;
    case 1:
        restart_modem(storm, false);
        break;
    case 2:
        storm->mute = true;
        break;
    case 3:
        emit_now(storm, "\x80\r\n>~\r", 6);
        break;
    case 4:
        storm->there = false;
        link_ready(storm->link, POLLHUP, storm->now);
        break;
    case 5:
        restart_modem(storm, roll(storm, 2) == 0);
        storm->there = true;
        break;
    case 6:
        storm->mute = false;
        break;
    default:
        text_comes(storm);
        break;
    }
}

static void advance(struct storm *storm, int64_t to_ms)
{
    storm->now.wall_s += (to_ms - storm->now.mono_ms) / 1000;
    storm->now.mono_ms = to_ms;
}

/* One step: to the link's deadline, the modem's answer, or the next stroke. */
static void step(struct storm *storm, int64_t *stroke_ms)
{
    int64_t to_ms = link_deadline_ms(storm->link);
    to_ms = *stroke_ms < to_ms ? *stroke_ms : to_ms;
    if (storm->later_count > 0 && storm->later_ms < to_ms) {
        to_ms = storm->later_ms;
    }
    advance(storm, to_ms > storm->now.mono_ms ? to_ms : storm->now.mono_ms);
    if (storm->later_count > 0 && storm->now.mono_ms >= storm->later_ms) {
        size_t count = storm->later_count;
        storm->later_count = 0;
        if (storm->open) {
            emit_now(storm, storm->later, count);
        }
    }
    if (storm->now.mono_ms >= *stroke_ms) {
        *stroke_ms = storm->now.mono_ms + 1000 + roll(storm, 400000);
        strike(storm);
    }
    let_link_run(storm);
}

static bool all_is_well(const struct storm *storm)
{
    for (int i = 0; i < storm->text_count; i++) {
        if (!storm->texts[i].in_house || storm->texts[i].in_modem) {
            return false;
        }
    }
    return storm->parts_left == 0 && link_health(storm->link)->state == LINK_STATE_READY;
}

static void rage(struct storm *storm)
{
    int64_t stroke_ms = 60000, never_ms = CLOCK_NEVER;
    storm->raging = true;
    while (storm->fault == NULL && storm->now.mono_ms < STORM_MS) {
        step(storm, &stroke_ms);
    }
    storm->raging = storm->mute = false;
    storm->there = true;
    while (storm->text_count < TEXTS && storm->fault == NULL) {
        int before = storm->text_count;
        text_comes(storm);
        if (before == storm->text_count) {
            break;
        }
    }
    while (storm->fault == NULL && !all_is_well(storm)) {
        if (storm->now.mono_ms > STORM_MS + CALM_MS) {
            break_law(storm, "not all is well in time after the storm");
        }
        step(storm, &never_ms);
    }
}

static const char *play(struct storm *storm, unsigned int seed)
{
    static const struct link_settings settings = {"", "/dev/modem",    115200,
                                                  "", "/nowhere/mark", ""};
    *storm = (struct storm){.seed = seed, .there = true, .echo = true, .parts_left = PARTS};
    storm->now = (struct instant){1000, 1800000000};
    for (int i = 0; i < SLOTS; i++) {
        storm->slots[i] = -1;
    }
    struct link_host host = {.arrived = keep_text,
                             .reported = keep_text,
                             .outgoing = give_part,
                             .sent = note_sent,
                             .ctx = storm};
    struct port_line line = {.open = open_line,
                             .set_speed = set_speed,
                             .close = close_line,
                             .read = read_line,
                             .write = write_line,
                             .descriptor = line_descriptor,
                             .ctx = storm};
    storm->link = link_new_over(&settings, &host, &line);
    assert_non_null(storm->link);
    rage(storm);
    link_free(storm->link);
    return storm->fault;
}

static void the_laws_hold_in_every_storm(void **state)
{
    static struct storm storm;
    const char *wish = getenv("METERPOST_STORM");
    unsigned int first = wish != NULL ? (unsigned int)atoi(wish) : 48213;
    (void)state;
    for (unsigned int run = 0; run < (wish != NULL ? 1 : RUNS); run++) {
        const char *fault = play(&storm, first + run);
        if (fault != NULL) {
            fail_msg("seed %u, at %lld ms: %s", first + run, (long long)storm.now.mono_ms, fault);
        }
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_laws_hold_in_every_storm)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
