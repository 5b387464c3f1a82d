#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The mix of methods as a command: published and computed problems through files, the demo job, limits that cannot be kept, bad input.
Usage: test-mix.py PROGRAM"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent))
import tap

PROGRAM = os.path.abspath(sys.argv[1])
DATA = HERE.parent / "data"
TMP = tempfile.TemporaryDirectory(prefix="seamtally-mix-")
HOME = pathlib.Path(TMP.name)


def run(*args, status=0):
    env = dict(os.environ, LC_ALL="C.UTF-8", XDG_DATA_HOME=str(HOME / "data"), HOME=str(HOME))
    done = subprocess.run([PROGRAM, "mix", *map(str, args)], capture_output=True, text=True, cwd=HOME, env=env)
    assert done.returncode == status, f"{args}: exit {done.returncode}, wanted {status}\n{done.stderr[-1500:]}"
    run.stderr = done.stderr
    return done.stdout


def answer(*args):
    rows = [json.loads(line) for line in run(*args, "--jsonl").splitlines()]
    plans = [r for r in rows if r["table"] == "mix"]
    figures = {r["figure"]: r["value"] for r in rows if r["table"] == "mix_figures"}
    groups = [r for r in rows if r["table"] == "mix_groups"]
    return plans, {k: float(str(v).replace(",", "")) for k, v in figures.items()}, groups


TWELVE = ["--problem", DATA / "mix_12x4.csv", "--setup", "A=0,B=450,C=800,D=300"]


def test_twelve_groups():
    # Methods for Seamtally 10a: computed by complete enumeration and again by GLPK
    for hours, most, cost, at, methods in ((105, 2, 11789.00, 104.8, "AAAAABBBBBBB"), (105, 1, 12748.00, 102.8, "B" * 12),
                                           (105, 3, 11747.40, 104.6, "AAAAABBDDDDD"), (104, 2, 11938.60, 103.4, "AAAABBBBBBBB"),
                                           (106, 2, 11710.10, 106.0, "AAAAAABBBBBB"), (107, 2, 11165.70, 107.0, "AAAAAAADDDDD")):
        plans, figures, _ = answer(*TWELVE, "--hours", hours, "--methods", most)
        assert plans[0]["cost"] == cost and plans[0]["hours"] == at, plans[0]
        assert plans[0]["assignment"].replace(" ", "") == methods, plans[0]
        assert figures["gap"] == 0 and figures["bound"] == cost, figures
    plans, figures, groups = answer(*TWELVE, "--hours", 105, "--methods", 2, "--best", 5)
    assert [p["cost"] for p in plans] == [11789.00, 11859.70, 11885.80, 11916.00, 11928.60], plans
    assert figures["hour_saves"] == 78.90 and figures["least_hours"] == 87.6, figures
    assert abs(figures["hour_relaxed"] + 77.1628) < 1e-4 and abs(figures["relaxed"] - 11316.92791) < 1e-4, figures
    assert figures["one"] == 12748.00 and figures["one_free"] == 11210.10 and figures["free"] == 11165.70, figures
    assert len(groups) == 12


def test_setup_as_a_row():
    # the same with the set-up in the table
    table = (DATA / "mix_12x4.csv").read_text() + "setup,,,0,450,800,300,,,,\n"
    (HOME / "mix.csv").write_text(table)
    plans, _, _ = answer("--problem", HOME / "mix.csv", "--hours", 105, "--methods", 2)
    assert plans[0]["cost"] == 11789.00, plans


def test_places_and_assignment():
    # CSPLib problem 034; OR-Library gap1, c515-2: maximum 327 (published), minimum 269 (computed)
    plans, _, _ = answer("--problem", DATA / "warehouse_location_034.csv", "--fixed", 30)
    assert plans[0]["cost"] == 383 and plans[0]["assignment"] == "w5 w2 w5 w1 w5 w2 w2 w3 w2 w3", plans
    assert answer("--assignment", DATA / "gap_c515_2.txt", "--maximise")[0][0]["cost"] == 327
    assert answer("--assignment", DATA / "gap_c515_2.txt")[0][0]["cost"] == 269


def test_joints_between_groups():
    # two groups of which each would take another method, unless the joint between them costs more: 10 + 10, or 10 + 13
    (HOME / "two.csv").write_text("group,cost_A,cost_B,next,joints\none,10,13,two,1\ntwo,13,10,,\n")
    plans, _, _ = answer("--problem", HOME / "two.csv")
    assert plans[0]["cost"] == 20 and plans[0]["unmated"] == 1, plans
    # computed: at 5 the joint is dearer than the 3 that one method costs more; at 2.5 it is not
    for joint, cost, unmated in ((5, 23, 0), (2.5, 22.5, 1)):
        plans, _, _ = answer("--problem", HOME / "two.csv", "--boundary-cost", joint)
        assert plans[0]["cost"] == cost and plans[0]["unmated"] == unmated, plans
    (HOME / "hours.csv").write_text("group,cost_A,hours_A,cost_B,hours_B,next,joints\none,10,1,13,1,two,1\ntwo,13,1,10,1,,\n")
    plans, _, _ = answer("--problem", HOME / "hours.csv", "--boundary-hours", "0.5", "--hours", "2.4")
    assert plans[0]["cost"] == 23 and plans[0]["hours"] == 2, plans
    plans, _, _ = answer("--problem", HOME / "hours.csv", "--boundary-hours", "0.5", "--hours", "2.5")
    assert plans[0]["cost"] == 20 and plans[0]["hours"] == 2.5, plans


def test_demo():
    plans, figures, groups = answer("--demo")
    # invented demo: never dearer than the best single method, nor than the job as it stands
    assert plans[0]["cost"] <= figures["one"] and plans[0]["cost"] <= figures["now"], (plans, figures)
    assert figures["gap"] == 0 and sum(g["hours"] for g in groups) < plans[0]["hours"]
    # what the groups lack to the whole is named: joints between unlike connections, counted lines
    parts = {r["part"]: r for r in map(json.loads, run("--demo", "--jsonl").splitlines()) if r["table"] == "mix_parts"}
    whole = parts.pop("whole")
    assert set(parts) == {"groups", "joints", "rest"} and "11 counted lines" in parts["rest"]["words"], parts
    assert whole["cost"] == plans[0]["cost"] and abs(sum(p["cost"] for p in parts.values()) - whole["cost"]) < 1e-6, parts
    assert abs(sum(g["cost"] for g in groups) - parts["groups"]["cost"]) < 1e-6, parts
    assert abs(sum(p["hours"] for p in parts.values()) - plans[0]["hours"]) < 1e-6, parts
    assert "own factor x 1.1 (Plant)" in run("--demo"), "conditions in force"
    tight, more, _ = answer("--demo", "--hours", 800)
    assert tight[0]["hours"] <= 800 and tight[0]["cost"] >= plans[0]["cost"] and more["free"] == plans[0]["cost"]
    after, _, _ = answer("--demo", "--hours", 801)
    assert abs(tight[0]["cost"] - after[0]["cost"] - more["hour_saves"]) < 0.011, (tight, after, more)


def test_limits_that_cannot_be_kept():
    run(*TWELVE, "--hours", "87.5", "--methods", 2, status=1)
    assert "the least is 87.6" in run.stderr, run.stderr
    run("--demo", "--hours", 100, status=1)
    assert "the least is" in run.stderr, run.stderr


def test_wrong_usage():
    for args in ([*TWELVE, "--hours", "many"], [*TWELVE, "--methods", "0"], ["--problem", DATA / "mix_12x4.csv", "--setup", "E=1"],
                 ["--demo", "--hours", "-1"], ["word", "--demo"], ["--demo", "--best", "0"], ["--demo", "--best", "-4"],
                 ["--demo", "--best", "100"], ["--demo", "--seconds", "-1"], ["--demo", "--maximise"], ["--demo", "--setup", "A=1"],
                 ["--demo", "--fixed", "30"], ["--demo", "--boundary-cost", "5"], [*TWELVE, "--demo"], [*TWELVE, "--boundary-cost", "5"],
                 ["--assignment", DATA / "gap_c515_2.txt", "--hours", "5"], ["--demo", "--set", "setting.mix.not=foo = bar"],
                 ["--demo", "--set", "setting.mix.not=SA-1/Level 1/2/18 = bar"], ["--demo", "--set", "setting.mix.bands=abc"],
                 ["--demo", "--set", "setting.mix.bands=30 18"]):
        run(*args, status=2)
        assert run.stderr.strip(), args
    run("--problem", HOME / "nothing.csv", status=3)
    (HOME / "some.csv").write_text("group,cost_A,hours_A\none,2,1\ntwo,3,\n")
    run("--problem", HOME / "some.csv", "--hours", 5, status=1)
    assert "some.csv:3, column 3 (hours_A)" in run.stderr, run.stderr
    run("--demo", "--set", "setting.mix.not=SA-9/Level 1/2/18 = slip-and-drive", status=1)
    assert "there is no group “SA-9/Level 1/2/18”" in run.stderr, run.stderr
    (HOME / "bad.csv").write_text("group,cost_A\none,cheap\n")
    run("--problem", HOME / "bad.csv", status=1)
    assert "bad.csv" in run.stderr and "2" in run.stderr, run.stderr


sys.exit(tap.run([(name, f) for name, f in list(globals().items()) if name.startswith("test_")]))
