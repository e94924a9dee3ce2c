#!/usr/bin/env python3
"""The figures of the house, counted by cloc (code lines) and ctags (functions), and what one text
passes, counted by gcov. Called by tests/house_figures.sh, which makes the two measurements.

    house_figures.py rooms                  a table: a row a room, and all of it
    house_figures.py text BEFORE AFTER SQL  what AFTER has more than BEFORE, both folders of gcov's JSON
"""
import collections
import glob
import gzip
import json
import os
import re
import statistics
import subprocess
import sys

TOPS = ("parsers", "config", "daemon")
LINES_MOST, DECISIONS_MOST = 60, 20
DECISION = re.compile(r"\b(?:if|for|while|case)\b|&&|\|\||\?")
NOT_CODE = re.compile(r"/\*.*?\*/|//[^\n]*|\"(?:\\.|[^\"\\\n])*\"|'(?:\\.|[^'\\\n])*'", re.S)


def without_comments(path):
    with open(path, encoding="utf-8") as file:
        return NOT_CODE.sub(lambda found: "\n" * found.group().count("\n"), file.read())


def sources():
    return sorted(path for top in TOPS for ending in "ch"
                  for path in glob.glob(f"{top}/**/*.{ending}", recursive=True))


def code_lines(paths):
    told = json.loads(subprocess.run(["cloc", "--quiet", "--by-file", "--json", *paths], check=True,
                                     capture_output=True).stdout)
    return {path: told[path]["code"] for path in paths if path in told}


def tags(paths):
    """Functions and prototypes of each file, as ctags names them."""
    of = collections.defaultdict(list)
    told = subprocess.run(["ctags", "--output-format=json", "--languages=C", "--langmap=C:.c.h",
                           "--kinds-C=fp", "--fields=+ne", "-f", "-", *paths], check=True,
                          capture_output=True, text=True).stdout
    for line in told.splitlines():
        tag = json.loads(line)
        of[tag["path"]].append(tag)
    return of


class Room:
    """What is counted of one room."""

    def __init__(self):
        self.c_files, self.headers, self.code, self.functions = [], 0, 0, 0
        self.static, self.one_caller, self.long, self.branching, self.lone = 0, 0, [], [], 0

    def add(self, path, tagged, code):
        text = without_comments(path)
        lines = text.split("\n")
        functions = [tag for tag in tagged if tag["kind"] == "function"]
        declared = collections.Counter(tag["name"] for tag in tagged)
        self.code += code
        self.functions += len(functions)
        if path.endswith(".c"):
            self.c_files.append(len(lines) - 1)
        else:
            self.headers += 1
            self.lone += len(tagged) == 1
        for tag in functions:
            name, body = tag["name"], "\n".join(lines[tag["line"] - 1:tag["end"]])
            if tag.get("file"):
                self.static += 1
                named = re.findall(rf"\b{name}\b(\s*\()?", text)
                self.one_caller += len(named) == declared[name] + 1 and all(named)
            if tag["end"] - tag["line"] + 1 > LINES_MOST:
                self.long.append(f"{path}:{name}")
            if 1 + len(DECISION.findall(body)) > DECISIONS_MOST:
                self.branching.append(f"{path}:{name}")

    def row(self):
        return (len(self.c_files), self.headers, self.code,
                round(statistics.median(self.c_files)) if self.c_files else 0, self.functions,
                round(self.functions * 1000 / self.code) if self.code else 0, self.static,
                f"{round(self.one_caller * 100 / self.static)} %" if self.static else "",
                len(self.long), len(self.branching), self.lone)


def twice(paths):
    """Nouns that are a .c file in more than one room."""
    nouns = collections.Counter(os.path.basename(path)[:-2] for path in paths if path.endswith(".c"))
    return sorted(noun for noun, count in nouns.items() if count > 1)


def print_rooms():
    paths = sources()
    lines, tagged = code_lines(paths), tags(paths)
    rooms, whole = collections.defaultdict(Room), Room()
    for path in paths:
        for room in (rooms[os.path.dirname(path)], whole):
            room.add(path, tagged[path], lines.get(path, 0))
    heads = (".c", ".h", "code", "median", "functions", "a 1000", "static", "1 caller",
             f">{LINES_MOST} l", f">{DECISIONS_MOST} c", "lone .h")
    widths = [max(len(head), 6) for head in heads]
    print(f"{'':16}" + "".join(f"  {head:>{width}}" for head, width in zip(heads, widths)))
    for name, room in [*sorted(rooms.items()), ("all", whole)]:
        print(f"{name:16}" + "".join(f"  {cell:>{width}}" for cell, width in zip(room.row(), widths)))
    print("\n.c .h: files; code: lines by cloc; median: lines of a .c file; functions by ctags, a 1000"
          "\ncode lines; 1 caller: share of the static ones that are called in one place only; above "
          f"{LINES_MOST} lines and\nabove complexity {DECISIONS_MOST}; lone .h: headers that declare one function.")
    print("nouns that stand twice:", " ".join(twice(paths)) or "none")
    for what, names in (("long", whole.long), ("branching", whole.branching)):
        if names:
            print(f"{what}:", " ".join(names))


def entries(folder):
    """How often each function was entered, by (file, function)."""
    counts = collections.Counter()
    for path in glob.glob(f"{folder}/*.gcov.json.gz"):
        with gzip.open(path, "rt", encoding="utf-8") as file:
            for source in json.load(file)["files"]:
                if source["file"].startswith(TOPS):
                    for function in source["functions"]:
                        counts[source["file"], function["name"]] += function["execution_count"]
    return counts


def print_text(before, after, executions):
    more = entries(after)
    more.subtract(entries(before))
    passed = {key: count for key, count in more.items() if count > 0}
    files = collections.Counter()
    for (path, _), count in passed.items():
        files[path] += count
    print(f"one text passes {len(files)} files and {len(passed)} functions in "
          f"{sum(passed.values())} calls, {executions} SQL executions")
    print("  " + " ".join(sorted(files)))


if __name__ == "__main__":
    if sys.argv[1] == "rooms":
        print_rooms()
    else:
        print_text(*sys.argv[2:5])
