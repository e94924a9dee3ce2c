/* SPDX-License-Identifier: MIT
 * backup: see backup.h. A copy is named by its day, "meterpost-2027-03-14.db", so that a second one on a
 * day takes the place of the first, and what is older than the number kept is known by its name. */
#include "daemon/counter/backup.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sysexits.h>
#include <unistd.h>

#include "daemon/counter/counter.h"
#include "daemon/counter/verbs.h"
#include "daemon/ground/zone.h"
#include "daemon/upkeep/civil.h"

#define FOLDER "backups"
#define NAME_BEFORE "meterpost-"
#define NAME_BEHIND ".db"
#define DAY_OCTETS 10 /* 2027-03-14 */
#define NAME_OCTETS (sizeof NAME_BEFORE - 1 + DAY_OCTETS + sizeof NAME_BEHIND)
#define PATH_OCTETS (SETTINGS_PATH_OCTETS + 64)

/* The folder of copies beside that ledger. */
static void folder_beside(const char *ledger_path, char folder[PATH_OCTETS])
{
    const char *slash = strrchr(ledger_path, '/');
    int length = slash != NULL ? (int)(slash - ledger_path) + 1 : 0;
    (void)snprintf(folder, PATH_OCTETS, "%.*s%s", length, ledger_path, FOLDER);
}

/* A copy by its name: for scandir. */
static int is_copy(const struct dirent *entry)
{
    const char *day = &entry->d_name[sizeof NAME_BEFORE - 1];
    int32_t ignored;
    return strlen(entry->d_name) == NAME_OCTETS - 1 &&
           strncmp(entry->d_name, NAME_BEFORE, sizeof NAME_BEFORE - 1) == 0 &&
           civil_read(day, DAY_OCTETS, &ignored) && strcmp(&day[DAY_OCTETS], NAME_BEHIND) == 0;
}

/* When that file, or the folder itself where name is "", was last written to; 0 where it is not there. */
static int64_t written_s(const char *folder, const char *name)
{
    char path[PATH_OCTETS + 256];
    struct stat there;
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    return stat(path, &there) == 0 ? (int64_t)there.st_mtime : 0;
}

void backup_look(const char *ledger_path, struct backup_kept *kept)
{
    char folder[PATH_OCTETS];
    struct dirent **copies = NULL;
    *kept = (struct backup_kept){0};
    folder_beside(ledger_path, folder);
    int count = scandir(folder, &copies, is_copy, alphasort);
    if (count < 0) {
        return;
    }
    kept->folder = true;
    kept->count = count;
    for (int i = 0; i < count; i++) {
        int64_t made_s = written_s(folder, copies[i]->d_name);
        kept->since_s = made_s > kept->since_s ? made_s : kept->since_s;
        free(copies[i]);
    }
    free(copies);
    kept->since_s = count > 0 ? kept->since_s : written_s(folder, "");
}

/* Removes the oldest copies beyond that number, but never the one just made. */
static void remove_beyond(const char *folder, int most, const char *made, FILE *err)
{
    struct dirent **copies = NULL;
    int count = scandir(folder, &copies, is_copy, alphasort);
    for (int i = 0; i < count; i++) {
        char path[PATH_OCTETS + 256];
        (void)snprintf(path, sizeof path, "%s/%s", folder, copies[i]->d_name);
        if (i < count - most && strcmp(copies[i]->d_name, made) != 0 && unlink(path) != 0) {
            (void)fprintf(err, "meterpost: the old copy %s cannot be removed: %s\n", path,
                          strerror(errno));
        }
        free(copies[i]);
    }
    free(copies);
}

static int say_made(struct counter *counter, const char *path)
{
    if (counter->options->json) {
        struct json_object *whole = json_object_new_object();
        json_add_text(whole, "file", path);
        json_add_text(whole, "ledger", counter->settings->ledger);
        json_add(whole, "checked", json_object_new_boolean(true));
        return json_write(whole, counter->out);
    }
    (void)fprintf(counter->out, "%s is a checked copy of %s\n", path, counter->settings->ledger);
    return EX_OK;
}

static int copy_to(struct counter *counter, const char *path)
{
    int status = counter_ledger_status(counter, ledger_backup(counter->ledger, path));
    return status == EX_OK ? say_made(counter, path) : status;
}

/* Today's copy into a folder, and the oldest out of it. */
static int keep_in(struct counter *counter, const char *folder)
{
    char name[NAME_OCTETS + 8], day[CIVIL_TEXT_OCTETS], path[PATH_OCTETS + NAME_OCTETS + 8];
    if (mkdir(folder, 0750) != 0 && errno != EEXIST) {
        (void)fprintf(counter->err, "meterpost: the folder %s cannot be made: %s\n", folder,
                      strerror(errno));
        return EX_CANTCREAT;
    }
    civil_write(zone_civil(counter->now_s).day, day, sizeof day);
    (void)snprintf(name, sizeof name, "%s%s%s", NAME_BEFORE, day, NAME_BEHIND);
    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    int status = copy_to(counter, path);
    if (status == EX_OK) {
        remove_beyond(folder, counter->options->keep, name, counter->err);
    }
    return status;
}

int backup_verb(struct counter *counter)
{
    int words = counter->options->word_count;
    char folder[PATH_OCTETS];
    if (counter->options->keep > 0 && words <= 1) {
        folder_beside(counter->settings->ledger, folder);
        return keep_in(counter, words == 1 ? counter->options->words[0] : folder);
    }
    if (counter->options->keep > 0 || words != 1) {
        (void)fprintf(counter->err, "meterpost: say where to, such as: meterpost backup "
                                    "/media/stick/meterpost.db, or meterpost backup --keep 14\n");
        return EX_USAGE;
    }
    return copy_to(counter, counter->options->words[0]);
}
