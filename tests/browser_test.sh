#!/bin/sh
# SPDX-License-Identifier: MIT
# The board in a real browser: axe-core finds nothing against WCAG 2.2 AA, on the wall nothing below 7:1
# (1.4.6) either; nothing is too small, cut off or wider than the screen, by day, by night and on a phone;
# an old page says so; on paper no card is cut and no page a quarter empty. Speaks cmocka's lines. Where
# there is no chromium or no axe-core all is skipped, and says what brings them: make screens.
program=${METERPOST_BUILD:-build}/meterpost
axe=build/npm/node_modules/axe-core/axe.min.js
folder=$(mktemp -d /tmp/meterpost-browser-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh
. tests/board_yard.sh

browse() { chromium --headless --no-sandbox --disable-gpu --user-data-dir="$folder/profile" "$@" 2>"$folder/browser.log"; }

if ! command -v chromium >/dev/null || [ ! -e "$axe" ]; then
    echo "no chromium, or no $axe: make screens installs them"
    for name in board_in_a_browser board_on_paper; do
        printf '[ RUN      ] %s\n[  SKIPPED ] %s\n' "$name" "$name"
    done
    exit 0
fi

board_yard >/dev/null
yard board "$folder/desk.html"
yard board --wall "$folder/wall.html"
sed 's/<html lang="en">/<html>/' "$folder/desk.html" >"$folder/fault.html"
sed 's/datetime="2027-04-12/datetime="2020-04-12/' "$folder/wall.html" >"$folder/old.html"

# Many machines with names as long as they may be, and much to say of each.
{
    sed -n '1,/^machines/p' "$folder/yard.conf" | sed "s#ledger.db#crowd.db#"
    for number in $(seq 1 40); do
        printf '%s    { name = "WWWWWWWWWWWWWW%02d"; kind = "ridge-60"; crew = ( "Ines", "Tom" ); site = "%s"; last_done = { drive = 1.0; }; }' \
            "$([ "$number" -eq 1 ] || echo ,)" "$number" "The far end of the North Bank, behind it"
    done
    echo ');'
} | sed 's/title = "Drive oil and filters"/title = "Drive oil, filters and all that goes wit"/' >"$folder/crowd.conf"
{
    echo machine,hours,read_at,person
    for number in $(seq 1 40); do
        printf 'WWWWWWWWWWWWWW%02d,%d,2027-03-%02dT12:00:00-07:00,Ines\n' "$number" $((490 + number % 40)) $((number % 28 + 1))
    done
} >"$folder/crowd.csv"
crowd() { "$program" "$@" -c "$folder/crowd.conf"; }
crowd import readings "$folder/crowd.csv" --now 2027-04-12 --apply >/dev/null
for number in 11 12 13 14 15; do
    crowd text --as Tom --now 2027-04-12T06:00:00-07:00 "WWWWWWWWWWWWWW$number hydraulic hose leaks at the left drive motor and the belt squeals whenever the deck is lowered on wet grass" >/dev/null
done
for number in 01 02 03 04 05 06 07 08 09 10 16 17; do
    crowd text --as Rosa --now 2027-04-12T06:30:00-07:00 "WWWWWWWWWWWWWW$number BOOK 2027-04-1$((2 + (1$number % 2)))" >/dev/null
done
crowd board --wall --now 2027-04-12T07:30:00-07:00 "$folder/wall-crowd.html"
crowd board --now 2027-04-12T07:30:00-07:00 "$folder/crowd.html"
# Both as one, with names of shops as long as they come; and a third that cannot be read.
sed "s#crowd.db#none.db#; s/name = \"[^\"]*\"; number/name = \"WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW\"; number/" "$folder/crowd.conf" >"$folder/none.conf"
several() { "$program" board -c "$folder/yard.conf" -c "$folder/crowd.conf" -c "$folder/none.conf" --now 2027-04-12T07:30:00-07:00 "$@" 2>/dev/null; }
several --wall "$folder/wall-several.html"
several "$folder/several.html"

/usr/bin/python3 tests/browser_look.py "$axe" \
    "wall:1920x1080:light:$folder/wall.html" "wall-dark:1920x1080:dark:$folder/wall.html" \
    "wall-crowd:1920x1080:light:$folder/wall-crowd.html" "wall-old:1920x1080:light:$folder/old.html" \
    "desk:1280x900:light:$folder/desk.html" "desk-dark:1280x900:dark:$folder/desk.html" \
    "phone:390x844:light:$folder/desk.html" "phone-crowd:390x844:dark:$folder/crowd.html" \
    "wall-several:1920x1080:light:$folder/wall-several.html" "desk-several:1280x900:light:$folder/several.html" \
    "phone-several:390x844:dark:$folder/several.html" \
    "fault:1280x900:light:$folder/fault.html" >"$folder/look.html"
browse --virtual-time-budget=120000 --window-size=1920,1080 --dump-dom "file://$folder/look.html" |
    /usr/bin/python3 -c '
import html, re, sys
found = re.search("<pre>(.*?)</pre>", sys.stdin.read(), re.S)
print(html.unescape(found.group(1)) if found else "[]")' >"$folder/found.json"
of() { jq -r "$1" "$folder/found.json"; }

same every_page_was_looked_at 'wall wall-dark wall-crowd wall-old desk desk-dark phone phone-crowd wall-several desk-several phone-several fault' \
    "$(of 'map(select(.passes > 5).name) | join(" ")')"
same axe_finds_nothing_against_AA '' "$(of '.[] | select(.name != "fault") | .name as $n | .violations[] | "\($n): \(.)"')"
same a_fault_put_in_is_found 'html-has-lang: <html>' "$(of '.[] | select(.name == "fault").violations[] | split(" xml")[0]' | sed 's/<html.*/<html>/')"
same night_is_dark 'rgb(23, 26, 22)' "$(of '.[] | select(.name == "wall-dark" or .name == "desk-dark" or .name == "phone-crowd" or .name == "phone-several").ground' | sort -u)"
same the_wall_has_no_text_below_28_px '' "$(of '.[] | select((.name | startswith("wall")) and .smallest < 28) | "\(.name) \(.smallest)"')"
same desk_and_phone_have_no_text_below_16_px '' "$(of '.[] | select(.smallest < 16) | "\(.name) \(.smallest)"')"
same nothing_leaves_the_screen '' "$(of '.[] | .name as $n | select(.wide or (.cut | length > 0)) | "\($n) \(.wide) \(.cut[0:3])"')"
same only_an_old_page_says_that_it_is_old 'wall-old' "$(of '.[] | select(.old).name')"

# On paper: each page but the last is filled, and what belongs to a machine stands on one page.
browse --no-pdf-header-footer --print-to-pdf="$folder/desk.pdf" "file://$folder/desk.html"
pages=$(pdfinfo "$folder/desk.pdf" | sed -n 's/^Pages: *//p')
for page in $(seq 1 "$pages"); do
    pdftoppm -r 20 -gray -f "$page" -l "$page" "$folder/desk.pdf" >"$folder/page.pgm"
    pdftotext -f "$page" -l "$page" -raw "$folder/desk.pdf" "$folder/page.txt"
    /usr/bin/python3 - "$folder" "$page" "$pages" <<'END'
import sys
folder, page, pages = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
_, size, _, rest = open(folder + "/page.pgm", "rb").read().split(b"\n", 3)
width, height = map(int, size.split())
inked = [y for y in range(height) if min(rest[y * width : (y + 1) * width]) < 200]
empty = 1 - (inked[-1] + 1) / height
if page < pages and empty > 0.25:
    print(f"page {page}: {empty:.2f} of it is empty")
lines = open(folder + "/page.txt", encoding="utf-8").read().splitlines()
kinds = sum(2 if line.startswith("ridge-60") else 1 for line in lines if line.startswith(("ridge-60", "slope-48")))
plans = sum(line.startswith(("Drive oil and filters:", "Belts and blades:")) for line in lines)
if kinds != plans:
    print(f"page {page}: {kinds} services of its machines, {plans} are told")
END
done >"$folder/paper"
same on_paper_no_card_is_cut_and_no_page_a_quarter_empty '' "$(cat "$folder/paper")"
exit "$status"
