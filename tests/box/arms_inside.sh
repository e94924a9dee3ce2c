#!/bin/sh
# SPDX-License-Identifier: MIT
# In the workshop: builds for one architecture and runs what it built under its emulator. No binary
# format is registered with the kernel (that would be for the whole machine), so each program stands
# behind a line of shell that puts the emulator in front, and programs start each other by that.
set -eu
case $1 in
arm64) triplet=aarch64-linux-gnu emulator=qemu-aarch64-static ;;
armhf) triplet=arm-linux-gnueabihf emulator=qemu-arm-static ;;
*) exit 64 ;;
esac
build=build/arms/$1
emulated=$build/emulated
began=$(date +%s)
mkdir -p "$build"

# The tests of the pure rooms: a test of parsers/NAME.c or daemon/upkeep/NAME.c is called NAME_test or
# NAME_..._test; the fuzz targets are all of parsers/ but that of the counter's CSV.
programs=$(for source in parsers/*.c daemon/upkeep/*.c; do
    name=${source##*/}
    name=${name%.c}
    ls "tests/${name}_test.c" 2>/dev/null || true
done | sort -u)
programs="$programs tests/crew_text_corpus_test.c"
for source in tests/fuzz/*_fuzz.c; do
    programs="$programs tests/$(basename "$source" _fuzz.c)_replay.c"
done
targets=$(for source in $programs; do echo "$build/${source%.c}"; done | sort -u)

PKG_CONFIG_LIBDIR=/usr/lib/$triplet/pkgconfig:/usr/share/pkgconfig make -s -j"$(nproc)" BUILD="$build" \
    CC="$triplet-gcc" AR="$triplet-ar" HOSTCC=gcc WERROR=-Werror all $targets >"$build.log" 2>&1 || {
    tail -n 30 "$build.log" >&2
    echo "arms: $1 cannot be built; all of it: $build.log" >&2
    exit 1
}

rm -rf "$emulated"
mkdir -p "$emulated/tests"
for program in "$build/meterpost" "$build/standin-modem" "$build/demo" $targets; do
    wrapped=$emulated/${program#"$build/"}
    printf '#!/bin/sh\nexec %s -0 "$0" %s "$@"\n' "$emulator" "/src/$program" >"$wrapped"
    chmod +x "$wrapped"
done
status=0
said=$(METERPOST_BUILD=$emulated sh tests/run.sh $(for target in $targets; do
    echo "$emulated/${target#"$build/"}"
done) 2>&1) || { status=1; echo "$said" >&2; }
echo "arms: $1 tests: $(echo "$said" | tail -n 1)"
if said=$(METERPOST_GUARD_S=600 METERPOST_BUILD=$emulated "$emulated/demo" 2>&1); then
    echo "arms: $1 demo: $(echo "$said" | grep 'texts in, ')"
else
    status=1
    echo "$said" | tail -n 30 >&2
    echo "arms: $1 demo: FAILED" >&2
fi
# A box that still runs when 32 bits of seconds are over.
late=$build/late
rm -rf "$late"
mkdir -p "$late"
sed -e "s|^# ledger = .*|ledger = \"$late/my.db\";|" -e "s|^# door = .*|door = \"$late/door\";|" \
    config/meterpost.conf >"$late/my.conf"
"$emulated/meterpost" text -c "$late/my.conf" --now 2045-06-01T12:00:00-07:00 --as Tom 'TR-9 300' >"$late/said"
said=$("$emulated/meterpost" export readings -c "$late/my.conf" | tail -n 1)
case $said in
TR-9,300,2045-06-01T12:00:00-07:00,Tom,*) echo "arms: $1 in the year 2045: $said" ;;
*)
    status=1
    echo "arms: $1 in the year 2045: FAILED: $said" >&2
    ;;
esac
echo "arms: $1 in $(($(date +%s) - began)) s"
exit "$status"
