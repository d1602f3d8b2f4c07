/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * board.c - the hardware.
 *
 * The interrupts: three for STEP, written in assembly, since they decide how fast a machine may
 * move; one for the contact. Time is taken from a timer that nobody has to serve, and the
 * transmitter is fed by the main loop, so nothing else ever keeps a step waiting.
 */
#include "board.h"

#include <avr/eeprom.h>
#include <avr/interrupt.h>
#include <avr/io.h>
#include <util/atomic.h>

#if F_CPU != 16000000UL
#error "board.c: the dividers of timer and baud rate are those of 16 MHz"
#endif

/* 16 MHz / 8 / (16 + 1): 117 647 baud, 2.1 % fast, within what 8N1 stands (ATmega328P data sheet,
 * table of UBRR settings with U2X). */
enum { BAUD_DIVIDER = 16 };

volatile uint16_t board_step_count[BOARD_AXES];

static volatile struct {
    uint8_t count;
    uint16_t first_tick, last_tick;
    uint16_t steps[BOARD_AXES];
} seen;

#if COUNT_STEPS
/*
 * 37 or 38 cycles from the edge to the end. DIR is read here, after the edge, so it
 * needs no time before it.
 */
#define STEP_INTERRUPT(vector, axis)                                                               \
    ISR(vector, ISR_NAKED)                                                                         \
    {                                                                                              \
        __asm__ volatile("push r24\n\t"                                                            \
                         "in r24, %[sreg]\n\t"                                                     \
                         "push r24\n\t"                                                            \
                         "push r25\n\t"                                                            \
                         "lds r24, %[count]\n\t"                                                   \
                         "lds r25, %[count]+1\n\t"                                                 \
                         "sbis %[pins], %[dir]\n\t"                                                \
                         "sbiw r24, 2\n\t"                                                         \
                         "adiw r24, 1\n\t"                                                         \
                         "sts %[count]+1, r25\n\t"                                                 \
                         "sts %[count], r24\n\t"                                                   \
                         "pop r25\n\t"                                                             \
                         "pop r24\n\t"                                                             \
                         "out %[sreg], r24\n\t"                                                    \
                         "pop r24\n\t"                                                             \
                         "reti"                                                                    \
                         :                                                                         \
                         : [sreg] "I"(_SFR_IO_ADDR(SREG)), [pins] "I"(_SFR_IO_ADDR(PINC)),         \
                           [dir] "I"(axis), [count] "i"(&board_step_count[axis]));                 \
    }

STEP_INTERRUPT(INT0_vect, 0)
STEP_INTERRUPT(INT1_vect, 1)

/*
 * There is no third edge interrupt. Timer 0 counts the edges of STEP Z by itself; a pin change only
 * prompts this to fetch what came since, so that DIR is read in time. About 50 cycles, and 30 for
 * the pulse's other edge.
 */
ISR(PCINT2_vect, ISR_NAKED)
{
    __asm__ volatile("push r24\n\t"
                     "in r24, %[sreg]\n\t"
                     "push r24\n\t"
                     "push r23\n\t"
                     "in r24, %[timer]\n\t"
                     "in r23, %[fetched]\n\t"
                     "out %[fetched], r24\n\t"
                     "sub r24, r23\n\t"
                     "breq 3f\n\t"
                     "mov r23, r24\n\t"
                     "push r25\n\t"
                     "lds r24, %[count]\n\t"
                     "lds r25, %[count]+1\n\t"
                     "sbis %[pins], %[dir]\n\t"
                     "rjmp 1f\n\t"
                     "add r24, r23\n\t"
                     "brcc 2f\n\t"
                     "inc r25\n\t"
                     "rjmp 2f\n"
                     "1: sub r24, r23\n\t"
                     "brcc 2f\n\t"
                     "dec r25\n"
                     "2: sts %[count]+1, r25\n\t"
                     "sts %[count], r24\n\t"
                     "pop r25\n"
                     "3: pop r23\n\t"
                     "pop r24\n\t"
                     "out %[sreg], r24\n\t"
                     "pop r24\n\t"
                     "reti"
                     :
                     : [sreg] "I"(_SFR_IO_ADDR(SREG)), [pins] "I"(_SFR_IO_ADDR(PINC)),
                       [timer] "I"(_SFR_IO_ADDR(TCNT0)), [fetched] "I"(_SFR_IO_ADDR(GPIOR0)),
                       [dir] "I"(2), [count] "i"(&board_step_count[2]));
}
#endif

/* The first edge after arming keeps the steps; all edges are counted and timed. */
static inline __attribute__((always_inline)) void take_edge(uint16_t tick)
{
    if (seen.count == 0) {
        seen.steps[0] = board_step_count[0];
        seen.steps[1] = board_step_count[1];
        seen.steps[2] = board_step_count[2];
        seen.first_tick = tick;
    }
    seen.last_tick = tick;
    if (++seen.count >= CONTACT_EDGES_MAX)
        TIMSK1 = 0;
    /* The next edge goes the other way. An edge that came meanwhile is not counted. */
    TCCR1B ^= _BV(ICES1);
    TIFR1 = _BV(ICF1);
}

ISR(TIMER1_CAPT_vect)
{
    take_edge(ICR1);
}

static void start_steps(void)
{
#if COUNT_STEPS
    PORTD |= _BV(PD2) | _BV(PD3) | _BV(PD4); /* pull-ups: an open wire must not count */
    PORTC |= _BV(PC0) | _BV(PC1) | _BV(PC2);
    EICRA =
        STEP_FALLING ? _BV(ISC11) | _BV(ISC01) : _BV(ISC11) | _BV(ISC10) | _BV(ISC01) | _BV(ISC00);
    EIFR = _BV(INTF0) | _BV(INTF1);
    EIMSK = _BV(INT0) | _BV(INT1);
    TCCR0A = 0;
    TCCR0B = STEP_FALLING ? _BV(CS02) | _BV(CS01) : _BV(CS02) | _BV(CS01) | _BV(CS00);
    GPIOR0 = TCNT0;
    PCMSK2 = _BV(PCINT20);
    PCIFR = _BV(PCIF2);
    PCICR = _BV(PCIE2);
#endif
}

void board_start(void)
{
    PORTB |= _BV(PB0);
    TCCR1A = 0;
    TCCR1B = _BV(ICNC1) | _BV(CS11);
    UBRR0 = BAUD_DIVIDER;
    UCSR0A = _BV(U2X0);
    UCSR0C = _BV(UCSZ01) | _BV(UCSZ00);
    UCSR0B = _BV(TXEN0);
    start_steps();
    sei();
}

/*
 * A ring of cells, each one more than the one before it up to the newest, where that ends. A cell
 * stands 100 000 writes (data sheet), so the ring 6 million starts. Where the power did not last
 * for a write, the cell does not go on and is written again: nobody has seen its number yet.
 */
uint8_t board_boot(void)
{
    enum { CELLS = 64 };
    uint8_t *const cells = NULL; /* the EEPROM's first */
    uint8_t newest = 0, number = eeprom_read_byte(cells);
    while (newest < CELLS - 1 && eeprom_read_byte(cells + newest + 1) == (uint8_t)(number + 1)) {
        newest++;
        number++;
    }
    number++;
    eeprom_write_byte(cells + (newest + 1) % CELLS, number);
    eeprom_busy_wait();
    return number;
}

uint16_t board_ticks(void)
{
    uint16_t ticks;
    /* The timer's high byte passes through a register that the capture uses as well. */
    ATOMIC_BLOCK(ATOMIC_FORCEON)
    {
        ticks = TCNT1;
    }
    return ticks;
}

bool board_contact_closed(void)
{
    bool high = PINB & _BV(PB0);
    return CONTACT_OPENS ? high : !high;
}

void board_steps(uint16_t steps[BOARD_AXES])
{
    for (uint8_t i = 0; i < BOARD_AXES; i++) {
        ATOMIC_BLOCK(ATOMIC_FORCEON)
        {
            steps[i] = board_step_count[i];
        }
    }
}

void board_edges(contact_edges *edges)
{
    ATOMIC_BLOCK(ATOMIC_FORCEON)
    {
        edges->count = seen.count;
        edges->first_tick = seen.first_tick;
        edges->last_tick = seen.last_tick;
    }
}

/* The first edge's are not written again before board_arm. */
void board_latched_steps(uint16_t steps[BOARD_AXES])
{
    for (uint8_t i = 0; i < BOARD_AXES; i++)
        steps[i] = seen.steps[i];
}

void board_disarm(void)
{
    TIMSK1 = 0;
}

void board_arm(void)
{
    TIMSK1 = 0;
    seen.count = 0;
    if (CONTACT_OPENS)
        TCCR1B |= _BV(ICES1);
    else
        TCCR1B &= (uint8_t)~_BV(ICES1);
    TIFR1 = _BV(ICF1);
    ATOMIC_BLOCK(ATOMIC_FORCEON)
    {
        TIMSK1 = _BV(ICIE1);
        /* It closed just before the flag was cleared: that edge comes from nowhere else. */
        if (board_contact_closed() && !(TIFR1 & _BV(ICF1)))
            take_edge(TCNT1);
    }
}

bool board_can_send(void)
{
    return UCSR0A & _BV(UDRE0);
}

void board_send(char byte)
{
    UDR0 = (uint8_t)byte;
}
