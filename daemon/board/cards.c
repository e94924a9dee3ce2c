/* SPDX-License-Identifier: MIT
 * cards: the board for desk, phone and paper: a card for every machine, the worst first. */
#include <stdlib.h>
#include <string.h>

#include "daemon/board/board_inside.h"
#include "daemon/board/drawing.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"

#define POINTS_MAX 200 /* readings of a plot, the latest */
/* How far a plot goes back: twice as far as its forecast ahead, and between these. */
#define PAST_LEAST_S (30 * (int64_t)86400)
#define PAST_MOST_S (120 * (int64_t)86400)

#define LEVEL_TOLD_DAYS 45 /* a level is looked at within days of its service */

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
    bool past = board_past(board, standing);
    board_markup(board, "<p>");
    if (standing->by == DUE_BY_DATE) {
        write_day(board, "By ", standing->due_day);
    }
    if (standing->has_due) {
        board_say(board, "%s %s h", standing->by == DUE_BY_DATE ? ", or at" : "At",
                  board_hours(standing->due_meter_hundredths, due));
    }
    if (standing->has_due && standing->read) {
        board_say(board, ", %s h %s", board_hours(hundredths < 0 ? -hundredths : hundredths, left),
                  hundredths < 0 ? "past it" : "left");
    }
    if (standing->wanted) {
        board_say(board, "; a reading is wanted, by its usual use it shows some %s h by now",
                  board_hours((standing->likely_meter_hundredths + 50) / 100 * 100, due));
    } else if (standing->by == DUE_BY_HOURS && standing->has_forecast) {
        write_day(board, past ? ", since " : ", about ", standing->due_day);
    }
    if (standing->has_forecast && !past && standing->earliest_day != standing->latest_day) {
        write_day(board, " (", standing->earliest_day);
        write_day(board, " to ", standing->latest_day);
        board_markup(board, ")");
    }
    board_markup(board, ".</p>\n");
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
        board_markup(board, begun ? "<li>" : "<ul class=\"trouble\">\n<li>");
        if (machine < 0) {
            board_write_shop(board, "", ": ");
        }
        board_markup(board,
                     trouble->danger ? "<b class=\"danger\">DANGER</b> " : "<b>Trouble</b> ");
        board_say(board, "since %.10s, %s: ", at, trouble->person);
        html_text(board->out, trouble->says);
        board_markup(board, "</li>\n");
        begun = true;
    }
    board_markup(board, begun ? "</ul>\n" : "");
}

static void write_sum(const struct board *board, size_t count, const char *class, const char *says)
{
    if (count > 0) {
        (void)fprintf(board->out,
                      "<li class=\"%s\"><b>%zu</b> <span class=\"word\">%s</span></li>\n", class,
                      count, says);
    }
}

/* Of several shops, whose ledgers may have been copied: how far each goes; by its own clock, which is said
 * where it is another than that of the page. */
static void write_last_entry(struct board *board, const struct board *first)
{
    int64_t last_s = 0;
    char at[ZONE_TEXT_OCTETS] = "never";
    if (board->shop == NULL) {
        return;
    }
    enum ledger_result result = dates_latest(board->yard->ledger, &last_s);
    board->result = result != LEDGER_OK ? result : board->result;
    if (last_s > 0) {
        zone_write_minute(last_s, at, sizeof at);
    }
    board_write_shop(board, "<p class=\"faint\"><b>", "</b>: last entry ");
    board_markup(board, at);
    if (strcmp(board->settings->shop.time_zone, first->settings->shop.time_zone) != 0) {
        zone_write_minute(board->now_s, at, sizeof at);
        board_say(board, ", where it is %s", at);
    }
    board_markup(board, ".</p>\n");
}

static void write_head(struct board *board)
{
    struct board_counts counts = board_count(board);
    const struct board *first = board_turn(board);
    board_markup(board, "<p class=\"old\" role=\"status\" hidden>This page is more than a day old. "
                        "Does the daemon run? On its box, meterpost health tells.</p>\n"
                        "<header><h1>");
    html_text(board->out, board_name(board));
    board_markup(board, "</h1>\n");
    board_write_left_out(board);
    board_markup(board, board->shop != NULL ? "<p class=\"faint\">The yards as of "
                                            : "<p class=\"faint\">The yard as of ");
    board_write_made(board, BOARD_DESK);
    board_markup(
        board,
        ". Worst first; a machine is as bad as its worst service.</p>\n<ul class=\"sum\">\n");
    for (size_t i = DUE_STAGE_COUNT; i-- > 0;) {
        const struct due_stage_row *row = due_stage_row((enum due_stage)i);
        write_sum(board, counts.services[i], row->word, row->title);
    }
    write_sum(board, counts.in_shop, "rest", "in the shop");
    write_sum(board, counts.booked, "rest", "booked");
    write_sum(board, counts.wanted, "coming-up", "wanted: no reading for long");
    write_sum(board, counts.troubles, counts.danger ? "overdue" : "due",
              counts.danger ? "open trouble, with DANGER" : "open trouble");
    board_markup(board, "</ul>\n");
    for (struct board *shop = board; (shop = board_turn(shop)) != NULL; shop = shop->next) {
        write_last_entry(shop, first);
        write_trouble(shop, -1);
    }
    board_markup(board, "</header>\n");
}

static void write_last_done(const struct board *board, const struct yard_standing *standing)
{
    char figure[HOURS_TEXT_OCTETS];
    if (!standing->serviced) {
        return;
    }
    board_markup(board, "<p>");
    board_say(board, "Last done at %s h",
              board_hours(standing->last_done_meter_hundredths, figure));
    if (standing->last_done_day_known) {
        write_day(board, " on ", standing->last_done_day);
    }
    board_markup(board, ".</p>\n");
}

/* What the service takes, where the bay has it this week: to be ordered now, if it is not there. */
static void write_kit(const struct board *board, const struct yard_standing *standing)
{
    const struct settings_plan *plan = &board->settings->plans[standing->plan];
    bool this_week = false;
    for (size_t i = 0; i < board->bay.day_count && i < 7; i++) {
        const struct bay_day *day = &board->bay.days[i];
        for (size_t j = 0; j < day->job_count; j++) {
            this_week = this_week || (day->jobs[j].machine == standing->machine &&
                                      day->jobs[j].plan == standing->plan);
        }
    }
    for (size_t i = 0; i < plan->kit_count && this_week; i++) {
        const struct settings_kit_item *item = &plan->kit[i];
        char quantity[32];
        (void)hours_write((item->quantity_thousandths + 5) / 10, quantity, sizeof quantity);
        board_markup(board, i == 0 ? "<p>Kit to have this week: " : ", ");
        board_say(board, "%s %s%s%s", quantity,
                  item->unit == KIT_UNIT_PIECE ? "" : kit_unit_name(item->unit),
                  item->unit == KIT_UNIT_PIECE ? "" : " ", item->item);
    }
    board_markup(board, this_week && plan->kit_count > 0 ? ".</p>\n" : "");
}

/* The steps of the look at the level after the service of one cycle. */
struct level {
    const char *plan;
    int64_t cycle;
    int64_t asked_s, looked_s; /* 0 not yet */
};

static void see_alert(void *ctx, const struct alert_row *row, bool is_void)
{
    struct level *level = ctx;
    if (is_void || row->cycle != level->cycle || strcmp(row->plan, level->plan) != 0) {
        return;
    }
    level->asked_s = strcmp(row->stage, ALERTS_RECHECK) == 0 ? row->raised_s : level->asked_s;
    level->looked_s = strcmp(row->stage, ALERTS_RECHECKED) == 0 ? row->raised_s : level->looked_s;
}

/* After a service the level is looked at again, once the machine has run. */
static void write_level(struct board *board, const struct yard_standing *standing)
{
    const struct settings_plan *plan = &board->settings->plans[standing->plan];
    struct level level = {.plan = plan->name, .cycle = standing->cycle};
    char figure[HOURS_TEXT_OCTETS];
    int64_t past = standing->last_done_meter_hundredths + plan->plan.recheck_after_hundredths;
    if (standing->cause_service_id == 0 || plan->plan.recheck_after_hundredths == 0 ||
        !standing->last_done_day_known ||
        board->today - standing->last_done_day > LEVEL_TOLD_DAYS) {
        return;
    }
    enum ledger_result result =
        alerts_each(board->yard->ledger, standing->machine_id, see_alert, &level);
    board->result = result != LEDGER_OK ? result : board->result;
    board_markup(board, level.looked_s != 0 ? "<p>Level" : "<p><b>Level</b>");
    if (level.looked_s != 0) {
        write_day(board, " looked at again on ", zone_civil(level.looked_s).day);
    } else if (level.asked_s != 0) {
        write_day(board, ": to be looked at, asked for on ", zone_civil(level.asked_s).day);
    } else {
        board_say(board, ": to be looked at past %s h", board_hours(past, figure));
    }
    board_markup(board, ".</p>\n");
}

static void write_plan(struct board *board, const struct yard_standing *standing)
{
    /* How much of the interval has run, by hours or by date, whichever comes first. */
    int64_t from = standing->serviced ? standing->last_done_true_hundredths : 0;
    int64_t run = standing->true_hundredths - from;
    int64_t interval = standing->due_true_hundredths - from;
    if (standing->by == DUE_BY_DATE) {
        run = board->today - standing->limit_from_day;
        interval = standing->limit_day - standing->limit_from_day;
    }
    int32_t suggested_day = 0;
    (void)fprintf(board->out, "<section class=\"%s\"><h3>", due_stage_word(standing->stage));
    html_text(board->out, board->settings->plans[standing->plan].title);
    (void)fprintf(board->out, ": <span class=\"word\">%s</span></h3>\n",
                  due_stage_row(standing->stage)->title);
    if (standing->has_due || standing->has_forecast) {
        write_due(board, standing);
    }
    if (bay_suggested(&board->bay, standing->machine, standing->plan, &suggested_day)) {
        write_day(board, "<p>Suggested for the bay: ", suggested_day);
        board_markup(board, ".</p>\n");
    }
    write_kit(board, standing);
    write_last_done(board, standing);
    write_level(board, standing);
    if (standing->has_due && standing->read) {
        drawing_bar(board->out, interval > 0 ? run * 1000 / interval : 1000);
    }
    board_markup(board, "</section>\n");
}

/* The latest readings, of that moment and later, but two at least, oldest first; *count 0 where there
 * are none. */
static void load_points(struct board *board, int32_t machine, int64_t since_s,
                        struct drawing_point points[POINTS_MAX], size_t *count)
{
    struct ledger *ledger = board->yard->ledger;
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
    while (*count > 2 && recent[*count - 1].read_s < since_s) {
        (*count)--;
    }
    for (size_t i = 0; i < *count; i++) {
        const struct reading_point *point = &recent[*count - 1 - i];
        points[i] = (struct drawing_point){point->read_s, point->true_hundredths};
    }
}

/* The next of the machine's services that hours bring, where it lies ahead of the last reading. */
static void aim_cone(const struct board *board, size_t first, struct drawing *drawing)
{
    int64_t last_s = board->standings[first].read_s;
    for (size_t i = first; i < board->count; i++) {
        const struct yard_standing *standing = &board->standings[i];
        if (standing->machine != board->standings[first].machine || !standing->has_due ||
            !standing->has_forecast || standing->by != DUE_BY_HOURS ||
            standing->left_hundredths <= 0 ||
            (drawing->has_cone && drawing->cone_hundredths <= standing->due_true_hundredths)) {
            continue;
        }
        const int32_t days[] = {standing->earliest_day, standing->due_day, standing->latest_day};
        int64_t ends_s[3];
        for (size_t j = 0; j < 3; j++) {
            ends_s[j] = zone_unix(days[j], 12 * 3600);
            ends_s[j] = ends_s[j] > last_s ? ends_s[j] : last_s;
        }
        drawing->has_cone = true;
        drawing->cone_hundredths = standing->due_true_hundredths;
        drawing->early_s = ends_s[0];
        drawing->expected_s = ends_s[1];
        drawing->late_s = ends_s[2];
    }
}

static void write_plot(struct board *board, size_t first)
{
    struct drawing_point points[POINTS_MAX];
    struct drawing_level levels[SETTINGS_PLANS_MAX];
    size_t point_count, level_count = 0;
    char says[BOARD_SENTENCE_OCTETS];
    int32_t machine = board->standings[first].machine;
    struct drawing drawing = {.points = points, .levels = levels, .says = says};
    aim_cone(board, first, &drawing);
    int64_t past_s = drawing.has_cone ? 2 * (drawing.late_s - board->now_s) : PAST_MOST_S;
    past_s = past_s < PAST_LEAST_S ? PAST_LEAST_S : past_s > PAST_MOST_S ? PAST_MOST_S : past_s;
    load_points(board, machine, board->now_s - past_s, points, &point_count);
    if (point_count == 0) {
        return;
    }
    for (size_t i = first; i < board->count && level_count < SETTINGS_PLANS_MAX; i++) {
        const struct yard_standing *standing = &board->standings[i];
        if (standing->machine == machine && standing->has_due) {
            levels[level_count++] = (struct drawing_level){
                board->settings->plans[standing->plan].name, standing->due_true_hundredths};
        }
    }
    (void)snprintf(says, sizeof says, "%s: hours that it has run, by the last %zu reading%s%s",
                   board->settings->machines[machine].name, point_count,
                   point_count == 1 ? "" : "s",
                   drawing.has_cone ? ", and between which days the next service is expected" : "");
    drawing.point_count = point_count;
    drawing.level_count = level_count;
    drawing_hours(board->out, &drawing);
}

static bool takes_item(const struct shelf_item *item, int32_t machine)
{
    for (size_t i = 0; i < item->machine_count; i++) {
        if (item->machines[i] == machine) {
            return true;
        }
    }
    return false;
}

/* What that machine needs and is to be ordered within the week. */
static void write_orders(const struct board *board, int32_t machine)
{
    bool begun = false;
    for (size_t i = 0; i < board->shelf.item_count; i++) {
        const struct shelf_item *item = &board->shelf.items[i];
        if (item->has_order_by && item->order_by_day < board->today + 7 &&
            takes_item(item, machine)) {
            board_markup(board, begun ? ", " : "<p><b>To order</b> this week: ");
            html_text(board->out, item->item);
            write_day(board, " by ", item->order_by_day);
            begun = true;
        }
    }
    board_markup(board, begun ? ".</p>\n" : "");
}

static void write_whereabouts(const struct board *board, const struct yard_standing *standing)
{
    if (standing->in_shop) {
        board_markup(board, "<p class=\"shop\"><b>In the shop</b>");
        write_day(board, " since ", zone_civil(standing->in_since_s).day);
        board_markup(board, ".</p>\n");
    } else if (standing->booked) {
        board_markup(board, "<p class=\"shop\"><b>Booked</b>");
        write_day(board, " for ", standing->booked_day);
        board_markup(board, ".</p>\n");
    }
}

static void write_machine(struct board *board, size_t first)
{
    const struct yard_standing *worst = &board->standings[first];
    const struct settings *settings = board->settings;
    const struct settings_machine *machine = &settings->machines[worst->machine];
    (void)fprintf(board->out, "<article class=\"%s\"><div>\n<h2>", due_stage_word(worst->stage));
    html_text(board->out, machine->name);
    board_markup(board, "</h2>\n<p class=\"faint\">");
    board_write_shop(board, "<b>", "</b>: ");
    board_say(board, "%s%s%s", settings->kinds[machine->kind].name,
              machine->site[0] != '\0' ? ", at " : "", machine->site);
    for (size_t i = 0; i < machine->crew_count; i++) {
        board_say(board, "%s%s", i == 0 ? ", crew " : " + ",
                  settings->people[machine->crew[i]].name);
    }
    board_markup(board, "</p>\n");
    write_whereabouts(board, worst);
    if (worst->read) {
        char figure[HOURS_TEXT_OCTETS];
        board_markup(board, "<p>");
        board_say(board, "Meter %s h", board_hours(worst->meter_hundredths, figure));
        write_day(board, " on ", zone_civil(worst->read_s).day);
        board_markup(board, ".</p>\n");
    }
    write_trouble(board, worst->machine);
    write_orders(board, worst->machine);
    board_markup(board, "<div class=\"plans\">\n");
    for (size_t i = first; i < board->count; i++) {
        if (board->standings[i].machine == worst->machine) {
            write_plan(board, &board->standings[i]);
        }
    }
    board_markup(board, "</div>\n</div>\n");
    write_plot(board, first);
    board_markup(board, "</article>\n");
}

struct remarks {
    struct board *board;
    size_t count;
};

static void write_remark(void *ctx, const struct reading_row *row)
{
    struct remarks *remarks = ctx;
    const struct board *board = remarks->board;
    char name[PEOPLE_NAME_OCTETS];
    if (row->read_s > board->now_s ||
        machines_name(board->yard->ledger, row->machine_id, name) != LEDGER_OK) {
        return;
    }
    remarks->count++;
    write_day(board, "<li>", zone_civil(row->read_s).day);
    board_write_shop(board, " ", ":");
    board_say(board, " %s: ", name);
    html_text(board->out, row->remark);
    board_markup(board, "</li>\n");
}

static void write_remarks(struct board *board)
{
    size_t count = 0;
    board_markup(board, "<section><h2>What crews remarked in the last two weeks</h2>\n<ul>\n");
    for (struct board *shop = board; (shop = board_turn(shop)) != NULL; shop = shop->next) {
        struct remarks remarks = {shop, 0};
        enum ledger_result result = readings_remarked_since(
            shop->yard->ledger, shop->now_s - BOARD_REMARKS_S, write_remark, &remarks);
        shop->result = result != LEDGER_OK ? result : shop->result;
        count += remarks.count;
    }
    board_markup(board, count == 0 ? "<li>nothing</li>\n</ul></section>\n" : "</ul></section>\n");
}

static void write_loads(struct board *board)
{
    for (struct board *shop = board; (shop = board_turn(shop)) != NULL; shop = shop->next) {
        load_write(shop);
    }
}

/* The bays of several shops would fill a screen before the worst machine. */
void cards_write(struct board *board)
{
    struct board *shop;
    size_t first = 0;
    write_head(board);
    board_markup(board, "<main>\n");
    if (board->shop == NULL) {
        write_loads(board);
    }
    board_markup(board, "<div class=\"yard\">\n");
    while ((shop = board_next_machine(board, &first)) != NULL) {
        write_machine(shop, first);
    }
    board_markup(board, "</div>\n");
    if (board->shop != NULL) {
        write_loads(board);
    }
    write_remarks(board);
    board_markup(board,
                 "</main>\n<footer><p class=\"faint\">Dates rest on the hours that crews text: a "
                 "plan, not a measurement. The maker&#39;s manual and local rules come "
                 "first.</p></footer>\n");
}
