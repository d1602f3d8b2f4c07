/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * face.h - what the command line calls the fields that the library's messages name.
 */
#ifndef TU_CLI_FACE_H
#define TU_CLI_FACE_H

#include "trueup/face.h"

/* The options; tests/cli/test_face.py holds each against the source and the option tables. */
extern const tu_face tu_cli_face;

#endif
