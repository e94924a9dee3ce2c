/* SPDX-License-Identifier: MIT
 * metrics: see metrics.h. */
#include "daemon/counter/metrics.h"

#include <inttypes.h>
#include <stdint.h>
#include <string.h>
#include <sys/statvfs.h>

#include "daemon/counter/backup.h"
#include "daemon/ground/version.h"
#include "daemon/modem/watch.h"

#define UNKNOWN INT64_MIN /* a figure that is left out */
#define DAY_S 86400

/* Every figure; UNKNOWN where there is nothing to go by. */
struct figures {
    int64_t daemon_up;
    /* one set a modem */
    int64_t modem_ready, modem_heard_s, modem_registered, signal_dbm;
    int64_t storage_used, storage_total, sends_failed;
    int64_t parts_waiting, oldest_waiting_s, last_in_s, last_out_s;
    int64_t failed, unknown, unread, alerts_lost;
    int64_t backups, last_backup_s;
    int64_t disk_free;
    int64_t clock_trusted, clock_off_s;
};

/* One line each; all are gauges. */
static const struct metric {
    const char *name, *help;
    size_t at; /* in struct figures */
    bool of_modem;
} metrics[] = {
#define AT(field) offsetof(struct figures, field), false
#define OF_MODEM(field) offsetof(struct figures, field), true
    {"daemon_up", "Whether the daemon answers.", AT(daemon_up)},
    {"modem_ready", "Whether the modem is set up and answers.", OF_MODEM(modem_ready)},
    {"modem_last_heard_timestamp_seconds", "When the modem was last heard.",
     OF_MODEM(modem_heard_s)},
    {"modem_registered", "Whether the network carries texts for the modem.",
     OF_MODEM(modem_registered)},
    {"modem_signal_dbm", "Strength of the signal.", OF_MODEM(signal_dbm)},
    {"modem_storage_used_texts", "Places taken in the modem's store.", OF_MODEM(storage_used)},
    {"modem_storage_texts", "Places in the modem's store.", OF_MODEM(storage_total)},
    {"sends_failed_in_a_row", "Tries to send that failed since one went out.",
     OF_MODEM(sends_failed)},
    {"parts_waiting", "Parts of texts that wait to be sent.", AT(parts_waiting)},
    {"parts_oldest_waiting_timestamp_seconds",
     "Since when the oldest of them waits, or the hour it is held for.", AT(oldest_waiting_s)},
    {"text_in_last_timestamp_seconds", "When the last text came in.", AT(last_in_s)},
    {"text_out_last_timestamp_seconds", "When the network last took a text.", AT(last_out_s)},
    {"texts_failed_in_a_day", "Texts of the last day not sent or not delivered.", AT(failed)},
    {"texts_uncertain_in_a_day", "Texts of the last day that have perhaps not gone out.",
     AT(unknown)},
    {"texts_unreadable_in_a_day", "Texts of the last day that could not be read.", AT(unread)},
    {"alerts_lost_in_a_week", "Tellings of alerts that reached nobody.", AT(alerts_lost)},
    {"backups", "Copies of the ledger that are kept.", AT(backups)},
    {"backup_last_timestamp_seconds", "When the last of them was made.", AT(last_backup_s)},
    {"disk_free_bytes", "Room on the disk of the ledger.", AT(disk_free)},
    {"clock_trusted", "Whether texts are dated by the clock of the box.", AT(clock_trusted)},
    {"clock_offset_seconds", "The clock of the box less the time of the network.", AT(clock_off_s)},
#undef OF_MODEM
#undef AT
};

static void head(const char *name, const char *help, FILE *out)
{
    (void)fprintf(out, "# HELP meterpost_%s %s\n# TYPE meterpost_%s gauge\n", name, help, name);
}

static int64_t moment_known(int64_t unix_s)
{
    return unix_s > 0 ? unix_s : UNKNOWN;
}

static void gather_link(const struct link_health *link, struct figures *figures)
{
    bool ready = link->state == LINK_STATE_READY;
    figures->modem_ready = ready;
    figures->modem_heard_s = moment_known(link->last_heard_s);
    figures->sends_failed = link->sends_failed;
    if (ready) {
        figures->modem_registered = watch_registration(link->registration)->texts;
        figures->signal_dbm = link->signal_dbm != 0 ? link->signal_dbm : UNKNOWN;
        figures->storage_used = link->storage_used >= 0 ? link->storage_used : UNKNOWN;
        figures->storage_total = link->storage_total > 0 ? link->storage_total : UNKNOWN;
    }
}

static void gather_texts(const struct texts_summary *texts, struct figures *figures)
{
    figures->parts_waiting = texts->waiting;
    figures->oldest_waiting_s = texts->waiting > 0 ? texts->oldest_waiting_s : UNKNOWN;
    figures->last_in_s = moment_known(texts->last_in_s);
    figures->last_out_s = moment_known(texts->last_out_s);
    figures->failed = texts->failed_since;
    figures->unknown = texts->unknown_since;
    figures->unread = texts->unread_since;
    figures->alerts_lost = texts->alerts_lost;
}

/* What a modem says of itself, and nothing else yet. */
static void begin(const struct link_health *link, struct figures *figures)
{
    int64_t *all = (int64_t *)figures;
    for (size_t i = 0; i < sizeof *figures / sizeof *all; i++) {
        all[i] = UNKNOWN;
    }
    if (link != NULL) {
        gather_link(link, figures);
    }
}

/* What there is once, however many modems. */
static void gather(const struct health_facts *facts, struct figures *figures)
{
    struct texts_summary texts;
    struct backup_kept kept;
    struct statvfs disk;
    figures->daemon_up = facts->links[0] != NULL;
    if (facts->ledger != NULL &&
        texts_summarise(facts->ledger, facts->now_s - DAY_S, &texts) == LEDGER_OK) {
        gather_texts(&texts, figures);
    }
    backup_look(facts->settings->ledger, &kept);
    figures->backups = kept.count;
    figures->last_backup_s = kept.count > 0 ? kept.since_s : UNKNOWN;
    if (statvfs(facts->settings->ledger, &disk) == 0) {
        figures->disk_free = (int64_t)((uint64_t)disk.f_bavail * disk.f_frsize);
    }
    if (facts->clock != NULL) {
        figures->clock_trusted = facts->clock->verdict == CLOCK_VERDICT_TRUSTED;
        figures->clock_off_s = facts->clock->off_s;
    }
}

/* Of several modems each has a line of its own. */
static void write_metric(const struct health_facts *facts, const struct metric *metric,
                         const struct figures *figures, FILE *out)
{
    size_t modems = facts->settings->modem_count, lines = metric->of_modem ? modems : 1;
    for (size_t i = 0, told = 0; i < lines; i++) {
        int64_t value;
        memcpy(&value, (const char *)&figures[i] + metric->at, sizeof value);
        if (value == UNKNOWN) {
            continue;
        }
        if (told++ == 0) {
            head(metric->name, metric->help, out);
        }
        (void)fprintf(out, "meterpost_%s", metric->name);
        if (lines > 1) {
            (void)fprintf(out, "{modem=\"%s\"}", facts->settings->modems[i].name);
        }
        (void)fprintf(out, " %" PRId64 "\n", value);
    }
}

void metrics_write(const struct health_facts *facts, const struct health_check *checks,
                   size_t check_count, FILE *out)
{
    struct figures figures[SETTINGS_MODEMS_MAX];
    for (size_t i = 0; i < facts->settings->modem_count; i++) {
        begin(facts->links[i], &figures[i]);
    }
    gather(facts, &figures[0]);
    head("build_info", "The version that runs.", out);
    (void)fprintf(out, "meterpost_build_info{version=\"%s\"} 1\n", VERSION_TEXT);
    head("health_status", "Each check of health: 0 ok, 1 attention, 2 fault.", out);
    for (size_t i = 0; i < check_count; i++) {
        const struct health_check *check = &checks[i];
        bool of_modem = check->modem != NULL;
        (void)fprintf(out, "meterpost_health_status{check=\"%s\"%s%s%s} %d\n", check->name,
                      of_modem ? ",modem=\"" : "", of_modem ? check->modem : "",
                      of_modem ? "\"" : "", (int)check->status);
    }
    for (size_t i = 0; i < sizeof metrics / sizeof metrics[0]; i++) {
        write_metric(facts, &metrics[i], figures, out);
    }
    (void)fprintf(out, "# EOF\n");
}
