# SPDX-License-Identifier: GPL-3.0-or-later
"""The drawing of docs/wiring.md. The pins are read from the remarks of tools/firmware/board.h, so a pin that
moves there moves here, or the drawing fails."""
import pathlib
import re

from figures_paper import STYLE, Drawing

LINES = STYLE.replace("11px", "13px") + """
[font-weight=bold]{font-weight:bold}
.paper{fill:#fff;stroke:#000;stroke-width:1.2}
.barrier{fill:none;stroke:#d55e00;stroke-width:2;stroke-dasharray:7 4}
.warning{fill:none;stroke:#d55e00;stroke-width:2}"""

BOARD = pathlib.Path(__file__).resolve().parent / "firmware" / "board.h"
CHIP, WIDE = (540, 680), (1000, 700)
CONTACT, GROUND = 520, 596  # heights of the two leads
ROWS = {"STEP X": 425, "DIR X": 379, "STEP Y": 327, "DIR Y": 281, "STEP Z": 229, "DIR Z": 183}


def pins():
    """Signal -> its pin by the data sheet's names, as in "STEP X": "PD2 (INT0)"."""
    found = {}
    text = BOARD.read_text(encoding="utf-8")
    for pin, other, signal in re.findall(
            r"(P[BCD]\d)(?: (ICP1|INT\d|T0|TXD))? +(contact|STEP [XYZ]|DIR [XYZ]|sentences)", text):
        found[signal] = f"{pin} ({other})" if other else pin
    if sorted(found) != sorted([*ROWS, "contact", "sentences"]):
        raise ValueError(f"{BOARD}: the pins found are {found}")
    return found


def dot(d, x, y):
    d.circle("blackfill", x, y, 3)


def resistor(d, x0, x1, y):
    d.box("paper", x0, y - 5, x1, y + 5)


def ground(d, x, y):
    for index, half in enumerate((9, 6, 3)):
        d.path("wide", [(x - half, y - 4 * index), (x + half, y - 4 * index)])


def draw_contact(d, pin):
    """Spindle, cutter with its clip, plate on the stock, the two leads and the filter."""
    d.box("stock", 50, 470, 262, 508)
    d.text(156, 484, "stock", "middle")
    d.box("plate", 80, 508, 200, 532)
    d.text(140, 514, "touch plate", "middle")
    d.box("cutter", 60, 640, 150, 676)
    d.text(105, 653, "spindle", "middle")
    d.path("cutter", [(86, 640), (92, 622), (118, 622), (124, 640)])
    d.box("cutter", 98, 545, 112, 622)
    d.path("thin", [(98, 548), (112, 562), (98, 562), (112, 576)])
    d.path("centre", [(105, 640), (105, 534)])
    d.box("blackfill", 108, 590, 132, 602)
    d.path("wide", [(132, GROUND), (CHIP[0], GROUND)])
    d.text(140, GROUND, "clip on the cutter's shank", dy=8)
    d.path("wide", [(200, CONTACT), (CHIP[0], CONTACT)])
    dot(d, 200, CONTACT)
    d.text(214, CONTACT, "lead of the plate", dy=8)
    d.path("hidden", [(372, 492), (516, 492), (516, 612), (372, 612)], True)
    d.text(444, 612, "filter, if the lead is long", "middle", dy=6)
    resistor(d, 388, 432, CONTACT)
    d.text(410, CONTACT, "1 kΩ", "middle", dy=-20)
    for y0, y1 in ((CONTACT, 554), (562, GROUND)):
        d.path("wide", [(470, y0), (470, y1)])
    for y in (554, 562):
        d.path("wide", [(456, y), (484, y)])
    d.text(450, 554, "1 nF", "end")
    for y in (CONTACT, GROUND):
        dot(d, 470, y)
    d.text(CHIP[0] + 8, CONTACT, pin, dy=-4)
    d.text(CHIP[0] + 8, GROUND, "GND", dy=-4)


def draw_coupler(d, y):
    """Light-emitting diode, light, output; the supply of the output is left out."""
    d.box("paper", 236, y - 24, 312, y + 12)
    d.path("blackfill", [(250, y - 1), (262, y - 1), (256, y - 11)], True)
    d.path("wide", [(250, y - 12), (262, y - 12)])
    d.path("thin", [(236, y), (256, y), (256, y - 16), (236, y - 16)])
    for drop in (4, 10):
        d.arrow("thin", 264, y - drop, 284, y - drop)
    d.path("wide", [(287, y + 4), (287, y - 16)])
    d.path("wide", [(287, y - 3), (299, y), (312, y)])
    d.path("thin", [(287, y - 9), (299, y - 16), (299, y - 24)])


def draw_steps(d, pin_of):
    """The machine's outputs, six optocouplers, the pull-ups."""
    low, high = ROWS["DIR Z"] - 62, ROWS["STEP X"] + 24
    d.box("cutter", 30, low, 120, high)
    d.text(30, low, "machine's controller", dy=-18)
    d.path("thin", [(210, ROWS["STEP X"] - 16), (210, low + 20), (120, low + 20)])
    d.text(112, low + 20, "its ground", "end", dy=-4)
    d.path("thin", [(362, high), (362, ROWS["DIR Z"] + 16)])
    d.text(362, high, "5 V", "middle", dy=5)
    for name, y in ROWS.items():
        d.text(112, y, name, "end", dy=-4)
        d.path("wide", [(120, y), (236, y)])
        resistor(d, 146, 182, y)
        draw_coupler(d, y)
        d.path("thin", [(236, y - 16), (210, y - 16)])
        d.path("wide", [(312, y), (CHIP[0], y)])
        d.path("thin", [(362, y + 16), (426, y + 16), (426, y)])
        resistor(d, 376, 412, y + 16)
        for x, at in ((210, y - 16), (362, y + 16), (426, y)):
            dot(d, x, at)
        d.text(CHIP[0] - 8, y, name, "end", dy=4)
        d.text(CHIP[0] + 8, y, pin_of[name], dy=-4)
    d.path("barrier", [(274, high + 12), (274, low - 2)])
    d.text(222, low, "isolation: only light crosses", dy=-18)


def draw_computer(d, pin):
    """The serial adapter and the computer."""
    right = CHIP[1]
    d.box("paper", 756, 486, 866, 620)
    for y, there, words in ((596, "5 V", "VCC, AVCC"), (552, "RXD", pin), (508, "GND", "GND")):
        d.text(right - 8, y, words, "end", dy=-4)
        d.text(764, y, there, dy=-4)
        d.path("wide", [(right, y), (756, y)])
    d.head("blackfill", 756, 552, 0)
    d.path("barrier", [(836, 628), (836, 478)])
    d.text(811, 632, "USB serial adapter, isolated", "middle", dy=4)
    d.text(811, 474, "115 200 baud, 8N1", "middle", dy=-18)
    d.path("wide", [(866, 552), (894, 552)])
    d.box("cutter", 894, 530, 982, 580)
    d.path("cutter", [(886, 518), (990, 518), (982, 530), (894, 530)], True)
    d.text(938, 551, "trueup log", "middle")
    d.text(938, 518, "computer", "middle", dy=-16)


NOTES = (
    ("Contact", "A touch pulls PB0 to ground; the", "pull-up is inside the chip."),
    ("STEP and DIR", "Counted, they say where the touch", "was. Series resistors for the control-", "ler's voltage, pull-ups of 1 kΩ. Fast",
     "couplers turn the levels over; build", "the firmware for that."),
    ("Not drawn", "Crystal, capacitors at the supply", "pins, RESET's resistor, supply of", "the couplers' outputs."))


def wiring():
    pin_of = pins()
    d = Drawing("wiring", "Wiring of the touch counter",
                "An ATmega328P. To its left above the contact: a clip on the cutter's shank goes to GND, "
                "the touch plate through an optional filter of 1 kilohm and 1 nanofarad to "
                f"{pin_of['contact']}. To its left below six optocouplers carry STEP and DIR of three axes "
                "from the machine's controller: "
                + ", ".join(f"{name} to {pin_of[name]}" for name in ROWS)
                + f". To its right {pin_of['sentences']}, 5 volts and ground go to an isolated USB serial "
                "adapter and on to the computer. Cautions stand below.", *WIDE, style=LINES)
    d.view(0, 0, 1)
    d.box("cutter", CHIP[0], 112, CHIP[1], 640)
    d.text(sum(CHIP) / 2, 640, "ATmega328P, 5 V", "middle", dy=7, bold=True)
    draw_contact(d, pin_of["contact"])
    draw_steps(d, pin_of)
    draw_computer(d, pin_of["sentences"])
    y = 424
    for note in NOTES:
        for line, words in enumerate(note):
            d.text(704, y, words, bold=line == 0)
            y -= 20
        y -= 10
    d.box("warning", 30, 20, 970, 76)
    d.text(500, 54, "5 V only. Isolate what comes from the machine. Never near mains, nor the terminals of a "
           "spindle drive.", "middle", bold=True)
    d.text(500, 34, "Spindle locked off while the clip is on the cutter. The counter stops nothing: the machine "
           "keeps its own probe input and emergency stop.", "middle")
    return d
