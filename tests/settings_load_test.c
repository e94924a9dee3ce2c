/* SPDX-License-Identifier: MIT
 * A config file becomes settings: every value where it belongs, and a default for what is unsaid. */
#include "tests/config_file.h"

#include <string.h>
#include <sys/stat.h>

#include "config/settings.h"
#include "daemon/upkeep/civil.h"
#include "daemon/desk/wording.h"

/* Loads a file that holds text; a mistake fails the test and is shown. */
static struct settings *load(const char *text)
{
    struct config_file file = config_file_write(text);
    struct settings *settings = settings_load(file.path, stderr);
    config_file_remove(&file);
    assert_non_null(settings);
    return settings;
}

static const char whole[] =
    "modem: { port = \"/dev/ttyUSB0\"; speed = 9600; pin_file = \"\"; reports = true; };\n"
    "ledger = \"/tmp/alder/ledger.db\";\n"
    "door = \"/tmp/alder/door\";\n"
    "shop: { name = \"Alder Works\"; number = \"+12065550100\"; time_zone = "
    "\"America/Los_Angeles\";\n"
    "  country = \"1\"; units = \"l\"; date_order = \"dmy\"; alert_from = \"06:30\";\n"
    "  clock = \"24h\";\n"
    "  alert_until = \"18:00\"; workdays = (\"mon\", \"sat\"); texts_per_hour = 30; };\n"
    "plans: (\n"
    "  { name = \"belts\"; every = 200; first = 200; },\n"
    "  { name = \"drive\"; title = \"Drive oil\"; first = 75; every = 500.5; months = 6;\n"
    "    count_from = \"zero\"; notice = 20.25; notice_days = 7; grace = 5.0; grace_days = 3;\n"
    "    remind_days = 1; recheck_after = 4.0; minutes = 120;\n"
    "    kit = ( { item = \"20W-50 synthetic\"; quantity = 4.7; unit = \"l\"; sold_in = 5; },\n"
    "            { item = \"drive oil filter\"; quantity = 2; } );\n"
    "    steps = (\"one\", \"two\"); cautions = (\"park first\"); } );\n"
    "kinds: ( { name = \"ridge-60\"; plans = (\"drive\"); hours_per_week = 25;\n"
    "           most_hours_per_day = 16.0; meter_limit = 99999.9; } );\n"
    "people: ( { name = \"Ines\"; phone = \"+12065550110\"; language = \"es\"; },\n"
    "          { name = \"Rosa\"; phone = \"+12065550111\"; role = \"shop\"; } );\n"
    "machines: ( { name = \"M12\"; kind = \"ridge-60\"; crew = (\"Ines\"); owner = \"Park dept\";\n"
    "              site = \"North lot\"; serial = \"A-1\"; started = { hours = 12.5; on = "
    "\"2025-11-02\"; };\n"
    "              last_done = { drive = 575.0; }; },\n"
    "            { name = \"M14\"; kind = \"ridge-60\";\n"
    "              last_done = { drive = { hours = 75; on = \"2026-03-14\"; }; }; } );\n";

static void every_setting_lands_in_its_field(void **state)
{
    (void)state;
    struct settings *settings = load(whole);
    assert_string_equal(settings->modems[0].port, "/dev/ttyUSB0");
    assert_int_equal(settings->modems[0].speed, 9600);
    assert_true(settings->modems[0].reports);
    assert_string_equal(settings->ledger, "/tmp/alder/ledger.db");
    assert_string_equal(settings->door, "/tmp/alder/door");
    assert_string_equal(settings->shop.name, "Alder Works");
    assert_string_equal(settings->shop.number, "+12065550100");
    assert_string_equal(settings->shop.time_zone, "America/Los_Angeles");
    assert_int_equal(settings->shop.units, KIT_UNIT_LITRE);
    assert_int_equal(settings->shop.date_order, SETTINGS_DATE_DMY);
    assert_int_equal(settings->shop.clock, SETTINGS_CLOCK_24);
    assert_int_equal(settings->shop.alert_from_minute, 390);
    assert_int_equal(settings->shop.alert_until_minute, 1080);
    assert_true(settings->shop.workdays[0] && settings->shop.workdays[5]);
    assert_false(settings->shop.workdays[1]);
    assert_int_equal(settings->shop.texts_per_hour, 30);
    settings_free(settings);
}

static void a_plan_holds_figures_kit_and_steps(void **state)
{
    (void)state;
    struct settings *settings = load(whole);
    assert_int_equal(settings->plan_count, 2);
    const struct settings_plan *drive = &settings->plans[1];
    assert_string_equal(drive->title, "Drive oil");
    assert_int_equal(drive->plan.first_hundredths, 7500);
    assert_int_equal(drive->plan.every_hundredths, 50050);
    assert_int_equal(drive->plan.months, 6);
    assert_int_equal(drive->plan.count_from, PLAN_COUNT_ZERO);
    assert_int_equal(drive->plan.notice_hundredths, 2025);
    assert_int_equal(drive->plan.notice_days, 7);
    assert_int_equal(drive->plan.grace_hundredths, 500);
    assert_int_equal(drive->plan.grace_days, 3);
    assert_int_equal(drive->plan.remind_days, 1);
    assert_int_equal(drive->plan.recheck_after_hundredths, 400);
    assert_int_equal(drive->plan.minutes, 120);
    assert_int_equal(drive->kit_count, 2);
    assert_string_equal(drive->kit[0].item, "20W-50 synthetic");
    assert_int_equal(drive->kit[0].quantity_thousandths, 4700);
    assert_int_equal(drive->kit[0].unit, KIT_UNIT_LITRE);
    assert_int_equal(drive->kit[0].sold_in_thousandths, 5000);
    assert_int_equal(drive->kit[1].unit, KIT_UNIT_PIECE);
    assert_int_equal(drive->step_count, 2);
    assert_string_equal(drive->steps[1], "two");
    assert_int_equal(drive->caution_count, 1);
    settings_free(settings);
}

static void the_roster_refers_by_place(void **state)
{
    (void)state;
    struct settings *settings = load(whole);
    const struct settings_kind *kind = &settings->kinds[0];
    assert_int_equal(kind->plan_count, 1);
    assert_int_equal(kind->plans[0], 1);
    assert_int_equal(kind->week_hundredths, 2500);
    assert_int_equal(kind->most_day_hundredths, 1600);
    assert_int_equal(kind->meter_limit_hundredths, 9999990);
    assert_int_equal(settings->person_count, 2);
    assert_int_equal(settings->people[0].role, SETTINGS_ROLE_CREW);
    assert_string_equal(settings->people[0].language, "es");
    assert_int_equal(settings->people[1].role, SETTINGS_ROLE_SHOP);
    assert_string_equal(settings->people[1].language, "en");
    const struct settings_machine *machine = &settings->machines[0];
    assert_int_equal(machine->crew_count, 1);
    assert_int_equal(machine->crew[0], 0);
    assert_string_equal(machine->owner, "Park dept");
    assert_string_equal(machine->site, "North lot");
    assert_string_equal(machine->serial, "A-1");
    assert_int_equal(machine->started_hundredths, 1250);
    assert_true(machine->started_day_known);
    assert_int_equal(machine->started_day, civil_day((struct civil_date){2025, 11, 2}));
    assert_true(machine->last_done[0].present);
    assert_int_equal(machine->last_done[0].hundredths, 57500);
    assert_false(machine->last_done[0].day_known);
    assert_true(settings->machines[1].last_done[0].day_known);
    assert_int_equal(settings->machines[1].last_done[0].day, 20526);
    settings_free(settings);
}

static const char roster[] = "people: ( { name = \"Tom\"; phone = \"+12065550112\"; } );\n"
                             "machines: ( { name = \"M7\"; } );\n";

static void a_roster_alone_is_enough(void **state)
{
    (void)state;
    struct settings *settings = load(roster);
    assert_string_equal(settings->modems[0].port, "");
    assert_int_equal(settings->modems[0].speed, 115200);
    assert_string_equal(settings->ledger, "/var/lib/meterpost/ledger.db");
    assert_int_equal(settings->shop.units, KIT_UNIT_QUART);
    assert_int_equal(settings->shop.date_order, SETTINGS_DATE_MDY);
    assert_int_equal(settings->shop.clock, SETTINGS_CLOCK_12);
    assert_int_equal(settings->shop.alert_from_minute, 420);
    assert_int_equal(settings->shop.alert_until_minute, 1020);
    assert_true(settings->shop.workdays[4]);
    assert_false(settings->shop.workdays[5]);
    assert_int_equal(settings->shop.texts_per_hour, 60);
    assert_int_equal(settings->plan_count, 1);
    assert_string_equal(settings->plans[0].name, "drive");
    assert_int_equal(settings->plans[0].plan.first_hundredths, 7500);
    assert_int_equal(settings->plans[0].plan.every_hundredths, 50000);
    assert_int_equal(settings->kinds[0].most_day_hundredths, 2400);
    assert_int_equal(settings->kinds[0].plan_count, 1);
    assert_int_equal(settings->machines[0].crew_count, 0);
    settings_free(settings);
}

static void one_modem_is_a_list_of_one(void **state)
{
    (void)state;
    char text[512];
    struct settings *settings = load(roster);
    assert_int_equal(settings->modem_count, 1);
    assert_string_equal(settings->modems[0].name, "");
    assert_int_equal(settings->modems[0].texts_per_hour, 0);
    settings_free(settings);
    snprintf(text, sizeof text, "modems: ( { port = \"/dev/a\"; } );\n%s", roster);
    settings = load(text);
    assert_int_equal(settings->modem_count, 1);
    assert_string_equal(settings->modems[0].port, "/dev/a");
    assert_string_equal(settings->modems[0].name, "");
    settings_free(settings);
}

static void several_modems_stand_in_the_order_of_the_file(void **state)
{
    (void)state;
    char text[512];
    snprintf(text, sizeof text,
             "modems: ( { port = \"/dev/a\"; speed = 9600; },\n"
             "  { name = \"west\"; port = \"/dev/b\"; texts_per_hour = 20; } );\n%s",
             roster);
    struct settings *settings = load(text);
    assert_int_equal(settings->modem_count, 2);
    assert_string_equal(settings->modems[0].name, "1");
    assert_int_equal(settings->modems[0].speed, 9600);
    assert_string_equal(settings->modems[1].name, "west");
    assert_string_equal(settings->modems[1].port, "/dev/b");
    assert_int_equal(settings->modems[1].speed, 115200);
    assert_int_equal(settings->modems[1].texts_per_hour, 20);
    settings_free(settings);
}

/* What the shop's year needs: the bays, whom it is told, the shelf, and machines that come and go. */
static const char season[] =
    "ledger = \"/tmp/yard/ledger.db\";\n"
    "shop: { bays = 2; bay_minutes = 480; escalate = { days = 5; to = (\"Ann\", \"Rosa\"); }; };\n"
    "plans: ( { name = \"drive\"; every = 400; blanks = (\"as found\", \"torque\"); tell_crew = "
    "false;\n"
    "  kit = ( { item = \"oil\"; quantity = 5; unit = \"qt\"; lead_days = 3; on_hand = 6.5; sides "
    "= "
    "2; },\n"
    "          { item = \"filter\"; quantity = 2; } ); },\n"
    "  { name = \"belts\"; kit = ( { item = \"Oil\"; quantity = 1; unit = \"qt\"; on_hand = 6.5; "
    "}, "
    "{ item = \"oil\"; quantity = 1; unit = \"qt\"; } ); } );\n"
    "people: ( { name = \"Rosa\"; phone = \"+12065550111\"; role = \"shop\"; sites = (\"North "
    "lot\", \"\"); },\n"
    "          { name = \"Ann\"; phone = \"+12065550113\"; } );\n"
    "machines: ( { name = \"M12\"; site = \"North lot\"; formerly = (\"M3\", \"Big Red\"); gone = "
    "\"\"; },\n"
    "            { name = \"M-14\"; formerly = (\"M14\"); gone = \"2026-10-01\"; } );\n";

static void the_settings_of_a_season_land_in_their_fields(void **state)
{
    (void)state;
    struct settings *settings = load(season);
    const struct settings_shop *shop = &settings->shop;
    assert_int_equal(shop->bays, 2);
    assert_int_equal(shop->bay_minutes, 480);
    assert_string_equal(shop->board, "/tmp/yard/board.html");
    assert_int_equal(shop->escalate_days, 5);
    assert_int_equal(shop->escalate_to_count, 2);
    assert_int_equal(shop->escalate_to[0], 1);
    const struct settings_plan *plan = &settings->plans[0];
    assert_int_equal(plan->plan.first_hundredths, 40000); /* as every, unless said */
    assert_int_equal(plan->blank_count, 2);
    assert_string_equal(plan->blanks[1], "torque");
    assert_false(plan->tell_crew);
    assert_int_equal(plan->kit[0].lead_days, 3);
    assert_int_equal(plan->kit[0].on_hand_thousandths, 6500);
    assert_int_equal(plan->kit[0].sides, 2);
    assert_int_equal(plan->kit[1].on_hand_thousandths, -1);
    assert_int_equal(settings->people[0].site_count, 1);
    assert_string_equal(settings->people[0].sites[0], "North lot");
    const struct settings_machine *machine = &settings->machines[0];
    assert_int_equal(machine->formerly_count, 2);
    assert_string_equal(machine->formerly[1], "Big Red");
    assert_false(machine->gone);
    assert_true(settings->machines[1].gone);
    assert_int_equal(settings->machines[1].gone_day, civil_day((struct civil_date){2026, 10, 1}));
    assert_int_equal(settings_find_former(settings, "m-3"), 0);
    assert_int_equal(settings_find_former(settings, "M12"), -1);
    settings_free(settings);
}

static void a_season_is_quiet_where_nothing_is_said(void **state)
{
    (void)state;
    char text[512];
    snprintf(text, sizeof text, "shop: { board = \"\"; };\n%s", roster);
    struct settings *settings = load(text);
    assert_int_equal(settings->shop.bays, 1);
    assert_int_equal(settings->shop.bay_minutes, 420);
    assert_string_equal(settings->shop.board, "");
    assert_int_equal(settings->shop.escalate_days, 0);
    assert_int_equal(settings->shop.escalate_to_count, 0);
    assert_true(settings->plans[0].tell_crew);
    assert_int_equal(settings->plans[0].blank_count, 0);
    assert_int_equal(settings->people[0].site_count, 0);
    assert_int_equal(settings->machines[0].formerly_count, 0);
    assert_false(settings->machines[0].gone);
    settings_free(settings);
}

static void the_defaults_give_way_to_a_short_interval(void **state)
{
    (void)state;
    char text[512];
    snprintf(text, sizeof text, "plans: ( { name = \"belts\"; every = 50; } );\n%s", roster);
    struct settings *settings = load(text);
    assert_int_equal(settings->plans[0].plan.first_hundredths, 5000);
    assert_int_equal(settings->plans[0].plan.notice_hundredths, 1250);
    assert_string_equal(settings->plans[0].title, "belts");
    settings_free(settings);
}

static void a_plan_has_a_title_for_each_language_or_its_own(void **state)
{
    (void)state;
    char text[512];
    snprintf(text, sizeof text,
             "plans: ( { name = \"engine\"; title = \"Engine oil\"; titles = { es = \"Aceite de "
             "motor\"; }; },\n { name = \"service\"; } );\n%s",
             roster);
    struct settings *settings = load(text);
    assert_string_equal(settings_title(&settings->plans[0], "es"), "Aceite de motor");
    assert_string_equal(settings_title(&settings->plans[0], "en"), "Engine oil");
    assert_string_equal(settings_title(&settings->plans[1], "es"), "service");
    assert_string_equal(settings_title(&settings->plans[0], "xx"), "Engine oil");
    settings_free(settings);
}

static void telephone_numbers_are_kept_with_their_country(void **state)
{
    (void)state;
    struct settings *settings =
        load("people: ( { name = \"Tom\"; phone = \"(206) 555-0112\"; },\n"
             "          { name = \"Ana\"; phone = \"1 206 555 0113\"; } );\n"
             "machines: ( { name = \"M7\"; } );\n");
    assert_string_equal(settings->people[0].phone, "+12065550112");
    assert_string_equal(settings->people[1].phone, "+12065550113");
    settings_free(settings);
}

static void the_door_lies_beside_the_ledger_by_default(void **state)
{
    (void)state;
    char text[512];
    snprintf(text, sizeof text, "ledger = \"/tmp/yard/ledger.db\";\n%s", roster);
    struct settings *settings = load(text);
    bool run_folder = access("/run/meterpost", F_OK) == 0;
    assert_string_equal(settings->door, run_folder ? "/run/meterpost/door" : "/tmp/yard/door");
    settings_free(settings);
}

static void an_included_file_is_looked_for_beside_the_file(void **state)
{
    (void)state;
    char path[128];
    struct config_file file = config_file_write("@include \"roster.conf\"\n");
    config_file_add(&file, "roster.conf", roster);
    struct settings *settings = settings_load(file.path, stderr);
    snprintf(path, sizeof path, "%s/roster.conf", file.folder);
    assert_int_equal(unlink(path), 0);
    config_file_remove(&file);
    assert_non_null(settings);
    assert_string_equal(settings->machines[0].name, "M7");
    settings_free(settings);
}

/* Each of these ended the program, or made it wait for ever. */
static void what_is_no_regular_file_is_not_included(void **state)
{
    (void)state;
    static const struct {
        const char *text, *says;
    } cases[] = {
        {"# one\n@include \"folder\"\n", ":2: the file to include"},
        {"@include \"folder\"\n", "is a folder"},
        {"  @include\t\"fifo\"", "is no regular file"},
        {"@include \"deep.conf\"\n", "is no regular file"},
        {"@include \"itself.conf\"\n", "nested too deeply"},
        {"/* two\n@include \"folder\"\n */ ledger = 7;\n", "a value in quotes"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char path[128], *says = NULL;
        size_t length = 0;
        struct config_file file = config_file_write(cases[i].text);
        config_file_add(&file, "deep.conf", "@include \"fifo\"\n");
        config_file_add(&file, "itself.conf", "@include \"itself.conf\"\n");
        snprintf(path, sizeof path, "%s/folder", file.folder);
        assert_int_equal(mkdir(path, 0700), 0);
        snprintf(path, sizeof path, "%s/fifo", file.folder);
        assert_int_equal(mkfifo(path, 0600), 0);
        FILE *stream = open_memstream(&says, &length);
        assert_null(settings_load(file.path, stream));
        assert_int_equal(fclose(stream), 0);
        if (strstr(says, cases[i].says) == NULL && i + 1 < sizeof cases / sizeof cases[0]) {
            fail_msg("case %zu: %s", i, says);
        }
        assert_true(i + 1 < sizeof cases / sizeof cases[0] || strstr(says, "folder") == NULL);
        free(says);
        snprintf(path, sizeof path, "rm -r '%s'", file.folder);
        assert_int_equal(system(path), 0);
    }
}

static void a_fifo_is_no_config(void **state)
{
    (void)state;
    char path[] = "/tmp/settings-fifo-XXXXXX";
    char *says = NULL;
    size_t length = 0;
    assert_non_null(mkdtemp(path));
    assert_int_equal(rmdir(path), 0);
    assert_int_equal(mkfifo(path, 0600), 0);
    FILE *stream = open_memstream(&says, &length);
    assert_null(settings_load(path, stream));
    assert_int_equal(fclose(stream), 0);
    assert_int_equal(unlink(path), 0);
    assert_non_null(strstr(says, "is no regular file"));
    free(says);
}

static void a_comment_may_end_with_the_file(void **state)
{
    (void)state;
    char text[512];
    snprintf(text, sizeof text, "%s# the end", roster);
    settings_free(load(text));
}

static void a_nul_is_named_with_its_line(void **state)
{
    (void)state;
    char *says = NULL;
    size_t length = 0;
    struct config_file file = config_file_write("");
    FILE *out = fopen(file.path, "w");
    assert_non_null(out);
    assert_int_equal(fwrite("# one\n# t\0wo\n", 1, 13, out), 13);
    assert_int_equal(fclose(out), 0);
    FILE *stream = open_memstream(&says, &length);
    assert_null(settings_load(file.path, stream));
    assert_int_equal(fclose(stream), 0);
    config_file_remove(&file);
    assert_non_null(strstr(says, ":2: a NUL octet"));
    free(says);
}

static void a_byte_order_mark_and_carriage_returns_do_no_harm(void **state)
{
    (void)state;
    struct settings *settings =
        load("\xEF\xBB\xBFpeople: ( { name = \"Tom\"; phone = \"+12065550112\"; } );\r\n"
             "machines: ( { name = \"M7\"; } );\r\n");
    assert_string_equal(settings->people[0].name, "Tom");
    settings_free(settings);
}

/* All that libconfig's grammar has, so that nothing well-formed is taken for a mistake. */
static void every_form_of_a_value_is_taken(void **state)
{
    (void)state;
    struct settings *settings =
        load("# one\n// two\n/* three\n   lines */\n"
             "ledger:\"/tmp/\" \"ledger.db\" // joined\n"
             "modem = { speed = 0x2580, reports = TRUE }\n"
             "shop: { workdays = [ \"mon\", \"tue\" ] texts_per_hour = 30L/* each */; };\n"
             "plans: ( { name = \"drive\" first = 7.5e1; every = +500. notice = .5 kit = ();\n"
             "  steps = [ ] } );\n"
             "people: ( { name = \"Tom\"; phone = \"+12065550112\" } )\n"
             "machines: ( { name = \"M7\"; last_done = { } } )");
    assert_string_equal(settings->ledger, "/tmp/ledger.db");
    assert_int_equal(settings->modems[0].speed, 9600);
    assert_true(settings->modems[0].reports);
    assert_int_equal(settings->shop.texts_per_hour, 30);
    assert_int_equal(settings->plans[0].plan.first_hundredths, 7500);
    assert_int_equal(settings->plans[0].plan.every_hundredths, 50000);
    assert_int_equal(settings->plans[0].plan.notice_hundredths, 50);
    settings_free(settings);
}

static void names_that_only_look_like_words_are_taken(void **state)
{
    static const char *const names[] = {"M-12", "M 12", "L4", "TR-9", "A-1", "Big Red"};
    (void)state;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char text[256];
        snprintf(text, sizeof text,
                 "people: ( { name = \"Tom\"; phone = \"+12065550112\"; } );\n"
                 "machines: ( { name = \"%s\"; } );\n",
                 names[i]);
        struct settings *settings = load(text);
        assert_string_equal(settings->machines[0].name, names[i]);
        settings_free(settings);
    }
}

static void every_language_of_the_wording_can_be_chosen(void **state)
{
    (void)state;
    for (size_t i = 0; wording_all[i] != NULL; i++) {
        char text[256];
        snprintf(text, sizeof text,
                 "people: ( { name = \"Tom\"; phone = \"+12065550112\"; language = \"%s\"; } );\n"
                 "machines: ( { name = \"M7\"; } );\n",
                 wording_all[i]->language);
        struct settings *settings = load(text);
        assert_string_equal(settings->people[0].language, wording_all[i]->language);
        settings_free(settings);
    }
}

static void every_name_of_a_unit_is_taken(void **state)
{
    (void)state;
    for (int i = 0; i < KIT_UNIT_COUNT; i++) {
        const struct kit_unit_row *unit = kit_unit_row((enum kit_unit)i);
        for (size_t j = 0; j < KIT_UNIT_NAMES_MOST && unit->names[j] != NULL; j++) {
            char text[512];
            snprintf(text, sizeof text,
                     "shop: { units = \"%s\"; };\nplans: ( { name = \"drive\"; kit = ( { item = "
                     "\"oil\"; quantity = 1; unit = \"%s\"; } ); } );\n%s",
                     unit->fluid ? unit->names[j] : "qt", unit->names[j], roster);
            struct settings *settings = load(text);
            assert_int_equal(settings->shop.units, unit->fluid ? i : KIT_UNIT_QUART);
            assert_int_equal(settings->plans[0].kit[0].unit, i);
            settings_free(settings);
        }
    }
}

static void dates_and_times_are_written_as_the_country_does(void **state)
{
    (void)state;
    char text[512];
    snprintf(text, sizeof text, "shop: { country = \"52\"; };\n%s", roster);
    struct settings *settings = load(text);
    assert_int_equal(settings->shop.date_order, SETTINGS_DATE_DMY);
    assert_int_equal(settings->shop.clock, SETTINGS_CLOCK_24);
    settings_free(settings);
}

static void names_are_found_without_regard_to_case(void **state)
{
    (void)state;
    struct settings *settings = load(whole);
    assert_int_equal(settings_find_machine(settings, "m12"), 0);
    assert_int_equal(settings_find_machine(settings, "M13"), -1);
    assert_int_equal(settings_find_person(settings, "rosa"), 1);
    assert_int_equal(settings_find_phone(settings, "+12065550111"), 1);
    assert_int_equal(settings_find_phone(settings, "+12065550119"), -1);
    assert_int_equal(settings_find_plan(settings, "DRIVE"), 1);
    settings_free(settings);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_setting_lands_in_its_field),
        cmocka_unit_test(a_plan_holds_figures_kit_and_steps),
        cmocka_unit_test(the_roster_refers_by_place),
        cmocka_unit_test(a_roster_alone_is_enough),
        cmocka_unit_test(one_modem_is_a_list_of_one),
        cmocka_unit_test(several_modems_stand_in_the_order_of_the_file),
        cmocka_unit_test(the_settings_of_a_season_land_in_their_fields),
        cmocka_unit_test(a_season_is_quiet_where_nothing_is_said),
        cmocka_unit_test(the_defaults_give_way_to_a_short_interval),
        cmocka_unit_test(a_plan_has_a_title_for_each_language_or_its_own),
        cmocka_unit_test(telephone_numbers_are_kept_with_their_country),
        cmocka_unit_test(the_door_lies_beside_the_ledger_by_default),
        cmocka_unit_test(an_included_file_is_looked_for_beside_the_file),
        cmocka_unit_test(what_is_no_regular_file_is_not_included),
        cmocka_unit_test(a_fifo_is_no_config),
        cmocka_unit_test(a_comment_may_end_with_the_file),
        cmocka_unit_test(a_nul_is_named_with_its_line),
        cmocka_unit_test(a_byte_order_mark_and_carriage_returns_do_no_harm),
        cmocka_unit_test(every_form_of_a_value_is_taken),
        cmocka_unit_test(names_that_only_look_like_words_are_taken),
        cmocka_unit_test(every_language_of_the_wording_can_be_chosen),
        cmocka_unit_test(every_name_of_a_unit_is_taken),
        cmocka_unit_test(dates_and_times_are_written_as_the_country_does),
        cmocka_unit_test(names_are_found_without_regard_to_case),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
