#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The commands learn and crew, and conditions, learning, overtime and remakes by --set. Usage: test-labour.py PROGRAM"""
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
TMP = tempfile.TemporaryDirectory(prefix="seamtally-labour-")
HOME = pathlib.Path(TMP.name)


def run(*args, status=0):
    env = dict(os.environ, LC_ALL="C.UTF-8", XDG_DATA_HOME=str(HOME / "data"), HOME=str(HOME))
    done = subprocess.run([PROGRAM, *map(str, args)], capture_output=True, text=True, cwd=HOME, env=env)
    assert done.returncode == status, f"{args}: exit {done.returncode}, wanted {status}\n{done.stdout[-500:]}\n{done.stderr[-1500:]}"
    run.stderr = done.stderr
    return done.stdout


def rows(*args, status=0):
    out = {}
    for line in run(*args, "--jsonl", status=status).splitlines():
        row = json.loads(line)
        out.setdefault(row.pop("table"), []).append(row)
    return out


def written(name, text):
    path = HOME / name
    path.write_text(text)
    return path


def near(value, wanted, within=5e-7):
    assert abs(value - wanted) <= within, (value, wanted)


def test_wright():
    """Published table at 1, 2, 4, 8, 16 units (source 5 of methods.md), hours of the last unit computed; as a file."""
    file = written("units.csv", "units\n1\n2\n4\n8\n16\n")
    answer = rows("learn", file, "--model", "cumulative-average", "--first", 100, "--slope", 80)["learn"]
    for row, average, total, unit in zip(answer, (100, 80, 64, 51.2, 40.96), (100, 160, 256, 409.6, 655.36),
                                         (100, 60, 45.368889, 35.457333, 28.061223), strict=True):
        near(row["average_h"], average)
        near(row["total_h"], total)
        near(row["unit_h"], unit)
        assert row["model"] == "cumulative-average" and "Wright" in row["model_name"]


def test_crawford():
    """Sums computed, problem published (Groover 2007, ch. 19)."""
    (row,) = rows("learn", "--first", 10, "--slope", 80, "--units", 20, "--from", 11)["learn"]
    near(row["unit_h"], 3.812079)
    near(row["total_h"], 104.849428)
    near(row["between_h"], 41.695698)
    assert row["to"] == 20 and row["model"] == "unit"
    text = run("learn", "--first", 10, "--slope", 80, "--units", 20)
    assert "unit curve (Crawford)" in text


def test_models_differ():
    """Labelled choice L2, computed."""
    file = written("models.csv", "model,first,slope,units\nunit,100,80,16\ncumulative-average,100,80,16\n")
    one, other = rows("learn", file)["learn"]
    near(one["total_h"], 892.013685)
    near(other["total_h"], 655.36)


def test_learn_refused():
    run("learn", "--first", 10, "--slope", 80, status=2)
    assert "--units" in run.stderr
    run("learn", "--first", 10, "--slope", 180, "--units", 3, status=2)
    assert "100" in run.stderr
    run("learn", "--first", 10, "--slope", 80, "--units", 3, "--model", "both", status=2)
    assert "cumulative-average" in run.stderr
    run("learn", "--first", 10, "--slope", 49, "--units", 3, "--model", "cumulative-average", status=2)
    assert "50 to 100" in run.stderr
    assert rows("learn", "--first", 10, "--slope", 50, "--units", 3, "--model", "cumulative-average")["learn"][0]["unit_h"] == 0
    run("learn", "--first", 10, "--slope", 49, "--units", 3)
    run("learn", written("low.csv", "units,slope,model\n5,80,unit\n5,49,cumulative-average\n"), "--first", 3, status=1)
    assert "low.csv:3, column 2 (slope)" in run.stderr
    for option in (["--demo"], ["--set", "rate.field=1"], ["--method", "slip-on-driven"], ["--rules", "demo"]):
        run("learn", "--first", 10, "--slope", 80, "--units", 3, *option, status=2)
        assert option[0] in run.stderr
    run("learn", written("bad.csv", "units,slope\n5,80\nmany,80\n"), "--first", 3, status=1)
    assert "bad.csv:3" in run.stderr


CREWS = written("crews.csv", "crew,place,class,heads,wage,fringe,burden_pct,flat_burden,overtime_factor,source,status\n"
                             "gang,field,foreman,1,46.20,16.10,,,,,\ngang,field,journeyman,4,41.25,16.10,,,,,\n"
                             "gang,field,apprentice,1,24.75,9.40,,,,,\n")
BURDENS = written("burdens.csv", "crew,class,component,basis,rate_pct,amount,cap,hours_a_year,on_premium,source,status\n"
                                 ",,payroll tax,wage,7.65,,,,yes,,\n,,workers' insurance,wage,3.20,,,,yes,,\n"
                                 ",,state fund,wage,0.60,,,,yes,,\n,,liability,wage,11.40,,,,yes,,\n,,small tools,flat,,1.85,,,,,\n")


def test_composite():
    """4b, computed from illustrative wages: 50-hour week at time and a half."""
    answer = rows("crew", "gang", "--crews", CREWS, "--burdens", BURDENS, "--hours", "5x10", "--premium", "1.5")
    (crew,) = answer["crew"]
    near(crew["crew_hour"], 419.851032, 1e-6)
    near(crew["composite"], 69.975172)
    near(crew["premium_on_hours_pct"], 10)
    near(crew["premium_on_pay_pct"], 9.090909)
    worked = [row["worked"] for row in answer["crew_worked"]]
    for part in ("46.20 x 1.10", "= 50.82", "x 1.2285", "80.38237 an hour"):
        assert part in worked[0], worked[0]
    assert any("composite 69.975172" in line for line in worked)
    assert any("site general" in line for line in worked)


def test_premiums():
    """4a: 48 h published (EI 01D010 Example 5-1), the rest computed; both bases (labelled choice L6)."""
    for hours, premium, on_hours, on_pay in (("5x9", 1.5, 5.555556, 5.263158), ("6x8", 1.5, 8.333333, 7.692308),
                                             ("6x10", 1.5, 16.666667, 14.285714), ("7x10", 1.5, 21.428571, 17.647059),
                                             ("5x10", 2, 20, 16.666667), ("48", 1.5, 8.333333, 7.692308)):
        (crew,) = rows("crew", "field", "--hours", hours, "--premium", premium)["crew"]
        near(crew["premium_on_hours_pct"], on_hours)
        near(crew["premium_on_pay_pct"], on_pay)
    for week in ("8x20", "8x10", "4x25", "0x8"):
        run("crew", "--hours", week, status=2)
        assert "5x10" in run.stderr
    run("crew", "nobody", status=2)


def test_burdens_of_nobody():
    """A burden that reaches no worker, or one worker twice, is told at its place (computed rates would be too low or too high)."""
    head = BURDENS.read_text()
    for line, place, words in (("gong,,x,wage,2,,,,yes,,", "(crew)", "no crew “gong”"), (",foremen,x,wage,2,,,,yes,,", "(class)", "foremen"),
                               ("gang,,Liability,wage,2,,,,yes,,", "(component)", "twice")):
        run("crew", "--crews", CREWS, "--burdens", written("more.csv", head + line + "\n"), status=1)
        assert "more.csv:7" in run.stderr and place in run.stderr and words in run.stderr, run.stderr


def test_losses_refused():
    """Each cell has one fault, with the column of the file as it stands."""
    head = "table,hours_a_week,week,loss_pct,basis,source,status\n"
    for text, wanted in (("week,h50\n1,1.2\n", "l.csv:2, column 2 (h50)"), ("week,h50\n1,0.1\n1,0.2\n", "l.csv:3, column 1 (week)"),
                         ("week,h50\n0,0.1\n", "l.csv:2, column 1 (week)"), ("week,h50\n,0.1\n", "l.csv:2, column 1 (week)"),
                         ("week,hot\n1,0.1\n", "(hot)"), (head + "a,50,1,10,,,\na,50,1,90,,,\n", "l.csv:3, column 3 (week)"),
                         (head + "a,50,1,100,,,\n", "l.csv:2, column 4 (loss_pct)"), (head + "a,120,1,10,,,\n", "l.csv:2, column 2")):
        run("crew", "--losses", written("l.csv", text), status=1)
        faults = [line for line in run.stderr.splitlines() if "l.csv:" in line and "(" in line]
        assert any(wanted in line for line in faults), run.stderr
        assert "hot" in text or len(faults) == 1, run.stderr


def test_rate_of_job():
    """The rate that a job changes is the rate shown, beside the computed one (invented demo)."""
    answer = rows("crew", "field", "--demo", "--set", "rate.field=100")
    assert answer["crew"][0]["rate"] == 100 and answer["crew"][0]["composite"] == 92
    assert any("prices the hour at 100.00" in row["worked"] for row in answer["crew_worked"])
    assert rows("crew", "field", "--demo")["crew"][0]["rate"] == 92
    for args in (["--set", "rate.field=100"], ["--crews", CREWS, "--demo"], ["--crews", CREWS, "--set", "rate.field=9"], ["--loss", "divide"],
                 ["--premium", 2]):
        run("crew", *args, status=2)
    csv = run("crew", "--csv").split("\n\n")
    assert len(csv) == 2 and csv[1].startswith("crew,worked"), csv


def test_output_hour():
    """Section 5, computed from the published losses (source 8 of methods.md), read as the file stands."""
    file = DATA / "overtime_loss_weeks.csv"
    weeks = {row["week"]: row for row in rows("crew", "--losses", file, "--hours", "5x10")["output_hour"]}
    assert len(weeks) == 16
    for week, cost in ((1, 1.157895), (4, 1.208791), (8, 1.428571)):
        near(weeks[week]["output_hour"], cost)
        assert weeks[week]["basis"] == "divide"
    up = rows("crew", "--losses", file, "--hours", "50", "--loss", "multiply")["output_hour"]
    near(up[7]["time_over_base"], 1.23)
    assert len(rows("crew", "--losses", file)["output_hour"]) == 64
    assert "binding" in run("crew", "--losses", file)


def price(*sets):
    args = [part for text in sets for part in ("--set", text)]
    answer = rows("price", "--demo", *args)
    return answer, {row["line"]: row["amount"] for row in answer["buildup"]}


def test_job():
    """The demo (invented demo): nothing is on; each lever by itself moves what it should."""
    answer, plain = price()
    assert plain["price"] == 207590.42
    # the factors of the demo's areas are named, nothing else is on
    assert [row["labour"] for row in answer["labour"]] == ["Conditions in force: the area's own factor x 1.1 (Plant); the area's own "
                                                           "factor x 1.05 (Level 2)."], answer["labour"]
    answer, both = price("setting.overtime.hours=50", "setting.learning.model=unit", "setting.conditions.join=sum")
    words = [row["labour"] for row in answer["labour"]]
    assert any("unit curve (Crawford)" in w for w in words), words
    assert any("9.09 % of the total pay" in w for w in words) and any("Conditions add" in w for w in words)
    assert both["shop"] == plain["shop"]
    for lever, line, sign in (("area.Level 1.share_joints_remade=0.05", "material", 1), ("area.Level 1.share_joints_remade=0.05", "field", 1),
                              ("area.Level 1.pieces_raised_together=2", "field", -1), ("area.Level 1.fit_pieces=1", "field", 1),
                              ("run.1.condition=high work", "field", 1)):
        _, moved = price(lever)
        assert (moved[line] - plain[line]) * sign > 0, (lever, line)
    _, floor = price("job..condition=high work", "area.Level 1.share_joints_on_floor=0.5")
    _, air = price("job..condition=high work")
    assert floor["field"] < air["field"]


def test_job_refused():
    for change, words in (("step.cleat.low=0.9", "at most 0.5"), ("step.cleat.high=0", "at least 0.5"), ("step.cleat.low=99", "at most 0.5"),
                          ("item.screw.price=-1", "from 0 to"), ("area.Plant.share_joints_on_floor=50", "from 0 to 1"),
                          ("area.Plant.share_joints_on_floor=1.01", "from 0 to 1"), ("area.Plant.field_condition=0", "over 0"), ("area.Plant.field_condition=12", "to 10"),
                          ("setting.overtime.table=any", "no overtime loss table"), ("run.1.condition=rain", "“rain”")):
        run("price", "--demo", "--set", change, status=2)
        assert words in run.stderr, run.stderr
    run("price", "--demo", "--set", "setting.learning.model=unit", "--set", "job..condition=new crew", status=2)
    assert "new crew" in run.stderr and "learning" in run.stderr
    text = run("price", "--demo", "--set", "job..condition=high work", "--set", "setting.conditions.cap=1.2")
    assert "over the 1.2" in text and "Plant" in text


sys.exit(tap.run([(name[5:].replace("_", "-"), check) for name, check in list(globals().items()) if name.startswith("test_")]))
