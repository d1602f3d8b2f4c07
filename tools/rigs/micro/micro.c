/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * micro.c - runs the firmware's machine code, moves its pins at exact cycles and passes on what
 * its UART sends.
 *
 *   micro FIRMWARE.elf SCRIPT           the UART's bytes to standard output, as fast as it goes
 *   micro --pty FIRMWARE.elf SCRIPT     to a pseudo-terminal, in real time. Prints the terminal's
 *                                       name, then waits for a line on standard input
 *
 * The script, in cycles of 1/16 us since the start; # begins a remark:
 *   pin B0 0 CYCLE                          the level of a pin from then on
 *   train D2 CYCLE PERIOD COUNT WIDTH       COUNT pulses, high for WIDTH cycles each
 *   reset CYCLE                             the reset pin; pins keep their levels
 *   end CYCLE                               required: stop there
 *
 * On standard error it says what it did: the cycles that each interrupt took at most, and
 * how long each waited at most from its request to its end.
 */
#define _GNU_SOURCE
#include <simavr/avr_ioport.h>
#include <simavr/avr_uart.h>
#include <simavr/sim_avr.h>
#include <simavr/sim_elf.h>
#include <simavr/sim_interrupts.h>

#include <errno.h>
#include <fcntl.h>
#include <inttypes.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

enum {
    MAX_ACTIONS = 4096,
    MAX_TRAINS = 32,
    VECTORS = 26,
    CYCLES_PER_US = 16,
    /* The data sheet's four cycles from the main program to the vector, which simavr 1.6 takes
     * for nothing. */
    INTERRUPT_ENTRY = 4
};

typedef enum action_kind { SET_PIN, RESET, END } action_kind;

typedef struct drive_line {
    avr_irq_t *irq;
    char port;
    int bit;
} drive_line;

typedef struct action {
    uint64_t cycle;
    action_kind kind;
    drive_line pin;
    uint32_t level;
} action;

typedef struct train {
    drive_line pin;
    uint64_t rise;
    uint32_t period, width;
    uint64_t left;
    bool high;
} train;

typedef struct vector_use {
    uint64_t entered, longest, count;
} vector_use;

static struct {
    avr_t *avr;
    action actions[MAX_ACTIONS];
    size_t action_count, next;
    train trains[MAX_TRAINS];
    size_t train_count;
    vector_use use[VECTORS];
    uint32_t driven[3], levels[3]; /* ports B to D: which pins are driven, and to what */
    int out;
} rig;

static void die(const char *what, const char *detail)
{
    fprintf(stderr, "micro: %s: %s\n", what, detail);
    exit(2);
}

static drive_line find_pin(const char *name)
{
    bool fits =
        strlen(name) == 2 && name[0] >= 'B' && name[0] <= 'D' && name[1] >= '0' && name[1] <= '7';
    if (!fits)
        die("no such pin", name);
    drive_line line = {.port = name[0], .bit = name[1] - '0'};
    line.irq = avr_io_getirq(rig.avr, AVR_IOCTL_IOPORT_GETIRQ(line.port), line.bit);
    return line;
}

/* Drives a pin from outside. simavr needs to be told twice: the level now, and what the pin keeps
 * when the firmware writes to its port, or the pull-ups would win. */
static void drive(const drive_line *line, uint32_t level)
{
    uint32_t bit = 1U << line->bit;
    uint32_t *mask = &rig.driven[line->port - 'B'], *value = &rig.levels[line->port - 'B'];
    *mask |= bit;
    *value = level ? *value | bit : *value & ~bit;
    avr_ioport_external_t external = {
        .name = (unsigned long)line->port, .mask = *mask, .value = *value};
    avr_ioctl(rig.avr, AVR_IOCTL_IOPORT_SET_EXTERNAL(line->port), &external);
    avr_raise_irq(line->irq, level);
}

static void add_action(action a)
{
    if (rig.action_count == MAX_ACTIONS)
        die("script", "too many lines");
    rig.actions[rig.action_count++] = a;
}

static bool take_line(const char *line)
{
    char pin[8];
    uint64_t cycle, count;
    uint32_t level, period, width;
    if (line[0] == '#' || line[0] == '\n')
        return true;
    if (sscanf(line, "pin %7s %" SCNu32 " %" SCNu64, pin, &level, &cycle) == 3) {
        add_action((action){.cycle = cycle, .kind = SET_PIN, .pin = find_pin(pin), .level = level});
        return true;
    }
    if (sscanf(line, "train %7s %" SCNu64 " %" SCNu32 " %" SCNu64 " %" SCNu32, pin, &cycle, &period,
               &count, &width) == 5) {
        if (rig.train_count == MAX_TRAINS || width == 0 || width >= period || count == 0)
            return false;
        rig.trains[rig.train_count++] = (train){
            .pin = find_pin(pin), .rise = cycle, .period = period, .width = width, .left = count};
        return true;
    }
    if (sscanf(line, "reset %" SCNu64, &cycle) == 1) {
        add_action((action){.cycle = cycle, .kind = RESET});
        return true;
    }
    if (sscanf(line, "end %" SCNu64, &cycle) == 1) {
        add_action((action){.cycle = cycle, .kind = END});
        return true;
    }
    return false;
}

static int compare_actions(const void *a, const void *b)
{
    const action *left = a, *right = b;
    return (left->cycle > right->cycle) - (left->cycle < right->cycle);
}

static void read_script(const char *path)
{
    FILE *file = fopen(path, "r");
    char line[200];
    if (!file)
        die(path, strerror(errno));
    while (fgets(line, sizeof line, file))
        if (!take_line(line))
            die("script", line);
    fclose(file);
    qsort(rig.actions, rig.action_count, sizeof rig.actions[0], compare_actions);
    if (rig.action_count == 0 || rig.actions[rig.action_count - 1].kind != END)
        die("script", "it does not finish with 'end CYCLE'");
}

static void pass_byte(struct avr_irq_t *irq, uint32_t value, void *context)
{
    (void)irq;
    (void)context;
    char byte = (char)value;
    if (write(rig.out, &byte, 1) != 1)
        die("write", strerror(errno));
}

static void note_interrupt(struct avr_irq_t *irq, uint32_t value, void *context)
{
    (void)irq;
    vector_use *use = context;
    if (value) {
        rig.avr->cycle += INTERRUPT_ENTRY;
        use->entered = rig.avr->cycle - INTERRUPT_ENTRY;
        use->count++;
    } else if (rig.avr->cycle - use->entered > use->longest) {
        use->longest = rig.avr->cycle - use->entered;
    }
}

/* simavr talks on standard output, which belongs to the UART. */
static void log_errors(avr_t *avr, const int level, const char *format, va_list arguments)
{
    (void)avr;
    if (level <= LOG_ERROR)
        vfprintf(stderr, format, arguments);
}

static void connect_all(void)
{
    avr_irq_register_notify(avr_io_getirq(rig.avr, AVR_IOCTL_UART_GETIRQ('0'), UART_IRQ_OUTPUT),
                            pass_byte, NULL);
    for (uint8_t vector = 1; vector < VECTORS; vector++) {
        avr_irq_t *irq = avr_get_interrupt_irq(rig.avr, vector);
        if (irq)
            avr_irq_register_notify(irq + AVR_INT_IRQ_RUNNING, note_interrupt, &rig.use[vector]);
    }
}

/* Moves the pins that are due; returns the cycle of the next change. */
static uint64_t move_trains(uint64_t now)
{
    uint64_t next = UINT64_MAX;
    for (size_t i = 0; i < rig.train_count; i++) {
        train *t = &rig.trains[i];
        uint64_t due = t->high ? t->rise + t->width : t->rise;
        while (t->left > 0 && due <= now) {
            t->high = !t->high;
            drive(&t->pin, t->high);
            if (!t->high) {
                t->rise += t->period;
                t->left--;
            }
            due = t->high ? t->rise + t->width : t->rise;
        }
        if (t->left > 0 && due < next)
            next = due;
    }
    return next;
}

static void silence_uart(void)
{
    uint32_t flags = 0; /* no copy on the simulator's own output */
    avr_ioctl(rig.avr, AVR_IOCTL_UART_SET_FLAGS('0'), &flags);
}

/* The levels outside stay what they are; simavr forgets them, and hears of changes only. */
static void reset(void)
{
    avr_reset(rig.avr);
    silence_uart();
    for (int port = 0; port < 3; port++) {
        for (int bit = 0; bit < 8; bit++) {
            if (rig.driven[port] >> bit & 1) {
                char name[] = {(char)('B' + port), (char)('0' + bit), '\0'};
                drive_line line = find_pin(name);
                uint32_t level = rig.levels[port] >> bit & 1;
                drive(&line, !level);
                drive(&line, level);
            }
        }
    }
}

/* Does the actions that are due; false at the end. */
static bool act(uint64_t now, uint64_t *next)
{
    for (; rig.next < rig.action_count; rig.next++) {
        action *a = &rig.actions[rig.next];
        if (a->cycle > now) {
            *next = a->cycle < *next ? a->cycle : *next;
            return true;
        }
        if (a->kind == END)
            return false;
        if (a->kind == RESET)
            reset();
        else
            drive(&a->pin, a->level);
    }
    return true;
}

/* Real time: sleeps until the wall clock has come as far as the MCU. */
static void keep_pace(const struct timespec *start)
{
    uint64_t us = rig.avr->cycle / CYCLES_PER_US;
    struct timespec until = {.tv_sec = start->tv_sec + (time_t)(us / 1000000),
                             .tv_nsec = start->tv_nsec + (long)(us % 1000000) * 1000};
    if (until.tv_nsec >= 1000000000) {
        until.tv_nsec -= 1000000000;
        until.tv_sec++;
    }
    clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &until, NULL);
}

static void run(bool paced)
{
    struct timespec start;
    uint64_t next = 0, pace = 0;
    clock_gettime(CLOCK_MONOTONIC, &start);
    for (;;) {
        uint64_t now = rig.avr->cycle;
        if (now >= next) {
            next = move_trains(now);
            if (!act(now, &next))
                return;
        }
        if (paced && now >= pace) {
            pace = now + 1000 * CYCLES_PER_US;
            keep_pace(&start);
        }
        int state = avr_run(rig.avr);
        if (state == cpu_Done || state == cpu_Crashed)
            die("firmware", "crashed");
    }
}

static int open_pty(void)
{
    int master = posix_openpt(O_RDWR | O_NOCTTY);
    if (master < 0 || grantpt(master) || unlockpt(master))
        die("pseudo-terminal", strerror(errno));
    /* Raw before the first byte, or the terminal echoes; held open, or bytes are lost between. */
    int slave = open(ptsname(master), O_RDWR | O_NOCTTY);
    struct termios settings;
    tcgetattr(slave, &settings);
    cfmakeraw(&settings);
    tcsetattr(slave, TCSANOW, &settings);
    printf("%s\n", ptsname(master));
    fflush(stdout);
    char line[16];
    if (!fgets(line, sizeof line, stdin))
        die("standard input", "ended before the word to go");
    return master;
}

static void load(const char *path)
{
    elf_firmware_t firmware = {0};
    if (elf_read_firmware(path, &firmware) != 0)
        die(path, "cannot be read as firmware");
    rig.avr = avr_make_mcu_by_name("atmega328p");
    if (!rig.avr)
        die("simavr", "knows no atmega328p");
    avr_init(rig.avr);
    firmware.frequency = 1000000U * CYCLES_PER_US;
    avr_load_firmware(rig.avr, &firmware);
    rig.avr->log = LOG_ERROR;
}

int main(int argc, char **argv)
{
    bool pty = argc > 1 && strcmp(argv[1], "--pty") == 0;
    if (argc != 3 + pty) {
        fprintf(stderr, "usage: micro [--pty] FIRMWARE.elf SCRIPT\n");
        return 2;
    }
    avr_global_logger_set(log_errors);
    load(argv[1 + pty]);
    connect_all();
    silence_uart();
    read_script(argv[2 + pty]);
    rig.out = pty ? open_pty() : STDOUT_FILENO;
    run(pty);
    for (int vector = 1; vector < VECTORS; vector++) {
        if (rig.use[vector].count > 0)
            fprintf(stderr, "vector %d count %" PRIu64 " longest %" PRIu64 "\n", vector,
                    rig.use[vector].count, rig.use[vector].longest);
    }
    return 0;
}
