/* SPDX-License-Identifier: MIT
 * statements: from the grammar's outcome to what does it, by one table. What is a few lines stands
 * here: the consent to texts. */
#include "daemon/desk/statements.h"

#include <string.h>

#include "daemon/desk/correct.h"
#include "daemon/desk/desk_inside.h"
#include "daemon/desk/question.h"
#include "daemon/desk/reading.h"
#include "daemon/desk/recheck.h"
#include "daemon/desk/service.h"
#include "daemon/desk/trouble.h"
#include "daemon/desk/whereabouts.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"

/* ---- consent: after STOP one confirmation, then nothing but the answers to HELP and START. The
 * words are those of 47 CFR 64.1200(a)(10) to (12) and of the wireless industry's handbook. */

static void set_consent(struct turn *turn, int64_t opt_out_s, enum wording_key key)
{
    (void)people_set_opt_out(turn->desk->ledger, turn->person_id, opt_out_s);
    turn->spoken = true;
    turn_say(turn, key, NULL);
}

#define JUST_SENT_S (30 * 60)

/* CANCEL just after a reading may have meant the reading: a word that is a NO where a question is
 * open. */
static bool may_mean_undo(struct turn *turn)
{
    struct crew_text otherwise;
    struct reading_row last;
    crew_text_read(turn->body, strlen(turn->body), &turn->desk->names.view, CREW_DATE_MDY, true,
                   turn->desk->hearing, &otherwise);
    return otherwise.statement_count == 1 && otherwise.statements[0].kind == CREW_NO &&
           readings_of_person(turn->desk->ledger, turn->person_id, 0, turn->now_s - JUST_SENT_S,
                              &last) == LEDGER_OK;
}

static void stop(struct turn *turn)
{
    if (turn->mute) { /* confirmed once already */
        return;
    }
    set_consent(turn, turn->now_s, WORDING_STOPPED);
    if (may_mean_undo(turn)) {
        turn_say(turn, WORDING_STOP_UNDO, NULL);
    }
}

static void start(struct turn *turn)
{
    set_consent(turn, 0, WORDING_STARTED);
}

static void help(struct turn *turn)
{
    turn->spoken = true;
    turn_say(turn, turn->shop ? WORDING_HELP_SHOP : WORDING_HELP_CREW, NULL);
}

/* ---- the level check, answered in other words than YES */

static int32_t machine_of(const struct turn *turn, const struct crew_statement *statement)
{
    bool named = statement->machine >= 0 && statement->obstacle != CREW_OBSTACLE_WHICH_MACHINE &&
                 statement->obstacle != CREW_OBSTACLE_NO_SUCH_MACHINE;
    return named ? turn->desk->names.index[statement->machine] : -1;
}

/* "checked", "M12 level ok". */
static bool takes_check(struct turn *turn, const struct crew_statement *statement)
{
    int32_t machine = machine_of(turn, statement);
    turn_enter(turn, CREW_YES, machine);
    if (recheck_checked(turn, machine)) {
        return true;
    }
    turn->answer->statement_count--;
    if (machine >= 0) {
        struct crew_statement remark = *statement;
        remark.kind = CREW_REMARK;
        statements_do(turn, &remark, machine);
        return true;
    }
    return false;
}

/* Words without a machine, while the level is asked for. */
static bool takes_words(struct turn *turn, const struct crew_statement *statement)
{
    int32_t machine = recheck_asked(turn);
    if (machine < 0 || statement->obstacle == CREW_OBSTACLE_WHICH_MACHINE ||
        statement->obstacle == CREW_OBSTACLE_NO_SUCH_MACHINE) {
        return false;
    }
    turn_enter(turn, CREW_REMARK, machine);
    reply_plain(turn->body, strlen(turn->body), turn->entry->remark, sizeof turn->entry->remark);
    recheck_words(turn, machine, turn->entry->remark);
    return true;
}

/* The shop's words of a crew, or of one who would not hear what became of them. */
static bool refuses_sender(struct turn *turn)
{
    bool refused = !turn->shop || turn->mute;
    if (refused) {
        turn_refuse(turn, turn->shop ? WORDING_OPTED_OUT : WORDING_SHOP_ONLY, NULL);
    }
    return refused;
}

/* FIX wants a machine; "oops 1341" is of the sender's own last reading. */
static void correct_any(struct turn *turn)
{
    if (turn->said->of_own_last) {
        correct_own(turn);
    } else if (turn->machine >= 0) {
        if (!refuses_sender(turn)) {
            correct_fix(turn);
        }
    } else {
        turn_refuse(turn, WORDING_NOT_UNDERSTOOD, NULL);
    }
}

/* ---- to what does it */

/* A kind of statement: its word in JSON, who may say it, and what does it (NULL: it says nothing by
 * itself). An open question may take it for its answer first. */
static const struct kind {
    const char *word;
    bool of_machine, shop_only;
    bool here; /* the machine has to be in the yard */
    void (*does)(struct turn *turn);
    bool (*answers)(struct turn *turn, const struct crew_statement *statement);
} kinds[] = {
    [CREW_READING] = {"reading", .of_machine = true, .here = true, .does = reading_take},
    [CREW_STATUS] = {"status", .of_machine = true, .does = status_machine,
                     .answers = question_takes_machine},
    [CREW_SERVICE] = {"service", .of_machine = true, .shop_only = true, .here = true,
                      .does = service_take},
    [CREW_CORRECT] = {"correct", .here = true, .does = correct_any},
    [CREW_SWAP] = {"swap", .of_machine = true, .shop_only = true, .here = true,
                   .does = correct_swap},
    [CREW_LATER] = {"later", .of_machine = true, .shop_only = true, .here = true,
                    .does = whereabouts_later},
    [CREW_PARK] = {"park", .of_machine = true, .shop_only = true, .here = true,
                   .does = whereabouts_park},
    [CREW_BACK] = {"back", .of_machine = true, .shop_only = true, .does = whereabouts_back},
    [CREW_DUE] = {"due", .does = status_due},
    [CREW_UNDO] = {"undo", .does = correct_undo},
    [CREW_YES] = {"yes", .does = answer_yes},
    [CREW_NO] = {"no", .does = answer_no},
    [CREW_HELP] = {"help", .does = help},
    [CREW_STOP] = {"stop", .does = stop},
    [CREW_START] = {"start", .does = start},
    [CREW_TROUBLE] = {"trouble", .does = trouble_take},
    [CREW_REMARK] = {"remark", .of_machine = true, .does = trouble_remark},
    [CREW_SOLVED] = {"solved", .of_machine = true, .shop_only = true, .does = trouble_solved},
    [CREW_BOOK] = {"book", .of_machine = true, .shop_only = true, .here = true,
                   .does = whereabouts_book},
    [CREW_IN] = {"in", .of_machine = true, .shop_only = true, .here = true, .does = whereabouts_in},
    [CREW_OUT] = {"out", .of_machine = true, .shop_only = true, .here = true,
                  .does = whereabouts_out},
    [CREW_GONE] = {"gone", .of_machine = true, .shop_only = true, .does = whereabouts_gone},
    [CREW_CHECKED] = {"yes", .answers = takes_check},
    [CREW_FIGURE] = {"unknown", .answers = question_takes_figure},
    [CREW_PLAN] = {"unknown", .answers = question_takes_plan},
    [CREW_WHICH] = {"status", .of_machine = true, .does = status_machine,
                    .answers = question_takes_machine},
    [CREW_UNKNOWN] = {"unknown", .answers = takes_words},
};

const char *statements_word(enum crew_kind kind)
{
    return kinds[kind].word;
}

void statements_do(struct turn *turn, const struct crew_statement *statement, int32_t machine)
{
    const struct kind *kind = &kinds[statement->kind];
    turn->said = statement;
    turn_enter(turn, statement->kind, machine);
    if ((kind->shop_only && refuses_sender(turn)) ||
        (kind->here && machine >= 0 && whereabouts_refuse(turn))) {
        return;
    }
    kind->does(turn);
}

/* ---- statement by statement */

/* Refused by name; the sender's own are named too, once a text. */
static void no_such_machine(struct turn *turn, const struct crew_statement *statement)
{
    const struct settings *settings = turn->desk->settings;
    struct wording_values values = turn_values(turn, -1, -1);
    struct reply_list list = {0};
    turn_enter(turn, statement->kind, -1);
    turn_words(turn, statement->words, values.value[WORDING_WORDS], 33);
    turn_refuse(turn, WORDING_NO_SUCH_MACHINE, &values);
    for (size_t i = 0; i < settings->machine_count; i++) {
        if (names_own(settings, (int32_t)i, turn->person)) {
            reply_list_add(&list, settings->machines[i].name);
        }
    }
    if (list.count > 0 && !turn->own_listed) {
        turn->own_listed = true;
        wording_set(&values, WORDING_LIST, list.text);
        turn_add(turn, REPLY_MAY, WORDING_YOURS, &values);
    }
}

/* An interval is no figure of the meter: how the machine stands is told. Words of service beside a
 * figure are a service from the shop, and plain words from a crew; so is where a machine is. */
static struct crew_statement as_meant(const struct turn *turn, const struct crew_statement *said)
{
    struct crew_statement statement = *said;
    if (said->kind == CREW_READING && said->nature == CREW_NATURE_INTERVAL && said->machine >= 0) {
        statement.kind = CREW_STATUS;
        statement.obstacle = CREW_OBSTACLE_NONE;
    } else if (said->kind == CREW_READING && said->done_follows && turn->shop) {
        statement.kind = CREW_SERVICE;
        statement.service_words = true;
    } else if (said->kind == CREW_CHECKED && said->done_follows && turn->shop) {
        statement.kind = CREW_SERVICE;
        statement.obstacle = CREW_OBSTACLE_NO_FIGURE;
    } else if (said->kind == CREW_SERVICE && said->service_words && !turn->shop) {
        statement.kind = said->hours.present ? CREW_READING : CREW_REMARK;
        statement.obstacle = CREW_OBSTACLE_NONE;
        statement.done_follows = true;
    } else if (said->kind >= CREW_BOOK && said->kind <= CREW_GONE && !turn->shop) {
        statement.kind = CREW_REMARK;
        statement.obstacle = CREW_OBSTACLE_NONE;
        statement.remark = said->words;
    }
    return statement;
}

/* Named as it was called once: its name of now is said. */
static void say_renamed(struct turn *turn, const struct crew_statement *statement)
{
    const struct names *names = &turn->desk->names;
    if (statement->machine >= 0 && names->former[statement->machine] != NULL) {
        struct wording_values values = turn_values(turn, names->index[statement->machine], -1);
        wording_set(&values, WORDING_OTHER, names->former[statement->machine]);
        turn_add(turn, REPLY_SHOULD, WORDING_RENAMED, &values);
    }
}

void statements_take(struct turn *turn, const struct crew_statement *said)
{
    const struct crew_statement statement = as_meant(turn, said);
    const struct kind *kind = &kinds[statement.kind];
    int32_t machine = machine_of(turn, &statement);
    if (machine < 0 && statement.kind == CREW_TROUBLE) {
        machine = recheck_asked(turn);
    }
    bool clear = !kind->of_machine || (machine >= 0 && statement.obstacle != CREW_OBSTACLE_UNCLEAR);
    if (clear && kind->answers != NULL && kind->answers(turn, &statement)) {
        return;
    }
    if (clear && kind->does != NULL) {
        statements_do(turn, &statement, machine);
        say_renamed(turn, &statement);
    } else if (statement.obstacle == CREW_OBSTACLE_WHICH_MACHINE) {
        question_which_machine(turn, &statement);
    } else if (statement.obstacle == CREW_OBSTACLE_NO_SUCH_MACHINE) {
        no_such_machine(turn, &statement);
    } else {
        turn_unclear(turn, machine);
    }
}

/* NO, with something behind it: "no, 1350" is an answer too. True where the words behind it are
 * taken with it. */
static bool leading_no(struct turn *turn)
{
    const struct crew_text *text = &turn->text;
    const struct crew_statement *first = &text->statements[0];
    struct question_row row = turn->question;
    int32_t machine = desk_machine(turn->desk, row.machine_id);
    bool alone = text->statement_count == 1;
    if (row.kind == QUESTION_RECHECK && alone && first->kind == CREW_TROUBLE) {
        return false; /* told as trouble of that machine */
    }
    turn_enter(turn, CREW_NO, machine);
    if (row.kind == QUESTION_RECHECK) {
        bool words = alone && kinds[first->kind].does == NULL;
        question_close(turn, "no");
        recheck_denied(turn, &row, machine, words ? turn->body : "");
        return words;
    }
    if (!alone || first->kind != CREW_FIGURE || question_asks_which(&turn->question)) {
        question_close(turn, "no");
    }
    /* Plain words behind a NO are its reason. */
    if (alone && first->kind == CREW_UNKNOWN) {
        turn_say(turn, WORDING_NOT_CHANGED, NULL);
        return true;
    }
    return false;
}

/* "yes 1340.5": YES with the figure offered; another figure counts instead, and is judged anew. */
static void yes_with_figure(struct turn *turn)
{
    struct crew_text *text = &turn->text;
    const struct crew_statement *figure = &text->statements[1];
    if (turn->has_question && text->statement_count == 2 && text->statements[0].kind == CREW_YES &&
        figure->kind == CREW_FIGURE) {
        bool offered = figure->hours.hundredths == turn->question.offer_hundredths;
        text->statements[0] = offered ? text->statements[0] : *figure;
        text->statement_count = 1;
    }
}

/* Words that begin with NO, while a question is open, are NO and its reason. */
static bool begins_with_no(struct turn *turn)
{
    struct crew_text first;
    const struct crew_text *text = &turn->text;
    crew_text_read(turn->body, strcspn(turn->body, " ,.;:\n"), &turn->desk->names.view,
                   CREW_DATE_MDY, true, turn->desk->hearing, &first);
    return text->statement_count == 1 && text->statements[0].kind == CREW_UNKNOWN &&
           (first.tone == CREW_TONE_DISSENT ||
            (first.statement_count == 1 && first.statements[0].kind == CREW_NO));
}

static void all_statements(struct turn *turn)
{
    struct crew_text *text = &turn->text;
    yes_with_figure(turn);
    text->leading_no |= turn->has_question && begins_with_no(turn);
    if (text->leading_no && turn->has_question && leading_no(turn)) {
        return;
    }
    for (uint8_t i = 0; i < text->statement_count; i++) {
        turn->next = i + 1 < text->statement_count ? &text->statements[i + 1] : NULL;
        statements_take(turn, &text->statements[i]);
    }
    if (text->statement_count == 0) {
        turn_unclear(turn, -1);
    }
    if (text->more) {
        turn_say(turn, WORDING_TEN_ONLY, NULL);
    }
}

static bool quotes(const struct turn *turn, const char *words)
{
    struct crew_slice quoted = turn->text.quoted;
    return memmem(turn->body + quoted.start, quoted.length, words, strlen(words)) != NULL;
}

/* A reaction answers only the question that it quotes: its machine, and its question mark. */
static bool quotes_question(struct turn *turn)
{
    int32_t machine = desk_machine(turn->desk, turn->question.machine_id);
    return machine >= 0 && quotes(turn, turn->desk->settings->machines[machine].name) &&
           (quotes(turn, "?") || turn->question.kind == QUESTION_RECHECK);
}

/* What is no statement answers the open question, or says nothing. */
static void tone_alone(struct turn *turn)
{
    static const struct crew_statement yes = {.kind = CREW_YES}, no = {.kind = CREW_NO};
    enum crew_tone tone = turn->text.tone;
    bool courtesy = (tone == CREW_TONE_ASSENT && !turn->text.spelled) ||
                    tone == CREW_TONE_COURTESY || turn->text.assenting_reaction;
    int32_t machine = recheck_asked(turn);
    if (machine >= 0 && courtesy) {
        struct wording_values values = turn_values(turn, machine, -1);
        turn_say(turn, WORDING_LEVEL_OPEN, &values);
    } else if (tone == CREW_TONE_ASSENT ||
               (tone == CREW_TONE_IGNORE && turn->text.assenting_reaction &&
                quotes_question(turn))) {
        statements_do(turn, &yes, -1);
    } else if (tone == CREW_TONE_DISSENT) {
        statements_do(turn, &no, -1);
    }
}

void statements_work(struct turn *turn)
{
    const struct settings *settings = turn->desk->settings;
    enum crew_date_order order =
        settings->shop.date_order == SETTINGS_DATE_DMY ? CREW_DATE_DMY : CREW_DATE_MDY;
    names_for(&turn->desk->names, settings, turn->person);
    question_load(turn);
    crew_text_read(turn->body, strlen(turn->body), &turn->desk->names.view, order,
                   turn->has_question, turn->desk->hearing, &turn->text);
    if (turn->text.tone == CREW_TONE_STATEMENTS) {
        all_statements(turn);
    } else if (turn->has_question || turn->text.spelled) {
        tone_alone(turn);
    }
    if (turn->reported) {
        trouble_tell(turn->desk, turn->now_s);
    }
}
