#!/bin/sh
# SPDX-License-Identifier: MIT
# Coverage of parsers/ by their own tests and by the kept inputs of their fuzz targets: a table, then
# what was not taken; ends with 1 where any line or branch was not. Clang's source coverage: each
# condition of a decision counts, both ways.
top=${METERPOST_BUILD:-build}
build=$top/coverage
flags="-std=c11 -D_GNU_SOURCE -I. -I$top -g -O1"
watched="-fprofile-instr-generate -fcoverage-mapping"
rm -rf "$build"
mkdir -p "$build" || exit 1
make -s BUILD="$top" "$top/parsers/words_dictionary.inc" || exit 1

# The parsers alone: what they would take from elsewhere is not there to link.
for source in parsers/*.c; do
    clang $flags $watched -c -o "$build/$(basename "$source" .c).o" "$source" || exit 1
done

# A parser's tests and its fuzz target bear its name, the tests alone or as a beginning.
tests=$(for source in parsers/*.c; do
    name=$(basename "$source" .c)
    ls "tests/${name}_test.c" tests/"${name}"_*_test.c "tests/fuzz/${name}_fuzz.c" \
        tests/fuzz/"${name}"_*_fuzz.c 2>/dev/null
done | sort -u)
for test in $tests; do
    of=$(basename "$test" .c | sed 's/_test$//')
    [ -z "$(find daemon -name "$of.c")" ] || continue # of a file of another room
    program=$build/$(basename "$test" .c | sed 's/_fuzz$/_replay/')
    case $program in *_replay) replay=tests/fuzz/replay.c ;; *) replay= ;; esac
    clang $flags -fprofile-instr-generate -o "$program" "$test" $replay "$build"/*.o -lcmocka || exit 1
    LLVM_PROFILE_FILE=$program.profraw "$program" >"$program.log" 2>&1 || {
        cat "$program.log"
        exit 1
    }
done

llvm-profdata merge -o "$build/all.profdata" "$build"/*.profraw || exit 1
llvm-cov report "$program" -instr-profile="$build/all.profdata" parsers/*.[ch] >"$build/report" || exit 1
awk '($8 > 0 && /\.[ch] /) || /^TOTAL/ {
    printf "%-24s %5d lines, %3d not taken %6s   %5d branches, %3d not taken %6s\n",
        $1, $8, $9, $10, $11, $12, $13
}' "$build/report"
missed=$(awk '/^TOTAL/ { print $9 + $12 }' "$build/report")
if [ "$missed" != 0 ]; then
    llvm-cov show "$program" -instr-profile="$build/all.profdata" -show-branches=count parsers/*.[ch] |
        sed 's/\x1b\[[0-9;]*m//g' |
        awk '/^\/.*:$/ { file = $0 } /True: 0|False: 0/ || /^ *[0-9]+\| +0\|/ { print file $0 }'
    echo "coverage: not everything in parsers/ was taken"
    exit 1
fi
echo "coverage: every line and every branch of parsers/ taken"
