/* SPDX-License-Identifier: MIT
 * Plays the recorded dialogues of fixtures/sessions against the link, each three ways: lines as
 * they come, octet by octet, and glued together as far as the dialogue allows. Time is explicit:
 * it jumps to the link's next deadline where the dialogue waits for the link to speak.
 *
 * What a dialogue may say, a line each; # begins a remark. TEXT in quotes knows \r \n \xHH.
 *   < LINE            the modem says CR LF LINE CR LF
 *   << "TEXT"         the modem says exactly this
 *   > LINE            the link says LINE and CR, now or at one of its next deadlines
 *   >> "TEXT"         the link says exactly this, likewise
 *   ! include NAME    the dialogue of that name is played first
 *   ! answer          from here on what the dialogue expects may be left unsaid: the modem says OK
 *   ! wait MS         time passes, and the link says nothing
 *   ! mark            the fault happens now: "= within" counts from here
 *   ! hang-up         the port vanishes; open fails from now on
 *   ! replug          the port is there again
 *   ! send ID OCTETS HEX   the house has a part to send
 *   ! keep yes|no     whether the house can keep texts
 *   = state closed|setup|ready|fault
 *   = arrived N       so many texts were handed over since the start
 *   = unreadable N    so many of them could not be read
 *   = reported N      so many reports
 *   = sent ID taken|retry|refused|unknown REFERENCE CAUSE
 *   = says TEXT       health says something that holds TEXT; "nothing" for nothing
 *   = within MS       no more than that since the mark */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <dirent.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "daemon/modem/link.h"
#include "daemon/modem/link_over.h"

#define FOLDER "fixtures/sessions"
#define STEPS_MAX 2000
#define SESSIONS_MAX 200
#define PARTS_MAX 8

enum feeding { FEEDING_LINES, FEEDING_OCTETS, FEEDING_GLUED };

/* The line, the house and the dialogue. */
struct stage {
    struct link *link;
    struct instant now;
    int64_t mark_ms;
    enum feeding feeding;
    bool there, open; /* the port */
    char said[4096];  /* by the link, not yet expected */
    size_t said_count;
    char heard[65536]; /* by the link, not yet read */
    size_t heard_count, heard_read;
    bool keep;
    int arrived, unreadable, reported;
    struct link_outgoing parts[PARTS_MAX];
    size_t part_count, part_next;
    struct link_result sent[PARTS_MAX];
    size_t sent_count;
    const char *name;
    int number; /* of the line */
};

static void fault(const struct stage *stage, const char *what, const char *which)
{
    fail_msg("%s:%d: %s: %s (said so far: \"%.*s\", state %d, says \"%s\")", stage->name,
             stage->number, what, which, (int)stage->said_count, stage->said,
             (int)link_health(stage->link)->state, link_health(stage->link)->says);
}

static bool open_line(void *ctx, const char *name, int32_t speed, char *says, size_t size)
{
    struct stage *stage = ctx;
    (void)speed;
    snprintf(says, size, "the modem port %s is not there", name);
    stage->open = stage->there;
    return stage->open;
}

static bool set_speed(void *ctx, int32_t speed)
{
    (void)ctx;
    return speed > 0;
}

static void close_line(void *ctx)
{
    struct stage *stage = ctx;
    stage->open = false;
    stage->heard_count = stage->heard_read = 0;
}

static ssize_t read_line(void *ctx, uint8_t *out, size_t size)
{
    struct stage *stage = ctx;
    size_t left = stage->heard_count - stage->heard_read;
    size_t count = left < size ? left : size;
    if (!stage->there) {
        return -1;
    }
    memcpy(out, stage->heard + stage->heard_read, count);
    stage->heard_read += count;
    return (ssize_t)count;
}

static ssize_t write_line(void *ctx, const uint8_t *octets, size_t count)
{
    struct stage *stage = ctx;
    if (!stage->there) {
        return -1;
    }
    assert_true(stage->said_count + count <= sizeof stage->said);
    memcpy(stage->said + stage->said_count, octets, count);
    stage->said_count += count;
    return (ssize_t)count;
}

static int line_descriptor(void *ctx)
{
    struct stage *stage = ctx;
    return stage->open ? 0 : -1;
}

static bool keep_text(void *ctx, const struct link_arrival *arrival)
{
    struct stage *stage = ctx;
    stage->arrived += stage->keep ? 1 : 0;
    stage->unreadable += stage->keep && arrival->error != TPDU_OK ? 1 : 0;
    return stage->keep;
}

static bool keep_report(void *ctx, const struct link_arrival *arrival)
{
    struct stage *stage = ctx;
    (void)arrival;
    stage->reported += stage->keep ? 1 : 0;
    return stage->keep;
}

static bool give_part(void *ctx, struct instant now, struct link_outgoing *out, int64_t *next_ms)
{
    struct stage *stage = ctx;
    (void)now;
    *next_ms = CLOCK_NEVER;
    if (stage->part_next >= stage->part_count) {
        return false;
    }
    *out = stage->parts[stage->part_next];
    stage->part_next++;
    return true;
}

static void note_sent(void *ctx, struct instant now, const struct link_result *result)
{
    struct stage *stage = ctx;
    (void)now;
    assert_true(stage->sent_count < PARTS_MAX);
    stage->sent[stage->sent_count] = *result;
    stage->sent_count++;
}

static void let_read(struct stage *stage)
{
    if (stage->open && stage->heard_count > stage->heard_read) {
        link_ready(stage->link, POLLIN, stage->now);
        assert_int_equal(stage->heard_read, stage->heard_count);
        stage->heard_count = stage->heard_read = 0;
    }
}

static void run_due(struct stage *stage)
{
    for (int i = 0; i < STEPS_MAX; i++) {
        if (link_deadline_ms(stage->link) > stage->now.mono_ms) {
            return;
        }
        link_due(stage->link, stage->now);
    }
    fault(stage, "the link never rests", "");
}

static void settle(struct stage *stage)
{
    let_read(stage);
    run_due(stage);
}

static void pass_time(struct stage *stage, int64_t until_ms)
{
    stage->now.wall_s += (until_ms - stage->now.mono_ms) / 1000;
    stage->now.mono_ms = until_ms;
    run_due(stage);
}

static void say(struct stage *stage, const char *octets, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        assert_true(stage->heard_count < sizeof stage->heard);
        stage->heard[stage->heard_count] = octets[i];
        stage->heard_count++;
        if (stage->feeding == FEEDING_OCTETS) {
            settle(stage);
        }
    }
    if (stage->feeding == FEEDING_LINES) {
        settle(stage);
    }
}

/* Waits through the link's deadlines until it has said that much. */
static void expect(struct stage *stage, const char *octets, size_t count)
{
    settle(stage);
    for (int i = 0; i < STEPS_MAX && stage->said_count < count; i++) {
        int64_t deadline_ms = link_deadline_ms(stage->link);
        if (deadline_ms == CLOCK_NEVER) {
            break;
        }
        pass_time(stage, deadline_ms);
    }
    if (stage->said_count < count || memcmp(stage->said, octets, count) != 0) {
        fault(stage, "the link should have said", octets);
    }
    stage->said_count -= count;
    memmove(stage->said, stage->said + count, stage->said_count);
}

/* "a\r\x1b" to octets. */
static size_t unquote(const char *text, char *out, size_t size)
{
    size_t count = 0;
    const char *at = strchr(text, '"');
    assert_non_null(at);
    for (at++; *at != '"' && *at != '\0'; at++) {
        unsigned int value = (unsigned char)*at;
        if (at[0] == '\\' && at[1] == 'x') {
            assert_int_equal(sscanf(at + 2, "%2x", &value), 1);
            at += 3;
        } else if (at[0] == '\\') {
            at++;
            value = *at == 'r' ? '\r' : *at == 'n' ? '\n' : (unsigned char)*at;
        }
        assert_true(count + 1 < size);
        out[count] = (char)value;
        count++;
    }
    out[count] = '\0';
    return count;
}

static void play(struct stage *stage, const char *name);

static void add_part(struct stage *stage, const char *words)
{
    struct link_outgoing part = {0};
    int id = 0, octets = 0;
    assert_int_equal(sscanf(words, "%d %d %352s", &id, &octets, part.hex), 3);
    part.part_id = id;
    part.tpdu_octets = (uint16_t)octets;
    assert_true(stage->part_count < PARTS_MAX);
    stage->parts[stage->part_count] = part;
    stage->part_count++;
    link_wake(stage->link);
    settle(stage);
}

static void do_wait(struct stage *stage, int64_t wait_ms)
{
    int64_t until_ms = stage->now.mono_ms + wait_ms;
    settle(stage);
    for (int i = 0; i < STEPS_MAX && stage->said_count == 0; i++) {
        int64_t deadline_ms = link_deadline_ms(stage->link);
        if (deadline_ms > until_ms) {
            break;
        }
        pass_time(stage, deadline_ms);
    }
    if (stage->said_count != 0) {
        fault(stage, "the link should have been silent", "");
    }
    pass_time(stage, until_ms);
}

static void act(struct stage *stage, const char *what)
{
    char word[32] = "", rest[1024] = "";
    assert_true(sscanf(what, "%31s %1023[^\n]", word, rest) >= 1);
    settle(stage);
    if (strcmp(word, "include") == 0) {
        play(stage, rest);
    } else if (strcmp(word, "wait") == 0) {
        do_wait(stage, atol(rest));
    } else if (strcmp(word, "mark") == 0) {
        stage->mark_ms = stage->now.mono_ms;
    } else if (strcmp(word, "hang-up") == 0) {
        stage->there = false;
        link_ready(stage->link, POLLIN | POLLHUP, stage->now);
    } else if (strcmp(word, "replug") == 0) {
        stage->there = true;
    } else if (strcmp(word, "send") == 0) {
        add_part(stage, rest);
    } else if (strcmp(word, "keep") == 0) {
        stage->keep = strcmp(rest, "yes") == 0;
    } else {
        fault(stage, "not understood", what);
    }
}

static void check_sent(struct stage *stage, const char *words)
{
    static const char *const names[] = {"taken", "retry", "refused", "unknown"};
    char name[16] = "";
    int id = 0, reference = 0, cause = 0;
    assert_int_equal(sscanf(words, "%d %15s %d %d", &id, name, &reference, &cause), 4);
    if (stage->sent_count == 0) {
        fault(stage, "nothing was told of", words);
    }
    const struct link_result *result = &stage->sent[0];
    if (result->part_id != id || strcmp(names[result->sent], name) != 0 ||
        result->reference != reference || result->cause != cause) {
        fail_msg("%s:%d: told part %d %s %d %d", stage->name, stage->number, (int)result->part_id,
                 names[result->sent], result->reference, (int)result->cause);
    }
    stage->sent_count--;
    memmove(&stage->sent[0], &stage->sent[1], stage->sent_count * sizeof stage->sent[0]);
}

static void check(struct stage *stage, const char *what)
{
    static const char *const states[] = {"closed", "setup", "ready", "fault"};
    char word[32] = "", rest[1024] = "";
    assert_true(sscanf(what, "%31s %1023[^\n]", word, rest) >= 1);
    settle(stage);
    const struct link_health *health = link_health(stage->link);
    int number = atoi(rest);
    bool good = false;
    if (strcmp(word, "sent") == 0) {
        check_sent(stage, rest);
        return;
    }
    if (strcmp(word, "state") == 0) {
        good = strcmp(states[health->state], rest) == 0;
    } else if (strcmp(word, "arrived") == 0) {
        good = stage->arrived == number;
    } else if (strcmp(word, "unreadable") == 0) {
        good = stage->unreadable == number;
    } else if (strcmp(word, "reported") == 0) {
        good = stage->reported == number;
    } else if (strcmp(word, "says") == 0) {
        good = strcmp(rest, "nothing") == 0 ? health->says[0] == '\0'
                                            : strstr(health->says, rest) != NULL;
    } else if (strcmp(word, "within") == 0) {
        good = stage->now.mono_ms - stage->mark_ms <= number;
    }
    if (!good) {
        fault(stage, "not so", what);
    }
}

static void play_line(struct stage *stage, char *line)
{
    char octets[2048];
    line[strcspn(line, "\n")] = '\0';
    if (line[0] == '\0' || line[0] == '#') {
        return;
    }
    if (strncmp(line, "<< ", 3) == 0) {
        say(stage, octets, unquote(line, octets, sizeof octets));
    } else if (strncmp(line, ">> ", 3) == 0) {
        expect(stage, octets, unquote(line, octets, sizeof octets));
    } else if (strncmp(line, "< ", 2) == 0) {
        int count = snprintf(octets, sizeof octets, "\r\n%s\r\n", line + 2);
        say(stage, octets, (size_t)count);
    } else if (strncmp(line, "> ", 2) == 0) {
        int count = snprintf(octets, sizeof octets, "%s\r", line + 2);
        expect(stage, octets, (size_t)count);
    } else if (strncmp(line, "! ", 2) == 0) {
        act(stage, line + 2);
    } else if (strncmp(line, "= ", 2) == 0) {
        check(stage, line + 2);
    } else {
        fault(stage, "not understood", line);
    }
}

static void play(struct stage *stage, const char *name)
{
    char path[256], line[2048];
    const char *outer = stage->name;
    int outer_number = stage->number;
    snprintf(path, sizeof path, FOLDER "/%s.session", name);
    FILE *file = fopen(path, "re");
    if (file == NULL) {
        fail_msg("cannot read %s", path);
        return;
    }
    stage->name = name;
    stage->number = 0;
    while (fgets(line, sizeof line, file) != NULL) {
        stage->number++;
        play_line(stage, line);
    }
    fclose(file);
    settle(stage);
    stage->name = outer;
    stage->number = outer_number;
}

static void play_one_way(const char *name, enum feeding feeding)
{
    static struct stage stage;
    stage = (struct stage){
        .now = {1000, 1800000000}, .there = true, .keep = true, .feeding = feeding, .name = name};
    struct link_settings settings = {
        .port = "/dev/modem", .speed = 115200, .pin_file = "", .pin_mark = ""};
    struct link_host host = {keep_text, keep_report, give_part, note_sent, &stage};
    struct port_line line = {open_line,  set_speed,       close_line, read_line,
                             write_line, line_descriptor, &stage};
    stage.link = link_new_over(&settings, &host, &line);
    assert_non_null(stage.link);
    play(&stage, name);
    if (stage.said_count != 0) {
        fault(&stage, "more was said than the dialogue has", "");
    }
    link_free(stage.link);
}

static void a_dialogue_goes_as_recorded(void **state)
{
    const char *name = *state;
    play_one_way(name, FEEDING_LINES);
    play_one_way(name, FEEDING_OCTETS);
    play_one_way(name, FEEDING_GLUED);
}

static size_t list_sessions(char names[][64], size_t most)
{
    struct dirent **entries = NULL;
    int count = scandir(FOLDER, &entries, NULL, alphasort);
    size_t taken = 0;
    for (int i = 0; i < count; i++) {
        char *dot = strstr(entries[i]->d_name, ".session");
        if (dot != NULL && taken < most) {
            *dot = '\0';
            snprintf(names[taken], 64, "%.63s", entries[i]->d_name);
            taken++;
        }
        free(entries[i]);
    }
    free(entries);
    return taken;
}

int main(void)
{
    static char names[SESSIONS_MAX][64];
    static struct CMUnitTest tests[SESSIONS_MAX];
    size_t count = list_sessions(names, SESSIONS_MAX);
    for (size_t i = 0; i < count; i++) {
        tests[i] = (struct CMUnitTest){
            .name = names[i], .test_func = a_dialogue_goes_as_recorded, .initial_state = names[i]};
    }
    return _cmocka_run_group_tests("link", tests, count, NULL, NULL);
}
