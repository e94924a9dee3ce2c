/* SPDX-License-Identifier: MIT
 * run: wires the rooms together: what the modem hands over goes to the desk, what the desk wants
 * sent goes to the modem, the door's questions go to the counter. One struct holds the house. */
#include "daemon/run.h"

#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/signalfd.h>
#include <sys/stat.h>
#include <sysexits.h>
#include <unistd.h>

#include "config/settings.h"
#include "daemon/board/keeper.h"
#include "daemon/counter/answers.h"
#include "daemon/desk/desk.h"
#include "daemon/door/door.h"
#include "daemon/ledger/ledger.h"
#include "daemon/ground/log.h"
#include "daemon/ground/loop.h"
#include "daemon/modem/link.h"
#include "daemon/ground/notify.h"
#include "daemon/ground/stepped_clock.h"
#include "daemon/ground/zone.h"

/* The wall clock may be set under us: a round is looked at again after this long at the latest. */
#define ROUND_AT_MOST_MS (10 * 60 * 1000)
/* At start it may be wrong already: the modem has so long to say what time it is. */
#define FIRST_ROUND_MS (3 * 60 * 1000)

struct house {
    const char *config;
    struct settings *settings;
    struct stepped_clock stepped;
    struct line_count line_count;
    struct ledger *ledger;
    struct desk *desk;
    struct link *link;
    struct loop loop;
    int signals;
    int64_t round_ms;    /* when the desk's next round is */
    int64_t watchdog_ms; /* interval, 0 none */
    int64_t watchdog_next_ms;
    char pin_mark[SETTINGS_PATH_OCTETS];
    struct door door;
    struct keeper keeper; /* of the board */
};

/* ---- from the modem to the desk, and back */

static void plan_round(struct house *house, struct instant now, int64_t round_s)
{
    int64_t wait_ms = clock_later((round_s - now.wall_s) * 1000, 0);
    house->round_ms = now.mono_ms + clock_earlier(wait_ms, ROUND_AT_MOST_MS);
}

static bool on_arrived(void *ctx, const struct link_arrival *arrival)
{
    struct house *house = ctx;
    bool kept =
        desk_receive(house->desk, arrival->hex, arrival->error, arrival->tpdu, arrival->received);
    /* What it caused (an alert in shop hours) is the round's to tell; the reply is ready now. */
    house->round_ms = arrival->received.mono_ms;
    link_wake(house->link);
    return kept;
}

static bool on_reported(void *ctx, const struct link_arrival *arrival)
{
    struct house *house = ctx;
    return desk_receive_report(house->desk, arrival->hex, arrival->tpdu, arrival->received);
}

static bool on_outgoing(void *ctx, struct instant now, struct part *part, int64_t *next_ms)
{
    struct house *house = ctx;
    int64_t next_s = 0;
    *next_ms = CLOCK_NEVER;
    if (desk_next_part(house->desk, now, part, &next_s)) {
        return true;
    }
    if (next_s > 0) {
        *next_ms = now.mono_ms + (next_s > now.wall_s ? (next_s - now.wall_s) * 1000 : 1000);
    }
    return false;
}

static void on_sent(void *ctx, struct instant now, const struct part_result *result)
{
    struct house *house = ctx;
    desk_part_ended(house->desk, result, now);
}

static void on_timed(void *ctx, struct instant now, int64_t network_s)
{
    struct house *house = ctx;
    desk_timed(house->desk, now, network_s);
    house->round_ms = now.mono_ms;
}

/* ---- the desk's round */

static int64_t round_deadline_ms(void *ctx)
{
    struct house *house = ctx;
    return house->round_ms;
}

static void round_due(void *ctx, struct instant now)
{
    struct house *house = ctx;
    plan_round(house, now, desk_round(house->desk, now));
    link_wake(house->link);
}

/* ---- the board */

static int64_t board_deadline_ms(void *ctx)
{
    struct house *house = ctx;
    return keeper_deadline_ms(&house->keeper);
}

static void board_due(void *ctx, struct instant now)
{
    struct house *house = ctx;
    keeper_due(&house->keeper, now, desk_clock_state(house->desk, now).time_s);
}

/* ---- the door */

static int answer_text(struct house *house, const char *const *words, struct instant now, FILE *out)
{
    struct clock_judgement clock = desk_clock_state(house->desk, now);
    if (!text_clock_fits(&clock, out)) {
        return EX_TEMPFAIL;
    }
    int status = text_at_desk(house->desk, house->settings, words[2], words[3],
                              strcmp(words[1], "json") == 0, now, out);
    house->round_ms = now.mono_ms;
    link_wake(house->link);
    return status;
}

static int answer_health(struct house *house, const char *const *words, struct instant now,
                         FILE *out)
{
    struct clock_judgement clock = desk_clock_state(house->desk, now);
    struct health_facts facts = {.settings = house->settings,
                                 .ledger = house->ledger,
                                 .link = link_health(house->link),
                                 .clock = &clock,
                                 .board_says = keeper_says(&house->keeper),
                                 .now_s = now.wall_s};
    return (int)health_report(&facts, words[1], out);
}

/* What machines stand at may have changed: the round looks at once. */
static int answer_import(struct house *house, const struct door_question *question,
                         struct instant now, FILE *out)
{
    struct clock_judgement clock = desk_clock_state(house->desk, now);
    if (!text_clock_fits(&clock, out)) {
        return EX_TEMPFAIL;
    }
    int status = import_at_ledger(house->ledger, house->settings, question, clock.time_s, out);
    desk_look_again(house->desk);
    house->round_ms = now.mono_ms;
    return status;
}

static int answer_door(void *ctx, const struct door_question *question, struct instant now,
                       char *out, size_t *length)
{
    struct house *house = ctx;
    size_t word_count = question->word_count;
    const char *const *words = question->words;
    int status = EX_USAGE;
    FILE *stream = fmemopen(out, DOOR_ANSWER_OCTETS, "w");
    if (stream == NULL) {
        return EX_OSERR;
    }
    if (word_count == 4 && strcmp(words[0], "text") == 0) {
        status = answer_text(house, words, now, stream);
    } else if (word_count == 2 && strcmp(words[0], "health") == 0) {
        status = answer_health(house, words, now, stream);
    } else if (word_count == 2 && strcmp(words[0], "modem") == 0) {
        status = modem_report(link_health(house->link), house->settings->modem.port,
                              strcmp(words[1], "json") == 0, stream);
    } else if (word_count == 2 && strcmp(words[0], "forget") == 0) {
        status = forget_at_ledger(house->ledger, house->settings, words[1], stream);
    } else if (strcmp(words[0], IMPORT_QUESTION) == 0) {
        status = answer_import(house, question, now, stream);
    } else {
        (void)fprintf(stream, "meterpost: this daemon does not know that question; is it an older "
                              "one? restart it\n");
    }
    long used = fflush(stream) == 0 ? ftell(stream) : 0;
    *length = used > 0 ? (size_t)used : 0;
    (void)fclose(stream);
    return status;
}

/* ---- signals and the watchdog */

static struct link_settings link_settings_of(const struct house *house)
{
    return (struct link_settings){.port = house->settings->modem.port,
                                  .speed = house->settings->modem.speed,
                                  .pin_file = house->settings->modem.pin_file,
                                  .pin_mark = house->pin_mark,
                                  .centre = house->settings->modem.service_centre};
}

/* The new settings loaded and every mistake in the log; NULL keeps the old ones in force. */
static struct settings *load_aloud(const char *config)
{
    char *mistakes = NULL;
    size_t length = 0;
    FILE *stream = open_memstream(&mistakes, &length);
    if (stream == NULL) {
        log_warn("config: cannot read %s", config);
        return NULL;
    }
    struct settings *settings = settings_load(config, stream);
    (void)fclose(stream);
    char *rest = mistakes;
    for (char *line = strsep(&rest, "\n"); line != NULL; line = strsep(&rest, "\n")) {
        if (line[0] != '\0') {
            log_error("config: %s", line);
        }
    }
    free(mistakes);
    return settings;
}

static void reload(struct house *house, struct instant now)
{
    notify_send("RELOADING=1");
    struct settings *fresh = load_aloud(house->config);
    if (fresh == NULL) {
        log_error("config: the settings before stay in force; mend %s and reload again",
                  house->config);
    } else if (strcmp(fresh->ledger, house->settings->ledger) != 0 ||
               strcmp(fresh->door, house->settings->door) != 0) {
        log_error("config: `ledger` or `door` changed: that needs a restart; the settings before "
                  "stay in force");
        settings_free(fresh);
    } else if (!zone_set(fresh->shop.time_zone) || !desk_configure(house->desk, fresh)) {
        log_error("config: could not be put in force; the settings before stay");
        (void)zone_set(house->settings->shop.time_zone);
        settings_free(fresh);
    } else {
        struct settings *old = house->settings;
        house->settings = fresh;
        struct link_settings link = link_settings_of(house);
        link_configure(house->link, &link);
        keeper_begin(&house->keeper, fresh, house->ledger, now);
        settings_free(old);
        house->round_ms = now.mono_ms;
        log_notice("config: %s is in force", house->config);
    }
    notify_send("READY=1");
}

static int signals_descriptor(void *ctx, short *events)
{
    struct house *house = ctx;
    *events = POLLIN;
    return house->signals;
}

static void signals_ready(void *ctx, short revents, struct instant now)
{
    struct house *house = ctx;
    struct signalfd_siginfo info;
    (void)revents;
    if (read(house->signals, &info, sizeof info) != (ssize_t)sizeof info) {
        return;
    }
    if (info.ssi_signo == SIGHUP) {
        reload(house, now);
    } else {
        log_notice("ending on signal %u", info.ssi_signo);
        house->loop.stop = true;
    }
}

static int64_t watchdog_deadline_ms(void *ctx)
{
    struct house *house = ctx;
    return house->watchdog_ms > 0 ? house->watchdog_next_ms : CLOCK_NEVER;
}

static void watchdog_due(void *ctx, struct instant now)
{
    struct house *house = ctx;
    notify_send("WATCHDOG=1");
    house->watchdog_next_ms = now.mono_ms + house->watchdog_ms;
}

/* ---- counter and closing */

static int open_signals(struct house *house)
{
    sigset_t taken;
    (void)sigemptyset(&taken);
    (void)sigaddset(&taken, SIGHUP);
    (void)sigaddset(&taken, SIGTERM);
    (void)sigaddset(&taken, SIGINT);
    /* A caller who leaves, or a file at its size limit, is an error value and not our end. */
    (void)signal(SIGPIPE, SIG_IGN);
    (void)signal(SIGXFSZ, SIG_IGN);
    if (sigprocmask(SIG_BLOCK, &taken, NULL) != 0) {
        return -1;
    }
    house->signals = signalfd(-1, &taken, SFD_CLOEXEC | SFD_NONBLOCK);
    return house->signals < 0 ? -1 : 0;
}

static int open_clock(struct house *house, int stepped_fd, struct clock *clock)
{
    *clock = clock_real();
    if (stepped_fd < 0) {
        return 0;
    }
    if (stepped_clock_open(&house->stepped, stepped_fd, &house->line_count) != 0) {
        return -1;
    }
    *clock = stepped_clock_table(&house->stepped);
    return 0;
}

static int open_rooms(struct house *house)
{
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS], door_says[DOOR_SAYS_OCTETS];
    struct link_host host = {.arrived = on_arrived,
                             .reported = on_reported,
                             .outgoing = on_outgoing,
                             .sent = on_sent,
                             .timed = on_timed,
                             .ctx = house};
    struct link_settings link = link_settings_of(house);
    house->ledger = ledger_open(house->settings->ledger, LEDGER_WRITE, &result, says);
    if (house->ledger == NULL) {
        log_error("%s", says);
        return ledger_exit_status(result);
    }
    house->desk = desk_new(house->settings, house->ledger);
    house->link = link_new(&link, &host, &house->line_count);
    if (house->desk == NULL || house->link == NULL) {
        log_error("memory is short");
        return EX_OSERR;
    }
    if (!door_open(&house->door, house->settings->door, answer_door, house, door_says)) {
        log_error("%s", door_says);
        return EX_CANTCREAT;
    }
    return EX_OK;
}

static bool join_loop(struct house *house)
{
    const struct loop_source sources[] = {
        {.descriptor = signals_descriptor, .ready = signals_ready, .ctx = house},
        {.deadline_ms = watchdog_deadline_ms, .due = watchdog_due, .ctx = house},
        {.deadline_ms = round_deadline_ms, .due = round_due, .ctx = house},
        {.deadline_ms = board_deadline_ms, .due = board_due, .ctx = house},
        {.descriptor = link_descriptor,
         .deadline_ms = link_deadline_ms,
         .ready = link_ready,
         .due = link_due,
         .ctx = house->link},
    };
    bool joined = true;
    for (size_t i = 0; i < sizeof sources / sizeof sources[0]; i++) {
        joined = joined && loop_add(&house->loop, sources[i]);
    }
    return joined && door_join(&house->door, &house->loop);
}

static int open_house(struct house *house, int stepped_fd)
{
    struct clock clock;
    house->settings = load_aloud(house->config);
    if (house->settings == NULL || !zone_set(house->settings->shop.time_zone)) {
        log_error("config: cannot start with %s; meterpost check -c %s says what it means",
                  house->config, house->config);
        return EX_CONFIG;
    }
    (void)snprintf(house->pin_mark, sizeof house->pin_mark, "%.*s.pin",
                   (int)sizeof house->pin_mark - 8, house->settings->ledger);
    if (open_signals(house) != 0 || open_clock(house, stepped_fd, &clock) != 0) {
        log_warn("cannot start");
        return EX_OSERR;
    }
    loop_init(&house->loop, clock);
    int status = open_rooms(house);
    if (status != EX_OK) {
        return status;
    }
    struct instant now = clock.now(clock.ctx);
    desk_recover(house->desk, now);
    house->round_ms = now.mono_ms + FIRST_ROUND_MS;
    keeper_begin(&house->keeper, house->settings, house->ledger, now);
    house->watchdog_ms = notify_watchdog_ms();
    house->watchdog_next_ms = now.mono_ms + house->watchdog_ms;
    return join_loop(house) ? EX_OK : EX_SOFTWARE;
}

static void close_house(struct house *house)
{
    door_close(&house->door);
    link_free(house->link);
    desk_free(house->desk);
    ledger_close(house->ledger);
    settings_free(house->settings);
    if (house->signals >= 0) {
        (void)close(house->signals);
    }
}

int run_verb(const struct options *options, FILE *out, FILE *err)
{
    static struct house house = {.signals = -1, .door = {.fd = -1}};
    (void)out;
    (void)umask(0027);
    log_set_debug(options->debug);
    house.config = options->config;
    int status = open_house(&house, options->stepped_clock);
    if (status == EX_OK) {
        log_notice("running with %s: %zu machines, %zu people", house.config,
                   house.settings->machine_count, house.settings->person_count);
        notify_send("READY=1");
        if (loop_run(&house.loop) != 0) {
            log_warn("waiting failed");
            status = EX_OSERR;
        }
        notify_send("STOPPING=1");
    }
    if (house.settings == NULL) {
        options_say_config(options, err);
    }
    close_house(&house);
    return status;
}
