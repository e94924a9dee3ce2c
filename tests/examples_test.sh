#!/bin/sh
# SPDX-License-Identifier: MIT
# Every example that calls meterpost, of README, guide, manual pages and the help of each verb, is
# run as it stands: in a scratch folder, on a copy of the sample config whose ledger and door lie
# there. What is typed may print what it likes, but it must be well (0) or ask for attention (1).
# Left out are the daemon in the foreground, what needs a printer or root, and `forget`, which wants
# somebody who has left the roster (tests/erasure_test.c has it). Speaks cmocka's lines.
program=$(pwd)/${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-examples-XXXXXX)
trap 'rm -rf "$folder"' EXIT
status=0

mkdir -p "$folder/bin" "$folder/build" "$folder/config" "$folder/stick"
sed -e "s|^# ledger = .*|ledger = \"$folder/sample.db\";|" -e "s|^# door = .*|door = \"$folder/door\";|" \
    config/meterpost.conf >"$folder/config/meterpost.conf"

# Where no config is named the example means the installed one.
cat >"$folder/bin/meterpost" <<END
#!/bin/sh
case " \$* " in
*' -c '*) exec "$program" "\$@" ;;
esac
verb=\$1
shift
exec "$program" "\$verb" -c "$folder/config/meterpost.conf" "\$@"
END
printf '#!/bin/sh\ncat >/dev/null\n' >"$folder/bin/lp"
chmod +x "$folder/bin/meterpost" "$folder/bin/lp"
ln -s "$folder/bin/meterpost" "$folder/build/meterpost"

# Indented blocks, code between backquotes, the pages' literal blocks, the help.
examples() {
    sed -n 's/^    \(\(build\/\)\{0,1\}meterpost .*\)/\1/p' README.md |
        sed 's/ *#.*//'
    grep -oh '`meterpost [^`]*`' README.md docs/guide.md 2>/dev/null | tr -d '`'
    sed -n '/^\.Bd -literal/,/^\.Ed/s/^\(meterpost .*\)/\1/p' docs/*.[1-8] | sed 's/\\(dq/"/g'
    "$program" help | awk '/^  / { print $1 }' | while read -r verb; do
        "$program" "$verb" --help | sed -n 's/^  \(meterpost .*\)/\1/p' | sed 1d
    done
}

# The sample yard has a first reading; the config that the README lets be typed has none.
"$folder/bin/meterpost" text --as Ines 'M14 40h' >/dev/null
sed -n '/^    cat > my.conf/,/^$/s/^    //p' README.md >"$folder/own.sh"
own=$(cd "$folder" && sh own.sh 2>&1)
echo "[ RUN      ] the_yard_of_the_readme_is_served_in_a_minute"
if printf '%s\n' "$own" | grep -q '^Z-7 78h: Drive oil and filters done, 5 qt' &&
    printf '%s\n' "$own" | grep -q '^Z-7 *drive *fine *78 '; then
    echo "[       OK ] the_yard_of_the_readme_is_served_in_a_minute"
else
    printf '%s\n[  FAILED  ] the_yard_of_the_readme_is_served_in_a_minute\n' "$own"
    status=1
fi

examples | grep -v -e '^meterpost run' -e '^meterpost modem' -e '^meterpost forget' -e '\.\.\.' >"$folder/list"
examples_run=0
while read -r line; do
    examples_run=$((examples_run + 1))
    command=$(printf '%s\n' "$line" | sed "s|/media/stick|$folder/stick|")
    echo "[ RUN      ] $line"
    said=$(cd "$folder" && PATH="$folder/bin:$PATH" sh -c "$command" 2>&1 </dev/null)
    got=$?
    case "$got $command" in
    '0 '* | '1 meterpost '* | '1 build/meterpost '* | '2 meterpost health'*) echo "[       OK ] $line" ;;
    *)
        printf '%s\nexit status %s\n[  FAILED  ] %s\n' "$said" "$got" "$line"
        status=1
        ;;
    esac
done <"$folder/list"

echo "[ RUN      ] there_are_examples_of_every_kind"
if [ "$examples_run" -ge 20 ]; then
    echo "[       OK ] there_are_examples_of_every_kind"
else
    echo "[  FAILED  ] there_are_examples_of_every_kind"
    status=1
fi
exit "$status"
