/* SPDX-License-Identifier: MIT
 * service: "M12 DONE drive 1340 5qt". The figure is a reading too, unless it lies below the last
 * one: then the service is of the past, taken at once where none is on record, else asked about. */
#include "daemon/desk/service.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/offer.h"
#include "daemon/desk/question.h"
#include "daemon/desk/recheck.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/services.h"
#include "daemon/yard/shelf.h"

/* The names of a machine's plans, or only of those that matter now. *only is the one, -1 where there
 * are several or none. */
static void name_plans(struct turn *turn, int32_t machine, bool mattering, struct reply_list *list,
                       int32_t *only)
{
    struct standing standing;
    *list = (struct reply_list){.count = 0};
    *only = -1;
    standing_look(turn->desk, machine, turn->now_s, &standing);
    for (size_t i = 0; i < standing.count; i++) {
        if (!mattering || due_stage_row(standing.plans[i].stage)->tells) {
            *only = standing.plans[i].plan;
            reply_list_add(list, turn->desk->settings->plans[*only].name);
        }
    }
    *only = list->count == 1 ? *only : -1;
}

/* The plans meant, by index into the settings. */
struct plans {
    int32_t plans[SETTINGS_PLANS_MAX];
    size_t count;
    bool named; /* by the text, or by all that there is to it */
};

static void refuse_plan(struct turn *turn, int32_t plan)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    struct reply_list list;
    int32_t only = -1;
    name_plans(turn, turn->machine, false, &list, &only);
    if (plan >= 0) {
        wording_set(&values, WORDING_WORDS, turn->desk->settings->plans[plan].name);
    } else {
        turn_words(turn, turn->said->words, values.value[WORDING_WORDS], 33);
    }
    wording_set(&values, WORDING_LIST, list.count > 0 ? list.text : "-");
    turn_refuse(turn, WORDING_NO_SUCH_PLAN, &values);
}

/* None where it has to be asked, or where there is no such (then the entry is refused). */
static struct plans find_plans(struct turn *turn)
{
    const struct crew_statement *said = turn->said;
    const struct settings *settings = turn->desk->settings;
    const struct settings_kind *kind = yard_kind(settings, turn->machine);
    struct plans found = {.named = said->plan_count > 0 || said->all_plans};
    struct reply_list list;
    int32_t only = -1;
    if (said->obstacle == CREW_OBSTACLE_NO_SUCH_PLAN || kind->plan_count == 0) {
        refuse_plan(turn, -1);
        return found;
    }
    for (size_t i = 0; i < said->plan_count && found.count < SETTINGS_PLANS_MAX; i++) {
        if (!standing_has_plan(settings, turn->machine, said->plans[i])) {
            refuse_plan(turn, said->plans[i]);
            return (struct plans){0};
        }
        found.plans[found.count++] = said->plans[i];
    }
    for (size_t i = 0; said->all_plans && i < kind->plan_count; i++) {
        found.plans[found.count++] = (int32_t)kind->plans[i];
    }
    if (!found.named) {
        name_plans(turn, turn->machine, false, &list, &only);
        /* The only one due fills in for DONE alone. */
        if (only < 0 && !said->service_words) {
            name_plans(turn, turn->machine, true, &list, &only);
        }
        found.plans[0] = only;
        found.count = only >= 0 ? 1 : 0;
    }
    return found;
}

static void ask_plan(struct turn *turn, const struct figure *figure)
{
    struct reply_list list;
    int32_t only = -1;
    struct question_row row = offer_row(figure);
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    name_plans(turn, figure->machine, false, &list, &only);
    row.kind = QUESTION_WHICH_PLAN;
    (void)snprintf(row.completes, sizeof row.completes, "%s", turn->entry->kind);
    wording_set(&values, WORDING_LIST, list.text);
    turn_ask(turn, &row, WORDING_ASK_PLAN, &values);
}

/* The earliest moment at which a machine can have shown that figure on its meter of now. */
struct moment {
    int64_t hundredths;
    int64_t offset_hundredths; /* of the meter that the readings are at */
    int64_t earliest_s;        /* 0: nothing bounds it */
};

static void moment_see(void *ctx, const struct reading_row *row)
{
    struct moment *moment = ctx;
    int64_t offset_hundredths = row->true_hundredths - row->meter_hundredths;
    if (row->struck) {
        return;
    }
    if (offset_hundredths != moment->offset_hundredths) {
        moment->offset_hundredths = offset_hundredths;
        moment->earliest_s = row->read_s;
    } else if (row->meter_hundredths <= moment->hundredths) {
        moment->earliest_s = row->read_s;
    }
}

/* How the plan stands after it. */
static void say_next(struct turn *turn, int32_t machine, int32_t plan, bool brief)
{
    struct standing standing;
    standing_renew(turn, machine, &standing);
    for (size_t i = 0; i < standing.count; i++) {
        const struct yard_standing *row = &standing.plans[i];
        if (row->plan != plan) {
            continue;
        }
        struct wording_values values = {0};
        standing_values(turn->desk, row, turn->wording, turn->today, &values);
        if (row->stage == DUE_STAGE_FINE) {
            turn_add(turn, REPLY_MAY, standing_next_key(row), &values);
        } else {
            turn_add(turn, brief ? REPLY_MAY : REPLY_SHOULD, standing_key(row, turn->shop),
                     &values);
        }
    }
}

/* A service of that plan at that figure of the same meter is kept already. The true hours tell the
 * meters apart: a new one shows the figures of the old one again. */
struct repeat {
    const char *plan;
    int64_t meter_hundredths, true_hundredths;
    bool found;
    struct service_row row;
};

static void repeat_see(void *ctx, const struct service_row *row)
{
    struct repeat *repeat = ctx;
    if (!row->struck && row->meter_hundredths == repeat->meter_hundredths &&
        row->true_hundredths == repeat->true_hundredths && strcmp(row->plan, repeat->plan) == 0) {
        repeat->found = true;
        repeat->row = *row;
    }
}

static bool find_repeat(struct turn *turn, const struct figure *figure, const char *plan,
                        int64_t done_s, struct service_row *row)
{
    struct ledger *ledger = turn->desk->ledger;
    int64_t offset_hundredths = 0;
    struct repeat repeat = {.plan = plan, .meter_hundredths = figure->hundredths};
    (void)readings_offset(ledger, figure->machine_id, done_s, &offset_hundredths);
    repeat.true_hundredths = figure->hundredths + offset_hundredths;
    (void)services_each(ledger, figure->machine_id, repeat_see, &repeat);
    *row = repeat.row;
    return repeat.found;
}

/* Below the last reading: a service of the past. */
static bool is_past(const struct figure *figure)
{
    return figure->judgement.verdict == YARD_DOUBTFUL;
}

/* Nothing is invented where no day was said. */
static int64_t done_at(struct turn *turn, const struct figure *figure)
{
    struct moment moment = {.hundredths = figure->hundredths};
    if (!is_past(figure) || figure->dated) {
        return figure->read_s;
    }
    (void)readings_each(turn->desk->ledger, figure->machine_id, moment_see, &moment);
    return moment.earliest_s;
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

/* And with its quantity in the shop's unit, and its day where that is not today. */
static struct wording_values done_values(const struct turn *turn, const struct figure *figure,
                                         int32_t plan, const struct service_row *row)
{
    struct wording_values values = service_values(turn, figure, plan);
    struct wording_values amount = {0};
    enum kit_unit shop = turn->desk->settings->shop.units;
    enum kit_unit unit = shop;
    int64_t thousandths = 0;
    int32_t day = zone_civil(row->done_s).day;
    if (row->quantity_thousandths > 0 && kit_unit_find(row->unit, &unit) &&
        kit_convert(row->quantity_thousandths, unit, shop, &thousandths)) {
        wording_set_hours(&amount, WORDING_COUNT, (thousandths + 5) / 10);
        (void)snprintf(values.value[WORDING_LIST], WORDING_VALUE_OCTETS, ", %.20s %s",
                       amount.value[WORDING_COUNT], kit_unit_name(shop));
    }
    if (!row->undated && day != zone_civil(turn->now_s).day) {
        wording_set_day(&amount, WORDING_DAY, turn->wording, day, turn->today);
        (void)snprintf(values.value[WORDING_WHEN], WORDING_VALUE_OCTETS, " %s %.40s",
                       turn->wording->on, amount.value[WORDING_DAY]);
    }
    return values;
}

/* Whether the same said again says more: then *row is the record with all of it. */
static bool says_more(const struct service_row *kept, struct service_row *row)
{
    bool more = (row->quantity_thousandths > 0 &&
                 (row->quantity_thousandths != kept->quantity_thousandths ||
                  strcmp(row->unit, kept->unit) != 0)) ||
                (row->remark[0] != '\0' && strcmp(row->remark, kept->remark) != 0) ||
                (!row->undated && kept->undated);
    if (row->quantity_thousandths == 0) {
        row->quantity_thousandths = kept->quantity_thousandths;
        (void)snprintf(row->unit, sizeof row->unit, "%s", kept->unit);
    }
    if (row->remark[0] == '\0') {
        (void)snprintf(row->remark, sizeof row->remark, "%s", kept->remark);
    }
    if (row->undated || !kept->undated) {
        row->undated = kept->undated;
        row->done_s = kept->done_s;
    }
    return more;
}

/* The day that nobody has said. */
static void want_day(struct turn *turn, const struct figure *figure, int32_t plan)
{
    struct wording_values values = service_values(turn, figure, plan);
    if (yard_kind(turn->desk->settings, figure->machine)->plan_count > 1) {
        (void)snprintf(values.value[WORDING_WORDS], WORDING_VALUE_OCTETS, "%s ",
                       turn->desk->settings->plans[plan].name);
    }
    turn_add(turn, REPLY_SHOULD, WORDING_SERVICE_DAY_WANTED, &values);
}

void service_settle(struct turn *turn, const struct figure *figure, const struct question_row *row)
{
    int32_t plan = settings_find_plan(turn->desk->settings, row->plan);
    struct ledger *ledger = turn->desk->ledger;
    if (plan < 0) {
        struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
        turn_refuse(turn, WORDING_NO_QUESTION, &values);
        return;
    }
    struct reading_row last;
    struct service_row kept;
    struct service_row service = {.machine_id = figure->machine_id,
                                  .meter_hundredths = figure->hundredths,
                                  .done_s = done_at(turn, figure),
                                  .noted_s = turn->now_s,
                                  .person_id = turn->person_id,
                                  .text_id = turn->text_id,
                                  .quantity_thousandths = row->quantity_thousandths,
                                  .undated = is_past(figure) && !figure->dated};
    (void)snprintf(service.plan, sizeof service.plan, "%s", row->plan);
    (void)snprintf(service.unit, sizeof service.unit, "%s", row->unit);
    (void)snprintf(service.remark, sizeof service.remark, "%s", row->remark);
    bool again = find_repeat(turn, figure, row->plan, service.done_s, &kept);
    if (again && !says_more(&kept, &service)) {
        struct wording_values values = done_values(turn, figure, plan, &kept);
        turn_explain(turn, WORDING_SERVICE_ALREADY, &values);
        return;
    }
    if (again) {
        (void)record_strike(ledger, RECORD_SERVICE, turn->text_id, kept.id, turn->person_id,
                            turn->now_s, "completed");
    }
    if (!is_past(figure) && figure->judgement.verdict != YARD_ALREADY_NOTED) {
        figure_save(turn, figure);
    }
    (void)services_add(ledger, &service);
    if (desk_last_reading(turn->desk, figure->machine_id, turn->now_s, &last) &&
        last.meter_hundredths > figure->hundredths) { /* the machine has gone on since */
        recheck_waive(turn, figure->machine, plan);
    }
    struct wording_values values = done_values(turn, figure, plan, &service);
    turn_say(turn, again ? WORDING_SERVICE_COMPLETED : WORDING_SERVICE, &values);
    if (service.undated) {
        want_day(turn, figure, plan);
    }
    say_next(turn, figure->machine, plan, service.undated);
}

/* ---- the quantity */

static bool is_odd(struct turn *turn, const struct figure *figure, int32_t plan,
                   const struct question_row *row, enum kit_unit unit)
{
    struct shelf_fill fill;
    (void)shelf_fill_of(&turn->desk->yard, figure->machine, plan, &fill);
    return shelf_fill_is_odd(&fill, kit_grains(row->quantity_thousandths, unit));
}

static void ask_quantity(struct turn *turn, const struct figure *figure, int32_t plan,
                         struct question_row *row)
{
    struct wording_values values = service_values(turn, figure, plan);
    wording_set_hours(&values, WORDING_COUNT, (row->quantity_thousandths + 5) / 10);
    wording_set(&values, WORDING_UNIT, row->unit);
    row->kind = QUESTION_QUANTITY;
    row->offer_hundredths = figure->hundredths;
    turn_ask(turn, row, WORDING_ASK_QUANTITY, &values);
}

/* Which of several plans the quantity is of: the one that takes a fluid; of more than one such the one
 * that usually takes so much. Where that is not plain, the first of them, *odd: it is asked about. -1: none. */
static int32_t quantity_plan(struct turn *turn, const struct figure *figure,
                             const struct plans *plans, struct question_row row, enum kit_unit unit,
                             bool *odd)
{
    const struct settings_plan *known = turn->desk->settings->plans;
    int32_t first = -1, fitting = -1;
    size_t fluids = 0, fits = 0;
    for (size_t i = 0; i < plans->count; i++) {
        int32_t plan = plans->plans[i];
        if (shelf_fluid_grains(&known[plan]) == 0) {
            continue;
        }
        first = fluids == 0 ? plan : first;
        fluids++;
        (void)snprintf(row.plan, sizeof row.plan, "%s", known[plan].name);
        if (!is_odd(turn, figure, plan, &row, unit)) {
            fitting = plan;
            fits++;
        }
    }
    *odd = fluids > 0 && fits != 1;
    return fits == 1 ? fitting : first;
}

/* The quantity into the row and the entry, where it is of this plan; *odd where it wants to be asked
 * about. False where it cannot be (the entry is refused). */
static bool take_quantity(struct turn *turn, const struct figure *figure, int32_t plan,
                          const struct plans *plans, struct question_row *row, bool *odd)
{
    const struct crew_statement *said = turn->said;
    enum kit_unit shop = turn->desk->settings->shop.units;
    enum kit_unit unit = shop;
    struct question_row with = *row;
    *odd = false;
    if (said->quantity_thousandths <= 0 ||
        (said->quantity_unit != NULL && !kit_unit_find(said->quantity_unit, &unit))) {
        return true;
    }
    with.quantity_thousandths = said->quantity_thousandths;
    (void)snprintf(with.unit, sizeof with.unit, "%s", kit_unit_name(unit));
    int32_t of = quantity_plan(turn, figure, plans, with, unit, odd);
    if (of < 0 && plans->count == 1) {
        /* Where no plan has a kit, nobody has said yet what is oil and what is none. */
        if (settings_any_kit(turn->desk->settings)) {
            struct wording_values values = service_values(turn, figure, plan);
            turn_refuse(turn, WORDING_NO_FLUID, &values);
            return false;
        }
        *odd = is_odd(turn, figure, plan, &with, unit);
        of = plan;
    }
    if (of != plan) {
        *odd = false;
        return true;
    }
    *row = with;
    turn->entry->has_quantity =
        kit_convert(said->quantity_thousandths, unit, shop, &turn->entry->quantity_thousandths);
    return true;
}

/* ---- taken, or asked about */

/* Below the last reading. */
static void take_past(struct turn *turn, const struct figure *figure, int32_t plan,
                      struct question_row *row)
{
    struct yard_standing standing;
    struct service_row kept;
    if (figure->dated) {
        offer_none(turn, figure); /* on that day it had other hours */
        return;
    }
    if (yard_stand(&turn->desk->yard, figure->machine, plan, turn->now_s, &standing) != LEDGER_OK) {
        return;
    }
    if (!standing.serviced || find_repeat(turn, figure, row->plan, done_at(turn, figure), &kept)) {
        service_settle(turn, figure, row);
        return;
    }
    struct wording_values values = service_values(turn, figure, plan);
    wording_set_hours(&values, WORDING_LAST, figure->judgement.last_hundredths);
    offer_typed(turn, figure, row, QUESTION_PAST_SERVICE, WORDING_ASK_PAST_SERVICE, &values);
}

/* The figure, the plan and the quantity are there: taken, or asked about. */
static void decide(struct turn *turn, const struct figure *figure, int32_t plan,
                   const struct plans *plans)
{
    const struct crew_statement *said = turn->said;
    struct question_row row = offer_row(figure);
    bool doubtful = figure->judgement.verdict == YARD_DOUBTFUL;
    bool odd = false;
    turn->entry->plan = turn->desk->settings->plans[plan].name;
    (void)snprintf(row.plan, sizeof row.plan, "%s", turn->entry->plan);
    if (!take_quantity(turn, figure, plan, plans, &row, &odd)) {
        return;
    }
    if (figure_to_confirm(said)) {
        offer_sure(turn, figure, &row);
    } else if (doubtful && figure->hundredths < figure->judgement.last_hundredths) {
        take_past(turn, figure, plan, &row);
    } else if (doubtful) {
        offer_judged(turn, figure, &row);
    } else if ((said->obstacle == CREW_OBSTACLE_NO_UNIT && turn->entry->has_quantity) || odd) {
        ask_quantity(turn, figure, plan, &row);
    } else if (said->service_words && !plans->named) {
        /* Told in other words than DONE: is it that one? */
        struct wording_values values = service_values(turn, figure, plan);
        row.offer_hundredths = figure->hundredths;
        turn_ask(turn, &row, WORDING_ASK_SERVICE, &values);
    } else {
        service_settle(turn, figure, &row);
    }
}

/* A day without an hour stands for its end. A service of the day of the last reading may lie before that
 * reading: at the latest when the machine has run ever since. */
static void place_before_last(struct turn *turn, struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    struct figure before = *figure;
    before.read_s = judgement->last_read_s -
                    (judgement->last_hundredths - figure->hundredths) * YARD_HUNDREDTH_S;
    if (!is_past(figure) || !figure->dated || turn->said->when.minute_of_day >= 0 ||
        judgement->last_hundredths <= figure->hundredths ||
        zone_civil(before.read_s).day != zone_civil(figure->read_s).day) {
        return;
    }
    figure_judge(turn, &before);
    if (!is_past(&before)) {
        *figure = before;
        turn->entry->read_at_s = figure->read_s;
    }
}

void service_take(struct turn *turn)
{
    struct figure figure;
    struct plans plans = find_plans(turn);
    if (turn->entry->outcome == TEXTS_OUTCOME_REFUSED) {
        return;
    }
    if (!turn->said->hours.present) {
        turn_refuse_form(turn, WORDING_WORD_DONE);
        return;
    }
    if (!figure_of(turn, &figure)) {
        return; /* said already */
    }
    place_before_last(turn, &figure);
    if (figure_is_none(turn->said, &figure)) {
        turn_refuse_form(turn, WORDING_WORD_DONE);
    } else if (plans.count == 0) {
        ask_plan(turn, &figure);
    } else {
        /* Each plan is an entry of its own, like the first; the figure is judged anew, being on record
         * by then. */
        const struct desk_statement first = *turn->entry;
        for (size_t i = 0; i < plans.count; i++) {
            if (i > 0) {
                turn_enter(turn, CREW_SERVICE, figure.machine);
                *turn->entry = first;
                figure_judge(turn, &figure);
            }
            decide(turn, &figure, plans.plans[i], &plans);
        }
    }
}
