/* SPDX-License-Identifier: MIT
 * settings_names: checks of the names of machines and plans, and of people's numbers. */
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include "config/settings_alike.h"
#include "config/settings_nouns.h"
#include "config/settings_sections.h"
#include "parsers/crew_text.h"

static bool letter(char octet)
{
    return (octet >= 'A' && octet <= 'Z') || (octet >= 'a' && octet <= 'z') ||
           (unsigned char)octet >= 0x80;
}

static bool digit(char octet)
{
    return octet >= '0' && octet <= '9';
}

/* True for a word of the grammar. One letter and a figure ("M-12") are looked at as one word, as they
 * are when a text names the machine: alone, the letter may well be a word. */
static bool grammar_word(const char *name, size_t letters)
{
    char joined[SETTINGS_TITLE_OCTETS];
    size_t length = 0;
    for (size_t i = 0; name[i] != '\0' && length < sizeof joined; i++) {
        if (letters != 1 || letter(name[i]) || digit(name[i])) {
            joined[length++] = name[i];
        }
    }
    return crew_text_is_word(joined, length);
}

/* NULL when crews can type the name in a text, else why not and what is expected. */
static const char *typing_flaw(const char *name, bool word)
{
    size_t length = strlen(name), letters = 0;
    for (size_t i = 0; i < length; i++) {
        bool joins = name[i] == '-' || name[i] == '_' || (name[i] == ' ' && !word);
        if (!letter(name[i]) && !digit(name[i]) && !joins) {
            return word
                       ? "must be one word of a text; letters, digits, \"-\" and \"_\" are expected"
                       : "could not be typed in a text; letters, digits, spaces, \"-\" and \"_\" "
                         "are "
                         "expected";
        }
        letters += letter(name[i]) ? 1 : 0;
    }
    if (letters == 0) {
        return "looks like a figure in a text; a name with a letter is expected, as \"M12\"";
    }
    if (!letter(name[0]) && word) {
        return "begins like a figure; a letter is expected first";
    }
    if (name[0] == ' ' || name[length - 1] == ' ') {
        return "has a space at its end; none is expected";
    }
    if (grammar_word(name, letters) && letters == 1) {
        return "could be hours in a text, as in \"1340 h 3\"; another letter is expected";
    }
    if (grammar_word(name, letters)) {
        return "is a word that texts are made of; another name is expected";
    }
    return NULL;
}

static void check_typed(struct reader *reader, const config_setting_t *root,
                        const struct settings_noun *noun, bool word, size_t index)
{
    const config_setting_t *group = settings_noun_group(root, noun, index);
    const char *name = noun->name_of(reader->settings, index);
    if (group == NULL || name[0] == '\0') {
        return;
    }
    const char *flaw = typing_flaw(name, word);
    if (flaw != NULL) {
        struct reader_owner owner = reader_owner_of(noun->what, group, (int)index);
        reader_mistake(reader, &owner, settings_noun_member(group, "name"), "the name %s", flaw);
    }
}

static void check_phone(struct reader *reader, const config_setting_t *root, size_t index)
{
    const struct settings *settings = reader->settings;
    const config_setting_t *group = settings_noun_group(root, &settings_noun_person, index);
    const char *phone = settings->people[index].phone;
    if (group == NULL || phone[0] == '\0') {
        return;
    }
    struct reader_owner owner = reader_owner_of(settings_noun_person.what, group, (int)index);
    int32_t first = settings_find_phone(settings, phone);
    if (first >= 0 && (size_t)first < index) {
        reader_mistake(reader, &owner, settings_noun_member(group, "phone"),
                       "phone is that of \"%s\" as well; a number of their own is expected",
                       settings->people[first].name);
    }
    if (strcmp(phone, settings->shop.number) == 0) {
        reader_mistake(
            reader, &owner, settings_noun_member(group, "phone"),
            "phone is the number of the SIM (shop.number); the person's own is expected");
    }
}

void settings_check_names(struct reader *reader, const config_setting_t *root)
{
    const struct settings *settings = reader->settings;
    for (size_t i = 0; i < settings->plan_count; i++) {
        check_typed(reader, root, &settings_noun_plan, true, i);
    }
    for (size_t i = 0; i < settings->person_count; i++) {
        check_phone(reader, root, i);
    }
    for (size_t i = 0; i < settings->machine_count; i++) {
        check_typed(reader, root, &settings_noun_machine, false, i);
    }
    settings_check_alike(reader, root);
}
