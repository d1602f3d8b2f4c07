/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * fake_port.c - serial ports of USB adapters, played by pseudo-terminals.
 *
 * The folders are as Linux has them for a USB adapter:
 *   sys/class/tty/ttyUSB0 -> ../../devices/pci0000:00/usb1/1-2/1-2:1.0/ttyUSB0/tty/ttyUSB0
 *   .../1-2:1.0/ttyUSB0/tty/ttyUSB0/device -> ../../../ttyUSB0
 *   .../1-2/{busnum,devnum,idVendor,idProduct,product,serial}
 */
#define _GNU_SOURCE /* nftw, posix_openpt, cfmakeraw */
#include "fake_port.h"

#include "check.h"

#include <errno.h>
#include <fcntl.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <termios.h>
#include <unistd.h>

typedef char path_text[512];

static const char devices[] = "sys/devices/pci0000:00/usb1";

__attribute__((format(printf, 2, 3))) static void print_path(path_text out, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(out, sizeof(path_text), format, arguments);
    va_end(arguments);
    assert_in_range(length, 0, sizeof(path_text) - 1);
}

static int remove_entry(const char *path, const struct stat *info, int kind, struct FTW *where)
{
    (void)info, (void)kind, (void)where;
    return remove(path);
}

static void remove_tree(const char *path)
{
    nftw(path, remove_entry, 8, FTW_DEPTH | FTW_PHYS);
}

/* path and the folders on the way to it. */
static void make_folder(char *path)
{
    for (char *slash = path + 1; (slash = strchr(slash, '/')); slash++) {
        *slash = '\0';
        mkdir(path, 0755);
        *slash = '/';
    }
    assert_true(mkdir(path, 0755) == 0 || errno == EEXIST);
}

void fake_bench_open(fake_bench *bench)
{
    snprintf(bench->root, sizeof bench->root, "/tmp/fake-port-XXXXXX");
    assert_non_null(mkdtemp(bench->root));
    chmod(bench->root, 0755); /* another user looks in, too */
    static const char *const folders[] = {"sys/class/tty", "dev"};
    for (size_t i = 0; i < 2; i++) {
        path_text path;
        print_path(path, "%s/%s", bench->root, folders[i]);
        make_folder(path);
    }
    setenv("PORT_SHIM_ROOT", bench->root, 1);
}

void fake_bench_close(fake_bench *bench)
{
    unsetenv("PORT_SHIM_ROOT");
    remove_tree(bench->root);
}

static void write_attribute(const char *folder, const char *name, const char *text)
{
    path_text path;
    print_path(path, "%s/%s", folder, name);
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fprintf(file, "%s\n", text);
    assert_int_equal(fclose(file), 0);
}

static void device_folder(const fake_bench *bench, const fake_adapter *adapter, path_text path)
{
    print_path(path, "%s/%s/%s", bench->root, devices, adapter->socket);
}

static void describe(const fake_bench *bench, const fake_adapter *adapter)
{
    path_text folder;
    char number[8];
    device_folder(bench, adapter, folder);
    write_attribute(folder, "busnum", "1");
    write_attribute(folder, "devnum", "7");
    snprintf(number, sizeof number, "%04x", (unsigned)adapter->vendor & 0xFFFF);
    write_attribute(folder, "idVendor", number);
    snprintf(number, sizeof number, "%04x", (unsigned)adapter->product & 0xFFFF);
    write_attribute(folder, "idProduct", number);
    if (adapter->words)
        write_attribute(folder, "product", adapter->words);
    if (adapter->serial)
        write_attribute(folder, "serial", adapter->serial);
}

static void list(const fake_bench *bench, const fake_adapter *adapter)
{
    path_text way, path, target;
    const char *name = adapter->name;
    print_path(way, "%s/%s:1.%d/%s/tty/%s", adapter->socket, adapter->socket, adapter->interface,
               name, name);
    print_path(path, "%s/%s/%s", bench->root, devices, way);
    make_folder(path);
    strncat(path, "/device", sizeof path - strlen(path) - 1);
    print_path(target, "../../../%s", name);
    assert_int_equal(symlink(target, path), 0);
    print_path(path, "%s/sys/class/tty/%s", bench->root, name);
    print_path(target, "../../%s/%s", devices + strlen("sys/"), way);
    assert_int_equal(symlink(target, path), 0);
}

/* Raw from the start: what is written before the program opens the port would be echoed else. */
static int open_line(const fake_bench *bench, const fake_adapter *adapter)
{
    int line = posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
    assert_true(line >= 0);
    assert_int_equal(grantpt(line), 0);
    assert_int_equal(unlockpt(line), 0);
    char terminal[64];
    assert_int_equal(ptsname_r(line, terminal, sizeof terminal), 0);
    int other = open(terminal, O_RDWR | O_NOCTTY | O_CLOEXEC);
    struct termios settings;
    assert_int_equal(tcgetattr(other, &settings), 0);
    cfmakeraw(&settings);
    assert_int_equal(tcsetattr(other, TCSANOW, &settings), 0);
    close(other);
    path_text path;
    print_path(path, "%s/dev/%s", bench->root, adapter->name);
    assert_int_equal(symlink(terminal, path), 0);
    return line;
}

int fake_port_plug(const fake_bench *bench, const fake_adapter *adapter)
{
    int line = open_line(bench, adapter);
    list(bench, adapter);
    describe(bench, adapter);
    return line;
}

void fake_port_pull(const fake_bench *bench, const fake_adapter *adapter, int line)
{
    path_text path;
    close(line);
    print_path(path, "%s/sys/class/tty/%s", bench->root, adapter->name);
    unlink(path);
    print_path(path, "%s/dev/%s", bench->root, adapter->name);
    unlink(path);
    device_folder(bench, adapter, path);
    remove_tree(path);
}

void fake_port_forget_ids(const fake_bench *bench, const fake_adapter *adapter)
{
    static const char *const names[] = {"busnum",    "devnum",  "idVendor",
                                        "idProduct", "product", "serial"};
    path_text folder, path;
    device_folder(bench, adapter, folder);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        print_path(path, "%s/%s", folder, names[i]);
        unlink(path);
    }
}

void fake_port_terminal(const fake_bench *bench, const fake_adapter *adapter, char *path,
                        size_t size)
{
    path_text link;
    snprintf(link, sizeof link, "%s/dev/%s", bench->root, adapter->name);
    ssize_t length = readlink(link, path, size - 1);
    assert_true(length > 0);
    path[length] = '\0';
}
