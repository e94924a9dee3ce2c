#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""What does one box carry? How many texts a modem takes, how large the ledger grows, and what `due` costs
as machines and years grow, of one shop and of ten seen as one.

How fast a network takes texts is common practice, no source: 6 to 10 a minute by the signalling of GSM, some
30 where texts go by packets. The program's own share of an answer is that of `make bench-line`. The
octets of a text are those of readings said at the counter, their answers put on record as the modem leaves
them: what a checked copy of the ledger grows by. Processor time of the whole process, the median of five
runs: what else the machine does is not in it, but a share of the caches. Each part says how long it took.
"""
import os
import shutil
import sqlite3
import subprocess
import tempfile
import time

import due_bench as yard

BUILD = os.environ.get("METERPOST_BUILD", "build")
PROGRAM = os.path.join(BUILD, "meterpost")
TEXTS = 200
WEEK_S = 7 * 86400
RUNS = 5
NETWORK_A_MINUTE = (6, 10, 30)
READ_A_WEEK = 2
YARDS = ((100, 1), (30, 10), (100, 10), (300, 10), (1000, 10))  # machines and years; the first is the measure


def meterpost(*words):
    return subprocess.run([PROGRAM, *words], check=False, stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def make_yard(folder, machines, years, name="due"):
    """A shop's config over a ledger with that history; returns the config's path."""
    yard.MACHINES, yard.EVERY_S = machines, WEEK_S // READ_A_WEEK
    yard.READINGS = years * 52 * READ_A_WEEK
    config = yard.write_config(folder)
    meterpost("text", "-c", config, "--as", "Ines", "--now", yard.NOW, "HELP")
    yard.fill(folder)
    own = os.path.join(folder, name + ".conf")
    with open(config, encoding="utf-8") as file:
        said = file.read().replace("due.db", name + ".db").replace("Alder Works", name)
    os.remove(config)
    with open(own, "w", encoding="utf-8") as file:
        file.write(said)
    for end in ("", "-wal", "-shm", ".lock", ".made", ".work"):
        if os.path.exists(os.path.join(folder, "due.db" + end)) and name != "due":
            os.rename(os.path.join(folder, "due.db" + end), os.path.join(folder, name + ".db" + end))
    return own


def copy_octets(folder, config):
    copy = os.path.join(folder, "copy.db")
    meterpost("backup", copy, "-c", config)
    return os.path.getsize(copy)


def measure(configs):
    """Seconds of `due --json` over these. What memory it takes the system does not tell apart from that of the
    process which starts it; make bench-due has a bound."""
    words = [PROGRAM, "due", "--json", "--now", yard.NOW]
    for config in configs:
        words += ["-c", config]
    times = []
    for _ in range(RUNS + 1):
        child = subprocess.Popen(words, stdout=subprocess.DEVNULL)
        _, status, used = os.wait4(child.pid, 0)
        times.append(used.ru_utime + used.ru_stime)
        if os.waitstatus_to_exitcode(status) not in (0, 1):
            raise SystemExit("due failed")
    return sorted(times[1:])[RUNS // 2]


def tell_modem():
    line = subprocess.run([os.path.join(BUILD, "line-bench")], check=False, stdout=subprocess.PIPE, text=True)
    print("an answer on the line:", line.stdout.splitlines()[0])
    for rate in NETWORK_A_MINUTE:
        print("a network that takes %2d texts a minute: %4d answers an hour" % (rate, rate * 60))


def tell_growth(folder):
    config = make_yard(folder, 100, 1, "growth")
    before, answers = copy_octets(folder, config), []
    for i in range(TEXTS):
        said = "M%d %dh" % (i % 100 + 1, 624 + 6 * (i // 100 + 1))
        now = time.strftime("%Y-%m-%dT%H:%M:00Z", time.gmtime(yard.LAST_S + (i // 100 + 1) * WEEK_S // 2 + i % 100 * 60))
        answers.append(meterpost("text", "-c", config, "--as", "Ines", "--now", now, said).stdout.decode().strip())
    ledger = sqlite3.connect(os.path.join(folder, "growth.db"))
    for i, body in enumerate(answers):
        row = ledger.execute("INSERT INTO texts_out (person_id, phone, body, kind, created_s, expires_s) VALUES "
                             "(1, '+12065550110', ?, 'reply', ?, ?)", (body, yard.LAST_S + i, yard.LAST_S + i))
        ledger.execute("INSERT INTO parts_out (text_id, part, state, urgency, not_before_s, tries, handed_s, ended_s, "
                       "reference) VALUES (?, 1, 'taken', 1, ?, 1, ?, ?, 7)",
                       (row.lastrowid, yard.LAST_S, yard.LAST_S, yard.LAST_S))
    ledger.commit()
    ledger.close()
    octets = (copy_octets(folder, config) - before) / TEXTS
    year = octets * 100 * READ_A_WEEK * 52
    print("a reading with its answer: %d octets of ledger; 100 machines read twice a week: %.1f MiB a year"
          % (octets, year / 1048576))


def tell_due(folder):
    print("due --json       readings   processor  times the first")
    measure_s = None
    for machines, years in YARDS:
        config = make_yard(folder, machines, years, "m%dy%d" % (machines, years))
        seconds = measure([config])
        measure_s = measure_s or seconds
        print("%4d machines, %2d years %8d %8.3f s %5.1f" % (
            machines, years, machines * years * 52 * READ_A_WEEK, seconds, seconds / measure_s), flush=True)
        os.remove(os.path.join(folder, "m%dy%d.db" % (machines, years)))
    configs = [make_yard(folder, 30, 1, "shop%d" % i) for i in range(10)]
    seconds = measure(configs)
    print("ten shops of 30, a year   %6d %8.3f s %5.1f" % (
        10 * 30 * 52 * READ_A_WEEK, seconds, seconds / measure_s))


def main():
    folder = tempfile.mkdtemp(prefix="meterpost-box-")
    try:
        begun = time.monotonic()
        for part in (tell_modem, lambda: tell_growth(folder), lambda: tell_due(folder)):
            part()
            print("  (%.0f s)" % (time.monotonic() - begun), flush=True)
            begun = time.monotonic()
    finally:
        shutil.rmtree(folder)


if __name__ == "__main__":
    main()
