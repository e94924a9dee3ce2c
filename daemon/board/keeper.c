/* SPDX-License-Identifier: MIT
 * keeper: see keeper.h. That something has happened is read off the ledger itself, so that no room has to
 * tell; what has not changed what the page shows is not written. */
#include "daemon/board/keeper.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/ground/hash.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"

/* The wall clock may be set under us: the day is looked at again after so long. */
#define DAY_LOOKED_AT_MS (60 * 60 * 1000)

void keeper_wall_path(const char *board, char *path, size_t size)
{
    const char *slash = strrchr(board, '/'), *dot = strrchr(board, '.');
    bool ending = dot != NULL && (slash == NULL || dot > slash + 1);
    (void)snprintf(path, size, "%.*s-wall%s", ending ? (int)(dot - board) : (int)strlen(board),
                   board, ending ? dot : "");
}

void keeper_begin(struct keeper *keeper, const struct settings *settings, struct ledger *ledger,
                  struct instant now)
{
    bool none = settings->shop.board[0] == '\0';
    *keeper = (struct keeper){.shop = {.yard = {.settings = settings, .ledger = ledger}},
                              .pages = {{.form = BOARD_DESK}, {.form = BOARD_WALL}},
                              .ready_ms = none ? CLOCK_NEVER : now.mono_ms,
                              .turns_ms = none ? CLOCK_NEVER : now.mono_ms,
                              .changes = -1};
    (void)snprintf(keeper->pages[0].path, sizeof keeper->pages[0].path, "%s", settings->shop.board);
    keeper_wall_path(settings->shop.board, keeper->pages[1].path, sizeof keeper->pages[1].path);
}

int64_t keeper_deadline_ms(const struct keeper *keeper)
{
    return ledger_changes(keeper->shop.yard.ledger) != keeper->changes ? keeper->ready_ms
                                                                       : keeper->turns_ms;
}

const char *keeper_says(const struct keeper *keeper)
{
    return keeper->says;
}

/* Whether it shows something else than the one written before, or is of another day: a page of
 * yesterday is soon taken for an old one. */
static bool differs(const struct board_page *page, struct keeper_page *kept, int32_t day)
{
    char first = page->text[page->made_at];
    page->text[page->made_at] = '\0';
    uint64_t before = hash_text(page->text);
    page->text[page->made_at] = first;
    uint64_t after = hash_text(&page->text[page->made_at + page->made_length]);
    bool same = kept->written && kept->day == day && kept->before == before && kept->after == after;
    kept->day = day;
    kept->before = before;
    kept->after = after;
    return !same;
}

/* False after saying what is wrong. */
static bool keep_page(struct keeper *keeper, struct keeper_page *kept, int64_t time_s,
                      char says[LEDGER_SAYS_OCTETS])
{
    struct board_page page;
    bool good = false;
    keeper->shop.now_s = time_s;
    board_make(&keeper->shop, 1, kept->form, &page);
    if (keeper->shop.result != LEDGER_OK) {
        (void)snprintf(says, LEDGER_SAYS_OCTETS, "%s", ledger_says(keeper->shop.yard.ledger));
    } else if (page.text == NULL) {
        (void)snprintf(says, LEDGER_SAYS_OCTETS, "memory is short");
    } else {
        good = !differs(&page, kept, zone_civil(time_s).day) ||
               page_file_write(kept->path, BOARD_PAGE_BEGINS, page.text, page.length, says);
        kept->written = good;
    }
    ledger_rollback(keeper->shop.yard.ledger); /* the view that the page was made from */
    free(page.text);
    return good;
}

/* Midnight, or sooner. */
static int64_t day_turns_ms(struct instant now, int64_t time_s)
{
    int64_t wait_s = zone_unix(zone_civil(time_s).day + 1, 0) - time_s;
    return now.mono_ms + clock_earlier((wait_s + 1) * 1000, DAY_LOOKED_AT_MS);
}

static void tell(struct keeper *keeper, const char *says)
{
    if (strcmp(says, keeper->says) != 0 && says[0] != '\0') {
        log_error("board: %s", says);
    } else if (says[0] == '\0' && keeper->says[0] != '\0') {
        log_notice("board: %s is written again", keeper->pages[0].path);
    }
    (void)snprintf(keeper->says, sizeof keeper->says, "%s", says);
}

void keeper_due(struct keeper *keeper, struct instant now, int64_t time_s)
{
    int64_t changes = ledger_changes(keeper->shop.yard.ledger);
    bool happened = changes != keeper->changes, good = true;
    char says[LEDGER_SAYS_OCTETS] = "";
    if (happened && !keeper->noticed) {
        keeper->noticed = true;
        keeper->ready_ms = now.mono_ms + KEEPER_SETTLE_MS;
        return;
    }
    int32_t today = zone_civil(time_s).day;
    bool wanted = happened || today != keeper->day || keeper->says[0] != '\0';
    for (size_t i = 0; i < 2 && wanted && time_s != 0; i++) {
        good = keep_page(keeper, &keeper->pages[i], time_s, says) && good;
    }
    if (wanted && time_s != 0) {
        tell(keeper, says);
        keeper->day = good ? today : 0;
        keeper->changes = changes;
    }
    bool again = time_s == 0 || !good;
    keeper->noticed = false;
    keeper->ready_ms = now.mono_ms + (again ? KEEPER_AGAIN_MS : KEEPER_LEAST_MS);
    keeper->turns_ms = again ? keeper->ready_ms : day_turns_ms(now, time_s);
}
