#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Follows the arithmetic that --explain prints, with nothing but its printed numbers, and compares
what comes out with the zero in the JSON of the same touches. Set-ups are drawn at random: all
corners and faces, walls and bores, seats, units, cutters, work coordinates, turned stock."""
import json
import math
import pathlib
import random
import re
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

# An "=" line sums at most five printed numbers, each rounded by half of its last digit; sines of a
# turned stock add products. Units of the last printed digit.
LAST_DIGITS = 4


def evaluate(text, known=None):
    """The value of a line of plain arithmetic."""
    text = re.sub(r"tan\(([0-9.]+) deg\)", r"tan(radians(\1))", text)
    if not re.fullmatch(r"[-+*/()., 0-9a-zA-Z]+", text):
        raise AssertionError(f"not arithmetic: {text!r}")
    names = {name: getattr(math, name) for name in ("sqrt", "sin", "tan", "radians")}
    return eval(text, {"__builtins__": {}}, {**names, **(known or {})})


class Axis:
    """One block of the explanation: its rows by symbol, its results by name."""

    def __init__(self):
        self.rows = {}
        self.formulas = []  # (name, formula, [numeric lines])


def parse(text):
    """The blocks of the explanation: X, Y, Z, and "turned"."""
    blocks, block = {}, None
    for line in text[text.index("The arithmetic"):].splitlines()[1:]:
        if head := re.fullmatch(r"([XYZ])( and Y on stock turned by .*)?", line):
            block = blocks["turned" if head[2] else head[1]] = Axis()
        elif match := re.fullmatch(r"    = (.*)", line):
            block.formulas[-1][2].append(match[1])
        elif match := re.fullmatch(r"  ([A-Zuv]) = (.*)", line):
            block.formulas.append((match[1], match[2], []))
        elif match := re.fullmatch(r"  (\w+) +(.*?) +([-+]?[0-9.]+)", line):
            block.rows[match[1]] = (match[2], float(match[3]))
    return blocks


def agree(values, digit, what):
    for value in values[1:]:
        tap.near(value, values[0], LAST_DIGITS * digit, what)


def check_rows(block, digit):
    """Rows that state how their number comes about."""
    value = {name: row[1] for name, row in block.rows.items()}
    meaning = {name: row[0] for name, row in block.rows.items()}
    if "p" in value:
        tap.near(evaluate(meaning["p"].split(": ")[-1]), value["p"], LAST_DIGITS * digit, "p")
    if "r" in value and "p*sin(a)/a" in meaning["r"]:
        tap.near(value["p"] * math.sin(value["a"]) / value["a"], value["r"], 2 * digit, "r")
    elif "r" in value and "p less" in meaning["r"]:
        less = float(re.search(r"p less ([0-9.]+)", meaning["r"])[1])
        tap.near(value["p"] - less, value["r"], 2 * digit, "r")
    elif "r" in value:
        tap.near(value["p"], value["r"], digit, "r")
    if "low" in value:
        tap.near((value["low"] + value["high"]) / 2, value["P"], 2 * digit, "P")
    for name in ("P", "low", "high"):
        if " read + " in meaning.get(name, ""):
            read, active = meaning[name].split(": ")[1].split(" read + ")
            total = evaluate(read) + evaluate(active.replace(" active", ""))
            tap.near(total, value[name], 2 * digit, name)
    if "k" in value:
        k = value["s"] * value["o"]
        if "r" in value and "f" in value:
            k += value["s"] * value["f"] * value["r"]
        tap.near(k, value["k"], 2 * digit, "k")


def check_blocks(blocks, digit):
    """Every numeric line of a formula has the formula's value; the zeros by name."""
    zeros = {}
    for block in blocks.values():
        check_rows(block, digit)
        value = {name: row[1] for name, row in block.rows.items()}
        for name, formula, lines in block.formulas:
            values = [evaluate(line) for line in lines]
            if block is not blocks.get("turned"):
                values.append(evaluate(formula, value))
            agree(values, digit, f"{name} = {formula}")
            value[name] = values[-2 if len(values) > 2 else -1]
            if name in "XYZ":
                zeros[name.lower()] = evaluate(lines[-1])
    return zeros


def pick_shop(random_):
    """A shop with one plate and one cutter; numbers in mm."""
    cutter = {"name": "c", "diameter": f"{random_.uniform(3, 12):.3f}+-0.01"}
    cutter["shape"] = random_.choice(["flat", "ball", "bull", "vee"])
    if cutter["shape"] == "bull":
        cutter["corner_radius"] = 1.25
    if cutter["shape"] == "vee":
        cutter.update(included_deg=random_.choice([30, 60, 90]), tip=0.2)
    if random_.random() < 0.7:
        cutter.update(flutes=random_.choice([1, 2, 3, 4]), helix_deg=random_.choice([0, 30]))
        if random_.random() < 0.7:
            cutter["turned_within_deg"] = random_.choice([2, 5, 12])
        elif random_.random() < 0.5:
            cutter["core"] = 2
    plate = {"name": "p", "thickness": f"{random_.uniform(3, 20):.3f}+-0.02",
             "turned": random_.random() < 0.7}
    if random_.random() < 0.3:
        plate["bore"] = {"diameter": 25, "a": round(random_.uniform(-30, 10), 3),
                         "b": round(random_.uniform(-30, 10), 3)}
    else:
        plate["walls"] = {wall: {"offset": f"{random_.uniform(-20, 20):.3f}+-0.03",
                                 "faces": random_.choice(["inward", "outward"]),
                                 "touch_depth": round(random_.uniform(0.3, 8), 2)}
                          for wall in "ab"}
    return {"unit": "mm", "plates": [plate], "cutters": [cutter],
            "stock": {"x": 300, "y": 200, "z": "18.3+-0.1"}}


def pick_touches(random_, target, shop, unit):
    """Options with the touches, and whether the stock is turned."""
    scale, options = (25.4 if unit == "in" else 1), []
    bore = shop["plates"][0].get("bore")
    number = lambda mm: f"{mm / scale:.5f}"
    at = {axis: random_.uniform(50, 500) for axis in "xy"} | {"z": random_.uniform(-80, -10)}
    axes = {"left": "x", "right": "x", "front": "y", "back": "y",
            "top": "z", "bottom": "z"}.get(target, "xyz")
    turned = axes == "xyz" and random_.random() < 0.3
    for axis in axes:
        across = "@" + number(at["y" if axis == "x" else "x"] + 3) if turned and axis != "z" else ""
        for _ in range(random_.choice([1, 3, 5])):
            place = at[axis] + random_.gauss(0, 0.01)
            if bore and axis != "z":
                options += [f"--{axis}={number(place - 9)}:{number(place + 9)}{across}"]
            else:
                options += [f"--{axis}={number(place)}{across}"]
    if turned:
        slope = random_.uniform(-0.1, 0.1)
        options += ["--skew-from", f"{number(at['x'])},{number(60)}:"
                    f"{number(at['x'] - 150 * slope)},{number(210)}"]
    if random_.random() < 0.3:
        options += ["--active=" + ",".join(number(random_.uniform(-5, 5)) for _ in "xyz")]
    return options


def follow(seed):
    random_ = random.Random(seed)
    corner = "-".join(random_.choice(pair) for pair in
                      (("front", "back"), ("left", "right"), ("top", "bottom")))
    face = random_.choice(["left", "right", "front", "back", "top", "bottom"])
    target = random_.choice([corner, corner, face])
    unit = random_.choice(["mm", "mm", "in"])
    shop = pick_shop(random_)
    seat = random_.choice(["stock", "bed"])
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder, "shop.json")
        path.write_text(json.dumps(shop))
        command = [tap.program(), "zero", target, "--shop", str(path), "--unit", unit, "--seat",
                   seat, *pick_touches(random_, target, shop, unit)]
        text = subprocess.run([*command, "--explain"], capture_output=True, text=True)
        data = subprocess.run([*command, "--json"], capture_output=True, text=True)
    if text.returncode or data.returncode:
        return text.stderr  # refused: the caller counts how often
    digit, scale = (1e-5, 25.4) if unit == "in" else (1e-4, 1)
    zeros = check_blocks(parse(text.stdout), digit)
    truth = json.loads(data.stdout)["zero"]
    tap.equal(sorted(zeros), sorted(truth), f"axes of {command}")
    for axis, value in zeros.items():
        tap.near(value, truth[axis] / scale, LAST_DIGITS * digit, f"{axis} of {command}")
    return None


@tap.case
def the_printed_arithmetic_leads_to_the_same_zero():
    refused = [error for error in (follow(seed) for seed in range(200)) if error]
    if len(refused) > 30:
        raise AssertionError(f"{len(refused)} of 200 set-ups refused, such as {refused[0]}")


@tap.case
def a_wrong_digit_in_the_arithmetic_is_noticed():
    text = ("The arithmetic, in mm\n\nZ\n  P     mean of 1 touch   -40.1200\n"
            "  t     the plate's thickness; it lies on the stock    9.5300\n"
            "  Z = P - t\n    = -40.1200 - 9.5300\n    = -49.6500\n")
    check_blocks(parse(text), 1e-4)
    for wrong in (text.replace("= -49.6500", "= -49.6600"), text.replace("- 9.5300", "+ 9.5300"),
                  text.replace("P - t", "P + t")):
        try:
            check_blocks(parse(wrong), 1e-4)
        except AssertionError:
            continue
        raise AssertionError("not noticed: " + wrong)


if __name__ == "__main__":
    tap.run()
