# SPDX-License-Identifier: GPL-3.0-or-later
"""From a planned series over the virtual machine to the verdict: the noise, drift, warm-up and delay
that the scene was given come back out of its log; kept in the shop file, the repeatability is what
zero pools with its own touches.

The truth is what the scene states; the tolerances are four standard errors of each estimate.
"""
import json
import math
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "support"))
import tap  # noqa: E402

FIXTURES = tap.ROOT / "fixtures"
WORK = pathlib.Path(tempfile.mkdtemp())
NOISE = 0.004  # mm, standard deviation of a touch
STEP = 0.001  # mm: a quarter of the noise, so that it does not matter


def trueup(*arguments, code=0):
    done = subprocess.run([tap.program(), *map(str, arguments)], capture_output=True, text=True,
                          cwd=WORK, check=False)
    tap.equal(done.returncode, code, f"{arguments}: {done.stdout}{done.stderr}")
    return done.stdout


def log_of(name, contact, *plan):
    """The hits of a planned series of trials in a scene with this contact."""
    scene = json.loads((FIXTURES / "scenes" / "front-left.json").read_text())
    shop = json.loads((FIXTURES / "shop" / "shop.json").read_text())
    scene["machine"]["step"] = shop["machine"]["step"] = STEP
    scene["contact"] = {"noise": NOISE, **contact}
    (WORK / f"{name}.json").write_text(json.dumps(scene))
    (WORK / "shop.json").write_text(json.dumps(shop))
    trueup("plan", "trials", "front-left-top", "--shop", "shop.json", "--plate", "offcut", "--cutter",
           "quarter", "--axis", "z", "--out", f"{name}.ngc", *plan)
    trueup("rehearse", f"{name}.ngc", "--scene", f"{name}.json", "--log", f"{name}.hits.jsonl")
    return f"{name}.hits.jsonl"


def judged(*arguments, code=0):
    return json.loads(trueup("trials", *arguments, "--json", code=code))


def near(found, expected, tolerance, what):
    if not abs(found - expected) <= tolerance:
        raise AssertionError(f"{what}: {found}, expected {expected} +- {tolerance}")


@tap.case
def the_noise_of_the_scene_is_the_repeatability():
    log = log_of("noise", {}, "--touches", 200)
    series = judged(log, "--shop", "shop.json")["series"]
    tap.equal([(s["name"], s["axis"], s["n"]) for s in series], [("trial", "z", 200)])
    near(series[0]["sd"], NOISE, 4 * NOISE / math.sqrt(2 * 199), "s, mm")
    low, high = series[0]["sd_interval"]
    if not low < NOISE < high:
        raise AssertionError(f"the interval of s, {low} to {high}, misses {NOISE}")
    tap.equal(series[0]["outliers"], [], "outliers")
    if series[0]["trend"]["p"] < 0.01:
        raise AssertionError(f"a drift where none is: {series[0]['trend']}")


@tap.case
def the_drift_of_the_scene_is_the_slope():
    log = log_of("drift", {"drift_um_per_min": {"z": 4}}, "--touches", 200)
    trend = judged(log)["series"][0]["trend"]
    tap.equal(trend["per"], "second")
    low, high = (1e3 * 60 * end for end in trend["interval"])
    near(60e3 * trend["slope"], 4, 1, "drift, um/min")
    if not low - 0.2 < 4 < high + 0.2 or not trend["p"] < 1e-6:
        raise AssertionError(f"drift {low} to {high}, p {trend['p']}")


@tap.case
def the_warm_up_of_the_scene_comes_back():
    log = log_of("warm", {"warm_up": {"z_um": 60, "tau_s": 120}}, "--touches", 250)
    warm = judged(log, "--warm-up")["warm_up"]
    near(warm["tau"], 120, 4 * warm["tau_sd"], "tau, s")
    near(warm["tau"], 120, 40, "tau, s, whatever its error")
    if not warm["p"] < 1e-9:
        raise AssertionError(f"p {warm['p']}")
    # the first touch is some seconds after the start, when part of the rise is behind it
    if not 0.045 < warm["rise"] < 0.066:
        raise AssertionError(f"rise {warm['rise']} mm")
    near(warm["residual_sd"], NOISE, 4 * NOISE / math.sqrt(2 * 247), "s beside the warm-up, mm")


@tap.case
def the_delay_of_the_latch_comes_back():
    log = log_of("delay", {"latch_delay_s": 0.012}, "--touches", 120, "--feeds", "20,60,120,180")
    result = judged(log, "--feed", "--series", "trial")
    low, high = result["feed"]["delay_interval"]
    near(result["feed"]["delay"], 0.012, 2 * (high - low), "delay, s")
    if not 0 < high - low < 0.003:
        raise AssertionError(f"the interval of the delay, {low} to {high} s, tells nothing")
    tap.equal(len(result["series"]), 4, "series, one a feed")


@tap.case
def what_is_kept_is_what_zero_pools():
    log = log_of("keep", {}, "--touches", 40)
    found = judged(log, "--shop", "shop.json", "--keep", "--despite")["series"][0]
    kept = json.loads((WORK / "shop.json").read_text())["machine"]["repeatability"]["z"]
    near(float(kept["sd"].removesuffix("mm")), found["sd"], 5e-7, "kept sd, mm")
    tap.equal(kept["dof"], 39)
    touches = [-52.3712, -52.3761, -52.3705]
    text = trueup("zero", "front-left-top", "--shop", "shop.json", "--plate", "offcut", "--cutter",
                  "quarter", *[a for z in touches for a in ("--z", f"{z}")], "--json")
    lines = json.loads(text)["uncertainty"]["z"]["budget"]
    mean = sum(touches) / 3
    own = sum((z - mean) ** 2 for z in touches)  # 2 degrees of freedom
    # GUM 4.2.4 with the figures that the file holds
    pooled = math.sqrt((39 * float(kept["sd"].removesuffix("mm")) ** 2 + own) / 41 / 3)
    near(min(abs(line["standard"] - pooled) for line in lines), 0, 1e-9, f"pooled {pooled} in {lines}")
    tap.equal([line["dof"] for line in lines if abs(line["standard"] - pooled) < 1e-9], [41])


@tap.case
def a_drifting_series_is_not_kept():
    log = log_of("wander", {"drift_um_per_min": {"z": 30}}, "--touches", 60)
    before = (WORK / "shop.json").read_bytes()
    done = subprocess.run([tap.program(), "trials", log, "--shop", "shop.json", "--keep"], cwd=WORK,
                          capture_output=True, text=True, check=False)
    tap.equal(done.returncode, 3, done.stderr)
    if "nothing was kept: the series drifts" not in done.stderr:
        raise AssertionError(done.stderr)
    tap.equal((WORK / "shop.json").read_bytes(), before, "shop file")
    if not done.stdout.startswith("trial, Z-: repeats within"):
        raise AssertionError("the answer is not shown")


try:
    tap.run()
finally:
    for item in WORK.iterdir():
        item.unlink()
    WORK.rmdir()
