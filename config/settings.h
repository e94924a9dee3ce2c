/* SPDX-License-Identifier: MIT
 * settings: what the admin asked for, once loaded and checked. Immutable: a reload makes a new one.
 * Strings live as long as the settings they belong to. */
#ifndef METERPOST_CONFIG_SETTINGS_H
#define METERPOST_CONFIG_SETTINGS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "daemon/upkeep/kit.h"
#include "daemon/upkeep/plan.h"
#include "parsers/words_tables.h"

#define SETTINGS_NAME_OCTETS 17  /* machine, person, plan and kind names: 16 octets and NUL */
#define SETTINGS_TITLE_OCTETS 41 /* a plan's title, the shop's name */
#define SETTINGS_KIT_MAX 16      /* items of a plan's kit */
#define SETTINGS_LINES_MAX 32    /* steps, cautions or blanks of a plan */
#define SETTINGS_PLANS_MAX 8     /* plans of a kind */
#define SETTINGS_CREW_MAX 8      /* people who look after one machine */
#define SETTINGS_SITES_MAX 16    /* sites of one person */
#define SETTINGS_FORMERLY_MAX 4  /* names that a machine had before */
#define SETTINGS_HOLIDAYS_MAX 64
#define SETTINGS_MODEMS_MAX 4
#define SETTINGS_PATH_OCTETS 256
#define SETTINGS_DOOR_OCTETS 104 /* a socket's path is short */
#define SETTINGS_LINE_OCTETS 501 /* a step, caution or blank */

enum settings_date_order { SETTINGS_DATE_MDY, SETTINGS_DATE_DMY };
enum settings_clock { SETTINGS_CLOCK_12, SETTINGS_CLOCK_24 }; /* "2:05 pm", "14:05" */
enum settings_role { SETTINGS_ROLE_CREW, SETTINGS_ROLE_SHOP };

struct settings_kit_item {
    const char *item;
    int64_t quantity_thousandths; /* of the whole service, all sides together */
    enum kit_unit unit;
    int64_t sold_in_thousandths; /* container size in `unit` */
    int32_t lead_days;           /* between ordering and having it */
    int64_t on_hand_thousandths; /* in `unit`; -1 unsaid */
    int32_t sides;               /* places of the machine that share the quantity, 1 to 4 */
};

struct settings_plan {
    const char *name;
    const char *title;
    const char *titles[WORDS_LANGUAGE_COUNT]; /* what it is called in each language; "" unsaid */
    struct plan plan;
    struct settings_kit_item kit[SETTINGS_KIT_MAX];
    size_t kit_count;
    const char *steps[SETTINGS_LINES_MAX];
    size_t step_count;
    const char *cautions[SETTINGS_LINES_MAX];
    size_t caution_count;
    const char *blanks[SETTINGS_LINES_MAX]; /* what the job sheet leaves room to fill in */
    size_t blank_count;
    bool tell_crew; /* the crew is told as well when it is due */
    bool usual;     /* the file has no plans: it is the one of a drive */
};

struct settings_kind {
    const char *name;
    size_t plans[SETTINGS_PLANS_MAX]; /* indexes into settings.plans */
    size_t plan_count;
    int64_t week_hundredths;        /* typical hours a week */
    int64_t most_day_hundredths;    /* most_hours_per_day */
    int64_t meter_limit_hundredths; /* last figure before the meter rolls over */
};

struct settings_person {
    const char *name;
    const char *phone; /* E.164 */
    enum settings_role role;
    const char *language; /* "en", "es", "fr" */
    /* of the shop: whose machines it is told of, each one that a machine has; none: of all */
    const char *sites[SETTINGS_SITES_MAX];
    size_t site_count;
};

/* last_done of one plan: a seed, which the ledger wins over. */
struct settings_last_done {
    bool present;
    int64_t hundredths;
    bool day_known;
    int32_t day; /* civil day */
};

struct settings_machine {
    const char *name;
    size_t kind;                    /* index into settings.kinds */
    size_t crew[SETTINGS_CREW_MAX]; /* indexes into settings.people */
    size_t crew_count;
    const char *owner, *site, *serial; /* "" when unsaid */
    int64_t started_hundredths;
    bool started_day_known;
    int32_t started_day;                         /* civil day on which it was put to work */
    const char *formerly[SETTINGS_FORMERLY_MAX]; /* names under which its record began */
    size_t formerly_count;
    bool gone; /* sold or scrapped; its record stays */
    int32_t gone_day;
    /* by position in the kind's plans */
    struct settings_last_done last_done[SETTINGS_PLANS_MAX];
};

struct settings_modem {
    const char *name; /* letters, digits, hyphens; its place ("1") where it is unsaid and there are
                       * several, "" where there is but one */
    const char *port; /* "" when there is none yet */
    int32_t speed;
    const char *pin_file;       /* "" when the SIM has no PIN */
    const char *service_centre; /* E.164; "" for what the SIM has */
    bool reports;               /* ask the network for delivery reports */
    int32_t texts_per_hour;     /* out by this one; 0: the shop's number alone */
};

struct settings_shop {
    const char *name;
    const char *number;    /* of the SIM, E.164; "" when unsaid */
    const char *time_zone; /* a name of the zone database */
    const char *country;   /* calling code */
    enum kit_unit units;   /* quart or litre */
    enum settings_date_order date_order;
    enum settings_clock clock;
    int32_t alert_from_minute, alert_until_minute; /* of the civil day */
    bool workdays[7];                              /* 0 Monday */
    int32_t holidays[SETTINGS_HOLIDAYS_MAX];       /* civil days */
    size_t holiday_count;
    int32_t texts_per_hour;   /* all texts out together */
    int32_t texts_per_number; /* an hour to one number */
    int32_t texts_per_day;    /* likewise; ten hours' worth unless set */
    int32_t keep_texts_days;  /* 0: for good */
    int32_t silence_days;     /* without a reading, until a machine is asked after; 0: never */
    int32_t bays;             /* where machines are worked on at the same time */
    int32_t bay_minutes;      /* of work in each on a workday */
    const char *board;        /* the page that the daemon keeps current; "" none */
    /* who else hears of what is overdue and not booked, after so many days; 0: never */
    int32_t escalate_days;
    size_t escalate_to[SETTINGS_CREW_MAX]; /* indexes into settings.people */
    size_t escalate_to_count;
};

struct settings {
    const char *file;                                  /* where it came from */
    struct settings_modem modems[SETTINGS_MODEMS_MAX]; /* in the order of the file */
    size_t modem_count; /* at least one, though it may have no port */
    const char *ledger;
    const char *door;
    struct settings_shop shop;
    struct settings_plan *plans;
    size_t plan_count;
    struct settings_kind *kinds;
    size_t kind_count;
    struct settings_person *people;
    size_t person_count;
    struct settings_machine *machines;
    size_t machine_count;
    struct settings_room *room; /* what all of the above lives in */
};

/* Mistakes are written to `mistakes`, one line each: "FILE:LINE: what is wrong; what was expected".
 * Returns NULL when there is any. The caller owns the result and ends it with settings_free. */
struct settings *settings_load(const char *file, FILE *mistakes);
void settings_free(struct settings *settings); /* NULL is fine */

/* What the settings mean, in plain words: the shop and its hours, each plan, machine and person. */
void settings_describe(const struct settings *settings, FILE *out);

/* Look-ups; -1 when there is none. Names are compared as the grammar does (case, hyphens). */
int32_t settings_find_machine(const struct settings *settings, const char *name);
int32_t settings_find_person(const struct settings *settings, const char *name);
int32_t settings_find_phone(const struct settings *settings, const char *phone); /* E.164 */
int32_t settings_find_plan(const struct settings *settings, const char *name);

/* The machine that was once called so (formerly); -1 when there is none. */
int32_t settings_find_former(const struct settings *settings, const char *name);

/* The number of a language, as a person's settings write it; the first one's where there is none. */
enum words_language settings_language(const char *language);

/* What a plan is called in a language, as a person's settings write it: its own title where that
 * language has none. Never NULL. */
const char *settings_title(const struct settings_plan *plan, const char *language);

/* One file, or port, by its name or by two links to it. */
bool settings_same_file(const char *one, const char *other);

/* Whether any plan says what its service needs. */
bool settings_any_kit(const struct settings *settings);

#endif
