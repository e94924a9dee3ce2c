/* SPDX-License-Identifier: MIT
 * line_bench: how long an answer takes on a serial line of 115200 bit/s, against the line alone.
 * Daemon and stand-in run on the real clock over a pseudo-terminal, which carries octets in no
 * time; the stand-in answers at once. From the announcement of a text to the last octet of the
 * answer's PDU passes what the daemon itself needs, its one commit (the text, with it the part handed
 * over) included. On a real line the octets' own time comes on top, ten bits each, and nothing
 * overlaps, since command and answer take turns. So
 *
 *     ratio = (line + measured) / (line + commit)
 *
 * with the commit as a write of a few pages, synced, takes in the same folder. Of both the middle
 * third counts, since what else the box does takes its turns between. */
#include <fcntl.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "fixtures/conductor/events.h"
#include "fixtures/conductor/folder.h"
#include "fixtures/conductor/house.h"
#include "fixtures/conductor/process.h"

#define TEXTS 19 /* the cap on texts to one number ends a longer run */
#define BITS_A_SECOND 115200
#define BITS_AN_OCTET 10
#define COMMIT_OCTETS (4 * 4096)
#define PATIENCE_MS 30000
#define RATIO_MOST 1.10
/* Around the two PDUs: the commands, prompts and results (tests/cost_test.c has them in full). */
#define FRAME_OCTETS 120

struct bench {
    struct yard yard;
    struct process daemon, standin;
    struct events events;
    int64_t spent_us[TEXTS]; /* in whole milliseconds: so the transcript has it */
    size_t octets, answers;
};

static int64_t real_us(void)
{
    struct timespec now = {0};
    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

static void pause_a_little(void)
{
    struct timespec wait = {.tv_nsec = 500000};
    (void)nanosleep(&wait, NULL);
}

/* The same words within one second would be one text delivered twice. */
static void let_the_stamp_change(void)
{
    struct timespec wait = {.tv_sec = 1, .tv_nsec = 50000000};
    (void)nanosleep(&wait, NULL);
}

/* The next such event, as soon as it is written. */
static bool await(struct bench *bench, const char *word, const char *fragment, struct event *event)
{
    int64_t until_us = real_us() + PATIENCE_MS * INT64_C(1000);
    while (real_us() < until_us) {
        while (events_next(&bench->events, event)) {
            if (strcmp(event->word, word) == 0 && strstr(event->fields, fragment) != NULL) {
                return true;
            }
        }
        pause_a_little();
    }
    (void)fprintf(stderr, "line-bench: no event %s %s\n", word, fragment);
    return false;
}

static bool start(struct bench *bench)
{
    static char meterpost[300], standin[300], line[300], transcript[300];
    struct event event;
    if (!yard_open(&bench->yard, folder_make(), "shop-open.conf")) {
        return false;
    }
    process_path("meterpost", meterpost, sizeof meterpost);
    process_path("standin-modem", standin, sizeof standin);
    (void)snprintf(line, sizeof line, "%s/modem", folder_path());
    (void)snprintf(transcript, sizeof transcript, "%s/transcript", folder_path());
    const char *modem[] = {standin, "--line", line, "--transcript", transcript, NULL};
    const char *daemon[] = {meterpost, "run", "-c", bench->yard.config, NULL};
    const struct process_wish scripted = {.scripted = true};
    const struct process_wish plain = {0};
    if (!process_start(&bench->standin, modem, &scripted)) {
        return false;
    }
    for (int i = 0; i < 2000 && access(line, F_OK) != 0; i++) {
        pause_a_little();
    }
    return process_start(&bench->daemon, daemon, &plain) &&
           events_open(&bench->events, transcript) && await(bench, "host", "AT+CSQ", &event);
}

static size_t hex_digits(const struct event *event)
{
    return strspn(&event->fields[strcspn(event->fields, "\"") + 1], "0123456789ABCDEF");
}

/* One text in, one answer out. A question about the machine changes nothing, so that all are alike. */
static bool exchange(struct bench *bench)
{
    static const char text[] = "text " HOUSE_TOM " \"M12?\"\n";
    struct event told, read, sent;
    let_the_stamp_change();
    if (write(bench->standin.script, text, sizeof text - 1) != (ssize_t)sizeof text - 1 ||
        !await(bench, "modem", "+CMTI", &told) || !await(bench, "modem", "\"07", &read) ||
        !await(bench, "host", "\"00", &sent)) {
        return false;
    }
    bench->spent_us[bench->answers] = (sent.mono_ms - told.mono_ms) * 1000;
    bench->octets += hex_digits(&read) + hex_digits(&sent) + FRAME_OCTETS;
    bench->answers++;
    return await(bench, "text-out", "", &sent);
}

static int compare(const void *one, const void *other)
{
    int64_t a = *(const int64_t *)one, b = *(const int64_t *)other;
    return (a > b) - (a < b);
}

/* The mean of the middle third, in milliseconds. */
static double middle_ms(int64_t *times_us, size_t count)
{
    double sum = 0;
    size_t third = count / 3;
    qsort(times_us, count, sizeof *times_us, compare);
    for (size_t i = third; i < count - third; i++) {
        sum += (double)times_us[i] / 1000;
    }
    return sum / (double)(count - 2 * third);
}

/* A commit as the disk takes it. */
static double commit_ms(void)
{
    static char pages[COMMIT_OCTETS];
    int64_t times_us[TEXTS] = {0};
    char path[300];
    (void)snprintf(path, sizeof path, "%s/commit", folder_path());
    int fd = open(path, O_WRONLY | O_CREAT | O_CLOEXEC, 0600);
    for (size_t i = 0; i < TEXTS && fd >= 0; i++) {
        int64_t begun_us = real_us();
        if (write(fd, pages, sizeof pages) != (ssize_t)sizeof pages || fdatasync(fd) != 0) {
            break;
        }
        times_us[i] = real_us() - begun_us;
    }
    if (fd >= 0) {
        (void)close(fd);
    }
    return middle_ms(times_us, TEXTS);
}

static bool report(struct bench *bench)
{
    double line =
        (double)bench->octets / (double)bench->answers * BITS_AN_OCTET * 1000 / BITS_A_SECOND;
    double measured = middle_ms(bench->spent_us, bench->answers), commit = commit_ms();
    double ratio = (line + measured) / (line + commit);
    (void)printf("%zu answers, %zu octets each: line %.2f ms, measured %.2f ms, commit %.2f ms\n",
                 bench->answers, bench->octets / bench->answers, line, measured, commit);
    (void)printf("ratio %.3f (at most %.2f)\n", ratio, RATIO_MOST);
    return ratio <= RATIO_MOST;
}

int main(void)
{
    struct bench bench = {0};
    bool good = start(&bench);
    for (int i = 0; i < TEXTS && good; i++) {
        good = exchange(&bench);
    }
    if (bench.answers > 0) {
        good = report(&bench) && good;
    }
    (void)process_end(&bench.daemon, 15, 20);
    (void)process_end(&bench.standin, 15, 20);
    events_close(&bench.events);
    yard_close(&bench.yard);
    folder_remove();
    return good ? 0 : 1;
}
