/* SPDX-License-Identifier: MIT
 * flood_verdict: see the header. Texts are compared as the transcript and the ledger have them,
 * each with its sender, and as often as it was sent: what is missing and what is there too often
 * are counted. */
#include "tests/bench/flood_verdict.h"

#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include <sqlite3.h>

#define IDLE_AIM_KIB (5 * 1024)
#define MEMORY_MOST_KIB (8 * 1024)
/* SQLite takes the WAL into the file at a thousand pages of 4 KiB, once a transaction is over. */
#define WAL_MOST (8 * 1024 * 1024)
#define OCTETS_A_TEXT_MOST 2048
#define LOG_OCTETS_A_TEXT_MOST 256
#define ALERT_MOST_MS 60000 /* for the sending of what is under way */

#if defined(__SANITIZE_ADDRESS__)
#define SANITIZED true
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define SANITIZED true
#endif
#endif
#ifndef SANITIZED
#define SANITIZED false
#endif

static bool bound(bool held, const char *format, ...) __attribute__((format(printf, 2, 3)));
static bool bound(bool held, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    (void)printf("%s ", held ? "held  " : "MISSED");
    (void)vprintf(format, arguments);
    (void)printf("\n");
    va_end(arguments);
    return held;
}

static int64_t ask(sqlite3 *books, const char *query)
{
    sqlite3_stmt *statement = NULL;
    int64_t answer = -1;
    if (sqlite3_prepare_v2(books, query, -1, &statement, NULL) == SQLITE_OK &&
        sqlite3_step(statement) == SQLITE_ROW) {
        answer = sqlite3_column_int64(statement, 0);
    } else {
        (void)fprintf(stderr, "flood: %s: %s\n", query, sqlite3_errmsg(books));
    }
    (void)sqlite3_finalize(statement);
    return answer;
}

static void note(sqlite3_stmt *statement, const struct event *event)
{
    char from[64], body[EVENTS_LINE_OCTETS];
    if (event_field(event, "from", from, sizeof from) &&
        event_field(event, "body", body, sizeof body)) {
        (void)sqlite3_bind_text(statement, 1, from, -1, SQLITE_STATIC);
        (void)sqlite3_bind_text(statement, 2, body, -1, SQLITE_STATIC);
        (void)sqlite3_step(statement);
        (void)sqlite3_reset(statement);
    }
}

/* The texts of the transcript, in memory, beside the ledger. NULL where that cannot be. */
static sqlite3 *open_books(const char *ledger, const char *folder)
{
    static struct events events;
    static struct event event;
    char path[300];
    sqlite3 *books = NULL;
    sqlite3_stmt *statement = NULL;
    (void)snprintf(path, sizeof path, "%s/transcript", folder);
    char *attach = sqlite3_mprintf("ATTACH %Q AS ledger; BEGIN;"
                                   "CREATE TABLE sent (phone TEXT, body TEXT)",
                                   ledger);
    bool good = sqlite3_open(":memory:", &books) == SQLITE_OK && attach != NULL &&
                sqlite3_exec(books, attach, NULL, NULL, NULL) == SQLITE_OK &&
                sqlite3_prepare_v2(books, "INSERT INTO sent VALUES (?1, ?2)", -1, &statement,
                                   NULL) == SQLITE_OK &&
                events_open(&events, path);
    while (good && events_next(&events, &event)) {
        if (strcmp(event.word, "text-in") == 0) {
            note(statement, &event);
        }
    }
    (void)sqlite3_finalize(statement);
    sqlite3_free(attach);
    if (!good) {
        (void)sqlite3_close(books);
        return NULL;
    }
    events_close(&events);
    return books;
}

#define SENT "SELECT phone, body, count(*) AS n FROM sent GROUP BY phone, body"
#define KEPT "SELECT phone, body, count(*) AS n FROM ledger.texts_in GROUP BY phone, body"

static bool judge_texts(sqlite3 *books, const struct flood_facts *facts,
                        const struct flood_watch *watch)
{
    int64_t kept = ask(books, "SELECT count(*) FROM ledger.texts_in");
    int64_t lost = ask(books, "SELECT coalesce(sum(s.n - coalesce(k.n, 0)), 0) FROM (" SENT
                              ") s LEFT JOIN (" KEPT ") k USING (phone, body) "
                              "WHERE s.n > coalesce(k.n, 0)");
    int64_t twice = ask(books, "SELECT coalesce(sum(k.n - coalesce(s.n, 0)), 0) FROM (" KEPT
                               ") k LEFT JOIN (" SENT ") s USING (phone, body) "
                               "WHERE k.n > coalesce(s.n, 0)");
    int64_t strangers = ask(books, "SELECT count(*) FROM ledger.texts_in WHERE person_id IS NULL");
    int64_t answered = ask(books, "SELECT count(*) FROM ledger.texts_in t JOIN ledger.texts_out o "
                                  "ON o.about_id = t.id WHERE t.state = 'stranger'");
    int64_t readings = ask(books, "SELECT count(*) FROM ledger.readings WHERE struck_s IS NULL");
    bool held = bound(lost == 0 && twice == 0 && watch->lost == 0 && watch->texts_in > 0,
                      "texts in %zu, kept %" PRId64 ", lost %" PRId64 ", counted twice %" PRId64,
                      watch->texts_in, kept, lost, twice);
    held = bound(watch->stored == watch->deleted,
                 "parts in the modem %zu, deleted there once kept %zu", watch->stored,
                 watch->deleted) &&
           held;
    held = bound(readings == (int64_t)facts->readings_sent, "readings sent %zu, on record %" PRId64,
                 facts->readings_sent, readings) &&
           held;
    return bound(answered == 0 && strangers > 0, "of strangers %" PRId64 ", answered %" PRId64,
                 strangers, answered) &&
           held;
}

static bool judge_texts_out(const struct flood_facts *facts, const struct flood_watch *watch)
{
    bool told = watch->caused_ms >= 0 && watch->told_ms >= watch->caused_ms;
    int64_t delay_ms = watch->told_ms - watch->caused_ms;
    bool held = bound(watch->hour_most <= facts->texts_per_hour && watch->texts_out > 0,
                      "texts out %zu, at most %zu in any hour (cap %zu)", watch->texts_out,
                      watch->hour_most, facts->texts_per_hour);
    held = bound(facts->waiting_most >= 0 && facts->waiting_most <= facts->waiting_cap,
                 "replies that waited at its end %" PRId64 " (cap %" PRId64 ")",
                 facts->waiting_most, facts->waiting_cap) &&
           held;
    if (!told) {
        return bound(false, "the shop's alert never went out");
    }
    return bound(delay_ms <= ALERT_MOST_MS && watch->between <= 1 && facts->overtaken > 0,
                 "the shop's alert went out %" PRId64
                 " ms after its cause, %zu texts before it; it "
                 "overtook %" PRId64 " replies",
                 delay_ms, watch->between, facts->overtaken) &&
           held;
}

static int64_t log_octets(const char *folder)
{
    char path[300];
    struct stat found;
    (void)snprintf(path, sizeof path, "%s/daemon.log", folder);
    return stat(path, &found) == 0 ? (int64_t)found.st_size : 0;
}

static bool judge_room(const struct flood_facts *facts, const struct flood_watch *watch,
                       const char *folder)
{
    int64_t texts = watch->texts_in > 0 ? (int64_t)watch->texts_in : 1;
    int64_t grown = (facts->ledger_after - facts->ledger_before) / texts;
    int64_t logged = log_octets(folder) / texts;
    bool held = bound(grown > 0 && grown <= OCTETS_A_TEXT_MOST,
                      "the ledger grew by %" PRId64 " octets a text (most %d), to %" PRId64 " KiB",
                      grown, OCTETS_A_TEXT_MOST, facts->ledger_after / 1024);
    held = bound(facts->wal_most > 0 && facts->wal_most <= WAL_MOST,
                 "its WAL was at most %" PRId64 " KiB (most %d)", facts->wal_most / 1024,
                 WAL_MOST / 1024) &&
           held;
    held = bound(logged <= LOG_OCTETS_A_TEXT_MOST,
                 "the log grew by %" PRId64 " octets a text (most %d)", logged,
                 LOG_OCTETS_A_TEXT_MOST) &&
           held;
    if (SANITIZED) {
        (void)printf("        memory is not judged: the sanitizers take their own\n");
        return held;
    }
    /* Not judged: how much of the shared libraries counts depends on the box and on chance. */
    (void)printf("        idle it had %" PRId64
                 " KiB of memory, shared libraries and all (aim: %d)\n",
                 facts->idle_kib, IDLE_AIM_KIB);
    return bound(facts->memory_kib > 0 && facts->memory_kib < MEMORY_MOST_KIB,
                 "the daemon had at most %" PRId64 " KiB of memory (below %d)", facts->memory_kib,
                 MEMORY_MOST_KIB) &&
           held;
}

bool flood_verdict(const struct flood_facts *facts, const struct flood_watch *watch,
                   const char *ledger, const char *folder)
{
    sqlite3 *books = open_books(ledger, folder);
    if (books == NULL) {
        return bound(false, "transcript and ledger cannot be held side by side");
    }
    bool held = judge_texts(books, facts, watch);
    held = judge_texts_out(facts, watch) && held;
    held = judge_room(facts, watch, folder) && held;
    (void)sqlite3_close(books);
    return held;
}
