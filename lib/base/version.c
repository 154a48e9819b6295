/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* version.c: the library's version. */
#include "dregs/version.h"

const char *dregs_version(void)
{
    return PACKAGE_VERSION;
}
