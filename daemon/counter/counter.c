/* SPDX-License-Identifier: MIT
 * counter: see counter.h. */
#include "daemon/counter/counter.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sysexits.h>
#include <unistd.h>

#include "daemon/ground/clock.h"
#include "daemon/ground/log.h"
#include "daemon/ground/zone.h"
#include "parsers/crew_text_items.h"

#define DAEMON_TIMEOUT_MS 15000
#define HANDED_TIMEOUT_MS 300000 /* a small box with a slow card, and many rows */

/* In the place of one that is not there yet. */
static int open_empty(struct counter *counter)
{
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS];
    (void)fprintf(counter->err,
                  "meterpost: no ledger at %s yet: this is the yard as %s tells it; the daemon "
                  "makes it (systemctl start meterpost), or the first meterpost text; its folder "
                  "must be there\n",
                  counter->settings->ledger, counter->settings->file);
    counter->ledger = ledger_open(":memory:", LEDGER_WRITE, &result, says);
    if (counter->ledger == NULL) {
        (void)fprintf(counter->err, "meterpost: %s\n", says);
    }
    return counter->ledger != NULL ? EX_OK : ledger_exit_status(result);
}

static int load_settings(struct counter *counter, const char *config)
{
    counter->settings = settings_load(config, counter->err);
    if (counter->settings == NULL) {
        options_say_config(counter->options, counter->err);
    }
    return counter->settings != NULL ? EX_OK : EX_CONFIG;
}

static int open_rest(struct counter *counter, enum counter_opens opens)
{
    const struct options *options = counter->options;
    if (!zone_set(counter->settings->shop.time_zone)) {
        (void)fprintf(counter->err,
                      "meterpost: this box does not know the time zone %s; install tzdata\n",
                      counter->settings->shop.time_zone);
        return EX_CONFIG;
    }
    struct clock clock = clock_real();
    counter->now_s = clock.now(clock.ctx).wall_s;
    if (options->now != NULL && !zone_read_rfc3339(options->now, &counter->now_s)) {
        (void)fprintf(counter->err,
                      "meterpost: --now %s is no time; write it like 2027-03-14T07:00:00-07:00 or "
                      "2027-03-14\n",
                      options->now);
        return EX_USAGE;
    }
    const char *ledger = counter->settings->ledger;
    return opens == COUNTER_SETTINGS ? EX_OK
           : opens == COUNTER_YARD && counter->shop == NULL && access(ledger, F_OK) != 0 &&
                   errno == ENOENT && !ledger_vanished(ledger)
               ? open_empty(counter)
               : counter_open_ledger(counter, LEDGER_READ);
}

/* Of several shops only; of one the status alone says so. */
static void leave_out(struct counter *shop, int status)
{
    shop->wrong = status;
    if (status != EX_OK && status != EX_USAGE && shop->shop != NULL) {
        (void)fprintf(shop->err, "meterpost: %s is left out: see above\n", shop->shop);
    }
}

/* Where one stands twice it would be counted twice: says so, and returns 64. */
static int look_for_twins(const struct counter *shops, size_t count)
{
    const char *const *configs = shops->options->configs;
    for (size_t i = 0; i < count; i++) {
        for (size_t j = i + 1; j < count; j++) {
            const struct settings *one = shops[i].settings, *other = shops[j].settings;
            bool same_config = settings_same_file(configs[i], configs[j]);
            if (same_config ||
                (one != NULL && other != NULL && settings_same_file(one->ledger, other->ledger))) {
                (void)fprintf(shops->err,
                              "meterpost: -c %s and -c %s have one %s; name each shop once, with a "
                              "ledger of its own\n",
                              configs[i], configs[j], same_config ? "file" : "ledger");
                return EX_USAGE;
            }
        }
    }
    return EX_OK;
}

/* By the shop's name; where another has the same, by its config too; by that alone where it has mistakes. */
static bool name_shop(struct counter *shops, size_t count, size_t at)
{
    const struct settings *settings = shops[at].settings;
    const char *config = shops->options->configs[at];
    bool alone = true;
    for (size_t i = 0; i < count; i++) {
        alone = alone && (i == at || settings == NULL || shops[i].settings == NULL ||
                          strcasecmp(shops[i].settings->shop.name, settings->shop.name) != 0);
    }
    char **name = &shops[at].shop;
    int octets = settings == NULL ? asprintf(name, "%s", config)
                 : alone          ? asprintf(name, "%s", settings->shop.name)
                                  : asprintf(name, "%s (%s)", settings->shop.name, config);
    *name = octets < 0 ? NULL : *name;
    return octets >= 0;
}

static int open_shops(struct counter *shops, size_t count, enum counter_opens opens)
{
    const struct options *options = shops->options;
    for (size_t i = 0; i < count; i++) {
        shops[i].next = i + 1 < count ? &shops[i + 1] : NULL;
        shops[i].wrong =
            load_settings(&shops[i], count > 1 ? options->configs[i] : options->config);
    }
    int status = count > 1 ? look_for_twins(shops, count) : EX_OK;
    for (size_t i = 0; i < count && status == EX_OK; i++) {
        if (count > 1 && !name_shop(shops, count, i)) {
            (void)fprintf(shops->err, "meterpost: memory is short\n");
            return EX_OSERR;
        }
        int opened = shops[i].wrong == EX_OK ? open_rest(&shops[i], opens) : shops[i].wrong;
        status = opened == EX_USAGE ? opened : EX_OK; /* so it would be for each of them */
        leave_out(&shops[i], opened);
    }
    return status;
}

static int serve_shops(struct counter *shops, size_t count, enum counter_opens opens,
                       int (*serve)(struct counter *counter))
{
    int status = open_shops(shops, count, opens);
    if (status == EX_OK && counter_turn(shops) != NULL) {
        status = serve(shops);
    }
    for (size_t i = count; i-- > 0;) {
        status = shops[i].wrong != EX_OK && status != EX_USAGE ? shops[i].wrong : status;
        free(shops[i].shop);
        free(shops[i].standings);
        free(shops[i].troubles);
        ledger_close(shops[i].ledger);
        settings_free(shops[i].settings);
    }
    return status;
}

/* A pipe may be stopped by who reads it. What goes there is gathered, and written once the ledger is
 * closed: a view held open meanwhile would let the daemon's WAL grow without end. */
int counter_serve(const struct options *options, enum counter_opens opens,
                  int (*serve)(struct counter *counter), FILE *out, FILE *err)
{
    char *gathered = NULL;
    size_t length = 0, count = options->config_count > 1 ? options->config_count : 1;
    bool at_once = opens == COUNTER_SETTINGS || isatty(fileno(out)) == 1;
    struct counter shops[OPTIONS_CONFIGS_MAX];
    FILE *to = at_once ? out : open_memstream(&gathered, &length);
    if (to == NULL) {
        (void)fprintf(err, "meterpost: memory is short\n");
        return EX_OSERR;
    }
    for (size_t i = 0; i < count; i++) {
        shops[i] = (struct counter){.options = options, .out = to, .err = err, .number = i};
    }
    int status = serve_shops(shops, count, opens, serve);
    if (at_once) {
        return status;
    }
    bool whole = fclose(to) == 0;
    (void)fwrite(gathered, 1, whole ? length : 0, out); /* main looks at it when it flushes */
    free(gathered);
    if (!whole) {
        (void)fprintf(err, "meterpost: memory is short\n");
        return EX_OSERR;
    }
    return status;
}

int counter_open_ledger(struct counter *counter, enum ledger_mode mode)
{
    enum ledger_result result = LEDGER_OK;
    char says[LEDGER_SAYS_OCTETS];
    counter->ledger = ledger_open(counter->settings->ledger, mode, &result, says);
    if (counter->ledger == NULL) {
        (void)fprintf(counter->err, "meterpost: %s\n", says);
        return ledger_exit_status(result);
    }
    return EX_OK;
}

int counter_ledger_status(const struct counter *counter, enum ledger_result result)
{
    if (result == LEDGER_OK) {
        return EX_OK;
    }
    (void)fprintf(counter->err, "meterpost: %s\n", ledger_says(counter->ledger));
    return ledger_exit_status(result);
}

/* ---- several shops */

struct counter *counter_turn(struct counter *shop)
{
    while (shop != NULL && shop->wrong != EX_OK) {
        shop = shop->next;
    }
    if (shop != NULL) {
        (void)zone_set(shop->settings->shop.time_zone); /* it was known when it was opened */
    }
    return shop;
}

bool counter_each(struct counter *counter, int (*look)(struct counter *shop, void *ctx), void *ctx)
{
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        leave_out(shop, look(shop, ctx));
    }
    return counter_turn(counter) != NULL;
}

const char *counter_of_shop(const struct counter *shop, char room[COUNTER_SHOP_OCTETS])
{
    room[0] = '\0';
    if (shop->shop != NULL) {
        (void)snprintf(room, COUNTER_SHOP_OCTETS, "%.190s: ", shop->shop);
    }
    return room;
}

struct table *counter_table(const struct counter *counter, const struct columns *columns)
{
    return table_new(columns, counter_form(counter), counter->settings);
}

void counter_table_of(const struct counter *shop, struct table *table)
{
    if (shop->shop != NULL) {
        table_turn_to(table, shop->settings, shop->shop);
    }
}

static struct json_object *shop_object(const struct counter *shop, struct json_object *whole)
{
    struct json_object *shops = NULL, *object = json_object_new_object();
    if (!json_object_object_get_ex(whole, "shops", &shops)) {
        json_add(whole, "shops", shops = json_object_new_array());
    }
    json_add_text(object, "shop", shop->shop);
    if (shops == NULL || json_object_array_add(shops, object) != 0) {
        (void)json_object_put(object);
        return NULL;
    }
    return object;
}

struct json_object *counter_head(const struct counter *shop, struct json_object *whole)
{
    return shop->shop == NULL ? whole : shop_object(shop, whole);
}

int counter_write(const struct counter *counter, struct json_object *whole)
{
    for (const struct counter *shop = counter; shop != NULL; shop = shop->next) {
        if (shop->wrong != EX_OK) {
            json_add(shop_object(shop, whole), "left_out", json_object_new_boolean(true));
        }
    }
    return json_write(whole, counter->out);
}

/* ---- how machines stand */

int counter_load_standings(struct counter *counter)
{
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    enum ledger_result result = ledger_look(counter->ledger);
    if (result == LEDGER_OK) {
        result =
            yard_stand_all(&yard, counter->now_s, &counter->standings, &counter->standing_count);
    }
    return counter_ledger_status(counter, result);
}

const struct yard_standing *counter_next_worst(struct counter *counter, struct counter **whose)
{
    struct counter *worst = NULL;
    for (struct counter *shop = counter; shop != NULL; shop = shop->next) {
        if (shop->wrong == EX_OK && shop->standings_told < shop->standing_count &&
            (worst == NULL || yard_worst_first(&shop->standings[shop->standings_told],
                                               &worst->standings[worst->standings_told]) < 0)) {
            worst = shop;
        }
    }
    *whose = counter_turn(worst);
    return worst != NULL ? &worst->standings[worst->standings_told++] : NULL;
}

int counter_load_troubles(struct counter *counter)
{
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    return counter_ledger_status(
        counter, yard_troubles(&yard, counter->now_s, &counter->troubles, &counter->trouble_count));
}

const char *counter_trouble_says(const struct yard_trouble *trouble,
                                 char room[COUNTER_TROUBLE_OCTETS])
{
    char at[ZONE_TEXT_OCTETS];
    zone_write_rfc3339(trouble->since_s, at, sizeof at);
    int octets =
        snprintf(room, COUNTER_TROUBLE_OCTETS, "%s%.10s%s%s: ", trouble->danger ? "DANGER " : "",
                 at, trouble->person[0] != '\0' ? " " : "", trouble->person);
    const char *says = trouble->says[0] != '\0' ? trouble->says : "(the words were forgotten)";
    (void)log_text(says, strlen(says), &room[octets], COUNTER_TROUBLE_OCTETS - (size_t)octets);
    return room;
}

void counter_print_troubles(struct counter *counter)
{
    struct screen screen = screen_of(counter->out);
    const char *heading = "\nopen trouble\n  ";
    char says[COUNTER_TROUBLE_OCTETS], of_shop[COUNTER_SHOP_OCTETS];
    char line[COUNTER_TROUBLE_OCTETS + COUNTER_SHOP_OCTETS + PEOPLE_NAME_OCTETS + 32];
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        for (size_t i = 0; i < shop->trouble_count; i++) {
            const struct yard_trouble *trouble = &shop->troubles[i];
            const char *machine = trouble->machine >= 0
                                      ? shop->settings->machines[trouble->machine].name
                                      : "no machine named";
            (void)snprintf(line, sizeof line, "%s%s%s: %s\n", heading,
                           counter_of_shop(shop, of_shop), machine,
                           counter_trouble_says(trouble, says));
            screen_print_folded(&screen, line, 4, counter->out);
            heading = "  ";
        }
    }
}

/* Said where it is so. */
static struct json_object *danger_json(const struct settings *settings, const void *row)
{
    (void)settings;
    return ((const struct yard_trouble *)row)->danger ? json_object_new_boolean(true) : NULL;
}

struct json_object *counter_troubles_json(const struct counter *counter, int32_t machine,
                                          struct json_object *array)
{
#define AT(field) offsetof(struct yard_trouble, field)
    static const struct column list[] = {
        {NULL, "machine", COLUMN_MACHINE, .at = AT(machine), .when = COLUMN_FROM_0},
        {NULL, "since", COLUMN_TIME, .at = AT(since_s)},
        {NULL, "person", COLUMN_CHARS, .at = AT(person)},
        {NULL, "danger", COLUMN_OWN, .json = danger_json},
        {NULL, "says", COLUMN_CHARS, .at = AT(says)},
    };
#undef AT
    static const struct columns of_all = {COLUMNS(list), false};
    static const struct columns of_one = {&list[1], sizeof list / sizeof list[0] - 1, false};
    for (size_t i = 0; i < counter->trouble_count; i++) {
        const struct yard_trouble *trouble = &counter->troubles[i];
        if (machine >= 0 && trouble->machine != machine) {
            continue;
        }
        struct json_object *object =
            columns_json(machine < 0 ? &of_all : &of_one, counter->settings, trouble);
        json_add_text(object, "shop", machine < 0 ? counter->shop : NULL);
        array = array != NULL ? array : json_object_new_array();
        (void)json_object_array_add(array, object);
    }
    return array;
}

enum table_form counter_form(const struct counter *counter)
{
    return counter->options->json ? TABLE_JSON : counter->options->csv ? TABLE_CSV : TABLE_SCREEN;
}

int counter_ask_daemon(const struct counter *counter, size_t word_count, const char *const *words,
                       const char *advice, struct counter_answer *answer)
{
    struct door_question question = {word_count, words, DOOR_NO_FILE};
    return counter_hand_to_daemon(counter, &question, advice, answer);
}

int counter_hand_to_daemon(const struct counter *counter, const struct door_question *question,
                           const char *advice, struct counter_answer *answer)
{
    const char *door = counter->settings->door;
    int timeout_ms = question->file >= 0 ? HANDED_TIMEOUT_MS : DAEMON_TIMEOUT_MS;
    switch (
        door_ask(door, question, timeout_ms, &answer->status, answer->answer, &answer->length)) {
    case DOOR_ANSWERED:
        answer->answer[answer->length] = '\0';
        return EX_OK;
    case DOOR_NOBODY:
        return COUNTER_ALONE;
    case DOOR_FORBIDDEN:
        (void)fprintf(
            counter->err,
            "meterpost: the daemon's door %s is closed to you; be root, or of its group\n", door);
        return EX_NOPERM;
    case DOOR_FAILED:
        break;
    }
    (void)fprintf(counter->err, "meterpost: the daemon did not answer at %s%s\n", door, advice);
    return EX_UNAVAILABLE;
}

int counter_pass_on(const struct counter *counter, const struct counter_answer *answer)
{
    bool done = answer->status == EX_OK || answer->status == 1;
    (void)fwrite(answer->answer, 1, answer->length, done ? counter->out : counter->err);
    return answer->status;
}

/* "12" or "#12", as in a text: where it is the whole number of one machine alone. -1: of none or more. */
static int32_t machine_numbered(const struct settings *settings, const char *name)
{
    const char *digits = &name[name[0] == '#'];
    int64_t number = digits[strspn(digits, "0123456789")] == '\0' ? names_number(digits) : -1;
    int32_t found = -1;
    if (number < 0) {
        return -1;
    }
    for (size_t i = 0; i < settings->machine_count; i++) {
        if (names_number(settings->machines[i].name) == number) {
            if (found >= 0) {
                return -1;
            }
            found = (int32_t)i;
        }
    }
    return found;
}

int32_t counter_machine(const struct settings *settings, const char *name, struct nearest *nearest)
{
    nearest_begin(nearest, name);
    for (size_t i = 0; i < settings->machine_count; i++) {
        nearest_offer(nearest, settings->machines[i].name);
    }
    int32_t named = settings_find_machine(settings, name);
    return named >= 0 ? named : machine_numbered(settings, name);
}

int32_t counter_person(const struct settings *settings, const char *name, struct nearest *nearest)
{
    nearest_begin(nearest, name);
    for (size_t i = 0; i < settings->person_count; i++) {
        nearest_offer(nearest, settings->people[i].name);
    }
    return settings_find_person(settings, name);
}

int32_t counter_plan(const struct settings *settings, int32_t machine, const char *name,
                     struct nearest *nearest)
{
    const struct settings_kind *kind = &settings->kinds[settings->machines[machine].kind];
    nearest_begin(nearest, name);
    for (size_t i = 0; i < kind->plan_count; i++) {
        const char *plan = settings->plans[kind->plans[i]].name;
        nearest_offer(nearest, plan);
        if (strcasecmp(plan, name) == 0) {
            return (int32_t)kind->plans[i];
        }
    }
    return -1;
}

/* Adds a name of the ledger to those that may have been meant; the last one that is alike is it. */
struct name_sought {
    struct nearest *nearest;
    struct counter_named *named;
    bool found;
};

static void take_name(void *ctx, int64_t machine_id, const char *name)
{
    struct name_sought *sought = ctx;
    if (strcasecmp(name, sought->nearest->word) == 0) {
        sought->found = true;
        sought->named->id = machine_id;
        (void)snprintf(sought->named->name, sizeof sought->named->name, "%s", name);
    }
}

int counter_on_record(const struct counter *counter, const char *name, struct counter_named *named)
{
    const struct settings *settings = counter->settings;
    struct nearest nearest;
    *named = (struct counter_named){.machine = counter_machine(settings, name, &nearest)};
    if (named->machine < 0) {
        named->machine = settings_find_former(settings, name);
        named->formerly = named->machine >= 0;
    }
    if (named->machine >= 0) {
        const char *now = settings->machines[named->machine].name;
        (void)snprintf(named->name, sizeof named->name, "%s", now);
        enum ledger_result result = machines_id(counter->ledger, now, &named->id);
        named->id = result == LEDGER_OK ? named->id : 0;
        return counter_ledger_status(counter, result == LEDGER_NONE ? LEDGER_OK : result);
    }
    struct name_sought sought = {&nearest, named, false};
    enum ledger_result result = machines_each(counter->ledger, take_name, &sought);
    return result != LEDGER_OK ? counter_ledger_status(counter, result)
           : sought.found      ? EX_OK
                               : counter_unknown(counter, "machine", &nearest);
}

int counter_unknown(const struct counter *counter, const char *what, const struct nearest *nearest)
{
    (void)fprintf(counter->err, "meterpost: no %s %s", what, nearest->word);
    if (nearest->name != NULL) {
        (void)fprintf(counter->err, "; did you mean %s?", nearest->name);
    }
    (void)fputc('\n', counter->err);
    return EX_USAGE;
}

const char *counter_point(const struct yard_standing *standing, char room[COUNTER_POINT_OCTETS])
{
    char day[CIVIL_TEXT_OCTETS], due[HOURS_TEXT_OCTETS];
    bool date = standing->by == DUE_BY_DATE;
    (void)snprintf(room, COUNTER_POINT_OCTETS, "%s%s%s%s%s%s", date ? "by " : "",
                   day_or_blank(date, standing->due_day, day),
                   date && standing->has_due ? ", or " : "", standing->has_due ? "at " : "",
                   hours_or_blank(standing->has_due, standing->due_meter_hundredths, due),
                   standing->has_due ? " h" : "");
    return room;
}

enum table_tint counter_tint(enum due_stage stage)
{
    const struct due_stage_row *row = due_stage_row(stage);
    return row->reached ? TABLE_BAD
           : row->tells ? TABLE_WARN
           : row->rests ? TABLE_FAINT
                        : TABLE_PLAIN;
}
