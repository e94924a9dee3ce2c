/* SPDX-License-Identifier: MIT
 * screen: see output.h. Where output goes, how wide text is, and where it can be broken. */
#include "daemon/counter/output.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "parsers/utf8.h"

struct range {
    uint32_t first, last;
};

static const struct range marks[] = {
    {0x0300, 0x036F}, {0x0483, 0x0489},   {0x0591, 0x05BD}, {0x05BF, 0x05BF}, {0x05C1, 0x05C2},
    {0x05C4, 0x05C5}, {0x05C7, 0x05C7},   {0x0610, 0x061A}, {0x064B, 0x065F}, {0x0670, 0x0670},
    {0x06D6, 0x06DC}, {0x06DF, 0x06E4},   {0x06E7, 0x06E8}, {0x06EA, 0x06ED}, {0x1AB0, 0x1ACE},
    {0x1DC0, 0x1DFF}, {0x200B, 0x200F},   {0x202A, 0x202E}, {0x2060, 0x2064}, {0x2066, 0x206F},
    {0x20D0, 0x20F0}, {0x302A, 0x302D},   {0x3099, 0x309A}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F},
    {0xFEFF, 0xFEFF}, {0xE0100, 0xE01EF},
};
static const struct range wide[] = {
    {0x1100, 0x115F},   {0x231A, 0x231B},   {0x23E9, 0x23EC},   {0x2614, 0x2615},
    {0x2648, 0x2653},   {0x26A1, 0x26A1},   {0x26D4, 0x26D4},   {0x2705, 0x2705},
    {0x270A, 0x270B},   {0x274C, 0x274C},   {0x2753, 0x2755},   {0x2757, 0x2757},
    {0x2E80, 0x3029},   {0x302E, 0x303E},   {0x3041, 0x3098},   {0x309B, 0x3247},
    {0x3250, 0x33FF},   {0x3400, 0x4DBF},   {0x4E00, 0xA4CF},   {0xA960, 0xA97C},
    {0xAC00, 0xD7A3},   {0xF900, 0xFAFF},   {0xFE10, 0xFE19},   {0xFE30, 0xFE6F},
    {0xFF01, 0xFF60},   {0xFFE0, 0xFFE6},   {0x1F300, 0x1F320}, {0x1F32D, 0x1F335},
    {0x1F337, 0x1F37C}, {0x1F37E, 0x1F393}, {0x1F3A0, 0x1F3CA}, {0x1F3CF, 0x1F3D3},
    {0x1F3E0, 0x1F3F0}, {0x1F3F4, 0x1F3F4}, {0x1F3F8, 0x1F43E}, {0x1F440, 0x1F440},
    {0x1F442, 0x1F4FC}, {0x1F4FF, 0x1F53D}, {0x1F54B, 0x1F54E}, {0x1F550, 0x1F567},
    {0x1F57A, 0x1F57A}, {0x1F595, 0x1F596}, {0x1F5A4, 0x1F5A4}, {0x1F5FB, 0x1F64F},
    {0x1F680, 0x1F6C5}, {0x1F6D0, 0x1F6D2}, {0x1F90C, 0x1F93A}, {0x1F93C, 0x1F945},
    {0x1F947, 0x1F9FF}, {0x20000, 0x3FFFD},
};

static int within(const struct range *ranges, size_t count, uint32_t character)
{
    for (size_t i = 0; i < count && ranges[i].first <= character; i++) {
        if (character <= ranges[i].last) {
            return 1;
        }
    }
    return 0;
}

size_t width_of_character(uint32_t character)
{
    if (within(marks, sizeof marks / sizeof marks[0], character)) {
        return 0;
    }
    return within(wide, sizeof wide / sizeof wide[0], character) ? 2 : 1;
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
    const char *no_colour = getenv("NO_COLOR");
    struct winsize size = {0};
    if (isatty(fileno(out)) != 1) {
        return (struct screen){0};
    }
    bool told = ioctl(fileno(out), TIOCGWINSZ, &size) == 0 && size.ws_col > 0;
    size_t columns = told ? size.ws_col : COLUMNS_UNSAID;
    return (struct screen){.columns =
                               columns > SCREEN_COLUMNS_LEAST ? columns : SCREEN_COLUMNS_LEAST,
                           .colour = no_colour == NULL || no_colour[0] == '\0'};
}

static void print_line(const struct screen *screen, const char *line, size_t indent, FILE *out)
{
    size_t next = 0, leading = strspn(line, " ");
    if (width_of(line) <= screen->columns) {
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
