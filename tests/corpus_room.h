/* SPDX-License-Identifier: MIT
 * corpus_room: a corpus of texts replayed against a desk with a ledger in memory: its scenes, its
 * times, and what came of a text as the corpora write it down. */
#ifndef METERPOST_TESTS_CORPUS_ROOM_H
#define METERPOST_TESTS_CORPUS_ROOM_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "daemon/desk/desk.h"
#include "daemon/desk/turn.h"
#include "daemon/ground/zone.h"
#include "parsers/hours.h"
#include "parsers/tpdu_write.h"

struct scene {
    struct settings *settings;
    struct ledger *ledger;
    struct desk *desk;
};

static inline void scene_open(struct scene *scene)
{
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS];
    scene->ledger = ledger_open(":memory:", LEDGER_WRITE, &result, says);
    assert_non_null(scene->ledger);
    scene->desk = desk_new(scene->settings, scene->ledger);
    assert_non_null(scene->desk);
}

static inline void scene_close(struct scene *scene)
{
    desk_free(scene->desk);
    ledger_close(scene->ledger);
    scene->desk = NULL;
    scene->ledger = NULL;
}

/* The round of that moment; what goes out by it is not looked at. */
static inline void scene_round(struct scene *scene, struct instant now)
{
    struct part part;
    int64_t next_s = 0;
    (void)desk_round(scene->desk, now);
    while (desk_next_part(scene->desk, 0, now, &part, &next_s)) {
        struct part_result result = {.part_id = part.id, .cause = -1};
        desk_part_ended(scene->desk, &result, now);
    }
}

static inline void put(FILE *out, const char *word, int64_t hundredths)
{
    char text[HOURS_TEXT_OCTETS];
    (void)hours_write(hundredths, text, sizeof text);
    (void)fprintf(out, " %s%s", word, text);
}

static inline void put_statement(FILE *out, const struct desk_statement *row)
{
    static const char *const outcomes[] = {"done", "asked", "refused"};
    (void)fprintf(out, "%s", row->kind);
    if (row->machine != NULL) {
        (void)fprintf(out, " %s", row->machine);
    }
    if (row->has_hours) {
        put(out, "", row->hours_hundredths);
    }
    if (row->has_to_hours) {
        put(out, "to ", row->to_hours_hundredths);
    }
    if (row->plan != NULL) {
        (void)fprintf(out, " %s", row->plan);
    }
    if (row->has_quantity) {
        put(out, "quantity ", row->quantity_thousandths / 10);
    }
    if (row->has_days) {
        (void)fprintf(out, " days %d", row->days);
    }
    if (row->has_read_at) {
        char time[ZONE_TEXT_OCTETS];
        zone_write_rfc3339(row->read_at_s, time, sizeof time);
        (void)fprintf(out, " at %.16s", time);
    }
    (void)fprintf(out, " %s", outcomes[row->outcome]);
    if (row->suggests_machine != NULL) {
        (void)fprintf(out, " suggests %s", row->suggests_machine);
    }
    if (row->has_suggests) {
        put(out, row->suggests_machine != NULL ? "" : "suggests ", row->suggests_hundredths);
    }
    if (row->remark[0] != '\0') {
        (void)fprintf(out, " [%s]", row->remark);
    }
}

static inline void outcome_of(const struct desk_answer *answer, char *out, size_t size)
{
    FILE *stream = fmemopen(out, size, "w");
    assert_non_null(stream);
    for (uint8_t i = 0; i < answer->statement_count; i++) {
        (void)fprintf(stream, "%s", i > 0 ? "; " : "");
        put_statement(stream, &answer->statements[i]);
    }
    if (answer->statement_count == 0) {
        (void)fprintf(stream, "-");
    }
    (void)fputc('\0', stream);
    assert_int_equal(fclose(stream), 0);
    for (char *at = strchr(out, '\n'); at != NULL; at = strchr(at, '\n')) {
        *at = '|';
    }
}

static inline int64_t time_of(const char *text)
{
    char rfc3339[40];
    int64_t there_s = 0;
    (void)snprintf(rfc3339, sizeof rfc3339, "%.10sT%.5s:00Z", text, text + 11);
    assert_true(zone_read_rfc3339(rfc3339, &there_s));
    int32_t day = (int32_t)(there_s / 86400);
    return zone_unix(day, (int32_t)(there_s % 86400));
}

static inline void unescape(char *text)
{
    char *to = text;
    for (const char *from = text; *from != '\0'; from++) {
        if (from[0] == '\\' && from[1] == 'n') {
            *to++ = '\n';
            from++;
        } else {
            *to++ = *from;
        }
    }
    *to = '\0';
}

#endif
