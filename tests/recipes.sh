#!/bin/sh
# Exports: wide CSV, the Python module.
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
exit $failed
