/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * version.h - which version these headers are of. Before 1.0.0 a minor version may change any of
 * them; the shared library's name then changes too.
 */
#ifndef TRUEUP_VERSION_H
#define TRUEUP_VERSION_H

#define TRUEUP_VERSION_MAJOR 0
#define TRUEUP_VERSION_MINOR 1
#define TRUEUP_VERSION_PATCH 0
#define TRUEUP_VERSION       "0.1.0"

#endif
