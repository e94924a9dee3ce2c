/* SPDX-License-Identifier: MIT
 * What a yard says beside its tidy readings, and what must come of it: fixtures/texts/yard.tsv and
 * field.tsv, replayed against a ledger in memory and the yard of fixtures/texts/yard.conf. How the
 * files read stands at the head of the first: they say what must be so, not each word of a reply.
 *
 * Run with YARD_CORPUS_SHOW=1 it prints every text with what comes of it. */
#include "tests/corpus_room.h"

#define CONFIG "fixtures/texts/yard.conf"
#define COLUMNS 6

/* ---- text against what is written of it: `*` any characters, `A|B` either, case and accents aside */

/* Lower case, a vowel without its accent. */
static void fold(const char *text, char *out, size_t size)
{
    static const char vowels[][2] = {"\xa1"
                                     "a",
                                     "\xa9"
                                     "e",
                                     "\xad"
                                     "i",
                                     "\xb3"
                                     "o",
                                     "\xba"
                                     "u",
                                     "\x81"
                                     "a",
                                     "\x89"
                                     "e",
                                     "\x8d"
                                     "i",
                                     "\x93"
                                     "o",
                                     "\x9a"
                                     "u",
                                     "\xa0"
                                     "a",
                                     "\xa8"
                                     "e",
                                     "\xac"
                                     "i",
                                     "\xb2"
                                     "o",
                                     "\xb9"
                                     "u"};
    size_t length = 0;
    for (size_t i = 0; text[i] != '\0' && length + 1 < size; i++) {
        char letter = text[i];
        if (letter == '\xc3' && text[i + 1] != '\0') {
            for (size_t v = 0; v < sizeof vowels / sizeof vowels[0]; v++) {
                if (text[i + 1] == vowels[v][0]) {
                    letter = vowels[v][1];
                }
            }
            i += letter != '\xc3';
        }
        out[length++] = letter >= 'A' && letter <= 'Z' ? (char)(letter + 32) : letter;
    }
    out[length] = '\0';
}

static bool fits(const char *pattern, size_t length, const char *text, size_t text_length)
{
    size_t at = 0;
    size_t star = SIZE_MAX;
    size_t kept = 0;
    size_t i = 0;
    while (i < text_length) {
        if (at < length && pattern[at] == '*') {
            star = at++;
            kept = i;
        } else if (at < length && pattern[at] == text[i]) {
            at++;
            i++;
        } else if (star != SIZE_MAX) {
            at = star + 1;
            i = ++kept;
        } else {
            return false;
        }
    }
    while (at < length && pattern[at] == '*') {
        at++;
    }
    return at == length;
}

/* The end of the piece of text that begins at `from`. */
static const char *piece_end(const char *from, const char *end, const char *between)
{
    const char *found = memmem(from, (size_t)(end - from), between, strlen(between));
    return found != NULL ? found : end;
}

/* Entry by entry. */
static bool entries_fit(const char *pattern, const char *end, const char *outcome)
{
    const char *outcome_end = outcome + strlen(outcome);
    for (;;) {
        const char *one = piece_end(pattern, end, "; ");
        const char *got = piece_end(outcome, outcome_end, "; ");
        if (!fits(pattern, (size_t)(one - pattern), outcome, (size_t)(got - outcome))) {
            return false;
        }
        if (one == end || got == outcome_end) {
            return one == end && got == outcome_end;
        }
        pattern = one + 2;
        outcome = got + 2;
    }
}

static bool outcome_fits(const char *patterns, const char *outcome)
{
    const char *end = patterns + strlen(patterns);
    for (const char *at = patterns;; at = piece_end(at, end, " || ") + 4) {
        const char *one = piece_end(at, end, " || ");
        if (entries_fit(at, one, outcome)) {
            return true;
        }
        if (one == end) {
            return false;
        }
    }
}

/* Whether any of "A|B" stands in the text. */
static bool holds(const char *text, const char *item, const char *end)
{
    for (;;) {
        const char *one = piece_end(item, end, "|");
        if (memmem(text, strlen(text), item, (size_t)(one - item)) != NULL) {
            return true;
        }
        if (one == end) {
            return false;
        }
        item = one + 1;
    }
}

/* All of "A, B" stand in the text, or, where `wanted` is false, none. */
static bool items_fit(const char *items, const char *end, const char *text, bool wanted)
{
    if (end - items == 1 && items[0] == '-') {
        return text[0] == '\0';
    }
    for (;;) {
        const char *one = piece_end(items, end, ", ");
        if (holds(text, items, one) != wanted) {
            return false;
        }
        if (one == end) {
            return true;
        }
        items = one + 2;
    }
}

static bool reply_fits(const char *written, const char *reply, const char *told)
{
    char clauses[1024];
    char said[TEXTS_REPLY_OCTETS];
    char heard[8192];
    fold(written, clauses, sizeof clauses);
    fold(reply, said, sizeof said);
    fold(told, heard, sizeof heard);
    const char *end = clauses + strlen(clauses);
    for (const char *at = clauses;; at = piece_end(at, end, "; ") + 2) {
        const char *one = piece_end(at, end, "; ");
        bool fit = true;
        if (strncmp(at, "has: ", 5) == 0) {
            fit = items_fit(at + 5, one, said, true);
        } else if (strncmp(at, "not: ", 5) == 0) {
            fit = items_fit(at + 5, one, said, false);
        } else if (strncmp(at, "told: ", 6) == 0) {
            fit = items_fit(at + 6, one, heard, true);
        } else if (at[0] == '-') {
            fit = said[0] == '\0';
        } else {
            assert_true(at[0] == '*');
        }
        if (!fit || one == end) {
            return fit;
        }
    }
}

/* ---- the scenes */

/* What goes out to the people of the shop now. */
static void take_told(struct scene *scene, struct instant now, char *told, size_t size)
{
    struct part part;
    int64_t next_s = 0;
    size_t length = 0;
    told[0] = '\0';
    while (desk_next_part(scene->desk, 0, now, &part, &next_s)) {
        struct tpdu tpdu;
        assert_int_equal(tpdu_from_hex(part.line.hex, strlen(part.line.hex), &tpdu), TPDU_OK);
        int32_t person = settings_find_phone(scene->settings, tpdu.other.text);
        if (person >= 0 && scene->settings->people[person].role == SETTINGS_ROLE_SHOP) {
            length += (size_t)snprintf(told + length, length < size ? size - length : 0, "%s|",
                                       tpdu.user.text);
            assert_true(length < size);
        }
        struct part_result result = {.part_id = part.id, .cause = -1};
        desk_part_ended(scene->desk, &result, now);
    }
}

struct totals {
    const char *corpus;
    int texts, wrong;
    bool show;
};

static void play(struct scene *scene, char *line, int number, struct totals *totals)
{
    char *column[COLUMNS] = {0};
    char typed[2048];
    char outcome[4096];
    char told[8192];
    struct desk_answer answer;
    for (size_t i = 0; i < COLUMNS; i++) {
        column[i] = strsep(&line, "\t");
    }
    struct instant now = {.wall_s = time_of(column[0]), .mono_ms = time_of(column[0]) * 1000};
    if (strcmp(column[1], "-") == 0) {
        scene_round(scene, now);
        return;
    }
    assert_non_null(column[COLUMNS - 1]);
    int32_t person = settings_find_person(scene->settings, column[1]);
    assert_true(person >= 0);
    (void)snprintf(typed, sizeof typed, "%s", column[2]);
    unescape(column[2]);
    assert_int_equal(desk_say(scene->desk, person, column[2], now, &answer), LEDGER_OK);
    outcome_of(&answer, outcome, sizeof outcome);
    take_told(scene, now, told, sizeof told);
    bool outcome_well = outcome_fits(column[3], outcome);
    bool reply_well = reply_fits(column[4], answer.reply, told);
    bool short_enough = answer.statement_count > 1 || reply_segments(answer.reply) <= 1;
    totals->texts++;
    totals->wrong += !outcome_well || !reply_well || !short_enough;
    if (totals->show || !outcome_well || !reply_well || !short_enough) {
        print_error("%s:%d: %s: %s\n  wanted%s: %s | %s\n  got:    %s | %s\n", totals->corpus,
                    number, column[1], typed, short_enough ? "" : " in one segment", column[3],
                    column[4], outcome, answer.reply);
        if (told[0] != '\0') {
            print_error("  told:   %s\n", told);
        }
    }
}

static void replay(const char *path, int texts)
{
    struct totals totals = {.corpus = path, .show = getenv("YARD_CORPUS_SHOW") != NULL};
    struct scene scene = {.settings = settings_load(CONFIG, stderr)};
    char *line = NULL;
    size_t room = 0;
    int number = 0;
    assert_non_null(scene.settings);
    assert_true(zone_set(scene.settings->shop.time_zone));
    scene.settings->shop.texts_per_hour = 1000000; /* the caps have their own test */
    scene.settings->shop.texts_per_number = 1000000;
    FILE *corpus = fopen(path, "r");
    assert_non_null(corpus);
    scene_open(&scene);
    while (getline(&line, &room, corpus) > 0) {
        number++;
        line[strcspn(line, "\n")] = '\0';
        if (line[0] == '#') {
            scene_close(&scene);
            scene_open(&scene);
        }
        if (line[0] != '#' && line[0] != '\0' && strncmp(line, "//", 2) != 0) {
            play(&scene, line, number, &totals);
        }
    }
    free(line);
    (void)fclose(corpus);
    scene_close(&scene);
    settings_free(scene.settings);
    print_message("%s: %d texts, %d wrong\n", path, totals.texts, totals.wrong);
    assert_true(totals.texts >= texts);
    assert_int_equal(totals.wrong, 0);
}

static void every_text_of_the_yard_has_its_outcome(void **state)
{
    (void)state;
    replay("fixtures/texts/yard.tsv", 990);
}

static void every_text_of_the_field_has_its_outcome(void **state)
{
    (void)state;
    replay("fixtures/texts/field.tsv", 1360);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_text_of_the_yard_has_its_outcome),
        cmocka_unit_test(every_text_of_the_field_has_its_outcome),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
