# SPDX-License-Identifier: MIT
# The yard of fixtures/board-yard as it stands one Monday morning, for scripts to read in, from the top
# folder: makes its config and ledger in $folder, with $program. yard() is the program there and then.
yard() { "$program" "$@" -c "$folder/yard.conf" --now 2027-04-12T07:30:00-07:00; }

board_yard() {
    {
        printf 'ledger = "%s/ledger.db";\ndoor = "%s/door";\n' "$folder" "$folder"
        cat fixtures/demo-yard/shop.conf fixtures/board-yard/yard.conf
    } >"$folder/yard.conf"
    "$program" import readings fixtures/board-yard/readings.csv -c "$folder/yard.conf" \
        --now 2027-04-12T06:00:00-07:00 --apply >/dev/null || return 1
    grep -v '^#' fixtures/board-yard/texts.txt | while IFS='|' read -r at who says; do
        "$program" text -c "$folder/yard.conf" --now "$at" --as "$who" "$says" ||
            [ $? -eq 1 ] # asked or refused: that is well too
    done
}
