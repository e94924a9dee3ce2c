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
};

static bool is_minutes(const struct fold *fold, size_t at)
{
    uint16_t tens = fold_at(fold, at);
    return tens >= '0' && tens <= '5' && fold_is_digit(fold_at(fold, at + 1)) &&
           !fold_is_digit(fold_at(fold, at + 2));
}

/* One to three digits: as many as stand after a comma that belongs to the figure. */
static bool is_group(const struct fold *fold, size_t at)
{
    size_t digits = 0;
    while (digits < 4 && fold_is_digit(fold_at(fold, at + digits))) {
        digits++;
    }
    return digits >= 1 && digits <= 3;
}

static bool is_mark_inside(const struct fold *fold, size_t at)
{
    uint16_t mark = fold_at(fold, at);
    return (mark == '.' && fold_is_digit(fold_at(fold, at + 1))) ||
           (mark == ',' && is_group(fold, at + 1)) || (mark == ':' && is_minutes(fold, at + 1));
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
        out->text[i] = (char)(digit != 0 ? digit : unit);
        out->length = i + 1;
        out->end = at + i + 1;
        if (fold_is_digit(unit)) {
            out->true_length = out->length;
            out->true_end = out->end;
        }
    }
}

/* "5pm", "6:15 pm": value 1 is before noon, 2 after. */
static void set_time(int16_t value, struct figure *out)
{
    int64_t hour = out->hours.hundredths / 100;
    int64_t minute = (out->hours.hundredths % 100 * 60 + 50) / 100;
    out->kind = FIGURE_OTHER;
    if (hour >= 1 && hour <= 12 && (out->hours.clock || out->number == hour)) {
        out->kind = FIGURE_TIME;
        out->when.minute_of_day = (int32_t)(hour % 12 * 60 + minute + (value == 2 ? 720 : 0));
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

static void set_unit(const struct word_sense *sense, struct figure *out)
{
    const size_t last = sizeof units / sizeof units[0] - 1;
    size_t i = 0;
    while (i < last && (sense->classes & units[i].word) == 0) {
        i++;
    }
    out->kind = units[i].kind;
    out->hours_said = units[i].kind == FIGURE_HOURS;
    if (units[i].kind == FIGURE_VOLUME) {
        int64_t hundredths = out->hours.hundredths;
        out->unit = units[i].volume;
        out->thousandths = out->hours.ambiguous ? hundredths / 100 * sense->value / 1000
                                                : hundredths * sense->value / 100;
    } else if (units[i].kind == FIGURE_TIME) {
        set_time(sense->value, out);
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

/* A unit glued to the last true digit. A lone l is a litre after few digits, else a one. */
static size_t glued_unit(const struct fold *fold, const struct numeral *numeral,
                         struct word_sense *sense)
{
    size_t end = phrase_at(fold, numeral->true_end, sense);
    if ((sense->classes & (UNITS | WORD_ORDINAL)) == 0 ||
        (ends_in_l(fold, numeral) && numeral->true_length >= ONE_DIGITS_MIN)) {
        return 0;
    }
    return end;
}

/* "1340 hours", "5 qt": a unit after a blank. Single letters are units there only if h or l. */
static size_t spaced_unit(const struct fold *fold, size_t at, struct word_sense *sense)
{
    size_t end = fold_is_blank(fold_at(fold, at)) ? phrase_at(fold, at + 1, sense) : 0;
    uint16_t first = fold_lower(fold_at(fold, at + 1));
    if (end == 0 || (sense->classes & UNITS) == 0 ||
        (end == at + 2 && first != 'h' && first != 'l')) {
        return 0;
    }
    return end;
}

/* Sets what the unit says; `end` is the unit's end, 0 where there is none. */
static void heed_unit(const struct word_sense *sense, size_t end, struct figure *out)
{
    if (end > 0 && out->kind == FIGURE_HOURS) {
        set_unit(sense, out);
        out->end = end;
    }
}

/* No unit is glued to the digits: letters that look like digits, a unit after those, or neither. */
static void read_spelled(const struct fold *fold, size_t at, const struct numeral *numeral,
                         struct figure *out)
{
    struct word_sense sense = {0};
    set_hours(fold, at, numeral, numeral->length, numeral->end, out);
    if (!fold_is_alnum(fold_at(fold, numeral->end))) {
        heed_unit(&sense, spaced_unit(fold, numeral->end, &sense), out);
        return;
    }
    size_t end = phrase_at(fold, numeral->end, &sense);
    if ((sense.classes & UNITS) != 0) {
        heed_unit(&sense, end, out);
    } else {
        out->kind = FIGURE_BAD;
        out->end = phrase_word_end(fold, numeral->end);
    }
}

static void read_figure(const struct fold *fold, size_t at, const struct numeral *numeral,
                        struct figure *out)
{
    struct word_sense sense;
    size_t end = glued_unit(fold, numeral, &sense);
    if (end == 0) {
        read_spelled(fold, at, numeral, out);
        return;
    }
    set_hours(fold, at, numeral, numeral->true_length, numeral->true_end, out);
    heed_unit(&sense, end, out);
    if (ends_in_l(fold, numeral) && numeral->true_length >= MAYBE_ONE_DIGITS_MIN) {
        set_hours(fold, at, numeral, numeral->length, numeral->end, out);
        out->kind = FIGURE_VOLUME;
        out->spelled_one = true;
    }
    out->end = end;
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

static bool is_paid(const struct fold *fold, size_t at)
{
    return at > 0 &&
           (fold_at(fold, at - 1) == '$' ||
            (at > 1 && fold_is_blank(fold_at(fold, at - 1)) && fold_at(fold, at - 2) == '$'));
}

/* "+5": more than before; "+1 206 555 0110" */
static bool is_relative(const struct fold *fold, size_t at)
{
    return at > 0 && fold_at(fold, at - 1) == '+' &&
           (at == 1 || !fold_is_alnum(fold_at(fold, at - 2)));
}

/* ".5": a point before the figure; no whole hours stand there. */
static bool is_decimals(const struct fold *fold, size_t at, const struct figure *figure)
{
    uint16_t before = at > 0 ? fold_at(fold, at - 1) : 0;
    return (before == '.' || before == ',') && figure->hours.length <= 2 &&
           (at < 2 || fold_at(fold, at - 2) != '.');
}

static void heed_signs(const struct fold *fold, size_t at, struct figure *out)
{
    uint16_t next = fold_at(fold, out->end);
    if (next == '%' || next == '$' || is_paid(fold, at) || is_relative(fold, at) ||
        (next == '"' && is_inches(fold, out->end))) {
        out->kind = FIGURE_OTHER;
    } else if (is_decimals(fold, at, out)) {
        out->kind = FIGURE_BAD;
    } else if (next == FOLD_FRACTION ||
               (fold_is_blank(next) && fold_at(fold, out->end + 1) == FOLD_FRACTION)) {
        out->kind = FIGURE_BAD;
        out->end += next == FOLD_FRACTION ? 1 : 2;
    }
}

static bool read_groups(const struct fold *fold, size_t at, enum crew_date_order order,
                        struct figure *out)
{
    struct dates_found found = dates_at(fold, at, order);
    if (found.kind == DATES_NONE) {
        return false;
    }
    out->kind = found.kind == DATES_OTHER ? FIGURE_OTHER : FIGURE_DATE;
    out->when.kind = CREW_WHEN_DATE;
    out->when.year = found.year;
    out->when.month = found.kind == DATES_DAY ? found.month : 0;
    out->when.day = found.day;
    out->fraction = found.fraction;
    out->end = found.end;
    return true;
}

bool figure_at(const struct fold *fold, size_t at, enum crew_date_order order, struct figure *out)
{
    struct numeral numeral;
    *out = (struct figure){.number = -1, .when = {.minute_of_day = -1}};
    if (read_groups(fold, at, order, out)) {
        return true;
    }
    read_numeral(fold, at, &numeral);
    if (numeral.true_length == 0) {
        return false;
    }
    read_figure(fold, at, &numeral, out);
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
