#!/bin/sh
# SPDX-License-Identifier: MIT
# The counter by its front door: the verbs on a small yard, judged by what they print and by their
# exit status; JSON read by jq. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-counter-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh

# The intervals, oil and quantities are common practice, no source; the yard is invented.
cat >"$folder/yard.conf" <<END
ledger = "$folder/ledger.db";
door = "$folder/door";
shop: { name = "Alder Works"; number = "+12065550100"; time_zone = "America/Los_Angeles"; };
plans: ( { name = "drive"; title = "Drive oil and filters"; first = 75.0; every = 500.0; months = 12;
  kit = ( { item = "20W-50"; quantity = 5.0; unit = "qt"; sold_in = 1.0; },
          { item = "filter"; quantity = 2.0; unit = "piece"; sold_in = 1.0; } );
  steps = ("Drain.", "Fill."); cautions = ("Ask when in doubt."); } );
kinds: ( { name = "ridge-60"; plans = ("drive"); hours_per_week = 30.0; } );
people: ( { name = "Ines"; phone = "+12065550110"; role = "crew"; },
          { name = "Rosa"; phone = "+12065550111"; role = "shop"; } );
machines: ( { name = "M12"; kind = "ridge-60"; crew = ("Ines"); serial = "A-1"; },
            { name = "M7"; kind = "ridge-60"; crew = ("Ines"); } );
END
meterpost() {
    verb=$1
    shift
    "$program" "$verb" -c "$folder/yard.conf" "$@"
}

meterpost export readings >/dev/null 2>&1
same a_ledger_that_is_not_there_is_said_in_the_exit_status 66 $?
same before_the_first_text_the_yard_is_as_the_config_tells_it '0 2 with no reading yet. 1' \
    "$(meterpost due >"$folder/said" 2>"$folder/err"; echo $?) $(head -n 1 "$folder/said") $(
        grep -c "no ledger at $folder/ledger.db yet" "$folder/err")"
same so_are_its_machines_sheets_and_lists '0 0 0 0 0' \
    "$(for verb in 'machine M12' 'sheet M12' stock calendar texts; do
        meterpost $verb >/dev/null 2>&1
        echo $?
    done | paste -sd ' ')"
touch "$folder/ledger.db.made"
same a_ledger_that_vanished_is_no_new_yard 66 "$(meterpost due >/dev/null 2>&1; echo $?)"
rm "$folder/ledger.db.made"
same looking_makes_no_ledger 'gone' "$([ -e "$folder/ledger.db" ] || echo gone)"
say() { meterpost text --now "$1T12:00:00-07:00" --as "$2" "$3"; }
say 2027-04-01 Ines 'M12 40h, M7 10h' >/dev/null
say 2027-04-05 Ines 'M12 60.5h' >/dev/null
say 2027-04-08 Ines 'M12 76h' >/dev/null

meterpost due --now 2027-04-09 >/dev/null
same something_due_is_said_in_the_exit_status 1 $?
same due_says_the_stage_and_the_hours_left 'M12 due 75 -1' \
    "$(meterpost due --now 2027-04-09 --json |
        jq -r '.rows[0] | "\(.machine) \(.stage) \(.due_hours) \(.hours_left)"')"
same due_as_csv_has_the_header_that_programs_rely_on \
    'machine,kind,plan,stage,meter,true_hours,read_at,hours_a_day,due_hours,hours_left,due_on,earliest,latest,last_done_hours,last_done_on,title,site,crew,owner,booked_on,in_since' \
    "$(meterpost due --now 2027-04-09 --csv | head -n 1 | tr -d '\r')"
same the_hours_on_the_screen_have_their_unit_at_the_head 'MACHINE PLAN STATE METER h DUE AT h LEFT h DUE ON BY BETWEEN' \
    "$(meterpost due --now 2027-04-09 | sed -n 2p | tr -s ' ')"
sed 's/serial = "A-1";/& site = "Harbor Park"; owner = "Mill Pond";/' "$folder/yard.conf" >"$folder/sited.conf"
same due_says_what_it_is_and_whose 'Drive oil and filters Harbor Park Ines Mill Pond|Drive oil and filters  Ines |M12,Harbor Park,Ines,Mill Pond,,' \
    "$("$program" due -c "$folder/sited.conf" --now 2027-04-09 --json |
        jq -r '.rows[] | "\(.title) \(.site // "") \(.crew | join("+")) \(.owner // "")"' | paste -sd '|')|$(
        "$program" due -c "$folder/sited.conf" --now 2027-04-09 --csv | tr -d '\r' | grep ^M12 | cut -d , -f 1,17-)"
# Hardly used, and a month is the limit.
sed 's/months = 12/months = 1/; s/hours_per_week = 30/hours_per_week = 3/' "$folder/yard.conf" >"$folder/month.conf"
monthly() { "$program" "$@" -c "$folder/month.conf"; }
same what_the_calendar_limits_is_said_by_its_date \
    'M7 date 2027-05-01|due by 2027-05-01, or at 75 h, 65 h left|Due by 2027-05-01, at 75 h, whichever comes first|M7 drive due by May 1' \
    "$(monthly due --now 2027-04-28 --json |
        jq -r '.rows[] | select(.machine == "M7") | "\(.machine) \(.by) \(.due_on)"')|$(
        monthly machine M7 --now 2027-04-28 | grep -o 'due by .* left')|$(
        monthly sheet M7 --now 2027-04-28 | grep '^Due ' | tr -s ' ')|$(
        monthly text --now 2027-04-28T12:00:00-07:00 --as Ines DUE | grep -o 'M7 drive due by [^,.]*')"
same a_sentence_stands_first '1 due, 1 coming up.' "$(meterpost due --now 2027-04-09 | head -n 1)"
same people_read_a_stage_in_plain_words_and_programs_in_a_fixed_one 'M7 drive coming up 10|coming-up|coming-up' \
    "$(meterpost due --now 2027-04-09 | tr -s ' ' | grep -o '^M7 .* 10 ' | sed 's/ $//')|$(
        meterpost due --now 2027-04-09 --csv | sed -n 's/^M7,//p' | cut -d , -f 3)|$(
        meterpost due --now 2027-04-09 --json | jq -r '.rows[] | select(.machine == "M7").stage')"
same colour_is_for_terminals_only 0 "$(meterpost due --now 2027-04-09 | grep -c "$(printf '\033')")"

same the_sheet_begins_with_the_cautions 'CAUTIONS TO HAVE READY STEPS WRITE DOWN' \
    "$(meterpost sheet M12 | grep -oE '^(CAUTIONS|TO HAVE READY|STEPS|WRITE DOWN)' | tr '\n' ' ' | sed 's/ $//')"
same the_usual_cautions_stand_on_every_sheet 'jack 1 maker 1 hot 1 belts 1 Used 1 doubt 1' \
    "$(for word in jack maker hot belts Used doubt; do
        printf '%s %s ' "$word" "$(meterpost sheet M12 | grep '^  !' -A1 | tr '\n' ' ' | grep -c "$word")"
    done | sed 's/ $//')"
same the_sheet_says_what_to_text '    M12 DONE drive ______ ____ qt' "$(meterpost sheet M12 | tail -n 1)"
same a_sheet_fits_its_paper 0 "$(meterpost sheet M12 | awk 'length > 79' | wc -l)"

# On the shelf, and by when to order.
sed 's/quantity = 5.0; unit = "qt"; sold_in = 1.0;/& lead_days = 3; on_hand = 2.0;/' "$folder/yard.conf" >"$folder/shelf.conf"
shelf() { "$program" "$@" -c "$folder/shelf.conf" --now 2027-04-09; }
same what_is_on_hand_is_taken_off_and_the_day_to_order_said '20W-50 10 2 8 2027-04-09|filter 4 null 4 null' \
    "$(shelf stock --json | jq -r '.items[] | "\(.item) \(.needed) \(.on_hand) \(.containers) \(.order_by)"' | paste -sd '|')"
same a_column_is_there_where_it_says_something 'ITEM UNIT NEEDED ON HAND SOLD IN CONTAINERS ORDER BY MACHINES|ITEM UNIT NEEDED SOLD IN CONTAINERS MACHINES' \
    "$(shelf stock | sed -n 2p | tr -s ' ')|$(meterpost stock --now 2027-04-09 | sed -n 2p | tr -s ' ')"
same the_first_words_of_due_have_the_day_too '1 due, 1 coming up, parts to order by Apr 9.' "$(shelf due | head -n 1)"

# What the bay has to do, and where the hours went; both reckoned in yard/ and tested there.
same the_bay_says_its_days_in_words_and_rows '1 2027-04-09 M12 drive suggested' \
    "$(meterpost bay --now 2027-04-09 | head -n 1 | grep -c '^From 2027-04-09 until 2027-06-04: [0-9]* jobs*, 0 of them booked') $(
        meterpost bay --now 2027-04-09 --json |
            jq -r '[.days[] | .day as $day | .jobs[] | "\($day) \(.machine) \(.plan) \(.why)"] | .[0]')"
same in_a_spreadsheet_every_open_day_has_a_row 'day,day_minutes,free,machine,plan,minutes,why|21' \
    "$(meterpost bay --now 2027-04-09 --weeks 4 --csv >"$folder/said"; head -n 1 "$folder/said" | tr -d '\r')|$(sed 1d "$folder/said" | cut -d , -f 1 | sort -u | wc -l)"
same hours_are_told_by_machine_with_a_bar 'NAME HOURS MACHINES|M12 36 1 ##############################' \
    "$(meterpost hours --now 2027-04-09 | sed -n 2,3p | tr -s ' ' | sed 's/ $//' | paste -sd '|')"
same hours_of_some_days_by_crew 'Ines 12.92 2' \
    "$(meterpost hours --from 2027-04-06 --to 2027-04-09 --by crew --json | jq -r '.rows[] | "\(.name) \(.hours) \(.machines)"')"
same a_span_that_is_none_is_refused 'meterpost: --from x is no day; write it like 2027-03-14|meterpost: --from lies behind --to|meterpost: --by machine, site, crew or owner, not x|64' \
    "$(meterpost hours --from x 2>&1)|$(meterpost hours --from 2027-04-02 --to 2027-04-01 2>&1)|$(meterpost hours --by x 2>&1)|$(
        meterpost hours --by x >/dev/null 2>&1; echo $?)"

# Renamed, sold, and gone from the config: the record stays.
sed 's/{ name = "M12"; /{ name = "M21"; formerly = ("M12"); /' "$folder/yard.conf" >"$folder/renamed.conf"
sed 's/{ name = "M12";[^}]*},//' "$folder/yard.conf" >"$folder/sold.conf"
sed 's/serial = "A-1";/& gone = "2027-04-08";/' "$folder/yard.conf" >"$folder/gone.conf"
at() { conf=$1; shift; "$program" "$@" -c "$folder/$conf.conf" --now 2027-04-09; }
same a_machine_is_found_by_the_name_it_had 'M12 is called M21 now.|M21, ridge-60, serial A-1, crew Ines' "$(at renamed machine M12 | head -n 2 | paste -sd '|')"
same one_that_the_config_has_no_more_is_found_by_its_record 'M12, which is not in the config any more 3' \
    "$(at sold machine M12 | head -n 1) $(at sold machine M12 --json | jq '.record | map(select(.what == "reading")) | length')"
same its_record_goes_out_too 3 "$(at sold export readings M12 | sed 1d | grep -c '^M12')"
same of_one_that_is_gone_nothing_comes_due '0   gone since 2027-04-08: nothing comes due 2027-04-08' \
    "$(at gone machine M12 >"$folder/said"; echo $?) $(sed -n 2p "$folder/said") $(at gone machine M12 --json | jq -r .gone_on)"
same a_page_for_its_buyer 'Service record of M12|M12, ridge-60, serial A-1|76 h on the meter on 2027-04-08|2027-04-01|2027-04-08|Alder Works, as of 2027-04-09' \
    "$(at gone machine M12 --page | grep -o -e '<h1>[^<]*' -e '<dd>[^<]*' | sed 's/<[^>]*>//' | paste -sd '|')"
same and_of_one_that_only_its_record_is_left_of '0 M12' \
    "$(at sold machine M12 --page >"$folder/page"; echo $?) $(grep -o '<dd>[^<]*' "$folder/page" | head -n 1 | sed 's/<dd>//')"
same nothing_of_that_name_is_said_to_be_so 'meterpost: no machine M13|64' \
    "$(at sold machine M13 2>&1| sed 's/; did.*//')|$(at sold machine M13 >/dev/null 2>&1; echo $?)"

say 2027-04-09 Rosa 'M12 DONE 77 4.7qt' >/dev/null
same a_service_restarts_the_count 'M12 fine 577' \
    "$(meterpost due --now 2027-04-09T13:00:00-07:00 --json |
        jq -r '.rows[] | select(.machine == "M12") | "\(.machine) \(.stage) \(.due_hours)"')"
same the_record_holds_readings_and_services 'reading 40 reading 60.5 reading 76 service 77' \
    "$(meterpost machine M12 --json | jq -r '[.record[] | select(.what == "reading" or .what == "service") |
        "\(.what) \(.hours)"] | unique | join(" ")' | sed 's/reading 77 //')"
same a_record_as_of_a_moment_ends_there 'reading 40 reading 60.5' \
    "$(meterpost machine M12 --now 2027-04-08 --json | jq -r '[.record[] | select(.what == "reading" or .what == "service") |
        "\(.what) \(.hours)"] | unique | join(" ")')"
same an_unknown_machine_gets_the_nearest_one 'meterpost: no machine M21; did you mean M12?' \
    "$(meterpost machine M21 2>&1)"
same a_mistyped_person_gets_the_nearest_one 'did you mean Ines?' \
    "$(meterpost text --as Inez 'M12?' 2>&1 | sed 's/.*; //')"
same somebody_unheard_of_gets_the_whole_list 'people are: Ines Rosa' \
    "$(meterpost text --as Bartholomew 'M12?' 2>&1 | sed 's/.*; //')"
same stock_names_items_and_machines '20W-50 5 5 M7' \
    "$(meterpost stock --now 2027-05-01 --weeks 8 --json |
        jq -r '.items[0] | "\(.item) \(.needed) \(.containers) \(.machines | join(","))"')"
same stock_says_what_was_used_beside_the_plan 'drive 20W-50 qt 1 1 5 4.7 -0.3' \
    "$(meterpost stock --now 2027-04-20 --weeks 2 --json | jq -r '.used[] | "\(.plan) \(.item) \(.unit) \(.services) \(.given) \(.planned) \(.used) \(.more)"')"
same the_heads_of_stock_are_those_of_every_table 'ITEM UNIT NEEDED SOLD IN CONTAINERS MACHINES|PLAN ITEM UNIT SERVICES GIVEN PLANNED USED MORE' \
    "$(meterpost stock --now 2027-04-20 --weeks 52 | tr -s ' ' | grep -E '^(ITEM|PLAN) ' | paste -sd '|')"
same what_is_needed_is_csv_in_small_letters 'item,unit,needed,sold_in,containers,machines,likely,on_hand,order_by' \
    "$(meterpost stock --now 2027-04-20 --csv | head -n 1 | tr -d '\r')"
same what_was_used_is_csv_as_well 'plan,item,unit,services,given,planned,used,more' \
    "$(meterpost stock --now 2027-04-20 --csv --used | head -n 1 | tr -d '\r')"
same what_was_used_stands_alone_where_it_is_asked_for 'Used in services PLAN drive' \
    "$(meterpost stock --now 2027-04-20 --used | awk '{ print NR == 1 ? $1 " " $2 " " $3 : $1 }' | paste -sd ' ')"
same what_was_used_is_said_below_what_is_needed_in_the_same_words "$(meterpost stock --now 2027-04-20 --used)" \
    "$(meterpost stock --now 2027-04-20 | sed -n '/^Used in/,$p')"
same where_nothing_was_used_it_is_said 'No service that takes a fluid was done from 2027-03-04 until 2027-04-01.' \
    "$(meterpost stock --now 2027-04-01 --used)"
sed -e '/^  kit = /d' -e '/^          { item = /d' "$folder/yard.conf" >"$folder/bare.conf"
same without_a_kit_what_is_needed_is_not_known \
    'What is needed from 2027-04-20 until 2027-05-18 is not known: no plan has a kit (meterpost.conf(5)).' \
    "$("$program" stock -c "$folder/bare.conf" --now 2027-04-20 | head -n 1)"
sed "s|^ledger = .*|ledger = \"$folder/bare.db\";|" "$folder/bare.conf" >"$folder/bare-own.conf"
same without_a_kit_a_quantity_is_taken_as_told 'M12 77h: done, 4.7 qt' \
    "$("$program" text -c "$folder/bare-own.conf" --as Rosa 'M12 DONE 77 4.7qt' | sed 's/^\(M12 77h: \).*\(done, 4.7 qt\).*/\1\2/')"
same json_has_both_unless_one_is_asked_for 'items used|used' \
    "$(for used in '' --used; do
        meterpost stock --json $used --now 2027-04-20 | jq -r '[keys[] | select(. == "items" or . == "used")] | join(" ")'
    done | paste -sd '|')"
same texts_lists_what_was_said_at_the_counter 'in Rosa M12 DONE 77 4.7qt' \
    "$(meterpost texts --now 2027-04-10 --days 30 --json | jq -r '.rows[0] | "\(.direction) \(.person) \(.text)"')"
same an_independent_parser_reads_the_calendar '0 errors M7-drive-0 2027-04-16 M7: Drive oil and filters' \
    "$(meterpost calendar --now 2027-04-10 | /usr/bin/python3 -c '
import sys, icalendar
for event in icalendar.Calendar.from_ical(sys.stdin.buffer.read()).walk("VEVENT"):
    if event["UID"].startswith("M7"):
        print(len(event.errors), "errors", event["UID"].split("@")[0], event["DTSTART"].dt, event["SUMMARY"])')"
same programs_get_the_events_by_the_same_identifiers \
    "$(meterpost calendar --now 2027-04-10 | tr -d '\r' | sed -n 's/^UID://p' | paste -sd ' ')" \
    "$(meterpost calendar --now 2027-04-10 --json | jq -r '[.events[].uid] | join(" ")')"
same programs_get_what_the_board_shows "Alder Works $(meterpost due --now 2027-04-10 --json | jq -c .rows)" \
    "$(meterpost board --now 2027-04-10 --json | jq -r '"\(.shop) \(.rows)"')"
same the_calendar_leaves_out_bounds_that_are_the_day_itself 0 \
    "$(meterpost calendar --now 2027-04-10 | tr -d '\r' | sed -n 's/^DESCRIPTION:.*Between \(.*\) and \(.*\)\. .*/\1 \2/p' |
        awk '$1 == $2' | wc -l)"
same a_text_without_an_answer_is_said_to_have_none '(such a text gets no answer)' "$(say 2027-04-10 Ines thanks)"
same csv_is_read_back_by_another_reader '77.00|2027-04-09|Rosa' \
    "$(meterpost export services | /usr/bin/python3 -c '
import csv, sys
for row in csv.DictReader(sys.stdin):
    print("%.2f" % float(row["hours"]), row["done_at"][:10], row["person"], sep="|")')"
same exported_readings_begin_with_the_fixed_columns 'machine,hours,read_at,person,struck' \
    "$(meterpost export readings | head -n 1 | cut -d , -f 1-5)"
# What became of a text is the same word on a screen, in CSV and in JSON.
meterpost text --now 2027-04-11 --as Rosa STOP >/dev/null
meterpost text --now 2027-04-11 --as Rosa 'M12 DONE 78' >/dev/null
meterpost text --now 2027-04-11 --as Ines 'what a morning' >/dev/null
meterpost text --now 2027-04-11 --as Ines 'M7 40 41' >/dev/null
texts() { meterpost texts --now 2027-04-11 --days 1 "$@"; }
became='asked not-understood refused done'
same what_became_of_a_text_is_on_the_screen "$became" \
    "$(texts | awk '/^20/ { print $5 }' | head -n 4 | tr '\n' ' ' | sed 's/ $//')"
same what_became_of_a_text_is_in_csv "$became" \
    "$(texts --csv | tr -d '\r' | awk -F, 'NR > 1 { print $(NF - 1) }' | head -n 4 | tr '\n' ' ' | sed 's/ $//')"
same what_became_of_a_text_is_in_json "$became" "$(texts --json | jq -r '[.rows[0:4][].state] | join(" ")')"
same people_read_times_with_a_space_in_every_table '0' \
    "$({ texts; meterpost machine M7 --history; } | grep -c '[0-9]T[0-9]')"
same programs_read_times_as_rfc_3339 'in,Ines,+12065550110,2027-04-11T00:00:00-07:00' \
    "$(texts --csv | sed -n 2p | cut -d , -f 1-4)"
same who_is_asked_and_who_opted_out_is_named 'open question to Ines about M7 since 2027-04-11 00:00
Rosa said STOP on 2027-04-11 and gets no texts' "$(texts | tail -n 2)"
meterpost text --now 2027-04-11 --as Rosa START >/dev/null
meterpost text --now 2027-04-11 --as Ines NO >/dev/null
same exported_texts_have_the_fixed_columns 'direction,person,phone,at,text,state,cause' \
    "$(meterpost export texts | head -n 1 | tr -d '\r')"

# Trouble as the desk keeps it: of M7 an open one, of M12 a danger, of M7 one that is solved and a remark.
sqlite3 "$folder/ledger.db" "
    CREATE TEMP VIEW m AS SELECT id, name FROM machines;
    INSERT INTO troubles (machine_id, weight, since_s, person_id, words, solved_s, solved_by, solved_words)
    SELECT m.id, column2, unixepoch(column3), (SELECT id FROM people WHERE name = 'Ines'), column4,
        unixepoch(column5), iif(column5 IS NULL, NULL, (SELECT id FROM people WHERE name = 'Rosa')), column6
    FROM (VALUES ('M7', 1, '2027-04-08T19:00:00Z', 'oil leak left side', NULL, NULL),
        ('M12', 2, '2027-04-09T19:00:00Z', 'brakes gone', NULL, NULL),
        ('M7', 1, '2027-04-05T19:00:00Z', 'flat tyre', '2027-04-06T19:00:00Z', 'new tube'),
        ('M7', 0, '2027-04-07T19:00:00Z', 'by the barn', NULL, NULL),
        (NULL, 2, '2027-04-09T20:00:00Z', 'smoke from the shed', NULL, NULL))
        LEFT JOIN m ON m.name = column1"
same open_trouble_is_said_of_a_machine '  open trouble: 2027-04-08 Ines: oil leak left side' \
    "$(meterpost machine M7 --now 2027-04-10 | grep trouble:)"
same danger_is_marked_in_words '  open trouble: DANGER 2027-04-09 Ines: brakes gone' \
    "$(meterpost machine M12 --now 2027-04-10 | grep trouble:)"
same the_record_has_trouble_remarks_and_what_was_solved \
    'trouble Ines flat tyre|solved Rosa new tube|remark Ines by the barn|trouble Ines oil leak left side' \
    "$(meterpost machine M7 --now 2027-04-10 --json | jq -r '[.record[] |
        select(.what | IN("trouble", "solved", "remark", "danger")) | "\(.what) \(.person) \(.remark)"] | join("|")')"
same programs_get_it_with_the_machine '2027-04-08T12:00:00-07:00 Ines null oil leak left side' \
    "$(meterpost machine M7 --now 2027-04-10 --json |
        jq -r '.trouble[] | "\(.since) \(.person) \(.danger) \(.says)"')"
same programs_get_it_with_what_comes_due 'M12 true brakes gone|M7 null oil leak left side' \
    "$(meterpost due --now 2027-04-10 --json |
        jq -r '[.rows[] | .machine + " " + (.trouble[]? | "\(.danger) \(.says)")] | sort | join("|")')"
same a_machine_without_trouble_has_no_such_key 0 \
    "$(meterpost due --now 2027-04-08 --json | grep -c trouble)"
same what_is_open_in_the_yard_stands_below_what_comes_due_and_the_texts 'open trouble
  no machine named: DANGER 2027-04-09 Ines: smoke from the shed
  M12: DANGER 2027-04-09 Ines: brakes gone
  M7: 2027-04-08 Ines: oil leak left side
the same' "$(meterpost due --now 2027-04-10 | sed -n '/^open/,$p')
$([ "$(meterpost texts --now 2027-04-10 | sed -n '/^open trouble/,$p')" = "$(meterpost due --now 2027-04-10 | sed -n '/^open/,$p')" ] &&
        echo the same)"
same a_sheet_has_a_box_for_what_was_reported '  [ ]  DANGER 2027-04-09 Ines: brakes gone|    M12 SOLVED' \
    "$(meterpost sheet M12 --now 2027-04-10 | grep -A1 -e '^REPORTED' -e '^AND WHEN' | grep '^ ' | paste -sd '|')"
same the_board_marks_danger_on_the_card '<li><b class="danger">DANGER</b> since 2027-04-09, Ines: brakes gone</li>' \
    "$(meterpost board --now 2027-04-10 | sed -n '/<h2>M12/,/<section/p' | grep '^<li>')"
same danger_of_no_machine_stands_above_all_cards 1 \
    "$(meterpost board --now 2027-04-10 | sed '/<\/header>/,$d' | grep -c 'DANGER.*smoke from the shed')"
sqlite3 "$folder/ledger.db" 'DELETE FROM troubles'

same a_backup_says_what_it_made "$folder/copy.db true" \
    "$(meterpost backup "$folder/copy.db" --json | jq -r '"\(.file) \(.checked)"')"
same a_backup_is_a_whole_ledger 'ok 5' \
    "$(sqlite3 "$folder/copy.db" 'PRAGMA integrity_check; SELECT count(*) FROM readings' | tr '\n' ' ' | sed 's/ $//')"
say 2027-04-10 Rosa 'M7 DONE 10 5qt yesterday' >/dev/null
meterpost text --now 2027-04-10T14:00:00-07:00 --as Rosa UNDO >/dev/null
same the_record_shows_what_was_taken_back_when_by_whom_and_what_was_said_late \
    '[struck out 2027-04-10 by Rosa: undo] drive, 5 qt (noted 2027-04-10)' \
    "$(meterpost machine M7 --history --now 2027-04-11 | grep service | sed 's/.*Rosa  //')"
same no_page_for_people_has_a_word_for_programs 0 \
    "$({ meterpost due --now 2027-04-09; meterpost machine M12 --history; meterpost machine M7 --now 2027-04-10; } |
        grep -c -e 'coming-up' -e 'no-record')"
same the_record_says_whose_it_is 'Service record kept by Alder Works, as of 2027-04-11.' \
    "$(meterpost machine M7 --history --now 2027-04-11 | head -n 1 | cut -c 1-53)"
events() { meterpost calendar --now "$1" --json | jq -r '.events[] | select(.status == "confirmed").uid | split("@")[0]' | sort; }
before=$(events 2027-04-11)
say 2027-04-12 Ines 'M7 20, M12 90' >/dev/null
same an_event_is_the_same_one_while_its_service_is_to_come "$before" "$(events 2027-04-13)"
say 2027-04-14 Rosa 'M7 DONE 21 5qt' >/dev/null
same once_it_is_done_the_next_is_another 'M12-drive-7701 1' \
    "$(printf '%s\n%s\n' "$before" "$(events 2027-04-15)" | sort | uniq -d | tr '\n' ' ')$(events 2027-04-15 | grep -c M7)"
meterpost health --json >"$folder/health.json"
same health_without_a_daemon_is_a_fault '2 fault daemon' \
    "$? $(jq -r '"\(.status) \([.checks[] | select(.status == "fault") | .name] | join(" "))"' "$folder/health.json")"
same what_to_export_mistyped_gets_the_nearest 'meterpost: no service to export; did you mean services?' \
    "$(meterpost export service 2>&1)"
same what_to_import_mistyped_too 'meterpost: no swap to import; did you mean swaps?' \
    "$(meterpost import swap rows.csv 2>&1)"
same an_option_that_would_do_nothing_is_said '64 meterpost: due takes no --weeks; type: meterpost due [-c FILE]... [--json | --csv] [--now TIME]' \
    "$(meterpost due --weeks 3 >"$folder/said" 2>&1; echo "$? $(cat "$folder/said")")"
same a_plan_that_is_none_gets_those_there_are 'meterpost: no plan nope
M12 has: drive (Drive oil and filters)' "$(meterpost sheet M12 nope 2>&1)"
same the_sheet_is_that_of_the_plan_that_stands_worst 'drive' "$(meterpost sheet M12 --json | jq -r .plan)"
same csv_and_json_say_the_same "$(meterpost export readings | sed 1d | cut -d , -f 1-2 | tr , ' ')" \
    "$(meterpost export readings --json | jq -r '.rows[] | "\(.machine) \(.hours)"')"
same help_for_a_verb_is_the_same_either_way "$(meterpost due --help)" "$("$program" help due)"
same the_version_is_that_of_its_one_definition "0 meterpost $(sed -n 's/^#define VERSION_TEXT "\(.*\)"/\1/p' daemon/ground/version.h)" \
    "$("$program" --version >"$folder/said"; echo "$? $(cat "$folder/said")")"
same version_is_a_verb_as_well "$("$program" --version)" "$("$program" version)"
same the_help_names_it 1 "$("$program" help | grep -c -e 'meterpost version')"
same options_stand_before_the_verb_or_behind "$(meterpost due --now 2027-04-09 --json)" \
    "$("$program" --now 2027-04-09 -c "$folder/yard.conf" --json due)"
same options_stand_between_words_too "$(meterpost sheet M12 drive --json)" \
    "$("$program" sheet M12 -c "$folder/yard.conf" drive --json)"
same json_and_csv_are_not_asked_for_at_once '64 meterpost: --json or --csv, not both' \
    "$(meterpost due --json --csv >"$folder/said" 2>&1; echo "$? $(cat "$folder/said")")"
same a_help_that_is_asked_for_is_no_mistake '0 64' \
    "$("$program" --help >/dev/null; echo $?) $("$program" 2>/dev/null; echo $?)"
same a_mistyped_verb_gets_the_nearest_one 'meterpost: no verb "duo"; did you mean "due"?' \
    "$("$program" duo 2>&1)"
# A box that has meterpost installed has the file.
if [ ! -e /etc/meterpost.conf ]; then
    same each_verb_says_that_the_config_file_is_the_default '78 1 78 1 78 1 3 1' \
        "$(for verb in due check run health; do
            "$program" "$verb" >"$folder/said" 2>&1
            printf '%s %s ' $? "$(grep -c 'name yours so' "$folder/said")"
        done | sed 's/ $//')"
fi
exit "$status"
