# SPDX-License-Identifier: GPL-3.0-or-later
"""Links between the pages of the repository lead somewhere."""
import pathlib
import re
import sys

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

LINK = re.compile(r"\]\(([^)#\s]+)[^)]*\)")
OUTSIDE = re.compile(r"^[a-z]+:")
PARTS = ("*.md", "docs/**/*.md", "src/**/*.md", "tests/**/*.md", "tools/*.md", "fixtures/*.md")


def pages():
    return sorted(page for part in PARTS for page in tap.ROOT.glob(part))


@tap.case
def every_link_leads_to_a_file():
    dead = [f"{page.relative_to(tap.ROOT)}: {link}"
            for page in pages() for link in LINK.findall(page.read_text(encoding="utf-8"))
            if not OUTSIDE.match(link) and not (page.parent / link).exists()]
    tap.equal(dead, [])


@tap.case
def every_page_of_the_manual_is_in_its_index():
    index = (tap.ROOT / "docs" / "README.md").read_text(encoding="utf-8")
    missing = [page.name for page in (tap.ROOT / "docs").glob("*.md")
               if page.name != "README.md" and f"({page.name})" not in index]
    tap.equal(missing, [])


@tap.case
def every_folder_of_the_tree_says_what_it_is_for():
    folders = {path.parent for path in tap.ROOT.glob("src/*/*")} | {
        tap.ROOT / name for name in ("docs", "fixtures", "src", "tests", "tools")}
    missing = sorted(str(f.relative_to(tap.ROOT)) for f in folders if not (f / "README.md").exists())
    tap.equal(missing, [])


@tap.case
def every_room_of_a_folder_is_in_its_readme():
    rooms = {path.parent for path in tap.ROOT.glob("src/*/*/*.[ch]")}
    tap.equal(len(rooms) > 5, True, "rooms found")
    missing = sorted(str(room.relative_to(tap.ROOT)) for room in rooms if not (
        (room / "README.md").exists()
        or f"| {room.name}/ |" in (room.parent / "README.md").read_text(encoding="utf-8")))
    tap.equal(missing, [])


@tap.case
def scripts_that_the_pages_name_exist_and_can_be_run():
    words = {word for page in pages()
             for word in re.findall(r"`?tools/([a-z-]+)", page.read_text(encoding="utf-8"))}
    for word in sorted(words):
        path = tap.ROOT / "tools" / word
        tap.equal(path.exists() and bool(path.stat().st_mode & 0o111), True, f"tools/{word}")


tap.run()
