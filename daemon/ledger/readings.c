/* SPDX-License-Identifier: MIT
 * readings: meter figures and changes of meter. True hours are not stored but come from the changes
 * that stand, so that taking back a change puts every later figure right. */
#include "daemon/ledger/readings.h"

#include "daemon/ledger/record.h"
#include "daemon/ledger/store.h"

#define FIELD(kind, member) STORE_FIELD(struct reading_row, kind, member)
static const struct store_field fields[] = {
    FIELD(ID, id),
    FIELD(ID, machine_id),
    FIELD(NUMBER, meter_hundredths),
    FIELD(NUMBER, true_hundredths),
    FIELD(NUMBER, read_s),
    FIELD(NUMBER, noted_s),
    FIELD(ID, person_id),
    FIELD(ID, text_id),
    FIELD(WORDS, remark),
    FIELD(NUMBER, struck),
};
static const struct store_shape shape = STORE_SHAPE(struct reading_row, fields);

enum ledger_result readings_add(struct ledger *ledger, struct reading_row *row)
{
    int64_t offset_hundredths;
    store_step(ledger);
    (void)store_add(ledger, STATEMENT_READING_ADD, &shape, row, &row->id);
    (void)readings_offset(ledger, row->machine_id, row->read_s, &offset_hundredths);
    row->true_hundredths = row->meter_hundredths + offset_hundredths;
    row->struck = false;
    return store_step_end(ledger, effects_note(ledger, row->text_id, "reading", row->id));
}

enum ledger_result readings_latest(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                   size_t most, struct reading_row *rows, size_t *count)
{
    return store_list(ledger, STATEMENT_READINGS_LATEST, &shape, rows, most, count,
                      STORE_VALUES(store_integer(machine_id), store_integer(until_s),
                                   store_integer((int64_t)most)));
}

/* Adds each change of meter to the figures read since, and all of them to the offset. */
static enum ledger_result add_changes(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                      struct reading_point *points, size_t count,
                                      int64_t *offset_hundredths)
{
    sqlite3_stmt *row;
    *offset_hundredths = 0;
    enum ledger_result result =
        store_first(ledger, STATEMENT_METER_CHANGES_UNTIL, &row,
                    STORE_VALUES(store_integer(machine_id), store_integer(until_s)));
    while (result == LEDGER_OK) {
        int64_t at_s = store_column(row, 0);
        int64_t hundredths = store_column(row, 1);
        *offset_hundredths += hundredths;
        for (size_t i = 0; i < count && points[i].read_s >= at_s; i++) {
            points[i].true_hundredths += hundredths;
        }
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

/* A look at a whole yard is mostly this: no row is asked for beyond the last that is wanted. */
static enum ledger_result list_points(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                      size_t most, struct reading_point *points, size_t *count)
{
    sqlite3_stmt *row;
    *count = 0;
    enum ledger_result result =
        store_first(ledger, STATEMENT_READINGS_RECENT, &row,
                    STORE_VALUES(store_integer(machine_id), store_integer(until_s)));
    while (result == LEDGER_OK && *count < most) {
        int64_t meter_hundredths = store_column(row, 1);
        points[(*count)++] = (struct reading_point){.id = store_column(row, 0),
                                                    .meter_hundredths = meter_hundredths,
                                                    .true_hundredths = meter_hundredths,
                                                    .read_s = store_column(row, 2)};
        result = *count < most ? store_next(ledger, row) : LEDGER_OK;
    }
    if (result == LEDGER_OK) {
        store_done(row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

enum ledger_result readings_recent(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                   size_t most, struct reading_point *points, size_t *count,
                                   int64_t *offset_hundredths)
{
    enum ledger_result result = list_points(ledger, machine_id, until_s, most, points, count);
    return result == LEDGER_OK
               ? add_changes(ledger, machine_id, until_s, points, *count, offset_hundredths)
               : result;
}

enum ledger_result readings_thinned(struct ledger *ledger, const struct readings_choice *choice,
                                    struct reading_point *points, size_t *recent_count,
                                    size_t *count, int64_t *offset_hundredths)
{
    enum ledger_result result = list_points(ledger, choice->machine_id, choice->until_s,
                                            choice->recent, points, recent_count);
    *count = *recent_count;
    bool more = *count > 0 && *count == choice->recent;
    for (size_t i = 0; i < choice->step_count && more && result == LEDGER_OK; i++) {
        int64_t until_s = points[*count - 1].read_s - choice->steps_s[i];
        size_t found = 0;
        result = list_points(ledger, choice->machine_id, until_s, 1, &points[*count], &found);
        more = found > 0 && points[*count].read_s >= choice->from_s;
        *count += more ? 1 : 0;
    }
    return result == LEDGER_OK ? add_changes(ledger, choice->machine_id, choice->until_s, points,
                                             *count, offset_hundredths)
                               : result;
}

enum ledger_result readings_stand(struct ledger *ledger, const struct reading_row *row, bool *found)
{
    int64_t count = 0;
    enum ledger_result result =
        store_number(ledger, STATEMENT_READINGS_STAND, &count,
                     STORE_VALUES(store_integer(row->machine_id), store_integer(row->read_s),
                                  store_integer(row->meter_hundredths)));
    *found = count > 0;
    return result;
}

enum ledger_result readings_next_after(struct ledger *ledger, int64_t machine_id, int64_t after_s,
                                       struct reading_row *row)
{
    return store_find(ledger, STATEMENT_READING_NEXT_AFTER, &shape, row,
                      STORE_VALUES(store_integer(machine_id), store_integer(after_s)));
}

enum ledger_result readings_first(struct ledger *ledger, int64_t machine_id,
                                  struct reading_row *row)
{
    return store_find(ledger, STATEMENT_READING_FIRST, &shape, row,
                      STORE_VALUES(store_integer(machine_id)));
}

#define CHANGE(kind, member) STORE_FIELD(struct meter_change, kind, member)
static const struct store_field change_fields[] = {
    CHANGE(ID, machine_id),
    CHANGE(NUMBER, at_s),
    CHANGE(NUMBER, old_last_hundredths),
    CHANGE(NUMBER, new_first_hundredths),
    CHANGE(ID, person_id),
    CHANGE(ID, text_id),
};
static const struct store_shape change_shape = STORE_SHAPE(struct meter_change, change_fields);

enum ledger_result readings_change_meter(struct ledger *ledger, struct meter_change *change)
{
    store_step(ledger);
    (void)store_add(ledger, STATEMENT_METER_CHANGE_ADD, &change_shape, change, &change->id);
    return store_step_end(ledger, effects_note(ledger, change->text_id, "meter", change->id));
}

enum ledger_result readings_offset(struct ledger *ledger, int64_t machine_id, int64_t at_s,
                                   int64_t *offset_hundredths)
{
    return store_number(ledger, STATEMENT_METER_OFFSET, offset_hundredths,
                        STORE_VALUES(store_integer(machine_id), store_integer(at_s)));
}

static enum ledger_result each_row(struct ledger *ledger, enum statement statement, int64_t value,
                                   void (*each)(void *ctx, const struct reading_row *row),
                                   void *ctx)
{
    sqlite3_stmt *row;
    enum ledger_result result =
        store_first(ledger, statement, &row, STORE_VALUES(store_integer(value)));
    while (result == LEDGER_OK) {
        struct reading_row reading;
        store_read(row, &shape, &reading);
        each(ctx, &reading);
        result = store_next(ledger, row);
    }
    return result == LEDGER_NONE ? LEDGER_OK : result;
}

enum ledger_result readings_each(struct ledger *ledger, int64_t machine_id,
                                 void (*each)(void *ctx, const struct reading_row *row), void *ctx)
{
    return each_row(ledger, STATEMENT_READINGS_EACH, machine_id, each, ctx);
}

enum ledger_result readings_remarked_since(struct ledger *ledger, int64_t since_s,
                                           void (*each)(void *ctx, const struct reading_row *row),
                                           void *ctx)
{
    return each_row(ledger, STATEMENT_READINGS_REMARKED, since_s, each, ctx);
}

enum ledger_result readings_of_text(struct ledger *ledger, int64_t text_id, struct reading_row *row)
{
    return store_find(ledger, STATEMENT_READING_OF_TEXT, &shape, row,
                      STORE_VALUES(store_integer(text_id)));
}

enum ledger_result readings_of_person(struct ledger *ledger, int64_t person_id, int64_t machine_id,
                                      int64_t since_s, struct reading_row *row)
{
    return store_find(
        ledger, STATEMENT_READING_OF_PERSON, &shape, row,
        STORE_VALUES(store_integer(person_id), store_integer(machine_id), store_integer(since_s)));
}
