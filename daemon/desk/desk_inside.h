/* SPDX-License-Identifier: MIT
 * desk_inside: what the desk has in its hands between two texts, for its own room alone: the yard's
 * names, the time it works by, and what it must remember. Allocated once, sized for the settings;
 * nothing is allocated while a text is worked on. */
#ifndef METERPOST_DAEMON_DESK_DESK_INSIDE_H
#define METERPOST_DAEMON_DESK_DESK_INSIDE_H

#include "daemon/desk/turn.h"
#include "daemon/ledger/readings.h"
#include "daemon/upkeep/clock_judge.h"

/* The yard's names as one person may use them, for the grammar. Where machines have an owner, crews
 * see those of the owners whose machines they look after; the shop sees all. */
struct names {
    struct crew_machine *machines;
    int32_t *index;      /* from the grammar's machine to settings.machines */
    const char **former; /* the name, where it is one that the machine had before; else NULL */
    const char **plans;
    const char **people;
    struct crew_title *titles;
    struct crew_names view;
};
/* Fills the view for a person (index into settings.people). */
void names_for(struct names *names, const struct settings *settings, int32_t person);
/* Whether the person looks after the machine (indexes into the settings). */
bool names_own(const struct settings *settings, int32_t machine, int32_t person);

/* The time the desk works by: the box's clock, or, where that is plainly wrong, the time known from
 * outside. It gathers what upkeep/clock_judge judges by, and carries each word of the time on by the
 * monotonic clock, which nobody sets. */
struct desk_clock {
    int64_t network_s, network_ms; /* the network's time, and when it was told; 0 never */
    int64_t witnessed_s;           /* kept in the ledger; 0 none */
    size_t count;
    struct {
        int64_t said_s, came_ms;
    } texts[CLOCK_STAMPS_MOST]; /* the latest to come first */
    enum clock_verdict told;    /* what the log has heard of */
};
/* A text of the roster has come with that stamp. The same stamp counts once. */
void desk_clock_text(struct desk_clock *clock, struct instant now, int64_t said_s);

/* What one person sent last that was not understood. Kept in memory: a restart forgets it, and the
 * caps of the post hold all the same. */
struct chatter {
    uint64_t words; /* hash of it */
    int64_t said_s;
    int64_t hour_s; /* when the hour that is counted began */
    int count;
};

struct desk {
    const struct settings *settings;
    struct ledger *ledger;
    struct yard yard;
    struct names names;
    struct crew_text_room *hearing;
    struct turn turn;
    struct desk_answer answer; /* of a text that came over the air */
    struct texts_kept kept;
    struct texts_part part;
    struct part ready; /* marked as handed over already, for the modem's next question */
    bool has_ready;
    size_t ready_modem;
    int64_t ready_s, ready_person_id;
    int64_t under_way[SETTINGS_MODEMS_MAX]; /* the part that is with each modem, 0 none */
    uint32_t working;                       /* the modems that are, a bit each */
    struct chatter *chatter;                /* one a person */
    int64_t capped_said_s;                  /* when the log last heard of a cap */
    uint64_t not_kept; /* why a text could not be kept, as it was logged, in short; 0 all is well */
    int64_t parts_since_s; /* since when a long text waits for parts; 0 none does */
    struct desk_clock clock;
    bool dates_held;   /* the clock is not believed: nothing that goes by dates is told */
    int64_t doubted_s; /* the stamp of a text that was not believed, being ahead; 0 none */
    int64_t stamp_s;   /* the centre's, of the text under work; 0 none */
    int64_t ahead_s;   /* how far the turn under work is ahead of the box's clock (figure_place) */
    bool undated;      /* texts may wait for a time to be dated by */
    bool unsettled;    /* something was taken back: the round looks at every machine again */
};

/* The machine of a ledger's number in the settings; -1 where it is there no more. */
int32_t desk_machine(struct desk *desk, int64_t machine_id);
/* The same of a person; and back: 0 with a fault. */
int32_t desk_person(struct desk *desk, int64_t person_id);
int64_t desk_person_id(struct desk *desk, int32_t person);
/* The last reading of a machine that stands, of that moment or before; false where there is none. */
bool desk_last_reading(struct desk *desk, int64_t machine_id, int64_t until_s,
                       struct reading_row *row);

/* Judges the box's clock, says where it is judged anew, and notes whether dates are held. */
struct clock_judgement desk_judge_clock(struct desk *desk, struct instant now);
/* The same: the time to work by, 0 where none is known. */
int64_t desk_time(struct desk *desk, struct instant now);
/* The same for what has to have some time: the box's where none is known. */
int64_t desk_time_or_wall(struct desk *desk, struct instant now);

/* Works on every text that was kept but not worked on. */
void receive_arrived(struct desk *desk, int64_t now_s);
/* Long texts of which a part has not come for so long are worked on as they are. */
#define RECEIVE_PARTS_WAIT_S (2 * 3600)
void receive_give_up_parts(struct desk *desk, int64_t now_s);

#endif
