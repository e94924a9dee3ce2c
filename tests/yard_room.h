/* SPDX-License-Identifier: MIT
 * yard_room: a yard for tests, its ledger in memory. Ines looks after M12, M14 and TR-9, Rosa is
 * the shop. The drive service (first at 75 h, then every 500 h) is common practice, no source. */
#ifndef METERPOST_TESTS_YARD_ROOM_H
#define METERPOST_TESTS_YARD_ROOM_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

#include "config/settings.h"
#include "daemon/ledger/ledger.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/services.h"
#include "daemon/upkeep/civil.h"
#include "daemon/yard/yard.h"
#include "daemon/ground/zone.h"

enum { M12, M14, TR9, MACHINES };
enum { INES, ROSA, TOM };
enum { DRIVE, DECK };

struct yard_room {
    struct settings settings;
    struct settings_plan plans[2];
    struct settings_kind kind;
    struct settings_person people[3];
    struct settings_machine machines[MACHINES];
    struct yard yard;
    int64_t ids[MACHINES];
};

static inline struct plan room_drive(void)
{
    return (struct plan){.first_hundredths = 7500,
                         .every_hundredths = 50000,
                         .months = 12,
                         .count_from = PLAN_COUNT_LAST_SERVICE,
                         .notice_hundredths = 2500,
                         .notice_days = 14,
                         .grace_hundredths = 1000,
                         .grace_days = 14,
                         .recheck_after_hundredths = 500};
}

static inline void room_settle(struct yard_room *room)
{
    static const char *const names[MACHINES] = {"M12", "M14", "TR-9"};
    room->plans[DRIVE] =
        (struct settings_plan){.name = "drive", .title = "Drive oil", .plan = room_drive()};
    room->plans[DECK] =
        (struct settings_plan){.name = "deck", .title = "Deck", .plan = room_drive()};
    room->plans[DECK].plan.first_hundredths = 10000;
    room->plans[DECK].plan.every_hundredths = 10000;
    room->kind = (struct settings_kind){.name = "ridge-60",
                                        .plans = {DRIVE, DECK},
                                        .plan_count = 1,
                                        .week_hundredths = 3500, /* 5 h a day */
                                        .most_day_hundredths = 1600,
                                        .meter_limit_hundredths = 999990};
    room->people[INES] = (struct settings_person){.name = "Ines", .role = SETTINGS_ROLE_CREW};
    room->people[ROSA] = (struct settings_person){.name = "Rosa", .role = SETTINGS_ROLE_SHOP};
    room->people[TOM] = (struct settings_person){.name = "Tom", .role = SETTINGS_ROLE_CREW};
    for (int i = 0; i < MACHINES; i++) {
        room->machines[i] = (struct settings_machine){.name = names[i],
                                                      .crew = {INES, ROSA},
                                                      .crew_count = 2,
                                                      .owner = "",
                                                      .site = "",
                                                      .serial = ""};
    }
    room->settings = (struct settings){.plans = room->plans,
                                       .plan_count = 2,
                                       .kinds = &room->kind,
                                       .kind_count = 1,
                                       .people = room->people,
                                       .person_count = 3,
                                       .machines = room->machines,
                                       .machine_count = MACHINES};
}

static inline int yard_enter(void **state)
{
    enum ledger_result result;
    char says[LEDGER_SAYS_OCTETS];
    struct yard_room *room = calloc(1, sizeof *room);
    room_settle(room);
    assert_true(zone_set("America/Los_Angeles"));
    room->yard.settings = &room->settings;
    room->yard.ledger = ledger_open(":memory:", LEDGER_WRITE, &result, says);
    assert_non_null(room->yard.ledger);
    for (int i = 0; i < MACHINES; i++) {
        assert_int_equal(machines_id(room->yard.ledger, room->machines[i].name, &room->ids[i]),
                         LEDGER_OK);
    }
    *state = room;
    return 0;
}

static inline int yard_leave(void **state)
{
    struct yard_room *room = *state;
    ledger_close(room->yard.ledger);
    free(room);
    return 0;
}

/* That hour of the shop's clock, so many days after 2027-05-03, a Monday. */
static inline int64_t room_at(int32_t day, int32_t hour)
{
    int32_t monday = civil_day((struct civil_date){2027, 5, 3});
    return zone_unix(monday + day, hour * 3600);
}

static inline int64_t room_read(struct yard_room *room, int machine, int64_t hundredths,
                                int64_t read_s)
{
    struct reading_row row = {.machine_id = room->ids[machine],
                              .meter_hundredths = hundredths,
                              .read_s = read_s,
                              .noted_s = read_s};
    assert_int_equal(readings_add(room->yard.ledger, &row), LEDGER_OK);
    return row.id;
}

static inline int64_t room_serve(struct yard_room *room, int machine, const char *plan,
                                 int64_t hundredths, int64_t done_s)
{
    struct service_row row = {.machine_id = room->ids[machine],
                              .meter_hundredths = hundredths,
                              .done_s = done_s,
                              .noted_s = done_s};
    (void)snprintf(row.plan, sizeof row.plan, "%s", plan);
    assert_int_equal(services_add(room->yard.ledger, &row), LEDGER_OK);
    return row.id;
}

static inline struct yard_standing room_stand(struct yard_room *room, int machine, int plan,
                                              int64_t now_s)
{
    struct yard_standing standing;
    assert_int_equal(yard_stand(&room->yard, machine, plan, now_s, &standing), LEDGER_OK);
    return standing;
}

#endif
