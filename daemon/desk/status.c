/* SPDX-License-Identifier: MIT
 * status: "M12?" and DUE. */
#include "daemon/desk/status.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/desk/room.h"

void status_machine(struct turn *turn, int32_t machine)
{
    (void)turn_entry(turn, "status", machine);
    struct standing standing;
    struct wording_values values = turn_values(turn, machine, -1);
    if (!turn_ok(turn, standing_look(turn->desk, machine, turn->now_s, &standing)) ||
        standing.count == 0) {
        return;
    }
    const struct yard_standing *worst = &standing.plans[standing.worst];
    if (!worst->read) {
        turn_say(turn, WORDING_UNREAD, &values);
        return;
    }
    wording_set_hours(&values, WORDING_HOURS, worst->meter_hundredths);
    turn_set_day(turn, &values, worst->read_s);
    turn_say(turn, WORDING_STANDS_AT, &values);
    standing_say(turn, &standing, false);
}

static enum wording_key item_key(enum due_stage stage)
{
    switch (stage) {
    case DUE_STAGE_OVERDUE:
        return WORDING_DUE_ITEM_OVERDUE;
    case DUE_STAGE_DUE:
        return WORDING_DUE_ITEM_DUE;
    case DUE_STAGE_NO_RECORD:
        return WORDING_DUE_ITEM_NO_RECORD;
    case DUE_STAGE_COMING_UP:
    case DUE_STAGE_FINE:
    case DUE_STAGE_PARKED:
    case DUE_STAGE_UNREAD:
        break;
    }
    return WORDING_DUE_ITEM_COMING;
}

/* Items joined by commas; one that would not leave room for "and so many more" in one text of the
 * air is counted instead. */
struct due_list {
    char text[TEXTS_REPLY_OCTETS];
    size_t length;
    int64_t more;
};

static void list_item(struct turn *turn, struct due_list *list, const struct yard_standing *row)
{
    char item[WORDING_SENTENCE_OCTETS];
    struct wording_values values = {0};
    const size_t room_for_more = 16;
    size_t before = list->length;
    standing_values(turn->desk, row, turn->wording, turn->today, &values);
    (void)wording_write(turn->wording, item_key(row->stage), &values, item, sizeof item);
    if (list->more > 0 || before + strlen(item) + 3 > 160 - room_for_more) {
        list->more++;
        return;
    }
    list->length += (size_t)snprintf(list->text + before, sizeof list->text - before, "%s%s",
                                     before > 0 ? ", " : "", item);
}

static void say_list(struct turn *turn, struct due_list *list)
{
    struct wording_values values = turn_values(turn, -1, -1);
    if (list->length == 0) {
        turn_say(turn, WORDING_DUE_NOTHING, &values);
        return;
    }
    char more[WORDING_SENTENCE_OCTETS] = "";
    if (list->more > 0) {
        wording_set_number(&values, WORDING_COUNT, list->more);
        (void)wording_write(turn->wording, WORDING_DUE_MORE, &values, more, sizeof more);
    }
    (void)snprintf(list->text + list->length, sizeof list->text - list->length, "%s%s.",
                   list->more > 0 ? ", " : "", more);
    reply_add(&turn->reply, REPLY_MUST, list->text);
}

void status_due(struct turn *turn)
{
    struct due_list list = {0};
    struct yard_standing *standings = NULL;
    size_t count = 0;
    (void)turn_entry(turn, "due", -1);
    if (turn_ok(turn, yard_stand_all(&turn->desk->yard, turn->now_s, &standings, &count))) {
        for (size_t i = 0; i < count; i++) {
            if (standing_matters(&standings[i]) &&
                (turn->shop ||
                 names_own(turn->desk->settings, standings[i].machine, turn->person))) {
                list_item(turn, &list, &standings[i]);
            }
        }
        say_list(turn, &list);
    }
    free(standings);
}
