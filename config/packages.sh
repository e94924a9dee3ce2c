#!/bin/sh
# SPDX-License-Identifier: MIT
# Finds what is missing to build, test or prove meterpost, and installs it where this is Debian (or
# one of its children) and we are root or may become it by sudo. Says and does nothing when all is
# there. Elsewhere it prints what to type and ends with 69.
#
#     config/packages.sh [build | test | package | arms | box | proof | browser] ...      (build, when nothing is named)
#
# Each need: its set; how it is found (command, header, module by pkg-config, perl module, file);
# what is looked for; the Debian package, with an older or newer name behind "|". A "?" before it: not
# in every Debian; what needs it is left out there.
needs() {
    cat <<'END'
build command ${CC:-cc}        gcc
build command ar               binutils
build command make             make
build command pkg-config       pkgconf|pkg-config
build header  stdio.h          libc6-dev
build module  libserialport    libserialport-dev
build module  sqlite3          libsqlite3-dev
build module  libconfig        libconfig-dev
build module  json-c           libjson-c-dev
build file    /usr/share/zoneinfo/America/Los_Angeles tzdata
test  module  cmocka           libcmocka-dev
test  command clang            clang
test  command clang-format     clang-format
test  command tshark           tshark
test  command text2pcap        tshark|wireshark-common
test  command jq               jq
test  perl    Encode::GSM0338  perl
test  module  libosmogsm       libosmocore-dev
test  command mandoc           mandoc
test  command sqlite3          sqlite3
test  command strace           strace
test  command python3          python3-minimal
test  command systemd-analyze  systemd
test  file    /usr/lib/python3/dist-packages/icalendar/__init__.py python3-icalendar
test  file    /usr/lib/python3/dist-packages/vobject/__init__.py python3-vobject
test  file    /usr/lib/python3/dist-packages/jsonschema/__init__.py python3-jsonschema
test  file    /usr/lib/python3/dist-packages/prometheus_client/__init__.py python3-prometheus-client
test  command bash             bash
test  command setsid           util-linux
test  command flock            util-linux
test  command readelf          binutils
package command dh             debhelper
package command dpkg-buildpackage dpkg-dev
package command fakeroot       fakeroot
package command lintian        lintian
arms  command mmdebstrap       mmdebstrap
arms  command unshare          util-linux
box   command mmdebstrap       mmdebstrap
box   command qemu-system-x86_64 qemu-system-x86
box   command qemu-img         qemu-utils
box   command mke2fs           e2fsprogs
box   command python3          python3-minimal
proof command clang            clang
proof file    /usr/lib/llvm-*/lib/clang/*/lib/linux/libclang_rt.fuzzer*.a libclang-rt-dev|libclang-rt-14-dev
proof command llvm-profdata    llvm
proof command frama-c          ?frama-c-base
proof command valgrind         valgrind
proof command cloc             cloc
proof command ctags            universal-ctags
proof command gcov             gcc
browser command chromium       chromium
browser command npm            npm
browser command pdftoppm       poppler-utils
browser command pngquant       pngquant
END
}

found() { # kind, what
    case $1 in
    command) command -v "$2" ;;
    header) printf '#include <%s>\n' "$2" | "${CC:-cc}" -E - ;;
    module) pkg-config --exists "$2" ;;
    perl) perl -M"$2" -e 1 ;;
    file) set -- $2 && [ -e "$1" ] ;;
    esac >/dev/null 2>&1
}

# The packages of the sets named that are missing, each once.
missing() {
    for set_wanted in "$@"; do
        needs | while read -r set_name kind what package; do
            [ "$set_name" = "$set_wanted" ] || continue
            eval "what=\"$what\""
            found "$kind" "$what" || echo "$package"
        done
    done | sort -u
}

# The first of "one|other" that apt can install. Where it knows none: nothing for a "?one", else the
# first.
known_to_apt() {
    for name in $(echo "${1#\?}" | tr '|' ' '); do
        if apt-cache policy "$name" 2>/dev/null | grep -q 'Candidate: [^(]'; then
            echo "$name"
            return
        fi
    done
    case $1 in
    \?*) echo "packages: this system has no ${1#\?}; what needs it is left out" >&2 ;;
    *) echo "${1%%|*}" ;;
    esac
}

names_for_apt() {
    for package in "$@"; do
        known_to_apt "$package"
    done | sort -u | tr '\n' ' '
}

# How this user becomes root: nothing, sudo, or no way.
as_root() {
    if [ "$(id -u)" -eq 0 ]; then
        "$@"
    else
        sudo "$@"
    fi
}

give_up() { # the packages
    echo "packages: missing here: $*" >&2
    if command -v apt-get >/dev/null 2>&1; then
        echo "packages: as root, type: apt-get update && apt-get install -y --no-install-recommends $*" >&2
    else
        echo "packages: these are Debian's names; install what your system calls them, then try again" >&2
    fi
    exit 69
}

install() {
    log=$(mktemp) || exit 69
    apt="env DEBIAN_FRONTEND=noninteractive apt-get -q -y -o DPkg::Lock::Timeout=300"
    as_root $apt update >"$log" 2>&1 || echo "packages: apt-get update failed; trying with what it knows" >&2
    names=$(names_for_apt "$@")
    [ -n "$names" ] || return 0
    echo "packages: installing $names" >&2
    if ! as_root $apt install --no-install-recommends $names >>"$log" 2>&1; then
        tail -n 20 "$log" >&2
        rm -f "$log"
        give_up $names
    fi
    rm -f "$log"
}

sets=${*:-build}
for set_wanted in $sets; do
    case $set_wanted in
    build | test | package | arms | box | proof | browser) ;;
    *)
        echo "usage: config/packages.sh [build | test | package | arms | box | proof | browser] ..." >&2
        exit 64
        ;;
    esac
done

absent=$(missing $sets)
[ -n "$absent" ] || exit 0
if ! command -v apt-get >/dev/null 2>&1; then
    give_up $(echo "$absent" | sed 's/|.*//; s/^?//')
fi
if [ "$(id -u)" -ne 0 ] && ! command -v sudo >/dev/null 2>&1; then
    give_up $(names_for_apt $absent)
fi
install $absent
absent=$(missing $sets | grep -v '^?')
[ -z "$absent" ] || give_up $(names_for_apt $absent)
