/* SPDX-License-Identifier: MIT
 * wall: the board as it hangs on the wall: what is worst, large; what is in the bay today and tomorrow;
 * trouble; and readings that are wanted. Nothing scrolls there: each list has its most, and says how many
 * more there are. */
#include <string.h>

#include "daemon/board/board_inside.h"
#include "daemon/ground/zone.h"

enum { WORST = 6, WORST_OF_SEVERAL = 5 }; /* of several shops each has a line more */

/* Beside them is room for so many lines of what is booked and of trouble, which has two lines each: who
 * has less leaves it to who comes after, but of trouble one is always told. */
enum { SIDE_LINES = 10, TODAY_LINES = 4, TROUBLE_LINES = 2, TROUBLE_LEAST_LINES = 3 };

enum { NAMES_OCTETS = 60 }; /* of names in a row, that stand on two lines */
enum { NAME_LARGE = 5 };    /* characters; a longer one is written smaller, in two lines */

static void write_count(const struct board *board, size_t count, const char *class,
                        const char *says)
{
    (void)fprintf(board->out, "<li class=\"%s\"><b>%zu</b> <span class=\"word\">%s</span></li>\n",
                  class, count, says);
}

static void write_head(struct board *board)
{
    struct board_counts counts = board_count(board);
    board_markup(board, "<header>\n<h1>");
    html_text(board->out, board_name(board));
    board_markup(board, "</h1>\n<p>Made ");
    board_write_made(board, BOARD_WALL);
    board_markup(board, "</p>\n</header>\n"
                        "<p class=\"old\" role=\"status\" hidden>This page is more than a day old. "
                        "Does the daemon run? On its box, meterpost health tells.</p>\n");
    board_write_left_out(board);
    board_markup(board, "<ul class=\"sum\">\n");
    for (size_t i = DUE_STAGE_COUNT; i-- > 0;) {
        const struct due_stage_row *row = due_stage_row((enum due_stage)i);
        /* The usual ones always stand at their place; what is without record is rare. */
        if (row->tells && (i != DUE_STAGE_NO_RECORD || counts.services[i] > 0)) {
            write_count(board, counts.services[i], row->word, row->says);
        }
    }
    write_count(board, counts.wanted, "coming-up", "wanted");
    write_count(board, counts.troubles, counts.danger ? "overdue" : "due", "trouble");
    write_count(board, counts.in_shop, "rest", "in the shop");
    board_markup(board, "</ul>\n");
}

/* "15 h past it, since Sat Apr 10"; "by Tue Apr 13"; "" where nothing is known. */
static void write_when(const struct board *board, const struct yard_standing *standing)
{
    char left[HOURS_TEXT_OCTETS], day[BOARD_DAY_OCTETS];
    int64_t hundredths = standing->left_hundredths;
    bool past = board_past(board, standing);
    board_day(board, standing->due_day, day);
    if (standing->by == DUE_BY_DATE) {
        board_say(board, "%s %s", past ? "since" : "by", day);
    } else if (standing->has_due && standing->read) {
        board_say(board, "%s h %s", board_hours(hundredths < 0 ? -hundredths : hundredths, left),
                  hundredths < 0 ? "past it" : "left");
        if (standing->has_forecast) {
            board_say(board, ", %s %s", past ? "since" : "about", day);
        }
    } else {
        board_say(board, "%s", due_stage_row(standing->stage)->title);
    }
}

static void write_worst(const struct board *board, const struct yard_standing *standing)
{
    char day[BOARD_DAY_OCTETS];
    const char *name = board->settings->machines[standing->machine].name;
    (void)fprintf(board->out, "<li class=\"%s\"><b class=\"name%s\">",
                  due_stage_word(standing->stage), strlen(name) > NAME_LARGE ? " long" : "");
    html_text(board->out, name);
    board_markup(board, "</b><div><p class=\"title\">");
    html_text(board->out, board->settings->plans[standing->plan].title);
    board_write_shop(board, "</p><p class=\"title\">", "");
    board_markup(board, "</p><p class=\"faint\">");
    write_when(board, standing);
    board_markup(board, "</p></div><div class=\"end\"><p class=\"word\">");
    board_markup(board, due_stage_row(standing->stage)->says);
    board_markup(board, "</p>");
    if (standing->in_shop) {
        board_markup(board, "<p class=\"tag\">in the shop</p>");
    } else if (standing->booked) {
        board_markup(board, "<p class=\"tag\">");
        board_say(board, "booked %s", board_day(board, standing->booked_day, day));
        board_markup(board, "</p>");
    }
    board_markup(board, "</div></li>\n");
}

static void write_more(const struct board *board, size_t shown, size_t all, const char *what)
{
    if (all > shown) {
        (void)fprintf(board->out, "<li class=\"more\">and %zu more%s</li>\n", all - shown, what);
    }
}

static void write_list_of_worst(struct board *board)
{
    size_t shown = 0, telling = 0, told = 0, first = 0;
    struct board *shop;
    board_markup(board, board->shop != NULL ? "<section class=\"worst several\">\n"
                                            : "<section class=\"worst\">\n");
    board_markup(board, "<h2>Worst first</h2>\n<ol>\n");
    while ((shop = board_next_machine(board, &first)) != NULL) {
        const struct yard_standing *standing = &shop->standings[first];
        const struct due_stage_row *row = due_stage_row(standing->stage);
        if (row->rests) {
            continue;
        }
        telling += row->tells;
        if (shown < (board->shop != NULL ? (size_t)WORST_OF_SEVERAL : (size_t)WORST)) {
            write_worst(shop, standing);
            shown++;
            told += row->tells;
        }
    }
    write_more(board, told, telling, " that come due");
    board_markup(board, shown == 0 ? "<li class=\"more\">no readings yet</li>\n" : "");
    board_markup(board, "</ol>\n</section>\n");
}

/* The next day after today on which the shop works; tomorrow where none is near. */
static const struct bay_day *next_open(const struct board *board)
{
    for (size_t i = 1; i < board->bay.day_count; i++) {
        if (bay_open_on(&board->settings->shop, board->bay.days[i].day)) {
            return &board->bay.days[i];
        }
    }
    return &board->bay.days[1];
}

static const struct bay_day *today(const struct board *board)
{
    return &board->bay.days[0];
}

/* The day itself is said where it is one for all. */
static void write_heading(const struct board *board, bool is_next, const struct bay_day *day)
{
    char text[BOARD_DAY_OCTETS];
    board_markup(board, "<section>\n<h2>");
    if (board->shop != NULL) {
        board_markup(board, is_next ? "Next workday" : "Today");
    } else {
        board_say(board, "%s, %s",
                  !is_next                       ? "Today"
                  : day->day == board->today + 1 ? "Tomorrow"
                                                 : "Next",
                  board_day(board, day->day, text));
    }
    board_markup(board, "</h2>\n<ul>\n");
}

/* Writes the first of them, and returns how many there are. */
static size_t write_jobs(struct board *board, bool is_next, size_t most)
{
    size_t count = 0;
    for (struct board *shop = board; (shop = board_turn(shop)) != NULL; shop = shop->next) {
        const struct bay_day *day = is_next ? next_open(shop) : today(shop);
        for (size_t i = 0; i < day->job_count && day->jobs[i].booked; i++) {
            if (count++ < most) {
                board_markup(board, "<li><b>");
                html_text(board->out, shop->settings->machines[day->jobs[i].machine].name);
                board_markup(board, "</b> ");
                board_write_shop(shop, "", ": ");
                html_text(board->out, shop->settings->plans[day->jobs[i].plan].title);
                board_markup(board, "</li>\n");
            }
        }
    }
    return count;
}

/* How many of a list fit into so many lines, where one says how many more there are. */
static size_t fitting(size_t count, size_t lines_each, size_t lines)
{
    return count * lines_each <= lines ? count : (lines - 1) / lines_each;
}

/* What is booked for today or for the next workday, or in the shop already, in so many lines; returns how
 * many it took. */
static size_t write_booked(struct board *board, bool is_next, size_t lines)
{
    size_t count = write_jobs(board, is_next, 0), shown = fitting(count, 1, lines);
    write_heading(board, is_next,
                  board->shop != NULL ? NULL
                  : is_next           ? next_open(board)
                                      : today(board));
    (void)write_jobs(board, is_next, shown);
    write_more(board, shown, count, "");
    board_markup(board, count == 0 ? "<li class=\"more\">nothing booked</li>\n" : "");
    board_markup(board, "</ul>\n</section>\n");
    return count == 0 ? 1 : count > shown ? shown + 1 : shown;
}

static void write_trouble(const struct board *shop, const struct yard_trouble *trouble)
{
    board_markup(shop, trouble->danger ? "<li class=\"overdue clamp\"><b class=\"word\">DANGER "
                                       : "<li class=\"clamp\"><b>");
    html_text(shop->out, trouble->machine >= 0 ? shop->settings->machines[trouble->machine].name
                                               : "no machine named");
    board_markup(shop, "</b> ");
    board_write_shop(shop, "", ": ");
    html_text(shop->out, trouble->says);
    board_markup(shop, "</li>\n");
}

/* Danger first, whosever it is. */
static void write_troubles(struct board *board, size_t lines)
{
    size_t count = 0, all = 0;
    for (const struct board *shop = board; shop != NULL; shop = shop->next) {
        all += shop->trouble_count;
    }
    size_t shown = fitting(all, TROUBLE_LINES, lines);
    board_markup(board, "<section>\n<h2>Trouble</h2>\n<ul>\n");
    for (int calm = 0; calm < 2; calm++) {
        for (struct board *shop = board; (shop = board_turn(shop)) != NULL; shop = shop->next) {
            for (size_t i = 0; i < shop->trouble_count; i++) {
                if (shop->troubles[i].danger == (calm == 0) && count++ < shown) {
                    write_trouble(shop, &shop->troubles[i]);
                }
            }
        }
    }
    write_more(board, shown, all, "");
    board_markup(board, count == 0 ? "<li class=\"more\">none</li>\n" : "");
    board_markup(board, "</ul>\n</section>\n");
}

static bool is_wanted(const struct board *board, size_t first)
{
    return board_wanted(board, first) != NULL;
}

static bool is_in_shop(const struct board *board, size_t first)
{
    return board->standings[first].in_shop;
}

/* The machines of which that is so, in a row. */
static void write_names(struct board *board, const char *title,
                        bool (*so)(const struct board *board, size_t first))
{
    size_t count = 0, shown = 0, octets = 0;
    board_markup(board, "<section>\n<h2>");
    board_markup(board, title);
    board_markup(board, "</h2>\n<p class=\"clamp\">");
    for (struct board *shop = board; (shop = board_turn(shop)) != NULL; shop = shop->next) {
        for (size_t i = 0; i < shop->count; i++) {
            if (!board_first_of_machine(shop, i) || !so(shop, i)) {
                continue;
            }
            const char *name = shop->settings->machines[shop->standings[i].machine].name;
            octets += strlen(name) + 2 + (shop->shop != NULL ? strlen(shop->shop) + 3 : 0);
            if (octets <= NAMES_OCTETS) {
                board_markup(board, shown > 0 ? ", <b>" : "<b>");
                html_text(board->out, name);
                board_markup(board, "</b>");
                board_write_shop(shop, " (", ")");
                shown++;
            }
            count++;
        }
    }
    if (count > shown) {
        (void)fprintf(board->out, "%s%zu more", shown > 0 ? " and " : "", count - shown);
    }
    board_markup(board, count == 0 ? "none</p>\n</section>\n" : "</p>\n</section>\n");
}

void wall_write(struct board *board)
{
    write_head(board);
    board_markup(board, "<main>\n");
    write_list_of_worst(board);
    board_markup(board, "<div class=\"side\">\n");
    size_t lines = SIDE_LINES;
    lines -= write_booked(board, false, TODAY_LINES);
    lines -= write_booked(board, true, lines - TROUBLE_LEAST_LINES);
    write_troubles(board, lines);
    write_names(board, "In the shop", is_in_shop);
    write_names(board, "Readings wanted", is_wanted);
    board_markup(board, "</div>\n</main>\n");
}
