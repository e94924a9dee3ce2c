#!/bin/sh
# SPDX-License-Identifier: MIT
# A real box as a test, from the top folder: makes a Debian image once, kept in the cache, builds the
# package, boots the image in an emulator and lets box.py try what happens to a box. BEFORE=FILE.deb names
# a package to upgrade from; without it today's is taken under an older version. TRY="moved disk_full" tries
# only those functions of box.py. Needs root or sudo, a mirror once, 3 GB, and no help of the hardware.
set -eu
. tests/box/workshop.sh
base=$cache/base.img
folder=build/box
architecture=$(dpkg --print-architecture)
[ "$architecture" = amd64 ] || {
    echo "box: the emulated box is an amd64 one; its package is built on amd64 only" >&2
    exit 69
}

# What the package depends on comes with the image, so that no network is needed inside.
image_packages=systemd,systemd-sysv,udev,dbus,kmod,passwd,procps,linux-image-amd64,initramfs-tools
image_packages=$image_packages,libserialport0,libsqlite3-0,libconfig9,libjson-c5,tzdata

make_image() {
    [ ! -e "$base" ] || return 0
    mkdir -p "$cache"
    echo "box: making the image $base (1.4 GB, several minutes)"
    as_root rm -rf "$cache/root.part"
    # Said before the kernel comes: each start image that its packages make is small then.
    as_root mmdebstrap --variant=minbase --aptopt='APT::Install-Recommends "false"' \
        --essential-hook='mkdir -p "$1/etc/initramfs-tools/conf.d"' \
        --essential-hook='echo MODULES=list >"$1/etc/initramfs-tools/conf.d/box"' \
        --include="$image_packages" \
        "$suite" "$cache/root.part" "deb $mirror $suite main" >"$cache/image.log" 2>&1 ||
        mirror_fails "$cache/image.log"
    as_root sh tests/box/image.sh "$cache/root.part" "$cache" >>"$cache/image.log" 2>&1
    as_root mke2fs -q -t ext4 -d "$cache/root.part" "$base.part" 1400M
    as_root chown "$(id -u)" "$base.part" "$cache/kernel" "$cache/initrd"
    as_root rm -rf "$cache/root.part"
    mv "$base.part" "$base"
}

# Today's package under a version that came before it.
older() { # package
    dpkg-deb -R "$1" "$folder/before"
    sed -i 's/^Version: \(.*\)/Version: \1~before/' "$folder/before/DEBIAN/control"
    dpkg-deb -b --root-owner-group "$folder/before" "$folder/before.deb" >/dev/null
    rm -rf "$folder/before"
}

make_image
sh config/deb.sh
package=build/deb/meterpost_$(dpkg-parsechangelog -l config/debian/changelog -S Version)_$architecture.deb
rm -rf "$folder"
mkdir -p "$folder"
if [ -n "${BEFORE:-}" ]; then
    cp "$BEFORE" "$folder/before.deb"
else
    older "$package"
fi
# What an installation by hand lays down.
make -s install DESTDIR="$PWD/$folder/hand" PREFIX=/usr/local SYSCONFDIR=/etc >"$folder/hand.log"
exec python3 tests/box/box.py "$folder" "$base" "$folder/before.deb" "$package" "$folder/hand" ${TRY:-}
