#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The page of the validation is what the checks give.
set -eu
command -v python3 >/dev/null 2>&1 || {
    echo 'no python3'
    exit 77
}
[ -x "$DREGS_BUILD/tests/test_checks" ] || {
    echo 'no tests/test_checks'
    exit 77
}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
DREGS_CHECKS_OUT=$work/got.csv "$DREGS_BUILD/tests/test_checks" >/dev/null
python3 "$DREGS_SOURCE/tests/validation_page.py" "$DREGS_SOURCE/tests/checks.csv" "$work/got.csv" \
    >"$work/page"
cmp "$work/page" "$DREGS_SOURCE/man/dregs-validation.7" || {
    echo 'man/dregs-validation.7 is not what the checks give: write it anew with'
    echo 'DREGS_CHECKS_OUT=got.csv BUILD/tests/test_checks, then'
    echo 'tests/validation_page.py tests/checks.csv got.csv >man/dregs-validation.7'
    exit 1
}
