#!/bin/sh
# SPDX-License-Identifier: MIT
# The job sheet by its front door: what is known of the machine, what its plan asks for, in whose
# language, what is texted in the end and understood; and the page, read by another parser and, where a
# browser is there, printed. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-sheet-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh

# The intervals and quantities are common practice, no source; the yard is invented.
cat >"$folder/yard.conf" <<END
ledger = "$folder/ledger.db";
door = "$folder/door";
shop: { name = "Alder & Works"; number = "+12065550100"; time_zone = "America/Los_Angeles"; };
plans: ( { name = "drive"; title = "Drive oil"; titles = { es = "Aceite de mando"; fr = "Huile"; };
           first = 75.0; every = 500.0; months = 12; recheck_after = 5.0;
           kit = ( { item = "20W-50"; quantity = 5.0; unit = "qt"; sold_in = 1.0; sides = 2; },
                   { item = "oil filter"; quantity = 2.0; unit = "piece"; sold_in = 1.0; sides = 2; } );
           steps = ("Drain.", "Fill."); blanks = ("Oil, as found"); },
         { name = "air"; title = "Air filter"; first = 200.0; every = 200.0; recheck_after = 0.0;
           kit = ( { item = "air filter"; quantity = 1.0; unit = "piece"; sold_in = 1.0; } ); },
         { name = "four"; title = "Four hubs"; first = 400.0; every = 400.0;
           kit = ( { item = "hub oil"; quantity = 2.0; unit = "qt"; sold_in = 1.0; sides = 4; },
                   { item = "gear oil"; quantity = 1.0; unit = "l"; sold_in = 1.0; } ); } );
kinds: ( { name = "ridge-60"; plans = ("drive", "air", "four"); hours_per_week = 30.0; } );
people: ( { name = "Ines"; phone = "+12065550110"; role = "crew"; language = "es"; },
          { name = "Luc"; phone = "+12065550113"; role = "shop"; language = "fr"; },
          { name = "Rosa"; phone = "+12065550111"; role = "shop"; } );
machines: ( { name = "M12"; kind = "ridge-60"; crew = ("Ines"); site = "Harbor Park"; serial = "A-1";
              owner = "Mill Pond"; last_done = { drive = { hours = 75.0; on = "2026-06-01"; }; }; } );
END
sheet() { "$program" sheet -c "$folder/yard.conf" --now 2027-04-12 "$@"; }
say() { "$program" text -c "$folder/yard.conf" --now "$1T12:00:00-07:00" --as "$2" "$3"; }

say 2026-05-20 Ines 'M12 70h too early to count' >/dev/null
say 2027-04-01 Ines 'M12 540h blades sharpened' >/dev/null
say 2027-04-10 Ines 'M12 oil leak left side' >/dev/null
say 2027-04-11 Ines 'M12 545h belt frayed' >/dev/null
sheet M12 drive >"$folder/sheet"
same what_is_known_stands_first 'Job sheet: Drive oil, Alder & Works|Machine M12, ridge-60, A-1, Harbor Park, Mill Pond|Due at 575 h (about 2027-04-20), by 2027-06-01, whichever comes first|Meter 545 h on 2027-04-11|Last service 75 h on 2026-06-01|Time about 90 min' \
    "$(head -n 7 "$folder/sheet" | tr -s ' ' | sed 's/(about 2027-04-[0-9]*)/(about 2027-04-20)/' | paste -sd '|' | sed 's/| first/ first/')"
same what_the_yard_said_stands_there 'REPORTED, AND STILL OPEN|  [ ]  2027-04-10 Ines: oil leak left side|  [ ]  2027-04-11 Ines: belt frayed|REMARKED SINCE THE LAST SERVICE|  [ ]  2027-04-01 Ines: blades sharpened' \
    "$(sed -n '/^REPORTED/,/^CAUTIONS/p' "$folder/sheet" | grep -v -e '^$' -e ^CAUTIONS | paste -sd '|')"
same each_side_has_its_blanks '  20W-50: left ________ qt    right ________ qt|  oil filter: left [ ]    right [ ]|  Oil, as found ________________________' \
    "$(grep -e '20W-50: ' -e 'filter: ' -e 'as found' "$folder/sheet" | paste -sd '|')"
same what_to_text_has_the_sides '    M12 DONE drive ______ left ____ qt right ____ qt|    M12 SOLVED' \
    "$(grep '^    M12' "$folder/sheet" | paste -sd '|')"
same an_air_filter_asks_for_no_oil '  air filter: changed [ ]|    M12 DONE air ______' \
    "$(sheet M12 air | grep -e 'changed' -e 'qt' -e 'left' -e 'Level' -e ' DONE ' | grep -v '^  \[' | paste -sd '|')"
same four_sides_are_numbered_and_several_fluids_summed '  hub oil: side 1 ________ qt    side 2 ________ qt    side 3 ________ qt|    side 4 ________ qt|  gear oil: ________ l|       fluid in all: 3.057 qt|    M12 DONE four ______ ____ qt' \
    "$(sheet M12 four | grep -e 'side [1-4]' -e 'gear oil:' -e 'in all' -e ' DONE ' | sort -r | sed 's/^  side 4/    side 4/' |
        awk '/hub/ { print } /side 4/ && !/hub/ { four = $0 } /gear/ { gear = $0 } /in all/ { all = $0 } /DONE/ { done = $0 } END { print four; print gear; print all; print done }' | paste -sd '|')"
same its_words_are_in_the_language_of_the_one_it_is_for 'Hoja de trabajo: Aceite de mando|Fiche de travail: Huile' \
    "$(sheet M12 drive --for Ines | head -n 1 | cut -d , -f 1)|$(sheet M12 drive --for Luc | head -n 1 | cut -d , -f 1)"
# What the sheet says to text, with figures in its blanks, is understood in each language.
for who in Rosa Luc Ines; do
    sheet M12 drive --for $who | grep '^    M12 [DHF]' | sed 's/______/576/; s/____/2.4/; s/____/2.5/; s/^ *//'
done >"$folder/texts"
same what_it_says_to_text_is_understood 'service 576 4.9|service 576 4.9|service 576 4.9' \
    "$(n=0; while read -r text; do
        n=$((n + 1))
        cp "$folder/ledger.db" "$folder/try$n.db"
        sed "s|ledger.db|try$n.db|" "$folder/yard.conf" >"$folder/try.conf"
        "$program" text -c "$folder/try.conf" --now 2027-04-12T12:00:00-07:00 --as Rosa --json "$text" |
            jq -r '.statements[] | "\(.kind) \(.hours) \(.quantity)"'
    done <"$folder/texts" | paste -sd '|')"
same nobody_of_that_name 'meterpost: no person Inez; did you mean Ines?' "$(sheet M12 --for Inez 2>&1)"
same no_line_is_wider_than_the_paper 0 "$(for plan in drive air four; do sheet M12 $plan; done | awk 'length > 79' | wc -l)"

# The page: whole, and what was said stays words.
say 2027-04-11 Ines 'M12 545.5h <script>x</script>' >/dev/null
sheet M12 drive --page >"$folder/sheet.html"
same the_page_leads_nowhere_and_runs_nothing '0 0' \
    "$(grep -c '<script' "$folder/sheet.html") $(grep -cE '(href|src)=' "$folder/sheet.html")"
same the_page_is_in_its_language 'fr' "$(sheet M12 --for Luc --page | sed -n 's/^<html lang="\(.*\)">/\1/p')"
same every_element_of_the_page_is_closed '' "$(sheet M12 four --page | /usr/bin/python3 -c '
import html.parser, sys
class Page(html.parser.HTMLParser):
    open = []
    def handle_starttag(self, tag, attributes):
        if tag != "meta":
            self.open.append(tag)
    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            print("wrong", tag)
page = Page()
page.feed(sys.stdin.read())
page.close()
print(*page.open, end="")')"
browser=$(command -v chromium || command -v chromium-browser || command -v google-chrome)
if [ -n "$browser" ] && command -v pdfinfo >/dev/null && command -v pdftotext >/dev/null; then
    # The longest that the sample has, with much to say; its margins are at least 14 mm, 39 points.
    sed "s|^# ledger = .*|ledger = \"$folder/sample.db\";|; s|^# door = .*|door = \"$folder/sample-door\";|" \
        config/meterpost.conf >"$folder/sample.conf"
    for words in 'oil leak left side' 'grinding noise at the right rear wheel' 'wont start'; do
        "$program" text -c "$folder/sample.conf" --now 2027-04-10T12:00:00-07:00 --as Tom "M12 $words" >/dev/null
    done
    "$program" sheet M12 drive -c "$folder/sample.conf" --now 2027-04-12 --for Ines --page >"$folder/sample.html"
    HOME=$folder "$browser" --headless --no-sandbox --disable-gpu --no-pdf-header-footer \
        --print-to-pdf="$folder/sheet.pdf" "file://$folder/sample.html" >/dev/null 2>&1
    same it_is_printed_on_one_sheet '1' "$(pdfinfo "$folder/sheet.pdf" | sed -n 's/^Pages: *//p')"
    same and_has_margins 'yes' "$(pdftotext -bbox "$folder/sheet.pdf" - | awk -F '"' '
        /<page/ { wide = $2; high = $4 }
        /<word/ { if ($2 < 39 || $4 < 39 || $6 > wide - 39 || $8 > high - 39) print "at the edge:", $0; words++ }
        END { if (words > 100) print "yes" }')"
fi
exit "$status"
