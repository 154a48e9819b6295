#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# dregs_ask through the Python module: the answers of the tools, and what they say is wrong.
set -eu
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
ASK_WORK=$(mktemp -d)
trap 'rm -rf "$ASK_WORK"' EXIT
trap 'exit 1' HUP INT TERM
# shellcheck source=tests/python.sh
. "$source/tests/python.sh"
LC_ALL=C
PYTHONPATH=$source/python${PYTHONPATH:+:$PYTHONPATH}
PYTHONDONTWRITEBYTECODE=1
export ASK_WORK LC_ALL PYTHONPATH PYTHONDONTWRITEBYTECODE
preloaded "$python" "$source/tests/ask.py" "$tool" "$source/data"
