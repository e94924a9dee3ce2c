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

_Static_assert(SETTINGS_MODEMS_MAX <= STEPPED_LINES_MAX, "each modem has a line");

/* One of the modems: what its link and the loop know the house by. */
struct modem {
    struct house *house;
    size_t place;      /* in settings.modems */
    struct link *link; /* NULL where the config has none at that place */
    char pin_mark[SETTINGS_PATH_OCTETS];
};

struct house {
    const char *config;
    struct settings *settings;
    struct stepped_clock stepped;
    struct line_count line_counts[SETTINGS_MODEMS_MAX];
    struct ledger *ledger;
    struct desk *desk;
    struct modem modems[SETTINGS_MODEMS_MAX];
    uint32_t working; /* modems by which texts go, a bit each */
    int64_t look_ms;  /* when that is looked at again */
    struct loop loop;
    int signals;
    int64_t round_ms;    /* when the desk's next round is */
    int64_t watchdog_ms; /* interval, 0 none */
    int64_t watchdog_next_ms;
    struct door door;
    struct keeper keeper; /* of the board */
};

/* ---- from the modems to the desk, and back */

/* There may be something to send, by whichever modem. */
static void wake_modems(struct house *house)
{
    for (size_t i = 0; i < SETTINGS_MODEMS_MAX; i++) {
        if (house->modems[i].link != NULL) {
            link_wake(house->modems[i].link);
        }
    }
}

/* Where other modems work than before, the desk is told, and all may have something to send. One alone has
 * everything, whether it works or not. */
static void look_at_modems(struct house *house, struct instant now)
{
    uint32_t working = 0;
    size_t count = house->settings->modem_count;
    house->look_ms = CLOCK_NEVER;
    for (size_t i = 0; i < count; i++) {
        int64_t until_ms = CLOCK_NEVER;
        bool works = house->modems[i].link != NULL &&
                     (count == 1 || link_works(house->modems[i].link, now, &until_ms));
        house->look_ms = clock_earlier(house->look_ms, until_ms);
        working |= works ? 1U << i : 0;
        if (works != ((house->working >> i & 1U) != 0)) {
            log_notice("modem %s %s", house->settings->modems[i].name,
                       works ? "sends again"
                             : "does not work: what waits for it goes by another that does");
        }
    }
    if (working != house->working) {
        house->working = working;
        desk_modems_work(house->desk, working);
        wake_modems(house);
    }
}

static void plan_round(struct house *house, struct instant now, int64_t round_s)
{
    int64_t wait_ms = clock_later((round_s - now.wall_s) * 1000, 0);
    house->round_ms = now.mono_ms + clock_earlier(wait_ms, ROUND_AT_MOST_MS);
}

static bool on_arrived(void *ctx, const struct link_arrival *arrival)
{
    struct modem *modem = ctx;
    struct house *house = modem->house;
    bool kept = desk_receive(house->desk, modem->place, arrival->hex, arrival->error, arrival->tpdu,
                             arrival->received);
    /* What it caused (an alert in shop hours) is the round's to tell; the reply is ready now. */
    house->round_ms = arrival->received.mono_ms;
    wake_modems(house);
    return kept;
}

static bool on_reported(void *ctx, const struct link_arrival *arrival)
{
    struct modem *modem = ctx;
    return desk_receive_report(modem->house->desk, modem->place, arrival->hex, arrival->tpdu,
                               arrival->received);
}

static bool on_outgoing(void *ctx, struct instant now, struct part *part, int64_t *next_ms)
{
    struct modem *modem = ctx;
    int64_t next_s = 0;
    *next_ms = CLOCK_NEVER;
    if (desk_next_part(modem->house->desk, modem->place, now, part, &next_s)) {
        part->elsewhere = part->elsewhere && (modem->house->working & ~(1U << modem->place)) != 0;
        return true;
    }
    if (next_s > 0) {
        *next_ms = now.mono_ms + (next_s > now.wall_s ? (next_s - now.wall_s) * 1000 : 1000);
    }
    return false;
}

static void on_sent(void *ctx, struct instant now, const struct part_result *result)
{
    struct modem *modem = ctx;
    desk_part_ended(modem->house->desk, result, now);
    if (result->fate != PART_FATE_TAKEN) {
        wake_modems(modem->house); /* another may have it next */
    }
}

static void on_timed(void *ctx, struct instant now, int64_t network_s)
{
    struct modem *modem = ctx;
    struct house *house = modem->house;
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
    wake_modems(house);
}

/* ---- a modem's turn */

static int modem_descriptor(void *ctx, short *events)
{
    struct modem *modem = ctx;
    return modem->link != NULL ? link_descriptor(modem->link, events) : -1;
}

static int64_t modem_deadline_ms(void *ctx)
{
    struct modem *modem = ctx;
    return modem->link != NULL ? link_deadline_ms(modem->link) : CLOCK_NEVER;
}

static void modem_ready(void *ctx, short revents, struct instant now)
{
    struct modem *modem = ctx;
    if (modem->link != NULL) {
        link_ready(modem->link, revents, now);
        look_at_modems(modem->house, now);
    }
}

static void modem_due(void *ctx, struct instant now)
{
    struct modem *modem = ctx;
    link_due(modem->link, now);
    look_at_modems(modem->house, now);
}

static int64_t look_deadline_ms(void *ctx)
{
    struct house *house = ctx;
    return house->look_ms;
}

static void look_due(void *ctx, struct instant now)
{
    look_at_modems(ctx, now);
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
    wake_modems(house);
    return status;
}

static void gather_links(const struct house *house,
                         const struct link_health *links[SETTINGS_MODEMS_MAX])
{
    for (size_t i = 0; i < SETTINGS_MODEMS_MAX; i++) {
        const struct link *link = house->modems[i].link;
        links[i] = link != NULL ? link_health(link) : NULL;
    }
}

static int answer_health(struct house *house, const char *const *words, struct instant now,
                         FILE *out)
{
    struct clock_judgement clock = desk_clock_state(house->desk, now);
    struct health_facts facts = {.settings = house->settings,
                                 .ledger = house->ledger,
                                 .clock = &clock,
                                 .board_says = keeper_says(&house->keeper),
                                 .now_s = now.wall_s};
    gather_links(house, facts.links);
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
        const struct link_health *links[SETTINGS_MODEMS_MAX];
        gather_links(house, links);
        status = modem_report(house->settings, links, strcmp(words[1], "json") == 0, stream);
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

/* ---- settings into force */

/* What stands for a modem in the settings; its PIN's mark lies beside the ledger. */
static struct link_settings link_settings_of(struct modem *modem)
{
    const struct settings *settings = modem->house->settings;
    const struct settings_modem *row = &settings->modems[modem->place];
    int room = (int)sizeof modem->pin_mark - SETTINGS_NAME_OCTETS - 8;
    (void)snprintf(modem->pin_mark, sizeof modem->pin_mark, "%.*s.%s%spin", room, settings->ledger,
                   row->name, row->name[0] != '\0' ? "." : "");
    return (struct link_settings){.name = row->name,
                                  .port = row->port,
                                  .speed = row->speed,
                                  .pin_file = row->pin_file,
                                  .pin_mark = modem->pin_mark,
                                  .centre = row->service_centre};
}

/* What the settings say of it goes to its link, a new one where it has none yet. False where memory is
 * short. */
static bool configure_modem(struct modem *modem)
{
    struct link_settings settings = link_settings_of(modem);
    struct link_host host = {.arrived = on_arrived,
                             .reported = on_reported,
                             .outgoing = on_outgoing,
                             .sent = on_sent,
                             .timed = on_timed,
                             .ctx = modem};
    if (modem->link != NULL) {
        link_configure(modem->link, &settings);
    } else {
        modem->link = link_new(&settings, &host, &modem->house->line_counts[modem->place]);
    }
    return modem->link != NULL;
}

/* A link for each modem of the settings, and for no other. All are taken to work. False where memory is
 * short. */
static bool configure_modems(struct house *house)
{
    bool well = true;
    house->working = UINT32_MAX >> (32 - house->settings->modem_count);
    desk_modems_work(house->desk, house->working);
    house->look_ms = 0;
    for (size_t i = 0; i < SETTINGS_MODEMS_MAX; i++) {
        struct modem *modem = &house->modems[i];
        modem->house = house;
        modem->place = i;
        if (i < house->settings->modem_count) {
            well = configure_modem(modem) && well;
        } else {
            link_free(modem->link);
            modem->link = NULL;
        }
    }
    return well;
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
        if (!configure_modems(house)) {
            log_error("config: memory is short: not every modem is in use");
        }
        keeper_begin(&house->keeper, fresh, house->ledger, now);
        settings_free(old);
        house->round_ms = now.mono_ms;
        log_notice("config: %s is in force", house->config);
    }
    notify_send("READY=1");
}

/* ---- signals and the watchdog */

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

/* ---- opening and closing */

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
    if (stepped_clock_open(&house->stepped, stepped_fd, house->line_counts, SETTINGS_MODEMS_MAX) !=
        0) {
        return -1;
    }
    *clock = stepped_clock_table(&house->stepped);
    return 0;
}

static int open_rooms(struct house *house)
{
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS], door_says[DOOR_SAYS_OCTETS];
    house->ledger = ledger_open(house->settings->ledger, LEDGER_WRITE, &result, says);
    if (house->ledger == NULL) {
        log_error("%s", says);
        return ledger_exit_status(result);
    }
    house->desk = desk_new(house->settings, house->ledger);
    if (house->desk == NULL || !configure_modems(house)) {
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
        {.deadline_ms = look_deadline_ms, .due = look_due, .ctx = house},
    };
    bool joined = true;
    for (size_t i = 0; i < sizeof sources / sizeof sources[0]; i++) {
        joined = joined && loop_add(&house->loop, sources[i]);
    }
    for (size_t i = 0; i < SETTINGS_MODEMS_MAX; i++) { /* also for those that a reload brings */
        joined =
            joined && loop_add(&house->loop, (struct loop_source){.descriptor = modem_descriptor,
                                                                  .deadline_ms = modem_deadline_ms,
                                                                  .ready = modem_ready,
                                                                  .due = modem_due,
                                                                  .ctx = &house->modems[i]});
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
    for (size_t i = 0; i < SETTINGS_MODEMS_MAX; i++) {
        link_free(house->modems[i].link);
    }
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
