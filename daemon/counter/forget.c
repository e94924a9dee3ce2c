/* SPDX-License-Identifier: MIT
 * forget: takes a person, or a number that is nobody's, out of the ledger; hours and services stay. Asked at
 * the daemon's door where one runs. */
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/answers.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/log.h"
#include "daemon/ledger/erasure.h"
#include "parsers/phone.h"

#define WHO_OCTETS 64

static bool on_roster(void *ctx, const char *phone)
{
    return settings_find_phone(ctx, phone) >= 0;
}

static void report(const struct erasure *forgotten, const char *who, FILE *out)
{
    (void)fprintf(out, "%s is forgotten. Texts in: %lld, texts out: %lld, remarks: %lld.\n", who,
                  (long long)forgotten->texts_in, (long long)forgotten->texts_out,
                  (long long)forgotten->remarks);
    if (forgotten->called[0] != '\0') {
        (void)fprintf(out, "Hours and services stay, said by %s.\n", forgotten->called);
    }
    (void)fprintf(out,
                  "Backups and exports made before, logs of run --debug and what others texted "
                  "of the person hold what they held: remove or look through them.\n");
    if (!forgotten->wiped) {
        (void)fprintf(out, "The room it had could not be overwritten: another program reads the "
                           "ledger, or the disk is full. Ask again later.\n");
    }
}

int forget_at_ledger(struct ledger *ledger, const struct settings *settings, const char *who,
                     FILE *out)
{
    char phone[PHONE_OCTETS], shown[4 * WHO_OCTETS];
    struct erasure forgotten = {0};
    bool number = phone_normalise(who, strlen(who), settings->shop.country, phone) == PHONE_OK;
    (void)log_text(who, strlen(who), shown, sizeof shown);
    if (number ? settings_find_phone(settings, phone) >= 0
               : settings_find_person(settings, who) >= 0) {
        (void)fprintf(out,
                      "meterpost: %s is on the roster; take the person out of the config and "
                      "reload (systemctl reload meterpost), then forget\n",
                      shown);
        return EX_USAGE;
    }
    enum ledger_result result =
        number ? erasure_number(ledger, phone, &forgotten)
               : erasure_person(ledger, who, on_roster, (void *)settings, &forgotten);
    if (result == LEDGER_NONE) {
        (void)fprintf(out,
                      "meterpost: the ledger knows nobody called %s; meterpost texts shows "
                      "names and numbers\n",
                      shown);
        return EX_USAGE;
    }
    if (result != LEDGER_OK) {
        (void)fprintf(out, "meterpost: %s\n", ledger_says(ledger));
        return ledger_exit_status(result);
    }
    report(&forgotten, shown, out);
    return EX_OK;
}

int forget_verb(struct counter *counter)
{
    static struct counter_answer answer;
    const char *words[] = {"forget",
                           counter->options->word_count > 0 ? counter->options->words[0] : ""};
    if (counter->options->word_count != 1 || strlen(words[1]) >= WHO_OCTETS) {
        (void)fprintf(counter->err,
                      "meterpost: say whom: meterpost forget Tom; also by a number: meterpost "
                      "forget +12065550112\n");
        return EX_USAGE;
    }
    int status = counter_ask_daemon(counter, 2, words,
                                    "; look whether it was done: meterpost texts", &answer);
    if (status == EX_OK) {
        return counter_pass_on(counter, &answer);
    }
    if (status == COUNTER_ALONE) {
        status = counter_open_ledger(counter, LEDGER_WRITE);
        return status != EX_OK
                   ? status
                   : forget_at_ledger(counter->ledger, counter->settings, words[1], counter->out);
    }
    return status;
}
