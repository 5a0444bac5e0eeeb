#!/usr/bin/env python3
"""Compares the figures that two builds of the tests recorded: figures.py ONE OTHER.

Same names, values equal to 1e-9 of their size: the two C libraries differ in the last bits of sine, exponential and the
like, and nothing else may differ. Prints the largest difference.
"""
import math
import sys

TOLERANCE = 1e-9


def read(path):
    figures = {}
    with open(path, encoding="utf-8") as file:
        for line in file:
            name, value = line.rstrip("\n").rsplit("\t", 1)
            if name in figures and figures[name] != float(value):
                sys.exit(f"figures: {path} has \"{name}\" twice, with different values")
            figures[name] = float(value)
    return figures


def main():
    one, other = read(sys.argv[1]), read(sys.argv[2])
    faults = [f"only in {sys.argv[1]}: {name}" for name in sorted(one.keys() - other.keys())]
    faults += [f"only in {sys.argv[2]}: {name}" for name in sorted(other.keys() - one.keys())]
    worst, worst_name = 0.0, ""
    for name in sorted(one.keys() & other.keys()):
        a, b = one[name], other[name]
        if not (math.isfinite(a) and math.isfinite(b)):
            faults.append(f"{name}: {a} and {b} are not both finite")
            continue
        difference = abs(a - b) / max(abs(a), abs(b), sys.float_info.min)
        if difference > worst:
            worst, worst_name = difference, name
        if difference > TOLERANCE:
            faults.append(f"{name}: {a!r} and {b!r} differ by {difference:.2e} of their size")
    if not one:
        faults.append("no figures were recorded")
    print("\n".join(faults) if faults else
          f"figures: {len(one)} agree, the largest difference is {worst:.1e} of its size {worst_name and '(' + worst_name + ')'}")
    sys.exit(1 if faults else 0)


main()
