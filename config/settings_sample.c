/* SPDX-License-Identifier: MIT
 * settings_sample: see settings_sample.h. The sample is ours, so its lines are known: a group opens at
 * the left edge ("shop: {") and ends there, as its entries do at the next step; a setting stands at the
 * head of its line, or in a comment of its own. */
#include "config/settings_sample.h"

#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char settings_sample[] = {
#include "sample.inc"
    0};

#define GROUP_OCTETS 32
#define FILLS_MAX 64
#define ENTRY_INDENT 4
#define COMMENT_COLUMN 36 /* where the sample's comments begin */

struct filling {
    FILE *out;
    const struct settings_fill *fills;
    size_t count;
    char group[GROUP_OCTETS]; /* the one we are in, "" none */
    bool first_alone;         /* of its entries */
    bool muted;               /* lines become comments */
    int indent;               /* of what stands deeper than in the sample */
    bool done[FILLS_MAX];
};

/* The name that a line sets, behind blanks and "# "; *length is 0 where it sets nothing. */
static const char *name_of(const char *line, size_t *length)
{
    const char *name = line + strspn(line, " ");
    name += strncmp(name, "# ", 2) == 0 ? 2 : 0;
    *length = strspn(name, "abcdefghijklmnopqrstuvwxyz_");
    *length = strncmp(name + *length, " = ", 3) == 0 ? *length : 0;
    return name;
}

/* What is to stand for the setting of that name, or for the group as a whole (name NULL), once. */
static const struct settings_fill *take_fill(struct filling *filling, const char *name,
                                             size_t length)
{
    for (size_t i = 0; i < filling->count && i < FILLS_MAX; i++) {
        const struct settings_fill *fill = &filling->fills[i];
        bool same = name == NULL || fill->name == NULL
                        ? name == fill->name
                        : strlen(fill->name) == length && memcmp(fill->name, name, length) == 0;
        if (same && !filling->done[i] && strcmp(fill->group, filling->group) == 0) {
            filling->done[i] = true;
            return fill;
        }
    }
    return NULL;
}

/* The comment behind a value stays, in its column where there is room. */
static void write_setting(const struct filling *filling, const char *line, size_t length,
                          const char *value)
{
    size_t name_length = 0;
    const char *name = name_of(line, &name_length);
    const char *comment = memmem(line, length, ";  ", 3);
    int indent = filling->indent + (int)strspn(line, " ");
    int written = fprintf(filling->out, "%*s%.*s = %s;", indent, "", (int)name_length, name, value);
    if (comment != NULL) {
        comment += 1 + strspn(comment + 1, " ");
        fprintf(filling->out, "%*s%.*s",
                written + 2 < COMMENT_COLUMN ? COMMENT_COLUMN - written : 2, "",
                (int)(line + length - comment), comment);
    }
    fputc('\n', filling->out);
}

/* A line as it is; a comment behind it stays in its column. */
static void write_line(const struct filling *filling, const char *line, size_t length)
{
    const char *comment = memmem(line, length, ";  ", 3);
    size_t blanks = comment != NULL ? strspn(comment + 1, " ") : 0;
    size_t gone = blanks > (size_t)filling->indent + 2 ? (size_t)filling->indent : 0;
    size_t head = comment != NULL ? (size_t)(comment + 1 - line) : length;
    fprintf(filling->out, "%*s%s%.*s%.*s\n", filling->indent, "", filling->muted ? "# " : "",
            (int)head, line, (int)(length - head - gone), line + head + gone);
}

/* True where the line opens a group. */
static bool enter_group(struct filling *filling, const char *line)
{
    size_t head = strspn(line, "abcdefghijklmnopqrstuvwxyz");
    if (head == 0 || head >= GROUP_OCTETS || line[head] != ':') {
        return false;
    }
    memcpy(filling->group, line, head);
    filling->group[head] = '\0';
    return true;
}

static bool ends_group(const char *line)
{
    return strncmp(line, ");\n", 3) == 0 || strncmp(line, "};\n", 3) == 0;
}

/* Behind the paragraph of the sample that is about the sample, which another takes the place of. */
static const char *fill_preface(struct filling *filling, const char *at)
{
    static const char preface[] = "# All of it is an example";
    const struct settings_fill *fill = NULL;
    if (strncmp(at, preface, strlen(preface)) == 0) {
        fill = take_fill(filling, NULL, 0);
    }
    if (fill != NULL) {
        fputs(fill->value, filling->out);
        at = strstr(at, "\n#\n");
        at += 1;
    }
    return at;
}

/* Writes the line at `at` as it is to stand, and returns where the next one to look at begins. */
static const char *fill_line(struct filling *filling, const char *at)
{
    static const char entry_ends[] = "    },\n";
    const struct settings_fill *fill = NULL;
    size_t length = strcspn(at, "\n"), name_length = 0;
    const char *name = name_of(at, &name_length), *next = at + length + 1;
    if (ends_group(at)) {
        filling->group[0] = '\0';
        filling->first_alone = filling->muted = false;
    }
    if (name_length > 0 && !filling->muted) {
        fill = take_fill(filling, name, name_length);
    }
    if (fill != NULL) {
        write_setting(filling, at, length, fill->value);
        return next;
    }
    bool last = filling->first_alone && !filling->muted && strncmp(at, entry_ends, 7) == 0;
    write_line(filling, at, last ? length - 1 : length);
    filling->muted = filling->muted || last;
    fill = enter_group(filling, at) ? take_fill(filling, NULL, 0) : NULL;
    filling->first_alone = filling->first_alone || (fill != NULL && fill->value == NULL);
    if (fill != NULL && fill->value != NULL) {
        fputs(fill->value, filling->out);
        while (!ends_group(next)) {
            next += strcspn(next, "\n") + 1;
        }
    }
    return next;
}

/* How often the group that the line opens is filled, by the setting that comes first; 0 none. */
static size_t entries_of(struct filling *filling, const char *line)
{
    const char *first = NULL;
    size_t entries = 0;
    bool opens = enter_group(filling, line);
    for (size_t i = 0; opens && i < filling->count; i++) {
        const struct settings_fill *fill = &filling->fills[i];
        if (fill->name != NULL && strcmp(fill->group, filling->group) == 0) {
            first = first != NULL ? first : fill->name;
            entries += strcmp(fill->name, first) == 0;
        }
    }
    return entries;
}

/* Writes the group that the line opens once for each entry; returns where it is over. */
static const char *fill_entries(struct filling *filling, const char *at, size_t entries)
{
    const char *lines = at + strcspn(at, "\n") + 1;
    fprintf(filling->out, "%ss: (\n", filling->group);
    filling->indent = ENTRY_INDENT;
    for (size_t i = 0; i < entries; i++) {
        fprintf(filling->out, "%*s{\n", ENTRY_INDENT, "");
        for (at = lines; !ends_group(at);) {
            at = fill_line(filling, at);
        }
        fprintf(filling->out, "%*s}%s\n", ENTRY_INDENT, "", i + 1 < entries ? "," : "");
    }
    filling->indent = 0;
    filling->group[0] = '\0';
    fputs(");\n", filling->out);
    return at + strcspn(at, "\n") + 1;
}

char *settings_sample_fill(const struct settings_fill *fills, size_t count)
{
    char *text = NULL;
    size_t length = 0;
    struct filling filling = {
        .out = open_memstream(&text, &length), .fills = fills, .count = count};
    if (filling.out == NULL) {
        return NULL;
    }
    for (const char *at = settings_sample; *at != '\0';) {
        at = fill_preface(&filling, at);
        size_t entries = entries_of(&filling, at);
        at = entries > 1 ? fill_entries(&filling, at, entries) : fill_line(&filling, at);
    }
    bool well = ferror(filling.out) == 0;
    if (fclose(filling.out) != 0 || !well) {
        free(text);
        return NULL;
    }
    return text;
}
