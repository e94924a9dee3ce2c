/* SPDX-License-Identifier: MIT
 * standing: see standing.h. */
#include "daemon/counter/standing.h"

#include "daemon/counter/json.h"

struct json_object *standing_json(const struct settings *settings,
                                  const struct yard_standing *standing)
{
    struct json_object *row = json_object_new_object();
    const struct settings_machine *machine = &settings->machines[standing->machine];
    json_add_text(row, "machine", machine->name);
    json_add_text(row, "kind", settings->kinds[machine->kind].name);
    json_add_text(row, "plan", settings->plans[standing->plan].name);
    json_add_text(row, "stage", due_stage_word(standing->stage));
    if (standing->read) {
        json_add_hours(row, "meter", standing->meter_hundredths);
        json_add_hours(row, "true_hours", standing->true_hundredths);
        json_add_time(row, "read_at", standing->read_s);
        json_add_decimal(row, "hours_a_day", standing->hours_a_day);
    }
    if (standing->has_due) {
        json_add_hours(row, "due_hours", standing->due_true_hundredths);
    }
    if (standing->has_due && standing->read) {
        json_add_hours(row, "hours_left", standing->left_hundredths);
    }
    if (standing->has_forecast) {
        json_add_day(row, "due_on", standing->due_day);
        json_add_day(row, "earliest", standing->earliest_day);
        json_add_day(row, "latest", standing->latest_day);
    }
    if (standing->serviced) {
        json_add_hours(row, "last_done_hours", standing->last_done_true_hundredths);
    }
    if (standing->serviced && standing->last_done_day_known) {
        json_add_day(row, "last_done_on", standing->last_done_day);
    }
    return row;
}

const char *standing_hours(bool there, int64_t hundredths, char room[HOURS_TEXT_OCTETS])
{
    room[0] = '\0';
    if (there) {
        (void)hours_write(hundredths, room, HOURS_TEXT_OCTETS);
    }
    return room;
}

const char *standing_day(bool there, int32_t day, char room[CIVIL_TEXT_OCTETS])
{
    room[0] = '\0';
    if (there) {
        civil_write(day, room, CIVIL_TEXT_OCTETS);
    }
    return room;
}

const char *standing_stage_says(enum due_stage stage)
{
    return stage == DUE_STAGE_COMING_UP   ? "coming up"
           : stage == DUE_STAGE_NO_RECORD ? "no record"
                                          : due_stage_word(stage);
}

enum table_tint standing_tint(enum due_stage stage)
{
    switch (stage) {
    case DUE_STAGE_OVERDUE:
    case DUE_STAGE_DUE:
        return TABLE_BAD;
    case DUE_STAGE_COMING_UP:
    case DUE_STAGE_NO_RECORD:
        return TABLE_WARN;
    case DUE_STAGE_PARKED:
    case DUE_STAGE_UNREAD:
        return TABLE_FAINT;
    case DUE_STAGE_FINE:
        break;
    }
    return TABLE_PLAIN;
}

bool standing_wants_attention(const struct yard_standing *standing)
{
    return standing->stage == DUE_STAGE_DUE || standing->stage == DUE_STAGE_OVERDUE ||
           standing->stage == DUE_STAGE_NO_RECORD;
}
