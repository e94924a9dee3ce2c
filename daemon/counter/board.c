/* SPDX-License-Identifier: MIT
 * board: see board.h. The page is made in memory first, so that what is at the place is whole: the
 * old page or the new one. */
#include "daemon/counter/board.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#include "daemon/counter/board_page.h"

#define PATH_OCTETS 4096

static int failed(const char *path, FILE *err)
{
    (void)fprintf(err, "meterpost: %s cannot be written: %s\n", path, strerror(errno));
    return EX_CANTCREAT;
}

/* Nothing there, or a page. Another file is not to be lost by a slip of the hand. */
static bool may_replace(const char *path)
{
    char begins[sizeof BOARD_PAGE_BEGINS] = "";
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        return errno == ENOENT;
    }
    size_t length = fread(begins, 1, sizeof begins - 1, file);
    (void)fclose(file);
    return length == 0 || strcmp(begins, BOARD_PAGE_BEGINS) == 0;
}

static int write_file(const char *path, const char *page, size_t length, FILE *err)
{
    char beside[PATH_OCTETS];
    if (!may_replace(path)) {
        (void)fprintf(err, "meterpost: %s is there and is no page; name another file\n", path);
        return EX_CANTCREAT;
    }
    if (snprintf(beside, sizeof beside, "%s.new", path) >= (int)sizeof beside) {
        errno = ENAMETOOLONG;
        return failed(path, err);
    }
    FILE *file = fopen(beside, "wb");
    if (file == NULL) {
        return failed(beside, err);
    }
    bool written = fwrite(page, 1, length, file) == length;
    written = fclose(file) == 0 && written;
    if (!written || rename(beside, path) != 0) {
        int status = failed(path, err);
        (void)remove(beside);
        return status;
    }
    return EX_OK;
}

/* The whole page in memory; the caller frees *page. */
static int make_page(struct opening *opening, char **page, size_t *length, FILE *err)
{
    struct yard_standing *standings = NULL;
    size_t count = 0;
    int status = opening_standings(opening, &standings, &count, err);
    FILE *stream = status == EX_OK ? open_memstream(page, length) : NULL;
    if (status == EX_OK && stream == NULL) {
        status = EX_OSERR;
    }
    if (stream != NULL) {
        enum ledger_result result = board_page(opening, standings, count, stream);
        if (result != LEDGER_OK) {
            (void)fprintf(err, "meterpost: %s\n", ledger_says(opening->ledger));
            status = ledger_exit_status(result);
        }
        status = fclose(stream) != 0 ? EX_OSERR : status;
    }
    if (status == EX_OSERR) {
        (void)fprintf(err, "meterpost: memory is short; nothing was written\n");
    }
    free(standings);
    return status;
}

int board_verb(const struct options *options, FILE *out, FILE *err)
{
    struct opening opening;
    char *page = NULL;
    size_t length = 0;
    if (options->word_count > 1) {
        (void)fprintf(err, "meterpost: one file is enough: meterpost board yard.html\n");
        return EX_USAGE;
    }
    int status = opening_begin(&opening, options, err);
    if (status == EX_OK) {
        status = make_page(&opening, &page, &length, err);
    }
    if (status == EX_OK && options->word_count == 1) {
        status = write_file(options->words[0], page, length, err);
    } else if (status == EX_OK) {
        (void)fwrite(page, 1, length, out);
    }
    free(page);
    opening_end(&opening);
    return status;
}
