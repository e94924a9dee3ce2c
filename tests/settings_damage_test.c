/* SPDX-License-Identifier: MIT
 * The sample file, damaged at random by a fixed seed: whatever comes of it, settings come out or
 * mistakes do, each in one line; and our look at the marks refuses nothing that libconfig itself, the
 * outside authority here, would take. */
#include "tests/config_file.h"

#include <libconfig.h>
#include <string.h>

#include "config/settings.h"
#include "config/settings_mistakes.h"
#include "config/settings_reader.h"

#define ROUNDS 800
#define SEED 20270314u

static uint32_t random_state;

/* Below limit; xorshift, so that a round can be had again. */
static size_t random_below(size_t limit)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 17;
    random_state ^= random_state << 5;
    return random_state % limit;
}

/* One to three octets changed, left out or put in. */
static void damage(char *text)
{
    static const char marks[] = "\"{}()[];,=:#/-+.0 \nxE";
    for (size_t times = 1 + random_below(3); times > 0; times--) {
        size_t length = strlen(text), at = random_below(length);
        switch (random_below(3)) {
        case 0:
            text[at] = marks[random_below(sizeof marks - 1)];
            break;
        case 1:
            memmove(text + at, text + at + 1, length - at);
            break;
        default:
            memmove(text + at + 1, text + at, length - at + 1);
            text[at] = marks[random_below(sizeof marks - 1)];
            break;
        }
    }
}

static char *sample_text(void)
{
    char *text = calloc(1, 1 << 16);
    FILE *in = fopen("config/meterpost.conf", "r");
    assert_non_null(text);
    assert_non_null(in);
    size_t length = fread(text, 1, (1 << 16) - 16, in);
    assert_true(length > 1000);
    assert_int_equal(fclose(in), 0);
    return text;
}

static bool libconfig_takes(const char *text)
{
    config_t config;
    config_init(&config);
    bool takes = config_read_string(&config, text) == CONFIG_TRUE;
    config_destroy(&config);
    return takes;
}

/* What we refuse and libconfig takes: text or a comment without an end, text over several lines, a
 * word at once behind a text, "." as a number, and whole numbers that it would wrap. */
static bool stricter_on_purpose(const char *says)
{
    return strstr(says, "has no quote") != NULL || strstr(says, "never ends") != NULL ||
           strstr(says, "a quote is missing") != NULL || strstr(says, "is no number") != NULL ||
           strstr(says, "is too large") != NULL;
}

static void expect_one_line_each(const struct settings_mistakes *mistakes)
{
    for (size_t i = 0; i < mistakes->count; i++) {
        assert_true(mistakes->list[i].says[0] != '\0');
        assert_null(strchr(mistakes->list[i].says, '\n'));
        assert_non_null(strpbrk(mistakes->list[i].says, ";?"));
    }
}

static void a_damaged_file_gives_settings_or_mistakes(void **state)
{
    char *sample = sample_text(), *text = calloc(1, 1 << 16);
    int refused = 0;
    (void)state;
    assert_non_null(text);
    random_state = SEED;
    for (int round = 0; round < ROUNDS; round++) {
        struct settings_mistakes mistakes = {0};
        struct settings_slip slip = {0};
        strcpy(text, sample);
        damage(text);
        struct config_file file = config_file_write(text);
        struct settings *settings = settings_load_listing(file.path, &mistakes);
        config_file_remove(&file);
        assert_true((settings == NULL) == (mistakes.count > 0));
        expect_one_line_each(&mistakes);
        if (!settings_marks_well(text, NULL, &slip) && !stricter_on_purpose(slip.says) &&
            libconfig_takes(text)) {
            fail_msg("seed %u, round %d: line %u refused though libconfig takes it: %s", SEED,
                     round, slip.line, slip.says);
        }
        refused += settings == NULL;
        settings_mistakes_free(&mistakes);
        settings_free(settings);
    }
    assert_true(refused > ROUNDS / 10 && refused < ROUNDS);
    free(text);
    free(sample);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_damaged_file_gives_settings_or_mistakes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
