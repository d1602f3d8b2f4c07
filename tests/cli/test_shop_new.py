#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`trueup shop new` at a terminal (a pseudo-terminal): a whole shop file from answers, wrong answers
asked again with the reason, nothing written before the last one."""
import os
import pathlib
import pty
import select
import signal
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

PROGRAM = str(pathlib.Path(tap.program()).resolve())


class Session:
    """The program at a terminal of its own, in a folder."""

    def __init__(self, folder, *words):
        self.seen = ""
        self.pid, self.terminal = pty.fork()
        if self.pid == 0:
            os.chdir(folder)
            os.environ.pop("TRUEUP_SHOP", None)
            os.execv(PROGRAM, ["trueup", "shop", "new", *words])

    def until(self, text, seconds=20):
        """Reads until text is there, from what was not looked at yet."""
        end = time.monotonic() + seconds
        while text not in self.seen:
            ready, _, _ = select.select([self.terminal], [], [], max(0, end - time.monotonic()))
            try:
                more = os.read(self.terminal, 4096) if ready else b""
            except OSError:  # the other side is gone
                more = b""
            if not more:
                raise AssertionError(f"{text!r} did not come: {self.seen!r}")
            self.seen += more.decode().replace("\r\n", "\n")
        before, _, self.seen = self.seen.partition(text)
        return before

    def answer(self, text):
        self.until("> ")
        os.write(self.terminal, (text + "\n").encode())

    def end(self):
        try:
            while True:
                more = os.read(self.terminal, 4096)
                if not more:
                    break
                self.seen += more.decode().replace("\r\n", "\n")
        except OSError:
            pass
        _, how = os.waitpid(self.pid, 0)
        os.close(self.terminal)
        return how


def folder():
    return tempfile.TemporaryDirectory()


ANSWERS = ["mm", "0,720", "0,540", "-95,0", "0.01",
           "bracket", "12.04+-0.01", "9.15+-0.02", "outward", "6", "9.22+-0.02", "outward", "",
           "eight", "8+-0.01", "flat", "2", "280", "190", "21+-0.15"]
FILE = """{
  "unit": "mm",
  "machine": {"travel": {"x": [0, 720], "y": [0, 540], "z": [-95, 0]}, "step": 0.01},
  "plates": [
    {"name": "bracket", "thickness": "12.04+-0.01", "walls": {"a": {"offset": "9.15+-0.02", "faces": "outward", "touch_depth": 6}, "b": {"offset": "9.22+-0.02", "faces": "outward"}}}
  ],
  "cutters": [
    {"name": "eight", "diameter": "8+-0.01", "shape": "flat", "flutes": 2}
  ],
  "stock": {"x": 280, "y": 190, "z": "21+-0.15"}
}
"""


@tap.case
def answers_become_a_shop_file_in_one_step():
    with folder() as name:
        session = Session(name)
        for text in ANSWERS:
            tap.equal(os.listdir(name), [], f"files before {text}")
            session.answer(text)
        tap.equal(session.end(), 0, session.seen)
        tap.equal(pathlib.Path(name, "shop.json").read_text(), FILE)
        tap.equal(os.listdir(name), ["shop.json"])
        if "eight        " not in session.seen:
            raise AssertionError(session.seen)


@tap.case
def an_inch_shop_says_so_and_its_bare_numbers_are_inches():
    with folder() as name:
        session = Session(name, "inch.json")
        for text in ["in", "0,28", "", "", "", "", "mill", "5/16+-0.0005", "flat", "2", "16", "10",
                     "5/8+-0.01"]:
            session.answer(text)
        tap.equal(session.end(), 0, session.seen)
        tap.equal(pathlib.Path(name, "inch.json").read_text(), """{
  "unit": "in",
  "machine": {"travel": {"x": [0, 28]}},
  "cutters": [
    {"name": "mill", "diameter": "5/16+-0.0005", "shape": "flat", "flutes": 2}
  ],
  "stock": {"x": 16, "y": 10, "z": "5/8+-0.01"}
}
""")


@tap.case
def a_wrong_answer_is_told_why_and_the_question_comes_again():
    with folder() as name:
        session = Session(name)
        session.answer("inches")
        tap.equal(" ".join(session.until("Do you measure").split()),
                  'inches expected "mm" or "in", the unit of every number that names none; found "inches"')
        session.answer("mm")
        session.answer("720")
        if "expected two numbers" not in session.until("go in X?"):
            raise AssertionError("a single number")
        session.answer("720,0")
        if "the lowest coordinate must be below" not in session.until("go in X?"):
            raise AssertionError("reversed")
        for text in ["", "", "", "", "bracket"]:
            session.answer(text)
        session.answer("")
        if "this has to be known" not in session.until("How thick"):
            raise AssertionError("empty where it is needed")
        session.answer("0.375")
        if "the unit is probably wrong" not in " ".join(session.until("How thick").split()):
            raise AssertionError("inches in a millimetre shop")
        session.answer("?")
        if "From what it lies on up" not in session.until("How thick"):
            raise AssertionError("an explanation")
        os.write(session.terminal, b"\x03")
        how = session.end()
        tap.equal((os.WIFSIGNALED(how), os.WTERMSIG(how)), (True, signal.SIGINT), "Ctrl-C")
        tap.equal(os.listdir(name), [], "files after Ctrl-C")


@tap.case
def the_questions_follow_from_the_answers():
    """A vee asks for its angle, a bull nose for its corners; a bore only where there is no wall."""
    for shape, then, last in (("vee", "full angle", "60"), ("bull", "radius of its corners", "1")):
        with folder() as name:
            session = Session(name)
            for text in ["mm", "", "", "", "", "ring", "10+-0.02", "", ""]:
                session.answer(text)
            session.until("a bore")
            for text in ["25+-0.02", "-20", "-20", "tool", "12+-0.01", shape]:
                session.answer(text)
            session.until(then)
            for text in [last, "", "", "", ""]:
                session.answer(text)
            tap.equal(session.end(), 0, session.seen)
            text = pathlib.Path(name, "shop.json").read_text()
            for part in ('"bore": {"diameter": "25+-0.02", "a": -20, "b": -20}', f'"shape": "{shape}"'):
                if part not in text:
                    raise AssertionError(text)


@tap.case
def a_cutter_that_does_not_enter_the_bore_is_refused_at_once():
    with folder() as name:
        session = Session(name)
        for text in ["mm", "", "", "", "", "ring", "10", "", "", "5", "-20", "-20", "tool", "6"]:
            session.answer(text)
        session.until("no cutter of this file enters a bore of 5 mm")
        os.write(session.terminal, b"\x03")
        session.end()


@tap.case
def answers_that_end_leave_nothing():
    with folder() as name:
        session = Session(name)
        session.answer("mm")
        session.until("> ")
        os.write(session.terminal, b"\x04")
        how = session.end()
        tap.equal(os.WEXITSTATUS(how), 3, session.seen)
        if "nothing was written" not in session.seen:
            raise AssertionError(session.seen)
        tap.equal(os.listdir(name), [])


@tap.case
def a_file_that_is_there_is_never_written_over():
    with folder() as name:
        path = pathlib.Path(name, "shop.json")
        path.write_text('{"unit": "in"}\n')
        session = Session(name)
        tap.equal(os.WEXITSTATUS(session.end()), 3, session.seen)
        tap.equal(path.read_text(), '{"unit": "in"}\n')
        path.unlink()
        session = Session(name)  # and not one that came while the questions were asked
        session.answer("mm")
        path.write_text('{"unit": "in"}\n')
        for text in [""] * 9:
            session.answer(text)
        tap.equal(os.WEXITSTATUS(session.end()), 3, session.seen)
        tap.equal(path.read_text(), '{"unit": "in"}\n')
        tap.equal(os.listdir(name), ["shop.json"])


if __name__ == "__main__":
    tap.run()
