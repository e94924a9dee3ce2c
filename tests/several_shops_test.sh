#!/bin/sh
# SPDX-License-Identifier: MIT
# Several shops seen as one: the verbs that take several -c, over two shops in two zones, one of which is
# a copy that came from another box. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-shops-XXXXXX)
trap 'chmod -R u+w "$folder"; rm -rf "$folder"' EXIT
. tests/same.sh
. tests/judge.sh

# The intervals and quantities are common practice, no source; the shops are invented.
# shop FILE NAME ZONE UNIT MACHINES
shop() {
    cat >"$folder/$1.conf" <<CONF
ledger = "$folder/$1.db";
door = "$folder/$1.door";
shop: { name = "$2"; number = "+12065550100"; time_zone = "$3"; units = "$4"; };
plans: ( { name = "drive"; title = "Drive oil and filters"; first = 75.0; every = 500.0;
  kit = ( { item = "20W-50"; quantity = 5.0; unit = "$4"; sold_in = 1.0; } ); } );
kinds: ( { name = "ridge-60"; plans = ("drive"); hours_per_week = 30.0; } );
people: ( { name = "Ines"; phone = "+12065550110"; role = "shop"; } );
machines: ( $(for name in $5; do
        printf '%s{ name = "%s"; kind = "ridge-60"; crew = ("Ines"); }' "$gap" "$name"
        gap=', '
    done) );
CONF
}
shop alder "Alder Works" America/Los_Angeles qt 'M12 M7'
shop birch "Birch Works" Europe/Berlin l 'M12 B2'
say() { "$program" text -c "$folder/$1.conf" --as Ines --now "$2T12:00:00Z" "$3" >/dev/null; }
say alder 2027-04-01 'M12 40h, M7 60h'
say alder 2027-04-08 'M12 76h, M7 62h'
say birch 2027-04-01 'M12 50h, B2 10h'
say birch 2027-04-08 'M12 90h, B2 70h'
say birch 2027-04-08 'B2 brakes gone'
both() { "$program" "$@" -c "$folder/alder.conf" -c "$folder/birch.conf" --now 2027-04-09T22:30:00Z; }
one() { "$program" "$@" --now 2027-04-09T22:30:00Z; }

same rows_of_all_shops_are_one_list_worst_first 'Birch Works M12 overdue|Alder Works M12 due|Birch Works B2 coming-up|Alder Works M7 coming-up|1' \
    "$(both due --json >"$folder/due"; jq -r '.rows[] | "\(.shop) \(.machine) \(.stage)"' "$folder/due" | paste -sd '|')|$(
        both due >/dev/null; echo $?)"
same so_they_are_on_a_screen_and_for_a_spreadsheet 'SHOP MACHINE PLAN|Birch Works M12 drive|Alder Works M12 drive|shop,machine,kind|Birch Works,M12,ridge-60' \
    "$(both due | sed -n 2,4p | tr -s ' ' | grep -o '^.*\(PLAN\|drive\)' | paste -sd '|')|$(
        both due --csv | head -n 2 | cut -d , -f 1-3 | tr -d '\r' | paste -sd '|')"
same the_sentence_counts_all_of_them '1 overdue, 1 due, 2 coming up, 1 wanted, 1 open trouble, with DANGER.' "$(both due | head -n 1)"
same trouble_says_its_shop '  Birch Works: B2: DANGER 2027-04-08 Ines: brakes gone' "$(both due | tail -n 1)"
# At that moment it is the next day already in Berlin.
same each_shop_goes_by_its_own_zone_and_day \
    'Alder Works 2027-04-09T15:30:00-07:00|Birch Works 2027-04-10T00:30:00+02:00|2027-04-08T14:00:00+02:00|2027-04-08T05:00:00-07:00' \
    "$(jq -r '(.shops[] | "\(.shop) \(.as_of)"), .rows[0].read_at, .rows[1].read_at' "$folder/due" | paste -sd '|')"
same a_date_alone_is_midnight_in_each_zone '2027-04-09T00:00:00-07:00 2027-04-09T00:00:00+02:00' \
    "$("$program" due -c "$folder/alder.conf" -c "$folder/birch.conf" --now 2027-04-09 --json | jq -r '[.shops[].as_of] | join(" ")')"
same stock_stands_on_shelves_apart 'Alder Works 20W-50 10 qt|Birch Works 20W-50 10 l' \
    "$(both stock --weeks 1 --json | jq -r '.items[] | "\(.shop) \(.item) \(.needed) \(.unit)"' | paste -sd '|')"
same stock_says_the_days_of_each_shop 'Alder Works: For what comes due from 2027-04-09 until 2027-04-16:|Birch Works: For what comes due from 2027-04-10 until 2027-04-17:|SHOP ITEM' \
    "$(both stock --weeks 1 | sed -n 1,3p | tr -s ' ' | sed 's/ITEM.*/ITEM/' | paste -sd '|')"
same a_bay_of_each_shop 'Alder Works M12|Alder Works M7|Birch Works B2|Birch Works M12' \
    "$(both bay --json | jq -r '.days[] | "\(.shop) \(.jobs[].machine)"' | sort | paste -sd '|')"
same hours_of_each_shop 'Alder Works M12 36|Alder Works M7 2|Birch Works B2 60|Birch Works M12 40' \
    "$(both hours --json | jq -r '.rows[] | "\(.shop) \(.name) \(.hours)"' | paste -sd '|')"
same bars_are_by_the_most_of_all_shops '18 1 30 20' \
    "$(both hours | grep -o '#*$' | awk 'length { print length }' | paste -sd ' ')"
same a_page_of_rows_for_programs_too 'Birch Works M12|Alder Works M12|Birch Works B2|Alder Works M7|Birch Works' \
    "$(both board --json | jq -r '(.rows[] | "\(.shop) \(.machine)"), .trouble[].shop' | paste -sd '|')"
words() { sed 's/<[^>]*>/ /g' | tr -s ' \n' ' '; }
both board >"$folder/page.html"
same a_page_for_all_worst_first 'M12 Birch Works|M12 Alder Works|B2 Birch Works|M7 Alder Works' \
    "$(grep -A 1 '^<h2>[MB]\|<article' "$folder/page.html" | words | grep -o '[MB][0-9]* [A-Z][a-z]* Works' | paste -sd '|')"
same the_page_is_of_several_and_says_how_far_each_goes 'Several shops: the yard|Alder Works: last entry 2027-04-08 05:00.|Birch Works: last entry 2027-04-08 14:00, where it is 2027-04-10 00:30.' \
    "$(grep '<title>S\|: last entry' "$folder/page.html" | sed 's/<[^>]*>//g' | paste -sd '|')"
same so_is_the_one_on_the_wall 'M12 Drive oil and filters Birch Works 15 h past it, since Thu Apr 8 overdue' \
    "$(both board --wall | grep '<li class="overdue"><b class="name">' | words | sed 's/^ //; s/ $//')"
for verb in due stock bay hours board health; do
    same "${verb}_of_several_holds" '1 hold' "$(both $verb --json | judge $verb)"
done
same with_one_nothing_is_said_of_shops '0' "$(for verb in due stock bay hours; do
    one $verb -c "$folder/alder.conf"
    one $verb -c "$folder/alder.conf" --csv
    one $verb -c "$folder/alder.conf" --json
done | grep -ci 'shop"\|^shop\|Alder')"

# What cannot be shown is named, and the others are shown.
sed "s#$folder/birch.db#$folder/gone.db#" "$folder/birch.conf" >"$folder/gone.conf"
sed 's/units/unit/' "$folder/birch.conf" >"$folder/slip.conf"
left_out() { one "$@" -c "$folder/alder.conf" 2>"$folder/err"; }
left_out due -c "$folder/gone.conf" --json >"$folder/out"
same a_ledger_that_is_not_there_leaves_its_shop_out '66 M12 M7 Birch Works is left out' \
    "$? $(jq -r '[.rows[].machine] | join(" ")' "$folder/out") $(grep -o 'Birch Works is left out' "$folder/err")"
same what_is_left_then_holds_too '1 hold' "$(judge due <"$folder/out")"
same the_message_says_which_ledger_and_programs_are_told 'Birch Works true' \
    "$(grep -q "$folder/gone.db" "$folder/err" && jq -r '.shops[] | select(.left_out) | "\(.shop) \(.left_out)"' "$folder/out")"
left_out due -c "$folder/slip.conf" --csv >"$folder/out"
same a_config_with_mistakes_leaves_its_shop_out '78 3 1' \
    "$? $(wc -l <"$folder/out") $(grep -c "$folder/slip.conf is left out" "$folder/err")"
left_out board "$folder/page.html" -c "$folder/gone.conf"
same a_page_says_who_is_left_out '66 1' "$? $(grep -c 'class="out">Without Birch Works: ' "$folder/page.html")"
same none_left_is_no_list '66|' "$("$program" due -c "$folder/gone.conf" -c "$folder/slip.conf" --csv >"$folder/out" 2>/dev/null
    echo $?)|$(cat "$folder/out")"

# Never guess: who is who, and what stands twice.
sed 's/Birch/Alder/' "$folder/birch.conf" >"$folder/twin.conf"
same two_of_one_name_are_told_apart_by_their_files "Alder Works ($folder/alder.conf) Alder Works ($folder/twin.conf)" \
    "$(one due -c "$folder/alder.conf" -c "$folder/twin.conf" --json | jq -r '[.shops[].shop] | join(" ")')"
ln -s alder.conf "$folder/link.conf"
sed 's/Alder/Cedar/' "$folder/alder.conf" >"$folder/cedar.conf"
same one_shop_twice_would_count_twice '64 have one file|64 have one ledger' \
    "$(for name in link cedar; do
        one due -c "$folder/alder.conf" -c "$folder/$name.conf" >/dev/null 2>"$folder/err"
        echo "$? $(grep -o 'have one [a-z]*' "$folder/err")"
    done | paste -sd '|')"
same what_is_for_one_shop_says_so "64 meterpost: calendar is for one shop: name one -c; several are seen together by due, stock, bay, hours, board, health" \
    "$(both calendar >/dev/null 2>"$folder/err"; echo "$? $(cat "$folder/err")")"
same a_moment_that_is_none_is_said_once '64 1' "$("$program" due -c "$folder/alder.conf" -c "$folder/birch.conf" --now soon >/dev/null 2>"$folder/err"
    echo "$? $(wc -l <"$folder/err")")"

# A ledger that was copied in: none writes there, and no daemon can be asked.
# away NAME FILE...: that shop, its files in a folder of their own, where nothing can be written
away() {
    chmod -R u+w "$folder/away" 2>/dev/null
    rm -rf "$folder/away" && mkdir "$folder/away" && shift && cp "$@" "$folder/away/"
    sed "s#$folder/birch#$folder/away/birch#" "$folder/birch.conf" >"$folder/away/birch.conf"
    chmod -R a-w,a+rX "$folder/away" && chmod a+rx "$folder"
}
# reader COMMAND...: as somebody who may not write there
reader() { if [ "$(id -u)" -eq 0 ]; then setpriv --reuid 65534 --regid 65534 --clear-groups "$@"; else "$@"; fi; }
look() { reader "$program" "$@" -c "$folder/away/birch.conf" 2>&1; }
mkdir "$folder/copy" && "$program" backup -c "$folder/birch.conf" "$folder/copy/birch.db" >/dev/null
away birch "$folder/copy/birch.db"
same a_copy_is_read_where_nothing_can_be_written 'M12 B2' \
    "$(look due --now 2027-04-09 --json | jq -r '[.rows[].machine] | join(" ")')"
same its_health_is_how_old_it_is '0 ok daemon texts people alerts|1 attention' \
    "$(look health --now 2027-04-10 --json >"$folder/out"; echo "$? $(jq -r '"\(.status) \([.checks[].name] | join(" "))"' "$folder/out")")|$(
        look health --now 2027-04-11 --json >"$folder/out"; echo "$? $(jq -r .status "$folder/out")")"
same that_is_said_with_its_last_entry_and_what_to_do '2027-04-08T14:00:00+02:00, see whether the ledger is still copied' \
    "$(jq -r '.checks[0] | "\(.says) \(.do)"' "$folder/out" | sed 's/.*last entry of \([^ ]*\) \(.*copied\),.*/\1, \2/')"
cp "$folder/birch.db" "$folder/copy/birch.db" # as it lies there, and nobody has it open
: >"$folder/copy/birch.db-wal"
away birch "$folder/copy/birch.db"
same a_file_that_was_at_work_is_read_alone 'M12 B2' "$(look due --now 2027-04-09 --json | jq -r '[.rows[].machine] | join(" ")')"
away birch "$folder/copy/birch.db" "$folder/copy/birch.db-wal"
same and_beside_an_empty_wal 'M12 B2' "$(look due --now 2027-04-09 --json | jq -r '[.rows[].machine] | join(" ")')"
echo something >"$folder/copy/birch.db-wal"
away birch "$folder/copy/birch.db" "$folder/copy/birch.db-wal"
same what_is_half_a_ledger_is_not_read "74 a raw copy: copy what \`meterpost backup\` makes" \
    "$(look due >"$folder/out"; echo "$? $(grep -o 'a raw copy[^)]*' "$folder/out")")"
sqlite3 "$folder/copy/birch.db" 'PRAGMA journal_mode = DELETE; PRAGMA user_version = 3' >/dev/null
away birch "$folder/copy/birch.db"
same one_of_an_older_box_says_what_to_update '66 a copy: update the box that it is from first' \
    "$(look due >"$folder/out"; echo "$? $(grep -o 'a copy: [^)]*' "$folder/out")")"
same health_of_both_is_as_bad_as_the_worst '2 Alder Works fault daemon|Birch Works fault ledger' \
    "$("$program" health -c "$folder/alder.conf" -c "$folder/away/birch.conf" --json >"$folder/out"; echo "$? $(
        jq -r '.checks[] | select(.status == "fault" and (.name == "ledger" or .shop == "Alder Works")) | "\(.shop) \(.status) \(.name)"' "$folder/out" | paste -sd '|')")"
same it_says_whose_each_line_is 'Alder Works fault daemon' \
    "$(both health | head -n 1 | tr -s ' ' | cut -d ' ' -f 1-4)"
same figures_are_of_one_shop '3 meterpost: health --metrics is for one shop, with a file for each; name one -c' \
    "$(both health --metrics >/dev/null 2>"$folder/err"; echo "$? $(cat "$folder/err")")"

# docs/several-shops.md: its units, its script, and its config over an installed one.
# block FILE: what stands there under that name
block() {
    awk -v name="$1" '/^```/ { if (inside && found) exit; inside = !inside; found = 0; next }
        inside && index($0, name) && /^#/ { found = 1 } inside { kept = kept $0 "\n" } !inside { kept = "" }
        END { printf "%s", kept }' docs/several-shops.md
}
for unit in service timer; do
    block "meterpost-collect.$unit" | sed 's#/usr/local/bin/meterpost-collect#/bin/true#' >"$folder/meterpost-collect.$unit"
done
same the_units_of_the_page_hold "$(command -v systemd-analyze >/dev/null || echo 'no systemd-analyze')" \
    "$(if command -v systemd-analyze >/dev/null; then (cd "$folder" && systemd-analyze verify ./meterpost-collect.* 2>&1); else echo 'no systemd-analyze'; fi)"
same the_script_of_the_page_is_one '' "$(block 'meterpost-collect SHOP' | sh -n 2>&1)"
mkdir -p "$folder/srv" && "$program" backup -c "$folder/birch.conf" "$folder/srv/ledger.db" >/dev/null
sed "$(grep -o "/^.*d'" docs/several-shops.md | tr -d "'")" "$folder/birch.conf" >"$folder/srv/shop.conf"
block /srv/shops/alder/meterpost.conf | sed "s#/srv/shops/alder#$folder/srv#" >"$folder/srv/meterpost.conf"
same the_config_of_the_page_is_one 'M12 B2' \
    "$(one due -c "$folder/srv/meterpost.conf" --json 2>&1 | jq -r '[.rows[].machine] | join(" ")')"
exit "$status"
