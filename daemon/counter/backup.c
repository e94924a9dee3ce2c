/* SPDX-License-Identifier: MIT
 * backup: see backup.h. */
#include "daemon/counter/backup.h"

#include <sysexits.h>

#include "daemon/counter/opening.h"

int backup_verb(const struct options *options, FILE *out, FILE *err)
{
    struct opening opening;
    if (options->word_count != 1) {
        (void)fprintf(err, "meterpost: say where to, such as: meterpost backup "
                           "/media/stick/meterpost.db\n");
        return EX_USAGE;
    }
    int status = opening_begin(&opening, options, err);
    if (status == EX_OK) {
        status = opening_ledger(&opening, LEDGER_READ, err);
    }
    if (status == EX_OK) {
        enum ledger_result result = ledger_backup(opening.ledger, options->words[0]);
        if (result == LEDGER_OK) {
            (void)fprintf(out, "%s is a checked copy of %s\n", options->words[0],
                          opening.settings->ledger);
        } else {
            (void)fprintf(err, "meterpost: %s\n", ledger_says(opening.ledger));
            status = ledger_exit_status(result);
        }
    }
    opening_end(&opening);
    return status;
}
