/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * port_shim.c - makes a pseudo-terminal look like a serial port of a USB adapter. Linked into a
 * test program, or loaded with LD_PRELOAD into the program itself; glibc on Linux only.
 *
 * PORT_SHIM_ROOT names a folder. What it holds under sys/class/tty takes the place of
 * /sys/class/tty, and its dev/ttyNAME, a link to a pseudo-terminal, that of /dev/ttyNAME. Without
 * the variable nothing is changed. fake_port.h and fake_port.py make such a folder.
 *
 * libserialport asks the system by ioctl, open, fopen, opendir, readlink and lstat (and by the old
 * or checked names of these that Debian's library was linked with); the rest is for the program's
 * own questions. Pseudo-terminals have no modem lines: those are answered here.
 */
#undef _FILE_OFFSET_BITS /* open and open64 are both served, each under its own name */
#ifndef _GNU_SOURCE
#define _GNU_SOURCE
#endif
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <termios.h>
#include <unistd.h>

#pragma GCC diagnostic ignored "-Wmissing-prototypes"

enum { PATH_SIZE = 4096 };
typedef char place[PATH_SIZE];

/* The next definition of a function, behind this one. */
#define NEXT(type, name) ((type)next_of(name))

static void *next_of(const char *name)
{
    void *function = dlsym(RTLD_NEXT, name);
    if (!function)
        abort();
    return function;
}

static bool starts_with(const char *text, const char *start)
{
    return strncmp(text, start, strlen(start)) == 0;
}

/* Where path really lies. */
static const char *serve(const char *path, place buffer)
{
    const char *root = getenv("PORT_SHIM_ROOT");
    bool device = starts_with(path, "/dev/tty");
    if (!root || !(device || starts_with(path, "/sys/class/tty")))
        return path;
    snprintf(buffer, sizeof(place), "%s%s", root, path);
    /* A terminal that is not played, such as /dev/tty, is the system's. */
    return device && faccessat(AT_FDCWD, buffer, F_OK, AT_SYMLINK_NOFOLLOW) != 0 ? path : buffer;
}

int ioctl(int descriptor, unsigned long request, ...)
{
    static int (*next)(int, unsigned long, void *);
    va_list arguments;
    va_start(arguments, request);
    void *argument = va_arg(arguments, void *);
    va_end(arguments);
    if (!next)
        next = NEXT(int (*)(int, unsigned long, void *), "ioctl");
    int result = next(descriptor, request, argument);
    bool modem =
        request == TIOCMGET || request == TIOCMSET || request == TIOCMBIS || request == TIOCMBIC;
    if (result == 0 || errno != ENOTTY || !modem || !getenv("PORT_SHIM_ROOT"))
        return result;
    if (request == TIOCMGET)
        *(int *)argument = TIOCM_DTR | TIOCM_RTS | TIOCM_CTS | TIOCM_DSR;
    return 0;
}

/* PORT_SHIM_BAUD: an adapter that has this one rate, whatever is asked for. */
int tcgetattr(int descriptor, struct termios *settings)
{
    int result = NEXT(int (*)(int, struct termios *), "tcgetattr")(descriptor, settings);
    if (getenv("PORT_SHIM_BAUD"))
        cfsetspeed(settings, (speed_t)atoi(getenv("PORT_SHIM_BAUD")));
    return result;
}

#define OPEN(name)                                                                                 \
    int name(const char *path, int flags, ...)                                                     \
    {                                                                                              \
        place buffer;                                                                              \
        va_list arguments;                                                                         \
        va_start(arguments, flags);                                                                \
        unsigned mode = flags & (O_CREAT | __O_TMPFILE) ? va_arg(arguments, unsigned) : 0;         \
        va_end(arguments);                                                                         \
        return NEXT(int (*)(const char *, int, ...), #name)(serve(path, buffer), flags, mode);     \
    }
OPEN(open)
OPEN(open64)

int __open_2(const char *path, int flags)
{
    place buffer;
    return NEXT(int (*)(const char *, int), "__open_2")(serve(path, buffer), flags);
}

#define FOPEN(name)                                                                                \
    FILE *name(const char *path, const char *mode)                                                 \
    {                                                                                              \
        place buffer;                                                                              \
        return NEXT(FILE * (*)(const char *, const char *), #name)(serve(path, buffer), mode);     \
    }
FOPEN(fopen)
FOPEN(fopen64)

DIR *opendir(const char *path)
{
    place buffer;
    return NEXT(DIR * (*)(const char *), "opendir")(serve(path, buffer));
}

ssize_t readlink(const char *path, char *target, size_t size)
{
    place buffer;
    return NEXT(ssize_t(*)(const char *, char *, size_t), "readlink")(serve(path, buffer), target,
                                                                      size);
}

#define STAT(name, info_type)                                                                      \
    int name(const char *path, info_type *info)                                                    \
    {                                                                                              \
        place buffer;                                                                              \
        return NEXT(int (*)(const char *, info_type *), #name)(serve(path, buffer), info);         \
    }
STAT(stat, struct stat)
STAT(stat64, struct stat64)
STAT(lstat, struct stat)
STAT(lstat64, struct stat64)

int __lxstat(int version, const char *path, struct stat *info)
{
    place buffer;
    return NEXT(int (*)(int, const char *, struct stat *), "__lxstat")(version, serve(path, buffer),
                                                                       info);
}

int faccessat(int folder, const char *path, int mode, int flags)
{
    place buffer;
    const char *served = flags & AT_SYMLINK_NOFOLLOW ? path : serve(path, buffer);
    return NEXT(int (*)(int, const char *, int, int), "faccessat")(folder, served, mode, flags);
}

/* A played device is no link, and a link to one leads there and no further. */
char *realpath(const char *path, char *resolved)
{
    place buffer, target;
    ssize_t length = readlink(path, target, sizeof target - 1);
    if (length > 0 && !starts_with(path, "/dev/tty")) {
        target[length] = '\0';
        path = starts_with(target, "/dev/tty") ? target : path;
    }
    if (!resolved && serve(path, buffer) == buffer)
        return strdup(path);
    return NEXT(char *(*)(const char *, char *), "realpath")(path, resolved);
}
