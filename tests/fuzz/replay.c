/* SPDX-License-Identifier: MIT
 *
 * A fuzz target as an ordinary test, without libFuzzer: the inputs that were kept, and a short run of inputs bred from them,
 * always the same ones. Linked with one target; the program's name, NAME_replay, says which. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "tests/fuzz/fuzz.h"

#define INPUT_MAX 4096
#define KEPT_MAX 512
#define BRED 20000
#define SEED 48213u

static struct {
    uint8_t octets[INPUT_MAX];
    size_t len;
} kept[KEPT_MAX];
static size_t kept_count;

static char folder[256];

static uint32_t random_state = SEED;

/* xorshift (Marsaglia, 2003): the same inputs on every box. */
static uint32_t random_below(uint32_t bound)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 17;
    random_state ^= random_state << 5;
    return random_state % bound;
}

static void judge(const uint8_t *octets, size_t len)
{
    uint8_t *exact = malloc(len > 0 ? len : 1);
    assert_non_null(exact);
    memcpy(exact, octets, len);
    assert_int_equal(LLVMFuzzerTestOneInput(exact, len), 0);
    free(exact);
}

static int read_kept(void **state)
{
    (void)state;
    DIR *dir = opendir(folder);
    if (dir == NULL) {
        return -1;
    }
    for (struct dirent *entry = readdir(dir); entry != NULL; entry = readdir(dir)) {
        char path[sizeof folder + sizeof entry->d_name];
        (void)snprintf(path, sizeof path, "%s/%s", folder, entry->d_name);
        FILE *file = entry->d_name[0] == '.' ? NULL : fopen(path, "rb");
        if (file != NULL && kept_count < KEPT_MAX) {
            kept[kept_count].len = fread(kept[kept_count].octets, 1, INPUT_MAX, file);
            kept_count++;
        }
        if (file != NULL) {
            (void)fclose(file);
        }
    }
    return closedir(dir);
}

static void each_kept_input_keeps_the_properties(void **state)
{
    (void)state;
    assert_true(kept_count > 0);
    for (size_t i = 0; i < kept_count; i++) {
        judge(kept[i].octets, kept[i].len);
    }
}

/* One to four changes: an octet set, a bit turned, cut short, or the end of another input taken. */
static size_t breed(uint8_t octets[INPUT_MAX])
{
    uint32_t parent = random_below((uint32_t)kept_count);
    size_t len = kept[parent].len;
    memcpy(octets, kept[parent].octets, len);
    for (uint32_t changes = 1 + random_below(4); changes > 0 && len > 0; changes--) {
        size_t at = random_below((uint32_t)len);
        switch (random_below(4)) {
        case 0:
            octets[at] = (uint8_t)random_below(256);
            break;
        case 1:
            octets[at] ^= (uint8_t)(1u << random_below(8));
            break;
        case 2:
            len = at;
            break;
        default: {
            uint32_t other = random_below((uint32_t)kept_count);
            size_t from = at < kept[other].len ? at : kept[other].len;
            memcpy(octets + from, kept[other].octets + from, kept[other].len - from);
            len = kept[other].len;
            break;
        }
        }
    }
    return len;
}

static void bred_inputs_keep_the_properties(void **state)
{
    (void)state;
    print_message("seed %u, %d inputs bred from %zu\n", SEED, BRED, kept_count);
    for (int i = 0; i < BRED; i++) {
        uint8_t octets[INPUT_MAX];
        judge(octets, breed(octets));
    }
}

int main(int argc, char **argv)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_kept_input_keeps_the_properties),
        cmocka_unit_test(bred_inputs_keep_the_properties),
    };
    (void)argc;
    const char *slash = strrchr(argv[0], '/');
    const char *name = slash == NULL ? argv[0] : slash + 1;
    (void)snprintf(folder, sizeof folder, "fixtures/fuzz/%s", name);
    char *end = strstr(folder, "_replay");
    if (end != NULL) {
        *end = '\0';
    }
    return cmocka_run_group_tests(tests, read_kept, NULL);
}
