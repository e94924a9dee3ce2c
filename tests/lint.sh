#!/bin/sh
# SPDX-License-Identifier: MIT
# Layout by .clang-format, and no warning from gcc or clang. Arguments: C files, --, headers. What
# gcc finds only while it optimises is an error in the build of `make test`.
status=0
clang-format --dry-run -Werror $(printf '%s\n' "$@" | grep -v '^--$') || status=1
flags="-std=c11 -D_GNU_SOURCE -I. -Ibuild -fsyntax-only"
warnings="-Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wformat=2 -Wno-format-y2k -Werror"
packages=$(pkg-config --cflags libserialport sqlite3 libconfig json-c cmocka)
for compiler in gcc clang; do
    printf '%s\n' "$@" | sed '/^--$/,$d' |
        xargs -P "$(nproc)" -n 8 "$compiler" $flags $warnings $packages || status=1
done
[ "$status" -eq 0 ] && echo "lint: layout and warnings clean (gcc, clang)"
exit "$status"
