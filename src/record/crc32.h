/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * crc32.h - the cyclic redundancy check of IEEE 802.3 (32 bits, reflected polynomial EDB88320,
 * start and final exclusive-or FFFFFFFF): "123456789" gives CBF43926.
 */
#ifndef RECORD_CRC32_H
#define RECORD_CRC32_H

#include <stddef.h>
#include <stdint.h>

enum { TU_CRC32_TEXT_SIZE = 9 }; /* 8 hexadecimal digits and the NUL */

uint32_t tu_crc32(const char *bytes, size_t length);
/* As 8 lower-case hexadecimal digits. */
void tu_crc32_format(char text[TU_CRC32_TEXT_SIZE], uint32_t crc);

#endif
