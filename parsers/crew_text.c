/* SPDX-License-Identifier: MIT
 * crew_text: the plainest statements only, so far: a machine's name as the config writes it, then a
 * figure, a word of the grammar, "?" or nothing; and the words that stand alone. Statements are
 * parted by a comma and a space, a semicolon or a line break. */
#include "parsers/crew_text.h"

#include <string.h>

struct span {
    const char *text;
    size_t start, end;
};

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static bool equals(const struct span *span, const char *word)
{
    size_t length = strlen(word);
    for (size_t i = 0; i < length && span->start + i < span->end; i++) {
        if (lower(span->text[span->start + i]) != lower(word[i])) {
            return false;
        }
    }
    return span->end - span->start == length;
}

/* Cuts the next word, blanks and ':' '=' before it passed over. */
static struct span next_word(struct span *rest)
{
    while (rest->start < rest->end && strchr(" :=\t", rest->text[rest->start]) != NULL) {
        rest->start++;
    }
    struct span word = *rest;
    while (rest->start < rest->end && strchr(" :=?\t", rest->text[rest->start]) == NULL) {
        rest->start++;
    }
    word.end = rest->start;
    return word;
}

static bool read_figure(struct span word, struct hours_figure *out)
{
    while (word.end > word.start && strchr("hrsHRS", word.text[word.end - 1]) != NULL) {
        word.end--;
    }
    bool ok = hours_read(word.text + word.start, word.end - word.start, out) == HOURS_OK;
    out->start = (uint16_t)word.start;
    out->length = (uint16_t)(word.end - word.start);
    return ok;
}

static enum crew_kind word_kind(const struct span *word)
{
    static const struct {
        const char *word;
        enum crew_kind kind;
    } words[] = {
        {"due", CREW_DUE},     {"undo", CREW_UNDO}, {"yes", CREW_YES},     {"no", CREW_NO},
        {"help", CREW_HELP},   {"stop", CREW_STOP}, {"start", CREW_START}, {"done", CREW_SERVICE},
        {"fix", CREW_CORRECT}, {"swap", CREW_SWAP}, {"later", CREW_LATER}, {"park", CREW_PARK},
        {"back", CREW_BACK},
    };
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (equals(word, words[i].word)) {
            return words[i].kind;
        }
    }
    return CREW_UNKNOWN;
}

static int32_t find_name(const struct span *word, const struct crew_names *names)
{
    for (size_t i = 0; i < names->machine_count; i++) {
        if (equals(word, names->machines[i].name)) {
            return (int32_t)i;
        }
    }
    return -1;
}

static int32_t find_plan(const struct span *word, const struct crew_names *names)
{
    for (size_t i = 0; i < names->plan_count; i++) {
        if (equals(word, names->plans[i])) {
            return (int32_t)i;
        }
    }
    return -1;
}

/* What follows the machine and, where there is one, the word of the grammar. */
static void read_body(struct span *rest, const struct crew_names *names, struct crew_statement *out)
{
    struct span before = *rest;
    struct span word = next_word(rest);
    if (out->kind == CREW_SERVICE && find_plan(&word, names) >= 0) {
        out->plan = find_plan(&word, names);
        before = *rest;
        word = next_word(rest);
    }
    if (!read_figure(word, &out->hours)) {
        *rest = before;
        out->trouble = CREW_TROUBLE_NO_FIGURE;
    } else if (out->kind == CREW_SWAP && !read_figure(next_word(rest), &out->to_hours)) {
        out->trouble = CREW_TROUBLE_NO_FIGURE;
    }
}

static void read_after_machine(struct span rest, const struct crew_names *names,
                               struct crew_statement *out)
{
    struct span before = rest;
    struct span word = next_word(&rest);
    enum crew_kind kind = word_kind(&word);
    if (word.start == word.end) {
        out->kind = CREW_STATUS;
        return;
    }
    out->kind = kind;
    if (kind == CREW_UNKNOWN) {
        out->kind = CREW_READING;
        rest = before;
    }
    if (kind != CREW_PARK && kind != CREW_BACK) {
        read_body(&rest, names, out);
    }
    if (kind == CREW_LATER) {
        out->days = (int32_t)(out->hours.hundredths / 100);
        out->trouble = out->days >= 1 && out->days <= 60 ? CREW_TROUBLE_NONE : CREW_TROUBLE_DAYS;
    }
    if (out->kind == CREW_READING && out->trouble != CREW_TROUBLE_NONE) {
        out->kind = CREW_UNKNOWN;
        out->trouble = CREW_TROUBLE_UNCLEAR;
    }
    out->remark.start = (uint16_t)(rest.start < rest.end ? rest.start + 1 : rest.start);
    out->remark.length = (uint16_t)(rest.end - out->remark.start);
}

static void read_statement(struct span span, const struct crew_names *names,
                           struct crew_statement *out)
{
    struct span rest = span;
    struct span word = next_word(&rest);
    out->machine = find_name(&word, names);
    out->plan = -1;
    out->candidates[0] = -1;
    out->when.minute_of_day = -1;
    out->words.start = (uint16_t)word.start;
    out->words.length = (uint16_t)(word.end - word.start);
    if (out->machine >= 0) {
        out->machine_full = true;
        read_after_machine(rest, names, out);
        return;
    }
    out->kind = word_kind(&word);
    if (read_figure(word, &out->hours)) {
        out->kind = CREW_FIGURE;
    } else if (find_plan(&word, names) >= 0) {
        out->kind = CREW_PLAN;
        out->plan = find_plan(&word, names);
    } else if (out->kind == CREW_UNKNOWN) {
        out->trouble = CREW_TROUBLE_UNCLEAR;
    }
}

static bool parts(const char *text, size_t length, size_t at)
{
    return text[at] == '\n' || text[at] == ';' ||
           (text[at] == ',' && at + 1 < length && text[at + 1] == ' ');
}

void crew_text_read(const char *text, size_t length, const struct crew_names *names,
                    enum crew_date_order date_order, bool question_open, struct crew_text *out)
{
    (void)date_order;
    (void)question_open;
    *out = (struct crew_text){.cut = length > CREW_TEXT_OCTETS_MAX};
    size_t end = out->cut ? CREW_TEXT_OCTETS_MAX : length;
    for (size_t start = 0, at = 0; at <= end; at++) {
        if (at < end && !parts(text, end, at)) {
            continue;
        }
        if (at > start && out->statement_count == CREW_TEXT_STATEMENTS_MAX) {
            out->more = true;
        } else if (at > start) {
            read_statement((struct span){text, start, at}, names,
                           &out->statements[out->statement_count++]);
        }
        start = at + 1;
    }
}

bool crew_text_is_word(const char *name, size_t length)
{
    struct span word = {name, 0, length};
    return word_kind(&word) != CREW_UNKNOWN;
}

bool crew_text_names_alike(const char *one, const char *other)
{
    struct span span = {one, 0, strlen(one)};
    return equals(&span, other);
}
