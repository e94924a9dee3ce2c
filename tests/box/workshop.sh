# SPDX-License-Identifier: MIT
# The workshop: a Debian in a folder of the cache with compilers for amd64, arm64 and armhf and the
# libraries of each, so that nothing is added to the system that builds. For scripts to read in, from
# the top folder. Root is needed, or sudo.
cache=${METERPOST_BOX_CACHE:-${XDG_CACHE_HOME:-$HOME/.cache}/meterpost-box}
suite=bookworm
mirror=${METERPOST_BOX_MIRROR:-http://deb.debian.org/debian}
workshop=$cache/workshop

# Says that the mirror is at fault, and ends with 75: to be tried again later. A mirror that is being
# filled may lag behind on one architecture for an hour.
mirror_fails() { # log
    tail -n 5 "$1" >&2
    if grep -q -e 'unexpected size' -e 'Hash Sum mismatch' -e 'Unable to fetch' -e '404  Not Found' "$1"; then
        echo "box: the mirror $mirror is not in step with itself just now; try again in an hour," >&2
        echo "box: or name another: METERPOST_BOX_MIRROR=..." >&2
    fi
    echo "box: all of it: $1" >&2
    exit 75
}

workshop_packages() {
    printf '%s' build-essential,debhelper,lintian,pkgconf,fakeroot,tzdata,qemu-user-static
    printf ',crossbuild-essential-%s' arm64 armhf
    for architecture in amd64 arm64 armhf; do
        printf ",%s:$architecture" libserialport-dev libsqlite3-dev libconfig-dev libjson-c-dev libcmocka-dev
    done
}

workshop_make() {
    [ ! -e "$workshop" ] || return 0
    mkdir -p "$cache"
    echo "box: making the workshop in $workshop (2.5 GB, several minutes)"
    rm -rf "$workshop.part"
    as_root mmdebstrap --variant=minbase --architectures=amd64,arm64,armhf \
        --aptopt='APT::Install-Recommends "false"' --include="$(workshop_packages)" \
        "$suite" "$workshop.part" "deb $mirror $suite main" >"$cache/workshop.log" 2>&1 ||
        mirror_fails "$cache/workshop.log"
    as_root mkdir "$workshop.part/src"
    as_root mv "$workshop.part" "$workshop"
}

as_root() {
    if [ "$(id -u)" -eq 0 ]; then
        "$@"
    else
        sudo "$@"
    fi
}

# workshop_take: the sources as they are now into /src of the workshop; what it built stays
workshop_take() {
    as_root find "$workshop/src" -mindepth 1 -maxdepth 1 ! -name build -exec rm -rf {} +
    tar -c --exclude=./build --exclude=./.git --exclude='./my.*' . | as_root tar -x --no-same-owner -C "$workshop/src"
}

# workshop_do COMMAND...: in the workshop, at its copy of the sources; its mounts go with it
workshop_do() {
    as_root unshare --mount --pid --fork sh -eu -c '
        root=$1
        shift
        mount --rbind /dev "$root/dev" # pseudo-terminals
        mount -t proc proc "$root/proc"
        exec chroot "$root" /usr/bin/env -i -C /src HOME=/root LC_ALL=C.UTF-8 PATH=/usr/sbin:/usr/bin:/sbin:/bin "$@"
        ' workshop "$workshop" "$@"
}
