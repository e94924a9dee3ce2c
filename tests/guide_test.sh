#!/bin/sh
# SPDX-License-Identifier: MIT
# What the guide says of privacy and of two yards is so: a person is gone while the record stays, and two
# yards are read together by its SQL. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-guide-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh

# block WORD: the SQL block that holds the word
block() {
    awk -v word="$1" '/^```sql$/ { inside = 1; text = ""; next }
        /^```$/ { if (inside && index(text, word)) printf "%s", text; inside = 0; next }
        inside { text = text $0 "\n" }' docs/guide.md
}
sed -e "s|^# ledger = .*|ledger = \"$folder/my.db\";|" -e "s|^# door = .*|door = \"$folder/door\";|" \
    config/meterpost.conf >"$folder/my.conf"
say() { "$program" text -c "$folder/my.conf" --now "$1" --as "$2" "$3" >/dev/null; }
say 2027-03-12 Tom 'TR-9 300 ask Tom about the belt'
say 2027-03-13 Rosa 'TR-9 DONE 301 5qt'
say 2027-03-14 Tom 'TR-9 303'

"$program" backup -c "$folder/my.conf" "$folder/north.db" >/dev/null
cp "$folder/north.db" "$folder/south.db"
same two_yards_are_read_together 'north|TR-9|drive|2027-03-13|301.0
south|TR-9|drive|2027-03-13|301.0' "$(block ATTACH >"$folder/both.sql"; cd "$folder" && sqlite3 <both.sql)"

"$program" forget Tom -c "$folder/my.conf" >/dev/null
same somebody_on_the_roster_is_not_forgotten 64 $?
sed -i -e 's/"Tom"/"Tim"/g' -e 's/2065550112/2065550118/g' "$folder/my.conf"
same what_was_removed_is_said "Tom is forgotten. Texts in: 2, texts out: 0, remarks: 2.
Hours and services stay, said by person-1." "$("$program" forget tom -c "$folder/my.conf" | head -2 | sed 's/^tom/Tom/')"
"$program" forget Tom -c "$folder/my.conf" >/dev/null
same who_is_not_known_is_said 64 $?
same the_name_and_the_number_are_nowhere_in_the_file 0 \
    "$(cat "$folder/my.db" "$folder"/my.db-* 2>/dev/null | grep -a -c -e Tom -e 2065550112)"
same the_hours_and_services_stay 'reading 300 person-1
reading 301 Rosa
reading 303 person-1
service 301 Rosa' "$("$program" machine TR-9 -c "$folder/my.conf" --now 2027-03-15 --json |
    jq -r '.record[] | select(.what == "reading" or .what == "service") | "\(.what) \(.hours) \(.person)"' | sort)"
same the_ledger_is_whole ok "$(sqlite3 "$folder/my.db" 'PRAGMA integrity_check')"
say 2027-03-15 Ines 'M12 1340'
same and_goes_on_working 1 "$(sqlite3 "$folder/my.db" "SELECT count(*) FROM readings WHERE meter_hundredths = 134000")"
same every_page_that_it_names_is_there '' "$(grep -o '](\([a-z./-]*[.][a-z0-9]*\))' docs/guide.md | tr -d ']()' |
    while read -r page; do [ -e "docs/$page" ] || echo "$page"; done)"

# The picture of the first conversation says what is answered.
cat >"$folder/first.conf" <<END
ledger = "$folder/first.db";
door = "$folder/door";
shop: { name = "Alder Works"; number = "+12065550100"; time_zone = "America/Los_Angeles"; };
plans: ( { name = "drive"; title = "Drive oil and filters"; first = 75.0; every = 500.0; } );
kinds: ( { name = "ridge-60"; plans = ("drive"); hours_per_week = 30.0; } );
people: ( { name = "Ines"; phone = "+12065550110"; }, { name = "Rosa"; phone = "+12065550111"; role = "shop"; } );
machines: ( { name = "M12"; kind = "ridge-60"; crew = ("Ines"); last_done = { drive = 1075.0; }; } );
END
# picture GROUP: the texts of that group, a line each
picture() {
    sed -n "/id=\"$1\"/,/<\/g>/p" docs/pictures/first-texts.svg | grep '<text' |
        sed -E 's/<[^>]*>//g; s/^ *//; s/ *$//'
}
day=10
picture texted >"$folder/texted"
while read -r body; do
    day=$((day + 1))
    "$program" text -c "$folder/first.conf" --now "2027-03-${day}T10:00:00-07:00" --as Ines "$body"
done <"$folder/texted" >"$folder/answered"
same the_first_conversation_is_as_pictured "$(picture answered)" "$(cat "$folder/answered")"
exit "$status"
