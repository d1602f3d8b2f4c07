/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * face.h - what the command line calls the fields that the library's messages name.
 */
#ifndef TU_CLI_FACE_H
#define TU_CLI_FACE_H

#include "trueup/face.h"
#include "trueup/warning.h"

/* The options; tests/cli/test_face.py holds each against the source and the option tables. */
extern const tu_face tu_cli_face;

/* Say it in the words of a face, in place. */
void tu_face_say_error(const tu_face *face, tu_error *error);
void tu_face_say_warnings(const tu_face *face, tu_warnings *warnings);

#endif
