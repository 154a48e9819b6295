#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# A run in parts by GNU parallel, one killed half way and resumed, and by an array of Slurm jobs
# with a merge that depends on it: the answers are those of one run.
set -eu
name=dregs-predict
# shellcheck source=tests/tool.sh disable=SC1091
. "${DREGS_SOURCE:-.}/tests/tool.sh"
PATH=$build:$PATH
export PATH
draws=2400
ran=0

good --draws "$draws" --format json line.csv
cp out whole

# ---- GNU parallel ----
if command -v parallel >/dev/null 2>&1; then
    ran=1
    mkdir by-parallel
    cp line.csv by-parallel
    cd by-parallel
    cat >part.sh <<'PART'
#!/bin/sh
# part 5 is killed the first time, half way through a run that would take hours
if [ "$1" -eq 5 ] && [ ! -e killed ]; then
    touch killed
    timeout -s KILL 0.5 dregs-predict --threads 1 --draws 1e9 --shard 5/8 --save part-5.csv line.csv
    exit 1
fi
exec dregs-predict --threads 1 --draws "$2" --shard "$1/8" --save "part-$1.csv" line.csv
PART
    chmod +x part.sh
    run_parts()
    {
        parallel -j 2 --joblog log "$@" ./part.sh '{}' "$draws" ::: 1 2 3 4 5 6 7 8 </dev/null \
            >"$work/out" 2>"$work/err"
    }
    ! run_parts || fail 'a part that was killed is not missed'
    [ -e killed ] || fail 'nothing was killed'
    [ ! -e part-5.csv ] || fail 'a part that was killed has left a file'
    expect 3 --merge line.csv part-*.csv
    grep 'part 5 of 8 is missing' err >/dev/null || fail 'the missing part is not named'
    run_parts --resume-failed || fail 'GNU parallel does not resume'
    cd "$work"
    good --format json --merge line.csv by-parallel/part-*.csv
    cmp -s whole out || fail 'the parts of GNU parallel are not the whole'
else
    echo 'not run: GNU parallel (Debian: parallel)'
fi

# ---- Slurm ----
mkdir by-slurm
cp line.csv "$source"/examples/*.sbatch by-slurm
cat >by-slurm/submit.sh <<'SUBMIT'
set -eu
job=$(sbatch --parsable --array=1-4 ensemble.sbatch line.csv "$1")
sbatch --wait --dependency=afterok:"$job" ensemble-merge.sbatch line.csv >/dev/null
SUBMIT
got=0
(cd by-slurm && timeout 120 bash "$source/tests/slurm-one-node.sh" sh submit.sh "$draws") \
    >out 2>err || got=$?
if [ "$got" -eq 77 ]; then
    echo "not run: Slurm ($(tail -n 1 err))"
elif [ "$got" -ne 0 ]; then
    cat by-slurm/*.log >>err 2>/dev/null || :
    fail "the array of jobs ended with $got"
else
    ran=1
    cmp -s whole by-slurm/answer.json || fail 'the parts of Slurm are not the whole'
fi

[ "$failed" -eq 0 ] || exit 1
[ "$ran" -eq 1 ] || exit 77
