#!/usr/bin/env python3
"""Counts the instructions of the trace for one ray, which no busy machine disturbs, and fails when they have grown.

    tests/bench/instructions.py BENCH_LANES

Each figure is the difference of two runs of different numbers of rays, so that setting up a scene does not count. Floors:
a ray among 1,000 facets costs at most 1.03 of one among 37; the counts themselves are held near today's.
"""
import re
import subprocess
import sys

SCENES = ["dish", "flat frame", "two mirrors"]
# Instructions for a ray, eight at a time, at 37 facets: g++ 12 at -O3. Another compiler's may differ by a tenth.
TODAY = {"dish": 117.3, "flat frame": 138.8, "two mirrors": 157.7}
SLACK = 1.12
GROWTH = 1.03


def count(bench, scene, facets, rays):
    """Instructions and rays really traced."""
    run = subprocess.run(
        ["valgrind", "--tool=callgrind", "--callgrind-out-file=/dev/null", bench, "only", str(scene), str(facets), str(rays)],
        capture_output=True, text=True)
    counted = re.search(r"Collected : (\d+)", run.stderr)
    traced = re.search(r"(\d+) rays", run.stdout)
    if run.returncode != 0 or not counted or not traced:
        sys.exit(f"{bench} could not be counted:\n{run.stdout}{run.stderr}")
    return int(counted.group(1)), int(traced.group(1))


def for_one_ray(bench, scene, facets):
    few, few_rays = count(bench, scene, facets, 8 * facets * 256)
    many, many_rays = count(bench, scene, facets, 8 * facets * 1024)
    return (many - few) / (many_rays - few_rays)


def main():
    bench = sys.argv[1]
    faults = []
    for scene, name in enumerate(SCENES):
        small = for_one_ray(bench, scene, 37)
        large = for_one_ray(bench, scene, 1000)
        print(f"{name}: {small:.1f} instructions for a ray at 37 facets, {large:.1f} at 1000: {large / small:.3f}")
        if large > GROWTH * small:
            faults.append(f"{name}: the cost of a ray grows by {large / small:.3f} from 37 to 1000 facets; at most {GROWTH}")
        if small > SLACK * TODAY[name]:
            faults.append(f"{name}: {small:.1f} instructions for a ray; it was {TODAY[name]}")
    for fault in faults:
        print(fault, file=sys.stderr)
    return 1 if faults else 0


sys.exit(main())
