#!/bin/sh
# SPDX-License-Identifier: MIT
# What each verb prints with --json against its schema in docs/schemas, by python3-jsonschema, over a
# yard with every kind of statement in its history; and that the schemas are worth something: an
# unknown key, a missing one and a wrong word are found. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-schemas-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh
. tests/sample_yard.sh
. tests/judge.sh

sample_yard

day=1
while read -r person text; do
    day=$((day + 1))
    "$program" text -c "$folder/my.conf" --now "2027-03-$(printf %02d $day)T12:00:00-08:00" --as "$person" --json "$text"
done >"$folder/text" <<'END'
Ines M12 1340.5h left tyre low
Tom TR-9 300
Tom TR-9 3050
Tom yes
Ines M12 13420
Ines no
Tom M12 1345 yesterday
Rosa M12 DONE belts 1346
Rosa TR-9 DONE 306 5qt
Rosa TR-9 FIX 306.5
Rosa TR-9 SWAP 307 0
Rosa M12 LATER 7
Rosa M14 PARK
Rosa M14 BACK
Ines DUE
Ines UNDO
Ines what about that?
Ines HELP
Tom STOP
Tom START
Ines M99 12
Rosa M12?
END
same every_text_holds '22 hold' "$(judge text <"$folder/text")"
same every_kind_of_statement_was_there 16 "$(jq -r '.statements[].kind' "$folder/text" | sort -u | wc -l)"
# Trouble as the desk keeps it.
sqlite3 "$folder/my.db" "INSERT INTO troubles (machine_id, weight, since_s, person_id, words)
    SELECT (SELECT id FROM machines WHERE name = column1), column2, unixepoch('2027-03-20'), 1, 'a leak'
    FROM (VALUES ('M12', 1), ('TR-9', 2), ('M14', 0), (NULL, 2))"
say() { "$program" "$@" -c "$folder/my.conf" --json; }
same due_holds '1 hold' "$(say due --now 2027-04-01 | judge due)"
same machine_holds '3 hold' "$(for name in M12 M14 TR-9; do say machine "$name" --now 2027-04-01; done | judge machine)"
same stock_holds '1 hold' "$(say stock --now 2027-04-01 --weeks 52 | judge stock)"
same stock_says_what_was_used 1 "$(say stock --now 2027-04-01 --weeks 52 | jq '.used | length')"
same texts_holds '1 hold' "$(say texts --now 2027-04-01 --days 60 | judge texts)"
same health_holds '1 hold' "$(say health | judge health)"
same check_holds '1 hold' "$(say check --now 2027-04-01 | judge check)"
echo 'shop: { nam = "x"; };' >"$folder/bad.conf"
same check_holds_with_mistakes_too '1 hold' "$("$program" check -c "$folder/bad.conf" --json | judge check)"
printf 'machine,hours,read_at\nM12,1,2027-01-01\nM13,2,2027-01-02\n' >"$folder/rows.csv"
same import_holds '1 hold' "$(say import readings "$folder/rows.csv" | judge import)"
same export_holds '6 hold' "$(for kind in record readings services swaps parkings texts; do say export $kind; done | judge export)"
same sheet_holds '3 hold' "$(for name in M12 M14 TR-9; do say sheet $name --now 2027-04-01; done | judge sheet)"
same used_alone_holds '1 hold' "$(say stock --now 2027-04-01 --used | judge stock)"
same calendar_holds '1 hold' "$(say calendar --now 2027-04-01 | judge calendar)"
same board_holds '1 hold' "$(say board --now 2027-04-01 | judge board)"
same backup_holds '1 hold' "$(say backup "$folder/copy.db" | judge backup)"
same bay_holds '1 hold' "$(say bay --now 2027-04-01 | judge bay)"
same hours_holds '4 hold' "$(for by in machine site crew owner; do say hours --now 2027-04-01 --by $by; done | judge hours)"
same modem_holds '1 hold' "$(say modem | judge modem)"
same every_schema_was_used 'backup bay board calendar check due export health hours import machine modem sheet stock text texts' \
    "$(cd docs/schemas && echo *.json | sed 's/\.json//g')"

say due --now 2027-04-01 >"$folder/due"
spoil() { jq -c "$1" "$folder/due" | judge due | tail -n 1; }
same a_key_that_is_not_known_is_found '0 hold' "$(spoil '.rows[0].stag = "due"')"
same a_key_that_is_missing_is_found '0 hold' "$(spoil 'del(.rows[0].stage)')"
same a_word_that_is_none_is_found '0 hold' "$(spoil '.rows[0].stage = "soon"')"
same a_figure_in_quotes_is_found '0 hold' "$(spoil '.rows[0].due_hours = "75"')"
exit "$status"
