/* SPDX-License-Identifier: MIT
 * crew_text: what does this text say? "M12 1340h" -> a reading: machine M12, 1340.00 h.
 *
 * The grammar only: no clock, no history. What a figure is worth against the readings on record,
 * and what day "yesterday" was, is settled by the desk. A statement is either understood (obstacle
 * CREW_OBSTACLE_NONE) or carries the one obstacle that keeps it from being understood; the desk asks
 * or shows the form. Words of every language are understood from anyone (parsers/words.c). */
#ifndef METERPOST_PARSERS_CREW_TEXT_H
#define METERPOST_PARSERS_CREW_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "parsers/hours.h"

#define CREW_TEXT_STATEMENTS_MAX 10
#define CREW_TEXT_OCTETS_MAX 4096 /* longer texts are read to this length; `cut` says so */
#define CREW_PLANS_MAX 8          /* plans that one statement names */

/* A run of octets of the text: bytes [start, start + length). */
struct crew_slice {
    uint16_t start;
    uint16_t length;
};

/* One machine of the yard, as the config writes it. */
struct crew_machine {
    const char *name; /* NUL-terminated, at most CREW_NAME_OCTETS_MAX octets */
    bool own;         /* the sender looks after it */
    uint64_t plans;   /* a bit for each of the names' plans that it has; only the first 64 count */
};
#define CREW_NAME_OCTETS_MAX 16

/* What a plan is called beside its name, in any language; a plan may have several. */
struct crew_title {
    const char *text; /* NUL-terminated, at most CREW_TITLE_OCTETS_MAX octets are read */
    int32_t plan;     /* index into the names' plans */
};
#define CREW_TITLE_OCTETS_MAX 64

/* The yard's names, read only; nothing here is kept after the call. */
struct crew_names {
    const struct crew_machine *machines;
    size_t machine_count;
    const char *const *plans; /* plan names, all kinds; at most CREW_NAME_OCTETS_MAX octets each */
    size_t plan_count;
    const char *const
        *people; /* first names of the roster, passed over as courtesies; may be NULL */
    size_t people_count;
    const struct crew_title *titles; /* of the plans; may be NULL */
    size_t title_count;
};

enum crew_kind {
    CREW_READING, /* machine hours [remark] */
    CREW_STATUS,  /* machine ["?"] */
    CREW_SERVICE, /* machine DONE [plan] hours [quantity unit] [remark] */
    CREW_CORRECT, /* machine FIX hours; `of_own_last`: takes back the sender's own last reading */
    CREW_SWAP,    /* machine SWAP old-last new-first */
    CREW_LATER,   /* machine LATER days */
    CREW_PARK,    /* machine PARK [day]: laid up; [until when] is a `remark` */
    CREW_BACK,    /* machine BACK [day] */
    CREW_DUE,
    CREW_UNDO,
    CREW_YES,
    CREW_NO,
    CREW_HELP,
    CREW_STOP,
    CREW_START,
    CREW_TROUBLE, /* something is broken, or dangerous: `remark`, `danger`; machine -1: none named */
    CREW_REMARK,  /* machine and words that are no trouble: `remark` */
    CREW_SOLVED,  /* machine SOLVED [words] */
    CREW_BOOK, /* machine BOOK day: `when`, the next such day; machine known, day not: DATE; DENIED */
    CREW_IN,   /* machine IN [day]: it is in the shop */
    CREW_OUT,     /* machine OUT [day]: it has left the shop */
    CREW_GONE,    /* machine GONE [day]: sold or scrapped */
    CREW_CHECKED, /* the level was looked at and is well: "checked", "level ok" */
    CREW_FIGURE, /* a bare figure: answers an open question, else wants a machine; `to_hours`: not that */
    CREW_PLAN,  /* a bare plan name: answers an open question, else not understood */
    CREW_WHICH, /* a bare machine in words that answer ("the 12", "its M12"); else its status */
    CREW_UNKNOWN
};

/* What keeps a statement from being understood as it stands. */
enum crew_obstacle {
    CREW_OBSTACLE_NONE,
    CREW_OBSTACLE_NO_SUCH_MACHINE, /* a word shaped like a machine's name names none: `words` */
    CREW_OBSTACLE_WHICH_MACHINE,   /* several machines fit: `words`, `candidates` */
    CREW_OBSTACLE_TWO_FIGURES,     /* hours and to_hours hold both: ask which */
    CREW_OBSTACLE_GLUED,           /* machine and figure in one word: ask */
    CREW_OBSTACLE_ASKED_FIGURE,    /* the figure carries a question mark: ask */
    CREW_OBSTACLE_FIGURE_FORM,     /* a figure that is none: show the form */
    CREW_OBSTACLE_NO_FIGURE,       /* the word needs one (DONE, FIX, SWAP) */
    CREW_OBSTACLE_NO_SUCH_PLAN,    /* the word after DONE is no plan: `words` */
    CREW_OBSTACLE_NO_UNIT,         /* DONE with a second bare figure: `quantity_*` */
    CREW_OBSTACLE_DAYS,            /* LATER without 1 to 60 days */
    CREW_OBSTACLE_DATE,            /* a date that is none; BOOK without a day */
    CREW_OBSTACLE_DENIED,          /* BOOK: "don't book M12", "cancel the booking" */
    CREW_OBSTACLE_WITHDRAWN,       /* taken back in the same text, and nothing follows: ask */
    CREW_OBSTACLE_LEFT,            /* a machine is named, and nothing of it could be read */
    CREW_OBSTACLE_UNCLEAR          /* asks, plans, supposes or denies; or makes no sense */
};

/* What a figure counts. */
enum crew_nature {
    CREW_NATURE_METER,    /* hours on the meter, as far as the text tells */
    CREW_NATURE_INTERVAL, /* of a service: "75 hour service" */
    CREW_NATURE_WORKED,   /* hours worked: "8 hours today" */
    CREW_NATURE_ADDRESS   /* perhaps a house number: "1340 Oak St" */
};

/* When a reading was taken, or for when a machine is booked, as written; the desk resolves it to a day. */
enum crew_when_kind {
    CREW_WHEN_UNSAID,
    CREW_WHEN_DAYS_AGO,     /* today 0, yesterday 1, tomorrow -1 */
    CREW_WHEN_WEEKDAY,      /* the latest one, today included; of BOOK the next one */
    CREW_WHEN_DATE,         /* month and day by the order handed in; year 0 when unsaid */
    CREW_WHEN_DAY_OF_MONTH, /* BOOK: "the 12th", `day` */
    CREW_WHEN_AHEAD         /* yet to come, and no day of its own: "next week" */
};
struct crew_when {
    enum crew_when_kind kind;
    bool ahead; /* yet to come: "tomorrow", "next Tuesday", "by 3/12" */
    int32_t days_ago;
    int32_t weekday; /* 0 Monday .. 6 Sunday */
    int32_t year, month, day;
    int32_t minute_of_day; /* -1 when no hour of the day is said */
};

#define CREW_SIDES 3

struct crew_statement {
    enum crew_kind kind;
    enum crew_obstacle obstacle;
    int32_t machine;       /* index into the names, -1 when none */
    int32_t not_machine;   /* CORRECT: "sorry M14 not M12"; -1 when none */
    int32_t candidates[4]; /* machines that fit (WHICH_MACHINE), -1 ends the list */
    struct crew_slice
        words;         /* those the obstacle is about; of BOOK to GONE all; else the machine */
    bool machine_full; /* named in full, not by its bare number */
    struct hours_figure hours;
    struct hours_figure to_hours;  /* CORRECT: the wrong one, where it is said ("1341 not 1340") */
    enum crew_nature nature;       /* of `hours` */
    bool new_meter;                /* READING: the text says that the meter is new */
    bool same_as_last;             /* READING: the figure of the last one ("did not run") */
    bool of_own_last;              /* CORRECT: of the sender's own last reading */
    int32_t plans[CREW_PLANS_MAX]; /* indexes into the names */
    uint8_t plan_count;
    bool all_plans;     /* SERVICE: both, all */
    bool service_words; /* SERVICE: told in other words than DONE and its figure */
    bool danger;        /* TROUBLE */
    int32_t days;       /* LATER */
    int64_t quantity_thousandths;
    const char *quantity_unit; /* "qt" or "l", as the config names it; NULL where none is said */
    /* Left, right, tank, where the quantity is their sum. */
    int64_t side_thousandths[CREW_SIDES];
    struct crew_when when;
    struct crew_slice remark;
    /* A word that is no unit stands right after the figure ("M12 2 flats"): where the figure is
     * doubtful and no slip explains it, it is no reading (and no service). */
    bool figure_then_word;
    /* "M12 1340 done", "done M12" (CHECKED): words of service, which the shop records. */
    bool done_follows;
};

/* Assent that is no word of the grammar ("ok", a thumbs-up): YES while a question is open, else a
 * courtesy. Kept apart so that the desk decides. */
enum crew_tone {
    CREW_TONE_STATEMENTS, /* see the statements */
    CREW_TONE_ASSENT,     /* y, yep, ok, correct, si, thumbs-up: YES if a question is open */
    CREW_TONE_DISSENT,    /* nope, thumbs-down */
    CREW_TONE_COURTESY,   /* thanks, good morning: no change, no reply */
    CREW_TONE_IGNORE      /* a quoted text or a phone's reaction: no reply */
};

struct crew_text {
    enum crew_tone tone;
    bool spelled;             /* ASSENT by yes or its twin, spelled out: more than a courtesy */
    bool assenting_reaction;  /* a reaction that quotes a text and assents to it */
    struct crew_slice quoted; /* what a reaction quotes, its quotation marks left out */
    /* NO first, statements after: answers an open question. It is then not among the statements. */
    bool leading_no;
    bool more; /* statements beyond the tenth were left out */
    bool cut;  /* longer than CREW_TEXT_OCTETS_MAX */
    uint8_t statement_count;
    struct crew_statement statements[CREW_TEXT_STATEMENTS_MAX];
};

/* The plan that a statement names first; -1 where it names none. */
static inline int32_t crew_plan(const struct crew_statement *statement)
{
    return statement->plan_count > 0 ? statement->plans[0] : -1;
}

enum crew_date_order { CREW_DATE_MDY, CREW_DATE_DMY };

/* Where a text is taken apart (crew_text_items.h). The caller makes it, all zero, and keeps it from text to
 * text: to clear so much anew would take longer than to read most texts. What stands there says nothing. */
struct crew_text_room;
size_t crew_text_room_octets(void);

/* Reads one text (UTF-8, length octets, need not end in NUL or a line break; malformed octets are
 * passed over). Fills *out wholly for every input. `question_open`: CANCEL and END mean NO then. */
void crew_text_read(const char *text, size_t length, const struct crew_names *names,
                    enum crew_date_order date_order, bool question_open,
                    struct crew_text_room *room, struct crew_text *out);

/* True where a name could not be told apart from words of the grammar, a figure or a bare number
 * rule; for the checker of the config. A plan's name stands behind DONE, or alone as the answer which
 * one: there only a word that answers, that says when or how much, or that the grammar is made of
 * means something else. */
bool crew_text_is_word(const char *name, size_t length, bool of_plan);

/* True where two names are alike for the grammar: case, spaces and hyphens aside. */
bool crew_text_names_alike(const char *one, const char *other);

#endif
