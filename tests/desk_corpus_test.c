/* SPDX-License-Identifier: MIT
 * What people text, in its context, and what comes of it: fixtures/texts/desk.tsv, replayed against
 * a ledger in memory and the yard of fixtures/texts/desk.conf.
 *
 * The file: a line "# NAME" begins a scene with an empty ledger; a line of five columns (tab
 * between) is a text: local time, person, text (\n for a line break), outcome, reply. The outcome
 * has one entry a statement, "; " between: kind, then what is set of machine, hours, "to" hours,
 * plan, quantity, days, "at" time, outcome, "suggests" machine and hours, and the remark in
 * brackets. A reply of "*" is not looked at. Lines beginning with "//" are comments.
 *
 * Run with DESK_CORPUS_WRITE=1 it prints the file with what comes of each text now. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "daemon/desk/desk.h"
#include "daemon/desk/reply.h"
#include "daemon/zone.h"
#include "parsers/hours.h"

#define CORPUS "fixtures/texts/desk.tsv"
#define CONFIG "fixtures/texts/desk.conf"

struct scene {
    struct settings *settings;
    struct ledger *ledger;
    struct desk *desk;
};

static void scene_open(struct scene *scene)
{
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS];
    scene->ledger = ledger_open(":memory:", LEDGER_WRITE, &result, says);
    assert_non_null(scene->ledger);
    scene->desk = desk_new(scene->settings, scene->ledger);
    assert_non_null(scene->desk);
}

static void scene_close(struct scene *scene)
{
    desk_free(scene->desk);
    ledger_close(scene->ledger);
    scene->desk = NULL;
    scene->ledger = NULL;
}

static void put(FILE *out, const char *word, int64_t hundredths)
{
    char text[HOURS_TEXT_OCTETS];
    (void)hours_write(hundredths, text, sizeof text);
    (void)fprintf(out, " %s%s", word, text);
}

static void put_statement(FILE *out, const struct desk_statement *row)
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

static void outcome_of(const struct desk_answer *answer, char *out, size_t size)
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

static int64_t time_of(const char *text)
{
    char rfc3339[40];
    int64_t there_s = 0;
    (void)snprintf(rfc3339, sizeof rfc3339, "%.10sT%.5s:00Z", text, text + 11);
    assert_true(zone_read_rfc3339(rfc3339, &there_s));
    int32_t day = (int32_t)(there_s / 86400);
    return zone_unix(day, (int32_t)(there_s % 86400));
}

static void unescape(char *text)
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

struct totals {
    int texts, wrong;
    bool write;
};

static void play(struct scene *scene, char *line, int number, struct totals *totals)
{
    char *column[5] = {0};
    char typed[2048];
    char outcome[4096];
    struct desk_answer answer;
    for (size_t i = 0; i < 5; i++) {
        column[i] = strsep(&line, "\t");
    }
    if (!totals->write && column[4] == NULL) {
        fail_msg("%s:%d: five columns are wanted", CORPUS, number);
    }
    int32_t person = settings_find_person(scene->settings, column[1]);
    assert_true(person >= 0);
    (void)snprintf(typed, sizeof typed, "%s", column[2]);
    unescape(column[2]);
    struct instant now = {.wall_s = time_of(column[0])};
    assert_int_equal(desk_say(scene->desk, person, column[2], now, &answer), LEDGER_OK);
    outcome_of(&answer, outcome, sizeof outcome);
    const char *reply = answer.reply[0] != '\0' ? answer.reply : "-";
    totals->texts++;
    if (answer.statement_count == 1 && reply_segments(answer.reply) > 1) {
        print_error("%s:%d: the reply takes %zu segments\n", CORPUS, number,
                    reply_segments(answer.reply));
        totals->wrong++;
    }
    if (totals->write) {
        bool any = column[4] != NULL && strcmp(column[4], "*") == 0;
        printf("%s\t%s\t%s\t%s\t%s\n", column[0], column[1], typed, outcome, any ? "*" : reply);
        return;
    }
    if (strcmp(column[3], outcome) != 0 ||
        (strcmp(column[4], "*") != 0 && strcmp(column[4], reply) != 0)) {
        print_error("%s:%d: %s\n  wanted: %s | %s\n  got:    %s | %s\n", CORPUS, number, typed,
                    column[3], column[4], outcome, reply);
        totals->wrong++;
    }
}

static void every_text_of_the_corpus_has_its_outcome(void **state)
{
    struct scene scene = {.settings = settings_load(CONFIG, stderr)};
    struct totals totals = {.write = getenv("DESK_CORPUS_WRITE") != NULL};
    char *line = NULL;
    size_t room = 0;
    int number = 0;
    (void)state;
    assert_non_null(scene.settings);
    assert_true(zone_set(scene.settings->shop.time_zone));
    FILE *corpus = fopen(CORPUS, "r");
    assert_non_null(corpus);
    scene_open(&scene);
    while (getline(&line, &room, corpus) > 0) {
        number++;
        line[strcspn(line, "\n")] = '\0';
        if (line[0] == '#') {
            scene_close(&scene);
            scene_open(&scene);
        }
        if (line[0] == '#' || line[0] == '\0' || strncmp(line, "//", 2) == 0) {
            if (totals.write) {
                printf("%s\n", line);
            }
            continue;
        }
        play(&scene, line, number, &totals);
    }
    free(line);
    (void)fclose(corpus);
    scene_close(&scene);
    settings_free(scene.settings);
    assert_true(totals.texts > 0);
    assert_int_equal(totals.wrong, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_text_of_the_corpus_has_its_outcome),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
