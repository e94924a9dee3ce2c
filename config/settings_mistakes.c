/* SPDX-License-Identifier: MIT
 * settings_mistakes: a list that grows, sorted once at the end, since the checks between sections
 * come after the sections themselves. */
#include "config/settings_mistakes.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include "parsers/utf8.h"

/* Messages quote the file: what is no plain character of it becomes a question mark, so that no line
 * break or control character reaches a log, a terminal or JSON. */
static void make_plain(char *says)
{
    size_t length = strlen(says), taken = 0;
    for (size_t at = 0; at < length; at += taken) {
        uint32_t character = 0;
        taken = utf8_read(says, length, at, &character);
        if (taken == 0) {
            says[at] = '?';
            taken = 1;
        } else if (character < 0x20 || (character >= 0x7F && character < 0xA0)) {
            memset(says + at, '?', taken);
        }
    }
}

void settings_mistakes_add(struct settings_mistakes *mistakes, const char *file, uint32_t line,
                           const char *format, ...)
{
    struct settings_mistake made = {.file = strdup(file), .line = line};
    va_list arguments;
    va_start(arguments, format);
    if (vasprintf(&made.says, format, arguments) < 0) {
        made.says = NULL;
    }
    va_end(arguments);
    if (mistakes->count == mistakes->room) {
        size_t room = mistakes->room == 0 ? 16 : mistakes->room * 2;
        struct settings_mistake *list = realloc(mistakes->list, room * sizeof *list);
        mistakes->list = list != NULL ? list : mistakes->list;
        mistakes->room = list != NULL ? room : mistakes->room;
    }
    if (mistakes->count == mistakes->room || made.file == NULL || made.says == NULL) {
        free(made.file);
        free(made.says);
        mistakes->unsaid++;
        return;
    }
    make_plain(made.says);
    mistakes->list[mistakes->count++] = made;
}

/* By insertion: stable, and the list is short and nearly sorted. */
void settings_mistakes_sort(struct settings_mistakes *mistakes)
{
    for (size_t i = 1; i < mistakes->count; i++) {
        struct settings_mistake moved = mistakes->list[i];
        size_t at = i;
        for (; at > 0; at--) {
            const struct settings_mistake *before = &mistakes->list[at - 1];
            int files = strcmp(before->file, moved.file);
            if (files < 0 || (files == 0 && before->line <= moved.line)) {
                break;
            }
            mistakes->list[at] = *before;
        }
        mistakes->list[at] = moved;
    }
}

void settings_mistakes_write(const struct settings_mistakes *mistakes, FILE *out)
{
    for (size_t i = 0; i < mistakes->count; i++) {
        const struct settings_mistake *mistake = &mistakes->list[i];
        if (mistake->line == 0) {
            fprintf(out, "%s: %s\n", mistake->file, mistake->says);
        } else {
            fprintf(out, "%s:%u: %s\n", mistake->file, mistake->line, mistake->says);
        }
    }
    if (mistakes->unsaid > 0) {
        fprintf(out, "memory is short; %zu more mistakes are not listed\n", mistakes->unsaid);
    }
}

void settings_mistakes_free(struct settings_mistakes *mistakes)
{
    for (size_t i = 0; i < mistakes->count; i++) {
        free(mistakes->list[i].file);
        free(mistakes->list[i].says);
    }
    free(mistakes->list);
    *mistakes = (struct settings_mistakes){0};
}
