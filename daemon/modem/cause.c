/* SPDX-License-Identifier: MIT
 * cause: see the header. 0 to 127 are causes of TS 24.011 E-2 and 8.2.5.4, 128 to 255 TP-FCS of
 * TS 23.040 9.2.3.22, 300 to 511 of the modem itself (TS 27.005 3.2.5), above that the maker's own.
 * What passes and what does not follows from their meaning; the pauses are common practice, no
 * source. A modem says many of them wrongly, so only what names the number or the text is refused
 * for good: a lost character makes a 304, a modem that is busy with itself says 69 or 302. */
#include "daemon/modem/cause.h"

#include <inttypes.h>
#include <stdio.h>

#define MINUTE_S 60
#define HOUR_S 3600

#define PASSING(seconds) .scope = CAUSE_SCOPE_PASSING, .pause_s = (seconds)
#define PASSING_ALL(seconds) PASSING(seconds), .all = true
#define CONTRACT .scope = CAUSE_SCOPE_CONTRACT, .pause_s = HOUR_S
#define NUMBER .scope = CAUSE_SCOPE_NUMBER
#define TEXT .scope = CAUSE_SCOPE_TEXT

static const struct cause causes[] = {
    {CAUSE_NONE, CAUSE_NONE, "the modem gave no reason", PASSING(MINUTE_S)},
    /* TS 24.011 E-2 */
    {1, 1, "the number is not assigned to anybody", NUMBER},
    {8, 8, "the operator bars texts from this SIM", CONTRACT},
    {10, 10, "the operator bars calls and texts from this SIM", CONTRACT},
    {11, 11, "reserved by the network", PASSING(MINUTE_S)},
    {17, 17, "failure in the network", PASSING_ALL(2 * MINUTE_S)},
    {21, 21, "the network rejected it: no credit, or too many texts", PASSING(10 * MINUTE_S)},
    {22, 22, "the network is congested, or a memory is full", PASSING_ALL(30)},
    {27, 27, "the receiver's phone is out of service", PASSING(10 * MINUTE_S)},
    {28, 28, "the network does not know this SIM", CONTRACT},
    {29, 29, "the network rejects the service", CONTRACT},
    {30, 30, "the network does not know the subscriber", CONTRACT},
    {38, 38, "the network is out of order", PASSING_ALL(MINUTE_S), .finding = FINDING_NETWORK_LOST},
    {41, 41, "a passing failure of the network", PASSING_ALL(30)},
    {42, 42, "the network is congested", PASSING_ALL(30)},
    {47, 47, "the network has no room for it now", PASSING_ALL(30)},
    {50, 50, "texts are not part of the contract", CONTRACT},
    {69, 69, "the network does not offer the service", PASSING(MINUTE_S)},
    {81, 81, "the network lost the thread (invalid reference)", PASSING(MINUTE_S)},
    {95, 95, "the network calls it semantically incorrect", PASSING(MINUTE_S)},
    {96, 96, "the network misses something in it", PASSING(MINUTE_S)},
    {97, 97, "the network does not know this type of message", PASSING(MINUTE_S)},
    {98, 98, "the network did not expect it now", PASSING(MINUTE_S)},
    {99, 99, "the network does not know a part of it", PASSING(MINUTE_S)},
    {111, 111, "a protocol error between modem and network", PASSING(MINUTE_S)},
    {127, 127, "the networks in between do not work together", PASSING(MINUTE_S)},
    /* TS 23.040 9.2.3.22 */
    {128, 128, "this kind of text is not supported (telematic)", TEXT},
    {129, 129, "this kind of text is not supported (type 0)", TEXT},
    {130, 130, "an earlier text cannot be replaced", TEXT},
    {143, 143, "this kind of text is not supported", TEXT},
    {144, 144, "its alphabet is not supported", TEXT},
    {145, 145, "its class is not supported", TEXT},
    {159, 159, "its coding is not supported", TEXT},
    {160, 160, "the service centre cannot act on it", TEXT},
    {161, 161, "the service centre does not support it", TEXT},
    {175, 175, "the service centre cannot act on it", TEXT},
    {176, 176, "this format of text is not supported", TEXT},
    {192, 192, "the service centre is busy", PASSING_ALL(MINUTE_S)},
    {193, 193, "this SIM has no contract with the service centre", CONTRACT},
    {194, 194, "the service centre has failed", PASSING_ALL(2 * MINUTE_S)},
    {195, 195, "the service centre calls the number invalid", NUMBER},
    {196, 196, "the receiver's number is barred", NUMBER},
    {197, 197, "a duplicate: the service centre has it already", .scope = CAUSE_SCOPE_TAKEN},
    {198, 198, "the service centre takes no such validity", TEXT},
    {199, 199, "the service centre takes no such validity", TEXT},
    {208, 208, "the SIM's memory for texts is full", PASSING_ALL(30),
     .finding = FINDING_MEMORY_FULL},
    {209, 209, "the SIM has no memory for texts", PASSING(MINUTE_S)},
    {210, 210, "an error in the modem", PASSING(MINUTE_S)},
    {211, 211, "the memory for texts is full", PASSING_ALL(30), .finding = FINDING_MEMORY_FULL},
    {212, 212, "the SIM is busy", PASSING_ALL(30)},
    {213, 213, "the SIM had an error", PASSING_ALL(30)},
    {224, 254, "an error of the operator's own", PASSING(MINUTE_S)},
    {255, 255, "the network gave no reason", PASSING(MINUTE_S)},
    /* TS 27.005 3.2.5 */
    {300, 300, "failure of the modem", PASSING(MINUTE_S)},
    {301, 301, "texts are reserved for another use of the modem", PASSING(MINUTE_S)},
    {302, 302, "the modem does not allow it now", PASSING(30)},
    {303, 303, "the modem does not support it", PASSING(MINUTE_S)},
    {304, 304, "the modem found it damaged on its way", PASSING(30)},
    {305, 305, "the modem called the text invalid", PASSING(MINUTE_S)},
    {310, 310, "no SIM in the modem", PASSING_ALL(MINUTE_S), .finding = FINDING_SIM_TROUBLE},
    {311, 311, "the SIM wants its PIN", PASSING_ALL(MINUTE_S), .finding = FINDING_SIM_TROUBLE},
    {312, 312, "the modem is locked to another SIM", PASSING_ALL(MINUTE_S),
     .finding = FINDING_SIM_TROUBLE},
    {313, 313, "the SIM has failed", PASSING_ALL(MINUTE_S), .finding = FINDING_SIM_TROUBLE},
    {314, 314, "the SIM is busy", PASSING_ALL(30)},
    {315, 315, "it is the wrong SIM", PASSING_ALL(MINUTE_S), .finding = FINDING_SIM_TROUBLE},
    {316, 316, "the SIM wants its PUK", PASSING_ALL(MINUTE_S), .finding = FINDING_SIM_TROUBLE},
    {317, 318, "the SIM wants its second PIN", PASSING_ALL(MINUTE_S),
     .finding = FINDING_SIM_TROUBLE},
    {320, 320, "failure of the memory for texts", PASSING(MINUTE_S)},
    {321, 321, "the modem found nothing at that place", PASSING(MINUTE_S)},
    {322, 322, "the memory for texts is full", PASSING_ALL(30), .finding = FINDING_MEMORY_FULL},
    {330, 330, "the service centre's number is not known", PASSING_ALL(10 * MINUTE_S),
     .finding = FINDING_CENTRE_LOST},
    {331, 331, "no network", PASSING_ALL(MINUTE_S), .finding = FINDING_NETWORK_LOST},
    {332, 332, "the network did not answer", PASSING_ALL(MINUTE_S),
     .finding = FINDING_NETWORK_LOST},
    {340, 340, "the modem expected no receipt", PASSING(MINUTE_S)},
    {500, 500, "the modem gave no reason", PASSING(MINUTE_S)},
};

static const struct cause unlisted = {0, 0, "a reason of the modem maker's own", PASSING(MINUTE_S)};

const struct cause *cause_of(int32_t number)
{
    for (size_t i = 0; i < sizeof causes / sizeof causes[0]; i++) {
        if (number >= causes[i].first && number <= causes[i].last) {
            return &causes[i];
        }
    }
    return &unlisted;
}

int32_t cause_of_equipment(int32_t number)
{
    static const struct {
        int32_t equipment, message;
    } same[] = {{3, 302},  {4, 303},  {5, 312},  {10, 310}, {11, 311}, {12, 316}, {13, 313},
                {14, 314}, {15, 315}, {17, 317}, {18, 318}, {20, 322}, {21, 321}, {23, 320},
                {30, 331}, {31, 332}, {32, 331}, {50, 305}, {100, 500}};
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        if (same[i].equipment == number) {
            return same[i].message;
        }
    }
    return CAUSE_NONE;
}

int64_t cause_pause_ms(const struct cause *cause, int32_t tries)
{
    static const int32_t longer[] = {1, 2, 5, 15, 60};
    int32_t last = (int32_t)(sizeof longer / sizeof longer[0]) - 1;
    int64_t pause_s =
        (int64_t)cause->pause_s * longer[tries < 0 ? 0 : (tries < last ? tries : last)];
    return 1000 * (pause_s < HOUR_S ? pause_s : HOUR_S);
}

const char *cause_write(int32_t number, char out[CAUSE_SAYS_OCTETS])
{
    const char *says = cause_of(number)->says;
    if (number < 0) {
        (void)snprintf(out, CAUSE_SAYS_OCTETS, "%s", says);
    } else {
        (void)snprintf(out, CAUSE_SAYS_OCTETS, "%s (%" PRId32 ")", says, number);
    }
    return out;
}
