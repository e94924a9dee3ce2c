# SPDX-License-Identifier: MIT
# The sample's yard on a ledger and a door of its own in $folder, for scripts to read in, from the top
# folder. sample_yard [NAME]: writes NAME.conf, for NAME.db; "my" where none is named, and meterpost is
# $program there.
sample_yard() {
    sed -e "s|^# ledger = .*|ledger = \"$folder/${1:-my}.db\";|" -e "s|^# door = .*|door = \"$folder/door\";|" \
        config/meterpost.conf >"$folder/${1:-my}.conf"
}
meterpost() { "$program" "$@" -c "$folder/my.conf"; }
