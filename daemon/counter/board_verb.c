/* SPDX-License-Identifier: MIT
 * board_verb: the board (daemon/board) at the counter: on the screen, in a file, or as JSON. What
 * is at the place is whole: the old page or the new one. */
#include <stdlib.h>
#include <sysexits.h>

#include "daemon/board/board.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/verbs.h"
#include "daemon/ledger/readings.h"

struct remarks {
    const struct counter *shop;
    struct json_object *array;
};

static void take_remark(void *ctx, const struct reading_row *row)
{
    struct remarks *remarks = ctx;
    char name[PEOPLE_NAME_OCTETS];
    if (row->read_s > remarks->shop->now_s ||
        machines_name(remarks->shop->ledger, row->machine_id, name) != LEDGER_OK) {
        return;
    }
    struct json_object *remark = json_object_new_object();
    json_add_time(remark, "at", row->read_s);
    json_add_text(remark, "machine", name);
    json_add_text(remark, "says", row->remark);
    json_add_text(remark, "shop", remarks->shop->shop);
    (void)json_object_array_add(remarks->array, remark);
}

static int look(struct counter *shop, void *ctx)
{
    struct remarks *remarks = ctx;
    int status = counter_load_troubles(shop);
    if (status == EX_OK) {
        status = counter_load_standings(shop);
    }
    if (status == EX_OK) {
        remarks->shop = shop;
        status = counter_ledger_status(shop, readings_remarked_since(shop->ledger,
                                                                     shop->now_s - BOARD_REMARKS_S,
                                                                     take_remark, remarks));
    }
    return status;
}

/* What the page shows, for programs. */
static int print_json(struct counter *counter)
{
    struct remarks remarks = {.array = json_object_new_array()};
    struct json_object *trouble = NULL;
    int status = EX_OK;
    if (counter_each(counter, look, &remarks)) {
        struct json_object *whole = counter_due_json(counter);
        for (struct counter *shop = counter; (shop = counter_turn(shop)); shop = shop->next) {
            trouble = counter_troubles_json(shop, -1, trouble);
        }
        if (counter->shop == NULL) {
            json_add_text(whole, "shop", counter->settings->shop.name);
        }
        json_add(whole, "trouble", trouble);
        json_add(whole, "remarks", json_object_get(remarks.array));
        status = counter_write(counter, whole);
    }
    (void)json_object_put(remarks.array);
    return status;
}

static int put(struct counter *counter, const struct board_page *page)
{
    char says[PAGE_FILE_SAYS_OCTETS];
    if (counter->options->word_count == 0) {
        (void)fwrite(page->text, 1, page->length, counter->out);
    } else if (!page_file_write(counter->options->words[0], BOARD_PAGE_BEGINS, page->text,
                                page->length, says)) {
        (void)fprintf(counter->err, "meterpost: %s\n", says);
        return EX_CANTCREAT;
    } else {
        (void)fprintf(counter->out, "%s is written: open it in a browser.\n",
                      counter->options->words[0]);
    }
    return EX_OK;
}

static int judge(struct counter *shop, void *ctx)
{
    const struct board_shop *shops = ctx;
    return counter_ledger_status(shop, shops[shop->number].result);
}

static int print_page(struct counter *counter)
{
    struct board_shop shops[OPTIONS_CONFIGS_MAX];
    struct board_page page;
    size_t count = 0;
    int status = EX_OK;
    for (const struct counter *shop = counter; shop != NULL; shop = shop->next) {
        struct ledger *ledger = shop->wrong == EX_OK ? shop->ledger : NULL;
        shops[count++] = (struct board_shop){.yard = {.settings = shop->settings, .ledger = ledger},
                                             .now_s = shop->now_s,
                                             .name = shop->shop};
    }
    board_make(shops, count, counter->options->wall ? BOARD_WALL : BOARD_DESK, &page);
    bool any = counter_each(counter, judge, shops);
    if (any && page.text == NULL) {
        (void)fprintf(counter->err, "meterpost: memory is short; nothing was written\n");
        status = EX_OSERR;
    } else if (any) {
        status = put(counter, &page);
    }
    free(page.text);
    return status;
}

int board_verb(struct counter *counter)
{
    const struct options *options = counter->options;
    if (options->word_count > 1 || (options->word_count == 1 && options->json)) {
        (void)fprintf(counter->err,
                      options->json ? "meterpost: board --json goes to the screen alone; leave the "
                                      "file out\n"
                                    : "meterpost: one file is enough: meterpost board yard.html\n");
        return EX_USAGE;
    }
    if (options->json) {
        return print_json(counter);
    }
    return print_page(counter);
}
