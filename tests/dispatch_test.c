/* SPDX-License-Identifier: MIT
 * What an error means for a text (TS 27.005 3.2.5; causes of TS 24.011 E-2, TP-FCS of TS 23.040
 * 9.2.3.22). What is to be tried again, and when, is common practice, no source. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "daemon/modem/dispatch.h"

static void each_cause_has_its_fate(void **state)
{
    static const struct {
        int32_t cause;
        enum part_fate fate;
        bool all; /* concerns whatever comes next as well */
    } cases[] = {
        {-1, PART_FATE_RETRY, false},    {0, PART_FATE_RETRY, false},
        {1, PART_FATE_REFUSED, false},   {8, PART_FATE_REFUSED, false},
        {10, PART_FATE_REFUSED, false},  {17, PART_FATE_RETRY, true},
        {21, PART_FATE_RETRY, false},    {22, PART_FATE_RETRY, true},
        {27, PART_FATE_RETRY, false},    {28, PART_FATE_REFUSED, false},
        {29, PART_FATE_REFUSED, false},  {30, PART_FATE_REFUSED, false},
        {31, PART_FATE_RETRY, false},    {38, PART_FATE_RETRY, true},
        {41, PART_FATE_RETRY, true},     {42, PART_FATE_RETRY, true},
        {47, PART_FATE_RETRY, true},     {50, PART_FATE_REFUSED, false},
        {69, PART_FATE_REFUSED, false},  {111, PART_FATE_RETRY, false},
        {127, PART_FATE_RETRY, false},   {128, PART_FATE_REFUSED, false},
        {176, PART_FATE_REFUSED, false}, {192, PART_FATE_RETRY, true},
        {193, PART_FATE_REFUSED, false}, {194, PART_FATE_RETRY, true},
        {195, PART_FATE_REFUSED, false}, {196, PART_FATE_REFUSED, false},
        {197, PART_FATE_TAKEN, false},   {198, PART_FATE_REFUSED, false},
        {208, PART_FATE_RETRY, true},    {213, PART_FATE_RETRY, true},
        {255, PART_FATE_RETRY, false},   {300, PART_FATE_RETRY, false},
        {304, PART_FATE_REFUSED, false}, {310, PART_FATE_RETRY, true},
        {314, PART_FATE_RETRY, true},    {322, PART_FATE_RETRY, true},
        {330, PART_FATE_RETRY, true},    {331, PART_FATE_RETRY, true},
        {332, PART_FATE_RETRY, true},    {500, PART_FATE_RETRY, false},
        {9999, PART_FATE_RETRY, false},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct dispatch_cause cause = dispatch_cause(cases[i].cause);
        if (cause.fate != cases[i].fate || cause.all != cases[i].all) {
            fail_msg("cause %d", (int)cases[i].cause);
        }
        bool again = cause.fate == PART_FATE_RETRY;
        assert_int_equal(cause.retry_after_ms >= 30000, again);
    }
}

struct house {
    int asked;
    bool has;
    int64_t next_ms;
    struct part_result told;
};

static bool give(void *ctx, struct instant now, struct part *part, int64_t *next_ms)
{
    struct house *house = ctx;
    (void)now;
    house->asked++;
    *next_ms = house->next_ms;
    *part = (struct part){.id = 4, .line = {.hex = "0011", .hex_len = 4, .tpdu_octets = 1}};
    return house->has;
}

static void note(void *ctx, struct instant now, const struct part_result *result)
{
    struct house *house = ctx;
    (void)now;
    house->told = *result;
}

static struct link_host host_of(struct house *house)
{
    return (struct link_host){.outgoing = give, .sent = note, .ctx = house};
}

static void nothing_to_send_is_asked_for_again_when_told(void **state)
{
    struct house house = {.next_ms = 5000};
    struct link_host host = host_of(&house);
    struct dispatch dispatch;
    struct chat_command command = {.wait_ms = 0};
    (void)state;
    dispatch_init(&dispatch, &host);
    struct speaker speaker = dispatch_speaker(&dispatch);
    assert_int_equal(speaker.deadline_ms(&dispatch), 0);
    assert_false(speaker.next(&dispatch, (struct instant){100, 0}, &command));
    assert_int_equal(speaker.deadline_ms(&dispatch), 5000);
    assert_false(speaker.next(&dispatch, (struct instant){4999, 0}, &command));
    assert_int_equal(house.asked, 1);
    dispatch_wake(&dispatch);
    assert_int_equal(speaker.deadline_ms(&dispatch), 0);
    assert_false(speaker.next(&dispatch, (struct instant){200, 0}, &command));
    assert_int_equal(house.asked, 2);
}

static void a_house_that_names_the_past_makes_no_busy_loop(void **state)
{
    struct house house = {.next_ms = 0};
    struct link_host host = host_of(&house);
    struct dispatch dispatch;
    struct chat_command command = {.wait_ms = 0};
    (void)state;
    dispatch_init(&dispatch, &host);
    struct speaker speaker = dispatch_speaker(&dispatch);
    assert_false(speaker.next(&dispatch, (struct instant){100, 0}, &command));
    assert_true(speaker.deadline_ms(&dispatch) > 100);
}

static void an_error_that_concerns_all_holds_all_back(void **state)
{
    struct house house = {.has = true};
    struct link_host host = host_of(&house);
    struct dispatch dispatch;
    struct chat_command command = {.wait_ms = 0};
    struct chat_result result = {.outcome = CHAT_CMS_ERROR, .code = 331, .committed = true};
    (void)state;
    dispatch_init(&dispatch, &host);
    struct speaker speaker = dispatch_speaker(&dispatch);
    assert_true(speaker.next(&dispatch, (struct instant){100, 0}, &command));
    assert_string_equal(command.text, "AT+CMGS=1");
    enum finding finding = speaker.done(&dispatch, (struct instant){1000, 0}, &result);
    assert_int_equal(house.told.fate, PART_FATE_RETRY);
    assert_int_equal(house.told.cause, 331);
    assert_int_equal(finding, FINDING_NETWORK_LOST);
    assert_false(speaker.next(&dispatch, (struct instant){1000, 0}, &command));
    assert_int_equal(speaker.deadline_ms(&dispatch), 61000);
    assert_true(speaker.next(&dispatch, (struct instant){61000, 0}, &command));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_cause_has_its_fate),
        cmocka_unit_test(nothing_to_send_is_asked_for_again_when_told),
        cmocka_unit_test(a_house_that_names_the_past_makes_no_busy_loop),
        cmocka_unit_test(an_error_that_concerns_all_holds_all_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
