#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`trueup log` on a terminal, its signals and its clock. The terminal is a pseudo-terminal whose
screen is kept here by the few control sequences of ECMA-48 that the view uses.
"""
import fcntl
import json
import os
import pathlib
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import tempfile
import termios
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

PLAN = "G21 G91\n" + "".join(f"(touch bed z {i}, counts)\nG38.2 Z-10 F100\nG0 Z5\n"
                             for i in range(1, 11)) + "M2\n"


class Screen:
    """What stands on the terminal."""

    def __init__(self, columns):
        self.columns, self.lines, self.row, self.column = columns, [""], 0, 0

    def take(self, text):
        for part in re.findall(r"\x1b\[\d*[A-Z]|[\r\n]|[^\x1b\r\n]+", text):
            if part == "\n":
                self.row += 1
                self.column = 0
                if self.row == len(self.lines):
                    self.lines.append("")
            elif part == "\r":
                self.column = 0
            elif part[0] == "\x1b":
                self.control(part)
            else:
                for character in part:
                    self.put(character)

    def put(self, character):
        if self.column == self.columns:  # the terminal wraps
            self.take("\n")
        line = self.lines[self.row].ljust(self.column)
        self.lines[self.row] = line[:self.column] + character + line[self.column + 1:]
        self.column += 1

    def control(self, sequence):
        if sequence[-1] == "A":
            self.row -= int(sequence[2:-1] or 1)
            if self.row < 0:
                raise AssertionError("the cursor leaves the screen")
        elif sequence == "\x1b[J":
            del self.lines[self.row + 1:]
            self.lines[self.row] = self.lines[self.row][:self.column]
        else:
            raise AssertionError(f"an unknown control sequence: {sequence!r}")


class Session:
    """A recording on a terminal; lines are given to it as a device would."""

    def __init__(self, *more, columns=80, stdout=True, **environment):
        self.folder = tempfile.TemporaryDirectory()
        self.log = pathlib.Path(self.folder.name) / "a.hits.jsonl"
        (pathlib.Path(self.folder.name) / "plan.ngc").write_text(PLAN)
        self.screen, self.raw = Screen(columns), ""
        self.master, side = pty.openpty()
        fcntl.ioctl(side, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
        self.process = subprocess.Popen(
            [str(pathlib.Path(tap.program()).resolve()), "log", "--port", "-", "--out",
             "a.hits.jsonl", "--template", "p {x} {y} {z}", *more], cwd=self.folder.name, stdin=subprocess.PIPE,
            stdout=side if stdout else subprocess.PIPE, stderr=side,
            env={**os.environ, "TERM": "xterm", **environment})
        os.close(side)

    def say(self, text):
        self.process.stdin.write(text.encode())
        self.process.stdin.flush()

    def read(self, seconds):
        end = time.monotonic() + seconds
        while select.select([self.master], [], [], max(0, end - time.monotonic()))[0]:
            try:
                data = os.read(self.master, 65536).decode()
            except OSError:
                return False
            if not data:
                return False
            self.raw += data
            self.screen.take(data.replace("\r\n", "\n"))
            if time.monotonic() > end:
                break
        return True

    def wait_until(self, is_there, what="what was expected"):
        end = time.monotonic() + 20
        while not is_there():
            if time.monotonic() > end or not self.read(0.1) and not is_there():
                raise AssertionError(f"no {what} on the screen: {self.screen.lines}")

    def wait_for(self, text):
        self.wait_until(lambda: any(text in line for line in self.screen.lines), repr(text))

    def end(self, by=None):
        if by:
            self.process.send_signal(by)
        else:
            self.process.stdin.close()
        while self.read(20):
            pass
        self.process.wait(20)
        os.close(self.master)
        records = [json.loads(line) for line in self.log.read_text().splitlines()]
        self.folder.cleanup()
        return self.process.returncode, records


@tap.case
def the_view_shows_the_last_touch_the_figures_and_the_end():
    session = Session("--axis", "z", "--direction", "-", "--series", "bed")
    session.wait_for("waiting for the first touch")
    session.say("p 1 2 -3.50\n")
    session.wait_for("touch 1: x 1.0000 y 2.0000 z -3.5000 mm, moved z-, bed")
    session.say("p 1 2 -3.51\np 1 2 -3.49\n")
    session.wait_for("touch 3:")
    # mean and s by hand: -3.50, 0.01
    session.wait_for("bed z-: 3 touches, mean -3.50000, s 0.01000, range 0.0200 mm")
    tap.equal(len([line for line in session.screen.lines if "touch 1:" in line]), 0,
              "only the last touch")
    session.wait_for("recording; Ctrl-C ends")
    code, records = session.end()
    tap.equal(code, 0, "exit code")
    tap.equal(any("recording; Ctrl-C" in line for line in session.screen.lines), False,
              "the view is gone")
    tap.equal(session.screen.lines,
              ["recording from standard input into a.hits.jsonl",
               "3 touches recorded in a.hits.jsonl; ended: the source ended",
               "bed z-: 3 touches, mean -3.50000, s 0.01000, range 0.0200 mm", ""], "the screen")


@tap.case
def a_bar_tells_how_far_a_plan_has_come_and_how_long_it_takes():
    session = Session("--expect", "plan.ngc")
    session.wait_for("0 of 10")
    session.say("p 1 2 -3\n")
    session.wait_for("[####....................................] 1 of 10")
    session.say("p 1 2 -3\n")
    session.wait_for("2 of 10")
    session.wait_for("s left")
    session.say("p 1 2 -3\n" * 8)
    code, records = session.end()
    tap.equal(code, 0, "exit code")
    tap.equal(records[-1]["text"], "all touches of the program came", "end record")


@tap.case
def a_narrow_terminal_is_not_wrapped():
    session = Session("--expect", "plan.ngc", columns=40)
    for i in range(1, 4):
        session.say("p 1000.25 2000.25 -3.25\n")
        session.wait_for(f"{i} of 10")
    session.wait_for("touch 3: x 1000.2500 y 2000.2500 z -3"[:38])
    rows = [line for line in session.screen.lines if line.startswith("touch")]
    tap.equal(len(rows), 1, f"a view that wraps leaves parts of itself: {session.screen.lines}")
    session.end(signal.SIGTERM)


@tap.case
def a_window_that_is_made_smaller_is_not_wrapped():
    session = Session("--expect", "plan.ngc", columns=100)
    session.say("p 1000.25 2000.25 -3.25\n")
    session.wait_for("touch 1: x 1000.2500 y 2000.2500 z -3.2500 mm, moved z-, bed")
    for columns in (40, 15):
        fcntl.ioctl(session.master, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
        session.wait_until(lambda: all(len(line) < columns for line in session.screen.lines[1:]))
    session.screen.columns = 15
    for i in range(2, 5):
        session.say("p 1000.25 2000.25 -3.25\n")
        session.wait_for(f"touch {i}: x 10")
    rows = [line for line in session.screen.lines if line.startswith("touch")]
    tap.equal(len(rows), 1, f"a view that wraps leaves parts of itself: {session.screen.lines}")
    session.end(signal.SIGTERM)


@tap.case
def wide_characters_do_not_wrap_either():
    series = "\u6e2c\u5b9a" * 8  # two columns each on a terminal
    session = Session("--axis", "z", "--series", series, columns=60)
    session.say("p 1 2 -3\n")
    session.wait_for("touch 1:")
    rows = [line for line in session.screen.lines if line.startswith("touch")]
    tap.equal(len(rows), 1, "rows")
    if sum(1 + (character >= "\u1100") for character in rows[0]) >= 60:
        raise AssertionError(f"wider than the terminal: {rows}")
    session.end()


@tap.case
def a_warning_stands_above_the_view_and_stays():
    session = Session("--axis", "z")
    session.say("p 1 2 -3\nnonsense\n")
    session.wait_for('warning: not read: text that fits no template: "nonsense"')
    session.say("p 1 2 -4\n")
    session.wait_for("touch 2:")
    rows = [i for i, line in enumerate(session.screen.lines) if "warning" in line]
    last = [i for i, line in enumerate(session.screen.lines) if "touch 2:" in line]
    tap.equal(len(rows) == 1 and rows < last, True, f"order: {session.screen.lines}")
    session.end()


@tap.case
def touches_go_to_a_file_and_the_view_to_the_terminal():
    session = Session("--axis", "z", stdout=False)
    session.say("p 1 2 -3\np 1 2 -4\n")
    session.wait_for("touch 2:")
    session.end()
    lines = session.process.stdout.read().decode().splitlines()
    tap.equal([line[:8] for line in lines[:2]], ["touch 1:", "touch 2:"], "stdout")
    tap.equal("\x1b" in "".join(lines), False, "no control sequence in the file")


def no_view(arguments, environment):
    session = Session("--axis", "z", *arguments, **environment)
    session.say("p 1 2 -3\n")
    session.end()
    tap.equal("\x1b" in session.raw, False, session.raw)
    return session.raw


@tap.case
def a_dumb_terminal_gets_lines():
    tap.equal("touch 1: x" in no_view([], {"TERM": "dumb"}), True, "a line")


@tap.case
def quiet_shows_the_summary_only():
    text = no_view(["--quiet"], {})
    tap.equal(("touch 1: x" in text, "1 touch recorded" in text), (False, True), text)


def a_signal_ends_it_cleanly(number):
    for when in (0, 1):  # before the first touch, and after one
        session = Session("--axis", "z")
        session.wait_for("waiting for the first touch")
        if when:
            session.say("p 1 2 -3\np 1 2 -4\nhalf a li")
            session.wait_for("touch 2:")
        code, records = session.end(number)
        tap.equal(code, 0, "exit code")
        tap.equal((records[-1]["kind"], records[-1]["text"]), ("end", "interrupted"), "end record")
        tap.equal(len([r for r in records if "seq" in r]), 2 * when, "touches")


for signal_number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
    tap.add(f"{signal_number.name} ends it with an end record", a_signal_ends_it_cleanly,
            signal_number)


@tap.case
def it_ends_when_its_time_is_up():
    start = time.monotonic()
    session = Session("--axis", "z", "--for", "0.7s")
    session.say("p 1 2 -3\n")
    session.wait_for("of the time")
    while session.read(20):
        pass
    code, records = session.end()
    tap.equal(time.monotonic() - start >= 0.7, True, "not before")
    tap.equal((code, records[-1]["text"]), (0, "time is up"), "end")


@tap.case
def a_slow_line_is_shown_before_the_next_one_comes():
    session = Session("--axis", "z", stdout=False, TERM="dumb")
    for i in range(1, 6):
        session.say(f"p {i} 2 -3\n")
        start = time.monotonic()
        line = session.process.stdout.readline().decode()
        tap.equal(line.startswith(f"touch {i}: x {i}.0000"), True, line)
        if time.monotonic() - start > 5:
            raise AssertionError("a touch waits for the next one")
        tap.equal(f'"seq":{i},' in session.log.read_text(), True, "and it is in the log by then")
    session.end()


if __name__ == "__main__":
    tap.run()
