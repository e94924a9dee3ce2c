/* SPDX-License-Identifier: MIT
 * Two modems, "east" and "west", of which one or the other goes: who is answered by which, who takes over
 * what, and that nothing is lost, and sent twice only where its fate was hidden. Judged by what each of
 * two stand-in modems saw; time is stepped. */
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "fixtures/conductor/folder.h"
#include "fixtures/conductor/house.h"
#include "fixtures/conductor/process.h"

#define MINUTE_MS 60000

enum { EAST, WEST };

static struct conductor *on(const struct house *house, size_t modem)
{
    conductor_choose(house->conductor, modem);
    return house->conductor;
}

/* How many parts with that fragment the modem has sent. */
static size_t sent_by(const struct house *house, size_t modem, const char *fragment)
{
    return conductor_count(on(house, modem), "part-out", fragment);
}

static void assert_sent(const struct house *house, size_t modem, const char *fragment,
                        int64_t within_ms)
{
    if (!conductor_await(on(house, modem), "part-out", fragment, within_ms, NULL)) {
        fail_msg("%s", conductor_says(house->conductor));
    }
}

static void text_by(const struct house *house, size_t modem, const char *from, const char *body)
{
    assert_true(conductor_text(on(house, modem), from, body));
}

static void say_to(const struct house *house, size_t modem, const char *script)
{
    assert_true(conductor_say(on(house, modem), "%s", script));
}

static void pass(const struct house *house, int minutes)
{
    assert_true(conductor_advance(house->conductor, minutes * (int64_t)MINUTE_MS));
}

/* What a verb prints, by the config of the house; its exit status. */
static int ask(const struct house *house, const char *verb, char *out, size_t size)
{
    char program[256], command[1024];
    process_path("meterpost", program, sizeof program);
    snprintf(command, sizeof command, "'%s' %s -c %s", program, verb, house->yard.config);
    FILE *answer = popen(command, "r");
    assert_non_null(answer);
    out[fread(out, 1, size - 1, answer)] = '\0';
    int status = pclose(answer);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

#define DANGER "DANGER: on fire"
#define TO(phone) "to=\"" phone "\""

/* Danger is told at once, whatever the hour: by the first that works. */
static void report_danger(const struct house *house, size_t modem)
{
    text_by(house, modem, HOUSE_BEN, "M14 on fire");
}

static void a_person_is_answered_by_the_modem_the_text_came_in_by(void **state)
{
    struct house *house = *state;
    text_by(house, WEST, HOUSE_TOM, "M12 1031.5h");
    text_by(house, EAST, HOUSE_BEN, "R2 800h");
    pass(house, 10);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_TOM)), 1);
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_TOM)), 0);
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_BEN)), 1);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_BEN)), 0);
}

static void an_alert_goes_by_the_first_whoever_brought_its_cause(void **state)
{
    struct house *house = *state;
    report_danger(house, WEST);
    assert_sent(house, EAST, DANGER, 10 * MINUTE_MS);
    assert_int_equal(sent_by(house, WEST, DANGER), 0);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_BEN)), 1);
}

static void what_waits_for_one_that_is_gone_goes_by_the_other_once(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "unplug");
    report_danger(house, WEST);
    assert_true(conductor_advance(house->conductor, MINUTE_MS / 2));
    assert_int_equal(sent_by(house, WEST, DANGER), 0); /* it may only be starting anew */
    pass(house, 30);
    assert_int_equal(sent_by(house, WEST, DANGER), 1);
    text_by(house, WEST, HOUSE_TOM, "M12 1031.5h");
    pass(house, 30);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_TOM)), 1);
    say_to(house, EAST, "replug");
    pass(house, 60);
    assert_int_equal(sent_by(house, EAST, ""), 0);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE state<>'taken'"), 0);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE repeated"), 0);
}

/* It goes before it asks for the text, so that nothing is in doubt. */
static void a_reply_whose_modem_goes_before_it_is_sent_goes_by_the_other(void **state)
{
    struct house *house = *state;
    text_by(house, EAST, HOUSE_TOM, "M12?");
    assert_sent(house, EAST, TO(HOUSE_TOM), MINUTE_MS);
    say_to(house, EAST, "fault no-prompt always");
    text_by(house, EAST, HOUSE_TOM, "M12 1031.5h");
    assert_true(conductor_await(on(house, EAST), "host", "AT+CMGS", MINUTE_MS, NULL));
    say_to(house, EAST, "unplug");
    pass(house, 10);
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_TOM)), 1);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_TOM)), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE repeated"), 0);
}

static void what_one_refuses_twice_goes_by_the_other(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "fault send-refused always 50"); /* the SIM's contract: an hour's pause */
    report_danger(house, WEST);
    text_by(house, EAST, HOUSE_TOM, "M12 1031.5h");
    pass(house, 15);
    assert_int_equal(sent_by(house, WEST, DANGER), 1);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_TOM)), 1);
    say_to(house, EAST, "mend");
    pass(house, 120);
    text_by(house, EAST, HOUSE_TOM, "TR-9 412h");
    assert_sent(house, EAST, TO(HOUSE_TOM), MINUTE_MS);
}

static void one_without_a_network_leaves_its_texts_to_the_other(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "registration 0");
    pass(house, 5);
    report_danger(house, WEST);
    assert_sent(house, WEST, DANGER, MINUTE_MS);
    say_to(house, EAST, "registration 1");
    pass(house, 10);
    text_by(house, EAST, HOUSE_TOM, "M12 1031.5h");
    assert_sent(house, EAST, TO(HOUSE_TOM), MINUTE_MS);
    assert_int_equal(sent_by(house, EAST, DANGER), 0);
}

/* Whether the network took the text cannot be known: it goes once more, and at once. */
static void one_that_goes_in_mid_send_has_its_text_repeated_by_the_other(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "send-delay 30000");
    report_danger(house, WEST);
    assert_sent(house, EAST, DANGER, MINUTE_MS);
    say_to(house, EAST, "unplug");
    assert_sent(house, WEST, DANGER, MINUTE_MS / 4);
    pass(house, 60);
    say_to(house, EAST, "replug");
    pass(house, 60);
    assert_int_equal(sent_by(house, EAST, DANGER), 1);
    assert_int_equal(sent_by(house, WEST, DANGER), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE repeated"), 1);
}

/* It hangs with the text in its hands, and is known by no longer answering: after as long as makers say
 * that a network may take, and not a minute more. */
static void one_that_falls_silent_in_mid_send_is_not_waited_for(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "reports off"); /* one would say that it came */
    say_to(house, EAST, "fault send-taken-unsaid");
    report_danger(house, WEST);
    assert_sent(house, EAST, DANGER, MINUTE_MS);
    say_to(house, EAST, "fault silence always");
    pass(house, 3);
    assert_int_equal(sent_by(house, WEST, DANGER), 0); /* the network may be slow */
    assert_sent(house, WEST, DANGER, MINUTE_MS);
    say_to(house, EAST, "mend");
    pass(house, 120);
    assert_int_equal(sent_by(house, EAST, DANGER), 1);
    assert_int_equal(sent_by(house, WEST, DANGER), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE repeated"), 1);
}

/* It hears all the same: the repetition is its own, from the number that the person knows. */
static void one_that_lost_but_the_word_repeats_by_itself(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "reports off"); /* one would say that it came */
    say_to(house, EAST, "fault send-taken-unsaid");
    report_danger(house, WEST);
    pass(house, 60);
    assert_int_equal(sent_by(house, EAST, DANGER), 2);
    assert_int_equal(sent_by(house, WEST, DANGER), 0);
}

static void a_slow_network_is_given_its_time(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "send-delay 170000");
    report_danger(house, WEST);
    pass(house, 60);
    assert_int_equal(sent_by(house, EAST, DANGER), 1);
    assert_int_equal(sent_by(house, WEST, DANGER), 0);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE repeated"), 0);
}

/* There is no third time, so that nothing is gained by giving it up early. */
static void a_repetition_is_given_all_the_time_there_is(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "fault send-lost-unsaid");
    report_danger(house, WEST);
    assert_true(conductor_await(on(house, EAST), "modem", "> ", MINUTE_MS, NULL));
    assert_true(conductor_settle(house->conductor));
    say_to(house, EAST, "fault silence always");
    assert_sent(house, WEST, TO(HOUSE_BEN), MINUTE_MS);
    pass(house, 1);
    say_to(house, WEST, "send-delay 250000");
    pass(house, 30);
    assert_int_equal(sent_by(house, WEST, DANGER), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE repeated AND "
                                      "state='taken'"),
                     1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE state='unknown'"), 0);
}

static void what_went_down_with_one_in_mid_send_is_not_lost(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "fault send-lost-unsaid");
    text_by(house, EAST, HOUSE_TOM, "M12 1031.5h");
    assert_true(conductor_await(on(house, EAST), "modem", "> ", MINUTE_MS, NULL));
    assert_true(conductor_settle(house->conductor));
    say_to(house, EAST, "unplug");
    assert_sent(house, WEST, TO(HOUSE_TOM), MINUTE_MS / 4);
    pass(house, 60);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_TOM)), 1);
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_TOM)), 0);
}

/* Once in all, not once a modem. */
static void a_text_whose_fate_both_hide_is_repeated_once_in_all(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "send-delay 30000");
    say_to(house, WEST, "send-delay 30000");
    text_by(house, EAST, HOUSE_TOM, "M12 1031.5h");
    assert_sent(house, EAST, TO(HOUSE_TOM), MINUTE_MS);
    say_to(house, EAST, "unplug");
    assert_sent(house, WEST, TO(HOUSE_TOM), MINUTE_MS / 4);
    say_to(house, WEST, "unplug");
    pass(house, 10);
    say_to(house, EAST, "replug");
    say_to(house, WEST, "replug");
    pass(house, 120);
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_TOM)), 1);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_TOM)), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE state='unknown'"), 1);
}

static void one_that_comes_back_answers_again_what_comes_by_it(void **state)
{
    struct house *house = *state;
    say_to(house, WEST, "unplug");
    pass(house, 30);
    say_to(house, WEST, "replug");
    pass(house, 5);
    text_by(house, WEST, HOUSE_TOM, "M12 1031.5h");
    assert_sent(house, WEST, TO(HOUSE_TOM), MINUTE_MS);
    say_to(house, EAST, "unplug");
    pass(house, 30);
    say_to(house, EAST, "replug");
    pass(house, 5);
    report_danger(house, WEST);
    assert_sent(house, EAST, DANGER, MINUTE_MS);
}

/* What is answered in more than one part. */
#define ALL_MINE "M12?, TR-9?, M14?, R2?"

static int64_t parts_to(const struct house *house, const char *phone)
{
    char query[256];
    snprintf(query, sizeof query,
             "SELECT count(*) FROM parts_out p JOIN texts_out t ON t.id=p.text_id "
             "WHERE t.phone='%s' AND p.state='taken'",
             phone);
    int64_t parts = house_ask(house, query);
    assert_true(parts > 1);
    return parts;
}

/* Its number is another one, so that a phone could not put the halves together. */
static void a_long_text_stays_with_the_modem_that_began_it(void **state)
{
    struct house *house = *state;
    say_to(house, WEST, "send-delay 20000");
    text_by(house, WEST, HOUSE_INES, ALL_MINE);
    text_by(house, EAST, HOUSE_TOM, ALL_MINE);
    pass(house, 10);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_TOM)), 0);
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_INES)), 0);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_INES)), parts_to(house, HOUSE_INES));
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_TOM)), parts_to(house, HOUSE_TOM));
}

/* Its second half is refused as often as would send a text by the other. */
static void a_long_text_is_tried_longer_by_the_modem_that_began_it(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "send-delay 5000");
    text_by(house, EAST, HOUSE_INES, ALL_MINE);
    assert_sent(house, EAST, TO(HOUSE_INES), MINUTE_MS);
    say_to(house, EAST, "fault send-refused 2 500");
    pass(house, 30);
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_INES)), parts_to(house, HOUSE_INES));
    assert_int_equal(house_ask(house, "SELECT max(tries) FROM parts_out WHERE part=2"), 3);
}

static void stop_is_obeyed_by_both(void **state)
{
    struct house *house = *state;
    text_by(house, WEST, HOUSE_ROSA, "STOP");
    assert_sent(house, WEST, TO(HOUSE_ROSA), MINUTE_MS);
    report_danger(house, EAST);
    pass(house, 60);
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_ROSA)), 0);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_ROSA)), 1);
}

static void a_text_that_both_deliver_counts_once(void **state)
{
    static const char twice[] = "text " HOUSE_TOM " 2027-03-04T17:00:00Z \"M12 1031.5h\"";
    struct house *house = *state;
    say_to(house, EAST, twice);
    say_to(house, WEST, twice);
    pass(house, 30);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM readings"), 1);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM arrivals"), 1);
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_TOM)) + sent_by(house, WEST, TO(HOUSE_TOM)), 1);
    assert_int_equal(conductor_count(on(house, EAST), "deleted", ""), 1);
    assert_int_equal(conductor_count(on(house, WEST), "deleted", ""), 1);
}

/* The references of both begin with the same number. */
static void a_report_is_of_what_its_own_modem_sent(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "reports 0 1200000");
    say_to(house, WEST, "reports 70 600000");
    text_by(house, EAST, HOUSE_TOM, "M12 1031.5h");
    pass(house, 1);
    text_by(house, WEST, HOUSE_TOM, "TR-9 412h");
    pass(house, 30);
    assert_int_equal(house_ask(house, "SELECT report FROM parts_out WHERE modem='east'"), 0);
    assert_int_equal(house_ask(house, "SELECT report FROM parts_out WHERE modem='west'"), 70);
}

static void health_names_the_one_that_is_gone(void **state)
{
    static char health[8192];
    struct house *house = *state;
    assert_int_equal(ask(house, "health", health, sizeof health), 0);
    say_to(house, WEST, "unplug");
    pass(house, 5);
    assert_int_equal(ask(house, "health", health, sizeof health), 1);
    assert_non_null(strstr(health, "attention  modem     west: "));
    assert_non_null(strstr(health, "ok         modem     east: "));
    say_to(house, EAST, "unplug");
    pass(house, 5);
    assert_int_equal(ask(house, "health", health, sizeof health), 2);
    assert_non_null(strstr(health, "fault      modem     west: "));
    assert_non_null(strstr(health, "fault      modem     east: "));
    assert_non_null(strstr(health, "is the modem plugged in and on?"));
    assert_int_equal(ask(house, "modem", health, sizeof health), 1);
    assert_non_null(strstr(health, "east: the running daemon has "));
    assert_non_null(strstr(health, "west: the running daemon has "));
    assert_int_equal(ask(house, "health --metrics", health, sizeof health), 2);
    assert_non_null(strstr(health, "meterpost_modem_ready{modem=\"east\"} 0\n"));
    assert_non_null(strstr(health, "{check=\"modem\",modem=\"west\"} 2\n"));
}

static void the_log_says_whose_line_is_whose(void **state)
{
    struct house *house = *state;
    say_to(house, WEST, "unplug");
    pass(house, 5);
    assert_true(conductor_await_log(house->conductor, "[west] the modem's port is gone"));
    assert_true(conductor_await_log(house->conductor, "modem west does not work"));
    say_to(house, WEST, "replug");
    pass(house, 5);
    assert_true(conductor_await_log(house->conductor, "[west] modem: ready"));
    assert_true(conductor_await_log(house->conductor, "modem west sends again"));
}

static void a_modem_comes_and_goes_with_a_reload(void **state)
{
    struct house *house = *state;
    struct conductor *c = on(house, EAST);
    for (size_t modems = 1; modems <= 2; modems++) {
        assert_true(yard_write_config(folder_path(), "meterpost", modems));
        assert_true(conductor_signal_daemon(c, SIGHUP));
        assert_true(conductor_await_log(c, "is in force"));
        if (modems == 1) {
            say_to(house, WEST, "hang-up");
        }
        pass(house, 5);
        text_by(house, WEST, HOUSE_TOM, modems == 1 ? "M12 1031.5h" : "TR-9 412h");
        text_by(house, EAST, HOUSE_BEN, modems == 1 ? "R2 800h" : "R2 804h");
        pass(house, 10);
        assert_int_equal(sent_by(house, EAST, TO(HOUSE_BEN)), modems);
        assert_int_equal(sent_by(house, WEST, TO(HOUSE_TOM)), modems == 1 ? 0 : 2);
    }
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_TOM)), 0);
}

static void a_kill_between_two_sends_repeats_each_at_most_once(void **state)
{
    struct house *house = *state;
    say_to(house, EAST, "send-delay 30000");
    say_to(house, WEST, "send-delay 30000");
    text_by(house, EAST, HOUSE_TOM, "M12 1031.5h");
    text_by(house, WEST, HOUSE_BEN, "R2 800h");
    assert_sent(house, EAST, TO(HOUSE_TOM), MINUTE_MS);
    assert_sent(house, WEST, TO(HOUSE_BEN), MINUTE_MS);
    assert_true(conductor_kill_daemon(house->conductor));
    assert_true(conductor_start_daemon(house->conductor));
    pass(house, 60);
    assert_int_equal(sent_by(house, EAST, TO(HOUSE_TOM)), 2);
    assert_int_equal(sent_by(house, WEST, TO(HOUSE_BEN)), 2);
    assert_int_equal(house_ask(house, "SELECT count(*) FROM parts_out WHERE repeated"), 2);
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, house_setup_two, house_teardown)
    const struct CMUnitTest tests[] = {
        CASE(a_person_is_answered_by_the_modem_the_text_came_in_by),
        CASE(an_alert_goes_by_the_first_whoever_brought_its_cause),
        CASE(what_waits_for_one_that_is_gone_goes_by_the_other_once),
        CASE(a_reply_whose_modem_goes_before_it_is_sent_goes_by_the_other),
        CASE(what_one_refuses_twice_goes_by_the_other),
        CASE(one_without_a_network_leaves_its_texts_to_the_other),
        CASE(one_that_goes_in_mid_send_has_its_text_repeated_by_the_other),
        CASE(one_that_falls_silent_in_mid_send_is_not_waited_for),
        CASE(one_that_lost_but_the_word_repeats_by_itself),
        CASE(a_slow_network_is_given_its_time),
        CASE(a_repetition_is_given_all_the_time_there_is),
        CASE(what_went_down_with_one_in_mid_send_is_not_lost),
        CASE(a_text_whose_fate_both_hide_is_repeated_once_in_all),
        CASE(one_that_comes_back_answers_again_what_comes_by_it),
        CASE(a_long_text_stays_with_the_modem_that_began_it),
        CASE(a_long_text_is_tried_longer_by_the_modem_that_began_it),
        CASE(stop_is_obeyed_by_both),
        CASE(a_text_that_both_deliver_counts_once),
        CASE(a_report_is_of_what_its_own_modem_sent),
        CASE(health_names_the_one_that_is_gone),
        CASE(the_log_says_whose_line_is_whose),
        CASE(a_modem_comes_and_goes_with_a_reload),
        CASE(a_kill_between_two_sends_repeats_each_at_most_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
