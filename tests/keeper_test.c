/* SPDX-License-Identifier: MIT
 * The board kept current: written when what it shows has changed, whole, not too often; nothing where
 * nothing happens; nothing of somebody else's overwritten. */
#include "tests/yard_room.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "daemon/board/keeper.h"
#include "daemon/ground/hash.h"
#include "daemon/ledger/marks.h"

static char folder[40], board[80], wall[80];

static int open_folder(void **state)
{
    (void)snprintf(folder, sizeof folder, "/tmp/meterpost-keeper-XXXXXX");
    if (mkdtemp(folder) == NULL) {
        return -1;
    }
    (void)snprintf(board, sizeof board, "%s/board.html", folder);
    (void)snprintf(wall, sizeof wall, "%s/board-wall.html", folder);
    return yard_enter(state);
}

static int close_folder(void **state)
{
    char command[64];
    (void)snprintf(command, sizeof command, "rm -rf '%s'", folder);
    return system(command) == 0 ? yard_leave(state) : -1;
}

/* The daemon's loop, with a clock that goes from deadline to deadline. */
struct daemon {
    struct yard_room *room;
    struct keeper keeper;
    struct instant now;
};

static struct daemon begin(void **state)
{
    struct daemon daemon = {.room = *state};
    daemon.room->settings.shop.name = "Alder Works";
    daemon.room->settings.shop.board = board;
    daemon.now = (struct instant){.mono_ms = 1000, .wall_s = room_at(0, 9)};
    return daemon;
}

static void pass(struct daemon *daemon, int64_t until_s)
{
    for (;;) {
        int64_t at_ms = keeper_deadline_ms(&daemon->keeper);
        at_ms = at_ms > daemon->now.mono_ms ? at_ms : daemon->now.mono_ms;
        int64_t wait_ms = (until_s - daemon->now.wall_s) * 1000;
        if (at_ms - daemon->now.mono_ms > wait_ms) {
            break;
        }
        daemon->now.wall_s += (at_ms - daemon->now.mono_ms + 999) / 1000;
        daemon->now.mono_ms = at_ms;
        keeper_due(&daemon->keeper, daemon->now, daemon->now.wall_s);
    }
    daemon->now.mono_ms += (until_s - daemon->now.wall_s) * 1000;
    daemon->now.wall_s = until_s;
}

/* The page that stands there, "" where there is none. */
static const char *page_at(const char *path)
{
    static char page[1 << 18];
    FILE *file = fopen(path, "r");
    page[file != NULL ? fread(page, 1, sizeof page - 1, file) : 0] = '\0';
    if (file != NULL) {
        (void)fclose(file);
    }
    return page;
}

/* Which page it is: one that is written anew has another time in it. */
static uint64_t which(const char *path)
{
    return hash_text(page_at(path));
}

static bool holds(const char *path, const char *says)
{
    const char *page = page_at(path);
    return strncmp(page, BOARD_PAGE_BEGINS, strlen(BOARD_PAGE_BEGINS)) == 0 &&
           strstr(page, "</html>\n") != NULL && strstr(page, says) != NULL;
}

static void both_pages_are_there_soon_after_the_start(void **state)
{
    struct daemon daemon = begin(state);
    keeper_begin(&daemon.keeper, &daemon.room->settings, daemon.room->yard.ledger, daemon.now);
    pass(&daemon, daemon.now.wall_s + 60);
    assert_true(holds(board, "The yard as of"));
    assert_true(holds(wall, "Worst first"));
    assert_string_equal(keeper_says(&daemon.keeper), "");
}

static void what_happens_is_shown_within_a_minute_and_not_more_often(void **state)
{
    struct daemon daemon = begin(state);
    keeper_begin(&daemon.keeper, &daemon.room->settings, daemon.room->yard.ledger, daemon.now);
    pass(&daemon, daemon.now.wall_s + 600);
    uint64_t before = which(board), last = before;
    int written = 0;
    for (int i = 0; i < 60; i++) { /* a reading every ten seconds, for ten minutes */
        (void)room_read(daemon.room, M12, 10000 + 10 * i, daemon.now.wall_s);
        pass(&daemon, daemon.now.wall_s + 10);
        written += which(board) != last;
        last = which(board);
    }
    assert_true(written >= 8 && written <= 11);
    pass(&daemon, daemon.now.wall_s + 70);
    assert_true(holds(board, "Meter 105.9 h"));
}

static void nothing_is_written_where_nothing_happens_but_at_midnight(void **state)
{
    struct daemon daemon = begin(state);
    (void)room_read(daemon.room, M12, 10000,
                    room_at(-60, 9)); /* long wanted: its likely hours grow */
    keeper_begin(&daemon.keeper, &daemon.room->settings, daemon.room->yard.ledger, daemon.now);
    pass(&daemon, room_at(0, 10));
    uint64_t first = which(board), first_wall = which(wall);
    pass(&daemon, room_at(0, 23));
    assert_int_equal(which(board), first);
    assert_int_equal(which(wall), first_wall);
    pass(&daemon, room_at(1, 0) + 10);
    assert_int_not_equal(which(board), first);
    assert_true(holds(board, "2027-05-04 00:00"));
    assert_true(holds(wall, "Tue May 4"));
}

static void what_the_page_does_not_show_is_no_cause_to_write_it(void **state)
{
    struct daemon daemon = begin(state);
    keeper_begin(&daemon.keeper, &daemon.room->settings, daemon.room->yard.ledger, daemon.now);
    pass(&daemon, room_at(0, 10));
    uint64_t first = which(board);
    assert_int_equal(ledger_begin(daemon.room->yard.ledger), LEDGER_OK);
    assert_int_equal(marks_set(daemon.room->yard.ledger, "somebody-called", 7), LEDGER_OK);
    assert_int_equal(ledger_commit(daemon.room->yard.ledger), LEDGER_OK);
    pass(&daemon, room_at(0, 12));
    assert_int_equal(which(board), first);
}

static void a_page_that_is_not_ours_is_left_and_told_and_tried_again(void **state)
{
    struct daemon daemon = begin(state);
    FILE *file = fopen(board, "w");
    assert_non_null(file);
    (void)fputs("notes of the shop\n", file);
    (void)fclose(file);
    uint64_t theirs = which(board);
    keeper_begin(&daemon.keeper, &daemon.room->settings, daemon.room->yard.ledger, daemon.now);
    pass(&daemon, room_at(0, 10));
    assert_int_equal(which(board), theirs);
    assert_non_null(strstr(keeper_says(&daemon.keeper), "is there and is no page"));
    assert_true(holds(wall, "Worst first")); /* the other is none the worse for it */
    assert_int_equal(unlink(board), 0);
    pass(&daemon, room_at(0, 10) + KEEPER_AGAIN_MS / 1000 + 10);
    assert_true(holds(board, "The yard as of"));
    assert_string_equal(keeper_says(&daemon.keeper), "");
}

static void without_a_time_it_waits_for_one(void **state)
{
    struct daemon daemon = begin(state);
    keeper_begin(&daemon.keeper, &daemon.room->settings, daemon.room->yard.ledger, daemon.now);
    keeper_due(&daemon.keeper, daemon.now, 0);
    daemon.now.mono_ms = keeper_deadline_ms(&daemon.keeper);
    keeper_due(&daemon.keeper, daemon.now, 0);
    assert_string_equal(page_at(board), "");
    assert_true(keeper_deadline_ms(&daemon.keeper) > daemon.now.mono_ms);
    pass(&daemon, room_at(0, 10));
    assert_true(holds(board, "The yard as of"));
}

static void without_a_board_nothing_is_kept(void **state)
{
    struct daemon daemon = begin(state);
    daemon.room->settings.shop.board = "";
    keeper_begin(&daemon.keeper, &daemon.room->settings, daemon.room->yard.ledger, daemon.now);
    assert_int_equal(keeper_deadline_ms(&daemon.keeper), CLOCK_NEVER);
}

static void the_wall_stands_beside_under_a_name_of_its_own(void **state)
{
    static const char *const cases[][2] = {
        {"board.html", "board-wall.html"},
        {"/var/lib/meterpost/board.html", "/var/lib/meterpost/board-wall.html"},
        {"/srv/www.d/yard", "/srv/www.d/yard-wall"},
        {"/srv/.board", "/srv/.board-wall"},
    };
    char path[SETTINGS_PATH_OCTETS + 8];
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        keeper_wall_path(cases[i][0], path, sizeof path);
        assert_string_equal(path, cases[i][1]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(both_pages_are_there_soon_after_the_start, open_folder,
                                        close_folder),
        cmocka_unit_test_setup_teardown(what_happens_is_shown_within_a_minute_and_not_more_often,
                                        open_folder, close_folder),
        cmocka_unit_test_setup_teardown(nothing_is_written_where_nothing_happens_but_at_midnight,
                                        open_folder, close_folder),
        cmocka_unit_test_setup_teardown(what_the_page_does_not_show_is_no_cause_to_write_it,
                                        open_folder, close_folder),
        cmocka_unit_test_setup_teardown(a_page_that_is_not_ours_is_left_and_told_and_tried_again,
                                        open_folder, close_folder),
        cmocka_unit_test_setup_teardown(without_a_time_it_waits_for_one, open_folder, close_folder),
        cmocka_unit_test_setup_teardown(without_a_board_nothing_is_kept, open_folder, close_folder),
        cmocka_unit_test(the_wall_stands_beside_under_a_name_of_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
