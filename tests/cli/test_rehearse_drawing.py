#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The drawing of a rehearsed path, read back: what must touch does so on paper, everything lies on
the page, a fault stands where it happened, and it is the same in every locale."""
import json
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile
from xml.etree import ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap

FIXTURES = tap.ROOT / "fixtures"
PROGRAM = FIXTURES / "programs" / "front-left.ngc"
SVG = "{http://www.w3.org/2000/svg}"
PAGE = (210, 297)  # mm, A4 by ISO 216
PAPER_MM = 0.02


def scene(name, **changes):
    value = json.loads((FIXTURES / "scenes" / f"{name}.json").read_text())
    value.update(changes)
    return value


def draw(a_scene, program=None, *options, locale="C"):
    """The drawing's tree and the JSON of a rehearsal."""
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        (folder / "scene.json").write_text(json.dumps(a_scene))
        text = PROGRAM.read_text() if program is None else program
        (folder / "program.ngc").write_text(text)
        done = subprocess.run([str(pathlib.Path(tap.program()).resolve()), "rehearse", "program.ngc",
                               "--scene", "scene.json", "--svg", "path.svg", "--json", *options],
                              cwd=folder, capture_output=True, text=True, timeout=60,
                              env={**os.environ, "LC_ALL": locale})
        if done.returncode not in (0, 1):
            raise AssertionError(done.stderr)
        return (folder / "path.svg").read_bytes(), json.loads(done.stdout)


def group(data, name):
    root = ElementTree.fromstring(data)
    return next(g for g in root.iter(f"{SVG}g") if g.get("id") == name)


def of_class(element, kind, tag):
    return [e for e in element.iter(SVG + tag) if e.get("class") == kind]


def points(polygon):
    return [tuple(map(float, pair.split(","))) for pair in polygon.get("points").split()]


def scale_of(data, name):
    """Paper over real, as the heading says it."""
    heading = next(t.text for t in group(data, name).iter(f"{SVG}text") if "scale" in t.text)
    paper, real = re.search(r"scale ([0-9.]+):([0-9.]+)", heading).groups()
    return float(paper) / float(real)


def numbers(element):
    """Coordinates of an element: (x, y) pairs."""
    if element.get("points"):
        yield from points(element)
    for x, y in (("x1", "y1"), ("x2", "y2"), ("cx", "cy"), ("x", "y")):
        if element.get(x):
            yield float(element.get(x)), float(element.get(y))


def check_page(data):
    for element in ElementTree.fromstring(data).iter():
        for x, y in numbers(element):
            if not (0 <= x <= PAGE[0] and 0 <= y <= PAGE[1]):
                raise AssertionError(f"{element.tag} at {x}, {y}")


@tap.case
def a_cutter_at_its_touch_just_meets_the_plate_on_paper():
    data, answer = draw(scene("front-left", contact={}))
    plan = group(data, "plan")
    plate = points(of_class(plan, "plate", "polygon")[0])
    left, front = min(x for x, _ in plate), max(y for _, y in plate)
    circles = [[float(c.get(a)) for a in ("cx", "cy", "r")] for c in of_class(plan, "position", "circle")]
    tap.equal(len(circles), 3, "cutters drawn")
    _, (x, _, r), (_, y, _) = circles
    # a two-fluted cutter turned to within 5 degrees reaches r cos 5 degrees at least
    loss = r * (1 - math.cos(math.radians(5)))
    for distance in (left - x, y - front):
        if not r - loss - PAPER_MM <= distance <= r + PAPER_MM:
            raise AssertionError(f"axis {distance} from the plate, radius {r}")
    tap.equal(answer["verdict"], "clean")


@tap.case
def touches_lie_where_the_answer_says_at_the_stated_scale():
    data, answer = draw(scene("front-left"))
    for view, across, up in (("plan", "x", "y"), ("front", "x", "z"), ("right", "y", "z")):
        scale = scale_of(data, view)
        dots = of_class(group(data, view), "touch", "circle")
        hits = [h for h in answer["hits"] if h["ok"]]
        tap.equal(len(dots), len(hits), f"dots in {view}")
        first = (float(dots[0].get("cx")), float(dots[0].get("cy")))
        for dot, hit in zip(dots, hits):
            for place, letter, sign in (("cx", across, 1), ("cy", up, -1)):
                moved = float(dot.get(place)) - first[place == "cy"]
                real = sign * (hit[letter] - hits[0][letter]) * scale
                if abs(moved - real) > PAPER_MM:
                    raise AssertionError(f"{view}: {letter} drawn {moved}, is {real}")


@tap.case
def the_zero_is_drawn_at_the_stocks_corner_and_a_wrong_one_is_not():
    for name, off in (("front-left", 0), ("wrong-cutter", 3.17)):
        data, _ = draw(scene(name))
        plan = group(data, "plan")
        ring = of_class(plan, "zeroring", "circle")[0]
        edges = of_class(plan, "hidden", "line")  # the stock's, through the plate
        corner = (min(float(e.get("x1")) for e in edges), max(float(e.get("y1")) for e in edges))
        distance = abs(float(ring.get("cx")) - corner[0]) / scale_of(data, "plan")
        if abs(distance - off) > 0.05:
            raise AssertionError(f"{name}: ring {distance} mm beside the corner, expected {off}")


@tap.case
def a_fault_is_a_cross_where_it_happened():
    data, answer = draw(scene("clamp"))
    at, plan = answer["fault"]["at"], group(data, "plan")
    cross = [tuple(numbers(e)) for e in of_class(plan, "fault", "line")]
    tap.equal(len(cross), 2, "lines of the cross")
    middle = [sum(p[i] for line in cross for p in line) / 4 for i in (0, 1)]
    dot = of_class(plan, "touch", "circle")[0]
    hit = next(h for h in answer["hits"] if h["ok"])
    for i, (letter, sign) in enumerate((("x", 1), ("y", -1))):
        moved = middle[i] - float(dot.get(("cx", "cy")[i]))
        real = sign * (at[letter] - hit[letter]) * scale_of(data, "plan")
        if abs(moved - real) > PAPER_MM:
            raise AssertionError(f"{letter}: {moved} on paper, {real} by the answer")
    words = " ".join(t.text for t in group(data, "title-block").iter(f"{SVG}text"))
    if "ran into clamp" not in words:
        raise AssertionError(words)


@tap.case
def the_three_kinds_of_move_have_lines_of_their_own():
    data, _ = draw(scene("front-left"))
    plan = group(data, "front")
    for kind in ("rapid", "feed", "travel"):
        if not of_class(plan, kind, "line"):
            raise AssertionError(f"no {kind}")
    style = ElementTree.fromstring(data).find(f"{SVG}style").text
    looks = {kind: re.search(r"\." + kind + r"\{([^}]*)\}", style)[1] for kind in ("rapid", "feed", "travel")}
    widths = {k: re.search(r"stroke-width:([0-9.]+)", v)[1] for k, v in looks.items()}
    tap.equal("dasharray" in looks["rapid"], True, "traverses are dashed")
    tap.equal(widths["feed"] != widths["travel"], True, "widths differ, not only colours")


@tap.case
def everything_lies_on_the_page_whatever_the_scene():
    here = {"x": 20, "y": 30, "z": -60}
    moves = "G21 G91 F600\nG38.2 Z-40\nG0 Z20\nG0 X%d Y%d\nG0 X-%d\nM2\n"
    for name in sorted(path.stem for path in (FIXTURES / "scenes").glob("*.json")):
        check_page(draw(scene(name))[0])
        for far in (1, 60, 700):
            check_page(draw(scene(name, start=here), moves % (far, far, far))[0])
    bare = {"unit": "mm", "start": here, "bed": {"height": -80},
            "cutter": scene("ring")["cutter"]}
    check_page(draw(bare, "G21 G91\nG0 X5000 Y-5000\nM2\n")[0])
    check_page(draw(bare, "M2\n")[0])


@tap.case
def moves_and_touches_beyond_counting_are_drawn_in_part_and_that_is_said():
    program = "G21 G91 F6000\nG38.2 Z-10\n" + "G0 Z1\nG38.2 Z-2\n" * 10001 + "M2\n"
    data, answer = draw(scene("front-left"), program)
    tap.equal(answer["warnings"], ["20003 moves are too many for the drawing: it shows the first 20000."])
    check_page(data)


@tap.case
def rows_of_a_grid_share_a_label_where_they_stand_behind_one_another():
    lines = ["G21 G90 G94 G17 G80 G54"]
    for column in range(3):
        for row in range(4):
            y = row if column % 2 == 0 else 3 - row
            lines += [f"G1 X{400 + 100 * column} Y{300 + 40 * y} F600", "G91 G38.2 Z-15 F100", "G1 Z5 F600", "G90"]
    data, answer = draw(scene("bed"), "\n".join(lines + ["M2", ""]))
    tap.equal(answer["verdict"], "clean")
    labels = {view: [t.text for t in group(data, view).iter(f"{SVG}text") if t.text[0].isdigit()]
              for view in ("plan", "front", "right")}
    tap.equal(labels["plan"], [str(n) for n in range(1, 13)], "from above each has its number")
    tap.equal(labels["front"], ["1\u20134", "5\u20138", "9\u201312"], "a label for each column")
    tap.equal(labels["right"], [f"{n}, \u2026" for n in (1, 2, 3)] + ["4\u20135, \u2026"], "and for each row")


@tap.case
def the_same_bytes_come_out_in_every_locale():
    tap.need_locale("de_DE.UTF-8")
    for name in ("front-left", "clamp", "bed"):
        tap.equal(draw(scene(name))[0] == draw(scene(name), locale="de_DE.UTF-8")[0], True, name)


@tap.case
def a_listener_is_told_the_verdict():
    root = ElementTree.fromstring(draw(scene("clip-off"))[0])
    told = root.find(f"{SVG}desc").text
    if "Fault, line 9" not in told or not root.find(f"{SVG}title").text.startswith("Touch program"):
        raise AssertionError(told)


if __name__ == "__main__":
    tap.run()
