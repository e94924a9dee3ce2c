/* SPDX-License-Identifier: MIT
 * questions: what was asked and how it ended; and the figures that were refused. */
#include "daemon/ledger/questions.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ledger/record.h"
#include "daemon/ledger/store.h"

/* The word that is kept of each kind. One that ends in a dash is followed by the kind of statement
 * that the answer completes. `days`: the offer's column holds days, there being no figure. */
static const struct {
    const char *word;
    bool days;
} kinds[] = {
    [QUESTION_SLIP] = {.word = "slip"},
    [QUESTION_OTHER_MACHINE] = {.word = "other-machine"},
    [QUESTION_LAST_WRONG] = {.word = "last-wrong"},
    [QUESTION_ROLL_OVER] = {.word = "roll-over"},
    [QUESTION_SWAP] = {.word = "swap"},
    [QUESTION_FORCE] = {.word = "force"},
    [QUESTION_SURE] = {.word = "sure"},
    [QUESTION_PAST_SERVICE] = {.word = "past-service"},
    [QUESTION_QUANTITY] = {.word = "quantity"},
    [QUESTION_RECHECK] = {.word = "recheck"},
    [QUESTION_REPLACE] = {.word = "replace"},
    [QUESTION_METER] = {.word = "meter"},
    [QUESTION_BOOK] = {.word = "book", .days = true},
    [QUESTION_WHICH_FIGURE] = {.word = "figure-"},
    [QUESTION_WHICH_OWN] = {.word = "machine-own"},
    [QUESTION_WHICH_MACHINE] = {.word = "machine-", .days = true},
    [QUESTION_WHICH_PLAN] = {.word = "plan-"},
    [QUESTION_WHICH_TROUBLE] = {.word = "trouble"},
};
#define KINDS (sizeof kinds / sizeof kinds[0])
#define KIND_OCTETS 17

/* What is kept, told apart; a word that is none of ours is a figure to be confirmed. */
static void read_kind(const char *kept, struct question_row *row)
{
    row->kind = QUESTION_SURE;
    for (size_t i = 0; i < KINDS; i++) {
        size_t length = strlen(kinds[i].word);
        bool open = kinds[i].word[length - 1] == '-';
        if (strncmp(kept, kinds[i].word, open ? length : length + 1) == 0) {
            row->kind = (enum question_kind)i;
            (void)snprintf(row->completes, sizeof row->completes, "%s", kept + length);
            break;
        }
    }
    if (kinds[row->kind].days && row->offer_hundredths > 0) {
        row->days = (int32_t)row->offer_hundredths;
        row->offer_hundredths = -1;
    }
}

static void read_row(sqlite3_stmt *row, struct question_row *out)
{
    *out = (struct question_row){.id = store_column(row, 0),
                                 .person_id = store_column(row, 1),
                                 .machine_id = store_column(row, 2),
                                 .offer_machine_id = store_column(row, 4),
                                 .offer_hundredths = store_column(row, 5),
                                 .offer_to_hundredths = store_column(row, 6),
                                 .strikes_reading_id = store_column(row, 7),
                                 .typed_hundredths = store_column(row, 8),
                                 .read_s = store_column(row, 9),
                                 .quantity_thousandths = store_column(row, 11),
                                 .text_id = store_column(row, 14),
                                 .asked_s = store_column(row, 15)};
    char kept[KIND_OCTETS];
    store_column_copy(row, 3, kept, sizeof kept);
    read_kind(kept, out);
    store_column_copy(row, 10, out->plan, sizeof out->plan);
    store_column_copy(row, 12, out->unit, sizeof out->unit);
    store_column_copy(row, 13, out->remark, sizeof out->remark);
    store_column_copy(row, 16, out->says, sizeof out->says);
}

static enum ledger_result add(struct ledger *ledger, struct question_row *row)
{
    char kept[KIND_OCTETS];
    (void)snprintf(kept, sizeof kept, "%s%s", kinds[row->kind].word, row->completes);
    int64_t offer = kinds[row->kind].days && row->days > 0 ? row->days : row->offer_hundredths;
    enum ledger_result result = store_run(
        ledger, STATEMENT_QUESTION_ADD,
        STORE_VALUES(store_integer(row->person_id), store_id(row->machine_id), store_text(kept),
                     store_id(row->offer_machine_id), store_integer(offer),
                     store_integer(row->offer_to_hundredths), store_id(row->strikes_reading_id),
                     store_integer(row->typed_hundredths), store_integer(row->read_s),
                     store_text(row->plan), store_integer(row->quantity_thousandths),
                     store_text(row->unit), store_text(row->remark), store_id(row->text_id),
                     store_integer(row->asked_s), store_text(row->says)));
    row->id = result == LEDGER_OK ? store_inserted(ledger) : 0;
    return result;
}

enum ledger_result questions_ask(struct ledger *ledger, struct question_row *row, bool *replaced)
{
    store_step(ledger);
    *replaced = store_change(ledger, STATEMENT_QUESTION_REPLACE, LEDGER_NONE,
                             STORE_VALUES(store_integer(row->person_id), store_id(row->text_id),
                                          store_integer(row->asked_s))) == LEDGER_OK;
    return store_step_end(ledger, add(ledger, row));
}

/* The first row found, where there is one. */
static enum ledger_result read_first(enum ledger_result result, sqlite3_stmt *found,
                                     struct question_row *row)
{
    if (result == LEDGER_OK) {
        read_row(found, row);
        store_done(found);
    }
    return result;
}

enum ledger_result questions_open(struct ledger *ledger, int64_t person_id, int64_t since_s,
                                  struct question_row *row)
{
    sqlite3_stmt *found;
    enum ledger_result result =
        store_first(ledger, STATEMENT_QUESTION_OPEN, &found,
                    STORE_VALUES(store_integer(person_id), store_integer(since_s)));
    return read_first(result, found, row);
}

enum ledger_result questions_denied(struct ledger *ledger, int64_t person_id, int64_t machine_id,
                                    int64_t since_s, struct question_row *row)
{
    sqlite3_stmt *found;
    enum ledger_result result = store_first(
        ledger, STATEMENT_QUESTION_DENIED, &found,
        STORE_VALUES(store_integer(person_id), store_integer(machine_id), store_integer(since_s)));
    return read_first(result, found, row);
}

enum ledger_result questions_close(struct ledger *ledger, int64_t question_id, const char *outcome,
                                   int64_t text_id, int64_t at_s)
{
    store_step(ledger);
    enum ledger_result result =
        store_change(ledger, STATEMENT_QUESTION_CLOSE, LEDGER_ALREADY,
                     STORE_VALUES(store_integer(question_id), store_text(outcome),
                                  store_id(text_id), store_integer(at_s)));
    if (result == LEDGER_OK) {
        result = effects_note(ledger, text_id, "answer", question_id);
    }
    return store_step_end(ledger, result);
}

enum ledger_result questions_note_refusal(struct ledger *ledger, int64_t person_id,
                                          int64_t machine_id, int64_t hundredths, int64_t text_id,
                                          int64_t at_s)
{
    return store_run(ledger, STATEMENT_REFUSAL_ADD,
                     STORE_VALUES(store_integer(person_id), store_integer(machine_id),
                                  store_integer(hundredths), store_id(text_id),
                                  store_integer(at_s)));
}

enum ledger_result questions_refused_since(struct ledger *ledger, int64_t person_id,
                                           int64_t machine_id, int64_t hundredths, int64_t text_id,
                                           int64_t since_s, int *count)
{
    return store_count(ledger, STATEMENT_REFUSALS_SINCE, count,
                       STORE_VALUES(store_integer(person_id), store_integer(machine_id),
                                    store_integer(hundredths), store_integer(since_s),
                                    store_integer(text_id)));
}
