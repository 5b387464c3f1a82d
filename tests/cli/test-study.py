#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The commands study and fit on files: printed examples, certified sets, bad input. Usage: test-study.py PROGRAM"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
import tap

PROGRAM = os.path.abspath(sys.argv[1])
DATA = pathlib.Path(__file__).resolve().parent.parent / "data"
TMP = tempfile.TemporaryDirectory(prefix="seamtally-study-")
HOME = pathlib.Path(TMP.name)


def run(*args, status=0):
    env = dict(os.environ, LC_ALL="C.UTF-8", XDG_DATA_HOME=str(HOME / "data"), HOME=str(HOME))
    done = subprocess.run([PROGRAM, *map(str, args)], capture_output=True, text=True, cwd=HOME, env=env)
    assert done.returncode == status, f"{args}: exit {done.returncode}, wanted {status}\n{done.stdout[-500:]}\n{done.stderr[-1500:]}"
    run.stderr = done.stderr
    return done.stdout


def rows(command, path, *args, status=0):
    """Rows of the JSON lines by table."""
    out = {}
    for line in run(command, path, "--jsonl", *args, status=status).splitlines():
        row = json.loads(line)
        out.setdefault(row.pop("table"), []).append(row)
    return out


def written(text, name="file.csv"):
    path = HOME / name
    path.write_text(text)
    return path


def near(value, wanted, within=5e-7):
    assert abs(value - wanted) <= within, (value, wanted)


def certified(value, wanted):
    assert abs(value / wanted - 1) < 1e-10, (value, wanted)


def test_three_elements():
    """Published, attributed to Heizer and Render: 15.36 normal and 18.07 standard; 17.664 on normal time computed."""
    file = DATA / "time_study_elements.csv"
    answer = rows("study", file, "--allowance", 15)
    for element, normal in zip(answer["elements"], (11.4, 2.31, 1.65)):
        near(element["normal"], normal)
        assert element["deviation"] is None and element["low"] is None
    (total,) = answer["totals"]
    near(total["normal"], 15.36)
    near(total["standard"], 18.070588)
    (total,) = rows("study", file, "--allowance", 15, "--basis", "normal")["totals"]
    near(total["standard"], 17.664)
    text = run("study", file, "--allowance", 15)
    assert "18.07" in text and "L1: allowance as a share of the working day" in text and "L12" in text, text


def test_struck_reading():
    """Published: readings 8, 10, 9, 21 (struck), 11 average 9.5; unstruck, 21 is flagged and kept."""
    text = "timed,clock_min,rating_pct,struck\nA,8,120,\nA,10,120,\nA,9,120,\nA,21,120,{}\nA,11,120,\n"
    answer = rows("study", written(text.format("unusual")))
    assert (answer["elements"][0]["readings"], answer["elements"][0]["struck"], answer["elements"][0]["mean"]) == (4, 1, 9.5)
    assert answer["flags"] == [{"line": 5, "element": "A", "method": None, "minutes": 21, "reading": "struck: unusual"}], answer["flags"]
    answer = rows("study", written(text.format("")))
    assert answer["elements"][0]["outliers"] == 1 and answer["elements"][0]["mean"] == 11.8
    assert "it is kept" in answer["flags"][0]["reading"]


def test_allowance_basis():
    """Computed: 18.75 min at 0.96 and 15 %."""
    file = written("element,average_min,rating\nall,18.75,0.96\n")
    near(rows("study", file, "--allowance", 15)["totals"][0]["standard"], 21.176471)
    near(rows("study", file, "--allowance", 15, "--basis", "normal")["totals"][0]["standard"], 20.7)


def test_readings_needed():
    """ILO form published for readings and rounded answers (9; 4 at 10 %), digits computed; t form computed."""
    (e,) = rows("study", written("clock_min\n7\n6\n7\n7\n6\n"))["elements"]
    near(e["need_ilo"], 8.815427)
    near(e["need_t"], 21.235943)
    assert (e["readings_ilo"], e["readings_t"], e["more_ilo"], e["more_t"]) == (9, 22, 4, 17)
    near(e["mean"], 6.6)
    near(e["deviation"], 0.547722558, 5e-10)
    near(e["low"], 5.919913)
    near(e["high"], 7.280087)
    file = written("clock_min\n8\n7\n8\n9\n7\n")
    (e,) = rows("study", file, "--accuracy", 10)["elements"]
    near(e["need_ilo"], 3.681788)
    assert e["readings_ilo"] == 4 and e["more_ilo"] == 0
    (e,) = rows("study", file)["elements"]
    near(e["need_ilo"], 14.727153)
    assert e["readings_ilo"] == 15


def test_two_observations():
    """Two readings: a mean, no deviation, no interval, and words for it."""
    file = written("clock_min\n7\n6\n")
    (e,) = rows("study", file)["elements"]
    assert e["mean"] == 6.5 and all(e[k] is None for k in ("deviation", "low", "high", "need_ilo", "need_t", "more_t"))
    assert "fewer than three readings" in run("study", file)


def test_pairs():
    """Invented: nine differences of mean 6.5; deviation, interval and pairs needed computed with 25 digits."""
    text = "date,size,crew_size,method,clock_min\n"
    for day, d in enumerate((6.0, 7.5, 5.2, 8.1, 6.9, 4.4, 7.7, 6.3, 6.4), 1):
        text += f"2026-01-{day:02},24x12,2,bolts,{10}\n2026-01-{day:02},24x12,2,driven,{(20 - d) / 2:.2f}\n"
    text += "2026-01-01,24x12,3,driven,5\n"
    answer = rows("study", written(text), "--pairs", "bolts,driven", "--half-width", 0.5)
    (d,) = answer["difference"]
    near(d["mean"], 6.5, 1e-9)
    near(d["deviation"], 1.2020815280171308, 1e-9)
    near(d["low"], 5.5759983418466510, 1e-9)
    near(d["high"], 7.4240016581533490, 1e-9)
    assert (d["pairs"], d["unpaired"], d["needed"], d["more"]) == (9, 1, 25, 16), d
    (turned,) = rows("study", written(text), "--pairs", "driven,bolts", "--half-width", 0.5)["difference"]
    near(turned["mean"], -6.5, 1e-9)
    assert turned["needed"] == 25 and len(answer["pairs"]) == 9
    run("study", written(text), "--pairs", "bolts,glue", status=2)
    assert "“glue”; there are bolts, driven" in run.stderr


def test_several_studies():
    """The demo's readings, invented demo: near 6.5 worker-minutes a joint in nine pairs."""
    file = pathlib.Path(__file__).resolve().parent.parent.parent / "data" / "observations.csv"
    run("study", file, status=2)
    assert "holds 3 studies: name one with --study" in run.stderr, run.stderr
    run("study", file, "--study", "none", status=2)
    answer = rows("study", file, "--study", "whole joints: bolts against driven fasteners", "--allowance", 15, "--pairs",
                  "slip-on-bolted,slip-on-driven", "--half-width", 1)
    (d,) = answer["difference"]
    assert d["pairs"] == 9 and d["unpaired"] == 0 and abs(d["mean"] - 6.5) < 0.1, d
    assert len(answer["elements"]) == 2 and [e["struck"] for e in answer["elements"]] == [1, 0]
    run("study", written("clock_min\n5\n"), "--study", "x", status=2)


def test_study_bad_input():
    run("study", written(""), status=1)
    assert "file.csv" in run.stderr
    run("study", written("clock_min\n"), status=1)
    assert "file.csv:1, column 1 (clock_min): the file has no reading; add a line for each reading" in run.stderr, run.stderr
    run("study", written("timed,clock_min\nA,5\nA,five\n"), status=1)
    assert "file.csv:3, column 2 (clock_min)" in run.stderr, run.stderr
    run("study", written("clock_min,rating_pct\n5,0\n"), status=1)
    assert "file.csv:2, column 2 (rating_pct): out of bounds; enter a figure from" in run.stderr, run.stderr
    run("study", written("timed\nA\n"), status=1)
    assert "“clock_min” is missing" in run.stderr
    run("study", HOME / "nowhere.csv", status=3)
    run("study", status=2)
    file = written("clock_min\n7\n6\n7\n")
    run("study", file, "--allowance", 100, status=2)
    assert "--allowance 100 is out of bounds: enter 0 to 90" in run.stderr
    run("study", file, "--basis", "week", status=2)
    run("study", file, "--confidence", "nan", status=2)


SETS = {  # published: NIST StRD linear regression, certified values
    "nist_norris.csv": ((), (-0.262323073774029, 1.00211681802045), (0.232818234301152, 0.429796848199937e-3), 0.884796396144373,
                        0.999993745883712, 4255954.13232369, 26.6173985294224, 5436385.54079785),
    "nist_pontius.csv": (("--powers", 2), (0.673565789473684e-3, 0.732059160401003e-6, -0.316081871345029e-14),
                         (0.107938612033077e-3, 0.157817399981659e-9, 0.486652849992036e-16), 0.205177424076185e-3,
                         0.999999900178537, 15.6040343244198, 0.155761768796992e-5, 185330865.995752),
    "nist_noint1.csv": (("--no-intercept",), (2.07438016528926,), (0.165289256198347e-1,), 3.56753034006338, 0.999365492298663,
                        200457.727272727, 127.272727272727, 15750.25),
    "nist_noint2.csv": (("--no-intercept",), (0.727272727272727,), (0.420827318078432e-1,), 0.369274472937998, 0.993348115299335,
                        40.7272727272727, 0.272727272727273, 298.666666666667),
}


def test_certified_sets():
    for name, (args, estimates, deviations, s, r2, regression, residual, f) in SETS.items():
        answer = rows("fit", DATA / name, *args)
        assert len(answer["coefficients"]) == len(estimates)
        for c, b, se in zip(answer["coefficients"], estimates, deviations):
            certified(c["estimate"], b)
            certified(c["deviation"], se)
        (fit,) = answer["fit"]
        certified(fit["residual_deviation"], s)
        certified(fit["r2"], r2)
        certified(fit["regression_squares"], regression)
        certified(fit["residual_squares"], residual)
        certified(fit["f"], f)


BANDS = ("minutes,ft,lb\n12.1,5,20\n13.4,5,31\n12.9,4,18\n15.2,5,44\n14.1,3,38\n16.8,5,55\n18.3,5,70\n21.9,5,95\n20.4,4,88\n"
         "24.7,5,120\n23.0,3,118\n27.9,5,148\n25.5,4,131\n35.1,5,170\n38.2,5,190\n41.0,4,210\n")


def test_bands():
    """Computed in exact rational arithmetic; the third band has three pieces and is refused in words."""
    answer = rows("fit", written(BANDS), "--bands", "60,150", "--at", "5,40", "--at", "5,100", status=1)
    wanted = (9.992997413545359, 0.03351853625826229, 0.11474279145512022, 7.046739101250302, 0.6227345546973588, 0.12086760402029839)
    for c, b in zip(answer["coefficients"], wanted, strict=True):
        certified(c["estimate"], b)
    assert [f["points"] for f in answer["fit"]] == [6, 7, 3] and "too few points: 3" in answer["fit"][2]["said"]
    first, second = answer["at"]
    near(first["mean"], 14.750301753041478, 1e-9)
    near(first["mean_high"] - first["mean"], 0.9138588281377833, 1e-9)
    near(second["new_high"] - second["mean"], 0.8364828764598255, 1e-9)
    run("fit", written(BANDS), "--bands", "150,60", status=2)
    assert "do not rise" in run.stderr
    run("fit", written("y,x\n1,2\n"), "--bands", "60", status=1)
    assert "“minutes” is missing" in run.stderr


ELEMENTS = ("date,size,crew_size,timed,method,clock_min\n"
            "2026-01-01,a,1,align,A,5\n2026-01-01,a,1,bolt,A,9\n2026-01-01,a,1,align,B,4\n2026-01-01,a,1,bolt,B,5\n"
            "2026-01-02,a,1,align,A,6\n2026-01-02,a,1,bolt,A,9\n2026-01-02,a,1,align,B,4\n2026-01-02,a,1,bolt,B,6\n"
            "2026-01-03,a,1,align,A,5.5\n2026-01-03,a,1,bolt,A,9.5\n2026-01-03,a,1,align,B,4\n2026-01-03,a,1,bolt,B,5\n"
            "2026-01-04,a,1,bolt,B,5\n2026-01-04,a,1,mark,B,2\n")


def test_pairs_of_elements():
    """Computed by hand: 14 - 9, 15 - 10, 15 - 9; align alone 1, 2, 1.5; bolt alone 4, 3, 4.5. Lines in any order give the same."""
    first, *lines = ELEMENTS.splitlines()
    for order in (lines, lines[::-1], sorted(lines)):
        file = written("\n".join([first, *order]) + "\n")
        answer = {row["timed"]: row for row in rows("study", file, "--pairs", "A,B")["difference"]}
        assert list(answer) == ["align + bolt", "align", "bolt"], list(answer)
        for timed, mean, unpaired in (("align + bolt", 16 / 3, 1), ("align", 1.5, 0), ("bolt", 11.5 / 3, 1)):
            near(answer[timed]["mean"], mean, 1e-9)
            assert answer[timed]["pairs"] == 3 and answer[timed]["unpaired"] == unpaired
        text = run("study", file, "--pairs", "A,B")
        assert text.startswith("B: saves 5.3 worker-minutes a piece") and "3 pairs of align + bolt" in text.splitlines()[0], text
        assert "“mark” was timed of B alone" in text
    run("study", written(ELEMENTS), "--pairs", "A,A", status=2)
    assert "two different methods" in run.stderr
    run("study", written(ELEMENTS), "--demo", status=2)
    assert "--demo" in run.stderr


def test_fit_ignores_nothing():
    for option in (["--demo"], ["--set", "rate.field=1"], ["--method", "slip-on-driven"], ["--rules", "demo"], ["--powers", 0],
                   ["--powers", -2], ["--bands", "60", "--powers", 2], ["--bands", "60", "--no-intercept"]):
        run("fit", written(BANDS), *option, status=2)
        assert option[-2 if option[0] == "--bands" and len(option) > 3 else -1 if option[0] == "--bands" else 0] in run.stderr, run.stderr
    run("fit", written(BANDS), "--bands", "60,150", "--at", "5,170", status=1)
    assert "--at 5,170: the band “over 150 lb” has no fit" in run.stderr, run.stderr
    run("fit", written("y,x\n1,2\n1e308,3\n4,5\n4,4\n"), status=1)
    assert "file.csv:3, column 1 (y): out of bounds" in run.stderr, run.stderr


def test_fit_bad_input():
    run("fit", written("y,x\n1,2\n3,x\n"), status=1)
    assert "file.csv:3, column 2 (x): not a number; write a plain number" in run.stderr, run.stderr
    run("fit", written("y,x\n1,2\n3,4\n"), status=1)
    assert "too few points: 2, and a fit of 2 coefficients needs 4" in run.stderr, run.stderr
    run("fit", written("y,x\n1,2\n3,2\n4,2\n5,2\n"), status=1)
    assert "“x” has no spread" in run.stderr, run.stderr
    run("fit", written("y,x\n"), status=1)
    assert "no point" in run.stderr
    run("fit", written(""), status=1)
    run("fit", written("y,x\n1,nan\n"), status=1)
    run("fit", HOME / "nowhere.csv", status=3)
    run("fit", written("y,x\n1,2\n2,3\n4,5\n4,4\n"), "--powers", 11, status=2)
    run("fit", written("y,x\n1,2\n2,3\n4,5\n4,4\n"), "--at", "a", status=2)
    run("fit", written("y,a,b\n1,2,3\n2,3,3\n4,5,1\n4,4,4\n5,6,7\n"), "--powers", 2, status=2)


sys.exit(tap.run([(name, f) for name, f in list(globals().items()) if name.startswith("test_")]))
