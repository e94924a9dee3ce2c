/* SPDX-License-Identifier: MIT
 * load: what the bay has to do in the next eight weeks, a column for each: what is booked, what is
 * suggested, and how much room there is. */
#include "daemon/board/board_inside.h"
#include "daemon/board/drawing.h"

struct week {
    int32_t from_day; /* a Monday, or today */
    int64_t minutes, booked_minutes, suggested_minutes;
};

/* The days of one calendar week, from that one on; returns the first of the next. */
static size_t add_up(const struct bay *bay, size_t at, struct week *week)
{
    *week = (struct week){.from_day = bay->days[at].day};
    do {
        const struct bay_day *day = &bay->days[at++];
        week->minutes += day->minutes;
        for (size_t i = 0; i < day->job_count; i++) {
            *(day->jobs[i].booked ? &week->booked_minutes : &week->suggested_minutes) +=
                day->jobs[i].minutes;
        }
    } while (at < bay->day_count && civil_weekday(bay->days[at].day) != 0);
    return at;
}

/* "7.5", of tenths of an hour, rounded. */
static void write_hours(const struct board *board, int64_t minutes)
{
    char text[HOURS_TEXT_OCTETS];
    board_say(board, "%s", board_hours((minutes + 3) / 6 * 10, text));
}

static void write_week(const struct board *board, const struct week *week)
{
    char day[BOARD_DAY_OCTETS];
    int64_t work = week->booked_minutes + week->suggested_minutes;
    bool full = work > week->minutes;
    int64_t scale = full ? work : week->minutes > 0 ? week->minutes : 1;
    (void)fprintf(board->out, "<li class=\"%s\">", full ? "overdue" : "fine");
    drawing_column(board->out, week->booked_minutes * 1000 / scale,
                   week->suggested_minutes * 1000 / scale);
    board_markup(board, "<b>");
    write_hours(board, work);
    board_markup(board, " h</b> <span>");
    board_say(board, "%s", board_day(board, week->from_day, day) + 4); /* no weekday */
    board_markup(board, "</span></li>\n");
}

void load_write(const struct board *board)
{
    const struct bay *bay = &board->bay;
    struct week week;
    board_markup(board, "<section class=\"load\"><h2>The bay");
    board_write_shop(board, " of ", "");
    board_markup(board, " in the next eight weeks</h2>\n"
                        "<p class=\"faint\">Hours of work by week: booked solid, suggested pale; a "
                        "full column is ");
    write_hours(board, (int64_t)board->settings->shop.bays * board->settings->shop.bay_minutes);
    board_markup(board, " h on each workday.</p>\n<ol>\n");
    for (size_t at = 0; at < bay->day_count;) {
        at = add_up(bay, at, &week);
        write_week(board, &week);
    }
    board_markup(board, "</ol></section>\n");
}
