/* SPDX-License-Identifier: MIT
 *
 * Published short messages, read field by field. fixtures/vectors/tpdu-vectors.tsv names the source
 * of each of its own; the table here has those of oFono's unit/test-sms.c and ModemManager's
 * src/tests/test-sms-part-3gpp.c with the fields that the file has no column for. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "parsers/tpdu.h"
#include "parsers/ucs2.h"

#define COLUMNS 11
enum column { NAME, DIRECTION, HEX, TYPE, DIGITS, NUMBER_TYPE, DCS, TIME, CONCAT, TEXT, NOTE };

/* Cuts a line at its tabs; absent columns at the end are empty. */
static void cut(char *line, const char *columns[COLUMNS])
{
    line[strcspn(line, "\r\n")] = '\0';
    for (size_t c = 0; c < COLUMNS; c++) {
        size_t len = strcspn(line, "\t");
        columns[c] = line;
        line += line[len] == '\t' ? len + 1 : len;
    }
    for (size_t c = 0; c < COLUMNS; c++) {
        ((char *)columns[c])[strcspn(columns[c], "\t")] = '\0';
    }
}

/* A JSON string of ASCII with \uXXXX, by way of UCS-2. */
static void text_of_json(const char *json, char *text, size_t text_max)
{
    uint8_t octets[1024];
    size_t len = 0;
    bool damaged = false;
    for (size_t i = 1; json[i] != '\0' && json[i + 1] != '\0'; i++) {
        unsigned unit = (unsigned char)json[i];
        if (json[i] == '\\') {
            i++;
            unsigned escape = (unsigned char)json[i];
            unit = escape == 'n' ? '\n' : escape == 'r' ? '\r' : escape;
            if (escape == 'u') {
                assert_int_equal(sscanf(json + i + 1, "%4x", &unit), 1);
                i += 4;
            }
        }
        assert_true(len + 2 <= sizeof octets);
        octets[len++] = (uint8_t)(unit >> 8);
        octets[len++] = (uint8_t)(unit & 0xFF);
    }
    (void)ucs2_to_utf8(octets, 0, len, text, text_max, &damaged);
    assert_false(damaged);
}

static void assert_time(const struct tpdu_time *time, const char *expected)
{
    int year, month, day, hour, minute, second, zone_h, zone_m;
    char sign = '\0';
    assert_int_equal(sscanf(expected, "%d-%d-%dT%d:%d:%d%c%d:%d", &year, &month, &day, &hour,
                            &minute, &second, &sign, &zone_h, &zone_m),
                     9);
    int quarters = zone_h * 4 + zone_m / 15;
    assert_int_equal(2000 + time->year, year);
    assert_int_equal(time->month, month);
    assert_int_equal(time->day, day);
    assert_int_equal(time->hour, hour);
    assert_int_equal(time->minute, minute);
    assert_int_equal(time->second, second);
    assert_int_equal(time->zone_quarters, sign == '-' ? -quarters : quarters);
}

static void assert_concat(const struct tpdu_concat *concat, const char *expected)
{
    unsigned reference = 0, parts = 0, part = 0;
    assert_int_equal(concat->present, sscanf(expected, "%u/%u/%u", &reference, &parts, &part) == 3);
    assert_int_equal(concat->reference, reference);
    assert_int_equal(concat->parts, parts);
    assert_int_equal(concat->part, part);
}

static void assert_row(const char *columns[COLUMNS])
{
    static const enum tpdu_kind kinds[] = {TPDU_KIND_DELIVER, TPDU_KIND_SUBMIT,
                                           TPDU_KIND_STATUS_REPORT};
    struct tpdu tpdu;
    enum tpdu_error error = tpdu_from_hex(columns[HEX], strlen(columns[HEX]), &tpdu);
    if (strcmp(columns[NOTE], "malformed") == 0) {
        assert_int_equal(error, TPDU_ERROR_USER_CUT);
        return;
    }
    assert_int_equal(error, TPDU_OK);
    assert_int_equal(tpdu.kind, kinds[atoi(columns[TYPE])]);
    bool plus = tpdu.other.type == TPDU_NUMBER_TYPE_INTERNATIONAL;
    assert_int_equal(tpdu.other.type, atoi(columns[NUMBER_TYPE]));
    assert_string_equal(tpdu.other.text + plus, columns[DIGITS]);
    assert_int_equal(plus, tpdu.other.text[0] == '+');
    assert_int_equal(tpdu.user.coding.dcs, atoi(columns[DCS]));
    if (tpdu.kind != TPDU_KIND_SUBMIT) {
        bool report = tpdu.kind == TPDU_KIND_STATUS_REPORT;
        assert_time(report ? &tpdu.report.sent_at : &tpdu.deliver.sent_at, columns[TIME]);
    }
    assert_concat(&tpdu.user.concat, columns[CONCAT]);
    char text[TPDU_TEXT_OCTETS_MAX * 4] = "";
    if (columns[TEXT][0] != '\0') {
        text_of_json(columns[TEXT], text, sizeof text);
    }
    assert_string_equal(tpdu.user.text, text);
    assert_int_equal(tpdu.user.text_len, strlen(text));
    assert_false(tpdu.user.text_damaged);
}

static void each_row_of_the_vector_file_reads_as_it_says(void **state)
{
    (void)state;
    FILE *file = fopen("fixtures/vectors/tpdu-vectors.tsv", "r");
    assert_non_null(file);
    char line[2048];
    int rows = 0;
    while (fgets(line, sizeof line, file) != NULL) {
        const char *columns[COLUMNS];
        if (line[0] != '#') {
            cut(line, columns);
            assert_row(columns);
            rows++;
        }
    }
    (void)fclose(file);
    assert_int_equal(rows, 39);
}
int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_row_of_the_vector_file_reads_as_it_says),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
