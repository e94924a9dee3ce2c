/* SPDX-License-Identifier: MIT
 * settings_table: every setting there is, one row each: how it is written, where it lands, its range
 * and its default. What a plan's figures are for a machine is its manual's to say: those here are
 * only where the house begins. */
#include "config/settings_reader.h"
#include "parsers/hours.h"
#include "parsers/words_tables.h"

#define ROWS(table) .rows = (table), .row_count = sizeof(table) / sizeof((table)[0])

#define QUANTITY_MOST INT64_C(1000000000) /* thousandths: a million */

#define NAME_OCTETS .least = 1, .most = SETTINGS_NAME_OCTETS - 1
#define HOURS(from) .least = (from), .most = HOURS_HUNDREDTHS_MAX, .unit = "hours"

/* ---- The modem ---- */

#define MODEM(member) .offset = offsetof(struct settings_modem, member)
static const struct settings_row modem_rows[] = {
    {"name", FORM_TEXT, MODEM(name), NAME_OCTETS},
    {"port", FORM_TEXT, MODEM(port), .most = SETTINGS_PATH_OCTETS - 1, .says = "modem at {}",
     .without = "no modem yet"},
    {"speed", FORM_WHOLE, MODEM(speed), .least = 1200, .most = 4000000, .unit = "bit/s",
     .unsaid = 115200, .says = ", {} bit/s"},
    {"pin_file", FORM_TEXT, MODEM(pin_file), .most = SETTINGS_PATH_OCTETS - 1,
     .says = ", PIN in {}"},
    {"service_centre", FORM_PHONE, MODEM(service_centre), .says = ", service centre {}"},
    {"reports", FORM_FLAG, MODEM(reports), .unsaid = true,
     .without = "no delivery reports are asked for"},
    {"texts_per_hour", FORM_WHOLE, MODEM(texts_per_hour), .most = 3600,
     .unit = "texts (0: the shop's number alone)", .says = ", at most {} texts an hour by it"}};

static const struct settings_group modem = {.what = "modem",
                                            .size = sizeof(struct settings_modem),
                                            ROWS(modem_rows),
                                            .settle = settings_settle_modem};

/* ---- The shop ---- */

static const struct settings_word date_order_words[] = {
    {"mdy", SETTINGS_DATE_MDY}, {"dmy", SETTINGS_DATE_DMY}, {NULL, 0}};

static const struct settings_word clock_words[] = {
    {"12h", SETTINGS_CLOCK_12}, {"24h", SETTINGS_CLOCK_24}, {NULL, 0}};

static const struct settings_word weekday_words[] = {
    {"mon", 0},       {"monday", 0},   {"tue", 1},      {"tuesday", 1}, {"wed", 2},
    {"wednesday", 2}, {"thu", 3},      {"thursday", 3}, {"fri", 4},     {"friday", 4},
    {"sat", 5},       {"saturday", 5}, {"sun", 6},      {"sunday", 6},  {NULL, 0}};

static const struct settings_row workday = {.form = FORM_WORD, .words = weekday_words};
static const struct settings_row holiday = {.form = FORM_DAY, .size = sizeof(int32_t), .least = 1};

#define SHOP(member) .offset = offsetof(struct settings_shop, member)
static const struct settings_row shop_rows[] = {
    /* first, since the numbers are read by it */
    {"country", FORM_DIGITS, SHOP(country), .most = 3, .unsaid_text = "1"},
    {"name", FORM_SPOKEN, SHOP(name), .least = 1, .most = SETTINGS_TITLE_OCTETS - 1,
     .unsaid_text = "Shop"},
    {"number", FORM_PHONE, SHOP(number), .says = "texts at {}"},
    {"time_zone", FORM_TEXT, SHOP(time_zone), .least = 1, .most = 64, .says = "time zone {}"},
    {"units", FORM_UNIT, SHOP(units), .least = KIT_UNIT_QUART, .unsaid = KIT_UNIT_QUART,
     .says = "oil is counted in {}"},
    {"date_order", FORM_WORD, SHOP(date_order), .words = date_order_words,
     .says = "dates are read as {}"},
    {"clock", FORM_WORD, SHOP(clock), .words = clock_words, .says = ", times told as {}"},
    {"alert_from", FORM_TIME, SHOP(alert_from_minute), .most = 24 * 60 - 1, .unsaid = 7 * 60,
     .says = "alerts go out from {}"},
    {"alert_until", FORM_TIME, SHOP(alert_until_minute), .least = 1, .most = 24 * 60,
     .unsaid = 17 * 60, .says = " to {}"},
    {"workdays", FORM_FLAGS, SHOP(workdays), .most = 7, .entry = &workday,
     .unsaid = 0x1F, /* Monday to Friday */
     .shown = "workdays = (\"mon\", \"tue\")", .says = " on {}"},
    {"holidays", FORM_LIST, SHOP(holidays), .count = offsetof(struct settings_shop, holiday_count),
     .most = SETTINGS_HOLIDAYS_MAX, .unit = " (leave out those that are past)", .entry = &holiday,
     .shown = "holidays = (\"2027-01-01\")", .says = ", not on {}"},
    {"texts_per_hour", FORM_WHOLE, SHOP(texts_per_hour), .least = 1, .most = 3600, .unit = "texts",
     .unsaid = 60, .says = "at most {} texts an hour"},
    {"texts_per_number", FORM_WHOLE, SHOP(texts_per_number), .least = 1, .most = 3600,
     .unit = "texts", .unsaid = 20, .says = ", {} to one number"},
    {"texts_per_day", FORM_WHOLE, SHOP(texts_per_day), .least = 1, .most = 86400, .unit = "texts",
     .says = ", {} a day"},
    {"keep_texts_days", FORM_WHOLE, SHOP(keep_texts_days), .least = 14, .most = 36500,
     .unit = "days", .says = "texts are forgotten after {} days"},
    {"silence_days", FORM_WHOLE, SHOP(silence_days), .most = 366, .unit = "days", .unsaid = 14,
     .says = "a machine is asked after when it is silent for {} days",
     .without = "nobody asks after a silent machine"},
    {"bays", FORM_WHOLE, SHOP(bays), .least = 1, .most = 50, .unit = "bays", .unsaid = 1,
     .says = "bays: {}"},
    {"bay_minutes", FORM_WHOLE, SHOP(bay_minutes), .least = 15, .most = 24 * 60, .unit = "minutes",
     .unsaid = 420, .says = ", with {} minutes of work a day"},
    {"board", FORM_TEXT, SHOP(board), .most = SETTINGS_PATH_OCTETS - 1, .says = "board {}",
     .without = "no board"},
    {.name = "escalate", .form = FORM_BY_HAND}};

static const struct settings_group shop = {.what = "shop",
                                           .size = sizeof(struct settings_shop),
                                           ROWS(shop_rows),
                                           .settle = settings_settle_shop};

/* Of the shop, but read when there are people: whom it names comes later in the file. */
static const struct settings_row escalated_to = {
    .form = FORM_NAME, .size = sizeof(size_t), .in = &settings_rows[ROW_PEOPLE]};
static const struct settings_row escalate_rows[] = {
    {"days", FORM_WHOLE, SHOP(escalate_days), .most = 366, .unit = "days (0: never)", .unsaid = 7,
     .says = "what is {} days overdue and not booked"},
    {"to", FORM_LIST, SHOP(escalate_to), .count = offsetof(struct settings_shop, escalate_to_count),
     .most = SETTINGS_CREW_MAX, .entry = &escalated_to, .shown = "to = (\"...\")",
     .says = " goes to {}"}};

const struct settings_group settings_escalate = {
    .what = "escalate", .size = sizeof(struct settings_shop), ROWS(escalate_rows)};

/* ---- Plans ---- */

#define ITEM(member) .offset = offsetof(struct settings_kit_item, member)
static const struct settings_row item_rows[] = {
    {"item", FORM_TEXT, .required = true, ITEM(item), .least = 1, .most = SETTINGS_TITLE_OCTETS - 1,
     .says = "{}"},
    {"quantity", FORM_THOUSANDTHS, .required = true, ITEM(quantity_thousandths), .least = 1,
     .most = QUANTITY_MOST, .says = ", {}"},
    {"unit", FORM_UNIT, ITEM(unit), .unsaid = KIT_UNIT_PIECE, .says = " {}"},
    {"sold_in", FORM_THOUSANDTHS, ITEM(sold_in_thousandths), .least = 1, .most = QUANTITY_MOST,
     .unsaid = 1000, .says = ", sold in {}"},
    {"lead_days", FORM_WHOLE, ITEM(lead_days), .most = 366, .unit = "days",
     .says = ", {} days to get"},
    {"on_hand", FORM_THOUSANDTHS, ITEM(on_hand_thousandths), .most = QUANTITY_MOST, .unsaid = -1,
     .says = ", {} on hand"},
    {"sides", FORM_WHOLE, ITEM(sides), .least = 1, .most = 4, .unit = "sides", .unsaid = 1,
     .says = ", sides: {}"}};

const struct settings_group settings_kit = {
    .what = "kit item", .size = sizeof(struct settings_kit_item), ROWS(item_rows)};

static const struct settings_row line = {
    .form = FORM_TEXT, .size = sizeof(const char *), .least = 1, .most = SETTINGS_LINE_OCTETS - 1};

static const struct settings_word count_words[] = {
    {"last-service", PLAN_COUNT_LAST_SERVICE}, {"zero", PLAN_COUNT_ZERO}, {NULL, 0}};

/* One a language, by its number. */
#define TITLE(name)                                                                                \
    {#name, FORM_SPOKEN, .offset = WORDS_LANGUAGE_##name * sizeof(const char *),                   \
     .most = SETTINGS_TITLE_OCTETS - 1},
static const struct settings_row title_rows[] = {WORDS_LANGUAGES(TITLE)};
#undef TITLE

static const struct settings_group titles = {.size = sizeof(const char *[WORDS_LANGUAGE_COUNT]),
                                             ROWS(title_rows)};

#define PLAN(member) .offset = offsetof(struct settings_plan, member)
#define PLAN_COUNT(member) .count = offsetof(struct settings_plan, member)
static const struct settings_row plan_rows[] = {
    {"name", FORM_SPOKEN, .required = true, PLAN(name), NAME_OCTETS},
    {"title", FORM_SPOKEN, PLAN(title), .least = 1, .most = SETTINGS_TITLE_OCTETS - 1},
    {"titles", FORM_GROUP, PLAN(titles), .group = &titles, .shown = "titles = { es = \"...\"; }"},
    {"first", FORM_HUNDREDTHS, PLAN(plan.first_hundredths), HOURS(1), .unsaid = 50000,
     .says = "first at {} h"},
    {"every", FORM_HUNDREDTHS, PLAN(plan.every_hundredths), HOURS(1), .unsaid = 50000,
     .says = ", then every {} h"},
    {"months", FORM_WHOLE, PLAN(plan.months), .most = 240,
     .unit = "months (0: no limit by calendar)", .unsaid = 12,
     .says = ", or after {} months, whichever comes first"},
    {"count_from", FORM_WORD, PLAN(plan.count_from), .words = count_words,
     .unsaid = PLAN_COUNT_LAST_SERVICE, .says = ", counted from {}"},
    {"notice", FORM_HUNDREDTHS, PLAN(plan.notice_hundredths), HOURS(0), .unsaid = 2500,
     .says = "coming up {} h"},
    {"notice_days", FORM_WHOLE, PLAN(plan.notice_days), .most = 3660, .unit = "days", .unsaid = 14,
     .says = " or {} days before"},
    {"grace", FORM_HUNDREDTHS, PLAN(plan.grace_hundredths), HOURS(0), .unsaid = 1000,
     .says = "overdue {} h"},
    {"grace_days", FORM_WHOLE, PLAN(plan.grace_days), .most = 3660, .unit = "days", .unsaid = 14,
     .says = " or {} days after"},
    {"remind_days", FORM_WHOLE, PLAN(plan.remind_days), .most = 366,
     .unit = "days (0: no reminders)", .unsaid = 3, .says = "the shop is reminded every {} days",
     .without = "no reminders"},
    {"recheck_after", FORM_HUNDREDTHS, PLAN(plan.recheck_after_hundredths),
     .most = HOURS_HUNDREDTHS_MAX, .unit = "hours (0: no recheck)", .unsaid = 500,
     .says = "the level is asked about {} h after a service"},
    {"minutes", FORM_WHOLE, PLAN(plan.minutes), .most = 14400, .unit = "minutes", .unsaid = 90,
     .says = "{} minutes in the bay"},
    {"kit", FORM_LIST, PLAN(kit), PLAN_COUNT(kit_count), .most = SETTINGS_KIT_MAX,
     .group = &settings_kit,
     .shown = "kit = ( { item = \"...\"; quantity = 1.0; unit = \"qt\"; } )"},
    {"steps", FORM_LIST, PLAN(steps), PLAN_COUNT(step_count), .most = SETTINGS_LINES_MAX,
     .entry = &line, .shown = "steps = (\"...\", \"...\")", .says = "steps: {}"},
    {"cautions", FORM_LIST, PLAN(cautions), PLAN_COUNT(caution_count), .most = SETTINGS_LINES_MAX,
     .entry = &line, .shown = "cautions = (\"...\", \"...\")", .says = "cautions: {}"},
    {"blanks", FORM_LIST, PLAN(blanks), PLAN_COUNT(blank_count), .most = SETTINGS_LINES_MAX,
     .entry = &line, .shown = "blanks = (\"...\", \"...\")", .says = "blanks on the job sheet: {}"},
    {"tell_crew", FORM_FLAG, PLAN(tell_crew), .unsaid = true,
     .without = "the crew is not told when it is due"}};

static const struct settings_group plan = {.what = "plan",
                                           .size = sizeof(struct settings_plan),
                                           ROWS(plan_rows),
                                           .settle = settings_settle_plan};

/* ---- The yard ---- */

static const struct settings_row plan_of_kind = {
    .form = FORM_NAME, .size = sizeof(size_t), .in = &settings_rows[ROW_PLANS]};

#define KIND(member) .offset = offsetof(struct settings_kind, member)
static const struct settings_row kind_rows[] = {
    {"name", FORM_SPOKEN, .required = true, KIND(name), NAME_OCTETS},
    {"plans", FORM_LIST, KIND(plans), .count = offsetof(struct settings_kind, plan_count),
     .most = SETTINGS_PLANS_MAX, .entry = &plan_of_kind, .shown = "plans = (\"...\", \"...\")",
     .says = "plans: {}", .without = "no plans"},
    {"hours_per_week", FORM_HUNDREDTHS, KIND(week_hundredths), .least = 1, .most = 16800,
     .unit = "hours", .unsaid = 3000, .says = "{} h a week"},
    {"most_hours_per_day", FORM_HUNDREDTHS, KIND(most_day_hundredths), .least = 1, .most = 2400,
     .unit = "hours", .unsaid = 2400, .says = ", at most {} h a day"},
    {"meter_limit", FORM_HUNDREDTHS, KIND(meter_limit_hundredths), HOURS(10000), .unsaid = 999990,
     .says = "the meter goes to {} h"}};

static const struct settings_group kind = {.what = "kind",
                                           .size = sizeof(struct settings_kind),
                                           ROWS(kind_rows),
                                           .settle = settings_settle_kind};

static const struct settings_word role_words[] = {
    {"crew", SETTINGS_ROLE_CREW}, {"shop", SETTINGS_ROLE_SHOP}, {NULL, 0}};
#define LANGUAGE_WORD(name) {#name, WORDS_LANGUAGE_##name},
static const struct settings_word language_words[] = {WORDS_LANGUAGES(LANGUAGE_WORD){NULL, 0}};

static const struct settings_row site_of_person = {
    .form = FORM_SPOKEN, .size = sizeof(const char *), .most = SETTINGS_TITLE_OCTETS - 1};

#define PERSON(member) .offset = offsetof(struct settings_person, member)
static const struct settings_row person_rows[] = {
    {"name", FORM_SPOKEN, .required = true, PERSON(name), NAME_OCTETS},
    {"phone", FORM_PHONE, .required = true, PERSON(phone), .least = 1, .says = "{}"},
    {"role", FORM_WORD, PERSON(role), .words = role_words, .unsaid = SETTINGS_ROLE_CREW,
     .says = ", {}"},
    {"language", FORM_CHOICE, PERSON(language), .words = language_words, .unsaid_text = "en",
     .says = ", answered in {}"},
    {"sites", FORM_LIST, PERSON(sites), .count = offsetof(struct settings_person, site_count),
     .most = SETTINGS_SITES_MAX, .entry = &site_of_person, .shown = "sites = (\"...\", \"...\")",
     .says = ", told of {} alone"}};

static const struct settings_group person = {.what = "person",
                                             .size = sizeof(struct settings_person),
                                             ROWS(person_rows),
                                             .settle = settings_settle_person};

static const struct settings_row crew_member = {
    .form = FORM_NAME, .size = sizeof(size_t), .in = &settings_rows[ROW_PEOPLE]};

static const struct settings_row former_name = {
    .form = FORM_SPOKEN, .size = sizeof(const char *), .most = SETTINGS_NAME_OCTETS - 1};

#define MACHINE(member) .offset = offsetof(struct settings_machine, member)
static const struct settings_row machine_rows[] = {
    {"name", FORM_SPOKEN, .required = true, MACHINE(name), NAME_OCTETS},
    {"kind", FORM_NAME, MACHINE(kind), .in = &settings_rows[ROW_KINDS], .says = "{}"},
    {"owner", FORM_SPOKEN, MACHINE(owner), .most = SETTINGS_TITLE_OCTETS - 1, .says = "owner {}"},
    {"site", FORM_SPOKEN, MACHINE(site), .most = SETTINGS_TITLE_OCTETS - 1, .says = "at {}"},
    {"serial", FORM_TEXT, MACHINE(serial), .most = SETTINGS_TITLE_OCTETS - 1, .says = "serial {}"},
    {"crew", FORM_LIST, MACHINE(crew), .count = offsetof(struct settings_machine, crew_count),
     .most = SETTINGS_CREW_MAX, .entry = &crew_member, .shown = "crew = (\"...\", \"...\")",
     .says = "crew {}"},
    {.name = "started", .form = FORM_BY_HAND},
    {.name = "last_done", .form = FORM_BY_HAND},
    {"formerly", FORM_LIST, MACHINE(formerly),
     .count = offsetof(struct settings_machine, formerly_count), .most = SETTINGS_FORMERLY_MAX,
     .entry = &former_name, .shown = "formerly = (\"...\")", .says = "formerly {}"},
    {"gone", FORM_DAY, MACHINE(gone_day),
     .says = "gone on {}: its record stays, nothing comes due"}};

static const struct settings_group machine = {.what = "machine",
                                              .size = sizeof(struct settings_machine),
                                              ROWS(machine_rows),
                                              .settle = settings_settle_machine};

/* Of started, and of last_done by the names of the kind's plans. */
#define SEED(member) .offset = offsetof(struct settings_last_done, member)
static const struct settings_row seed_rows[] = {
    {"hours", FORM_HUNDREDTHS, .required = true, SEED(hundredths), HOURS(0)},
    {"on", FORM_DAY, SEED(day), .least = 1}};

const struct settings_group settings_seed = {.size = sizeof(struct settings_last_done),
                                             ROWS(seed_rows)};

/* ---- The file ---- */

#define TOP(member) .offset = offsetof(struct settings, member)
#define TOP_COUNT(member) .count = offsetof(struct settings, member)
const struct settings_row settings_rows[] = {
    [ROW_LEDGER] = {"ledger", FORM_TEXT, TOP(ledger), .least = 1, .most = SETTINGS_PATH_OCTETS - 1,
                    .unsaid_text = "/var/lib/meterpost/ledger.db", .says = "ledger {}"},
    [ROW_DOOR] = {"door", FORM_TEXT, TOP(door), .least = 1, .most = SETTINGS_DOOR_OCTETS - 1,
                  .says = ", door {} (where verbs ask the daemon)"},
    /* two ways to write one field: one modem, or several; never both */
    [ROW_MODEM] = {"modem", FORM_GROUP, TOP(modems), .group = &modem,
                   .shown = "modem: { port = \"...\"; };"},
    [ROW_MODEMS] = {"modems", FORM_LIST, TOP(modems), TOP_COUNT(modem_count), .group = &modem,
                    .most = SETTINGS_MODEMS_MAX,
                    .shown = "modems: ( { port = \"...\"; }, { port = \"...\"; } );"},
    [ROW_SHOP] = {"shop", FORM_GROUP, TOP(shop), .group = &shop,
                  .shown = "shop: { name = \"...\"; };"},
    [ROW_PLANS] = {"plans", FORM_LIST, TOP(plans), TOP_COUNT(plan_count), .group = &plan,
                   .unsaid = 1, .shown = "plans: ( { name = \"drive\"; every = 500.0; } );"},
    [ROW_KINDS] = {"kinds", FORM_LIST, TOP(kinds), TOP_COUNT(kind_count), .group = &kind,
                   .unsaid = 1, .shown = "kinds: ( { name = \"...\"; plans = (\"...\"); } );"},
    [ROW_PEOPLE] = {"people", FORM_LIST, TOP(people), TOP_COUNT(person_count), .group = &person,
                    .required = true,
                    .shown = "people: ( { name = \"...\"; phone = \"...\"; role = \"crew\"; } );"},
    [ROW_MACHINES] = {"machines", FORM_LIST, TOP(machines), TOP_COUNT(machine_count),
                      .group = &machine, .required = true,
                      .shown =
                          "machines: ( { name = \"M12\"; kind = \"...\"; crew = (\"...\"); } );"}};

const struct settings_group settings_file = {
    .size = sizeof(struct settings), ROWS(settings_rows), .settle = settings_settle_file};
