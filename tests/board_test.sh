#!/bin/sh
# SPDX-License-Identifier: MIT
# The board by its front door: a page that another parser finds whole, that leads nowhere and runs
# nothing but its own script, whatever is in names and remarks; the same for the wall; and a file that
# is replaced only if it is a page. Speaks
# cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-board-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh

# The intervals are common practice, no source; the yard is invented.
cat >"$folder/yard.conf" <<END
ledger = "$folder/ledger.db";
door = "$folder/door";
shop: { name = "Alder & <Works>"; number = "+12065550100"; time_zone = "America/Los_Angeles"; };
plans: ( { name = "drive"; title = "Drive oil <b>and</b> \"filters\""; first = 75.0; every = 500.0; months = 12; },
         { name = "belts"; title = "Belts"; first = 100.0; every = 100.0; } );
kinds: ( { name = "ridge-60"; plans = ("drive", "belts"); hours_per_week = 30.0; } );
people: ( { name = "Ines"; phone = "+12065550110"; role = "crew"; },
          { name = "Rosa"; phone = "+12065550111"; role = "shop"; } );
machines: ( { name = "M7"; kind = "ridge-60"; site = "</p><img src=x>"; },
            { name = "M12"; kind = "ridge-60"; crew = ("Ines"); },
            { name = "M14"; kind = "ridge-60"; crew = ("Ines"); } );
END
board() { "$program" board -c "$folder/yard.conf" --now 2027-04-12 "$@" 2>&1; }
say() { "$program" text -c "$folder/yard.conf" --now "$1T12:00:00-07:00" --as "$2" "$3" >/dev/null; }

same without_a_ledger_the_page_shows_the_yard_as_the_config_tells_it '0 M7 M12 M14' \
    "$(board >"$folder/page.html"; echo $?) $(grep -o '^<h2>[^<]*' "$folder/page.html" | sed 's/<h2>//' | tr '\n' ' ' | sed 's/ $//')"
say 2027-04-01 Ines 'M12 40h tyre <script>x</script> low'
say 2027-04-05 Ines 'M12 60.5h'
say 2027-04-10 Ines 'M12 90h'
say 2027-04-09 Ines 'M14 10'
say 2027-04-10 Rosa 'M14 PARK'
board >"$folder/page.html"
same a_page_is_well 0 $?

# Every element that is opened is closed, in its order; what it holds and where it leads.
cat >"$folder/read.py" <<'END'
import html.parser, sys
class Page(html.parser.HTMLParser):
    def __init__(self):
        super().__init__()
        self.open, self.wrong, self.tags, self.leads, self.text, self.scripts = [], [], set(), [], [], 0
    def handle_starttag(self, tag, attributes):
        self.tags.add(tag)
        if tag == "script":
            self.scripts += 1
        if tag not in ("meta", "br"):
            self.open.append(tag)
        self.leads += [name for name, _ in attributes if name in ("href", "src", "srcset", "action", "xlink:href") or name.startswith("on")]
    def handle_startendtag(self, tag, attributes):
        self.handle_starttag(tag, attributes)
        self.open.pop()
    def handle_endtag(self, tag):
        if not self.open or self.open.pop() != tag:
            self.wrong.append(tag)
    def handle_data(self, data):
        self.text.append(data)
page = Page()
page.feed(open(sys.argv[1], encoding="utf-8").read())
page.close()
text = " ".join("".join(page.text).split())
print("left open", page.open, "closed wrongly", page.wrong, "leads to", page.leads)
print(page.scripts, "img" in page.tags, "b" in page.tags and "<b>and</b>" in text)
for said in sys.argv[2:]:
    if said not in text:
        print("does not say", said)
END
same another_parser_finds_it_whole_and_all_by_itself "left open [] closed wrongly [] leads to []
1 False True" "$(/usr/bin/python3 "$folder/read.py" "$folder/page.html")"
same it_says_how_each_machine_stands '' "$(/usr/bin/python3 "$folder/read.py" "$folder/page.html" \
    'Alder & <Works>' 'The yard as of 2027-04-12' 'Drive oil <b>and</b> "filters": overdue' \
    'Meter 90 h on 2027-04-10.' 'At 75 h, 15 h past it' 'at </p><img src=x>' 'no reading yet' \
    'laid up' '2027-04-01 M12: tyre <script>x</script> low' "maker's manual" | sed 1,2d)"
same the_style_fetches_nothing 0 "$(grep -c -e 'url(' -e '@import' -e 'https*:' "$folder/page.html")"
same the_worst_machine_comes_first 'M12 M7 M14' \
    "$(grep -o '^<h2>[^<]*' "$folder/page.html" | sed 's/<h2>//' | tr '\n' ' ' | sed 's/ $//')"
same hours_are_drawn_with_what_they_mean_in_words \
    'M12: hours that it has run, by the last 3 readings, and between which days the next service is expected' \
    "$(grep -o '<title>M12[^<]*' "$folder/page.html" | sed 's/<title>//')"
same the_marks_are_drawn 'drive' "$(grep -o '"level".*' "$folder/page.html" | grep -o '>drive<' | tr -d '<>')"
same the_drawing_is_xml '' "$(grep '^<svg' "$folder/page.html" | /usr/bin/python3 -c '
import sys, xml.dom.minidom
for line in sys.stdin:
    xml.dom.minidom.parseString(line.split("</svg>")[0] + "</svg>")' 2>&1)"

same where_the_next_service_is_expected_is_drawn '1 0' \
    "$(grep '>M12: hours' "$folder/page.html" | grep -o 'class="cone"' | wc -l) $(grep '>M14: hours' "$folder/page.html" | wc -l)"
same the_script_that_may_run_is_the_one_on_the_page '' "$(/usr/bin/python3 - "$folder/page.html" <<'END'
import base64, hashlib, re, sys
page = open(sys.argv[1], encoding="utf-8").read()
script = re.search("<script>(.*?)</script>", page, re.S).group(1)
digest = "sha256-" + base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
allowed = re.search("script-src '([^']*)'", page).group(1)
print("" if digest == allowed else "the script's hash is " + digest, end="")
END
)"

# For the wall.
board --wall >"$folder/wall.html"
same the_wall_is_whole_and_all_by_itself "left open [] closed wrongly [] leads to []
1 False True" "$(/usr/bin/python3 "$folder/read.py" "$folder/wall.html")"
same the_wall_says_what_is_worst_what_is_booked_and_what_is_open '' "$(/usr/bin/python3 "$folder/read.py" "$folder/wall.html" \
    'Alder & <Works>' 'Made Mon Apr 12, 00:00' '1 overdue' '1 coming up' '0 in the shop' \
    'M12Drive oil <b>and</b> "filters"15 h past it, since' 'Today, Mon Apr 12 nothing booked' \
    'Tomorrow, Tue Apr 13 nothing booked' 'Trouble none' 'Readings wanted none' | sed 1,2d)"
same the_wall_leaves_out_what_rests 1 "$(grep -c 'class="name"' "$folder/wall.html")"
# A rem is 16 px on 1920 by 1080, and contrast is reckoned as WCAG 2.2 does (relative luminance).
same the_wall_has_no_text_below_28_px '' "$(grep -o 'font\(-size\)*:[0-9.]*rem' "$folder/wall.html" |
    sed 's/.*://; s/rem//' | awk '$1 * 16 < 28')"
cat >"$folder/contrast.py" <<'END'
import re, sys
page = open(sys.argv[1], encoding="utf-8").read()
def luminance(colour):
    parts = [int(colour[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    red, green, blue = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
sets = re.findall(r":root\{color-scheme:light dark;(.*?)\}|dark\)\{:root\{(.*?)\}", page, re.S)
for one in sets:
    colours = dict(re.findall("--([a-z]+):#([0-9a-f]{6})", one[0] or one[1]))
    for name in colours.keys() - {"ground", "card", "line"}:
        for ground in ("ground", "card"):
            light, dark = sorted((luminance(colours[name]), luminance(colours[ground])), reverse=True)
            if (light + 0.05) / (dark + 0.05) < 7:
                print(name, "on", ground, round((light + 0.05) / (dark + 0.05), 2))
print(len(sets), "sets of colours")
END
for form in page wall; do
    same every_ink_of_the_${form}_stands_out_seven_to_one '2 sets of colours' \
        "$(/usr/bin/python3 "$folder/contrast.py" "$folder/$form.html")"
done

# In the bay: booked for today, done on the day before with a level to look at; parts of the week.
sed 's/months = 12; }/months = 12; recheck_after = 5.0; minutes = 90; kit = ( { item = "20W-50 <oil>"; quantity = 4.5; unit = "qt"; sold_in = 1.0; }, { item = "filter"; quantity = 2.0; unit = "piece"; sold_in = 1.0; lead_days = 3; } ); }/' \
    "$folder/yard.conf" | sed "s#/ledger.db#/bay.db#" >"$folder/bay.conf"
bay() { "$program" "$@" -c "$folder/bay.conf"; }
for text in '2027-04-08T12:00:00-07:00|Ines|M12 60, M14 80, M7 60' '2027-04-11T12:00:00-07:00|Rosa|M14 DONE drive 81 4qt' \
    '2027-04-11T18:00:00-07:00|Ines|M14 82, M12 72' '2027-04-12T05:00:00-07:00|Rosa|M12 BOOK 2027-04-12'; do
    bay text --now "${text%%|*}" --as "$(echo "$text" | cut -d '|' -f 2)" "${text##*|}" >/dev/null
done
bay board --now 2027-04-12T07:30:00-07:00 >"$folder/bay.html"
bay board --wall --now 2027-04-12T07:30:00-07:00 >"$folder/bay-wall.html"
same the_bay_is_shown_for_eight_weeks '8 1' "$(grep -c 'class="column"' "$folder/bay.html") $(grep -c '<h2>The bay in the next eight weeks' "$folder/bay.html")"
same a_card_says_where_it_is_what_it_takes_and_what_is_left_to_look_at '' "$(/usr/bin/python3 "$folder/read.py" "$folder/bay.html" \
    'Booked for 2027-04-12.' 'To order this week: filter by 2027-04-12.' 'Kit to have this week: 4.5 qt 20W-50 <oil>, 2 filter.' 'Last done at 81 h on 2027-04-11.' \
    'Level: to be looked at past 86 h.' '1 booked' 'Suggested for the bay: 2027-' | sed 1,2d)"
same the_wall_says_what_is_booked_for_today '' "$(/usr/bin/python3 "$folder/read.py" "$folder/bay-wall.html" \
    'Today, Mon Apr 12 M12 Drive oil' 'booked Mon Apr 12' | sed 1,2d)"
# What the daemon's round does of a morning, and the answer to it.
step() { sqlite3 "$folder/bay.db" "INSERT INTO alerts (machine_id, plan, cycle, stage, raised_s, cause_service_id)
    SELECT s.machine_id, s.plan, s.meter_hundredths + 1, '$1', unixepoch('2027-04-12 15:00:00'), s.id
    FROM services s JOIN machines m ON m.id = s.machine_id WHERE m.name = 'M14'"; }
step recheck
same a_level_that_was_asked_for_says_so 1 "$(bay board --now 2027-04-12T09:00:00-07:00 | grep -c 'to be looked at, asked for on <span class="day">2027-04-12')"
step rechecked
same a_level_that_was_looked_at_says_when 1 "$(bay board --now 2027-04-12T11:00:00-07:00 | grep -c 'Level looked at again on <span class="day">2027-04-12')"

# To a file.
board "$folder/written.html"
same a_file_is_written "$(cksum <"$folder/page.html")" "$(cksum <"$folder/written.html")"
echo old >>"$folder/written.html"
board "$folder/written.html"
same a_page_is_replaced "$(cksum <"$folder/page.html")" "$(cksum <"$folder/written.html")"
same another_file_is_left_alone "meterpost: $folder/yard.conf is there and is no page; name another file" \
    "$(board "$folder/yard.conf")"
board "$folder/none/written.html" >/dev/null
same a_folder_that_is_not_there_is_said 73 $?
same nothing_is_left_beside 'written.html' "$(ls "$folder" | grep written)"
exit "$status"
