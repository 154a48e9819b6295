#!/bin/sh
# replay.sh: the corpus of the fuzzer through its target.
set -eu
exec "${DREGS_BUILD:-build}/tests/replay"
