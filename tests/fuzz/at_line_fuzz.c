/* SPDX-License-Identifier: MIT
 * at_line under the fuzzer: the octets are fed as a modem would send them. However they are cut, the
 * same events come out of them; a line is in the form that it would come out in again; and what its
 * readers say of it agrees among them, lies in its bounds, and does not hang on case.
 * -max_len=1400 */
#include <ctype.h>
#include <stdbool.h>
#include <string.h>

#include "parsers/at_line.h"
#include "tests/fuzz/fuzz.h"

#define FIELDS 5
#define ROOM 32

/* The copy of a field in any room is the beginning of its copy in more. */
static void check_copy(const char *text, size_t length, size_t index, const struct at_field *field)
{
    char whole[AT_LINE_OCTETS];
    char part[ROOM];
    size_t copied = at_line_copy(text, length, index, whole, sizeof whole);
    PROPERTY(copied <= field->end - field->start && whole[copied] == '\0');
    for (size_t size = 0; size <= sizeof part; size += 8) {
        memset(part, '#', sizeof part);
        size_t cut = at_line_copy(text, length, index, part, size);
        PROPERTY(cut == (size == 0 ? 0 : copied < size ? copied : size - 1));
        PROPERTY(memcmp(part, whole, cut) == 0);
        PROPERTY(size == 0 || part[cut] == '\0');
        PROPERTY(size == sizeof part || part[size] == '#');
    }
}

static void check_number(const char *text, size_t length, size_t index,
                         const struct at_field *field)
{
    int32_t number = -7;
    bool digits = field->end > field->start && field->end - field->start <= 9;
    int32_t wanted = 0;
    for (size_t i = field->start; i < field->end && digits; i++) {
        digits = text[i] >= '0' && text[i] <= '9';
        wanted = digits ? wanted * 10 + (text[i] - '0') : 0;
    }
    PROPERTY(at_line_number(text, length, index, &number) == digits);
    PROPERTY(number == (digits ? wanted : -7));
    if (digits) {
        PROPERTY(at_line_set(text, length, index) == (number < 32 ? UINT32_C(1) << number : 0));
    }
}

static void check_fields(const char *text, size_t length)
{
    size_t reached = 0;
    bool there = true;
    for (size_t index = 0; index < FIELDS; index++) {
        struct at_field field = {0, 0, false};
        bool found = at_line_field(text, length, index, &field);
        PROPERTY(there || !found);
        PROPERTY(index > 0 || found);
        PROPERTY(field.start <= field.end && field.end <= length);
        PROPERTY(!found || field.start >= reached);
        check_copy(text, length, index, &field);
        check_number(text, length, index, &field);
        PROPERTY(found || at_line_set(text, length, index) == 0);
        PROPERTY(found || !at_line_names(text, length, index, "SM"));
        there = found;
        reached = found ? field.end : reached;
    }
}

/* A line in the other case is of the same kind. */
static void check_kind(const char *text, size_t length)
{
    char other[AT_LINE_OCTETS];
    int32_t code = -7;
    int32_t other_code = -7;
    enum at_kind kind = at_line_kind(text, length, &code);
    for (size_t i = 0; i < length; i++) {
        unsigned char c = (unsigned char)text[i];
        other[i] = (char)(islower(c) ? toupper(c) : tolower(c));
    }
    PROPERTY(kind <= AT_KIND_MEMORY_FULL && code >= -1);
    PROPERTY(at_line_kind(other, length, &other_code) == kind && other_code == code);
    PROPERTY(at_line_starts(text, length, "+CMGR:") == at_line_starts(other, length, "+CMGR:"));
}

/* A line that came out comes out the same when it is fed again. */
static void check_again(const char *text, size_t length)
{
    static struct at_line line;
    enum at_event event = AT_EVENT_NONE;
    line = (struct at_line){0};
    PROPERTY(at_line_feed(&line, (const uint8_t *)text, length, &event) == length);
    PROPERTY(event == AT_EVENT_NONE);
    PROPERTY(at_line_feed(&line, (const uint8_t *)"\r", 1, &event) == 1);
    PROPERTY(event == AT_EVENT_LINE && line.length == length);
    PROPERTY(memcmp(line.text, text, length) == 0);
}

/* In a buffer of exactly its length, so that no reader looks further. */
static void check_line(const struct at_line *line)
{
    PROPERTY(line->length > 0 && line->length < AT_LINE_OCTETS);
    PROPERTY(strlen(line->text) == line->length);
    char *text = malloc(line->length);
    PROPERTY(text != NULL);
    memcpy(text, line->text, line->length);
    check_again(text, line->length);
    check_kind(text, line->length);
    check_fields(text, line->length);
    free(text);
}

/* The octets up to an event, one at a time: the same event comes, and not before the last. */
static void feed_singly(struct at_line *line, const uint8_t *octets, size_t count,
                        enum at_event wanted)
{
    for (size_t i = 0; i < count; i++) {
        enum at_event event = AT_EVENT_NONE;
        PROPERTY(at_line_feed(line, octets + i, 1, &event) == 1);
        PROPERTY(event == (i + 1 < count ? AT_EVENT_NONE : wanted));
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len)
{
    static struct at_line line;
    static struct at_line singly;
    line = (struct at_line){.prompt_wanted = len % 2 == 0};
    singly = line;
    for (size_t fed = 0; fed < len;) {
        enum at_event event = AT_EVENT_NONE;
        size_t used = at_line_feed(&line, input + fed, len - fed, &event);
        PROPERTY(used > 0 && used <= len - fed);
        PROPERTY(event != AT_EVENT_NONE || used == len - fed);
        PROPERTY(event != AT_EVENT_PROMPT || line.prompt_wanted);
        feed_singly(&singly, input + fed, used, event);
        PROPERTY(line.length == singly.length);
        PROPERTY(memcmp(line.text, singly.text, line.length) == 0);
        if (event == AT_EVENT_LINE) {
            check_line(&line);
        }
        fed += used;
    }
    return 0;
}
