# SPDX-License-Identifier: GPL-3.0-or-later
"""What the rigs share: getting their packages, building, sentences taken apart, the logger."""
import os
import pathlib
import shutil
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "support"))
BUILD = ROOT / "build-rigs"
SKIPPED = 77
FIRMWARE = BUILD / "firmware" / "touch-counter.elf"


def leave_out(reason):
    """The whole rig cannot run here, and says so."""
    print(f"1..0 # SKIP {reason}", flush=True)
    sys.exit(SKIPPED)


def run(*words, **options):
    """A command that has to succeed; its output."""
    done = subprocess.run([str(word) for word in words], stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, text=True, check=False, **options)
    if done.returncode != 0:
        raise RuntimeError(f"{words[0]} ended with {done.returncode}:\n{done.stdout}")
    return done.stdout


def get_packages(which, *programs):
    """Installs what a rig needs, or leaves the rig out; the programs have to be there then."""
    done = subprocess.run([ROOT / "tools" / "setup", which], stdin=subprocess.DEVNULL,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, check=False)
    if done.returncode != 0:
        last = (done.stdout.strip().splitlines() or ["no reason given"])[-1]
        leave_out(f"tools/setup {which} could not install its packages: {last.strip()}")
    missing = [program for program in programs if not shutil.which(program)]
    if missing:
        leave_out("not installed: " + ", ".join(missing))


def build_firmware(folder=None, options=""):
    """Compiles the firmware, warnings as errors; the file to run."""
    folder = folder or FIRMWARE.parent
    run("make", "-B", "-C", ROOT / "tools" / "firmware", f"BUILD={folder}", f"OPTIONS={options}")
    return pathlib.Path(folder) / FIRMWARE.name


def build_micro():
    """Compiles the program that runs the firmware."""
    program = BUILD / "micro"
    BUILD.mkdir(exist_ok=True)
    run("gcc", "-std=gnu11", "-O2", "-Wall", "-Wextra", "-Werror", "-o", program,
        ROOT / "tools" / "rigs" / "micro" / "micro.c", "-lsimavrparts", "-lsimavr")
    return program


def build_program():
    """The program; an environment that names one saves the building."""
    if os.environ.get("TRUEUP"):
        return pathlib.Path(os.environ["TRUEUP"])
    folder = BUILD / "trueup"
    if not (folder / "build.ninja").exists():
        run("meson", "setup", folder, ROOT, "--buildtype=release", "-Dtests=false")
    run("ninja", "-C", folder)
    return folder / "trueup"


def checksum(body):
    """IEC 61162-1: the exclusive or of the characters between $ and *."""
    value = 0
    for byte in body.encode("ascii"):
        value ^= byte
    return f"{value:02X}"


def sentence(*fields):
    """A sentence with its checksum, as bytes."""
    body = ",".join(str(field) for field in fields)
    return f"${body}*{checksum(body)}\r\n".encode("ascii")


def sentences(data):
    """The fields of each sentence of a device's output, every byte of which has to make sense."""
    text = data.decode("ascii")
    if text and not text.endswith("\r\n"):
        raise AssertionError(f"the output ends in mid-line: {text[-60:]!r}")
    found = []
    for line in text.split("\r\n")[:-1]:
        body, star, digits = line[1:].partition("*")
        if line[:1] != "$" or star != "*" or digits != checksum(body):
            raise AssertionError(f"not a sentence: {line!r}")
        found.append(body.split(","))
    return found
