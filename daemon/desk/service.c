/* SPDX-License-Identifier: MIT
 * service: "M12 DONE drive 1340 5qt". The figure is a reading too, unless it lies below the last
 * one: then the service is of the past, taken at once where none is on record, else asked about. */
#include "daemon/desk/service.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/question.h"
#include "daemon/desk/reading.h"
#include "daemon/ledger/services.h"
#include "daemon/yard/shelf.h"

void service_plans(struct turn *turn, int32_t machine, bool mattering, struct reply_list *list,
                   int32_t *only)
{
    struct standing standing;
    *list = (struct reply_list){.count = 0};
    *only = -1;
    if (!turn_ok(turn, standing_look(turn->desk, machine, turn->now_s, &standing))) {
        return;
    }
    for (size_t i = 0; i < standing.count; i++) {
        if (!mattering || due_stage_row(standing.plans[i].stage)->tells) {
            *only = standing.plans[i].plan;
            reply_list_add(list, turn->desk->settings->plans[*only].name);
        }
    }
    *only = list->count == 1 ? *only : -1;
}

/* The plan meant; -1 where it has to be asked, or is none (then the entry is refused). */
static int32_t find_plan(struct turn *turn)
{
    const struct crew_statement *said = turn->said;
    int32_t named = crew_plan(said);
    struct reply_list list;
    int32_t only = -1;
    bool unknown = said->obstacle == CREW_OBSTACLE_NO_SUCH_PLAN ||
                   (named >= 0 && !standing_has_plan(turn->desk->settings, turn->machine, named));
    if (named >= 0 && !unknown) {
        return named;
    }
    service_plans(turn, turn->machine, false, &list, &only);
    if (unknown || list.count == 0) {
        struct wording_values values = turn_values(turn, turn->machine, -1);
        if (named >= 0) {
            wording_set(&values, WORDING_WORDS, turn->desk->settings->plans[named].name);
        } else {
            turn_words(turn, said->words, values.value[WORDING_WORDS], 33);
        }
        wording_set(&values, WORDING_LIST, list.count > 0 ? list.text : "-");
        turn_refuse(turn, WORDING_NO_SUCH_PLAN, &values);
        return -1;
    }
    if (only < 0) {
        service_plans(turn, turn->machine, true, &list, &only);
    }
    return only;
}

static void ask_plan(struct turn *turn, const struct figure *figure)
{
    struct reply_list list;
    int32_t only = -1;
    struct question_row row = doubt_row(figure);
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    service_plans(turn, figure->machine, false, &list, &only);
    row.kind = QUESTION_WHICH_PLAN;
    (void)snprintf(row.completes, sizeof row.completes, "%s", turn->entry->kind);
    wording_set(&values, WORDING_LIST, list.text);
    turn_ask(turn, &row, WORDING_ASK_PLAN, &values);
}

/* The moment a machine showed that figure on its meter of now, between the readings around it. */
struct moment {
    int64_t hundredths;
    int64_t offset_hundredths, meter_since_s; /* of the meter that the readings are at */
    bool has_before, has_after;
    int64_t before_s, before, after_s, after;
};

static void moment_see(void *ctx, const struct reading_row *row)
{
    struct moment *moment = ctx;
    if (row->struck) {
        return;
    }
    if (row->true_hundredths - row->meter_hundredths != moment->offset_hundredths) {
        moment->offset_hundredths = row->true_hundredths - row->meter_hundredths;
        moment->meter_since_s = row->read_s;
        moment->has_before = false;
        moment->has_after = false;
    }
    if (row->meter_hundredths <= moment->hundredths) {
        moment->has_before = true;
        moment->before = row->meter_hundredths;
        moment->before_s = row->read_s;
        moment->has_after = false;
    } else if (!moment->has_after) {
        moment->has_after = true;
        moment->after = row->meter_hundredths;
        moment->after_s = row->read_s;
    }
}

static int64_t moment_of(struct turn *turn, const struct figure *figure)
{
    struct moment moment = {.hundredths = figure->hundredths, .meter_since_s = INT64_MIN};
    (void)turn_ok(turn, readings_each(turn->desk->ledger, figure->machine_id, moment_see, &moment));
    if (figure->dated || !moment.has_after) {
        return figure->read_s;
    }
    if (!moment.has_before) {
        /* No later than that, and nothing says how much earlier; but on that meter. */
        return moment.after_s > moment.meter_since_s ? moment.after_s - 1 : moment.after_s;
    }
    double share =
        (double)(figure->hundredths - moment.before) / (double)(moment.after - moment.before);
    return moment.before_s + (int64_t)((double)(moment.after_s - moment.before_s) * share);
}

/* How the plan stands after it. */
static void say_next(struct turn *turn, int32_t machine, int32_t plan)
{
    struct standing standing;
    bool known = standing_renew(turn, machine, &standing);
    for (size_t i = 0; known && i < standing.count; i++) {
        const struct yard_standing *row = &standing.plans[i];
        if (row->plan != plan) {
            continue;
        }
        struct wording_values values = {0};
        standing_values(turn->desk, row, turn->wording, turn->today, &values);
        if (row->stage == DUE_STAGE_FINE) {
            turn_add(turn, REPLY_MAY, standing_next_key(row), &values);
        } else {
            turn_say(turn, standing_key(row, turn->shop), &values);
        }
    }
}

/* A service of that plan at that figure of the same meter is kept already. The true hours tell the
 * meters apart: a new one shows the figures of the old one again. */
struct repeat {
    const char *plan;
    int64_t meter_hundredths, true_hundredths;
    bool found;
};

static void repeat_see(void *ctx, const struct service_row *row)
{
    struct repeat *repeat = ctx;
    repeat->found =
        repeat->found ||
        (!row->struck && row->meter_hundredths == repeat->meter_hundredths &&
         row->true_hundredths == repeat->true_hundredths && strcmp(row->plan, repeat->plan) == 0);
}

static bool is_repeat(struct turn *turn, const struct figure *figure, const char *plan,
                      int64_t done_s)
{
    struct ledger *ledger = turn->desk->ledger;
    int64_t offset_hundredths = 0;
    struct repeat repeat = {.plan = plan, .meter_hundredths = figure->hundredths};
    if (!turn_ok(turn, readings_offset(ledger, figure->machine_id, done_s, &offset_hundredths))) {
        return false;
    }
    repeat.true_hundredths = figure->hundredths + offset_hundredths;
    (void)turn_ok(turn, services_each(ledger, figure->machine_id, repeat_see, &repeat));
    return repeat.found;
}

static int64_t done_at(struct turn *turn, const struct figure *figure)
{
    bool past = figure->judgement.verdict == YARD_DOUBTFUL;
    return past ? moment_of(turn, figure) : figure->read_s;
}

/* Values for a sentence about that plan and figure. */
static struct wording_values service_values(const struct turn *turn, const struct figure *figure,
                                            int32_t plan)
{
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    wording_set(&values, WORDING_TITLE,
                settings_title(&turn->desk->settings->plans[plan], turn->wording->language));
    return values;
}

void service_settle(struct turn *turn, const struct figure *figure, const struct question_row *row)
{
    int32_t plan = settings_find_plan(turn->desk->settings, row->plan);
    if (plan < 0) {
        struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
        turn_refuse(turn, WORDING_NO_QUESTION, &values);
        return;
    }
    struct wording_values values = service_values(turn, figure, plan);
    struct service_row service = {.machine_id = figure->machine_id,
                                  .meter_hundredths = figure->hundredths,
                                  .done_s = done_at(turn, figure),
                                  .noted_s = turn->now_s,
                                  .person_id = turn->person_id,
                                  .text_id = turn->text_id,
                                  .quantity_thousandths = row->quantity_thousandths};
    if (is_repeat(turn, figure, row->plan, service.done_s)) {
        turn_explain(turn, WORDING_SERVICE_ALREADY, &values);
        return;
    }
    (void)snprintf(service.plan, sizeof service.plan, "%s", row->plan);
    (void)snprintf(service.unit, sizeof service.unit, "%s", row->unit);
    (void)snprintf(service.remark, sizeof service.remark, "%s", row->remark);
    if (figure->judgement.verdict != YARD_DOUBTFUL &&
        figure->judgement.verdict != YARD_ALREADY_NOTED) {
        figure_save(turn, figure);
    }
    if (turn_ok(turn, services_add(turn->desk->ledger, &service))) {
        turn_say(turn, WORDING_SERVICE, &values);
        say_next(turn, figure->machine, plan);
    }
}

/* The quantity into the row and the entry; false where it cannot be (the entry is refused). */
static bool take_quantity(struct turn *turn, const struct figure *figure, int32_t plan,
                          struct question_row *row)
{
    const struct crew_statement *said = turn->said;
    enum kit_unit shop = turn->desk->settings->shop.units;
    enum kit_unit unit = shop;
    if (said->quantity_thousandths <= 0 ||
        (said->quantity_unit != NULL && !kit_unit_find(said->quantity_unit, &unit))) {
        return true;
    }
    if (shelf_fluid_grains(&turn->desk->settings->plans[plan]) == 0) {
        struct wording_values values = service_values(turn, figure, plan);
        turn_refuse(turn, WORDING_NO_FLUID, &values);
        return false;
    }
    row->quantity_thousandths = said->quantity_thousandths;
    (void)snprintf(row->unit, sizeof row->unit, "%s", kit_unit_name(unit));
    turn->entry->has_quantity =
        kit_convert(said->quantity_thousandths, unit, shop, &turn->entry->quantity_thousandths);
    return true;
}

static void ask_quantity(struct turn *turn, const struct figure *figure, int32_t plan,
                         struct question_row *row)
{
    struct wording_values values = service_values(turn, figure, plan);
    wording_set_hours(&values, WORDING_COUNT, row->quantity_thousandths / 10);
    wording_set(&values, WORDING_UNIT, row->unit);
    row->kind = QUESTION_QUANTITY;
    row->offer_hundredths = figure->hundredths;
    turn_ask(turn, row, WORDING_ASK_QUANTITY, &values);
}

/* Below the last reading. */
static void take_past(struct turn *turn, const struct figure *figure, int32_t plan,
                      struct question_row *row)
{
    struct yard_standing standing;
    if (!turn_ok(turn,
                 yard_stand(&turn->desk->yard, figure->machine, plan, turn->now_s, &standing))) {
        return;
    }
    if (!standing.serviced || is_repeat(turn, figure, row->plan, done_at(turn, figure))) {
        service_settle(turn, figure, row);
        return;
    }
    struct wording_values values = service_values(turn, figure, plan);
    wording_set_hours(&values, WORDING_LAST, figure->judgement.last_hundredths);
    doubt_ask_typed(turn, figure, row, QUESTION_PAST_SERVICE, WORDING_ASK_PAST_SERVICE, &values);
}

/* The figure, the plan and the quantity are there: taken, or asked about. */
static void decide(struct turn *turn, const struct figure *figure, int32_t plan)
{
    enum crew_obstacle obstacle = turn->said->obstacle;
    struct question_row row = doubt_row(figure);
    bool doubtful = figure->judgement.verdict == YARD_DOUBTFUL;
    turn->entry->plan = turn->desk->settings->plans[plan].name;
    (void)snprintf(row.plan, sizeof row.plan, "%s", turn->entry->plan);
    if (!take_quantity(turn, figure, plan, &row)) {
        return;
    }
    if (obstacle == CREW_OBSTACLE_ASKED_FIGURE || obstacle == CREW_OBSTACLE_GLUED) {
        doubt_sure(turn, figure, &row);
    } else if (doubtful && figure->hundredths < figure->judgement.last_hundredths) {
        take_past(turn, figure, plan, &row);
    } else if (doubtful) {
        doubt_figure(turn, figure, &row);
    } else if (obstacle == CREW_OBSTACLE_NO_UNIT) {
        ask_quantity(turn, figure, plan, &row);
    } else {
        service_settle(turn, figure, &row);
    }
}

void service_take(struct turn *turn)
{
    struct figure figure;
    int32_t plan = find_plan(turn);
    if (turn->entry->outcome == TEXTS_OUTCOME_REFUSED || turn->fault != LEDGER_OK) {
        return;
    }
    if (!turn->said->hours.present) {
        turn_refuse_form(turn, WORDING_WORD_DONE);
    } else if (!figure_of(turn, &figure)) {
        return; /* said already */
    } else if (figure_is_none(turn->said, &figure)) {
        turn_refuse_form(turn, WORDING_WORD_DONE);
    } else if (plan < 0) {
        ask_plan(turn, &figure);
    } else {
        decide(turn, &figure, plan);
    }
}
