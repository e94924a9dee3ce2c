/* SPDX-License-Identifier: MIT
 * files: the ledger's file as it is found, what lies beside it, and its copies.
 *
 * Closing any descriptor of a database file drops every POSIX lock that this process has on
 * it, those of an open connection too. So the header is read through SQLite's own file layer, which
 * keeps such a descriptor until the locks are gone; and the lock that keeps a second meterpost out
 * is on a file of its own.
 *
 * A WAL is found by name alone. Where a backup, or a new ledger, takes the place of one whose WAL
 * stayed behind, SQLite would play that into it. A backup is in rollback mode, and in that mode no
 * WAL with anything in it can be the file's own: so it is refused.
 *
 * A backup is consistent while the ledger is in use, and is looked at whole before it gets its name.
 * VACUUM INTO reads under one read transaction and writes a file of its own, in rollback mode: no
 * -wal belongs to it, so it may be moved about alone. It promises nothing about a power cut; hence
 * the sync and the rename here. */
#include "daemon/ledger/store.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sqlite3.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#define BESIDE_OCTETS (PATH_MAX + 8)

/* The file header of SQLite (sqlite.org/fileformat.html, section 1.3). */
#define HEADER_OCTETS 100
#define HEADER_MAGIC "SQLite format 3"
#define HEADER_READ_VERSION 18 /* 1 rollback mode, 2 WAL */
#define HEADER_USER_VERSION 60
#define HEADER_APPLICATION_ID 68

/* The folder's real path and the last name, for a file that is not there yet. */
static enum ledger_result resolve_new(const char *path, char *out, size_t size)
{
    char folder[PATH_MAX], real[PATH_MAX];
    const char *slash = strrchr(path, '/');
    const char *name = slash != NULL ? slash + 1 : path;
    size_t length = slash != NULL ? (size_t)(slash - path) + 1 : 0;
    if (length >= sizeof folder || name[0] == '\0') {
        return LEDGER_MISSING;
    }
    memcpy(folder, path, length);
    folder[length] = '\0';
    if (realpath(length > 0 ? folder : ".", real) == NULL) {
        return faults_of_errno(errno);
    }
    const char *join = strcmp(real, "/") == 0 ? "" : "/";
    int written = snprintf(out, size, "%s%s%s", real, join, name);
    return written > 0 && (size_t)written < size ? LEDGER_OK : LEDGER_MISSING;
}

enum ledger_result files_resolve(const char *path, char *out, size_t size)
{
    char real[PATH_MAX];
    if (realpath(path, real) == NULL) {
        return errno == ENOENT ? resolve_new(path, out, size) : faults_of_errno(errno);
    }
    int written = snprintf(out, size, "%s", real);
    return written > 0 && (size_t)written < size ? LEDGER_OK : LEDGER_MISSING;
}

static uint32_t big_endian(const unsigned char *octets)
{
    return (uint32_t)octets[0] << 24 | (uint32_t)octets[1] << 16 | (uint32_t)octets[2] << 8 |
           (uint32_t)octets[3];
}

static enum ledger_result judge(const unsigned char header[HEADER_OCTETS])
{
    if (memcmp(header, HEADER_MAGIC, sizeof HEADER_MAGIC) != 0 ||
        big_endian(header + HEADER_APPLICATION_ID) != MIGRATIONS_APPLICATION_ID) {
        return LEDGER_FOREIGN;
    }
    return big_endian(header + HEADER_USER_VERSION) > MIGRATIONS_VERSION ? LEDGER_NEWER : LEDGER_OK;
}

static enum ledger_result read_header(const char *path, unsigned char header[HEADER_OCTETS])
{
    sqlite3_vfs *layer = sqlite3_vfs_find(NULL);
    sqlite3_file *file = layer != NULL ? calloc(1, (size_t)layer->szOsFile) : NULL;
    const char *name = sqlite3_create_filename(path, "", "", 0, NULL);
    enum ledger_result result = LEDGER_IO;
    if (file != NULL && name != NULL) {
        int flags = SQLITE_OPEN_READONLY | SQLITE_OPEN_MAIN_DB;
        int code = layer->xOpen(layer, name, file, flags, &flags);
        if (code == SQLITE_OK) {
            code = file->pMethods->xRead(file, header, HEADER_OCTETS, 0);
        }
        result = code == SQLITE_OK ? LEDGER_OK : faults_of_sqlite(code, errno);
        if (file->pMethods != NULL) {
            (void)file->pMethods->xClose(file); /* opened for reading: nothing can be lost */
        }
    }
    sqlite3_free_filename((char *)name);
    free(file);
    return result;
}

static enum ledger_result beside(const char *path, const char *suffix, char out[BESIDE_OCTETS])
{
    int written = snprintf(out, BESIDE_OCTETS, "%s%s", path, suffix);
    return written > 0 && written < BESIDE_OCTETS ? LEDGER_OK : LEDGER_MISSING;
}

bool files_has_wal(const char *path)
{
    char name[BESIDE_OCTETS];
    struct stat found;
    return beside(path, "-wal", name) == LEDGER_OK && stat(name, &found) == 0 && found.st_size > 0;
}

static enum ledger_result look_at_file(const char *path, unsigned char header[HEADER_OCTETS])
{
    struct stat found;
    if (stat(path, &found) != 0) {
        return faults_of_errno(errno);
    }
    if (S_ISREG(found.st_mode) && found.st_size == 0) {
        return LEDGER_MISSING;
    }
    if (!S_ISREG(found.st_mode) || found.st_size < HEADER_OCTETS) {
        return LEDGER_FOREIGN;
    }
    enum ledger_result result = read_header(path, header);
    return result == LEDGER_OK ? judge(header) : result;
}

enum ledger_result files_look(const char *path, const char **detail)
{
    unsigned char header[HEADER_OCTETS];
    enum ledger_result result = look_at_file(path, header);
    bool no_wal_of_its_own =
        result == LEDGER_MISSING || (result == LEDGER_OK && header[HEADER_READ_VERSION] == 1);
    *detail = "";
    if (no_wal_of_its_own && files_has_wal(path)) {
        *detail = "the -wal there is of another: move that away";
        return LEDGER_DAMAGED;
    }
    return result;
}

/* What root made, and nobody else can have put there meanwhile, goes to the folder's owner. */
static bool give_away(int descriptor, const char *name)
{
    char folder[BESIDE_OCTETS];
    struct stat owner;
    if (geteuid() != 0) {
        return true;
    }
    (void)snprintf(folder, sizeof folder, "%s", name);
    char *slash = strrchr(folder, '/');
    if (slash == NULL) {
        (void)snprintf(folder, sizeof folder, ".");
    } else {
        slash[1] = '\0';
    }
    return stat(folder, &owner) == 0 && fchown(descriptor, owner.st_uid, owner.st_gid) == 0;
}

enum ledger_result files_give_away(const char *path, const char *suffix)
{
    char name[BESIDE_OCTETS];
    enum ledger_result result = beside(path, suffix, name);
    int descriptor = result == LEDGER_OK ? open(name, O_RDWR | O_NOFOLLOW | O_CLOEXEC) : -1;
    if (descriptor < 0 || !give_away(descriptor, name)) {
        result = result == LEDGER_OK ? faults_of_errno(errno) : result;
    }
    if (descriptor >= 0) {
        (void)close(descriptor); /* nothing was written through it */
    }
    return result;
}

static int open_or_make(const char *name)
{
    int descriptor = open(name, O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0640);
    if (descriptor < 0) {
        return open(name, O_RDWR | O_CREAT | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC, 0640);
    }
    if (!give_away(descriptor, name)) {
        (void)close(descriptor); /* its owner is what failed */
        return -1;
    }
    return descriptor;
}

enum ledger_result files_open_beside(const char *path, const char *suffix, int *descriptor)
{
    char name[BESIDE_OCTETS];
    enum ledger_result result = beside(path, suffix, name);
    *descriptor = result == LEDGER_OK ? open_or_make(name) : -1;
    return result == LEDGER_OK && *descriptor < 0 ? faults_of_errno(errno) : result;
}

/* A verb that writes holds it for a moment. */
#define LOCK_WAIT_MS 2000
#define LOCK_LOOK_MS 20

static bool lock_soon(int descriptor)
{
    for (int waited_ms = 0; flock(descriptor, LOCK_EX | LOCK_NB) != 0; waited_ms += LOCK_LOOK_MS) {
        if (errno != EWOULDBLOCK || waited_ms >= LOCK_WAIT_MS) {
            return false;
        }
        (void)poll(NULL, 0, LOCK_LOOK_MS);
        errno = EWOULDBLOCK;
    }
    return true;
}

enum ledger_result files_lock(const char *path, int *descriptor)
{
    enum ledger_result result = files_open_beside(path, LOCK_SUFFIX, descriptor);
    if (result == LEDGER_OK && !lock_soon(*descriptor)) {
        result = faults_of_errno(errno);
        (void)close(*descriptor);
        *descriptor = -1;
    }
    return result;
}

#define MADE_SUFFIX ".made"

const char *files_tell_of_older(const char *name)
{
    struct stat found;
    if (lstat(name, &found) == 0) {
        if (S_ISLNK(found.st_mode) && stat(name, &found) != 0 && errno == ENOENT) {
            return "the link there leads nowhere";
        }
        return S_ISREG(found.st_mode) && found.st_size == 0 ? "the file there is empty" : NULL;
    }
    bool marked = errno == ENOENT && files_exists_beside(name, MADE_SUFFIX);
    return marked ? "its mark, the file that ends in " MADE_SUFFIX : NULL;
}

void files_mark_made(const char *name)
{
    int descriptor = -1;
    (void)files_open_beside(name, MADE_SUFFIX, &descriptor); /* or at the next start */
    if (descriptor >= 0) {
        (void)close(descriptor); /* nothing was written through it */
    }
}

static const char *const place_suffixes[FILES_PLACES] = {"", "-wal", "-shm"};

static bool place_of(const char *path, size_t i, struct files_place *place)
{
    char name[BESIDE_OCTETS];
    struct stat found;
    *place = (struct files_place){0};
    if (beside(path, place_suffixes[i], name) != LEDGER_OK || stat(name, &found) != 0) {
        return false;
    }
    *place = (struct files_place){found.st_dev, found.st_ino};
    return true;
}

void files_note_places(const char *path, struct files_place places[FILES_PLACES])
{
    for (size_t i = 0; i < FILES_PLACES; i++) {
        (void)place_of(path, i, &places[i]); /* one that is not there is none that was taken away */
    }
}

enum ledger_result files_in_place(const char *path, const struct files_place places[FILES_PLACES],
                                  const char **detail)
{
    static const char *const details[FILES_PLACES][2] = {
        {"moved or deleted", "another file was put in its place"},
        {"its -wal was deleted", "another file stands for its -wal"},
        {"its -shm was deleted", "another file stands for its -shm"}};
    *detail = "";
    for (size_t i = 0; i < FILES_PLACES && places[i].inode != 0; i++) {
        struct files_place now;
        bool there = place_of(path, i, &now);
        if (!there || now.device != places[i].device || now.inode != places[i].inode) {
            *detail = details[i][there];
            return LEDGER_REPLACED;
        }
    }
    return LEDGER_OK;
}

const char *files_in_the_way(const char *path)
{
    static const char *const suffixes[] = {"", "-wal", "-shm", LOCK_SUFFIX, ".work"};
    for (size_t i = 0; i < sizeof suffixes / sizeof suffixes[0]; i++) {
        char name[BESIDE_OCTETS];
        if (beside(path, suffixes[i], name) == LEDGER_OK &&
            faccessat(AT_FDCWD, name, W_OK, AT_EACCESS) != 0 && errno != ENOENT) {
            return suffixes[i];
        }
    }
    return "";
}

bool files_exists_beside(const char *path, const char *suffix)
{
    char name[BESIDE_OCTETS];
    return beside(path, suffix, name) == LEDGER_OK && access(name, F_OK) == 0;
}

void files_remove_beside(const char *path, const char *suffix)
{
    char name[BESIDE_OCTETS];
    if (beside(path, suffix, name) == LEDGER_OK) {
        (void)unlink(name); /* not being there is what is wanted */
    }
}

static enum ledger_result sync_and_close(int descriptor)
{
    if (descriptor < 0) {
        return faults_of_errno(errno);
    }
    enum ledger_result result = fsync(descriptor) == 0 ? LEDGER_OK : faults_of_errno(errno);
    (void)close(descriptor); /* synced: nothing is left to go wrong */
    return result;
}

enum ledger_result files_sync(const char *path)
{
    return sync_and_close(open(path, O_RDONLY | O_CLOEXEC));
}

enum ledger_result files_name(const char *path, const char *suffix)
{
    char name[BESIDE_OCTETS];
    enum ledger_result result = beside(path, suffix, name);
    if (result != LEDGER_OK) {
        return result;
    }
    if (rename(name, path) != 0) {
        return faults_of_errno(errno);
    }
    char *slash = strrchr(name, '/'); /* a resolved path has one */
    if (slash == NULL) {
        return LEDGER_MISSING;
    }
    slash[slash == name ? 1 : 0] = '\0';
    return sync_and_close(open(name, O_RDONLY | O_DIRECTORY | O_CLOEXEC));
}

#define PART_SUFFIX ".part"
#define PART_OCTETS (STORE_PATH_OCTETS + sizeof PART_SUFFIX)

static bool same_file(const char *one, const char *other)
{
    struct stat a, b;
    return stat(one, &a) == 0 && stat(other, &b) == 0 && a.st_dev == b.st_dev &&
           a.st_ino == b.st_ino;
}

/* Nothing, or a ledger: no link, FIFO or file of another kind. */
static enum ledger_result may_be_replaced(struct ledger *ledger, const char *path)
{
    struct stat there;
    const char *detail = "";
    bool regular = lstat(path, &there) != 0 || S_ISREG(there.st_mode);
    enum ledger_result found = regular ? files_look(path, &detail) : LEDGER_FOREIGN;
    bool ours = found == LEDGER_OK || found == LEDGER_MISSING || found == LEDGER_NEWER;
    return ours ? LEDGER_OK : faults_say(found, path, detail, ledger->says);
}

/* May a backup take that name? */
static enum ledger_result may_take(struct ledger *ledger, const char *path)
{
    if (ledger->open) {
        return store_out_of_turn(ledger, "a backup inside a transaction");
    }
    if (same_file(ledger->path, path) || files_exists_beside(path, "-wal")) {
        return faults_say(LEDGER_HELD, path, "a ledger in use is no place for a backup",
                          ledger->says);
    }
    enum ledger_result result = may_be_replaced(ledger, path);
    if (result == LEDGER_OK && files_exists_beside(path, PART_SUFFIX)) {
        char part[PART_OCTETS];
        (void)snprintf(part, sizeof part, "%s%s", path, PART_SUFFIX);
        result = may_be_replaced(ledger, part); /* of a backup that was cut short */
    }
    return result;
}

static enum ledger_result copy_into(struct ledger *ledger, const char *name)
{
    sqlite3_stmt *statement = NULL;
    int code = sqlite3_prepare_v2(ledger->connection, "VACUUM INTO ?1", -1, &statement, NULL);
    if (code == SQLITE_OK) {
        code = sqlite3_bind_text(statement, 1, name, -1, SQLITE_STATIC);
    }
    if (code == SQLITE_OK) {
        code = sqlite3_step(statement);
    }
    enum ledger_result result = LEDGER_OK;
    if (code != SQLITE_DONE) {
        result = faults_say(faults_of_sqlite(code, sqlite3_system_errno(ledger->connection)), name,
                            sqlite3_errmsg(ledger->connection), ledger->says);
    }
    (void)sqlite3_finalize(statement); /* its result is known already */
    return result;
}

/* SQLITE_OK where the only answer to sql is that word ("" no answer at all), SQLITE_CORRUPT where it is
 * another, else why it could not be asked. */
static int answers(sqlite3 *connection, const char *sql, const char *word)
{
    sqlite3_stmt *statement = NULL;
    int code = sqlite3_prepare_v2(connection, sql, -1, &statement, NULL);
    if (code == SQLITE_OK) {
        code = sqlite3_step(statement);
    }
    if (code == SQLITE_ROW) {
        code = strcmp(store_column_text(statement, 0), word) == 0 ? SQLITE_OK : SQLITE_CORRUPT;
    } else if (code == SQLITE_DONE) {
        code = word[0] == '\0' ? SQLITE_OK : SQLITE_CORRUPT;
    }
    (void)sqlite3_finalize(statement); /* its result is known already */
    return code;
}

static int holds_together(sqlite3 *connection)
{
    int code = answers(connection, "PRAGMA integrity_check(1)", "ok");
    return code == SQLITE_OK ? answers(connection, "PRAGMA foreign_key_check", "") : code;
}

/* Where the copy is not whole the ledger itself is asked: the disk of the copy may be the bad one. */
static enum ledger_result check_copy(struct ledger *ledger, const char *name)
{
    sqlite3 *copy = NULL;
    const char *detail;
    int code = sqlite3_open_v2(name, &copy, SQLITE_OPEN_READONLY, NULL);
    if (code == SQLITE_OK) {
        code = holds_together(copy);
    }
    (void)sqlite3_close(copy); /* no statement is left: cannot be busy */
    if (code == SQLITE_OK && files_look(name, &detail) == LEDGER_OK) {
        return LEDGER_OK;
    }
    if ((code & 0xff) == SQLITE_CORRUPT && holds_together(ledger->connection) != SQLITE_OK) {
        return faults_say(LEDGER_DAMAGED, ledger->path, "", ledger->says);
    }
    return faults_say(LEDGER_IO, name, "the copy cannot be read back", ledger->says);
}

static enum ledger_result make_copy(struct ledger *ledger, const char *path)
{
    char name[PART_OCTETS];
    (void)snprintf(name, sizeof name, "%s%s", path, PART_SUFFIX);
    int made = open(name, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0640);
    if (made < 0) {
        return faults_say(faults_of_errno(errno), name, "", ledger->says);
    }
    (void)close(made); /* empty: SQLite fills it */
    enum ledger_result result = copy_into(ledger, name);
    if (result == LEDGER_OK) {
        result = check_copy(ledger, name);
    }
    if (result == LEDGER_OK) {
        result = files_sync(name);
        result = result == LEDGER_OK ? files_name(path, PART_SUFFIX) : result;
        if (result != LEDGER_OK) {
            (void)faults_say(result, path, "", ledger->says);
        }
    }
    return result;
}

static bool is_link(const char *path)
{
    struct stat there;
    return lstat(path, &there) == 0 && S_ISLNK(there.st_mode);
}

enum ledger_result ledger_backup(struct ledger *ledger, const char *to_path)
{
    char path[STORE_PATH_OCTETS];
    enum ledger_result result = files_resolve(to_path, path, sizeof path);
    if (result != LEDGER_OK) {
        return faults_say(result, to_path, "", ledger->says);
    }
    result = may_take(ledger, path);
    if (result == LEDGER_OK && is_link(to_path)) {
        result = faults_say(LEDGER_FOREIGN, to_path, "a link", ledger->says);
    }
    if (result != LEDGER_OK) {
        return result;
    }
    files_remove_beside(path, PART_SUFFIX); /* of a backup that was cut short */
    mode_t mask = umask(0027);
    result = make_copy(ledger, path);
    (void)umask(mask);
    if (result != LEDGER_OK) {
        files_remove_beside(path, PART_SUFFIX);
    }
    return result;
}
