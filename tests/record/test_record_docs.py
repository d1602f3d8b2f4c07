#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What docs/shop-file.md and docs/hit-log.md show and claim is true of the reader."""
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import zlib

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests" / "support"))
import tap  # noqa: E402

VERDICT = os.environ.get("SHOP_VERDICT") or str(ROOT / "build" / "tests" / "record" / "shop_verdict")
SHOP_PAGE = (ROOT / "docs" / "shop-file.md").read_text(encoding="utf-8")
LOG_PAGE = (ROOT / "docs" / "hit-log.md").read_text(encoding="utf-8")
SCHEMA = json.loads((ROOT / "docs" / "shop.schema.json").read_text(encoding="utf-8"))


def verdict(name, data):
    """What the reader says of a file with this name and these bytes."""
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / name
        path.write_bytes(data)
        run = subprocess.run([VERDICT, name], cwd=folder, capture_output=True, timeout=60)
        return run.stdout.decode()


def shop(value):
    return verdict("shop.json", json.dumps(value).encode())


def keys(schema):
    """Every key that the schema knows, at any depth."""
    for name, inner in schema.get("properties", {}).items():
        yield name
        if isinstance(inner, dict):
            yield from keys(inner)
    for inner in schema.get("$defs", {}).values():
        yield from keys(inner)


@tap.case
def the_smallest_useful_file_of_the_page_is_read():
    block = re.search(r"```json\n(.*?)```", SHOP_PAGE, re.S).group(1)
    tap.equal(verdict("shop.json", block.encode()), "OK\n")


@tap.case
def every_key_of_the_schema_has_its_place_on_the_page():
    for key in sorted(set(keys(SCHEMA))):
        if f"`{key}`" not in SHOP_PAGE and f'"{key}"' not in SHOP_PAGE:
            raise AssertionError(key)


def with_length(row, text):
    """A shop file with one bare length where the row of the page's table says."""
    plate = {"name": "p", "thickness": "9mm"}
    cutter = {"name": "c", "shape": "flat", "diameter": "1mm"}
    file = {"unit": "mm", "machine": {"travel": {}}, "plates": [plate], "cutters": [cutter], "stock": {}}
    if row == "plate thickness":
        plate["thickness"] = text
    elif row == "cutter diameter":
        cutter["diameter"] = text
    elif row == "bore diameter":
        plate["bore"] = {"diameter": text, "a": "5mm", "b": "5mm"}
    elif row == "wall offset, bore centre":
        plate["walls"] = {"a": {"offset": text, "faces": "outward"}}
    elif row == "touch depth":
        plate["walls"] = {"a": {"offset": "5mm", "faces": "outward", "touch_depth": text}}
    elif row == "wall rise":
        plate["walls"] = {"a": {"offset": "5mm", "faces": "outward", "rise": text}}
    elif row == "plate extent, from end to end":
        plate["extent"] = {"a": ["0", text]}
    elif row == "corner radius":
        cutter.update(shape="bull", diameter="90mm", corner_radius=text)
    elif row == "step":
        file["machine"]["step"] = text
    elif row == "stock in Z":
        file["stock"]["z"] = text
    elif row == "stock in X and Y":
        file["stock"]["x"] = text
    elif row == "travel in Z":
        file["machine"]["travel"]["z"] = ["0", text]
    elif row == "travel in X and Y":
        file["machine"]["travel"]["y"] = ["0", text]
    elif row in ("flute length", "shank", "stick-out", "nut"):
        cutter[row.replace(" ", "_").replace("-", "_")] = text
    elif row == "rate, in a minute":
        file["machine"]["rates"] = {"y": text}
    elif row == "acceleration":
        file["machine"]["accelerations"] = {"y": text}
    elif row == "shoe":
        file["machine"]["shoe"] = {"diameter": text, "height": "40mm"}
    elif row == "height of the shoe":
        file["machine"]["shoe"] = {"diameter": "90mm", "height": text}
    elif row == "drives":
        file["machine"]["drives"] = text
    elif row == "a screw's diameter":
        file["table"] = {"things": [{"name": "s", "at": [0, 0], "diameter": text, "top": 0}]}
    else:
        raise AssertionError(f"a row that the test does not know: {row}")
    return file


def ranges():
    """(what, low, high) of the page's table of usual ranges, mm; low 0 where there is none."""
    table = SHOP_PAGE[SHOP_PAGE.index("| length | usual, mm |"):].split("\n\n")[0]
    for line in table.splitlines()[2:]:
        cells = [cell.strip() for cell in line.strip(" |").split("|")]
        for what, span in zip(cells[::2], cells[1::2]):
            numbers = [float(n.replace(" ", "")) for n in re.findall(r"[0-9.]+(?: 000)?", span)]
            if what:
                yield what, numbers[0] if len(numbers) == 2 else 0, numbers[-1]


@tap.case
def the_usual_ranges_begin_and_end_where_the_page_says():
    rows = list(ranges())
    tap.equal(len(rows), 23, "rows")
    for what, low, high in rows:
        tap.equal(shop(with_length(what, f"{high:g}")), "OK\n", f"{what} {high}")
        if low:
            tap.equal(shop(with_length(what, f"{low:g}")), "OK\n", f"{what} {low}")
            message = shop(with_length(what, f"{low * 0.99:g}"))
            if "the unit is probably wrong" not in message:
                raise AssertionError(f"{what} {low * 0.99:g}: {message}")


@tap.case
def above_a_usual_range_a_length_is_doubted_in_an_inch_file():
    for what, _, high in ranges():
        if what == "step":  # 1 mm, the limit of the step, comes first
            continue
        file = dict(with_length(what, f"{high / 25.4 * 1.01:.6g}"), unit="in")
        if "the unit is probably wrong" not in shop(file):
            raise AssertionError(f"{what} {high}: {shop(file)}")


@tap.case
def the_lines_of_the_hit_log_page_are_a_hit_log():
    block = re.search(r"```\n(\{.*?)```", LOG_PAGE, re.S).group(1).encode()
    tap.equal(verdict("t.hits.jsonl", block), "OK, 1 hits\n")
    for line in block.splitlines():
        body, rest = line.split(b',"crc":"')
        tap.equal(rest, b'%08x"}' % zlib.crc32(body), "checksum by zlib")


@tap.case
def the_sample_log_has_the_checksums_of_zlib():
    lines = (ROOT / "fixtures/hits/front_left.hits.jsonl").read_bytes().splitlines()
    tap.equal(len(lines), 18, "lines")
    for line in lines:
        body, rest = line.split(b',"crc":"')
        tap.equal(rest, b'%08x"}' % zlib.crc32(body), "checksum by zlib")


@tap.case
def a_record_of_another_kind_is_passed_over_and_a_hit_may_name_its_kind():
    def line(text):
        return b'%s,"crc":"%08x"}\n' % (text, zlib.crc32(text))
    hit = b'"seq":1,"x":1,"y":2,"z":3,"axis":"z","ok":true'
    log = line(b'{"trueup":"hits","schema":1,"utc":"2026-11-25T08:15:30Z","by":"a later version"')
    log += line(b'{"kind":"end","why":"done"') + line(b'{"kind":"hit",' + hit) + line(b"{" + hit)
    tap.equal(verdict("t.hits.jsonl", log), "OK, 2 hits\n")
    tap.equal(verdict("t.hits.jsonl", log + log[:30]), "OK, 2 hits, then a torn line of 30 bytes\n")


tap.run()
