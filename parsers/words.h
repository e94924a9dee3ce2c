/* SPDX-License-Identifier: MIT
 * words: what a word can mean; the words of every language (words_tables.h) count from anyone.
 *
 * A word has classes, which say what it can do in a text, and topics, which say what is spoken of. It
 * may have several, and the same word of two languages has those of both. Words are written as a text is folded: lower case, without
 * accents and apostrophes ("what's" is "whats"). */
#ifndef METERPOST_PARSERS_WORDS_H
#define METERPOST_PARSERS_WORDS_H

#include <stddef.h>
#include <stdint.h>

#define WORD_CLASS(bit) (UINT64_C(1) << (bit))

/* Words of the grammar */
#define WORD_DONE WORD_CLASS(0)
#define WORD_FIX WORD_CLASS(1)
#define WORD_SWAP WORD_CLASS(2)
#define WORD_LATER WORD_CLASS(3)
#define WORD_DUE WORD_CLASS(6)
#define WORD_UNDO WORD_CLASS(7)
#define WORD_YES WORD_CLASS(8)
#define WORD_NO WORD_CLASS(9)
#define WORD_HELP WORD_CLASS(10)
#define WORD_STOP WORD_CLASS(11)
#define WORD_CANCEL WORD_CLASS(12) /* a STOP that means NO while a question is open */
#define WORD_START WORD_CLASS(13)

/* Answers and manners */
#define WORD_ASSENT WORD_CLASS(14)   /* YES while a question is open, else a courtesy */
#define WORD_DISSENT WORD_CLASS(15)  /* NO likewise */
#define WORD_COURTESY WORD_CLASS(16) /* passed over */
#define WORD_POLITE WORD_CLASS(17) /* please and thanks: beside a machine they say nothing of it */
#define WORD_REACTION WORD_CLASS(18) /* a phone's verb before a quoted text; value 1 assents */
#define WORD_SIGNOFF WORD_CLASS(19)  /* begins a line that a phone adds */
#define WORD_TEXTS WORD_CLASS(20)    /* what STOP is to stop */
#define WORD_FILLER WORD_CLASS(21)   /* it, that, me: says nothing beside a word of the grammar */

/* What stands around a machine and its figure */
#define WORD_LINK WORD_CLASS(22)    /* is, at, reads, shows, now */
#define WORD_COPULA WORD_CLASS(23)  /* is: may stand before a word of the grammar */
#define WORD_ARTICLE WORD_CLASS(24) /* the, my */
#define WORD_NOUN WORD_CLASS(25)    /* mower, unit: a number after it names a machine */
#define WORD_JOIN WORD_CLASS(26)    /* and, &, y: parts statements where a machine follows */
#define WORD_SERVICE WORD_CLASS(27)
#define WORD_STATUS WORD_CLASS(28)
#define WORD_OLD WORD_CLASS(29) /* the old meter's last figure */
#define WORD_NEW WORD_CLASS(30)
#define WORD_ABOUT WORD_CLASS(31)   /* a figure after it is not exact */
#define WORD_INSTEAD WORD_CLASS(32) /* or, to, sorry, I mean: sets one figure beside another */
#define WORD_WRONG WORD_CLASS(33)   /* takes back what stands before it */

/* What keeps a sentence from being a report */
#define WORD_ASKS WORD_CLASS(34)       /* how, when, did */
#define WORD_ASKS_FIRST WORD_CLASS(35) /* is, does, can: where it begins the sentence */
#define WORD_PLANS WORD_CLASS(36)      /* will, should, remind, until, if */
#define WORD_DENIES WORD_CLASS(37)

/* Units after a figure */
#define WORD_HOURS WORD_CLASS(38)
#define WORD_QUARTS WORD_CLASS(39) /* value: thousandths of a quart */
#define WORD_LITRES WORD_CLASS(40) /* value: thousandths of a litre */
#define WORD_DAYS WORD_CLASS(41)
#define WORD_WEEKS WORD_CLASS(42)
#define WORD_MINUTES WORD_CLASS(43)
#define WORD_MEASURE WORD_CLASS(44) /* anything else that is measured or paid */
#define WORD_ORDINAL WORD_CLASS(45) /* 5th */
#define WORD_STREET WORD_CLASS(46)  /* the figure was a house number */

/* When */
#define WORD_DAY WORD_CLASS(47)           /* value: days ago; -1 tomorrow */
#define WORD_WEEKDAY WORD_CLASS(48)       /* weekday: 0 Monday to 6 Sunday */
#define WORD_WEEKDAY_SHORT WORD_CLASS(49) /* with WEEKDAY: may be another word ("sat", "mar") */
#define WORD_MONTH WORD_CLASS(50)         /* month: 1 to 12 */
#define WORD_DAYPART WORD_CLASS(51)       /* value: 0 unsaid, 1 before noon, 2 after noon */
#define WORD_CLOCK WORD_CLASS(52)         /* am, pm; value as for DAYPART */
#define WORD_AGO WORD_CLASS(53)           /* 2 days ago */
#define WORD_SINCE WORD_CLASS(54)         /* "hace 2 dias" */
#define WORD_BEFORE_DAY WORD_CLASS(55)    /* on, as of, last */
#define WORD_AT WORD_CLASS(56)            /* before a time of the day */
#define WORD_NEXT WORD_CLASS(57)          /* before a weekday: not a day that has been */
#define WORD_OF WORD_CLASS(58)            /* "14 de marzo" */

#define WORD_ROUGHLY WORD_CLASS(59) /* as ABOUT, but after the figure */
#define WORD_UNTIL WORD_CLASS(60)   /* after PARK: for how long */
#define WORD_HALF WORD_CLASS(61)    /* "and a half"; value: hundredths, 0 where it may be a quart */

#define WORDS_ANSWER (WORD_YES | WORD_NO | WORD_ASSENT | WORD_DISSENT)
#define WORDS_OF_MACHINES (WORD_DONE | WORD_FIX | WORD_SWAP | WORD_LATER | WORD_DUE | WORD_STATUS)

/* Trouble, and what must not be lost */
#define TOPIC_TROUBLE WORD_CLASS(0) /* broke, leaks, flat */
#define TOPIC_FIRM                                                                                 \
    WORD_CLASS(1) /* leaves no doubt: "wont start", which no negation undoes; "sold" */
#define TOPIC_DANGER WORD_CLASS(2) /* fire, smoke, hurt */
#define TOPIC_FUEL WORD_CLASS(3)
#define TOPIC_ESCAPES WORD_CLASS(4) /* leaks, smells of: danger beside FUEL */
#define TOPIC_BRAKES WORD_CLASS(5)
#define TOPIC_FAILS WORD_CLASS(6)   /* gone, out: danger beside BRAKES */
#define TOPIC_NEGATES WORD_CLASS(7) /* before a word of trouble undoes it */
#define TOPIC_PLAIN WORD_CLASS(8) /* "dead even", "flat field": no trouble, although it looks so */
#define TOPIC_SOLVED WORD_CLASS(9)

/* Second thoughts */
#define TOPIC_RETRACTS WORD_CLASS(10) /* oops, scratch that: withdraws what stands before it */
#define TOPIC_SORRY WORD_CLASS(11)    /* the same, where a figure or a machine follows */
#define TOPIC_RATHER WORD_CLASS(12)   /* not, instead of: the machine after it is the wrong one */

/* Readings told in words */
#define TOPIC_SAME WORD_CLASS(13)   /* value 1: "did not run"; a remark may follow */
#define TOPIC_BEGINS WORD_CLASS(14) /* start 1335 */
#define TOPIC_ENDS WORD_CLASS(15)   /* end 1340 */
#define TOPIC_WORKED WORD_CLASS(16) /* worked 8 hours */
#define TOPIC_NUMBER WORD_CLASS(17) /* value: 0 to 900 */
#define TOPIC_HUNDRED WORD_CLASS(18)
#define TOPIC_THOUSAND WORD_CLASS(19)
#define TOPIC_POINT WORD_CLASS(20)

/* Places */
#define TOPIC_STREET WORD_CLASS(21)     /* a figure near it is a house number */
#define TOPIC_STREET_TOO WORD_CLASS(22) /* drive, way: only right behind a capitalised word */
#define TOPIC_COMPASS WORD_CLASS(23)
#define TOPIC_PLACE WORD_CLASS(24) /* at, on: before a house number */

/* Services */
#define TOPIC_UPKEEP                                                                               \
    WORD_CLASS(25) /* service, oil change: a figure of hours before it is an interval */
#define TOPIC_SERVICED WORD_CLASS(26) /* changed, listo: a service was done */
#define TOPIC_BOTH WORD_CLASS(27)
#define TOPIC_ALL WORD_CLASS(28)
#define TOPIC_SIDE WORD_CLASS(29) /* value: 1 left, 2 right, 3 tank */

/* Answers */
#define TOPIC_INTRODUCES WORD_CLASS(30) /* its, soy: a name follows */
#define TOPIC_CHECKED WORD_CLASS(31)    /* the level was looked at */
#define TOPIC_LEVEL WORD_CLASS(32)      /* the same with "ok" beside it */
#define TOPIC_NEW_METER WORD_CLASS(33)  /* the figure is that of a new meter */
#define TOPIC_SPELLED WORD_CLASS(34)    /* yes, si */

/* Where a machine is */
#define TOPIC_BOOK WORD_CLASS(35) /* value: BOOK_DROPPED */
#define TOPIC_IN WORD_CLASS(36)
#define TOPIC_OUT WORD_CLASS(37)
#define TOPIC_GONE WORD_CLASS(38)
#define TOPIC_PARK WORD_CLASS(39)
#define TOPIC_BACK WORD_CLASS(40)
#define TOPIC_ASIDE WORD_CLASS(41) /* just, has been: says nothing beside one of these */
#define TOPIC_AHEAD WORD_CLASS(42) /* in: before so many days */
#define TOPIC_COMES WORD_CLASS(43) /* coming in: on a day yet to come */

#define BOOK_DROPPED 1 /* "unbook", "booking is off" */

#define TOPICS_OF_MOVES                                                                            \
    (TOPIC_BOOK | TOPIC_IN | TOPIC_OUT | TOPIC_GONE | TOPIC_PARK | TOPIC_BACK | TOPIC_COMES)

/* Words of the grammar, beside those of the classes. */
#define TOPICS_OF_MACHINES (TOPICS_OF_MOVES | TOPIC_SOLVED)

/* What a word can mean. All zero for a word that no table has. */
struct word_sense {
    uint64_t classes;
    uint64_t topics;
    int16_t value; /* of the classes and topics that have one */
    int8_t weekday;
    int8_t month;
};

#endif
