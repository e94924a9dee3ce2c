/* SPDX-License-Identifier: MIT
 * What is sent when, and what an error holds back. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <string.h>

#include "daemon/modem/dispatch.h"

struct house {
    int asked;
    bool has;
    int64_t next_ms, id;
    struct part_result told;
};

static bool give(void *ctx, struct instant now, struct part *part, int64_t *next_ms)
{
    struct house *house = ctx;
    (void)now;
    house->asked++;
    *next_ms = house->next_ms;
    *part = (struct part){.id = house->id, .line = {.hex = "0011", .hex_len = 4, .tpdu_octets = 1}};
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
    struct link_health health = {.sends_failed = 0};
    struct chat_command command = {.wait_ms = 0};
    (void)state;
    dispatch_init(&dispatch, &host, &health);
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
    struct link_health health = {.sends_failed = 0};
    struct chat_command command = {.wait_ms = 0};
    (void)state;
    dispatch_init(&dispatch, &host, &health);
    struct speaker speaker = dispatch_speaker(&dispatch);
    assert_false(speaker.next(&dispatch, (struct instant){100, 0}, &command));
    assert_true(speaker.deadline_ms(&dispatch) > 100);
}

/* One exchange: a part is handed out and met with that error. */
static enum finding fail_once(struct speaker *speaker, int32_t code, int64_t now_ms)
{
    struct chat_command command = {.wait_ms = 0};
    struct chat_result result = {.outcome = CHAT_CMS_ERROR, .code = code, .committed = true};
    assert_true(speaker->next(speaker->ctx, (struct instant){now_ms, 0}, &command));
    assert_string_equal(command.text, "AT+CMGS=1");
    return speaker->done(speaker->ctx, (struct instant){now_ms, 0}, &result);
}

static void an_error_that_concerns_all_holds_its_own_text_first(void **state)
{
    struct house house = {.has = true, .id = 4};
    struct link_host host = host_of(&house);
    struct dispatch dispatch;
    struct link_health health = {.sends_failed = 0};
    struct chat_command command = {.wait_ms = 0};
    (void)state;
    dispatch_init(&dispatch, &host, &health);
    struct speaker speaker = dispatch_speaker(&dispatch);
    assert_int_equal(fail_once(&speaker, 331, 1000), FINDING_NETWORK_LOST);
    assert_int_equal(house.told.fate, PART_FATE_RETRY);
    assert_int_equal(house.told.cause, 331);
    assert_int_equal(house.told.retry_after_ms, 60000);
    house.id = 5; /* the next one may go at once */
    assert_int_equal(fail_once(&speaker, 331, 1000), FINDING_NETWORK_LOST);
    house.id = 6; /* and now all wait */
    assert_false(speaker.next(&dispatch, (struct instant){1000, 0}, &command));
    assert_int_equal(speaker.deadline_ms(&dispatch), 61000);
    assert_true(speaker.next(&dispatch, (struct instant){61000, 0}, &command));
    assert_int_equal(health.sends_failed, 2);
    assert_int_equal(health.sends_cause, 331);
}

static void one_text_that_went_ends_the_row_of_failures(void **state)
{
    struct house house = {.has = true, .id = 4};
    struct link_host host = host_of(&house);
    struct dispatch dispatch;
    struct link_health health = {.sends_failed = 0};
    struct chat_command command = {.wait_ms = 0};
    struct chat_result good = {.outcome = CHAT_OK, .informed = true, .committed = true};
    (void)state;
    dispatch_init(&dispatch, &host, &health);
    struct speaker speaker = dispatch_speaker(&dispatch);
    (void)fail_once(&speaker, 38, 1000);
    house.id = 5;
    assert_true(speaker.next(&dispatch, (struct instant){1000, 0}, &command));
    (void)speaker.done(&dispatch, (struct instant){1000, 0}, &good);
    assert_int_equal(health.sends_failed, 0);
    house.id = 6;
    (void)fail_once(&speaker, 38, 1000);
    house.id = 7;
    assert_true(speaker.next(&dispatch, (struct instant){1000, 0}, &command));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_to_send_is_asked_for_again_when_told),
        cmocka_unit_test(a_house_that_names_the_past_makes_no_busy_loop),
        cmocka_unit_test(an_error_that_concerns_all_holds_its_own_text_first),
        cmocka_unit_test(one_text_that_went_ends_the_row_of_failures),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
