/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_atomic_file.c - a file is replaced or made in one step, or stays as it was.
 */
#include "check.h"

#include "record/atomic_file.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct folder {
    char path[64];
    char file[96];
} folder;

static int make_folder(void **state)
{
    static folder made;
    snprintf(made.path, sizeof made.path, "/tmp/atomic_file.XXXXXX");
    if (!mkdtemp(made.path))
        return -1;
    snprintf(made.file, sizeof made.file, "%s/corner.svg", made.path);
    *state = &made;
    return 0;
}

static int remove_folder(void **state)
{
    folder *made = *state;
    unlink(made->file);
    return rmdir(made->path); /* fails where a temporary file was left */
}

static size_t count_files(const char *path)
{
    size_t count = 0;
    DIR *directory = opendir(path);
    assert_non_null(directory);
    for (const struct dirent *entry; (entry = readdir(directory));)
        count += entry->d_name[0] != '.' || strlen(entry->d_name) > 2;
    closedir(directory);
    return count;
}

static void check_file(const char *path, const char *expected)
{
    char text[100];
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    text[fread(text, 1, sizeof text - 1, file)] = '\0';
    fclose(file);
    assert_string_equal(text, expected);
}

static void write_whole(const char *path, const char *text)
{
    tu_atomic_file *file;
    tu_error error = {0};
    check_status(tu_atomic_open(path, &file, &error), TU_OK, &error);
    check_status(tu_atomic_write(file, text, strlen(text), &error), TU_OK, &error);
    check_status(tu_atomic_commit(file, &error), TU_OK, &error);
}

/* The name appears with the commit, not before. */
static void a_new_file_appears_complete(void **state)
{
    folder *f = *state;
    tu_atomic_file *file;
    FILE *stream;
    tu_error error = {0};
    check_status(tu_atomic_open(f->file, &file, &error), TU_OK, &error);
    check_status(tu_atomic_stream(file, &stream, &error), TU_OK, &error);
    fputs("<svg>", stream);
    fflush(stream);
    assert_int_not_equal(access(f->file, F_OK), 0);
    fputs("</svg>\n", stream);
    check_status(tu_atomic_commit(file, &error), TU_OK, &error);
    check_file(f->file, "<svg></svg>\n");
    assert_int_equal(count_files(f->path), 1);
}

/* As any program's new file: 0666 less the umask. */
static void a_new_file_has_the_usual_permissions(void **state)
{
    folder *f = *state;
    struct stat info;
    mode_t before = umask(027);
    write_whole(f->file, "x");
    umask(before);
    assert_int_equal(stat(f->file, &info), 0);
    assert_int_equal(info.st_mode & 07777, 0640);
}

static void a_file_that_was_there_keeps_its_permissions(void **state)
{
    folder *f = *state;
    struct stat info;
    write_whole(f->file, "old, and longer");
    assert_int_equal(chmod(f->file, 0600), 0);
    write_whole(f->file, "new");
    check_file(f->file, "new");
    assert_int_equal(stat(f->file, &info), 0);
    assert_int_equal(info.st_mode & 07777, 0600);
}

static void giving_up_leaves_the_old_text(void **state)
{
    folder *f = *state;
    tu_atomic_file *file;
    write_whole(f->file, "old");
    check_status(tu_atomic_open(f->file, &file, NULL), TU_OK, NULL);
    check_status(tu_atomic_write(file, "new", 3, NULL), TU_OK, NULL);
    assert_int_equal(count_files(f->path), 2);
    tu_atomic_abort(file);
    tu_atomic_abort(NULL);
    check_file(f->file, "old");
    assert_int_equal(count_files(f->path), 1);
}

static void a_temporary_name_that_is_taken_is_passed_over(void **state)
{
    folder *f = *state;
    tu_atomic_file *first;
    check_status(tu_atomic_open(f->file, &first, NULL), TU_OK, NULL);
    write_whole(f->file, "second");
    check_status(tu_atomic_write(first, "first", 5, NULL), TU_OK, NULL);
    check_status(tu_atomic_commit(first, NULL), TU_OK, NULL);
    check_file(f->file, "first");
}

static void what_is_no_regular_file_is_refused(void **state)
{
    folder *f = *state;
    tu_atomic_file *file;
    tu_error error = {0};
    check_status(tu_atomic_open("/dev/null", &file, &error), TU_SYSTEM_IO, &error);
    check_contains(error.message, "not a regular file");
    assert_null(file);
    check_status(tu_atomic_open(f->path, &file, &error), TU_SYSTEM_IO, &error);
    check_contains(error.message, "not a regular file");
    check_status(tu_atomic_open("-", &file, &error), TU_USAGE, &error);
    check_status(tu_atomic_open("/nowhere/corner.svg", &file, &error), TU_SYSTEM_IO, &error);
    assert_string_equal(error.where, "/nowhere/corner.svg");
    assert_null(file);
    assert_int_equal(symlink("gone.svg", f->file), 0);
    check_status(tu_atomic_open(f->file, &file, &error), TU_SYSTEM_IO, &error);
    check_contains(error.message, "can't follow this link");
}

static tu_atomic_file *write_undoable(const char *path, const char *text)
{
    tu_atomic_file *file;
    tu_error error = {0};
    check_status(tu_atomic_open(path, &file, &error), TU_OK, &error);
    check_status(tu_atomic_write(file, text, strlen(text), &error), TU_OK, &error);
    check_status(tu_atomic_commit_undoable(file, &error), TU_OK, &error);
    check_file(path, text);
    return file;
}

static void an_undone_file_is_as_before(void **state)
{
    const folder *made = *state;
    tu_atomic_undo(write_undoable(made->file, "first"));
    assert_int_equal(count_files(made->path), 0);
    write_whole(made->file, "old");
    tu_atomic_undo(write_undoable(made->file, "new"));
    check_file(made->file, "old");
    assert_int_equal(count_files(made->path), 1);
    tu_atomic_undo(NULL);
}

static void a_kept_file_leaves_nothing_of_the_old_one(void **state)
{
    const folder *made = *state;
    write_whole(made->file, "old");
    tu_atomic_keep(write_undoable(made->file, "new"));
    check_file(made->file, "new");
    assert_int_equal(count_files(made->path), 1);
    tu_atomic_keep(NULL);
}

/* The first one's temporary name is free again when the second is written: the names under which
 * the old texts wait must differ all the same. In both orders, since an answer that is lost undoes
 * them in either. */
static void two_files_of_one_run_both_come_back(void **state)
{
    const folder *made = *state;
    char map[120];
    snprintf(map, sizeof map, "%s/map.svg", made->path);
    for (int first_undone = 0; first_undone < 2; first_undone++) {
        write_whole(made->file, "old program");
        write_whole(map, "old map");
        tu_atomic_file *file[2] = {write_undoable(made->file, "new program"),
                                   write_undoable(map, "new map")};
        tu_atomic_undo(file[first_undone]);
        tu_atomic_undo(file[!first_undone]);
        check_file(made->file, "old program");
        check_file(map, "old map");
        assert_int_equal(count_files(made->path), 2);
    }
    unlink(map);
}

#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, make_folder, remove_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        IN_FOLDER(a_new_file_appears_complete),
        IN_FOLDER(a_new_file_has_the_usual_permissions),
        IN_FOLDER(a_file_that_was_there_keeps_its_permissions),
        IN_FOLDER(giving_up_leaves_the_old_text),
        IN_FOLDER(a_temporary_name_that_is_taken_is_passed_over),
        IN_FOLDER(what_is_no_regular_file_is_refused),
        IN_FOLDER(an_undone_file_is_as_before),
        IN_FOLDER(a_kept_file_leaves_nothing_of_the_old_one),
        IN_FOLDER(two_files_of_one_run_both_come_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
