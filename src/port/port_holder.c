/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_holder.c - which other process has a device open.
 *
 * Sources: proc(5), /proc/PID/fd and /proc/locks.
 */
#include "port/port_holder.h"

#include "base/utf8.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <unistd.h>

enum { PATH_SIZE = 400 };

/* The process's open files are looked at by their names first: a stat of one that lies on a dead
 * network share would hang. */
static bool leads_to(const char *path, const struct stat *device)
{
    char target[PATH_SIZE];
    ssize_t length = readlink(path, target, sizeof target - 1);
    struct stat info;
    return length > 5 && strncmp(target, "/dev/", 5) == 0 && stat(path, &info) == 0 &&
           S_ISCHR(info.st_mode) && info.st_rdev == device->st_rdev;
}

static bool process_has_open(long process, const struct stat *device)
{
    char path[PATH_SIZE];
    snprintf(path, sizeof path, "/proc/%ld/fd", process);
    DIR *folder = opendir(path);
    if (!folder)
        return false;
    bool found = false;
    for (const struct dirent *entry; !found && (entry = readdir(folder));) {
        snprintf(path, sizeof path, "/proc/%ld/fd/%s", process, entry->d_name);
        found = entry->d_name[0] != '.' && leads_to(path, device);
    }
    closedir(folder);
    return found;
}

static long find_in_open_files(const struct stat *device)
{
    DIR *folder = opendir("/proc");
    if (!folder)
        return 0;
    long found = 0;
    for (const struct dirent *entry; !found && (entry = readdir(folder));) {
        long process = strtol(entry->d_name, NULL, 10);
        if (process > 0 && process != getpid() && process_has_open(process, device))
            found = process;
    }
    closedir(folder);
    return found;
}

/* Every user may read /proc/locks, and so finds another user's logger. */
static long find_in_locks(const struct stat *device)
{
    FILE *file = fopen("/proc/locks", "re");
    if (!file)
        return 0;
    long found = 0;
    for (char line[PATH_SIZE]; !found && fgets(line, sizeof line, file);) {
        long process;
        unsigned major_number, minor_number;
        unsigned long inode;
        if (sscanf(line, "%*d: %*s %*s %*s %ld %x:%x:%lu", &process, &major_number, &minor_number,
                   &inode) == 4 &&
            process > 0 && process != getpid() && inode == device->st_ino &&
            major_number == major(device->st_dev) && minor_number == minor(device->st_dev))
            found = process;
    }
    fclose(file);
    return found;
}

static void read_name(tu_port_holder *holder)
{
    char path[PATH_SIZE];
    snprintf(path, sizeof path, "/proc/%ld/comm", holder->process);
    FILE *file = fopen(path, "re");
    if (!file)
        return;
    if (fgets(holder->name, sizeof holder->name, file)) {
        holder->name[strcspn(holder->name, "\n")] = '\0';
        tu_utf8_tidy(holder->name);
    }
    fclose(file);
}

bool tu_port_holder_find(const char *device, tu_port_holder *holder)
{
    *holder = (tu_port_holder){0};
    struct stat info;
    if (stat(device, &info) != 0 || !S_ISCHR(info.st_mode))
        return false;
    holder->process = find_in_locks(&info);
    if (!holder->process)
        holder->process = find_in_open_files(&info);
    if (holder->process)
        read_name(holder);
    return holder->process != 0;
}
