/* SPDX-License-Identifier: MIT
 * hours: an hour-meter figure as a hand writes it, in hundredths of an hour.
 *
 * The text is first taken apart into its digits and its marks (the shape); what the marks mean is
 * decided on the shape alone. A mark followed by one or two digits is a decimal sign, by three a
 * thousands mark or, after one to three digits, perhaps a decimal sign. Meters show at most two
 * decimals, so more than that is no figure. */
#include "parsers/hours.h"

#define SHAPE_MARKS_MAX 3
#define DIGITS_LIMIT UINT64_C(1000000000000) /* past any meter, and far from overflow */

/* Digits with their marks: "1,340.5" has the digits 13405, marks ',' '.', groups of 1, 3 and 1. */
struct shape {
    uint64_t digits; /* all of them as one number */
    bool any_digit;
    size_t mark_count;
    char marks[SHAPE_MARKS_MAX];
    size_t groups[SHAPE_MARKS_MAX + 1]; /* digits before, between and after the marks */
};

static enum hours_result take_apart(const char *text, size_t length, struct shape *shape)
{
    *shape = (struct shape){0};
    for (size_t i = 0; i < length; i++) {
        char c = text[i];
        if (c >= '0' && c <= '9') {
            shape->digits = shape->digits * 10 + (uint64_t)(c - '0');
            if (shape->digits >= DIGITS_LIMIT) {
                return HOURS_TOO_LARGE;
            }
            shape->any_digit = true;
            shape->groups[shape->mark_count]++;
        } else if ((c == '.' || c == ',' || c == ':') && shape->mark_count < SHAPE_MARKS_MAX) {
            shape->marks[shape->mark_count] = c;
            shape->mark_count++;
        } else {
            return HOURS_MALFORMED;
        }
    }
    return shape->any_digit ? HOURS_OK : HOURS_NONE;
}

/* True where the first `count` marks part thousands: the same mark, groups of three after each, one
 * to three digits before the first and those not a zero alone in front. */
static bool parts_thousands(const struct shape *shape, size_t count, bool leading_zero)
{
    if (shape->groups[0] < 1 || shape->groups[0] > 3 || leading_zero) {
        return false;
    }
    for (size_t i = 0; i < count; i++) {
        if (shape->marks[i] != shape->marks[0] || shape->marks[i] == ':' ||
            shape->groups[i + 1] != 3) {
            return false;
        }
    }
    return true;
}

static enum hours_result fill(struct hours_figure *out, uint64_t whole, uint64_t hundredths)
{
    if (whole > (uint64_t)HOURS_HUNDREDTHS_MAX / 100) {
        return HOURS_TOO_LARGE;
    }
    out->present = true;
    out->whole_digits = 0;
    for (uint64_t rest = whole; rest > 0; rest /= 10) {
        out->whole_digits++;
    }
    out->hundredths = (int64_t)(whole * 100 + hundredths);
    return HOURS_OK;
}

static enum hours_result read_clock(const struct shape *shape, struct hours_figure *out)
{
    uint64_t minutes = shape->digits % 100;
    if (shape->mark_count != 1 || shape->groups[0] == 0 || shape->groups[1] != 2 || minutes > 59) {
        return HOURS_MALFORMED;
    }
    out->clock = true;
    return fill(out, shape->digits / 100, (minutes * 100 + 30) / 60);
}

/* The last mark is a decimal sign, with one or two digits after it. */
static enum hours_result read_decimal(const struct shape *shape, bool leading_zero,
                                      struct hours_figure *out)
{
    size_t last = shape->mark_count - 1;
    size_t decimals = shape->groups[last + 1];
    if (decimals < 1 || decimals > 2 || shape->groups[0] == 0) {
        return HOURS_MALFORMED;
    }
    if (last > 0 &&
        (shape->marks[last] == shape->marks[0] || !parts_thousands(shape, last, leading_zero))) {
        return HOURS_MALFORMED;
    }
    uint64_t scale = decimals == 1 ? 10 : 100;
    out->decimal_digits = (uint8_t)decimals;
    return fill(out, shape->digits / scale, shape->digits % scale * (100 / scale));
}

static enum hours_result read_shape(const struct shape *shape, bool leading_zero,
                                    struct hours_figure *out)
{
    if (shape->mark_count == 0) {
        return fill(out, shape->digits, 0);
    }
    if (shape->marks[shape->mark_count - 1] == ':') {
        return read_clock(shape, out);
    }
    if (!parts_thousands(shape, shape->mark_count, leading_zero)) {
        return read_decimal(shape, leading_zero, out);
    }
    if (shape->mark_count == 1) {
        out->ambiguous = true;
        out->otherwise_hundredths = (int64_t)(shape->digits / 10);
    }
    return fill(out, shape->digits, 0);
}

enum hours_result hours_read(const char *text, size_t length, struct hours_figure *out)
{
    struct shape shape;
    *out = (struct hours_figure){0};
    enum hours_result result = take_apart(text, length, &shape);
    if (result == HOURS_OK) {
        result = read_shape(&shape, text[0] == '0', out);
    }
    if (result != HOURS_OK) {
        *out = (struct hours_figure){0};
    }
    return result;
}

/* Puts one character where there is room for it and the NUL. */
static void put(char c, char *out, size_t size, size_t *length)
{
    if (*length + 1 < size) {
        out[*length] = c;
        *length += 1;
    }
}

size_t hours_write(int64_t hundredths, char *out, size_t size)
{
    size_t length = 0;
    uint64_t magnitude = hundredths < 0 ? -(uint64_t)hundredths : (uint64_t)hundredths;
    uint64_t decimals = magnitude % 100;
    uint64_t whole = magnitude / 100;
    if (hundredths < 0) {
        put('-', out, size, &length);
    }
    for (uint64_t place = UINT64_C(100000000000000000); place > 0; place /= 10) {
        if (whole >= place || place == 1) {
            put((char)('0' + whole / place % 10), out, size, &length);
        }
    }
    if (decimals > 0) {
        put('.', out, size, &length);
        put((char)('0' + decimals / 10), out, size, &length);
    }
    if (decimals % 10 > 0) {
        put((char)('0' + decimals % 10), out, size, &length);
    }
    if (length < size) {
        out[length] = '\0';
    }
    return length;
}
