/* SPDX-License-Identifier: MIT
 * readings: hour-meter figures by machine and time, and the changes of meter. Never erased, only
 * struck out. True hours = meter + what swapped meters had run. */
#ifndef METERPOST_DAEMON_LEDGER_READINGS_H
#define METERPOST_DAEMON_LEDGER_READINGS_H

#include "daemon/ledger/ledger.h"

#define READINGS_REMARK_OCTETS 321

struct reading_row {
    int64_t id;
    int64_t machine_id;
    int64_t meter_hundredths;
    int64_t true_hundredths; /* filled when read: meter plus the offset in force at read_s */
    int64_t read_s;          /* when it was taken */
    int64_t noted_s;         /* when it came in */
    int64_t person_id;       /* 0 unknown */
    int64_t text_id;         /* 0 none */
    char remark[READINGS_REMARK_OCTETS];
    bool struck;
};

/* id and true_hundredths of *row are filled in. */
enum ledger_result readings_add(struct ledger *ledger, struct reading_row *row);

/* The latest standing readings up to until_s, newest first, at most `most` of them. Of one moment
 * the highest figure is the newest, whichever came in first. */
enum ledger_result readings_latest(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                   size_t most, struct reading_row *rows, size_t *count);
/* The same without remark and sender, for reckoning over a whole yard. *offset_hundredths is the
 * offset in force at until_s. */
struct reading_point {
    int64_t id;
    int64_t meter_hundredths, true_hundredths;
    int64_t read_s;
};
enum ledger_result readings_recent(struct ledger *ledger, int64_t machine_id, int64_t until_s,
                                   size_t most, struct reading_point *points, size_t *count,
                                   int64_t *offset_hundredths);
/* The same, and older ones thinned out: beyond the `recent` latest, for each step the latest standing
 * one that lies at least so many seconds before the one before it, as long as there is any that is
 * not older than from_s. points has room for recent + step_count. */
struct readings_choice {
    int64_t machine_id;
    int64_t from_s, until_s;
    size_t recent;
    const int64_t *steps_s;
    size_t step_count;
};
enum ledger_result readings_thinned(struct ledger *ledger, const struct readings_choice *choice,
                                    struct reading_point *points, size_t *recent_count,
                                    size_t *count, int64_t *offset_hundredths);
/* Whether a reading of that machine, moment and figure stands. */
enum ledger_result readings_stand(struct ledger *ledger, const struct reading_row *row,
                                  bool *found);
/* The first standing reading after that moment. */
enum ledger_result readings_next_after(struct ledger *ledger, int64_t machine_id, int64_t after_s,
                                       struct reading_row *row);
/* The very first standing reading of a machine. */
enum ledger_result readings_first(struct ledger *ledger, int64_t machine_id,
                                  struct reading_row *row);

/* A change of meter at at_s: the old one's last figure, the new one's first. A figure read at at_s
 * or later is the new meter's. */
struct meter_change {
    int64_t id;
    int64_t machine_id;
    int64_t at_s;
    int64_t old_last_hundredths, new_first_hundredths;
    int64_t person_id, text_id;
};
enum ledger_result readings_change_meter(struct ledger *ledger, struct meter_change *change);
/* True hours minus meter, for a figure read at that moment. */
enum ledger_result readings_offset(struct ledger *ledger, int64_t machine_id, int64_t at_s,
                                   int64_t *offset_hundredths);

/* Every reading of a machine, struck ones too, oldest first. */
enum ledger_result readings_each(struct ledger *ledger, int64_t machine_id,
                                 void (*each)(void *ctx, const struct reading_row *row), void *ctx);
/* The last reading that a text added, struck out or not; LEDGER_NONE. */
enum ledger_result readings_of_text(struct ledger *ledger, int64_t text_id,
                                    struct reading_row *row);

/* The last standing reading that a text of that person has brought about since that moment, of that
 * machine, 0 any; LEDGER_NONE. */
enum ledger_result readings_of_person(struct ledger *ledger, int64_t person_id, int64_t machine_id,
                                      int64_t since_s, struct reading_row *row);

/* Standing readings with a remark of the texts that came since that moment, oldest first. */
enum ledger_result readings_remarked_since(struct ledger *ledger, int64_t since_s,
                                           void (*each)(void *ctx, const struct reading_row *row),
                                           void *ctx);

#endif
