/* SPDX-License-Identifier: MIT
 * config_file: a config file for one test: written into a folder of its own, removed at the end. */
#ifndef METERPOST_TESTS_CONFIG_FILE_H
#define METERPOST_TESTS_CONFIG_FILE_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include <cmocka.h>

/* libconfig 1.5 leaks where it stops at a mistake of form. */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void)
{
    return "leak:libconfig\n";
}

struct config_file {
    char folder[32];
    char path[64];
};

static inline void config_file_add(const struct config_file *file, const char *name,
                                   const char *text)
{
    char path[128];
    snprintf(path, sizeof path, "%s/%s", file->folder, name);
    FILE *out = fopen(path, "w");
    assert_non_null(out);
    assert_true(fputs(text, out) >= 0);
    assert_int_equal(fclose(out), 0);
}

static inline struct config_file config_file_write(const char *text)
{
    struct config_file file = {.folder = "/tmp/settings-XXXXXX"};
    assert_non_null(mkdtemp(file.folder));
    snprintf(file.path, sizeof file.path, "%s/meterpost.conf", file.folder);
    config_file_add(&file, "meterpost.conf", text);
    return file;
}

static inline void config_file_remove(const struct config_file *file)
{
    assert_int_equal(unlink(file->path), 0);
    assert_int_equal(rmdir(file->folder), 0);
}

#endif
