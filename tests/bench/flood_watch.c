/* SPDX-License-Identifier: MIT
 * flood_watch: see the header. */
#include "tests/bench/flood_watch.h"

#include <string.h>

#define HOUR_MS (60 * 60 * 1000)

void flood_watch_init(struct flood_watch *watch)
{
    *watch = (struct flood_watch){.caused_ms = -1, .told_ms = -1};
}

/* The hour that ends with this text: how many of the latest lie in it. */
static void count_hour(struct flood_watch *watch, int64_t now_ms)
{
    size_t in_hour = 0;
    watch->out_ms[watch->texts_out % FLOOD_HOUR_MOST] = now_ms;
    watch->texts_out++;
    while (in_hour < FLOOD_HOUR_MOST && in_hour < watch->texts_out &&
           now_ms - watch->out_ms[(watch->texts_out - 1 - in_hour) % FLOOD_HOUR_MOST] < HOUR_MS) {
        in_hour++;
    }
    watch->hour_most = in_hour > watch->hour_most ? in_hour : watch->hour_most;
}

static void see_text_out(struct flood_watch *watch, const struct event *event)
{
    char to[64], body[EVENTS_LINE_OCTETS];
    (void)event_field(event, "to", to, sizeof to);
    (void)event_field(event, "body", body, sizeof body);
    count_hour(watch, event->mono_ms);
    for (size_t i = 0; i < sizeof watch->phones / sizeof watch->phones[0]; i++) {
        watch->owes[i] = watch->owes[i] || strcmp(to, watch->phones[i]) == 0;
    }
    if (watch->caused_ms < 0 || watch->told_ms >= 0) {
        return;
    }
    if (strcmp(to, watch->shop) == 0 && strstr(body, watch->alert) != NULL) {
        watch->told_ms = event->mono_ms;
    } else {
        watch->between++;
    }
}

static void see_text_in(struct flood_watch *watch, const struct event *event)
{
    char body[EVENTS_LINE_OCTETS];
    watch->texts_in++;
    if (event_field(event, "body", body, sizeof body) && strcmp(body, watch->cause) == 0) {
        watch->caused_ms = event->mono_ms;
    }
}

void flood_watch_event(void *ctx, const struct event *event)
{
    struct flood_watch *watch = ctx;
    if (strcmp(event->word, "text-in") == 0) {
        see_text_in(watch, event);
    } else if (strcmp(event->word, "text-out") == 0) {
        see_text_out(watch, event);
    } else {
        watch->stored += strcmp(event->word, "stored") == 0;
        watch->deleted += strcmp(event->word, "deleted") == 0;
        watch->lost += strcmp(event->word, "lost") == 0;
    }
}
