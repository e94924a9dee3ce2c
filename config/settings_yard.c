/* SPDX-License-Identifier: MIT
 * settings_yard: kinds of machine, the people, and the machines: the roster. */
#include <string.h>

#include "config/settings_reader.h"
#include "parsers/nearest.h"

#define COUNT(table) (sizeof(table) / sizeof((table)[0]))

#define HOURS_MOST INT64_C(99999999) /* hundredths: what a meter can show */

static const struct settings_kind kind_defaults = {.name = "",
                                                   .week_hundredths = 3000,
                                                   .most_day_hundredths = 2400,
                                                   .meter_limit_hundredths = 999990};
static const struct settings_person person_defaults = {
    .name = "", .phone = "", .role = SETTINGS_ROLE_CREW, .language = "en"};
static const struct settings_machine machine_defaults = {
    .name = "", .owner = "", .site = "", .serial = ""};

static const struct reader_word role_words[] = {{"crew", SETTINGS_ROLE_CREW},
                                                {"shop", SETTINGS_ROLE_SHOP}};
static const struct reader_word language_words[] = {{"en", 0}, {"es", 1}};

#define KIND(member) .offset = offsetof(struct settings_kind, member)
static const struct reader_rule kind_rules[] = {
    {"name", READER_SPOKEN, .required = true, KIND(name), .least = 1,
     .most = SETTINGS_NAME_OCTETS - 1},
    {.name = "plans", .value = READER_BY_HAND},
    {"hours_per_week", READER_HUNDREDTHS, KIND(week_hundredths), .least = 1, .most = 16800,
     .unit = "hours"},
    {"most_hours_per_day", READER_HUNDREDTHS, KIND(most_day_hundredths), .least = 1, .most = 2400,
     .unit = "hours"},
    {"meter_limit", READER_HUNDREDTHS, KIND(meter_limit_hundredths), .least = 10000,
     .most = HOURS_MOST, .unit = "hours"}};

#define PERSON(member) .offset = offsetof(struct settings_person, member)
static const struct reader_rule person_rules[] = {
    {"name", READER_SPOKEN, .required = true, PERSON(name), .least = 1,
     .most = SETTINGS_NAME_OCTETS - 1},
    {"phone", READER_PHONE, .required = true, PERSON(phone), .least = 1},
    {"role", READER_WORD, PERSON(role), .words = role_words, .word_count = COUNT(role_words)},
    {"language", READER_CHOICE, PERSON(language), .words = language_words,
     .word_count = COUNT(language_words)}};

#define MACHINE(member) .offset = offsetof(struct settings_machine, member)
static const struct reader_rule machine_rules[] = {
    {"name", READER_SPOKEN, .required = true, MACHINE(name), .least = 1,
     .most = SETTINGS_NAME_OCTETS - 1},
    {.name = "kind", .value = READER_BY_HAND},
    {.name = "crew", .value = READER_BY_HAND},
    {"owner", READER_SPOKEN, MACHINE(owner), .most = SETTINGS_TITLE_OCTETS - 1},
    {"site", READER_SPOKEN, MACHINE(site), .most = SETTINGS_TITLE_OCTETS - 1},
    {"serial", READER_TEXT, MACHINE(serial), .most = SETTINGS_TITLE_OCTETS - 1},
    {"started", READER_HUNDREDTHS, MACHINE(started_hundredths), .least = 0, .most = HOURS_MOST,
     .unit = "hours"},
    {.name = "last_done", .value = READER_BY_HAND}};

struct seed {
    int64_t hundredths;
    int32_t day;
};
#define SEED(member) .offset = offsetof(struct seed, member)
static const struct reader_rule seed_rules[] = {{"hours", READER_HUNDREDTHS, .required = true,
                                                 SEED(hundredths), .least = 0, .most = HOURS_MOST,
                                                 .unit = "hours"},
                                                {"on", READER_DAY, SEED(day)}};

static const struct reader_owner file_owner = {""};

/* A kind that names no plans has all of them, unless they are too many. */
static void take_all_plans(struct reader *reader, const struct reader_owner *owner,
                           const config_setting_t *at, struct settings_kind *kind)
{
    const struct settings *settings = reader->settings;
    if (settings->plan_count > SETTINGS_PLANS_MAX) {
        reader_mistake(
            reader, owner, at,
            "plans is missing, and the file has %zu; the names of at most %d are expected",
            settings->plan_count, SETTINGS_PLANS_MAX);
        return;
    }
    for (size_t i = 0; i < settings->plan_count; i++) {
        kind->plans[kind->plan_count++] = i;
    }
}

static void read_kind(struct reader *reader, const config_setting_t *group, int index, void *into)
{
    struct settings_kind *kind = into;
    struct reader_owner owner = reader_owner_of("kind", group, index);
    bool well = reader_group(reader, &owner, group, kind_rules, COUNT(kind_rules), kind);
    if (well && kind->week_hundredths > kind->most_day_hundredths * 7) {
        reader_mistake(reader, &owner, group,
                       "hours_per_week (%s) is above seven times most_hours_per_day (%s); "
                       "fewer hours a week are expected",
                       settings_figure(kind->week_hundredths, 2).text,
                       settings_figure(kind->most_day_hundredths, 2).text);
    }
    if (config_setting_get_member(group, "plans") == NULL) {
        take_all_plans(reader, &owner, group, kind);
    } else if (reader->settings->plans != NULL) {
        kind->plan_count = reader_references(reader, &owner, group, "plans", &settings_noun_plan,
                                             kind->plans, SETTINGS_PLANS_MAX);
    }
}

static const struct reader_list kinds_form = {
    .name = "kinds",
    .shown = "kinds: ( { name = \"...\"; plans = (\"...\"); } );",
    .size = sizeof(struct settings_kind),
    .defaults = &kind_defaults,
    .read = read_kind};

/* A file without kinds has one, all defaults. */
static void take_default_kind(struct reader *reader, const config_setting_t *root)
{
    static const struct reader_owner owner = {"kinds"};
    struct settings *settings = reader->settings;
    settings->kinds = reader_room(reader, 1, sizeof *settings->kinds);
    if (settings->kinds != NULL) {
        settings->kinds[0] = kind_defaults;
        settings->kinds[0].name = "mower";
        take_all_plans(reader, &owner, root, &settings->kinds[0]);
        settings->kind_count = 1;
    }
}

void settings_read_kinds(struct reader *reader, const config_setting_t *root)
{
    struct settings *settings = reader->settings;
    if (config_setting_get_member(root, "kinds") == NULL) {
        take_default_kind(reader, root);
    } else {
        settings->kinds =
            reader_list(reader, &file_owner, root, &kinds_form, &settings->kind_count);
    }
}

static void read_person(struct reader *reader, const config_setting_t *group, int index, void *into)
{
    struct reader_owner owner = reader_owner_of("person", group, index);
    reader_group(reader, &owner, group, person_rules, COUNT(person_rules), into);
}

static const struct reader_list people_form = {
    .name = "people",
    .shown = "people: ( { name = \"...\"; phone = \"...\"; role = \"crew\"; } );",
    .size = sizeof(struct settings_person),
    .defaults = &person_defaults,
    .read = read_person};

/* The roster has no default. */
static void require_list(struct reader *reader, const config_setting_t *root, const char *name,
                         const char *shown)
{
    const config_setting_t *list = config_setting_get_member(root, name);
    if (list == NULL) {
        settings_mistakes_add(reader->mistakes, reader->file, 1,
                              "%s is missing, and has no default; %s is expected", name, shown);
    } else if (config_setting_length(list) == 0) {
        reader_mistake(reader, &file_owner, list, "%s is empty; %s is expected", name, shown);
    }
}

void settings_read_people(struct reader *reader, const config_setting_t *root)
{
    struct settings *settings = reader->settings;
    require_list(reader, root, "people", people_form.shown);
    settings->people =
        reader_list(reader, &file_owner, root, &people_form, &settings->person_count);
}

/* By name, or the only one there is; 0 where that is named as a mistake. */
static size_t read_machine_kind(struct reader *reader, const struct reader_owner *owner,
                                const config_setting_t *group)
{
    const config_setting_t *setting = config_setting_get_member(group, "kind");
    if (reader->settings->kinds == NULL) {
        return 0;
    }
    if (setting != NULL) {
        int32_t kind = reader_refer(reader, owner, setting, "kind", &settings_noun_kind);
        return kind >= 0 ? (size_t)kind : SIZE_MAX;
    }
    if (reader->settings->kind_count != 1) {
        reader_mistake(reader, owner, group,
                       "kind is missing; one of the kinds in this file is expected");
        return SIZE_MAX;
    }
    return 0;
}

/* One entry of last_done: `drive = 575.0`, or `drive = { hours = 575.0; on = "2026-03-14"; }`. */
static void read_seed(struct reader *reader, const struct reader_owner *owner,
                      const config_setting_t *setting, struct settings_last_done *done)
{
    const char *name = config_setting_name(setting);
    struct seed seed = {0, 0};
    if (config_setting_is_group(setting)) {
        reader_group(reader, owner, setting, seed_rules, COUNT(seed_rules), &seed);
        done->day_known = config_setting_get_member(setting, "on") != NULL;
    } else {
        reader_value(reader, owner, setting, name, &seed_rules[0], &seed);
    }
    done->present = true;
    done->hundredths = seed.hundredths;
    done->day = seed.day;
}

/* The place of a plan in the kind, -1 where the kind does not have it. */
static int32_t place_of_plan(const struct settings_kind *kind, int32_t plan)
{
    for (size_t i = 0; i < kind->plan_count; i++) {
        if (kind->plans[i] == (size_t)plan) {
            return (int32_t)i;
        }
    }
    return -1;
}

static void name_foreign_plan(struct reader *reader, const struct reader_owner *owner,
                              const config_setting_t *setting, const struct settings_kind *kind)
{
    struct nearest nearest;
    nearest_begin(&nearest, config_setting_name(setting));
    for (size_t i = 0; i < kind->plan_count; i++) {
        nearest_offer(&nearest, reader->settings->plans[kind->plans[i]].name);
    }
    if (nearest.name != NULL) {
        reader_mistake(reader, owner, setting,
                       "kind \"%s\" has no plan called \"%s\"; did you mean \"%s\"?", kind->name,
                       nearest.word, nearest.name);
    } else {
        reader_mistake(reader, owner, setting,
                       "kind \"%s\" has no plan called \"%s\"; one of its own plans is expected",
                       kind->name, nearest.word);
    }
}

static void read_last_done(struct reader *reader, const struct reader_owner *owner,
                           const config_setting_t *group, struct settings_machine *machine)
{
    const struct settings *settings = reader->settings;
    const struct settings_kind *kind = &settings->kinds[machine->kind];
    const config_setting_t *member =
        reader_member_group(reader, owner, group, "last_done", "last_done = { drive = 575.0; }");
    for (int i = 0; member != NULL && i < config_setting_length(member); i++) {
        const config_setting_t *setting = config_setting_get_elem(member, (unsigned)i);
        int32_t plan = settings_find_plan(settings, config_setting_name(setting));
        int32_t place = plan >= 0 ? place_of_plan(kind, plan) : -1;
        if (place >= 0) {
            read_seed(reader, owner, setting, &machine->last_done[place]);
        } else {
            name_foreign_plan(reader, owner, setting, kind);
        }
    }
}

static void read_machine(struct reader *reader, const config_setting_t *group, int index,
                         void *into)
{
    struct settings_machine *machine = into;
    struct reader_owner owner = reader_owner_of("machine", group, index);
    reader_group(reader, &owner, group, machine_rules, COUNT(machine_rules), machine);
    if (reader->settings->people != NULL) {
        machine->crew_count = reader_references(
            reader, &owner, group, "crew", &settings_noun_person, machine->crew, SETTINGS_CREW_MAX);
    }
    size_t kind = read_machine_kind(reader, &owner, group);
    if (kind < reader->settings->kind_count && reader->settings->plans != NULL) {
        machine->kind = kind;
        read_last_done(reader, &owner, group, machine);
    }
}

static const struct reader_list machines_form = {
    .name = "machines",
    .shown = "machines: ( { name = \"M12\"; kind = \"...\"; crew = (\"...\"); } );",
    .size = sizeof(struct settings_machine),
    .defaults = &machine_defaults,
    .read = read_machine};

void settings_read_machines(struct reader *reader, const config_setting_t *root)
{
    struct settings *settings = reader->settings;
    require_list(reader, root, "machines", machines_form.shown);
    settings->machines =
        reader_list(reader, &file_owner, root, &machines_form, &settings->machine_count);
}
