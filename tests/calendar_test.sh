#!/bin/sh
# SPDX-License-Identifier: MIT
# The calendar as a feed, read by two general libraries (icalendar and vobject, which share no code)
# before and after what changes it: entries keep their identifiers, what has changed and nothing else is
# newer, what is done is cancelled. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-calendar-XXXXXX)
trap 'rm -rf "$folder"' EXIT
. tests/same.sh

# The intervals are common practice, no source; the yard is invented. write_config NAME [LINE OF SED]
write_config() {
    cat <<END | sed "${2:-}" >"$folder/$1.conf"
ledger = "$folder/$1.db";
door = "$folder/$1.door";
shop: { name = "Alder; Works"; number = "+12065550100"; time_zone = "America/Los_Angeles"; alert_from = "07:00"; };
plans: ( { name = "drive"; title = "Drive oil, filters"; first = 75.0; every = 500.0; months = 12; minutes = 90; } );
kinds: ( { name = "ridge-60"; plans = ("drive"); hours_per_week = 30.0; } );
people: ( { name = "Ines"; phone = "+12065550110"; role = "crew"; },
          { name = "Rosa"; phone = "+12065550111"; role = "shop"; } );
machines: ( { name = "M7"; kind = "ridge-60"; crew = ("Ines"); site = "Mill Pond"; },
            { name = "M12"; kind = "ridge-60"; crew = ("Ines"); last_done = { drive = { hours = 75.0; on = "2027-01-05"; }; }; },
            { name = "M14"; kind = "ridge-60"; crew = ("Ines"); } );
END
}
write_config yard
touch -d 2027-01-01 "$folder/yard.conf"
say() { "$program" text -c "$folder/yard.conf" --now "$1" --as "$2" "$3" >/dev/null; }
feed() { "$program" calendar -c "$folder/yard.conf" --now "$1"; }

# What a library makes of it: one line an entry, "UID STATUS SEQUENCE MODIFIED START SUMMARY".
cat >"$folder/by_icalendar.py" <<'END'
import sys, icalendar
calendar = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
for part in calendar.walk():
    assert not part.errors, part.errors
for event in calendar.walk("VEVENT"):
    alarms = [one["TRIGGER"].dt.total_seconds() / 3600 for one in event.walk("VALARM")]
    print(event["UID"], event["STATUS"], event["SEQUENCE"], event["LAST-MODIFIED"].dt.strftime("%Y-%m-%dT%H:%MZ"),
          event["DTSTART"].dt.isoformat(), *alarms, event["SUMMARY"], sep="|")
if len(sys.argv) > 1:
    print(calendar["NAME"], calendar["X-WR-CALNAME"], str(calendar["REFRESH-INTERVAL"]))
END
cat >"$folder/by_vobject.py" <<'END'
import sys, vobject
calendar = vobject.readOne(sys.stdin.buffer.read().decode("utf-8"))
calendar.validate(raiseException=True)
for event in getattr(calendar, "vevent_list", []):
    alarms = [one.trigger.value.total_seconds() / 3600 for one in getattr(event, "valarm_list", [])]
    print(event.uid.value, event.status.value, event.sequence.value, event.last_modified.value.strftime("%Y-%m-%dT%H:%MZ"),
          event.dtstart.value.isoformat(), *alarms, event.summary.value, sep="|")
END
icalendar() { feed "$1" | /usr/bin/python3 "$folder/by_icalendar.py" | sort; }
vobject() { feed "$1" | /usr/bin/python3 "$folder/by_vobject.py" | sort; }
# of FEED UID COLUMNS: what stands there of the entry
of() { printf '%s\n' "$1" | sed 's/@[0-9a-f]*\.meterpost//' | grep "^$2|" | cut -d '|' -f "$3"; }

say 2027-04-01T12:00:00-07:00 Ines 'M7 20, M12 300, M14 10'
say 2027-04-05T12:00:00-07:00 Ines 'M7 40.5, M12 320, M14 22'
before=$(icalendar 2027-04-06)
same two_libraries_read_the_same "$before" "$(vobject 2027-04-06)"
same an_entry_is_whole 'CONFIRMED|39726000|2027-04-05T19:00Z|-17.0|M7: Drive oil, filters' \
    "$(of "$before" M7-drive-0 2-4,6-)"
same the_calendar_has_a_name 'Alder; Works: services Alder; Works: services PT1H' \
    "$(feed 2027-04-06 | /usr/bin/python3 "$folder/by_icalendar.py" named | tail -n 1)"
same titles_bear_no_stage_in_brackets 0 "$(feed 2027-04-06 | grep -c '^SUMMARY:.*(')"

# A reading moves one date: that entry alone is newer.
say 2027-04-07T12:00:00-07:00 Ines 'M7 70'
after=$(icalendar 2027-04-07T13:00:00-07:00)
same after_a_reading_they_read_the_same_again "$after" "$(vobject 2027-04-07T13:00:00-07:00)"
same the_entries_are_the_same_ones "$(printf '%s\n' "$before" | cut -d '|' -f 1)" "$(printf '%s\n' "$after" | cut -d '|' -f 1)"
newer() { [ "$(of "$2" "$3" 3)" -gt "$(of "$1" "$3" 3)" ] && echo newer; }
same what_has_changed_is_newer newer "$(newer "$before" "$after" M7-drive-0)"
same what_has_not_is_as_it_was "$(of "$before" M12-drive-7501 2-)" "$(of "$after" M12-drive-7501 2-)"

# Done: cancelled, and the next one is another; taken back: it stands again, newer than before.
say 2027-04-08T09:00:00-07:00 Rosa 'M7 DONE 71'
done=$(icalendar 2027-04-08T10:00:00-07:00)
same done_is_cancelled_and_newer 'CANCELLED M7: Drive oil, filters newer' \
    "$(of "$done" M7-drive-0 2) $(of "$done" M7-drive-0 6) $(newer "$after" "$done" M7-drive-0)"
same the_next_service_is_another_entry CONFIRMED "$(of "$done" M7-drive-7101 2)"
same both_libraries_see_it_cancelled "$done" "$(vobject 2027-04-08T10:00:00-07:00)"
say 2027-04-08T11:00:00-07:00 Rosa UNDO
back=$(icalendar 2027-04-08T12:00:00-07:00)
same taken_back_it_stands_again_and_is_newer 'CONFIRMED newer' "$(of "$back" M7-drive-0 2) $(newer "$done" "$back" M7-drive-0)"
say 2027-04-09T09:00:00-07:00 Rosa 'M7 DONE 71'
same cancelled_as_long_as_calendars_look_back '1 0' \
    "$(icalendar 2027-07-07 | grep -c CANCELLED) $(icalendar 2027-07-09 | grep -c CANCELLED)"

# Silence moves a date from day to day; each day it is newer, and only then.
silent=$(icalendar 2027-06-20T08:00:00-07:00)
later=$(icalendar 2027-06-20T18:00:00-07:00)
next=$(icalendar 2027-06-21T08:00:00-07:00)
same a_date_that_moves_by_itself_is_newer_each_day 'newer' "$(newer "$silent" "$next" M14-drive-0)"
same and_not_within_the_day "$(of "$silent" M14-drive-0 3-5)" "$(of "$later" M14-drive-0 3-5)"

# Booked: at an hour of its day, one after the other as they were booked, as long as the plan takes.
hours() { for uid in M7-drive-7101 M14-drive-0; do of "$1" $uid 5-6; done | paste -sd ' '; }
say 2027-06-21T09:00:00-07:00 Rosa 'M14 BOOK 2027-06-24'
same alone_it_comes_at_the_opening '2027-06-24T14:00:00+00:00|-1.0' \
    "$(hours "$(icalendar 2027-06-21T09:01:00-07:00)" | cut -d ' ' -f 2)"
say 2027-06-21T09:05:00-07:00 Rosa 'M7 BOOK 2027-06-24'
booked=$(icalendar 2027-06-21T10:00:00-07:00)
same booked_work_has_its_hours '2027-06-24T15:30:00+00:00|-1.0 2027-06-24T14:00:00+00:00|-1.0' \
    "$(hours "$booked")"
same who_becomes_worse_keeps_its_hour "$(hours "$booked")" "$(
    cp "$folder/yard.db" "$folder/before.db"
    say 2027-06-21T10:05:00-07:00 Ines 'M7 900'
    say 2027-06-21T10:06:00-07:00 Ines YES
    hours "$(icalendar 2027-06-21T10:10:00-07:00)"
    mv "$folder/before.db" "$folder/yard.db")"
same booked_work_is_newer_and_read_alike "newer newer $booked" \
    "$(newer "$next" "$booked" M7-drive-7101) $(newer "$next" "$booked" M14-drive-0) $(vobject 2027-06-21T10:00:00-07:00)"
same it_ends_when_the_plan_says '90 90' "$(feed 2027-06-21T10:00:00-07:00 | /usr/bin/python3 -c '
import sys, icalendar
for event in icalendar.Calendar.from_ical(sys.stdin.buffer.read()).walk("VEVENT"):
    if "DTEND" in event:
        print(int((event["DTEND"].dt - event["DTSTART"].dt).total_seconds()) // 60)' | paste -sd ' ')"
# Gone: what was to come is cancelled.
sed 's/name = "M14"/name = "M14"; gone = "2027-06-22"/' "$folder/yard.conf" >"$folder/gone.conf"
touch -d 2027-01-01 "$folder/gone.conf"
same what_is_gone_is_cancelled_and_newer 'CANCELLED newer' "$(
    gone=$("$program" calendar -c "$folder/gone.conf" --now 2027-06-23 | /usr/bin/python3 "$folder/by_icalendar.py")
    echo "$(of "$gone" M14-drive-0 2) $(newer "$booked" "$gone" M14-drive-0)")"

# Another yard with machines of the same names.
write_config other
"$program" text -c "$folder/other.conf" --now 2027-04-01 --as Ines 'M7 20' >/dev/null
same two_yards_share_no_identifier '' \
    "$({ feed 2027-04-06; "$program" calendar -c "$folder/other.conf" --now 2027-04-06; } | grep '^UID:' | tr -d '\r' | sort | uniq -d)"
# A machine renamed is the same entry.
sed 's/name = "M12"/name = "M20"; formerly = ("M12")/' "$folder/yard.conf" >"$folder/renamed.conf"
same a_renamed_machine_keeps_its_entries "$(feed 2027-04-10 | grep '^UID:M12-')" \
    "$("$program" calendar -c "$folder/renamed.conf" --now 2027-04-10 | grep '^UID:M12-')"
same json_says_the_same "$(of "$done" M7-drive-0 2-3 | tr 'A-Z|' 'a-z ')" \
    "$("$program" calendar -c "$folder/yard.conf" --now 2027-04-09T10:00:00-07:00 --json |
        jq -r '.events[] | select(.uid | startswith("M7-drive-0@")) | "\(.status) \(.sequence)"' | sed 's/ .*/ '"$(of "$done" M7-drive-0 3)"'/')"
same an_empty_yard_shows_what_the_config_tells '2' \
    "$(write_config empty 's/months = 12;/months = 12;/'; sed -i 's/{ name = "M7"/{ name = "M7"; started = { hours = 0.0; on = "2027-02-01"; }/' "$folder/empty.conf"
        "$program" calendar -c "$folder/empty.conf" --now 2027-04-06 2>/dev/null | grep -c '^UID')"
exit "$status"
