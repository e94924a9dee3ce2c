#!/bin/sh
# SPDX-License-Identifier: MIT
# Import by its front door: what goes in, what is refused with its line, and that it is all or
# nothing. Files come from Python's csv writer as well as by hand. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-import-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh
. tests/sample_yard.sh

sample_yard one
sample_yard two
import() { # kind, text of the file, options
    kind=$1
    printf "$2" >"$folder/rows.csv"
    shift 2
    "$program" import "$kind" "$folder/rows.csv" -c "$folder/one.conf" --now 2027-04-10 "$@" 2>&1 |
        sed "s|$folder/||g"
}
count() { sqlite3 "$folder/$1.db" "SELECT count(*) FROM $2"; }

head=machine,hours,read_at
good="$head,person,remark\r\nM12,1340.5,2027-03-14T07:00:00-07:00,Ines,\"low, \"\"left\"\" tyre\"\r\nm-12,1350,2027-03-16,,\r\n"
same it_is_tried_first 'rows.csv: 2 readings to add, 0 on record already, 0 struck out and left out.
Understood
  machine    from "machine"
  hours      from "hours"
  read_at    from "read_at"
  person     from "person"
  remark     from "remark"
  line 2: M12 1340.5h on 2027-03-14 07:00
  line 3: M12 1350h on 2027-03-16 00:00
Nothing was changed. To do it, type the same with --apply.' "$(import readings "$good")"
same a_trial_creates_nothing '' "$(ls "$folder" | grep '\.db')"
same with_apply_it_is_done 'rows.csv: 2 readings added, 0 on record already, 0 struck out and left out.' \
    "$(import readings "$good" --apply)"
same the_rows_are_on_record '134050|Ines|low, "left" tyre
135000||' "$(sqlite3 "$folder/one.db" 'SELECT meter_hundredths, name, remark FROM readings
    LEFT JOIN people ON people.id = person_id ORDER BY read_s')"
same a_second_time_adds_nothing 'rows.csv: 0 readings added, 2 on record already, 0 struck out and left out.' \
    "$(import readings "$good" --apply)"
same bare_line_feeds_are_fine '1 readings to add' \
    "$(import readings "$head\nM14,10,2027-03-14\n" | grep -o '1 readings to add')"

services='machine,plan,hours,done_at,person,quantity,unit,remark\r\nM12,drive,1345,2027-03-15,Rosa,4.75,qt,\r\n'
same services_go_in_too 'rows.csv: 1 services added, 0 on record already, 0 struck out and left out.' \
    "$(import services "$services" --apply)"
same a_service_counts_from_then_on 'M12 1845' "$("$program" due -c "$folder/one.conf" --now 2027-04-10 --json |
    jq -r '.rows[] | select(.machine == "M12" and .plan == "drive") | "\(.machine) \(.due_hours)"')"

# Each mistake with its line, and nothing imported.
bad() { # NAME EXPECTED table text
    before=$(count one "$3")
    same "$1" "$2" "$(import "$(echo "$3" | sed s/meter_changes/swaps/)" "$4" --apply | head -n 1)"
    same "$1, and nothing is imported" "$before" "$(count one "$3")"
}
bad a_machine_mistyped 'rows.csv:3: no machine M21; did you mean M12?' readings "$head\nM12,1351,2027-03-17\nM21,5,2027-03-14\n"
bad a_plan_mistyped 'rows.csv:2: no plan drve; did you mean drive?' services 'machine,plan,hours,done_at\nM12,drve,5,2027-03-14\n'
bad a_plan_of_another_kind 'rows.csv:2: no plan belts; TR-9 has: drive' services 'machine,plan,hours,done_at\nTR-9,belts,5,2027-03-14\n'
bad a_person_mistyped 'rows.csv:2: no person Inez; did you mean Ines?' readings "$head,person\nM12,1351,2027-03-17,Inez\n"
bad a_person_who_has_left 'rows.csv:2: no person Bartholomew in the config; for one who has left leave the cell empty' readings "$head,person\nM12,1351,2027-03-17,Bartholomew\n"
bad hours_that_are_none 'rows.csv:2: hours "13x40" are no figure such as 1340 or 1340.5' readings "$head\nM12,13x40,2027-03-17\n"
bad hours_that_may_be_two_figures 'rows.csv:2: hours "1,351" can be two figures; write them without a mark for thousands, or with a decimal: 1340 or 1340.0' readings "$head\nM12,\"1,351\",2027-03-17\n"
bad hours_that_the_meter_cannot_show 'rows.csv:2: hours 13510 are more than the meter of M12 can show' readings "$head\nM12,13510,2027-03-17\n"
bad a_time_that_is_none 'rows.csv:2: "17/3/27" is no time; write it like 2027-03-14T07:00:00-07:00 or 2027-03-14, or with the month first (shop.date_order) like 3/14/2027' readings "$head\nM12,1351,17/3/27\n"
bad a_time_to_come 'rows.csv:2: 2027-04-11 is still to come' readings "$head\nM12,1351,2027-04-11\n"
bad a_day_in_the_other_order 'rows.csv:2: 05.03.2027, the month first (shop.date_order), is still to come' readings "$head\nM12,1351,05.03.2027\n"
bad a_quantity_that_is_none 'rows.csv:2: quantity "some" is no figure such as 5 or 4.75' services 'machine,plan,hours,done_at,quantity\nM12,drive,1351,2027-03-17,some\n'
bad a_figure_below_the_one_before 'rows.csv:2: M12 1339h does not fit: the reading before it in time is 1340.5h (a slip; or the meter was replaced: import swaps first)' \
    readings "$head\nM12,1339,2027-03-15\n"
bad a_figure_above_the_one_after 'rows.csv:3: M12 1341h does not fit: the reading after it in time is 1340.5h (a slip; or the meter was replaced: import swaps first)' \
    readings "$head\nM14,5,2027-03-15\nM12,1341,2027-03-13\n"
bad a_column_mistyped 'rows.csv:1: no column is plainly machine; say which: --columns "machine=mashine"; our own go like: machine,hours,read_at,person,remark' readings 'mashine,hours,read_at\nM12,1351,2027-03-17\n'
bad a_column_missing 'rows.csv:1: no column is plainly read_at; say which: --columns "read_at=HEADING"; our own go like: machine,hours,read_at,person,remark' \
    readings 'machine,hours\nM12,1351\n'
bad a_column_twice 'rows.csv:1: the column hours is there twice' readings "$head,hours\nM12,1351,2027-03-17,1\n"
bad a_row_too_short 'rows.csv:3: 2 cells, where the first line has 3' readings "$head\nM12,1351,2027-03-17\nM12,1352\n"
bad a_quote_left_open 'rows.csv:3: the quote that opens here is never closed' readings "$head\nM12,1351,2027-03-17\nM12,\"1352,2027-03-18\n"
bad an_empty_file 'rows.csv:1: the file is empty; its first line names the columns' readings ''
bad two_columns_that_could_be_the_hours 'rows.csv:1: both "Hours" and "Reading" could be hours; say which: --columns "hours=Reading"' \
    readings 'Unit,Hours,Reading,Date\nM12,1,1351,2027-03-17\n'
bad a_file_of_a_spreadsheet_itself "meterpost: rows.csv is a spreadsheet's own file; in the program that made it choose Save as, CSV (UTF-8), and import that" \
    readings 'PK\003\004'
bad a_picture "meterpost: rows.csv is a picture; in the program that made it choose Save as, CSV (UTF-8), and import that" \
    readings '\211PNG\r\n\032\n\000'
bad a_page_called_a_table "meterpost: rows.csv is a page; in the program that made it choose Save as, CSV (UTF-8), and import that" \
    readings '<HTML><table>'
bad a_text_without_any_table 'rows.csv:1: no column is plainly machine; say which: --columns "machine=HEADING"; our own go like: machine,hours,read_at,person,remark' \
    readings 'hello there this is\nno table at all\n'
bad a_meter_of_kilometres 'rows.csv:1: no column is plainly hours; say which: --columns "hours=HEADING"; our own go like: machine,hours,read_at,person,remark' \
    readings 'Unit,Meter (km),Date\nM12,1351,2027-03-17\n'
bad two_columns_that_could_be_the_machine 'rows.csv:1: both "Unit" and "Machine" could be machine; say which: --columns "machine=Machine"' \
    readings 'Unit,Machine,Hours,Date\nM12,M14,1351,2027-03-17\n'
bad two_columns_that_could_be_the_day 'rows.csv:1: both "Date" and "Date Read" could be read_at; say which: --columns "read_at=Date Read"' \
    readings 'Date,Date Read,Unit,Hours\n2027-03-17,2027-03-18,M12,1351\n'
bad a_weekday_of_another_day 'rows.csv:2: "Mon 3/17/2027" is no time; write it like 2027-03-14T07:00:00-07:00 or 2027-03-14, or with the month first (shop.date_order) like 3/14/2027' \
    readings "$head\nM12,1351,Mon 3/17/2027\n"
bad two_times_of_the_day 'rows.csv:2: "2027-03-17T07:00:00Z 07:05" is no time; write it like 2027-03-14T07:00:00-07:00 or 2027-03-14, or with the month first (shop.date_order) like 3/14/2027' \
    readings "$head,Time\nM12,1351,2027-03-17T07:00:00Z,07:05\n"
bad a_carriage_return_alone 'rows.csv:1: there is a control character that CSV has no place for (a carriage return alone, or NUL); save it as CSV again' \
    readings "$head\rM14,10,2027-03-14\r"
bad a_file_of_wide_characters 'rows.csv:1: this is UTF-16 ("Unicode text"); save it as CSV (UTF-8), or convert it: iconv -f UTF-16 -t UTF-8 OLD > NEW' readings '\377\376m\000'
bad control_characters_are_shown_safe 'rows.csv:2: no machine \x1B[2J' readings "$head\n\033[2J,5,2027-03-14\n"

# What spreadsheets make of it: a mark in front, semicolons or tabs, lines that end in two ways, blank rows
# and columns, headings and figures as people write them.
same a_mark_and_lines_that_end_in_two_ways_are_fine '1 readings to add' \
    "$(import readings "\357\273\277$head\r\nM14,10,2027-03-14\n" | grep -o '1 readings to add')"
same a_spreadsheet_is_taken_as_it_is 'rows.csv: 2 readings to add, 0 on record already, 0 struck out and left out.
Understood
  machine    from "Unit"
  hours      from "Hour Meter (h)"
  read_at    from "Date", the month before the day
  person     from "Operator"
  remark     from "Notes"
  passed over: "Colour"
  line 2: M12 1360.5h on 2027-03-18 19:05
  line 5: M14 85h on 2027-03-20 08:00' "$(import readings 'Date;Unit;Colour;Hour Meter (h);Operator;;Notes\r\n3/18/2027 7:05 PM;M12;red;1,360.5 h;Tom;;low tyre\n\n;;;;;;\n2027-03-20 08:00;m-14;red;85 hrs;;;\n' | sed '$d')"
same so_is_one_in_spanish_with_tabs '  line 2: M12 drive 575h on 2027-03-14 00:00, 5 qt' \
    "$(import services 'Equipo\tServicio\tHoras\tFecha\tAceite\nM12\tdrive\t575\t3/14/2027\t5 qt\n' | grep 'line 2')"
same what_is_not_plain_is_named '  line 2: M12 1351h on 2027-03-17 00:00' \
    "$(import readings 'Unit,Hours,Reading,Date\nM12,1,1351,2027-03-17\n' --columns hours=Reading | grep 'line 2')"
# Each heading is made of the words that people use, run together or not.
while IFS='|' read -r headings row; do
    same "read_under: $headings" '  line 2: M12 1351h on 2027-03-17 00:00' \
        "$(import readings "$headings\n$row\n" | grep 'line 2')"
done <<'END'
Asset #,Current Reading (hrs),Reading Date,Operator Name|12,1351,3/17/2027,Ines
Mower No.,Hr Meter,Date Read,Read By|#12,1351,3/17/2027,
EQUIPMENT_ID,CURRENT_ENGINE_HOURS,DATE_OF_READING|M12,1351,2027-03-17
Date and Time,EquipmentNumber,MachineHours|2027-03-17,m 12,1351
Numero de unidad;Lectura del horometro;Fecha de la lectura|M12;1351;2027-03-17
Numéro d'engin;Heures du moteur;Date du relevé|M12;1351;2027-03-17
END
bad a_last_service_is_no_reading 'rows.csv:1: no column is plainly hours; say which: --columns "hours=HEADING"; our own go like: machine,hours,read_at,person,remark' \
    readings 'Machine,Last service hours,Date\nM12,1351,2027-03-17\n'
bad a_number_of_no_machine 'rows.csv:2: no machine 13' readings "$head\n13,1351,2027-03-17\n"
printf "$head\nM14,10,2027-03-14\n" >"$folder/rows.csv"
import readings 'machine\n' >/dev/null
"$program" import readings "$folder/rows.csv" -c "$folder/one.conf" >/dev/null 2>&1
same mistakes_in_the_file_are_said_in_the_exit_status 65 $?
"$program" import readings "$folder/none.csv" -c "$folder/one.conf" >/dev/null 2>&1
same a_file_that_is_not_there_too 66 $?
"$program" import texts "$folder/rows.csv" -c "$folder/one.conf" >/dev/null 2>&1
same texts_cannot_be_imported 64 $?

same a_row_twice_in_the_file_and_once_on_record '1 readings to add, 3 on record already' \
    "$(import readings "$head\nM12,1350,2027-03-16\nM12,1350,2027-03-16\nM14,5,2027-03-16\nM14,5,2027-03-16\n" | grep -o '1 readings to add, 3 on record already')"

# Sheets as other programs write them, without editing: each row as it is read, or what is asked.
mkdir "$folder/sheets"
/usr/bin/python3 fixtures/sheets/make_sheets.py "$folder/sheets"
sed -e 's|date_order = "mdy"|date_order = "dmy"|' -e "s|/one.db|/none.db|" "$folder/one.conf" >"$folder/dmy.conf"
sed -e "s|/one.db|/none.db|" "$folder/one.conf" >"$folder/mdy.conf"
# sheet NAME ORDER OF DATES KIND: what was understood of it, a line each
sheet() {
    "$program" import "$3" "$folder/sheets/$1" -c "$folder/$2.conf" --now 2027-04-10 2>&1 |
        sed -n -e "s|^$folder/sheets/$1:\([0-9]\)|\1|p" -e 's/^  line //p' -e 's/^  the headings stand in line \(.\).*/headings \1/p'
}
same titles_above_the_headings 'headings 4
5: M12 1340.5h on 2027-03-14 00:00
6: M14 12h on 2027-03-15 00:00' "$(sheet titles mdy readings)"
same a_sum_below_is_no_machine '4: no machine Total
4: the day is missing' "$(sheet totals mdy readings)"
same in_french '2: M12 1340.5h on 2027-03-14 00:00
3: M14 12.25h on 2027-03-15 00:00' "$(sheet french dmy readings)"
same in_spanish '2: M12 1340.5h on 2027-03-14 00:00
3: M14 12h on 2027-03-15 00:00' "$(sheet spanish dmy readings)"
same in_spanish_of_another_encoding '1: there is text that is not UTF-8; save it as UTF-8, or convert it: iconv -f WINDOWS-1252 -t UTF-8 OLD > NEW' \
    "$(sheet spanish1252 dmy readings)"
same as_unicode_text '1: this is UTF-16 ("Unicode text"); save it as CSV (UTF-8), or convert it: iconv -f UTF-16 -t UTF-8 OLD > NEW' \
    "$(sheet utf16 mdy readings)"
same the_time_of_the_day_apart '2: M12 1340.5h on 2027-03-14 07:05
3: M12 1348h on 2027-03-14 17:40' "$(sheet twocols mdy readings)"
same days_with_their_names '2: M12 1340.5h on 2027-03-14 00:00
3: M14 12h on 2027-03-15 00:00
4: TR-9 300h on 2027-03-16 00:00' "$(sheet daynames mdy readings)"
same days_with_their_names_in_french '2: M12 1340.5h on 2027-03-14 00:00
3: M14 12h on 2027-03-15 00:00' "$(sheet dayfr dmy readings)"
same hours_and_minutes '2: M12 1340.5h on 2027-03-14 00:00
3: M14 12.25h on 2027-03-15 00:00' "$(sheet minutes mdy readings)"
same a_line_that_names_the_separator '3: M12 1340.5h on 2027-03-14 00:00' "$(sheet sep mdy readings | tail -n 1)"
same cells_that_are_kept_from_being_reckoned '2: M12 1340.5h on 2027-03-14 00:00
3: M14 12h on 2027-03-15 00:00' "$(sheet quoted mdy readings)"
same cells_that_were_one '3: the machine is missing' "$(sheet merged mdy readings)"
same days_as_numbers "2: 46460 is a spreadsheet's own number of a day: show the column as dates there, and save it again" \
    "$(sheet serial mdy readings)"
same machines_side_by_side '1: no column is plainly machine; say which: --columns "machine=HEADING"; our own go like: machine,hours,read_at,person,remark
1: no column is plainly hours; say which: --columns "hours=HEADING"; our own go like: machine,hours,read_at,person,remark' \
    "$(sheet pivot mdy readings)"
same hours_at_the_start_and_the_end '1: no column is plainly hours; say which: --columns "hours=HEADING"; our own go like: machine,hours,read_at,person,remark' \
    "$(sheet startend mdy readings)"
same an_apostrophe_for_thousands '2: M12 1340.5h on 2027-03-14 00:00' "$(sheet swiss mdy readings | grep M12)"
same more_decimals_than_a_meter_has '2: hours "1340.4999999998" are no figure such as 1340 or 1340.5' \
    "$(sheet floats mdy readings)"
same the_other_order_of_day_and_month '2: "14/03/2027" is no time; write it like 2027-03-14T07:00:00-07:00 or 2027-03-14, or with the month first (shop.date_order) like 3/14/2027' \
    "$(sheet dmy mdy readings)"
same names_of_a_database '2: M12 1340.5h on 2027-03-13 23:05
3: M14 12h on 2027-03-14 07:05' "$(sheet iso mdy readings)"
same a_service_by_its_title '2: M12 drive 1340.5h on 2027-03-14 00:00, 5 qt' "$(sheet service mdy services)"
same the_unit_of_the_heading '2: M12 drive 1340.5h on 2027-03-14 00:00, 4.75 l' "$(sheet servicees dmy services)"

# Whoever holds the ledger's lock file is taken for the daemon.
beside_a_daemon() {
    flock "$folder/one.db.lock" "$program" import readings "$folder/rows.csv" -c "$folder/one.conf" \
        --now 2027-04-10 "$@" 2>&1 | sed "s|meterpost: ||; s|$folder/||g"
}
printf "$good" >"$folder/rows.csv"
before=$(cksum "$folder"/one.db*)
same a_trial_works_beside_the_daemon 'rows.csv: 0 readings to add, 2 on record already, 0 struck out and left out.' \
    "$(beside_a_daemon | head -n 1)"
same and_leaves_every_octet_as_it_was "$before" "$(cksum "$folder"/one.db*)"
same with_a_clock_of_its_own_it_wants_the_ledger_alone 'one.db: another meterpost holds this ledger: ask the running daemon, or stop it first (with --now import takes the ledger alone; without it the daemon does it)' \
    "$(beside_a_daemon --apply)"

# For programs.
json() { import "$@" --json | /usr/bin/python3 -c '
import json, sys
from jsonschema import Draft7Validator as Validator
said = json.load(sys.stdin)
for wrong in Validator(json.load(open("docs/schemas/import.json"))).iter_errors(said):
    print(wrong.message)
print(said["kind"], said["applied"], said["added"], said["already"], said["struck"], said["mistakes"])'; }
same a_trial_is_told_to_programs 'readings False 1 2 0 []' "$(json readings "${good}M14,10,2027-03-14,,\r\n")"
same what_was_done_too 'readings True 1 0 0 []' "$(json readings "$head\nM14,10,2027-03-14\n" --apply)"
same mistakes_too "readings False 0 0 0 [{'line': 2, 'says': 'no machine M21; did you mean M12?'}, {'line': 3, 'says': '\"soon\" is no time; write it like 2027-03-14T07:00:00-07:00 or 2027-03-14, or with the month first (shop.date_order) like 3/14/2027'}]" \
    "$(json readings "$head\nM21,5,2027-03-14\nM12,5,soon\n" --apply)"
same mistakes_in_the_order_of_time_too "readings False 0 0 0 [{'line': 2, 'says': 'M12 5h does not fit: the reading before it in time is 1350h (a slip; or the meter was replaced: import swaps first)'}]" \
    "$(json readings "$head\nM12,5,2027-03-20\n")"

# Changes of meter and spells laid up.
swaps=machine,old_hours,new_hours,swapped_at
parkings=machine,what,at
same a_swap_goes_in 'rows.csv: 1 swaps added, 0 on record already, 0 struck out and left out.' \
    "$(import swaps "$swaps\nM14,500,3,2027-03-20\n" --apply)"
same and_is_on_record_then 'rows.csv: 0 swaps added, 1 on record already, 0 struck out and left out.' \
    "$(import swaps "$swaps\nM14,500,3,2027-03-20\n" --apply)"
same what_the_new_meter_shows_fits_now 'rows.csv: 1 readings added, 0 on record already, 0 struck out and left out.' \
    "$(import readings "$head\nM14,13,2027-03-21\n" --apply)"
same true_hours_count_both_meters '13 510' "$("$program" machine M14 -c "$folder/one.conf" --now 2027-04-10 --json |
    jq -r '[.record[] | select(.what == "reading")] | last | "\(.hours) \(.true_hours)"')"
bad a_swap_below_what_was_read_before 'rows.csv:2: M12 1300h does not fit: the reading before it in time is 1350h (a slip; or the meter was replaced: import swaps first)' \
    meter_changes "$swaps\nM12,1300,0,2027-03-20\n"
bad a_swap_above_what_was_read_since 'rows.csv:2: M14 20h does not fit: the reading after it in time is 13h (a slip; or the meter was replaced: import swaps first)' \
    meter_changes "$swaps\nM14,20,20,2027-03-20T12:00:00-07:00\n"
bad a_swap_that_ends_below_its_beginning 'rows.csv:3: TR-9: the old meter ends below the figure that it began with' \
    meter_changes "$swaps\nTR-9,700,100,2027-03-18\nTR-9,50,0,2027-03-19\n"
same a_spell_goes_in 'rows.csv: 2 parkings added, 0 on record already, 0 struck out and left out.' \
    "$(import parkings "$parkings\nM12,back,2027-04-02\nM12,Parked,2027-03-25\n" --apply)"
same and_is_on_record_as_well 'rows.csv: 0 parkings added, 2 on record already, 0 struck out and left out.' \
    "$(import parkings "$parkings\nM12,back,2027-04-02\nM12,parked,2027-03-25\n" --apply)"
bad a_spell_within_another 'rows.csv:2: M12 is laid up then, as the record has it' parkings "$parkings\nM12,parked,2027-03-27\n"
bad back_from_nowhere 'rows.csv:2: M14 is not laid up then' parkings "$parkings\nM14,back,2027-03-27\n"
bad laid_up_twice 'rows.csv:3: M14 is laid up already, and not back until then' \
    parkings "$parkings\nM14,parked,2027-03-27\nM14,parked,2027-03-28\n"
bad neither_of_the_two_words 'rows.csv:2: "gone" is neither parked nor back' parkings "$parkings\nM14,gone,2027-03-27\n"
import parkings "$parkings\nM14,parked,2027-04-03\n" --apply >/dev/null
same remarks_that_a_spreadsheet_would_reckon_go_in 'rows.csv: 3 readings added, 0 on record already, 0 struck out and left out.' \
    "$(import readings "$head,remark\nTR-9,201,2027-03-01,'=1+1\nTR-9,202,2027-03-02,\"''@x, \"\"y\"\"\"\nTR-9,203,2027-03-03,\"two\nlines \033[2J\"\n" --apply)"

# What goes out comes in again elsewhere, and goes out the same.
for kind in swaps readings services parkings; do
    "$program" export "$kind" -c "$folder/one.conf" >"$folder/one-$kind.csv"
    "$program" import "$kind" "$folder/one-$kind.csv" --apply -c "$folder/two.conf" --now 2027-04-10 >/dev/null
    "$program" export "$kind" -c "$folder/two.conf" >"$folder/two-$kind.csv"
    same "what_was_exported_comes_in_the_same: $kind" "$(cat "$folder/one-$kind.csv")" "$(cat "$folder/two-$kind.csv")"
done
due() { "$program" due -c "$folder/$1.conf" --now 2027-04-10 --json; }
same and_every_machine_stands_the_same "$(due one)" "$(due two)"
same there_was_something_to_carry_over 'parked 3 swapped 1 guarded 2' \
    "parked $(grep -c -e parked -e back "$folder/two-parkings.csv") swapped $(grep -c M14 "$folder/two-swaps.csv") guarded $(grep -c "\"'" "$folder/two-readings.csv")"

# The same for what texts have made, corrections among them.
sample_yard three
sample_yard four
day=1
while read -r person text; do
    day=$((day + 1))
    "$program" text -c "$folder/three.conf" --now "2027-03-$(printf %02d "$day")T12:00:00-08:00" --as "$person" "$text" >/dev/null
done <<'END'
Ines M12 1340.5h =left tyre, "low"
Tom TR-9 300
Tom TR-9 3050
Tom yes
Ines M12 1345 yesterday
Rosa M12 DONE belts 1346
Rosa M12 DONE drive 1347 5qt
Rosa UNDO
Rosa M12 DONE drive 1347.2 4.75qt
Rosa TR-9 DONE 306 5qt
Rosa TR-9 FIX 306.5
Rosa TR-9 SWAP 307 2
Tom TR-9 12
Rosa M14 PARK
Rosa M14 BACK
Rosa M14 PARK
Ines M12 1391
END
for kind in swaps readings services parkings; do
    "$program" export "$kind" -c "$folder/three.conf" >"$folder/three-$kind.csv"
    "$program" import "$kind" "$folder/three-$kind.csv" --apply -c "$folder/four.conf" --now 2027-04-10 >/dev/null
done
same what_texts_have_made_stands_the_same_elsewhere "$(due three)" "$(due four)"
same each_kind_was_there 'swaps 1 readings 10 services 3 parkings 3' \
    "$(for kind in swaps readings services parkings; do
        echo "$kind $("$program" export "$kind" -c "$folder/four.conf" | sed 1d | wc -l)"
    done | tr '\n' ' ' | sed 's/ $//')"
/usr/bin/python3 - >"$folder/python.csv" <<'END'
import csv, sys
rows = csv.writer(sys.stdout)
rows.writerow(["read_at", "remark", "hours", "machine"])
for day in range(1, 29):
    rows.writerow(["2027-02-%02d" % day, 'line "one",\nline two', 100 + day / 4, "TR-9"])
END
same what_another_writer_wrote_comes_in 'python.csv: 28 readings added, 0 on record already, 0 struck out and left out.' \
    "$("$program" import readings "$folder/python.csv" --apply -c "$folder/two.conf" --now 2027-04-10 2>&1 | sed "s|$folder/||")"
exit "$status"
