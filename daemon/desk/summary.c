/* SPDX-License-Identifier: MIT
 * summary: on the first workday of a week what came in and what stands, site by site, one text in
 * place of many, which proves too that the box is alive; on other workdays only where something needs
 * to be known. */
#include "daemon/desk/notices.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/telling.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/troubles.h"
#include "daemon/upkeep/civil.h"
#include "daemon/yard/bay.h"

#define MARK_SUMMARY "summary"
#define TROUBLE_SHOWN 81 /* octets of it, with NUL */

struct summary {
    const struct round *round;
    bool tells; /* something, or that all is well */
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

struct page {
    struct draft draft;
    const struct summary *summary;
    int32_t today;
    bool listing; /* a site's list is not ended yet */
    int64_t left_out;
    const struct yard_standing *rows; /* which of these are named, a bit each: */
    size_t row_count;
    uint64_t named;
};

/* Takes what was added back where it makes the text too long: then it is counted. */
static bool page_holds(struct page *page, size_t before)
{
    if (page->left_out == 0 && draft_holds(&page->draft, before)) {
        return true;
    }
    page->draft.body[before] = '\0';
    page->left_out++;
    return false;
}

/* What is open on a machine. */
static void add_trouble(void *ctx, const struct trouble_row *row)
{
    struct page *page = ctx;
    struct draft *draft = &page->draft;
    const struct settings *settings = draft->desk->settings;
    struct wording_values values = {0};
    char name[PEOPLE_NAME_OCTETS];
    size_t before = strlen(draft->body);
    int32_t machine = desk_machine(draft->desk, row->machine_id);
    if (!hears(settings, draft->person, machine)) {
        return;
    }
    if (machine >= 0) {
        wording_set(&values, WORDING_MACHINE, settings->machines[machine].name);
    }
    if (people_name(draft->desk->ledger, row->person_id, name) == LEDGER_OK) {
        wording_set(&values, WORDING_PERSON, name);
    }
    reply_plain(row->words, strlen(row->words), values.value[WORDING_WORDS], TROUBLE_SHOWN);
    draft_add(draft, WORDING_SUMMARY_TROUBLE, &values);
    (void)page_holds(page, before);
}

/* ---- the machines, site by site */

static const char *site_of(const struct page *page, const struct yard_standing *row)
{
    return page->draft.desk->settings->machines[row->machine].site;
}

/* Whether the row is one to name: something of it has to be done, or nobody says how it stands. */
static bool is_named(const struct page *page, const struct yard_standing *row)
{
    return (due_stage_row(row->stage)->needs_doing || row->wanted) &&
           hears(page->draft.desk->settings, page->draft.person, row->machine);
}

/* Whether the list of that row's site was begun by an earlier one. */
static bool is_begun(const struct page *page, size_t at)
{
    const struct yard_standing *rows = page->summary->round->standings;
    for (size_t i = 0; i < at; i++) {
        if (is_named(page, &rows[i]) &&
            strcmp(site_of(page, &rows[i]), site_of(page, &rows[at])) == 0) {
            return true;
        }
    }
    return false;
}

/* One machine's item behind what is there; `first` of its site's. */
static bool add_item(struct page *page, const struct yard_standing *row, bool first)
{
    struct draft *draft = &page->draft;
    const char *site = first ? site_of(page, row) : "";
    const char *joint = !first ? ", " : page->listing ? ". " : " ";
    size_t before = strlen(draft->body);
    char item[WORDING_SENTENCE_OCTETS];
    standing_item(draft->desk, row, draft->wording, page->today, true, item);
    (void)snprintf(draft->body + before, sizeof draft->body - before, "%s%s%s%s", joint, site,
                   site[0] != '\0' ? ": " : "", item);
    bool holds = page_holds(page, before);
    page->listing |= holds;
    for (size_t i = 0; holds && i < page->row_count; i++) {
        bool same = page->rows[i].machine == row->machine && page->rows[i].plan == row->plan;
        page->named |= (uint64_t)same << i;
    }
    return holds;
}

/* Each machine and plan that is to be named, worst first, those of a site together. */
static void add_machines(struct page *page)
{
    const struct round *round = page->summary->round;
    for (size_t i = 0; i < round->count; i++) {
        bool first = true;
        for (size_t k = i; !is_begun(page, i) && k < round->count; k++) {
            const struct yard_standing *row = &round->standings[k];
            if (is_named(page, row) &&
                strcmp(site_of(page, row), site_of(page, &round->standings[i])) == 0) {
                first = !add_item(page, row, first) && first;
            }
        }
    }
    if (page->listing) {
        size_t length = strlen(page->draft.body);
        (void)snprintf(page->draft.body + length, sizeof page->draft.body - length, ".");
    }
}

/* All that the summary says to the person. */
static void write_page(struct page *page)
{
    const struct summary *summary = page->summary;
    const struct round *round = summary->round;
    struct draft *draft = &page->draft;
    struct wording_values values = {0};
    int due = 0;
    int coming = 0;
    for (size_t i = 0; i < round->count; i++) {
        const struct yard_standing *row = &round->standings[i];
        bool told = hears(draft->desk->settings, draft->person, row->machine);
        coming += told && row->stage == DUE_STAGE_COMING_UP;
        due += told && due_stage_row(row->stage)->needs_doing;
    }
    wording_set(&values, WORDING_SHOP, draft->desk->settings->shop.name);
    wording_set_number(&values, WORDING_COUNT, summary->texts);
    wording_set_number(&values, WORDING_COUNT_DUE, due);
    wording_set_number(&values, WORDING_COUNT_COMING, coming);
    draft_add(draft, summary->weekly ? WORDING_SUMMARY : WORDING_TELL_HEAD, &values);
    draft_count(draft, WORDING_SUMMARY_STRANGERS, summary->strangers);
    draft_count(draft, WORDING_SUMMARY_SET_ASIDE, summary->set_aside);
    if (summary->weekly) {
        add_machines(page);
        (void)troubles_open(draft->desk->ledger, 0, add_trouble, page);
    }
    draft_count(draft, WORDING_TELL_MORE, page->left_out);
}

static struct page page_to(const struct summary *summary, int32_t person)
{
    return (struct page){.draft = draft_to(summary->round->desk, person),
                         .summary = summary,
                         .today = zone_civil(summary->round->now_s).day};
}

static void send_one(void *ctx, int32_t person)
{
    const struct summary *summary = ctx;
    struct page page = page_to(summary, person);
    write_page(&page);
    (void)draft_send(&page.draft, TEXTS_SUMMARY, summary->round->now_s);
}

/* What came in since the last one. The first one has no time yet to tell of. */
static struct summary look_back(const struct round *round, bool *first)
{
    struct summary summary = {.round = round};
    struct desk *desk = round->desk;
    int64_t since_s = 0;
    *first = marks_get(desk->ledger, MARK_SUMMARY, &since_s) == LEDGER_NONE;
    (void)texts_each(desk->ledger, since_s, round->now_s, count_text, &summary);
    (void)texts_strangers_since(desk->ledger, since_s, &summary.strangers);
    summary.weekly = begins_week(&desk->settings->shop, zone_civil(round->now_s).day);
    summary.tells = !*first && (summary.weekly || summary.strangers > 0 || summary.set_aside > 0);
    return summary;
}

void summary_send(const struct round *round)
{
    bool first = false;
    struct summary summary = look_back(round, &first);
    if (summary.tells) {
        reachable_each(round->desk, -1, send_one, &summary);
    }
    if (summary.tells || first) {
        (void)marks_set(round->desk->ledger, MARK_SUMMARY, round->now_s);
    }
}

uint64_t summary_names(const struct round *round, int32_t person, const struct yard_standing *rows,
                       size_t count)
{
    bool first = false;
    if (!round->daily || !begins_week(&round->desk->settings->shop, zone_civil(round->now_s).day)) {
        return 0; /* on other days it names none */
    }
    struct summary summary = look_back(round, &first);
    struct page page = page_to(&summary, person);
    page.rows = rows;
    page.row_count = count;
    if (summary.tells) {
        write_page(&page);
    }
    return page.named;
}
