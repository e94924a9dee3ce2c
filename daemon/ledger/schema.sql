-- SPDX-License-Identifier: MIT
-- schema: the ledger as it stands at version 5. A new ledger is made from this file in one
-- transaction; an older one is brought here by the steps of migrations.c.
--
-- Hours are integers in hundredths (134050 is 1340.50 h), times are Unix seconds (names end in
-- _s). Nothing that a person said is ever erased: readings, services and changes of meter are
-- struck out (struck_s, struck_by, struck_why) and stay.

-- The ledger's own numbers for the names that the config gives.
CREATE TABLE people (
    id           INTEGER PRIMARY KEY,
    name         TEXT NOT NULL COLLATE NOCASE UNIQUE
                 CHECK (length(CAST(name AS BLOB)) BETWEEN 1 AND 16),
    opted_out_s  INTEGER                         -- since when STOP is in force
) STRICT;

CREATE TABLE machines (
    id           INTEGER PRIMARY KEY,
    name         TEXT NOT NULL COLLATE NOCASE UNIQUE
                 CHECK (length(CAST(name AS BLOB)) BETWEEN 1 AND 16)
) STRICT;

-- A text in, whole. It begins as 'waiting' while parts of it are missing, else as 'arrived'.
CREATE TABLE texts_in (
    id           INTEGER PRIMARY KEY,
    phone        TEXT NOT NULL,                  -- E.164 where it is a number, else as sent
    answerable   INTEGER NOT NULL CHECK (answerable IN (0, 1)),
    person_id    INTEGER REFERENCES people (id),
    sent_s       INTEGER NOT NULL,               -- when, as far as is known; 0 unreadable
    received_s   INTEGER NOT NULL,
    body         TEXT NOT NULL,
    state        TEXT NOT NULL CHECK (state IN
                 ('arrived', 'done', 'stranger', 'unreadable', 'set-aside', 'waiting')),
    reference    INTEGER,                        -- of a long text
    parts        INTEGER NOT NULL CHECK (parts BETWEEN 1 AND 255),
    outcome      TEXT CHECK (outcome IN ('asked', 'refused', 'not-understood')), -- NULL: all done
    modem        TEXT                            -- by whose name in the config it came; NULL: it had none
) STRICT;
CREATE INDEX texts_in_by_time ON texts_in (received_s);
CREATE INDEX texts_in_arrived ON texts_in (received_s) WHERE state = 'arrived';
CREATE INDEX texts_in_waiting ON texts_in (phone) WHERE state = 'waiting';

-- Each PDU as the modem gave it. The fingerprint (sender, service centre's time, part, content)
-- tells a repeated delivery; a text typed at the counter has none.
CREATE TABLE arrivals (
    id           INTEGER PRIMARY KEY,
    text_id      INTEGER NOT NULL REFERENCES texts_in (id),
    part         INTEGER NOT NULL CHECK (part BETWEEN 1 AND 255),
    hex          TEXT NOT NULL,                  -- raw; '' when typed at the counter
    body         TEXT,                           -- this part of a long text, else NULL
    sent_s       INTEGER NOT NULL,
    received_s   INTEGER NOT NULL,
    fingerprint  TEXT UNIQUE,
    UNIQUE (text_id, part)
) STRICT;

-- A text out, and below it the state of each part.
CREATE TABLE texts_out (
    id           INTEGER PRIMARY KEY,
    person_id    INTEGER REFERENCES people (id),
    phone        TEXT NOT NULL,
    body         TEXT NOT NULL CHECK (length(CAST(body AS BLOB)) < 1600),
    kind         TEXT NOT NULL CHECK (kind IN
                 ('reply', 'question', 'alert', 'summary', 'notice')),
    about_id     INTEGER REFERENCES texts_in (id),
    created_s    INTEGER NOT NULL,
    expires_s    INTEGER NOT NULL                -- not sent any more from then on
) STRICT;
CREATE INDEX texts_out_by_time ON texts_out (created_s);

CREATE TABLE parts_out (
    id           INTEGER PRIMARY KEY,
    text_id      INTEGER NOT NULL REFERENCES texts_out (id),
    part         INTEGER NOT NULL,
    state        TEXT NOT NULL CHECK (state IN
                 ('waiting', 'handed-over', 'taken', 'failed', 'unknown')),
    urgency      INTEGER NOT NULL,               -- -1 danger, 0 alerts, 1 replies, questions, 2 rest
    not_before_s INTEGER NOT NULL,
    tries        INTEGER NOT NULL DEFAULT 0,
    repeated     INTEGER NOT NULL DEFAULT 0,     -- 1: sent again because its fate was unknown
    handed_s     INTEGER,                        -- last handed over to the modem
    ended_s      INTEGER,
    reference    INTEGER,                        -- the network's (TP-MR)
    cause        INTEGER,                        -- +CMS ERROR, or -2 expired
    report       INTEGER,                        -- TP-ST of its delivery report
    reported_s   INTEGER,
    modem        TEXT,                           -- last handed over to, as texts_in.modem
    UNIQUE (text_id, part)
) STRICT;
CREATE INDEX parts_out_waiting ON parts_out (urgency, text_id, part) WHERE state = 'waiting';
CREATE INDEX parts_out_under_way ON parts_out (handed_s) WHERE state = 'handed-over';
CREATE INDEX parts_out_by_handed ON parts_out (handed_s) WHERE handed_s IS NOT NULL;

-- What the meter showed.
CREATE TABLE readings (
    id               INTEGER PRIMARY KEY,
    machine_id       INTEGER NOT NULL REFERENCES machines (id),
    meter_hundredths INTEGER NOT NULL CHECK (meter_hundredths >= 0),
    read_s           INTEGER NOT NULL,           -- when it was taken
    noted_s          INTEGER NOT NULL,           -- when it came in
    person_id        INTEGER REFERENCES people (id),
    text_id          INTEGER REFERENCES texts_in (id),
    remark           TEXT NOT NULL,
    struck_s         INTEGER,
    struck_by        INTEGER REFERENCES people (id),
    struck_why       TEXT,
    CHECK ((struck_s IS NULL) = (struck_why IS NULL))
) STRICT;
-- This index and that of services are wide enough to reckon a whole yard from them alone.
CREATE INDEX readings_by_machine ON readings (machine_id, read_s, meter_hundredths, struck_s);

-- A meter replaced or rolled over. What is read at at_s or later is the new meter's; its true
-- hours are the meter's plus (old_last - new_first) of every change up to then.
CREATE TABLE meter_changes (
    id                   INTEGER PRIMARY KEY,
    machine_id           INTEGER NOT NULL REFERENCES machines (id),
    at_s                 INTEGER NOT NULL,
    old_last_hundredths  INTEGER NOT NULL CHECK (old_last_hundredths >= 0),
    new_first_hundredths INTEGER NOT NULL CHECK (new_first_hundredths >= 0),
    person_id            INTEGER REFERENCES people (id),
    text_id              INTEGER REFERENCES texts_in (id),
    struck_s             INTEGER,
    struck_by            INTEGER REFERENCES people (id),
    struck_why           TEXT,
    CHECK ((struck_s IS NULL) = (struck_why IS NULL))
) STRICT;
CREATE INDEX meter_changes_by_machine ON meter_changes (machine_id, at_s);

CREATE TABLE services (
    id                   INTEGER PRIMARY KEY,
    machine_id           INTEGER NOT NULL REFERENCES machines (id),
    plan                 TEXT NOT NULL,
    meter_hundredths     INTEGER NOT NULL CHECK (meter_hundredths >= 0),
    done_s               INTEGER NOT NULL,
    noted_s              INTEGER NOT NULL,
    person_id            INTEGER REFERENCES people (id),
    text_id              INTEGER REFERENCES texts_in (id),
    quantity_thousandths INTEGER NOT NULL,       -- of unit; 0 unsaid
    unit                 TEXT NOT NULL CHECK (unit IN ('', 'qt', 'l')),
    remark               TEXT NOT NULL,
    struck_s             INTEGER,
    struck_by            INTEGER REFERENCES people (id),
    struck_why           TEXT,
    undated              INTEGER NOT NULL DEFAULT 0 CHECK (undated IN (0, 1)), -- 1: no day was said,
                                                 -- done_s is the earliest it can be, 0 unknown
    CHECK ((struck_s IS NULL) = (struck_why IS NULL))
) STRICT;
CREATE INDEX services_by_machine ON services (machine_id, plan, struck_s, meter_hundredths, done_s);

-- What was said in words: of trouble and danger, open until the shop says SOLVED; and mere remarks,
-- which are only passed on.
CREATE TABLE troubles (
    id           INTEGER PRIMARY KEY,
    machine_id   INTEGER REFERENCES machines (id), -- NULL: none was named
    weight       INTEGER NOT NULL CHECK (weight BETWEEN 0 AND 2), -- remark, trouble, danger
    since_s      INTEGER NOT NULL,
    person_id    INTEGER REFERENCES people (id),
    text_id      INTEGER REFERENCES texts_in (id),
    words        TEXT NOT NULL,
    told_s       INTEGER,                        -- when the shop was told
    solved_s     INTEGER,
    solved_by    INTEGER REFERENCES people (id),
    solved_words TEXT,
    struck_s     INTEGER,
    struck_by    INTEGER REFERENCES people (id),
    struck_why   TEXT,
    CHECK ((struck_s IS NULL) = (struck_why IS NULL))
) STRICT;
CREATE INDEX troubles_open ON troubles (machine_id, since_s)
    WHERE weight > 0 AND solved_s IS NULL AND struck_s IS NULL;
CREATE INDEX troubles_untold ON troubles (since_s) WHERE told_s IS NULL AND struck_s IS NULL;
CREATE INDEX troubles_by_person ON troubles (person_id, told_s);
CREATE INDEX troubles_by_text ON troubles (text_id);

-- Once for each machine, plan, cycle and stage among those that are not void.
CREATE TABLE alerts (
    id               INTEGER PRIMARY KEY,
    machine_id       INTEGER NOT NULL REFERENCES machines (id),
    plan             TEXT NOT NULL,              -- '' when it is about no plan
    cycle            INTEGER NOT NULL,
    stage            TEXT NOT NULL,
    raised_s         INTEGER NOT NULL,
    cause_reading_id INTEGER REFERENCES readings (id),
    cause_service_id INTEGER REFERENCES services (id),
    told_s           INTEGER,
    told_in          INTEGER REFERENCES texts_out (id),
    void_s           INTEGER,
    void_by          TEXT CHECK (void_by IN ('hand', 'reading', 'service')),
    CHECK ((void_s IS NULL) = (void_by IS NULL))
) STRICT;
CREATE UNIQUE INDEX alerts_once ON alerts (machine_id, plan, cycle, stage) WHERE void_s IS NULL;
CREATE INDEX alerts_untold ON alerts (raised_s) WHERE told_s IS NULL AND void_s IS NULL;
CREATE INDEX alerts_by_reading ON alerts (cause_reading_id) WHERE cause_reading_id IS NOT NULL;
CREATE INDEX alerts_by_service ON alerts (cause_service_id) WHERE cause_service_id IS NOT NULL;

-- Spells laid up for the season; at most one of a machine is open.
CREATE TABLE parkings (
    id           INTEGER PRIMARY KEY,
    machine_id   INTEGER NOT NULL REFERENCES machines (id),
    from_s       INTEGER NOT NULL,
    until_s      INTEGER,                        -- NULL: still laid up
    parked_by    INTEGER REFERENCES people (id),
    back_by      INTEGER REFERENCES people (id),
    struck_s     INTEGER                         -- taken back
) STRICT;
CREATE UNIQUE INDEX parkings_open ON parkings (machine_id)
    WHERE until_s IS NULL AND struck_s IS NULL;
CREATE INDEX parkings_by_machine ON parkings (machine_id, from_s);

-- LATER: no reminders before until_s; the latest that was not taken back is in force.
CREATE TABLE put_offs (
    id           INTEGER PRIMARY KEY,
    machine_id   INTEGER NOT NULL REFERENCES machines (id),
    until_s      INTEGER NOT NULL,
    person_id    INTEGER REFERENCES people (id),
    struck_s     INTEGER,
    at_s         INTEGER                         -- when it was said
) STRICT;
CREATE INDEX put_offs_by_machine ON put_offs (machine_id);

-- Into the shop and out of it, and out of the yard: the latest that was not taken back is how the
-- machine stands. day is the civil day it is booked for, or the one on which it left for good where
-- that was said.
CREATE TABLE movements (
    id           INTEGER PRIMARY KEY,
    machine_id   INTEGER NOT NULL REFERENCES machines (id),
    what         TEXT NOT NULL CHECK (what IN ('book', 'in', 'out', 'gone', 'back')),
    day          INTEGER,
    at_s         INTEGER NOT NULL,               -- when it was said
    person_id    INTEGER REFERENCES people (id),
    text_id      INTEGER REFERENCES texts_in (id),
    struck_s     INTEGER,
    struck_by    INTEGER REFERENCES people (id),
    struck_why   TEXT,
    CHECK (what IN ('book', 'gone') OR day IS NULL),
    CHECK (what <> 'book' OR day IS NOT NULL),
    CHECK ((struck_s IS NULL) = (struck_why IS NULL))
) STRICT;
CREATE INDEX movements_by_machine ON movements (machine_id, at_s);

-- What was asked; at most one question of a person is open (outcome NULL).
CREATE TABLE questions (
    id                   INTEGER PRIMARY KEY,
    person_id            INTEGER NOT NULL REFERENCES people (id),
    machine_id           INTEGER REFERENCES machines (id),
    kind                 TEXT NOT NULL,
    offer_machine_id     INTEGER REFERENCES machines (id),
    offer_hundredths     INTEGER NOT NULL,       -- -1 none, as the two below
    offer_to_hundredths  INTEGER NOT NULL,
    typed_hundredths     INTEGER NOT NULL,
    strikes_reading_id   INTEGER REFERENCES readings (id),
    read_s               INTEGER NOT NULL,
    plan                 TEXT NOT NULL,
    quantity_thousandths INTEGER NOT NULL,
    unit                 TEXT NOT NULL,
    remark               TEXT NOT NULL,
    text_id              INTEGER REFERENCES texts_in (id),
    asked_s              INTEGER NOT NULL,
    outcome              TEXT,
    closed_s             INTEGER,
    closed_by            INTEGER REFERENCES texts_in (id),
    says                 TEXT NOT NULL DEFAULT '', -- the question as it was put
    CHECK ((outcome IS NULL) = (closed_s IS NULL))
) STRICT;
CREATE UNIQUE INDEX questions_open ON questions (person_id) WHERE outcome IS NULL;
CREATE INDEX questions_by_text ON questions (text_id);

-- Figures that were refused, so that the same one sent again is known.
CREATE TABLE refusals (
    id           INTEGER PRIMARY KEY,
    person_id    INTEGER NOT NULL REFERENCES people (id),
    machine_id   INTEGER NOT NULL REFERENCES machines (id),
    hundredths   INTEGER NOT NULL,
    text_id      INTEGER REFERENCES texts_in (id),
    at_s         INTEGER NOT NULL
) STRICT;
CREATE INDEX refusals_by_machine ON refusals (machine_id, person_id, at_s);

-- What each text did, in order, so that UNDO can take all of it back. row_id is a row of the
-- table that `what` stands for (record.c).
CREATE TABLE effects (
    id           INTEGER PRIMARY KEY,
    text_id      INTEGER NOT NULL REFERENCES texts_in (id),
    what         TEXT NOT NULL,
    row_id       INTEGER NOT NULL,
    undone_s     INTEGER
) STRICT;
CREATE INDEX effects_by_text ON effects (text_id);

-- Single facts by name.
CREATE TABLE marks (
    name         TEXT PRIMARY KEY,
    value        INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
-- 48 bits that tell this yard from all others, for good: in the identifiers of its calendar.
INSERT INTO marks (name, value) VALUES ('yard', random() & 0xffffffffffff);

PRAGMA application_id = 1297109844; -- "MPST"
PRAGMA user_version = 5;
