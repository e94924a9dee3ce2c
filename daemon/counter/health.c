/* SPDX-License-Identifier: MIT
 * health: see answers.h. The figures of when to worry are common practice, no source. */
#include <inttypes.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/statvfs.h>
#include <sysexits.h>

#include "daemon/counter/answers.h"
#include "daemon/counter/backup.h"
#include "daemon/counter/metrics.h"
#include "daemon/counter/output.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/alerts.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/texts.h"
#include "daemon/modem/cause.h"
#include "daemon/modem/watch.h"
#include "daemon/upkeep/clock_judge.h"

#define DAY_S 86400
#define HOUR_S 3600
#define SPAN_OCTETS 32
/* A clock that is off by more does not know the shop's hours. */
#define CLOCK_OFF_S 600
#define WEAK_SIGNAL_DBM (-105)
#define QUEUE_OLD_S 900      /* a part goes in seconds, a summary to all of a shop in minutes */
#define SENDS_FAILED_FAULT 3 /* in a row */
#define ALERTS_LOOKED_AT 64
#define ALERTS_OLD_S (14 * DAY_S)             /* longer than the shop is ever closed */
#define BACKUP_OLD_S (2 * DAY_S + 6 * HOUR_S) /* two nights were missed */
#define COPY_OLD_S BACKUP_OLD_S
#define DISK_LOW_MIB 100
#define DISK_FULL_MIB 10

__attribute__((format(printf, 3, 4))) static void
found(struct health_check *check, enum health_status status, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    check->status = status;
    (void)vsnprintf(check->says, sizeof check->says, format, arguments);
    va_end(arguments);
}

static void advise(struct health_check *check, const char *advice)
{
    (void)snprintf(check->advice, sizeof check->advice, "%s", advice);
}

static const char *moment(int64_t unix_s, char room[ZONE_TEXT_OCTETS])
{
    if (unix_s == 0) {
        return "never";
    }
    zone_write_rfc3339(unix_s, room, ZONE_TEXT_OCTETS);
    return room;
}

/* Of the modem that is looked at. */
static const struct link_health *link_of(const struct health_facts *facts)
{
    return facts->links[facts->modem];
}

/* Of what is done each night, it and the texts, two nights were missed: its age, or that of the copying. */
static void check_copy(const struct health_facts *facts, struct health_check *check)
{
    char room[ZONE_TEXT_OCTETS];
    int64_t last_s = 0, day = 0;
    (void)dates_latest(facts->ledger, &last_s);
    (void)marks_get(facts->ledger, MARKS_ROUND_DAY, &day);
    int64_t round_s = day > 0 ? zone_unix((int32_t)day, 0) : 0;
    last_s = round_s > last_s ? round_s : last_s;
    bool old = facts->now_s - last_s > COPY_OLD_S;
    found(check, old ? HEALTH_ATTENTION : HEALTH_OK,
          "none is asked: %.160s is a copy, its last entry of %s", facts->settings->ledger,
          moment(last_s, room));
    advise(check,
           old ? "see whether the ledger is still copied, and health on its own box; where no "
                 "copy is meant, start the daemon"
               : "");
}

static void check_daemon(const struct health_facts *facts, struct health_check *check)
{
    if (facts->links[0] != NULL) {
        found(check, HEALTH_OK, "running");
        return;
    }
    if (facts->copied) {
        check_copy(facts, check);
        return;
    }
    found(check, HEALTH_FAULT, "no daemon answers at %s", facts->settings->door);
    advise(check, "start it and read its log (systemctl start meterpost, journalctl -u meterpost; "
                  "without a service meterpost run -c FILE, which logs to the terminal)");
}

static void check_modem(const struct health_facts *facts, struct health_check *check)
{
    char room[ZONE_TEXT_OCTETS];
    const struct link_health *link = link_of(facts);
    switch (link->state) {
    case LINK_STATE_READY:
        found(check, link->no_centre ? HEALTH_FAULT : HEALTH_OK, "%s %s, last heard %s",
              link->maker, link->model, moment(link->last_heard_s, room));
        if (!link->no_centre) {
            return;
        }
        break;
    case LINK_STATE_SETUP:
        /* Once something was wrong with it, it stays so until it is ready. */
        found(check, link->says[0] != '\0' ? HEALTH_FAULT : HEALTH_ATTENTION,
              "being set up, last heard %s", moment(link->last_heard_s, room));
        break;
    case LINK_STATE_CLOSED:
        found(check, HEALTH_FAULT, "the port %s is not open, last heard %s",
              facts->settings->modems[facts->modem].port, moment(link->last_heard_s, room));
        break;
    case LINK_STATE_FAULT:
        found(check, HEALTH_FAULT, "needs a person");
        break;
    }
    if (link->says[0] == '\0') {
        advise(check, "see the log; is the modem plugged in and its port named in the config?");
        return;
    }
    /* "what is wrong; what to do": link keeps both in one line. */
    size_t length = strcspn(link->says, ";");
    const char *advice = &link->says[length];
    found(check, check->status, "%.*s", (int)length, link->says);
    advise(check, &advice[strspn(advice, "; ")]);
}

static void check_network(const struct health_facts *facts, struct health_check *check)
{
    const struct link_health *link = link_of(facts);
    const struct watch_registration *now = watch_registration(link->registration);
    found(check,
          now->texts                ? HEALTH_OK
          : link->registration == 2 ? HEALTH_ATTENTION /* it may find one */
                                    : HEALTH_FAULT,
          "%s%s%s", now->says, link->network[0] != '\0' ? ", " : "", link->network);
    advise(check, now->advice);
}

static void check_signal(const struct health_facts *facts, struct health_check *check)
{
    int32_t dbm = link_of(facts)->signal_dbm;
    if (dbm == 0) {
        found(check, HEALTH_OK, "not said by the modem");
    } else if (dbm <= WEAK_SIGNAL_DBM) {
        found(check, HEALTH_ATTENTION, "%" PRId32 " dBm is weak", dbm);
        advise(check, "move the antenna to a window or higher up");
    } else {
        found(check, HEALTH_OK, "%" PRId32 " dBm", dbm);
    }
}

static void check_storage(const struct health_facts *facts, struct health_check *check)
{
    const struct link_health *link = link_of(facts);
    int32_t used = link->storage_used, total = link->storage_total;
    if (used < 0 || total <= 0) {
        found(check, HEALTH_OK, "not said by the modem");
    } else if (used >= total) {
        found(check, HEALTH_FAULT, "the modem's store is full: %" PRId32 " of %" PRId32, used,
              total);
        advise(check, "it should be emptied within minutes; if not, see the log: the ledger "
                      "cannot take texts");
    } else if (link->uncleared > 0) {
        found(check, HEALTH_ATTENTION,
              "%" PRId32 " of %" PRId32 " places taken; a text that is on record cannot be deleted",
              used, total);
        advise(check, "nothing is lost, but the place stays taken: delete it in a phone, or use "
                      "another SIM, if more of them come");
    } else {
        found(check, HEALTH_OK, "%" PRId32 " of %" PRId32 " places taken", used, total);
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
    found(check, contract || failed >= SENDS_FAILED_FAULT ? HEALTH_FAULT : HEALTH_ATTENTION,
          "%d %s; %s: %s", texts->waiting, texts->waiting == 1 ? "part waits" : "parts wait",
          failed == 1 ? "the last try to send failed" : "the last tries to send failed",
          cause_write(cause, words));
    advise(check, advice_on(cause));
}

static void check_queue(const struct health_facts *facts, struct health_check *check)
{
    const struct texts_summary *texts = &facts->texts;
    char room[ZONE_TEXT_OCTETS];
    int64_t waits_s = facts->now_s - texts->oldest_waiting_s;
    const char *parts = texts->waiting == 1 ? "part waits" : "parts wait";
    if (texts->waiting == 0) {
        found(check, HEALTH_OK, "nothing waits to be sent");
        return;
    }
    if (facts->links[0] != NULL && best_sender(facts)->sends_failed > 0) {
        check_sends(facts, check);
        return;
    }
    if (waits_s < 0 && texts->capped > 0) {
        found(
            check, HEALTH_OK,
            "%d %s, %d of them for a cap (texts_per_hour, texts_per_day or texts_per_number); the "
            "first is looked at again at %s",
            texts->waiting, parts, texts->capped, moment(texts->oldest_waiting_s, room));
        return;
    }
    if (waits_s < 0) {
        found(check, HEALTH_OK, "%d %s for the shop's hours, the first until %s", texts->waiting,
              parts, moment(texts->oldest_waiting_s, room));
        return;
    }
    found(check,
          waits_s > DAY_S         ? HEALTH_FAULT
          : waits_s > QUEUE_OLD_S ? HEALTH_ATTENTION
                                  : HEALTH_OK,
          "%d %s, the oldest since %s", texts->waiting, parts,
          moment(texts->oldest_waiting_s, room));
    advise(check, check->status == HEALTH_OK
                      ? ""
                      : "see modem and network; where both are well, the log says what keeps it "
                        "(journalctl -u meterpost); tell the shop by another way what is urgent "
                        "(meterpost due)");
}

static void check_texts(const struct health_facts *facts, struct health_check *check)
{
    const struct texts_summary *texts = &facts->texts;
    char in[ZONE_TEXT_OCTETS], out[ZONE_TEXT_OCTETS];
    char why[CAUSE_SAYS_OCTETS] = "";
    if (texts->failed_cause >= CAUSE_NONE) {
        (void)cause_write((int32_t)texts->failed_cause, why);
    }
    if (texts->failed_since > 0 || texts->unknown_since > 0 || texts->unread_since > 0) {
        found(check, HEALTH_ATTENTION,
              "last in %s, last out %s; in the last day %d not sent or not delivered%s%s%s, %d "
              "perhaps "
              "not gone out, %d not readable",
              moment(texts->last_in_s, in), moment(texts->last_out_s, out), texts->failed_since,
              why[0] != '\0' ? " (" : "", why, why[0] != '\0' ? ")" : "", texts->unknown_since,
              texts->unread_since);
        advise(check, "meterpost texts lists them");
        return;
    }
    found(check, HEALTH_OK, "last in %s, last out %s", moment(texts->last_in_s, in),
          moment(texts->last_out_s, out));
}

static void check_disk(const struct health_facts *facts, struct health_check *check)
{
    char folder[SETTINGS_PATH_OCTETS];
    struct statvfs disk;
    const char *ledger = facts->settings->ledger, *slash = strrchr(ledger, '/');
    (void)snprintf(folder, sizeof folder, "%.*s", slash != NULL ? (int)(slash - ledger) + 1 : 1,
                   slash != NULL ? ledger : ".");
    if (statvfs(folder, &disk) != 0) {
        found(check, HEALTH_FAULT, "the ledger's folder %s cannot be looked at", folder);
        advise(check, "make the folder, writable for the daemon's user");
        return;
    }
    uint64_t free_mib = (uint64_t)disk.f_bavail * disk.f_frsize / 1048576;
    bool read_only = (disk.f_flag & ST_RDONLY) != 0;
    found(check,
          read_only || free_mib < DISK_FULL_MIB ? HEALTH_FAULT
          : free_mib < DISK_LOW_MIB             ? HEALTH_ATTENTION
                                                : HEALTH_OK,
          "%s%" PRIu64 " MiB free", read_only ? "read-only, " : "", free_mib);
    if (read_only) {
        advise(check, "texts stay in the modem until the file system can be written again");
    } else if (check->status != HEALTH_OK) {
        advise(check, "make room: texts stay in the modem when the ledger cannot grow");
    }
}

/* "3 days", "5 h", "20 min". */
static const char *span(int64_t seconds, char room[SPAN_OCTETS])
{
    int64_t s = seconds < 0 ? -seconds : seconds;
    if (s >= 2 * DAY_S) {
        (void)snprintf(room, SPAN_OCTETS, "%" PRId64 " days", s / DAY_S);
    } else if (s >= 2 * HOUR_S) {
        (void)snprintf(room, SPAN_OCTETS, "%" PRId64 " h", s / HOUR_S);
    } else {
        (void)snprintf(room, SPAN_OCTETS, "%" PRId64 " min", s / 60);
    }
    return room;
}

/* Copies are kept where there is a folder for them: the service has one, a yard on trial has none. */
static void check_backup(const struct health_facts *facts, struct health_check *check)
{
    struct backup_kept kept;
    char room[ZONE_TEXT_OCTETS];
    backup_look(facts->settings->ledger, &kept);
    bool old = kept.folder && facts->now_s - kept.since_s > BACKUP_OLD_S;
    if (!kept.folder) {
        found(check, HEALTH_OK,
              "no folder of copies beside the ledger; \"backup --keep 14\" makes it");
    } else if (kept.count == 0) {
        found(check, old ? HEALTH_ATTENTION : HEALTH_OK, "no copy of the ledger yet");
    } else {
        found(check, old ? HEALTH_ATTENTION : HEALTH_OK, "%d %s, the last of %s", kept.count,
              kept.count == 1 ? "copy" : "copies", moment(kept.since_s, room));
    }
    if (old) {
        advise(check, "see why the daily one is not made: systemctl status meterpost-backup.timer "
                      "meterpost-backup; by hand: sudo -u meterpost meterpost backup --keep 14");
    }
}

static void check_clock(const struct health_facts *facts, struct health_check *check)
{
    char room[SPAN_OCTETS], at[ZONE_TEXT_OCTETS];
    struct clock_facts by_ledger = {.now_s = facts->now_s};
    if (facts->clock == NULL && facts->ledger != NULL) { /* 0 where there is none */
        (void)marks_get(facts->ledger, MARKS_WITNESSED, &by_ledger.witnessed_s);
    }
    struct clock_judgement judged = clock_judge(&by_ledger);
    const struct clock_judgement *clock = facts->clock != NULL ? facts->clock : &judged;
    const char *shows = moment(facts->now_s, at);
    const char *least = clock->at_least ? "at least " : "";
    const char *why = clock_reason_says(clock->reason);
    switch (clock->verdict) {
    case CLOCK_VERDICT_TRUSTED:
        if (clock->off_s >= -CLOCK_OFF_S && clock->off_s <= CLOCK_OFF_S) {
            found(check, HEALTH_OK, "%s", shows);
            return;
        }
        found(check, HEALTH_ATTENTION, "%s, %s %s the network's time", shows,
              span(clock->off_s, room), clock->off_s < 0 ? "behind" : "ahead of");
        advise(check, "compare it with a watch: set it (timedatectl); if it is right, the network "
                      "sends a wrong zone, and nothing needs to be done");
        return;
    case CLOCK_VERDICT_UNKNOWN:
        found(check, HEALTH_ATTENTION, "%s: %s", shows, why);
        advise(check,
               "look whether it is right (timedatectl) and have somebody of the roster text: "
               "until then nothing that goes by dates is told");
        return;
    case CLOCK_VERDICT_BEHIND:
    case CLOCK_VERDICT_AHEAD:
        break;
    }
    found(check, HEALTH_FAULT, "%s, %s%s %s: %s", shows, least, span(clock->off_s, room),
          clock->verdict == CLOCK_VERDICT_BEHIND ? "behind" : "ahead", why);
    advise(check, "set it (timedatectl set-time, or a time server): until then nothing is dated by "
                  "it and nothing that goes by dates is told");
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

static void check_people(const struct health_facts *facts, struct health_check *check)
{
    int shop, reachable;
    count_shop(facts, &shop, &reachable);
    if (shop == 0) {
        found(check, HEALTH_FAULT,
              "nobody on the roster has the role \"shop\": no one gets alerts");
        advise(check, "give a person of the config role = \"shop\" and reload (systemctl reload "
                      "meterpost)");
    } else if (reachable == 0) {
        found(check, HEALTH_FAULT, "no one of the shop gets alerts: STOP is in force for all %d",
              shop);
        advise(check, "text START from the person's phone, or add a person with role \"shop\"");
    } else {
        char stopped[32] = "";
        if (reachable < shop) {
            (void)snprintf(stopped, sizeof stopped, "; %d said STOP", shop - reachable);
        }
        found(check, HEALTH_OK, "alerts go to %d %s of the shop%s", reachable,
              reachable == 1 ? "person" : "people", stopped);
    }
}

/* Alerts raised and not yet put into a text: they wait for the shop's hours, or for a receiver. */
static void check_alerts(const struct health_facts *facts, struct health_check *check)
{
    const struct texts_summary *texts = &facts->texts;
    struct alert_row rows[ALERTS_LOOKED_AT];
    char room[ZONE_TEXT_OCTETS];
    int shop, reachable;
    size_t count = 0;
    if (alerts_untold(facts->ledger, ALERTS_LOOKED_AT, rows, &count) != LEDGER_OK) {
        found(check, HEALTH_FAULT, "%s", ledger_says(facts->ledger));
        advise(check, "put that right: texts stay in the modem until then");
        return;
    }
    count_shop(facts, &shop, &reachable);
    if (texts->alerts_lost > 0) {
        found(check, HEALTH_FAULT, "an alert of %s reached nobody",
              moment(texts->alert_lost_s, room));
        advise(check,
               "tell the shop by another way now (meterpost due); meterpost texts says why "
               "it was not sent: is the number right, is there a second person of the shop?");
        return;
    }
    if (count == 0) {
        found(check, HEALTH_OK, "none waits to be told");
        return;
    }
    found(check, reachable == 0 ? HEALTH_FAULT : HEALTH_OK, "%s%zu wait%s since %s for %s",
          count == ALERTS_LOOKED_AT ? "at least " : "", count, count == 1 ? "s" : "",
          moment(rows[0].raised_s, room),
          reachable == 0 ? "somebody of the shop who may be texted" : "the shop's hours");
    if (reachable == 0) {
        advise(check, "tell the shop by another way now (meterpost due); they go out once one of "
                      "the shop texts START or is added");
    } else if (facts->now_s - rows[0].raised_s > ALERTS_OLD_S) {
        check->status = HEALTH_ATTENTION;
        advise(check, "look at the shop's hours, workdays and holidays in the config");
    }
}

/* It cannot be read; or it can be read, not written. */
static void check_ledger(const struct health_facts *facts, struct health_check *check)
{
    found(check, HEALTH_FAULT, "%s", facts->ledger_says);
    advise(check, "put that right: texts stay in the modem until then");
}

static void check_board(const struct health_facts *facts, struct health_check *check)
{
    const char *board = facts->settings->shop.board;
    if (board[0] == '\0') {
        found(check, HEALTH_OK, "none is kept: shop.board is empty");
    } else if (facts->board_says[0] == '\0') {
        found(check, HEALTH_OK, "kept at %.256s", board);
    } else {
        found(check, HEALTH_ATTENTION, "%s", facts->board_says);
        advise(check, "put that right, or name another place in shop.board; it is tried again "
                      "every ten minutes");
    }
}

/* What a check has to go by: it is left out where that is not there. */
enum check_needs {
    NEEDS_NOTHING,
    NEEDS_LINK,  /* once a modem */
    NEEDS_MODEM, /* likewise, that is ready */
    NEEDS_BOX,   /* on which the ledger is at work: it is no copy */
    NEEDS_LEDGER,
    NEEDS_LEDGER_ON_BOX,
    NEEDS_LEDGER_FAULT,
    NEEDS_KEEPER
};

/* Every check, in the order in which they are told. */
static const struct {
    const char *name;
    enum check_needs needs;
    void (*look)(const struct health_facts *facts, struct health_check *check);
} checks_known[] = {
    {"daemon", NEEDS_NOTHING, check_daemon}, {"modem", NEEDS_LINK, check_modem},
    {"network", NEEDS_MODEM, check_network}, {"signal", NEEDS_MODEM, check_signal},
    {"storage", NEEDS_MODEM, check_storage}, {"queue", NEEDS_LEDGER_ON_BOX, check_queue},
    {"texts", NEEDS_LEDGER, check_texts},    {"people", NEEDS_LEDGER, check_people},
    {"alerts", NEEDS_LEDGER, check_alerts},  {"ledger", NEEDS_LEDGER_FAULT, check_ledger},
    {"disk", NEEDS_BOX, check_disk},         {"backup", NEEDS_BOX, check_backup},
    {"clock", NEEDS_BOX, check_clock},       {"board", NEEDS_KEEPER, check_board},
};

/* Another modem than the one that is looked at carries texts. */
static bool another_serves(const struct health_facts *facts)
{
    bool serves = false;
    for (size_t i = 0; i < facts->settings->modem_count; i++) {
        const struct link_health *link = facts->links[i];
        serves |= i != facts->modem && link != NULL && link->state == LINK_STATE_READY &&
                  !link->no_centre && watch_registration(link->registration)->texts;
    }
    return serves;
}

/* Whether there is what the check has to go by. */
static bool is_there(const struct health_facts *facts, enum check_needs needs, bool readable)
{
    const struct link_health *link = link_of(facts);
    const bool there[] = {
        [NEEDS_NOTHING] = true,
        [NEEDS_LINK] = link != NULL,
        [NEEDS_MODEM] = link != NULL && link->state == LINK_STATE_READY,
        [NEEDS_BOX] = !facts->copied,
        [NEEDS_LEDGER] = readable,
        [NEEDS_LEDGER_ON_BOX] = readable && !facts->copied,
        [NEEDS_KEEPER] = facts->board_says != NULL,
        [NEEDS_LEDGER_FAULT] = !readable || facts->ledger_says[0] != '\0',
    };
    return there[needs];
}

size_t health_checks_run(const struct health_facts *facts,
                         struct health_check checks[HEALTH_CHECKS_MAX])
{
    struct health_facts all = *facts;
    size_t count = 0, modems = facts->settings->modem_count;
    bool readable = facts->ledger != NULL &&
                    texts_summarise(facts->ledger, facts->now_s - DAY_S, &all.texts) == LEDGER_OK;
    if (facts->ledger != NULL) {
        all.ledger_says = readable ? ledger_trouble(facts->ledger) : ledger_says(facts->ledger);
    }
    for (size_t i = 0; i < sizeof checks_known / sizeof checks_known[0]; i++) {
        enum check_needs needs = checks_known[i].needs;
        bool of_modem = (needs == NEEDS_LINK || needs == NEEDS_MODEM) && modems > 1;
        for (all.modem = 0; all.modem < (of_modem ? modems : 1); all.modem++) {
            struct health_check *check = &checks[count];
            if (!is_there(&all, needs, readable)) {
                continue;
            }
            *check = (struct health_check){
                .name = checks_known[i].name,
                .modem = of_modem ? facts->settings->modems[all.modem].name : NULL};
            checks_known[i].look(&all, check);
            if (of_modem && check->status == HEALTH_FAULT && another_serves(&all)) {
                check->status = HEALTH_ATTENTION;
            }
            count++;
        }
    }
    return count;
}

const char *const health_status_words[HEALTH_STATUS_COUNT] = {[HEALTH_OK] = "ok",
                                                              [HEALTH_ATTENTION] = "attention",
                                                              [HEALTH_FAULT] = "fault",
                                                              [HEALTH_CANNOT_TELL] = "cannot tell"};

#define AT(field) offsetof(struct health_check, field)
static const struct column check_list[] = {
    {NULL, "name", COLUMN_TEXT, .at = AT(name)},
    {NULL, "modem", COLUMN_TEXT, .at = AT(modem)},
    {NULL, "status", COLUMN_WORD, .at = AT(status), .words = health_status_words},
    {NULL, "says", COLUMN_CHARS, .at = AT(says), .when = COLUMN_EVEN_EMPTY},
    {NULL, "do", COLUMN_CHARS, .at = AT(advice)},
};
#undef AT
static const struct columns check_columns = {COLUMNS(check_list), false};

enum health_status health_report(const struct health_facts *facts, const char *form, FILE *out)
{
    struct health_check checks[HEALTH_CHECKS_MAX];
    size_t count = health_checks_run(facts, checks);
    enum health_status worst = HEALTH_OK;
    struct table *list = table_new(&check_columns, TABLE_JSON, NULL);
    for (size_t i = 0; i < count; i++) {
        worst = checks[i].status > worst ? checks[i].status : worst;
        table_add(list, &checks[i], TABLE_PLAIN);
    }
    if (strcmp(form, HEALTH_FORM_METRICS) == 0) {
        metrics_write(facts, checks, count, out);
    } else {
        struct json_object *whole = json_object_new_object();
        json_add_text(whole, "status", health_status_words[worst]);
        json_add(whole, "checks", table_json(list));
        worst = json_write(whole, out) == 0 ? worst : HEALTH_CANNOT_TELL;
    }
    table_free(list);
    return worst;
}
