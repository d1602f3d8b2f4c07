#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`trueup trials --one-pass` says what the other way says, of every file, and keeps nothing.

MAKE_HITS is the program that writes a hit log (tools/bench_hits.c).
"""
import json
import os
import pathlib
import random
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

FIXTURES = tap.ROOT / "fixtures" / "trials"
MORE_KIB = 256  # that the memory may grow by; the touches themselves would take some 20 MB
FIRST, ALL = 20000, 300000
# Of a series; lag1 is summed in another order.
SAME = ("name", "axis", "direction", "n", "mean", "sd", "min", "max", "range", "mean_interval",
        "sd_interval", "repeatability_limit", "unidirectional_repeatability", "repeats_within",
        "step")
ABSENT = ("median", "outliers", "sd_without", "trend", "normality", "step_seen")


def answer(*words, stdin=None):
    done = subprocess.run([tap.program(), "trials", *words, "--json"], input=stdin,
                          capture_output=True, check=True)
    return json.loads(done.stdout)


def compare(*words):
    one, all_ = answer(*words, "--one-pass"), answer(*words)
    tap.equal(one["one_pass"], True, "one_pass")
    tap.equal("one_pass" in all_, False, "one_pass the other way")
    tap.equal(len(one["series"]), len(all_["series"]), "series")
    for a, b in zip(one["series"], all_["series"]):
        for name in SAME:
            tap.equal(a.get(name), b.get(name), f"{a['name']}: {name}")
        for name in ABSENT:
            tap.equal(name in a, False, f"{a['name']}: {name} is there")
        tap.equal("lag1" in a, "lag1" in b, "lag1 is there")
        tap.near(a.get("lag1", 0), b.get("lag1", 0), 1e-9, f"{a['name']}: lag1")
        chart = dict(b.get("chart", {}))
        chart.pop("beyond", None)
        tap.equal(a.get("chart", {}), chart, f"{a['name']}: chart")


@tap.case
def the_figures_are_those_of_the_touches():
    compare(FIXTURES / "morning.hits.jsonl")
    compare(FIXTURES / "morning.hits.jsonl", "--series", "warm", "--step", "0.0025")
    compare(FIXTURES / "seating.csv")
    compare(FIXTURES / "feeds.csv", "--unit", "in")
    compare(FIXTURES / "morning.hits.jsonl", FIXTURES / "feeds.csv", "--axis", "z")


@tap.case
def many_series_in_turn_and_axes_are_kept_apart():
    chance = random.Random(11)
    rows = ["x,y,z,axis,dir,series,ok"]
    for i in range(9000):
        axis = chance.choice("xyz")
        places = [f"{chance.gauss(50, 0.004):.4f}" for _ in range(3)]
        rows.append(",".join([*places, axis, chance.choice("+-"), f"s{chance.randrange(12)}",
                              chance.choice(("true", "true", "false"))]))
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "mixed.csv"
        path.write_text("\n".join(rows) + "\n")
        compare(path)
        compare(path, "--axis", "y")
        compare(path, "--series", "s7")


@tap.case
def a_pipe_is_read_as_a_file_is():
    for name in ("morning.hits.jsonl", "seating.csv"):
        path = FIXTURES / name
        tap.equal(answer("-", "--one-pass", stdin=path.read_bytes())["series"],
                  answer(path, "--one-pass")["series"], name)


@tap.case
def a_fault_in_a_late_row_leaves_no_answer():
    rows = "t,z\n" + "".join(f"{i},1.0{i % 7}\n" for i in range(5000))
    for last, code in (("5000,1,5\n", 3), ("5000,nan\n", 3), ("4,1.05\n", 3), ("5000,1.05\n", 0)):
        done = subprocess.run([tap.program(), "trials", "-", "--one-pass"], text=True,
                              input=rows + last, capture_output=True)
        tap.equal((done.returncode, bool(done.stdout)), (code, code == 0), last)


def highest_kib(process):
    status = pathlib.Path(f"/proc/{process.pid}/status").read_text()
    return int(status.split("VmHWM:")[1].split()[0])


def check_memory(first, rest):
    """Peak memory while more is expected, after the first touches and after all."""
    with tempfile.TemporaryFile() as said:
        process = subprocess.Popen([tap.program(), "trials", "-", "--one-pass", "--json"],
                                   stdin=subprocess.PIPE, stdout=said)
        process.stdin.write(first)
        process.stdin.flush()
        before = highest_kib(process)
        process.stdin.write(rest)
        process.stdin.flush()
        after = highest_kib(process)
        process.stdin.close()
        tap.equal(process.wait(), 0, "exit code")
        said.seek(0)
        tap.equal(sum(s["n"] for s in json.load(said)["series"]), ALL, "touches")
    print(f"# peak memory: {FIRST} touches {before} KiB, {ALL} touches {after} KiB")
    if after > before + MORE_KIB:
        raise AssertionError(f"{before} KiB grew to {after} KiB")


@tap.case
def memory_does_not_grow_with_the_rows_of_a_csv():
    def rows(numbers):
        return b"".join(b"%d.5,-40.%04d,left\n" % (i, 1000 + i * 7919 % 97) for i in numbers)
    check_memory(b"t,z,series\n" + rows(range(FIRST)), rows(range(FIRST, ALL)))


@tap.case
def memory_does_not_grow_with_the_touches_of_a_log():
    if "MAKE_HITS" not in os.environ:
        raise tap.Skip("MAKE_HITS is not set")
    text = subprocess.run([os.environ["MAKE_HITS"], str(ALL)], capture_output=True,
                          check=True).stdout
    cut = len(text) * FIRST // ALL
    check_memory(text[:cut], text[cut:])


if __name__ == "__main__":
    tap.run()
