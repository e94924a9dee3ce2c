#!/bin/sh
# The figures of the house: per room and in all, files, code lines, functions and their callers, and
# what one text passes from the modem's octets to the reply. For whom it helps to see where the house
# grows; no part of the tests. Run it from the top folder, of any state of the house:
#
#     sh tests/house_figures.sh            (or: make house-figures)
#
# What one text passes is the difference of two runs of the daemon against the stand-in modem, built
# with gcov's counters: one reading by another text of the same crew before it, and with it.
here=$(cd "$(dirname "$0")" && pwd)
figures=build/figures
before='Ines: M14 206h\n'
text='Ines: M12 1098.5h\n'

python3 "$here/house_figures.py" rooms || exit 1

mkdir -p "$figures/bin" || exit 1
make -s -j"$(nproc)" all >/dev/null &&
    make -s -j"$(nproc)" BUILD="$figures" CFLAGS='-O0 --coverage' HARDENING= WERROR= \
        "$figures/meterpost" >/dev/null 2>&1 || exit 1
ln -sf "$PWD/$figures/meterpost" "$PWD/build/standin-modem" "$figures/bin/"

# Says each statement that SQLite begins to execute, from before the program's own library.
cat >"$figures/executions.c" <<'END'
#include <dlfcn.h>
#include <fcntl.h>
#include <stdlib.h>
#include <unistd.h>
int sqlite3_stmt_busy(void *statement);
int sqlite3_step(void *statement)
{
    int (*step)(void *);
    *(void **)&step = dlsym(RTLD_NEXT, "sqlite3_step");
    int fd = open(getenv("EXECUTIONS"), O_WRONLY | O_CREAT | O_APPEND, 0600);
    if (!sqlite3_stmt_busy(statement) && write(fd, "\n", 1) != 1) {
        abort();
    }
    close(fd);
    return step(statement);
}
END
${CC:-cc} -D_GNU_SOURCE -shared -fPIC -o "$figures/executions.so" "$figures/executions.c" || exit 1

# passed NAME TEXTS: the counters of one run in $figures/NAME, executions of SQL in NAME.sql.
passed() {
    find "$figures" -name '*.gcda' -delete
    rm -rf "${figures:?}/$1" "$figures/$1.sql"
    mkdir "$figures/$1"
    printf "$2" | EXECUTIONS="$PWD/$figures/$1.sql" LD_PRELOAD="$PWD/$figures/executions.so" \
        METERPOST_BUILD="$figures/bin" build/demo --try >"$figures/$1.said" || return 1
    (cd "$figures/$1" && find "$OLDPWD/$figures" -name '*.gcda' -exec gcov --json-format {} + \
        >/dev/null 2>&1)
}
passed before "$before" && passed after "$before$text" || exit 1
python3 "$here/house_figures.py" text "$figures/before" "$figures/after" \
    $(($(wc -l <"$figures/after.sql") - $(wc -l <"$figures/before.sql")))
