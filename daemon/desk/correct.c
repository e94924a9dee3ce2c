/* SPDX-License-Identifier: MIT
 * correct: figures that the clock forbids and the shop knows better; and what is taken back, one
 * level. Nothing is erased: the reading put right is struck out and stays in the history. */
#include "daemon/desk/correct.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/chase.h"
#include "daemon/desk/desk_inside.h"
#include "daemon/desk/notices.h"
#include "daemon/desk/question.h"
#include "daemon/desk/reading.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/record.h"

/* The last standing reading; false where there is none. */
static bool last_reading(struct turn *turn, int64_t machine_id, struct reading_row *row)
{
    size_t count = 0;
    return turn_ok(turn,
                   readings_latest(turn->desk->ledger, machine_id, INT64_MAX, 1, row, &count)) &&
           count == 1;
}

void correct_stand(struct turn *turn, const struct figure *figure)
{
    struct standing standing;
    reading_restand(turn, figure->machine, &standing);
    if (turn->fault == LEDGER_OK) {
        recheck_say_standing(turn, &standing);
    }
}

bool correct_force(struct turn *turn, struct desk_statement *entry, struct figure *figure,
                   int64_t read_s)
{
    struct reading_row last = {0};
    if (!last_reading(turn, figure->machine_id, &last) ||
        !turn_ok(turn, readings_strike_for(turn->desk->ledger, turn->text_id, last.id,
                                           turn->person_id, turn->now_s, "corrected"))) {
        return false;
    }
    figure->read_s = read_s != 0 ? read_s : last.read_s;
    if (figure->remark[0] == '\0') {
        (void)snprintf(figure->remark, sizeof figure->remark, "%s", last.remark);
    }
    if (!figure_judge(turn, figure)) {
        return false;
    }
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    wording_set_hours(&values, WORDING_LAST, last.meter_hundredths);
    if (figure->judgement.verdict == YARD_DOUBTFUL || read_s != 0) {
        turn_explain(turn, entry, WORDING_CORRECTED_FORCED, &values);
    } else {
        turn_say(turn, WORDING_CORRECTED, &values);
    }
    figure_save(turn, figure);
    return true;
}

static int64_t meter_limit(const struct turn *turn, int32_t machine)
{
    const struct settings *settings = turn->desk->settings;
    return settings->kinds[settings->machines[machine].kind].meter_limit_hundredths;
}

/* "1,340": the decimal reading only where it is nearer to the figure put right. */
static void choose_fix(const struct hours_figure *typed, int64_t last, struct figure *figure)
{
    int64_t first = typed->hundredths > last ? typed->hundredths - last : last - typed->hundredths;
    int64_t other = typed->otherwise_hundredths > last ? typed->otherwise_hundredths - last
                                                       : last - typed->otherwise_hundredths;
    figure->hundredths =
        typed->ambiguous && other < first ? typed->otherwise_hundredths : typed->hundredths;
}

void correct_fix(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    struct desk_statement *entry = turn_entry(turn, "correct", machine);
    struct wording_values values = turn_values(turn, machine, statement->hours.hundredths);
    struct reading_row last = {0};
    if (!turn_shop_only(turn, entry, machine)) {
        return;
    }
    if (!statement->hours.present || statement->trouble != CREW_TROUBLE_NONE) {
        turn_refuse_form(turn, entry, machine, "FIX 1340");
        return;
    }
    struct figure figure = {.machine = machine,
                            .machine_id = turn_machine_id(turn, machine),
                            .hundredths = statement->hours.hundredths,
                            .decimal_digits = statement->hours.decimal_digits};
    entry->has_hours = true;
    entry->hours_hundredths = figure.hundredths;
    if (!last_reading(turn, figure.machine_id, &last)) {
        turn_refuse(turn, entry, WORDING_NOTHING_TO_CORRECT, &values);
        return;
    }
    choose_fix(&statement->hours, last.meter_hundredths, &figure);
    entry->hours_hundredths = figure.hundredths;
    if (figure.hundredths > meter_limit(turn, machine)) {
        turn_refuse(turn, entry, WORDING_NO_SUCH_FIGURE, &values);
    } else if (figure.hundredths == last.meter_hundredths) {
        turn_explain(turn, entry, WORDING_ALREADY, &values);
    } else if (correct_force(turn, entry, &figure, 0)) {
        correct_stand(turn, &figure);
    }
}

void correct_meter(struct turn *turn, struct figure *figure, int64_t old_last_hundredths,
                   int64_t new_first_hundredths, enum wording_key key)
{
    struct meter_change change = {.machine_id = figure->machine_id,
                                  .at_s = figure->read_s,
                                  .old_last_hundredths = old_last_hundredths,
                                  .new_first_hundredths = new_first_hundredths,
                                  .person_id = turn->person_id,
                                  .text_id = turn->text_id};
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    wording_set_hours(&values, WORDING_LAST, old_last_hundredths);
    if (turn_ok(turn, readings_change_meter(turn->desk->ledger, &change))) {
        turn_say(turn, key, &values);
        figure_save(turn, figure);
    }
}

/* The old meter's last figure, as a reading just before the change. False where it cannot be. */
static bool take_old_last(struct turn *turn, struct desk_statement *entry,
                          const struct crew_statement *statement, struct figure *figure)
{
    struct figure old = *figure;
    old.hundredths = statement->hours.hundredths;
    old.decimal_digits = statement->hours.decimal_digits;
    if (!figure_judge(turn, &old)) {
        return false;
    }
    if (old.judgement.verdict == YARD_DOUBTFUL) {
        doubt_refuse(turn, entry, &old);
        return false;
    }
    if (old.hundredths != old.judgement.last_hundredths) {
        old.read_s--;
        figure_save(turn, &old);
    }
    return turn->fault == LEDGER_OK;
}

void correct_swap(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    struct desk_statement *entry = turn_entry(turn, "swap", machine);
    struct figure figure;
    if (!turn_shop_only(turn, entry, machine)) {
        return;
    }
    if (!statement->hours.present || !statement->to_hours.present ||
        statement->trouble != CREW_TROUBLE_NONE) {
        turn_refuse_form(turn, entry, machine, "SWAP 1340 0");
        return;
    }
    if (!figure_of(turn, entry, statement, machine, &figure)) {
        return;
    }
    entry->has_to_hours = true;
    entry->to_hours_hundredths = statement->to_hours.hundredths;
    figure.hundredths = statement->to_hours.hundredths;
    if (figure.hundredths > meter_limit(turn, machine)) {
        struct wording_values values = turn_values(turn, machine, figure.hundredths);
        turn_refuse(turn, entry, WORDING_NO_SUCH_FIGURE, &values);
        return;
    }
    if (take_old_last(turn, entry, statement, &figure)) {
        correct_meter(turn, &figure, statement->hours.hundredths, figure.hundredths,
                      WORDING_SWAPPED);
        correct_stand(turn, &figure);
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

static bool has_figure(const char *body)
{
    return strcspn(body, "0123456789") < strlen(body);
}

/* What is taken back: the words of the text, and where those hold no figure (a YES) the reading that
 * they brought about. */
static void find_words(struct turn *turn, struct desk_statement *entry, int64_t text_id,
                       char *words, size_t size)
{
    struct search search = {.text_id = text_id};
    struct reading_row row;
    struct ledger *ledger = turn->desk->ledger;
    (void)turn_ok(turn, texts_each(ledger, turn->now_s - 2 * UNDO_WITHIN_S, turn->now_s + 1,
                                   search_see, &search));
    reply_plain(search.body, strlen(search.body), words, size);
    if (!turn_ok(turn, readings_of_text(ledger, text_id, &row))) {
        return;
    }
    int32_t machine = question_machine(turn, row.machine_id);
    if (machine >= 0 && !has_figure(search.body)) {
        char hours[HOURS_TEXT_OCTETS];
        entry->machine = turn->desk->settings->machines[machine].name;
        (void)hours_write(row.meter_hundredths, hours, sizeof hours);
        (void)snprintf(words, size, "%s %sh", entry->machine, hours);
    }
}

void undo_last(struct turn *turn)
{
    struct desk_statement *entry = turn_entry(turn, "undo", -1);
    struct wording_values values = turn_values(turn, -1, -1);
    struct ledger *ledger = turn->desk->ledger;
    int64_t text_id = 0;
    int told = 0;
    enum ledger_result result = LEDGER_NONE;
    if (turn->mute && turn->shop) {
        turn_refuse(turn, entry, WORDING_OPTED_OUT, &values);
        return;
    }
    result = effects_last(ledger, turn->person_id, turn->now_s - UNDO_WITHIN_S, &text_id);
    if (!turn_ok(turn, result)) {
        turn_refuse(turn, entry, WORDING_NOTHING_TO_TAKE_BACK, &values);
        return;
    }
    char words[WORDS_SHOWN + 1];
    find_words(turn, entry, text_id, words, sizeof words);
    wording_set(&values, WORDING_WORDS, words);
    if (!turn_ok(turn, retraction_of_text(ledger, text_id, turn->person_id, turn->now_s, &told))) {
        return;
    }
    turn->desk->unsettled = true;
    turn_say(turn, WORDING_TAKEN_BACK, &values);
    if (told > 0) {
        notices_note(turn, WORDING_TELL_TAKEN_BACK, &values);
    }
}
