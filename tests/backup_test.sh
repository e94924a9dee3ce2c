#!/bin/sh
# SPDX-License-Identifier: MIT
# The copies that are kept of the ledger, by the front door: one a day, so many of them, nothing else
# touched; and what health says of their age. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-backup-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh
. tests/sample_yard.sh

sample_yard
copies() { ls "$1" | paste -sd ' '; }
# What health says of the copies: status, words, and 1 where there is something to do.
health() {
    meterpost health --json "$@" |
        jq -r '.checks[] | select(.name == "backup") | "\(.status), \(.says | sub(" [0-9T:-]+$"; "")), \(if .do then 1 else 0 end)"'
}

meterpost text --now 2027-03-12 --as Tom 'TR-9 300' >/dev/null
same a_yard_on_trial_has_no_folder_of_copies 'ok, no folder of copies beside the ledger; "backup --keep 14" makes it, 0' "$(health)"
mkdir "$folder/backups"
same where_there_is_one_a_copy_is_waited_for 'ok, no copy of the ledger yet, 0' "$(health)"
touch -d '3 days ago' "$folder/backups"
same but_not_for_ever 'attention, no copy of the ledger yet, 1' "$(health)"

same a_copy_is_named_by_its_day "$folder/backups/meterpost-2027-03-14.db true" \
    "$(meterpost backup --keep 3 --now 2027-03-14 --json | jq -r '"\(.file) \(.checked)"')"
same by_the_day_of_the_shop_s_zone "$folder/backups/meterpost-2027-03-14.db is a checked copy of $folder/my.db" \
    "$(meterpost backup --keep 3 --now 2027-03-15T06:30:00Z)"
same a_second_one_of_the_day_takes_its_place meterpost-2027-03-14.db "$(copies "$folder/backups")"
same health_knows_it 'ok, 1 copy, the last of, 0' "$(health)"
for day in 15 16 17; do
    meterpost backup --keep 3 --now "2027-03-$day" >/dev/null
done
echo mine >"$folder/backups/meterpost-notes.db"
cp "$folder/backups/meterpost-2027-03-15.db" "$folder/backups/before-the-season.db"
meterpost backup --keep 3 --now 2027-03-18 >/dev/null
same so_many_stay_and_nothing_else_is_touched \
    'before-the-season.db meterpost-2027-03-16.db meterpost-2027-03-17.db meterpost-2027-03-18.db meterpost-notes.db' \
    "$(copies "$folder/backups")"
same each_is_a_whole_ledger 'ok ok ok' "$(for copy in "$folder"/backups/meterpost-2*.db; do
    sqlite3 "$copy" 'PRAGMA integrity_check'
done | paste -sd ' ')"
meterpost backup --keep 3 --now 1970-01-01 >/dev/null
same one_of_a_box_that_does_not_know_the_day_is_kept_until_the_next \
    'meterpost-1970-01-01.db meterpost-2027-03-16.db meterpost-2027-03-17.db meterpost-2027-03-18.db' \
    "$(cd "$folder/backups" && echo meterpost-[0-9]*)"
touch -d '3 days ago' "$folder"/backups/*.db
same an_old_last_one_wants_attention 'attention, 4 copies, the last of, 1' "$(health)"

mkdir "$folder/stick"
meterpost backup --keep 2 "$folder/stick" --now 2027-03-14 >/dev/null
same another_folder_can_be_named meterpost-2027-03-14.db "$(copies "$folder/stick")"
same a_number_is_wanted '64 meterpost: --keep takes a number, 1 to 366' \
    "$(meterpost backup --keep none 2>"$folder/says"; echo "$?") $(head -n 1 "$folder/says")"
same a_folder_whose_parent_is_not_there_is_said "73 1" \
    "$(meterpost backup --keep 2 "$folder/no/such" 2>"$folder/says"; echo "$? $(grep -c 'cannot be made: No such file' "$folder/says")")"
exit "$status"
