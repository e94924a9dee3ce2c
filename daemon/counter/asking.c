/* SPDX-License-Identifier: MIT
 * asking: see asking.h. */
#include "daemon/counter/asking.h"

#define TIMEOUT_MS 15000

enum door_result asking_daemon(struct asking *asking, const struct settings *settings,
                               size_t word_count, const char *const *words, const char *advice,
                               FILE *err)
{
    enum door_result result = door_ask(settings->door, word_count, words, TIMEOUT_MS,
                                       &asking->status, asking->answer, &asking->length);
    switch (result) {
    case DOOR_ANSWERED:
        asking->answer[asking->length] = '\0';
        break;
    case DOOR_NOBODY:
        break;
    case DOOR_FORBIDDEN:
        (void)fprintf(
            err, "meterpost: the daemon's door %s is closed to you; be root, or of its group\n",
            settings->door);
        break;
    case DOOR_FAILED:
        (void)fprintf(err, "meterpost: the daemon did not answer at %s%s\n", settings->door,
                      advice);
        break;
    }
    return result;
}
