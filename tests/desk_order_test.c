/* SPDX-License-Identifier: MIT
 * In whatever order a set of readings and services arrives, the same state is reached and each alert
 * is raised once. Orders are drawn from a seed that is printed; ORDER_SEED=N runs another one. */
#include "fixtures/standin/tpdu_network.h"
#include "tests/desk_room.h"
#include "tests/draw.h"

#include "daemon/desk/status.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/services.h"
#include "daemon/yard/yard.h"

#define TEXTS 22
#define SETS 12
#define ORDERS 12
#define ALERTS_MOST 64

struct event {
    int64_t sent_s;
    const char *from;
    char text[40];
};

/* Three days apart, at a pace and with services that differ from set to set, so that some end
 * before their first service and some near the next. */
static void draw_events(struct room *room, struct event events[TEXTS])
{
    int64_t tenths = 20 + draw(100);
    uint32_t pace = 20 + 40 * draw(10);
    bool serviced = draw(3) != 0;
    for (int i = 0; i < TEXTS; i++) {
        bool service = serviced && (i == 6 || i == 7);
        tenths += 5 + draw(pace);
        events[i].sent_s = room->now_s + (int64_t)i * 3 * 86400 + draw(3600);
        events[i].from = service ? ROSA : TOM;
        (void)snprintf(events[i].text, sizeof events[i].text, "M12%s %lld.%lldh",
                       service ? " DONE" : "", (long long)(tenths / 10), (long long)(tenths % 10));
    }
}

struct alerts {
    struct alert_row rows[ALERTS_MOST];
    size_t count;
};

static void see_alert(void *ctx, const struct alert_row *row, bool is_void)
{
    struct alerts *alerts = ctx;
    for (size_t i = 0; i < alerts->count && !is_void; i++) {
        const struct alert_row *other = &alerts->rows[i];
        assert_false(other->cycle == row->cycle && strcmp(other->plan, row->plan) == 0 &&
                     strcmp(other->stage, row->stage) == 0);
    }
    if (!is_void) {
        assert_true(alerts->count < ALERTS_MOST);
        alerts->rows[alerts->count++] = *row;
    }
}

static void count_service(void *ctx, const struct service_row *row)
{
    *(int *)ctx += !row->struck;
}

/* What came of it: the standing, and how many services stand. */
struct outcome {
    struct yard_standing standing;
    int services;
};

/* The stage that holds is raised once in this cycle; nothing waits to be told that does not hold. */
static void judge_alerts(struct room *room, int64_t machine_id, const struct yard_standing *now)
{
    struct alerts alerts = {.count = 0};
    int held = 0;
    assert_int_equal(alerts_each(room->ledger, machine_id, see_alert, &alerts), LEDGER_OK);
    for (size_t i = 0; i < alerts.count; i++) {
        held += alerts.rows[i].cycle == now->cycle &&
                strcmp(alerts.rows[i].stage, due_stage_word(now->stage)) == 0;
        assert_true(alerts.rows[i].told_s != 0);
    }
    assert_int_equal(held, due_stage_row(now->stage)->tells ? 1 : 0);
}

static struct outcome play(const struct event events[TEXTS], const int order[TEXTS])
{
    struct room *room = room_at(":memory:");
    struct outcome outcome = {.services = 0};
    int64_t machine_id = 0;
    room->now_s = events[TEXTS - 1].sent_s + 3600;
    for (int i = 0; i < TEXTS; i++) {
        struct tpdu_deliver_order text = order_of(room, events[order[i]].from, "");
        text.part.text = events[order[i]].text;
        text.part.to = strlen(events[order[i]].text);
        text.sent_at_s = events[order[i]].sent_s;
        receive_order(room, &text);
        room->now_s += 600;
        if (draw(3) == 0) {
            (void)desk_round(room->desk, now_of(room));
        }
    }
    room->now_s = events[TEXTS - 1].sent_s + 6 * 3600; /* the shop is open */
    (void)desk_round(room->desk, now_of(room));
    assert_int_equal(machines_id(room->ledger, "M12", &machine_id), LEDGER_OK);
    struct yard yard = {.settings = room->settings, .ledger = room->ledger};
    assert_int_equal(yard_stand(&yard, 0, 0, room->now_s, &outcome.standing), LEDGER_OK);
    judge_alerts(room, machine_id, &outcome.standing);
    assert_int_equal(services_each(room->ledger, machine_id, count_service, &outcome.services),
                     LEDGER_OK);
    /* the ledger's own numbers are given in the order of arrival */
    outcome.standing.cause_reading_id = outcome.standing.cause_service_id = 0;
    void *state = room;
    assert_int_equal(room_close(&state), 0);
    return outcome;
}

static void draw_order(int order[TEXTS])
{
    for (int i = 0; i < TEXTS; i++) {
        int j = (int)draw((uint32_t)(i + 1));
        order[i] = order[j];
        order[j] = i;
    }
}

static void the_order_of_arrival_changes_neither_state_nor_alerts(void **state)
{
    const char *other = getenv("ORDER_SEED");
    struct room *room = *state;
    int mattered = 0;
    seed = other != NULL ? strtoull(other, NULL, 10) : 48213;
    print_message("order: seed %llu\n", (unsigned long long)seed);
    at(room, "2027-04-01 07:00");
    for (int set = 0; set < SETS; set++) {
        struct event events[TEXTS];
        int order[TEXTS];
        draw_events(room, events);
        for (int i = 0; i < TEXTS; i++) {
            order[i] = i;
        }
        struct outcome straight = play(events, order);
        mattered += due_stage_row(straight.standing.stage)->tells;
        for (int i = 0; i < ORDERS; i++) {
            draw_order(order);
            struct outcome outcome = play(events, order);
            assert_int_equal(outcome.services, straight.services);
            assert_memory_equal(&outcome.standing, &straight.standing, sizeof straight.standing);
        }
    }
    assert_true(mattered > 0 && mattered < SETS);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test_setup_teardown(the_order_of_arrival_changes_neither_state_nor_alerts,
                                        room_open, room_close),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
