/* SPDX-License-Identifier: MIT
 * wall: the board as it hangs on the wall: what is worst, large; what is in the bay today and tomorrow;
 * trouble; and readings that are wanted. Nothing scrolls there: each list has its most, and says how many
 * more there are. */
#include <string.h>

#include "daemon/board/board_inside.h"
#include "daemon/board/markup.h"
#include "daemon/ground/zone.h"

enum { WORST_MOST = 6, JOBS_MOST = 4, TROUBLE_MOST = 3 };
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
    html_text(board->out, board->settings->shop.name);
    board_markup(board, "</h1>\n<p>Made ");
    board_write_made(board, BOARD_WALL);
    board_markup(board, "</p>\n</header>\n"
                        "<p class=\"old\" role=\"status\" hidden>This page is more than a day old. "
                        "Does the daemon run? On its box, meterpost health tells.</p>\n"
                        "<ul class=\"sum\">\n");
    for (size_t i = DUE_STAGE_COUNT; i-- > 0;) {
        const struct due_stage_row *row = due_stage_row((enum due_stage)i);
        /* The usual ones always stand at their place; what is without record is rare. */
        if (row->tells && (i != DUE_STAGE_NO_RECORD || counts.services[i] > 0)) {
            write_count(board, counts.services[i], row->word, row->says);
        }
    }
    write_count(board, counts.wanted, "coming-up", "wanted");
    write_count(board, board->trouble_count,
                board->trouble_count > 0 && board->troubles[0].danger ? "overdue" : "due",
                "trouble");
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

static void write_list_of_worst(const struct board *board)
{
    size_t shown = 0, telling = 0, told = 0;
    board_markup(board, "<section class=\"worst\">\n<h2>Worst first</h2>\n<ol>\n");
    for (size_t i = 0; i < board->count; i++) {
        const struct due_stage_row *row = due_stage_row(board->standings[i].stage);
        if (row->rests || !board_first_of_machine(board, i)) {
            continue;
        }
        telling += row->tells;
        if (shown < WORST_MOST) {
            write_worst(board, &board->standings[i]);
            shown++;
            told += row->tells;
        }
    }
    write_more(board, told, telling, " that come due");
    board_markup(board, shown == 0 ? "<li class=\"more\">no readings yet</li>\n" : "");
    board_markup(board, "</ol>\n</section>\n");
}

/* What is booked for that day, or in the shop already. */
static void write_booked(const struct board *board, const char *name, const struct bay_day *day)
{
    size_t count = 0;
    char text[BOARD_DAY_OCTETS];
    board_markup(board, "<section>\n<h2>");
    board_say(board, "%s%s", name, board_day(board, day->day, text));
    board_markup(board, "</h2>\n<ul>\n");
    for (size_t i = 0; i < day->job_count && day->jobs[i].booked; i++) {
        if (count++ < JOBS_MOST) {
            board_markup(board, "<li><b>");
            html_text(board->out, board->settings->machines[day->jobs[i].machine].name);
            board_markup(board, "</b> ");
            html_text(board->out, board->settings->plans[day->jobs[i].plan].title);
            board_markup(board, "</li>\n");
        }
    }
    write_more(board, JOBS_MOST, count, "");
    board_markup(board, count == 0 ? "<li class=\"more\">nothing booked</li>\n" : "");
    board_markup(board, "</ul>\n</section>\n");
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

static void write_trouble(const struct board *board)
{
    board_markup(board, "<section>\n<h2>Trouble</h2>\n<ul>\n");
    for (size_t i = 0; i < board->trouble_count && i < TROUBLE_MOST; i++) {
        const struct yard_trouble *trouble = &board->troubles[i];
        board_markup(board, trouble->danger
                                ? "<li class=\"overdue clamp\"><b class=\"word\">DANGER "
                                : "<li class=\"clamp\"><b>");
        html_text(board->out, trouble->machine >= 0
                                  ? board->settings->machines[trouble->machine].name
                                  : "no machine named");
        board_markup(board, "</b> ");
        html_text(board->out, trouble->says);
        board_markup(board, "</li>\n");
    }
    write_more(board, TROUBLE_MOST, board->trouble_count, "");
    board_markup(board, board->trouble_count == 0 ? "<li class=\"more\">none</li>\n" : "");
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
static void write_names(const struct board *board, const char *title,
                        bool (*so)(const struct board *board, size_t first))
{
    size_t count = 0, shown = 0, octets = 0;
    board_markup(board, "<section>\n<h2>");
    board_markup(board, title);
    board_markup(board, "</h2>\n<p class=\"clamp\">");
    for (size_t i = 0; i < board->count; i++) {
        if (!board_first_of_machine(board, i) || !so(board, i)) {
            continue;
        }
        const char *name = board->settings->machines[board->standings[i].machine].name;
        octets += strlen(name) + 2;
        if (octets <= NAMES_OCTETS) {
            board_markup(board, shown > 0 ? ", <b>" : "<b>");
            html_text(board->out, name);
            board_markup(board, "</b>");
            shown++;
        }
        count++;
    }
    if (count > shown) {
        (void)fprintf(board->out, " and %zu more", count - shown);
    }
    board_markup(board, count == 0 ? "none</p>\n</section>\n" : "</p>\n</section>\n");
}

void wall_write(struct board *board)
{
    const struct bay_day *next = next_open(board);
    write_head(board);
    board_markup(board, "<main>\n");
    write_list_of_worst(board);
    board_markup(board, "<div class=\"side\">\n");
    write_booked(board, "Today, ", &board->bay.days[0]);
    write_booked(board, next->day == board->today + 1 ? "Tomorrow, " : "Next, ", next);
    write_trouble(board);
    write_names(board, "In the shop", is_in_shop);
    write_names(board, "Readings wanted", is_wanted);
    board_markup(board, "</div>\n</main>\n");
}
