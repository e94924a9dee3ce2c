#!/bin/sh
# SPDX-License-Identifier: MIT
# A short storm of kills; `make crash` is the long one. Speaks cmocka's lines.
name=no_text_is_lost_or_counted_twice_over_kills_by_chance_and_at_each_step
echo "[ RUN      ] $name"
if "${METERPOST_BUILD:-build}/crash-storm" 20; then
    echo "[       OK ] $name"
else
    echo "[  FAILED  ] $name"
    exit 1
fi
