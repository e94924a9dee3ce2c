/* SPDX-License-Identifier: MIT
 * Which program has a file open. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include "daemon/modem/holder.h"

static void the_program_that_holds_a_file_is_named(void **state)
{
    char path[] = "/tmp/holder-test-XXXXXX";
    struct holder holder = {.pid = 0};
    int pipes[2];
    char octet = 0;
    (void)state;
    int fd = mkstemp(path);
    assert_true(fd >= 0);
    assert_int_equal(pipe(pipes), 0);
    assert_false(holder_find(path, &holder)); /* this process itself does not count */
    pid_t child = fork();
    if (child == 0) {
        close(pipes[1]);
        _exit(read(pipes[0], &octet, 1) == 0 ? 0 : 1); /* until the other end is closed */
    }
    assert_true(child > 0);
    assert_true(holder_find(path, &holder));
    assert_int_equal(holder.pid, child);
    assert_string_equal(holder.name, "holder_test");
    close(pipes[1]);
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    assert_int_equal(status, 0);
    close(pipes[0]);
    close(fd);
    assert_int_equal(unlink(path), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_program_that_holds_a_file_is_named)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
