/* SPDX-License-Identifier: MIT
 * health: see answers.h. The list of all checks, and those of the box: daemon, ledger, disk, copies, clock,
 * board; those of the texts are carriage's. The figures of when to worry are common practice, no source. */
#include <inttypes.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/statvfs.h>
#include <sysexits.h>

#include "daemon/counter/answers.h"
#include "daemon/counter/backup.h"
#include "daemon/counter/health_inside.h"
#include "daemon/counter/metrics.h"
#include "daemon/counter/output.h"
#include "daemon/ground/zone.h"
#include "daemon/ledger/marks.h"
#include "daemon/ledger/texts.h"
#include "daemon/modem/watch.h"
#include "daemon/upkeep/clock_judge.h"

#define HOUR_S 3600
#define SPAN_OCTETS 32
/* A clock that is off by more does not know the shop's hours. */
#define CLOCK_OFF_S 600
#define BACKUP_OLD_S (2 * DAY_S + 6 * HOUR_S) /* two nights were missed */
#define COPY_OLD_S BACKUP_OLD_S
#define DISK_LOW_MIB 100
#define DISK_FULL_MIB 10

void health_found(struct health_check *check, enum health_status status, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    check->status = status;
    (void)vsnprintf(check->says, sizeof check->says, format, arguments);
    va_end(arguments);
}

void health_advise(struct health_check *check, const char *advice)
{
    (void)snprintf(check->advice, sizeof check->advice, "%s", advice);
}

const char *health_moment(int64_t unix_s, char room[ZONE_TEXT_OCTETS])
{
    if (unix_s == 0) {
        return "never";
    }
    zone_write_rfc3339(unix_s, room, ZONE_TEXT_OCTETS);
    return room;
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
    health_found(check, old ? HEALTH_ATTENTION : HEALTH_OK,
                 "none is asked: %.160s is a copy, its last entry of %s", facts->settings->ledger,
                 health_moment(last_s, room));
    health_advise(
        check, old ? "see whether the ledger is still copied, and health on its own box; where no "
                     "copy is meant, start the daemon"
                   : "");
}

static void check_daemon(const struct health_facts *facts, struct health_check *check)
{
    if (facts->links[0] != NULL) {
        health_found(check, HEALTH_OK, "running");
        return;
    }
    if (facts->copied) {
        check_copy(facts, check);
        return;
    }
    health_found(check, HEALTH_FAULT, "no daemon answers at %s", facts->settings->door);
    health_advise(check,
                  "start it and read its log (systemctl start meterpost, journalctl -u meterpost; "
                  "without a service meterpost run -c FILE, which logs to the terminal)");
}

static void check_disk(const struct health_facts *facts, struct health_check *check)
{
    char folder[SETTINGS_PATH_OCTETS];
    struct statvfs disk;
    const char *ledger = facts->settings->ledger, *slash = strrchr(ledger, '/');
    (void)snprintf(folder, sizeof folder, "%.*s", slash != NULL ? (int)(slash - ledger) + 1 : 1,
                   slash != NULL ? ledger : ".");
    if (statvfs(folder, &disk) != 0) {
        health_found(check, HEALTH_FAULT, "the ledger's folder %s cannot be looked at", folder);
        health_advise(check, "make the folder, writable for the daemon's user");
        return;
    }
    uint64_t free_mib = (uint64_t)disk.f_bavail * disk.f_frsize / 1048576;
    bool read_only = (disk.f_flag & ST_RDONLY) != 0;
    health_found(check,
                 read_only || free_mib < DISK_FULL_MIB ? HEALTH_FAULT
                 : free_mib < DISK_LOW_MIB             ? HEALTH_ATTENTION
                                                       : HEALTH_OK,
                 "%s%" PRIu64 " MiB free", read_only ? "read-only, " : "", free_mib);
    if (read_only) {
        health_advise(check, "texts stay in the modem until the file system can be written again");
    } else if (check->status != HEALTH_OK) {
        health_advise(check, "make room: texts stay in the modem when the ledger cannot grow");
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
        health_found(check, HEALTH_OK,
                     "no folder of copies beside the ledger; \"backup --keep 14\" makes it");
    } else if (kept.count == 0) {
        health_found(check, old ? HEALTH_ATTENTION : HEALTH_OK, "no copy of the ledger yet");
    } else {
        health_found(check, old ? HEALTH_ATTENTION : HEALTH_OK, "%d %s, the last of %s", kept.count,
                     kept.count == 1 ? "copy" : "copies", health_moment(kept.since_s, room));
    }
    if (old) {
        health_advise(check,
                      "see why the daily one is not made: systemctl status meterpost-backup.timer "
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
    const char *shows = health_moment(facts->now_s, at);
    const char *least = clock->at_least ? "at least " : "";
    const char *why = clock_reason_says(clock->reason);
    switch (clock->verdict) {
    case CLOCK_VERDICT_TRUSTED:
        if (clock->off_s >= -CLOCK_OFF_S && clock->off_s <= CLOCK_OFF_S) {
            health_found(check, HEALTH_OK, "%s", shows);
            return;
        }
        health_found(check, HEALTH_ATTENTION, "%s, %s %s the network's time", shows,
                     span(clock->off_s, room), clock->off_s < 0 ? "behind" : "ahead of");
        health_advise(check,
                      "compare it with a watch: set it (timedatectl); if it is right, the network "
                      "sends a wrong zone, and nothing needs to be done");
        return;
    case CLOCK_VERDICT_UNKNOWN:
        health_found(check, HEALTH_ATTENTION, "%s: %s", shows, why);
        health_advise(
            check, "look whether it is right (timedatectl) and have somebody of the roster text: "
                   "until then nothing that goes by dates is told");
        return;
    case CLOCK_VERDICT_BEHIND:
    case CLOCK_VERDICT_AHEAD:
        break;
    }
    health_found(check, HEALTH_FAULT, "%s, %s%s %s: %s", shows, least, span(clock->off_s, room),
                 clock->verdict == CLOCK_VERDICT_BEHIND ? "behind" : "ahead", why);
    health_advise(check,
                  "set it (timedatectl set-time, or a time server): until then nothing is dated by "
                  "it and nothing that goes by dates is told");
}

/* It cannot be read; or it can be read, not written. */
static void check_ledger(const struct health_facts *facts, struct health_check *check)
{
    health_found(check, HEALTH_FAULT, "%s", facts->ledger_says);
    health_advise(check, "put that right: texts stay in the modem until then");
}

static void check_board(const struct health_facts *facts, struct health_check *check)
{
    const char *board = facts->settings->shop.board;
    if (board[0] == '\0') {
        health_found(check, HEALTH_OK, "none is kept: shop.board is empty");
    } else if (facts->board_says[0] == '\0') {
        health_found(check, HEALTH_OK, "kept at %.256s", board);
    } else {
        health_found(check, HEALTH_ATTENTION, "%s", facts->board_says);
        health_advise(check,
                      "put that right, or name another place in shop.board; it is tried again "
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
    {"daemon", NEEDS_NOTHING, check_daemon},
    {"modem", NEEDS_LINK, carriage_modem},
    {"network", NEEDS_MODEM, carriage_network},
    {"signal", NEEDS_MODEM, carriage_signal},
    {"storage", NEEDS_MODEM, carriage_storage},
    {"queue", NEEDS_LEDGER_ON_BOX, carriage_queue},
    {"texts", NEEDS_LEDGER, carriage_texts},
    {"people", NEEDS_LEDGER, carriage_people},
    {"alerts", NEEDS_LEDGER, carriage_alerts},
    {"ledger", NEEDS_LEDGER_FAULT, check_ledger},
    {"disk", NEEDS_BOX, check_disk},
    {"backup", NEEDS_BOX, check_backup},
    {"clock", NEEDS_BOX, check_clock},
    {"board", NEEDS_KEEPER, check_board},
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
    const struct link_health *link = facts->links[facts->modem];
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
