# SPDX-License-Identifier: GPL-3.0-or-later
"""The tables of touches in a CSV, judged beside R and NumPy, from what tools/bench measured.

    bench_trials_table.py FILE

FILE: a line "= WHAT<tab>NAME" before the lines of tools/bench.c.
"""
import statistics
import sys

ROW = "{:30}{:>9}{:>11}{:>13}{:>22}"
HEAD = {
    "all": "judging 1000000 touches in a CSV, medians of 5 runs each, in turn. The others do the figures that\n"
           "they have ready; trueup also does Mann and Kendall's test (SciPy has it: the third pair), Rosner's\n"
           "outliers and Theil and Sen's slope with its interval: R has neither at hand, and SciPy forms all pairs\n"
           "for the slope, which does not fit at this length: they have their own pair below",
    "every": "5000 touches, every figure on both sides; SciPy's slope forms all 12 million pairs, and a fifth of a\n"
             "second is Python's start",
    "one-pass": "the same touches by trueup trials --one-pass, beside the figures of one pass",
}


def read(path):
    blocks = []
    for line in open(path, encoding="utf-8"):
        if line.startswith("= "):
            blocks.append((*line[2:].rstrip("\n").split("\t"), {"A": [], "B": []}))
        else:
            name, *figures = line.split()
            blocks[-1][2][name].append([float(figure) for figure in figures])
    return blocks


def medians(runs):
    return [statistics.median(run[i] for run in runs) for i in range(3)]


def row(name, figures, ratio=""):
    return ROW.format(name, f"{figures[0]:.3f}", f"{figures[1]:.3f}", f"{figures[2] / 1024:.1f}", ratio)


def main():
    for what, name, runs in read(sys.argv[1]):
        ours, theirs = medians(runs["A"]), medians(runs["B"])
        if what == "long":
            print(row("--one-pass, " + name, ours))
            continue
        if what in HEAD:
            print(("" if what == "all" else "\n") + HEAD.pop(what) + "\n")
            print(ROW.format("", "wall, s", "CPU, s", "memory, MiB", "times as fast"))
        times = f"{theirs[0] / ours[0]:.1f} wall, {theirs[1] / ours[1]:.1f} CPU"
        print(row("--one-pass" if what == "one-pass" else "trueup trials", ours, times))
        print(row(name, theirs))


main()
