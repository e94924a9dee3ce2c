#!/bin/sh
# SPDX-License-Identifier: MIT
# Makes a fresh Debian in a folder ready for box.py: puts kernel and initrd aside, and gives it hands:
# what comes over a port of the emulator is done, and how it ended is said there.
#
#     tests/box/image.sh ROOT ASIDE
set -eu
root=$1 aside=$2
# Only what this machine has (box.sh said that these are listed): emulated, the start with all there is
# takes twice as long.
printf '%s\n' virtio_pci virtio_blk ext4 >>"$root/etc/initramfs-tools/modules"
chroot "$root" update-initramfs -u
cp "$root"/boot/vmlinuz-* "$aside/kernel"
cp "$root"/boot/initrd.img-* "$aside/initrd"
rm -rf "$root"/var/cache/apt/archives/*.deb
echo box >"$root/etc/hostname"
echo '/dev/vda / ext4 defaults 0 1' >"$root/etc/fstab"
units=$root/etc/systemd/system
# A terminal there would hang up the console.
ln -sf /dev/null "$units/serial-getty@ttyS0.service"
cat >"$root/usr/lib/box-hands" <<'END'
#!/bin/sh
exec 3<>/dev/virtio-ports/hands
echo ready >&3
while IFS= read -r line <&3; do
    printf %s "$line" | base64 -d >/run/hands.sh
    sh /run/hands.sh >/run/hands.out 2>&1 </dev/null 3>&-
    echo "$? $(base64 -w0 </run/hands.out)" >&3
done
END
cat >"$units/box-hands.service" <<'END'
[Unit]
Description=Hands of the test in this box
# The port may come late.
StartLimitIntervalSec=0

[Service]
ExecStart=/bin/sh /usr/lib/box-hands
Restart=always
RestartSec=1

[Install]
WantedBy=multi-user.target
END
mkdir -p "$units/multi-user.target.wants"
ln -sf ../box-hands.service "$units/multi-user.target.wants/"
