#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A log of a million touches, or a sample of a fifth, is verified, and added to, in constant memory.

MAKE_HITS is the program that writes such a log (tools/bench_hits.c); LOG_HITS says how many touches
(a build with a sanitizer takes fewer, and its memory says nothing).
"""
import os
import subprocess
import sys
import pathlib
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

SANITIZED = bool(os.environ.get("LOG_HITS"))
COUNT = int(os.environ.get("LOG_HITS") or tap.runs(200000, 1000000))
SHORT = 1000
MORE_KIB = 512  # than for a short log; 200 000 touches are 31 MB


def measured(process):
    """The exit code and the peak memory in KiB of a child."""
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return process.returncode, usage.ru_maxrss


def verify(count):
    """The peak memory of a check of so many touches. It holds what this interpreter held when it
    forked, some 12 MiB, whatever the program itself takes."""
    make = subprocess.Popen([os.environ["MAKE_HITS"], str(count)], stdout=subprocess.PIPE)
    with tempfile.TemporaryFile() as said:
        process = subprocess.Popen([tap.program(), "log", "--verify", "-"], stdin=make.stdout,
                                   stdout=said)
        make.stdout.close()
        code, peak = measured(process)
        tap.equal((make.wait(), code), (0, 0), "exit codes")
        said.seek(0)
        tap.equal(said.read().decode().split(";")[1], f" {count} touches, 0 other records", "said")
    return peak


def go_on(count):
    """The peak memory of a recording into a log that holds so many."""
    with tempfile.TemporaryDirectory() as folder:
        log = pathlib.Path(folder) / "a.hits.jsonl"
        with open(log, "wb") as out:
            subprocess.run([os.environ["MAKE_HITS"], str(count)], stdout=out, check=True)
        process = subprocess.Popen([tap.program(), "log", "--port", "-", "--out", log, "--template",
                                    "p {x} {y} {z}", "--axis", "z", "--quiet"],
                                   stdin=subprocess.PIPE, stdout=subprocess.DEVNULL)
        process.stdin.write(b"p 1 2 3\n")
        process.stdin.close()
        code, peak = measured(process)
        tap.equal(code, 0, "exit code")
        with open(log, "rb") as text:
            text.seek(-600, os.SEEK_END)
            tap.equal(f'{{"seq":{count + 1},"utc"'.encode() in text.read(), True, "it goes on")
    return peak


def takes_constant_memory(run):
    short, long = run(SHORT), run(COUNT)
    print(f"# peak memory: {SHORT} touches {short / 1024:.1f} MiB, {COUNT} touches "
          f"{long / 1024:.1f} MiB")
    if not SANITIZED and long > short + MORE_KIB:
        raise AssertionError(f"{long} KiB, {short} KiB for a short log")


tap.add("a log of many touches is verified in constant memory", takes_constant_memory, verify)
tap.add("a log of many touches is added to in constant memory", takes_constant_memory, go_on)

if __name__ == "__main__":
    tap.run()
