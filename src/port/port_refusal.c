/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_refusal.c - why a port can't be opened, and what to do about it.
 */
#include "port/port_refusal.h"

#include "port/port_holder.h"

#include <errno.h>
#include <fcntl.h>
#include <grp.h>
#include <pwd.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { GROUPS_MAX = 256 };

/* Whether the user's account has the group, whether or not this session has it already. */
static bool account_has_group(const struct passwd *user, gid_t group)
{
    gid_t groups[GROUPS_MAX];
    int count = GROUPS_MAX;
    if (getgrouplist(user->pw_name, user->pw_gid, groups, &count) < 0)
        return false;
    for (int i = 0; i < count; i++)
        if (groups[i] == group)
            return true;
    return false;
}

static void explain_permission(const char *device, char *text, size_t size)
{
    struct stat info;
    if (stat(device, &info) != 0) {
        snprintf(text, size, "permission denied");
        return;
    }
    const struct passwd *user = getpwuid(geteuid());
    const struct group *group = getgrgid(info.st_gid);
    bool group_may = (info.st_mode & S_IRGRP) && (info.st_mode & S_IWGRP);
    if (!group_may || !group)
        snprintf(text, size,
                 "permission denied: only its owner may open it (mode %04o); ask whoever looks "
                 "after this computer",
                 (unsigned)(info.st_mode & 07777));
    else if (user && account_has_group(user, info.st_gid))
        snprintf(text, size,
                 "permission denied: your account is in group %s, but this session began before "
                 "it was; log out and in again",
                 group->gr_name);
    else
        snprintf(text, size,
                 "permission denied: it belongs to group %s; join with \"sudo usermod -aG %s %s\", "
                 "then log out and in again",
                 group->gr_name, group->gr_name, user ? user->pw_name : "YOUR-NAME");
}

bool tu_port_refusal_in_use(const char *device, char *text, size_t size)
{
    tu_port_holder holder;
    if (!tu_port_holder_find(device, &holder))
        return false;
    snprintf(text, size, "in use by process %ld%s%s%s; close that program first", holder.process,
             *holder.name ? " (" : "", holder.name, *holder.name ? ")" : "");
    return true;
}

void tu_port_refusal_explain(const char *device, int error_number, char *text, size_t size)
{
    switch (error_number) {
    case EACCES:
        explain_permission(device, text, size);
        return;
    case EBUSY:
    case EWOULDBLOCK:
        if (!tu_port_refusal_in_use(device, text, size))
            snprintf(text, size, "in use by another program; close that one first");
        return;
    case EPERM:
        snprintf(text, size,
                 "the system forbids it: in a container, the device has to be passed in");
        return;
    case ENOENT:
        snprintf(text, size,
                 "its device file is missing: pull the plug and put it in again; in a container, "
                 "the device has to be passed in");
        return;
    case ENODEV:
    case ENXIO:
    case EIO:
        snprintf(text, size, "it does not answer (%s): pull the plug and put it in again",
                 strerror(error_number));
        return;
    default:
        snprintf(text, size, "%s", strerror(error_number));
    }
}

bool tu_port_refusal_foresee(const char *device, char *text, size_t size)
{
    if (faccessat(AT_FDCWD, device, R_OK | W_OK, AT_EACCESS) == 0)
        return tu_port_refusal_in_use(device, text, size);
    tu_port_refusal_explain(device, errno, text, size);
    return true;
}
