#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The command risk with the published and computed examples as files, and the demo's own question.
Usage: test-risk.py PROGRAM"""
import json
import math
import os
import pathlib
import subprocess
import sys
import tempfile

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent))
import tap

PROGRAM = os.path.abspath(sys.argv[1])
DATA = pathlib.Path(__file__).resolve().parent.parent / "data"
TMP = tempfile.TemporaryDirectory(prefix="seamtally-risk-")
HOME = pathlib.Path(TMP.name)
TRIALS = 100000


def run(*args, status=0):
    env = dict(os.environ, LC_ALL="C.UTF-8", XDG_DATA_HOME=str(HOME / "data"), HOME=str(HOME))
    done = subprocess.run([PROGRAM, "risk", *map(str, args)], capture_output=True, text=True, cwd=HOME, env=env)
    assert done.returncode == status, f"{args}: exit {done.returncode}, wanted {status}\n{done.stdout[-500:]}\n{done.stderr[-1500:]}"
    run.stderr = done.stderr
    return done.stdout


def rows(table, *args):
    lines = [json.loads(line) for line in run(*args, "--jsonl").splitlines()]
    return [r for r in lines if r["table"] == table]


def near(found, wanted, within):
    assert abs(found - wanted) <= within, f"{found}, wanted {wanted} within {within}"


def write(name, text):
    path = HOME / name
    path.write_text(text)
    return path


def test_path_classical():
    """Published: Russell and Taylor, mean 24, variance 5, P(T <= 28) = Phi(4 / sqrt 5) = 0.963181."""
    args = "--problem", DATA / "pert_path.csv", "--spread", "pert-classical", "--at", "28"
    response, = rows("responses", *args)
    below, = rows("below", *args)
    near(response["exact_mean"], 24, 1e-6)
    near(response["exact_variance"], 5, 1e-6)
    near(below["normal_percent"], 96.3181, 5e-5)


def test_path_triangular():
    """Computed: exact convolution; four standard errors of the quantile at 100,000 trials."""
    exact = {10: (21.4967052533, 0.011567), 50: (24.7446879452, 0.012037), 80: (27.5166976398, 0.015235), 90: (28.9503041428, 0.016791)}
    args = "--problem", DATA / "pert_path.csv", "--spread", "triangular", "--trials", TRIALS, "--seed", 2
    response, = rows("responses", *args)
    near(response["exact_mean"], 25, 1e-6)
    near(response["exact_variance"], 8, 1e-6)
    near(response["mean"], 25, 4 * 0.008944)
    near(response["error"], 0.008944, 2e-4)
    found = {r["percent"]: r for r in rows("quantiles", *args)}
    for percent, (value, error) in exact.items():
        near(found[percent]["value"], value, 4 * error)
        assert found[percent]["low"] < found[percent]["value"] < found[percent]["high"]
        # the interval is about 3.92 standard errors wide
        near((found[percent]["high"] - found[percent]["low"]) / (3.92 * error), 1, 0.2)
    values = [found[p]["value"] for p in sorted(found)]
    assert values == sorted(values)
    shares = [r["share_percent"] for r in rows("drivers", *args)]
    for share, wanted in zip(shares, [81.25, 8.333333, 8.333333, 2.083333], strict=True):
        near(share, wanted, 1e-6)
    contingency, = rows("contingency", *args)
    near(contingency["contingency"], 4.516698, 4 * 0.015235)
    over_mean, = rows("contingency", *args, "--base", "mean")
    near(over_mean["contingency"], 2.516698, 4 * 0.015235)
    assert over_mean["base"] == "mean" and contingency["base"] == "likely"


def test_path_beta():
    args = "--problem", DATA / "pert_path.csv", "--at", "24", "--at", "26", "--at", "28"
    response, = rows("responses", *args)
    near(response["exact_variance"], 5.857143, 1e-6)
    for row, wanted in zip(rows("below", *args), [0.527680, 0.791266, 0.938561], strict=True):
        near(row["below_percent"] / 100, wanted, 4 * math.sqrt(wanted * (1 - wanted) / TRIALS))


def test_common_cause():
    """Computed: variance 8 + 2 rho sum(s_i s_j) for correlations of the values; those of the ranks come near."""
    for rho, variance in (0.3, 11.922499), (0.5, 14.537498):
        matrix = write("rho.csv", "\n".join(",".join("1" if i == j else str(rho) for j in range(4)) for i in range(4)))
        response, = rows("responses", "--problem", DATA / "pert_path.csv", "--spread", "triangular", "--correlation", matrix)
        near(response["value_variance"], variance, 1e-6)
        near(response["sd"] ** 2 / variance, 1, 0.03)
        near(response["exact_mean"], 25, 1e-6)


def test_two_responses():
    """Common factor, two ways on the same draws; A = 2 B exactly where B's coefficients are half."""
    problem = write("two.csv", "name,low,likely,high,common,A,B\nhours,80,100,150,crew,2,1\nmetal,10,12,20,,2,1\ncrew,.88,1,1.2,,,\n")
    args = "--problem", problem, "--trials", 2000
    pair = {(r["a"], r["b"]): r for r in rows("beats", *args)}
    assert pair["A", "B"]["below"] == 0 and pair["A", "B"]["above"] == 100 and pair["B", "A"]["below"] == 100
    a, b = (r for r in rows("responses", *args))
    near(a["mean"], 2 * b["mean"], 1e-5)
    near(a["likely"], 224, 1e-6)
    same = write("same.csv", problem.read_text().replace("2,1", "2,2"))
    assert all(r["equal"] == 100 for r in rows("beats", "--problem", same, "--trials", 2000))


def test_sample():
    """Iman and Conover, the computed example of 20 trials and 4 inputs, cell by cell."""
    args = "--sample", DATA / "iman_conover_20x4.csv", "--correlation", DATA / "iman_conover_target.csv"
    wanted = {(1, 2): (0.103091, -0.184962, 0.828571), (1, 3): (-0.103326, 0.120301, 0.538346), (1, 4): (0.125617, -0.036090, 0.078195),
              (2, 3): (-0.303190, -0.252632, 0.406015), (2, 4): (0.172252, 0.469173, 0.278195), (3, 4): (0.311374, -0.057143, -0.285714)}
    for row in rows("correlations", *args):
        scores, before, after = wanted.pop((row["row"], row["column"]))
        near(row["scores"], scores, 1e-6)
        near(row["before"], before, 1e-6)
        near(row["after"], after, 1e-6)
    assert not wanted
    before, after = rows("sums", *args)
    near(before["variance"], 38.007287, 1e-6)
    near(after["variance"], 37.180906, 1e-6)
    near(before["mean"], 72.134695, 1e-6)
    near(after["mean"], 72.134695, 1e-6)
    head, *lines = [line.split(",") for line in (DATA / "iman_conover_20x4.csv").read_text().splitlines() if not line.startswith("#")]
    cell = {(int(line[0]), heading): float(x) for line in lines for heading, x in zip(head, line)}
    found = rows("rows", *args)
    assert len(found) == 80
    for r in found:
        key = r["row"]
        near(r["score"], cell[key, f"s{r['input']}"], 1e-10)
        assert r["rank"] == cell[key, f"rank_out{r['input']}"]
        near(r["y"], cell[key, f"y{r['input']}"], 1e-12)


def test_quantiles():
    """Computed, types after Hyndman and Fan 1996: 2.7 ... 5.2; 20 values and the median: ranks 6 and 15, coverage 0.958611."""
    sample = write("eight.csv", "x\n2.7\n5.2\n2.9\n3.1\n3.3\n4.0\n3.6\n3.8\n")
    found = {r["percent"]: r["value"] for r in rows("quantiles", "--sample", sample)}
    for percent, wanted in {10: 2.84, 25: 3.05, 50: 3.45, 80: 3.92, 90: 4.36}.items():
        near(found[percent], wanted, 1e-9)
    for n, percent, low, high, coverage in ((20, 50, 6, 15, 95.8611), (100, 50, 40, 61, 96.4800), (1000, 80, 775, 825, 95.1900)):
        many = write("many.csv", "x\n" + "\n".join(map(str, range(1, n + 1))))
        row, = (r for r in rows("quantiles", "--sample", many) if r["percent"] == percent)
        assert (row["from_rank"], row["to_rank"], row["low"], row["high"]) == (low, high, low, high), row
        near(row["coverage_percent"], coverage, 1e-4)


def test_normal_pair():
    """Computed: normals (24, 5) and (26, 4), P(X < Y) = Phi(2/3) = 0.747507; here each is a classical PERT of that mean and variance."""
    half = 3 * math.sqrt(5)
    problem = write("pair.csv", f"name,low,likely,high,X,Y\na,{24 - half:.6f},24,{24 + half:.6f},1,0\nb,20,26,32,0,1\n")
    pair, = (r for r in rows("beats", "--problem", problem, "--spread", "pert-classical") if r["a"] == "X")
    near(pair["normal_percent"], 74.7507, 1e-3)
    # the shapes drawn have shorter tails than a normal
    near(pair["below"], 74.75, 1)


def test_demo():
    """Invented demo: 77 % and 57 % to 3 points, likely gains 1,512 and 192, verdict words."""
    for base, method, chance, gain, verdict in (("slip-on-bolted", "slip-on-driven", 77, 1512, "likely"),
                                                ("slip-and-drive", "slip-and-drive-driven", 57, 192, "not clear: run the trial")):
        args = "--demo", "--baseline", base, "--methods", method
        row, = rows("verdicts", *args)
        near(row["cheaper_percent"], chance, 3)
        near(row["likely_gain"], gain, 1)
        assert row["verdict"] == verdict
        near(row["cheaper_percent"] + row["dearer_percent"] + row["equal_percent"], 100, 1e-6)
        swapped, = rows("verdicts", "--demo", "--baseline", method, "--methods", base)
        assert swapped["likely_gain"] == -row["likely_gain"] and swapped["dearer_percent"] == row["cheaper_percent"]
        text = run(*args)
        assert text.splitlines()[0].endswith(verdict + "."), text.splitlines()[0]
        for words in ("L3", "L10", "seed 1", "100,000 trials", "once a trial for all methods", "over the likely cost", "invented or remembered"):
            assert words in text, words


def test_words():
    # a metal price that moves is not a fixed price; the column of the what-if holds none where none is asked for
    text = run("--demo", "--trials", 2000, "--set", "setting.risk.metal_high=1.3")
    assert "metal price 1, 1, 1.3" in text and "Prices are fixed" not in text and "common factors above alone" in text, text[-900:]
    assert "Prices are fixed." in run("--demo", "--trials", 2000)
    assert {r["what_if"] for r in rows("ways", "--demo", "--trials", 2000)} <= {"", None}
    # choices that change the figures are named beside them
    text = run("--demo", "--trials", 2000, "--set", "setting.learning.model=unit", "--set", "area.Level 1.share_joints_remade=0.05")
    for words in ("own factor x 1.1 (Plant)", "earning by the unit curve", "of the joints made once more"):
        assert words in text, (words, text[-1500:])


def test_options():
    assert run("--demo", "--seed", 5, "--trials", 2000) == run("--demo", "--seed", 5, "--trials", 2000)
    assert run("--demo", "--seed", 5, "--trials", 2000) != run("--demo", "--seed", 6, "--trials", 2000)
    text = run("--demo", "--trials", 2000, "--spread", "triangular", "--confidence", 90, "--base", "mean", "--set", "setting.risk.field_high=1.4")
    for words in ("triangular", "Contingency to 90 %, over the mean", "field crew 0.88, 1, 1.4"):
        assert words in text, words
    same, = rows("verdicts", "--demo", "--baseline", "slip-on-bolted", "--methods", "slip-on-bolted", "--trials", 2000)
    assert same["likely_gain"] == 0 and same["gain_10"] == 0 and same["gain_90"] == 0 and same["equal_percent"] == 100
    assert same["verdict"] == "equal"


def test_refused():
    path = DATA / "pert_path.csv"
    order = write("order.csv", "name,low,likely,high\nraise,9,8,17\n")
    ring = write("ring.csv", "name,low,likely,high,common\nk,1,2,3,j\nj,1,2,3,k\n")
    not_definite = write("not.csv", "1,.9,0,0\n.9,1,.9,0\n0,.9,1,0\n0,0,0,1\n")
    for status, words, args in (
            (1, "low 9 is above likely 8; put them in order: 8, 9, 17", ("--problem", order)),
            (1, "smallest eigenvalue is -0.272792: multiply all correlations by at most 0.785", ("--problem", path, "--correlation", not_definite)),
            (1, "4 trials cannot hold", ("--problem", path, "--correlation", DATA / "iman_conover_target.csv", "--trials", 4)),
            (2, "from 2 to 10000000", ("--problem", path, "--trials", 1)),
            (2, "write pert, pert-classical or triangular", ("--problem", path, "--spread", "normal")),
            (2, "--at cannot be", ("--problem", path, "--at", "x")),
            (2, "from 0 to 100", ("--problem", path, "--quantile", -3)),
            (2, "from 0 to 100", ("--problem", path, "--quantile", 101)),
            (2, "from 0 to 100", ("--problem", path, "--quantile", "1e9")),
            (2, "--quantile does not go with a job", ("--demo", "--quantile", 5)),
            (2, "--at does not go with a job", ("--demo", "--at", 5)),
            (2, "--at does not go with --sample", ("--sample", path, "--at", 5)),
            (2, "--trials does not go with --sample", ("--sample", path, "--trials", 5000)),
            (2, "--methods does not go with --problem", ("--problem", path, "--methods", "slip-on-driven")),
            (2, "--set does not go with --problem", ("--problem", path, "--set", "rate.field=90")),
            (1, "“j” has a common factor itself, “k”", ("--problem", ring)),
            (3, "No such file", ("--problem", HOME / "none.csv")),
            (2, "enter a number from 1000", ("--demo", "--trials", 10)),
            (2, "there is no method", ("--demo", "--methods", "glued")),
            (2, "low 1.3 is above likely 1", ("--demo", "--set", "setting.risk.field_low=1.3")),
            (1, "all numbers", ("--sample", write("words.csv", "a\nx\n"))),
            (2, "from 0 to 100", ("--sample", path, "--quantile", 101)),
            (2, "goes with --problem", ("--demo", "--correlation", path)),
            (2, "name one job", ()),
    ):
        run(*args, status=status)
        assert words in run.stderr, run.stderr


sys.exit(tap.run([(name[5:].replace("_", "-"), function) for name, function in list(globals().items()) if name.startswith("test_")]))
