/* SPDX-License-Identifier: MIT
 * reply: sentences put together and counted. */
#include "daemon/desk/reply.h"

#include <stdio.h>
#include <string.h>

#include "parsers/septets.h"
#include "parsers/tpdu_write.h"
#include "parsers/utf8.h"

void reply_add(struct reply *reply, enum reply_weight weight, const char *sentence)
{
    if (reply->count == REPLY_SENTENCES_MAX || sentence[0] == '\0') {
        return;
    }
    struct reply_sentence *row = &reply->sentences[reply->count++];
    (void)snprintf(row->text, sizeof row->text, "%s", sentence);
    row->weight = weight;
}

void reply_list_add(struct reply_list *list, const char *name)
{
    static const char more[] = ", ...";
    const char *between = list->length > 0 ? ", " : "";
    list->count++;
    if (list->length + strlen(between) + strlen(name) + sizeof more <= sizeof list->text) {
        list->length += (size_t)snprintf(list->text + list->length,
                                         sizeof list->text - list->length, "%s%s", between, name);
    } else if (list->length + sizeof more <= sizeof list->text &&
               strcmp(list->text + list->length - (list->length > 3 ? 3 : 0), "...") != 0) {
        list->length += (size_t)snprintf(list->text + list->length,
                                         sizeof list->text - list->length, "%s", more);
    }
}

void reply_plain(const char *text, size_t length, char *out, size_t size)
{
    size_t written = 0;
    size_t at = 0;
    out[0] = '\0';
    while (at < length) {
        uint32_t character = 0;
        uint8_t code = 0;
        size_t octets = utf8_read(text, length, at, &character);
        bool plain = octets > 0 && character >= ' ' &&
                     septets_of(character, (struct septets_shift){0}, &code) == 1;
        const char *from = plain ? text + at : " ";
        size_t taken = plain ? octets : 1;
        if (written + taken + 1 > size) {
            break;
        }
        memcpy(out + written, from, taken);
        written += taken;
        out[written] = '\0';
        at += octets > 0 ? octets : 1;
    }
}

size_t reply_segments(const char *text)
{
    struct tpdu_split split;
    if (tpdu_split(text, strlen(text), (struct tpdu_split_choice){0}, &split) != TPDU_OK) {
        return 0;
    }
    return split.parts;
}

/* Whether a sentence is among the first `less` to go. */
static bool goes(const struct reply *reply, size_t index, size_t less)
{
    const struct reply_sentence *row = &reply->sentences[index];
    size_t before = 0;
    for (size_t i = 0; i < reply->count; i++) {
        before += reply->sentences[i].weight < row->weight ||
                  (reply->sentences[i].weight == row->weight && i > index);
    }
    return row->weight != REPLY_MUST && before < less;
}

static size_t put_together(const struct reply *reply, size_t less, char *out, size_t size)
{
    size_t length = 0;
    out[0] = '\0';
    for (size_t i = 0; i < reply->count; i++) {
        const char *text = reply->sentences[i].text;
        if (goes(reply, i, less)) {
            continue;
        }
        if (length + strlen(text) + 2 > size) {
            break;
        }
        length +=
            (size_t)snprintf(out + length, size - length, "%s%s", length > 0 ? " " : "", text);
    }
    return length;
}

size_t reply_write(const struct reply *reply, size_t segments, char *out, size_t size)
{
    size_t may = 0;
    for (size_t i = 0; i < reply->count; i++) {
        may += reply->sentences[i].weight != REPLY_MUST;
    }
    size_t length = put_together(reply, 0, out, size);
    for (size_t less = 1; less <= may && reply_segments(out) > segments; less++) {
        length = put_together(reply, less, out, size);
    }
    return length;
}
