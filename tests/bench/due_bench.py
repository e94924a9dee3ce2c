#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""How long does `due` take, and how much memory, over ten years of readings of a thousand machines?

The ledger (2.5 million readings, seven a fortnight) lies in a folder of its own and is read once
before anything is timed, so that it is warm. Wall time of the whole process, the median of nine
runs, and the most memory of any of them. Exit status 1 where a bound is missed.
"""
import os
import resource
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time

MACHINES = 1000
READINGS = 2500
EVERY_S = 126000  # from one reading to the next: ten years
EVERY_HUNDREDTHS = 600
LAST_S = 1800014400
NOW = "2027-01-16T12:00:00Z"
RUNS = 9
MOST_S = 0.1
MOST_KIB = 32 * 1024

CONFIG = """ledger = "{folder}/due.db";
shop: {{ name = "Alder Works"; number = "+12065550100"; time_zone = "America/Los_Angeles"; }};
people: ( {{ name = "Ines"; phone = "+12065550110"; }},
          {{ name = "Rosa"; phone = "+12065550120"; role = "shop"; }} );
machines: ( {machines} );
"""


def write_config(folder):
    machines = ",\n".join(
        '{ name = "M%d"; crew = ( "Ines" ); started = 0.0; last_done = { drive = %.1f; }; }'
        % (i, READINGS * EVERY_HUNDREDTHS / 100 - 100)
        for i in range(1, MACHINES + 1)
    )
    path = os.path.join(folder, "due.conf")
    with open(path, "w", encoding="utf-8") as file:
        file.write(CONFIG.format(folder=folder, machines=machines))
    return path


def fill(folder):
    ledger = sqlite3.connect(os.path.join(folder, "due.db"))
    ledger.execute("PRAGMA synchronous = OFF")  # it is thrown away
    ids = range(1, MACHINES + 1)
    ledger.executemany(
        "INSERT OR IGNORE INTO machines (id, name) VALUES (?, ?)", ((i, "M%d" % i) for i in ids)
    )
    # As it would have grown: moment by moment, machine by machine.
    ledger.executemany(
        "INSERT INTO readings (machine_id, meter_hundredths, read_s, noted_s, remark) "
        "VALUES (?, ?, ?, ?, '')",
        (
            (i, (k + 1) * EVERY_HUNDREDTHS, read_s + i, read_s + i)
            for k in range(READINGS)
            for read_s in [LAST_S - (READINGS - 1 - k) * EVERY_S]
            for i in ids
        ),
    )
    ledger.commit()
    count = ledger.execute("SELECT count(*) FROM readings").fetchone()[0]
    ledger.close()
    return count


def main():
    program = os.path.join(os.environ.get("METERPOST_BUILD", "build"), "meterpost")
    folder = tempfile.mkdtemp(prefix="meterpost-due-")
    try:
        config = write_config(folder)
        subprocess.run([program, "text", "-c", config, "--as", "Ines", "--now", NOW, "HELP"],
                       check=True, stdout=subprocess.DEVNULL)
        count = fill(folder)
        command = [program, "due", "-c", config, "--now", NOW, "--json"]
        times = []
        for _ in range(RUNS + 1):
            begin = time.monotonic()
            done = subprocess.run(command, check=False, stdout=subprocess.PIPE)
            times.append(time.monotonic() - begin)
            if done.returncode not in (0, 1) or done.stdout.count(b'"machine"') != MACHINES:
                sys.exit("due did not print a row for each machine")
        median_s = sorted(times[1:])[RUNS // 2]
    finally:
        shutil.rmtree(folder)
    most_kib = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
    print("due --json, %d machines, %d readings" % (MACHINES, count))
    print("wall time   %.3f s (below %.3f)" % (median_s, MOST_S))
    print("memory      %d KiB (below %d)" % (most_kib, MOST_KIB))
    return 0 if median_s < MOST_S and most_kib < MOST_KIB else 1


if __name__ == "__main__":
    sys.exit(main())
