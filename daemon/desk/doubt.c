/* SPDX-License-Identifier: MIT
 * doubt: from the yard's judgement to a question or a refusal. What the crew cannot settle (a new
 * meter; a figure refused before) goes to the shop. */
#include "daemon/desk/doubt.h"

#include <stdio.h>

#include "daemon/desk/question.h"
#include "daemon/desk/question_shop.h"
#include "daemon/desk/room.h"

#define REFUSED_AGAIN_S (7 * 24 * 3600)

struct question_row doubt_row(const struct figure *figure)
{
    struct question_row row = {.machine_id = figure->machine_id,
                               .offer_machine_id = figure->machine_id,
                               .offer_hundredths = -1,
                               .offer_to_hundredths = -1,
                               .typed_hundredths = figure->hundredths,
                               .read_s = figure->read_s};
    (void)snprintf(row.remark, sizeof row.remark, "%s", figure->remark);
    return row;
}

static struct wording_values doubt_values(const struct turn *turn, const struct figure *figure)
{
    const struct yard_judgement *judgement = &figure->judgement;
    struct wording_values values = turn_values(turn, figure->machine, figure->hundredths);
    if (judgement->last_hundredths >= 0) {
        turn_set_last(turn, &values, judgement->last_hundredths, judgement->last_read_s);
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

void doubt_refuse(struct turn *turn, struct desk_statement *entry, const struct figure *figure)
{
    struct wording_values values = doubt_values(turn, figure);
    turn_refuse(turn, entry, why_not(figure), &values);
}

/* Asks the shop instead of the crew; the crew's entry is refused and says so. */
static void pass_to_shop(struct turn *turn, struct desk_statement *entry,
                         const struct figure *figure, struct question_row *row,
                         enum wording_key key)
{
    struct wording_values values = doubt_values(turn, figure);
    if (turn->shop) {
        entry->has_suggests = true;
        entry->suggests_hundredths = figure->hundredths;
        turn_ask(turn, entry, row, key, &values);
        return;
    }
    bool asked = question_to_shop(turn, row, key, figure->judgement.last_hundredths,
                                  figure->judgement.last_read_s);
    turn_refuse(turn, entry, asked ? WORDING_SHOP_ASKED : why_not(figure), &values);
}

/* Nothing can be offered. The same figure sent again is put to the shop. */
static void refuse(struct turn *turn, struct desk_statement *entry, const struct figure *figure,
                   struct question_row *row)
{
    struct ledger *ledger = turn->desk->ledger;
    int count = 0;
    (void)turn_ok(turn, questions_refused_since(ledger, turn->person_id, figure->machine_id,
                                                figure->hundredths, turn->now_s - REFUSED_AGAIN_S,
                                                &count));
    (void)turn_ok(turn, questions_note_refusal(ledger, turn->person_id, figure->machine_id,
                                               figure->hundredths, turn->text_id, turn->now_s));
    if (count > 0 && figure->judgement.last_hundredths >= 0) {
        (void)snprintf(row->kind, sizeof row->kind, "%s", QUESTION_FORCE);
        row->offer_hundredths = figure->hundredths;
        pass_to_shop(turn, entry, figure, row, WORDING_ASK_FORCE);
        return;
    }
    doubt_refuse(turn, entry, figure);
}

/* An offer that the sender may settle. */
static void offer(struct turn *turn, struct desk_statement *entry, const struct figure *figure,
                  struct question_row *row, const char *kind, enum wording_key key)
{
    const struct yard_judgement *judgement = &figure->judgement;
    struct wording_values values = doubt_values(turn, figure);
    (void)snprintf(row->kind, sizeof row->kind, "%s", kind);
    row->offer_hundredths = judgement->offer_hundredths;
    row->offer_to_hundredths = judgement->old_last_hundredths;
    row->strikes_reading_id = judgement->strikes_reading_id;
    entry->has_suggests = true;
    entry->suggests_hundredths = judgement->offer_hundredths;
    if (judgement->offer == YARD_OFFER_MACHINE) {
        const char *name = turn->desk->settings->machines[judgement->offer_machine].name;
        row->offer_machine_id = turn_machine_id(turn, judgement->offer_machine);
        entry->suggests_machine = name;
        wording_set(&values, WORDING_OTHER, name);
    }
    turn_ask(turn, entry, row, key, &values);
    if (entry->outcome != DESK_ASKED) {
        entry->has_suggests = false;
        entry->suggests_machine = NULL;
    }
}

void doubt_figure(struct turn *turn, struct desk_statement *entry, const struct figure *figure,
                  struct question_row *row)
{
    switch (figure->judgement.offer) {
    case YARD_OFFER_SLIP:
        offer(turn, entry, figure, row, QUESTION_SLIP,
              figure->judgement.last_hundredths < 0 ? WORDING_ASK_SLIP_UNREAD : WORDING_ASK_SLIP);
        return;
    case YARD_OFFER_MACHINE:
        if (row->plan[0] == '\0') {
            offer(turn, entry, figure, row, QUESTION_OTHER_MACHINE, WORDING_ASK_OTHER_MACHINE);
            return;
        }
        break; /* a service is of the machine named */
    case YARD_OFFER_LAST_WRONG:
        offer(turn, entry, figure, row, QUESTION_LAST_WRONG, WORDING_ASK_LAST_WRONG);
        return;
    case YARD_OFFER_ROLL_OVER:
        offer(turn, entry, figure, row, QUESTION_ROLL_OVER, WORDING_ASK_ROLL_OVER);
        return;
    case YARD_OFFER_SWAP:
        (void)snprintf(row->kind, sizeof row->kind, "%s", QUESTION_SWAP);
        row->offer_hundredths = figure->hundredths;
        row->offer_to_hundredths = figure->judgement.old_last_hundredths;
        pass_to_shop(turn, entry, figure, row, WORDING_ASK_SWAP);
        return;
    case YARD_OFFER_NONE:
        break;
    }
    refuse(turn, entry, figure, row);
}

void doubt_sure(struct turn *turn, struct desk_statement *entry, const struct figure *figure,
                struct question_row *row)
{
    if (figure->judgement.verdict == YARD_DOUBTFUL) {
        doubt_figure(turn, entry, figure, row);
        return;
    }
    struct wording_values values = doubt_values(turn, figure);
    (void)snprintf(row->kind, sizeof row->kind, "%s", QUESTION_SURE);
    row->offer_hundredths = figure->hundredths;
    entry->has_suggests = true;
    entry->suggests_hundredths = figure->hundredths;
    turn_ask(turn, entry, row, WORDING_ASK_SURE, &values);
}
