#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What may stand where a file is read: pipes with and without a writer, folders, devices, sockets.

Every reader of the program is asked: shop, hit log, table, bed map, scene, program, plan, --verify.
"""
import os
import pathlib
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

FIXTURES = tap.ROOT / "fixtures"
WORK = tempfile.TemporaryDirectory()
WAIT_S = 5  # TU_INPUT_WAIT_MS of src/record/input_file.h

# A reader: the option that takes {}, a file that it reads without complaint.
READERS = [
    ("zero left --cutter quarter --plate offcut --x 100 --shop {}", "shop.json"),
    ("zero left --cutter quarter --plate offcut --shop shop.json --log {}", "left.hits.jsonl"),
    ("rehearse front-left.ngc --scene {}", "front-left.json"),
    ("rehearse {} --scene front-left.json", "front-left.ngc"),
    ("trials {}", "left.hits.jsonl"),
    ("bed {}", "map.csv"),
    ("zero bottom --plate slab --z -70 --seat bed --shop shop.json --plate-at 50,50 --zero-at 60,60 --bed-map {}",
     "map.csv"),
    ("log --verify {}", "left.hits.jsonl"),
    ("log --port - --out new.hits.jsonl --expect {}", "front-left.ngc"),
    ("plate --shop shop.json --plate slab --touch seat=-50.0,-50.1 --touch face=@left --log {}", "left.hits.jsonl"),
]


def command(words, path):
    return [tap.program(), *words.format(path).split()]


def start(words, path):
    return subprocess.Popen(command(words, path), cwd=WORK.name, stdin=subprocess.DEVNULL, text=True,
                            stdout=subprocess.PIPE, stderr=subprocess.PIPE)


def set_up():
    for source in ("shop", "hits", "scenes", "programs", "trials"):
        for path in (FIXTURES / source).glob("*"):
            if path.is_file():
                shutil.copy(path, WORK.name)
    folder = pathlib.Path(WORK.name)
    lines = [f'{{"x":100.{i},"y":50,"z":-20,"axis":"x","dir":"+","series":"left"}}' for i in range(3)]
    subprocess.run([tap.program(), "log", "--port", "-", "--out", "left.hits.jsonl"], cwd=folder, check=True,
                   input="\n".join(lines) + "\n", text=True, capture_output=True)
    rows = [f"{x},{y},{-70 + x / 1000}" for x in (0, 50, 100) for y in (0, 50, 100)]
    (folder / "map.csv").write_text("\n".join(["x,y,z", *rows]) + "\n")
    os.mkfifo(folder / "silent")
    (folder / "folder").mkdir()


def plain(words, name):
    """The answer of the file itself, under the name of a pipe."""
    return subprocess.run(command(words, name), cwd=WORK.name, stdin=subprocess.DEVNULL, text=True,
                          capture_output=True)


@tap.case
def a_pipe_without_a_writer_is_refused_after_the_stated_time():
    began = time.monotonic()
    running = [(words, start(words, "silent")) for words, _ in READERS]
    for words, process in running:
        _, err = process.communicate(timeout=60)
        tap.equal(process.returncode, 4, words)
        if f"silent: is a pipe, and nobody wrote to it for {WAIT_S} s" not in err:
            raise AssertionError(f"{words}: {err}")
    took = time.monotonic() - began
    if not WAIT_S - 1 < took < 10 * WAIT_S:
        raise AssertionError(f"it took {took:.1f} s")


@tap.case
def a_waiting_program_ends_by_an_interrupt():
    process = start(READERS[0][0], "silent")
    time.sleep(0.5)
    began = time.monotonic()
    process.send_signal(signal.SIGINT)
    process.communicate(timeout=30)
    tap.equal(process.returncode, -signal.SIGINT)
    if time.monotonic() - began > WAIT_S - 1:
        raise AssertionError("it went on waiting")


@tap.case
def a_pipe_whose_writer_comes_late_is_read():
    for number, (words, name) in enumerate(READERS):
        pipe = pathlib.Path(WORK.name, f"late{number}")
        os.mkfifo(pipe)
        process = start(words, pipe.name)
        time.sleep(0.3)
        with open(pipe, "wb", buffering=0) as out:
            time.sleep(0.2)  # a writer that says nothing yet
            out.write(pathlib.Path(WORK.name, name).read_bytes())
        out, err = process.communicate(timeout=60)
        expected = plain(words, name)
        tap.equal(process.returncode, expected.returncode, f"{words}: {err}")
        # The head says which unit numbers have, and a file that is read but once cannot tell it before.
        said = [re.sub(r"\AUsed:.*?\n\n", "", text, flags=re.S)
                for text in (out.replace(pipe.name, name), expected.stdout)]
        tap.equal(*said, words)


@tap.case
def a_pipe_of_the_shell_is_read_as_slowly_as_it_comes():
    for words, name in READERS:
        line = f'exec "$TRUEUP" {words.format(f"<(sleep 0.3; cat {name})")}'
        done = subprocess.run(["bash", "-c", line], cwd=WORK.name, stdin=subprocess.DEVNULL, text=True,
                              capture_output=True, timeout=60)
        tap.equal(done.returncode, plain(words, name).returncode, f"{words}: {done.stderr}")


@tap.case
def an_empty_pipe_of_the_shell_is_an_empty_file_at_once():
    began = time.monotonic()
    for words, _ in READERS:
        line = f'exec 9< <(true); sleep 0.1; exec "$TRUEUP" {words.format("/dev/fd/9")}'
        done = subprocess.run(["bash", "-c", line], cwd=WORK.name, stdin=subprocess.DEVNULL, text=True,
                              capture_output=True, timeout=60)
        if "nobody wrote" in done.stderr:
            raise AssertionError(done.stderr)
    if time.monotonic() - began > WAIT_S * len(READERS) / 2:
        raise AssertionError("it waited")


@tap.case
def folders_devices_and_sockets_are_named():
    with socket.socket(socket.AF_UNIX) as end:
        end.bind(str(pathlib.Path(WORK.name, "socket")))
        for words, _ in READERS:
            for name, said in (("folder", "is a folder; name the file in it"),
                               ("/dev/zero", "is a device and no file"), ("socket", "is a socket and no file")):
                done = plain(words, name)
                tap.equal(done.returncode, 4, words)
                if f"{name}: {said}" not in done.stderr:
                    raise AssertionError(f"{words}: {done.stderr}")


if __name__ == "__main__":
    tap.require_program()
    set_up()
    tap.run()
