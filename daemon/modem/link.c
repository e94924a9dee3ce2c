/* SPDX-License-Identifier: MIT
 * link: the one conversation with the modem. So far a line that stays closed: it lets the house
 * be wired before the conversation is written. */
#include "daemon/modem/link.h"

#include <stdlib.h>

struct link {
    struct link_settings settings;
    struct link_host host;
    struct line_count *count;
    struct link_health health;
};

struct link *link_new(const struct link_settings *settings, const struct link_host *host,
                      struct line_count *count)
{
    struct link *link = calloc(1, sizeof *link);
    if (link == NULL) {
        return NULL;
    }
    link->settings = *settings;
    link->host = *host;
    link->count = count;
    link->health = (struct link_health){.state = LINK_STATE_CLOSED,
                                        .says = "not opened yet",
                                        .registration = -1,
                                        .storage_used = -1,
                                        .storage_total = -1};
    return link;
}

void link_free(struct link *link)
{
    free(link);
}

void link_configure(struct link *link, const struct link_settings *settings)
{
    link->settings = *settings;
}

void link_wake(struct link *link)
{
    (void)link;
}

int link_descriptor(void *link, short *events)
{
    (void)link;
    *events = 0;
    return -1;
}

int64_t link_deadline_ms(void *link)
{
    (void)link;
    return CLOCK_NEVER;
}

void link_ready(void *link, short revents, struct instant now)
{
    (void)link;
    (void)revents;
    (void)now;
}

void link_due(void *link, struct instant now)
{
    (void)link;
    (void)now;
}

const struct link_health *link_health(const struct link *link)
{
    return &link->health;
}
