/* SPDX-License-Identifier: MIT
 * What health says of each thing that can be wrong, and what to do about it. */
#include "tests/desk_room.h"

#include "daemon/counter/answers.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/people.h"

static struct health_check checks[HEALTH_CHECKS_MAX];
static size_t check_count;

/* A modem with nothing the matter. */
static struct link_health well(void)
{
    return (struct link_health){.state = LINK_STATE_READY,
                                .maker = "Maker",
                                .model = "Model",
                                .network = "Carrier",
                                .signal_dbm = -71,
                                .registration = 1,
                                .storage_used = 1,
                                .storage_total = 30,
                                .last_heard_s = 1800014400};
}

static void look(const struct room *room, const struct link_health *link)
{
    const struct health_facts facts = {
        .settings = room->settings, .ledger = room->ledger, .links = {link}, .now_s = room->now_s};
    check_count = health_checks_run(&facts, checks);
    for (size_t i = 0; i < check_count; i++) { /* what is wrong is never without advice */
        assert_true((checks[i].advice[0] != '\0') == (checks[i].status != HEALTH_OK));
    }
}

static const struct health_check *check_of(const char *name)
{
    for (size_t i = 0; i < check_count; i++) {
        if (strcmp(checks[i].name, name) == 0) {
            return &checks[i];
        }
    }
    fail_msg("no check %s", name);
    return NULL;
}

#define assert_check(name, wanted, words)                                                          \
    do {                                                                                           \
        const struct health_check *found = check_of(name);                                         \
        assert_int_equal(found->status, wanted);                                                   \
        if (strstr(found->says, words) == NULL) {                                                  \
            fail_msg("%s says: %s", name, found->says);                                            \
        }                                                                                          \
    } while (0)

static int64_t raise_alert(struct room *room)
{
    struct alert_row row = {.plan = "drive", .cycle = 1, .stage = "due", .raised_s = room->now_s};
    assert_int_equal(machines_id(room->ledger, "M12", &row.machine_id), LEDGER_OK);
    assert_int_equal(alerts_raise(room->ledger, &row), LEDGER_OK);
    return row.id;
}

/* Everybody of the shop sends STOP. */
static void stop_shop(struct room *room)
{
    for (size_t i = 0; i < room->settings->person_count; i++) {
        if (room->settings->people[i].role == SETTINGS_ROLE_SHOP) {
            receive(room, room->settings->people[i].phone, "STOP");
        }
    }
    drop_all(room);
}

static void a_house_that_is_well_names_every_check(void **state)
{
    static const char *const names[] = {"daemon", "modem", "network", "signal", "storage", "queue",
                                        "texts",  "disk",  "clock",   "people", "alerts"};
    struct room *room = *state;
    struct link_health link = well();
    at(room, "2027-04-01 08:00");
    look(room, &link);
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        assert_int_equal(check_of(names[i])->status, HEALTH_OK);
    }
    assert_check("modem", HEALTH_OK, "Maker Model");
    assert_check("network", HEALTH_OK, "registered at home, Carrier");
    assert_check("signal", HEALTH_OK, "-71 dBm");
    assert_check("storage", HEALTH_OK, "1 of 30");
    assert_check("texts", HEALTH_OK, "last in never, last out never");
    assert_string_equal(check_of("people")->says, "alerts go to 2 people of the shop");
}

static void a_modem_in_trouble_is_a_line_of_its_own(void **state)
{
    static const struct {
        struct link_health link;
        const char *name;
        enum health_status status;
        const char *says;
    } cases[] = {
        {{.state = LINK_STATE_CLOSED}, "modem", HEALTH_FAULT, "is not open, last heard never"},
        {{.state = LINK_STATE_SETUP}, "modem", HEALTH_ATTENTION, "being set up"},
        {{.state = LINK_STATE_FAULT, .says = "the SIM is locked; take the PUK"},
         "modem",
         HEALTH_FAULT,
         "the SIM is locked"},
        {{.state = LINK_STATE_READY, .registration = 2}, "network", HEALTH_ATTENTION, "searching"},
        {{.state = LINK_STATE_READY, .registration = 3}, "network", HEALTH_FAULT, "refuses"},
        {{.state = LINK_STATE_READY, .registration = 0}, "network", HEALTH_FAULT, "not registered"},
        {{.state = LINK_STATE_READY, .registration = 5}, "network", HEALTH_OK, "roaming"},
        {{.state = LINK_STATE_READY, .signal_dbm = -109}, "signal", HEALTH_ATTENTION, "weak"},
        {{.state = LINK_STATE_READY, .storage_used = 30, .storage_total = 30},
         "storage",
         HEALTH_FAULT,
         "full: 30 of 30"},
    };
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        look(room, &cases[i].link);
        assert_check(cases[i].name, cases[i].status, cases[i].says);
    }
}

static void without_a_daemon_the_ledger_still_answers(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    look(room, NULL);
    assert_check("daemon", HEALTH_FAULT, "no daemon answers");
    assert_non_null(strstr(check_of("daemon")->advice, "systemctl start meterpost"));
    assert_non_null(strstr(check_of("daemon")->advice, "meterpost run -c FILE"));
    assert_check("texts", HEALTH_OK, "last in 2027-04-01T08:00:00");
    assert_check("queue", HEALTH_OK, "1 part waits");
}

/* A monitor gets its report all the same. */
static void a_ledger_that_cannot_be_read_is_a_line_of_its_own(void **state)
{
    struct room *room = *state;
    const struct health_facts facts = {
        .settings = room->settings, .ledger_says = "it is not there", .now_s = 1806500000};
    check_count = health_checks_run(&facts, checks);
    assert_check("ledger", HEALTH_FAULT, "it is not there");
    assert_check("daemon", HEALTH_FAULT, "no daemon answers");
    assert_int_equal(check_of("clock")->status, HEALTH_OK);
}

static void a_text_not_delivered_is_told_beside_the_last_ones(void **state)
{
    struct room *room = *state;
    struct link_health link = well();
    struct part part;
    int64_t next_s;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    assert_true(desk_next_part(room->desk, 0, now_of(room), &part, &next_s));
    struct part_result result = {.part_id = part.id, .fate = PART_FATE_REFUSED, .cause = 1};
    desk_part_ended(room->desk, &result, now_of(room));
    look(room, &link);
    assert_check("texts", HEALTH_ATTENTION, "last in 2027-04-01T08:00:00");
    assert_check("texts", HEALTH_ATTENTION, "1 not sent or not delivered");
}

static void an_answer_that_waits_a_quarter_of_an_hour_or_a_day_is_told(void **state)
{
    struct room *room = *state;
    struct link_health link = well();
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    room->now_s += 900;
    look(room, &link);
    assert_check("queue", HEALTH_OK, "1 part waits, the oldest since 2027-04-01T08:00:00");
    room->now_s += 1;
    look(room, &link);
    assert_check("queue", HEALTH_ATTENTION, "1 part waits, the oldest since 2027-04-01T08:00:00");
    assert_non_null(strstr(check_of("queue")->advice, "the log says"));
    room->now_s += 86400;
    look(room, &link);
    assert_check("queue", HEALTH_FAULT, "1 part waits");
}

/* What is held back on purpose is told as that; once its moment has come, it waits like all. */
static void a_cap_explains_a_wait(void **state)
{
    struct room *room = *state;
    struct link_health link = well();
    struct part part;
    int64_t next_s;
    at(room, "2027-04-01 08:00");
    room->settings->shop.texts_per_hour = 0;
    receive(room, TOM, "M12 40h");
    for (int looks = 0; looks < 24; looks++) {
        assert_false(desk_next_part(room->desk, 0, now_of(room), &part, &next_s));
        look(room, &link);
        assert_check("queue", HEALTH_OK, "1 part waits, 1 of them for a cap (texts_per_hour");
        room->now_s = next_s;
    }
    room->now_s += 901; /* nobody asks any more */
    look(room, &link);
    assert_check("queue", HEALTH_ATTENTION, "1 part waits, the oldest since 2027-04-01T10:00:00");
}

static void a_modem_that_does_not_say_whether_it_is_registered_is_no_fault(void **state)
{
    static const struct {
        int32_t registration;
        enum health_status status;
        const char *says;
    } cases[] = {
        {-1, HEALTH_OK, "does not say"},       {4, HEALTH_OK, "cannot tell"},
        {1, HEALTH_OK, "registered at home"},  {5, HEALTH_OK, "registered, roaming"},
        {7, HEALTH_OK, "texts only, roaming"}, {2, HEALTH_ATTENTION, "searching"},
        {3, HEALTH_FAULT, "refuses the SIM"},  {0, HEALTH_FAULT, "not registered"},
        {8, HEALTH_FAULT, "emergency calls"},
    };
    struct room *room = *state;
    struct link_health link = well();
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        link.registration = cases[i].registration;
        look(room, &link);
        assert_check("network", cases[i].status, cases[i].says);
    }
}

static void a_port_where_nothing_answers_is_a_fault_while_it_is_tried_again(void **state)
{
    struct room *room = *state;
    struct link_health link = well();
    link.state = LINK_STATE_SETUP;
    look(room, &link);
    assert_check("modem", HEALTH_ATTENTION, "being set up");
    (void)snprintf(link.says, sizeof link.says, "nothing on /dev/x answers AT; is it on?");
    look(room, &link);
    assert_check("modem", HEALTH_FAULT, "nothing on /dev/x answers AT");
}

static void a_place_that_cannot_be_cleared_is_told(void **state)
{
    struct room *room = *state;
    struct link_health link = well();
    link.uncleared = 1;
    look(room, &link);
    assert_check("storage", HEALTH_ATTENTION, "cannot be deleted");
}

static void a_sim_without_its_service_centre_is_a_fault(void **state)
{
    struct room *room = *state;
    struct link_health link = well();
    link.no_centre = true;
    (void)snprintf(link.says, sizeof link.says, "the SIM has no service centre number; ask");
    look(room, &link);
    assert_check("modem", HEALTH_FAULT, "the SIM has no service centre number");
}

static void sends_that_fail_are_told_at_once_and_why(void **state)
{
    struct room *room = *state;
    struct link_health link = well();
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    link.sends_failed = 1;
    link.sends_cause = 38;
    look(room, &link);
    assert_check("queue", HEALTH_ATTENTION, "the network is out of order (38)");
    link.sends_failed = 3;
    look(room, &link);
    assert_check("queue", HEALTH_FAULT, "the network is out of order (38)");
    link.sends_failed = 1;
    link.sends_cause = 8; /* nothing that passes by itself */
    look(room, &link);
    assert_check("queue", HEALTH_FAULT, "the operator bars texts from this SIM (8)");
    assert_non_null(strstr(check_of("queue")->advice, "operator"));
    link.sends_cause = 330;
    look(room, &link);
    assert_non_null(strstr(check_of("queue")->advice, "the modem's service_centre"));
}

static void an_alert_that_reached_nobody_is_a_fault(void **state)
{
    struct room *room = *state;
    struct link_health link = well();
    struct part part;
    int64_t next_s;
    at(room, "2027-04-01 08:00");
    (void)raise_alert(room);
    receive(room, TOM, "M12 90h");
    (void)desk_round(room->desk, now_of(room));
    int alerts = 0;
    while (desk_next_part(room->desk, 0, now_of(room), &part, &next_s)) {
        struct part_result result = {.part_id = part.id, .fate = PART_FATE_REFUSED, .cause = 1};
        desk_part_ended(room->desk, &result, now_of(room));
        alerts++;
        look(room, &link);
    }
    assert_true(alerts >= 3); /* the reply, and two of the shop */
    assert_check("alerts", HEALTH_FAULT, "an alert of 2027-04-01T08:00:00");
    assert_check("texts", HEALTH_ATTENTION, "the number is not assigned to anybody (1)");
}

static void an_alert_waits_for_the_shops_hours_in_peace(void **state)
{
    struct room *room = *state;
    struct link_health link = well();
    at(room, "2027-04-01 22:00");
    (void)raise_alert(room);
    look(room, &link);
    assert_check("alerts", HEALTH_OK, "1 waits since 2027-04-01T22:00:00");
    room->now_s += 15 * 86400;
    look(room, &link);
    assert_check("alerts", HEALTH_ATTENTION, "for the shop's hours");
}

static void an_alert_that_nobody_can_receive_is_a_fault_until_somebody_can(void **state)
{
    struct room *room = *state;
    struct link_health link = well();
    at(room, "2027-04-01 08:00");
    int64_t id = raise_alert(room);
    stop_shop(room);
    look(room, &link);
    assert_check("alerts", HEALTH_FAULT, "for somebody of the shop who may be texted");
    assert_non_null(strstr(check_of("alerts")->advice, "meterpost due"));
    assert_check("people", HEALTH_FAULT, "STOP is in force for all 2");
    receive(room, ROSA, "START");
    look(room, &link);
    assert_check("people", HEALTH_OK, "alerts go to 1 person of the shop; 1 said STOP");
    assert_check("alerts", HEALTH_OK, "for the shop's hours");
    assert_int_equal(alerts_told(room->ledger, id, 0, room->now_s), LEDGER_OK);
    look(room, &link);
    assert_check("alerts", HEALTH_OK, "none waits");
}

static void a_clock_is_judged_by_the_last_text_where_no_daemon_runs(void **state)
{
    struct room *room = *state;
    at(room, "2027-04-01 08:00");
    receive(room, TOM, "M12 40h");
    look(room, NULL);
    assert_check("clock", HEALTH_OK, "2027-04-01");
    at(room, "2027-03-01 08:00");
    look(room, NULL);
    assert_check("clock", HEALTH_FAULT, "at least 30 days behind: it shows a time before texts");
    room->now_s = 86400;
    look(room, NULL);
    assert_check("clock", HEALTH_FAULT, "behind: it shows a time before this program was written");
    at(room, "2031-04-01 08:00");
    look(room, NULL);
    assert_check("clock", HEALTH_ATTENTION, "nothing confirms it");
}

static void a_clock_that_the_network_contradicts_is_a_fault(void **state)
{
    struct room *room = *state;
    struct clock_judgement clock = {.verdict = CLOCK_VERDICT_AHEAD,
                                    .reason = CLOCK_REASON_NETWORK,
                                    .off_s = INT64_C(5) * 86400};
    struct health_facts facts = {.settings = room->settings,
                                 .ledger = room->ledger,
                                 .clock = &clock,
                                 .now_s = local_s("2027-04-06 08:00")};
    check_count = health_checks_run(&facts, checks);
    assert_check("clock", HEALTH_FAULT, "5 days ahead: by the network's time");
    clock = (struct clock_judgement){.reason = CLOCK_REASON_NETWORK, .off_s = -5 * 3600};
    check_count = health_checks_run(&facts, checks);
    assert_check("clock", HEALTH_ATTENTION, "5 h behind the network's time");
    clock.off_s = 600;
    check_count = health_checks_run(&facts, checks);
    assert_check("clock", HEALTH_OK, "2027-04-06");
}

static void a_board_that_cannot_be_kept_is_told(void **state)
{
    struct room *room = *state;
    struct settings settings = *room->settings;
    struct health_facts facts = {
        .settings = &settings, .ledger = room->ledger, .board_says = "", .now_s = room->now_s};
    settings.shop.board = "/var/lib/meterpost/board.html";
    check_count = health_checks_run(&facts, checks);
    assert_check("board", HEALTH_OK, "kept at /var/lib/meterpost/board.html");
    facts.board_says = "/var/lib/meterpost/board.html is there and is no page; name another file";
    check_count = health_checks_run(&facts, checks);
    assert_check("board", HEALTH_ATTENTION, "is no page");
    settings.shop.board = "";
    facts.board_says = "";
    check_count = health_checks_run(&facts, checks);
    assert_check("board", HEALTH_OK, "none is kept");
}

int main(void)
{
#define CASE(name) cmocka_unit_test_setup_teardown(name, room_open, room_close)
    const struct CMUnitTest tests[] = {
        CASE(a_house_that_is_well_names_every_check),
        CASE(a_modem_in_trouble_is_a_line_of_its_own),
        CASE(without_a_daemon_the_ledger_still_answers),
        CASE(a_ledger_that_cannot_be_read_is_a_line_of_its_own),
        CASE(a_text_not_delivered_is_told_beside_the_last_ones),
        CASE(an_answer_that_waits_a_quarter_of_an_hour_or_a_day_is_told),
        CASE(a_cap_explains_a_wait),
        CASE(a_modem_that_does_not_say_whether_it_is_registered_is_no_fault),
        CASE(a_port_where_nothing_answers_is_a_fault_while_it_is_tried_again),
        CASE(a_place_that_cannot_be_cleared_is_told),
        CASE(a_sim_without_its_service_centre_is_a_fault),
        CASE(sends_that_fail_are_told_at_once_and_why),
        CASE(an_alert_that_reached_nobody_is_a_fault),
        CASE(an_alert_waits_for_the_shops_hours_in_peace),
        CASE(an_alert_that_nobody_can_receive_is_a_fault_until_somebody_can),
        CASE(a_clock_is_judged_by_the_last_text_where_no_daemon_runs),
        CASE(a_clock_that_the_network_contradicts_is_a_fault),
        CASE(a_board_that_cannot_be_kept_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
