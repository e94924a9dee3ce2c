#!/bin/sh
# The house keeps its rooms: who may include what, read from the sources themselves. Speaks cmocka's
# lines, so that tests/run.sh counts it.
status=0

# verdict NAME FINDINGS: passes when nothing was found.
verdict() {
    echo "[ RUN      ] $1"
    if [ -z "$2" ]; then
        echo "[       OK ] $1"
    else
        printf '%s\n[  FAILED  ] %s\n' "$2" "$1"
        status=1
    fi
}

# of_room FOLDER: its #include "..." lines, as file:line:text.
of_room() { grep -rnE --include='*.[ch]' '^ *# *include "' "$1"; }

verdict parsers_include_nothing_from_other_rooms \
    "$(of_room parsers | grep -v '"parsers/')"
verdict upkeep_includes_nothing_from_other_rooms \
    "$(of_room daemon/upkeep | grep -v '"daemon/upkeep/')"
verdict pure_rooms_have_no_heap_clock_or_file \
    "$(grep -rnE --include='*.[ch]' '\b(malloc|calloc|realloc|free|fopen|printf|fprintf|time|clock_gettime|getenv)\(' parsers daemon/upkeep |
        grep -vE ':[0-9]+: *(\*|/\*)')"
# Folder includes folder, as pairs; tsort names those that go round.
verdict the_includes_of_the_folders_form_no_circle \
    "$(for room in parsers config daemon; do of_room $room; done |
        sed -E 's#^(.*)/[^/]*:[0-9]+: *\# *include "(.*)/[^/]*"#\1 \2#' | awk '$1 != $2' | sort -u |
        tsort 2>&1 >/dev/null)"
verdict the_ground_floor_knows_the_pure_rooms_alone \
    "$(of_room daemon/ground | grep -vE '"(parsers|daemon/ground|daemon/upkeep)/')"
verdict only_the_ledger_knows_sqlite \
    "$(grep -rln --include='*.[ch]' 'sqlite3' parsers config daemon | grep -v '^daemon/ledger/')"
verdict only_the_port_knows_libserialport \
    "$(grep -rlnE --include='*.[ch]' '<libserialport|\bsp_[a-z_]+\(' parsers config daemon | grep -v '^daemon/modem/port')"
verdict only_config_knows_libconfig \
    "$(grep -rlnE --include='*.[ch]' '<libconfig|\bconfig_(setting|lookup|init|read)[a-z_]*\(' parsers daemon)"
verdict only_the_counter_knows_json \
    "$(grep -rln --include='*.[ch]' '<json-c' parsers config daemon | grep -v '^daemon/counter/')"
verdict the_modem_knows_neither_ledger_nor_desk \
    "$(of_room daemon/modem | grep -E '"daemon/(ledger|desk|yard|upkeep|counter|door|board)/|"config/')"
verdict the_ledger_knows_neither_desk_nor_modem \
    "$(of_room daemon/ledger | grep -E '"daemon/(desk|modem|yard|counter|door|board)/')"
verdict the_yard_knows_neither_desk_nor_modem \
    "$(of_room daemon/yard | grep -E '"daemon/(desk|modem|counter|door|board)/')"
verdict the_board_knows_neither_desk_nor_counter \
    "$(of_room daemon/board | grep -E '"daemon/(desk|modem|counter|door)/')"
verdict the_desk_knows_neither_modem_nor_counter \
    "$(of_room daemon/desk | grep -E '"daemon/(modem|counter|door|board)/')"
# SQLite binds no values in a PRAGMA: those two are written from the code's own words and numbers.
verdict sql_is_never_put_together_from_values \
    "$(grep -rnE -A2 --include='*.[ch]' 'printf\(|strcat\(|sqlite3_v?m?printf' daemon/ledger |
        grep -E '\b(SELECT|INSERT|UPDATE|DELETE|REPLACE|CREATE|DROP|ATTACH|WHERE|VALUES|VACUUM)\b')"
verdict only_the_migrations_write_a_pragma \
    "$(grep -rnE --include='*.[ch]' 'printf\(.*PRAGMA' daemon/ledger | grep -v '^daemon/ledger/migrations\.c:')"
verdict nothing_is_ever_run_as_a_command \
    "$(grep -rnE --include='*.[ch]' '\b(system|popen|v?fork|posix_spawnp?|exec[lv]p?e?|wordexp) *\(' parsers config daemon |
        grep -vE ':[0-9]+: *(\*|/\*)')"
verdict every_file_says_its_licence_and_what_it_is \
    "$(find parsers config daemon tests fixtures -name '*.[ch]' | while read -r file; do
        head -n 2 "$file" | tr -d '\n' | grep -q 'SPDX-License-Identifier: MIT' || echo "$file"
    done)"
exit "$status"
