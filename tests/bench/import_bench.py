#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""What does it cost to import 100,000 readings beside the running daemon?

The daemon runs without a modem on a ledger of its own, the real clock and no load but this. A file of
twenty machines goes in, then once more, when all of it is on record already. Of each: the time of the
verb, the time of the processor that the daemon took, how long `health`, asked all the while, had to
wait at most, and the most memory that the daemon has had. Exit status 1 where a bound is missed.
"""
import csv
import datetime
import os
import shutil
import subprocess
import sys
import tempfile
import threading
import time

ROWS = 100000
MACHINES = 20
MOST_S = 10.0  # of the verb
MOST_KIB = 8 * 1024  # of the daemon

CONFIG = """modem: {{ port = "{folder}/none"; }};
ledger = "{folder}/yard.db"; door = "{folder}/door";
shop: {{ name = "Alder Works"; number = "+12065550100"; time_zone = "America/Los_Angeles"; board = ""; }};
people: ( {{ name = "Ines"; phone = "+12065550110"; }},
          {{ name = "Rosa"; phone = "+12065550120"; role = "shop"; }} );
machines: ( {machines} );
"""


def write_files(folder):
    machines = ", ".join('{ name = "M%d"; crew = ( "Ines" ); }' % i for i in range(MACHINES))
    config = os.path.join(folder, "yard.conf")
    with open(config, "w", encoding="utf-8") as file:
        file.write(CONFIG.format(folder=folder, machines=machines))
    rows = os.path.join(folder, "rows.csv")
    begin = datetime.datetime(2010, 1, 4, 15, tzinfo=datetime.timezone.utc)
    with open(rows, "w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, delimiter=";")
        writer.writerow(["Unit", "Hour meter", "Date", "Operator"])
        for i in range(ROWS // MACHINES):
            at = (begin + datetime.timedelta(days=i)).isoformat()
            for machine in range(MACHINES):
                writer.writerow(["M%d" % machine, "%.1f" % (i * 1.5), at, "Ines"])
    return config, rows


class Daemon:
    def __init__(self, program, config):
        self.ask = [program, "health", "-c", config]
        self.process = subprocess.Popen([program, "run", "-c", config], stderr=subprocess.DEVNULL)
        while "daemon" not in self.health() or not os.path.exists(config.replace("yard.conf", "door")):
            if self.process.poll() is not None:
                sys.exit("the daemon has ended")

    def health(self):
        return subprocess.run(self.ask, capture_output=True, text=True, check=False).stdout

    def processor_s(self):
        with open("/proc/%d/stat" % self.process.pid, encoding="ascii") as file:
            fields = file.read().rsplit(")", 1)[1].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def most_kib(self):
        with open("/proc/%d/status" % self.process.pid, encoding="ascii") as file:
            return next(int(line.split()[1]) for line in file if line.startswith("VmHWM"))

    def wait_while(self, going):
        longest = 0.0
        while going.is_alive():
            begin = time.monotonic()
            self.health()
            longest = max(longest, time.monotonic() - begin)
            going.join(0.05)
        return longest


def run(daemon, words, expect):
    said = []

    def go():
        done = subprocess.run(words, capture_output=True, text=True, check=False)
        said.append((done.returncode, done.stdout, done.stderr))

    before = daemon.processor_s()
    begin = time.monotonic()
    going = threading.Thread(target=go)
    going.start()
    waited = daemon.wait_while(going)
    seconds = time.monotonic() - begin
    if said[0][0] != 0 or expect not in said[0][1]:
        sys.exit("%s" % (said[0],))
    print("%s: %.2f s, of the daemon's processor %.2f s; a question waited %.2f s at most; its memory %d KiB at most"
          % (expect, seconds, daemon.processor_s() - before, waited, daemon.most_kib()))
    return seconds


def main():
    program = os.path.join(os.environ.get("METERPOST_BUILD", "build"), "meterpost")
    folder = tempfile.mkdtemp(prefix="meterpost-import-bench-")
    daemon = None
    try:
        config, rows = write_files(folder)
        daemon = Daemon(program, config)
        words = [program, "import", "readings", rows, "-c", config, "--apply"]
        most = max(run(daemon, words, "%d readings added" % ROWS),
                   run(daemon, words, "%d on record already" % ROWS))
        kib = daemon.most_kib()
        print("bounds: %.0f s, %d KiB" % (MOST_S, MOST_KIB))
        return 0 if most < MOST_S and kib <= MOST_KIB else 1
    finally:
        if daemon is not None:
            daemon.process.terminate()
            daemon.process.wait()
        shutil.rmtree(folder)


if __name__ == "__main__":
    sys.exit(main())
