/* SPDX-License-Identifier: MIT
 * settings_plans: the service plans: when a service comes due, what it takes and how it is done.
 * The defaults are the house's; first service, interval and kit are for the machine's manual to
 * say. */
#include <string.h>

#include "config/settings_reader.h"

#define COUNT(table) (sizeof(table) / sizeof((table)[0]))

#define HOURS_MOST INT64_C(99999999)      /* hundredths: what a meter can show */
#define QUANTITY_MOST INT64_C(1000000000) /* thousandths: a million */

static const struct settings_plan plan_defaults = {.name = "",
                                                   .title = NULL,
                                                   .plan = {.first_hundredths = 7500,
                                                            .every_hundredths = 50000,
                                                            .months = 12,
                                                            .count_from = PLAN_COUNT_LAST_SERVICE,
                                                            .notice_hundredths = 2500,
                                                            .notice_days = 14,
                                                            .grace_hundredths = 1000,
                                                            .grace_days = 14,
                                                            .remind_days = 3,
                                                            .recheck_after_hundredths = 500,
                                                            .minutes = 90}};

static const struct settings_kit_item item_defaults = {
    .item = "", .unit = SETTINGS_UNIT_PIECE, .sold_in_thousandths = 1000};

static const struct reader_word count_words[] = {{"last-service", PLAN_COUNT_LAST_SERVICE},
                                                 {"zero", PLAN_COUNT_ZERO}};

static const struct reader_word unit_words[] = {
    {"piece", SETTINGS_UNIT_PIECE},  {"pieces", SETTINGS_UNIT_PIECE},
    {"pc", SETTINGS_UNIT_PIECE},     {"pcs", SETTINGS_UNIT_PIECE},
    {"qt", SETTINGS_UNIT_QUART},     {"quart", SETTINGS_UNIT_QUART},
    {"quarts", SETTINGS_UNIT_QUART}, {"l", SETTINGS_UNIT_LITRE},
    {"litre", SETTINGS_UNIT_LITRE},  {"litres", SETTINGS_UNIT_LITRE},
    {"liter", SETTINGS_UNIT_LITRE},  {"liters", SETTINGS_UNIT_LITRE}};

#define PLAN(member) .offset = offsetof(struct settings_plan, member)
static const struct reader_rule plan_rules[] = {
    {"name", READER_SPOKEN, .required = true, PLAN(name), .least = 1,
     .most = SETTINGS_NAME_OCTETS - 1},
    {"title", READER_SPOKEN, PLAN(title), .least = 1, .most = SETTINGS_TITLE_OCTETS - 1},
    {"first", READER_HUNDREDTHS, PLAN(plan.first_hundredths), .least = 1, .most = HOURS_MOST,
     .unit = "hours"},
    {"every", READER_HUNDREDTHS, PLAN(plan.every_hundredths), .least = 1, .most = HOURS_MOST,
     .unit = "hours"},
    {"months", READER_WHOLE, PLAN(plan.months), .least = 0, .most = 240,
     .unit = "months (0: no limit by calendar)"},
    {"count_from", READER_WORD, PLAN(plan.count_from), .words = count_words,
     .word_count = COUNT(count_words)},
    {"notice", READER_HUNDREDTHS, PLAN(plan.notice_hundredths), .least = 0, .most = HOURS_MOST,
     .unit = "hours"},
    {"notice_days", READER_WHOLE, PLAN(plan.notice_days), .least = 0, .most = 3660, .unit = "days"},
    {"grace", READER_HUNDREDTHS, PLAN(plan.grace_hundredths), .least = 0, .most = HOURS_MOST,
     .unit = "hours"},
    {"grace_days", READER_WHOLE, PLAN(plan.grace_days), .least = 0, .most = 3660, .unit = "days"},
    {"remind_days", READER_WHOLE, PLAN(plan.remind_days), .least = 0, .most = 366,
     .unit = "days (0: no reminders)"},
    {"recheck_after", READER_HUNDREDTHS, PLAN(plan.recheck_after_hundredths), .least = 0,
     .most = HOURS_MOST, .unit = "hours (0: no recheck)"},
    {"minutes", READER_WHOLE, PLAN(plan.minutes), .least = 0, .most = 14400, .unit = "minutes"},
    {.name = "kit", .value = READER_BY_HAND},
    {.name = "steps", .value = READER_BY_HAND},
    {.name = "cautions", .value = READER_BY_HAND}};

#define ITEM(member) .offset = offsetof(struct settings_kit_item, member)
static const struct reader_rule item_rules[] = {
    {"item", READER_TEXT, .required = true, ITEM(item), .least = 1,
     .most = SETTINGS_TITLE_OCTETS - 1},
    {"quantity", READER_THOUSANDTHS, .required = true, ITEM(quantity_thousandths), .least = 1,
     .most = QUANTITY_MOST},
    {"unit", READER_WORD, ITEM(unit), .words = unit_words, .word_count = COUNT(unit_words)},
    {"sold_in", READER_THOUSANDTHS, ITEM(sold_in_thousandths), .least = 1, .most = QUANTITY_MOST}};

static void read_item(struct reader *reader, const config_setting_t *group, int index, void *into)
{
    struct reader_owner owner = reader_owner_of("kit item", group, index);
    reader_group(reader, &owner, group, item_rules, COUNT(item_rules), into);
}

static const struct reader_list kit_form = {
    .name = "kit",
    .shown = "kit = ( { item = \"...\"; quantity = 1.0; unit = \"qt\"; } )",
    .size = sizeof(struct settings_kit_item),
    .defaults = &item_defaults,
    .read = read_item};

static void read_kit(struct reader *reader, const struct reader_owner *owner,
                     const config_setting_t *group, struct settings_plan *plan)
{
    size_t count = 0;
    const struct settings_kit_item *items = reader_list(reader, owner, group, &kit_form, &count);
    if (count > SETTINGS_KIT_MAX) {
        reader_mistake(reader, owner, config_setting_get_member(group, "kit"),
                       "kit has %zu items; at most %d are expected", count, SETTINGS_KIT_MAX);
        return;
    }
    for (size_t i = 0; i < count; i++) {
        plan->kit[plan->kit_count++] = items[i];
    }
}

static int64_t lesser(int64_t one, int64_t other)
{
    return one < other ? one : other;
}

/* The defaults of first and notice give way to a short interval. */
static void fit_defaults(const config_setting_t *group, struct plan *plan)
{
    if (config_setting_get_member(group, "first") == NULL) {
        plan->first_hundredths = lesser(plan->first_hundredths, plan->every_hundredths);
    }
    if (config_setting_get_member(group, "notice") == NULL) {
        plan->notice_hundredths = lesser(plan->notice_hundredths, plan->every_hundredths / 4);
    }
}

/* What each figure allows but the figures together do not. */
static void check_plan(struct reader *reader, const struct reader_owner *owner,
                       const config_setting_t *group, const struct plan *plan)
{
    if (plan->first_hundredths > plan->every_hundredths) {
        reader_mistake(reader, owner, settings_noun_member(group, "first"),
                       "first (%s) is above every (%s); the first service is expected no later "
                       "than the interval of the others",
                       settings_figure(plan->first_hundredths, 2).text,
                       settings_figure(plan->every_hundredths, 2).text);
    }
    if (plan->notice_hundredths > plan->every_hundredths) {
        reader_mistake(reader, owner, settings_noun_member(group, "notice"),
                       "notice (%s) is longer than the interval every (%s); a shorter notice "
                       "is expected",
                       settings_figure(plan->notice_hundredths, 2).text,
                       settings_figure(plan->every_hundredths, 2).text);
    }
    if (plan->months > 0 && plan->notice_days > plan->months * 28) {
        reader_mistake(
            reader, owner, settings_noun_member(group, "notice_days"),
            "notice_days (%d) is longer than the interval of %d months; a shorter notice "
            "is expected",
            plan->notice_days, plan->months);
    }
}

static void read_plan(struct reader *reader, const config_setting_t *group, int index, void *into)
{
    struct settings_plan *plan = into;
    struct reader_owner owner = reader_owner_of("plan", group, index);
    if (reader_group(reader, &owner, group, plan_rules, COUNT(plan_rules), plan)) {
        fit_defaults(group, &plan->plan);
        check_plan(reader, &owner, group, &plan->plan);
    }
    plan->title = plan->title != NULL ? plan->title : plan->name;
    read_kit(reader, &owner, group, plan);
    plan->step_count = reader_texts(reader, &owner, group, "steps", plan->steps, SETTINGS_LINES_MAX,
                                    SETTINGS_LINE_OCTETS - 1);
    plan->caution_count = reader_texts(reader, &owner, group, "cautions", plan->cautions,
                                       SETTINGS_LINES_MAX, SETTINGS_LINE_OCTETS - 1);
}

static const struct reader_list plans_form = {
    .name = "plans",
    .shown = "plans: ( { name = \"drive\"; every = 500.0; } );",
    .size = sizeof(struct settings_plan),
    .defaults = &plan_defaults,
    .read = read_plan};

/* A file without plans has one, all defaults. */
static void take_default(struct reader *reader)
{
    struct settings *settings = reader->settings;
    settings->plans = reader_room(reader, 1, sizeof *settings->plans);
    if (settings->plans != NULL) {
        settings->plans[0] = plan_defaults;
        settings->plans[0].name = "drive";
        settings->plans[0].title = "Drive oil and filters";
        settings->plan_count = 1;
    }
}

void settings_read_plans(struct reader *reader, const config_setting_t *root)
{
    static const struct reader_owner file_owner = {""};
    struct settings *settings = reader->settings;
    if (config_setting_get_member(root, "plans") == NULL) {
        take_default(reader);
    } else {
        settings->plans =
            reader_list(reader, &file_owner, root, &plans_form, &settings->plan_count);
    }
}
