#!/bin/sh
# `make install` into a folder of its own: what is laid down, that a config is never written over, and
# what systemd says of unit and user. Speaks cmocka's lines, so that tests/run.sh counts it.
build=${METERPOST_BUILD:-build}
box=$(mktemp -d /tmp/install-XXXXXX) || exit 1
trap 'rm -rf "$box"' EXIT
. tests/same.sh

skip() {
    printf '[ RUN      ] %s\n[  SKIPPED ] %s\n' "$1" "$1"
}

run_make() {
    MAKEFLAGS= make -s "$@" BUILD="$build" DESTDIR="$box/root" 2>&1
}

files() {
    (cd "$box/root" && find . -type f | sort | sed 's/^\.//')
}

said=$(run_make install PREFIX=/usr)
same install_is_quiet_and_well "0:" "$?:$said"
same every_file_has_its_place "/etc/meterpost.conf
/usr/bin/meterpost
/usr/lib/systemd/system/meterpost-backup.service
/usr/lib/systemd/system/meterpost-backup.timer
/usr/lib/systemd/system/meterpost-metrics.service
/usr/lib/systemd/system/meterpost-metrics.timer
/usr/lib/systemd/system/meterpost.service
/usr/lib/sysusers.d/meterpost.conf
/usr/lib/udev/rules.d/78-meterpost.rules
/usr/share/bash-completion/completions/meterpost
/usr/share/doc/meterpost/78-meterpost.rules
/usr/share/doc/meterpost/DEVELOPERS.md
/usr/share/doc/meterpost/LICENSE
/usr/share/doc/meterpost/README.md
/usr/share/doc/meterpost/daemon/ledger/schema.sql
$(ls docs/*.md docs/schemas/*.json docs/pictures/*.svg docs/screens/*.png | sed 's|^|/usr/share/doc/meterpost/|' | sort)
/usr/share/doc/meterpost/meterpost.conf
/usr/share/man/man1/meterpost.1
/usr/share/man/man5/meterpost.conf.5
/usr/share/man/man7/meterpost-texts.7" "$(files)"
# FILE: what a page links to that is not there
lost_links() {
    grep -o '](\([^):#]*\))' "$1" | tr -d ']()' | while read -r link; do
        [ -e "${1%/*}/$link" ] || echo "$1: $link"
    done
}
same every_link_between_the_pages_holds "" \
    "$(find "$box/root/usr/share/doc" -name '*.md' | while read -r page; do lost_links "$page"; done)"
same the_config_is_not_for_everybody 640 "$(stat -c %a "$box/root/etc/meterpost.conf")"
same the_unit_runs_the_program_that_was_installed \
    "ExecStart=/usr/bin/meterpost run -c /etc/meterpost.conf" \
    "$(grep ExecStart= "$box/root/usr/lib/systemd/system/meterpost.service")"

echo '# mine' >"$box/root/etc/meterpost.conf"
run_make install PREFIX=/usr >/dev/null
same a_config_is_never_written_over '# mine' "$(cat "$box/root/etc/meterpost.conf")"
run_make uninstall PREFIX=/usr >/dev/null
same uninstall_leaves_the_config_alone /etc/meterpost.conf "$(files)"
same uninstall_leaves_no_folder_of_documents "" "$(ls -d "$box/root/usr/share/doc/meterpost" 2>/dev/null)"

rules=$box/root/usr/lib/udev/rules.d/78-meterpost.rules
printf 'ATTR{idVendor}=="ffff"\n' >"$box/older.rules"
mkdir -p "${rules%/*}" && cp "$box/older.rules" "$rules"
run_make install PREFIX=/usr >/dev/null
same a_rule_that_nobody_filled_in_is_replaced 0 "$(cmp -s config/78-meterpost.rules "$rules"; echo $?)"
echo '# mine' >>"$rules"
same a_rule_that_was_edited_stays "1 # mine" \
    "$(run_make install PREFIX=/usr | grep -c 'was edited and stays') $(tail -n 1 "$rules")"
same it_stays_at_the_next_install_too "1 # mine" \
    "$(run_make install PREFIX=/usr | grep -c 'was edited and stays') $(tail -n 1 "$rules")"
same uninstall_leaves_an_edited_rule_and_says_so "1 # mine" \
    "$(run_make uninstall PREFIX=/usr | grep -c 'was edited and stays') $(tail -n 1 "$rules")"
same and_the_next_install_still_sees_that_it_was "1 # mine" \
    "$(run_make install PREFIX=/usr | grep -c 'was edited and stays') $(tail -n 1 "$rules")"
cp "$box/root/usr/share/doc/meterpost/78-meterpost.rules" "$rules"
run_make uninstall PREFIX=/usr >/dev/null
same a_rule_as_it_came_goes "" "$(ls "$rules" 2>/dev/null)"
sed 's/ffff/1a2b/' "$box/older.rules" >"$box/filled.rules"
mkdir -p "${rules%/*}" && cp "$box/filled.rules" "$rules"
run_make install PREFIX=/usr >/dev/null 2>&1
same numbers_that_were_filled_in_stay 0 "$(cmp -s "$box/filled.rules" "$rules"; echo $?)"
rm "$rules"
run_make uninstall PREFIX=/usr >/dev/null

run_make install PREFIX=/opt/meterpost SYSCONFDIR=/opt/meterpost/etc >/dev/null
same another_prefix_is_kept_throughout \
    "ExecStart=/opt/meterpost/bin/meterpost run -c /opt/meterpost/etc/meterpost.conf" \
    "$(grep ExecStart= "$box/root/opt/meterpost/lib/systemd/system/meterpost.service")"

same the_rule_looks_into_the_config_that_was_installed 4 \
    "$(grep -c '/opt/meterpost/etc/meterpost.conf' "$box/root/opt/meterpost/lib/udev/rules.d/78-meterpost.rules")"

for unit in config/*.service config/*.timer; do
    sed "s|/usr/local/bin/meterpost|$(pwd)/$build/meterpost|" "$unit" >"$box/${unit##*/}"
done
if command -v systemd-analyze >/dev/null 2>&1; then
    same systemd_has_nothing_to_say_of_the_units "" \
        "$(cd "$box" && systemd-analyze verify ./*.service ./*.timer 2>&1)"
    for unit in meterpost meterpost-backup meterpost-metrics; do
        systemd-analyze security --offline=true --no-pager --threshold=10 "$box/$unit.service" >"$box/security" 2>&1
        same "the_exposure_of_${unit}_is_at_most_1" 0 $?
    done
else
    skip systemd_has_nothing_to_say_of_the_units
    for unit in meterpost meterpost-backup meterpost-metrics; do
        skip "the_exposure_of_${unit}_is_at_most_1"
    done
fi
if command -v systemd-sysusers >/dev/null 2>&1; then
    mkdir -p "$box/users/etc"
    printf 'root:x:0:0::/:/bin/sh\n' >"$box/users/etc/passwd"
    printf 'root:x:0:\ndialout:x:20:\n' >"$box/users/etc/group"
    systemd-sysusers --root="$box/users" "$(pwd)/config/meterpost.sysusers" >/dev/null 2>&1
    same the_user_may_use_serial_ports "dialout:x:20:meterpost" \
        "$(grep ^dialout "$box/users/etc/group")"
else
    skip the_user_may_use_serial_ports
fi
exit "$status"
