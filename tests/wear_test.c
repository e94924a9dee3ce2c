/* SPDX-License-Identifier: MIT
 * What a text and its answer write to the disk: an SD card wears by it. The ledger lies on a real file
 * system (under the build folder), and the kernel counts (/proc/self/io, write_bytes: each page of the
 * page cache that is made dirty, so that WAL, checkpoints and the mark of work are all in it). */
#include "tests/desk_room.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#define TEXTS 300
#define MOST_OCTETS (40 * 1024)

static char folder[200], path[256];

/* 0 where this kernel does not count. */
static int64_t written_octets(void)
{
    char line[128];
    long long octets = 0;
    FILE *file = fopen("/proc/self/io", "r");
    while (file != NULL && fgets(line, sizeof line, file) != NULL) {
        (void)sscanf(line, "write_bytes: %lld", &octets);
    }
    if (file != NULL) {
        (void)fclose(file);
    }
    return octets;
}

static int open_folder(void **state)
{
    const char *build = getenv("METERPOST_BUILD");
    (void)snprintf(folder, sizeof folder, "%.160s/wear-XXXXXX", build != NULL ? build : "build");
    if (mkdtemp(folder) == NULL) {
        return -1;
    }
    (void)snprintf(path, sizeof path, "%s/ledger.db", folder);
    *state = room_at(path);
    return 0;
}

static int close_folder(void **state)
{
    char command[300];
    (void)snprintf(command, sizeof command, "rm -r '%s'", folder);
    *state = NULL; /* closed in the test */
    return system(command) == 0 ? 0 : -1;
}

/* Readings of one machine, half an hour of its meter every eight hours. */
static void round_trips(struct room *room, int count, int *hundredths)
{
    for (int i = 0; i < count; i++) {
        char text[32];
        *hundredths += 50;
        (void)snprintf(text, sizeof text, "M12 %d.%02dh", *hundredths / 100, *hundredths % 100);
        room->now_s += 8 * 3600;
        receive(room, TOM, text);
        assert_true(take_out(room));
    }
}

static void a_text_and_its_answer_write_little(void **state)
{
    struct room *room = *state;
    int hundredths = 4000;
    at(room, "2027-04-01 08:00");
    round_trips(room, 30, &hundredths);
    int64_t before = written_octets();
    round_trips(room, TEXTS, &hundredths);
    (void)room_close(state); /* the last checkpoint is counted too */
    int64_t each = (written_octets() - before) / TEXTS;
    if (each == 0) {
        print_message("this file system's writes are not counted\n");
        skip();
    }
    print_message("a text and its answer write %lld octets to the disk, at most %d\n",
                  (long long)each, MOST_OCTETS);
    assert_in_range(each, 1, MOST_OCTETS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(a_text_and_its_answer_write_little, open_folder,
                                        close_folder),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
