/* SPDX-License-Identifier: MIT
 *
 * How fast texts are read and written: our septets beside libosmocore's gsm_7bit_decode_n and
 * gsm_7bit_encode_n, turn about in one run, so that the ratios hold on a busy box; then whole
 * DELIVERs from hex, and what the text says. libosmocore gives single octets of an 8-bit set of its own, ours UTF-8 by all
 * tables. Ends with 1 where a bound below is missed. */
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <dlfcn.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#include "fixtures/standin/tpdu_network.h"
#include "parsers/crew_text_items.h"
#include "parsers/septets.h"
#include "parsers/tpdu_write.h"

#define ROUNDS 9
#define TEXTS 20000
#define DECODE_RATIO_LEAST 10.0
#define ENCODE_RATIO_LEAST 1.5
#define DELIVERS_A_SECOND_LEAST 1e6

static const struct septets_shift none = {0, 0};

/* 160 characters, each in both alphabets. */
static const char text[] =
    "M12 1340h, M14 77.5 h, TR-9 2210 h: oil looked at, two tyres low on the left, will be back at "
    "the yard by noon; the gate key is with Rosa. Thanks, Ines @ Alder W";

static int (*osmo_encode)(uint8_t *result, size_t n, const char *data, int *octets);
static int (*osmo_decode)(char *decoded, size_t n, const uint8_t *data, uint8_t length);

static uint8_t packed[SEPTETS_OCTETS_MAX];
static struct tpdu_line deliver;
static volatile size_t sum; /* so that no work is left out as unused */

static double now_s(void)
{
    struct timespec now;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

static void our_decode(void)
{
    uint8_t septets[SEPTETS_MAX];
    char out[SEPTETS_MAX * SEPTETS_UTF8_MAX + 1];
    size_t count = septets_unpack(packed, sizeof packed, septets, SEPTETS_MAX);
    sum += septets_to_utf8(septets, 0, count, none, out, sizeof out) + (unsigned char)out[7];
}

static void their_decode(void)
{
    char out[SEPTETS_MAX + 1];
    sum += (size_t)osmo_decode(out, sizeof out, packed, SEPTETS_MAX) + (unsigned char)out[7];
}

static void our_encode(void)
{
    uint8_t septets[SEPTETS_MAX];
    uint8_t out[SEPTETS_OCTETS_MAX];
    size_t count = 0;
    sum += septets_from_utf8(text, 0, SEPTETS_MAX, none, septets, SEPTETS_MAX, &count);
    sum += septets_pack(septets, count, out, sizeof out) + out[7];
}

static void their_encode(void)
{
    uint8_t out[SEPTETS_OCTETS_MAX + 1];
    int octets = 0;
    sum += (size_t)osmo_encode(out, sizeof out, text, &octets) + out[7];
}

static void whole_deliver(void)
{
    struct tpdu tpdu;
    sum += (size_t)tpdu_from_hex(deliver.hex, deliver.hex_len, &tpdu) + tpdu.user.text_len;
}

/* Against a yard of twelve machines, three of them in the text. */
static void understood(void)
{
    static const struct crew_machine machines[] = {
        {"M1", false, 3},  {"M2", false, 3},  {"M3", false, 3},  {"M7", false, 3},
        {"M9", false, 3},  {"M12", true, 3},  {"M14", true, 3},  {"TR-8", false, 3},
        {"TR-9", true, 3}, {"R20", false, 3}, {"R21", false, 3}, {"S2", false, 3}};
    static const char *const plans[] = {"drive", "engine"};
    static const char *const people[] = {"Ines", "Tom", "Rosa"};
    static const struct crew_names names = {.machines = machines,
                                            .machine_count = 12,
                                            .plans = plans,
                                            .plan_count = 2,
                                            .people = people,
                                            .people_count = 3};
    static struct crew_text_room room;
    struct crew_text out;
    crew_text_read(text, SEPTETS_MAX, &names, CREW_DATE_MDY, false, &room, &out);
    sum += out.statement_count;
}

static double texts_a_second(void (*work)(void))
{
    double start_s = now_s();
    for (int i = 0; i < TEXTS; i++) {
        work();
    }
    return TEXTS / (now_s() - start_s);
}

static void keep_best(double *best, double figure)
{
    *best = figure > *best ? figure : *best;
}

static bool find_libosmocore(void)
{
    void *library = dlopen("libosmogsm.so", RTLD_NOW);
    if (library != NULL) {
        *(void **)&osmo_encode = dlsym(library, "gsm_7bit_encode_n");
        *(void **)&osmo_decode = dlsym(library, "gsm_7bit_decode_n");
    }
    return osmo_encode != NULL && osmo_decode != NULL;
}

static bool set_up(void)
{
    const struct tpdu_deliver_order order = {
        .centre = "+12065550199",
        .from = "+12065550110",
        .part = {.text = text, .to = SEPTETS_MAX},
        .sent_at_s = INT64_C(1795616149),
        .zone_quarters = -28,
    };
    uint8_t septets[SEPTETS_MAX];
    size_t count = 0;
    return strlen(text) >= SEPTETS_MAX &&
           septets_from_utf8(text, 0, SEPTETS_MAX, none, septets, SEPTETS_MAX, &count) ==
               SEPTETS_MAX &&
           septets_pack(septets, count, packed, sizeof packed) == sizeof packed &&
           tpdu_write_deliver(&order, &deliver) == TPDU_OK;
}

int main(void)
{
    double ours_read = 0, theirs_read = 0, ours_write = 0, theirs_write = 0, delivers = 0,
           grammar = 0;
    if (!set_up() || !find_libosmocore()) {
        (void)fprintf(stderr, "bench: libosmogsm (libosmocore-dev) is not installed\n");
        return 69;
    }
    for (int round = 0; round < ROUNDS; round++) {
        keep_best(&ours_read, texts_a_second(our_decode));
        keep_best(&theirs_read, texts_a_second(their_decode));
        keep_best(&ours_write, texts_a_second(our_encode));
        keep_best(&theirs_write, texts_a_second(their_encode));
        keep_best(&delivers, texts_a_second(whole_deliver));
        keep_best(&grammar, texts_a_second(understood));
    }
    printf("160 characters, best of %d rounds, one core\n", ROUNDS);
    printf("read     ours %10.0f/s  libosmocore %9.0f/s  ratio %5.1f (at least %.0f)\n", ours_read,
           theirs_read, ours_read / theirs_read, DECODE_RATIO_LEAST);
    printf("write    ours %10.0f/s  libosmocore %9.0f/s  ratio %5.1f (at least %.1f)\n", ours_write,
           theirs_write, ours_write / theirs_write, ENCODE_RATIO_LEAST);
    printf("DELIVER  ours %10.0f/s  whole, from hex     (at least %.0f)\n", delivers,
           DELIVERS_A_SECOND_LEAST);
    printf("grammar  ours %10.0f/s  understood, for a yard of twelve\n", grammar);
    return ours_read >= DECODE_RATIO_LEAST * theirs_read &&
                   ours_write >= ENCODE_RATIO_LEAST * theirs_write &&
                   delivers >= DELIVERS_A_SECOND_LEAST
               ? 0
               : 1;
}
