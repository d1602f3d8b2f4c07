# SPDX-License-Identifier: GPL-3.0-or-later
"""`trueup bed` as its user meets it: the figures against NumPy on the same file, the map, limits, jobs,
comparisons, refusals; and the way from a planned grid over the virtual machine to the verdict.

The beds are made here by closed forms; numpy.linalg (Debian's python3-numpy) is the outside check.
"""
import json
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

numpy = tap.need("numpy", "python3-numpy")
WORK = pathlib.Path(tempfile.mkdtemp())
SVG = "{http://www.w3.org/2000/svg}"


def bed(*arguments, stdin=None):
    return subprocess.run([tap.program(), "bed", *map(str, arguments)], capture_output=True, text=True,
                          cwd=WORK, input=stdin, check=False)


def answer(*arguments, code=0):
    done = bed(*arguments, "--json")
    tap.equal(done.returncode, code, done.stderr)
    return json.loads(done.stdout)


def write(name, points, head="x,y,z", form="%.4f"):
    numpy.savetxt(WORK / name, points, delimiter=",", header=head, comments="", fmt=form)
    return name


def grid(nx, ny, height, noise=0.0, seed=1):
    """Points row by row over 600 mm x 400 mm from (50, 40); height of x and y, and normal noise."""
    x, y = numpy.meshgrid(50 + 600 * numpy.arange(nx) / (nx - 1), 40 + 400 * numpy.arange(ny) / (ny - 1))
    z = height(x, y) + noise * numpy.random.default_rng(seed).standard_normal(x.shape)
    return numpy.column_stack([x.ravel(), y.ravel(), z.ravel()])


def warped(x, y):
    u, v = (x - 350) / 300, (y - 240) / 200
    return -62.3 + 0.0007 * (x - 350) + 0.0004 * (y - 240) + 0.12 * u * u - 0.1 * v * v + 0.06 * u * v


def total_least_squares(points):
    centre = points.mean(axis=0)
    normal = numpy.linalg.svd(points - centre)[2][2]
    return centre, normal * math.copysign(1, normal[2])


POINTS = numpy.round(grid(11, 8, warped, 0.004), 4)
BED = write("bed.csv", POINTS)


@tap.case
def the_least_squares_plane_and_its_deviations_are_those_of_numpy():
    found = answer(BED)
    centre, normal = total_least_squares(POINTS)
    off = (POINTS - centre) @ normal
    plane, flatness = found["plane"], found["flatness"]["least_squares"]
    tap.near(plane["slope_x"], -1000 * normal[0] / normal[2], 1e-8, "slope_x")
    tap.near(plane["slope_y"], -1000 * normal[1] / normal[2], 1e-8, "slope_y")
    tap.near(flatness["FLTp"], off.max(), 1e-9, "FLTp")
    tap.near(flatness["FLTv"], -off.min(), 1e-9, "FLTv")
    tap.near(flatness["FLTt"], off.max() - off.min(), 1e-9, "FLTt")
    tap.near(flatness["FLTq"], math.sqrt((off**2).mean()), 1e-9, "FLTq")
    tap.near(found["range_z"], numpy.ptp(POINTS[:, 2]), 1e-12, "range_z")
    tap.equal(found["points"], len(POINTS))


@tap.case
def the_contact_places_of_the_minimum_zone_prove_it():
    zone = answer(BED)["flatness"]["minimum_zone"]
    normal = numpy.array(zone["normal"])
    tap.near(numpy.linalg.norm(normal), 1, 1e-12, "unit normal")
    off = POINTS @ normal
    place = lambda p: numpy.array([p["x"], p["y"], p["z"]]) @ normal  # noqa: E731
    tap.near(off.max() - off.min(), zone["FLTt"], 1e-9, "every point lies in the zone")
    for point in zone["high"]:
        tap.near(place(point), off.max(), 1e-9, "high contact")
    for point in zone["low"]:
        tap.near(place(point), off.min(), 1e-9, "low contact")
    tap.equal(len(zone["high"]) + len(zone["low"]), 4)
    counts = sorted([len(zone["high"]), len(zone["low"])], reverse=True)
    tap.equal(zone["criterion"], f"{counts[0]}-{counts[1]}")


@tap.case
def the_shape_terms_of_a_saddle_come_out_as_they_went_in():
    # over the extent: twist 4 * 0.06 (two corners up, two down), bow along X of 0.12 u^2: -0.12 at the middle
    name = write("saddle.csv", grid(13, 9, warped), form="%.9f")
    shape = answer(name)["shape"]
    tap.near(shape["twist"], 0.24, 1e-6, "twist")
    tap.near(shape["bow_x"], -0.12, 1e-6, "bow_x")
    tap.near(shape["bow_y"], 0.1, 1e-6, "bow_y")


@tap.case
def shims_at_three_supports_take_the_tilt_out():
    supports = [(60, 50), (640, 60), (340, 430)]
    found = answer(BED, *[word for x, y in supports for word in ("--support", f"{x},{y}")])
    add = [item["add"] for item in found["levelling"]]
    tap.equal(min(add), 0)
    plane = numpy.linalg.solve(numpy.column_stack([numpy.array(supports, float), numpy.ones(3)]), add)
    raised = POINTS.copy()
    raised[:, 2] += POINTS[:, 0] * plane[0] + POINTS[:, 1] * plane[1] + plane[2]
    after = answer(write("raised.csv", raised, form="%.9f"))
    for slope in ("slope_x", "slope_y"):
        tap.near(after["plane"][slope], 0, 0.001, slope)  # mm/m; raising is vertical, the fit is normal
    tap.near(after["flatness"]["minimum_zone"]["FLTt"], found["flatness"]["minimum_zone"]["FLTt"], 1e-5,
             "warp stays")


@tap.case
def the_limit_counts_the_tilt_and_its_exit_code_is_one():
    tap.equal(bed(BED, "--within", "5").returncode, 0)
    over = bed(BED, "--within", "0.35")
    tap.equal(over.returncode, 1)
    assert "Over the limit of 0.350 mm; without the tilt it would be within." in " ".join(over.stdout.split())


@tap.case
def a_through_cut_bites_and_leaves_a_skin_as_a_pencil_says():
    # a plane that rises by 1 mm in 600 along X: zeroed at X 350, so the ends are half a millimetre off
    name = write("slope.csv", grid(7, 5, lambda x, y: -60 + (x - 350) / 600 + 0 * y), form="%.9f")
    cut = answer(name, "--overcut", "0.2", "--zeroed-at", "350,240")["through_cut"]
    tap.near(cut["worst_bite"], 0.7, 1e-9, "bite at the right")
    tap.near(cut["worst_skin"], 0.3, 1e-9, "skin at the left")
    tap.near(cut["overcut_needed"], 0.5, 1e-9, "needed")
    tap.near(cut["skin_area"], 400 * 600 * 0.3, 1e-3, "from X 50 to 230")
    tap.near(cut["bite_at"]["x"], 650, 1e-9)
    tap.near(cut["skin_at"]["x"], 50, 1e-9)


@tap.case
def surfacing_goes_below_the_lowest_place_and_tells_what_each_pass_leaves():
    name = write("slope.csv", grid(7, 5, lambda x, y: -60 + (x - 350) / 600 + 0 * y), form="%.9f")
    cut = answer(name, "--depth-of-cut", "0.4", "--allowance", "0.1")["surfacing"]
    tap.equal(cut["passes"], 3)
    tap.near(cut["depth"], 1.1, 1e-9, "depth")
    tap.near(cut["volume"], 600 * 400 * 0.6, 1e-3, "a wedge of 1 mm and 0.1 mm below it")
    uncut = [item["uncut_area"] for item in cut["each"]]
    tap.equal(uncut[-1], 0)
    assert uncut[0] > uncut[1] > 0, uncut
    timed = answer(name, "--surfacer", "25", "--step-over", "15", "--feed", "2000")["surfacing"]
    assert timed["time"] > 400 / 15 * 600 / 2000 * 60 * 0.8, timed["time"]


@tap.case
def a_job_is_judged_by_itself_and_one_beside_the_map_is_refused():
    whole, part = answer(BED), answer(BED, "--job", "200,140,200,150")
    assert part["range_z"] < whole["range_z"]
    tap.equal(part["points"], whole["points"])
    beside = bed(BED, "--job", "900,40,100,100")
    tap.equal(beside.returncode, 5)
    assert "--job" in beside.stderr and "650.000" in beside.stderr, beside.stderr


@tap.case
def a_job_that_was_not_touched_all_over_is_never_within_a_limit():
    half = ["--job", "500,140,400,150"]  # X 650 to 900 was never touched
    done = bed(BED, *half)
    tap.equal(done.returncode, 0)
    assert "62 % of the job was not touched" in done.stderr, done.stderr  # 250 of 400
    done = bed(BED, *half, "--within", "5")
    tap.equal(done.returncode, 5)
    assert "--within: 62 % of the job was not touched" in done.stderr, done.stderr
    assert "highest to lowest" in done.stdout
    tap.equal(bed(BED, *half, "--within", "0.001").returncode, 1, "what is known exceeds it already")
    tap.equal(bed(BED, "--job", "200,140,200,150", "--within", "5").returncode, 0)
    sliver = bed(BED, "--job", "640,435,5000,5000")
    assert "99 % of the job was not touched" in sliver.stderr, sliver.stderr


@tap.case
def supports_far_beside_the_bed_are_told_and_those_on_one_line_refused():
    three = ["--support", "0,0", "--support", "700,0"]
    done = bed(BED, *three, "--support", "350,9000")
    tap.equal(done.returncode, 0)
    assert "the support at X 350.000 Y 9000.000 lies far beside what was touched" in done.stderr, done.stderr
    assert "support at" not in bed(BED, *three, "--support", "350,480").stderr
    done = bed(BED, *three, "--support", "350,0")
    tap.equal(done.returncode, 5)
    assert "--support: levelling takes at least 3 supports that are not on one line" in done.stderr, done.stderr
    done = bed(BED, *three, "--support", "700,0.01")
    tap.equal(done.returncode, 2)
    assert "--support: 700,0.01 stands there twice" in done.stderr, done.stderr


@tap.case
def an_overcut_above_the_underside_leaves_a_skin_everywhere():
    found = answer(BED, "--overcut=-5")["through_cut"]
    tap.equal((found["worst_bite"], found["overcut"]), (0, -5))
    tap.near(found["worst_skin"] + found["overcut"], found["overcut_needed"], 1e-9, "what is left is what it lacks")
    tap.near(found["skin_area"], 600 * 400, 1e-6, "area that keeps a skin, mm2")


@tap.case
def two_maps_are_compared_place_by_place():
    lower = POINTS.copy()
    lower[:, 2] = numpy.round(lower[:, 2] - 0.3, 4)
    lower[17, 2] -= 0.05
    change = answer(write("after.csv", lower), "--against", BED)["comparison"]
    tap.equal(change["points"], len(POINTS))
    tap.equal(change["matched"], len(POINTS))
    tap.near(change["mean"], -0.3 - 0.05 / len(POINTS), 1e-9, "mean")
    tap.near(change["fall"]["z"], -0.35, 1e-9, "fall")
    tap.near(change["fall"]["x"], POINTS[17, 0], 1e-9, "where")
    tap.near(change["range_before"], numpy.ptp(POINTS[:, 2]), 1e-9, "range before")


@tap.case
def maps_that_overlap_in_part_are_compared_where_both_are():
    rows = [(x, y, 0.001 * x) for x in range(0, 601, 100) for y in range(0, 401, 100)]
    shifted = [(x + 300, y, 0.001 * (x + 300) + 0.05) for x, y, _ in rows]
    write("left.csv", numpy.array(rows))
    change = answer(write("right.csv", numpy.array(shifted)), "--against", "left.csv")["comparison"]
    tap.equal((change["points"], change["matched"]), (4 * 5, 4 * 5))
    for name in ("range_before", "range_now"):
        tap.near(change[name], 0.3, 1e-9, name)  # X 300 to 600 in both
    whole = bed("right.csv", "--against", "left.csv").stdout.replace("\n", " ")
    assert "highest to lowest was 0.300 mm there, and is 0.300 mm now" in whole, whole
    # no place in common, but the same bed: between the lines of the earlier map
    between = [(x + 37, y + 21, 0.001 * (x + 37) - 0.2) for x, y, _ in rows if x < 600 and y < 400]
    change = answer(write("between.csv", numpy.array(between)), "--against", "left.csv")["comparison"]
    tap.equal((change["points"], change["matched"]), (len(between), 0))
    tap.near(change["mean"], -0.2, 1e-9, "mean of a plane's differences")


@tap.case
def a_chip_is_a_suspect_and_a_clean_bed_has_none():
    chipped = POINTS.copy()
    chipped[38, 2] -= 0.2
    found = answer(write("chip.csv", chipped))["suspects"]
    tap.equal(len(found), 1, found)
    tap.near(found[0]["x"], chipped[38, 0], 1e-9)
    tap.near(found[0]["residual"], -0.2, 0.05, "as deep as it is")
    tap.equal(answer(BED)["suspects"], [])


@tap.case
def repeats_tell_the_noise_and_how_much_of_the_warp_it_is():
    again = numpy.concatenate([grid(6, 5, warped, 0.01, seed) for seed in range(3)])
    found = answer(write("thrice.csv", again))
    tap.equal(found["points"], 30)
    tap.equal(found["touches"], 90)
    noise = found["noise"]
    tap.equal(noise["dof"], 60)
    tap.near(noise["repeatability"], 0.01, 0.003, "sd, within 3 sigma of 60 degrees of freedom")
    low, high = noise["true_interval"]
    assert low <= noise["best"] <= high
    truth = answer(write("true.csv", grid(6, 5, warped), form="%.9f"))["flatness"]["minimum_zone"]["FLTt"]
    assert low <= truth <= high, (low, truth, high)


@tap.case
def a_warp_that_noise_alone_would_do_is_said_to_be_that():
    flat = numpy.concatenate([grid(6, 5, lambda x, y: 0.001 * x, 0.01, seed) for seed in range(3)])
    name = write("flat.csv", flat)
    low, high = answer(name)["noise"]["true_interval"]
    tap.equal(low, 0)
    said = " ".join(bed(name).stdout.split())
    tap.equal(f"it is truly {high:.3f} mm at most, perhaps none (95 %)" in said, True, said)


# --- The map ---


def draw(name, *arguments):
    done = bed(name, "--svg", "map.svg", *arguments)
    tap.equal(done.returncode, 0, done.stderr)
    return ElementTree.parse(WORK / "map.svg").getroot()


def group(root, name):
    return next(item for item in root.iter(SVG + "g") if item.get("id") == name)


@tap.case
def the_map_has_the_front_at_the_bottom_and_each_place_tells_its_height():
    dots = group(draw(BED), "touches").findall(SVG + "circle")
    tap.equal(len(dots), len(POINTS))
    scale = []
    for dot, (x, y, z) in zip(dots, POINTS):
        title = dot.find(SVG + "title").text
        tap.equal(title, f"X {x:.3f} Y {y:.3f} Z {z:.3f} mm")
        scale.append((float(dot.get("cx")), float(dot.get("cy")), x, y))
    first, last = scale[0], scale[-1]
    per_x = (last[0] - first[0]) / (last[2] - first[2])
    per_y = (first[1] - last[1]) / (last[3] - first[3])
    assert per_x > 0 and per_y > 0, "right is right, back is up"
    tap.near(per_x, per_y, 1e-5, "one scale both ways")


@tap.case
def every_contour_runs_through_its_own_height():
    # a plane of 1 mm in 600 along X: the line of height -60.3 stands at X 170, and so on
    name = write("slope.csv", grid(7, 5, lambda x, y: -60 + (x - 350) / 600 + 0 * y), form="%.9f")
    root = draw(name)
    dots = group(root, "touches").findall(SVG + "circle")
    left, right = float(dots[0].get("cx")), float(dots[6].get("cx"))
    lines = group(root, "contours").findall(SVG + "polyline")
    tap.equal(len(lines), 9)  # -60.4 to -59.6 every 0.1 mm
    for number, line in enumerate(lines):
        expected = left + (right - left) * ((-0.4 + 0.1 * number) * 600 + 300) / 600
        for point in line.get("points").split():
            tap.near(float(point.split(",")[0]), expected, 0.002, f"line {number}")
    labels = {item.text for item in group(root, "contour-labels").iter(SVG + "text")}
    assert "-60.0" in labels and "-59.7" in labels, labels


@tap.case
def tints_get_lighter_step_by_step_so_that_grey_shows_the_order():
    style = draw(BED).find(SVG + "style").text
    tints = re.findall(r"\.b(\d+)\{fill:#(..)(..)(..)", style)
    grey = [0.2126 * int(r, 16) + 0.7152 * int(g, 16) + 0.0722 * int(b, 16) for _, r, g, b in tints]
    assert len(grey) >= 4
    assert all(b - a > 3 for a, b in zip(grey, grey[1:])), grey


@tap.case
def the_map_without_tilt_shows_heights_above_the_plane():
    titles = [item.text for item in group(draw(BED, "--without-tilt"), "touches").iter(SVG + "title")]
    centre, normal = total_least_squares(POINTS)
    for title, point in zip(titles, POINTS):
        above = point[2] - (centre[2] - normal[:2] @ (point[:2] - centre[:2]) / normal[2])
        found = re.search(r"([\d.]+) mm (above|below) the plane", title)
        tap.near(float(found[1]) * (1 if found[2] == "above" else -1), above, 0.0006, title)


@tap.case
def a_large_map_is_a_small_file():
    side = int(os.environ.get("BED_SIDE", "300"))
    name = write("large.csv", grid(side, side, warped, 0.05), form="%.3f")
    draw(name)
    size = (WORK / "map.svg").stat().st_size
    assert size < 2_000_000, size
    (WORK / name).unlink()


@tap.case
def level_ground_and_scattered_places_are_drawn_too():
    draw(write("level.csv", grid(4, 3, lambda x, y: -60 + 0 * x)))
    random = numpy.random.default_rng(3)
    x, y = random.uniform(0, 500, 60), random.uniform(0, 300, 60)
    root = draw(write("scattered.csv", numpy.column_stack([x, y, warped(x, y)])))
    assert len(group(root, "contours").findall(SVG + "polyline")) > 3


@tap.case
def a_terminal_gets_a_small_map_with_the_front_at_the_bottom_and_a_pipe_none():
    name = write("slope.csv", grid(7, 5, lambda x, y: -60 + (y - 240) / 400 + ((y - 240) / 1500) ** 2 + 0 * x), form="%.9f")
    assert "back of the machine" not in bed(name).stdout
    leader, follower = os.openpty()
    with subprocess.Popen([tap.program(), "bed", name], cwd=WORK, stdout=follower, stderr=subprocess.DEVNULL):
        os.close(follower)
        text = b""
        try:
            while part := os.read(leader, 65536):
                text += part
        except OSError:  # how Linux tells that the other side is closed
            pass
    os.close(leader)
    lines = text.decode().replace("\r", "").split("\n")
    start = lines.index("  back of the machine")
    rows = [line.strip() for line in lines[start + 1:start + 30] if re.fullmatch(r"  \d+", line)]
    # a plane that rises to the back: each row one figure, 9 at the back, 0 at the front, never rising on the way
    assert len(rows) > 5 and all(len(set(row)) == 1 and len(row) == len(rows[0]) for row in rows), rows
    tap.equal((rows[0][0], rows[-1][0]), ("9", "0"))
    tap.equal(rows, sorted(rows, reverse=True))


# --- Refusals ---


def refused(text, code, *words, arguments=()):
    (WORK / "bad.csv").write_text(text)
    done = bed("bad.csv", *arguments)
    tap.equal(done.returncode, code, done.stderr)
    tap.equal(done.stdout, "")
    for word in words:
        assert word in done.stderr, (word, done.stderr)


@tap.case
def what_is_no_bed_is_refused_with_the_reason():
    refused("x,y,z\n0,0,0\n100,0,0\n", 5, "3")
    refused("x,y,z\n0,0,0\n100,100,0\n200,200,0.1\n", 5, "line")
    refused("x,y,z\n0,0,0\n100,0,0\n0,100,0\n0,0,0.5\n", 3, "0.5")
    refused("x,y,z\n0,0,nan\n100,0,0\n0,100,0\n", 3, "bad.csv:2")
    refused("x,y\n0,0\n100,0\n0,100\n", 3, "z")
    refused("x,y,z\n0,0,0\n100,0,0\n0,100,0\n", 3, "--series", arguments=["--series", "none"])


@tap.case
def a_map_in_inches_read_as_millimetres_is_named_as_likely():
    inches = POINTS.copy()
    inches /= 25.4
    done = bed(write("inches.csv", inches))
    tap.equal(done.returncode, 0, done.stderr)
    assert "inch" in done.stderr, done.stderr
    right = answer("inches.csv", "--unit", "in")
    tap.near(right["range_z"], numpy.ptp(POINTS[:, 2]), 0.004, "read as inches")


# --- From the virtual machine ---


@tap.case
def a_planned_grid_over_the_virtual_bed_gives_its_figures_back():
    fixtures = tap.ROOT / "fixtures"
    scene = json.loads((fixtures / "scenes" / "bed.json").read_text())
    run = lambda *words: subprocess.run([tap.program(), *map(str, words)], cwd=WORK, check=False,  # noqa: E731
                                        capture_output=True, text=True)
    planned = run("plan", "grid", "--shop", fixtures / "shop" / "shop.json", "--cutter", "pin", "--area",
                  "50,50,1150,750", "--columns", 12, "--rows", 8, "--keep-out", "240,300,300,380", "--keep-out",
                  "820,420,880,500", "--out", "grid.ngc")
    tap.equal(planned.returncode, 0, planned.stderr)
    done = run("rehearse", "grid.ngc", "--scene", fixtures / "scenes" / "bed.json", "--log", "grid.hits.jsonl")
    tap.equal(done.returncode, 0, done.stdout)
    found = answer("grid.hits.jsonl")
    heights = numpy.array(scene["bed"]["map"]["rows"])

    def true_height(x, y):
        u, v = x / 200, y / 200
        i, j = min(int(u), 5), min(int(v), 3)
        u, v = u - i, v - j
        a = heights[j:j + 2, i:i + 2]
        return -80 + (a[0, 0] * (1 - u) + a[0, 1] * u) * (1 - v) + (a[1, 0] * (1 - u) + a[1, 1] * u) * v

    hits = [json.loads(line) for line in (WORK / "grid.hits.jsonl").read_text().splitlines()[1:]]
    true = numpy.array([[h["x"], h["y"], true_height(h["x"], h["y"])] for h in hits if h.get("ok")])
    centre, normal = total_least_squares(true)
    # noise 0.003 mm and a step of 0.0125 mm on heights of some 0.8 mm
    tap.near(found["plane"]["slope_x"], -1000 * normal[0] / normal[2], 0.01, "slope_x, mm/m")
    tap.near(found["plane"]["slope_y"], -1000 * normal[1] / normal[2], 0.01, "slope_y, mm/m")
    tap.near(found["range_z"], numpy.ptp(true[:, 2]), 0.02, "range")
    off = (true - centre) @ normal
    tap.near(found["flatness"]["least_squares"]["FLTt"], numpy.ptp(off), 0.02, "FLTt")
    assert found["noise"]["repeatability"] < 0.01, found["noise"]
    tap.equal(found["suspects"], [])


try:
    tap.run()
finally:
    for item in WORK.iterdir():
        item.unlink()
    WORK.rmdir()
