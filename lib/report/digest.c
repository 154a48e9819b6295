/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copyright (C) 2026 the dregs authors */
/* digest.c: SHA-256 (FIPS 180-4), by Nettle, which keeps no state of its own and needs no setting
 * up. */
#include "report/inside.h"

#include <nettle/sha2.h>

void dregs_report_digest(const char *bytes, size_t length, char into[DIGEST_TEXT])
{
    static const char digit[] = "0123456789abcdef";
    uint8_t digest[SHA256_DIGEST_SIZE];
    struct sha256_ctx state;
    size_t i;

    sha256_init(&state);
    sha256_update(&state, length, (const uint8_t *)bytes);
    sha256_digest(&state, sizeof digest, digest);
    for (i = 0; i < sizeof digest; i++) {
        into[2 * i] = digit[digest[i] >> 4];
        into[2 * i + 1] = digit[digest[i] & 15];
    }
    into[2 * i] = '\0';
}
