/* SPDX-License-Identifier: MIT
 *
 * What we write is read by Wireshark's tshark as it was meant: a thousand short messages of all
 * three kinds in one capture, always the same ones. tshark has no national tables, so none are
 * used; its time zone has no sign. */
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>
#include <cmocka.h>

#include "fixtures/standin/tpdu_network.h"
#include "parsers/tpdu_fields.h"
#include "parsers/tpdu_write.h"
#include "parsers/utf8.h"

#define MESSAGES 1000
#define SEED 48213u
#define LINE_MAX_OCTETS 4096

#define TSHARK                                                                                     \
    "cd %s && text2pcap -q -D -P gsm_sms in.txt out.pcapng >/dev/null 2>&1 && "                    \
    "tshark -r out.pcapng -T fields -E separator='|' -e gsm_sms.tp-mti -e gsm_sms.tp-oa "          \
    "-e gsm_sms.tp-da -e gsm_sms.tp-ra -e gsm_sms.tp-mr -e gsm_sms.tp-dcs "                        \
    "-e gsm_sms.scts.year -e gsm_sms.scts.month -e gsm_sms.scts.day -e gsm_sms.scts.hour "         \
    "-e gsm_sms.scts.minutes -e gsm_sms.scts.seconds -e gsm_sms.scts.timezone "                    \
    "-e gsm_sms.udh.mm.msg_id -e gsm_sms.udh.mm.msg_parts -e gsm_sms.udh.mm.msg_part "             \
    "-e gsm_sms.tp-lp -e gsm_sms.tp-mms -e gsm_sms.tp-srr -e gsm_sms.tp-vpf "                      \
    "-e gsm_sms.dis_field.st_error -e gsm_sms.dis.field_st_reason -e gsm_sms.sms_text 2>/dev/null"

static uint32_t random_state = SEED;

/* xorshift (Marsaglia, 2003): the same messages on every box. */
static uint32_t random_below(uint32_t bound)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 17;
    random_state ^= random_state << 5;
    return random_state % bound;
}

/* What is sent, and what tshark is to say of it. */
struct message {
    struct tpdu_line line;
    bool from_modem;
    char says[LINE_MAX_OCTETS];
};

static struct message messages[MESSAGES];

/* Characters of the default alphabet and its extension that fill no line and end none. */
static const char *const gsm_characters[] = {
    "@", "£", "$", "¥", "è", "é", "ù", "ì", "ò", "Ç", "Ø", "ø", "Å", "å", "Δ", "_", "Φ", "Γ",
    "Λ", "Ω", "Π", "Ψ", "Σ", "Θ", "Ξ", "Æ", "æ", "ß", "É", " ", "!", "#", "¤", "%", "&", "'",
    "(", ")", "*", "+", ",", "-", ".", "/", "0", "1", "2", "3", "4", "5", "6", "7", "8", "9",
    ":", ";", "<", "=", ">", "?", "¡", "A", "M", "Z", "Ä", "Ö", "Ñ", "Ü", "§", "¿", "a", "h",
    "m", "z", "ä", "ö", "ñ", "ü", "à", "^", "{", "}", "[", "~", "]", "€"};

static size_t any_character(enum tpdu_alphabet alphabet, char *text, size_t max, size_t at)
{
    if (alphabet == TPDU_ALPHABET_GSM7) {
        const char *piece =
            gsm_characters[random_below(sizeof gsm_characters / sizeof gsm_characters[0])];
        memcpy(text + at, piece, strlen(piece));
        return strlen(piece);
    }
    static const uint32_t first[] = {0x21, 0xA1, 0x391, 0x410, 0x4E00, 0x1F600};
    return utf8_write(first[random_below(6)] + random_below(24), text, max, at);
}

/* A text that one part holds, so that nothing is left over; the filling is told by filling. */
static struct tpdu_part any_part(char *text, size_t max, uint16_t reference)
{
    struct tpdu_part part = {.text = text};
    struct tpdu_user user;
    size_t len = 0;
    part.alphabet = random_below(3) > 0 ? TPDU_ALPHABET_GSM7 : TPDU_ALPHABET_UCS2;
    if (random_below(3) == 0) {
        part.concat.present = true;
        part.concat.sixteen_bit = random_below(2) == 0 || reference > 255;
        part.concat.reference = reference;
        part.concat.parts = (uint8_t)(2 + random_below(254));
        part.concat.part = (uint8_t)(1 + random_below(part.concat.parts));
    }
    for (uint32_t characters = random_below(170); characters > 0; characters--) {
        size_t written = any_character(part.alphabet, text, max - 1, len);
        /* no bar in it, which parts the columns, and no space at an end */
        if (text[len] != '|') {
            len += written;
        }
    }
    part.to = len;
    part.to = tpdu_user_fill(&user, &part);
    return part;
}

static const char *any_number(char number[TPDU_ADDRESS_TEXT_MAX])
{
    (void)snprintf(number, TPDU_ADDRESS_TEXT_MAX, "%s%u", random_below(2) == 0 ? "+120655501" : "4",
                   10 + random_below(90));
    return number;
}

static const char *without_plus(const char *number)
{
    return number[0] == '+' ? number + 1 : number;
}

/* Six columns of a time stamp, and its zone without a sign; `twice` as a report has it. */
static size_t say_times(char *says, size_t max, int64_t one_s, int64_t other_s, int zone,
                        bool twice)
{
    struct tm one;
    struct tm other;
    time_t one_local = (time_t)(one_s + zone * 900);
    time_t other_local = (time_t)(other_s + zone * 900);
    size_t used = 0;
    assert_non_null(gmtime_r(&one_local, &one));
    assert_non_null(gmtime_r(&other_local, &other));
    const int ones[] = {one.tm_year % 100, one.tm_mon + 1, one.tm_mday,
                        one.tm_hour,       one.tm_min,     one.tm_sec};
    const int others[] = {other.tm_year % 100, other.tm_mon + 1, other.tm_mday,
                          other.tm_hour,       other.tm_min,     other.tm_sec};
    for (size_t i = 0; i < 6; i++) {
        used += (size_t)snprintf(says + used, max - used, "%d", ones[i]);
        used += twice ? (size_t)snprintf(says + used, max - used, ",%d", others[i]) : 0;
        used += (size_t)snprintf(says + used, max - used, "|");
    }
    used += (size_t)snprintf(says + used, max - used, "%d", abs(zone));
    used += twice ? (size_t)snprintf(says + used, max - used, ",%d", abs(zone)) : 0;
    return used + (size_t)snprintf(says + used, max - used, "|");
}

static size_t say_concat(char *says, size_t max, const struct tpdu_part *part)
{
    const struct tpdu_concat *concat = &part->concat;
    if (!concat->present) {
        return (size_t)snprintf(says, max, "|||");
    }
    return (size_t)snprintf(says, max, "%u|%u|%u|", concat->reference, concat->parts, concat->part);
}

static unsigned dcs_of(const struct tpdu_part *part)
{
    return part->alphabet == TPDU_ALPHABET_UCS2 ? 8 : 0;
}

static void any_deliver(struct message *message, uint16_t reference)
{
    char text[1024];
    char number[TPDU_ADDRESS_TEXT_MAX];
    const struct tpdu_deliver_order order = {
        .from = random_below(8) == 0 ? "Alder Works" : any_number(number),
        .part = any_part(text, sizeof text, reference),
        .sent_at_s = INT64_C(1500000000) + random_below(1000000000),
        .zone_quarters = (int)random_below(105) - 48,
        .more_waiting = random_below(2) == 0,
        .loop_prevention = random_below(2) == 0,
    };
    char *says = message->says;
    size_t max = sizeof message->says;
    assert_int_equal(tpdu_write_deliver(&order, &message->line), TPDU_OK);
    size_t used =
        (size_t)snprintf(says, max, "0|%s||||%u|", without_plus(order.from), dcs_of(&order.part));
    used += say_times(says + used, max - used, order.sent_at_s, 0, order.zone_quarters, false);
    used += say_concat(says + used, max - used, &order.part);
    (void)snprintf(says + used, max - used, "%d|%d|||||%.*s", order.loop_prevention,
                   !order.more_waiting, (int)order.part.to, text);
}

static void any_submit(struct message *message, uint16_t reference)
{
    char text[1024];
    char number[TPDU_ADDRESS_TEXT_MAX];
    const struct tpdu_submit_order order = {.to = any_number(number),
                                            .part = any_part(text, sizeof text, reference),
                                            .report_wanted = random_below(2) == 0,
                                            .validity_s = random_below(2) * 86400};
    char *says = message->says;
    size_t max = sizeof message->says;
    message->from_modem = true;
    assert_int_equal(tpdu_write_submit(&order, &message->line), TPDU_OK);
    size_t used = (size_t)snprintf(says, max, "1||%s||0|%u||||||||", without_plus(order.to),
                                   dcs_of(&order.part));
    used += say_concat(says + used, max - used, &order.part);
    (void)snprintf(says + used, max - used, "||%d|%d|||%.*s", order.report_wanted,
                   order.validity_s > 0 ? 2 : 0, (int)order.part.to, text);
}

static void any_report(struct message *message)
{
    char number[TPDU_ADDRESS_TEXT_MAX];
    const struct tpdu_report_order order = {
        .to = any_number(number),
        .reference = (uint8_t)random_below(256),
        .sent_at_s = INT64_C(1500000000) + random_below(900000000),
        .done_at_s = INT64_C(1500000000) + random_below(900000000),
        .zone_quarters = (int)random_below(105) - 48,
        .status = (uint8_t)random_below(128)};
    char *says = message->says;
    size_t max = sizeof message->says;
    assert_int_equal(tpdu_write_status_report(&order, &message->line), TPDU_OK);
    size_t used =
        (size_t)snprintf(says, max, "2|||%s|%u||", without_plus(order.to), order.reference);
    used += say_times(says + used, max - used, order.sent_at_s, order.done_at_s,
                      order.zone_quarters, true);
    (void)snprintf(says + used, max - used, "|||0|1|||%u|%u|", order.status >> 5,
                   order.status & 0x1Fu);
}

/* As text2pcap wants them: the direction, then one line of octets. The service centre is left
 * out. */
static void write_dump(const char *folder)
{
    char path[256];
    (void)snprintf(path, sizeof path, "%s/in.txt", folder);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    for (size_t m = 0; m < MESSAGES; m++) {
        (void)fprintf(file, "%c\n000000", messages[m].from_modem ? 'I' : 'O');
        const char *hex = messages[m].line.hex + 2;
        for (size_t i = 0; hex[i] != '\0'; i += 2) {
            (void)fprintf(file, " %c%c", hex[i], hex[i + 1]);
        }
        (void)fputc('\n', file);
    }
    assert_int_equal(fclose(file), 0);
}

static void a_thousand_messages_are_read_the_same_by_tshark(void **state)
{
    (void)state;
    if (system("command -v tshark text2pcap >/dev/null 2>&1") != 0) {
        print_message("skipped: tshark is not installed\n");
        skip();
    }
    char folder[] = "/tmp/meterpost-tshark-XXXXXX";
    char command[2048];
    char line[LINE_MAX_OCTETS];
    size_t compared = 0;
    for (size_t m = 0; m < MESSAGES; m++) {
        uint32_t kind = random_below(5);
        if (kind < 2) {
            any_deliver(&messages[m], (uint16_t)m);
        } else if (kind < 4) {
            any_submit(&messages[m], (uint16_t)m);
        } else {
            any_report(&messages[m]);
        }
    }
    assert_non_null(mkdtemp(folder));
    write_dump(folder);
    (void)snprintf(command, sizeof command, TSHARK, folder);
    FILE *tshark = popen(command, "r");
    assert_non_null(tshark);
    while (compared < MESSAGES && fgets(line, sizeof line, tshark) != NULL) {
        line[strcspn(line, "\n")] = '\0';
        assert_string_equal(line, messages[compared].says);
        compared++;
    }
    assert_int_equal(pclose(tshark), 0);
    (void)snprintf(command, sizeof command, "rm -rf %s", folder);
    assert_int_equal(system(command), 0);
    assert_int_equal(compared, MESSAGES);
    print_message("seed %u, %zu messages read the same\n", SEED, compared);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_thousand_messages_are_read_the_same_by_tshark),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
