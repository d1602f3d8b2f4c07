/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * bench.c - runs two commands in turn, many times, and prints what each run took.
 *
 *     bench ROUNDS COMMAND_A... -- COMMAND_B...
 *
 * A line a run: A or B, wall seconds, processor seconds, peak memory in KiB. What the commands
 * print is thrown away. In C because a child's peak memory counts what its parent held when it
 * forked, and an interpreter holds more than the commands that are measured.
 */
#include <fcntl.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>

extern char **environ;

static double now_s(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static double seconds(struct timeval t)
{
    return (double)t.tv_sec + (double)t.tv_usec * 1e-6;
}

/* Returns 0, or 1 when the command could not be run or failed. */
static int run_once(char name, char **command, const posix_spawn_file_actions_t *actions)
{
    pid_t pid;
    int status;
    struct rusage usage;
    double start_s = now_s();
    if (posix_spawnp(&pid, command[0], actions, NULL, command, environ) != 0 ||
        wait4(pid, &status, 0, &usage) != pid || status != 0) {
        fprintf(stderr, "bench: %s failed\n", command[0]);
        return 1;
    }
    printf("%c %.6f %.6f %ld\n", name, now_s() - start_s,
           seconds(usage.ru_utime) + seconds(usage.ru_stime), usage.ru_maxrss);
    return 0;
}

int main(int argc, char **argv)
{
    char **second = NULL;
    for (int i = 2; i < argc && second == NULL; i++) {
        if (strcmp(argv[i], "--") == 0) {
            argv[i] = NULL;
            second = argv + i + 1;
        }
    }
    long rounds = argc > 1 ? strtol(argv[1], NULL, 10) : 0;
    if (rounds <= 0 || second == NULL || argv[2] == NULL || second[0] == NULL) {
        fprintf(stderr, "usage: bench ROUNDS COMMAND_A... -- COMMAND_B...\n");
        return 2;
    }
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 1, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&actions, 2, "/dev/null", O_WRONLY, 0);
    int failed = 0;
    for (long i = 0; i < rounds && !failed; i++)
        failed = run_once('A', argv + 2, &actions) || run_once('B', second, &actions);
    posix_spawn_file_actions_destroy(&actions);
    return failed;
}
