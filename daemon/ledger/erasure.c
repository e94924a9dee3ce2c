/* SPDX-License-Identifier: MIT
 * erasure: see erasure.h. The rows stay, so that what hangs on them does; their words and numbers go. Then
 * the file is written anew without the room that they had (secure_delete alone would leave what was moved
 * about before), and the WAL is emptied. */
#include "daemon/ledger/erasure.h"

#include <stdio.h>
#include <string.h>

#include "daemon/ledger/store.h"

#define PHONES_MOST 16
#define PHONE_ROOM 24

static int64_t changed(struct ledger *ledger, enum statement statement, int64_t person_id,
                       const char *phone)
{
    (void)store_run(ledger, statement, STORE_VALUES(store_integer(person_id), store_text(phone)));
    return ledger_fault(ledger) == LEDGER_OK ? sqlite3_changes(ledger->connection) : 0;
}

/* Texts of the person, or of a number where they are nobody's. */
static void forget_texts(struct ledger *ledger, int64_t person_id, const char *phone,
                         struct erasure *forgotten)
{
    (void)changed(ledger, STATEMENT_FORGET_ARRIVALS, person_id, phone);
    (void)changed(ledger, STATEMENT_FORGET_PARTS, person_id, phone);
    forgotten->texts_in += changed(ledger, STATEMENT_FORGET_TEXTS_IN, person_id, phone);
    forgotten->texts_out += changed(ledger, STATEMENT_FORGET_TEXTS_OUT, person_id, phone);
}

/* The numbers that the person's texts bear, before they are forgotten. */
static size_t list_phones(struct ledger *ledger, int64_t person_id,
                          char phones[PHONES_MOST][PHONE_ROOM])
{
    sqlite3_stmt *row;
    size_t count = 0;
    enum ledger_result result =
        store_first(ledger, STATEMENT_FORGET_PHONES, &row, STORE_VALUES(store_integer(person_id)));
    while (result == LEDGER_OK && count < PHONES_MOST) {
        store_column_copy(row, 0, phones[count++], PHONE_ROOM);
        result = store_next(ledger, row);
    }
    if (result == LEDGER_OK) {
        store_done(row);
    }
    return count;
}

static void forget_words(struct ledger *ledger, int64_t person_id, const char *name,
                         struct erasure *forgotten)
{
    static const enum statement remarks[] = {STATEMENT_FORGET_READINGS, STATEMENT_FORGET_SERVICES,
                                             STATEMENT_FORGET_QUESTIONS, STATEMENT_FORGET_TROUBLES};
    static const enum statement names[] = {STATEMENT_FORGET_MENTIONS, STATEMENT_FORGET_MARKS,
                                           STATEMENT_FORGET_NAME};
    for (size_t i = 0; i < sizeof remarks / sizeof remarks[0]; i++) {
        (void)store_run(ledger, remarks[i], STORE_VALUES(store_integer(person_id)));
        forgotten->remarks += sqlite3_changes(ledger->connection);
    }
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        (void)changed(ledger, names[i], person_id, name);
    }
}

/* What stood there is nowhere in the files. Where a reader or a full disk is in the way the rows are
 * forgotten all the same. */
static bool wipe(struct ledger *ledger)
{
    bool written = sqlite3_exec(ledger->connection,
                                "PRAGMA temp_store = FILE; VACUUM; PRAGMA temp_store = MEMORY",
                                NULL, NULL, NULL) == SQLITE_OK;
    return sqlite3_wal_checkpoint_v2(ledger->connection, "main", SQLITE_CHECKPOINT_TRUNCATE, NULL,
                                     NULL) == SQLITE_OK &&
           written;
}

static enum ledger_result ended(struct ledger *ledger, struct erasure *forgotten)
{
    enum ledger_result result = ledger_end(ledger, LEDGER_OK);
    store_forget_names(ledger);
    forgotten->wiped = result == LEDGER_OK && wipe(ledger);
    return result;
}

enum ledger_result erasure_person(struct ledger *ledger, const char *name, erasure_spares *spares,
                                  void *ctx, struct erasure *forgotten)
{
    static char phones[PHONES_MOST][PHONE_ROOM];
    char known[PEOPLE_NAME_OCTETS] = "";
    int64_t person_id = 0;
    *forgotten = (struct erasure){0};
    enum ledger_result result = ledger_begin(ledger);
    if (result == LEDGER_OK) {
        result =
            store_number(ledger, STATEMENT_PERSON_FIND, &person_id, STORE_VALUES(store_text(name)));
    }
    if (result != LEDGER_OK) {
        ledger_rollback(ledger);
        return result;
    }
    (void)people_name(ledger, person_id, known); /* as it was written, capitals and all */
    size_t count = list_phones(ledger, person_id, phones);
    forget_texts(ledger, person_id, "", forgotten);
    for (size_t i = 0; i < count; i++) {
        if (!spares(ctx, phones[i])) {
            forget_texts(ledger, 0, phones[i], forgotten);
        }
    }
    forget_words(ledger, person_id, known, forgotten);
    (void)snprintf(forgotten->called, sizeof forgotten->called, "person-%lld",
                   (long long)person_id);
    return ended(ledger, forgotten);
}

enum ledger_result erasure_number(struct ledger *ledger, const char *phone,
                                  struct erasure *forgotten)
{
    *forgotten = (struct erasure){0};
    enum ledger_result result = ledger_begin(ledger);
    if (result != LEDGER_OK) {
        return result;
    }
    forget_texts(ledger, 0, phone, forgotten);
    if (forgotten->texts_in + forgotten->texts_out == 0 && ledger_fault(ledger) == LEDGER_OK) {
        ledger_rollback(ledger);
        return LEDGER_NONE;
    }
    return ended(ledger, forgotten);
}

enum ledger_result erasure_texts_before(struct ledger *ledger, int64_t before_s)
{
    static const enum statement old[] = {STATEMENT_OLD_ARRIVALS, STATEMENT_OLD_TEXTS_IN,
                                         STATEMENT_OLD_TEXTS_OUT};
    store_step(ledger);
    for (size_t i = 0; i < sizeof old / sizeof old[0]; i++) {
        (void)store_run(ledger, old[i], STORE_VALUES(store_integer(before_s)));
    }
    return store_step_end(ledger, LEDGER_OK);
}
