#!/bin/sh
# SPDX-License-Identifier: MIT
# A small flood within the bounds of a large one; `make flood` is that. Speaks cmocka's lines.
name=a_flood_of_four_hundred_texts_stays_within_its_bounds
echo "[ RUN      ] $name"
if "${METERPOST_BUILD:-build}/flood" 400; then
    echo "[       OK ] $name"
else
    echo "[  FAILED  ] $name"
    exit 1
fi
