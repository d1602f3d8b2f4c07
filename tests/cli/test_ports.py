#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`trueup ports` with played USB adapters. PORT_SHIM is the shim, FAIL_PRELOAD what makes calls fail; without
them (in a build with a sanitizer) only what needs no port is tried."""
import json
import os
import pathlib
import subprocess
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import fake_port
import tap

NOBODY = 65534


def run(bench, *words, **options):
    shim = os.environ.get("PORT_SHIM")
    if not shim:
        raise tap.Skip("not in a build with a sanitizer")
    return subprocess.run([tap.program(), "ports", *words], env=bench.environment(shim), text=True,
                          capture_output=True, timeout=60, **options)


def good(bench, *words, **options):
    done = run(bench, *words, **options)
    tap.equal((done.returncode, done.stderr), (0, ""))
    return done.stdout


@tap.case
def the_ports_are_listed_with_ids_as_port_takes_them():
    with fake_port.Bench() as bench:
        bench.plug("ttyUSB0", serial="TP-0042", words="Touch box")
        bench.plug("ttyACM0", vendor=0x1209, product=0xbeef, words="Bench printer", socket="1-3")
        tap.equal(good(bench), "/dev/ttyACM0  Bench printer  1209:beef\n"
                               "/dev/ttyUSB0  Touch box      1d50:0001:TP-0042\n")


@tap.case
def the_list_as_json_has_what_is_known():
    with fake_port.Bench() as bench:
        bench.plug("ttyUSB0", serial="TP-0042", words="Touch box")
        bench.plug("ttyUSB1", socket="1-3")
        tap.equal(json.loads(good(bench, "--json")), {"schema": 1, "ports": [
            {"name": "/dev/ttyUSB0", "description": "Touch box", "can_open": True,
             "usb": {"vendor": "1d50", "product": "0001", "serial": "TP-0042"}},
            {"name": "/dev/ttyUSB1", "description": "ttyUSB1", "can_open": True,
             "usb": {"vendor": "1d50", "product": "0001"}}]})


@tap.case
def no_port_is_no_failure_and_what_to_check_is_said():
    with fake_port.Bench() as bench:
        text = good(bench)
        tap.equal(text.splitlines()[0], "No serial port was found. Check:")
        tap.equal("--port -" in text, True)
        tap.equal(json.loads(good(bench, "--json")), {"schema": 1, "ports": []})


def may_enter(path):
    """Whether an ordinary user reaches it: a clone in a folder of root's alone can't be tried so."""
    return all(folder.stat().st_mode & 0o001 for folder in pathlib.Path(path).resolve().parents)


@tap.case
def a_port_without_permission_names_the_group():
    if os.geteuid() == 0 and not may_enter(tap.program()):
        raise tap.Skip("the program lies in a folder that an ordinary user cannot enter")
    with fake_port.Bench() as bench:
        bench.plug("ttyUSB0", words="Touch box")
        os.chmod(bench.terminal("ttyUSB0"), 0o060)
        rights = {"user": NOBODY, "group": NOBODY, "extra_groups": []} if os.geteuid() == 0 else {}
        done = run(bench, cwd="/", **rights)
        tap.equal(done.returncode, 0)
        lines = done.stdout.splitlines()
        tap.equal(lines[0], "/dev/ttyUSB0  Touch box  1d50:0001")
        words = " ".join(" ".join(lines[1:]).split())
        if not words.startswith("can't be opened: permission denied: it belongs to group ") \
                or '"sudo usermod -aG ' not in words:
            raise AssertionError(words)
        tap.equal(max(map(len, lines)) <= 80, True, "fits 80 columns")


@tap.case
def a_port_in_use_names_the_process():
    with fake_port.Bench() as bench:
        bench.plug("ttyUSB0")
        held = os.open(bench.terminal("ttyUSB0"), os.O_RDWR | os.O_NOCTTY)
        listed = json.loads(good(bench, "--json"))["ports"][0]
        os.close(held)
        tap.equal(listed["can_open"], False)
        start = f"in use by process {os.getpid()} ("
        tap.equal(listed["why_not"][:len(start)], start)


@tap.case
def without_the_systems_list_the_place_is_named():
    with fake_port.Bench() as bench:
        (bench.root / "sys/class/tty").rmdir()
        done = run(bench)
        tap.equal(done.returncode, 4)
        tap.equal(done.stdout, "")
        tap.equal(done.stderr, "trueup ports: /sys/class/tty: the system's list of ports can't be "
                               "read: No such file or directory\n")


@tap.case
def a_word_too_many_is_refused():
    done = subprocess.run([tap.program(), "ports", "ttyUSB0"], capture_output=True, text=True)
    tap.equal(done.returncode, 2)


@tap.case
def an_answer_that_cannot_be_written_is_a_failure():
    with open("/dev/full", "w", encoding="utf-8") as full:
        done = subprocess.run([tap.program(), "ports"], stdout=full, stderr=subprocess.PIPE, text=True)
    tap.equal(done.returncode, 4)
    tap.equal("No space left" in done.stderr, True, done.stderr)


def judge(done, what):
    """A run in which a call failed: the port is named, or the failure."""
    if done.returncode == 0:
        tap.equal((done.stdout[:12], done.stderr), ("/dev/ttyUSB0", ""), what)
    else:
        tap.equal(done.returncode, 4, what)
        tap.equal(done.stderr[:14], "trueup ports: ", what)


def fail_each(call, how):
    """What libserialport does not find out it leaves away; it must not take the program down."""
    preload = os.environ.get("FAIL_PRELOAD")
    if not preload:
        raise tap.Skip("a sanitizer wants to be loaded first")
    with fake_port.Bench() as bench:
        bench.plug("ttyUSB0", serial="TP-0042", words="Touch box")
        mark = bench.root / "mark"
        for at in range(1, 2000):
            more = {"FAIL_CALL": call, "FAIL_HOW": how, "FAIL_AT": str(at), "FAIL_MARK": str(mark)}
            environment = bench.environment(os.environ["PORT_SHIM"], more)
            environment["LD_PRELOAD"] = f"{preload}:{environment['LD_PRELOAD']}"
            done = subprocess.run([tap.program(), "ports"], env=environment, capture_output=True,
                                  text=True, timeout=60)
            if not mark.exists():
                break
            mark.unlink()
            judge(done, f"{call} {at}")
        tap.equal(1 < at < 1999, True, f"{at - 1} calls of {call} failed")


for a_call, a_how in (("memory", "ENOMEM"), ("open", "EMFILE"), ("read", "EIO"), ("close", "EIO"),
                      ("write", "ENOSPC")):
    tap.add(f"{a_call} failing with {a_how} once", fail_each, a_call, a_how)

if __name__ == "__main__":
    tap.run()
