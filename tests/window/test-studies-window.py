#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Time studies as a foreman meets them: the demo's answer, a study of one's own, laps by keyboard with one taken back, the watch
closed in the middle of a lap. What came of it is read from the office file. Usage: test-studies-window.py PROGRAM"""

import csv
import io
import os
import pathlib
import re
import sqlite3
import sys
import tempfile
import time
import traceback

HERE = pathlib.Path(__file__).resolve()
sys.path.insert(0, str(HERE.parent.parent))
sys.path.insert(0, str(HERE.parent))
sys.dont_write_bytecode = True
import tap  # noqa: E402
import desk as d  # noqa: E402
from desk import key, type_text, wait  # noqa: E402

JOB = 'Brindlemoor Archive and Reading Rooms'  # invented demo
HARMLESS = [r'gl-disable']
STUDY = 'trial'

w = None
eyes = None


def draft(sheet):
    """Rows of a sheet in the draft of the office file; [] while it is as in the revision."""
    with sqlite3.connect(f'file:{w.office}?mode=ro', uri=True) as db:
        text = db.execute('SELECT value FROM office WHERE key = ?', (f'draft.sheet.{sheet}',)).fetchone()
    return list(csv.DictReader(io.StringIO(text[0]))) if text else []


def readings():
    return [row for row in draft('observations') if row['study'] == STUDY]


def test_answer_of_the_demo():
    """Invented demo: nine pairs near 6.5 worker-minutes a joint; the sentence stands before any figure."""
    global eyes
    w.open()
    d.to_window(JOB)
    eyes = d.Eyes()
    d.press_until('ctrl+shift+t', lambda: d.find_window('Time studies'), 'the window of time studies')
    d.to_window('Time studies')
    eyes.wait_find(re.compile(r'saves 6\.5 worker-minutes a joint \(.* to .*\) against .*, 9 pairs; 4 more pairs'))
    eyes.wait_find(re.compile(r'L1: allowance as a share of the working day.*L12: readings needed by Student'))


def test_study_of_ones_own():
    top = eyes.window('Time studies')
    eyes.tab_to(eyes.wait_find('Name of a new study', 'TEXT', top), 'the name of a new study')
    type_text(STUDY)
    key('Return')
    wait(lambda: [row for row in draft('studies') if row['study'] == STUDY], 'the study is in the draft')
    eyes.wait_find(re.compile('^No reading yet'))


def test_laps():
    key('ctrl+t')
    d.to_window('Stop-watch')
    key('p')
    time.sleep(0.8)
    d.press_until('space', lambda: len(readings()) >= 1, 'a lap')
    first = len(readings())
    time.sleep(0.8)
    d.press_until('space', lambda: len(readings()) > first, 'another lap')
    laps = readings()
    assert all(0 < float(row['clock_min']) < 5 and row['timed'] == 'whole joint' and not row['struck'] for row in laps), laps
    key('ctrl+z')
    wait(lambda: len(readings()) == len(laps) - 1, 'the last lap is taken back')


def test_closing_the_watch_loses_nothing():
    before = len(readings())
    time.sleep(1.2)
    key('Escape')
    wait(lambda: d.find_window('Stop-watch') is None, 'the watch is closed')
    wait(lambda: len(readings()) == before + 1, 'the lap that was running is kept')
    assert readings()[-1]['struck'].startswith('unfinished'), readings()[-1]


def test_closes_cleanly():
    d.to_window('Time studies')
    key('Escape')
    wait(lambda: d.find_window('Time studies') is None, 'the studies are closed')
    d.to_window(JOB)
    key('ctrl+q')
    wait(lambda: not w.alive(), 'the window is gone')
    said, leaks = w.said_apart()
    loud = [line for line in said.splitlines() if line.strip() and not any(re.search(pattern, line) for pattern in HARMLESS)]
    assert not leaks, ''.join(leaks[:5])
    assert w.process.returncode in ((0, 1) if said != w.said() else (0,)), f'exit {w.process.returncode}'
    assert not loud, '\n'.join(loud[:100])
    assert len(readings()) >= 2  # another program finds them


CHECKS = [test_answer_of_the_demo, test_study_of_ones_own, test_laps, test_closing_the_watch_loses_nothing, test_closes_cleanly]


def with_window(check):
    def run():
        assert check is CHECKS[0] or w.alive(), 'the window is gone'
        try:
            check()
        except Exception as error:
            words = str(error) if isinstance(error, AssertionError) else traceback.format_exc()
            raise AssertionError(f'{words}\n{w.state()}') from None
    return run


def main():
    global w
    if not os.environ.get('SEAMTALLY_TEST_DESK'):
        lacking = d.missing()
        if lacking:
            print(f'1..0 # SKIP {lacking}')
            return 0
        return d.go_there(HERE)
    with tempfile.TemporaryDirectory(prefix='seamtally-studies-') as home:
        w = d.Desk(os.path.abspath(sys.argv[1]), home, JOB)
        try:
            return tap.run([(check.__name__[5:].replace('_', ' '), with_window(check)) for check in CHECKS])
        finally:
            w.kill()


if __name__ == '__main__':
    sys.exit(main())
