# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts the tests in the logs of meson build folders.

The last line is `N passed, N failed`, with `, N skipped` when some were. A test that speaks TAP counts each of its
subtests, any other counts as one. Exits with 1 when a test failed, when none ran, or when a log is missing.
"""

import argparse
import json
import pathlib
import re
import sys

RESULT = re.compile(r'^(?P<indent> *)(?P<bad>not )?ok\b(?P<rest>.*)$')
DIRECTIVE = re.compile(r'#\s*(?P<word>SKIP|TODO)', re.IGNORECASE)
PLAN = re.compile(r'^1\.\.\d+', re.MULTILINE)
GOOD = ('OK', 'EXPECTEDFAIL')


def tap_lines(text):
    """Passed, failed, skipped of the results in TAP text; a summary line behind its own subtests is not one more."""
    count = {'passed': 0, 'failed': 0, 'skipped': 0}
    below = []  # (depth, failed?) of results whose summary may still come
    for line in text.splitlines():
        match = RESULT.match(line)
        if not match:
            continue
        depth = len(match['indent'])
        children = [failed for d, failed in below if d > depth]
        below = [(d, failed) for d, failed in below if d <= depth]
        directive = DIRECTIVE.search(match['rest'])
        failed = bool(match['bad']) and not directive
        below.append((depth, failed))
        if children and (not failed or any(children)):
            continue
        if directive and (match['bad'] or directive['word'].upper() == 'SKIP'):
            count['skipped'] += 1
        elif failed:
            count['failed'] += 1
        else:
            count['passed'] += 1
    return count


def of_record(record):
    """The count of one test entry of meson's log."""
    result = record.get('result', '')
    text = record.get('stdout') or ''
    if PLAN.search(text):
        count = tap_lines(text)
    else:
        count = {'passed': 0, 'failed': 0, 'skipped': 0}
    if result == 'SKIP':
        if not any(count.values()):
            count['skipped'] = 1
    elif result in GOOD:
        if not any(count.values()):
            count['passed'] = 1
    elif count['failed'] == 0:
        # It crashed, ran out of time, or stopped before its plan was done.
        count['failed'] = 1
    return count


def of_log(path):
    total = {'passed': 0, 'failed': 0, 'skipped': 0}
    for line in path.read_text(encoding='utf-8').splitlines():
        if line.strip():
            for key, number in of_record(json.loads(line)).items():
                total[key] += number
    return total


def words(count):
    text = f"{count['passed']} passed, {count['failed']} failed"
    return text + (f", {count['skipped']} skipped" if count['skipped'] else '')


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument('--check-status', type=int, default=0, help='exit status of the check that ran the tests')
    parser.add_argument('folders', nargs='+')
    options = parser.parse_args()

    total = {'passed': 0, 'failed': 0, 'skipped': 0}
    missing = False
    for folder in options.folders:
        path = pathlib.Path(folder) / 'meson-logs' / 'testlog.json'
        if path.exists():
            count = of_log(path)
            for key, number in count.items():
                total[key] += number
            print(f'{folder}: {words(count)}')
        else:
            missing = True
            print(f'{folder}: no tests ran')

    nothing_ran = total['passed'] + total['failed'] == 0
    if (options.check_status != 0 or missing or nothing_ran) and total['failed'] == 0:
        print('A step outside the tests failed, see above; it counts as one failed.')
        total['failed'] = 1
    print(words(total))
    return 1 if total['failed'] else 0


if __name__ == '__main__':
    sys.exit(main())
