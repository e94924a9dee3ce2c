/* SPDX-License-Identifier: MIT
 * What a modem says, by V.250, TS 27.005 and TS 27.007, and by the public reports of what some say
 * instead. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "parsers/at_line.h"

/* Feeds text in pieces of the given size and writes down the events: lines in brackets, "P" for a
 * prompt, "X" for a line that did not fit. */
static void events_of(const char *text, size_t count, size_t piece, char *out, size_t size)
{
    static struct at_line line;
    size_t fed = 0;
    line = (struct at_line){.prompt_wanted = true};
    out[0] = '\0';
    while (fed < count) {
        enum at_event event = AT_EVENT_NONE;
        size_t left = count - fed < piece ? count - fed : piece;
        size_t used = at_line_feed(&line, (const uint8_t *)text + fed, left, &event);
        assert_true(used > 0 && used <= left);
        fed += used;
        size_t end = strlen(out);
        switch (event) {
        case AT_EVENT_LINE:
            assert_int_equal(strlen(line.text), line.length);
            snprintf(out + end, size - end, "[%s]", line.text);
            break;
        case AT_EVENT_PROMPT:
            snprintf(out + end, size - end, "P");
            break;
        case AT_EVENT_OVERLONG:
            snprintf(out + end, size - end, "X");
            break;
        case AT_EVENT_NONE:
            break;
        }
    }
}

static void lines_are_found_however_they_are_cut(void **state)
{
    static const struct {
        const char *text, *events;
    } cases[] = {
        {"\r\nOK\r\n", "[OK]"},
        {"OK\r\n\r\n\r\nERROR\r", "[OK][ERROR]"},
        {"AT+CMGF=0\r\r\nOK\r\n", "[AT+CMGF=0][OK]"},
        {"\r\n> ", "P"},
        {"\r\n>", "P"},
        {"AT+CMGS=20\r\r\n> \r\n+CMTI: \"SM\",3\r\n", "[AT+CMGS=20]P[+CMTI: \"SM\",3]"},
        {"\r\n+CMTI: \"SM\",3\r\n\r\n> ", "[+CMTI: \"SM\",3]P"},
        {"  spaces around  \r\n", "[spaces around]"},
        {"a > b\r\n", "[a > b]"},
        {"\x1bOK\x1a\r\n", "[OK]"},
        {"O\x7fK\r\n", "[OK]"},
        {"\r\n \r\n", ""},
        {"no end", ""},
        {"", ""},
    };
    char out[256];
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        for (size_t piece = 1; piece < 40; piece++) {
            events_of(cases[i].text, strlen(cases[i].text), piece, out, sizeof out);
            assert_string_equal(out, cases[i].events);
        }
    }
}

static void a_nul_octet_is_dropped(void **state)
{
    char out[64];
    (void)state;
    events_of("\0O\0K\r\n", 6, 6, out, sizeof out);
    assert_string_equal(out, "[OK]");
}

static void a_prompt_counts_only_where_one_is_awaited(void **state)
{
    struct at_line line = {.prompt_wanted = false};
    enum at_event event = AT_EVENT_NONE;
    (void)state;
    assert_int_equal(at_line_feed(&line, (const uint8_t *)"> x\r", 4, &event), 4);
    assert_int_equal(event, AT_EVENT_LINE);
    assert_string_equal(line.text, "> x");
}

static void a_line_too_long_is_told_and_the_next_is_whole(void **state)
{
    char text[AT_LINE_OCTETS + 8], out[AT_LINE_OCTETS + 64];
    (void)state;
    memset(text, 'A', sizeof text);
    text[AT_LINE_OCTETS - 1] = '\r';
    memcpy(text + AT_LINE_OCTETS, "OK\r", 3);
    events_of(text, AT_LINE_OCTETS + 3, 7, out, sizeof out);
    assert_int_equal(strlen(out), AT_LINE_OCTETS - 1 + 2 + 4); /* the longest that fits, and OK */
    memset(text, 'A', sizeof text);
    text[AT_LINE_OCTETS] = '\r';
    memcpy(text + AT_LINE_OCTETS + 1, "OK\r", 3);
    events_of(text, AT_LINE_OCTETS + 4, 7, out, sizeof out);
    assert_string_equal(out, "X[OK]");
}

static void each_kind_of_line_is_known(void **state)
{
    static const struct {
        const char *text;
        enum at_kind kind;
        int32_t code;
    } cases[] = {
        {"OK", AT_KIND_OK, -1},
        {"ok", AT_KIND_OK, -1},
        {"0", AT_KIND_OK, -1},
        {"OKAY", AT_KIND_OTHER, -1},
        {"{OK", AT_KIND_OTHER, -1},
        {"ERROR", AT_KIND_ERROR, -1},
        {"4", AT_KIND_ERROR, -1},
        {"COMMAND NOT SUPPORT", AT_KIND_ERROR, -1},
        {"NA", AT_KIND_ERROR, -1},
        {"MODEM ERROR: 7", AT_KIND_ERROR, -1},
        {"+CMS ERROR: 331", AT_KIND_CMS_ERROR, 331},
        {"+CMS ERROR:500", AT_KIND_CMS_ERROR, 500},
        {"+cms error: 42", AT_KIND_CMS_ERROR, 42},
        {"+CMS ERROR: network timeout", AT_KIND_CMS_ERROR, -1},
        {"+CMS ERROR", AT_KIND_CMS_ERROR, -1},
        {"+CMS ERROR: 99999999999", AT_KIND_CMS_ERROR, -1},
        {"+CME ERROR: 10", AT_KIND_CME_ERROR, 10},
        {"+CMTI: \"SM\",3", AT_KIND_CMTI, -1},
        {"+CDSI: \"SR\",1", AT_KIND_CDSI, -1},
        {"+CMT: ,24", AT_KIND_CMT, -1},
        {"+CDS: 24", AT_KIND_CDS, -1},
        {"+CDS: ,24", AT_KIND_CDS, -1},
        {"+CBM: 88", AT_KIND_CBM, -1},
        {"+CREG: 1", AT_KIND_REGISTRATION, 1},
        {"+CEREG: 5", AT_KIND_REGISTRATION, 5},
        {"+CGREG: 2,\"00C3\",\"1A2B\"", AT_KIND_REGISTRATION, 2},
        {"+CREG: 1,00C3,1A2B", AT_KIND_REGISTRATION, 1},
        {"+CREG: 2,1", AT_KIND_OTHER, -1},
        {"+CREG: 2,1,\"00C3\",\"1A2B\",7", AT_KIND_OTHER, -1},
        {"RING", AT_KIND_RING, -1},
        {"NO CARRIER", AT_KIND_RING, -1},
        {"RDY", AT_KIND_BOOT, -1},
        {"+CFUN: 1", AT_KIND_BOOT, -1},
        {"+CFUN:1", AT_KIND_BOOT, -1},
        {"+CFUN: 15", AT_KIND_OTHER, -1},
        {"+CPIN: READY", AT_KIND_BOOT, -1},
        {"+CPIN: READ", AT_KIND_OTHER, -1},
        {"SMS READY", AT_KIND_BOOT, -1},
        {"^SYSSTART AIRPLANE MODE", AT_KIND_BOOT, -1},
        {"+CPIN: NOT INSERTED", AT_KIND_SIM_GONE, -1},
        {"^SMMEMFULL: \"SM\"", AT_KIND_MEMORY_FULL, -1},
        {"+QIND: \"SMSFULL\",\"SM\"", AT_KIND_MEMORY_FULL, -1},
        {"*SMS FULL", AT_KIND_MEMORY_FULL, -1},
        {"%SMSFULL: 1", AT_KIND_MEMORY_FULL, -1},
        {"memfull", AT_KIND_OTHER, -1},
        {"+QIND: csq", AT_KIND_OTHER, -1},
        {"0791ABcd", AT_KIND_HEX, -1},
        {"0791ABc", AT_KIND_OTHER, -1},
        {"0791ABcg", AT_KIND_OTHER, -1},
        {"0791AB:9", AT_KIND_OTHER, -1},
        {"^RSSI: 12", AT_KIND_OTHER, -1},
        {"", AT_KIND_OTHER, -1},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        int32_t code = 0;
        enum at_kind kind = at_line_kind(cases[i].text, strlen(cases[i].text), &code);
        if (kind != cases[i].kind || code != cases[i].code) {
            fail_msg("\"%s\" is read as kind %d, code %d", cases[i].text, (int)kind, (int)code);
        }
    }
}

static void fields_are_taken_apart(void **state)
{
    static const struct {
        const char *text;
        size_t index;
        const char *field; /* NULL: absent */
    } cases[] = {
        {"+CMTI: \"SM\",3", 0, "SM"},
        {"+CMTI: \"SM\",3", 1, "3"},
        {"+CMTI: \"SM\",3", 2, NULL},
        {"+CMGR: 0,,28", 1, ""},
        {"+CMGR: 0,,28", 2, "28"},
        {"+CMGL: 1,1,\"Tom, Ines\",24", 2, "Tom, Ines"},
        {"+CMGL: 1,1,\"Tom, Ines\",24", 3, "24"},
        {"+CDS: ,24", 1, "24"},
        {"+COPS: 0,0,\"Alder: Net\",7", 2, "Alder: Net"},
        {"+CNMI: (0-3),(0,1),(0,2)", 1, "(0,1)"},
        {"+CPMS: ((\"SM\",\"ME\")),(\"SM\")", 1, "(\"SM\")"},
        {"+X: )1,2", 1, "2"},
        {"Alder Bench", 0, "Alder Bench"},
        {"\"12:30\",7", 0, "12:30"},
        {"+X: \"open", 0, "\"open"},
        {"+X: \"", 0, "\""},
        {"+X:  3  , 4 ", 0, "3"},
        {"+X:", 0, ""},
        {"+X:   ", 0, ""},
        {"", 0, ""},
        {"", 1, NULL},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct at_field field;
        char out[64];
        const char *text = cases[i].text;
        bool there = at_line_field(text, strlen(text), cases[i].index, &field);
        assert_int_equal(there, cases[i].field != NULL);
        size_t copied = at_line_copy(text, strlen(text), cases[i].index, out, sizeof out);
        assert_string_equal(out, there ? cases[i].field : "");
        assert_int_equal(copied, strlen(out));
    }
}

static void a_copy_is_cut_to_its_room_and_cleaned(void **state)
{
    char out[4];
    (void)state;
    assert_int_equal(at_line_copy("+X: abcdef", 10, 0, out, sizeof out), 3);
    assert_string_equal(out, "abc");
    assert_int_equal(at_line_copy("+X: a\tb\x7f", 8, 0, out, sizeof out), 2);
    assert_string_equal(out, "ab");
    assert_int_equal(at_line_copy("+X: abc", 7, 0, out, 1), 0);
    assert_string_equal(out, "");
    out[0] = '#';
    assert_int_equal(at_line_copy("+X: abc", 7, 0, out, 0), 0);
    assert_int_equal(out[0], '#');
}

static void numbers_are_read_or_refused(void **state)
{
    static const struct {
        const char *text;
        bool good;
        int32_t number;
    } cases[] = {
        {"+X: 0", true, 0},       {"+X: 999999999", true, 999999999},
        {"+X: \"12\"", true, 12}, {"+X: 1000000000", false, 0},
        {"+X: ", false, 0},       {"+X: -1", false, 0},
        {"+X: 1a", false, 0},     {"+X: 007", true, 7},
    };
    int32_t number = 0;
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        number = 0;
        assert_int_equal(at_line_number(cases[i].text, strlen(cases[i].text), 0, &number),
                         cases[i].good);
        assert_int_equal(number, cases[i].number);
    }
    assert_false(at_line_number("+X: 1", 5, 1, &number));
}

static void sets_of_numbers_are_read(void **state)
{
    static const struct {
        const char *text;
        size_t index;
        uint32_t set;
    } cases[] = {
        {"+CNMI: (0-3),(0,1),(0,2),(0),(1)", 0, 0xF},
        {"+CNMI: (0-3),(0,1),(0,2),(0),(1)", 2, 0x5},
        {"+CNMI: (0-3),(0,1),(0,2),(0),(1)", 4, 0x2},
        {"+CNMI: 2,1,0,0,0", 0, 0x4},
        {"+CNMI: (0,2-3)", 0, 0xD},
        {"+X: (0-200)", 0, 0xFFFFFFFF},
        {"+X: (3-1)", 0, 0},
        {"+X: (99999999999)", 0, 0},
        {"+X: ()", 0, 0},
        {"+X: (31)", 0, 0x80000000},
        {"+X: (32)", 0, 0},
        {"+X: (\"a\",1)", 0, 0x2},
        {"+X: 1", 1, 0},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        uint32_t set = at_line_set(cases[i].text, strlen(cases[i].text), cases[i].index);
        if (set != cases[i].set) {
            fail_msg("\"%s\" field %zu is read as %x", cases[i].text, cases[i].index, set);
        }
    }
}

static void names_in_lists_are_found(void **state)
{
    static const struct {
        const char *text;
        size_t index;
        const char *name;
        bool there;
    } cases[] = {
        {"+CPMS: (\"SM\",\"ME\"),(\"SM\")", 0, "ME", true},
        {"+CPMS: (\"SM\",\"ME\"),(\"SM\")", 1, "ME", false},
        {"+CPMS: ((\"SM\",\"ME\"),(\"SM\"))", 0, "SM", true},
        {"+CPMS: \"SM\",\"ME\"", 0, "SM", true},
        {"+CPMS: \"SM\",\"ME\"", 0, "S", false},
        {"+CPMS: \"\"", 0, "SM", false},
        {"+CPMS: (\"SMX\")", 0, "SM", false},
        {"+CPMS: (\"SM", 0, "SM", false},
        {"+CPMS: (SM)", 0, "SM", false},
        {"+CPMS: (\"SM\")", 7, "SM", false},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const char *text = cases[i].text;
        assert_int_equal(at_line_names(text, strlen(text), cases[i].index, cases[i].name),
                         cases[i].there);
    }
}

static void a_prefix_is_found_in_any_case(void **state)
{
    (void)state;
    assert_true(at_line_starts("+cmgr: 1", 8, "+CMGR:"));
    assert_false(at_line_starts("+CMG", 4, "+CMGR:"));
    assert_false(at_line_starts("", 0, "+CMGR:"));
}

/* Whatever comes, every octet is taken and nothing is read past the end. */
static void random_octets_do_no_harm(void **state)
{
    static const char some[] = "\r\n\r\n> +CMTI:\"SM\",3OKERROR()-0123456789ABCDEF \x1a\x1b\x80";
    unsigned int seed = 48213;
    (void)state;
    for (int run = 0; run < 2000; run++) {
        char text[200], out[1024];
        size_t count = (size_t)(rand_r(&seed) % 200);
        for (size_t i = 0; i < count; i++) {
            text[i] = some[(size_t)rand_r(&seed) % (sizeof some - 1)];
        }
        events_of(text, count, 1 + (size_t)(rand_r(&seed) % 9), out, sizeof out);
        int32_t code = 0;
        char *exact = malloc(count + 1);
        assert_non_null(exact);
        memcpy(exact, text, count);
        at_line_kind(exact, count, &code);
        for (size_t index = 0; index < 4; index++) {
            int32_t number = 0;
            at_line_number(exact, count, index, &number);
            at_line_set(exact, count, index);
            at_line_names(exact, count, index, "SM");
            at_line_copy(exact, count, index, out, sizeof out);
        }
        free(exact);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(lines_are_found_however_they_are_cut),
        cmocka_unit_test(a_nul_octet_is_dropped),
        cmocka_unit_test(a_prompt_counts_only_where_one_is_awaited),
        cmocka_unit_test(a_line_too_long_is_told_and_the_next_is_whole),
        cmocka_unit_test(each_kind_of_line_is_known),
        cmocka_unit_test(fields_are_taken_apart),
        cmocka_unit_test(a_copy_is_cut_to_its_room_and_cleaned),
        cmocka_unit_test(numbers_are_read_or_refused),
        cmocka_unit_test(sets_of_numbers_are_read),
        cmocka_unit_test(names_in_lists_are_found),
        cmocka_unit_test(a_prefix_is_found_in_any_case),
        cmocka_unit_test(random_octets_do_no_harm),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
