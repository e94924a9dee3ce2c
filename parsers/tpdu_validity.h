/* SPDX-License-Identifier: MIT
 *
 * Validity periods of SMS, 3GPP TS 23.040 9.2.3.12: how long the service centre is to keep
 * trying. */
#ifndef METERPOST_PARSERS_TPDU_VALIDITY_H
#define METERPOST_PARSERS_TPDU_VALIDITY_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "parsers/tpdu_time.h"

/* The values are those of TP-VPF, TS 23.040 9.2.3.3. */
enum tpdu_validity_form {
    TPDU_VALIDITY_FORM_NONE = 0,
    TPDU_VALIDITY_FORM_ENHANCED = 1,
    TPDU_VALIDITY_FORM_RELATIVE = 2,
    TPDU_VALIDITY_FORM_ABSOLUTE = 3
};

#define TPDU_VALIDITY_UNKNOWN_S (-1)

struct tpdu_validity {
    enum tpdu_validity_form form;
    uint8_t octets[TPDU_TIME_OCTETS]; /* as carried: none, one (relative), or seven */
    int32_t period_s; /* relative, and enhanced where it says one; else TPDU_VALIDITY_UNKNOWN_S */
    bool single_shot; /* enhanced: the service centre is to try once only */
    struct tpdu_time until; /* absolute */
};

/* No validity period (the service centre's own holds) for period_s <= 0, else the shortest relative
 * one that lasts at least period_s seconds: 5 minutes to 63 weeks. */
void tpdu_validity_set(struct tpdu_validity *validity, int64_t period_s);

/* For tpdu.c: reads the octets that the form takes from octets[*at] on and moves *at past them.
 * False where octets[len - 1] comes too early. */
bool tpdu_validity_read(const uint8_t *octets, size_t len, size_t *at, enum tpdu_validity_form form,
                        struct tpdu_validity *validity);

/* Octets that a form takes: 0, 1 or 7. */
size_t tpdu_validity_octets(enum tpdu_validity_form form);

#endif
