/* SPDX-License-Identifier: MIT
 * door: a caller asks over the socket and gets the answer; who misbehaves is shown out. The loop
 * runs on the real clock here, in a child, since the caller's side waits by it; nothing sleeps. */
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <sys/wait.h>
#include <unistd.h>
#include <cmocka.h>

#include "daemon/door/door.h"

static char folder[] = "/tmp/meterpost-door-XXXXXX";
static char path[64];
static pid_t daemon_pid;
static char answer_room[DOOR_ANSWER_OCTETS];

/* "file" tells what the file says that came along; "echo" gives its words back; "long" fills the answer to its bound. */
static int answer(void *ctx, const struct door_question *question, struct instant now, char *out,
                  size_t *length)
{
    const char *const *words = question->words;
    (void)ctx;
    (void)now;
    if (strcmp(words[0], "long") == 0) {
        memset(out, 'x', DOOR_ANSWER_OCTETS);
        *length = DOOR_ANSWER_OCTETS;
        return 0;
    }
    if (strcmp(words[0], "file") == 0) {
        ssize_t got = pread(question->file, out, DOOR_ANSWER_OCTETS, 0);
        *length = got > 0 ? (size_t)got : 0;
        return question->file >= 0 ? 2 : 3;
    }
    size_t used = 0;
    for (size_t i = 1; i < question->word_count; i++) {
        used += (size_t)snprintf(&out[used], DOOR_ANSWER_OCTETS - used, "<%s>", words[i]);
    }
    *length = used;
    return 1;
}

static enum door_result ask(const char *at, size_t word_count, const char *const *words,
                            int timeout_ms, int *status, char *out, size_t *length)
{
    struct door_question question = {word_count, words, DOOR_NO_FILE};
    return door_ask(at, &question, timeout_ms, status, out, length);
}

static void serve(void)
{
    static struct door door;
    struct loop loop;
    char says[DOOR_SAYS_OCTETS];
    loop_init(&loop, clock_real());
    if (!door_open(&door, path, answer, NULL, says) || !door_join(&door, &loop)) {
        _exit(1);
    }
    (void)alarm(60); /* an end, whatever the test does */
    (void)loop_run(&loop);
    _exit(0);
}

static int start_serving(void **state)
{
    (void)state;
    if (mkdtemp(folder) == NULL) {
        return -1;
    }
    (void)snprintf(path, sizeof path, "%s/door", folder);
    daemon_pid = fork();
    if (daemon_pid == 0) {
        serve();
    }
    /* Ready when it can be asked: bounded tries, each waits for the scheduler only. */
    const char *words[] = {"echo"};
    for (int i = 0; i < 1000000; i++) {
        int status = 0;
        size_t length = 0;
        if (ask(path, 1, words, 5000, &status, answer_room, &length) == DOOR_ANSWERED) {
            return 0;
        }
    }
    return -1;
}

static int stop_serving(void **state)
{
    (void)state;
    (void)kill(daemon_pid, SIGKILL);
    (void)waitpid(daemon_pid, NULL, 0);
    (void)unlink(path);
    return rmdir(folder);
}

static void a_question_gets_its_answer(void **state)
{
    const char *words[] = {"echo", "M12 1340h", "", "as Ines"};
    int status = 0;
    size_t length = 0;
    (void)state;
    assert_int_equal(ask(path, 4, words, 5000, &status, answer_room, &length), DOOR_ANSWERED);
    assert_int_equal(status, 1);
    assert_int_equal(length, strlen("<M12 1340h><><as Ines>"));
    assert_memory_equal(answer_room, "<M12 1340h><><as Ines>", length);
}

static void the_longest_answer_comes_whole(void **state)
{
    const char *words[] = {"long"};
    int status = 7;
    size_t length = 0;
    (void)state;
    assert_int_equal(ask(path, 1, words, 5000, &status, answer_room, &length), DOOR_ANSWERED);
    assert_int_equal(status, 0);
    assert_int_equal(length, DOOR_ANSWER_OCTETS);
}

static void a_file_comes_along(void **state)
{
    const char *words[] = {"file", "x"};
    FILE *file = tmpfile();
    int status = 0;
    size_t length = 0;
    (void)state;
    assert_non_null(file);
    assert_true(fputs("rows", file) >= 0 && fflush(file) == 0);
    struct door_question question = {2, words, fileno(file)};
    for (int i = 0; i < 2000; i++) { /* more often than a process may have files open */
        assert_int_equal(door_ask(path, &question, 5000, &status, answer_room, &length),
                         DOOR_ANSWERED);
        assert_int_equal(status, 2);
        assert_int_equal(length, 4);
        assert_memory_equal(answer_room, "rows", 4);
    }
    assert_int_equal(fclose(file), 0);
    question.file = DOOR_NO_FILE;
    assert_int_equal(door_ask(path, &question, 5000, &status, answer_room, &length), DOOR_ANSWERED);
    assert_int_equal(status, 3); /* and none is left over from who asked before */
}

static int raw_call(void)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    memcpy(address.sun_path, path, strlen(path));
    int fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
    assert_true(fd >= 0);
    assert_int_equal(connect(fd, (const struct sockaddr *)&address, sizeof address), 0);
    return fd;
}

static void who_talks_nonsense_is_shown_out(void **state)
{
    static const unsigned char cases[][8] = {
        {0xFF, 0xFF, 0xFF, 0xFF, 'x', 'x', 'x', 'x'}, /* a length beyond the bound */
        {0, 0, 0, 4, 'n', 'o', 'n', 'e'},             /* no NUL at the end */
        {0, 0, 0, 0, 0, 0, 0, 0},                     /* no word */
    };
    (void)state;
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char left;
        int fd = raw_call();
        assert_int_equal(send(fd, cases[i], sizeof cases[i], MSG_NOSIGNAL), sizeof cases[i]);
        assert_true(recv(fd, &left, 1, 0) <= 0); /* closed without an answer */
        (void)close(fd);
    }
}

static void one_who_stalls_does_not_keep_others_out(void **state)
{
    int fd = raw_call();
    (void)state;
    assert_int_equal(send(fd, "\0\0", 2, MSG_NOSIGNAL), 2);
    a_question_gets_its_answer(state);
    (void)close(fd);
}

/* As many as there are places, and more. */
static void those_who_stall_in_every_place_keep_nobody_waiting(void **state)
{
    int slow[DOOR_CALLERS_MAX + 2];
    for (size_t i = 0; i < sizeof slow / sizeof slow[0]; i++) {
        slow[i] = raw_call();
        assert_int_equal(send(slow[i], "\0\0", 2, MSG_NOSIGNAL), 2);
    }
    const char *words[] = {"echo", "now"};
    int status = 0;
    size_t length = 0;
    assert_int_equal(ask(path, 2, words, 1000, &status, answer_room, &length), DOOR_ANSWERED);
    for (size_t i = 0; i < sizeof slow / sizeof slow[0]; i++) {
        (void)close(slow[i]);
    }
    a_question_gets_its_answer(state);
}

static void a_file_at_the_doors_path_is_named_and_stays(void **state)
{
    static struct door door;
    char says[DOOR_SAYS_OCTETS], letter[64];
    (void)state;
    (void)snprintf(letter, sizeof letter, "%s/letter", folder);
    FILE *file = fopen(letter, "w");
    assert_non_null(file);
    assert_int_equal(fclose(file), 0);
    assert_false(door_open(&door, letter, answer, NULL, says));
    assert_non_null(strstr(says, "is there and is no socket"));
    assert_int_equal(unlink(letter), 0);
}

static void the_socket_is_for_owner_and_group(void **state)
{
    struct stat facts;
    (void)state;
    assert_int_equal(stat(path, &facts), 0);
    assert_int_equal(facts.st_mode & 0777, 0660);
}

static void a_second_daemon_does_not_take_the_door(void **state)
{
    static struct door second;
    char says[DOOR_SAYS_OCTETS];
    (void)state;
    assert_false(door_open(&second, path, answer, NULL, says));
    assert_non_null(strstr(says, "another daemon answers"));
    a_question_gets_its_answer(state);
}

static void nobody_there_is_said_at_once(void **state)
{
    const char *words[] = {"echo"};
    char long_path[300];
    int status = 0;
    size_t length = 0;
    (void)state;
    assert_int_equal(
        ask("/tmp/meterpost-no-such-door", 1, words, 5000, &status, answer_room, &length),
        DOOR_NOBODY);
    memset(long_path, 'x', sizeof long_path - 1);
    long_path[sizeof long_path - 1] = '\0';
    assert_int_equal(ask(long_path, 1, words, 5000, &status, answer_room, &length), DOOR_NOBODY);
}

static void a_socket_left_by_a_crash_is_replaced(void **state)
{
    static struct door door;
    char says[DOOR_SAYS_OCTETS], stale[64];
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    (void)state;
    (void)snprintf(stale, sizeof stale, "%s/stale", folder);
    memcpy(address.sun_path, stale, strlen(stale));
    int fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
    assert_int_equal(bind(fd, (const struct sockaddr *)&address, sizeof address), 0);
    (void)close(fd); /* nobody listens, the file stays */
    assert_true(door_open(&door, stale, answer, NULL, says));
    door_close(&door);
    assert_int_not_equal(access(stale, F_OK), 0);
}

static void words_are_cut_at_their_ends(void **state)
{
    const char *words[DOOR_WORDS_MAX];
    char many[DOOR_WORDS_MAX + 1] = {0};
    unsigned char octets[4];
    (void)state;
    assert_int_equal(door_words("a\0bc\0", 5, words), 2);
    assert_string_equal(words[1], "bc");
    assert_int_equal(door_words("a", 1, words), 0);
    assert_int_equal(door_words("", 0, words), 0);
    assert_int_equal(door_words(many, DOOR_WORDS_MAX, words), DOOR_WORDS_MAX);
    assert_int_equal(door_words(many, DOOR_WORDS_MAX + 1, words), 0);
    door_write_number(octets, 0x01020304);
    assert_int_equal(octets[0], 1);
    assert_int_equal(door_read_number(octets), 0x01020304);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_question_gets_its_answer),
        cmocka_unit_test(a_file_comes_along),
        cmocka_unit_test(the_longest_answer_comes_whole),
        cmocka_unit_test(who_talks_nonsense_is_shown_out),
        cmocka_unit_test(one_who_stalls_does_not_keep_others_out),
        cmocka_unit_test(those_who_stall_in_every_place_keep_nobody_waiting),
        cmocka_unit_test(a_file_at_the_doors_path_is_named_and_stays),
        cmocka_unit_test(the_socket_is_for_owner_and_group),
        cmocka_unit_test(a_second_daemon_does_not_take_the_door),
        cmocka_unit_test(nobody_there_is_said_at_once),
        cmocka_unit_test(a_socket_left_by_a_crash_is_replaced),
        cmocka_unit_test(words_are_cut_at_their_ends),
    };
    return cmocka_run_group_tests(tests, start_serving, stop_serving);
}
