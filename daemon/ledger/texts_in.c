/* SPDX-License-Identifier: MIT
 * texts_in: keeps each PDU as it came, knows a repeated one, and puts long texts together.
 *
 * A network may deliver a text again when our acknowledgement was lost, and the modem keeps its copy
 * until we have committed. The fingerprint that tells such a copy leaves out what may differ between
 * two deliveries of one text (the service centre's own number, "more messages to send"). A part
 * belongs to the text of its number, reference and count that lacks it and whose parts the centre
 * stamped nearest to it; where there is none near, the reference has come round and a new text
 * begins. */
#include "daemon/ledger/texts.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "daemon/ground/hash.h"
#include "daemon/ledger/store.h"

static const char *const state_words[] = {
    [TEXTS_ARRIVED] = "arrived",     [TEXTS_DONE] = "done",
    [TEXTS_STRANGER] = "stranger",   [TEXTS_UNREADABLE] = "unreadable",
    [TEXTS_SET_ASIDE] = "set-aside", [TEXTS_WAITING] = "waiting",
};

const char *texts_state_word(enum texts_state state)
{
    return state_words[state];
}

/* The centre stamps the parts of a text within seconds, within minutes where the phone had to try
 * again (common practice, no source). */
#define PARTS_APART_S 600

#define WIDE 0x10000 /* sets the references of 16 bits apart */

/* What the rest of this file works on: the arrival with its oddities settled. */
struct arrival {
    const struct texts_incoming *incoming;
    char from[TEXTS_FROM_OCTETS];
    bool of_many; /* a part of a long text */
    uint8_t part, parts;
    uint32_t reference; /* 0 where there is none */
    bool repeatable;    /* came from the modem */
    char fingerprint[TEXTS_FINGERPRINT_OCTETS];
};

static void settle(const struct texts_incoming *incoming, struct arrival *arrival)
{
    *arrival = (struct arrival){.incoming = incoming, .part = 1, .parts = 1};
    store_copy(incoming->from, arrival->from, sizeof arrival->from);
    arrival->repeatable = incoming->hex[0] != '\0';
    arrival->of_many = incoming->readable && incoming->concatenated && incoming->parts > 1 &&
                       incoming->part >= 1 && incoming->part <= incoming->parts;
    if (arrival->of_many) {
        arrival->part = incoming->part;
        arrival->parts = incoming->parts;
        arrival->reference = incoming->reference + (incoming->wide_reference ? WIDE : 0U);
    }
    /* The hash is enough between texts of one sender, one second, one part and one length. */
    const char *content = incoming->readable ? incoming->body : incoming->hex;
    (void)snprintf(arrival->fingerprint, sizeof arrival->fingerprint,
                   "%s %" PRId64 " %u %u/%u %zu %016" PRIx64, arrival->from, incoming->stamp_s,
                   (unsigned)arrival->reference, (unsigned)arrival->part, (unsigned)arrival->parts,
                   strlen(content), hash_text(content));
}

/* Returns the id of the text. */
static int64_t add_text(struct ledger *ledger, const struct arrival *arrival,
                        enum texts_state state)
{
    const struct texts_incoming *incoming = arrival->incoming;
    struct store_value reference =
        arrival->of_many ? store_integer(arrival->reference) : store_id(0);
    (void)store_run(ledger, STATEMENT_TEXT_IN_ADD,
                    STORE_VALUES(store_text(arrival->from), store_integer(incoming->from_number),
                                 store_integer(incoming->sent_s),
                                 store_integer(incoming->received_s),
                                 store_text(arrival->of_many ? "" : incoming->body),
                                 store_text(state_words[state]), reference,
                                 store_integer(arrival->parts), store_text(incoming->modem)));
    return store_inserted(ledger);
}

static void add_arrival(struct ledger *ledger, const struct arrival *arrival, int64_t text_id)
{
    const struct texts_incoming *incoming = arrival->incoming;
    (void)store_run(ledger, STATEMENT_ARRIVAL_ADD,
                    STORE_VALUES(store_integer(text_id), store_integer(arrival->part),
                                 store_text(incoming->hex),
                                 store_text(arrival->of_many ? incoming->body : NULL),
                                 store_integer(incoming->sent_s),
                                 store_integer(incoming->received_s),
                                 store_text(arrival->repeatable ? arrival->fingerprint : NULL)));
}

/* Fills kept from a text that is whole. */
static enum ledger_result read_whole(struct ledger *ledger, int64_t text_id,
                                     struct texts_kept *kept, char *from)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_TEXT_IN_READ, &row, STORE_VALUES(store_integer(text_id)));
    if (result != LEDGER_OK) {
        return result;
    }
    kept->text_id = text_id;
    kept->whole = true;
    kept->sent_s = store_column(row, 0);
    if (from != NULL) {
        store_column_copy(row, 1, from, TEXTS_FROM_OCTETS);
    }
    store_column_copy(row, 2, kept->body, sizeof kept->body);
    store_column_copy(row, 3, kept->fingerprint, sizeof kept->fingerprint);
    store_done(row);
    return LEDGER_OK;
}

/* Its parts in their order, gaps shown, then ready for the desk. */
static void put_together(struct ledger *ledger, int64_t text_id)
{
    enum ledger_result result =
        store_run(ledger, STATEMENT_TEXT_IN_WHOLE, STORE_VALUES(store_integer(text_id)));
    for (int part = 1; part <= UINT8_MAX && result == LEDGER_OK; part++) {
        result = store_change(ledger, STATEMENT_TEXT_IN_APPEND, LEDGER_NONE, /* past the last */
                              STORE_VALUES(store_integer(text_id), store_integer(part)));
    }
}

static void keep_part(struct ledger *ledger, const struct arrival *arrival, struct texts_kept *kept)
{
    int64_t there;
    if (store_number(ledger, STATEMENT_TEXT_IN_LACKING, &kept->text_id,
                     STORE_VALUES(store_text(arrival->from), store_integer(arrival->reference),
                                  store_integer(arrival->parts), store_integer(arrival->part),
                                  store_integer(arrival->incoming->sent_s),
                                  store_integer(PARTS_APART_S))) == LEDGER_NONE) {
        kept->text_id = add_text(ledger, arrival, TEXTS_WAITING);
    }
    add_arrival(ledger, arrival, kept->text_id);
    (void)store_number(ledger, STATEMENT_ARRIVAL_COUNT, &there,
                       STORE_VALUES(store_integer(kept->text_id)));
    if (there >= arrival->parts) {
        put_together(ledger, kept->text_id);
        (void)read_whole(ledger, kept->text_id, kept, NULL);
    }
}

static void keep_single(struct ledger *ledger, const struct arrival *arrival,
                        struct texts_kept *kept)
{
    kept->whole = arrival->incoming->readable;
    kept->text_id = add_text(ledger, arrival, kept->whole ? TEXTS_ARRIVED : TEXTS_UNREADABLE);
    store_copy(arrival->incoming->body, kept->body, sizeof kept->body);
    add_arrival(ledger, arrival, kept->text_id);
}

enum ledger_result texts_keep(struct ledger *ledger, const struct texts_incoming *incoming,
                              struct texts_kept *kept)
{
    struct arrival arrival;
    settle(incoming, &arrival);
    kept->text_id = 0;
    kept->repeated = false;
    kept->whole = false;
    kept->sent_s = incoming->sent_s;
    kept->body[0] = '\0';
    store_copy(arrival.fingerprint, kept->fingerprint, sizeof kept->fingerprint);
    store_step(ledger);
    if (arrival.repeatable &&
        store_number(ledger, STATEMENT_ARRIVAL_FIND, &kept->text_id,
                     STORE_VALUES(store_text(arrival.fingerprint))) == LEDGER_OK) {
        kept->repeated = true;
    } else if (arrival.of_many) {
        keep_part(ledger, &arrival, kept);
    } else {
        keep_single(ledger, &arrival, kept);
    }
    enum ledger_result result = store_step_end(ledger, LEDGER_OK);
    kept->whole = kept->whole && result == LEDGER_OK;
    return result;
}

enum ledger_result texts_set_state(struct ledger *ledger, int64_t text_id, enum texts_state state,
                                   int64_t person_id)
{
    return store_change(
        ledger, STATEMENT_TEXT_IN_SET_STATE, LEDGER_NONE,
        STORE_VALUES(store_integer(text_id), store_text(state_words[state]), store_id(person_id)));
}

const char *texts_outcome_word(enum texts_outcome outcome)
{
    static const char *const words[] = {
        [TEXTS_OUTCOME_DONE] = NULL,
        [TEXTS_OUTCOME_ASKED] = "asked",
        [TEXTS_OUTCOME_REFUSED] = "refused",
        [TEXTS_OUTCOME_NOT_UNDERSTOOD] = "not-understood",
    };
    return words[outcome];
}

enum ledger_result texts_worked_on(struct ledger *ledger, int64_t text_id,
                                   enum texts_outcome outcome, int64_t person_id)
{
    const char *word = texts_outcome_word(outcome);
    return store_change(
        ledger, STATEMENT_TEXT_IN_WORKED_ON, LEDGER_NONE,
        STORE_VALUES(store_integer(text_id), store_text(word), store_id(person_id)));
}

enum ledger_result texts_sender(struct ledger *ledger, int64_t text_id, int64_t *person_id)
{
    return store_number(ledger, STATEMENT_TEXT_IN_PERSON, person_id,
                        STORE_VALUES(store_integer(text_id)));
}

enum ledger_result texts_last_of(struct ledger *ledger, int64_t person_id, int64_t before_id,
                                 int64_t since_s, char *body, size_t size, bool *kept)
{
    sqlite3_stmt *row;
    enum ledger_result result = store_first(
        ledger, STATEMENT_TEXT_IN_LAST, &row,
        STORE_VALUES(store_integer(person_id), store_integer(before_id), store_integer(since_s)));
    body[0] = '\0';
    if (result == LEDGER_OK) {
        store_column_copy(row, 0, body, size);
        *kept = store_column(row, 1) != 0;
        store_done(row);
    }
    return result;
}

enum ledger_result texts_next_arrived(struct ledger *ledger, struct texts_kept *kept,
                                      char from[TEXTS_FROM_OCTETS])
{
    int64_t text_id;
    enum ledger_result result =
        store_number(ledger, STATEMENT_TEXT_IN_NEXT, &text_id, STORE_NO_VALUES);
    kept->repeated = false;
    return result == LEDGER_OK ? read_whole(ledger, text_id, kept, from) : result;
}

enum ledger_result texts_date(struct ledger *ledger, int64_t now_s)
{
    store_step(ledger);
    (void)store_run(ledger, STATEMENT_ARRIVALS_DATE, STORE_VALUES(store_integer(now_s)));
    return store_step_end(
        ledger, store_run(ledger, STATEMENT_TEXTS_IN_DATE, STORE_VALUES(store_integer(now_s))));
}

enum ledger_result texts_give_up_parts(struct ledger *ledger, int64_t before_s, int *count,
                                       int64_t *oldest_s)
{
    sqlite3_stmt *row;
    *count = 0;
    *oldest_s = 0;
    store_step(ledger);
    while (*oldest_s == 0 && store_first(ledger, STATEMENT_TEXT_IN_OLDEST_WAITING, &row,
                                         STORE_NO_VALUES) == LEDGER_OK) {
        int64_t text_id = store_column(row, 0);
        int64_t grew_s = store_column(row, 1);
        store_done(row);
        if (grew_s >= before_s) {
            *oldest_s = grew_s;
        } else {
            put_together(ledger, text_id); /* no longer waiting: the loop ends */
            (*count)++;
        }
    }
    return store_step_end(ledger, LEDGER_OK);
}
