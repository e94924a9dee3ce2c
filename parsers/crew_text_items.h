/* SPDX-License-Identifier: MIT
 * crew_text_items: a text as the grammar sees it, and nothing yet of what is meant.
 *
 * In four steps: characters become units (fold), at a unit stands a name of the yard (names), a word
 * of the tables (phrase) or a figure (figure), which makes the text a row of items (items), and runs
 * of items that name a day become one (when). */
#ifndef METERPOST_PARSERS_CREW_TEXT_ITEMS_H
#define METERPOST_PARSERS_CREW_TEXT_ITEMS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "parsers/crew_text.h"
#include "parsers/words.h"

/* Fold: one unit a character.
 *
 * What phones and hands add is taken off: accents, full-width forms, curly quotes, long dashes,
 * odd blanks, invisible characters. Case stays (l and I look like 1, L does not); compare with
 * fold_lower. Each unit knows which octets of the text it stands for. */

/* Units beside ASCII: letters of other alphabets as they are (up to U+DFFF), and these. */
#define FOLD_EMOJI 0xE000
#define FOLD_THUMB_UP 0xE001   /* also the check mark and the OK hand: assent */
#define FOLD_THUMB_DOWN 0xE002 /* dissent */
#define FOLD_HEART 0xE003
#define FOLD_FRACTION 0xE004 /* a quarter, a third: part of no figure that we read */
#define FOLD_HALF 0xE005
#define FOLD_LETTER 0xFFFF /* a letter beyond the basic plane */

struct fold {
    const char *text;
    size_t length;
    size_t count;
    uint16_t unit[CREW_TEXT_OCTETS_MAX];
    uint16_t start[CREW_TEXT_OCTETS_MAX]; /* first octet of the unit */
};

/* Folds at most CREW_TEXT_OCTETS_MAX octets of UTF-8; malformed octets are passed over. The text is
 * kept by its address. *out is all zero when it is first used. */
void fold_text(const char *text, size_t length, struct fold *out);

/* Reads the character at text[at], at < length: the octets that it takes. *unit: what stands for it,
 * 0 where it is passed over. */
size_t fold_read(const char *text, size_t length, size_t at, uint16_t *unit);

/* The octets of the units [first, end); an empty slice where there are none. */
struct crew_slice fold_slice(const struct fold *fold, size_t first, size_t end);

/* The unit at an index, 0 past the last one. */
static inline uint16_t fold_at(const struct fold *fold, size_t index)
{
    return index < fold->count ? fold->unit[index] : 0;
}

static inline bool fold_is_blank(uint16_t unit)
{
    return unit == ' ';
}

static inline bool fold_is_digit(uint16_t unit)
{
    return unit >= '0' && unit <= '9';
}

/* An ASCII capital. */
static inline bool fold_is_upper(uint16_t unit)
{
    return unit >= 'A' && unit <= 'Z';
}

static inline uint16_t fold_lower(uint16_t unit)
{
    return fold_is_upper(unit) ? (uint16_t)(unit - 'A' + 'a') : unit;
}

static inline bool fold_is_letter(uint16_t unit)
{
    uint16_t lower = fold_lower(unit);
    return (lower >= 'a' && lower <= 'z') || (unit >= 0x80 && unit < FOLD_EMOJI) ||
           unit == FOLD_LETTER;
}

static inline bool fold_is_alnum(uint16_t unit)
{
    return fold_is_digit(unit) || fold_is_letter(unit);
}

/* 0 to 9 for a digit, else -1. */
static inline int32_t fold_digit(uint16_t unit)
{
    return fold_is_digit(unit) ? unit - '0' : -1;
}

/* '0' to '9' for a digit and for a letter that looks like one (O, o, l, I), else 0. */
static inline uint16_t fold_as_digit(uint16_t unit)
{
    if (unit == 'O' || unit == 'o') {
        return '0';
    }
    if (unit == 'l' || unit == 'I') {
        return '1';
    }
    return fold_is_digit(unit) ? unit : 0;
}

/* Names: which name of the yard stands here in the text?
 *
 * Case does not matter, nor do blanks and hyphens inside a name (but a run of digits stays whole).
 * Where no name fits exactly, O and l pass for 0 and 1 and leading zeros of a number are passed
 * over, if exactly one name then fits. Each question is one pass or two over the names. */

#define NAMES_NONE (-1)
#define NAMES_SEVERAL (-2)
#define NAMES_CANDIDATES_MAX 4

struct name_found {
    int32_t index;                            /* into the names, or one of the above */
    int32_t candidates[NAMES_CANDIDATES_MAX]; /* for NAMES_SEVERAL; NAMES_NONE ends the list */
    size_t end;                               /* unit after the name */
};

/* The two units that a name of a list may begin with: they turn most words of a text down at once. */
#define NAMES_FIRST 128 /* units of ASCII */
struct names_first {
    bool any;                     /* a name begins beyond ASCII: nothing is turned down */
    uint32_t second[NAMES_FIRST]; /* by the first unit: bits of the second ones */
};
void names_add_first(const char *name, struct names_first *first);

#define NAMES_DIGIT (UINT32_C(1) << 26)
#define NAMES_OTHER                                                                                \
    (UINT32_C(1) << 27) /* a gap, an end, anything beyond ASCII: whatever follows may fit */

static inline uint32_t names_bit(uint16_t unit)
{
    uint16_t lower = fold_lower(unit);
    return lower >= 'a' && lower <= 'z' ? UINT32_C(1) << (lower - 'a')
           : fold_is_digit(unit)        ? NAMES_DIGIT
                                        : NAMES_OTHER;
}

static inline bool names_may_begin(const struct names_first *first, const struct fold *fold,
                                   size_t at)
{
    uint16_t lower = fold_lower(fold_at(fold, at));
    uint32_t next = names_bit(fold_at(fold, at + 1));
    uint32_t fitting = next == NAMES_OTHER ? UINT32_MAX : next | NAMES_OTHER;
    return first->any || (lower < NAMES_FIRST && (first->second[lower] & fitting) != 0);
}

/* Nothing found; and one more candidate, where there is room. */
struct name_found names_nothing(void);
void names_add_candidate(int32_t index, struct name_found *found);

/* True where two names are alike but for case, blanks and hyphens. */
bool names_alike(const char *one, const char *other);

/* A machine's whole name at a unit, ending where a word ends; the longest where several fit. */
struct name_found names_machine_at(const struct fold *fold, size_t at,
                                   const struct crew_names *names);

/* The number of a name that has exactly one run of digits, else -1. */
int64_t names_number(const char *name);

/* The machine whose whole number this is; of several the sender's only one. */
struct name_found names_machine_numbered(int64_t number, const struct crew_names *names);

/* A plan's name, or a person's, at a unit: the unit after it, 0 where there is none. *index: which. */
size_t names_plan_at(const struct fold *fold, size_t at, const struct crew_names *names,
                     int32_t *index);
size_t names_person_at(const struct fold *fold, size_t at, const struct crew_names *names);

/* True where a title holds the word in the units [first, end), but for case, accents and a last "s". */
bool names_title_holds(const struct fold *fold, size_t first, size_t end, const char *title);

/* The unit after a name that is written here without a gap, whatever follows it; 0 where it is not. */
size_t names_prefix_at(const struct fold *fold, size_t at, const char *name);

/* True where the letters of units [first, end) are those that some machine's name begins with,
 * before a digit. */
bool names_have_letters(const struct fold *fold, size_t first, size_t end,
                        const struct crew_names *names);

/* Phrases: which word of the tables begins here in the text? */

/* The unit after the longest word or phrase of the tables that begins at a unit and ends where a
 * word ends; 0 where there is none. *sense: what it can mean. */
size_t phrase_at(const struct fold *fold, size_t at, struct word_sense *sense);

/* True where the letters [first, end) are a word of the tables. */
bool phrase_is(const struct fold *fold, size_t first, size_t end, struct word_sense *sense);

/* The unit after the word (letters and digits, apostrophes inside) that begins at a unit. */
size_t phrase_word_end(const struct fold *fold, size_t at);

/* Dates: digits in groups, "3/14", "2027-03-14", "206-555-0110": a day, a telephone number, or
 * neither. */

enum dates_kind {
    DATES_NONE,
    DATES_DAY,
    DATES_NO_SUCH_DAY, /* shaped like a date: 2/30, or 14/3 where the month comes first */
    DATES_OTHER        /* a telephone number, a part number: no date and no figure */
};

struct dates_found {
    enum dates_kind kind;
    int32_t year; /* 0 when unsaid */
    int32_t month, day;
    bool fraction; /* 1/2, 3/4: may be meant as such */
    size_t end;
};

/* Reads the groups of digits that begin at a unit. */
struct dates_found dates_at(const struct fold *fold, size_t at, enum crew_date_order order);

/* True where year (0: unsaid), month and day name a day of the Gregorian calendar. */
bool dates_is_day(int32_t year, int32_t month, int32_t day);

/* Figures: what a number is a figure of: hours perhaps, or something else. */

enum figure_kind {
    FIGURE_HOURS,    /* may be an hour-meter figure: bare, or with a unit of hours */
    FIGURE_VOLUME,   /* `thousandths` of `unit` */
    FIGURE_DAYS,     /* `number` */
    FIGURE_WEEKS,    /* `number` */
    FIGURE_MINUTES,  /* "30 min" */
    FIGURE_ORDINAL,  /* "5th", `number` */
    FIGURE_DATE,     /* "3/14", `when`; its month is 0 where there is no such day */
    FIGURE_TIME,     /* "5pm", `when.minute_of_day` */
    FIGURE_INTERVAL, /* "75 hour", of a service: hours, but none of a meter */
    FIGURE_OTHER,    /* money, weight, a telephone number: never hours */
    FIGURE_BAD       /* letters inside, or marks that make no sense */
};

struct figure {
    struct hours_figure hours; /* its start and length are octets of the text */
    int64_t number;            /* a whole number written in digits alone, else -1 */
    int64_t thousandths;
    const char *unit; /* of a volume, by its name in the config: "qt", "l" */
    size_t end;       /* unit after the figure and its unit */
    struct crew_when when;
    enum figure_kind kind;
    enum crew_nature nature;
    bool hours_said;  /* with a unit of hours */
    bool spelled_one; /* litres by a lone l, which may be a one: `hours` holds that figure */
    bool fraction;    /* a date that may be a fraction: 1/2, 3/4 */
};

/* The days that a figure of days or weeks counts, up to 999; -1 for any other. */
int64_t figure_days(const struct figure *figure);

/* Reads the figure that begins at a unit. False where none does. */
bool figure_at(const struct fold *fold, size_t at, enum crew_date_order order, struct figure *out);

/* Items: words, machines, figures, days, marks. They say what stands there, not yet what is meant: a
 * bare number is a figure here, and becomes a machine only where the grammar has room for one. */

#define ITEMS_MAX 512

enum item_kind {
    ITEM_END,      /* past the last one */
    ITEM_BREAK,    /* a line break */
    ITEM_MARK,     /* one character of punctuation: `mark` */
    ITEM_WORD,     /* `sense`; emoji too, as courtesy, assent or dissent */
    ITEM_FIGURE,   /* `figure` */
    ITEM_WHEN,     /* a day or a time of day: `figure.when` */
    ITEM_MACHINE,  /* `found`, `full` */
    ITEM_STRANGER, /* a word shaped like a machine's name that names none */
    ITEM_GLUED     /* a machine and a figure in one word: `found`, `figure` */
};

struct item {
    size_t at, end; /* units */
    struct word_sense sense;
    struct figure figure;
    struct name_found found;
    enum item_kind kind;
    bool spaced; /* a blank stands before it */
    bool full;   /* a machine's whole name, not its number */
    char mark;
};

/* Nothing; what is read begins as this. */
extern const struct item item_past_the_last;

struct items {
    const struct fold *fold;
    const struct crew_names *names;
    struct names_first machines, people;
    enum crew_date_order order;
    bool quotes_lines; /* lines that quote an earlier text were passed over */
    bool cut;          /* more items than ITEMS_MAX: the rest is left out */
    size_t count;
    struct item item[ITEMS_MAX];
};

/* See crew_text.h. */
struct crew_text_room {
    struct fold fold;
    struct items items;
};

/* Fills *out from a folded text; both pointers are kept in it. What stands in items past the last one stays
 * there: *out is all zero when it is first used. */
void items_read(const struct fold *fold, const struct crew_names *names, enum crew_date_order order,
                struct items *out);

/* The item at an index; an ITEM_END past the last. */
static inline const struct item *items_at(const struct items *items, size_t index)
{
    return index < items->count ? &items->item[index] : &item_past_the_last;
}

static inline bool item_is_mark(const struct item *item, char mark)
{
    return item->kind == ITEM_MARK && item->mark == mark;
}

static inline bool item_is_mark_or_break(const struct item *item)
{
    return item->kind == ITEM_MARK || item->kind == ITEM_BREAK;
}

/* True for a word of any of these classes. */
static inline bool item_is(const struct item *item, uint64_t classes)
{
    return item->kind == ITEM_WORD && (item->sense.classes & classes) != 0;
}

/* True for a word of any of these topics. */
static inline bool item_tells(const struct item *item, uint64_t topics)
{
    return item->kind == ITEM_WORD && (item->sense.topics & topics) != 0;
}

/* True for a bare figure, or one in hours. */
static inline bool item_is_hours(const struct item *item)
{
    return item->kind == ITEM_FIGURE && item->figure.kind == FIGURE_HOURS;
}

/* True for a figure of hours that a meter could show: with a unit, tenths or three digits. */
static inline bool item_is_like_meter(const struct item *item)
{
    return item_is_hours(item) &&
           (item->figure.hours_said || item->figure.hours.whole_digits >= 3 ||
            item->figure.hours.decimal_digits > 0);
}

/* True where a figure of hours is wanted and item i can be one: also "66l" with no word after it. */
bool item_reads_hours(const struct items *items, size_t i);

/* What a unit, or a part of the day, makes of a figure of hours. */
void figure_set_unit(const struct word_sense *sense, struct figure *out);

/* Numbers: makes one figure of every run of words that says a number: "thirteen forty". */
void numbers_reduce(struct items *items);

/* Adds to a figure of hours the part of an hour that follows it: "and a half", "1/2", and "30 minutes"
 * behind a unit of hours. Days have to be read before. */
void numbers_add_parts(struct items *items);

#define HALF_HUNDREDTHS 50

/* Adds a part of an hour, in hundredths, to a whole figure. False where the figure has tenths, minutes,
 * or no room for it. */
bool figure_add_part(int64_t hundredths, struct figure *figure);

/* Natures: sets what the figures of hours count where they are no meter: the interval of a service, hours
 * worked, a house number. Days have to be read before. */
void natures_set(struct items *items);

/* A word that begins with a capital and goes on in small letters. */
bool natures_is_capitalised(const struct items *items, const struct item *item);

/* When: the days and times of day that a text names. */

/* Makes one ITEM_WHEN of every run of items that names a day ("as of last Friday", "2 days ago",
 * "14 de marzo a las 5pm") or a time of day. A day yet to come has days_ago -1; a day that the
 * calendar does not have has kind CREW_WHEN_DATE and month 0. */
void when_reduce(struct items *items);

/* The minute of the day that "6:15" stands for, -1 where the figure is no time of day. */
int32_t when_clock_minute(const struct item *item);

#endif
