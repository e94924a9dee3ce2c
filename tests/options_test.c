/* SPDX-License-Identifier: MIT
 * options: what stands behind a verb; what is wrong is said with what to type. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "daemon/counter/options.h"

#define WORDS_MAX 8

/* The words of one command line; getopt reorders them, so they are copied. */
static bool read_words(const char *const *words, struct options *options, char said[256])
{
    static char *argv[WORDS_MAX + 1];
    int argc = 0;
    while (words[argc] != NULL) {
        argv[argc] = (char *)(uintptr_t)words[argc];
        argc++;
    }
    argv[argc] = NULL;
    memset(said, 0, 256);
    FILE *err = fmemopen(said, 256, "w");
    assert_non_null(err);
    bool read = options_read(options, argc, argv, err);
    assert_int_equal(fclose(err), 0);
    return read;
}

static void unsaid_options_have_their_defaults(void **state)
{
    const char *words[WORDS_MAX] = {"due"};
    struct options options;
    char said[256];
    (void)state;
    assert_true(read_words(words, &options, said));
    assert_string_equal(options.config, "/etc/meterpost.conf");
    assert_int_equal(options.config_count, 0);
    assert_false(options.json);
    assert_null(options.now);
    assert_int_equal(options.stepped_clock, -1);
    assert_int_equal(options.word_count, 0);
}

static void options_may_stand_before_and_behind_words(void **state)
{
    const char *words[WORDS_MAX] = {"text", "--as", "Ines", "M12 1340h", "--json", "-c", "my.conf"};
    struct options options;
    char said[256];
    (void)state;
    assert_true(read_words(words, &options, said));
    assert_string_equal(options.as, "Ines");
    assert_string_equal(options.config, "my.conf");
    assert_int_equal(options.config_count, 1);
    assert_true(options.json);
    assert_int_equal(options.word_count, 1);
    assert_string_equal(options.words[0], "M12 1340h");
}

static void two_dashes_end_the_options(void **state)
{
    const char *words[WORDS_MAX] = {"text", "--as", "Ines", "--", "--json"};
    struct options options;
    char said[256];
    (void)state;
    assert_true(read_words(words, &options, said));
    assert_false(options.json);
    assert_string_equal(options.words[0], "--json");
}

static void what_is_wrong_is_said_with_what_to_type(void **state)
{
    static const struct {
        const char *words[WORDS_MAX];
        const char *said;
    } cases[] = {
        {{"due", "--jsn"}, "meterpost: no option --jsn here; did you mean --json?\n"},
        {{"due", "--walrus"},
         "meterpost: no option --walrus here; meterpost help VERB says which a verb takes\n"},
        {{"due", "--now"}, "meterpost: --now needs a value behind it\n"},
        {{"run", "--stepped-clock", "x"},
         "meterpost: --stepped-clock takes the number of an open socket\n"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct options options;
        char said[256];
        assert_false(read_words(cases[i].words, &options, said));
        assert_string_equal(said, cases[i].said);
    }
}

static void a_config_file_that_is_not_there_is_said_to_be_the_default_only_without_c(void **state)
{
    static const struct {
        struct options options;
        const char *said;
    } cases[] = {
        {{.config = "/none.conf"},
         "meterpost: /none.conf is what is read without -c FILE; name yours so, or let \"meterpost "
         "setup\" write it\n"},
        {{.config = "/none.conf", .config_count = 1}, ""},
        {{.config = "config/meterpost.conf"}, ""}, /* it is there: something else is wrong */
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char *said = NULL;
        size_t length = 0;
        FILE *err = open_memstream(&said, &length);
        assert_non_null(err);
        options_say_config(&cases[i].options, err);
        assert_int_equal(fclose(err), 0);
        assert_string_equal(said, cases[i].said);
        free(said);
    }
}

static void the_options_of_a_usage_are_explained_and_no_others(void **state)
{
    char *said = NULL;
    size_t length = 0;
    FILE *out = open_memstream(&said, &length);
    (void)state;
    assert_non_null(out);
    options_explain("stock [-c FILE] [--weeks N]", out);
    assert_int_equal(fclose(out), 0);
    assert_string_equal(said,
                        "  -c FILE         the config file; /etc/meterpost.conf unless given\n"
                        "  --weeks N       how many weeks ahead; 4 unless given, of the bay 8\n");
    free(said);
}

static void several_configs_are_several_shops(void **state)
{
    const char *words[WORDS_MAX] = {"due", "-c", "one.conf", "--config", "two.conf"};
    struct options options;
    char said[256];
    (void)state;
    assert_true(read_words(words, &options, said));
    assert_int_equal(options.config_count, 2);
    assert_string_equal(options.config, "one.conf");
    assert_string_equal(options.configs[1], "two.conf");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(unsaid_options_have_their_defaults),
        cmocka_unit_test(options_may_stand_before_and_behind_words),
        cmocka_unit_test(two_dashes_end_the_options),
        cmocka_unit_test(what_is_wrong_is_said_with_what_to_type),
        cmocka_unit_test(a_config_file_that_is_not_there_is_said_to_be_the_default_only_without_c),
        cmocka_unit_test(several_configs_are_several_shops),
        cmocka_unit_test(the_options_of_a_usage_are_explained_and_no_others),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
