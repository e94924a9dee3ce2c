/* SPDX-License-Identifier: MIT
 * The verb check: a summary and status 0, or each mistake and status 78; the same as JSON. */
#include "tests/config_file.h"

#include <string.h>
#include <sys/stat.h>

#include "config/settings.h"
#include "daemon/counter/verbs.h"
#include "daemon/desk/desk.h"
#include "daemon/ground/zone.h"

static const char well[] =
    "people: ( { name = \"Rosa\"; phone = \"+12065550111\"; role = \"shop\"; } );\n"
    "machines: ( { name = \"M7\"; } );\n";
static const char ill[] = "people: ( { name = \"Rosa\"; phone = \"+12065550111\"; } );\n"
                          "machines: ( { name = \"M7\"; kind = \"mowr\"; } );\n";

struct outcome {
    int status;
    char *out, *err; /* freed by forget */
    char path[64];
};

static struct outcome check_at(const char *text, bool json, const char *now)
{
    struct outcome outcome = {0};
    size_t out_length = 0, err_length = 0;
    struct config_file file = config_file_write(text);
    FILE *out = open_memstream(&outcome.out, &out_length);
    FILE *err = open_memstream(&outcome.err, &err_length);
    assert_non_null(out);
    assert_non_null(err);
    assert_int_equal(chmod(file.path, 0640), 0);
    const struct options options = {.config = file.path, .json = json, .now = now};
    outcome.status = check_verb(&options, out, err);
    assert_int_equal(fclose(out), 0);
    assert_int_equal(fclose(err), 0);
    snprintf(outcome.path, sizeof outcome.path, "%s", file.path);
    config_file_remove(&file);
    return outcome;
}

static struct outcome check(const char *text, bool json)
{
    return check_at(text, json, NULL);
}

static void forget(struct outcome *outcome)
{
    free(outcome->out);
    free(outcome->err);
}

static void a_good_file_is_summed_up(void **state)
{
    (void)state;
    struct outcome outcome = check(well, false);
    assert_int_equal(outcome.status, 0);
    assert_string_equal(outcome.err, "");
    assert_non_null(
        strstr(outcome.out, "  M7: mower; the 12 months of drive count from the first reading\n"));
    assert_non_null(strstr(outcome.out, "Worth a look\n  M7 has no crew;"));
    assert_non_null(strstr(outcome.out, ": no mistake found\n"));
    forget(&outcome);
}

static void a_bad_file_is_not_summed_up(void **state)
{
    (void)state;
    char wanted[512];
    struct outcome outcome = check(ill, false);
    snprintf(wanted, sizeof wanted,
             "%s:2: machine \"M7\": no kind is called \"mowr\"; did you mean \"mower\"?\n"
             "%s: 1 mistake; a running daemon keeps its last good settings\n",
             outcome.path, outcome.path);
    assert_int_equal(outcome.status, 78);
    assert_string_equal(outcome.out, "");
    assert_string_equal(outcome.err, wanted);
    forget(&outcome);
}

static void json_says_ok_or_each_mistake(void **state)
{
    (void)state;
    struct outcome outcome = check(ill, true);
    assert_int_equal(outcome.status, 78);
    assert_string_equal(outcome.err, "");
    assert_string_equal(outcome.out,
                        "{ \"status\": \"mistakes\", \"mistakes\": [ { \"line\": 2, \"says\": "
                        "\"machine \\\"M7\\\": no kind is called \\\"mowr\\\"; did you mean "
                        "\\\"mower\\\"?\" } ] }\n");
    forget(&outcome);
    outcome = check(well, true);
    assert_int_equal(outcome.status, 0);
    assert_non_null(strstr(outcome.out, "{ \"status\": \"ok\", \"mistakes\": [ ], \"notes\": [ "));
    forget(&outcome);
}

static void what_may_have_been_forgotten_is_noted(void **state)
{
    static const char *const noted[] = {
        "nobody has role = \"shop\", so that alerts reach nobody",
        "Tom looks after no machine",
        "M8 is of kind bare, which has no plan; nothing will come due",
        "no kind has the plan belts",
        "no machine is of the kind spare",
        "drive has no title in \"es\", in which Ines is answered; titles = { es = \"...\"; } gives "
        "it "
        "one",
        "so that nobody is told what to have ready; the sample config has one",
        "modem.port is unsaid; \"meterpost modem\" finds it"};
    (void)state;
    struct outcome outcome =
        check("plans: ( { name = \"drive\"; },\n"
              "         { name = \"belts\"; titles = { es = \"Bandas\"; }; } );\n"
              "kinds: ( { name = \"bare\"; plans = (); },\n"
              "         { name = \"spare\"; plans = (\"drive\"); } );\n"
              "people: ( { name = \"Tom\"; phone = \"+12065550112\"; },\n"
              "          { name = \"Ines\"; phone = \"+12065550110\"; "
              "language = \"es\"; } );\n"
              "machines: ( { name = \"M8\"; kind = \"bare\"; } );\n",
              false);
    assert_int_equal(outcome.status, 0);
    for (size_t i = 0; i < sizeof noted / sizeof noted[0]; i++) {
        if (strstr(outcome.out, noted[i]) == NULL) {
            fail_msg("not noted: %s\nin: %s", noted[i], outcome.out);
        }
    }
    assert_null(strstr(outcome.out, "belts has no title"));
    forget(&outcome);
}

/* A yard whose M7 shows 900 h, the last drive service at 575 h; its ledger lies at path. */
static void keep_a_reading(const char *text, const char *path)
{
    char says[LEDGER_SAYS_OCTETS];
    enum ledger_result result;
    struct desk_answer answer;
    struct config_file file = config_file_write(text);
    struct settings *settings = settings_load(file.path, stderr);
    config_file_remove(&file);
    assert_non_null(settings);
    assert_true(zone_set(settings->shop.time_zone));
    struct ledger *ledger = ledger_open(path, LEDGER_WRITE, &result, says);
    struct desk *desk = desk_new(settings, ledger);
    assert_non_null(ledger);
    assert_non_null(desk);
    struct instant now = {.wall_s = 1806400000}; /* in March 2027 */
    assert_int_equal(desk_say(desk, 0, "M7 900h", now, &answer), LEDGER_OK);
    desk_free(desk);
    ledger_close(ledger);
    settings_free(settings);
}

/* The interval of the plan is what the cases change. */
static void yard_text(char *text, size_t size, const char *folder, int every)
{
    snprintf(text, size,
             "ledger = \"%s/ledger.db\"; shop: { time_zone = \"America/Los_Angeles\"; };\n"
             "plans: ( { name = \"drive\"; first = 75; every = %d; months = 0; } );\n"
             "people: ( { name = \"Rosa\"; phone = \"+12065550111\"; role = \"shop\"; } );\n"
             "machines: ( { name = \"M7\"; last_done = { drive = 575; }; } );\n",
             folder, every);
}

static void remove_ledger(const char *folder)
{
    static const char *const names[] = {"ledger.db",      "ledger.db-wal",  "ledger.db-shm",
                                        "ledger.db.lock", "ledger.db.work", "ledger.db.made"};
    char path[64];
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        snprintf(path, sizeof path, "%s/%s", folder, names[i]);
        unlink(path);
    }
    assert_int_equal(rmdir(folder), 0);
}

static void a_service_of_the_past_that_is_still_to_come_is_noted(void **state)
{
    static const char text[] =
        "people: ( { name = \"Rosa\"; phone = \"+12065550111\"; role = \"shop\"; } );\n"
        "machines: ( { name = \"M7\"; last_done = { drive = { hours = 75; on = \"2027-03-14\"; }; "
        "}; } );\n";
    static const char note[] = "  M7: last_done of drive is on 2027-03-14, a day still to come\n";
    (void)state;
    struct outcome outcome = check_at(text, false, "2027-03-13T12:00:00Z");
    assert_int_equal(outcome.status, 0);
    assert_non_null(strstr(outcome.out, note));
    forget(&outcome);
    outcome = check_at(text, false, "2027-03-14T12:00:00Z");
    assert_null(strstr(outcome.out, note));
    forget(&outcome);
}

static void what_a_changed_plan_would_tell_the_shop_is_said_before(void **state)
{
    static const char now[] = "2027-03-31T12:00:00-07:00";
    char text[1024], path[64], folder[] = "/tmp/check-XXXXXX";
    (void)state;
    assert_non_null(mkdtemp(folder));
    snprintf(path, sizeof path, "%s/ledger.db", folder);
    yard_text(text, sizeof text, folder, 500);
    keep_a_reading(text, path);
    struct outcome outcome = check_at(text, true, now);
    assert_null(strstr(outcome.out, "\"raises\""));
    forget(&outcome);
    yard_text(text, sizeof text, folder, 300);
    outcome = check_at(text, true, now);
    assert_int_equal(outcome.status, 0);
    assert_non_null(strstr(outcome.out, "\"raises\": [ { \"machine\": \"M7\", \"plan\": \"drive\", "
                                        "\"stage\": \"overdue\" } ]"));
    forget(&outcome);
    outcome = check_at(text, false, now);
    assert_non_null(
        strstr(outcome.out, "Told to the shop once this is in force\n  M7 drive: overdue\n"));
    forget(&outcome);
    remove_ledger(folder);
}

static void a_moment_that_is_none_is_wrong_use(void **state)
{
    (void)state;
    struct outcome outcome = check_at(well, false, "noon");
    assert_int_equal(outcome.status, 64);
    assert_non_null(strstr(outcome.err, "--now noon is no time"));
    forget(&outcome);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_good_file_is_summed_up),
        cmocka_unit_test(a_bad_file_is_not_summed_up),
        cmocka_unit_test(json_says_ok_or_each_mistake),
        cmocka_unit_test(what_may_have_been_forgotten_is_noted),
        cmocka_unit_test(a_service_of_the_past_that_is_still_to_come_is_noted),
        cmocka_unit_test(what_a_changed_plan_would_tell_the_shop_is_said_before),
        cmocka_unit_test(a_moment_that_is_none_is_wrong_use),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
