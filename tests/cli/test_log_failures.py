#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every write, sync, read, open, close and allocation of `trueup log` fails once, and the disk fills
up: a clear message, every touch that was shown is in the log, no line of the log is torn, and
touches that could not be recorded are listed.

The failures come from tests/support/fail_preload.c. Without FAIL_PRELOAD (a build with a sanitizer,
which wants to be loaded first) those cases are skipped.
"""
import os
import pathlib
import re
import resource
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap
from test_log_kill import read_log

PRELOAD = os.environ.get("FAIL_PRELOAD", "")
LIMIT = 3000
LINES = b"".join(b"p %d.5 20 -40.0125\n" % i for i in range(1, 7)) + b"noise\n"
SHOWN = re.compile(r"^touch (\d+): x (-?[\d.]+) ", re.M)
UNRECORDED = re.compile(r"^not recorded: touch (\d+): ", re.M)


def command(*more):
    return [str(pathlib.Path(tap.program()).resolve()), "log", "--port", "-", "--out",
            "a.hits.jsonl", "--template", "p {x} {y} {z}", "--axis", "z", *more]


def run(folder, call="", how="", at=0, lines=LINES, **more):
    """A run with a failure planned, or none. Lines come from a file: a pipe that is closed may
    give EIO as its end."""
    mark = folder / "mark"
    environment = {**os.environ, "FAIL_CALL": call, "FAIL_HOW": how, "FAIL_AT": str(at),
                   "FAIL_MARK": str(mark)}
    if call:
        environment["LD_PRELOAD"] = PRELOAD
    with tempfile.TemporaryFile() as source:
        source.write(lines)
        source.seek(0)
        done = subprocess.run(command(), cwd=folder, env=environment, stdin=source,
                              capture_output=True, timeout=60, **more)
    done.stdout, done.stderr = done.stdout.decode(), done.stderr.decode()
    failed = mark.exists()
    mark.unlink(missing_ok=True)
    return failed, done


def fresh(folder, old):
    """A log of two touches, or none; and in one a torn end."""
    for path in folder.iterdir():
        path.unlink()
    if old:
        _, done = run(folder, lines=b"p 100.5 1 2\np 101.5 1 2\n")
        tap.equal(done.returncode, 0, done.stderr)
    if old == "torn":
        with open(folder / "a.hits.jsonl", "ab") as log:
            log.write(b'{"seq":3,"utc":"2026')


def judge(folder, done, old, what):
    """One run in which a call failed."""
    torn_there = (folder / "a.hits.jsonl.torn").exists()
    hits, torn = read_log(folder / "a.hits.jsonl")
    if torn and not (old == "torn" and not torn_there or done.returncode == 4 and old == "torn"):
        raise AssertionError(f"{what}: {torn} torn bytes")
    if old and (hits.get(1), hits.get(2)) != ((100.5, 1), (101.5, 1)):
        raise AssertionError(f"{what}: what the log held is gone: {hits}")
    for number, x in SHOWN.findall(done.stdout):
        if hits.get(int(number), (None,))[0] != float(x):
            raise AssertionError(f"{what}: touch {number} was shown and is not in the log")
    for number in UNRECORDED.findall(done.stderr):
        if int(number) in hits:
            raise AssertionError(f"{what}: touch {number} is in the log and said to be missing")
    if done.returncode == 0:
        tap.equal(len(hits), 6 + (2 if old else 0), f"touches, {what}: {done.stderr}")
        return
    tap.equal(done.returncode, 4, f"exit code, {what}: {done.stderr}")
    last = done.stderr.splitlines()[-1] if done.stderr else ""
    if not what.startswith("write") and not last.startswith("trueup log: "):
        raise AssertionError(f"{what}: {done.stderr!r}")


def fail_each(call, how, old):
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for at in range(1, LIMIT):
            fresh(folder, old)
            failed, done = run(folder, call, how, at)
            if not failed:
                tap.equal(done.returncode, 0, done.stderr)
                break
            judge(folder, done, old, f"{call} {at} {how}")
        if at == 1 or at == LIMIT - 1:
            raise AssertionError(f"{call}: {at - 1} calls failed")


for old in ("", "old", "torn"):
    for call, how in (("write", "EIO"), ("write", "ENOSPC"), ("write", "SHORT"), ("write", "EINTR"),
                      ("sync", "EIO"), ("read", "EIO"), ("open", "EMFILE"), ("close", "EIO"),
                      ("memory", "ENOMEM")):
        tap.add(f"{call} failing with {how}, {'log: ' + old if old else 'no log yet'}", fail_each,
                call, how, old)


@tap.case
def no_touch_is_shown_before_its_own_sync():
    if not PRELOAD:
        raise tap.Skip("no FAIL_PRELOAD in this build (sanitizers want to be loaded first)")
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        shown = []
        for at in (1, 2):  # of the start record; of the touches, with the end record
            fresh(folder, "old")
            failed, done = run(folder, "sync", "EIO", at)
            tap.equal((failed, done.returncode), (True, 4), f"sync {at}: {done.stderr}")
            shown.append(len(SHOWN.findall(done.stdout)))
        tap.equal(shown, [0, 0], "touches shown when the first, the second sync fails")


def limit_files(size):
    def apply():
        resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))
    return apply


@tap.case
def a_disk_that_fills_up_at_any_byte_leaves_whole_lines_and_lists_the_rest():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        _, done = run(folder)
        tap.equal(done.returncode, 0, done.stderr)
        size = (folder / "a.hits.jsonl").stat().st_size
        for room in range(0, size, 23):  # shown lines are files too, but shorter
            fresh(folder, "")
            _, done = run(folder, preexec_fn=limit_files(room))
            tap.equal(done.returncode, 4, f"exit code, {room} bytes: {done.stderr}")
            judge(folder, done, "", f"{room} bytes")
            if not re.search("File too large", done.stderr):
                raise AssertionError(f"{room} bytes: {done.stderr}")
            if room > 200 and len(UNRECORDED.findall(done.stderr)) + \
                    len(SHOWN.findall(done.stdout)) != 6:
                raise AssertionError(f"{room} bytes: some touch is neither shown nor listed: "
                                     f"{done.stderr}")


@tap.case
def a_disk_that_has_room_again_loses_nothing():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        process = subprocess.Popen(command(), cwd=folder, stdin=subprocess.PIPE, text=True,
                                   stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        process.stdin.write("p 1.5 20 -40\n")
        process.stdin.flush()
        tap.equal(process.stdout.readline()[:8], "touch 1:", "the first touch")
        old = resource.prlimit(process.pid, resource.RLIMIT_FSIZE, (10, resource.RLIM_INFINITY))
        process.stdin.write("p 2.5 20 -40\n")
        process.stdin.flush()
        warning = process.stderr.readline()
        if "touches wait in memory" not in warning:
            raise AssertionError(warning)
        process.stdin.write("p 3.5 20 -40\n")
        process.stdin.flush()
        resource.prlimit(process.pid, resource.RLIMIT_FSIZE, old)
        tap.equal(process.stdout.readline()[:8], "touch 2:", "the second touch")
        tap.equal(process.stdout.readline()[:8], "touch 3:", "the third touch")
        _, said = process.communicate()
        tap.equal(process.returncode, 0, said)
        if "writing works again" not in said:
            raise AssertionError(said)
        tap.equal(sorted(read_log(folder / "a.hits.jsonl")[0]), [1, 2, 3], "touches")


@tap.case
def a_folder_that_may_not_be_written_to_is_named():
    user = {"user": 65534} if os.geteuid() == 0 else {}  # root may write anywhere
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        os.chmod(folder, 0o555)
        try:
            _, done = run(folder, **user)
        except PermissionError:
            raise tap.Skip("an ordinary user may not run this build of the program")
        os.chmod(folder, 0o700)
        tap.equal(done.returncode, 4, done.stderr)
        if "Permission denied" not in done.stderr or "a.hits.jsonl" not in done.stderr:
            raise AssertionError(done.stderr)


@tap.case
def a_closed_standard_stream_is_not_taken_for_the_log():
    """The log must not get the number of a stream that was closed: warnings would land in it."""
    for closed in ((0,), (1,), (2,), (1, 2), (0, 1, 2)):
        with tempfile.TemporaryDirectory() as text:
            folder = pathlib.Path(text)
            shell = " ".join(f"{fd}{'<' if fd == 0 else '>'}&-" for fd in closed)
            lines = "".join(f"p {i} 2 -3\n" for i in range(1, 4)) + "nonsense\np 9 2 -3\n"
            done = subprocess.run(
                ["sh", "-c", f'"$0" "$@" {shell}', str(pathlib.Path(tap.program()).resolve()), "log",
                 "--port", "-", "--out", "a.hits.jsonl", "--template", "p {x} {y} {z}", "--axis", "z"],
                cwd=folder, input=lines, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, text=True, timeout=60)
            log = folder / "a.hits.jsonl"
            if 0 in closed:
                tap.equal((done.returncode, log.exists()), (4, False), f"{closed}: no source")
                continue
            checked = subprocess.run([tap.program(), "log", "--verify", str(log)],
                                     capture_output=True, text=True)
            tap.equal(checked.returncode, 0, f"{closed}: {checked.stdout}")
            tap.equal(done.returncode, 4 if 1 in closed else 0, f"{closed}: exit code")


@tap.case
def a_reader_of_the_touches_that_goes_away_costs_no_touch():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        line = " ".join(f"'{word}'" for word in command())
        lines = b"".join(b"p %d.5 20 -40.0125\n" % i for i in range(3000))
        done = subprocess.run(["bash", "-c", f"set -o pipefail; {line} | head -n 1"], cwd=folder,
                              input=lines, capture_output=True, timeout=60)
        tap.equal(done.returncode, 4, done.stderr)
        hits, torn = read_log(folder / "a.hits.jsonl")
        tap.equal(torn, 0, "torn bytes")
        if b"standard output" not in done.stderr or not hits:
            raise AssertionError(done.stderr)
        last = (folder / "a.hits.jsonl").read_text().splitlines()[-1]
        if '"kind":"end"' not in last:
            raise AssertionError(last)


if __name__ == "__main__":
    tap.run()
