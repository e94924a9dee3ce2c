/* SPDX-License-Identifier: MIT
 * clock_judge: see the header. Whom to believe, in this order: what agrees with the box's clock
 * from outside; the network's time; texts; what was known before. */
#include "daemon/upkeep/clock_judge.h"

#define DAY_S INT64_C(86400)
#define TIME_LAST_S INT64_C(253402300799) /* the end of 9999 */

/* Two texts that waited in the network for days still agree (common practice, no source). */
#define HELD_S (7 * DAY_S)
/* No network holds a text for so long; texts left on a SIM may be older still, which is why the
 * three that show a clock to be ahead must have come over an hour, one after the other. */
#define LONG_AGO_S (60 * DAY_S)
#define OLD_TEXTS 3
#define APART_S 3600
/* A yard may be shut for a season, hardly for more than a year. */
#define LEAP_S (400 * DAY_S)
/* Of so many texts, the latest, so many have to agree with the box's clock. */
#define LATEST 3
#define AGREEING 2

static int64_t time_or_none(int64_t at_s)
{
    return at_s >= 0 && at_s <= TIME_LAST_S ? at_s : 0;
}

static int64_t credible(int64_t said_s)
{
    int64_t at_s = time_or_none(said_s);
    return at_s >= CLOCK_FLOOR_S ? at_s : 0;
}

static size_t stamp_count(const struct clock_facts *facts)
{
    return facts->stamp_count < CLOCK_STAMPS_MOST ? facts->stamp_count : CLOCK_STAMPS_MOST;
}

/* The least that it can be now by that text; 0 where its stamp is not credible. */
static int64_t carried(const struct clock_stamp *stamp)
{
    int64_t said_s = credible(stamp->said_s);
    int64_t age_s = time_or_none(stamp->age_s);
    return said_s == 0 ? 0 : said_s + age_s;
}

static bool is_near(int64_t one_s, int64_t other_s, int64_t within_s)
{
    return one_s - other_s <= within_s && other_s - one_s <= within_s;
}

static size_t agreeing(const struct clock_facts *facts, int64_t now_s, size_t latest)
{
    size_t count = 0;
    for (size_t i = 0; i < stamp_count(facts) && i < latest; i++) {
        int64_t at_s = carried(&facts->stamps[i]);
        count += at_s != 0 && is_near(at_s, now_s, CLOCK_PLAIN_S);
    }
    return count;
}

/* The latest moment beyond above_s that two texts agree on; 0 none. */
static int64_t two_say(const struct clock_facts *facts, int64_t above_s)
{
    int64_t latest_s = 0;
    size_t count = stamp_count(facts);
    for (size_t i = 0; i < count; i++) {
        int64_t one_s = carried(&facts->stamps[i]);
        for (size_t k = 0; k < count; k++) {
            int64_t other_s = carried(&facts->stamps[k]);
            if (i != k && one_s >= other_s && other_s > above_s && one_s - other_s <= HELD_S &&
                one_s > latest_s) {
                latest_s = one_s;
            }
        }
    }
    return latest_s;
}

/* The latest moment beyond above_s that any text says; 0 none. */
static int64_t one_says(const struct clock_facts *facts, int64_t above_s)
{
    int64_t latest_s = 0;
    for (size_t i = 0; i < stamp_count(facts); i++) {
        int64_t at_s = carried(&facts->stamps[i]);
        latest_s = at_s > above_s && at_s > latest_s ? at_s : latest_s;
    }
    return latest_s;
}

/* The latest texts, one after the other, all say the same time, long ago; 0 they do not. */
static int64_t old_texts_say(const struct clock_facts *facts, int64_t now_s)
{
    if (stamp_count(facts) < OLD_TEXTS) {
        return 0;
    }
    int64_t latest_s = carried(&facts->stamps[0]);
    int64_t apart_s =
        time_or_none(facts->stamps[OLD_TEXTS - 1].age_s) - time_or_none(facts->stamps[0].age_s);
    for (size_t i = 0; i < OLD_TEXTS; i++) {
        int64_t at_s = carried(&facts->stamps[i]);
        if (at_s == 0 || now_s - at_s <= LONG_AGO_S || !is_near(at_s, latest_s, CLOCK_PLAIN_S)) {
            return 0;
        }
    }
    return apart_s >= APART_S ? latest_s : 0;
}

/* The network's time, unless it lies before what is known from texts. */
static int64_t network_says(const struct clock_facts *facts)
{
    int64_t network_s = credible(facts->network_s);
    int64_t witnessed_s = time_or_none(facts->witnessed_s);
    int64_t texts_s = two_say(facts, 0);
    int64_t least_s = texts_s > witnessed_s ? texts_s : witnessed_s;
    return network_s + CLOCK_PLAIN_S >= least_s ? network_s : 0;
}

/* The time, where the box's clock is certainly wrong: then the word of one is enough. */
static int64_t outside_says(const struct clock_facts *facts)
{
    int64_t above_s = time_or_none(facts->witnessed_s) - CLOCK_PLAIN_S;
    int64_t time_s = network_says(facts);
    time_s = time_s != 0 ? time_s : two_say(facts, above_s);
    return time_s != 0 ? time_s : one_says(facts, above_s);
}

static struct clock_judgement trusted(int64_t now_s, enum clock_reason reason, int64_t off_s)
{
    return (struct clock_judgement){
        .verdict = CLOCK_VERDICT_TRUSTED, .reason = reason, .off_s = off_s, .time_s = now_s};
}

/* time_s 0: it is only known to be later than least_s. */
static struct clock_judgement wrong(int64_t now_s, enum clock_reason reason, int64_t time_s,
                                    int64_t least_s)
{
    int64_t off_s = now_s - (time_s != 0 ? time_s : least_s);
    return (struct clock_judgement){.verdict =
                                        off_s < 0 ? CLOCK_VERDICT_BEHIND : CLOCK_VERDICT_AHEAD,
                                    .reason = reason,
                                    .off_s = off_s,
                                    .at_least = time_s == 0,
                                    .time_s = time_s};
}

/* Nothing from outside agrees with the clock. */
static struct clock_judgement judge_alone(const struct clock_facts *facts, int64_t now_s)
{
    int64_t network_s = network_says(facts);
    int64_t ahead_s = two_say(facts, now_s + CLOCK_PLAIN_S);
    int64_t old_s = old_texts_say(facts, now_s);
    int64_t witnessed_s = time_or_none(facts->witnessed_s);
    if (network_s != 0) {
        return wrong(now_s, CLOCK_REASON_NETWORK, network_s, 0);
    }
    if (ahead_s != 0) {
        return wrong(now_s, CLOCK_REASON_TEXTS, ahead_s, 0);
    }
    if (witnessed_s > now_s + CLOCK_PLAIN_S) {
        return wrong(now_s, CLOCK_REASON_WITNESSED, outside_says(facts), witnessed_s);
    }
    if (old_s != 0) {
        return wrong(now_s, CLOCK_REASON_TEXTS, old_s, 0);
    }
    struct clock_judgement judgement = trusted(now_s, CLOCK_REASON_NOTHING_AGAINST, 0);
    if (witnessed_s != 0 && now_s - witnessed_s > LEAP_S && agreeing(facts, now_s, 1) == 0) {
        judgement.verdict = CLOCK_VERDICT_UNKNOWN;
        judgement.reason = CLOCK_REASON_LEAPT;
    }
    return judgement;
}

struct clock_judgement clock_judge(const struct clock_facts *facts)
{
    int64_t now_s = time_or_none(facts->now_s);
    int64_t network_s = credible(facts->network_s);
    if (now_s < CLOCK_FLOOR_S) {
        return wrong(now_s, CLOCK_REASON_FLOOR, outside_says(facts), CLOCK_FLOOR_S);
    }
    if (network_s != 0 && is_near(network_s, now_s, CLOCK_PLAIN_S)) {
        return trusted(now_s, CLOCK_REASON_NETWORK, now_s - network_s);
    }
    if (agreeing(facts, now_s, LATEST) >= AGREEING) {
        return trusted(now_s, CLOCK_REASON_TEXTS, 0);
    }
    return judge_alone(facts, now_s);
}

bool clock_is_wrong(const struct clock_judgement *judgement)
{
    return judgement->verdict == CLOCK_VERDICT_BEHIND || judgement->verdict == CLOCK_VERDICT_AHEAD;
}

bool clock_stamp_fits(int64_t said_s, int64_t time_s)
{
    return credible(said_s) != 0 && (time_s == 0 || said_s <= time_s);
}

const char *clock_reason_says(enum clock_reason reason)
{
    switch (reason) {
    case CLOCK_REASON_NOTHING_AGAINST:
        break;
    case CLOCK_REASON_NETWORK:
        return "by the network's time";
    case CLOCK_REASON_TEXTS:
        return "by the stamps of texts";
    case CLOCK_REASON_FLOOR:
        return "it shows a time before this program was written";
    case CLOCK_REASON_WITNESSED:
        return "it shows a time before texts that are in the ledger";
    case CLOCK_REASON_LEAPT:
        return "it shows more than a year since the last text, and nothing confirms it";
    }
    return "";
}
