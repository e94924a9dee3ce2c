/* SPDX-License-Identifier: MIT
 * crew_text_statement: what the items of a text say.
 *
 * A text is split where statements begin (split); a statement is what is said of a machine
 * (statement), by a word of the grammar (shop) or a figure and what stands beside it (remark). What
 * names no machine stands alone (alone). */
#ifndef METERPOST_PARSERS_CREW_TEXT_STATEMENT_H
#define METERPOST_PARSERS_CREW_TEXT_STATEMENT_H

#include "parsers/crew_text_items.h"

/* Split: where statements begin and end. */

enum head_kind {
    HEAD_NAME,     /* a machine's whole name */
    HEAD_NUMBER,   /* "#12", "mower 12" */
    HEAD_BARE,     /* "12", in the plainest form */
    HEAD_STRANGER, /* shaped like a name or numbered, but no machine of the yard */
    HEAD_GLUED     /* machine and figure in one word */
};

/* The machine that a statement begins with. */
struct head {
    enum head_kind kind;
    struct name_found found;
    size_t at, next; /* its first item, and the item after it */
};

/* A comma, semicolon, line break, "+", "/", "|", "&" or a word like "and". */
bool split_is_separator(const struct item *item);

/* A full stop, exclamation or question mark. */
bool split_is_stop(const struct item *item);

/* True where nothing goes on: the end, a separator or a stop. */
bool split_is_boundary(const struct item *item);

/* The end of the part that begins at item i: a separator, a stop, or the end. */
size_t split_part_end(const struct items *items, size_t i);

/* True for "1)", "2.", "3 -" at item i with a machine after it. */
bool split_is_list_number(const struct items *items, size_t i);

/* The first item from i on that is no separator, mark, list number or bullet. */
size_t split_skip(const struct items *items, size_t i);

/* A machine at item i. clean: nothing but courtesies stands before it in its statement, so that a
 * bare number may be one. False where there is none. */
bool split_head_at(const struct items *items, size_t i, bool clean, struct head *out);

/* A machine at item i, or a word shaped like the name of one, that may stand in a list of them. joined: behind
 * "and", where a bare number may be one too. */
bool split_member_at(const struct items *items, size_t i, bool joined, struct head *out);

/* The end of a statement that is read up to item i: the item at which the next one begins, or the
 * separators before it. after_figure: item i is right after a figure. */
size_t split_end(const struct items *items, size_t i, bool after_figure);

/* Marks, line breaks, linking words and units from item i on that stand before a figure. */
size_t split_pass_links(const struct items *items, size_t i);

/* A figure that can be a meter's, not one that counts what stands behind it: "sorry 2 tires flat". */
bool split_is_meter(const struct items *items, size_t i);

/* True where separators or a stop stand at item i and a machine after them. */
bool split_parts_at(const struct items *items, size_t i);

/* Remark: what is said after a figure: when it was read, a second figure, a remark. */

/* What was found after a figure. */
struct remark {
    enum crew_obstacle obstacle;
    struct hours_figure second; /* for CREW_OBSTACLE_TWO_FIGURES */
    struct crew_slice slice;    /* the remark, trimmed; empty where there is none */
    size_t begin;               /* its first item; the end where there is none */
    size_t when_at;             /* the item that says when, the end where none does */
    struct crew_when when;
};

/* Reads the items from i, right after a figure, to the end of its statement. */
struct remark remark_read(const struct items *items, size_t i, size_t end);

/* The words in the items [first, end), marks around them and a signature behind them left out; empty
 * where nothing but marks stands there. */
struct crew_slice remark_words(const struct items *items, size_t first, size_t end);

/* Retract: second thoughts. */

/* What a second thought puts in the place of another: a figure, a machine, or both. */
struct retraction {
    size_t at;       /* the first item of it */
    size_t figure;   /* the figure; the items' count where none is said */
    int32_t machine; /* NAMES_NONE where none is */
    int32_t not_machine;
    struct head head; /* of the machine */
    size_t next;      /* the item after it */
};

/* "oops 1341", "sorry M14 not M12", "no wait it was 1339" at item i. */
bool retraction_at(const struct items *items, size_t i, struct retraction *out);

/* "not 1340", "instead of 1340h" at item i and nothing behind it up to `end` but a courtesy: the item of the
 * figure that was the wrong one; the items' count where it is not so. */
size_t retraction_rather_than(const struct items *items, size_t i, size_t end);

/* "not 1340 but 1341" at item i: the item of the figure that is right; the items' count likewise. */
size_t retraction_but(const struct items *items, size_t i);

/* "M14 not M12" at item i, and nothing else. */
bool retraction_of_machine(const struct items *items, size_t i, struct retraction *out);

/* True where the items [i, end) withdraw what stands before them, and say nothing else. */
bool retraction_withdraws(const struct items *items, size_t i, size_t end);

/* Trouble: words that tell of it, and words that are only said. */

enum told { TOLD_NOTHING, TOLD_TROUBLE, TOLD_DANGER };

/* The worst that the items [first, end) tell. */
enum told trouble_told(const struct items *items, size_t first, size_t end);

/* Makes *out what the items [first, end) tell: trouble, or a remark; its machine stays. */
void trouble_set(const struct items *items, size_t first, size_t end, enum told told,
                 struct crew_statement *out);

/* The same for a statement [begin, end) with a machine in it and no figure of a meter; clean: nothing
 * but courtesies stands before the machine. False where it is neither. */
bool trouble_read(const struct items *items, size_t begin, const struct head *head, bool clean,
                  size_t end, struct crew_statement *out);

/* Service: plans, quantities, and words of service. */

/* Passes over the plans that are named from item i on, "both" and "all" too, and takes them into *out,
 * whose machine is set; i where none is. */
size_t service_pass_plans(const struct items *items, size_t i, struct crew_statement *out);

/* The same for a quantity, or the sum of those of the sides. */
size_t service_pass_quantity(const struct items *items, size_t i, struct crew_statement *out);

/* True where the items [first, end) tell that a service was done; false where they ask, plan or deny. */
bool service_told(const struct items *items, size_t first, size_t end);

/* Makes *out a service that the items [first, end) tell of in words. */
void service_words(const struct items *items, size_t first, size_t end, struct crew_statement *out);

/* Shop: a machine and a word of the grammar: DONE FIX SWAP LATER. */

/* All the words that are read here. */
#define WORDS_OF_SHOP (WORD_DONE | WORD_FIX | WORD_SWAP | WORD_LATER)

/* The item of the word, where one stands at item i, plans perhaps before DONE, which are taken into
 * *plans; the items' count where none does. */
size_t shop_word_at(const struct items *items, size_t i, struct crew_statement *plans);

/* Reads the statement whose word is at item i into *out (its machine and plan stay). Returns the
 * item after it. */
size_t shop_read(const struct items *items, size_t i, struct crew_statement *out);

/* Before: what stands before the machine in its sentence. */

struct before {
    size_t begin; /* the item that the statement begins with */
    bool clean;   /* nothing but courtesies, articles, days */
    bool hedged;  /* it asks, plans, supposes or denies */
    bool asks;    /* it asks: with no figure the statement is a status question */
    bool figures; /* figures stand in the sentence: it is no plain question */
    bool figure;  /* a figure stands right before the machine: `first` */
    struct hours_figure first;
    struct crew_when when;
};

/* Reads what stands between items `spoken_from`, where the sentence may begin, and `to`, the machine; the
 * statement begins at `begin`, its figures no earlier than `from`. */
struct before before_read(const struct items *items, size_t spoken_from, size_t from, size_t begin,
                          size_t to);

/* True for an item that leaves the place before a machine clean: a courtesy, an article, a day, "soy Ana". */
bool before_opens(const struct items *items, size_t i);

/* Statement: what is said of a machine. */

/* What lies between the machine and what is said of it. */
struct between {
    size_t next;
    bool links;  /* linking words, others than "is" */
    bool copula; /* "is" */
    bool new_meter;
    bool about; /* "about", "~": the figure is not exact */
    struct crew_when when;
};

/* A statement being read. */
struct reader {
    const struct items *items;
    const struct head *head;
    const struct before *before;
    struct between between;
};

struct statement_end {
    size_t next; /* the item after the statement */
    size_t
        when_at; /* the item that says when and has nothing said after it; next where none does */
    size_t said; /* the first item of the words behind a figure; next where none are */
};

/* Move: where a machine is: BOOK IN OUT GONE PARK BACK. */

/* Reads such a statement with the machine at `head` into *out. False where it is none, and *out stays as
 * it is. */
bool move_read(const struct items *items, const struct before *before, const struct head *head,
               struct crew_statement *out, struct statement_end *end);

/* An empty statement of a kind. */
struct crew_statement statement_empty(enum crew_kind kind, enum crew_obstacle obstacle);

/* The machine that was found, or the candidates where several were. */
void statement_set_found(const struct name_found *found, struct crew_statement *out);

/* One more plan, unless it is there already or there is no room. */
void statement_add_plan(int32_t plan, struct crew_statement *out);

/* Reads the statement that begins with head. */
struct statement_end statement_read(const struct items *items, const struct head *head,
                                    const struct before *before, struct crew_statement *out);

/* Reading: a figure of the meter, or words that stand for one. */

/* Reads the reading whose figure is at item `figure`; what belongs to it ends with item `last`. */
struct statement_end reading_read(const struct reader *reader, size_t figure, size_t last,
                                  struct crew_statement *out);

/* "M12 did not run", "M12 same as yesterday": the words are at item between.next. */
bool reading_is_same(const struct reader *reader);
/* Reads such a statement, whose remark begins at item `said`. */
struct statement_end reading_same(const struct reader *reader, size_t said, size_t end,
                                  struct crew_statement *out);

/* "start 1335 end 1340", "1335 start, 1340 end", "from 1335 to 1340" from item between.next on: the item
 * of the second figure; the items' count where it is not so. */
size_t reading_span_end(const struct reader *reader);

/* The day of the statement: behind the machine, else behind the figure, else before the machine. */
void statement_set_when(const struct reader *reader, struct crew_statement *out);

/* Parse: a text, statement after statement. */

/* The text being read. */
struct parse {
    const struct items *items;
    struct crew_text *out;
    size_t begin;       /* the first item; a reaction may stand before it */
    size_t at;          /* the item that comes next */
    size_t spoken_from; /* where the sentence may begin that the next machine stands in */
    size_t when_at;     /* the last statement's day, with nothing said after it */
    size_t withdrawn;   /* up to this item no machine is left over: it was taken back */
};

/* One more statement; where there is no room, the text is said to have more. */
void parse_add(struct parse *parse, const struct crew_statement *statement);

/* Reads the statement that begins at item `begin` with the machine at `head`, and what is told beside it. */
void parse_machine(struct parse *parse, size_t begin, const struct head *head);

/* Several: machines that share what is said: "M12, M7 and TR9 in", "park M12 and M7". Reads such a part,
 * which begins at item `begin`: a statement for each of them. False where it is none, or where a figure
 * is said, which can be but one machine's. */
bool several_read(struct parse *parse, size_t begin);

/* A second thought at item `begin` about a statement before it: puts another in its place, or withdraws
 * it ("..., ignore that"). False where there is none. */
bool retraction_read(struct parse *parse, size_t begin);

/* "oops 1341", "sorry M14 not M12" at the start of a text, item `from`: about the sender's own last
 * reading. */
bool retraction_read_own(struct parse *parse, size_t from);

/* Alone: texts, and parts of texts, that name no machine. */

/* A word of the grammar that is a whole statement: DUE, UNDO, YES, NO, HELP, START. */
struct alone {
    enum crew_kind kind;
    size_t next; /* the item after all that belongs to it */
};

/* Such a word at item i with nothing beside it up to the next separator but a courtesy or, where
 * loose, words that say nothing more ("what's due this week?"). */
bool alone_word_at(const struct items *items, size_t i, bool loose, struct alone *out);

/* True where the whole text asks to be left alone: STOP and its like, with nothing but please, me,
 * texts and such beside it. *cancels: by a word that means NO while a question is open. */
bool alone_is_stop(const struct items *items, bool *cancels);

/* Where the text begins with a phone's reaction to a text, a verb and the text quoted: the item after
 * it, past the last one where nothing else follows; else 0, and the rest is not set. */
size_t alone_reaction_end(const struct items *items, bool *assents, struct crew_slice *quoted);

/* True where the items from i to the end are one figure and words that say nothing more. */
bool alone_is_figure(const struct items *items, size_t i, struct crew_statement *out);

/* True where the items from i to the end are a plan's name and words that say nothing more. */
bool alone_is_plan(const struct items *items, size_t i, struct crew_statement *out);

/* True where the items from i to the end name one machine in words that answer: "the 12", "es la 12". */
bool alone_is_which(const struct items *items, size_t i, struct crew_statement *out);

/* True where the items [begin, end) say that the level was looked at, and nothing else but courtesies
 * and a machine: "checked", "level ok", "done". */
bool alone_is_checked(const struct items *items, size_t begin, size_t end);

/* What a text without a statement is; CREW_TONE_STATEMENTS where it is not understood. *spelled: yes or
 * its twin stands there, more than a courtesy. */
enum crew_tone alone_tone(const struct items *items, bool *spelled);

#endif
