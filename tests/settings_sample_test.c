/* SPDX-License-Identifier: MIT
 * The sample file and the manual page are well as they stand, and leave no setting out. */
#include "tests/config_file.h"

#include <string.h>

#include "config/settings.h"
#include "config/settings_mistakes.h"

#define SAMPLE "config/meterpost.conf"
#define MANUAL "docs/meterpost.conf.5"

static void the_sample_is_well_as_it_stands(void **state)
{
    (void)state;
    struct settings *settings = settings_load(SAMPLE, stderr);
    assert_non_null(settings);
    assert_int_equal(settings->machine_count, 3);
    assert_int_equal(settings->plans[0].plan.first_hundredths, 7500);
    assert_int_equal(settings->plans[0].plan.every_hundredths, 50000);
    assert_true(settings->plans[0].step_count > 10);
    assert_int_equal(settings->plans[0].caution_count, 7); /* the usual ones are the sheet's */
    settings_free(settings);
}

/* What is said about the sample is about its mode, which the installer settles, not its content. */
static void nothing_in_the_sample_is_left_over(void **state)
{
    (void)state;
    struct settings *settings = settings_load(SAMPLE, stderr);
    struct settings_mistakes notes = {0};
    assert_non_null(settings);
    settings_notes(settings, 20879, &notes); /* 2027-03-02 */
    for (size_t i = 0; i < notes.count; i++) {
        assert_non_null(strstr(notes.list[i].says, "chmod"));
    }
    settings_mistakes_free(&notes);
    settings_free(settings);
}

/* A line that is set in further than the one before goes on from it. */
static void unfold(char *text)
{
    size_t before = 0;
    for (char *line = text; *line != '\0'; line += strcspn(line, "\n") + 1) {
        size_t indent = strspn(line, " ");
        if (line > text && indent == before + 2 && before > 0 &&
            strncmp(line, "    first", 9) != 0) {
            line[-1] = ' ';
            memmove(line, line + indent, strlen(line + indent) + 1);
        } else {
            before = indent;
        }
    }
}

/* All of it, in the summary of that file. */
static void expect_told(const char *path, const char *const *said, size_t count)
{
    char *summary = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&summary, &length);
    struct settings *settings = settings_load(path, stderr);
    assert_non_null(settings);
    assert_non_null(out);
    settings_describe(settings, out);
    assert_int_equal(fclose(out), 0);
    unfold(summary);
    for (size_t i = 0; i < count; i++) {
        if (strstr(summary, said[i]) == NULL) {
            fail_msg("not in the summary: %s\n%s", said[i], summary);
        }
    }
    free(summary);
    settings_free(settings);
}

static void the_summary_says_machines_plans_people_and_hours(void **state)
{
    static const char *const said[] = {
        "Alder Works\n  texts at +12065550100; time zone America/Los_Angeles; oil is counted in "
        "qt; ",
        " alerts go out from 07:00 to 17:00 on mon tue wed thu fri, not on 2027-01-01, "
        "2027-07-05, ",
        " bays: 1, with 420 minutes of work a day; board /var/lib/meterpost/board.html\n",
        "  drive: Drive oil and filters / Aceite y filtros de mando / Huile et filtres de "
        "transmission\n",
        " first at 75 h, then every 500 h, or after 12 months, whichever comes first, counted from "
        "last-service; coming up 25 h or 14 days before; overdue 10 h or 14 days after; ",
        " blanks on the job sheet: 3\n    takes 20W-50 synthetic, 5 qt, sold in 1, sides: 2\n",
        "  slope-48: plans: drive; 18 h a week, at most 12 h a day; the meter goes to 99999.9 h\n",
        "  M12: ridge-60; at Harbor Park; crew Ines; drive last done at 1075 h on 2026-03-14; "
        "belts "
        "last done at 1300 h\n",
        "  M14: ridge-60; crew Ines, Tom; the 12 months of drive count from the first reading\n",
        "  Rosa: +12065550111, shop, answered in en; gets the alerts\n"};
    (void)state;
    expect_told(SAMPLE, said, sizeof said / sizeof said[0]);
}

static void what_a_season_needs_is_told(void **state)
{
    static const char text[] =
        "shop: { bays = 2; board = \"\"; silence_days = 0; escalate = { days = 5; to = (\"Ann\"); "
        "}; "
        "};\n"
        "modem: { reports = false; };\n"
        "plans: ( { name = \"drive\"; remind_days = 0; tell_crew = false; kit = ( { item = "
        "\"oil\"; "
        "quantity = 2.5; unit = \"l\"; lead_days = 3; on_hand = 4; } ); } );\n"
        "people: ( { name = \"Ann\"; phone = \"+12065550113\"; role = \"shop\"; sites = "
        "(\"Dock\"); "
        "} );\n"
        "machines: ( { name = \"M12\"; site = \"Dock\"; formerly = (\"M3\", \"M4\"); },\n"
        "  { name = \"M14\"; gone = \"2026-10-01\"; crew = (\"Ann\"); } );\n";
    static const char *const said[] = {
        "bays: 2, with 420 minutes of work a day; no board\n",
        "nobody asks after a silent machine",
        "  what is 5 days overdue and not booked goes to Ann\n",
        "  no modem yet, 115200 bit/s; no delivery reports are asked for; ledger ",
        "; no reminders; ",
        "; the crew is not told when it is due\n",
        "    takes oil, 2.5 l, sold in 1, 3 days to get, 4 on hand, sides: 1\n",
        ("  M12: mower; at Dock; formerly M3, M4; the 12 months of drive count from the first "
         "reading\n"),
        "  M14: mower; crew Ann; gone on 2026-10-01: its record stays, nothing comes due\n",
        "  Ann: +12065550113, shop, answered in en, told of Dock alone; gets the alerts\n"};
    (void)state;
    struct config_file file = config_file_write(text);
    expect_told(file.path, said, sizeof said / sizeof said[0]);
    config_file_remove(&file);
}

/* A whole file as text; freed by the caller. */
static char *text_of(const char *path)
{
    char *text = calloc(1, 1 << 20);
    FILE *in = fopen(path, "r");
    assert_non_null(text);
    assert_non_null(in);
    assert_true(fread(text, 1, (1 << 20) - 1, in) > 0);
    assert_int_equal(fclose(in), 0);
    return text;
}

/* The names that are known where a setting called "zzzzzzzz" is not: from the message about it.
 * Freed by the caller; names are parted by a comma and a space. */
static char *known_settings(const char *text)
{
    static const char before[] = "; one of ", behind[] = " is expected\n";
    char *said = NULL;
    size_t length = 0;
    struct config_file file = config_file_write(text);
    FILE *out = open_memstream(&said, &length);
    assert_non_null(out);
    assert_null(settings_load(file.path, out));
    assert_int_equal(fclose(out), 0);
    config_file_remove(&file);
    char *known = strstr(said, before);
    assert_non_null(known);
    memmove(said, known + strlen(before), strlen(known + strlen(before)) + 1);
    char *end = strstr(said, behind);
    assert_non_null(end);
    *end = '\0';
    return said;
}

/* True where name stands in text as a whole word. */
static bool has_word(const char *text, const char *name)
{
    static const char letters[] = "abcdefghijklmnopqrstuvwxyz_-";
    for (const char *at = strstr(text, name); at != NULL; at = strstr(at + 1, name)) {
        char before = at == text ? ' ' : at[-1], behind = at[strlen(name)];
        if (strchr(letters, before) == NULL &&
            (behind == '\0' || strchr(letters, behind) == NULL)) {
            return true;
        }
    }
    return false;
}

static void sample_and_manual_leave_no_setting_out(void **state)
{
    static const char *const places[] = {
        "zzzzzzzz = 1;\n",
        "modem: { zzzzzzzz = 1; };\n",
        "shop: { zzzzzzzz = 1; };\n",
        "shop: { escalate = { zzzzzzzz = 1; to = (); }; };\npeople: ();\n",
        "plans: ( { name = \"a\"; zzzzzzzz = 1; } );\n",
        "plans: ( { name = \"a\"; kit = ( { item = \"b\"; zzzzzzzz = 1; } ); } );\n",
        "kinds: ( { name = \"a\"; zzzzzzzz = 1; } );\n",
        "people: ( { name = \"Tom\"; phone = \"+12065550112\"; zzzzzzzz = 1; } );\n",
        "machines: ( { name = \"M7\"; zzzzzzzz = 1; } );\n",
        "machines: ( { name = \"M7\"; last_done = { drive = { zzzzzzzz = 1; }; }; } );\n"};
    (void)state;
    char *sample = text_of(SAMPLE), *manual = text_of(MANUAL);
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        char *known = known_settings(places[i]);
        for (char *name = strtok(known, ", "); name != NULL; name = strtok(NULL, ", ")) {
            if (!has_word(sample, name) || !has_word(manual, name)) {
                fail_msg("%s is not in both %s and %s", name, SAMPLE, MANUAL);
            }
        }
        free(known);
    }
    free(sample);
    free(manual);
}

static void the_examples_of_the_manual_are_well(void **state)
{
    (void)state;
    char *manual = text_of(MANUAL);
    int examples = 0;
    for (char *at = strstr(manual, ".Bd -literal"); at != NULL; at = strstr(at, ".Bd -literal")) {
        at += strcspn(at, "\n") + 1;
        char *end = strstr(at, ".Ed");
        assert_non_null(end);
        *end = '\0';
        if (strstr(at, "machines: (") != NULL) {
            struct config_file file = config_file_write(at);
            struct settings *settings = settings_load(file.path, stderr);
            config_file_remove(&file);
            assert_non_null(settings);
            settings_free(settings);
            examples++;
        }
        at = end + 1;
    }
    assert_int_equal(examples, 2);
    free(manual);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_sample_is_well_as_it_stands),
        cmocka_unit_test(nothing_in_the_sample_is_left_over),
        cmocka_unit_test(the_summary_says_machines_plans_people_and_hours),
        cmocka_unit_test(what_a_season_needs_is_told),
        cmocka_unit_test(sample_and_manual_leave_no_setting_out),
        cmocka_unit_test(the_examples_of_the_manual_are_well),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
