#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""kill -9 at random moments: every touch that was shown is in the log, every line of the log is
whole but for a torn last one, and the next recording goes on behind it.

60 kills, or 300 with TRUEUP_LONG=1, or TRUEUP_RUNS. The log is read here with Python's json and zlib,
and not by the program that wrote it.
"""
import concurrent.futures
import json
import os
import pathlib
import random
import re
import subprocess
import sys
import tempfile
import threading
import time
import zlib

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

KILLS = tap.runs(60, 300)
KILLS_A_LOG = 6
SHOWN = re.compile(rb"touch (\d+): x ([\d.]+) y ([\d.]+) [^\n]*\n")


def lines_of(first, count):
    """Lines of a device; x and y tell them apart."""
    return "".join(f"p {i % 1000}.5 {i // 1000} {-40 - i % 7 / 80:.4f}\n"
                   for i in range(first, first + count))


def read_log(path):
    """The hits as {number: (x, y)}, and how many bytes behind them are torn. Damage is an error."""
    data = path.read_bytes() if path.exists() else b""
    whole, _, torn = data.rpartition(b"\n")
    hits, last = {}, 0
    for number, line in enumerate(whole.split(b"\n") if whole else []):
        body, crc = line[:-18], line[-18:]
        if crc != b',"crc":"%08x"}' % zlib.crc32(body):
            raise AssertionError(f"{path.name}, line {number + 1}: {line!r}")
        record = json.loads(line)
        if number == 0:
            tap.equal(record["trueup"], "hits", "the header")
        elif "kind" not in record:
            tap.equal(record["seq"], last + 1, "the number after the last")
            last = record["seq"]
            hits[last] = (record["x"], record["y"])
    return hits, len(torn)


def feed(pipe, first, chance):
    """Lines in small pieces, some of them cut in the middle, until the reader is gone."""
    text = lines_of(first, 500).encode() * 20
    at = 0
    try:
        while True:
            step = chance.choice((1, 7, 20, 60, 400, 3000))
            os.write(pipe, text[at:at + step])
            at = (at + step) % (len(text) // 2)
            if chance.random() < 0.3:
                time.sleep(chance.random() * 0.004)
    except OSError:
        pass
    os.close(pipe)


def make_sources(folder):
    """Files of lines, each with places of its own."""
    for i in range(3):
        (folder / f"lines{i}").write_text(lines_of(100000 * i, 60000))


def start(folder, log, chance, shown):
    """A recording under way; from a file at full speed, or from a pipe in pieces."""
    command = [tap.program(), "log", "--port", "-", "--out", str(log), "--template",
               "p {x} {y} {z}", "--axis", "z", "--direction", "-", "--series", "bed"]
    feeder = None
    if chance.random() < 0.5:
        stdin = os.open(folder / f"lines{chance.randrange(3)}", os.O_RDONLY)
    else:
        stdin, pipe = os.pipe()
        os.set_inheritable(pipe, False)
        feeder = threading.Thread(target=feed, args=(pipe, chance.randrange(9000) * 1000, random.Random(chance.random())))
    process = subprocess.Popen(command, stdin=stdin, stdout=shown, stderr=subprocess.PIPE)
    os.close(stdin)
    if feeder:
        feeder.start()
    return process, feeder


def start_s():
    """How long the program takes to start and end: long under a sanitizer, on a busy machine."""
    before = time.monotonic()
    subprocess.run([tap.program(), "--version"], stdout=subprocess.DEVNULL, check=True)
    return time.monotonic() - before


def kill_often(seed, kills):
    """One log, killed so often; how many touches were shown and torn ends met in all."""
    chance = random.Random(seed)
    known, tears = {}, 0
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        log = folder / "a.hits.jsonl"
        make_sources(folder)
        for _ in range(kills):
            moment_s = chance.random() * (0.08 + 3 * start_s())
            with open(folder / "shown", "w+b") as shown:
                process, feeder = start(folder, log, chance, shown)
                time.sleep(moment_s)
                process.kill()
                _, said = process.communicate()
                if feeder:
                    feeder.join()
                tap.equal(process.returncode, -9, f"killed in time, seed {seed}: {said!r}")
                shown.seek(0)
                text = shown.read()
            known.update((int(n), (float(x), float(y))) for n, x, y in SHOWN.findall(text))
            hits, torn = read_log(log)
            for number, place in known.items():
                if hits.get(number) != place:  # halves and whole numbers: exact in both texts
                    raise AssertionError(f"seed {seed}: touch {number} at {place} was shown, the "
                                         f"log holds {hits.get(number)}")
            tears += torn > 0
            known.update(hits)  # what stands in the log stays there, shown or not
        done = subprocess.run([tap.program(), "log", "--port", "-", "--out", str(log), "--template",
                               "p {x} {y} {z}", "--axis", "z"], input=b"p 7.25 1 2\n",
                              capture_output=True, timeout=60)
        tap.equal(done.returncode, 0, done.stderr)
        hits, torn = read_log(log)
        tap.equal((torn, len(hits), hits[len(hits)]), (0, len(known) + 1, (7.25, 1)), "the log goes on")
        done = subprocess.run([tap.program(), "log", "--verify", str(log)], capture_output=True)
        tap.equal(done.returncode, 0, done.stdout)
    return len(known), tears


def no_touch_that_was_shown_is_missing():
    logs = [min(KILLS_A_LOG, KILLS - i) for i in range(0, KILLS, KILLS_A_LOG)]
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        found = list(pool.map(kill_often, range(4000, 4000 + len(logs)), logs))
    shown, tears = (sum(column) for column in zip(*found))
    print(f"# {KILLS} kills, {shown} touches recorded, {tears} torn ends")
    if shown < 10 * KILLS:
        raise AssertionError(f"only {shown} touches in {KILLS} kills: they came too early")


if __name__ == "__main__":
    tap.add("kills at random moments lose no touch that was shown",
            no_touch_that_was_shown_is_missing)
    tap.run()
