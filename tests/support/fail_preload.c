/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fail_preload.c - makes one call of a chosen class fail, in a program that knows nothing of it.
 * Loaded with LD_PRELOAD; tests/support/README.md is its manual. Prints nothing. glibc only.
 *
 * Memory is taken from glibc's own entry points, because dlsym itself allocates. Functions of stdio
 * are wrapped too: the write inside the C library does not pass through here.
 */
#undef _FILE_OFFSET_BITS /* open and open64 are both wrapped, each under its own name */
#ifndef _GNU_SOURCE
#define _GNU_SOURCE
#endif
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/syscall.h>
#include <unistd.h>

enum { STREAM_ERROR_FLAG = 0x20, SHORT = -1 }; /* glibc's _IO_ERR_SEEN, which ferror looks at */

static struct {
    const char *class; /* NULL: nothing fails */
    long at, count;
    bool onwards;
    int how; /* an errno, or SHORT */
    const char *mark;
} plan;

extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *block, size_t size);

static int errno_of(const char *name)
{
    static const struct {
        const char *name;
        int value;
    } known[] = {{"ENOMEM", ENOMEM}, {"ENOSPC", ENOSPC}, {"EIO", EIO},
                 {"EINTR", EINTR},   {"EACCES", EACCES}, {"EMFILE", EMFILE},
                 {"EDQUOT", EDQUOT}, {"EROFS", EROFS},   {"SHORT", SHORT}};
    for (size_t i = 0; name && i < sizeof known / sizeof known[0]; i++)
        if (!strcmp(name, known[i].name))
            return known[i].value;
    return EIO;
}

__attribute__((constructor)) static void read_plan(void)
{
    const char *at = getenv("FAIL_AT");
    const char *mode = getenv("FAIL_MODE");
    plan.at = at ? atol(at) : 0;
    plan.onwards = mode && !strcmp(mode, "onwards");
    plan.how = errno_of(getenv("FAIL_HOW"));
    plan.mark = getenv("FAIL_MARK");
    if (plan.at > 0)
        plan.class = getenv("FAIL_CALL");
}

/* Counts a call of the class; true when it is to fail. The mark file tells the test that it did. */
static bool is_due(const char *class)
{
    if (!plan.class || strcmp(plan.class, class) != 0)
        return false;
    plan.count++;
    if (plan.count != plan.at && !(plan.onwards && plan.count > plan.at))
        return false;
    if (plan.mark) {
        long fd = syscall(SYS_openat, AT_FDCWD, plan.mark, O_CREAT | O_WRONLY, 0600);
        if (fd >= 0)
            syscall(SYS_close, fd);
    }
    errno = plan.how == SHORT ? EIO : plan.how;
    return true;
}

static bool stream_is_due(const char *class, FILE *stream)
{
    bool due = is_due(class);
    if (due)
        stream->_flags |= STREAM_ERROR_FLAG;
    return due;
}

/* The function that the program would have reached; POSIX lets a data pointer carry it. */
#define REAL(type, name, ...)                                                                      \
    static type (*real)(__VA_ARGS__);                                                              \
    if (!real)                                                                                     \
    *(void **)&real = dlsym(RTLD_NEXT, name)

/* --- memory --- */

void *malloc(size_t size)
{
    return is_due("memory") ? NULL : __libc_malloc(size);
}

void *calloc(size_t count, size_t size)
{
    return is_due("memory") ? NULL : __libc_calloc(count, size);
}

void *realloc(void *block, size_t size)
{
    return is_due("memory") ? NULL : __libc_realloc(block, size);
}

/* --- write --- */

ssize_t write(int fd, const void *bytes, size_t length)
{
    if (!is_due("write"))
        return syscall(SYS_write, fd, bytes, length);
    if (plan.how == SHORT)
        return syscall(SYS_write, fd, bytes, length > 1 ? length / 2 : length);
    return -1;
}

size_t fwrite(const void *bytes, size_t size, size_t count, FILE *stream)
{
    REAL(size_t, "fwrite", const void *, size_t, size_t, FILE *);
    return stream_is_due("write", stream) ? 0 : real(bytes, size, count, stream);
}

int fputs(const char *text, FILE *stream)
{
    REAL(int, "fputs", const char *, FILE *);
    return stream_is_due("write", stream) ? EOF : real(text, stream);
}

int puts(const char *text)
{
    REAL(int, "puts", const char *);
    return stream_is_due("write", stdout) ? EOF : real(text);
}

int fputc(int c, FILE *stream)
{
    REAL(int, "fputc", int, FILE *);
    return stream_is_due("write", stream) ? EOF : real(c, stream);
}

#undef putc
int putc(int c, FILE *stream)
{
    return fputc(c, stream);
}

#undef putchar
int putchar(int c)
{
    return fputc(c, stdout);
}

int vfprintf(FILE *stream, const char *format, va_list arguments)
{
    REAL(int, "vfprintf", FILE *, const char *, va_list);
    return stream_is_due("write", stream) ? -1 : real(stream, format, arguments);
}

/* The compiler's checked variants, __fprintf_chk and so on, carry a flag before the format. */
#define FORWARD(stream)                                                                            \
    va_list arguments;                                                                             \
    va_start(arguments, format);                                                                   \
    int result = vfprintf(stream, format, arguments);                                              \
    va_end(arguments);                                                                             \
    return result

int fprintf(FILE *stream, const char *format, ...)
{
    FORWARD(stream);
}

int printf(const char *format, ...)
{
    FORWARD(stdout);
}

__attribute__((format(printf, 3, 4))) int __fprintf_chk(FILE *stream, int flag, const char *format,
                                                        ...);
int __fprintf_chk(FILE *stream, int flag, const char *format, ...)
{
    (void)flag;
    FORWARD(stream);
}

__attribute__((format(printf, 2, 3))) int __printf_chk(int flag, const char *format, ...);
int __printf_chk(int flag, const char *format, ...)
{
    (void)flag;
    FORWARD(stdout);
}

__attribute__((format(printf, 3, 0))) int __vfprintf_chk(FILE *stream, int flag, const char *format,
                                                         va_list arguments);
int __vfprintf_chk(FILE *stream, int flag, const char *format, va_list arguments)
{
    (void)flag;
    return vfprintf(stream, format, arguments);
}

int fflush(FILE *stream)
{
    REAL(int, "fflush", FILE *);
    bool due = stream ? stream_is_due("write", stream) : is_due("write");
    return due ? EOF : real(stream);
}

/* --- read --- */

ssize_t read(int fd, void *bytes, size_t length)
{
    if (!is_due("read"))
        return syscall(SYS_read, fd, bytes, length);
    if (plan.how == SHORT)
        return syscall(SYS_read, fd, bytes, length > 1 ? length / 2 : length);
    return -1;
}

size_t fread(void *bytes, size_t size, size_t count, FILE *stream)
{
    REAL(size_t, "fread", void *, size_t, size_t, FILE *);
    return stream_is_due("read", stream) ? 0 : real(bytes, size, count, stream);
}

char *fgets(char *text, int size, FILE *stream)
{
    REAL(char *, "fgets", char *, int, FILE *);
    return stream_is_due("read", stream) ? NULL : real(text, size, stream);
}

int fgetc(FILE *stream)
{
    REAL(int, "fgetc", FILE *);
    return stream_is_due("read", stream) ? EOF : real(stream);
}

#undef getc
int getc(FILE *stream)
{
    return fgetc(stream);
}

ssize_t getline(char **line, size_t *size, FILE *stream)
{
    REAL(ssize_t, "getline", char **, size_t *, FILE *);
    return stream_is_due("read", stream) ? -1 : real(line, size, stream);
}

/* --- sync, rename --- */

int fsync(int fd)
{
    return is_due("sync") ? -1 : (int)syscall(SYS_fsync, fd);
}

int fdatasync(int fd)
{
    return is_due("sync") ? -1 : (int)syscall(SYS_fdatasync, fd);
}

int rename(const char *from, const char *to)
{
    return is_due("rename") ? -1 : (int)syscall(SYS_renameat2, AT_FDCWD, from, AT_FDCWD, to, 0);
}

int renameat(int from_folder, const char *from, int to_folder, const char *to)
{
    return is_due("rename") ? -1 : (int)syscall(SYS_renameat2, from_folder, from, to_folder, to, 0);
}

/* --- open, close --- */

/* The mode is there only when the flags ask for it. */
#define OPEN_MODE(flags)                                                                           \
    mode_t mode = 0;                                                                               \
    if ((flags) & (O_CREAT | __O_TMPFILE)) {                                                       \
        va_list arguments;                                                                         \
        va_start(arguments, flags);                                                                \
        mode = va_arg(arguments, mode_t);                                                          \
        va_end(arguments);                                                                         \
    }

int open(const char *path, int flags, ...)
{
    OPEN_MODE(flags)
    return is_due("open") ? -1 : (int)syscall(SYS_openat, AT_FDCWD, path, flags, mode);
}

int open64(const char *path, int flags, ...)
{
    OPEN_MODE(flags)
    return is_due("open") ? -1 : (int)syscall(SYS_openat, AT_FDCWD, path, flags, mode);
}

int openat(int folder, const char *path, int flags, ...)
{
    OPEN_MODE(flags)
    return is_due("open") ? -1 : (int)syscall(SYS_openat, folder, path, flags, mode);
}

FILE *fopen(const char *path, const char *mode)
{
    REAL(FILE *, "fopen", const char *, const char *);
    return is_due("open") ? NULL : real(path, mode);
}

FILE *fopen64(const char *path, const char *mode)
{
    REAL(FILE *, "fopen64", const char *, const char *);
    return is_due("open") ? NULL : real(path, mode);
}

FILE *fdopen(int fd, const char *mode)
{
    REAL(FILE *, "fdopen", int, const char *);
    return is_due("open") ? NULL : real(fd, mode);
}

/* As on Linux, the descriptor is gone also when close fails. */
int close(int fd)
{
    bool due = is_due("close");
    int reason = errno;
    int result = (int)syscall(SYS_close, fd);
    if (!due)
        return result;
    errno = reason;
    return -1;
}

int fclose(FILE *stream)
{
    REAL(int, "fclose", FILE *);
    bool due = is_due("close");
    int reason = errno;
    int result = real(stream);
    if (!due)
        return result;
    errno = reason;
    return EOF;
}
