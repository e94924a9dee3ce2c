/* SPDX-License-Identifier: MIT
 * settings_slips: what is behind libconfig's bare "syntax error". The grammar is libconfig's alone:
 * here the marks of the text are followed (quotes, brackets, comments), which also catches what
 * libconfig 1.5 lets pass, a text or comment without an end; and the lines where it stopped are
 * held against a table of the usual slips of a hand. */
#include <regex.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "config/settings_reader.h"

#define DEPTH_MAX 32
#define SHOWN_OCTETS_MAX 40

#define DIGITS "0123456789"
#define LETTERS "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"

/* ---- Marks ---- */

struct walk {
    const char *text;
    char *plain;
    size_t at;
    size_t opened_at[DEPTH_MAX]; /* where the brackets now open stand */
    size_t depth;
    bool includes;
    struct settings_slip *slip;
};

static uint32_t line_of(const char *text, size_t at)
{
    uint32_t line = 1;
    for (size_t i = 0; i < at; i++) {
        line += text[i] == '\n' ? 1 : 0;
    }
    return line;
}

static bool found(struct walk *walk, size_t at, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Always false: the walk ends here. */
static bool found(struct walk *walk, size_t at, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(walk->slip->says, sizeof walk->slip->says, format, arguments);
    va_end(arguments);
    walk->slip->line = line_of(walk->text, at);
    return false;
}

static int shown(size_t length)
{
    return (int)(length > SHOWN_OCTETS_MAX ? SHOWN_OCTETS_MAX : length);
}

static char closing(char open)
{
    return open == '{' ? '}' : open == '(' ? ')' : ']';
}

/* Takes length octets, which stand as `mark` in the plain text; line breaks stay. */
static void pass(struct walk *walk, size_t length, char mark)
{
    for (size_t end = walk->at + length; walk->at < end; walk->at++) {
        if (walk->plain != NULL && walk->text[walk->at] != '\n') {
            walk->plain[walk->at] = mark;
        }
    }
}

/* From quote to quote. Behind the last there is no word: else a quote was left out before, so that
 * the one meant to open a text has closed one. */
static bool pass_text(struct walk *walk)
{
    const char *here = walk->text + walk->at;
    size_t length = 1;
    while (here[length] != '\0' && here[length] != '"') {
        length += here[length] == '\\' && here[length + 1] != '\0' ? 2 : 1;
    }
    if (here[length] == '\0' || memchr(here, '\n', length) != NULL) {
        size_t first_line = strcspn(here, "\n");
        return found(
            walk, walk->at,
            "the text that begins with %.*s has no quote at its end; \"text\" is expected, "
            "on one line",
            (int)(first_line > 20 ? 20 : first_line), here);
    }
    length++;
    size_t word = strspn(here + length, LETTERS DIGITS "+-._*");
    if (word > 0) {
        return found(walk, walk->at,
                     "a quote is missing in or before %.*s%.*s; \"text\" is expected",
                     shown(length), here, shown(word), here + length);
    }
    pass(walk, length, '"');
    return true;
}

static bool pass_close(struct walk *walk)
{
    char mark = walk->text[walk->at];
    if (walk->depth == 0) {
        return found(walk, walk->at,
                     "\"%c\" closes nothing; take it away, or look for a bracket too many above",
                     mark);
    }
    size_t opened_at = walk->opened_at[walk->depth - 1];
    char open = walk->text[opened_at];
    if (mark != closing(open)) {
        return found(walk, walk->at,
                     "\"%c\" stands where the \"%c\" of line %u is still open; \"%c\" is expected "
                     "first",
                     mark, open, line_of(walk->text, opened_at), closing(open));
    }
    walk->depth--;
    walk->at++;
    return true;
}

/* What sets and divides values in a group, where a list is open. */
static bool pass_group_mark(struct walk *walk)
{
    char mark = walk->text[walk->at];
    size_t opened_at = walk->depth > 0 ? walk->opened_at[walk->depth - 1] : 0;
    char open = walk->depth > 0 ? walk->text[opened_at] : '{';
    if (open != '{' && mark == ';') {
        return found(walk, walk->at,
                     "\";\" stands in the list that line %u opens; \",\" or \"%c\" is expected",
                     line_of(walk->text, opened_at), closing(open));
    }
    if (open != '{') {
        return found(walk, walk->at,
                     "\"=\" stands in the list that line %u opens; \"{\" is expected before the "
                     "name",
                     line_of(walk->text, opened_at));
    }
    walk->at++;
    return true;
}

static bool pass_word(struct walk *walk)
{
    static const char *const quotes[] = {
        "\xE2\x80\x9C", "\xE2\x80\x9D", "\xE2\x80\x9E", "\xE2\x80\x98",
        "\xE2\x80\x99", "\xC2\xAB",     "\xC2\xBB",     "'"};
    const char *here = walk->text + walk->at;
    for (size_t i = 0; i < sizeof quotes / sizeof quotes[0]; i++) {
        if (strncmp(here, quotes[i], strlen(quotes[i])) == 0) {
            return found(walk, walk->at,
                         "the quotation mark %s is not the plain one; \"text\" is expected",
                         quotes[i]);
        }
    }
    walk->at++;
    return true;
}

/* The name of the setting whose value stands at `at`; its length is 0 where that cannot be told. */
static const char *name_of_value(const char *text, size_t at, size_t *length)
{
    while (at > 0 && strchr(" \t+-", text[at - 1]) != NULL) {
        at--;
    }
    bool set = at > 0 && strchr("=:", text[at - 1]) != NULL;
    at -= set ? 1 : 0;
    while (at > 0 && strchr(" \t", text[at - 1]) != NULL) {
        at--;
    }
    size_t end = at;
    while (set && at > 0 && strchr(LETTERS DIGITS "_-", text[at - 1]) != NULL) {
        at--;
    }
    *length = end - at;
    return text + at;
}

/* Figures, and what libconfig makes something else of without a word: a point alone of 0, and whole
 * numbers beyond 32 bits. */
static bool pass_number(struct walk *walk)
{
    const char *here = walk->text + walk->at;
    size_t digits = strspn(here, DIGITS), decimals = 0;
    if (here[digits] == '.') {
        decimals = strspn(here + digits + 1, DIGITS) + 1;
    }
    bool in_word = walk->at > 0 && strchr(LETTERS DIGITS "_-", here[-1]) != NULL;
    if (digits == 0 && decimals == 1 && !in_word) { /* my.db wants quotes, which is said below */
        return found(walk, walk->at, "\".\" alone is no number; one is expected");
    }
    if (decimals == 0 && strtoll(here, NULL, 10) > INT32_MAX &&
        (here[digits] == '\0' || strchr("eEL", here[digits]) == NULL)) {
        size_t length = 0;
        const char *name = name_of_value(walk->text, walk->at, &length);
        return found(walk, walk->at,
                     "%.*s%s%.*s is too large a number; a smaller one, or a telephone number in "
                     "quotes, is expected",
                     shown(length), name, length > 0 ? " = " : "", shown(digits), here);
    }
    walk->at += digits + decimals;
    return true;
}

/* Passes over one mark, text, comment or word; false where something was found. */
static bool step(struct walk *walk)
{
    const char *here = walk->text + walk->at, *end = NULL;
    switch (here[0]) {
    case '"':
        return pass_text(walk);
    case '{':
    case '(':
    case '[':
        if (walk->depth == DEPTH_MAX) {
            return found(walk, walk->at, "brackets are nested too deeply; fewer are expected");
        }
        walk->opened_at[walk->depth++] = walk->at++;
        return true;
    case '}':
    case ')':
    case ']':
        return pass_close(walk);
    case ';':
    case '=':
        return pass_group_mark(walk);
    case '/':
        if (here[1] == '/') {
            break;
        }
        if (here[1] != '*') {
            return pass_word(walk);
        }
        end = strstr(here + 2, "*/");
        if (end == NULL) {
            return found(walk, walk->at, "the comment that begins here never ends; */ is expected");
        }
        pass(walk, (size_t)(end - here) + strlen("*/"), ' ');
        return true;
    case '@':
        walk->includes = true;
        pass(walk, strcspn(here, "\n"), '@');
        return true;
    case '#':
        break;
    default:
        return strchr(DIGITS ".", here[0]) != NULL ? pass_number(walk) : pass_word(walk);
    }
    pass(walk, strcspn(here, "\n"), ' ');
    return true;
}

bool settings_marks_well(const char *text, char *plain, struct settings_slip *slip)
{
    struct walk walk = {.text = text, .plain = plain, .slip = slip};
    if (plain != NULL) {
        memcpy(plain, text, strlen(text) + 1);
    }
    while (text[walk.at] != '\0') {
        if (!step(&walk)) {
            return false;
        }
    }
    if (walk.depth > 0 && !walk.includes) { /* what is included may close it */
        size_t at = walk.opened_at[walk.depth - 1];
        return found(&walk, at, "the \"%c\" of this line is never closed; \"%c\" is expected",
                     text[at], closing(text[at]));
    }
    return true;
}

/* ---- Slips ---- */

#define NAME "([A-Z*][-A-Z0-9_*]*)"
#define VALUE "([A-Z0-9+.-][-A-Z0-9+.:_/]*)"
#define BEFORE "(^|[^-A-Z0-9_*.+])" /* no part of a word */
#define GAP "[[:space:]]*"
#define BARE                                                                                       \
    "^(true|false|[-+]?([0-9]+L*|0x[0-9A-F]+L*|([0-9]+\\.?[0-9]*|\\.[0-9]+)(e[-+]?[0-9]+)?))$"

/* A slip by its look in the plain text. In what is said of it {2} is part 2 of the pattern, and the
 * last part is where the message points. */
struct look {
    const char *pattern;
    const char *says;
    bool but_bare; /* no slip where the last part is a number or flag, which stand without quotes */
};

static const struct look looks[] = {
    {BEFORE "(phone|number)" GAP "[=:]" GAP "[+(]?[0-9]+([-)( \t]+|\\.[0-9]+[-.)( \t]+)[-(0-9]",
     "{2} is a telephone number that is not in quotes; {2} = \"...\" is expected", false},
    {"(\\[)" GAP "\\{", "a list of groups stands between ( and ); ( is expected instead of {1}",
     false},
    {"[=:]" GAP "([-+]?[0-9]+),[ \t]*([0-9]+)",
     "{1},{2} has a decimal comma; a point is expected, as {1}.{2}", false},
    {"[=:]" GAP "([-+.0-9]+)[ \t]+([-+.0-9]+)",
     "{1} {2} is not one number; one number, or text in quotes, is expected", false},
    {BEFORE NAME GAP "[=:]" GAP VALUE, "{2} = {3} is not in quotes; {2} = \"{3}\" is expected",
     true},
    {"[(,[]" GAP VALUE GAP "[]),]", "{1} is not in quotes; \"{1}\" is expected", true},
    {"[=:]" GAP "\"+" GAP "," GAP "(\"+)",
     "the text {1} belongs to no setting; name = value is expected, and ( ) around several values",
     false},
    {"[]})]" GAP "([[{(])",
     "a comma is missing before \"{1}\"; entries of a list have commas between them", false},
    {"," GAP "([])])", "a comma stands before the closing \"{1}\"; take the comma away", false},
    {BEFORE NAME GAP "[\"({[]", "\"=\" is missing behind {2}; {2} = ... is expected", false},
    {BEFORE NAME "[ \t]+[-+.0-9]", "\"=\" is missing behind {2}; {2} = ... is expected", false},
    {"[=:]" GAP "([;,)}])", "a value is missing before \"{1}\"; one is expected", false},
    {BEFORE NAME GAP "[=:]" GAP "$", "{2} has no value; one is expected", false},
    {"[;,{]" GAP "([;,])", "there is a \"{1}\" too many; the name of a setting is expected", false},
};

#define PARTS_MAX 5

static bool matches(const char *pattern, const char *text, regmatch_t parts[PARTS_MAX])
{
    regex_t regex;
    if (regcomp(&regex, pattern, REG_EXTENDED | REG_ICASE) != 0) {
        return false;
    }
    bool well = regexec(&regex, text, PARTS_MAX, parts, 0) == 0;
    regfree(&regex);
    return well;
}

static bool is_bare(const char *text, const regmatch_t *part)
{
    regmatch_t parts[PARTS_MAX];
    char value[SHOWN_OCTETS_MAX + 1];
    snprintf(value, sizeof value, "%.*s", shown((size_t)(part->rm_eo - part->rm_so)),
             text + part->rm_so);
    return matches(BARE, value, parts);
}

/* From where on the parts are counted of the first place of the plain text that looks so, NULL where
 * there is none; *last is the last part. */
static const char *find_look(const struct look *look, const char *plain,
                             regmatch_t parts[PARTS_MAX], const regmatch_t **last)
{
    while (matches(look->pattern, plain, parts)) {
        *last = parts;
        while (*last < parts + PARTS_MAX - 1 && (*last)[1].rm_so >= 0) {
            *last += 1;
        }
        if (!look->but_bare || !is_bare(plain, *last)) {
            return plain;
        }
        plain += (*last)->rm_so;
    }
    return NULL;
}

/* The words of a slip, its parts as they stand in the text. */
static void say(const char *words, const char *text, const regmatch_t parts[PARTS_MAX], char *says,
                size_t size)
{
    size_t used = 0;
    while (*words != '\0' && used + SHOWN_OCTETS_MAX < size) {
        if (*words == '{') {
            const regmatch_t *part = &parts[words[1] - '0'];
            used +=
                (size_t)snprintf(says + used, size - used, "%.*s",
                                 shown((size_t)(part->rm_eo - part->rm_so)), text + part->rm_so);
            words += strlen("{0}");
        } else {
            says[used++] = *words++;
        }
    }
    says[used] = '\0';
}

static size_t start_of(const char *text, uint32_t line)
{
    size_t at = 0;
    for (uint32_t i = 1; i < line && text[at] != '\0'; i++) {
        at += strcspn(text + at, "\n");
        at += text[at] == '\n' ? 1 : 0;
    }
    return at;
}

/* True where the group around plain[at] sets that name before. */
static bool is_set_before(const char *plain, size_t at, const char *name, size_t length)
{
    for (size_t depth = 0; at > 0; at--) {
        const char *here = plain + at - 1;
        if (strchr(")]}", *here) != NULL) {
            depth++;
        } else if (strchr("([{", *here) != NULL) {
            if (depth-- == 0) {
                return false;
            }
        } else if (depth == 0 && strncmp(here, name, length) == 0 &&
                   (at == 1 || strchr(LETTERS DIGITS "_-*", here[-1]) == NULL)) {
            const char *behind = here + length + strspn(here + length, " \t\n");
            if (*behind == '=' || *behind == ':') {
                return true;
            }
        }
    }
    return false;
}

bool settings_slip_twice(const char *text, const char *plain, uint32_t line,
                         struct settings_slip *slip)
{
    regmatch_t parts[PARTS_MAX];
    const char *at = plain + start_of(plain, line), *end = at + strcspn(at, "\n");
    while (at < end && matches(BEFORE NAME GAP "[=:]", at, parts) && at + parts[2].rm_so < end) {
        size_t start = (size_t)(at - plain) + (size_t)parts[2].rm_so;
        size_t length = (size_t)(parts[2].rm_eo - parts[2].rm_so);
        if (is_set_before(plain, start, plain + start, length)) {
            snprintf(slip->says, sizeof slip->says,
                     "%.*s is set twice in one group; once is expected", shown(length),
                     text + start);
            slip->line = line;
            return true;
        }
        at += parts[0].rm_eo;
    }
    return false;
}

bool settings_slip_near(const char *text, char *plain, uint32_t line, struct settings_slip *slip)
{
    regmatch_t parts[PARTS_MAX];
    const regmatch_t *last = NULL;
    size_t start = start_of(plain, line);
    plain[start + strcspn(plain + start, "\n")] = '\0';
    while (start > 0 && strchr(" \t\r\n", plain[start - 1]) != NULL) {
        start--;
    }
    while (start > 0 && plain[start - 1] != '\n') {
        start--;
    }
    for (size_t i = 0; i < sizeof looks / sizeof looks[0]; i++) {
        const char *from = find_look(&looks[i], plain + start, parts, &last);
        if (from != NULL) {
            say(looks[i].says, text + (from - plain), parts, slip->says, sizeof slip->says);
            slip->line = line_of(text, (size_t)(from - plain + last->rm_so));
            return true;
        }
    }
    return false;
}
