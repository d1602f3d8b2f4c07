#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/trials.schema.json, docs/trials.md and what `trueup trials --json` writes say the same; pictures
are XML. Checked by python3-jsonschema and Python's own parser, over the goldens and over files made here."""
import json
import math
import pathlib
import random
import subprocess
import sys
import tempfile
from xml.etree import ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

jsonschema = tap.need("jsonschema", "python3-jsonschema")
SCHEMA = json.loads((tap.ROOT / "docs" / "trials.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
GOLDEN = tap.ROOT / "tests" / "cli" / "golden"
FIXTURES = tap.ROOT / "fixtures" / "trials"


def check(text, name):
    answer = json.loads(text)
    error = jsonschema.exceptions.best_match(VALIDATOR.iter_errors(answer))
    if error:
        raise AssertionError(f"{name}: {error.json_path}: {error.message}"[:400])
    return answer


def made(folder):
    """Files of the kinds that a figure is absent for: few, equal, quantised, huge, tiny, grouped."""
    draw = random.Random(5)
    kinds = {
        "one": ["1.5"], "two": ["1.5", "1.51"], "equal": ["1.5"] * 9,
        "stepped": [f"{draw.choice((1.5, 1.5, 1.5125)):.4f}" for _ in range(20)],
        "huge": [f"{draw.gauss(9e4, 5):.3f}" for _ in range(20)],
        "tiny": [f"{draw.gauss(0, 1e-6):.9f}" for _ in range(20)],
    }
    for name, values in kinds.items():
        path = folder / f"{name}.csv"
        rows = [f"{value},{i % 2}" for i, value in enumerate(values)]
        path.write_text("z,half\n" + "\n".join(rows) + "\n")
        yield path


def run(*words):
    # 1: beyond --within, 5: too few touches for what was asked
    done = subprocess.run([tap.program(), "trials", *map(str, words)], capture_output=True, text=True,
                          check=False)
    if done.returncode not in (0, 1):
        raise AssertionError(f"{words}: exit {done.returncode}: {done.stderr}")
    return done.stdout


def refused(answer):
    return next(VALIDATOR.iter_errors(answer), None) is not None


@tap.case
def the_goldens_are_what_the_schema_says():
    seen = [path for path in sorted(GOLDEN.glob("trials-*.out"))
            if path.read_text(encoding="utf-8").startswith("{\n\t\"schema\"")]
    tap.equal(len(seen) >= 5, True, "five goldens in JSON or more")
    keys = set()
    for path in seen:
        keys |= set(check(path.read_text(encoding="utf-8"), path.name))
    tap.equal({"comparison", "groups", "warm_up", "feed", "within"} <= keys, True, "parts seen")


@tap.case
def answers_from_few_equal_huge_and_tiny_touches_are_what_the_schema_says():
    with tempfile.TemporaryDirectory() as name:
        for path in made(pathlib.Path(name)):
            for more in ([], ["--unit", "in"], ["--mean-within", "0.001"], ["--step", "0.0125"]):
                check(run(path, "--json", *more), path.name)


@tap.case
def answers_to_every_question_are_what_the_schema_says():
    log = FIXTURES / "morning.hits.jsonl"
    for words in ([log, "--series", "cold", "--warm-up"], [log, "--series", "warm", "--against", "cold"],
                  [log, "--by", "series"], [FIXTURES / "seating.csv", "--by", "seat"],
                  [FIXTURES / "feeds.csv", "--feed", "--within", "0.001"]):
        check(run(*words, "--json"), str(words[1:]))


@tap.case
def what_was_kept_two_faces_and_a_warm_up_that_goes_on_are_what_the_schema_says():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        shop = folder / "shop.json"
        shop.write_text('{"unit":"mm"}')
        kept = check(run(FIXTURES / "seating.csv", "--shop", shop, "--keep", "--json"), "kept")["kept"]
        stated = json.loads(shop.read_text())["machine"]["repeatability"]["x"]
        tap.equal([(one["axis"], one["dof"]) for one in kept["repeatability"]], [("x", stated["dof"])])
        tap.equal(f'{kept["repeatability"][0]["sd"]:.6f}mm', stated["sd"], "kept as it stands in the file")
        bore = folder / "bore.csv"
        bore.write_text("x,dir\n" + "".join(f"1.{i},-\n23.{i},+\n" for i in range(6)))
        answer = check(run(bore, "--json"), "two faces")
        tap.equal((round(answer["two_faces"]["apart"], 9), "reversal" in answer), (22, False))
        warm = folder / "warm.csv"
        draw = random.Random(8)
        warm.write_text("t,z\n" + "".join(
            f"{10 * i},{0.05 * (1 - math.exp(-i / 90)) + draw.gauss(0, 0.0005):.5f}\n" for i in range(60)))
        answer = check(run(warm, "--warm-up", "--json"), "warm-up")
        tap.equal("settled_after" in answer["warm_up"], False, "15 min of time constant seen for 10")
        tap.equal("beyond what was touched" in answer["warm_up"]["verdict"][0], True)


@tap.case
def the_schema_refuses_what_the_program_does_not_write():
    answer = json.loads((GOLDEN / "trials-json.out").read_text(encoding="utf-8"))
    tap.equal(refused(answer), False, "as it is")
    del answer["series"][0]["outliers"]
    tap.equal([refused(answer), refused({**answer, "one_pass": True})], [True, False], "one pass only")
    answer["series"][0]["outliers"] = []
    for change in ({"unit": "in"}, {"within": 0.1}, {"series": []}, {"more": 1}):
        tap.equal(refused({**answer, **change}), True, str(change))
    for key, value in (("n", 1.5), ("sd", -1), ("lag1", 2), ("sd_beside", 1), ("outliers", None)):
        changed = json.loads(json.dumps(answer))
        changed["series"][0][key] = value
        tap.equal(refused(changed), True, key)


@tap.case
def the_page_names_every_key_of_a_series():
    page = (tap.ROOT / "docs" / "trials.md").read_text(encoding="utf-8")
    for key in [*SCHEMA["properties"]["series"]["items"]["properties"], *SCHEMA["properties"]]:
        if key not in ("schema", "unit"):
            tap.equal(f"`{key}`" in page or f"`{key}[]`" in page, True, key)


@tap.case
def every_picture_is_xml_with_title_description_and_text_as_text():
    space = "{http://www.w3.org/2000/svg}"
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        for path in made(folder):
            for more in ([], ["--unit", "in"], ["--by", "half"]):
                if more[:1] == ["--by"] and path.stem in ("one", "two"):
                    continue  # no group of two
                run(path, "--svg", folder / "p.svg", *more)
                root = ElementTree.parse(folder / "p.svg").getroot()
                tap.equal([bool(root.findtext(space + tag)) for tag in ("title", "desc")],
                          [True, True], path.name)
                tap.equal(len(root.findall(f".//{space}text")) > 10, True, "texts")
                tap.equal(root.findall(f".//{space}path"), [], "no letters as outlines")


tap.run()
