#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# ./bootstrap: a line per step, what the steps say in a log, its end when one fails, counts of tests.
# It runs in a tree of its own whose build is a few words long, and installs nothing: the apt-get and
# the sudo that it finds are ours.
set -eu
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
unset MAKEFLAGS MFLAGS MAKELEVEL
failed=0

fail()
{
    printf 'FAILED: %s\n' "$*"
    sed 's/^/    /' "$work/out" "$work/err"
    failed=1
}

mkdir -p "$work/tree/data" "$work/bin"
cp "$source/bootstrap" "$work/tree/"
touch "$work/tree/configure.ac" "$work/tree/data/aqueous-line.csv"
cat >"$work/tree/configure" <<'END'
#!/bin/sh
echo 'what configure says'
cat >Makefile <<'MAKE'
all: ; @echo 'what make says'; test ! -e ../broken && printf '#!/bin/sh\necho answer\n' >dregs-predict && chmod +x dregs-predict
check: ; @echo 'what the tests say'; echo 'PASS: a 1'; test -e ../good || echo 'FAIL: b.sh'; cp ../suite test-suite.log; test -e ../good
MAKE
echo 'S["HAVE_CHECK_TRUE"]=""' >config.status
END
printf '#!/bin/sh\necho "apt-get $*" >>"%s"\nexit 1\n' "$work/apt" >"$work/bin/apt-get"
printf '#!/bin/sh\nexit 1\n' >"$work/bin/sudo"
printf '#!/bin/sh\nexit 0\n' >"$work/bin/found"
chmod +x "$work"/bin/* "$work/tree/configure"
# what it asks for is there, whatever this system has
for name in autoconf automake libtoolize gcc g++ cc pkg-config xz mandoc units python3; do
    ln -s found "$work/bin/$name"
done
sed -i -e "s|/usr/share/i18n/locales/de_DE|$work|" -e "s|/usr/bin/python3 -c|python3 -c|" "$work/tree/bootstrap"
touch "$work/tree/configure"
PATH=$work/bin:$PATH CC=cc
export PATH CC

# run STATUS VERB
run()
{
    got=0
    "$work/tree/bootstrap" "$2" >"$work/out" 2>"$work/err" || got=$?
    [ "$got" -eq "$1" ] || fail "bootstrap $2: exit $got, expected $1"
}

log=$work/tree/build/bootstrap.log
run 0 demo
[ "$(cat "$work/out")" = answer ] || fail 'the answer is not alone on standard output'
sed 's/[0-9]* s$/N s/' "$work/err" >"$work/steps"
printf 'preparing ... N s\nconfiguring ... N s\nbuilding ... N s\n' | cmp -s - "$work/steps" ||
    fail 'not a line per step'
for said in 'what configure says' 'what make says'; do
    grep "$said" "$log" >/dev/null || fail "the log does not hold $said"
done

# 12 tests, of which 9 passed, 2 failed and 1 was skipped
printf '# TOTAL: 12\n# PASS:  9\n# SKIP:  1\n# XFAIL: 0\n# FAIL:  1\n# XPASS: 0\n# ERROR: 1\n' \
    >"$work/tree/suite"
run 1 check
grep -x '9 passed, 2 failed, 1 skipped' "$work/out" >/dev/null || fail 'the counts'
grep -x '    failed: b.sh' "$work/err" >/dev/null || fail 'what failed is not named'
grep 'build/test-suite.log' "$work/err" >/dev/null || fail 'where it says why is not told'
touch "$work/tree/good"
printf '# TOTAL: 9\n# PASS:  9\n# SKIP:  0\n# XFAIL: 0\n# FAIL:  0\n# XPASS: 0\n# ERROR: 0\n' \
    >"$work/tree/suite"
run 0 check
grep -x '9 passed, 0 failed, 0 skipped' "$work/out" >/dev/null || fail 'the counts when all is well'

touch "$work/tree/broken"
run 1 build
grep 'building ... FAILED' "$work/err" >/dev/null || fail 'the step that failed is not named'
grep '    what make says' "$work/err" >/dev/null || fail 'the end of the log is not shown'
grep -F "$log" "$work/err" >/dev/null || fail 'the log is not named'
rm "$work/tree/broken"

# without the packages, and without root: the command, and nothing is installed
rm -f "$work/bin/pkg-config"
printf '#!/bin/sh\nexit 1\n' >"$work/bin/pkg-config"
printf '#!/bin/sh\necho 1000\n' >"$work/bin/id"
chmod +x "$work/bin/pkg-config" "$work/bin/id"
run 1 demo
grep -x '    apt-get update && apt-get install -y --no-install-recommends libgsl-dev libjansson-dev libnlopt-dev nettle-dev ' \
    "$work/err" >/dev/null || fail 'the command that installs what is missing'
[ ! -e "$work/apt" ] || fail "apt-get was run: $(cat "$work/apt")"
run 0 needs
grep -x 'libgsl-dev libjansson-dev libnlopt-dev nettle-dev ' "$work/out" >/dev/null || fail 'needs'
# with root it installs, and says what failed
printf '#!/bin/sh\necho 0\n' >"$work/bin/id"
run 1 demo
grep -x 'apt-get update -q' "$work/apt" >/dev/null || fail 'apt-get was not run'
grep 'installing libgsl-dev' "$work/err" >/dev/null || fail 'the step that installs is not named'
run 2 nonsense

exit $failed
