/* SPDX-License-Identifier: MIT
 *
 * tpdu: the input as service centre and short message, in octets and in hex. What can be read is in bounds, is no longer
 * readable when cut, and reads the same once written again. -max_len=180 */
#include <stdbool.h>
#include <string.h>

#include "parsers/tpdu_write.h"
#include "parsers/utf8.h"
#include "tests/fuzz/fuzz.h"

#define INPUT_MAX 200

static size_t to_hex(const uint8_t *input, size_t len, bool upper, char *hex)
{
    const char *digits = upper ? "0123456789ABCDEF" : "0123456789abcdef";
    for (size_t i = 0; i < len; i++) {
        hex[2 * i] = digits[input[i] >> 4];
        hex[2 * i + 1] = digits[input[i] & 0xF];
    }
    return 2 * len;
}

static void is_text(const char *text, size_t len)
{
    PROPERTY(text[len] == '\0' && strlen(text) == len);
    for (size_t at = 0; at < len;) {
        uint32_t character = 0;
        size_t read = utf8_read(text, len, at, &character);
        PROPERTY(read > 0);
        at += read;
    }
}

static void in_bounds(const struct tpdu *tpdu)
{
    const struct tpdu_user *user = &tpdu->user;
    PROPERTY(user->text_len < TPDU_TEXT_OCTETS_MAX && user->data_len <= TPDU_USER_OCTETS_MAX);
    PROPERTY(user->header_octets <= user->data_len);
    PROPERTY(user->has_text || user->text_len == 0);
    PROPERTY(tpdu->octets <= TPDU_OCTETS_MAX);
    is_text(user->text, user->text_len);
    is_text(tpdu->other.text, strnlen(tpdu->other.text, TPDU_ADDRESS_TEXT_MAX - 1));
    is_text(tpdu->centre.text, strnlen(tpdu->centre.text, TPDU_ADDRESS_TEXT_MAX - 1));
    if (user->concat.present) {
        PROPERTY(user->concat.part >= 1 && user->concat.part <= user->concat.parts);
        PROPERTY(user->concat.sixteen_bit || user->concat.reference < 256);
    }
}

static bool same_address(const struct tpdu_address *one, const struct tpdu_address *other)
{
    return one->type == other->type && one->plan == other->plan &&
           strcmp(one->text, other->text) == 0;
}

static void same_user(const struct tpdu_user *one, const struct tpdu_user *other)
{
    PROPERTY(one->length == other->length && one->data_len == other->data_len);
    PROPERTY(memcmp(one->data, other->data, one->data_len) == 0);
    PROPERTY(one->text_len == other->text_len && strcmp(one->text, other->text) == 0);
    PROPERTY(one->coding.dcs == other->coding.dcs && one->has_header == other->has_header);
    PROPERTY(one->concat.present == other->concat.present);
    PROPERTY(one->concat.reference == other->concat.reference);
    PROPERTY(one->waiting.present == other->waiting.present);
    PROPERTY(one->ports.present == other->ports.present);
}

static bool times_are_valid(const struct tpdu *tpdu)
{
    switch (tpdu->kind) {
    case TPDU_KIND_DELIVER:
        return tpdu->deliver.sent_at.valid;
    case TPDU_KIND_SUBMIT:
        return true;
    case TPDU_KIND_STATUS_REPORT:
        return tpdu->report.sent_at.valid && tpdu->report.done_at.valid;
    }
    return false;
}

/* Written again it is in canonical form, which reads the same and writes the same. */
static void written_again(const struct tpdu *tpdu)
{
    struct tpdu_line line;
    struct tpdu_line line_again;
    struct tpdu again;
    if (!times_are_valid(tpdu)) {
        PROPERTY(tpdu_write(tpdu, &line) == TPDU_ERROR_FIELD);
        return;
    }
    PROPERTY(tpdu_write(tpdu, &line) == TPDU_OK);
    PROPERTY(line.hex_len < sizeof line.hex && strlen(line.hex) == line.hex_len);
    PROPERTY(tpdu_from_hex(line.hex, line.hex_len, &again) == TPDU_OK);
    PROPERTY(line.tpdu_octets == again.octets && again.kind == tpdu->kind);
    PROPERTY(same_address(&again.other, &tpdu->other));
    PROPERTY(strcmp(again.centre.text, tpdu->centre.text) == 0);
    PROPERTY(again.protocol == tpdu->protocol);
    PROPERTY(again.loop_prevention == tpdu->loop_prevention);
    same_user(&again.user, &tpdu->user);
    PROPERTY(tpdu_write(&again, &line_again) == TPDU_OK);
    PROPERTY(strcmp(line.hex, line_again.hex) == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *input, size_t len)
{
    struct tpdu tpdu;
    struct tpdu by_hex;
    char hex[2 * INPUT_MAX];
    if (len > INPUT_MAX) {
        return 0;
    }
    enum tpdu_error error = tpdu_from_octets(input, len, &tpdu);
    size_t hex_len = to_hex(input, len, len % 2 == 0, hex);
    enum tpdu_error hex_error = tpdu_from_hex(hex, hex_len, &by_hex);
    PROPERTY(hex_error == error || hex_error == TPDU_ERROR_LONG);
    PROPERTY(strlen(tpdu_error_says(error)) > 0);
    PROPERTY(tpdu_from_hex((const char *)input, len, &by_hex) != TPDU_ERROR_FIELD);
    if (error != TPDU_OK) {
        return 0;
    }
    in_bounds(&tpdu);
    written_again(&tpdu);
    for (size_t cut = 0; cut < len && tpdu.kind != TPDU_KIND_STATUS_REPORT; cut++) {
        PROPERTY(tpdu_from_octets(input, cut, &by_hex) != TPDU_OK);
    }
    return 0;
}
