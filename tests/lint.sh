#!/bin/sh
# Layout by .clang-format, and no warning from gcc or clang. Arguments: C files, --, headers.
# WERROR compiles go to /dev/null with optimisation on, so that flow warnings show too.
status=0
clang-format --dry-run -Werror $(printf '%s\n' "$@" | grep -v '^--$') || status=1
flags="-std=c11 -D_GNU_SOURCE -I. -Ibuild -O2 -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Werror"
packages=$(pkg-config --cflags libserialport sqlite3 libconfig json-c cmocka)
for compiler in gcc clang; do
    printf '%s\n' "$@" | sed '/^--$/,$d' |
        xargs -P "$(nproc)" -I{} "$compiler" $flags $packages -c -o /dev/null {} || status=1
done
[ "$status" -eq 0 ] && echo "lint: layout and warnings clean (gcc, clang)"
exit "$status"
