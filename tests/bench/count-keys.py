#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts the keys of entering 20 runs of the demo job (its rows 1 to 20: SA-1 Plant and the mains of Level 1) through the
line that takes a whole run, and of typing the same runs into a spreadsheet.
Usage: count-keys.py ENTRY-LINES

One line a run: every character is a key, Enter is one, and Ctrl+L once to come to the line. ENTRY-LINES reads each line as
the window does and compares what it makes with the run of the demo job.

The spreadsheet is given every help: only the columns that these runs need stand in it; an empty cell costs the Tab over it and
cells behind the last filled one cost nothing; a count of 1 may stay empty, and so may what the program would take by itself
(throat, legs, an angle of 90); text that was typed before in its column is completed as soon as it is clear; system, area and
drawing are typed once for each block and copied down with three keys a column; Enter goes to the start of the next row."""

import csv
import os
import pathlib
import subprocess
import sys

ROWS = 20
LINES = [
    'SA-1 Plant drawing M-301 96x48 14 first equipment',
    'mitre',
    'tr >84x42',
    '84x42 18',
    '2 mitre',
    'off',
    'tap 60x30',
    'cap 84x42',
    '60x30 22',
    '2 el',
    'tr >54x24',
    'Level 1 drawing M-201 60x30 46',
    'el',
    'tr >48x24',
    '48x24 58',
    '2 el',
    'tr >36x20',
    '36x20 64',
    '2 off',
    '6 tap 16x12',
]
BLOCK = ('system', 'area', 'drawing')
TEXT = ('kind', 'size', 'size2', 'first_end')
SHEET = ('kind', 'size', 'size2', 'length', 'count', 'offset', 'first_end')


def demo_rows():
    path = pathlib.Path(__file__).resolve().parent.parent.parent / 'data' / 'demo-runs.csv'
    with open(path, encoding='utf-8', newline='') as source:
        return list(csv.DictReader(line for line in source if not line.startswith('#')))[:ROWS]


def keys_of_text(text, seen):
    """Characters of a cell, cut short where what was typed above it completes it."""
    if text in seen:
        for n in range(1, len(text) + 1):
            if sum(other.startswith(text[:n]) for other in seen) == 1:
                return n
    return len(text)


def keys_of_sheet(rows):
    keys, seen = 0, {column: set() for column in TEXT}
    for row in rows:
        cells = [row[c] if (c, row[c]) != ('count', '1') else '' for c in SHEET]
        last = max(i for i, cell in enumerate(cells) if cell)
        for column, cell in list(zip(SHEET, cells))[:last + 1]:
            keys += keys_of_text(cell, seen[column]) if column in seen else len(cell)
            if cell and column in seen:
                seen[column].add(cell)
        keys += last + 1  # Tab between the cells, Enter behind the last
    blocks = {tuple(row[c] for c in BLOCK) for row in rows}
    for column in BLOCK:
        keys += sum(len(block[BLOCK.index(column)]) + 1 + 3 for block in blocks)
    return keys


def main():
    rows = demo_rows()
    done = subprocess.run([os.path.abspath(sys.argv[1])], input='\n'.join(LINES) + '\n', capture_output=True, text=True,
                          check=False)
    said = done.stdout.splitlines()
    for line, words in zip(LINES, said):
        if words != 'same':
            print(f'{line!r}: {words}')
    if done.returncode or len(said) != len(LINES) or len(rows) != len(LINES):
        return 1
    lines, sheet = 1 + sum(len(line) + 1 for line in LINES), keys_of_sheet(rows)
    print(f'keys of {ROWS} runs: one line each {lines} ({lines / ROWS:.1f} a run), spreadsheet {sheet} ({sheet / ROWS:.1f} a run), '
          f'ratio {lines / sheet:.2f}')
    return 0


if __name__ == '__main__':
    sys.exit(main())
