/* SPDX-License-Identifier: MIT
 * crew_text_names: which name of the yard stands here in the text?
 *
 * A name is folded like the text, its blanks and hyphens taken out but remembered, and compared
 * unit by unit. Names are folded anew for each comparison, so that nothing has to be kept for a
 * yard of any size; the first unit turns most of them down at once. */
#include "parsers/crew_text_items.h"

#include <string.h>

#define GAP_UNITS_MAX 3 /* blanks and hyphens passed over inside a name, " - " at most */
#define NUMBER_MAX 999999

/* A 0 ends it; each unit has an octet of the name at least. */
struct folded_name {
    uint16_t unit[CREW_NAME_OCTETS_MAX + 1];
    bool after_gap[CREW_NAME_OCTETS_MAX + 1];
};

/* How a name was found: where it ends (0: not at all), and whether blanks or hyphens had to be
 * passed over that the name itself does not have. */
struct fit {
    size_t end;
    bool stretched;
};

static bool is_gap(uint16_t unit)
{
    return fold_is_blank(unit) || unit == '-';
}

/* Unit k, 0 past the last. */
static uint16_t unit_at(const struct folded_name *name, size_t k)
{
    return k < CREW_NAME_OCTETS_MAX ? name->unit[k] : 0;
}

/* The unit of the next character that is no gap, 0 after the last; *gap: one was passed over. */
static uint16_t next_unit(const char *text, size_t length, size_t *at, bool *gap)
{
    *gap = false;
    while (*at < length) {
        uint16_t unit = 0;
        *at += fold_read(text, length, *at, &unit);
        unit = fold_lower(unit);
        if (is_gap(unit)) {
            *gap = true;
        } else if (unit != 0) {
            return unit;
        }
    }
    return 0;
}

/* lenient: a zero that begins a number gives way to the digit after it. */
static void fold_name(const char *text, bool lenient, struct folded_name *name)
{
    size_t length = strnlen(text, CREW_NAME_OCTETS_MAX);
    size_t at = 0;
    size_t k = 0;
    *name = (struct folded_name){0};
    while (k < CREW_NAME_OCTETS_MAX && at < length) {
        bool gap = false;
        uint16_t unit = next_unit(text, length, &at, &gap);
        size_t last = k > 0 ? k - 1 : 0;
        bool zero = name->unit[last] == '0' && /* that begins a number */
                    (last == 0 || name->after_gap[last] || !fold_is_digit(name->unit[last - 1]));
        if (lenient && !gap && fold_is_digit(unit) && zero) {
            name->unit[last] = unit;
        } else {
            name->unit[k] = unit;
            name->after_gap[k] = gap;
            k++;
        }
    }
}

/* Turns most names down before they are folded: octet by octet while those of the name are letters
 * and digits that have to stand in the text as they are. */
static bool may_fit(const struct fold *fold, size_t at, const char *name, bool lenient)
{
    uint16_t octet = fold_lower((uint16_t)(unsigned char)name[0]);
    uint16_t unit = fold_lower(fold_at(fold, at));
    for (size_t k = 1;
         k < CREW_NAME_OCTETS_MAX && octet == unit && !(lenient && fold_is_digit(octet)); k++) {
        octet = fold_lower((uint16_t)(unsigned char)name[k]);
        unit = fold_lower(fold_at(fold, at + k));
        if (!fold_is_alnum(octet) || !fold_is_alnum(unit)) {
            return true;
        }
    }
    return octet == unit || octet >= 0x80 || (lenient && fold_is_digit(octet));
}

/* A digit may be written as a letter that looks like one, with zeros before it. */
void names_add_first(const char *name, struct names_first *first)
{
    static const char like_digits[] = "0oli";
    uint16_t unit = fold_lower((uint16_t)(unsigned char)name[0]);
    uint32_t second = unit != 0 ? names_bit((uint16_t)(unsigned char)name[1]) : NAMES_OTHER;
    first->any = first->any || unit >= NAMES_FIRST;
    if (second == NAMES_DIGIT) {
        second |= names_bit('o') | names_bit('l') | names_bit('i');
    }
    first->second[unit % NAMES_FIRST] |= fold_is_digit(unit) ? UINT32_MAX : second;
    for (size_t i = 0; fold_is_digit(unit) && like_digits[i] != '\0'; i++) {
        first->second[(unsigned char)like_digits[i] % NAMES_FIRST] = UINT32_MAX;
    }
}

/* True where the name is parted between unit k - 1 and unit k, or may be in a text: anywhere but
 * inside a run of digits. */
static bool may_part(const struct folded_name *name, size_t k)
{
    return name->after_gap[k] ||
           !(fold_is_digit(name->unit[k - 1]) && fold_is_digit(name->unit[k]));
}

static bool begins_number(const struct folded_name *name, size_t k)
{
    return fold_is_digit(name->unit[k]) && (k == 0 || may_part(name, k));
}

/* Compares a folded name with the text from `at` on, whatever follows it. */
static struct fit fit_name(const struct fold *fold, size_t at, const struct folded_name *name,
                           bool lenient)
{
    struct fit fit = {0, false};
    size_t end = at;
    bool any_digit = !lenient;
    for (size_t k = 0; k < CREW_NAME_OCTETS_MAX && name->unit[k] != 0; k++) {
        bool parts = k > 0 && may_part(name, k);
        size_t begin = end;
        while (parts && end < begin + GAP_UNITS_MAX && is_gap(fold_at(fold, end))) {
            end++;
        }
        fit.stretched = fit.stretched || (end > begin && !name->after_gap[k]);
        while (lenient && begins_number(name, k) && fold_as_digit(fold_at(fold, end)) == '0' &&
               fold_as_digit(fold_at(fold, end + 1)) != 0) {
            end++; /* zeros before the number */
        }
        uint16_t unit = fold_at(fold, end);
        bool like = lenient && fold_is_digit(name->unit[k]) && fold_as_digit(unit) == name->unit[k];
        if (!like && fold_lower(unit) != name->unit[k]) {
            return (struct fit){0, false};
        }
        any_digit = any_digit || fold_is_digit(unit);
        end++;
    }
    fit.end = any_digit ? end : 0;
    return fit;
}

/* A whole name at `at`, ending where a word ends. Names of digits alone are left to the rules for
 * bare numbers. */
static struct fit fit_whole(const struct fold *fold, size_t at, const char *text, bool lenient)
{
    struct folded_name name;
    bool letter = false;
    if (!may_fit(fold, at, text, lenient)) {
        return (struct fit){0, false};
    }
    fold_name(text, lenient, &name);
    for (size_t k = 0; unit_at(&name, k) != 0; k++) {
        letter = letter || !fold_is_digit(unit_at(&name, k));
    }
    struct fit fit = fit_name(fold, at, &name, lenient);
    if (!letter || fold_is_alnum(fold_at(fold, fit.end))) {
        return (struct fit){0, false};
    }
    return fit;
}

void names_add_candidate(int32_t index, struct name_found *found)
{
    for (size_t i = 0; i < NAMES_CANDIDATES_MAX; i++) {
        if (found->candidates[i] == NAMES_NONE) {
            found->candidates[i] = index;
            return;
        }
    }
}

struct name_found names_nothing(void)
{
    return (struct name_found){NAMES_NONE, {NAMES_NONE, NAMES_NONE, NAMES_NONE, NAMES_NONE}, 0};
}

/* The longest fit. A shorter name that needs no stretching is as good as a longer one that does:
 * "M12 a 1340" where there are M12 and M12A. None before `from` may fit. */
static struct name_found find_machine(const struct fold *fold, size_t at,
                                      const struct crew_names *names, size_t from, bool lenient)
{
    struct name_found found = names_nothing();
    struct fit best = {0, false};
    size_t fits = 0;
    for (size_t i = from; i < names->machine_count; i++) {
        struct fit fit = fit_whole(fold, at, names->machines[i].name, lenient);
        fits += fit.end > 0;
        if (fit.end > best.end) {
            best = fit;
            found.index = (int32_t)i;
        }
    }
    found.end = best.end;
    found.candidates[0] = found.index;
    if (fits < 2) {
        return found;
    }
    found.index = found.candidates[0] = NAMES_NONE;
    for (size_t i = from; i < names->machine_count; i++) {
        struct fit fit = fit_whole(fold, at, names->machines[i].name, lenient);
        if (fit.end == best.end || (fit.end > 0 && best.stretched && !fit.stretched)) {
            found.index = found.index == NAMES_NONE ? (int32_t)i : NAMES_SEVERAL;
            names_add_candidate((int32_t)i, &found);
        }
    }
    return found;
}

struct name_found names_machine_at(const struct fold *fold, size_t at,
                                   const struct crew_names *names)
{
    size_t i = 0;
    while (i < names->machine_count && !may_fit(fold, at, names->machines[i].name, true)) {
        i++;
    }
    if (i == names->machine_count) {
        return names_nothing();
    }
    struct name_found found = find_machine(fold, at, names, i, false);
    if (found.index == NAMES_NONE) {
        found = find_machine(fold, at, names, i, true);
        found = found.index == NAMES_SEVERAL ? names_nothing() : found;
    }
    return found;
}

int64_t names_number(const char *text)
{
    struct folded_name name;
    int64_t number = -1;
    fold_name(text, false, &name);
    for (size_t k = 0; k < CREW_NAME_OCTETS_MAX && name.unit[k] != 0; k++) {
        if (!fold_is_digit(name.unit[k])) {
            continue;
        }
        if (number >= 0 && begins_number(&name, k)) {
            return -1;
        }
        number = (number < 0 ? 0 : number * 10) + (name.unit[k] - '0');
        if (number > NUMBER_MAX) {
            return -1;
        }
    }
    return number;
}

static struct name_found find_numbered(int64_t number, const struct crew_names *names,
                                       bool own_only)
{
    struct name_found found = names_nothing();
    for (size_t i = 0; i < names->machine_count; i++) {
        if ((own_only && !names->machines[i].own) ||
            names_number(names->machines[i].name) != number) {
            continue;
        }
        found.index = found.index == NAMES_NONE ? (int32_t)i : NAMES_SEVERAL;
        names_add_candidate((int32_t)i, &found);
    }
    return found;
}

struct name_found names_machine_numbered(int64_t number, const struct crew_names *names)
{
    struct name_found own = find_numbered(number, names, true);
    return own.index == NAMES_NONE ? find_numbered(number, names, false) : own;
}

/* The longest of a list of names at a unit, whole and as written but for case and gaps. */
static size_t longest_at(const struct fold *fold, size_t at, const char *const *names, size_t count,
                         int32_t *index)
{
    size_t longest = 0;
    for (size_t i = 0; i < count; i++) {
        size_t end = fit_whole(fold, at, names[i], false).end;
        if (end > longest) {
            longest = end;
            *index = (int32_t)i;
        }
    }
    return longest;
}

size_t names_plan_at(const struct fold *fold, size_t at, const struct crew_names *names,
                     int32_t *index)
{
    *index = NAMES_NONE;
    return longest_at(fold, at, names->plans, names->plan_count, index);
}

size_t names_person_at(const struct fold *fold, size_t at, const struct crew_names *names)
{
    int32_t index = NAMES_NONE;
    return longest_at(fold, at, names->people, names->people_count, &index);
}

/* The octet after the word of a title that begins at `at`; *same: it is that of the units [first, end). */
static size_t compare_title_word(const char *title, size_t length, size_t at,
                                 const struct fold *fold, size_t first, size_t end, bool *same)
{
    size_t next = at;
    size_t k = first;
    bool equal = true;
    while (next < length) {
        uint16_t unit = 0;
        size_t octets = fold_read(title, length, next, &unit);
        if (unit != 0 && !fold_is_alnum(unit)) {
            break;
        }
        bool fits = k < end && fold_lower(unit) == fold_lower(fold_at(fold, k));
        bool plural = k == end && fold_lower(unit) == 's';
        equal = equal && (unit == 0 || fits || plural);
        k += unit != 0 ? 1 : 0;
        next += octets;
    }
    bool short_by_s = k + 1 == end && fold_lower(fold_at(fold, k)) == 's';
    *same = equal && next > at && (k == end || k == end + 1 || short_by_s);
    return next;
}

bool names_title_holds(const struct fold *fold, size_t first, size_t end, const char *title)
{
    size_t length = strnlen(title, CREW_TITLE_OCTETS_MAX);
    size_t at = 0;
    while (at < length) {
        bool same = false;
        size_t next = compare_title_word(title, length, at, fold, first, end, &same);
        if (same) {
            return true;
        }
        at = next > at ? next : at + 1;
    }
    return false;
}

size_t names_prefix_at(const struct fold *fold, size_t at, const char *text)
{
    struct folded_name name;
    if (!may_fit(fold, at, text, false)) {
        return 0;
    }
    fold_name(text, false, &name);
    struct fit fit = fit_name(fold, at, &name, false);
    return fit.stretched ? 0 : fit.end;
}

bool names_have_letters(const struct fold *fold, size_t first, size_t end,
                        const struct crew_names *names)
{
    for (size_t i = 0; i < names->machine_count; i++) {
        struct folded_name name;
        size_t k = 0;
        fold_name(names->machines[i].name, false, &name);
        while (first + k < end && fold_lower(fold_at(fold, first + k)) == unit_at(&name, k)) {
            k++;
        }
        if (first + k == end && fold_is_digit(unit_at(&name, k))) {
            return true;
        }
    }
    return false;
}

bool names_alike(const char *one, const char *other)
{
    struct folded_name first, second;
    fold_name(one, false, &first);
    fold_name(other, false, &second);
    return memcmp(first.unit, second.unit, sizeof first.unit) == 0;
}
