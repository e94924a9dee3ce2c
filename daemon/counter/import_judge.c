/* SPDX-License-Identifier: MIT
 * import_judge: see import.h.
 *
 * A row that the ledger has already is passed over, so that a file can be imported again. A figure
 * must lie between its neighbours in time, true hours against true hours; the clock is not asked,
 * since what a crew would be asked about is long past. Rows come in order of time, so that those of
 * the file are judged as if the ones before were on record. */
#include "daemon/counter/import.h"

#include <stdlib.h>
#include <string.h>

#include "daemon/ground/zone.h"
#include "daemon/ledger/people.h"
#include "daemon/ledger/readings.h"
#include "daemon/ledger/record.h"
#include "daemon/ledger/services.h"
#include "parsers/hours.h"

/* What stands on record before and after a moment; hundredths are true hours. */
struct neighbours {
    int64_t offset_hundredths; /* true hours minus meter, for a figure of that moment */
    bool has_before, has_after;
    int64_t before_true, before_meter, before_s;
    int64_t after_true, after_meter, after_s;
};

/* What is known of a machine while its rows are judged, oldest first. */
struct import_machine {
    bool asked;  /* the ledger, for its number */
    int64_t id;  /* 0: not on record */
    bool passed; /* there was a row, and true_hundredths is its figure */
    int64_t true_hundredths, passed_s;
    bool looked; /* around a reading, the last one of it judged */
    struct neighbours around;
    int64_t swapped_s;         /* the last swap of the file, INT64_MIN none */
    int64_t offset_hundredths; /* all swaps of the file together */
    bool parkings_known;
    int64_t parked_s; /* laid up since, 0 not */
};

bool import_judge_begin(struct import_judge *judge, struct import_rows *rows, struct ledger *ledger)
{
    *judge = (struct import_judge){.ledger = ledger, .rows = rows};
    judge->machines = calloc(rows->settings->machine_count, sizeof *judge->machines);
    for (size_t i = 0; judge->machines != NULL && i < rows->settings->machine_count; i++) {
        judge->machines[i].swapped_s = INT64_MIN;
    }
    return judge->machines != NULL;
}

void import_judge_end(struct import_judge *judge)
{
    free(judge->machines);
    judge->machines = NULL;
}

static bool ok(struct import_judge *judge, enum ledger_result result)
{
    if (judge->result == LEDGER_OK && result != LEDGER_NONE) {
        judge->result = result;
    }
    return result == LEDGER_OK;
}

static struct import_machine *machine_of(struct import_judge *judge, const struct import_row *row)
{
    struct import_machine *machine = &judge->machines[row->machine];
    if (!machine->asked && judge->ledger != NULL) {
        (void)ok(judge,
                 machines_id(judge->ledger, judge->rows->settings->machines[row->machine].name,
                             &machine->id));
    }
    machine->asked = true;
    return machine;
}

static const char *name_of(const struct import_judge *judge, const struct import_row *row)
{
    return judge->rows->settings->machines[row->machine].name;
}

static void out_of_line(struct import_judge *judge, const struct import_row *row, const char *which,
                        int64_t neighbour_hundredths)
{
    char figure[HOURS_TEXT_OCTETS], neighbour[HOURS_TEXT_OCTETS];
    (void)hours_write(row->hundredths, figure, sizeof figure);
    (void)hours_write(neighbour_hundredths, neighbour, sizeof neighbour);
    import_mistakes_add(&judge->rows->mistakes, row->line,
                        "%s %sh does not fit: the reading %s it in time is %sh (a slip; or the "
                        "meter was replaced: import swaps first)",
                        name_of(judge, row), figure, which, neighbour);
}

static void look_around(struct import_judge *judge, int64_t machine_id, int64_t at_s,
                        struct neighbours *around)
{
    struct reading_row before, after;
    size_t count = 0;
    *around = (struct neighbours){0};
    if (machine_id == 0 ||
        !ok(judge, readings_offset(judge->ledger, machine_id, at_s, &around->offset_hundredths)) ||
        !ok(judge, readings_latest(judge->ledger, machine_id, at_s, 1, &before, &count))) {
        return;
    }
    if (count > 0) {
        around->has_before = true;
        around->before_true = before.true_hundredths;
        around->before_meter = before.meter_hundredths;
        around->before_s = before.read_s;
    }
    if (ok(judge, readings_next_after(judge->ledger, machine_id, at_s, &after))) {
        around->has_after = true;
        around->after_true = after.true_hundredths;
        around->after_meter = after.meter_hundredths;
        around->after_s = after.read_s;
    }
}

static void accept(struct import_judge *judge, struct import_row *row)
{
    row->accepted = true;
    judge->added++;
}

/* Rows come in order of time: until the reading after the last one is reached, both neighbours stay. */
static const struct neighbours *around_reading(struct import_judge *judge,
                                               struct import_machine *machine, int64_t at_s)
{
    struct neighbours *around = &machine->around;
    if (!machine->looked || (around->has_after && at_s >= around->after_s)) {
        look_around(judge, machine->id, at_s, around);
        machine->looked = true;
    } else if (machine->id != 0) {
        (void)ok(judge,
                 readings_offset(judge->ledger, machine->id, at_s, &around->offset_hundredths));
    }
    return around;
}

static void judge_reading(struct import_judge *judge, struct import_row *row)
{
    struct import_machine *machine = machine_of(judge, row);
    struct reading_row sought = {
        .machine_id = machine->id, .read_s = row->at_s, .meter_hundredths = row->hundredths};
    bool found = false;
    if (machine->id != 0 && ok(judge, readings_stand(judge->ledger, &sought, &found)) && found) {
        judge->already++;
        return;
    }
    const struct neighbours *around = around_reading(judge, machine, row->at_s);
    int64_t true_hundredths = row->hundredths + around->offset_hundredths;
    bool ours = machine->passed && !(around->has_before && around->before_s > machine->passed_s);
    if (ours && machine->true_hundredths > true_hundredths) {
        out_of_line(judge, row, "before", machine->true_hundredths - around->offset_hundredths);
    } else if (!ours && around->has_before && around->before_true > true_hundredths) {
        out_of_line(judge, row, "before", around->before_meter);
    } else if (around->has_after && around->after_true < true_hundredths) {
        out_of_line(judge, row, "after", around->after_meter);
    } else {
        accept(judge, row);
        machine->passed = true;
        machine->true_hundredths = true_hundredths;
        machine->passed_s = row->at_s;
    }
}

static void judge_service(struct import_judge *judge, struct import_row *row)
{
    struct service_row sought = {.machine_id = machine_of(judge, row)->id,
                                 .meter_hundredths = row->hundredths,
                                 .done_s = row->at_s};
    bool found = false;
    (void)snprintf(sought.plan, sizeof sought.plan, "%s",
                   judge->rows->settings->plans[row->plan].name);
    if (sought.machine_id != 0) {
        (void)ok(judge, services_stand(judge->ledger, &sought, &found));
    }
    if (found) {
        judge->already++;
    } else {
        accept(judge, row);
    }
}

/* Whether a machine's record has this change of meter already. */
struct swap_sought {
    const struct import_row *row;
    bool found;
};
static void compare_swap(void *ctx, const char *machine, const struct record_line *line)
{
    struct swap_sought *sought = ctx;
    (void)machine;
    sought->found = sought->found || (strcmp(line->kind, "meter") == 0 && line->struck_s == 0 &&
                                      line->at_s == sought->row->at_s &&
                                      line->meter_hundredths == sought->row->hundredths &&
                                      line->new_hundredths == sought->row->new_hundredths);
}

/* Whether the file has another swap of that machine from this row on until that moment. */
static bool swapped_again(const struct import_rows *rows, const struct import_row *row,
                          int64_t until_s)
{
    const struct import_row *end = &rows->rows[rows->count];
    for (const struct import_row *later = row + 1; later < end && later->at_s <= until_s; later++) {
        if (later->machine == row->machine) {
            return true;
        }
    }
    return false;
}

/* The old meter's last figure against what was read before it, the new one's first against what was
 * read since. A figure read at the moment of the swap is the new meter's. */
static void judge_swap_figures(struct import_judge *judge, struct import_row *row,
                               struct import_machine *machine)
{
    struct neighbours around;
    look_around(judge, machine->id, row->at_s - 1, &around);
    int64_t before = around.before_true +
                     (around.before_s >= machine->swapped_s ? machine->offset_hundredths : 0);
    int64_t old_last = row->hundredths + around.offset_hundredths + machine->offset_hundredths;
    if (around.has_before && before > old_last) {
        out_of_line(judge, row, "before", around.before_meter);
    } else if (machine->passed && machine->true_hundredths > old_last) {
        import_mistakes_add(&judge->rows->mistakes, row->line,
                            "%s: the old meter ends below the figure that it began with",
                            name_of(judge, row));
    } else if (around.has_after && !swapped_again(judge->rows, row, around.after_s) &&
               around.after_true < row->new_hundredths + around.offset_hundredths) {
        struct import_row new_meter = *row;
        new_meter.hundredths = row->new_hundredths;
        out_of_line(judge, &new_meter, "after", around.after_meter);
    } else {
        accept(judge, row);
        machine->passed = true;
        machine->true_hundredths = old_last;
        machine->swapped_s = row->at_s;
        machine->offset_hundredths += row->hundredths - row->new_hundredths;
    }
}

static void judge_swap(struct import_judge *judge, struct import_row *row)
{
    struct import_machine *machine = machine_of(judge, row);
    struct swap_sought sought = {.row = row};
    if (machine->id != 0) {
        (void)ok(judge, record_each(judge->ledger, machine->id, compare_swap, &sought));
    }
    if (sought.found) {
        judge->already++;
    } else {
        judge_swap_figures(judge, row, machine);
    }
}

/* What a machine's record has of spells laid up, against a row. */
struct parking_sought {
    const struct import_row *row;
    bool found, inside;
    int64_t open_s;
};
static void compare_parking(void *ctx, int64_t from_s, int64_t until_s)
{
    struct parking_sought *sought = ctx;
    const struct import_row *row = sought->row;
    sought->found = sought->found || row->at_s == (row->back ? until_s : from_s);
    sought->inside = sought->inside || (row->at_s > from_s && row->at_s < until_s);
    sought->open_s = until_s == 0 ? from_s : sought->open_s;
}

static void judge_parking(struct import_judge *judge, struct import_row *row)
{
    struct import_machine *machine = machine_of(judge, row);
    struct parking_sought sought = {.row = row};
    if (machine->id != 0) {
        (void)ok(judge, machines_parked_each(judge->ledger, machine->id, compare_parking, &sought));
    }
    if (!machine->parkings_known) {
        machine->parked_s = sought.open_s;
        machine->parkings_known = true;
    }
    if (sought.found) {
        judge->already++;
    } else if (sought.inside) {
        import_mistakes_add(&judge->rows->mistakes, row->line,
                            "%s is laid up then, as the record has it", name_of(judge, row));
    } else if (row->back && (machine->parked_s == 0 || machine->parked_s > row->at_s)) {
        import_mistakes_add(&judge->rows->mistakes, row->line, "%s is not laid up then",
                            name_of(judge, row));
    } else if (!row->back && machine->parked_s != 0) {
        import_mistakes_add(&judge->rows->mistakes, row->line,
                            "%s is laid up already, and not back until then", name_of(judge, row));
    } else {
        accept(judge, row);
        machine->parked_s = row->back ? 0 : row->at_s;
    }
}

static void (*const judges[])(struct import_judge *judge, struct import_row *row) = {
    [IMPORT_RECORD] = NULL, /* import_record */
    [IMPORT_READINGS] = judge_reading,
    [IMPORT_SERVICES] = judge_service,
    [IMPORT_SWAPS] = judge_swap,
    [IMPORT_PARKINGS] = judge_parking,
};

enum ledger_result import_judge_rows(struct import_judge *judge)
{
    struct import_row *rows = judge->rows->rows;
    for (size_t i = 0; i < judge->rows->count && judge->result == LEDGER_OK; i++) {
        const struct import_row *before = &rows[i > 0 ? i - 1 : 0];
        bool again = i > 0 && before->machine == rows[i].machine && before->at_s == rows[i].at_s &&
                     before->plan == rows[i].plan && before->back == rows[i].back &&
                     before->hundredths == rows[i].hundredths &&
                     before->new_hundredths == rows[i].new_hundredths;
        judge->already += again;
        if (!again) {
            judges[judge->rows->kind->what](judge, &rows[i]);
        }
    }
    return judge->result;
}
