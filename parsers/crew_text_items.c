/* SPDX-License-Identifier: MIT
 * crew_text_items: a text as a row of items.
 *
 * At each place the readings are tried in the order that keeps them apart: a name of the yard first
 * (names may look like anything), then figures, the words of the tables, words shaped like a
 * machine's name, and whatever is left. Then numbers in words, days, and what figures count. */
#include "parsers/crew_text_items.h"

#define STRANGER_LETTERS_MAX 4
#define STRANGER_DIGITS_MAX 4
#define GLUED_UNITS_MIN 2 /* "M121" is a name with a digit too many rather than M12 at 1 */

/* Words that mean something only after a figure: letters like these may begin a machine's name. */
#define UNITS_ALONE                                                                                \
    (WORD_QUARTS | WORD_LITRES | WORD_DAYS | WORD_WEEKS | WORD_MINUTES | WORD_MEASURE |            \
     WORD_ORDINAL)

static size_t pass_letters(const struct fold *fold, size_t at)
{
    size_t end = at;
    while (fold_is_letter(fold_at(fold, end))) {
        end++;
    }
    return end;
}

static size_t pass_digits(const struct fold *fold, size_t at)
{
    size_t end = at;
    while (fold_is_digit(fold_at(fold, end))) {
        end++;
    }
    return end;
}

/* "M12's": the genitive belongs to the name. */
static size_t pass_genitive(const struct fold *fold, size_t at)
{
    bool genitive = fold_at(fold, at) == '\'' && fold_lower(fold_at(fold, at + 1)) == 's' &&
                    !fold_is_alnum(fold_at(fold, at + 2));
    return genitive ? at + 2 : at;
}

static bool read_machine(const struct items *items, struct item *item)
{
    if (!names_may_begin(&items->machines, items->fold, item->at)) {
        return false;
    }
    item->found = names_machine_at(items->fold, item->at, items->names);
    if (item->found.index == NAMES_NONE) {
        return false;
    }
    item->kind = ITEM_MACHINE;
    item->full = true;
    item->end = pass_genitive(items->fold, item->found.end);
    return true;
}

/* "M12s at 1340": the genitive without its mark, before a word. */
static bool read_bare_genitive(const struct items *items, size_t end, struct item *item)
{
    const struct fold *fold = items->fold;
    bool ends = end > 0 && fold_lower(fold_at(fold, end - 1)) == 's' &&
                fold_is_blank(fold_at(fold, end)) && fold_is_letter(fold_at(fold, end + 1));
    item->found = names_nothing();
    for (size_t i = 0; ends && i < items->names->machine_count; i++) {
        if (names_prefix_at(fold, item->at, items->names->machines[i].name) == end - 1) {
            item->found.index = item->found.candidates[0] = (int32_t)i;
        }
    }
    if (item->found.index == NAMES_NONE) {
        return false;
    }
    item->kind = ITEM_MACHINE;
    item->full = true;
    item->end = item->found.end = end;
    return true;
}

/* "M121340h", "M12h1340": a name, then a figure, in one word. Several names may begin it. */
static bool read_glued(const struct items *items, struct item *item)
{
    item->found = names_nothing();
    for (size_t i = 0; i < items->names->machine_count; i++) {
        struct figure figure;
        size_t name_end = names_prefix_at(items->fold, item->at, items->names->machines[i].name);
        size_t unit = fold_lower(fold_at(items->fold, name_end)) == 'h' ? 1 : 0;
        size_t at = name_end + unit;
        if (name_end > 0 && figure_at(items->fold, at, items->order, &figure) &&
            figure.kind == FIGURE_HOURS && figure.end >= phrase_word_end(items->fold, at) &&
            figure.end >= at + GLUED_UNITS_MIN) {
            bool first = item->found.index == NAMES_NONE;
            item->found.index = first ? (int32_t)i : NAMES_SEVERAL;
            names_add_candidate((int32_t)i, &item->found);
            item->kind = ITEM_GLUED;
            item->figure = figure;
            item->end = figure.end;
        }
    }
    return item->found.index != NAMES_NONE;
}

/* "1340M12", "1340hM12": the same the other way round; what the digits are is not looked at. */
static bool read_glued_backwards(const struct items *items, struct item *item)
{
    size_t name_at = pass_digits(items->fold, item->at);
    item->found = names_machine_at(items->fold, name_at, items->names);
    if (item->found.index < 0 && fold_lower(fold_at(items->fold, name_at)) == 'h') {
        item->found = names_machine_at(items->fold, name_at + 1, items->names);
    }
    if (item->found.index < 0) {
        return false;
    }
    item->kind = ITEM_GLUED;
    item->figure.hours.present = false;
    item->end = item->found.end;
    return true;
}

static bool read_figure(const struct items *items, struct item *item)
{
    if (!figure_at(items->fold, item->at, items->order, &item->figure)) {
        return false;
    }
    item->kind = ITEM_FIGURE;
    item->end = item->figure.end;
    if (item->figure.kind == FIGURE_BAD) {
        (void)read_glued_backwards(items, item);
    }
    return true;
}

/* "h1340": a unit of hours before its figure. */
static bool read_unit_first(const struct items *items, size_t digits_at, struct item *item)
{
    struct word_sense sense;
    if (!phrase_is(items->fold, item->at, digits_at, &sense) || (sense.classes & WORD_HOURS) == 0) {
        return false;
    }
    (void)figure_at(items->fold, digits_at, items->order, &item->figure);
    item->kind = ITEM_FIGURE;
    item->figure.hours_said = true;
    item->end = item->figure.end;
    return true;
}

/* Letters, then digits, then perhaps one more letter, to the end of the word: where they end, else
 * 0. */
static size_t stranger_end(const struct fold *fold, size_t letters_at, size_t digits_at)
{
    size_t letters_end = pass_letters(fold, letters_at);
    size_t digits_end = pass_digits(fold, digits_at);
    size_t end = fold_is_letter(fold_at(fold, digits_end)) ? digits_end + 1 : digits_end;
    bool shaped = letters_end <= letters_at + STRANGER_LETTERS_MAX &&
                  digits_end <= digits_at + STRANGER_DIGITS_MAX &&
                  !fold_is_alnum(fold_at(fold, end));
    return shaped ? end : 0;
}

/* A word of letters and digits that is no machine's name. */
static bool read_mixed(const struct items *items, struct item *item)
{
    size_t digits_at = pass_letters(items->fold, item->at);
    if (!fold_is_digit(fold_at(items->fold, digits_at))) {
        return false;
    }
    size_t end = stranger_end(items->fold, item->at, digits_at);
    if (read_figure(items, item) || read_unit_first(items, digits_at, item) ||
        read_bare_genitive(items, end, item)) {
        return true;
    }
    size_t next = end; /* "M13 1340": with a figure right after it a word is a name */
    for (size_t n = 0; n < 3 && !fold_is_alnum(fold_at(items->fold, next)); n++) {
        next++;
    }
    if (end > 0 && fold_is_digit(fold_at(items->fold, next))) {
        item->kind = ITEM_STRANGER;
        item->end = end;
        return true;
    }
    if (read_glued(items, item)) {
        return true;
    }
    item->kind = end > 0 ? ITEM_STRANGER : ITEM_WORD;
    item->end = end > 0 ? end : phrase_word_end(items->fold, item->at);
    return true;
}

/* "TR-10" and "M 13" where machines of the yard begin with those letters; "TR-91340". */
static bool read_parted(const struct items *items, struct item *item)
{
    size_t letters_end = pass_letters(items->fold, item->at);
    uint16_t gap = fold_at(items->fold, letters_end);
    if ((gap != '-' && !fold_is_blank(gap)) ||
        !fold_is_digit(fold_at(items->fold, letters_end + 1))) {
        return false;
    }
    if (read_glued(items, item)) {
        return true;
    }
    struct word_sense sense;
    size_t end = stranger_end(items->fold, item->at, letters_end + 1);
    bool known = phrase_is(items->fold, item->at, letters_end, &sense) &&
                 (sense.classes & ~UNITS_ALONE) != 0;
    if (end == 0 || known ||
        !names_have_letters(items->fold, item->at, letters_end, items->names)) {
        return false;
    }
    item->kind = ITEM_STRANGER;
    item->end = end;
    return true;
}

static void read_word(const struct items *items, struct item *item)
{
    item->kind = ITEM_WORD;
    item->end = phrase_at(items->fold, item->at, &item->sense);
    if (item->end > 0) {
        return;
    }
    item->end = phrase_word_end(items->fold, item->at);
    size_t person_end = names_may_begin(&items->people, items->fold, item->at)
                            ? names_person_at(items->fold, item->at, items->names)
                            : 0;
    if (person_end > 0) {
        item->sense.classes = WORD_COURTESY;
        item->end = pass_genitive(items->fold, person_end);
    }
}

static void read_sign(uint16_t unit, struct item *item)
{
    item->kind = ITEM_WORD;
    item->sense.classes = WORD_COURTESY;
    if (unit == FOLD_THUMB_UP) {
        item->sense.classes |= WORD_ASSENT;
    } else if (unit == FOLD_THUMB_DOWN) {
        item->sense.classes |= WORD_DISSENT;
    } else if (unit == '\n') {
        item->kind = ITEM_BREAK;
    } else if (unit < FOLD_EMOJI) {
        item->kind = ITEM_MARK;
        item->mark = (char)unit;
    }
}

/* One item; item->at is where it begins. */
static void read_item(const struct items *items, struct item *item)
{
    uint16_t unit = fold_at(items->fold, item->at);
    item->end = item->at + 1;
    if (fold_is_digit(unit)) {
        if (phrase_at(items->fold, item->at, &item->sense) > 0) {
            read_word(items, item); /* "10-4" */
        } else if (!read_machine(items, item)) {
            (void)read_figure(items, item);
        }
    } else if (!fold_is_letter(unit)) {
        if (unit != '(' || !read_figure(items, item)) {
            read_sign(unit, item);
        }
    } else if (!read_machine(items, item) && !read_mixed(items, item) &&
               !read_parted(items, item)) {
        read_word(items, item);
    }
}

/* Cuts the text into items; blanks, and lines that quote an earlier text, are passed over. */
static void read_items(struct items *out)
{
    const struct fold *fold = out->fold;
    size_t at = 0;
    bool new_line = true;
    for (size_t i = 0; i < ITEMS_MAX; i++) {
        size_t begin = at;
        while (fold_is_blank(fold_at(fold, begin))) {
            begin++;
        }
        bool quotes = new_line && fold_at(fold, begin) == '>';
        while (quotes && begin < fold->count && fold_at(fold, begin) != '\n') {
            begin++;
        }
        out->quotes_lines = out->quotes_lines || quotes;
        if (begin >= fold->count) {
            return;
        }
        struct item item = item_past_the_last;
        item.at = begin;
        item.spaced = begin > at;
        read_item(out, &item);
        out->item[i] = item;
        out->count = i + 1;
        at = item.end;
        new_line = item.kind == ITEM_BREAK;
    }
    out->cut = true;
}

void items_read(const struct fold *fold, const struct crew_names *names, enum crew_date_order order,
                struct items *out)
{
    out->fold = fold;
    out->names = names;
    out->order = order;
    out->quotes_lines = false;
    out->cut = false;
    out->count = 0;
    out->machines = (struct names_first){.any = false};
    out->people = (struct names_first){.any = false};
    for (size_t i = 0; i < names->machine_count; i++) {
        names_add_first(names->machines[i].name, &out->machines);
    }
    for (size_t i = 0; i < names->people_count; i++) {
        names_add_first(names->people[i], &out->people);
    }
    read_items(out);
    numbers_reduce(out);
    when_reduce(out);
    numbers_add_parts(out);
    natures_set(out);
}

bool item_reads_hours(const struct items *items, size_t i)
{
    const struct item *item = items_at(items, i);
    bool one = item->kind == ITEM_FIGURE && item->figure.spelled_one &&
               items_at(items, i + 1)->kind != ITEM_WORD;
    return item_is_hours(item) || one;
}
