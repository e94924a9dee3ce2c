/* SPDX-License-Identifier: MIT
 * A page put into a file: nothing of the user's is lost, followed or waited for. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cmocka.h>

#include "daemon/board/board.h"

static char folder[32], path[96], other[96], says[PAGE_FILE_SAYS_OCTETS];

static int open_folder(void **state)
{
    (void)state;
    (void)snprintf(folder, sizeof folder, "/tmp/meterpost-page-XXXXXX");
    if (mkdtemp(folder) == NULL) {
        return -1;
    }
    (void)snprintf(path, sizeof path, "%s/page.html", folder);
    (void)snprintf(other, sizeof other, "%s/page.html.new", folder);
    return 0;
}

static int close_folder(void **state)
{
    char command[64];
    (void)state;
    (void)snprintf(command, sizeof command, "rm -r '%s'", folder);
    return system(command);
}

static void put(const char *name, const char *text)
{
    FILE *file = fopen(name, "w");
    assert_non_null(file);
    assert_true(fputs(text, file) >= 0);
    assert_int_equal(fclose(file), 0);
}

static void assert_holds(const char *name, const char *text)
{
    char found[64] = "";
    FILE *file = fopen(name, "r");
    assert_non_null(file);
    size_t length = fread(found, 1, sizeof found - 1, file);
    assert_int_equal(fclose(file), 0);
    assert_int_equal(length, strlen(text));
    assert_string_equal(found, text);
}

static bool write_page(void)
{
    return page_file_write(path, "<page>", "<page>new", 9, says);
}

static void a_page_is_written_and_replaced_by_the_umask_but_not_for_others_to_write(void **state)
{
    struct stat found;
    (void)state;
    mode_t before = umask(0);
    assert_true(write_page());
    (void)umask(before);
    assert_int_equal(stat(path, &found), 0);
    assert_int_equal(found.st_mode & 0777, 0664);
    put(path, "<page>older and longer");
    before = umask(0077);
    assert_true(write_page());
    (void)umask(before);
    assert_int_equal(stat(path, &found), 0);
    assert_int_equal(found.st_mode & 0777, 0600);
    assert_holds(path, "<page>new");
}

static void another_file_is_left_alone(void **state)
{
    (void)state;
    put(path, "a letter");
    assert_false(write_page());
    assert_non_null(strstr(says, "is no page"));
    assert_holds(path, "a letter");
    put(path, "<pag"); /* begins so, and is shorter */
    assert_false(write_page());
}

/* The name that was taken for the new file once. */
static void a_file_beside_is_the_users(void **state)
{
    (void)state;
    put(other, "a draft");
    assert_true(write_page());
    assert_holds(other, "a draft");
}

static void no_link_is_followed(void **state)
{
    (void)state;
    put(other, "<page>of another");
    assert_int_equal(symlink(other, path), 0);
    assert_false(write_page());
    assert_non_null(strstr(says, "is no page"));
    assert_holds(other, "<page>of another");
    assert_int_equal(unlink(path), 0);
    assert_int_equal(symlink("/nowhere/at/all", path), 0);
    assert_false(write_page());
}

static void nothing_is_waited_for(void **state)
{
    (void)state;
    assert_int_equal(mkfifo(path, 0600), 0);
    assert_false(write_page());
    assert_non_null(strstr(says, "is no page"));
    assert_int_equal(unlink(path), 0);
    assert_int_equal(mkdir(path, 0700), 0);
    assert_false(write_page());
}

static void a_folder_that_is_missing_is_named(void **state)
{
    (void)state;
    assert_false(page_file_write("/nowhere/page.html", "<page>", "<page>", 6, says));
    assert_string_equal(says, "/nowhere/page.html cannot be written: No such file or directory");
}

int main(void)
{
#define CASE(test) cmocka_unit_test_setup_teardown(test, open_folder, close_folder)
    const struct CMUnitTest tests[] = {
        CASE(a_page_is_written_and_replaced_by_the_umask_but_not_for_others_to_write),
        CASE(another_file_is_left_alone),
        CASE(a_file_beside_is_the_users),
        CASE(no_link_is_followed),
        CASE(nothing_is_waited_for),
        CASE(a_folder_that_is_missing_is_named),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
