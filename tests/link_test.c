/* SPDX-License-Identifier: MIT
 * Plays the recorded dialogues of fixtures/sessions against the link, each three ways: lines as
 * they come, octet by octet, and glued together as far as the dialogue allows. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "fixtures/player/player.h"

#define SESSIONS_MAX 200
#define NAME_OCTETS 64
#define TABLE "docs/modem-faults.md"

static void a_dialogue_goes_as_recorded(void **state)
{
    static struct stage stage;
    static const enum stage_feeding feedings[] = {STAGE_FEEDING_LINES, STAGE_FEEDING_OCTETS,
                                                  STAGE_FEEDING_GLUED};
    for (size_t i = 0; i < sizeof feedings / sizeof feedings[0]; i++) {
        const char *fault = player_play(&stage, *state, feedings[i]);
        if (fault[0] != '\0') {
            fail_msg("fed way %zu: %s", i, fault);
        }
    }
}

/* A row of the table ends in "| `name` | seen | 30 s |". */
static bool has_row(FILE *table, const char *name, int64_t bound_ms)
{
    char line[512], cell[NAME_OCTETS + 8], bound[32];
    snprintf(cell, sizeof cell, "| `%s` |", name);
    snprintf(bound, sizeof bound, "| %d s |\n", (int)(bound_ms / 1000));
    rewind(table);
    while (fgets(line, sizeof line, table) != NULL) {
        size_t length = strlen(line), end = strlen(bound);
        if (strstr(line, cell) != NULL && length > end && strcmp(line + length - end, bound) == 0) {
            return true;
        }
    }
    return false;
}

static void the_table_of_faults_has_this_dialogue(void **state)
{
    struct player_head head;
    assert_true(player_head(*state, &head));
    FILE *table = fopen(TABLE, "re");
    assert_non_null(table);
    if (!has_row(table, *state, head.bound_ms)) {
        fail_msg("%s has no row for %s, or another bound", TABLE, (const char *)*state);
    }
    fclose(table);
}

static void a_listed_dialogue(void **state)
{
    the_table_of_faults_has_this_dialogue(state);
    a_dialogue_goes_as_recorded(state);
}

static size_t list_sessions(char names[][NAME_OCTETS], size_t most)
{
    struct dirent **entries = NULL;
    int count = scandir(PLAYER_FOLDER, &entries, NULL, alphasort);
    size_t taken = 0;
    for (int i = 0; i < count; i++) {
        char *dot = strstr(entries[i]->d_name, ".session");
        if (dot != NULL && taken < most) {
            *dot = '\0';
            snprintf(names[taken], NAME_OCTETS, "%.63s", entries[i]->d_name);
            taken++;
        }
        free(entries[i]);
    }
    free(entries);
    return taken;
}

int main(int argc, char **argv)
{
    static char names[SESSIONS_MAX][NAME_OCTETS];
    static struct CMUnitTest tests[SESSIONS_MAX];
    size_t count = list_sessions(names, SESSIONS_MAX);
    for (size_t i = 0; i < count; i++) {
        tests[i] = (struct CMUnitTest){
            .name = names[i], .test_func = a_listed_dialogue, .initial_state = names[i]};
    }
    if (argc > 1) {
        cmocka_set_test_filter(argv[1]); /* one dialogue by name */
    }
    return _cmocka_run_group_tests("link", tests, count, NULL, NULL);
}
