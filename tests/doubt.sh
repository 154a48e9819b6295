#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# How sure dregs-predict is: draws, their options, threads, --check by the target's confidence.
set -eu
name=dregs-predict
# shellcheck source=tests/tool.sh disable=SC1091
. "${DREGS_SOURCE:-.}/tests/tool.sh"

misuse "--draws '-1' is not a whole number" --draws -1 line.csv
misuse "--draws '1.5' is not a whole number" --draws 1.5 line.csv
misuse "--draws 'nan' is not a whole number" --draws nan line.csv
misuse "--draws '1e30' is not a whole number" --draws 1e30 line.csv
misuse "--seed 'x' is not a whole number" --seed x line.csv
misuse "--threads '0' is not a whole number from 1 to 256" --threads 0 line.csv

# ---- the same for any threads, another one for another seed ----
good --draws 300 --threads 1 --format json line.csv
cp out one
for threads in 2 7; do
    good --draws 300 --threads "$threads" --format json line.csv
    cmp -s one out || fail "$threads threads change the answer"
done
good --draws 300 --seed 2 --format json line.csv
! cmp -s one out || fail 'another seed changes nothing'

# ---- without draws nothing is drawn, for the shares of the doubt either ----
good --draws 0 line.csv
! grep -E 'draws|of the doubt|measure .* first' out >/dev/null ||
    fail 'no draws, and yet some are spoken of'
good --draws 300 line.csv
prints 'of the doubt'
sed -n '/of the doubt/,/^$/p' out >shares
good --draws 300 --seed 0 line.csv
prints 'of the doubt'
sed -n '/of the doubt/,/^$/p' out >other
! cmp -s shares other || fail 'another seed leaves the shares of the doubt'

# ---- properties of liquids by their accuracy; what can be measured in their place ----
cp "$source/data/solvent-bench.csv" bench.csv
cat >vague.csv <<'LIQUIDS'
liquid,property,equation,unit,A,low,high,source,accuracy
isopropanol,viscosity,A,mPa.s,2.2,250,350,invented,80 % estimated
isopropanol,surface tension,A,mN/m,21,250,350,invented,
LIQUIDS
sed 's/^grease,on parts,.*/grease,on parts,1e-6,mg,1%,/' bench.csv >thin.csv
good --liquids vague.csv thin.csv
prints 'draws of the 2 values with a spread and 8 properties of liquids'
prints 'measure first: the drag-out, for isopropanol.viscosity (accuracy 80 %)'
good --liquids vague.csv --explain thin.csv
prints 'isopropanol: viscosity times exp('
prints 'surface tension of isopropanol: exact, its row states no accuracy'
good --liquids vague.csv --format json thin.csv
prints '"properties_drawn": 8'
prints '["isopropanol","viscosity",'
sed 's/,[0-9][0-9]*%,/,,/' thin.csv >sure.csv
good --liquids vague.csv sure.csv
! grep 'draws of' out >/dev/null || fail 'properties are drawn of a line without any spread'

# ---- how many where nobody says: the same for any number of threads ----
good --threads 1 --format json line.csv
cp out one
good --threads 3 --format json line.csv
cmp -s one out || fail 'threads change how many draws there are'
good line.csv
prints 'all limits kept in 80 % of 1000 draws of the 12 values with a spread (95 %'

# ---- the stated values answer as ever ----
# the rows on doubt are of random points
good --draws 0 --format csv line.csv
cp out stated
good --draws 300 --format csv line.csv
cmp -s stated out || fail 'draws change the stated answer'
good --draws 0 line.csv
prints 'spreads'
good --draws 300 line.csv
prints 'met in all draws'
prints ' % of 300 draws of the 12 values with a spread (95 %'
! grep 'spreads$' out >/dev/null || fail 'spreads are said not to be used'
good --draws 300 --explain line.csv
prints '10. How sure: 300 draws, seed 1'
prints 'bath: drag-out = exp('

# ---- the confidence decides --check ----
# a limit that the stated values meet and about a third of the draws miss
sed 's|^limit,residue,1,|limit,residue,0.11,|' line.csv >narrow.csv
expect 0 --draws 0 --check narrow.csv
expect 0 --draws 500 --check narrow.csv
prints 'met in only'
{ cat narrow.csv && echo 'limit,confidence,95,%'; } >sure.csv
expect 1 --draws 500 --check sure.csv
prints 'NOT SURE ENOUGH: the target is to be met with a probability of 95 %'
[ "$(sed -n 3p out | cut -c 1-15)" = 'NOT SURE ENOUGH' ] || fail 'it is not the first line'
expect 0 --draws 0 --check sure.csv
# the least detergent is kept in four of five draws only: far from the residue's limit, and yet missed
{ cat line.csv && echo 'limit,confidence,95,%'; } >bath.csv
expect 0 --draws 0 --check bath.csv
expect 1 --draws 500 --check bath.csv
prints 'NOT SURE ENOUGH'
prints 'of draws'
prints 'keep all limits (95 %'
prints 'g/L (90.31 %); kept in only'
prints 'all limits kept in'
sed -e '/least detergent/d' -e '/most oil/d' bath.csv >far.csv
expect 0 --draws 500 --check far.csv
prints 'sure enough: the target'
expect 1 --draws 3 --check far.csv
prints 'CANNOT BE TOLD with 3 draws'

# ---- what cannot be drawn ----
sed 's|^bath,removal,99.8,%,,|bath,removal,99.8,%,5%,|' line.csv >wide.csv
expect 3 --draws 10 wide.csv
[ ! -s out ] || fail 'something on standard output'
grep -F "wide.csv:25: removal of 'bath': a share of 99.8 % cannot have a spread of 5%; the largest is 4.468 %" err >/dev/null ||
    fail 'a spread that no share can have'
good --draws 0 wide.csv
# 1 part with a spread of 80 % is none in some draws
sed 's|^basket,parts,24,1,|basket,parts,1,1,80%|' line.csv >parts.csv
good --draws 200 parts.csv
prints 'of the draws cannot be worked out and count as not met'

# ---- progress on a terminal, and Ctrl-C: an answer from what is there, marked as such ----
/usr/bin/python3 - "$tool" <<'PYTHON' >err 2>&1 || fail 'Ctrl-C, or progress'
import os, pty, re, signal, subprocess, sys, time

def begin(**more):
    # a shell in the background has its jobs ignore Ctrl-C, which is not what is tested
    return subprocess.Popen([sys.argv[1], "--draws", "1e9", "line.csv"], stdout=subprocess.PIPE,
                            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL), **more)

def until_caught(process):
    """The draws have begun once Ctrl-C no longer ends the program, or the script before it."""
    for _ in range(600):
        with open("/proc/%d/status" % process.pid) as status:
            caught = int(re.search(r"SigCgt:\s*(\w+)", status.read()).group(1), 16)
        program = os.path.basename(os.readlink("/proc/%d/exe" % process.pid))
        if "dregs" in program and caught >> (signal.SIGINT - 1) & 1:
            return time.sleep(0.2)
        time.sleep(0.1)
    raise AssertionError("Ctrl-C is not caught")

def end(process):
    process.send_signal(signal.SIGINT)
    words = " ".join(process.stdout.read().decode().split())
    assert process.wait(60) == -signal.SIGINT, process.returncode
    assert re.search(r"PARTIAL: ended after \d+ of 1000000000 draws", words), words
    assert "target met" in words

there, terminal = pty.openpty()
process = begin(stderr=terminal)
os.close(terminal)
shown = b""
while b"%" not in shown:
    shown += os.read(there, 1000)
end(process)
shown += os.read(there, 1000)
assert re.search(rb"\r ?\d+ % of the draws done, \d+ s left", shown), shown
assert shown.endswith(b"\r\x1b[K"), shown # it is taken away again

process = begin(stderr=subprocess.PIPE)
until_caught(process)
time.sleep(1)
end(process)
assert process.stderr.read() == b"" # no terminal, no progress

# a part that was not done is not written
process = subprocess.Popen([sys.argv[1], "--draws", "1e9", "--save", "part", "line.csv"],
                           stderr=subprocess.PIPE,
                           preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL))
until_caught(process)
process.send_signal(signal.SIGINT)
assert b"ended before all draws were done: part is not written" in process.stderr.read()
assert process.wait(60) == -signal.SIGINT and not os.path.exists("part")
PYTHON

exit "$failed"
