#!/bin/sh
# SPDX-License-Identifier: MIT
# The verb setup from the first question to a config that the checker is content with: as dialogues over a
# pipe and a pseudo-terminal, with stand-in modems on the other line, on the real clock. Speaks cmocka's
# lines.
build=${METERPOST_BUILD:-build}
folder=$(mktemp -d /tmp/meterpost-setup-XXXXXX)
. tests/same.sh
standins=
finish() {
    kill $standins 2>/dev/null
    wait
    rm -rf "$folder"
}
trap finish EXIT

# plug NAME OPTION...: one more stand-in modem, at $folder/NAME; its script stays open
plug() {
    name=$1
    shift
    mkfifo "$folder/$name.script"
    (exec 9<>"$folder/$name.script"
    exec "$build/standin-modem" --line "$folder/$name" --transcript "$folder/$name.transcript" "$@" \
        <"$folder/$name.script" >"$folder/$name.log" 2>&1) &
    standins="$standins $!"
    tries=0
    until [ -e "$folder/$name" ] || [ "$tries" -eq 2000 ]; do
        tries=$((tries + 1))
        "$build/meterpost" version >/dev/null
    done
}
plug one
plug two
plug three
plug locked --pin 1234
plug slow --speed 9600
plug west --serial 004999010640018

conf=$folder/yard.conf
# what is typed at setup, a line each; what it says goes to $folder/said
dialogue() { # OPTION... , answers on standard input
    "$build/meterpost" setup -c "$conf" --rule none "$@" >"$folder/said" 2>&1
}
said() { grep -c -e "$1" "$folder/said"; }
away() { rm -f "$conf"* "$folder/meterpost.pin"*; }
setting() { sed -n "s/^ *$1 = \\([^;]*\\);.*/\\1/p" "$conf" | head -n 1; }
shop='Alder Works\n\n+12065550100\nAmerica/Los_Angeles\n\n\n\n\n\n\n\n\n'
yard='\nRosa, 206 555 0111, shop\nInes, +12065550110, crew, es\n\nM12, Ines + Rosa, Dock, 575 on 2026-03-14\nM14\n\n'

printf "$shop$yard"'+12065550112\nyes\n' | dialogue --port "$folder/one"
same a_yard_is_set_up_by_a_dialogue 0 $?
same the_config_says_what_was_answered \
    "\"Alder Works\" \"+12065550100\" \"America/Los_Angeles\" \"$folder/one\" \"$folder/ledger.db\"" \
    "$(setting name | head -n 1) $(setting number) $(setting time_zone) $(setting port) $(setting ledger)"
same the_checker_finds_nothing_in_it "0 $conf: no mistake found" \
    "$("$build/meterpost" check -c "$conf" >"$folder/check"; echo "$? $(tail -n 1 "$folder/check")")"
same people_and_machines_are_as_they_were_said 'M12: mower; at Dock; crew Ines, Rosa; drive last done at 575 h on 2026-03-14|Rosa: +12065550111, shop|Ines: +12065550110, crew' \
    "$(sed -n 's/^  \(M12.*\)/\1/p; s/^  \(Rosa[^,]*, [a-z]*\),.*/\1/p; s/^  \(Ines[^,]*, [a-z]*\),.*/\1/p' "$folder/check" | paste -sd '|')"
same it_is_for_root_and_the_daemon_alone 640 "$(stat -c %a "$conf")"
same it_can_be_read_by_a_person 'yes yes 0' \
    "$(grep -q '# the meter\|calling code' "$conf" && echo yes) $(grep -q 'Written by "meterpost setup"' "$conf" && echo yes) $(grep -c 'invented\|Alder Works", its people' "$conf")"
same the_trial_text_went_out 1 "$(grep -c 'text-out .*to="+12065550112"' "$folder/one.transcript")"
same it_says_what_starts_it "  meterpost run -c $conf" "$(grep '^  meterpost run' "$folder/said")"
same nothing_is_kept_once_it_is_done 1 "$(ls -d "$conf"* | wc -l)"
same no_colour_and_no_cursor_is_moved 0 "$(grep -c "$(printf '\033')" "$folder/said")"

printf '# mine\n' >>"$conf"
cp "$conf" "$folder/mine"
printf '\n' | dialogue
same a_config_is_not_replaced_without_a_yes "1 1 $(cksum <"$folder/mine")" \
    "$? $(said 'Nothing was changed') $(cksum <"$conf")"
printf "yes\n$shop$yard"'none\nyes\n' | dialogue --port "$folder/one"
same with_a_yes_the_old_one_stays_beside "0 $(cksum <"$folder/mine")" "$? $(cksum <"$conf.old")"
away
cp config/meterpost.conf "$conf"
printf "$shop$yard"'none\nyes\n' | dialogue --port "$folder/one"
same the_sample_is_nobodys_work '0 1' "$? $(ls -d "$conf"* | wc -l)"

# What check would refuse is asked again at once, with the reason.
away
printf '\nAlder\none\n\n12\n\nAmerica/Los_Angles\nAmerica/Los_Angeles\ngal\nqt\nym\n\nfunday\nmon-fryday\nmon-fri sat\n17-7\n25-26\nlate\n7-17:30\n700\nlots\n75\n\n\n\n\nRosa, 12\nRosa, 2065550111, boss\nRosa, 2065550111, shop\nYES, 2065550112\n2, 2065550111\n\nM12, Inez\nHELP\n12\nM12, Rosa, Dock, lots\nM12, Rosa, Dock, 575 on soon\nM12, Rosa\nm-12\n\nyes\n' |
    dialogue --port none
same refused_answers_are_asked_again 0 $?
same each_reason_is_the_checkers_own '' "$(while read -r reason; do
    grep -q -e "$reason" "$folder/said" || echo "not said: $reason"
done <<'END'
an answer is needed here
country = "one" is no calling code
number = "12" is too short
America/Los_Angles" is not known to this box; did you mean "America/Los_Angeles"
units = "gal" is not known
date_order = "ym"
funday
mon-fryday
alert_until (07:00) is not after alert_from (17:00)
alert_from = "25:00"
late
first (700) is above every (500)
first = lots is no number
phone = "12" is too short
role = "boss" is not known
phone is that of "Rosa" as well
no person is called "Inez"
the name is a word that texts are made of
the name looks like a figure
lots is no service
on = "soon" is no date
the name is like that of the machine "M12"
END
)"
same none_of_them_got_into_the_config 0 "$(grep -c 'boss\|Inez\|lots\|soon\|m-12' "$conf")"
same a_missing_modem_has_a_next_step 1 "$(said 'meterpost modem finds it later')"

# Stopping and going on, at every question.
away
printf "$shop$yard"'yes\n' | sed '/^yes$/d' >"$folder/answers"
stops=0 asked=0
while [ "$asked" -lt "$(wc -l <"$folder/answers")" ]; do
    asked=$((asked + 1))
    { printf 'yes\n'; sed -n "${asked}p" "$folder/answers"; } | sed "1{$([ "$asked" -gt 1 ] || echo d)}" |
        dialogue --port none || stops=$((stops + 1))
done
printf 'yes\nyes\n' | dialogue --port none
same one_may_stop_at_any_question "0 $(wc -l <"$folder/answers")" "$? $stops"
same what_was_answered_before_is_not_asked_again '"Alder Works" "+12065550100" 2' \
    "$(setting name) $(setting number) $(grep -c '{ name = "M1' "$conf")"
away
printf 'Alder\nstop\n' | dialogue
same the_word_stop_stops '1 1 shop=Alder' "$? $(said 'kept in') $(cat "$conf.answers")"
same the_answers_are_nobody_elses 600 "$(stat -c %a "$conf.answers")"
printf 'no\nBeech\nstop\n' | dialogue
same one_may_begin_anew 'shop=Beech' "$(cat "$conf.answers")"

# All of it as options; nothing is asked.
away
options() {
    dialogue --yes --shop Alder --zone Europe/Paris --country 33 --week 20 --person 'Rosa, +12065550111, shop' \
        --person 'Ines, +12065550110, crew, fr' --machine 'M12, Ines' --machine M14 "$@" </dev/null
}
options --port "$folder/two"
same a_script_needs_no_answers "0 \"$folder/two\" \"l\" \"24h\" \"dmy\" 20" \
    "$? $(setting port) $(setting units) $(setting clock) $(setting date_order) $(setting hours_per_week)"
away
options --port none --dates mdy --workdays 'tue-thu, sat' --hours '6 - 18:30' --speed 57600
same days_and_hours_are_answers_too '0 "mdy" ( "tue", "wed", "thu", "sat" ) "06:00" "18:30"' \
    "$? $(setting date_order) $(setting workdays) $(setting alert_from) $(setting alert_until)"
away
dialogue --yes --shop Alder --zone Europe/Paris </dev/null
same what_a_script_left_out_is_named '1 1' "$? $(said -- '--person says it')"
away
options --port none --first 700
same what_a_script_has_wrong_is_named '1 1' "$? $(said 'first (700) is above every')"

# A spreadsheet of all.
away
cat >"$folder/roster.csv" <<'END'
Unit;Operator;Phone;Role;Language;Location;Last service
M12;Ines;+12065550110;crew;es;Harbor Park;575 on 2026-03-14
M12;Tom;+12065550112;;;Harbor Park;
M14;Tom;;;;;
;Rosa;+12065550111;shop;en;;
END
roster() {
    dialogue --yes --shop Alder --zone UTC --port none --roster "$folder/roster.csv" </dev/null
}
roster
same a_spreadsheet_is_enough '0 M12: mower; at Harbor Park; crew Ines, Tom; drive last done at 575 h on 2026-03-14|M14: mower; crew Tom' \
    "$? $("$build/meterpost" check -c "$conf" | sed -n 's/^  \(M12.*\)/\1/p; s/^  \(M14[^;]*; crew Tom\).*/\1/p' | paste -sd '|')"
away
cp "$folder/roster.csv" "$folder/whole.csv"
printf 'M15;Zoe;;;;;some\nM16;Ned;;boss;;;lots\n' >>"$folder/roster.csv"
roster
same its_mistakes_are_named_all_at_once_with_their_lines '1 1 1 1' "$? $(said "roster.csv:6: M15: some is no service") \
$(said "roster.csv:7: M16: lots is no service") $(said 'person "Zoe": phone is missing')"
sed 's/$/;x/; 1s/x$/Colour/' "$folder/whole.csv" >"$folder/roster.csv"
roster
same what_it_says_beside_is_passed_over_and_said '0 1' "$? $(said 'taken: 3 people, 2 machines; passed over: Colour')"
away
: >"$folder/roster.csv"
roster
same an_empty_one_is_none '1 1' "$? $(said 'nobody and no machine is named')"

# Modems: three that answer, one with a PIN, one that another program holds, none at all.
away
printf "$shop$yard"'4\n2\nnone\nyes\n' | dialogue --port "$folder/one" --port "$folder/two" --port "$folder/three"
same of_three_that_answer_one_is_chosen "0 1 1 1 \"$folder/two\"" \
    "$? $(said '3 ports answer') $(said '2  .*: Stand-in Works SM-1, registered at home, Meadow Mobile') $(said 'a number from 1 to 3 is expected') $(setting port)"
away
printf "$shop$yard"'12a4\n1234\nyes\n' | dialogue --port "$folder/locked"
same a_pin_is_asked_for_and_kept_by_itself "0 1234 640 \"$folder/meterpost.pin\"" \
    "$? $(cat "$folder/meterpost.pin") $(stat -c %a "$folder/meterpost.pin") $(setting pin_file)"
same a_pin_is_not_shown 0 "$(said '1234')"
same a_pin_is_tried_by_the_daemon_alone 0 "$(grep -c 'CPIN=' "$folder/locked.transcript")"
away
options --port "$folder/locked"
same a_script_is_told_of_the_pin '0 1' "$? $(said "next: put the SIM's PIN alone into a file")"
away
printf "$shop$yard"'none\nyes\n' | dialogue --port "$folder/slow"
same a_slow_port_is_found_at_its_speed '0 1 9600' "$? $(said 'answers at 9600 bit/s') $(setting speed)"
"$build/meterpost" modem -c "$conf" --json >"$folder/modem.json"
same the_verb_modem_finds_it_too '0 1' "$? $(grep -c '"speed": *9600' "$folder/modem.json")"
sed -i 's/speed = 9600/speed = 115200/' "$conf"
"$build/meterpost" modem -c "$conf" >"$folder/said"
same and_says_what_the_config_should '0 1' "$? $(said 'put this beside it into the config: speed = 9600;')"
away
mkfifo "$folder/held" && flock "$(readlink "$folder/three")" cat "$folder/held" &
holder=$!
tries=0
until ! flock -n "$(readlink "$folder/three")" true || [ "$tries" -eq 2000 ]; do tries=$((tries + 1)); done
printf "$shop$yard"'none\nyes\n' | dialogue --port "$folder/three"
same a_port_that_is_held_is_told_with_what_to_do '0 1 1' \
    "$? $(said 'is held by') $(said 'next: free the port as said above')"
echo >"$folder/held"
wait "$holder"
away
printf "$shop$yard$folder/one"'\nnone\nyes\n' | dialogue --port /dev/none-there
same a_port_that_is_not_there_is_told_and_another_taken "0 1 \"$folder/one\"" \
    "$? $(said 'is the modem plugged in and on') $(setting port)"

# Two modems: both, or one of them, which is what is usual; never two ports of one.
list() { sed -n '/^modems: (/,/^);/p' "$conf"; }
entry() { list | grep -c -e "^        $1 = $2;"; }
away
printf "$shop$yard"'1+1\n1+2\n1+4\nbut one\nboth\nnone\n+12065550112\nyes\n' |
    dialogue --port "$folder/one" --port "$folder/two" --port "$folder/west"
same two_modems_are_set_up_by_a_dialogue "0 1 1 1 1 1 0" \
    "$? $(entry name '"1"') $(entry name '"2"') $(entry port "\"$folder/one\"") $(entry port "\"$folder/west\"") \
$(grep -c '^modems: (' "$conf") $(grep -c '^modem:' "$conf")"
same the_list_can_be_read_as_well_as_the_sample '2 2 2' \
    "$(entry speed '115200') $(list | grep -c '# only where the SIM has none') $(list | grep -c '^        reports = true;  *# the network')"
same the_checker_reads_both "0 $conf: no mistake found" \
    "$("$build/meterpost" check -c "$conf" >"$folder/check"; echo "$? $(tail -n 1 "$folder/check")")"
same a_modem_is_told_from_a_port_more_of_one '1 1 1 1' \
    "$(said '^3 ports answer') $(said "2  $folder/two: .*; another port of 1\$") $(said 'Which one, or both?.* both$') $(said "$folder/two is of the same modem as $folder/one; one port of each")"
same what_cannot_be_chosen_is_asked_again '2 1' \
    "$(said 'a number from 1 to 3 is expected, or several as 1+2, or all') $(said "$folder/one is named twice")"
same a_trial_text_goes_by_the_modem_that_was_asked '0 1' \
    "$(tail -n 40 "$folder/one.transcript" | grep -c text-out) $(grep -c 'text-out .*to="+12065550112"' "$folder/west.transcript")"
away
printf "$shop$yard"'2\nnone\nyes\n' | dialogue --port "$folder/one" --port "$folder/west"
same one_of_two_is_a_config_with_one "0 \"$folder/west\" 1 0" "$? $(setting port) $(grep -c '^modem: {' "$conf") $(list | wc -l)"
away
printf "$shop$yard"'both\nnone\nstop\n' | dialogue --port "$folder/one" --port "$folder/west"
printf 'yes\nnone\nnone\nstop\n' | dialogue
printf 'yes\nnone\nnone\nyes\n' | dialogue
went_on=$?
same what_was_found_is_kept_once 0 "$(said 'named twice')"
same one_may_stop_between_two_modems_and_go_on "0 1 1" \
    "$went_on $(entry port "\"$folder/one\"") $(entry port "\"$folder/west\"")"
away
options --port "$folder/one" --port "$folder/west"
same a_script_takes_one_unless_it_says_so "0 \"$folder/one\" 1" "$? $(setting port) $(grep -c '^modem: {' "$conf")"
away
printf 5678 >"$folder/pin" && chmod 600 "$folder/pin"
options --port "$folder/west" --port "$folder/locked" --use 2+1 --pinfile "$folder/pin"
same a_script_says_which_and_in_which_order "1 1" \
    "$(list | grep -A 1 'name = "1"' | grep -c locked) $(list | grep -A 1 'name = "2"' | grep -c west)"
away
options --port "$folder/west" --port "$folder/slow" --port "$folder/west" --use all --pinfile "$folder/pin"
same each_has_a_speed_of_its_own_and_one_that_is_named_twice_is_one '0 1 1 2 1' \
    "$? $(entry speed 115200) $(entry speed 9600) $(entry name '.*') $(said "$folder/west is named twice")"
away
options --port "$folder/locked" --port "$folder/west" --use 1+2 --pinfile "$folder/pin"
same a_pin_file_is_that_of_the_sim_that_wants_one "0 1 1 1" \
    "$? $(entry pin_file "\"$folder/pin\"") $(entry pin_file '""') $(said "PIN of modem 1 is in $folder/pin")"
away
printf "$shop$yard"'both\nnone\n1234\nyes\n' | dialogue --port "$folder/west" --port "$folder/locked"
same each_pin_has_a_file_of_its_own "0 1234 1 1 1" \
    "$? $(cat "$folder/meterpost.pin-2") $(entry pin_file "\"$folder/meterpost.pin-2\"") $(entry pin_file '""') $(said 'The SIM of modem 2 asks for its PIN')"
away
options --port "$folder/one" --port /dev/none-there --use both
same one_that_was_said_may_come_later "0 1 1 1" \
    "$? $(entry port "\"$folder/one\"") $(entry port '"/dev/none-there"') $(said 'next: plug the modem in')"
away
options --port "$folder/one" --port "$folder/two" --use both
same two_ports_of_one_modem_are_not_both '1 1' "$? $(said 'both would be two, but one modem answers')"

same a_folder_that_is_not_ones_own_is_told_at_once 73 \
    "$("$build/meterpost" setup -c /proc/none/my.conf </dev/null >/dev/null 2>&1; echo $?)"

# The same on a terminal: the PIN is not echoed, the rest is.
away
if command -v script >/dev/null 2>&1; then
    printf "$shop$yard"'1234\nyes\n' | TERM=dumb script -qec "'$build/meterpost' setup -c '$conf' --rule none --port '$folder/locked'" "$folder/said" >/dev/null 2>&1
    same it_works_on_a_terminal_without_tricks "0 1234 0" \
        "$? $(cat "$folder/meterpost.pin") $(grep -c "$(printf '\033')" "$folder/said")"
fi
exit "$status"
