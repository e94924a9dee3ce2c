/* SPDX-License-Identifier: MIT
 * import_cells: see import.h. What spreadsheets and the programs beside them make of figures, days and
 * times of the day (common practice, no source). What could be meant in two ways is not read. */
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "daemon/counter/import.h"
#include "daemon/ground/zone.h"
#include "daemon/upkeep/civil.h"
#include "parsers/crew_text_items.h"
#include "parsers/words.h"

#define FIGURE_OCTETS 32

/* Blanks that spreadsheets put, plain, not to be broken, and narrow: the octets of the one at that
 * place, 0 none. */
static size_t blank_at(const char *text)
{
    static const char *const blanks[] = {" ", "\t", "\xC2\xA0", "\xE2\x80\xAF"};
    for (size_t i = 0; i < sizeof blanks / sizeof blanks[0]; i++) {
        if (strncmp(text, blanks[i], strlen(blanks[i])) == 0) {
            return strlen(blanks[i]);
        }
    }
    return 0;
}

static const char *past_blanks(const char *text)
{
    while (blank_at(text) > 0) {
        text += blank_at(text);
    }
    return text;
}

/* ="M12" is how a program keeps a spreadsheet from reckoning. */
char *cells_tidy(char *cell)
{
    char *begin = &cell[past_blanks(cell) - cell], *end = begin;
    for (char *at = begin; *at != '\0';) {
        size_t blank = blank_at(at);
        at += blank > 0 ? blank : 1;
        end = blank > 0 ? end : at;
    }
    *end = '\0';
    if (strncmp(begin, "=\"", 2) == 0 && end - begin >= 3 && end[-1] == '"') {
        begin += 2;
        end[-1] = '\0';
    }
    return begin;
}

/* ---- figures */

/* What may part thousands beside point and comma: a blank or an apostrophe before three digits. */
static size_t thousands_at(const char *text)
{
    size_t octets = text[0] == '\''                         ? 1
                    : strncmp(text, "\xE2\x80\x99", 3) == 0 ? 3
                                                            : blank_at(text);
    return octets > 0 && strspn(&text[octets], "0123456789") == 3 ? octets : 0;
}

/* The figure that the cell begins with into room, marks that leave no doubt taken out; what is behind it. */
static const char *take_figure(const char *cell, char room[FIGURE_OCTETS])
{
    const char *at = cell;
    size_t used = 0;
    while (used + 1 < FIGURE_OCTETS) {
        size_t mark = used > 0 ? thousands_at(at) : 0;
        if (mark > 0) {
            at += mark;
        } else if (*at == '\0' || strchr("0123456789.,:", *at) == NULL) {
            break;
        } else {
            room[used++] = *at++;
        }
    }
    room[used] = '\0';
    return past_blanks(at);
}

bool cells_hours_unit(const char *unit, size_t length)
{
    static const char *const units[] = {"",      "h",    "hr",    "hrs",   "hour",
                                        "hours", "hora", "horas", "heure", "heures"};
    for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
        if (strlen(units[i]) == length && strncasecmp(unit, units[i], length) == 0) {
            return true;
        }
    }
    return false;
}

bool cells_hours(const char *cell, struct hours_figure *figure)
{
    char room[FIGURE_OCTETS];
    const char *unit = take_figure(cell, room);
    char *seconds = strchr(room, ':');
    seconds = seconds != NULL ? strchr(seconds + 1, ':') : NULL;
    if (seconds != NULL && strcmp(seconds, ":00") == 0) { /* 1340:30:00 */
        *seconds = '\0';
    }
    return cells_hours_unit(unit, strlen(unit)) &&
           hours_read(room, strlen(room), figure) == HOURS_OK;
}

bool cells_quantity(const char *cell, int64_t *thousandths, const char **unit)
{
    char room[FIGURE_OCTETS];
    *unit = take_figure(cell, room);
    char *comma = strchr(room, ',');
    if (comma != NULL && strchr(room, '.') == NULL && strlen(comma + 1) < 3) { /* 4,75 */
        *comma = '.';
    }
    return quantity_read(room, thousandths);
}

/* By the words of the grammar's languages: "qts", "litros". */
bool cells_fluid_unit(const char *unit, enum kit_unit *found)
{
    struct fold fold;
    struct word_sense sense;
    if (kit_unit_find(unit, found)) {
        return kit_unit_row(*found)->fluid;
    }
    fold_text(unit, strlen(unit), &fold);
    bool known = fold.count > 0 && phrase_is(&fold, 0, fold.count, &sense);
    bool quarts = known && (sense.classes & WORD_QUARTS) != 0;
    *found = quarts ? KIT_UNIT_QUART : KIT_UNIT_LITRE;
    return known && (quarts || (sense.classes & WORD_LITRES) != 0) && sense.value == 1000;
}

/* ---- moments */

/* "7:05", "07:05:30", "7:05 PM", "7:05 p. m." as seconds of the day; nothing is midnight. */
static bool read_clock(const char *text, int32_t *second_of_day)
{
    int hour = 0, minute = 0, second = 0, used = 0;
    char half[4] = "";
    *second_of_day = 0;
    if (text[0] == '\0') {
        return true;
    }
    if (sscanf(text, "%2d:%2d%n:%2d%n", &hour, &minute, &used, &second, &used) < 2) {
        return false;
    }
    size_t letters = 0;
    for (const char *at = past_blanks(&text[used]); *at != '\0' && letters < 3;) {
        size_t passed = *at == '.' ? 1 : blank_at(at);
        half[letters] = *at;
        letters += passed == 0;
        at += passed == 0 ? 1 : passed;
    }
    half[letters] = '\0';
    bool evening = strcasecmp(half, "pm") == 0, halved = evening || strcasecmp(half, "am") == 0;
    if (half[0] != '\0' ? !halved || hour < 1 || hour > 12 : hour < 0 || hour > 23) {
        return false;
    }
    hour = halved ? hour % 12 + (evening ? 12 : 0) : hour;
    *second_of_day = hour * 3600 + minute * 60 + second;
    return minute >= 0 && minute <= 59 && second >= 0 && second <= 59;
}

/* A day as it is read off a cell. */
struct day {
    struct civil_date date;
    int weekday;      /* as it is written beside it, -1 unsaid */
    bool ordered;     /* read by the shop's order of day and month */
    const char *rest; /* what stands behind it */
};

/* "3/14/2027", "14.3.27", "2027-03-14". */
static bool read_digits(const char *text, bool day_first, struct day *day)
{
    int parts[3], end = 0;
    char marks[2];
    if (sscanf(text, "%4d%c%2d%c%4d%n", &parts[0], &marks[0], &parts[1], &marks[1], &parts[2],
               &end) != 5 ||
        marks[0] != marks[1] || strchr("-/.", marks[0]) == NULL) {
        return false;
    }
    int year = parts[2] < 100 ? 2000 + parts[2] : parts[2];
    day->ordered = parts[0] <= 31;
    day->date = !day->ordered ? (struct civil_date){parts[0], parts[1], parts[2]}
                : day_first   ? (struct civil_date){year, parts[1], parts[0]}
                              : (struct civil_date){year, parts[0], parts[1]};
    day->rest = &text[end];
    return true;
}

/* A number of a day's name with how many digits it has. */
struct number {
    int value;
    size_t digits;
};

static size_t take_number(const struct fold *fold, size_t at, struct number *number)
{
    *number = (struct number){0, 0};
    for (; fold_at(fold, at) >= '0' && fold_at(fold, at) <= '9' && number->digits < 5; at++) {
        number->value = number->value * 10 + (fold_at(fold, at) - '0');
        number->digits++;
    }
    return at;
}

/* The year is plain by its four digits, or stands last: "14 March 2027", "Mar 14, 27", "2027-Mar-14". */
static bool settle_named(const struct number numbers[2], struct day *day)
{
    bool year_first = numbers[0].digits == 4;
    const struct number *year = &numbers[year_first ? 0 : 1];
    day->date.day = numbers[year_first ? 1 : 0].value;
    day->date.year = year->digits == 4 ? year->value : 2000 + year->value;
    return year->digits == 4 || year->digits == 2;
}

/* "Sunday, March 14, 2027", "14-Mar-27", "domingo 14 de marzo de 2027": words of any of the grammar's
 * languages, in which a month alone may be a weekday elsewhere. */
static bool read_named(const struct fold *fold, struct day *day)
{
    struct number numbers[2] = {{0, 0}, {0, 0}};
    size_t count = 0, at = 0;
    while (at < fold->count && !(count == 2 && day->date.month != 0)) {
        uint16_t unit = fold_at(fold, at);
        struct word_sense sense;
        size_t end = phrase_word_end(fold, at);
        if (unit < 0x80 && strchr(" ,.-/", unit) != NULL) {
            at++;
        } else if (unit >= '0' && unit <= '9' && count < 2) {
            at = take_number(fold, at, &numbers[count++]);
        } else if (end <= at || !phrase_is(fold, at, end, &sense)) {
            return false;
        } else if ((sense.classes & WORD_MONTH) != 0 && day->date.month == 0) {
            day->date.month = sense.month;
            at = end;
        } else if ((sense.classes & WORD_WEEKDAY) != 0 && day->weekday < 0 && count == 0) {
            day->weekday = sense.weekday;
            at = end;
        } else if ((sense.classes & WORD_OF) != 0) {
            at = end;
        } else {
            return false;
        }
    }
    day->rest = &fold->text[at < fold->count ? fold->start[at] : fold->length];
    return count == 2 && day->date.month != 0 && settle_named(numbers, day);
}

/* "Mon 3/15/2027" */
static bool read_behind_weekday(const struct fold *fold, bool day_first, struct day *day)
{
    struct word_sense sense;
    size_t end = phrase_word_end(fold, 0);
    if (end == 0 || end >= fold->count || !phrase_is(fold, 0, end, &sense) ||
        (sense.classes & WORD_WEEKDAY) == 0) {
        return false;
    }
    day->weekday = sense.weekday;
    const char *behind = &fold->text[fold->start[end]];
    return read_digits(&behind[strspn(behind, " ,.")], day_first, day);
}

static bool read_day(const char *cell, bool day_first, struct day *day)
{
    static const struct day nothing = {.weekday = -1};
    struct fold fold;
    *day = nothing;
    if (read_digits(cell, day_first, day)) {
        return true;
    }
    fold_text(cell, strlen(cell), &fold);
    if (read_behind_weekday(&fold, day_first, day)) {
        return true;
    }
    *day = nothing;
    return read_named(&fold, day);
}

bool cells_moment(const char *cell, const char *clock, bool day_first, int64_t *at_s, bool *ordered)
{
    struct day day;
    int32_t second_of_day, more;
    if (zone_read_rfc3339(cell, at_s)) {
        bool dated = strlen(cell) == strlen("2027-03-14");
        *at_s += dated && read_clock(clock, &more) ? more : 0;
        return clock[0] == '\0' || (dated && read_clock(clock, &more));
    }
    if (!read_day(cell, day_first, &day) || !civil_valid(day.date) ||
        (day.weekday >= 0 && civil_weekday(civil_day(day.date)) != day.weekday)) {
        return false;
    }
    const char *rest = &day.rest[strspn(day.rest, " T,")];
    if ((rest[0] != '\0' && clock[0] != '\0') ||
        !read_clock(rest[0] != '\0' ? rest : clock, &second_of_day)) {
        return false;
    }
    *ordered = *ordered || day.ordered;
    *at_s = zone_unix(civil_day(day.date), second_of_day);
    return true;
}
