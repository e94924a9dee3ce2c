/* SPDX-License-Identifier: MIT
 * settings_tokens: cuts text into tokens; comments, blanks and @include lines are passed over. */
#include "config/settings_tokens.h"

#include <string.h>
#include <strings.h>

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
