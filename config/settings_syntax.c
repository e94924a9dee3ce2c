/* SPDX-License-Identifier: MIT
 * settings_syntax: walks the tokens with a stack of open brackets and what is wanted next, and
 * stops at the first token that does not fit. The usual slips of a hand each have their own words:
 * a quote, comma or bracket left out, a time or telephone number without quotes, a decimal comma. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "config/settings_reader.h"

#define DIGITS "0123456789"
#define LETTERS "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
#define BLANKS " \t\r\f"

void tokens_begin(struct tokens *tokens, const char *text)
{
    *tokens = (struct tokens){.text = text, .at = 0, .line = 1, .open_comment_line = 0};
}

static bool among(char octet, const char *set)
{
    return octet != '\0' && strchr(set, octet) != NULL;
}

/* Takes length octets, counting their lines. */
static void pass(struct tokens *tokens, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        tokens->line += tokens->text[tokens->at + i] == '\n' ? 1 : 0;
    }
    tokens->at += length;
}

static void pass_block_comment(struct tokens *tokens)
{
    const char *start = tokens->text + tokens->at;
    const char *end = strstr(start + 2, "*/");
    if (end == NULL) {
        tokens->open_comment_line = tokens->line;
        pass(tokens, strlen(start));
    } else {
        pass(tokens, (size_t)(end - start) + 2);
    }
}

/* Blanks, comments and @include lines; false when none stands here. */
static bool pass_one_blank(struct tokens *tokens)
{
    const char *here = tokens->text + tokens->at;
    size_t blanks = strspn(here, BLANKS "\n");
    if (blanks > 0) {
        pass(tokens, blanks);
    } else if (here[0] == '#' || here[0] == '@' || strncmp(here, "//", 2) == 0) {
        pass(tokens, strcspn(here, "\n"));
    } else if (strncmp(here, "/*", 2) == 0) {
        pass_block_comment(tokens);
    } else {
        return false;
    }
    return true;
}

/* Octets of a string from its opening quote to behind its closing one, or to the end. */
static size_t string_length(const char *text)
{
    size_t i = 1;
    while (text[i] != '\0' && text[i] != '"') {
        i += text[i] == '\\' && text[i + 1] != '\0' ? 2 : 1;
    }
    return text[i] == '"' ? i + 1 : i;
}

/* A number, a time, a date or the like, from its first digit to the next blank or mark; a slash
 * belongs to it only where no comment begins there. */
static size_t figures_length(const char *text)
{
    size_t length = strspn(text, LETTERS DIGITS "+-.:_");
    while (text[length] == '/' && among(text[length + 1], DIGITS)) {
        length += 1 + strspn(text + length + 1, LETTERS DIGITS "+-.:_");
    }
    return length;
}

/* True where text[0, length) is a number as libconfig writes it: decimal, hexadecimal with 0x, or
 * with a point or exponent; L behind a whole one. */
static bool well_formed_number(const char *text, size_t length)
{
    size_t i = among(text[0], "+-") ? 1 : 0;
    if (length > i + 2 && text[i] == '0' && among(text[i + 1], "xX")) {
        size_t digits = strspn(text + i + 2, DIGITS "abcdefABCDEF");
        i += 2 + digits;
        return digits > 0 && i + strspn(text + i, "L") == length;
    }
    size_t whole = strspn(text + i, DIGITS);
    i += whole;
    if (i == length || (text[i] == 'L' && whole > 0 && i + strspn(text + i, "L") == length)) {
        return whole > 0;
    }
    size_t fraction = 0;
    if (text[i] == '.') {
        fraction = strspn(text + i + 1, DIGITS);
        i += 1 + fraction;
    }
    if (i < length && among(text[i], "eE") && whole + fraction > 0) {
        i += among(text[i + 1], "+-") ? 2 : 1;
        size_t exponent = strspn(text + i, DIGITS);
        i += exponent;
        return exponent > 0 && i == length;
    }
    return whole + fraction > 0 && i == length;
}

/* True where a whole number does not fit 32 bits: some versions of libconfig wrap it silently. */
static bool too_wide(const char *text, size_t length)
{
    size_t start = among(text[0], "+-") ? 1 : 0;
    size_t digits = strspn(text + start, DIGITS);
    if (start + digits != length) {
        return false;
    }
    size_t zeros = strspn(text + start, "0");
    zeros = zeros > digits ? digits : zeros;
    size_t left = digits - zeros;
    return left > 10 || (left == 10 && strncmp(text + start + zeros, "2147483647", 10) > 0);
}

static enum token_kind mark_kind(char mark)
{
    if (among(mark, "{([")) {
        return TOKEN_OPEN;
    }
    if (among(mark, "})]")) {
        return TOKEN_CLOSE;
    }
    if (among(mark, "=:")) {
        return TOKEN_EQUALS;
    }
    return mark == ';' ? TOKEN_STOP : mark == ',' ? TOKEN_COMMA : TOKEN_OTHER;
}

struct token tokens_next(struct tokens *tokens)
{
    while (pass_one_blank(tokens)) {
    }
    const char *here = tokens->text + tokens->at;
    struct token token = {.kind = TOKEN_END, .text = here, .length = 1, .line = tokens->line};
    if (here[0] == '\0') {
        token.length = 0;
        return token;
    }
    if (here[0] == '"') {
        token.kind = TOKEN_STRING;
        token.length = string_length(here);
        token.many_lines = memchr(here, '\n', token.length) != NULL || token.length < 2 ||
                           here[token.length - 1] != '"';
    } else if (among(here[0], LETTERS "*")) {
        token.kind = TOKEN_NAME;
        token.length = strspn(here, LETTERS DIGITS "-_*");
    } else if (among(here[0], DIGITS "+-.")) {
        token.length = figures_length(here);
        token.kind = well_formed_number(here, token.length) ? TOKEN_NUMBER : TOKEN_FIGURES;
        token.wide = token.kind == TOKEN_NUMBER && too_wide(here, token.length);
    } else {
        token.kind = mark_kind(here[0]);
        /* a character beyond ASCII whole, so that it can be shown */
        while (token.kind == TOKEN_OTHER && (here[token.length] & 0xC0) == 0x80) {
            token.length++;
        }
    }
    pass(tokens, token.length);
    return token;
}

#define DEPTH_MAX 32

enum want {
    WANT_NAME,    /* in a group: the next setting, or its end */
    WANT_EQUALS,  /* behind a name */
    WANT_VALUE,   /* behind = in a group; in a list, an entry */
    WANT_DIVIDER, /* behind a value */
};

struct frame {
    char open; /* { ( [, or 0 for the file itself */
    uint32_t line;
    enum want want;
    bool empty; /* a list without an entry so far */
};

struct examiner {
    struct frame frames[DEPTH_MAX];
    size_t depth;       /* of the frame now open */
    struct token name;  /* the last name seen */
    struct token last;  /* the token before */
    struct token comma; /* the number before the last comma in a group, else of no length */
    struct syntax_finding *finding;
};

static bool found(struct examiner *examiner, uint32_t line, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Always true: the examination ends here. */
static bool found(struct examiner *examiner, uint32_t line, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(examiner->finding->says, sizeof examiner->finding->says, format, arguments);
    va_end(arguments);
    examiner->finding->line = line;
    return true;
}

#define SHOWN(token) (int)((token)->length > 40 ? 40 : (token)->length), (token)->text

static char closing(char open)
{
    return open == '{' ? '}' : open == '(' ? ')' : ']';
}

static bool typographic_quote(const struct token *token)
{
    static const char *const quotes[] = {"\xE2\x80\x9C", "\xE2\x80\x9D", "\xE2\x80\x9E",
                                         "\xE2\x80\x98", "\xE2\x80\x99", "\xC2\xAB",
                                         "\xC2\xBB"};
    for (size_t i = 0; i < sizeof quotes / sizeof quotes[0]; i++) {
        if (token->length == strlen(quotes[i]) &&
            memcmp(token->text, quotes[i], token->length) == 0) {
            return true;
        }
    }
    return token->text[0] == '\'';
}

static bool is_flag(const struct token *token)
{
    return (token->length == 4 && strncasecmp(token->text, "true", 4) == 0) ||
           (token->length == 5 && strncasecmp(token->text, "false", 5) == 0);
}

/* True where the last name seen, in that line, is one for telephone numbers. */
static bool names_telephone(const struct examiner *examiner, const struct token *token)
{
    const struct token *name = &examiner->name;
    return name->line == token->line &&
           ((name->length == 5 && memcmp(name->text, "phone", 5) == 0) ||
            (name->length == 6 && memcmp(name->text, "number", 6) == 0));
}

static bool found_telephone(struct examiner *examiner)
{
    const struct token *name = &examiner->name;
    return found(examiner, name->line,
                 "%.*s is a telephone number that is not in quotes; %.*s = \"...\" is expected",
                 SHOWN(name), SHOWN(name));
}

/* Behind a text, with no space between: a quote was left out before it, so that this one, meant to
 * open a text, has closed one. */
static bool quote_left_out(const struct examiner *examiner, const struct token *token)
{
    const struct token *last = &examiner->last;
    bool word = token->kind == TOKEN_NAME || token->kind == TOKEN_NUMBER ||
                token->kind == TOKEN_FIGURES || token->kind == TOKEN_OTHER;
    return word && last->kind == TOKEN_STRING && token->text == last->text + last->length;
}

static bool found_quote_left_out(struct examiner *examiner, const struct token *token)
{
    return found(examiner, token->line,
                 "a quote is missing in or before %.*s%.*s; \"text\" is expected",
                 SHOWN(&examiner->last), SHOWN(token));
}

/* A token that no place of the grammar takes. */
static bool found_stranger(struct examiner *examiner, const struct token *token)
{
    if (typographic_quote(token)) {
        return found(examiner, token->line,
                     "the quotation mark %.*s is not the plain one; \"text\" is expected",
                     SHOWN(token));
    }
    return found(examiner, token->line, "\"%.*s\" belongs to no setting; a setting is expected",
                 SHOWN(token));
}

static bool found_wrong_close(struct examiner *examiner, const struct token *token)
{
    const struct frame *frame = &examiner->frames[examiner->depth];
    if (examiner->depth == 0) {
        return found(examiner, token->line,
                     "\"%c\" closes nothing; take it away, or look for a bracket too many above",
                     token->text[0]);
    }
    return found(
        examiner, token->line,
        "\"%c\" stands where the \"%c\" of line %u is still open; \"%c\" is expected first",
        token->text[0], frame->open, frame->line, closing(frame->open));
}

/* Where the name of a setting is wanted. */
static bool take_name(struct examiner *examiner, const struct token *token)
{
    struct frame *frame = &examiner->frames[examiner->depth];
    switch (token->kind) {
    case TOKEN_NAME:
        examiner->name = *token;
        frame->want = WANT_EQUALS;
        return false;
    case TOKEN_NUMBER:
    case TOKEN_FIGURES:
        if (names_telephone(examiner, token)) {
            return found_telephone(examiner);
        }
        if (examiner->comma.length > 0) {
            return found(examiner, token->line,
                         "%.*s,%.*s has a decimal comma; a point is expected, as %.*s.%.*s",
                         SHOWN(&examiner->comma), SHOWN(token), SHOWN(&examiner->comma),
                         SHOWN(token));
        }
        return found(examiner, token->line,
                     "the number %.*s belongs to no setting; name = value is expected",
                     SHOWN(token));
    case TOKEN_STRING:
        return found(
            examiner, token->line,
            "the text %.*s belongs to no setting; name = value is expected, and ( ) around "
            "several values",
            SHOWN(token));
    case TOKEN_OPEN:
        return found(examiner, token->line,
                     "\"%.*s\" opens without a name before it; name = %.*s is expected",
                     SHOWN(token), SHOWN(token));
    case TOKEN_EQUALS:
    case TOKEN_STOP:
    case TOKEN_COMMA:
        return found(examiner, token->line,
                     "there is a \"%.*s\" too many; the name of a setting is expected",
                     SHOWN(token));
    case TOKEN_CLOSE:
    case TOKEN_END:
    case TOKEN_OTHER:
        break;
    }
    return found_stranger(examiner, token);
}

static bool take_equals(struct examiner *examiner, const struct token *token)
{
    if (token->kind == TOKEN_EQUALS) {
        examiner->frames[examiner->depth].want = WANT_VALUE;
        return false;
    }
    return found(examiner, examiner->name.line,
                 "\"=\" is missing behind %.*s; %.*s = ... is "
                 "expected",
                 SHOWN(&examiner->name), SHOWN(&examiner->name));
}

static bool found_unquoted(struct examiner *examiner, const struct token *token)
{
    const struct frame *frame = &examiner->frames[examiner->depth];
    if (names_telephone(examiner, token)) {
        return found_telephone(examiner);
    }
    if (frame->open == '(' || frame->open == '[') {
        return found(examiner, token->line, "%.*s is not in quotes; \"%.*s\" is expected",
                     SHOWN(token), SHOWN(token));
    }
    return found(examiner, token->line, "%.*s = %.*s is not in quotes; %.*s = \"%.*s\" is expected",
                 SHOWN(&examiner->name), SHOWN(token), SHOWN(&examiner->name), SHOWN(token));
}

static bool open_frame(struct examiner *examiner, const struct token *token)
{
    examiner->frames[examiner->depth].want = WANT_DIVIDER;
    examiner->frames[examiner->depth].empty = false;
    if (examiner->depth + 1 == DEPTH_MAX) {
        return found(examiner, token->line, "brackets are nested too deeply; fewer are expected");
    }
    examiner->depth++;
    examiner->frames[examiner->depth] =
        (struct frame){.open = token->text[0],
                       .line = token->line,
                       .want = token->text[0] == '{' ? WANT_NAME : WANT_VALUE,
                       .empty = true};
    return false;
}

/* Where a value is wanted. */
static bool take_value(struct examiner *examiner, const struct token *token)
{
    struct frame *frame = &examiner->frames[examiner->depth];
    switch (token->kind) {
    case TOKEN_STRING:
    case TOKEN_NUMBER:
        frame->want = WANT_DIVIDER;
        frame->empty = false;
        return false;
    case TOKEN_OPEN:
        return open_frame(examiner, token);
    case TOKEN_NAME:
        frame->want = WANT_DIVIDER;
        frame->empty = false;
        if (is_flag(token) || frame->open == '(' || frame->open == '[') {
            return false; /* in a list the next token tells what it was meant to be */
        }
        return found_unquoted(examiner, token);
    case TOKEN_FIGURES:
        return found_unquoted(examiner, token);
    case TOKEN_CLOSE:
        return found(examiner, token->line,
                     "a comma stands before the closing \"%.*s\"; take the comma away",
                     SHOWN(token));
    case TOKEN_EQUALS:
    case TOKEN_STOP:
    case TOKEN_COMMA:
        return found(examiner, token->line, "a value is missing before \"%.*s\"; one is expected",
                     SHOWN(token));
    case TOKEN_END:
    case TOKEN_OTHER:
        break;
    }
    return found_stranger(examiner, token);
}

/* Behind a value in a group: ; or , or at once the next setting. */
static bool take_divider(struct examiner *examiner, const struct token *token)
{
    struct frame *frame = &examiner->frames[examiner->depth];
    const struct token *last = &examiner->last;
    if (token->kind == TOKEN_STOP || token->kind == TOKEN_COMMA) {
        frame->want = WANT_NAME;
        return false;
    }
    if (token->kind == TOKEN_STRING && last->kind == TOKEN_STRING) {
        return false; /* libconfig joins them */
    }
    bool figures = token->kind == TOKEN_NUMBER || token->kind == TOKEN_FIGURES;
    if (last->kind == TOKEN_NUMBER && figures && !names_telephone(examiner, token)) {
        return found(examiner, token->line,
                     "%.*s %.*s is not one number; one number, or text in quotes, is expected",
                     SHOWN(last), SHOWN(token));
    }
    frame->want = WANT_NAME;
    return take_name(examiner, token);
}

/* True where the entry before this token is a word without quotes. */
static bool bare_entry(const struct examiner *examiner)
{
    return examiner->last.kind == TOKEN_NAME && !is_flag(&examiner->last);
}

/* Behind an entry of a list. */
static bool take_list_divider(struct examiner *examiner, const struct token *token)
{
    struct frame *frame = &examiner->frames[examiner->depth];
    if (bare_entry(examiner) && token->kind != TOKEN_EQUALS) {
        return found_unquoted(examiner, &examiner->last);
    }
    switch (token->kind) {
    case TOKEN_COMMA:
        frame->want = WANT_VALUE;
        return false;
    case TOKEN_STRING:
        if (examiner->last.kind == TOKEN_STRING) {
            return false; /* libconfig joins them */
        }
        break;
    case TOKEN_STOP:
        return found(examiner, token->line,
                     "\";\" stands in the list that line %u opens; \",\" or \"%c\" is expected",
                     frame->line, closing(frame->open));
    case TOKEN_EQUALS:
        return found(examiner, token->line,
                     "%.*s = stands in the list that line %u opens; \"{\" is expected before it",
                     SHOWN(&examiner->last), frame->line);
    case TOKEN_NAME:
    case TOKEN_NUMBER:
    case TOKEN_FIGURES:
    case TOKEN_OPEN:
        break;
    case TOKEN_OTHER:
    case TOKEN_CLOSE:
    case TOKEN_END:
        return found_stranger(examiner, token);
    }
    return found(examiner, token->line,
                 "a comma is missing before \"%.*s\"; entries of a list have commas between them",
                 SHOWN(token));
}

/* A closing bracket, where one may stand. */
static bool take_close(struct examiner *examiner, const struct token *token)
{
    struct frame *frame = &examiner->frames[examiner->depth];
    bool group = frame->open == '{' || frame->open == '\0';
    if (frame->open == '\0' || token->text[0] != closing(frame->open)) {
        return found_wrong_close(examiner, token);
    }
    if (group && frame->want != WANT_NAME && frame->want != WANT_DIVIDER) {
        return found(examiner, token->line, "%.*s has no value before \"}\"; one is expected",
                     SHOWN(&examiner->name));
    }
    if (!group && frame->want == WANT_VALUE && !frame->empty) {
        return take_value(examiner, token);
    }
    if (!group && bare_entry(examiner)) {
        return found_unquoted(examiner, &examiner->last);
    }
    examiner->depth--;
    return false;
}

static bool take(struct examiner *examiner, const struct token *token)
{
    const struct frame *frame = &examiner->frames[examiner->depth];
    if (token->kind == TOKEN_STRING && token->many_lines) {
        return found(
            examiner, token->line,
            "the text that begins with %.*s has no quote at its end; \"text\" is expected, "
            "on one line",
            (int)strcspn(token->text, "\n") > 20 ? 20 : (int)strcspn(token->text, "\n"),
            token->text);
    }
    if (token->kind == TOKEN_CLOSE) {
        return take_close(examiner, token);
    }
    if (quote_left_out(examiner, token)) {
        return found_quote_left_out(examiner, token);
    }
    switch (frame->want) {
    case WANT_NAME:
        return take_name(examiner, token);
    case WANT_EQUALS:
        return take_equals(examiner, token);
    case WANT_VALUE:
        return take_value(examiner, token);
    case WANT_DIVIDER:
        break;
    }
    return frame->open == '(' || frame->open == '[' ? take_list_divider(examiner, token)
                                                    : take_divider(examiner, token);
}

/* At the end of the text all brackets must be closed. */
static bool take_end(struct examiner *examiner)
{
    const struct frame *frame = &examiner->frames[examiner->depth];
    if (examiner->depth > 0) {
        return found(examiner, frame->line,
                     "the \"%c\" of this line is never closed; \"%c\" is "
                     "expected",
                     frame->open, closing(frame->open));
    }
    if (frame->want == WANT_EQUALS || frame->want == WANT_VALUE) {
        return found(examiner, examiner->name.line, "%.*s has no value; one is expected",
                     SHOWN(&examiner->name));
    }
    return false;
}

bool settings_syntax_examine(const char *text, struct syntax_finding *finding)
{
    struct examiner examiner = {.finding = finding};
    struct tokens tokens;
    tokens_begin(&tokens, text);
    examiner.frames[0].want = WANT_NAME;
    for (;;) {
        struct token token = tokens_next(&tokens);
        if (token.kind == TOKEN_END) {
            return take_end(&examiner);
        }
        if (take(&examiner, &token)) {
            return true;
        }
        bool decimal = token.kind == TOKEN_COMMA && examiner.last.kind == TOKEN_NUMBER;
        examiner.comma = decimal ? examiner.last : (struct token){.length = 0};
        examiner.last = token;
    }
}

struct syntax_traps settings_syntax_traps(const char *text)
{
    struct syntax_traps traps = {0, false};
    struct tokens tokens;
    tokens_begin(&tokens, text);
    for (;;) {
        struct token token = tokens_next(&tokens);
        if (token.kind == TOKEN_END) {
            traps.open_comment_line = tokens.open_comment_line;
            return traps;
        }
        traps.wide_number |= token.wide;
    }
}

/* True where the group that begins at `group` sets a name of these letters before `name`. */
static bool set_before(const char *group, const struct token *name)
{
    struct tokens tokens;
    struct token last = {.kind = TOKEN_END};
    int depth = 0;
    tokens_begin(&tokens, group);
    for (;;) {
        struct token token = tokens_next(&tokens);
        if (token.kind == TOKEN_END || token.text >= name->text) {
            return false;
        }
        depth += token.kind == TOKEN_OPEN ? 1 : token.kind == TOKEN_CLOSE ? -1 : 0;
        if (depth == 0 && token.kind == TOKEN_EQUALS && last.kind == TOKEN_NAME &&
            last.length == name->length && memcmp(last.text, name->text, name->length) == 0) {
            return true;
        }
        last = token;
    }
}

const char *settings_syntax_twice(const char *text, uint32_t line, int *length)
{
    const char *groups[DEPTH_MAX] = {text}; /* where each open one begins */
    size_t depth = 0;
    struct tokens tokens;
    struct token name = {.length = 0}, last = {.kind = TOKEN_END, .text = "", .length = 0};
    tokens_begin(&tokens, text);
    for (;;) {
        struct token token = tokens_next(&tokens);
        if (token.kind == TOKEN_END || token.line > line) {
            *length = (int)name.length;
            return name.length > 0 ? name.text : "";
        }
        if (token.kind == TOKEN_OPEN && depth + 1 < DEPTH_MAX) {
            groups[++depth] = token.text + token.length;
        } else if (token.kind == TOKEN_CLOSE && depth > 0) {
            depth--;
        }
        if (token.kind == TOKEN_EQUALS && last.kind == TOKEN_NAME && token.line == line &&
            set_before(groups[depth], &last)) {
            name = last;
        }
        last = token;
    }
}
