/* SPDX-License-Identifier: MIT
 * ledger_room: what the tests of the ledger share: a folder or a ledger in memory, with a machine
 * and two people in it, and short ways to put things in. */
#ifndef METERPOST_TESTS_LEDGER_ROOM_H
#define METERPOST_TESTS_LEDGER_ROOM_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include <ftw.h>
#include <unistd.h>

#include "daemon/ledger/ledger.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/store.h"
#include "daemon/ledger/texts.h"

#define ROOM_NOON_S INT64_C(1800014400) /* 2027-01-15 12:00 UTC */
#define ROOM_HOUR_S 3600
#define ROOM_DAY_S 86400

struct room {
    char folder[64]; /* "" for a ledger in memory */
    char path[96];
    struct ledger *ledger;
    int64_t ines, rosa; /* crew, shop */
    int64_t m12, m14;
};

static inline struct ledger *room_open(const char *path, enum ledger_mode mode)
{
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS];
    struct ledger *ledger = ledger_open(path, mode, &result, says);
    if (ledger == NULL) {
        print_error("%s\n", says);
    }
    assert_non_null(ledger);
    return ledger;
}

static inline void room_furnish(struct room *room)
{
    room->ledger = room_open(room->path, LEDGER_WRITE);
    assert_int_equal(people_id(room->ledger, "Ines", &room->ines), LEDGER_OK);
    assert_int_equal(people_id(room->ledger, "Rosa", &room->rosa), LEDGER_OK);
    assert_int_equal(machines_id(room->ledger, "M12", &room->m12), LEDGER_OK);
    assert_int_equal(machines_id(room->ledger, "M14", &room->m14), LEDGER_OK);
}

static inline int room_in_memory(void **state)
{
    struct room *room = calloc(1, sizeof *room);
    (void)snprintf(room->path, sizeof room->path, ":memory:");
    room_furnish(room);
    *state = room;
    return 0;
}

/* A folder of its own, nothing in it yet. */
static inline int room_folder(void **state)
{
    struct room *room = calloc(1, sizeof *room);
    (void)snprintf(room->folder, sizeof room->folder, "/tmp/meterpost-ledger-XXXXXX");
    assert_non_null(mkdtemp(room->folder));
    (void)snprintf(room->path, sizeof room->path, "%s/ledger.db", room->folder);
    *state = room;
    return 0;
}

static inline int room_on_disk(void **state)
{
    (void)room_folder(state);
    room_furnish(*state);
    return 0;
}

static inline int room_remove_one(const char *path, const struct stat *found, int type,
                                  struct FTW *walk)
{
    (void)found;
    (void)type;
    (void)walk;
    return remove(path);
}

static inline int room_leave(void **state)
{
    struct room *room = *state;
    ledger_close(room->ledger);
    if (room->folder[0] != '\0') {
        (void)nftw(room->folder, room_remove_one, 8, FTW_DEPTH | FTW_PHYS);
    }
    free(room);
    return 0;
}

/* One number out of the ledger by SQL, past the functions under test. */
static inline int64_t room_number(struct ledger *ledger, const char *sql)
{
    sqlite3_stmt *statement = NULL;
    assert_int_equal(sqlite3_prepare_v2(ledger->connection, sql, -1, &statement, NULL), SQLITE_OK);
    assert_int_equal(sqlite3_step(statement), SQLITE_ROW);
    int64_t number = sqlite3_column_int64(statement, 0);
    (void)sqlite3_finalize(statement);
    return number;
}

static inline struct texts_incoming room_pdu(const char *hex, const char *body, int64_t sent_s)
{
    return (struct texts_incoming){.hex = hex,
                                   .from = "+12065550110",
                                   .from_number = true,
                                   .sent_s = sent_s,
                                   .stamp_s = sent_s,
                                   .received_s = sent_s + 5,
                                   .body = body,
                                   .readable = true,
                                   .parts = 1,
                                   .part = 1};
}

/* A text of that person, kept and done. */
static inline int64_t room_text(struct room *room, int64_t person_id, const char *body,
                                int64_t sent_s)
{
    static struct texts_kept kept;
    struct texts_incoming incoming = room_pdu("", body, sent_s);
    assert_int_equal(texts_keep(room->ledger, &incoming, &kept), LEDGER_OK);
    assert_int_equal(texts_set_state(room->ledger, kept.text_id, TEXTS_DONE, person_id), LEDGER_OK);
    return kept.text_id;
}

static inline int64_t room_reading(struct room *room, int64_t machine_id, int64_t meter_hundredths,
                                   int64_t read_s, int64_t text_id)
{
    struct reading_row row = {.machine_id = machine_id,
                              .meter_hundredths = meter_hundredths,
                              .read_s = read_s,
                              .noted_s = read_s,
                              .person_id = room->ines,
                              .text_id = text_id};
    assert_int_equal(readings_add(room->ledger, &row), LEDGER_OK);
    return row.id;
}

#endif
