#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# replay.sh: the corpus of the fuzzer through its target.
set -eu
exec "${DREGS_BUILD:-build}/tests/replay"
