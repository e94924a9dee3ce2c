/* SPDX-License-Identifier: MIT
 * holder: see the header. */
#include "daemon/modem/holder.h"

#include <dirent.h>
#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static bool has_open(long pid, const char *real_path)
{
    char path[PATH_MAX], target[PATH_MAX];
    snprintf(path, sizeof path, "/proc/%ld/fd", pid);
    DIR *folder = opendir(path);
    if (folder == NULL) {
        return false;
    }
    bool found = false;
    for (struct dirent *entry = readdir(folder); entry != NULL && !found; entry = readdir(folder)) {
        ssize_t length = readlinkat(dirfd(folder), entry->d_name, target, sizeof target - 1);
        if (length > 0) {
            target[length] = '\0';
            found = strcmp(target, real_path) == 0;
        }
    }
    closedir(folder);
    return found;
}

static void read_name(long pid, char *name, size_t size)
{
    char path[64];
    snprintf(path, sizeof path, "/proc/%ld/comm", pid);
    snprintf(name, size, "?");
    FILE *file = fopen(path, "re");
    if (file == NULL) {
        return;
    }
    if (fgets(name, (int)size, file) == NULL) {
        snprintf(name, size, "?");
    }
    fclose(file);
    name[strcspn(name, "\n")] = '\0';
}

bool holder_find(const char *real_path, struct holder *holder)
{
    DIR *processes = opendir("/proc");
    if (processes == NULL) {
        return false;
    }
    bool found = false;
    for (struct dirent *entry = readdir(processes); entry != NULL && !found;
         entry = readdir(processes)) {
        char *end = NULL;
        long pid = strtol(entry->d_name, &end, 10);
        if (pid <= 0 || *end != '\0' || pid == (long)getpid() || !has_open(pid, real_path)) {
            continue;
        }
        holder->pid = (pid_t)pid;
        read_name(pid, holder->name, sizeof holder->name);
        found = true;
    }
    closedir(processes);
    return found;
}
