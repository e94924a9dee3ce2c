/* SPDX-License-Identifier: MIT
 * correct: figures that the clock forbids and the shop knows better; and what is taken back, one
 * level. Nothing is erased: the reading put right is struck out and stays in the history. */
#include "daemon/desk/correct.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/offer.h"
#include "daemon/desk/question.h"
#include "daemon/desk/reading.h"
#include "daemon/desk/statements.h"
#include "daemon/desk/telling.h"
#include "daemon/desk/when.h"
#include "daemon/desk/whereabouts.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/services.h"
#include "daemon/ledger/troubles.h"

#define FAR_HUNDREDTHS (24 * 100) /* further than a day runs: UNDO is named */

bool correct_force(struct turn *turn, struct figure *figure, int64_t read_s)
{
    struct reading_row last = {0};
    if (!desk_last_reading(turn->desk, figure->machine_id, INT64_MAX, &last)) {
        return false;
    }
    (void)record_strike(turn->desk->ledger, RECORD_READING, turn->text_id, last.id, turn->person_id,
                        turn->now_s, "corrected");
    figure->read_s = read_s != 0 ? read_s : last.read_s;
    if (figure->remark[0] == '\0') {
        (void)snprintf(figure->remark, sizeof figure->remark, "%s", last.remark);
    }
    figure_judge(turn, figure);
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    wording_set_hours(&values, WORDING_LAST, last.meter_hundredths);
    bool far = llabs(figure->hundredths - last.meter_hundredths) > FAR_HUNDREDTHS;
    if (figure->judgement.verdict == YARD_DOUBTFUL || far || read_s != 0) {
        turn_explain(turn, WORDING_CORRECTED_FORCED, &values);
    } else {
        turn_say(turn, WORDING_CORRECTED, &values);
    }
    figure_save(turn, figure);
    return true;
}

void correct_fix(struct turn *turn)
{
    const struct crew_statement *said = turn->said;
    struct reading_row last = {0};
    if (!said->hours.present || said->obstacle != CREW_OBSTACLE_NONE) {
        turn_refuse_form(turn, WORDING_WORD_FIX);
        return;
    }
    struct figure figure = {.machine = turn->machine,
                            .machine_id = turn_machine_id(turn, turn->machine),
                            .hundredths = said->hours.hundredths,
                            .decimal_digits = said->hours.decimal_digits};
    struct wording_values values = turn_values(turn, turn->machine, figure.hundredths);
    bool found = desk_last_reading(turn->desk, figure.machine_id, INT64_MAX, &last);
    /* "1,340": the decimal reading only where it is nearer to the figure put right. */
    if (found && said->hours.ambiguous &&
        llabs(said->hours.otherwise_hundredths - last.meter_hundredths) <
            llabs(figure.hundredths - last.meter_hundredths)) {
        figure.hundredths = said->hours.otherwise_hundredths;
    }
    turn->entry->has_hours = true;
    turn->entry->hours_hundredths = figure.hundredths;
    if (!found) {
        turn_refuse(turn, WORDING_NOTHING_TO_CORRECT, &values);
    } else if (figure.hundredths >
               yard_kind(turn->desk->settings, turn->machine)->meter_limit_hundredths) {
        turn_refuse(turn, WORDING_NO_SUCH_FIGURE, &values);
    } else if (figure.hundredths == last.meter_hundredths) {
        turn_explain(turn, WORDING_ALREADY, &values);
    } else if (correct_force(turn, &figure, 0)) {
        standing_tell(turn, turn->machine);
    }
}

/* ---- the sender's own last reading */

#define OWN_WITHIN_S (24 * 3600)

/* Which reading is meant: of the machine that was not meant, of the one named, or the last one. False
 * where the sender has sent none such. */
static bool own_last(struct turn *turn, struct reading_row *last)
{
    const struct crew_statement *said = turn->said;
    struct ledger *ledger = turn->desk->ledger;
    int64_t since_s = turn->now_s - OWN_WITHIN_S;
    int64_t machine_id = 0;
    if (said->not_machine >= 0) {
        machine_id = turn_machine_id(turn, turn->desk->names.index[said->not_machine]);
    } else if (turn->machine >= 0 && said->hours.present) {
        machine_id = turn_machine_id(turn, turn->machine);
    }
    if (readings_of_person(ledger, turn->person_id, machine_id, since_s, last) == LEDGER_OK) {
        /* "1341 not 1340" is of that one alone. */
        return !said->to_hours.present || said->to_hours.hundredths == last->meter_hundredths;
    }
    /* The same figure of another machine: the machine was the wrong one. */
    return machine_id != 0 && said->not_machine < 0 &&
           readings_of_person(ledger, turn->person_id, 0, since_s, last) == LEDGER_OK &&
           last->meter_hundredths == said->hours.hundredths;
}

/* The figure in place of that reading, judged as if the first had not been sent. */
static void replace_own(struct turn *turn, struct figure *figure, const struct reading_row *last)
{
    figure_judge_in_place(turn, figure, last->id);
    if (figure->judgement.verdict == YARD_DOUBTFUL) {
        offer_none(turn, figure);
        return;
    }
    (void)record_strike(turn->desk->ledger, RECORD_READING, turn->text_id, last->id,
                        turn->person_id, turn->now_s, "corrected by its sender");
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    wording_set_hours(&values, WORDING_LAST, last->meter_hundredths);
    turn->desk->unsettled = true;
    if (figure->judgement.verdict != YARD_ALREADY_NOTED) {
        figure_save(turn, figure);
    }
    if (last->machine_id != figure->machine_id) {
        int32_t other = desk_machine(turn->desk, last->machine_id);
        wording_set(&values, WORDING_OTHER,
                    other >= 0 ? turn->desk->settings->machines[other].name : "?");
        turn_say(turn, WORDING_CORRECTED_MACHINE, &values);
    } else {
        turn_say(turn, WORDING_CORRECTED, &values);
    }
    standing_tell(turn, figure->machine);
}

void correct_own(struct turn *turn)
{
    const struct crew_statement *said = turn->said;
    struct reading_row last;
    if (!own_last(turn, &last)) {
        struct crew_statement reading = *said;
        reading.kind = !said->hours.present ? CREW_UNKNOWN
                       : turn->machine >= 0 ? CREW_READING
                                            : CREW_FIGURE;
        reading.to_hours = (struct hours_figure){0};
        turn->answer->statement_count--;
        statements_take(turn, &reading);
        return;
    }
    int32_t machine =
        turn->machine >= 0 ? turn->machine : desk_machine(turn->desk, last.machine_id);
    turn->machine = machine;
    struct figure figure = {.machine = machine,
                            .machine_id = machine >= 0 ? turn_machine_id(turn, machine) : 0,
                            .hundredths = said->hours.present ? said->hours.hundredths
                                                              : last.meter_hundredths,
                            .decimal_digits = said->hours.decimal_digits,
                            .read_s = last.read_s,
                            .dated = when_said(&said->when)};
    (void)snprintf(figure.remark, sizeof figure.remark, "%s", last.remark);
    if (machine < 0 || (figure.dated && !reading_when(turn, said, &figure.read_s))) {
        return;
    }
    turn->entry->machine = turn->desk->settings->machines[machine].name;
    turn->entry->has_hours = true;
    turn->entry->hours_hundredths = figure.hundredths;
    replace_own(turn, &figure, &last);
}

struct old_meter {
    int64_t at_s;
    bool shown; /* at that very moment something was noted with a figure of it */
};

static void see_service(void *ctx, const struct service_row *row)
{
    struct old_meter *old = ctx;
    old->shown = old->shown || (!row->struck && !row->undated && row->done_s == old->at_s);
}

/* A figure of the moment of a change, or later, is the new meter's: what was noted before with the same
 * moment (by the text that tells of the change, or of the same day) is the old one's, so that the change
 * comes a second later, and what the text says after it too. */
static void place_behind_old_meter(struct turn *turn, struct figure *figure)
{
    struct old_meter old = {.at_s = figure->read_s};
    struct reading_row last;
    if (desk_last_reading(turn->desk, figure->machine_id, old.at_s, &last)) {
        old.shown = last.read_s == old.at_s;
    }
    (void)services_each(turn->desk->ledger, figure->machine_id, see_service, &old);
    if (old.shown) {
        figure_place(turn, figure, old.at_s + 1);
        turn->sent_s = figure->read_s > turn->sent_s ? figure->read_s : turn->sent_s;
    }
}

void correct_meter(struct turn *turn, struct figure *figure, int64_t old_last_hundredths,
                   int64_t new_first_hundredths, enum wording_key key)
{
    place_behind_old_meter(turn, figure);
    struct meter_change change = {.machine_id = figure->machine_id,
                                  .at_s = figure->read_s,
                                  .old_last_hundredths = old_last_hundredths,
                                  .new_first_hundredths = new_first_hundredths,
                                  .person_id = turn->person_id,
                                  .text_id = turn->text_id};
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    wording_set_hours(&values, WORDING_LAST, old_last_hundredths);
    (void)readings_change_meter(turn->desk->ledger, &change);
    turn_say(turn, key, &values);
    figure_save(turn, figure);
}

/* The old meter's last figure, as a reading just before the change. False where it cannot be. */
static bool take_old_last(struct turn *turn, const struct figure *figure)
{
    struct figure old = *figure;
    old.hundredths = turn->said->hours.hundredths;
    old.decimal_digits = turn->said->hours.decimal_digits;
    figure_judge(turn, &old);
    if (old.judgement.verdict == YARD_DOUBTFUL) {
        offer_none(turn, &old);
        return false;
    }
    if (old.hundredths != old.judgement.last_hundredths) {
        old.read_s--;
        figure_save(turn, &old);
    }
    return true;
}

void correct_swap(struct turn *turn)
{
    const struct crew_statement *said = turn->said;
    struct figure figure;
    if (!said->hours.present || !said->to_hours.present || said->obstacle != CREW_OBSTACLE_NONE) {
        turn_refuse(turn, WORDING_NEEDS_TWO_FIGURES, NULL);
        return;
    }
    if (!figure_of(turn, &figure)) {
        return;
    }
    figure.hundredths = said->to_hours.hundredths;
    turn->entry->has_to_hours = true;
    turn->entry->to_hours_hundredths = figure.hundredths;
    if (figure.hundredths >
        yard_kind(turn->desk->settings, turn->machine)->meter_limit_hundredths) {
        struct wording_values values = turn_values(turn, turn->machine, figure.hundredths);
        turn_refuse(turn, WORDING_NO_SUCH_FIGURE, &values);
        return;
    }
    place_behind_old_meter(turn, &figure);
    if (take_old_last(turn, &figure)) {
        correct_meter(turn, &figure, said->hours.hundredths, figure.hundredths, WORDING_SWAPPED);
        standing_tell(turn, turn->machine);
    }
}

/* ---- taking back */

#define UNDO_WITHIN_S (24 * 3600)
#define WORDS_SHOWN 100 /* octets of them */

struct search {
    int64_t text_id;
    char body[WORDS_SHOWN + 1];
};

static void search_see(void *ctx, const struct texts_line *line)
{
    struct search *search = ctx;
    if (line->incoming && line->text_id == search->text_id) {
        (void)snprintf(search->body, sizeof search->body, "%s", line->body);
    }
}

/* What is taken back: the words of the text; where those hold no figure (a YES), the reading that they
 * brought about; and the machine's name before what was told of it, as the shop was told it. */
static void find_words(struct turn *turn, int64_t text_id, const struct trouble_row *told,
                       char words[WORDS_SHOWN + 1])
{
    struct search search = {.text_id = text_id};
    struct reading_row row = {.machine_id = 0};
    const struct settings *settings = turn->desk->settings;
    struct ledger *ledger = turn->desk->ledger;
    (void)texts_each(ledger, turn->now_s - 2 * UNDO_WITHIN_S, turn->now_s + 1, search_see, &search);
    reply_plain(search.body, strlen(search.body), words, WORDS_SHOWN + 1);
    (void)readings_of_text(ledger, text_id, &row);
    int32_t machine = row.machine_id != 0 ? desk_machine(turn->desk, row.machine_id) : -1;
    if (machine >= 0 && strpbrk(search.body, "0123456789") == NULL) {
        char hours[HOURS_TEXT_OCTETS];
        turn->entry->machine = settings->machines[machine].name;
        (void)hours_write(row.meter_hundredths, hours, sizeof hours);
        (void)snprintf(words, WORDS_SHOWN + 1, "%s %sh", turn->entry->machine, hours);
    }
    machine = told->machine_id != 0 ? desk_machine(turn->desk, told->machine_id) : -1;
    if (machine >= 0 && strstr(words, settings->machines[machine].name) == NULL) {
        char typed[WORDS_SHOWN + 1];
        (void)snprintf(typed, sizeof typed, "%s", words);
        (void)snprintf(words, WORDS_SHOWN + 1, "%s: %.80s", settings->machines[machine].name,
                       typed);
    }
}

void correct_undo(struct turn *turn)
{
    struct wording_values values = turn_values(turn, -1, -1);
    struct ledger *ledger = turn->desk->ledger;
    char words[WORDS_SHOWN + 1];
    int64_t text_id = 0;
    int told = 0;
    struct trouble_row said = {0};
    if (turn->mute && turn->shop) {
        turn_refuse(turn, WORDING_OPTED_OUT, &values);
        return;
    }
    if (effects_last(ledger, turn->person_id, turn->now_s - UNDO_WITHIN_S, &text_id) != LEDGER_OK) {
        turn_refuse(turn, WORDING_NOTHING_TO_TAKE_BACK, &values);
        return;
    }
    (void)troubles_of_text(ledger, text_id, &said);
    find_words(turn, text_id, &said, words);
    wording_set(&values, WORDING_WORDS, words);
    int32_t moved = whereabouts_of_text(turn, text_id);
    (void)retraction_of_text(ledger, text_id, turn->person_id, turn->now_s, &told);
    turn->desk->unsettled = true;
    turn_say(turn, WORDING_TAKEN_BACK, &values);
    if (moved >= 0) {
        whereabouts_taken_back(turn, moved);
    }
    if (told > 0 || said.told_s != 0) {
        tell_shop(turn, -1, WORDING_TELL_TAKEN_BACK, &values);
    }
}
