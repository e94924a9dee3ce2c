/* SPDX-License-Identifier: MIT
 * reading: "M12 1340h". The figure is placed in time, judged against what is on record, and saved,
 * asked about or refused. What the crew cannot settle (a new meter; a figure refused before) goes to
 * the shop. */
#include "daemon/desk/reading.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/chase.h"
#include "daemon/desk/desk_inside.h"
#include "daemon/desk/notices.h"
#include "daemon/desk/question.h"
#include "daemon/desk/statements.h"
#include "daemon/desk/trouble.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/record.h"
#include "daemon/upkeep/civil.h"
#include "daemon/upkeep/clock_judge.h"

/* ---- when */

#define YEARLESS_DAYS 60 /* a date without a year is not looked for further back */

bool when_said(const struct crew_when *when)
{
    return when->kind != CREW_WHEN_UNSAID || when->minute_of_day >= 0;
}

static enum when_result dated(const struct crew_when *when, int32_t today, int32_t *day)
{
    struct civil_date date = {.year = when->year, .month = when->month, .day = when->day};
    if (when->year > 0) {
        date.year += when->year < 100 ? 2000 : 0;
        if (!civil_valid(date)) {
            return WHEN_UNCLEAR;
        }
        *day = civil_day(date);
        return *day > today ? WHEN_FUTURE : WHEN_OK;
    }
    date.year = civil_date_of(today).year;
    if (!civil_valid(date) || civil_day(date) > today) {
        date.year--;
    }
    if (!civil_valid(date)) {
        return WHEN_UNCLEAR;
    }
    *day = civil_day(date);
    return today - *day > YEARLESS_DAYS ? WHEN_UNCLEAR : WHEN_OK;
}

static enum when_result find_day(const struct crew_when *when, int32_t today, int32_t *day)
{
    if (when->ahead) {
        return WHEN_FUTURE;
    }
    switch (when->kind) {
    case CREW_WHEN_UNSAID:
        *day = today;
        return WHEN_OK;
    case CREW_WHEN_DAYS_AGO:
        *day = today - when->days_ago;
        return when->days_ago < 0 ? WHEN_FUTURE : WHEN_OK;
    case CREW_WHEN_WEEKDAY:
        *day = today - (civil_weekday(today) - when->weekday + 7) % 7;
        return WHEN_OK;
    case CREW_WHEN_DATE:
    case CREW_WHEN_DAY_OF_MONTH:
    case CREW_WHEN_AHEAD:
        break;
    }
    return dated(when, today, day);
}

enum when_result when_resolve(const struct crew_when *when, int64_t sent_s, int64_t *at_s)
{
    *at_s = sent_s;
    if (!when_said(when)) {
        return WHEN_OK;
    }
    int32_t day = 0;
    enum when_result result = find_day(when, zone_civil(sent_s).day, &day);
    if (result != WHEN_OK) {
        return result;
    }
    if (when->minute_of_day >= 0) {
        *at_s = zone_unix(day, when->minute_of_day * 60);
        return *at_s > sent_s ? WHEN_FUTURE : WHEN_OK;
    }
    int64_t end_s = zone_unix(day + 1, 0) - 1;
    *at_s = end_s < sent_s ? end_s : sent_s;
    return WHEN_OK;
}

/* ---- doubt */

#define REFUSED_AGAIN_S (7 * 24 * 3600)

struct question_row doubt_row(const struct figure *figure)
{
    struct question_row row = question_row(QUESTION_SURE, figure->machine_id, figure->read_s);
    row.offer_machine_id = figure->machine_id;
    row.typed_hundredths = figure->hundredths;
    (void)snprintf(row.remark, sizeof row.remark, "%s", figure->remark);
    return row;
}

static struct wording_values doubt_values(const struct turn *turn, const struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (judgement->last_hundredths >= 0) {
        struct civil_time read = zone_civil(judgement->last_read_s);
        wording_set_hours(&values, WORDING_LAST, judgement->last_hundredths);
        turn_set_day(turn, &values, judgement->last_read_s);
        /* Told from the day on which the reply is read, not from that on which the text was sent. */
        wording_set_when(&values, turn->wording, read.day, read.second_of_day,
                         zone_civil(turn->now_s).day,
                         turn->desk->settings->shop.clock == SETTINGS_CLOCK_12);
    }
    if (judgement->most_hundredths >= 0) {
        /* In tenths, as meters show them. */
        wording_set_hours(&values, WORDING_MOST, judgement->most_hundredths / 10 * 10);
    }
    if (judgement->offer_hundredths >= 0) {
        wording_set_hours(&values, WORDING_OFFER, judgement->offer_hundredths);
    }
    return values;
}

static enum wording_key why_not(const struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    if (judgement->last_hundredths < 0) {
        return WORDING_NO_SUCH_FIGURE;
    }
    return figure->hundredths > judgement->last_hundredths && judgement->most_hundredths >= 0
               ? WORDING_TOO_HIGH
               : WORDING_TOO_LOW;
}

/* More than the first reading, which came later. */
static bool is_before_first(struct turn *turn, const struct figure *figure,
                            struct wording_values *values)
{
    struct reading_row first;
    enum ledger_result result = readings_first(turn->desk->ledger, figure->machine_id, &first);
    if (result != LEDGER_OK || first.read_s <= figure->read_s ||
        first.meter_hundredths >= figure->hundredths) {
        return false;
    }
    struct civil_time read = zone_civil(first.read_s);
    wording_set_hours(values, WORDING_LAST, first.meter_hundredths);
    wording_set_when(values, turn->wording, read.day, read.second_of_day,
                     zone_civil(turn->now_s).day,
                     turn->desk->settings->shop.clock == SETTINGS_CLOCK_12);
    return true;
}

void doubt_refuse(struct turn *turn, const struct figure *figure)
{
    struct wording_values values = doubt_values(turn, figure);
    enum wording_key key = why_not(figure);
    if (key == WORDING_NO_SUCH_FIGURE && is_before_first(turn, figure, &values)) {
        key = WORDING_BEFORE_FIRST;
    }
    turn_refuse(turn, key, &values);
}

void doubt_ask_typed(struct turn *turn, const struct figure *figure, struct question_row *row,
                     enum question_kind kind, enum wording_key key,
                     const struct wording_values *values)
{
    row->kind = kind;
    row->offer_hundredths = figure->hundredths;
    turn_ask(turn, row, key, values);
    if (turn->entry->outcome == TEXTS_OUTCOME_ASKED) {
        turn->entry->has_suggests = true;
        turn->entry->suggests_hundredths = figure->hundredths;
    }
}

/* Asks the shop instead of the crew; the crew's entry is refused and says so. */
static void pass_to_shop(struct turn *turn, const struct figure *figure, struct question_row *row,
                         enum question_kind kind, enum wording_key key)
{
    struct wording_values values = doubt_values(turn, figure);
    if (turn->shop) {
        doubt_ask_typed(turn, figure, row, kind, key, &values);
        return;
    }
    row->kind = kind;
    row->offer_hundredths = figure->hundredths;
    bool asked = question_to_shop(turn, row, key, figure->judgement.last_hundredths,
                                  figure->judgement.last_read_s);
    turn_refuse(turn, asked ? WORDING_SHOP_ASKED : why_not(figure), &values);
}

void doubt_new_meter(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    row->offer_to_hundredths = figure->judgement.last_hundredths;
    pass_to_shop(turn, figure, row, QUESTION_SWAP, WORDING_ASK_SWAP);
}

/* Nothing can be offered. The same figure sent again is put to the shop. */
static void refuse(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    struct ledger *ledger = turn->desk->ledger;
    int count = 0;
    (void)questions_refused_since(ledger, turn->person_id, figure->machine_id, figure->hundredths,
                                  turn->now_s - REFUSED_AGAIN_S, &count);
    (void)questions_note_refusal(ledger, turn->person_id, figure->machine_id, figure->hundredths,
                                 turn->text_id, turn->now_s);
    if (count > 0 && figure->judgement.last_hundredths >= 0) {
        pass_to_shop(turn, figure, row, QUESTION_FORCE, WORDING_ASK_FORCE);
    } else {
        doubt_refuse(turn, figure);
    }
}

/* An offer that the sender may settle. */
static void offer(struct turn *turn, const struct figure *figure, struct question_row *row,
                  enum question_kind kind, enum wording_key key)
{
    const struct yard_judgement *judgement = &figure->judgement;
    struct wording_values values = doubt_values(turn, figure);
    const char *other = NULL;
    row->kind = kind;
    row->offer_hundredths = judgement->offer_hundredths;
    row->offer_to_hundredths = judgement->old_last_hundredths;
    row->strikes_reading_id = judgement->strikes_reading_id;
    if (kind == QUESTION_OTHER_MACHINE) {
        row->offer_machine_id = turn_machine_id(turn, judgement->offer_machine);
        other = turn->desk->settings->machines[judgement->offer_machine].name;
        wording_set(&values, WORDING_OTHER, other);
    }
    turn_ask(turn, row, key, &values);
    if (turn->entry->outcome == TEXTS_OUTCOME_ASKED) {
        turn->entry->has_suggests = true;
        turn->entry->suggests_hundredths = judgement->offer_hundredths;
        turn->entry->suggests_machine = other;
    }
}

void doubt_figure(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    switch (figure->judgement.offer) {
    case YARD_OFFER_SLIP:
        offer(turn, figure, row, QUESTION_SLIP,
              figure->judgement.last_hundredths < 0 ? WORDING_ASK_SLIP_UNREAD : WORDING_ASK_SLIP);
        return;
    case YARD_OFFER_MACHINE:
        if (row->plan[0] != '\0') {
            break; /* a service is of the machine named */
        }
        offer(turn, figure, row, QUESTION_OTHER_MACHINE, WORDING_ASK_OTHER_MACHINE);
        return;
    case YARD_OFFER_LAST_WRONG:
        offer(turn, figure, row, QUESTION_LAST_WRONG, WORDING_ASK_LAST_WRONG);
        return;
    case YARD_OFFER_ROLL_OVER:
        offer(turn, figure, row, QUESTION_ROLL_OVER, WORDING_ASK_ROLL_OVER);
        return;
    case YARD_OFFER_SWAP:
        row->offer_to_hundredths = figure->judgement.old_last_hundredths;
        pass_to_shop(turn, figure, row, QUESTION_SWAP, WORDING_ASK_SWAP);
        return;
    case YARD_OFFER_NONE:
        break;
    }
    refuse(turn, figure, row);
}

void doubt_sure(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    if (figure->judgement.verdict == YARD_DOUBTFUL) {
        doubt_figure(turn, figure, row);
        return;
    }
    struct wording_values values = doubt_values(turn, figure);
    doubt_ask_typed(turn, figure, row, QUESTION_SURE, WORDING_ASK_SURE, &values);
}

/* ---- small figures: hours worked, or a clock */

#define WORKED_MOST (24 * 100)
#define YOUNG_MOST (100 * 100)

/* Hours of a day on a machine that had many more. */
static bool looks_worked(const struct turn *turn, const struct figure *figure)
{
    return turn->said->nature == CREW_NATURE_WORKED ||
           (figure->hundredths <= WORKED_MOST && figure->judgement.last_hundredths > YOUNG_MOST);
}

/* "13:40" said for 1340: offered where that is plausible. */
static bool offer_clock(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    const struct hours_figure *typed = &turn->said->hours;
    int64_t minutes = (typed->hundredths % 100 * 60 + 50) / 100;
    struct figure whole = *figure;
    whole.hundredths = (typed->hundredths / 100 * 100 + minutes) * 100;
    whole.decimal_digits = 0;
    if (!typed->clock || !figure_judge(turn, &whole) || whole.judgement.verdict == YARD_DOUBTFUL) {
        return false;
    }
    whole.judgement = figure->judgement;
    whole.judgement.offer_hundredths = whole.hundredths;
    whole.hundredths = figure->hundredths;
    offer(turn, &whole, row, QUESTION_SLIP, WORDING_ASK_SLIP);
    return true;
}

/* Asked whether the meter shows that; only then is it the shop's to say that the meter is new. */
static void ask_meter(struct turn *turn, const struct figure *figure, struct question_row *row)
{
    struct wording_values values = doubt_values(turn, figure);
    row->kind = QUESTION_METER;
    row->offer_hundredths = figure->hundredths;
    turn_ask(turn, row,
             figure->judgement.last_hundredths >= 0 ? WORDING_ASK_METER : WORDING_ASK_SURE,
             &values);
}

/* ---- a second figure minutes later */

#define REPLACED_WITHIN_S (30 * 60)

/* Doubtful beside the sender's last reading of the machine, plausible in its place: asked about so.
 * False where it is not. */
static bool ask_replacement(struct turn *turn, const struct figure *figure,
                            struct question_row *row)
{
    struct ledger *ledger = turn->desk->ledger;
    struct reading_row last;
    size_t count = 0;
    struct figure instead = *figure;
    if (figure->dated ||
        readings_latest(ledger, figure->machine_id, INT64_MAX, 1, &last, &count) != LEDGER_OK ||
        count == 0 || last.person_id != turn->person_id ||
        turn->now_s - last.noted_s > REPLACED_WITHIN_S ||
        record_strike(ledger, RECORD_READING, 0, last.id, turn->person_id, turn->now_s,
                      "weighed") != LEDGER_OK) {
        return false;
    }
    bool judged = figure_judge(turn, &instead);
    if (record_unstrike(ledger, RECORD_READING, last.id) != LEDGER_OK || !judged ||
        instead.judgement.verdict == YARD_DOUBTFUL) {
        return false;
    }
    struct wording_values values = doubt_values(turn, figure);
    wording_set_hours(&values, WORDING_LAST, last.meter_hundredths);
    row->strikes_reading_id = last.id;
    doubt_ask_typed(turn, figure, row, QUESTION_REPLACE, WORDING_ASK_REPLACE, &values);
    return true;
}

/* ---- a figure taken */

bool figure_judge(struct turn *turn, struct figure *figure)
{
    struct desk *desk = turn->desk;
    return yard_judge(&desk->yard, figure->machine, figure->hundredths, figure->decimal_digits,
                      figure->read_s, turn->person, &figure->judgement) == LEDGER_OK;
}

/* "1,340": the thousands mark stands unless only the decimal sign makes sense for the machine. */
static bool judge_typed(struct turn *turn, struct figure *figure, const struct hours_figure *typed)
{
    figure->hundredths = typed->hundredths;
    figure->decimal_digits = typed->ambiguous ? 0 : typed->decimal_digits;
    if (!figure_judge(turn, figure)) {
        return false;
    }
    if (!typed->ambiguous || figure->judgement.verdict != YARD_DOUBTFUL) {
        return true;
    }
    struct yard_judgement judgement = figure->judgement;
    figure->hundredths = typed->otherwise_hundredths;
    figure->decimal_digits = 2;
    if (figure_judge(turn, figure) && figure->judgement.verdict == YARD_DOUBTFUL) {
        figure->hundredths = typed->hundredths;
        figure->decimal_digits = 0;
        figure->judgement = judgement;
    }
    return true;
}

bool reading_when(struct turn *turn, const struct crew_statement *statement, int64_t *read_s)
{
    enum when_result when = when_resolve(&statement->when, turn->sent_s, read_s);
    if (when == WHEN_OK && statement->obstacle != CREW_OBSTACLE_DATE) {
        return true;
    }
    struct wording_values values = turn_values(turn, turn->machine, statement->hours.hundredths);
    turn_refuse(turn, when == WHEN_FUTURE ? WORDING_FUTURE : WORDING_BAD_DATE, &values);
    return false;
}

/* Where the box's clock was set back since the last reading, the next one would come before it: it is
 * placed by the centre's stamp, and the turn goes by that. A stamp from the future is not believed
 * otherwise, for networks send wrong zones. */
static bool place_behind_last(struct turn *turn, struct figure *figure)
{
    struct desk *desk = turn->desk;
    struct reading_row last;
    size_t count = 0;
    if (figure->dated || desk->stamp_s <= figure->read_s ||
        desk->stamp_s > figure->read_s + CLOCK_PLAIN_S) {
        return true;
    }
    if (readings_latest(desk->ledger, figure->machine_id, desk->stamp_s, 1, &last, &count) !=
        LEDGER_OK) {
        return false;
    }
    if (count > 0 && last.read_s > figure->read_s) {
        figure->read_s = desk->stamp_s;
    }
    if (figure->read_s > turn->now_s) {
        desk->ahead_s += figure->read_s - turn->now_s;
        turn->now_s = figure->read_s;
    }
    return true;
}

bool figure_of(struct turn *turn, struct figure *figure)
{
    const struct crew_statement *said = turn->said;
    struct desk_statement *entry = turn->entry;
    *figure = (struct figure){.machine = turn->machine,
                              .machine_id = turn_machine_id(turn, turn->machine),
                              .hundredths = said->hours.hundredths,
                              .dated = when_said(&said->when)};
    turn_remark(turn, said->remark, figure->remark, sizeof figure->remark);
    (void)snprintf(entry->remark, sizeof entry->remark, "%s", figure->remark);
    entry->has_hours = true;
    entry->hours_hundredths = figure->hundredths;
    if (!reading_when(turn, said, &figure->read_s)) {
        return false;
    }
    if (!place_behind_last(turn, figure)) {
        return false;
    }
    entry->has_read_at = figure->dated;
    entry->read_at_s = figure->read_s;
    if (!judge_typed(turn, figure, &said->hours)) {
        return false;
    }
    entry->hours_hundredths = figure->hundredths;
    return true;
}

bool figure_is_none(const struct crew_statement *statement, const struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    bool explained = judgement->offer == YARD_OFFER_SLIP ||
                     judgement->offer == YARD_OFFER_MACHINE ||
                     judgement->offer == YARD_OFFER_LAST_WRONG;
    return statement->figure_then_word && judgement->verdict == YARD_DOUBTFUL && !explained;
}

/* A figure that moves a machine forward says that it works. */
static void end_rest(struct turn *turn, const struct figure *figure)
{
    struct ledger *ledger = turn->desk->ledger;
    int64_t since_s = 0;
    if (machines_parked(ledger, figure->machine_id, &since_s) != LEDGER_OK || since_s == 0 ||
        figure->read_s < since_s || figure->hundredths <= figure->judgement.last_hundredths) {
        return;
    }
    (void)machines_back(ledger, figure->machine_id, figure->read_s, turn->person_id, turn->text_id);
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    turn_add(turn, REPLY_MAY, WORDING_BACK_AT_WORK, &values);
    notices_note(turn, figure->machine, WORDING_TELL_BACK_AT_WORK, &values);
}

void figure_save(struct turn *turn, const struct figure *figure)
{
    struct reading_row row = {.machine_id = figure->machine_id,
                              .meter_hundredths = figure->hundredths,
                              .read_s = figure->read_s,
                              .noted_s = turn->now_s,
                              .person_id = turn->person_id,
                              .text_id = turn->text_id};
    (void)snprintf(row.remark, sizeof row.remark, "%s", figure->remark);
    if (readings_add(turn->desk->ledger, &row) == LEDGER_OK) {
        question_answered_by(turn, figure->machine_id);
    }
}

void figure_stand(struct turn *turn, const struct figure *figure)
{
    struct standing standing;
    if (standing_renew(turn, figure->machine, &standing)) {
        standing_say(turn, &standing);
    }
}

static void say_noted(struct turn *turn, const struct figure *figure)
{
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (figure->judgement.verdict == YARD_ALREADY_NOTED) {
        turn_explain(turn, WORDING_ALREADY, &values);
        return;
    }
    turn_set_day(turn, &values, figure->read_s);
    turn_say(turn, figure->dated ? WORDING_NOTED_ON : WORDING_NOTED, &values);
    if (figure->judgement.verdict == YARD_SOFT_DOUBT) {
        wording_set_number(&values, WORDING_COUNT, (int64_t)(figure->judgement.day_hours + 0.5));
        turn_explain(turn, WORDING_SOFT, &values);
    }
}

void figure_take(struct turn *turn, const struct figure *figure)
{
    bool already = figure->judgement.verdict == YARD_ALREADY_NOTED;
    if (!already) {
        figure_save(turn, figure);
    }
    say_noted(turn, figure);
    if (!already) {
        end_rest(turn, figure);
    }
    figure_stand(turn, figure);
}

/* "M12 1340 1350": which of the two. */
static void ask_which_figure(struct turn *turn, const struct figure *figure)
{
    int64_t to_hundredths = turn->said->to_hours.hundredths;
    struct question_row row = doubt_row(figure);
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    turn->entry->has_to_hours = true;
    turn->entry->to_hours_hundredths = to_hundredths;
    row.kind = QUESTION_WHICH_FIGURE;
    row.offer_to_hundredths = to_hundredths;
    (void)snprintf(row.completes, sizeof row.completes, "%s", turn->entry->kind);
    wording_set_hours(&values, WORDING_OFFER, to_hundredths);
    turn_ask(turn, &row, WORDING_ASK_TWO_FIGURES, &values);
}

/* "M12 1340 done" is a reading: a service is recorded by the shop, and in another form. */
static void say_done(struct turn *turn, const struct figure *figure)
{
    const struct settings *settings = turn->desk->settings;
    const struct settings_kind *kind = &settings->kinds[settings->machines[figure->machine].kind];
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (turn->shop && kind->plan_count > 0) {
        wording_set(&values, WORDING_PLAN, settings->plans[kind->plans[0]].name);
        turn_say(turn, WORDING_DONE_FORM, &values);
    } else {
        turn_say(turn, WORDING_SHOP_RECORDS, &values);
    }
}

/* "Did not run": the figure of the last reading, of now. False where there is none. */
static bool same_as_last(struct turn *turn, struct crew_statement *said)
{
    struct reading_row last;
    size_t count = 0;
    if (readings_latest(turn->desk->ledger, turn_machine_id(turn, turn->machine), turn->sent_s, 1,
                        &last, &count) != LEDGER_OK ||
        count == 0) {
        return false;
    }
    said->hours = (struct hours_figure){.present = true,
                                        .hundredths = last.meter_hundredths,
                                        .decimal_digits = last.meter_hundredths % 100 != 0 ? 2 : 0};
    return true;
}

/* The words beside the figure are trouble of the same machine, with an entry of their own. */
static bool trouble_follows(const struct turn *turn)
{
    const struct crew_statement *next = turn->next;
    return next != NULL && next->kind == CREW_TROUBLE && next->machine == turn->said->machine;
}

/* A figure of something else: what was said is not understood, or is trouble and nothing else. */
static void no_figure(struct turn *turn)
{
    if (trouble_follows(turn)) {
        turn->answer->statement_count--;
        return;
    }
    struct wording_values values = turn_values(turn, turn->machine, -1);
    *turn->entry = (struct desk_statement){.kind = statements_word(CREW_UNKNOWN)};
    turn->unclear = true;
    turn_refuse(turn, WORDING_FORM, &values);
}

/* A figure that is not taken as it stands. */
static void doubt_reading(struct turn *turn, const struct figure *figure)
{
    const struct crew_statement *said = turn->said;
    struct question_row row = doubt_row(figure);
    if (said->new_meter && figure->judgement.last_hundredths >= 0) {
        doubt_new_meter(turn, figure, &row);
    } else if (figure->judgement.offer != YARD_OFFER_ROLL_OVER && looks_worked(turn, figure)) {
        if (offer_clock(turn, figure, &row)) {
            return;
        }
        if (turn->shop && said->nature == CREW_NATURE_METER) {
            doubt_figure(turn, figure, &row);
        } else {
            ask_meter(turn, figure, &row);
        }
    } else if (!ask_replacement(turn, figure, &row)) {
        doubt_figure(turn, figure, &row);
    }
}

/* Number words: without a figure on record nothing says which of their meanings it is. */
static bool is_spoken(const struct turn *turn)
{
    const struct hours_figure *hours = &turn->said->hours;
    for (size_t i = 0; i < hours->length; i++) {
        char octet = turn->body[hours->start + i];
        if (octet >= '0' && octet <= '9') {
            return false;
        }
    }
    return hours->length > 0;
}

/* What keeps the figure from being taken; false where nothing does. */
static bool reading_kept_back(struct turn *turn, const struct figure *figure)
{
    const struct crew_statement *said = turn->said;
    struct wording_values values = turn_values(turn, turn->machine, -1);
    struct question_row row = doubt_row(figure);
    bool doubtful = figure->judgement.verdict == YARD_DOUBTFUL;
    switch (said->obstacle) {
    case CREW_OBSTACLE_TWO_FIGURES:
        ask_which_figure(turn, figure);
        return true;
    case CREW_OBSTACLE_GLUED:
    case CREW_OBSTACLE_ASKED_FIGURE:
    case CREW_OBSTACLE_WITHDRAWN:
        doubt_sure(turn, figure, &row);
        return true;
    case CREW_OBSTACLE_NONE:
        break;
    default:
        turn_refuse(turn, WORDING_FORM, &values);
        return true;
    }
    if (is_spoken(turn) && figure->judgement.last_hundredths < 0) {
        doubt_sure(turn, figure, &row);
    } else if (said->nature == CREW_NATURE_ADDRESS && doubtful) {
        no_figure(turn);
    } else if (said->nature == CREW_NATURE_ADDRESS) {
        doubt_sure(turn, figure, &row);
    } else if (doubtful || said->nature == CREW_NATURE_WORKED || said->new_meter) {
        doubt_reading(turn, figure);
    } else {
        return false;
    }
    return true;
}

void reading_take(struct turn *turn)
{
    struct crew_statement said = *turn->said;
    struct wording_values values = turn_values(turn, turn->machine, -1);
    struct figure figure;
    turn->said = &said;
    if ((!said.hours.present && !said.same_as_last) ||
        (said.same_as_last && !same_as_last(turn, &said))) {
        turn_refuse(turn, WORDING_FORM, &values);
        return;
    }
    if (!figure_of(turn, &figure)) {
        return;
    }
    if (figure_is_none(&said, &figure)) {
        no_figure(turn);
    } else if (!reading_kept_back(turn, &figure)) {
        figure_take(turn, &figure);
        if (said.done_follows) {
            say_done(turn, &figure);
        }
        bool tells =
            said.done_follows ? strchr(figure.remark, ' ') != NULL : figure.remark[0] != '\0';
        if (tells && !trouble_follows(turn)) {
            (void)trouble_keep(turn, figure.machine, TROUBLE_REMARK, figure.remark);
            turn_add(turn, REPLY_MAY, WORDING_REMARK_PASSED, &values);
        }
    }
}
