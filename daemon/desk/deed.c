/* SPDX-License-Identifier: MIT
 * deed: from a statement's kind to the file that does it. */
#include "daemon/desk/deed.h"

#include "daemon/desk/correct.h"
#include "daemon/desk/reading.h"
#include "daemon/desk/resting.h"
#include "daemon/desk/service.h"
#include "daemon/desk/status.h"

const char *deed_word(enum crew_kind kind)
{
    static const char *const words[] = {
        [CREW_READING] = "reading", [CREW_STATUS] = "status", [CREW_SERVICE] = "service",
        [CREW_CORRECT] = "correct", [CREW_SWAP] = "swap",     [CREW_LATER] = "later",
        [CREW_PARK] = "park",       [CREW_BACK] = "back",     [CREW_DUE] = "due",
        [CREW_UNDO] = "undo",       [CREW_YES] = "yes",       [CREW_NO] = "no",
        [CREW_HELP] = "help",       [CREW_STOP] = "stop",     [CREW_START] = "start",
        [CREW_FIGURE] = "unknown",  [CREW_PLAN] = "unknown",  [CREW_UNKNOWN] = "unknown"};
    return words[kind];
}

void deed_do(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    switch (statement->kind) {
    case CREW_READING:
        reading_take(turn, statement, machine);
        return;
    case CREW_STATUS:
        status_machine(turn, machine);
        return;
    case CREW_SERVICE:
        service_take(turn, statement, machine);
        return;
    case CREW_CORRECT:
        correct_fix(turn, statement, machine);
        return;
    case CREW_SWAP:
        correct_swap(turn, statement, machine);
        return;
    case CREW_LATER:
        resting_later(turn, statement, machine);
        return;
    case CREW_PARK:
        resting_park(turn, statement, machine);
        return;
    case CREW_BACK:
        resting_back(turn, statement, machine);
        return;
    case CREW_DUE:
    case CREW_UNDO:
    case CREW_YES:
    case CREW_NO:
    case CREW_HELP:
    case CREW_STOP:
    case CREW_START:
    case CREW_FIGURE:
    case CREW_PLAN:
    case CREW_UNKNOWN:
        break;
    }
    turn_unclear(turn);
}
