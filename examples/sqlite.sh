#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The loads of several lines in one SQLite database, and a question to it.
#
#     sh sqlite.sh lines.db data/aqueous-line.csv data/rinse-bench.csv
#
# Debian: sqlite3. The long CSV is already a table: a row for each value. A file that is imported
# into a table that is there already keeps its first row, so that only the first file brings it.
set -eu
[ $# -ge 2 ] || {
    echo 'usage: sqlite.sh DATABASE LINE...' >&2
    exit 2
}
database=$1
shift
csv=$(mktemp)
trap 'rm -f "$csv"' EXIT
trap 'exit 1' HUP INT TERM

sqlite3 "$database" 'DROP TABLE IF EXISTS loads; CREATE TABLE loads (file TEXT, load INTEGER,
    stage TEXT, solute TEXT, quantity TEXT, value REAL, unit TEXT)'
for line in "$@"; do
    dregs predict --draws 0 --format csv "$line" >"$csv"
    sqlite3 "$database" 'DROP TABLE IF EXISTS one' ".import --csv '$csv' one" \
        "INSERT INTO loads SELECT '$(printf '%s' "$line" | sed "s/'/''/g")',
            load, stage, solute, quantity, value, unit FROM one WHERE value <> ''" \
        'DROP TABLE one'
done

# which load of each line leaves most, of those that were listed?
sqlite3 -header -csv "$database" "SELECT file, load, max(value) AS residue, unit FROM loads
    WHERE quantity = 'residue' AND solute = 'total' AND load <> '' GROUP BY file ORDER BY file"
