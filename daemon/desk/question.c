/* SPDX-License-Identifier: MIT
 * question: loading it, closing it, telling its kind. */
#include "daemon/desk/question.h"

#include <string.h>

#include "daemon/desk/room.h"
#include "daemon/ledger/people.h"

bool question_is(const struct question_row *row, const char *kind)
{
    return strcmp(row->kind, kind) == 0;
}

bool question_begins(const struct question_row *row, const char *kind)
{
    return strncmp(row->kind, kind, strlen(kind)) == 0;
}

bool question_asks_which(const struct question_row *row)
{
    return question_begins(row, QUESTION_WHICH_FIGURE) ||
           question_begins(row, QUESTION_WHICH_MACHINE) ||
           question_begins(row, QUESTION_WHICH_PLAN);
}

void question_load(struct turn *turn)
{
    turn->has_question =
        turn_ok(turn, questions_open(turn->desk->ledger, turn->person_id,
                                     turn->now_s - QUESTION_LAPSES_S, &turn->question));
}

void question_close(struct turn *turn, const char *outcome)
{
    (void)turn_ok(turn, questions_close(turn->desk->ledger, turn->question.id, outcome,
                                        turn->text_id, turn->now_s));
    turn->has_question = false;
}

void question_answered_by(struct turn *turn, int64_t machine_id)
{
    if (turn->has_question && !question_is(&turn->question, QUESTION_RECHECK) &&
        (turn->question.machine_id == machine_id ||
         question_is(&turn->question, QUESTION_WHICH_OWN) ||
         turn->question.offer_machine_id == machine_id)) {
        question_close(turn, "answered");
    }
}

int32_t question_machine(struct turn *turn, int64_t machine_id)
{
    char name[PEOPLE_NAME_OCTETS];
    if (machine_id == 0 || !turn_ok(turn, machines_name(turn->desk->ledger, machine_id, name))) {
        return -1;
    }
    return settings_find_machine(turn->desk->settings, name);
}
