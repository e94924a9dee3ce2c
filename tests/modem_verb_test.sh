#!/bin/sh
# SPDX-License-Identifier: MIT
# The verb modem, against the stand-in modem on the real clock: alone, and beside a daemon. Speaks
# cmocka's lines.
build=${METERPOST_BUILD:-build}
folder=$(mktemp -d /tmp/meterpost-modem-XXXXXX)
mkfifo "$folder/script"
exec 9<>"$folder/script" # held open, so that the stand-in's script does not end
"$build/standin-modem" --line "$folder/line" --transcript "$folder/transcript" <"$folder/script" \
    >"$folder/log" 2>&1 &
standin=$!
daemon=
finish() {
    kill "$standin" $daemon 2>/dev/null
    wait
    rm -rf "$folder"
}
trap finish EXIT
. tests/same.sh
. tests/judge.sh

# until COMMAND...: bounded by a count, each try a process of its own
until_good() {
    tries=0
    while [ "$tries" -lt 2000 ]; do
        "$@" >/dev/null 2>&1 && return 0
        tries=$((tries + 1))
    done
    return 1
}

sed -e "s|^ *port = .*|    port = \"$folder/line\";|" \
    -e "s|^# ledger = .*|ledger = \"$folder/ledger.db\";|" \
    -e "s|^# door = .*|door = \"$folder/door\";|" config/meterpost.conf >"$folder/yard.conf"
meterpost() { "$build/meterpost" "$@" -c "$folder/yard.conf"; }
until_good test -e "$folder/line"

meterpost modem >"$folder/said"
same a_modem_that_takes_texts_is_found_and_named '0 talks AT, takes texts|open' \
    "$? $(sed -n 's/^  talks/talks/p; s/^  SIM *//p' "$folder/said" | head -n 2 | tr '\n' '|' | sed 's/|$//')"
same it_is_told_in_words 'registered at home, Meadow Mobile|-71 dBm, good|0 of |+12065550190|nothing to do: the config'"'"'s port is right' \
    "$(sed -n 's/^  network *//p; s/^  signal *//p; s/^  storage *\([0-9]* of \).*/\1/p; s/^  centre *//p; $p' "$folder/said" | tr '\n' '|' | sed 's/|$//')"
same no_raw_answer_is_told 0 "$(grep -cE ' -1|: 0 dBm|^ *[0-9]+,[0-9]|READY' "$folder/said")"
same a_trial_goes_out 'the network took it' "$(meterpost modem --send +12065550112 'a trial')"
same the_trial_said_what_it_was_told 1 "$(grep -c 'text-out .*to="+12065550112" body="a trial"' "$folder/transcript")"
same as_json_it_has_what_programs_want 'false true true open -71 true|true' \
    "$(meterpost modem --json >"$folder/json"; jq -r '"\(.daemon) \(.ports[0] | "\(.configured) \(.texts) \(.sim) \(.signal_dbm)") \(has("next") | not)"' "$folder/json")|$(
        meterpost modem --send +12065550112 'one more' --json | tee -a "$folder/json" | jq .sent)"
echo 'fault send-refused 1 38' >&9
until_good grep -q 'fault name=send-refused' "$folder/transcript"
same a_refusal_is_told_with_its_number 'meterpost: not sent: the network is out of order (38)' \
    "$(meterpost modem --send +12065550112 'x' 2>&1)"
echo 'fault urc-inside always' >&9
until_good grep -q 'fault name=urc-inside' "$folder/transcript"
same news_amid_an_answer_is_passed_over "$(sed -n '/^  maker/p; /^  SIM/p; /^  signal/p' "$folder/said")" \
    "$(meterpost modem | sed -n '/^  maker/p; /^  SIM/p; /^  signal/p')"
echo 'mend' >&9
until_good grep -q 'mended' "$folder/transcript"
same before_there_is_a_config_every_port_is_tried 1 \
    "$("$build/meterpost" modem -c "$folder/none.conf" | grep -c 'there is no config')"
sed -e '/^modem: {/,/^};/d' -e "s|^# modems:.*|modems: ( { name = \"east\"; port = \"$folder/line\"; },|" \
    -e "s|^#  *{ name = \"west\".*|{ name = \"west\"; port = \"$folder/gone\"; } );|" "$folder/yard.conf" >"$folder/two.conf"
same of_several_the_one_that_is_missing_is_named \
    '1 next: plug modem west in, switch it on, wait a minute and try again, or put its right port into the config' \
    "$("$build/meterpost" modem -c "$folder/two.conf" >"$folder/said"; echo "$? $(tail -n 1 "$folder/said")")"
same a_trial_to_no_number_is_refused 64 "$(meterpost modem --send 12 'x' >/dev/null 2>&1; echo $?)"

"$build/meterpost" run -c "$folder/yard.conf" 2>"$folder/daemon.log" &
daemon=$!
until_good grep -q "registered at home" "$folder/daemon.log"
same a_running_daemon_is_asked "the running daemon has $folder/line" "$(meterpost modem | head -n 1)"
same as_json_it_answers_too 'true true ready' \
    "$(meterpost modem --json | tee -a "$folder/json" | jq -r '"\(.daemon) \(.ports[0].texts) \(.ports[0].says)"')"
same every_document_holds '3 hold' "$(judge modem <"$folder/json")"
meterpost modem --send +12065550112 'x' 2>"$folder/held"
same a_trial_does_not_disturb_a_daemon '69 1' "$? $(grep -c 'systemctl stop meterpost' "$folder/held")"
meterpost text --now 2027-03-14 --as Ines 'M12 1340h' >/dev/null 2>"$folder/held"
same a_moment_of_ones_own_is_refused_beside_a_daemon '1 0' \
    "$(grep -c 'another meterpost holds' "$folder/held") $(meterpost export readings | grep -c 1340)"
same health_asks_the_daemon '0 ok' "$(meterpost health --json >"$folder/health"; echo "$? $(jq -r .status "$folder/health")")"
exit "$status"
