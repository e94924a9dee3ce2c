#!/bin/sh
# SPDX-License-Identifier: MIT
# A verb whose output nobody takes holds no view of the ledger: the WAL can be emptied all the same. Speaks
# cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-reader-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh
. tests/sample_yard.sh

sample_yard
"$program" text -c "$folder/my.conf" --now 2027-03-12 --as Tom 'TR-9 300' >/dev/null
same a_reading_came_in 0 $?
sqlite3 "$folder/my.db" "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 4000)
    INSERT INTO readings (machine_id, meter_hundredths, read_s, noted_s, remark)
    SELECT 1, 100 * i, 1700000000 + 3600 * i, 1700000000, 'a remark of the season' FROM n"
same they_are_more_than_a_pipe_holds yes \
    "$([ "$("$program" export readings -c "$folder/my.conf" | wc -c)" -gt 70000 ] && echo yes)"

mkfifo "$folder/pipe"
"$program" export readings -c "$folder/my.conf" >"$folder/pipe" &
verb=$!
exec 3<"$folder/pipe"
same it_has_begun_to_write m "$(dd bs=1 count=1 <&3 2>/dev/null)"
same and_waits_for_who_reads 0 "$(kill -0 "$verb"; echo $?)"
same the_wal_can_be_emptied 0 "$(sqlite3 "$folder/my.db" "PRAGMA wal_checkpoint(TRUNCATE)" | cut -d '|' -f 1)"
same no_view_is_open_on_the_ledger '' "$(ls -l "/proc/$verb/fd" | grep -o 'my[.]db.*')"
cat <&3 >/dev/null
exec 3<&-
wait "$verb"
same it_ends_well 0 $?
exit "$status"
