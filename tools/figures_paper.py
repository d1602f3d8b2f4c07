# SPDX-License-Identifier: GPL-3.0-or-later
"""Paper to draw on, for tools/figures.

Lines follow ISO 128: continuous wide for outlines, continuous narrow for dimensions, dash-dot for
centre lines, dashed for what is hidden. One accent marks a touch, another the zero.
"""
import math
from xml.sax.saxutils import escape

STYLE = """text{font:11px sans-serif;fill:#000}
.wide{fill:none;stroke:#000;stroke-width:1.6}
.thin{fill:none;stroke:#000;stroke-width:.7}
.centre{fill:none;stroke:#000;stroke-width:.7;stroke-dasharray:12 3 2 3}
.hidden{fill:none;stroke:#000;stroke-width:.9;stroke-dasharray:5 3}
.stock{fill:#f1efe9;stroke:#000;stroke-width:1.6}
.plate{fill:#dcdcdc;stroke:#000;stroke-width:1.6}
.bed{fill:#b4b4b4;stroke:#000;stroke-width:.9}
.cutter{fill:#fff;stroke:#000;stroke-width:1.8}
.touch{fill:none;stroke:#d55e00;stroke-width:1.8}
.touchfill{fill:#d55e00;stroke:none}
.zero{fill:none;stroke:#00507d;stroke-width:2.2}
.zerofill{fill:#00507d;stroke:none}
.blackfill{fill:#000;stroke:none}"""


def number(value):
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


class Drawing:
    """Paper with its own scale; world coordinates have y upwards, as on the machine."""

    def __init__(self, name, title, description, width, height, style=STYLE):
        self.name, self.width, self.height = name, width, height
        self.items = [f"<title>{escape(title)}</title>", f"<desc>{escape(description)}</desc>",
                      f"<style>{style}</style>",
                      f'<rect width="{width}" height="{height}" fill="#fff"/>']
        self.view(0, 0, 1)

    def view(self, left, bottom, scale):
        """The world's origin lies at this place of the paper, measured from its lower left."""
        self.left, self.bottom, self.scale = left, bottom, scale

    def at(self, x, y):
        return self.left + self.scale * x, self.height - self.bottom - self.scale * y

    def path(self, style, points, closed=False):
        d = "M" + "L".join(" ".join(number(v) for v in self.at(*p)) for p in points)
        self.items.append(f'<path class="{style}" d="{d}{"Z" if closed else ""}"/>')

    def box(self, style, x0, y0, x1, y1):
        self.path(style, [(x0, y0), (x1, y0), (x1, y1), (x0, y1)], True)

    def circle(self, style, x, y, radius):
        cx, cy = self.at(x, y)
        self.items.append(f'<circle class="{style}" cx="{number(cx)}" cy="{number(cy)}" '
                          f'r="{number(radius * self.scale)}"/>')

    def arc(self, style, x, y, radius, start, end):
        steps = [start + (end - start) * i / 24 for i in range(25)]
        self.path(style, [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in steps])

    def text(self, x, y, words, anchor="start", dx=0, dy=0, bold=False):
        px, py = self.at(x, y)
        weight = ' font-weight="bold"' if bold else ""
        self.items.append(f'<text x="{number(px + dx)}" y="{number(py - dy)}" '
                          f'text-anchor="{anchor}"{weight}>{escape(words)}</text>')

    def head(self, style, x, y, angle, size=8):
        """An arrow's head with its tip at (x, y), pointing along angle."""
        px, py = self.at(x, y)
        wings = [(px - size * math.cos(angle + d), py + size * math.sin(angle + d))
                 for d in (0.28, -0.28)]
        d = f"M{number(px)} {number(py)}" + "".join(f"L{number(a)} {number(b)}" for a, b in wings)
        self.items.append(f'<path class="{style}" d="{d}Z"/>')

    def arrow(self, style, x0, y0, x1, y1):
        self.path(style, [(x0, y0), (x1, y1)])
        fill = {"touch": "touchfill", "zero": "zerofill"}.get(style, "blackfill")
        self.head(fill, x1, y1, math.atan2(y1 - y0, x1 - x0))

    def dimension(self, x0, x1, y, words, reach=(None, None)):
        """A horizontal dimension at height y; reach: where the two extension lines start."""
        for x, start in zip((x0, x1), reach):
            if start is not None:
                over = y + (6 if y > start else -6) / self.scale
                self.path("thin", [(x, start), (x, over)])
        self.path("thin", [(x0, y), (x1, y)])
        self.head("blackfill", min(x0, x1), y, math.pi)
        self.head("blackfill", max(x0, x1), y, 0)
        self.text((x0 + x1) / 2, y, words, "middle", dy=4)

    def height_dimension(self, y0, y1, x, words, reach=(None, None)):
        for y, start in zip((y0, y1), reach):
            if start is not None:
                over = x + (6 if x > start else -6) / self.scale
                self.path("thin", [(start, y), (over, y)])
        self.path("thin", [(x, y0), (x, y1)])
        self.head("blackfill", x, min(y0, y1), -math.pi / 2)
        self.head("blackfill", x, max(y0, y1), math.pi / 2)
        self.text(x, (y0 + y1) / 2, words, dx=5, dy=-4)

    def zero(self, x, y, words=""):
        """The mark of the work zero: a ring with a cross."""
        size = 9 / self.scale
        self.circle("zero", x, y, size * 0.6)
        self.path("zero", [(x - size, y), (x + size, y)])
        self.path("zero", [(x, y - size), (x, y + size)])
        if words:
            self.text(x, y, words, dx=10, dy=10)

    def cutter(self, x, y, radius):
        self.circle("cutter", x, y, radius)
        for dx, dy in ((1.35 * radius, 0), (0, 1.35 * radius)):
            self.path("centre", [(x - dx, y - dy), (x + dx, y + dy)])

    def write(self, folder):
        head = (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width} {self.height}" '
                f'width="{self.width}" height="{self.height}" role="img">')
        (folder / f"{self.name}.svg").write_text("\n".join([head, *self.items, "</svg>", ""]),
                                                 encoding="utf-8")
