/* SPDX-License-Identifier: MIT
 * texts_out: the queue of texts out, on disk, part by part; and texts of either way counted and
 * listed, for caps, the daily summary and the verb `texts`.
 *
 * A part is on disk as handed over before it goes to the modem. Where a crash or a lost result hides
 * what became of it, it is sent once more and marked; so one part may reach a person twice, and no
 * part is lost in silence. */
#include "daemon/ledger/texts.h"

#include <string.h>

#include "daemon/ledger/store.h"

static const char *const part_state_words[] = {
    [TEXTS_PART_WAITING] = "waiting", [TEXTS_PART_HANDED_OVER] = "handed-over",
    [TEXTS_PART_TAKEN] = "taken",     [TEXTS_PART_FAILED] = "failed",
    [TEXTS_PART_UNKNOWN] = "unknown",
};

#define URGENT (-1) /* before all others */

static const struct {
    const char *word;
    int urgency; /* 0 first */
} kinds[] = {
    [TEXTS_REPLY] = {"reply", 1},   [TEXTS_QUESTION] = {"question", 1},
    [TEXTS_ALERT] = {"alert", 0},   [TEXTS_SUMMARY] = {"summary", 2},
    [TEXTS_NOTICE] = {"notice", 2},
};

static enum texts_kind kind_of(const char *word)
{
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcmp(word, kinds[i].word) == 0) {
            return (enum texts_kind)i;
        }
    }
    return TEXTS_NOTICE; /* the schema allows no other word */
}

enum ledger_result texts_queue(struct ledger *ledger, const struct texts_outgoing *outgoing,
                               int64_t *text_id)
{
    *text_id = 0;
    if (outgoing->parts == 0 || strlen(outgoing->phone) >= TEXTS_FROM_OCTETS) {
        return store_refuse(ledger, "a text out without parts or with too long a number");
    }
    store_step(ledger);
    enum ledger_result result = store_run(
        ledger, STATEMENT_TEXT_OUT_ADD,
        STORE_VALUES(store_id(outgoing->person_id), store_text(outgoing->phone),
                     store_text(outgoing->body), store_text(kinds[outgoing->kind].word),
                     store_id(outgoing->about_text_id), store_integer(outgoing->created_s),
                     store_integer(outgoing->expires_s)));
    *text_id = result == LEDGER_OK ? store_inserted(ledger) : 0;
    for (int part = 1; part <= outgoing->parts; part++) {
        result = store_run(
            ledger, STATEMENT_PART_ADD,
            STORE_VALUES(store_integer(*text_id), store_integer(part),
                         store_integer(outgoing->urgent ? URGENT : kinds[outgoing->kind].urgency),
                         store_integer(outgoing->not_before_s)));
    }
    return store_step_end(ledger, result);
}

enum ledger_result texts_give_way(struct ledger *ledger, const char *phone, int most, int64_t now_s)
{
    return store_run(ledger, STATEMENT_PARTS_GIVE_WAY,
                     STORE_VALUES(store_text(phone), store_integer(most), store_integer(now_s),
                                  store_integer(TEXTS_CAUSE_GAVE_WAY)));
}

#define PART(kind, member) STORE_FIELD(struct texts_part, kind, member)
static const struct store_field part_fields[] = {
    PART(ID, part_id),    PART(ID, text_id),      PART(NUMBER, part),  PART(NUMBER, parts),
    PART(NUMBER, tries),  PART(NUMBER, repeated), PART(ID, person_id), PART(NUMBER, created_s),
    PART(NUMBER, urgent), PART(WORDS, phone),     PART(WORDS, body)};
static const struct store_shape part_shape = STORE_SHAPE(struct texts_part, part_fields);
enum { KIND_COLUMN = sizeof part_fields / sizeof part_fields[0] };

enum ledger_result texts_next_part(struct ledger *ledger, const struct texts_way *way,
                                   int64_t now_s, struct texts_part *part, int64_t *next_s)
{
    static const struct texts_way any = {.others = "/"};
    const struct texts_way *by = way != NULL ? way : &any;
    sqlite3_stmt *row;
    *next_s = 0;
    /* Changes nothing, and then costs no sync, while nothing expires. */
    enum ledger_result result =
        store_run(ledger, STATEMENT_PARTS_EXPIRE,
                  STORE_VALUES(store_integer(now_s), store_integer(TEXTS_CAUSE_EXPIRED)));
    if (result != LEDGER_OK) {
        return result;
    }
    result = store_first(ledger, STATEMENT_PART_NEXT, &row,
                         STORE_VALUES(store_integer(now_s), store_text(by->modem),
                                      store_text(by->others), store_integer(by->takes_rest)));
    if (result == LEDGER_OK) {
        store_read(row, &part_shape, part);
        part->concat_reference = (uint8_t)(part->text_id & 0xff);
        part->kind = kind_of(store_column_text(row, KIND_COLUMN));
        store_done(row);
    } else if (result == LEDGER_NONE) {
        result = store_number(ledger, STATEMENT_PART_NEXT_TIME, next_s,
                              STORE_VALUES(store_integer(now_s)));
        return result == LEDGER_OK ? LEDGER_NONE : result;
    }
    return result;
}

enum ledger_result texts_part_handed_over(struct ledger *ledger, const char *modem, int64_t part_id,
                                          int64_t now_s)
{
    return store_change(
        ledger, STATEMENT_PART_HANDED_OVER, LEDGER_NONE,
        STORE_VALUES(store_integer(part_id), store_integer(now_s), store_text(modem)));
}

enum ledger_result texts_part_ended(struct ledger *ledger, int64_t part_id,
                                    enum texts_part_state state, int reference, int cause,
                                    int64_t now_s)
{
    if (state == TEXTS_PART_UNKNOWN) {
        return store_change(ledger, STATEMENT_PART_LOST, LEDGER_NONE,
                            STORE_VALUES(store_integer(part_id), store_integer(now_s)));
    }
    store_step(ledger);
    enum ledger_result result = store_change(
        ledger, STATEMENT_PART_ENDED, LEDGER_NONE,
        STORE_VALUES(store_integer(part_id), store_text(part_state_words[state]),
                     store_integer(reference), store_integer(cause), store_integer(now_s)));
    if (result == LEDGER_OK && state == TEXTS_PART_FAILED) {
        result = store_run(
            ledger, STATEMENT_PARTS_FAIL_REST,
            STORE_VALUES(store_integer(part_id), store_integer(cause), store_integer(now_s)));
    }
    return store_step_end(ledger, result);
}

enum ledger_result texts_part_again(struct ledger *ledger, int64_t part_id, int64_t not_before_s,
                                    int cause)
{
    return store_change(
        ledger, STATEMENT_PART_AGAIN, LEDGER_NONE,
        STORE_VALUES(store_integer(part_id), store_integer(not_before_s), store_integer(cause)));
}

enum ledger_result texts_part_put_back(struct ledger *ledger, int64_t part_id)
{
    return store_change(ledger, STATEMENT_PART_PUT_BACK, LEDGER_NONE,
                        STORE_VALUES(store_integer(part_id)));
}

enum ledger_result texts_recover_parts(struct ledger *ledger, int64_t now_s, int *count)
{
    enum ledger_result result =
        store_run(ledger, STATEMENT_PARTS_RECOVER, STORE_VALUES(store_integer(now_s)));
    *count = result == LEDGER_OK ? sqlite3_changes(ledger->connection) : 0;
    return result;
}

enum ledger_result texts_part_reported(struct ledger *ledger, const char *modem, const char *phone,
                                       uint8_t reference, uint8_t status, int64_t at_s)
{
    static const enum statement places[] = {STATEMENT_PART_REPORTED, STATEMENT_PART_REPORTED_EARLY};
    enum ledger_result result = LEDGER_NONE;
    store_step(ledger);
    for (size_t i = 0; i < 2 && result == LEDGER_NONE; i++) {
        result = store_change(ledger, places[i], LEDGER_NONE,
                              STORE_VALUES(store_text(phone), store_integer(reference),
                                           store_integer(status), store_integer(at_s),
                                           store_text(modem)));
    }
    if (result == LEDGER_OK) {
        result = store_run(ledger, STATEMENT_PARTS_UNDELIVERED,
                           STORE_VALUES(store_text(phone), store_integer(at_s)));
    }
    return store_step_end(ledger, result);
}

#define SENT(member) STORE_FIELD(struct texts_sent, NUMBER, member)
static const struct store_field sent_fields[] = {SENT(to_number), SENT(in_hour), SENT(in_day),
                                                 SENT(by_modem)};
static const struct store_shape sent_shape = STORE_SHAPE(struct texts_sent, sent_fields);

enum ledger_result texts_count_sent(struct ledger *ledger, const char *modem, const char *phone,
                                    int64_t hour_s, int64_t day_s, struct texts_sent *sent)
{
    return store_find(ledger, STATEMENT_TEXTS_SENT, &sent_shape, sent,
                      STORE_VALUES(store_text(phone), store_integer(hour_s), store_integer(day_s),
                                   store_text(modem)));
}

enum ledger_result texts_strangers_since(struct ledger *ledger, int64_t since_s, int *count)
{
    return store_count(ledger, STATEMENT_TEXTS_STRANGERS_SINCE, count,
                       STORE_VALUES(store_integer(since_s)));
}

#define SUMMARY(member) STORE_FIELD(struct texts_summary, NUMBER, member)
static const struct store_field summary_fields[] = {
    SUMMARY(waiting),       SUMMARY(capped),       SUMMARY(oldest_waiting_s), SUMMARY(failed_since),
    SUMMARY(unknown_since), SUMMARY(unread_since), SUMMARY(last_in_s),        SUMMARY(last_out_s),
    SUMMARY(failed_cause),  SUMMARY(alerts_lost),  SUMMARY(alert_lost_s)};
static const struct store_shape summary_shape = STORE_SHAPE(struct texts_summary, summary_fields);

enum ledger_result texts_summarise(struct ledger *ledger, int64_t since_s,
                                   struct texts_summary *summary)
{
    *summary = (struct texts_summary){0};
    return store_find(ledger, STATEMENT_TEXTS_SUMMARY, &summary_shape, summary,
                      STORE_VALUES(store_integer(since_s), store_integer(TEXTS_CAUSE_NONE)));
}

#define LINE(kind, member) STORE_FIELD(struct texts_line, kind, member)
static const struct store_field line_fields[] = {
    LINE(NUMBER, incoming), LINE(ID, text_id),  LINE(NUMBER, at_s),  LINE(PHRASE, person),
    LINE(PHRASE, phone),    LINE(PHRASE, body), LINE(PHRASE, state), LINE(NUMBER, cause)};
static const struct store_shape line_shape = STORE_SHAPE(struct texts_line, line_fields);

enum ledger_result texts_each(struct ledger *ledger, int64_t from_s, int64_t until_s,
                              void (*each)(void *ctx, const struct texts_line *line), void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, STATEMENT_TEXTS_EACH, &row,
                    STORE_VALUES(store_integer(from_s), store_integer(until_s),
                                 store_integer(TEXTS_CAUSE_NONE)));
    while (result == LEDGER_OK) {
        struct texts_line line;
        store_read(row, &line_shape, &line);
        each(ctx, &line);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}
