/* SPDX-License-Identifier: MIT
 * settings_tokens: the words of a config file, one at a time, as libconfig's grammar has them. It
 * serves the form and the messages: what the file means is libconfig's to say. */
#ifndef METERPOST_CONFIG_SETTINGS_TOKENS_H
#define METERPOST_CONFIG_SETTINGS_TOKENS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum token_kind {
    TOKEN_END,
    TOKEN_NAME,    /* letters, digits, - and _; true and false too */
    TOKEN_STRING,  /* from quote to quote */
    TOKEN_NUMBER,  /* a well-formed number */
    TOKEN_FIGURES, /* begins like a number and is none: a time, a date, a telephone number */
    TOKEN_OPEN,    /* { ( [ */
    TOKEN_CLOSE,   /* } ) ] */
    TOKEN_EQUALS,  /* = or : */
    TOKEN_STOP,    /* ; */
    TOKEN_COMMA,
    TOKEN_OTHER /* nothing that the grammar knows */
};

struct token {
    enum token_kind kind;
    const char *text;
    size_t length;
    uint32_t line;   /* where it begins */
    bool many_lines; /* a string that runs over the end of its line, or never ends */
    bool wide;       /* a whole number beyond 32 bits */
};

struct tokens {
    const char *text; /* NUL-terminated */
    size_t at;
    uint32_t line;
    uint32_t open_comment_line; /* of a comment that never ends; 0 none */
};

void tokens_begin(struct tokens *tokens, const char *text);
struct token tokens_next(struct tokens *tokens);

#endif
