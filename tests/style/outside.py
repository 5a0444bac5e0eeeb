#!/usr/bin/env python3
"""Counts the checks against outside numbers that the tests wrote to a file: outside.py FILE. With --all it shows every one.

FW_OUTSIDE=FILE before a test program makes it write there. Of the rows of one table no more than eight count; optics and
alignment need as many as LEAST says.
"""
import collections
import sys

MOST_OF_ONE_TABLE = 8
# By the test's folder; by its file where the folder serves several subjects.
SUBJECT_OF = {"optics": "optics", "dish": "optics", "align": "alignment", "naming": "alignment", "practice": "alignment",
              "photo": "alignment", "adjusters": "alignment", "base/assignment_test.cpp": "alignment"}
LEAST = {"optics": 60, "alignment": 40}

Check = collections.namedtuple("Check", "file what source outside ours tolerance why")


def read(path):
    with open(path, encoding="utf-8") as file:
        for line in file:
            file_name, what, source, outside, ours, tolerance, why = line.rstrip("\n").split("\t")
            yield Check(file_name, what, source, float(outside), float(ours), float(tolerance), why)


def subject(check):
    folder = check.file.split("/")[0]
    return SUBJECT_OF.get(check.file, SUBJECT_OF.get(folder, folder))


def show(checks):
    """The rows under their sources, with today's differences."""
    print(f"{'outside':>16} {'ours':>16} {'difference':>11} {'allowed':>8}  what")
    for source in dict.fromkeys(check.source for check in checks):
        rows = [check for check in checks if check.source == source]
        print(f"\n  {source} ({', '.join(sorted({row.file for row in rows}))})")
        for row in rows:
            print(f"{row.outside:16.10g} {row.ours:16.10g} {row.ours - row.outside:11.1e} {row.tolerance:8.0e}  {row.what}: {row.why}")


def main():
    checks = list(read(sys.argv[1]))
    faults = []
    for name in sorted({subject(check) for check in checks} | LEAST.keys()):
        own = [check for check in checks if subject(check) == name]
        if "--all" in sys.argv:
            show(own)
        counted = sum(min(rows, MOST_OF_ONE_TABLE) for rows in collections.Counter(check.source for check in own).values())
        print(f"{counted} outside checks of {name} ({len(own)} numbers; of one table at most {MOST_OF_ONE_TABLE} count)")
        if counted < LEAST.get(name, 0):
            faults.append(f"outside: {name} needs at least {LEAST[name]} checks against outside numbers")
    sys.exit("\n".join(faults) if faults else 0)


main()
