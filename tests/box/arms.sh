#!/bin/sh
# SPDX-License-Identifier: MIT
# The arm kinds, from the top folder: builds for arm64 and armhf by Debian's cross compilers, runs the
# test programs of parsers/ and daemon/upkeep/ with their fuzz targets' replays, and the demo, under
# user-mode emulation, and makes the packages. What this is to find: alignment, `char` without a sign,
# `long` of 32 bits, times beyond 2038. Needs root or sudo, 2.5 GB in the cache, and a mirror once.
set -eu
. tests/box/workshop.sh
[ "${1:-}" != clean ] || { as_root rm -rf "$workshop"; exit 0; }
workshop_make
workshop_take
failed=0
for architecture in arm64 armhf; do
    workshop_do sh tests/box/arms_inside.sh "$architecture" || failed=1
done
workshop_do sh config/deb.sh arm64 armhf || failed=1
mkdir -p build/deb
cp "$workshop"/src/build/deb/*.deb build/deb/ || failed=1
exit "$failed"
