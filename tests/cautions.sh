#!/bin/sh
# The page of the cautions is what the rules say.
set -eu
"$DREGS_BUILD/tests/cautions_page" | cmp - "$DREGS_SOURCE/man/dregs-cautions.7" || {
    echo 'man/dregs-cautions.7 is not what the rules say: write it anew with tests/cautions_page'
    exit 1
}
