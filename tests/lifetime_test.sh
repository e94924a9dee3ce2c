#!/bin/sh
# SPDX-License-Identifier: MIT
# A record for a lifetime: whatever texts have made of machines, in random order, goes out as a record
# and into an empty ledger, and is the same there to the row; twice in is once, and a machine with another
# record is not mixed with it. SEED begins the random histories. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-lifetime-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh

# The intervals are common practice, no source; the yard is invented.
yard() {
    cat >"$folder/$1.conf" <<END
ledger = "$folder/$1.db";
door = "$folder/$1-door";
shop: { name = "Alder Works"; number = "+12065550100"; time_zone = "America/Los_Angeles"; };
plans: ( { name = "drive"; title = "Drive oil"; first = 75.0; every = 500.0; months = 12; recheck_after = 5.0; },
         { name = "belts"; title = "Belts"; first = 100.0; every = 100.0; } );
kinds: ( { name = "ridge-60"; plans = ("drive", "belts"); hours_per_week = 30.0; } );
people: ( { name = "Ines"; phone = "+12065550110"; role = "crew"; },
          { name = "Rosa"; phone = "+12065550111"; role = "shop"; } );
machines: ( { name = "M7"; kind = "ridge-60"; crew = ("Ines"); },
            { name = "M12"; kind = "ridge-60"; crew = ("Ines"); } );
END
}

# history NUMBER: texts of some months, a line each: day, who, what.
history() {
    /usr/bin/python3 - "$1" <<'END'
import random, sys
random.seed(int(sys.argv[1]))
meter = {"M7": 20.0, "M12": 900.0}
day = 1
for _ in range(45):
    day += random.choice((0, 0, 1, 2, 3))
    m = random.choice(("M7", "M12"))
    figure = lambda most: round(meter[m] + random.uniform(0.2, most), 1)
    kind = random.choice(("read", "read", "read", "read", "done", "done", "park", "back", "later", "trouble", "danger",
                          "solved", "book", "in", "out", "undo", "fix", "swap", "remark", "gone", "returned"))
    if kind == "read":
        meter[m] = figure(9)
        print(day, "Ines", m, "%.1fh" % meter[m] + random.choice(("", "", " blades, sharp", " seat =1+1 \"new\"")))
        continue
    if kind == "swap":
        print(day, "Rosa", m, "SWAP %.1f 0" % meter[m])
        meter[m] = 0.0
        continue
    print(day, "Rosa", {
        "done": f"{m} DONE {random.choice(('drive', 'belts'))} {figure(0.5)} {random.choice(('', '5qt', '4.7 l'))}",
        "park": f"{m} PARK", "back": f"{m} BACK", "later": f"{m} LATER {random.randint(1, 9)}",
        "trouble": f"{m} oil leak left side", "danger": f"{m} no brakes", "solved": f"{m} SOLVED new hose",
        "book": f"{m} BOOK 2027-12-{random.randint(10, 20)}", "in": f"{m} IN", "out": f"{m} OUT",
        "undo": "UNDO", "fix": f"{m} FIX {figure(1)}", "remark": f"{m} looks fine, washed",
        "gone": f"{m} GONE", "returned": f"{m} BACK"}[kind])
END
}

seed=${SEED:-20270314}
for number in 1 2 3 4; do
    yard from
    yard to
    rm -f "$folder"/from.db* "$folder"/to.db*
    history $((seed + number)) | while read -r day who text; do
        at=$(date -u -d "@$((1799085600 + day * 86400))" +%Y-%m-%dT%H:%M:%SZ) # 2027-01-04 18:00
        "$program" text -c "$folder/from.conf" --now "$at" --as "$who" "$text" >/dev/null
    done
    # Movements, one of them taken back.
    sqlite3 "$folder/from.db" "INSERT INTO movements (machine_id, what, day, at_s, person_id, struck_s, struck_by, struck_why)
        SELECT m.id, column1, column2, column3 + m.id, p.id, column4, iif(column4 IS NULL, NULL, p.id), column5
        FROM machines m, people p, (VALUES ('book', 20900, 1805000000, NULL, NULL), ('in', NULL, 1805100000, NULL, NULL),
            ('out', NULL, 1805100000, 1805100050, 'undo'), ('out', NULL, 1805100000, NULL, NULL),
            ('gone', 20902, 1805200000, NULL, NULL), ('gone', NULL, 1805300000, NULL, NULL), ('back', NULL, 1805400000, NULL, NULL))
        WHERE p.name = 'Rosa'"
    ask() { "$program" "$@" --now 2027-12-01; }
    "$program" export record -c "$folder/from.conf" >"$folder/record.csv"
    ask import record "$folder/record.csv" --apply -c "$folder/to.conf" >"$folder/said" 2>&1
    "$program" export record -c "$folder/to.conf" >"$folder/again.csv"
    same "the_record_is_the_same_to_the_row: seed $((seed + number))" "$(cat "$folder/record.csv")" "$(cat "$folder/again.csv")"
    same "and_each_machine_stands_the_same: seed $((seed + number))" \
        "$(for m in M7 M12; do ask machine $m --json -c "$folder/from.conf"; done; ask due --json -c "$folder/from.conf")" \
        "$(for m in M7 M12; do ask machine $m --json -c "$folder/to.conf"; done; ask due --json -c "$folder/to.conf")"
    /usr/bin/python3 -c 'import csv, sys
for row in csv.DictReader(sys.stdin):
    print(row["what"], "struck" if row["struck_at"] else "")' <"$folder/record.csv" >>"$folder/kinds"
done
same every_kind_of_line_was_there 'alert back booked danger gone in later meter out parked reading remark returned service solved trouble' \
    "$(cut -d ' ' -f 1 "$folder/kinds" | sort -u | tr '\n' ' ' | sed 's/ $//')"
same lines_were_struck_out_among_them yes "$([ "$(grep -c struck "$folder/kinds")" -gt 20 ] && echo yes)"

# The last of them once more.
same twice_in_is_once "record.csv: 0 lines of a record added, $(sed 1d "$folder/record.csv" | /usr/bin/python3 -c 'import csv, sys; print(sum(1 for _ in csv.reader(sys.stdin)))') on record already, 0 struck out and left out." \
    "$(ask import record "$folder/record.csv" --apply -c "$folder/to.conf" | sed "s|$folder/||")"
(sed 1q "$folder/record.csv"; sed 1d "$folder/record.csv" | sort -r) >"$folder/sorted.csv"
yard to
rm -f "$folder"/to.db*
ask import record "$folder/sorted.csv" --apply -c "$folder/to.conf" >/dev/null 2>&1
same however_a_spreadsheet_has_sorted_it "$("$program" export readings -c "$folder/from.conf" | sort)" "$("$program" export readings -c "$folder/to.conf" | sort)"
"$program" text -c "$folder/from.conf" --now 2027-11-30T12:00:00-08:00 --as Ines 'M7 9000h' >/dev/null
"$program" text -c "$folder/from.conf" --now 2027-11-30T12:00:01-08:00 --as Ines 'YES' >/dev/null
"$program" export record M7 -c "$folder/from.conf" >"$folder/one.csv"
same the_record_of_one_machine_alone 'M7' "$(cut -d , -f 1 "$folder/one.csv" | sed 1d | grep '^M' | sort -u)"
printf 'machine,what,at,hours\r\nM7,reading,2027-01-01T00:00:00Z,5\r\n' >"$folder/other.csv"
same another_record_is_not_mixed_with_it '65 M7 has another record here: a whole record goes to a machine that has none' \
    "$(ask import record "$folder/other.csv" --apply -c "$folder/to.conf" >"$folder/said" 2>&1; echo $?) $(
        sed -n 's/^.*:[0-9]*: \(.*\); import .*/\1/p' "$folder/said")"
bad() { # NAME SAYS ROW
    printf 'machine,what,at,hours,plan,cycle,stage,quantity,unit\r\n%s\r\n' "$3" >"$folder/bad.csv"
    same "$1" "65 $2" "$(ask import record "$folder/bad.csv" --apply -c "$folder/to.conf" >"$folder/said" 2>&1; echo $?) $(sed -n 's/^.*bad.csv:2: //p' "$folder/said")"
}
bad a_kind_that_is_none 'a record has no such line' 'X1,repaired,2027-01-01T00:00:00Z,5'
bad a_time_that_is_none 'at: "yesterday" is none' 'X1,reading,yesterday,5'
bad a_time_to_come 'that is still to come' 'X1,reading,2028-01-01T00:00:00Z,5'
bad hours_that_are_none 'hours: "5x" is none' 'X1,reading,2027-01-01T00:00:00Z,5x'
bad hours_that_are_missing 'the hours are missing' 'X1,reading,2027-01-01T00:00:00Z'
bad a_plan_that_is_missing 'the plan is missing' 'X1,service,2027-01-01T00:00:00Z,5'
bad a_unit_that_is_none 'the unit is neither qt nor l' 'X1,service,2027-01-01T00:00:00Z,5,drive,,,4,gal'
bad a_name_too_long 'no machine can be called so' 'a-very-long-name-of-one,reading,2027-01-01T00:00:00Z,5'
printf 'at,hours\r\n2027-01-01T00:00:00Z,5\r\n' >"$folder/bad.csv"
same columns_that_are_missing 'no column is called machine; no column is called what; ' \
    "$(ask import record "$folder/bad.csv" -c "$folder/to.conf" 2>&1 | sed -n 's/^.*bad.csv:1: \([^;]*;\) .*/\1/p' | tr '\n' ' ')"
printf 'machine,what,at,hours\r\nOLD-1,reading,2027-01-01T00:00:00Z,5\r\n' >"$folder/old.csv"
same a_machine_that_the_config_has_no_more_comes_too 'OLD-1 is not in the config: its record is kept under that name.|old.csv: 1 lines of a record added, 0 on record already, 0 struck out and left out.' \
    "$(ask import record "$folder/old.csv" --apply -c "$folder/to.conf" | sed "s|$folder/||" | paste -sd '|')"
exit "$status"
