/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * crc32.c - see crc32.h. Eight bytes at a time, from a constant table: reading a long log spends
 * its time here.
 *
 * Method: M. E. Kounavis, F. L. Berry, "A systematic approach to building high performance
 * software-based CRC generators", ISCC 2005 (slicing by eight).
 */
#include "record/crc32.h"

/*
 * The check is linear: what a byte does to it is the exclusive-or of what its bits do. So each
 * table of 256 entries follows from eight, those of the bytes 1, 2, 4, ... 128.
 */
#define PICK(i, b0, b1, b2, b3, b4, b5, b6, b7)                                                    \
    (((i)&1 ? b0 : 0) ^ ((i)&2 ? b1 : 0) ^ ((i)&4 ? b2 : 0) ^ ((i)&8 ? b3 : 0) ^                   \
     ((i)&16 ? b4 : 0) ^ ((i)&32 ? b5 : 0) ^ ((i)&64 ? b6 : 0) ^ ((i)&128 ? b7 : 0))
#define FOUR(i, ...)                                                                               \
    PICK(i, __VA_ARGS__), PICK((i) + 1, __VA_ARGS__), PICK((i) + 2, __VA_ARGS__),                  \
        PICK((i) + 3, __VA_ARGS__)
#define SIXTEEN(i, ...)                                                                            \
    FOUR(i, __VA_ARGS__), FOUR((i) + 4, __VA_ARGS__), FOUR((i) + 8, __VA_ARGS__),                  \
        FOUR((i) + 12, __VA_ARGS__)
#define SIXTY_FOUR(i, ...)                                                                         \
    SIXTEEN(i, __VA_ARGS__), SIXTEEN((i) + 16, __VA_ARGS__), SIXTEEN((i) + 32, __VA_ARGS__),       \
        SIXTEEN((i) + 48, __VA_ARGS__)
#define SLICE(...)                                                                                 \
    {                                                                                              \
        SIXTY_FOUR(0, __VA_ARGS__), SIXTY_FOUR(64, __VA_ARGS__), SIXTY_FOUR(128, __VA_ARGS__),     \
            SIXTY_FOUR(192, __VA_ARGS__)                                                           \
    }

/* slice[k][b]: what byte b does when k more bytes follow it. */
static const uint32_t slice[8][256] = {
    SLICE(0x77073096u, 0xee0e612cu, 0x076dc419u, 0x0edb8832u, 0x1db71064u, 0x3b6e20c8u, 0x76dc4190u,
          0xedb88320u),
    SLICE(0x191b3141u, 0x32366282u, 0x646cc504u, 0xc8d98a08u, 0x4ac21251u, 0x958424a2u, 0xf0794f05u,
          0x3b83984bu),
    SLICE(0x01c26a37u, 0x0384d46eu, 0x0709a8dcu, 0x0e1351b8u, 0x1c26a370u, 0x384d46e0u, 0x709a8dc0u,
          0xe1351b80u),
    SLICE(0xb8bc6765u, 0xaa09c88bu, 0x8f629757u, 0xc5b428efu, 0x5019579fu, 0xa032af3eu, 0x9b14583du,
          0xed59b63bu),
    SLICE(0x3d6029b0u, 0x7ac05360u, 0xf580a6c0u, 0x30704bc1u, 0x60e09782u, 0xc1c12f04u, 0x58f35849u,
          0xb1e6b092u),
    SLICE(0xcb5cd3a5u, 0x4dc8a10bu, 0x9b914216u, 0xec53826du, 0x03d6029bu, 0x07ac0536u, 0x0f580a6cu,
          0x1eb014d8u),
    SLICE(0xa6770bb4u, 0x979f1129u, 0xf44f2413u, 0x33ef4e67u, 0x67de9cceu, 0xcfbd399cu, 0x440b7579u,
          0x8816eaf2u),
    SLICE(0xccaa009eu, 0x4225077du, 0x844a0efau, 0xd3e51bb5u, 0x7cbb312bu, 0xf9766256u, 0x299dc2edu,
          0x533b85dau),
};

static uint32_t load(const unsigned char *bytes)
{
    return bytes[0] | (uint32_t)bytes[1] << 8 | (uint32_t)bytes[2] << 16 | (uint32_t)bytes[3] << 24;
}

uint32_t tu_crc32(const char *text, size_t length)
{
    const unsigned char *bytes = (const unsigned char *)text;
    uint32_t crc = 0xFFFFFFFFu;
    for (; length >= 8; length -= 8, bytes += 8) {
        uint32_t low = load(bytes) ^ crc, high = load(bytes + 4);
        crc = slice[7][low & 0xFF] ^ slice[6][low >> 8 & 0xFF] ^ slice[5][low >> 16 & 0xFF] ^
              slice[4][low >> 24] ^ slice[3][high & 0xFF] ^ slice[2][high >> 8 & 0xFF] ^
              slice[1][high >> 16 & 0xFF] ^ slice[0][high >> 24];
    }
    for (; length > 0; length--, bytes++)
        crc = crc >> 8 ^ slice[0][(crc ^ *bytes) & 0xFF];
    return ~crc;
}

void tu_crc32_format(char text[TU_CRC32_TEXT_SIZE], uint32_t crc)
{
    for (int i = 0; i < 8; i++)
        text[i] = "0123456789abcdef"[crc >> (28 - 4 * i) & 0xF];
    text[8] = '\0';
}
