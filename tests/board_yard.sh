# SPDX-License-Identifier: MIT
# The yard of fixtures/board-yard as it stands one Monday morning, for scripts to read in, from the top
# folder: makes its config and ledger in $folder, with $program. yard() is the program there and then.
yard() { "$program" "$@" -c "$folder/yard.conf" --now 2027-04-12T07:30:00-07:00; }

# speak CONFIG FILE: says at the counter of a shop what the file has, a line each: when|who|what
speak() {
    grep -v '^#' "$2" | while IFS='|' read -r at who says; do
        "$program" text -c "$1" --now "$at" --as "$who" "$says" ||
            [ $? -eq 1 ] # asked or refused: that is well too
    done
}

board_yard() {
    {
        printf 'ledger = "%s/ledger.db";\ndoor = "%s/door";\n' "$folder" "$folder"
        cat fixtures/demo-yard/shop.conf fixtures/board-yard/yard.conf
    } >"$folder/yard.conf"
    "$program" import readings fixtures/board-yard/readings.csv -c "$folder/yard.conf" \
        --now 2027-04-12T06:00:00-07:00 --apply >/dev/null || return 1
    speak "$folder/yard.conf" fixtures/board-yard/texts.txt
}

# A second shop beside it; both() is the program over the two.
both() { "$program" "$@" -c "$folder/yard.conf" -c "$folder/birch.conf" --now 2027-04-12T07:30:00-07:00; }

second_yard() {
    {
        printf 'ledger = "%s/birch.db";\ndoor = "%s/birch-door";\n' "$folder" "$folder"
        cat fixtures/board-yard/birch.conf
    } >"$folder/birch.conf"
    speak "$folder/birch.conf" fixtures/board-yard/birch.txt
}
