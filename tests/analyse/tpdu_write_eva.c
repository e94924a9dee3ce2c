/* SPDX-License-Identifier: MIT
 * tpdu_write and tpdu_split for the sound analyser: any fields, any text. */
#include <__fc_builtin.h>

#include "fixtures/standin/tpdu_network.h"
#include "parsers/tpdu_fields.h"
#include "parsers/tpdu_write.h"

#define TEXT_MAX 1000

static bool any(void)
{
    return Frama_C_interval(0, 1) != 0;
}

static uint8_t any_octet(void)
{
    return (uint8_t)Frama_C_interval(0, UINT8_MAX);
}

static int64_t any_time_s(void)
{
    return Frama_C_long_long_interval(INT64_MIN, INT64_MAX);
}

static struct tpdu_time any_time(void)
{
    struct tpdu_time time = {any_octet(), any_octet(), any_octet(), any_octet(),
                             any_octet(), any_octet(), 0,           any()};
    time.zone_quarters = (int16_t)Frama_C_interval(INT16_MIN, INT16_MAX);
    return time;
}

static struct tpdu_part any_part(const char *text)
{
    struct tpdu_part part = {.text = text,
                             .from = (size_t)Frama_C_interval(0, TEXT_MAX),
                             .to = (size_t)Frama_C_interval(0, TEXT_MAX),
                             .alphabet = (enum tpdu_alphabet)Frama_C_interval(0, 2),
                             .shift = {any_octet(), any_octet()}};
    part.concat.present = any();
    part.concat.sixteen_bit = any();
    part.concat.reference = (uint16_t)Frama_C_interval(0, UINT16_MAX);
    part.concat.parts = any_octet();
    part.concat.part = any_octet();
    return part;
}

static void write_any_fields(struct tpdu_line *line)
{
    static struct tpdu tpdu;
    int64_t unix_s = 0;
    tpdu.kind = (enum tpdu_kind)Frama_C_interval(0, 3);
    tpdu.centre.type = (enum tpdu_number_type)Frama_C_interval(0, 7);
    tpdu.other.type = (enum tpdu_number_type)Frama_C_interval(0, 7);
    Frama_C_make_unknown(tpdu.centre.text, sizeof tpdu.centre.text);
    Frama_C_make_unknown(tpdu.other.text, sizeof tpdu.other.text);
    Frama_C_make_unknown((char *)tpdu.user.data, sizeof tpdu.user.data);
    tpdu.user.coding.dcs = any_octet();
    tpdu.user.length = any_octet();
    tpdu.user.has_header = any();
    if (tpdu.kind == TPDU_KIND_SUBMIT) {
        tpdu_validity_set(&tpdu.submit.validity, any_time_s());
        tpdu.submit.validity.form = (enum tpdu_validity_form)Frama_C_interval(0, 3);
    } else if (tpdu.kind == TPDU_KIND_STATUS_REPORT) {
        tpdu.report.sent_at = any_time();
        tpdu.report.done_at = any_time();
        tpdu.report.has_protocol = any();
        tpdu.report.has_coding = any();
        tpdu.report.has_user = any();
        tpdu_time_unix(&tpdu.report.done_at, &unix_s);
    } else {
        tpdu.deliver.sent_at = any_time();
    }
    tpdu_write(&tpdu, line);
}

int main(void)
{
    static char text[TEXT_MAX];
    static char address[TPDU_ADDRESS_TEXT_MAX + 4];
    static struct tpdu_line line;
    static struct tpdu_split split;
    Frama_C_make_unknown(text, sizeof text);
    Frama_C_make_unknown(address, sizeof address - 1);

    write_any_fields(&line);
    /*@ assert line.hex_len <= 352; */
    struct tpdu_submit_order submit = {address, any_part(text), any(), any_time_s()};
    tpdu_write_submit(&submit, &line);
    struct tpdu_deliver_order deliver = {
        address, address, any_part(text), any_time_s(), Frama_C_interval(-1000, 1000),
        any(),   any(),   any_octet()};
    tpdu_write_deliver(&deliver, &line);
    struct tpdu_report_order report = {address,      address,      any_octet(),
                                       any_time_s(), any_time_s(), Frama_C_interval(-1000, 1000),
                                       any_octet()};
    tpdu_write_status_report(&report, &line);

    struct tpdu_split_choice choice = {any(), any()};
    size_t len = (size_t)Frama_C_interval(0, sizeof text);
    tpdu_split(text, len, choice, &split);
    /*@ assert split.parts <= 255; */
    tpdu_split_part(&split, text, (size_t)Frama_C_interval(0, 300), 0);
    return 0;
}
