/* SPDX-License-Identifier: MIT
 * board: see board.h. What the forms share: what is looked up, the head of the page and its one script.
 * All that comes from people or the config goes through html_text. */
#include "daemon/board/board.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/board/board_inside.h"
#include "daemon/board/board_style.h"
#include "daemon/ground/zone.h"

/* Comes back each minute, but not under the hands of somebody who reads; and says when the page is older
 * than it can be while the daemon runs, which writes it anew each midnight: a day of 25 hours, and one
 * to spare. Without script the page comes back by itself every five minutes, and the time stands there. */
#define SCRIPT                                                                                     \
    "(function(){var made=Date.parse(document.querySelector(\"time.made\").dateTime),"             \
    "old=document.querySelector(\".old\"),read=0;"                                                 \
    "function look(){old.hidden=Date.now()-made<93600000};"                                        \
    "[\"pointerdown\",\"keydown\",\"wheel\",\"scroll\"].forEach(function(kind){"                   \
    "addEventListener(kind,function(){read=Date.now()},{passive:true})});look();"                  \
    "setInterval(function(){look();if(Date.now()-read>60000){location.reload()}},60000)})()"
/* Of its octets (Content Security Policy Level 3, 6.7.3.3): no other script runs. Checked by
 * board_test.sh, which says the new one when the script has changed. */
#define SCRIPT_HASH "sha256-rJSVIt5MnOYP2pU+ThOn2z0jtXfNu4SelD3sTx83Abc="

#define SHELF_AHEAD_DAYS 28 /* as meterpost stock looks ahead */

void board_markup(const struct board *board, const char *text)
{
    (void)fputs(text, board->out);
}

void board_say(const struct board *board, const char *format, ...)
{
    char sentence[BOARD_SENTENCE_OCTETS];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(sentence, sizeof sentence, format, arguments);
    va_end(arguments);
    html_text(board->out, sentence);
}

bool board_first_of_machine(const struct board *board, size_t at)
{
    for (size_t i = 0; i < at; i++) {
        if (board->standings[i].machine == board->standings[at].machine) {
            return false;
        }
    }
    return true;
}

bool board_past(const struct board *board, const struct yard_standing *standing)
{
    return standing->by == DUE_BY_DATE ? standing->due_day <= board->today
                                       : standing->has_due && standing->left_hundredths <= 0;
}

static void count_shop(const struct board *shop, struct board_counts *counts)
{
    for (size_t i = 0; i < shop->count; i++) {
        const struct yard_standing *standing = &shop->standings[i];
        counts->services[standing->stage]++;
        if (board_first_of_machine(shop, i)) {
            counts->in_shop += standing->in_shop;
            counts->booked += standing->booked;
            counts->wanted += board_wanted(shop, i) != NULL;
        }
    }
    counts->troubles += shop->trouble_count;
    counts->danger = counts->danger || (shop->trouble_count > 0 && shop->troubles[0].danger);
}

struct board_counts board_count(const struct board *board)
{
    struct board_counts counts = {.in_shop = 0};
    for (; board != NULL; board = board->next) {
        count_shop(board, &counts);
    }
    return counts;
}

struct board *board_turn(struct board *board)
{
    while (board != NULL && board->result == LEDGER_NONE) {
        board = board->next;
    }
    if (board != NULL && board->shop != NULL) {
        (void)zone_set(board->settings->shop.time_zone); /* it was known when it was looked up */
    }
    return board;
}

struct board *board_next_machine(struct board *board, size_t *first)
{
    struct board *worst = NULL;
    for (; board != NULL; board = board->next) {
        while (board->told < board->count && !board_first_of_machine(board, board->told)) {
            board->told++;
        }
        if (board->told < board->count &&
            (worst == NULL || yard_worst_first(&board->standings[board->told],
                                               &worst->standings[worst->told]) < 0)) {
            worst = board;
        }
    }
    if (worst != NULL) {
        *first = worst->told++;
    }
    return board_turn(worst);
}

void board_write_shop(const struct board *board, const char *before, const char *behind)
{
    if (board->shop != NULL) {
        board_markup(board, before);
        html_text(board->out, board->shop);
        board_markup(board, behind);
    }
}

const char *board_name(const struct board *board)
{
    return board->shop != NULL ? "Several shops" : board->settings->shop.name;
}

void board_write_left_out(const struct board *board)
{
    for (; board != NULL; board = board->next) {
        if (board->result == LEDGER_NONE) {
            board_write_shop(board, "<p class=\"out\">Without ",
                             ": its config or its ledger could not be read.</p>\n");
        }
    }
}

const struct yard_standing *board_wanted(const struct board *board, size_t first)
{
    for (size_t i = first; i < board->count; i++) {
        if (board->standings[i].machine == board->standings[first].machine &&
            board->standings[i].wanted) {
            return &board->standings[i];
        }
    }
    return NULL;
}

const char *board_hours(int64_t hundredths, char room[HOURS_TEXT_OCTETS])
{
    (void)hours_write(hundredths, room, HOURS_TEXT_OCTETS);
    return room;
}

const char *board_day(const struct board *board, int32_t day, char room[BOARD_DAY_OCTETS])
{
    static const char *const weekdays[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                         "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    struct civil_date date = civil_date_of(day);
    const char *weekday = weekdays[civil_weekday(day)], *month = months[date.month - 1];
    if (board->settings->shop.date_order == SETTINGS_DATE_MDY) {
        (void)snprintf(room, BOARD_DAY_OCTETS, "%s %s %d", weekday, month, (int)date.day);
    } else {
        (void)snprintf(room, BOARD_DAY_OCTETS, "%s %d %s", weekday, (int)date.day, month);
    }
    return room;
}

void board_write_made(struct board *board, enum board_form form)
{
    board = board_turn(board);
    char at[ZONE_TEXT_OCTETS], day[BOARD_DAY_OCTETS];
    long before = ftell(board->out);
    zone_write_rfc3339(board->now_s, at, sizeof at);
    (void)fprintf(board->out, "<time class=\"made\" datetime=\"%s\">", at);
    zone_write_minute(board->now_s, at, sizeof at);
    if (form == BOARD_WALL) {
        (void)fprintf(board->out, "%s,%s</time>", board_day(board, board->today, day),
                      strchr(at, ' '));
    } else {
        (void)fprintf(board->out, "%s</time>", at);
    }
    board->page->made_at = (size_t)before;
    board->page->made_length = (size_t)(ftell(board->out) - before);
}

static void write_page(struct board *board, enum board_form form)
{
    board_markup(board, BOARD_PAGE_BEGINS
                 "<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                 "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
                 "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
                 "style-src 'unsafe-inline'; script-src '" SCRIPT_HASH "'\">\n"
                 "<noscript><meta http-equiv=\"refresh\" content=\"300\"></noscript>\n<title>");
    board_say(board, "%s: the %s", board_name(board), form == BOARD_WALL ? "wall" : "yard");
    board_markup(board, "</title>\n<style>\n" BOARD_STYLE_COLOURS);
    board_markup(board, form == BOARD_WALL ? BOARD_STYLE_WALL : BOARD_STYLE_DESK);
    board_markup(board, board->shop != NULL ? BOARD_STYLE_SEVERAL : "");
    board_markup(board, board->shop != NULL && form == BOARD_WALL ? BOARD_STYLE_WALL_SEVERAL : "");
    board_markup(board, "</style>\n</head>\n<body>\n");
    (form == BOARD_WALL ? wall_write : cards_write)(board);
    board_markup(board, "<script>" SCRIPT "</script>\n</body>\n</html>\n");
}

static enum ledger_result look_up(struct board *board, struct yard *yard)
{
    enum ledger_result result = ledger_look(yard->ledger);
    board->today = zone_civil(board->now_s).day;
    if (result == LEDGER_OK) {
        result = yard_troubles(yard, board->now_s, &board->troubles, &board->trouble_count);
    }
    if (result == LEDGER_OK) {
        result = yard_stand_all(yard, board->now_s, &board->standings, &board->count);
    }
    if (result == LEDGER_OK) {
        result = bay_reckon(yard, board->now_s, board->today + BAY_AHEAD_DAYS - 1, &board->bay);
    }
    return result == LEDGER_OK
               ? shelf_reckon(yard, board->now_s, board->today + SHELF_AHEAD_DAYS, &board->shelf)
               : result;
}

/* Of several, one that fails is left out. */
static void begin(struct board *board, struct board_shop *shop)
{
    board->yard = &shop->yard;
    board->settings = shop->yard.settings;
    board->shop = shop->name;
    board->now_s = shop->now_s;
    board->result = shop->yard.ledger == NULL ? LEDGER_NONE : LEDGER_OK;
    shop->result = LEDGER_OK;
    if (shop->yard.ledger != NULL && board_turn(board) != NULL) {
        shop->result = board->result = look_up(board, &shop->yard);
    }
    if (shop->name != NULL && board->result != LEDGER_OK) {
        board->result = LEDGER_NONE;
        board->count = board->trouble_count = 0;
    }
}

void board_make(struct board_shop *shops, size_t count, enum board_form form,
                struct board_page *page)
{
    *page = (struct board_page){.text = NULL};
    struct board *boards = calloc(count, sizeof *boards);
    FILE *out = boards != NULL ? open_memstream(&page->text, &page->length) : NULL;
    if (out == NULL) {
        free(boards);
        return;
    }
    for (size_t i = 0; i < count; i++) {
        boards[i].out = out;
        boards[i].page = page;
        boards[i].next = i + 1 < count ? &boards[i + 1] : NULL;
        begin(&boards[i], &shops[i]);
    }
    bool good = board_turn(boards) != NULL && board_turn(boards)->result == LEDGER_OK;
    if (good) {
        write_page(boards, form);
    }
    for (size_t i = 0; i < count; i++) {
        if (boards[i].result != LEDGER_NONE) {
            shops[i].result = boards[i].result; /* while it was written, too */
            good = good && boards[i].result == LEDGER_OK;
        }
        shelf_free(&boards[i].shelf);
        bay_free(&boards[i].bay);
        free(boards[i].standings);
        free(boards[i].troubles);
    }
    free(boards);
    if (fclose(out) != 0 || !good) {
        free(page->text);
        page->text = NULL;
    }
}
