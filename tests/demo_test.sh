#!/bin/sh
# The demo, whole: it keeps its promises, and what it prints fits a terminal. Speaks cmocka's lines,
# so that tests/run.sh counts it.
build=${METERPOST_BUILD:-build}
page=$(mktemp)
trap 'rm -f "$page"' EXIT
status=0

# verdict NAME STATUS: passes when STATUS is 0.
verdict() {
    echo "[ RUN      ] $1"
    if [ "$2" -eq 0 ]; then
        echo "[       OK ] $1"
    else
        cat "$page"
        echo "[  FAILED  ] $1"
        status=1
    fi
}

"$build/demo" > "$page" 2>&1
verdict the_story_is_played_and_every_promise_kept $?
# on_board MACHINE DUE_AT: what was texted stands on the board.
on_board() { grep -qE "^  $1 +drive .* $2 " "$page"; }
on_board M12 1589 && on_board M7 576.5 && on_board M14 582 && on_board 'R2 ' 1075
verdict the_board_shows_the_services_that_were_texted $?
grep -q 'M12.*h2' "$build/demo-yard.html"
verdict the_yard_is_there_as_a_page_too $?
! grep -q "$(printf '\033')" "$page"
verdict no_colour_where_it_is_no_terminal $?
! grep -vE '^.{0,100}$' "$page"
verdict no_line_is_wider_than_100_columns $?

printf 'Tom: M12 1098.5h\n+12065550150: hello\nTom: M12?\nquit\n' | "$build/demo" --try > "$page" 2>&1
verdict a_person_can_try_it $?
grep -q '<- Tom .*M12 1098.5h' "$page"
verdict who_types_a_text_sees_the_answer $?
grep -q 'four weeks on record' "$page" && grep -q 'Such as .*: M7 108h' "$page"
verdict the_demo_s_weeks_lie_behind_who_tries_it $?
! grep -q 'terminal: meterpost' "$page" && grep -q "terminal: $build/meterpost due -c " "$page"
verdict the_program_is_named_as_one_types_it $?

folder=$(mktemp -d /tmp/meterpost-own-XXXXXX)
trap 'rm -rf "$page" "$folder"' EXIT
cat >"$folder/my.conf" <<END
ledger = "$folder/my.db";
modem = { port = "/nowhere"; pin_file = ""; };
people: ( { name = "Sam"; phone = "+12065550123"; }, # crew
          { name = "Ann"; phone = "+12065550124"; role = "shop"; } );
door = "$folder/door";
machines: ( { name = "Z-7"; crew = ( "Sam" ); } );
END
printf 'Sam: thanks\nSam: Z-7 52h\nBob: Z-7 53h\nZ-7 53h\nquit\n' |
    "$build/demo" --try "$folder/my.conf" > "$page" 2>&1
verdict a_config_of_ones_own_can_be_tried $?
grep -q '<- Sam .*Z-7 52h noted' "$page"
verdict its_people_and_machines_are_answered $?
! grep -q 'NOT KEPT' "$page"
verdict a_courtesy_without_an_answer_breaks_no_promise $?
grep -q 'Nobody is called "Bob"' "$page" && grep -q 'Who texts it? .*"Sam: Z-7 53h"' "$page"
verdict who_types_no_name_is_told_the_form $?
[ "$(ls "$folder")" = my.conf ]
verdict the_ledger_that_it_names_is_not_touched $?
printf 'machines: ( { name = "M7"; kind = "none"; } );\n' >"$folder/my.conf"
! "$build/demo" --try "$folder/my.conf" > "$page" 2>&1 </dev/null && grep -q "my.conf:1: machine" "$page"
verdict its_mistakes_are_named_by_their_lines $?
exit "$status"
