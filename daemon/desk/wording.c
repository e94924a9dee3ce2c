/* SPDX-License-Identifier: MIT
 * wording: puts values into the templates of a language. */
#include "daemon/desk/wording.h"

#include <stdio.h>
#include <string.h>

#include "daemon/upkeep/civil.h"
#include "parsers/hours.h"

/* Further than this from today a date carries its year, so that no month is taken for another. */
#define NEAR_DAYS 300

#define ADDRESS(name) &wording_##name,
const struct wording *const wording_all[] = {WORDS_LANGUAGES(ADDRESS) NULL};
#undef ADDRESS

static const char *const slot_names[WORDING_SLOTS] = {
    [WORDING_MACHINE] = "machine",
    [WORDING_SITE] = "site",
    [WORDING_OTHER] = "other",
    [WORDING_HOURS] = "hours",
    [WORDING_LAST] = "last",
    [WORDING_OFFER] = "offer",
    [WORDING_DUE_AT] = "due",
    [WORDING_LEFT] = "left",
    [WORDING_MOST] = "most",
    [WORDING_DAY] = "day",
    [WORDING_WHEN] = "when",
    [WORDING_TITLE] = "title",
    [WORDING_PLAN] = "plan",
    [WORDING_LIST] = "list",
    [WORDING_PERSON] = "person",
    [WORDING_SHOP] = "shop",
    [WORDING_COUNT] = "count",
    [WORDING_COUNT_DUE] = "count_due",
    [WORDING_COUNT_COMING] = "count_coming",
    [WORDING_UNIT] = "unit",
    [WORDING_WORDS] = "words",
    [WORDING_EXAMPLE] = "example",
};

const struct wording *wording_of(const char *language)
{
    for (size_t i = 0; wording_all[i] != NULL; i++) {
        if (strcmp(wording_all[i]->language, language) == 0) {
            return wording_all[i];
        }
    }
    return wording_all[0];
}

void wording_set(struct wording_values *values, enum wording_slot slot, const char *text)
{
    (void)snprintf(values->value[slot], WORDING_VALUE_OCTETS, "%s", text);
}

void wording_set_hours(struct wording_values *values, enum wording_slot slot, int64_t hundredths)
{
    (void)hours_write(hundredths, values->value[slot], WORDING_VALUE_OCTETS);
}

void wording_set_number(struct wording_values *values, enum wording_slot slot, int64_t number)
{
    (void)snprintf(values->value[slot], WORDING_VALUE_OCTETS, "%lld", (long long)number);
}

/* Appends a template's text up to its end, asking `value` for what stands in braces. */
struct fill {
    char *out;
    size_t size, length;
};

static void fill_put(struct fill *fill, const char *text, size_t length)
{
    size_t room = fill->size - fill->length - 1;
    size_t taken = length < room ? length : room;
    memcpy(fill->out + fill->length, text, taken);
    fill->length += taken;
    fill->out[fill->length] = '\0';
}

/* A moment's part that a letter of a date's or a time's template stands for; the letter itself where
 * it stands for none. */
static void put_part(struct fill *fill, const struct wording *wording, char letter, int32_t day,
                     int32_t minute)
{
    struct civil_date date = civil_date_of(day);
    int hour = minute / 60;
    char part[16];
    switch (letter) {
    case 'M':
        (void)snprintf(part, sizeof part, "%s", wording->months[date.month - 1]);
        break;
    case 'D':
        (void)snprintf(part, sizeof part, "%d", date.day);
        break;
    case 'Y':
        (void)snprintf(part, sizeof part, "%d", date.year);
        break;
    case 'H':
        (void)snprintf(part, sizeof part, "%02d", hour);
        break;
    case 'T':
        (void)snprintf(part, sizeof part, "%d", hour % 12 == 0 ? 12 : hour % 12);
        break;
    case 'N':
        (void)snprintf(part, sizeof part, "%02d", minute % 60);
        break;
    case 'P':
        (void)snprintf(part, sizeof part, "%s", hour < 12 ? "am" : "pm");
        break;
    default:
        (void)snprintf(part, sizeof part, "%c", letter);
        break;
    }
    fill_put(fill, part, strlen(part));
}

static void put_moment(char *out, const struct wording *wording, const char *template, int32_t day,
                       int32_t minute)
{
    struct fill fill = {.out = out, .size = WORDING_VALUE_OCTETS};
    out[0] = '\0';
    for (size_t i = 0; template[i] != '\0'; i++) {
        put_part(&fill, wording, template[i], day, minute);
    }
}

void wording_set_day(struct wording_values *values, enum wording_slot slot,
                     const struct wording *wording, int32_t day, int32_t today)
{
    bool near = day - today < NEAR_DAYS && today - day < NEAR_DAYS;
    put_moment(values->value[slot], wording, near ? wording->date : wording->date_year, day, 0);
}

void wording_set_when(struct wording_values *values, const struct wording *wording, int32_t day,
                      int32_t second_of_day, int32_t today, bool twelve_hours)
{
    char *out = values->value[WORDING_WHEN];
    if (day == today) {
        put_moment(out, wording, twelve_hours ? wording->today_12 : wording->today_24, day,
                   second_of_day / 60);
        return;
    }
    struct wording_values date;
    wording_set_day(&date, WORDING_DAY, wording, day, today);
    (void)snprintf(out, WORDING_VALUE_OCTETS, "%s %.40s", wording->on, date.value[WORDING_DAY]);
}

void wording_set_example(struct wording_values *values, const struct wording *wording,
                         const char *begins, int64_t hundredths)
{
    struct wording_values of_example = {0};
    wording_set(&of_example, WORDING_WORDS, begins);
    wording_set_hours(&of_example, WORDING_LAST, hundredths);
    (void)wording_write(wording, WORDING_LIKE, &of_example, values->value[WORDING_EXAMPLE],
                        WORDING_VALUE_OCTETS);
}

bool wording_names(const struct wording *wording, enum wording_key key, enum wording_slot slot)
{
    char name[24];
    (void)snprintf(name, sizeof name, "{%s}", slot_names[slot]);
    return strstr(wording->sentences[key], name) != NULL;
}

static const char *slot_value(const struct wording_values *values, const char *at, size_t length)
{
    for (size_t slot = 0; slot < WORDING_SLOTS; slot++) {
        if (strlen(slot_names[slot]) == length && memcmp(at, slot_names[slot], length) == 0) {
            return values->value[slot];
        }
    }
    return "";
}

size_t wording_write(const struct wording *wording, enum wording_key key,
                     const struct wording_values *values, char *out, size_t size)
{
    const char *template = wording->sentences[key];
    struct fill fill = {.out = out, .size = size};
    out[0] = '\0';
    size_t at = 0;
    while (template[at] != '\0') {
        size_t plain = strcspn(template + at, "{");
        fill_put(&fill, template + at, plain);
        at += plain;
        if (template[at] == '{') {
            size_t name = strcspn(template + at, "}") - 1;
            const char *value = slot_value(values, template + at + 1, name);
            fill_put(&fill, value, strlen(value));
            at += name + 2;
        }
    }
    return fill.length;
}

void wording_append(const struct wording *wording, enum wording_key key,
                    const struct wording_values *values, char *out, size_t size)
{
    size_t length = strlen(out);
    if (length + 1 < size) {
        out[length] = ' ';
        length += length > 0;
        (void)wording_write(wording, key, values, out + length, size - length);
    }
}
