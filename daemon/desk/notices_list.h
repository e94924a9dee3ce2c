/* SPDX-License-Identifier: MIT
 * notices_list: the machines that one text to the shop is about. */
#ifndef METERPOST_DAEMON_DESK_NOTICES_LIST_H
#define METERPOST_DAEMON_DESK_NOTICES_LIST_H

#include "daemon/desk/standing.h"

#define NOTICES_LIST_MAX 64

struct notices_list {
    struct yard_standing rows[NOTICES_LIST_MAX];
    size_t count;
    size_t left_out; /* beyond the room */
};

void notices_list_clear(struct notices_list *list);
/* Each machine and plan once. */
void notices_list_add(struct notices_list *list, const struct yard_standing *standing);

/* Writes the text in a person's language, worst first, as many machines as a few texts of the air
 * hold, and how many more there are. */
void notices_list_write(const struct desk *desk, const struct notices_list *list,
                        const struct wording *wording, int32_t today, char *out, size_t size);

/* Queues it to everybody of the shop; *text_id is one of these texts, 0 where nobody may be told. */
enum ledger_result notices_list_send(struct desk *desk, const struct notices_list *list,
                                     int64_t now_s, int64_t *text_id);

#endif
