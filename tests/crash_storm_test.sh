#!/bin/sh
# SPDX-License-Identifier: MIT
# A short storm of kills; `make crash` is the long one. Speaks cmocka's lines.
storm() { # its name, and the arguments
    name=$1
    shift
    echo "[ RUN      ] $name"
    if "${METERPOST_BUILD:-build}/crash-storm" "$@"; then
        echo "[       OK ] $name"
    else
        echo "[  FAILED  ] $name"
        status=1
    fi
}
status=0
storm no_text_is_lost_or_counted_twice_over_kills_by_chance_and_at_each_step 20
storm no_text_is_lost_or_counted_twice_where_one_of_two_modems_dies 16 20270304 2
exit $status
