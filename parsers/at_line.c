/* SPDX-License-Identifier: MIT
 * at_line: see the header. Makers add words of their own for a restart and for a full memory; those
 * in the tables below are the ones seen in public reports (docs/modem-faults.md names them). */
#include "parsers/at_line.h"

#define CARRIAGE_RETURN 0x0D
#define LINE_FEED 0x0A
#define PDU_DIGITS_MIN 8
#define NUMBER_DIGITS_MAX 9
#define NUMBER_LIMIT 1000000000 /* one more than nine digits can say */

static enum at_event end_line(struct at_line *line)
{
    if (line->overlong) {
        line->overlong = false;
        line->length = 0;
        return AT_EVENT_OVERLONG;
    }
    while (line->length > 0 && line->text[line->length - 1] == ' ') {
        line->length--;
    }
    if (line->length == 0) {
        return AT_EVENT_NONE;
    }
    line->text[line->length] = '\0';
    line->given = true;
    return AT_EVENT_LINE;
}

static enum at_event take_octet(struct at_line *line, uint8_t octet)
{
    if (octet == CARRIAGE_RETURN || octet == LINE_FEED) {
        return end_line(line);
    }
    if (octet < ' ' || octet == 0x7F || (octet == ' ' && line->length == 0)) {
        return AT_EVENT_NONE;
    }
    if (octet == '>' && line->length == 0 && line->prompt_wanted) {
        return AT_EVENT_PROMPT;
    }
    if (line->length >= AT_LINE_OCTETS - 1) {
        line->overlong = true;
        return AT_EVENT_NONE;
    }
    line->text[line->length] = (char)octet;
    line->length++;
    return AT_EVENT_NONE;
}

size_t at_line_feed(struct at_line *line, const uint8_t *octets, size_t count, enum at_event *event)
{
    *event = AT_EVENT_NONE;
    if (line->given) {
        line->given = false;
        line->length = 0;
    }
    for (size_t used = 0; used < count; used++) {
        *event = take_octet(line, octets[used]);
        if (*event != AT_EVENT_NONE) {
            return used + 1;
        }
    }
    return count;
}

static char upper(char c)
{
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* Where text holds words from at on, upper and lower case alike: the count of them; else 0. */
static size_t matches(const char *text, size_t length, size_t at, const char *words)
{
    size_t i = 0;
    for (; words[i] != '\0'; i++) {
        if (at + i >= length || upper(text[at + i]) != upper(words[i])) {
            return 0;
        }
    }
    return i;
}

bool at_line_starts(const char *text, size_t length, const char *prefix)
{
    return matches(text, length, 0, prefix) > 0;
}

static bool holds(const char *text, size_t length, const char *words)
{
    for (size_t at = 0; at < length; at++) {
        if (matches(text, length, at, words) > 0) {
            return true;
        }
    }
    return false;
}

static bool is_hex(const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        char c = upper(text[i]);
        if (!is_digit(c) && !(c >= 'A' && c <= 'F')) {
            return false;
        }
    }
    return length >= PDU_DIGITS_MIN;
}

enum match { MATCH_WHOLE, MATCH_START };

struct known_line {
    const char *words;
    enum match match;
    enum at_kind kind;
};

static const struct known_line known_lines[] = {
    {"OK", MATCH_WHOLE, AT_KIND_OK},
    {"0", MATCH_WHOLE, AT_KIND_OK}, /* ATV0 */
    {"ERROR", MATCH_WHOLE, AT_KIND_ERROR},
    {"4", MATCH_WHOLE, AT_KIND_ERROR}, /* ATV0 */
    {"COMMAND NOT SUPPORT", MATCH_START, AT_KIND_ERROR},
    {"NA", MATCH_WHOLE, AT_KIND_ERROR},
    {"MODEM ERROR", MATCH_START, AT_KIND_ERROR},
    {"+CMS ERROR", MATCH_START, AT_KIND_CMS_ERROR},
    {"+CME ERROR", MATCH_START, AT_KIND_CME_ERROR},
    {"+CMTI:", MATCH_START, AT_KIND_CMTI},
    {"+CDSI:", MATCH_START, AT_KIND_CDSI},
    {"+CMT:", MATCH_START, AT_KIND_CMT},
    {"+CDS:", MATCH_START, AT_KIND_CDS},
    {"+CBM:", MATCH_START, AT_KIND_CBM},
    {"RING", MATCH_WHOLE, AT_KIND_RING},
    {"+CRING:", MATCH_START, AT_KIND_RING},
    {"+CLIP:", MATCH_START, AT_KIND_RING},
    {"NO CARRIER", MATCH_WHOLE, AT_KIND_RING},
    {"NO ANSWER", MATCH_WHOLE, AT_KIND_RING},
    {"NO DIALTONE", MATCH_WHOLE, AT_KIND_RING},
    {"BUSY", MATCH_WHOLE, AT_KIND_RING},
    {"RDY", MATCH_WHOLE, AT_KIND_BOOT},
    {"APP RDY", MATCH_WHOLE, AT_KIND_BOOT},
    {"^SYSSTART", MATCH_START, AT_KIND_BOOT},
    {"*ATREADY", MATCH_START, AT_KIND_BOOT},
    {"START", MATCH_WHOLE, AT_KIND_BOOT},
    {"+CFUN: 1", MATCH_WHOLE, AT_KIND_BOOT},
    {"+CPIN: READY", MATCH_WHOLE, AT_KIND_BOOT},
    {"+CPIN: SIM PIN", MATCH_WHOLE, AT_KIND_BOOT},
    {"Call Ready", MATCH_WHOLE, AT_KIND_BOOT},
    {"SMS Ready", MATCH_WHOLE, AT_KIND_BOOT},
    {"SMS DONE", MATCH_WHOLE, AT_KIND_BOOT},
    {"PB DONE", MATCH_WHOLE, AT_KIND_BOOT},
    {"+QIND: SMS DONE", MATCH_WHOLE, AT_KIND_BOOT},
    {"+QIND: PB DONE", MATCH_WHOLE, AT_KIND_BOOT},
    {"NORMAL POWER DOWN", MATCH_WHOLE, AT_KIND_BOOT},
    {"+CPIN: NOT", MATCH_START, AT_KIND_SIM_GONE},
    {"+SIMCARD: NOT AVAILABLE", MATCH_WHOLE, AT_KIND_SIM_GONE},
};

/* Makers differ in case and in the spaces they set: neither counts. */
static bool is_known(const struct known_line *known, const char *text, size_t length)
{
    size_t at = 0;
    for (size_t i = 0; known->words[i] != '\0'; i++) {
        if (known->words[i] == ' ') {
            continue;
        }
        while (at < length && text[at] == ' ') {
            at++;
        }
        if (at >= length || upper(text[at]) != upper(known->words[i])) {
            return false;
        }
        at++;
    }
    return known->match == MATCH_START || at == length;
}

/* As news the line lacks <n> before <stat>: it is one number, or the next is an area code, quoted
 * or longer than any <stat> (TS 27.007 7.2). */
static bool is_registration_news(const char *text, size_t length)
{
    struct at_field second = {0, 0, false};
    if (!at_line_starts(text, length, "+CREG:") && !at_line_starts(text, length, "+CGREG:") &&
        !at_line_starts(text, length, "+CEREG:")) {
        return false;
    }
    return !at_line_field(text, length, 1, &second) || second.quoted ||
           second.end - second.start > 2;
}

static enum at_kind kind_of(const char *text, size_t length)
{
    for (size_t i = 0; i < sizeof known_lines / sizeof known_lines[0]; i++) {
        if (is_known(&known_lines[i], text, length)) {
            return known_lines[i].kind;
        }
    }
    if (is_hex(text, length)) {
        return AT_KIND_HEX;
    }
    if (is_registration_news(text, length)) {
        return AT_KIND_REGISTRATION;
    }
    /* "^SMMEMFULL:"SM"", "+QIND: SMSFULL", ...: makers agree only in the word and the sign before. */
    char sign = length > 0 ? text[0] : '\0';
    bool full = (sign == '+' || sign == '^' || sign == '*' || sign == '%') &&
                (holds(text, length, "MEMFULL") || holds(text, length, "SMSFULL") ||
                 holds(text, length, "SMS FULL"));
    return full ? AT_KIND_MEMORY_FULL : AT_KIND_OTHER;
}

enum at_kind at_line_kind(const char *text, size_t length, int32_t *code)
{
    enum at_kind kind = kind_of(text, length);
    bool numbered =
        kind == AT_KIND_CMS_ERROR || kind == AT_KIND_CME_ERROR || kind == AT_KIND_REGISTRATION;
    if (!numbered || !at_line_number(text, length, 0, code)) {
        *code = -1;
    }
    return kind;
}

static size_t fields_start(const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        if (text[i] == '"') {
            return 0;
        }
        if (text[i] == ':') {
            return i + 1;
        }
    }
    return 0;
}

/* Where the field that begins at start ends: its comma, or the end of the line. */
static size_t field_end(const char *text, size_t length, size_t start)
{
    bool quoted = false;
    size_t depth = 0;
    for (size_t i = start; i < length; i++) {
        char c = text[i];
        if (c == '"') {
            quoted = !quoted;
        } else if (quoted) {
            continue;
        } else if (c == '(') {
            depth++;
        } else if (c == ')' && depth > 0) {
            depth--;
        } else if (c == ',' && depth == 0) {
            return i;
        }
    }
    return length;
}

bool at_line_field(const char *text, size_t length, size_t index, struct at_field *field)
{
    size_t start = fields_start(text, length);
    size_t end = field_end(text, length, start);
    for (size_t i = 0; i < index; i++) {
        if (end >= length) {
            return false;
        }
        start = end + 1;
        end = field_end(text, length, start);
    }
    while (start < end && text[start] == ' ') {
        start++;
    }
    while (end > start && text[end - 1] == ' ') {
        end--;
    }
    bool quoted = start + 1 < end && text[start] == '"' && text[end - 1] == '"';
    *field =
        quoted ? (struct at_field){start + 1, end - 1, true} : (struct at_field){start, end, false};
    return true;
}

/* The field, its end no further than the text's: plain to see for an analyser. */
static bool find_field(const char *text, size_t length, size_t index, struct at_field *field)
{
    *field = (struct at_field){0, 0, false};
    bool found = at_line_field(text, length, index, field);
    field->end = field->end < length ? field->end : length;
    return found;
}

bool at_line_number(const char *text, size_t length, size_t index, int32_t *number)
{
    struct at_field field;
    find_field(text, length, index, &field);
    int32_t value = 0;
    size_t digits = 0;
    for (size_t i = field.start; i < field.end; i++) {
        if (!is_digit(text[i]) || digits == NUMBER_DIGITS_MAX) {
            return false;
        }
        value = (int32_t)((value * INT64_C(10) + (text[i] - '0')) % NUMBER_LIMIT);
        digits++;
    }
    *number = digits > 0 ? value : *number;
    return digits > 0;
}

static uint32_t bits(uint32_t from, uint32_t to)
{
    uint32_t set = 0;
    for (uint32_t n = from; n <= to && n < 32; n++) {
        set |= UINT32_C(1) << n;
    }
    return set;
}

uint32_t at_line_set(const char *text, size_t length, size_t index)
{
    struct at_field field;
    uint32_t set = 0, from = 0, number = 0;
    bool has_number = false, is_range = false;
    find_field(text, length, index, &field);
    for (size_t i = field.start; i < field.end; i++) {
        char c = text[i];
        if (is_digit(c)) {
            number = number > 99 ? number : number * 10 + (uint32_t)(c - '0');
            has_number = true;
        } else if (c == '-') {
            from = number;
            number = 0;
            is_range = true;
        } else if (c == ',' || c == ')') {
            set |= has_number ? bits(is_range ? from : number, number) : 0;
            number = 0;
            has_number = is_range = false;
        }
    }
    return set | (has_number ? bits(is_range ? from : number, number) : 0);
}

static bool quotes_at(const char *text, size_t end, size_t at, const char *name)
{
    size_t matched = matches(text, end, at, name);
    return matched > 0 && at + matched < end && text[at + matched] == '"';
}

bool at_line_names(const char *text, size_t length, size_t index, const char *name)
{
    struct at_field field;
    find_field(text, length, index, &field);
    if (field.quoted) {
        return quotes_at(text, length, field.start, name);
    }
    for (size_t i = field.start; i < field.end; i++) {
        if (text[i] == '"' && quotes_at(text, field.end, i + 1, name)) {
            return true;
        }
    }
    return false;
}

size_t at_line_copy(const char *text, size_t length, size_t index, char *out, size_t size)
{
    struct at_field field;
    size_t copied = 0;
    find_field(text, length, index, &field);
    for (size_t i = field.start; i < field.end && copied + 1 < size; i++) {
        unsigned char c = (unsigned char)text[i];
        if (c >= ' ' && c != 0x7F) {
            out[copied] = (char)c;
            copied++;
        }
    }
    if (size > 0) {
        out[copied] = '\0';
    }
    return copied;
}
