/* SPDX-License-Identifier: MIT
 * What people text, in its context, and what comes of it: fixtures/texts/desk.tsv, replayed against
 * a ledger in memory and the yard of fixtures/texts/desk.conf.
 *
 * The file: a line "# NAME" begins a scene with an empty ledger; a line of five columns (tab
 * between) is a text: local time, person, text (\n for a line break), outcome, reply. The outcome
 * has one entry a statement, "; " between: kind, then what is set of machine, hours, "to" hours,
 * plan, quantity, days, "at" time, outcome, "suggests" machine and hours, and the remark in
 * brackets. A reply of "*" is not looked at. A time and "-" is the round of that moment. Lines
 * beginning with "//" are comments.
 *
 * Run with DESK_CORPUS_WRITE=1 it prints the file with what comes of each text now. */
#include "fixtures/standin/tpdu_network.h"
#include "tests/corpus_room.h"

#define CORPUS "fixtures/texts/desk.tsv"
#define CONFIG "fixtures/texts/desk.conf"

struct totals {
    int texts, wrong;
    bool write;
    bool by_line; /* as PDUs, the reply taken from what goes out */
};

/* Hands the text over as the modem would, in as many parts as it takes. */
static void receive(struct scene *scene, const char *from, const char *text, struct instant now,
                    uint16_t reference)
{
    struct tpdu_split split;
    assert_int_equal(tpdu_split(text, strlen(text), (struct tpdu_split_choice){0}, &split),
                     TPDU_OK);
    for (size_t i = 0; i < split.parts; i++) {
        struct tpdu_line line;
        struct tpdu tpdu;
        struct tpdu_deliver_order order = {.from = from,
                                           .part = tpdu_split_part(&split, text, i, reference),
                                           .sent_at_s = now.wall_s};
        assert_int_equal(tpdu_write_deliver(&order, &line), TPDU_OK);
        enum tpdu_error error = tpdu_from_hex(line.hex, line.hex_len, &tpdu);
        assert_true(desk_receive(scene->desk, 0, line.hex, error, &tpdu, now));
    }
}

/* The reply to that number among all that goes out now; "" where there is none. */
static void take_reply(struct scene *scene, const char *to, struct instant now, char *reply,
                       size_t size)
{
    struct part part;
    int64_t next_s = 0;
    size_t length = 0;
    reply[0] = '\0';
    while (desk_next_part(scene->desk, 0, now, &part, &next_s)) {
        struct tpdu tpdu;
        assert_int_equal(tpdu_from_hex(part.line.hex, strlen(part.line.hex), &tpdu), TPDU_OK);
        if (strcmp(tpdu.other.text, to) == 0) {
            length += (size_t)snprintf(reply + length, size - length, "%s", tpdu.user.text);
        }
        struct part_result result = {.part_id = part.id, .cause = -1};
        desk_part_ended(scene->desk, &result, now);
    }
}

/* What the desk leaves without an answer on the air alone: a text with nothing in it that it
 * understood, where such a one was answered just before. */
static bool may_be_silent(const char *outcome)
{
    return strncmp(outcome, "unknown ", 8) == 0;
}

static void play_by_line(struct scene *scene, char *const column[5], int32_t person,
                         struct instant now, int number, struct totals *totals)
{
    char reply[TEXTS_REPLY_OCTETS];
    const char *phone = scene->settings->people[person].phone;
    receive(scene, phone, column[2], now, (uint16_t)number);
    take_reply(scene, phone, now, reply, sizeof reply);
    totals->texts++;
    if (strcmp(column[4], reply[0] != '\0' ? reply : "-") != 0 &&
        !(reply[0] == '\0' && may_be_silent(column[3]))) {
        print_error("%s:%d: by line: %s\n", CORPUS, number, reply);
        totals->wrong++;
    }
}

static void play(struct scene *scene, char *line, int number, struct totals *totals)
{
    char *column[5] = {0};
    char typed[2048];
    char outcome[4096];
    struct desk_answer answer;
    for (size_t i = 0; i < 5; i++) {
        column[i] = strsep(&line, "\t");
    }
    struct instant now = {.wall_s = time_of(column[0])};
    if (strcmp(column[1], "-") == 0) {
        scene_round(scene, now);
        if (totals->write) {
            printf("%s\t-\n", column[0]);
        }
        return;
    }
    if (!totals->write && column[4] == NULL) {
        fail_msg("%s:%d: five columns are wanted", CORPUS, number);
    }
    int32_t person = settings_find_person(scene->settings, column[1]);
    assert_true(person >= 0);
    (void)snprintf(typed, sizeof typed, "%s", column[2]);
    unescape(column[2]);
    if (totals->by_line) {
        play_by_line(scene, column, person, now, number, totals);
        return;
    }
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

static void play_all(struct totals *totals)
{
    struct scene scene = {.settings = settings_load(CONFIG, stderr)};
    char *line = NULL;
    size_t room = 0;
    int number = 0;
    assert_non_null(scene.settings);
    assert_true(zone_set(scene.settings->shop.time_zone));
    /* the caps have their own test */
    scene.settings->shop.texts_per_hour = 1000000;
    scene.settings->shop.texts_per_day = 1000000;
    scene.settings->shop.texts_per_number = 1000000;
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
            if (totals->write) {
                printf("%s\n", line);
            }
            continue;
        }
        play(&scene, line, number, totals);
    }
    free(line);
    (void)fclose(corpus);
    scene_close(&scene);
    settings_free(scene.settings);
}

static void every_text_of_the_corpus_has_its_outcome(void **state)
{
    struct totals totals = {.write = getenv("DESK_CORPUS_WRITE") != NULL};
    (void)state;
    play_all(&totals);
    assert_true(totals.texts >= 400);
    assert_int_equal(totals.wrong, 0);
}

static void the_line_gives_the_same_replies_as_the_counter(void **state)
{
    struct totals totals = {.by_line = true};
    (void)state;
    play_all(&totals);
    assert_true(totals.texts >= 400);
    assert_int_equal(totals.wrong, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_text_of_the_corpus_has_its_outcome),
        cmocka_unit_test(the_line_gives_the_same_replies_as_the_counter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
