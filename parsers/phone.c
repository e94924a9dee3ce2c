/* SPDX-License-Identifier: MIT
 * phone: a telephone number in E.164, or why it is none.
 *
 * The digits are collected first, passing over what people put between them; then the prefix
 * decides: "+", "00" or (from country 1) "011" is followed by a country code; else the number is
 * national, or international with its "+" left off, as some networks send it. */
#include "parsers/phone.h"

#include <string.h>

#define DIGITS_MAX 24 /* more than "011" and the longest number */
#define SHORT_CODE_DIGITS_MAX 6
#define E164_DIGITS_MIN 7     /* no country has shorter numbers: common practice, no source */
#define NANP_DIGITS 11        /* country code 1, then ten digits */
#define NATIONAL_DIGITS_MIN 8 /* after a country code whose "+" was left off */

struct digits {
    size_t count;
    char digit[DIGITS_MAX];
    bool plus;
};

/* What people put between the digits. */
#define BETWEEN " -().\t/"

static enum phone_result collect(const char *text, size_t length, struct digits *digits)
{
    enum phone_result result = PHONE_OK;
    *digits = (struct digits){0};
    for (size_t i = 0; i < length; i++) {
        char c = text[i];
        if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z')) {
            return PHONE_NAME;
        }
        if (c >= '0' && c <= '9' && digits->count < DIGITS_MAX) {
            digits->digit[digits->count] = c;
            digits->count++;
        } else if (c == '+' && digits->count == 0 && !digits->plus) {
            digits->plus = true;
        } else if (c == '\0' || strchr(BETWEEN, c) == NULL) {
            result = PHONE_MALFORMED;
        }
    }
    return result;
}

static bool begin_with(const struct digits *digits, const char *prefix)
{
    for (size_t i = 0; prefix[i] != '\0'; i++) {
        if (i >= digits->count || digits->digit[i] != prefix[i]) {
            return false;
        }
    }
    return true;
}

/* False where there is no room left beside the NUL. */
static bool put(char c, char out[PHONE_OCTETS], size_t *length)
{
    if (*length + 1 >= PHONE_OCTETS) {
        return false;
    }
    out[*length] = c;
    *length += 1;
    return true;
}

/* "+", then country (may be ""), then the digits from `skip` on. */
static bool write_number(const char *country, const struct digits *digits, size_t skip,
                         char out[PHONE_OCTETS])
{
    size_t length = 0;
    bool fits = put('+', out, &length);
    for (size_t i = 0; country[i] != '\0'; i++) {
        fits = put(country[i], out, &length);
    }
    for (size_t i = skip; i < digits->count; i++) {
        fits = put(digits->digit[i], out, &length);
    }
    out[length] = '\0';
    return fits && length > E164_DIGITS_MIN && out[1] != '0';
}

static bool write_by_prefix(const struct digits *digits, const char *country,
                            char out[PHONE_OCTETS])
{
    size_t code = strlen(country);
    bool nanp = strcmp(country, "1") == 0;
    if (digits->plus) {
        return write_number("", digits, 0, out);
    }
    if (begin_with(digits, "00")) {
        return write_number("", digits, 2, out);
    }
    if (nanp && begin_with(digits, "011")) {
        return write_number("", digits, 3, out);
    }
    if (code > 0 && begin_with(digits, country) && digits->count >= code + NATIONAL_DIGITS_MIN) {
        return write_number("", digits, 0, out);
    }
    return code > 0 && write_number(country, digits, begin_with(digits, "0") ? 1 : 0, out);
}

enum phone_result phone_normalise(const char *text, size_t length, const char *country,
                                  char out[PHONE_OCTETS])
{
    struct digits digits;
    enum phone_result result = collect(text, length, &digits);
    memset(out, 0, PHONE_OCTETS);
    if (result != PHONE_OK) {
        return result;
    }
    if (digits.count > 0 && digits.count <= SHORT_CODE_DIGITS_MAX) {
        return PHONE_SHORT_CODE;
    }
    /* The North American plan: ten digits, area and exchange begin with 2 to 9. */
    bool written = write_by_prefix(&digits, country, out);
    bool nanp =
        out[NANP_DIGITS] != '\0' && out[1 + NANP_DIGITS] == '\0' && out[2] >= '2' && out[5] >= '2';
    if (!written || (out[1] == '1' && !nanp)) {
        out[0] = '\0';
        return PHONE_MALFORMED;
    }
    return PHONE_OK;
}
