/* SPDX-License-Identifier: MIT
 * summary: on the first workday of a week what came in and what stands, site by site, one text in
 * place of many, which proves too that the box is alive; on other workdays only where something needs
 * to be known. */
#include "daemon/desk/notices.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/post.h"
#include "daemon/desk/trouble.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"
#include "daemon/upkeep/civil.h"
#include "daemon/yard/bay.h"

#define MARK_SUMMARY "summary"
#define SEGMENTS_MOST 3
#define TROUBLE_SHOWN 81 /* octets of it, with NUL */

struct summary {
    const struct round *round;
    bool weekly;
    int texts, strangers, set_aside;
};

static void count_text(void *ctx, const struct texts_line *line)
{
    struct summary *summary = ctx;
    if (line->incoming) {
        summary->texts++;
        summary->set_aside += strcmp(line->state, texts_state_word(TEXTS_SET_ASIDE)) == 0 ||
                              strcmp(line->state, texts_state_word(TEXTS_UNREADABLE)) == 0;
    }
}

/* The week's first workday. */
static bool begins_week(const struct settings_shop *shop, int32_t day)
{
    for (int32_t before = day - civil_weekday(day); before < day; before++) {
        if (bay_open_on(shop, before)) {
            return false;
        }
    }
    return true;
}

/* ---- a text in the making */

struct draft {
    const struct summary *summary;
    int32_t person;
    const struct wording *wording;
    int32_t today;
    char body[TEXTS_REPLY_OCTETS];
    bool listing; /* a site's list is not ended yet */
    int64_t left_out;
};

static void draft_add(struct draft *draft, enum wording_key key,
                      const struct wording_values *values)
{
    wording_append(draft->wording, key, values, draft->body, sizeof draft->body);
}

/* A sentence about so many, where there are any. */
static void draft_count(struct draft *draft, enum wording_key key, int64_t count)
{
    struct wording_values values = {0};
    wording_set_number(&values, WORDING_COUNT, count);
    if (count > 0) {
        draft_add(draft, key, &values);
    }
}

/* Takes what was added back where it makes the text too long: then it is counted. */
static bool draft_fits(struct draft *draft, size_t before)
{
    if (draft->left_out == 0 && reply_segments(draft->body) <= SEGMENTS_MOST) {
        return true;
    }
    draft->body[before] = '\0';
    draft->left_out++;
    return false;
}

/* What is open on a machine. */
static void draft_trouble(void *ctx, const struct trouble_row *row)
{
    struct draft *draft = ctx;
    struct desk *desk = draft->summary->round->desk;
    struct wording_values values = {0};
    char name[PEOPLE_NAME_OCTETS];
    size_t before = strlen(draft->body);
    int32_t machine = desk_machine(desk, row->machine_id);
    if (!hears(desk->settings, draft->person, machine)) {
        return;
    }
    if (machine >= 0) {
        wording_set(&values, WORDING_MACHINE, desk->settings->machines[machine].name);
    }
    if (people_name(desk->ledger, row->person_id, name) == LEDGER_OK) {
        wording_set(&values, WORDING_PERSON, name);
    }
    reply_plain(row->words, strlen(row->words), values.value[WORDING_WORDS], TROUBLE_SHOWN);
    draft_add(draft, WORDING_SUMMARY_TROUBLE, &values);
    (void)draft_fits(draft, before);
}

/* ---- the machines, site by site */

/* Whether the row is one to name: something of it has to be done, or nobody says how it stands. */
static bool is_named(const struct draft *draft, const struct yard_standing *row)
{
    return (due_stage_row(row->stage)->needs_doing || row->wanted) &&
           hears(draft->summary->round->desk->settings, draft->person, row->machine);
}

/* Whether the list of that row's site was begun by an earlier one. */
static bool is_begun(const struct draft *draft, size_t at)
{
    const struct round *round = draft->summary->round;
    const struct settings_machine *machines = round->desk->settings->machines;
    for (size_t i = 0; i < at; i++) {
        if (is_named(draft, &round->standings[i]) &&
            strcmp(machines[round->standings[i].machine].site,
                   machines[round->standings[at].machine].site) == 0) {
            return true;
        }
    }
    return false;
}

/* One machine's item behind what is there; `first` of its site's. */
static bool draft_item(struct draft *draft, const struct yard_standing *row, bool first)
{
    const struct desk *desk = draft->summary->round->desk;
    const char *site = first ? desk->settings->machines[row->machine].site : "";
    const char *joint = !first ? ", " : draft->listing ? ". " : " ";
    size_t before = strlen(draft->body);
    char item[WORDING_SENTENCE_OCTETS];
    standing_item(desk, row, draft->wording, draft->today, true, item);
    (void)snprintf(draft->body + before, sizeof draft->body - before, "%s%s%s%s", joint, site,
                   site[0] != '\0' ? ": " : "", item);
    bool fits = draft_fits(draft, before);
    draft->listing |= fits;
    return fits;
}

/* Each machine and plan that is to be named, worst first, those of a site together. */
static void draft_machines(struct draft *draft)
{
    const struct round *round = draft->summary->round;
    const struct settings_machine *machines = round->desk->settings->machines;
    for (size_t i = 0; i < round->count; i++) {
        const char *site = machines[round->standings[i].machine].site;
        bool first = true;
        for (size_t k = i; !is_begun(draft, i) && k < round->count; k++) {
            const struct yard_standing *row = &round->standings[k];
            if (is_named(draft, row) && strcmp(machines[row->machine].site, site) == 0) {
                first = !draft_item(draft, row, first) && first;
            }
        }
    }
    if (draft->listing) {
        size_t length = strlen(draft->body);
        (void)snprintf(draft->body + length, sizeof draft->body - length, ".");
    }
}

static void send_one(void *ctx, int32_t person)
{
    const struct summary *summary = ctx;
    const struct round *round = summary->round;
    const struct settings *settings = round->desk->settings;
    struct draft draft = {.summary = summary,
                          .person = person,
                          .wording = wording_of(settings->people[person].language),
                          .today = zone_civil(round->now_s).day};
    struct wording_values values = {0};
    int due = 0;
    int coming = 0;
    for (size_t i = 0; i < round->count; i++) {
        const struct yard_standing *row = &round->standings[i];
        bool told = hears(settings, person, row->machine);
        coming += told && row->stage == DUE_STAGE_COMING_UP;
        due += told && due_stage_row(row->stage)->needs_doing;
    }
    wording_set(&values, WORDING_SHOP, settings->shop.name);
    wording_set_number(&values, WORDING_COUNT, summary->texts);
    wording_set_number(&values, WORDING_COUNT_DUE, due);
    wording_set_number(&values, WORDING_COUNT_COMING, coming);
    (void)wording_write(draft.wording, summary->weekly ? WORDING_SUMMARY : WORDING_TELL_HEAD,
                        &values, draft.body, sizeof draft.body);
    draft_count(&draft, WORDING_SUMMARY_STRANGERS, summary->strangers);
    draft_count(&draft, WORDING_SUMMARY_SET_ASIDE, summary->set_aside);
    if (summary->weekly) {
        draft_machines(&draft);
        (void)troubles_open(round->desk->ledger, 0, draft_trouble, &draft);
    }
    draft_count(&draft, WORDING_TELL_MORE, draft.left_out);
    struct post_order order = {.person = person,
                               .kind = TEXTS_SUMMARY,
                               .body = draft.body,
                               .now_s = round->now_s,
                               .shop_hours = true};
    (void)post_queue(round->desk, &order);
}

void notices_summary(const struct round *round)
{
    struct summary summary = {.round = round};
    struct desk *desk = round->desk;
    int64_t since_s = 0;
    bool first = marks_get(desk->ledger, MARK_SUMMARY, &since_s) == LEDGER_NONE;
    (void)texts_each(desk->ledger, since_s, round->now_s, count_text, &summary);
    (void)texts_strangers_since(desk->ledger, since_s, &summary.strangers);
    summary.weekly = begins_week(&desk->settings->shop, zone_civil(round->now_s).day);
    bool tells = summary.weekly || summary.strangers > 0 || summary.set_aside > 0;
    if (tells && !first) { /* the first one has no time yet to tell of */
        reachable_each(desk, -1, send_one, &summary);
    }
    if (tells || first) {
        (void)marks_set(desk->ledger, MARK_SUMMARY, round->now_s);
    }
}
