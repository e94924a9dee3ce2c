/* SPDX-License-Identifier: MIT
 * tpdu_fields: the fields of a short message, each read and written by itself; for tpdu.c and
 * tpdu_write.c. Reading starts at octets[*at] and moves *at on past the field. */
#ifndef METERPOST_PARSERS_TPDU_FIELDS_H
#define METERPOST_PARSERS_TPDU_FIELDS_H

#include "parsers/tpdu.h"

/* The first octet, 3GPP TS 23.040 9.2.3.1 to 9.2.3.28. */
#define TPDU_TYPE_BITS 0x03u
#define TPDU_TYPE_SUBMIT 0x01u
#define TPDU_TYPE_STATUS_REPORT 0x02u
#define TPDU_TYPE_RESERVED 0x03u
#define TPDU_NO_MORE_WAITING 0x04u
#define TPDU_REJECT_DUPLICATES 0x04u
#define TPDU_LOOP_PREVENTION 0x08u
#define TPDU_REPORT_BIT 0x20u /* indication, request or qualifier */
#define TPDU_HEADER_BIT 0x40u
#define TPDU_REPLY_PATH 0x80u

/* What a report announces, TP-PI (9.2.3.27). */
#define TPDU_HAS_PROTOCOL 0x01u
#define TPDU_HAS_CODING 0x02u
#define TPDU_HAS_USER 0x04u

/* Addresses, 9.1.2.5: a number in semi-octets or a name in septets. The service centre's own
 * (TS 24.011 8.2.5.1) counts octets where the others count semi-octets. */

/* Fills *address from a text: "+12065550110" international, "1002" or "*100#" of unknown type,
 * anything else a name. False where it cannot be carried (empty, over 20 digits, or a name over 11
 * septets or outside the GSM alphabet). */
bool tpdu_address_set(struct tpdu_address *address, const char *text, size_t len);

/* The service centre's may be absent: text is empty then. TPDU_ERROR_CUT, TPDU_ERROR_ADDRESS or
 * TPDU_ERROR_CENTRE where it is not whole or ill-formed. */
enum tpdu_error tpdu_address_read(const uint8_t *octets, size_t len, size_t *at,
                                  struct tpdu_address *address);
enum tpdu_error tpdu_address_read_centre(const uint8_t *octets, size_t len, size_t *at,
                                         struct tpdu_address *address);

/* Writes at most TPDU_ADDRESS_OCTETS_MAX octets and returns their count; 0 where
 * the address cannot be carried. */
size_t tpdu_address_write(const struct tpdu_address *address, uint8_t *octets);
size_t tpdu_address_write_centre(const struct tpdu_address *address, uint8_t *octets);

/* Writes TPDU_TIME_OCTETS octets from octets[at] on; only a valid time can be written. */
bool tpdu_time_write(const struct tpdu_time *time, uint8_t *octets, size_t at);

/* Validity, 9.2.3.12: none (the service centre's own holds) for period_s <= 0, else the shortest relative
 * one that lasts at least period_s seconds: 5 minutes to 63 weeks. */
void tpdu_validity_set(struct tpdu_validity *validity, int64_t period_s);

/* Reads the octets that the form takes.
 * False where octets[len - 1] comes too early. */
bool tpdu_validity_read(const uint8_t *octets, size_t len, size_t *at, enum tpdu_validity_form form,
                        struct tpdu_validity *validity);

/* Octets that a form takes: 0, 1 or 7. */
size_t tpdu_validity_octets(enum tpdu_validity_form form);

/* TP-DCS, TS 23.038 clause 4: any octet is a coding. */
struct tpdu_coding tpdu_coding_of(uint8_t dcs);
struct tpdu_waiting tpdu_coding_waiting(uint8_t dcs);

/* The octets that user data take by TP-UDL; more than TPDU_USER_OCTETS_MAX where that is out of
 * range. */
size_t tpdu_user_octets(struct tpdu_coding coding, uint8_t length);

/* Reads TP-UDL and the data behind it: header (9.2.3.24) and text. */
enum tpdu_error tpdu_user_read(const uint8_t *octets, size_t len, size_t *at, uint8_t dcs,
                               bool has_header, struct tpdu_user *user);

/* Fills *user from a part, with as much of its text as fits: DCS 0, 4 or 8, header, packed data.
 * Returns the index in part->text at which it stopped: part->to where all of it is in. A
 * concatenation that is out of range is not written. */
size_t tpdu_user_fill(struct tpdu_user *user, const struct tpdu_part *part);

#endif
