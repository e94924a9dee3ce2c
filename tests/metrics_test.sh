#!/bin/sh
# SPDX-License-Identifier: MIT
# health --metrics as collectors read it, by both parsers of python3-prometheus-client (the text-based
# format 0.0.4, and OpenMetrics 1.0): the figures are those of health, there is none of a person, and
# the file is there whole. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-metrics-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh
. tests/sample_yard.sh

sample_yard
# figures FORMAT: "name{labels} value" of each sample, as that parser reads standard input
figures() {
    /usr/bin/python3 -c '
import sys
if sys.argv[1] == "openmetrics":
    from prometheus_client.openmetrics.parser import text_string_to_metric_families as read
else:
    from prometheus_client.parser import text_string_to_metric_families as read
for family in read(sys.stdin.read()):
    assert family.type == "gauge" and family.documentation, family
    for s in family.samples:
        print(s.name + "".join("{%s}" % v for v in s.labels.values()), "%.0f" % s.value)' "$1"
}

meterpost health --metrics >"$folder/empty"
same without_a_ledger_there_are_figures_too 'meterpost_daemon_up 0' "$(figures text <"$folder/empty" | grep daemon_up)"
meterpost text --as Tom 'TR-9 300 ask Rosa at +12065550111' >/dev/null
mkdir "$folder/backups"
meterpost backup --keep 3 >/dev/null
meterpost health --metrics >"$folder/figures"
figures text <"$folder/figures" >"$folder/text"
same both_parsers_read_the_same "$(cat "$folder/text")" "$(figures openmetrics <"$folder/figures")"
same every_check_of_health_is_there \
    "$(meterpost health --json | jq -r '.checks[] | "\(.name) \({"ok": 0, "attention": 1, "fault": 2}[.status])"')" \
    "$(sed -n 's/^meterpost_health_status{\(.*\)}/\1/p' "$folder/text")"
same the_figures_are_those_of_the_ledger '0 1 1' \
    "$(for name in parts_waiting backups build_info{1.0}; do
        sed -n "s/^meterpost_$name //p" "$folder/text"
    done | paste -sd ' ')"
same a_moment_is_in_seconds "$(sqlite3 "$folder/my.db" 'SELECT max(received_s) FROM texts_in')" \
    "$(sed -n 's/^meterpost_text_in_last_timestamp_seconds //p' "$folder/text")"
same what_is_not_known_is_left_out '' "$(grep -e signal -e storage "$folder/text")"
same nothing_of_a_person_is_told '' \
    "$(grep -i -e Tom -e Rosa -e Ines -e 5550 -e TR-9 -e M12 -e 'Alder' "$folder/figures")"

umask 022
meterpost health --metrics "$folder/meterpost.prom" >"$folder/said"
same the_exit_status_is_that_of_health "2 2 $(stat -c %s "$folder/said")" "$? $(meterpost health >/dev/null; echo $?) 0"
same a_file_has_the_same_figures "$(figures text <"$folder/figures" | grep -v -e disk -e clock)" \
    "$(figures text <"$folder/meterpost.prom" | grep -v -e disk -e clock)"
same a_collector_may_read_it 644 "$(stat -c %a "$folder/meterpost.prom")"
meterpost health --metrics "$folder/meterpost.prom"
same and_it_is_written_again 2 $?
echo 'a letter' >"$folder/letter"
same another_file_is_left_alone '3 a letter' \
    "$(meterpost health --metrics "$folder/letter" 2>/dev/null; echo "$? $(cat "$folder/letter")")"
same a_word_without_it_is_wrong_use 3 "$(meterpost health nonsense 2>/dev/null; echo $?)"
exit "$status"
