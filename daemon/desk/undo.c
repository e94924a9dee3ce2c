/* SPDX-License-Identifier: MIT
 * undo: one level. What is taken back is read back in the sender's own words; where an alert had
 * gone out on it, the shop is told. */
#include "daemon/desk/undo.h"

#include <stdio.h>
#include <string.h>

#include "daemon/desk/notices.h"
#include "daemon/desk/room.h"
#include "daemon/ledger/effects.h"

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

/* The words of the text taken back, in letters that a reply may hold. */
static void find_words(struct turn *turn, int64_t text_id, char *words, size_t size)
{
    struct search search = {.text_id = text_id};
    (void)turn_ok(turn, texts_each(turn->desk->ledger, turn->now_s - 2 * UNDO_WITHIN_S,
                                   turn->now_s + 1, search_see, &search));
    const char *body = turn->body;
    turn->body = search.body;
    turn_words(turn, (struct crew_slice){.length = (uint16_t)strlen(search.body)}, words, size);
    turn->body = body;
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
    find_words(turn, text_id, words, sizeof words);
    wording_set(&values, WORDING_WORDS, words);
    if (!turn_ok(turn, effects_undo(ledger, text_id, turn->person_id, turn->now_s, &told))) {
        return;
    }
    turn->changed = true;
    turn->desk->unsettled = true;
    turn_say(turn, WORDING_TAKEN_BACK, &values);
    if (told > 0) {
        notices_note(turn, WORDING_TELL_TAKEN_BACK, &values);
    }
}
