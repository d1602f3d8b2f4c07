# SPDX-License-Identifier: GPL-3.0-or-later
"""The map of a bed read back: whether everything lies where its coordinates say, whether lines run
where the surface has their height, and whether it can be read.

Heights come from formulas here, places from the drawing's own border, which must be the touched
extent: nothing of the program's arithmetic is used.
"""
import json
import math
import pathlib
import random
import re
import subprocess
import sys
import tempfile
from xml.etree import ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[2] / "support"))
import tap  # noqa: E402

SVG = "{http://www.w3.org/2000/svg}"

# Advance widths of a common wide sans-serif face, in em (from memory); bold is an eighth wider.
WIDTHS = {" ": .32, ".": .32, ",": .32, ":": .34, ";": .34, "-": .37, "(": .39, ")": .39, "m": .98, "w": .82,
          "i": .28, "j": .28, "l": .28, "t": .4, "f": .36, "r": .42, "M": .87, "W": .99}


def text_width(text, size):
    return size * sum(WIDTHS.get(c, .7 if c.isupper() else .64) for c in text)


# --- Beds ---

def plane(x, y):
    return -80 + 0.0007 * x - 0.0004 * y


def waves(x, y):
    return -80 + 0.2 * math.sin(x / 160) * math.cos(y / 150) + 0.0002 * y


def grid(columns, rows, length, width, formula, left=50, front=40):
    return [(x, y, round(formula(x, y), 5)) for j in range(rows) for i in range(columns)
            for x, y in [(round(left + i * length / (columns - 1), 4), round(front + j * width / (rows - 1), 4))]]


def scattered(count):
    chance = random.Random(count)
    places = [(round(chance.uniform(0, 800), 3), round(chance.uniform(0, 500), 3)) for _ in range(count)]
    return [(x, y, round(waves(x, y), 5)) for x, y in places]


def turned(points, degrees):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return [(round(c * x - s * y, 4), round(s * x + c * y, 4), z) for x, y, z in points]


def chipped():
    points = grid(12, 8, 1100, 700, waves)
    points[40] = (*points[40][:2], round(points[40][2] + 0.5, 5))
    return points


BEDS = {
    "four places": (grid(2, 2, 600, 400, waves), []),
    "nine places": (grid(3, 3, 600, 400, waves), []),
    "five by seven": (grid(5, 7, 400, 600, waves), []),
    "forty by thirty": (grid(40, 30, 1200, 900, waves), []),
    "an L": ([p for p in grid(12, 12, 1000, 1000, waves) if p[0] < 500 or p[1] < 450], []),
    "turned": (turned(grid(9, 7, 700, 500, waves), 23), []),
    "seven anywhere": (scattered(7), []),
    "five hundred anywhere": (scattered(500), []),
    "a deep bed": (grid(6, 14, 500, 1600, waves), []),
    "a very wide bed": (grid(30, 4, 3000, 200, waves), []),
    "a very deep bed": (grid(4, 30, 200, 3000, waves), []),
    "ten millimetres": (grid(5, 5, 10, 10, lambda x, y: -5 + x * x / 1e4, 3, 3), []),
    "three metres": (grid(15, 9, 3000, 2000, waves), []),
    "nearly flat": (grid(7, 5, 600, 400, lambda x, y: -80 + 0.001 * (round((x + y - 90) / 100) % 2)), []),
    "level": (grid(5, 4, 600, 400, lambda x, y: -80), []),
    "steep": (grid(8, 6, 800, 600, lambda x, y: -80 + x / 160), []),
    "steep, tilt removed": (grid(8, 6, 800, 600, lambda x, y: -80 + x / 160 + x * y / 9e6), ["--without-tilt"]),
    "a chip": (chipped(), []),
    "a job inside": (grid(12, 8, 1100, 700, waves), ["--job", "300,200,400,300"]),
    "a job at the edge": (grid(12, 8, 1100, 700, waves), ["--job", "50,40,400,300"]),
    "a job that hangs over": (grid(12, 8, 1100, 700, waves), ["--job", "900,500,400,400"]),
    "inches": (grid(6, 5, 24, 18, lambda x, y: -3 + 0.01 * math.sin(x / 5), 2, 2), ["--unit", "in"]),
    "all that can be said": (grid(12, 8, 1100, 700, waves),
                             ["--overcut", "0.1", "--depth-of-cut", "0.2", "--within", "0.1"]),
}


class Map:
    """A map drawn of points, with its page, its elements by id, and the answer beside it."""

    def __init__(self, points, options):
        with tempfile.TemporaryDirectory() as folder:
            table, drawing = pathlib.Path(folder) / "a bed.csv", pathlib.Path(folder) / "map.svg"
            rows = "".join(f"{x},{y},{z}\n" for x, y, z in points)
            table.write_text("x,y,z\n" + rows, encoding="utf-8")
            run = subprocess.run([tap.program(), "bed", str(table), "--json", "--svg", str(drawing), *options],
                                 capture_output=True, text=True, check=False)
            if run.returncode not in (0, 1):
                raise AssertionError(run.stderr)
            self.answer = json.loads(run.stdout)
            self.root = ElementTree.parse(drawing).getroot()
        self.points, self.per = points, 25.4 if "in" in options else 1
        self.page = [float(n) for n in self.root.get("viewBox").split()]
        self.css = self.root.find(SVG + "style").text
        self.left, self.top, self.right, self.bottom = self.box(self.by_id("extent"))
        self.x_low, self.y_low = (min(p[k] for p in points) for k in (0, 1))
        self.scale = (self.right - self.left) / (max(p[0] for p in points) - self.x_low)

    def by_id(self, name):
        return next((e for e in self.root.iter() if e.get("id") == name), None)

    def all(self, name, tag):
        group = self.by_id(name)
        return list(group.iter(SVG + tag)) if group is not None else []

    @staticmethod
    def corners(element):
        n = [float(v) for v in re.split(r"[ ,]+", element.get("points").strip())]
        return list(zip(n[0::2], n[1::2]))

    def box(self, element):
        xs, ys = zip(*self.corners(element))
        return min(xs), min(ys), max(xs), max(ys)

    def paper(self, x, y):
        return self.left + (x - self.x_low) * self.scale, self.bottom - (y - self.y_low) * self.scale

    def bed(self, x, y):
        return self.x_low + (x - self.left) / self.scale, self.y_low + (self.bottom - y) / self.scale

    def texts(self):
        """Each text that is seen, once, as (words, centre, half sides along and across, turn)."""
        for e in self.root.iter(SVG + "text"):
            css = (e.get("class") or "").split()
            if "halo" in css:
                continue
            size, turn = float(e.get("font-size")), 0
            if e.get("transform"):
                turn = math.radians(float(re.match(r"rotate\(([-\d.]+)", e.get("transform")).group(1)))
            width = text_width(e.text, size) * (1.125 if "strong" in css else 1)
            shift = {"middle": 0, "end": -width / 2}.get(e.get("text-anchor"), width / 2)
            x = float(e.get("x")) + shift * math.cos(turn) + 0.36 * size * math.sin(turn)
            y = float(e.get("y")) + shift * math.sin(turn) - 0.36 * size * math.cos(turn)
            yield e.text, (x, y), (width / 2, 0.38 * size), turn


MAPS = {name: Map(*bed) for name, bed in BEDS.items()}


def each(check):
    for name, drawn in MAPS.items():
        try:
            check(drawn)
        except AssertionError as error:
            raise AssertionError(f"{name}: {error}") from None


# --- Where things lie ---

@tap.case
def every_touched_place_lies_where_its_coordinates_say_and_tells_its_height():
    def check(m):
        dots = m.all("touches", "circle")
        tap.equal(len(dots), len(m.points), "dots")
        for dot, (x, y, z) in zip(dots, m.points):
            px, py = m.paper(x, y)
            tap.near(float(dot.get("cx")), px, 0.003, "x of a dot, mm of paper")
            tap.near(float(dot.get("cy")), py, 0.003, "y of a dot, mm of paper")
            said = [float(n) for n in re.findall(r"[XYZ] (-?[\d.]+)", dot.find(SVG + "title").text)]
            for k, value in enumerate((x, y, z)):
                tap.near(said[k], value, 0.00051, "a dot's title")
    each(check)


@tap.case
def the_highest_and_the_lowest_are_marked_at_their_places():
    def check(m):
        if m.answer["range_z"] == 0:
            tap.equal(m.by_id("highest"), None, "a highest place of level ground")
            return
        if m.by_id("job") is not None or "tilt removed" in m.root.find(SVG + "title").text:
            return
        for name, choose in (("highest", max), ("lowest", min)):
            height = choose(p[2] for p in m.points)
            corners = m.corners(m.by_id(name))
            tip, a, b = corners
            tap.equal((tip[1] < a[1]) == (name == "highest"), True, "the highest's triangle points up")
            place = (a[0] + b[0]) / 2, a[1] - (0.2 if name == "highest" else -0.2)
            if not any(math.dist(place, m.paper(*p[:2])) < 0.01 for p in m.points if p[2] == height):
                raise AssertionError(f"the {name} at {m.bed(*place)}")
    each(check)


@tap.case
def a_jobs_extremes_lie_in_the_job_and_its_frame_on_the_map():
    for name in ("a job inside", "a job at the edge", "a job that hangs over"):
        m = MAPS[name]
        frame = m.box(m.by_id("job"))
        for k, sign in ((0, 1), (1, 1), (2, -1), (3, -1)):
            tap.equal(sign * frame[k] >= sign * (m.left, m.top, m.right, m.bottom)[k] - 0.002, True, "frame within the map")
        for which in ("highest", "lowest"):
            (_, (ax, ay), (bx, _)) = m.corners(m.by_id(which))
            place, expected = m.bed((ax + bx) / 2, ay - (0.2 if which == "highest" else -0.2)), m.answer[which]
            tap.near(place[0], expected["x"], 0.02 / m.scale, f"{name}, {which}, X")
            tap.near(place[1], expected["y"], 0.02 / m.scale, f"{name}, {which}, Y")


@tap.case
def contact_places_of_the_minimum_zone_are_squares_filled_for_the_upper_plane():
    def check(m):
        zone = m.answer["flatness"]["minimum_zone"]
        squares = m.all("minimum-zone", "polygon")
        expected = [("mark", p) for p in zone["high"]] + [("hollow", p) for p in zone["low"]]
        tap.equal(len(squares), len(expected), "contact places")
        for square, (css, p) in zip(squares, expected):
            tap.equal(square.get("class"), css, "kind of contact")
            left, top, right, bottom = m.box(square)
            x, y = m.paper(p["x"] / m.per, p["y"] / m.per)
            tap.near((left + right) / 2, x, 0.01, "x of a contact, mm of paper")
            tap.near((top + bottom) / 2, y, 0.01, "y of a contact, mm of paper")
    each(check)


@tap.case
def a_chip_wears_a_ring():
    m = MAPS["a chip"]
    rings = [(float(c.get("cx")), float(c.get("cy"))) for c in m.all("suspects", "circle")]
    tap.equal(any(math.dist(r, m.paper(*m.points[40][:2])) < 0.01 for r in rings), True, "a ring around the chip")


@tap.case
def the_front_is_at_the_bottom_and_the_arrow_points_there():
    def check(m):
        line, (head,) = m.all("front", "line")[0], m.all("front", "polygon")
        tap.equal(float(line.get("y2")) > float(line.get("y1")), True, "the shaft runs down")
        tip = max(m.corners(head), key=lambda c: c[1])
        tap.near(tip[0], float(line.get("x1")), 0.001, "the tip under the shaft")
    each(check)


@tap.case
def the_scale_bar_is_as_long_as_it_says():
    def check(m):
        bar = m.all("scale", "line")[0]
        said = float(m.all("scale", "text")[0].text.split()[0])
        tap.near(float(bar.get("x2")) - float(bar.get("x1")), said * m.scale, 0.01, "bar, mm of paper")
    each(check)


@tap.case
def ticks_stand_at_the_coordinates_they_name():
    def check(m):
        axes = set()
        for line, text in zip(m.all("ticks", "line"), m.all("ticks", "text")):
            x, y = float(line.get("x1")), float(line.get("y1"))
            axis = 0 if y == m.bottom and float(line.get("x2")) == x else 1
            tap.near(m.bed(x, y)[axis], float(text.text), 0.01 / m.scale, "tick")
            axes.add(axis)
        tap.equal(axes, {0, 1}, "axes with ticks")
    each(check)


# --- Contour lines ---

def tinted(m):
    return [e.text for e in m.all("key", "text") if re.fullmatch(r"-?[\d.]+", e.text)]


@tap.case
def lines_run_where_the_surface_has_a_round_height_and_every_fifth_is_heavier():
    m = Map(grid(9, 7, 640, 480, plane), [])
    levels = sorted(float(t) for t in tinted(m))
    step = levels[1] - levels[0]
    met = set()
    for tag in ("polyline", "polygon"):
        for line in m.all("contours", tag):
            heights = [plane(*m.bed(*c)) for c in m.corners(line)]
            level = min(levels, key=lambda h: abs(h - heights[0]))
            met.add(level)
            for height in heights:
                tap.near(height, level, 0.0015 / m.scale * 0.0011, "height on a line, mm")
            tap.equal("fifth" in line.get("class"), round(level / step) % 5 == 0, f"heavier at {level}")
    tap.equal(sorted(met), levels, "levels in the key have lines")
    expected = {round(k * step, 9) for k in range(-2000, 0)
                if min(p[2] for p in m.points) < k * step < max(p[2] for p in m.points)}
    tap.equal({round(h, 9) for h in levels}, expected, "every round height of the bed has its line")


@tap.case
def labels_name_the_height_under_them():
    for formula, tolerance in ((plane, 0.0003), (waves, 0.006)):
        m = Map(grid(41, 31, 640, 480, formula), [])
        labels = [e for e in m.all("contour-labels", "text") if e.get("class") == "height"]
        tap.equal(len(labels) >= 5, True, "five labels or more")
        for e in labels:
            turn = math.radians(float(re.match(r"rotate\(([-\d.]+)", e.get("transform")).group(1))
                                if e.get("transform") else 0)
            shift = 0.35 * float(e.get("font-size"))  # the middle of the figures stands on the line
            x, y = float(e.get("x")) + shift * math.sin(turn), float(e.get("y")) - shift * math.cos(turn)
            tap.near(formula(*m.bed(x, y)), float(e.text), tolerance, "height under a label, mm")


@tap.case
def no_line_is_finer_than_a_micrometre():
    m = MAPS["nearly flat"]
    tap.equal(all(re.fullmatch(r"-?\d+\.\d{3}", t) for t in tinted(m)), True, "three decimals")
    tap.equal(tinted(MAPS["level"]), ["-80.000"], "level ground tells its height")
    for name in ("nearly flat", "level"):
        for words, *_ in MAPS[name].texts():
            found = re.search(r"([\d]+) times larger", words)
            tap.equal(found is None or int(found.group(1)) <= 20000, True, f"{name}: {words}")


@tap.case
def tints_get_lighter_with_height_in_grey_too():
    def check(m):
        colours = re.findall(r"\.b(\d+)\{fill:#(\w\w)(\w\w)(\w\w)", m.css)
        light = []
        for k, (index, *rgb) in enumerate(colours):
            tap.equal(int(index), k, "tints in order")
            linear = [((int(c, 16) / 255 + 0.055) / 1.055) ** 2.4 for c in rgb]  # IEC 61966-2-1
            luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
            light.append(116 * luminance ** (1 / 3) - 16)  # CIE 1976 L*
        steps = [b - a for a, b in zip(light, light[1:])]
        tap.equal(all(s > 1.5 for s in steps), True, f"each lighter by an L* of 1.5, found {steps}")
    each(check)


def area(m, group):
    """Of the lowest tint, which lies under the others: all that is drawn, as a share of the frame."""
    ring = next(e for e in m.by_id(group) if e.get("class") == "b0")
    total = 0
    for part in ring.get("d").replace("Z", "").split("M")[1:]:
        n = [float(v) for v in re.findall(r"-?[\d.]+", part)]
        corners = list(zip(n[0::2], n[1::2]))
        total += sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, corners[1:] + corners[:1])) / 2
    return abs(total) / ((m.right - m.left) * (m.bottom - m.top))


@tap.case
def thousands_of_places_anywhere_leave_no_holes_in_the_map():
    m = Map(scattered(4000), [])
    tap.equal(area(m, "tints") > 0.97, True, f"{area(m, 'tints')} of the frame is drawn")  # the rim may have gaps
    # a corner of 550 by 440 of 1200 by 900 that nobody touched, to a cell of the raster at its sides
    corner = Map([p for p in grid(80, 60, 1200, 900, waves) if p[0] < 700 or p[1] < 500], [])
    tap.near(area(corner, "tints"), 1 - 550 * 440 / (1200 * 900), 0.03, "share drawn where a corner was left out")


# --- Sections ---

@tap.case
def a_section_shows_the_rows_heights_as_much_larger_as_it_says():
    m = MAPS["three metres"]
    found = re.search(r"Row at Y ([\d.]+) mm.*?heights (\d+) times larger", " ".join(t for t, *_ in m.texts()))
    at, larger = float(found.group(1)), float(found.group(2))
    row = [p for p in m.points if abs(p[1] - at) < 0.001]
    dots = [(float(c.get("cx")), float(c.get("cy"))) for c in m.all("worst-row", "circle")]
    tap.equal(len(dots), len(row), "places of the row")
    for dot, p in zip(dots, row):
        tap.near(dot[0], m.paper(p[0], p[1])[0], 0.003, "along the row, mm of paper")
        tap.near(dots[0][1] - dot[1], (p[2] - row[0][2]) * larger * m.scale, 0.01, "height, mm of paper")


@tap.case
def without_the_tilt_a_section_has_none_either():
    m = MAPS["steep, tilt removed"]
    dots = [float(c.get("cy")) for c in m.all("worst-row", "circle")]
    larger = float(re.search(r"heights (\d+) times larger", " ".join(t for t, *_ in m.texts())).group(1))
    # 5 mm of tilt, of which 0.04 mm of warp stay
    tap.equal((max(dots) - min(dots)) / larger / m.scale < 0.06, True, "the row is nearly level")


# --- Can it be read ---

def apart(a, b):
    """Two turned rectangles are apart when one of their four side directions separates them."""
    for turn in (a[3], a[3] + math.pi / 2, b[3], b[3] + math.pi / 2):
        x, y = math.cos(turn), math.sin(turn)
        reach = sum(t[2][0] * abs(math.cos(t[3] - turn)) + t[2][1] * abs(math.sin(t[3] - turn)) for t in (a, b))
        if abs((a[1][0] - b[1][0]) * x + (a[1][1] - b[1][1]) * y) >= reach:
            return True
    return False


@tap.case
def no_text_stands_on_another():
    def check(m):
        texts = list(m.texts())
        for i, a in enumerate(texts):
            for b in texts[:i]:
                if not apart(a, b):
                    raise AssertionError(f"{a[0]!r} on {b[0]!r}")
    each(check)


@tap.case
def contour_labels_keep_off_marks():
    def check(m):
        labels = [t for t in m.texts() if re.fullmatch(r"-?[\d.]+", t[0])
                  and m.left < t[1][0] < m.right and m.top < t[1][1] < m.bottom]
        for square in m.all("minimum-zone", "polygon"):
            left, top, right, bottom = m.box(square)
            mark = ("a contact", ((left + right) / 2, (top + bottom) / 2), (1.1, 1.1), 0)
            for label in labels:
                tap.equal(apart(label, mark), True, f"{label[0]} off a contact")
    each(check)


@tap.case
def nothing_leaves_the_page():
    def check(m):
        _, _, width, height = m.page
        tap.equal(sorted((width, height)), [210, 297], "A4")
        for words, (x, y), (along, across), turn in m.texts():
            dx = along * abs(math.cos(turn)) + across * abs(math.sin(turn))
            dy = along * abs(math.sin(turn)) + across * abs(math.cos(turn))
            tap.equal(x - dx > 0 and x + dx < width and y - dy > 0 and y + dy < height, True, f"{words!r} on the page")
        for e in m.root.iter():
            if e.tag in (SVG + "polygon", SVG + "polyline"):
                for x, y in m.corners(e):
                    tap.equal(0 <= x <= width and 0 <= y <= height, True, "a shape on the page")
    each(check)


@tap.case
def a_deep_bed_stands_on_an_upright_page():
    tap.equal(MAPS["a deep bed"].page[2:], [210, 297], "page, mm")
    tap.equal(MAPS["three metres"].page[2:], [297, 210], "page, mm")


@tap.case
def title_and_description_say_what_it_shows():
    def check(m):
        title, desc = (m.root.find(SVG + name).text for name in ("title", "desc"))
        tap.equal("a bed.csv" in title, True, f"title {title!r}")
        tap.equal("from the highest to the lowest" in desc, True, f"description {desc!r}")
    each(check)
    tap.equal("tilt removed" in MAPS["steep, tilt removed"].root.find(SVG + "title").text, True, "title tells of the tilt")


@tap.case
def marks_let_the_pointer_through_to_the_touched_place():
    m = MAPS["a chip"]
    rule = re.search(r"([^{}]*)\{pointer-events:none\}", m.css).group(1)
    names = {n.strip() for n in rule.split(",")}
    for name in ("text", ".mark", ".hollow", ".suspect", ".solid"):
        tap.equal(name in names, True, name)


tap.run()
