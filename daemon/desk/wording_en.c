/* SPDX-License-Identifier: MIT
 * wording_en: the sentences in English. */
#include "daemon/desk/wording.h"

const struct wording wording_en = {
    .language = "en",
    .date = "M D",
    .date_year = "M D, Y",
    .on = "on",
    .today_at = "today at",
    .months = {"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"},
    .sentences =
        {
            [WORDING_NOTED] = "{machine} {hours}h noted.",
            [WORDING_NOTED_ON] = "{machine} {hours}h noted for {day}.",
            [WORDING_ALREADY] = "{machine} {hours}h is already noted.",
            [WORDING_SOFT] = "That is {count}h a day: UNDO if wrong.",
            [WORDING_BACK_AT_WORK] = "It is back at work.",
            [WORDING_RECHECK] =
                "Now check the oil level: cold, at the mark, not above. Reply YES when done.",
            [WORDING_RECHECKED] = "{machine}: level check noted.",
            [WORDING_SHOP_RECORDS] = "The shop records services.",
            [WORDING_DONE_FORM] = "For a service send {machine} DONE {plan} {hours}.",
            [WORDING_FORM] = "Please send {machine} and its hours, like {machine} 1340h.",
            [WORDING_FINE] = "{title} due at {due}h, in {left}h, about {day}.",
            [WORDING_FINE_HOURS] = "{title} due at {due}h, in {left}h.",
            [WORDING_FINE_CALENDAR] = "{title} due by {day}, or at {due}h.",
            [WORDING_COMING] = "{title} coming up at {due}h, in {left}h, about {day}.",
            [WORDING_COMING_HOURS] = "{title} coming up at {due}h, in {left}h.",
            [WORDING_COMING_CALENDAR] = "{title} coming up: due by {day}.",
            [WORDING_DUE] = "{title} due now (at {due}h).",
            [WORDING_DUE_CALENDAR] = "{title} due now (by {day}).",
            [WORDING_OVERDUE] = "{title} overdue by {left}h.",
            [WORDING_OVERDUE_CALENDAR] = "{title} overdue since {day}.",
            [WORDING_NO_RECORD] = "No {title} on record: the shop is asked.",
            [WORDING_NO_RECORD_SHOP] =
                "No {title} on record: send {machine} DONE {plan} and its hours.",
            [WORDING_BRING] = "Please bring it in.",
            [WORDING_ALSO_DUE] = "Also due: {list}.",
            [WORDING_STANDS_AT] = "{machine} {hours}h on {day}.",
            [WORDING_LAID_UP] = "{machine} is laid up.",
            [WORDING_UNREAD] = "{machine}: no reading yet. Send its hours, like {machine} 1340h.",
            [WORDING_SERVICE] = "{machine} {hours}h: {title} done, noted.",
            [WORDING_SERVICE_ALREADY] = "{machine} {hours}h: {title} is already noted.",
            [WORDING_NEXT] = "Next at {due}h, in {left}h, about {day}.",
            [WORDING_NEXT_HOURS] = "Next at {due}h, in {left}h.",
            [WORDING_NEXT_CALENDAR] = "Next by {day}, or at {due}h.",
            [WORDING_CORRECTED] = "{machine} {hours}h noted instead of {last}h.",
            [WORDING_CORRECTED_FORCED] = "{machine} {hours}h noted instead of {last}h. That is a "
                                         "big step: UNDO takes it back.",
            [WORDING_NOTHING_TO_CORRECT] =
                "{machine}: no reading to correct. Send {machine} and its hours.",
            [WORDING_SWAPPED] =
                "{machine}: new meter noted, old one {last}h, new one {hours}h. Its hours go on.",
            [WORDING_ROLLED_OVER] =
                "{machine} {hours}h noted: the meter rolled over after {last}h.",
            [WORDING_LATER] = "{machine}: no reminders until {day}.",
            [WORDING_NOTHING_DUE] = "{machine}: nothing is due or coming up.",
            [WORDING_PARKED] = "{machine} laid up: no reminders until BACK or a reading.",
            [WORDING_PARKED_ALREADY] = "{machine} is laid up already.",
            [WORDING_BACK] = "{machine} is back at work.",
            [WORDING_BACK_ALREADY] = "{machine} is at work.",
            [WORDING_SHOP_ONLY] =
                "{machine}: only the shop can record that. A reading goes like {machine} 1340h.",
            [WORDING_TAKEN_BACK] = "Taken back: {words}",
            [WORDING_NOTHING_TO_TAKE_BACK] =
                "There is nothing of yours from the last 24 hours to take back.",
            [WORDING_DUE_ITEM_DUE] = "{machine} {plan} due now",
            [WORDING_DUE_ITEM_OVERDUE] = "{machine} {plan} overdue",
            [WORDING_DUE_ITEM_COMING] = "{machine} {plan} due in {left}h",
            [WORDING_DUE_ITEM_CALENDAR] = "{machine} {plan} due by {day}",
            [WORDING_DUE_ITEM_NO_RECORD] = "{machine} {plan} not on record",
            [WORDING_DUE_MORE] = "and {count} more",
            [WORDING_DUE_NOTHING] = "Nothing is due or coming up.",
            [WORDING_ASK_SLIP] =
                "{machine} {hours}h? It was {last}h {when}. Did you mean {offer}h? YES or NO.",
            [WORDING_ASK_SLIP_UNREAD] = "{machine} {hours}h? Did you mean {offer}h? YES or NO.",
            [WORDING_ASK_OTHER_MACHINE] = "{machine} {hours}h? It was {last}h {when}. Did you "
                                          "mean {other} {hours}h? YES or NO.",
            [WORDING_ASK_LAST_WRONG] = "{machine} {hours}h? It was {last}h {when}. Was {last}h "
                                       "wrong? YES takes {hours}h instead, or NO.",
            [WORDING_ASK_ROLL_OVER] =
                "{machine} {hours}h? It was {last}h {when}. Did the meter roll over? YES or NO.",
            [WORDING_ASK_SWAP] = "{machine} {hours}h from {person}; it was {last}h on {day}. Is it "
                                 "a new meter? YES or NO.",
            [WORDING_ASK_FORCE] = "{machine} {hours}h from {person}, sent again; it was {last}h on "
                                  "{day}. Take {hours}h? YES or NO.",
            [WORDING_ASK_SURE] = "{machine} {hours}h: is that right? YES or NO.",
            [WORDING_ASK_TWO_FIGURES] =
                "{machine}: {hours}h or {offer}h? Send the one that is right.",
            [WORDING_ASK_WHICH_MACHINE] = "{words}: which one, {list}? Send its name.",
            [WORDING_ASK_PLAN] = "{machine} {hours}h: which service, {list}? Send its name.",
            [WORDING_ASK_QUANTITY] =
                "{machine} {hours}h, {title}: is it {count} {unit}? YES or NO.",
            [WORDING_ASK_PAST_SERVICE] =
                "{machine} {hours}h: {title} done there, earlier than {last}h? YES or NO.",
            [WORDING_REPLACES_QUESTION] = "My last question is dropped.",
            [WORDING_NOT_CHANGED] =
                "{machine}: nothing changed. Send the right hours when you can.",
            [WORDING_NO_QUESTION] =
                "There is no question open. A reading goes like {machine} 1340h.",
            [WORDING_SETTLED_ALREADY] = "{machine}: that is settled already.",
            [WORDING_TOO_HIGH] = "{machine} {hours}h not saved: it was {last}h {when}, {most}h "
                                 "is the most it can be. Please look again.",
            [WORDING_TOO_LOW] =
                "{machine} {hours}h not saved: it was {last}h {when}. Please look again.",
            [WORDING_NO_SUCH_FIGURE] =
                "{machine} {hours}h not saved: its meter cannot show that. Please look again.",
            [WORDING_SHOP_ASKED] = "{machine} {hours}h not saved: it was {last}h {when}. The "
                                   "shop has been asked about it.",
            [WORDING_SHOP_TOOK] = "{machine} {hours}h is noted now: the shop has confirmed it.",
            [WORDING_SHOP_LEFT] =
                "{machine} {hours}h was not taken. Please look again or ask the shop.",
            [WORDING_ONE_AT_A_TIME] =
                "{machine} {hours}h not saved: please send it again after my question.",
            [WORDING_NO_SUCH_MACHINE] = "There is no {words} here. Please check the name.",
            [WORDING_YOURS] = "Yours: {list}.",
            [WORDING_NO_SUCH_PLAN] = "{machine} has no service {words}. It has: {list}.",
            [WORDING_NO_FLUID] =
                "{machine}: the kit of {title} has no oil. Please send it without a quantity.",
            [WORDING_BAD_DATE] = "{machine} {hours}h not saved: the day is not clear. Send it like "
                                 "{machine} {hours}h yesterday.",
            [WORDING_FUTURE] = "{machine} {hours}h not saved: that time is still to come.",
            [WORDING_BAD_DAYS] = "Please send 1 to 60 days, like {machine} LATER 7 for a week.",
            [WORDING_NEEDS_FIGURE] = "Please send it with the hours, like {words}.",
            [WORDING_NOT_UNDERSTOOD] =
                "Not understood. Send machine and hours, like {machine} 1340h, "
                "then any words for the shop. HELP says more.",
            [WORDING_TEN_ONLY] = "Only the first ten were taken.",
            [WORDING_OPTED_OUT] = "You sent STOP, so nothing was changed. Send START first.",
            [WORDING_NO_PICTURES] =
                "Pictures cannot be read here. Please send the figure as a text, like M12 1340h.",
            [WORDING_HELP_CREW] = "{shop}: send machine and hours, like {machine} 1340h. A ? asks "
                                  "how it is. DUE, UNDO, HELP, STOP. Park before you text.",
            [WORDING_HELP_SHOP] = "{shop}: {machine} 1340h or DONE 1340 5qt. FIX hours, SWAP old "
                                  "new, LATER days, PARK, BACK, DUE, UNDO, STOP.",
            [WORDING_STOPPED] = "{shop}: no more texts to you. Readings you send are still saved. "
                                "START turns texts on again.",
            [WORDING_STARTED] =
                "{shop}: texts are on again. A reading goes like {machine} 1340h. STOP ends them.",
            [WORDING_TELL_HEAD] = "{shop}:",
            [WORDING_TELL_COMING] =
                "{machine}{site} coming up: {title} at {due}h, in {left}h, about {day}.",
            [WORDING_TELL_COMING_HOURS] =
                "{machine}{site} coming up: {title} at {due}h, in {left}h.",
            [WORDING_TELL_COMING_CALENDAR] = "{machine}{site} coming up: {title} by {day}.",
            [WORDING_TELL_DUE] = "{machine}{site} due now: {title} at {due}h, it reads {hours}h.",
            [WORDING_TELL_DUE_CALENDAR] =
                "{machine}{site} due now: {title} by {day}, it reads {hours}h.",
            [WORDING_TELL_OVERDUE] =
                "{machine}{site} OVERDUE by {left}h: {title}, it reads {hours}h.",
            [WORDING_TELL_OVERDUE_CALENDAR] =
                "{machine}{site} OVERDUE since {day}: {title}, it reads {hours}h.",
            [WORDING_TELL_NO_RECORD] =
                "{machine}{site} reads {hours}h, no {title} on record. When was "
                "it? Send {machine} DONE {plan} and hours.",
            [WORDING_TELL_BACK_AT_WORK] =
                "{machine} was laid up and is back at work: {hours}h from {person}.",
            [WORDING_TELL_TAKEN_BACK] = "{person} took back: {words}",
            [WORDING_TELL_SILENT] = "{machine}: no reading since {day}, {person} was asked.",
            [WORDING_TELL_UNCHECKED] = "{machine}: oil level not confirmed after its {title}.",
            [WORDING_TELL_MORE] = "And {count} more: send DUE.",
            [WORDING_TELL_KIT] = "Have ready: {list}.",
            [WORDING_CHASE_READING] =
                "{machine}: no reading since {day}. Please send its hours, like {machine} 1340h.",
            [WORDING_CHASE_LEVEL] = "{machine}: was the oil level checked, cold, at the mark, not "
                                    "above? Reply YES when done.",
            [WORDING_SUMMARY] = "{shop}: all is working. Since the last summary: {count} texts in; "
                                "due {count_due}, coming up {count_coming}.",
            [WORDING_SUMMARY_STRANGERS] = "Texts from unknown numbers, not answered: {count}.",
            [WORDING_SUMMARY_SET_ASIDE] =
                "Texts that could not be read, see the list of texts: {count}.",
            [WORDING_SUMMARY_REMARK] = "{machine}, {person}: {words}.",
        },
};
