/* SPDX-License-Identifier: MIT
 * sim: the set-up's steps for the SIM (TS 27.007 8.3), and its PIN. A PIN is sent only where one is
 * asked for: sent unasked it counts as wrong on some modems. A SIM answers late after power-up, so
 * "none" and "busy" are believed only after a while. The mark beside the ledger holds one line for
 * each PIN tried: "tried HASH" from before it is sent, "right HASH" once the SIM was seen open. The
 * hash only tells PINs apart; it hides nothing from whoever may read the PIN's own file. */
#include "daemon/modem/setup.h"

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <libgen.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "daemon/ground/hash.h"
#include "daemon/ground/log.h"
#include "parsers/at_line.h"

/* ---- the PIN */

#define DIGITS_MIN 4
/* Of three tries the last is left to a person. */
#define TRIED_MAX 2
#define MARKS_MAX 8

struct mark {
    bool right;
    uint64_t hash;
};

struct marks {
    struct mark list[MARKS_MAX];
    size_t count;
};

static bool read_pin(const char *file, char pin[SIM_PIN_OCTETS], char *says, size_t size)
{
    struct stat status;
    char line[64] = "";
    int fd = open(file, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (fd < 0) {
        snprintf(says, size, "the SIM asks for its PIN; cannot read the modem's pin_file %s: %s",
                 file, strerror(errno));
        return false;
    }
    bool private = fstat(fd, &status) == 0 && S_ISREG(status.st_mode) &&
                   (status.st_mode & (S_IRWXO | S_IWGRP)) == 0;
    ssize_t got = private ? read(fd, line, sizeof line - 1) : 0;
    close(fd);
    if (!private) {
        snprintf(says, size,
                 "the SIM's PIN stays unused: others may read or write %s: chmod 600 %s", file,
                 file);
        return false;
    }
    line[got > 0 ? got : 0] = '\0';
    line[strcspn(line, "\r\n \t")] = '\0';
    size_t length = strlen(line);
    if (length < DIGITS_MIN || length >= SIM_PIN_OCTETS || strspn(line, "0123456789") != length) {
        snprintf(says, size, "%s holds no PIN: 4 to 8 digits on one line are expected", file);
        return false;
    }
    memcpy(pin, line, length + 1);
    return true;
}

/* False where it is there but cannot be read: then no PIN is safe to try. */
static bool read_marks(const char *path, struct marks *marks)
{
    marks->count = 0;
    FILE *file = fopen(path, "re");
    if (file == NULL) {
        return errno == ENOENT;
    }
    char word[8];
    uint64_t hash = 0;
    while (marks->count < MARKS_MAX && fscanf(file, "%7s %" SCNx64, word, &hash) == 2) {
        marks->list[marks->count] = (struct mark){strcmp(word, "right") == 0, hash};
        marks->count++;
    }
    bool whole = feof(file) != 0 && ferror(file) == 0;
    fclose(file);
    return whole;
}

static bool sync_folder(const char *path)
{
    char copy[PATH_MAX];
    snprintf(copy, sizeof copy, "%s", path);
    int fd = open(dirname(copy), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0) {
        return false;
    }
    bool synced = fsync(fd) == 0;
    return close(fd) == 0 && synced;
}

static bool write_marks(const char *path, const struct marks *marks)
{
    char fresh[PATH_MAX];
    if (snprintf(fresh, sizeof fresh, "%s.new", path) >= (int)sizeof fresh) {
        return false;
    }
    int fd = open(fresh, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, S_IRUSR | S_IWUSR);
    if (fd < 0) {
        return false;
    }
    bool written = true;
    for (size_t i = 0; i < marks->count; i++) {
        const struct mark *mark = &marks->list[i];
        written = written && dprintf(fd, "%s %016" PRIx64 "\n", mark->right ? "right" : "tried",
                                     mark->hash) > 0;
    }
    written = written && fsync(fd) == 0;
    written = close(fd) == 0 && written;
    return written && rename(fresh, path) == 0 && sync_folder(path);
}

static size_t tried_in_vain(const struct marks *marks)
{
    size_t count = 0;
    for (size_t i = 0; i < marks->count; i++) {
        count += marks->list[i].right ? 0 : 1;
    }
    return count;
}

/* Puts the PIN among the tried ones; false where it may not be. */
static bool add_try(struct marks *marks, uint64_t hash, const char *mark, char *says, size_t size)
{
    size_t known = 0;
    while (known < marks->count && marks->list[known].hash != hash) {
        known++;
    }
    if (known < marks->count && !marks->list[known].right) {
        snprintf(says, size,
                 "the SIM asks for its PIN, and the one configured was tried already: put the "
                 "right one in the modem's pin_file, or open the SIM in a phone, then remove %s",
                 mark);
        return false;
    }
    if (tried_in_vain(marks) >= TRIED_MAX || marks->count >= MARKS_MAX) {
        snprintf(says, size,
                 "two PINs were tried in vain and a third wrong one locks the SIM: enter it once "
                 "in a phone, then remove %s",
                 mark);
        return false;
    }
    marks->count = known == marks->count ? known + 1 : marks->count;
    marks->list[known] = (struct mark){.right = false, .hash = hash};
    return true;
}

bool sim_take_pin(const char *file, const char *mark, char pin[SIM_PIN_OCTETS], char *says,
                  size_t size)
{
    struct marks marks;
    if (file[0] == '\0') {
        snprintf(says, size,
                 "the SIM asks for its PIN: name a file that holds it as "
                 "the modem's pin_file, or switch the PIN off in a phone");
        return false;
    }
    if (!read_pin(file, pin, says, size)) {
        return false;
    }
    if (!read_marks(mark, &marks)) {
        snprintf(says, size, "cannot tell which PINs were tried: %s is unreadable", mark);
        return false;
    }
    if (!add_try(&marks, hash_text(pin), mark, says, size)) {
        return false;
    }
    if (!write_marks(mark, &marks)) {
        snprintf(says, size, "the SIM's PIN is not tried, since %s cannot be written: %s", mark,
                 strerror(errno));
        return false;
    }
    return true;
}

void sim_pin_untried(const char *file, const char *mark)
{
    char pin[SIM_PIN_OCTETS], says[LINK_SAYS_OCTETS];
    struct marks marks;
    if (!read_pin(file, pin, says, sizeof says) || !read_marks(mark, &marks)) {
        return;
    }
    uint64_t hash = hash_text(pin);
    size_t left = 0;
    for (size_t i = 0; i < marks.count; i++) {
        if (marks.list[i].hash != hash) {
            marks.list[left++] = marks.list[i];
        }
    }
    marks.count = left;
    if (!write_marks(mark, &marks)) {
        log_warn("modem: cannot note in %s that the PIN was not looked at", mark);
    }
}

void sim_pin_proved(const char *mark)
{
    struct marks marks;
    if (!read_marks(mark, &marks) || tried_in_vain(&marks) == 0) {
        return;
    }
    struct mark last = marks.list[marks.count - 1];
    for (size_t i = 0; i < marks.count; i++) {
        last = marks.list[i].right ? last : marks.list[i];
    }
    last.right = true;
    marks = (struct marks){.list = {last}, .count = 1};
    if (!write_marks(mark, &marks)) {
        log_warn("modem: cannot note in %s that the PIN was right", mark);
    }
}

/* ---- the set-up's steps */

#define BELIEVED_AFTER_TRIES 20
#define PIN_BUSY_MAX 10
#define CME_NO_SIM 10
#define CME_SIM_PIN 11
#define CME_SIM_PUK 12
#define CMS_NO_SIM 310

/* By how the words of +CPIN begin: what a person has to do. PIN2 and PUK2 do not matter for texts. */
static const struct {
    const char *words;
    bool late; /* believed after a while only */
    const char *says;
} faults[] = {
    {"SIM PUK", false,
     "the SIM is locked and asks for its PUK: open it in a phone with the PUK of the card it came "
     "on"},
    {"PH-", false,
     "the modem is locked to another SIM or network: unlock it, or use the SIM it belongs to"},
    {"NOT", true,
     "no SIM in the modem: switch it off, put the SIM in, and look that it sits firmly and the "
     "right way up"},
    {"FAILURE", true,
     "the SIM does not answer: switch the modem off, take the SIM out, wipe it, put it back"},
};

void setup_keep_sim(struct setup *setup, const char *text, size_t length)
{
    at_line_copy(text, length, 0, setup->sim, sizeof setup->sim);
}

static bool asks_for_pin(const struct setup *setup)
{
    return strcmp(setup->sim, "SIM PIN") == 0;
}

/* Words other than SIM PIN have come. */
static enum setup_verdict judge_words(struct setup *setup)
{
    for (size_t i = 0; i < sizeof faults / sizeof faults[0]; i++) {
        if (strncmp(setup->sim, faults[i].words, strlen(faults[i].words)) == 0) {
            snprintf(setup->says, sizeof setup->says, "%s", faults[i].says);
            bool early = faults[i].late && setup->tries + 1 < BELIEVED_AFTER_TRIES;
            return early ? SETUP_VERDICT_AGAIN : SETUP_VERDICT_FAULT;
        }
    }
    log_info("modem: the SIM is open");
    sim_pin_proved(setup->settings->pin_mark);
    return SETUP_VERDICT_NEXT;
}

/* The words that an error stands for. */
static const char *error_words(bool cme, int32_t code)
{
    if (cme && (code == CME_SIM_PIN || code == CME_SIM_PUK)) {
        return code == CME_SIM_PIN ? "SIM PIN" : "SIM PUK";
    }
    return code == CME_NO_SIM || code == CMS_NO_SIM ? "NOT INSERTED" : "FAILURE";
}

enum setup_verdict setup_judge_sim(struct setup *setup, const struct chat_result *result)
{
    bool cme = result->outcome == CHAT_CME_ERROR;
    if (setup_is_busy(result)) {
        return SETUP_VERDICT_AGAIN;
    }
    if (cme || result->outcome == CHAT_CMS_ERROR) {
        snprintf(setup->sim, sizeof setup->sim, "%s", error_words(cme, result->code));
    } else if (result->outcome != CHAT_OK || setup->sim[0] == '\0') {
        return SETUP_VERDICT_AGAIN;
    }
    return asks_for_pin(setup) ? SETUP_VERDICT_NEXT : judge_words(setup);
}

enum setup_writing setup_write_pin(struct setup *setup, struct chat_command *command)
{
    char pin[SIM_PIN_OCTETS];
    if (!asks_for_pin(setup)) {
        return SETUP_WRITING_SKIP;
    }
    if (!sim_take_pin(setup->settings->pin_file, setup->settings->pin_mark, pin, setup->says,
                      sizeof setup->says)) {
        return SETUP_WRITING_FAULT;
    }
    log_notice("modem: the SIM's PIN is tried");
    snprintf(command->text, sizeof command->text, "AT+CPIN=\"%s\"", pin);
    command->secret = true;
    return SETUP_WRITING_SEND;
}

/* Busy: it has not looked at the PIN. Before another try it is asked whether it wants one still. What
 * became of a PIN without an answer shows there too, and it is not tried again. */
enum setup_verdict setup_judge_pin(struct setup *setup, const struct chat_result *result)
{
    if (result->outcome == CHAT_OK || result->outcome == CHAT_SILENT) {
        return SETUP_VERDICT_NEXT;
    }
    if (setup_is_busy(result)) {
        sim_pin_untried(setup->settings->pin_file, setup->settings->pin_mark);
        snprintf(setup->says, sizeof setup->says,
                 "the SIM is too busy to take its PIN: it is tried again in a minute");
        setup->sim[0] = '\0';
        setup->pin_busy++;
        return setup->pin_busy < PIN_BUSY_MAX ? SETUP_VERDICT_BACK : SETUP_VERDICT_FAULT;
    }
    snprintf(
        setup->says, sizeof setup->says,
        "the SIM refused its PIN: correct the modem's pin_file. The same one is not tried again, "
        "since three wrong ones lock the SIM");
    return SETUP_VERDICT_FAULT;
}

enum setup_writing setup_write_sim_again(struct setup *setup, struct chat_command *command)
{
    (void)command;
    return asks_for_pin(setup) ? SETUP_WRITING_SEND : SETUP_WRITING_SKIP;
}

enum setup_verdict setup_judge_sim_again(struct setup *setup, const struct chat_result *result)
{
    if (result->outcome == CHAT_OK && !asks_for_pin(setup)) {
        return judge_words(setup);
    }
    return SETUP_VERDICT_AGAIN;
}
