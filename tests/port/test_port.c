/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * test_port.c - opening and reading ports, on pseudo-terminals that play USB adapters, and standard
 * input.
 */
#include "port_trial.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

/* --- Opening --- */

static void a_port_opens_by_name_and_is_described(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    tu_port *port = trial_open("/dev/ttyUSB0");
    assert_string_equal(tu_port_description(port), "ttyUSB0, USB 1d50:0001 serial TP-0042");
    trial_write(line, "abc\n");
    assert_string_equal(trial_read(port, 1000, TU_PORT_BYTES), "abc\n");
    tu_port_close(port);
    close(line);
}

static void a_port_opens_by_a_name_without_its_folder(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    tu_port_close(trial_open("ttyUSB0"));
    close(line);
}

static void a_port_opens_by_a_link(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    char link[128];
    snprintf(link, sizeof link, "%s/usb-Touch_box-if00", bench.root);
    assert_int_equal(symlink("/dev/ttyUSB0", link), 0);
    tu_port *port = trial_open(link);
    assert_string_equal(tu_port_description(port), "ttyUSB0, USB 1d50:0001 serial TP-0042");
    tu_port_close(port);
    close(line);
}

static void a_port_opens_by_usb_ids_with_and_without_serial_number(void **state)
{
    (void)state;
    static const fake_adapter another = {
        .name = "ttyACM3", .socket = "1-4", .vendor = 0x1209, .product = 0xbeef};
    int line = fake_port_plug(&bench, &probe_adapter), other = fake_port_plug(&bench, &another);
    tu_port *first = trial_open("1D50:0001:TP-0042"), *second = trial_open("1209:beef");
    assert_string_equal(tu_port_description(first), "ttyUSB0, USB 1d50:0001 serial TP-0042");
    assert_string_equal(tu_port_description(second), "ttyACM3, USB 1209:beef");
    tu_port_close(first);
    tu_port_close(second);
    close(line);
    close(other);
}

static void usb_ids_that_fit_two_ports_are_refused_with_both_names(void **state)
{
    (void)state;
    fake_adapter another = probe_adapter;
    another.name = "ttyUSB1", another.socket = "1-3", another.serial = "TP-0043";
    int line = fake_port_plug(&bench, &probe_adapter), other = fake_port_plug(&bench, &another);
    const char *message = trial_refused("1d50:0001", TU_USAGE);
    check_contains(message, "/dev/ttyUSB0 (serial TP-0042)");
    check_contains(message, "/dev/ttyUSB1 (serial TP-0043)");
    tu_port_close(trial_open("1d50:0001:TP-0043"));
    close(line);
    close(other);
}

static void an_absent_port_is_refused(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    check_contains(trial_refused("/dev/ttyUSB7", TU_SYSTEM_IO), "there is no such port");
    check_contains(trial_refused("1d50:0002", TU_SYSTEM_IO), "no port with these USB ids");
    check_contains(trial_refused("1d50:0001:TP-0099", TU_SYSTEM_IO), "and this serial number");
    close(line);
}

static void what_is_no_serial_port_is_sent_to_standard_input(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    char terminal[64];
    fake_port_terminal(&bench, &probe_adapter, terminal, sizeof terminal);
    check_contains(trial_refused("/dev/null", TU_SYSTEM_IO), "{port} - < /dev/null");
    check_contains(trial_refused(terminal, TU_SYSTEM_IO), "no serial port that the system lists");
    close(line);
}

static void a_line_that_the_adapter_cannot_do_is_refused(void **state)
{
    (void)state;
    /* Linux's pseudo-terminals have eight bits and no parity (drivers/tty/pty.c). */
    static const char *const frames[] = {"7N1", "8E1"};
    int line = fake_port_plug(&bench, &probe_adapter);
    tu_port *port;
    tu_error error = {0};
    for (size_t i = 0; i < 2; i++) {
        tu_port_request request = {.where = "ttyUSB0", .frame = frames[i]};
        check_status(tu_port_open(&request, &port, &error), TU_SYSTEM_IO, &error);
        check_contains(error.message, "the adapter refuses 115200 baud");
        check_contains(error.message, frames[i]);
    }
    setenv("PORT_SHIM_BAUD", "9600", 1); /* whatever is asked for */
    check_contains(trial_refused("ttyUSB0", TU_SYSTEM_IO), "can't do 115200 baud; it offers 9600");
    unsetenv("PORT_SHIM_BAUD");
    tu_port_close(trial_open("ttyUSB0"));
    close(line);
}

static void malformed_requests_are_refused(void **state)
{
    (void)state;
    tu_port *port;
    check_status(tu_port_open(&(tu_port_request){.where = NULL}, &port, NULL), TU_USAGE, NULL);
    check_status(tu_port_open(&(tu_port_request){.where = "-", .baud = -1}, &port, NULL), TU_USAGE,
                 NULL);
    check_status(tu_port_open(&(tu_port_request){.where = "-", .frame = "8"}, &port, NULL),
                 TU_USAGE, NULL);
    tu_port_close(NULL);
}

/* --- Reading --- */

static void a_quiet_port_is_waited_for_without_using_the_processor(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    tu_port *port = trial_open("/dev/ttyUSB0");
    int64_t start = trial_now_us(), cpu = trial_cpu_us();
    trial_read(port, 300, TU_PORT_QUIET);
    check_between((double)(trial_now_us() - start) / 1000, 299, 1500, "wait, ms");
    check_between((double)(trial_cpu_us() - cpu) / 1000, 0, 30, "processor time, ms");
    trial_read(port, 0, TU_PORT_QUIET);
    tu_port_close(port);
    close(line);
}

static void a_write_wakes_the_reader_within_milliseconds(void **state)
{
    (void)state;
    enum { TRIALS = 20, LIMIT_MS = 100 }; /* the limit is for a busy machine; idle: 0.1 ms */
    int line = fake_port_plug(&bench, &probe_adapter), wake[2];
    tu_port *port = trial_open("/dev/ttyUSB0");
    assert_int_equal(pipe(wake), 0);
    pid_t child = fork();
    if (child == 0) {
        for (int i = 0; i < TRIALS; i++) {
            usleep(10000);
            int64_t now = trial_now_us();
            if (write(wake[1], &now, sizeof now) != sizeof now)
                _exit(1);
        }
        _exit(0);
    }
    double worst = 0;
    for (int i = 0; i < TRIALS; i++) {
        char byte;
        size_t got;
        tu_port_state found;
        int64_t sent;
        check_status(tu_port_read(port, &byte, 1, 10000, wake[0], &got, &found, NULL), TU_OK, NULL);
        assert_int_equal(found, TU_PORT_INTERRUPTED);
        assert_int_equal(got, 0);
        int64_t now = trial_now_us();
        assert_int_equal(read(wake[0], &sent, sizeof sent), sizeof sent);
        double late = (double)(now - sent) / 1000;
        worst = late > worst ? late : worst;
    }
    print_message("# woken after at most %.2f ms\n", worst);
    check_between(worst, 0, LIMIT_MS, "time to wake, ms");
    waitpid(child, NULL, 0);
    tu_port_close(port);
    close(wake[0]), close(wake[1]), close(line);
}

static void waking_comes_before_a_flood_of_bytes(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter), wake[2];
    tu_port *port = trial_open("/dev/ttyUSB0");
    assert_int_equal(pipe(wake), 0);
    trial_write(line, "flood");
    trial_write(wake[1], "!");
    char bytes[16];
    size_t got;
    tu_port_state found;
    check_status(tu_port_read(port, bytes, sizeof bytes, 1000, wake[0], &got, &found, NULL), TU_OK,
                 NULL);
    assert_int_equal(found, TU_PORT_INTERRUPTED);
    assert_string_equal(trial_read(port, 1000, TU_PORT_BYTES), "flood");
    tu_port_close(port);
    close(wake[0]), close(wake[1]), close(line);
}

enum { LINES = 100000, LINE_BYTES = 48 };

/* "$TUHIT,00000000,..." of LINE_BYTES with its number in it. */
static void make_line(char *line, int number)
{
    int length =
        snprintf(line, LINE_BYTES + 1, "$TUHIT,%08d,12345678,z-,100.000,80.000,-40\r\n", number);
    assert_int_equal(length, LINE_BYTES);
}

static void write_flood(int line)
{
    static char block[100 * LINE_BYTES + 1];
    for (int i = 0; i < LINES; i += 100) {
        for (int k = 0; k < 100; k++)
            make_line(block + k * LINE_BYTES, i + k);
        for (ssize_t sent = 0, now; sent < 100 * LINE_BYTES; sent += now) {
            now = write(line, block + sent, (size_t)(100 * LINE_BYTES - sent));
            if (now < 0)
                _exit(1);
        }
    }
    _exit(0);
}

static void no_byte_is_lost_at_the_highest_rate(void **state)
{
    (void)state;
    static char bytes[65536], expected[LINE_BYTES + 1];
    int line = fake_port_plug(&bench, &probe_adapter), result;
    tu_port *port = trial_open("/dev/ttyUSB0");
    pid_t child = fork();
    if (child == 0)
        write_flood(line);
    int64_t start = trial_now_us(), cpu = trial_cpu_us();
    size_t total = 0;
    while (total < (size_t)LINES * LINE_BYTES) {
        size_t got;
        tu_port_state found;
        check_status(tu_port_read(port, bytes, sizeof bytes, 5000, -1, &got, &found, NULL), TU_OK,
                     NULL);
        assert_int_equal(found, TU_PORT_BYTES);
        for (size_t i = 0; i < got; i++, total++) {
            if (total % LINE_BYTES == 0)
                make_line(expected, (int)(total / LINE_BYTES));
            if (bytes[i] != expected[total % LINE_BYTES])
                fail_msg("byte %zu is wrong or one was lost", total);
        }
    }
    double seconds = (double)(trial_now_us() - start) / 1e6;
    print_message("# %.0f lines/s, %.0f %% of a core with the check\n", LINES / seconds,
                  (double)(trial_cpu_us() - cpu) / 1e4 / seconds);
    trial_read(port, 0, TU_PORT_QUIET);
    assert_int_equal(waitpid(child, &result, 0), child);
    assert_int_equal(result, 0);
    tu_port_close(port);
    close(line);
}

static void every_byte_value_comes_through(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    tu_port *port = trial_open("/dev/ttyUSB0");
    unsigned char sent[256], bytes[300];
    for (int i = 0; i < 256; i++)
        sent[i] = (unsigned char)i;
    assert_int_equal(write(line, sent, sizeof sent), sizeof sent);
    size_t total = 0;
    while (total < sizeof sent) {
        size_t got;
        tu_port_state found;
        check_status(tu_port_read(port, (char *)bytes + total, sizeof bytes - total, 1000, -1, &got,
                                  &found, NULL),
                     TU_OK, NULL);
        assert_int_equal(found, TU_PORT_BYTES);
        total += got;
    }
    assert_int_equal(total, sizeof sent);
    assert_memory_equal(bytes, sent, sizeof sent);
    tu_port_close(port);
    close(line);
}

/* --- Unplugging --- */

static void a_pulled_plug_is_noticed_at_once_and_costs_no_time(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    tu_port *port = trial_open("/dev/ttyUSB0");
    fake_port_pull(&bench, &probe_adapter, line);
    int64_t start = trial_now_us(), cpu = trial_cpu_us();
    trial_read(port, 5000, TU_PORT_GONE);
    trial_read(port, 5000, TU_PORT_GONE);
    check_between((double)(trial_now_us() - start) / 1000, 0, 500, "time to notice, ms");
    check_between((double)(trial_cpu_us() - cpu) / 1000, 0, 20, "processor time, ms");
    tu_port_close(port);
}

static void a_plug_pulled_while_waiting_is_noticed_at_once(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter), told[2];
    tu_port *port = trial_open("/dev/ttyUSB0");
    assert_int_equal(pipe(told), 0);
    pid_t child = fork();
    if (child == 0) {
        usleep(100000);
        int64_t now = trial_now_us();
        if (write(told[1], &now, sizeof now) != sizeof now)
            _exit(1);
        _exit(0); /* the child has the last descriptor of the line */
    }
    close(line);
    int64_t cpu = trial_cpu_us(), pulled;
    trial_read(port, 10000, TU_PORT_GONE);
    int64_t now = trial_now_us();
    assert_int_equal(read(told[0], &pulled, sizeof pulled), sizeof pulled);
    print_message("# noticed after %.2f ms\n", (double)(now - pulled) / 1000);
    check_between((double)(now - pulled) / 1000, 0, 200, "time to notice, ms");
    check_between((double)(trial_cpu_us() - cpu) / 1000, 0, 20, "processor time, ms");
    waitpid(child, NULL, 0);
    tu_port_close(port);
    close(told[0]), close(told[1]);
}

/* --- Standard input --- */

/* Puts a descriptor in the place of standard input for a while; -1: closes it. */
static int swap_stdin(int descriptor)
{
    int kept = dup(STDIN_FILENO);
    if (descriptor >= 0)
        dup2(descriptor, STDIN_FILENO);
    else
        close(STDIN_FILENO);
    return kept;
}

static void put_back_stdin(int kept)
{
    dup2(kept, STDIN_FILENO);
    close(kept);
}

static void standard_input_is_read_to_its_end(void **state)
{
    (void)state;
    int ends[2];
    assert_int_equal(pipe(ends), 0);
    int kept = swap_stdin(ends[0]);
    tu_port *port = trial_open("-");
    assert_string_equal(tu_port_description(port), "standard input");
    trial_read(port, 20, TU_PORT_QUIET);
    trial_write(ends[1], "x=1\n");
    assert_string_equal(trial_read(port, 1000, TU_PORT_BYTES), "x=1\n");
    close(ends[1]);
    trial_read(port, 1000, TU_PORT_END);
    tu_port_state found;
    check_status(tu_port_wait_return(port, 1000, -1, &found, NULL), TU_OK, NULL);
    assert_int_equal(found, TU_PORT_END);
    tu_port_close(port);
    put_back_stdin(kept);
    close(ends[0]);
}

static void a_file_is_read_as_standard_input(void **state)
{
    (void)state;
    FILE *file = tmpfile();
    fputs("a line\n", file);
    fflush(file);
    rewind(file);
    int kept = swap_stdin(fileno(file));
    tu_port *port = trial_open("-");
    assert_string_equal(trial_read(port, -1, TU_PORT_BYTES), "a line\n");
    trial_read(port, -1, TU_PORT_END);
    tu_port_close(port);
    put_back_stdin(kept);
    fclose(file);
}

static void a_terminal_is_read_as_standard_input_until_its_other_side_goes(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    char terminal[64];
    fake_port_terminal(&bench, &probe_adapter, terminal, sizeof terminal);
    int slave = open(terminal, O_RDWR | O_NOCTTY);
    int kept = swap_stdin(slave);
    close(slave);
    tu_port *port = trial_open("-");
    trial_write(line, "through a terminal\n");
    assert_string_equal(trial_read(port, 1000, TU_PORT_BYTES), "through a terminal\n");
    close(line);
    trial_read(port, 1000, TU_PORT_END);
    tu_port_close(port);
    put_back_stdin(kept);
}

/* As for a program that runs in a terminal of another program's making. */
static void the_other_side_of_a_terminal_is_read_as_standard_input_too(void **state)
{
    (void)state;
    int line = fake_port_plug(&bench, &probe_adapter);
    char terminal[64];
    fake_port_terminal(&bench, &probe_adapter, terminal, sizeof terminal);
    int slave = open(terminal, O_RDWR | O_NOCTTY), kept = swap_stdin(line);
    tu_port *port = trial_open("-");
    trial_write(slave, "from within\n");
    assert_string_equal(trial_read(port, 1000, TU_PORT_BYTES), "from within\n");
    close(slave);
    trial_read(port, 1000, TU_PORT_END); /* the system says EIO here */
    tu_port_close(port);
    put_back_stdin(kept);
    close(line);
}

static void standard_input_that_cannot_be_read_is_said(void **state)
{
    (void)state;
    int folder = open("/", O_RDONLY), kept = swap_stdin(folder);
    tu_port *port = trial_open("-");
    char byte;
    size_t got;
    tu_port_state found;
    tu_error error = {0};
    tu_status status = tu_port_read(port, &byte, 1, 1000, -1, &got, &found, &error);
    put_back_stdin(kept);
    check_status(status, TU_SYSTEM_IO, &error);
    check_contains(error.where, "standard input");
    tu_port_close(port);
    close(folder);
    kept = swap_stdin(-1);
    const char *message = trial_refused("-", TU_SYSTEM_IO);
    put_back_stdin(kept);
    check_contains(message, "is closed");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        trial(a_port_opens_by_name_and_is_described),
        trial(a_port_opens_by_a_name_without_its_folder),
        trial(a_port_opens_by_a_link),
        trial(a_port_opens_by_usb_ids_with_and_without_serial_number),
        trial(usb_ids_that_fit_two_ports_are_refused_with_both_names),
        trial(an_absent_port_is_refused),
        trial(what_is_no_serial_port_is_sent_to_standard_input),
        trial(a_line_that_the_adapter_cannot_do_is_refused),
        trial(malformed_requests_are_refused),
        trial(a_quiet_port_is_waited_for_without_using_the_processor),
        trial(a_write_wakes_the_reader_within_milliseconds),
        trial(waking_comes_before_a_flood_of_bytes),
        trial(no_byte_is_lost_at_the_highest_rate),
        trial(every_byte_value_comes_through),
        trial(a_pulled_plug_is_noticed_at_once_and_costs_no_time),
        trial(a_plug_pulled_while_waiting_is_noticed_at_once),
        trial(standard_input_is_read_to_its_end),
        trial(a_file_is_read_as_standard_input),
        trial(a_terminal_is_read_as_standard_input_until_its_other_side_goes),
        trial(the_other_side_of_a_terminal_is_read_as_standard_input_too),
        trial(standard_input_that_cannot_be_read_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
