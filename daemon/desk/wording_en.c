/* SPDX-License-Identifier: MIT
 * wording_en: the sentences in English, as a crew in the United States says them. */
#include "daemon/desk/wording.h"

const struct wording wording_en = {
    .language = "en",
    .date = "M D",
    .date_year = "M D, Y",
    .today_12 = "today at T:N P",
    .today_24 = "today at H:N",
    .on = "on",
    .months = {"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"},
    .sentences =
        {
            [WORDING_NOTED] = "{machine} {hours}h noted.",
            [WORDING_NOTED_ON] = "{machine} {hours}h noted for {day}.",
            [WORDING_ALREADY] = "{machine} {hours}h is already noted.",
            [WORDING_SOFT] = "That's {count}h a day. If it's wrong, text UNDO.",
            [WORDING_BACK_AT_WORK] = "It's back at work.",
            [WORDING_RECHECKED] = "Thanks: {machine} oil level check noted.",
            [WORDING_SHOP_RECORDS] = "The shop will record any service itself.",
            [WORDING_DONE_FORM] = "To record a service, text {machine} DONE {plan} {hours}.",
            [WORDING_FORM] = "Please text {machine} and its hours{example}.",
            [WORDING_LIKE] = ", like {words} {last}h",
            [WORDING_FINE] = "{title} next due at {due}h: {left}h to go, around {day}.",
            [WORDING_FINE_HOURS] = "{title} next due at {due}h: {left}h to go.",
            [WORDING_FINE_CALENDAR] = "{title} next due by {day}, or at {due}h.",
            [WORDING_COMING] = "{title} coming up at {due}h: {left}h to go, around {day}.",
            [WORDING_COMING_HOURS] = "{title} coming up at {due}h: {left}h to go.",
            [WORDING_COMING_CALENDAR] = "{title} coming up: due by {day}.",
            [WORDING_DUE] = "{title} due now (at {due}h).",
            [WORDING_DUE_CALENDAR] = "{title} due now (by {day}).",
            [WORDING_OVERDUE] = "{title} overdue by {left}h.",
            [WORDING_OVERDUE_CALENDAR] = "{title} overdue since {day}.",
            [WORDING_NO_RECORD] = "{title}: no record yet, the shop has been asked.",
            [WORDING_NO_RECORD_SHOP] =
                "{title}: no record yet. Text {machine} DONE {plan} and its hours then.",
            [WORDING_BRING] = "Please bring it in.",
            [WORDING_BRING_ON] = "Please bring it in on {day}.",
            [WORDING_ALSO_DUE] = "Also due: {list}.",
            [WORDING_STANDS_AT] = "{machine} {hours}h on {day}.",
            [WORDING_LAID_UP] = "{machine} is parked for the season.",
            [WORDING_IN_SHOP_SINCE] = "In the shop since {day}.",
            [WORDING_BOOKED_FOR] = "Booked for {day}.",
            [WORDING_UNREAD] = "{machine}: no reading yet. Please text {machine} and its hours.",
            [WORDING_SERVICE] = "{machine} {hours}h: {title} done{list}{when}, noted.",
            [WORDING_SERVICE_ALREADY] = "{machine} {hours}h: {title}{list}{when} is already noted.",
            [WORDING_NEXT] = "Next at {due}h: {left}h to go, around {day}.",
            [WORDING_NEXT_HOURS] = "Next at {due}h: {left}h to go.",
            [WORDING_NEXT_CALENDAR] = "Next by {day}, or at {due}h.",
            [WORDING_CORRECTED] = "{machine} {hours}h noted instead of {last}h.",
            [WORDING_CORRECTED_FORCED] = "{machine} {hours}h noted instead of {last}h. That's a "
                                         "big step: text UNDO to take it back.",
            [WORDING_CORRECTED_MACHINE] = "{machine} {hours}h noted; {last}h of {other} is taken "
                                          "back.",
            [WORDING_NOTHING_TO_CORRECT] =
                "{machine} has no reading to correct yet. Just text {machine} and its hours.",
            [WORDING_SWAPPED] = "{machine}: new meter noted. Old one {last}h, new one {hours}h; "
                                "its hours carry on.",
            [WORDING_ROLLED_OVER] =
                "{machine} {hours}h noted: the meter rolled over after {last}h.",
            [WORDING_LATER] = "{machine}: no reminders until {day}.",
            [WORDING_NOTHING_DUE] = "{machine} has nothing due or coming up.",
            [WORDING_PARKED] = "{machine} is parked for the season: no reminders until you text "
                               "BACK or a reading comes.",
            [WORDING_PARKED_ALREADY] = "{machine} is already parked for the season.",
            [WORDING_BACK] = "{machine} is back at work.",
            [WORDING_BACK_ALREADY] = "{machine} is already at work.",
            [WORDING_BOOKED] = "{machine} is booked for {day}. Reminders rest until then.",
            [WORDING_BOOKED_INSTEAD] =
                "{machine} is booked for {day} instead of {when}. Reminders rest until then.",
            [WORDING_BOOKED_ALREADY] = "{machine} is already booked for {day}.",
            [WORDING_BOOK_DAY] =
                "{machine}: which day? Text {machine} BOOK and a weekday or a date to come.",
            [WORDING_BOOK_PAST] =
                "{machine} not booked: {day} is over. Text {machine} BOOK and a day to come.",
            [WORDING_BOOK_LEFT] =
                "OK, {machine} is not booked. Text {machine} BOOK and another day.",
            [WORDING_BOOK_STAYS] =
                "{machine} stays booked for {day}. Text {machine} OUT to drop it, "
                "or {machine} BOOK and another day.",
            [WORDING_BOOK_IN_SHOP] = "{machine} has been in the shop since {day}. Text {machine} "
                                     "OUT when it leaves, then book it.",
            [WORDING_IN] = "{machine} is in the shop. Text {machine} OUT when it leaves.",
            [WORDING_IN_ALREADY] = "{machine} is already in the shop, since {day}.",
            [WORDING_OUT] = "{machine} is out of the shop and back at work.",
            [WORDING_OUT_BOOKING] = "{machine}: the booking for {day} is off.",
            [WORDING_OUT_ALREADY] = "{machine} was not in the shop, nothing changed. To book it, "
                                    "text {machine} BOOK and a day.",
            [WORDING_WHERE_FUTURE] = "{machine}: that day is yet to come. Please text it then.",
            [WORDING_IN_FUTURE] =
                "{machine}: that day is yet to come. To book it, text {machine} BOOK and the day.",
            [WORDING_WHERE_DAY] =
                "{machine}: I can't tell the day. Please send it again with a weekday or a date.",
            [WORDING_GONE] = "{machine} is noted as gone: nothing of it comes due, its record "
                             "stays. {machine} BACK brings it back.",
            [WORDING_GONE_ALREADY] = "{machine} is already noted as gone, on {day}.",
            [WORDING_GONE_SHOP] = "Not saved: {machine} left the yard on {day}. If it is back, "
                                  "text {machine} BACK first.",
            [WORDING_GONE_CREW] = "{machine} left the yard on {day}: not saved. The shop is being "
                                  "told, in case you still have it.",
            [WORDING_GONE_CONFIG] = "{machine} left the yard on {day} by the admin's own list. The "
                                    "admin has to take that out first.",
            [WORDING_GONE_STANDS] = "{machine} left the yard on {day}. Its record stays.",
            [WORDING_RENAMED] = "{other} is {machine} now.",
            [WORDING_SHOP_ONLY] =
                "{machine}: that's for the shop to record. You can always text its hours{example}.",
            [WORDING_TAKEN_BACK] = "Taken back: {words}",
            [WORDING_TROUBLE_TOLD] = "{machine}: {words}. Noted, the shop is being told now.",
            [WORDING_TROUBLE_LATER] =
                "{machine}: {words}. Noted, the shop hears of it as soon as it opens.",
            [WORDING_TROUBLE_KEPT] = "{machine}: {words}. Noted, open until you text SOLVED.",
            [WORDING_TROUBLE_ALREADY] = "{machine}: {words}. Already noted, the shop knows.",
            [WORDING_TROUBLE_UNHEARD] = "{machine}: {words}. Noted, but no one at the shop takes "
                                        "texts now. Please call them.",
            [WORDING_TROUBLE_UNNAMED] = "{words}. Noted, the shop hears of it.",
            [WORDING_DANGER] = "Stop {machine} and keep everyone clear. If anyone is in danger, "
                               "call the emergency number first. The shop is being told.",
            [WORDING_DANGER_UNNAMED] =
                "Stop the machine and keep everyone clear. If anyone is in danger, call the "
                "emergency number first. The shop is being told.",
            [WORDING_DANGER_UNHEARD] = "Stop the machine, keep everyone clear, call the emergency "
                                       "number first. No one at the shop takes texts: call them.",
            [WORDING_DANGER_WORDS] = "Noted: {words}.",
            [WORDING_REMARK] = "{machine}: thanks, noted. The shop will read it.",
            [WORDING_REMARK_KEPT] = "{machine}: noted as a remark, nothing else changed.",
            [WORDING_REMARK_PASSED] = "Your note goes to the shop.",
            [WORDING_SOLVED] = "{machine}: noted as solved.",
            [WORDING_SOLVED_ALREADY] = "{machine}: no trouble was open on it.",
            [WORDING_LEVEL_OPEN] = "Thanks. {machine} still needs its oil level checked: reply YES "
                                   "once you've looked.",
            [WORDING_LEVEL_NO] =
                "{machine}: OK, the shop is being told that the oil level isn't right.",
            [WORDING_LEVEL_WORDS] = "{machine}: the shop is being told. The oil level check is "
                                    "still open: reply YES once you've looked.",
            [WORDING_UNDO_OR_SHOP] = "If your last one was wrong, text UNDO, or ask the shop.",
            [WORDING_ASKED_BEFORE] = "{machine} {hours}h not saved: you said NO to that. If your "
                                     "last one was wrong, text UNDO, or ask the shop.",
            [WORDING_LAST_SAVED] = "I didn't get that. I do have your text before it: {words}.",
            [WORDING_LAST_UNSAVED] =
                "I didn't get that. Your text before it was not saved either: {words}.",
            [WORDING_STOP_UNDO] = "To take back your last reading, text UNDO instead.",
            [WORDING_SERVICE_COMPLETED] =
                "{machine} {hours}h: {title} done{list}{when}, record completed.",
            [WORDING_SERVICE_DAY_WANTED] =
                "Which day was it? Text {machine} DONE {words}{hours} and the date.",
            [WORDING_NOTHING_TO_TAKE_BACK] =
                "Nothing to take back: UNDO takes back your last text alone, within 24 hours.",
            [WORDING_DUE_ITEM_DUE] = "{machine} {plan} due now",
            [WORDING_DUE_ITEM_OVERDUE] = "{machine} {plan} overdue",
            [WORDING_DUE_ITEM_COMING] = "{machine} {plan} due in {left}h",
            [WORDING_DUE_ITEM_CALENDAR] = "{machine} {plan} due by {day}",
            [WORDING_DUE_ITEM_NO_RECORD] = "{machine} {plan} not on record",
            [WORDING_DUE_ITEM_WANTED] = "{machine} no reading since {day}, likely {last}h",
            [WORDING_DUE_ITEM_BOOKED] = "(booked {day})",
            [WORDING_DUE_ITEM_IN_SHOP] = "(in the shop)",
            [WORDING_DUE_MORE] = "and {count} more",
            [WORDING_DUE_NOTHING] = "Nothing is due or coming up.",
            [WORDING_DUE_SHORT] =
                "I am short of memory, so there is no list just now. Please text DUE again later.",
            [WORDING_ASK_SLIP] =
                "{machine} {hours}h? It was {last}h {when}. Did you mean {offer}h? YES or NO.",
            [WORDING_ASK_SLIP_UNREAD] = "{machine} {hours}h? Did you mean {offer}h? YES or NO.",
            [WORDING_ASK_OTHER_MACHINE] = "{machine} {hours}h? It was {last}h {when}. Did you mean "
                                          "{other} {hours}h? YES or NO.",
            [WORDING_ASK_LAST_WRONG] = "{machine} {hours}h? It was {last}h {when}. Was {last}h "
                                       "wrong? YES puts {hours}h in its place, or NO.",
            [WORDING_ASK_ROLL_OVER] =
                "{machine} {hours}h? It was {last}h {when}. Did the meter roll over? YES or NO.",
            [WORDING_ASK_SWAP] = "{machine} {hours}h from {person}; it was {last}h on {day}. Is it "
                                 "a new meter? YES or NO.",
            [WORDING_ASK_FORCE] = "{machine} {hours}h from {person}, sent twice; it was {last}h on "
                                  "{day}. Take {hours}h? YES or NO.",
            [WORDING_ASK_SURE] = "{machine} {hours}h: is that right? YES or NO.",
            [WORDING_ASK_TWO_FIGURES] =
                "{machine}: {hours}h or {offer}h? Text the one that's right.",
            [WORDING_ASK_REPLACE] = "{machine} {hours}h instead of {last}h? YES or NO.",
            [WORDING_ASK_METER] = "{machine} {hours}h? It was {last}h {when}. Does the meter "
                                  "really show {hours}h? Spell out YES, or text what it shows.",
            [WORDING_ASK_SERVICE] = "{machine} {hours}h: is {title} done? YES or NO.",
            [WORDING_ASK_WHICH_TROUBLE] = "{words}: noted. Which machine is it? Text its name.",
            [WORDING_ASK_WHICH_MACHINE] = "{words}: which machine, {list}? Text its name.",
            [WORDING_ASK_PLAN] = "{machine} {hours}h: which service, {list}? Text its name.",
            [WORDING_ASK_QUANTITY] =
                "{machine} {hours}h, {title}: is that {count} {unit}? YES or NO.",
            [WORDING_ASK_PAST_SERVICE] =
                "{machine} {hours}h: was {title} done back then, before {last}h? YES or NO.",
            [WORDING_ASK_BOOK] = "{machine}: the shop is closed on {day}, open again on {when}. "
                                 "Book {day} all the same? YES or NO.",
            [WORDING_ASK_COMING] = "{machine} is not in yet. Shall I book it for {day}? YES or NO.",
            [WORDING_REPLACES_QUESTION] = "Never mind my last question.",
            [WORDING_NOT_CHANGED] =
                "OK, {machine} stays as it was. Text the right hours when you can.",
            [WORDING_NO_QUESTION] = "Thanks, but I'm not waiting for an answer. For a reading, "
                                    "text {machine} and its hours{example}.",
            [WORDING_SETTLED_ALREADY] = "{machine}: that has already been taken care of.",
            [WORDING_TOO_HIGH] = "{machine} {hours}h not saved: it was {last}h {when}, so it can't "
                                 "be over {most}h. Please look again.",
            [WORDING_TOO_LOW] = "{machine} {hours}h not saved: it was {last}h {when}. Please look "
                                "at the meter again.",
            [WORDING_BEFORE_FIRST] = "{machine} {hours}h not saved: its first reading came later, "
                                     "{last}h {when}. Please look at the date.",
            [WORDING_NO_SUCH_FIGURE] =
                "{machine} {hours}h not saved: its meter can't show that. Please look again.",
            [WORDING_SHOP_ASKED] = "{machine} {hours}h not saved: it was {last}h {when}. The shop "
                                   "has been asked about it.",
            [WORDING_SHOP_TOOK] = "{machine} {hours}h is noted now: the shop confirmed it.",
            [WORDING_SHOP_LEFT] =
                "{machine} {hours}h was not taken by the shop. Please look again, or call them.",
            [WORDING_ONE_AT_A_TIME] =
                "{machine} {hours}h not saved yet: answer my question first, then send it again.",
            [WORDING_NO_SUCH_MACHINE] = "I have no {words} here. Please check the name.",
            [WORDING_YOURS] = "Yours: {list}.",
            [WORDING_NO_SUCH_PLAN] = "{machine} has no service {words}. It has: {list}.",
            [WORDING_NO_FLUID] =
                "{machine}: {title} takes no oil. Please send it again without a quantity.",
            [WORDING_BAD_DATE] = "{machine} {hours}h not saved: I can't tell the day. Please send "
                                 "it again with yesterday, a weekday or a date.",
            [WORDING_FUTURE] = "{machine} {hours}h not saved: that time hasn't come yet.",
            [WORDING_BAD_DAYS] = "Please text 1 to 60 days: {machine} LATER 7 means a week.",
            [WORDING_NEEDS_FIGURE] = "Please add the hours{example}.",
            [WORDING_NEEDS_TWO_FIGURES] = "Please text {machine} SWAP, then the old meter's last "
                                          "hours and the new one's first.",
            [WORDING_WORD_DONE] = "DONE",
            [WORDING_WORD_FIX] = "FIX",
            [WORDING_NOT_UNDERSTOOD] = "Sorry, I didn't get that. Text {machine} and its "
                                       "hours{example}, or what's wrong with it. HELP shows more.",
            [WORDING_TEN_ONLY] = "I took only the first ten.",
            [WORDING_OPTED_OUT] =
                "You had sent STOP, so I did not save this. Text START, then send it again.",
            [WORDING_NO_PICTURES] =
                "I can't read pictures. Please text the machine's name and its hours.",
            [WORDING_HELP_CREW] = "{shop}: text a machine and its hours{example}, or what's wrong. "
                                  "{machine}? tells how it stands. DUE, UNDO, STOP. Park first.",
            [WORDING_HELP_SHOP] =
                "{shop}: machine hours, DONE hours, FIX hours, SWAP old new, SOLVED, "
                "BOOK day, IN, OUT, PARK, BACK, GONE, LATER. DUE UNDO STOP",
            [WORDING_STOPPED] = "{shop}: OK, no more texts. Readings you send are still saved. "
                                "Text START to turn texts back on.",
            [WORDING_STARTED] = "{shop}: your texts are on again. Text {machine} and its "
                                "hours{example}. STOP ends them.",
            [WORDING_TELL_HEAD] = "{shop}:",
            [WORDING_TELL_COMING] =
                "{machine}{site} coming up: {title} at {due}h, {left}h to go, around {day}.",
            [WORDING_TELL_COMING_HOURS] =
                "{machine}{site} coming up: {title} at {due}h, {left}h to go.",
            [WORDING_TELL_COMING_CALENDAR] = "{machine}{site} coming up: {title} by {day}.",
            [WORDING_TELL_DUE] = "{machine}{site} due now: {title} at {due}h, meter at {hours}h.",
            [WORDING_TELL_DUE_CALENDAR] =
                "{machine}{site} due now: {title} by {day}, meter at {hours}h.",
            [WORDING_TELL_OVERDUE] =
                "{machine}{site} OVERDUE by {left}h: {title}, meter at {hours}h.",
            [WORDING_TELL_OVERDUE_CALENDAR] =
                "{machine}{site} OVERDUE since {day}: {title}, meter at {hours}h.",
            [WORDING_TELL_NO_RECORD] = "{machine}{site} is at {hours}h with no {title} on record. "
                                       "When was it? Text {machine} DONE {plan} and hours.",
            [WORDING_TELL_SUGGESTED] = "Bay free {day}.",
            [WORDING_TELL_UNBROUGHT] = "{machine} was booked for {day} and has not come in. Text "
                                       "{machine} BOOK and a new day, or OUT to drop it.",
            [WORDING_TELL_ESCALATED] = "Overdue {count} days or longer and not booked.",
            [WORDING_TELL_GONE] = "{machine} is noted as gone, yet {person} texts: {words}. If it "
                                  "is back, text {machine} BACK.",
            [WORDING_TELL_BACK_AT_WORK] =
                "{machine} was parked for the season and is back at work: {hours}h from {person}.",
            [WORDING_TELL_TAKEN_BACK] = "{person} took back: {words}",
            [WORDING_TELL_REMARK] = "{machine}{site}, {person}: {words}.",
            [WORDING_TELL_TROUBLE] = "{machine}{site} TROUBLE: {words} ({person}).",
            [WORDING_TELL_TROUBLE_UNNAMED] = "TROUBLE, no machine named: {words} ({person}).",
            [WORDING_TELL_DANGER] = "{machine}{site} DANGER: {words} ({person}).",
            [WORDING_TELL_DANGER_UNNAMED] = "DANGER: {words} ({person}).",
            [WORDING_TELL_WORDS_MORE] = "And {count} more from {person}.",
            [WORDING_TELL_LEVEL_NO] = "{machine}: {person} says NO to the oil level check.",
            [WORDING_TELL_LEVEL_WORDS] = "{machine}, asked for its oil level: {words} ({person}).",
            [WORDING_TELL_SILENT] = "{machine}: no reading since {day}, {person} was asked.",
            [WORDING_TELL_WANTED] = "{machine}: no reading since {day}, {person} was asked. Likely "
                                    "{last}h now; {title} is due at {due}h.",
            [WORDING_TELL_UNCHECKED] = "{machine}: oil level not confirmed after its {title}.",
            [WORDING_TELL_MORE] = "And {count} more: text DUE.",
            [WORDING_TELL_KIT] = "Have ready: {list}.",
            [WORDING_CHASE_READING] =
                "{machine}: no reading since {day}. Please text {machine} and its hours{example}.",
            [WORDING_CHASE_LEVEL] = "{machine}: please check the oil level before it runs: cold, "
                                    "at the mark, not above. Reply YES when done.",
            [WORDING_CREW_DUE] = "{machine}: {title} is due.",
            [WORDING_CREW_OVERDUE] = "{machine}: {title} is overdue.",
            [WORDING_CREW_BOOKED] =
                "{machine} is booked into the shop for {day}. Please bring it in then.",
            [WORDING_CREW_UNBOOKED] = "{machine}: the booking in the shop is off.",
            [WORDING_SUMMARY] = "{shop}: all is working. Since the last summary: {count} texts in; "
                                "due {count_due}, coming up {count_coming}.",
            [WORDING_SUMMARY_STRANGERS] = "Texts from unknown numbers, not answered: {count}.",
            [WORDING_SUMMARY_SET_ASIDE] =
                "Texts that could not be read, see the list of texts: {count}.",
            [WORDING_SUMMARY_TROUBLE] = "Open: {machine} {words} ({person}).",
        },
};
