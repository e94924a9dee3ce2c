/* SPDX-License-Identifier: MIT
 * wording: what the house says, by language. A sentence is a template with {slots}; a language is
 * one table (wording_en.c, wording_es.c), and parsers/words_tables.h lists them. The tables keep to
 * the default alphabet of GSM 7-bit: a letter outside of it would make every reply more than twice
 * as long on the air. */
#ifndef METERPOST_DAEMON_DESK_WORDING_H
#define METERPOST_DAEMON_DESK_WORDING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "parsers/words_tables.h"

/* What can be said. The tables hold the sentences in this order, each named. */
enum wording_key {
    /* readings */
    WORDING_NOTED,
    WORDING_NOTED_ON,
    WORDING_ALREADY,
    WORDING_SOFT,
    WORDING_BACK_AT_WORK,
    WORDING_RECHECKED,
    WORDING_SHOP_RECORDS,
    WORDING_DONE_FORM,
    WORDING_FORM,
    WORDING_LIKE,
    /* how it stands */
    WORDING_FINE,
    WORDING_FINE_HOURS,
    WORDING_FINE_CALENDAR,
    WORDING_COMING,
    WORDING_COMING_HOURS,
    WORDING_COMING_CALENDAR,
    WORDING_DUE,
    WORDING_DUE_CALENDAR,
    WORDING_OVERDUE,
    WORDING_OVERDUE_CALENDAR,
    WORDING_NO_RECORD,
    WORDING_NO_RECORD_SHOP,
    WORDING_BRING,
    WORDING_BRING_ON,
    WORDING_ALSO_DUE,
    WORDING_STANDS_AT,
    WORDING_LAID_UP,
    WORDING_IN_SHOP_SINCE,
    WORDING_BOOKED_FOR,
    WORDING_UNREAD,
    /* services and the shop's other words */
    WORDING_SERVICE,
    WORDING_SERVICE_ALREADY,
    WORDING_NEXT,
    WORDING_NEXT_HOURS,
    WORDING_NEXT_CALENDAR,
    WORDING_CORRECTED,
    WORDING_CORRECTED_FORCED,
    WORDING_CORRECTED_MACHINE,
    WORDING_NOTHING_TO_CORRECT,
    WORDING_SWAPPED,
    WORDING_ROLLED_OVER,
    WORDING_LATER,
    WORDING_NOTHING_DUE,
    WORDING_PARKED,
    WORDING_PARKED_ALREADY,
    WORDING_BACK,
    WORDING_BACK_ALREADY,
    /* where a machine is */
    WORDING_BOOKED,
    WORDING_BOOKED_INSTEAD,
    WORDING_BOOKED_ALREADY,
    WORDING_BOOK_DAY,
    WORDING_BOOK_PAST,
    WORDING_BOOK_LEFT,
    WORDING_BOOK_STAYS,
    WORDING_BOOK_IN_SHOP,
    WORDING_IN,
    WORDING_IN_ALREADY,
    WORDING_OUT,
    WORDING_OUT_BOOKING,
    WORDING_OUT_ALREADY,
    WORDING_WHERE_FUTURE,
    WORDING_IN_FUTURE,
    WORDING_WHERE_DAY,
    WORDING_GONE,
    WORDING_GONE_ALREADY,
    WORDING_GONE_SHOP,
    WORDING_GONE_CREW,
    WORDING_GONE_CONFIG,
    WORDING_GONE_STANDS,
    WORDING_RENAMED,
    /* and what else is said of it */
    WORDING_SHOP_ONLY,
    WORDING_TAKEN_BACK,
    /* what the yard says in words */
    WORDING_TROUBLE_TOLD,
    WORDING_TROUBLE_LATER,
    WORDING_TROUBLE_KEPT,
    WORDING_TROUBLE_ALREADY,
    WORDING_TROUBLE_UNHEARD,
    WORDING_TROUBLE_UNNAMED,
    WORDING_DANGER,
    WORDING_DANGER_UNNAMED,
    WORDING_DANGER_UNHEARD,
    WORDING_DANGER_WORDS,
    WORDING_REMARK,
    WORDING_REMARK_KEPT,
    WORDING_REMARK_PASSED,
    WORDING_SOLVED,
    WORDING_SOLVED_ALREADY,
    WORDING_LEVEL_OPEN,
    WORDING_LEVEL_NO,
    WORDING_LEVEL_WORDS,
    WORDING_UNDO_OR_SHOP,
    WORDING_ASKED_BEFORE,
    WORDING_LAST_SAVED,
    WORDING_LAST_UNSAVED,
    WORDING_STOP_UNDO,
    WORDING_SERVICE_COMPLETED,
    WORDING_SERVICE_DAY_WANTED,
    WORDING_NOTHING_TO_TAKE_BACK,
    /* the list of DUE */
    WORDING_DUE_ITEM_DUE,
    WORDING_DUE_ITEM_OVERDUE,
    WORDING_DUE_ITEM_COMING,
    WORDING_DUE_ITEM_CALENDAR,
    WORDING_DUE_ITEM_NO_RECORD,
    WORDING_DUE_ITEM_WANTED,
    WORDING_DUE_ITEM_BOOKED,
    WORDING_DUE_ITEM_IN_SHOP,
    WORDING_DUE_MORE,
    WORDING_DUE_NOTHING,
    WORDING_DUE_SHORT, /* of memory */
    /* questions */
    WORDING_ASK_SLIP,
    WORDING_ASK_SLIP_UNREAD,
    WORDING_ASK_OTHER_MACHINE,
    WORDING_ASK_LAST_WRONG,
    WORDING_ASK_ROLL_OVER,
    WORDING_ASK_SWAP,
    WORDING_ASK_FORCE,
    WORDING_ASK_SURE,
    WORDING_ASK_TWO_FIGURES,
    WORDING_ASK_REPLACE,
    WORDING_ASK_METER,
    WORDING_ASK_SERVICE,
    WORDING_ASK_WHICH_TROUBLE,
    WORDING_ASK_WHICH_MACHINE,
    WORDING_ASK_PLAN,
    WORDING_ASK_QUANTITY,
    WORDING_ASK_PAST_SERVICE,
    WORDING_ASK_BOOK,
    WORDING_ASK_COMING,
    WORDING_REPLACES_QUESTION,
    WORDING_NOT_CHANGED,
    WORDING_NO_QUESTION,
    WORDING_SETTLED_ALREADY,
    /* refusals */
    WORDING_TOO_HIGH,
    WORDING_TOO_LOW,
    WORDING_NO_SUCH_FIGURE,
    WORDING_BEFORE_FIRST,
    WORDING_SHOP_ASKED,
    WORDING_SHOP_TOOK,
    WORDING_SHOP_LEFT,
    WORDING_ONE_AT_A_TIME,
    WORDING_NO_SUCH_MACHINE,
    WORDING_YOURS,
    WORDING_NO_SUCH_PLAN,
    WORDING_NO_FLUID,
    WORDING_BAD_DATE,
    WORDING_FUTURE,
    WORDING_BAD_DAYS,
    WORDING_NEEDS_FIGURE,
    WORDING_NEEDS_TWO_FIGURES,
    WORDING_WORD_DONE, /* a word to send, as that language has it */
    WORDING_WORD_FIX,
    WORDING_NOT_UNDERSTOOD,
    WORDING_TEN_ONLY,
    WORDING_OPTED_OUT,
    WORDING_NO_PICTURES,
    /* help and opting out */
    WORDING_HELP_CREW,
    WORDING_HELP_SHOP,
    WORDING_STOPPED,
    WORDING_STARTED,
    /* to the shop */
    WORDING_TELL_HEAD,
    WORDING_TELL_COMING,
    WORDING_TELL_COMING_HOURS,
    WORDING_TELL_COMING_CALENDAR,
    WORDING_TELL_DUE,
    WORDING_TELL_DUE_CALENDAR,
    WORDING_TELL_OVERDUE,
    WORDING_TELL_OVERDUE_CALENDAR,
    WORDING_TELL_NO_RECORD,
    WORDING_TELL_SUGGESTED,
    WORDING_TELL_UNBROUGHT,
    WORDING_TELL_ESCALATED,
    WORDING_TELL_GONE,
    WORDING_TELL_BACK_AT_WORK,
    WORDING_TELL_TAKEN_BACK,
    WORDING_TELL_REMARK,
    WORDING_TELL_TROUBLE,
    WORDING_TELL_TROUBLE_UNNAMED,
    WORDING_TELL_DANGER,
    WORDING_TELL_DANGER_UNNAMED,
    WORDING_TELL_WORDS_MORE,
    WORDING_TELL_LEVEL_NO,
    WORDING_TELL_LEVEL_WORDS,
    WORDING_TELL_SILENT,
    WORDING_TELL_WANTED,
    WORDING_TELL_UNCHECKED,
    WORDING_TELL_MORE,
    WORDING_TELL_KIT,
    /* chasing the crew */
    WORDING_CHASE_READING,
    WORDING_CHASE_LEVEL,
    WORDING_CREW_DUE,
    WORDING_CREW_OVERDUE,
    WORDING_CREW_BOOKED,
    WORDING_CREW_UNBOOKED,
    /* the summary */
    WORDING_SUMMARY,
    WORDING_SUMMARY_STRANGERS,
    WORDING_SUMMARY_SET_ASIDE,
    WORDING_SUMMARY_TROUBLE,
    WORDING_KEYS
};

/* What can be put into a sentence. */
enum wording_slot {
    WORDING_MACHINE,
    WORDING_SITE,  /* where it works, as " (North field)"; empty where unsaid */
    WORDING_OTHER, /* another machine */
    WORDING_HOURS,
    WORDING_LAST,
    WORDING_OFFER,
    WORDING_DUE_AT,
    WORDING_LEFT,
    WORDING_MOST,
    WORDING_DAY,
    WORDING_WHEN, /* a day with its word, or the time of today */
    WORDING_TITLE,
    WORDING_PLAN,
    WORDING_LIST,
    WORDING_PERSON,
    WORDING_SHOP,
    WORDING_COUNT,
    WORDING_COUNT_DUE,
    WORDING_COUNT_COMING,
    WORDING_UNIT,
    WORDING_WORDS,
    WORDING_EXAMPLE, /* ", like M12 1340h": never a figure that the machine does not show */
    WORDING_SLOTS
};

struct wording {
    const char *language; /* as the config writes it */
    /* In these M, D and Y stand for the month's short name, the day and the year; H, T, N and P for
     * the hour of 24, the hour of 12, the minute, and am or pm. */
    const char *date, *date_year;
    const char *today_12, *today_24; /* a moment of today, by either clock */
    const char *on;                  /* before a date */
    const char *months[12];
    const char *sentences[WORDING_KEYS];
};

#define WORDING_DECLARE(name) extern const struct wording wording_##name;
WORDS_LANGUAGES(WORDING_DECLARE)
#undef WORDING_DECLARE

/* Every language there is, NULL-terminated. */
extern const struct wording *const wording_all[];

/* The table of a language; the first one where there is none such. Never NULL. */
const struct wording *wording_of(const char *language);

/* The values for one sentence. Set what the sentence names; the rest stays empty. */
#define WORDING_VALUE_OCTETS 160
struct wording_values {
    char value[WORDING_SLOTS][WORDING_VALUE_OCTETS];
};
void wording_set(struct wording_values *values, enum wording_slot slot, const char *text);
void wording_set_hours(struct wording_values *values, enum wording_slot slot, int64_t hundredths);
void wording_set_number(struct wording_values *values, enum wording_slot slot, int64_t number);
/* A civil day, short and without doubt: "May 14", with the year where it is not near today. */
void wording_set_day(struct wording_values *values, enum wording_slot slot,
                     const struct wording *wording, int32_t day, int32_t today);
/* WORDING_WHEN: "on May 14", or, where the day is today, "today at 2:05 pm" by a clock of twelve
 * hours, "today at 14:05" by the other. */
void wording_set_when(struct wording_values *values, const struct wording *wording, int32_t day,
                      int32_t second_of_day, int32_t today, bool twelve_hours);
/* WORDING_EXAMPLE: what to send, `begins` and the figure: ", like M12 1340h". */
void wording_set_example(struct wording_values *values, const struct wording *wording,
                         const char *begins, int64_t hundredths);

/* Whether the sentence names the slot. */
bool wording_names(const struct wording *wording, enum wording_key key, enum wording_slot slot);

/* Writes the sentence to out, cut at size, NUL-terminated. Returns its length. */
#define WORDING_SENTENCE_OCTETS 320
size_t wording_write(const struct wording *wording, enum wording_key key,
                     const struct wording_values *values, char *out, size_t size);

/* The same behind what out holds already, a blank between; left out where no room is left. */
void wording_append(const struct wording *wording, enum wording_key key,
                    const struct wording_values *values, char *out, size_t size);

#endif
