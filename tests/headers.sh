#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# The library as others use it: headers that stand alone, exported names, what it never calls,
# an installed tree used through pkg-config, threads.
set -eu
build=$(cd "${DREGS_BUILD:-./build}" && pwd)
source=$(cd "${DREGS_SOURCE:-.}" && pwd)
cc=${DREGS_CC:-cc}
cxx=${DREGS_CXX-c++}
sanitize=${DREGS_SANITIZE:-}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
trap 'exit 1' HUP INT TERM
failed=0

fail()
{
    printf 'FAILED: %s\n' "$*"
    failed=1
}

if ! $cc --version >/dev/null 2>&1; then
    echo "skipped: no C compiler ($cc)"
    exit 77
fi
if [ -n "$cxx" ] && ! $cxx --version >/dev/null 2>&1; then
    cxx=
fi
[ -n "$cxx" ] || echo 'not run: headers as C++ (no C++ compiler)'

# ---- each header alone, as strict C and as C++ ----
for header in "$source"/lib/include/dregs/*.h; do
    name=dregs/$(basename "$header")
    # twice, so that the guard is tested; the last line keeps the unit from being empty
    printf '#include "%s"\n#include "%s"\nextern int dregs_used;\n' "$name" "$name" >"$work/one.c"
    cp "$work/one.c" "$work/one.cc"
    # shellcheck disable=SC2086
    $cc -std=c11 -pedantic -Wall -Wextra -Wstrict-prototypes -Werror -I"$source/lib/include" \
        -fsyntax-only "$work/one.c" || fail "$name as C11"
    # shellcheck disable=SC2086
    [ -z "$cxx" ] || $cxx -pedantic -Wall -Wextra -Werror -I"$source/lib/include" -fsyntax-only \
        "$work/one.cc" || fail "$name as C++"
    [ "$name" = dregs/dregs.h ] || grep -F "#include \"$name\"" "$source/lib/include/dregs/dregs.h" \
        >/dev/null || fail "dregs.h does not include $name"
done

# ---- exported names; what is never called ----
shared=$build/.libs/libdregs.so
if command -v nm >/dev/null 2>&1; then
    if [ -f "$shared" ]; then
        # the name of a version is no function; behind @@ stands the version of a name
        nm -D --defined-only "$shared" | awk '$2 != "A" { print $NF }' >"$work/versioned"
        sed 's/@.*//' "$work/versioned" >"$work/exported"
        [ -s "$work/exported" ] || fail 'nothing is exported'
        if grep '@@DREGS_0$' "$work/versioned" >/dev/null; then
            grep '^dregs_' "$work/versioned" | grep -v '@@DREGS_0' >"$work/bare" || :
            [ ! -s "$work/bare" ] || fail "without a version: $(tr '\n' ' ' <"$work/bare")"
        else
            echo 'not run: versions of names (the linker gives none)'
        fi
        grep -v '^dregs_' "$work/exported" >"$work/foreign" || :
        if [ -z "$sanitize" ] && [ -s "$work/foreign" ]; then
            fail "exported without the prefix: $(tr '\n' ' ' <"$work/foreign")"
        fi
        # each exported name is declared in a public header, and each declared one exported
        cat "$source"/lib/include/dregs/*.h >"$work/public"
        grep -o -w 'dregs_[A-Za-z0-9_]*' "$work/public" | sort -u >"$work/mentioned"
        grep '^dregs_' "$work/exported" | grep -v -x -F -f "$work/mentioned" >"$work/unknown" || :
        while read -r name; do
            fail "$name is exported but in no header"
        done <"$work/unknown"
        # declarations run over lines, so they are joined; the name stands before the first (
        tr '\n' ' ' <"$work/public" | grep -o 'DREGS_API [^#;(]*(' |
            sed -n 's/.*[ *]\(dregs_[a-z0-9_]*\)($/\1/p' | sort -u >"$work/declared"
        [ "$(wc -l <"$work/declared")" -gt 50 ] || fail 'the declarations were not found'
        grep -v -x -F -f "$work/exported" "$work/declared" >"$work/unknown" || :
        while read -r name; do
            fail "$name is declared but not exported"
        done <"$work/unknown"
    else
        echo 'not run: exported names (no shared library)'
    fi
    # without a static library there are the objects of the shared one alone
    find "$build/lib" -name '*.o' ! -path '*/.libs/*' >"$work/objects"
    [ -s "$work/objects" ] || find "$build/lib" -name '*.o' >"$work/objects"
    [ -s "$work/objects" ] || fail 'no objects of the library'
    while read -r object; do
        nm -A -u "$object"
    done <"$work/objects" | sed -e 's/@.*//' -e 's/  */ /' >"$work/needed"
    grep -w malloc "$work/needed" >/dev/null || fail 'what the library calls was not found'
    # no `printf` alone: GCC turns it into puts and putchar, so those are looked for too
    grep -E ' _?_?(exit|_exit|abort|getenv|secure_getenv|setlocale|uselocale|signal|sigaction|raise|v?printf(_chk)?|puts|putchar|putc|perror|stdout|stderr|setenv|putenv|atexit|strtok|rand|srand|atof|sscanf|isoc99_sscanf)$' \
        "$work/needed" >"$work/called" || :
    while read -r call; do
        fail "calls what it must not: ${call#"$build"/}"
    done <"$work/called"
else
    echo 'not run: symbols (no nm)'
fi

# ---- installed, found by pkg-config, linked both ways ----
cat >"$work/use.c" <<'C'
#include <dregs/dregs.h>
#include <stdio.h>
#include <string.h>

/* One still rinse of 1 L with a load of 1 m2 that leaves 100 mL of film: of the 1 g of soil that it
 * brings, all taken off at once, the film keeps 1 g x 100/1000; spread over 1 m2 that is 1e-4 kg. */
static const char text[] = "item,property,value,unit\n"
                           "a,kind,load,\na,parts,1,\na,area,1,m2\na,interval,1,h\n"
                           "soil,kind,solute,\nsoil,on parts,1,g\n"
                           "w,kind,liquid,\nw,solvent,water,\n"
                           "r,kind,rinse,\nr,volume,1,L\nr,liquid,w,\nr,removal,100,%\nr,film,100,um\n";

int main(void)
{
    dregs_liquids *liquids = dregs_liquids_new();
    dregs_faults faults = {0};
    dregs_line *line = NULL;
    dregs_map *map = NULL;
    dregs_state *state = NULL;
    dregs_residue residue;
    int good = 0;

    if (liquids && !dregs_line_parse("use", text, strlen(text), liquids, &line, &faults) &&
        !dregs_map_new(line, &map) && (state = dregs_state_new(map)) != NULL) {
        dregs_residue_next(state, &residue);
        good = residue.total > 1e-4 * (1 - 1e-12) && residue.total < 1e-4 * (1 + 1e-12);
        printf("%s %.17g\n", dregs_version(), residue.total);
    } else
        printf("%s\n", faults.fault[0].text);
    dregs_state_free(state);
    dregs_map_free(map);
    dregs_line_free(line);
    dregs_liquids_free(liquids);
    return !good;
}
C
: "${MAKE:=make}"
if ! $MAKE -C "$build" install DESTDIR="$work/tree" >"$work/log" 2>&1; then
    fail 'make install'
    tail -n 20 "$work/log"
    exit 1
fi
pc=$(find "$work/tree" -name libdregs.pc)
[ -n "$pc" ] || fail 'libdregs.pc is not installed'
if ! command -v pkg-config >/dev/null 2>&1; then
    echo 'not run: the installed tree (no pkg-config)'
else
    PKG_CONFIG_PATH=$(dirname "$pc")${PKG_CONFIG_PATH:+:$PKG_CONFIG_PATH}
    export PKG_CONFIG_PATH
    prefix=$(pkg-config --variable=prefix libdregs)
    # the tree stands elsewhere than it was made for; only our own prefix is moved
    flags() { pkg-config --define-variable=prefix="$work/tree$prefix" "$@" libdregs; }
    include=$(flags --cflags)
    case "$include" in
    *"$work/tree"*) ;;
    *) include="-I$work/tree$prefix/include" ;;
    esac
    libdir=$(dirname "$(dirname "$pc")")
    # shellcheck disable=SC2046,SC2086
    if $cc -std=c11 -pedantic -Wall -Werror $sanitize $include "$work/use.c" -o "$work/shared" \
        -L"$libdir" $(flags --libs); then
        LD_LIBRARY_PATH=$libdir${LD_LIBRARY_PATH:+:$LD_LIBRARY_PATH} "$work/shared" \
            >"$work/shared.txt" || fail "the shared program: $(cat "$work/shared.txt")"
    else
        fail 'a program against the shared library'
    fi
    if [ -f "$libdir/libdregs.a" ]; then
        mkdir "$work/static"
        cp "$libdir/libdregs.a" "$work/static/"
        # shellcheck disable=SC2046,SC2086
        if $cc -std=c11 $sanitize $include "$work/use.c" -o "$work/fixed" -L"$work/static" \
            $(flags --static --libs | sed "s|-L${libdir}[^ ]*||g"); then
            "$work/fixed" >"$work/static.txt" || fail "the static program: $(cat "$work/static.txt")"
            cmp -s "$work/shared.txt" "$work/static.txt" || fail 'shared and static differ'
        else
            fail 'a program against the static library'
        fi
    else
        echo 'not run: a static program (no static library)'
    fi
    if [ -n "$cxx" ]; then
        cp "$work/use.c" "$work/use.cc"
        # shellcheck disable=SC2046,SC2086
        $cxx $sanitize $include "$work/use.cc" -o "$work/plus" -L"$libdir" $(flags --libs) &&
            LD_LIBRARY_PATH=$libdir "$work/plus" >/dev/null || fail 'a C++ program'
    fi
fi
for wanted in bin/dregs-predict include/dregs/line.h; do
    find "$work/tree" -path "*/$wanted" | grep . >/dev/null || fail "$wanted is not installed"
done

# ---- the programs of libdregs(3) and its pages: compiled as they are printed, and run ----
# programs PAGE SECTION: into PAGE1.c and so on
programs()
{
    awk -v to="$work/$1" '
        /^\.Sh / { inside = /^\.Sh EXAMPLES/ }
        inside && /^\.Ed/ { shown = 0 }
        inside && shown { gsub(/\\e/, "\\"); print > (to count ".c") }
        inside && /^\.Bd -literal/ { shown = 1; count++ }' "$source/man/$1.$2"
}
# runs PROGRAM ARGUMENT...
runs()
{
    program=$1
    shift
    # shellcheck disable=SC2086
    "$build/libtool" --quiet --tag=CC --mode=link $cc $sanitize -std=c11 -Wall -Wextra -Werror \
        -I"$source/lib/include" -o "$work/$program" "$work/$program.c" "$build/libdregs.la" ||
        fail "the program of $program"
    "$work/$program" "$@" >"$work/$program.out" || fail "$program: exit $?"
}
# shows PROGRAM REGEX
shows()
{
    grep -E -- "$2" "$work/$1.out" >/dev/null || fail "$1 does not print $2: $(cat "$work/$1.out")"
}
line=$source/data/aqueous-line.csv
for page in libdregs libdregs-predict libdregs-size libdregs-dry libdregs-reuse libdregs-tally; do
    programs $page 3
done
runs libdregs1 "$line"
shows libdregs1 '^[0-9.]+ ug/cm2$'
runs libdregs2 "$line"
"$build/dregs-predict" --draws 0 --format json "$line" >"$work/predict.json" || fail 'dregs-predict'
cmp "$work/libdregs2.out" "$work/predict.json" || fail 'the page asked in C is not that of the tool'
runs libdregs-predict1 "$line"
shows libdregs-predict1 '^worst: load 100, [0-9.]+ ug/cm2$'
shows libdregs-predict1 '^all solutes: [0-9.]+ of the limit: met$'
runs libdregs-size1 "$line"
shows libdregs-size1 '^[0-9.]+ L/h$'
shows libdregs-size1 '^last,flow,'
# what the program has put into the file meets the target, and just so
sed 1d "$work/libdregs-size1.out" | "$build/dregs-predict" --draws 0 --check - >"$work/met" ||
    fail 'the line of the program does not meet its target'
runs libdregs-dry1
shows libdregs-dry1 '^[0-9.]+ s$'
shows libdregs-dry1 '^assumed: '
runs libdregs-reuse1 "$source/data/rinse-bench.csv" "$source/data/rinse-readings.csv"
shows libdregs-reuse1 '^use it again: 8 more loads, 95 %: 3 to 15$' # as in README.md
runs libdregs-tally1 "$source/data/solvent-shop.csv"
shows libdregs-tally1 '^cost [0-9.]+ EUR$'

# the last one of dregs-json(7) is the inside of a main()
programs dregs-json 7
{
    printf '#include <dregs/dregs.h>\n#include <stdio.h>\nint main(void)\n{\n'
    cat "$work/dregs-json3.c"
    echo '}'
} >"$work/json.c"
runs json
"$build/dregs" dry --draws 0 --format json --liquid isopropanol --film '20 um' --at 22degC \
    >"$work/dry.json" || fail 'dregs dry'
echo >>"$work/dry.json" # puts ends with a line of its own
cmp "$work/json.out" "$work/dry.json" || fail 'the answer in C is not that of the tool'

# what the headers declare stands on the pages as it is
for page in predict size dry reuse tally; do
    sh "$source/man/library.sh" "$source" $page | cmp - "$source/man/libdregs-$page.3" ||
        fail "libdregs-$page.3 is not what the headers say: make library-pages"
done

# ---- four threads, each with its own line over one table ----
cat >"$work/threads.c" <<'C'
#include <dregs/dregs.h>
#include <pthread.h>
#include <stdio.h>
#include <string.h>

enum { THREADS = 4, LOADS = 900, MOST = 1 << 16 };

static char text[MOST];
static size_t length;
static dregs_liquids *liquids;

struct task {
    double total[LOADS];
    double leapt;
    int good;
};

static void *work(void *user)
{
    struct task *task = user;
    dregs_line *line = NULL;
    dregs_map *map = NULL;
    dregs_state *state = NULL, *far = NULL;
    dregs_residue residue;
    int i;

    if (!dregs_line_parse("threads", text, length, liquids, &line, NULL) &&
        !dregs_map_new(line, &map) && (state = dregs_state_new(map)) != NULL &&
        (far = dregs_state_new(map)) != NULL && !dregs_state_before(far, 1000000007u)) {
        for (i = 0; i < LOADS; i++) {
            dregs_residue_next(state, &residue);
            task->total[i] = residue.total;
            dregs_state_step(state);
        }
        dregs_residue_next(far, &residue);
        task->leapt = residue.total;
        task->good = residue.total > 0;
    }
    dregs_state_free(far);
    dregs_state_free(state);
    dregs_map_free(map);
    dregs_line_free(line);
    return NULL;
}

int main(int argc, char **argv)
{
    static struct task tasks[THREADS];
    pthread_t threads[THREADS];
    FILE *file = argc > 1 ? fopen(argv[1], "rb") : NULL;
    int i;

    if (!file)
        return 2;
    length = fread(text, 1, sizeof text, file);
    fclose(file);
    liquids = dregs_liquids_new();
    for (i = 0; i < THREADS; i++)
        if (pthread_create(&threads[i], NULL, work, &tasks[i]))
            return 3;
    for (i = 0; i < THREADS; i++)
        pthread_join(threads[i], NULL);
    for (i = 0; i < THREADS; i++)
        if (!tasks[i].good || tasks[i].leapt != tasks[0].leapt ||
            memcmp(tasks[i].total, tasks[0].total, sizeof tasks[0].total) != 0) {
            printf("thread %d differs\n", i);
            return 1;
        }
    dregs_liquids_free(liquids);
    return 0;
}
C
# shellcheck disable=SC2086
"$build/libtool" --quiet --tag=CC --mode=link $cc $sanitize -std=c11 -D_GNU_SOURCE -pthread \
    -I"$source/lib/include" -o "$work/threads" "$work/threads.c" "$build/libdregs.la" ||
    fail 'the program with threads'
for file in aqueous-line solvent-bench; do
    "$work/threads" "$source/data/$file.csv" || fail "threads on $file.csv"
done

exit $failed
