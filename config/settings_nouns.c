/* SPDX-License-Identifier: MIT
 * settings_nouns: one face for the four lists of named things. */
#include "config/settings_nouns.h"

static size_t count_machines(const struct settings *settings)
{
    return settings->machine_count;
}
static const char *name_machine(const struct settings *settings, size_t index)
{
    return settings->machines[index].name;
}
static size_t count_plans(const struct settings *settings)
{
    return settings->plan_count;
}
static const char *name_plan(const struct settings *settings, size_t index)
{
    return settings->plans[index].name;
}
static size_t count_kinds(const struct settings *settings)
{
    return settings->kind_count;
}
static const char *name_kind(const struct settings *settings, size_t index)
{
    return settings->kinds[index].name;
}
static size_t count_people(const struct settings *settings)
{
    return settings->person_count;
}
static const char *name_person(const struct settings *settings, size_t index)
{
    return settings->people[index].name;
}

const struct settings_noun settings_noun_machine = {"machines", "machine", count_machines,
                                                    name_machine, settings_find_machine};
const struct settings_noun settings_noun_plan = {"plans", "plan", count_plans, name_plan,
                                                 settings_find_plan};
const struct settings_noun settings_noun_kind = {"kinds", "kind", count_kinds, name_kind,
                                                 settings_find_kind};
const struct settings_noun settings_noun_person = {"people", "person", count_people, name_person,
                                                   settings_find_person};

const config_setting_t *settings_noun_group(const config_setting_t *root,
                                            const struct settings_noun *noun, size_t index)
{
    const config_setting_t *list = config_setting_get_member(root, noun->list);
    const config_setting_t *group =
        list != NULL ? config_setting_get_elem(list, (unsigned)index) : NULL;
    return group != NULL && config_setting_is_group(group) ? group : NULL;
}

const config_setting_t *settings_noun_member(const config_setting_t *group, const char *name)
{
    const config_setting_t *member = config_setting_get_member(group, name);
    return member != NULL ? member : group;
}
