/* SPDX-License-Identifier: MIT
 * board_verb: the board (daemon/board) at the counter: on the screen, in a file, or as JSON. What
 * is at the place is whole: the old page or the new one. */
#include <stdlib.h>
#include <sysexits.h>

#include "daemon/board/board.h"
#include "daemon/board/page_file.h"
#include "daemon/counter/counter.h"
#include "daemon/counter/output.h"
#include "daemon/counter/verbs.h"
#include "daemon/ledger/readings.h"

struct remarks {
    const struct counter *counter;
    struct json_object *array;
};

static void take_remark(void *ctx, const struct reading_row *row)
{
    struct remarks *remarks = ctx;
    char name[PEOPLE_NAME_OCTETS];
    if (row->read_s > remarks->counter->now_s ||
        machines_name(remarks->counter->ledger, row->machine_id, name) != LEDGER_OK) {
        return;
    }
    struct json_object *remark = json_object_new_object();
    json_add_time(remark, "at", row->read_s);
    json_add_text(remark, "machine", name);
    json_add_text(remark, "says", row->remark);
    (void)json_object_array_add(remarks->array, remark);
}

/* What the page shows, for programs. */
static int print_json(struct counter *counter)
{
    struct yard_standing *standings = NULL;
    size_t count = 0;
    struct remarks remarks = {counter, json_object_new_array()};
    int status = counter_load_troubles(counter);
    if (status == EX_OK) {
        status = counter_standings(counter, &standings, &count);
    }
    if (status == EX_OK) {
        status = counter_ledger_status(
            counter, readings_remarked_since(counter->ledger, counter->now_s - BOARD_REMARKS_S,
                                             take_remark, &remarks));
    }
    if (status == EX_OK) {
        struct json_object *whole = counter_due_json(counter, standings, count);
        json_add_text(whole, "shop", counter->settings->shop.name);
        json_add(whole, "trouble", counter_troubles_json(counter, -1));
        json_add(whole, "remarks", json_object_get(remarks.array));
        status = json_write(whole, counter->out);
    }
    (void)json_object_put(remarks.array);
    free(standings);
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
    }
    return EX_OK;
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
    struct yard yard = {.settings = counter->settings, .ledger = counter->ledger};
    struct board_page page;
    int status = counter_ledger_status(
        counter, board_make(&yard, counter->now_s, options->wall ? BOARD_WALL : BOARD_DESK, &page));
    if (status == EX_OK && page.text == NULL) {
        (void)fprintf(counter->err, "meterpost: memory is short; nothing was written\n");
        status = EX_OSERR;
    } else if (status == EX_OK) {
        status = put(counter, &page);
    }
    free(page.text);
    return status;
}
