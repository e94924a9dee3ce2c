#!/bin/sh
# SPDX-License-Identifier: MIT
# Import by its front door: what goes in, what is refused with its line, and that it is all or
# nothing. Files come from Python's csv writer as well as by hand. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-import-XXXXXX)
trap 'rm -rf "$folder"' EXIT
status=0

# same NAME EXPECTED FOUND
same() {
    echo "[ RUN      ] $1"
    if [ "$2" = "$3" ]; then
        echo "[       OK ] $1"
    else
        printf -- '--- expected\n%s\n--- found\n%s\n[  FAILED  ] %s\n' "$2" "$3" "$1"
        status=1
    fi
}

# yard LEDGER: the sample's yard on a ledger of its own
yard() {
    sed -e "s|^# ledger = .*|ledger = \"$folder/$1.db\";|" -e "s|^# door = .*|door = \"$folder/door\";|" \
        config/meterpost.conf >"$folder/$1.conf"
}
yard one
yard two
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
Nothing was changed. To do it, type the same with --apply.' "$(import readings "$good")"
same what_was_tried_is_taken_back 0 "$(count one readings)"
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
bad() { # NAME EXPECTED kind text
    before=$(count one "$3")
    same "$1" "$2" "$(import "$3" "$4" --apply | head -n 1)"
    same "$1, and nothing is imported" "$before" "$(count one "$3")"
}
bad a_machine_mistyped 'rows.csv:3: no machine M21; did you mean M12?' readings "$head\nM12,1351,2027-03-17\nM21,5,2027-03-14\n"
bad a_plan_mistyped 'rows.csv:2: no plan drve; did you mean drive?' services 'machine,plan,hours,done_at\nM12,drve,5,2027-03-14\n'
bad a_plan_of_another_kind 'rows.csv:2: no plan belts' services 'machine,plan,hours,done_at\nTR-9,belts,5,2027-03-14\n'
bad a_person_mistyped 'rows.csv:2: no person Inez; did you mean Ines?' readings "$head,person\nM12,1351,2027-03-17,Inez\n"
bad hours_that_are_none 'rows.csv:2: hours "13x40" are no figure such as 1340 or 1340.5' readings "$head\nM12,13x40,2027-03-17\n"
bad hours_that_may_be_two_figures 'rows.csv:2: hours "1,351" are no figure such as 1340 or 1340.5' readings "$head\nM12,\"1,351\",2027-03-17\n"
bad hours_that_the_meter_cannot_show 'rows.csv:2: hours 13510 are more than the meter of M12 can show' readings "$head\nM12,13510,2027-03-17\n"
bad a_time_that_is_none 'rows.csv:2: "3/17/27" is no time; write it like 2027-03-14T07:00:00-07:00 or 2027-03-14' readings "$head\nM12,1351,3/17/27\n"
bad a_time_to_come 'rows.csv:2: 2027-04-11 is still to come' readings "$head\nM12,1351,2027-04-11\n"
bad a_quantity_that_is_none 'rows.csv:2: quantity "some" is no figure such as 5 or 4.75' services 'machine,plan,hours,done_at,quantity\nM12,drive,1351,2027-03-17,some\n'
bad a_figure_below_the_one_before 'rows.csv:2: M12 1339h does not fit: the reading before it in time is 1340.5h (a slip, or another meter: then leave out what the old one showed)' \
    readings "$head\nM12,1339,2027-03-15\n"
bad a_figure_above_the_one_after 'rows.csv:3: M12 1341h does not fit: the reading after it in time is 1340.5h (a slip, or another meter: then leave out what the old one showed)' \
    readings "$head\nM14,5,2027-03-15\nM12,1341,2027-03-13\n"
bad a_column_mistyped 'rows.csv:1: no column mashine; did you mean machine?' readings 'mashine,hours,read_at\nM12,1351,2027-03-17\n'
bad a_column_missing 'rows.csv:1: the first line names no column read_at; it goes like: machine,hours,read_at,person,remark' \
    readings 'machine,hours\nM12,1351\n'
bad a_column_twice 'rows.csv:1: the column hours is there twice' readings "$head,hours\nM12,1351,2027-03-17,1\n"
bad a_row_too_short 'rows.csv:3: 2 cells, where the first line has 3' readings "$head\nM12,1351,2027-03-17\nM12,1352\n"
bad a_quote_left_open 'rows.csv:3: the quote that opens here is never closed' readings "$head\nM12,1351,2027-03-17\nM12,\"1352,2027-03-18\n"
bad an_empty_file 'rows.csv:1: the file is empty; its first line names the columns' readings ''
bad a_byte_order_mark "rows.csv:1: the file begins with a byte order mark; save it as UTF-8 without one, or take it off: sed -i '1s/^\\xEF\\xBB\\xBF//' FILE" \
    readings "\357\273\277$head\nM14,10,2027-03-14\n"
bad lines_that_end_in_two_ways 'rows.csv:3: this line ends otherwise than the lines before it (CR LF here, LF there); save it as CSV again' \
    readings "$head\r\nM14,10,2027-03-14\r\nM14,11,2027-03-15\n"
bad a_carriage_return_alone 'rows.csv:1: there is a control character that CSV has no place for (a carriage return alone, or NUL); save it as CSV again' \
    readings "$head\rM14,10,2027-03-14\r"
bad a_file_of_wide_characters 'rows.csv:1: there is text that is not UTF-8; save it as UTF-8, or convert it: iconv -f WINDOWS-1252 -t UTF-8 OLD > NEW' readings '\377\376m\000'
bad control_characters_are_shown_safe 'rows.csv:2: no machine \x1B[2J' readings "$head\n\033[2J,5,2027-03-14\n"

printf "\357\273\277$head\nM14,10,2027-03-14\n" >"$folder/rows.csv"
sed -i '1s/^\xEF\xBB\xBF//' "$folder/rows.csv"
same the_mark_is_off_as_the_message_says '1 readings to add' "$("$program" import readings "$folder/rows.csv" \
    -c "$folder/one.conf" --now 2027-04-10 2>&1 | grep -o '1 readings to add')"

import readings 'machine\n' >/dev/null
"$program" import readings "$folder/rows.csv" -c "$folder/one.conf" >/dev/null 2>&1
same mistakes_in_the_file_are_said_in_the_exit_status 65 $?
"$program" import readings "$folder/none.csv" -c "$folder/one.conf" >/dev/null 2>&1
same a_file_that_is_not_there_too 66 $?
"$program" import texts "$folder/rows.csv" -c "$folder/one.conf" >/dev/null 2>&1
same texts_cannot_be_imported 64 $?

# Whoever holds the ledger's lock file is taken for the daemon.
printf "$good" >"$folder/rows.csv"
same the_daemon_is_to_be_stopped_first 'one.db: another meterpost holds this ledger: ask the running daemon, or stop it first' \
    "$(flock "$folder/one.db.lock" "$program" import readings "$folder/rows.csv" -c "$folder/one.conf" --now 2027-04-10 2>&1 |
        sed "s|meterpost: ||; s|$folder/||g")"

# What goes out comes in again elsewhere, and goes out the same.
for kind in readings services; do
    "$program" export "$kind" -c "$folder/one.conf" >"$folder/one-$kind.csv"
    "$program" import "$kind" "$folder/one-$kind.csv" --apply -c "$folder/two.conf" --now 2027-04-10 >/dev/null
    "$program" export "$kind" -c "$folder/two.conf" >"$folder/two-$kind.csv"
    same "what_was_exported_comes_in_the_same: $kind" "$(cat "$folder/one-$kind.csv")" "$(cat "$folder/two-$kind.csv")"
done
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
