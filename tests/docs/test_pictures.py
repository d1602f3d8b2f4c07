# SPDX-License-Identifier: GPL-3.0-or-later
"""The pictures of the manual are the ones that the programs draw today.

    test_pictures.py --rebuild     draws the README's picture and that of rehearse.md anew
                                   (tools/figures draws the others)
"""
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
from xml.etree import ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

IMAGES = tap.ROOT / "docs" / "img"


def readme_command():
    """The README's command that draws, as words; its --svg leads elsewhere."""
    text = (tap.ROOT / "README.md").read_text(encoding="utf-8")
    line = re.search(r"^\$ (trueup zero (?:.*\\\n)*.*--svg.*)$", text, re.M).group(1)
    return line.replace("\\\n", " ").split()


def draw_readme_picture(path):
    """Where the picture is kept, after drawing it to path."""
    words = readme_command()
    place = words.index("--svg") + 1
    kept = IMAGES / words[place]
    words[0], words[place] = str(pathlib.Path(tap.program()).resolve()), str(path)
    subprocess.run(words, cwd=tap.ROOT / "fixtures" / "shop", check=True, capture_output=True)
    return kept


def draw_rehearsal(path):
    """Where the picture of rehearse.md is kept, after drawing it to path by the page's command."""
    text = (tap.ROOT / "docs" / "rehearse.md").read_text(encoding="utf-8")
    words = re.search(r"^\$ (trueup rehearse .*--svg .*)$", text, re.M).group(1).split(" | ")[0].split()
    place = words.index("--svg") + 1
    kept = IMAGES / words[place]
    words[0], words[place] = str(pathlib.Path(tap.program()).resolve()), str(path)
    with tempfile.TemporaryDirectory() as folder:
        for sample in ("programs/front-left.ngc", "scenes/clamp.json"):
            shutil.copy(tap.ROOT / "fixtures" / sample, folder)
        subprocess.run(words, cwd=folder, check=False, capture_output=True)
    return kept


def draw_bed_map(path):
    """Where the map of bed.md is kept, after drawing it to path by the commands of the page."""
    text = (tap.ROOT / "docs" / "bed.md").read_text(encoding="utf-8")
    commands = re.findall(r"^\$ (trueup [^|\n]*)", text, re.M)
    last = next(i for i, words in enumerate(commands) if "--svg" in words)
    with tempfile.TemporaryDirectory() as folder:
        for sample in ("shop/shop.json", "scenes/bed.json"):
            shutil.copy(tap.ROOT / "fixtures" / sample, folder)
        for words in map(str.split, commands[:last + 1]):
            words[0] = str(pathlib.Path(tap.program()).resolve())
            subprocess.run(words, cwd=folder, check=True, capture_output=True)
        kept = IMAGES / words[words.index("--svg") + 1]
        shutil.copy(pathlib.Path(folder) / kept.name, path)
    return kept


def draw_trials(path):
    """Where the comparison of trials.md is kept, after drawing it to path by the page's command."""
    text = (tap.ROOT / "docs" / "trials.md").read_text(encoding="utf-8")
    words = re.search(r"^\$ (trueup trials [^|\n]*--svg [^|\n]*)", text, re.M).group(1).split()
    place = words.index("--svg") + 1
    kept = IMAGES / words[place]
    words[0], words[place] = str(pathlib.Path(tap.program()).resolve()), str(path)
    subprocess.run(words, cwd=tap.ROOT / "fixtures" / "trials", check=True, capture_output=True)
    return kept


def is_same(drawn, kept):
    if drawn.read_bytes() != kept.read_bytes():
        raise AssertionError(f"{kept.relative_to(tap.ROOT)} is not what is drawn now")


# Each draws anew what a page shows, and returns the picture that is kept.
DRAWN = {
    "the readme shows the drawing that its command writes": draw_readme_picture,
    "the page on rehearsing shows the drawing that its command writes": draw_rehearsal,
    "the page on the bed shows the map that its commands draw": draw_bed_map,
    "the page on trials shows the comparison that its command draws": draw_trials,
}


def is_shown(draw):
    with tempfile.TemporaryDirectory() as folder:
        drawn = pathlib.Path(folder) / "drawn.svg"
        kept = draw(drawn)
        is_same(drawn, kept)


for a_sentence, a_draw in DRAWN.items():
    tap.add(a_sentence, is_shown, a_draw)

if sys.argv[1:] == ["--rebuild"]:
    tap.require_program()
    with tempfile.TemporaryDirectory() as a_folder:
        new = pathlib.Path(a_folder) / "drawn.svg"
        for a_draw in DRAWN.values():
            a_draw(new).write_bytes(new.read_bytes())
    sys.exit(0)


@tap.case
def the_figures_of_the_geometry_are_the_ones_that_the_script_draws():
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([tap.ROOT / "tools" / "figures", folder], check=True)
        drawn = sorted(pathlib.Path(folder).glob("*.svg"))
        tap.equal(len(drawn) >= 9, True, "nine figures or more")
        for path in drawn:
            is_same(path, IMAGES / path.name)


@tap.case
def every_picture_has_a_title_a_description_and_is_shown_on_a_page():
    pages = [tap.ROOT / "README.md", *(tap.ROOT / "docs").glob("*.md")]
    shown = "".join(page.read_text(encoding="utf-8") for page in pages)
    for path in sorted(IMAGES.glob("*.svg")):
        root = ElementTree.parse(path).getroot()
        for name in ("title", "desc"):
            found = root.find("{http://www.w3.org/2000/svg}" + name)
            tap.equal(found is not None and bool(found.text.strip()), True, f"{path.name}: {name}")
        tap.equal(f"img/{path.name})" in shown, True, f"{path.name} on a page")


tap.run()
