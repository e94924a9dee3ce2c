/* SPDX-License-Identifier: MIT
 * What the daemon costs: at rest hardly a turn of its loop and no write to the disk; for a text in
 * and its answer out three commands, and hardly an octet more on the line than those are. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

#include <cmocka.h>

#include "fixtures/conductor/house.h"

#define MINUTE_MS 60000
#define QUIET_MINUTES 15
#define TURNS_A_MINUTE 4

static int64_t written_ns(const struct house *house, const char *ending)
{
    char path[300];
    struct stat facts;
    (void)snprintf(path, sizeof path, "%s%s", house->yard.ledger, ending);
    return stat(path, &facts) == 0
               ? facts.st_mtim.tv_sec * INT64_C(1000000000) + facts.st_mtim.tv_nsec + facts.st_size
               : 0;
}

static int64_t all_written_ns(const struct house *house)
{
    return written_ns(house, "") + written_ns(house, "-wal") + written_ns(house, ".work") +
           written_ns(house, ".pin");
}

static void at_rest_it_hardly_turns_and_writes_nothing(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_advance(c, 30 * MINUTE_MS));
    uint64_t rests = conductor_rests(c);
    int64_t before_ns = all_written_ns(house);
    assert_true(conductor_advance(c, QUIET_MINUTES * MINUTE_MS));
    rests = conductor_rests(c) - rests;
    print_message("%d quiet minutes: %d returns of the wait\n", QUIET_MINUTES, (int)rests);
    assert_in_range(rests, 1, QUIET_MINUTES * TURNS_A_MINUTE);
    assert_true(all_written_ns(house) == before_ns);
}

/* The octets of an exchange as the standard has it: the announcement, the text read and deleted,
 * the answer with its prompt. */
static uint64_t octets_needed(size_t pdu_in, size_t pdu_out)
{
    static const char frame[] = "\r\n+CMTI: \"SM\",1\r\n"
                                "AT+CMGR=1\r"
                                "\r\n+CMGR: 0,,29\r\n"
                                "\r\n"
                                "\r\nOK\r\n"
                                "AT+CMGD=1\r"
                                "\r\nOK\r\n"
                                "AT+CMGS=100\r"
                                "\r\n> "
                                "\x1A"
                                "\r\n+CMGS: 1\r\n"
                                "\r\nOK\r\n";
    return sizeof frame - 1 + pdu_in + pdu_out;
}

/* The next PDU that the transcript has of the host or the modem: its digits. */
static size_t next_pdu(struct conductor *c, const char *who)
{
    struct event event;
    size_t digits = 0;
    while (digits < 40 && conductor_await(c, who, "", 0, &event)) {
        digits = strspn(&event.fields[strcspn(event.fields, "\"") + 1], "0123456789ABCDEF");
    }
    return digits;
}

static void the_line_carries_hardly_more_than_it_must(void **state)
{
    struct house *house = *state;
    struct conductor *c = house->conductor;
    uint64_t to_host = 0, from_host = 0, to_host_then = 0, from_host_then = 0;
    assert_true(conductor_settle(c));
    conductor_octets(c, &to_host, &from_host);
    assert_true(conductor_text(c, HOUSE_TOM, "M12 1031.5h"));
    assert_true(conductor_settle(c));
    conductor_octets(c, &to_host_then, &from_host_then);
    uint64_t carried = to_host_then - to_host + from_host_then - from_host;
    size_t in = next_pdu(c, "modem");
    size_t out = next_pdu(c, "host");
    uint64_t needed = octets_needed(in, out);
    assert_in_range(in, 41, 400);
    assert_in_range(out, 41, 400);
    print_message("%d octets on the line, %d needed\n", (int)carried, (int)needed);
    assert_true(carried * 10 <= needed * 11);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(at_rest_it_hardly_turns_and_writes_nothing, house_setup,
                                        house_teardown),
        cmocka_unit_test_setup_teardown(the_line_carries_hardly_more_than_it_must, house_setup,
                                        house_teardown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
