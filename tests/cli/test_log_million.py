#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A log of a million touches is verified, and added to, in constant memory.

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

COUNT = int(os.environ.get("LOG_HITS", "1000000"))
MOST_KIB = 8 * 1024  # the program, its libraries and a block of 64 KiB; the log has 156 MB


def measured(process):
    """The exit code and the peak memory in KiB of a child."""
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    return process.returncode, usage.ru_maxrss


def check_memory(peak):
    print(f"# {COUNT} touches, peak memory {peak / 1024:.1f} MiB")
    if COUNT >= 1000000 and peak > MOST_KIB:
        raise AssertionError(f"{peak} KiB")


@tap.case
def verifying_takes_no_more_memory_than_a_short_log():
    make = subprocess.Popen([os.environ["MAKE_HITS"], str(COUNT)], stdout=subprocess.PIPE)
    with tempfile.TemporaryFile() as said:
        process = subprocess.Popen([tap.program(), "log", "--verify", "-"], stdin=make.stdout,
                                   stdout=said)
        make.stdout.close()
        code, peak = measured(process)
        tap.equal((make.wait(), code), (0, 0), "exit codes")
        said.seek(0)
        tap.equal(said.read().decode().split(";")[1], f" {COUNT} touches, 0 other records", "said")
    check_memory(peak)


@tap.case
def a_long_log_is_added_to_in_constant_memory():
    with tempfile.TemporaryDirectory() as folder:
        log = pathlib.Path(folder) / "a.hits.jsonl"
        with open(log, "wb") as out:
            subprocess.run([os.environ["MAKE_HITS"], str(COUNT)], stdout=out, check=True)
        process = subprocess.Popen([tap.program(), "log", "--port", "-", "--out", log, "--template",
                                    "p {x} {y} {z}", "--axis", "z", "--quiet"],
                                   stdin=subprocess.PIPE, stdout=subprocess.DEVNULL)
        process.stdin.write(b"p 1 2 3\n")
        process.stdin.close()
        code, peak = measured(process)
        tap.equal(code, 0, "exit code")
        with open(log, "rb") as text:
            text.seek(-600, os.SEEK_END)
            tap.equal(f'{{"seq":{COUNT + 1},"utc"'.encode() in text.read(), True, "it goes on")
    check_memory(peak)


if __name__ == "__main__":
    tap.run()
