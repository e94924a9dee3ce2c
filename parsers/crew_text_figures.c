/* SPDX-License-Identifier: MIT
 * crew_text_figures: what a number in a text is a figure of.
 *
 * Digits are collected first, with the marks between them and the letters that look like digits;
 * then what is glued to them or follows them says what they count. Letters that mean nothing there
 * make a bad figure, so that the sender is shown the form. */
#include "parsers/crew_text_items.h"

#define NUMERAL_OCTETS 24
#define DAYS_MAX 999
#define ONE_DIGITS_MIN 3       /* "134l" is 1341: no tank holds hundreds of litres */
#define MAYBE_ONE_DIGITS_MIN 2 /* "66l" may be 661 */
#define UNITS                                                                                      \
    (WORD_HOURS | WORD_QUARTS | WORD_LITRES | WORD_DAYS | WORD_WEEKS | WORD_MINUTES |              \
     WORD_MEASURE | WORD_CLOCK)

/* Digits and marks as text; up to the last true digit, and up to the last letter like one. */
struct numeral {
    char text[NUMERAL_OCTETS];
    size_t true_length, true_end;
    size_t length, end;
    bool hour_mark; /* "1341h30" */
};

/* "1341h30": stands for a colon. */
static bool is_hour_mark(uint16_t unit)
{
    return unit == 'h' || unit == 'H';
}

/* True where a word ends at a unit, or is one of minutes: "1341h30", "1341h30m". */
static bool ends_minutes(const struct fold *fold, size_t at)
{
    struct word_sense sense = {0};
    return !fold_is_alnum(fold_at(fold, at)) ||
           (phrase_at(fold, at, &sense) > 0 && (sense.classes & WORD_MINUTES) != 0);
}

/* A point with a digit behind it, a comma with one to three, a colon or an h with minutes. */
static bool is_mark_inside(const struct fold *fold, size_t at)
{
    uint16_t mark = fold_at(fold, at);
    size_t digits = 0;
    while (digits < 4 && fold_is_digit(fold_at(fold, at + 1 + digits))) {
        digits++;
    }
    return (mark == '.' && digits > 0) || (mark == ',' && digits >= 1 && digits <= 3) ||
           ((mark == ':' || (is_hour_mark(mark) && digits == 2 && ends_minutes(fold, at + 3))) &&
            digits == 2 && fold_at(fold, at + 1) <= '5');
}

static void read_numeral(const struct fold *fold, size_t at, struct numeral *out)
{
    *out = (struct numeral){.true_end = at, .end = at};
    for (size_t i = 0; i < NUMERAL_OCTETS; i++) {
        uint16_t unit = fold_at(fold, at + i);
        uint16_t digit = fold_as_digit(unit);
        if (digit == 0 && (i == 0 || !is_mark_inside(fold, at + i))) {
            return;
        }
        out->text[i] = (char)(digit != 0 ? digit : is_hour_mark(unit) ? ':' : unit);
        out->hour_mark = out->hour_mark || is_hour_mark(unit);
        out->length = i + 1;
        out->end = at + i + 1;
        if (fold_is_digit(unit)) {
            out->true_length = out->length;
            out->true_end = out->end;
        }
    }
}

/* What a unit makes of a figure; of a word with several the first counts, the last stands for all
 * others. */
static const struct {
    uint64_t word;
    enum figure_kind kind;
    const char *volume;
} units[] = {
    {WORD_HOURS, FIGURE_HOURS, NULL},     {WORD_QUARTS, FIGURE_VOLUME, "qt"},
    {WORD_LITRES, FIGURE_VOLUME, "l"},    {WORD_CLOCK, FIGURE_TIME, NULL},
    {WORD_DAYS, FIGURE_DAYS, NULL},       {WORD_WEEKS, FIGURE_WEEKS, NULL},
    {WORD_MINUTES, FIGURE_MINUTES, NULL}, {WORD_ORDINAL, FIGURE_ORDINAL, NULL},
    {WORD_MEASURE, FIGURE_OTHER, NULL},
};

void figure_set_unit(const struct word_sense *sense, struct figure *out)
{
    const size_t last = sizeof units / sizeof units[0] - 1;
    size_t i = 0;
    while (i < last && (sense->classes & units[i].word) == 0) {
        i++;
    }
    out->kind = units[i].kind;
    out->hours_said = units[i].kind == FIGURE_HOURS;
    if (units[i].kind == FIGURE_VOLUME) {
        int64_t hundredths = out->hours.hundredths % (HOURS_HUNDREDTHS_MAX + 1);
        out->unit = units[i].volume;
        out->thousandths = out->hours.ambiguous ? hundredths / 100 * sense->value / 1000
                                                : hundredths * sense->value / 100;
    } else if (units[i].kind == FIGURE_TIME) {
        int64_t hour = out->hours.hundredths / 100; /* "5pm", "6:15 pm" */
        int64_t minute = (out->hours.hundredths % 100 * 60 + 50) / 100;
        bool is_hour = hour >= 1 && hour <= 12 && (out->hours.clock || out->number == hour);
        int64_t noon = sense->value == 2 ? 720 : 0;
        out->kind = is_hour ? FIGURE_TIME : FIGURE_OTHER;
        out->when.minute_of_day = is_hour ? (int32_t)(hour % 12 * 60 + minute + noon) : -1;
    }
}

static bool is_whole(const struct numeral *numeral, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        if (numeral->text[i] == '.' || numeral->text[i] == ',' || numeral->text[i] == ':') {
            return false;
        }
    }
    return true;
}

static void set_hours(const struct fold *fold, size_t at, const struct numeral *numeral,
                      size_t length, size_t end, struct figure *out)
{
    struct crew_slice slice = fold_slice(fold, at, end);
    out->kind = FIGURE_HOURS;
    out->end = end;
    if (hours_read(numeral->text, length, &out->hours) != HOURS_OK) {
        out->kind = FIGURE_BAD;
    } else if (is_whole(numeral, length)) {
        out->number = out->hours.hundredths / 100;
    }
    out->hours.start = slice.start;
    out->hours.length = slice.length;
}

/* "66l": whole digits, then a lone l, which may be a one. */
static bool ends_in_l(const struct fold *fold, const struct numeral *numeral)
{
    return fold_at(fold, numeral->true_end) == 'l' &&
           !fold_is_alnum(fold_at(fold, numeral->true_end + 1)) &&
           is_whole(numeral, numeral->true_length);
}

/* Sets what the unit says; `end` is the unit's end. */
static void heed_unit(const struct word_sense *sense, size_t end, struct figure *out)
{
    if (out->kind == FIGURE_HOURS) {
        figure_set_unit(sense, out);
        out->end = end;
    }
}

/* No unit is glued to the digits: one after a blank ("1340 hours", where a single letter is h or l),
 * letters that look like digits, a unit after those, or neither. */
static void read_spelled(const struct fold *fold, size_t at, const struct numeral *numeral,
                         struct figure *out)
{
    struct word_sense sense = {0};
    size_t unit = fold_is_blank(fold_at(fold, numeral->end)) ? numeral->end + 1 : numeral->end;
    set_hours(fold, at, numeral, numeral->length, numeral->end, out);
    if (unit == numeral->end && !fold_is_alnum(fold_at(fold, unit))) {
        return;
    }
    size_t end = phrase_at(fold, unit, &sense);
    uint16_t first = fold_lower(fold_at(fold, unit));
    bool letter = unit > numeral->end && end == unit + 1 && first != 'h' && first != 'l';
    if ((sense.classes & UNITS) != 0 && !letter) {
        heed_unit(&sense, end, out);
    } else if (unit == numeral->end) {
        out->kind = FIGURE_BAD;
        out->end = phrase_word_end(fold, numeral->end);
    }
}

/* The unit that is glued to the last true digit decides. A lone l is a litre after few digits, else a
 * one. */
static void read_figure(const struct fold *fold, size_t at, const struct numeral *numeral,
                        struct figure *out)
{
    struct word_sense sense;
    size_t end = phrase_at(fold, numeral->true_end, &sense);
    bool one = ends_in_l(fold, numeral);
    if (end == 0 || (sense.classes & (UNITS | WORD_ORDINAL)) == 0 ||
        (one && numeral->true_length >= ONE_DIGITS_MIN)) {
        read_spelled(fold, at, numeral, out);
        return;
    }
    set_hours(fold, at, numeral, numeral->true_length, numeral->true_end, out);
    if (numeral->hour_mark) { /* its minutes' unit: "1341h30m" */
        out->hours_said = true;
        out->end = end;
        return;
    }
    heed_unit(&sense, end, out);
    if (one && numeral->true_length >= MAYBE_ONE_DIGITS_MIN) {
        set_hours(fold, at, numeral, numeral->length, numeral->end, out);
        out->kind = FIGURE_VOLUME;
        out->spelled_one = true;
    }
    out->end = end;
}

bool figure_add_part(int64_t hundredths, struct figure *figure)
{
    struct hours_figure *hours = &figure->hours;
    if (figure->kind != FIGURE_HOURS || hours->clock || hours->decimal_digits > 0) {
        return false;
    }
    hours->hundredths = hours->hundredths % (HOURS_HUNDREDTHS_MAX + 1) + hundredths;
    hours->ambiguous = false; /* "1,340": what has a half has no tenths, so thousands */
    hours->otherwise_hundredths = 0;
    hours->decimal_digits = hundredths % 10 == 0 ? 1 : 2;
    figure->number = -1;
    return true;
}

/* The sign of a half behind the figure, and a unit behind that. Apart from the figure, and before a word that
 * is no unit of hours, it is half of something else: a tank. */
static void heed_half(const struct fold *fold, struct figure *out)
{
    struct word_sense sense = {0};
    bool apart = fold_is_blank(fold_at(fold, out->end));
    size_t half = apart ? out->end + 1 : out->end;
    size_t word = fold_is_blank(fold_at(fold, half + 1)) ? half + 2 : half + 1;
    if (fold_at(fold, half) != FOLD_HALF) {
        return;
    }
    size_t end = phrase_at(fold, word, &sense);
    bool unit = end > 0 && (sense.classes & UNITS) != 0;
    bool of_something =
        apart && fold_is_letter(fold_at(fold, word)) && (sense.classes & WORD_HOURS) == 0;
    if (of_something || !figure_add_part(HALF_HUNDREDTHS, out)) {
        out->kind = FIGURE_BAD;
    } else if (unit && !out->hours_said) {
        heed_unit(&sense, end, out);
        return;
    }
    out->end = half + 1;
}

/* A mark of inches after the figure: no quotation was opened before it. */
static bool is_inches(const struct fold *fold, size_t at)
{
    bool open = false;
    for (size_t i = 0; i < at; i++) {
        open = open != (fold_at(fold, i) == '"');
    }
    return !open;
}

/* What stands around the figure and makes it one of something else: money, per cent, inches, "+5", or of
 * a part: ".5", a fraction behind it. */
static void heed_signs(const struct fold *fold, size_t at, struct figure *out)
{
    uint16_t next = fold_at(fold, out->end);
    uint16_t before = at > 0 ? fold_at(fold, at - 1) : 0;
    uint16_t earlier = at > 1 ? fold_at(fold, at - 2) : 0;
    bool paid = before == '$' || (fold_is_blank(before) && earlier == '$');
    bool relative = before == '+' && !fold_is_alnum(earlier);
    size_t fraction = fold_is_blank(next) ? out->end + 1 : out->end;
    if (next == '%' || next == '$' || paid || relative ||
        (next == '"' && is_inches(fold, out->end))) {
        out->kind = FIGURE_OTHER;
    } else if ((before == '.' || before == ',') && out->hours.length <= 2 && earlier != '.') {
        out->kind = FIGURE_BAD;
    } else if (fold_at(fold, fraction) == FOLD_FRACTION) {
        out->kind = FIGURE_BAD;
        out->end = fraction + 1;
    }
}

bool figure_at(const struct fold *fold, size_t at, enum crew_date_order order, struct figure *out)
{
    struct numeral numeral;
    struct dates_found found = dates_at(fold, at, order);
    *out = (struct figure){.number = -1, .when = {.minute_of_day = -1}};
    if (found.kind != DATES_NONE) {
        out->kind = found.kind == DATES_OTHER ? FIGURE_OTHER : FIGURE_DATE;
        out->when.kind = CREW_WHEN_DATE;
        out->when.year = found.year;
        out->when.month = found.kind == DATES_DAY ? found.month : 0;
        out->when.day = found.day;
        out->fraction = found.fraction;
        out->end = found.end;
        return true;
    }
    read_numeral(fold, at, &numeral);
    if (numeral.true_length == 0) {
        return false;
    }
    read_figure(fold, at, &numeral, out);
    heed_half(fold, out);
    heed_signs(fold, at, out);
    bool letter_first = !fold_is_digit(fold_at(fold, at));
    return !letter_first || (out->kind == FIGURE_HOURS && numeral.length > 2);
}

int64_t figure_days(const struct figure *figure)
{
    bool weeks = figure->kind == FIGURE_WEEKS;
    int64_t number = figure->number;
    if ((!weeks && figure->kind != FIGURE_DAYS) || number < 0 ||
        number > (weeks ? DAYS_MAX / 7 : DAYS_MAX)) {
        return -1;
    }
    return weeks ? number * 7 : number;
}
