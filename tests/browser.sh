#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The reports in a real browser, see browser.py; every picture is XML; the same call gives the same
# bytes; a report is small and quick.
set -eu
name=dregs-predict
# shellcheck source=tests/tool.sh
. "${DREGS_SOURCE:-.}/tests/tool.sh"
data=$source/data
SOURCE_DATE_EPOCH=86400
export SOURCE_DATE_EPOCH

xml()
{
    /usr/bin/python3 - "$1" <<'PYTHON'
import sys
import xml.etree.ElementTree as tree
root = tree.parse(sys.argv[1]).getroot()
svg = "{http://www.w3.org/2000/svg}"
assert root.tag == svg + "svg", root.tag
assert root.find(svg + "title").text and root.find(svg + "desc").text
assert not [e for e in root.iter() if e.tag == svg + "script"]
PYTHON
}

# both FILE TOOL ARGUMENT...: a report as FILE.html, and each of its pictures
both()
{
    file=$1
    tool=$build/dregs-$2
    shift 2
    good --format html "$@"
    cp out "$file.html"
    good --format html "$@"
    cmp -s out "$file.html" || fail "$file: not the same bytes again"
    grep 'made 1970-01-02' out >/dev/null || fail "$file: not the day of SOURCE_DATE_EPOCH"
    good --format svg --picture list "$@"
    cut -d ' ' -f 1 out >names
    while read -r picture; do
        good --format svg --picture "$picture" "$@"
        cp out "$file-$picture.svg"
        xml "$file-$picture.svg" >err 2>&1 || fail "$file, picture $picture: no good XML"
    done <names
}

tail -c +2 "$source/tests/corpus/line-stages-64" >stages.csv
sed 's/^flush,flow,25,/flush,flow,12,/' "$data/solvent-shop.csv" >after.csv
both aqueous predict --draws 300 "$data/aqueous-line.csv"
both bench predict --draws 300 "$data/solvent-bench.csv"
both shop predict --draws 0 "$data/solvent-shop.csv"
both long predict --draws 0 "$source/bench/bench-line.csv"
both stages predict --draws 0 stages.csv
both vary size --vary last.flow --trade-off "$data/aqueous-line.csv"
both layouts size --stages 1..6 "$data/aqueous-line.csv"
both dry dry "$data/solvent-bench.csv"
both parts beaker parts --liquid isopropanol --beaker 200mL --drag-out 0.05mL --film 2g/L --limit 50mg/L
both rinses beaker rinses --liquid isopropanol --total 100mL --drag-out 0.05mL --times 4
both dips beaker fresh --liquid isopropanol --drag-out 0.05mL --film 2g/L --limit 20mg/L --mixing 50%
both open beaker open --liquid isopropanol --beaker 200mL --opening 7cm
both warm beaker warm --liquid water --beaker 3L --power 100W --at 20degC --to 40degC
both cool beaker cool --mass 15g --area 20cm2 --heat-capacity steel --from 80degC
both dryings dry --liquid isopropanol --film '20 um' --bead 0.2mL/m --recess-depth 3mm \
    --at 22degC --at 60degC
both oven dry --liquid isopropanol --film '20 um' --area '1 m2' --volume '1 m3' --at 60degC
both reuse reuse "$data/rinse-bench.csv" "$data/rinse-readings.csv"
both tally tally --law "$data/solvent-shop.csv"
both lines tally --loads 40 "$data/solvent-shop.csv" "$data/aqueous-line.csv"
both after tally "$data/solvent-shop.csv" after.csv
both liquid liquid isopropanol --at 25degC

# a name that would break out of its place
tool=$build/dregs-predict
sed 's/^first,/"<b onload=""x"">",/; s/,first,/,"<b onload=""x"">",/' line.csv >wild.csv
both wild predict wild.csv
grep -F '<b onload' wild.html ./wild-*.svg >err && fail 'a name is taken for an element'

tool=$build/dregs-predict
misuse 'needs --picture' --format svg line.csv
misuse '--picture goes with --format svg' --picture line line.csv
misuse "--picture 'none'" --format svg --picture none line.csv
misuse '--explain is text' --explain --format html line.csv
expect 3 --format html err
[ ! -s out ] || fail 'a page of a bad file'
"$tool" --format html - <line.csv >out 2>err || fail 'standard input as HTML'
grep 'standard input' out >/dev/null || fail 'standard input has no name'
# what has no room is said to be missing, and nothing else is missing
grep 'rest of the working is too long' stages.html >/dev/null || fail 'a page without end'
grep 'rest of the working is too long' aqueous.html >err && fail 'the working is not whole'
# the verdict has its flow with it
tr -d '\n' <vary.html | grep 'class="v met"><p class="w">[^<]*</p><p>flow of last = ' >err ||
    fail 'a verdict without what it is met with'
# the digest as another program works it out
if command -v sha256sum >/dev/null 2>&1; then
    grep -F "$(sha256sum <line.csv | cut -d ' ' -f 1)" out >/dev/null || fail 'another digest'
fi

[ $failed -eq 0 ] || exit 1
chromium=$(command -v chromium || command -v chromium-browser || :)
if [ -z "$chromium" ]; then
    echo 'skipped: no chromium; XML, bytes and names are as they should be'
    exit 77
fi
mkdir browser
/usr/bin/python3 "$source/tests/browser.py" "$chromium" "$work/browser" ./*.html >found 2>&1 || {
    sed 's/^/    /' found
    echo 'FAILED: in the browser'
    exit 1
}
cat found
