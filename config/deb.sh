#!/bin/sh
# SPDX-License-Identifier: MIT
# Builds the Debian package by Debian's own tools, from the top folder, in a copy of the sources under
# build/deb, and has lintian look at it. With --twice it is built again, in a folder of another name,
# by another umask, zone and language, and has to come out the same to the octet. What comes out:
# build/deb/meterpost_VERSION_ARCHITECTURE.deb
#
#     config/deb.sh [--twice] [ARCHITECTURE] ...       (this system's, when none is named)
#
# For another architecture than this system's its cross compiler and libraries have to be there; `make
# arms` sees to that in a system of its own. VERSION=0.9 in the environment makes a package of that
# version out of the same sources: one to upgrade from.
set -eu
out=$(pwd)/build/deb
said=$(sed -n 's/.*VERSION_TEXT "\(.*\)"/\1/p' daemon/ground/version.h)
version=${VERSION:-$said}

fail() {
    echo "deb: $*" >&2
    exit 1
}

# copy FOLDER: the sources with debian/ at their top
copy() {
    rm -rf "$1"
    mkdir -p "$1"
    tar -c --exclude=./build --exclude=./.git --exclude='./my.*' . | tar -x -C "$1"
    cp -R config/debian "$1/debian"
    chmod -R go=u-w "$1"
    sed -i "1s/($said)/($version)/" "$1/debian/changelog"
}

# build ARCHITECTURE FOLDER ENVIRONMENT...: the package goes beside the folder of the sources
build() {
    architecture=$1 folder=$2
    shift 2
    copy "$folder/meterpost"
    if ! (cd "$folder/meterpost" && env "$@" DEB_BUILD_OPTIONS="noautodbgsym parallel=$(nproc)" \
        dpkg-buildpackage --host-arch "$architecture" --build=binary --no-check-builddeps \
        --unsigned-source --unsigned-changes) >"$folder/log" 2>&1; then
        tail -n 30 "$folder/log" >&2
        fail "the package for $architecture could not be built; all of it: $folder/log"
    fi
}

# The program says its version itself; the changelog must say the same.
[ "$(dpkg-parsechangelog -l config/debian/changelog -S Version)" = "$said" ] ||
    fail "config/debian/changelog is not of version $said, as daemon/ground/version.h is"
again=
if [ "${1:-}" = --twice ]; then
    again=yes
    shift
fi
umask 022
for architecture in ${*:-$(dpkg --print-architecture)}; do
    package=meterpost_${version}_$architecture
    one=$out/$architecture
    build "$architecture" "$one" LC_ALL=C.UTF-8 TZ=UTC
    lintian --fail-on error,warning --tag-display-limit 0 "$one/$package.changes" ||
        fail "lintian is not content with $one/$package.deb; lintian --info says more"
    if [ -n "$again" ]; then
        (umask 027 && build "$architecture" "$one-again/elsewhere" LC_ALL=C TZ=Pacific/Chatham)
        cmp "$one/$package.deb" "$one-again/elsewhere/$package.deb" ||
            fail "$package.deb comes out otherwise when it is built again"
        rm -rf "$one-again"
    fi
    mv "$one/$package.deb" "$out/"
    rm -rf "$one"
    echo "deb: build/deb/$package.deb, $(stat -c %s "$out/$package.deb") octets${again:+, the same when built again}; lintian is content"
done
