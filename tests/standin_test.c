/* SPDX-License-Identifier: MIT
 * The stand-in modem, spoken to in plain AT over its pseudo-terminal under the stepped clock. What
 * it must answer is by V.250, TS 27.005 and TS 27.007; the short messages are the published ones
 * named beside them. */
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <cmocka.h>

#include "fixtures/conductor/conductor.h"
#include "fixtures/conductor/folder.h"

#define NOON_S 1804161600 /* 2027-03-04T12:00:00Z */
#define INES "+12065550110"

/* SMS-SUBMIT to +46708251358, "hellohello", TPDU of 23 octets: oFono, unit/test-sms.c. */
#define HELLO_PDU "0011000B916407281553F80000AA0AE8329BFD4697D9EC37"
/* SMS-DELIVER from +31641600986, "How are you?": oFono, unit/test-sms.c. */
#define HOW_PDU "07911326040000F0040B911346610089F60000208062917314480CC8F71D14969741F977FD07"

static struct conductor *start(const char *const *options)
{
    const struct conductor_wish wish = {.folder = folder_make(),
                                        .wall_s = NOON_S,
                                        .zone = "America/Los_Angeles",
                                        .standin_options = options};
    struct conductor *c = conductor_start(&wish);
    if (!conductor_good(c)) {
        fail_msg("%s", conductor_says(c));
    }
    assert_true(conductor_open_line(c) >= 0);
    return c;
}

static int setup(void **state)
{
    *state = start(NULL);
    return 0;
}

static int setup_small(void **state)
{
    static const char *const options[] = {"--me", "2", NULL};
    *state = start(options);
    return 0;
}

static int setup_pin(void **state)
{
    static const char *const options[] = {"--pin", "4711", NULL};
    *state = start(options);
    return 0;
}

static int teardown(void **state)
{
    struct conductor *c = *state;
    bool good = conductor_good(c);
    if (!good) {
        print_error("%s\n", conductor_says(c));
    }
    conductor_stop(c);
    folder_remove();
    return good ? 0 : -1;
}

/* What the modem says to these octets, to the last one. */
static const char *told(struct conductor *c, const char *octets)
{
    assert_true(conductor_write(c, octets));
    return conductor_read(c);
}

#define assert_answer(c, octets, expected) assert_string_equal(told(c, octets), expected)

static void quieten(struct conductor *c)
{
    assert_answer(c, "ATE0+CMEE=1\r", "ATE0+CMEE=1\r\r\nOK\r\n");
}

/* ---- V.250 */

static void the_echo_is_on_until_it_is_turned_off(void **state)
{
    struct conductor *c = *state;
    assert_answer(c, "AT\r", "AT\r\r\nOK\r\n");
    assert_answer(c, "ATE0\r", "ATE0\r\r\nOK\r\n");
    assert_answer(c, "AT\r", "\r\nOK\r\n");
    assert_answer(c, "ATE1\r", "\r\nOK\r\n");
    assert_answer(c, "AT\r", "AT\r\r\nOK\r\n");
}

static void numbers_stand_for_results_under_v0(void **state)
{
    struct conductor *c = *state;
    assert_answer(c, "ATE0V0\r", "ATE0V0\r0\r");
    assert_answer(c, "AT+CSQ\r", "+CSQ: 21,99\r\n0\r");
    assert_answer(c, "AT+NONE\r", "4\r");
    assert_answer(c, "ATV1\r", "\r\nOK\r\n");
}

static void no_result_comes_under_q1(void **state)
{
    struct conductor *c = *state;
    assert_answer(c, "ATE0Q1\r", "ATE0Q1\r");
    assert_answer(c, "AT\r", "");
    assert_answer(c, "ATQ0\r", "\r\nOK\r\n");
}

static void commands_of_one_line_are_done_in_turn_up_to_the_first_that_fails(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_answer(c, "at+csq;+creg?\r", "\r\n+CSQ: 21,99\r\n\r\n+CREG: 0,1\r\n\r\nOK\r\n");
    assert_answer(c, "AT+NONE;+CSQ\r", "\r\nERROR\r\n");
    assert_answer(c, "junkAT\r", "\r\nOK\r\n");
    assert_answer(c, "junk\r", "");
}

static void a_slash_repeats_the_last_line(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_answer(c, "AT+CSQ\r", "\r\n+CSQ: 21,99\r\n\r\nOK\r\n");
    assert_answer(c, "A/", "\r\n+CSQ: 21,99\r\n\r\nOK\r\n");
}

static void cmee_chooses_the_form_of_errors(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_answer(c, "AT+CSCS=\"UCS2\"\r", "\r\n+CME ERROR: 50\r\n");
    assert_answer(c, "AT+CMGR=9\r", "\r\n+CMS ERROR: 321\r\n");
    assert_answer(c, "AT+CMEE=2\r", "\r\nOK\r\n");
    assert_answer(c, "AT+CSCS=\"UCS2\"\r", "\r\n+CME ERROR: incorrect parameters\r\n");
    assert_answer(c, "AT+CMGR=9\r", "\r\n+CMS ERROR: invalid memory index\r\n");
    assert_answer(c, "AT+CMEE=0\r", "\r\nOK\r\n");
    assert_answer(c, "AT+CSCS=\"UCS2\"\r", "\r\nERROR\r\n");
    assert_answer(c, "AT+CMGR=9\r", "\r\n+CMS ERROR: 321\r\n");
}

/* ---- TS 27.007 */

static void it_says_what_it_is_and_where(void **state)
{
    static const struct {
        const char *command, *answer;
    } cases[] = {
        {"AT+CGMI\r", "\r\nStand-in Works\r\n\r\nOK\r\n"},
        {"AT+CGMM\r", "\r\nSM-1\r\n\r\nOK\r\n"},
        {"AT+CGMR\r", "\r\n1.0\r\n\r\nOK\r\n"},
        {"AT+CPIN?\r", "\r\n+CPIN: READY\r\n\r\nOK\r\n"},
        {"AT+CFUN?\r", "\r\n+CFUN: 1\r\n\r\nOK\r\n"},
        {"AT+CREG=2\r", "\r\nOK\r\n"},
        {"AT+CREG?\r", "\r\n+CREG: 2,1,\"00A1\",\"0000C2D3\",7\r\n\r\nOK\r\n"},
        {"AT+CGREG?\r", "\r\n+CGREG: 0,1\r\n\r\nOK\r\n"},
        {"AT+CEREG?\r", "\r\n+CEREG: 0,1\r\n\r\nOK\r\n"},
        {"AT+COPS?\r", "\r\n+COPS: 0,0,\"Meadow Mobile\",7\r\n\r\nOK\r\n"},
        {"AT+COPS=3,2\r", "\r\nOK\r\n"},
        {"AT+COPS?\r", "\r\n+COPS: 0,2,\"00101\",7\r\n\r\nOK\r\n"},
        /* 12:00 UTC is 04:00 in winter there, 32 quarters of an hour west */
        {"AT+CCLK?\r", "\r\n+CCLK: \"27/03/04,04:00:00-32\"\r\n\r\nOK\r\n"},
        {"AT+CTZU=1\r", "\r\nOK\r\n"},
        {"AT+CNMI=?\r", "\r\n+CNMI: (0,1,2),(0,1,2,3),(0),(0,1,2),(0,1)\r\n\r\nOK\r\n"},
        {"AT+CSCA?\r", "\r\n+CSCA: \"+12065550190\",145\r\n\r\nOK\r\n"},
        {"AT+CSMS?\r", "\r\n+CSMS: 0,1,1,1\r\n\r\nOK\r\n"},
        {"AT+CMGF?\r", "\r\n+CMGF: 0\r\n\r\nOK\r\n"},
        {"AT+CMGF=1\r", "\r\n+CMS ERROR: 303\r\n"},
    };
    struct conductor *c = *state;
    quieten(c);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_answer(c, cases[i].command, cases[i].answer);
    }
}

static void registration_lost_is_told_where_asked_for(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_answer(c, "AT+CEREG=1\r", "\r\nOK\r\n");
    assert_true(conductor_say(c, "registration 0 0 2"));
    assert_string_equal(conductor_read(c), "\r\n+CEREG: 2\r\n");
    assert_answer(c, "AT+COPS?\r", "\r\n+COPS: 0\r\n\r\nOK\r\n");
    assert_answer(c, "AT+CMGS=23\r", "\r\n> ");
    assert_answer(c, HELLO_PDU "\x1a", "\r\n+CMS ERROR: 331\r\n");
}

static void a_locked_sim_takes_its_pin_and_is_barred_after_three_wrong_ones(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_answer(c, "AT+CPIN?\r", "\r\n+CPIN: SIM PIN\r\n\r\nOK\r\n");
    assert_answer(c, "AT+CMGL=4\r", "\r\n+CMS ERROR: 311\r\n");
    assert_answer(c, "AT+CPIN=\"0000\"\r", "\r\n+CME ERROR: 16\r\n");
    assert_answer(c, "AT+CPIN=\"4711\"\r", "\r\nOK\r\n");
    assert_answer(c, "AT+CMGL=4\r", "\r\nOK\r\n");
    assert_true(conductor_say(c, "restart"));
    assert_true(conductor_advance(c, 5000));
    (void)conductor_read(c);
    (void)told(c, "ATE0+CMEE=1\r");
    for (int tries = 0; tries < 2; tries++) {
        assert_answer(c, "AT+CPIN=1\r", "\r\n+CME ERROR: 16\r\n");
    }
    assert_answer(c, "AT+CPIN=1\r", "\r\n+CME ERROR: 12\r\n");
    assert_answer(c, "AT+CPIN?\r", "\r\n+CPIN: SIM PUK\r\n\r\nOK\r\n");
    assert_answer(c, "AT+CPIN=\"4711\"\r", "\r\n+CME ERROR: 12\r\n");
}

/* ---- texts out, TS 27.005 3.5 and 4.3 */

static void a_text_goes_out_after_the_prompt_under_the_next_reference(void **state)
{
    struct conductor *c = *state;
    struct event event;
    char value[64];
    quieten(c);
    assert_answer(c, "AT+CMGS=23\r", "\r\n> "); /* no line end after the prompt */
    assert_answer(c, HELLO_PDU "\x1a", "\r\n+CMGS: 1\r\n\r\nOK\r\n");
    assert_true(conductor_await(c, "text-out", "", 0, &event));
    assert_true(event_field(&event, "to", value, sizeof value));
    assert_string_equal(value, "+46708251358");
    assert_true(event_field(&event, "body", value, sizeof value));
    assert_string_equal(value, "hellohello");
    (void)told(c, "AT+CMGS=23\r");
    assert_answer(c, HELLO_PDU "\x1a", "\r\n+CMGS: 2\r\n\r\nOK\r\n");
}

static void escape_leaves_the_prompt_and_nothing_goes_out(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    (void)told(c, "AT+CMGS=23\r");
    assert_answer(c, HELLO_PDU "\x1b", "\r\nOK\r\n");
    assert_int_equal(conductor_count(c, "part-out", ""), 0);
    assert_answer(c, "AT\r", "\r\nOK\r\n");
}

static void a_pdu_that_is_none_is_refused(void **state)
{
    static const struct {
        const char *command, *pdu;
    } cases[] = {
        {"AT+CMGS=22\r", HELLO_PDU "\x1a"},           /* not of the length announced */
        {"AT+CMGS=23\r", "00110Z\x1a"},               /* no hex */
        {"AT+CMGS=23\r", "\x1a"},                     /* nothing */
        {"AT+CMGS=30\r", HOW_PDU "\x1a"},             /* a DELIVER */
        {"AT+CMGS=23\r", HELLO_PDU HELLO_PDU "\x1a"}, /* too much */
    };
    struct conductor *c = *state;
    quieten(c);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_answer(c, cases[i].command, "\r\n> ");
        assert_answer(c, cases[i].pdu, "\r\n+CMS ERROR: 304\r\n");
    }
    assert_int_equal(conductor_count(c, "part-out", ""), 0);
}

static void without_a_service_centre_nothing_goes_out(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_answer(c, "AT+CSCA=\"\"\r", "\r\nOK\r\n");
    (void)told(c, "AT+CMGS=23\r");
    assert_answer(c, HELLO_PDU "\x1a", "\r\n+CMS ERROR: 330\r\n");
}

/* HELLO_PDU with TP-SRR set: first octet 31. */
static void a_delivery_report_comes_where_it_was_asked_for(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    (void)told(c, "AT+CNMI=2,1,0,2,0\r");
    (void)told(c, "AT+CMGS=23\r");
    assert_answer(c, "0031000B916407281553F80000AA0AE8329BFD4697D9EC37\x1a",
                  "\r\n+CMGS: 1\r\n\r\nOK\r\n");
    assert_true(conductor_await(c, "stored", "at=\"SR\",1", 10000, NULL));
    assert_string_equal(conductor_read(c), "\r\n+CDSI: \"SR\",1\r\n");
    (void)told(c, "AT+CNMI=2,1,0,1,0\r");
    (void)told(c, "AT+CMGS=23\r");
    (void)told(c, "0031000B916407281553F80000AA0AE8329BFD4697D9EC37\x1a");
    assert_true(conductor_await(c, "forwarded", "", 10000, NULL));
    assert_non_null(strstr(conductor_read(c), "\r\n+CDS: 26\r\n"));
}

/* ---- texts in */

static void a_text_is_stored_in_silence_until_indications_are_on(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_text(c, INES, "M12 1340h"));
    assert_string_equal(conductor_read(c), "");
    assert_answer(c, "AT+CNMI=2,1,0,1,0\r", "\r\nOK\r\n");
    assert_true(conductor_text(c, INES, "M12 1341h"));
    assert_string_equal(conductor_read(c), "\r\n+CMTI: \"ME\",2\r\n");
    assert_answer(c, "AT+CPMS?\r", "\r\n+CPMS: \"ME\",2,50,\"ME\",2,50,\"ME\",2,50\r\n\r\nOK\r\n");
}

static void indications_of_mode_0_wait_for_another_mode(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    (void)told(c, "AT+CNMI=0,1\r");
    assert_true(conductor_text(c, INES, "M12 1340h"));
    assert_string_equal(conductor_read(c), "");
    assert_answer(c, "AT+CNMI=2\r", "\r\nOK\r\n\r\n+CMTI: \"ME\",1\r\n");
}

static void a_text_is_read_listed_and_deleted_by_its_index(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_say(c, "pdu " HOW_PDU));
    assert_answer(c, "AT+CMGL=1\r", "\r\nOK\r\n"); /* none has been read yet */
    assert_answer(c, "AT+CMGR=1\r", "\r\n+CMGR: 0,,30\r\n" HOW_PDU "\r\n\r\nOK\r\n");
    assert_answer(c, "AT+CMGL=1\r", "\r\n+CMGL: 1,1,,30\r\n" HOW_PDU "\r\n\r\nOK\r\n");
    assert_answer(c, "AT+CMGL=0\r", "\r\nOK\r\n");
    assert_answer(c, "AT+CMGD=1\r", "\r\nOK\r\n");
    assert_int_equal(conductor_count(c, "deleted", "id=1 part=1/1 at=\"ME\",1"), 1);
    assert_answer(c, "AT+CMGR=1\r", "\r\n+CMS ERROR: 321\r\n");
    assert_answer(c, "AT+CMGD=1\r", "\r\nOK\r\n"); /* an empty slot is no error */
    assert_answer(c, "AT+CMGD=51\r", "\r\n+CMS ERROR: 321\r\n");
}

static void deleting_by_flag_spares_the_unread(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    for (int i = 0; i < 3; i++) {
        assert_true(conductor_say(c, "pdu " HOW_PDU));
    }
    (void)told(c, "AT+CMGR=2\r");
    assert_answer(c, "AT+CMGD=1,1\r", "\r\nOK\r\n");
    assert_int_equal(conductor_count(c, "deleted", ""), 1);
    assert_answer(c, "AT+CMGD=1,4\r", "\r\nOK\r\n");
    assert_int_equal(conductor_count(c, "deleted", ""), 3);
}

static void a_long_text_comes_in_parts(void **state)
{
    struct conductor *c = *state;
    char body[321];
    memset(body, 'a', 320);
    body[320] = '\0';
    assert_true(conductor_text(c, INES, body));
    assert_int_equal(conductor_count(c, "text-in", "parts=3"), 1);
    assert_int_equal(conductor_count(c, "stored", "id=1 part=3/3 at=\"ME\",3"), 1);
}

static void what_is_no_short_message_is_passed_on_as_it_is(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_say(c, "pdu 00FF12ZZ9"));
    assert_answer(c, "AT+CMGR=1\r", "\r\n+CMGR: 0,,3\r\n00FF12ZZ9\r\n\r\nOK\r\n");
}

static void a_text_carries_the_time_it_was_given(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_say(c, "text " INES " 2027-03-03T17:05:09-08:00 \"M12 1340h\""));
    const char *read = told(c, "AT+CMGR=1\r");
    assert_non_null(strstr(read, "7230307150902B")); /* 27 03 03 17 05 09, -32 quarters */
}

static void a_full_memory_leaves_texts_in_the_network_until_a_slot_is_free(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    (void)told(c, "AT+CNMI=2,1\r");
    for (int i = 0; i < 3; i++) {
        assert_true(conductor_text(c, INES, "M12 1340h"));
    }
    assert_string_equal(conductor_read(c), "\r\n+CMTI: \"ME\",1\r\n\r\n+CMTI: \"ME\",2\r\n");
    assert_int_equal(conductor_count(c, "full", "id=3"), 1);
    assert_answer(c, "AT+CMGD=2\r", "\r\nOK\r\n\r\n+CMTI: \"ME\",2\r\n");
    assert_int_equal(conductor_count(c, "stored", "id=3"), 1);
}

static void another_memory_may_be_chosen(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_answer(c, "AT+CPMS=\"SM\",\"SM\",\"SM\"\r", "\r\n+CPMS: 0,20,0,20,0,20\r\n\r\nOK\r\n");
    assert_true(conductor_text(c, INES, "M12 1340h"));
    assert_int_equal(conductor_count(c, "stored", "at=\"SM\",1"), 1);
    assert_answer(c, "AT+CPMS=\"ZZ\"\r", "\r\n+CMS ERROR: 302\r\n");
}

static void a_text_delivered_directly_is_acknowledged_once(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_answer(c, "AT+CSMS=1\r", "\r\n+CSMS: 1,1,1\r\n\r\nOK\r\n");
    (void)told(c, "AT+CNMI=2,2\r");
    assert_true(conductor_say(c, "pdu " HOW_PDU));
    assert_string_equal(conductor_read(c), "\r\n+CMT: ,30\r\n" HOW_PDU "\r\n");
    assert_answer(c, "AT+CNMA\r", "\r\nOK\r\n");
    assert_answer(c, "AT+CNMA\r", "\r\n+CMS ERROR: 340\r\n");
    assert_int_equal(conductor_count(c, "acknowledged", "id=1"), 1);
}

static void a_text_not_acknowledged_comes_again_and_direct_delivery_ends(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    (void)told(c, "AT+CSMS=1;+CNMI=2,2,0,1\r");
    assert_true(conductor_say(c, "pdu " HOW_PDU));
    assert_true(conductor_await(c, "unacknowledged", "id=1", 20000, NULL));
    (void)conductor_read(c);
    assert_answer(c, "AT+CNMI?\r", "\r\n+CNMI: 2,0,0,0,0\r\n\r\nOK\r\n");
    assert_true(conductor_await(c, "stored", "id=1", 120000, NULL));
}

/* ---- the port */

static void plugged_in_again_it_has_another_name_behind_the_same_link(void **state)
{
    struct conductor *c = *state;
    char link[300], before[PATH_MAX], after[PATH_MAX];
    snprintf(link, sizeof link, "%s/modem", folder_path());
    assert_non_null(realpath(link, before));
    quieten(c);
    assert_true(conductor_say(c, "unplug"));
    assert_int_equal(access(link, F_OK), -1);
    assert_true(conductor_text(c, INES, "M12 1340h"));
    assert_true(conductor_say(c, "replug"));
    assert_non_null(realpath(link, after));
    assert_string_not_equal(before, after);
    assert_true(conductor_open_line(c) >= 0);
    assert_answer(c, "AT\r", ""); /* still starting */
    assert_true(conductor_advance(c, 5000));
    assert_string_equal(conductor_read(c), "\r\nRDY\r\n\r\n+CFUN: 1\r\n\r\n+CPIN: READY\r\n"
                                           "\r\nSMS Ready\r\n");
    assert_answer(c, "AT\r", "AT\r\r\nOK\r\n"); /* the echo is back on */
    assert_int_equal(conductor_count(c, "stored", "id=1"), 1);
}

static void what_it_keeps_outlives_a_kill(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_say(c, "pdu " HOW_PDU));
    (void)told(c, "AT+CMGS=23\r");
    (void)told(c, HELLO_PDU "\x1a");
    assert_true(conductor_say(c, "registration 0"));
    assert_true(conductor_text(c, INES, "M12 1340h"));
    assert_true(conductor_kill_standin(c));
    assert_true(conductor_start_standin(c));
    assert_true(conductor_open_line(c) >= 0);
    quieten(c);
    assert_answer(c, "AT+CMGR=1\r", "\r\n+CMGR: 0,,30\r\n" HOW_PDU "\r\n\r\nOK\r\n");
    assert_int_equal(conductor_count(c, "stored", "id=2"), 1);
    (void)told(c, "AT+CMGS=23\r");
    assert_answer(c, HELLO_PDU "\x1a", "\r\n+CMGS: 2\r\n\r\nOK\r\n");
}

static void a_host_that_does_not_wait_is_noted(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_say(c, "latency 500"));
    assert_answer(c, "AT+CSQ\rAT\r", "");
    assert_true(conductor_advance(c, 500));
    assert_string_equal(conductor_read(c), "\r\n+CSQ: 21,99\r\n\r\nOK\r\n");
    assert_int_equal(conductor_count(c, "too-soon", ""), 1);
}

/* ---- faults */

static void each_fault_shows_as_its_name_says(void **state)
{
    static const struct {
        const char *fault, *octets, *answer;
    } cases[] = {
        {"silence", "AT+CSQ\r", ""},
        {"no-final", "AT+CSQ\r", "\r\n+CSQ: 21,99\r\n"},
        {"glued-lines", "AT+CSQ\r", "+CSQ: 21,99\r\nOK\r\n"},
        {"urc-before", "AT+CSQ\r", "\r\n+CREG: 1\r\n\r\n+CSQ: 21,99\r\n\r\nOK\r\n"},
        {"urc-inside", "AT+CSQ\r", "\r\n+CSQ: 21,99\r\n\r\n+CREG: 1\r\n\r\nOK\r\n"},
        {"bare-prompt", "AT+CMGS=23\r", "\r\n>"},
        {"silence", "\x1b", "\r\nOK\r\n"}, /* out of the prompt; shows at the next line */
        {"mend", "AT\r", "\r\nOK\r\n"},
        {"no-prompt", "AT+CMGS=23\r", ""},
        {"cnmi-mode-2", "AT+CNMI=2,1\r", "\r\n+CMS ERROR: 303\r\n"},
        {"mend", "AT+CNMI=2,1\r", "\r\nOK\r\n"},
        {"cnmi-refused", "AT+CNMI=1,1\r", "\r\n+CMS ERROR: 303\r\n"},
        {"direct-refused", "AT+CNMI=2,1,0,1\r", "\r\n+CMS ERROR: 303\r\n"},
        {"delete-fails", "AT+CMGD=1\r", "\r\n+CMS ERROR: 320\r\n"},
        {"empty-read-ok", "AT+CMGR=1\r", "\r\nOK\r\n"},
        {"sim-busy 1", "AT+CMGL=4\r", "\r\n+CMS ERROR: 314\r\n"},
        {"sim-busy 1", "AT+CPIN?\r", "\r\n+CME ERROR: 14\r\n"},
        {"plain-error", "AT+CMGR=99\r", "\r\nERROR\r\n"},
        {"no-registration-commands", "AT+CREG?\r", "\r\nERROR\r\n"},
        {"no-clock", "AT+CCLK?\r", "\r\n+CCLK: \"80/01/06,00:01:10+00\"\r\n\r\nOK\r\n"},
        {"echo-stuck", "AT\r", "AT\r\r\nOK\r\n"},
        {"mend", "AT\r", "\r\nOK\r\n"},
    };
    struct conductor *c = *state;
    quieten(c);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        if (strcmp(cases[i].fault, "mend") == 0) {
            assert_true(conductor_say(c, "mend"));
        } else {
            assert_true(conductor_say(c, "fault %s", cases[i].fault));
        }
        assert_answer(c, cases[i].octets, cases[i].answer);
        if (strcmp(cases[i].fault, "glued-lines") == 0) {
            assert_true(conductor_say(c, "mend"));
        }
    }
}

static void faults_of_sending_show_after_the_pdu(void **state)
{
    static const struct {
        const char *fault, *answer;
        size_t out;
    } cases[] = {
        {"send-refused", "\r\n+CMS ERROR: 500\r\n", 0},
        {"send-refused 1 42", "\r\n+CMS ERROR: 42\r\n", 0},
        {"send-lost-unsaid", "", 0},
        {"send-taken-unsaid", "", 1},
    };
    struct conductor *c = *state;
    quieten(c);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_true(conductor_say(c, "fault %s", cases[i].fault));
        assert_answer(c, "AT+CMGS=23\r", "\r\n> ");
        assert_answer(c, HELLO_PDU "\x1a", cases[i].answer);
        assert_int_equal(conductor_count(c, "part-out", ""), cases[i].out);
    }
}

static void octets_split_apart_come_one_a_millisecond(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_say(c, "fault split-bytes"));
    assert_answer(c, "AT\r", "");
    assert_true(conductor_advance(c, 2));
    assert_string_equal(conductor_read(c), "\r\n");
    assert_true(conductor_advance(c, 10));
    assert_string_equal(conductor_read(c), "OK\r\n");
}

static void a_held_delete_is_not_done_until_it_is_mended(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_say(c, "pdu " HOW_PDU));
    assert_true(conductor_say(c, "fault hold-delete"));
    assert_answer(c, "AT+CMGD=1\r", "");
    assert_int_equal(conductor_count(c, "deleted", ""), 0);
    assert_true(conductor_say(c, "mend hold-delete"));
    assert_string_equal(conductor_read(c), "\r\nOK\r\n");
    assert_int_equal(conductor_count(c, "deleted", ""), 1);
}

static void a_held_delete_is_forgotten_when_the_host_hangs_up(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_say(c, "pdu " HOW_PDU));
    assert_true(conductor_say(c, "fault hold-delete"));
    (void)told(c, "AT+CMGD=1\r");
    assert_true(conductor_close_line(c));
    assert_true(conductor_open_line(c) >= 0);
    assert_true(conductor_say(c, "mend"));
    assert_int_equal(conductor_count(c, "deleted", ""), 0);
    assert_answer(c, "AT\r", "\r\nOK\r\n");
}

static void faults_of_storing_show_when_a_text_comes(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    (void)told(c, "AT+CNMI=2,1\r");
    assert_true(conductor_say(c, "fault lost-indication"));
    assert_true(conductor_text(c, INES, "M12 1340h"));
    assert_string_equal(conductor_read(c), "");
    assert_true(conductor_say(c, "fault wrong-memory"));
    assert_true(conductor_text(c, INES, "M12 1341h"));
    assert_string_equal(conductor_read(c), "\r\n+CMTI: \"SM\",1\r\n");
    assert_true(conductor_say(c, "fault storage-full"));
    assert_true(conductor_text(c, INES, "M12 1342h"));
    assert_string_equal(conductor_read(c), "");
    assert_true(conductor_say(c, "mend"));
    assert_string_equal(conductor_read(c), "\r\n+CMTI: \"ME\",2\r\n");
    assert_true(conductor_say(c, "fault delivered-twice"));
    assert_true(conductor_text(c, INES, "M12 1343h"));
    assert_true(conductor_advance(c, 120000));
    assert_int_equal(conductor_count(c, "stored", "id=4"), 2);
}

static void a_restart_cuts_the_answer_short(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_say(c, "fault restart"));
    assert_answer(c, "AT+CSQ\r", "\r\n+CSQ:\r\nO");
    assert_true(conductor_await(c, "modem", "SMS Ready", 10000, NULL));
}

static void a_slow_modem_answers_in_its_own_time(void **state)
{
    struct conductor *c = *state;
    quieten(c);
    assert_true(conductor_say(c, "fault slow"));
    assert_answer(c, "AT\r", "");
    assert_true(conductor_advance(c, 4099));
    assert_string_equal(conductor_read(c), "");
    assert_true(conductor_advance(c, 1));
    assert_string_equal(conductor_read(c), "\r\nOK\r\n");
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, setup, teardown)
    const struct CMUnitTest tests[] = {
        CASE(the_echo_is_on_until_it_is_turned_off),
        CASE(numbers_stand_for_results_under_v0),
        CASE(no_result_comes_under_q1),
        CASE(commands_of_one_line_are_done_in_turn_up_to_the_first_that_fails),
        CASE(a_slash_repeats_the_last_line),
        CASE(cmee_chooses_the_form_of_errors),
        CASE(it_says_what_it_is_and_where),
        CASE(registration_lost_is_told_where_asked_for),
        cmocka_unit_test_setup_teardown(
            a_locked_sim_takes_its_pin_and_is_barred_after_three_wrong_ones, setup_pin, teardown),
        CASE(a_text_goes_out_after_the_prompt_under_the_next_reference),
        CASE(escape_leaves_the_prompt_and_nothing_goes_out),
        CASE(a_pdu_that_is_none_is_refused),
        CASE(without_a_service_centre_nothing_goes_out),
        CASE(a_delivery_report_comes_where_it_was_asked_for),
        CASE(a_text_is_stored_in_silence_until_indications_are_on),
        CASE(indications_of_mode_0_wait_for_another_mode),
        CASE(a_text_is_read_listed_and_deleted_by_its_index),
        CASE(deleting_by_flag_spares_the_unread),
        CASE(a_long_text_comes_in_parts),
        CASE(what_is_no_short_message_is_passed_on_as_it_is),
        CASE(a_text_carries_the_time_it_was_given),
        cmocka_unit_test_setup_teardown(
            a_full_memory_leaves_texts_in_the_network_until_a_slot_is_free, setup_small, teardown),
        CASE(another_memory_may_be_chosen),
        CASE(a_text_delivered_directly_is_acknowledged_once),
        CASE(a_text_not_acknowledged_comes_again_and_direct_delivery_ends),
        CASE(plugged_in_again_it_has_another_name_behind_the_same_link),
        CASE(what_it_keeps_outlives_a_kill),
        CASE(a_host_that_does_not_wait_is_noted),
        CASE(each_fault_shows_as_its_name_says),
        CASE(faults_of_sending_show_after_the_pdu),
        CASE(octets_split_apart_come_one_a_millisecond),
        CASE(a_held_delete_is_not_done_until_it_is_mended),
        CASE(a_held_delete_is_forgotten_when_the_host_hangs_up),
        CASE(faults_of_storing_show_when_a_text_comes),
        CASE(a_restart_cuts_the_answer_short),
        CASE(a_slow_modem_answers_in_its_own_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
