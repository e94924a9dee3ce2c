/* SPDX-License-Identifier: MIT
 * screen: see screen.h. */
#include "daemon/counter/screen.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include "daemon/counter/width.h"

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
