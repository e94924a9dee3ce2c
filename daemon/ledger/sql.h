/* SPDX-License-Identifier: MIT
 * sql: every SQL statement of the ledger, once, by name. store.h walks it for the names, store.c for
 * the texts: each defines STATEMENT for itself, so there is no include guard. They are prepared once
 * when the ledger opens; what a text says only ever reaches them as a bound value, ?1 and up.
 * Columns are read by position where a statement is used, so each list of columns stands once, as a
 * macro. Inside this room only. */

/* True hours: the meter's plus what was swapped away up to the moment of the figure. */
#define OFFSET_AT(machine, moment)                                                                 \
    "coalesce((SELECT sum(c.old_last_hundredths - c.new_first_hundredths) FROM meter_changes c "   \
    "WHERE c.machine_id = " machine " AND c.at_s <= " moment " AND c.struck_s IS NULL), 0)"
#define READING_OFFSET OFFSET_AT("r.machine_id", "r.read_s")
#define SERVICE_OFFSET OFFSET_AT("s.machine_id", "s.done_s")

#define READINGS                                                                                   \
    "SELECT r.id, r.machine_id, r.meter_hundredths, r.meter_hundredths + " OFFSET_AT(              \
        "r.machine_id", "r.read_s") ", r.read_s, r.noted_s, r.person_id, r.text_id, r.remark, "    \
                                    "r.struck_s IS NOT NULL FROM readings r "

#define SERVICES                                                                                   \
    "SELECT s.id, s.machine_id, s.plan, s.meter_hundredths, s.meter_hundredths + " OFFSET_AT(      \
        "s.machine_id", "s.done_s") ", s.done_s, s.noted_s, s.person_id, s.text_id, "              \
                                    "s.quantity_thousandths, s.unit, s.remark, "                   \
                                    "s.struck_s IS NOT NULL, s.undated FROM services s "
#define SERVICES_STANDING                                                                          \
    "services f WHERE f.machine_id = ?1 AND f.plan = ?2 AND f.struck_s IS NULL "                   \
    "AND f.done_s <= ?3"

#define ALERTS                                                                                     \
    "SELECT id, machine_id, plan, cycle, stage, raised_s, cause_reading_id, cause_service_id, "    \
    "told_s, void_s IS NOT NULL FROM alerts "

#define TROUBLES                                                                                   \
    "SELECT id, machine_id, weight, since_s, person_id, text_id, words, told_s FROM troubles "
#define TROUBLE_UNTOLD "told_s IS NULL AND struck_s IS NULL"
#define TROUBLE_OPEN "weight > 0 AND solved_s IS NULL AND struck_s IS NULL"

#define MOVEMENTS "SELECT id, what, day, at_s, person_id, text_id, struck_s FROM movements "
/* A machine of two names: what stands under ?1 goes to ?2. */
#define GIVE_TO(table, column) "UPDATE " table " SET " column " = ?2 WHERE " column " = ?1"

/* One word for a whole text out: that of the part which needs attention most. The last report of a
 * part is TP-ST of TS 23.040 9.2.3.15: below 32 delivered, from 64 on no more is tried. */
#define STATE_OUT                                                                                  \
    "(SELECT substr(min(CASE "                                                                     \
    "WHEN p.state = 'failed' AND p.cause = -2 THEN '1expired' "                                    \
    "WHEN p.state = 'failed' AND p.cause = -3 THEN '1gave-way' "                                   \
    "WHEN p.state = 'failed' THEN '0failed' "                                                      \
    "WHEN p.report BETWEEN 64 AND 127 THEN '2not-delivered' "                                      \
    "WHEN p.state = 'unknown' THEN '3unknown' "                                                    \
    "WHEN p.state = 'waiting' THEN '4waiting' "                                                    \
    "WHEN p.state = 'handed-over' THEN '5handed-over' "                                            \
    "WHEN p.report BETWEEN 0 AND 31 THEN '7delivered' "                                            \
    "ELSE '6taken' END), 2) FROM parts_out p WHERE p.text_id = t.id)"

/* Why it was not sent, of the part that was tried last; TEXTS_CAUSE_NONE where there is nothing to say. */
#define CAUSE_OUT                                                                                  \
    "coalesce((SELECT p.cause FROM parts_out p WHERE p.text_id = t.id AND p.cause IS NOT NULL "    \
    "AND (p.state = 'failed' OR (p.state = 'waiting' AND p.tries > 0)) "                           \
    "ORDER BY p.state, p.ended_s DESC, p.id LIMIT 1), ?3)"

/* Told to nobody: an alert's texts, all of one moment, of which each has a part that failed. */
#define FAILED "(p.state = 'failed' OR coalesce(p.report, 0) BETWEEN 64 AND 127)"
#define TELLINGS                                                                                   \
    "(SELECT created_s, min(bad) AS lost FROM (SELECT t.created_s AS created_s, max(" FAILED       \
    ") AS bad FROM texts_out t JOIN parts_out p ON p.text_id = t.id WHERE t.kind = 'alert' "       \
    "AND t.created_s >= ?1 - 6 * 86400 GROUP BY t.id) GROUP BY created_s)"

/* Sent again once: waiting and marked; where that was the repetition, unknown for good; where its
 * report says that it came, it has gone. */
#define REPEAT_ONCE(now)                                                                           \
    "UPDATE parts_out SET state = CASE WHEN report BETWEEN 0 AND 31 THEN 'taken' "                 \
    "WHEN repeated THEN 'unknown' ELSE 'waiting' END, "                                            \
    "ended_s = iif(repeated OR report BETWEEN 0 AND 31, " now ", NULL), not_before_s = " now ", "  \
    "repeated = 1 "

/* The stamp as it came, out of the fingerprint "number stamp ...". */
#define STAMP "CAST(substr(a.fingerprint, instr(a.fingerprint, ' ') + 1) AS INTEGER)"
#define DISBELIEVED STAMP " > a.received_s + ?1 AND " STAMP " <= ?2"
/* `dated` is the column that tells the rows dated when the text came. */
#define BY_STAMP(table, columns, text, dated)                                                      \
    "UPDATE " table " SET " columns " FROM (SELECT a.text_id AS a_text, " STAMP                    \
    " AS a_stamp, a.sent_s AS a_sent FROM arrivals a WHERE a.part = 1 AND " DISBELIEVED ") "       \
    "WHERE " text " = a_text AND " dated " = a_sent"

/* The modem that a part is for: the one that its text has begun to go by, else the one by which came
 * what it answers; NULL any. */
#define MODEM_OF_PART                                                                              \
    "coalesce((SELECT b.modem FROM parts_out b WHERE b.text_id = p.text_id AND b.modem IS NOT "    \
    "NULL ORDER BY b.part DESC LIMIT 1), (SELECT i.modem FROM texts_in i WHERE i.id = t.about_id " \
    "AND t.kind IN ('reply', 'question')))"

/* Whether the part is for the modem ?2 to send, others that work being ?3 ("/east/west/"), and ?4 saying
 * that it takes what is for none of those. What was refused twice goes by another; what was begun is
 * tried longer, since no phone puts together what came from two numbers. */
#define FOR_MODEM                                                                                  \
    "(?2 IS NULL OR iif(p.tries > iif(p.part = 1, 1, 3), p.modem IS NOT ?2 OR ?3 = '/', iif(?4, "  \
    "coalesce(instr(?3, '/' || " MODEM_OF_PART " || '/'), 0) = 0, " MODEM_OF_PART " = ?2)))"

/* Each modem has references of its own. */
#define BY_MODEM "coalesce(p.modem = ?5, 1)"

#define MOVE_BACK(table, column)                                                                   \
    "UPDATE " table " SET " column " = " column " - ?2 WHERE " column " > ?1"

/* Rows that are never erased. */
#define STRIKE(table)                                                                              \
    "UPDATE " table " SET struck_s = ?2, struck_by = ?3, struck_why = ?4 "                         \
    "WHERE id = ?1 AND struck_s IS NULL"
#define UNSTRIKE(table)                                                                            \
    "UPDATE " table " SET struck_s = NULL, struck_by = NULL, struck_why = NULL "                   \
    "WHERE id = ?1 AND struck_s IS NOT NULL"
/* The alerts that a reading or a service caused. */
#define ALERTS_VOID_BY(cause)                                                                      \
    "UPDATE alerts SET void_s = ?2, void_by = '" cause "' WHERE cause_" cause "_id = ?1 "          \
    "AND void_s IS NULL"
#define ALERTS_STAND_BY(cause)                                                                     \
    "UPDATE OR IGNORE alerts SET void_s = NULL, void_by = NULL WHERE cause_" cause "_id = ?1 "     \
    "AND void_by = '" cause "'"
#define ALERTS_TOLD_BY(cause)                                                                      \
    "SELECT count(*) FROM alerts WHERE cause_" cause "_id = ?1 AND told_s IS NOT NULL "            \
    "AND void_s IS NULL"

/* One statement a state: each has its index. */
#define WAITS_SINCE(state)                                                                         \
    "SELECT iif(p.tries > 0, t.created_s, max(t.created_s, p.not_before_s)) AS since_s "           \
    "FROM parts_out p JOIN texts_out t ON t.id = p.text_id WHERE p.state = " state

#define WAITS_LONGEST                                                                              \
    "(SELECT min(since_s) FROM (" WAITS_SINCE("'waiting'") " UNION ALL " WAITS_SINCE(              \
        "'handed-over'") "))"

STATEMENT(BEGIN, "BEGIN IMMEDIATE")
STATEMENT(LOOK, "BEGIN")
STATEMENT(COMMIT, "COMMIT")
STATEMENT(ROLLBACK, "ROLLBACK")
STATEMENT(DESK_SAVEPOINT, "SAVEPOINT desk")
STATEMENT(DESK_RELEASE, "RELEASE desk")
STATEMENT(DESK_BACK, "ROLLBACK TO desk")

STATEMENT(PERSON_FIND, "SELECT id FROM people WHERE name = ?1")
STATEMENT(PERSON_ADD, "INSERT INTO people (name) VALUES (?1)")
STATEMENT(PERSON_NAME, "SELECT name FROM people WHERE id = ?1")
STATEMENT(PERSON_OPTED_OUT, "SELECT opted_out_s FROM people WHERE id = ?1")
STATEMENT(PERSON_SET_OPT_OUT, "UPDATE people SET opted_out_s = ?2 WHERE id = ?1")

STATEMENT(MACHINE_FIND, "SELECT id FROM machines WHERE name = ?1")
STATEMENT(MACHINE_ADD, "INSERT INTO machines (name) VALUES (?1)")
STATEMENT(MACHINE_NAME, "SELECT name FROM machines WHERE id = ?1")
STATEMENT(MACHINE_TOUCHED,
          "SELECT max(at_s) FROM (SELECT noted_s AS at_s FROM readings WHERE id = "
          "(SELECT max(id) FROM readings WHERE machine_id = ?1) "
          "UNION ALL SELECT max(struck_s) FROM readings WHERE machine_id = ?1 "
          "UNION ALL SELECT max(noted_s) FROM services WHERE machine_id = ?1 "
          "UNION ALL SELECT max(struck_s) FROM services WHERE machine_id = ?1 "
          "UNION ALL SELECT max(at_s) FROM meter_changes WHERE machine_id = ?1 "
          "UNION ALL SELECT max(struck_s) FROM meter_changes WHERE machine_id = ?1 "
          "UNION ALL SELECT max(from_s) FROM parkings WHERE machine_id = ?1 "
          "UNION ALL SELECT max(until_s) FROM parkings WHERE machine_id = ?1 "
          "UNION ALL SELECT max(struck_s) FROM parkings WHERE machine_id = ?1 "
          "UNION ALL SELECT max(at_s) FROM movements WHERE machine_id = ?1 "
          "UNION ALL SELECT max(struck_s) FROM movements WHERE machine_id = ?1)")
STATEMENT(MACHINES_EACH, "SELECT id, name FROM machines ORDER BY name")
STATEMENT(MACHINE_SET_NAME, "UPDATE machines SET name = ?2 WHERE id = ?1")
STATEMENT(PARKING_OPEN, "SELECT from_s FROM parkings WHERE machine_id = ?1 AND until_s IS NULL "
                        "AND struck_s IS NULL")
STATEMENT(PARKING_ADD, "INSERT INTO parkings (machine_id, from_s, parked_by) VALUES (?1, ?2, ?3) "
                       "ON CONFLICT DO NOTHING")
STATEMENT(PARKING_END, "UPDATE parkings SET until_s = max(from_s, ?2), back_by = ?3 "
                       "WHERE machine_id = ?1 AND until_s IS NULL AND struck_s IS NULL "
                       "RETURNING id")
STATEMENT(PARKING_EACH, "SELECT from_s, until_s FROM parkings WHERE machine_id = ?1 "
                        "AND struck_s IS NULL ORDER BY from_s, id")
STATEMENT(PARKING_STRIKE, "UPDATE parkings SET struck_s = ?2 WHERE id = ?1 AND struck_s IS NULL")
STATEMENT(PARKING_REOPEN, "UPDATE OR IGNORE parkings SET until_s = NULL, back_by = NULL "
                          "WHERE id = ?1")
STATEMENT(PUT_OFF_LATEST, "SELECT until_s FROM put_offs WHERE machine_id = ?1 "
                          "AND struck_s IS NULL ORDER BY id DESC LIMIT 1")
STATEMENT(PUT_OFF_ADD,
          "INSERT INTO put_offs (machine_id, until_s, person_id, at_s) VALUES (?1, ?2, "
          "?3, (SELECT received_s FROM texts_in WHERE id = ?4))")
STATEMENT(PUT_OFF_STRIKE, "UPDATE put_offs SET struck_s = ?2 WHERE id = ?1")

STATEMENT(MOVEMENT_ADD, "INSERT INTO movements (machine_id, what, day, at_s, person_id, text_id) "
                        "VALUES (?1, ?2, ?3, ?4, ?5, ?6)")
STATEMENT(MOVEMENT_LAST, MOVEMENTS "WHERE machine_id = ?1 AND struck_s IS NULL "
                                   "ORDER BY at_s DESC, id DESC LIMIT 1")
STATEMENT(MOVEMENTS_EACH, MOVEMENTS "WHERE machine_id = ?1 ORDER BY at_s, id")
STATEMENT(MOVEMENT_STRIKE, STRIKE("movements"))

/* machines_rename where both names are on record runs these in this order, to RENAME_GONE: of ?1 all
 * goes to ?2. What can be there only once is settled first: of two open spells the old one ends, of two
 * alerts of one cycle and stage the old one is void. */
STATEMENT(RENAME_PARKING,
          "UPDATE parkings AS o SET until_s = max(o.from_s, n.from_s) FROM parkings n "
          "WHERE o.machine_id = ?1 AND o.until_s IS NULL AND o.struck_s IS NULL "
          "AND n.machine_id = ?2 AND n.until_s IS NULL AND n.struck_s IS NULL")
STATEMENT(RENAME_ALERTS_VOID,
          "UPDATE alerts AS o SET void_s = n.raised_s, void_by = 'hand' FROM alerts n "
          "WHERE o.machine_id = ?1 AND o.void_s IS NULL AND n.machine_id = ?2 AND n.void_s IS NULL "
          "AND (n.plan, n.cycle, n.stage) = (o.plan, o.cycle, o.stage)")
STATEMENT(RENAME_READINGS, GIVE_TO("readings", "machine_id"))
STATEMENT(RENAME_METER_CHANGES, GIVE_TO("meter_changes", "machine_id"))
STATEMENT(RENAME_SERVICES, GIVE_TO("services", "machine_id"))
STATEMENT(RENAME_TROUBLES, GIVE_TO("troubles", "machine_id"))
STATEMENT(RENAME_ALERTS, GIVE_TO("alerts", "machine_id"))
STATEMENT(RENAME_PARKINGS, GIVE_TO("parkings", "machine_id"))
STATEMENT(RENAME_PUT_OFFS, GIVE_TO("put_offs", "machine_id"))
STATEMENT(RENAME_MOVEMENTS, GIVE_TO("movements", "machine_id"))
STATEMENT(RENAME_QUESTIONS, GIVE_TO("questions", "machine_id"))
STATEMENT(RENAME_OFFERS, GIVE_TO("questions", "offer_machine_id"))
STATEMENT(RENAME_REFUSALS, GIVE_TO("refusals", "machine_id"))
STATEMENT(RENAME_GONE, "DELETE FROM machines WHERE id = ?1 AND ?2 <> ?1")

STATEMENT(ARRIVAL_FIND, "SELECT text_id FROM arrivals WHERE fingerprint = ?1")
STATEMENT(ARRIVAL_ADD, "INSERT INTO arrivals (text_id, part, hex, body, sent_s, received_s, "
                       "fingerprint) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)")
STATEMENT(ARRIVAL_COUNT, "SELECT count(*) FROM arrivals WHERE text_id = ?1")
STATEMENT(TEXT_IN_ADD, "INSERT INTO texts_in (phone, answerable, sent_s, received_s, body, state, "
                       "reference, parts, modem) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)")
/* The text whose part came nearest in time, the newest of equals; none beyond ?6 seconds. */
STATEMENT(TEXT_IN_LACKING, "SELECT t.id FROM texts_in t JOIN arrivals b ON b.text_id = t.id "
                           "WHERE t.state = 'waiting' AND t.phone = ?1 AND t.reference = ?2 "
                           "AND t.parts = ?3 AND abs(b.sent_s - ?5) <= ?6 AND NOT EXISTS "
                           "(SELECT 1 FROM arrivals a WHERE a.text_id = t.id AND a.part = ?4) "
                           "ORDER BY abs(b.sent_s - ?5), t.id DESC LIMIT 1")
STATEMENT(TEXT_IN_WHOLE, "UPDATE texts_in SET state = 'arrived', sent_s = (SELECT min(a.sent_s) "
                         "FROM arrivals a WHERE a.text_id = ?1) WHERE id = ?1")
STATEMENT(TEXT_IN_APPEND, "UPDATE texts_in SET body = body || coalesce((SELECT a.body "
                          "FROM arrivals a WHERE a.text_id = ?1 AND a.part = ?2), ' [...] ') "
                          "WHERE id = ?1 AND ?2 <= parts")
STATEMENT(TEXT_IN_READ, "SELECT t.sent_s, t.phone, t.body, coalesce((SELECT a.fingerprint "
                        "FROM arrivals a WHERE a.text_id = t.id ORDER BY a.part LIMIT 1), "
                        "'typed ' || t.id) FROM texts_in t WHERE t.id = ?1")
STATEMENT(TEXT_IN_NEXT, "SELECT id FROM texts_in WHERE state = 'arrived' "
                        "ORDER BY received_s, id LIMIT 1")
#define TEXT_DID                                                                                   \
    "EXISTS (SELECT 1 FROM effects e WHERE e.text_id = t.id AND e.undone_s IS NULL "               \
    "AND e.what <> 'answer')"
STATEMENT(TEXT_IN_LAST, "SELECT t.body, " TEXT_DID " FROM texts_in t WHERE t.person_id = ?1 "
                        "AND t.id < ?2 AND t.received_s >= ?3 "
                        "AND (t.outcome IN ('asked', 'refused') OR " TEXT_DID ") "
                        "ORDER BY t.id DESC LIMIT 1")
STATEMENT(TEXT_IN_PERSON, "SELECT person_id FROM texts_in WHERE id = ?1 AND person_id IS NOT NULL")
STATEMENT(TEXT_IN_SET_STATE, "UPDATE texts_in SET state = ?2, person_id = coalesce(?3, person_id) "
                             "WHERE id = ?1")
STATEMENT(TEXT_IN_WORKED_ON, "UPDATE texts_in SET state = 'done', outcome = ?2, "
                             "person_id = coalesce(?3, person_id) WHERE id = ?1")
STATEMENT(TEXT_IN_OLDEST_WAITING, "SELECT t.id, (SELECT max(a.received_s) FROM arrivals a "
                                  "WHERE a.text_id = t.id) AS grew_s FROM texts_in t "
                                  "WHERE t.state = 'waiting' ORDER BY grew_s, t.id LIMIT 1")

STATEMENT(ARRIVALS_DATE, "UPDATE arrivals SET received_s = ?1, sent_s = iif(sent_s = 0, ?1, "
                         "sent_s) WHERE received_s = 0 AND text_id IN (SELECT id FROM texts_in "
                         "WHERE received_s = 0)")
STATEMENT(TEXTS_IN_DATE, "UPDATE texts_in SET received_s = ?1, sent_s = iif(sent_s = 0, ?1, "
                         "sent_s) WHERE received_s = 0")

STATEMENT(DATES_LATEST, "SELECT max(coalesce((SELECT max(received_s) "
                        "FROM texts_in), 0), coalesce((SELECT max(created_s) FROM texts_out), 0))")
STATEMENT(DATES_ALERTS_VOID, "UPDATE alerts SET void_s = raised_s - ?2, void_by = 'hand' "
                             "WHERE raised_s > ?1 AND void_s IS NULL AND cause_reading_id IS NULL "
                             "AND stage = ?3")
/* dates_move_back runs these in this order, to DATES_MARKS: parts before the texts by whose dates they
 * are chosen. */
STATEMENT(DATES_ALERTS_RAISED, MOVE_BACK("alerts", "raised_s"))
STATEMENT(DATES_ALERTS_TOLD, MOVE_BACK("alerts", "told_s"))
STATEMENT(DATES_PARTS_HELD, MOVE_BACK("parts_out", "not_before_s"))
STATEMENT(DATES_PARTS_HANDED, MOVE_BACK("parts_out", "handed_s"))
STATEMENT(DATES_TEXTS_OUT, "UPDATE texts_out SET created_s = created_s - ?2, "
                           "expires_s = expires_s - ?2 WHERE created_s > ?1")
STATEMENT(DATES_TEXTS_IN, MOVE_BACK("texts_in", "received_s"))
STATEMENT(DATES_TEXTS_SENT, MOVE_BACK("texts_in", "sent_s"))
STATEMENT(DATES_ARRIVALS, MOVE_BACK("arrivals", "received_s"))
STATEMENT(DATES_READINGS, MOVE_BACK("readings", "read_s"))
STATEMENT(DATES_READINGS_NOTED, MOVE_BACK("readings", "noted_s"))
STATEMENT(DATES_SERVICES, MOVE_BACK("services", "done_s"))
STATEMENT(DATES_METER_CHANGES, MOVE_BACK("meter_changes", "at_s"))
STATEMENT(DATES_PARKINGS, MOVE_BACK("parkings", "from_s"))
STATEMENT(DATES_MOVEMENTS, MOVE_BACK("movements", "at_s"))
STATEMENT(DATES_PUT_OFFS_SAID, MOVE_BACK("put_offs", "at_s"))
/* LATER goes sixty days ahead at most. */
STATEMENT(DATES_PUT_OFFS, "UPDATE put_offs SET until_s = until_s - ?2 "
                          "WHERE until_s > ?1 + 60 * 86400")
STATEMENT(DATES_TROUBLES, MOVE_BACK("troubles", "since_s"))
STATEMENT(DATES_TROUBLES_TOLD, MOVE_BACK("troubles", "told_s"))
STATEMENT(DATES_QUESTIONS, MOVE_BACK("questions", "asked_s"))
STATEMENT(DATES_REFUSALS, MOVE_BACK("refusals", "at_s"))
STATEMENT(DATES_OPT_OUTS, MOVE_BACK("people", "opted_out_s"))
STATEMENT(DATES_MARKS, MOVE_BACK("marks", "value"))
/* dates_by_stamps runs these in this order: the others are chosen by the arrivals. */
STATEMENT(STAMPS_READINGS,
          BY_STAMP("readings", "read_s = a_stamp, noted_s = a_stamp", "text_id", "read_s"))
STATEMENT(STAMPS_SERVICES,
          BY_STAMP("services", "done_s = a_stamp, noted_s = a_stamp", "text_id", "done_s"))
STATEMENT(STAMPS_TEXTS_IN,
          BY_STAMP("texts_in", "sent_s = a_stamp, received_s = a_stamp", "id", "sent_s"))
STATEMENT(STAMPS_ARRIVALS,
          "UPDATE arrivals AS a SET sent_s = " STAMP ", received_s = " STAMP " WHERE " DISBELIEVED)

STATEMENT(TEXT_OUT_ADD, "INSERT INTO texts_out (person_id, phone, body, kind, about_id, "
                        "created_s, expires_s) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)")
STATEMENT(PART_ADD, "INSERT INTO parts_out (text_id, part, state, urgency, not_before_s) "
                    "VALUES (?1, ?2, 'waiting', ?3, ?4)")
/* What was tried failed for its cause, what was not for its time. */
STATEMENT(PARTS_EXPIRE, "UPDATE parts_out SET state = 'failed', ended_s = ?1, "
                        "cause = iif(tries > 0 AND cause IS NOT NULL, cause, ?2) "
                        "WHERE state = 'waiting' AND (SELECT t.expires_s FROM texts_out t "
                        "WHERE t.id = parts_out.text_id) BETWEEN 1 AND ?1")
STATEMENT(PARTS_GIVE_WAY, "UPDATE parts_out SET state = 'failed', cause = ?4, ended_s = ?3 "
                          "WHERE state = 'waiting' AND text_id IN (SELECT p.text_id "
                          "FROM parts_out p CROSS JOIN texts_out t ON t.id = p.text_id "
                          "WHERE p.state = 'waiting' AND p.part = 1 AND p.tries = 0 "
                          "AND t.phone = ?1 AND t.kind IN ('reply', 'question') "
                          "ORDER BY +p.text_id DESC LIMIT -1 OFFSET ?2)")
STATEMENT(PART_NEXT, "SELECT p.id, p.text_id, p.part, (SELECT count(*) FROM parts_out a "
                     "WHERE a.text_id = p.text_id), p.tries, p.repeated, t.person_id, "
                     "t.created_s, p.urgency < 0, t.phone, t.body, t.kind FROM parts_out p "
                     "JOIN texts_out t ON t.id = p.text_id WHERE p.state = 'waiting' "
                     "AND p.not_before_s <= ?1 AND NOT EXISTS (SELECT 1 FROM parts_out b "
                     "WHERE b.state = 'waiting' AND b.text_id = p.text_id AND b.part < p.part) "
                     "AND " FOR_MODEM " ORDER BY p.urgency, p.text_id, p.part LIMIT 1")
STATEMENT(PART_NEXT_TIME, "SELECT min(not_before_s) FROM parts_out WHERE state = 'waiting' "
                          "AND not_before_s > ?1")
STATEMENT(PART_HANDED_OVER, "UPDATE parts_out SET state = 'handed-over', tries = tries + 1, "
                            "handed_s = ?2, modem = ?3 WHERE id = ?1 AND state = 'waiting'")
/* An early report was of it where their references agree. */
STATEMENT(PART_ENDED, "UPDATE parts_out SET state = ?2, reference = ?3, cause = ?4, ended_s = ?5, "
                      "report = iif(reference = ?3, report, NULL) WHERE id = ?1 AND state IN "
                      "('waiting', 'handed-over')")
STATEMENT(PART_LOST, REPEAT_ONCE("?2") "WHERE id = ?1 AND state = 'handed-over'")
STATEMENT(PARTS_FAIL_REST, "UPDATE parts_out SET state = 'failed', cause = ?2, ended_s = ?3 "
                           "WHERE state = 'waiting' AND text_id = (SELECT p.text_id "
                           "FROM parts_out p WHERE p.id = ?1)")
STATEMENT(PART_AGAIN, "UPDATE parts_out SET state = 'waiting', not_before_s = ?2, cause = ?3, "
                      "handed_s = iif(state = 'waiting', handed_s, NULL) WHERE id = ?1 "
                      "AND state IN ('waiting', 'handed-over')")
STATEMENT(PART_PUT_BACK, "UPDATE parts_out SET state = 'waiting', tries = max(tries - 1, 0), "
                         "handed_s = NULL WHERE id = ?1 AND state = 'handed-over'")
STATEMENT(PARTS_RECOVER, REPEAT_ONCE("?1") "WHERE state = 'handed-over'")
/* "Delivered" is the last word; "not delivered" may come late, of a try that was given up. */
STATEMENT(PART_REPORTED, "UPDATE parts_out SET report = ?3, reported_s = ?4 WHERE id = "
                         "(SELECT p.id FROM parts_out p JOIN texts_out t ON t.id = p.text_id "
                         "WHERE p.handed_s > ?4 - 7 * 86400 AND p.state = 'taken' "
                         "AND p.reference = ?2 AND t.phone = ?1 AND " BY_MODEM " AND "
                         "NOT coalesce(p.report BETWEEN 0 AND 31, 0) ORDER BY p.handed_s DESC, "
                         "p.id DESC LIMIT 1)")
/* Before the final result of the send: which one it was, its end shows. */
STATEMENT(PART_REPORTED_EARLY,
          "UPDATE parts_out SET report = ?3, reported_s = ?4, reference = ?2 WHERE id = "
          "(SELECT p.id FROM parts_out p JOIN texts_out t ON t.id = p.text_id "
          "WHERE p.handed_s IS NOT NULL AND p.state = 'handed-over' AND t.phone = ?1 AND " BY_MODEM
          " "
          "ORDER BY p.handed_s DESC LIMIT 1)")
/* An alert that the centre gave up on (TP-ST 70 its validity ended, 96 and more for now) goes again
 * in an hour while it is worth saying, five times in all. */
STATEMENT(PARTS_UNDELIVERED,
          "UPDATE parts_out SET state = 'waiting', not_before_s = ?2 + 3600, report = NULL, "
          "reference = NULL, ended_s = NULL WHERE handed_s > ?2 - 7 * 86400 AND state = 'taken' "
          "AND tries < 5 AND (report = 70 OR report BETWEEN 96 AND 127) AND (SELECT t.phone = ?1 "
          "AND t.kind = 'alert' AND t.expires_s > ?2 FROM texts_out t WHERE t.id = text_id)")

STATEMENT(TEXTS_EACH, "SELECT 1, t.id, t.received_s AS at_s, p.name, t.phone, t.body, "
                      "coalesce(t.outcome, t.state), ?3 "
                      "FROM texts_in t LEFT JOIN people p ON p.id = t.person_id "
                      "WHERE t.received_s >= ?1 AND t.received_s < ?2 "
                      "UNION ALL SELECT 0, t.id, t.created_s, p.name, t.phone, t.body, " STATE_OUT
                      ", " CAUSE_OUT " FROM texts_out t LEFT JOIN people p ON p.id = t.person_id "
                      "WHERE t.created_s >= ?1 AND t.created_s < ?2 "
                      "ORDER BY 3 DESC, 1, 2 DESC")
/* To the number ?1 and to all since ?2, to all since ?3, which is the earlier; by the modem ?4 since ?2. */
STATEMENT(TEXTS_SENT,
          "SELECT count(DISTINCT iif(p.handed_s >= ?2 AND ?1 = (SELECT t.phone FROM texts_out t "
          "WHERE t.id = p.text_id), p.text_id, NULL)), "
          "count(DISTINCT iif(p.handed_s >= ?2, p.text_id, NULL)), count(DISTINCT p.text_id), "
          "count(DISTINCT iif(p.handed_s >= ?2 AND p.modem = ?4, p.text_id, NULL)) "
          "FROM parts_out p WHERE p.handed_s >= ?3 AND p.state <> 'failed'")
STATEMENT(TEXTS_STRANGERS_SINCE, "SELECT count(*) FROM texts_in WHERE received_s >= ?1 "
                                 "AND state = 'stranger'")
STATEMENT(TEXTS_SUMMARY,
          "SELECT (SELECT count(*) FROM parts_out WHERE state = 'waiting') + (SELECT count(*) "
          "FROM parts_out WHERE state = 'handed-over'), (SELECT count(*) FROM parts_out "
          "WHERE state = 'waiting' AND tries = 0 AND cause IS NOT NULL), " WAITS_LONGEST ", "
          "(SELECT count(DISTINCT p.text_id) FROM texts_out t "
          "JOIN parts_out p ON p.text_id = t.id WHERE t.created_s >= ?1 AND (p.state = 'failed' "
          "OR p.report BETWEEN 64 AND 127)), (SELECT count(DISTINCT p.text_id) FROM texts_out t "
          "JOIN parts_out p ON p.text_id = t.id WHERE t.created_s >= ?1 AND p.state = 'unknown'), "
          "(SELECT count(*) FROM texts_in WHERE received_s >= ?1 "
          "AND state IN ('unreadable', 'set-aside')), (SELECT max(received_s) FROM texts_in), "
          "(SELECT max(handed_s) FROM parts_out WHERE handed_s IS NOT NULL AND state = 'taken'), "
          "coalesce((SELECT p.cause FROM texts_out t JOIN parts_out p ON p.text_id = t.id "
          "WHERE t.created_s >= ?1 AND p.state = 'failed' AND p.cause IS NOT NULL "
          "ORDER BY p.ended_s DESC, p.id DESC LIMIT 1), ?2), "
          "(SELECT count(*) FROM " TELLINGS " WHERE lost), "
          "coalesce((SELECT max(created_s) FROM " TELLINGS " WHERE lost), 0)")

STATEMENT(READING_ADD, "INSERT INTO readings (machine_id, meter_hundredths, read_s, noted_s, "
                       "person_id, text_id, remark) VALUES (?2, ?3, ?5, ?6, ?7, ?8, ?9)")
STATEMENT(READINGS_LATEST,
          READINGS "WHERE r.machine_id = ?1 AND r.read_s <= ?2 AND r.struck_s IS NULL "
                   "ORDER BY r.read_s DESC, r.meter_hundredths DESC LIMIT ?3")
STATEMENT(READINGS_STAND, "SELECT count(*) FROM readings WHERE machine_id = ?1 AND read_s = ?2 "
                          "AND meter_hundredths = ?3 AND struck_s IS NULL")
STATEMENT(READINGS_RECENT, "SELECT id, meter_hundredths, read_s FROM readings "
                           "WHERE machine_id = ?1 AND read_s <= ?2 AND struck_s IS NULL "
                           "ORDER BY read_s DESC, meter_hundredths DESC")
STATEMENT(READING_NEXT_AFTER,
          READINGS "WHERE r.machine_id = ?1 AND r.read_s > ?2 AND r.struck_s IS NULL "
                   "ORDER BY r.read_s, r.meter_hundredths LIMIT 1")
STATEMENT(READING_FIRST, READINGS "WHERE r.machine_id = ?1 AND r.struck_s IS NULL "
                                  "ORDER BY r.read_s, r.meter_hundredths LIMIT 1")
STATEMENT(READING_OF_PERSON,
          READINGS "WHERE r.id IN (SELECT e.row_id FROM texts_in t CROSS JOIN effects e "
                   "ON e.text_id = t.id WHERE t.received_s >= ?3 AND t.person_id = ?1 "
                   "AND e.what = 'reading') AND ?2 IN (0, r.machine_id) AND r.struck_s IS NULL "
                   "ORDER BY r.id DESC LIMIT 1")
STATEMENT(READINGS_EACH, READINGS "WHERE r.machine_id = ?1 ORDER BY r.read_s, r.id")
STATEMENT(READING_OF_TEXT, READINGS "WHERE r.id IN (SELECT row_id FROM effects WHERE text_id = ?1 "
                                    "AND what = 'reading') ORDER BY r.id DESC LIMIT 1")
/* From the texts on, of which there are few since then, not from the readings. */
STATEMENT(READINGS_REMARKED,
          READINGS "WHERE r.id IN (SELECT e.row_id FROM texts_in t CROSS JOIN effects e "
                   "ON e.text_id = t.id WHERE t.received_s >= ?1 AND e.what = 'reading') "
                   "AND r.struck_s IS NULL AND r.remark <> '' ORDER BY r.id")
STATEMENT(READING_STRIKE, STRIKE("readings"))
STATEMENT(READING_UNSTRIKE, UNSTRIKE("readings"))
STATEMENT(METER_CHANGE_ADD, "INSERT INTO meter_changes (machine_id, at_s, old_last_hundredths, "
                            "new_first_hundredths, person_id, text_id) "
                            "VALUES (?1, ?2, ?3, ?4, ?5, ?6)")
STATEMENT(METER_CHANGE_STRIKE, STRIKE("meter_changes"))
STATEMENT(METER_CHANGES_UNTIL, "SELECT at_s, old_last_hundredths - new_first_hundredths "
                               "FROM meter_changes WHERE machine_id = ?1 AND at_s <= ?2 "
                               "AND struck_s IS NULL")
STATEMENT(METER_OFFSET, "SELECT " OFFSET_AT("?1", "?2"))

STATEMENT(SERVICE_ADD, "INSERT INTO services (machine_id, plan, meter_hundredths, done_s, "
                       "noted_s, person_id, text_id, quantity_thousandths, unit, remark, undated) "
                       "VALUES (?2, ?3, ?4, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?14)")
/* The index alone finds it as long as the machine has had one meter. */
STATEMENT(SERVICE_LAST, SERVICES
          "WHERE s.id = CASE WHEN EXISTS (SELECT 1 FROM meter_changes WHERE machine_id = "
          "?1) THEN "
          "(SELECT f.id FROM " SERVICES_STANDING " ORDER BY f.meter_hundredths + " OFFSET_AT(
              "f.machine_id",
              "f.done_s") " DESC, f.done_s DESC LIMIT 1) "
                          "ELSE (SELECT f.id FROM " SERVICES_STANDING
                          " ORDER BY f.meter_hundredths DESC, f.done_s DESC LIMIT 1) END")
STATEMENT(SERVICES_STAND, "SELECT count(*) FROM services WHERE machine_id = ?1 AND plan = ?2 "
                          "AND struck_s IS NULL AND meter_hundredths = ?3 AND done_s = ?4")
STATEMENT(SERVICES_EACH, SERVICES "WHERE s.machine_id = ?1 ORDER BY s.done_s, s.id")
STATEMENT(SERVICE_STRIKE, STRIKE("services"))
STATEMENT(SERVICE_UNSTRIKE, UNSTRIKE("services"))

STATEMENT(TROUBLE_ADD, "INSERT INTO troubles (machine_id, weight, since_s, person_id, text_id, "
                       "words, told_s) VALUES (?2, ?3, ?4, ?5, ?6, ?7, ?8)")
STATEMENT(TROUBLES_OPEN, TROUBLES "WHERE ?1 IN (0, machine_id) AND " TROUBLE_OPEN
                                  " ORDER BY machine_id, since_s, id")
STATEMENT(TROUBLES_WAITING, "SELECT person_id, weight, count(*), min(since_s) FROM troubles "
                            "WHERE " TROUBLE_UNTOLD " GROUP BY person_id, weight "
                            "ORDER BY weight DESC, min(since_s)")
STATEMENT(TROUBLES_UNTOLD, TROUBLES "WHERE person_id IS ?1 AND weight = ?2 AND " TROUBLE_UNTOLD
                                    " ORDER BY id LIMIT ?3")
STATEMENT(TROUBLE_SAME, "SELECT EXISTS (SELECT 1 FROM troubles WHERE machine_id IS ?1 "
                        "AND person_id = ?2 AND words = ?3 AND since_s >= ?4 AND weight >= ?5 "
                        "AND solved_s IS NULL AND struck_s IS NULL)")
STATEMENT(TROUBLES_TELL, "UPDATE troubles SET told_s = ?3 WHERE person_id IS ?1 "
                         "AND weight = ?2 AND " TROUBLE_UNTOLD)
STATEMENT(TROUBLES_NAME, "UPDATE troubles SET machine_id = ?2, told_s = NULL WHERE text_id = ?1 "
                         "AND machine_id IS NULL AND struck_s IS NULL")
STATEMENT(TROUBLES_LAST_TOLD, "SELECT told_s, count(*) FROM troubles WHERE person_id = ?1 "
                              "AND weight >= ?2 AND told_s IS NOT NULL GROUP BY told_s "
                              "ORDER BY told_s DESC LIMIT 1")
STATEMENT(TROUBLE_OF_TEXT, TROUBLES "WHERE text_id = ?1 AND struck_s IS NULL ORDER BY id LIMIT 1")
STATEMENT(TROUBLES_SOLVE, "UPDATE troubles SET solved_s = ?2, solved_by = ?3, solved_words = ?4 "
                          "WHERE machine_id = ?1 AND " TROUBLE_OPEN " RETURNING id")
STATEMENT(TROUBLE_REOPEN, "UPDATE troubles SET solved_s = NULL, solved_by = NULL, "
                          "solved_words = NULL WHERE id = ?1")
STATEMENT(TROUBLE_STRIKE, STRIKE("troubles"))

STATEMENT(ALERT_RAISE, "INSERT INTO alerts (machine_id, plan, cycle, stage, raised_s, "
                       "cause_reading_id, cause_service_id) VALUES (?2, ?3, ?4, ?5, ?6, ?7, ?8) "
                       "ON CONFLICT DO NOTHING")
STATEMENT(ALERT_FIND, "SELECT id FROM alerts WHERE machine_id = ?1 AND plan = ?2 AND cycle = ?3 "
                      "AND stage = ?4 AND void_s IS NULL")
STATEMENT(ALERTS_UNTOLD, ALERTS "WHERE told_s IS NULL AND void_s IS NULL "
                                "ORDER BY raised_s, id LIMIT ?1")
STATEMENT(ALERT_TOLD, "UPDATE alerts SET told_s = ?3, told_in = ?2 WHERE id = ?1")
STATEMENT(ALERTS_OF_CYCLE,
          ALERTS "WHERE machine_id = ?1 AND plan = ?2 AND cycle = ?3 AND void_s IS NULL "
                 "ORDER BY raised_s DESC, id DESC")
STATEMENT(ALERT_VOID, "UPDATE alerts SET void_s = ?2, void_by = 'hand' WHERE id = ?1 "
                      "AND void_s IS NULL")
STATEMENT(ALERTS_EACH, ALERTS "WHERE machine_id = ?1 ORDER BY raised_s, id")
STATEMENT(ALERTS_VOID_BY_READING, ALERTS_VOID_BY("reading"))
STATEMENT(ALERTS_STAND_BY_READING, ALERTS_STAND_BY("reading"))
STATEMENT(ALERTS_TOLD_BY_READING, ALERTS_TOLD_BY("reading"))
STATEMENT(ALERTS_VOID_BY_SERVICE, ALERTS_VOID_BY("service"))
STATEMENT(ALERTS_STAND_BY_SERVICE, ALERTS_STAND_BY("service"))
STATEMENT(ALERTS_TOLD_BY_SERVICE, ALERTS_TOLD_BY("service"))

STATEMENT(QUESTION_ADD, "INSERT INTO questions (person_id, machine_id, kind, offer_machine_id, "
                        "offer_hundredths, offer_to_hundredths, strikes_reading_id, "
                        "typed_hundredths, read_s, plan, quantity_thousandths, unit, remark, "
                        "text_id, asked_s, says) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, "
                        "?11, ?12, ?13, ?14, ?15, ?16)")
STATEMENT(QUESTION_OPEN, "SELECT id, person_id, machine_id, kind, offer_machine_id, "
                         "offer_hundredths, offer_to_hundredths, strikes_reading_id, "
                         "typed_hundredths, read_s, plan, quantity_thousandths, unit, remark, "
                         "text_id, asked_s, says FROM questions WHERE person_id = ?1 "
                         "AND outcome IS NULL AND asked_s >= ?2")
STATEMENT(QUESTION_CLOSE, "UPDATE questions SET outcome = ?2, closed_by = ?3, closed_s = ?4 "
                          "WHERE id = ?1 AND outcome IS NULL")
STATEMENT(QUESTION_REPLACE, "UPDATE questions SET outcome = 'replaced', closed_by = ?2, "
                            "closed_s = ?3 WHERE person_id = ?1 AND outcome IS NULL")
STATEMENT(QUESTION_REOPEN, "UPDATE OR IGNORE questions SET outcome = NULL, closed_by = NULL, "
                           "closed_s = NULL WHERE id = ?1 AND text_id IS NOT ?5")
STATEMENT(QUESTIONS_WITHDRAW, "UPDATE questions SET outcome = 'undone', closed_s = ?2 "
                              "WHERE text_id = ?1 AND outcome IS NULL")
STATEMENT(QUESTION_DENIED, "SELECT id, person_id, machine_id, kind, offer_machine_id, "
                           "offer_hundredths, offer_to_hundredths, strikes_reading_id, "
                           "typed_hundredths, read_s, plan, quantity_thousandths, unit, remark, "
                           "text_id, asked_s, says FROM questions WHERE person_id = ?1 "
                           "AND ?2 IN (0, machine_id) AND outcome = 'no' AND closed_s >= ?3 "
                           "ORDER BY id DESC LIMIT 1")
STATEMENT(REFUSAL_ADD, "INSERT INTO refusals (person_id, machine_id, hundredths, text_id, at_s) "
                       "VALUES (?1, ?2, ?3, ?4, ?5)")
STATEMENT(REFUSALS_SINCE, "SELECT count(*) FROM refusals WHERE machine_id = ?2 AND person_id = ?1 "
                          "AND hundredths = ?3 AND at_s >= ?4 AND text_id IS NOT ?5")

STATEMENT(EFFECT_ADD, "INSERT INTO effects (text_id, what, row_id) VALUES (?1, ?2, ?3)")
STATEMENT(EFFECT_LAST_TEXT, "SELECT e.text_id, e.undone_s FROM texts_in t CROSS "
                            "JOIN effects e ON e.text_id = t.id WHERE t.received_s >= ?2 "
                            "AND t.person_id = ?1 AND e.what <> 'answer' "
                            "ORDER BY e.text_id DESC LIMIT 1")
STATEMENT(EFFECTS_OF_TEXT, "SELECT e.what, e.row_id FROM effects e WHERE e.text_id = ?1 "
                           "AND e.undone_s IS NULL AND NOT EXISTS (SELECT 1 FROM effects own "
                           "WHERE own.text_id = ?1 AND own.row_id = e.row_id "
                           "AND 'strike-' || own.what = e.what) ORDER BY e.what LIKE 'strike-%', "
                           "e.id DESC")
STATEMENT(EFFECTS_UNDONE, "UPDATE effects SET undone_s = ?2 WHERE text_id = ?1 "
                          "AND undone_s IS NULL")

/* Each table in the columns of the first: noted_s NULL where it is the moment itself. */
STATEMENT(
    RECORD_EACH,
    "SELECT e.kind, e.at_s, e.meter, e.true_hundredths, e.new_meter, e.plan, e.stage, "
    "e.quantity, e.unit, p.name, e.remark, e.struck_s, b.name, e.struck_why, e.noted_s, "
    "e.until_s, e.day, e.cycle, e.undated, m.name FROM ("
    "SELECT r.machine_id, 'reading' AS kind, r.read_s AS at_s, r.meter_hundredths AS meter, "
    "r.meter_hundredths + " READING_OFFSET " AS true_hundredths, "
    "-1 AS new_meter, '' AS plan, '' AS stage, 0 AS quantity, '' AS unit, r.person_id, "
    "r.remark, r.struck_s, r.struck_by, r.struck_why, r.noted_s, NULL AS until_s, NULL AS day, "
    "-1 AS cycle, 0 AS undated, 1 AS turn, r.id "
    "FROM readings r "
    "UNION ALL SELECT s.machine_id, 'service', s.done_s, s.meter_hundredths, "
    "s.meter_hundredths + " SERVICE_OFFSET ", "
    "-1, s.plan, '', s.quantity_thousandths, s.unit, s.person_id, "
    "s.remark, s.struck_s, s.struck_by, s.struck_why, s.noted_s, NULL, NULL, -1, s.undated, 2, "
    "s.id FROM services s "
    "UNION ALL SELECT c.machine_id, 'meter', c.at_s, c.old_last_hundredths, -1, "
    "c.new_first_hundredths, '', '', 0, '', c.person_id, "
    "'', c.struck_s, c.struck_by, c.struck_why, NULL, NULL, NULL, -1, 0, 0, c.id "
    "FROM meter_changes c "
    "UNION ALL SELECT a.machine_id, 'alert', a.raised_s, -1, -1, -1, a.plan, a.stage, 0, '', "
    "NULL, '', a.void_s, NULL, a.void_by, NULL, NULL, NULL, a.cycle, 0, 3, a.id FROM alerts a "
    "UNION ALL SELECT k.machine_id, 'parked', k.from_s, -1, -1, -1, '', '', 0, '', "
    "k.parked_by, '', k.struck_s, NULL, NULL, NULL, k.until_s, NULL, -1, 0, 4, k.id "
    "FROM parkings k "
    "UNION ALL SELECT k.machine_id, 'back', k.until_s, -1, -1, -1, '', '', 0, '', "
    "k.back_by, '', k.struck_s, NULL, NULL, NULL, NULL, NULL, -1, 0, 5, k.id FROM parkings k "
    "WHERE k.until_s IS NOT NULL "
    "UNION ALL SELECT o.machine_id, 'later', coalesce(o.at_s, o.until_s), -1, -1, -1, '', '', 0, "
    "'', o.person_id, '', o.struck_s, NULL, NULL, NULL, o.until_s, NULL, -1, 0, 6, o.id "
    "FROM put_offs o "
    "UNION ALL SELECT v.machine_id, CASE v.what WHEN 'book' THEN 'booked' WHEN 'back' "
    "THEN 'returned' ELSE v.what END, v.at_s, -1, -1, -1, '', '', 0, '', v.person_id, '', "
    "v.struck_s, v.struck_by, v.struck_why, NULL, NULL, v.day, -1, 0, 7, v.id FROM movements v "
    "UNION ALL SELECT t.machine_id, "
    "CASE t.weight WHEN 0 THEN 'remark' WHEN 1 THEN 'trouble' ELSE 'danger' END, "
    "t.since_s, -1, -1, -1, '', '', 0, '', "
    "t.person_id, t.words, t.struck_s, t.struck_by, t.struck_why, NULL, t.solved_s, NULL, -1, 0, "
    "8, t.id FROM troubles t "
    "UNION ALL SELECT t.machine_id, 'solved', t.solved_s, -1, -1, -1, '', '', 0, '', "
    "t.solved_by, coalesce(t.solved_words, ''), t.struck_s, t.struck_by, t.struck_why, NULL, "
    "NULL, NULL, -1, 0, 9, t.id FROM troubles t WHERE t.solved_s IS NOT NULL"
    ") e JOIN machines m ON m.id = e.machine_id LEFT JOIN people p ON p.id = e.person_id "
    "LEFT JOIN people b ON b.id = e.struck_by WHERE ?1 IN (0, e.machine_id) "
    "ORDER BY m.name, e.at_s, e.turn, e.id")

/* The same lines put back, each into its table: ?1 machine, ?2 when, ?3 person, struck out: ?4 when, ?5
 * by, ?6 why, ?7 words, ?8 noted, ?9 meter, ?10 new meter, ?11 plan, ?12 stage, ?13 quantity, ?14 unit,
 * ?15 until, ?16 day, ?17 cycle, ?18 undated, ?19 kind. What was told once is not told again. */
STATEMENT(RESTORE_READING,
          "INSERT INTO readings (machine_id, read_s, person_id, struck_s, struck_by, "
          "struck_why, remark, noted_s, meter_hundredths) "
          "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)")
STATEMENT(RESTORE_SERVICE,
          "INSERT INTO services (machine_id, done_s, person_id, struck_s, struck_by, struck_why, "
          "remark, noted_s, meter_hundredths, plan, quantity_thousandths, unit, undated) "
          "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?11, ?13, ?14, ?18)")
STATEMENT(RESTORE_METER,
          "INSERT INTO meter_changes (machine_id, at_s, person_id, struck_s, struck_by, "
          "struck_why, old_last_hundredths, new_first_hundredths) "
          "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?9, ?10)")
STATEMENT(RESTORE_ALERT,
          "INSERT INTO alerts (machine_id, raised_s, told_s, void_s, void_by, plan, stage, cycle, "
          "cause_reading_id, cause_service_id) VALUES (?1, ?2, ?2, ?4, ?6, ?11, ?12, ?17, "
          "(SELECT id FROM readings WHERE machine_id = ?1 AND noted_s <= ?2 AND struck_s IS NULL "
          "ORDER BY noted_s DESC, id DESC LIMIT 1), "
          "(SELECT id FROM services WHERE machine_id = ?1 AND plan = ?11 AND noted_s <= ?2 "
          "AND struck_s IS NULL ORDER BY noted_s DESC, id DESC LIMIT 1))")
STATEMENT(RESTORE_PARKED, "INSERT INTO parkings (machine_id, from_s, parked_by, struck_s, until_s) "
                          "VALUES (?1, ?2, ?3, ?4, ?15)")
STATEMENT(RESTORE_BACK,
          "UPDATE parkings SET back_by = ?3 WHERE id = (SELECT id FROM parkings WHERE "
          "machine_id = ?1 AND until_s = ?2 AND struck_s IS ?4 AND back_by IS NULL "
          "ORDER BY id LIMIT 1)")
STATEMENT(RESTORE_LATER, "INSERT INTO put_offs (machine_id, at_s, person_id, struck_s, until_s) "
                         "VALUES (?1, ?2, ?3, ?4, ?15)")
STATEMENT(RESTORE_MOVEMENT,
          "INSERT INTO movements (machine_id, at_s, person_id, struck_s, struck_by, "
          "struck_why, day, what) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?16, CASE ?19 "
          "WHEN 'booked' THEN 'book' WHEN 'returned' THEN 'back' ELSE ?19 END)")
STATEMENT(RESTORE_WORDS,
          "INSERT INTO troubles (machine_id, since_s, told_s, person_id, struck_s, struck_by, "
          "struck_why, words, solved_s, weight) VALUES (?1, ?2, ?2, ?3, ?4, ?5, ?6, ?7, ?15, CASE "
          "?19 WHEN 'remark' THEN 0 WHEN 'trouble' THEN 1 ELSE 2 END)")
STATEMENT(RESTORE_SOLVED,
          "UPDATE troubles SET solved_by = ?3, solved_words = ?7 WHERE id = (SELECT id FROM "
          "troubles WHERE machine_id = ?1 AND solved_s = ?2 AND struck_s IS ?4 "
          "AND solved_words IS NULL ORDER BY id LIMIT 1)")

STATEMENT(MARK_GET, "SELECT value FROM marks WHERE name = ?1")
STATEMENT(MARK_SET, "INSERT INTO marks (name, value) VALUES (?1, ?2) ON CONFLICT (name) DO UPDATE "
                    "SET value = excluded.value")

/* Of the person ?1, or of the number ?2 where they are nobody's. */
#define THEIRS "(person_id = ?1 OR (person_id IS NULL AND phone = ?2 AND phone <> ''))"
#define IN_TEXTS_OF(column, table) column " IN (SELECT id FROM " table " WHERE " THEIRS ")"
#define REMARKS_OF(table) "UPDATE " table " SET remark = '' WHERE person_id = ?1 AND remark <> ''"
STATEMENT(FORGET_PHONES, "SELECT phone FROM texts_in WHERE person_id = ?1 AND phone <> '' UNION "
                         "SELECT phone FROM texts_out WHERE person_id = ?1 AND phone <> ''")
STATEMENT(FORGET_ARRIVALS,
          "UPDATE arrivals SET hex = '', body = NULL, fingerprint = NULL WHERE " IN_TEXTS_OF(
              "text_id", "texts_in"))
STATEMENT(FORGET_PARTS, "UPDATE parts_out SET state = 'failed', cause = -1, ended_s = not_before_s "
                        "WHERE state = 'waiting' AND " IN_TEXTS_OF("text_id", "texts_out"))
STATEMENT(FORGET_TEXTS_IN, "UPDATE texts_in SET body = '', phone = '', state = "
                           "iif(state IN ('waiting', 'arrived'), 'stranger', state) "
                           "WHERE " THEIRS " AND (body <> '' OR phone <> '')")
STATEMENT(FORGET_TEXTS_OUT, "UPDATE texts_out SET body = '', phone = '' "
                            "WHERE " THEIRS " AND (body <> '' OR phone <> '')")
STATEMENT(FORGET_READINGS, REMARKS_OF("readings"))
STATEMENT(FORGET_SERVICES, REMARKS_OF("services"))
STATEMENT(FORGET_QUESTIONS, REMARKS_OF("questions"))
STATEMENT(FORGET_TROUBLES, "UPDATE troubles SET words = iif(person_id = ?1, '', words), "
                           "solved_words = iif(solved_by = ?1, '', solved_words) "
                           "WHERE person_id = ?1 OR solved_by = ?1")
STATEMENT(FORGET_MENTIONS, "UPDATE texts_out SET body = replace(body, ?2, 'somebody') "
                           "WHERE instr(body, ?2) > 0 AND ?1 > 0")
STATEMENT(FORGET_MARKS, "DELETE FROM marks WHERE name = 'picture ' || ?2 AND ?1 > 0")
STATEMENT(FORGET_NAME, "UPDATE people SET name = 'person-' || id WHERE id = ?1 AND ?2 <> ''")
STATEMENT(OLD_ARRIVALS, "UPDATE arrivals SET hex = '', body = NULL, fingerprint = NULL "
                        "WHERE received_s < ?1 AND hex <> '' AND text_id IN (SELECT id "
                        "FROM texts_in WHERE received_s < ?1 AND state <> 'arrived')")
STATEMENT(OLD_TEXTS_IN, "UPDATE texts_in SET body = '', phone = '' WHERE received_s < ?1 "
                        "AND phone <> '' AND state <> 'arrived'")
STATEMENT(OLD_TEXTS_OUT,
          "UPDATE texts_out SET body = '', phone = '' WHERE created_s < ?1 "
          "AND phone <> '' AND NOT EXISTS (SELECT 1 FROM parts_out p "
          "WHERE p.text_id = texts_out.id AND p.state IN ('waiting', 'handed-over'))")
