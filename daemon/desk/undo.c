/* SPDX-License-Identifier: MIT
 * undo: one level. What is taken back is read back in the sender's own words; where an alert had
 * gone out on it, the shop is told. */
#include "daemon/desk/undo.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/notices.h"
#include "daemon/desk/question.h"
#include "daemon/desk/room.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/readings.h"

#define UNDO_WITHIN_S (24 * 3600)
#define WORDS_SHOWN 100 /* octets of them */

struct search {
    int64_t text_id;
    char body[WORDS_SHOWN + 1];
};

static void search_see(void *ctx, const struct texts_line *line)
{
    struct search *search = ctx;
    if (line->incoming && line->text_id == search->text_id) {
        (void)snprintf(search->body, sizeof search->body, "%s", line->body);
    }
}

static bool has_figure(const char *body)
{
    return strcspn(body, "0123456789") < strlen(body);
}

/* What is taken back: the words of the text, and where those hold no figure (a YES) the reading that
 * they brought about. */
static void find_words(struct turn *turn, struct desk_statement *entry, int64_t text_id,
                       char *words, size_t size)
{
    struct search search = {.text_id = text_id};
    struct reading_row row;
    struct ledger *ledger = turn->desk->ledger;
    (void)turn_ok(turn, texts_each(ledger, turn->now_s - 2 * UNDO_WITHIN_S, turn->now_s + 1,
                                   search_see, &search));
    reply_plain(search.body, strlen(search.body), words, size);
    if (!turn_ok(turn, readings_of_text(ledger, text_id, &row))) {
        return;
    }
    int32_t machine = question_machine(turn, row.machine_id);
    if (machine >= 0 && !has_figure(search.body)) {
        char hours[HOURS_TEXT_OCTETS];
        entry->machine = turn->desk->settings->machines[machine].name;
        (void)hours_write(row.meter_hundredths, hours, sizeof hours);
        (void)snprintf(words, size, "%s %sh", entry->machine, hours);
    }
}

void undo_last(struct turn *turn)
{
    struct desk_statement *entry = turn_entry(turn, "undo", -1);
    struct wording_values values = turn_values(turn, -1, -1);
    struct ledger *ledger = turn->desk->ledger;
    int64_t text_id = 0;
    int told = 0;
    enum ledger_result result = LEDGER_NONE;
    if (turn->mute && turn->shop) {
        turn_refuse(turn, entry, WORDING_OPTED_OUT, &values);
        return;
    }
    result = effects_last(ledger, turn->person_id, turn->now_s - UNDO_WITHIN_S, &text_id);
    if (!turn_ok(turn, result)) {
        turn_refuse(turn, entry, WORDING_NOTHING_TO_TAKE_BACK, &values);
        return;
    }
    char words[WORDS_SHOWN + 1];
    find_words(turn, entry, text_id, words, sizeof words);
    wording_set(&values, WORDING_WORDS, words);
    if (!turn_ok(turn, retraction_of_text(ledger, text_id, turn->person_id, turn->now_s, &told))) {
        return;
    }
    turn->desk->unsettled = true;
    turn_say(turn, WORDING_TAKEN_BACK, &values);
    if (told > 0) {
        notices_note(turn, WORDING_TELL_TAKEN_BACK, &values);
    }
}
