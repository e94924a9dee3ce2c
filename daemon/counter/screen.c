/* SPDX-License-Identifier: MIT
 * screen: see output.h. Where output goes, how wide text is, and where it can be broken. */
#include "daemon/counter/output.h"

#include <locale.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>
#include <wchar.h>

#include "parsers/utf8.h"

size_t width_of_character(uint32_t character)
{
    static bool known = false;
    if (character < 0x80) {
        return 1;
    }
    if (!known) { /* whatever the caller's own; nothing else goes by it */
        (void)setlocale(LC_CTYPE, "C.UTF-8");
        known = true;
    }
    int columns = wcwidth((wchar_t)character);
    return columns < 0 ? 1 : (size_t)columns;
}

/* The columns of the character at text[at] and, in *octets, its length. */
static size_t columns_at(const char *text, size_t length, size_t at, size_t *octets)
{
    uint32_t character;
    *octets = utf8_read(text, length, at, &character);
    if (*octets == 0) {
        *octets = 1;
        return 1;
    }
    return width_of_character(character);
}

static size_t width_within(const char *text, size_t length)
{
    size_t columns = 0, octets = 0;
    for (size_t at = 0; at < length; at += octets) {
        columns += columns_at(text, length, at, &octets);
    }
    return columns;
}

size_t width_of(const char *text)
{
    return width_within(text, strlen(text));
}

size_t width_of_longest_word(const char *text)
{
    size_t longest = 0;
    for (size_t at = 0; text[at] != '\0';) {
        at += strspn(&text[at], " ");
        size_t octets = strcspn(&text[at], " ");
        size_t columns = width_within(&text[at], octets);
        longest = columns > longest ? columns : longest;
        at += octets;
    }
    return longest;
}

size_t width_break(const char *text, size_t columns, size_t *next)
{
    size_t length = strlen(text), used = 0, octets = 0, at = 0, blank = 0;
    for (; at < length; at += octets) {
        used += columns_at(text, length, at, &octets);
        if (used > columns && at > 0) {
            break;
        }
        blank = text[at] == ' ' ? at : blank;
    }
    if (at < length && text[at] != ' ' && blank > 0) {
        at = blank;
    }
    *next = at + strspn(&text[at], " ");
    while (at > 0 && text[at - 1] == ' ') {
        at--;
    }
    return at;
}

#define COLUMNS_UNSAID 80
#define LINE_OCTETS 1024

struct screen screen_of(FILE *out)
{
    const char *no_colour = getenv("NO_COLOR"), *term = getenv("TERM");
    bool plain = term == NULL || term[0] == '\0' || strcmp(term, "dumb") == 0;
    struct winsize size = {0};
    if (isatty(fileno(out)) != 1) {
        return (struct screen){0};
    }
    bool told = ioctl(fileno(out), TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
    size_t columns = told ? size.ws_col : COLUMNS_UNSAID;
    return (struct screen){.columns =
                               columns > SCREEN_COLUMNS_LEAST ? columns : SCREEN_COLUMNS_LEAST,
                           .colour = !plain && (no_colour == NULL || no_colour[0] == '\0')};
}

static void print_line(const struct screen *screen, const char *line, size_t indent, FILE *out)
{
    size_t next = 0, leading = strspn(line, " ");
    if (screen->columns == 0 || width_of(line) <= screen->columns) {
        (void)fprintf(out, "%s\n", line);
        return;
    }
    /* Too narrow to leave a margin. */
    if (indent + SCREEN_COLUMNS_LEAST / 2 > screen->columns) {
        indent = 2;
        leading = leading > indent ? indent : leading;
    }
    const char *rest = &line[strspn(line, " ")];
    for (size_t margin = leading; rest[0] != '\0'; rest = &rest[next], margin = indent) {
        size_t octets = width_break(rest, screen->columns - margin, &next);
        (void)fprintf(out, "%*s%.*s\n", (int)margin, "", (int)octets, rest);
    }
}

void screen_print_folded(const struct screen *screen, const char *text, size_t indent, FILE *out)
{
    char line[LINE_OCTETS];
    if (screen->columns == 0) {
        (void)fputs(text, out);
        return;
    }
    while (text[0] != '\0') {
        size_t octets = strcspn(text, "\n");
        (void)snprintf(line, sizeof line, "%.*s", (int)octets, text);
        print_line(screen, line, indent, out);
        text = &text[octets + (text[octets] == '\n')];
    }
}
