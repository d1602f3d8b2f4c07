#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The exact minimum zone of a bed of a million points beside CGAL, and beside Qhull with HiGHS (SciPy).

    bench_zone.py BENCH_ZONE ORACLE_WIDTH FILE

BENCH_ZONE (bench_zone.c) times the library's and leaves its points in FILE for the others. All times are the
processor's, without reading the file, medians of some runs. Memory is what a program needs beyond the points
themselves.
"""
import pathlib
import resource
import statistics
import subprocess
import sys
import time

import numpy
import scipy.optimize
import scipy.spatial

COUNT = 1_000_000
ROUNDS = 5


def highs(points):
    """Vertical width of the minimax plane over the corners of Qhull's hull."""
    middle = points.mean(axis=0)
    size = numpy.ptp(points, axis=0)
    scaled = (points - middle) / size
    corners = scaled[scipy.spatial.ConvexHull(scaled).vertices]
    one = numpy.ones((len(corners), 1))
    plane = numpy.hstack((corners[:, :2], one))
    result = scipy.optimize.linprog(
        [0, 0, 0, 1], A_ub=numpy.vstack((numpy.hstack((-plane, -one)), numpy.hstack((plane, -one)))),
        b_ub=numpy.concatenate((-corners[:, 2], corners[:, 2])),
        bounds=[(None, None)] * 3 + [(0, None)], method="highs")
    slope = result.x[:2] * size[2] / size[:2]
    return 2 * result.fun * size[2] / numpy.sqrt(1 + slope @ slope)


def run_cgal(program, path):
    """(width, processor ms of hull and width)"""
    words = subprocess.run([program, path], capture_output=True, text=True, check=True).stdout.split()
    return float(words[0]), 1e3 * (float(words[2]) + float(words[3]))


def main(bench, oracle, path):
    words = subprocess.run([bench, str(COUNT), "31", path], capture_output=True, text=True,
                           check=True).stdout.split()
    ours, bare, width = (float(word) for word in words[:3])
    points = numpy.fromfile(path).reshape(-1, 3)
    cgal = [run_cgal(oracle, path) for _ in range(ROUNDS)]
    cgal_memory = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss - 24 * COUNT // 1000
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    scipy_times = []
    for _ in range(ROUNDS):
        start = time.process_time()
        scipy_width = highs(points)
        scipy_times.append(1e3 * (time.process_time() - start))
    scipy_memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    rows = (("trueup, minimum zone", ours, width, int(words[4])),
            ("CGAL, hull and width", statistics.median(t for _, t in cgal), cgal[0][0], cgal_memory),
            ("Qhull, hull, and HiGHS", statistics.median(scipy_times), scipy_width, scipy_memory),
            ("one bare pass", bare, float("nan"), 0))
    print(f"the narrowest zone of {COUNT} points; medians of the processor's time in this run; "
          f"{words[3]} passes\n")
    print(f"{'':24}{'ms':>10}{'of ours':>10}{'width, mm':>22}{'memory, MB':>12}")
    for name, taken, found, memory in rows:
        shown = "" if found != found else f"{found:.16g}"
        print(f"{name:24}{taken:10.2f}{taken / ours:10.2f}{shown:>22}{memory / 1e3:12.2f}")
    pathlib.Path(path).unlink()


if __name__ == "__main__":
    if len(sys.argv) != 4:
        print("usage: bench_zone.py BENCH_ZONE ORACLE_WIDTH FILE", file=sys.stderr)
        sys.exit(2)
    main(*sys.argv[1:])
