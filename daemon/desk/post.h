/* SPDX-License-Identifier: MIT
 * post: the only way out. What is queued here is on disk; when it goes is settled by caps, by the
 * shop's hours, by who has opted out, and by how long it is worth saying. */
#ifndef METERPOST_DAEMON_DESK_POST_H
#define METERPOST_DAEMON_DESK_POST_H

#include "daemon/desk/desk.h"
#include "daemon/desk/wording.h"

/* The first moment from at_s on within the shop's hours: at_s itself where it is open; by the shop's
 * zone, which is the process's. A shop without a workday in the next year is never closed, so that
 * no alert waits for ever. */
int64_t shop_hours_next(const struct settings_shop *shop, int64_t at_s);

struct post_order {
    int32_t person; /* index into settings.people */
    enum texts_kind kind;
    const char *body;      /* "" is not sent */
    int64_t about_text_id; /* the text it answers, 0 none */
    int64_t now_s;
    bool shop_hours;   /* held until the shop is open */
    bool urgent;       /* of danger: past what waits, and past the caps */
    bool to_opted_out; /* a reply: whether its receiver hears one was settled with the text */
};

/* Queues it in the open transaction. The ledger's number of the text out; 0 where there is none: the
 * person has opted out, there is nothing to say, or there is a fault. */
int64_t post_queue(struct desk *desk, const struct post_order *order);

/* The same with that sentence for its body, in the person's language. */
void post_say(struct desk *desk, const struct post_order *order, enum wording_key key,
              const struct wording_values *values);

/* The name by which the ledger has that modem; NULL where it has none. */
const char *post_modem(const struct desk *desk, size_t modem);

/* The longest a part is held back for by a cap. */
#define POST_DAY_S (24 * 3600)
#define POST_HOUR_S 3600

/* Inside the transaction of a text in: where nothing is under way by that modem, the part that would go out
 * by it next is marked as handed over along with it, which saves a commit; true where there is one. After a commit that failed
 * it is doubted: the mark may be on the disk or not. post_put_back takes the mark back where the modem
 * did not come for the part, or it is doubted; false where that could not be done now. */
bool post_make_ready(struct desk *desk, size_t modem, int64_t now_s);
void post_doubt_ready(struct desk *desk);
bool post_put_back(struct desk *desk);

#endif
