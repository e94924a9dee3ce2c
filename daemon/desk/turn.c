/* SPDX-License-Identifier: MIT
 * turn: the small steps that every kind of statement takes, and the reply put together. */
#include "daemon/desk/turn.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/desk_inside.h"
#include "daemon/desk/question.h"
#include "daemon/desk/statements.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "parsers/crew_text_items.h"
#include "parsers/septets.h"
#include "parsers/tpdu_write.h"
#include "parsers/utf8.h"

/* ---- the sentences of a reply */

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

/* The letter under an accent that the alphabet does not have, as o of "rompio"; a blank for what has
 * no such letter. */
static char without_accent(const char *text, size_t length, size_t at)
{
    uint16_t unit = 0;
    (void)fold_read(text, length, at, &unit);
    return unit < 0x80 && fold_is_letter(unit) ? (char)unit : ' ';
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
        char bare = plain ? ' ' : without_accent(text, length, at);
        const char *from = plain ? text + at : &bare;
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

#define LAST_SHOWN_OCTETS 61

/* ---- the steps */

void turn_enter(struct turn *turn, enum crew_kind kind, int32_t machine)
{
    struct desk_answer *answer = turn->answer;
    size_t at = answer->statement_count;
    if (at < CREW_TEXT_STATEMENTS_MAX) {
        answer->statement_count++;
    } else {
        at = CREW_TEXT_STATEMENTS_MAX - 1;
    }
    turn->machine = machine;
    turn->entry = &answer->statements[at];
    *turn->entry =
        (struct desk_statement){.kind = statements_word(kind), .outcome = TEXTS_OUTCOME_DONE};
    turn->understood |= strcmp(turn->entry->kind, statements_word(CREW_UNKNOWN)) != 0;
    if (machine >= 0) {
        turn->entry->machine = turn->desk->settings->machines[machine].name;
    }
}

/* A machine of this person, else one of the yard's. */
static const char *example(const struct turn *turn)
{
    const struct settings *settings = turn->desk->settings;
    for (size_t i = 0; i < settings->machine_count; i++) {
        if (names_own(settings, (int32_t)i, turn->person)) {
            return settings->machines[i].name;
        }
    }
    return settings->machine_count > 0 ? settings->machines[0].name : "M12";
}

struct wording_values turn_values(const struct turn *turn, int32_t machine, int64_t hundredths)
{
    struct wording_values values = {0};
    const char *name = machine >= 0 ? turn->desk->settings->machines[machine].name : example(turn);
    wording_set(&values, WORDING_MACHINE, name);
    wording_set(&values, WORDING_SHOP, turn->desk->settings->shop.name);
    wording_set(&values, WORDING_PERSON, turn->desk->settings->people[turn->person].name);
    if (hundredths >= 0) {
        wording_set_hours(&values, WORDING_HOURS, hundredths);
    }
    return values;
}

/* An example shows the machine's own last figure, so that sent back word for word it moves nothing;
 * there is none where no figure is known yet. */
static void set_example(struct turn *turn, struct wording_values *values)
{
    const struct settings *settings = turn->desk->settings;
    char *example = values->value[WORDING_EXAMPLE];
    char begins[WORDING_VALUE_OCTETS];
    struct reading_row last;
    int32_t machine = settings_find_machine(settings, values->value[WORDING_MACHINE]);
    (void)snprintf(begins, sizeof begins, "%s",
                   example[0] != '\0' ? example : values->value[WORDING_MACHINE]);
    example[0] = '\0';
    if (machine >= 0 &&
        desk_last_reading(turn->desk, turn_machine_id(turn, machine), turn->now_s, &last)) {
        wording_set_example(values, turn->wording, begins, last.meter_hundredths);
    }
}

/* The example goes where one segment has no room for it. */
static void put_sentence(struct turn *turn, enum wording_key key,
                         const struct wording_values *values, char out[WORDING_SENTENCE_OCTETS])
{
    struct wording_values shown = values != NULL ? *values : turn_values(turn, turn->machine, -1);
    size_t septets = 0;
    if (wording_names(turn->wording, key, WORDING_EXAMPLE)) {
        set_example(turn, &shown);
    }
    size_t length = wording_write(turn->wording, key, &shown, out, WORDING_SENTENCE_OCTETS);
    if (!septets_count(out, length, &septets) || septets > SEPTETS_MAX) {
        wording_set(&shown, WORDING_EXAMPLE, "");
        (void)wording_write(turn->wording, key, &shown, out, WORDING_SENTENCE_OCTETS);
    }
}

void turn_add(struct turn *turn, enum reply_weight weight, enum wording_key key,
              const struct wording_values *values)
{
    char sentence[WORDING_SENTENCE_OCTETS];
    put_sentence(turn, key, values, sentence);
    reply_add(&turn->reply, weight, sentence);
}

void turn_say(struct turn *turn, enum wording_key key, const struct wording_values *values)
{
    turn_add(turn, REPLY_MUST, key, values);
}

void turn_explain(struct turn *turn, enum wording_key key, const struct wording_values *values)
{
    char sentence[WORDING_SENTENCE_OCTETS];
    put_sentence(turn, key, values, sentence);
    reply_add(&turn->reply, REPLY_MUST, sentence);
    (void)snprintf(turn->entry->why, sizeof turn->entry->why, "%.*s",
                   (int)sizeof turn->entry->why - 1, sentence);
}

void turn_refuse(struct turn *turn, enum wording_key key, const struct wording_values *values)
{
    turn->entry->outcome = TEXTS_OUTCOME_REFUSED;
    turn_explain(turn, key, values);
}

void turn_refuse_form(struct turn *turn, enum wording_key word)
{
    struct wording_values values = turn_values(turn, turn->machine, -1);
    (void)snprintf(values.value[WORDING_EXAMPLE], WORDING_VALUE_OCTETS, "%s %s",
                   turn->desk->settings->machines[turn->machine].name,
                   turn->wording->sentences[word]);
    turn_refuse(turn, WORDING_NEEDS_FIGURE, &values);
}

#define LAST_WITHIN_S (48 * 3600)

/* The sender's last text that meant something, and whether it is kept. */
static bool say_last(struct turn *turn)
{
    struct wording_values values = turn_values(turn, -1, -1);
    char body[LAST_SHOWN_OCTETS];
    bool saved = false;
    if (texts_last_of(turn->desk->ledger, turn->person_id, turn->text_id,
                      turn->now_s - LAST_WITHIN_S, body, sizeof body, &saved) != LEDGER_OK) {
        return false;
    }
    reply_plain(body, strlen(body), values.value[WORDING_WORDS], LAST_SHOWN_OCTETS);
    turn_refuse(turn, saved ? WORDING_LAST_SAVED : WORDING_LAST_UNSAVED, &values);
    return true;
}

void turn_unclear(struct turn *turn, int32_t machine)
{
    struct wording_values values = turn_values(turn, machine, -1);
    turn_enter(turn, CREW_UNKNOWN, -1);
    turn->entry->outcome = TEXTS_OUTCOME_REFUSED;
    if (turn->unclear) {
        return; /* said once already */
    }
    turn->unclear = true;
    if (machine >= 0) {
        turn_refuse(turn, WORDING_FORM, &values);
    } else if (turn->has_question && !turn->asked && turn->question.kind != QUESTION_RECHECK) {
        question_repeat(turn);
    } else if (say_last(turn)) {
        turn_add(turn, REPLY_MAY, WORDING_FORM, &values);
    } else {
        turn_refuse(turn, WORDING_NOT_UNDERSTOOD, &values);
    }
}

/* Asked once more is no other question. */
static bool is_same(const struct question_row *one, const struct question_row *other)
{
    return one->machine_id == other->machine_id && one->kind == other->kind &&
           strcmp(one->completes, other->completes) == 0 && one->days == other->days &&
           one->offer_hundredths == other->offer_hundredths;
}

#define DENIED_WITHIN_S (2 * 3600)

/* A doubt about a machine's figure to which its sender said NO just now: not put again in the same
 * words. False where it is refused for that; *denied: there was a NO, to whatever was offered. */
static bool may_be_put(struct turn *turn, const struct question_row *row,
                       const struct wording_values *values, bool *denied)
{
    struct question_row last;
    *denied = row->machine_id != 0 && row->typed_hundredths >= 0 && row->plan[0] == '\0' &&
              !question_asks_which(row) &&
              questions_denied(turn->desk->ledger, turn->person_id, row->machine_id,
                               turn->now_s - DENIED_WITHIN_S, &last) == LEDGER_OK &&
              last.kind != QUESTION_RECHECK && last.kind != QUESTION_BOOK;
    if (*denied && strcmp(last.says, row->says) == 0) {
        turn_refuse(turn, WORDING_ASKED_BEFORE, values);
        return false;
    }
    return true;
}

void turn_ask(struct turn *turn, struct question_row *row, enum wording_key key,
              const struct wording_values *values)
{
    bool replaced = false;
    bool denied = false;
    if (turn->mute || turn->asked) {
        turn_refuse(turn, turn->mute ? WORDING_OPTED_OUT : WORDING_ONE_AT_A_TIME, values);
        return;
    }
    row->person_id = turn->person_id;
    row->text_id = turn->text_id;
    row->asked_s = turn->now_s;
    (void)wording_write(turn->wording, key, values, row->says, sizeof row->says);
    if (!may_be_put(turn, row, values, &denied)) {
        return;
    }
    (void)questions_ask(turn->desk->ledger, row, &replaced);
    turn->asked = true;
    turn->answer->asked = true;
    turn->entry->outcome = TEXTS_OUTCOME_ASKED;
    turn_explain(turn, key, values);
    if (denied) {
        turn_add(turn, REPLY_SHOULD, WORDING_UNDO_OR_SHOP, values);
    }
    bool level = turn->question.kind == QUESTION_RECHECK; /* it is asked again, never left */
    if (replaced && turn->has_question && !level && !is_same(row, &turn->question)) {
        turn_add(turn, REPLY_MAY, WORDING_REPLACES_QUESTION, values);
    }
}

void turn_set_day(const struct turn *turn, struct wording_values *values, int64_t at_s)
{
    wording_set_day(values, WORDING_DAY, turn->wording, zone_civil(at_s).day, turn->today);
}

int64_t turn_machine_id(struct turn *turn, int32_t machine)
{
    int64_t machine_id = 0;
    (void)machines_id(turn->desk->ledger, turn->desk->settings->machines[machine].name,
                      &machine_id);
    return machine_id;
}

void turn_words(const struct turn *turn, struct crew_slice slice, char *out, size_t size)
{
    reply_plain(turn->body + slice.start, slice.length, out, size);
}

void turn_remark(const struct turn *turn, struct crew_slice slice, char *out, size_t size)
{
    size_t length = slice.length < size ? slice.length : size - 1;
    if (slice.length == 0 && turn->remark_kept != NULL) {
        (void)snprintf(out, size, "%s", turn->remark_kept);
        return;
    }
    while (length < slice.length && length > 0 &&
           ((unsigned char)turn->body[slice.start + length] & 0xC0u) == 0x80u) {
        length--;
    }
    memcpy(out, turn->body + slice.start, length);
    out[length] = '\0';
}
