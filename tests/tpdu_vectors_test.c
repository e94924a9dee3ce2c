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
#include "parsers/tpdu_write.h"
#include "parsers/utf8.h"

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
/* What the file has no column for. Fields of the kinds that a row is not of are left at zero. */
static const struct {
    const char *hex;
    enum tpdu_kind kind;
    uint8_t octets;
    const char *centre;
    const char *other;
    enum tpdu_number_type type;
    uint8_t plan;
    uint8_t protocol;
    uint8_t dcs;
    struct tpdu_time sent_at;
    struct tpdu_time done_at;
    bool more_waiting, report_wanted;
    uint8_t reference, status;
    enum tpdu_outcome outcome;
    int32_t validity_s;
    uint8_t length;
    struct tpdu_concat concat;
    const char *text;
} published[] = {
    {.hex = "07911326040000F0040B911346610089F60000208062917314480CC8F71D14969741F977FD07",
     .octets = 30,
     .centre = "+31624000000",
     .other = "+31641600986",
     .type = 1,
     .plan = 1,
     .sent_at = {2, 8, 26, 19, 37, 41, -4, true},
     .length = 12,
     .text = "How are you?"},
    {.hex = "0791447758100650040DD0F334FC1CA6970100008080312170224008D4F29CDE0EA7D9",
     .octets = 27,
     .centre = "+447785016005",
     .other = "sipgate",
     .type = 5,
     .sent_at = {8, 8, 13, 12, 7, 22, 4, true},
     .length = 8,
     .text = "Testmail"},
    {.hex = "07912143658709F1040B918100551512F20000111010214365000AE8329BFD4697D9EC37",
     .octets = 28,
     .centre = "+12345678901",
     .other = "+18005551212",
     .type = 1,
     .plan = 1,
     .sent_at = {11, 1, 1, 12, 34, 56, 0, true},
     .length = 10,
     .text = "hellohello"},
    {.hex = "07919730071111F10414D04937BD2C7797E9D3E614000811309291024061080442043504410442",
     .octets = 31,
     .centre = "+79037011111",
     .other = "InternetSMS",
     .type = 5,
     .dcs = 8,
     .sent_at = {11, 3, 29, 19, 20, 4, 16, true},
     .length = 8,
     .text = "тест"},
    {.hex = "0011000B916407281553F80000AA0AE8329BFD4697D9EC37",
     .kind = TPDU_KIND_SUBMIT,
     .octets = 23,
     .centre = "",
     .other = "+46708251358",
     .type = 1,
     .plan = 1,
     .validity_s = 4 * 86400,
     .length = 10,
     .text = "hellohello"},
    {.hex = "0011000B915155551532F400000036C834888E2ECBCB2E978B5A2F8362373A1AA40CBB4132584C0682D574"
            "33982B8603C1DB20D4B1495DC552200804028100",
     .kind = TPDU_KIND_SUBMIT,
     .octets = 62,
     .centre = "",
     .other = "+15555551234",
     .type = 1,
     .plan = 1,
     .validity_s = 5 * 60,
     .length = 54,
     .text = "Hi there...Tue 17th Jan 2012 05:30.18 pm (GMT+1) ΔΔΔΔΔ"},
    {.hex = "07912160130320F5440B916171056429F5000021405291650569A00500034C0201A9E8F41C949E83C2207B"
            "599E07B1DFEE33885E9ED341E4F23C7D7697C920FA1B54C697E5E3F4BC0C6AD7D9F434081E96D341E3303C"
            "2C4EB3D3F4BC0B94A483E6E8779D4D06CDD1EF3BA80E0785E7A0B7BB0C6A97E7F3F0B9CC02B9DF7450780E"
            "A2DFDF2C50780EA2A3CBA0BA9B5C96B3F369F71954768FDFE4B4FB0C9297E1F2F2BCECA6CF41",
     .octets = 159,
     .centre = "+12063130025",
     .other = "+16175046925",
     .type = 1,
     .plan = 1,
     .sent_at = {12, 4, 25, 19, 56, 50, -16, true},
     .length = 160,
     .concat = {true, false, 0x4C, 2, 1},
     .text = "This is a very long test designed to exercise multi part capability. It should show "
             "up as one message, not as two, as the underlying encoding represents "},
    {.hex = "07912160130320F6440B916171056429F5000021405291651569320500034C0202E9E8301D44479741F0B0"
            "9C3E0785E56590BCCC0ED3CB6410FD0D7ABBCBA0B0FB4D4797E52E10",
     .octets = 63,
     .centre = "+12063130026",
     .other = "+16175046925",
     .type = 1,
     .plan = 1,
     .sent_at = {12, 4, 25, 19, 56, 51, -16, true},
     .length = 50,
     .concat = {true, false, 0x4C, 2, 2},
     .text = "that the parts are related to one another. "},
    {.hex = "07914356060013F1065A098136397339F7219011700463802190117004638030",
     .kind = TPDU_KIND_STATUS_REPORT,
     .octets = 24,
     .centre = "+34656000311",
     .other = "639337937",
     .plan = 1,
     .sent_at = {12, 9, 11, 7, 40, 36, 8, true},
     .done_at = {12, 9, 11, 7, 40, 36, 8, true},
     .reference = 90,
     .status = 0x30,
     .outcome = TPDU_OUTCOME_TRYING},
    {.hex = "0006040D91945152991136F00160124130340A0160124130940A00",
     .kind = TPDU_KIND_STATUS_REPORT,
     .octets = 26,
     .centre = "",
     .other = "+4915259911630",
     .type = 1,
     .plan = 1,
     .sent_at = {10, 6, 21, 14, 3, 43, -20, true},
     .done_at = {10, 6, 21, 14, 3, 49, -20, true},
     .reference = 4},
    {.hex = "000606098121436587F9019012413064A0019012413045A000",
     .kind = TPDU_KIND_STATUS_REPORT,
     .octets = 24,
     .centre = "",
     .other = "123456789",
     .plan = 1,
     .sent_at = {10, 9, 21, 14, 3, 46, 10, false}, /* the zone has a digit above nine */
     .done_at = {10, 9, 21, 14, 3, 54, 10, false},
     .reference = 6},
    {.hex = "07911356131313F64004850120390011609232239180A006080400100201D7327BFD6EB340E2321BF46E83"
            "EA7790F59D1E97DBE1341B442F83C465763D3DA797E56537C81D0ECB41AB59CC1693C16031D96C064241E5"
            "656838AF03A96230982A269BCD462917C8FA4E8FCBED709A0D7ABBE9F6B0FB5C7683D27350984D4FABC9A0"
            "B33C4C4FCF5D20EBFB2D079DCB62793DBD06D9C36E50FB2D4E97D9A0B49B5E96BBCB",
     .octets = 155,
     .centre = "+31653131316",
     .other = "1002",
     .plan = 5,
     .protocol = 0x39,
     .sent_at = {11, 6, 29, 23, 32, 19, 8, true},
     .more_waiting = true,
     .length = 160,
     .concat = {true, true, 0x0010, 2, 1},
     .text = "Welkom, bel om uw Voicemail te beluisteren naar +31612001233 (PrePay: *100*1233#). "
             "Voicemail ontvangen is altijd gratis. Voor gebruik van mobiel interne"},
    {.hex = "079153485002020911000C915348870420140000A71154747A0E4ACF41F4F29C9E769F4121",
     .kind = TPDU_KIND_SUBMIT,
     .octets = 29,
     .centre = "+358405202090",
     .other = "+358478400241",
     .type = 1,
     .plan = 1,
     .validity_s = 86400,
     .length = 17,
     .text = "This is testing !"},
    {.hex = "002100098136397339F70008224F60597D4F60597D4F60597D4F60597D4F60597D4F60597D4F60597D4F60"
            "597D4F60",
     .kind = TPDU_KIND_SUBMIT,
     .octets = 46,
     .centre = "",
     .other = "639337937",
     .plan = 1,
     .dcs = 8,
     .report_wanted = true,
     .validity_s = TPDU_VALIDITY_UNKNOWN_S,
     .length = 34,
     .text = "你好你好你好你好你好你好你好你好你"},
    {.hex = "07913366002020F8040B913366600600F100C83180706174148000",
     .octets = 19,
     .centre = "+33660002028",
     .other = "+33660660001",
     .type = 1,
     .plan = 1,
     .dcs = 0xC8,
     .sent_at = {13, 8, 7, 16, 47, 41, 8, true},
     .text = ""},
};
#define PUBLISHED (sizeof published / sizeof published[0])

static void assert_same_time(const struct tpdu_time *got, const struct tpdu_time *wanted)
{
    assert_int_equal(got->year, wanted->year);
    assert_int_equal(got->month, wanted->month);
    assert_int_equal(got->day, wanted->day);
    assert_int_equal(got->hour, wanted->hour);
    assert_int_equal(got->minute, wanted->minute);
    assert_int_equal(got->second, wanted->second);
    assert_int_equal(got->zone_quarters, wanted->zone_quarters);
    assert_int_equal(got->valid, wanted->valid);
}

static void assert_kind(size_t row, const struct tpdu *tpdu)
{
    if (tpdu->kind == TPDU_KIND_DELIVER) {
        assert_same_time(&tpdu->deliver.sent_at, &published[row].sent_at);
        assert_int_equal(tpdu->deliver.more_waiting, published[row].more_waiting);
        assert_int_equal(tpdu->deliver.report_wanted, published[row].report_wanted);
        assert_false(tpdu->deliver.reserved_type);
    } else if (tpdu->kind == TPDU_KIND_SUBMIT) {
        assert_int_equal(tpdu->submit.reference, published[row].reference);
        assert_int_equal(tpdu->submit.report_wanted, published[row].report_wanted);
        assert_int_equal(tpdu->submit.validity.period_s, published[row].validity_s);
        assert_false(tpdu->submit.reject_duplicates);
    } else {
        assert_same_time(&tpdu->report.sent_at, &published[row].sent_at);
        assert_same_time(&tpdu->report.done_at, &published[row].done_at);
        assert_int_equal(tpdu->report.reference, published[row].reference);
        assert_int_equal(tpdu->report.status, published[row].status);
        assert_int_equal(tpdu->report.outcome, published[row].outcome);
        assert_false(tpdu->report.more_waiting);
        assert_false(tpdu->report.of_command);
        assert_false(tpdu->report.has_user);
    }
}

static void each_field_of_the_published_ones_reads_as_it_should(void **state)
{
    (void)state;
    for (size_t row = 0; row < PUBLISHED; row++) {
        struct tpdu tpdu;
        const char *hex = published[row].hex;
        const char *text = published[row].text != NULL ? published[row].text : "";
        assert_int_equal(tpdu_from_hex(hex, strlen(hex), &tpdu), TPDU_OK);
        assert_int_equal(tpdu.kind, published[row].kind);
        assert_int_equal(tpdu.octets, published[row].octets);
        assert_string_equal(tpdu.centre.text, published[row].centre);
        assert_int_equal(tpdu.centre.type, published[row].centre[0] == '+');
        assert_string_equal(tpdu.other.text, published[row].other);
        assert_int_equal(tpdu.other.type, published[row].type);
        assert_int_equal(tpdu.other.plan, published[row].plan);
        assert_int_equal(tpdu.protocol, published[row].protocol);
        assert_false(tpdu.reply_path);
        assert_false(tpdu.loop_prevention);
        assert_kind(row, &tpdu);
        assert_int_equal(tpdu.user.coding.dcs, published[row].dcs);
        assert_int_equal(tpdu.user.coding.class, TPDU_CLASS_NONE);
        assert_int_equal(tpdu.user.length, published[row].length);
        assert_int_equal(tpdu.user.waiting.present, published[row].dcs == 0xC8);
        assert_int_equal(tpdu.user.waiting.active, published[row].dcs == 0xC8);
        assert_memory_equal(&tpdu.user.concat, &published[row].concat, sizeof tpdu.user.concat);
        assert_int_equal(tpdu.user.has_header, published[row].concat.present);
        assert_false(tpdu.user.header_ill_formed);
        assert_false(tpdu.user.ports.present);
        assert_string_equal(tpdu.user.text, text);
    }
}

/* Those that a writer would write so: no fillers, spare bits zero, TP-PI said in each report. */
static void the_published_ones_are_written_as_they_were(void **state)
{
    (void)state;
    for (size_t row = 0; row < PUBLISHED; row++) {
        struct tpdu tpdu;
        struct tpdu_line line;
        const char *hex = published[row].hex;
        assert_int_equal(tpdu_from_hex(hex, strlen(hex), &tpdu), TPDU_OK);
        if (tpdu.kind == TPDU_KIND_STATUS_REPORT) {
            continue;
        }
        assert_int_equal(tpdu_write(&tpdu, &line), TPDU_OK);
        assert_string_equal(line.hex, hex);
        assert_int_equal(line.hex_len, strlen(hex));
        assert_int_equal(line.tpdu_octets, published[row].octets);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_row_of_the_vector_file_reads_as_it_says),
        cmocka_unit_test(each_field_of_the_published_ones_reads_as_it_should),
        cmocka_unit_test(the_published_ones_are_written_as_they_were),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
