/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * crc32.c - see crc32.h. Bit by bit: a log line is short, and a table would be state.
 */
#include "record/crc32.h"

#include <inttypes.h>
#include <stdio.h>

uint32_t tu_crc32(const char *bytes, size_t length)
{
    uint32_t crc = 0xFFFFFFFFu;
    for (size_t i = 0; i < length; i++) {
        crc ^= (unsigned char)bytes[i];
        for (int bit = 0; bit < 8; bit++)
            crc = crc & 1u ? (crc >> 1) ^ 0xEDB88320u : crc >> 1;
    }
    return ~crc;
}

void tu_crc32_format(char text[TU_CRC32_TEXT_SIZE], uint32_t crc)
{
    snprintf(text, TU_CRC32_TEXT_SIZE, "%08" PRIx32, crc);
}
