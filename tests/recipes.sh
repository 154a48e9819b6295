#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# Exports: wide CSV, the Python module, the recipes of examples/ for SQLite and pandas.
set -eu
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
RECIPES_WORK=$(mktemp -d)
trap 'chmod -R u+w "$RECIPES_WORK"; rm -rf "$RECIPES_WORK"' EXIT
trap 'exit 1' HUP INT TERM
# shellcheck source=tests/python.sh
. "$source/tests/python.sh"
LC_ALL=C
PYTHONPATH=$source/python${PYTHONPATH:+:$PYTHONPATH}
PYTHONDONTWRITEBYTECODE=1
PATH=$build:$PATH
export RECIPES_WORK LC_ALL PYTHONPATH PYTHONDONTWRITEBYTECODE PATH
failed=0
cp -R "$source/data" "$RECIPES_WORK/data"
preloaded "$python" "$source/tests/recipes.py" "$tool" "$source" || failed=1
cd "$RECIPES_WORK"

if command -v sqlite3 >/dev/null 2>&1; then
    # twice: the database that is there already is made anew
    for _ in 1 2; do
        sh "$source/examples/sqlite.sh" lines.db data/aqueous-line.csv data/rinse-bench.csv \
            >sql.csv || failed=1
    done
    # the load and the residue that the long CSV itself has
    dregs predict --draws 0 --format csv data/rinse-bench.csv | awk -F, '
        $3 == "total" && $4 == "residue" && $1 != "" && $5 + 0 > most { most = $5 + 0; load = $1 }
        END { printf "data/rinse-bench.csv,%s,%.6g\n", load, most }' >wanted
    awk -F, '$1 == "data/rinse-bench.csv" { printf "%s,%s,%.6g\n", $1, $2, $3 }' sql.csv >got
    if ! cmp -s wanted got || [ "$(wc -l <sql.csv)" -ne 3 ]; then
        echo 'FAILED: examples/sqlite.sh'
        cat wanted sql.csv
        failed=1
    fi
else
    echo 'not run: examples/sqlite.sh (no sqlite3)'
fi

if [ -z "${DREGS_SANITIZE:-}" ] && "$python" -c 'import pandas' 2>/dev/null; then
    if ! "$python" "$source/examples/tables-pandas.py" data/aqueous-line.csv >frames 2>&1 ||
        ! grep -E '^ *100 +[0-9.e-]+ ug/cm2$' frames >/dev/null ||
        ! grep 'concentration\|bath' frames >/dev/null ||
        ! grep -E '^ *counterflow +3 +flow +[0-9.]+ +L/h$' frames >/dev/null; then
        echo 'FAILED: examples/tables-pandas.py'
        cat frames
        failed=1
    fi
else
    echo 'not run: examples/tables-pandas.py (no pandas)'
fi
exit $failed
