/* SPDX-License-Identifier: MIT
 * A desk to try: the yard of fixtures/texts/desk.conf, a ledger in memory, texts that come as PDUs
 * and texts out read back from theirs. */
#ifndef METERPOST_TESTS_DESK_ROOM_H
#define METERPOST_TESTS_DESK_ROOM_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "daemon/desk/desk.h"
#include "daemon/ground/zone.h"
#include "fixtures/standin/tpdu_network.h"

#define TOM "+12065550112"
#define INES "+12065550110"
#define VERA "+12065550113"
#define ROSA "+12065550111"
#define NORA "+12065550114"
#define STRANGER "+12065550199"

struct room {
    struct settings *settings;
    struct ledger *ledger;
    struct desk *desk;
    int64_t now_s;
    size_t modem; /* by which texts come and go */
    uint8_t network_reference;
    char to[24];                   /* of the text taken out last */
    char body[TEXTS_REPLY_OCTETS]; /* what it says */
};

/* A ledger at that path; ":memory:" leaves nothing behind. */
static inline struct room *room_at(const char *path)
{
    struct room *room = calloc(1, sizeof *room);
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS];
    assert_non_null(room);
    room->settings = settings_load("fixtures/texts/desk.conf", stderr);
    assert_non_null(room->settings);
    assert_true(zone_set(room->settings->shop.time_zone));
    room->ledger = ledger_open(path, LEDGER_WRITE, &result, says);
    assert_non_null(room->ledger);
    room->desk = desk_new(room->settings, room->ledger);
    assert_non_null(room->desk);
    return room;
}

static inline int room_open(void **state)
{
    *state = room_at(":memory:");
    return 0;
}

static inline int room_close(void **state)
{
    struct room *room = *state;
    desk_free(room->desk);
    ledger_close(room->ledger);
    settings_free(room->settings);
    free(room);
    return 0;
}

/* "2027-04-01 08:00" on the shop's wall. */
static inline int64_t local_s(const char *text)
{
    char rfc3339[40];
    int64_t there_s = 0;
    (void)snprintf(rfc3339, sizeof rfc3339, "%.10sT%.5s:00Z", text, text + 11);
    assert_true(zone_read_rfc3339(rfc3339, &there_s));
    return zone_unix((int32_t)(there_s / 86400), (int32_t)(there_s % 86400));
}

static inline void at(struct room *room, const char *time)
{
    room->now_s = local_s(time);
}

static inline struct instant now_of(const struct room *room)
{
    return (struct instant){.mono_ms = room->now_s * 1000, .wall_s = room->now_s};
}

/* Hands a PDU to the desk. */
static inline bool receive_hex(struct room *room, const char *hex)
{
    struct tpdu tpdu;
    enum tpdu_error error = tpdu_from_hex(hex, strlen(hex), &tpdu);
    return desk_receive(room->desk, room->modem, hex, error, &tpdu, now_of(room));
}

static inline struct tpdu_deliver_order order_of(const struct room *room, const char *from,
                                                 const char *text)
{
    return (struct tpdu_deliver_order){
        .from = from,
        .part = {.text = text, .to = strlen(text), .alphabet = TPDU_ALPHABET_GSM7},
        .sent_at_s = room->now_s,
        .zone_quarters = -28};
}

static inline void receive_order(struct room *room, const struct tpdu_deliver_order *order)
{
    struct tpdu_line line;
    assert_int_equal(tpdu_write_deliver(order, &line), TPDU_OK);
    assert_true(receive_hex(room, line.hex));
}

/* A text of GSM letters arrives, sent now. */
static inline void receive(struct room *room, const char *from, const char *text)
{
    struct tpdu_deliver_order order = order_of(room, from, text);
    receive_order(room, &order);
}

/* Takes the next text out, all its parts, as the network would; false when none may go. */
static inline bool take_out(struct room *room)
{
    struct part part;
    int64_t next_s = 0;
    size_t length = 0;
    uint8_t parts = 1;
    for (uint8_t i = 0; i < parts; i++) {
        struct tpdu tpdu;
        if (!desk_next_part(room->desk, room->modem, now_of(room), &part, &next_s)) {
            assert_int_equal(i, 0);
            return false;
        }
        assert_int_equal(tpdu_from_hex(part.line.hex, strlen(part.line.hex), &tpdu), TPDU_OK);
        assert_int_equal(tpdu.octets, part.line.tpdu_octets);
        parts = tpdu.user.concat.present ? tpdu.user.concat.parts : 1;
        (void)snprintf(room->to, sizeof room->to, "%s", tpdu.other.text);
        length +=
            (size_t)snprintf(room->body + length, sizeof room->body - length, "%s", tpdu.user.text);
        struct part_result result = {
            .part_id = part.id, .reference = room->network_reference++, .cause = -1};
        desk_part_ended(room->desk, &result, now_of(room));
    }
    return true;
}

/* The next text out is this one, to that number. */
#define assert_told(room, number, text)                                                            \
    do {                                                                                           \
        assert_true(take_out(room));                                                               \
        assert_string_equal((room)->body, text);                                                   \
        assert_string_equal((room)->to, number);                                                   \
    } while (0)

#define assert_silent(room)                                                                        \
    do {                                                                                           \
        if (take_out(room)) {                                                                      \
            fail_msg("a text went out: %s", (room)->body);                                         \
        }                                                                                          \
    } while (0)

static inline void drop_all(struct room *room)
{
    while (take_out(room)) {
    }
}

/* ---- what time brings */

static inline int64_t go_round(struct room *room)
{
    return desk_round(room->desk, now_of(room));
}

/* Texts in whose replies are not looked at. */
static inline void feed(struct room *room, const char *time, const char *from, const char *text)
{
    at(room, time);
    receive(room, from, text);
}

/* The first round of a ledger starts its clockwork and says nothing. */
static inline void begin(struct room *room, const char *time)
{
    at(room, time);
    (void)go_round(room);
    assert_silent(room);
}

/* Takes out what goes to crews; what the shop gets is left in room. False when nothing more. */
static inline bool next_to_shop(struct room *room)
{
    while (take_out(room)) {
        if (strcmp(room->to, ROSA) == 0 || strcmp(room->to, NORA) == 0) {
            return true;
        }
    }
    return false;
}

#define assert_shop_told(room, text)                                                               \
    do {                                                                                           \
        assert_true(next_to_shop(room));                                                           \
        assert_string_equal((room)->body, text);                                                   \
    } while (0)

#endif
