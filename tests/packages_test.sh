#!/bin/sh
# config/packages.sh against a pretended box: stubs of apt-get, apt-cache, pkg-config and id in front
# of the real ones, and a note of what apt-get was asked. Speaks cmocka's lines, so that tests/run.sh
# counts it.
top=$(pwd)
box=$(mktemp -d /tmp/packages-XXXXXX) || exit 1
trap 'rm -rf "$box"' EXIT
. tests/same.sh

stub() { # name, body
    printf '#!/bin/sh\n%s\n' "$2" >"$box/bin/$1"
    chmod +x "$box/bin/$1"
}

# A fresh box as `user` (0 root) on which the modules named in $box/absent are not there.
fresh_box() { # user
    rm -rf "$box/bin" "$box/asked" "$box/absent"
    mkdir "$box/bin"
    : >"$box/asked"
    : >"$box/absent"
    for tool in sh cat grep sed sort tr mktemp tail rm env chmod cc; do
        ln -s "$(command -v "$tool")" "$box/bin/$tool"
    done
    for tool in ar make clang llvm-profdata frama-c valgrind cloc ctags gcov; do
        stub "$tool" 'exit 0'
    done
    stub id "echo $1"
    stub pkg-config "shift; ! grep -qx \"\$1\" $box/absent"
    stub apt-cache 'case $2 in gone) ;; *) echo "  Candidate: 1.0";; esac'
    stub apt-get "echo \"\$*\" >>$box/asked; case \"\$*\" in *install*) : >$box/absent;; esac"
}

run() { # arguments of packages.sh
    said=$(cd "$top" && CC=cc PATH="$box/bin" sh config/packages.sh "$@" 2>&1)
    ended=$?
}

# What apt-get was asked, without its options.
asked() { sed -E 's/-o [^ ]+ //; s/-q -y //; s/--no-install-recommends //; s/ +$//' "$box/asked" | tr '\n' ';'; }

fresh_box 0
run build
same nothing_is_said_or_asked_when_all_is_there "0::" "$ended:$said:$(asked)"

fresh_box 0
printf 'sqlite3\nlibconfig\n' >"$box/absent"
run build
same only_what_is_missing_is_installed "0:update;install libconfig-dev libsqlite3-dev;" "$ended:$(asked)"
run build
same a_second_run_asks_for_nothing_more "0:update;install libconfig-dev libsqlite3-dev;" "$ended:$(asked)"

fresh_box 0
rm "$box/bin/pkg-config"
stub apt-cache 'case $2 in pkgconf) echo "  Candidate: (none)";; *) echo "  Candidate: 1.0";; esac'
run build
same an_older_name_is_taken_where_the_newer_is_unknown "pkg-config" \
    "$(asked | tr ' ;' '\n\n' | grep -x pkg-config)"

fresh_box 1000
echo json-c >"$box/absent"
run build
same a_user_without_sudo_is_told_what_to_type \
    "69:apt-get update && apt-get install -y --no-install-recommends libjson-c-dev:" \
    "$ended:$(echo "$said" | sed -n 's/.*as root, type: //p; s/ *$//'):$(asked)"

fresh_box 1000
echo json-c >"$box/absent"
stub sudo '"$@"'
run build
same a_user_with_sudo_installs "0:update;install libjson-c-dev;" "$ended:$(asked)"

fresh_box 0
echo json-c >"$box/absent"
rm "$box/bin/apt-get"
run build
same another_system_is_told_the_names "69:missing here: libjson-c-dev" \
    "$ended:$(echo "$said" | sed -n 's/^packages: \(missing here\)/\1/p')"

fresh_box 0
echo json-c >"$box/absent"
stub apt-get 'case "$*" in *install*) echo "E: no such package"; exit 100;; esac'
run build
same a_failed_install_shows_why "69:E: no such package" "$ended:$(echo "$said" | grep '^E:')"

fresh_box 0
rm "$box/bin/frama-c" "$box/bin/valgrind"
stub apt-cache 'case $2 in frama-c-base) ;; *) echo "  Candidate: 1.0";; esac'
stub apt-get "echo \"\$*\" >>$box/asked; : >$box/bin/valgrind; chmod +x $box/bin/valgrind"
run proof
same what_a_system_may_lack_is_named_and_left_out \
    "0:packages: this system has no frama-c-base; what needs it is left out:update;install valgrind;" \
    "$ended:$(echo "$said" | grep frama):$(asked | sed 's/libclang[^ ]* //')"

fresh_box 0
run everything
same an_unknown_set_is_wrong_use 64 "$ended"
exit "$status"
