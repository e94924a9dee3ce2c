/* SPDX-License-Identifier: MIT
 * trouble: heard, acknowledged, told. What one person says comes through at once; where it comes
 * thick, the shop hears of him again the later the more it was told at once before, so that a phone
 * that goes on and on is one alert and a count. */
#include "daemon/desk/trouble.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/post.h"
#include "daemon/desk/question.h"
#include "daemon/desk/telling.h"
#include "daemon/ground/log.h"
#include "daemon/ledger/people.h"

/* ---- when the shop is told */

#define REMARK_WAITS_S (30 * 60)  /* so that several go as one text, and within the hour */
#define APART_S 30                /* for each of a person that was told at once before */
#define APART_MOST_S 3600         /* and no longer than that */
#define SAME_WITHIN_S (24 * 3600) /* the same words in that time are the same trouble */
#define GROUPS_MOST 64            /* looked at at once; the others a moment later */
#define TOLD_OF_ONE 8             /* of one person; the others are counted */

/* The moment at which the group is told. */
static int64_t ripe_s(struct desk *desk, const struct trouble_group *group, int64_t now_s)
{
    int64_t told_s = 0;
    int64_t count = 0;
    (void)troubles_last_told(desk->ledger, group->person_id, group->weight, &told_s, &count);
    int64_t apart_s = count < APART_MOST_S / APART_S ? count * APART_S : APART_MOST_S;
    int64_t waits_s = group->weight == TROUBLE_REMARK ? REMARK_WAITS_S : 0;
    int64_t ripe = group->oldest_s + waits_s;
    if (told_s + apart_s > ripe) {
        ripe = told_s + apart_s;
    }
    return group->weight == TROUBLE_DANGER
               ? ripe
               : shop_hours_next(&desk->settings->shop, ripe > now_s ? ripe : now_s);
}

bool trouble_ripe(struct desk *desk, int64_t now_s, int64_t *next_s)
{
    struct trouble_group groups[GROUPS_MOST];
    size_t count = 0;
    *next_s = 0;
    (void)troubles_waiting(desk->ledger, GROUPS_MOST, groups, &count);
    for (size_t i = 0; i < count; i++) {
        int64_t ripe = ripe_s(desk, &groups[i], now_s);
        *next_s = *next_s == 0 || ripe < *next_s ? ripe : *next_s;
    }
    return *next_s != 0 && *next_s <= now_s;
}

/* ---- the text to the shop */

struct telling {
    struct desk *desk;
    int64_t now_s;
    size_t count;
    struct trouble_group groups[GROUPS_MOST]; /* the ripe ones */
    bool urgent;                              /* danger is among them */
    int told;                                 /* persons */
};

/* The sentence of one thing said; left out where the text would grow too long by it. */
static bool draft_row(struct draft *draft, const struct trouble_row *row)
{
    static const struct {
        enum wording_key named, unnamed;
    } keys[] = {[TROUBLE_REMARK] = {WORDING_TELL_REMARK, WORDING_TELL_REMARK},
                [TROUBLE_FAULT] = {WORDING_TELL_TROUBLE, WORDING_TELL_TROUBLE_UNNAMED},
                [TROUBLE_DANGER] = {WORDING_TELL_DANGER, WORDING_TELL_DANGER_UNNAMED}};
    const struct settings *settings = draft->desk->settings;
    int32_t machine = row->machine_id != 0 ? desk_machine(draft->desk, row->machine_id) : -1;
    size_t before = strlen(draft->body);
    char name[PEOPLE_NAME_OCTETS] = "";
    struct wording_values values = {0};
    (void)people_name(draft->desk->ledger, row->person_id, name);
    wording_set(&values, WORDING_PERSON, name);
    reply_plain(row->words, strlen(row->words), values.value[WORDING_WORDS], WORDING_VALUE_OCTETS);
    if (machine >= 0) {
        wording_set(&values, WORDING_MACHINE, settings->machines[machine].name);
        if (settings->machines[machine].site[0] != '\0') {
            (void)snprintf(values.value[WORDING_SITE], WORDING_VALUE_OCTETS, " (%s)",
                           settings->machines[machine].site);
        }
    }
    draft_add(draft, machine >= 0 ? keys[row->weight].named : keys[row->weight].unnamed, &values);
    return draft_holds(draft, before);
}

/* What a group says: the first of it, and how much more. What is of other sites than his is not for
 * him, danger aside. False where nothing is. */
static bool draft_group(struct draft *draft, const struct trouble_group *group)
{
    const struct settings *settings = draft->desk->settings;
    struct trouble_row rows[TOLD_OF_ONE];
    size_t count = 0;
    size_t seen = 0;
    bool any = false;
    (void)troubles_untold(draft->desk->ledger, group, TOLD_OF_ONE, rows, &count);
    for (bool fits = true; fits && seen < count; seen += fits) {
        if (group->weight == TROUBLE_DANGER ||
            hears(settings, draft->person, desk_machine(draft->desk, rows[seen].machine_id))) {
            fits = draft_row(draft, &rows[seen]);
            any = true;
        }
    }
    if (any && group->count > (int64_t)seen) {
        struct wording_values values = {0};
        char name[PEOPLE_NAME_OCTETS] = "";
        (void)people_name(draft->desk->ledger, group->person_id, name);
        wording_set(&values, WORDING_PERSON, name);
        wording_set_number(&values, WORDING_COUNT, group->count - (int64_t)seen);
        draft_add(draft, WORDING_TELL_WORDS_MORE, &values);
    }
    return any;
}

/* All but what he said himself. */
static void tell_one(void *ctx, int32_t person)
{
    struct telling *telling = ctx;
    struct desk *desk = telling->desk;
    struct draft draft = draft_to(desk, person);
    int64_t person_id = desk_person_id(desk, person);
    bool any = false;
    draft_begin(&draft);
    for (size_t i = 0; i < telling->count; i++) {
        if (telling->groups[i].person_id != person_id) {
            any |= draft_group(&draft, &telling->groups[i]);
        }
    }
    telling->told++;
    struct post_order order = {.person = person,
                               .kind = TEXTS_ALERT,
                               .body = draft.body,
                               .now_s = telling->now_s,
                               .urgent = telling->urgent};
    if (any) {
        (void)post_queue(desk, &order);
    }
}

void trouble_tell(struct desk *desk, int64_t now_s)
{
    struct telling telling = {.desk = desk, .now_s = now_s};
    struct trouble_group groups[GROUPS_MOST];
    size_t count = 0;
    (void)troubles_waiting(desk->ledger, GROUPS_MOST, groups, &count);
    for (size_t i = 0; i < count; i++) {
        if (ripe_s(desk, &groups[i], now_s) <= now_s) {
            telling.urgent |= groups[i].weight == TROUBLE_DANGER;
            telling.groups[telling.count++] = groups[i];
        }
    }
    if (telling.count == 0) {
        return;
    }
    reachable_each(desk, -1, tell_one, &telling);
    if (telling.told == 0) {
        return; /* it stays untold until somebody sends START; health is at fault meanwhile */
    }
    for (size_t i = 0; i < telling.count; i++) {
        (void)troubles_tell(desk->ledger, &telling.groups[i], now_s);
    }
}

/* ---- what is said */

bool trouble_keep(struct turn *turn, int32_t machine, enum trouble_weight weight, const char *words)
{
    struct trouble_row row = {.machine_id = machine >= 0 ? turn_machine_id(turn, machine) : 0,
                              .weight = weight,
                              .since_s = turn->now_s,
                              .person_id = turn->person_id,
                              .text_id = turn->text_id};
    (void)snprintf(row.words, sizeof row.words, "%s", words);
    turn->reported = true;
    return troubles_add(turn->desk->ledger, &row, turn->now_s - SAME_WITHIN_S) == LEDGER_OK;
}

static void count_one(void *ctx, int32_t person)
{
    (void)person;
    ++*(int *)ctx;
}

/* The acknowledgement: how it is told on. */
static enum wording_key told_key(struct turn *turn, bool danger, bool fresh)
{
    bool open = shop_hours_next(&turn->desk->settings->shop, turn->now_s) <= turn->now_s;
    int heard = turn->shop; /* whoever is of the shop knows himself */
    reachable_each(turn->desk, danger ? -1 : turn->machine, count_one, &heard);
    if (heard == 0) {
        return danger ? WORDING_DANGER_UNHEARD : WORDING_TROUBLE_UNHEARD;
    }
    if (danger) {
        return WORDING_DANGER;
    }
    if (!fresh) {
        return WORDING_TROUBLE_ALREADY;
    }
    return turn->shop ? WORDING_TROUBLE_KEPT : open ? WORDING_TROUBLE_TOLD : WORDING_TROUBLE_LATER;
}

/* The words of the statement into the entry and, fit for a reply, into the values. */
static struct wording_values words_of(struct turn *turn)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    turn_remark(turn, turn->said->remark, turn->entry->remark, sizeof turn->entry->remark);
    reply_plain(turn->entry->remark, strlen(turn->entry->remark), values.value[WORDING_WORDS], 61);
    return values;
}

/* Trouble of no machine that was named: told already, and asked which. */
static void ask_which(struct turn *turn, struct wording_values *values)
{
    struct question_row row = question_row(QUESTION_WHICH_TROUBLE, 0, turn->sent_s);
    if (turn->mute || turn->asked) {
        turn_say(turn, WORDING_TROUBLE_UNNAMED, values);
        return;
    }
    (void)snprintf(row.remark, sizeof row.remark, "%s", turn->entry->remark);
    turn_ask(turn, &row, WORDING_ASK_WHICH_TROUBLE, values);
}

void trouble_take(struct turn *turn)
{
    bool danger = turn->said->danger;
    struct wording_values values = words_of(turn);
    bool fresh = trouble_keep(turn, turn->machine, danger ? TROUBLE_DANGER : TROUBLE_FAULT,
                              turn->entry->remark);
    enum wording_key key = told_key(turn, danger, fresh);
    if (turn->machine >= 0 && !danger) {
        turn_say(turn, key, &values);
    } else if (turn->machine >= 0) {
        turn_say(turn, key, &values);
        turn_add(turn, REPLY_SHOULD, WORDING_DANGER_WORDS, &values);
    } else if (danger) {
        wording_set(&values, WORDING_MACHINE, "");
        turn_say(turn, key == WORDING_DANGER ? WORDING_DANGER_UNNAMED : key, &values);
        turn_add(turn, REPLY_SHOULD, WORDING_DANGER_WORDS, &values);
    } else {
        ask_which(turn, &values);
    }
}

void trouble_name(struct turn *turn, struct question_row *row, int32_t machine)
{
    turn_enter(turn, CREW_TROUBLE, machine);
    (void)snprintf(turn->entry->remark, sizeof turn->entry->remark, "%s", row->remark);
    struct wording_values values = turn_values(turn, machine, -1);
    reply_plain(row->remark, strlen(row->remark), values.value[WORDING_WORDS], 61);
    question_close(turn, "answered");
    (void)troubles_name(turn->desk->ledger, row->text_id, turn_machine_id(turn, machine));
    turn->reported = true;
    turn_say(turn, told_key(turn, false, true), &values);
}

void trouble_remark(struct turn *turn)
{
    struct wording_values values = words_of(turn);
    (void)trouble_keep(turn, turn->machine, TROUBLE_REMARK, turn->entry->remark);
    turn_say(turn, turn->shop ? WORDING_REMARK_KEPT : WORDING_REMARK, &values);
}

void trouble_solved(struct turn *turn)
{
    struct wording_values values = words_of(turn);
    enum ledger_result result =
        troubles_solve(turn->desk->ledger, turn_machine_id(turn, turn->machine), turn->person_id,
                       turn->text_id, turn->entry->remark, turn->now_s);
    if (result == LEDGER_OK) {
        turn_say(turn, WORDING_SOLVED, &values);
    } else if (result == LEDGER_NONE) {
        turn_explain(turn, WORDING_SOLVED_ALREADY, &values);
    }
}
