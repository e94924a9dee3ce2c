#!/bin/sh
# SPDX-License-Identifier: MIT
# Runs each test program named, as many at once as there are cores, prints what failed in full, and
# ends with the totals of them all. A program speaks cmocka's own lines; a test counts once, by
# "[       OK ]", "[  FAILED  ]" or "[  SKIPPED ]".
folder=$(mktemp -d /tmp/meterpost-run-XXXXXX) || exit 1
trap 'rm -rf "$folder"' EXIT
passed=0 failed=0 skipped=0

printf '%s\n' "$@" | xargs -P "$(nproc)" -I{} sh -c '
    report=$1/$(basename "$2")
    case "$2" in
    *.sh) sh "$2" >"$report" 2>&1 ;;
    *) CMOCKA_MESSAGE_OUTPUT=stdout "$2" >"$report" 2>&1 ;;
    esac
    echo $? >"$report.status"' run "$folder" {}

for program in "$@"; do
    report=$folder/${program##*/}
    ok=$(grep -c '^\[       OK \]' "$report")
    # cmocka names a failed test again in its summary
    bad=$(grep '^\[  FAILED  \]' "$report" | grep -v 'test(s)' | sort -u | wc -l)
    left=$(grep '^\[  SKIPPED \]' "$report" | grep -v 'test(s)' | sort -u | wc -l)
    if [ "$(cat "$report.status")" -ne 0 ]; then
        cat "$report"
        [ "$bad" -gt 0 ] || bad=1
    fi
    printf '%-44s %4d ok %3d failed %3d skipped\n' "${program##*/}" "$ok" "$bad" "$left"
    passed=$((passed + ok)) failed=$((failed + bad)) skipped=$((skipped + left))
done
echo "$passed passed, $failed failed, $skipped skipped"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
