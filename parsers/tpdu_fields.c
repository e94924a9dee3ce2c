/* SPDX-License-Identifier: MIT
 * tpdu_fields: addresses, time stamps and validity periods of SMS.
 *
 * Semi-octets of an address are counted from the low nibble of the first octet of the value; an odd
 * number of them is padded with F. Every year divisible by four is a leap year in the hundred years
 * that two digits stand for here, 1990 to 2089. */
#include "parsers/tpdu_fields.h"

#define SEMI_OCTETS_MAX 20
#define VALUE_OCTETS (SEMI_OCTETS_MAX / 2)
#define NAME_SEPTETS_MAX (SEMI_OCTETS_MAX * 4 / 7)
#define FILLER 0xFu
#define PLAN_E164 1u
#define NO_EXTENSION 0x80u

/* TS 23.040 9.1.2.3; the filler has no character. */
static const char semi_octets[] = "0123456789*#abc";

static const struct septets_shift default_alphabet = {0, 0};

static uint8_t semi_octet(const uint8_t *value, size_t at)
{
    return at % 2 == 0 ? value[at / 2] & 0xFu : value[at / 2] >> 4;
}

/* Fillers at the end that were counted as digits are let go, as their character is the NUL; a digit
 * after one is an error. */
static bool read_number(const uint8_t *value, size_t count, struct tpdu_address *address)
{
    size_t plus = 0;
    if (address->type == TPDU_NUMBER_TYPE_INTERNATIONAL && semi_octet(value, 0) != FILLER) {
        address->text[0] = '+';
        plus = 1;
    }
    for (size_t at = 0; at < count; at++) {
        uint8_t semi = semi_octet(value, at);
        if (semi != FILLER && at > 0 && semi_octet(value, at - 1) == FILLER) {
            return false;
        }
        address->text[plus + at] = semi_octets[semi];
    }
    address->text[plus + count] = '\0';
    return true;
}

/* The type octet at *at and count semi-octets of value behind it; ill_formed is what to say where
 * they make no address. */
static enum tpdu_error read_typed(const uint8_t *octets, size_t len, size_t *at, size_t count,
                                  enum tpdu_error ill_formed, struct tpdu_address *address)
{
    uint8_t value[VALUE_OCTETS] = {0};
    address->text[0] = '\0';
    if (count > SEMI_OCTETS_MAX) {
        return ill_formed;
    }
    size_t value_len = (count + 1) / 2;
    if (*at >= len) {
        return TPDU_ERROR_CUT;
    }
    address->type = (enum tpdu_number_type)(octets[*at] >> 4 & 7u);
    address->plan = octets[*at] & 0xFu;
    size_t from = *at + 1;
    size_t held = 0;
    for (; held < value_len && from < len; held++, from++) {
        value[held] = octets[from];
    }
    *at = from;
    if (held < value_len) {
        return TPDU_ERROR_CUT;
    }
    if (count > 0 && address->type == TPDU_NUMBER_TYPE_ALPHANUMERIC) {
        uint8_t septets[SEPTETS_MAX] = {0};
        size_t units = septets_unpack(value, VALUE_OCTETS, septets, count * 4 / 7);
        (void)septets_to_utf8(septets, 0, units, default_alphabet, address->text,
                              TPDU_ADDRESS_TEXT_MAX);
    } else if (count > 0 && !read_number(value, count, address)) {
        return ill_formed;
    }
    return TPDU_OK;
}

enum tpdu_error tpdu_address_read(const uint8_t *octets, size_t len, size_t *at,
                                  struct tpdu_address *address)
{
    if (*at >= len) {
        return TPDU_ERROR_CUT;
    }
    size_t count = octets[*at];
    *at += 1;
    return read_typed(octets, len, at, count, TPDU_ERROR_ADDRESS, address);
}

enum tpdu_error tpdu_address_read_centre(const uint8_t *octets, size_t len, size_t *at,
                                         struct tpdu_address *address)
{
    *address = (struct tpdu_address){.type = TPDU_NUMBER_TYPE_UNKNOWN};
    if (*at >= len) {
        return TPDU_ERROR_CUT;
    }
    size_t count = octets[*at];
    *at += 1;
    if (count == 0) {
        return TPDU_OK;
    }
    return read_typed(octets, len, at, (count - 1) * 2, TPDU_ERROR_CENTRE, address);
}

static size_t text_len(const struct tpdu_address *address)
{
    size_t len = 0;
    while (len < TPDU_ADDRESS_TEXT_MAX && address->text[len] != '\0') {
        len++;
    }
    return len;
}

/* Sets value from a number; *count is its semi-octets. */
static bool write_number(const struct tpdu_address *address, uint8_t *value, size_t *count)
{
    size_t len = text_len(address);
    size_t plus = address->type == TPDU_NUMBER_TYPE_INTERNATIONAL && address->text[0] == '+';
    size_t at = plus;
    size_t held = 0;
    for (size_t i = 0; i < VALUE_OCTETS; i++) {
        value[i] = FILLER << 4 | FILLER;
    }
    for (; at < len && held < SEMI_OCTETS_MAX; at++, held++) {
        uint8_t semi = 0;
        while (semi < FILLER && semi_octets[semi] != address->text[at]) {
            semi++;
        }
        if (semi == FILLER) {
            return false;
        }
        unsigned shift = held % 2 * 4;
        value[held / 2] = (uint8_t)((value[held / 2] & ~(0xFu << shift)) | (unsigned)semi << shift);
    }
    *count = held;
    return at == len;
}

static bool write_name(const struct tpdu_address *address, uint8_t *value, size_t *count)
{
    uint8_t septets[NAME_SEPTETS_MAX] = {0};
    size_t len = text_len(address);
    size_t held = 0;
    if (septets_from_utf8(address->text, 0, len, default_alphabet, septets, NAME_SEPTETS_MAX,
                          &held) != len) {
        return false;
    }
    (void)septets_pack(septets, held, value, VALUE_OCTETS);
    *count = (held * 7 + 3) / 4;
    return true;
}

/* Type octet and value from octets[1] on; returns the octets up to the end, or 0. */
static size_t write_typed(const struct tpdu_address *address, uint8_t *octets, size_t *count)
{
    bool name = address->type == TPDU_NUMBER_TYPE_ALPHANUMERIC;
    uint8_t value[VALUE_OCTETS] = {0};
    if (!(name ? write_name(address, value, count) : write_number(address, value, count))) {
        return 0;
    }
    octets[1] =
        (uint8_t)(NO_EXTENSION | ((unsigned)address->type & 7u) << 4 | (address->plan & 0xFu));
    for (size_t i = 0; i < VALUE_OCTETS; i++) {
        octets[2 + i] = value[i];
    }
    return 2 + (*count + 1) / 2;
}

size_t tpdu_address_write(const struct tpdu_address *address, uint8_t *octets)
{
    size_t count = 0;
    size_t len = write_typed(address, octets, &count);
    octets[0] = (uint8_t)count;
    return len;
}

size_t tpdu_address_write_centre(const struct tpdu_address *address, uint8_t *octets)
{
    size_t count = 0;
    if (address->text[0] == '\0') {
        octets[0] = 0;
        return 1;
    }
    size_t len = write_typed(address, octets, &count);
    octets[0] = (uint8_t)(len > 0 ? len - 1 : 0);
    return len;
}

/* Digits, star and hash only, at least one. */
static bool is_number(const char *text, size_t from, size_t to)
{
    for (size_t at = from; at < to; at++) {
        if (!(text[at] >= '0' && text[at] <= '9') && text[at] != '*' && text[at] != '#') {
            return false;
        }
    }
    return from < to;
}

bool tpdu_address_set(struct tpdu_address *address, const char *text, size_t len)
{
    uint8_t octets[TPDU_ADDRESS_OCTETS_MAX];
    *address = (struct tpdu_address){.type = TPDU_NUMBER_TYPE_ALPHANUMERIC};
    if (len == 0 || len >= TPDU_ADDRESS_TEXT_MAX) {
        return false;
    }
    if (text[0] == '+' && is_number(text, 1, len)) {
        address->type = TPDU_NUMBER_TYPE_INTERNATIONAL;
        address->plan = PLAN_E164;
    } else if (is_number(text, 0, len)) {
        address->type = TPDU_NUMBER_TYPE_UNKNOWN;
        address->plan = PLAN_E164;
    }
    for (size_t i = 0; i < len; i++) {
        address->text[i] = text[i];
    }
    return text_len(address) == len && tpdu_address_write(address, octets) > 0;
}

#define FIRST_YEAR 1990
#define FIRST_YEAR_S INT64_C(631152000)
#define YEARS 100
#define ZONE_QUARTERS_MAX 79
#define ZONE_NEGATIVE 0x8u
#define MINUTE_S 60
#define QUARTER_S (15 * MINUTE_S)
#define HOUR_S (60 * MINUTE_S)
#define DAY_S (24 * HOUR_S)

static const uint8_t month_days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

static int days_in_month(int year, int month)
{
    return month_days[month - 1] + (month == 2 && year % 4 == 0);
}

static int days_in_year(int year)
{
    return year % 4 == 0 ? 366 : 365;
}

/* Two semi-octets, tens in the low one; *decimal is cleared where one is no digit. */
static uint8_t read_pair(uint8_t octet, bool *decimal)
{
    unsigned tens = octet & 0xFu;
    unsigned units = octet >> 4;
    *decimal = *decimal && tens <= 9 && units <= 9;
    return (uint8_t)(tens * 10 + units);
}

/* True where there is such a day and time; *days: since 1970-01-01. */
static bool exists(const struct tpdu_time *time, int32_t *days)
{
    static const int32_t days_before[] = {0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334};
    int year = time->year + (time->year >= FIRST_YEAR % 100 ? 1900 : 2000);
    int month = time->month;
    if (month < 1 || month > 12 || time->day < 1 || time->day > days_in_month(year, month)) {
        return false;
    }
    *days = (year - 1970) * 365 + (year - 1969) / 4 + days_before[month - 1] +
            (month > 2 && year % 4 == 0) + time->day - 1;
    return time->hour < 24 && time->minute < 60 && time->second < 60;
}

void tpdu_time_read(const uint8_t *octets, size_t at, struct tpdu_time *time)
{
    bool decimal = true;
    int32_t days = 0;
    time->year = read_pair(octets[at], &decimal);
    time->month = read_pair(octets[at + 1], &decimal);
    time->day = read_pair(octets[at + 2], &decimal);
    time->hour = read_pair(octets[at + 3], &decimal);
    time->minute = read_pair(octets[at + 4], &decimal);
    time->second = read_pair(octets[at + 5], &decimal);
    bool negative = (octets[at + 6] & ZONE_NEGATIVE) != 0;
    uint8_t quarters = read_pair(octets[at + 6] & (uint8_t)~ZONE_NEGATIVE, &decimal);
    time->zone_quarters = (int16_t)(negative ? -quarters : quarters);
    time->valid = decimal && exists(time, &days);
}

static uint8_t pair_of(unsigned value)
{
    return (uint8_t)(value % 10 << 4 | value / 10);
}

bool tpdu_time_write(const struct tpdu_time *time, uint8_t *octets, size_t at)
{
    int32_t days = 0;
    int zone = time->zone_quarters;
    if (!time->valid || time->year >= YEARS || !exists(time, &days) || zone < -ZONE_QUARTERS_MAX ||
        zone > ZONE_QUARTERS_MAX) {
        return false;
    }
    octets[at] = pair_of(time->year);
    octets[at + 1] = pair_of(time->month);
    octets[at + 2] = pair_of(time->day);
    octets[at + 3] = pair_of(time->hour);
    octets[at + 4] = pair_of(time->minute);
    octets[at + 5] = pair_of(time->second);
    octets[at + 6] =
        (uint8_t)(zone < 0 ? pair_of((unsigned)-zone) | ZONE_NEGATIVE : pair_of((unsigned)zone));
    return true;
}

bool tpdu_time_unix(const struct tpdu_time *time, int64_t *unix_s)
{
    int32_t days = 0;
    *unix_s = 0;
    if (!time->valid || !exists(time, &days)) {
        return false;
    }
    *unix_s = (int64_t)days * DAY_S + time->hour * HOUR_S + time->minute * MINUTE_S + time->second -
              (int64_t)time->zone_quarters * QUARTER_S;
    return true;
}

bool tpdu_time_set(struct tpdu_time *time, int64_t unix_s, int zone_quarters)
{
    *time = (struct tpdu_time){0};
    if (unix_s < 0 || unix_s > UINT32_MAX || zone_quarters < -ZONE_QUARTERS_MAX ||
        zone_quarters > ZONE_QUARTERS_MAX) {
        return false;
    }
    int64_t local_s = unix_s + (int64_t)zone_quarters * QUARTER_S - FIRST_YEAR_S;
    int64_t days = local_s / DAY_S;
    int year = FIRST_YEAR;
    for (; year < FIRST_YEAR + YEARS && days >= days_in_year(year); year++) {
        days -= days_in_year(year);
    }
    if (local_s < 0 || year == FIRST_YEAR + YEARS) {
        return false;
    }
    int month = 1;
    for (; month < 12 && days >= days_in_month(year, month); month++) {
        days -= days_in_month(year, month);
    }
    *time = (struct tpdu_time){
        .year = (uint8_t)(year % 100),
        .month = (uint8_t)month,
        .day = (uint8_t)(days + 1),
        .hour = (uint8_t)(local_s % DAY_S / HOUR_S),
        .minute = (uint8_t)(local_s % HOUR_S / MINUTE_S),
        .second = (uint8_t)(local_s % MINUTE_S),
        .zone_quarters = (int16_t)zone_quarters,
        .valid = true,
    };
    return true;
}

#define WEEK_S (7 * DAY_S)

/* Octet 1 of the enhanced form. */
#define EXTENDED 0x80u
#define SINGLE_SHOT 0x40u
#define PERIOD_FORMAT 0x07u

static int32_t relative_s(uint8_t value)
{
    if (value <= 143) {
        return (value + 1) * 5 * MINUTE_S;
    }
    if (value <= 167) {
        return 12 * HOUR_S + (value - 143) * 30 * MINUTE_S;
    }
    return value <= 196 ? (value - 166) * DAY_S : (value - 192) * WEEK_S;
}

/* A further indicator octet (extension) moves the period by one; none is defined, so one is all we
 * follow. */
static int32_t enhanced_s(const uint8_t octets[TPDU_TIME_OCTETS])
{
    size_t at = (octets[0] & EXTENDED) != 0 ? 2 : 1;
    bool decimal = true;
    int32_t hours = read_pair(octets[at], &decimal);
    int32_t minutes = read_pair(octets[at + 1], &decimal);
    int32_t seconds = read_pair(octets[at + 2], &decimal);
    switch (octets[0] & PERIOD_FORMAT) {
    case 1:
        return relative_s(octets[at]);
    case 2:
        return octets[at] > 0 ? octets[at] : TPDU_VALIDITY_UNKNOWN_S;
    case 3:
        return decimal ? hours * HOUR_S + minutes * MINUTE_S + seconds : TPDU_VALIDITY_UNKNOWN_S;
    default: /* no period, or a reserved format */
        return TPDU_VALIDITY_UNKNOWN_S;
    }
}

size_t tpdu_validity_octets(enum tpdu_validity_form form)
{
    if (form == TPDU_VALIDITY_FORM_NONE) {
        return 0;
    }
    return form == TPDU_VALIDITY_FORM_RELATIVE ? 1 : TPDU_TIME_OCTETS;
}

/* What the filled-in form and octets say. */
static void interpret(struct tpdu_validity *validity)
{
    validity->period_s = TPDU_VALIDITY_UNKNOWN_S;
    if (validity->form == TPDU_VALIDITY_FORM_RELATIVE) {
        validity->period_s = relative_s(validity->octets[0]);
    } else if (validity->form == TPDU_VALIDITY_FORM_ENHANCED) {
        validity->single_shot = (validity->octets[0] & SINGLE_SHOT) != 0;
        validity->period_s = enhanced_s(validity->octets);
    } else if (validity->form == TPDU_VALIDITY_FORM_ABSOLUTE) {
        tpdu_time_read(validity->octets, 0, &validity->until);
    }
}

bool tpdu_validity_read(const uint8_t *octets, size_t len, size_t *at, enum tpdu_validity_form form,
                        struct tpdu_validity *validity)
{
    size_t need = tpdu_validity_octets(form);
    size_t from = *at;
    size_t held = 0;
    *validity = (struct tpdu_validity){.form = form};
    for (; held < need && from < len; held++, from++) {
        validity->octets[held] = octets[from];
    }
    *at = from;
    interpret(validity);
    return held == need;
}

void tpdu_validity_set(struct tpdu_validity *validity, int64_t period_s)
{
    *validity = (struct tpdu_validity){.form = TPDU_VALIDITY_FORM_NONE};
    if (period_s > 0) {
        uint8_t value = 0;
        while (value < UINT8_MAX && relative_s(value) < period_s) {
            value++;
        }
        validity->form = TPDU_VALIDITY_FORM_RELATIVE;
        validity->octets[0] = value;
    }
    interpret(validity);
}
