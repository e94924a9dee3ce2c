#!/bin/sh
# SPDX-License-Identifier: MIT
# The pictures of the board in docs/screens: for the wall, at the desk by day and by night, on a phone, on
# paper; of the yard in fixtures/board-yard, and of two shops seen as one. Look at them before they are committed.
program=${METERPOST_BUILD:-build}/meterpost
folder=$(mktemp -d /tmp/meterpost-screens-XXXXXX) || exit 1
trap 'rm -rf "$folder"' EXIT
. tests/board_yard.sh
board_yard >/dev/null || exit 1
second_yard >/dev/null || exit 1
both board "$folder/shops.html" && both board --wall "$folder/shops-wall.html" || exit 1
yard board "$folder/desk.html" && yard board --wall "$folder/wall.html" || exit 1
mkdir -p docs/screens

browse() { chromium --headless --no-sandbox --disable-gpu --hide-scrollbars --user-data-dir="$folder/profile" "$@" 2>/dev/null; }

# picture NAME WIDTH HEIGHT SCHEME PAGE: in a frame, which gives the page its width and colour scheme.
picture() {
    printf '<!DOCTYPE html><style>body{margin:0}iframe{border:0;display:block;width:%dpx;height:%dpx;color-scheme:%s}</style><iframe src="%s"></iframe>' \
        "$2" "$3" "$4" "$5" >"$folder/frame.html"
    browse --window-size="$2,$3" --screenshot="$folder/picture.png" "file://$folder/frame.html"
    pngquant --force --output "docs/screens/$1.png" 32 "$folder/picture.png"
}

picture wall 1920 1080 light wall.html
picture wall-dark 1920 1080 dark wall.html
picture desk 1280 1000 light desk.html
picture desk-dark 1280 1000 dark desk.html
picture phone 390 844 light desk.html
picture shops 1280 1000 light shops.html
picture shops-phone 390 844 light shops.html
picture shops-wall 1920 1080 light shops-wall.html
browse --no-pdf-header-footer --print-to-pdf="$folder/desk.pdf" "file://$folder/desk.html"
pdftoppm -r 75 -f 1 -l 1 -png -singlefile "$folder/desk.pdf" "$folder/picture"
pngquant --force --output docs/screens/print.png 16 "$folder/picture.png"
ls -l docs/screens
