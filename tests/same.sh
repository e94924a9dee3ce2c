# SPDX-License-Identifier: MIT
# same: one test of a script, told in cmocka's lines, so that tests/run.sh counts it. For scripts to
# read in, from the top folder; they end with exit "$status".
status=0

# same NAME EXPECTED FOUND
same() {
    echo "[ RUN      ] $1"
    if [ "$2" = "$3" ]; then
        echo "[       OK ] $1"
    else
        printf -- '--- expected\n%s\n--- found\n%s\n[  FAILED  ] %s\n' "$2" "$3" "$1"
        status=1
    fi
}
