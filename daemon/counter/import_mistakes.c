/* SPDX-License-Identifier: MIT
 * import_mistakes: see import_mistakes.h. */
#include "daemon/counter/import_mistakes.h"

#include <stdarg.h>
#include <string.h>

#include "daemon/counter/json.h"
#include "daemon/ground/log.h"

#define SHOWN_MAX 50
#define SAYS_OCTETS 400

void import_mistakes_add(struct import_mistakes *mistakes, size_t line, const char *format, ...)
{
    char says[SAYS_OCTETS];
    va_list arguments;
    mistakes->count++;
    if (mistakes->count > SHOWN_MAX) {
        return;
    }
    va_start(arguments, format);
    (void)vsnprintf(says, sizeof says, format, arguments);
    va_end(arguments);
    if (mistakes->list == NULL) {
        (void)fprintf(mistakes->err, "%s:%zu: %s\n", mistakes->file, line, says);
        return;
    }
    struct json_object *mistake = json_object_new_object();
    json_add_whole(mistake, "line", (int64_t)line);
    json_add_text(mistake, "says", says);
    (void)json_object_array_add(mistakes->list, mistake);
}

void import_mistakes_add_name(struct import_mistakes *mistakes, size_t line, const char *what,
                              const struct nearest *nearest)
{
    struct import_shown shown;
    const char *word = import_show(nearest->word, &shown);
    if (nearest->name != NULL) {
        import_mistakes_add(mistakes, line, "no %s %s; did you mean %s?", what, word,
                            nearest->name);
    } else {
        import_mistakes_add(mistakes, line, "no %s %s", what, word);
    }
}

const char *import_show(const char *cell, struct import_shown *shown)
{
    return log_text(cell, strlen(cell), shown->text, sizeof shown->text);
}
