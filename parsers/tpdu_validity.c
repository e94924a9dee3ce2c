/* SPDX-License-Identifier: MIT
 *
 * Validity periods of SMS. */
#include "parsers/tpdu_validity.h"

#define MINUTE_S 60
#define HOUR_S (60 * MINUTE_S)
#define DAY_S (24 * HOUR_S)
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

/* Two decimal digits, or TPDU_VALIDITY_UNKNOWN_S. */
static int32_t pair(uint8_t octet)
{
    int32_t tens = octet & 0xF;
    int32_t units = octet >> 4;
    return tens > 9 || units > 9 ? TPDU_VALIDITY_UNKNOWN_S : tens * 10 + units;
}

static int32_t clock_s(const uint8_t *octets, size_t at)
{
    int32_t hours = pair(octets[at]);
    int32_t minutes = pair(octets[at + 1]);
    int32_t seconds = pair(octets[at + 2]);
    if (hours < 0 || minutes < 0 || seconds < 0) {
        return TPDU_VALIDITY_UNKNOWN_S;
    }
    return hours * HOUR_S + minutes * MINUTE_S + seconds;
}

/* A further indicator octet (extension) moves the period by one; none is defined, so one is all we
 * follow. */
static int32_t enhanced_s(const uint8_t octets[TPDU_TIME_OCTETS])
{
    size_t at = (octets[0] & EXTENDED) != 0 ? 2 : 1;
    switch (octets[0] & PERIOD_FORMAT) {
    case 1:
        return relative_s(octets[at]);
    case 2:
        return octets[at] > 0 ? octets[at] : TPDU_VALIDITY_UNKNOWN_S;
    case 3:
        return clock_s(octets, at);
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
