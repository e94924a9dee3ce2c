/* SPDX-License-Identifier: MIT
 * What a text was understood as, on one line, so that a corpus can be read by people:
 *
 *   reading M12 1340 @days-ago:1 "belt squeaks"; status M7; service!no-such-plan M12 'oil'
 *   (courtesy)
 *
 * Kind, "!" and the obstacle if any, machine, figures, and what else is set, in a fixed order. */
#ifndef METERPOST_TESTS_CREW_TEXT_SHOW_H
#define METERPOST_TESTS_CREW_TEXT_SHOW_H

#include <stdio.h>
#include <string.h>

#include "parsers/crew_text.h"

struct shown {
    size_t length;
    char text[4096];
};

__attribute__((format(printf, 2, 3))) static inline void show(struct shown *shown,
                                                              const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int added = vsnprintf(shown->text + shown->length, sizeof shown->text - shown->length, format,
                          arguments);
    va_end(arguments);
    if (added > 0 && shown->length + (size_t)added < sizeof shown->text) {
        shown->length += (size_t)added;
    }
}

static inline void show_figure(struct shown *shown, const struct hours_figure *hours)
{
    char digits[HOURS_TEXT_OCTETS];
    if (!hours->present) {
        return;
    }
    (void)hours_write(hours->hundredths, digits, sizeof digits);
    show(shown, " %s", digits);
    if (hours->ambiguous) {
        (void)hours_write(hours->otherwise_hundredths, digits, sizeof digits);
        show(shown, "|%s", digits);
    }
}

static inline void show_when(struct shown *shown, const struct crew_when *when)
{
    switch (when->kind) {
    case CREW_WHEN_UNSAID:
        return;
    case CREW_WHEN_DAYS_AGO:
        show(shown, " @days-ago:%d", when->days_ago);
        break;
    case CREW_WHEN_WEEKDAY:
        show(shown, " @weekday:%d", when->weekday);
        break;
    case CREW_WHEN_DATE:
        show(shown, " @%d-%d-%d", when->year, when->month, when->day);
        break;
    case CREW_WHEN_DAY_OF_MONTH:
        show(shown, " @day:%d", when->day);
        break;
    case CREW_WHEN_AHEAD:
        break;
    }
    show(shown, "%s", when->ahead ? " @ahead" : "");
    if (when->minute_of_day >= 0) {
        show(shown, " %02d:%02d", when->minute_of_day / 60, when->minute_of_day % 60);
    }
}

static inline void show_slice(struct shown *shown, const char *text, struct crew_slice slice,
                              char mark)
{
    show(shown, " %c", mark);
    for (size_t i = 0; i < slice.length; i++) {
        char c = text[slice.start + i];
        show(shown, c == '\n' ? "\\n" : "%c", c);
    }
    show(shown, "%c", mark);
}

static inline void show_statement(struct shown *shown, const char *text,
                                  const struct crew_names *names,
                                  const struct crew_statement *statement)
{
    static const char *const kinds[] = {
        "reading", "status",  "service", "correct", "swap",  "later",  "park",
        "back",    "due",     "undo",    "yes",     "no",    "help",   "stop",
        "start",   "trouble", "remark",  "solved",  "book",  "in",     "out",
        "gone",    "checked", "figure",  "plan",    "which", "unknown"};
    static const char *const obstacles[] = {
        "none",        "no-such-machine", "which-machine", "two-figures", "glued", "asked",
        "figure-form", "no-figure",       "no-such-plan",  "no-unit",     "days",  "date",
        "denied",      "withdrawn",       "left",          "unclear"};
    static const char *const natures[] = {"", " interval", " worked", " address"};
    static const char *const sides[] = {"left", "right", "tank"};
    show(shown, "%s", kinds[statement->kind]);
    if (statement->obstacle != CREW_OBSTACLE_NONE) {
        show(shown, "!%s", obstacles[statement->obstacle]);
    }
    if (statement->machine >= 0) {
        show(shown, " %s", names->machines[statement->machine].name);
    }
    for (size_t i = 0; i < 4 && statement->candidates[i] >= 0; i++) {
        show(shown, "%s%s", i == 0 ? " " : "|", names->machines[statement->candidates[i]].name);
    }
    if (statement->not_machine >= 0) {
        show(shown, " not:%s", names->machines[statement->not_machine].name);
    }
    for (size_t i = 0; i < statement->plan_count && i < CREW_PLANS_MAX; i++) {
        show(shown, "%s%s", i == 0 ? " plan:" : "+", names->plans[statement->plans[i]]);
    }
    show(shown, "%s%s%s%s%s%s", statement->all_plans ? " all" : "",
         statement->same_as_last ? " same" : "", statement->new_meter ? " new-meter" : "",
         statement->of_own_last ? " own" : "", statement->service_words ? " words" : "",
         statement->danger ? " danger" : "");
    show_figure(shown, &statement->hours);
    if (statement->to_hours.present) {
        show(shown, " to");
        show_figure(shown, &statement->to_hours);
    }
    if (statement->days > 0) {
        show(shown, " days:%d", statement->days);
    }
    if (statement->quantity_thousandths > 0) {
        show(shown, " quantity:%lld%s", (long long)statement->quantity_thousandths,
             statement->quantity_unit != NULL ? statement->quantity_unit : "");
    }
    for (size_t i = 0; i < CREW_SIDES; i++) {
        if (statement->side_thousandths[i] > 0) {
            show(shown, " %s:%lld", sides[i], (long long)statement->side_thousandths[i]);
        }
    }
    show(shown, "%s", natures[statement->nature]);
    show_when(shown, &statement->when);
    if (statement->remark.length > 0) {
        show_slice(shown, text, statement->remark, '"');
    }
    if (statement->figure_then_word) {
        show(shown, " +word");
    }
    if (statement->done_follows) {
        show(shown, " +done");
    }
    if (statement->obstacle == CREW_OBSTACLE_NO_SUCH_MACHINE ||
        statement->obstacle == CREW_OBSTACLE_NO_SUCH_PLAN) {
        show_slice(shown, text, statement->words, '\'');
    }
}

static inline void show_text(struct shown *shown, const char *text, const struct crew_names *names,
                             const struct crew_text *read)
{
    static const char *const tones[] = {"", "(assent)", "(dissent)", "(courtesy)", "(ignore)"};
    *shown = (struct shown){0};
    show(shown, "%s%s", tones[read->tone], read->spelled ? " spelled" : "");
    if (read->assenting_reaction) {
        show(shown, " assenting");
    }
    if (read->quoted.length > 0) {
        show_slice(shown, text, read->quoted, '"');
    }
    if (read->leading_no) {
        show(shown, "leading-no; ");
    }
    for (size_t i = 0; i < read->statement_count; i++) {
        show(shown, i == 0 ? "" : "; ");
        show_statement(shown, text, names, &read->statements[i]);
    }
    if (read->more) {
        show(shown, "; more");
    }
    if (read->cut) {
        show(shown, "; cut");
    }
}

#endif
