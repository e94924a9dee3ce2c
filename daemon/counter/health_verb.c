/* SPDX-License-Identifier: MIT
 * health_verb: what health says of a shop, by its running daemon at its door; where none runs, by what the
 * ledger shows. Of several shops all checks are one list, the worst first. */
#include <json-c/json_tokener.h>
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/board/board.h"
#include "daemon/counter/answers.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/metrics.h"
#include "daemon/counter/verbs.h"

#define SAYS_COLUMN 21 /* of a check's words on the screen */

/* What each shop answered; in all the worst. */
struct answers {
    struct json_object *shops[OPTIONS_CONFIGS_MAX];
    enum health_status worst;
};

/* By what the ledger shows, where no daemon runs. */
static enum health_status report_alone(struct counter *shop, const char *form, FILE *out)
{
    char says[LEDGER_SAYS_OCTETS];
    enum ledger_result result;
    shop->ledger = ledger_open(shop->settings->ledger, LEDGER_READ, &result, says);
    struct health_facts facts = {.settings = shop->settings,
                                 .ledger = shop->ledger,
                                 .ledger_says = says,
                                 .copied = shop->ledger != NULL && ledger_is_copy(shop->ledger),
                                 .now_s = shop->now_s};
    return health_report(&facts, form, out);
}

/* The report in that form. Returns 0, or after saying why an enum health_status. */
static int ask(struct counter *shop, const char *form, struct counter_answer *answer)
{
    const char *words[] = {"health", form};
    int asked = counter_ask_daemon(shop, 2, words, "; is it stuck? see its log", answer);
    if (asked != COUNTER_ALONE) {
        return asked == EX_OK ? EX_OK : asked == EX_NOPERM ? HEALTH_CANNOT_TELL : HEALTH_FAULT;
    }
    FILE *whole = fmemopen(answer->answer, sizeof answer->answer, "w");
    if (whole == NULL) {
        (void)fprintf(shop->err, "meterpost: memory is short\n");
        return HEALTH_CANNOT_TELL;
    }
    answer->status = (int)report_alone(shop, form, whole);
    (void)fclose(whole);
    return EX_OK;
}

static int look(struct counter *shop, void *ctx)
{
    static struct counter_answer answer;
    struct answers *answers = ctx;
    int status = ask(shop, HEALTH_FORM_JSON, &answer);
    if (status != EX_OK) {
        return status;
    }
    struct json_object *report = json_tokener_parse(answer.answer), *checks;
    answers->shops[shop->number] = report;
    if (!json_object_object_get_ex(report, "checks", &checks) ||
        !json_object_is_type(checks, json_type_array)) {
        (void)fprintf(shop->err,
                      "meterpost: the daemon's answer makes no sense; is it an older one? "
                      "restart it\n");
        return HEALTH_CANNOT_TELL;
    }
    enum health_status found = (enum health_status)answer.status;
    answers->worst = found > answers->worst ? found : answers->worst;
    return EX_OK;
}

static struct json_object *checks_of(const struct answers *answers, const struct counter *shop)
{
    return json_object_object_get(answers->shops[shop->number], "checks");
}

static const char *word(struct json_object *check, const char *key)
{
    const char *text = json_object_get_string(json_object_object_get(check, key));
    return text != NULL ? text : "";
}

/* Those of one status. */
static void print_lines(const struct answers *answers, const struct counter *shop,
                        const char *status, size_t shop_columns, FILE *out)
{
    struct json_object *checks = checks_of(answers, shop);
    for (size_t i = 0; i < json_object_array_length(checks); i++) {
        struct json_object *check = json_object_array_get_idx(checks, i);
        if (strcmp(word(check, "status"), status) != 0) {
            continue;
        }
        if (shop->shop != NULL) {
            (void)fprintf(out, "%s%*s", shop->shop, (int)(shop_columns - width_of(shop->shop)), "");
        }
        const char *modem = word(check, "modem");
        (void)fprintf(out, "%-9s  %-8s  %s%s%s\n", status, word(check, "name"), modem,
                      modem[0] != '\0' ? ": " : "", word(check, "says"));
        if (word(check, "do")[0] != '\0') {
            (void)fprintf(out, "%*s-> %s\n", (int)shop_columns + SAYS_COLUMN, "",
                          word(check, "do"));
        }
    }
}

/* Worst first. What was written for no screen in particular is folded for this one. */
static int print_screen(struct counter *counter, const struct answers *answers)
{
    struct screen screen = screen_of(counter->out);
    char *text = NULL;
    size_t length = 0, shop_columns = 0;
    struct counter *shop;
    for (shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        size_t columns = shop->shop != NULL ? width_of(shop->shop) + 2 : 0;
        shop_columns = columns > shop_columns ? columns : shop_columns;
    }
    FILE *whole = open_memstream(&text, &length);
    for (int status = HEALTH_CANNOT_TELL; status >= HEALTH_OK && whole != NULL; status--) {
        for (shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
            print_lines(answers, shop, health_status_words[status], shop_columns, whole);
        }
    }
    bool written = whole != NULL && fclose(whole) == 0;
    if (written) {
        screen_print_folded(&screen, text, shop_columns + SAYS_COLUMN, counter->out);
    } else {
        (void)fprintf(counter->err, "meterpost: memory is short\n");
    }
    free(text);
    return written ? EX_OK : HEALTH_CANNOT_TELL;
}

static int print_json(struct counter *counter, const struct answers *answers)
{
    struct json_object *whole = json_object_new_object(), *all = json_object_new_array();
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        struct json_object *checks = checks_of(answers, shop);
        json_add_text(counter_head(shop, whole), "status",
                      word(answers->shops[shop->number], "status"));
        for (size_t i = 0; i < json_object_array_length(checks); i++) {
            struct json_object *check = json_object_array_get_idx(checks, i);
            json_add_text(check, "shop", shop->shop);
            (void)json_object_array_add(all, json_object_get(check));
        }
    }
    json_add_text(whole, "status", health_status_words[answers->worst]);
    json_add(whole, "checks", all);
    return counter_write(counter, whole) == EX_OK ? EX_OK : HEALTH_CANNOT_TELL;
}

/* The figures go to the file that is named, whole or not at all, else to the screen. */
static int put_metrics(struct counter *counter)
{
    static struct counter_answer answer;
    char says[PAGE_FILE_SAYS_OCTETS];
    int status = ask(counter, HEALTH_FORM_METRICS, &answer);
    size_t length = strlen(answer.answer);
    if (status != EX_OK) {
        return status;
    }
    if (counter->options->word_count == 0) {
        (void)fwrite(answer.answer, 1, length, counter->out);
    } else if (!page_file_write(counter->options->words[0], METRICS_BEGIN, answer.answer, length,
                                says)) {
        (void)fprintf(counter->err, "meterpost: %s\n", says);
        return HEALTH_CANNOT_TELL;
    }
    return answer.status;
}

int health_verb(struct counter *counter)
{
    const struct options *options = counter->options;
    struct answers answers = {.worst = HEALTH_OK};
    int status = EX_OK;
    if (options->word_count > options->metrics || (options->metrics && options->json)) {
        (void)fprintf(counter->err, "meterpost: health takes --json, or --metrics and a file\n");
        return HEALTH_CANNOT_TELL;
    }
    if (options->metrics && counter->next != NULL) {
        (void)fprintf(counter->err, "meterpost: health --metrics is for one shop, with a file for "
                                    "each; name one -c\n");
        return HEALTH_CANNOT_TELL;
    }
    if (options->metrics) {
        return put_metrics(counter);
    }
    if (counter_each(counter, look, &answers)) {
        status = options->json ? print_json(counter, &answers) : print_screen(counter, &answers);
    }
    for (size_t i = 0; i < OPTIONS_CONFIGS_MAX; i++) {
        (void)json_object_put(answers.shops[i]);
    }
    return status != EX_OK ? status : (int)answers.worst;
}
