#!/bin/sh
# SPDX-License-Identifier: MIT
# What bash is offered after each beginning of a line; the sample config gives the names. Speaks
# cmocka's lines.
build=${METERPOST_BUILD:-build}
. tests/same.sh

# offered WORD...: what follows for the last of these words
offered() {
    PATH="$(pwd)/$build:$PATH" bash -c '. config/meterpost.bash-completion
        COMP_WORDS=("$@") COMP_CWORD=$(($# - 1))
        _meterpost
        echo ${COMPREPLY[@]}' bash "$@" 2>&1
}

config=config/meterpost.conf
same every_verb_is_offered "$("$build/meterpost" help | awk '/^  / { print $1 } END { print "help version" }' | tr '\n' ' ' | sed 's/ $//')" \
    "$(offered meterpost '')"
same help_is_offered_each_verb 'setup stock sheet' "$(offered meterpost help s)"
same the_version_is_offered_where_a_verb_would_stand '--version' "$(offered meterpost --v)"
same a_verb_is_completed_behind_options 'machine' "$(offered meterpost -c $config --json mac)"
same names_come_from_the_config_named_before_the_verb 'M12 M14' "$(offered meterpost -c $config machine M)"
same a_verb_is_completed 'machine' "$(offered meterpost mac)"
same options_are_those_of_the_verb '--weeks --used --json --csv --now --help' "$(offered meterpost stock --)"
same an_option_is_completed '--history' "$(offered meterpost machine M12 --hi)"
same people_come_from_the_config 'Rosa Ines Tom' "$(offered meterpost text -c $config --as '')"
same so_do_those_whom_a_sheet_is_for 'Ines' "$(offered meterpost sheet M12 -c $config --for I)"
same machines_come_from_the_config 'M12 M14' "$(offered meterpost machine -c $config M)"
same plans_come_after_the_machine 'belts' "$(offered meterpost sheet -c $config TR-9 b)"
same what_can_be_exported 'record readings services swaps parkings texts' "$(offered meterpost export '')"
same what_can_be_imported 'record readings services swaps parkings' "$(offered meterpost import '')"
same then_of_which_machine 'M12 M14' "$(offered meterpost export record -c $config M)"
same a_config_that_is_not_there_offers_nothing '' "$(offered meterpost machine -c /none.conf '')"
same a_file_is_left_to_bash '' "$(offered meterpost due -c '')"
exit "$status"
