/* SPDX-License-Identifier: MIT
 * A year of a yard, through the serial line and nothing else: the whole daemon under the stepped
 * clock, its texts compared line by line with fixtures/year/story.txt, which is to be read aloud.
 *
 * The story: "2027-03-01 07:30 Tom: M12 1031h" is texted by Tom at that moment of the shop's clock;
 * "2027-03-01 07:30 > Tom: ..." is what goes out to him then; "2027-03-01 18:00 ! off" is done to the
 * box: off and on (the main switch), and the name of a roster that takes the place of the one before,
 * by a reload. What begins with "#", and empty lines, stand as they are.
 *
 * `make year` plays it and writes the file anew with what goes out now. */
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "config/settings.h"
#include "daemon/ground/zone.h"
#include "fixtures/conductor/conductor.h"
#include "fixtures/conductor/folder.h"

#define FOLDER "fixtures/year/"
#define STORY FOLDER "story.txt"
#define ROSTER_LAST "roster-june.conf" /* who is who in all of it */
#define LINE_OCTETS 2048
#define MOMENT_OCTETS 16 /* "2027-03-01 07:30" */
#define SETUP_S 120      /* before the first line: the modem is set up */

struct year {
    struct conductor *conductor;
    struct settings *settings;
    FILE *out;                 /* the story as it is now */
    char pending[LINE_OCTETS]; /* remarks of the file that wait for their line */
    int texts_out;
};

static void copy(const char *from_name, const char *to_name)
{
    char from[256], to[256], octets[4096];
    (void)snprintf(from, sizeof from, FOLDER "%s", from_name);
    (void)snprintf(to, sizeof to, "%s/%s", folder_path(), to_name);
    FILE *in = fopen(from, "r");
    FILE *out = fopen(to, "w");
    assert_non_null(in);
    assert_non_null(out);
    for (size_t got; (got = fread(octets, 1, sizeof octets, in)) > 0;) {
        assert_int_equal(fwrite(octets, 1, got, out), got);
    }
    (void)fclose(in);
    assert_int_equal(fclose(out), 0);
}

/* The config in the folder of the test, whose path it is; loaded with that roster. */
static struct settings *set_up(const char *roster, char config[256])
{
    copy("yard.conf", "yard.conf");
    copy(roster, "roster.conf");
    (void)snprintf(config, 256, "%s/meterpost.conf", folder_path());
    FILE *out = fopen(config, "w");
    assert_non_null(out);
    (void)fprintf(out,
                  "modem: { port = \"%s/modem\"; };\nledger = \"%s/meterpost.db\";\n"
                  "door = \"%s/door\";\n@include \"yard.conf\"\n@include \"roster.conf\"\n",
                  folder_path(), folder_path(), folder_path());
    assert_int_equal(fclose(out), 0);
    struct settings *settings = settings_load(config, stderr);
    assert_non_null(settings);
    return settings;
}

/* "2027-03-01 07:30" on the shop's wall; -1 where the line does not begin so. */
static int64_t moment_of(const char *line)
{
    char rfc3339[40];
    int64_t there_s = 0;
    if (strlen(line) <= MOMENT_OCTETS || line[10] != ' ' || line[MOMENT_OCTETS] != ' ') {
        return -1;
    }
    (void)snprintf(rfc3339, sizeof rfc3339, "%.10sT%.5s:00Z", line, line + 11);
    if (!zone_read_rfc3339(rfc3339, &there_s)) {
        return -1;
    }
    return zone_unix((int32_t)(there_s / 86400), (int32_t)(there_s % 86400));
}

/* A text that is out. */
static void see_event(void *ctx, const struct event *event)
{
    struct year *year = ctx;
    char to[32], body[1024], when[ZONE_TEXT_OCTETS];
    int64_t at_s = 0;
    if (strcmp(event->word, "text-out") != 0) {
        return;
    }
    assert_true(event_field(event, "to", to, sizeof to));
    assert_true(event_field(event, "body", body, sizeof body));
    assert_true(zone_read_rfc3339(event->when, &at_s));
    zone_write_rfc3339(at_s, when, sizeof when);
    int32_t person = settings_find_phone(year->settings, to);
    (void)fprintf(year->out, "%.10s %.5s > %s: %s\n", when, when + 11,
                  person >= 0 ? year->settings->people[person].name : to, body);
    year->texts_out++;
}

static void do_to_box(struct year *year, const char *what)
{
    struct conductor *c = year->conductor;
    if (strcmp(what, "off") == 0) {
        assert_int_equal(conductor_end_daemon(c), 0);
    } else if (strcmp(what, "on") == 0) {
        assert_true(conductor_start_daemon(c));
    } else {
        char roster[128];
        (void)snprintf(roster, sizeof roster, "%.100s.conf", what);
        copy(roster, "roster.conf");
        assert_true(conductor_signal_daemon(c, SIGHUP));
        assert_true(conductor_await_log(c, "is in force"));
    }
}

/* One line of the file; what went out before it was played is written anew. */
static void play(struct year *year, const char *line)
{
    int64_t at_s = moment_of(line);
    const char *says = line + MOMENT_OCTETS + 1;
    char name[32];
    if (at_s < 0) {
        assert_true(line[0] == '#' || line[0] == '\0');
        size_t length = strlen(year->pending);
        (void)snprintf(year->pending + length, sizeof year->pending - length, "%s\n", line);
        return;
    }
    if (says[0] == '>') {
        return;
    }
    if (!conductor_advance_until(year->conductor, at_s)) {
        fail_msg("%s", conductor_says(year->conductor));
    }
    (void)fprintf(year->out, "%s%s\n", year->pending, line);
    year->pending[0] = '\0';
    if (says[0] == '!') {
        do_to_box(year, says + 2);
        return;
    }
    size_t length = strcspn(says, ":");
    assert_true(length < sizeof name && says[length] == ':' && says[length + 1] == ' ');
    (void)snprintf(name, sizeof name, "%.*s", (int)length, says);
    int32_t person = settings_find_person(year->settings, name);
    if (!conductor_text(year->conductor, person >= 0 ? year->settings->people[person].phone : name,
                        says + length + 2)) {
        fail_msg("%s", conductor_says(year->conductor));
    }
}

static void play_all(struct year *year)
{
    char line[LINE_OCTETS];
    FILE *story = fopen(STORY, "r");
    assert_non_null(story);
    while (fgets(line, sizeof line, story) != NULL) {
        line[strcspn(line, "\n")] = '\0';
        if (year->conductor == NULL && moment_of(line) >= 0) {
            char config[256];
            settings_free(set_up("roster.conf", config));
            const struct conductor_wish wish = {.folder = folder_path(),
                                                .config = config,
                                                .wall_s = moment_of(line) - SETUP_S,
                                                .zone = year->settings->shop.time_zone};
            year->conductor = conductor_start(&wish);
            conductor_on_event(year->conductor, see_event, year);
        }
        play(year, line);
    }
    (void)fclose(story);
    (void)fprintf(year->out, "%s", year->pending);
}

/* Line by line; how many differ. */
static int compare(char *now)
{
    char wanted[LINE_OCTETS];
    int number = 0, wrong = 0;
    FILE *story = fopen(STORY, "r");
    assert_non_null(story);
    while (fgets(wanted, sizeof wanted, story) != NULL) {
        char *got = strsep(&now, "\n");
        number++;
        wanted[strcspn(wanted, "\n")] = '\0';
        if ((got == NULL || strcmp(wanted, got) != 0) && ++wrong <= 10) {
            print_error(STORY ":%d:\n  wanted: %s\n  got:    %s\n", number, wanted,
                        got != NULL ? got : "(nothing)");
        }
    }
    (void)fclose(story);
    return wrong + (now != NULL && now[0] != '\0');
}

static void a_year_of_texts_is_the_story(void **state)
{
    struct year year = {.conductor = NULL};
    char config[256];
    char *now = NULL;
    size_t length = 0;
    (void)state;
    (void)folder_make();
    year.settings = set_up(ROSTER_LAST, config);
    assert_true(zone_set(year.settings->shop.time_zone));
    year.out = open_memstream(&now, &length);
    assert_non_null(year.out);
    play_all(&year);
    assert_int_equal(fclose(year.out), 0);
    assert_int_equal(conductor_count(year.conductor, "lost", ""), 0);
    assert_int_equal(conductor_count(year.conductor, "too-soon", ""), 0);
    bool ran = conductor_daemon_runs(year.conductor);
    assert_int_equal(conductor_stop(year.conductor), ran ? 0 : -1);
    folder_remove();
    settings_free(year.settings);
    print_message("%d texts out\n", year.texts_out);
    assert_true(year.texts_out > 600);
    if (getenv("YEAR_WRITE") != NULL) {
        FILE *story = fopen(STORY, "w");
        assert_non_null(story);
        assert_int_equal(fwrite(now, 1, length, story), length);
        assert_int_equal(fclose(story), 0);
    } else {
        assert_int_equal(compare(now), 0);
    }
    free(now);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_year_of_texts_is_the_story),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
