#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Golden streams: fixtures/streams/NAME.bytes is decoded by NAME.setup and gives NAME.records.

    /usr/bin/python3 tests/decode/test_streams.py               replays and compares (TAP)
    /usr/bin/python3 tests/decode/test_streams.py --rebuild     writes the files of every stream anew

Each is decoded whole, byte by byte, and in two other chunkings: the records must be the same. The files
are written out from tests/decode/streams.py, where the records are stated by hand; a change there
needs its reason in the commit.
"""
import os
import pathlib
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import streams  # noqa: E402
import tap  # noqa: E402

FOLDER = tap.ROOT / "fixtures" / "streams"
DUMP = os.environ.get("DECODE_DUMP") or str(tap.ROOT / "build" / "tests" / "decode" / "decode_dump")


def decode(name, chunk):
    tap.need_locale("de_DE.UTF-8")
    setup = (FOLDER / f"{name}.setup").read_text(encoding="utf-8")
    options = [line for line in setup.splitlines() if not line.startswith("#")]
    done = subprocess.run([DUMP, FOLDER / f"{name}.bytes", str(chunk), *options], capture_output=True,
                          timeout=60, check=True, env={**os.environ, "LC_ALL": "de_DE.UTF-8"})
    tap.equal(done.stderr, b"", "standard error")
    return done.stdout.decode("ascii").splitlines()


def check(name, chunk):
    wanted = (FOLDER / f"{name}.records").read_text(encoding="ascii").splitlines()
    found = decode(name, chunk)
    for number, (one, two) in enumerate(zip(found, wanted), 1):
        tap.equal(one, two, f"record {number}")
    tap.equal(len(found), len(wanted), "records")


def files():
    """What the folder should hold: name -> bytes."""
    for name, about, options, parts in streams.STREAMS:
        yield f"{name}.bytes", streams.stream_of(parts)
        yield f"{name}.setup", streams.header_of(name, about, options).encode()
        yield f"{name}.records", streams.expected_of(parts).encode("ascii")


@tap.case
def the_folder_holds_what_is_stated_and_nothing_else():
    there = {path.name: path.read_bytes() for path in FOLDER.iterdir() if path.suffix != ".md"}
    stated = dict(files())
    tap.equal(sorted(there), sorted(stated), "files")
    for name, data in stated.items():
        tap.equal(there[name], data, name)


if __name__ == "__main__":
    if sys.argv[1:] == ["--rebuild"]:
        for name, data in files():
            (FOLDER / name).write_bytes(data)
    else:
        for stream in streams.STREAMS:
            for chunk, words in ((0, "whole"), (1, "byte by byte"), (7, "in sevens"), (64, "in packets of 64")):
                tap.add(f"{stream[0].replace('_', ' ')}, {words}", check, stream[0], chunk)
        tap.run()
