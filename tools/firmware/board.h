/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * board.h - the hardware: an ATmega328P at 16 MHz.
 *
 *   PB0 ICP1  contact, pull-up on; the edge's time is captured by the timer itself
 *   PD2 INT0  STEP X        PC0  DIR X
 *   PD3 INT1  STEP Y        PC1  DIR Y
 *   PD4 T0    STEP Z        PC2  DIR Z
 *   PD1 TXD   sentences, 115 200 baud 8N1
 *
 * Each STEP edge is kept by the hardware until it is counted, however short the pulse.
 */
#ifndef FIRMWARE_BOARD_H
#define FIRMWARE_BOARD_H

#include "config.h"
#include "contact.h"

#include <stdbool.h>
#include <stdint.h>

enum {
    BOARD_AXES = 3,
    BOARD_TICKS_PER_US = 2, /* the timer: 16 MHz / 8 */
    BOARD_DIR_INVERTED = DIR_INVERTED
};

/* Sets up everything; interrupts are on afterwards, the contact is not armed. */
void board_start(void);

uint16_t board_ticks(void);
bool board_contact_closed(void);

/* Steps counted, modulo 65 536; up where DIR is high. */
void board_steps(uint16_t steps[BOARD_AXES]);

/* What happened since board_arm: edges, and the steps at the first one. */
void board_edges(contact_edges *edges);
void board_latched_steps(uint16_t steps[BOARD_AXES]);
void board_disarm(void);
void board_arm(void);

/*
 * The number of this start: the one before and one up, modulo 256. Kept in the EEPROM before it is
 * returned (4 ms), so that no sentence carries a number that could come again. Once a start.
 */
uint8_t board_boot(void);

/* Sends a byte if the transmitter takes one now. */
bool board_can_send(void);
void board_send(char byte);

#endif
