/* SPDX-License-Identifier: MIT
 * yard: where config and history meet: how a machine stands, and whether a figure can be true.
 * Asked by the desk and by the counter alike, so that they agree to the digit. */
#ifndef METERPOST_DAEMON_YARD_YARD_H
#define METERPOST_DAEMON_YARD_YARD_H

#include <stdbool.h>
#include <stdint.h>

#include "config/settings.h"
#include "daemon/ledger/ledger.h"
#include "daemon/upkeep/almanac.h"
#include "daemon/upkeep/plan.h"

/* Both must outlive it; a reload points `settings` at the new ones. What follows them is kept by the
 * yard for itself and begins as zero. */
struct yard {
    const struct settings *settings;
    struct ledger *ledger;
    struct almanac almanac; /* of that day and those settings: */
    int32_t almanac_day;
    const struct settings *almanac_of;
};

/* A machine's kind; both are of the settings. */
static inline const struct settings_kind *yard_kind(const struct settings *settings,
                                                    int32_t machine)
{
    return &settings->kinds[settings->machines[machine].kind];
}

/* How one machine stands against one plan at one moment. Meter figures are on today's meter, true
 * ones count swapped meters too. Days are civil days in the shop's zone. */
struct yard_standing {
    int32_t machine;    /* index into settings.machines */
    int32_t plan;       /* index into settings.plans */
    int64_t machine_id; /* the ledger's; 0: it has not heard of it */
    enum due_stage stage;
    bool parked;
    /* What the shop has said of it last; at most one of the three holds. */
    bool booked; /* into the shop for that day: */
    int32_t booked_day;
    int64_t booked_s; /* when that was said */
    bool in_shop;     /* since that moment: */
    int64_t in_since_s;
    bool gone; /* sold or scrapped, by the config or else by a text, on that day: */
    int32_t gone_day;
    bool read; /* there is a reading: the three below are set */
    int64_t meter_hundredths, true_hundredths;
    int64_t read_s;
    double hours_a_day;  /* 0 while parked */
    int32_t usage_rests; /* readings it rests on; 0: the kind's typical figure */
    bool has_due;        /* due figures below are set (not for no-record and unread) */
    int64_t due_true_hundredths, due_meter_hundredths;
    int64_t left_hundredths; /* negative: past it */
    bool has_limit_day;      /* the calendar limit, counted from that day: */
    int32_t limit_from_day, limit_day;
    /* Whichever comes first, of the point by hours and the calendar limit; what is shown, told and
     * sorted by. By hours where neither is known. */
    enum due_by by;
    bool has_forecast; /* there is a day */
    /* earliest <= due <= latest. By the hours, not before the last reading's day; and where no
     * reading says yet that the point is reached, due and latest are not before today. */
    int32_t due_day, earliest_day, latest_day;
    /* Silent, and at its usual pace it has come near the point by hours, or past it: a reading is
     * wanted. What the meter is then likely to show. */
    bool wanted;
    int64_t likely_meter_hundredths;
    bool serviced; /* by ledger or seed */
    int64_t last_done_true_hundredths, last_done_meter_hundredths;
    bool last_done_day_known;
    int32_t last_done_day;
    int64_t cycle;            /* 0 leads up to the first service, else see due_cycle */
    int64_t cause_reading_id; /* the latest reading */
    int64_t cause_service_id; /* the service that began the cycle, 0 none or seed */
};

/* Fills *standing. plan is an index into settings.plans and must be one of the machine's kind. */
enum ledger_result yard_stand(struct yard *yard, int32_t machine, int32_t plan, int64_t now_s,
                              struct yard_standing *standing);

/* Every plan of the machine's kind, in the kind's order, from one look at the ledger. standings has
 * room for SETTINGS_PLANS_MAX of them. */
enum ledger_result yard_stand_machine(struct yard *yard, int32_t machine, int64_t now_s,
                                      struct yard_standing *standings);

/* The one order "worst first": by stage, and within a stage the earliest day first, by hours or by
 * date; on the same day, and where there is none, the fewest hours left. What has no day comes after
 * what has one. Negative: one goes before the other; 0: they are equal. */
int yard_worst_first(const struct yard_standing *one, const struct yard_standing *other);

/* Every machine that is not gone and each plan, worst first; equal ones in the order of the settings.
 * *standings is allocated and the caller frees it. */
enum ledger_result yard_stand_all(struct yard *yard, int64_t now_s,
                                  struct yard_standing **standings, size_t *count);

/* What a new figure is worth against what is on record. */
enum yard_verdict {
    YARD_PLAUSIBLE,
    YARD_SOFT_DOUBT,    /* the clock allows it, but more than three times the usual use and four
                           hours above it: saved and said */
    YARD_ALREADY_NOTED, /* the same figure on the same day */
    YARD_DOUBTFUL       /* nothing is changed; see offer */
};
enum yard_offer {
    YARD_OFFER_NONE,       /* refuse, saying what was expected */
    YARD_OFFER_SLIP,       /* this machine, another figure */
    YARD_OFFER_MACHINE,    /* another machine of the sender, the same figure */
    YARD_OFFER_LAST_WRONG, /* the new figure, and the last reading struck out */
    YARD_OFFER_ROLL_OVER,
    YARD_OFFER_SWAP
};
struct yard_judgement {
    enum yard_verdict verdict;
    enum yard_offer offer;
    int32_t offer_machine;
    int64_t offer_hundredths;    /* -1 none */
    int64_t strikes_reading_id;  /* YARD_OFFER_LAST_WRONG */
    int64_t old_last_hundredths; /* roll-over and swap: the old meter ended at this figure, and the
                                    new one began at nothing */
    int64_t last_hundredths;     /* the neighbour before, meter; -1 none */
    int64_t last_read_s;
    int64_t most_hundredths; /* what clock, later reading and meter allow at most */
    double day_hours;        /* hours a day that the figure means (soft doubt) */
};

/* hundredths: a meter figure of that machine, read at read_s. decimal_digits: as typed (0: no
 * point). person: index into settings.people, for "another machine of the sender"; -1 none. A
 * figure of the past (a later reading is on record) is judged between its neighbours and gets no
 * offer. */
enum ledger_result yard_judge(struct yard *yard, int32_t machine, int64_t hundredths,
                              int32_t decimal_digits, int64_t read_s, int32_t person,
                              struct yard_judgement *judgement);

#define YARD_HUNDREDTH_S 36         /* seconds of a hundredth of an hour */
#define YARD_ROUNDING_HUNDREDTHS 20 /* meters show tenths and whole hours */

/* How many hours the clock lets a machine run between two moments. For each calendar day touched, in the shop's zone, the lesser of most_day_hundredths and the
 * hours of that day between the two moments; and 0.2 h for rounding. Hundredths; a day on which the
 * clocks change has its real 23 or 25 hours. until_s before from_s counts as no time. */
int64_t yard_allowance(int64_t from_s, int64_t until_s, int64_t most_day_hundredths);

#endif
