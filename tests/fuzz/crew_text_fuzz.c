/* SPDX-License-Identifier: MIT
 *
 * crew_text: the first octet chooses, the rest is a text. Whatever is understood lies inside the text and the yard.
 * -max_len=200 */
#include <stdbool.h>
#include <string.h>

#include "parsers/crew_text_items.h"
#include "tests/fuzz/fuzz.h"

static const struct crew_machine machines[] = {
    {"M12", true, 3}, {"M13", true, 1}, {"TR-9", false, 3}, {"S2", false, 2}, {"Z12", false, 0}};
static const char *const plans[] = {"drive", "engine"};
static const char *const people[] = {"Ines", "Tom", "Rosa"};
static const struct crew_title titles[] = {
    {"Drive oil and filters", 0}, {"Engine oil", 1}, {"Aceite de motor", 1}};
static const struct crew_names names = {machines, 5, plans, 2, people, 3, titles, 3};

static void is_slice(const struct crew_slice *slice, size_t len)
{
    PROPERTY((size_t)slice->start + slice->length <= len);
}

static void is_figure(const struct hours_figure *figure)
{
    PROPERTY(!figure->present || figure->hundredths >= 0);
    PROPERTY(!figure->present || figure->hundredths <= HOURS_HUNDREDTHS_MAX);
}

static void is_statement(const struct crew_statement *statement, size_t len)
{
    PROPERTY(statement->kind <= CREW_UNKNOWN);
    PROPERTY(statement->machine >= -1 && statement->machine < 5);
    PROPERTY(statement->not_machine >= -1 && statement->not_machine < 5);
    PROPERTY(statement->plan_count <= 2);
    for (size_t i = 0; i < statement->plan_count && i < 2; i++) {
        PROPERTY(statement->plans[i] >= 0 && statement->plans[i] < 2);
    }
    for (size_t i = 0; i < 4 && statement->candidates[i] != -1; i++) {
        PROPERTY(statement->candidates[i] >= 0 && statement->candidates[i] < 5);
    }
    is_slice(&statement->words, len);
    is_slice(&statement->remark, len);
    is_figure(&statement->hours);
    is_figure(&statement->to_hours);
    PROPERTY(statement->quantity_thousandths >= 0);
    /* what is understood is understood whole */
    if (statement->obstacle == CREW_OBSTACLE_NONE && statement->kind == CREW_READING) {
        PROPERTY(statement->machine >= 0);
        PROPERTY(statement->hours.present || statement->same_as_last);
    }
    if (statement->obstacle == CREW_OBSTACLE_NONE && statement->kind == CREW_LATER) {
        PROPERTY(statement->days >= 1 && statement->days <= 60);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len)
{
    struct crew_text text;
    static struct crew_text_room room; /* of the texts before */
    struct crew_text again;
    if (len < 1) {
        return 0;
    }
    const char *words = (const char *)input + 1;
    size_t words_len = len - 1;
    enum crew_date_order order = (input[0] & 1) != 0 ? CREW_DATE_DMY : CREW_DATE_MDY;
    bool open = (input[0] & 2) != 0;
    memset(&text, 0x55, sizeof text);
    memset(&again, 0xAA, sizeof again);
    crew_text_read(words, words_len, &names, order, open, &room, &text);
    crew_text_read(words, words_len, &names, order, open, &room, &again);
    PROPERTY(text.statement_count <= CREW_TEXT_STATEMENTS_MAX);
    PROPERTY(text.statement_count == again.statement_count && text.tone == again.tone);
    is_slice(&text.quoted, words_len);
    for (size_t i = 0; i < text.statement_count; i++) {
        is_statement(&text.statements[i], words_len);
        PROPERTY(text.statements[i].kind == again.statements[i].kind);
        PROPERTY(text.statements[i].machine == again.statements[i].machine);
        PROPERTY(text.statements[i].hours.hundredths == again.statements[i].hours.hundredths);
    }
    (void)crew_text_is_word(words, words_len, open);
    return 0;
}
