#!/bin/sh
# SPDX-License-Identifier: MIT
# The manual pages: mandoc finds nothing to warn of, the pages that they name are there, and every
# verb of the help has its place in meterpost(1). Speaks cmocka's lines.
program=${METERPOST_BUILD:-build}/meterpost
. tests/same.sh

same mandoc_warns_of_nothing '' "$(mandoc -T lint -W warning docs/*.[1-8] 2>&1)"
same every_page_named_is_there '' "$(sed -n 's/^\.Xr \(meterpost[a-z.-]*\) \([1-8]\).*/\1.\2/p' docs/*.[1-8] |
    sort -u | while read -r page; do [ -e "docs/$page" ] || echo "$page"; done)"
same every_verb_has_its_paragraph "$("$program" help | awk '/^  / { print $1 }' | sort)" \
    "$(awk '/^\.Sh /{ inside = /DESCRIPTION/ } inside && /^\.It Cm/ { print $3 }' docs/meterpost.1 | sort)"
same every_option_of_a_verb_is_in_its_synopsis '' "$("$program" help | awk '/^  / { print $1 }' |
    while read -r verb; do
        "$program" "$verb" --help | sed -n 3p | grep -o -e '--[a-z]*' | while read -r option; do
            awk -v verb="$verb" '/^\.Sh /{ inside = /SYNOPSIS/ } /^\.Cm/ { on = $2 == verb } inside && on' \
                docs/meterpost.1 | grep -q -e "Fl -${option#--}\\b" -e "-${option#--}\\b" || echo "$verb $option"
        done
    done)"
same crews_are_told_to_park_first 'README.md docs/meterpost-texts.7 docs/meterpost.1 docs/pocket-card.md' \
    "$(grep -li 'park before you text' README.md docs/meterpost-texts.7 docs/meterpost.1 docs/pocket-card.md |
        tr '\n' ' ' | sed 's/ $//')"
exit "$status"
