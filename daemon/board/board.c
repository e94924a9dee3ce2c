/* SPDX-License-Identifier: MIT
 * board: see board.h. All that comes from people or the config goes through html_text. */
#include "daemon/board/board.h"

#include <stdarg.h>
#include <stdlib.h>

#include "daemon/board/board_style.h"
#include "daemon/board/drawing.h"
#include "daemon/board/markup.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/upkeep/civil.h"
#include "daemon/yard/reported.h"
#include "parsers/hours.h"

#define POINTS_MAX 200 /* readings of a plot, the latest */
#define SENTENCE_OCTETS 256

struct board {
    const struct settings *settings;
    struct ledger *ledger;
    int64_t now_s;
    struct yard_standing *standings; /* worst first */
    size_t count;
    struct yard_trouble *troubles; /* danger first */
    size_t trouble_count;
    FILE *out;
    size_t remarks;
    enum ledger_result result; /* the first that was not OK */
};

/* A sentence of ours that may hold foreign names. */
static void say(const struct board *board, const char *format, ...)
    __attribute__((format(printf, 2, 3)));
static void say(const struct board *board, const char *format, ...)
{
    char sentence[SENTENCE_OCTETS];
    va_list arguments;
    va_start(arguments, format);
    (void)vsnprintf(sentence, sizeof sentence, format, arguments);
    va_end(arguments);
    html_text(board->out, sentence);
}

static void markup(const struct board *board, const char *text)
{
    (void)fputs(text, board->out);
}

static const char *hours_text(int64_t hundredths, char room[HOURS_TEXT_OCTETS])
{
    (void)hours_write(hundredths, room, HOURS_TEXT_OCTETS);
    return room;
}

/* A date, not to be broken at its hyphens. */
static void write_day(const struct board *board, const char *before, int32_t day)
{
    char text[CIVIL_TEXT_OCTETS];
    civil_write(day, text, sizeof text);
    (void)fprintf(board->out, "%s<span class=\"day\">%s</span>", before, text);
}

static void write_due(const struct board *board, const struct yard_standing *standing)
{
    char due[HOURS_TEXT_OCTETS], left[HOURS_TEXT_OCTETS];
    int64_t hundredths = standing->left_hundredths;
    bool past = standing->due_day <= zone_civil(board->now_s).day;
    markup(board, "<p>");
    if (standing->by == DUE_BY_DATE) {
        write_day(board, "By ", standing->due_day);
    }
    if (standing->has_due) {
        say(board, "%s %s h", standing->by == DUE_BY_DATE ? ", or at" : "At",
            hours_text(standing->due_meter_hundredths, due));
    }
    if (standing->has_due && standing->read) {
        say(board, ", %s h %s", hours_text(hundredths < 0 ? -hundredths : hundredths, left),
            hundredths < 0 ? "past it" : "left");
    }
    if (standing->wanted) {
        say(board, "; a reading is wanted, by its usual use it shows %s h by now",
            hours_text(standing->likely_meter_hundredths, due));
    } else if (standing->by == DUE_BY_HOURS && standing->has_forecast) {
        write_day(board, past ? ", since " : ", about ", standing->due_day);
    }
    if (standing->has_forecast && !past && standing->earliest_day != standing->latest_day) {
        write_day(board, " (", standing->earliest_day);
        write_day(board, " to ", standing->latest_day);
        markup(board, ")");
    }
    markup(board, ".</p>\n");
}

/* What is open on that machine; -1: on none that is known. */
static void write_trouble(const struct board *board, int32_t machine)
{
    bool begun = false;
    for (size_t i = 0; i < board->trouble_count; i++) {
        const struct yard_trouble *trouble = &board->troubles[i];
        char at[ZONE_TEXT_OCTETS];
        if (trouble->machine != machine) {
            continue;
        }
        zone_write_rfc3339(trouble->since_s, at, sizeof at);
        markup(board, begun ? "<li>" : "<ul class=\"trouble\">\n<li>");
        markup(board, trouble->danger ? "<b class=\"danger\">DANGER</b> " : "<b>Trouble</b> ");
        say(board, "since %.10s, %s: ", at, trouble->person);
        html_text(board->out, trouble->says);
        markup(board, "</li>\n");
        begun = true;
    }
    markup(board, begun ? "</ul>\n" : "");
}

static void write_head(const struct board *board)
{
    char at[ZONE_TEXT_OCTETS];
    const char *shop = board->settings->shop.name;
    size_t found[DUE_STAGE_COUNT] = {0}; /* how many services stand how, worst first */
    for (size_t i = 0; i < board->count; i++) {
        found[board->standings[i].stage]++;
    }
    zone_write_minute(board->now_s, at, sizeof at);
    markup(board, BOARD_PAGE_BEGINS
           "<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
           "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
           "<meta http-equiv=\"Content-Security-Policy\" "
           "content=\"default-src 'none'; style-src 'unsafe-inline'\">\n<title>");
    say(board, "%s: the yard", shop);
    markup(board, "</title>\n<style>\n" BOARD_STYLE "</style>\n</head>\n<body>\n<header><h1>");
    html_text(board->out, shop);
    markup(board, "</h1>\n<p class=\"faint\">");
    say(board, "The yard as of %s. Worst first; a machine is as bad as its worst service.", at);
    markup(board, "</p>\n<ul class=\"sum\">\n");
    for (size_t i = DUE_STAGE_COUNT; i-- > 0;) {
        const struct due_stage_row *row = due_stage_row((enum due_stage)i);
        if (found[i] > 0) {
            (void)fprintf(board->out,
                          "<li class=\"%s\"><b>%zu</b> <span class=\"word\">%s</span></li>\n",
                          row->word, found[i], row->title);
        }
    }
    if (board->trouble_count > 0) {
        (void)fprintf(board->out,
                      "<li><b>%zu</b> <span class=\"danger\">open trouble%s</span></li>\n",
                      board->trouble_count, board->troubles[0].danger ? ", with DANGER" : "");
    }
    markup(board, "</ul>\n");
    write_trouble(board, -1);
    markup(board, "</header>\n");
}

static void write_plan(const struct board *board, const struct yard_standing *standing)
{
    /* How much of the interval has run, by hours or by date, whichever comes first. */
    int64_t from = standing->serviced ? standing->last_done_true_hundredths : 0;
    int64_t run = standing->true_hundredths - from;
    int64_t interval = standing->due_true_hundredths - from;
    if (standing->by == DUE_BY_DATE) {
        run = zone_civil(board->now_s).day - standing->limit_from_day;
        interval = standing->limit_day - standing->limit_from_day;
    }
    (void)fprintf(board->out, "<section class=\"%s\"><h3>", due_stage_word(standing->stage));
    html_text(board->out, board->settings->plans[standing->plan].title);
    (void)fprintf(board->out, ": <span class=\"word\">%s</span></h3>\n",
                  due_stage_row(standing->stage)->title);
    if (standing->has_due || standing->has_forecast) {
        write_due(board, standing);
    }
    if (standing->has_due && standing->read) {
        drawing_bar(board->out, interval > 0 ? run * 1000 / interval : 1000);
    }
    markup(board, "</section>\n");
}

/* The latest readings, oldest first; *count 0 where there are none. */
static void load_points(struct board *board, int32_t machine,
                        struct drawing_point points[POINTS_MAX], size_t *count)
{
    struct ledger *ledger = board->ledger;
    struct reading_point recent[POINTS_MAX];
    int64_t machine_id = 0, offset;
    *count = 0;
    enum ledger_result result =
        machines_id(ledger, board->settings->machines[machine].name, &machine_id);
    if (result == LEDGER_OK) {
        result =
            readings_recent(ledger, machine_id, board->now_s, POINTS_MAX, recent, count, &offset);
    }
    if (result != LEDGER_OK && result != LEDGER_NONE) {
        board->result = result;
        *count = 0;
    }
    for (size_t i = 0; i < *count; i++) {
        const struct reading_point *point = &recent[*count - 1 - i];
        points[i] = (struct drawing_point){point->read_s, point->true_hundredths};
    }
}

static void write_plot(struct board *board, size_t first)
{
    struct drawing_point points[POINTS_MAX];
    struct drawing_level levels[SETTINGS_PLANS_MAX];
    size_t point_count, level_count = 0;
    char says[SENTENCE_OCTETS];
    int32_t machine = board->standings[first].machine;
    load_points(board, machine, points, &point_count);
    for (size_t i = first; i < board->count && level_count < SETTINGS_PLANS_MAX; i++) {
        const struct yard_standing *standing = &board->standings[i];
        if (standing->machine == machine && standing->has_due) {
            levels[level_count++] = (struct drawing_level){
                board->settings->plans[standing->plan].name, standing->due_true_hundredths};
        }
    }
    (void)snprintf(says, sizeof says, "%s: hours that it has run, by the last %zu readings",
                   board->settings->machines[machine].name, point_count);
    drawing_hours(board->out, points, point_count, levels, level_count, says);
}

/* Standings come worst first, so that the first of a machine gives its place and its colour. */
static void write_machine(struct board *board, size_t first)
{
    const struct yard_standing *worst = &board->standings[first];
    for (size_t i = 0; i < first; i++) {
        if (board->standings[i].machine == worst->machine) {
            return;
        }
    }
    const struct settings *settings = board->settings;
    const struct settings_machine *machine = &settings->machines[worst->machine];
    (void)fprintf(board->out, "<article class=\"%s\"><h2>", due_stage_word(worst->stage));
    html_text(board->out, machine->name);
    markup(board, "</h2>\n<p class=\"faint\">");
    say(board, "%s%s%s", settings->kinds[machine->kind].name,
        machine->site[0] != '\0' ? ", at " : "", machine->site);
    for (size_t i = 0; i < machine->crew_count; i++) {
        say(board, "%s%s", i == 0 ? ", crew " : " + ", settings->people[machine->crew[i]].name);
    }
    markup(board, "</p>\n");
    if (worst->read) {
        char figure[HOURS_TEXT_OCTETS], at[ZONE_TEXT_OCTETS];
        zone_write_rfc3339(worst->read_s, at, sizeof at);
        markup(board, "<p>");
        say(board, "Meter %s h on %.10s.", hours_text(worst->meter_hundredths, figure), at);
        markup(board, "</p>\n");
    }
    write_trouble(board, worst->machine);
    for (size_t i = first; i < board->count; i++) {
        if (board->standings[i].machine == worst->machine) {
            write_plan(board, &board->standings[i]);
        }
    }
    write_plot(board, first);
    markup(board, "</article>\n");
}

static void write_remark(void *ctx, const struct reading_row *row)
{
    struct board *board = ctx;
    char at[ZONE_TEXT_OCTETS], name[PEOPLE_NAME_OCTETS];
    if (row->read_s > board->now_s ||
        machines_name(board->ledger, row->machine_id, name) != LEDGER_OK) {
        return;
    }
    board->remarks++;
    zone_write_rfc3339(row->read_s, at, sizeof at);
    markup(board, "<li>");
    say(board, "%.10s %s: ", at, name);
    html_text(board->out, row->remark);
    markup(board, "</li>\n");
}

static void write_remarks(struct board *board)
{
    markup(board, "<section><h3>What crews remarked in the last two weeks</h3>\n<ul>\n");
    enum ledger_result result =
        readings_remarked_since(board->ledger, board->now_s - BOARD_REMARKS_S, write_remark, board);
    board->result = result != LEDGER_OK ? result : board->result;
    markup(board,
           board->remarks == 0 ? "<li>nothing</li>\n</ul></section>\n" : "</ul></section>\n");
}

static void write_page(struct board *board)
{
    write_head(board);
    markup(board, "<main class=\"yard\">\n");
    for (size_t i = 0; i < board->count; i++) {
        write_machine(board, i);
    }
    markup(board, "</main>\n");
    write_remarks(board);
    markup(board,
           "<footer><p class=\"faint\">Dates rest on the hours that crews text: a plan, not a "
           "measurement. The maker&#39;s manual and local rules come first.</p></footer>\n"
           "</body>\n</html>\n");
}

enum ledger_result board_write(struct yard *yard, int64_t now_s, FILE *out)
{
    struct board board = {
        .settings = yard->settings, .ledger = yard->ledger, .now_s = now_s, .out = out};
    board.result = ledger_look(yard->ledger);
    if (board.result == LEDGER_OK) {
        board.result = yard_troubles(yard, now_s, &board.troubles, &board.trouble_count);
    }
    if (board.result == LEDGER_OK) {
        board.result = yard_stand_all(yard, now_s, &board.standings, &board.count);
    }
    if (board.result == LEDGER_OK) {
        write_page(&board);
    }
    free(board.standings);
    free(board.troubles);
    return board.result;
}
