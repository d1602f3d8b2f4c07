/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_port_refusal.c - why a port can't be opened: permission, and others that have it.
 */
#include "port/port_refusal.h"
#include "port_trial.h"

#include <errno.h>
#include <fcntl.h>
#include <grp.h>
#include <pwd.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char terminal[64];

/* Plugs in, with these rights on the device. */
static int plug_with_mode(mode_t mode)
{
    int line = fake_port_plug(&bench, &probe_adapter);
    fake_port_terminal(&bench, &probe_adapter, terminal, sizeof terminal);
    assert_int_equal(chmod(terminal, mode), 0);
    return line;
}

static void say_listing(void *context, const tu_port_listing *listing)
{
    (void)context;
    trial_say(listing->can_open ? "can be opened" : listing->why_not);
}

static void say_why(void *context)
{
    (void)context;
    tu_error error = {0};
    tu_port *port;
    char number[16];
    tu_status status = tu_port_open(&(tu_port_request){.where = "/dev/ttyUSB0"}, &port, &error);
    snprintf(number, sizeof number, "%d ", (int)status);
    trial_say(number);
    trial_say(error.message);
    trial_say("|");
    tu_port_list(say_listing, NULL, NULL);
}

static void without_permission_the_group_to_join_is_named(void **state)
{
    (void)state;
    int line = plug_with_mode(0060);
    struct stat info;
    assert_int_equal(stat(terminal, &info), 0);
    const struct group *group = getgrgid(info.st_gid);
    const struct passwd *user = getpwuid(geteuid() ? geteuid() : 65534);
    char expected[200];
    snprintf(expected, sizeof expected,
             "permission denied: it belongs to group %s; join with \"sudo usermod -aG %s %s\"",
             group->gr_name, group->gr_name, user->pw_name);
    const char *said = trial_in_child(say_why, NULL, true);
    assert_memory_equal(said, "40 ", 3);
    const char *listed = strchr(said, '|');
    assert_non_null(listed);
    check_contains(listed, expected);
    assert_memory_equal(said + 3, listed + 1, strlen(listed + 1));
    close(line);
}

static void where_the_group_may_not_either_the_owner_is_told(void **state)
{
    (void)state;
    int line = plug_with_mode(0);
    check_contains(trial_in_child(say_why, NULL, true),
                   "permission denied: only its owner may open it (mode 0000)");
    close(line);
}

/* Root's processes may change the group that a session has; anybody else can't play this. */
static void say_why_as_account_without_its_group(void *context)
{
    const struct passwd *account = context;
    if (setgroups(0, NULL) != 0 || setgid(65534) != 0 || setuid(account->pw_uid) != 0)
        _exit(3);
    say_why(NULL);
}

static void an_account_that_joined_after_the_session_began_is_told_to_log_in_again(void **state)
{
    (void)state;
    struct passwd *account = getpwnam("daemon"); /* Debian's own, with a group of its own */
    if (geteuid() != 0 || !account)
        skip();
    int line = plug_with_mode(0660);
    assert_int_equal(chown(terminal, 0, account->pw_gid), 0);
    check_contains(trial_in_child(say_why_as_account_without_its_group, account, false),
                   "permission denied: your account is in group daemon, but this session began");
    close(line);
}

static void opening_twice_is_refused(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    tu_port *port = trial_open("/dev/ttyUSB0");
    check_contains(trial_refused("/dev/ttyUSB0", TU_SYSTEM_IO), "in use by");
    check_contains(trial_refused("1d50:0001", TU_SYSTEM_IO), "in use by");
    trial_write(line, "still here\n");
    assert_string_equal(trial_read(port, 1000, TU_PORT_BYTES), "still here\n");
    tu_port_close(port);
    tu_port_close(trial_open("/dev/ttyUSB0"));
    close(line);
}

static void another_process_that_has_the_port_is_named(bool as_logger, bool without_rights)
{
    int line = plug_with_mode(0666);
    trial_holder held = trial_hold(as_logger);
    char expected[64];
    const char *said = trial_in_child(say_why, NULL, without_rights);
    trial_release(&held);
    snprintf(expected, sizeof expected, "in use by process %d (test_port_refus)",
             (int)held.process);
    const char *listed = strchr(said, '|');
    assert_non_null(listed);
    check_contains(listed, expected);
    assert_memory_equal(said, "40 ", 3);
    assert_memory_equal(said + 3, listed + 1, strlen(listed + 1));
    close(line);
}

static void a_second_logger_is_told_which_process_has_the_port(void **state)
{
    (void)state;
    another_process_that_has_the_port_is_named(true, false);
}

static void another_users_logger_is_named_too(void **state)
{
    (void)state;
    another_process_that_has_the_port_is_named(true, true);
}

static void a_program_that_locks_nothing_is_named(void **state)
{
    (void)state;
    another_process_that_has_the_port_is_named(false, false);
}

static void try_to_open(void *context)
{
    (void)context;
    int descriptor = open(terminal, O_RDWR | O_NOCTTY);
    trial_say(descriptor >= 0 ? "opened" : errno == EBUSY ? "busy" : "another error");
}

static void other_programs_cannot_open_a_port_that_is_being_read(void **state)
{
    (void)state;
    int line = plug_with_mode(0666);
    tu_port *port = trial_open("/dev/ttyUSB0");
    assert_string_equal(trial_in_child(try_to_open, NULL, true), "busy");
    tu_port_close(port);
    assert_string_equal(trial_in_child(try_to_open, NULL, true), "opened");
    close(line);
}

static void a_logger_that_is_refused_leaves_the_line_as_it_is(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    tu_port *port, *second;
    tu_error error = {0};
    check_status(tu_port_open(&(tu_port_request){.where = "ttyUSB0", .baud = 9600, .frame = "8N2"},
                              &port, &error),
                 TU_OK, &error);
    char settings[2][128];
    for (int i = 0; i < 2; i++) {
        char command[200];
        fake_port_terminal(&bench, &probe_adapter, terminal, sizeof terminal);
        snprintf(command, sizeof command, "stty -g <%s", terminal);
        settings[i][0] = '\0';
        /* The shell's child of root may open the port in spite of TIOCEXCL. */
        FILE *stty = geteuid() == 0 ? popen(command, "r") : NULL;
        if (stty && !fgets(settings[i], sizeof settings[i], stty))
            fail_msg("stty prints nothing");
        if (stty)
            pclose(stty);
        check_status(tu_port_open(&(tu_port_request){.where = "ttyUSB0"}, &second, &error),
                     TU_SYSTEM_IO, &error);
    }
    assert_string_equal(settings[0], settings[1]);
    tu_port_close(port);
    close(line);
}

static void each_refusal_of_the_system_has_its_own_words(void **state)
{
    (void)state;
    static const struct {
        int number;
        const char *words;
    } cases[] = {{EBUSY, "in use by another program"},
                 {EPERM, "in a container"},
                 {ENXIO, "pull the plug and put it in again"},
                 {EIO, "Input/output error"},
                 {EMFILE, "Too many open files"}};
    char text[300];
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        tu_port_refusal_explain("/dev/ttyABSENT7", cases[i].number, text, sizeof text);
        check_contains(text, cases[i].words);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        trial(without_permission_the_group_to_join_is_named),
        trial(where_the_group_may_not_either_the_owner_is_told),
        trial(an_account_that_joined_after_the_session_began_is_told_to_log_in_again),
        trial(opening_twice_is_refused),
        trial(a_second_logger_is_told_which_process_has_the_port),
        trial(another_users_logger_is_named_too),
        trial(a_program_that_locks_nothing_is_named),
        trial(other_programs_cannot_open_a_port_that_is_being_read),
        trial(a_logger_that_is_refused_leaves_the_line_as_it_is),
        trial(each_refusal_of_the_system_has_its_own_words),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
