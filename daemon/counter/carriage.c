/* SPDX-License-Identifier: MIT
 * carriage: what health has to say of the texts' way: of each modem, of what waits, of whom they reach.
 * The figures of when to worry are common practice, no source. */
#include <inttypes.h>
#include <string.h>

#include "daemon/counter/health_inside.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/people.h"
#include "daemon/modem/cause.h"
#include "daemon/modem/watch.h"

#define WEAK_SIGNAL_DBM (-105)
#define QUEUE_OLD_S 900      /* a part goes in seconds, a summary to all of a shop in minutes */
#define SENDS_FAILED_FAULT 3 /* in a row */
#define ALERTS_LOOKED_AT 64
#define ALERTS_OLD_S (14 * DAY_S) /* longer than the shop is ever closed */

/* Of the modem that is looked at. */
static const struct link_health *link_of(const struct health_facts *facts)
{
    return facts->links[facts->modem];
}

void carriage_modem(const struct health_facts *facts, struct health_check *check)
{
    char room[ZONE_TEXT_OCTETS];
    const struct link_health *link = link_of(facts);
    switch (link->state) {
    case LINK_STATE_READY:
        health_found(check, link->no_centre ? HEALTH_FAULT : HEALTH_OK, "%s %s, last heard %s",
                     link->maker, link->model, health_moment(link->last_heard_s, room));
        if (!link->no_centre) {
            return;
        }
        break;
    case LINK_STATE_SETUP:
        /* Once something was wrong with it, it stays so until it is ready. */
        health_found(check, link->says[0] != '\0' ? HEALTH_FAULT : HEALTH_ATTENTION,
                     "being set up, last heard %s", health_moment(link->last_heard_s, room));
        break;
    case LINK_STATE_CLOSED:
        health_found(check, HEALTH_FAULT, "the port %s is not open, last heard %s",
                     facts->settings->modems[facts->modem].port,
                     health_moment(link->last_heard_s, room));
        break;
    case LINK_STATE_FAULT:
        health_found(check, HEALTH_FAULT, "needs a person");
        break;
    }
    if (link->says[0] == '\0') {
        health_advise(check,
                      "see the log; is the modem plugged in and its port named in the config?");
        return;
    }
    /* "what is wrong; what to do": link keeps both in one line. */
    size_t length = strcspn(link->says, ";");
    const char *advice = &link->says[length];
    health_found(check, check->status, "%.*s", (int)length, link->says);
    health_advise(check, &advice[strspn(advice, "; ")]);
}

void carriage_network(const struct health_facts *facts, struct health_check *check)
{
    const struct link_health *link = link_of(facts);
    const struct watch_registration *now = watch_registration(link->registration);
    health_found(check,
                 now->texts                ? HEALTH_OK
                 : link->registration == 2 ? HEALTH_ATTENTION /* it may find one */
                                           : HEALTH_FAULT,
                 "%s%s%s", now->says, link->network[0] != '\0' ? ", " : "", link->network);
    health_advise(check, now->advice);
}

void carriage_signal(const struct health_facts *facts, struct health_check *check)
{
    int32_t dbm = link_of(facts)->signal_dbm;
    if (dbm == 0) {
        health_found(check, HEALTH_OK, "not said by the modem");
    } else if (dbm <= WEAK_SIGNAL_DBM) {
        health_found(check, HEALTH_ATTENTION, "%" PRId32 " dBm is weak", dbm);
        health_advise(check, "move the antenna to a window or higher up");
    } else {
        health_found(check, HEALTH_OK, "%" PRId32 " dBm", dbm);
    }
}

void carriage_storage(const struct health_facts *facts, struct health_check *check)
{
    const struct link_health *link = link_of(facts);
    int32_t used = link->storage_used, total = link->storage_total;
    if (used < 0 || total <= 0) {
        health_found(check, HEALTH_OK, "not said by the modem");
    } else if (used >= total) {
        health_found(check, HEALTH_FAULT, "the modem's store is full: %" PRId32 " of %" PRId32,
                     used, total);
        health_advise(check, "it should be emptied within minutes; if not, see the log: the ledger "
                             "cannot take texts");
    } else if (link->uncleared > 0) {
        health_found(check, HEALTH_ATTENTION,
                     "%" PRId32 " of %" PRId32
                     " places taken; a text that is on record cannot be deleted",
                     used, total);
        health_advise(check,
                      "nothing is lost, but the place stays taken: delete it in a phone, or use "
                      "another SIM, if more of them come");
    } else {
        health_found(check, HEALTH_OK, "%" PRId32 " of %" PRId32 " places taken", used, total);
    }
}

/* What to do about texts that do not go, by whom the cause concerns. */
static const char *advice_on(int32_t number)
{
    if (number == 330) {
        return "ask the network's operator for the number of its service centre and put it into "
               "the config, as the modem's service_centre";
    }
    return cause_of(number)->scope == CAUSE_SCOPE_CONTRACT
               ? "ask the network's operator whether this SIM may send texts, and is paid for; "
                 "meanwhile each is tried again once an hour"
               : "they are tried again by themselves; look at modem, network and signal, and tell "
                 "the shop by another way what is urgent (meterpost due)";
}

/* Of several modems the one that last sent with the fewest failures since: it shows whether texts go. */
static const struct link_health *best_sender(const struct health_facts *facts)
{
    const struct link_health *best = facts->links[0];
    for (size_t i = 1; i < facts->settings->modem_count; i++) {
        const struct link_health *link = facts->links[i];
        best = link != NULL && link->sends_failed < best->sends_failed ? link : best;
    }
    return best;
}

/* The last tries to send have failed, one after the other. */
static void check_sends(const struct health_facts *facts, struct health_check *check)
{
    const struct texts_summary *texts = &facts->texts;
    char words[CAUSE_SAYS_OCTETS];
    const struct link_health *link = best_sender(facts);
    int32_t failed = link->sends_failed, cause = link->sends_cause;
    bool contract = cause_of(cause)->scope == CAUSE_SCOPE_CONTRACT;
    health_found(check, contract || failed >= SENDS_FAILED_FAULT ? HEALTH_FAULT : HEALTH_ATTENTION,
                 "%d %s; %s: %s", texts->waiting, texts->waiting == 1 ? "part waits" : "parts wait",
                 failed == 1 ? "the last try to send failed" : "the last tries to send failed",
                 cause_write(cause, words));
    health_advise(check, advice_on(cause));
}

void carriage_queue(const struct health_facts *facts, struct health_check *check)
{
    const struct texts_summary *texts = &facts->texts;
    char room[ZONE_TEXT_OCTETS];
    int64_t waits_s = facts->now_s - texts->oldest_waiting_s;
    const char *parts = texts->waiting == 1 ? "part waits" : "parts wait";
    if (texts->waiting == 0) {
        health_found(check, HEALTH_OK, "nothing waits to be sent");
        return;
    }
    if (facts->links[0] != NULL && best_sender(facts)->sends_failed > 0) {
        check_sends(facts, check);
        return;
    }
    if (waits_s < 0 && texts->capped > 0) {
        health_found(
            check, HEALTH_OK,
            "%d %s, %d of them for a cap (texts_per_hour, texts_per_day or texts_per_number); the "
            "first is looked at again at %s",
            texts->waiting, parts, texts->capped, health_moment(texts->oldest_waiting_s, room));
        return;
    }
    if (waits_s < 0) {
        health_found(check, HEALTH_OK, "%d %s for the shop's hours, the first until %s",
                     texts->waiting, parts, health_moment(texts->oldest_waiting_s, room));
        return;
    }
    health_found(check,
                 waits_s > DAY_S         ? HEALTH_FAULT
                 : waits_s > QUEUE_OLD_S ? HEALTH_ATTENTION
                                         : HEALTH_OK,
                 "%d %s, the oldest since %s", texts->waiting, parts,
                 health_moment(texts->oldest_waiting_s, room));
    health_advise(check,
                  check->status == HEALTH_OK
                      ? ""
                      : "see modem and network; where both are well, the log says what keeps it "
                        "(journalctl -u meterpost); tell the shop by another way what is urgent "
                        "(meterpost due)");
}

void carriage_texts(const struct health_facts *facts, struct health_check *check)
{
    const struct texts_summary *texts = &facts->texts;
    char in[ZONE_TEXT_OCTETS], out[ZONE_TEXT_OCTETS];
    char why[CAUSE_SAYS_OCTETS] = "";
    if (texts->failed_cause >= CAUSE_NONE) {
        (void)cause_write((int32_t)texts->failed_cause, why);
    }
    if (texts->failed_since > 0 || texts->unknown_since > 0 || texts->unread_since > 0) {
        health_found(
            check, HEALTH_ATTENTION,
            "last in %s, last out %s; in the last day %d not sent or not delivered%s%s%s, %d "
            "perhaps "
            "not gone out, %d not readable",
            health_moment(texts->last_in_s, in), health_moment(texts->last_out_s, out),
            texts->failed_since, why[0] != '\0' ? " (" : "", why, why[0] != '\0' ? ")" : "",
            texts->unknown_since, texts->unread_since);
        health_advise(check, "meterpost texts lists them");
        return;
    }
    health_found(check, HEALTH_OK, "last in %s, last out %s", health_moment(texts->last_in_s, in),
                 health_moment(texts->last_out_s, out));
}

/* How many of the shop are on the roster, and how many of them are not opted out. */
static void count_shop(const struct health_facts *facts, int *shop, int *reachable)
{
    *shop = *reachable = 0;
    for (size_t i = 0; i < facts->settings->person_count; i++) {
        const struct settings_person *person = &facts->settings->people[i];
        int64_t id = 0, opted_out_s = 0;
        if (person->role != SETTINGS_ROLE_SHOP) {
            continue;
        }
        (*shop)++;
        if (people_id(facts->ledger, person->name, &id) == LEDGER_OK) {
            (void)people_opted_out(facts->ledger, id, &opted_out_s);
        }
        *reachable += opted_out_s == 0;
    }
}

void carriage_people(const struct health_facts *facts, struct health_check *check)
{
    int shop, reachable;
    count_shop(facts, &shop, &reachable);
    if (shop == 0) {
        health_found(check, HEALTH_FAULT,
                     "nobody on the roster has the role \"shop\": no one gets alerts");
        health_advise(check,
                      "give a person of the config role = \"shop\" and reload (systemctl reload "
                      "meterpost)");
    } else if (reachable == 0) {
        health_found(check, HEALTH_FAULT,
                     "no one of the shop gets alerts: STOP is in force for all %d", shop);
        health_advise(check,
                      "text START from the person's phone, or add a person with role \"shop\"");
    } else {
        char stopped[32] = "";
        if (reachable < shop) {
            (void)snprintf(stopped, sizeof stopped, "; %d said STOP", shop - reachable);
        }
        health_found(check, HEALTH_OK, "alerts go to %d %s of the shop%s", reachable,
                     reachable == 1 ? "person" : "people", stopped);
    }
}

/* Alerts raised and not yet put into a text: they wait for the shop's hours, or for a receiver. */
void carriage_alerts(const struct health_facts *facts, struct health_check *check)
{
    const struct texts_summary *texts = &facts->texts;
    struct alert_row rows[ALERTS_LOOKED_AT];
    char room[ZONE_TEXT_OCTETS];
    int shop, reachable;
    size_t count = 0;
    if (alerts_untold(facts->ledger, ALERTS_LOOKED_AT, rows, &count) != LEDGER_OK) {
        health_found(check, HEALTH_FAULT, "%s", ledger_says(facts->ledger));
        health_advise(check, "put that right: texts stay in the modem until then");
        return;
    }
    count_shop(facts, &shop, &reachable);
    if (texts->alerts_lost > 0) {
        health_found(check, HEALTH_FAULT, "an alert of %s reached nobody",
                     health_moment(texts->alert_lost_s, room));
        health_advise(
            check, "tell the shop by another way now (meterpost due); meterpost texts says why "
                   "it was not sent: is the number right, is there a second person of the shop?");
        return;
    }
    if (count == 0) {
        health_found(check, HEALTH_OK, "none waits to be told");
        return;
    }
    health_found(check, reachable == 0 ? HEALTH_FAULT : HEALTH_OK, "%s%zu wait%s since %s for %s",
                 count == ALERTS_LOOKED_AT ? "at least " : "", count, count == 1 ? "s" : "",
                 health_moment(rows[0].raised_s, room),
                 reachable == 0 ? "somebody of the shop who may be texted" : "the shop's hours");
    if (reachable == 0) {
        health_advise(check,
                      "tell the shop by another way now (meterpost due); they go out once one of "
                      "the shop texts START or is added");
    } else if (facts->now_s - rows[0].raised_s > ALERTS_OLD_S) {
        check->status = HEALTH_ATTENTION;
        health_advise(check, "look at the shop's hours, workdays and holidays in the config");
    }
}
