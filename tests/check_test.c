/* SPDX-License-Identifier: MIT
 * The verb check: a summary and status 0, or each mistake and status 78; the same as JSON. */
#include "tests/config_file.h"

#include <string.h>
#include <sys/stat.h>

#include "daemon/counter/check.h"

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

static struct outcome check(const char *text, bool json)
{
    struct outcome outcome = {0};
    size_t out_length = 0, err_length = 0;
    struct config_file file = config_file_write(text);
    FILE *out = open_memstream(&outcome.out, &out_length);
    FILE *err = open_memstream(&outcome.err, &err_length);
    assert_non_null(out);
    assert_non_null(err);
    assert_int_equal(chmod(file.path, 0640), 0);
    outcome.status = check_verb(file.path, json, out, err);
    assert_int_equal(fclose(out), 0);
    assert_int_equal(fclose(err), 0);
    snprintf(outcome.path, sizeof outcome.path, "%s", file.path);
    config_file_remove(&file);
    return outcome;
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
    assert_non_null(strstr(outcome.out, "  M7: mower, plan drive\n"));
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
        "modem.port is unsaid; \"meterpost modem\" finds it"};
    (void)state;
    struct outcome outcome = check("plans: ( { name = \"drive\"; }, { name = \"belts\"; } );\n"
                                   "kinds: ( { name = \"bare\"; plans = (); },\n"
                                   "         { name = \"spare\"; plans = (\"drive\"); } );\n"
                                   "people: ( { name = \"Tom\"; phone = \"+12065550112\"; } );\n"
                                   "machines: ( { name = \"M8\"; kind = \"bare\"; } );\n",
                                   false);
    assert_int_equal(outcome.status, 0);
    for (size_t i = 0; i < sizeof noted / sizeof noted[0]; i++) {
        if (strstr(outcome.out, noted[i]) == NULL) {
            fail_msg("not noted: %s\nin: %s", noted[i], outcome.out);
        }
    }
    forget(&outcome);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_good_file_is_summed_up),
        cmocka_unit_test(a_bad_file_is_not_summed_up),
        cmocka_unit_test(json_says_ok_or_each_mistake),
        cmocka_unit_test(what_may_have_been_forgotten_is_noted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
