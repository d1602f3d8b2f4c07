#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The least squares of `trueup plate` beside numpy.linalg, at random designs.

Formulated otherwise than the program does it: here the widths and the trusted radii are taken into the
right side, so that their errors make the covariance of the observations full (generalised least squares,
by Cholesky and the pseudo-inverse), and what is determined is asked of numpy.linalg.matrix_rank. The
program carries them as observations of their own. Both must agree on what is determined, on values and
on standard uncertainties.
"""
import json
import math
import pathlib
import random
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

numpy = tap.need("numpy", "python3-numpy")
EDGES = {"left": ("x", -1), "right": ("x", 1), "front": ("y", -1), "back": ("y", 1)}
CUTTERS = {"quarter": 6.35, "eighth": 3.175}
TOLERANCE = {"quarter": 0.012, "eighth": 0.007}


class Design:
    """A plate, what is touched on it, and what is known beforehand, at random."""

    def __init__(self, seed):
        rng = self.rng = random.Random(seed)
        self.bored = rng.random() < 0.35
        self.facing = {"a": rng.choice((-1, 1)), "b": rng.choice((-1, 1))}
        self.trust = rng.random() < 0.3
        self.width = {"block": {}, "slot": {}}  # (value, tolerance)
        for what, sizes in self.width.items():
            for axis in "xy":
                if rng.random() < 0.75:
                    sizes[axis] = (rng.uniform(30, 80), rng.choice((0.004, 0.01, 0.03)))
        self.truth = {name: rng.uniform(-15, 15) for name in ("o.a", "o.b", "c.a", "c.b")}
        self.truth.update({"D": rng.uniform(15, 40), "t": rng.uniform(3, 20), "H": -50.0})
        self.truth.update({f"r.{c}": d / 2 + rng.uniform(-0.005, 0.005) for c, d in CUTTERS.items()})
        for what, place in (("block", 200.0), ("slot", 400.0)):
            for axis in "xy":
                size = self.width[what].get(axis, (55.0, 0))[0]
                self.truth[f"{what}.{axis}.-1"] = place
                self.truth[f"{what}.{axis}.1"] = place + size
        self.groups = self.draw_groups()

    def draw_groups(self):
        rng, groups = self.rng, {}
        surfaces = ["bare", "bare", "slot"] + (["bore.a", "bore.b"] if self.bored else ["a", "b"] * 2)
        for _ in range(rng.randint(1, 14)):
            key = (rng.choice(list(EDGES)), rng.choice(surfaces), rng.choice(list(CUTTERS)))
            sides = ("low", "high") if key[1].startswith("bore") else ("",)
            count = rng.randint(2, 5)
            for side in sides:
                groups.setdefault(key + (side,), self.repeat(self.row(*key, side), count))
        if rng.random() < 0.5:
            for name, row in (("face", {"t": 1, "H": 1}), ("seat", {"H": 1})):
                if rng.random() < 0.8:
                    groups[(name, "", "", "")] = self.repeat(row, 3)
        return groups

    def row(self, edge, on, cutter, side):
        """The touch as a combination of unknowns (docs/geometry.md)."""
        axis, s = EDGES[edge]
        block, radius = f"block.{axis}.{s}", f"r.{cutter}"
        if on == "bare":
            return {block: 1, radius: s}
        if on == "slot":
            return {f"slot.{axis}.{s}": 1, radius: -s}
        if on.startswith("bore"):
            d = -1 if side == "low" else 1
            return {block: 1, "c." + on[-1]: s, "D": d / 2, radius: -d}
        return {block: 1, "o." + on: s, radius: s * self.facing[on]}

    def repeat(self, row, count):
        exact = sum(factor * self.truth[name] for name, factor in row.items())
        return row, [round(exact + self.rng.gauss(0, 0.004), 6) for _ in range(count)]

    def shop(self):
        sides = {"bore": {"diameter": self.truth["D"], "a": self.truth["c.a"], "b": self.truth["c.b"]}}
        if not self.bored:
            sides = {"walls": {w: {"offset": self.truth["o." + w],
                                   "faces": "outward" if self.facing[w] > 0 else "inward"}
                               for w in "ab"}}
        return {"unit": "mm", "plates": [{"name": "one", "thickness": self.truth["t"], **sides}],
                "cutters": [{"name": c, "shape": "flat", "diameter": f"{d}+-{TOLERANCE[c]}"}
                            for c, d in CUTTERS.items()]}

    def options(self):
        words = ["--trust-cutters"] if self.trust else []
        for what, sizes in self.width.items():
            for axis, (value, tolerance) in sizes.items():
                words += [f"--{what}-{axis}", f"{value!r}+-{tolerance}mm"]
        for (edge, on, cutter, side), (_, values) in self.groups.items():
            if side == "high":
                continue
            texts = [f"{v:.6f}" for v in values]
            if side == "low":
                highs = self.groups[(edge, on, cutter, "high")][1]
                texts = [f"{low}:{high:.6f}" for low, high in zip(texts, highs)]
            name = f"{edge}/{on}/{cutter}" if on else edge
            words += ["--touch", name + "=" + ",".join(texts)]
        return words


def spread(design):
    """Variance of one touch along each axis, pooled over its groups (GUM 4.2.4)."""
    squares, dof = {}, {}
    for (edge, on, _, _), (_, values) in design.groups.items():
        axis = EDGES[edge][0] if on else "z"
        mean = sum(values) / len(values)
        squares[axis] = squares.get(axis, 0) + sum((v - mean) ** 2 for v in values)
        dof[axis] = dof.get(axis, 0) + len(values) - 1
    return {axis: squares[axis] / dof[axis] for axis in squares}


def system(design):
    """Rows over the unknowns that remain, right side, and its full covariance."""
    variance, rows, right, errors, diagonal = spread(design), [], [], [], []
    for (edge, on, _, _), (row, values) in design.groups.items():
        row, known, error = dict(row), 0.0, {}
        for what, sizes in design.width.items():
            for axis, (value, tolerance) in sizes.items():
                factor = row.pop(f"{what}.{axis}.1", 0)
                if factor:  # the high edge is the low edge plus the width
                    row[f"{what}.{axis}.-1"] = row.get(f"{what}.{axis}.-1", 0) + factor
                    known += factor * value
                    error[f"{what}.{axis}"] = factor * tolerance / math.sqrt(3)
        for cutter, diameter in CUTTERS.items():
            factor = row.pop("r." + cutter, 0) if design.trust else 0
            if factor:
                known += factor * diameter / 2
                error["r." + cutter] = factor * TOLERANCE[cutter] / 2 / math.sqrt(3)
        rows.append(row)
        right.append(sum(values) / len(values) - known)
        errors.append(error)
        diagonal.append(variance[EDGES[edge][0] if on else "z"] / len(values))
    names = sorted({name for row in rows for name in row})
    matrix = numpy.array([[row.get(name, 0) for name in names] for row in rows], float)
    sources = sorted({name for error in errors for name in error})
    common = numpy.array([[error.get(name, 0) for name in sources] for error in errors], float)
    covariance = numpy.diag(diagonal) + (common @ common.T if sources else 0)
    return names, matrix, numpy.array(right), covariance


def combination(figure, facing):
    kind = figure["kind"]
    if kind in ("wall", "bore_centre"):
        return {("o." if kind == "wall" else "c.") + figure["wall"]: 1}
    if kind == "sum":
        return {"o." + figure["wall"]: 1, "r." + figure["cutter"]: facing[figure["wall"]]}
    if kind == "clearance":
        return {"D": 1, "r." + figure["cutter"]: -2}
    return {"thickness": {"t": 1}, "bore_diameter": {"D": 1},
            "cutter": {"r." + figure.get("cutter", ""): 2}}[kind]


def compare(design, answer, counts):
    names, matrix, right, covariance = system(design)
    root = numpy.linalg.cholesky(covariance)
    white = numpy.linalg.solve(root, matrix)
    estimate = numpy.linalg.lstsq(white, numpy.linalg.solve(root, right), rcond=1e-10)[0]
    inverse = numpy.linalg.pinv(white, rcond=1e-10)
    rank = numpy.linalg.matrix_rank(matrix, tol=1e-9)
    for figure in answer["figures"]:
        parts = combination(figure, design.facing)
        if design.trust and any(name.startswith("r.") for name in parts):
            continue  # a trusted radius is no unknown here
        vector = numpy.array([parts.get(name, 0) for name in names], float)
        settled = (all(name in names for name in parts) and
                   numpy.linalg.matrix_rank(numpy.vstack([matrix, vector]), tol=1e-9) == rank)
        tap.equal(figure["determined"], bool(settled), figure["name"] + " determined")
        counts[bool(settled)] += 1
        if settled:
            standard = float(numpy.linalg.norm(vector @ inverse))
            tap.near(figure["value"], float(vector @ estimate), 1e-7, figure["name"] + ", mm")
            tap.near(figure["uncertainty"]["standard"], standard, 1e-5 * standard,
                     "standard uncertainty of " + figure["name"] + ", mm")


def run(design):
    with tempfile.TemporaryDirectory() as folder:
        shop = pathlib.Path(folder) / "shop.json"
        shop.write_text(json.dumps(design.shop()))
        done = subprocess.run([tap.program(), "plate", "--shop", str(shop), "--json",
                               *design.options()], capture_output=True, text=True, timeout=60)
    if done.returncode not in (0, 5):
        raise AssertionError(f"exit {done.returncode}: {done.stderr}")
    return json.loads(done.stdout)


@tap.case
def values_uncertainties_and_what_is_determined_agree_with_numpy_at_random_designs():
    counts = {True: 0, False: 0}
    for seed in range(250):
        design = Design(seed)
        compare(design, run(design), counts)
    if min(counts.values()) < 150:
        raise AssertionError(f"too few of one kind to say much: {counts}")


tap.run()
