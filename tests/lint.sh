#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The heads of the sources. The manual pages: mandoc has nothing to say against them; every option and
# every property of the line file stands in them.
set -eu
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
cc=${DREGS_CC:-cc}
mandoc=${DREGS_MANDOC:-$(command -v mandoc || :)}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
failed=0

fail()
{
    printf 'FAILED: %s\n' "$*"
    failed=1
}

line_page=$source/man/dregs-line.5
tools='dregs-predict dregs-size dregs-dry dregs-reuse dregs-tally dregs-liquid dregs-beaker dregs-new dregs-check'
for page in "$line_page" "$source/man/dregs.1" "$source/man/dregs-predict.1" "$source/man/dregs-size.1" \
    "$source/man/dregs-dry.1" "$source/man/dregs-reuse.1" "$source/man/dregs-tally.1" \
    "$source/man/dregs-liquid.1" "$source/man/dregs-beaker.1" "$source/man/dregs-new.1" "$source/man/dregs-check.1"; do
    [ -f "$page" ] || fail "no page ${page#"$source"/}"
done
[ $failed -eq 0 ] || exit 1

# every source says whose it is and under which licence: data and what tests read say so in LICENSE
# alone
(cd "$source" && find lib tools tests bench man examples python data debian Makefile.am configure.ac \
    bootstrap .ci/run \( -path tests/corpus -o -path tests/faults -o -name .deps -o -name .libs \) -prune \
    -o -type f \( -name '*.[chR]' -o -name '*.sh' -o -name '*.py' -o -name '*.mk' -o -name '*.map' \
    -o -name '*.sbatch' -o -path debian/rules -o -path debian/tests/library -o -path debian/tests/tools \
    -o -path Makefile.am -o -path configure.ac -o -path bootstrap -o -path .ci/run \) -exec awk '
        FNR == 1 { name[++files] = FILENAME }
        FNR <= 3 && /SPDX-License-Identifier: GPL-3\.0-or-later/ { licence[FILENAME] = 1 }
        FNR <= 3 && /Copyright \(C\) 2026 the dregs authors/ { owner[FILENAME] = 1 }
        END { for (i = 1; i <= files; i++)
            print(licence[name[i]] && owner[name[i]] ? "headed" : "bare", name[i]) }' {} +) >"$work/heads"
grep -c '^headed ' "$work/heads" >"$work/count" || :
[ "$(cat "$work/count")" -gt 600 ] || fail "only $(cat "$work/count") sources were looked at"
while read -r state file; do
    [ "$state" = headed ] || fail "$file does not begin with the copyright and the licence (SPDX)"
done <"$work/heads"

# options: in mdoc "Fl -loads" is what prints as "--loads"
for tool in $tools; do
    page=$source/man/$tool.1
    "$build/dregs" "$tool" --help | sed -n 's/^  --\([a-z-]*\).*/\1/p' >"$work/options"
    [ -s "$work/options" ] || fail "no option in $tool --help"
    while read -r option; do
        grep -E "^\.(It|Nm|Op) ?.*Fl -$option( |\$)|^\.Fl -$option( |\$)" "$page" >/dev/null ||
            fail "--$option is not in $tool.1"
    done <"$work/options"
    grep -o 'Fl -[a-z-]*' "$page" | sed 's/Fl -//' | sort -u >"$work/written"
    while read -r option; do
        grep -x -- "$option" "$work/options" >/dev/null ||
            fail "$tool.1 tells of --$option, which is no option"
    done <"$work/written"
done

# properties, as the library lists them
cat >"$work/list.c" <<'C'
#include "dregs/line.h"
#include <stdio.h>
int main(void)
{
    dregs_line_property property;
    size_t i;

    for (i = 0; dregs_line_grammar(i, &property); i++)
        printf("%s|%s\n", property.kind, property.property);
    return 0;
}
C
# shellcheck disable=SC2086
"$build/libtool" --quiet --tag=CC --mode=link $cc ${DREGS_SANITIZE:-} -I"$source/lib/include" \
    -o "$work/list" "$work/list.c" "$build/libdregs.la"
"$work/list" >"$work/properties"
[ -s "$work/properties" ] || fail 'the library lists no property'
# what the page sets as a name: lines .Sy or .It Sy, several names parted by commas, and a solute's
# name or a number as Ao Ar solute Ac
sed -n -e 's/Ao Ar \([a-z]*\) Ac/<\1>/g' -e 's/\\-/-/g' -e 's/"//g' \
    -e 's/^\.It Sy //p' -e 's/^\.Sy //p' -e 's/^\.It <solute>/<solute>/p' "$line_page" |
    sed 's/ *[,.;:]/\n/g; s/ Sy /\n/g' | sed -e 's/^ *//' -e 's/ *$//' -e 's/^Sy //' >"$work/names"
while IFS='|' read -r kind property; do
    grep -x -F -- "$property" "$work/names" >/dev/null ||
        fail "property '$property' of $kind is not in dregs-line.5"
    grep -w -- "$kind" "$line_page" >/dev/null || fail "kind $kind is not in dregs-line.5"
done <"$work/properties"

if [ -n "$mandoc" ]; then
    for page in "$source"/man/*.[1-9]; do
        "$mandoc" -Tlint -W warning "$page" >"$work/lint" 2>&1 || :
        if [ -s "$work/lint" ]; then
            fail "mandoc -Tlint ${page#"$source"/}"
            sed 's/^/    /' "$work/lint"
        fi
    done
elif [ $failed -eq 0 ]; then
    echo 'skipped: mandoc is not installed; options and properties are all in the pages'
    exit 77
fi
# no function of the library or the tools is longer than 60 lines, braces included
find "$source/lib" "$source/tools" -name '*.c' | while read -r file; do
    awk -v file="${file#"$source"/}" '/^\{/ { begin = NR }
        /^\}/ { if (begin && NR - begin + 1 > 60) print file ":" begin ": " NR - begin + 1 " lines"
                begin = 0 }' "$file"
done >"$work/long"
[ ! -s "$work/long" ] || fail "longer than 60 lines: $(tr '\n' ' ' <"$work/long")"

exit $failed
