#!/bin/sh
# SPDX-License-Identifier: MIT
# The flags for hardening, looked for on the program itself, since a flag in a Makefile is no proof
# that it reached the compiler and the linker. A build with sanitizers is for tests and is hardened
# otherwise: the Makefile lists this test in the plain pass only. Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
status=0

# verdict NAME: by the result of the command before it.
verdict() {
    result=$?
    echo "[ RUN      ] $1"
    if [ "$result" -eq 0 ]; then
        echo "[       OK ] $1"
    else
        echo "[  FAILED  ] $1"
        status=1
    fi
}

lacks() { ! grep -qE "$@"; }
headers=$(readelf -hW "$program") && segments=$(readelf -lW "$program") &&
    dynamic=$(readelf -dW "$program") && symbols=$(readelf -W --dyn-syms "$program")
verdict the_program_can_be_looked_at

echo "$headers" | grep -qE 'Type: +DYN' && echo "$dynamic" | grep -qE 'FLAGS_1.*\bPIE\b'
verdict it_runs_at_any_address
echo "$segments" | grep -q GNU_RELRO
verdict what_is_relocated_is_then_read_only
echo "$dynamic" | grep -qE 'BIND_NOW|FLAGS_1.*\bNOW\b'
verdict all_is_bound_at_the_start
# The flags stand before the alignment: "RW  0x10".
echo "$segments" | grep -qE 'GNU_STACK .* RW +0x[0-9a-f]+$'
verdict nothing_on_the_stack_can_be_run
echo "$segments" | grep -E '^ +LOAD' | lacks 'RWE'
verdict no_segment_is_both_written_and_run
echo "$symbols" | grep -qE ' __stack_chk_fail(@|$| )'
verdict a_smashed_stack_ends_the_program
# What remains to be checked at run time; a build without optimisation has none of it.
missing=
for call in snprintf vsnprintf fprintf; do
    echo "$symbols" | grep -qE " __${call}_chk(@|$| )" || missing="$missing $call"
done
[ -z "$missing" ]
verdict copies_are_checked_where_the_compiler_knows_the_size
echo "$dynamic" | lacks '\((RPATH|RUNPATH)\)'
verdict it_looks_for_libraries_where_the_system_says
echo "$dynamic" | lacks '\(TEXTREL\)|FLAGS.*\bTEXTREL\b'
verdict its_code_is_never_written_to
exit "$status"
