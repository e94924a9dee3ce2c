#!/bin/sh
# SPDX-License-Identifier: MIT
# Each fuzz target of tests/fuzz under libFuzzer with address and undefined-behaviour sanitizers, for
# FUZZ_SECONDS each, one after the other; begins with the kept inputs. Prints what was run and found;
# an input that breaks a property is left in build/fuzz and named. FUZZ_TARGETS names some (all).
# FUZZ_KEEP=1 adds the inputs that reach further to fixtures/fuzz, as few as will do.
top=${METERPOST_BUILD:-build}
build=$top/fuzz
seconds=${FUZZ_SECONDS:-60}
targets=${FUZZ_TARGETS:-$(ls tests/fuzz/*_fuzz.c | sed 's/.*\///; s/_fuzz\.c$//')}
flags="-std=c11 -D_GNU_SOURCE -I. -I$top -g -O1 -fno-omit-frame-pointer -fno-sanitize-recover=all"
total=0 found=0
mkdir -p "$build"
make -s BUILD="$top" "$top/parsers/words_dictionary.inc" || exit 1
for name in $targets; do
    source=tests/fuzz/${name}_fuzz.c
    clang $flags -fsanitize=fuzzer,address,undefined -o "$build/$name" "$source" parsers/*.c daemon/counter/csv.c daemon/ground/neutral.c || exit 1
    options=$(grep -o -- '-max_len=[0-9]*' "$source" | head -n 1)
    mkdir -p "$build/$name.inputs" "fixtures/fuzz/$name"
    "$build/$name" $options -max_total_time="$seconds" -timeout=10 -print_final_stats=1 \
        -artifact_prefix="$build/$name-" "$build/$name.inputs" "fixtures/fuzz/$name" \
        >"$build/$name.log" 2>&1
    status=$?
    runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$build/$name.log")
    reached=$(sed -n 's/.* cov: \([0-9]*\) .*/\1/p' "$build/$name.log" | tail -n 1)
    printf '%-14s %4d s  %10d executions  %5d places reached  %s\n' "$name" "$seconds" "${runs:-0}" \
        "${reached:-0}" "$([ "$status" -eq 0 ] && echo nothing found || echo FOUND)"
    total=$((total + ${runs:-0}))
    if [ "$status" -ne 0 ]; then
        found=$((found + 1))
        grep -E 'property broken|SUMMARY|Test unit written' "$build/$name.log"
    elif [ -n "${FUZZ_KEEP:-}" ]; then
        "$build/$name" $options -merge=1 -use_counters=0 "fixtures/fuzz/$name" "$build/$name.inputs" 2>/dev/null
    fi
done
echo "fuzz: $total executions, $found targets with a find"
[ "$found" -eq 0 ]
