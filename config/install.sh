#!/bin/sh
# SPDX-License-Identifier: MIT
# What `make install` and `make uninstall` do, from the top folder. PREFIX, DESTDIR, SYSCONFDIR and
# BUILD come from the Makefile. With DESTDIR (a package being made) only files are laid down; without
# it the user meterpost is made as well, and a running systemd and udev are told.
#
# An existing config file is never written over, and never removed; nor is the ledger.
set -eu

at=${DESTDIR:-}
prefix=$at$PREFIX
config=$at$SYSCONFDIR/meterpost.conf
units=$prefix/lib/systemd/system
rules=$prefix/lib/udev/rules.d/78-meterpost.rules
docs=$prefix/share/doc/meterpost
completion=$prefix/share/bash-completion/completions/meterpost
# systemd-sysusers does not look below /usr/local.
case $PREFIX in
/usr) sysusers=$prefix/lib/sysusers.d/meterpost.conf ;;
*) sysusers=$at/etc/sysusers.d/meterpost.conf ;;
esac

here() { [ -z "$at" ] && [ "$(id -u)" -eq 0 ]; }
has_group() { grep -q '^meterpost:' /etc/group; }

put() { # mode, from, to
    install -D -m "$1" "$2" "$3"
}

put_manual_pages() {
    for page in docs/*.[1-8]; do
        put 0644 "$page" "$prefix/share/man/man${page##*.}/${page##*/}"
    done
}

# What the README leads to, for a box without the sources; the links between the pages hold.
put_documents() {
    for page in README.md LICENSE DEVELOPERS.md docs/*.md docs/schemas/*.json docs/pictures/*.svg docs/screens/*.png daemon/ledger/schema.sql; do
        put 0644 "$page" "$docs/$page"
    done
    for page in docs/*.[1-8]; do
        ln -sf "../../../man/man${page##*.}/${page##*/}" "$docs/$page"
    done
}

put_units() {
    install -d "$units"
    for unit in config/*.service config/*.timer; do
        sed "s|/usr/local|$PREFIX|g; s|/etc/meterpost.conf|$SYSCONFDIR/meterpost.conf|" \
            "$unit" >"$units/${unit##*/}"
        chmod 0644 "$units/${unit##*/}"
    done
}

# A rule that somebody has edited stays as it is. By what was laid down last one sees whether it was; an
# older one had numbers to fill in.
edited_rule() {
    if [ -e "$docs/78-meterpost.rules" ]; then
        ! cmp -s "$rules" "$docs/78-meterpost.rules"
    else
        ! grep -q '^[^#]*=="ffff"' "$rules"
    fi
}

put_rule() {
    sed "s|/etc/meterpost.conf|$SYSCONFDIR/meterpost.conf|" config/78-meterpost.rules >"$BUILD/78-meterpost.rules"
    if [ -e "$rules" ] && edited_rule; then
        echo "install: $rules was edited and stays; the new one is $docs/78-meterpost.rules" >&2
    else
        put 0644 "$BUILD/78-meterpost.rules" "$rules"
    fi
    put 0644 "$BUILD/78-meterpost.rules" "$docs/78-meterpost.rules"
}

put_config() {
    put 0644 config/meterpost.conf "$docs/meterpost.conf"
    [ -e "$config" ] || put 0640 config/meterpost.conf "$config"
}

# The user, and the right of its group to read the config.
make_user() {
    if command -v systemd-sysusers >/dev/null 2>&1; then
        systemd-sysusers "$sysusers"
    fi
    if has_group; then
        chgrp meterpost "$config"
    else
        echo "install: there is no user meterpost; make one by: useradd --system -G dialout meterpost" >&2
        echo "install: then let it read its config: chgrp meterpost $config" >&2
    fi
}

tell_running() {
    [ -d /run/systemd/system ] || return 0
    systemctl daemon-reload || true
    udevadm control --reload || true
}

do_install() {
    put 0755 "$BUILD/meterpost" "$prefix/bin/meterpost"
    put_rule
    put 0644 config/meterpost.sysusers "$sysusers"
    put_documents
    put_manual_pages
    put_units
    put_config
    put 0644 config/meterpost.bash-completion "$completion"
    here || return 0
    make_user
    tell_running
    echo "meterpost is installed. Edit $config, then: meterpost check; systemctl enable --now meterpost"
}

# An edited one goes before the package's, or is found again by the next install.
take_rule_away() {
    if [ -e "$rules" ] && edited_rule; then
        echo "uninstall: $rules was edited and stays; remove it when it serves no more" >&2
    else
        rm -f "$rules"
    fi
}

do_uninstall() {
    if here && [ -d /run/systemd/system ]; then
        systemctl disable --now meterpost.service meterpost-backup.timer meterpost-metrics.timer || true
    fi
    take_rule_away
    rm -f "$prefix/bin/meterpost" "$sysusers" "$completion"
    for unit in config/*.service config/*.timer; do
        rm -f "$units/${unit##*/}"
    done
    for page in docs/*.[1-8]; do
        rm -f "$prefix/share/man/man${page##*.}/${page##*/}"
    done
    rm -rf "$docs"
    here || return 0
    tell_running
    echo "meterpost is gone. Left: $config, the ledger in /var/lib/meterpost, the user meterpost."
}

case ${1:-} in
install) do_install ;;
uninstall) do_uninstall ;;
*)
    echo "usage: config/install.sh install | uninstall" >&2
    exit 64
    ;;
esac
