/* SPDX-License-Identifier: MIT
 * Whatever is wrong with a config file is named with its line, and what is expected there; all that
 * is wrong in meaning at once. The exact words are part of the promise, so they stand here. */
#include "tests/config_file.h"

#include <string.h>
#include <sys/stat.h>

#include "config/settings.h"

/* Everything that is not under test is well. */
static const char roster[] = "people: ( { name = \"Tom\"; phone = \"+12065550112\"; },\n"
                             "          { name = \"Rosa\"; phone = \"+12065550111\"; } );\n"
                             "machines: ( { name = \"M7\"; } );\n";

/* What is said of a file, "FILE" standing for its name; freed by the caller. */
static char *said_of(const char *text)
{
    char *said = NULL;
    size_t length = 0;
    struct config_file file = config_file_write(text);
    FILE *out = open_memstream(&said, &length);
    assert_non_null(out);
    settings_free(settings_load(file.path, out));
    assert_int_equal(fclose(out), 0);
    config_file_remove(&file);
    size_t path = strlen(file.path);
    for (char *at = strstr(said, file.path); at != NULL; at = strstr(at, file.path)) {
        memcpy(at, "FILE", 4);
        memmove(at + 4, at + path, strlen(at + path) + 1);
    }
    return said;
}

struct mistake_case {
    const char *text;
    const char *said;
};

static void expect_each(const struct mistake_case *cases, size_t count, const char *rest)
{
    char text[4096];
    for (size_t i = 0; i < count; i++) {
        snprintf(text, sizeof text, "%s%s", cases[i].text, rest);
        char *said = said_of(text);
        if (strcmp(said, cases[i].said) != 0) {
            fail_msg("of the file\n%s\nsaid:   %s\nwanted: %s", text, said, cases[i].said);
        }
        free(said);
    }
}
#define EXPECT_EACH(cases, rest) expect_each(cases, sizeof(cases) / sizeof((cases)[0]), rest)

static void a_mistake_of_syntax_is_named_where_it_began(void **state)
{
    static const struct mistake_case cases[] = {
        {"shop: {\n  name = \"Alder Works;\n  units = \"qt\";\n};\n",
         "FILE:2: the text that begins with \"Alder Works; has no quote at its end; \"text\" is "
         "expected, on one line\n"},
        {"shop: {\n  units = qt;\n};\n",
         "FILE:2: units = qt is not in quotes; units = \"qt\" is expected\n"},
        {"shop: {\n  workdays = (\"mon\", tue);\n};\n",
         "FILE:2: tue is not in quotes; \"tue\" is expected\n"},
        {"shop: {\n  alert_from = 07:00;\n};\n",
         "FILE:2: alert_from = 07:00 is not in quotes; alert_from = \"07:00\" is expected\n"},
        {"shop: {\n  holidays = (2027-01-01);\n};\n",
         "FILE:2: 2027-01-01 is not in quotes; \"2027-01-01\" is expected\n"},
        {"shop: { name = \xE2\x80\x9C"
         "Alder\xE2\x80\x9D; };\n",
         "FILE:1: the quotation mark \xE2\x80\x9C is not the plain one; \"text\" is expected\n"},
        {"plans: ( {\n  name = \"drive\";\n  first = 75,0;\n} );\n",
         "FILE:3: 75,0 has a decimal comma; a point is expected, as 75.0\n"},
        {"plans: ( { name = \"a\"; }\n  { name = \"b\"; } );\n",
         "FILE:2: a comma is missing before \"{\"; entries of a list have commas between them\n"},
        {"plans: ( { name = \"a\"; }, );\n",
         "FILE:1: a comma stands before the closing \")\"; take the comma away\n"},
        {"plans: (\n  { name = \"a\";\n);\n",
         "FILE:3: \")\" stands where the \"{\" of line 2 is still open; \"}\" is expected first\n"},
        {"plans: (\n  name = \"a\"\n);\n",
         "FILE:2: \"=\" stands in the list that line 1 opens; \"{\" is expected before the name\n"},
        {"plans: ( { name = \"a\"; } ; { name = \"b\"; } );\n",
         "FILE:1: \";\" stands in the list that line 1 opens; \",\" or \")\" is expected\n"},
        {"shop: {\n  name \"Alder\";\n};\n",
         "FILE:2: \"=\" is missing behind name; name = ... is expected\n"},
        {"shop: {\n  name = ;\n};\n", "FILE:2: a value is missing before \";\"; one is expected\n"},
        {"shop: { name = \"Alder\"; };;\n",
         "FILE:1: there is a \";\" too many; the name of a setting is expected\n"},
        {"modem: { speed = 9600 }; }\n",
         "FILE:1: \"}\" closes nothing; take it away, or look for a bracket too many above\n"},
        {"modem: {\n  speed = 9600;\n  speed = 115200;\n};\n",
         "FILE:3: speed is set twice in one group; once is expected\n"},
        {"modem: { reports = true; };\n"
         "machines: (\n  { name = \"M7\"; }, { name = \"M8\"; name = \"M9\"; crew = (); } );\n",
         "FILE:3: name is set twice in one group; once is expected\n"},
        {"shop: {\n  units = \"qt\"; # name = 1\n  name = \"a\"; holidays = (); Name = \"b\"; };\n"
         "plans: ( { name = \"a\"; }, { name = \"b\"; steps = (\"name = x\"); } );\nplans: ();\n",
         "FILE:5: plans is set twice in one group; once is expected\n"},
        {"people: ( { name = \"Tom;  phone = \"+12065550112\"; } );\n",
         "FILE:1: a quote is missing in or before \"Tom;  phone = \"+12065550112; \"text\" is "
         "expected\n"},
        {"machines: ( { name = \"M7; kind = \"ridge\"; } );\n",
         "FILE:1: a quote is missing in or before \"M7; kind = \"ridge; \"text\" is expected\n"},
        {"shop: { workdays = (\"mon, \"tue\"); };\n",
         "FILE:1: a quote is missing in or before \"mon, \"tue; \"text\" is expected\n"},
        {"shop: { workdays = [\"mon\", 2]; };\n",
         "FILE:1: an array in [ ] holds values of one type; a list in ( ) is expected\n"},
        {"@include \"nowhere.conf\"\n",
         "FILE:1: the file to include cannot be opened; the name of a file beside this one is "
         "expected\n"},
        {"plans: ( { name = \"a\"; notice = .; } );\n",
         "FILE:1: \".\" alone is no number; one is expected\n"},
        {"ledger = my.db;\n",
         "FILE:1: ledger = my.db is not in quotes; ledger = \"my.db\" is expected\n"},
        {"# mine\npeople: [ { name = \"Sam\"; } ];\n",
         "FILE:2: a list of groups stands between ( and ); ( is expected instead of [\n"},
        {"shop: { name = \"Alder\"; workdays = \"mon\", \"tue\"; };\n",
         "FILE:1: the text \"tue\" belongs to no setting; name = value is expected, and ( ) around "
         "several values\n"},
        {"shop: {\n  name = Alder Works\n};\n",
         "FILE:2: name = Alder is not in quotes; name = \"Alder\" is expected\n"},
        {"modem: { speed = 9600; } = 5;\n",
         "FILE:1: syntax error; the form of meterpost.conf(5) is expected\n"},
        {"modem: { speed = 96 00; };\n",
         "FILE:1: 96 00 is not one number; one number, or text in quotes, is expected\n"},
        {"# a comment\n/* and one\nmodem: { };\n",
         "FILE:2: the comment that begins here never ends; */ is expected\n"},
    };
    (void)state;
    EXPECT_EACH(cases, roster);
}

static void a_bracket_left_open_is_named_where_it_opens(void **state)
{
    static const struct mistake_case cases[] = {
        {"shop: {\n  name = \"Alder\";\n",
         "FILE:1: the \"{\" of this line is never closed; \"}\" is expected\n"},
        {"plans: (\n  { name = \"a\"; }\n",
         "FILE:1: the \"(\" of this line is never closed; \")\" is expected\n"},
        {"ledger = \"a\"; \"", "FILE:1: the text that begins with \" has no quote at its end; "
                               "\"text\" is expected, on one "
                               "line\n"},
        {"ledger =", "FILE:1: ledger has no value; one is expected\n"},
    };
    (void)state;
    EXPECT_EACH(cases, "");
}

static void a_telephone_number_without_quotes_is_named_as_one(void **state)
{
    static const struct mistake_case cases[] = {
        {"people: ( { name = \"Tom\";\n phone = +12065550112; } );\n",
         "FILE:2: phone = 12065550112 is too large a number; a smaller one, or a telephone number "
         "in "
         "quotes, is expected\n"},
        {"people: ( { name = \"Tom\"; phone = 2065550112; } );\n",
         "FILE:1: person \"Tom\": phone is a telephone number that is not in quotes; phone = "
         "\"...\" is expected\n"},
        {"people: ( { name = \"Tom\"; phone = 206-555-0112; } );\n",
         "FILE:1: phone is a telephone number that is not in quotes; phone = \"...\" is "
         "expected\n"},
        {"people: ( { name = \"Tom\"; phone = (206) 555-0112; } );\n",
         "FILE:1: phone is a telephone number that is not in quotes; phone = \"...\" is "
         "expected\n"},
        {"people: ( { name = \"Tom\"; phone = +1 206 555 0112; } );\n",
         "FILE:1: phone is a telephone number that is not in quotes; phone = \"...\" is "
         "expected\n"},
    };
    (void)state;
    EXPECT_EACH(cases, "machines: ( { name = \"M7\"; } );\n");
}

static void a_mistake_in_the_shop_is_named(void **state)
{
    static const struct mistake_case cases[] = {
        {"shop: { timezone = \"UTC\"; };\n",
         "FILE:1: shop: no setting is called \"timezone\"; did you mean \"time_zone\"?\n"},
        {"shop: { zone = \"Etc/UTC\"; Days = ( \"mon\" ); };\n",
         "FILE:1: shop: no setting is called \"zone\"; did you mean \"time_zone\"?\n"
         "FILE:1: shop: no setting is called \"Days\"; did you mean \"workdays\"?\n"},
        {"colour = \"red\";\n",
         "FILE:1: no setting is called \"colour\"; one of ledger, door, modem, modems, "
         "shop, plans, kinds, people, machines is expected\n"},
        {"shop: { time_zone = \"America/Los_Angles\"; };\n",
         "FILE:1: shop: time_zone = \"America/Los_Angles\" is not known to this box; did you mean "
         "\"America/Los_Angeles\"?\n"},
        {"shop: { time_zone = \"America/Sacramento\"; };\n",
         "FILE:1: shop: time_zone = \"America/Sacramento\" is not known to this box; a name of the "
         "zone database, as \"America/Los_Angeles\" (timedatectl list-timezones), is expected\n"},
        {"shop: { time_zone = \"Mars\"; };\n",
         "FILE:1: shop: time_zone = \"Mars\" is not known to this box; a name of the zone "
         "database, "
         "as \"America/Los_Angeles\" (timedatectl list-timezones), is expected\n"},
        {"shop: { country = \"US\"; };\n",
         "FILE:1: shop: country = \"US\" is no calling code; its digits are expected, as \"1\" or "
         "\"52\"\n"},
        {"shop: { country = 1; };\n",
         "FILE:1: shop: country is a number that is not in quotes; country = \"1\" is expected\n"},
        {"shop: { units = \"gal\"; };\n",
         "FILE:1: shop: units = \"gal\" is not known; one of \"qt\", \"l\" is expected\n"},
        {"shop: { holidays = (\"2027-02-30\"); };\n",
         "FILE:1: shop: holidays = \"2027-02-30\" is no date; \"YYYY-MM-DD\" is expected, as "
         "\"2027-01-31\"\n"},
        {"shop: { holidays = \"2027-01-01\"; };\n",
         "FILE:1: shop: holidays is no list; holidays = (\"2027-01-01\") is expected\n"},
        {"shop: { workdays = (\"mon\", \"tues\"); };\n",
         "FILE:1: shop: workdays = \"tues\" is not known; one of \"mon\", \"tue\", \"wed\", "
         "\"thu\", "
         "\"fri\", \"sat\", \"sun\" is expected: did you mean \"tue\"?\n"},
        {"shop: { workdays = (); };\n",
         "FILE:1: shop: workdays is empty, so that no alert could ever go out; at least one day is "
         "expected, as (\"mon\")\n"},
        {"shop: {\n alert_from = \"17:00\";\n alert_until = \"07:00\"; };\n",
         "FILE:3: shop: alert_until (07:00) is not after alert_from (17:00); a later time of the "
         "same day is expected\n"},
        {"shop: { alert_from = \"25:00\"; };\n",
         "FILE:1: shop: alert_from = \"25:00\" is no time of day; \"HH:MM\" is expected, as "
         "\"07:00\"\n"},
        {"shop: { texts_per_hour = 0; };\n",
         "FILE:1: shop: texts_per_hour is 0; a whole number from 1 to 3600 texts is expected\n"},
        {"shop: { texts_per_hour = 2.5; };\n",
         "FILE:1: shop: texts_per_hour is 2.5; a whole number from 1 to 3600 texts is expected\n"},
        {"shop: { name = \"\xC5\x81\"; };\n",
         "FILE:1: shop: name holds a character that plain texts do not have; letters of the GSM "
         "alphabet are expected (it has no accents but those of \xC3\xA0 \xC3\xA9 \xC3\xA8 "
         "\xC3\xAC "
         "\xC3\xB2 \xC3\xB9 \xC3\xB1 \xC3\xBC \xC3\xA4 \xC3\xB6)\n"},
        {"shop: { name = \"\"; };\n", "FILE:1: shop: name is empty; text in quotes is expected\n"},
        {"shop: { number = \"555\"; };\n",
         "FILE:1: shop: number = \"555\" is too short to be answered; a number with its country is "
         "expected, as \"+12065550110\"\n"},
        {"shop: { number = \"ALDER\"; };\n",
         "FILE:1: shop: number = \"ALDER\" is a name; a number with its country is expected, as "
         "\"+12065550110\"\n"},
        {"modem: { reports = \"yes\"; };\n",
         "FILE:1: modem: reports is text in quotes; true or false, without quotes, is expected\n"},
        {"modem: { speed = 5000000000; };\n", "FILE:1: speed = 5000000000 is too large a number; a "
                                              "smaller one, or a telephone number in "
                                              "quotes, is expected\n"},
        {"modem: { speed = 5000000; };\n",
         "FILE:1: modem: speed is 5000000; a whole number from 1200 to 4000000 bit/s is "
         "expected\n"},
        {"modem = \"/dev/ttyUSB0\";\n",
         "FILE:1: modem is no group; modem: { port = \"...\"; }; is expected\n"},
    };
    (void)state;
    EXPECT_EACH(cases, roster);
}

static void a_mistake_in_a_plan_is_named(void **state)
{
    static const struct mistake_case cases[] = {
        {"plans: ( { name = \"drive\"; every = 500;\n first = 500.5; } );\n",
         "FILE:2: plan \"drive\": first (500.5) is above every (500); the first service is "
         "expected "
         "no later than the interval of the others\n"},
        {"plans: ( { name = \"drive\"; first = 0; } );\n",
         "FILE:1: plan \"drive\": first is 0; a number from 0.01 to 999999.99 hours is expected\n"},
        {"plans: ( { name = \"drive\"; every = -5; } );\n",
         "FILE:1: plan \"drive\": every is -5; a number from 0.01 to 999999.99 hours is "
         "expected\n"},
        {"plans: ( { name = \"drive\"; every = 1e300; } );\n",
         "FILE:1: plan \"drive\": every is 1e+300; a number from 0.01 to 999999.99 hours is "
         "expected\n"},
        {"plans: ( { name = \"drive\"; notice = 600.0; } );\n",
         "FILE:1: plan \"drive\": notice (600) is longer than the interval every (500); a shorter "
         "notice is expected\n"},
        {"plans: ( { name = \"drive\"; notice_days = 400; } );\n",
         "FILE:1: plan \"drive\": notice_days (400) is longer than the interval of 12 months; a "
         "shorter notice is expected\n"},
        {"plans: ( { name = \"drive\"; every = \"500\"; } );\n",
         "FILE:1: plan \"drive\": every is text in quotes; a number from 0.01 to 999999.99 hours "
         "is "
         "expected\n"},
        {"plans: ( { name = \"drive\"; first = 75.005; } );\n",
         "FILE:1: plan \"drive\": first is 75.005; at most two decimals are expected\n"},
        {"plans: ( { name = \"drive\"; months = 1.5; } );\n",
         "FILE:1: plan \"drive\": months is 1.5; a whole number from 0 to 240 months (0: no limit "
         "by "
         "calendar) is expected\n"},
        {"plans: ( { name = \"drive\"; count_from = \"first\"; } );\n",
         "FILE:1: plan \"drive\": count_from = \"first\" is not known; one of \"last-service\", "
         "\"zero\" is expected\n"},
        {"plans: ( { name = \"drive\"; evrey = 5; } );\n",
         "FILE:1: plan \"drive\": no setting is called \"evrey\"; did you mean \"every\"?\n"},
        {"plans: ( { name = \"drive\";\n kit = ( { item = \"oil\"; unit = \"qt\"; } ); } );\n",
         "FILE:2: kit item \"oil\": quantity is missing; it has no default\n"},
        {"plans: ( { name = \"drive\";\n kit = ( { item = \"oil\"; quantity = 0; unit = \"gal\"; } "
         "); } );\n",
         "FILE:2: kit item \"oil\": quantity is 0; a number from 0.001 to 1000000 is expected\n"
         "FILE:2: kit item \"oil\": unit = \"gal\" is not known; one of \"piece\", \"qt\", \"l\" "
         "is "
         "expected\n"},
        {"plans: ( { name = \"drive\"; kit = ( 5 ); } );\n",
         "FILE:1: plan \"drive\": number 1 of kit is no group; kit = ( { item = \"...\"; quantity "
         "= "
         "1.0; unit = \"qt\"; } ) is expected\n"},
        {"plans: ( { name = \"drive\"; steps = \"x\"; } );\n",
         "FILE:1: plan \"drive\": steps is no list; steps = (\"...\", \"...\") is expected\n"},
        {"plans: ( { name = \"drive\"; steps = ( 5 ); } );\n",
         "FILE:1: plan \"drive\": steps is a number that is not in quotes; \"5\" is "
         "expected\n"},
        {"plans: { name = \"drive\"; };\n", "FILE:1: plans is no list; plans: ( { name = "
                                            "\"drive\"; every = 500.0; } ); is expected\n"},
        {"plans: (\n  { name = \"drive\"; titles = { ess = \"Aceite\"; es = \"\"; }; } );\n",
         "FILE:2: plan \"drive\": no setting is called \"ess\"; did you mean \"es\"?\n"},
        {"plans: (\n  { title = \"Drive oil\"; } );\n",
         "FILE:2: plan number 1: name is missing; it has no default\n"},
    };
    (void)state;
    EXPECT_EACH(cases, roster);
}

static void a_name_that_texts_could_not_carry_is_named(void **state)
{
    static const struct mistake_case cases[] = {
        {"plans: ( { name = \"done\"; } );\n",
         "FILE:1: plan \"done\": the name is a word that texts are made of; another name is "
         "expected\n"},
        {"plans: ( { name = \"yes\"; }, { name = \"qt\"; } );\n",
         "FILE:1: plan \"yes\": the name is a word that texts are made of; another name is "
         "expected\n"
         "FILE:1: plan \"qt\": the name is a word that texts are made of; another name is "
         "expected\n"},
        {"plans: ( { name = \"50h\"; } );\n",
         "FILE:1: plan \"50h\": the name begins like a figure; a letter is expected first\n"},
        {"plans: ( { name = \"drive oil\"; } );\n",
         "FILE:1: plan \"drive oil\": the name must be one word of a text; letters, digits, \"-\" "
         "and \"_\" are expected\n"},
        {"plans: ( { name = \"drive\"; },\n { name = \"Drive\"; } );\n",
         "FILE:2: plan \"Drive\": the name is like that of the plan \"drive\" in line 1; one that "
         "differs in more than case, spaces and hyphens is expected\n"},
        {"plans: ( { name = \"m7\"; } );\n",
         "FILE:4: machine \"M7\": the name is like that of the plan \"m7\" in line 1; one that "
         "differs in more than case, spaces and hyphens is expected\n"},
        {"plans: ( { name = \"a-plan-with-a-long-name\"; } );\n",
         "FILE:1: plan \"a-plan-with-a-long-name\": name is 23 characters long; at most 16 are "
         "expected\n"},
    };
    (void)state;
    EXPECT_EACH(cases, roster);
}

static void a_mistake_in_a_kind_is_named(void **state)
{
    static const struct mistake_case cases[] = {
        {"kinds: ( { name = \"ridge\"; plans = (\"drvie\"); } );\n",
         "FILE:1: kind \"ridge\": no plan is called \"drvie\"; did you mean \"drive\"?\n"},
        {"kinds: ( { name = \"ridge\"; plans = (\"belts\"); } );\n",
         "FILE:1: kind \"ridge\": no plan is called \"belts\"; \"drive\" is expected\n"},
        {"kinds: ( { name = \"ridge\"; plans = (\"drive\", \"drive\"); } );\n",
         "FILE:1: kind \"ridge\": plans names \"drive\" twice; once is expected\n"},
        {"kinds: ( { name = \"ridge\"; most_hours_per_day = 25; } );\n",
         "FILE:1: kind \"ridge\": most_hours_per_day is 25; a number from 0.01 to 24 hours is "
         "expected\n"},
        {"kinds: ( { name = \"ridge\"; most_hours_per_day = 3; } );\n",
         "FILE:1: kind \"ridge\": hours_per_week (30) is above seven times most_hours_per_day (3); "
         "fewer hours a week are expected\n"},
        {"kinds: ( { name = \"ridge\"; meter_limit = 99.9; } );\n",
         "FILE:1: kind \"ridge\": meter_limit is 99.9; a number from 100 to 999999.99 hours is "
         "expected\n"},
        {"plans: ( { name = \"plana\"; }, { name = \"planb\"; }, { name = \"planc\"; }, { name = "
         "\"pland\"; },\n"
         "{ name = \"plane\"; }, { name = \"planf\"; }, { name = \"plang\"; }, { name = \"planj\"; "
         "}, { name = "
         "\"plank\"; } );\n"
         "kinds: ( { name = \"ridge\"; } );\n",
         "FILE:3: kind \"ridge\": plans is missing, and the file has 9; the names of at most 8 are "
         "expected\n"},
        {"kinds: ( { name = \"ridge\"; },\n { name = \"slope\"; } );\n",
         "FILE:5: machine \"M7\": kind is missing; one of the kinds in this file is expected\n"},
    };
    (void)state;
    EXPECT_EACH(cases, roster);
}

static void a_mistake_in_the_roster_is_named(void **state)
{
    static const struct mistake_case cases[] = {
        {"",
         "FILE:1: people is missing, and has no default; people: ( { name = \"...\"; phone = "
         "\"...\"; role = \"crew\"; } ); is expected\n"
         "FILE:1: machines is missing, and has no default; machines: ( { name = \"M12\"; kind = "
         "\"...\"; crew = (\"...\"); } ); is expected\n"},
        {"people: ( { name = \"Tom\"; } );\nmachines: ( );\n",
         "FILE:1: person \"Tom\": phone is missing; it has no default\n"
         "FILE:2: machines is empty; machines: ( { name = \"M12\"; kind = \"...\"; crew = "
         "(\"...\"); } ); is expected\n"},
        {"people: ( { name = \"Tom\"; phone = \"+12065550112\"; },\n"
         "          { name = \"Ana\"; phone = \"206 555 0112\"; role = \"boss\"; language = "
         "\"xx\"; "
         "} );\n"
         "machines: ( { name = \"M7\"; } );\n",
         "FILE:2: person \"Ana\": role = \"boss\" is not known; one of \"crew\", \"shop\" is "
         "expected\n"
         "FILE:2: person \"Ana\": language = \"xx\" is not known; one of \"en\", \"es\", "
         "\"fr\" is expected\n"
         "FILE:2: person \"Ana\": phone is that of \"Tom\" as well; a number of their own is "
         "expected\n"},
        {"people: ( { name = \"Tom\"; phone = \"+12065550112\"; } );\n"
         "machines: ( { name = \"H-3\"; } );\n",
         "FILE:2: machine \"H-3\": the name could be hours in a text, as in \"1340 h 3\"; another "
         "letter is expected\n"},
        {"shop: { number = \"+12065550112\"; };\n"
         "people: ( { name = \"Tom\"; phone = \"+12065550112\"; } );\n"
         "machines: ( { name = \"M7\"; } );\n",
         "FILE:2: person \"Tom\": phone is the number of the SIM (shop.number); the person's own "
         "is "
         "expected\n"},
        {"people: ( { name = \"Tom\"; phone = \"+12065550112\"; } );\n"
         "machines: (\n"
         "  { name = \"M7\"; kind = \"mowr\"; crew = (\"Tim\", \"Zoe\"); started = -1; },\n"
         "  { name = \"m-7\"; crew = \"Tom\"; },\n"
         "  { name = \"Tom\"; last_done = 575; },\n"
         "  { name = \"12\"; last_done = { drvie = 5; }; },\n"
         "  { name = \"HELP\"; },\n"
         "  { name = \"M,3\"; last_done = { drive = { hours = 5; on = \"soon\"; }; }; } );\n",
         "FILE:3: machine \"M7\": no kind is called \"mowr\"; did you mean \"mower\"?\n"
         "FILE:3: machine \"M7\": no person is called \"Tim\"; did you mean \"Tom\"?\n"
         "FILE:3: machine \"M7\": no person is called \"Zoe\"; \"Tom\" is expected\n"
         "FILE:3: machine \"M7\": started is -1; a number from 0 to 999999.99 hours is expected\n"
         "FILE:4: machine \"m-7\": crew is no list; crew = (\"...\", \"...\") is expected\n"
         "FILE:4: machine \"m-7\": the name is like that of the machine \"M7\" in line 3; one that "
         "differs in more than case, spaces and hyphens is expected\n"
         "FILE:5: machine \"Tom\": last_done is no group; last_done = { drive = 575.0; } is "
         "expected\n"
         "FILE:5: machine \"Tom\": the name is like that of the person \"Tom\" in line 1; one that "
         "differs in more than case, spaces and hyphens is expected\n"
         "FILE:6: machine \"12\": kind \"mower\" has no plan called \"drvie\"; did you mean "
         "\"drive\"?\n"
         "FILE:6: machine \"12\": the name looks like a figure in a text; a name with a letter is "
         "expected, as \"M12\"\n"
         "FILE:7: machine \"HELP\": the name is a word that texts are made of; another name is "
         "expected\n"
         "FILE:8: machine \"M,3\": on = \"soon\" is no date; \"YYYY-MM-DD\" is expected, as "
         "\"2027-01-31\"\n"
         "FILE:8: machine \"M,3\": the name could not be typed in a text; letters, digits, spaces, "
         "\"-\" and \"_\" are expected\n"},
    };
    (void)state;
    EXPECT_EACH(cases, "");
}

static void a_mistake_about_a_season_is_named(void **state)
{
    static const struct mistake_case cases[] = {
        {"shop: { bays = 0; bay_minutes = 1500; };\n",
         "FILE:1: shop: bays is 0; a whole number from 1 to 50 bays is expected\n"
         "FILE:1: shop: bay_minutes is 1500; a whole number from 15 to 1440 minutes is expected\n"},
        {"ledger = \"/tmp/l.db\";\nshop: {\n board = \"/tmp/l.db\"; };\n",
         "FILE:3: shop.board is the file of the ledger; a file of its own is expected\n"},
        {"shop: { escalate = \"Tom\"; };\n",
         "FILE:1: shop.escalate is no group; escalate = { days = 7; to = (\"...\"); } is "
         "expected\n"},
        {"shop: { escalate = { days = 7; }; };\n",
         "FILE:1: shop.escalate names nobody; to = (\"...\") is expected\n"},
        {"shop: {\n escalate = { day = 7;\n to = (\"Tim\"); }; };\n",
         "FILE:2: escalate: no setting is called \"day\"; did you mean \"days\"?\n"
         "FILE:3: escalate: no person is called \"Tim\"; did you mean \"Tom\"?\n"},
        {"plans: ( { name = \"drive\"; tell_crew = \"no\"; blanks = \"x\";\n"
         "  kit = ( { item = \"oil\"; quantity = 1; on_hand = -2; lead_days = 400; sides = 0; } ); "
         "} "
         ");\n",
         "FILE:1: plan \"drive\": blanks is no list; blanks = (\"...\", \"...\") is expected\n"
         "FILE:1: plan \"drive\": tell_crew is text in quotes; true or false, without quotes, is "
         "expected\n"
         "FILE:2: kit item \"oil\": lead_days is 400; a whole number from 0 to 366 days is "
         "expected\n"
         "FILE:2: kit item \"oil\": on_hand is -2; a number from 0 to 1000000 is expected\n"
         "FILE:2: kit item \"oil\": sides is 0; a whole number from 1 to 4 sides is expected\n"},
        {"plans: ( { name = \"drive\"; kit = ( { item = \"oil\"; quantity = 1; unit = \"qt\"; "
         "on_hand = 4; } ); },\n"
         "  { name = \"belts\"; kit = ( { item = \"Oil\"; quantity = 1; unit = \"qt\"; on_hand = "
         "6; "
         "} ); } );\n",
         "FILE:2: plan \"belts\": on_hand of \"Oil\" is 6 qt here and 4 qt before; what is on the "
         "shelf is expected once\n"},
    };
    static const struct mistake_case rosters[] = {
        {"people: ( { name = \"Tom\"; phone = \"+12065550112\"; sites = (\"Dock\"); },\n"
         "  { name = \"Ann\"; phone = \"+12065550113\"; role = \"shop\"; sites = (\"Dokc\"); },\n"
         "  { name = \"Eva\"; phone = \"+12065550114\"; role = \"shop\"; sites = (\"Harbor "
         "Park\"); } );\n"
         "machines: ( { name = \"M7\"; site = \"Dock\"; } );\n",
         "FILE:1: person \"Tom\": sites are for who is told of machines; role = \"shop\" is "
         "expected, or no sites\n"
         "FILE:2: person \"Ann\": no machine has the site \"Dokc\"; did you mean \"Dock\"?\n"
         "FILE:3: person \"Eva\": no machine has the site \"Harbor Park\"; the site of one is "
         "expected\n"},
        {"people: ( { name = \"Tom\"; phone = \"+12065550112\"; } );\n"
         "machines: ( { name = \"M7\"; formerly = (\"M8\"); },\n"
         "  { name = \"M8\"; formerly = (\"M3\", \"Tom\"); },\n"
         "  { name = \"M9\"; formerly = (\"m-3\", \"M9\"); },\n"
         "  { name = \"M10\"; formerly = (\"M11\", \"M-11\");\n gone = \"last year\"; },\n"
         "  { name = \"M13\"; gone = \"2026-01-01\"; started = { hours = 1; on = \"2026-02-01\"; "
         "}; "
         "} );\n",
         "FILE:2: machine \"M7\": formerly names \"M8\", which is the machine \"M8\" in line 3; a "
         "name that nothing has any more is expected\n"
         "FILE:3: machine \"M8\": formerly names \"Tom\", which is the person \"Tom\" in line 1; a "
         "name that nothing has any more is expected\n"
         "FILE:4: machine \"M9\": formerly names \"m-3\", which is a former name of the machine "
         "\"M8\" in line 3; a name that nothing has any more is expected\n"
         "FILE:4: machine \"M9\": formerly names \"M9\", which is the machine \"M9\" in line 4; a "
         "name that nothing has any more is expected\n"
         "FILE:5: machine \"M10\": formerly names \"M-11\", which is a former name of the machine "
         "\"M10\" in line 5; a name that nothing has any more is expected\n"
         "FILE:6: machine \"M10\": gone = \"last year\" is no date; \"YYYY-MM-DD\" is expected, as "
         "\"2027-01-31\"\n"
         "FILE:7: machine \"M13\": gone (2026-01-01) is before the day on which it started; a "
         "later "
         "day is expected\n"},
        {"people: ( { name = \"Tom\"; phone = \"+12065550112\"; } );\n"
         "machines: ( { name = \"M7\"; formerly = (\"12\", \"M1\", \"M2\", \"M3\", \"M4\"); } );\n",
         "FILE:2: machine \"M7\": formerly has more than 4 entries; at most 4 are expected\n"
         "FILE:2: machine \"M7\": the former name \"12\" looks like a figure in a text; a name "
         "with "
         "a letter is expected, as \"M12\"\n"},
    };
    (void)state;
    EXPECT_EACH(cases, roster);
    EXPECT_EACH(rosters, "");
}

static void what_is_quoted_from_the_file_is_made_plain(void **state)
{
    static const struct mistake_case cases[] = {
        {"shop: { units = \"\\x1B[2J\"; };\n",
         "FILE:1: shop: units = \"?[2J\" is not known; one of \"qt\", \"l\" is expected\n"},
        {"shop: { units = \"\xFF\"; };\n",
         "FILE:1: shop: units = \"?\" is not known; one of \"qt\", \"l\" is expected\n"},
        {"shop: { name = \"two\\nlines\"; };\n",
         "FILE:1: shop: name holds a line break or control character; one line of plain text is "
         "expected\n"},
        {"shop: { name = \"\xFF\"; };\n",
         "FILE:1: shop: name is not in UTF-8; save the file in that encoding\n"},
    };
    (void)state;
    EXPECT_EACH(cases, roster);
}

static void a_mistake_in_an_included_file_has_its_name(void **state)
{
    static const struct mistake_case cases[] = {
        {"people: ( { name = \"Tom\"; phone = \"+12065550112\"; } );\n"
         "machines: ( { name = \"M7\"; site = 5; } );\n",
         "2: machine \"M7\": site is a number that is not in quotes; site = \"5\" is expected\n"},
        {"people: ( { name = \"Tom\";\n phone = \"+12065550112\"; );\n",
         "2: \")\" stands where the \"{\" of line 1 is still open; \"}\" is expected first\n"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char *said = NULL, path[128], wanted[256];
        size_t length = 0;
        struct config_file file = config_file_write("@include \"roster.conf\"\n");
        config_file_add(&file, "roster.conf", cases[i].text);
        FILE *out = open_memstream(&said, &length);
        assert_non_null(out);
        settings_free(settings_load(file.path, out));
        assert_int_equal(fclose(out), 0);
        snprintf(path, sizeof path, "%s/roster.conf", file.folder);
        snprintf(wanted, sizeof wanted, "%s:%s", path, cases[i].said);
        assert_string_equal(said, wanted);
        free(said);
        assert_int_equal(unlink(path), 0);
        config_file_remove(&file);
    }
}

static void a_mistake_about_several_modems_is_named(void **state)
{
    static const struct mistake_case cases[] = {
        {"modem: { port = \"/dev/a\"; };\nmodems: ( { port = \"/dev/b\"; } );\n",
         "FILE:2: modem and modems are both set; one of them is expected, modems with all of "
         "them\n"},
        {"modems: ();\n", "FILE:1: modems is empty; modems: ( { port = \"...\"; }, { port = "
                          "\"...\"; } ); is expected\n"},
        {"modems: { port = \"/dev/a\"; };\n",
         "FILE:1: modems is no list; modems: ( { port = \"...\"; }, { port = \"...\"; } ); is "
         "expected\n"},
        {"modems: ( { port = \"/dev/a\"; },\n  { speed = 9600; } );\n",
         "FILE:2: modem number 2: port is missing; each of several modems has one\n"},
        {"modems: ( { port = \"/dev/a\"; },\n  { name = \"west\";\n    port = \"/dev/a\"; } );\n",
         "FILE:3: modem \"west\": port is that of modem \"1\" as well (/dev/a); a port of its own "
         "is expected\n"},
        {"modems: ( { port = \"/dev/null\"; },\n"
         "  { port = \"/proc/self/root/dev/null\"; } );\n",
         "FILE:2: modem number 2: port is that of modem \"1\" as well (/dev/null); a port of its "
         "own is expected\n"},
        {"modems: ( { name = \"west\"; port = \"/dev/a\"; },\n"
         "  { name = \"West\"; port = \"/dev/b\"; } );\n",
         "FILE:2: modem \"West\": modem number 1 is called \"west\" as well; a name of its own is "
         "expected\n"},
        {"modem: { name = \"by/the door\"; };\n",
         "FILE:1: modem: name = \"by/the door\" has more than letters, digits and hyphens; a plain "
         "word is expected\n"},
        {"modems: ( { port = \"/a\"; }, { port = \"/b\"; }, { port = \"/c\"; },\n"
         "  { port = \"/d\"; },\n  { port = \"/e\"; } );\n",
         "FILE:3: modems has more than 4 entries; at most 4 are expected\n"},
    };
    (void)state;
    EXPECT_EACH(cases, roster);
}

static void a_pin_that_all_may_read_is_named(void **state)
{
    (void)state;
    char text[512], wanted[256], pin[128];
    struct config_file other = config_file_write("1234\n");
    snprintf(pin, sizeof pin, "%s", other.path);
    snprintf(text, sizeof text, "modem: { pin_file = \"%s\"; };\n%s", pin, roster);
    snprintf(wanted, sizeof wanted,
             "FILE:1: modem: everybody on this box may read the PIN in %s; mode 0640 is expected "
             "(chmod 0640)\n",
             pin);
    assert_int_equal(chmod(pin, 0644), 0);
    char *said = said_of(text);
    assert_string_equal(said, wanted);
    free(said);
    assert_int_equal(chmod(pin, 0640), 0);
    said = said_of(text);
    assert_string_equal(said, "");
    free(said);
    config_file_remove(&other);
}

static void a_file_that_is_none_is_named_without_a_line(void **state)
{
    static const struct mistake_case cases[] = {
        {"/nowhere/meterpost.conf", "/nowhere/meterpost.conf: cannot be opened: No such file or "
                                    "directory; the name of a config file is expected (-c FILE)\n"},
        {"/tmp", "/tmp: is a folder; the name of a config file is expected\n"},
        {"/dev/zero", "/dev/zero: is no regular file; the name of a config file is expected\n"},
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char *said = NULL;
        size_t length = 0;
        FILE *out = open_memstream(&said, &length);
        assert_non_null(out);
        assert_null(settings_load(cases[i].text, out));
        assert_int_equal(fclose(out), 0);
        assert_string_equal(said, cases[i].said);
        free(said);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_mistake_of_syntax_is_named_where_it_began),
        cmocka_unit_test(a_bracket_left_open_is_named_where_it_opens),
        cmocka_unit_test(a_telephone_number_without_quotes_is_named_as_one),
        cmocka_unit_test(a_mistake_in_the_shop_is_named),
        cmocka_unit_test(a_mistake_in_a_plan_is_named),
        cmocka_unit_test(a_name_that_texts_could_not_carry_is_named),
        cmocka_unit_test(a_mistake_in_a_kind_is_named),
        cmocka_unit_test(a_mistake_in_the_roster_is_named),
        cmocka_unit_test(a_mistake_about_a_season_is_named),
        cmocka_unit_test(what_is_quoted_from_the_file_is_made_plain),
        cmocka_unit_test(a_mistake_in_an_included_file_has_its_name),
        cmocka_unit_test(a_mistake_about_several_modems_is_named),
        cmocka_unit_test(a_pin_that_all_may_read_is_named),
        cmocka_unit_test(a_file_that_is_none_is_named_without_a_line),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
