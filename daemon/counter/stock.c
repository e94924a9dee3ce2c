/* SPDX-License-Identifier: MIT
 * stock: what parts and fluids the next weeks need and the last ones used, as yard/shelf reckons it. */
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/yard/shelf.h"

#define WEEKS_UNSAID 4
#define SAYS_OCTETS (200 + COUNTER_SHOP_OCTETS)
#define MACHINES_OCTETS 256 /* of the list in a cell; longer ones end in "..." */

static const char *machine_names(const struct settings *settings, const void *row,
                                 char room[TABLE_SHOWN_OCTETS])
{
    const struct shelf_item *item = row;
    size_t used = 0;
    for (size_t i = 0; i < item->machine_count; i++) {
        const char *name = settings->machines[item->machines[i]].name;
        if (used + strlen(name) + 6 > MACHINES_OCTETS) {
            (void)snprintf(&room[used], MACHINES_OCTETS - used, " ...");
            break;
        }
        used +=
            (size_t)snprintf(&room[used], MACHINES_OCTETS - used, "%s%s", i > 0 ? " " : "", name);
    }
    return room;
}

static struct json_object *machine_array(const struct settings *settings, const void *row)
{
    const struct shelf_item *item = row;
    struct json_object *machines = json_object_new_array();
    for (size_t i = 0; i < item->machine_count; i++) {
        const char *name = settings->machines[item->machines[i]].name;
        (void)json_object_array_add(machines, json_object_new_string(name));
    }
    return machines;
}

static const char *shop_unit(const struct settings *settings, const void *row,
                             char room[TABLE_SHOWN_OCTETS])
{
    (void)row, (void)room;
    return kit_unit_name(settings->shop.units);
}

static const char *used_more(const struct settings *settings, const void *row,
                             char room[TABLE_SHOWN_OCTETS])
{
    const struct shelf_used_row *used = row;
    (void)settings;
    return quantity_write(used->used_thousandths - used->planned_thousandths, room);
}

#define AT(field) offsetof(struct shelf_item, field)
static const struct column needed_list[] = {
    {"ITEM", "item", COLUMN_TEXT, .at = AT(item)},
    {"UNIT", "unit", COLUMN_UNIT, .at = AT(unit)},
    {"NEEDED", "needed", COLUMN_QUANTITY, .at = AT(needed_thousandths)},
    {"LIKELY", NULL, COLUMN_QUANTITY, .at = AT(likely_thousandths), .when = COLUMN_FROM_1},
    {"ON HAND", NULL, COLUMN_QUANTITY, .at = AT(on_hand_thousandths), .when = COLUMN_FROM_0},
    {"SOLD IN", "sold_in", COLUMN_QUANTITY, .at = AT(sold_in_thousandths)},
    {"CONTAINERS", "containers", COLUMN_WHOLE, .at = AT(containers)},
    {"ORDER BY", NULL, COLUMN_DAY, .at = AT(order_by_day), .if_true = {AT(has_order_by)}},
    {"MACHINES", "machines", COLUMN_OWN, .say = machine_names, .json = machine_array},
    {NULL, "likely", COLUMN_QUANTITY, .at = AT(likely_thousandths), .when = COLUMN_FROM_1},
    {NULL, "on_hand", COLUMN_QUANTITY, .at = AT(on_hand_thousandths), .when = COLUMN_FROM_0},
    {NULL, "order_by", COLUMN_DAY, .at = AT(order_by_day), .if_true = {AT(has_order_by)}},
};
#undef AT
static const struct columns needed_columns = {COLUMNS(needed_list), false};

#define AT(field) offsetof(struct shelf_used_row, field)
static const struct column used_list[] = {
    {"PLAN", "plan", COLUMN_PLAN, .at = AT(plan)},
    {"ITEM", "item", COLUMN_TEXT, .at = AT(item)},
    {"UNIT", "unit", COLUMN_OWN, .say = shop_unit},
    {"SERVICES", "services", COLUMN_WHOLE, .at = AT(services)},
    {"GIVEN", "given", COLUMN_WHOLE, .at = AT(said)},
    {"PLANNED", "planned", COLUMN_QUANTITY, .at = AT(planned_thousandths)},
    {"USED", "used", COLUMN_QUANTITY, .at = AT(used_thousandths)},
    {"MORE", "more", COLUMN_OWN_FIGURE, .say = used_more},
};
#undef AT
static const struct columns used_columns = {COLUMNS(used_list), false};

/* What one shop needs from today on, and used until then. */
struct stock_shop {
    struct shelf needed;
    struct shelf_used used;
    char since[CIVIL_TEXT_OCTETS], from[CIVIL_TEXT_OCTETS], until[CIVIL_TEXT_OCTETS];
};

struct stock {
    struct stock_shop shops[OPTIONS_CONFIGS_MAX];
    struct table *needed, *used; /* of all */
};

static int look(struct counter *shop, void *ctx)
{
    struct stock *stock = ctx;
    struct stock_shop *found = &stock->shops[shop->number];
    struct yard yard = {.settings = shop->settings, .ledger = shop->ledger};
    int32_t days = shop->options->days > 0 ? shop->options->days : WEEKS_UNSAID * 7;
    int32_t today = zone_civil(shop->now_s).day;
    civil_write(today - days, found->since, sizeof found->since);
    civil_write(today, found->from, sizeof found->from);
    civil_write(today + days, found->until, sizeof found->until);
    enum ledger_result result = shelf_reckon(&yard, shop->now_s, today + days, &found->needed);
    if (result == LEDGER_OK) {
        result = shelf_used_reckon(&yard, today - days, shop->now_s, &found->used);
    }
    if (found->needed.left_out) {
        (void)fprintf(shop->err, "meterpost: more than %d different items; the rest is left out\n",
                      SHELF_ITEMS_MAX);
    }
    return counter_ledger_status(shop, result);
}

/* A column that says nothing in any row, or nothing new, only takes room. */
static void drop_unless(struct table *table, const char *title, bool wanted)
{
    if (!wanted) {
        table_drop(table, title);
    }
}

static void fill_tables(struct counter *counter, struct stock *stock)
{
    bool likely = false, on_hand = false, order_by = false;
    stock->needed = counter_table(counter, &needed_columns);
    stock->used = counter_table(counter, &used_columns);
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        const struct stock_shop *found = &stock->shops[shop->number];
        counter_table_of(shop, stock->needed);
        counter_table_of(shop, stock->used);
        for (size_t i = 0; i < found->needed.item_count; i++) {
            const struct shelf_item *item = &found->needed.items[i];
            table_add(stock->needed, item, item->has_order_by ? TABLE_WARN : TABLE_PLAIN);
            likely = likely || item->likely_thousandths != item->needed_thousandths;
            on_hand = on_hand || item->on_hand_thousandths >= 0;
            order_by = order_by || item->has_order_by;
        }
        for (size_t i = 0; i < found->used.count; i++) {
            table_add(stock->used, &found->used.rows[i], TABLE_PLAIN);
        }
    }
    drop_unless(stock->needed, "LIKELY", likely);
    drop_unless(stock->needed, "ON HAND", on_hand);
    drop_unless(stock->needed, "ORDER BY", order_by);
}

static int print_json(struct counter *counter, const struct stock *stock)
{
    struct json_object *whole = json_object_new_object(), *head = whole;
    bool needed = !counter->options->used;
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        const struct stock_shop *found = &stock->shops[shop->number];
        head = counter_head(shop, whole);
        json_add_text(head, "from", found->from);
        json_add_text(head, "until", needed ? found->until : NULL);
        json_add(whole, "items", needed ? table_json(stock->needed) : NULL);
        json_add_text(head, "used_from", found->since);
    }
    json_add(whole, "used", table_json(stock->used));
    return counter_write(counter, whole);
}

static void say_needed(const struct counter *shop, const struct stock_shop *found,
                       char says[SAYS_OCTETS])
{
    char of_shop[COUNTER_SHOP_OCTETS];
    (void)snprintf(says, SAYS_OCTETS,
                   found->needed.item_count > 0 ? "%sFor what comes due from %s until %s:\n"
                   : settings_any_kit(shop->settings)
                       ? "%sNothing is needed from %s until %s.\n"
                       : "%sWhat is needed from %s until %s is not known: no plan has a kit "
                         "(meterpost.conf(5)).\n",
                   counter_of_shop(shop, of_shop), found->from, found->until);
}

static void say_used(const struct counter *shop, const struct stock_shop *found,
                     char says[SAYS_OCTETS])
{
    char of_shop[COUNTER_SHOP_OCTETS];
    (void)snprintf(
        says, SAYS_OCTETS,
        found->used.count > 0
            ? "%sUsed in services from %s until %s, beside the plan where a quantity was "
              "given:\n"
            : "%sNo service that takes a fluid was done from %s until %s.\n",
        counter_of_shop(shop, of_shop), found->since, found->from);
}

static int print_said(struct counter *counter, const struct stock *stock,
                      void (*say)(const struct counter *shop, const struct stock_shop *found,
                                  char says[SAYS_OCTETS]),
                      const struct table *table)
{
    struct screen screen = screen_of(counter->out);
    char says[SAYS_OCTETS];
    for (struct counter *shop = counter; (shop = counter_turn(shop)) != NULL; shop = shop->next) {
        say(shop, &stock->shops[shop->number], says);
        screen_print_folded(&screen, says, 2, counter->out);
    }
    return table_rows(table) > 0 ? table_print(table, counter->out) : EX_OK;
}

static int print_stock(struct counter *counter, const struct stock *stock)
{
    const struct options *options = counter->options;
    if (options->json) {
        return print_json(counter, stock);
    }
    if (options->csv) {
        return table_print(options->used ? stock->used : stock->needed, counter->out);
    }
    int status = options->used ? EX_OK : print_said(counter, stock, say_needed, stock->needed);
    if (status != EX_OK || (!options->used && table_rows(stock->used) == 0)) {
        return status;
    }
    (void)fputs(options->used ? "" : "\n", counter->out);
    return print_said(counter, stock, say_used, stock->used);
}

int stock_verb(struct counter *counter)
{
    struct stock stock = {.needed = NULL};
    int status = EX_OK;
    if (counter_each(counter, look, &stock)) {
        fill_tables(counter, &stock);
        status = print_stock(counter, &stock);
    }
    for (size_t i = 0; i < OPTIONS_CONFIGS_MAX; i++) {
        shelf_used_free(&stock.shops[i].used);
        shelf_free(&stock.shops[i].needed);
    }
    table_free(stock.needed);
    table_free(stock.used);
    return status;
}
