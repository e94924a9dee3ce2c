#!/bin/sh
# Runs each test program named, prints what failed in full, and ends with the totals of them all.
# A program speaks cmocka's own lines; a test counts once, by "[       OK ]", "[  FAILED  ]" or "[  SKIPPED ]".
passed=0 failed=0 skipped=0
for program in "$@"; do
    case "$program" in
    *.sh) report=$(sh "$program" 2>&1) ;;
    *) report=$(CMOCKA_MESSAGE_OUTPUT=stdout "$program" 2>&1) ;;
    esac
    status=$?
    ok=$(printf '%s\n' "$report" | grep -c '^\[       OK \]')
    bad=$(printf '%s\n' "$report" | grep '^\[  FAILED  \]' | grep -v 'test(s)' | sort -u | wc -l)
    left=$(printf '%s\n' "$report" | grep '^\[  SKIPPED \]' | grep -vc 'test(s)')
    if [ "$status" -ne 0 ]; then
        printf '%s\n' "$report"
        [ "$bad" -gt 0 ] || bad=1
    fi
    printf '%-44s %4d ok %3d failed %3d skipped\n' "${program##*/}" "$ok" "$bad" "$left"
    passed=$((passed + ok)) failed=$((failed + bad)) skipped=$((skipped + left))
done
echo "$passed passed, $failed failed, $skipped skipped"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
